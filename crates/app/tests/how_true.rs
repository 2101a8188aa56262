//! The page that says how true the cuts must be: tolerances, the map, the safest aim.

mod common;

use common::Window;
use egui::accesskit::{Role, Toggled};
use egui::{Key, Modifiers, Pos2, vec2};
use egui_kittest::kittest::{AccessKitNode, NodeT as _, Queryable as _};
use overstand_core::design::{Making, Provenance, Spread, Tolerance};
use overstand_core::dimension::Dim;
use overstand_core::risk::{Plan, Risk, Source, Tolerated, Watch, aimed, show_chance, toleranced};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::verdict::State;
use overstand_files::DesignFile;

const POINT: &str = "Point on the map";
const PAGE: Key = Key::Num4;
const MOUTH: &str = "Tolerance of seat at mouth";

fn tolerated(window: &Window, source: Source) -> Tolerated {
    let all = toleranced(window.design());
    all.into_iter().find(|one| one.source == source).expect("it is in the list")
}

fn point(window: &Window) -> Pos2 {
    window.handle(POINT).rect().center()
}

/// Runs until trials and map are there.
fn settled(window: &mut Window) {
    window.wait("the trials", |window| window.says("It plays with adjustment left in"));
    window.wait("the rest", |window| {
        window.harness.query_all_by_label("(before the last change)").next().is_none()
            && !window.says("not worked out yet")
            && window.harness.query_by_role(Role::ProgressIndicator).is_none()
    });
}

#[test]
fn a_tolerance_is_typed_the_table_follows_and_it_is_undone() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let share = |window: &Window| {
        let row =
            window.texts(|role, text| role == Role::Button && text.starts_with("Seat at mouth ±"));
        row.first().cloned().expect("the row is in sight")
    };
    let before = (window.design().clone(), share(&window));
    assert!(before.1.contains("±0.15 mm: for each 1 mm crest by −"), "{}", before.1);
    window.type_in(MOUTH, "0.4", Key::Enter);
    assert_eq!(tolerated(&window, Source::SeatMouth).plus_minus, 0.4);
    let after = share(&window);
    assert!(after.starts_with("Seat at mouth ±0.40 mm"), "{after}");
    assert_ne!(after, before.1);
    // it is the dearest now, as the core reckons
    let risk = Risk::of(window.app().study()).expect("it closes");
    assert_eq!(risk.budget.rows[0].tolerated.source, Source::SeatMouth);
    let dearest = window
        .texts(|role, text| {
            role == Role::Button && text.starts_with("Seat at mouth ±0.40 mm: for each")
        })
        .remove(0);
    let percent = format!("share {:.1} %", 100.0 * risk.budget.rows[0].share);
    assert!(dearest.contains(&percent), "{dearest} without {percent}");

    // what makes no sense is refused in place
    window.type_in(MOUTH, "-1", Key::Enter);
    assert_eq!(tolerated(&window, Source::SeatMouth).plus_minus, 0.4);
    window.press(Modifiers::NONE, Key::Escape);
    window.click(Role::Button, "Undo");
    assert_eq!(window.design(), &before.0);
    assert_eq!(share(&window), before.1);
}

#[test]
fn a_chance_counts_as_what_the_core_calls_it() {
    let mut design = worked_example();
    let wide = Tolerance { plus_minus: Some(0.4), ..Tolerance::default() };
    design.tolerances.insert("joint.seat_mouth".to_owned(), wide);
    let (mut window, _folder) = Window::showing(PAGE, design);
    settled(&mut window);
    let risk = Risk::of(window.app().study()).expect("it closes");
    let trials = risk.trials(&Plan::usual(), &Watch::nobody()).expect("nobody stops it");
    assert_ne!(trials.state(), State::Good, "{}", trials.chance());
    let told = format!("{}, {}", show_chance(trials.chance()), trials.state().text());
    let said =
        |window: &Window, words: &str| !window.texts(|_, name| name.contains(words)).is_empty();
    assert!(said(&window, &format!("the chance that it plays, {told}")), "{told}");
    window.click(Role::Tab, "Spread");
    let worst = trials.checks.iter().min_by(|a, b| a.chance().total_cmp(&b.chance()));
    let worst = worst.expect("there are checks");
    let (name, chance, state) = (worst.id.name(), show_chance(worst.chance()), worst.state());
    let row = format!("{name}: holds in {chance}, {}", state.text());
    assert!(said(&window, &row), "{row}");
}

