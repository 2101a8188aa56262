//! Every figure that is shown, and the chain that leads to it.

use super::chain::Bench;
use super::{Chain, PLUCK, Step, length};
use crate::dimension::{Dim, Key, Role};
use crate::joint::JointFigures;
use crate::layout::StringLine;
use crate::strings::{self, Drawn, Most, Plucking, Strings, relief_search};
use crate::study::Study;
use crate::units::Unit;
use crate::verdict::{Check, CheckId};

use super::chain::In;
use super::crest::Laid;
use super::of_string::{OfString, Together};
use crate::dryfit::{OfFit, open_round};
use crate::risk::{
    OfError, OfSpread, OfTrials, Source, margin, of_check as spread_of_check, of_error, of_spread,
};

/// A figure on a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    /// A dimension that follows from the others: found, or an outcome.
    Dim(Key),
    /// What a check comes to.
    Check(CheckId),
    /// A figure of the joint, by its name.
    Joint(&'static str),
    /// Clearance of a string over a fret: open with a stop of 0.
    Clearance {
        /// The string, from 0.
        string: usize,
        /// The fret it is stopped at, 0 for open.
        stop: usize,
        /// The fret that is to be cleared.
        fret: usize,
    },
    /// Something of a string, from 0.
    String(usize, OfString),
    /// How far a note can be plucked before it touches.
    Plucked {
        /// The string, from 0.
        string: usize,
        /// The fret it is stopped at, 0 for open.
        stop: usize,
        /// To which side it is drawn; none for either.
        drawn: Option<Drawn>,
        /// Said as a force.
        as_force: bool,
    },
    /// How near to a fret a note swings when it is played as hard as wanted.
    Swings {
        /// The string, from 0.
        string: usize,
        /// The fret it is stopped at, 0 for open.
        stop: usize,
        /// The fret that it swings over.
        fret: usize,
        /// To which side it is drawn; none for either.
        drawn: Option<Drawn>,
    },
    /// By how many cents a stopped note is sharp.
    Cents {
        /// The string, from 0.
        string: usize,
        /// The fret.
        fret: usize,
        /// With the crest where the string notes true.
        compensated: bool,
    },
    /// What all strings do together.
    Together(Together),
    /// Compensation, travel and station of a bridge for true notes.
    BridgePlace,
    /// The crest height that the wanted action needs, held or not.
    Crest,
    /// What is left at the saddle of the string, or post, that has the least.
    SaddleLeft {
        /// Downward, else upward.
        down: bool,
    },
    /// The relief with the most headroom.
    BestRelief,
    /// The headroom with another relief, mm, the action kept.
    AtRelief(f64),
    /// What an error does.
    Error(Source, OfError),
    /// How all errors come together.
    Spread(OfSpread),
    /// The ± of what a check reads, by the root of the sum of squares.
    CheckSpread(CheckId),
    /// The margin of a check in widths of its thin band.
    Margin(CheckId),
    /// What is counted in trials.
    Trials(OfTrials),
    /// What a dry fit comes to, of the round that is open.
    Fit(OfFit),
    /// The same of a round of the fitting log, from 0, as it was put down.
    Round(usize, OfFit),
}

/// The joint's figure that shows an outcome.
fn joint_figure(dim: Dim) -> Option<&'static str> {
    Some(match dim {
        Dim::HeelThickness => "heel_thickness",
        Dim::TenonInner => "tenon_inner",
        Dim::DepthMouth => "depth_mouth",
        Dim::DepthInner => "depth_inner",
        Dim::BottomAngle => "bottom_angle",
        Dim::FloorToBack => "floor_to_back",
        Dim::DeepestCut => "deepest_cut",
        Dim::PocketWidth => "pocket_width",
        Dim::PitchWedge => "pitch_wedge",
        Dim::PitchStack => "pitch_stack",
        Dim::WoodUnder => "wood_under",
        Dim::ShoulderBears => "shoulder_bears",
        Dim::BlankForHeel => "blank_for_heel",
        Dim::BlankForHead => "blank_for_head",
        Dim::BlankLengthNeeded => "blank_length",
        _ => return None,
    })
}

