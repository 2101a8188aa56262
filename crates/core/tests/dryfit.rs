//! The dry fit against a simulation of its own: a rigid neck that lies on a straight seat and
//! against a straight wall.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use overstand_core::design::{Design, Top};
use overstand_core::dimension::Dim;
use overstand_core::dryfit::{
    Correction, Cut, DryFit, Face, Kind, Place, Reading, ShoulderEnd, Side, Told, What,
};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};
use proptest::prelude::*;

/// A point (u along the underside, depth below it), and in the body (X, Y).
type Pair = (f64, f64);

/// The neck as wood, and the body as wood.
#[derive(Clone, Copy, Debug)]
struct Joint {
    /// Of the neck: shoulder's top and foot, and two points of the tenon's bottom.
    top: Pair,
    foot: Pair,
    bottom: [Pair; 2],
    /// Of the body: the seat's heights at X = 0 and X = ℓ, and the wall's slope.
    seat: Pair,
    length: f64,
    rake: f64,
}

/// Where the neck lies: a point of it goes to `at + turn (u, -depth)`.
#[derive(Clone, Copy, Debug)]
struct Lies {
    at: Pair,
    turn: f64,
}

impl Lies {
    fn body(self, (u, deep): Pair) -> Pair {
        let (sin, cos) = self.turn.sin_cos();
        (self.at.0 + u * cos + deep * sin, self.at.1 + u * sin - deep * cos)
    }

    /// Pitch, overstand at X = 0, and u there.
    fn line(self) -> (f64, f64, f64) {
        let u = -self.at.0 / self.turn.cos();
        (self.turn, self.at.1 + u * self.turn.sin(), u)
    }
}

impl Joint {
    /// The wood as it is planned.
    fn planned(design: &Design) -> Self {
        let study = Study::of(design);
        let (design, layout) = (&study.design, study.layout().unwrap());
        let pitch = layout.pitch;
        let joint = &design.joint;
        let rake = joint.wall_rake.radians();
        let length = joint.tenon_length.to_mm();
        let over = joint.overstand.to_mm();
        let seat = (layout.pocket_floor(0.0), layout.pocket_floor(length));
        // the body's points in the neck: u along the underside, depth square to it
        let neck = |(x, y): Pair| {
            let up = y - over;
            let (sin, cos) = pitch.sin_cos();
            (layout.joint_from_nut + x * cos + up * sin, x * sin - up * cos)
        };
        let top = {
            let y = over / (1.0 - rake.tan() * pitch.tan());
            (y * rake.tan(), y)
        };
        let shoulder = joint.shoulder.to_mm();
        let foot = (top.0 - shoulder * rake.sin(), top.1 - shoulder * rake.cos());
        Self {
            top: neck(top),
            foot: neck(foot),
            bottom: [neck((0.0, seat.0)), neck((length, seat.1))],
            seat,
            length,
            rake,
        }
    }

    /// The neck pushed home: its bottom on the seat, its shoulder against the wall with top or
    /// foot. Also how far top and foot then stand from the wall, square to it.
    fn home(&self) -> (Lies, f64, f64) {
        let slope = (self.seat.1 - self.seat.0).atan2(self.length);
        let (a, b) = (self.bottom[0], self.bottom[1]);
        let bottom = (a.1 - b.1).atan2(b.0 - a.0);
        let turn = slope - bottom;
        let free = Lies { at: (0.0, 0.0), turn };
        // lift until the bottom lies on the seat, then slide along it to the wall
        let (x, y) = free.body(a);
        let lift = self.seat.0 + x * slope.tan() - y;
        let lies = Lies { at: (0.0, lift), turn };
        let off = |lies: Lies, point: Pair| {
            let (x, y) = lies.body(point);
            y * self.rake.sin() - x * self.rake.cos()
        };
        let nearest = off(lies, self.top).min(off(lies, self.foot));
        let by = nearest / (self.rake.cos() - slope.tan() * self.rake.sin());
        let lies = Lies { at: (by, lift + by * slope.tan()), turn };
        (lies, off(lies, self.top), off(lies, self.foot))
    }

