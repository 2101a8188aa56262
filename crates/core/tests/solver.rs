//! The solver, against designs built from known dimensions.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use overstand_core::choice::Choice;
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::layout::{Layout, solve};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{Length, LengthStyle};
use overstand_core::verdict::Word;
use proptest::prelude::*;

/// Closing dimensions that are drawn at random, with the span they are drawn from: wide
/// enough for every kind of instrument, narrow enough that the design stays sound.
const DRAWN: &[(Dim, f64, f64)] = &[
    (Dim::ScaleLength, 330.0, 900.0),
    (Dim::JointOffset, -15.0, 15.0),
    (Dim::Overstand, -5.0, 12.0),
    (Dim::Pitch, -2.0, 6.0),
    (Dim::ActionBass, 1.0, 4.5),
    (Dim::ActionTreble, 0.8, 3.5),
    (Dim::FirstFretBass, 0.2, 0.8),
    (Dim::FirstFretTreble, 0.2, 0.8),
    (Dim::Relief, -0.1, 0.6),
    (Dim::BoardThickness, 3.0, 12.0),
    (Dim::Crown, 0.6, 1.6),
    (Dim::Fall, 0.0, 0.5),
    (Dim::ZeroFretHeight, 0.9, 1.8),
    (Dim::Compensation, -1.0, 8.0),
    (Dim::RampAngle, -2.0, 5.0),
    (Dim::RampLength, 60.0, 140.0),
    (Dim::DomeRadius, 4000.0, 12000.0),
    (Dim::DomeApex, 50.0, 250.0),
    (Dim::PitchLost, 0.0, 0.6),
    (Dim::TopRise, 0.0, 2.0),
];

fn of_keys(keys: &[&str]) -> std::collections::BTreeSet<String> {
    keys.iter().map(|key| (*key).to_owned()).collect()
}

/// A design whose relations hold, with crest height and station found from the rest.
fn closed_design(draws: &[f64], top: usize, zero_fret: bool) -> Option<Design> {
    let mut design = worked_example();
    let tops = ["flat", "ramp", "arch", "dome"];
    Choice::parse("body.top")?.set(&mut design, tops[top % tops.len()]).ok()?;
    if zero_fret {
        Choice::parse("nut.kind")?.set(&mut design, "zero_fret").ok()?;
    }
    design.board.fall_from = 15;
    for (&(dim, low, high), draw) in DRAWN.iter().zip(draws) {
        if dim.key().get(&design).is_some() {
            dim.key().set(&mut design, low + (high - low) * draw);
        }
    }
    let scale = Dim::ScaleLength.key().get(&design)?;
    Dim::BoardEnd.key().set(&mut design, scale * 0.75);
    Dim::BodyLength.key().set(&mut design, scale * 0.6);
    design.found = of_keys(&["bridge.crest_height", "bridge.station"]);
    Some(solve(&design).ok()?.design)
}

