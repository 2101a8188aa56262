//! On a shared crest only the outer strings get the action that is wanted: how far
//! off are the inner ones?

use super::{CheckKind, Reading, string_name};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Inner strings",
    question: "On a shared crest only the outer strings get the action that is wanted: how far off are the inner ones?",
    unit: Unit::Length,
    digits: 2,
    limit: super::limit(-0.6, -0.3, 0.3, 0.6),
    measure: |_, layout, limit| {
        layout.posts?;
        let off = layout.strings.iter().map(|line| Some(line.action - line.wanted_action));
        Reading::worst_string(*limit, off)
    },
    place: None,
    says: |design, layout, reading| {
        let index = reading.string.unwrap_or(0);
        let string = string_name(design, index);
        let side = if reading.value < 0.0 { " lower than wanted" } else { " higher than wanted" };
        sentence![
            "The crest's radius puts ",
            string,
            " at ",
            mm(layout.strings[index].action, 2),
            ", ",
            mm(reading.value.abs(), 2),
            side,
            "."
        ]
    },
    working: |design, layout, reading| {
        let index = reading.string.unwrap_or(0);
        let line = &layout.strings[index];
        let radius = design.bridge.kind.shared_crest().map_or(0.0, |(radius, _)| radius.to_mm());
        let place = design.strings.get(index).map_or(0.0, |string| string.crest_place.to_mm());
        Working {
            formula: "action - wanted, from the crest v = v_c + τ w - (R_c - √(R_c² - w²))".into(),
            terms: vec![
                length("R_c", "crest radius", radius),
                length("w", "string from the centre line", place),
                length("v", "its crest over the straight board", line.crest_v),
                length("action", "what it comes to", line.action),
                length("wanted", "between bass and treble", line.wanted_action),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::CrestRadius], &[Dim::RadiusNut], &[Dim::RadiusEnd]],
};