    /// Wood taken off the seat, then off the shoulder square to the wall as the neck lies.
    fn cut(mut self, correction: &Correction) -> Self {
        let Cut { mouth, inner, recut, .. } = correction.cut;
        self.seat = (self.seat.0 + mouth, self.seat.1 + inner);
        let (lies, ..) = self.home();
        let closing = correction.closing;
        // into the neck, square to the wall, in the neck's own directions
        let way = {
            let (x, y) = (-self.rake.cos(), self.rake.sin());
            let (sin, cos) = lies.turn.sin_cos();
            (x * cos + y * sin, x * sin - y * cos)
        };
        let off = |(u, deep): Pair, by: f64| (u + way.0 * by, deep + way.1 * by);
        let recut = recut * (self.rake.cos() - slope(self.seat, self.length) * self.rake.sin());
        let (top, foot) =
            (off(self.top, closing.top_off + recut), off(self.foot, closing.foot_off + recut));
        // the shoulder's top is where its face meets the underside
        let part = top.1 / (top.1 - foot.1);
        self.top = (top.0 + (foot.0 - top.0) * part, 0.0);
        self.foot = foot;
        self
    }
}

fn slope(seat: Pair, length: f64) -> f64 {
    (seat.1 - seat.0) / length
}

fn reading(what: What, error: f64) -> Reading {
    Reading { what, error, on: None }
}

/// What a straightedge reads on a line over the top.
fn height(
    design: &Design,
    (pitch, over): Pair,
    face: Face,
    place: Place,
    side: Side,
    lean: f64,
) -> Reading {
    let study = Study::of(design);
    let layout = study.layout().unwrap();
    let thickness = design.board.thickness.to_mm();
    let up = match face {
        Face::Neck => 0.0,
        Face::Board => thickness,
        Face::Crowns => thickness + design.board.crown.to_mm(),
    };
    let along = |u: f64| (u - layout.joint_from_nut) * pitch.cos() - up * pitch.sin();
    let x = match place {
        Place::Crest => layout.middle.crest.x,
        Place::BridgeLine => along(design.scale.length.to_mm()),
        Place::Top(x) => x.to_mm(),
        Place::Board(u) => along(u.to_mm()),
    };
    let across = match side {
        Side::Middle => 0.0,
        Side::Near(off) => -off.to_mm(),
        Side::Far(off) => off.to_mm(),
    };
    let height = over + up / pitch.cos() + x * pitch.tan() - layout.top(x) + across * lean.tan();
    reading(What::Height { face, place, side, edge: Length::ZERO, height: Length::mm(height) }, 0.1)
}

fn top(x: f64) -> Place {
    Place::Top(Length::mm(x))
}

