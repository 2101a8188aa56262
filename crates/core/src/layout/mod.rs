//! The layout: every length, angle and point of a closed design.
//!
//! Middle string first (it closes the design, see [`solve`]), then each string
//! with its own place, sagitta, crest and clearances. Millimetres and radians in
//! the frames of the crate's front page.

mod bend;
mod clearances;
mod closing;
mod frets;
mod nearest;
mod real;
mod solve;
mod strings;
mod top;

pub use bend::Bend;
pub use clearances::Clearances;
pub(crate) use clearances::{ABREAST, Detail, Lanes, greater, lesser};
pub(crate) use closing::{Middle, Shape, mean_post, outcome, straightedge, string_line};
pub use frets::fret_ratio;
use frets::fret_ratios;
pub(crate) use frets::{inverse_adjacent, inverse_distances, last_stop};
pub use real::Real;
pub use solve::{Beyond, Conflict, Member, Solved, derivative, solve};
pub use strings::{FretlessStop, StringLine};
pub(crate) use strings::{part_toward_bass, sagitta};
pub(crate) use top::ArchPiece;

use num_dual::Dual2_64;

use crate::design::{BridgeKind, Design, Fault, InstrumentString};
use crate::dimension::{Dim, Role, Values};
use crate::joint::{self, Seat};
use crate::units::show_number;
use closing::{
    BodyFromNeck, HeadFrame, bench_gap, bend_over_nut, bend_over_saddle, board_end_gap,
    crest_height, straightedge_readings, tail_point,
};

/// A point in the body frame: X along the top datum from the joint toward the
/// tail, Y up from the datum; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BodyPoint {
    /// Along the datum.
    pub x: f64,
    /// Over the datum.
    pub y: f64,
}

/// What a straightedge on the unstrung, straight neck reads over the top, square
/// to the datum, at the middle crest's X; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Straightedge {
    /// Where it is read (body X).
    pub x: f64,
    /// Laid on the bare neck face, before the board is glued on.
    pub neck_face: f64,
    /// Laid on the board, before frets.
    pub board: f64,
    /// Laid on the crowns.
    pub crowns: f64,
}

/// The middle string: on the centre line, with the mean of the bass and treble heights.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MiddleString {
    /// Height of its underside at the nut face, over the straight surface.
    pub nut_v: f64,
    /// Rise per mm along the board.
    pub slope: f64,
    /// Crest in the neck frame.
    pub crest_u: f64,
    /// Crest in the neck frame.
    pub crest_v: f64,
    /// Crest in the body frame.
    pub crest: BodyPoint,
    /// Height of the crest over the top.
    pub crest_height: f64,
    /// Action at the action fret.
    pub action: f64,
    /// How it bends over the saddle; none when wrapped over.
    pub saddle_break: Option<Bend>,
    /// How it bends over the nut toward the mean of the posts.
    pub nut_break: Bend,
}

/// One end of a shared crest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Post {
    /// Distance from the centre line, positive on the treble side.
    pub place: f64,
    /// Crest height to which this end must be set, as if the bridge stood level:
    /// the chord of the crest, without the crest's own radius.
    pub crest_height: f64,
}

/// How a floating bridge stands on its top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// X of the foot of the normal through the crest.
    pub x: f64,
    /// Crest over that foot, along the normal.
    pub along_normal: f64,
    /// Crest over the mean height of the two ends of the base.
    pub over_base: f64,
}

/// Why a closed design has no layout.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LayoutError {
    /// The top is not known there.
    #[error(
        "the {what} at {} mm from the joint lies beyond the last measured point of the arch at {} mm: measure the top there",
        show_number(*.at, 1),
        show_number(*.known_to, 1)
    )]
    BeyondTop {
        /// What stands there.
        what: &'static str,
        /// Where (body X, mm).
        at: f64,
        /// How far the top is known.
        known_to: f64,
    },
    /// What was found contradicts what is held.
    #[error("what is found does not fit the rest: {0}")]
    Contradiction(Fault),
    /// The geometry has no such point.
    #[error("{what} cannot be computed from these dimensions")]
    Undefined {
        /// Which result.
        what: &'static str,
    },
}

