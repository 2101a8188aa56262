//! How errors of quantities go on into a result: by its slopes (JCGM 100) and by trials
//! (JCGM 101).

use num_dual::Dual64;
use rayon::slice::ParallelSliceMut;

use super::engine::{Block, Plan, Watch, run};
use crate::design::Spread;

/// A quantity that is not known exactly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// Its best estimate.
    pub estimate: f64,
    /// ± about that.
    pub plus_minus: f64,
    /// How it lies within.
    pub spread: Spread,
}

impl Quantity {
    /// Its standard uncertainty.
    pub fn standard(&self) -> f64 {
        self.spread.standard(self.plus_minus)
    }
}

/// A result to first order.
///
/// # Source
/// JCGM 100:2008, 5.1.2: u² = Σ (c_i u_i)² for independent quantities, c_i the slopes.
#[derive(Clone, Debug, PartialEq)]
pub struct FirstOrder {
    /// The result at the estimates.
    pub value: f64,
    /// Its exact derivative by each quantity.
    pub slopes: Vec<f64>,
    /// Standard uncertainty that each quantity contributes, c_i u_i.
    pub contributions: Vec<f64>,
    /// Root of the sum of their squares: the standard uncertainty of the result.
    pub standard: f64,
    /// Sum of all |c_i| times ±: when every one misses fully to the worse side.
    pub worst_case: f64,
}

impl FirstOrder {
    /// Of a result computed with dual numbers.
    pub fn of(quantities: &[Quantity], result: impl Fn(&[Dual64]) -> Dual64) -> Self {
        let mut inputs: Vec<Dual64> =
            quantities.iter().map(|quantity| Dual64::from_re(quantity.estimate)).collect();
        let value = result(&inputs).re;
        let slopes: Vec<f64> = (0..inputs.len())
            .map(|i| {
                inputs[i].eps = 1.0;
                let slope = result(&inputs).eps;
                inputs[i].eps = 0.0;
                slope
            })
            .collect();
        let contributions: Vec<f64> = quantities
            .iter()
            .zip(&slopes)
            .map(|(quantity, slope)| slope * quantity.standard())
            .collect();
        let standard = contributions.iter().map(|part| part * part).sum::<f64>().sqrt();
        let worst_case = quantities
            .iter()
            .zip(&slopes)
            .map(|(quantity, slope)| (slope * quantity.plus_minus).abs())
            .sum();
        Self { value, slopes, contributions, standard, worst_case }
    }

    /// Part of the variance that a quantity contributes, 0 to 1.
    pub fn share(&self, i: usize) -> f64 {
        let whole = self.standard * self.standard;
        if whole > 0.0 { self.contributions[i] * self.contributions[i] / whole } else { 0.0 }
    }
}

/// What a result came to in many trials.
#[derive(Clone, Debug, PartialEq)]
pub struct Distribution {
    /// Every value, smallest first.
    pub sorted: Vec<f64>,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation.
    pub standard: f64,
}

impl Distribution {
    pub(super) fn of(mut values: Vec<f64>) -> Self {
        let count = values.len().max(1) as f64;
        let mean = values.iter().sum::<f64>() / count;
        let square = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>();
        values.par_sort_unstable_by(f64::total_cmp);
        Self { sorted: values, mean, standard: (square / (count - 1.0).max(1.0)).sqrt() }
    }

    /// The interval that holds this part of the values and leaves as many below as above.
    ///
    /// # Source
    /// JCGM 101:2008, 7.7.2: q = pM values between the ends.
    pub fn interval(&self, part: f64) -> (f64, f64) {
        interval(&self.sorted, part)
    }

    /// The shortest interval that holds this part of the values.
    ///
    /// # Source
    /// JCGM 101:2008, 7.7.4.
    pub fn shortest_interval(&self, part: f64) -> (f64, f64) {
        let count = self.sorted.len();
        let within = ((part * count as f64).round() as usize).min(count.saturating_sub(1));
        let width = |start: usize| self.sorted[start + within] - self.sorted[start];
        (0..count.saturating_sub(within))
            .min_by(|&a, &b| width(a).total_cmp(&width(b)))
            .map_or((f64::NAN, f64::NAN), |start| (self.sorted[start], self.sorted[start + within]))
    }
}

/// See [`Distribution::interval`].
pub(super) fn interval(sorted: &[f64], part: f64) -> (f64, f64) {
    let count = sorted.len();
    let within = ((part * count as f64).round() as usize).min(count.saturating_sub(1));
    let below = (count - within) / 2;
    let (low, high) = (below.saturating_sub(1), (below + within).saturating_sub(1));
    match (sorted.get(low), sorted.get(high)) {
        (Some(&low), Some(&high)) => (low, high),
        _ => (f64::NAN, f64::NAN),
    }
}

/// Runs trials of a result whose quantities miss at random. None if it was stopped.
pub fn monte_carlo(
    quantities: &[Quantity],
    result: impl Fn(&[f64]) -> f64 + Sync,
    plan: &Plan,
    watch: &Watch<'_>,
) -> Option<Distribution> {
    let blocks = run(
        plan,
        watch,
        || vec![0.0; quantities.len()],
        |inputs, stream, trials| {
            let values = (0..trials)
                .map(|_| {
                    for (input, quantity) in inputs.iter_mut().zip(quantities) {
                        *input =
                            quantity.estimate + stream.error(quantity.plus_minus, quantity.spread);
                    }
                    result(inputs)
                })
                .collect();
            Block::new(values, ())
        },
        |()| 0.0,
    )?;
    Some(Distribution::of(blocks.into_iter().flat_map(|block| block.values).collect()))
}
