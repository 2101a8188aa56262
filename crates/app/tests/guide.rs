//! The guide in `docs/guide.md`, done as it is written. Its pictures are compared, so that none
//! is ever stale, and the design that it ends with is the one beside it.
//!
//! `OVERSTAND_TAKE_IMAGES=1 cargo test -p overstand-app --test guide` takes pictures and design
//! anew; look at them before they are committed.
#![allow(clippy::unwrap_used, reason = "what fails here is to fail the test")]

mod common;

use std::path::Path;

use common::Window;
use common::pictures::{self, picture};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, vec2};
use egui_kittest::kittest::Queryable as _;
use overstand_app::Options;
use overstand_core::design::Date;
use overstand_core::dimension::Dim;
use overstand_core::verdict::{CheckId, State, Word};

const FOLDER: &str = "../../docs/guide";

/// The window but for its lowest line, where a place on this machine may stand.
fn shown(window: &mut Window, name: &str) {
    window.harness.hover_at(egui::Pos2::ZERO);
    window.harness.run();
    let whole = window.harness.ctx.content_rect();
    // nor the margin that the harness leaves around it
    let part = Rect::from_min_max(whole.min + vec2(8.0, 8.0), whole.max - vec2(8.0, 40.0));
    pictures::compare(FOLDER, name, &picture(window, part));
}

fn word(window: &Window) -> Word {
    window.app().study().word()
}

fn thin(window: &Window) -> Vec<CheckId> {
    let checks = window.app().study().closed().unwrap().checks.iter();
    checks.filter(|check| check.state == State::Thin).map(|check| check.id).collect()
}

#[test]
fn the_guide_is_done_as_it_is_written() {
    let mut window = Window::open(Options {
        dialogs: false,
        // the sheets of another day would be other pictures
        day: Date::new(2026, 3, 31),
        ..Options::default()
    });
    window.search("new from a starter");
    window.click(Role::Button, "Quay House no. 3");
    assert_eq!(word(&window), Word::Plays);
    shown(&mut window, "start");
    window.click(Role::Button, "Hide this");

    // what lies on the bench
    window.type_in("Saddle lowest", "12.4", Key::Enter);
    window.type_in("Saddle highest", "18.6", Key::Enter);
    window.search("board thickness");
    window.type_in("Board thickness", "6.4", Key::Enter);
    assert_eq!(word(&window), Word::PlaysThin);
    assert_eq!(thin(&window), [CheckId::SaddleTravel]);
    shown(&mut window, "thin");

    // the crest to the middle: pitch follows
    window.type_in("Crest height", "15.2", Key::Enter);
    assert_eq!(thin(&window), [CheckId::PickupRoom]);
    let pitch = window.get(Dim::Pitch);
    assert!((pitch - 0.52).abs() < 0.005, "{pitch}");
    window.search("pickup height bridge");
    window.type_in("Pickup height, bridge", "10.5", Key::Enter);
    assert_eq!(word(&window), Word::Plays);
    shown(&mut window, "good");

    window.turn_to(Key::Num3);
    window.click(Role::Tab, "Best relief");
    shown(&mut window, "strings");

    window.turn_to(Key::Num4);
    window.wait("the trials", |window| {
        window.says("It plays with adjustment left in")
            && !window.says("not worked out yet")
            && window.harness.query_by_role(Role::ProgressIndicator).is_none()
    });
    window.harness.run();
    shown(&mut window, "how-true");

    window.turn_to(Key::Num6);
    assert!(window.says("Two posts, stop tail"));
    shown(&mut window, "compare");

    window.turn_to(Key::Num7);
    window.wait_for("of A4");
    shown(&mut window, "paper");

    window.turn_to(Key::Num2);
    shown(&mut window, "joint");
    kept(&mut window);

    window.turn_to(Key::Num5);
    window.choose("Where: At the bridge line", "So far from the joint");
    for (from_joint, height) in [("251.5", "11.9"), ("110", "11.3")] {
        window.type_over("Distance", from_joint, Key::Enter);
        window.type_over("Height over the top", height, Key::Enter);
    }
    let option = window.harness.get_by(|node| {
        node.role() == Role::ListBoxOption
            && node.label().is_some_and(|label| label.contains("  Off the seat at the mouth,"))
    });
    option.click();
    window.harness.run();
    shown(&mut window, "dry-fit");

    window.press_named(Role::CheckBox, "Neck and body are glued");
    window.click(Role::Tab, "Set-up");
    shown(&mut window, "set-up");
}

/// Saves the design, which must be the one beside the guide.
fn kept(window: &mut Window) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("eel-house.ron");
    window.press(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    window.type_over("Path of the file", &path.display().to_string(), Key::Enter);
    let saved = std::fs::read_to_string(path).unwrap();
    let beside = Path::new(env!("CARGO_MANIFEST_DIR")).join(FOLDER).join("eel-house.ron");
    if pictures::are_taken() {
        std::fs::write(beside, saved).unwrap();
    } else {
        assert_eq!(saved, std::fs::read_to_string(beside).unwrap(), "the design has changed");
    }
}