/// However many errors there are, Tab passes their table in one step, and the arrow keys go over
/// it.
#[test]
fn the_table_of_errors_is_one_stop_of_the_keyboard() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    settled(&mut window);
    let is_table = |name: &str| name.starts_with("What each error costs");
    let table = window.texts(|role, name| role == Role::Table && is_table(name)).remove(0);
    window.harness.get_by_role_and_label(Role::Table, &table).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Tab);
    let next = window.focused().unwrap_or_default();
    assert!(!next.contains("crest for each") && !is_table(&next), "{next}");
    window.press(Modifiers::SHIFT, Key::Tab);
    assert!(is_table(&window.focused().unwrap_or_default()));

    let risk = Risk::of(window.app().study()).expect("it closes");
    let sources: Vec<Source> = risk.budget.rows.iter().map(|row| row.tolerated.source).collect();
    let open = |window: &Window| {
        let is_open = |node: &AccessKitNode<'_>| {
            node.role() == Role::Button
                && node.toggled() == Some(Toggled::True)
                && common::text(node).starts_with("Working of ")
        };
        let node = window.harness.query_by(is_open);
        node.map_or_else(String::new, |node| common::text(&node.accesskit_node()))
    };
    let design = worked_example();
    let name = |source: Source| lower(&source.name(&design));
    window.press(Modifiers::NONE, Key::ArrowDown);
    assert!(open(&window).starts_with(&format!("Working of {}: crest", name(sources[0]))));
    window.press(Modifiers::NONE, Key::ArrowRight);
    assert!(open(&window).starts_with(&format!("Working of {}: action", name(sources[0]))));
    // the last one is not in sight before it is gone to
    for _ in 1..sources.len() {
        window.press(Modifiers::NONE, Key::ArrowDown);
    }
    let last = *sources.last().expect("there are errors");
    let told = open(&window);
    assert!(told.starts_with(&format!("Working of {}: action", name(last))), "{told}");
    window.press(Modifiers::NONE, Key::Enter);
    let field = format!("Tolerance of {}", name(last));
    assert_eq!(window.focused().as_deref(), Some(field.as_str()));
}

#[test]
fn how_it_is_made_says_how_true_and_usual_is_a_click_away() {
    let (mut window, folder) = Window::showing(PAGE, worked_example());
    let before = window.design().clone();
    window.press_named(Role::ComboBox, "How made, seat at mouth: Hand saw and chisel");
    window.click(Role::Button, "Router with jig: ±0.06 mm");
    let jig = tolerated(&window, Source::SeatMouth);
    assert_eq!((jig.plus_minus, jig.spread), (0.06, Spread::Rectangular));
    window.press_named(Role::Button, "Shape of the error, seat at mouth: rectangular");
    window.click(Role::Button, "Normal: ± is two standard deviations, one in 22 lies beyond");
    assert_eq!(tolerated(&window, Source::SeatMouth).spread, Spread::Normal);
    // it is saved with the design
    let path = folder.path().join("design.ron");
    window.press(Modifiers::COMMAND, Key::S);
    let saved: DesignFile = overstand_files::read(&path).expect("it can be read");
    let said = saved.active_design().tolerances.get("joint.seat_mouth").copied();
    let said = said.expect("it is in the file");
    assert_eq!((said.making, said.spread), (Some(Making::Jig), Some(Spread::Normal)));
    window.press_named(Role::Button, "Back to usual: seat at mouth");
    assert_eq!(window.design().tolerances, before.tolerances);
    for _ in 0..3 {
        window.click(Role::Button, "Undo");
    }
    assert_eq!(window.design(), &before);
}

#[test]
fn pitch_and_overstand_may_miss_by_themselves() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let lists = |window: &Window, name: &str| {
        let field = format!("Tolerance of {name}");
        window.harness.query_by_role_and_label(Role::TextInput, &field).is_some()
    };
    assert!(lists(&window, "seat at mouth") && !lists(&window, "pitch"));
    window.click(Role::CheckBox, "Pitch and overstand come from one seat");
    assert!(!lists(&window, "seat at mouth") && lists(&window, "pitch"));
    window.click(Role::Button, "Undo");
    assert!(lists(&window, "seat at mouth"));
}

#[test]
fn what_is_measured_has_the_error_of_its_reading_and_later_is_told_apart() {
    let mut design = worked_example();
    let on = "2026-03-01".parse().expect("a day");
    let measured = Provenance::Measured { on, error: 0.02 };
    design.marks.insert(Dim::BoardThickness.key().to_string(), measured);
    let (window, _folder) = Window::showing(PAGE, design);
    let field = "Tolerance of board thickness";
    assert!(window.harness.query_by_role_and_label(Role::TextInput, field).is_none());
    assert!(window.says("±0.02 mm measured"));
    let top = |name: &str| told_top(&window, name);
    let (cannot, can) = (top("Cannot be set right later"), top("Can be set right later"));
    let row = |start: &str| {
        let node = window.harness.get_by(|node| {
            node.role() == Role::Label && node.value().is_some_and(|text| text.starts_with(start))
        });
        node.rect().top()
    };
    assert!(cannot < row("Seat at mouth: ±") && row("Seat at mouth: ±") < can);
    assert!(can < row("Relief: ±"));
}

