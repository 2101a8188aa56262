use std::fmt;

use super::{Dim, Part, Role};
use crate::design::{Design, MOST_CAVITIES, MOST_PICKUPS, MOST_STRINGS};

/// A dimension of a certain design: one entry of the table, and for strings and
/// pickups which of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key {
    /// The entry.
    pub dim: Dim,
    /// Which string, pickup or cavity, from 0; 0 for all others.
    pub index: usize,
}

/// A text that names no dimension.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("there is no dimension `{text}`{}", hint.as_ref().map(|key| format!("; did you mean `{key}`?")).unwrap_or_default())]
pub struct UnknownKey {
    /// What was written.
    pub text: String,
    /// The nearest key there is.
    pub hint: Option<String>,
}

impl Key {
    /// Reads a key as it stands in files and on the command line: `joint.pitch`,
    /// `strings[1].nut_place` (string 1 is the treble).
    pub fn parse(text: &str) -> Result<Self, UnknownKey> {
        let text = text.trim();
        let unlisted = Dim::ALL.iter().map(|dim| dim.info()).find(|info| info.key == text);
        if let Some(info) = unlisted.filter(|info| !info.is_listed()) {
            return Ok(info.dim.key());
        }
        if let Some((list, rest)) = text.split_once('[')
            && let Some((number, field)) = rest.split_once(']')
            && let Ok(number @ 1..) = number.parse::<usize>()
        {
            let most = match list {
                "strings" => MOST_STRINGS,
                "pickups" => MOST_PICKUPS,
                _ => MOST_CAVITIES,
            };
            let pattern = format!("{list}[]{field}");
            let info = Dim::ALL.iter().map(|dim| dim.info()).find(|info| info.key == pattern);
            if let Some(info) = info.filter(|_| number <= most) {
                return Ok(Self { dim: info.dim, index: number - 1 });
            }
        }
        let short: String = text.chars().take(60).collect();
        let hint = nearest(&short, Dim::ALL.iter().map(|dim| dim.info().key));
        Err(UnknownKey { text: short, hint })
    }

    /// Every dimension that this design has, in the order of the table.
    pub fn all_of(design: &Design) -> Vec<Self> {
        let mut keys = Vec::with_capacity(160);
        for &dim in Dim::ALL {
            let count = match dim.info().part {
                Part::String => design.strings.len(),
                Part::Pickup => design.pickups.len(),
                Part::Cavity => design.cavities.len(),
                _ => 1,
            };
            keys.extend(
                (0..count)
                    .map(|index| Self { dim, index })
                    .filter(|key| dim.info().role == Role::Outcome || key.get(design).is_some()),
            );
        }
        keys
    }

    /// Its value in its unit (mm, degrees, count), or none if this kind of design has none.
    /// For an outcome: the value it is held at, if it is.
    pub fn get(self, design: &Design) -> Option<f64> {
        (self.dim.info().get)(design, self.index)
    }

    /// Puts a value, in its unit, into the design. Nothing happens if this kind of
    /// design has no such dimension or the value is not a number.
    pub fn set(self, design: &mut Design, value: f64) {
        if value.is_finite() {
            self.dim.info().put(design, self.index, value);
        }
    }

    /// Its name, with the string or pickup it belongs to.
    pub fn name(self, design: &Design) -> String {
        let info = self.dim.info();
        match info.part {
            Part::String => match design.strings.get(self.index) {
                Some(string) => {
                    format!("{}, string {} ({})", info.name, self.index + 1, string.name)
                }
                None => format!("{}, string {}", info.name, self.index + 1),
            },
            Part::Pickup => match design.pickups.get(self.index) {
                Some(pickup) => format!("{}, {}", info.name, pickup.name),
                None => format!("{}, {}", info.name, self.index + 1),
            },
            Part::Cavity => match design.cavities.get(self.index) {
                Some(cavity) => format!("{}, {}", info.name, cavity.name),
                None => format!("{}, {}", info.name, self.index + 1),
            },
            _ => info.name.to_owned(),
        }
    }

    /// Whether it is worked out rather than held.
    pub fn is_found(self, design: &Design) -> bool {
        match self.dim.info().role {
            Role::Closing => design.found.contains(self.dim.info().key),
            Role::Given => false,
            Role::Outcome => !design.targets.contains_key(self.dim.info().key),
        }
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let key = self.dim.info().key;
        match key.split_once("[]") {
            Some((list, field)) => write!(f, "{list}[{}]{field}", self.index + 1),
            None => f.write_str(key),
        }
    }
}

/// The candidate that takes the fewest changed letters, if it is near at all.
pub fn nearest<'a>(text: &str, candidates: impl Iterator<Item = &'a str>) -> Option<String> {
    let distance = |other: &str| {
        let (a, b): (Vec<char>, Vec<char>) = (text.chars().collect(), other.chars().collect());
        let mut row: Vec<usize> = (0..=b.len()).collect();
        for (i, x) in a.iter().enumerate() {
            let mut diagonal = row[0];
            row[0] = i + 1;
            for (j, y) in b.iter().enumerate() {
                let substitute = diagonal + usize::from(x != y);
                diagonal = row[j + 1];
                row[j + 1] = substitute.min(row[j] + 1).min(row[j + 1] + 1);
            }
        }
        row[b.len()]
    };
    let tail = |key: &str| key.rsplit('.').next().unwrap_or_default().to_owned();
    candidates
        .map(|key| (distance(key).min(if text == tail(key) { 0 } else { usize::MAX }), key))
        .min()
        .filter(|(steps, key)| *steps <= key.len() / 3)
        .map(|(_, key)| key.to_owned())
}
