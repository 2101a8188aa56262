//! Neck, headstock, board, frets and nut.

use std::collections::BTreeSet;

use kurbo::{BezPath, Point, Vec2};
use overstand_core::design::{HeadShape, Nut};
use overstand_core::units::Length;

use super::Bench;
use crate::outline::{blend_to, parabola_to, point, polygon, polyline};
use crate::scene::{Line, Material, PartName, Region};

/// Width of a fret's crown, mm.
const CROWN_WIDTH: f64 = 2.2;
/// Length of a nut along the strings, mm.
const NUT_LENGTH: f64 = 4.0;
/// How far the board reaches behind a zero fret, mm.
const BEHIND_ZERO_FRET: f64 = 2.0;
/// Width of a post, mm.
const POST_WIDTH: f64 = 5.0;
/// How far the corners of the headstock's tip are rounded, of its thickness.
const TIP_ROUNDING: f64 = 0.2;
/// The level end of the heel, of its length.
const HEEL_CAP: f64 = 0.3;
/// Where the back of the neck leaves its line toward the headstock, mm before the nut.
const BLEND_START: f64 = 12.0;

/// A place on the headstock's face in micrometres, to tell places apart: strings that
/// share one are drawn once.
fn at_face(along: Length, over: Length) -> (i64, i64) {
    let micrometres = |length: Length| (length.to_mm() * 1e3).round() as i64;
    (micrometres(along), micrometres(over))
}

fn from_face((along, over): (i64, i64)) -> (f64, f64) {
    (along as f64 * 1e-3, over as f64 * 1e-3)
}

/// The unit vector from one point to another.
fn way(from: Point, to: Point) -> Vec2 {
    let way = to - from;
    if way.hypot() > 0.0 { way / way.hypot() } else { Vec2::new(1.0, 0.0) }
}

