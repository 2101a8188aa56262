//! What a check measured: of many strings and frets the number that decides.

use super::State;
use crate::design::Limit;
use crate::layout::{Bend, Layout, StringLine};

/// What a check measured, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The value that decides, in the check's unit.
    pub value: f64,
    /// The range it is held against.
    pub limit: Limit,
    /// The string it was measured at, from 0.
    pub string: Option<usize>,
    /// The fret it was measured at; with a stopped string (stop, fret).
    pub fret: Option<(usize, usize)>,
    /// The pickup it was measured at, from 0.
    pub pickup: Option<usize>,
}

impl Reading {
    pub(super) fn new(value: f64, limit: Limit) -> Self {
        Self { value, limit, string: None, fret: None, pickup: None }
    }

    pub(super) fn on_string(self, string: usize) -> Self {
        Self { string: Some(string), ..self }
    }

    pub(super) fn at_fret(self, stop: usize, fret: usize) -> Self {
        Self { fret: Some((stop, fret)), ..self }
    }

    pub(super) fn at_pickup(self, pickup: usize) -> Self {
        Self { pickup: Some(pickup), ..self }
    }

    /// See [`Limit::margin`].
    pub fn margin(&self) -> f64 {
        self.limit.margin(self.value)
    }

    /// See [`Limit::state`].
    pub fn state(&self) -> State {
        self.limit.state(self.value)
    }

    /// The worst of one number of each string, string by string, against one range: as a
    /// margin falls off to both sides, that is the least or the greatest.
    pub(super) fn worst_string(
        limit: Limit,
        values: impl Iterator<Item = Option<f64>>,
    ) -> Option<Self> {
        Some(Self::worse(limit, ends(values)?))
    }

    /// The same of bends, against a range in degrees.
    pub(super) fn worst_bend(
        limit: Limit,
        layout: &Layout,
        bend: impl Fn(&StringLine) -> Option<Bend>,
    ) -> Option<Self> {
        let of = |string: &StringLine| Some(bend(string)?.order());
        let found = ends(layout.strings.iter().map(of))?;
        let angle = |(string, _): (usize, f64)| {
            (string, bend(&layout.strings[string]).map_or(f64::NAN, Bend::to_degrees))
        };
        Some(Self::worse(limit, found.map(angle)))
    }

    /// The worse of the least and the greatest number, each with its string.
    fn worse(limit: Limit, [least, most]: [(usize, f64); 2]) -> Self {
        let above = match limit.sides() {
            (_, false) => false,
            (false, true) => most.1 > least.1,
            (true, true) => limit.margin(most.1) < limit.margin(least.1),
        };
        let (string, value) = if above { most } else { least };
        Self::new(value, limit).on_string(string)
    }

    /// The one with the least margin.
    pub(super) fn worst(readings: impl Iterator<Item = Self>) -> Option<Self> {
        let mut worst: Option<(f64, Self)> = None;
        for reading in readings {
            let margin = reading.margin();
            if worst.is_none_or(|(least, _)| margin.total_cmp(&least).is_lt()) {
                worst = Some((margin, reading));
            }
        }
        worst.map(|(_, reading)| reading)
    }
}

/// The least and the greatest of some numbers, each with its place; what is none is passed
/// over.
fn ends(values: impl Iterator<Item = Option<f64>>) -> Option<[(usize, f64); 2]> {
    let mut ends: Option<[(usize, f64); 2]> = None;
    for (place, value) in values.enumerate() {
        // what is not a number is neither less nor more
        let Some(value) = value.filter(|value| !value.is_nan()) else { continue };
        let Some([least, most]) = &mut ends else {
            ends = Some([(place, value); 2]);
            continue;
        };
        // place and number each by itself: a choice of both at once would be a jump, and which
        // string it falls on cannot be foretold
        least.0 = if value < least.1 { place } else { least.0 };
        least.1 = if value < least.1 { value } else { least.1 };
        most.0 = if value > most.1 { place } else { most.0 };
        most.1 = if value > most.1 { value } else { most.1 };
    }
    ends
}
