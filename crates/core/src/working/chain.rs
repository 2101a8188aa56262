//! Steps below each other, each made of what stands above it.

use std::borrow::Cow;

use super::{ANGLE_DIGITS, LENGTH_DIGITS, RATIO_DIGITS, Term, Working, quantity};
use crate::design::Design;
use crate::layout::Layout;
use crate::units::Unit;

/// One number on the way, with its working.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its letter in the steps that follow; empty where none does.
    pub symbol: &'static str,
    /// What it is, in small letters.
    pub name: Cow<'static, str>,
    /// How it came about.
    pub working: Working,
    /// Its unit.
    pub unit: Unit,
    /// What stands behind the number: `mm`, `°`, `N`.
    pub sign: &'static str,
    /// Decimals to show, so that the next step comes out.
    pub digits: usize,
}

impl Step {
    /// A working that stands elsewhere, as a step.
    pub(super) fn of(name: impl Into<Cow<'static, str>>, unit: Unit, working: Working) -> Self {
        let (sign, digits) = match unit {
            Unit::Length => ("mm", LENGTH_DIGITS),
            Unit::Angle => ("°", ANGLE_DIGITS),
            Unit::Count => ("", 0),
            Unit::Number => ("", RATIO_DIGITS),
        };
        Self { symbol: "", name: name.into(), working, unit, sign, digits }
    }

    /// What it comes to, with its unit: `378.778 mm`.
    pub fn result(&self) -> String {
        quantity(self.working.result, self.digits, self.sign)
    }

    /// The formula with the letter it stands for, if it has one: `p = k_1 + c_1 - q u_1`.
    pub fn formula(&self) -> String {
        let formula = &self.working.formula;
        if self.symbol.is_empty() || self.symbol == formula.as_ref() {
            formula.to_string()
        } else {
            format!("{} = {formula}", self.symbol)
        }
    }

    /// The whole step in one line of words and signs.
    pub fn line(&self) -> String {
        format!("{}: {} = {} = {}", self.name, self.formula(), self.working.put_in(), self.result())
    }
}

/// The steps that lead to a number, in the order in which they are followed; the last one is
/// the number itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chain {
    /// The steps.
    pub steps: Vec<Step>,
    /// What has to be known besides, in a sentence; empty if nothing has.
    pub says: String,
}

impl Chain {
    /// The number itself.
    pub fn last(&self) -> Option<&Step> {
        self.steps.last()
    }

    /// What is put in and is no result of a step above: letters with their names.
    pub fn given(&self) -> Vec<Term> {
        given(&self.steps)
    }

    /// The sources, each once, in the order in which they are used first.
    pub fn sources(&self) -> Vec<&'static str> {
        sources(&self.steps)
    }

    /// All of it as text, to copy.
    pub fn text(&self) -> String {
        let mut text = String::new();
        for term in self.given() {
            text += &format!("{} = {}  {}\n", term.symbol, term.text(), term.name);
        }
        for (index, step) in self.steps.iter().enumerate() {
            text += &format!("{}. {}\n", index + 1, step.line());
        }
        if !self.says.is_empty() {
            text += &format!("{}\n", self.says);
        }
        for source in self.sources() {
            text += &format!("Source: {source}\n");
        }
        text
    }
}

/// What is put into steps and is no result of one above.
pub(super) fn given(steps: &[Step]) -> Vec<Term> {
    let mut given: Vec<Term> = Vec::new();
    for (index, step) in steps.iter().enumerate() {
        for term in &step.working.terms {
            let is_result = steps[..index].iter().any(|above| above.symbol == term.symbol);
            // the number of a fret stands in the step itself
            let is_count = term.unit == Unit::Count;
            let known = given.iter().any(|known| is_same(known, term));
            if !is_result && !known && !is_count {
                given.push(*term);
            }
        }
    }
    given
}

/// Whether two terms put in the same number under the same letter.
pub(super) fn is_same(one: &Term, other: &Term) -> bool {
    (one.symbol, one.value) == (other.symbol, other.value)
}

pub(super) fn sources(steps: &[Step]) -> Vec<&'static str> {
    let mut sources = Vec::new();
    for step in steps {
        if !sources.contains(&step.working.source) {
            sources.push(step.working.source);
        }
    }
    sources
}

/// In what a result is written.
#[derive(Clone, Copy, Debug)]
pub(crate) enum In {
    /// Millimetres.
    Mm,
    /// Degrees; radians in.
    Degrees,
    /// A rise per mm.
    Ratio,
    /// Anything else: decimals and sign.
    Other(usize, &'static str),
}

/// Steps in the making, for one layout.
pub(crate) struct Bench<'a> {
    pub(crate) design: &'a Design,
    pub(crate) layout: &'a Layout,
    pub(crate) steps: Vec<Step>,
}

impl<'a> Bench<'a> {
    pub(crate) fn new(design: &'a Design, layout: &'a Layout) -> Self {
        Self { design, layout, steps: Vec::new() }
    }

    /// Puts a step below the others and gives back its result, to be put into the next. A
    /// letter that stands there already is not worked out twice.
    #[expect(clippy::too_many_arguments, reason = "a row of a sheet")]
    pub(crate) fn step(
        &mut self,
        symbol: &'static str,
        name: &'static str,
        formula: impl Into<Cow<'static, str>>,
        terms: Vec<Term>,
        value: f64,
        written: In,
        source: &'static str,
    ) -> Term {
        let (unit, sign, digits, value) = match written {
            In::Mm => (Unit::Length, "mm", LENGTH_DIGITS, value),
            In::Degrees => (Unit::Angle, "°", ANGLE_DIGITS, value.to_degrees()),
            In::Ratio => (Unit::Number, "", RATIO_DIGITS, value),
            In::Other(digits, sign) => (Unit::Number, sign, digits, value),
        };
        let term = Term { symbol, name, value, unit, sign, digits };
        let is_there = |step: &Step| !symbol.is_empty() && step.symbol == symbol;
        if !self.steps.iter().any(is_there) {
            let working = Working { formula: formula.into(), terms, result: value, source };
            self.steps.push(Step { symbol, name: name.into(), working, unit, sign, digits });
        }
        term
    }

    /// Calls the last step by a name of its own.
    pub(crate) fn name_last(&mut self, name: String) {
        if let Some(last) = self.steps.last_mut() {
            last.name = name.into();
        }
    }

    /// The steps as a chain.
    pub(crate) fn chain(self) -> Chain {
        Chain { steps: self.steps, says: String::new() }
    }
}
