//! A million trials with every check's number and state, against the same sum with NumPy in
//! the same run.
//!
//! `python3` with NumPy does its rounds as a process of its own right after ours; without it
//! only our own time is shown. `PYTHON` names another interpreter.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod instrument;
mod numpy;

use std::time::Instant;

use overstand_core::risk::{Plan, Risk, Watch};
use overstand_core::study::Study;

use instrument::{compound, six_by_24, strung};

const TRIALS: u64 = 1_000_000;

/// Processor time that this process has used, s; none where the system does not say.
fn processor_time() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/self/stat").ok()?;
    // fields 14 and 15 after the name in brackets, in hundredths of a second
    let (_, rest) = text.rsplit_once(')')?;
    let ticks: Vec<f64> =
        rest.split_whitespace().skip(11).take(2).filter_map(|word| word.parse().ok()).collect();
    (ticks.len() == 2).then(|| ticks.iter().sum::<f64>() / 100.0)
}

/// Seconds of waiting and of processor time for a million trials, the least of some rounds: a
/// busy machine only adds.
fn seconds(risk: &Risk) -> (f64, f64) {
    let mut least = (f64::INFINITY, f64::INFINITY);
    for _ in 0..2 {
        let (start, used) = (Instant::now(), processor_time());
        let trials = risk.trials(&Plan::exactly(TRIALS), &Watch::nobody());
        let took = start.elapsed().as_secs_f64();
        let used = processor_time().zip(used).map_or(took, |(after, before)| after - before);
        assert!(trials.is_some_and(|trials| trials.count == TRIALS));
        least = (least.0.min(took), least.1.min(used));
    }
    least
}

/// NumPy's seconds of processor time for as many trials, mean and standard deviation of the
/// crest, and the part that plays; none without NumPy.
fn of_numpy(risk: &Risk) -> Option<[f64; 4]> {
    let errors: Vec<String> = risk
        .tolerated
        .iter()
        .map(|one| format!("\"{}\":[{},\"{}\"]", one.source, one.plus_minus, one.spread.text()))
        .collect();
    let given = format!("{{\"errors\":{{{}}},\"batch\":2000,\"rounds\":10}}", errors.join(","));
    numpy::asked("numpy_risk.py", &given)
}

fn main() {
    let cases = [
        ("flat board, no strings told", six_by_24()),
        ("flat board, strung", strung(six_by_24())),
        ("compound radius, no strings told", compound(six_by_24())),
        ("compound radius, strung", strung(compound(six_by_24()))),
    ];
    let mut subject = None;
    for (name, design) in cases {
        let Some(risk) = Risk::of(&Study::of(&design)) else {
            println!("{name}: the design of the benchmark does not close");
            return;
        };
        let (took, used) = seconds(&risk);
        println!(
            "{name:<36} {took:>6.2} s for {TRIALS} trials of {} errors; {used:.2} s of processor",
            risk.tolerated.len()
        );
        subject.get_or_insert((risk, used));
    }
    let Some((risk, used)) = subject else { return };
    let Some([other, mean, standard, plays]) = of_numpy(&risk) else {
        println!("{}", numpy::ABSENT);
        return;
    };
    println!("NumPy: {other:.1} s of processor, {:.1} times as long", other / used);
    if let Some(trials) = risk.trials(&Plan::exactly(100_000), &Watch::nobody()) {
        println!(
            "crest {:.3} ± {:.4} mm and NumPy's {mean:.3} ± {standard:.4} mm; plays {:.4} and {plays:.4}",
            trials.crest.mean,
            trials.crest.standard,
            trials.chance()
        );
    }
}
