//! The worked sheet: from the dimensions that are held to the verdict, as steps that are
//! followed by hand.

use super::chain::{Bench, given, is_same, sources};
use super::crest::Laid;
use super::figure::hardest;
use super::of_string::{OfString, Together};
use super::{Figure, OfFit, OfSpread, Step, Term};
use crate::dimension::{Dim, Key, Role};
use crate::dryfit::Round;
use crate::joint::{Figure as JointFigure, Group, JointFigures};
use crate::sentence::lower;
use crate::study::{Closed, Study};
use crate::units::{Unit, show_number};
use crate::verdict::Check;

/// A part of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its heading, in sentence case.
    pub title: String,
    /// What has to be known of it, in a sentence; empty if nothing has.
    pub says: String,
    /// Letters that are new in it, with their numbers.
    pub given: Vec<Term>,
    /// Its steps.
    pub steps: Vec<Step>,
    /// Each step has letters of its own, which are told beside it.
    pub own_letters: bool,
}

/// The whole sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkedSheet {
    /// What holds for all of it.
    pub says: Vec<String>,
    /// Its parts.
    pub sections: Vec<Section>,
    /// The sources; a step names its own by its place here.
    pub sources: Vec<&'static str>,
}

/// Steps that are the same for every string.
const SHARED: [&str; 9] = ["u_J", "u_A", "u_B", "κ", "u_1", "u_a", "u_f", "u_l", "θ_s"];

impl WorkedSheet {
    /// The sheet of a study; none of a design that does not close.
    pub fn of(study: &Study) -> Option<Self> {
        let closed = study.closed()?;
        let mut sections = Vec::new();
        let shared = middle(study, closed, &mut sections);
        for string in 0..closed.layout.strings.len() {
            sections.extend(of_string(study, closed, string, &shared));
        }
        sections.extend(together(study));
        sections.extend(verdict(closed));
        sections.extend(cuts(study, closed));
        sections.extend(how_true(study, closed));
        sections.extend(rounds(study));
        let all: Vec<Step> =
            sections.iter().flat_map(|section| section.steps.iter().cloned()).collect();
        let says = vec![
            "Set the calculator to degrees. Lengths are in millimetres. Type the third line of a \
             step as it stands: it comes to the number at its end, or within the last digits of \
             it, as the numbers put in are rounded."
                .to_owned(),
            found(study),
        ];
        Some(Self { says, sections, sources: sources(&all) })
    }

    /// The place of a source in the list, from 1.
    pub fn source(&self, step: &Step) -> usize {
        let at = self.sources.iter().position(|source| *source == step.working.source);
        at.map_or(0, |at| at + 1)
    }
}

/// Which dimensions were found, in a sentence.
fn found(study: &Study) -> String {
    let design = &study.design;
    let found: Vec<String> = Key::all_of(design)
        .into_iter()
        .filter(|key| key.dim.info().role == Role::Closing && key.is_found(design))
        .filter_map(|key| {
            let info = key.dim.info();
            let sign = if info.unit == Unit::Angle { "°" } else { "mm" };
            let value = super::quantity(key.get(design)?, info.digits.max(4), sign);
            Some(format!("{} {value}", lower(&key.name(design))))
        })
        .collect();
    if found.is_empty() {
        return "Everything is held, nothing is found.".to_owned();
    }
    format!(
        "Found, so that the rest comes out as it is held: {}. All else is held.",
        found.join(", ")
    )
}

fn section(title: impl Into<String>, steps: Vec<Step>, above: &[Step]) -> Section {
    let known = given(above);
    let is_new = |term: &Term| {
        let is_result = above.iter().any(|step| step.symbol == term.symbol);
        !is_result && !known.iter().any(|known| is_same(known, term))
    };
    let given = given(&steps).into_iter().filter(is_new).collect();
    Section { title: title.into(), says: String::new(), given, steps, own_letters: false }
}

