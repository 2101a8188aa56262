//! The window, driven by pointer and keys, read through the accessibility tree.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    clippy::panic,
    reason = "shared by test files that each use their own part of it"
)]

pub mod eyes;
pub mod pictures;
pub mod raster;

use std::time::{Duration, Instant};

use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, MouseWheelUnit, PointerButton, Pos2, Vec2, vec2};
use egui_kittest::kittest::{AccessKitNode, NodeT as _, Queryable as _};
use egui_kittest::{Harness, Node};
use overstand_app::{App, Options};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;

/// Logical pixels of the window.
pub const SIZE: Vec2 = vec2(1280.0, 800.0);

/// Frames until the window must have come to rest.
const MOST_STEPS: u64 = 64;

/// Longer than the slowest machine takes for a million trials.
const PATIENCE: Duration = Duration::from_secs(120);

/// What a screen reader says of something.
pub fn text(node: &AccessKitNode<'_>) -> String {
    // words alone are told as a value
    let said = node.label().or_else(|| node.value()).unwrap_or_default();
    // a number keeps its unit when lines are broken
    said.replace('\u{a0}', " ")
}

/// The window under test.
pub struct Window {
    pub harness: Harness<'static, Option<App>>,
}

impl Window {
    /// A window with the worked example, opened from a file.
    pub fn worked() -> (Self, tempfile::TempDir) {
        Self::with(overstand_core::testing::worked_example())
    }

