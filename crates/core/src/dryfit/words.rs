//! What is said of readings and corrections.

use super::reading::{Reading, What};
use super::told::{Contradiction, Miss};
use crate::sentence::{Span, degrees, mm, sentence};

/// A value of a reading with its unit.
pub(super) fn quantity(what: &What, value: f64) -> Span {
    if what.is_angle() { degrees(value, 2) } else { mm(value, 2) }
}

/// The two readings that disagree most: the one that misses by most of its errors, and of the
/// others the one that does so next.
pub(super) fn contradiction(readings: &[Reading], misses: &[Miss]) -> Option<Contradiction> {
    let mut order: Vec<usize> = (0..misses.len()).filter(|&i| misses[i].fitted.is_some()).collect();
    order.sort_by(|&a, &b| misses[b].strain().abs().total_cmp(&misses[a].strain().abs()));
    let &first = order.first()?;
    // what pulls the other way before what pulls alike
    let other = |&&i: &&usize| misses[i].strain() * misses[first].strain() < 0.0;
    let second = *order[1..].iter().find(other).or(order.get(1))?;
    let pair = (first.min(second), first.max(second));
    let told = |index: usize| {
        let (what, miss) = (&readings[index].what, &misses[index]);
        let mut says = what.name();
        let read = sentence![
            " read ",
            quantity(what, miss.read),
            " and should then read ",
            quantity(what, miss.fitted.unwrap_or(miss.read)),
        ];
        says.0.extend(read.0);
        says
    };
    let mut says = sentence!["These readings cannot all be true within their errors: "];
    says.0.extend(told(pair.0).0);
    says.0.extend(sentence!["; "].0);
    says.0.extend(told(pair.1).0);
    let gap = [pair.0, pair.1].iter().any(|&i| matches!(readings[i].what, What::Gap { .. }));
    says.0.extend(if gap {
        sentence![". Read both again, and check the shoulder's own angle, before you cut."].0
    } else {
        sentence![
            ". Read both again before you cut, with the board straight and the shoulder held shut."
        ]
        .0
    });
    Some(Contradiction { pair, says })
}