/// Two rounds: what was done in the first is taken off before the second is read, and the log
/// shows how the fit comes nearer.
#[test]
fn rounds_build_on_each_other() {
    let mut design = plan(|design| design.joint.wall_rake = Angle::degrees(3.0));
    let planned = Joint::planned(&design);
    let mut wood = Joint { seat: (planned.seat.0 - 0.9, planned.seat.1 + 0.6), ..planned };
    let mut amounts = Vec::new();
    for round in 0..3 {
        let (lies, off_top, off_foot) = wood.home();
        let (pitch, over, _) = lies.line();
        let mut readings = two_heights(&design, (pitch, over));
        for (end, gap) in [(ShoulderEnd::Top, off_top), (ShoulderEnd::Foot, off_foot)] {
            readings.push(reading(What::Gap { end, gap: Length::mm(gap.max(0.0)) }, 0.01));
        }
        let fit = fit(&design, &readings);
        // the feelers' gaps are off by as much
        assert!((fit.told.pitch - pitch).abs() < 1e-6 && (fit.told.overstand - over).abs() < 1e-4);
        let mut done = None;
        if round < 2 {
            // the first time half of it
            let whole = fit.correction(Kind::InnerOff).unwrap().amount.unwrap().value;
            let one =
                fit.with(Kind::InnerOff, if round == 0 { 0.5 * whole } else { whole }).unwrap();
            wood = wood.cut(&one);
            done = Some(one.done(false));
            let (lies, top, foot) = wood.home();
            // trimmed square to the wall the shoulder is S (1 - cos Δ) shorter for the next round:
            // for a degree 6e-3 mm, of which a turn of a degree makes 1e-4
            assert!(top.abs().max(foot.abs()) < 1e-4, "{top} {foot}");
            let layout = one.outcome.study.layout().unwrap();
            assert!((lies.line().2 - layout.joint_from_nut).abs() < 1e-4);
            amounts.push(one.spare_used());
        } else {
            assert!(fit.miss().abs() < 1e-3, "{}", fit.miss());
            let spare = design.joint.spare_length.to_mm() - amounts.iter().sum::<f64>();
            assert!((fit.real.spare - spare).abs() < 1e-12 && amounts[1] > 0.1);
        }
        design.fitting.push(overstand_core::dryfit::Round {
            on: overstand_core::design::Date::new(2026, 3, 1 + round).unwrap(),
            glued: false,
            note: String::new(),
            readings,
            done,
        });
        assert_eq!(design.faults(), vec![]);
    }
    let steps = overstand_core::dryfit::convergence(&Study::of(&design));
    let misses: Vec<f64> = steps.iter().map(|step| step.miss.unwrap().value).collect();
    // half of it was taken off the first time
    assert!((misses[1] / misses[0] - 0.5).abs() < 0.05 && misses[2].abs() < 1e-3, "{misses:?}");
}

/// The example with a floor of its own, some overstand and nothing held but what is cut.
fn plan(change: impl FnOnce(&mut Design)) -> Design {
    let mut design = worked_example();
    design.joint.overstand = Length::mm(0.5);
    design.joint.floor = Angle::degrees(1.0);
    design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    change(&mut design);
    design
}

fn two_heights(design: &Design, line: Pair) -> Vec<Reading> {
    [240.0, 110.0].map(|x| height(design, line, Face::Crowns, top(x), Side::Middle, 0.0)).to_vec()
}

fn fit(design: &Design, readings: &[Reading]) -> DryFit {
    DryFit::of(&Study::of(design), readings)
        .unwrap_or_else(|untold| panic!("{}", untold.says.show(Default::default())))
}

