//! How true a design must be cut: values made with scipy, closed forms, and trials against
//! each other.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use overstand_core::design::{BridgeKind, Date, Design, Making, Provenance, Spread, Tolerance};
use overstand_core::dimension::{Dim, Key};
use overstand_core::risk::{
    Basis, Count, MapAsk, Plan, Risk, Source, Watch, aimed, from_seat, sources,
};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};
use overstand_core::verdict::{CheckId, State, Word};
use serde_json::Value;

#[track_caller]
fn close(actual: f64, expected: f64, within: f64) {
    assert!((actual - expected).abs() <= within, "{actual} is not {expected} within {within}");
}

fn exactly(design: &mut Design) {
    design.tolerances = sources(design)
        .into_iter()
        .map(|one| {
            let none = Tolerance { plus_minus: Some(0.0), ..Tolerance::default() };
            (one.source.to_string(), none)
        })
        .collect();
}

fn at_three_degrees() -> Design {
    let mut design = worked_example();
    design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    design
}

fn risk_of(design: &Design) -> Risk {
    Risk::of(&Study::of(design)).unwrap()
}

/// Source: scipy and NumPy, `scripts/risk_reference.py`, from the formulas of the geometry
/// alone.
#[test]
fn worked_example_against_scipy() {
    let data: Value = serde_json::from_str(include_str!("../data/risk.json")).unwrap();
    let number = |value: &Value| value.as_f64().unwrap();
    let mut design = at_three_degrees();
    exactly(&mut design);
    let errors = data["errors"].as_object().unwrap();
    for (key, error) in errors {
        let spread = Spread::ALL
            .into_iter()
            .find(|spread| spread.text() == error["spread"].as_str().unwrap())
            .unwrap();
        let plus_minus = Some(number(&error["plus_minus"]));
        let tolerance = Tolerance { making: None, plus_minus, spread: Some(spread) };
        design.tolerances.insert(key.clone(), tolerance);
    }
    let half = 0.5 * (number(&data["high"]) + number(&data["low"]));
    design.bridge.kind = BridgeKind::Plate {
        crest_low: Length::mm(number(&data["low"])),
        crest_high: Length::mm(number(&data["high"])),
    };
    let risk = risk_of(&design);
    assert_eq!(risk.tolerated.len(), errors.len());
    let budget = &risk.budget;
    // double rounding of coordinates of some 1000 mm
    close(budget.crest_height, number(&data["nominal"]), 1e-9);
    for row in &budget.rows {
        let key = row.tolerated.source.to_string();
        close(row.crest, number(&data["slopes"][&key]), 1e-9);
    }
    close(budget.standard, number(&data["standard"]), 1e-10);
    close(budget.worst_case, number(&data["worst_case"]), 1e-9);
    close(
        budget.reserve.0.min(budget.reserve.1),
        (number(&data["high"]) - half) - (budget.crest_height - half).abs(),
        1e-9,
    );

    let trials = risk.trials(&Plan::exactly(200_000), &Watch::nobody()).unwrap();
    let theirs = &data["trials"];
    // standard errors of 200 000 trials: 0.0007 of the mean, 0.0004 of u, some 0.002 of the
    // ends of 95 %, 0.0005 of the chance; three of each
    close(trials.crest.mean, number(&theirs["mean"]), 0.002);
    close(trials.crest.standard, number(&theirs["standard"]), 0.0014);
    let (low, high) = trials.crest.interval(0.95);
    for source in [theirs, &data["linear"]] {
        close(low, number(&source["low95"]), 0.006);
        close(high, number(&source["high95"]), 0.006);
    }
    // each string has the crest of the middle one but for its own slot: the bass slot's error
    // moves it by ± 0.03 mm at most, of 0.3
    let travel = trials.checks.iter().find(|one| one.id == CheckId::SaddleTravel).unwrap();
    close(travel.chance(), number(&theirs["within"]), 0.01);
    close(number(&theirs["within"]), number(&data["linear"]["within"]), 0.002);
}

