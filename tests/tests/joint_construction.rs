//! The joint put together a second time, by intersecting lines with a general geometry
//! crate, and the true fit of tenon and pocket.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use kurbo::{BezPath, Line, ParamCurveNearest as _, Point, Shape as _, Vec2};
use overstand_core::design::{Design, JointKind};
use overstand_core::dimension::Key;
use overstand_core::joint::{JointPlan, JointSection};
use overstand_core::layout::{BodyPoint, Layout};
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};
use overstand_files::starters;
use overstand_tests::laid;

/// Both constructions work on coordinates of some 400 mm in double precision; the crate
/// finds a crossing by a quotient of cross products of lines 1000 mm long.
const AGREE: f64 = 1e-9;

/// A long line through a point, turned counter-clockwise from X.
fn line(through: Point, turn: f64) -> Line {
    let along = Vec2::from_angle(turn) * 500.0;
    Line::new(through - along, through + along)
}

#[track_caller]
fn near(actual: BodyPoint, expected: Point, what: &str) {
    let off = (Point::new(actual.x, actual.y) - expected).hypot();
    assert!(off < AGREE, "{what}: {actual:?}, constructed {expected:?}, {off:e} apart");
}

/// Many joints: every corner again as the crossing of two lines that are set out as at the
/// bench, in the frame of the neck or of the body.
#[test]
fn corners_are_where_the_lines_cross() {
    use std::f64::consts::FRAC_PI_2;
    let mut tried = 0;
    for pitch in [-1.5, 0.0, 2.2, 5.0] {
        for floor in [-2.0, 0.0, 2.2, 6.0] {
            for (overstand, rake) in [(0.0, 0.0), (4.5, 0.0), (13.0, 6.0), (-1.0, -8.0)] {
                let mut design = worked_example();
                design.joint.pitch = Angle::degrees(pitch);
                design.joint.floor = Angle::degrees(floor);
                design.joint.overstand = Length::mm(overstand);
                design.joint.wall_rake = Angle::degrees(rake);
                let (design, layout) = laid(&design);
                let joint = &design.joint;
                let section = JointSection::of(&design, &layout);
                let (pitch, floor) = (pitch.to_radians(), floor.to_radians());
                let underside = line(Point::new(0.0, overstand), pitch);
                let seat = line(Point::new(0.0, -joint.pocket_depth.to_mm()), floor);
                // a foot that reaches toward the head turns the wall clockwise
                let wall = line(Point::ZERO, FRAC_PI_2 - rake.to_radians());
                let butt = line(Point::new(joint.tenon_length.to_mm(), 0.0), FRAC_PI_2);
                let end = joint.tenon_length.to_mm() + joint.spare_length.to_mm();
                let end = line(Point::new(end, 0.0), FRAC_PI_2);
                let cross = |a: Line, b: Line| a.crossing_point(b).unwrap();
                let [top, mouth, inner, upper] = section.tenon;
                near(top, cross(underside, wall), "shoulder's top");
                near(mouth, cross(seat, wall), "mouth");
                near(inner, cross(seat, butt), "inner corner");
                near(upper, cross(underside, butt), "top of the butt");
                near(section.pocket[1], cross(seat, wall), "pocket's mouth");
                near(section.pocket[2], cross(seat, end), "pocket's end");
                // down the wall from the shoulder's top
                let down = cross(underside, wall)
                    - Vec2::from_angle(FRAC_PI_2 - rake.to_radians()) * joint.shoulder.to_mm();
                near(section.shoulder_foot, down, "shoulder's foot");
                // square to the board, by dropping a perpendicular
                let square = |at: Point| {
                    let foot = cross(line(at, pitch - FRAC_PI_2), seat);
                    (foot - at).hypot()
                };
                let (heel, far) = section.depth_square_to_board;
                assert!((square(Point::new(0.0, overstand)) - heel).abs() < AGREE);
                assert!((square(cross(underside, butt)) - far).abs() < AGREE);
                tried += 1;
            }
        }
    }
    assert_eq!(tried, 64);
}

fn path(points: impl IntoIterator<Item = Point>) -> BezPath {
    let mut path = BezPath::new();
    for (i, at) in points.into_iter().enumerate() {
        if i == 0 { path.move_to(at) } else { path.line_to(at) }
    }
    path.close_path();
    path
}

fn distance(outline: &BezPath, at: Point) -> f64 {
    let nearest = |segment: kurbo::PathSeg| segment.nearest(at, 1e-9).distance_sq;
    outline.segments().map(nearest).fold(f64::INFINITY, f64::min).sqrt()
}

/// Points along an edge, its ends left out.
fn along(from: Point, to: Point) -> impl Iterator<Item = Point> {
    (1..40).map(move |i| from.lerp(to, f64::from(i) / 40.0))
}

