//! The range that a check's value is held against.

use super::State;
use crate::design::Limit;

/// A limit from its four edges.
pub(super) const fn limit(
    fails_below: f64,
    thin_below: f64,
    thin_above: f64,
    fails_above: f64,
) -> Limit {
    Limit {
        fails_below: Some(fails_below),
        thin_below: Some(thin_below),
        thin_above: Some(thin_above),
        fails_above: Some(fails_above),
    }
}

/// A limit on the low side only.
pub(super) const fn at_least(fails_below: f64, thin_below: f64) -> Limit {
    Limit {
        fails_below: Some(fails_below),
        thin_below: Some(thin_below),
        thin_above: None,
        fails_above: None,
    }
}

/// A limit on the high side only.
pub(super) const fn at_most(thin_above: f64, fails_above: f64) -> Limit {
    Limit {
        fails_below: None,
        thin_below: None,
        thin_above: Some(thin_above),
        fails_above: Some(fails_above),
    }
}

impl Limit {
    /// The limit of a value between `low` and `high` whose own limit is a reserve to be kept
    /// both ways. None where no reserve is asked for.
    pub(crate) fn as_reserve(&self, low: f64, high: f64) -> Option<Self> {
        let (fails, thin) = (self.fails_below?, self.thin_below?);
        Some(limit(low + fails, low + thin, high - thin, high - fails))
    }

    /// Distance to the nearest limit in units of the thin band: 0 where it fails,
    /// 1 where it is good. Infinite without limits.
    pub fn margin(&self, value: f64) -> f64 {
        let below = match (self.fails_below, self.thin_below) {
            (Some(fails), Some(thin)) => (value - fails) / (thin - fails),
            _ => f64::INFINITY,
        };
        let above = match (self.fails_above, self.thin_above) {
            (Some(fails), Some(thin)) => (fails - value) / (fails - thin),
            _ => f64::INFINITY,
        };
        // the lesser of two passes over what is not a number
        if value.is_nan() { value } else { below.min(above) }
    }

    /// Good, thin or failing. A value that is not a number fails.
    pub fn state(&self, value: f64) -> State {
        // a value set to the very edge comes back a rounding error off
        const ROUNDING: f64 = 1e-9;
        // the margin asked for as a length: this is asked for more often than all else
        let side = |edges: (Option<f64>, Option<f64>), inward: f64| match edges {
            (Some(fails), Some(thin)) => {
                let (inside, band) = ((value - fails) * inward, (thin - fails) * inward);
                (inside >= band * (1.0 - ROUNDING), inside > band * ROUNDING)
            }
            _ => (true, true),
        };
        let below = side((self.fails_below, self.thin_below), 1.0);
        let above = side((self.fails_above, self.thin_above), -1.0);
        if value.is_nan() {
            State::Fails
        } else if below.0 && above.0 {
            State::Good
        } else if below.1 && above.1 {
            State::Thin
        } else {
            State::Fails
        }
    }

    /// Whether a margin falls off to below and to above.
    pub(crate) fn sides(&self) -> (bool, bool) {
        let whole = |edges: [Option<f64>; 2]| edges.iter().all(Option::is_some);
        (whole([self.fails_below, self.thin_below]), whole([self.fails_above, self.thin_above]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_margin_counts_in_thin_bands() {
        let angle = limit(5.0, 7.0, 25.0, 30.0);
        for (value, margin, state) in [
            (5.0, 0.0, State::Fails),
            (6.0, 0.5, State::Thin),
            (7.0, 1.0, State::Good),
            (15.0, 3.0, State::Good),
            (27.5, 0.5, State::Thin),
            (31.0, -0.2, State::Fails),
        ] {
            assert!((angle.margin(value) - margin).abs() < 1e-12, "{value}");
            assert_eq!(angle.state(value), state, "{value}");
        }
        assert_eq!(Limit::default().state(1e9), State::Good);
        assert_eq!(angle.state(f64::NAN), State::Fails);
        assert_eq!(at_least(0.0, 1.0).state(f64::NAN), State::Fails);
    }
}
