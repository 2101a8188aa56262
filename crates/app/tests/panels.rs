//! Fields, pins, verdict, files, keys: the panels around the drawings.

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use overstand_app::Options;
use overstand_core::design::Provenance;
use overstand_core::dimension::Dim;
use overstand_core::study::Open;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;
use overstand_core::verdict::{State, Word};

#[test]
fn a_typed_value_is_taken_solved_and_undone() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    window.type_in("Overstand", "1/2 + 0.5 mm", Key::Enter);
    assert_eq!(window.get(Dim::Overstand), 1.0);
    assert!(window.get(Dim::Pitch) < 2.9, "the pitch did not follow");
    window.type_in("Crest height", "1 in", Key::Tab);
    assert_eq!(window.get(Dim::CrestHeight), 25.4);
    window.undo();
    window.undo();
    assert_eq!(window.design(), &before);
}

/// However narrow the window is, nothing of the bar at its top lies on anything else, and what
/// has no room is in the menu at its end.
#[test]
fn the_bar_gives_way_in_a_narrow_window() {
    let sizes = [
        (800.0, 600.0, [false, false, false]),
        (1024.0, 768.0, [true, true, false]),
        (1280.0, 800.0, [true, true, true]),
        (1600.0, 900.0, [true, true, true]),
    ];
    for (width, height, in_bar) in sizes {
        let options = Options { dialogs: false, ..Options::default() };
        let mut window = Window::sized(options, egui::vec2(width, height), 1.0);
        window.press(Modifiers::NONE, Key::Escape);
        let rect = |window: &Window, role, name: &str| {
            window.harness.query_by_role_and_label(role, name).map(|node| node.rect())
        };
        let tabs = ["Lay out", "Joint", "Strings", "How true", "Dry fit", "Compare", "Paper"];
        let mut places = vec![rect(&window, Role::Button, "File").expect("the menu of the file")];
        places.extend(tabs.map(|name| rect(&window, Role::Tab, name).expect("a tab")));
        let wide = ["Search…", "Units: mm", "Theme: As system"];
        let seldom = wide.map(|name| rect(&window, Role::Button, name));
        places.extend(seldom.iter().flatten());
        for name in ["Undo", "Redo", "Help"] {
            places.push(rect(&window, Role::Button, name).expect("a command"));
        }
        for pair in places.windows(2) {
            assert!(pair[0].right() <= pair[1].left(), "at {width}: {pair:?}");
        }
        assert!(places.last().is_some_and(|last| last.right() <= width), "at {width}");
        assert_eq!(seldom.map(|place| place.is_some()), in_bar, "at {width}");
        window.click(Role::Button, "Help");
        // search has its line in that menu in any case
        for (name, _) in wide.into_iter().zip(in_bar).skip(1).filter(|(_, in_bar)| !in_bar) {
            let place = rect(&window, Role::Button, name);
            assert!(place.is_some_and(|place| place.top() > places[0].bottom()), "{name}");
        }
    }
}

#[test]
fn a_refusal_stands_in_place_and_keeps_what_was_typed() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    window.type_in("Overstand", "3 frets", Key::Enter);
    assert_eq!(window.field("Overstand"), "3 frets");
    let said = |window: &Window, text: &str| window.harness.query_by_label_contains(text).is_some();
    assert!(said(&window, "found `frets`"));
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.field("Overstand"), "0.0");

    window.type_in("Overstand", "300", Key::Enter);
    assert!(said(&window, "Overstand goes from −20.0 mm to 40.0 mm."));
    window.press(Modifiers::NONE, Key::Escape);
    // within its own range, but above what the saddle's highest is
    window.type_in("Saddle lowest", "30", Key::Enter);
    assert_eq!(window.field("Saddle lowest"), "30");
    assert_eq!(window.design(), &before);
}

#[test]
fn a_found_value_can_be_typed_and_stays_found() {
    let (mut window, _folder) = Window::worked();
    window.type_in("Pitch", "1:20", Key::Enter);
    // atan(1/20)
    assert!((window.get(Dim::Pitch) - 2.862_405).abs() < 1e-6);
    assert!(window.get(Dim::CrestHeight) < 22.7);
    assert!(Dim::Pitch.key().is_found(window.design()));
}

