//! Where two dimensions may lie for the set to play.

use std::sync::atomic::{AtomicU64, Ordering};

use rayon::prelude::*;

use super::budget::made;
use super::engine::{Plan, Stream, Watch};
use super::posed::{posed, worst_margin};
use super::propagate::{FirstOrder, Quantity};
use super::source::Tolerated;
use super::workpiece::{Nominal, Workpiece};
use crate::design::Design;
use crate::dimension::{Dim, Key, Role};
use crate::units::Unit;
use crate::verdict::{CheckId, State};

/// Which two dimensions, how far, and how fine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapAsk {
    /// Dimension across.
    pub across: Key,
    /// Dimension upward.
    pub up: Key,
    /// Range across, in its unit; none for a few steps about where it stands.
    pub across_range: Option<(f64, f64)>,
    /// Range upward.
    pub up_range: Option<(f64, f64)>,
    /// Cells along either side.
    pub cells: usize,
    /// Pieces of the cloud.
    pub cloud: usize,
    /// The cloud's seed.
    pub seed: u64,
}

impl MapAsk {
    /// Pitch across, overstand upward.
    pub fn usual() -> Self {
        Self::of(Dim::Pitch.key(), Dim::Overstand.key())
    }

    /// Any two.
    pub fn of(across: Key, up: Key) -> Self {
        Self {
            across,
            up,
            across_range: None,
            up_range: None,
            cells: 48,
            cloud: 400,
            seed: Plan::USUAL_SEED,
        }
    }
}

/// Most cells along a side.
const MOST_CELLS: usize = 400;

/// Most pieces of a cloud.
const MOST_CLOUD: usize = 20_000;

/// Halvings by which a boundary is found within a cell: to a thousandth of it.
const HALVINGS: usize = 10;

/// Where the set plays, over two dimensions.
#[derive(Clone, Debug, PartialEq)]
pub struct Map {
    /// Dimension across, and its values at the nodes, in its unit.
    pub across: (Key, Vec<f64>),
    /// Dimension upward, and its values at the nodes.
    pub up: (Key, Vec<f64>),
    /// Worst margin at each node, row by row from the lowest, in units of the thin band: fails
    /// at 0 and below, thin below 1, good from 1; none where the design does not close.
    pub margins: Vec<Option<f64>>,
    /// Which check has it.
    pub worst: Vec<Option<CheckId>>,
    /// Pieces of the line between failing and thin, on which it just plays.
    pub plays: Vec<[(f64, f64); 2]>,
    /// Pieces of the line between thin and good.
    pub good: Vec<[(f64, f64); 2]>,
    /// Where the design stands, and how it spreads about there.
    pub around: Around,
}

/// Where a design stands on a map, and how it spreads about there.
#[derive(Clone, Debug, PartialEq)]
pub struct Around {
    /// Where the design stands.
    pub point: (f64, f64),
    /// Covariance of the two as they are made: of the one across, of both, of the one upward;
    /// in their units.
    pub covariance: (f64, f64, f64),
    /// Pieces as they may come out.
    pub cloud: Vec<CloudPoint>,
}

/// One piece of the cloud.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CloudPoint {
    /// Its value across.
    pub across: f64,
    /// Its value upward.
    pub up: f64,
    /// Its worst check: all the rest of it misses, too.
    pub state: State,
}

impl Around {
    /// The ellipse that holds 95 % of what is made, were the errors normal: so many points,
    /// closed.
    ///
    /// # Source
    /// Two independent normal variables lie within √(-2 ln 0.05) = 2.448 standard deviations
    /// with 95 %; the ellipse is that circle carried by the root of the covariance.
    pub fn ellipse(&self, points: usize) -> Vec<(f64, f64)> {
        let (xx, xy, yy) = self.covariance;
        let (along, lean) = (xx.max(0.0).sqrt(), if xx > 0.0 { xy / xx.sqrt() } else { 0.0 });
        let rest = (yy - lean * lean).max(0.0).sqrt();
        let radius = (-2.0 * 0.05_f64.ln()).sqrt();
        (0..=points)
            .map(|i| {
                let (sin, cos) =
                    (std::f64::consts::TAU * i as f64 / points.max(1) as f64).sin_cos();
                let x = radius * along * cos;
                (self.point.0 + x, self.point.1 + radius * (lean * cos + rest * sin))
            })
            .collect()
    }
}

