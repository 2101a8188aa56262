use crate::units::Unit;

/// One number put into a formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// Its letter in the formula.
    pub symbol: &'static str,
    /// What it is.
    pub name: &'static str,
    /// Its value, in its unit.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Decimals to show, so that the sum can be followed by hand.
    pub digits: usize,
}

/// How a number came about: formula, numbers put in, result, source.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// The formula in the letters of its terms.
    pub formula: &'static str,
    /// The numbers put in.
    pub terms: Vec<Term>,
    /// What it comes to, in the check's unit.
    pub result: f64,
    /// Where the formula comes from, and the range it is held against.
    pub source: &'static str,
}

/// A length put into a formula, mm.
pub(crate) fn length(symbol: &'static str, name: &'static str, value: f64) -> Term {
    Term { symbol, name, value, unit: Unit::Length, digits: 3 }
}

/// An angle put into a formula, radians in, degrees shown.
pub(crate) fn angle(symbol: &'static str, name: &'static str, radians: f64) -> Term {
    Term { symbol, name, value: radians.to_degrees(), unit: Unit::Angle, digits: 3 }
}

/// A ratio put into a formula.
pub(crate) fn ratio(symbol: &'static str, name: &'static str, value: f64) -> Term {
    Term { symbol, name, value, unit: Unit::Number, digits: 6 }
}

/// A number put into a formula whose unit (N, mm²) stands in its name.
pub(super) fn plain(symbol: &'static str, name: &'static str, value: f64, digits: usize) -> Term {
    Term { symbol, name, value, unit: Unit::Number, digits }
}

/// Plane geometry of the side elevation, worked out in the project's own notes.
pub(crate) const GEOMETRY: &str =
    "plane geometry (docs/relations.md); range: common practice, no source";
