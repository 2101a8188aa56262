//! The first minute: what to do first, the tour, the list of keys, tips, the search, and pages
//! that have nothing to show.
#![allow(clippy::unwrap_used, clippy::panic, reason = "what fails here is to fail the test")]

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers, Pos2, Rect, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use overstand_app::{Motion, Options, Preferences};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;
use overstand_core::verdict::Word;

/// A window of somebody who never opened one.
fn first_start() -> Window {
    Window::open(Options { dialogs: false, ..Options::default() })
}

const CREST: &str = "Crest height, whole elevation";
const FIRST: &str = "Drag the crest: pitch follows";

/// Where something of that role stands.
fn at(window: &Window, role: Role, name: &str) -> Rect {
    window.harness.get_by_role_and_label(role, name).rect()
}

/// The card of the tour, as a screen reader hears it.
fn card(window: &Window) -> Option<String> {
    let nodes = window.harness.query_all_by_label_contains("Tour, ");
    nodes.filter_map(|node| node.accesskit_node().label()).find(|label| label.contains(" of "))
}

fn turn_to(window: &mut Window, page: &str) {
    window.click(Role::Tab, page);
    window.wait("the sheets", |window| !window.says("Laying out…"));
}

#[test]
fn the_first_start_plays_and_says_what_to_do_first() {
    let mut window = first_start();
    assert_eq!(window.app().study().word(), Word::Plays);
    assert!(window.says(FIRST) && window.has_button("Show me round"));
    // it does what it says
    let (crest, pitch) = (window.get(Dim::CrestHeight), window.app().study().design.joint.pitch);
    window.drag(CREST, vec2(0.0, -20.0));
    assert!(window.get(Dim::CrestHeight) > crest);
    assert!(window.app().study().design.joint.pitch > pitch, "the pitch did not follow");
    assert!(window.says(FIRST), "it went before it was read");

    window.click(Role::Button, "Hide this");
    assert!(!window.says(FIRST));
    let preferences = window.app().preferences().clone();
    assert!(preferences.welcomed);
    let mut again = Window::open(Options { preferences, dialogs: false, ..Options::default() });
    assert!(!again.says(FIRST), "it is said again");
    again.click(Role::Button, "Help");
    again.click(Role::Button, "What to do first");
    assert!(again.says(FIRST));
}

#[test]
fn whoever_brings_a_file_is_not_told_what_to_do() {
    let (window, _folder) = Window::worked();
    assert!(!window.says(FIRST));
    assert!(!window.app().preferences().welcomed, "it was not said yet");
}

#[test]
fn what_is_said_first_is_true_of_the_design() {
    let mut window = first_start();
    window.click(Role::CheckBox, "Hold pitch");
    assert!(window.says("Drag a ring in the drawing"), "nothing follows the crest now");
    window.drag(CREST, vec2(0.0, -40.0));
    window.type_in("Crest height", "30", Key::Enter);
    assert_eq!(window.app().study().word(), Word::DoesNotClose);
    assert!(window.says("This design does not close yet."));
}

/// Each stop is about something that is there, and its card hides none of it.
#[test]
fn the_tour_shows_the_real_places_and_is_left_at_its_end() {
    for motion in [Motion::Full, Motion::Reduced] {
        let preferences = Preferences { motion, ..Preferences::default() };
        let mut window =
            Window::open(Options { preferences, dialogs: false, ..Options::default() });
        window.click(Role::Button, "Show me round");
        assert!(window.app().preferences().welcomed && !window.says(FIRST));
        let stops = [
            (Role::Slider, CREST),
            (Role::Button, "Filled"),
            (Role::CheckBox, "Hold pitch"),
            (Role::Label, "Straightedge at the crest reads"),
            (Role::Label, "Cut sheet"),
            (Role::ListBoxOption, "Tiles of the side elevation"),
            (Role::Button, "Help"),
        ];
        for (index, (role, name)) in stops.into_iter().enumerate() {
            let said = card(&window).expect("the tour has ended early");
            assert!(said.starts_with(&format!("Tour, {} of 7", index + 1)), "{said}");
            window
                .wait(name, |window| window.harness.query_by_role_and_label(role, name).is_some());
            let place = at(&window, role, name);
            let next = if index + 1 == stops.len() { "Done" } else { "Next" };
            let button = at(&window, Role::Button, next);
            let screen = Rect::from_min_size(Pos2::ZERO, common::SIZE);
            assert!(screen.contains_rect(button), "{name}: the card leaves the window");
            assert!(!button.intersects(place), "{name} lies under the card");
            // nothing moves, so nothing is drawn again
            window.harness.run();
            let frames = window.harness.run();
            assert!(frames <= 2, "{name}: {frames} frames without a reason");
            assert_eq!(window.focused().as_deref(), Some(next));
            window.press(Modifiers::NONE, Key::Enter);
        }
        assert_eq!(card(&window), None);
    }
}

