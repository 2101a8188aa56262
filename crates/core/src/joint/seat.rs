use crate::dimension::{Dim, Values};
use crate::layout::{Real, Shape};

/// The neck's underside over the pocket's floor, along the centre line: what the joint's
/// relations are made of. Millimetres and radians, body frame.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Seat<D> {
    overstand: D,
    /// Pocket depth at the mouth, d_0.
    depth: D,
    /// Tenon length along the datum, ℓ.
    length: D,
    /// Length of the pocket, spare length included.
    pub(crate) pocket: D,
    /// Slope of the floor, φ.
    pub(crate) floor: D,
    /// tan θ, tan φ, and tan ρ of the end wall's rake.
    pitch_tan: D,
    floor_tan: D,
    rake_tan: D,
}

/// How a floor that is not free takes its angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FloorShape {
    Free,
    Top,
    Board,
}

impl<D: Real> Seat<D> {
    /// Given are sine and cosine of the pitch, which whoever asks has at hand.
    pub(crate) fn new(values: &Values<D>, shape: &Shape, (sin, cos): (D, D)) -> Self {
        let length = values[Dim::TenonLength];
        let pitch_tan = sin / cos;
        let (floor, floor_tan) = match shape.floor {
            FloorShape::Free => (values[Dim::Floor], values[Dim::Floor].tan()),
            FloorShape::Top => (D::from(0.0), D::from(0.0)),
            FloorShape::Board => (values[Dim::Pitch], pitch_tan),
        };
        Self {
            overstand: values[Dim::Overstand],
            depth: values[Dim::PocketDepth],
            length,
            pocket: length + values[Dim::SpareLength],
            floor,
            pitch_tan,
            floor_tan,
            rake_tan: values[Dim::WallRake].tan(),
        }
    }

    /// Y of the board's underside at X.
    pub(crate) fn underside(&self, x: D) -> D {
        self.overstand + x * self.pitch_tan
    }

    /// Y of the floor, which is the tenon's bottom, at X.
    pub(crate) fn bottom(&self, x: D) -> D {
        x * self.floor_tan - self.depth
    }

    /// τ(X): the tenon's depth square to the datum.
    pub(crate) fn below(&self, x: D) -> D {
        self.underside(x) - self.bottom(x)
    }

    /// k(s): the tenon's depth square to the board, s along the underside from X = 0:
    /// (o + d_0) cos φ/cos(θ - φ) + s tan(θ - φ), both worked out from the two tangents.
    pub(crate) fn square(&self, along: D) -> D {
        let deep = (self.overstand + self.depth) * self.over_cos();
        (deep + along * (self.pitch_tan - self.floor_tan)) / (self.pitch_tan * self.floor_tan + 1.0)
    }

    /// 1/cos θ.
    fn over_cos(&self) -> D {
        (self.pitch_tan * self.pitch_tan + 1.0).sqrt()
    }

    /// X of the end wall at Y: X = Y tan ρ.
    pub(crate) fn wall(&self, y: D) -> D {
        y * self.rake_tan
    }

    /// Where the end wall meets the floor (X, Y).
    pub(crate) fn mouth(&self) -> (D, D) {
        let y = -self.depth / (-self.rake_tan * self.floor_tan + 1.0);
        (self.wall(y), y)
    }

    /// Where the end wall's plane meets the board's underside (X, Y): the shoulder's top.
    pub(crate) fn shoulder_top(&self) -> (D, D) {
        let y = self.overstand / (-self.rake_tan * self.pitch_tan + 1.0);
        (self.wall(y), y)
    }

    /// The tenon's length along the underside.
    pub(crate) fn along_underside(&self) -> D {
        self.length * self.over_cos()
    }

    /// Depth of the pocket below the datum at X.
    pub(crate) fn deep(&self, x: D) -> D {
        -self.bottom(x)
    }
}

pub(crate) fn larger<D: Real>(a: D, b: D) -> D {
    if a.re() >= b.re() { a } else { b }
}

pub(crate) fn smaller<D: Real>(a: D, b: D) -> D {
    if a.re() <= b.re() { a } else { b }
}

/// The right-hand side of a relation of the joint, or none if it is no outcome of it.
pub(crate) fn outcome<D: Real>(
    outcome: Dim,
    values: &Values<D>,
    shape: &Shape,
    seat: &Seat<D>,
) -> Option<D> {
    let zero = D::from(0.0);
    let (pitch, base) = (values[Dim::Pitch], values[Dim::JigBase]);
    Some(match outcome {
        Dim::HeelThickness => seat.square(zero),
        Dim::TenonInner => seat.square(seat.along_underside()),
        Dim::DepthMouth => seat.below(zero),
        Dim::DepthInner => seat.below(seat.length),
        Dim::BottomAngle => pitch - seat.floor,
        Dim::FloorToBack => seat.floor + values[Dim::BodyTaper],
        Dim::DeepestCut => larger(seat.deep(seat.mouth().0), seat.deep(seat.pocket)),
        // the room lies square to the cheeks; without a dovetail the flank is 0
        Dim::PocketWidth => {
            values[Dim::TenonWidth] + values[Dim::GlueRoom] * 2.0 / values[Dim::Flank].cos()
        }
        Dim::PitchWedge => base * pitch.tan(),
        Dim::PitchStack => base * pitch.sin(),
        Dim::WoodUnder => {
            let taper = values[Dim::BodyTaper].tan();
            let wood = |x: D| values[Dim::BodyThickness] + x * taper - seat.deep(x);
            smaller(wood(seat.mouth().0), wood(seat.pocket))
        }
        Dim::ShoulderBears => values[Dim::Shoulder] - values[Dim::Overstand],
        Dim::BlankForHeel => {
            let foot = seat.shoulder_top().1 - values[Dim::Shoulder] * values[Dim::WallRake].cos();
            // how far a point lies below the underside, square to the board
            let under = |x: D, y: D| (seat.underside(x) - y) * pitch.cos();
            let (x, y) = seat.mouth();
            let deepest = larger(under(x, y), under(seat.length, seat.bottom(seat.length)));
            larger(under(seat.wall(foot), foot), deepest)
        }
        Dim::BlankForHead => {
            if shape.scarf {
                values[Dim::HeadThickness]
            } else {
                let angle = shape.head_angle(values);
                let rises = larger(values[Dim::BoardThickness] - values[Dim::HeadDrop], zero);
                let falls = values[Dim::HeadDrop]
                    + values[Dim::HeadLength] * angle.sin()
                    + values[Dim::HeadThickness] * angle.cos()
                    - values[Dim::BoardThickness];
                rises + larger(falls, zero)
            }
        }
        Dim::BlankLengthNeeded => {
            let angle = shape.head_angle(values);
            let head = values[Dim::HeadStart]
                + values[Dim::HeadLength] * angle.cos()
                + larger(values[Dim::HeadThickness] * angle.sin(), zero);
            let foot = seat.length * pitch.cos()
                + (seat.bottom(seat.length) - seat.overstand) * pitch.sin();
            shape.joint_from_nut(values) + larger(seat.along_underside(), foot) + head
        }
        _ => return None,
    })
}