/// Wood cut wrongly by known amounts; the corrections applied to the wood itself.
#[test]
fn each_correction_applied_to_the_wood_restores_the_plan() {
    let mut applied = std::collections::BTreeMap::new();
    for rake in [0.0, 6.0, -4.0] {
        for (mouth, inner) in [(0.8, -0.1), (-0.9, 0.2), (0.3, 0.9), (-0.7, -0.6), (0.05, -0.9)] {
            let design = plan(|design| design.joint.wall_rake = Angle::degrees(rake));
            let planned = Joint::planned(&design);
            let (lies, off_top, off_foot) = planned.home();
            // the planned wood lies as planned
            let layout_pitch = design.joint.pitch.radians();
            assert!((lies.turn - layout_pitch).abs() < 1e-12);
            assert!((lies.line().1 - 0.5).abs() < 1e-9 && off_top.max(off_foot) < 1e-9);
            // a seat cut wrongly, and its shoulder left as it was
            let wrong = Joint { seat: (planned.seat.0 + mouth, planned.seat.1 + inner), ..planned };
            let (lies, off_top, off_foot) = wrong.home();
            let (pitch, over, _) = lies.line();
            let mut readings = two_heights(&design, (pitch, over));
            for (end, gap) in [(ShoulderEnd::Top, off_top), (ShoulderEnd::Foot, off_foot)] {
                let gap = Length::mm(gap.max(0.0));
                readings.push(reading(What::Gap { end, gap }, 0.02));
            }
            let fit = fit(&design, &readings);
            assert!((fit.told.pitch - pitch).abs() < 1e-10, "{}", fit.told.pitch - pitch);
            assert!((fit.told.overstand - over).abs() < 1e-8);
            assert!(fit.told.contradiction.is_none());
            for one in &fit.corrections {
                let restores = one.stock.is_none()
                    && !matches!(one.kind, Kind::Nothing | Kind::Saddle | Kind::Bridge);
                if !restores {
                    continue;
                }
                *applied.entry(one.kind).or_insert(0) += 1;
                let (lies, off_top, off_foot) = wrong.cut(one).home();
                if one.kind.text() != "board" {
                    let (pitch, over, u) = lies.line();
                    let told = &one.outcome;
                    let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
                    assert!(
                        near(pitch, told.pitch),
                        "{:?} {rake}: {}",
                        one.kind,
                        pitch - told.pitch
                    );
                    assert!(
                        near(over, told.overstand),
                        "{:?} {rake} {mouth} {inner}: {}",
                        one.kind,
                        over - told.overstand
                    );
                    let layout = told.study.layout().unwrap();
                    assert!(
                        near(u, layout.joint_from_nut),
                        "{:?}: {}",
                        one.kind,
                        u - layout.joint_from_nut
                    );
                    assert!(
                        off_top.abs().max(off_foot.abs()) < 1e-9,
                        "{:?} does not close: {off_top} {off_foot}",
                        one.kind
                    );
                }
                // the crest follows from pitch, overstand and joint as for any design
                if one.kind == Kind::BothEnds {
                    assert!((one.outcome.pitch - layout_pitch).abs() < 1e-9);
                    assert!((one.outcome.overstand - 0.5).abs() < 1e-9);
                    // u_J is not put back: ∂B/∂u_J = -sin θ, some 0.05 a millimetre
                    let moved = one.spare_used();
                    assert!((one.outcome.crest - fit.planned_crest).abs() < 1e-6 + 0.06 * moved);
                } else if one.kind != Kind::Shoulder {
                    assert!((one.outcome.crest - fit.planned_crest).abs() < 1e-6, "{:?}", one.kind);
                }
            }
        }
    }
    for kind in [
        Kind::MouthOff,
        Kind::InnerOff,
        Kind::EvenOff,
        Kind::WedgeInner,
        Kind::WedgeMouth,
        Kind::Veneer,
        Kind::BothEnds,
        Kind::Shoulder,
        Kind::Board,
    ] {
        assert!(applied.contains_key(&kind), "{kind:?} was never applied");
    }
}

/// To raise the pitch, lower the mouth or raise the inner end; the shoulder then opens at its
/// top and is trimmed at its foot. And the other way round.
#[test]
fn signs_are_right() {
    let design = plan(|_| {});
    let low = fit(&design, &two_heights(&design, (2.6f64.to_radians(), 0.45)));
    assert!(low.miss() < 0.0);
    for kind in [Kind::MouthOff, Kind::WedgeInner] {
        let one = low.correction(kind).unwrap();
        assert!(one.outcome.pitch > low.real.pitch);
        assert!(one.closing.foot_off > 0.0 && one.closing.top_off == 0.0, "{kind:?}");
        assert_eq!(one.spare_used(), 0.0);
    }
    assert!(low.correction(Kind::InnerOff).is_none() && low.correction(Kind::WedgeMouth).is_none());
    assert!(low.correction(Kind::EvenOff).is_none() && low.correction(Kind::Veneer).is_some());
    assert!(low.correction(Kind::Board).is_none());
    let high = fit(&design, &two_heights(&design, (3.4f64.to_radians(), 0.55)));
    assert!(high.miss() > 0.0);
    for kind in [Kind::InnerOff, Kind::WedgeMouth] {
        let one = high.correction(kind).unwrap();
        assert!(one.outcome.pitch < high.real.pitch);
        assert!(one.closing.top_off > 0.0 && one.closing.foot_off == 0.0, "{kind:?}");
        assert!(one.spare_used() > 0.0 && one.risk() == overstand_core::dryfit::Risk::Shoulder);
    }
    assert!(
        high.correction(Kind::MouthOff).is_none() && high.correction(Kind::WedgeInner).is_none()
    );
    // a board that is on can be thinned
    let board = high.correction(Kind::Board).unwrap();
    assert!(board.outcome.study.design.board.thickness < design.board.thickness);
}