fn told_top(window: &Window, label: &str) -> f32 {
    window.harness.get_by_label(label).rect().top()
}

#[test]
fn the_point_is_dragged_and_the_crest_follows() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    settled(&mut window);
    let before = window.design().clone();
    let was = [Dim::Pitch, Dim::Overstand, Dim::CrestHeight].map(|dim| window.get(dim));
    let from = point(&window);
    window.take(from, vec2(40.0, -30.0));
    window.harness.step();
    let is = [Dim::Pitch, Dim::Overstand, Dim::CrestHeight].map(|dim| window.get(dim));
    assert!(is[0] > was[0] + 0.1 && is[1] > was[1] + 0.3, "{was:?} {is:?}");
    assert!((is[2] - was[2]).abs() > 0.5, "the crest did not follow");
    let at = point(&window);
    assert!((at - from - vec2(40.0, -30.0)).length() < 4.0, "it does not follow the pointer");
    // it stands where the core puts it
    let puts = [(Dim::Pitch.key(), is[0]), (Dim::Overstand.key(), is[1])];
    let there = Study::of(&aimed(&before, &puts).expect("it closes there"));
    assert!((Dim::CrestHeight.key().get(&there.design).unwrap_or_default() - is[2]).abs() < 1e-9);
    window.drop_at(from + vec2(40.0, -30.0));
    assert_eq!(window.design().found, before.found, "what is found stays so");
    window.click(Role::Button, "Undo");
    assert_eq!(window.design(), &before, "a drag was more than one step");

    // given up, nothing has happened
    window.take(from, vec2(-30.0, 20.0));
    window.harness.step();
    assert_ne!(window.design(), &before);
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.design(), &before);
    window.drop_at(from);
    assert_eq!(window.design(), &before);
}

#[test]
fn the_point_is_moved_by_keys() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let before = window.design().clone();
    let (pitch, overstand) = (window.get(Dim::Pitch), window.get(Dim::Overstand));
    window.handle(POINT).focus();
    window.harness.run();
    for _ in 0..2 {
        window.press(Modifiers::NONE, Key::ArrowRight);
    }
    window.press(Modifiers::NONE, Key::ArrowDown);
    // the first step lands on a twentieth of a degree
    assert!((window.get(Dim::Pitch) - pitch - 0.1).abs() < 0.026, "{}", window.get(Dim::Pitch));
    assert!((window.get(Dim::Overstand) - overstand + 0.1).abs() < 0.051);
    assert_eq!(window.focused().as_deref(), Some(POINT), "the arrows took the focus away");
    window.click(Role::Button, "Undo");
    assert_eq!(window.design(), &before, "keys in a row are one step");
}

#[test]
fn the_map_says_what_the_study_says() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    settled(&mut window);
    let from = point(&window);
    let design = window.design().clone();
    let (mut agree, mut seen) = (0, Vec::new());
    for (dx, dy) in [(-120.0, -90.0), (-60.0, 60.0), (0.0, -60.0), (60.0, 40.0), (130.0, 70.0)] {
        window.harness.hover_at(from + vec2(dx, dy));
        window.wait("the tip", |window| !tip(window).is_empty());
        let place = tip(&window);
        let numbers: Vec<f64> = place
            .split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '−')))
            .filter_map(|text| text.replace('−', "-").trim_end_matches('.').parse().ok())
            .collect();
        let [pitch, overstand] = numbers[..] else { panic!("{place}") };
        let puts = [(Dim::Pitch.key(), pitch), (Dim::Overstand.key(), overstand)];
        let there = aimed(&design, &puts).map(|design| Study::of(&design));
        let worst = there
            .as_ref()
            .and_then(|study| study.closed()?.checks.iter().map(|check| check.state).min());
        let word = match worst {
            Some(State::Good) => "Good",
            Some(State::Thin) => "Thin",
            Some(State::Fails) => "Fails",
            None => "It does not close",
        };
        seen.push(word);
        agree += usize::from(window.says(word));
        window.harness.hover_at(Pos2::ZERO);
        window.harness.run();
    }
    assert_eq!(agree, 5, "{seen:?}");
}

/// What the tip over the map says of its place.
fn tip(window: &Window) -> String {
    let is_tip = |role, text: &str| {
        role == Role::Label && text.starts_with("Pitch ") && text.contains("°, overstand ")
    };
    window.texts(is_tip).into_iter().next().unwrap_or_default()
}

