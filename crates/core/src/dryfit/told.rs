//! What readings say of the joint: pitch and overstand with their covariance.

use nalgebra::{DMatrix, DVector};
use num_dual::Dual64;

use super::pose::Bench;
use super::predict::{Unknown, pitch_cut};
use super::reading::{Reading, ShoulderEnd, Side, What};
use super::words::contradiction;
use crate::sentence::{Sentence, degrees, mm, sentence};

/// Largest error of the pitch that still tells something, ± degrees: it moves the string by
/// some 2 mm at the bridge, half of what a bridge adjusts.
const MOST_PITCH_ERROR: f64 = 0.5;

/// What readings say of the joint as it stands; mm and radians.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// Pitch θ.
    pub pitch: f64,
    /// Overstand o.
    pub overstand: f64,
    /// Covariance of (θ, o): rad², rad mm, mm².
    pub covariance: [[f64; 2]; 2],
    /// Lean of the board across with its error, radians; none where it was not read.
    pub roll: Option<(f64, f64)>,
    /// Angle by which the neck's centre line misses the body's, toward the treble, with its
    /// error, radians; none where it was not read.
    pub aim: Option<(f64, f64)>,
    /// Angle by which the shoulder's top stands open (negative: its foot), radians; none where
    /// no feeler was used. It is then taken as closed.
    pub open: Option<f64>,
    /// Each reading against what the joint found would read, in the order given.
    pub misses: Vec<Miss>,
    /// Sum of the squares of all misses that count, each in units of its error.
    pub chi_square: f64,
    /// How many more readings count than were needed.
    pub freedom: usize,
    /// Readings that cannot all be true.
    pub contradiction: Option<Contradiction>,
}

/// A reading against what the joint found would read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Miss {
    /// What was read, mm or degrees.
    pub read: f64,
    /// What the joint found would read; none for a reading that says nothing of it.
    pub fitted: Option<f64>,
    /// Its error with all that is uncertain beside the reading, mm or degrees.
    pub error: f64,
}

impl Miss {
    /// The miss in units of its error.
    pub fn strain(&self) -> f64 {
        self.fitted.map_or(0.0, |fitted| (self.read - fitted) / self.error)
    }
}

/// Readings that cannot all be true within their errors.
#[derive(Clone, Debug, PartialEq)]
pub struct Contradiction {
    /// The two that disagree most, by their place in the list.
    pub pair: (usize, usize),
    /// That in words.
    pub says: Sentence,
}

impl Told {
    /// Error of the pitch, radians.
    pub fn pitch_error(&self) -> f64 {
        self.covariance[0][0].sqrt()
    }

    /// Error of the overstand, mm.
    pub fn overstand_error(&self) -> f64 {
        self.covariance[1][1].sqrt()
    }

    /// Correlation of pitch and overstand.
    pub fn correlation(&self) -> f64 {
        self.covariance[0][1] / (self.pitch_error() * self.overstand_error())
    }

    /// Error of something from its derivatives by pitch and overstand, the covariance carried.
    pub(super) fn error_of(&self, by: [f64; 2]) -> f64 {
        let [[a, b], [_, c]] = self.covariance;
        (by[0] * by[0] * a + 2.0 * by[0] * by[1] * b + by[1] * by[1] * c).max(0.0).sqrt()
    }
}

/// Why readings say nothing, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Untold {
    /// The reading it is about, by its place in the list, where it is one.
    pub reading: Option<usize>,
    /// That in words, with what to do.
    pub says: Sentence,
}

impl Untold {
    pub(super) fn of(says: Sentence) -> Self {
        Self { reading: None, says }
    }
}

