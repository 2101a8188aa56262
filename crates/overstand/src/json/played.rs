//! What the strings pull, how hard they can be played, whether they note true.

use overstand_core::design::Design;
use overstand_core::layout::{Bend, Layout, StringLine};
use overstand_core::strings::{Most, StringReport, Strings};
use serde::Serialize;

/// What belongs to one string.
#[derive(Debug, Serialize)]
pub(super) struct PlayedJson {
    frequency_hz: Option<f64>,
    mass_kg_per_m: Option<f64>,
    tension_n: Option<f64>,
    stress_mpa: Option<f64>,
    strength_mpa: Option<f64>,
    break_angle_deg: Option<f64>,
    down_force_n: Option<f64>,
    forward_force_n: Option<f64>,
    nut_force_n: Option<f64>,
    headroom_mm: Option<f64>,
    headroom_at: Option<TouchJson>,
    headroom_n: Option<f64>,
    headroom_n_at: Option<TouchJson>,
    headroom_map_mm: Vec<Option<f64>>,
    compensation_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct TouchJson {
    stop: usize,
    fret: usize,
    drawn: &'static str,
}

/// What belongs to all together.
#[derive(Debug, Serialize)]
pub(super) struct TogetherJson {
    pull_n: Option<f64>,
    down_force_n: Option<f64>,
    forward_force_n: Option<f64>,
    nut_force_n: Option<f64>,
    compensation_least_mm: Option<f64>,
    compensation_most_mm: Option<f64>,
    compensation_middle_mm: Option<f64>,
    station_for_middle_mm: Option<f64>,
    travel_needed_mm: Option<f64>,
}

fn touch(most: Option<Most>) -> Option<TouchJson> {
    let Most { stop, fret, drawn, .. } = most?;
    Some(TouchJson { stop, fret, drawn: drawn.text() })
}

pub(super) fn played(line: &StringLine, report: &StringReport) -> PlayedJson {
    let pull = report.pull.as_ref();
    let saddle = pull.and_then(|pull| pull.saddle);
    PlayedJson {
        frequency_hz: pull.map(|pull| pull.hertz),
        mass_kg_per_m: pull.map(|pull| pull.wire.mass),
        tension_n: pull.map(|pull| pull.tension),
        stress_mpa: pull.map(|pull| pull.stress),
        strength_mpa: pull.map(|pull| pull.wire.strength),
        break_angle_deg: line.saddle_break.map(Bend::to_degrees),
        down_force_n: saddle.map(|saddle| saddle.down),
        forward_force_n: saddle.map(|saddle| saddle.forward),
        nut_force_n: pull.map(|pull| pull.nut_force),
        headroom_mm: report.headroom.map(|most| most.most),
        headroom_at: touch(report.headroom),
        headroom_n: report.headroom_force.map(|most| most.most),
        headroom_n_at: touch(report.headroom_force),
        headroom_map_mm: report.map.iter().map(|most| most.map(|most| most.most)).collect(),
        compensation_mm: report.intonation.as_ref().map(|one| one.compensation),
    }
}

pub(super) fn together(design: &Design, layout: &Layout, strings: &Strings) -> TogetherJson {
    let place = strings.bridge_place(design, layout);
    TogetherJson {
        pull_n: strings.pull,
        down_force_n: strings.saddle_down,
        forward_force_n: strings.saddle_forward,
        nut_force_n: strings.nut_force,
        compensation_least_mm: place.map(|place| place.least),
        compensation_most_mm: place.map(|place| place.most),
        compensation_middle_mm: place.map(|place| place.compensation),
        station_for_middle_mm: place.map(|place| place.station),
        travel_needed_mm: place.map(|place| place.travel),
    }
}

/// Errors of the stopped notes, string by string, fret by fret; empty for a string whose
/// note or gauge is not given.
pub(super) fn intonation(strings: &Strings) -> Vec<Vec<f64>> {
    let cents = |string: &StringReport| string.intonation.as_ref().map(|one| one.cents.clone());
    strings.each.iter().map(|string| cents(string).unwrap_or_default()).collect()
}
