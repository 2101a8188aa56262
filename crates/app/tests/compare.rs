//! The page that compares two designs.

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_files::DesignFile;

const A: &str = "Worked example";
const B: &str = "Worked example 2";

/// What the table says of something, as a screen reader tells it.
fn told(window: &Window, name: &str) -> Option<String> {
    let start = format!("{name}: A ");
    let mut nodes = window.harness.query_all_by(|node| {
        node.role() == Role::Label && node.value().is_some_and(|text| text.starts_with(&start))
    });
    nodes.next().and_then(|node| node.accesskit_node().value())
}

fn variant(window: &Window, name: &str) -> Design {
    window.app().file().variant(name).expect("it is there").clone()
}

fn pitch(design: &Design) -> f64 {
    Dim::Pitch.key().get(design).expect("every design has a pitch")
}

#[test]
fn a_variant_is_kept_dragged_compared_copied_back_and_undone() {
    let (mut window, _folder) = Window::worked();
    window.press(Modifiers::COMMAND, Key::Num6);
    assert!(window.says("Nothing to compare yet"));
    window.click(Role::Button, "Keep a variant");
    assert_eq!(window.app().file().variants.len(), 2);
    assert!(window.says("Nothing differs."));
    let before = variant(&window, A);
    let solved = Study::of(&before).design;

    window.drag("Pitch, B", vec2(0.0, -30.0));
    let dragged = variant(&window, B);
    assert!((pitch(&dragged) - pitch(&before)).abs() > 0.05, "B was not dragged");
    assert_eq!(variant(&window, A), before, "A was touched");
    assert_eq!(window.design().name, B, "the panel is about the one in hand");
    let says = told(&window, "Pitch").expect("the pitch differs");
    let by = pitch(&dragged) - pitch(&before);
    assert!(
        says.contains(&format!("A {:.2}°, B {:.2}°", pitch(&before), pitch(&dragged))),
        "{says}"
    );
    assert!(says.contains(&format!("B less A {by:+.2}°")), "{says}");
    assert!(told(&window, "Overstand").is_none(), "it does not differ");

    window.press_named(Role::Button, "Take A's pitch into B");
    let taken = variant(&window, B);
    assert!(
        (pitch(&taken) - pitch(&solved)).abs() < 1e-9,
        "{} of {}",
        pitch(&taken),
        pitch(&dragged)
    );
    assert!(told(&window, "Pitch").is_none());
    assert_eq!(variant(&window, A), before);
    window.click(Role::Button, "Undo");
    assert_eq!(variant(&window, B), dragged);
    window.click(Role::Button, "Undo");
    assert_eq!(Design { name: A.to_owned(), ..variant(&window, B) }, before);
    window.click(Role::Button, "Undo");
    assert_eq!(window.app().file().variants, [before]);
    assert!(window.says("Nothing to compare yet"));
}

#[test]
fn everything_and_a_part_are_taken_and_the_two_swapped() {
    let (mut window, _folder) = Window::worked();
    window.search("keep a variant");
    window.drag("Crest height, B", vec2(0.0, -30.0));
    let (a, b) = (variant(&window, A), variant(&window, B));
    assert_ne!(a.bridge.crest_height, b.bridge.crest_height);
    for name in ["Take A's crest height into B", "Take B's crest height into A"] {
        assert!(window.has_button(name), "{name}");
    }
    window.press_named(Role::Button, "Take all of B's bridge into A");
    assert_eq!(variant(&window, A).bridge.crest_height, b.bridge.crest_height);
    assert_eq!(window.design().name, A);
    window.click(Role::Button, "Undo");
    assert_eq!(variant(&window, A), a);

    window.click(Role::Button, "Swap");
    // B is what A was: it is dragged where it stands now
    window.drag("Crest height, B", vec2(0.0, 10.0));
    assert_ne!(variant(&window, A), a);
    window.click(Role::Button, "Undo");
    window.click(Role::Button, "Take everything");
    window.click(Role::Button, "Of A into B");
    let taken = variant(&window, A);
    assert_eq!(Design { name: B.to_owned(), ..taken }, b);
    assert!(window.says("Nothing differs."));
}

#[test]
fn zoom_moves_both_and_the_overlay_shows_one() {
    let (mut window, _folder) = Window::worked();
    window.search("keep a variant");
    let place = |window: &Window, name: &str| window.handle(name).rect().center();
    let apart = |window: &Window, side: &str| {
        let [pitch, crest] = ["Pitch", "Crest height"];
        let name = |dim: &str| format!("{dim}, {side}");
        place(window, &name(crest)).x - place(window, &name(pitch)).x
    };
    let before = apart(&window, "A");
    assert!((before - apart(&window, "B")).abs() < 0.1);
    let between = place(&window, "Pitch, B") + vec2(before / 2.0, 0.0);
    window.scroll(between, 40.0);
    assert!(apart(&window, "B").abs() > 1.1 * before.abs());
    assert!((apart(&window, "A") - apart(&window, "B")).abs() < 0.1, "A was left behind");

    window.click(Role::Button, "Overlay");
    let has = |window: &Window, name: &str| {
        window.harness.query_by_role_and_label(Role::Slider, name).is_some()
    };
    assert!(has(&window, "Crest height, A") && !has(&window, "Crest height, B"));
}

#[test]
fn all_variants_are_listed_and_one_is_chosen() {
    let mut file = DesignFile::of(worked_example());
    for (name, crest) in [("High", 25.0), ("Open", 140.0)] {
        let mut design = Design { name: name.to_owned(), ..worked_example() };
        Dim::CrestHeight.key().set(&mut design, crest);
        file.variants.push(design);
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("three.ron");
    overstand_files::save(&path, &file).expect("it is saved");
    let options =
        overstand_app::Options { path: Some(path.clone()), dialogs: false, ..Default::default() };
    let mut window = Window::open(options);
    window.press(Modifiers::COMMAND, Key::Num6);
    window.harness.get_by_role_and_label(Role::Button, "All 3 variants").click();
    for _ in 0..200 {
        // it is worked out on a thread of its own
        window.harness.step();
        if window.says("Open: does not close") {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    let listed = |window: &Window, start: &str| {
        let mut nodes = window.harness.query_all_by(|node| {
            node.role() == Role::Button
                && node.label().is_some_and(|label| label.starts_with(start))
        });
        nodes.next().map(|node| node.rect().top())
    };
    let (high, open) = (listed(&window, "High: "), listed(&window, "Open: "));
    assert!(high < open && high.is_some(), "what does not close stands last");
    let name = window
        .harness
        .get_by(|node| {
            node.role() == Role::Button
                && node.label().is_some_and(|label| label.starts_with("Open: "))
        })
        .accesskit_node()
        .label();
    window.click(Role::Button, &name.expect("it has a name"));
    assert!(window.says("B does not close, and A plays"));

    // the design of another file becomes a variant, with a name of its own
    window.search("compare with a file by path");
    window.type_path("Path of the file", path.to_str().expect("a path"));
    assert_eq!(window.app().file().variants.len(), 4);
    assert!(window.app().file().variant(B).is_some());
}
