//! The set made many times over: how the needed crest height comes out, and how often each
//! check.

use super::engine::{Block, Plan, Watch, run};
use super::propagate::Distribution;
use super::source::Tolerated;
use super::workpiece::{Nominal, Workpiece};
use crate::verdict::{CheckId, State};

/// What one check came to in all trials.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Odds {
    /// Which.
    pub id: CheckId,
    /// Trials in which it failed; one that cannot be read any more fails.
    pub fails: u64,
    /// Trials in which it was thin.
    pub thin: u64,
    /// Trials in which it was good.
    pub good: u64,
    /// Least of its numbers.
    pub least: f64,
    /// Greatest of its numbers.
    pub most: f64,
    /// What mean and standard deviation are worked out from.
    pub tallied: Tallied,
}

/// The numbers of a check in all trials, summed up. They are counted from the nominal, so that
/// squares keep their digits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tallied {
    /// What it reads when nothing misses, in its unit.
    pub nominal: f64,
    /// Trials in which it could be read.
    pub count: u64,
    /// Sum of what it read more than the nominal.
    pub sum: f64,
    /// Sum of the squares of that.
    pub squares: f64,
}

impl Tallied {
    /// Mean of the numbers.
    ///
    /// # Source
    /// JCGM 101:2008, 7.6.
    pub fn mean(&self) -> f64 {
        self.nominal + self.sum / self.count.max(1) as f64
    }

    /// Their standard deviation.
    ///
    /// # Source
    /// JCGM 101:2008, 7.6: Σ (y - mean)²/(M - 1) is (Σ y² - (Σ y)²/M)/(M - 1).
    pub fn standard(&self) -> f64 {
        let count = self.count.max(1) as f64;
        let square = self.squares - self.sum * self.sum / count;
        (square / (count - 1.0).max(1.0)).max(0.0).sqrt()
    }
}

impl Odds {
    /// The chance that it does not fail, 0 to 1.
    pub fn chance(&self) -> f64 {
        part(self.thin + self.good, self.fails + self.thin + self.good)
    }

    /// What that chance amounts to.
    pub fn state(&self) -> State {
        State::of_chance(self.chance())
    }

    /// Mean of its number, in its unit.
    pub fn mean(&self) -> f64 {
        self.tallied.mean()
    }

    /// Standard deviation of its number.
    pub fn standard(&self) -> f64 {
        self.tallied.standard()
    }
}

/// What many trials came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Trials {
    /// How many there were.
    pub count: u64,
    /// From which seed.
    pub seed: u64,
    /// Height of the middle crest that the wanted action needs, mm.
    pub crest: Distribution,
    /// Every check, in the order they are listed.
    pub checks: Vec<Odds>,
    /// Trials in which no check failed: it plays, with adjustment left at the saddle both
    /// ways.
    pub plays: u64,
    /// Trials in which all was good.
    pub good: u64,
    /// Trials without any layout, as a crest beyond the known top; they count as failing.
    pub without_layout: u64,
}

impl Trials {
    /// The chance that it plays with adjustment left, 0 to 1.
    pub fn chance(&self) -> f64 {
        part(self.plays, self.count)
    }

    /// What that chance amounts to.
    pub fn state(&self) -> State {
        State::of_chance(self.chance())
    }

    /// The chance that every check is good.
    pub fn chance_good(&self) -> f64 {
        part(self.good, self.count)
    }

    /// Half the width within which the chance is known with 95 % (of a binomial share).
    pub fn chance_within(&self) -> f64 {
        let chance = self.chance();
        2.0 * (chance * (1.0 - chance) / self.count.max(1) as f64).sqrt()
    }
}

fn part(of: u64, all: u64) -> f64 {
    if all == 0 { 0.0 } else { of as f64 / all as f64 }
}

/// One check in one block, as in [`Tallied`].
#[derive(Clone, Copy, Debug)]
struct Tally {
    states: [u64; 3],
    read: u64,
    sum: f64,
    squares: f64,
    least: f64,
    most: f64,
}

const NOTHING: Tally = Tally {
    states: [0; 3],
    read: 0,
    sum: 0.0,
    squares: 0.0,
    least: f64::INFINITY,
    most: f64::NEG_INFINITY,
};

