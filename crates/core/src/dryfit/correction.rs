//! What can be done, with the outcome of each before it is done.

use super::pose::{Closing, Cut};
use crate::design::{Design, JointKind};
use crate::dimension::Dim;
use crate::layout::{BodyPoint, Layout};
use crate::sentence::Sentence;
use crate::study::Study;
use crate::verdict::{CheckId, State, reading};

/// A way to bring the joint, or what stands on it, right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Everything left as it is, the saddle where it was planned.
    Nothing,
    /// The saddle set to what the joint needs.
    Saddle,
    /// Another bridge.
    Bridge,
    /// A wedge in the seat, thick at the inner end.
    WedgeInner,
    /// A wedge in the seat, thick at the mouth.
    WedgeMouth,
    /// A veneer of one thickness all over the seat.
    Veneer,
    /// Wood off the seat at the mouth, tapering to nothing at the inner end.
    MouthOff,
    /// Wood off the seat at the inner end, tapering to nothing at the mouth.
    InnerOff,
    /// Wood off the seat all over.
    EvenOff,
    /// The seat brought to the planned pitch and overstand at both ends.
    BothEnds,
    /// A thinner board; where it is not on yet, or a thicker one.
    Board,
    /// The shoulder trimmed so that it closes on the joint as it stands.
    Shoulder,
    /// The shoulder set back, and the joint moved toward the bridge.
    MoveJoint,
}

/// What may go wrong with a correction, from the least.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Risk {
    /// No wood is touched, and it can be undone.
    Undone,
    /// Wood is put on, which can be planed off again.
    PutsOn,
    /// Wood is taken off the seat: a veneer can put it back.
    Seat,
    /// Wood is taken off the board.
    Board,
    /// Wood is taken off the shoulder, and the neck moves.
    Shoulder,
}

impl Risk {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Undone => "can_be_undone",
            Self::PutsOn => "puts_wood_on",
            Self::Seat => "cuts_seat",
            Self::Board => "cuts_board",
            Self::Shoulder => "cuts_shoulder",
        }
    }

    /// In words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Undone => "can be undone",
            Self::PutsOn => "puts wood on",
            Self::Seat => "cuts the seat",
            Self::Board => "cuts the board",
            Self::Shoulder => "moves the joint",
        }
    }
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::Nothing,
        Self::Saddle,
        Self::Bridge,
        Self::WedgeInner,
        Self::WedgeMouth,
        Self::Veneer,
        Self::MouthOff,
        Self::InnerOff,
        Self::EvenOff,
        Self::BothEnds,
        Self::Board,
        Self::Shoulder,
        Self::MoveJoint,
    ];

    /// As it stands in files and in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Saddle => "saddle",
            Self::Bridge => "bridge",
            Self::WedgeInner => "wedge_inner",
            Self::WedgeMouth => "wedge_mouth",
            Self::Veneer => "veneer",
            Self::MouthOff => "mouth_off",
            Self::InnerOff => "inner_off",
            Self::EvenOff => "even_off",
            Self::BothEnds => "both_ends",
            Self::Board => "board",
            Self::Shoulder => "shoulder",
            Self::MoveJoint => "move_joint",
        }
    }

    /// The kind of that name.
    pub fn from_text(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.text() == text)
    }

    /// Its name on screen, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Nothing => "Leave it as it is",
            Self::Saddle => "Set the saddle",
            Self::Bridge => "Another bridge",
            Self::WedgeInner => "Wedge, thick at the inner end",
            Self::WedgeMouth => "Wedge, thick at the mouth",
            Self::Veneer => "Veneer all over the seat",
            Self::MouthOff => "Off the seat at the mouth",
            Self::InnerOff => "Off the seat at the inner end",
            Self::EvenOff => "Off the seat all over",
            Self::BothEnds => "Seat brought to the plan at both ends",
            Self::Board => "Another thickness of board",
            Self::Shoulder => "Shoulder trimmed to close",
            Self::MoveJoint => "Joint moved toward the bridge",
        }
    }

    /// Which wood goes where for one millimetre of it; none of those that are no single cut.
    pub(super) fn way(self) -> Option<Cut> {
        let none = Cut::default();
        Some(match self {
            Self::WedgeInner => Cut { inner: 1.0, ..none },
            Self::WedgeMouth => Cut { mouth: 1.0, ..none },
            Self::Veneer => Cut { mouth: 1.0, inner: 1.0, ..none },
            Self::MouthOff => Cut { mouth: -1.0, ..none },
            Self::InnerOff => Cut { inner: -1.0, ..none },
            Self::EvenOff => Cut { mouth: -1.0, inner: -1.0, ..none },
            Self::Board => Cut { board: -1.0, ..none },
            Self::MoveJoint => Cut { recut: 1.0, ..none },
            Self::Nothing | Self::Saddle | Self::Bridge | Self::BothEnds | Self::Shoulder => {
                return None;
            }
        })
    }

    /// Whether the shoulder is closed again afterwards.
    pub(super) fn closes(self) -> bool {
        !matches!(self, Self::Nothing | Self::Saddle | Self::Bridge | Self::Board)
    }

    /// Whether it comes in standard thicknesses of veneer.
    pub(super) fn is_veneer(self) -> bool {
        matches!(self, Self::WedgeInner | Self::WedgeMouth | Self::Veneer)
    }

    /// Whether this kind of joint can have it.
    pub(super) fn fits(self, joint: &JointKind) -> bool {
        match self {
            Self::Nothing | Self::Saddle | Self::Bridge | Self::Board => true,
            // the neck runs through: there is neither seat nor shoulder to cut
            _ => *joint != JointKind::Through,
        }
    }

    /// What may go wrong.
    pub fn risk(self) -> Risk {
        match self {
            Self::Nothing | Self::Saddle | Self::Bridge => Risk::Undone,
            Self::WedgeInner | Self::WedgeMouth | Self::Veneer => Risk::PutsOn,
            Self::MouthOff | Self::InnerOff | Self::EvenOff | Self::BothEnds => Risk::Seat,
            Self::Board => Risk::Board,
            Self::Shoulder | Self::MoveJoint => Risk::Shoulder,
        }
    }
}

