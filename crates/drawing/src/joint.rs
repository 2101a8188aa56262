//! The joint to scale: in true section along the centre line, unstrung and straight, and
//! below it seen from above, both on one X.

use kurbo::{BezPath, Point};
use overstand_core::design::{Design, JointKind, Top};
use overstand_core::dimension::Dim;
use overstand_core::joint::{JointPlan, JointSection};
use overstand_core::layout::{BodyPoint, Layout};
use overstand_core::study::Study;

use crate::elevation::layout_of;
use crate::outline::{flatten, point, polygon, polyline, rounded, screw};
use crate::scene::{Anchor, Item, Line, Material, PartName, Scene};

/// How far the drawing goes on before the heel, mm.
const BEYOND: f64 = 30.0;
/// How far it goes on behind the joint, with room for words.
const BEHIND: f64 = 55.0;
/// Room between the section and the view from above, mm.
const APART: f64 = 42.0;

/// The joint of a study in section and from above. Empty only when no layout can be had.
pub fn joint(study: &Study) -> Scene {
    let Some(layout) = layout_of(study) else {
        return Scene::default();
    };
    let design = &study.design;
    let section = JointSection::of(design, &layout);
    let through = design.joint.kind == JointKind::Through;
    let pocket_end = if through { 0.0 } else { section.pocket[2].x };
    let glue_face = -design.board.thickness.to_mm();
    let board_end = layout.unstrung(design.board.end.to_mm(), glue_face).x;
    let heel = layout.joint_from_nut - design.neck.heel_length.to_mm();
    let reach = pocket_end.max(board_end);
    let mut bench = Bench {
        design,
        layout: &layout,
        section,
        plan: JointPlan::of(design),
        from_u: (heel - BEYOND).max(0.0),
        to_x: (reach + BEHIND).min(design.body.length.to_mm()),
        scene: Scene::default(),
    };
    bench.body();
    bench.neck();
    bench.rod();
    bench.screws();
    bench.wedge();
    bench.board();
    bench.datum();
    bench.dimensions();
    bench.view_from_above();
    bench.scene
}

struct Bench<'a> {
    design: &'a Design,
    layout: &'a Layout,
    section: JointSection,
    plan: JointPlan,
    /// Where the neck is cut off, from the nut.
    from_u: f64,
    /// Where the body is cut off.
    to_x: f64,
    scene: Scene,
}

