//! Is the tenon as long as is usual for its depth?

use super::{CheckKind, Reading};
use crate::design::JointKind;
use crate::dimension::Dim;
use crate::joint::usual_length;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Tenon longer than usual",
    question: "Is the tenon as long as is usual for its depth?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(-8.0, 0.0),
    measure: |design, layout, limit| {
        let longer = design.joint.tenon_length.to_mm() - usual_length(layout);
        (design.joint.kind != JointKind::Through).then(|| Reading::new(longer, *limit))
    },
    place: None,
    says: |design, layout, _| {
        sentence![
            "The tenon is ",
            mm(design.joint.tenon_length.to_mm(), 1),
            " long; at its depth of ",
            mm(layout.outcome(Dim::DepthMouth).unwrap_or(0.0), 1),
            " it is usually ",
            mm(usual_length(layout), 0),
            " or more."
        ]
    },
    working: |design, _, reading| Working {
        formula: "ℓ - 700/max(o + d_0, 1), for a cheek of 700 mm²".into(),
        terms: vec![
            length("ℓ", "tenon length", design.joint.tenon_length.to_mm()),
            length("o", "overstand", design.joint.overstand.to_mm()),
            length("d_0", "pocket depth at the mouth", design.joint.pocket_depth.to_mm()),
        ],
        result: reading.value,
        source: "a cheek of 700 mm² or more: common practice, no source",
    },
    mends: &[&[Dim::TenonLength], &[Dim::PocketDepth]],
};
