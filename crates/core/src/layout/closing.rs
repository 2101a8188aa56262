//! The middle string and the relations that close the design.
//!
//! Everything here is generic over [`Real`], so that one function gives both the
//! values and their exact derivatives. `docs/relations.md` lists the relations.

use super::bend::Bend;
use super::frets::{fret_ratio, last_stop};
use super::top::TopCurve;
use super::{Layout, Real};
use crate::design::{Design, FloorKind, HeadFrom, HeadShape, Note, Nut, Tail};
use crate::dimension::{Dim, Values};
use crate::joint::{self, FloorShape, Seat};

/// What of a design is not a number that can be found: kinds, frets, lists.
#[derive(Clone, Debug)]
pub(crate) struct Shape {
    pub(crate) top: TopCurve,
    pub(crate) joint_fret: u8,
    pub(crate) relief_from: u8,
    pub(crate) relief_to: u8,
    pub(crate) action_fret: u8,
    pub(crate) fall_from: u8,
    /// Frets; 0 on a fretless board.
    pub(crate) frets: u8,
    pub(crate) nut: NutEnd,
    pub(crate) tail: TailShape,
    pub(crate) tilted: bool,
    /// Whether a scarf joint turns the headstock back.
    pub(crate) scarf: bool,
    /// How the pocket's floor takes its angle.
    pub(crate) floor: FloorShape,
    /// Mean place of the posts (or of what holds the strings down before them):
    /// along the headstock's face and over it, mm.
    pub(crate) mean_post: (f64, f64),
    /// What each string is tuned to, Hz; none if its note is not given.
    pub(crate) tuning: Vec<Option<f64>>,
}

/// What fixes the strings at the head end.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum NutEnd {
    /// Slots are still to be filed until the wanted clearance over fret 1 is there.
    Wanted,
    /// A zero fret.
    ZeroFret,
    /// Slots are filed. Their height over the board less the wanted clearance over fret 1,
    /// of the middle string and of each: a change of that clearance from then on is an error
    /// of the slot.
    Filed {
        /// Of the middle string.
        middle: f64,
        /// Of each string.
        each: Vec<f64>,
    },
}

/// Mean place of the posts, or of what holds the strings down before them.
pub(crate) fn mean_post(design: &Design) -> (f64, f64) {
    let count = design.strings.len().max(1) as f64;
    let (along, height) = design
        .strings
        .iter()
        .map(|string| match &string.retainer {
            Some(retainer) => (retainer.along.to_mm(), retainer.height.to_mm()),
            None => (string.post.to_mm(), string.post_height.to_mm()),
        })
        .fold((0.0, 0.0), |sum, post| (sum.0 + post.0, sum.1 + post.1));
    (along / count, height / count)
}

/// How the place where the strings bend into the tail is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum TailShape {
    /// A distance behind the crest.
    Behind,
    /// A distance from the joint.
    Station,
    /// There is none: wrapped over.
    None,
}

impl Shape {
    pub(crate) fn of(design: &Design) -> Self {
        Self {
            top: TopCurve::of(&design.body.top),
            joint_fret: design.joint.fret,
            relief_from: design.wanted.relief_from,
            relief_to: match design.wanted.relief_to {
                0 => design.joint.fret,
                fret => fret,
            },
            action_fret: design.wanted.action_fret,
            fall_from: design.board.fall_from,
            frets: design.scale.frets,
            nut: match design.nut {
                Nut::Filed => NutEnd::Wanted,
                Nut::ZeroFret { .. } => NutEnd::ZeroFret,
            },
            tail: match design.tail {
                Tail::AtBridge { .. } | Tail::Through { .. } => TailShape::Behind,
                Tail::Stop { .. } | Tail::Hung { .. } => TailShape::Station,
                Tail::Wrapped => TailShape::None,
            },
            tilted: matches!(design.head.shape, HeadShape::Tilted { .. }),
            scarf: design.neck.head_from == HeadFrom::Scarf,
            floor: match design.joint.floor_kind {
                FloorKind::Free => FloorShape::Free,
                FloorKind::ParallelToTop => FloorShape::Top,
                FloorKind::ParallelToBoard => FloorShape::Board,
            },
            mean_post: mean_post(design),
            tuning: design.strings.iter().map(|one| one.note.map(Note::hertz)).collect(),
        }
    }

