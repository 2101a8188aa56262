//! How NumPy is asked.

use std::io::Write as _;
use std::process::{Command, Stdio};

/// Said where NumPy gives no answer.
pub(crate) const ABSENT: &str =
    "NumPy is not there: nothing to compare with (PYTHON names an interpreter)";

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
