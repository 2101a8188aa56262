//! The page of the dry fit, from reading to remedy.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::dryfit::{DryFit, Kind, Reading, SetUp};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{LengthStyle, show_length};

const PAGE: Key = Key::Num5;

/// What a straightedge on the crowns reads over the flat top of the worked example:
/// r = o + X tan θ + (t + h)/cos θ.
fn reads(design: &Design, pitch: f64, overstand: f64, x: f64) -> f64 {
    let over = design.board.thickness.to_mm() + design.board.crown.to_mm();
    overstand + x * pitch.tan() + over / pitch.cos()
}

/// Puts a height on the crowns down, so far from the joint.
fn put_down(window: &mut Window, x: &str, height: &str) {
    if window.harness.query_by_role_and_label(Role::TextInput, "Distance").is_none() {
        window.choose("Where: At the bridge line", "So far from the joint");
    }
    window.type_over("Distance", x, Key::Tab);
    window.type_over("Height over the top", height, Key::Enter);
}

/// A page is turned by a key while the notes still have the focus.
#[test]
fn notes_are_kept_when_the_page_is_turned() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "110", "14.2");
    let notes = Role::MultilineTextInput;
    window.harness.get_by_role_and_label(notes, "Notes of the round").focus();
    window.harness.run();
    window.harness.event(Event::Text("floor damp".to_owned()));
    window.harness.run();
    window.turn_to(Key::Num1);
    assert_eq!(window.design().fitting[0].note, "floor damp");
    window.turn_to(PAGE);
    let kept = window.harness.get_by_role_and_label(notes, "Notes of the round").value();
    assert_eq!(kept.as_deref(), Some("floor damp"));
    window.undo();
    assert_eq!(window.design().fitting[0].note, "");
}

/// Chooses a correction by its name.
fn look_at(window: &mut Window, name: &str) {
    let label = correction(window, name).unwrap();
    window.press_named(Role::ListBoxOption, &label);
}

fn correction(window: &Window, name: &str) -> Option<String> {
    let name = format!("  {name},");
    let texts = window.texts(|role, text| role == Role::ListBoxOption && text.contains(&name));
    texts.into_iter().next()
}

fn mm(value: f64, digits: usize) -> String {
    show_length(value, digits, LengthStyle::Millimetres)
}

fn told(texts: &[String]) -> DryFit {
    let readings: Vec<Reading> = texts.iter().map(|text| text.parse().unwrap()).collect();
    DryFit::of(&Study::of(&worked_example()), &readings).unwrap()
}