    /// The same shape with the nut's slots as they are filed in a layout: from then on they
    /// keep their height over the board, whatever the rest of the neck turns out to be. A
    /// zero fret has none.
    pub(crate) fn with_slots_filed(&self, values: &Values<f64>, layout: &Layout) -> Self {
        if self.nut == NutEnd::ZeroFret {
            return self.clone();
        }
        let middle = Middle::new(values, self);
        let over_board = middle.nut_v - middle.board.lift(0.0);
        let wanted = (values[Dim::FirstFretBass] + values[Dim::FirstFretTreble]) * 0.5;
        let each =
            layout.strings.iter().map(|line| line.slot_over_board - line.wanted_first).collect();
        Self { nut: NutEnd::Filed { middle: over_board - wanted, each }, ..self.clone() }
    }

    /// The headstock's tilt; 0 for a stepped one.
    pub(crate) fn head_angle<D: Real>(&self, values: &Values<D>) -> D {
        if self.tilted { values[Dim::HeadAngle] } else { D::from(0.0) }
    }

    /// Shoulder's top edge from the nut, u_J.
    pub(crate) fn joint_from_nut<D: Real>(&self, values: &Values<D>) -> D {
        values[Dim::ScaleLength] * fret_ratio(self.joint_fret) + values[Dim::JointOffset]
    }

    /// Frets, or on a fretless board the semitones that can be stopped on it.
    pub(crate) fn stops(&self, scale_length: f64, board_end: f64) -> u8 {
        if self.frets > 0 { self.frets } else { last_stop(scale_length, board_end) }
    }
}

/// Neck frame (u, v) to body frame (X, Y), at a given pitch.
///
/// X = (u - u_J) cos θ - (v + t) sin θ, Y = o + (u - u_J) sin θ + (v + t) cos θ.
#[derive(Clone, Copy, Debug)]
pub(crate) struct BodyFromNeck<D> {
    pub(crate) cos: D,
    pub(crate) sin: D,
    joint: D,
    thickness: D,
    overstand: D,
}

impl<D: Real> BodyFromNeck<D> {
    pub(crate) fn new(values: &Values<D>, joint: D, pitch: D) -> Self {
        let (sin, cos) = pitch.sin_cos();
        Self {
            cos,
            sin,
            joint,
            thickness: values[Dim::BoardThickness],
            overstand: values[Dim::Overstand],
        }
    }

    pub(crate) fn at(&self, u: D, v: D) -> (D, D) {
        let (along, up) = (u - self.joint, v + self.thickness);
        (along * self.cos - up * self.sin, self.overstand + along * self.sin + up * self.cos)
    }
}

impl BodyFromNeck<f64> {
    /// The other way round: body frame (X, Y) to neck frame (u, v).
    pub(crate) fn neck_from(&self, x: f64, y: f64) -> (f64, f64) {
        let up = y - self.overstand;
        (self.joint + x * self.cos + up * self.sin, up * self.cos - x * self.sin - self.thickness)
    }
}

/// The board's surface and the crowns along the centre line of the strung neck.
#[derive(Clone, Copy, Debug)]
pub(crate) struct BentBoard<D> {
    /// Shoulder's top edge from the nut, u_J.
    pub(crate) joint: D,
    /// Bend κ of the free neck, 1/mm.
    pub(crate) bend: D,
    crown: D,
    /// Where the fall-away starts, and its slope; slope 0 for none.
    fall_start: D,
    fall_slope: D,
}

impl<D: Real> BentBoard<D> {
    pub(crate) fn new(values: &Values<D>, shape: &Shape) -> Self {
        let scale = values[Dim::ScaleLength];
        let fret = |n: u8| scale * fret_ratio(n);
        let joint = shape.joint_from_nut(values);
        let last = if shape.frets > 0 { fret(shape.frets) } else { values[Dim::BoardEnd] };
        let fall_start = fret(shape.fall_from);
        let fall_slope = if shape.fall_from > 0 {
            values[Dim::Fall] / (last - fall_start)
        } else {
            D::from(0.0)
        };
        Self {
            joint,
            bend: bend_from_relief(
                values[Dim::Relief],
                fret(shape.relief_from),
                fret(shape.relief_to),
                joint,
            ),
            crown: values[Dim::Crown],
            fall_start,
            fall_slope,
        }
    }