/// ∂B/∂e_m = -(X_s/ℓ - 1) and ∂B/∂e_i = X_s/ℓ on a flat top with a floor parallel to it; pitch
/// by itself ∂B/∂θ = X_s, overstand 1, thickness cos θ.
#[test]
fn slopes_in_closed_form() {
    let mut design = at_three_degrees();
    design.joint.floor = Angle::degrees(0.0);
    let x = Study::of(&design).layout().unwrap().middle.crest.x;
    let slope = |risk: &Risk, source: Source| {
        risk.budget.rows.iter().find(|row| row.tolerated.source == source).unwrap().crest
    };
    let risk = risk_of(&design);
    close(slope(&risk, Source::SeatInner), x / 70.0, 1e-12);
    close(slope(&risk, Source::SeatMouth), 1.0 - x / 70.0, 1e-12);
    let dim = |dim: Dim| Source::Dim(dim.key());
    close(slope(&risk, dim(Dim::BoardThickness)), Angle::degrees(3.0).radians().cos(), 1e-12);
    let seat = Tolerance { plus_minus: Some(0.1), ..Tolerance::default() };
    design.tolerances.insert("joint.pitch".to_owned(), seat);
    assert!(!from_seat(&design));
    let risk = risk_of(&design);
    // per degree
    close(slope(&risk, dim(Dim::Pitch)), x * 1.0_f64.to_radians(), 1e-12);
    close(slope(&risk, dim(Dim::Overstand)), 1.0, 1e-12);
    assert!(risk.tolerated.iter().all(|one| one.source != Source::SeatInner));
}

/// With the filed slot held, 1 mm of relief asks for 4.6 mm of crest; and what is left at the
/// saddle moves the action: 2.0 mm of crest at fret 12 come to 1.
#[test]
fn relief_with_the_slot_held() {
    let risk = risk_of(&at_three_degrees());
    let relief = Source::Dim(Dim::Relief.key());
    let row = risk.budget.rows.iter().find(|row| row.tolerated.source == relief).unwrap();
    // printed to two digits
    close(row.crest, -4.6, 0.05);
    // B moves with the action by cos θ u_s/u_12, the line turning about the slot
    let lever = 630.0 / 314.0 * Angle::degrees(3.0).radians().cos();
    close(row.action, -row.crest / lever, 1e-12);
    // the crest stands nearer to its lowest, 19
    close(row.reserve, row.crest, 0.0);
    assert!(row.tolerated.later.is_some());
}

#[test]
fn what_is_measured_misses_by_its_reading() {
    let mut design = at_three_degrees();
    let plus_minus = |design: &Design, key: &str| {
        let found = sources(design).into_iter().find(|one| one.source.to_string() == key);
        found.map(|one| (one.plus_minus, one.basis, one.spread))
    };
    let board = "board.thickness";
    assert_eq!(plus_minus(&design, board).unwrap().1, Basis::Usual(Making::Hand));
    let making = Some(Making::Jig);
    design.tolerances.insert(board.to_owned(), Tolerance { making, ..Tolerance::default() });
    let jig = plus_minus(&design, board).unwrap();
    assert_eq!(jig.1, Basis::Usual(Making::Jig));
    close(jig.0, 0.04, 1e-12);
    let on = Date::new(2026, 3, 12).unwrap();
    design.marks.insert(board.to_owned(), Provenance::Measured { on, error: 0.02 });
    let measured = plus_minus(&design, board).unwrap();
    assert_eq!(measured, (0.02, Basis::Measured, Spread::Rectangular));
    // read exactly, it does not miss
    design.marks.insert(board.to_owned(), Provenance::Measured { on, error: 0.0 });
    assert_eq!(plus_minus(&design, board), None);
    design.tolerances = BTreeMap::from([("bridge.crest_height".to_owned(), Tolerance::default())]);
    assert!(!design.faults().is_empty(), "what follows is not made");
}

