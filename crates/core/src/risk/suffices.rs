//! How true a dimension must be held to be sure enough.

use super::engine::{Count, Plan, Watch};
use super::source::{Source, Tolerated};
use super::trials::trials;
use super::workpiece::Nominal;
use crate::dimension::Dim;
use crate::units::Angle;

/// What ± suffices.
#[derive(Clone, Debug, PartialEq)]
pub struct Suffices {
    /// What is held truer, or may be held less true, with the ± that suffices. Both ends of a
    /// seat go together. None where no ± is small enough.
    pub hold: Option<Vec<(Source, f64)>>,
    /// For a seat: what that is as ± of the pitch (two standard uncertainties), degrees.
    pub pitch: Option<f64>,
    /// The chance with it, 0 to 1; where none is small enough, with none of its error at all.
    pub chance: f64,
    /// Whether ten times the present ± would still do: it hardly matters then.
    pub any: bool,
}

/// Largest multiple of the present ± that is looked at.
pub(super) const MOST: f64 = 10.0;

/// Trials for each look.
pub(super) const LOOK: u64 = 20_000;

/// Inverts the chance for one dimension: of the pitch or overstand from a seat, for both ends
/// of it together. None if it was stopped or there is no such error in this design.
pub(super) fn suffices(
    nominal: &Nominal,
    tolerated: &[Tolerated],
    of: Source,
    sure: f64,
    seed: u64,
    watch: &Watch<'_>,
) -> Option<Suffices> {
    let seat = |source: Source| matches!(source, Source::SeatMouth | Source::SeatInner);
    let from_seat = tolerated.iter().any(|one| seat(one.source));
    let whole_seat = from_seat
        && matches!(of, Source::Dim(key) if matches!(key.dim, Dim::Pitch | Dim::Overstand));
    let ours = |source: Source| if whole_seat { seat(source) } else { source == of };
    if !tolerated.iter().any(|one| ours(one.source)) {
        return None;
    }
    let plan = Plan { trials: Count::Exactly(LOOK), seed };
    let scaled = |factor: f64| -> Vec<Tolerated> {
        let scale = |one: &Tolerated| {
            let by = if ours(one.source) { factor } else { 1.0 };
            Tolerated { plus_minus: one.plus_minus * by, ..*one }
        };
        tolerated.iter().map(scale).collect()
    };
    // the same draws each time, so that a smaller ± is not worse by chance
    let mut looks = 0;
    let mut chance = |factor: f64| {
        looks += 1;
        watch.tell(looks, HALVINGS + 2);
        Some(trials(nominal, &scaled(factor), &plan, &watch.silent())?.chance())
    };
    let perfect = chance(0.0)?;
    if perfect < sure {
        return Some(Suffices { hold: None, pitch: None, chance: perfect, any: false });
    }
    let widest = chance(MOST)?;
    let (mut low, mut high) = (0.0, MOST);
    let mut reached = perfect;
    if widest >= sure {
        (low, reached) = (MOST, widest);
    } else {
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            let here = chance(middle)?;
            if here >= sure {
                (low, reached) = (middle, here);
            } else {
                high = middle;
            }
        }
    }
    let held: Vec<Tolerated> = scaled(low).into_iter().filter(|one| ours(one.source)).collect();
    let pitch = whole_seat.then(|| {
        // dθ = cos² φ (e_i - e_m)/ℓ
        let cos = nominal.values[Dim::Floor].cos();
        let both = held.iter().map(|one| one.standard().powi(2)).sum::<f64>().sqrt();
        let turn = both * cos * cos / nominal.values[Dim::TenonLength];
        2.0 * Angle::from_radians(turn).to_degrees()
    });
    Some(Suffices {
        hold: Some(held.into_iter().map(|one| (one.source, one.plus_minus)).collect()),
        pitch,
        chance: reached,
        any: widest >= sure,
    })
}

/// Halvings of the range: to a five-hundredth of the present ±.
pub(super) const HALVINGS: u64 = 12;
