//! Does every string bear its pull?

use super::{CheckKind, Reading, at_most, string_name};
use crate::dimension::Dim;
use crate::sentence::sentence;
use crate::strings::{Wire, pull};
use crate::units::Unit;
use crate::working::{Working, plain};

/// Stress as a part of tensile strength. Tuning, bends at nut and post, and wear take their
/// part: thin above three quarters (common practice, no source).
pub(super) static CHECK: CheckKind = CheckKind {
    name: "String strength",
    question: "Does every string bear its pull?",
    unit: Unit::Number,
    digits: 2,
    limit: at_most(0.75, 1.0),
    measure: |_, layout, limit| {
        let load = |(wire, tension): (Wire, f64)| tension / wire.section / wire.strength;
        Reading::worst_string(*limit, layout.strings.iter().map(|line| line.taut.map(load)))
    },
    place: None,
    says: |design, layout, reading| {
        let index = reading.string.unwrap_or(0);
        let string = string_name(design, index);
        let pull = pull(design, layout, index).map_or(0.0, |pull| pull.tension);
        if reading.value >= 1.0 {
            return sentence![format!(
                "Tuned up to {pull:.0} N, {string} breaks: that is more than it bears."
            )];
        }
        sentence![format!(
            "At {pull:.0} N {string} bears {:.0} % of what would break it.",
            100.0 * reading.value
        )]
    },
    working: |design, layout, reading| {
        let terms =
            pull(design, layout, reading.string.unwrap_or(0)).map_or_else(Vec::new, |pull| {
                vec![
                    plain("T", "tension", pull.tension, 4, "N"),
                    plain("A", "section that carries it", pull.wire.section, 6, "mm²"),
                    plain("S", "tensile strength", pull.wire.strength, 2, "N/mm²"),
                ]
            });
        Working {
            formula: "T/(A S)".into(),
            terms,
            result: reading.value,
            source: "T = μ (2 L f)²; music wire: ASTM A228, least value; other materials from memory; range: common practice, no source",
        }
    },
    mends: &[&[Dim::ScaleLength], &[Dim::Core], &[Dim::Gauge]],
};
