//! The round that is being read, as the design keeps it: nothing that was typed is lost, and
//! every reading can be taken back.

use overstand_core::design::Design;
pub(super) use overstand_core::dryfit::open_round as open;
use overstand_core::dryfit::{MOST_READINGS, MOST_ROUNDS, Reading, Round};

use crate::command::Command;
use crate::panels::provenance::today;

/// The number of the round that is being read or comes next, from 1.
pub(super) fn number(design: &Design) -> usize {
    open(design).unwrap_or(design.fitting.len()) + 1
}

/// Why nothing more can be put down, if so.
pub(super) fn full(design: &Design) -> Option<String> {
    match open(design).and_then(|index| design.fitting.get(index)) {
        Some(round) if round.readings.len() >= MOST_READINGS => {
            Some(format!("A round holds {MOST_READINGS} readings at most."))
        }
        None if design.fitting.len() >= MOST_ROUNDS => {
            Some(format!("A log holds {MOST_ROUNDS} rounds at most."))
        }
        _ => None,
    }
}

/// The design with its open round changed; one of today is begun if there is none.
pub(super) fn change(
    design: &Design,
    step: impl Into<String>,
    change: impl FnOnce(&mut Round),
) -> Option<Command> {
    let mut design = design.clone();
    if open(&design).is_none() {
        // a clock before 1970 gives no day
        let on = today()?;
        let (note, readings) = (String::new(), Vec::new());
        design.fitting.push(Round { on, glued: false, note, readings, done: None });
    }
    change(design.fitting.last_mut()?);
    Some(Command::edit(step, design))
}

/// The design with a new round of today begun after the last one.
pub(super) fn begin(design: &Design) -> Option<Command> {
    let glued = design.fitting.last().is_some_and(|round| round.glued);
    let (on, note, readings) = (today()?, String::new(), Vec::new());
    let mut design = design.clone();
    design.fitting.push(Round { on, glued, note, readings, done: None });
    Some(Command::edit("Begin a round", design))
}

/// The design without its last round.
pub(super) fn without_last(design: &Design) -> Command {
    let mut design = design.clone();
    let name = format!("Take round {} out", design.fitting.len());
    design.fitting.pop();
    Command::edit(name, design)
}

/// The readings of the open round.
pub(super) fn readings(design: &Design) -> &[Reading] {
    open(design).and_then(|index| design.fitting.get(index)).map_or(&[], |round| &round.readings)
}
