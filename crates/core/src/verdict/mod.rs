//! Will it play? One check a file, one overall word.
//!
//! A check measures one thing on a layout, compares it with a range, and can say
//! in a plain sentence and in numbers how it came to its state. Adding a check
//! touches one file and the list [`CheckId::ALL`].

mod action;
mod band;
mod board_over_body;
mod bridge_edge;
mod first_fret;
mod fore_aft;
mod fretted_notes;
mod head_bench;
mod headroom;
mod inner_strings;
mod intonation;
mod last_fret;
mod limit;
mod nut_break;
mod nut_slot;
mod open_strings;
mod pickup_room;
mod pocket_cavity;
mod proposal;
mod reading;
mod relief;
mod remedy;
mod rod_channel;
mod saddle_break;
mod saddle_travel;
mod screws;
mod shoulder_bearing;
mod string_slack;
mod string_strength;
mod tail_behind;
mod tail_range;
mod tenon_length;
mod tenon_within;
mod wedge_gap;
mod wood_under;

pub use band::wanted_band;
use limit::{at_least, at_most, limit};
pub use proposal::Proposal;
pub use reading::Reading;
pub use remedy::{Change, Remedy, remedies};
pub(crate) use saddle_travel::extremes as crests_needed;

use crate::design::{Design, Limit};
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::Sentence;
use crate::units::Unit;
use crate::working::Working;

/// Good, thin or failing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// Outside its range.
    Fails,
    /// Inside, but nearer to a limit than one likes.
    Thin,
    /// Well inside.
    Good,
}

impl State {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Fails => "fails",
            Self::Thin => "thin",
            Self::Good => "good",
        }
    }
}

macro_rules! checks {
    ($($id:ident $text:literal $module:ident :: $check:ident)*) => {
        /// Every check there is.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum CheckId {
            $(#[doc = concat!("`", $text, "`")] $id),*
        }

        impl CheckId {
            /// All of them, in the order they are shown when all are good.
            pub const ALL: &'static [Self] = &[$(Self::$id),*];

            /// As it stands in files and in the JSON.
            pub fn text(self) -> &'static str {
                match self { $(Self::$id => $text),* }
            }

            fn kind(self) -> &'static CheckKind {
                match self { $(Self::$id => &$module::$check),* }
            }
        }
    };
}

checks! {
    SaddleTravel "saddle_travel" saddle_travel::CHECK
    OpenStrings "open_strings" open_strings::CHECK
    FrettedNotes "fretted_notes" fretted_notes::CHECK
    FirstFret "first_fret" first_fret::CHECK
    NutSlot "nut_slot" nut_slot::CHECK
    LastFret "last_fret" last_fret::CHECK
    ActionTreble "action_treble" action::TREBLE
    ActionBass "action_bass" action::BASS
    InnerStrings "inner_strings" inner_strings::CHECK
    Relief "relief" relief::CHECK
    BoardOverBody "board_over_body" board_over_body::CHECK
    SaddleBreak "saddle_break" saddle_break::CHECK
    NutBreak "nut_break" nut_break::CHECK
    BridgeEdge "bridge_edge" bridge_edge::CHECK
    TailRange "tail_range" tail_range::CHECK
    TailBehind "tail_behind" tail_behind::CHECK
    ForeAft "fore_aft" fore_aft::CHECK
    HeadBench "head_bench" head_bench::CHECK
    PickupRoom "pickup_room" pickup_room::CHECK
    WoodUnder "wood_under" wood_under::CHECK
    TenonLength "tenon_length" tenon_length::CHECK
    TenonWithin "tenon_within" tenon_within::CHECK
    ShoulderBearing "shoulder_bearing" shoulder_bearing::CHECK
    PocketCavity "pocket_cavity" pocket_cavity::CHECK
    RodChannel "rod_channel" rod_channel::CHECK
    WedgeGap "wedge_gap" wedge_gap::CHECK
    ScrewBite "screw_bite" screws::BITE
    ScrewCover "screw_cover" screws::COVER
    Headroom "headroom" headroom::CHECK
    Intonation "intonation" intonation::CHECK
    StringStrength "string_strength" string_strength::CHECK
    StringSlack "string_slack" string_slack::CHECK
}

impl CheckId {
    /// The check of that name.
    pub fn from_text(text: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|id| id.text() == text)
    }

    /// Its name on screen, in sentence case.
    pub fn name(self) -> &'static str {
        self.kind().name
    }

    /// What it asks of the design, as a question.
    pub fn question(self) -> &'static str {
        self.kind().question
    }

    /// The unit of its value and limits.
    pub fn unit(self) -> Unit {
        self.kind().unit
    }

    /// The range that holds where the design gives no other.
    pub fn usual_limit(self) -> Limit {
        self.kind().limit
    }

    /// The range that a design gives it, or else the usual one.
    pub fn limit(self, design: &Design) -> Limit {
        design.limits.get(self.text()).copied().unwrap_or_else(|| self.usual_limit())
    }
}

