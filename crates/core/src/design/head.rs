use serde::{Deserialize, Serialize};

use crate::units::{Angle, Length};

/// The headstock. Its face starts behind the nut and runs on toward the tip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// How the face lies.
    pub shape: HeadShape,
    /// Nut face to the start of the headstock's face, along the board.
    pub start: Length,
    /// How far the start of the face lies below the board surface.
    pub drop: Length,
    /// Length of the face, start to tip.
    pub length: Length,
    /// Thickness, square to the face.
    pub thickness: Length,
}

/// How the headstock's face lies to the board.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum HeadShape {
    /// Tilted back.
    Tilted {
        /// Angle between face and board, positive when the tip drops back.
        angle: Angle,
    },
    /// Parallel to the board, stepped down by the drop.
    Stepped,
}

impl HeadShape {
    /// The tilt; none for a stepped head.
    pub fn angle(&self) -> Angle {
        match self {
            Self::Tilted { angle } => *angle,
            Self::Stepped => Angle::degrees(0.0),
        }
    }
}
