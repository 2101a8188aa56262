//! Where to aim so that a miss still plays.

use std::cmp::Ordering;

use super::engine::{Count, Plan, Watch};
use super::posed::posed;
use super::source::Tolerated;
use super::trials::trials;
use super::workpiece::Nominal;
use super::worst::spreads;
use crate::design::Design;
use crate::dimension::Key;
use crate::verdict::{Change, CheckId, Reading};

/// How safe a nominal is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// The worst margin when everything within its ± misses to the worse side, in units of
    /// the thin band: it fails at 0 and below.
    pub margin: f64,
    /// Of which check.
    pub check: Option<CheckId>,
    /// What that check then reads; none where nothing can be read any more.
    pub worst: Option<Reading>,
    /// The chance that it plays with adjustment left, 0 to 1.
    pub chance: f64,
    /// The chance that every check is good.
    pub chance_good: f64,
    /// Trials in which it played, and all of them.
    pub played: (u64, u64),
}

/// A better aim.
#[derive(Clone, Debug, PartialEq)]
pub struct Better {
    /// What changes: the chosen dimensions, and the crest height and whatever else follows.
    pub changes: Vec<Change>,
    /// How safe it is.
    pub standing: Standing,
    /// The design to apply. What it holds and finds is as the maker chose it.
    pub design: Design,
}

/// How safe a design is, and where it would be safer.
#[derive(Clone, Debug, PartialEq)]
pub struct Safest {
    /// As it stands.
    pub now: Standing,
    /// Where the worst margin over all that may miss is largest.
    pub widest: Better,
    /// Where the chance is highest.
    pub likeliest: Better,
}

/// Trials with which a place is tried in the search for the highest chance.
const SEARCH: Plan = Plan { trials: Count::Exactly(10_000), seed: Plan::USUAL_SEED };

/// Places on either side of a scan, and how much finer each following one is.
const PLACES: i32 = 10;
const FINER: f64 = 8.0;
const ROUNDS: i32 = 3;

/// Seeks the safest nominal by moving the chosen dimensions. `nominal` is that of the
/// design, solved. None if it was stopped, or if a dimension cannot be chosen.
pub(super) fn safest(
    nominal: &Nominal,
    design: &Design,
    keys: &[Key],
    plan: &Plan,
    watch: &Watch<'_>,
) -> Option<Safest> {
    let allowed = super::map_keys(design);
    if keys.is_empty() || !keys.iter().all(|key| allowed.contains(key)) {
        return None;
    }
    let start: Vec<f64> = keys.iter().map(|key| key.get(design)).collect::<Option<_>>()?;
    let search = Search { design, keys, watch, tries: std::cell::Cell::new(0) };
    let widest = search.best(&start, |nominal, tolerated| {
        let mut margins: Vec<f64> =
            spreads(nominal, tolerated).into_iter().map(|one| one.worst_margin).collect();
        margins.sort_unstable_by(f64::total_cmp);
        Some(margins)
    })?;
    let likeliest = search.best(&start, |nominal, tolerated| {
        let trials = trials(nominal, tolerated, &SEARCH, &watch.silent())?;
        Some(vec![trials.plays as f64, trials.good as f64])
    })?;
    let tolerated = super::sources(&nominal.design);
    Some(Safest {
        now: standing(nominal, &tolerated, plan, watch)?,
        widest: search.better(&widest, plan)?,
        likeliest: search.better(&likeliest, plan)?,
    })
}

struct Search<'a> {
    design: &'a Design,
    keys: &'a [Key],
    watch: &'a Watch<'a>,
    tries: std::cell::Cell<u64>,
}