/// The sections of the middle string; the steps that all strings share.
fn middle(study: &Study, closed: &Closed, sections: &mut Vec<Section>) -> Vec<Step> {
    let design = &study.design;
    let layout = &closed.layout;
    let mut bench = Bench::new(design, layout);
    let mut done = 0;
    let mut close = |bench: &Bench<'_>, title: &str, says: String| {
        let (above, new) = bench.steps.split_at(done);
        if !new.is_empty() {
            let mut one = section(title, new.to_vec(), above);
            one.says = says;
            sections.push(one);
        }
        done = bench.steps.len();
    };
    bench.bend();
    close(&bench, "The neck and its bend", String::new());
    bench.crest(None);
    let says = "It lies on the centre line, with the mean of the heights wanted at bass and \
                treble.";
    close(&bench, "The middle string", says.to_owned());
    bench.crest_height(None);
    let held = if Dim::CrestHeight.key().is_found(design) {
        "The crest height is found: it is what the last step comes to."
    } else {
        "The crest height is held: what is found was found so that the last step comes to it."
    };
    close(&bench, "From the neck to the body: the crest", held.to_owned());
    bench.reads(Laid::Neck);
    bench.reads(Laid::Board);
    if design.is_fretted() {
        bench.reads(Laid::Crowns);
    }
    let says = "On the straight neck without strings.";
    close(&bench, "What the straightedge must read", says.to_owned());
    bench.saddle_break(None);
    bench.nut_break(None);
    close(&bench, "How the middle string bends", String::new());
    bench.board_end();
    bench.bench_gap();
    close(&bench, "Board over the body, headstock over the bench", String::new());
    bench.steps.retain(|step| SHARED.contains(&step.symbol));
    bench.steps
}

fn of_string(study: &Study, closed: &Closed, string: usize, shared: &[Step]) -> Option<Section> {
    let (design, layout) = (&study.design, &closed.layout);
    let mut bench = Bench::new(design, layout);
    bench.steps = shared.to_vec();
    bench.slot(string)?;
    bench.crest_height(Some(string))?;
    bench.saddle_break(Some(string));
    bench.nut_break(Some(string));
    if let Some((stop, fret)) = layout.least_stopped_at(string) {
        bench.stopped(string, stop, fret);
    }
    // none of a string without note and gauge
    bench.load(string);
    bench.strain(string);
    bench.on_nut(string);
    bench.on_saddle(string, true);
    // the clearance of the stopped string is another note's
    let mut played = Bench::new(design, layout);
    played.steps =
        bench.steps.iter().filter(|step| !OF_NOTE.contains(&step.symbol)).cloned().collect();
    let before = played.steps.len();
    if let Some(most) = hardest(study, string) {
        played.most(string, most);
    }
    let mut tuned = Bench::new(design, layout);
    tuned.steps = played.steps[..before].to_vec();
    // none of a string without note and gauge, or without frets
    let is_tuned = OfString::Compensation.put(&mut tuned, string).is_some();
    let tuned = if is_tuned { &tuned.steps[before..] } else { &[] };
    let name = design.strings.get(string).map_or("", |string| string.name.trim());
    let title = format!("String {} ({name})", string + 1);
    let (above, new) = bench.steps.split_at(shared.len());
    let steps = [new, &played.steps[before..], tuned].concat();
    let mut one = section(title, steps, above);
    one.says = "Its clearance where a stopped note comes nearest to a fret, and the travel at \
                the pluck at which it first touches one."
        .to_owned();
    if is_tuned {
        one.says += " Then the compensation: where its crest must lie for a true note, u_c, is \
                     found by trying.";
    }
    Some(one)
}

/// Steps that are of one stopped note.
const OF_NOTE: [&str; 10] = ["c", "u_n", "u_m", "k_n", "k_m", "w_n", "w_m", "s_n", "s_m", "R_n"];

