//! The whole physics of the strings against the same with NumPy, in the same run.
//!
//! `python3` with NumPy does its rounds as a process of its own right after ours; without
//! it only our own time is shown. `PYTHON` names another interpreter.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod instrument;
mod numpy;
mod timing;

use std::fmt::Write as _;
use std::hint::black_box;

use overstand_core::design::Design;
use overstand_core::layout::{Layout, solve};
use overstand_core::strings::{Strings, relief_search};
use overstand_core::study::Study;

use instrument::{compound, six_by_24, strung};
use timing::in_turns;

/// What is aimed at on one core, ns.
const AIM: f64 = 100_000.0;

fn list(values: impl IntoIterator<Item = f64>) -> String {
    let mut text = String::from("[");
    for value in values {
        let comma = if text.len() > 1 { "," } else { "" };
        // a string takes what is written to it
        let _written = write!(text, "{comma}{value}");
    }
    text + "]"
}

/// What both sides start from.
fn given(design: &Design, layout: &Layout, strings: &Strings) -> String {
    let lines = &layout.strings;
    let pulls = || strings.each.iter().filter_map(|string| string.pull);
    let crowns: Vec<String> = (0..lines.len())
        .map(|string| list(layout.clearances.crown_row(string).iter().copied()))
        .collect();
    format!(
        "{{\"u\":{},\"crowns\":[{}],\"nut_v\":{},\"slope\":{},\"crest_u\":{},\"tension\":{},\"stretch\":{},\"bending\":{},\"place\":{},\"scale\":{}}}",
        list(layout.positions.iter().copied()),
        crowns.join(","),
        list(lines.iter().map(|line| line.nut_v)),
        list(lines.iter().map(|line| line.slope)),
        list(lines.iter().map(|line| line.crest_u)),
        list(pulls().map(|pull| pull.tension)),
        list(pulls().map(|pull| pull.wire.stretch)),
        list(pulls().map(|pull| pull.wire.bending)),
        design.wanted.pluck_place.to_mm(),
        design.scale.length.to_mm(),
    )
}

/// What a page looks for besides, against the whole physics once.
fn searches(design: &Design, physics: f64) {
    let times = in_turns([
        &mut || {
            black_box(relief_search::curve(black_box(design), 61));
        },
        &mut || {
            black_box(relief_search::best(black_box(design)));
        },
        &mut || {
            let travel = 2.0 * design.wanted.pluck_travel.to_mm();
            black_box(relief_search::action_for(black_box(design), travel));
        },
    ]);
    let names =
        ["headroom over relief, 61 points", "the best relief", "the action for twice the travel"];
    for (name, time) in names.into_iter().zip(times) {
        println!("{name:<44} {time:>9.0} ns   {:.1} x the physics once", time / physics);
    }
}

fn main() {
    let design = strung(compound(six_by_24()));
    let solved = solve(&design).map(|solved| solved.design).unwrap_or(design);
    let Ok(layout) = Layout::of(&solved) else {
        println!("the design of the benchmark does not close");
        return;
    };
    println!("six strings, 24 frets, compound radius");
    let mut bare = solved.clone();
    for string in &mut bare.strings {
        string.note = None;
    }
    let [subject, whole, without] = in_turns([
        &mut || {
            black_box(Strings::of(black_box(&solved), black_box(&layout)));
        },
        &mut || {
            black_box(Study::of(black_box(&solved)));
        },
        &mut || {
            black_box(Study::of(black_box(&bare)));
        },
    ]);
    println!(
        "{:<44} {subject:>9.0} ns   {:.2} of the aim of {AIM} ns",
        "all of the strings",
        subject / AIM
    );
    println!("{:<44} {whole:>9.0} ns   {without:.0} ns without notes", "whole study with verdict");

    searches(&solved, subject);

    let strings = Strings::of(&solved, &layout);
    // its time in ns and its sums of headrooms and compensations
    let answer = numpy::asked("numpy_strings.py", &given(&solved, &layout, &strings));
    let Some([other, headroom, compensation]) = answer else {
        println!("{}", numpy::ABSENT);
        return;
    };
    println!("{:<44} {:>9.2} x   NumPy ({other:.0} ns)", "all of the strings", subject / other);
    let ours: f64 = strings
        .each
        .iter()
        .flat_map(|string| string.map.iter().flatten())
        .map(|most| most.most)
        .sum();
    let needed: f64 = strings
        .each
        .iter()
        .filter_map(|string| Some(string.intonation.as_ref()?.compensation))
        .sum();
    println!("the sums differ by {:.1e} and {:.1e} mm", ours - headroom, needed - compensation);
}