/// Every length, angle and point of a design.
#[derive(Clone, Debug)]
pub struct Layout {
    /// Shoulder's top edge from the nut along the board, u_J.
    pub joint_from_nut: f64,
    /// Bend κ of the strung neck, 1/mm.
    pub bend: f64,
    /// Pitch of the unstrung neck, radians.
    pub pitch: f64,
    /// Pitch under the strings: less what is lost to their pull, radians.
    pub strung_pitch: f64,
    /// The middle string.
    pub middle: MiddleString,
    /// What the straightedge must read.
    pub straightedge: Straightedge,
    /// Frets (or on a fretless board the semitones that can be stopped), from the nut.
    pub positions: Vec<f64>,
    /// The strings, treble first.
    pub strings: Vec<StringLine>,
    /// Their clearances over the frets.
    pub clearances: Clearances,
    /// Treble and bass end of a shared crest.
    pub posts: Option<[Post; 2]>,
    /// The foot of a floating bridge.
    pub foot: Option<Foot>,
    /// Least height of the board's underside over the top, and its X.
    pub board_gap: (f64, f64),
    /// Height of the board's underside over the top at the board's end.
    pub board_end_gap: f64,
    /// Headstock over the bench, negative below it.
    pub bench_gap: f64,
    fretted: bool,
    /// Apart, so that a layout moves lightly.
    values: Box<Values<f64>>,
    shape: Shape,
    unstrung: BodyFromNeck<f64>,
    closing: Middle<f64>,
    seat: Seat<f64>,
    head: HeadFrame<f64>,
    /// Kept for the next layout of a search.
    spare: strings::Room,
}

impl Layout {
    /// Lays out a design. The crest and station follow from the other dimensions;
    /// in a solved design they are the ones it holds.
    ///
    /// # Errors
    /// [`LayoutError`] where the top is not known or a result is undefined.
    pub fn of(design: &Design) -> Result<Self, LayoutError> {
        let room = strings::Room::default();
        Self::build(design, Values::of(design).into(), Shape::of(design), room, Detail::Table)
    }

    /// The layout of the same kind of design with other numbers, in the memory of this one
    /// and without the table of stopped clearances.
    pub(crate) fn again(
        mut self,
        design: &Design,
        values: &Values<f64>,
    ) -> Result<Self, LayoutError> {
        let mut room = self.spare;
        room.positions = self.positions;
        room.lines = self.strings;
        room.clearances = self.clearances;
        self.shape.mean_post = mean_post(design);
        *self.values = *values;
        Self::build(design, self.values, self.shape, room, Detail::Numbers)
    }

    /// The layout of a design whose numbers and shape are at hand, in given memory.
    pub(crate) fn of_shape(
        design: &Design,
        values: &Values<f64>,
        shape: Shape,
    ) -> Result<Self, LayoutError> {
        let room = strings::Room::default();
        Self::build(design, Box::new(*values), shape, room, Detail::Numbers)
    }

