//! The answer of `check --json`, described in `docs/json.md`. All numbers in mm and
//! degrees with every digit.

use overstand_core::choice::Choice;
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::layout::{Conflict, Layout, StringLine};
use overstand_core::study::{Closed, Open, Study};
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::{Check, remedies};
use serde::Serialize;
use serde_json::{Map, Value};

use crate::units;

/// The version of this shape; it rises when a field changes its meaning or goes.
const VERSION: u32 = 1;

#[derive(Debug, Serialize)]
pub(crate) struct Report {
    version: u32,
    variant: String,
    variants: Vec<String>,
    verdict: &'static str,
    reason: String,
    held: Vec<&'static str>,
    found: Vec<&'static str>,
    at_bound: Vec<&'static str>,
    degrees_of_freedom: Option<usize>,
    conflict: Vec<MemberJson>,
    beyond: Vec<BeyondJson>,
    inputs: Map<String, Value>,
    layout: Option<LayoutJson>,
    frets: Vec<FretJson>,
    strings: Vec<StringJson>,
    checks: Vec<CheckJson>,
}

#[derive(Debug, Serialize)]
struct MemberJson {
    key: &'static str,
    would_be: Option<f64>,
    unit: &'static str,
}

#[derive(Debug, Serialize)]
struct BeyondJson {
    key: &'static str,
    would_be: f64,
    limit: f64,
    unit: &'static str,
}

#[derive(Debug, Serialize)]
struct LayoutJson {
    pitch_deg: f64,
    overstand_mm: f64,
    joint_from_nut_mm: f64,
    crest_height_mm: f64,
    crest_station_mm: f64,
    action_mm: f64,
    bend_per_mm: f64,
    straightedge_mm: StraightedgeJson,
    saddle_break_deg: Option<f64>,
    nut_break_deg: f64,
    board_gap_mm: f64,
    board_gap_at_mm: f64,
    board_end_gap_mm: f64,
    bench_gap_mm: f64,
    posts: Vec<PostJson>,
    foot: Option<FootJson>,
}

#[derive(Debug, Serialize)]
struct StraightedgeJson {
    neck_face: f64,
    board: f64,
    crowns: f64,
}

#[derive(Debug, Serialize)]
struct PostJson {
    place_mm: f64,
    crest_height_mm: f64,
}

#[derive(Debug, Serialize)]
struct FootJson {
    x_mm: f64,
    along_normal_mm: f64,
    over_base_mm: f64,
}

#[derive(Debug, Serialize)]
struct FretJson {
    n: usize,
    u_mm: f64,
}