#[test]
fn the_tour_goes_by_keys_and_lets_one_work_meanwhile() {
    let mut window = first_start();
    window.press(Modifiers::SHIFT, Key::F1);
    window.press(Modifiers::ALT, Key::ArrowRight);
    assert!(card(&window).unwrap().starts_with("Tour, 2 of 7"));
    window.press(Modifiers::ALT, Key::ArrowLeft);
    assert!(card(&window).unwrap().starts_with("Tour, 1 of 7"));
    window.press(Modifiers::ALT, Key::ArrowLeft);
    assert!(card(&window).unwrap().starts_with("Tour, 1 of 7"), "there is no stop before");

    // the handle that is ringed is taken hold of under the ring
    let crest = window.get(Dim::CrestHeight);
    window.drag(CREST, vec2(0.0, -20.0));
    assert!(window.get(Dim::CrestHeight) > crest);
    assert!(card(&window).is_some(), "a drag ended the tour");
    // Escape belongs to the drag, then to a field, then to the tour
    let from = window.handle(CREST).rect().center();
    let dragged = window.get(Dim::CrestHeight);
    window.take(from, vec2(0.0, -20.0));
    window.press(Modifiers::NONE, Key::Escape);
    window.drop_at(from);
    assert_eq!(window.get(Dim::CrestHeight), dragged);
    assert!(card(&window).is_some(), "Escape of a drag ended the tour");
    window.harness.get_by_role_and_label(Role::TextInput, "Overstand").focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Escape);
    assert!(card(&window).is_some(), "Escape of a field ended the tour");
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(card(&window), None);
}

#[test]
fn whoever_leaves_the_page_is_offered_the_way_back() {
    let mut window = first_start();
    window.press(Modifiers::SHIFT, Key::F1);
    window.click(Role::Tab, "Compare");
    assert!(card(&window).is_some());
    window.click(Role::Button, "Turn back to Lay out");
    assert!(!window.has_button("Turn back to Lay out"));
    // a form stands in front meanwhile
    window.press(Modifiers::COMMAND, Key::K);
    assert_eq!(card(&window), None);
    window.press(Modifiers::NONE, Key::Escape);
    assert!(card(&window).is_some());
    window.click(Role::Button, "Skip");
    assert_eq!(card(&window), None);
    assert!(window.says("Help has the tour"));
}

/// Lines of the list of keys: place, keys, what they do.
fn lines(window: &Window) -> Vec<[String; 3]> {
    let labels = window.harness.query_all_by_role(Role::Label);
    labels
        .filter_map(|node| node.value())
        .filter_map(|label| {
            let mut parts = label.splitn(3, ": ").map(str::to_owned);
            Some([parts.next()?, parts.next()?, parts.next()?])
        })
        .collect()
}

