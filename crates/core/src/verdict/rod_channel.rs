//! Is enough wood left under the rod's channel, in the neck and in the tenon?

use super::{CheckKind, Reading};
use crate::dimension::Dim;
use crate::joint::wood_under_rod;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Wood under the rod",
    question: "Is enough wood left under the rod's channel, in the neck and in the tenon?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(2.0, 3.5),
    measure: |design, layout, limit| {
        wood_under_rod(design, layout).map(|(wood, _)| Reading::new(wood, *limit))
    },
    place: None,
    says: |design, layout, reading| {
        let at = wood_under_rod(design, layout).map_or(0.0, |(_, u)| u);
        let place = if at >= layout.joint_from_nut - 1e-9 { "tenon" } else { "neck" };
        if reading.value <= 0.0 {
            return sentence![
                "The rod's channel comes through the ",
                place,
                " ",
                mm(at, 0),
                " from the nut."
            ];
        }
        sentence![
            "Under the rod's channel ",
            mm(reading.value, 1),
            " of the ",
            place,
            " is left where it is thinnest, ",
            mm(at, 0),
            " from the nut."
        ]
    },
    working: |design, layout, reading| Working {
        formula: "wood = k - c, at u, square to the board".into(),
        terms: vec![
            length(
                "k",
                "neck or tenon under the glue face there",
                reading.value + design.neck.rod_depth.to_mm(),
            ),
            length("c", "the channel's depth", design.neck.rod_depth.to_mm()),
            length(
                "u",
                "where it is least, from the nut",
                wood_under_rod(design, layout).map_or(0.0, |(_, u)| u),
            ),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::RodDepth], &[Dim::NeckDepthFirst], &[Dim::RodEnd], &[Dim::PocketDepth]],
};
