//! A change that is proposed, with what follows from it and what it does to the checks.

use super::{Change, CheckId, State, readings};
use crate::design::Design;
use crate::dimension::{Dim, Key};
use crate::study::{Closed, Open, Study};

/// A change of some dimensions, worked out but not made.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// What is set.
    pub changes: Vec<Change>,
    /// What follows from it.
    pub follows: Vec<Change>,
    /// Checks that come to a better state.
    pub better: Vec<CheckId>,
    /// Checks that come to a worse state.
    pub worse: Vec<CheckId>,
    /// The design with it.
    pub design: Design,
}

impl Proposal {
    /// Sets some dimensions and solves the rest anew. One that is found is held for the
    /// moment, and the crest height gives in its place (or the pitch for the crest height).
    ///
    /// # Errors
    /// Why the design would not close, or does not now.
    pub fn of(study: &Study, sets: &[(Key, f64)]) -> Result<Self, Open> {
        let before = study.outcome.as_ref().map_err(Clone::clone)?;
        let mut design = study.design.clone();
        for &(key, value) in sets {
            key.set(&mut design, value);
            if design.found.remove(key.dim.info().key) {
                let gives = if key.dim == Dim::CrestHeight { Dim::Pitch } else { Dim::CrestHeight };
                design.found.insert(gives.info().key.to_owned());
            }
        }
        let mut after = Study::of(&design);
        let closed = after.outcome?;
        after.design.found.clone_from(&study.design.found);
        let (better, worse) = compared(&study.design, before, &after.design, &closed);
        let is_set = |key: Key| sets.iter().any(|(set, _)| *set == key);
        let (changes, follows) = Key::all_of(&study.design)
            .into_iter()
            .filter_map(|key| {
                let (from, to) = (key.get(&study.design)?, key.get(&after.design)?);
                // what is solved for comes back a rounding error off
                ((to - from).abs() > 1e-7).then_some(Change { key, from, to })
            })
            .partition(|change| is_set(change.key));
        Ok(Self { changes, follows, better, worse, design: after.design })
    }

    /// Whether it changes anything.
    pub fn is_empty(&self) -> bool {
        self.changes.is_empty() && self.follows.is_empty()
    }
}

fn compared(
    before: &Design,
    was: &Closed,
    after: &Design,
    is: &Closed,
) -> (Vec<CheckId>, Vec<CheckId>) {
    let then: Vec<(CheckId, State)> =
        readings(after, &is.layout).map(|(id, reading)| (id, reading.state())).collect();
    let (mut better, mut worse) = (Vec::new(), Vec::new());
    for (id, reading) in readings(before, &was.layout) {
        let state = then.iter().find(|(other, _)| *other == id).map(|(_, state)| *state);
        match state.map(|state| state.cmp(&reading.state())) {
            Some(std::cmp::Ordering::Greater) => better.push(id),
            Some(std::cmp::Ordering::Less) => worse.push(id),
            _ => {}
        }
    }
    (better, worse)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::worked_example;

    #[test]
    fn what_follows_is_told_apart_from_what_is_set() {
        let study = Study::of(&worked_example());
        let proposal = Proposal::of(&study, &[(Dim::Relief.key(), 0.7)]).unwrap();
        let [change] = proposal.changes[..] else { panic!("{:?}", proposal.changes) };
        assert_eq!((change.key.dim, change.from, change.to), (Dim::Relief, 0.2, 0.7));
        let follows: Vec<Dim> = proposal.follows.iter().map(|change| change.key.dim).collect();
        // pitch and station are what the worked example finds
        assert_eq!(follows, [Dim::Pitch, Dim::Station]);
        assert!(proposal.worse.contains(&CheckId::Relief) && proposal.better.is_empty());
        assert_eq!(proposal.design.found, study.design.found);
        assert!(Proposal::of(&study, &[(Dim::Relief.key(), 0.2)]).unwrap().is_empty());
    }

    #[test]
    fn a_found_one_is_set_and_stays_found() {
        let study = Study::of(&worked_example());
        let proposal = Proposal::of(&study, &[(Dim::Pitch.key(), 3.5)]).unwrap();
        assert_eq!(Dim::Pitch.key().get(&proposal.design), Some(3.5));
        assert!(proposal.follows.iter().any(|change| change.key.dim == Dim::CrestHeight));
        assert!(Dim::Pitch.key().is_found(&proposal.design));
        assert!(Proposal::of(&study, &[(Dim::ScaleLength.key(), 1e9)]).is_err());
    }
}