#[derive(Debug)]
pub(super) struct Counts {
    checks: Vec<Tally>,
    plays: u64,
    good: u64,
    trials: u64,
    without_layout: u64,
}

/// Runs the trials of a nominal design. None if it was stopped.
pub(super) fn trials(
    nominal: &Nominal,
    tolerated: &[Tolerated],
    plan: &Plan,
    watch: &Watch<'_>,
) -> Option<Trials> {
    let centre: Vec<f64> = nominal
        .readings()
        .map(|(_, reading)| reading.map_or(0.0, |reading| reading.value))
        .collect();
    let work = |(piece, errors): &mut (Workpiece<'_>, Vec<f64>),
                stream: &mut super::engine::Stream,
                trials: u64| {
        let mut counts = Counts {
            checks: vec![NOTHING; centre.len()],
            plays: 0,
            good: 0,
            trials,
            without_layout: 0,
        };
        let mut values = Vec::with_capacity(trials as usize);
        for _ in 0..trials {
            for (error, one) in errors.iter_mut().zip(tolerated) {
                *error = stream.error(one.plus_minus, one.spread);
            }
            if !piece.make(errors) {
                counts.without_layout += 1;
                for tally in &mut counts.checks {
                    tally.states[State::Fails as usize] += 1;
                }
                continue;
            }
            let worst = counts.add(piece, &centre);
            counts.plays += u64::from(worst != State::Fails);
            counts.good += u64::from(worst == State::Good);
            values.extend(piece.layout().map(|layout| layout.middle.crest_height));
        }
        Block::new(values, counts)
    };
    let blocks = run(
        plan,
        watch,
        || (Workpiece::new(nominal, tolerated), vec![0.0; tolerated.len()]),
        work,
        |counts| part(counts.plays, counts.trials),
    )?;
    Some(summed(nominal, plan, &centre, blocks))
}

impl Counts {
    /// Counts a piece and tells its worst state.
    fn add(&mut self, piece: &Workpiece<'_>, centre: &[f64]) -> State {
        let mut worst = State::Good;
        for ((tally, reading), centre) in self.checks.iter_mut().zip(piece.readings()).zip(centre) {
            let state = reading.map_or(State::Fails, |reading| reading.state());
            tally.states[state as usize] += 1;
            worst = worst.min(state);
            if let Some(reading) = reading {
                let off = reading.value - centre;
                tally.read += 1;
                tally.sum += off;
                tally.squares += off * off;
                tally.least = tally.least.min(reading.value);
                tally.most = tally.most.max(reading.value);
            }
        }
        worst
    }
}

fn summed(nominal: &Nominal, plan: &Plan, centre: &[f64], blocks: Vec<Block<Counts>>) -> Trials {
    let mut all = Counts {
        checks: vec![NOTHING; centre.len()],
        plays: 0,
        good: 0,
        trials: 0,
        without_layout: 0,
    };
    let mut values = Vec::with_capacity(blocks.iter().map(|block| block.values.len()).sum());
    for block in blocks {
        values.extend(block.values);
        let counts = block.tally;
        all.plays += counts.plays;
        all.good += counts.good;
        all.trials += counts.trials;
        all.without_layout += counts.without_layout;
        for (sum, one) in all.checks.iter_mut().zip(counts.checks) {
            for (count, more) in sum.states.iter_mut().zip(one.states) {
                *count += more;
            }
            sum.read += one.read;
            sum.sum += one.sum;
            sum.squares += one.squares;
            sum.least = sum.least.min(one.least);
            sum.most = sum.most.max(one.most);
        }
    }
    let odds = |((id, _), (tally, centre)): (&(CheckId, _), (&Tally, &f64))| {
        let [fails, thin, good] = tally.states;
        let Tally { read: count, sum, squares, .. } = *tally;
        Odds {
            id: *id,
            fails,
            thin,
            good,
            least: tally.least,
            most: tally.most,
            tallied: Tallied { nominal: *centre, count, sum, squares },
        }
    };
    Trials {
        count: all.trials,
        seed: plan.seed,
        crest: Distribution::of(values),
        checks: nominal.checks.iter().zip(all.checks.iter().zip(centre)).map(odds).collect(),
        plays: all.plays,
        good: all.good,
        without_layout: all.without_layout,
    }
}
