use serde::{Deserialize, Serialize};

use crate::units::{Angle, Length};

/// Where and how the neck meets the body, and what is left on while it is fitted.
///
/// What a design file of an earlier day lacks takes the usual value (common practice, no
/// source).
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
    /// How the pocket's floor lies.
    #[serde(default)]
    pub floor_kind: FloorKind,
    /// Slope of the pocket's floor against the datum, positive when it rises
    /// toward its inner end. Unless the floor is free it follows from its kind.
    pub floor: Angle,
    /// Length of the shoulder down the end wall, from the board's underside.
    pub shoulder: Length,
    /// Rake of the body's end wall from square to the datum, positive when its foot
    /// reaches farther toward the head than its top.
    #[serde(default)]
    pub wall_rake: Angle,
    /// Width of the tenon at the mouth.
    #[serde(default = "Joint::usual_width")]
    pub tenon_width: Length,
    /// Room for glue at each cheek.
    #[serde(default = "Joint::usual_glue_room")]
    pub glue_room: Length,
    /// What is left on the cheeks when they are roughed, in all.
    #[serde(default = "Joint::usual_rough")]
    pub rough_cheeks: Length,
    /// How much longer than the tenon the pocket is left: recutting the shoulder uses it.
    #[serde(default = "Joint::usual_spare")]
    pub spare_length: Length,
    /// Length of a wedge under the board's end; 0 for none.
    #[serde(default)]
    pub wedge_length: Length,
    /// Height of that wedge at the board's end.
    #[serde(default)]
    pub wedge_height: Length,
    /// Diameter of the cutter that clears the pocket: it rounds the inner corners.
    #[serde(default = "Joint::usual_cutter")]
    pub cutter_diameter: Length,
    /// How deep that cutter reaches below the datum.
    #[serde(default = "Joint::usual_reach")]
    pub cutter_reach: Length,
    /// Length of the base over which a jig's wedge or stack is made.
    #[serde(default = "Joint::usual_base")]
    pub jig_base: Length,
    /// Screws through the pocket's floor; of a screwed neck only.
    #[serde(default = "Joint::usual_screw_count")]
    pub screw_count: u8,
    /// Distance of the middle of the screws from the joint.
    #[serde(default = "Joint::usual_screw_station")]
    pub screw_station: Length,
    /// Diameter of a screw.
    #[serde(default = "Joint::usual_screw_diameter")]
    pub screw_diameter: Length,
    /// Length of a screw under its head.
    #[serde(default = "Joint::usual_screw_length")]
    pub screw_length: Length,
}

impl Joint {
    pub(crate) const fn usual_width() -> Length {
        Length::mm(45.0)
    }
    pub(crate) const fn usual_glue_room() -> Length {
        Length::mm(0.1)
    }
    pub(crate) const fn usual_rough() -> Length {
        Length::mm(4.0)
    }
    pub(crate) const fn usual_spare() -> Length {
        Length::mm(10.0)
    }
    pub(crate) const fn usual_cutter() -> Length {
        Length::mm(12.0)
    }
    pub(crate) const fn usual_reach() -> Length {
        Length::mm(50.0)
    }
    pub(crate) const fn usual_base() -> Length {
        Length::mm(100.0)
    }
    pub(crate) const fn usual_screw_count() -> u8 {
        4
    }
    pub(crate) const fn usual_screw_station() -> Length {
        Length::mm(38.0)
    }
    pub(crate) const fn usual_screw_diameter() -> Length {
        Length::mm(4.5)
    }
    pub(crate) const fn usual_screw_length() -> Length {
        Length::mm(45.0)
    }

    /// Radius that the cutter leaves in the pocket's inner corners, seen from above, and
    /// that the tenon's inner end takes.
    pub fn corner_radius(&self) -> Length {
        self.cutter_diameter / 2.0
    }
}

/// How neck and body are joined.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum JointKind {
    /// A straight tenon glued into a pocket.
    Tenon,
    /// A tenon that widens toward its inner end.
    Dovetail {
        /// Angle of each cheek against the centre line.
        flank: Angle,
    },
    /// A heel screwed into an open pocket.
    Screwed,
    /// The neck runs through the body.
    Through,
}

/// How the pocket's floor lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum FloorKind {
    /// At an angle of its own.
    #[default]
    Free,
    /// Parallel to the top datum.
    ParallelToTop,
    /// Parallel to the board: it takes the pitch.
    ParallelToBoard,
}
