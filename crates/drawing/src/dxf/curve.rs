//! Paths as the pieces that a DXF knows: straight pieces, true arcs, and curves.

use kurbo::{BezPath, ParamCurve as _, PathEl, PathSeg, Point, Vec2};

/// Farthest a chord lies from a curve that is written as straight pieces, mm.
const FLAT: f64 = 0.01;
/// Farthest a curve may stray from a circle to be written as an arc of it, mm.
const ROUND: f64 = 1e-3;

/// A corner, and how the way to the next one bulges: the tangent of a quarter of the angle
/// of the arc, positive when it turns counter-clockwise, 0 when straight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    pub(super) at: Point,
    pub(super) bulge: f64,
}

/// A piece of a path.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Piece {
    /// Straight pieces and arcs through corners.
    Polyline { corners: Vec<Corner>, closed: bool },
    /// A Bézier curve with its control points, of degree 2 or 3.
    Curve(Vec<Point>),
}

/// How much a target knows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Knows {
    pub(super) arcs: bool,
    pub(super) curves: bool,
}

/// A path in pieces.
pub(super) fn pieces(path: &BezPath, knows: Knows) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut corners: Vec<Corner> = Vec::new();
    let mut start = Point::ZERO;
    let mut last = Point::ZERO;
    let mut split = false;
    for element in path.elements() {
        let segment = match *element {
            PathEl::MoveTo(at) => {
                finish(&mut corners, &mut pieces, false);
                (start, last, split) = (at, at, false);
                continue;
            }
            PathEl::ClosePath => {
                if split || corners.len() < 2 {
                    // not all in one polyline: close it by a straight piece
                    if last.distance(start) > 1e-9 {
                        push(&mut corners, last, 0.0);
                        push(&mut corners, start, 0.0);
                    }
                    finish(&mut corners, &mut pieces, false);
                } else {
                    if corners.last().is_some_and(|corner| corner.at.distance(start) < 1e-9) {
                        corners.pop();
                    }
                    finish(&mut corners, &mut pieces, true);
                }
                (last, split) = (start, false);
                continue;
            }
            PathEl::LineTo(at) => PathSeg::Line(kurbo::Line::new(last, at)),
            PathEl::QuadTo(a, b) => PathSeg::Quad(kurbo::QuadBez::new(last, a, b)),
            PathEl::CurveTo(a, b, c) => PathSeg::Cubic(kurbo::CubicBez::new(last, a, b, c)),
        };
        let end = segment.end();
        match as_bulge(&segment).filter(|bulge| *bulge == 0.0 || knows.arcs) {
            Some(bulge) => {
                push(&mut corners, last, bulge);
                push(&mut corners, end, 0.0);
            }
            None if knows.curves => {
                finish(&mut corners, &mut pieces, false);
                split = true;
                pieces.push(Piece::Curve(match segment {
                    PathSeg::Line(line) => vec![line.p0, line.p1],
                    PathSeg::Quad(quad) => vec![quad.p0, quad.p1, quad.p2],
                    PathSeg::Cubic(cubic) => vec![cubic.p0, cubic.p1, cubic.p2, cubic.p3],
                }));
            }
            None => {
                let curve = BezPath::from_path_segments(std::iter::once(segment));
                push(&mut corners, last, 0.0);
                kurbo::flatten(curve.elements().iter().copied(), FLAT, |element| {
                    if let PathEl::LineTo(at) = element {
                        push(&mut corners, at, 0.0);
                    }
                });
            }
        }
        last = end;
    }
    finish(&mut corners, &mut pieces, false);
    pieces
}

/// Adds a corner; one that is there already takes the bulge.
fn push(corners: &mut Vec<Corner>, at: Point, bulge: f64) {
    match corners.last_mut() {
        Some(corner) if corner.at.distance(at) < 1e-9 => corner.bulge = bulge,
        _ => corners.push(Corner { at, bulge }),
    }
}

fn finish(corners: &mut Vec<Corner>, pieces: &mut Vec<Piece>, closed: bool) {
    let corners = std::mem::take(corners);
    if corners.len() >= 2 {
        pieces.push(Piece::Polyline { corners, closed });
    }
}

