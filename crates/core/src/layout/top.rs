//! The body's top along the centre line, as a height z(X) over the top datum.

use super::Real;
use crate::design::{ArchPoint, Top};
use crate::dimension::{Dim, Values};

/// The top, made ready for evaluation.
#[derive(Clone, Debug)]
pub(crate) enum TopCurve {
    Flat,
    Ramp,
    Arch(Spline),
    Dome,
}

impl TopCurve {
    pub(crate) fn of(top: &Top) -> Self {
        match top {
            Top::Flat => Self::Flat,
            Top::Ramp { .. } => Self::Ramp,
            Top::Arch { points } => Self::Arch(Spline::natural(points)),
            Top::Dome { .. } => Self::Dome,
        }
    }

    /// Height z at X, both mm. `values` carries the measures of ramp and dome, so
    /// that their derivatives are exact as well.
    ///
    /// Beyond the last point of an arch the end's tangent runs on, so that a solve
    /// may pass through; whoever shows the result asks [`Self::covers`] first.
    pub(crate) fn height<D: Real>(&self, x: D, values: &Values<D>) -> D {
        match self {
            Self::Flat => D::from(0.0),
            Self::Ramp => {
                let (angle, length) = (values[Dim::RampAngle], values[Dim::RampLength]);
                (if x < length { x } else { length }) * angle.tan()
            }
            Self::Arch(spline) => spline.height(x),
            Self::Dome => {
                let (radius, apex) = (values[Dim::DomeRadius], values[Dim::DomeApex]);
                let from_apex = x - apex;
                (radius * radius - from_apex * from_apex).sqrt()
                    - (radius * radius - apex * apex).sqrt()
            }
        }
    }

    /// Slope dz/dX at X.
    pub(crate) fn slope(&self, x: f64, values: &Values<f64>) -> f64 {
        let dual = values.map(num_dual::Dual64::from_re);
        self.height(num_dual::Dual64::from_re(x).derivative(), &dual).eps
    }

    /// The piece of an arch that X falls into; none of any other top.
    pub(crate) fn piece(&self, x: f64) -> Option<ArchPiece> {
        let Self::Arch(spline) = self else { return None };
        let i = spline.span(x);
        let end = |i: usize| Some((*spline.x.get(i)?, *spline.z.get(i)?, *spline.bend.get(i)?));
        Some(ArchPiece { from: end(i)?, to: end(i + 1)? })
    }

    /// The last X at which the top is known; none where it goes on.
    pub(crate) fn known_to(&self) -> Option<f64> {
        match self {
            Self::Arch(spline) => spline.x.last().copied(),
            Self::Flat | Self::Ramp | Self::Dome => None,
        }
    }

    /// Whether the top is known at X, with no guessing.
    pub(crate) fn covers(&self, x: f64) -> bool {
        self.known_to().is_none_or(|end| x <= end)
    }

    /// Least height of the line Y = start + rise·X over the top for X from 0 to
    /// `end`, and the X where it is. Negative where the line cuts into the top.
    ///
    /// Exact: it looks at the ends, at the corners, and wherever the top runs
    /// parallel to the line.
    pub(crate) fn least_gap(
        &self,
        start: f64,
        rise: f64,
        end: f64,
        values: &Values<f64>,
    ) -> (f64, f64) {
        let mut least = (f64::INFINITY, 0.0);
        let mut look = |x: f64| {
            if (0.0..=end.max(0.0)).contains(&x) {
                let gap = start + rise * x - self.height(x, values);
                if gap < least.0 {
                    least = (gap, x);
                }
            }
        };
        look(0.0);
        look(end);
        match self {
            Self::Flat => {}
            Self::Ramp => look(values[Dim::RampLength]),
            Self::Arch(spline) => spline.places_of_slope(rise, &mut look),
            Self::Dome => {
                // z' = -(X - a)/√(R² - (X - a)²) = rise
                let radius = values[Dim::DomeRadius];
                look(values[Dim::DomeApex] - radius * rise / (1.0 + rise * rise).sqrt());
            }
        }
        least
    }
}

/// A piece of an arched top between two of its points, each X, z and second derivative.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ArchPiece {
    pub(crate) from: (f64, f64, f64),
    pub(crate) to: (f64, f64, f64),
}

/// A natural cubic spline: second derivative zero at both ends.
///
/// # Source
/// C. de Boor, *A Practical Guide to Splines* (1978), ch. IV (from memory);
/// checked against an independent construction in the tests.
#[derive(Clone, Debug)]
pub(crate) struct Spline {
    x: Vec<f64>,
    z: Vec<f64>,
    /// Second derivative at each point.
    bend: Vec<f64>,
}

impl Spline {
    /// Through the points, X strictly rising (a fault of the design otherwise).
    fn natural(points: &[ArchPoint]) -> Self {
        let x: Vec<f64> = points.iter().map(|point| point.x.to_mm()).collect();
        let z: Vec<f64> = points.iter().map(|point| point.z.to_mm()).collect();
        let n = x.len();
        let mut bend = vec![0.0; n];
        if n > 2 {
            // Thomas' algorithm on the tridiagonal system of the inner points.
            let mut upper = vec![0.0; n];
            for i in 1..n - 1 {
                let (before, after) = (x[i] - x[i - 1], x[i + 1] - x[i]);
                let right = 6.0 * ((z[i + 1] - z[i]) / after - (z[i] - z[i - 1]) / before);
                let pivot = 2.0 * (before + after) - before * upper[i - 1];
                upper[i] = after / pivot;
                bend[i] = (right - before * bend[i - 1]) / pivot;
            }
            for i in (1..n - 1).rev() {
                bend[i] -= upper[i] * bend[i + 1];
            }
        }
        Self { x, z, bend }
    }

