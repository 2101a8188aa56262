//! What is chosen on a page of what it shows.

use overstand_core::compare::{Align, Order};
use overstand_core::dimension::{Dim, Key};
use overstand_core::risk::Source;
use overstand_core::strings::Drawn;
use serde::{Deserialize, Serialize};

/// What the page of the strings shows.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct StringsView {
    /// The string that is looked at, from 0.
    pub(crate) string: usize,
    /// Where it is stopped; 0 for open.
    pub(crate) stop: usize,
    /// To which side it is drawn; none for either.
    pub(crate) drawn: Option<Drawn>,
    /// How hard is said as a force rather than a travel.
    pub(crate) newtons: bool,
    /// What stands below the map.
    pub(crate) sheet: StringSheet,
    /// Errors of pitch are shown with each crest where its string notes true.
    pub(crate) compensated: bool,
}

/// What stands below the map of the strings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum StringSheet {
    /// Note, gauge, make and pull of each.
    #[default]
    Pull,
    /// Headroom over relief.
    Relief,
    /// Cents by fret, and where the bridge must stand.
    Notes,
}

impl StringSheet {
    /// All of them.
    pub(crate) const ALL: [Self; 3] = [Self::Pull, Self::Relief, Self::Notes];

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Pull => "Each string",
            Self::Relief => "Best relief",
            Self::Notes => "True notes",
        }
    }
}

/// What the page of how true the cuts must be shows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HowTrueView {
    /// The two dimensions of the map: across and upward.
    pub(crate) map: [Key; 2],
    /// How far the map reaches: its place in a list of reaches.
    pub(crate) reach: usize,
    /// What stands below the map.
    pub(crate) sheet: TrueSheet,
    /// What may be moved to a safer aim; one of them at least.
    pub(crate) moved: [Option<Key>; 2],
    /// What is to be held truer.
    pub(crate) held: Source,
    /// How sure one wants to be, per cent.
    pub(crate) sure: u8,
}

impl Default for HowTrueView {
    fn default() -> Self {
        let pitch = Dim::Pitch.key();
        Self {
            map: [pitch, Dim::Overstand.key()],
            reach: 2,
            sheet: TrueSheet::default(),
            moved: [Some(pitch), None],
            held: Source::Dim(pitch),
            sure: 95,
        }
    }
}

/// What stands below the map of the page of how true the cuts must be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum TrueSheet {
    /// What each error costs, the dearest first.
    #[default]
    Errors,
    /// How far crest and checks spread.
    Spread,
    /// Where a miss plays most often.
    Aim,
    /// How true one dimension must be held.
    Hold,
}

impl TrueSheet {
    /// All of them.
    pub(crate) const ALL: [Self; 4] = [Self::Errors, Self::Spread, Self::Aim, Self::Hold];

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Errors => "Each error",
            Self::Spread => "Spread",
            Self::Aim => "Safest aim",
            Self::Hold => "What suffices",
        }
    }
}

/// How the drawings of two designs stand to each other.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Arrangement {
    /// One above the other.
    #[default]
    Stacked,
    /// Side by side.
    Beside,
    /// One drawing, with the other as a ghost over it.
    Overlaid,
}

impl Arrangement {
    /// All of them.
    pub(crate) const ALL: [Self; 3] = [Self::Stacked, Self::Beside, Self::Overlaid];

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Stacked => "One above the other",
            Self::Beside => "Side by side",
            Self::Overlaid => "Overlay",
        }
    }

    /// The same where there is little room.
    pub(crate) fn short(self) -> &'static str {
        match self {
            Self::Stacked => "Stacked",
            other => other.name(),
        }
    }
}

/// How two designs are compared.
#[derive(Debug, Default)]
pub(crate) struct Compare {
    /// The variants that were chosen as A and B, by name.
    pub(crate) pair: [Option<String>; 2],
    /// What of the two stands at the same place.
    pub(crate) align: Align,
    /// All variants are listed, in this order.
    pub(crate) all: Option<Order>,
}
