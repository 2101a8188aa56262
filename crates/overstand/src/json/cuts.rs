//! The answer of `cuts --json`: the cut sheet and what is worked out for the joint.

use overstand_core::design::Design;
use overstand_core::joint::{BenchCheck, CutSheet, Figure, JointFigures, Reading, Step};
use overstand_core::sentence::Sentence;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use serde::Serialize;

use super::VERSION;
use super::checks::WorkingJson;
use crate::units;

#[derive(Debug, Serialize)]
pub(crate) struct Cuts {
    version: u32,
    variant: String,
    variants: Vec<String>,
    verdict: &'static str,
    reason: String,
    joint: Option<&'static str>,
    cautions: Vec<&'static str>,
    steps: Vec<StepJson>,
    figures: Vec<FigureJson>,
}

#[derive(Debug, Serialize)]
struct StepJson {
    id: &'static str,
    title: &'static str,
    done: bool,
    work: Vec<String>,
    numbers: Vec<NumberJson>,
    leave_on: Option<String>,
    check: Option<BenchCheckJson>,
    readings: Vec<ReadingJson>,
    cautions: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
struct NumberJson {
    figure: &'static str,
    name: &'static str,
    value: f64,
    unit: &'static str,
    tolerance: Option<f64>,
}

#[derive(Debug, Serialize)]
struct BenchCheckJson {
    measure: &'static str,
    with: &'static str,
    reads: String,
    otherwise: String,
}

#[derive(Debug, Serialize)]
struct ReadingJson {
    on: &'static str,
    x_mm: f64,
    reads_mm: f64,
    tolerance_mm: f64,
}

#[derive(Debug, Serialize)]
struct FigureJson {
    id: &'static str,
    group: &'static str,
    name: &'static str,
    value: f64,
    unit: &'static str,
    working: WorkingJson,
}

impl Cuts {
    /// The answer for a variant, with the names of all variants of its file.
    pub(crate) fn of(study: &Study, variants: &[Design]) -> Self {
        let design = &study.design;
        let sheet = study.layout().map(|layout| CutSheet::of(design, layout));
        let figures = study.layout().map(|layout| JointFigures::of(design, layout));
        Self {
            version: VERSION,
            variant: design.name.clone(),
            variants: variants.iter().map(|design| design.name.clone()).collect(),
            verdict: study.word().text(),
            reason: show(&study.reason()),
            joint: sheet.as_ref().map(|sheet| sheet.joint),
            cautions: sheet.as_ref().map(|sheet| sheet.cautions.to_vec()).unwrap_or_default(),
            steps: sheet.map(|sheet| sheet.steps.iter().map(step).collect()).unwrap_or_default(),
            figures: figures
                .map(|figures| figures.list.iter().map(figure).collect())
                .unwrap_or_default(),
        }
    }
}

fn show(sentence: &Sentence) -> String {
    sentence.show(LengthStyle::Millimetres)
}

fn step(step: &Step) -> StepJson {
    StepJson {
        id: step.id,
        title: step.title,
        done: step.done,
        work: step.work.iter().map(show).collect(),
        numbers: step
            .numbers
            .iter()
            .map(|number| NumberJson {
                figure: number.figure,
                name: number.name,
                value: number.value,
                unit: units::name(number.unit),
                tolerance: number.tolerance,
            })
            .collect(),
        leave_on: step.leave_on.as_ref().map(show),
        check: step.check.as_ref().map(bench_check),
        readings: step.readings.iter().map(reading).collect(),
        cautions: step.cautions.clone(),
    }
}

fn bench_check(check: &BenchCheck) -> BenchCheckJson {
    BenchCheckJson {
        measure: check.measure,
        with: check.with,
        reads: show(&check.reads),
        otherwise: show(&check.otherwise),
    }
}

fn reading(reading: &Reading) -> ReadingJson {
    ReadingJson {
        on: reading.on,
        x_mm: reading.at,
        reads_mm: reading.value,
        tolerance_mm: reading.tolerance,
    }
}

fn figure(figure: &Figure) -> FigureJson {
    FigureJson {
        id: figure.id,
        group: figure.group.name(),
        name: figure.name,
        value: figure.value,
        unit: units::name(figure.unit),
        working: WorkingJson::of(&figure.working),
    }
}