/// A joint with a known error: its pitch is 0.3° more than planned and its overstand 0.4 mm
/// less. From its readings to the remedy that restores the plan, the round kept.
#[test]
fn from_reading_to_remedy() {
    let design = worked_example();
    let (mut window, folder) = Window::showing(PAGE, design.clone());
    assert!(window.says("Nothing is read yet"));
    let pitch = (Dim::Pitch.key().get(&design).unwrap() + 0.3).to_radians();
    let overstand = design.joint.overstand.to_mm() - 0.4;
    let mut texts = Vec::new();
    for x in ["250", "110"] {
        let height = reads(&design, pitch, overstand, x.parse().unwrap());
        put_down(&mut window, x, &format!("{height:.9}"));
        texts.push(format!("crowns@X={x}:{height:.9}"));
    }
    let fit = told(&texts);
    // nine decimals were typed; over 140 mm they tell the pitch to some 1e-11
    assert!((fit.told.pitch - pitch).abs() < 1e-9);
    let shown = window.text("Pitch ");
    let expected = format!(
        "Pitch {:.2}° ± {:.2}°, planned {:.2}°",
        fit.told.pitch.to_degrees(),
        fit.told.pitch_error().to_degrees(),
        (pitch.to_degrees() - 0.3)
    );
    assert_eq!(shown, expected);
    let shown = window.text("Overstand ");
    assert!(shown.starts_with(&format!("Overstand {} ± ", mm(fit.told.overstand, 2))), "{shown}");
    // each stands beside what the plan says
    let planned = reads(&design, pitch - 0.3_f64.to_radians(), overstand + 0.4, 250.0);
    assert!(window.says(&format!("plan {}", mm(planned, 2))));

    // every correction of the core is there, in its order
    let first = fit.corrections[0].kind.name();
    assert!(correction(&window, first).unwrap().starts_with("1  "));
    look_at(&mut window, "Off the seat at the inner end");
    let inner = fit.correction(Kind::InnerOff).unwrap();
    let crest = window.text("Crest: ");
    let then = mm(inner.outcome.crest, 2);
    assert!(crest.ends_with(&format!(", {then} then")), "{crest}");
    let error = format!(", {} then", mm(inner.outcome.crest_error, 2));
    assert!(window.text("Crest, ± as read: ").ends_with(&error));
    assert!((inner.outcome.crest - fit.planned_crest).abs() < 1e-6);
    for row in ["Action, bass: ", "Saddle left up: ", "Headroom to spare: ", "Board over body: "] {
        assert!(window.text(row).ends_with(" then"));
    }
    // before the shoulder is trimmed
    assert!(window.says("before the shoulder is trimmed") && window.has_button("Read the aim"));
    assert!(window.harness.query_by_role_and_label(Role::Canvas, "Wood off").is_some());

    // a note that is not left yet goes with the round
    let notes = Role::MultilineTextInput;
    window.harness.get_by_role_and_label(notes, "Notes of the round").focus();
    window.harness.run();
    window.harness.event(Event::Text("floor damp".to_owned()));
    window.harness.run();
    window.press_named(Role::Button, "Keep this round: Off the seat at the inner end");
    let log = window.design().fitting.clone();
    assert_eq!((log.len(), log[0].note.as_str()), (1, "floor damp"));
    assert_eq!(log[0].readings.len(), 2);
    let done = log[0].done.clone().unwrap();
    assert_eq!(done, inner.done(false));
    // the log is shown, and the next round is to be read
    assert!(window.says("Done: off the seat at the inner end") && window.says("floor damp"));
    assert!(window.text("Crest needed, off the plan").contains("round 1 "));
    assert!(window.says("Round 2"));
    assert!(window.app().title().starts_with('•'));

    window.press(Modifiers::COMMAND, Key::S);
    let saved = overstand_files::read(&folder.path().join("design.ron")).unwrap();
    assert_eq!(saved.active_design().fitting, log);
    window.undo();
    assert!(window.says("Undone: Keep round 1"));
    assert!(window.design().fitting[0].done.is_none());
    for _ in 0..3 {
        window.undo();
    }
    assert_eq!(window.design().fitting, []);
    assert!(!window.says("Pitch "));
}

/// The next round is read on the joint with the wood of the last one off.
#[test]
fn rounds_converge_and_the_log_is_printed() {
    let (mut window, folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "21.8");
    put_down(&mut window, "110", "13.6");
    look_at(&mut window, "Off the seat at the inner end");
    window.press_named(Role::Button, "Half 0.22 mm");
    window.press_named(Role::Button, "Keep this round: Off the seat at the inner end");
    put_down(&mut window, "250", "21.0");
    put_down(&mut window, "110", "13.3");
    window.click(Role::Tab, "Fitting log");
    let told = window.text("Crest needed, off the plan");
    assert!(told.contains("round 1 ") && told.contains("round 2 "), "{told}");
    let steps = overstand_core::dryfit::convergence(window.app().study());
    let miss = |index: usize| steps[index].miss.unwrap().value.abs();
    assert!(miss(1) < miss(0));
    assert!(told.ends_with(&mm(steps[1].miss.unwrap().value, 2)), "{told}");

    window.press_named(Role::Button, "Print the fitting log…");
    window.wait_for("of A4");
    window.click(Role::Button, "Write");
    window.wait_for("Written: ");
    let pdf = std::fs::read(folder.path().join("design-log.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF"));

    // a round is taken out, and taken back
    window.turn_to(Key::Num5);
    window.press_named(Role::Button, "Take round 2 out");
    assert_eq!(window.design().fitting.len(), 1);
    window.undo();
    assert_eq!(window.design().fitting.len(), 2);
}

#[test]
fn an_amount_of_ones_own_is_tried_before_it_is_kept() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "18.8");
    put_down(&mut window, "110", "12.0");
    look_at(&mut window, "Off the seat at the mouth");
    let whole = window.text("Crest: ");
    window.type_over("Taken", "much", Key::Enter);
    assert_eq!(window.field("Taken"), "much");
    window.type_over("Taken", "90", Key::Enter);
    assert!(window.says("more than the"), "what cannot be is said with why");
    window.type_over("Taken", "0.3", Key::Enter);
    assert_ne!(window.text("Crest: "), whole);
    window.press_named(Role::Button, "Then");
    window.press_named(Role::Button, "Keep this round: Off the seat at the mouth");
    let done = window.design().fitting[0].done.clone().unwrap();
    assert!((done.mouth.to_mm() + 0.3).abs() < 1e-12, "{done:?}");
}

