//! The answer of `dryfit --json`.

use overstand_core::design::Design;
use overstand_core::dryfit::{Amount, Correction, Outcome, Step};
use overstand_core::layout::BodyPoint;
use overstand_core::sentence::Sentence;
use overstand_core::units::LengthStyle;
use serde::Serialize;

use super::VERSION;
use crate::dryfit::Answer;

#[derive(Debug, Serialize)]
pub(crate) struct Dryfit {
    version: u32,
    variant: String,
    variants: Vec<String>,
    verdict: &'static str,
    reason: String,
    pitch_deg: f64,
    pitch_error_deg: f64,
    overstand_mm: f64,
    overstand_error_mm: f64,
    correlation: f64,
    roll_deg: Option<f64>,
    aim_deg: Option<f64>,
    planned_crest_mm: f64,
    miss_mm: f64,
    real: OutcomeJson,
    readings: Vec<ReadingJson>,
    chi_square: f64,
    freedom: usize,
    contradiction: Option<[usize; 2]>,
    says: Vec<String>,
    asks: Vec<&'static str>,
    corrections: Vec<CorrectionJson>,
    unreachable: Vec<UnreachableJson>,
    done: Option<CorrectionJson>,
    setup: Vec<SetUpJson>,
    log: Vec<RoundJson>,
    kept: bool,
}

#[derive(Debug, Serialize)]
struct OutcomeJson {
    verdict: &'static str,
    as_planned: bool,
    pitch_deg: f64,
    overstand_mm: f64,
    crest_height_mm: f64,
    crest_error_mm: f64,
    crest_station_mm: f64,
    bridge_line_mm: f64,
    action_treble_mm: f64,
    action_bass_mm: f64,
    reserve_below_mm: f64,
    reserve_above_mm: f64,
    headroom_mm: Option<f64>,
    board_gap_mm: f64,
    board_gap_at_mm: f64,
    spare_length_mm: f64,
}

#[derive(Debug, Serialize)]
struct ReadingJson {
    reading: String,
    read: f64,
    would_read: Option<f64>,
    error: f64,
    unit: &'static str,
}

#[derive(Debug, Serialize)]
struct CorrectionJson {
    kind: &'static str,
    name: &'static str,
    risk: &'static str,
    amount_mm: Option<f64>,
    amount_error_mm: Option<f64>,
    veneer_mm: Option<f64>,
    mouth_mm: f64,
    inner_mm: f64,
    board_mm: f64,
    recut_mm: f64,
    shoulder_top_off_mm: f64,
    shoulder_foot_off_mm: f64,
    spare_used_mm: f64,
    least_mm: Option<f64>,
    doubtful: bool,
    asks: Vec<&'static str>,
    says: Vec<String>,
    wood: Vec<WoodJson>,
    outcome: OutcomeJson,
    least_outcome: Option<OutcomeJson>,
}

#[derive(Debug, Serialize)]
struct WoodJson {
    name: &'static str,
    put_on: bool,
    thickness_mm: f64,
    corners_mm: Vec<[f64; 2]>,
}

#[derive(Debug, Serialize)]
struct UnreachableJson {
    kind: &'static str,
    says: String,
}

#[derive(Debug, Serialize)]
struct SetUpJson {
    id: &'static str,
    title: &'static str,
    work: Vec<String>,
    columns: Vec<&'static str>,
    rows: Vec<RowJson>,
}

#[derive(Debug, Serialize)]
struct RowJson {
    name: String,
    values_mm: Vec<f64>,
}

#[derive(Debug, Serialize)]
struct RoundJson {
    on: String,
    glued: bool,
    note: String,
    pitch_deg: Option<f64>,
    overstand_mm: Option<f64>,
    miss_mm: Option<f64>,
    miss_error_mm: Option<f64>,
    done: Option<String>,
}

fn show(sentence: &Sentence) -> String {
    sentence.show(LengthStyle::Millimetres)
}

