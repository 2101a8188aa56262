//! Does the neck bend forward a little, and not back?

use super::{CheckKind, Reading, fret_word};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length, ratio};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Relief",
    question: "Does the neck bend forward a little, and not back?",
    unit: Unit::Length,
    digits: 2,
    // a straight neck is good, a back-bowed one is not; usual 0.10–0.35 mm
    limit: super::limit(-0.05, 0.0, 0.5, 0.8),
    measure: |design, _, limit| Some(Reading::new(design.wanted.relief.to_mm(), *limit)),
    place: None,
    says: |design, layout, reading| {
        let from = usize::from(design.wanted.relief_from);
        let to = match design.wanted.relief_to {
            0 => design.joint.fret,
            fret => fret,
        };
        if reading.value < 0.0 {
            return sentence!["The neck is bowed back by ", mm(-reading.value, 2), "."];
        }
        sentence![
            mm(reading.value, 2),
            " under a straightedge from ",
            fret_word(layout),
            from,
            " to ",
            usize::from(to),
            "."
        ]
    },
    // the relief is given; what follows from it is how far the nut rises
    working: |_, layout, reading| Working {
        formula: "r, as wanted; it lifts the nut by κ u_J²/2".into(),
        terms: vec![
            length("r", "relief", reading.value),
            ratio("κ", "bend per mm", layout.bend),
            length("u_J", "joint from the nut", layout.joint_from_nut),
            length("κ u_J²/2", "lift of the nut", layout.lift(0.0)),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::Relief]],
};
