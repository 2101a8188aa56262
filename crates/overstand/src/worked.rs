//! What `check --working` says besides: every step from the held dimensions to the verdict.

use overstand_core::study::Study;
use overstand_core::working::{Section, Step, WorkedSheet};

use crate::text::{Paint, Tone, wrap};

/// Indent of what belongs to a step.
const UNDER: usize = 8;

/// The worked sheet as text; nothing of a design that does not close.
pub(crate) fn sheet(study: &Study, paint: Paint) -> String {
    let Some(sheet) = WorkedSheet::of(study) else {
        return String::new();
    };
    let mut text = format!("\n{}\n", paint.tint(Tone::Heading, "Worked sheet"));
    for says in &sheet.says {
        text += &wrap(says, 2);
    }
    let mut number = 0;
    for section in &sheet.sections {
        text += &format!("\n{}\n", paint.tint(Tone::Heading, &section.title));
        if !section.says.is_empty() {
            text += &wrap(&section.says, 2);
        }
        for term in &section.given {
            let told = format!("{} = {}  {}", term.symbol, term.text(), term.name);
            text += &format!("{:UNDER$}{told}\n", "");
        }
        for one in &section.steps {
            number += 1;
            text += &step(&sheet, section, number, one);
        }
    }
    text += &format!("\n{}\n", paint.tint(Tone::Heading, "Sources"));
    for (index, source) in sheet.sources.iter().enumerate() {
        text += &wrap(&format!("[{}] {source}", index + 1), 2);
    }
    text
}

/// A step: its name, its formula, and the formula with numbers as it is typed into a
/// calculator. Long lines stay whole, so that they can be copied.
fn step(sheet: &WorkedSheet, section: &Section, number: usize, step: &Step) -> String {
    let mut text = format!(" {number:>5}  {}\n", step.name);
    if section.own_letters {
        for term in &step.working.terms {
            text += &format!("{:UNDER$}{}: {}\n", "", term.symbol, term.name);
        }
    }
    let (typed, result) = (step.working.put_in(), step.result());
    text += &format!("{:UNDER$}{}\n", "", step.formula());
    text + &format!("{:UNDER$}= {typed} = {result}  [{}]\n", "", sheet.source(step))
}