fn untold(design: &Design, readings: &[Reading]) -> String {
    match DryFit::of(&Study::of(design), readings) {
        Ok(fit) => panic!("told: {:?}", fit.told),
        Err(untold) => untold.says.show(Default::default()),
    }
}

#[test]
fn what_tells_too_little_is_refused_in_words() {
    let design = plan(|_| {});
    let line = (3f64.to_radians(), 0.5);
    let at = |x: f64| height(&design, line, Face::Board, top(x), Side::Middle, 0.0);
    assert!(untold(&design, &[]).contains("No height"));
    assert!(untold(&design, &[at(250.0)]).contains("one place"));
    assert!(untold(&design, &[at(250.0), at(250.0)]).contains("one place"));
    // ± 0.1 mm over 10 mm is ± 0.8°
    let close = untold(&design, &[at(250.0), at(240.0)]);
    assert!(close.contains("too close together") && close.contains("± 0.8°"), "{close}");
    // √2 · 0.1 mm / tan 0.15° = 54.0 mm
    assert!(close.contains("60 mm"), "{close}");
    let gauge =
        reading(What::Gauge { place: None, board: Angle::degrees(3.0), body: Angle::ZERO }, 0.05);
    assert!(untold(&design, std::slice::from_ref(&gauge)).contains("No height"));
    // one height and a gauge are enough
    assert!(DryFit::of(&Study::of(&design), &[at(250.0), gauge.clone()]).is_ok());
    // on one side a lean is taken for height
    let near = Side::Near(Length::mm(20.0));
    let beside = |x: f64| height(&design, line, Face::Board, top(x), near, 0.0);
    assert!(untold(&design, &[beside(250.0), beside(110.0)]).contains("one side"));
    let arched = plan(|design| {
        design.body.top = Top::Dome { radius: Length::mm(3000.0), apex: Length::mm(150.0) };
    });
    assert!(untold(&arched, &[beside(250.0), at(110.0)]).contains("centre line alone"));
    assert!(untold(&arched, &[at(250.0), gauge]).contains("not flat"));
    let mut open = design.clone();
    open.joint.pitch = Angle::degrees(3.0);
    open.bridge.crest_height = Length::mm(60.0);
    open.found = Default::default();
    assert!(untold(&open, &[at(250.0), at(110.0)]).contains("does not close"));
}

#[test]
fn contradictory_readings_are_told_and_named() {
    let design = plan(|_| {});
    let line = (2.8f64.to_radians(), 0.4);
    let mut readings: Vec<Reading> = [60.0, 120.0, 180.0, 250.0]
        .map(|x| height(&design, line, Face::Crowns, top(x), Side::Middle, 0.0))
        .to_vec();
    assert!(fit(&design, &readings).told.contradiction.is_none());
    // eight of its errors off
    if let What::Height { height, .. } = &mut readings[2].what {
        *height = *height + Length::mm(0.8);
    }
    let told = fit(&design, &readings);
    let contradiction = told.told.contradiction.as_ref().unwrap();
    assert!(contradiction.pair.0 == 2 || contradiction.pair.1 == 2, "{:?}", contradiction.pair);
    let says = contradiction.says.show(Default::default());
    assert!(
        says.contains("cannot all be true") && says.contains("180.0 mm from the joint"),
        "{says}"
    );
    // then no cut is made without reading again
    assert!(told.corrections.iter().filter(|one| !one.wood.is_empty()).all(|one| one.doubtful));
    // half an error is no contradiction
    if let What::Height { height, .. } = &mut readings[2].what {
        *height = *height - Length::mm(0.75);
    }
    assert!(fit(&design, &readings).told.contradiction.is_none());
}

