//! The instrument as plain data: what a maker would write on a sheet of paper.
//!
//! One file a part. Lengths are millimetres, angles degrees as given; the
//! frames and signs are those of the crate's front page. Nothing here is
//! computed: see [`crate::layout`].
//!
//! A design that does not play, or does not even close, is still a design.

mod board;
mod body;
mod bridge;
mod cavity;
mod head;
mod joint;
mod neck;
mod note;
mod nut;
mod pickup;
mod provenance;
mod scale;
mod string;
mod tail;
mod tolerance;
mod validate;
mod wanted;

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use crate::dryfit::Round;

/// A type that files keep as the text that it shows and reads.
macro_rules! kept_as_text {
    ($kind:ty) => {
        impl serde::Serialize for $kind {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> serde::Deserialize<'de> for $kind {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = <String as serde::Deserialize>::deserialize(deserializer)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }
    };
}
pub(crate) use kept_as_text;

pub use board::{Board, BoardShape};
pub use body::{ArchPoint, Body, Top};
pub use bridge::{Bridge, BridgeKind};
pub use cavity::Cavity;
pub use head::{Head, HeadShape};
pub use joint::{FloorKind, Joint, JointKind};
pub use neck::{HeadFrom, Neck};
pub use note::{NotANote, Note};
pub use nut::Nut;
pub use pickup::Pickup;
pub use provenance::{Date, Provenance};
pub use scale::Scale;
pub use string::{CoreSection, InstrumentString, Material, Retainer, StringMake, Wrap};
pub use tail::Tail;
pub use tolerance::{Making, Spread, Tolerance};
pub use validate::Fault;
pub use wanted::{Limit, Wanted};

/// Most strings a design may have.
pub const MOST_STRINGS: usize = 12;
/// Most frets a design may have.
pub const MOST_FRETS: u8 = 36;
/// Most pickups a design may have.
pub const MOST_PICKUPS: usize = 8;
/// Most cavities a design may have.
pub const MOST_CAVITIES: usize = 8;

/// One instrument, or one variant of it, as far as the side elevation goes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Design {
    /// What the maker calls it.
    pub name: String,
    /// Anything worth remembering.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// Scale length and frets.
    pub scale: Scale,
    /// Nut or zero fret.
    pub nut: Nut,
    /// The strings, treble first: string 1 is the treble.
    pub strings: Vec<InstrumentString>,
    /// The board with its frets.
    pub board: Board,
    /// The neck behind the board.
    pub neck: Neck,
    /// The headstock.
    pub head: Head,
    /// Where and how neck and body meet.
    pub joint: Joint,
    /// The body with its top.
    pub body: Body,
    /// The bridge.
    pub bridge: Bridge,
    /// Where the strings end behind the bridge.
    pub tail: Tail,
    /// Pickups under the strings.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pickups: Vec<Pickup>,
    /// Cavities in the body.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cavities: Vec<Cavity>,
    /// How the instrument shall play.
    pub wanted: Wanted,
    /// Keys of the dimensions that are worked out; all others are held.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    pub found: BTreeSet<String>,
    /// Results that are held at a value (key → mm or degrees), as a break angle or
    /// the height that the straightedge shall read.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub targets: BTreeMap<String, f64>,
    /// What is already made or measured (key → how far it has come). A key that
    /// is not named is planned.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub marks: BTreeMap<String, Provenance>,
    /// How true single dimensions are made, where it differs from the usual (key → ± and
    /// how the error lies within).
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub tolerances: BTreeMap<String, Tolerance>,
    /// Ranges of single checks that differ from the usual (check → range).
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub limits: BTreeMap<String, Limit>,
    /// Steps of the cut sheet that are done.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    pub ticks: BTreeSet<String>,
    /// The fitting log: rounds of reading and correction, the first one first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fitting: Vec<Round>,
}

impl Design {
    /// Whether the board has frets; without, a string is stopped on the surface.
    pub fn is_fretted(&self) -> bool {
        self.scale.frets > 0
    }

    /// All that makes the design nonsense as data; empty for a sound one.
    ///
    /// A design that merely plays badly has no faults: that is for the verdict.
    pub fn faults(&self) -> Vec<Fault> {
        validate::faults(self)
    }

    /// The first contradiction between values that each are in range; one of the faults.
    pub(crate) fn contradiction(&self) -> Option<Fault> {
        validate::contradiction(self)
    }
}
