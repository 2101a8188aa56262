//! The answer of `risk --json`.

use overstand_core::design::Design;
use overstand_core::risk::{Better, CheckSpread, Map, Odds, Row, Safest, Standing, Suffices};
use overstand_core::study::Study;
use serde::Serialize;

use super::VERSION;
use crate::risk::Answer;
use crate::units;

#[derive(Debug, Serialize)]
pub(crate) struct RiskJson {
    version: u32,
    variant: String,
    verdict: &'static str,
    trials: u64,
    seed: u64,
    plays_part: f64,
    plays_state: &'static str,
    plays_within: f64,
    all_good_part: f64,
    without_layout: u64,
    crest: CrestJson,
    errors: Vec<ErrorJson>,
    odds: Vec<OddsJson>,
    suffices: Vec<SufficesJson>,
    safest: Option<SafestJson>,
    map: Option<MapJson>,
}

#[derive(Debug, Serialize)]
struct CrestJson {
    crest_height_mm: f64,
    reserve_below_mm: f64,
    reserve_above_mm: f64,
    worst_case_mm: f64,
    standard_mm: f64,
    standard_fixed_mm: f64,
    rss_95_mm: f64,
    mean_mm: f64,
    trials_standard_mm: f64,
    low_95_mm: Option<f64>,
    high_95_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct ErrorJson {
    key: String,
    name: String,
    unit: &'static str,
    plus_minus: f64,
    spread: &'static str,
    basis: &'static str,
    later: Option<&'static str>,
    crest_mm_per_unit: f64,
    action_mm_per_unit: f64,
    reserve_mm_per_unit: f64,
    crest_worst_mm: f64,
    crest_standard_mm: f64,
    share: f64,
}

#[derive(Debug, Serialize)]
struct OddsJson {
    id: &'static str,
    unit: &'static str,
    fails: u64,
    thin: u64,
    good: u64,
    chance: f64,
    state: &'static str,
    mean: f64,
    standard: f64,
    least: Option<f64>,
    most: Option<f64>,
    rss_95: Option<f64>,
    worst_margin: Option<f64>,
}

#[derive(Debug, Serialize)]
struct SufficesJson {
    key: String,
    sure: f64,
    chance: f64,
    any: bool,
    pitch_deg: Option<f64>,
    hold: Option<Vec<HoldJson>>,
}

#[derive(Debug, Serialize)]
struct HoldJson {
    key: String,
    unit: &'static str,
    plus_minus: f64,
}

#[derive(Debug, Serialize)]
struct SafestJson {
    now: StandingJson,
    widest: BetterJson,
    likeliest: BetterJson,
}

#[derive(Debug, Serialize)]
struct StandingJson {
    worst_margin: Option<f64>,
    check: Option<&'static str>,
    chance: f64,
    chance_good: f64,
}

#[derive(Debug, Serialize)]
struct BetterJson {
    changes: Vec<ChangeJson>,
    standing: StandingJson,
}

#[derive(Debug, Serialize)]
struct ChangeJson {
    key: String,
    unit: &'static str,
    from: f64,
    to: f64,
}

#[derive(Debug, Serialize)]
struct MapJson {
    across: AxisJson,
    up: AxisJson,
    margins: Vec<Option<f64>>,
    worst_checks: Vec<Option<&'static str>>,
    plays_lines: Vec<[(f64, f64); 2]>,
    good_lines: Vec<[(f64, f64); 2]>,
    point: (f64, f64),
    covariance: (f64, f64, f64),
    cloud: Vec<CloudJson>,
}

#[derive(Debug, Serialize)]
struct AxisJson {
    key: String,
    unit: &'static str,
    nodes: Vec<f64>,
}

#[derive(Debug, Serialize)]
struct CloudJson {
    across: f64,
    up: f64,
    state: &'static str,
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

impl RiskJson {
    pub(crate) fn of(study: &Study, answer: &Answer) -> Self {
        let (trials, budget) = (&answer.trials, &answer.risk.budget);
        let (low, high) = trials.crest.interval(0.95);
        let spreads = answer.risk.checks();
        let spread = |odds: &Odds| spreads.iter().find(|one| one.id == odds.id);
        Self {
            version: VERSION,
            variant: study.design.name.clone(),
            verdict: study.word().text(),
            trials: trials.count,
            seed: trials.seed,
            plays_part: trials.chance(),
            plays_state: trials.state().text(),
            plays_within: trials.chance_within(),
            all_good_part: trials.chance_good(),
            without_layout: trials.without_layout,
            crest: CrestJson {
                crest_height_mm: budget.crest_height,
                reserve_below_mm: budget.reserve.0,
                reserve_above_mm: budget.reserve.1,
                worst_case_mm: budget.worst_case,
                standard_mm: budget.standard,
                standard_fixed_mm: budget.standard_fixed,
                rss_95_mm: budget.within_95(),
                mean_mm: trials.crest.mean,
                trials_standard_mm: trials.crest.standard,
                low_95_mm: finite(low),
                high_95_mm: finite(high),
            },
            errors: budget.rows.iter().map(|row| error(&study.design, row)).collect(),
            odds: trials.checks.iter().map(|one| odds(one, spread(one))).collect(),
            suffices: answer
                .suffices
                .iter()
                .map(|(source, found)| suffices(source.to_string(), answer.sure, found))
                .collect(),
            safest: answer.safest.as_ref().map(safest),
            map: answer.map.as_ref().map(map),
        }
    }
}

fn error(design: &Design, row: &Row) -> ErrorJson {
    let one = &row.tolerated;
    ErrorJson {
        key: one.source.to_string(),
        name: one.source.name(design),
        unit: units::name(one.source.unit()),
        plus_minus: one.plus_minus,
        spread: one.spread.text(),
        basis: one.basis.text(),
        later: one.later.map(|later| later.text()),
        crest_mm_per_unit: row.crest,
        action_mm_per_unit: row.action,
        reserve_mm_per_unit: row.reserve,
        crest_worst_mm: row.worst,
        crest_standard_mm: row.standard,
        share: row.share,
    }
}

fn odds(odds: &Odds, spread: Option<&CheckSpread>) -> OddsJson {
    OddsJson {
        id: odds.id.text(),
        unit: units::name(odds.id.unit()),
        fails: odds.fails,
        thin: odds.thin,
        good: odds.good,
        chance: odds.chance(),
        state: odds.state().text(),
        mean: odds.mean(),
        standard: odds.standard(),
        least: finite(odds.least),
        most: finite(odds.most),
        rss_95: spread.and_then(CheckSpread::within_95),
        worst_margin: spread.and_then(|one| finite(one.worst_margin)),
    }
}

fn suffices(key: String, sure: f64, found: &Suffices) -> SufficesJson {
    let hold = found.hold.as_ref().map(|held| {
        held.iter()
            .map(|(source, plus_minus)| HoldJson {
                key: source.to_string(),
                unit: units::name(source.unit()),
                plus_minus: *plus_minus,
            })
            .collect()
    });
    SufficesJson { key, sure, chance: found.chance, any: found.any, pitch_deg: found.pitch, hold }
}

fn standing(standing: &Standing) -> StandingJson {
    StandingJson {
        worst_margin: finite(standing.margin),
        check: standing.check.map(|id| id.text()),
        chance: standing.chance,
        chance_good: standing.chance_good,
    }
}

fn better(better: &Better) -> BetterJson {
    let changes = better
        .changes
        .iter()
        .map(|change| ChangeJson {
            key: change.key.to_string(),
            unit: units::name(change.key.dim.info().unit),
            from: change.from,
            to: change.to,
        })
        .collect();
    BetterJson { changes, standing: standing(&better.standing) }
}

fn safest(safest: &Safest) -> SafestJson {
    SafestJson {
        now: standing(&safest.now),
        widest: better(&safest.widest),
        likeliest: better(&safest.likeliest),
    }
}

fn map(map: &Map) -> MapJson {
    let axis = |(key, nodes): &(overstand_core::dimension::Key, Vec<f64>)| AxisJson {
        key: key.to_string(),
        unit: units::name(key.dim.info().unit),
        nodes: nodes.clone(),
    };
    MapJson {
        across: axis(&map.across),
        up: axis(&map.up),
        margins: map.margins.iter().map(|margin| margin.and_then(finite)).collect(),
        worst_checks: map.worst.iter().map(|id| id.map(|id| id.text())).collect(),
        plays_lines: map.plays.clone(),
        good_lines: map.good.clone(),
        point: map.around.point,
        covariance: map.around.covariance,
        cloud: map
            .around
            .cloud
            .iter()
            .map(|one| CloudJson { across: one.across, up: one.up, state: one.state.text() })
            .collect(),
    }
}