#[test]
fn a_miss_within_the_reading_error_is_to_be_measured_again() {
    let design = plan(|_| {});
    let near = fit(&design, &two_heights(&design, (2.99f64.to_radians(), 0.47)));
    let far = fit(&design, &two_heights(&design, (2.6f64.to_radians(), 0.45)));
    for kind in [Kind::MouthOff, Kind::WedgeInner] {
        let doubt = near.correction(kind).unwrap();
        assert!(
            doubt.doubtful && doubt.doubt().unwrap().starts_with("Measure again before cutting")
        );
        assert!(!far.correction(kind).unwrap().doubtful);
    }
    assert!(!near.correction(Kind::Saddle).unwrap().doubtful);
}

/// What was not read beside the side view is asked for before any shoulder is trimmed.
#[test]
fn roll_and_aim_are_asked_for_before_the_shoulder_is_trimmed() {
    let design = plan(|_| {});
    let mut readings = two_heights(&design, (2.6f64.to_radians(), 0.45));
    let asked = fit(&design, &readings);
    assert_eq!(asked.asks.len(), 2);
    for one in &asked.corrections {
        assert_eq!(one.asks.len(), if one.trims_shoulder() { 2 } else { 0 }, "{:?}", one.kind);
    }
    readings.push(reading(What::Roll { lean: Angle::degrees(0.4) }, 0.1));
    readings.push(reading(What::Aim { place: Place::Crest, off: Length::mm(3.0) }, 0.3));
    let told = fit(&design, &readings);
    assert!(told.asks.is_empty());
    let says: Vec<String> = told.says.iter().map(|one| one.show(Default::default())).collect();
    // 45 mm · tan 0.4° = 0.314; the width at the heel · 3/250
    assert!(
        says[0].contains(
            "higher on the treble side by 0.40°: over the tenon's width the seat is 0.31 mm"
        ),
        "{says:?}"
    );
    assert!(says[1].contains("passes on the treble side"), "{says:?}");
}

/// The least cut is enough, and a little less is not; the whole brings the crest back.
#[test]
fn the_least_cut_is_the_least() {
    let design = plan(|design| {
        let crest = Study::of(&*design).layout().unwrap().middle.crest_height;
        design.bridge.kind = overstand_core::design::BridgeKind::Plate {
            crest_low: Length::mm(crest - 2.0),
            crest_high: Length::mm(crest + 2.0),
        };
    });
    let fit = fit(&design, &two_heights(&design, (2.6f64.to_radians(), 0.45)));
    assert!(!fit.real.as_planned);
    let one = fit.correction(Kind::MouthOff).unwrap();
    let least = one.least.as_ref().unwrap();
    let whole = one.amount.unwrap().value;
    assert!(least.amount > 0.0 && least.amount < whole, "{} of {whole}", least.amount);
    assert!(least.outcome.as_planned);
    // a reserve of one millimetre is good: the crest may miss by one
    assert!(
        (fit.planned_crest - least.outcome.crest - 1.0).abs() < 0.03,
        "{}",
        least.outcome.crest
    );
}

