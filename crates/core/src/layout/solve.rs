//! Which dimensions give so that all relations hold.
//!
//! The variables are the closing dimensions of the table, each held or found;
//! the equations are `outcome(relation, variables) = variable`, one for the crest
//! height, one for the bridge station, and one for each outcome held at a target.
//! `docs/relations.md` lists them.

use nalgebra::{DMatrix, DVector};
use num_dual::Dual64;

use super::closing::{Middle, Shape, outcome};
use super::nearest::nearest_on_plane;
use super::{Layout, Real};
use crate::design::{Design, FloorKind};
use crate::dimension::{Dim, Key, Role, Values};
use crate::joint::Seat;
use crate::units::{Angle, Unit};

/// Largest residual of a solved relation: mm, and rad for an angle. Rounding of
/// a coordinate of 1000 mm is 1e-13 mm; some twenty operations stand between.
const RESIDUAL_MM: f64 = 1e-10;
const RESIDUAL_RAD: f64 = 1e-12;

/// Places at which a single unknown is looked for over its whole range when
/// Newton's method does not arrive from where it stands.
const SCAN: usize = 128;

/// The relations that always hold.
const ALWAYS: [Dim; 2] = [Dim::CrestHeight, Dim::Station];

/// A design whose relations all hold.
#[derive(Clone, Debug)]
pub struct Solved {
    /// The design with what was found put in.
    pub design: Design,
    /// How many more found dimensions there are than relations to find them by.
    pub degrees_of_freedom: usize,
    /// Found dimensions that stand at the end of their range.
    pub at_bound: Vec<Dim>,
}

/// Held values that cannot all be true.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// The relation that cannot be satisfied with the others.
    pub relation: Dim,
    /// What it comes to as the design stands, in the unit of `relation`; none if
    /// it cannot be computed.
    pub comes_to: Option<f64>,
    /// The held dimensions that cannot all be true.
    pub members: Vec<Member>,
    /// Found dimensions that would have to pass the end of their range.
    pub beyond: Vec<Beyond>,
}

/// One of the dimensions of a conflict.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member {
    /// Which.
    pub dim: Dim,
    /// The value it would take if it alone were released, in its unit; none if
    /// that would lie out of its range, or the design would not close even so.
    pub would_be: Option<f64>,
}

/// A found dimension that would have to leave its range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beyond {
    /// Which.
    pub dim: Dim,
    /// Where it would have to go, in its unit.
    pub would_be: f64,
    /// The end of its range that is in the way, in its unit.
    pub limit: f64,
}

/// Solves for all found dimensions.
///
/// With as many relations as found dimensions they are determined; with more
/// found than that, the smallest change from where they stand is made, each
/// counted in units of its `step`. Held values are never changed.
///
/// # Method
/// A found crest height or station that no other relation needs is evaluated.
/// A single unknown: Newton's method on exact derivatives, else every change of
/// sign over its range, each closed in by bisection; the root nearest to where it
/// stands is taken. Several: sequential quadratic programming, where each step is
/// the point nearest to the start on the linearised relations within the bounds
/// (J. Nocedal & S. Wright, *Numerical Optimization*, ch. 18; from memory).
///
/// # Errors
/// [`Conflict`] when no values inside the ranges satisfy all relations.
pub fn solve(design: &Design) -> Result<Solved, Conflict> {
    let shape = Shape::of(design);
    let system = System { shape: &shape, start: Values::of(design) };
    let found: Vec<Dim> = design
        .found
        .iter()
        .filter_map(|key| Key::parse(key).ok())
        .map(|key| key.dim)
        .filter(|dim| dim.info().role == Role::Closing && dim.key().get(design).is_some())
        .collect();
    let relations: Vec<Dim> = ALWAYS
        .into_iter()
        .chain(design.targets.keys().filter_map(|key| Some(Key::parse(key).ok()?.dim)))
        .collect();

    system
        .solution(design, &found, &relations)
        .map(|(solved, _)| solved)
        .ok_or_else(|| system.conflict(design, &found, &relations))
}

/// Exact derivative of an outcome with respect to one dimension, all else as the
/// design stands; both in mm and radians. None if this kind of design lacks the
/// outcome, or it cannot be computed.
pub fn derivative(design: &Design, of: Dim, by: Dim) -> Option<f64> {
    let shape = Shape::of(design);
    let mut values = Values::of(design).map(Dual64::from_re);
    values[by] = values[by].derivative();
    let slope = outcome(of, &values, &shape, &Middle::new(&values, &shape))?.eps;
    slope.is_finite().then_some(slope)
}

#[derive(Clone, Copy, PartialEq)]
enum Bounds {
    Kept,
    Ignored,
}