/// In the words of the core, as the command line has them.
#[test]
fn what_does_not_help_is_said_where_nothing_closes() {
    let mut design = worked_example();
    Dim::CrestHeight.key().set(&mut design, 140.0);
    let (window, _folder) = Window::with(design);
    let says = match &window.app().study().outcome {
        Err(Open::Conflict(conflict)) => conflict.no_help().expect("some do not help"),
        other => panic!("it should not close: {other:?}"),
    };
    assert!(says.starts_with("Released alone these do not help: ") && window.says(&says), "{says}");
}

#[test]
fn too_much_held_is_a_conflict_and_each_release_is_offered() {
    let (mut window, _folder) = Window::worked();
    window.click(Role::CheckBox, "Hold pitch");
    assert_eq!(window.app().study().word(), Word::Plays, "it is true as it stands");
    window.type_in("Crest height", "24", Key::Enter);
    assert_eq!(window.app().study().word(), Word::DoesNotClose);
    assert!(window.has_button("Release overstand"));
    window.click(Role::Button, "Release pitch");
    assert_eq!(window.app().study().word(), Word::Plays);
    assert!(window.get(Dim::Pitch) > 3.2 && window.get(Dim::CrestHeight) == 24.0);
}

#[test]
fn what_the_straightedge_reads_is_said_only_of_a_design_that_closes() {
    let (mut window, _folder) = Window::worked();
    let reads = "Straightedge at the crest reads";
    assert!(window.says(reads) && window.says("on the crowns"));
    window.click(Role::CheckBox, "Hold pitch");
    window.type_in("Crest height", "26", Key::Enter);
    assert_eq!(window.app().study().word(), Word::DoesNotClose);
    assert!(window.says(reads) && window.says("Not known while the design does not close"));
    assert!(!window.says("on the crowns") && !window.says("on the neck face"));
    // on the page of the joint the same panel says it
    window.click(Role::Tab, "Joint");
    assert!(window.says("Not known while the design does not close"));
}

#[test]
fn a_remedy_is_offered_and_applied() {
    let mut design = worked_example();
    // too high for a saddle of at most 27
    design.bridge.crest_height = Length::mm(27.5);
    let (mut window, _folder) = Window::with(design);
    assert_eq!(window.app().study().word(), Word::Fails);
    let apply = window
        .harness
        .get_all_by(|node| {
            node.role() == Role::Button
                && node.label().is_some_and(|label| label.starts_with("Apply: "))
        })
        .next()
        .expect("no remedy is offered");
    apply.click();
    window.harness.run();
    let closed = window.app().study().closed().unwrap();
    let travel = closed.checks.iter().find(|check| check.id.text() == "saddle_travel").unwrap();
    assert_ne!(travel.state, State::Fails);
    window.undo();
    assert_eq!(window.app().study().word(), Word::Fails);
}

#[test]
fn the_working_of_a_check_is_shown() {
    let (mut window, _folder) = Window::worked();
    let name = window
        .harness
        .get_all_by(|node| {
            node.role() == Role::DisclosureTriangle
                && node.label().is_some_and(|label| label.starts_with("Saddle break angle, "))
        })
        .next()
        .and_then(|node| node.accesskit_node().label())
        .unwrap();
    assert!(name.contains("good"), "{name} does not say its state");
    window.click(Role::DisclosureTriangle, &name);
    window.click(Role::Button, "Show the working");
    assert!(window.harness.query_by_label_contains("γ_1 + γ_2").is_some());
    assert!(window.harness.query_by_label_contains("plane geometry").is_some());
}

#[test]
fn a_mark_is_set_from_its_menu() {
    let (mut window, _folder) = Window::worked();
    window.click(Role::Button, "Overstand: planned");
    window.click(Role::Button, "Made: bought or cut");
    assert_eq!(window.design().marks.get("joint.overstand"), Some(&Provenance::Made));
    assert!(window.has_button("Overstand: made"));
    window.undo();
    assert!(window.design().marks.is_empty());
}