    fn build(
        design: &Design,
        values: Box<Values<f64>>,
        shape: Shape,
        mut room: strings::Room,
        detail: Detail,
    ) -> Result<Self, LayoutError> {
        let middle = Middle::new(&values, &shape);
        let sound = |dim: Dim, value: f64| {
            let undefined = LayoutError::Undefined { what: dim.info().name };
            if value.is_finite() { Ok(value) } else { Err(undefined) }
        };
        let crest = BodyPoint { x: middle.crest_x, y: middle.crest_y };
        let known = |what, at: f64| match shape.top.known_to() {
            Some(known_to) if !shape.top.covers(at) => {
                Err(LayoutError::BeyondTop { what, at, known_to })
            }
            _ => Ok(()),
        };
        known("crest", crest.x)?;
        if let Some((x, _)) = tail_point(&values, &shape, crest.x) {
            known("tail", x)?;
        }
        let floating = matches!(design.bridge.kind, BridgeKind::Floating { .. });
        if floating {
            known("bridge's foot", crest.x + design.bridge.base.to_mm() / 2.0)?;
        }
        for pickup in &design.pickups {
            known("pickup", pickup.station.to_mm())?;
        }
        let unstrung = BodyFromNeck::new(&values, middle.board.joint, values[Dim::Pitch]);
        let underside_end = unstrung.at(values[Dim::BoardEnd], -values[Dim::BoardThickness]).0;
        known("board's end", underside_end)?;

        let scale = values[Dim::ScaleLength];
        let stops = shape.stops(scale, values[Dim::BoardEnd]);
        let head = HeadFrame::new(&values, &shape, &middle.board);
        room.positions.clear();
        room.positions.extend(fret_ratios(stops).map(|ratio| scale * ratio));
        let crest_line = strings::lay(design, &values, &shape, (&middle, &head), &mut room, detail);
        if room.lines.iter().any(|string| !string.crest_height.is_finite()) {
            return Err(LayoutError::Undefined { what: "the crest of a string" });
        }
        for string in &room.lines {
            known("crest of a string", string.crest.x)?;
        }
        let rise = values[Dim::TopRise];
        let posts = design.bridge.kind.shared_crest().zip(crest_line).map(
            |((_, spread), (centre, tilt))| {
                [0.5, -0.5].map(|side| {
                    let place = spread.to_mm() * side;
                    let (x, y) = middle.strung.at(middle.crest_u, centre + tilt * place);
                    let ground = if floating {
                        base_height(&values, &shape, x)
                    } else {
                        shape.top.height(x, &values)
                    };
                    Post { place, crest_height: y - ground - rise }
                })
            },
        );
        let foot = floating.then(|| foot(&values, &shape, crest));
        let pitch = values[Dim::Pitch];
        let (pitch_sin, pitch_cos) = (unstrung.sin, unstrung.cos);
        let [neck_face, board, crowns] =
            straightedge_readings(&values, &shape, (pitch_sin, pitch_cos), crest.x);
        let post = head.strung(shape.mean_post.0, shape.mean_post.1);
        let nut_break = bend_over_nut(middle.nut_v, middle.slope, post);
        sound(Dim::NutBreak, nut_break.order())?;
        let layout = Self {
            joint_from_nut: middle.board.joint,
            bend: middle.board.bend,
            pitch,
            strung_pitch: pitch - values[Dim::PitchLost],
            middle: MiddleString {
                nut_v: middle.nut_v,
                slope: middle.slope,
                crest_u: middle.crest_u,
                crest_v: middle.crest_v,
                crest,
                crest_height: sound(Dim::CrestHeight, crest_height(&values, &shape, &middle))?,
                action: 0.5 * (values[Dim::ActionBass] + values[Dim::ActionTreble]),
                saddle_break: tail_point(&values, &shape, crest.x).map(|tail| {
                    bend_over_saddle(&middle.strung, middle.slope, (crest.x, crest.y), tail)
                }),
                nut_break,
            },
            straightedge: Straightedge {
                x: crest.x,
                neck_face: sound(Dim::ReadNeck, neck_face)?,
                board: sound(Dim::ReadBoard, board)?,
                crowns: sound(Dim::ReadCrowns, crowns)?,
            },
            positions: std::mem::take(&mut room.positions),
            strings: std::mem::take(&mut room.lines),
            clearances: std::mem::take(&mut room.clearances),
            posts,
            foot,
            board_gap: shape.top.least_gap(
                values[Dim::Overstand],
                pitch_sin / pitch_cos,
                underside_end,
                &values,
            ),
            board_end_gap: sound(Dim::BoardEndGap, board_end_gap(&values, &shape, &unstrung))?,
            bench_gap: sound(Dim::BenchGap, bench_gap(&values, &head, &unstrung))?,
            fretted: design.is_fretted(),
            unstrung,
            closing: middle,
            seat: Seat::new(&values, &shape, (pitch_sin, pitch_cos)),
            head,
            values,
            shape,
            spare: room,
        };
        Ok(layout)
    }

    /// Whether there are frets to clear.
    pub fn is_fretted(&self) -> bool {
        self.fretted
    }

    /// What an outcome of the table of dimensions comes to, in its unit. None where this
    /// kind of design lacks it, and for a dimension that is no outcome.
    pub fn outcome(&self, dim: Dim) -> Option<f64> {
        if dim.info().role != Role::Outcome {
            return None;
        }
        let (values, shape) = (&self.values, &self.shape);
        joint::outcome(dim, values, shape, &self.seat)
            .or_else(|| outcome(dim, values, shape, &self.closing))
            .filter(|value| value.is_finite())
            .map(|value| dim.info().outward(value))
    }

    /// Scale length.
    pub(crate) fn scale(&self) -> f64 {
        self.values[Dim::ScaleLength]
    }

    /// The neck's underside over the pocket's floor.
    pub(crate) fn seat(&self) -> &Seat<f64> {
        &self.seat
    }

    /// Y of the neck's glue face, which is the board's underside, at X; unstrung.
    pub fn glue_face(&self, x: f64) -> f64 {
        self.seat().underside(x)
    }

    /// Y of the pocket's floor, which is the tenon's bottom, at X.
    pub fn pocket_floor(&self, x: f64) -> f64 {
        self.seat().bottom(x)
    }

    /// Slope of the pocket's floor against the datum, radians, positive when it rises
    /// toward its inner end.
    pub fn floor(&self) -> f64 {
        self.seat().floor
    }

