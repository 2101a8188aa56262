//! What errors within their ± do to each check: the worst, and the root of squares.

use super::CheckSpread;
use super::source::Tolerated;
use super::workpiece::{Nominal, Workpiece};
use crate::verdict::{CheckId, Reading};

/// Rounds in which a corner is made worse, at most; it takes two or three.
const ROUNDS: usize = 8;

/// What an end must leave less than the other to count, in thin bands.
const ROUNDING: f64 = 1e-12;

/// How each check spreads.
///
/// # The worst over the box in which every error lies within its ±
/// What a check reads is the least of what strings, frets and both ends of its range leave;
/// each of these is all but straight in every error, so that its worst lies at a corner of
/// the box. From the corner that leaves less when errors miss one by one, and from the opposite
/// one as well, every error in turn is put to its other end and left there if that is worse,
/// until none is: of what decides at that corner it is the worst. The opposite corner is where
/// another string, fret or end of the range decides. It could be missed only where something
/// that decides at no corner on either way is worse elsewhere (in none of 1500 boxes of 8
/// errors three times as wide as usual), or where a check bends so much that its worst lies
/// inside.
///
/// # The root of the sum of squares
/// What an error does alone is half of what the check reads with it at one end of its ± less
/// what it reads with it at the other, exactly and not by a slope; so much is as uncertain, of
/// its ±, as the error itself (JCGM 100:2008, 5.1.2 and 5.1.3 note 2).
pub(super) fn spreads(nominal: &Nominal, tolerated: &[Tolerated]) -> Vec<CheckSpread> {
    let mut boxed =
        Boxed { piece: Workpiece::new(nominal, tolerated), checks: nominal.checks.len() };
    let count = tolerated.len();
    let of_none = boxed.readings(&vec![0.0; count]);
    let mut corners = vec![Vec::with_capacity(count); boxed.checks];
    let mut squares = vec![Some(0.0); boxed.checks];
    for (one, low, high) in both_ends(tolerated, |errors| boxed.readings(errors)) {
        for (check, (low, high)) in low.into_iter().zip(high).enumerate() {
            let is_low_worse = margin(low) < margin(high);
            corners[check].push(if is_low_worse { -one.plus_minus } else { one.plus_minus });
            let alone = Alone::of(one, low, high).map(|alone| alone.standard());
            squares[check] = squares[check].zip(alone).map(|(sum, alone)| sum + alone * alone);
        }
    }
    let checks = nominal.checks.iter().zip(of_none).zip(corners).zip(squares).enumerate();
    checks
        .map(|(check, ((((id, _), of_none), mut corner), sum))| {
            let mut opposite: Vec<f64> = corner.iter().map(|error| -error).collect();
            let worst = lesser(
                lesser(of_none, boxed.worst_from(check, &mut corner)),
                boxed.worst_from(check, &mut opposite),
            );
            let standard = sum.map(f64::sqrt).filter(|root| root.is_finite());
            CheckSpread { id: *id, worst, worst_margin: margin(worst), standard }
        })
        .collect()
}

/// What one error does to a check by itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Alone {
    pub(super) error: Tolerated,
    /// What the check reads with it at the lower end of its ±, in its unit.
    pub(super) low: f64,
    /// The same at the upper end.
    pub(super) high: f64,
}

impl Alone {
    fn of(error: Tolerated, low: Option<Reading>, high: Option<Reading>) -> Option<Self> {
        Some(Self { error, low: low?.value, high: high?.value })
    }

    /// What the check reads more for each unit of the error, between both ends.
    pub(super) fn slope(&self) -> f64 {
        let width = 2.0 * self.error.plus_minus;
        if width > 0.0 { (self.high - self.low) / width } else { 0.0 }
    }

    /// Standard uncertainty that it brings, with the sign of its slope.
    pub(super) fn standard(&self) -> f64 {
        self.slope() * self.error.standard()
    }
}

/// What each error does to one check by itself; none if one of them leaves nothing to read, or
/// of a check that the design has not.
pub(super) fn alone(nominal: &Nominal, tolerated: &[Tolerated], id: CheckId) -> Option<Vec<Alone>> {
    let check = nominal.checks.iter().position(|(one, _)| *one == id)?;
    let mut piece = Workpiece::new(nominal, tolerated);
    let read = |errors: &[f64]| {
        piece.make(errors);
        piece.reading(check)
    };
    both_ends(tolerated, read).map(|(one, low, high)| Alone::of(one, low, high)).collect()
}