fn residuals(design: &Design) -> [f64; 2] {
    let mut evaluated = design.clone();
    evaluated.found = of_keys(&["bridge.crest_height", "bridge.station"]);
    let evaluated = solve(&evaluated).unwrap().design;
    [Dim::CrestHeight, Dim::Station]
        .map(|dim| dim.key().get(&evaluated).unwrap() - dim.key().get(design).unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 100_000,
        // draws that are no design to forget anything of do not count
        max_global_rejects: 1_000_000,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// Any one dimension forgotten and started elsewhere in its range: the solver returns
    /// it, or another value with which every relation holds.
    #[test]
    fn a_forgotten_dimension_is_found_again(
        draws in prop::collection::vec(0.0..1.0f64, DRAWN.len()),
        top in 0..4usize,
        zero_fret: bool,
        which in 0..DRAWN.len() + 2,
        elsewhere in 0.0..1.0f64,
        station_too: bool,
    ) {
        let Some(known) = closed_design(&draws, top, zero_fret) else {
            return Err(TestCaseError::reject("the crest came out beyond its range"));
        };
        let dim = DRAWN.get(which).map_or_else(
            || [Dim::CrestHeight, Dim::Station][which - DRAWN.len()],
            |drawn| drawn.0,
        );
        let info = dim.info();
        prop_assume!(dim.key().get(&known).is_some());
        let mut forgotten = known.clone();
        forgotten.found = of_keys(&[info.key]);
        dim.key().set(&mut forgotten, info.low + (info.high - info.low) * elsewhere);
        if station_too {
            forgotten.found.insert("bridge.station".to_owned());
            Dim::Station.key().set(&mut forgotten, 100.0);
        }
        let solved = solve(&forgotten)
            .map_err(|conflict| TestCaseError::fail(format!("{}: {conflict:?}", info.key)))?
            .design;
        for residual in residuals(&solved) {
            prop_assert!(residual.abs() < 1e-9, "{}: residual {residual}", info.key);
        }
        let value = dim.key().get(&solved).unwrap();
        prop_assert!((info.low..=info.high).contains(&value), "{} at {value}", info.key);
        for key in Key::all_of(&known) {
            let moved = key.dim == dim || (station_too && key.dim == Dim::Station);
            if !moved && key.dim.info().role != Role::Outcome {
                prop_assert_eq!(key.get(&known), key.get(&solved), "held {} moved", key);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 20_000,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// With more found than the relations determine, no other choice of them that keeps
    /// the relations changes less.
    #[test]
    fn the_change_is_the_least(lift in -3.0..3.0f64, aside in -1.0..1.0f64) {
        let mut design = worked_example();
        design.found = of_keys(&["joint.pitch", "joint.overstand", "bridge.station"]);
        Dim::CrestHeight.key().set(&mut design, 22.775_593 + lift);
        let solved = solve(&design).unwrap();
        prop_assert_eq!(solved.degrees_of_freedom, 1);
        let change = |other: &Design| -> f64 {
            [Dim::Pitch, Dim::Overstand, Dim::Station]
                .iter()
                .map(|dim| {
                    let get = |design: &Design| dim.key().get(design).unwrap();
                    ((get(other) - get(&design)) / dim.info().step).powi(2)
                })
                .sum()
        };
        // another way: the overstand a little aside, the pitch taking up the rest
        let mut other = solved.design.clone();
        let overstand = Dim::Overstand.key().get(&other).unwrap();
        Dim::Overstand.key().set(&mut other, overstand + aside);
        other.found = of_keys(&["joint.pitch", "bridge.station"]);
        let other = solve(&other).unwrap().design;
        prop_assert!(change(&solved.design) <= change(&other) + 1e-12);
    }

    /// Whatever numbers stand in a design: an answer, not a panic, and never a number that
    /// is not one.
    #[test]
    fn any_numbers_get_an_answer(
        values in prop::collection::vec(
            (0..Dim::ALL.len(), prop_oneof![
                -1e6..1e6f64,
                -50.0..50.0f64,
                Just(0.0),
                Just(f64::NAN),
                Just(f64::INFINITY),
                Just(1e300),
                Just(-1e-300),
            ]),
            1..12,
        ),
        choices in prop::collection::vec((0..7usize, 0..5usize), 0..4),
        found in prop::collection::vec(0..Dim::ALL.len(), 0..5),
        past_validation: bool,
    ) {
        let mut design = worked_example();
        for (choice, option) in choices {
            let choice = &Choice::all()[choice];
            choice.set(&mut design, choice.options[option % choice.options.len()].0).unwrap();
        }
        for (dim, value) in values {
            Key { dim: Dim::ALL[dim], index: dim % 6 }.set(&mut design, value);
        }
        design.found.extend(found.into_iter().map(|dim| Dim::ALL[dim].info().key.to_owned()));
        if past_validation
            && let Ok(solved) = solve(&design)
            && let Ok(layout) = Layout::of(&solved.design)
        {
            prop_assert!(layout.middle.crest_height.is_finite());
        }
        let study = Study::of(&design);
        if let Some(closed) = study.closed() {
            for check in &closed.checks {
                prop_assert!(check.reading.value.is_finite(), "{:?}", check.id);
            }
            for line in &closed.layout.strings {
                prop_assert!(line.crest_height.is_finite() && line.nut_v.is_finite());
            }
        }
    }
}

#[test]
fn held_values_that_cannot_all_be_true_are_named() {
    let mut design = worked_example();
    design.found = of_keys(&["bridge.station"]);
    Dim::CrestHeight.key().set(&mut design, 25.0);
    let conflict = solve(&design).unwrap_err();
    assert_eq!(conflict.relation, Dim::CrestHeight);
    let would_be = |dim: Dim| {
        conflict.members.iter().find(|member| member.dim == dim).and_then(|member| member.would_be)
    };
    // the neck as it stands needs the crest of the worked example
    assert!((would_be(Dim::CrestHeight).unwrap() - 22.775_593).abs() < 1e-6);
    // each release that is offered, done, closes the design at just that value, and no other does
    for member in &conflict.members {
        let mut released = design.clone();
        released.found.insert(member.dim.info().key.to_owned());
        let study = Study::of(&released);
        assert_eq!(study.closed().is_some(), member.would_be.is_some(), "{:?}", member.dim);
        let Some(value) = member.would_be else { continue };
        let taken = member.dim.key().get(&study.design).unwrap();
        assert!((taken - value).abs() < 1e-9, "{:?}", member.dim);
    }
    // a shorter scale would end before its board does
    assert_eq!(would_be(Dim::ScaleLength), None);
    // some 4.4 mm a degree: 2.2 mm up takes about half a degree
    assert!((would_be(Dim::Pitch).unwrap() - 3.5).abs() < 0.05);
    // what has no bearing on it is not accused
    assert!(conflict.members.iter().all(|member| member.dim != Dim::HeadAngle));
}

#[test]
fn a_bound_in_the_way_is_named() {
    let mut design = worked_example();
    Dim::CrestHeight.key().set(&mut design, 100.0);
    let conflict = solve(&design).unwrap_err();
    let beyond = conflict.beyond[0];
    assert_eq!(beyond.dim, Dim::Pitch);
    assert_eq!(beyond.limit, Dim::Pitch.info().high);
    assert!(beyond.would_be > beyond.limit);
}

/// What is found may be in its range and yet contradict the rest: a gap of 3.1 mm under the
/// board's end would end the board before its last fret.
#[test]
fn what_is_found_must_fit_what_is_held() {
    let mut design = worked_example();
    design.targets.insert("joint.board_end_gap".to_owned(), 0.5);
    design.found.insert("board.end".to_owned());
    assert!(design.faults().is_empty() && solve(&design).is_ok());
    let study = Study::of(&design);
    assert_eq!(study.word(), Word::DoesNotClose);
    let says = study.reason().show(LengthStyle::Millimetres);
    assert!(says.contains("board.end: ") && says.contains("before the last fret"), "{says}");
    // nor does a scale come out shorter than its board
    let mut short = worked_example();
    short.bridge.crest_height = Length::mm(15.0);
    short.found = of_keys(&["scale.length", "bridge.station"]);
    assert!(solve(&short).is_ok());
    let says = Study::of(&short).reason().show(LengthStyle::Millimetres);
    assert!(says.contains("reaches to the bridge"), "{says}");
    // what stood in the design still stands, so that it can be saved
    assert_eq!(study.design, design);
}

#[test]
fn an_outcome_can_be_held() {
    let mut design = worked_example();
    design.targets.insert("tail.break_angle".to_owned(), 12.0);
    design.found.insert("tail.height".to_owned());
    let solved = solve(&design).unwrap();
    assert_eq!(solved.degrees_of_freedom, 0);
    let layout = Layout::of(&solved.design).unwrap();
    // the residual allowed to the solver is 1e-12 rad
    assert!((layout.middle.saddle_break.unwrap().to_degrees() - 12.0).abs() < 1e-10);
    // and the straightedge's reading in place of the crest height
    let mut design = worked_example();
    design.found.insert("bridge.crest_height".to_owned());
    design.targets.insert("straightedge.board".to_owned(), 18.0);
    let solved = solve(&design).unwrap();
    assert_eq!(solved.degrees_of_freedom, 0);
    assert!((Layout::of(&solved.design).unwrap().straightedge.board - 18.0).abs() < 1e-9);
}