impl Bench<'_> {
    /// Where the board begins at the nut end.
    fn board_start(&self) -> f64 {
        match self.design.nut {
            Nut::Filed => 0.0,
            Nut::ZeroFret { .. } => -BEHIND_ZERO_FRET,
        }
    }

    /// Depth from the board's surface to the back of the neck: linear from fret 1 to the
    /// heel, and on toward the nut.
    fn depth(&self, u: f64, heel: f64) -> f64 {
        let neck = &self.design.neck;
        let first = self.layout.positions.first().copied().unwrap_or(0.0);
        let (shallow, deep) = (neck.depth_first.to_mm(), neck.depth_heel.to_mm());
        let part = if heel > first { (u - first) / (heel - first) } else { 0.0 };
        shallow + (deep - shallow) * part
    }

    /// Neck, headstock and tenon: one piece of wood.
    pub(super) fn neck_before_body(&mut self) {
        let path = self.neck_outline();
        self.area(PartName::Neck, path, Material::Neck);
        let outline = self.head_outline();
        self.scene.regions.push(Region { of: PartName::Neck, part: PartName::Head, outline });
    }

    pub(super) fn neck_outline(&self) -> BezPath {
        let joint = self.layout.joint_from_nut;
        let under = -self.design.board.thickness.to_mm();
        let heel = (joint - self.design.neck.heel_length.to_mm()).max(BLEND_START.min(joint));
        let back = |u: f64| self.neck(u, -self.depth(u, heel));
        let head = &self.design.head;
        let behind = -head.thickness.to_mm();
        let tip = head.length.to_mm();
        let round = TIP_ROUNDING * head.thickness.to_mm();

        let (inner, pocket) = self.behind_shoulder();
        let mut path = polyline([inner, self.neck(joint, under)]);
        parabola_to(&mut path, joint, self.board_start(), |u| self.neck(u, under));
        path.line_to(self.neck(-self.head_start(), under));
        path.line_to(self.head(0.0, 0.0));
        path.line_to(self.head(tip - round, 0.0));
        path.quad_to(self.head(tip, 0.0), self.head(tip, -round));
        path.line_to(self.head(tip, behind + round));
        path.quad_to(self.head(tip, behind), self.head(tip - round, behind));
        let meets = self.head(self.blend_along(), behind);
        path.line_to(meets);
        let along_head = way(meets, self.head(0.0, behind));
        let along_neck = way(back(BLEND_START), back(BLEND_START + 1.0));
        blend_to(&mut path, along_head, back(BLEND_START), along_neck);
        parabola_to(&mut path, BLEND_START, heel, back);
        self.heel_to(&mut path, way(back(heel - 1.0), back(heel)));
        for corner in pocket {
            path.line_to(corner);
        }
        path.close_path();
        path
    }

    /// Sweeps from where the heel begins, along the back of the neck, down to a short level
    /// cap that ends at the shoulder's foot.
    fn heel_to(&self, path: &mut BezPath, along: Vec2) {
        let foot = point(self.joint.shoulder_foot);
        let start = path.current_position().unwrap_or(foot);
        let down = Vec2::new(along.y, -along.x);
        let run = (foot - start).dot(along) * (1.0 - HEEL_CAP);
        let drop = (foot - start).dot(down);
        let at = |part: f64, depth: f64| start + along * (run * part) + down * (drop * depth);
        path.curve_to(at(0.8, 0.0), at(0.9, 0.45), at(1.0, 1.0));
        path.line_to(foot);
    }

    /// Nut face to where the headstock's face starts.
    fn head_start(&self) -> f64 {
        self.design.head.start.to_mm()
    }

    /// Where along the headstock its back has become straight.
    fn blend_along(&self) -> f64 {
        let head = &self.design.head;
        let behind = self.depth(0.0, self.layout.joint_from_nut)
            - head.drop.to_mm()
            - head.thickness.to_mm();
        let crossing = match head.shape {
            HeadShape::Tilted { angle } if angle.to_degrees() > 1.0 => {
                behind / angle.radians().sin()
            }
            _ => 0.0,
        };
        (crossing + 16.0).clamp(18.0, 60.0).min(0.45 * head.length.to_mm())
    }

    /// The headstock by itself, up to where its back has become straight.
    fn head_outline(&self) -> BezPath {
        let (length, behind) =
            (self.design.head.length.to_mm(), -self.design.head.thickness.to_mm());
        polygon([
            self.head(0.0, 0.0),
            self.head(length, 0.0),
            self.head(length, behind),
            self.head(self.blend_along(), behind),
        ])
    }

    pub(super) fn board(&mut self) {
        let (start, end) = (self.board_start(), self.design.board.end.to_mm());
        let under = -self.design.board.thickness.to_mm();
        let joint = self.layout.joint_from_nut;
        let fall = usize::from(self.design.board.fall_from);
        let falls_from = fall.checked_sub(1).and_then(|i| self.layout.positions.get(i)).copied();
        // between these the surface is a parabola or straight
        let mut breaks: Vec<f64> = [Some(start), Some(joint), falls_from, Some(end)]
            .into_iter()
            .flatten()
            .filter(|u| (start..=end).contains(u))
            .collect();
        breaks.sort_by(f64::total_cmp);
        let mut path = polyline([self.neck(start, under)]);
        for pair in breaks.windows(2) {
            parabola_to(&mut path, pair[0], pair[1], |u| self.neck(u, under));
        }
        path.line_to(self.surface(end));
        for pair in breaks.windows(2).rev() {
            parabola_to(&mut path, pair[1], pair[0], |u| self.surface(u));
        }
        path.close_path();
        self.area(PartName::Board, path, Material::Board);
        if self.layout.is_fretted() {
            let crown = self.design.board.crown.to_mm();
            for &u in &self.layout.positions {
                self.fret(u, crown);
            }
        }
        if let Nut::ZeroFret { height } = self.design.nut {
            self.fret(0.0, height.to_mm());
        }
    }

    /// A fret's crown, half an ellipse on the board.
    fn fret(&mut self, u: f64, crown: f64) {
        // part of the half-axis at which a cubic comes closest to a quarter ellipse
        const QUARTER: f64 = 0.5523;
        let half = CROWN_WIDTH / 2.0;
        let at =
            |along: f64, over: f64| self.neck(u + along * half, over * crown - self.layout.fall(u));
        let mut path = polyline([at(-1.0, 0.0)]);
        path.curve_to(at(-1.0, QUARTER), at(-QUARTER, 1.0), at(0.0, 1.0));
        path.curve_to(at(QUARTER, 1.0), at(1.0, QUARTER), at(1.0, 0.0));
        path.close_path();
        let part = if u > 0.0 { PartName::Frets } else { PartName::Nut };
        self.area(part, path, Material::Metal);
    }

    /// The nut, its front edge as high as the middle string's slot; or the block that keeps
    /// the strings apart behind a zero fret.
    pub(super) fn nut(&mut self) {
        let (thickness, drop) =
            (self.design.board.thickness.to_mm(), self.design.head.drop.to_mm());
        let lift = self.layout.lift(0.0);
        let middle = &self.layout.middle;
        let slot = middle.nut_v - lift;
        // the string leaves at this slope behind the nut
        let behind = (middle.slope.atan() + middle.nut_break.angle()).clamp(0.0, 0.6).tan();
        let front = self.board_start();
        // it fills the room up to the headstock's face, where that is as long as a nut
        let room = self.head_start() + front;
        let length = if (2.5..=8.0).contains(&room) { room } else { NUT_LENGTH };
        let rear = front - length;
        let foot = if self.head_start() >= -rear { -thickness } else { -thickness.max(drop) };
        let height = |u: f64| slot + behind * u;
        let path = polygon([
            self.neck(front, foot),
            self.neck(front, height(front)),
            self.neck(rear, height(rear)),
            self.neck(rear, foot),
        ]);
        self.area(PartName::Nut, path, Material::Bone);
    }

    /// The posts on the headstock, as far as they stand over its face, and what holds
    /// strings down before them.
    pub(super) fn posts(&mut self) {
        let half = POST_WIDTH / 2.0;
        let strings = &self.design.strings;
        let posts: BTreeSet<_> =
            strings.iter().map(|one| at_face(one.post, one.post_height)).collect();
        for (along, height) in posts.into_iter().map(from_face).filter(|post| post.1 > 0.0) {
            self.on_face([(along - half, 0.0), (along + half, height + 2.0)]);
        }
        let held: BTreeSet<_> = strings
            .iter()
            .filter_map(|one| one.retainer.as_ref())
            .map(|held| at_face(held.along, held.height))
            .collect();
        for (along, height) in held.into_iter().map(from_face) {
            // a screw, and over the string its head
            self.on_face([(along - 0.8, 0.0), (along + 0.8, height)]);
            self.on_face([(along - 2.0, height), (along + 2.0, height + 1.5)]);
        }
    }

    /// A block of metal on the headstock, between two opposite corners.
    fn on_face(&mut self, [(from, low), (to, high)]: [(f64, f64); 2]) {
        let corners = [(from, low), (from, high), (to, high), (to, low)];
        let path = polygon(corners.map(|(along, over)| self.head(along, over)));
        self.area(PartName::Head, path, Material::Metal);
    }

    /// The top datum, and the datum continued under the neck.
    pub(super) fn datum(&mut self) {
        let end = self.design.body.length.to_mm();
        let path = polyline([
            Point::new(-0.45 * self.layout.joint_from_nut, 0.0),
            Point::new(end + 15.0, 0.0),
        ]);
        self.stroke(PartName::Top, path, Line::Centre);
    }
}
