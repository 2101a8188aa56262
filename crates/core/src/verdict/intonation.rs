//! Do the saddles reach to where each string notes true?

use super::{CheckKind, Reading, at_least, string_name};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::strings::{compensation, compensations};
use crate::units::Unit;
use crate::working::{Working, length};

/// A fixed saddle is filed to its places, and on a fretless board the finger finds them:
/// neither has this check.
pub(super) static CHECK: CheckKind = CheckKind {
    name: "Saddles reach true notes",
    question: "Do the saddles reach to where each string notes true?",
    unit: Unit::Length,
    digits: 1,
    // a reserve both ways, not a range
    limit: at_least(0.0, 0.5),
    measure: |design, layout, limit| {
        let half = design.bridge.travel.to_mm() / 2.0;
        if half == 0.0 || !layout.is_fretted() {
            return None;
        }
        let range = limit.as_reserve(-half, half)?;
        let middle = design.bridge.compensation.to_mm();
        let offsets = compensations(design, layout).map(|needed| Some(needed? - middle));
        Reading::worst_string(range, offsets)
    },
    place: None,
    says: |design, _, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let left = design.bridge.travel.to_mm() / 2.0 - reading.value.abs();
        if left <= 0.0 {
            return sentence![
                "For true notes the saddle of ",
                string,
                " lacks ",
                mm(-left, 1),
                " of travel."
            ];
        }
        sentence![
            "Where it notes true, the saddle of ",
            string,
            " has ",
            mm(left, 1),
            " of its travel left."
        ]
    },
    working: |design, layout, reading| {
        let needed = compensation(design, layout, reading.string.unwrap_or(0)).unwrap_or(0.0);
        Working {
            formula: "travel/2 - |needed - c|".into(),
            terms: vec![
                length("travel", "saddle travel, fore and aft", design.bridge.travel.to_mm()),
                length("needed", "compensation for a true octave", needed),
                length("c", "compensation of the bridge", design.bridge.compensation.to_mm()),
            ],
            result: design.bridge.travel.to_mm() / 2.0 - reading.value.abs(),
            source: "stretch by stopping: model after Varieschi and Gower, Am. J. Phys. 78, 47 (2010); stiffness: H. Fletcher, J. Acoust. Soc. Am. 36, 203 (1964); range: common practice, no source",
        }
    },
    mends: &[&[Dim::Compensation], &[Dim::Travel]],
};