    /// Lift of the bent surface over the straight one: κ (u_J - u)²/2 up to the
    /// joint, 0 beyond, where the body holds it.
    pub(crate) fn lift(&self, u: D) -> D {
        let free = self.joint - u;
        if free.re() > 0.0 { self.bend * free * free * 0.5 } else { D::from(0.0) }
    }

    /// Drop of the surface by the fall-away.
    pub(crate) fn fall(&self, u: D) -> D {
        let beyond = u - self.fall_start;
        if beyond.re() > 0.0 { self.fall_slope * beyond } else { D::from(0.0) }
    }

    /// Height of a crown on the centre line over the straight, unstrung surface.
    pub(crate) fn crown(&self, u: D) -> D {
        self.crown + self.lift(u) - self.fall(u)
    }

    /// Slope of the surface on the centre line at u, toward the bridge.
    pub(crate) fn slope(&self, u: D) -> D {
        let free = self.joint - u;
        let bent = if free.re() > 0.0 { -self.bend * free } else { D::from(0.0) };
        if u.re() >= self.fall_start.re() { bent - self.fall_slope } else { bent }
    }

    /// Where the surface changes its curve: the joint, and where the fall-away starts.
    pub(crate) fn corners(&self) -> [D; 2] {
        [self.joint, self.fall_start]
    }

    /// Sine and cosine of the angle by which bending turns the frame at the nut, that of the
    /// slope -κ u_J.
    fn nut_turn(&self) -> (D, D) {
        let slope = -self.bend * self.joint;
        let cos = (slope * slope + 1.0).sqrt().recip();
        (slope * cos, cos)
    }
}

/// Bend κ (1/mm) of a neck that bends evenly up to the joint, from the relief r
/// read under a straightedge on the crowns at u_A < u_B; all mm.
///
/// With s = u_J - u_A, S = u_B - u_A, e = u_B - u_J:
/// for e ≤ 0, κ = 8 r/S²; for e > 0, κ = r/[s²/(2S) · (e + s²/(4S))].
/// Not a number unless u_A lies before both u_B and the joint.
fn bend_from_relief<D: Real>(relief: D, from: D, to: D, joint: D) -> D {
    let (free, span, held) = (joint - from, to - from, to - joint);
    if free.re() <= 0.0 || span.re() <= 0.0 {
        return D::from(f64::NAN);
    }
    if held.re() <= 0.0 {
        relief * 8.0 / (span * span)
    } else {
        let half = free * free / (span * 2.0);
        relief / (half * (held + half * 0.5))
    }
}

/// The middle string: on the centre line, with the mean of the bass and treble heights.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Middle<D> {
    pub(crate) board: BentBoard<D>,
    pub(crate) strung: BodyFromNeck<D>,
    /// Height of its underside at the nut face over the straight surface.
    pub(crate) nut_v: D,
    /// Rise per mm along the board.
    pub(crate) slope: D,
    pub(crate) crest_u: D,
    pub(crate) crest_v: D,
    pub(crate) crest_x: D,
    pub(crate) crest_y: D,
}

/// Line through the slot over fret 1 and the action over the action fret:
/// (height at the nut, slope).
pub(crate) fn string_line<D: Real>(u: (D, D), v: (D, D)) -> (D, D) {
    let slope = (v.1 - v.0) / (u.1 - u.0);
    (v.0 - slope * u.0, slope)
}

impl<D: Real> Middle<D> {
    pub(crate) fn new(values: &Values<D>, shape: &Shape) -> Self {
        let board = BentBoard::new(values, shape);
        let scale = values[Dim::ScaleLength];
        let u_first = scale * fret_ratio(1);
        let u_action = scale * fret_ratio(shape.action_fret);
        let mean = |bass: Dim, treble: Dim| (values[bass] + values[treble]) * 0.5;
        let over_action = board.crown(u_action) + mean(Dim::ActionBass, Dim::ActionTreble);
        let wanted_first = mean(Dim::FirstFretBass, Dim::FirstFretTreble);
        let (from, height) = match &shape.nut {
            NutEnd::Wanted => (u_first, board.crown(u_first) + wanted_first),
            NutEnd::ZeroFret => {
                (D::from(0.0), values[Dim::ZeroFretHeight] + board.lift(D::from(0.0)))
            }
            NutEnd::Filed { middle, .. } => {
                (D::from(0.0), wanted_first + *middle + board.lift(D::from(0.0)))
            }
        };
        let (nut_v, slope) = string_line((from, u_action), (height, over_action));
        let crest_u = scale + values[Dim::Compensation];
        let crest_v = nut_v + slope * crest_u;
        let pitch = values[Dim::Pitch] - values[Dim::PitchLost];
        let strung = BodyFromNeck::new(values, board.joint, pitch);
        let (crest_x, crest_y) = strung.at(crest_u, crest_v);
        Self { board, strung, nut_v, slope, crest_u, crest_v, crest_x, crest_y }
    }
}

