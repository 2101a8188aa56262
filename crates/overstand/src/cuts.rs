//! What `cuts` says to someone who reads it: the cut sheet, and below it everything that
//! is worked out for the joint.

use overstand_core::joint::{
    BenchCheck, CutSheet, Group, JointFigures, Number, Reading, Step, rise_over_run,
};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::Word;

use crate::text::{Paint, Tone, wrap};
use crate::units;

/// Indent of what belongs to a step.
const UNDER: usize = 8;
/// Columns of a number's name.
const NAME: usize = 43;
/// Columns of a label before its words.
const LABEL: usize = 10;

/// The cut sheet as text; of a design that does not close, why there is none.
pub(crate) fn sheet(study: &Study, style: LengthStyle, paint: Paint) -> String {
    let page = Page { style, paint };
    let mut text = format!("{}\n", paint.tint(Tone::Heading, study.design.name.trim()));
    let word = study.word();
    if word != Word::Plays {
        let tone = if word == Word::PlaysThin { Tone::Thin } else { Tone::Fails };
        text += &format!("\n  {}\n", paint.tint(tone, word.show()));
        text += &wrap(&study.reason().show(style), 2);
        if matches!(word, Word::Fails | Word::DoesNotClose) {
            text += &wrap("Do not cut yet: `overstand check` says what mends it.", 2);
        }
    }
    let Some(layout) = study.layout() else {
        return text;
    };
    let sheet = CutSheet::of(&study.design, layout);
    text += &format!(
        "\n{}\n",
        paint.tint(Tone::Heading, &format!("Cut sheet: {}", lower(sheet.joint)))
    );
    for caution in sheet.cautions {
        text += &wrap(caution, 2);
    }
    for (i, step) in sheet.steps.iter().enumerate() {
        text += &page.step(i + 1, step);
    }
    text + &page.figures(&JointFigures::of(&study.design, layout))
}

struct Page {
    style: LengthStyle,
    paint: Paint,
}

impl Page {
    fn step(&self, place: usize, step: &Step) -> String {
        let tick = if step.done { "x" } else { " " };
        let title = self.paint.tint(Tone::Heading, step.title);
        let mut text = format!("\n [{tick}] {place:>2}  {title}\n");
        for sentence in &step.work {
            text += &wrap(&sentence.show(self.style), UNDER);
        }
        for number in &step.numbers {
            text += &self.number(number);
        }
        if let Some(leave_on) = &step.leave_on {
            text += &labelled("Leave on", &leave_on.show(self.style));
        }
        if let Some(check) = &step.check {
            text += &self.bench_check(check);
        }
        if let Some(first) = step.readings.first() {
            let at = units::show(first.at, Unit::Length, 1, self.style);
            text += &wrap(&format!("Straightedge over the top, {at} from the joint:"), UNDER);
            for reading in &step.readings {
                text += &self.reading(reading);
            }
        }
        if !step.cautions.is_empty() {
            text += &labelled("Care", &step.cautions.join(" "));
        }
        text
    }

    fn number(&self, number: &Number) -> String {
        let value = units::show(number.at_bench(), number.unit, number.digits, self.style);
        let (name, unit) = (number.name, number.unit);
        self.row(name, &value, number.value, unit, number.tolerance, number.digits)
            + &end(number.raises())
    }

    /// A line of a name, a value, its tolerance, and of an angle its rise over run.
    fn row(
        &self,
        name: &str,
        shown: &str,
        value: f64,
        unit: Unit,
        tolerance: Option<f64>,
        digits: usize,
    ) -> String {
        let within = tolerance
            .map(|tolerance| {
                // no finer than the value beside it
                format!("± {}", units::show(tolerance, unit, digits, self.style))
            })
            .unwrap_or_default();
        let rise = rise_over_run(value, unit, digits).unwrap_or_default();
        let line = format!("{:UNDER$}{name:<NAME$}{shown:>10}  {within:<9} {rise}", "");
        format!("{}\n", line.trim_end())
    }

    fn bench_check(&self, check: &BenchCheck) -> String {
        labelled("Check", &check.show(self.style))
            + &labelled("If not", &check.otherwise.show(self.style))
    }

    fn reading(&self, reading: &Reading) -> String {
        let name = format!("  on {}", reading.on);
        let shown = units::show(reading.value, Unit::Length, 1, self.style);
        self.row(&name, &shown, reading.value, Unit::Length, Some(reading.tolerance), 1)
    }

    /// Everything that is worked out, by group.
    fn figures(&self, figures: &JointFigures) -> String {
        let mut text = format!("\n{}\n", self.paint.tint(Tone::Heading, "Worked out"));
        for group in Group::ALL {
            let mut rows = figures.of_group(group).peekable();
            if rows.peek().is_none() {
                continue;
            }
            text += &format!("\n  {}\n", group.name());
            for figure in rows {
                let shown = units::show(figure.at_bench(), figure.unit, figure.digits, self.style);
                text +=
                    &self.row(figure.name, &shown, figure.value, figure.unit, None, figure.digits);
                text += &end(figure.raises());
            }
        }
        text
    }
}

/// Which end a wedge raises, below its line.
fn end(raises: Option<&str>) -> String {
    raises.map_or_else(String::new, |raises| format!("{:1$}{raises}\n", "", UNDER + 2))
}

/// A label, and words that hang beside it.
fn labelled(label: &str, words: &str) -> String {
    let hung = wrap(words, UNDER + LABEL);
    let words = hung.trim_start();
    format!("{:UNDER$}{label:<LABEL$}{words}", "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::WIDTH;
    use overstand_core::choice::Choice;
    use overstand_core::dimension::Dim;
    use overstand_core::testing::worked_example;

    #[test]
    fn every_line_fits_the_page() {
        for kind in ["tenon", "dovetail", "screwed", "through"] {
            for style in [LengthStyle::Millimetres, LengthStyle::InchDecimal] {
                let mut design = worked_example();
                Choice::parse("joint.kind").unwrap().set(&mut design, kind).unwrap();
                Dim::Overstand.key().set(&mut design, 1.0);
                Dim::CutterReach.key().set(&mut design, 15.0);
                let text = sheet(&Study::of(&design), style, Paint::OFF);
                assert!(text.contains("Cut sheet: "), "{text}");
                for line in text.lines() {
                    assert!(line.chars().count() <= WIDTH, "{line}");
                    assert_eq!(line, line.trim_end(), "{line}");
                }
            }
        }
    }

    #[test]
    fn a_design_that_does_not_close_has_no_sheet() {
        let mut design = worked_example();
        Dim::CrestHeight.key().set(&mut design, 140.0);
        let text = sheet(&Study::of(&design), LengthStyle::Millimetres, Paint::OFF);
        assert!(text.contains("Does not close") && text.contains("Do not cut yet"), "{text}");
        assert!(!text.contains("Cut sheet"), "{text}");
    }

    #[test]
    fn ticked_steps_are_marked() {
        let mut design = worked_example();
        design.ticks.insert("mark_out".to_owned());
        let text = sheet(&Study::of(&design), LengthStyle::Millimetres, Paint::OFF);
        assert!(text.contains("[x]  2  Mark out the joint"), "{text}");
        assert!(text.contains("[ ]  1  Prepare the blank"), "{text}");
    }
}
