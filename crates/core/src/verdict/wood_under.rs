//! Is enough wood left between the pocket's floor and the back?

use super::{CheckKind, Reading};
use crate::design::JointKind;
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, angle, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Wood under the pocket",
    question: "Is enough wood left between the pocket's floor and the back?",
    unit: Unit::Length,
    digits: 1,
    // 8 mm or more for a glued body
    limit: super::at_least(4.0, 8.0),
    measure: |design, layout, limit| {
        let wood = layout.outcome(Dim::WoodUnder)?;
        (design.joint.kind != JointKind::Through).then(|| Reading::new(wood, *limit))
    },
    place: None,
    says: |_, _, reading| {
        if reading.value <= 0.0 {
            return sentence!["The pocket comes through the back by ", mm(-reading.value, 1), "."];
        }
        sentence!["Under the pocket ", mm(reading.value, 1), " of wood is left to the back."]
    },
    working: |design, layout, reading| Working {
        formula:
            "min(H_0 + X_m tan ψ - (d_0 - X_m tan φ), H_0 + (ℓ + e) tan ψ - (d_0 - (ℓ + e) tan φ))"
                .into(),
        terms: vec![
            length("H_0", "body thickness at the joint", design.body.thickness.to_mm()),
            angle("ψ", "body taper", design.body.taper.radians()),
            length("d_0", "pocket depth at the mouth", design.joint.pocket_depth.to_mm()),
            angle("φ", "pocket floor", layout.floor()),
            length("X_m", "where the end wall meets the floor", layout.seat().mouth().0),
            length("ℓ", "tenon length", design.joint.tenon_length.to_mm()),
            length("e", "spare length", design.joint.spare_length.to_mm()),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::PocketDepth], &[Dim::Floor], &[Dim::BodyThickness]],
};