impl Search<'_> {
    fn at(&self, values: &[f64]) -> Option<Design> {
        let puts: Vec<(Key, f64)> = self.keys.iter().copied().zip(values.iter().copied()).collect();
        posed(self.design, &puts)
    }

    /// The place with the greatest worth, found by scanning each dimension in turn, then
    /// finer about the best. Worths are compared figure by figure, the first that differs
    /// decides; of equal ones the place nearer to the start is taken.
    fn best(
        &self,
        start: &[f64],
        worth: impl Fn(&Nominal, &[Tolerated]) -> Option<Vec<f64>>,
    ) -> Option<Vec<f64>> {
        let total = 2 * (ROUNDS * (2 * PLACES + 1)) as u64 * self.keys.len() as u64;
        let worth_at = |values: &[f64]| {
            let tries = self.tries.get() + 1;
            self.tries.set(tries);
            self.watch.tell(tries.min(total), total);
            let nominal = Nominal::of(&self.at(values)?).ok()?;
            worth(&nominal, &super::sources(&nominal.design))
        };
        let mut best = start.to_vec();
        let mut best_worth = worth_at(&best);
        for round in 0..ROUNDS {
            for (i, key) in self.keys.iter().enumerate() {
                let info = key.dim.info();
                let grain = grain(*key);
                let step = (info.step / FINER.powi(round)).max(grain);
                let from = best[i];
                for place in (1..=PLACES).flat_map(|place| [place, -place]) {
                    if self.watch.stopped() {
                        return None;
                    }
                    let value = whole(from + f64::from(place) * step, grain);
                    if !(info.low..=info.high).contains(&value) {
                        continue;
                    }
                    let mut values = best.clone();
                    values[i] = value;
                    let found = worth_at(&values);
                    if greater(&found, &best_worth) {
                        (best, best_worth) = (values, found);
                    }
                }
            }
        }
        Some(best)
    }

    fn better(&self, values: &[f64], plan: &Plan) -> Option<Better> {
        let mut design = self.at(values)?;
        let nominal = Nominal::of(&design).ok()?;
        let standing = standing(&nominal, &super::sources(&design), plan, self.watch)?;
        design.found.clone_from(&self.design.found);
        let changes = Key::all_of(&design)
            .into_iter()
            .filter_map(|key| {
                let (from, to) = (key.get(self.design)?, key.get(&design)?);
                // what changes by less than is shown is not told
                let same = (from - to).abs() < 0.5 * grain(key);
                (!same && key.dim.info().role != crate::dimension::Role::Outcome)
                    .then_some(Change { key, from, to })
            })
            .collect();
        Some(Better { changes, standing, design })
    }
}

/// The step in which an aim is given, in its unit.
fn grain(key: Key) -> f64 {
    10.0_f64.powi(-(key.dim.info().digits.min(3) as i32))
}

fn whole(value: f64, grain: f64) -> f64 {
    let per_unit = (1.0 / grain).round();
    (value * per_unit).round() / per_unit
}

fn greater(a: &Option<Vec<f64>>, b: &Option<Vec<f64>>) -> bool {
    let (Some(a), Some(b)) = (a, b) else { return a.is_some() };
    if a.len() != b.len() {
        return a.len() > b.len();
    }
    let differs = a.iter().zip(b).find(|(a, b)| (*a - *b).abs() > 1e-9);
    differs.is_some_and(|(a, b)| a.total_cmp(b) == Ordering::Greater)
}

fn standing(
    nominal: &Nominal,
    tolerated: &[Tolerated],
    plan: &Plan,
    watch: &Watch<'_>,
) -> Option<Standing> {
    let trials = trials(nominal, tolerated, plan, &watch.silent())?;
    let worst = spreads(nominal, tolerated)
        .into_iter()
        .min_by(|a, b| a.worst_margin.total_cmp(&b.worst_margin));
    Some(Standing {
        margin: worst.map_or(f64::INFINITY, |one| one.worst_margin),
        check: worst.map(|one| one.id),
        worst: worst.and_then(|one| one.worst),
        played: (trials.plays, trials.count),
        chance: trials.chance(),
        chance_good: trials.chance_good(),
    })
}
