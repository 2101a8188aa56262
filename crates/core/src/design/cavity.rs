use serde::{Deserialize, Serialize};

use crate::units::Length;

/// A recess in the body, cut from the top: for a pickup or for the controls.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cavity {
    /// Which one.
    pub name: String,
    /// Distance of its end toward the joint from the joint (body X).
    pub from: Length,
    /// Distance of its end toward the tail from the joint.
    pub to: Length,
    /// Depth of its bottom below the top datum.
    pub depth: Length,
}