/// What all checks of one kind have in common.
struct CheckKind {
    name: &'static str,
    /// What it asks, for the glossary and tips.
    question: &'static str,
    unit: Unit,
    /// Decimals that mean something.
    digits: usize,
    limit: Limit,
    /// The measured value that decides, if this kind of design has one.
    measure: fn(&Design, &Layout, &Limit) -> Option<Reading>,
    /// Where along its string it was measured, if that is sought only for one who asks.
    place: Option<fn(&Design, &Layout, Reading) -> Reading>,
    says: fn(&Design, &Layout, &Reading) -> Sentence,
    working: fn(&Design, &Layout, &Reading) -> Working,
    /// What may be changed to mend it, most usual first; several in one move together.
    mends: &'static [&'static [Dim]],
}

/// One check of a design.
#[derive(Clone, Debug)]
pub struct Check {
    /// Which.
    pub id: CheckId,
    /// Good, thin or failing.
    pub state: State,
    /// What was measured.
    pub reading: Reading,
    /// What that means, in a sentence.
    pub says: Sentence,
    /// How it came about.
    pub working: Working,
}

impl Check {
    /// Decimals of its value that mean something.
    pub fn digits(&self) -> usize {
        self.id.kind().digits
    }
}

/// The overall word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// Every check is good.
    Plays,
    /// None fails, some are thin.
    PlaysThin,
    /// Some check fails.
    Fails,
    /// Held values cannot all be true, or a part of the layout is unknown.
    DoesNotClose,
}

impl Word {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Plays => "plays",
            Self::PlaysThin => "plays_thin",
            Self::Fails => "fails",
            Self::DoesNotClose => "does_not_close",
        }
    }

    /// As the big word on screen.
    pub fn show(self) -> &'static str {
        match self {
            Self::Plays => "Plays",
            Self::PlaysThin => "Plays, but thin",
            Self::Fails => "Will not play",
            Self::DoesNotClose => "Does not close",
        }
    }
}

/// What the checks measure on a layout, without sentence or working: the quick
/// half of a verdict, for searches and trials.
pub fn readings(design: &Design, layout: &Layout) -> impl Iterator<Item = (CheckId, Reading)> {
    CheckId::ALL.iter().filter_map(|&id| Some((id, reading(design, layout, id)?)))
}

/// What one check measures; none if this kind of design has no such check.
pub fn reading(design: &Design, layout: &Layout, id: CheckId) -> Option<Reading> {
    let reading = number(design, layout, id, &id.limit(design))?;
    Some(match id.kind().place {
        Some(place) => place(design, layout, reading),
        None => reading,
    })
}

/// The same as [`readings`] without where along its string each was measured.
pub(crate) fn numbers(
    design: &Design,
    layout: &Layout,
) -> impl Iterator<Item = (CheckId, Reading)> {
    let of = |&id: &CheckId| Some((id, number(design, layout, id, &id.limit(design))?));
    CheckId::ALL.iter().filter_map(of)
}

/// What one check measures against a range, without where: what decides its number and
/// state. The layout need not have its table of stopped clearances.
pub(crate) fn number(
    design: &Design,
    layout: &Layout,
    id: CheckId,
    limit: &Limit,
) -> Option<Reading> {
    (id.kind().measure)(design, layout, limit).filter(|reading| !reading.value.is_nan())
}

/// All checks of a layout: failing first, then thin, then good.
pub fn checks(design: &Design, layout: &Layout) -> Vec<Check> {
    let mut checks = Vec::with_capacity(CheckId::ALL.len());
    checks.extend(readings(design, layout).map(|(id, reading)| Check {
        id,
        state: reading.state(),
        reading,
        says: (id.kind().says)(design, layout, &reading),
        working: (id.kind().working)(design, layout, &reading),
    }));
    checks.sort_by_key(|check| check.state);
    checks
}

/// How string `index` is called in a sentence.
fn string_name(design: &Design, index: usize) -> String {
    match design.strings.get(index) {
        Some(string) if !string.name.is_empty() => format!("the {} string", string.name),
        _ => format!("string {}", index + 1),
    }
}

/// What the maker counts along the board: frets, or semitones on a fretless one.
fn fret_word(layout: &Layout) -> &'static str {
    if layout.is_fretted() { "fret " } else { "semitone " }
}

/// The overall word of some checks.
pub(crate) fn word(checks: &[Check]) -> Word {
    match checks.iter().map(|check| check.state).min() {
        Some(State::Fails) => Word::Fails,
        Some(State::Thin) => Word::PlaysThin,
        Some(State::Good) | None => Word::Plays,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_check_has_a_way_out_and_a_range() {
        for &id in CheckId::ALL {
            assert!(!id.kind().mends.is_empty(), "{} names nothing to change", id.text());
            assert_eq!(CheckId::from_text(id.text()), Some(id));
            assert!(id.question().ends_with('?'), "{} asks nothing", id.text());
            let limit = id.usual_limit();
            assert!(limit.margin(f64::NEG_INFINITY).min(limit.margin(f64::INFINITY)) < 0.0);
        }
    }
}
