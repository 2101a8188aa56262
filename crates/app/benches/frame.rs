//! CPU time of a frame of the whole page, without a GPU, against an empty frame of egui in
//! the same run; at rest, and while a handle moves.
//!
//! Both are timed in turns, and the medians compared: on a busy machine a ratio holds where
//! a wall time does not.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::time::Instant;

use egui::{Context, Event, Key, Modifiers, PointerButton, Pos2, RawInput, Rect, Ui, vec2};
use overstand_app::{App, Options};
use overstand_core::dimension::Dim;
use overstand_core::strings::gauges::SETS;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;
use overstand_files::{DesignFile, save};

const ROUNDS: usize = 300;
const CREST_HANDLE: &str = "Crest height, whole elevation";

fn input(events: Vec<Event>) -> RawInput {
    let screen_rect = Some(Rect::from_min_size(Pos2::ZERO, vec2(1280.0, 800.0)));
    RawInput { screen_rect, events, ..RawInput::default() }
}

/// A frame with its triangles, as a backend would have it.
fn frame(ctx: &Context, events: Vec<Event>, show: impl FnMut(&mut Ui)) {
    let mut output = ctx.run_ui(input(events), show);
    output.textures_delta.clear();
    std::hint::black_box(ctx.tessellate(output.shapes, output.pixels_per_point));
}

struct Page {
    ctx: Context,
    app: App,
}

impl Page {
    fn new() -> Self {
        let ctx = Context::default();
        let app = App::new(&ctx, Options { dialogs: false, ..Options::default() });
        let mut page = Self { ctx, app };
        for _ in 0..4 {
            page.frame(vec![]);
        }
        page
    }

    fn frame(&mut self, events: Vec<Event>) {
        let app = &mut self.app;
        frame(&self.ctx, events, |ui| {
            app.logic(ui.ctx());
            app.ui(ui);
        });
    }

    fn button(&mut self, at: Pos2, pressed: bool) {
        let (button, modifiers) = (PointerButton::Primary, Modifiers::NONE);
        self.frame(vec![Event::PointerButton { pos: at, button, pressed, modifiers }]);
    }

    /// The page of a key, of a design with six strings and 24 frets.
    fn of(key: Key) -> Self {
        let mut design = worked_example();
        design.scale.frets = 24;
        design.board.end = Length::mm(480.0);
        if let Some(set) = SETS.iter().find(|set| set.fits(&design)) {
            set.put_on(&mut design);
        }
        let path = std::env::temp_dir().join(format!("overstand-bench-{}.ron", std::process::id()));
        if let Err(error) = save(&path, &DesignFile::of(design)) {
            println!("no design to show: {error}");
        }
        let ctx = Context::default();
        let options = Options { path: Some(path.clone()), dialogs: false, ..Options::default() };
        let mut page = Self { app: App::new(&ctx, options), ctx };
        if let Err(error) = std::fs::remove_file(&path) {
            println!("{}: {error}", path.display());
        }
        page.press(key, Modifiers::COMMAND);
        for _ in 0..4 {
            page.frame(vec![]);
        }
        page
    }

    fn press(&mut self, key: Key, modifiers: Modifiers) {
        let event =
            |pressed| Event::Key { key, physical_key: None, pressed, repeat: false, modifiers };
        self.frame(vec![event(true), event(false)]);
    }

    fn click(&mut self, at: Pos2) {
        self.frame(vec![Event::PointerMoved(at)]);
        self.button(at, true);
        self.button(at, false);
        self.frame(vec![]);
    }

    /// Where something stands that is called so.
    fn place(&mut self, name: &str) -> Option<Pos2> {
        self.ctx.enable_accesskit();
        let app = &mut self.app;
        let mut output = self.ctx.run_ui(input(vec![]), |ui| app.ui(ui));
        output.textures_delta.clear();
        self.ctx.disable_accesskit();
        let tree = output.platform_output.accesskit_update?;
        let (_, handle) = tree.nodes.iter().find(|(_, node)| node.label() == Some(name))?;
        let bounds = handle.bounds()?;
        let middle = |a: f64, b: f64| a.midpoint(b) as f32;
        Some(Pos2::new(middle(bounds.x0, bounds.x1), middle(bounds.y0, bounds.y1)))
    }

