//! The joint worked backward: a jig, a cutter or a blank is held, and the rest follows.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use overstand_core::choice::Choice;
use overstand_core::design::{Design, JointKind};
use overstand_core::dimension::{Dim, Key};
use overstand_core::joint::{JointFigures, JointPlan, JointSection};
use overstand_core::layout::{Layout, derivative, solve};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};

/// The relations are solved to 1e-10 mm and 1e-12 rad; a value comes back through degrees
/// and a chain of some ten operations on 400 mm.
const SOLVED: f64 = 1e-8;

fn put(design: &mut Design, changes: &[(&str, f64)]) {
    for &(key, value) in changes {
        Key::parse(key).unwrap().set(design, value);
    }
}

/// The example with a result held and one dimension more found; what that comes to.
#[track_caller]
fn held(setup: impl FnOnce(&mut Design), target: Dim, value: f64, found: Dim) -> (Design, f64) {
    let mut design = worked_example();
    setup(&mut design);
    design.targets.insert(target.info().key.to_owned(), value);
    design.found.insert(found.info().key.to_owned());
    let study = Study::of(&design);
    let layout = study.layout().unwrap_or_else(|| panic!("{:?}", study.outcome));
    let comes_to = layout.outcome(target).unwrap();
    assert!((comes_to - value).abs() < SOLVED, "{}: {comes_to}", target.info().key);
    let by = found.key().get(&study.design).unwrap();
    (study.design, by)
}

fn parallel(design: &mut Design) {
    Choice::parse("joint.floor_kind").unwrap().set(design, "board").unwrap();
}

/// With the floor parallel to the board, o = H/cos θ - d_0.
#[test]
fn a_heel_of_a_given_thickness_finds_the_overstand() {
    let (design, overstand) = held(parallel, Dim::HeelThickness, 24.0, Dim::Overstand);
    let pitch = design.joint.pitch.radians();
    let depth = design.joint.pocket_depth.to_mm();
    assert!((overstand - (24.0 / pitch.cos() - depth)).abs() < SOLVED);
    // the floor follows the pitch that was found with it
    assert_eq!(design.joint.floor.to_degrees(), design.joint.pitch.to_degrees());
    // or the pocket's depth, the overstand held
    let (design, depth) = held(parallel, Dim::HeelThickness, 24.0, Dim::PocketDepth);
    let pitch = design.joint.pitch.radians();
    assert!((depth - 24.0 / pitch.cos()).abs() < SOLVED);
}

#[test]
fn a_jig_of_a_given_angle_finds_the_floor() {
    let (design, floor) = held(|_| {}, Dim::BottomAngle, 1.25, Dim::Floor);
    assert!((design.joint.pitch.to_degrees() - floor - 1.25).abs() < SOLVED);
    let taper = |design: &mut Design| put(design, &[("body.taper", 0.8)]);
    let (_, floor) = held(taper, Dim::FloorToBack, 2.0, Dim::Floor);
    assert!((floor - 1.2).abs() < SOLVED);
    // a wedge of 5 mm over 100 mm sets the pitch; then the crest must give
    let free = |design: &mut Design| {
        design.found.remove("joint.pitch");
    };
    let mut design = worked_example();
    free(&mut design);
    design.found.insert("bridge.crest_height".to_owned());
    design.found.insert("joint.pitch".to_owned());
    design.targets.insert("joint.pitch_wedge".to_owned(), 5.0);
    let solved = solve(&design).unwrap().design;
    assert!((solved.joint.pitch.radians().tan() - 0.05).abs() < SOLVED);
}

#[test]
fn a_cutter_of_a_given_reach_finds_the_pocket() {
    // the floor rises by 3°: the pocket is deepest at its mouth
    let (_, depth) = held(|_| {}, Dim::DeepestCut, 18.0, Dim::PocketDepth);
    assert!((depth - 18.0).abs() < SOLVED);
    // a floor that falls is deepest at its end, 80 mm on
    let falls = |design: &mut Design| put(design, &[("joint.floor", -2.0)]);
    let (_, depth) = held(falls, Dim::DeepestCut, 18.0, Dim::PocketDepth);
    assert!((depth - (18.0 - 80.0 * 2.0_f64.to_radians().tan())).abs() < SOLVED);
    let (_, width) = held(|_| {}, Dim::PocketWidth, 50.0, Dim::TenonWidth);
    assert!((width - 49.8).abs() < SOLVED);
}

#[test]
fn a_blank_of_a_given_thickness_finds_the_headstock_and_the_shoulder() {
    let (design, angle) = held(|_| {}, Dim::BlankForHead, 45.0, Dim::HeadAngle);
    let tilt = angle.to_radians();
    let head = &design.head;
    // 4.5 mm of the face rise over the glue face; below it drop + L sin δ + h cos δ - t
    let below = 1.5 + head.length.to_mm() * tilt.sin() + head.thickness.to_mm() * tilt.cos() - 6.0;
    assert!((4.5 + below - 45.0).abs() < SOLVED);
    // the shoulder is deeper than the tenon and decides: S cos θ
    let (design, shoulder) = held(|_| {}, Dim::BlankForHeel, 35.0, Dim::Shoulder);
    assert!((shoulder * design.joint.pitch.radians().cos() - 35.0).abs() < SOLVED);
}

#[test]
fn a_wedge_is_found_that_fills_its_gap() {
    let long = |design: &mut Design| put(design, &[("joint.wedge_length", 30.0)]);
    let (design, height) = held(long, Dim::WedgeGap, 0.0, Dim::WedgeHeight);
    let layout = Layout::of(&design).unwrap();
    assert!((height - layout.board_end_gap).abs() < SOLVED);
}