impl Bench<'_> {
    fn unstrung(&self, u: f64, v: f64) -> Point {
        point(self.layout.unstrung(u, v))
    }

    fn area(&mut self, part: PartName, path: BezPath, material: Material, edge: Line) {
        self.scene.add(Some(part), Item::Area { path, material, edge });
    }

    fn stroke(&mut self, part: PartName, path: BezPath, line: Line) {
        self.scene.add(Some(part), Item::Stroke { path, line });
    }

    fn through(&self) -> bool {
        self.design.joint.kind == JointKind::Through
    }

    /// The body's wood along the centre line: the top, with pocket and cavities cut out.
    fn body(&mut self) {
        let pocket = self.section.pocket.map(point);
        let pocket_end = if self.through() { 0.0 } else { pocket[2].x };
        let cuts: Vec<(f64, f64, f64)> = self
            .design
            .cavities
            .iter()
            .map(|one| (one.from.to_mm(), one.to.to_mm(), -one.depth.to_mm()))
            .collect();
        let mut stations: Vec<f64> = cuts
            .iter()
            .flat_map(|cut| [cut.0, cut.1])
            .chain([pocket_end])
            .filter(|x| (0.0..self.to_x).contains(x))
            .chain([0.0, self.to_x])
            .collect();
        stations.sort_by(f64::total_cmp);
        stations.dedup();
        let corners = self.corners();
        let mut points = Vec::new();
        for pair in stations.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            let middle = 0.5 * (from + to);
            let cavity = cuts
                .iter()
                .filter(|cut| cut.0 <= middle && middle <= cut.1)
                .map(|cut| cut.2)
                .fold(f64::INFINITY, f64::min);
            let in_pocket = middle < pocket_end;
            let surface = |x: f64| {
                let floor =
                    if in_pocket { self.layout.pocket_floor(x) } else { self.layout.top(x) };
                floor.min(cavity)
            };
            points.extend(flatten(from, to, corners.iter().copied(), surface));
        }
        if pocket_end > 0.0
            && let Some(first) = points.first_mut()
        {
            // on a raked wall the mouth lies off X = 0
            *first = pocket[1];
        }
        let back = |x: f64| Point::new(x, self.layout.back(x));
        let wall_foot = self.wall_at(back(0.0).y);
        points.extend([back(self.to_x), wall_foot]);
        self.area(PartName::Body, polygon(points), Material::Body, Line::Visible);
        // where the drawing is cut off the body goes on
        let cut = polyline([back(self.to_x), Point::new(self.to_x, self.layout.top(self.to_x))]);
        self.stroke(PartName::Body, cut, Line::Thin);
    }

    /// Where the top has a corner.
    fn corners(&self) -> Vec<f64> {
        match &self.design.body.top {
            Top::Ramp { length, .. } => vec![length.to_mm()],
            Top::Arch { points } => points.iter().map(|at| at.x.to_mm()).collect(),
            Top::Flat | Top::Dome { .. } => Vec::new(),
        }
    }

    /// X of the board's end, at its underside.
    fn board_end(&self) -> f64 {
        let glue_face = -self.design.board.thickness.to_mm();
        self.unstrung(self.design.board.end.to_mm(), glue_face).x
    }

    /// The end wall at Y.
    fn wall_at(&self, y: f64) -> Point {
        let slope = self.design.joint.wall_rake.radians().tan();
        Point::new(y * slope, y)
    }

    /// Neck, heel and tenon in one piece.
    fn neck(&mut self) {
        let design = self.design;
        let [_, mouth, inner, upper] = self.section.tenon.map(point);
        let foot = point(self.section.shoulder_foot);
        let heel = (self.layout.joint_from_nut - design.neck.heel_length.to_mm()).max(self.from_u);
        let deep = -design.neck.depth_heel.to_mm();
        let start = self.unstrung(heel, deep);
        let glue_face = |x: f64| Point::new(x, self.layout.glue_face(x));
        let mut path = polyline([self.unstrung(self.from_u, -design.board.thickness.to_mm())]);
        if self.through() {
            // under the board up to its glue face, behind it planed to the top
            let under_board = self.board_end().min(self.to_x);
            path.line_to(glue_face(under_board));
            for at in flatten(under_board, self.to_x, self.corners(), |x| self.layout.top(x)) {
                path.line_to(at);
            }
            path.line_to(Point::new(self.to_x, self.layout.pocket_floor(self.to_x)));
        } else {
            path.line_to(upper);
            path.line_to(inner);
        }
        path.line_to(mouth);
        path.line_to(foot);
        // the heel sweeps up from its foot to the back of the neck
        let way = foot - start;
        let along = |x: f64, y: f64| start + (way.x * x, way.y * y);
        path.line_to(along(0.7, 1.0));
        path.curve_to(along(0.63, 0.45), along(0.56, 0.0), start);
        path.line_to(self.unstrung(self.from_u, deep));
        path.close_path();
        self.area(PartName::Neck, path, Material::Neck, Line::Visible);
        if !self.through() {
            let tenon = self.section.tenon.map(point);
            let region = crate::scene::Region {
                of: PartName::Neck,
                part: PartName::Tenon,
                outline: polygon(tenon),
            };
            self.scene.regions.push(region);
            let x = self.section.rounded_from;
            let from = Point::new(x, self.layout.pocket_floor(x));
            self.stroke(PartName::Tenon, polyline([from, glue_face(x)]), Line::Thin);
        }
    }

    fn rod(&mut self) {
        let neck = &self.design.neck;
        let (from, to) = (neck.rod_start.to_mm().max(self.from_u), neck.rod_end.to_mm());
        if neck.rod_depth.to_mm() <= 0.0 || to <= from {
            return;
        }
        let face = -self.design.board.thickness.to_mm();
        let deep = face - neck.rod_depth.to_mm();
        let corners = [(from, face), (from, deep), (to, deep), (to, face)];
        let path = polygon(corners.map(|(u, v)| self.unstrung(u, v)));
        self.area(PartName::Rod, path, Material::Metal, Line::Visible);
    }

    /// Where the middle of the screws is, from the back: they lie beside the centre line.
    fn screws(&mut self) {
        if let Some(screw) = screw(&self.design.joint, self.layout) {
            self.stroke(PartName::Screws, polygon(screw), Line::Hidden);
        }
    }

    fn wedge(&mut self) {
        let length = self.design.joint.wedge_length.to_mm();
        if length <= 0.0 {
            return;
        }
        let end = self.board_end();
        let height = self.design.joint.wedge_height.to_mm();
        let top = |x: f64| self.layout.top(x);
        let start = end - length;
        let thin = (self.layout.glue_face(start) - top(start)).max(0.0);
        let path = polygon([
            Point::new(start, top(start)),
            Point::new(end, top(end)),
            Point::new(end, top(end) + height),
            Point::new(start, top(start) + thin),
        ]);
        self.area(PartName::Wedge, path, Material::Neck, Line::Visible);
    }

    fn board(&mut self) {
        let (thickness, end) = (self.design.board.thickness.to_mm(), self.design.board.end.to_mm());
        let corners =
            [(self.from_u, -thickness), (self.from_u, 0.0), (end, 0.0), (end, -thickness)];
        let path = polygon(corners.map(|(u, v)| self.unstrung(u, v)));
        self.area(PartName::Board, path, Material::Board, Line::Visible);
    }

    fn datum(&mut self) {
        let left = self.unstrung(self.from_u, 0.0).x;
        let path = polyline([Point::new(left, 0.0), Point::new(self.to_x + 10.0, 0.0)]);
        self.stroke(PartName::Top, path, Line::Centre);
    }

    fn dimension(&mut self, dim: Dim, from: Point, to: Point, offset: f64, value: f64) {
        self.scene.add(None, Item::Dimension { from, to, offset, value, dim });
    }

    fn dimensions(&mut self) {
        let joint = &self.design.joint;
        let (length, depth) = (joint.tenon_length.to_mm(), joint.pocket_depth.to_mm());
        let (shoulder, overstand) = (joint.shoulder.to_mm(), joint.overstand.to_mm());
        let spare = joint.spare_length.to_mm();
        let [top, mouth, inner, _] = self.section.tenon.map(point);
        let foot = point(self.section.shoulder_foot);
        self.dimension(Dim::Shoulder, foot, top, 14.0, shoulder);
        if overstand.abs() >= 0.05 {
            self.dimension(Dim::Overstand, Point::ZERO, top, 28.0, overstand);
        }
        if self.through() {
            return;
        }
        let below = self.layout.back(0.0).min(self.layout.back(self.to_x)) - 10.0;
        let on_datum = |x: f64| Point::new(x, 0.0);
        self.dimension(Dim::TenonLength, on_datum(0.0), on_datum(length), below, length);
        if spare > 0.0 {
            let end = on_datum(length + spare);
            self.dimension(Dim::SpareLength, on_datum(length), end, below - 10.0, spare);
        }
        self.dimension(Dim::PocketDepth, Point::new(0.0, -depth), Point::ZERO, -12.0, depth);
        let floor = self.layout.floor();
        self.scene.add(
            None,
            Item::Angle {
                vertex: mouth,
                from: mouth + (0.8 * length, 0.0),
                to: inner,
                value: floor.to_degrees(),
                dim: Dim::Floor,
            },
        );
        // where it is least, written clear of the words at the floor
        let [_, front, end, _] = self.section.pocket;
        let wood = |at: BodyPoint| at.y - self.layout.back(at.x);
        let thin = if wood(front) < wood(end) { front } else { end };
        if let Some(under) = self.layout.outcome(Dim::WoodUnder) {
            let low = Point::new(thin.x, self.layout.back(thin.x));
            self.dimension(Dim::WoodUnder, low, point(thin), thin.x - end.x - 26.0, under);
        }
    }

    /// Tenon and pocket from above, bass side down.
    fn view_from_above(&mut self) {
        if self.through() {
            return;
        }
        let joint = &self.design.joint;
        let half = self.design.neck.width_heel.to_mm() / 2.0;
        let wide = half.max(self.plan.pocket[1].1) + 12.0;
        let foot = point(self.section.shoulder_foot).y;
        let back = self.layout.back(0.0).min(self.layout.back(self.to_x));
        let centre = back.min(foot) - APART - wide;
        let at = |(x, across): (f64, f64)| Point::new(x, centre + across);
        let body =
            polygon([(0.0, wide), (self.to_x, wide), (self.to_x, -wide), (0.0, -wide)].map(at));
        self.area(PartName::Body, body, Material::Body, Line::Visible);
        let radius = self.plan.radius;
        let outline = |corners: [(f64, f64); 4]| {
            let [a, b, c, d] = corners.map(at);
            let sharp = 0.0;
            rounded(&[(a, sharp), (b, radius), (c, radius), (d, sharp)])
        };
        let pocket = outline(self.plan.pocket);
        self.stroke(PartName::Tenon, pocket, Line::Visible);
        let tenon = outline(self.plan.tenon);
        self.area(PartName::Tenon, tenon, Material::Neck, Line::Visible);
        let left = -self.design.neck.heel_length.to_mm();
        let neck = polygon([(left, half), (0.0, half), (0.0, -half), (left, -half)].map(at));
        self.area(PartName::Neck, neck, Material::Neck, Line::Visible);
        let axis = polyline([(left - 8.0, 0.0), (self.to_x + 8.0, 0.0)].map(at));
        self.stroke(PartName::Tenon, axis, Line::Centre);
        let width = joint.tenon_width.to_mm();
        let (low, high) = (at((0.0, -width / 2.0)), at((0.0, width / 2.0)));
        self.dimension(Dim::TenonWidth, low, high, 16.0, width);
        let pocket_width = self.plan.mouth_width();
        let (low, high) = (at((0.0, -pocket_width / 2.0)), at((0.0, pocket_width / 2.0)));
        self.dimension(Dim::PocketWidth, low, high, -(self.plan.pocket[1].0 + 8.0), pocket_width);
        self.scene.add(
            None,
            Item::Text {
                at: at((self.to_x / 2.0, wide + 3.0)),
                anchor: Anchor::Below,
                text: "Tenon and pocket from above".to_owned(),
            },
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handles::{HandleKind, joint_handles};
    use crate::look::Look;
    use crate::svg::svg;
    use overstand_core::design::Cavity;
    use overstand_core::testing::worked_example;
    use overstand_core::units::{Angle, Length};

    fn drawn(change: impl FnOnce(&mut Design)) -> (Study, Scene) {
        let mut design = worked_example();
        change(&mut design);
        let study = Study::of(&design);
        let scene = joint(&study);
        (study, scene)
    }

    #[test]
    fn what_lies_where() {
        let (_, scene) = drawn(|design| {
            design.cavities.push(Cavity {
                name: "pickup".to_owned(),
                from: Length::mm(86.0),
                to: Length::mm(116.0),
                depth: Length::mm(18.0),
            });
        });
        let part = |x: f64, y: f64| scene.part_at(Point::new(x, y), 0.0);
        assert_eq!(part(30.0, -10.0), Some(PartName::Tenon));
        assert_eq!(part(30.0, -30.0), Some(PartName::Body));
        // the spare length behind the butt at 70 mm is air, and so is the cavity
        assert_eq!(part(75.0, -8.0), None);
        assert_eq!(part(100.0, -10.0), None);
        assert_eq!(part(83.0, -10.0), Some(PartName::Body));
        assert_eq!(part(-12.0, -30.0), Some(PartName::Neck));
        // the rod ends 400 mm from the nut, some 21 mm behind the joint
        assert_eq!(part(10.0, -3.0), Some(PartName::Rod));
        assert_eq!(part(40.0, -3.0), Some(PartName::Tenon));
    }

    /// The wood under the pocket is the least there is, as the check reads it: at the mouth
    /// where the body grows deeper toward the tail, at the end where it grows shallower faster
    /// than the floor rises.
    #[test]
    fn wood_under_the_pocket_is_measured_where_it_is_least() {
        for taper in [2.0, -6.0] {
            let (study, scene) = drawn(|design| design.body.taper = Angle::degrees(taper));
            let least = study.layout().and_then(|layout| layout.outcome(Dim::WoodUnder)).unwrap();
            let drawn = scene.shapes.iter().find_map(|shape| match shape.item {
                Item::Dimension { from, to, value, dim: Dim::WoodUnder, .. } => {
                    Some((value, to.y - from.y, from.x))
                }
                _ => None,
            });
            let (value, length, x) = drawn.unwrap();
            assert_eq!(value, least);
            // the same two points, through another sum of about 50 mm
            assert!((length - least).abs() < 1e-9, "{length} {least}");
            assert_eq!(x > 1.0, taper < 0.0, "{x}");
        }
    }

    #[test]
    fn every_kind_draws_and_stays_finite() {
        for kind in [
            JointKind::Tenon,
            JointKind::Dovetail { flank: Angle::degrees(9.0) },
            JointKind::Screwed,
            JointKind::Through,
        ] {
            let (_, scene) = drawn(|design| {
                design.joint.kind = kind;
                design.joint.wedge_length = Length::mm(30.0);
                design.joint.wall_rake = Angle::degrees(-7.0);
            });
            let text = svg(&scene, &Look::paper());
            assert!(!text.contains("NaN") && !text.contains("inf\""), "{kind:?}");
            assert!(scene.bounds().unwrap().width() > 100.0);
        }
    }

    /// A handle sits where its dimension ends, and grows the way it says.
    #[test]
    fn handles_follow_their_dimension() {
        let (study, _) = drawn(|_| {});
        let before = joint_handles(&study);
        assert_eq!(before.len(), 3);
        for handle in &before {
            let mut design = study.design.clone();
            let key = handle.dim.key();
            let step = match handle.kind {
                HandleKind::Linear => 2.0,
                HandleKind::Turn { .. } => 1.0,
            };
            let value = key.get(&design).unwrap();
            key.set(&mut design, value + step);
            let after = joint_handles(&Study::of(&design));
            let moved = after.iter().find(|one| one.dim == handle.dim).unwrap().at - handle.at;
            assert!(moved.dot(handle.direction) > 0.0, "{:?}", handle.dim);
        }
        let (study, _) = drawn(|design| {
            design.joint.floor_kind = overstand_core::design::FloorKind::ParallelToBoard;
        });
        assert!(joint_handles(&study).iter().all(|handle| handle.dim != Dim::Floor));
        let (study, _) = drawn(|design| design.joint.kind = JointKind::Through);
        assert!(joint_handles(&study).is_empty());
    }
}