#[test]
fn the_list_of_keys_is_searched_and_closed() {
    let (mut window, _folder) = Window::worked();
    window.press(Modifiers::NONE, Key::F1);
    let all = lines(&window);
    assert!(all.len() > 30, "{} lines", all.len());
    assert!(all.iter().any(|[place, _, does]| place == "The file" && does == "Save as…"));
    window.harness.event(egui::Event::Text("undo".to_owned()));
    window.harness.run();
    let found = lines(&window);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0][2], "Undo");
    window.harness.event(egui::Event::Text("velvet".to_owned()));
    window.harness.run();
    assert!(window.says("No key of that name"));
    window.press(Modifiers::NONE, Key::Escape);
    assert!(lines(&window).is_empty(), "Escape did not close it");
}

/// What the list says of places is done here line by line; a line that is not cannot be added.
#[test]
fn every_line_about_a_place_is_true() {
    let (mut window, _folder) = Window::worked();
    window.press(Modifiers::NONE, Key::F1);
    let all = lines(&window);
    window.press(Modifiers::NONE, Key::Escape);
    let commands = ["The file", "Changes", "Pages", "Variants", "How it is shown", "Help"];
    let of_places = all
        .into_iter()
        .filter(|[place, ..]| {
            !commands.contains(&place.as_str()) && place != "While you are shown round"
        })
        .collect::<Vec<_>>();
    assert!(of_places.len() >= 14, "{of_places:?}");
    for [place, keys, _] in of_places {
        does(&place, &keys);
    }
}

