//! Do the strings pass over the bridge's rear edge on their way to the tail?

use super::{CheckKind, Reading, string_name};
use crate::design::{Design, Tail};
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "String over bridge edge",
    question: "Do the strings pass over the bridge's rear edge on their way to the tail?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(0.0, 0.5),
    measure: |design, layout, limit| Reading::worst_string(*limit, clearances(design, layout)?),
    place: None,
    says: |design, _, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        if reading.value <= 0.0 {
            return sentence!["Behind the crest ", string, " lies on the bridge's rear edge."];
        }
        sentence![
            "Behind the crest ",
            string,
            " passes the bridge's rear edge by ",
            mm(reading.value, 1),
            "."
        ]
    },
    working: |design, layout, reading| {
        let line = &layout.strings[reading.string.unwrap_or(0)];
        let tail = layout.tail().map_or((0.0, 0.0), |tail| (tail.x, tail.y));
        Working {
            formula: "Y_s + (Y_tail - Y_s) (X_e - X_s)/(X_tail - X_s) - (z + rise + edge)".into(),
            terms: vec![
                length("X_s", "crest from the joint", line.crest.x),
                length("Y_s", "crest over the datum", line.crest.y),
                length("X_tail", "tail from the joint", tail.0),
                length("Y_tail", "tail over the datum", tail.1),
                length("X_e", "rear edge from the joint", rear_edge(design, layout)),
                length("z", "top there", layout.top(rear_edge(design, layout))),
                length("rise", "top rises under the strings", design.body.top_rise.to_mm()),
                length("edge", "rear edge over the top", design.bridge.edge_height.to_mm()),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::TailHeight], &[Dim::EdgeHeight], &[Dim::TailStation], &[Dim::TailBehind]],
};

/// Height of each string over the rear edge; none where they end in the bridge itself,
/// or before the edge, as through holes in the bridge's plate.
fn clearances(design: &Design, layout: &Layout) -> Option<impl Iterator<Item = Option<f64>>> {
    match design.tail {
        Tail::Stop { .. } | Tail::Hung { .. } | Tail::Through { .. } => {}
        Tail::AtBridge { .. } | Tail::Wrapped => return None,
    }
    let tail = layout.tail()?;
    let edge = rear_edge(design, layout);
    // the bridge has risen with the top under it
    let base = layout.top(edge) + design.body.top_rise.to_mm();
    let clear = base + design.bridge.edge_height.to_mm();
    Some(layout.strings.iter().map(move |line| {
        let crest = line.crest;
        let over = crest.y + (tail.y - crest.y) * (edge - crest.x) / (tail.x - crest.x);
        (edge < tail.x && edge > crest.x).then_some(over - clear)
    }))
}

/// X of the bridge's rear edge.
pub(super) fn rear_edge(design: &Design, layout: &Layout) -> f64 {
    layout.middle.crest.x + design.bridge.base.to_mm() / 2.0
}
