//! The page that compares two designs.

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers, PointerButton, Pos2, Rect, Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use overstand_app::{Arrangement, Options, Preferences};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::show_signed;
use overstand_files::DesignFile;

const A: &str = "Worked example";
const B: &str = "Worked example 2";

/// What the table says of something, as a screen reader tells it.
fn told(window: &Window, name: &str) -> Option<String> {
    let start = format!("{name}: A ");
    let texts = window.texts(|role, text| role == Role::Label && text.starts_with(&start));
    texts.into_iter().next()
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
    window.turn_to(Key::Num6);
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
    assert!(says.contains(&format!("B less A {}°", show_signed(by, 2))), "{says}");
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
    window.click(Role::Button, "Take all");
    window.click(Role::Button, "Of A into B");
    let taken = variant(&window, A);
    assert_eq!(Design { name: B.to_owned(), ..taken }, b);
    assert!(window.says("Nothing differs."));
}

/// Chooses how the two drawings stand to each other.
fn arrange(window: &mut Window, now: &str, then: &str) {
    window.click(Role::ComboBox, &format!("Arrangement: {now}"));
    window.click(Role::Button, then);
}

/// Where a handle of one of the two stands on the screen.
fn place(window: &Window, side: &str, dim: &str) -> Pos2 {
    window.handle(&format!("{dim}, {side}")).rect().center()
}

/// Pans with the middle button.
fn pan(window: &mut Window, from: Pos2, by: Vec2) {
    window.harness.hover_at(from);
    window.harness.step();
    window.press_button(from, PointerButton::Middle, true);
    window.harness.step();
    for step in 1..=4_u8 {
        window.harness.hover_at(from + by * f32::from(step) / 4.0);
        window.harness.step();
    }
    window.press_button(from + by, PointerButton::Middle, false);
    window.harness.run();
}

#[test]
fn zoom_and_pan_move_both_however_they_are_arranged() {
    let (mut window, _folder) = Window::worked();
    window.search("keep a variant");
    // both draw the crest at the same place from the bridge line, whatever is aligned
    let apart = |window: &Window, side: &str| {
        place(window, side, "Crest height") - place(window, side, "Pitch")
    };
    let alike = |window: &Window| {
        assert!((apart(window, "A") - apart(window, "B")).length() < 0.1, "not to one scale");
        place(window, "B", "Crest height") - place(window, "A", "Crest height")
    };
    let stacked = alike(&window);
    assert!(stacked.x.abs() < 0.1 && stacked.y > 50.0, "not above each other: {stacked}");

    arrange(&mut window, "One above the other", "Side by side");
    let beside = alike(&window);
    assert!(beside.y.abs() < 0.1 && beside.x > 200.0, "not side by side: {beside}");
    assert_eq!(window.app().preferences().arrangement, Arrangement::Beside, "not remembered");

    for (now, then) in
        [("Side by side", "One above the other"), ("One above the other", "Side by side")]
    {
        arrange(&mut window, now, then);
        for side in ["A", "B"] {
            let between = |window: &Window| {
                place(window, side, "Pitch") + apart(window, side) / 2.0 + vec2(0.0, 20.0)
            };
            let (before, at) = (apart(&window, "A").length(), between(&window));
            window.scroll(at, 30.0);
            assert!(apart(&window, side).length() > 1.05 * before, "{then}: {side} not zoomed");
            let offset = alike(&window);
            let (a, b) = (place(&window, "A", "Pitch"), place(&window, "B", "Pitch"));
            let by = vec2(-14.0, 9.0);
            let at = between(&window);
            pan(&mut window, at, by);
            // the first pixels only tell that it is a drag
            let moved = [place(&window, "A", "Pitch") - a, place(&window, "B", "Pitch") - b];
            assert!((moved[0] - moved[1]).length() < 0.1, "{then}, panned at {side}: {moved:?}");
            assert!((0.5..1.01).contains(&(moved[0].dot(by) / by.length_sq())), "{moved:?}");
            assert!((alike(&window) - offset).length() < 0.1);
        }
        // a press with the middle button turns to no other design
        window.press(Modifiers::NONE, Key::F);
        for (name, side) in [(A, "A"), (B, "B")] {
            let before = variant(&window, name);
            window.drag(&format!("Pitch, {side}"), vec2(0.0, -10.0));
            assert_ne!(variant(&window, name), before, "{then}: {side} cannot be dragged");
            window.click(Role::Button, "Undo");
        }
    }

    arrange(&mut window, "Side by side", "Overlay");
    let has = |window: &Window, name: &str| {
        window.harness.query_by_role_and_label(Role::Slider, name).is_some()
    };
    let sides = ["A", "B"].map(|side| has(&window, &format!("Crest height, {side}")));
    assert!(sides[0] != sides[1], "both are drawn: {sides:?}");
}

