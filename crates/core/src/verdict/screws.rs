//! Do the screws of a screwed neck hold in the heel, and end before the board?

use super::{CheckKind, Reading};
use crate::design::{Design, JointKind};
use crate::dimension::Dim;
use crate::joint::{Screws, screws};
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

/// A thread shorter than some two diameters of the screw strips in wood (common practice,
/// no source).
pub(super) static BITE: CheckKind = CheckKind {
    name: "Screws reach into the heel",
    question: "Do the screws of a screwed neck hold in the heel?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(6.0, 10.0),
    measure: |design, layout, limit| Some(Reading::new(of(design, layout)?.bite, *limit)),
    place: None,
    says: |_, _, reading| {
        if reading.value <= 0.0 {
            return sentence![
                "The screws do not reach the heel: ",
                mm(-reading.value, 1),
                " lack."
            ];
        }
        sentence!["The screws reach ", mm(reading.value, 1), " into the heel."]
    },
    working: |design, layout, reading| Working {
        formula: "s - m, m the wood at X".into(),
        terms: terms(design, layout),
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::ScrewLength]],
};

/// The hole goes a little deeper than the screw, and what bears out under the board shows
/// through it (common practice, no source).
pub(super) static COVER: CheckKind = CheckKind {
    name: "Screw tips to the board",
    question: "Do the screws of a screwed neck end before the board?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(1.0, 2.0),
    measure: |design, layout, limit| Some(Reading::new(of(design, layout)?.cover, *limit)),
    place: None,
    says: |_, _, reading| {
        if reading.value <= 0.0 {
            return sentence![
                "The screws come through the heel into the board by ",
                mm(-reading.value, 1),
                "."
            ];
        }
        sentence!["The screws end ", mm(reading.value, 1), " under the board."]
    },
    working: |design, layout, reading| {
        let mut terms = terms(design, layout);
        let heel = of(design, layout).map_or(0.0, |screws| screws.heel);
        terms.push(length("τ", "heel there, square to the datum", heel));
        Working {
            formula: "τ - (s - m), m and τ at X".into(),
            terms,
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::ScrewLength]],
};

fn of(design: &Design, layout: &Layout) -> Option<Screws> {
    (design.joint.kind == JointKind::Screwed).then(|| screws(design, layout))
}

fn terms(design: &Design, layout: &Layout) -> Vec<crate::working::Term> {
    vec![
        length("s", "screw length", design.joint.screw_length.to_mm()),
        length("X", "screws from the joint", design.joint.screw_station.to_mm()),
        length(
            "m",
            "wood under the pocket there",
            of(design, layout).map_or(0.0, |screws| screws.under),
        ),
    ]
}
