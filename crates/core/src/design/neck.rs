use serde::{Deserialize, Serialize};

use crate::units::Length;

/// The neck as seen from the side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Neck {
    /// Board surface to the back of the neck at fret 1.
    pub depth_first: Length,
    /// Board surface to the back of the neck where the heel begins.
    pub depth_heel: Length,
    /// How far before the joint the heel begins, along the board.
    pub heel_length: Length,
}