/// What must be looked at before any shoulder is trimmed: no side view shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ask {
    /// Whether the board leans across.
    Roll,
    /// Whether the neck points along the centre line.
    Aim,
}

impl Ask {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Roll => "roll",
            Self::Aim => "aim",
        }
    }

    /// The question.
    pub fn says(self) -> &'static str {
        match self {
            Self::Roll => {
                "Does the board lean across? Read it (roll), or the straightedge on both sides, before the shoulder is trimmed."
            }
            Self::Aim => {
                "Does the neck point along the centre line? Read how far the line passes it at the bridge (aim) before the shoulder is trimmed."
            }
        }
    }
}

/// What a joint comes to: what the maker wants to know before wood is cut.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Everything worked out.
    pub study: Study,
    /// Pitch and overstand, radians and mm.
    pub pitch: f64,
    /// The same.
    pub overstand: f64,
    /// Crest height of the middle string, mm.
    pub crest: f64,
    /// ± that reading errors leave of it, mm.
    pub crest_error: f64,
    /// Where the crest stands, from the joint.
    pub crest_at: f64,
    /// Where the bridge line lies, from the joint, mm.
    pub bridge_line: f64,
    /// Action of treble and bass, mm.
    pub action: (f64, f64),
    /// Room left at the saddle below and above, mm.
    pub reserve: (f64, f64),
    /// What is left at the pluck beyond the wanted travel, mm; none where it is not checked.
    pub headroom: Option<f64>,
    /// Least gap between board and body, mm, and its place from the joint.
    pub gap: (f64, f64),
    /// Spare length left in the pocket, mm.
    pub spare: f64,
    /// Whether every check is good, or at least as good as in the plan.
    pub as_planned: bool,
}

impl Outcome {
    /// Of a study that closes; none of another.
    pub(super) fn of(study: Study, crest_error: f64, goal: &[(CheckId, State)]) -> Option<Self> {
        let layout = study.layout()?;
        let design = &study.design;
        let (low, high) = design.bridge.kind.crest_range();
        let (least, most) = crests(layout);
        let outer =
            |string: Option<&crate::layout::StringLine>| string.map_or(0.0, |one| one.action);
        let board = layout.unstrung(design.scale.length.to_mm(), 0.0);
        Some(Self {
            pitch: layout.pitch,
            overstand: design.joint.overstand.to_mm(),
            crest: layout.middle.crest_height,
            crest_error,
            crest_at: layout.middle.crest.x,
            bridge_line: board.x,
            action: (outer(layout.strings.first()), outer(layout.strings.last())),
            reserve: (least - low.to_mm(), high.to_mm() - most),
            headroom: reading(design, layout, CheckId::Headroom).map(|one| one.value),
            gap: layout.board_gap,
            spare: design.joint.spare_length.to_mm(),
            as_planned: reaches(design, layout, goal),
            study,
        })
    }
}

/// Lowest and highest crest that is needed: of the posts of a shared crest, else of each
/// string.
pub(super) fn crests(layout: &Layout) -> (f64, f64) {
    let posts = layout.posts.iter().flatten().map(|post| post.crest_height);
    let strings = layout.strings.iter().filter(|_| layout.posts.is_none());
    posts
        .chain(strings.map(|string| string.crest_height))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| (low.min(one), high.max(one)))
}

