//! Time from the start of the process to the first frame on the screen: the program's window
//! against a bare window of eframe, in turns in the same run.
//!
//! It needs a display; without one it says so. With software GL:
//! `xvfb-run -a env LIBGL_ALWAYS_SOFTWARE=1 cargo bench -p overstand --bench first_frame`

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::error::Error;
use std::process::Command;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use eframe::egui::{Context, Ui, ViewportBuilder, Visuals};
use eframe::{CreationContext, Frame, NativeOptions};
use overstand_app::{App, Options};

/// How often each window is opened.
const ROUNDS: usize = 15;
/// Asks this program to be one of the windows.
const CHILD: &str = "FIRST_FRAME_OF";

fn now() -> u128 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |passed| passed.as_nanos())
}

/// A window that says when its first frame is on the screen, and closes.
struct Timed {
    app: Option<App>,
    frames: usize,
}

impl eframe::App for Timed {
    fn logic(&mut self, ctx: &Context, _: &mut Frame) {
        self.frames += 1;
        // the second begins when the first has been handed to the screen
        if self.frames == 2 {
            println!("{}", now());
            std::process::exit(0);
        }
        ctx.request_repaint();
        if let Some(app) = &mut self.app {
            app.logic(ctx);
        }
    }

    fn clear_color(&self, visuals: &Visuals) -> [f32; 4] {
        visuals.panel_fill.to_normalized_gamma_f32()
    }

    fn ui(&mut self, ui: &mut Ui, _: &mut Frame) {
        match &mut self.app {
            Some(app) => app.ui(ui),
            None => {
                ui.label("Overstand");
            }
        }
    }
}

/// Opens a window, whole or bare, as the program does.
fn open(is_whole: bool) -> Result<(), Box<dyn Error>> {
    let options = NativeOptions {
        viewport: ViewportBuilder::default().with_inner_size([1280.0, 800.0]),
        persist_window: false,
        ..NativeOptions::default()
    };
    let create = move |cc: &CreationContext<'_>| {
        let options = Options { asks_motion: true, ..Options::default() };
        let app = is_whole.then(|| App::new(&cc.egui_ctx, options));
        let timed: Box<dyn eframe::App> = Box::new(Timed { app, frames: 0 });
        Ok(timed)
    };
    Ok(eframe::run_native("overstand-first-frame", options, Box::new(create))?)
}

/// Starts one of the windows and waits for its first frame.
fn time(which: &str) -> Result<Duration, Box<dyn Error>> {
    let mut child = Command::new(std::env::current_exe()?);
    let started = now();
    let output = child.env(CHILD, which).output()?;
    let said = String::from_utf8(output.stdout)?;
    let shown: u128 = said.trim().parse().map_err(|error| {
        format!("no window: {error}: {}", String::from_utf8_lossy(&output.stderr).trim())
    })?;
    Ok(Duration::from_nanos(u64::try_from(shown.saturating_sub(started))?))
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn main() -> Result<(), Box<dyn Error>> {
    if let Ok(which) = std::env::var(CHILD) {
        return open(which == "whole");
    }
    if ["DISPLAY", "WAYLAND_DISPLAY"].iter().all(|name| std::env::var_os(name).is_none()) {
        println!("time to first frame: there is no display to open a window on");
        return Ok(());
    }
    // once each to warm the caches of the disk
    time("whole")?;
    time("bare")?;
    let (mut whole, mut bare) = (Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        whole.push(time("whole")?);
        bare.push(time("bare")?);
    }
    let (whole, bare) = (median(whole), median(bare));
    println!(
        "time to first frame {:>8} ms   {:>6.2} x a bare window ({} ms)",
        whole.as_millis(),
        whole.as_secs_f64() / bare.as_secs_f64(),
        bare.as_millis()
    );
    Ok(())
}
