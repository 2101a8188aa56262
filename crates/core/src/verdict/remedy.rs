use super::{CheckId, State, readings};
use crate::design::Design;
use crate::dimension::{Dim, Dimension, Key, Part};
use crate::layout::{Layout, solve};
use crate::sentence::{Sentence, degrees, mm, sentence};
use crate::strings::relief_search;
use crate::study::Study;
use crate::units::Unit;

/// A change that mends a check.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// The check it mends.
    pub check: CheckId,
    /// What to change: one dimension, or two that move together.
    pub changes: Vec<Change>,
    /// What gives where the changed dimension is one that is found.
    pub gives: Option<Dim>,
    /// What the check then reads, in its unit.
    pub then: f64,
    /// The state the check is then in.
    pub state: State,
    /// Other checks that it puts into a worse state.
    pub costs: Vec<CheckId>,
    /// All this in a sentence.
    pub says: Sentence,
    /// The design with the change made and everything found solved anew. What is held
    /// and what is found is as the maker chose it.
    pub design: Design,
}

/// A dimension put to another value, in its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// Which.
    pub key: Key,
    /// What it is now.
    pub from: f64,
    /// What to make it.
    pub to: f64,
}

/// Places looked at on either side of the present value.
const PLACES: i32 = 24;

/// Changes that make a failing or thin check good (or at least lift it well out of
/// failing), the most usual first. One that makes another check worse is offered only
/// where there is none that does not, and says so.
///
/// What changes is held at its new value and what is found is solved anew. Where it is
/// itself found, the crest height gives in its place, since a saddle can be moved after the
/// glue is dry; or the pitch, where the crest is what changes.
pub fn remedies(study: &Study, id: CheckId) -> Vec<Remedy> {
    let Some(layout) = study.layout() else {
        return Vec::new();
    };
    let before = states(&study.design, layout);
    let Some(&(_, now)) = before.iter().find(|(check, _)| *check == id) else {
        return Vec::new();
    };
    if now == State::Good {
        return Vec::new();
    }
    let search = Search { design: &study.design, id, now, before: &before };
    let mut found: Vec<Remedy> = id
        .kind()
        .mends
        .iter()
        .flat_map(|dims| together(&study.design, dims))
        .filter_map(|keys| search.remedy(&keys))
        .fold(Vec::new(), |mut found, remedy| {
            // all of a list together may come to the same as one of them alone
            if found.iter().all(|other: &Remedy| other.changes != remedy.changes) {
                found.push(remedy);
            }
            found
        });
    if found.is_empty()
        && let Some(sets) = last_resort(&study.design, id)
    {
        let (keys, values): (Vec<Key>, Vec<f64>) = sets.into_iter().unzip();
        found.extend(search.made(&keys, &values));
    }
    if found.iter().any(|remedy| remedy.costs.is_empty()) {
        found.retain(|remedy| remedy.costs.is_empty());
    }
    // those that make it good before those that only make it better
    found.sort_by_key(|remedy| (remedy.costs.len(), std::cmp::Reverse(remedy.state)));
    found
}

/// What may be set, each to its own value, where no move of a check's own mends it: open
/// strings too low over fret 1 and too much relief above it take more than one.
fn last_resort(design: &Design, id: CheckId) -> Option<Vec<(Key, f64)>> {
    let (wanted, reserve) = relief_search::asked(design);
    (id == CheckId::Headroom).then(|| relief_search::set_up_for(design, wanted + reserve))?
}

/// The dimensions of a design that move together; of a listed one, each by itself and then
/// all of them. None where this kind of design lacks one of them.
fn together(design: &Design, dims: &[Dim]) -> Vec<Vec<Key>> {
    let count = match dims.first().map(|dim| dim.info().part()) {
        Some(Part::String) => design.strings.len(),
        Some(Part::Pickup) => design.pickups.len(),
        Some(Part::Cavity) => design.cavities.len(),
        _ => 1,
    };
    let at = |index: usize| dims.iter().map(move |&dim| Key { dim, index });
    let mut groups: Vec<Vec<Key>> = (0..count).map(|index| at(index).collect()).collect();
    if count > 1 {
        groups.push((0..count).flat_map(at).collect());
    }
    groups.retain(|keys| keys.iter().all(|key| key.get(design).is_some()));
    groups
}