#[test]
fn units_change_what_is_shown_and_not_the_design() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    window.click(Role::Button, "Units: mm");
    window.click(Role::Button, "Inches, fractions");
    // 628 mm is 24.724 in: 24 46.4/64
    assert_eq!(window.field("Scale length"), "≈24 23/32");
    assert_eq!(window.design(), &before);
    window.type_in("Scale length", "24 3/4", Key::Enter);
    assert!((window.get(Dim::ScaleLength) - 628.65).abs() < 1e-9);
    // relief is too fine for fractions to be shown: it is kept as typed, and stays so when the
    // field is left again untouched
    window.type_in("Relief", "1/64", Key::Enter);
    assert_eq!(window.field("Relief"), "0.016");
    window.harness.get_by_role_and_label(Role::TextInput, "Relief").focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Tab);
    assert!((window.get(Dim::Relief) - 25.4 / 64.0).abs() < 1e-12);
}

#[test]
fn open_change_save_and_open_again() {
    let (mut window, folder) = Window::worked();
    window.type_in("Crest height", "24", Key::Enter);
    assert!(window.app().title().starts_with("• "));
    window.press(Modifiers::COMMAND, Key::S);
    assert_eq!(window.app().title(), "Worked example – Overstand");

    let other = folder.path().join("other");
    window.press(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    window.type_over("Path of the file", &other.display().to_string(), Key::Enter);
    let saved = other.with_extension("ron");
    assert!(saved.is_file(), "it was not saved under the typed path");

    let again = Window::open(Options { path: Some(saved), dialogs: false, ..Options::default() });
    assert_eq!(again.get(Dim::CrestHeight), 24.0);
    assert_eq!(again.design(), window.design());
}

#[test]
fn what_is_not_saved_is_not_left_without_asking() {
    let (mut window, folder) = Window::worked();
    window.type_in("Crest height", "24", Key::Enter);
    window.press(Modifiers::COMMAND, Key::N);
    window.click(Role::Button, overstand_files::starters()[0].title);
    assert_eq!(window.design().name, "Worked example", "it was left without asking");
    window.click(Role::Button, "Cancel");
    assert_eq!(window.get(Dim::CrestHeight), 24.0);

    window.press(Modifiers::COMMAND, Key::N);
    window.click(Role::Button, overstand_files::starters()[0].title);
    window.click(Role::Button, "Save first");
    assert_ne!(window.design().name, "Worked example");
    let saved = overstand_files::read(&folder.path().join("design.ron")).unwrap();
    assert_eq!(saved.active_design().bridge.crest_height, Length::mm(24.0));
}

#[test]
fn a_file_that_cannot_be_opened_is_said_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("broken.ron");
    std::fs::write(&path, "(format: 1, active").unwrap();
    let window = Window::open(Options { path: Some(path), dialogs: false, ..Options::default() });
    assert!(window.harness.query_by_label_contains("Not opened: line 1").is_some());
}

#[test]
fn the_search_finds_a_dimension_and_a_command() {
    let (mut window, _folder) = Window::worked();
    window.press(Modifiers::COMMAND, Key::K);
    window.harness.event(egui::Event::Text("dome".to_owned()));
    window.harness.run();
    window.press(Modifiers::NONE, Key::Escape);
    window.press(Modifiers::COMMAND, Key::K);
    window.harness.event(egui::Event::Text("head thick".to_owned()));
    window.harness.run();
    window.press(Modifiers::NONE, Key::Enter);
    // its group is open now, and its field has the focus
    let field = window.field("Headstock thickness");
    assert_eq!(field, "14.0");
}

#[test]
fn both_themes_are_shown() {
    let (mut window, _folder) = Window::worked();
    for theme in ["Dark", "Light"] {
        let menu = window
            .harness
            .get_all_by(|node| {
                node.role() == Role::Button
                    && node.label().is_some_and(|label| label.starts_with("Theme: "))
            })
            .next()
            .unwrap();
        menu.click();
        window.harness.run();
        window.click(Role::Button, theme);
        assert_eq!(window.harness.ctx.theme() == egui::Theme::Dark, theme == "Dark");
    }
}

#[test]
fn it_stands_still_when_nothing_happens() {
    let (mut window, _folder) = Window::worked();
    window.harness.run();
    let again = window.harness.run();
    // one step to see that nothing calls for another
    assert!(again <= 2, "{again} frames without a reason");
}

