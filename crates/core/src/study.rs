//! Everything worked out for one design, made once per change.

use crate::design::{Design, Fault};
use crate::layout::{Conflict, Layout, LayoutError, solve};
use crate::sentence::{Sentence, lower, sentence};
use crate::verdict::{Check, Word, checks, word};

/// Everything worked out for one design.
#[derive(Clone, Debug)]
pub struct Study {
    /// The design, with what was found put in.
    pub design: Design,
    /// Its layout and what came of solving it, or why there is none.
    pub outcome: Result<Closed, Open>,
}

/// A design that closes.
#[derive(Clone, Debug)]
pub struct Closed {
    /// Every length, angle and point.
    pub layout: Layout,
    /// All checks: failing first, then thin, then good.
    pub checks: Vec<Check>,
    /// How many more dimensions are found than relations determine.
    pub degrees_of_freedom: usize,
    /// Found dimensions that stand at the end of their range.
    pub at_bound: Vec<crate::dimension::Dim>,
}

/// Why a design does not close.
#[derive(Clone, Debug)]
pub enum Open {
    /// It is nonsense as data.
    Faults(Vec<Fault>),
    /// Held values cannot all be true.
    Conflict(Conflict),
    /// A part of the layout is unknown.
    Layout(LayoutError),
}

impl Study {
    /// Works out a design.
    pub fn of(design: &Design) -> Self {
        let faults = design.faults();
        if !faults.is_empty() {
            return Self { design: design.clone(), outcome: Err(Open::Faults(faults)) };
        }
        match solve(design) {
            Err(conflict) => {
                Self { design: design.clone(), outcome: Err(Open::Conflict(conflict)) }
            }
            Ok(solved) => {
                // each found value is in its range, yet a board may end before its frets
                if let Some(fault) = solved.design.contradiction() {
                    let open = Open::Layout(LayoutError::Contradiction(fault));
                    return Self { design: design.clone(), outcome: Err(open) };
                }
                let outcome = match Layout::of(&solved.design) {
                    Ok(layout) => Ok(Closed {
                        checks: checks(&solved.design, &layout),
                        layout,
                        degrees_of_freedom: solved.degrees_of_freedom,
                        at_bound: solved.at_bound,
                    }),
                    Err(error) => Err(Open::Layout(error)),
                };
                Self { design: solved.design, outcome }
            }
        }
    }

    /// What closed, if it did.
    pub fn closed(&self) -> Option<&Closed> {
        self.outcome.as_ref().ok()
    }

    /// The layout, if the design closes.
    pub fn layout(&self) -> Option<&Layout> {
        self.closed().map(|closed| &closed.layout)
    }

    /// The overall word.
    pub fn word(&self) -> Word {
        self.closed().map_or(Word::DoesNotClose, |closed| word(&closed.checks))
    }

    /// The line under the word that says why.
    pub fn reason(&self) -> Sentence {
        match &self.outcome {
            Ok(closed) => {
                // the first check is the one that is worst off; when all is good, the
                // saddle travel stands first
                closed.checks.first().map_or_else(Sentence::default, |check| check.says.clone())
            }
            Err(Open::Faults(faults)) => {
                faults.first().map_or_else(Sentence::default, |fault| sentence![fault.to_string()])
            }
            Err(Open::Conflict(conflict)) => conflict.says(),
            Err(Open::Layout(error)) => sentence![format!("{}.", capital(&error.to_string()))],
        }
    }
}

impl Conflict {
    /// The conflict in a sentence.
    pub fn says(&self) -> Sentence {
        if let Some(beyond) = self.beyond.first() {
            let info = beyond.dim.info();
            let quantity = |value| match info.unit {
                crate::units::Unit::Angle => crate::sentence::degrees(value, info.digits),
                _ => crate::sentence::mm(value, info.digits),
            };
            return sentence![
                info.name,
                " would have to be ",
                quantity(beyond.would_be),
                ", beyond its limit of ",
                quantity(beyond.limit),
                "."
            ];
        }
        let names: Vec<String> =
            self.members.iter().map(|member| member.dim.info().name.to_lowercase()).collect();
        // some names have a comma of their own
        let list = names.join("; ");
        sentence![format!("These are held and cannot all be true: {list}.")]
    }

    /// Which of them alone cannot give way within its range; none where each can.
    pub fn no_help(&self) -> Option<String> {
        let names: Vec<String> = self
            .members
            .iter()
            .filter(|member| member.would_be.is_none())
            .map(|member| lower(member.dim.info().name))
            .collect();
        // as above
        let list = names.join("; ");
        (!names.is_empty()).then(|| format!("Released alone these do not help: {list}."))
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