fn states(design: &Design, layout: &Layout) -> Vec<(CheckId, State)> {
    readings(design, layout).map(|(check, reading)| (check, reading.state())).collect()
}

/// The check to mend, and how things stand before.
struct Search<'a> {
    design: &'a Design,
    id: CheckId,
    now: State,
    before: &'a [(CheckId, State)],
}

impl Search<'_> {
    /// What gives in place of a dimension that is found.
    fn gives(&self, keys: &[Key]) -> Option<Dim> {
        let found = keys.iter().find(|key| self.design.found.contains(key.dim.info().key))?;
        Some(if found.dim == Dim::CrestHeight { Dim::Pitch } else { Dim::CrestHeight })
    }

    /// The design with the keys at these values and the rest solved anew.
    fn trial(&self, keys: &[Key], values: &[f64]) -> Option<(Design, Layout)> {
        let design = self.design;
        let mut changed = design.clone();
        for (key, &value) in keys.iter().zip(values) {
            key.set(&mut changed, value);
            changed.found.remove(key.dim.info().key);
        }
        if let Some(gives) = self.gives(keys) {
            changed.found.insert(gives.info().key.to_owned());
        }
        if !changed.faults().is_empty() {
            return None;
        }
        let mut solved = solve(&changed).ok()?.design;
        if solved.contradiction().is_some() {
            return None;
        }
        let layout = Layout::of(&solved).ok()?;
        solved.found.clone_from(&design.found);
        Some((solved, layout))
    }

    fn margin(&self, keys: &[Key], values: &[f64]) -> Option<f64> {
        let (design, layout) = self.trial(keys, values)?;
        super::reading(&design, &layout, self.id).map(|reading| reading.margin())
    }

    /// Values of some keys, changed as little as helps: each pickup by itself; others all
    /// by the same amount, or else each toward their mean.
    fn least_change(&self, keys: &[Key], wanted: f64) -> Option<Vec<f64>> {
        let pickups = keys.iter().all(|key| key.dim.info().part() == Part::Pickup);
        if pickups && keys.len() > 1 {
            return keys.iter().map(|key| self.pickup_alone(*key, wanted)).collect();
        }
        self.change_together(keys, wanted)
    }

    /// The value that one pickup's dimension must take, whatever the other pickups do.
    fn pickup_alone(&self, key: Key, wanted: f64) -> Option<f64> {
        let mut design = self.design.clone();
        design.pickups = vec![self.design.pickups.get(key.index)?.clone()];
        let alone = Search { design: &design, ..*self };
        let only = Key { dim: key.dim, index: 0 };
        let now = only.get(&design)?;
        if alone.margin(&[only], &[now])? >= wanted {
            return Some(now);
        }
        alone.change_together(&[only], wanted)?.first().copied()
    }

    fn change_together(&self, keys: &[Key], wanted: f64) -> Option<Vec<f64>> {
        let now: Vec<f64> = keys.iter().map(|key| key.get(self.design)).collect::<Option<_>>()?;
        let enough = |values: &[f64]| {
            self.margin(keys, values).is_some_and(|margin| margin >= wanted - 1e-9)
        };
        let (info, from) = (keys.first()?.dim.info(), *now.first()?);
        let shifted = |to: f64| -> Vec<f64> {
            now.iter().map(|value| without_dust(value + to - from)).collect()
        };
        let grain = grain(info);
        let shift = [1.0, -1.0]
            .into_iter()
            .filter_map(|side| {
                let shifted_enough = |to: f64| enough(&shifted(to));
                least_step(from, (info.low, info.high), side, grain, &shifted_enough)
            })
            .min_by(|a, b| (a - from).abs().total_cmp(&(b - from).abs()))
            .map(shifted);
        shift.or_else(|| {
            const STEPS: u32 = 10;
            let mean = now.iter().sum::<f64>() / now.len() as f64;
            (1..=STEPS)
                .filter(|_| now.len() > 1)
                .map(|step| {
                    let part = f64::from(step) / f64::from(STEPS);
                    let toward = |value: &f64| value + (mean - value) * part;
                    now.iter()
                        .map(|value| without_dust((toward(value) / grain).round() * grain))
                        .collect::<Vec<f64>>()
                })
                .find(|values| enough(values))
        })
    }

    /// The least change of some keys together that helps.
    fn remedy(&self, keys: &[Key]) -> Option<Remedy> {
        // good if that can be had; from failing, well into thin is better than nothing
        let wanted: &[f64] = if self.now == State::Fails { &[1.0, 0.2] } else { &[1.0] };
        let to = wanted.iter().find_map(|&wanted| self.least_change(keys, wanted))?;
        self.made(keys, &to)
    }

    /// What comes of some keys at these values.
    fn made(&self, keys: &[Key], to: &[f64]) -> Option<Remedy> {
        let design = self.design;
        let (mended, layout) = self.trial(keys, to)?;
        let after = states(&mended, &layout);
        let costs: Vec<CheckId> = self
            .before
            .iter()
            .filter(|(check, state)| {
                after.iter().any(|(other, then)| other == check && then < state)
            })
            .map(|(check, _)| *check)
            .collect();
        let reading = super::reading(&mended, &layout, self.id)?;
        if reading.state() <= self.now {
            return None;
        }
        let changes: Vec<Change> = keys
            .iter()
            .filter_map(|&key| {
                let from = key.get(design)?;
                Some(Change { key, from, to: key.get(&mended)? })
            })
            .filter(|change| change.from != change.to)
            .collect();
        Some(Remedy {
            check: self.id,
            says: says(design, &changes, self.id, reading.value, &costs),
            changes,
            costs,
            gives: self.gives(keys),
            then: reading.value,
            state: reading.state(),
            design: mended,
        })
    }
}

