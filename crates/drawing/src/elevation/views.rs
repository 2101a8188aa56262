//! Which part of the elevation to look at.

use kurbo::Rect;
use overstand_core::compare::Align;
use overstand_core::study::Study;

use super::dimensions::behind;
use super::{elevation, layout_of};
use crate::outline::point;

/// The box around the whole instrument; none when nothing can be drawn.
pub fn whole(study: &Study) -> Option<Rect> {
    elevation(study).bounds()
}

/// The box from the heel to the tail, with the height of the crest behind it: what is looked
/// at when the joint is laid out. None
/// when nothing can be drawn.
pub fn joint_to_tail(study: &Study) -> Option<Rect> {
    let layout = layout_of(study)?;
    let design = &study.design;
    let crest = point(layout.middle.crest);
    let [_, high] = layout.crest_range(design).map(point);
    let base = design.bridge.base.to_mm();
    let tail = layout.tail().map_or(crest.x + base, |tail| tail.x + 20.0);
    let dimension = crest.x + behind(design, crest.x);
    let right = tail.max(crest.x + base).max(dimension);
    let foot = design.joint.overstand.to_mm() - design.joint.shoulder.to_mm();
    let left = -1.2 * design.neck.heel_length.to_mm();
    let low = layout.back(0.0).min(layout.back(right)).min(foot);
    let up = high.y.max(crest.y).max(layout.strung(layout.joint_from_nut, 10.0).y);
    Some(Rect::new(left, low, right, up))
}

/// How far the elevation of B has to be moved along the datum so that the two are aligned,
/// mm; 0 where one of them cannot be drawn.
pub fn shift(align: Align, a: &Study, b: &Study) -> f64 {
    match (layout_of(a), layout_of(b)) {
        (Some(a), Some(b)) => align.offset(&a, &b),
        _ => 0.0,
    }
}
