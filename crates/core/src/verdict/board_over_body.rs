//! Does the board pass over the body's top without cutting into it?

use super::{CheckKind, Reading};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, angle, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Board over body",
    question: "Does the board pass over the body's top without cutting into it?",
    unit: Unit::Length,
    digits: 2,
    // flush is good; a clash of a tenth or more must be cut away somewhere
    limit: super::at_least(-0.15, -0.05),
    measure: |_, layout, limit| Some(Reading::new(layout.board_gap.0, *limit)),
    place: None,
    says: |_, layout, reading| {
        let at = layout.board_gap.1;
        if reading.value < -0.05 {
            return sentence![
                "The board cuts ",
                mm(-reading.value, 1),
                " into the top, ",
                mm(at, 0),
                " from the joint."
            ];
        }
        if reading.value < 0.05 {
            let end = layout.board_end_gap.max(0.0);
            return sentence![
                "The board lies on the top; at its end it clears it by ",
                mm(end, 1),
                "."
            ];
        }
        sentence![
            "The board clears the top: ",
            mm(reading.value, 1),
            " where it is nearest, ",
            mm(layout.board_end_gap.max(0.0), 1),
            " at its end."
        ]
    },
    working: |design, layout, reading| {
        let (_, x) = layout.board_gap;
        Working {
            formula: "gap = o + X tan θ - z(X), least up to the board's end".into(),
            terms: vec![
                length("o", "overstand", design.joint.overstand.to_mm()),
                angle("θ", "pitch", layout.pitch),
                length("X", "where it is least", x),
                length("z(X)", "top there", layout.top(x)),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::Overstand], &[Dim::Pitch], &[Dim::RampAngle]],
};
