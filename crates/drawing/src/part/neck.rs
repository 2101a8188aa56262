//! The neck from the side, as it is marked on the blank: straight and unstrung, its glue
//! face level.

use kurbo::{Affine, Point};
use overstand_core::design::JointKind;
use overstand_core::joint::JointSection;
use overstand_core::layout::{BodyPoint, Layout};
use overstand_core::study::Study;

use super::{Part, glue_face, in_neck};
use crate::elevation::neck_on_the_bench;
use crate::outline::point;
use crate::scene::{Anchor, Line};

pub(super) fn build(study: &Study, layout: &Layout, part: &mut Part) {
    let design = &study.design;
    let face = glue_face(design);
    let joint_u = layout.joint_from_nut;
    // the glue face comes to lie level, the nut face at 0
    let nut = point(layout.unstrung(0.0, 0.0));
    let neck_from_body = Affine::rotate(-layout.pitch) * Affine::translate(-nut.to_vec2());
    part.cut = neck_from_body * neck_on_the_bench(design, layout);
    let place = |at: BodyPoint| in_neck(layout.neck_from_body(at));
    part.references = vec![[Point::new(0.0, face), Point::new(joint_u, face)]];

    let section = JointSection::of(design, layout);
    let [mouth_top, mouth, inner, inner_top] = section.tenon.map(place);
    let foot = place(section.shoulder_foot);
    // the shoulder runs on to the glue face, and the datum meets it at the top's height
    part.line([mouth_top, foot], Line::Thin);
    let reach = (0.35 * joint_u).min(140.0);
    let datum = [-reach, design.joint.tenon_length.to_mm() + 15.0];
    part.line(datum.map(|x| place(BodyPoint { x, y: 0.0 })), Line::Centre);
    let end = place(BodyPoint { x: datum[0], y: 0.0 });
    part.words(end + (-1.5, 0.0), Anchor::Right, "Top datum");

    let heel_u = joint_u - design.neck.heel_length.to_mm();
    let first_u = layout.positions.first().copied().unwrap_or(0.0);
    let (shallow, deep) = (design.neck.depth_first.to_mm(), design.neck.depth_heel.to_mm());
    for (u, depth, name) in [(first_u, shallow, "Fret 1"), (heel_u, deep, "Heel begins")] {
        part.line([Point::new(u, face), Point::new(u, -depth)], Line::Centre);
        part.words(Point::new(u, -depth - 1.5), Anchor::Above, name);
    }
    part.line([Point::new(0.0, face), Point::new(0.0, -shallow)], Line::Centre);
    part.words(Point::new(0.0, -shallow - 1.5), Anchor::Above, "Nut face");

    // its top edge, which on a raked wall does not lie over the joint
    part.measure(Point::new(0.0, face), mouth_top, 16.0, "Nut to shoulder");
    let heel = Point::new(heel_u, face);
    part.measure(heel, Point::new(joint_u, face), 8.0, "Heel");
    // clear of the tenon and what is measured at its end
    let aside = design.joint.tenon_length.to_mm() + 62.0;
    part.measure(mouth_top, foot, aside, "Shoulder");
    if design.joint.kind != JointKind::Through {
        part.measure(mouth_top, inner_top, 8.0, "Tenon");
        part.measure(inner, inner_top, -8.0, "Depth at the end");
    }
    let (depth_mouth, depth_inner) = section.depth_square_to_board;
    part.length("Nut to shoulder", mouth_top.x, 2);
    part.length("Neck and heel depth below the board", deep + face, 1);
    part.length("Shoulder", design.joint.shoulder.to_mm(), 1);
    if design.joint.kind != JointKind::Through {
        part.length("Tenon along the glue face", section.along_underside, 1);
        part.length("along its bottom", section.along_bottom, 1);
        part.length("Tenon depth square to the glue face, at the shoulder", depth_mouth, 1);
        part.length("at the end", depth_inner, 1);
    }
    part.angle("Pitch", layout.pitch);
    if section.shoulder_to_underside == section.face_to_underside {
        part.angle("Shoulder and end to the glue face", section.face_to_underside);
    } else {
        part.angle("Shoulder to the glue face", section.shoulder_to_underside);
        part.angle("End to the glue face", section.face_to_underside);
    }
    part.angle("Tenon bottom to the glue face", section.bottom_to_underside);
    // the tenon's walls where they meet its bottom
    part.line([mouth_top, mouth], Line::Hidden);
}
