//! The dry fit drawn: the joint as it really is over the plan, and where wood comes off.

use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Vec2};
use overstand_core::design::JointKind;
use overstand_core::dryfit::{Correction, DryFit, Wood};
use overstand_core::joint::JointSection;
use overstand_core::study::Study;

use crate::elevation::{Show, elevation, elevation_with, layout_of};
use crate::outline::{point, polygon, polyline};
use crate::scene::{Item, Line, Material, PartName, Scene};

/// How far the drawing of a correction goes before the joint and behind the tenon, mm.
const BEFORE: f64 = 18.0;
const BEHIND: f64 = 14.0;
/// Between the lines of a hatching, mm.
const HATCH: f64 = 1.2;

/// The side elevation as it really is, and what moved of the plan as a ghost over it.
pub fn over_plan(fit: &DryFit) -> Scene {
    let mut scene = elevation_with(&fit.real.study, Show { straightedge: true, ..Show::default() });
    for shape in elevation(&fit.plan).shapes {
        let moved = matches!(
            shape.part,
            Some(
                PartName::Neck
                    | PartName::Board
                    | PartName::Head
                    | PartName::Nut
                    | PartName::Bridge
                    | PartName::Strings
            )
        );
        if let (true, Item::Area { path, .. } | Item::Stroke { path, .. }) = (moved, shape.item) {
            scene.add(shape.part, Item::Stroke { path, line: Line::Ghost });
        }
    }
    scene
}

/// The joint around its seat and shoulder to scale as it stands, and the wood of a correction
/// in its true thickness: hatched where it comes off, filled where it is put on.
pub fn wood(fit: &DryFit, correction: &Correction) -> Scene {
    let mut scene = Scene::default();
    joint(&fit.real.study, &mut scene);
    for one in &correction.wood {
        piece(one, &mut scene);
    }
    scene
}

/// The tenon on its seat, the shoulder at the wall, the board over them.
fn joint(study: &Study, scene: &mut Scene) {
    let Some(layout) = layout_of(study) else {
        return;
    };
    let design = &study.design;
    let section = JointSection::of(design, &layout);
    let [top, mouth, inner, butt] = section.tenon.map(point);
    let foot = point(section.shoulder_foot);
    let heel = layout.joint_from_nut - BEFORE;
    let thickness = design.board.thickness.to_mm();
    let neck = |u: f64, v: f64| point(layout.unstrung(u, v));
    let end = design.board.end.to_mm();
    let board = [neck(heel, -thickness), neck(heel, 0.0), neck(end, 0.0), neck(end, -thickness)];
    let path = polygon(board);
    scene.add(
        Some(PartName::Board),
        Item::Area { path, material: Material::Board, edge: Line::Visible },
    );
    // through the body there is neither seat nor shoulder
    if design.joint.kind != JointKind::Through {
        let left = foot + Vec2::new(-BEFORE, 0.0);
        let path = polygon([neck(heel, -thickness), butt, inner, mouth, top, foot, left]);
        scene.add(
            Some(PartName::Neck),
            Item::Area { path, material: Material::Neck, edge: Line::Visible },
        );
        let pocket = polyline(section.pocket.map(point));
        scene.add(Some(PartName::Tenon), Item::Stroke { path: pocket, line: Line::Visible });
    }
    let to = section.pocket[2].x.max(board[3].x) + BEHIND;
    let datum = polyline([Point::new(-BEFORE, 0.0), Point::new(to, 0.0)]);
    scene.add(Some(PartName::Top), Item::Stroke { path: datum, line: Line::Centre });
}

