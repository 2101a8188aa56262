//! The page of the strings: how hard, the map, pull, relief, true notes.

mod common;

use common::{Window, text};
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use overstand_core::choice::Choice;
use overstand_core::design::{Design, StringMake};
use overstand_core::dimension::Dim;
use overstand_core::strings::gauges::SETS;
use overstand_core::strings::{Strings, relief_search};
use overstand_core::testing::worked_example;
use overstand_core::units::parse_number;
use overstand_core::verdict::{CheckId, State};

const PAGE: Key = Key::Num3;
const HOW_HARD: &str = "Played how hard, slider, mm";

fn strung() -> Design {
    let mut design = worked_example();
    SETS[1].put_on(&mut design);
    design
}

/// What the map says of a note: amount, state, where it touches.
fn cell(window: &Window, note: &str) -> String {
    let start = format!("{note}: ");
    window.text(&start)[start.len()..].to_owned()
}

/// How many cells of the map say some words.
fn count(window: &Window, words: &str) -> usize {
    window.texts(|_, text| text.contains(words) && text.contains(", touches fret")).len()
}

fn physics(window: &Window) -> Strings {
    let study = window.app().study();
    Strings::of(&study.design, study.layout().expect("it closes"))
}

#[test]
fn the_page_is_turned_to_and_back() {
    let (mut window, _folder) = Window::with(strung());
    let is_there =
        |window: &Window| window.harness.query_by_role_and_label(Role::Slider, HOW_HARD).is_some();
    assert!(!is_there(&window));
    window.turn_to(Key::Num3);
    assert!(is_there(&window));
    window.turn_to(Key::Num1);
    assert!(!is_there(&window));
    window.click(Role::Tab, "Strings");
    assert!(is_there(&window));
    // gauge and core stand in the table of this page, and in the list of the first
    window.search("gauge e");
    assert!(!is_there(&window));
    assert_eq!(window.focused().as_deref(), Some("Gauge, string 1 (e)"));
}

#[test]
fn played_harder_more_notes_fail_while_the_slider_moves() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    let before = window.design().clone();
    assert_eq!(count(&window, ", fails,"), 0);
    let was = cell(&window, "E, stopped at fret 3");
    assert!(was.contains("mm, good, touches fret"), "{was}");
    let from = window.handle(HOW_HARD).rect().left_center() + vec2(56.0, 0.0);
    window.take(from, vec2(110.0, 0.0));
    // not let go yet; what is shown is of the frame before
    window.harness.step();
    let travel = window.get(Dim::PluckTravel);
    assert!(travel > 0.8, "{travel}");
    let failing = count(&window, ", fails,");
    assert!(failing > 20, "{failing} fail");
    // what a note takes is its own: only how that stands has changed
    let amount = |text: &str| text.split(',').next().map(str::to_owned);
    assert_eq!(amount(&cell(&window, "E, stopped at fret 3")), amount(&was));
    let study = window.app().study();
    let layout = study.layout().expect("it closes");
    let played = physics(&window).played(&study.design, layout, None);
    let fails = played.iter().flatten().flatten().filter(|one| one.state == State::Fails).count();
    assert_eq!(failing, fails, "the map is not what the core says");
    window.drop_at(from + vec2(110.0, 0.0));
    assert!(window.get(Dim::PluckTravel) > 0.8);
    window.undo();
    assert_eq!(window.design(), &before, "the drag was more than one step");
    assert_eq!(count(&window, ", fails,"), 0);
}

#[test]
fn a_slider_is_given_up_by_escape_and_moved_by_keys() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    let before = window.design().clone();
    let slider = "Relief, slider, mm";
    let from = window.handle(slider).rect().center();
    window.take(from, vec2(20.0, 0.0));
    assert_ne!(window.get(Dim::Relief), 0.2);
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.design(), &before);
    window.drop_at(from);
    assert_eq!(window.design(), &before);
    window.handle(slider).focus();
    window.harness.run();
    for _ in 0..3 {
        window.press(Modifiers::NONE, Key::ArrowRight);
    }
    let relief = window.get(Dim::Relief);
    assert!(relief > 0.2 && relief < 0.3, "{relief}");
    window.undo();
    assert_eq!(window.design(), &before, "nudges in a row are one step");
}

