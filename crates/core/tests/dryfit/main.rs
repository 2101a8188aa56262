//! The dry fit against a simulation of its own: a rigid neck that lies on a straight seat and
//! against a straight wall.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod readings;
mod wood;

use overstand_core::design::{Design, Top};
use overstand_core::dimension::Dim;
use overstand_core::dryfit::{
    DryFit, Face, Kind, Place, Reading, Round, ShoulderEnd, Side, Told, What,
};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};
use proptest::prelude::*;

use wood::{Joint, Pair};

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
        design.fitting.push(Round {
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
    let says = board.says[0].show(Default::default());
    assert!(says.starts_with("Plane ") && says.contains(" off the board as it is"), "{says}");
}

/// What was read on the board, now or earlier, tells that it is on: then it is never made
/// thicker.
#[test]
fn a_board_that_is_on_is_planed_and_never_thicker() {
    let design = plan(|_| {});
    let low = (2.6f64.to_radians(), 0.45);
    let on_neck = |design: &Design, line: Pair| -> Vec<Reading> {
        [240.0, 110.0].map(|x| height(design, line, Face::Neck, top(x), Side::Middle, 0.0)).to_vec()
    };
    let off = fit(&design, &on_neck(&design, low));
    let board = off.correction(Kind::Board).unwrap();
    assert!(board.outcome.study.design.board.thickness > design.board.thickness);
    let says = board.says[0].show(Default::default());
    assert!(says.starts_with("A board of "), "{says}");

    let mut earlier = design.clone();
    let on = "2026-03-01".parse().unwrap();
    let readings = two_heights(&design, low);
    let round = Round { on, glued: false, note: String::new(), readings, done: None };
    earlier.fitting.push(round);
    for on in [fit(&design, &two_heights(&design, low)), fit(&earlier, &on_neck(&design, low))] {
        assert!(on.correction(Kind::Board).is_none());
        let (_, why) = on.unreachable.iter().find(|(kind, _)| *kind == Kind::Board).unwrap();
        let why = why.show(Default::default());
        assert!(why.contains("planed thinner, not made thicker"), "{why}");
        let says = on.with(Kind::Board, -0.3).unwrap_err().show(Default::default());
        assert!(says.contains("planed thinner, not made thicker"), "{says}");
    }
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