    /// A point of the unstrung, straight neck, given in the neck frame (u along the
    /// board from the nut, v over its surface), in the body frame.
    pub fn unstrung(&self, u: f64, v: f64) -> BodyPoint {
        let (x, y) = self.unstrung.at(u, v);
        BodyPoint { x, y }
    }

    /// A point given in the neck frame of the strung instrument, in the body frame.
    /// The bend is part of v: see [`Self::lift`].
    pub fn strung(&self, u: f64, v: f64) -> BodyPoint {
        let (x, y) = self.closing.strung.at(u, v);
        BodyPoint { x, y }
    }

    /// Lift of the strung neck's surface over the straight one at u.
    pub fn lift(&self, u: f64) -> f64 {
        self.closing.board.lift(u)
    }

    /// Drop of the surface by the fall-away at u.
    pub fn fall(&self, u: f64) -> f64 {
        self.closing.board.fall(u)
    }

    /// Height of the top over the datum at X. Beyond the last point of an arch the
    /// end's tangent runs on.
    pub fn top(&self, x: f64) -> f64 {
        self.shape.top.height(x, &self.values)
    }

    /// Slope of the top at X, radians, positive when it rises toward the tail: the
    /// pitch against the top there is the pitch less this.
    pub fn top_tangent(&self, x: f64) -> f64 {
        self.shape.top.slope(x, &self.values).atan()
    }

    /// Height of the back over the datum at X (negative).
    pub fn back(&self, x: f64) -> f64 {
        -(self.values[Dim::BodyThickness] + x * self.values[Dim::BodyTaper].tan())
    }

    /// A point of the headstock of the unstrung neck in the neck frame: along its
    /// face from where it starts, and over the face (negative behind it).
    pub fn head(&self, along: f64, over: f64) -> (f64, f64) {
        self.head.unstrung(along, over)
    }

    /// The same point of the strung neck, whose bend lifts and turns the headstock.
    pub fn strung_head(&self, along: f64, over: f64) -> (f64, f64) {
        self.head.strung(along, over)
    }

    /// A point of the body frame in the neck frame of the unstrung neck (u, v).
    pub fn neck_from_body(&self, point: BodyPoint) -> (f64, f64) {
        self.unstrung.neck_from(point.x, point.y)
    }

    /// What a straightedge on the unstrung, straight neck must read over the top at X.
    pub fn straightedge_at(&self, x: f64) -> Straightedge {
        let pitch = (self.unstrung.sin, self.unstrung.cos);
        let [neck_face, board, crowns] = straightedge_readings(&self.values, &self.shape, pitch, x);
        Straightedge { x, neck_face, board, crowns }
    }

    /// Where the middle string bends into the tail.
    pub fn tail(&self) -> Option<BodyPoint> {
        let (x, y) = tail_point(&self.values, &self.shape, self.middle.crest.x)?;
        Some(BodyPoint { x, y })
    }

    /// Where a string runs behind the nut, on the strung neck: where it is held down, if it
    /// is, and its post. Of all strings it is the one whose post is nearest to their mean.
    pub fn string_behind_nut(&self, design: &Design) -> Vec<BodyPoint> {
        let count = design.strings.len().max(1) as f64;
        let mean = design.strings.iter().map(|one| one.post.to_mm()).sum::<f64>() / count;
        let off = |one: &&InstrumentString| (one.post.to_mm() - mean).abs();
        let Some(string) = design.strings.iter().min_by(|a, b| off(a).total_cmp(&off(b))) else {
            return Vec::new();
        };
        let held = string.retainer.iter().map(|held| (held.along, held.height));
        held.chain([(string.post, string.post_height)])
            .map(|(along, over)| {
                let (u, v) = self.strung_head(along.to_mm(), over.to_mm());
                self.strung(u, v)
            })
            .collect()
    }

    /// The point of the top from which the middle crest's height is measured; the top has
    /// risen under the strings.
    pub fn crest_ground(&self) -> BodyPoint {
        let BodyPoint { x, y } = self.middle.crest;
        BodyPoint { x, y: y - self.middle.crest_height }
    }

    /// The lowest and the highest place of the middle crest that the bridge allows. A
    /// floating bridge counts from the mean height of the two ends of its base.
    pub fn crest_range(&self, design: &Design) -> [BodyPoint; 2] {
        let (low, high) = design.bridge.kind.crest_range();
        let BodyPoint { x, y } = self.middle.crest;
        let ground = match self.foot {
            Some(foot) => y - foot.over_base,
            None => self.crest_ground().y,
        };
        [low, high].map(|height| BodyPoint { x, y: ground + height.to_mm() })
    }

