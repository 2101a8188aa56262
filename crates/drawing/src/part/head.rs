//! The angle of the headstock, or its step.

use kurbo::Point;
use overstand_core::design::HeadShape;
use overstand_core::layout::Layout;
use overstand_core::study::Study;

use super::{Part, glue_face, in_neck};
use crate::outline::polygon;
use crate::scene::Anchor;

/// How far the template lies on the neck and at most on the headstock, and how tall it is.
const ON_NECK: f64 = 75.0;
const ON_HEAD: f64 = 80.0;
const TALL: f64 = 26.0;

pub(super) fn build(study: &Study, layout: &Layout, part: &mut Part) {
    let design = &study.design;
    let face = glue_face(design);
    let length = design.head.length.to_mm().min(ON_HEAD);
    let (start, tip) = (in_neck(layout.head(0.0, 0.0)), in_neck(layout.head(length, 0.0)));
    let begins = Point::new(start.x, face);
    let right = Point::new(ON_NECK, face);
    let over = TALL + face.max(start.y);
    let mut corners = vec![right, begins];
    if (start.y - face).abs() > 1e-9 {
        corners.push(start);
    }
    corners.extend([tip, Point::new(tip.x, over), Point::new(ON_NECK, over)]);
    part.cut = polygon(corners);
    part.references = vec![[begins, right]];
    part.line([Point::new(0.0, face), Point::new(0.0, over)], crate::scene::Line::Centre);
    part.words(Point::new(2.0, over - 3.0), Anchor::Left, "Nut face");
    part.words(Point::new(0.5 * (begins.x + ON_NECK), face + 3.5), Anchor::Middle, "glue face");
    match design.head.shape {
        HeadShape::Tilted { angle } => part.angle("Headstock angle", angle.radians()),
        HeadShape::Stepped => part.angle("Headstock parallel to the board", 0.0),
    }
    part.length("Face starts behind the nut face", design.head.start.to_mm(), 1);
    part.length("and below the board's surface", design.head.drop.to_mm(), 1);
    let (over, where_to) = (start.y - face, ["below the glue face", "above the glue face"]);
    part.length(where_to[usize::from(over > 0.0)], over.abs(), 1);
}
