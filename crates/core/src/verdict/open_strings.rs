//! Does every open string clear every fret?

use super::{CheckKind, Reading, fret_word, string_name};
use crate::design::Design;
use crate::dimension::Dim;
use crate::layout::Layout;
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
        let row = |string| layout.clearances.open_row(string);
        let strings = || 0..layout.strings.len();
        let least = Reading::worst_string(*limit, strings().map(|one| Some(least_of(row(one)))))?;
        if !limit.sides().1 {
            return Some(least);
        }
        let most = Reading::worst_string(*limit, strings().map(|one| Some(most_of(row(one)))))?;
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

fn least_of(row: &[f64]) -> f64 {
    side_by_side(row, f64::INFINITY, |a, b| if b < a { b } else { a })
}

fn most_of(row: &[f64]) -> f64 {
    side_by_side(row, f64::NEG_INFINITY, |a, b| if b > a { b } else { a })
}

/// What a choice of two leaves of a row, four chains at once.
fn side_by_side(row: &[f64], start: f64, choose: impl Fn(f64, f64) -> f64) -> f64 {
    let (fours, rest) = row.as_chunks::<4>();
    let mut kept = [start; 4];
    for four in fours {
        for (kept, &value) in kept.iter_mut().zip(four) {
            *kept = choose(*kept, value);
        }
    }
    kept.iter().chain(rest).fold(start, |a, &b| choose(a, b))
}

/// The fret over which it was measured.
fn place(_: &Design, layout: &Layout, reading: Reading) -> Reading {
    let row = reading.string.map(|string| layout.clearances.open_row(string));
    let at = row.and_then(|row| row.iter().position(|&clearance| clearance == reading.value));
    at.map_or(reading, |fret| reading.at_fret(0, fret + 1))
}
