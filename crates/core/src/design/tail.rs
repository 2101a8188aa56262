use serde::{Deserialize, Serialize};

use crate::units::Length;

/// Where the strings end behind the bridge. Heights are over the top there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Tail {
    /// Anchored in the bridge itself.
    AtBridge {
        /// Crest to anchor, along the datum.
        behind: Length,
        /// Height of the anchor.
        height: Length,
    },
    /// A tailpiece on the body that can be raised and lowered.
    Stop {
        /// Distance of its edge from the joint (body X).
        station: Length,
        /// Height of that edge.
        height: Length,
        /// Lowest height.
        low: Length,
        /// Highest height.
        high: Length,
    },
    /// Through the body: the strings come out of the top.
    Through {
        /// Crest to hole, along the datum.
        behind: Length,
    },
    /// A tailpiece hung from the body's end.
    Hung {
        /// Distance of its edge from the joint (body X).
        station: Length,
        /// Height of that edge.
        height: Length,
    },
    /// Wrapped over the bridge: no tail, and no break angle of its own.
    Wrapped,
}