impl Figure {
    /// What it is, in sentence case.
    pub fn name(self, study: &Study) -> String {
        let design = &study.design;
        let string = |index: usize| {
            let name = design.strings.get(index).map_or("", |string| string.name.trim());
            format!("string {} ({name})", index + 1)
        };
        let note = |stop: usize| match stop {
            0 => "open".to_owned(),
            stop => format!("stopped at {stop}"),
        };
        match self {
            Self::Dim(key) => key.name(design),
            Self::Check(id) => id.name().to_owned(),
            Self::Joint(id) => study
                .layout()
                .and_then(|layout| {
                    let figures = JointFigures::of(design, layout);
                    Some(figures.get(id)?.name.to_owned())
                })
                .unwrap_or_default(),
            Self::Clearance { string: index, stop, fret } => {
                format!("Clearance of {}, {}, over fret {fret}", string(index), note(stop))
            }
            Self::String(index, of) => {
                format!("{} {}", of.name(), string(index))
            }
            Self::Plucked { string: index, stop, as_force, .. } => {
                let what = if as_force { "Force" } else { "Travel" };
                format!("{what} before {}, {}, touches", string(index), note(stop))
            }
            Self::Swings { string: index, stop, fret, .. } => {
                format!("Swing of {}, {}, over fret {fret}", string(index), note(stop))
            }
            Self::Cents { string: index, fret, .. } => {
                format!("Error of pitch of {}, stopped at {fret}", string(index))
            }
            Self::Together(what) => what.name().to_owned(),
            Self::BridgePlace => "Place of the bridge".to_owned(),
            Self::Crest => "Crest height needed".to_owned(),
            Self::SaddleLeft { down: true } => "Saddle left down".to_owned(),
            Self::SaddleLeft { down: false } => "Saddle left up".to_owned(),
            Self::BestRelief => "Best relief".to_owned(),
            Self::AtRelief(relief) => {
                format!("Headroom with a relief of {}", super::quantity(relief, 3, "mm"))
            }
            Self::Error(source, of) => format!("{}: {}", source.name(design), of.name()),
            Self::Spread(of) => of.name().to_owned(),
            Self::CheckSpread(id) => {
                format!("{}: ± by the root of the sum of squares", id.name())
            }
            Self::Margin(id) => format!("{}: margin", id.name()),
            Self::Trials(of) => of.name(design),
            Self::Fit(of) => of.name(),
            Self::Round(round, of) => format!("Round {}: {}", round + 1, of.name().to_lowercase()),
        }
    }

