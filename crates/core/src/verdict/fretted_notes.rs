//! Stopped at any fret, does the string clear every fret beyond it?

use super::working::{GEOMETRY, Working, length};
use super::{CheckKind, Reading, string_name};
use crate::design::Design;
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;

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
                " off the board from 30 mm on."
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
            let angle = line.stops.get(stop - 1).map_or(0.0, |stop| stop.angle);
            return Working {
                formula: "clearance = height of the line from stop to crest over the surface, least from 30 mm on",
                terms: vec![
                    length("u_n", "stop from the nut", layout.positions[stop - 1]),
                    super::working::angle("angle", "string to board at the stop", angle),
                ],
                result: reading.value,
                source: GEOMETRY,
            };
        }
        let (u_n, u_m) = (layout.positions[stop - 1], layout.positions[fret - 1]);
        Working {
            formula: "clearance = c_n + (v_s - c_n)(u_m - u_n)/(u_s - u_n) - c_m",
            terms: vec![
                length("c_n", "crown of the stop", layout.clearances.crown(string, stop)),
                length("c_m", "crown to clear", layout.clearances.crown(string, fret)),
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
