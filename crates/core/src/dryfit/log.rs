//! The fitting log: rounds of reading and correction, kept with the design.

use serde::{Deserialize, Serialize};

use super::correction::{Amount, Correction, Kind};
use super::fit::told_of;
use super::pose::{Closing, Cut};
use super::reading::Reading;
use super::told::{Told, Untold};
use crate::design::{Date, Design};
use crate::sentence::{Sentence, mm, sentence};
use crate::study::Study;
use crate::units::{Angle, Length, LengthStyle, show_plain};

/// Most rounds that a log holds, and most readings of a round.
pub const MOST_ROUNDS: usize = 60;
/// The same.
pub const MOST_READINGS: usize = 40;

/// One round: what was read, and what was then done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Round {
    /// The day.
    pub on: Date,
    /// Whether neck and body were glued by then: the readings are final.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub glued: bool,
    /// Anything worth remembering.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// What was read, as it is typed.
    #[serde(default)]
    pub readings: Vec<Reading>,
    /// What was then done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<Done>,
}

/// Wood that was taken off or put on. Positive amounts of the seat and the board are put on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Done {
    /// The kind of correction.
    pub kind: Kind,
    /// Seat height at the mouth.
    #[serde(default, skip_serializing_if = "is_none")]
    pub mouth: Length,
    /// Seat height at the inner end.
    #[serde(default, skip_serializing_if = "is_none")]
    pub inner: Length,
    /// Off the shoulder's top.
    #[serde(default, skip_serializing_if = "is_none")]
    pub top_off: Length,
    /// Off the shoulder's foot.
    #[serde(default, skip_serializing_if = "is_none")]
    pub foot_off: Length,
    /// How far the neck moved toward the bridge, along the datum: spare length used.
    #[serde(default, skip_serializing_if = "is_none")]
    pub moved: Length,
    /// How far the shoulder's top edge moved toward the nut, along the board.
    #[serde(default, skip_serializing_if = "is_none")]
    pub along_board: Length,
    /// The board's thickness.
    #[serde(default, skip_serializing_if = "is_none")]
    pub board: Length,
    /// Pitch at which the shoulder closes since.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub closes_at: Option<Angle>,
}

fn is_none(amount: &Length) -> bool {
    *amount == Length::ZERO
}

impl Serialize for Kind {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.text())
    }
}

impl<'de> Deserialize<'de> for Kind {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::from_text(&text).ok_or_else(|| {
            let all = Self::ALL.map(Self::text).join(", ");
            let text: String = text.chars().take(40).collect();
            serde::de::Error::custom(format!(
                "there is no correction `{text}`, expected one of {all}"
            ))
        })
    }
}

impl Correction {
    /// What is kept of it once it is done, the whole of it or its least.
    pub fn done(&self, least: bool) -> Done {
        let least = self.least.as_ref().filter(|_| least);
        let (cut, closing, outcome) = match least {
            Some(one) => (&one.cut, &one.closing, &one.outcome),
            None => (&self.cut, &self.closing, &self.outcome),
        };
        let Cut { mouth, inner, recut, board } = *cut;
        let Closing { top_off, foot_off, moves, along_board } = *closing;
        Done {
            kind: self.kind,
            mouth: Length::mm(mouth),
            inner: Length::mm(inner),
            top_off: Length::mm(top_off),
            foot_off: Length::mm(foot_off),
            moved: Length::mm(moves + recut),
            along_board: Length::mm(along_board),
            board: Length::mm(board),
            closes_at: self.kind.closes().then(|| Angle::from_radians(outcome.pitch)),
        }
    }
}

impl Done {
    /// What was done, in one sentence.
    pub fn says(&self) -> Sentence {
        let mut says = sentence![self.kind.name()];
        let mut add = |part: Sentence| {
            says.0.extend(sentence!["; "].0);
            says.0.extend(part.0);
        };
        for (by, place) in [(self.mouth, " at the mouth"), (self.inner, " at the inner end")] {
            let by = by.to_mm();
            if by != 0.0 {
                add(sentence![mm(by.abs(), 2), if by < 0.0 { " off" } else { " on" }, place]);
            }
        }
        for (off, place) in
            [(self.top_off, " off the shoulder's top"), (self.foot_off, " off its foot")]
        {
            if off.to_mm() > 0.0 {
                add(sentence![mm(off.to_mm(), 2), place]);
            }
        }
        if self.moved.to_mm() > 0.0 {
            add(sentence!["joint moved ", mm(self.moved.to_mm(), 2)]);
        }
        let board = self.board.to_mm();
        if board != 0.0 {
            add(sentence![
                "board ",
                mm(board.abs(), 2),
                if board < 0.0 { " thinner" } else { " thicker" }
            ]);
        }
        says.0.extend(sentence!["."].0);
        says
    }
}