/// What is read with each error alone at the lower and at the upper end of its ±, none of the
/// others missing.
fn both_ends<R>(
    tolerated: &[Tolerated],
    mut read: impl FnMut(&[f64]) -> R,
) -> impl Iterator<Item = (Tolerated, R, R)> {
    let mut errors = vec![0.0; tolerated.len()];
    tolerated.iter().enumerate().map(move |(place, &one)| {
        let mut with = |error: f64| {
            errors[place] = error;
            read(&errors)
        };
        let (low, high) = (with(-one.plus_minus), with(one.plus_minus));
        errors[place] = 0.0;
        (one, low, high)
    })
}

struct Boxed<'a> {
    piece: Workpiece<'a>,
    checks: usize,
}

impl Boxed<'_> {
    /// What all checks read with these errors.
    fn readings(&mut self, errors: &[f64]) -> Vec<Option<Reading>> {
        self.piece.make(errors);
        self.piece.readings().collect()
    }

    /// Makes a corner worse for one check, error by error, until no single one does.
    fn worst_from(&mut self, check: usize, corner: &mut [f64]) -> Option<Reading> {
        let at = |piece: &mut Workpiece<'_>, corner: &[f64]| {
            piece.make(corner);
            piece.reading(check)
        };
        let mut worst = at(&mut self.piece, corner);
        for _ in 0..ROUNDS {
            let before = margin(worst);
            for i in 0..corner.len() {
                corner[i] = -corner[i];
                let there = at(&mut self.piece, corner);
                if margin(there) < margin(worst) - ROUNDING {
                    worst = there;
                } else {
                    corner[i] = -corner[i];
                }
            }
            if margin(worst) == before {
                break;
            }
        }
        worst
    }
}

fn lesser(one: Option<Reading>, other: Option<Reading>) -> Option<Reading> {
    if margin(other) < margin(one) { other } else { one }
}

/// What cannot be read any more fails beyond all measure.
fn margin(reading: Option<Reading>) -> f64 {
    reading.map_or(f64::NEG_INFINITY, |reading| reading.margin())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Spread;
    use crate::risk::engine::Stream;
    use crate::risk::sources;
    use crate::strings::gauges::SETS;
    use crate::study::Study;
    use crate::testing::worked_example;

    /// Some errors at a time: every corner of their box is made, and pieces within.
    #[test]
    fn no_corner_is_worse_and_nothing_within() {
        let mut design = worked_example();
        SETS[1].put_on(&mut design);
        let nominal = Nominal::of(&Study::of(&design).design).unwrap();
        let all = sources(&nominal.design);
        let mut stream = Stream::new(7, 0);
        for _ in 0..24 {
            let mut some = all.clone();
            while some.len() > 8 {
                let part = stream.error(0.5, Spread::Rectangular) + 0.5;
                some.swap_remove((part * some.len() as f64) as usize);
            }
            // large ones bend most
            some.iter_mut().for_each(|one| one.plus_minus *= 3.0);
            let found = spreads(&nominal, &some);
            let mut boxed =
                Boxed { piece: Workpiece::new(&nominal, &some), checks: nominal.checks.len() };
            let mut corners = vec![f64::INFINITY; boxed.checks];
            for corner in 0..1_u32 << some.len() {
                let end = |(i, one): (usize, &Tolerated)| {
                    if corner >> i & 1 == 1 { one.plus_minus } else { -one.plus_minus }
                };
                let errors: Vec<f64> = some.iter().enumerate().map(end).collect();
                for (least, reading) in corners.iter_mut().zip(boxed.readings(&errors)) {
                    *least = least.min(margin(reading));
                }
            }
            for (CheckSpread { id, worst_margin: found, .. }, corner) in found.iter().zip(&corners)
            {
                // the search passes over what differs by rounding alone
                assert!((found - corner).abs() < 1e-9, "{id:?} {found} {corner}");
            }
            for _ in 0..500 {
                let within = |one: &Tolerated| stream.error(one.plus_minus, Spread::Rectangular);
                let errors: Vec<f64> = some.iter().map(within).collect();
                for (one, reading) in found.iter().zip(boxed.readings(&errors)) {
                    let (id, found, margin) = (one.id, one.worst_margin, margin(reading));
                    assert!(margin > found - 1e-9, "{id:?} {found} {margin}");
                }
            }
        }
    }
}