struct System<'a> {
    shape: &'a Shape,
    start: Values<f64>,
}

impl System<'_> {
    /// What is left over of each relation: what it gives less what it shall be.
    /// Not a number where this kind of design lacks the outcome.
    fn residuals<D: Real>(&self, values: &Values<D>, relations: &[Dim]) -> Vec<D> {
        let middle = Middle::new(values, self.shape);
        relations
            .iter()
            .map(|&relation| match outcome(relation, values, self.shape, &middle) {
                Some(given) => given - values[relation],
                None => D::from(f64::NAN),
            })
            .collect()
    }

    fn holds(&self, values: &Values<f64>, relations: &[Dim]) -> bool {
        self.residuals(values, relations).iter().zip(relations).all(|(residual, relation)| {
            let allowed =
                if relation.info().unit == Unit::Angle { RESIDUAL_RAD } else { RESIDUAL_MM };
            residual.abs() <= allowed
        })
    }

    /// Residuals, and their derivatives by one unknown.
    fn slopes(&self, values: &Values<f64>, relations: &[Dim], by: Dim) -> Vec<Dual64> {
        let mut dual = values.map(Dual64::from_re);
        dual[by] = dual[by].derivative();
        self.residuals(&dual, relations)
    }

    /// Residuals counted in steps of their relation, and their derivatives by
    /// unknowns counted in steps.
    fn linearised(
        &self,
        values: &Values<f64>,
        unknown: &[Dim],
        relations: &[Dim],
    ) -> (DVector<f64>, DMatrix<f64>) {
        let mut residual = DVector::zeros(relations.len());
        let mut slopes = DMatrix::zeros(relations.len(), unknown.len());
        for (j, &by) in unknown.iter().enumerate() {
            for (i, dual) in self.slopes(values, relations, by).into_iter().enumerate() {
                residual[i] = dual.re / step(relations[i]);
                slopes[(i, j)] = dual.eps * step(by) / step(relations[i]);
            }
        }
        (residual, slopes)
    }

    fn rank(&self, values: &Values<f64>, unknown: &[Dim], relations: &[Dim]) -> usize {
        if unknown.is_empty() {
            return 0;
        }
        let (_, slopes) = self.linearised(values, unknown, relations);
        if !slopes.iter().all(|slope| slope.is_finite()) {
            return 0;
        }
        // below this a change of one step moves no relation by a measurable part of a step
        slopes.rank(1e-9)
    }

    /// Values that satisfy the relations with only `unknown` moved, if there are any.
    fn attempt(&self, unknown: &[Dim], relations: &[Dim], bounds: Bounds) -> Option<Values<f64>> {
        if unknown.len() > relations.len() {
            let values = self.least_change(unknown, relations, self.start, bounds)?;
            return self.holds(&values, relations).then_some(values);
        }
        // A relation whose own variable is unknown only evaluates it.
        let (explicit, implicit): (Vec<Dim>, Vec<Dim>) =
            relations.iter().copied().partition(|relation| unknown.contains(relation));
        let rest: Vec<Dim> =
            unknown.iter().copied().filter(|dim| !explicit.contains(dim)).collect();
        let mut values = match rest.as_slice() {
            [] => self.holds(&self.start, &implicit).then_some(self.start),
            &[single] => self.single(single, &implicit, bounds),
            several => self.several(several, &implicit, bounds),
        }?;
        let middle = Middle::new(&values, self.shape);
        for relation in explicit {
            let value = outcome(relation, &values, self.shape, &middle)?;
            if !value.is_finite() || (bounds == Bounds::Kept && !within(relation, value)) {
                return None;
            }
            values[relation] = value;
        }
        Some(values)
    }

    /// One unknown.
    fn single(&self, unknown: Dim, relations: &[Dim], bounds: Bounds) -> Option<Values<f64>> {
        let (low, high) = match bounds {
            Bounds::Kept => range(unknown),
            Bounds::Ignored => (f64::NEG_INFINITY, f64::INFINITY),
        };
        let start = self.start[unknown];
        if let Some(values) = self.newton(unknown, relations, start, (low, high)) {
            return Some(values);
        }
        if bounds == Bounds::Ignored {
            return None;
        }
        let place = |i: usize| low + (high - low) * i as f64 / SCAN as f64;
        let mut best: Option<(f64, Values<f64>)> = None;
        let mut before = self.probe(unknown, relations, low);
        for i in 1..=SCAN {
            let here = self.probe(unknown, relations, place(i));
            let changes = before.iter().zip(&here).any(|(a, b)| a * b <= 0.0);
            before = here;
            if !changes {
                continue;
            }
            let Some(root) = self.close_in(unknown, relations, (place(i - 1), place(i))) else {
                continue;
            };
            let away = (root[unknown] - start).abs();
            if best.as_ref().is_none_or(|(nearest, _)| away < *nearest) {
                best = Some((away, root));
            }
        }
        best.map(|(_, values)| values)
    }

    fn probe(&self, unknown: Dim, relations: &[Dim], at: f64) -> Vec<f64> {
        let mut values = self.start;
        values[unknown] = at;
        self.residuals(&values, relations)
    }

    /// Bisection of each relation that changes its sign between the ends, until
    /// Newton's method arrives.
    fn close_in(
        &self,
        unknown: Dim,
        relations: &[Dim],
        (low, high): (f64, f64),
    ) -> Option<Values<f64>> {
        (0..relations.len()).find_map(|i| {
            let residual = |at: f64| self.probe(unknown, relations, at)[i];
            let (mut low, mut high) = (low, high);
            let mut below = residual(low);
            if below * residual(high) > 0.0 {
                return None;
            }
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                let here = residual(middle);
                if below * here <= 0.0 {
                    high = middle;
                } else {
                    (low, below) = (middle, here);
                }
            }
            self.newton(unknown, relations, 0.5 * (low + high), (low, high)).or_else(|| {
                let mut values = self.start;
                values[unknown] = 0.5 * (low + high);
                self.holds(&values, relations).then_some(values)
            })
        })
    }

    /// Newton's method on the relation that answers most to the unknown.
    fn newton(
        &self,
        unknown: Dim,
        relations: &[Dim],
        start: f64,
        (low, high): (f64, f64),
    ) -> Option<Values<f64>> {
        let mut values = self.start;
        values[unknown] = start;
        for _ in 0..40 {
            let duals = self.slopes(&values, relations, unknown);
            let lead = duals
                .iter()
                .zip(relations)
                .max_by(|(a, r), (b, s)| {
                    (a.eps / step(**r)).abs().total_cmp(&(b.eps / step(**s)).abs())
                })?
                .0;
            let change = lead.re / lead.eps;
            if lead.re == 0.0 || !change.is_finite() {
                break;
            }
            let next = (values[unknown] - change).clamp(low, high);
            let moved = (next - values[unknown]).abs();
            values[unknown] = next;
            if moved <= 1e-15 * next.abs().max(step(unknown)) {
                break;
            }
        }
        self.holds(&values, relations).then_some(values)
    }

    /// As many unknowns as relations, or fewer: from where they stand, else from
    /// other places in their ranges.
    fn several(&self, unknown: &[Dim], relations: &[Dim], bounds: Bounds) -> Option<Values<f64>> {
        const OTHER_STARTS: usize = 12;
        (0..=OTHER_STARTS).find_map(|attempt| {
            let mut start = self.start;
            if attempt > 0 {
                for (i, &dim) in unknown.iter().enumerate() {
                    // the Kronecker sequence of the square roots of primes: spread
                    // evenly, and the same every time
                    const ROOTS: [f64; 6] = [
                        std::f64::consts::SQRT_2,
                        1.732_050_807_568_877_2,
                        2.236_067_977_499_79,
                        2.645_751_311_064_590_7,
                        3.316_624_790_355_4,
                        3.605_551_275_463_989,
                    ];
                    let (low, high) = range(dim);
                    let part = (attempt as f64 * ROOTS[i % ROOTS.len()]).fract();
                    start[dim] = low + (high - low) * part;
                }
            }
            let values = self.least_change(unknown, relations, start, bounds)?;
            self.holds(&values, relations).then_some(values)
        })
    }

    /// The point nearest to `start` at which the relations hold.
    fn least_change(
        &self,
        unknown: &[Dim],
        relations: &[Dim],
        start: Values<f64>,
        bounds: Bounds,
    ) -> Option<Values<f64>> {
        let room = |dim: Dim| match bounds {
            Bounds::Kept => range(dim),
            Bounds::Ignored => (f64::NEG_INFINITY, f64::INFINITY),
        };
        let low = DVector::from_iterator(
            unknown.len(),
            unknown.iter().map(|&dim| (room(dim).0 - start[dim]) / step(dim)),
        );
        let high = DVector::from_iterator(
            unknown.len(),
            unknown.iter().map(|&dim| (room(dim).1 - start[dim]) / step(dim)),
        );
        let at = |moved: &DVector<f64>| {
            let mut values = start;
            for (&dim, by) in unknown.iter().zip(moved.iter()) {
                values[dim] = start[dim] + by * step(dim);
            }
            values
        };
        let mut moved = DVector::zeros(unknown.len());
        for _ in 0..60 {
            let (residual, slopes) = self.linearised(&at(&moved), unknown, relations);
            if !residual.iter().chain(slopes.iter()).all(|x| x.is_finite()) {
                return None;
            }
            let target = &slopes * &moved - &residual;
            let next = nearest_on_plane(&slopes, &target, &low, &high)?;
            let change = (&next - &moved).amax();
            moved = next;
            if change <= 1e-13 * moved.amax().max(1.0) {
                break;
            }
        }
        Some(at(&moved))
    }

    /// The design with what was found put in, and all values.
    fn solution(
        &self,
        design: &Design,
        found: &[Dim],
        relations: &[Dim],
    ) -> Option<(Solved, Values<f64>)> {
        let values = self.attempt(found, relations, Bounds::Kept)?;
        let mut solved = design.clone();
        let mut at_bound = Vec::new();
        for &dim in found.iter().filter(|dim| dim.info().role == Role::Closing) {
            let info = dim.info();
            let value = info.outward(values[dim]).clamp(info.low, info.high);
            if value == info.low || value == info.high {
                at_bound.push(dim);
            }
            // a value that did not move keeps the digits it was given
            if values[dim] != self.start[dim] {
                dim.key().set(&mut solved, value);
            }
        }
        if design.joint.floor_kind != FloorKind::Free {
            let pitch = values[Dim::Pitch].sin_cos();
            solved.joint.floor = Angle::from_radians(Seat::new(&values, self.shape, pitch).floor);
        }
        let degrees_of_freedom = found.len() - self.rank(&values, found, relations);
        Some((Solved { design: solved, degrees_of_freedom, at_bound }, values))
    }

    /// What stands in the way of the relations.
    fn conflict(&self, design: &Design, found: &[Dim], relations: &[Dim]) -> Conflict {
        let mut kept: Vec<Dim> = Vec::new();
        let mut violated = relations[0];
        for &relation in relations {
            kept.push(relation);
            if self.attempt(found, &kept, Bounds::Kept).is_none() {
                violated = relation;
                break;
            }
        }
        let answers = |by: Dim| {
            self.slopes(&self.start, &kept, by)
                .iter()
                .zip(&kept)
                .map(|(dual, &relation)| (dual.eps * step(by) / step(relation)).abs() > 1e-9)
                .collect::<Vec<bool>>()
        };
        let members = Dim::ALL
            .iter()
            .copied()
            .filter(|dim| match dim.info().role {
                Role::Closing => !found.contains(dim) && dim.key().get(design).is_some(),
                Role::Outcome => design.targets.contains_key(dim.info().key),
                Role::Given => false,
            })
            .filter_map(|dim| {
                let touched = answers(dim);
                if !touched.contains(&true) {
                    return None;
                }
                let mut free = found.to_vec();
                free.push(dim);
                // a way out is one that closes: all relations hold, and it can be laid out
                let would_be = self
                    .solution(design, &free, relations)
                    .filter(|(solved, values)| {
                        solved.design.contradiction().is_none()
                            && Layout::of_shape(&solved.design, values, self.shape.clone()).is_ok()
                    })
                    .map(|(_, values)| dim.info().outward(values[dim]));
                // one that touches only what is satisfied matters if it helps
                let direct = touched.last().copied().unwrap_or_default();
                (direct || would_be.is_some()).then_some(Member { dim, would_be })
            })
            .collect();
        let beyond = match self.attempt(found, &kept, Bounds::Ignored) {
            Some(values) => found
                .iter()
                .filter(|&&dim| !within(dim, values[dim]))
                .map(|&dim| {
                    let info = dim.info();
                    let would_be = info.outward(values[dim]);
                    let limit = if would_be < info.low { info.low } else { info.high };
                    Beyond { dim, would_be, limit }
                })
                .collect(),
            None => Vec::new(),
        };
        let comes_to =
            outcome(violated, &self.start, self.shape, &Middle::new(&self.start, self.shape))
                .map(|value| violated.info().outward(value))
                .filter(|value| value.is_finite());
        Conflict { relation: violated, comes_to, members, beyond }
    }
}

/// The step of a dimension in the unit of the geometry.
fn step(dim: Dim) -> f64 {
    dim.info().inward(dim.info().step)
}

/// The range of a dimension in the unit of the geometry.
fn range(dim: Dim) -> (f64, f64) {
    let info = dim.info();
    (info.inward(info.low), info.inward(info.high))
}

fn within(dim: Dim, value: f64) -> bool {
    let (low, high) = range(dim);
    // a value that was put to its limit comes back by a rounding error off
    let rounding = 1e-12 * high.abs().max(low.abs());
    (low - rounding..=high + rounding).contains(&value)
}