fn piece(wood: &Wood, scene: &mut Scene) {
    let path = polygon(wood.corners.iter().copied().map(point));
    if wood.on {
        let material = Material::Bone;
        scene.add(None, Item::Area { path, material, edge: Line::Visible });
    } else {
        for line in hatching(&path) {
            scene.add(None, Item::Stroke { path: line, line: Line::Thin });
        }
        scene.add(None, Item::Stroke { path, line: Line::Visible });
    }
    let [from, to] = wood.thickest.map(point);
    let middle = wood.corners.iter().map(|at| point(*at).to_vec2()).sum::<Vec2>()
        / wood.corners.len().max(1) as f64;
    // beside the wood, away from its middle
    let way = to - from;
    let left = Vec2::new(-way.y, way.x);
    let offset = if left.dot(middle - from.to_vec2() - way * 0.5) > 0.0 { -9.0 } else { 9.0 };
    scene.add(None, Item::Measure { from, to, offset, value: wood.thickness, name: wood.name });
}

/// Lines at 45° within a convex outline.
fn hatching(path: &BezPath) -> Vec<BezPath> {
    let turn = Affine::rotate(-std::f64::consts::FRAC_PI_4);
    let back = turn.inverse();
    let level = turn * path.clone();
    let bounds: Rect = level.bounding_box();
    let mut lines = Vec::new();
    let count = (bounds.height() / HATCH).ceil().min(400.0) as usize;
    for i in 0..count {
        let y = bounds.y0 + (i as f64 + 0.5) * HATCH;
        let across: Vec<f64> = level
            .segments()
            .filter_map(|segment| {
                let kurbo::PathSeg::Line(kurbo::Line { p0: a, p1: b }) = segment else {
                    return None;
                };
                let part = (y - a.y) / (b.y - a.y);
                (0.0..=1.0).contains(&part).then_some(a.x + part * (b.x - a.x))
            })
            .collect();
        let (low, high) = across
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &x| (low.min(x), high.max(x)));
        if high > low {
            lines.push(polyline([back * Point::new(low, y), back * Point::new(high, y)]));
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::Look;
    use crate::svg::svg;
    use overstand_core::dryfit::{Kind, Reading};
    use overstand_core::testing::worked_example;

    fn fit(heights: [f64; 2]) -> DryFit {
        let readings: Vec<Reading> = [(250.0, heights[0]), (110.0, heights[1])]
            .map(|(x, height)| format!("crowns@X={x}:{height}").parse().unwrap())
            .to_vec();
        DryFit::of(&Study::of(&worked_example()), &readings).unwrap()
    }

    #[test]
    fn wood_is_drawn_in_its_true_thickness() {
        for heights in [[18.8, 12.0], [21.8, 13.6]] {
            let fit = fit(heights);
            let mut drawn = 0;
            for one in &fit.corrections {
                let scene = wood(&fit, one);
                let text = svg(&scene, &Look::paper());
                assert!(!text.contains("NaN") && !text.contains("inf\""), "{:?}", one.kind);
                let measured: Vec<f64> = scene
                    .shapes
                    .iter()
                    .filter_map(|shape| match shape.item {
                        Item::Measure { from, to, value, .. } => {
                            assert!(((to - from).hypot() - value).abs() < 1e-9, "{:?}", one.kind);
                            Some(value)
                        }
                        _ => None,
                    })
                    .collect();
                assert_eq!(measured.len(), one.wood.len());
                if let (Some(amount), Kind::MouthOff | Kind::InnerOff) = (one.amount, one.kind) {
                    assert!((measured[0] - amount.value).abs() < 1e-9);
                }
                drawn += measured.len();
            }
            assert!(drawn > 6);
        }
    }

    #[test]
    fn the_plan_lies_as_a_ghost_over_what_is() {
        let fit = fit([18.8, 12.0]);
        let scene = over_plan(&fit);
        let ghosts = |line: Line| {
            let drawn = |shape: &&crate::scene::Shape| match &shape.item {
                Item::Stroke { line: found, .. } => *found == line,
                _ => false,
            };
            scene.shapes.iter().filter(drawn).count()
        };
        assert!(ghosts(Line::Ghost) >= 4);
        assert!(scene.shapes.iter().any(|shape| shape.part == Some(PartName::Straightedge)));
    }
}