/// Where the strings that bend over a crest at X_s run to behind it (X, Y), or
/// none when they are wrapped over. A tail in the bridge or close behind it rises with the
/// top under the strings; one that stands by itself does not.
pub(crate) fn tail_point<D: Real>(values: &Values<D>, shape: &Shape, crest_x: D) -> Option<(D, D)> {
    let (x, rise) = match shape.tail {
        TailShape::Behind => (crest_x + values[Dim::TailBehind], values[Dim::TopRise]),
        TailShape::Station => (values[Dim::TailStation], D::from(0.0)),
        TailShape::None => return None,
    };
    Some((x, shape.top.height(x, values) + values[Dim::TailHeight] + rise))
}

/// Angles of a string against the datum before and behind the saddle, γ_1 and
/// γ_2; it bends by their sum. `rise` is the
/// angle atan q at which the string rises from the board.
///
/// γ_1 = θ + atan q, γ_2 = atan2(Y_s - Y_tail, X_tail - X_s).
pub(crate) fn saddle_angles<D: Real>(pitch: D, rise: D, crest: (D, D), tail: (D, D)) -> (D, D) {
    (pitch + rise, (crest.1 - tail.1).atan2(tail.0 - crest.0))
}

/// How a string that rises at `slope` from the board bends over its crest, without its angles
/// being worked out.
pub(super) fn bend_over_saddle(
    strung: &BodyFromNeck<f64>,
    slope: f64,
    crest: (f64, f64),
    tail: (f64, f64),
) -> Bend {
    Bend::of((strung.cos, strung.sin)).and((tail.0 - crest.0, crest.1 - tail.1)).and((1.0, slope))
}

/// The frame of the headstock's face: `along` it from its start toward the tip, `over` it
/// (negative behind it), mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HeadFrame<D> {
    start: D,
    drop: D,
    tilt: (D, D),
    /// The strung neck's bend turns the frame at the nut and lifts it.
    turn: (D, D),
    lift: D,
}

impl<D: Real> HeadFrame<D> {
    pub(crate) fn new(values: &Values<D>, shape: &Shape, board: &BentBoard<D>) -> Self {
        let angle = shape.head_angle(values);
        Self {
            start: values[Dim::HeadStart],
            drop: values[Dim::HeadDrop],
            tilt: angle.sin_cos(),
            turn: board.nut_turn(),
            lift: board.lift(D::from(0.0)),
        }
    }

    /// A point of the headstock of the unstrung neck, in the neck frame.
    pub(crate) fn unstrung(&self, along: D, over: D) -> (D, D) {
        let (sin, cos) = self.tilt;
        (-self.start - along * cos - over * sin, -self.drop - along * sin + over * cos)
    }

    /// The same point of the strung neck.
    pub(crate) fn strung(&self, along: D, over: D) -> (D, D) {
        let ((u, v), (sin, cos)) = (self.unstrung(along, over), self.turn);
        (u * cos - v * sin, u * sin + v * cos + self.lift)
    }
}

/// How much a string bends over the nut: δ - atan q, δ its angle toward the post.
pub(crate) fn nut_break<D: Real>(nut_v: D, string_slope: D, post: (D, D)) -> D {
    (nut_v - post.1).atan2(-post.0) - string_slope.atan()
}

/// The same without its angles being worked out.
pub(super) fn bend_over_nut(nut_v: f64, string_slope: f64, post: (f64, f64)) -> Bend {
    Bend::of((-post.0, nut_v - post.1)).and((1.0, -string_slope))
}

/// Height of the middle crest over the risen top.
pub(crate) fn crest_height<D: Real>(values: &Values<D>, shape: &Shape, middle: &Middle<D>) -> D {
    middle.crest_y - shape.top.height(middle.crest_x, values) - values[Dim::TopRise]
}

