//! Do all crests that the strings need lie within what the bridge can be set to,
//! with room left both ways?

use super::{CheckKind, Reading, at_least};
use crate::design::{Design, Limit};
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

/// The default is a reserve, not a range: this much of the travel is to be kept
/// both ways (common practice, no source).
const RESERVE: f64 = 1.0;

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Saddle travel",
    question: "Do all crests that the strings need lie within what the bridge can be set to, with room left both ways?",
    unit: Unit::Length,
    digits: 1,
    limit: at_least(0.0, RESERVE),
    measure,
    place: None,
    says: |design, layout, reading| {
        let (low, high) = range(design);
        if reading.value <= low {
            return sentence![
                "The saddle cannot go low enough: it needs ",
                mm(reading.value, 1),
                ", its lowest is ",
                mm(low, 1),
                "."
            ];
        }
        if reading.value >= high {
            return sentence![
                "The saddle cannot go high enough: it needs ",
                mm(reading.value, 1),
                ", its highest is ",
                mm(high, 1),
                "."
            ];
        }
        let (least, most) = extremes(layout);
        sentence![mm(high - most, 1), " of saddle left up, ", mm(least - low, 1), " down."]
    },
    working: |design, layout, reading| {
        let (low, high) = range(design);
        Working {
            formula: "reserve = min(B - lowest, highest - B), B = Y(crest) - z(X)".into(),
            terms: vec![
                length("X", "crest from the joint", layout.middle.crest.x),
                length("B", "crest height needed", reading.value),
                length("lowest", "saddle lowest", low),
                length("highest", "saddle highest", high),
            ],
            result: (reading.value - low).min(high - reading.value),
            source: GEOMETRY,
        }
    },
    mends: &[
        &[Dim::CrestHeight],
        &[Dim::Pitch],
        &[Dim::Overstand],
        &[Dim::BoardThickness],
        &[Dim::BridgeThickness],
        &[Dim::CrestLow],
        &[Dim::CrestHigh],
    ],
};

fn range(design: &Design) -> (f64, f64) {
    let (low, high) = design.bridge.kind.crest_range();
    (low.to_mm(), high.to_mm())
}

/// Crest heights that decide: those of the posts of a shared crest, else of each string.
fn needed(layout: &Layout) -> impl Iterator<Item = f64> {
    let posts = layout.posts.iter().flatten().map(|post| post.crest_height);
    let strings = layout.strings.iter().filter(|_| layout.posts.is_none());
    posts.chain(strings.map(|string| string.crest_height))
}

/// Lowest and highest crest that is needed, mm.
pub(crate) fn extremes(layout: &Layout) -> (f64, f64) {
    needed(layout).fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), crest| {
        (least.min(crest), most.max(crest))
    })
}

fn measure(design: &Design, layout: &Layout, limit: &Limit) -> Option<Reading> {
    let (low, high) = range(design);
    let (fails, thin) = (limit.fails_below.unwrap_or(0.0), limit.thin_below.unwrap_or(RESERVE));
    let limit = super::limit(low + fails, low + thin, high - thin, high - fails);
    let worst = Reading::worst_string(limit, needed(layout).map(Some))?;
    // of a shared crest it is a post, and of saddles all are set alike
    Some(Reading { string: None, ..worst })
}