/// Does what a line says, and sees that it happens.
fn does(place: &str, keys: &str) {
    let (mut window, _folder) = Window::worked();
    let crest = window.get(Dim::CrestHeight);
    let canvas = "Side elevation";
    let handle_at = |window: &Window| window.handle(CREST).rect().center();
    let focus = |window: &mut Window, role: Role, name: &str| {
        window.harness.get_by_role_and_label(role, name).focus();
        window.harness.run();
    };
    let before = handle_at(&window);
    match (place, keys) {
        ("Everywhere", "Tab") => {
            window.press(Modifiers::NONE, Key::Tab);
            let first = window.focused();
            window.press(Modifiers::NONE, Key::Tab);
            assert_ne!(window.focused(), first);
            window.press(Modifiers::SHIFT, Key::Tab);
            assert_eq!(window.focused(), first);
        }
        ("Everywhere", "Enter") => {
            focus(&mut window, Role::CheckBox, "Hold pitch");
            window.press(Modifiers::NONE, Key::Enter);
            assert!(!Dim::Pitch.key().is_found(window.design()));
        }
        ("At a handle", "Arrow keys") => {
            focus(&mut window, Role::Slider, CREST);
            window.press(Modifiers::NONE, Key::ArrowUp);
            assert!(window.get(Dim::CrestHeight) > crest);
        }
        ("At a handle", "Page up, Page down") => {
            focus(&mut window, Role::Slider, CREST);
            // the first step lands on a tenth
            let mut pressed = |key: Key| {
                window.press(Modifiers::NONE, key);
                window.get(Dim::CrestHeight)
            };
            let [first, second] = [(); 2].map(|()| pressed(Key::ArrowUp));
            let after = pressed(Key::PageDown);
            assert!((second - after - 10.0 * (second - first)).abs() < 1e-6, "{after}");
        }
        ("At a handle", "Shift") => {
            focus(&mut window, Role::Slider, CREST);
            let mut pressed = |modifiers: Modifiers| {
                window.press(modifiers, Key::ArrowUp);
                window.get(Dim::CrestHeight)
            };
            let [first, second] = [(); 2].map(|()| pressed(Modifiers::NONE));
            let (step, fine) = (second - first, pressed(Modifiers::SHIFT) - second);
            assert!((fine - step / 10.0).abs() < 1e-6, "{fine} of {step}");
        }
        ("At a handle", "Enter, double-click") => {
            focus(&mut window, Role::Slider, CREST);
            window.press(Modifiers::NONE, Key::Enter);
            assert_eq!(window.focused().as_deref(), Some("Crest height, typed"));
        }
        ("At a handle", "Space") => {
            focus(&mut window, Role::Slider, "Pitch, whole elevation");
            let said = |window: &Window| {
                let all = window.harness.query_all_by_label_contains(" follows.");
                all.filter_map(|node| node.value()).next()
            };
            let before = said(&window).unwrap();
            window.press(Modifiers::NONE, Key::Space);
            assert_ne!(said(&window).unwrap(), before);
        }
        ("At a handle", "Escape") => {
            window.take(before, vec2(0.0, -30.0));
            assert!(window.get(Dim::CrestHeight) > crest);
            window.press(Modifiers::NONE, Key::Escape);
            assert_eq!(window.get(Dim::CrestHeight), crest);
        }
        ("Over a drawing", "Scroll") => {
            window.scroll(before - vec2(60.0, 0.0), 120.0);
            assert!(handle_at(&window).x > before.x + 5.0);
        }
        ("Over a drawing", "Middle button, Space and pointer") => {
            window.harness.key_down(Key::Space);
            for step in 0..4_u8 {
                window.harness.hover_at(before + vec2(-60.0 + 10.0 * f32::from(step), 30.0));
                window.harness.step();
            }
            window.harness.key_up(Key::Space);
            window.harness.run();
            assert!(handle_at(&window).x > before.x + 5.0);
        }
        ("Over a drawing", "+, −") => {
            let middle = at(&window, Role::Canvas, canvas).center();
            focus(&mut window, Role::Canvas, canvas);
            window.press(Modifiers::NONE, Key::Plus);
            let away = |at: Pos2| (at.x - middle.x).abs();
            assert!(away(handle_at(&window)) > away(before) + 2.0);
            window.press(Modifiers::NONE, Key::Minus);
            assert!((handle_at(&window).x - before.x).abs() < 1.0);
        }
        ("Over a drawing", "Arrow keys") => {
            focus(&mut window, Role::Canvas, canvas);
            window.press(Modifiers::NONE, Key::ArrowLeft);
            assert!(handle_at(&window).x > before.x + 5.0);
        }
        ("Over a drawing", "Double-click") => {
            window.scroll(before - vec2(60.0, 0.0), 120.0);
            let empty = at(&window, Role::Canvas, canvas).left_bottom() + vec2(40.0, -20.0);
            window.harness.hover_at(empty);
            window.harness.step();
            // all in one frame: a frame of a test takes longer than two quick clicks
            let pressed = [true, false, true, false].map(|pressed| egui::Event::PointerButton {
                pos: empty,
                button: egui::PointerButton::Primary,
                pressed,
                modifiers: Modifiers::NONE,
            });
            window.harness.input_mut().events.extend(pressed);
            window.harness.run();
            assert!((handle_at(&window) - before).length() < 1.0);
        }
        ("At a handle", "W") => {
            focus(&mut window, Role::Slider, CREST);
            window.press(Modifiers::NONE, Key::W);
            assert!(window.says("It is held: it is put in"));
            focus(&mut window, Role::Slider, "Pitch, whole elevation");
            window.press(Modifiers::NONE, Key::W);
            assert!(window.says("Pitch is found: with"));
            window.press(Modifiers::NONE, Key::W);
            assert!(!window.says("Pitch is found: with"));
        }
        ("Over the frets", "W") => {
            let strip = "Fret at which the strip shows a stopped string";
            window.harness.hover_at(at(&window, Role::Slider, strip).center());
            window.harness.run();
            window.press(Modifiers::NONE, Key::W);
            assert!(window.says("Clearance of string ") && window.says(", over fret "));
        }
        ("On the map", "W") => {
            turn_to(&mut window, "How true");
            let map = at(&window, Role::Slider, "Point on the map").center();
            window.harness.hover_at(map + vec2(40.0, 40.0));
            window.harness.run();
            window.press(Modifiers::NONE, Key::W);
            assert!(window.says(" · pitch "), "no working of the verdict there");
        }
        ("Over the frets", "← →") => {
            let strip = "Fret at which the strip shows a stopped string";
            let stop = window.told(strip);
            focus(&mut window, Role::Slider, strip);
            window.press(Modifiers::NONE, Key::ArrowRight);
            assert_eq!(window.told(strip), stop + 1.0);
        }
        ("In a field", "Enter, Tab") => {
            window.type_in("Overstand", "1", Key::Enter);
            window.type_in("Crest height", "24", Key::Tab);
            assert_eq!((window.get(Dim::Overstand), window.get(Dim::CrestHeight)), (1.0, 24.0));
        }
        ("In a field", "Escape") => {
            window.type_in("Overstand", "1", Key::Escape);
            assert_eq!(window.get(Dim::Overstand), 0.0);
        }
        ("On paper", "Page up, Page down") => {
            turn_to(&mut window, "Paper");
            let chosen = |window: &Window| {
                let sheets = window.harness.query_all_by_role(Role::Canvas);
                sheets.filter_map(|node| node.accesskit_node().label()).next()
            };
            let before = chosen(&window).expect("no sheet is shown");
            window.press(Modifiers::NONE, Key::PageDown);
            assert_ne!(chosen(&window), Some(before));
        }
        _ => panic!("{place}: {keys} is said and not tried"),
    }
}