#[derive(Debug, Serialize)]
struct StringJson {
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

#[derive(Debug, Serialize)]
struct CheckJson {
    id: &'static str,
    name: &'static str,
    state: &'static str,
    value: f64,
    unit: &'static str,
    low: Option<f64>,
    high: Option<f64>,
    thin_low: Option<f64>,
    thin_high: Option<f64>,
    margin: Option<f64>,
    says: String,
    working: WorkingJson,
    remedies: Vec<RemedyJson>,
}

#[derive(Debug, Serialize)]
struct WorkingJson {
    formula: &'static str,
    terms: Vec<TermJson>,
    result: f64,
    source: &'static str,
}

#[derive(Debug, Serialize)]
struct TermJson {
    symbol: &'static str,
    name: &'static str,
    value: f64,
    unit: &'static str,
}

#[derive(Debug, Serialize)]
struct RemedyJson {
    changes: Vec<ChangeJson>,
    find: Option<&'static str>,
    then: f64,
    state: &'static str,
    costs: Vec<&'static str>,
    says: String,
}

#[derive(Debug, Serialize)]
struct ChangeJson {
    key: String,
    from: f64,
    to: f64,
    unit: &'static str,
}

impl Report {
    /// The answer for a variant, with the names of all variants of its file.
    pub(crate) fn of(study: &Study, variants: &[Design]) -> Self {
        let design = &study.design;
        let closed = study.closed();
        let conflict = match &study.outcome {
            Err(Open::Conflict(conflict)) => Some(conflict),
            _ => None,
        };
        let (held, found) = held_and_found(design);
        Self {
            version: VERSION,
            variant: design.name.clone(),
            variants: variants.iter().map(|design| design.name.clone()).collect(),
            verdict: study.word().text(),
            reason: study.reason().show(LengthStyle::Millimetres),
            held,
            found,
            at_bound: closed
                .map(|closed| closed.at_bound.iter().map(|dim| dim.info().key).collect())
                .unwrap_or_default(),
            degrees_of_freedom: closed.map(|closed| closed.degrees_of_freedom),
            conflict: conflict.map(members).unwrap_or_default(),
            beyond: conflict.map(beyond).unwrap_or_default(),
            inputs: inputs(study),
            layout: closed.map(|closed| layout(design, &closed.layout)),
            frets: closed.map(|closed| frets(&closed.layout)).unwrap_or_default(),
            strings: closed.map(|closed| strings(design, &closed.layout)).unwrap_or_default(),
            checks: closed.map(|closed| checks(study, closed)).unwrap_or_default(),
        }
    }
}

/// Keys of the closing dimensions that are held, with the outcomes held at a value,
/// and of those that are found; in the table's order.
fn held_and_found(design: &Design) -> (Vec<&'static str>, Vec<&'static str>) {
    let closing = |key: &Key| key.dim.info().role != Role::Given && key.get(design).is_some();
    let (found, held): (Vec<Key>, Vec<Key>) =
        Key::all_of(design).into_iter().filter(closing).partition(|key| key.is_found(design));
    let texts = |keys: Vec<Key>| keys.iter().map(|key| key.dim.info().key).collect();
    (texts(held), texts(found))
}

fn members(conflict: &Conflict) -> Vec<MemberJson> {
    conflict
        .members
        .iter()
        .map(|member| MemberJson {
            key: member.dim.info().key,
            would_be: member.would_be,
            unit: units::name(member.dim.info().unit),
        })
        .collect()
}

fn beyond(conflict: &Conflict) -> Vec<BeyondJson> {
    conflict
        .beyond
        .iter()
        .map(|beyond| BeyondJson {
            key: beyond.dim.info().key,
            would_be: beyond.would_be,
            limit: beyond.limit,
            unit: units::name(beyond.dim.info().unit),
        })
        .collect()
}

/// Every key of the design with its value: choices, dimensions, and outcomes as far
/// as they are known.
fn inputs(study: &Study) -> Map<String, Value> {
    let design = &study.design;
    let mut inputs = Map::new();
    for choice in Choice::all() {
        inputs.insert(choice.key.to_owned(), choice.get(design).into());
    }
    for key in Key::all_of(design) {
        let outcome = || study.layout().and_then(|layout| layout.outcome(key.dim));
        let Some(value) = key.get(design).or_else(outcome) else {
            continue;
        };
        let value = match key.dim.info().unit {
            // counts are whole and not negative: they were read from a u8
            Unit::Count => (value as u64).into(),
            _ => value.into(),
        };
        inputs.insert(key.to_string(), value);
    }
    inputs
}

fn layout(design: &Design, layout: &Layout) -> LayoutJson {
    let middle = &layout.middle;
    LayoutJson {
        // as it was typed, rather than there and back through radians
        pitch_deg: design.joint.pitch.to_degrees(),
        overstand_mm: design.joint.overstand.to_mm(),
        joint_from_nut_mm: layout.joint_from_nut,
        crest_height_mm: middle.crest_height,
        crest_station_mm: middle.crest.x,
        action_mm: middle.action,
        bend_per_mm: layout.bend,
        straightedge_mm: StraightedgeJson {
            neck_face: layout.straightedge.neck_face,
            board: layout.straightedge.board,
            crowns: layout.straightedge.crowns,
        },
        saddle_break_deg: layout.outcome(Dim::SaddleBreak),
        nut_break_deg: middle.nut_break.to_degrees(),
        board_gap_mm: layout.board_gap.0,
        board_gap_at_mm: layout.board_gap.1,
        board_end_gap_mm: layout.board_end_gap,
        bench_gap_mm: layout.bench_gap,
        posts: layout
            .posts
            .iter()
            .flatten()
            .map(|post| PostJson { place_mm: post.place, crest_height_mm: post.crest_height })
            .collect(),
        foot: layout.foot.map(|foot| FootJson {
            x_mm: foot.x,
            along_normal_mm: foot.along_normal,
            over_base_mm: foot.over_base,
        }),
    }
}

fn frets(layout: &Layout) -> Vec<FretJson> {
    layout.positions.iter().zip(1..).map(|(&u_mm, n)| FretJson { n, u_mm }).collect()
}

fn strings(design: &Design, layout: &Layout) -> Vec<StringJson> {
    design
        .strings
        .iter()
        .zip(&layout.strings)
        .enumerate()
        .map(|(index, (string, line))| string_json(&string.name, index, line, layout))
        .collect()
}

fn string_json(name: &str, index: usize, line: &StringLine, layout: &Layout) -> StringJson {
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
        saddle_break_deg: line.saddle_break.map(f64::to_degrees),
        nut_break_deg: line.nut_break.to_degrees(),
        crown_v_mm: clearances.crown_row(index).to_vec(),
        open_clearance_mm: clearances.open_row(index).to_vec(),
        stopped_clearance_mm: (1..rows)
            .map(|n| clearances.stopped_row(index, n).to_vec())
            .collect(),
        stopped_min_mm: line.least_stopped.map(|(least, ..)| least),
        stopped_min_at: line.least_stopped.map(|(_, n, m)| PairJson { n, m }),
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
    }
}

fn checks(study: &Study, closed: &Closed) -> Vec<CheckJson> {
    closed.checks.iter().map(|check| check_json(study, check)).collect()
}

fn check_json(study: &Study, check: &Check) -> CheckJson {
    let limit = &check.reading.limit;
    let margin = check.reading.margin();
    CheckJson {
        id: check.id.text(),
        name: check.id.name(),
        state: check.state.text(),
        value: check.reading.value,
        unit: units::name(check.id.unit()),
        low: limit.fails_below,
        high: limit.fails_above,
        thin_low: limit.thin_below,
        thin_high: limit.thin_above,
        margin: margin.is_finite().then_some(margin),
        says: check.says.show(LengthStyle::Millimetres),
        working: WorkingJson {
            formula: check.working.formula,
            terms: check
                .working
                .terms
                .iter()
                .map(|term| TermJson {
                    symbol: term.symbol,
                    name: term.name,
                    value: term.value,
                    unit: units::name(term.unit),
                })
                .collect(),
            result: check.working.result,
            source: check.working.source,
        },
        remedies: remedies(study, check.id)
            .iter()
            .map(|remedy| RemedyJson {
                changes: remedy
                    .changes
                    .iter()
                    .map(|change| ChangeJson {
                        key: change.key.to_string(),
                        from: change.from,
                        to: change.to,
                        unit: units::name(change.key.dim.info().unit),
                    })
                    .collect(),
                find: remedy.gives.map(|dim| dim.info().key),
                then: remedy.then,
                state: remedy.state.text(),
                costs: remedy.costs.iter().map(|id| id.text()).collect(),
                says: remedy.says.show(LengthStyle::Millimetres),
            })
            .collect(),
    }
}