/// Independent of the program: heights drawn at random with their errors, pitch and overstand
/// from them by the closed formulas of two readings, crest by a first derivative.
#[test]
fn uncertainty_against_trials() {
    let design = plan(|_| {});
    let line = (2.7f64.to_radians(), 0.4);
    let fit = fit(&design, &two_heights(&design, line));
    let (mut state, count) = (0x2545_f491_4f6c_dd1du64, 40_000);
    let mut uniform = || {
        // xorshift64* of Marsaglia and Vigna (from memory)
        state ^= state >> 12;
        state ^= state << 25;
        state ^= state >> 27;
        (state.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 11) as f64 / (1u64 << 53) as f64
    };
    // twelve uniforms less six: variance one exactly, and near enough to a bell
    let mut bell = || (0..12).map(|_| uniform()).sum::<f64>() - 6.0;
    let at = [240.0, 110.0];
    let read: Vec<f64> = fit.readings.iter().map(|one| one.what.value()).collect();
    let study = Study::of(&design);
    let layout = study.layout().unwrap();
    let up = 7.1;
    let (crest_u, crest_v) = (layout.middle.crest_u, layout.middle.crest_v);
    let mut sums = [0.0; 6];
    for _ in 0..count {
        let r = [read[0] + 0.1 * bell(), read[1] + 0.1 * bell()];
        let pitch = ((r[0] - r[1]) / (at[0] - at[1])).atan();
        let over = r[0] - at[0] * pitch.tan() - up / pitch.cos();
        let crest =
            over + (crest_u - layout.joint_from_nut) * pitch.sin() + (crest_v + 6.0) * pitch.cos();
        let d = [pitch - line.0, over - line.1, crest - fit.real.crest];
        for (sum, value) in
            sums.iter_mut().zip([d[0] * d[0], d[0] * d[1], d[1] * d[1], d[2] * d[2], d[0], d[1]])
        {
            *sum += value / f64::from(count);
        }
    }
    // the standard deviation of a variance from n draws is √(2/n) of it, 0.7 % for 40 000; four
    // of these, and as much of a standard deviation's half
    let told = &fit.told;
    let near = |a: f64, b: f64| (a / b - 1.0).abs() < 0.015;
    assert!(near(sums[0].sqrt(), told.pitch_error()));
    assert!(near(sums[2].sqrt(), told.overstand_error()));
    assert!(
        near(sums[3].sqrt(), fit.real.crest_error),
        "{} {}",
        sums[3].sqrt(),
        fit.real.crest_error
    );
    // of a correlation r it is (1 - r²)/√n: below 0.001
    let correlation = sums[1] / (sums[0] * sums[2]).sqrt();
    assert!((correlation - told.correlation()).abs() < 0.004);
    assert!(told.correlation() < -0.9);
    // without the covariance it would come out three times as large and more
    let slope = fit.real.crest_at;
    let apart = (slope * told.pitch_error()).hypot(told.overstand_error());
    assert!(apart > 3.0 * fit.real.crest_error, "{apart} {}", fit.real.crest_error);
    // an amount errs by the crest's error over what the crest gains by it, X_s/ℓ - 1
    let mouth = fit.correction(Kind::MouthOff).unwrap().amount.unwrap();
    let gain = slope / design.joint.tenon_length.to_mm() - 1.0;
    // the derivative is that of small angles, good to a hundredth
    assert!((mouth.error * gain / fit.real.crest_error - 1.0).abs() < 0.02);
}

/// Readings of every kind at random places, of a random line.
fn reads(design: &Design, line: Pair, lean: f64, kinds: &[(u8, f64, f64)]) -> Vec<Reading> {
    kinds
        .iter()
        .map(|&(kind, at, across)| {
            let face = [Face::Neck, Face::Board, Face::Crowns][usize::from(kind) % 3];
            let place = match kind % 4 {
                0 => Place::Crest,
                1 => Place::BridgeLine,
                2 => top(30.0 + at * 250.0),
                _ => Place::Board(Length::mm(480.0 + at * 150.0)),
            };
            let side = match kind % 5 {
                0 => Side::Near(Length::mm(1.0 + 20.0 * across)),
                1 => Side::Far(Length::mm(1.0 + 20.0 * across)),
                _ => Side::Middle,
            };
            height(design, line, face, place, side, lean)
        })
        .collect()
}

