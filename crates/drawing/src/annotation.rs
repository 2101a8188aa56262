//! Dimension lines, angles and measures as lines, arrow heads and words: the same for every
//! output that does not letter in a way of its own.

use kurbo::{Affine, Arc, BezPath, Point, Rect, Shape as _, Vec2};
use overstand_core::units::Unit;

use crate::look::Look;
use crate::outline::{polygon, polyline};
use crate::scene::{Anchor, Item, measure_digits};

/// A dimension put into ink; sizes and places in mm of the scene.
#[derive(Clone, Debug)]
pub struct Annotation {
    /// Extension lines and the dimension line or arc.
    pub lines: Vec<BezPath>,
    /// Arrow heads, to be filled.
    pub arrows: Vec<BezPath>,
    /// Where the words stand.
    pub at: Point,
    /// Which point of the words, as they are turned, stands there.
    pub anchor: Anchor,
    /// How far the words are turned counter-clockwise, radians; never upside down.
    pub turn: f64,
    /// The words.
    pub text: String,
}

/// How far an extension line stays clear of what is measured, and how far it goes beyond
/// the dimension line, in heights of the lettering.
const CLEAR: f64 = 0.3;
const BEYOND: f64 = 0.5;
/// An arrow head's length, and half its width, in heights of the lettering.
const ARROW: (f64, f64) = (0.9, 0.15);
/// About how wide a letter is, in heights of the lettering.
const LETTER: f64 = 0.6;

/// The ink of a dimension, an angle or a measure; none for other items.
pub fn annotation(item: &Item, look: &Look) -> Option<Annotation> {
    match *item {
        Item::Dimension { from, to, offset, value, dim } => {
            let info = dim.info();
            let text = look.value(value, info.unit, info.digits);
            Some(linear(from, to, offset, format!("{} {text}", info.name), look.lettering))
        }
        Item::Measure { from, to, offset, value, name } => {
            let text = look.value(value, Unit::Length, measure_digits(value));
            Some(linear(from, to, offset, format!("{name} {text}"), look.lettering))
        }
        Item::Angle { vertex, from, to, value, dim } => {
            let info = dim.info();
            let text = look.value(value, info.unit, info.digits);
            Some(angular(vertex, from, to, format!("{} {text}", info.name), look.lettering))
        }
        Item::Area { .. } | Item::Stroke { .. } | Item::Text { .. } => None,
    }
}

impl Annotation {
    /// The box around its ink; the width of the words is estimated.
    pub(crate) fn extent(&self, look: &Look) -> Rect {
        let words = words_box(self.at, self.anchor, self.turn, &self.text, look);
        let ink = self.lines.iter().chain(&self.arrows).map(BezPath::bounding_box);
        ink.fold(words, |all, one| all.union(one))
    }
}

/// About the box that words take up at a place, turned counter-clockwise about it.
pub(crate) fn words_box(at: Point, anchor: Anchor, turn: f64, text: &str, look: &Look) -> Rect {
    let height = look.lettering;
    let width = text.chars().count() as f64 * LETTER * height;
    let (left, low) = match anchor {
        Anchor::Below => (-0.5 * width, 0.0),
        Anchor::Above => (-0.5 * width, -height),
        Anchor::Left => (0.0, -0.5 * height),
        Anchor::Right => (-width, -0.5 * height),
        Anchor::Middle => (-0.5 * width, -0.5 * height),
    };
    let level = Rect::new(left, low, left + width, low + height);
    let placed = Affine::translate(at.to_vec2()) * Affine::rotate(turn);
    placed.transform_rect_bbox(level)
}

/// An arrow head with its tip at `tip`, pointing along a unit vector.
fn arrow(tip: Point, along: Vec2, lettering: f64) -> BezPath {
    let (length, half) = (ARROW.0 * lettering, ARROW.1 * lettering);
    let side = Vec2::new(-along.y, along.x) * half;
    let root = tip - along * length;
    polygon([tip, root + side, root - side])
}

