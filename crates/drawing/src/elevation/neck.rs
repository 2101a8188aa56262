//! Neck, headstock, board, frets and nut.

use kurbo::{BezPath, Point, Vec2};
use overstand_core::design::{HeadShape, JointKind, Nut};

use super::Bench;
use crate::outline::{blend_to, parabola_to, polygon, polyline, rounded};
use crate::scene::{Line, Material, PartName};

/// Width of a fret's crown, mm.
const CROWN_WIDTH: f64 = 2.2;
/// Length of a nut along the strings, mm.
const NUT_LENGTH: f64 = 4.0;
/// How far the board reaches behind a zero fret, mm.
const BEHIND_ZERO_FRET: f64 = 2.0;
/// Width of a post, mm.
const POST_WIDTH: f64 = 5.0;
/// Where the back of the neck leaves its line toward the headstock, mm before the nut.
const BLEND_START: f64 = 12.0;

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

    pub(super) fn neck_before_body(&mut self) {
        if !matches!(self.design.joint.kind, JointKind::Through) {
            let path = self.tenon_outline();
            self.area(PartName::Neck, path, Material::Neck);
        }
        self.area(PartName::Neck, self.neck_outline(), Material::Neck);
        self.area(PartName::Head, self.head_outline(), Material::Neck);
    }

    fn neck_outline(&self) -> BezPath {
        let joint = self.layout.joint_from_nut;
        let under = -self.design.board.thickness.to_mm();
        let heel = (joint - self.design.neck.heel_length.to_mm()).max(BLEND_START.min(joint));
        let back = |u: f64| self.neck(u, -self.depth(u, heel));
        let foot = Point::new(0.0, self.neck(joint, under).y - self.design.joint.shoulder.to_mm());

        let mut path = BezPath::new();
        path.move_to(self.neck(joint, under));
        parabola_to(&mut path, joint, self.board_start(), |u| self.neck(u, under));
        path.line_to(self.neck(-self.head_start(), under));
        path.line_to(self.head(0.0, 0.0));
        let meets = self.head(self.blend_along(), -self.design.head.thickness.to_mm());
        path.line_to(meets);
        let along_head = way(meets, self.head(0.0, -self.design.head.thickness.to_mm()));
        let along_neck = way(back(BLEND_START), back(BLEND_START + 1.0));
        blend_to(&mut path, along_head, back(BLEND_START), along_neck);
        parabola_to(&mut path, BLEND_START, heel, back);
        // the heel sweeps down to a short level cap
        let leaving = way(back(heel - 1.0), back(heel));
        let cap = foot - leaving * (0.22 * (foot - back(heel)).hypot());
        let arriving = way(back(heel), cap);
        blend_to(&mut path, leaving, cap, (arriving * 2.0 - leaving).normalize());
        path.line_to(foot);
        path.close_path();
        path
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

    fn head_outline(&self) -> BezPath {
        let (length, thickness) =
            (self.design.head.length.to_mm(), self.design.head.thickness.to_mm());
        let meets = self.blend_along();
        let round = 0.2 * thickness;
        rounded(&[
            (self.head(0.0, 0.0), 0.0),
            (self.head(length, 0.0), round),
            (self.head(length, -thickness), round),
            (self.head(meets, -thickness), 0.0),
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
        let behind = (middle.slope.atan() + middle.nut_break).clamp(0.0, 0.6).tan();
        let front = self.board_start();
        let rear = front - NUT_LENGTH;
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

    /// The posts on the headstock, as far as they stand over its face.
    pub(super) fn posts(&mut self) {
        let mut posts: Vec<(f64, f64)> = self
            .design
            .strings
            .iter()
            .map(|string| (string.post.to_mm(), string.post_height.to_mm()))
            .collect();
        posts.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        posts.dedup();
        for (along, height) in posts {
            if height > 0.0 {
                let half = POST_WIDTH / 2.0;
                let path = polygon([
                    self.head(along - half, 0.0),
                    self.head(along - half, height + 2.0),
                    self.head(along + half, height + 2.0),
                    self.head(along + half, 0.0),
                ]);
                self.area(PartName::Head, path, Material::Metal);
            }
        }
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
