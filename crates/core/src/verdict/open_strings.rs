//! Does every open string clear every fret?

use super::{CheckKind, Reading, fret_word, string_name};
use crate::design::Design;
use crate::dimension::Dim;
use crate::layout::{Layout, greater, lesser};
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Open strings clear",
    question: "Does every open string clear every fret?",
    unit: Unit::Length,
    digits: 2,
    limit: super::at_least(0.0, 0.15),
    measure: |_, layout, limit| {
        if layout.clearances.frets() == 0 {
            return None;
        }
        // of one string either the least or the most is worst
        let open = &layout.clearances;
        let least_of = open.open_chosen(f64::INFINITY, lesser);
        let most_of = open.open_chosen(f64::NEG_INFINITY, greater);
        let strings = layout.strings.len();
        let least = Reading::worst_string(*limit, least_of.take(strings).map(Some))?;
        if !limit.sides().1 {
            return Some(least);
        }
        let most = Reading::worst_string(*limit, most_of.take(strings).map(Some))?;
        Some(if most.margin() < least.margin() { most } else { least })
    },
    place: Some(place),
    says: |design, layout, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let fret = reading.fret.map_or(1, |(_, fret)| fret);
        let word = fret_word(layout);
        if reading.value <= 0.0 {
            sentence![
                "Open, ",
                string,
                " lies on ",
                word,
                fret,
                ": it needs ",
                mm(-reading.value, 2),
                " more."
            ]
        } else {
            sentence![
                "Least of all ",
                string,
                ", open, clears ",
                word,
                fret,
                " by ",
                mm(reading.value, 2),
                "."
            ]
        }
    },
    working: |_, layout, reading| {
        let string = reading.string.unwrap_or(0);
        let fret = reading.fret.map_or(1, |(_, fret)| fret);
        let line = &layout.strings[string];
        Working {
            formula: "clearance = p + q u - crown".into(),
            terms: vec![
                length("p", "string at the nut face", line.nut_v),
                crate::working::ratio("q", "rise per mm", line.slope),
                length("u", "fret from the nut", layout.positions[fret - 1]),
                length(
                    "crown",
                    "crown over the straight board",
                    layout.clearances.crown(string, fret),
                ),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[
        &[Dim::ActionBass],
        &[Dim::ActionTreble],
        &[Dim::FirstFretBass],
        &[Dim::FirstFretTreble],
        &[Dim::FirstFretBass, Dim::FirstFretTreble],
        &[Dim::Relief],
    ],
};

/// The fret over which it was measured.
fn place(_: &Design, layout: &Layout, reading: Reading) -> Reading {
    let Some(string) = reading.string else { return reading };
    let mut frets = 1..=layout.clearances.frets();
    let at = frets.find(|&fret| layout.clearances.open(string, fret) == reading.value);
    at.map_or(reading, |fret| reading.at_fret(0, fret))
}
