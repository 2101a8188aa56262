//! The side elevation of every starter and of every kind of every part.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

mod designs;

use kurbo::{BezPath, PathEl, Point, Shape as _};
use overstand_core::dimension::{Dim, Key};
use overstand_core::layout::{BodyPoint, Layout};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;
use overstand_drawing::elevation::{Show, elevation, elevation_with, joint_to_tail, whole};
use overstand_drawing::handles::{Handle, HandleKind, handles};
use overstand_drawing::look::Look;
use overstand_drawing::scene::{Item, Line, PartName, Scene};
use overstand_drawing::strip::strip;
use overstand_drawing::svg::svg;

use designs::{designs, of_starters};

fn studies() -> Vec<(String, Study)> {
    designs().into_iter().map(|(name, design)| (name, Study::of(&design))).collect()
}

const EVERYTHING: Show = Show { straightedge: true, dimensions: true };

fn points(path: &BezPath) -> Vec<Point> {
    path.elements()
        .iter()
        .flat_map(|element| match *element {
            PathEl::MoveTo(a) | PathEl::LineTo(a) => vec![a],
            PathEl::QuadTo(a, b) => vec![a, b],
            PathEl::CurveTo(a, b, c) => vec![a, b, c],
            PathEl::ClosePath => vec![],
        })
        .collect()
}

fn item_points(item: &Item) -> Vec<Point> {
    match item {
        Item::Area { path, .. } | Item::Stroke { path, .. } => points(path),
        Item::Text { at, .. } => vec![*at],
        Item::Dimension { from, to, .. } | Item::Measure { from, to, .. } => vec![*from, *to],
        Item::Angle { vertex, from, to, .. } => vec![*vertex, *from, *to],
    }
}

fn point(at: BodyPoint) -> Point {
    Point::new(at.x, at.y)
}

fn paths(scene: &Scene, part: PartName, wanted: Line) -> Vec<&BezPath> {
    scene
        .shapes
        .iter()
        .filter(|shape| shape.part == Some(part))
        .filter_map(|shape| match &shape.item {
            Item::Stroke { path, line } if *line == wanted => Some(path),
            _ => None,
        })
        .collect()
}

#[test]
fn every_kind_draws_with_no_number_missing() {
    for (name, study) in studies() {
        let scene = elevation_with(&study, EVERYTHING);
        assert!(scene.shapes.len() > 15, "{name}: {} shapes", scene.shapes.len());
        for shape in &scene.shapes {
            let places = item_points(&shape.item);
            assert!(!places.is_empty(), "{name}: nothing in {:?}", shape.part);
            assert!(places.iter().all(|at| at.is_finite()), "{name}: {shape:?}");
        }
        assert!(!svg(&scene, &Look::paper()).contains("NaN"), "{name}");
    }
}

/// Whatever a maker may type is drawn, or nothing is.
#[test]
fn the_ends_of_every_range_draw_with_no_number_missing() {
    let mut drawn = 0;
    for (name, design) in of_starters() {
        for key in Key::all_of(&design).into_iter().filter(|key| key.index == 0) {
            let info = key.dim.info();
            for value in [info.low, info.high] {
                let mut design = design.clone();
                key.set(&mut design, value);
                let study = Study::of(&design);
                let scene = elevation_with(&study, EVERYTHING);
                let whole = scene.shapes.iter().flat_map(|shape| item_points(&shape.item));
                assert!(whole.into_iter().all(|at| at.is_finite()), "{name}: {key} {value}");
                assert!(handles(&study).iter().all(|one| one.at.is_finite()), "{name}: {key}");
                let strip = strip(&study, None, Some(5), false);
                assert!(strip.heights.0.is_finite() && strip.heights.1.is_finite());
                drawn += usize::from(!scene.shapes.is_empty());
            }
        }
    }
    assert!(drawn > 1200, "only {drawn} could be drawn");
}

#[test]
fn the_box_around_it_holds_everything() {
    for (name, study) in studies() {
        let (scene, bounds) = (elevation(&study), whole(&study).unwrap());
        // the outline of a curve stays within its control points
        let slack = bounds.inflate(1e-9, 1e-9);
        for shape in &scene.shapes {
            if let Item::Area { path, .. } | Item::Stroke { path, .. } = &shape.item {
                let part = path.bounding_box();
                assert_eq!(slack.union(part), slack, "{name}: {:?}", shape.part);
            }
        }
        let close = joint_to_tail(&study).unwrap();
        let layout = study.layout().unwrap();
        assert!(close.contains(point(layout.middle.crest)), "{name}");
        assert!(close.contains(Point::new(0.0, layout.back(0.0) + 1.0)), "{name}");
        assert!(close.width() < bounds.width(), "{name}");
        let show = Show { dimensions: true, straightedge: false };
        let height =
            elevation_with(&study, show).shapes.into_iter().find_map(|shape| match shape.item {
                Item::Dimension { to, offset, dim: Dim::CrestHeight, .. } => Some((to, offset)),
                _ => None,
            });
        // it runs up, so that a negative offset is to its right
        let (top, offset) = height.unwrap_or_else(|| panic!("{name}: no height of the crest"));
        assert!(close.inflate(1e-6, 1e-6).contains(top - (offset, 0.0)), "{name}");
    }
}

