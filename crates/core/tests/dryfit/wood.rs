//! The neck as wood that lies on a seat and against a wall, apart from the program's own way
//! of reckoning with it.

use overstand_core::design::Design;
use overstand_core::dryfit::{Correction, Cut};
use overstand_core::study::Study;

/// A point (u along the underside, depth below it), and in the body (X, Y).
pub(crate) type Pair = (f64, f64);

/// The neck as wood, and the body as wood.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Joint {
    /// Of the neck: shoulder's top and foot, and two points of the tenon's bottom.
    pub(crate) top: Pair,
    pub(crate) foot: Pair,
    pub(crate) bottom: [Pair; 2],
    /// Of the body: the seat's heights at X = 0 and X = ℓ, and the wall's slope.
    pub(crate) seat: Pair,
    pub(crate) length: f64,
    pub(crate) rake: f64,
}

/// Where the neck lies: a point of it goes to `at + turn (u, -depth)`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lies {
    at: Pair,
    pub(crate) turn: f64,
}

impl Lies {
    pub(crate) fn body(self, (u, deep): Pair) -> Pair {
        let (sin, cos) = self.turn.sin_cos();
        (self.at.0 + u * cos + deep * sin, self.at.1 + u * sin - deep * cos)
    }

    /// Pitch, overstand at X = 0, and u there.
    pub(crate) fn line(self) -> (f64, f64, f64) {
        let u = -self.at.0 / self.turn.cos();
        (self.turn, self.at.1 + u * self.turn.sin(), u)
    }
}

impl Joint {
    /// The wood as it is planned.
    pub(crate) fn planned(design: &Design) -> Self {
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
    pub(crate) fn home(&self) -> (Lies, f64, f64) {
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
    pub(crate) fn cut(mut self, correction: &Correction) -> Self {
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
