//! `dryfit`: what readings of the joint say, what can be done, and the fitting log.

use std::path::Path;

use overstand_core::design::{Date, Design};
use overstand_core::dryfit::{
    Amount, CAUTIONS, Correction, DryFit, Kind, Reading, Round, SetUp, Step, how_to_read,
};
use overstand_core::study::{Open, Study};
use overstand_core::units::{LengthStyle, Unit, parse_length};
use overstand_files::{DesignFile, SaveError};

use crate::cli;
use crate::failure::Failure;
use crate::text::{Paint, Tone, wrap};
use crate::units;

/// Columns of a reading's name.
const READING: usize = 51;

/// What was asked, answered.
pub(crate) struct Answer {
    /// The plan with its log; this round is in it if it is kept.
    pub(crate) plan: Study,
    pub(crate) fit: DryFit,
    /// The set-up, where neck and body are glued.
    pub(crate) setup: Option<SetUp>,
    /// What was done about it, if that was said.
    pub(crate) done: Option<Correction>,
    /// The log, this round last if it is kept.
    pub(crate) steps: Vec<Step>,
    pub(crate) kept: bool,
}

/// Answers what was asked of a variant of a file; a round that is kept is put into the file.
pub(crate) fn answer(
    file: &mut DesignFile,
    asked: &cli::Dryfit,
    today: Date,
) -> Result<Answer, Failure> {
    let variant = crate::ask::choose(file, asked.variant.as_deref())?.name.clone();
    let Some(design) = file.variants.iter_mut().find(|one| one.name == variant) else {
        return Err(Failure::UnknownVariant { name: variant, there: Vec::new() });
    };
    let (readings, before) = taken(design, asked)?;
    // the rounds before the one that is looked at
    let mut earlier = design.clone();
    earlier.fitting.truncate(before);
    let study = Study::of(&earlier);
    if let Err(Open::Faults(faults)) = study.outcome {
        return Err(Failure::Faults(faults));
    }
    let fit = DryFit::of(&study, &readings).map_err(|untold| {
        let reading = untold.reading.and_then(|index| readings.get(index));
        let says = untold.says.show(LengthStyle::Millimetres);
        Failure::Untold(match reading {
            Some(reading) => format!("--reading {reading}: {says}"),
            None => says,
        })
    })?;
    let done = asked.done.as_deref().map(|text| done(&fit, text)).transpose()?;
    let glued = asked.glued
        || asked.readings.is_empty() && design.fitting.last().is_some_and(|round| round.glued);
    if asked.keep {
        let least = asked.done.as_deref().is_some_and(|text| text.trim().ends_with("=least"));
        design.fitting.push(Round {
            on: today,
            glued: asked.glued,
            note: asked.note.clone().unwrap_or_default(),
            readings,
            done: done.as_ref().map(|one| one.done(least)),
        });
        let faults = design.faults();
        if !faults.is_empty() {
            return Err(Failure::Faults(faults));
        }
    }
    let plan = Study::of(design);
    let setup = glued
        .then(|| fit.real.study.layout().map(|layout| SetUp::of(&fit.real.study.design, layout)))
        .flatten();
    let steps = overstand_core::dryfit::convergence(&plan);
    Ok(Answer { plan, fit, setup, done, steps, kept: asked.keep })
}

/// The readings, and how many rounds of the log came before them. Without any they are those
/// of the last round.
fn taken(design: &Design, asked: &cli::Dryfit) -> Result<(Vec<Reading>, usize), Failure> {
    if asked.readings.is_empty() {
        return match design.fitting.last() {
            Some(round) if !asked.keep => Ok((round.readings.clone(), design.fitting.len() - 1)),
            _ => Err(Failure::NoReading),
        };
    }
    let readings = asked.readings.iter().map(|text| text.parse().map_err(Failure::Reading));
    let readings = readings.collect::<Result<_, _>>()?;
    Ok((readings, design.fitting.len()))
}

/// `--done mouth_off`, `--done mouth_off=0.5`, `--done mouth_off=least`.
fn done(fit: &DryFit, text: &str) -> Result<Correction, Failure> {
    let bad = |says: String| Failure::Option {
        option: "done",
        text: text.chars().take(120).collect(),
        says,
    };
    let (name, amount) = match text.split_once('=') {
        Some((name, amount)) => (name.trim(), Some(amount.trim())),
        None => (text.trim(), None),
    };
    let kind = Kind::from_text(name).ok_or_else(|| {
        let all = Kind::ALL.map(Kind::text).join(", ");
        bad(format!("there is no such correction, expected one of {all}"))
    })?;
    let ready = || {
        fit.correction(kind).cloned().ok_or_else(|| {
            let why = fit.unreachable.iter().find(|(other, _)| *other == kind);
            let why = why.map(|(_, why)| why.show(LengthStyle::Millimetres));
            bad(why.unwrap_or_else(|| "this joint has no such correction".to_owned()))
        })
    };
    match amount {
        None => ready(),
        Some("least") => {
            let one = ready()?;
            if one.least.is_none() {
                return Err(bad("no amount of it brings every check to good".to_owned()));
            }
            Ok(one)
        }
        Some(amount) => {
            let amount = parse_length(amount, LengthStyle::Millimetres)
                .map_err(|error| bad(error.to_string()))?;
            fit.with(kind, amount).map_err(|why| bad(why.show(LengthStyle::Millimetres)))
        }
    }
}

