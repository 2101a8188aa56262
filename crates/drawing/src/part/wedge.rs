//! A wedge of the pitch.

use kurbo::Point;
use overstand_core::joint::{stack_under_bar, wedge_rise};
use overstand_core::layout::Layout;
use overstand_core::study::Study;

use super::Part;
use crate::outline::polygon;
use crate::scene::Anchor;

/// Length of the wedge and thickness of its thin end, mm.
const BASE: f64 = 120.0;
const THIN: f64 = 14.0;
/// The usual bar under which an angle is stacked up, mm.
const SINE_BAR: f64 = 100.0;
/// No wedge is cut for less, radians: a tenth of a millimetre over its length.
const LEAST: f64 = 0.1 / BASE;
/// A top that lies so far off the datum is no place for the wedge, mm.
const LEAVES: f64 = 0.05;

pub(super) fn build(_study: &Study, layout: &Layout, part: &mut Part) {
    let pitch = layout.pitch;
    if pitch.abs() < LEAST {
        return;
    }
    let rise = wedge_rise(BASE, pitch.abs());
    part.cut = polygon([
        Point::new(0.0, 0.0),
        Point::new(BASE, 0.0),
        Point::new(BASE, THIN + rise),
        Point::new(0.0, THIN),
    ]);
    part.references = vec![[Point::new(0.0, 0.0), Point::new(BASE, 0.0)]];
    // the board rises toward the bridge when the pitch is positive
    let (left, right) = if pitch > 0.0 { ("nut", "bridge") } else { ("bridge", "nut") };
    part.words(Point::new(4.0, 0.5 * THIN), Anchor::Left, format!("toward the {left}"));
    part.words(Point::new(BASE - 4.0, 0.5 * THIN), Anchor::Right, format!("toward the {right}"));
    part.measure(Point::new(BASE, 0.0), Point::new(BASE, THIN + rise), -8.0, "Thick end");
    part.angle("Pitch", pitch);
    part.length("Rise", rise, 2);
    part.length("over", BASE, 0);
    part.length("Thin end", THIN, 1);
    part.length("Sine bar", SINE_BAR, 0);
    part.length("on a stack of", stack_under_bar(SINE_BAR, pitch.abs()), 2);
    // on a slope of its own the wedge would add that to the pitch
    if [0.25, 0.5, 0.75, 1.0].iter().any(|at| layout.top(at * BASE).abs() >= LEAVES) {
        part.notes.push(
            "The top leaves the datum here: lay the wedge on a straight bar, square to the end wall."
                .to_owned(),
        );
    }
}
