//! Handles dragged by the pointer, read through the accessibility tree.

mod common;

use common::Window;
use egui::{Key, Modifiers, vec2};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::study::Study;

const CREST: &str = "Crest height, whole elevation";
const CREST_NEAR: &str = "Crest height, close-up";
const PITCH: &str = "Pitch, whole elevation";

/// The design with the crest at a height, worked out directly.
fn directly(design: &Design, crest: f64) -> Study {
    let mut design = design.clone();
    Dim::CrestHeight.key().set(&mut design, crest);
    Study::of(&design)
}

/// The crest is dragged up by 3.0 mm at several zooms, with the pitch found: pitch and
/// verdict are those of the same design worked out directly.
#[test]
fn the_crest_is_dragged_and_the_pitch_follows_at_every_zoom() {
    // the whole elevation; the close-up as it is fitted; the close-up at 16 times that
    for (handle, wheel, expected_zoom) in
        [(CREST, 0.0, None), (CREST_NEAR, 0.0, None), (CREST_NEAR, 555.0, Some(16.0))]
    {
        let (mut window, _folder) = Window::worked();
        let before = window.design().clone();
        let crest = window.get(Dim::CrestHeight);
        if wheel > 0.0 {
            let at = window.handle(handle).rect().center();
            window.scroll(at, wheel);
        }
        // 0.05 mm to a pixel from afar: 60 px; close up the handle stays under the pointer
        let mut pixels = 0.0;
        let from = window.handle(handle).rect().center();
        window.take(from, vec2(0.0, 0.0));
        while window.told(handle) < crest + 2.95 && pixels < 400.0 {
            pixels += 1.0;
            window.harness.hover_at(from - vec2(0.0, pixels));
            window.harness.step();
        }
        window.drop_at(from - vec2(0.0, pixels));
        if expected_zoom.is_none() {
            // 22.775593 to 25.75 lands on 25.8: 59.5 px, and one more at most
            assert!((59.0..=61.0).contains(&pixels), "{handle}: {pixels} px");
        } else {
            assert!(pixels > 61.0, "{handle} moved from afar: {pixels} px");
        }

        let lifted = window.told(handle);
        assert!((lifted - 25.8).abs() < 1e-9, "{handle} stands at {lifted}");
        let study = directly(&before, lifted);
        let pitch = Dim::Pitch.key().get(&study.design).unwrap();
        assert!((pitch - 3.69).abs() < 0.01, "the worked example is another one");
        assert!((window.told(PITCH) - pitch).abs() < 1e-9, "{handle}");
        assert_eq!(window.app().study().word(), study.word());
        assert_eq!(window.design().found, before.found);
        let shown = window.field("Pitch");
        assert_eq!(shown, "3.69");
    }
}

#[test]
fn a_drag_is_one_step_and_escape_puts_everything_back() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    let from = window.handle(CREST).rect().center();
    window.take(from, vec2(0.0, -40.0));
    assert!(window.get(Dim::CrestHeight) > 24.0);
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.design(), &before, "Escape did not put it back");
    window.drop_at(from - vec2(0.0, 40.0));
    assert_eq!(window.design(), &before, "the pointer dragged on after Escape");

    window.drag(CREST, vec2(0.0, -40.0));
    assert_ne!(window.design(), &before);
    window.undo();
    assert_eq!(window.design(), &before, "the drag was more than one step");
    window.press(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert!(window.get(Dim::CrestHeight) > 24.0);
}

#[test]
fn a_found_dimension_is_driven_and_its_follower_gives() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    // the nut end comes up: less pitch
    window.drag(PITCH, vec2(0.0, -30.0));
    let pitch = window.told(PITCH);
    assert!(pitch < 2.9, "the pitch stands at {pitch}");
    assert!(window.get(Dim::CrestHeight) < 22.5, "the crest did not follow");
    assert_eq!(window.design().found, before.found);
}

#[test]
fn a_drag_stops_at_the_end_of_its_range_and_says_so() {
    let (mut window, _folder) = Window::worked();
    let from = window.handle(CREST).rect().center();
    // 600 px are 30 mm: from 22.8 far beyond the lowest of 0.5
    window.take(from, vec2(0.0, 600.0));
    assert_eq!(window.get(Dim::CrestHeight), 0.5);
    assert!(window.says("Crest height stops at its limit of 0.5 mm."));
    window.press(Modifiers::NONE, Key::Escape);
    assert_eq!(window.get(Dim::CrestHeight), 22.775_593);
}

#[test]
fn a_drag_stops_at_a_bound() {
    let (mut window, _folder) = Window::worked();
    // 3 mm at a time: the pitch's limit of 12° comes at a crest of some 67 mm
    for _ in 0..30 {
        window.drag(CREST, vec2(0.0, -60.0));
    }
    let pitch = window.told(PITCH);
    assert!(pitch <= 12.0 && pitch > 11.0, "{pitch}");
    let from = window.handle(CREST).rect().center();
    window.take(from, vec2(0.0, -60.0));
    assert!(window.says("Pitch would have to be 12."), "the bound that was hit is not named");
    window.drop_at(from - vec2(0.0, 60.0));
    assert!(window.app().study().closed().is_some(), "it was dragged until it did not close");
}

#[test]
fn keys_nudge_the_handle_that_has_the_focus() {
    let (mut window, _folder) = Window::worked();
    let before = window.design().clone();
    window.handle(CREST).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::ArrowUp);
    assert_eq!(window.get(Dim::CrestHeight), 22.9);
    window.press(Modifiers::NONE, Key::ArrowUp);
    assert_eq!(window.get(Dim::CrestHeight), 23.0);
    window.press(Modifiers::SHIFT, Key::ArrowDown);
    assert_eq!(window.get(Dim::CrestHeight), 22.99);
    assert!(window.handle(CREST).is_focused(), "the arrow keys moved the focus");
    window.undo();
    assert_eq!(window.design(), &before, "nudges in a row are one step");
}