#[test]
fn side_by_side_what_is_aligned_stands_at_the_same_place_of_each_half() {
    let mut file = DesignFile::of(worked_example());
    let mut longer = Design { name: B.to_owned(), ..worked_example() };
    Dim::ScaleLength.key().set(&mut longer, 640.0);
    file.variants.push(longer);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("two.ron");
    overstand_files::save(&path, &file).expect("it is saved");
    let preferences = Preferences { arrangement: Arrangement::Beside, ..Preferences::default() };
    let options = Options { path: Some(path), dialogs: false, preferences, ..Options::default() };
    let mut window = Window::open(options);
    window.turn_to(Key::Num6);
    let half = |window: &Window| {
        let mut lefts: Vec<f32> = window
            .harness
            .query_all_by(|node| node.role() == Role::Canvas)
            .map(|node| node.rect().left())
            .collect();
        lefts.sort_by(f32::total_cmp);
        assert_eq!(lefts.len(), 2);
        lefts[1] - lefts[0]
    };
    let crests = |window: &Window| {
        (place(window, "B", "Crest height") - place(window, "A", "Crest height")).x
    };
    let aligned = |window: &mut Window, now: &str, then: &str| {
        window.click(Role::ComboBox, &format!("Aligned at: {now}"));
        window.click(Role::Button, then);
    };
    // at the joint the crest of the longer scale lies farther on
    assert!(crests(&window) > half(&window) + 0.5, "{} in {}", crests(&window), half(&window));
    aligned(&mut window, "Joint", "Bridge line");
    assert!((crests(&window) - half(&window)).abs() < 0.3, "{}", crests(&window));
    aligned(&mut window, "Bridge line", "Nut");
    assert!(crests(&window) > half(&window) + 3.0, "{}", crests(&window));
}

#[test]
fn to_look_at_both_leaves_the_file_saved() {
    let (mut window, _folder) = Window::worked();
    window.search("keep a variant");
    window.press(Modifiers::COMMAND, Key::S);
    let saved = |window: &Window| !window.app().title().starts_with('•');
    assert!(saved(&window));
    for name in [B, A] {
        let side = if name == A { "A" } else { "B" };
        let at = place(&window, side, "Pitch") + vec2(-60.0, 25.0);
        window.harness.hover_at(at);
        window.harness.step();
        window.press_button(at, PointerButton::Primary, true);
        window.harness.step();
        window.press_button(at, PointerButton::Primary, false);
        window.harness.run();
        assert_eq!(window.design().name, name);
        assert!(saved(&window), "looking at {name} asks for a save");
    }
}

#[test]
fn all_tools_stand_on_one_line() {
    let (mut window, _folder) = Window::worked();
    window.search("keep a variant");
    let tools = |window: &Window, align: &str, arrangement: &str| {
        let all: Vec<Rect> = [
            (Role::ComboBox, "A: Worked example"),
            (Role::Button, "Swap"),
            (Role::ComboBox, "B: Worked example 2"),
            (Role::Button, "Keep a variant"),
            (Role::Button, "Take all"),
            (Role::Button, "From a file…"),
            (Role::ComboBox, &format!("Aligned at: {align}")),
            (Role::ComboBox, &format!("Arrangement: {arrangement}")),
            (Role::Button, "All 2 variants"),
        ]
        .into_iter()
        .map(|(role, name)| window.harness.get_by_role_and_label(role, name).rect())
        .collect();
        for pair in all.windows(2) {
            assert!((pair[0].center().y - pair[1].center().y).abs() < 1.0, "{all:?}");
            assert!(pair[1].left() >= pair[0].right() + 4.0, "they touch: {all:?}");
        }
        let widths: Vec<f32> = all.iter().map(Rect::width).collect();
        assert!(widths[0].min(widths[2]) > 100.0, "no room for names: {widths:?}");
    };
    tools(&window, "Joint", "One above the other");
    // with the longest words
    window.click(Role::ComboBox, "Aligned at: Joint");
    window.click(Role::Button, "Bridge line");
    arrange(&mut window, "One above the other", "Side by side");
    tools(&window, "Bridge line", "Side by side");
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
    let options = Options { path: Some(path.clone()), dialogs: false, ..Options::default() };
    let mut window = Window::open(options);
    window.turn_to(Key::Num6);
    window.harness.get_by_role_and_label(Role::Button, "All 3 variants").click();
    window.wait("the list", |window| window.says("Open: does not close"));
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
}

#[test]
fn the_design_of_another_file_is_taken_in_as_a_copy() {
    let (mut window, folder) = Window::worked();
    let mut other = Design { name: "Deep body".to_owned(), ..worked_example() };
    Dim::BodyThickness.key().set(&mut other, 50.0);
    let path = folder.path().join("rosewood.ron");
    overstand_files::save(&path, &DesignFile::of(other)).expect("it is saved");
    let on_disk = std::fs::read(&path).expect("it is there");

    window.search("compare with a file by path");
    assert!(window.says("The other file stays as it is."));
    window.type_over("Path of the file", path.to_str().expect("a path"), Key::Enter);
    let name = "Deep body (rosewood)";
    assert!(window.says(
        "A copy of Deep body is now a variant of this file, as B: Deep body (rosewood). \
         rosewood.ron stays as it is."
    ));
    let taken = variant(&window, name);
    assert!(told(&window, "Body thickness").is_some());

    // both can be dragged, and only this file knows of it
    for (name, side) in [(A, "A"), (name, "B")] {
        window.drag(&format!("Pitch, {side}"), vec2(0.0, -20.0));
        assert_eq!(window.design().name, name);
    }
    assert!((pitch(&variant(&window, name)) - pitch(&taken)).abs() > 0.05);
    window.press(Modifiers::COMMAND, Key::S);
    assert_eq!(std::fs::read(&path).expect("it is there"), on_disk, "the other file was touched");
    let kept = overstand_files::read(&folder.path().join("design.ron")).expect("it was saved");
    assert!(kept.variant(name).is_some() && kept.variant(A).is_some());

    // once more it has a name of its own; and all is undone
    window.search("compare with a file by path");
    window.type_over("Path of the file", path.to_str().expect("a path"), Key::Enter);
    assert_eq!(window.app().file().variants.len(), 3);
    for _ in 0..4 {
        window.click(Role::Button, "Undo");
    }
    assert_eq!(window.app().file().variants.len(), 1);
}
