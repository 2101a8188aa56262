//! Lying on its back, does the instrument stand on its body or on its headstock?

use super::working::{GEOMETRY, Working, angle, length};
use super::{CheckKind, Reading};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;

/// A tilted headstock on a pitched neck usually hangs below the back, and the body is
/// laid on a block. So the usual range reaches below the bench; whoever wants the head
/// to stay off it sets the limit to 0 (common practice, no source).
pub(super) static CHECK: CheckKind = CheckKind {
    name: "Headstock off the bench",
    question: "Lying on its back, does the instrument stand on its body or on its headstock?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(-80.0, -70.0),
    measure: |_, layout, limit| Some(Reading::new(layout.bench_gap, *limit)),
    place: None,
    says: |_, _, reading| {
        if reading.value < 0.0 {
            return sentence![
                "On its back, the headstock hangs ",
                mm(-reading.value, 1),
                " below the body: lay the body on a block."
            ];
        }
        sentence!["On its back, the headstock stays ", mm(reading.value, 1), " off the bench."]
    },
    working: |design, layout, reading| {
        let (u, v) = layout.head(design.head.length.to_mm(), -design.head.thickness.to_mm());
        let tip = layout.unstrung(u, v);
        Working {
            formula: "(Y_tip + H_0 + X_tip tan ψ) cos ψ",
            terms: vec![
                length("X_tip", "back of the tip along the datum", tip.x),
                length("Y_tip", "back of the tip over the datum", tip.y),
                length("H_0", "body thickness", design.body.thickness.to_mm()),
                angle("ψ", "body taper", design.body.taper.radians()),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::HeadAngle], &[Dim::BodyThickness], &[Dim::HeadDrop]],
};