/// The bulge of a segment that is straight or an arc of a circle; none for other curves.
fn as_bulge(segment: &PathSeg) -> Option<f64> {
    let cubic = match segment {
        PathSeg::Line(_) => return Some(0.0),
        PathSeg::Quad(quad) => quad.raise(),
        PathSeg::Cubic(cubic) => *cubic,
    };
    let (start, end) = (cubic.p0, cubic.p3);
    let chord = end - start;
    let length = chord.hypot();
    if length < 1e-9 {
        return None;
    }
    let straight = |at: Point| ((at - start).cross(chord) / length).abs() < 1e-9;
    if straight(cubic.p1) && straight(cubic.p2) {
        return Some(0.0);
    }
    // through the ends and the middle; then every point must lie on that circle
    let sagitta = chord.cross(cubic.eval(0.5) - start) / length;
    let bulge = -2.0 * sagitta / length;
    if bulge.abs() < 1e-9 {
        return None;
    }
    let radius = length * (1.0 + bulge * bulge) / (4.0 * bulge);
    let left = Vec2::new(-chord.y, chord.x) / length;
    let centre = start.midpoint(end) + left * (radius + sagitta);
    let round = (0..=12).all(|i| {
        let off = (cubic.eval(f64::from(i) / 12.0) - centre).hypot() - radius.abs();
        off.abs() < ROUND
    });
    round.then_some(bulge)
}

#[cfg(test)]
mod tests {
    use kurbo::{Arc, Circle, Shape as _};

    use super::*;
    use crate::outline::{polygon, rounded};

    const ALL: Knows = Knows { arcs: true, curves: true };

    #[test]
    fn an_arc_stays_an_arc_whichever_way_it_turns() {
        for sweep in [1.1, -1.1, 0.2, -2.9] {
            let arc = Arc::new((10.0, -3.0), (305.0, 305.0), 0.7, sweep, 0.0);
            let path = arc.to_path(1e-6);
            let pieces = pieces(&path, ALL);
            let [Piece::Polyline { corners, closed: false }] = pieces.as_slice() else {
                panic!("{pieces:?}");
            };
            let turned: f64 = corners.iter().map(|corner| 4.0 * corner.bulge.atan()).sum();
            // the cubics follow the circle within 1e-6 of 305 mm
            assert!((turned - sweep).abs() < 1e-6, "{turned} for {sweep}");
        }
    }

    #[test]
    fn a_circle_is_closed_and_a_parabola_no_arc() {
        let circle = Circle::new((5.0, 5.0), 2.0).to_path(1e-4);
        assert!(matches!(pieces(&circle, ALL)[..], [Piece::Polyline { closed: true, .. }]));
        let corner = rounded(&[
            (Point::ZERO, 3.0),
            (Point::new(40.0, 0.0), 0.0),
            (Point::new(40.0, 30.0), 0.0),
        ]);
        let pieces = pieces(&corner, ALL);
        assert!(
            pieces.iter().any(|piece| matches!(piece, Piece::Curve(points) if points.len() == 3))
        );
    }

    #[test]
    fn a_polygon_is_one_closed_polyline() {
        let path = polygon([(0.0, 0.0), (4.0, 0.0), (4.0, 3.0)].map(Point::from));
        let Piece::Polyline { corners, closed: true } = &pieces(&path, ALL)[0] else {
            panic!("not closed");
        };
        assert_eq!(corners.len(), 3);
    }

    #[test]
    fn straight_pieces_keep_near_the_curve() {
        let arc = Arc::new((0.0, 0.0), (60.0, 60.0), 0.0, 2.0, 0.0).to_path(1e-6);
        let plain = pieces(&arc, Knows { arcs: false, curves: false });
        let [Piece::Polyline { corners, .. }] = plain.as_slice() else {
            panic!("{plain:?}");
        };
        for pair in corners.windows(2) {
            let middle = pair[0].at.midpoint(pair[1].at).to_vec2().hypot();
            assert!((middle - 60.0).abs() <= FLAT + 1e-6, "{middle}");
        }
    }
}
