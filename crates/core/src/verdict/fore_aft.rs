//! Do the saddles reach fore and aft to where each string's crest must lie?

use super::{CheckKind, Reading, at_least, string_name};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Saddles fore and aft",
    question: "Do the saddles reach fore and aft to where each string's crest must lie?",
    unit: Unit::Length,
    digits: 1,
    // a reserve both ways, not a range
    limit: at_least(0.0, 0.5),
    measure: |design, _, limit| {
        let half = design.bridge.travel.to_mm() / 2.0;
        if half == 0.0 {
            return None;
        }
        let range = limit.as_reserve(-half, half)?;
        let offsets = design.strings.iter().map(|one| Some(one.crest_offset.to_mm()));
        Reading::worst_string(range, offsets)
    },
    place: None,
    says: |design, _, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let left = design.bridge.travel.to_mm() / 2.0 - reading.value.abs();
        if left <= 0.0 {
            return sentence![
                "The saddle of ",
                string,
                " cannot move ",
                mm(reading.value.abs(), 1),
                " from the middle."
            ];
        }
        sentence!["The saddle of ", string, " has ", mm(left, 1), " of its travel left."]
    },
    working: |design, _, reading| Working {
        formula: "travel/2 - |offset|".into(),
        terms: vec![
            length("travel", "saddle travel, fore and aft", design.bridge.travel.to_mm()),
            length("offset", "crest beyond the middle crest", reading.value),
        ],
        result: design.bridge.travel.to_mm() / 2.0 - reading.value.abs(),
        source: GEOMETRY,
    },
    mends: &[&[Dim::Travel]],
};
