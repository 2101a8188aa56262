use serde::{Deserialize, Serialize};

use crate::units::Length;

/// The bridge by what it does.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bridge {
    /// How it carries the strings, and over what range of heights.
    pub kind: BridgeKind,
    /// Height of the middle crest, along Y over the top's profile.
    pub crest_height: Length,
    /// Distance of the middle crest from the joint, along the datum (body X).
    pub station: Length,
    /// How far the middle crest lies beyond the scale length, along the board.
    pub compensation: Length,
    /// How far each saddle can be moved along its string in all, half of it
    /// either way from the station; 0 for a fixed one.
    #[serde(default)]
    pub travel: Length,
    /// Length of the bridge along the string, front to back, crest in its middle.
    pub base: Length,
    /// Height of the bridge's rear edge over the top.
    pub edge_height: Length,
}

/// How a bridge carries the strings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum BridgeKind {
    /// A plate with a saddle for each string.
    Plate {
        /// Lowest crest height.
        crest_low: Length,
        /// Highest crest height.
        crest_high: Length,
    },
    /// Two posts carry one crest with a radius of its own.
    Posts {
        /// Crest height with the bridge at its lowest, at the middle of the crest.
        crest_low: Length,
        /// Crest height with the bridge at its highest, at the middle of the crest.
        crest_high: Length,
        /// Radius of the crest across the strings.
        crest_radius: Length,
        /// Distance between the posts.
        post_spread: Length,
    },
    /// The strings are wrapped over a bridge that is the tail as well.
    Wrapped {
        /// Crest height with the bridge at its lowest, at the middle of the crest.
        crest_low: Length,
        /// Crest height with the bridge at its highest, at the middle of the crest.
        crest_high: Length,
        /// Radius of the crest across the strings.
        crest_radius: Length,
        /// Distance between the posts.
        post_spread: Length,
    },
    /// It stands free on an arched top, its foot square to the top.
    Floating {
        /// Height of the crest over its feet with the bridge at its lowest.
        crest_low: Length,
        /// Height of the crest over its feet with the bridge at its highest.
        crest_high: Length,
        /// Radius of the crest across the strings.
        crest_radius: Length,
        /// Distance between the two adjusters.
        post_spread: Length,
    },
    /// Glued to the top, with a saddle in a slot, filed for each string.
    Glued {
        /// Thickness of the bridge.
        thickness: Length,
        /// Least of the saddle that shall show above the bridge.
        saddle_low: Length,
        /// Most of the saddle that may show above the bridge.
        saddle_high: Length,
    },
}

impl BridgeKind {
    /// The range of crest heights.
    pub fn crest_range(&self) -> (Length, Length) {
        match self {
            Self::Plate { crest_low, crest_high }
            | Self::Posts { crest_low, crest_high, .. }
            | Self::Wrapped { crest_low, crest_high, .. }
            | Self::Floating { crest_low, crest_high, .. } => (*crest_low, *crest_high),
            Self::Glued { thickness, saddle_low, saddle_high } => {
                (*thickness + *saddle_low, *thickness + *saddle_high)
            }
        }
    }

    /// Radius and spread of the posts of a crest shared by all strings; none
    /// where each string has its own.
    pub fn shared_crest(&self) -> Option<(Length, Length)> {
        match self {
            Self::Posts { crest_radius, post_spread, .. }
            | Self::Wrapped { crest_radius, post_spread, .. }
            | Self::Floating { crest_radius, post_spread, .. } => {
                Some((*crest_radius, *post_spread))
            }
            Self::Plate { .. } | Self::Glued { .. } => None,
        }
    }
}