impl Bench {
    /// Pitch and overstand from readings: weighted least squares with exact derivatives, each
    /// reading counted by 1/error² (JCGM 102; Gauss-Newton).
    ///
    /// # Errors
    /// [`Untold`] where they do not tell pitch from overstand.
    pub(super) fn told(&self, readings: &[Reading]) -> Result<Told, Untold> {
        if let Some(untold) = self.refused(readings) {
            return Err(untold);
        }
        let heights = readings.iter().filter(|one| matches!(one.what, What::Height { .. })).count();
        if heights == 0 {
            return Err(Untold::of(sentence![
                "No height over the top was read: without one the overstand is not known. Lay a straightedge on the board and read at the bridge line."
            ]));
        }
        let leans = readings.iter().any(|one| {
            matches!(one.what, What::Roll { .. })
                || matches!(one.what, What::Height { side, .. } if side.across() != 0.0)
        });
        let (at, covariance) = self.fitted(readings, leans)?;
        let pitch_error = covariance[(0, 0)].sqrt();
        if pitch_error.to_degrees() > MOST_PITCH_ERROR {
            return Err(Untold::of(self.too_close(readings, pitch_error)));
        }
        let misses: Vec<Miss> = readings
            .iter()
            .map(|one| Miss {
                read: one.what.value(),
                fitted: self.predicted(one, &at),
                error: self.error(one),
            })
            .collect();
        let counted = misses.iter().filter(|miss| miss.fitted.is_some()).count();
        let chi_square = misses.iter().map(|miss| miss.strain().powi(2)).sum();
        let freedom = counted.saturating_sub(if leans { 3 } else { 2 });
        let contradiction = (freedom > 0 && chi_square > limit(freedom))
            .then(|| contradiction(readings, &misses))
            .flatten();
        Ok(Told {
            pitch: at.pitch,
            overstand: at.overstand,
            covariance: [
                [covariance[(0, 0)], covariance[(0, 1)]],
                [covariance[(1, 0)], covariance[(1, 1)]],
            ],
            roll: leans.then(|| {
                let turn = 1.0 / (1.0 + at.lean * at.lean);
                (at.lean.atan(), covariance[(2, 2)].sqrt() * turn)
            }),
            aim: self.aim(readings),
            open: self.open(readings),
            misses,
            chi_square,
            freedom,
            contradiction,
        })
    }

    fn fitted(
        &self,
        readings: &[Reading],
        leans: bool,
    ) -> Result<(Unknown<f64>, DMatrix<f64>), Untold> {
        let count = if leans { 3 } else { 2 };
        let mut at = Unknown { pitch: self.planned.0, overstand: self.planned.1, lean: 0.0 };
        let mut covariance = DMatrix::zeros(count, count);
        for _ in 0..30 {
            let mut slopes = Vec::new();
            let mut left = Vec::new();
            for reading in readings {
                let error = self.error(reading);
                let by = |which: usize| {
                    let mut one = [at.pitch, at.overstand, at.lean].map(Dual64::from_re);
                    one[which] = one[which].derivative();
                    let [pitch, overstand, lean] = one;
                    self.predicted(reading, &Unknown { pitch, overstand, lean })
                };
                let Some(value) = by(0) else { continue };
                left.push((reading.what.value() - value.re) / error);
                slopes.extend((0..count).map(|i| by(i).map_or(0.0, |dual| dual.eps) / error));
            }
            let slopes = DMatrix::from_row_slice(left.len(), count, &slopes);
            let known = slopes.transpose() * &slopes;
            // both columns then count millimetres: of an angle over 100 mm
            let scale = DVector::from_iterator(count, (0..count).map(|i| [0.01, 1.0, 0.05][i]));
            let even = DMatrix::from_diagonal(&scale) * &known * DMatrix::from_diagonal(&scale);
            let spread = even.symmetric_eigenvalues();
            let inverse = known.clone().try_inverse();
            let told = spread.min() > 1e-9 * spread.max();
            let Some(inverse) = inverse.filter(|_| told) else {
                return Err(Untold::of(self.not_told(readings, leans)));
            };
            let step = &inverse * slopes.transpose() * DVector::from_vec(left);
            covariance = inverse;
            at.pitch += step[0];
            at.overstand += step[1];
            if leans {
                at.lean += step[2];
            }
            if !(-1.0..=1.0).contains(&at.pitch) {
                return Err(Untold::of(sentence![
                    "These readings belong to no neck: the pitch would pass every bound. Read again."
                ]));
            }
            if step.amax() < 1e-14 {
                break;
            }
        }
        Ok((at, covariance))
    }