/// A starter is opened, its bridge changed, the verdict read, a remedy applied, and all of
/// it saved, with no pointer.
#[test]
fn the_keyboard_alone_does_the_job() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = Window::open(Options { dialogs: false, ..Options::default() });
    window.press(Modifiers::COMMAND, Key::N);
    // the first starter has the focus
    window.press(Modifiers::NONE, Key::Tab);
    window.press(Modifiers::NONE, Key::Enter);
    let starter = overstand_files::starters()[1].file().unwrap();
    assert_eq!(window.design(), starter.active_design());

    // to a dimension of the bridge by its name
    window.search("saddle highest");
    let crest = window.get(Dim::CrestHeight);
    window.harness.event(egui::Event::Text(format!("{}", crest - 2.0)));
    window.harness.run();
    window.press(Modifiers::NONE, Key::Enter);
    assert_eq!(window.app().study().word(), Word::Fails);

    // Tab goes everywhere, so also to the remedy of the check that fails
    let mut tabs = 0;
    while !window.focused().is_some_and(|name| name.starts_with("Apply: ")) {
        window.press(Modifiers::NONE, Key::Tab);
        tabs += 1;
        assert!(tabs < 300, "no remedy can be reached by Tab");
    }
    window.press(Modifiers::NONE, Key::Enter);
    assert_ne!(window.app().study().word(), Word::Fails);

    let path = folder.path().join("mine.ron");
    window.press(Modifiers::COMMAND, Key::S);
    window.type_over("Path of the file", &path.display().to_string(), Key::Enter);
    assert_eq!(overstand_files::read(&path).unwrap().active_design(), window.design());
}

#[test]
fn work_that_a_crash_left_behind_is_offered_and_restored() {
    let folder = tempfile::tempdir().unwrap();
    let options = || Options {
        recovery: Some(folder.path().to_owned()),
        dialogs: false,
        ..Options::default()
    };
    // what a crash leaves: a design and a lock that nobody holds
    let mut lost = worked_example();
    lost.bridge.crest_height = Length::mm(24.5);
    let file = overstand_files::DesignFile::of(lost);
    overstand_files::save(&folder.path().join("1-1.ron"), &file).unwrap();
    std::fs::write(folder.path().join("1-1.lock"), "").unwrap();

    let mut window = Window::open(options());
    window.click(Role::Button, "Restore it");
    assert_eq!(window.get(Dim::CrestHeight), 24.5);
    assert!(window.app().title().starts_with("• "), "it is taken for saved");
    drop(window);
    let left = std::fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(left, 0, "something is left behind after a clean end");
}

#[test]
fn another_variant_of_the_file_can_be_worked_on() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("two.ron");
    let mut file = overstand_files::DesignFile::of(worked_example());
    let mut other = worked_example();
    other.name = "Other bridge".to_owned();
    other.bridge.crest_height = Length::mm(24.0);
    file.variants.push(other);
    overstand_files::save(&path, &file).unwrap();
    let mut window =
        Window::open(Options { path: Some(path), dialogs: false, ..Options::default() });
    window.click(Role::ComboBox, "Variant: Worked example");
    window.click(Role::Button, "Other bridge");
    assert_eq!(window.get(Dim::CrestHeight), 24.0);
    window.undo();
    assert_eq!(window.design().name, "Worked example");
}

#[test]
fn a_string_is_named_added_and_taken_off() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    window.search("place at nut");
    window.type_over("Name of the string", "e′", Key::Enter);
    assert_eq!(window.design().strings[0].name, "e′");
    window.press_named(Role::Button, "Add a string");
    assert_eq!(window.design().strings.len(), 7);
    assert!(window.app().study().closed().is_some());
    window.press_named(Role::Button, "Take a string off");
    window.press_named(Role::Button, "Take a string off");
    assert_eq!(window.design().strings.len(), 5);
    for _ in 0..4 {
        window.undo();
    }
    assert_eq!(window.design(), &before);
}

