//! Is every string tight enough to play?

use super::{CheckKind, Reading, at_most, string_name};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::strings::{open_give, pull};
use crate::units::Unit;
use crate::working::{Working, length, plain};

/// How far the open string gives to 1 N where it is plucked. Beyond some 3 mm it flaps
/// about and its pitch bends under the finger (common practice, no source).
pub(super) static CHECK: CheckKind = CheckKind {
    name: "String gives to 1 N",
    question: "Is every string tight enough to play?",
    unit: Unit::Length,
    digits: 1,
    limit: at_most(3.0, 5.0),
    measure: |design, layout, limit| {
        let strings = layout.strings.iter().enumerate();
        let gives = strings.map(|(string, line)| {
            line.taut.map(|(_, tension)| open_give(design, layout, string, tension))
        });
        Reading::worst_string(*limit, gives)
    },
    place: None,
    says: |design, layout, reading| {
        let index = reading.string.unwrap_or(0);
        let string = string_name(design, index);
        let pull = pull(design, layout, index).map_or(0.0, |pull| pull.tension);
        let slack = reading.limit.thin_above.is_some_and(|edge| reading.value > edge);
        let opinion = if slack { ": it will flap." } else { "." };
        sentence![
            format!("At {pull:.0} N {string} gives "),
            mm(reading.value, 1),
            " to a pluck of 1 N",
            opinion
        ]
    },
    working: |design, layout, reading| {
        let index = reading.string.unwrap_or(0);
        let tension = pull(design, layout, index).map_or(0.0, |pull| pull.tension);
        Working {
            formula: "p (l - p)/(T l), for 1 N".into(),
            terms: vec![
                length("p", "pluck from the saddle", design.wanted.pluck_place.to_mm()),
                length("l", "open string", layout.strings[index].crest_u),
                plain("T", "tension", tension, 4, "N"),
            ],
            result: reading.value,
            source: "plucked ideal string: Fletcher and Rossing, The Physics of Musical Instruments, ch. 2; range: common practice, no source",
        }
    },
    mends: &[&[Dim::Gauge], &[Dim::ScaleLength], &[Dim::PluckPlace]],
};
