//! The bridge by its kind, and the range of its saddle.

use kurbo::{BezPath, Point};
use overstand_core::design::{BridgeKind, Tail};

use super::Bench;
use crate::outline::{point, polygon, polyline, rounded};
use crate::scene::{Line, Material, PartName};

/// Adds a rounded ridge to a path that goes up in front of it and down behind it; its
/// highest point is `crest`.
fn ridge(path: &mut BezPath, crest: Point, half: f64, drop: f64) {
    path.line_to(crest + (-half, -drop));
    path.quad_to(crest + (-half, 0.0), crest);
    path.quad_to(crest + (half, 0.0), crest + (half, -drop));
}

impl Bench<'_> {
    pub(super) fn bridge(&mut self) {
        match self.design.bridge.kind {
            BridgeKind::Plate { .. } => self.plate(),
            BridgeKind::Posts { .. } => self.bar_on_posts(),
            BridgeKind::Wrapped { .. } => self.wrapped(),
            BridgeKind::Floating { .. } => self.floating(),
            BridgeKind::Glued { thickness, .. } => self.glued(thickness.to_mm()),
        }
    }

    fn crest(&self) -> Point {
        point(self.layout.middle.crest)
    }

    /// Height of the crest over the top as it is drawn.
    fn crest_over_top(&self) -> f64 {
        let crest = self.crest();
        crest.y - self.layout.top(crest.x)
    }

    /// Half the length of the bridge along the strings.
    fn half_base(&self) -> f64 {
        self.design.bridge.base.to_mm() / 2.0
    }

    /// A point so far behind the crest and so high over the top there.
    fn at(&self, behind: f64, over: f64) -> Point {
        self.top(self.crest().x + behind, over)
    }

    /// A block with a rounded top under the crest, standing `low` over the top.
    fn block(&mut self, half_foot: f64, half_top: f64, low: f64, material: Material) {
        let (crest, height) = (self.crest(), self.crest_over_top());
        let drop = (0.4 * half_top + 0.4).min((height - low).max(0.1) * 0.9);
        let mut path = polyline([self.at(-half_foot, low)]);
        ridge(&mut path, crest, half_top, drop);
        path.line_to(self.at(half_foot, low));
        path.close_path();
        self.area(PartName::Bridge, path, material);
    }

    /// A plate on the top, its rear edge turned up, with a saddle of its own for the string.
    fn plate(&mut self) {
        let (half, height) = (self.half_base(), self.crest_over_top());
        let edge = self.design.bridge.edge_height.to_mm();
        let plate = (0.15 * height).clamp(0.5, 2.5);
        let lip = 2.0_f64.min(0.3 * half);
        let edge = edge.max(plate);
        self.block((0.45 * half).min(5.0), (0.2 * half).min(2.0), plate, Material::Metal);
        let mut corners = vec![
            self.at(-half, 0.0),
            self.at(-half, plate),
            self.at(half - lip, plate),
            self.at(half - lip, edge),
            self.at(half, edge),
        ];
        match self.anchor_in_bridge() {
            // a second lip behind the edge, through which the strings come
            Some(at) if at.x > self.crest().x + half => {
                corners.extend([
                    self.at(half, plate),
                    Point::new(at.x, self.at(half, plate).y.min(at.y)),
                    at,
                    at + (lip, 0.0),
                    Point::new(at.x + lip, self.at(half, 0.0).y),
                ]);
            }
            _ => corners.push(self.at(half, 0.0)),
        }
        self.area(PartName::Bridge, polygon(corners), Material::Metal);
    }

    /// Where the strings end, when they end in the bridge.
    fn anchor_in_bridge(&self) -> Option<Point> {
        let anchored = matches!(self.design.tail, Tail::AtBridge { .. });
        self.layout.tail().filter(|_| anchored).map(point)
    }

    /// The posts under a bar that stands `low` over the top.
    fn studs(&mut self, low: f64) {
        let half = (0.2 * self.half_base()).clamp(0.8, 2.5);
        let path = polygon([
            self.at(-half, 0.0),
            self.at(-half, low),
            self.at(half, low),
            self.at(half, 0.0),
        ]);
        self.area(PartName::Bridge, path, Material::Metal);
        if low > 2.5 {
            let wheel = [(-1.9, low - 2.0), (-1.9, low), (1.9, low), (1.9, low - 2.0)];
            let path = polygon(wheel.map(|(side, over)| self.at(side * half, over)));
            self.area(PartName::Bridge, path, Material::Metal);
        }
    }

    /// A bar on two posts, one behind the other, with a ridge for the strings.
    fn bar_on_posts(&mut self) {
        let (half, height) = (self.half_base(), self.crest_over_top());
        let edge = self.design.bridge.edge_height.to_mm();
        let low = (height - 10.0).max(0.25 * height).min((edge - 2.0).max(0.0));
        let front = (height - 3.5).max(low + 1.0);
        self.studs(low);
        let crest = self.crest();
        let mut path = polyline([self.at(-half, low), self.at(-half, front.min(height - 1.0))]);
        ridge(&mut path, crest, (0.25 * half).min(2.0), 1.2_f64.min(0.3 * height));
        path.line_to(self.at(half, edge));
        path.line_to(self.at(half, low));
        path.close_path();
        self.area(PartName::Bridge, path, Material::Metal);
    }

    /// A bar around which the strings are wrapped: over the crest and back underneath.
    fn wrapped(&mut self) {
        let (half, height) = (self.half_base(), self.crest_over_top());
        let thick = (1.2 * half).min(0.75 * height);
        let low = height - thick;
        self.studs(low);
        let crest = self.crest();
        let rear = crest + (half, -0.5 * thick);
        let under = crest + (0.3 * half, -thick);
        let mut path = polyline([crest]);
        path.curve_to(crest + (0.55 * half, 0.0), rear + (0.0, 0.3 * thick), rear);
        path.curve_to(rear + (0.0, -0.3 * thick), under + (0.4 * half, 0.0), under);
        let around = path.clone();
        path.line_to(crest + (-0.5 * half, -thick));
        path.quad_to(crest + (-half, -thick), crest + (-half, -0.6 * thick));
        path.quad_to(crest + (-half, 0.0), crest);
        path.close_path();
        self.area(PartName::Bridge, path, Material::Metal);
        self.stroke(PartName::Strings, around, Line::String);
    }

    /// A foot that follows the top, and on adjusters the part that carries the strings.
    fn floating(&mut self) {
        let (half, height) = (self.half_base(), self.crest_over_top());
        let foot = (0.3 * height).min(6.0);
        let gap = (0.12 * height).min(3.0);
        let x = self.crest().x;
        let mut corners: Vec<(Point, f64)> =
            self.top_points(x - half, x + half).into_iter().map(|at| (at, 0.0)).collect();
        corners.push((self.at(half, 0.5 * foot), 0.5));
        corners.push((self.at(0.6 * half, foot), 1.5));
        corners.push((self.at(-0.6 * half, foot), 1.5));
        corners.push((self.at(-half, 0.5 * foot), 0.5));
        let wheel = [(-0.4, foot), (-0.4, foot + gap), (0.4, foot + gap), (0.4, foot)];
        let path = polygon(wheel.map(|(side, over)| self.at(side * half, over)));
        self.area(PartName::Bridge, path, Material::Metal);
        self.area(PartName::Bridge, rounded(&corners), Material::Board);
        self.block(0.6 * half, (0.3 * half).min(1.5), foot + gap, Material::Board);
    }

    /// A bridge glued to the top, the saddle showing out of its slot.
    fn glued(&mut self, thickness: f64) {
        let half = self.half_base();
        let edge = self.design.bridge.edge_height.to_mm();
        let saddle = (0.2 * half).min(1.5);
        self.block(saddle, saddle, 0.4 * thickness, Material::Bone);
        let x = self.crest().x;
        let mut corners: Vec<(Point, f64)> =
            self.top_points(x - half, x + half).into_iter().map(|at| (at, 0.0)).collect();
        corners.push((self.at(half, edge), 0.8));
        corners.push((self.at(saddle + 0.25 * half, thickness), 2.0));
        corners.push((self.at(-saddle - 0.25 * half, thickness), 2.0));
        corners.push((self.at(-half, 0.45 * thickness), 0.8));
        self.area(PartName::Bridge, rounded(&corners), Material::Board);
        if let Some(at) = self.anchor_in_bridge() {
            // a pin holds the string in its hole
            let head = [(-2.0, -0.4), (-2.0, 1.6), (2.0, 1.6), (2.0, -0.4)];
            let rounding = [0.3, 1.6, 1.6, 0.3];
            let corners: Vec<(Point, f64)> =
                head.into_iter().map(|side| at + side).zip(rounding).collect();
            self.area(PartName::Tail, rounded(&corners), Material::Bone);
        }
    }

    /// The range of the crest, as a bracket with a tick at each end.
    pub(super) fn saddle_range(&mut self) {
        let [low, high] = self.layout.crest_range(self.design).map(point);
        let side = self.half_base().clamp(5.0, 9.0);
        let path = polyline([
            low + (2.0, 0.0),
            low + (-side, 0.0),
            high + (-side, 0.0),
            high + (2.0, 0.0),
        ]);
        self.stroke(PartName::SaddleRange, path, Line::Range);
    }

    /// Where the held crest height and station put the crest of a design that does not
    /// close.
    pub(super) fn held_crest(&mut self) {
        let at = self.held_crest_point();
        let mut path = BezPath::new();
        for (from, to) in [((-6.0, 0.0), (6.0, 0.0)), ((0.0, -6.0), (0.0, 6.0))] {
            path.move_to(at + from);
            path.line_to(at + to);
        }
        self.stroke(PartName::Bridge, path, Line::Ghost);
    }

    fn held_crest_point(&self) -> Point {
        let bridge = &self.design.bridge;
        self.top(
            bridge.station.to_mm(),
            bridge.crest_height.to_mm() + self.design.body.top_rise.to_mm(),
        )
    }
}
