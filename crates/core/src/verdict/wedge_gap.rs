//! Does the wedge under the board's end fill its gap?

use super::{CheckKind, Reading};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Gap over the wedge",
    question: "Does the wedge under the board's end fill its gap?",
    unit: Unit::Length,
    digits: 2,
    // a shaving either way is taken off or filled with glue
    limit: super::limit(-0.4, -0.15, 0.15, 0.4),
    measure: |design, layout, limit| {
        let gap = layout.outcome(Dim::WedgeGap)?;
        (design.joint.wedge_length.to_mm() > 0.0).then(|| Reading::new(gap, *limit))
    },
    place: None,
    says: |_, _, reading| {
        if reading.value.abs() < 0.05 {
            sentence!["The wedge fills the gap under the board's end."]
        } else if reading.value > 0.0 {
            sentence!["The board's end hangs ", mm(reading.value, 2), " over its wedge."]
        } else {
            sentence!["The wedge lifts the board's end by ", mm(-reading.value, 2), "."]
        }
    },
    working: |design, layout, reading| Working {
        formula: "gap = end - wedge".into(),
        terms: vec![
            length("end", "underside over the top at the board's end", layout.board_end_gap),
            length("wedge", "wedge height", design.joint.wedge_height.to_mm()),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::WedgeHeight], &[Dim::RampAngle], &[Dim::Overstand]],
};