/// Half a millimetre of action less costs headroom on every string, and the note that takes
/// least then is the one the core names.
#[test]
fn lower_action_costs_headroom_on_the_page() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    let before = physics(&window);
    let least = |strings: &Strings, index: usize| strings.each[index].headroom.expect("it plays");
    for (field, dim) in [("Action, bass", Dim::ActionBass), ("Action, treble", Dim::ActionTreble)] {
        let to = window.get(dim) - 0.5;
        window.type_in(field, &format!("{to}"), Key::Enter);
    }
    let after = physics(&window);
    for (index, string) in window.design().strings.iter().enumerate() {
        let (was, is) = (least(&before, index), least(&after, index));
        assert!(is.most < was.most - 0.1, "{}: {} to {}", string.name, was.most, is.most);
        let note = match is.stop {
            0 => format!("{}, open", string.name),
            stop => format!("{}, stopped at fret {stop}", string.name),
        };
        let told = cell(&window, &note);
        assert!(told.starts_with(&format!("{:.2} mm", is.most)), "{told}");
        assert!(told.ends_with(&format!("touches fret {}", is.fret)), "{told}");
        let from = match is.stop {
            0 => "open".to_owned(),
            stop => format!("from note {stop}"),
        };
        let says = format!("{} first touches at fret {} {from}", string.name, is.fret);
        assert!(window.says(&says), "{says}");
    }
}

#[test]
fn travel_or_force_and_to_either_side() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    let note = "E, stopped at fret 3";
    let either = cell(&window, note);
    window.click(Role::Button, "Drawn away");
    let away = cell(&window, note);
    window.click(Role::Button, "Pressed");
    let toward = cell(&window, note);
    assert_ne!(away, toward);
    assert!(either == away || either == toward);
    window.click(Role::Button, "Newtons");
    assert!(cell(&window, note).contains(" N, "), "{}", cell(&window, note));
    assert!(window.harness.query_by_role_and_label(Role::Slider, HOW_HARD).is_none());
    assert!(window.told("Played how hard, slider, N") > 0.0);
}

#[test]
fn the_map_is_walked_by_keys_and_the_drawing_follows() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    assert!(window.says("e, open: first touches at fret"));
    let map = "Headroom by string and fret";
    window.harness.get_by_role_and_label(Role::Table, map).focus();
    window.harness.run();
    for key in [Key::ArrowDown, Key::ArrowRight, Key::ArrowRight] {
        window.press(Modifiers::NONE, key);
    }
    assert!(window.says("b, stopped at fret 2: first touches at fret"));
    // a click on a note does as much
    let at = window
        .harness
        .get_by(|node| text(node).starts_with("a, open: ") && text(node).contains(" mm, "))
        .rect()
        .center();
    window.harness.hover_at(at);
    window.press_button(at, egui::PointerButton::Primary, true);
    window.press_button(at, egui::PointerButton::Primary, false);
    window.harness.run();
    assert!(window.says("a, open: first touches at fret"));
    let told = window.told("Fret at which the string is stopped");
    assert_eq!(told, 0.0);
}

#[test]
fn a_set_is_put_on_and_taken_off_as_one_step() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let before = window.design().clone();
    assert!(window.says("Pull and pitch are not known"));
    assert!(!window.says("Together they pull"));
    window.click(Role::Button, "Put on a set");
    window.click(Role::Button, "Electric six, 0.010–0.046");
    let mut expected = before.clone();
    SETS.iter().find(|set| set.name.ends_with("0.010–0.046")).unwrap().put_on(&mut expected);
    assert_eq!(window.design().strings, expected.strings);
    assert!(!window.says("Pull and pitch are not known"));
    let pull = physics(&window).pull.unwrap();
    assert!(window.says(&format!("Together they pull {pull:.0} N")));
    window.undo();
    assert_eq!(window.design(), &before);
}