#[test]
fn a_floor_that_follows_cannot_be_found() {
    let mut design = worked_example();
    parallel(&mut design);
    assert_eq!(Dim::Floor.key().get(&design), None);
    design.found.insert("joint.floor".to_owned());
    assert_eq!(design.faults().len(), 1);
    // and freed again it starts from where it lay
    let mut solved = Study::of(&{
        let mut design = worked_example();
        parallel(&mut design);
        design
    })
    .design;
    let pitch = solved.joint.pitch;
    Choice::parse("joint.floor_kind").unwrap().set(&mut solved, "free").unwrap();
    assert_eq!(solved.joint.floor, pitch);
}

/// Exact derivatives against differences of whole layouts.
#[test]
fn relations_have_exact_derivatives() {
    let mut design = worked_example();
    put(&mut design, &[("body.taper", 0.7), ("joint.overstand", 2.0), ("joint.wall_rake", 4.0)]);
    design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    let design = solve(&design).unwrap().design;
    let by = [
        (Dim::Pitch, 1e-4),
        (Dim::Floor, 1e-4),
        (Dim::Overstand, 1e-4),
        (Dim::PocketDepth, 1e-4),
        (Dim::TenonLength, 1e-4),
        (Dim::Shoulder, 1e-4),
        (Dim::HeadAngle, 1e-4),
    ];
    let of = Dim::ALL.iter().copied().filter(|dim| {
        let key = dim.info().key;
        key.starts_with("joint.") || key.starts_with("neck.blank_")
    });
    let mut tried = 0;
    for outcome in of {
        for (dim, step) in by {
            let Some(slope) = derivative(&design, outcome, dim) else { continue };
            let at = |sign: f64| {
                let mut moved = design.clone();
                let value = dim.key().get(&design).unwrap();
                dim.key().set(&mut moved, value + sign * step);
                Layout::of(&moved).unwrap().outcome(outcome)
            };
            let (Some(up), Some(down)) = (at(1.0), at(-1.0)) else { continue };
            // both in units of the table; the slope is in mm and radians
            let unit = |dim: Dim| match dim.info().unit {
                overstand_core::units::Unit::Angle => 1f64.to_radians(),
                _ => 1.0,
            };
            let difference = (up - down) / (2.0 * step) * unit(outcome) / unit(dim);
            // rounding of 500 mm over a step of 1e-4 is 1e-9, over a degree's part 1e-7
            assert!(
                (slope - difference).abs() < 1e-6 * slope.abs().max(1.0),
                "{} by {}: {slope}, {difference}",
                outcome.info().key,
                dim.info().key
            );
            tried += 1;
        }
    }
    assert!(tried > 100, "only {tried}");
}

/// Screen, paper and JSON show the list; here it is held to the section and the layout.
#[test]
fn figures_say_what_section_and_outcomes_say() {
    for (kind, rake) in [
        (JointKind::Tenon, 0.0),
        (JointKind::Dovetail { flank: Angle::degrees(7.0) }, 0.0),
        (JointKind::Screwed, 3.0),
        (JointKind::Through, 0.0),
    ] {
        let mut design = worked_example();
        design.joint.kind = kind;
        design.joint.overstand = Length::mm(1.5);
        design.joint.wall_rake = Angle::degrees(rake);
        let study = Study::of(&design);
        let layout = study.layout().unwrap();
        let figures = JointFigures::of(&study.design, layout);
        let mut ids = std::collections::BTreeSet::new();
        for figure in &figures.list {
            assert!(ids.insert(figure.id), "{} stands twice", figure.id);
            assert!(figure.value.is_finite(), "{}", figure.id);
            let symbols = figure.working.terms.iter().map(|term| term.symbol);
            for symbol in symbols {
                let named = figure.working.formula.contains(symbol);
                assert!(named, "{}: {symbol} is not in {}", figure.id, figure.working.formula);
            }
        }
        for (id, dim) in [
            ("depth_mouth", Dim::DepthMouth),
            ("depth_inner", Dim::DepthInner),
            ("heel_thickness", Dim::HeelThickness),
            ("tenon_inner", Dim::TenonInner),
            ("bottom_angle", Dim::BottomAngle),
            ("floor_to_back", Dim::FloorToBack),
            ("pitch_wedge", Dim::PitchWedge),
            ("pitch_stack", Dim::PitchStack),
            ("pocket_width", Dim::PocketWidth),
            ("shoulder_bears", Dim::ShoulderBears),
        ] {
            let Some(figure) = figures.get(id) else {
                assert_eq!(kind, JointKind::Through, "{id} is missing");
                continue;
            };
            let outcome = layout.outcome(dim).unwrap();
            assert!((figure.value - outcome).abs() < 1e-9, "{id}: {} {outcome}", figure.value);
        }
        let section = JointSection::of(&study.design, layout);
        if let Some(length) = figures.get("along_bottom") {
            let [_, mouth, inner, _] = section.tenon;
            let way = (inner.x - mouth.x).hypot(inner.y - mouth.y);
            assert!((length.value - way).abs() < 1e-10);
        }
        if let Some(length) = figures.get("along_underside") {
            let [top, _, _, butt] = section.tenon;
            let way = (butt.x - top.x).hypot(butt.y - top.y);
            assert!((length.value - way).abs() < 1e-10);
        }
        let plan = JointPlan::of(&study.design);
        if let Some(rough) = figures.get("rough_width") {
            // 4 mm are left on the cheeks, at the widest place
            assert!((rough.value - plan.inner_width() - 4.0).abs() < 1e-10);
        }
        assert!(plan.radius <= 6.0 && plan.mouth_width() > plan.tenon[0].1 * 2.0);
    }
}
