//! The joint as it stands, and as it stands after wood is taken off or put on.

use std::collections::BTreeSet;

use crate::design::{Design, FloorKind, Provenance};
use crate::dimension::{Dim, Values};
use crate::layout::{Layout, Middle, Real, Shape, fret_ratio, outcome};
use crate::units::{Angle, Length};

/// The plan, and what of it is cut already.
#[derive(Clone, Debug)]
pub(super) struct Bench {
    /// The plan with the wood of earlier rounds taken off.
    pub(super) cut: Design,
    pub(super) values: Values<f64>,
    pub(super) shape: Shape,
    /// Planned pitch and overstand, radians and mm.
    pub(super) planned: (f64, f64),
    /// Pitch to which the shoulder is cut, radians.
    pub(super) shoulder_pitch: f64,
    /// The shoulder's top as cut: from the nut, and the tenon's depth there square to the board.
    top: (f64, f64),
    /// Where the crest is planned, from the joint, and its height over the top.
    pub(super) crest: (f64, f64),
    /// Whether the bridge's place cannot be moved any more.
    pub(super) bridge_fixed: bool,
}

impl Bench {
    /// `plan` is a solved design with its layout, `cut` the same with earlier rounds' wood
    /// taken off.
    pub(super) fn new(
        plan: &Design,
        layout: &Layout,
        mut cut: Design,
        shoulder_pitch: Option<f64>,
    ) -> Self {
        let fixed =
            |key: &str| matches!(plan.marks.get(key), Some(mark) if *mark != Provenance::Planned);
        let floor = layout.floor();
        cut.joint.floor_kind = FloorKind::Free;
        cut.joint.floor = Angle::from_radians(floor);
        let values = Values::of(&cut);
        let (pitch, turn) = (layout.pitch, layout.pitch - floor);
        let seat = layout.seat();
        let along = seat.shoulder_top().0 / pitch.cos();
        // what came off the shoulder since has moved its top along the underside
        let off = plan.joint.offset.to_mm() - cut.joint.offset.to_mm();
        Self {
            top: (layout.joint_from_nut + along - off, seat.square(along) - off * turn.tan()),
            values,
            shape: Shape::of(&cut),
            cut,
            planned: (layout.pitch, plan.joint.overstand.to_mm()),
            shoulder_pitch: shoulder_pitch.unwrap_or(layout.pitch),
            crest: (layout.middle.crest.x, layout.middle.crest_height),
            bridge_fixed: fixed(Dim::Station.info().key),
        }
    }

    fn joint_at_fret(&self) -> f64 {
        self.values[Dim::ScaleLength] * fret_ratio(self.shape.joint_fret)
    }

    /// Wood of the tenon's bottom against its underside, θ - φ: it is not recut.
    fn turn(&self) -> f64 {
        self.planned.0 - self.values[Dim::Floor]
    }

    /// The joint with what was found in it. The tenon keeps its angle θ - φ and its depth at
    /// the shoulder's top. `open` is the angle by which the shoulder's top stands open; its
    /// foot then touches and holds the neck off: T, the shoulder's top, is S sin(open) from the
    /// wall.
    pub(super) fn found<D: Real>(&self, pitch: D, overstand: D, open: f64) -> Pose<D> {
        let turn = self.turn();
        let floor = pitch - turn;
        let rake = self.values[Dim::WallRake];
        let gap = (self.shoulder() * open.sin()).max(0.0);
        let back = (-floor.tan() * rake.sin() + rake.cos()).recip() * gap;
        // where T is on the underside: moved along the seat by `back` it lies in the wall
        let x = ((overstand + back * floor.tan()) * rake.tan() - back)
            / (-pitch.tan() * rake.tan() + 1.0);
        let along = x / pitch.cos();
        let deep = -along * turn.tan() + self.top.1;
        Pose {
            pitch,
            overstand,
            floor,
            depth: deep * turn.cos() / floor.cos() - overstand,
            joint: -along + self.top.0,
            spare: D::from(self.values[Dim::SpareLength]),
            board: D::from(self.values[Dim::BoardThickness]),
            closes_at: pitch - open,
            top: D::from(self.top.0),
            deep: D::from(self.top.1),
        }
    }

    /// How far along the datum the neck slides on a seat of slope φ when a gap g is taken off
    /// its shoulder, square to the end wall: g/(cos ρ - tan φ sin ρ).
    pub(super) fn slides<D: Real>(&self, gap: D, floor: D) -> D {
        let rake = self.values[Dim::WallRake];
        gap / (-floor.tan() * rake.sin() + rake.cos())
    }

