//! Ways to put an outline together.

use kurbo::{BezPath, Point, Vec2};
use overstand_core::design::{Joint, JointKind};
use overstand_core::layout::{BodyPoint, Layout};

/// A point of the layout as a point of the drawing.
pub(crate) fn point(at: BodyPoint) -> Point {
    Point::new(at.x, at.y)
}

/// The middle of a screwed joint's screws, from the back: shank, point and shank again.
/// None where nothing is screwed.
pub(crate) fn screw(joint: &Joint, layout: &Layout) -> Option<[Point; 5]> {
    if joint.kind != JointKind::Screwed {
        return None;
    }
    let (x, half) = (joint.screw_station.to_mm(), joint.screw_diameter.to_mm() / 2.0);
    let back = layout.back(x);
    let tip = back + joint.screw_length.to_mm();
    Some([
        Point::new(x - half, back),
        Point::new(x - half, tip - half),
        Point::new(x, tip),
        Point::new(x + half, tip - half),
        Point::new(x + half, back),
    ])
}

/// An open line through points.
pub(crate) fn polyline(points: impl IntoIterator<Item = Point>) -> BezPath {
    let mut path = BezPath::new();
    for at in points {
        if path.elements().is_empty() {
            path.move_to(at);
        } else {
            path.line_to(at);
        }
    }
    path
}

/// A closed outline through points.
pub(crate) fn polygon(points: impl IntoIterator<Item = Point>) -> BezPath {
    let mut path = polyline(points);
    path.close_path();
    path
}

/// A closed outline whose corners are rounded, each starting at its own distance from
/// the corner (or half the side, where the side is short).
pub(crate) fn rounded(corners: &[(Point, f64)]) -> BezPath {
    let count = corners.len();
    let mut path = BezPath::new();
    for (i, &(corner, radius)) in corners.iter().enumerate() {
        let toward = |other: Point| {
            let way = other - corner;
            let length = way.hypot();
            if length > 0.0 { corner + way * (radius.min(length / 2.0) / length) } else { corner }
        };
        let start = toward(corners[(i + count - 1) % count].0);
        if i == 0 {
            path.move_to(start);
        } else {
            path.line_to(start);
        }
        if radius > 0.0 {
            path.quad_to(corner, toward(corners[(i + 1) % count].0));
        }
    }
    path.close_path();
    path
}

/// Continues a path along a parabola: exact when the coordinates of `at` are at most
/// quadratic between `from` and `to`, as those of an evenly bent neck are.
pub(crate) fn parabola_to(path: &mut BezPath, from: f64, to: f64, at: impl Fn(f64) -> Point) {
    let (start, middle, end) = (at(from), at(0.5 * (from + to)), at(to));
    let control = middle.to_vec2() * 2.0 - (start.to_vec2() + end.to_vec2()) * 0.5;
    path.quad_to(control.to_point(), end);
}

/// Continues a path to `end` with a curve that leaves along `leaving` and arrives along
/// `arriving` (unit vectors).
pub(crate) fn blend_to(path: &mut BezPath, leaving: Vec2, end: Point, arriving: Vec2) {
    let start = path.current_position().unwrap_or(end);
    let reach = 0.42 * (end - start).hypot();
    path.curve_to(start + leaving * reach, end - arriving * reach, end);
}

/// Spans a curve is cut into before each is looked at for flatness, so that no wave is
/// stepped over.
const FIRST_CUT: u32 = 24;
/// How far a chord may lie from the curve, mm: a tenth of the thinnest line on paper.
const FLATNESS: f64 = 0.01;
/// Halvings of one span at most; a corner is met to less than 1e-4 mm of X.
const DEEPEST: u32 = 16;

/// Points of the curve Y = z(X), close enough that no chord lies farther than
/// [`FLATNESS`] from it. `corners` are met exactly.
pub(crate) fn flatten(
    from: f64,
    to: f64,
    corners: impl IntoIterator<Item = f64>,
    z: impl Fn(f64) -> f64,
) -> Vec<Point> {
    let mut stations: Vec<f64> = (0..=FIRST_CUT)
        .map(|i| from + (to - from) * f64::from(i) / f64::from(FIRST_CUT))
        .chain(corners.into_iter().filter(|x| (from..=to).contains(x)))
        .collect();
    stations.sort_by(f64::total_cmp);
    stations.dedup();
    let at = |x: f64| Point::new(x, z(x));
    let mut points = vec![at(from)];
    for pair in stations.windows(2) {
        refine(at(pair[0]), at(pair[1]), DEEPEST, &at, &mut points);
    }
    straighten(points)
}

fn refine(a: Point, b: Point, depth: u32, at: &impl Fn(f64) -> Point, points: &mut Vec<Point>) {
    let middle = at(0.5 * (a.x + b.x));
    if depth > 0 && (middle.y - 0.5 * (a.y + b.y)).abs() > FLATNESS {
        refine(a, middle, depth - 1, at, points);
        refine(middle, b, depth - 1, at, points);
    } else {
        points.push(b);
    }
}

/// Leaves out points that lie on the straight line between their neighbours.
fn straighten(points: Vec<Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(points.len());
    for (i, &at) in points.iter().enumerate() {
        let straight = kept.last().zip(points.get(i + 1)).is_some_and(|(&before, &after)| {
            (at - before).cross(after - at).abs() <= 1e-9 * (after - before).hypot2()
        });
        if !straight {
            kept.push(at);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flattening_keeps_within_its_flatness_and_meets_corners() {
        let z = |x: f64| if x < 31.7 { 0.3 * x } else { 9.51 - 0.002 * (x - 31.7).powi(2) };
        let points = flatten(0.0, 120.0, [31.7], z);
        assert!(points.iter().any(|at| at.x == 31.7));
        for pair in points.windows(2) {
            for i in 0..=20 {
                let part = f64::from(i) / 20.0;
                let at = pair[0].lerp(pair[1], part);
                // a parabola strays farthest in the middle of a chord, where it was measured
                assert!((at.y - z(at.x)).abs() <= FLATNESS + 1e-12, "at {}", at.x);
            }
        }
        assert_eq!(flatten(0.0, 50.0, [], |_| 0.0).len(), 2);
    }

    #[test]
    fn a_parabola_is_met_exactly() {
        use kurbo::ParamCurve as _;
        let at = |u: f64| Point::new(u - 0.01 * u * u, 3.0 - 0.2 * u * u);
        let mut path = polyline([at(2.0)]);
        parabola_to(&mut path, 2.0, 9.0, at);
        let segment = path.segments().next().unwrap();
        for i in 0..=10 {
            let part = f64::from(i) / 10.0;
            // coordinates of some 20 mm: rounding stays below 1e-13
            assert!((segment.eval(part) - at(2.0 + 7.0 * part)).hypot() < 1e-13);
        }
    }
}
