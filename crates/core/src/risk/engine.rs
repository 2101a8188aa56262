//! Trials in blocks: each block has a stream of random numbers of its own, counted from the
//! seed, so that it comes out the same whichever thread works it; and blocks are put
//! together in their order.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};
use rayon::prelude::*;

use super::propagate::interval;
use crate::design::Spread;

/// Trials in a block.
///
/// # Source
/// JCGM 101:2008, 7.9.4: at least 10 000 for intervals of 95 %.
pub const BLOCK: u64 = 10_000;

/// Blocks between two looks at whether the figures are stable.
const ROUND: usize = 8;

/// How many trials to run, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// How many.
    pub trials: Count,
    /// The seed: the same one gives the same figures to the last digit, on any number of
    /// threads.
    pub seed: u64,
}

/// How many trials.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Count {
    /// So many.
    Exactly(u64),
    /// As many as the figures take to be stable, but no more than `most`.
    ///
    /// # Source
    /// JCGM 101:2008, 7.9.4: stable when twice the standard deviation of the mean over all
    /// blocks lies below the tolerance, for the mean, the standard deviation and both ends of
    /// the 95 % interval.
    UntilStable {
        /// Tolerance of the result: half a unit of its last stated digit.
        tolerance: f64,
        /// The same of the chance, 0 to 1.
        chance: f64,
        /// Most trials.
        most: u64,
    },
}

impl Plan {
    /// Seed unless another is given.
    pub const USUAL_SEED: u64 = 1;

    /// As many trials as the crest height takes to be stable to 0.01 mm and the chance to a
    /// whole per cent; no more than a million.
    pub fn usual() -> Self {
        let trials = Count::UntilStable { tolerance: 0.005, chance: 0.005, most: 1_000_000 };
        Self { trials, seed: Self::USUAL_SEED }
    }

    /// So many trials from the usual seed.
    pub fn exactly(trials: u64) -> Self {
        Self { trials: Count::Exactly(trials), seed: Self::USUAL_SEED }
    }

    /// Most trials that it may take.
    pub fn most(&self) -> u64 {
        match self.trials {
            Count::Exactly(trials) => trials,
            Count::UntilStable { most, .. } => most,
        }
    }
}

/// Who waits for long work: may stop it, and is told how far it has come.
#[derive(Clone, Copy)]
pub struct Watch<'a> {
    stop: Option<&'a AtomicBool>,
    progress: &'a (dyn Fn(u64, u64) + Sync),
}

impl std::fmt::Debug for Watch<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Watch").field("stop", &self.stop).finish_non_exhaustive()
    }
}

impl<'a> Watch<'a> {
    /// Stops when `stop` is set; `progress` is called now and then, from any thread, with how
    /// much is done of how much at most.
    pub fn new(stop: &'a AtomicBool, progress: &'a (dyn Fn(u64, u64) + Sync)) -> Self {
        Self { stop: Some(stop), progress }
    }

    /// Nobody: it runs to its end.
    pub fn nobody() -> Watch<'static> {
        Watch { stop: None, progress: &|_, _| {} }
    }

    /// Whether it is to stop.
    pub fn stopped(&self) -> bool {
        self.stop.is_some_and(|stop| stop.load(Ordering::Relaxed))
    }

    pub(super) fn tell(&self, done: u64, of: u64) {
        (self.progress)(done, of);
    }

    /// The same without its reports, for work that is only a part of a whole.
    pub(super) fn silent(&self) -> Self {
        Self { stop: self.stop, progress: &|_, _| {} }
    }
}

/// Random errors of one block.
#[derive(Debug)]
pub(super) struct Stream(ChaCha8Rng);

impl Stream {
    pub(super) fn new(seed: u64, block: u64) -> Self {
        let mut generator = ChaCha8Rng::seed_from_u64(seed);
        generator.set_stream(block);
        Self(generator)
    }