    /// Depth of the seat at X = 0 on which the neck lies with so much overstand.
    pub(super) fn depth_for<D: Real>(&self, pose: &Pose<D>, overstand: f64) -> D {
        let (upright, along) = pose.at_wall(self);
        (pose.deep - (upright + along * self.turn().tan()) * overstand) / upright
    }

    /// The numbers of the design at a pose.
    fn values<D: Real>(&self, pose: &Pose<D>) -> Values<D> {
        let mut values = self.values.map(D::from);
        values[Dim::Pitch] = pose.pitch;
        values[Dim::Overstand] = pose.overstand;
        values[Dim::Floor] = pose.floor;
        values[Dim::PocketDepth] = pose.depth;
        values[Dim::JointOffset] = pose.joint - self.joint_at_fret();
        values[Dim::SpareLength] = pose.spare;
        values[Dim::BoardThickness] = pose.board;
        if self.bridge_fixed {
            // X of the crest is linear in the compensation: the string line runs on
            let middle = Middle::new(&values, &self.shape);
            let pitch = pose.pitch - values[Dim::PitchLost];
            let slope = pitch.cos() - middle.slope * pitch.sin();
            values[Dim::Compensation] += (-middle.crest_x + self.crest.0) / slope;
        }
        values
    }

    /// The crest height that the wanted action needs at a pose, mm.
    pub(super) fn needed_crest<D: Real>(&self, pose: &Pose<D>) -> D {
        let values = self.values(pose);
        let middle = Middle::new(&values, &self.shape);
        outcome(Dim::CrestHeight, &values, &self.shape, &middle).unwrap_or(D::from(f64::NAN))
    }

    /// The design at a pose: the wanted action stays, and crest height and station follow (or,
    /// where the bridge cannot move, the compensation).
    pub(super) fn design(&self, pose: &Pose<f64>) -> Design {
        let mut design = self.cut.clone();
        let joint = &mut design.joint;
        joint.pitch = Angle::from_radians(pose.pitch);
        joint.overstand = Length::mm(pose.overstand);
        joint.floor_kind = FloorKind::Free;
        joint.floor = Angle::from_radians(pose.floor);
        joint.pocket_depth = Length::mm(pose.depth);
        joint.offset = Length::mm(pose.joint - self.joint_at_fret());
        joint.spare_length = Length::mm(pose.spare);
        design.board.thickness = Length::mm(pose.board);
        design.targets.clear();
        let follows = if self.bridge_fixed {
            design.bridge.station = Length::mm(self.crest.0);
            Dim::Compensation
        } else {
            Dim::Station
        };
        design.found =
            BTreeSet::from([Dim::CrestHeight, follows].map(|dim| dim.info().key.to_owned()));
        design
    }

    pub(super) fn tenon_length(&self) -> f64 {
        self.values[Dim::TenonLength]
    }

    pub(super) fn shoulder(&self) -> f64 {
        self.values[Dim::Shoulder]
    }
}

/// How neck and body lie to each other, and what is left on; mm and radians.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pose<D> {
    pub(super) pitch: D,
    pub(super) overstand: D,
    /// Slope of the seat.
    pub(super) floor: D,
    /// Depth of the seat below the datum at the joint.
    pub(super) depth: D,
    /// Where the datum's X = 0 is on the underside, from the nut: u_J.
    pub(super) joint: D,
    /// Spare length of the pocket.
    pub(super) spare: D,
    /// Board thickness.
    pub(super) board: D,
    /// Pitch at which the shoulder closes.
    pub(super) closes_at: D,
    /// The shoulder's top, on the underside, from the nut; and the tenon's depth there, square
    /// to the board.
    pub(super) top: D,
    /// The same.
    pub(super) deep: D,
}

/// How the shoulder is trimmed so that it closes; mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Closing {
    /// What is taken off at its top, tapering to nothing at its foot.
    pub top_off: f64,
    /// What is taken off at its foot, tapering to nothing at its top.
    pub foot_off: f64,
    /// How far the neck then moves toward the bridge along the datum: spare length used.
    pub moves: f64,
    /// How far the shoulder's top moves toward the nut along the board, a recut included.
    pub along_board: f64,
}

/// Wood put on (positive) or taken off (negative), mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cut<D = f64> {
    /// The seat's height at the mouth, tapering to nothing at the inner end.
    pub mouth: D,
    /// The seat's height at the inner end, tapering to nothing at the mouth.
    pub inner: D,
    /// By how much the whole shoulder is set back, along the datum; positive.
    pub recut: D,
    /// The board's thickness.
    pub board: D,
}