#[test]
fn what_cannot_be_reached_is_said_with_why() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "18.8");
    put_down(&mut window, "110", "12.0");
    assert!(window.says("What does not serve"));
    assert!(window.says("Wedge, thick at the mouth: it would lower the crest."));
    assert!(window.says("of spare length is left, which does not reach"));
    // a shoulder is not trimmed before lean and aim are read
    look_at(&mut window, "Off the seat at the mouth");
    window.press_named(Role::Button, "Read the aim");
    assert!(window.says("Stretch a thread"));
    window.type_over("Offset, + to the treble", "+1.5", Key::Enter);
    assert!(!window.has_button("Read the aim") && window.has_button("Read the lean"));
    assert!(window.says("The centre line passes on the treble side"));
}

#[test]
fn readings_that_contradict_each_other_are_told() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "21.0");
    put_down(&mut window, "110", "13.0");
    assert!(!window.says("cannot all be true"));
    put_down(&mut window, "180", "19.0");
    assert!(window.says("cannot all be true"));
    // doubt falls on what would be cut
    assert!(window.says(", measure again before cutting"));
    // the wrong one is taken out, or typed over
    window.type_over("Reading 3", "17.0", Key::Enter);
    assert!(!window.says("cannot all be true"));
    window.press_named(Role::Button, "Remove reading 3");
    assert_eq!(window.design().fitting[0].readings.len(), 2);
}

#[test]
fn a_bad_value_is_refused_in_its_place_and_stays_as_typed() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "wide");
    assert!(window.says("At char"));
    assert_eq!(window.field("Height over the top"), "wide");
    window.type_over("Height over the top", "900", Key::Enter);
    assert!(window.says("A height of 900.0 mm is out of range"));
    window.type_over("Height over the top", "21.8", Key::Tab);
    window.type_over("Reading error ±", "0", Key::Enter);
    assert!(window.says("A reading error of"));
    assert_eq!(window.design().fitting, []);
    window.type_over("Reading error ±", "0.2", Key::Enter);
    assert_eq!(window.design().fitting[0].readings[0].error, 0.2);
    window.type_over("Reading 1", "high", Key::Enter);
    assert_eq!(window.field("Reading 1"), "high");
    assert_eq!(window.design().fitting[0].readings[0].what.value(), 21.8);
    // one height alone says what is missing
    assert!(window.says("do not tell pitch from overstand"));
    assert!(window.says("The readings do not tell enough yet"));
}

#[test]
fn every_kind_of_reading_can_be_put_down() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let kinds = [
        ("Straightedge on the crowns", "Height over the top", "20"),
        ("Straightedge on the board", "Height over the top", "19"),
        ("Straightedge on the bare neck face", "Height over the top", "13"),
        ("Angle gauge on board and body", "On the board", "3.1"),
        ("Feeler at the shoulder's top", "Thickest that goes in", "0.1"),
        ("Feeler at the shoulder's foot", "Thickest that goes in", "0"),
        ("Sideways: offset of the centre line", "Offset, + to the treble", "-0.5"),
        ("Lean of the board across", "Lean, + treble higher", "0.2"),
    ];
    let mut before = kinds[0].0;
    for (index, (kind, field, value)) in kinds.into_iter().enumerate() {
        if kind != before {
            window.choose(&format!("Measured with: {before}"), kind);
            before = kind;
        }
        window.type_over(field, value, Key::Enter);
        let readings = &window.design().fitting[0].readings;
        assert_eq!(readings.len(), index + 1, "{kind}");
        assert!((readings[index].what.value() - value.parse::<f64>().unwrap()).abs() < 1e-12);
    }
    // on a side, over an edge
    window.choose("Measured with: Lean of the board across", kinds[1].0);
    window.choose("Where: So far from the joint", "At the bridge line");
    window.choose("Side: On the centre line", "Near side, the bass");
    window.type_over("From the centre line", "20", Key::Tab);
    window.type_over("If its upper edge is read: depth", "30", Key::Tab);
    window.type_over("Height over the top", "49", Key::Enter);
    let last = window.design().fitting[0].readings.last().unwrap().to_string();
    assert_eq!(last, "board@bridge/near=20/edge=30:49±0.1");
}

