//! A stick for the depth of the pocket: arms that rest on the datum, and an end for each end
//! of the pocket.

use kurbo::Point;
use overstand_core::design::JointKind;
use overstand_core::joint::JointSection;
use overstand_core::layout::Layout;
use overstand_core::study::Study;

use super::Part;
use crate::outline::polygon;
use crate::scene::Anchor;

/// Half the length of the arms, half the width of the ends, half the thickness of the arms.
const ARM: f64 = 42.0;
const HALF: f64 = 9.0;
const BAR: f64 = 9.0;

pub(super) fn build(study: &Study, layout: &Layout, part: &mut Part) {
    if study.design.joint.kind == JointKind::Through {
        return;
    }
    let section = JointSection::of(&study.design, layout);
    let [_, mouth, inner, _] = section.tenon;
    // how deep the floor lies below the datum
    let (deep_mouth, deep_inner) = (-mouth.y, -inner.y);
    if deep_mouth <= 0.0 || deep_inner <= 0.0 {
        return;
    }
    let (up, down) = (BAR + deep_inner, -BAR - deep_mouth);
    part.cut = polygon([
        Point::new(-ARM, -BAR),
        Point::new(-HALF, -BAR),
        Point::new(-HALF, down),
        Point::new(HALF, down),
        Point::new(HALF, -BAR),
        Point::new(ARM, -BAR),
        Point::new(ARM, BAR),
        Point::new(HALF, BAR),
        Point::new(HALF, up),
        Point::new(-HALF, up),
        Point::new(-HALF, BAR),
        Point::new(-ARM, BAR),
    ]);
    part.references = vec![[Point::new(-ARM, -BAR), Point::new(ARM, -BAR)]];
    part.words(Point::new(0.0, up - 2.0), Anchor::Above, "inner end");
    part.words(Point::new(0.0, down + 2.0), Anchor::Below, "mouth");
    part.words(Point::ZERO, Anchor::Middle, "arms on the datum");
    part.measure(Point::new(HALF, down), Point::new(HALF, -BAR), -8.0, "Mouth");
    part.measure(Point::new(HALF, BAR), Point::new(HALF, up), -8.0, "Inner end");
    part.length("Pocket depth below the datum, at the mouth", deep_mouth, 2);
    part.length("at the inner end", deep_inner, 2);
    part.length("Pocket length", study.design.joint.tenon_length.to_mm(), 1);
    part.angle("Floor", study.design.joint.floor.radians());
    let rise = layout.top(inner.x);
    if rise.abs() >= 0.05 {
        part.notes.push(
            "The top leaves the datum here: bridge it with a straight bar from the joint's edge."
                .to_owned(),
        );
        part.length("Top over the datum at the inner end", rise, 2);
    }
}
