//! What may miss, by how much, and whether it can be set right later.

use std::fmt;

use crate::design::{Design, JointKind, Making, Provenance, Spread, Tail};
use crate::dimension::{Dim, Key, UnknownKey, Usual};
use crate::units::Unit;

/// Something that is cut, bought or set, and so may miss.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// Height of the seat (the pocket's floor against the tenon's bottom) at the pocket's
    /// mouth, up positive, mm.
    SeatMouth,
    /// The same at the tenon's inner end.
    SeatInner,
    /// A dimension of the table.
    Dim(Key),
}

const SEAT_MOUTH: &str = "joint.seat_mouth";
const SEAT_INNER: &str = "joint.seat_inner";

/// How true a seat is cut at either end: over 70 mm it comes to the usual ± of the pitch.
const SEAT: Usual = Usual { making: Making::Hand, plus_minus: 0.15 };

/// Dimensions that follow when all else is made: the bridge is set to where the strings meet
/// it.
const FOLLOWS: [Dim; 2] = [Dim::CrestHeight, Dim::Station];

/// Dimensions that no check and no height of the strings hangs on.
pub(super) const IDLE: [Dim; 13] = [
    Dim::Flank,
    Dim::GlueRoom,
    Dim::RoughCheeks,
    Dim::WedgeLength,
    Dim::CutterDiameter,
    Dim::CutterReach,
    Dim::JigBase,
    Dim::ScrewDiameter,
    Dim::BodyLength,
    Dim::NeckWidthNut,
    Dim::BlankThickness,
    Dim::BlankLength,
    Dim::RodWidth,
];

/// Dimensions that the seat stands for where there is one.
pub(super) const OF_SEAT: [Dim; 4] = [Dim::Pitch, Dim::Overstand, Dim::PocketDepth, Dim::Floor];

impl Source {
    /// Reads a key as it stands in files and on the command line: that of a dimension, or
    /// `joint.seat_mouth` and `joint.seat_inner`.
    ///
    /// # Errors
    /// [`UnknownKey`] for a text that names none.
    pub fn parse(text: &str) -> Result<Self, UnknownKey> {
        match text.trim() {
            SEAT_MOUTH => Ok(Self::SeatMouth),
            SEAT_INNER => Ok(Self::SeatInner),
            text => Key::parse(text).map(Self::Dim),
        }
    }

    /// Its name on screen, in sentence case. What is made of a wanted clearance over fret 1
    /// is a slot.
    pub fn name(self, design: &Design) -> String {
        match self {
            Self::SeatMouth => "Seat at mouth".to_owned(),
            Self::SeatInner => "Seat at inner end".to_owned(),
            Self::Dim(key) => match key.dim {
                Dim::FirstFretBass => "Nut slot, bass".to_owned(),
                Dim::FirstFretTreble => "Nut slot, treble".to_owned(),
                _ => key.name(design),
            },
        }
    }

    /// Millimetres or degrees.
    pub fn unit(self) -> Unit {
        match self {
            Self::SeatMouth | Self::SeatInner => Unit::Length,
            Self::Dim(key) => key.dim.info().unit,
        }
    }

    /// How it is usually made and how true; none for what is not made.
    pub fn usual(self) -> Option<Usual> {
        match self {
            Self::SeatMouth | Self::SeatInner => Some(SEAT),
            Self::Dim(key) if FOLLOWS.contains(&key.dim) => None,
            Self::Dim(key) => key.dim.info().tolerance,
        }
    }

    /// From its unit into that of the geometry (radians for an angle).
    pub(super) fn inward(self, value: f64) -> f64 {
        match self {
            Self::SeatMouth | Self::SeatInner => value,
            Self::Dim(key) => key.dim.info().inward(value),
        }
    }

    /// How it can be set right after the glue is dry; none if it cannot.
    pub fn later(self, design: &Design) -> Option<Later> {
        let Self::Dim(key) = self else { return None };
        match key.dim {
            Dim::Relief => Some(Later::Rod),
            Dim::Compensation | Dim::CrestOffset if design.bridge.travel.to_mm() > 0.0 => {
                Some(Later::Saddle)
            }
            Dim::FirstFretBass | Dim::FirstFretTreble => Some(Later::Slot),
            Dim::TailHeight if matches!(design.tail, Tail::Stop { .. }) => Some(Later::Tail),
            Dim::PickupHeight => Some(Later::Pickup),
            Dim::Gauge | Dim::Core => Some(Later::Strings),
            _ => None,
        }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::SeatMouth => f.write_str(SEAT_MOUTH),
            Self::SeatInner => f.write_str(SEAT_INNER),
            Self::Dim(key) => key.fmt(f),
        }
    }
}

