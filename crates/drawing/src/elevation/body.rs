//! The body, and what of the neck lies inside it.

use kurbo::{BezPath, Point};
use overstand_core::design::{JointKind, Top};

use super::Bench;
use crate::outline::{flatten, point, polygon, polyline, screw};
use crate::scene::{Item, Line, Material, PartName};

/// Most by which the corners of the body's end are rounded, mm.
const END_RADIUS: f64 = 10.0;

impl Bench<'_> {
    /// The body's top from one X to another.
    pub(super) fn top_points(&self, from: f64, to: f64) -> Vec<Point> {
        let corners: Vec<f64> = match &self.design.body.top {
            Top::Ramp { length, .. } => vec![length.to_mm()],
            Top::Arch { points } => points.iter().map(|at| at.x.to_mm()).collect(),
            Top::Flat | Top::Dome { .. } => Vec::new(),
        };
        flatten(from, to, corners, |x| self.layout.top(x))
    }

    /// How far the corners of the body's end are rounded.
    fn end_radius(&self) -> f64 {
        let x = self.design.body.length.to_mm();
        let depth = self.layout.top(x) - self.layout.back(x);
        END_RADIUS.min(0.3 * depth).max(0.0)
    }

    /// The top from the joint, round the upper corner of the body's end, to where the end
    /// runs straight down.
    fn top_and_corner(&self) -> BezPath {
        let (end, radius) = (self.design.body.length.to_mm(), self.end_radius());
        let mut path = polyline(self.top_points(0.0, end - radius));
        path.quad_to(self.top(end, 0.0), self.top(end, -radius));
        path
    }

    pub(super) fn body(&mut self) {
        let (end, radius) = (self.design.body.length.to_mm(), self.end_radius());
        let back = |x: f64| Point::new(x, self.layout.back(x));
        let mut path = self.top_and_corner();
        path.line_to(Point::new(end, self.layout.back(end) + radius));
        path.quad_to(back(end), back(end - radius));
        path.line_to(back(0.0));
        path.close_path();
        self.area(PartName::Body, path, Material::Body);
    }

    /// The edges of the body in front of the tenon inside it. The top has a name of its own.
    pub(super) fn body_edges(&mut self) {
        let end = self.design.body.length.to_mm();
        if matches!(self.design.body.top, Top::Arch { .. } | Top::Dome { .. }) {
            // the plate's outer edge runs along the datum
            let rim = polyline([Point::ZERO, Point::new(end, 0.0)]);
            self.stroke(PartName::Body, rim, Line::Thin);
        }
        let wall = polyline([Point::ZERO, Point::new(0.0, self.layout.back(0.0))]);
        self.stroke(PartName::Body, wall, Line::Visible);
        let top = polyline(self.top_points(0.0, end - self.end_radius()));
        self.stroke(PartName::Top, top, Line::Visible);
    }

    /// A point of the pocket's floor, also beyond the tenon's end.
    fn floor(&self, x: f64) -> Point {
        Point::new(x, self.layout.pocket_floor(x))
    }

    /// The neck's glue face over the tenon, continued along the datum.
    fn underside_at(&self, x: f64) -> Point {
        Point::new(x, self.layout.glue_face(x))
    }

    /// What of the neck lies behind the shoulder, in one piece with it, from its upper inner
    /// corner round to the pocket's mouth; the body is drawn over what is inside it.
    pub(super) fn behind_shoulder(&self) -> (Point, [Point; 2]) {
        let [_, mouth, inner, upper] = self.joint.tenon.map(point);
        match self.design.joint.kind {
            JointKind::Tenon | JointKind::Dovetail { .. } | JointKind::Screwed => {
                (upper, [mouth, inner])
            }
            JointKind::Through => {
                // under the whole board
                let end = self.neck(self.design.board.end.to_mm(), 0.0).x.max(0.0);
                (self.underside_at(end), [mouth, self.floor(end)])
            }
        }
    }

    /// The tenon in its pocket, or the neck's wood that runs through.
    pub(super) fn inside_body(&mut self) {
        let path = match self.design.joint.kind {
            JointKind::Through => {
                let end = self.design.body.length.to_mm();
                let lowest = |x: f64| self.layout.back(x) + self.end_radius();
                let under = |x: f64| Point::new(x, self.floor(x).y.max(lowest(x)));
                let mut path = self.top_and_corner();
                path.line_to(under(end));
                path.line_to(under(0.0));
                path.close_path();
                path
            }
            JointKind::Tenon | JointKind::Dovetail { .. } | JointKind::Screwed => {
                let [_, mouth, inner, upper] = self.joint.tenon.map(point);
                let under = |x: f64| self.underside_at(x).y.min(self.layout.top(x));
                let mut points = flatten(0.0, upper.x, [], under);
                points.extend([inner, mouth]);
                polygon(points)
            }
        };
        self.scene.add(
            Some(PartName::Tenon),
            Item::Area { path, material: Material::Neck, edge: Line::Hidden },
        );
    }

    /// What else is cut into the body and the tenon: the pocket behind the butt, cavities,
    /// the rod's channel in the tenon and the screws.
    pub(super) fn cut_into_body(&mut self) {
        let joint = &self.design.joint;
        if joint.kind != JointKind::Through {
            let [_, _, inner, _] = self.joint.tenon.map(point);
            let [_, _, end, top] = self.joint.pocket.map(point);
            if joint.spare_length.to_mm() > 0.0 {
                self.stroke(PartName::Tenon, polyline([inner, end, top]), Line::Hidden);
            }
            // seen from above the inner corners are round: here their edge
            let x = self.joint.rounded_from;
            let edge = polyline([self.floor(x), self.underside_at(x)]);
            self.stroke(PartName::Tenon, edge, Line::Thin);
        }
        for (i, cavity) in self.design.cavities.iter().enumerate() {
            let (from, to) = (cavity.from.to_mm(), cavity.to.to_mm());
            let bottom = -cavity.depth.to_mm();
            let path = polyline([
                self.top(from, 0.0),
                Point::new(from, bottom),
                Point::new(to, bottom),
                self.top(to, 0.0),
            ]);
            self.stroke(PartName::Cavity(i), path, Line::Hidden);
        }
        if let Some(screw) = screw(joint, self.layout) {
            self.stroke(PartName::Screws, polyline(screw), Line::Hidden);
        }
        if let Some(rod) = self.joint.rod {
            let [_, deep_start, deep_end, end] = rod.map(point);
            self.stroke(PartName::Rod, polyline([deep_start, deep_end, end]), Line::Hidden);
        }
        self.wedge();
    }

    /// The wedge under the board's end.
    fn wedge(&mut self) {
        let joint = &self.design.joint;
        let length = joint.wedge_length.to_mm();
        if length <= 0.0 {
            return;
        }
        let end = self.neck(self.design.board.end.to_mm(), -self.design.board.thickness.to_mm()).x;
        let start = end - length;
        let thin = (self.layout.glue_face(start) - self.layout.top(start)).max(0.0);
        let path = polygon([
            self.top(start, 0.0),
            self.top(end, 0.0),
            self.top(end, joint.wedge_height.to_mm()),
            self.top(start, thin),
        ]);
        self.area(PartName::Wedge, path, Material::Neck);
    }
}