/// The same seed, the same figures to the last bit, on one, two and seven threads; another
/// seed, others. Where it stops by itself hangs on no thread either.
#[test]
fn threads_do_not_matter() {
    let risk = risk_of(&at_three_degrees());
    let on = |threads: usize, plan: Plan| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| risk.trials(&plan, &Watch::nobody()).unwrap())
    };
    let trials = Count::UntilStable { tolerance: 0.01, chance: 0.005, most: 200_000 };
    for plan in [Plan::exactly(25_000), Plan { trials, seed: 9 }] {
        let one = on(1, plan);
        assert_eq!(one, on(2, plan));
        assert_eq!(one, on(7, plan));
    }
    let other = on(2, Plan { seed: 2, ..Plan::exactly(25_000) });
    assert_ne!(on(2, Plan::exactly(25_000)).crest, other.crest);
}

#[test]
fn trials_tell_how_far_they_are_and_can_be_stopped() {
    let risk = risk_of(&at_three_degrees());
    let (stop, told) = (AtomicBool::new(false), AtomicU64::new(0));
    let progress = |done: u64, of: u64| {
        assert!(done <= of && of == 40_000);
        told.fetch_max(done, Ordering::Relaxed);
    };
    let watch = Watch::new(&stop, &progress);
    assert!(risk.trials(&Plan::exactly(40_000), &watch).is_some());
    assert_eq!(told.load(Ordering::Relaxed), 40_000);
    stop.store(true, Ordering::Relaxed);
    let watch = Watch::new(&stop, &|_, _| {});
    assert!(risk.trials(&Plan::exactly(40_000), &watch).is_none());
    assert!(risk.map(&MapAsk::usual(), &watch).is_none());
    assert!(risk.safest(&[Dim::Pitch.key()], &Plan::exactly(1000), &watch).is_none());
    let pitch = Source::Dim(Dim::Pitch.key());
    assert!(risk.suffices(pitch, 0.95, 1, &watch).is_none());
}

/// Off its middle the crest of a plate bridge may pass the end of its range; the safest pitch
/// brings it to the middle, both ways of looking for it.
#[test]
fn off_centre_gets_a_better_one() {
    let mut design = overstand_files::starters()
        .iter()
        .map(|starter| starter.file().unwrap().active_design().clone())
        .find(|design| {
            !matches!(design.bridge.kind, BridgeKind::Glued { .. })
                && Study::of(design).word() == Word::Plays
        })
        .unwrap();
    let solved = Study::of(&design).design;
    let (low, high) = solved.bridge.kind.crest_range();
    // hold the pitch so much lower that the crest comes near the lowest
    let station = solved.bridge.station.to_mm();
    let down = solved.bridge.crest_height.to_mm() - low.to_mm() - 0.15;
    design.joint.pitch = Angle::from_radians(solved.joint.pitch.radians() - down / station);
    design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    design.targets.clear();
    let study = Study::of(&design);
    let risk = Risk::of(&study).unwrap();
    let pitch = Dim::Pitch.key();
    let best = risk.safest(&[pitch], &Plan::exactly(20_000), &Watch::nobody()).unwrap();
    assert!(best.now.chance < 0.8, "{:?}", best.now);
    for better in [&best.widest, &best.likeliest] {
        assert!(better.standing.chance > best.now.chance + 0.1, "{better:?}");
        assert!(better.standing.margin > best.now.margin);
        let change = better.changes.iter().find(|change| change.key == pitch).unwrap();
        assert!(change.to > change.from);
        // it can be applied: it closes at those very values, found as the maker chose
        assert_eq!(better.design.found, study.design.found);
        let again = Study::of(&better.design);
        close(pitch.get(&again.design).unwrap(), change.to, 1e-9);
        let crest = again.layout().unwrap().middle.crest_height;
        assert!((low.to_mm() + 0.5..high.to_mm() - 0.5).contains(&crest), "{crest}");
    }
}