/// Whether every check is in as good a state as the goal says; one that is gone is good.
pub(super) fn reaches(design: &Design, layout: &Layout, goal: &[(CheckId, State)]) -> bool {
    goal.iter().all(|&(id, state)| {
        reading(design, layout, id).is_none_or(|reading| reading.state() >= state)
    })
}

/// A number with its error, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// The number.
    pub value: f64,
    /// ± that reading errors leave of it.
    pub error: f64,
}

/// Wood that comes off or goes on, as a section in the body frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Wood {
    /// What it is, in sentence case.
    pub name: &'static str,
    /// Whether it is put on.
    pub on: bool,
    /// Its corners.
    pub corners: Vec<BodyPoint>,
    /// Where it is thickest: from one face to the other.
    pub thickest: [BodyPoint; 2],
    /// How thick it is there, mm.
    pub thickness: f64,
}

/// The smallest cut of a kind that brings every check as far as it can.
#[derive(Clone, Debug)]
pub struct Least {
    /// How much, mm; 0 where nothing is needed.
    pub amount: f64,
    /// The wood.
    pub cut: Cut,
    /// How the shoulder is trimmed.
    pub closing: Closing,
    /// What comes of it.
    pub outcome: Outcome,
}

/// One thing that can be done.
#[derive(Clone, Debug)]
pub struct Correction {
    /// Which.
    pub kind: Kind,
    /// How much wood, where the kind is a single cut: brings the crest back to the plan. Of a
    /// standard thickness it has no error.
    pub amount: Option<Amount>,
    /// The standard thickness of veneer that it is made from, mm.
    pub stock: Option<f64>,
    /// The wood.
    pub cut: Cut,
    /// How the shoulder is trimmed so that it closes again.
    pub closing: Closing,
    /// What comes of it.
    pub outcome: Outcome,
    /// The smallest such cut that brings every check to good, or as far as the plan had it;
    /// none if none does, or the kind is no single cut.
    pub least: Option<Least>,
    /// Whether reading errors make it doubtful: measure again before cutting.
    pub doubtful: bool,
    /// What must be looked at before it is done.
    pub asks: Vec<Ask>,
    /// What to do, in sentences.
    pub says: Vec<Sentence>,
    /// Where wood comes off or goes on.
    pub wood: Vec<Wood>,
}

impl Correction {
    /// Spare length of the pocket that it uses, mm.
    pub fn spare_used(&self) -> f64 {
        self.closing.moves + self.cut.recut
    }

    /// What may go wrong: a closing that takes wood off the shoulder's top moves the joint.
    pub fn risk(&self) -> Risk {
        let moves = self.spare_used() > TRIM;
        if moves { Risk::Shoulder.max(self.kind.risk()) } else { self.kind.risk() }
    }

    /// Whether wood comes off the shoulder.
    pub fn trims_shoulder(&self) -> bool {
        let Closing { top_off, foot_off, .. } = self.closing;
        top_off + foot_off + self.cut.recut > TRIM
    }

    /// "Measure again before cutting", where reading errors make it doubtful.
    pub fn doubt(&self) -> Option<&'static str> {
        self.doubtful
            .then_some("Measure again before cutting: the reading errors are as large as the cut.")
    }
}

/// Least that is taken off a shoulder on purpose, mm: a shaving.
pub(super) const TRIM: f64 = 0.02;

/// Thinnest board that is planed (common practice, no source), mm.
pub(super) const THINNEST_BOARD: f64 = 3.0;

/// Thicknesses in which veneer is usual, mm (common practice, no source).
const VENEERS: [f64; 12] = [0.3, 0.4, 0.5, 0.6, 0.7, 0.9, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0];

/// The standard thickness nearest to one; none beyond the thickest.
pub(super) fn standard(thickness: f64) -> Option<f64> {
    let near = VENEERS
        .into_iter()
        .min_by(|a, b| (a - thickness).abs().total_cmp(&(b - thickness).abs()))?;
    (thickness <= VENEERS[VENEERS.len() - 1]).then_some(near)
}

/// Most wood that a seat takes or loses, mm: beyond it the joint is better made anew.
pub(super) fn most(kind: Kind, design: &Design, spare: f64) -> f64 {
    match kind {
        Kind::MoveJoint => spare.max(0.0),
        Kind::Board => (design.board.thickness.to_mm() - THINNEST_BOARD).max(0.0),
        Kind::WedgeInner | Kind::WedgeMouth | Kind::Veneer => 6.0,
        _ => Dim::PocketDepth.key().get(design).unwrap_or(0.0).min(8.0),
    }
}
