//! Where the drawing can be taken hold of, and which way each dimension grows.

use kurbo::{Point, Vec2};
use overstand_core::design::{HeadShape, JointKind, Tail};
use overstand_core::dimension::Dim;
use overstand_core::joint::JointSection;
use overstand_core::study::Study;

use crate::elevation::layout_of;
use crate::outline::point;

/// A place of the elevation that sets a dimension when it is dragged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Handle {
    /// The dimension.
    pub dim: Dim,
    /// Where it is, in the body frame.
    pub at: Point,
    /// The way along which dragging makes the dimension larger; a unit vector.
    pub direction: Vec2,
    /// How a way dragged becomes a change.
    pub kind: HandleKind,
}

/// How a way dragged becomes a change of the dimension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HandleKind {
    /// A millimetre along the direction is a millimetre more.
    Linear,
    /// It turns about a point: counter-clockwise, with X to the right and Y up, is more.
    Turn {
        /// The point about which it turns.
        centre: Point,
    },
}

/// The handles of a study, in the order of the work; none when nothing can be drawn.
///
/// Of a design that does not close, crest and station stand where they are held.
pub fn handles(study: &Study) -> Vec<Handle> {
    let Some(layout) = layout_of(study) else {
        return Vec::new();
    };
    let design = &study.design;
    let up = Vec2::new(0.0, 1.0);
    let along = Vec2::new(1.0, 0.0);
    let linear = |dim: Dim, at: Point, direction: Vec2| Handle {
        dim,
        at,
        direction,
        kind: HandleKind::Linear,
    };
    let on_top = |x: f64| Point::new(x, layout.top(x));

    let thickness = design.board.thickness.to_mm();
    let joint = point(layout.unstrung(layout.joint_from_nut, -thickness));
    let nut_end = point(layout.strung(0.0, layout.lift(0.0) - thickness));
    // the joint fret slides toward the nut when the joint moves on beyond it
    let fret_u = layout.joint_from_nut - design.joint.offset.to_mm();
    let crown = design.board.crown.to_mm();
    let toward_nut = point(layout.unstrung(-1.0, 0.0)) - point(layout.unstrung(0.0, 0.0));

    let station = design.bridge.station.to_mm();
    let crest =
        on_top(station) + up * (design.bridge.crest_height.to_mm() + design.body.top_rise.to_mm());
    let mut handles = vec![
        linear(Dim::CrestHeight, crest, up),
        turn(Dim::Pitch, nut_end, joint),
        linear(Dim::Overstand, joint, up),
        linear(Dim::JointOffset, point(layout.unstrung(fret_u, crown)), toward_nut),
        linear(Dim::Station, on_top(station), along),
    ];
    if let Some(tail) = layout.tail().map(point) {
        let foot = on_top(tail.x);
        match design.tail {
            Tail::Stop { .. } | Tail::Hung { .. } => {
                handles.push(linear(Dim::TailHeight, tail, up));
                handles.push(linear(Dim::TailStation, foot, along));
            }
            Tail::AtBridge { .. } => {
                handles.push(linear(Dim::TailHeight, tail, up));
                handles.push(linear(Dim::TailBehind, foot, along));
            }
            Tail::Through { .. } => handles.push(linear(Dim::TailBehind, foot, along)),
            Tail::Wrapped => {}
        }
    }
    if let HeadShape::Tilted { .. } = design.head.shape {
        let at = |along: f64| {
            let (u, v) = layout.strung_head(along, 0.0);
            point(layout.strung(u, v))
        };
        handles.push(turn(Dim::HeadAngle, at(design.head.length.to_mm()), at(0.0)));
    }
    handles
}

/// The handles of the joint in section: tenon length at the butt, depth at the mouth, and the
/// angle of a floor that is free. None when nothing can be drawn or the neck runs through.
pub fn joint_handles(study: &Study) -> Vec<Handle> {
    let Some(layout) = layout_of(study) else {
        return Vec::new();
    };
    let design = &study.design;
    if design.joint.kind == JointKind::Through {
        return Vec::new();
    }
    let [_, mouth, inner, upper] = JointSection::of(design, &layout).tenon.map(point);
    let linear = |dim: Dim, at: Point, direction: Vec2| Handle {
        dim,
        at,
        direction,
        kind: HandleKind::Linear,
    };
    let mut handles = vec![
        // above the middle, where the depth is written
        linear(Dim::TenonLength, upper.lerp(inner, 0.25), Vec2::new(1.0, 0.0)),
        linear(Dim::PocketDepth, mouth, Vec2::new(0.0, -1.0)),
    ];
    // one that follows the board or the top has no handle of its own
    if Dim::Floor.key().get(design).is_some() {
        handles.push(turn(Dim::Floor, inner, mouth));
    }
    handles
}

fn turn(dim: Dim, at: Point, centre: Point) -> Handle {
    let arm = at - centre;
    let length = arm.hypot().max(f64::MIN_POSITIVE);
    let direction = Vec2::new(-arm.y, arm.x) / length;
    Handle { dim, at, direction, kind: HandleKind::Turn { centre } }
}