/// The dimensions of a design that a map may be drawn over: all that have a size and do not
/// follow from the rest.
pub fn map_keys(design: &Design) -> Vec<Key> {
    Key::all_of(design)
        .into_iter()
        .filter(|key| {
            let info = key.dim.info();
            info.role != Role::Outcome
                && info.unit != Unit::Count
                && !matches!(key.dim, Dim::CrestHeight | Dim::Station)
        })
        .collect()
}

/// Draws the map of a solved design. None if it was stopped or a dimension is none of
/// [`map_keys`].
pub(super) fn map(
    nominal: &Nominal,
    design: &Design,
    tolerated: &[Tolerated],
    ask: &MapAsk,
    watch: &Watch<'_>,
) -> Option<Map> {
    let point = point(design, ask)?;
    let cells = ask.cells.clamp(1, MOST_CELLS);
    let across = nodes(ask.across, point.0, ask.across_range, cells);
    let up = nodes(ask.up, point.1, ask.up_range, cells);
    let at = |x: f64, y: f64| worst_margin(&posed(design, &[(ask.across, x), (ask.up, y)])?);
    let side = cells + 1;
    let done = AtomicU64::new(0);
    let rows: Option<Vec<Vec<_>>> = up
        .par_iter()
        .map(|&y| {
            if watch.stopped() {
                return None;
            }
            let row = across.iter().map(|&x| at(x, y)).collect();
            watch.tell(done.fetch_add(1, Ordering::Relaxed) + 1, side as u64);
            Some(row)
        })
        .collect();
    let nodes: Vec<_> = rows?.into_iter().flatten().collect();
    let margins: Vec<Option<f64>> =
        nodes.iter().map(|node| node.map(|(margin, _)| margin)).collect();
    let lines = |level: f64| {
        contour(&across, &up, &margins, level, &|x, y| {
            at(x, y).is_some_and(|(margin, _)| above(margin, level))
        })
    };
    let (plays, good) = (lines(0.0), lines(1.0));
    if watch.stopped() {
        return None;
    }
    Some(Map {
        plays,
        good,
        worst: nodes.iter().map(|node| node.and_then(|(_, id)| id)).collect(),
        margins,
        around: around(nominal, design, tolerated, ask)?,
        across: (ask.across, across),
        up: (ask.up, up),
    })
}

/// Where the design stands. None if a dimension is none of [`map_keys`].
fn point(design: &Design, ask: &MapAsk) -> Option<(f64, f64)> {
    let keys = map_keys(design);
    if !keys.contains(&ask.across) || !keys.contains(&ask.up) || ask.across == ask.up {
        return None;
    }
    Some((ask.across.get(design)?, ask.up.get(design)?))
}

/// See [`super::Risk::around`].
pub(super) fn around(
    nominal: &Nominal,
    design: &Design,
    tolerated: &[Tolerated],
    ask: &MapAsk,
) -> Option<Around> {
    Some(Around {
        point: point(design, ask)?,
        covariance: covariance(nominal, tolerated, ask.across, ask.up),
        cloud: cloud(nominal, tolerated, ask),
    })
}

/// As [`crate::design::Limit::state`] tells states apart.
fn above(margin: f64, level: f64) -> bool {
    const ROUNDING: f64 = 1e-9;
    if level > 0.5 { margin >= level - ROUNDING } else { margin > level + ROUNDING }
}