#[test]
fn a_value_is_typed_at_the_handle() {
    let (mut window, _folder) = Window::worked();
    window.handle(CREST).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Enter);
    window.harness.event(egui::Event::Text("25.5".to_owned()));
    window.harness.run();
    window.press(Modifiers::NONE, Key::Enter);
    assert_eq!(window.get(Dim::CrestHeight), 25.5);
}

/// Every handle of the close-up and of the whole elevation, dragged both ways: what it sets
/// moves as the pointer says, and the design closes all the while.
#[test]
fn every_handle_can_be_dragged() {
    for (handle, dim, more) in [
        ("Crest height, close-up", Dim::CrestHeight, vec2(0.0, -24.0)),
        ("Overstand, close-up", Dim::Overstand, vec2(0.0, -24.0)),
        // the joint fret slides toward the nut
        ("Joint beyond fret, close-up", Dim::JointOffset, vec2(-24.0, 0.0)),
        ("Bridge station, close-up", Dim::Station, vec2(12.0, 0.0)),
        ("Tail height, close-up", Dim::TailHeight, vec2(0.0, -24.0)),
        ("Tail station, close-up", Dim::TailStation, vec2(24.0, 0.0)),
        ("Pitch, whole elevation", Dim::Pitch, vec2(0.0, 24.0)),
        ("Headstock angle, whole elevation", Dim::HeadAngle, vec2(0.0, 24.0)),
    ] {
        for (way, by) in [(1.0, more), (-1.0, -more)] {
            let (mut window, _folder) = Window::worked();
            let (before, found) = (window.get(dim), window.design().found.clone());
            window.drag(handle, by);
            let moved = (window.get(dim) - before) * way;
            assert!(moved > 0.0, "{handle} moved by {moved} when dragged by {by}");
            assert!(window.app().study().closed().is_some(), "{handle}");
            assert_eq!(window.design().found, found, "{handle}");
        }
    }
}

/// Zoomed out until all handles lie over each other, the one that Tab has reached is the one
/// that the pointer takes hold of.
#[test]
fn a_handle_behind_another_is_reached_by_tab_and_dragged() {
    let (mut window, _folder) = Window::worked();
    let hidden = "Tail height, close-up";
    let at = window.handle(CREST_NEAR).rect().center();
    window.scroll(at, -600.0);
    let apart = window.handle(hidden).rect().center() - window.handle(CREST_NEAR).rect().center();
    assert!(apart.length() < 8.0, "they stand apart by {apart}");
    window.handle(CREST_NEAR).focus();
    window.harness.run();
    for _ in 0..40 {
        if window.focused().as_deref() == Some(hidden) {
            break;
        }
        window.press(Modifiers::NONE, Key::Tab);
    }
    assert_eq!(window.focused().as_deref(), Some(hidden), "Tab does not reach it");
    let (crest, tail) = (window.get(Dim::CrestHeight), window.get(Dim::TailHeight));
    window.drag(hidden, vec2(0.0, -24.0));
    assert!(window.get(Dim::TailHeight) > tail + 0.5, "it was not dragged");
    assert_eq!(window.get(Dim::CrestHeight), crest);
}

/// Pointer and button may move in one frame: nothing of the way is lost.
#[test]
fn a_quick_release_loses_nothing_of_the_way() {
    let (mut window, _folder) = Window::worked();
    let from = window.handle(CREST).rect().center();
    window.take(from, vec2(0.0, -20.0));
    let to = from - vec2(0.0, 60.0);
    window.harness.event(egui::Event::PointerMoved(to));
    window.press_button(to, egui::PointerButton::Primary, false);
    window.harness.run();
    // 60 px of 0.05 mm from 22.775593
    assert_eq!(window.get(Dim::CrestHeight), 25.8);
}

#[test]
fn the_maker_chooses_what_follows_by_pointer_or_key() {
    use egui::accesskit::Role;
    use egui_kittest::kittest::Queryable as _;
    let (mut window, _folder) = Window::worked();
    let crest = window.get(Dim::CrestHeight);
    let over = window.handle(PITCH).rect().center();
    window.drag(PITCH, vec2(0.0, 0.0));
    window.harness.hover_at(over);
    window.harness.run();
    let menu =
        window.harness.get_by_role_and_label(Role::ComboBox, "What follows pitch").rect().center();
    // as a hand does it: away from the handle, down, up
    window.harness.hover_at(menu);
    window.harness.run();
    for pressed in [true, false] {
        window.press_button(menu, egui::PointerButton::Primary, pressed);
        window.harness.run();
    }
    window.click(Role::Button, "Overstand");
    let overstand = window.get(Dim::Overstand);
    window.drag(PITCH, vec2(0.0, -10.0));
    assert_eq!(window.get(Dim::CrestHeight), crest, "the crest followed all the same");
    assert_ne!(window.get(Dim::Overstand), overstand);
    window.undo();

    // round by the key: board thickness, then the crest again
    window.handle(PITCH).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Space);
    window.press(Modifiers::NONE, Key::Space);
    assert!(window.says("Drag it: crest height follows."));
    window.press(Modifiers::NONE, Key::ArrowDown);
    assert_ne!(window.get(Dim::CrestHeight), crest);
    assert_eq!(window.get(Dim::Overstand), overstand);
}
