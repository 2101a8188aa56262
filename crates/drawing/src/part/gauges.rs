//! What the straightedge must read over the top, as steps: at the bridge and halfway to it.

use kurbo::{BezPath, Point};
use overstand_core::layout::{Layout, Straightedge};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, show_length};

use super::Part;
use crate::outline::polygon;
use crate::scene::{Anchor, Item};

/// Width of a step, and the gap between the two gauges, mm.
const STEP: f64 = 19.0;
const APART: f64 = 26.0;
/// A step lower than this cannot be cut.
const LEAST: f64 = 1.0;

pub(super) fn build(_study: &Study, layout: &Layout, part: &mut Part) {
    let bridge = layout.straightedge.x;
    let mut left = 0.0;
    for (place, x) in [("at the bridge", bridge), ("halfway", 0.5 * bridge)] {
        let reads = layout.straightedge_at(x);
        left = stairs(part, left, place, &reads, layout.is_fretted()) + APART;
    }
    part.notes.push(
        if layout.is_fretted() {
            "Three steps: on the bare neck face, on the board, on the crowns. Unstrung, the neck straight."
        } else {
            "Two steps: on the bare neck face, on the board. Unstrung, the neck straight."
        }
        .to_owned(),
    );
}

/// One gauge; returns where it ends.
fn stairs(part: &mut Part, left: f64, place: &str, reads: &Straightedge, fretted: bool) -> f64 {
    let mut steps = vec![("neck face", reads.neck_face), ("board", reads.board)];
    if fretted {
        steps.push(("crowns", reads.crowns));
    }
    part.length(format!("{place}, from the joint"), reads.x, 1);
    for &(name, height) in &steps {
        part.length(name, height, 2);
    }
    let can: Vec<(&str, f64)> = steps.into_iter().filter(|step| step.1 >= LEAST).collect();
    let Some(&(_, highest)) = can.last() else {
        part.notes.push(format!("No gauge {place}: the straightedge passes below the top there."));
        return left - APART;
    };
    let right = left + STEP * can.len() as f64;
    let mut corners = vec![Point::new(left, 0.0)];
    for (i, &(name, height)) in can.iter().enumerate() {
        let from = left + STEP * i as f64;
        corners.push(Point::new(from, height));
        corners.push(Point::new(from + STEP, height));
        part.words(Point::new(from + 0.5 * STEP, height + 1.2), Anchor::Below, name);
    }
    corners.push(Point::new(right, 0.0));
    add_cut(part, &polygon(corners));
    part.references.push([Point::new(left, 0.0), Point::new(right, 0.0)]);
    let highest = Point::new(right, highest);
    part.scene.add(
        None,
        Item::Measure {
            from: Point::new(right, 0.0),
            to: highest,
            offset: -6.0,
            value: highest.y,
            name: "",
        },
    );
    // cut out it stands alone: it names its place whatever rule is at hand
    let text = [LengthStyle::Millimetres, LengthStyle::InchDecimal]
        .map(|style| show_length(reads.x, 1, style))
        .join(", ")
        + " from the joint";
    part.words(Point::new(0.5 * (left + right), -2.0), Anchor::Above, text);
    right
}

fn add_cut(part: &mut Part, outline: &BezPath) {
    part.cut.extend(outline.elements().iter().copied());
}