    /// A window with a design, opened from a file.
    pub fn with(design: Design) -> (Self, tempfile::TempDir) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("design.ron");
        overstand_files::save(&path, &overstand_files::DesignFile::of(design)).unwrap();
        let window = Self::open(Options { path: Some(path), dialogs: false, ..Options::default() });
        (window, folder)
    }

    /// The same, turned to the page that has a key.
    pub fn showing(page: Key, design: Design) -> (Self, tempfile::TempDir) {
        let (mut window, folder) = Self::with(design);
        window.turn_to(page);
        (window, folder)
    }

    pub fn open(options: Options) -> Self {
        Self::sized(options, SIZE, 1.0)
    }

    /// A window of so many logical pixels, at a scale.
    pub fn sized(options: Options, size: Vec2, scale: f32) -> Self {
        // work on other threads calls for a frame whenever it gets on
        let builder = Harness::builder()
            .with_size(size)
            .with_pixels_per_point(scale)
            .with_max_steps(MOST_STEPS);
        let mut harness = builder.build_ui_state(
            move |ui, app: &mut Option<App>| match app {
                Some(app) => {
                    app.logic(ui.ctx());
                    app.ui(ui);
                }
                // fonts are there from the next frame on
                None => {
                    *app = Some(App::new(ui.ctx(), options.clone()));
                    ui.ctx().request_repaint();
                }
            },
            None,
        );
        harness.run();
        Self { harness }
    }

    pub fn app(&self) -> &App {
        self.harness.state().as_ref().unwrap()
    }

    pub fn design(&self) -> &Design {
        self.app().design()
    }

    pub fn get(&self, dim: Dim) -> f64 {
        dim.key().get(self.design()).unwrap()
    }

    pub fn handle<'a>(&'a self, name: &'a str) -> Node<'a> {
        self.harness.get_by_role_and_label(Role::Slider, name)
    }

    /// What a handle tells a screen reader.
    pub fn told(&self, name: &str) -> f64 {
        self.handle(name).accesskit_node().numeric_value().unwrap()
    }

    /// Whether some words are on the screen.
    pub fn says(&self, words: &str) -> bool {
        self.harness.query_all_by(|node| text(node).contains(words)).next().is_some()
    }

    /// What is said of all that is asked for, by role and words.
    pub fn texts(&self, is_asked: impl Fn(Role, &str) -> bool) -> Vec<String> {
        let nodes = self.harness.query_all_by(|node| is_asked(node.role(), &text(node)));
        nodes.map(|node| text(&node.accesskit_node())).collect()
    }

    /// The first text that begins so.
    pub fn text(&self, start: &str) -> String {
        let texts = self.texts(|_, text| text.starts_with(start));
        texts.into_iter().next().unwrap_or_else(|| panic!("nothing begins `{start}`"))
    }

    /// Steps until something is there: work goes on on other threads.
    pub fn wait(&mut self, what: &str, is_there: impl Fn(&Self) -> bool) {
        let begun = Instant::now();
        while !is_there(self) {
            assert!(begun.elapsed() < PATIENCE, "never came: {what}");
            std::thread::sleep(Duration::from_millis(2));
            self.harness.step();
        }
    }

    /// Steps until some words are on the screen, and until it is at rest.
    pub fn wait_for(&mut self, words: &str) {
        self.wait(words, |window| window.says(words));
        self.harness.run();
    }

    pub fn has_button(&self, name: &str) -> bool {
        self.harness.query_by_role_and_label(Role::Button, name).is_some()
    }

    pub fn click(&mut self, role: Role, name: &str) {
        self.harness.get_by_role_and_label(role, name).click();
        self.harness.run();
    }

    /// Presses something that may be scrolled out of sight, as a screen reader does.
    pub fn press_named(&mut self, role: Role, name: &str) {
        self.harness.get_by_role_and_label(role, name).click_accesskit();
        self.harness.run();
    }

    /// Goes to a field, types, and presses a key.
    pub fn type_in(&mut self, field: &str, text: &str, then: Key) {
        self.harness.get_by_role_and_label(Role::TextInput, field).focus();
        self.harness.run();
        self.harness.event(Event::Text(text.to_owned()));
        self.harness.run();
        self.press(Modifiers::NONE, then);
    }

    /// Types into a line that does not mark what stands in it, in its place.
    pub fn type_over(&mut self, line: &str, text: &str, then: Key) {
        self.harness.get_by_role_and_label(Role::TextInput, line).focus();
        self.harness.run();
        self.press(Modifiers::COMMAND, Key::A);
        self.harness.event(Event::Text(text.to_owned()));
        self.harness.run();
        self.press(Modifiers::NONE, then);
    }

    /// Chooses from a list that may be scrolled out of sight.
    pub fn choose(&mut self, menu: &str, option: &str) {
        self.press_named(Role::ComboBox, menu);
        // with the pointer, or the menu would stay open
        self.click(Role::Button, option);
    }

    /// Turns to the page that has a key.
    pub fn turn_to(&mut self, page: Key) {
        self.press(Modifiers::COMMAND, page);
    }

    pub fn undo(&mut self) {
        self.press(Modifiers::COMMAND, Key::Z);
    }

    /// Searches for words and takes the first that is found.
    pub fn search(&mut self, words: &str) {
        self.press(Modifiers::COMMAND, Key::K);
        self.harness.event(Event::Text(words.to_owned()));
        self.harness.run();
        self.press(Modifiers::NONE, Key::Enter);
    }

    /// The name of what has the focus.
    pub fn focused(&self) -> Option<String> {
        let node = self.harness.query_by(|node| node.is_focused())?;
        node.accesskit_node().label()
    }

    /// What stands in a field.
    pub fn field(&self, name: &str) -> String {
        self.harness.get_by_role_and_label(Role::TextInput, name).value().unwrap()
    }

    pub fn press(&mut self, modifiers: Modifiers, key: Key) {
        self.harness.key_press_modifiers(modifiers, key);
        self.harness.run();
    }

    /// Takes hold of something and moves the pointer in steps, without letting go.
    pub fn take(&mut self, from: Pos2, by: Vec2) {
        self.harness.hover_at(from);
        self.harness.step();
        self.harness.drag_at(from);
        self.harness.step();
        for step in 1..=10_u8 {
            self.harness.hover_at(from + by * f32::from(step) / 10.0);
            self.harness.step();
        }
    }

    /// Lets go.
    pub fn drop_at(&mut self, at: Pos2) {
        self.harness.drop_at(at);
        self.harness.run();
    }

    /// Drags a handle by so many logical pixels.
    pub fn drag(&mut self, name: &str, by: Vec2) {
        let from = self.handle(name).rect().center();
        self.take(from, by);
        self.drop_at(from + by);
    }

    /// Turns the wheel over a place.
    pub fn scroll(&mut self, at: Pos2, points: f32) {
        self.harness.hover_at(at);
        self.harness.event(Event::MouseWheel {
            unit: MouseWheelUnit::Point,
            delta: vec2(0.0, points),
            modifiers: Modifiers::NONE,
            phase: egui::TouchPhase::Move,
            source: egui::MouseWheelSource::Unknown,
        });
        for _ in 0..20 {
            self.harness.step();
        }
    }

    pub fn press_button(&mut self, at: Pos2, button: PointerButton, pressed: bool) {
        self.harness.event(Event::PointerButton {
            pos: at,
            button,
            pressed,
            modifiers: Modifiers::NONE,
        });
    }
}
