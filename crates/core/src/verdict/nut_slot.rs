//! Is no nut slot filed below the height of the crowns?

use super::{CheckKind, Reading, string_name};
use crate::design::Nut;
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

/// A slot lower than the crowns is a mistake at the bench: the neck would have to
/// bend for the string to clear fret 1 at all (common practice, no source).
pub(super) static CHECK: CheckKind = CheckKind {
    name: "Slots over crowns",
    question: "Does every nut slot stand above the height of the crowns?",
    unit: Unit::Length,
    digits: 2,
    limit: super::at_least(0.0, 0.03),
    measure: |design, layout, limit| {
        if matches!(design.nut, Nut::ZeroFret { .. }) {
            return None;
        }
        let crown = design.board.crown.to_mm();
        let over = layout.strings.iter().map(|line| Some(line.slot_over_board - crown));
        Reading::worst_string(*limit, over)
    },
    place: None,
    says: |design, layout, reading| {
        let index = reading.string.unwrap_or(0);
        let string = string_name(design, index);
        let over_board = layout.strings[index].slot_over_board;
        let side = if reading.value < 0.0 { " below" } else { " above" };
        if !layout.is_fretted() {
            return sentence![
                "The lowest slot, of ",
                string,
                ", is ",
                mm(reading.value.abs(), 2),
                side,
                " the board."
            ];
        }
        sentence![
            "The lowest slot, of ",
            string,
            ", is ",
            mm(over_board, 2),
            " over the board: ",
            mm(reading.value.abs(), 2),
            side,
            " the crowns."
        ]
    },
    working: |design, layout, reading| {
        let line = &layout.strings[reading.string.unwrap_or(0)];
        Working {
            formula: "p - b(0) + sagitta(0) - h".into(),
            terms: vec![
                length("p", "string at the nut face", line.nut_v),
                length("b(0)", "lift of the nut by the relief", layout.lift(0.0)),
                length(
                    "sagitta(0)",
                    "board lower there than at its middle",
                    line.slot_over_board - line.nut_v + layout.lift(0.0),
                ),
                length("h", "crown height", design.board.crown.to_mm()),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[
        &[Dim::FirstFretBass],
        &[Dim::FirstFretTreble],
        &[Dim::FirstFretBass, Dim::FirstFretTreble],
        &[Dim::Relief],
    ],
};
