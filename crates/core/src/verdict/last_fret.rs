//! How high do the open strings stand over the last fret?

use super::{CheckKind, Reading, fret_word, string_name};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length, ratio};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Clearance at last fret",
    question: "How high do the open strings stand over the last fret?",
    unit: Unit::Length,
    digits: 2,
    limit: super::limit(0.5, 0.9, 6.0, 8.0),
    measure: |_, layout, limit| {
        let last = layout.clearances.frets();
        if last == 0 {
            return None;
        }
        let strings = 0..layout.strings.len();
        let clear = strings.map(|string| Some(layout.clearances.open(string, last)));
        Some(Reading::worst_string(*limit, clear)?.at_fret(0, last))
    },
    place: None,
    says: |design, layout, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let fret = reading.fret.map_or(1, |(_, fret)| fret);
        sentence![
            "Open, ",
            string,
            " stands ",
            mm(reading.value, 2),
            " over the last, ",
            fret_word(layout),
            fret,
            "."
        ]
    },
    working: |_, layout, reading| {
        let string = reading.string.unwrap_or(0);
        let last = layout.clearances.frets();
        let line = &layout.strings[string];
        Working {
            formula: "clearance = p + q u - crown".into(),
            terms: vec![
                length("p", "string at the nut face", line.nut_v),
                ratio("q", "rise per mm", line.slope),
                length("u", "last fret from the nut", layout.positions[last - 1]),
                length(
                    "crown",
                    "its crown over the straight board",
                    layout.clearances.crown(string, last),
                ),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[
        &[Dim::ActionTreble],
        &[Dim::ActionBass],
        &[Dim::ActionTreble, Dim::ActionBass],
        &[Dim::Fall],
    ],
};