#[test]
fn the_range_of_a_check_is_changed_and_put_back() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    let name = {
        let mut checks = window.harness.get_all_by(|node| {
            node.role() == Role::DisclosureTriangle
                && node.label().is_some_and(|label| label.starts_with("Saddle break angle, "))
        });
        checks.next().unwrap().accesskit_node().label().unwrap()
    };
    window.press_named(Role::DisclosureTriangle, &name);
    window.press_named(Role::Button, "Change the range");
    let edge = "Saddle break angle: thin below";
    // more than what makes it thin above
    window.type_in(edge, "80", Key::Tab);
    assert_eq!((window.field(edge), window.design()), ("80".to_owned(), &before));
    assert!(window.says("fails_below < thin_below"), "it is not said why");
    window.type_over(edge, "8", Key::Enter);
    let limit = window.design().limits["saddle_break"];
    assert_eq!(limit.thin_below, Some(8.0));
    window.press_named(Role::Button, "Back to the usual range");
    assert_eq!(window.design().limits, before.limits);
}

#[test]
fn a_retainer_is_put_on_moved_and_taken_off() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    window.search("post height");
    window.press_named(Role::Button, "Hold it down by a retainer");
    window.type_in("Retainer from the nut", "21", Key::Enter);
    let held = window.design().strings[0].retainer.clone().unwrap();
    assert_eq!(held.along, Length::mm(21.0));
    window.press_named(Role::Button, "Take the retainer off");
    assert_eq!(window.design().strings, before.strings);
}

#[test]
fn with_reduced_motion_nothing_glows() {
    let (mut window, _folder) = Window::worked();
    window.search("reduced motion");
    assert!(window.app().preferences().motion == overstand_app::Motion::Reduced);
    window.type_in("Overstand", "1", Key::Enter);
    let frames = window.harness.run();
    assert!(frames <= 2, "{frames} frames after a change");
}

#[test]
fn a_reading_takes_a_day_and_an_error_and_refuses_nonsense_in_place() {
    let (mut window, _folder) = Window::worked();
    window.click(Role::Button, "Overstand: planned");
    window.type_over("Day of the reading", "2026-02-30", Key::Enter);
    assert!(window.says("Expected a date as 2026-03-31, found `2026-02-30`."));
    assert!(window.design().marks.is_empty());
    window.type_over("Reading error", "much", Key::Enter);
    assert!(window.says("found `much`"));
    window.type_over("Day of the reading", "2026-02-28", Key::Enter);
    assert!(window.design().marks.is_empty(), "the error is still refused");
    window.type_over("Reading error", "11", Key::Enter);
    assert!(window.says("out of range"), "no limit is told");
    window.type_over("Reading error", "0.004 in", Key::Enter);
    let mark = window.design().marks.get("joint.overstand").cloned();
    let Some(Provenance::Measured { on, error }) = mark else {
        panic!("not marked: {mark:?}");
    };
    assert_eq!(on.to_string(), "2026-02-28");
    // 0.004 × 25.4 mm
    assert!((error - 0.1016).abs() < 1e-12);
    // what stands is where the form begins again
    window.click(Role::Button, "Overstand: measured 2026-02-28, ± 0.10 mm");
    assert_eq!(window.field("Day of the reading"), "2026-02-28");
    window.click(Role::Button, "Planned: it may still change");
    assert!(window.design().marks.is_empty());
}

#[test]
fn the_page_is_remembered_and_an_unknown_one_is_the_first() {
    let (mut window, _folder) = Window::worked();
    window.turn_to(Key::Num2);
    let kept = window.app().preferences().clone();
    let again =
        |preferences| Window::open(Options { preferences, dialogs: false, ..Options::default() });
    assert!(again(kept.clone()).says("Cut sheet"), "another page was opened");
    let lost = overstand_app::Preferences { page: "Varnish".to_owned(), ..kept };
    assert!(again(lost).says("Side elevation"));
}

#[test]
fn a_choice_made_by_keys_closes_its_list() {
    let (mut window, _folder) = Window::worked();
    let strings = "Strings shown over the frets";
    window.harness.get_by_role_and_label(Role::ComboBox, strings).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Enter);
    assert!(window.has_button("1 · e"));
    window.press(Modifiers::NONE, Key::ArrowDown);
    window.press(Modifiers::NONE, Key::Enter);
    assert!(!window.has_button("1 · e"), "the list stays open");
}
