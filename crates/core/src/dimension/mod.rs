//! The table of dimensions: each one is one entry, and all that speaks of it
//! (fields, `--set`, tips, docs, undo labels, sensitivities, the compare table)
//! is made from that entry.

mod access;
mod key;
mod part;
mod table;
mod values;

use std::fmt;

pub use key::{Key, UnknownKey, nearest};
pub use part::{Part, Role};
pub use table::Dim;
pub use values::Values;

use crate::design::{Design, Making};
use crate::units::{Angle, Unit};

/// How a dimension is usually made and how true it then comes out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// How it is made.
    pub making: Making,
    /// ± by which it then misses with care, in its unit (common practice, no source).
    pub plus_minus: f64,
}

impl Usual {
    /// ± of the same dimension made in another way.
    pub fn made(self, making: Making) -> f64 {
        self.plus_minus * making.trueness() / self.making.trueness()
    }
}

/// One entry of the table.
#[derive(Clone, Copy)]
pub struct Dimension {
    /// Which one it is.
    pub dim: Dim,
    /// Its key; `strings[]`, `pickups[]` and `cavities[]` stand for one of several.
    pub key: &'static str,
    /// Its name on screen, in sentence case.
    pub name: &'static str,
    /// Millimetres, degrees or a count.
    pub unit: Unit,
    /// Smallest value that is taken, in its unit.
    pub low: f64,
    /// Largest value that is taken, in its unit.
    pub high: f64,
    /// Decimals that mean something at the bench.
    pub digits: usize,
    /// The change that weighs as much as such a change of any other when
    /// several can give, in its unit.
    pub step: f64,
    /// How it is usually made and how true it then comes out; none where it is exact.
    pub tolerance: Option<Usual>,
    /// What it does in the layout.
    pub role: Role,
    /// Usual values (common practice, no source), or nothing to say.
    pub usual: &'static str,
    /// What it means.
    pub meaning: &'static str,
    part: Part,
    get: fn(&Design, usize) -> Option<f64>,
    set: fn(&mut Design, usize, f64),
}

impl fmt::Debug for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Dimension").field("key", &self.key).finish_non_exhaustive()
    }
}

impl Dimension {
    /// The part it belongs to, which its key begins with.
    pub fn part(&self) -> Part {
        self.part
    }

    /// Whether there is one for each string, pickup or cavity.
    pub fn is_listed(&self) -> bool {
        matches!(self.part, Part::String | Part::Pickup | Part::Cavity)
    }

    /// Puts a number, in its unit, into the design: of the `index`-th string, pickup or cavity,
    /// if it is of one.
    pub(crate) fn put(&self, design: &mut Design, index: usize, value: f64) {
        (self.set)(design, index, value);
    }

    /// Into the unit the geometry works in (radians for an angle).
    pub(crate) fn inward(&self, value: f64) -> f64 {
        if self.unit == Unit::Angle { Angle::degrees(value).radians() } else { value }
    }

    /// Out of the unit the geometry works in.
    pub(crate) fn outward(&self, value: f64) -> f64 {
        if self.unit == Unit::Angle { Angle::from_radians(value).to_degrees() } else { value }
    }
}

#[cfg(test)]
mod tests {
    use super::table::TABLE;
    use super::*;

    #[test]
    fn every_entry_makes_sense() {
        for (index, info) in TABLE.iter().enumerate() {
            assert_eq!(info.dim as usize, index, "{} stands in another place", info.key);
            assert!(info.low < info.high && info.step > 0.0, "{} has no room", info.key);
            assert!(info.meaning.ends_with('.'), "{} is not explained", info.key);
            let key = Key { dim: info.dim, index: 0 };
            assert_eq!(Key::parse(&key.to_string()), Ok(key));
        }
    }

    #[test]
    fn a_slip_of_the_pen_is_answered_with_the_key_meant() {
        assert_eq!(Key::parse("joint.pich").unwrap_err().hint.as_deref(), Some("joint.pitch"));
        assert_eq!(Key::parse("overstand").unwrap_err().hint.as_deref(), Some("joint.overstand"));
        assert_eq!(Key::parse("strings[0].nut_place").unwrap_err().text, "strings[0].nut_place");
        assert!(Key::parse("strings[13].nut_place").is_err());
        assert!(Key::parse("").is_err());
    }
}
