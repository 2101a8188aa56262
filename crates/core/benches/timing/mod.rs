//! How long a call takes: works are timed in turns, many short rounds each, and the medians
//! compared. On a busy machine a ratio holds where a wall time does not.

use std::time::Instant;

const ROUNDS: usize = 60;
/// Least length of a round, ms.
const ROUND: u128 = 5;

/// Nanoseconds per call of each work, the median of many rounds.
pub(crate) fn in_turns<const N: usize>(mut works: [&mut dyn FnMut(); N]) -> [f64; N] {
    let calls = works.each_mut().map(|work| {
        let start = Instant::now();
        let mut calls = 0_u32;
        while start.elapsed().as_millis() < ROUND {
            work();
            calls += 1;
        }
        calls.max(1)
    });
    let mut times = [const { Vec::new() }; N];
    for _ in 0..ROUNDS {
        for ((work, times), calls) in works.iter_mut().zip(&mut times).zip(calls) {
            let start = Instant::now();
            for _ in 0..calls {
                work();
            }
            times.push(start.elapsed().as_nanos() as f64 / f64::from(calls));
        }
    }
    times.map(|mut times| {
        times.sort_by(f64::total_cmp);
        times[times.len() / 2]
    })
}
