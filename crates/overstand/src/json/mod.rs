//! The answer of `check --json`, described in `docs/json.md`. All numbers in mm and
//! degrees with every digit.

mod checks;
mod compare;
mod cuts;
mod dryfit;
mod played;
mod risk;
mod strings;

use overstand_core::choice::Choice;
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::layout::{Conflict, Layout};
use overstand_core::strings::Strings;
use overstand_core::study::{Open, Study};
use overstand_core::units::{LengthStyle, Unit};
use serde::Serialize;
use serde_json::{Map, Value};

use crate::units;
use checks::{CheckJson, checks};
pub(crate) use compare::{Compared, Standings};
pub(crate) use cuts::Cuts;
pub(crate) use dryfit::Dryfit;
use played::{TogetherJson, intonation, together};
pub(crate) use risk::RiskJson;
use strings::{FretJson, StringJson, frets, strings};

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
    strings_together: Option<TogetherJson>,
    intonation_cents: Vec<Vec<f64>>,
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
        let physics = study.layout().map(|layout| Strings::of(design, layout));
        let played = study.layout().zip(physics.as_ref());
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
            strings: played
                .map(|(layout, physics)| strings(design, layout, physics))
                .unwrap_or_default(),
            strings_together: played.map(|(layout, physics)| together(design, layout, physics)),
            intonation_cents: played.map(|(_, physics)| intonation(physics)).unwrap_or_default(),
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
