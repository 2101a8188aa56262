use serde::{Deserialize, Serialize};

use crate::units::Length;

/// How the instrument shall play.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wanted {
    /// Action of the lowest string (last of the list).
    pub action_bass: Length,
    /// Action of the treble string (first of the list).
    pub action_treble: Length,
    /// The fret over which action is read.
    #[serde(default = "usual_action_fret")]
    pub action_fret: u8,
    /// Clearance of the lowest string over fret 1.
    pub first_fret_bass: Length,
    /// Clearance of the treble string over fret 1.
    pub first_fret_treble: Length,
    /// Relief of the strung neck.
    pub relief: Length,
    /// First fret of the straightedge that relief is read under.
    #[serde(default = "usual_relief_from")]
    pub relief_from: u8,
    /// Last fret of the straightedge that relief is read under; 0 for the joint fret.
    #[serde(default)]
    pub relief_to: u8,
    /// Where the strings are plucked, from the saddle.
    #[serde(default = "usual_pluck_place")]
    pub pluck_place: Length,
    /// How far a string shall move there without touching a fret, either way.
    #[serde(default = "usual_pluck_travel")]
    pub pluck_travel: Length,
}

fn usual_pluck_place() -> Length {
    Wanted::USUAL_PLUCK_PLACE
}

fn usual_pluck_travel() -> Length {
    Wanted::USUAL_PLUCK_TRAVEL
}

impl Wanted {
    /// Where a string is plucked unless said otherwise (common practice, no source).
    pub(crate) const USUAL_PLUCK_PLACE: Length = Length::mm(110.0);
    /// How far it moves there unless said otherwise: a light touch (common practice, no
    /// source).
    pub(crate) const USUAL_PLUCK_TRAVEL: Length = Length::mm(0.4);
}

fn usual_action_fret() -> u8 {
    12
}

fn usual_relief_from() -> u8 {
    1
}

/// The range of one check. Beyond `fails_*` it fails; between `fails_*` and
/// `thin_*` it is thin. A side that is not given has no limit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// At or below this it fails.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fails_below: Option<f64>,
    /// Below this it is thin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thin_below: Option<f64>,
    /// Above this it is thin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thin_above: Option<f64>,
    /// At or above this it fails.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fails_above: Option<f64>,
}
