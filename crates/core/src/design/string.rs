use serde::{Deserialize, Serialize};

use crate::units::Length;

/// One string: where it lies. String 1, the first of the list, is the treble.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct InstrumentString {
    /// Its note or whatever the maker calls it.
    pub name: String,
    /// Distance from the centre line at the nut face, positive on the treble side.
    pub nut_place: Length,
    /// Distance from the centre line at the bridge line, positive on the treble side.
    pub crest_place: Length,
    /// How far its crest lies beyond the middle crest, positive toward the tail.
    #[serde(default)]
    pub crest_offset: Length,
    /// Distance of its post from the start of the headstock's face.
    pub post: Length,
    /// Height of the string over the headstock's face where it meets the post.
    pub post_height: Length,
    /// A bar, tree or the like that holds it down between nut and post.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retainer: Option<Retainer>,
}

/// Something that holds a string down between nut and post.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Retainer {
    /// Distance from the start of the headstock's face.
    pub along: Length,
    /// Height of the string over the face beneath it.
    pub height: Length,
}