fn own(title: impl Into<String>, steps: Vec<Step>) -> Option<Section> {
    let title = title.into();
    let (says, given) = (String::new(), Vec::new());
    (!steps.is_empty()).then_some(Section { title, says, given, steps, own_letters: true })
}

/// What all strings do together, and where the bridge must stand for them.
fn together(study: &Study) -> Option<Section> {
    let figures = Together::ALL.map(Figure::Together).into_iter().chain([Figure::BridgePlace]);
    let chains = figures.filter_map(|figure| figure.chain(study));
    own("All strings together", chains.flat_map(|chain| chain.steps).collect())
}

/// How the crest spreads, and each check.
fn how_true(study: &Study, closed: &Closed) -> Option<Section> {
    let of_crest = OfSpread::ALL.map(Figure::Spread).into_iter();
    let of_crest = of_crest.filter_map(|figure| figure.chain(study));
    let mut steps: Vec<Step> = of_crest.flat_map(|chain| chain.steps).collect();
    for check in &closed.checks {
        let Some(chain) = Figure::CheckSpread(check.id).chain(study) else { continue };
        // what each error brings is put in
        let last = chain.steps.len().saturating_sub(2);
        steps.extend(chain.steps.into_iter().skip(last).map(|step| {
            let name = format!("{}: {}", check.id.name(), step.name);
            Step { name: name.into(), ..step }
        }));
    }
    let mut one = own("How true: the root of the sum of squares", steps)?;
    one.says = "What each error brings is its slope times its standard uncertainty; in the window \
                each has a working of its own."
        .to_owned();
    Some(one)
}

/// What the readings of each round say of the joint.
fn rounds(study: &Study) -> Vec<Section> {
    let one = |(index, round): (usize, &Round)| {
        let all = [
            OfFit::PitchError,
            OfFit::Pitch,
            OfFit::OverstandError,
            OfFit::Overstand,
            OfFit::CrestError,
            OfFit::Miss,
        ];
        let mut steps: Vec<Step> = Vec::new();
        for of in all {
            for step in Figure::Round(index, of).chain(study)?.steps {
                let is_there = steps.iter().any(|known| known == &step);
                if !is_there {
                    steps.push(step);
                }
            }
        }
        let mut one = section(format!("Round {} of the fitting log", index + 1), steps, &[]);
        one.says = format!(
            "As it was read on {}, against the plan as it stands, with the wood of the rounds \
             before taken off.",
            round.on
        );
        Some(one)
    };
    study.design.fitting.iter().enumerate().filter_map(one).collect()
}

fn verdict(closed: &Closed) -> Option<Section> {
    let step = |check: &Check| {
        let limit = check.reading.limit;
        let show = |value: f64| {
            let text = show_number(value, check.digits());
            match check.id.unit() {
                Unit::Length => format!("{text} mm"),
                Unit::Angle => format!("{text}°"),
                Unit::Count | Unit::Number => text,
            }
        };
        let wanted = match (limit.thin_below, limit.thin_above) {
            (Some(low), Some(high)) => format!(", wanted {} to {}", show(low), show(high)),
            (Some(low), None) => format!(", wanted {} or more", show(low)),
            (None, Some(high)) => format!(", wanted {} or less", show(high)),
            (None, None) => String::new(),
        };
        let name = format!("{}: {}{wanted}", check.id.name(), check.state.text());
        Step::of(name, check.id.unit(), check.working.clone())
    };
    own("The verdict", closed.checks.iter().map(step).collect())
}

fn cuts(study: &Study, closed: &Closed) -> Vec<Section> {
    let figures = JointFigures::of(&study.design, &closed.layout);
    Group::ALL
        .into_iter()
        .filter(|group| *group != Group::Straightedge)
        .filter_map(|group| {
            let step =
                |figure: &JointFigure| Step::of(figure.name, figure.unit, figure.working.clone());
            let steps = figures.of_group(group).map(step).collect();
            own(format!("What to cut: {}", group.name().to_lowercase()), steps)
        })
        .collect()
}
