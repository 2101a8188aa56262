//! A design with some of its dimensions put elsewhere and the crest following.

use crate::design::Design;
use crate::dimension::Values;
use crate::dimension::{Dim, Key};
use crate::layout::{Layout, Shape, solve};
use crate::verdict::{CheckId, numbers};

/// The design with these dimensions held at these values, in their units; crest height and
/// bridge station follow, and whatever else it finds. None where it does not close.
///
/// What it finds is changed: whoever shows it puts [`Design::found`] back.
pub(super) fn posed(design: &Design, puts: &[(Key, f64)]) -> Option<Design> {
    let mut changed = design.clone();
    for &(key, value) in puts {
        key.set(&mut changed, value);
        changed.found.remove(key.dim.info().key);
    }
    for follows in [Dim::CrestHeight, Dim::Station] {
        changed.found.insert(follows.info().key.to_owned());
    }
    if !changed.faults().is_empty() {
        return None;
    }
    Some(solve(&changed).ok()?.design).filter(|solved| solved.contradiction().is_none())
}

/// A design with these dimensions where they are put and the crest following, as on a map;
/// what it holds and finds is as the maker chose it. None where it does not close there.
pub fn aimed(design: &Design, puts: &[(Key, f64)]) -> Option<Design> {
    let found = design.found.clone();
    posed(design, puts).map(|posed| Design { found, ..posed })
}

/// The worst margin of a solved design, in units of the thin band (0 where it fails, 1 where
/// it is good), and of which check; none without a layout.
pub(super) fn worst_margin(design: &Design) -> Option<(f64, Option<CheckId>)> {
    let layout = Layout::of_shape(design, &Values::of(design), Shape::of(design)).ok()?;
    Some(numbers(design, &layout).fold((f64::INFINITY, None), |worst, (id, reading)| {
        let margin = reading.margin();
        if margin < worst.0 { (margin, Some(id)) } else { worst }
    }))
}
