use super::{CheckId, State, readings};
use crate::design::Design;
use crate::dimension::{Dim, Key, Part};
use crate::layout::{Layout, solve};
use crate::sentence::{Sentence, degrees, mm, sentence};
use crate::study::Study;
use crate::units::Unit;

/// A change of one dimension that mends a check.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// The check it mends.
    pub check: CheckId,
    /// What to change.
    pub key: Key,
    /// What it is now, in its unit.
    pub from: f64,
    /// What to make it, in its unit.
    pub to: f64,
    /// What the check then reads, in its unit.
    pub then: f64,
    /// The state the check is then in.
    pub state: State,
    /// All this in a sentence.
    pub says: Sentence,
    /// The design with the change held and everything found solved anew.
    pub design: Design,
}

/// Places looked at on either side of the present value.
const PLACES: i32 = 24;

/// Changes of a single dimension that make a failing or thin check good (or at least
/// better by a state), most usual first. None is offered that makes another check fail
/// or thin that was better before.
///
/// The dimension is held at the new value and what is found is solved anew; a
/// dimension that is found can be mended only by releasing the crest height to follow
/// in its place, and so on: see [`trial`].
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
    let mut found = Vec::new();
    for &dim in id.kind().mends {
        for key in keys(&study.design, dim) {
            found.extend(remedy(study, id, key, now, &before));
        }
    }
    // those that make it good before those that only make it better
    found.sort_by_key(|remedy| std::cmp::Reverse(remedy.state));
    found
}

fn keys(design: &Design, dim: Dim) -> Vec<Key> {
    let count = match dim.info().part() {
        Part::String => design.strings.len(),
        Part::Pickup => design.pickups.len(),
        _ => 1,
    };
    (0..count).map(|index| Key { dim, index }).filter(|key| key.get(design).is_some()).collect()
}

fn states(design: &Design, layout: &Layout) -> Vec<(CheckId, State)> {
    readings(design, layout).map(|(check, reading)| (check, reading.state())).collect()
}

/// The design with `key` held at `value` and the rest solved anew.
///
/// If `key` is one that is found, something else must give instead: the crest height
/// if it is held, since a saddle can be moved after the glue is dry.
fn trial(design: &Design, key: Key, value: f64) -> Option<(Design, Layout)> {
    let mut changed = design.clone();
    key.set(&mut changed, value);
    if changed.found.remove(key.dim.info().key) {
        changed.found.insert(Dim::CrestHeight.info().key.to_owned());
    }
    if !changed.faults().is_empty() {
        return None;
    }
    let solved = solve(&changed).ok()?.design;
    let layout = Layout::of(&solved).ok()?;
    Some((solved, layout))
}

/// The least change of one dimension that helps.
fn remedy(
    study: &Study,
    id: CheckId,
    key: Key,
    now: State,
    before: &[(CheckId, State)],
) -> Option<Remedy> {
    let info = key.dim.info();
    let from = key.get(&study.design)?;
    let margin = |value: f64| {
        let (design, layout) = trial(&study.design, key, value)?;
        super::reading(&design, &layout, id).map(|reading| reading.margin())
    };
    // Values at the bench come in round steps; the change grows outward so that the
    // least one is met first.
    let grain = match info.unit {
        Unit::Angle => 0.05,
        Unit::Length if info.digits >= 2 => 0.05,
        Unit::Length if info.digits == 0 => 5.0,
        _ => 0.1,
    };
    let round = |value: f64| {
        let rounded = (value / grain).round() * grain;
        // leaves no 12.000000000000002 behind
        (rounded * 1e6).round() / 1e6
    };
    let mut best: Option<(f64, f64)> = None;
    for side in [1.0, -1.0] {
        let mut inside = from;
        for place in 1..=PLACES {
            // quadratic growth: fine near the present value, and far enough in the end
            let reach = f64::from(place * place) / f64::from(PLACES * PLACES);
            let room = if side > 0.0 { info.high - from } else { from - info.low };
            let outside = from + side * room * reach;
            match margin(outside) {
                Some(value) if value >= 1.0 => {
                    // the edge of good lies between: bisect to below the grain
                    let (mut bad, mut good) = (inside, outside);
                    while (good - bad).abs() > grain / 8.0 {
                        let middle = 0.5 * (bad + good);
                        if margin(middle).is_some_and(|value| value >= 1.0) {
                            good = middle;
                        } else {
                            bad = middle;
                        }
                    }
                    let mut value = round(good);
                    if margin(value).is_none_or(|value| value < 1.0 - 1e-9) {
                        value = round(good + side * grain / 2.0);
                    }
                    let change = (value - from).abs();
                    if best.is_none_or(|(least, _)| change < least) {
                        best = Some((change, value));
                    }
                    break;
                }
                Some(_) => inside = outside,
                None => {}
            }
        }
    }
    let (_, to) = best?;
    if to == from || !(info.low..=info.high).contains(&to) {
        return None;
    }
    let (design, layout) = trial(&study.design, key, to)?;
    let after = states(&design, &layout);
    let worse = before
        .iter()
        .any(|(check, state)| after.iter().any(|(other, then)| other == check && then < state));
    let reading = super::reading(&design, &layout, id)?;
    if worse || reading.state() <= now {
        return None;
    }
    let quantity = |value: f64, unit: Unit, digits: usize| match unit {
        Unit::Angle => degrees(value, digits),
        _ => mm(value, digits),
    };
    let says = sentence![
        key.name(&study.design),
        " of ",
        quantity(to, info.unit, info.digits),
        " instead of ",
        quantity(from, info.unit, info.digits),
        " would bring it to ",
        quantity(reading.value, id.unit(), id.kind().digits),
        "."
    ];
    Some(Remedy {
        check: id,
        key,
        from,
        to,
        then: reading.value,
        state: reading.state(),
        says,
        design,
    })
}