#[test]
fn the_string_lies_in_the_nut_and_on_the_crest() {
    for (name, study) in studies() {
        let layout = study.layout().unwrap();
        let scene = elevation(&study);
        let strings = paths(&scene, PartName::Strings, Line::String);
        let slot = point(layout.strung(0.0, layout.middle.nut_v));
        let crest = point(layout.middle.crest);
        // the other line of a wrapped string lies around the bridge
        let mut runs = strings.into_iter().map(points).filter(|run| run.contains(&slot));
        let run = runs.next().unwrap_or_else(|| panic!("{name}: no slot"));
        let at = run.iter().position(|at| *at == slot).unwrap();
        assert_eq!(run.get(at + 1), Some(&crest), "{name}");
        assert_eq!(run.get(at + 2).copied(), layout.tail().map(point), "{name}");
        // it leaves the nut toward the headstock
        assert!(at > 0 && run[at - 1].x < slot.x, "{name}");
    }
}

#[test]
fn the_bridge_comes_up_to_the_crest_and_stands_on_the_top() {
    for (name, study) in studies() {
        let layout = study.layout().unwrap();
        let crest = point(layout.middle.crest);
        let scene = elevation(&study);
        let bridge =
            scene.shapes.iter().filter(|shape| shape.part == Some(PartName::Bridge)).filter_map(
                |shape| match &shape.item {
                    Item::Area { path, .. } => Some(path),
                    _ => None,
                },
            );
        let touching: Vec<&BezPath> =
            bridge.clone().filter(|path| points(path).contains(&crest)).collect();
        assert_eq!(touching.len(), 1, "{name}");
        // the highest point is the crest: a ridge's control points stand level with it
        assert!((touching[0].bounding_box().max_y() - crest.y).abs() < 1e-9, "{name}");
        let lowest = bridge.map(|path| path.bounding_box().min_y()).fold(f64::INFINITY, f64::min);
        let half = study.design.bridge.base.to_mm() / 2.0;
        let ground = [-half, 0.0, half].map(|side| layout.top(crest.x + side));
        let (low, high) = ground.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), y| {
            (f64::min(a, *y), f64::max(b, *y))
        });
        // chords of an arch lie at most the flatness of 0.01 mm off
        assert!(lowest >= low - 0.02 && lowest <= high + 0.02, "{name}: {lowest}");
    }
}

#[test]
fn the_saddle_range_is_that_of_the_bridge() {
    let study = Study::of(&worked_example());
    let scene = elevation(&study);
    let range = paths(&scene, PartName::SaddleRange, Line::Range)[0].bounding_box();
    // flat top: heights are those of the design, 19 to 27
    assert!((range.y0 - 19.0).abs() < 1e-9 && (range.y1 - 27.0).abs() < 1e-9, "{range}");
    let crest = study.layout().unwrap().middle.crest.x;
    assert!(range.x0 < crest && crest < range.x1);
}

#[test]
fn parts_answer_where_they_are() {
    let study = Study::of(&worked_example());
    let layout = study.layout().unwrap();
    let scene = elevation(&study);
    let head = |along: f64, over: f64| {
        let (u, v) = layout.strung_head(along, over);
        point(layout.strung(u, v))
    };
    for (at, part) in [
        (Point::new(200.0, -35.0), PartName::Body),
        (Point::new(200.0, 0.0), PartName::Top),
        (Point::new(30.0, -10.0), PartName::Tenon),
        (point(layout.strung(200.0, -12.0)), PartName::Neck),
        (point(layout.strung(200.0, -3.0)), PartName::Board),
        (head(140.0, -7.0), PartName::Head),
        (point(layout.tail().unwrap()) + (5.0, -2.0), PartName::Tail),
        (point(layout.middle.crest) - (0.0, 10.0), PartName::Bridge),
    ] {
        assert_eq!(scene.part_at(at, 0.3), Some(part), "at {at}");
    }
    assert_eq!(scene.part_at(Point::new(0.0, 500.0), 0.3), None);
}

/// What else may give when a dimension is held, so that the design still closes.
fn gives(dim: Dim) -> [Dim; 2] {
    match dim {
        Dim::CrestHeight => [Dim::Pitch, Dim::Station],
        Dim::Station => [Dim::CrestHeight, Dim::Compensation],
        _ => [Dim::CrestHeight, Dim::Station],
    }
}

