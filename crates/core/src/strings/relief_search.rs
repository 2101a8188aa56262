//! Which relief lets the strings be played hardest.
//!
//! Relief makes room where the open string and low stops swing, and takes it where high
//! stops do: with the action at its fret kept, there is a best one.

use crate::design::Design;
use crate::dimension::{Dim, Key};
use crate::layout::Layout;
use crate::verdict::CheckId;

use super::pluck::{Most, Plucking};

/// Least headroom of all strings at one relief.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtRelief {
    /// The relief, mm.
    pub relief: f64,
    /// Travel at the pluck without contact, of the string that takes the least, mm; negative
    /// where it touches at rest.
    pub headroom: f64,
    /// That string, from 0.
    pub string: usize,
    /// Where it touches first.
    pub at: Most,
}

/// Reliefs that are looked at, mm.
pub const RANGE: (f64, f64) = (-0.1, 0.8);

/// Headroom at one relief, with the wanted heights over fret 1 and the action fret kept: the
/// crest follows. None where there is no layout.
pub fn at_relief(design: &Design, relief: f64) -> Option<AtRelief> {
    let (_, layout) = with_relief(design, relief)?;
    let plucking = Plucking::new(&layout, design.wanted.pluck_place.to_mm());
    (0..layout.strings.len())
        .filter_map(|string| {
            let at = plucking.signed_of_string(string)?;
            Some(AtRelief { relief, headroom: at.most, string, at })
        })
        .min_by(|a, b| a.headroom.total_cmp(&b.headroom))
}

/// The design with another relief, and its layout: the crest follows.
pub(crate) fn with_relief(design: &Design, relief: f64) -> Option<(Design, Layout)> {
    let mut trial = design.clone();
    Dim::Relief.key().set(&mut trial, relief);
    let layout = Layout::of(&trial).ok()?;
    Some((trial, layout))
}

/// Headroom over relief, for a plot: `points` of them, evenly over -0.1 to 0.8 mm.
pub fn curve(design: &Design, points: u32) -> Vec<AtRelief> {
    let (low, high) = RANGE;
    let steps = points.max(2) - 1;
    (0..=steps)
        .filter_map(|i| at_relief(design, low + (high - low) * f64::from(i) / f64::from(steps)))
        .collect()
}

/// The relief with the most headroom for the wanted action.
///
/// Between the kinks where another note begins to touch first the headroom is smooth, and
/// each note's own is a straight line of the relief: the least of straight lines has one
/// peak, found by halving a bracket (golden section).
pub fn best(design: &Design) -> Option<AtRelief> {
    let (mut low, mut high) = RANGE;
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    let height = |relief| at_relief(design, relief).map_or(f64::NEG_INFINITY, |at| at.headroom);
    let mut inner = [high - golden * (high - low), low + golden * (high - low)];
    let mut heights = inner.map(height);
    while high - low > 0.002 {
        if heights[0] < heights[1] {
            low = inner[0];
            inner = [inner[1], low + golden * (high - low)];
            heights = [heights[1], height(inner[1])];
        } else {
            high = inner[1];
            inner = [high - golden * (high - low), inner[0]];
            heights = [height(inner[0]), heights[0]];
        }
    }
    at_relief(design, 0.5 * (low + high))
}

/// The same to a hundredth of a millimetre: finer is not set at the bench. Of the hundredths
/// around it the one with the most headroom.
pub fn best_at_bench(design: &Design) -> Option<AtRelief> {
    let hundredths = best(design)?.relief * 100.0;
    [hundredths.floor(), hundredths.ceil()]
        .into_iter()
        .filter_map(|at| at_relief(design, at / 100.0))
        .max_by(|a, b| a.headroom.total_cmp(&b.headroom))
}

/// The travel that is asked for: the wanted one, and what keeps the check of it good, mm.
pub fn asked(design: &Design) -> (f64, f64) {
    let reserve = CheckId::Headroom.limit(design).thin_below.unwrap_or(0.0);
    (design.wanted.pluck_travel.to_mm(), reserve.max(0.0))
}

/// What [`action_for`] comes to at the bench: its change of action in whole steps of 0.05 mm,
/// never too little, and all that is then set, the best relief with it. None where no action
/// within its limits does.
pub fn action_at_bench(design: &Design, travel: f64) -> Option<(f64, Vec<(Key, f64)>)> {
    let (shift, _) = action_for(design, travel)?;
    let shift = (shift * 20.0).ceil() / 20.0;
    let mut trial = design.clone();
    let mut sets = Vec::new();
    for key in [Dim::ActionBass.key(), Dim::ActionTreble.key()] {
        // no dust of the last binary place
        let to = ((key.get(design)? + shift) * 1e6).round() / 1e6;
        key.set(&mut trial, to);
        sets.push((key, to));
    }
    sets.push((Dim::Relief.key(), best_at_bench(&trial)?.relief));
    Some((shift, sets))
}

