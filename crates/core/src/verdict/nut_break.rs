//! Does every string bend over the nut enough to sound clean and stay in its slot?

use super::{CheckKind, Reading, string_name};
use crate::dimension::Dim;
use crate::sentence::{degrees, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, angle};

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Nut break angle",
    question: "Does every string bend over the nut enough to sound clean and stay in its slot?",
    unit: Unit::Angle,
    digits: 1,
    // usual 5–15°; strings to near posts bend more
    limit: super::limit(2.5, 4.0, 20.0, 26.0),
    measure: |_, layout, limit| Reading::worst_bend(*limit, layout, |line| Some(line.nut_break)),
    place: None,
    says: |design, _, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let opinion = if reading.limit.thin_below.is_some_and(|edge| reading.value < edge) {
            ": it may buzz in its slot."
        } else if reading.limit.thin_above.is_some_and(|edge| reading.value > edge) {
            ": it will bind in its slot."
        } else {
            "."
        };
        sentence!["Over the nut ", string, " bends by ", degrees(reading.value, 1), opinion]
    },
    working: |_, layout, reading| {
        let line = &layout.strings[reading.string.unwrap_or(0)];
        let playing = line.slope.atan();
        Working {
            formula: "δ - atan q".into(),
            terms: vec![
                angle(
                    "δ",
                    "string to its post, against the board",
                    line.nut_break.angle() + playing,
                ),
                angle("atan q", "string to the crest, against the board", playing),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::HeadAngle], &[Dim::HeadDrop]],
};