/// Writes the file with its new round, unless it was changed meanwhile.
pub(crate) fn save(
    path: &Path,
    file: &DesignFile,
    seen: overstand_files::Stamp,
) -> Result<(), Failure> {
    overstand_files::save_if_unchanged(path, file, Some(&seen))
        .map(|_| ())
        .map_err(|error: SaveError| Failure::Save { path: path.to_owned(), error })
}

/// The answer as text.
pub(crate) fn report(answer: &Answer, style: LengthStyle, paint: Paint) -> String {
    let page = Page { style, paint };
    let fit = &answer.fit;
    let name = paint.tint(Tone::Heading, answer.plan.design.name.trim());
    let mut text = format!("{name}\n\n  {}\n", paint.tint(tone(fit), fit.real.study.word().show()));
    text += &wrap(&fit.real.study.reason().show(style), 2);
    text += &page.found(fit);
    text += &page.readings(fit);
    for says in &fit.says {
        text += &wrap(&says.show(style), 2);
    }
    if let Some(setup) = &answer.setup {
        text += &page.setup(setup);
    } else {
        text += &page.corrections(fit);
    }
    if let Some(done) = &answer.done {
        text += &page.heading("Done");
        text += &page.correction(0, done);
    }
    if !answer.steps.is_empty() {
        text += &page.log(answer);
    }
    if answer.kept {
        text += "\nThe round is kept in the file.\n";
    }
    text
}

fn tone(fit: &DryFit) -> Tone {
    use overstand_core::verdict::Word;
    match fit.real.study.word() {
        Word::Plays => Tone::Good,
        Word::PlaysThin => Tone::Thin,
        Word::Fails | Word::DoesNotClose => Tone::Fails,
    }
}

struct Page {
    style: LengthStyle,
    paint: Paint,
}

impl Page {
    fn heading(&self, words: &str) -> String {
        format!("\n{}\n", self.paint.tint(Tone::Heading, words))
    }

    fn mm(&self, value: f64, digits: usize) -> String {
        units::show(value, Unit::Length, digits, self.style)
    }

    fn degrees(&self, value: f64) -> String {
        units::show(value, Unit::Angle, 2, self.style)
    }

    fn found(&self, fit: &DryFit) -> String {
        let (told, plan) = (&fit.told, fit.plan.layout());
        let mut text = self.heading("The joint as it is");
        let mut row = |name: &str, value: String, error: String, plan: String| {
            text += &format!("  {name:<24}{value:>10} ± {error:<9} planned {plan}\n");
        };
        let planned = plan.map_or(0.0, |layout| layout.pitch.to_degrees());
        row(
            "Pitch",
            self.degrees(told.pitch.to_degrees()),
            self.degrees(told.pitch_error().to_degrees()),
            self.degrees(planned),
        );
        row(
            "Overstand",
            self.mm(told.overstand, 2),
            self.mm(told.overstand_error(), 2),
            self.mm(fit.plan.design.joint.overstand.to_mm(), 2),
        );
        row(
            "Crest height needed",
            self.mm(fit.real.crest, 2),
            self.mm(fit.real.crest_error, 2),
            self.mm(fit.planned_crest, 2),
        );
        text + &wrap(&how_to_read().show(self.style), 2)
    }

    fn readings(&self, fit: &DryFit) -> String {
        let mut text = self.heading("Readings, and what this joint would read");
        for (reading, miss) in fit.readings.iter().zip(&fit.told.misses) {
            let show = |value: f64| {
                if reading.what.is_angle() { self.degrees(value) } else { self.mm(value, 2) }
            };
            let fitted = miss.fitted.map(show).unwrap_or_default();
            let read = show(miss.read);
            let error = show(reading.error);
            let mut name = format!("  {}", reading.what.name().show(self.style));
            if name.chars().count() > READING {
                name += &format!("\n{:READING$}", "");
            }
            let line = format!("{name:<READING$}{read:>9} ± {error:<8}{fitted:>9}");
            text += &format!("{}\n", line.trim_end());
        }
        text
    }

    fn corrections(&self, fit: &DryFit) -> String {
        let mut text = self.heading("What to do, the best first");
        for ask in &fit.asks {
            text += &wrap(ask.says(), 2);
        }
        for (i, one) in fit.corrections.iter().enumerate() {
            text += &self.correction(i + 1, one);
        }
        if !fit.unreachable.is_empty() {
            text += &self.heading("What does not serve");
            for (kind, why) in &fit.unreachable {
                text += &wrap(
                    &format!("{}: {}", kind.name(), why.clone().within().show(self.style)),
                    2,
                );
            }
        }
        text += &self.heading("Care");
        for caution in CAUTIONS {
            text += &wrap(caution, 2);
        }
        text
    }

