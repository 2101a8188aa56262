//! The guide in `docs/guide.md`, done as it is written. Its pictures are compared, so that none
//! is ever stale, and the design that it ends with is the one beside it.
//!
//! `OVERSTAND_TAKE_IMAGES=1 cargo test -p overstand-app --test guide` takes pictures and design
//! anew; look at them before they are committed.
#![allow(clippy::unwrap_used, reason = "what fails here is to fail the test")]

mod common;

use std::path::Path;
use std::time::{Duration, Instant};

use common::Window;
use common::pictures::{self, picture};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, vec2};
use egui_kittest::kittest::Queryable as _;
use overstand_app::Options;
use overstand_core::design::Date;
use overstand_core::dimension::Dim;
use overstand_core::verdict::{CheckId, State, Word};

/// Longer than the slowest machine takes for a million trials.
const PATIENCE: Duration = Duration::from_secs(120);

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

fn page(window: &mut Window, key: Key) {
    window.press(Modifiers::COMMAND, key);
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

    page(&mut window, Key::Num3);
    window.click(Role::Tab, "Best relief");
    shown(&mut window, "strings");

    page(&mut window, Key::Num4);
    wait(&mut window, "the trials", |window| {
        window.says("It plays with adjustment left in")
            && window.harness.query_by_role(Role::ProgressIndicator).is_none()
    });
    shown(&mut window, "how-true");

    page(&mut window, Key::Num6);
    assert!(window.says("Two posts, stop tail"));
    shown(&mut window, "compare");

    page(&mut window, Key::Num7);
    wait(&mut window, "the sheets", |window| window.says("of A4"));
    shown(&mut window, "paper");

    page(&mut window, Key::Num2);
    shown(&mut window, "joint");
    kept(&mut window);

    page(&mut window, Key::Num5);
    let menu = "Where: At the bridge line";
    window.press_named(Role::ComboBox, menu);
    window.click(Role::Button, "So far from the joint");
    for (from_joint, height) in [("251.5", "11.9"), ("110", "11.3")] {
        window.type_path("Distance", from_joint);
        window.type_path("Height over the top", height);
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

/// Frames until something is there: work goes on on threads of its own.
fn wait(window: &mut Window, what: &str, is_there: impl Fn(&Window) -> bool) {
    let begun = Instant::now();
    while !is_there(window) {
        assert!(begun.elapsed() < PATIENCE, "never came: {what}");
        std::thread::sleep(Duration::from_millis(2));
        window.harness.step();
    }
    window.harness.run();
}

/// Saves the design, which must be the one beside the guide.
fn kept(window: &mut Window) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("eel-house.ron");
    window.press(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    window.type_path("Path of the file", &path.display().to_string());
    let saved = std::fs::read_to_string(path).unwrap();
    let beside = Path::new(env!("CARGO_MANIFEST_DIR")).join(FOLDER).join("eel-house.ron");
    if pictures::are_taken() {
        std::fs::write(beside, saved).unwrap();
    } else {
        assert_eq!(saved, std::fs::read_to_string(beside).unwrap(), "the design has changed");
    }
}