/// What was put in.
fn finds(told: &Told, line: Pair) -> bool {
    // rounding of heights of some 20 mm over a base of 10 mm or more
    (told.pitch - line.0).abs() < 1e-9 && (told.overstand - line.1).abs() < 1e-6
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, ..ProptestConfig::default() })]

    #[test]
    fn a_known_error_comes_back_and_its_corrections_restore_the_plan(
        pitch in -1.0f64..1.0,
        over in -1.5f64..1.5,
        lean in -1.0f64..1.0,
        kinds in prop::collection::vec((0u8..60, 0.0f64..1.0, 0.0f64..1.0), 1..5),
        gauge in prop::bool::ANY,
        flat in 0u8..3,
    ) {
        let design = plan(|design| match flat {
            0 => {}
            1 => design.body.top = Top::Ramp { angle: Angle::degrees(1.5), length: Length::mm(120.0) },
            _ => design.bridge.station = Length::mm(250.0),
        });
        let line = (3f64.to_radians() + pitch.to_radians(), 0.5 + over);
        let lean = lean.to_radians();
        let mut readings = reads(&design, line, lean, &kinds);
        // two on the centre line and a lean make sure that it is told
        readings.extend(two_heights(&design, line));
        readings.push(reading(What::Roll { lean: Angle::from_radians(lean) }, 0.1));
        if gauge {
            let slope = if flat == 1 { 1.5 } else { 0.0 };
            let (board, body) = (line.0.to_degrees() + 0.3, slope + 0.3);
            let what = What::Gauge {
                place: Some(top(60.0)),
                board: Angle::degrees(board),
                body: Angle::degrees(body),
            };
            readings.push(reading(what, 0.05));
        }
        let study = Study::of(&design);
        let Ok(fit) = DryFit::of(&study, &readings) else {
            return Err(TestCaseError::fail("nothing told"));
        };
        prop_assert!(finds(&fit.told, line), "{:?} {:?}", fit.told, line);
        prop_assert!(fit.told.contradiction.is_none());
        prop_assert!((fit.told.roll.unwrap().0 - lean).abs() < 1e-8);
        for one in &fit.corrections {
            let outcome = &one.outcome;
            prop_assert!(outcome.crest.is_finite() && outcome.study.closed().is_some());
            if one.amount.is_some() && one.stock.is_none() {
                prop_assert!((outcome.crest - fit.planned_crest).abs() < 1e-6, "{:?}", one.kind);
            }
            if one.kind == Kind::BothEnds {
                prop_assert!((outcome.pitch - 3f64.to_radians()).abs() < 1e-9);
                prop_assert!((outcome.overstand - 0.5).abs() < 1e-9);
            }
            prop_assert!(outcome.spare >= 0.0);
            for wood in &one.wood {
                prop_assert!(wood.thickness > 0.0 && wood.corners.len() >= 3);
            }
        }
        // what needs least is asked for first
        let ranks: Vec<_> = fit.corrections.iter().map(|one| (!one.outcome.as_planned, one.risk())).collect();
        prop_assert!(ranks.windows(2).all(|pair| pair[0] <= pair[1]));
    }
}

/// A bridge that is in its place takes the joint's move out of the compensation.
#[test]
fn a_fixed_bridge_takes_the_move_out_of_the_compensation() {
    let mut design = plan(|_| {});
    let line = (3.4f64.to_radians(), 0.55);
    let free = fit(&design, &two_heights(&design, line));
    design
        .marks
        .insert(Dim::Station.info().key.to_owned(), overstand_core::design::Provenance::Made);
    let fixed = fit(&design, &two_heights(&design, line));
    let crest = Study::of(&design).layout().unwrap().middle.crest.x;
    let one = fixed.correction(Kind::InnerOff).unwrap();
    assert!((one.outcome.crest_at - crest).abs() < 1e-9);
    assert!((one.outcome.crest - fixed.planned_crest).abs() < 1e-6);
    assert!(one.outcome.study.design.bridge.compensation != design.bridge.compensation);
    let other = free.correction(Kind::InnerOff).unwrap();
    assert!((other.outcome.crest_at - crest).abs() > 1e-3);
}
