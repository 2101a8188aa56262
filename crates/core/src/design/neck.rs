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
    /// Width of the neck at the nut.
    #[serde(default = "Neck::usual_width_nut")]
    pub width_nut: Length,
    /// Width of the neck at the joint.
    #[serde(default = "Neck::usual_width_heel")]
    pub width_heel: Length,
    /// Thickness of the blank at hand; 0 when there is none yet.
    #[serde(default)]
    pub blank_thickness: Length,
    /// Length of the blank at hand; 0 when there is none yet.
    #[serde(default)]
    pub blank_length: Length,
    /// How the headstock comes out of the blank.
    #[serde(default)]
    pub head_from: HeadFrom,
    /// Depth of the rod's channel below the neck's glue face; 0 for no rod.
    #[serde(default)]
    pub rod_depth: Length,
    /// Width of the rod's channel.
    #[serde(default = "Neck::usual_rod_width")]
    pub rod_width: Length,
    /// Nut face to where the channel starts; negative when it starts in the headstock.
    #[serde(default)]
    pub rod_start: Length,
    /// Nut face to where the channel ends.
    #[serde(default = "Neck::usual_rod_end")]
    pub rod_end: Length,
}

impl Neck {
    pub(crate) const fn usual_width_nut() -> Length {
        Length::mm(43.0)
    }
    pub(crate) const fn usual_width_heel() -> Length {
        Length::mm(56.0)
    }
    pub(crate) const fn usual_rod_width() -> Length {
        Length::mm(6.0)
    }
    pub(crate) const fn usual_rod_end() -> Length {
        Length::mm(360.0)
    }
}

/// How the headstock comes out of the blank.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum HeadFrom {
    /// Neck and headstock from one piece.
    #[default]
    OnePiece,
    /// A scarf joint turns the headstock back.
    Scarf,
}
