//! Where wood comes off or goes on, as sections in the body frame.

use super::correction::{TRIM, Wood};
use super::pose::{Bench, Closing, Cut, Pose};
use crate::layout::BodyPoint;

/// The wood of a correction, on the joint as it stands before it.
pub(super) fn of(bench: &Bench, pose: &Pose<f64>, cut: &Cut, closing: &Closing) -> Vec<Wood> {
    let mut all = Vec::new();
    seat(bench, pose, cut, &mut all);
    shoulder(bench, pose, cut, closing, &mut all);
    board(bench, pose, cut, &mut all);
    all
}

fn at(x: f64, y: f64) -> BodyPoint {
    BodyPoint { x, y }
}

/// Between the seat as it is and as it shall be.
fn seat(bench: &Bench, pose: &Pose<f64>, cut: &Cut, all: &mut Vec<Wood>) {
    let length = bench.tenon_length();
    let (low, high) = (-pose.depth, -pose.depth + length * pose.floor.tan());
    let mut put = |corners: Vec<BodyPoint>, on: bool, x: f64, y: f64, thickness: f64| {
        let name = if on { "Put on the seat" } else { "Off the seat" };
        let thickest = [at(x, y), at(x, y + thickness)];
        all.push(Wood { name, on, corners, thickest, thickness: thickness.abs() });
    };
    let (mouth, inner) = (cut.mouth, cut.inner);
    let ends = [at(0.0, low), at(length, high), at(length, high + inner), at(0.0, low + mouth)];
    if mouth * inner < 0.0 {
        // off at one end and on at the other: the old and the new seat cross
        let cross = length * mouth / (mouth - inner);
        let crossing = at(cross, low + cross * pose.floor.tan());
        put(vec![ends[0], crossing, ends[3]], mouth > 0.0, 0.0, low, mouth);
        put(vec![crossing, ends[1], ends[2]], inner > 0.0, length, high, inner);
    } else if mouth != 0.0 || inner != 0.0 {
        let on = mouth + inner > 0.0;
        if mouth.abs() >= inner.abs() {
            put(ends.to_vec(), on, 0.0, low, mouth);
        } else {
            put(ends.to_vec(), on, length, high, inner);
        }
    }
}

/// The neck's wood before its shoulder, which lies at the end wall.
fn shoulder(bench: &Bench, pose: &Pose<f64>, cut: &Cut, closing: &Closing, all: &mut Vec<Wood>) {
    let rake = bench.values[crate::dimension::Dim::WallRake];
    let (sin, cos) = rake.sin_cos();
    let top = {
        let y = pose.overstand / (1.0 - rake.tan() * pose.pitch.tan());
        at(y * rake.tan(), y)
    };
    let foot = at(top.x - bench.shoulder() * sin, top.y - bench.shoulder() * cos);
    // into the neck, square to the wall
    let into = |from: BodyPoint, by: f64| at(from.x - by * cos, from.y + by * sin);
    let mut put = |name, corners: Vec<BodyPoint>, thickest: [BodyPoint; 2], thickness: f64| {
        if thickness > TRIM {
            all.push(Wood { name, on: false, corners, thickest, thickness });
        }
    };
    let trimmed = [(closing.top_off, top, foot), (closing.foot_off, foot, top)];
    for (off, thick, thin) in trimmed {
        let name = if thick == top { "Off the shoulder's top" } else { "Off the shoulder's foot" };
        let inside = into(thick, off);
        put(name, vec![thick, thin, inside], [thick, inside], off);
    }
    let by = cut.recut * cos;
    let back = [into(top, by), into(foot, by)];
    put("Off the shoulder", vec![top, foot, back[1], back[0]], [top, back[0]], cut.recut);
}

fn board(bench: &Bench, pose: &Pose<f64>, cut: &Cut, all: &mut Vec<Wood>) {
    if cut.board == 0.0 {
        return;
    }
    let (sin, cos) = pose.pitch.sin_cos();
    let end = bench.cut.board.end.to_mm();
    // a point of the unstrung neck; v over the surface
    let point = |u: f64, v: f64| {
        let (along, up) = (u - pose.joint, v + pose.board);
        at(along * cos - up * sin, pose.overstand + along * sin + up * cos)
    };
    let on = cut.board > 0.0;
    let near = pose.joint - bench.cut.neck.heel_length.to_mm();
    all.push(Wood {
        name: if on { "Thicker board" } else { "Off the board" },
        on,
        corners: vec![
            point(near, 0.0),
            point(end, 0.0),
            point(end, cut.board),
            point(near, cut.board),
        ],
        thickest: [point(end, 0.0), point(end, cut.board)],
        thickness: cut.board.abs(),
    });
}
