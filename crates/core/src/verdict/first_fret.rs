//! Does every open string clear fret 1 by a usual amount?

use super::{CheckKind, Reading, fret_word, string_name};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length, ratio};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Clear at fret 1",
    question: "Does every open string clear fret 1 by a usual amount?",
    unit: Unit::Length,
    digits: 2,
    // usual 0.3–0.6 mm, with room for nylon and bass (common practice, no source)
    limit: super::limit(0.1, 0.25, 0.8, 1.1),
    measure: |_, layout, limit| {
        let clear = layout.strings.iter().map(|line| Some(line.first_fret));
        Some(Reading::worst_string(*limit, clear)?.at_fret(0, 1))
    },
    place: None,
    says: |design, layout, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let fret = fret_word(layout);
        sentence!["Open, ", string, " stands ", mm(reading.value, 2), " over ", fret, 1_usize, "."]
    },
    working: |_, layout, reading| {
        let string = reading.string.unwrap_or(0);
        let line = &layout.strings[string];
        Working {
            formula: "clearance = p + q u_1 - crown".into(),
            terms: vec![
                length("p", "string at the nut face", line.nut_v),
                ratio("q", "rise per mm", line.slope),
                length("u_1", "fret 1 from the nut", layout.positions[0]),
                length(
                    "crown",
                    "crown 1 over the straight board",
                    layout.clearances.crown(string, 1),
                ),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[
        &[Dim::FirstFretTreble],
        &[Dim::FirstFretBass],
        &[Dim::ZeroFretHeight],
        &[Dim::FirstFretBass, Dim::FirstFretTreble],
        &[Dim::Relief],
    ],
};