    /// Distance over which the pitch would be told as well as it is usually cut, mm.
    fn apart(&self, readings: &[Reading]) -> f64 {
        let error = readings
            .iter()
            .filter(|one| matches!(one.what, What::Height { .. }))
            .map(|one| one.error)
            .fold(0.0, f64::max);
        let least = std::f64::consts::SQRT_2 * error / pitch_cut().to_radians().tan();
        (least / 10.0).ceil() * 10.0
    }

    fn not_told(&self, readings: &[Reading], leans: bool) -> Sentence {
        if leans && self.fitted(&middle_only(readings), false).is_ok() {
            return sentence![
                "Read on one side alone a lean of the board is taken for height: read the other side too, or the lean across."
            ];
        }
        sentence![
            "All heights were read at one place: they do not tell pitch from overstand. Read a second place at least ",
            mm(self.apart(readings), 0),
            " away, or set an angle gauge on board and body."
        ]
    }

    fn too_close(&self, readings: &[Reading], error: f64) -> Sentence {
        sentence![
            "The places read are too close together: the pitch is known to ± ",
            degrees(error.to_degrees(), 1),
            " only. Read places at least ",
            mm(self.apart(readings), 0),
            " apart, or set an angle gauge on board and body."
        ]
    }

    /// The angle by which the centre line misses: the mean of all such readings, each counted
    /// by 1/error².
    fn aim(&self, readings: &[Reading]) -> Option<(f64, f64)> {
        let (mut sum, mut weights) = (0.0, 0.0);
        for reading in readings {
            if let What::Aim { place, off } = reading.what {
                let x = self.station(place, 0.0, self.planned.0);
                let (angle, error) = (off.to_mm().atan2(x), reading.error.atan2(x));
                sum += angle / (error * error);
                weights += 1.0 / (error * error);
            }
        }
        (weights > 0.0).then(|| (sum / weights, weights.sqrt().recip()))
    }

    /// How far the shoulder's top stands open by the feeler: asin(gap/S), the foot's less.
    fn open(&self, readings: &[Reading]) -> Option<f64> {
        let mean = |which: ShoulderEnd| {
            let gaps: Vec<f64> = readings
                .iter()
                .filter_map(|one| match one.what {
                    What::Gap { end, gap } if end == which => Some(gap.to_mm()),
                    _ => None,
                })
                .collect();
            (!gaps.is_empty()).then(|| gaps.iter().sum::<f64>() / gaps.len() as f64)
        };
        let (top, foot) = (mean(ShoulderEnd::Top), mean(ShoulderEnd::Foot));
        top.or(foot)?;
        let open = top.unwrap_or(0.0) - foot.unwrap_or(0.0);
        Some((open / self.shoulder()).clamp(-1.0, 1.0).asin())
    }
}

/// The same readings as if all were taken on the centre line, and no lean.
fn middle_only(readings: &[Reading]) -> Vec<Reading> {
    let mut readings = readings.to_vec();
    readings.retain(|one| !matches!(one.what, What::Roll { .. }));
    for reading in &mut readings {
        if let What::Height { side, .. } = &mut reading.what {
            *side = Side::Middle;
        }
    }
    readings
}

/// What a sum of squares of so many free misses passes once in a hundred times.
///
/// # Source
/// Upper critical values of the chi-square distribution at 0.01 (NIST/SEMATECH e-Handbook of
/// Statistical Methods, 1.3.6.7.4; from memory); beyond its first ten the approximation of
/// Wilson and Hilferty, k (1 - 2/(9k) + z √(2/(9k)))³ with z = 2.326.
fn limit(freedom: usize) -> f64 {
    const TABLE: [f64; 10] =
        [6.635, 9.210, 11.345, 13.277, 15.086, 16.812, 18.475, 20.090, 21.666, 23.209];
    let free = freedom as f64;
    TABLE.get(freedom - 1).copied().unwrap_or_else(|| {
        let part = 2.0 / (9.0 * free);
        free * (1.0 - part + 2.326 * part.sqrt()).powi(3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The approximation misses the table by less than 1 % where it takes over.
    #[test]
    fn the_limit_runs_on_beyond_the_table() {
        assert_eq!(limit(1), 6.635);
        // 24.725 for eleven (the same table)
        assert!((limit(11) / 24.725 - 1.0).abs() < 1e-2);
    }
}
