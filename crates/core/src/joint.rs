//! The joint in section, and how its angles are set at the bench.
//!
//! Millimetres and radians; body frame. The floor is positive when it rises toward the
//! inner end, as the pitch is when the board rises toward the bridge.

use crate::design::Design;
use crate::layout::{BodyPoint, Layout};

/// Tenon and shoulder in true section along the centre line, walls square to the datum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointSection {
    /// The tenon: shoulder's top, lower front corner, lower inner corner, top of the butt.
    pub tenon: [BodyPoint; 4],
    /// Foot of the shoulder on the end wall.
    pub shoulder_foot: BodyPoint,
    /// Depth of the tenon below the board's underside at the mouth and at the inner end,
    /// square to the datum.
    pub depth_square_to_datum: (f64, f64),
    /// The same square to the board, from the top of the shoulder and of the butt.
    pub depth_square_to_board: (f64, f64),
    /// Length of the tenon along the board's underside.
    pub along_underside: f64,
    /// Length of the tenon along its bottom.
    pub along_bottom: f64,
    /// Tenon bottom against the board's underside, θ - φ.
    pub bottom_to_underside: f64,
    /// Shoulder and butt against the board's underside, in the wood, 90° - θ.
    pub face_to_underside: f64,
}

impl JointSection {
    /// The joint of a design as it lies unstrung.
    ///
    /// With pocket depth d_0 at the mouth and floor φ, the tenon is
    /// τ(X) = o + d_0 + X (tan θ - tan φ) deep square to the datum, and
    /// k(s) = (o + d_0) cos φ/cos(θ - φ) + s tan(θ - φ) square to the board, s along the
    /// underside.
    pub fn of(design: &Design, layout: &Layout) -> Self {
        let joint = &design.joint;
        let (overstand, depth) = (joint.overstand.to_mm(), joint.pocket_depth.to_mm());
        let (length, shoulder) = (joint.tenon_length.to_mm(), joint.shoulder.to_mm());
        let (pitch, floor) = (layout.pitch, joint.floor.radians());
        let underside = |x: f64| BodyPoint { x, y: overstand + x * pitch.tan() };
        let bottom = |x: f64| BodyPoint { x, y: x * floor.tan() - depth };
        let below = |x: f64| underside(x).y - bottom(x).y;
        let along_underside = length / pitch.cos();
        let square = |along: f64| {
            (overstand + depth) * floor.cos() / (pitch - floor).cos()
                + along * (pitch - floor).tan()
        };
        Self {
            tenon: [underside(0.0), bottom(0.0), bottom(length), underside(length)],
            shoulder_foot: BodyPoint { x: 0.0, y: overstand - shoulder },
            depth_square_to_datum: (below(0.0), below(length)),
            depth_square_to_board: (square(0.0), square(along_underside)),
            along_underside,
            along_bottom: length / floor.cos(),
            bottom_to_underside: pitch - floor,
            face_to_underside: std::f64::consts::FRAC_PI_2 - pitch,
        }
    }
}

/// Rise of a wedge over its base: base · tan angle.
pub fn wedge_rise(base: f64, angle: f64) -> f64 {
    base * angle.tan()
}

/// Height of the stack under one end of a bar of this length that sets it to the angle:
/// length · sin angle.
///
/// # Source
/// The sine bar of the machinist's handbooks.
pub fn stack_under_bar(length: f64, angle: f64) -> f64 {
    length * angle.sin()
}
