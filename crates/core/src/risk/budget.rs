//! What each error costs: exact slopes, the worst case, and the root of the sum of squares.

use num_dual::Dual64;

use super::propagate::{FirstOrder, Quantity};
use super::source::{Source, Tolerated};
use super::workpiece::{Nominal, seat_moved};
use crate::dimension::{Dim, Values};
use crate::layout::{Middle, outcome};
use crate::verdict::crests_needed;

/// What one source does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// What may miss, and by how much.
    pub tolerated: Tolerated,
    /// Crest height that the wanted action then needs, mm for each unit (mm or degree).
    pub crest: f64,
    /// Action at its fret if the saddle is left where it is, mm for each unit.
    pub action: f64,
    /// What it adds to the lesser reserve of the saddle, mm for each unit.
    pub reserve: f64,
    /// Change of the crest height when it misses by its whole ±, mm.
    pub worst: f64,
    /// Standard uncertainty that it contributes to the crest height, mm.
    pub standard: f64,
    /// Its part of the crest height's variance, 0 to 1.
    pub share: f64,
}

/// The budget of the crest height.
///
/// In all of it the made dimensions miss, the wanted action stays, the filed slots stay, and
/// the crest height is what follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// Crest height when nothing misses, mm.
    pub crest_height: f64,
    /// Every source, the one with the largest part first.
    pub rows: Vec<Row>,
    /// ± of the crest height when everything misses fully to the worse side, mm.
    pub worst_case: f64,
    /// Its standard uncertainty, root of the sum of squares, mm.
    pub standard: f64,
    /// The same of what cannot be set right later.
    pub standard_fixed: f64,
    /// Reserve of the saddle below and above when nothing misses, mm: that of the string, or of
    /// the post, that has the least.
    pub reserve: (f64, f64),
}

/// Quantile of the normal distribution that leaves 2.5 % on either side: half the width of
/// the 95 % interval in standard uncertainties.
pub const COVERAGE_95: f64 = 1.959_963_984_540_054;

impl Budget {
    /// ± within which the crest height lies with 95 %, were its error normal, mm.
    pub fn within_95(&self) -> f64 {
        COVERAGE_95 * self.standard
    }

    pub(super) fn of(nominal: &Nominal, tolerated: &[Tolerated]) -> Self {
        let errors: Vec<Quantity> = tolerated
            .iter()
            .map(|one| Quantity { estimate: 0.0, plus_minus: one.plus_minus, spread: one.spread })
            .collect();
        let crest = FirstOrder::of(&errors, |errors| {
            let values = made(nominal, tolerated, errors);
            let middle = Middle::new(&values, &nominal.shape);
            outcome(Dim::CrestHeight, &values, &nominal.shape, &middle).unwrap_or(f64::NAN.into())
        });
        let by_action = by_action(nominal);
        let (low, high) = nominal.design.bridge.kind.crest_range();
        let (least, most) = crests_needed(&nominal.layout);
        let reserve = (least - low.to_mm(), high.to_mm() - most);
        let mut rows: Vec<Row> = tolerated
            .iter()
            .enumerate()
            .map(|(i, &tolerated)| {
                let slope = crest.slopes[i];
                Row {
                    tolerated,
                    crest: slope,
                    action: -slope / by_action,
                    reserve: by_reserve(tolerated.source, slope, reserve),
                    worst: (slope * tolerated.plus_minus).abs(),
                    standard: crest.contributions[i].abs(),
                    share: crest.share(i),
                }
            })
            .collect();
        rows.sort_by(|a, b| b.share.total_cmp(&a.share));
        let fixed = rows.iter().filter(|row| row.tolerated.later.is_none());
        Self {
            crest_height: crest.value,
            standard_fixed: fixed.map(|row| row.standard * row.standard).sum::<f64>().sqrt(),
            rows,
            worst_case: crest.worst_case,
            standard: crest.standard,
            reserve,
        }
    }
}

/// The values of a piece made with these errors, each in the unit of its source.
pub(super) fn made(
    nominal: &Nominal,
    tolerated: &[Tolerated],
    errors: &[Dual64],
) -> Values<Dual64> {
    let mut values = nominal.values.map(Dual64::from_re);
    let (mut mouth, mut inner) = (Dual64::from_re(0.0), Dual64::from_re(0.0));
    for (one, error) in tolerated.iter().zip(errors) {
        match one.source {
            Source::SeatMouth => mouth += *error,
            Source::SeatInner => inner += *error,
            Source::Dim(key) if key.dim.info().is_listed() => {}
            Source::Dim(key) => values[key.dim] += *error * one.source.inward(1.0),
        }
    }
    seat_moved(&mut values, mouth, inner);
    values
}

/// How much the middle crest rises for each mm of action.
fn by_action(nominal: &Nominal) -> f64 {
    let mut values = nominal.values.map(Dual64::from_re);
    for dim in [Dim::ActionBass, Dim::ActionTreble] {
        values[dim] = values[dim].derivative();
    }
    let middle = Middle::new(&values, &nominal.shape);
    outcome(Dim::CrestHeight, &values, &nominal.shape, &middle).map_or(f64::NAN, |crest| crest.eps)
}

/// How the lesser reserve changes: with the crest, and with the end of the bridge's range
/// that is nearer.
fn by_reserve(source: Source, crest: f64, (below, above): (f64, f64)) -> f64 {
    let dim = match source {
        Source::Dim(key) => Some(key.dim),
        Source::SeatMouth | Source::SeatInner => None,
    };
    let down = below <= above;
    match dim {
        Some(Dim::CrestLow | Dim::SaddleLow) => {
            if down {
                -1.0
            } else {
                0.0
            }
        }
        Some(Dim::CrestHigh | Dim::SaddleHigh) => {
            if down {
                0.0
            } else {
                1.0
            }
        }
        Some(Dim::BridgeThickness) => {
            if down {
                -1.0
            } else {
                1.0
            }
        }
        _ if down => crest,
        _ => -crest,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Risk, Source, sources};
    use crate::design::Design;
    use crate::dimension::Dim;
    use crate::study::Study;
    use crate::testing::worked_example;
    use crate::units::Length;
    use crate::verdict::CheckId;

    /// The lesser reserve is the one that the check of the saddle's travel works out.
    #[test]
    fn the_reserve_is_that_of_the_check() {
        let study = Study::of(&worked_example());
        let (below, above) = Risk::of(&study).unwrap().budget.reserve;
        let checks = &study.closed().unwrap().checks;
        let check = checks.iter().find(|check| check.id == CheckId::SaddleTravel).unwrap();
        // the slots filed, the same crest comes through another sum of about 1000 mm
        assert!((below.min(above) - check.working.result).abs() < 1e-9, "{below} {above}");
    }

    /// There are no crowns that could miss.
    #[test]
    fn a_fretless_board_has_no_error_of_crowns() {
        let has_crowns = |design: &Design| {
            let crown = Source::Dim(Dim::Crown.key());
            sources(design).iter().any(|one| one.source == crown)
        };
        let mut design = worked_example();
        assert!(has_crowns(&design));
        design.scale.frets = 0;
        design.board.crown = Length::mm(0.0);
        assert!(!has_crowns(&design));
    }
}