fn nodes(key: Key, at: f64, range: Option<(f64, f64)>, cells: usize) -> Vec<f64> {
    let info = key.dim.info();
    let (low, high) = range.unwrap_or((at - 6.0 * info.step, at + 6.0 * info.step));
    let (low, high) = (low.min(high).max(info.low), high.max(low).min(info.high));
    (0..=cells).map(|i| low + (high - low) * i as f64 / cells as f64).collect()
}

/// Marching squares: where the line passes through the edges of each cell, found on the
/// design itself and not between the nodes.
fn contour(
    across: &[f64],
    up: &[f64],
    margins: &[Option<f64>],
    level: f64,
    inside: &(dyn Fn(f64, f64) -> bool + Sync),
) -> Vec<[(f64, f64); 2]> {
    let side = across.len();
    let is_in =
        |i: usize, j: usize| margins[j * side + i].is_some_and(|margin| above(margin, level));
    let cell = |i: usize, j: usize| {
        let corners = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)];
        let crossings: Vec<(f64, f64)> = (0..4)
            .filter_map(|edge| {
                let (a, b) = (corners[edge], corners[(edge + 1) % 4]);
                if is_in(a.0, a.1) == is_in(b.0, b.1) {
                    return None;
                }
                let (within, without) = if is_in(a.0, a.1) { (a, b) } else { (b, a) };
                let mut ends =
                    [(across[within.0], up[within.1]), (across[without.0], up[without.1])];
                for _ in 0..HALVINGS {
                    let middle = (0.5 * (ends[0].0 + ends[1].0), 0.5 * (ends[0].1 + ends[1].1));
                    ends[usize::from(!inside(middle.0, middle.1))] = middle;
                }
                Some((0.5 * (ends[0].0 + ends[1].0), 0.5 * (ends[0].1 + ends[1].1)))
            })
            .collect();
        match *crossings.as_slice() {
            [a, b] => vec![[a, b]],
            // a saddle: cut off the corners that are in
            [a, b, c, d] if is_in(i, j) => vec![[a, d], [b, c]],
            [a, b, c, d] => vec![[a, b], [c, d]],
            _ => Vec::new(),
        }
    };
    (0..up.len() - 1)
        .into_par_iter()
        .map(|j| (0..side - 1).flat_map(|i| cell(i, j)).collect::<Vec<_>>())
        .collect::<Vec<_>>()
        .concat()
}

/// Covariance of two dimensions as they are made, to first order, in their units.
fn covariance(nominal: &Nominal, tolerated: &[Tolerated], across: Key, up: Key) -> (f64, f64, f64) {
    let errors: Vec<Quantity> = tolerated
        .iter()
        .map(|one| Quantity { estimate: 0.0, plus_minus: one.plus_minus, spread: one.spread })
        .collect();
    let parts = |key: Key| -> Vec<f64> {
        if key.dim.info().is_listed() {
            let own = |one: &Tolerated| one.source == super::Source::Dim(key);
            return tolerated
                .iter()
                .map(|one| if own(one) { one.standard() } else { 0.0 })
                .collect();
        }
        FirstOrder::of(&errors, |errors| made(nominal, tolerated, errors)[key.dim])
            .contributions
            .into_iter()
            .map(|part| key.dim.info().outward(part))
            .collect()
    };
    let (x, y) = (parts(across), parts(up));
    let sum = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    (sum(&x, &x), sum(&x, &y), sum(&y, &y))
}

fn cloud(nominal: &Nominal, tolerated: &[Tolerated], ask: &MapAsk) -> Vec<CloudPoint> {
    let mut stream = Stream::new(ask.seed, 0);
    let mut piece = Workpiece::new(nominal, tolerated);
    let mut errors = vec![0.0; tolerated.len()];
    (0..ask.cloud.min(MOST_CLOUD))
        .filter_map(|_| {
            for (error, one) in errors.iter_mut().zip(tolerated) {
                *error = stream.error(one.plus_minus, one.spread);
            }
            piece.make(&errors);
            let state = piece.worst_state();
            Some(CloudPoint { across: piece.value(ask.across)?, up: piece.value(ask.up)?, state })
        })
        .collect()
}