#[test]
fn strings_are_edited_in_place() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    let before = window.design().clone();
    let tuning = "Tuning of string 6 (E)";
    window.type_in(tuning, "D2", Key::Enter);
    assert_eq!(window.design().strings[5].note, Some("D2".parse().unwrap()));
    assert!(window.says("E sounds at, Hz: 73.42"));
    window.type_in(tuning, "H9", Key::Enter);
    assert!(window.says("Expected a note as E4"), "what is refused says why");
    assert_eq!(window.field(tuning), "H9");
    window.harness.get_by_role_and_label(Role::TextInput, tuning).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.field(tuning), "D2");
    let pull = |window: &Window| physics(window).each[5].pull.unwrap().tension;
    let slack = pull(&window);
    window.type_in("Gauge, string 6 (E), in the table", "1.25", Key::Enter);
    assert!(pull(&window) > slack);
    window.type_in("Core, string 6 (E), in the table", "0.5", Key::Enter);
    assert!(matches!(
        window.design().strings[5].make,
        StringMake::Wound { core, .. } if core.to_mm() == 0.5
    ));
    window.click(Role::ComboBox, "How string 3 (g) is made");
    window.click(Role::Button, "Wound on a hexagonal core");
    assert!(matches!(window.design().strings[2].make, StringMake::Wound { .. }));
    window.click(Role::ComboBox, "Material of string 3 (g)");
    window.click(Role::Button, "Bronze");
    for _ in 0..5 {
        window.undo();
    }
    assert_eq!(window.design(), &before);
    // nothing typed is nothing known
    window.type_in(tuning, " ", Key::Enter);
    assert_eq!(window.design().strings[5].note, None);
    assert!(window.says("Pull and pitch are not known"));
}

#[test]
fn a_string_that_would_break_is_told() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    assert!(window.says("e bears its pull and is tight: good"));
    window.type_in("Tuning of string 1 (e)", "D5", Key::Enter);
    assert!(window.says("e bears its pull and is tight: fails"));
    window.type_in("Tuning of string 1 (e)", "E3", Key::Enter);
    assert!(window.says("e bears its pull and is tight: fails"), "it flaps");
}

/// In whatever units, at the least size of a window that is promised.
#[test]
fn the_map_of_a_long_board_shows_where_each_string_touches_first() {
    let mut design = strung();
    design.scale.frets = 24;
    design.board.end = overstand_core::units::Length::mm(500.0);
    let (mut window, _folder) = Window::showing(PAGE, design);
    for units in ["Millimetres", "Inches, decimal", "Inches, fractions"] {
        window.search(units);
        let ends: Vec<f32> = window
            .harness
            .query_all_by(|node| {
                let said = text(node);
                said.contains(" first touches at fret ") && !said.contains(':')
            })
            .map(|node| node.rect().right())
            .collect();
        assert_eq!(ends.len(), 6, "{units}");
        assert!(ends.iter().all(|right| *right <= common::SIZE.x - 8.0), "{units}: {ends:?}");
    }
}

#[test]
fn the_best_relief_is_shown_applied_and_undone() {
    let (mut window, _folder) = Window::showing(PAGE, strung());
    window.type_in("Relief", "0.05", Key::Enter);
    let before = window.design().clone();
    window.click(Role::Tab, "Best relief");
    let best = relief_search::best_at_bench(window.design()).unwrap();
    let now = relief_search::at_relief(window.design(), 0.05).unwrap();
    let name = format!(
        "Headroom over relief: {:.2} mm at 0.05 mm now, {:.2} mm at {:.2} mm at best",
        now.headroom, best.headroom, best.relief
    );
    assert!(window.harness.query_by_role_and_label(Role::Canvas, &name).is_some(), "{name}");
    assert!(window.says(&format!("It changes: Relief 0.05 mm → {:.2} mm", best.relief)));
    // the sentence itself opens the working: there is no line beside it that says the same
    let working = format!("Working of best relief, {:.2} mm", best.relief);
    let opens = window.harness.get_by_role_and_label(Role::Button, &working).rect();
    let said = format!("With a relief of {:.2} mm every string takes", best.relief);
    let sentence = window.harness.query_all_by(|node| text(node).starts_with(&said)).next();
    assert!(opens.contains_rect(sentence.unwrap().rect()), "{opens}");
    window.press_named(Role::Button, "Apply the best relief");
    assert_eq!(window.get(Dim::Relief), best.relief);
    assert_eq!(window.design().found, before.found);
    assert!(window.says("That is the best relief there is for this action."));
    window.undo();
    assert_eq!(window.design(), &before);
}