#[test]
fn inches_are_read_and_shown() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    window.search("inches, decimal");
    window.choose("Where: At the bridge line", "So far from the joint");
    window.type_over("Distance", "10", Key::Tab);
    window.type_over("Height over the top", "0.8", Key::Enter);
    let reading = window.design().fitting[0].readings[0].to_string();
    assert_eq!(reading, "crowns@X=254:20.32±0.1");
    assert!(window.says("10.000 in from the joint"));
    assert!(window.field("Reading 1").ends_with(" in"));
    window.type_over("Height over the top", "900", Key::Enter);
    assert!(window.says("is out of range, expected") && window.says(" in to "));
}

#[test]
fn after_the_glue_the_set_up_stands_in_its_order() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "21.0");
    put_down(&mut window, "110", "13.2");
    window.click(Role::Tab, "Set-up");
    assert!(window.says("The set-up comes after the glue"));
    window.press_named(Role::CheckBox, "Neck and body are glued");
    assert!(window.harness.query_by_role_and_label(Role::Tab, "What to do").is_none());
    let fit = told(&["crowns@X=250:21.0".to_owned(), "crowns@X=110:13.2".to_owned()]);
    let real = &fit.real.study;
    let set_up = SetUp::of(&real.design, real.layout().unwrap());
    let mut last = f32::NEG_INFINITY;
    for (index, step) in set_up.steps.iter().enumerate() {
        let title = format!("{}  {}", index + 1, step.title);
        let top = window.harness.get_by_label(&title).rect().top();
        assert!(top > last, "{title}");
        last = top;
        for row in &step.rows {
            assert!(row.values.iter().all(|value| window.says(&mm(*value, 2))));
        }
    }
    assert!(window.design().fitting[0].glued);
}

#[test]
fn a_plan_that_does_not_close_says_so() {
    let mut design = worked_example();
    Dim::CrestHeight.key().set(&mut design, 140.0);
    let (window, _folder) = Window::showing(PAGE, design);
    assert!(window.says("as long as the plan does not close"));
    assert!(
        window.harness.query_by_role_and_label(Role::TextInput, "Height over the top").is_none()
    );
}

#[test]
fn every_control_has_a_name_and_a_window_at_rest_stands_still() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "21.8");
    put_down(&mut window, "110", "13.6");
    for leaf in ["What to do", "Set-up", "Fitting log"] {
        window.click(Role::Tab, leaf);
        let nameless = window.harness.query_all_by(|node| {
            let is_control = matches!(
                node.role(),
                Role::Button
                    | Role::TextInput
                    | Role::MultilineTextInput
                    | Role::ComboBox
                    | Role::CheckBox
                    | Role::ListBoxOption
                    | Role::Canvas
            );
            is_control && node.label().is_none_or(|label| label.trim().is_empty())
        });
        assert_eq!(nameless.count(), 0, "{leaf}");
        assert!(window.harness.try_run().is_ok_and(|frames| frames <= 1), "{leaf}");
    }
}

#[test]
fn the_keys_reach_everything() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    put_down(&mut window, "250", "21.8");
    put_down(&mut window, "110", "13.6");
    let option = correction(&window, "Off the seat at the inner end").unwrap();
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..120 {
        window.press(Modifiers::NONE, Key::Tab);
        reached.extend(window.focused());
        if window.focused().as_ref() == Some(&option) {
            break;
        }
    }
    assert!(reached.contains(&option), "{reached:?}");
    window.press(Modifiers::NONE, Key::Enter);
    assert!(window.says("off its top, tapering to nothing at its foot"));
    for _ in 0..120 {
        window.press(Modifiers::NONE, Key::Tab);
        reached.extend(window.focused());
    }
    for name in [
        "Measured with: Straightedge on the crowns",
        "Height over the top",
        "Reading error ±",
        "Put it down",
        "Reading 1",
        "Error of reading 2",
        "Remove reading 2",
        "Neck and body are glued",
        "Day of the round",
        "Notes of the round",
        "Begin a new round",
        "Fitting log",
        "Taken",
        "Keep this round: Off the seat at the inner end",
        "Read the lean",
        "Then",
    ] {
        assert!(reached.contains(name), "{name} was not reached: {reached:?}");
    }
}