    /// The steps that lead to it from what the design holds. None of what is no result, and of
    /// what this design has not.
    pub fn chain(self, study: &Study) -> Option<Chain> {
        let (design, closed) = (&study.design, study.closed()?);
        let layout = &closed.layout;
        let mut bench = Bench::new(design, layout);
        let has = |string: usize| string < layout.strings.len();
        match self {
            Self::Dim(key) => return dim(study, key),
            Self::Check(id) => {
                let check = closed.checks.iter().find(|check| check.id == id)?;
                of_check(&mut bench, check);
            }
            Self::Margin(id) => {
                let check = closed.checks.iter().find(|check| check.id == id)?;
                of_check(&mut bench, check);
                margin(&mut bench, id, check.reading.value, check.reading.limit)?;
            }
            Self::Joint(id) => {
                let figures = JointFigures::of(design, layout);
                let figure = figures.get(id)?;
                if matches!(id, "reads_neck" | "reads_board" | "reads_crowns") {
                    bench.crest_in_body(None)?;
                }
                bench.steps.push(Step::of(figure.name, figure.unit, figure.working.clone()));
            }
            Self::Clearance { string, stop: 0, fret } => {
                bench.open(string, fret)?;
            }
            Self::Clearance { string, stop, fret } => {
                bench.stopped(string, stop, fret)?;
            }
            Self::String(string, of) if has(string) => of.put(&mut bench, string)?,
            Self::String(..) => return None,
            Self::Plucked { string, stop, drawn, as_force } => {
                let plucking = Plucking::new(layout, design.wanted.pluck_place.to_mm());
                let most = match drawn {
                    None => plucking.most(string, stop)?,
                    Some(drawn) => plucking.most_drawn(string, stop, drawn)?,
                };
                if as_force {
                    let pull = strings::pull(design, layout, string)?;
                    let length = plucking.sounding(string, stop)?;
                    let give = strings::give(length, plucking.place(), pull.tension);
                    bench.force(string, most, most.most / give)?;
                } else {
                    bench.most(string, most)?;
                }
            }
            Self::Swings { string, stop, fret, drawn } => {
                bench.lowest(string, (stop, fret), drawn)?;
            }
            Self::Cents { string, fret, compensated } if has(string) => {
                let report = Strings::of(design, layout);
                let one = report.each.get(string)?.intonation.as_ref()?;
                let list = if compensated { &one.cents_compensated } else { &one.cents };
                let cents = *list.get(fret.checked_sub(1)?)?;
                let crest = if compensated {
                    design.scale.length.to_mm() + one.compensation
                } else {
                    layout.strings.get(string)?.crest_u
                };
                bench.cents(string, fret, crest, compensated, cents)?;
            }
            Self::Cents { .. } => return None,
            Self::Together(what) => {
                let report = Strings::of(design, layout);
                let pulls = report.each.iter().map(|string| string.pull.as_ref());
                let part = |pull: &strings::Pull| match what {
                    Together::Pull => Some(pull.tension),
                    Together::OnNut => Some(pull.nut_force),
                    Together::OnSaddle => Some(pull.saddle?.down),
                    Together::Forward => Some(pull.saddle?.forward),
                };
                let forces: Vec<f64> =
                    pulls.map(|pull| part(pull?)).collect::<Option<Vec<f64>>>()?;
                let sum = match what {
                    Together::Pull => report.pull,
                    Together::OnNut => report.nut_force,
                    Together::OnSaddle => report.saddle_down,
                    Together::Forward => report.saddle_forward,
                }?;
                bench.sum(what.name(), &forces, sum);
                let mut chain = bench.chain();
                chain.says = "Each string's own force has a working of its own.".to_owned();
                return Some(chain);
            }
            Self::BridgePlace => {
                let place = Strings::of(design, layout).bridge_place(design, layout)?;
                bench.place(&place);
                let mut chain = bench.chain();
                chain.says = "What each string needs has a working of its own.".to_owned();
                return Some(chain);
            }
            Self::Crest => {
                bench.crest_height(None)?;
            }
            Self::SaddleLeft { down } => bench.saddle_left(down)?,
            Self::BestRelief => return best_relief(study, bench),
            Self::AtRelief(relief) => return at_relief(study, relief),
            Self::Fit(of) => return of.chain(study, open_round(design)?),
            Self::Round(round, of) => return of_round(study, round, of),
            Self::Error(..) | Self::Spread(_) | Self::CheckSpread(_) | Self::Trials(_) => {
                let says = match self {
                    Self::Error(source, of) => of_error(&mut bench, source, of)?,
                    Self::Spread(of) => of_spread(&mut bench, of)?,
                    Self::CheckSpread(id) => spread_of_check(&mut bench, id)?,
                    Self::Trials(of) => of.put(&mut bench)?,
                    _ => String::new(),
                };
                let mut chain = bench.chain();
                chain.says = says;
                return Some(chain);
            }
        }
        let mut chain = bench.chain();
        chain.says = match self {
            Self::String(_, OfString::Compensation)
            | Self::Check(CheckId::Intonation)
            | Self::Margin(CheckId::Intonation) => {
                "The crest u_c is found by trying: it is where the note comes to no cents."
            }
            Self::String(_, OfString::TravelLeft) => {
                "The compensation that it needs has a working of its own."
            }
            Self::String(_, OfString::NutMoved | OfString::CompensationWithNut) => {
                "By how many cents each note is sharp has a working of its own."
            }
            _ => "",
        }
        .to_owned();
        Some(chain)
    }
}