#[test]
fn the_action_for_a_hardness_is_applied() {
    let mut design = strung();
    Dim::PluckTravel.key().set(&mut design, 1.0);
    let (mut window, _folder) = Window::showing(PAGE, design);
    let state = |window: &Window| {
        let checks = &window.app().study().closed().unwrap().checks;
        checks.iter().find(|check| check.id == CheckId::Headroom).unwrap().state
    };
    assert_eq!(state(&window), State::Fails);
    window.click(Role::Tab, "Best relief");
    assert!(window.says("To be played by 1.00 mm with 0.05 mm to spare, the action must stand"));
    // its working is that of what comes of it: 1.00 mm, and 0.05 to spare
    let named = |role: Role, name: &str| {
        role == Role::Button && name.starts_with("Working of headroom with the action")
    };
    let opener = window.texts(named).remove(0);
    window.press_named(Role::Button, &opener);
    assert!(window.says("with action and relief") && window.says("= 1.05"));
    window.press(Modifiers::NONE, Key::Escape);
    window.press_named(Role::Button, "Apply action and relief");
    assert_eq!(state(&window), State::Good);
    // beyond what any action gives
    window.type_in("Played how hard", "2", Key::Enter);
    assert!(window.says("however high it is, an open string touches at 1."));
    window.press_named(Role::Button, "Apply clearance, action and relief");
    assert_eq!(state(&window), State::Good);
}

#[test]
fn the_bridge_is_put_where_the_strings_need_it() {
    let mut design = strung();
    Dim::Compensation.key().set(&mut design, 0.0);
    let (mut window, _folder) = Window::showing(PAGE, design);
    let before = window.design().clone();
    window.click(Role::Tab, "True notes");
    let place = {
        let study = window.app().study();
        let layout = study.layout().unwrap();
        physics(&window).bridge_place(&study.design, layout).unwrap()
    };
    assert!(window.says(&format!("Its screws then need {:.1} mm of travel", place.travel)));
    let state = |window: &Window, name: &str| window.text(&format!("{name} needs "));
    assert!(!state(&window, "E").contains("good"), "{}", state(&window, "E"));
    window.press_named(Role::Button, "Apply the bridge's place");
    // it is set in tenths
    assert!((window.get(Dim::Compensation) - place.compensation).abs() <= 0.05 + 1e-9);
    assert!((window.get(Dim::Station) - place.station).abs() <= 0.06);
    assert!(state(&window, "E").contains("good"), "{}", state(&window, "E"));
    window.undo();
    assert_eq!(window.design(), &before);
}

#[test]
fn notes_are_truer_with_the_crests_where_they_should_be() {
    let mut design = strung();
    Dim::Compensation.key().set(&mut design, 0.0);
    let (mut window, _folder) = Window::showing(PAGE, design);
    window.click(Role::Tab, "True notes");
    let most = |window: &Window| -> f64 {
        let label = window.text("Cents by fret: ");
        let cents = label.rsplit(", ").next().unwrap().trim_end_matches(" cents");
        parse_number(cents).unwrap().abs()
    };
    let as_they_are = most(&window);
    window.click(Role::Button, "Crests where true");
    assert!(most(&window) < as_they_are / 2.0, "{as_they_are} to {}", most(&window));
}

#[test]
fn to_look_at_the_page_changes_nothing() {
    let mut design = strung();
    // between two steps of its slider
    design.bridge.crest_height = overstand_core::units::Length::mm(22.775);
    let (window, _folder) = Window::showing(PAGE, design);
    assert_eq!(window.get(Dim::CrestHeight), 22.775);
    assert!(!window.app().title().starts_with("• "), "{}", window.app().title());
}

