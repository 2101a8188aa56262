use serde::{Deserialize, Serialize};

use super::Note;
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
    /// What it is tuned to. Without it nothing is said about its tension.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Note>,
    /// Its outer diameter. Without it nothing is said about its tension.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gauge: Option<Length>,
    /// How it is made.
    #[serde(default, skip_serializing_if = "StringMake::is_usual")]
    pub make: StringMake,
}

/// How a string is made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum StringMake {
    /// One wire or filament, as thick as the gauge.
    Plain {
        /// What it is made of.
        #[serde(default)]
        material: Material,
    },
    /// Round wire wound close on a core. The outermost wrap is as thick as the gauge
    /// leaves room for.
    Wound {
        /// Diameter of the core; of a hexagonal one across its flats.
        core: Length,
        /// Section of the core.
        #[serde(default)]
        section: CoreSection,
        /// What the core is made of.
        #[serde(default)]
        core_material: Material,
        /// What the outermost wrap is made of.
        wrap: Material,
        /// Wraps beneath it, from the core outward.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        inner: Vec<Wrap>,
    },
}

impl StringMake {
    /// A plain steel string, which need not be said.
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

impl Default for StringMake {
    fn default() -> Self {
        Self::Plain { material: Material::Steel }
    }
}

/// A wrap beneath the outermost one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wrap {
    /// Thickness of its wire.
    pub wire: Length,
    /// What it is made of.
    pub material: Material,
}

/// Section of a core.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum CoreSection {
    /// Round.
    #[default]
    Round,
    /// Six-sided, so that the wrap holds on its edges.
    Hexagonal,
}

impl CoreSection {
    /// All there are.
    pub const ALL: [Self; 2] = [Self::Round, Self::Hexagonal];

    /// Its name within a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::Round => "round",
            Self::Hexagonal => "hexagonal",
        }
    }
}

/// What strings are made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Material {
    /// Music wire.
    #[default]
    Steel,
    /// Stainless steel.
    Stainless,
    /// Steel with a skin of nickel.
    NickelPlated,
    /// Nickel.
    Nickel,
    /// Bronze of copper and tin.
    Bronze,
    /// Brass of copper and zinc.
    Brass,
    /// Copper with a skin of silver.
    SilverPlatedCopper,
    /// Nylon, one filament or many.
    Nylon,
    /// Fluorocarbon.
    Fluorocarbon,
    /// Gut.
    Gut,
}

impl Material {
    /// All there are.
    pub const ALL: [Self; 10] = [
        Self::Steel,
        Self::Stainless,
        Self::NickelPlated,
        Self::Nickel,
        Self::Bronze,
        Self::Brass,
        Self::SilverPlatedCopper,
        Self::Nylon,
        Self::Fluorocarbon,
        Self::Gut,
    ];

    /// Its name, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Steel => "Steel",
            Self::Stainless => "Stainless steel",
            Self::NickelPlated => "Nickel-plated steel",
            Self::Nickel => "Nickel",
            Self::Bronze => "Bronze",
            Self::Brass => "Brass",
            Self::SilverPlatedCopper => "Silvered copper",
            Self::Nylon => "Nylon",
            Self::Fluorocarbon => "Fluorocarbon",
            Self::Gut => "Gut",
        }
    }
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
