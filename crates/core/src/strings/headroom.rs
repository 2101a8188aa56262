//! Headroom as it is looked at: note by note against what is wanted, and the swing of one
//! note over the frets.

use super::pluck::{Drawn, Most, Plucking, give};
use super::{StringReport, Strings};
use crate::design::Design;
use crate::layout::Layout;
use crate::verdict::{CheckId, State};

/// One note played as hard as wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Played {
    /// The most that it takes, mm of travel at the pluck, and where it touches beyond that.
    pub most: Most,
    /// The same as a force, N; none if note or gauge of the string is not given.
    pub force: Option<f64>,
    /// What is left of it at the wanted travel, mm; negative where it touches.
    pub left: f64,
    /// How that stands against the range of [`CheckId::Headroom`].
    pub state: State,
}

impl Strings {
    /// Every note played as hard as wanted, string by string, stop by stop (0 for open);
    /// drawn to the side that is given, or to either. None where it cannot be plucked there
    /// or no fret follows.
    pub fn played(
        &self,
        design: &Design,
        layout: &Layout,
        drawn: Option<Drawn>,
    ) -> Vec<Vec<Option<Played>>> {
        let plucking = Plucking::new(layout, design.wanted.pluck_place.to_mm());
        let limit = CheckId::Headroom.limit(design);
        let wanted = design.wanted.pluck_travel.to_mm();
        let note = |string: usize, report: &StringReport, stop: usize| {
            let most = match drawn {
                None => report.map.get(stop).copied().flatten()?,
                Some(drawn) => plucking.most_drawn(string, stop, drawn)?,
            };
            let length = plucking.sounding(string, stop)?;
            let force =
                report.pull.map(|pull| most.most / give(length, plucking.place(), pull.tension));
            let left = most.most - wanted;
            Some(Played { most, force, left, state: limit.state(left) })
        };
        self.each
            .iter()
            .enumerate()
            .map(|(string, report)| {
                (0..report.map.len()).map(|stop| note(string, report, stop)).collect()
            })
            .collect()
    }
}

/// How near to one fret a note swings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// The fret, from 1.
    pub fret: usize,
    /// Clearance at rest, mm.
    pub rest: f64,
    /// Clearance where it swings lowest, mm; negative where it touches.
    pub lowest: f64,
    /// What that means; good where a contact does not count.
    pub state: State,
}

/// How near to each later fret a string, stopped at `stop` (0 for open), swings when it is
/// played as hard as wanted; drawn to the side that is given, or to either. The state is that
/// of the travel left before it touches that fret. Empty where it cannot be plucked there.
pub fn swing(
    design: &Design,
    layout: &Layout,
    string: usize,
    stop: usize,
    drawn: Option<Drawn>,
) -> Vec<Swing> {
    let plucking = Plucking::new(layout, design.wanted.pluck_place.to_mm());
    let limit = CheckId::Headroom.limit(design);
    let wanted = design.wanted.pluck_travel.to_mm();
    (stop + 1..=layout.positions.len())
        .filter_map(|fret| {
            let rest = plucking.at_rest(string, stop, fret)?;
            let lowest = plucking.left(string, stop, fret, wanted, drawn)?;
            let reach = (rest - lowest) / wanted;
            let left = rest.max(0.0) / reach - wanted;
            let state = if plucking.counts(stop, fret) { limit.state(left) } else { State::Good };
            Some(Swing { fret, rest, lowest, state })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dimension::Dim;
    use crate::strings::gauges::SETS;
    use crate::study::Study;
    use crate::testing::worked_example;

    fn strung(travel: f64) -> (Study, Strings) {
        let mut design = worked_example();
        SETS[1].put_on(&mut design);
        Dim::PluckTravel.key().set(&mut design, travel);
        let study = Study::of(&design);
        let strings = Strings::of(&study.design, study.layout().unwrap());
        (study, strings)
    }

    #[test]
    fn either_side_is_the_lesser_of_both() {
        let (study, strings) = strung(0.4);
        let layout = study.layout().unwrap();
        let sides = [None, Some(Drawn::Away), Some(Drawn::Toward)]
            .map(|drawn| strings.played(&study.design, layout, drawn));
        let [either, away, toward] = sides.map(|rows| rows.concat());
        assert_eq!(either.len(), 6 * 22);
        for ((either, away), toward) in either.iter().zip(&away).zip(&toward) {
            let [either, away, toward] =
                [either, away, toward].map(|one| one.map(|one| one.most.most));
            let lesser = away.zip(toward).map(|(away, toward)| away.min(toward));
            assert_eq!(either.is_some(), lesser.is_some());
            if let Some((either, lesser)) = either.zip(lesser) {
                // the same sum in another order
                assert!((either - lesser).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn the_hardest_note_is_that_of_the_report() {
        let (_, strings) = strung(0.4);
        for report in &strings.each {
            let pull = report.pull.unwrap();
            assert!((pull.force(pull.travel(3.0)) - 3.0).abs() < 1e-12);
        }
        let (study, strings) = strung(0.4);
        let played = strings.played(&study.design, study.layout().unwrap(), None);
        for (row, report) in played.iter().zip(&strings.each) {
            let forces = row.iter().flatten().filter_map(|one| one.force);
            let least = forces.min_by(f64::total_cmp).unwrap();
            assert_eq!(Some(least), report.headroom_force.map(|most| most.most));
        }
    }

    /// Where the travel is just what a note takes, it touches the fret that is named, and
    /// no other.
    #[test]
    fn a_swing_touches_where_it_is_said_to() {
        let (_, strings) = strung(0.4);
        let most = strings.each[5].map[3].unwrap();
        let (study, _) = strung(most.most);
        let layout = study.layout().unwrap();
        let swings = swing(&study.design, layout, 5, 3, None);
        assert_eq!(swings.len(), 22 - 3);
        for one in &swings {
            assert!(one.lowest < one.rest);
            assert_eq!(one.fret == most.fret, one.lowest < 1e-9, "fret {}", one.fret);
        }
        let at = swings.iter().find(|one| one.fret == most.fret).unwrap();
        assert_eq!(at.state, State::Fails);
        // drawn to the other side it does not
        let other = match most.drawn {
            Drawn::Away => Drawn::Toward,
            Drawn::Toward => Drawn::Away,
        };
        let swings = swing(&study.design, layout, 5, 3, Some(other));
        assert!(swings.iter().all(|one| one.lowest > 0.0));
    }

    #[test]
    fn states_follow_how_hard_it_is_played() {
        let count = |travel: f64| {
            let (study, strings) = strung(travel);
            let played = strings.played(&study.design, study.layout().unwrap(), None);
            let fails = |one: &&Played| one.state == State::Fails;
            played.iter().flatten().flatten().filter(fails).count()
        };
        assert_eq!(count(0.05), 0);
        assert!(count(1.0) > 0 && count(1.5) > count(1.0));
    }
}
