//! Played as hard as wanted, does every string stay off every fret?

use super::{CheckKind, Reading, fret_word, string_name};
use crate::design::Design;
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::strings::{Drawn, Plucking, least_travels};
use crate::units::Unit;
use crate::working::{Working, length};

/// What is left of the travel that a string takes after the wanted one. Thin below the
/// error of levelling crowns, as it comes out at the pluck (common practice, no source).
pub(super) static CHECK: CheckKind = CheckKind {
    name: "Headroom as played",
    question: "Played as hard as wanted, does every string stay off every fret?",
    unit: Unit::Length,
    digits: 2,
    limit: super::at_least(0.0, 0.05),
    measure: |design, layout, limit| {
        let at = design.wanted.pluck_place.to_mm();
        let left = |most: f64| most.max(0.0) - design.wanted.pluck_travel.to_mm();
        if layout.is_fretted() {
            let travels = least_travels(layout, at);
            let plucked = travels.iter().take(layout.strings.len());
            return Reading::worst_string(
                *limit,
                plucked.map(|&most| most.is_finite().then(|| left(most))),
            );
        }
        let plucking = Plucking::new(layout, at);
        Reading::worst_string(
            *limit,
            (0..layout.strings.len())
                .map(|string| plucking.most_of_string(string).map(|most| left(most.most))),
        )
    },
    place: Some(place),
    says: |design, layout, reading| {
        let string = string_name(design, reading.string.unwrap_or(0));
        let (stop, fret) = reading.fret.unwrap_or((0, 1));
        let wanted = design.wanted.pluck_travel.to_mm();
        let word = fret_word(layout);
        let mut says = if reading.value <= 0.0 {
            sentence!["Plucked by ", mm(wanted, 2), ", ", string]
        } else {
            sentence!["Plucked by more than ", mm(wanted + reading.value, 2), ", ", string]
        };
        let how = if stop == 0 {
            sentence![", open, touches ", word, fret, "."]
        } else {
            sentence![", stopped at ", word, stop, ", touches ", word, fret, "."]
        };
        says.0.extend(how.0);
        says
    },
    working: |design, layout, reading| {
        let string = reading.string.unwrap_or(0);
        let (stop, fret) = reading.fret.unwrap_or((0, 1));
        let place = design.wanted.pluck_place.to_mm();
        let plucking = Plucking::new(layout, place);
        let (crest, from) = (layout.strings[string].crest_u, plucking.stop_at(stop));
        let drawn = plucking.most(string, stop).map_or(Drawn::Away, |most| most.drawn);
        let apex = match drawn {
            Drawn::Away => place,
            Drawn::Toward => crest - from - place,
        };
        Working {
            formula: "c/min(x/a, (l - x)/(l - a)) - wanted".into(),
            terms: vec![
                length(
                    "c",
                    "clearance at rest",
                    plucking.at_rest(string, stop, fret).unwrap_or(0.0),
                ),
                length("x", "fret from the stop", plucking.stop_at(fret) - from),
                length("l", "length that sounds", crest - from),
                length("a", "lowest swing from the stop", apex),
                length("wanted", "travel where it is plucked", design.wanted.pluck_travel.to_mm()),
            ],
            result: reading.value,
            source: "plucked ideal string: Fletcher and Rossing, The Physics of Musical Instruments, ch. 2; range: common practice, no source",
        }
    },
    mends: &[
        &[Dim::ActionTreble, Dim::ActionBass],
        &[Dim::ActionBass],
        &[Dim::ActionTreble],
        &[Dim::Relief],
        &[Dim::FirstFretTreble, Dim::FirstFretBass],
        &[Dim::Fall],
        &[Dim::PluckTravel],
    ],
};

/// The note that decides, and the fret that it touches first.
fn place(design: &Design, layout: &Layout, reading: Reading) -> Reading {
    let plucking = Plucking::new(layout, design.wanted.pluck_place.to_mm());
    let most = reading.string.and_then(|string| plucking.most_of_string(string));
    most.map_or(reading, |most| reading.at_fret(most.stop, most.fret))
}
