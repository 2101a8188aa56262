//! How long the core takes, each against a named reference in the same run.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod instrument;
mod timing;

use std::hint::black_box;

use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key};
use overstand_core::layout::{Layout, solve};
use overstand_core::study::Study;

use instrument::{compound, six_by_24};
use timing::in_turns;

fn report(name: &str, reference: &str, [subject, other]: [f64; 2]) {
    println!(
        "{name:<44} {subject:>9.0} ns   {:>7.2} x  {reference} ({other:.0} ns)",
        subject / other
    );
}

/// The clearances of all strings as the formulas stand, one by one: every crown, with
/// its sagitta, worked out wherever it is needed.
fn clearances_as_written(design: &Design, layout: &Layout) -> f64 {
    let scale = design.scale.length.to_mm();
    let position = |n: usize| scale * (1.0 - 2.0_f64.powf(-(n as f64) / 12.0));
    let mut least = f64::INFINITY;
    for (string, line) in design.strings.iter().zip(&layout.strings) {
        let crown = |n: usize| {
            let u = position(n);
            let radius = 254.0 + (406.4 - 254.0) * u / 480.0;
            let (nut, crest) = (string.nut_place.to_mm(), string.crest_place.to_mm());
            let w = nut + (crest - nut) * u / scale;
            let free = (layout.joint_from_nut - u).max(0.0);
            1.1 + layout.bend * free * free / 2.0 - (radius - (radius * radius - w * w).sqrt())
        };
        for n in 1..24 {
            for m in n + 1..=24 {
                let (u, v) = (position(n), crown(n));
                let slope = (line.crest_v - v) / (line.crest_u - u);
                least = f64::min(least, v + slope * (position(m) - u) - crown(m));
            }
        }
    }
    least
}

/// The pitch for a wanted crest height by bisection to 1e-10 mm, each trial a layout.
fn pitch_by_bisection(design: &Design, wanted: f64) -> f64 {
    let (mut low, mut high) = (-8.0, 12.0);
    let mut trial = design.clone();
    while high - low > 1e-11 {
        let middle = 0.5 * (low + high);
        Dim::Pitch.key().set(&mut trial, middle);
        match Layout::of(&trial) {
            Ok(layout) if layout.middle.crest_height < wanted => low = middle,
            _ => high = middle,
        }
    }
    0.5 * (low + high)
}

fn main() {
    let design = compound(six_by_24());
    let solved = solve(&design).map(|solved| solved.design).unwrap_or(design);
    let Ok(layout) = Layout::of(&solved) else {
        println!("the design of the benchmark does not close");
        return;
    };
    println!("six strings, 24 frets, compound radius");
    report(
        "layout",
        "the same clearances, formula by formula",
        in_turns([
            &mut || {
                black_box(Layout::of(black_box(&solved)).is_ok());
            },
            &mut || {
                black_box(clearances_as_written(black_box(&solved), &layout));
            },
        ]),
    );
    report(
        "whole study with verdict",
        "the same clearances, formula by formula",
        in_turns([
            &mut || {
                black_box(Study::of(black_box(&solved)));
            },
            &mut || {
                black_box(clearances_as_written(black_box(&solved), &layout));
            },
        ]),
    );
    let mut dragged = solved.clone();
    let crest: Key = Dim::CrestHeight.key();
    let start = crest.get(&solved).unwrap_or_default();
    let mut step = 0_u32;
    report(
        "solve after a drag step of 0.1 mm",
        "bisection on the layout",
        in_turns([
            &mut || {
                step = (step + 1) % 20;
                crest.set(&mut dragged, start + 0.1 * f64::from(step));
                black_box(solve(black_box(&dragged)).is_ok());
            },
            &mut || {
                black_box(pitch_by_bisection(&solved, black_box(start + 1.0)));
            },
        ]),
    );
}