/// The same handle after its dimension has grown by so much.
fn grown(study: &Study, handle: &Handle, by: f64) -> Option<(Handle, Layout)> {
    let mut design = study.design.clone();
    design.targets.clear();
    design.found = gives(handle.dim).map(|dim| dim.info().key.to_owned()).into();
    let key = handle.dim.key();
    let value = key.get(&design)? + by;
    key.set(&mut design, value);
    let after = Study::of(&design);
    let layout = after.layout()?.clone();
    let handle = handles(&after).into_iter().find(|one| one.dim == handle.dim)?;
    Some((handle, layout))
}

#[test]
fn a_millimetre_along_a_handle_is_a_millimetre_more() {
    let mut tried = 0;
    for (name, study) in studies() {
        let before = study.layout().unwrap();
        for handle in handles(&study).iter().filter(|handle| handle.kind == HandleKind::Linear) {
            assert!((handle.direction.hypot() - 1.0).abs() < 1e-12);
            let Some((after, layout)) = grown(&study, handle, 1.0) else {
                continue;
            };
            let mut moved = (after.at - handle.at).dot(handle.direction);
            if handle.dim == Dim::CrestHeight {
                // its height counts from the top, which is another where the crest moved to
                moved -= layout.top(after.at.x) - before.top(handle.at.x);
            }
            // coordinates up to 1000 mm, solved to 1e-10 mm
            assert!((moved - 1.0).abs() < 1e-8, "{name}, {:?}: {moved}", handle.dim);
            tried += 1;
        }
    }
    assert!(tried > 150, "only {tried} handles could be tried");
}

#[test]
fn turning_a_handle_counter_clockwise_is_more() {
    let step = 0.1_f64;
    let mut tried = 0;
    for (name, study) in studies() {
        for handle in handles(&study) {
            let HandleKind::Turn { centre } = handle.kind else {
                continue;
            };
            let Some((after, _)) = grown(&study, &handle, step) else {
                continue;
            };
            let arm = (handle.at - centre).hypot();
            let moved = (after.at - handle.at).dot(handle.direction);
            // along the tangent a turn by α moves r sin α, which is r α less r α³/6; the
            // centre stays to the solver's 1e-10 mm
            let expected = arm * step.to_radians();
            assert!((moved - expected).abs() < 1e-6, "{name}, {:?}: {moved}", handle.dim);
            tried += 1;
        }
    }
    assert!(tried > 60, "only {tried} handles could be tried");
}

#[test]
fn raising_the_pitch_drops_the_nut() {
    let study = Study::of(&worked_example());
    let all = handles(&study);
    let of = |dim: Dim| all.iter().find(|handle| handle.dim == dim).unwrap();
    assert!(of(Dim::Pitch).direction.y < -0.9);
    assert!(of(Dim::HeadAngle).direction.y < -0.9);
    assert!(of(Dim::CrestHeight).direction.y > 0.9);
    let crest = point(study.layout().unwrap().middle.crest);
    // the held height is given to 1e-6 mm, and the pitch solved from it to 1e-10
    assert!((of(Dim::CrestHeight).at - crest).hypot() < 1e-6);
}

#[test]
fn a_design_that_does_not_close_is_drawn_with_its_held_crest() {
    let mut design = worked_example();
    design.found.clear();
    design.bridge.crest_height = Length::mm(18.0);
    let study = Study::of(&design);
    assert!(study.closed().is_none());
    let scene = elevation(&study);
    let ghost = paths(&scene, PartName::Bridge, Line::Ghost)[0].bounding_box().center();
    assert!((ghost.y - 18.0).abs() < 1e-9, "{ghost}");
    let crest = handles(&study)[0];
    assert_eq!((crest.dim, crest.at.y), (Dim::CrestHeight, 18.0));
    // the string still runs where the other dimensions put it
    let run = points(paths(&scene, PartName::Strings, Line::String)[0]);
    assert!(run.iter().any(|at| (at.y - 22.775_593).abs() < 1e-5));
    assert!(!strip(&study, None, None, true).frets.is_empty());
}

#[test]
fn nonsense_is_an_empty_scene() {
    let mut design = worked_example();
    design.strings.clear();
    let study = Study::of(&design);
    assert!(elevation_with(&study, EVERYTHING).shapes.is_empty());
    assert!(handles(&study).is_empty());
    assert!(whole(&study).is_none() && joint_to_tail(&study).is_none());
}

#[test]
fn the_page_is_as_large_as_the_instrument() {
    for (name, study) in studies() {
        let bounds = whole(&study).unwrap();
        let text = svg(&elevation(&study), &Look::paper());
        // a margin of 10 mm all round, printed to a thousandth
        let expected = [bounds.width() + 20.0, bounds.height() + 20.0];
        for (attribute, expected) in ["width=\"", "height=\""].iter().zip(expected) {
            let start = text.find(attribute).unwrap() + attribute.len();
            let length: f64 = text[start..].split("mm").next().unwrap().parse().unwrap();
            assert!((length - expected).abs() <= 0.000_501, "{name}: {length}");
        }
    }
}