/// How something can be set right later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Later {
    /// By the rod.
    Rod,
    /// By moving the saddle fore and aft.
    Saddle,
    /// By filing the slot deeper; one that is too deep is filled or the nut replaced.
    Slot,
    /// By the tail's screws.
    Tail,
    /// By the pickup's screws.
    Pickup,
    /// By other strings.
    Strings,
}

impl Later {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Rod => "rod",
            Self::Saddle => "saddle",
            Self::Slot => "slot",
            Self::Tail => "tail",
            Self::Pickup => "pickup",
            Self::Strings => "strings",
        }
    }

    /// In words, to stand after "can be set right later".
    pub fn show(self) -> &'static str {
        match self {
            Self::Rod => "by the rod",
            Self::Saddle => "at the saddle",
            Self::Slot => "by filing",
            Self::Tail => "at the tail",
            Self::Pickup => "by its screws",
            Self::Strings => "by other strings",
        }
    }
}

/// Where a ± comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// What is usual for the way it is made.
    Usual(Making),
    /// The design says so.
    Given,
    /// It is measured: the reading error is left.
    Measured,
}

impl Basis {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Usual(making) => making.text(),
            Self::Given => "given",
            Self::Measured => "measured",
        }
    }
}

/// Something that may miss, with its ±.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerated {
    /// What.
    pub source: Source,
    /// ± in its unit (mm, degrees).
    pub plus_minus: f64,
    /// How its error lies within.
    pub spread: Spread,
    /// Where that comes from.
    pub basis: Basis,
    /// How it can be set right later; none if it cannot.
    pub later: Option<Later>,
}

impl Tolerated {
    /// How it is made in a design, whatever its ± comes from; none for what is not made.
    pub fn making(design: &Design, source: Source) -> Option<Making> {
        let said = design.tolerances.get(&source.to_string()).and_then(|said| said.making);
        said.or_else(|| source.usual().map(|usual| usual.making))
    }

    /// What a design says of something; none for what is not made.
    pub fn of(design: &Design, source: Source) -> Option<Self> {
        let usual = source.usual()?;
        let text = source.to_string();
        let said = design.tolerances.get(&text).copied().unwrap_or_default();
        let making = said.making.unwrap_or(usual.making);
        let reading = match design.marks.get(&text) {
            Some(Provenance::Measured { error, .. }) => Some(*error),
            _ => None,
        };
        let (plus_minus, basis) = match (reading, said.plus_minus) {
            (Some(error), _) => (error, Basis::Measured),
            (None, Some(plus_minus)) => (plus_minus, Basis::Given),
            (None, None) => (usual.made(making), Basis::Usual(making)),
        };
        // of a reading its limits are known and no more (JCGM 100:2008, 4.3.7)
        let usual_spread = if reading.is_some() { Spread::Rectangular } else { making.spread() };
        let spread = said.spread.unwrap_or(usual_spread);
        Some(Self { source, plus_minus, spread, basis, later: source.later(design) })
    }

    /// Its standard uncertainty, in its unit.
    pub fn standard(&self) -> f64 {
        self.spread.standard(self.plus_minus)
    }
}

/// Whether pitch and overstand come from one seat and so miss together. A neck that runs
/// through has none; and what is measured, or has a ± of its own, counts by itself.
pub fn from_seat(design: &Design) -> bool {
    let by_itself = |dim: Dim| {
        let key = dim.info().key;
        matches!(design.marks.get(key), Some(Provenance::Measured { .. }))
            || design.tolerances.contains_key(key)
    };
    design.joint.kind != JointKind::Through && !by_itself(Dim::Pitch) && !by_itself(Dim::Overstand)
}

/// Everything in a design that may miss and that its strings or checks answer to. What comes
/// out exact (± 0) is left out.
pub fn sources(design: &Design) -> Vec<Tolerated> {
    let mut sources = toleranced(design);
    sources.retain(|tolerated| tolerated.plus_minus > 0.0);
    sources
}

/// Everything in a design that is cut, bought or set and that its strings or checks answer to,
/// with its ±, in the order of the table of dimensions and the seat first.
pub fn toleranced(design: &Design) -> Vec<Tolerated> {
    let seat = from_seat(design);
    let both = if seat { vec![Source::SeatMouth, Source::SeatInner] } else { Vec::new() };
    both.into_iter()
        .chain(
            Key::all_of(design)
                .into_iter()
                .filter(|key| !IDLE.contains(&key.dim))
                .filter(|key| design.is_fretted() || key.dim != Dim::Crown)
                .filter(|key| !(seat && OF_SEAT.contains(&key.dim)))
                .map(Source::Dim),
        )
        .filter_map(|source| Tolerated::of(design, source))
        .collect()
}