/// What a round of the log came to, with the day on which it was put down.
fn of_round(study: &Study, round: usize, of: OfFit) -> Option<Chain> {
    let on = study.design.fitting.get(round)?.on;
    let mut chain = of.chain(study, round)?;
    if !chain.says.is_empty() {
        chain.says.push(' ');
    }
    chain.says += &format!(
        "Of the readings put down in round {} on {on}, against the plan as it stands, with the \
         wood of the rounds before taken off.",
        round + 1
    );
    Some(chain)
}

/// What a check measures, with all steps that lead there.
fn of_check(bench: &mut Bench<'_>, check: &Check) {
    lead(bench, check);
    let id = check.id;
    bench.steps.push(Step::of(id.name(), id.unit(), check.working.clone()));
}

/// The steps that lead to what a check measures.
fn lead(bench: &mut Bench<'_>, check: &Check) {
    let string = check.reading.string.unwrap_or(0);
    let (stop, fret) = check.reading.fret.unwrap_or((1, 1));
    let last = bench.layout.clearances.frets();
    let action = usize::from(bench.design.wanted.action_fret);
    let clears = |bench: &mut Bench<'_>, fret| bench.open(string, fret).map(drop);
    // where a step is lacking the working of the check stands alone
    let led = match check.id {
        CheckId::SaddleTravel => {
            // of a shared crest it is a post, else the string that needs just so much
            let needs = |line: &StringLine| line.crest_height == check.reading.value;
            let string = bench.layout.strings.iter().position(needs);
            match (bench.layout.posts, string) {
                (Some(posts), _) => bench.post(&posts, check.reading.value),
                (None, Some(string)) => bench.crest_height(Some(string)).map(drop),
                (None, None) => None,
            }
        }
        CheckId::ForeAft => {
            let offset = length("offset", "crest beyond the middle crest", check.reading.value);
            bench.saddle_stands("offset", vec![offset], offset.value);
            Some(())
        }
        CheckId::Intonation => bench.needed(string).map(|needed| {
            let middle = bench.design.bridge.compensation.to_mm();
            let middle = length("c", "compensation of the bridge", middle);
            bench.saddle_stands("needed - c", vec![needed, middle], check.reading.value);
        }),
        CheckId::OpenStrings => clears(bench, fret),
        CheckId::FirstFret => clears(bench, 1),
        CheckId::LastFret => clears(bench, last),
        CheckId::ActionBass | CheckId::ActionTreble => clears(bench, action),
        CheckId::FrettedNotes => bench.stopped(string, stop, fret).map(drop),
        CheckId::NutSlot => bench.slot(string).map(drop),
        CheckId::SaddleBreak => bench.saddle_break(Some(string)).map(drop),
        CheckId::NutBreak => bench.nut_break(Some(string)).map(drop),
        CheckId::HeadBench => bench.bench_gap().map(drop),
        CheckId::WedgeGap => bench.board_end().map(drop),
        CheckId::StringStrength => bench.load(string).map(drop),
        CheckId::StringSlack => bench.give(string).map(drop),
        CheckId::BridgeEdge => bench.crest_in_body(Some(string)).map(drop),
        _ => Some(()),
    };
    if led.is_none() {
        bench.steps.clear();
    }
}