/// Points at something until its tip stands there.
fn point_at(window: &mut Window, at: Pos2) {
    window.harness.hover_at(at);
    window.harness.step();
    // a tip comes once the pointer has stood still for a while
    for _ in 0..60 {
        window.harness.step();
    }
}

#[test]
fn tips_speak_the_words_of_the_glossary() {
    let (mut window, _folder) = Window::worked();
    let meaning = |term: &str| overstand_core::glossary::find(term).unwrap().meaning;
    let all = [
        (Role::Label, "Overstand", "overstand"),
        (Role::DisclosureTriangle, "String height", "string height"),
        (Role::Label, "Plays", "plays"),
    ];
    for (role, name, term) in all {
        let place = at(&window, role, name).left_center() + vec2(12.0, 0.0);
        point_at(&mut window, place);
        assert!(window.says(meaning(term)), "no words over {name}");
    }
    let check = window.harness.query_all_by_label_contains("Saddle break angle, good");
    let place = check.map(|node| node.rect().left_center()).next().unwrap() + vec2(40.0, 0.0);
    point_at(&mut window, place);
    assert!(window.says("Does every string bend over the saddle enough"));
    // the body, somewhere under the top in the whole elevation
    let canvas = at(&window, Role::Canvas, "Side elevation");
    let bridge = window.handle(CREST).rect().center();
    point_at(
        &mut window,
        Pos2::new(bridge.x - 40.0, (bridge.y + 28.0).min(canvas.bottom() - 30.0)),
    );
    assert!(window.says(meaning("body")), "no words over the body");
    // the figure of a dimension line says what it is
    let close_up = at(&window, Role::Canvas, "Close-up: joint to tail");
    let below = Pos2::new(close_up.center().x, close_up.bottom());
    let is_named = (20..120_u8).step_by(4).any(|up| {
        point_at(&mut window, below - vec2(-40.0, f32::from(up)));
        window.says(meaning("body length")) || window.says(meaning("bridge station"))
    });
    assert!(is_named, "no figure of a dimension line says what it is");
}

#[test]
fn the_search_answers_what_a_word_means() {
    let (mut window, _folder) = Window::worked();
    let ask = |window: &mut Window, text: &str| {
        window.press(Modifiers::COMMAND, Key::K);
        window.harness.event(egui::Event::Text(text.to_owned()));
        window.harness.run();
    };
    let meaning = |term: &str| overstand_core::glossary::find(term).unwrap().meaning;
    for (question, term) in
        [("what is relief?", "relief"), ("what is a sagitta", "sagitta"), ("neck angle", "pitch")]
    {
        ask(&mut window, question);
        assert!(window.says(meaning(term)), "{question}");
        window.press(Modifiers::NONE, Key::Escape);
    }
    // a word leads nowhere, and one types on
    ask(&mut window, "sagitta");
    window.press(Modifiers::NONE, Key::Enter);
    assert_eq!(window.focused().as_deref(), Some("Search"));
    assert!(window.says(meaning("sagitta")));
    window.press(Modifiers::NONE, Key::Escape);
    // a check is opened
    window.search("fretted notes");
    assert!(window.has_button("Show the working"));
    assert!(window.focused().unwrap().starts_with("Fretted notes clear"));
    // a page is turned to, a group unfolded
    window.search("compare");
    assert!(window.says("Nothing to compare yet"));
    window.search("headstock from");
    assert!(window.harness.query_by_role_and_label(Role::ComboBox, "Headstock from").is_some());
    // a slip is answered with what is near
    ask(&mut window, "stratedge");
    window.click(Role::Button, "Straightedge");
    assert!(window.says(meaning("straightedge")));
}

