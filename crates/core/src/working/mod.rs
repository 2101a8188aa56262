//! How the numbers came about: each as a formula, with the numbers put in, unit and source,
//! and the chain of steps that leads to it from the dimensions of the design.
//!
//! A formula is reckoned out as on a pocket calculator set to degrees. Numbers are written
//! with as many digits as it takes for the next step to come out, in millimetres and degrees
//! whatever the units on the screen: a bend per mm, a density or a tension has no other.

mod chain;
mod crest;
mod figure;
mod formula;
mod line;
mod note;
mod of_string;
mod pull;
mod sheet;

use std::borrow::Cow;
use std::sync::LazyLock;

pub use crate::dryfit::OfFit;
pub use crate::risk::{OfError, OfSpread, OfTrials};
pub(crate) use chain::{Bench, In};
pub use chain::{Chain, Step};
pub use figure::Figure;
pub use of_string::{OfString, Together};
pub use sheet::{Section, WorkedSheet};

use crate::units::Unit;

/// Decimals to which lengths are put in, mm: a sum of some of them is right to a thousandth.
pub(crate) const LENGTH_DIGITS: usize = 4;
/// The same of angles, degrees: at 1 m that is 0.0001 mm.
pub(crate) const ANGLE_DIGITS: usize = 5;
/// The same of a rise per mm: at 1 m that is 0.000005 mm.
pub(crate) const RATIO_DIGITS: usize = 8;

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
    /// What stands behind the number: `mm`, `°`, `N`.
    pub sign: &'static str,
    /// Decimals to show, so that the sum can be followed by hand.
    pub digits: usize,
}

impl Term {
    /// The number with its unit: `378.778 mm`, `3°`.
    pub fn text(&self) -> String {
        quantity(self.value, self.digits, self.sign)
    }

    /// The number as it stands in a formula: a negative one in brackets.
    fn put_in(&self) -> String {
        let degrees = if self.unit == Unit::Angle { "°" } else { "" };
        let number = trimmed(self.value, self.digits) + degrees;
        if number.starts_with('-') { format!("({number})") } else { number }
    }
}

/// How a number came about: formula, numbers put in, result, source.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// The formula in the letters of its terms.
    pub formula: Cow<'static, str>,
    /// The numbers put in.
    pub terms: Vec<Term>,
    /// What it comes to, in its unit: mm, degrees.
    pub result: f64,
    /// Where the formula comes from, and the range it is held against.
    pub source: &'static str,
}

impl Working {
    /// The formula with its numbers in place of the letters, as it is typed into a calculator.
    pub fn put_in(&self) -> String {
        // every formula of the program is taken apart in the tests
        formula::put_in(&self.formula, &self.terms).unwrap_or_default()
    }
}

/// Reckons out a text such as [`Working::put_in`] makes, as a pocket calculator set to degrees
/// does; none where it is no sum.
///
/// ```
/// use overstand_core::working::reckon;
///
/// assert_eq!(reckon("250 × cos 0° + 2^(-12/12)"), Some(250.5));
/// assert_eq!(reckon("250 +"), None);
/// ```
pub fn reckon(text: &str) -> Option<f64> {
    formula::reckon(text)
}

/// A number in so many decimals; one that is exact in fewer, without the zeros at its end.
/// Below zero it has the hyphen that a calculator takes.
pub(crate) fn trimmed(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let text = format!("{value:.digits$}");
    let shown: f64 = text.parse().unwrap_or(f64::NAN);
    let text = match (shown - value).abs() < 1e-9 && text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.'),
        false => text.as_str(),
    };
    let is_nothing = shown == 0.0;
    text.strip_prefix('-').filter(|_| is_nothing).unwrap_or(text).to_owned()
}

/// A number with its unit.
pub(crate) fn quantity(value: f64, digits: usize, sign: &str) -> String {
    let number = trimmed(value, digits);
    match sign {
        "" | "°" => number + sign,
        _ => format!("{number} {sign}"),
    }
}

/// A length put into a formula, mm.
pub(crate) fn length(symbol: &'static str, name: &'static str, value: f64) -> Term {
    Term { symbol, name, value, unit: Unit::Length, sign: "mm", digits: LENGTH_DIGITS }
}

/// An angle put into a formula, radians in, degrees shown.
pub(crate) fn angle(symbol: &'static str, name: &'static str, radians: f64) -> Term {
    let value = radians.to_degrees();
    Term { symbol, name, value, unit: Unit::Angle, sign: "°", digits: ANGLE_DIGITS }
}

/// A ratio put into a formula.
pub(crate) fn ratio(symbol: &'static str, name: &'static str, value: f64) -> Term {
    Term { symbol, name, value, unit: Unit::Number, sign: "", digits: RATIO_DIGITS }
}

/// A whole number put into a formula.
pub(crate) fn count(symbol: &'static str, name: &'static str, value: usize) -> Term {
    Term { symbol, name, value: value as f64, unit: Unit::Count, sign: "", digits: 0 }
}

/// A number put into a formula, in any other unit.
pub(crate) fn plain(
    symbol: &'static str,
    name: &'static str,
    value: f64,
    digits: usize,
    sign: &'static str,
) -> Term {
    Term { symbol, name, value, unit: Unit::Number, sign, digits }
}

/// Letters of what there may be many of, `k_1` and on.
const MANY: [&str; 6] = ["a", "b", "g", "k", "s", "w"];
/// So many of each: more than there are errors of a design or readings of a round.
const MOST_LETTERS: usize = 400;

static LETTERS: LazyLock<Vec<Vec<String>>> = LazyLock::new(|| {
    let numbered = |stem: &&str| (1..=MOST_LETTERS).map(|n| format!("{stem}_{n}")).collect();
    MANY.iter().map(numbered).collect()
});

/// The letter of one of many, counted from 1; a dash, which is no letter, of more than there
/// may be.
pub(crate) fn letter(stem: &str, number: usize) -> &'static str {
    let list = MANY.iter().position(|one| *one == stem).and_then(|place| LETTERS.get(place));
    let one = list.zip(number.checked_sub(1)).and_then(|(list, index)| list.get(index));
    one.map_or("–", String::as_str)
}

/// Plane geometry of the side elevation, worked out in the project's own notes.
pub(crate) const GEOMETRY: &str =
    "plane geometry (docs/relations.md); range: common practice, no source";
/// The same without a range.
pub(crate) const PLANE: &str = "plane geometry (docs/relations.md)";
/// Where frets lie.
pub(crate) const FRETS: &str = "twelve-tone equal temperament (ISO 16 for the pitch of A4)";
/// How the neck bends.
pub(crate) const BEND: &str = "sag of an evenly bent beam: Gere, Mechanics of Materials, ch. 5; that a neck bends evenly up \
     to the joint is an assumption of this program";
/// What a string pulls.
pub(crate) const STRING: &str = "ideal string, Mersenne's law";
/// What materials are.
pub(crate) const MATERIAL: &str = "steel wire: 7850 kg/m³, ASTM A228 and spring makers' \
                                   handbooks; other materials from memory";
/// How a plucked string moves.
pub(crate) const PLUCK: &str =
    "plucked ideal string: Fletcher and Rossing, The Physics of Musical Instruments, ch. 2";
/// What makes stopped notes sharp.
pub(crate) const NOTES: &str = "stretch by stopping: model after Varieschi and Gower, Am. J. \
                                Phys. 78, 47 (2010); stiffness: H. Fletcher, J. Acoust. Soc. \
                                Am. 36, 203 (1964)";
