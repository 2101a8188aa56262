//! The checks, how they came about, and what mends them.

use overstand_core::study::{Closed, Study};
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::{Check, remedies};
use overstand_core::working::Working;
use serde::Serialize;

use crate::units;

#[derive(Debug, Serialize)]
pub(super) struct CheckJson {
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
pub(super) struct WorkingJson {
    formula: String,
    put_in: String,
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

impl WorkingJson {
    pub(super) fn of(working: &Working) -> Self {
        Self {
            formula: working.formula.to_string(),
            put_in: working.put_in(),
            terms: working
                .terms
                .iter()
                .map(|term| TermJson {
                    symbol: term.symbol,
                    name: term.name,
                    value: term.value,
                    // a number of another unit says which
                    unit: match term.unit {
                        Unit::Number if !term.sign.is_empty() => term.sign,
                        unit => units::name(unit),
                    },
                })
                .collect(),
            result: working.result,
            source: working.source,
        }
    }
}

pub(super) fn checks(study: &Study, closed: &Closed) -> Vec<CheckJson> {
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
        working: WorkingJson::of(&check.working),
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
