use serde::{Deserialize, Serialize};

use crate::units::{Angle, Length};

/// Where and how the neck meets the body.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// How it is joined.
    pub kind: JointKind,
    /// The fret above the joint.
    pub fret: u8,
    /// How far the joint lies beyond that fret, positive toward the bridge.
    #[serde(default)]
    pub offset: Length,
    /// Height of the board's underside above the top datum at the joint.
    pub overstand: Length,
    /// Angle between the unstrung, straight board and the top datum, positive
    /// when the board rises toward the bridge.
    pub pitch: Angle,
    /// Length of the tenon along the datum.
    pub tenon_length: Length,
    /// Depth of the pocket at its mouth, below the datum.
    pub pocket_depth: Length,
    /// Slope of the pocket's floor against the datum, positive when it rises
    /// toward its inner end.
    pub floor: Angle,
    /// Length of the shoulder down the end wall, from the board's underside.
    pub shoulder: Length,
}

/// How neck and body are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum JointKind {
    /// A tenon glued into a pocket.
    Tenon,
    /// A heel screwed into an open pocket.
    Screwed,
    /// The neck runs through the body.
    Through,
}