    /// An error within ±.
    #[inline]
    pub(super) fn error(&mut self, plus_minus: f64, spread: Spread) -> f64 {
        const TWO_32: f64 = 4_294_967_296.0;
        let bits = self.0.next_u64();
        match spread {
            // 53 bits, the middle of each step
            Spread::Rectangular => {
                let unit = ((bits >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0;
                plus_minus * (2.0 * unit - 1.0)
            }
            // the sum of two evenly spread numbers of 32 bits
            Spread::Triangular => {
                let (a, b) = ((bits >> 32) as f64, (bits & 0xffff_ffff) as f64);
                plus_minus * ((a + b + 1.0) / TWO_32 - 1.0)
            }
            // G. E. P. Box and M. E. Muller, Ann. Math. Stat. 29, 610 (1958)
            Spread::Normal => {
                let unit = ((bits >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0;
                let turn = ((self.0.next_u64() >> 11) as f64) / 9_007_199_254_740_992.0;
                let normal = (-2.0 * unit.ln()).sqrt() * (std::f64::consts::TAU * turn).cos();
                0.5 * plus_minus * normal
            }
        }
    }
}

/// What one block came to.
#[derive(Debug)]
pub(super) struct Block<T> {
    /// The result of each trial.
    pub values: Vec<f64>,
    /// What else was counted.
    pub tally: T,
    mean: f64,
    standard: f64,
    ends: (f64, f64),
}

impl<T> Block<T> {
    pub(super) fn new(values: Vec<f64>, tally: T) -> Self {
        Self { values, tally, mean: 0.0, standard: 0.0, ends: (0.0, 0.0) }
    }

    /// What stability is judged by.
    fn summed_up(mut self) -> Self {
        let count = self.values.len().max(1) as f64;
        self.mean = self.values.iter().sum::<f64>() / count;
        let off = |value: &f64| (value - self.mean) * (value - self.mean);
        let square = self.values.iter().map(off).sum::<f64>();
        self.standard = (square / (count - 1.0).max(1.0)).sqrt();
        let mut sorted = self.values.clone();
        sorted.sort_unstable_by(f64::total_cmp);
        self.ends = interval(&sorted, 0.95);
        self
    }
}

/// Runs blocks of trials. `chance` is the part of a block's trials that came out well. None
/// if it was stopped.
pub(super) fn run<W, T: Send>(
    plan: &Plan,
    watch: &Watch<'_>,
    worker: impl Fn() -> W + Sync + Send,
    block: impl Fn(&mut W, &mut Stream, u64) -> Block<T> + Sync + Send,
    chance: impl Fn(&T) -> f64,
) -> Option<Vec<Block<T>>> {
    let most = plan.most();
    let count = most.div_ceil(BLOCK);
    let done = AtomicU64::new(0);
    let judged = matches!(plan.trials, Count::UntilStable { .. });
    let one = |worker: &mut W, index: u64| {
        if watch.stopped() {
            return None;
        }
        let trials = BLOCK.min(most - index * BLOCK);
        let made = block(worker, &mut Stream::new(plan.seed, index), trials);
        let so_far = done.fetch_add(trials, Ordering::Relaxed) + trials;
        watch.tell(so_far, most);
        Some(if judged { made.summed_up() } else { made })
    };
    let Count::UntilStable { tolerance, chance: chance_tolerance, .. } = plan.trials else {
        return (0..count).into_par_iter().map_init(&worker, one).collect();
    };
    let mut blocks: Vec<Block<T>> = Vec::new();
    for start in (0..count).step_by(ROUND) {
        let end = count.min(start + ROUND as u64);
        let round: Option<Vec<Block<T>>> =
            (start..end).into_par_iter().map_init(&worker, one).collect();
        // each block in turn, so that where it stops hangs on no number of threads
        for block in round? {
            blocks.push(block);
            if blocks.len() > 1 && stable(&blocks, tolerance, chance_tolerance, &chance) {
                return Some(blocks);
            }
        }
    }
    Some(blocks)
}

fn stable<T>(
    blocks: &[Block<T>],
    tolerance: f64,
    chance_tolerance: f64,
    chance: &impl Fn(&T) -> f64,
) -> bool {
    let steady = |figure: &dyn Fn(&Block<T>) -> f64, within: f64| {
        let count = blocks.len() as f64;
        let mean = blocks.iter().map(figure).sum::<f64>() / count;
        let square = blocks.iter().map(|block| (figure(block) - mean).powi(2)).sum::<f64>();
        2.0 * (square / (count * (count - 1.0))).sqrt() <= within
    };
    steady(&|block| block.mean, tolerance)
        && steady(&|block| block.standard, tolerance)
        && steady(&|block| block.ends.0, tolerance)
        && steady(&|block| block.ends.1, tolerance)
        && steady(&|block| chance(&block.tally), chance_tolerance)
}
