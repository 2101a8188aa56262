//! The middle string, the tail, the pickups and the straightedge.

use kurbo::Point;
use overstand_core::design::Tail;

use super::Bench;
use crate::outline::{point, polygon, polyline, rounded};
use crate::scene::{Item, Line, Material, PartName};

/// Length of a stop tail along the strings, mm.
const TAIL_LENGTH: f64 = 14.0;
/// Length of a pickup along the strings, mm.
pub(super) const PICKUP_LENGTH: f64 = 20.0;
/// How deep a pickup reaches below its face, mm.
const PICKUP_DEPTH: f64 = 17.0;

impl Bench<'_> {
    /// The middle string's underside where it really is: post, nut slot, crest, tail.
    pub(super) fn string(&mut self) {
        let middle = &self.layout.middle;
        let behind = self.layout.string_behind_nut(self.design);
        let slot = point(self.layout.strung(0.0, middle.nut_v));
        let mut points: Vec<Point> = behind.into_iter().map(point).rev().collect();
        points.extend([slot, point(middle.crest)]);
        points.extend(self.layout.tail().map(point));
        self.stroke(PartName::Strings, polyline(points), Line::String);
        if let (Tail::Through { .. }, Some(tail)) = (&self.design.tail, self.layout.tail()) {
            let back = Point::new(tail.x, self.layout.back(tail.x));
            self.stroke(PartName::Strings, polyline([point(tail), back]), Line::Hidden);
        }
    }

    pub(super) fn tail(&mut self) {
        let Some(at) = self.layout.tail().map(point) else {
            return;
        };
        let ground = self.layout.top(at.x);
        match &self.design.tail {
            // part of the bridge
            Tail::AtBridge { .. } | Tail::Wrapped => {}
            Tail::Stop { .. } => self.stop_tail(at, ground),
            Tail::Through { .. } => {
                let back = Point::new(at.x, self.layout.back(at.x));
                for (rim, side) in [(at, 1.0), (back, -1.0)] {
                    let path = polygon([
                        rim + (-3.0, 0.0),
                        rim + (-3.0, side),
                        rim + (3.0, side),
                        rim + (3.0, 0.0),
                    ]);
                    self.area(PartName::Tail, path, Material::Metal);
                }
            }
            Tail::Hung { .. } => self.hung_tail(at),
        }
    }

    /// A bar on studs, the strings bending over its front edge.
    fn stop_tail(&mut self, at: Point, ground: f64) {
        let thick = (0.55 * (at.y - ground)).clamp(2.0, 8.0);
        let stud = [3.0_f64, 8.0].map(|along| along + 0.5);
        let path = polygon([
            Point::new(at.x + stud[0], ground.min(at.y - thick)),
            Point::new(at.x + stud[0], at.y - thick),
            Point::new(at.x + stud[1], at.y - thick),
            Point::new(at.x + stud[1], ground.min(at.y - thick)),
        ]);
        self.area(PartName::Tail, path, Material::Metal);
        let path = rounded(&[
            (at, 0.0),
            (at + (TAIL_LENGTH, 0.0), 4.0),
            (at + (TAIL_LENGTH, -thick), 2.0),
            (at + (0.0, -thick), 1.5),
        ]);
        self.area(PartName::Tail, path, Material::Metal);
    }

    /// A tailpiece that reaches from the strings' ends over the body's end.
    fn hung_tail(&mut self, at: Point) {
        let end = self.design.body.length.to_mm();
        let thick = 2.5;
        let corner = self.top(end, 0.0) + (1.0, 1.0);
        let path = rounded(&[
            (at, 0.0),
            (at + (12.0, 1.0), 6.0),
            (corner + (thick, thick), 10.0),
            (corner + (thick, -22.0), 1.0),
            (corner + (0.0, -22.0), 0.0),
            (corner, 8.0),
            (at + (12.0, -thick), 6.0),
            (at + (0.0, -thick), 0.5),
        ]);
        self.area(PartName::Tail, path, Material::Metal);
    }

    pub(super) fn pickups(&mut self) {
        for (index, pickup) in self.design.pickups.iter().enumerate() {
            let part = PartName::Pickup(index);
            let half = PICKUP_LENGTH / 2.0;
            let face = self.top(pickup.station.to_mm(), pickup.height.to_mm());
            let sides = [face.x - half, face.x + half];
            let buried = polyline([
                self.top(sides[0], 0.0),
                Point::new(sides[0], face.y - PICKUP_DEPTH),
                Point::new(sides[1], face.y - PICKUP_DEPTH),
                self.top(sides[1], 0.0),
            ]);
            self.scene.add(Some(part), Item::Stroke { path: buried, line: Line::Hidden });
            if pickup.height.to_mm() > 0.0 {
                let mut corners: Vec<(Point, f64)> =
                    self.top_points(sides[0], sides[1]).into_iter().map(|at| (at, 0.0)).collect();
                corners.push((Point::new(sides[1], face.y), 1.0));
                corners.push((Point::new(sides[0], face.y), 1.0));
                self.area(part, rounded(&corners), Material::Metal);
            }
        }
    }

    /// The straightedge on the crowns of the unstrung neck, to beyond where it is read.
    pub(super) fn straightedge(&mut self) {
        let crown = self.design.board.crown.to_mm();
        let read = &self.layout.straightedge;
        let beyond = self.layout.middle.crest_u + 20.0;
        let edge = [0.0, beyond].map(|u| point(self.layout.unstrung(u, crown)));
        self.stroke(PartName::Straightedge, polyline(edge), Line::Ghost);
        let foot = self.top(read.x, 0.0);
        let tip = self.top(read.x, read.crowns);
        self.stroke(PartName::Straightedge, polyline([foot, tip]), Line::Thin);
    }
}