/// A design with the wood of its rounds taken off, and the pitch at which its shoulder closes
/// since, radians.
pub(super) fn as_cut(design: &Design, rounds: &[Round]) -> (Design, Option<f64>) {
    let mut cut = design.clone();
    let mut closes_at = None;
    for done in rounds.iter().filter_map(|round| round.done.as_ref()) {
        cut.joint.offset = cut.joint.offset - done.along_board;
        cut.joint.spare_length = cut.joint.spare_length - done.moved;
        cut.board.thickness = cut.board.thickness + done.board;
        closes_at = done.closes_at.map(Angle::radians).or(closes_at);
    }
    (cut, closes_at)
}

/// What a round of the log said.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its place in the log, from 0.
    pub round: usize,
    /// What its readings say, and the crest that the joint then needs; or why they say
    /// nothing.
    pub told: Result<(Told, Amount), Untold>,
    /// By how much that crest misses the plan, mm; none where nothing is said.
    pub miss: Option<Amount>,
}

/// The round that is being read, from 0: the last one, unless something was done about it.
pub fn open_round(design: &Design) -> Option<usize> {
    design.fitting.last().filter(|round| round.done.is_none()).map(|_| design.fitting.len() - 1)
}

/// A plan with the rounds before one of its log, from 0.
pub(super) fn before(study: &Study, round: usize) -> Study {
    let mut plan = study.clone();
    plan.design.fitting.truncate(round);
    plan
}

/// How the rounds of a design's log come nearer to the plan. A round without readings says
/// nothing.
pub fn convergence(plan: &Study) -> Vec<Step> {
    let Some(layout) = plan.layout() else {
        return Vec::new();
    };
    let rounds = &plan.design.fitting;
    (0..rounds.len())
        .map(|round| {
            let told = told_of(plan, &rounds[..round], &rounds[round].readings);
            let planned = layout.middle.crest_height;
            let miss = told
                .as_ref()
                .ok()
                .map(|(_, crest)| Amount { value: crest.value - planned, error: crest.error });
            Step { round, told, miss }
        })
        .collect()
}

/// What makes a log nonsense as data: where and why.
pub(crate) fn faults(rounds: &[Round], longest_note: usize) -> Vec<(String, String)> {
    let mut faults = Vec::new();
    if rounds.len() > MOST_ROUNDS {
        let says = format!("found {}, expected at most {MOST_ROUNDS} rounds", rounds.len());
        faults.push(("fitting".to_owned(), says));
    }
    for (i, round) in rounds.iter().enumerate() {
        let place = |field: &str| format!("fitting[{}].{field}", i + 1);
        if round.note.chars().count() > longest_note {
            faults.push((place("note"), format!("expected at most {longest_note} characters")));
        }
        let count = round.readings.len();
        if count > MOST_READINGS {
            let says = format!("found {count}, expected at most {MOST_READINGS} readings");
            faults.push((place("readings"), says));
        }
        for (j, reading) in round.readings.iter().enumerate() {
            if let Some(fault) = reading.fault() {
                let says = fault.says.show(LengthStyle::Millimetres);
                faults.push((place(&format!("readings[{}]", j + 1)), says));
            }
        }
        if let Some(done) = &round.done {
            let Done { mouth, inner, top_off, foot_off, moved, along_board, board, .. } = done;
            let amounts = [mouth, inner, top_off, foot_off, moved, along_board, board];
            if let Some(odd) = amounts.iter().find(|one| !(-100.0..=100.0).contains(&one.to_mm())) {
                let odd = show_plain(odd.to_mm());
                let says = format!("{odd} mm is out of range, expected −100 to 100 mm");
                faults.push((place("done"), says));
            }
        }
    }
    faults
}