/// The boundary of the map agrees with the study at points on either side of it.
#[test]
fn the_boundary_is_where_the_verdict_changes() {
    let mut design = at_three_degrees();
    design.pickups = Vec::new();
    let risk = risk_of(&design);
    let map = risk.map(&MapAsk { cells: 16, ..MapAsk::usual() }, &Watch::nobody()).unwrap();
    assert_eq!(map.margins.len(), 17 * 17);
    let word = |x: f64, y: f64| {
        let mut there = design.clone();
        Dim::Pitch.key().set(&mut there, x);
        Dim::Overstand.key().set(&mut there, y);
        Study::of(&there).word()
    };
    for (j, &y) in map.up.1.iter().enumerate() {
        for (i, &x) in map.across.1.iter().enumerate() {
            let expected = match map.margins[j * 17 + i] {
                None => Word::DoesNotClose,
                Some(margin) if margin <= 1e-9 => Word::Fails,
                Some(margin) if margin < 1.0 - 1e-9 => Word::PlaysThin,
                Some(_) => Word::Plays,
            };
            let found = word(x, y);
            let fails = [Word::Fails, Word::DoesNotClose];
            assert!(found == expected || fails.contains(&found) && fails.contains(&expected));
        }
    }
    assert!(map.plays.len() > 10, "{}", map.plays.len());
    let plays = |x, y| matches!(word(x, y), Word::Plays | Word::PlaysThin);
    for line in map.plays.iter().step_by(3) {
        // found to a thousandth of a cell: on either side of it the verdict differs
        let [(ax, ay), (bx, by)] = *line;
        let cell = (map.across.1[1] - map.across.1[0], map.up.1[1] - map.up.1[0]);
        for (x, y) in [(ax, ay), (bx, by)] {
            let around = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)]
                .map(|(dx, dy)| plays(x + dx * cell.0 * 4e-3, y + dy * cell.1 * 4e-3));
            assert!(around.contains(&true) && around.contains(&false), "{x} {y} {around:?}");
        }
    }
    // and the cloud lies about the point as the ellipse says
    let around = &map.around;
    let (xx, xy, yy) = around.covariance;
    assert!(xy < 0.0, "higher at the mouth is a lower pitch and more overstand");
    let count = around.cloud.len() as f64;
    let mean = around.cloud.iter().map(|one| one.across - around.point.0).sum::<f64>() / count;
    let square = around.cloud.iter().map(|one| (one.across - around.point.0).powi(2)).sum::<f64>();
    close(mean, 0.0, 4.0 * (xx / count).sqrt());
    close(square / count / xx, 1.0, 0.3);
    let within = around.cloud.iter().filter(|one| {
        let (dx, dy) = (one.across - around.point.0, one.up - around.point.1);
        (yy * dx * dx - 2.0 * xy * dx * dy + xx * dy * dy) / (xx * yy - xy * xy) <= 5.9915
    });
    close(within.count() as f64 / count, 0.95, 0.06);
    assert_eq!(around.ellipse(64).len(), 65);
    assert!(around.cloud.iter().any(|one| one.state == State::Good || one.state == State::Thin));
    assert_eq!(risk.around(&MapAsk::usual()).as_ref(), Some(around), "it is worked out apart, too");
    let bad = MapAsk::of(Dim::CrestHeight.key(), Dim::Pitch.key());
    assert!(risk.map(&bad, &Watch::nobody()).is_none());
    assert!(risk.around(&bad).is_none());
    // put at another place the design closes there, finds what it found, and stands there
    let puts = [(Dim::Pitch.key(), 3.1), (Dim::Overstand.key(), 1.2)];
    let solved = Study::of(&design).design;
    let aimed = aimed(&solved, &puts).unwrap();
    assert_eq!(aimed.found, solved.found);
    let again = Study::of(&aimed);
    for (key, value) in puts {
        close(key.get(&again.design).unwrap(), value, 1e-9);
    }
    assert!(again.closed().is_some());
}