impl<D: Real> Cut<D> {
    /// No wood.
    pub(super) fn none() -> Self {
        let zero = D::from(0.0);
        Self { mouth: zero, inner: zero, recut: zero, board: zero }
    }

    /// So much of it.
    pub(super) fn times(way: &Cut, amount: D) -> Self {
        Self {
            mouth: amount * way.mouth,
            inner: amount * way.inner,
            recut: amount * way.recut,
            board: amount * way.board,
        }
    }
}

impl<D: Real> Pose<D> {
    /// With the shoulder's top in the wall: cos φ/cos(θ - φ), the tenon's depth square to the
    /// board for one square to the datum; and how far along the underside that top lies from
    /// X = 0 for each millimetre of overstand.
    fn at_wall(&self, bench: &Bench) -> (D, D) {
        let rake = bench.values[Dim::WallRake].tan();
        let along = (-self.pitch.tan() * rake + 1.0).recip() * rake / self.pitch.cos();
        (self.floor.cos() / bench.turn().cos(), along)
    }

    /// Lying on the seat with the shoulder's top in the wall. With w the second of
    /// [`Self::at_wall`] and k the tenon's depth at the shoulder's top, square to the board:
    /// (o + d_0) cos φ/cos(θ - φ) + o w tan(θ - φ) = k.
    fn rests(self, bench: &Bench) -> Self {
        let (upright, along) = self.at_wall(bench);
        let overstand = (self.deep - self.depth * upright) / (upright + along * bench.turn().tan());
        Self { overstand, joint: self.top - overstand * along, ..self }
    }

    /// Seat heights at mouth and inner end changed, the tenon's angle kept:
    /// tan φ' = (y_i - y_m)/ℓ, θ' = θ + φ' - φ. On a square wall that gives
    /// o' = y_m + (o + d_0) cos φ/cos φ'.
    fn seated(self, bench: &Bench, mouth: D, inner: D) -> Self {
        let length = bench.tenon_length();
        let low = mouth - self.depth;
        let high = inner - self.depth + self.floor.tan() * length;
        let floor = ((high - low) / length).atan();
        Self { pitch: self.pitch + floor - self.floor, floor, depth: -low, ..self }
    }

    /// The shoulder set back by a gap g, square to the end wall; the neck follows along its seat.
    /// The shoulder's top moves g/cos(θ + ρ) along the underside. With δ = g on a square wall:
    /// u_J' = u_J - δ/cos θ, o' = o - δ (tan θ - tan φ), spare length used: δ.
    fn set_back(self, bench: &Bench, gap: D) -> Self {
        let along = gap / (self.pitch + bench.values[Dim::WallRake]).cos();
        let deep = self.deep - along * bench.turn().tan();
        let spare = self.spare - bench.slides(gap, self.floor);
        Self { top: self.top - along, deep, spare, ..self }
    }

    /// The shoulder trimmed until it closes. With S its length and Δ the pitch less the one at
    /// which it closes: for Δ > 0 the top stands open and S sin Δ goes off the foot; for Δ < 0
    /// the foot stands open and S sin|Δ| goes off the top, square to the end wall.
    fn closed(self, bench: &Bench) -> (Self, [D; 3]) {
        let zero = D::from(0.0);
        let gap = (self.pitch - self.closes_at).sin() * bench.shoulder();
        let shut = Self { closes_at: self.pitch, ..self };
        if gap.re() >= 0.0 {
            return (shut, [zero, gap, zero]);
        }
        (shut.set_back(bench, -gap), [-gap, zero, bench.slides(-gap, self.floor)])
    }

    /// After a cut; where `close` is asked for the shoulder is trimmed to close.
    pub(super) fn after(self, bench: &Bench, cut: &Cut<D>, close: bool) -> (Self, Closing) {
        let mut pose = self;
        let mut closing = Closing::default();
        if close {
            let (shut, [top, foot, moves]) = self.seated(bench, cut.mouth, cut.inner).closed(bench);
            // square to the wall is what brings the neck so far along the datum
            let square = cut.recut / bench.slides(D::from(1.0), shut.floor);
            pose = shut.set_back(bench, square).rests(bench);
            closing = Closing {
                top_off: top.re(),
                foot_off: foot.re(),
                moves: moves.re(),
                along_board: (self.top - pose.top).re(),
            };
        }
        pose.board += cut.board;
        (pose, closing)
    }
}