#[test]
fn other_dimensions_are_chosen_and_the_map_made_larger() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    window.click(Role::ComboBox, "Up the map: Overstand");
    window.harness.get_by_role_and_label(Role::Button, "Board thickness").scroll_to_me();
    window.harness.run();
    window.click(Role::Button, "Board thickness");
    assert!(window.says("Map of pitch and board thickness"));
    let before = point(&window);
    window.press_named(Role::Button, "Show less of the map, larger");
    window.take(point(&window), vec2(0.0, -40.0));
    window.drop_at(before + vec2(0.0, -40.0));
    assert!(window.app().study().closed().is_some());
    let thickness = window.get(Dim::BoardThickness);
    let was = Dim::BoardThickness.key().get(&worked_example()).unwrap_or_default();
    assert!(thickness > was, "{thickness} of {was}");
}

#[test]
fn the_safest_aim_is_applied_and_undone() {
    let mut design = worked_example();
    // the saddle's range lies to one side of the crest: there is something to win
    design.pickups.clear();
    let (mut window, _folder) = Window::showing(PAGE, design);
    settled(&mut window);
    let before = window.design().clone();
    window.click(Role::Tab, "Safest aim");
    window.harness.get_by_role_and_label(Role::Button, "Seek the safest aim").click();
    window.wait("the aims", |window| window.says("Widest margin"));
    window.harness.run();
    // each number says how it was found; crest and pitch are those of the design that would be
    for (part, says) in [
        ("Working of the chance, as it stands: ", "100 k/N"),
        ("Working of the worst margin, widest margin: ", "(V - V_1)/(V_2 - V_1)"),
        ("Working of crest height, ", "B = Y_s - z"),
    ] {
        let opener = window.text(part);
        window.press_named(Role::Button, &opener);
        assert!(window.says(says), "{opener}");
        window.press(Modifiers::NONE, Key::Escape);
    }
    let names = ["Apply: widest margin", "Apply: highest chance"];
    let name = names.into_iter().find(|name| window.has_button(name)).expect("one is better");
    window.press_named(Role::Button, name);
    assert!(
        (window.get(Dim::Pitch) - Dim::Pitch.key().get(&before).unwrap_or_default()).abs() > 0.005
    );
    assert_eq!(window.design().found, before.found);
    assert!(window.says("(before the last change)"), "what is stale is said to be");
    window.click(Role::Button, "Undo");
    assert_eq!(window.design(), &before);
}

#[test]
fn what_goes_on_is_stopped_and_begun_again() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    settled(&mut window);
    window.click(Role::Tab, "Safest aim");
    window.harness.get_by_role_and_label(Role::Button, "Seek the safest aim").click();
    window.wait("the button", |window| window.has_button("Stop"));
    assert!(window.harness.query_by_role(Role::ProgressIndicator).is_some());
    window.harness.get_by_role_and_label(Role::Button, "Stop").click();
    window.wait("the end", |window| !window.has_button("Stop"));
    assert!(window.says("Stopped."));
    window.harness.run();
    assert!(!window.has_button("Stop"), "it has begun again by itself");
    assert!(window.has_button("Seek the safest aim"));
}

#[test]
fn what_suffices_is_said_and_taken_over() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    settled(&mut window);
    window.click(Role::Tab, "What suffices");
    window.harness.get_by_role_and_label(Role::Button, "Work it out").click();
    window.wait("the answer", |window| {
        window.says("To be 95 % sure, hold") || window.says("Pitch: ")
    });
    window.harness.run();
    if window.has_button("Take it over as tolerance") {
        window.press_named(Role::Button, "Take it over as tolerance");
        assert!(window.design().tolerances.contains_key("joint.seat_mouth"));
    } else {
        assert!(window.says("even without any error there") || window.says("would still do"));
    }
}

#[test]
fn a_page_at_rest_asks_for_no_repaint() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    settled(&mut window);
    for sheet in ["Spread", "Safest aim", "What suffices", "Each error"] {
        window.click(Role::Tab, sheet);
        // run() itself fails when a repaint is asked for again and again
        assert!(window.harness.run() <= 2, "{sheet}");
    }
}

#[test]
fn what_cannot_be_said_is_said() {
    let mut open = worked_example();
    Dim::CrestHeight.key().set(&mut open, 140.0);
    let (window, _folder) = Window::showing(PAGE, open);
    assert!(window.says("as long as the design does not close"));
    assert!(window.harness.query_by_role_and_label(Role::Slider, POINT).is_none());

    // where nothing misses there is nothing to make many times
    let mut exact = worked_example();
    for one in toleranced(&exact) {
        let said = exact.tolerances.entry(one.source.to_string()).or_default();
        said.plus_minus = Some(0.0);
    }
    let (mut window, _folder) = Window::showing(PAGE, exact);
    for _ in 0..8 {
        window.harness.step();
    }
    assert!(window.says("Nothing misses: every dimension is taken as exact."));
    assert!(window.harness.query_by_role(Role::ProgressIndicator).is_none());
    window.type_in(MOUTH, "0.2", Key::Enter);
    settled(&mut window);
}
