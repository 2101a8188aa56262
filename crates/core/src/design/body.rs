use serde::{Deserialize, Serialize};

use crate::units::{Angle, Length};

/// The body as seen from the side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Body {
    /// Joint to tail end, along the top datum.
    pub length: Length,
    /// Depth at the joint, top datum to back.
    pub thickness: Length,
    /// The back's slope against the datum, positive when the body gets deeper
    /// toward the tail.
    #[serde(default)]
    pub taper: Angle,
    /// The top along the centre line.
    pub top: Top,
    /// How much pitch the neck loses when the strings pull.
    #[serde(default)]
    pub pitch_lost: Angle,
    /// How much the top rises at the bridge when the strings pull.
    #[serde(default)]
    pub top_rise: Length,
}

/// The body's top along the centre line, as a height z over the top datum.
/// At the joint (X = 0) it is 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Top {
    /// It is the datum itself.
    Flat,
    /// Planed to a slope under the board, then level.
    Ramp {
        /// Slope against the datum, positive when it rises toward the bridge.
        angle: Angle,
        /// How far it reaches from the joint.
        length: Length,
    },
    /// Carved, given by points; between them a natural cubic spline. Nothing is
    /// guessed beyond the last point.
    Arch {
        /// At least three, X rising, the first at the joint with z = 0.
        points: Vec<ArchPoint>,
    },
    /// Part of a sphere.
    Dome {
        /// Its radius.
        radius: Length,
        /// X of its highest point.
        apex: Length,
    },
}

/// A measured point of an arched top.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ArchPoint {
    /// Distance from the joint along the datum.
    pub x: Length,
    /// Height over the datum.
    pub z: Length,
}