/// A dimension that follows from the others.
fn dim(study: &Study, key: Key) -> Option<Chain> {
    let (design, layout) = (&study.design, study.layout()?);
    let mut bench = Bench::new(design, layout);
    let info = key.dim.info();
    let found = info.role == Role::Closing && key.is_found(design);
    match (key.dim, info.role) {
        (Dim::CrestHeight, _) if found => {
            bench.crest_height(None)?;
        }
        (Dim::Station, _) if found => {
            bench.crest_in_body(None)?;
            // the height is no part of it
            bench.steps.retain(|step| step.symbol != "Y_s");
        }
        (_, Role::Closing) if found => {
            bench.crest_height(None)?;
            let mut ends = Vec::new();
            if !Dim::CrestHeight.key().is_found(design) {
                ends.push(Dim::CrestHeight.info().name.to_lowercase());
            }
            if !Dim::Station.key().is_found(design) {
                ends.push(Dim::Station.info().name.to_lowercase());
            }
            for &held in Dim::ALL {
                if held.info().role == Role::Outcome && !held.key().is_found(design) {
                    outcome(&mut bench, study, held)?;
                    ends.push(held.info().name.to_lowercase());
                }
            }
            let mut chain = bench.chain();
            let value = key.get(design)?;
            let sign = match info.unit {
                Unit::Length => "mm",
                Unit::Angle => "°",
                Unit::Count | Unit::Number => "",
            };
            let value = super::quantity(value, info.digits.max(3), sign);
            chain.says = format!(
                "{} is found: with {value} put in, the steps come out at what is held ({}).",
                info.name,
                ends.join(", ")
            );
            return Some(chain);
        }
        (dim, Role::Outcome) => outcome(&mut bench, study, dim)?,
        _ => return None,
    }
    Some(bench.chain())
}

fn outcome(bench: &mut Bench<'_>, study: &Study, dim: Dim) -> Option<()> {
    let design = bench.design;
    match dim {
        Dim::SaddleBreak => bench.saddle_break(None).map(drop),
        Dim::NutBreak => bench.nut_break(None).map(drop),
        Dim::BenchGap => bench.bench_gap().map(drop),
        Dim::BoardEndGap => bench.board_end().map(drop),
        Dim::WedgeGap => {
            let gap = bench.board_end()?;
            let wedge = design.joint.wedge_height.to_mm();
            let terms = vec![gap, length("w", "wedge height", wedge)];
            let over = gap.value - wedge;
            bench.step("", "gap over the wedge", "G - w", terms, over, In::Mm, super::PLANE);
            Some(())
        }
        Dim::ReadNeck => bench.reads(Laid::Neck).map(drop),
        Dim::ReadBoard => bench.reads(Laid::Board).map(drop),
        Dim::ReadCrowns => bench.reads(Laid::Crowns).map(drop),
        _ => {
            let chain = Figure::Joint(joint_figure(dim)?).chain(study)?;
            bench.steps.extend(chain.steps);
            Some(())
        }
    }
}

/// The best relief beside those a hundredth off.
fn best_relief(study: &Study, mut bench: Bench<'_>) -> Option<Chain> {
    let best = relief_search::best_at_bench(&study.design)?;
    let at = |relief: f64| Some(relief_search::at_relief(&study.design, relief)?.headroom);
    let less = length("d_1", "travel with 0.01 mm less relief", at(best.relief - 0.01)?);
    let this = length("d_2", "travel with this relief", best.headroom);
    let more = length("d_3", "travel with 0.01 mm more relief", at(best.relief + 0.01)?);
    let most = less.value.max(this.value).max(more.value);
    let name = "travel before any string touches";
    let terms = vec![less, this, more];
    bench.step("", name, "max(max(d_1, d_2), d_3)", terms, most, In::Mm, PLUCK);
    let mut chain = bench.chain();
    let relief = super::quantity(best.relief, 2, "mm");
    chain.says = format!(
        "The relief is found by trying: with {relief} the string that touches first takes most. \
         How far each note goes has a working of its own."
    );
    Some(chain)
}

/// The note that touches first with another relief.
fn at_relief(study: &Study, relief: f64) -> Option<Chain> {
    let at = relief_search::at_relief(&study.design, relief)?;
    let (design, layout) = relief_search::with_relief(&study.design, relief)?;
    let mut bench = Bench::new(&design, &layout);
    bench.most(at.string, at.at)?;
    let mut chain = bench.chain();
    let string = design.strings.get(at.string).map_or("", |string| string.name.trim());
    chain.says = format!(
        "With this relief, and the heights over fret 1 and the action fret kept, {string} takes \
         least of all strings."
    );
    Some(chain)
}

/// The note of each string that touches first, of a study.
pub(super) fn hardest(study: &Study, string: usize) -> Option<Most> {
    let place = study.design.wanted.pluck_place.to_mm();
    Plucking::new(study.layout()?, place).most_of_string(string)
}
