//! Does the tail stand behind the bridge?

use super::bridge_edge::rear_edge;
use super::{CheckKind, Reading};
use crate::design::{Design, Tail};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Tail behind bridge",
    question: "Does the tail stand behind the bridge, with room between them?",
    unit: Unit::Length,
    digits: 1,
    // common practice, no source: room to thread the strings
    limit: super::at_least(0.0, 5.0),
    measure: |design, layout, limit| {
        Some(Reading::new(station(design)? - rear_edge(design, layout), *limit))
    },
    place: None,
    says: |_, _, reading| {
        if reading.value <= 0.0 {
            return sentence![
                "The tail's edge lies ",
                mm(-reading.value, 1),
                " before the bridge's rear edge: both would stand in the same place."
            ];
        }
        sentence!["Between the bridge and the tail ", mm(reading.value, 1), " is left."]
    },
    working: |design, layout, reading| Working {
        formula: "X_tail - (X_s + base/2)".into(),
        terms: vec![
            length("X_tail", "tail from the joint", station(design).unwrap_or(f64::NAN)),
            length("X_s", "crest from the joint", layout.middle.crest.x),
            length("base", "bridge base", design.bridge.base.to_mm()),
        ],
        result: reading.value,
        source: GEOMETRY,
    },
    mends: &[&[Dim::TailStation], &[Dim::BridgeBase]],
};

/// X of the edge of a tail that stands by itself.
fn station(design: &Design) -> Option<f64> {
    match design.tail {
        Tail::Stop { station, .. } | Tail::Hung { station, .. } => Some(station.to_mm()),
        Tail::AtBridge { .. } | Tail::Through { .. } | Tail::Wrapped => None,
    }
}
