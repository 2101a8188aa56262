use crate::design::{Date, Design};
use crate::sentence::{Sentence, mm, sentence};
use crate::units::{Angle, Length};

/// Something measured on the joint while it is together without glue.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What was measured, and what it read.
    pub what: What,
    /// Reading error, ± one standard deviation: mm, and degrees for an angle.
    pub error: f64,
    /// The day, where it differs from the round's or is worth keeping.
    pub on: Option<Date>,
}

/// What was measured, and what it read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What {
    /// Height of a straightedge over the body's top, square to the top datum; board straight.
    Height {
        /// What the straightedge lies on.
        face: Face,
        /// Where the height was taken.
        place: Place,
        /// Where it lies across the board.
        side: Side,
        /// Depth of the straightedge where its upper edge was read, else 0.
        edge: Length,
        /// What it read.
        height: Length,
    },
    /// An angle gauge set on the board and on the body, both positive when they rise toward
    /// the tail.
    Gauge {
        /// Where the gauge stood on the body; needed where the top is not flat.
        place: Option<Place>,
        /// What it read on the board.
        board: Angle,
        /// What it read on the body; 0 where it was zeroed there.
        body: Angle,
    },
    /// A feeler between shoulder and end wall.
    Gap {
        /// Where.
        end: ShoulderEnd,
        /// The thickest that went in; 0 where it closes.
        gap: Length,
    },
    /// How far the neck's centre line passes beside the body's, positive toward the treble.
    Aim {
        /// Where.
        place: Place,
        /// How far.
        off: Length,
    },
    /// How the board leans across, positive when the treble side stands higher.
    Roll {
        /// By how much.
        lean: Angle,
    },
}

/// What the straightedge lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// The bare neck face, which is the board's underside.
    Neck,
    /// The board, before frets or between them.
    Board,
    /// The crowns.
    Crowns,
}

/// A place along the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// Where the middle crest is planned.
    Crest,
    /// The bridge line: the scale length from the nut, along the straightedge.
    BridgeLine,
    /// So far from the joint along the top datum.
    Top(Length),
    /// So far from the nut along the board; beyond its end along the straightedge.
    Board(Length),
}

/// Where the straightedge lies across the board. Seen with the head to the left the near
/// side is the bass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// On the centre line.
    Middle,
    /// So far from the centre line on the near, the bass side.
    Near(Length),
    /// So far from the centre line on the far, the treble side.
    Far(Length),
}

/// One end of the shoulder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShoulderEnd {
    /// At the board.
    Top,
    /// Far from it.
    Foot,
}

impl Face {
    /// As it is typed.
    pub fn text(self) -> &'static str {
        match self {
            Self::Neck => "neck",
            Self::Board => "board",
            Self::Crowns => "crowns",
        }
    }

    /// What it is called in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::Neck => "bare neck face",
            Self::Board => "board",
            Self::Crowns => "crowns",
        }
    }

    /// How far it lies over the neck's glue face, mm.
    pub(super) fn over(self, design: &Design) -> f64 {
        let thickness = design.board.thickness.to_mm();
        match self {
            Self::Neck => 0.0,
            Self::Board => thickness,
            Self::Crowns => thickness + design.board.crown.to_mm(),
        }
    }
}

impl Side {
    /// Distance from the centre line, mm, positive toward the treble.
    pub(super) fn across(self) -> f64 {
        match self {
            Self::Middle => 0.0,
            Self::Near(off) => -off.to_mm(),
            Self::Far(off) => off.to_mm(),
        }
    }
}

impl ShoulderEnd {
    /// As it is typed.
    pub fn text(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Foot => "foot",
        }
    }
}

impl What {
    /// Whether its value and its error are in degrees.
    pub fn is_angle(&self) -> bool {
        matches!(self, Self::Gauge { .. } | Self::Roll { .. })
    }

    /// What it read, in mm or degrees; of an angle gauge the board less the body.
    pub fn value(&self) -> f64 {
        match self {
            Self::Height { height, .. } => height.to_mm(),
            Self::Gauge { board, body, .. } => board.to_degrees() - body.to_degrees(),
            Self::Gap { gap, .. } => gap.to_mm(),
            Self::Aim { off, .. } => off.to_mm(),
            Self::Roll { lean } => lean.to_degrees(),
        }
    }

    /// The reading error of someone who takes care, mm or degrees (common practice, no
    /// source).
    pub fn usual_error(&self) -> f64 {
        match self {
            Self::Height { .. } => 0.1,
            Self::Gauge { .. } | Self::Gap { .. } => 0.05,
            Self::Aim { .. } => 0.3,
            Self::Roll { .. } => 0.1,
        }
    }

    /// What was measured, in a few words.
    pub fn name(&self) -> Sentence {
        let at = |words: Sentence, place: &Place| Sentence([words.0, place.name().0].concat());
        match self {
            Self::Height { face, place, side, .. } => {
                let side = match side {
                    Side::Middle => "",
                    Side::Near(_) => ", near side",
                    Side::Far(_) => ", far side",
                };
                let mut name = at(sentence!["straightedge on the ", face.name(), ", "], place);
                name.0.push(side.into());
                name
            }
            Self::Gauge { .. } => sentence!["angle gauge on board and body"],
            Self::Gap { end, .. } => sentence!["feeler at the shoulder's ", end.text()],
            Self::Aim { place, .. } => at(sentence!["centre line, "], place),
            Self::Roll { .. } => sentence!["lean of the board across"],
        }
    }
}

impl Place {
    /// Where it is, in a few words.
    pub fn name(self) -> Sentence {
        match self {
            Self::Crest => sentence!["at the planned crest"],
            Self::BridgeLine => sentence!["at the bridge line"],
            Self::Top(x) => sentence![mm(x.to_mm(), 1), " from the joint"],
            Self::Board(u) => sentence![mm(u.to_mm(), 1), " from the nut"],
        }
    }
}