/// In section and seen from above: the tenon lies within the pocket, touches the floor all
/// along, leaves the glue room at both cheeks and the spare length at its end, and nothing
/// else.
#[track_caller]
fn fits(design: &Design, layout: &Layout, name: &str) {
    let joint = &design.joint;
    let (room, spare) = (joint.glue_room.to_mm(), joint.spare_length.to_mm());
    let section = JointSection::of(design, layout);
    let points = |corners: [BodyPoint; 4]| corners.map(|at| Point::new(at.x, at.y));
    let ([_, mouth, inner, upper], pocket) = (points(section.tenon), points(section.pocket));
    let floor = Line::new(pocket[1], pocket[2]);
    for at in along(mouth, inner) {
        let gap = floor.nearest(at, 1e-12).distance_sq.sqrt();
        assert!(gap < AGREE, "{name}: {gap} over the floor at {at:?}");
    }
    for at in along(inner, upper) {
        assert!((pocket[2].x - at.x - spare).abs() < AGREE, "{name}: behind the butt at {at:?}");
    }

    let plan = JointPlan::of(design);
    let corners = |corners: [(f64, f64); 4]| corners.map(|(x, across)| Point::new(x, across));
    let (tenon, hollow) = (corners(plan.tenon), corners(plan.pocket));
    let outline = path(hollow);
    for (from, to) in [(tenon[0], tenon[1]), (tenon[3], tenon[2])] {
        for at in along(from, to) {
            assert!(outline.contains(at) || room == 0.0, "{name}: {at:?} outside the pocket");
            let gap = distance(&outline, at).min(at.x);
            // near the mouth the open end is nearer than the side; there the side's own line
            let side = if at.y > 0.0 {
                Line::new(hollow[0], hollow[1])
            } else {
                Line::new(hollow[3], hollow[2])
            };
            let square = side.nearest(at, 1e-12).distance_sq.sqrt();
            assert!((square - room).abs() < AGREE, "{name}: {square} at the cheek");
            assert!(gap <= room + AGREE, "{name}: {gap} at {at:?}");
        }
    }
    for at in along(tenon[1], tenon[2]) {
        let end = Line::new(hollow[1], hollow[2]);
        let gap = end.nearest(at, 1e-12).distance_sq.sqrt();
        assert!((gap - spare).abs() < AGREE, "{name}: {gap} at the butt");
    }
    // the round inner corners: the tenon's arc stays within the pocket's
    let arc = |corner: [Point; 4], turn: f64| {
        let centre = round_centre(corner, plan.radius);
        centre + Vec2::from_angle(turn) * plan.radius
    };
    let hollow_centre = round_centre(hollow, plan.radius);
    for i in 0..=20 {
        let at = arc(tenon, std::f64::consts::FRAC_PI_2 * f64::from(i) / 20.0);
        let beyond = at.x > hollow_centre.x && at.y > hollow_centre.y;
        let out = (at - hollow_centre).hypot() - plan.radius;
        assert!(!beyond || out <= AGREE, "{name}: the corner is {out} too far out");
    }
}

/// Centre of the arc that rounds the treble inner corner: the radius away from both sides.
fn round_centre(corners: [Point; 4], radius: f64) -> Point {
    let side = (corners[1] - corners[0]).atan2();
    let inward = Vec2::from_angle(side - std::f64::consts::FRAC_PI_2) * radius;
    let beside = line(corners[0] + inward, side);
    let before = line(corners[1] - Vec2::new(radius, 0.0), std::f64::consts::FRAC_PI_2);
    beside.crossing_point(before).unwrap()
}

#[test]
fn tenon_and_pocket_of_every_starter_fit() {
    let mut tried = 0;
    for starter in starters() {
        for design in &starter.file().unwrap().variants {
            if design.joint.kind == JointKind::Through {
                continue;
            }
            let (design, layout) = laid(design);
            fits(&design, &layout, starter.id);
            tried += 1;
        }
    }
    assert!(tried >= 12);
}

#[test]
fn dovetails_and_raked_walls_fit() {
    for (flank, rake, room, spare) in
        [(6.0, 0.0, 0.1, 10.0), (12.0, 5.0, 0.15, 0.0), (3.0, -6.0, 0.0, 4.0)]
    {
        let mut design = worked_example();
        design.joint.kind = JointKind::Dovetail { flank: Angle::degrees(flank) };
        for (key, value) in
            [("joint.wall_rake", rake), ("joint.glue_room", room), ("joint.spare_length", spare)]
        {
            Key::parse(key).unwrap().set(&mut design, value);
        }
        let (design, layout) = laid(&design);
        fits(&design, &layout, "dovetail");
    }
}

/// Source: printed tables of natural trigonometric functions, four digits (tan 1° 0.0175,
/// 2° 0.0349, 3° 0.0524, 4° 0.0699, 5° 0.0875; from memory, and recomputed), as rise over
/// a base of 100 mm and as rise over run.
#[test]
fn tables_of_tangents() {
    use overstand_core::joint::JointFigures;
    use overstand_core::units::{AngleStyle, show_angle};
    for (degrees, tangent, rise) in [
        (1.0, 0.0175, "1:57"),
        (2.0, 0.0349, "1:28.6"),
        (3.0, 0.0524, "1:19.1"),
        (4.0, 0.0699, "1:14.3"),
        (5.0, 0.0875, "1:11.4"),
    ] {
        let mut design = worked_example();
        design.joint.pitch = Angle::degrees(degrees);
        let (design, layout) = laid(&design);
        let figures = JointFigures::of(&design, &layout);
        let wedge = figures.get("pitch_wedge").unwrap().value;
        // half of the table's last digit, over 100 mm
        assert!((wedge - 100.0 * tangent).abs() <= 0.005, "{degrees}°: {wedge}");
        let pitch = figures.get("pitch").unwrap().value;
        let shown = show_angle(pitch, 2, AngleStyle::Rise);
        assert!(shown.starts_with(rise), "{degrees}°: {shown}");
    }
}
