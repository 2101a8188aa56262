//! Does every string bend over the saddle enough to stay put, and not too much?

use super::{CheckKind, Reading, string_name};
use crate::dimension::Dim;
use crate::layout::Bend;
use crate::sentence::{degrees, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, angle};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Saddle break angle",
    question: "Does every string bend over the saddle enough to stay put, and not too much?",
    unit: Unit::Angle,
    digits: 1,
    limit: super::limit(5.0, 7.0, 25.0, 30.0),
    measure: |_, layout, limit| Reading::worst_bend(*limit, layout, |line| line.saddle_break),
    place: None,
    says: |design, _, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let opinion = if reading.limit.thin_below.is_some_and(|edge| reading.value < edge) {
            ": it may slip or rattle."
        } else if reading.limit.thin_above.is_some_and(|edge| reading.value > edge) {
            ": it loads the saddle hard."
        } else {
            "."
        };
        sentence!["Over the saddle ", string, " bends by ", degrees(reading.value, 1), opinion]
    },
    working: |_, layout, reading| {
        let line = &layout.strings[reading.string.unwrap_or(0)];
        let before = layout.strung_pitch + line.slope.atan();
        let behind = line.saddle_break.map_or(0.0, Bend::angle) - before;
        Working {
            formula: "γ_1 + γ_2".into(),
            terms: vec![
                angle("γ_1", "string before the saddle, to the datum", before),
                angle("γ_2", "string behind the saddle, to the datum", behind),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::TailHeight], &[Dim::TailStation], &[Dim::TailBehind], &[Dim::CrestHeight]],
};