/// What suffices does suffice, and a little more than it does not.
#[test]
fn what_suffices_is_just_enough() {
    let mut design = at_three_degrees();
    design.bridge.kind =
        BridgeKind::Plate { crest_low: Length::mm(22.2), crest_high: Length::mm(23.4) };
    let risk = risk_of(&design);
    let pitch = Source::Dim(Dim::Pitch.key());
    let found = risk.suffices(pitch, 0.9, 1, &Watch::nobody()).unwrap();
    let held = found.hold.unwrap();
    assert_eq!(held.len(), 2, "both ends of the seat");
    assert!(found.pitch.unwrap() > 0.0 && !found.any);
    let chance = |factor: f64| {
        let mut design = design.clone();
        for (source, plus_minus) in &held {
            let plus_minus = Some(plus_minus * factor);
            let tolerance = Tolerance { plus_minus, ..Tolerance::default() };
            design.tolerances.insert(source.to_string(), tolerance);
        }
        risk_of(&design).trials(&Plan::exactly(20_000), &Watch::nobody()).unwrap().chance()
    };
    close(chance(1.0), found.chance, 1e-9);
    assert!(chance(1.0) >= 0.9 && chance(1.15) < 0.9, "{} {}", chance(1.0), chance(1.15));
    // something that does not matter
    let gauge = Source::Dim(Key { dim: Dim::NutPlace, index: 0 });
    let mut easy = at_three_degrees();
    easy.bridge.kind =
        BridgeKind::Plate { crest_low: Length::mm(12.0), crest_high: Length::mm(33.0) };
    assert!(risk_of(&easy).suffices(gauge, 0.5, 1, &Watch::nobody()).unwrap().any);
    // nothing is enough
    let sure = risk.suffices(gauge, 1.0, 1, &Watch::nobody()).unwrap();
    assert_eq!(sure.hold, None);
}

/// Trials can come no nearer to failing than the worst corner of all errors.
#[test]
fn no_trial_is_worse_than_the_worst_corner() {
    let design = at_three_degrees();
    let risk = risk_of(&design);
    let trials = risk.trials(&Plan::exactly(50_000), &Watch::nobody()).unwrap();
    for (spread, odds) in risk.checks().iter().zip(&trials.checks) {
        let (id, margin) = (spread.id, spread.worst_margin);
        assert_eq!(id, odds.id);
        assert!(margin > 1e-9 || odds.fails < trials.count, "{id:?}");
        if margin > 1e-9 {
            assert_eq!(odds.fails, 0, "{id:?} failed, with a worst margin of {margin}");
        }
    }
    assert!(trials.chance() <= 1.0 && trials.count == 50_000);
}

/// Where one string and one fret decide in every piece, a check answers each error all but
/// straight, and the root of the sum of squares is what the trials scatter by.
#[test]
fn squares_scatter_as_the_trials_do() {
    let risk = risk_of(&at_three_degrees());
    let trials = risk.trials(&Plan::exactly(100_000), &Watch::nobody()).unwrap();
    let mut compared = 0;
    for (spread, odds) in risk.checks().iter().zip(&trials.checks) {
        let decided = [CheckId::SaddleBreak, CheckId::HeadBench, CheckId::BoardOverBody];
        if !decided.contains(&spread.id) {
            continue;
        }
        compared += 1;
        let squares = spread.standard.unwrap();
        // a standard deviation of n trials is off by 1/√(2 n) of it, 0.22 %: five times that,
        // and as much again for what bends
        let off = (squares - odds.standard()).abs() / odds.standard();
        assert!(off < 0.022, "{:?}: {squares} and {}", spread.id, odds.standard());
    }
    assert_eq!(compared, 3);
}