/// A value without the 12.000000000000002 that a sum leaves.
fn without_dust(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

/// The step in which values are given at the bench, in the dimension's unit.
fn grain(info: &Dimension) -> f64 {
    match info.unit {
        Unit::Angle => 0.05,
        Unit::Length if info.digits >= 2 => 0.05,
        Unit::Length if info.digits == 0 => 5.0,
        _ => 0.1,
    }
}

fn says(
    design: &Design,
    changes: &[Change],
    id: CheckId,
    then: f64,
    costs: &[CheckId],
) -> Sentence {
    let quantity = |value: f64, unit: Unit, digits: usize| match unit {
        Unit::Angle => degrees(value, digits),
        _ => mm(value, digits),
    };
    let mut sentence = Sentence::default();
    for (i, change) in changes.iter().enumerate() {
        let info = change.key.dim.info();
        if i > 0 {
            sentence.0.extend(sentence![" and "].0);
        }
        let part = sentence![
            change.key.name(design),
            " of ",
            quantity(change.to, info.unit, info.digits),
            " instead of ",
            quantity(change.from, info.unit, info.digits),
        ];
        sentence.0.extend(part.0);
    }
    let end = sentence![" would bring it to ", quantity(then, id.unit(), id.kind().digits), "."];
    sentence.0.extend(end.0);
    if !costs.is_empty() {
        let names: Vec<String> = costs.iter().map(|id| id.name().to_lowercase()).collect();
        sentence.0.extend(sentence![format!(" But it costs: {}.", names.join(", "))].0);
    }
    sentence
}

/// The value nearest to `from` on one side (+1 up, -1 down) of the range that is enough,
/// in whole grains.
fn least_step(
    from: f64,
    (low, high): (f64, f64),
    side: f64,
    grain: f64,
    enough: &dyn Fn(f64) -> bool,
) -> Option<f64> {
    let room = if side > 0.0 { high - from } else { from - low };
    let mut not_enough = from;
    for place in 1..=PLACES {
        // quadratic growth: fine near the present value, and far enough in the end
        let reach = f64::from(place * place) / f64::from(PLACES * PLACES);
        let far = from + side * room * reach;
        if !enough(far) {
            not_enough = far;
            continue;
        }
        // the edge lies between: halve to below the grain
        let mut edge = far;
        while (edge - not_enough).abs() > grain / 8.0 {
            let middle = 0.5 * (edge + not_enough);
            if enough(middle) {
                edge = middle;
            } else {
                not_enough = middle;
            }
        }
        let whole = |value: f64| {
            let grains = (value / grain * side).ceil() * side;
            without_dust(grains * grain)
        };
        let value = whole(edge);
        return (enough(value) && (low..=high).contains(&value) && value != from).then_some(value);
    }
    None
}