    fn get(&self, dim: Dim) -> f64 {
        dim.key().get(self.app.design()).unwrap_or_default()
    }

    /// Takes hold of a slider in its middle; returns where, or none if it does not move.
    fn take_slider(&mut self, dim: Dim, name: &str) -> Option<Pos2> {
        let at = self.place(name)?;
        let before = self.get(dim);
        self.frame(vec![Event::PointerMoved(at)]);
        self.button(at, true);
        self.frame(vec![Event::PointerMoved(at + vec2(8.0, 0.0))]);
        (self.get(dim) != before).then_some(at)
    }

    /// Takes hold of the crest; returns where, or none if it is not found.
    fn take_crest(&mut self) -> Option<Pos2> {
        let at = self.place(CREST_HANDLE)?;
        let before = self.get(Dim::CrestHeight);
        self.frame(vec![Event::PointerMoved(at)]);
        self.button(at, true);
        for up in [10.0, 20.0] {
            self.frame(vec![Event::PointerMoved(at - vec2(0.0, up))]);
        }
        (self.get(Dim::CrestHeight) > before).then_some(at)
    }
}

fn microseconds(mut work: impl FnMut()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_nanos() as f64 / 1000.0
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
}

/// The medians of a subject and of an empty frame, timed in turns.
fn report(name: &str, mut subject: impl FnMut(usize)) {
    let empty = Context::default();
    frame(&empty, vec![], |_| {});
    let (mut times, mut others) = (Vec::new(), Vec::new());
    for round in 0..ROUNDS {
        times.push(microseconds(|| subject(round)));
        others.push(microseconds(|| frame(&empty, vec![], |_| {})));
    }
    let (time, other) = (median(times), median(others));
    println!("{name:<40} {time:>8.0} µs   {:>6.1} x an empty frame ({other:.0} µs)", time / other);
}

/// The page of how true, at rest and while the point on its map is dragged. What is worked out
/// on other threads has come to its end before.
fn map() {
    let mut page = Page::of(Key::Num4);
    for _ in 0..200 {
        page.frame(vec![]);
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    report("how true, at rest", |_| page.frame(vec![]));
    let Some(at) = page.place("Point on the map") else {
        println!("the point on the map was not found");
        return;
    };
    page.frame(vec![Event::PointerMoved(at)]);
    page.button(at, true);
    let before = page.get(Dim::Pitch);
    page.frame(vec![Event::PointerMoved(at + vec2(20.0, 0.0))]);
    page.frame(vec![]);
    if page.get(Dim::Pitch) == before {
        println!("the point on the map did not move");
        return;
    }
    report("how true, the point dragged", |round| {
        let right = (round % 80) as f32;
        page.frame(vec![Event::PointerMoved(at + vec2((right - 40.0).abs(), 0.0))]);
    });
}

fn main() {
    let mut page = Page::new();
    report("whole page at rest", |_| page.frame(vec![]));
    match page.take_crest() {
        Some(at) => report("whole page, crest dragged", |round| {
            let up = (round % 80) as f32;
            page.frame(vec![Event::PointerMoved(at - vec2(0.0, (up - 40.0).abs()))]);
        }),
        None => println!("the crest's handle was not found"),
    }
    map();
    for tab in ["Each string", "Best relief", "True notes"] {
        for (dim, slider) in
            [(Dim::PluckTravel, "Played how hard, slider, mm"), (Dim::Relief, "Relief, slider, mm")]
        {
            let mut page = Page::of(Key::Num3);
            if let Some(at) = page.place(tab) {
                page.click(at);
            }
            let Some(at) = page.take_slider(dim, slider) else {
                println!("{slider} was not found");
                continue;
            };
            let name = format!("strings, {tab}, {}", dim.info().name.to_lowercase());
            report(&name, |round| {
                let right = (round % 80) as f32;
                let to = at + vec2((right - 40.0).abs(), 0.0);
                page.frame(vec![Event::PointerMoved(to)]);
            });
        }
    }
}
