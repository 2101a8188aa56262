//! Where the frets and the bridge line stand, from the nut face.

use kurbo::Point;
use overstand_core::layout::Layout;
use overstand_core::study::Study;
use overstand_core::units::show_number;

use super::Part;
use crate::outline::polygon;
use crate::scene::{Anchor, Line};

/// Width of the strip, and how far it reaches beyond the range of the crests, mm.
const WIDTH: f64 = 24.0;
const BEYOND: f64 = 12.0;
/// Lengths of a fret's line and of a string's crest.
const FRET: f64 = 10.0;
const CREST: f64 = 5.0;
/// Figures that are nearer than this stand on two levels.
const FIGURES: f64 = 13.0;

pub(super) fn build(study: &Study, layout: &Layout, part: &mut Part) {
    let scale = study.design.scale.length.to_mm();
    let half = 0.5 * study.design.bridge.travel.to_mm();
    let crests = || layout.strings.iter().map(|string| string.crest_u);
    let low = crests().fold(scale, f64::min) - half;
    let high = crests().fold(scale, f64::max) + half;
    let end = high + BEYOND;
    part.cut = polygon([
        Point::new(0.0, 0.0),
        Point::new(end, 0.0),
        Point::new(end, WIDTH),
        Point::new(0.0, WIDTH),
    ]);
    part.references = vec![[Point::new(0.0, 0.0), Point::new(0.0, WIDTH)]];
    part.words(Point::new(2.0, WIDTH - 3.0), Anchor::Left, "Nut face");
    let mut before = 0.0;
    let mut lifted = false;
    for (index, &u) in layout.positions.iter().enumerate() {
        let line = if layout.is_fretted() { Line::Visible } else { Line::Centre };
        part.line([Point::new(u, 0.0), Point::new(u, FRET)], line);
        let number = (index + 1).to_string();
        part.words(Point::new(u - 0.8, 2.0), Anchor::Right, number);
        lifted = u - before < FIGURES && !lifted;
        before = u;
        let height = if lifted { FRET + 5.0 } else { FRET + 1.5 };
        part.words(Point::new(u, height), Anchor::Below, show_number(u, 2));
    }
    let bridge = Point::new(scale, 0.0);
    part.line([bridge, bridge + (0.0, WIDTH)], Line::Centre);
    part.words(Point::new(scale - 2.0, WIDTH - 3.0), Anchor::Right, "Bridge line");
    if high - low > 0.05 {
        part.stroke(
            polygon([
                Point::new(low, 2.0),
                Point::new(high, 2.0),
                Point::new(high, 2.0 + CREST + 2.0),
                Point::new(low, 2.0 + CREST + 2.0),
            ]),
            Line::Range,
        );
    }
    for u in crests() {
        part.line([Point::new(u, 3.0), Point::new(u, 3.0 + CREST)], Line::Visible);
    }
    part.length("Scale length", scale, 2);
    if let Some(&last) = layout.positions.last() {
        let name = if layout.is_fretted() { "Last fret" } else { "Last semitone" };
        part.length(name, last, 2);
    }
    part.length("Crests of the strings from", crests().fold(f64::INFINITY, f64::min), 1);
    part.length("to", crests().fold(f64::NEG_INFINITY, f64::max), 1);
    part.length("reach of the saddles from", low, 1);
    part.length("to", high, 1);
}
