//! Two designs side by side: what differs, which is better where that has a meaning, and
//! how one takes something over from the other.
//!
//! The two are called A and B throughout; differences are B less A.

mod align;
mod details;
mod less;
mod quantity;
mod rows;
mod says;
mod standing;
mod take;

pub use align::Align;
pub use details::Detail;
pub use quantity::{Measure, Quantity};
pub use standing::{Order, Standing, sort};
pub use take::{NotTaken, Taken, take, take_all, take_part};

use crate::choice::Choice;
use crate::dimension::{Key, Part};
use crate::sentence::Sentence;
use crate::study::Study;
use crate::units::LengthStyle;
use crate::verdict::{CheckId, State, Word};
use crate::working::Figure;

/// One of the two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// The first.
    A,
    /// The second.
    B,
}

impl Side {
    /// Both, in order.
    pub const BOTH: [Self; 2] = [Self::A, Self::B];

    /// Its letter.
    pub fn name(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
        }
    }

    /// The other one.
    pub fn other(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }
}

/// What a row of the table is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Whether it will play.
    Checks,
    /// What is given: dimensions that are held, kinds of parts, notes.
    Inputs(Part),
    /// Words about it.
    Notes,
    /// What follows from it in the layout.
    Layout,
    /// What the strings take and pull.
    Strings,
    /// What is to be cut.
    CutSheet,
}

impl Group {
    /// Its heading, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Checks => "Checks",
            Self::Inputs(part) => part.name(),
            Self::Notes => "Notes",
            Self::Layout => "Layout",
            Self::Strings => "Headroom and strings",
            Self::CutSheet => "Cut sheet",
        }
    }

    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Checks => "checks",
            Self::Inputs(_) | Self::Notes => "inputs",
            Self::Layout => "layout",
            Self::Strings => "strings",
            Self::CutSheet => "cut_sheet",
        }
    }
}

/// What a row compares.
#[derive(Clone, Debug, PartialEq)]
pub enum Subject {
    /// A check.
    Check(CheckId),
    /// The kind of a part.
    Choice(&'static str),
    /// A dimension or an outcome.
    Key(Key),
    /// What a design holds besides.
    Detail(Detail),
    /// A figure of the strings: of which string, from 0, and which.
    String(usize, &'static str),
    /// A figure of the joint.
    Figure(&'static str),
    /// A step of the cut sheet.
    Step(&'static str),
}

impl Subject {
    /// Its name in files and in the JSON.
    pub fn text(&self) -> String {
        match self {
            Self::Check(id) => id.text().to_owned(),
            Self::Choice(key) => (*key).to_owned(),
            Self::Key(key) => key.to_string(),
            Self::Detail(detail) => detail.text(),
            Self::String(index, what) => format!("strings[{}].{what}", index + 1),
            Self::Figure(id) => format!("figures.{id}"),
            Self::Step(id) => format!("steps.{id}"),
        }
    }

    /// The choice, if it is one.
    fn choice(&self) -> Option<&'static Choice> {
        match self {
            Self::Choice(key) => Choice::parse(key),
            _ => None,
        }
    }
}

/// What stands in a row for one of the two.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// This design has no such thing.
    Missing,
    /// A number with its unit; whether it is worked out rather than held.
    Value(Quantity, bool),
    /// The rise of a wedge or stack, with its sign: the row's name says which end is thick.
    Thick(Quantity),
    /// Words.
    Words(String),
    /// What a check measured; the margin in thin bands, none without limits.
    Check(Quantity, State, Option<f64>),
}

impl Cell {
    /// As it is shown.
    pub fn show(&self, style: LengthStyle) -> String {
        match self {
            Self::Missing => "–".to_owned(),
            Self::Words(words) => words.clone(),
            Self::Value(quantity, _) | Self::Check(quantity, ..) => quantity.show(style),
            Self::Thick(quantity) => quantity.size().show(style),
        }
    }

    /// The number, if it is one.
    pub fn quantity(&self) -> Option<Quantity> {
        match self {
            Self::Value(quantity, _) | Self::Check(quantity, ..) | Self::Thick(quantity) => {
                Some(*quantity)
            }
            Self::Missing | Self::Words(_) => None,
        }
    }

    /// The state of a check.
    pub fn state(&self) -> Option<State> {
        match self {
            Self::Check(_, state, _) => Some(*state),
            _ => None,
        }
    }

    /// The margin of a check.
    pub fn margin(&self) -> Option<f64> {
        match self {
            Self::Check(.., margin) => *margin,
            _ => None,
        }
    }
}

/// Something that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What kind of thing.
    pub group: Group,
    /// Which.
    pub subject: Subject,
    /// Its name, in sentence case.
    pub name: String,
    /// What stands for A and for B.
    pub cells: [Cell; 2],
    /// B less A, where both are numbers that differ; [`Self::shown_difference`] is what is shown.
    pub difference: Option<Quantity>,
    /// The better one, where that has a meaning.
    pub better: Option<Side>,
    /// What of each is worked out, so that it opens into its steps; none of what is put in.
    pub figures: [Option<Figure>; 2],
}

impl Row {
    /// What stands for one of the two.
    pub fn cell(&self, side: Side) -> &Cell {
        &self.cells[side as usize]
    }

    /// Whether it can be taken over from the other one; what only follows cannot.
    pub fn can_be_taken(&self) -> bool {
        match &self.subject {
            Subject::Choice(_) | Subject::Detail(_) => true,
            Subject::Key(key) => {
                self.group != Group::Layout && self.group != Group::CutSheet
                    || key.dim.info().role != crate::dimension::Role::Outcome
            }
            Subject::Check(_) | Subject::String(..) | Subject::Figure(_) | Subject::Step(_) => {
                false
            }
        }
    }

    /// The difference as it is shown: of two wedges by how much B's is the thicker, and none
    /// where they lie the other way round.
    pub fn shown_difference(&self) -> Option<Quantity> {
        match self.cells {
            [Cell::Thick(a), Cell::Thick(b)] => (a.value * b.value >= 0.0)
                .then(|| Quantity { value: b.size().value - a.size().value, ..b }),
            _ => self.difference,
        }
    }

    /// That, with its sign.
    pub fn show_difference(&self, style: LengthStyle) -> String {
        let shown = self.shown_difference();
        shown.map_or_else(String::new, |difference| difference.show_signed(style))
    }
}

/// What differs between two designs.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Their names.
    pub names: [String; 2],
    /// The overall word of each.
    pub words: [Word; 2],
    /// What B wins and what it costs.
    pub says: Sentence,
    /// What differs, by group.
    pub rows: Vec<Row>,
}

impl Comparison {
    /// Compares two designs.
    pub fn of(a: &Study, b: &Study) -> Self {
        let rows = rows::rows(a, b);
        Self {
            names: [a, b].map(|study| study.design.name.trim().to_owned()),
            words: [a.word(), b.word()],
            says: says::says(a, b, &rows),
            rows,
        }
    }

    /// The groups that differ, in order.
    pub fn groups(&self) -> Vec<Group> {
        let mut groups: Vec<Group> = self.rows.iter().map(|row| row.group).collect();
        groups.dedup();
        groups
    }

    /// The rows of a group.
    pub fn of_group(&self, group: Group) -> impl Iterator<Item = &Row> {
        self.rows.iter().filter(move |row| row.group == group)
    }
}

#[cfg(test)]
mod tests;
