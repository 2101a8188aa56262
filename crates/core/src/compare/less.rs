//! How a difference comes about: B less A.

use super::{Cell, Measure, Row, Side};
use crate::units::Unit;
use crate::working::{ANGLE_DIGITS, Chain, LENGTH_DIGITS, RATIO_DIGITS, Step, Term, Working};

/// Decimals of what is neither length nor angle nor ratio.
const OTHER_DIGITS: usize = 4;

impl Measure {
    /// As it is written in a working: unit, sign, decimals, and what a number is multiplied by.
    fn written(self) -> (Unit, &'static str, usize, f64) {
        match self {
            Self::Of(Unit::Length) => (Unit::Length, "mm", LENGTH_DIGITS, 1.0),
            Self::Of(Unit::Angle) => (Unit::Angle, "°", ANGLE_DIGITS, 1.0),
            Self::Of(Unit::Count) => (Unit::Number, "", 0, 1.0),
            Self::Of(Unit::Number) => (Unit::Number, "", RATIO_DIGITS, 1.0),
            Self::Newton => (Unit::Number, "N", OTHER_DIGITS, 1.0),
            Self::Cents => (Unit::Number, "cents", OTHER_DIGITS, 1.0),
            Self::Share => (Unit::Number, "%", OTHER_DIGITS, 100.0),
        }
    }
}

impl Row {
    /// How the difference that is shown comes about from what stands for the two; none where
    /// none is shown.
    pub fn less(&self) -> Option<Chain> {
        let difference = self.shown_difference()?;
        let (unit, sign, digits, by) = difference.measure.written();
        let term = |side: Side, names: [&'static str; 2]| {
            let value = by * self.cell(side).quantity()?.value;
            let name = names[usize::from(self.figures[side as usize].is_some())];
            Some(Term { symbol: side.name(), name, value, unit, sign, digits })
        };
        let terms = vec![
            term(Side::B, ["what B holds", "what is worked out for B"])?,
            term(Side::A, ["what A holds", "what is worked out for A"])?,
        ];
        let is_thick = matches!(self.cells, [Cell::Thick(_), Cell::Thick(_)]);
        // a wedge is as thick one way round as the other
        let formula = if is_thick { "|B| - |A|" } else { "B - A" };
        let source = "the difference of the two, each worked out by itself";
        let working =
            Working { formula: formula.into(), terms, result: by * difference.value, source };
        let name = format!("{}: B less A", self.name).into();
        let step = Step { symbol: "", name, working, unit, sign, digits };
        Some(Chain { steps: vec![step], says: String::new() })
    }
}
