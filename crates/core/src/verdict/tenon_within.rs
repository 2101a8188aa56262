//! Does the neck's heel cover the tenon?

use super::{CheckKind, Reading};
use crate::design::JointKind;
use crate::dimension::Dim;
use crate::joint::beside_tenon;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Tenon within heel",
    question: "Is the neck at least as wide as the tenon that is cut from it?",
    unit: Unit::Length,
    digits: 1,
    // common practice, no source: a tenon may be as wide as the neck, and what a cheek stands
    // proud by a shaving or two is flushed off
    limit: super::at_least(-2.0, -0.5),
    measure: |design, _, limit| {
        (design.joint.kind != JointKind::Through)
            .then(|| Reading::new(beside_tenon(design), *limit))
    },
    place: None,
    says: |design, _, reading| {
        let (tenon, neck) = (design.joint.tenon_width.to_mm(), design.neck.width_heel.to_mm());
        if reading.value <= -0.05 {
            return sentence![
                "The tenon is ",
                mm(tenon, 1),
                " wide, the neck there only ",
                mm(neck, 1),
                ": each cheek stands proud by ",
                mm(-reading.value, 1),
                "."
            ];
        }
        if reading.value < 0.05 {
            return sentence!["The tenon is as wide as the neck at the joint, ", mm(neck, 1), "."];
        }
        sentence![
            "The neck is ",
            mm(neck, 1),
            " wide at the joint: beside the tenon ",
            mm(reading.value, 1),
            " is left on each side."
        ]
    },
    working: |design, _, reading| Working {
        formula: "(b - w)/2".into(),
        terms: vec![
            length("b", "neck width at the joint", design.neck.width_heel.to_mm()),
            length("w", "tenon width", design.joint.tenon_width.to_mm()),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::TenonWidth], &[Dim::NeckWidthHeel]],
};