    fn correction(&self, place: usize, one: &Correction) -> String {
        let stock = one.stock.map(|stock| format!(", from {} veneer", self.mm(stock, 1)));
        let title = format!("{}{}", one.kind.name(), stock.unwrap_or_default());
        let number = if place > 0 { format!("{place:>3}  ") } else { "  ".to_owned() };
        let title = self.paint.tint(Tone::Heading, &title);
        let mut text = format!("\n{number}{title} ({})\n", one.risk().name());
        for says in &one.says {
            text += &wrap(&says.show(self.style), 5);
        }
        if let Some(Amount { value, error }) = one.amount.filter(|amount| amount.error > 0.0) {
            let says = format!("By the readings {} ± {}.", self.mm(value, 2), self.mm(error, 2));
            text += &wrap(&says, 5);
        }
        let outcome = &one.outcome;
        let headroom = outcome
            .headroom
            .map(|headroom| format!(", {} left as played", self.mm(headroom, 2)))
            .unwrap_or_default();
        let error = match outcome.crest_error {
            0.0 => String::new(),
            error => format!(" ± {}", self.mm(error, 2)),
        };
        let says = format!(
            "Then: {}. Crest {}{error}, action {} treble and {} bass, {} left up and {} down{headroom}; board over the body {} at least; pitch {}, overstand {}.",
            outcome.study.word().show(),
            self.mm(outcome.crest, 2),
            self.mm(outcome.action.0, 2),
            self.mm(outcome.action.1, 2),
            self.mm(outcome.reserve.1, 1),
            self.mm(outcome.reserve.0, 1),
            self.mm(outcome.gap.0, 2),
            self.degrees(outcome.pitch.to_degrees()),
            self.mm(outcome.overstand, 2),
        );
        text += &wrap(&says, 5);
        if let Some(least) = &one.least {
            text += &wrap(&least.says().show(self.style), 5);
        }
        if !one.asks.is_empty() {
            let first: Vec<&str> = one.asks.iter().map(|ask| ask.text()).collect();
            text += &wrap(&format!("First read the {}.", first.join(" and the ")), 5);
        }
        if let Some(doubt) = one.doubt() {
            text += &wrap(doubt, 5);
        }
        text
    }

    fn setup(&self, setup: &SetUp) -> String {
        let mut text = self.heading("Set-up, in this order");
        for (i, step) in setup.steps.iter().enumerate() {
            text += &format!("\n{:>3}  {}\n", i + 1, self.paint.tint(Tone::Heading, step.title));
            for work in &step.work {
                text += &wrap(&work.show(self.style), 5);
            }
            if !step.columns.is_empty() {
                let heads: String = step.columns.iter().map(|head| format!("{head:>22}")).collect();
                text += &format!("{:18}{heads}\n", "");
            }
            for row in &step.rows {
                let values: String =
                    row.values.iter().map(|value| format!("{:>22}", self.mm(*value, 2))).collect();
                let name: String = row.name.chars().take(12).collect();
                text += &format!("     {name:<13}{values}\n");
            }
        }
        text += &self.heading("Care");
        text + &wrap(SetUp::CAUTION, 2)
    }

    fn log(&self, answer: &Answer) -> String {
        let mut text = self.heading("Fitting log: the crest off the plan");
        for (step, round) in answer.steps.iter().zip(&answer.plan.design.fitting) {
            let miss = match step.miss {
                Some(Amount { value, error }) => {
                    format!("{:>10} ± {}", self.mm(value, 2), self.mm(error, 2))
                }
                None => "      tells too little".to_owned(),
            };
            let glued = if round.glued { "  glued" } else { "" };
            text += &format!("  {:>2}  {}{miss}{glued}\n", step.round + 1, round.on);
            if let Some(done) = &round.done {
                text += &wrap(&done.says().show(self.style), 6);
            }
            if !round.note.trim().is_empty() {
                text += &wrap(round.note.trim(), 6);
            }
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::WIDTH;
    use overstand_core::testing::worked_example;

    #[test]
    fn every_line_fits_the_page() {
        let design = worked_example();
        let texts = ["crowns@X=250/near=20:18.9", "neck@crest/far=18.5:12.4", "board@bridge:17.9"];
        let more = ["roll:0.3", "aim@crest:2", "shoulder@foot:0.3", "gauge:2.7", "crowns@X=100:12"];
        let readings: Vec<Reading> =
            texts.iter().chain(&more).map(|text| text.parse().unwrap()).collect();
        for style in [LengthStyle::Millimetres, LengthStyle::InchDecimal] {
            for glued in [false, true] {
                let plan = Study::of(&design);
                let fit = DryFit::of(&plan, &readings).unwrap();
                let real = &fit.real.study;
                let setup = glued.then(|| SetUp::of(&real.design, real.layout().unwrap()));
                let done = fit.correction(Kind::MouthOff).cloned();
                let answer = Answer { plan, setup, done, steps: Vec::new(), kept: true, fit };
                let text = report(&answer, style, Paint::OFF);
                for line in text.lines() {
                    assert!(line.chars().count() <= WIDTH, "{line}");
                    assert_eq!(line, line.trim_end(), "{line}");
                }
                assert_eq!(text.contains("File the nut slots"), glued);
            }
        }
    }
}
