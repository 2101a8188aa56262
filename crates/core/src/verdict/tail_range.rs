//! Does a stop tail stand within its range?

use super::{CheckKind, Reading, at_least};
use crate::design::Tail;
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Tail within its range",
    question: "Does a stop tail stand within its range?",
    unit: Unit::Length,
    digits: 1,
    // a reserve both ways, not a range
    limit: at_least(-0.05, 0.0),
    measure: |design, _, limit| {
        let Tail::Stop { height, low, high, .. } = &design.tail else {
            return None;
        };
        let range = limit.as_reserve(low.to_mm(), high.to_mm())?;
        Some(Reading::new(height.to_mm(), range))
    },
    place: None,
    says: |design, _, reading| match &design.tail {
        Tail::Stop { low, high, .. } => sentence![
            "The tail stands at ",
            mm(reading.value, 1),
            "; it can be set from ",
            mm(low.to_mm(), 1),
            " to ",
            mm(high.to_mm(), 1),
            "."
        ],
        _ => sentence!["The tail stands at ", mm(reading.value, 1), "."],
    },
    working: |_, _, reading| Working {
        formula: "height, held against the lowest and highest it can be set to".into(),
        terms: vec![length("height", "tail height", reading.value)],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::TailHeight], &[Dim::TailLow], &[Dim::TailHigh]],
};