/// How much the middle string bends over the nut, toward the mean of the posts.
pub(crate) fn middle_nut_break<D: Real>(
    shape: &Shape,
    middle: &Middle<D>,
    head: &HeadFrame<D>,
) -> D {
    let (along, over) = shape.mean_post;
    nut_break(middle.nut_v, middle.slope, head.strung(D::from(along), D::from(over)))
}

/// Headstock over a bench on which the back lies: (Y_tip + H_0) cos ψ + X_tip sin ψ.
pub(crate) fn bench_gap<D: Real>(
    values: &Values<D>,
    head: &HeadFrame<D>,
    unstrung: &BodyFromNeck<D>,
) -> D {
    let tip = head.unstrung(values[Dim::HeadLength], -values[Dim::HeadThickness]);
    let (x, y) = unstrung.at(tip.0, tip.1);
    let (sin, cos) = values[Dim::BodyTaper].sin_cos();
    (y + values[Dim::BodyThickness]) * cos + x * sin
}

/// Board's underside over the top at the board's end.
pub(crate) fn board_end_gap<D: Real>(
    values: &Values<D>,
    shape: &Shape,
    unstrung: &BodyFromNeck<D>,
) -> D {
    let (x, y) = unstrung.at(values[Dim::BoardEnd], -values[Dim::BoardThickness]);
    y - shape.top.height(x, values)
}

/// What a straightedge on the unstrung, straight neck reads over the top at X, by what lies
/// between it and the bare neck face: o + over/cos θ + X tan θ - z(X).
/// Given are sine and cosine of θ.
pub(crate) fn straightedge<D: Real>(
    values: &Values<D>,
    shape: &Shape,
    (sin, cos): (D, D),
    x: D,
) -> impl Fn(D) -> D {
    let (overstand, height) = (values[Dim::Overstand], shape.top.height(x, values));
    move |over| overstand + (over + x * sin) / cos - height
}

/// The same laid on the bare neck face, on the board and on the crowns.
pub(crate) fn straightedge_readings<D: Real>(
    values: &Values<D>,
    shape: &Shape,
    pitch: (D, D),
    x: D,
) -> [D; 3] {
    let board = values[Dim::BoardThickness];
    [D::from(0.0), board, board + values[Dim::Crown]].map(straightedge(values, shape, pitch, x))
}

/// The right-hand side of the relation that gives `outcome`, or none if this
/// kind of design has no such outcome.
pub(crate) fn outcome<D: Real>(
    outcome: Dim,
    values: &Values<D>,
    shape: &Shape,
    middle: &Middle<D>,
) -> Option<D> {
    let pitch = || values[Dim::Pitch].sin_cos();
    let reads = || straightedge_readings(values, shape, pitch(), middle.crest_x);
    Some(match outcome {
        Dim::CrestHeight => crest_height(values, shape, middle),
        Dim::Station => middle.crest_x,
        Dim::SaddleBreak => {
            let tail = tail_point(values, shape, middle.crest_x)?;
            let pitch = values[Dim::Pitch] - values[Dim::PitchLost];
            let (before, behind) =
                saddle_angles(pitch, middle.slope.atan(), (middle.crest_x, middle.crest_y), tail);
            before + behind
        }
        Dim::NutBreak => {
            let head = HeadFrame::new(values, shape, &middle.board);
            middle_nut_break(shape, middle, &head)
        }
        Dim::BenchGap => {
            let head = HeadFrame::new(values, shape, &middle.board);
            let unstrung = BodyFromNeck::new(values, middle.board.joint, values[Dim::Pitch]);
            bench_gap(values, &head, &unstrung)
        }
        Dim::BoardEndGap | Dim::WedgeGap => {
            let unstrung = BodyFromNeck::new(values, middle.board.joint, values[Dim::Pitch]);
            let gap = board_end_gap(values, shape, &unstrung);
            if outcome == Dim::WedgeGap { gap - values[Dim::WedgeHeight] } else { gap }
        }
        Dim::ReadNeck => reads()[0],
        Dim::ReadBoard => reads()[1],
        Dim::ReadCrowns => reads()[2],
        _ => return joint::outcome(outcome, values, shape, &Seat::new(values, shape, pitch())),
    })
}
