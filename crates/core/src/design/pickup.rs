use serde::{Deserialize, Serialize};

use crate::units::Length;

/// A pickup under the strings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pickup {
    /// Which one.
    pub name: String,
    /// Distance of its middle from the joint (body X); negative before it.
    pub station: Length,
    /// Height of its face over the top there.
    pub height: Length,
}