    /// The span that X falls into.
    fn span(&self, x: f64) -> usize {
        let last = self.x.len().saturating_sub(2);
        self.x.partition_point(|&knot| knot <= x).saturating_sub(1).min(last)
    }

    fn height<D: Real>(&self, x: D) -> D {
        let (Some(&first), Some(&last)) = (self.x.first(), self.x.last()) else {
            return D::from(0.0);
        };
        if self.x.len() < 2 {
            return D::from(self.z[0]);
        }
        let i = self.span(x.re());
        let (a, b) = (self.x[i], self.x[i + 1]);
        let width = b - a;
        // inside the span; beyond the ends the tangent of the end
        let inside = if x.re() < first {
            D::from(first)
        } else if x.re() > last {
            D::from(last)
        } else {
            x
        };
        let (left, right) = ((-inside + b) / width, (inside - a) / width);
        let cubic = |t: D| t * t * t - t;
        let height = left * self.z[i]
            + right * self.z[i + 1]
            + (cubic(left) * self.bend[i] + cubic(right) * self.bend[i + 1])
                * (width * width / 6.0);
        let end_slope = |t: f64| {
            // derivative at the left (t = 0) or right (t = 1) end of the span
            let quadratic = |s: f64| 3.0 * s * s - 1.0;
            (self.z[i + 1] - self.z[i]) / width
                + width / 6.0
                    * (quadratic(t) * self.bend[i + 1] - quadratic(1.0 - t) * self.bend[i])
        };
        if x.re() < first {
            height + (x - first) * end_slope(0.0)
        } else if x.re() > last {
            height + (x - last) * end_slope(1.0)
        } else {
            height
        }
    }

    /// Every X at which the slope is `slope`.
    fn places_of_slope(&self, slope: f64, look: &mut impl FnMut(f64)) {
        for i in 0..self.x.len().saturating_sub(1) {
            let width = self.x[i + 1] - self.x[i];
            // in t = (X - a)/width the slope is q0 + q1 t + q2 t²
            let q0 = (self.z[i + 1] - self.z[i]) / width
                - width / 6.0 * (2.0 * self.bend[i] + self.bend[i + 1])
                - slope;
            let q1 = width * self.bend[i];
            let q2 = width / 2.0 * (self.bend[i + 1] - self.bend[i]);
            let mut keep = |t: f64| {
                if (0.0..=1.0).contains(&t) {
                    look(self.x[i] + t * width);
                }
            };
            let discriminant = q1 * q1 - 4.0 * q2 * q0;
            if discriminant >= 0.0 {
                // the stable pair of roots; a vanishing denominator gives no root
                let far = -0.5 * (q1 + discriminant.sqrt().copysign(q1));
                keep(q0 / far);
                keep(far / q2);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    fn spline(points: &[(f64, f64)]) -> Spline {
        let point = |&(x, z): &(f64, f64)| ArchPoint { x: Length::mm(x), z: Length::mm(z) };
        Spline::natural(&points.iter().map(point).collect::<Vec<_>>())
    }

    /// Three points have a closed form: the one inner second derivative is
    /// 3 ((z2 - z1)/h2 - (z1 - z0)/h1)/(h1 + h2).
    #[test]
    fn three_points_in_closed_form() {
        let spline = spline(&[(0.0, 0.0), (100.0, 10.0), (300.0, 4.0)]);
        let expected = 3.0 * (-6.0 / 200.0 - 10.0 / 100.0) / 300.0;
        assert!((spline.bend[1] - expected).abs() < 1e-15);
        // halfway through the first span, ((½)³ - ½) h²/6 = -h²/16 of the end's bend
        let half = 5.0 - expected * 100.0 * 100.0 / 16.0;
        assert!((spline.height(50.0) - half).abs() < 1e-12);
    }

    #[test]
    fn beyond_the_ends_the_tangent_runs_on() {
        let spline = spline(&[(0.0, 0.0), (100.0, 10.0), (300.0, 4.0)]);
        for (end, away) in [(0.0_f64, -1.0_f64), (300.0, 1.0)] {
            let slope = (spline.height(end) - spline.height(end - away * 1e-4)) / (away * 1e-4);
            let beyond = (spline.height(end + away * 10.0) - spline.height(end)) / (away * 10.0);
            // a one-sided difference over 1e-4 mm of a cubic with bend below 1e-2 /mm
            assert!(f64::abs(slope - beyond) < 1e-6);
        }
    }

    #[test]
    fn the_least_gap_is_least() {
        let top = TopCurve::Arch(spline(&[
            (0.0, 0.0),
            (50.0, 5.0),
            (100.0, 9.4),
            (150.0, 12.9),
            (250.0, 16.6),
        ]));
        let design = crate::testing::worked_example();
        let values = Values::of(&design);
        let (gap, at) = top.least_gap(3.0, 0.06, 200.0, &values);
        for step in 0..=2000 {
            let x = f64::from(step) * 0.1;
            assert!(3.0 + 0.06 * x - top.height(x, &values) >= gap - 1e-12, "at {x}");
        }
        assert!((3.0 + 0.06 * at - top.height(at, &values) - gap).abs() < 1e-12);
    }
}
