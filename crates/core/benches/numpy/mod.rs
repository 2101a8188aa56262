//! What the benchmarks against NumPy share: the instrument, and how NumPy is asked.

use std::io::Write as _;
use std::process::{Command, Stdio};

use overstand_core::design::{BoardShape, Design};
use overstand_core::strings::gauges::SETS;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;

/// Said where NumPy gives no answer.
pub(crate) const ABSENT: &str =
    "NumPy is not there: nothing to compare with (PYTHON names an interpreter)";

/// Six strings, 24 frets.
pub(crate) fn six_by_24() -> Design {
    let mut design = worked_example();
    design.scale.frets = 24;
    design.board.end = Length::mm(480.0);
    design
}

/// The same with a usual set of strings.
pub(crate) fn strung(mut design: Design) -> Design {
    if let Some(set) = SETS.iter().find(|set| set.fits(&design)) {
        set.put_on(&mut design);
    }
    design
}

/// The same with a board of compound radius.
pub(crate) fn compound(mut design: Design) -> Design {
    design.board.shape =
        BoardShape::Compound { radius_nut: Length::mm(254.0), radius_end: Length::mm(406.4) };
    design
}

/// The numbers that a script beside the benchmarks prints when given this, on one core; none
/// without NumPy.
pub(crate) fn asked<const N: usize>(script: &str, given: &str) -> Option<[f64; N]> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let mut child = Command::new(python)
        .arg(format!("{}/benches/{script}", env!("CARGO_MANIFEST_DIR")))
        .env("OMP_NUM_THREADS", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
    child.stdin.take()?.write_all(given.as_bytes()).ok()?;
    let output = child.wait_with_output().ok().filter(|output| output.status.success())?;
    let text = String::from_utf8(output.stdout).ok()?;
    let numbers: Vec<f64> = text.split_whitespace().filter_map(|word| word.parse().ok()).collect();
    numbers.try_into().ok()
}
