//! Does the shoulder meet the body's end wall?

use super::{CheckKind, Reading};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Shoulder bearing",
    question: "Does enough of the shoulder meet the body's end wall?",
    unit: Unit::Length,
    digits: 1,
    // common practice, no source: a narrower strip crushes before it steadies the neck
    limit: super::at_least(0.0, 6.0),
    measure: |_, layout, limit| Some(Reading::new(layout.outcome(Dim::ShoulderBears)?, *limit)),
    place: None,
    says: |design, _, reading| {
        let shoulder = mm(design.joint.shoulder.to_mm(), 1);
        if reading.value <= 0.0 {
            return sentence![
                "The shoulder, ",
                shoulder,
                " down from the board, ends ",
                mm(-reading.value, 1),
                " above the top: it does not meet the body at all."
            ];
        }
        sentence![
            "Of the shoulder's ",
            shoulder,
            ", ",
            mm(reading.value, 1),
            " below the top bears on the end wall."
        ]
    },
    working: |design, _, reading| Working {
        formula: "S - o".into(),
        terms: vec![
            length("S", "shoulder", design.joint.shoulder.to_mm()),
            length("o", "overstand", design.joint.overstand.to_mm()),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::Shoulder], &[Dim::Overstand]],
};
