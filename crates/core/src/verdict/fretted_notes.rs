//! Stopped at any fret, does the string clear every fret beyond it?

use super::{CheckKind, Reading, string_name};
use crate::design::Design;
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

/// On a straight neck the clearance over the next fret is the same everywhere, about
/// 0.056 of the height of the crest over the crown: 0.14 mm is a normal set-up. Thin
/// below the error of levelling crowns (common practice, no source).
pub(super) static CHECK: CheckKind = CheckKind {
    name: "Fretted notes clear",
    question: "Stopped at any fret, does the string clear every fret beyond it?",
    unit: Unit::Length,
    digits: 2,
    limit: super::at_least(0.0, 0.05),
    measure: |_, layout, limit| {
        if layout.is_fretted() {
            let least = layout.strings.iter().map(|line| line.least_stopped);
            return Reading::worst_string(*limit, least);
        }
        Reading::worst(layout.strings.iter().enumerate().filter_map(|(string, line)| {
            let stops = line.stops.iter().enumerate();
            let (stop, value) = stops
                .filter_map(|(n, stop)| Some((n + 1, stop.least_from_30_on?)))
                .min_by(|a, b| a.1.total_cmp(&b.1))?;
            Some(Reading::new(value, *limit).at_fret(stop, stop).on_string(string))
        }))
    },
    place: Some(place),
    says: |design, layout, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let (stop, fret) = reading.fret.unwrap_or((1, 2));
        if !layout.is_fretted() {
            return sentence![
                "Stopped at semitone ",
                stop,
                ", ",
                string,
                " is ",
                mm(reading.value, 2),
                " off the board from ",
                mm(30.0, 0),
                " on."
            ];
        }
        if reading.value <= 0.0 {
            sentence!["Stopped at fret ", stop, ", ", string, " touches fret ", fret, "."]
        } else {
            sentence![
                "Least of all ",
                string,
                ", stopped at fret ",
                stop,
                ", clears fret ",
                fret,
                " by ",
                mm(reading.value, 2),
                "."
            ]
        }
    },
    working: |_, layout, reading| {
        let string = reading.string.unwrap_or(0);
        let (stop, fret) = reading.fret.unwrap_or((1, 2));
        let line = &layout.strings[string];
        if !layout.is_fretted() {
            // the surface where it is least, which may lie between semitones
            let u = line.stops.get(stop - 1).and_then(|stop| stop.least_at).unwrap_or(0.0);
            let from = layout.positions[stop - 1];
            let crown = layout.clearances.crown(string, stop);
            let over = crown + (line.crest_v - crown) * (u - from) / (line.crest_u - from);
            return Working {
                formula: "k_n + (v_s - k_n) (u - u_n)/(u_s - u_n) - k, least from 30 mm on".into(),
                terms: vec![
                    length("k_n", "surface at the stop", crown),
                    length("v_s", "crest over the straight board", line.crest_v),
                    length("u", "where it is least, from the nut", u),
                    length("u_n", "stop from the nut", from),
                    length("u_s", "crest from the nut", line.crest_u),
                    length("k", "surface there", over - reading.value),
                ],
                result: reading.value,
                source: GEOMETRY,
            };
        }
        let (u_n, u_m) = (layout.positions[stop - 1], layout.positions[fret - 1]);
        Working {
            formula: "clearance = k_n + (v_s - k_n) (u_m - u_n)/(u_s - u_n) - k_m".into(),
            terms: vec![
                length("k_n", "crown of the stop", layout.clearances.crown(string, stop)),
                length("k_m", "crown to clear", layout.clearances.crown(string, fret)),
                length("u_n", "stop from the nut", u_n),
                length("u_m", "fret to clear from the nut", u_m),
                length("u_s", "crest from the nut", line.crest_u),
                length("v_s", "crest over the straight board", line.crest_v),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[
        &[Dim::Relief],
        &[Dim::ActionTreble],
        &[Dim::ActionBass],
        &[Dim::ActionTreble, Dim::ActionBass],
        &[Dim::Fall],
    ],
};

/// On frets the stop and the fret are sought only for the string that decides.
fn place(_: &Design, layout: &Layout, reading: Reading) -> Reading {
    let at = reading.string.filter(|_| layout.is_fretted());
    at.and_then(|string| layout.least_stopped_at(string))
        .map_or(reading, |(stop, fret)| reading.at_fret(stop, fret))
}