#[test]
fn a_fretless_board_counts_semitones() {
    let mut design = strung();
    design.scale.frets = 0;
    design.board.crown = overstand_core::units::Length::mm(0.0);
    design.wanted.first_fret_bass = overstand_core::units::Length::mm(0.3);
    let (mut window, _folder) = Window::showing(PAGE, design);
    assert!(window.says("E, stopped at semitone 3: "));
    assert!(!window.says("stopped at fret"));
    window.click(Role::Tab, "True notes");
    assert!(window.says("On a fretless board the finger finds the note"));
    window.click(Role::Tab, "Best relief");
    assert!(window.says("With a relief of"));
}

#[test]
fn strings_without_data_say_what_to_give() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    // how far is geometry alone
    assert!(cell(&window, "E, open").contains(" mm, "));
    window.click(Role::Button, "Newtons");
    assert!(cell(&window, "E, open").starts_with('–'));
    window.click(Role::Tab, "True notes");
    assert!(window.says("give each string a note and a gauge"));
}

#[test]
fn a_design_that_does_not_close_says_so_and_offers_what_helps() {
    let mut design = strung();
    design.found.remove("joint.pitch");
    Dim::CrestHeight.key().set(&mut design, 26.0);
    let (mut window, _folder) = Window::showing(PAGE, design);
    assert!(window.says("Nothing can be said about the strings"));
    window.click(Role::Button, "Release pitch");
    assert!(!window.says("Nothing can be said about the strings"));
    assert!(window.says("Together they pull"));
}

/// A board that cannot be played: every number is one, and what touches at rest is said.
#[test]
fn a_string_that_lies_on_the_frets_is_said_to() {
    let mut design = strung();
    Dim::Relief.key().set(&mut design, -0.5);
    Dim::ActionTreble.key().set(&mut design, 0.3);
    Dim::ActionBass.key().set(&mut design, 0.3);
    let (mut window, _folder) = Window::showing(PAGE, design);
    assert!(count(&window, "0.00 mm, fails") > 10);
    window.click(Role::Tab, "Best relief");
    assert!(window.says("touches at rest."));
    assert!(!window.says("NaN") && !window.says("inf "));
}

#[test]
fn every_kind_of_bridge_and_count_of_strings_has_its_page() {
    for kind in ["plate", "posts", "wrapped", "floating", "glued"] {
        let mut design = strung();
        Choice::parse("bridge.kind").unwrap().set(&mut design, kind).unwrap();
        if kind == "wrapped" {
            Choice::parse("tail.kind").unwrap().set(&mut design, "wrapped").unwrap();
        }
        let (mut window, _folder) = Window::showing(PAGE, design);
        for tab in ["Best relief", "True notes", "Each string"] {
            window.click(Role::Tab, tab);
        }
        assert!(window.says("Together they pull"), "{kind}");
    }
    for count in [1, 12] {
        let mut design = strung();
        let one = design.strings[0].clone();
        design.strings = (0..count)
            .map(|index| {
                let mut string = one.clone();
                let place = overstand_core::units::Length::mm(20.0 - 3.0 * f64::from(index));
                (string.nut_place, string.crest_place) = (place, place * 1.3);
                string.name = format!("s{index}");
                string
            })
            .collect();
        let (mut window, _folder) = Window::showing(PAGE, design);
        // of twelve the last ones are scrolled to
        assert!(window.says("s0, open: "));
        let map = "Headroom by string and fret";
        window.harness.get_by_role_and_label(Role::Table, map).focus();
        window.harness.run();
        for _ in 1..count {
            window.press(Modifiers::NONE, Key::ArrowDown);
        }
        let last = format!("s{}, open: ", count - 1);
        assert!(
            window.says(&format!("{last}first touches"))
                && cell(&window, &last[..last.len() - 2]).contains("mm")
        );
        assert_eq!(window.says("There is no usual set of 1 strings."), count == 1);
    }
}