/// The turn that lays words along a way and keeps them readable from below or the right.
fn readable(way: Vec2) -> f64 {
    use std::f64::consts::{FRAC_PI_2, PI};
    let turn = way.atan2();
    if turn > FRAC_PI_2 + 1e-9 {
        turn - PI
    } else if turn <= -FRAC_PI_2 + 1e-9 {
        turn + PI
    } else {
        turn
    }
}

fn linear(from: Point, to: Point, offset: f64, text: String, lettering: f64) -> Annotation {
    let way = to - from;
    let length = way.hypot();
    let along = if length > 0.0 { way / length } else { Vec2::new(1.0, 0.0) };
    let left = Vec2::new(-along.y, along.x);
    let side = left * offset.signum();
    let (a, b) = (from + left * offset, to + left * offset);
    let extension = |at: Point| {
        polyline([
            at + side * (CLEAR * lettering).min(offset.abs()),
            at + side * (offset.abs() + BEYOND * lettering),
        ])
    };
    // where the arrows do not fit between, they come from outside
    let head = ARROW.0 * lettering;
    let fits = length >= 2.5 * head;
    let (line, inward) = if fits {
        (polyline([a, b]), 1.0)
    } else {
        (polyline([a - along * (2.0 * head), b + along * (2.0 * head)]), -1.0)
    };
    let arrows = vec![arrow(a, -along * inward, lettering), arrow(b, along * inward, lettering)];
    let lines = vec![extension(from), extension(to), line];
    let middle = a.midpoint(b);
    if text.chars().count() as f64 * LETTER * lettering <= length {
        let turn = readable(along);
        let above = Vec2::new(-turn.sin(), turn.cos()) * (0.35 * lettering);
        return Annotation { lines, arrows, at: middle + above, anchor: Anchor::Below, turn, text };
    }
    // words that are longer than the line stand level beside it
    let (at, anchor) = if side.x.abs() < 0.5 {
        (b + along * (2.5 * head), if along.x > 0.0 { Anchor::Left } else { Anchor::Right })
    } else {
        let anchor = if side.x > 0.0 { Anchor::Left } else { Anchor::Right };
        (middle + side * (0.5 * lettering), anchor)
    };
    Annotation { lines, arrows, at, anchor, turn: 0.0, text }
}

fn angular(vertex: Point, from: Point, to: Point, text: String, lettering: f64) -> Annotation {
    let (first, second) = (from - vertex, to - vertex);
    let radius = first.hypot();
    let sweep = first.cross(second).atan2(first.dot(second));
    let arc = Arc::new(vertex, (radius, radius), first.atan2(), sweep, 0.0);
    let end = vertex + Vec2::from_angle(first.atan2() + sweep) * radius;
    // along the arc, from the first leg to the second
    let onward = |leg: Vec2| {
        let length = leg.hypot();
        if length > 0.0 { Vec2::new(-leg.y, leg.x) * (sweep.signum() / length) } else { leg }
    };
    let (starting, ending) = (onward(first), onward(second));
    let head = ARROW.0 * lettering;
    let fits = (sweep * radius).abs() >= 2.5 * head;
    let inward = if fits { 1.0 } else { -1.0 };
    let beyond = if radius > 0.0 { first * (BEYOND * lettering / radius) } else { first };
    let mut lines = vec![polyline([vertex, from + beyond]), arc.to_path(0.01)];
    let mut at = from + beyond - starting * (0.5 * lettering);
    if !fits {
        lines.push(polyline([from, from - starting * (2.0 * head)]));
        lines.push(polyline([end, end + ending * (2.0 * head)]));
        at = from - starting * (2.0 * head + 0.5 * lettering);
    }
    Annotation {
        lines,
        arrows: vec![
            arrow(from, -starting * inward, lettering),
            arrow(end, ending * inward, lettering),
        ],
        at,
        // on the side of the first leg that is away from the second
        anchor: if starting.y > 0.0 { Anchor::Above } else { Anchor::Below },
        turn: 0.0,
        text,
    }
}