    /// Clearance over fret m of a string stopped at fret n < m, along v; on a fretless board
    /// over its surface at that semitone. None for other n and m.
    pub fn stopped_over(&self, string: usize, n: usize, m: usize) -> Option<f64> {
        if self.fretted {
            return self.clearances.stopped(string, n, m);
        }
        let line = self.strings.get(string)?;
        let place = |fret: usize| {
            let u = *self.positions.get(fret.checked_sub(1)?)?;
            Some((u, self.clearances.crown(string, fret)))
        };
        let (from, to) = (place(n)?, place(m).filter(|_| n < m)?);
        let slope = (line.crest_v - from.1) / (line.crest_u - from.0);
        Some(from.1 + slope * (to.0 - from.0) - to.1)
    }

    /// Stop and fret at which a string has its least clearance of a stopped note. None without
    /// frets, or with only one.
    pub fn least_stopped_at(&self, string: usize) -> Option<(usize, usize)> {
        let line = self.strings.get(string).filter(|line| line.least_stopped.is_some())?;
        self.clearances.least_stopped_at(string, &self.positions, line.crest_u)
    }

    /// Height of a crown on the centre line at u over the straight, unstrung surface.
    pub(crate) fn centre_crown(&self, u: f64) -> f64 {
        self.closing.board.crown(u)
    }

    /// The piece of an arched top that X falls into; none of any other top.
    pub(crate) fn arch_piece(&self, x: f64) -> Option<ArchPiece> {
        self.shape.top.piece(x)
    }

    /// The pitch of the headstock against the board, radians; 0 for a stepped one.
    pub(crate) fn head_angle(&self) -> f64 {
        self.shape.head_angle(&self.values)
    }

    /// Mean place of the posts: along the headstock's face and over it, mm.
    pub(crate) fn mean_post(&self) -> (f64, f64) {
        self.shape.mean_post
    }

    /// Where crown n stands on the centre line of the strung neck; the surface, on a
    /// fretless board. None for a fret that there is not.
    pub fn crown_point(&self, n: usize) -> Option<BodyPoint> {
        let u = *self.positions.get(n.checked_sub(1)?)?;
        Some(self.strung(u, self.closing.board.crown(u)))
    }

    /// Height of a string over the body datum at X, when stopped on fret `n` (0 for open).
    ///
    /// None where X does not lie between the stop and the crest.
    pub(crate) fn string_over(&self, string: usize, n: usize, x: f64) -> Option<f64> {
        let line = self.strings.get(string)?;
        let (u, v) = match n {
            0 => (0.0, line.nut_v),
            n => (*self.positions.get(n - 1)?, self.clearances.crown(string, n)),
        };
        let (from, to) = (self.strung(u, v), line.crest);
        (from.x..=to.x)
            .contains(&x)
            .then(|| from.y + (to.y - from.y) * (x - from.x) / (to.x - from.x))
    }
}

/// Mean height of the top under the two ends of the bridge's base around X.
fn base_height(values: &Values<f64>, shape: &Shape, x: f64) -> f64 {
    let half = values[Dim::BridgeBase] / 2.0;
    0.5 * (shape.top.height(x - half, values) + shape.top.height(x + half, values))
}

/// The foot of the normal of the top through a crest:
/// (X_s - X_f) + z'(X_f) (Y_s - z(X_f)) = 0, by Newton's method.
fn foot(values: &Values<f64>, shape: &Shape, crest: BodyPoint) -> Foot {
    let dual_values = values.map(Dual2_64::from_re);
    let mut x = crest.x;
    for _ in 0..30 {
        let z = shape.top.height(Dual2_64::from_re(x).derivative(), &dual_values);
        let left = crest.x - x + z.v1 * (crest.y - z.re);
        let slope = -1.0 + z.v2 * (crest.y - z.re) - z.v1 * z.v1;
        let change = left / slope;
        x -= change;
        if change.abs() < 1e-13 * crest.x.abs().max(1.0) {
            break;
        }
    }
    let z = shape.top.height(x, values);
    let rise = values[Dim::TopRise];
    Foot {
        x,
        along_normal: ((crest.x - x).powi(2) + (crest.y - z - rise).powi(2)).sqrt(),
        over_base: crest.y - base_height(values, shape, crest.x) - rise,
    }
}
