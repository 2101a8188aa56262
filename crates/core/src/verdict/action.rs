//! Is the action of the outer strings what such an instrument is played at?

use super::{CheckKind, Reading, fret_word, string_name};
use crate::design::{Design, Limit};
use crate::dimension::Dim;
use crate::layout::{Layout, fret_ratio};
use crate::sentence::{Sentence, mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length, ratio};

/// Wide enough for every kind of instrument; a design narrows it to its own kind.
pub(super) static TREBLE: CheckKind = CheckKind {
    name: "Action, treble",
    question: "Is the action of the treble string what such an instrument is played at?",
    unit: Unit::Length,
    digits: 2,
    limit: super::limit(0.6, 0.9, 3.8, 4.5),
    measure: |_, layout, limit| measure(layout, 0, limit),
    place: None,
    says,
    working,
    mends: &[&[Dim::ActionTreble]],
};

/// As for the treble.
pub(super) static BASS: CheckKind = CheckKind {
    name: "Action, bass",
    question: "Is the action of the lowest string what such an instrument is played at?",
    unit: Unit::Length,
    digits: 2,
    limit: super::limit(0.8, 1.1, 4.8, 5.5),
    measure: |_, layout, limit| measure(layout, layout.strings.len().checked_sub(1)?, limit),
    place: None,
    says,
    working,
    mends: &[&[Dim::ActionBass]],
};

fn measure(layout: &Layout, string: usize, limit: &Limit) -> Option<Reading> {
    Some(Reading::new(layout.strings.get(string)?.action, *limit).on_string(string))
}

fn says(design: &Design, layout: &Layout, reading: &Reading) -> Sentence {
    let string = string_name(design, reading.string.unwrap_or(0));
    let fret = usize::from(design.wanted.action_fret);
    sentence![
        "Open, ",
        string,
        " stands ",
        mm(reading.value, 2),
        " over ",
        fret_word(layout),
        fret,
        "."
    ]
}

fn working(design: &Design, layout: &Layout, reading: &Reading) -> Working {
    let line = &layout.strings[reading.string.unwrap_or(0)];
    let u = design.scale.length.to_mm() * fret_ratio(design.wanted.action_fret);
    Working {
        formula: "action = p + q u - crown".into(),
        terms: vec![
            length("p", "string at the nut face", line.nut_v),
            ratio("q", "rise per mm", line.slope),
            length("u", "action fret from the nut", u),
            length(
                "crown",
                "its crown over the straight board",
                line.nut_v + line.slope * u - line.action,
            ),
        ],
        result: reading.value,
        source: GEOMETRY,
    }
}
