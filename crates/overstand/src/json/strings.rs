//! Each string over each fret.

use overstand_core::design::Design;
use overstand_core::layout::{Bend, Layout, StringLine};
use overstand_core::strings::Strings;
use serde::Serialize;

use super::played::{PlayedJson, played};

#[derive(Debug, Serialize)]
pub(super) struct FretJson {
    n: usize,
    u_mm: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct StringJson {
    name: String,
    nut_slot_v_mm: f64,
    nut_slot_over_board_mm: f64,
    crest_u_mm: f64,
    crest_v_mm: f64,
    crest_x_mm: f64,
    crest_y_mm: f64,
    crest_height_mm: f64,
    first_fret_mm: f64,
    action_mm: f64,
    wanted_action_mm: f64,
    saddle_break_deg: Option<f64>,
    nut_break_deg: f64,
    crown_v_mm: Vec<f64>,
    open_clearance_mm: Vec<f64>,
    stopped_clearance_mm: Vec<Vec<f64>>,
    stopped_min_mm: Option<f64>,
    stopped_min_at: Option<PairJson>,
    stops: Vec<StopJson>,
    #[serde(flatten)]
    played: PlayedJson,
}

#[derive(Debug, Serialize)]
struct PairJson {
    n: usize,
    m: usize,
}

#[derive(Debug, Serialize)]
struct StopJson {
    n: usize,
    angle_deg: f64,
    clearance_60_mm_on: Option<f64>,
    least_from_30_mm_on: Option<f64>,
}

pub(super) fn frets(layout: &Layout) -> Vec<FretJson> {
    layout.positions.iter().zip(1..).map(|(&u_mm, n)| FretJson { n, u_mm }).collect()
}

pub(super) fn strings(design: &Design, layout: &Layout, physics: &Strings) -> Vec<StringJson> {
    design
        .strings
        .iter()
        .zip(&layout.strings)
        .zip(&physics.each)
        .enumerate()
        .map(|(index, ((string, line), report))| {
            string_json(&string.name, index, line, layout, played(line, report))
        })
        .collect()
}

fn string_json(
    name: &str,
    index: usize,
    line: &StringLine,
    layout: &Layout,
    played: PlayedJson,
) -> StringJson {
    let clearances = &layout.clearances;
    // on a fretless board nothing is cleared, the surface is stopped on
    let rows = if layout.is_fretted() { clearances.frets() } else { 0 };
    StringJson {
        name: name.to_owned(),
        nut_slot_v_mm: line.nut_v,
        nut_slot_over_board_mm: line.slot_over_board,
        crest_u_mm: line.crest_u,
        crest_v_mm: line.crest_v,
        crest_x_mm: line.crest.x,
        crest_y_mm: line.crest.y,
        crest_height_mm: line.crest_height,
        first_fret_mm: line.first_fret,
        action_mm: line.action,
        wanted_action_mm: line.wanted_action,
        saddle_break_deg: line.saddle_break.map(Bend::to_degrees),
        nut_break_deg: line.nut_break.to_degrees(),
        crown_v_mm: clearances.crown_row(index).to_vec(),
        open_clearance_mm: clearances.open_row(index).to_vec(),
        stopped_clearance_mm: (1..rows)
            .map(|n| clearances.stopped_row(index, n).to_vec())
            .collect(),
        stopped_min_mm: line.least_stopped,
        stopped_min_at: layout.least_stopped_at(index).map(|(n, m)| PairJson { n, m }),
        stops: line
            .stops
            .iter()
            .zip(1..)
            .map(|(stop, n)| StopJson {
                n,
                angle_deg: stop.angle.to_degrees(),
                clearance_60_mm_on: stop.clearance_60_on,
                least_from_30_mm_on: stop.least_from_30_on,
            })
            .collect(),
        played,
    }
}