impl Dryfit {
    /// The answer, with the names of all variants of its file.
    pub(crate) fn of(answer: &Answer, variants: &[Design]) -> Self {
        let (fit, told) = (&answer.fit, &answer.fit.told);
        let steps = answer.setup.iter().flat_map(|setup| &setup.steps);
        Self {
            version: VERSION,
            variant: answer.plan.design.name.clone(),
            variants: variants.iter().map(|design| design.name.clone()).collect(),
            verdict: fit.real.study.word().text(),
            reason: show(&fit.real.study.reason()),
            pitch_deg: told.pitch.to_degrees(),
            pitch_error_deg: told.pitch_error().to_degrees(),
            overstand_mm: told.overstand,
            overstand_error_mm: told.overstand_error(),
            correlation: told.correlation(),
            roll_deg: told.roll.map(|(lean, _)| lean.to_degrees()),
            aim_deg: told.aim.map(|(aim, _)| aim.to_degrees()),
            planned_crest_mm: fit.planned_crest,
            miss_mm: fit.miss(),
            real: outcome(&fit.real),
            readings: fit
                .readings
                .iter()
                .zip(&told.misses)
                .map(|(reading, miss)| ReadingJson {
                    reading: reading.to_string(),
                    read: miss.read,
                    would_read: miss.fitted,
                    error: miss.error,
                    unit: if reading.what.is_angle() { "deg" } else { "mm" },
                })
                .collect(),
            chi_square: told.chi_square,
            freedom: told.freedom,
            contradiction: told.contradiction.as_ref().map(|one| [one.pair.0, one.pair.1]),
            says: fit.says.iter().map(show).collect(),
            asks: fit.asks.iter().map(|ask| ask.text()).collect(),
            corrections: fit.corrections.iter().map(correction).collect(),
            unreachable: fit
                .unreachable
                .iter()
                .map(|(kind, why)| UnreachableJson { kind: kind.text(), says: show(why) })
                .collect(),
            done: answer.done.as_ref().map(correction),
            setup: steps
                .map(|step| SetUpJson {
                    id: step.id,
                    title: step.title,
                    work: step.work.iter().map(show).collect(),
                    columns: step.columns.clone(),
                    rows: step
                        .rows
                        .iter()
                        .map(|row| RowJson {
                            name: row.name.clone(),
                            values_mm: row.values.clone(),
                        })
                        .collect(),
                })
                .collect(),
            log: answer.steps.iter().map(|step| round(answer, step)).collect(),
            kept: answer.kept,
        }
    }
}

fn outcome(one: &Outcome) -> OutcomeJson {
    OutcomeJson {
        verdict: one.study.word().text(),
        as_planned: one.as_planned,
        pitch_deg: one.pitch.to_degrees(),
        overstand_mm: one.overstand,
        crest_height_mm: one.crest,
        crest_error_mm: one.crest_error,
        crest_station_mm: one.crest_at,
        bridge_line_mm: one.bridge_line,
        action_treble_mm: one.action.0,
        action_bass_mm: one.action.1,
        reserve_below_mm: one.reserve.0,
        reserve_above_mm: one.reserve.1,
        headroom_mm: one.headroom,
        board_gap_mm: one.gap.0,
        board_gap_at_mm: one.gap.1,
        spare_length_mm: one.spare,
    }
}

fn correction(one: &Correction) -> CorrectionJson {
    let error = |amount: Amount| (amount.error > 0.0).then_some(amount.error);
    CorrectionJson {
        kind: one.kind.text(),
        name: one.kind.name(),
        risk: one.risk().text(),
        amount_mm: one.amount.map(|amount| amount.value),
        amount_error_mm: one.amount.and_then(error),
        veneer_mm: one.stock,
        mouth_mm: one.cut.mouth,
        inner_mm: one.cut.inner,
        board_mm: one.cut.board,
        recut_mm: one.cut.recut,
        shoulder_top_off_mm: one.closing.top_off,
        shoulder_foot_off_mm: one.closing.foot_off,
        spare_used_mm: one.spare_used(),
        least_mm: one.least.as_ref().map(|least| least.amount),
        doubtful: one.doubtful,
        asks: one.asks.iter().map(|ask| ask.text()).collect(),
        says: one.says.iter().map(show).collect(),
        wood: one
            .wood
            .iter()
            .map(|wood| WoodJson {
                name: wood.name,
                put_on: wood.on,
                thickness_mm: wood.thickness,
                corners_mm: wood.corners.iter().map(|BodyPoint { x, y }| [*x, *y]).collect(),
            })
            .collect(),
        outcome: outcome(&one.outcome),
        least_outcome: one.least.as_ref().map(|least| outcome(&least.outcome)),
    }
}

fn round(answer: &Answer, step: &Step) -> RoundJson {
    let round = &answer.plan.design.fitting[step.round];
    let told = step.told.as_ref().ok().map(|(told, _)| told);
    RoundJson {
        on: round.on.to_string(),
        glued: round.glued,
        note: round.note.clone(),
        pitch_deg: told.map(|told| told.pitch.to_degrees()),
        overstand_mm: told.map(|told| told.overstand),
        miss_mm: step.miss.map(|miss| miss.value),
        miss_error_mm: step.miss.map(|miss| miss.error),
        done: round.done.as_ref().map(|done| show(&done.says())),
    }
}
