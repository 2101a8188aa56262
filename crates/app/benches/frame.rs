//! CPU time of a frame of the whole page, without a GPU, against an empty frame of egui in
//! the same run; at rest, and while a handle moves.
//!
//! Both are timed in turns, and the medians compared: on a busy machine a ratio holds where
//! a wall time does not.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::time::Instant;

use egui::{Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, Ui, vec2};
use overstand_app::{App, Options};
use overstand_core::dimension::Dim;

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

    fn crest(&self) -> f64 {
        Dim::CrestHeight.key().get(self.app.design()).unwrap_or_default()
    }

    /// Takes hold of the crest; returns where, or none if it is not found.
    fn take_crest(&mut self) -> Option<Pos2> {
        self.ctx.enable_accesskit();
        let app = &mut self.app;
        let mut output = self.ctx.run_ui(input(vec![]), |ui| app.ui(ui));
        output.textures_delta.clear();
        self.ctx.disable_accesskit();
        let tree = output.platform_output.accesskit_update?;
        let (_, handle) = tree.nodes.iter().find(|(_, node)| node.label() == Some(CREST_HANDLE))?;
        let bounds = handle.bounds()?;
        let at =
            Pos2::new(bounds.x0.midpoint(bounds.x1) as f32, bounds.y0.midpoint(bounds.y1) as f32);
        let before = self.crest();
        self.frame(vec![Event::PointerMoved(at)]);
        self.button(at, true);
        for up in [10.0, 20.0] {
            self.frame(vec![Event::PointerMoved(at - vec2(0.0, up))]);
        }
        (self.crest() > before).then_some(at)
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
    println!("{name:<28} {time:>8.0} µs   {:>6.1} x an empty frame ({other:.0} µs)", time / other);
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
}
