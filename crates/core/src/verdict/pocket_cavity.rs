//! Does the pocket's floor stay clear of the cavities?

use super::{CheckKind, Reading};
use crate::design::Design;
use crate::dimension::Dim;
use crate::joint::wood_to_cavity;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Pocket to cavity",
    question: "Does the pocket's floor stay clear of the cavities?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(0.0, 4.0),
    measure: |design, layout, limit| {
        wood_to_cavity(design, layout).map(|(wood, _)| Reading::new(wood, *limit))
    },
    place: None,
    says: |design, layout, reading| {
        let name = cavity(design, layout).map_or("", |cavity| cavity.name.as_str());
        if reading.value <= 0.0 {
            return sentence![
                "The pocket, spare length included, runs into the ",
                name.to_owned(),
                " cavity by ",
                mm(-reading.value, 1),
                ": the floor is lost there."
            ];
        }
        sentence![
            "Between the pocket's end and the ",
            name.to_owned(),
            " cavity ",
            mm(reading.value, 1),
            " of wood is left."
        ]
    },
    working: |design, layout, reading| Working {
        formula: "wood = X_c - (ℓ + e)".into(),
        terms: vec![
            length(
                "X_c",
                "the cavity starts at",
                cavity(design, layout).map_or(0.0, |cavity| cavity.from.to_mm()),
            ),
            length("ℓ", "tenon length", design.joint.tenon_length.to_mm()),
            length("e", "spare length", design.joint.spare_length.to_mm()),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::SpareLength], &[Dim::TenonLength], &[Dim::CavityFrom]],
};

fn cavity<'a>(design: &'a Design, layout: &Layout) -> Option<&'a crate::design::Cavity> {
    design.cavities.get(wood_to_cavity(design, layout)?.1)
}