/// Held values that contradict each other.
fn contradicting() -> Design {
    let mut design = Study::of(&worked_example()).design;
    design.found.remove(Dim::Pitch.info().key);
    design.bridge.crest_height = Length::mm(26.0);
    design
}

fn fretless() -> Design {
    let mut design = worked_example();
    design.scale.frets = 0;
    design.board.crown = Length::mm(0.0);
    design
}

fn unstrung() -> Design {
    let mut design = worked_example();
    for string in &mut design.strings {
        (string.note, string.gauge) = (None, None);
    }
    design
}

#[test]
fn a_design_that_does_not_close_is_not_answered_with_numbers() {
    let (mut window, _folder) = Window::with(contradicting());
    assert_eq!(window.app().study().word(), Word::DoesNotClose);
    assert!(window.says("Straightedge at the crest reads"));
    assert!(window.says("Not known while the design does not close"));
    window.click(Role::Button, "Table");
    assert!(window.says("There are no clearances as long as the design does not close."));
    window.click(Role::Button, "Chart");
    for (page, says) in [
        ("Joint", "Nothing can be worked out as long as the design does not close."),
        ("Strings", "Nothing can be said about the strings as long as the design does not close."),
        ("Paper", "not to be built from"),
        ("Compare", "Nothing to compare yet"),
    ] {
        turn_to(&mut window, page);
        assert!(window.says(says), "{page} does not say that it has nothing");
        let is_offered = window.has_button("Take the last step back")
            || window.has_button("Keep a variant")
            || window.has_button("Release pitch")
            || window.has_button("What would mend it");
        assert!(is_offered, "{page} offers no next step");
    }
}

#[test]
fn a_fretless_design_is_spoken_of_in_semitones() {
    let (mut window, _folder) = Window::with(fretless());
    assert_eq!(window.app().study().word(), Word::Plays);
    assert!(window.harness.query_all_by_label_contains("fretless").next().is_some());
    // nor has it crowns to lay a straightedge on
    assert!(window.says("on the board") && !window.says("on the crowns"));
    for page in ["Joint", "Strings", "Paper", "Compare", "Lay out"] {
        turn_to(&mut window, page);
        let labels = window.harness.query_all_by_label_contains("fret ");
        let of_frets: Vec<String> = labels
            .filter_map(|node| node.accesskit_node().label())
            .filter(|label| label.contains("touches fret") || label.contains("Over fret"))
            .collect();
        assert!(of_frets.is_empty(), "{page} speaks of frets: {of_frets:?}");
    }
}

#[test]
fn an_unstrung_design_says_what_it_lacks_and_how_to_string_it() {
    let (mut window, _folder) = Window::with(unstrung());
    turn_to(&mut window, "Strings");
    assert!(window.says("Pull and pitch are not known of a string without note and gauge"));
    assert!(window.has_button("Put on a set"));
    window.click(Role::Tab, "True notes");
    assert!(window.says("Whether notes are true hangs on pull and stiffness"));
}

#[test]
fn a_single_variant_offers_to_keep_another() {
    let (mut window, _folder) = Window::worked();
    turn_to(&mut window, "Compare");
    assert!(window.says("Nothing to compare yet"));
    window.click(Role::Button, "Keep a variant");
    assert!(window.says("Nothing differs: change one of the two"));
}
