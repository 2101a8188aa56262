//! The strings in section across the instrument, at the nut and at the bridge.

use kurbo::{Arc, BezPath, Point, Shape as _};
use overstand_core::design::{BoardShape, Nut};
use overstand_core::layout::Layout;
use overstand_core::study::Study;

use super::Part;
use crate::outline::polyline;
use crate::scene::{Anchor, Line};

/// How far a gauge reaches beyond the outer strings, and over the highest, mm.
const BEYOND: f64 = 10.0;
const OVER: f64 = 16.0;
/// Half the width of a notch, and how deep a shown slot is.
const NOTCH: f64 = 1.2;

/// The surface of a board of a radius across it, from left to right: a true arc, its top at
/// 0. Straight without a radius.
fn surface(radius: Option<f64>, left: f64, right: f64) -> BezPath {
    match radius {
        Some(radius) if radius > left.abs().max(right.abs()) => {
            let angle = |x: f64| (x / radius).acos();
            let (start, end) = (angle(left), angle(right));
            Arc::new((0.0, -radius), (radius, radius), start, end - start, 0.0).to_path(1e-6)
        }
        _ => polyline([Point::new(left, 0.0), Point::new(right, 0.0)]),
    }
}

/// Continues a path to `end` by an arc of a radius that bulges up; straight where the radius
/// is too small for it.
fn over(path: &mut BezPath, end: Point, radius: f64) {
    let start = path.current_position().unwrap_or(end);
    let (half, middle) = (0.5 * (end - start), start.midpoint(end));
    let length = half.hypot();
    if length <= 0.0 || radius <= length {
        path.line_to(end);
        return;
    }
    let down = kurbo::Vec2::new(half.y, -half.x) / length;
    let centre = middle + down * (radius * radius - length * length).sqrt();
    let (from, to) = ((start - centre).atan2(), (end - centre).atan2());
    let arc = Arc::new(centre, (radius, radius), from, to - from, 0.0);
    path.extend(arc.append_iter(1e-6));
}

pub(super) fn nut(study: &Study, layout: &Layout, part: &mut Part) {
    let design = &study.design;
    // the treble lies at the left when one looks toward the bridge
    let places: Vec<f64> = design.strings.iter().map(|one| -one.nut_place.to_mm()).collect();
    let (Some(&left), Some(&right)) = (places.first(), places.last()) else {
        return;
    };
    let radius = match design.board.shape {
        BoardShape::Flat => None,
        BoardShape::Fixed { radius } => Some(radius.to_mm()),
        BoardShape::Compound { radius_nut, .. } => Some(radius_nut.to_mm()),
    };
    let lift = layout.lift(0.0);
    let slots: Vec<Point> = places
        .iter()
        .zip(&layout.strings)
        .map(|(&x, string)| Point::new(x, string.nut_v - lift))
        .collect();
    let top = slots.iter().map(|slot| slot.y).fold(0.0, f64::max) + OVER;
    let (left, right) = (left.min(right) - BEYOND, right.max(left) + BEYOND);
    let mut cut = surface(radius, left, right);
    cut.line_to((right, top));
    cut.line_to((left, top));
    cut.close_path();
    part.cut = cut;
    let ends = [Point::new(left, 0.0), Point::new(right, 0.0)];
    part.references.extend(radius.is_none().then_some(ends));
    for ((slot, string), line) in slots.iter().zip(&design.strings).zip(&layout.strings) {
        part.line(
            [
                *slot + (-NOTCH, 6.0),
                *slot + (-NOTCH, 0.0),
                *slot + (NOTCH, 0.0),
                *slot + (NOTCH, 6.0),
            ],
            Line::Visible,
        );
        part.words(*slot + (0.0, 7.0), Anchor::Below, string.name.clone());
        part.length(format!("Slot {} over the board", string.name), line.slot_over_board, 2);
    }
    if let Nut::ZeroFret { height } = design.nut {
        part.length("Zero fret over the board", height.to_mm(), 2);
        part.notes
            .push("The strings rest on the zero fret; the nut only keeps them apart.".to_owned());
    }
    part.notes.push("Lower edge: the board's surface at the nut face.".to_owned());
}

pub(super) fn bridge(study: &Study, layout: &Layout, part: &mut Part) {
    let design = &study.design;
    // the treble lies at the right when one looks toward the nut; from left to right
    let crests: Vec<Point> = design
        .strings
        .iter()
        .zip(&layout.strings)
        .map(|(one, line)| Point::new(one.crest_place.to_mm(), line.crest_height))
        .rev()
        .collect();
    let (Some(&first), Some(&last)) = (crests.first(), crests.last()) else {
        return;
    };
    let low = crests.iter().map(|at| at.y).fold(f64::INFINITY, f64::min);
    if low < 1.0 {
        part.notes.push("A string passes below the top at the bridge.".to_owned());
    }
    let (left, right) = (first.x.min(last.x) - BEYOND, first.x.max(last.x) + BEYOND);
    let base = low.min(0.0);
    // the upper edge steps from string to string, or follows the crest they share
    let mut cut = polyline([Point::new(left, base), Point::new(left, first.y)]);
    match design.bridge.kind.shared_crest() {
        Some((radius, _)) => {
            cut.line_to(first);
            over(&mut cut, last, radius.to_mm());
        }
        None => {
            for pair in crests.windows(2) {
                let middle = 0.5 * (pair[0].x + pair[1].x);
                cut.line_to((middle, pair[0].y));
                cut.line_to((middle, pair[1].y));
            }
        }
    }
    cut.line_to((right, last.y));
    cut.line_to((right, base));
    cut.close_path();
    part.cut = cut;
    part.references = vec![[Point::new(left, base), Point::new(right, base)]];
    for (at, string) in crests.iter().zip(design.strings.iter().rev()) {
        part.line([*at, *at - (0.0, 4.0)], Line::Thin);
        part.words(*at - (0.0, 5.0), Anchor::Above, string.name.clone());
        part.length(format!("Crest {}", string.name), at.y, 2);
    }
    part.length("middle", layout.middle.crest_height, 2);
    part.notes.push(
        "Heights over the top's profile on the centre line; a top that is arched across is lower at the sides."
            .to_owned(),
    );
}