/// All that a travel asks of a set-up: the clearance over fret 1 raised only as far as the
/// open strings need it, in steps of 0.05 mm, then the action with its best relief as
/// [`action_at_bench`] has them. None where that does not do within the limits.
pub fn set_up_for(design: &Design, travel: f64) -> Option<Vec<(Key, f64)>> {
    const STEP: f64 = 0.05;
    const STEPS: u32 = 40;
    let keys = [Dim::FirstFretBass.key(), Dim::FirstFretTreble.key()];
    (0..=STEPS).find_map(|step| {
        let mut trial = design.clone();
        let mut sets = Vec::new();
        for key in keys {
            let to = key.get(design)? + STEP * f64::from(step);
            let to = (to * 1e6).round() / 1e6;
            if to > key.dim.info().high {
                return None;
            }
            key.set(&mut trial, to);
            sets.push((key, to));
        }
        if at_highest_action(&trial)?.headroom < travel {
            return None;
        }
        let (_, action) = action_at_bench(&trial, travel)?;
        sets.extend(action);
        sets.retain(|(key, to)| key.get(design) != Some(*to));
        Some(sets)
    })
}

/// The best relief with the action as high as it may be set: what still touches first there
/// is not mended by action, as an open string that lies low over fret 1.
pub fn at_highest_action(design: &Design) -> Option<AtRelief> {
    let keys = [Dim::ActionBass.key(), Dim::ActionTreble.key()];
    let room = |key: Key| Some(key.dim.info().high - key.get(design)?);
    let shift = room(keys[0])?.min(room(keys[1])?);
    let mut trial = design.clone();
    for key in keys {
        key.set(&mut trial, key.get(design)? + shift);
    }
    best(&trial)
}

/// What the wanted hardness costs: the change of action, the same for bass and treble and as
/// small as can be, that gives the wanted travel at the best relief. Negative where the
/// action can come down. None where no action within its limits does.
pub fn action_for(design: &Design, travel: f64) -> Option<(f64, AtRelief)> {
    let at = |shift: f64| {
        let mut trial = design.clone();
        for dim in [Dim::ActionBass, Dim::ActionTreble] {
            let key = dim.key();
            let value = key.get(design)? + shift;
            let info = dim.info();
            if !(info.low..=info.high).contains(&value) {
                return None;
            }
            key.set(&mut trial, value);
        }
        best(&trial)
    };
    let enough = |shift: f64| at(shift).is_some_and(|best| best.headroom >= travel);
    let mut high = [0.0, 0.5, 1.0, 2.0, 4.0, 8.0].into_iter().find(|&shift| enough(shift))?;
    let mut low = if high > 0.0 { high / 2.0 - 0.25 } else { -4.0 };
    while high - low > 0.005 {
        let middle = 0.5 * (low + high);
        if enough(middle) { high = middle } else { low = middle }
    }
    Some((high, at(high)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::worked_example;

    #[test]
    fn the_best_relief_is_the_peak_of_the_curve() {
        let design = worked_example();
        let curve = curve(&design, 91);
        assert_eq!(curve.len(), 91);
        let peak = curve.iter().max_by(|a, b| a.headroom.total_cmp(&b.headroom)).unwrap();
        let best = best(&design).unwrap();
        // the curve has a point every 0.01 mm
        assert!((best.relief - peak.relief).abs() <= 0.012, "{} {}", best.relief, peak.relief);
        assert!(best.headroom >= peak.headroom - 0.01);
        let bench = best_at_bench(&design).unwrap();
        assert!(((bench.relief * 100.0).round() - bench.relief * 100.0).abs() < 1e-9);
        assert!(bench.headroom <= best.headroom + 0.01);
        assert!(curve.iter().all(|at| at.headroom <= bench.headroom + 1e-9));
        // inside the range: too little and too much both cost
        assert!(curve[0].headroom < best.headroom && curve[90].headroom < best.headroom);
    }

    #[test]
    fn the_action_that_a_hardness_needs() {
        let design = worked_example();
        let travel = 1.2;
        let (shift, best) = action_for(&design, travel).unwrap();
        assert!(shift > 0.0 && best.headroom >= travel);
        assert!(best.headroom < travel + 0.02, "more than is needed: {}", best.headroom);
        assert!(action_for(&design, 1000.0).is_none());
        // the open string swings 1 mm for 110/35 of that at the pluck, whatever the action is
        let highest = at_highest_action(&design).unwrap();
        assert_eq!((highest.at.stop, highest.at.fret), (0, 1));
        let most = 0.4 * 110.0 / (628.0 * crate::layout::fret_ratio(1));
        assert!((highest.headroom / most - 1.0).abs() < 1e-9, "{}", highest.headroom);
        let mut set = design.clone();
        for (key, value) in set_up_for(&design, 2.0).unwrap() {
            key.set(&mut set, value);
        }
        assert!(at_relief(&set, set.wanted.relief.to_mm()).unwrap().headroom >= 2.0);
        assert!(set.wanted.first_fret_bass > design.wanted.first_fret_bass);
        let (coarse, sets) = action_at_bench(&design, travel).unwrap();
        assert!((shift..shift + 0.05).contains(&coarse), "{coarse} for {shift}");
        let mut set = design.clone();
        for (key, value) in sets {
            key.set(&mut set, value);
        }
        let relief = set.wanted.relief.to_mm();
        assert!(at_relief(&set, relief).unwrap().headroom >= travel);
    }
}
