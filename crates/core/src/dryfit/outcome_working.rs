//! How what comes of a joint comes about: as it is, or once a correction is done.

use super::correction::{Correction, Kind};
use super::correction_working::{Made, exact};
use super::fit::DryFit;
use super::working::{OfFit, crest_error};
use crate::verdict::CheckId;
use crate::working::{Bench, Chain, Figure, In, OfString, PLANE, Term, angle, length, letter};

/// Of which joint something is told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// As it is, the saddle set to what it needs.
    AsItIs,
    /// Once a correction is done: so much of it, mm; none for what brings it to the plan.
    After(Kind, Option<f64>),
}

/// Something that comes of a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OfOutcome {
    /// Crest height of the middle string.
    Crest,
    /// Its error.
    CrestError,
    /// Clearance of an open string, from 0, over a fret.
    Clearance(usize, usize),
    /// Something of a string, from 0.
    String(usize, OfString),
    /// What is left at the saddle downward.
    LeftDown,
    /// What is left at the saddle upward.
    LeftUp,
    /// What a check comes to.
    Check(CheckId),
    /// Pitch.
    Pitch,
    /// Overstand.
    Overstand,
    /// What goes off the shoulder so that it closes.
    Shoulder,
    /// How far the joint moves toward the bridge: spare length used.
    Moved,
    /// Spare length left in the pocket.
    Spare,
    /// Where the bridge line lies, from the joint.
    BridgeLine,
}

impl OfOutcome {
    /// What it is, in small letters.
    fn name(self) -> String {
        let string = |index: usize| format!("string {}", index + 1);
        match self {
            Self::Crest => "crest height".to_owned(),
            Self::CrestError => "error of the crest height".to_owned(),
            Self::Clearance(index, fret) => {
                format!("clearance of {} over fret {fret}", string(index))
            }
            Self::String(index, of) => format!("{} {}", of.name().to_lowercase(), string(index)),
            Self::LeftDown => "saddle left down".to_owned(),
            Self::LeftUp => "saddle left up".to_owned(),
            Self::Check(id) => id.name().to_lowercase(),
            Self::Pitch => "pitch".to_owned(),
            Self::Overstand => "overstand".to_owned(),
            Self::Shoulder => "off the shoulder".to_owned(),
            Self::Moved => "joint moved toward the bridge".to_owned(),
            Self::Spare => "spare length left".to_owned(),
            Self::BridgeLine => "bridge line from the joint".to_owned(),
        }
    }

    /// The same with the joint that it is of, in sentence case.
    pub(super) fn of(self, when: When) -> String {
        match when {
            When::AsItIs => format!("As it is: {}", self.name()),
            When::After(kind, _) => format!("{}: {} then", kind.name(), self.name()),
        }
    }
}

/// The steps that lead to it. None of what this joint has not, and of what is only put in.
pub(super) fn chain(fit: &DryFit, when: When, of: OfOutcome) -> Option<Chain> {
    let made = match when {
        When::AsItIs => None,
        When::After(kind, None) => Some(exact(fit, kind)?.clone()),
        When::After(kind, Some(amount)) => Some(fit.with(kind, amount).ok()?),
    };
    let outcome = made.as_ref().map_or(&fit.real, |made| &made.outcome);
    let study = &outcome.study;
    let figure = match of {
        OfOutcome::Clearance(string, fret) => Some(Figure::Clearance { string, stop: 0, fret }),
        OfOutcome::String(string, of) => Some(Figure::String(string, of)),
        OfOutcome::Check(id) => Some(Figure::Check(id)),
        OfOutcome::LeftDown => Some(Figure::SaddleLeft { down: true }),
        OfOutcome::LeftUp => Some(Figure::SaddleLeft { down: false }),
        _ => None,
    };
    if let Some(figure) = figure {
        let mut chain = figure.chain(study)?;
        chain.says = match made {
            Some(_) => "Pitch and overstand are those of the joint then".to_owned(),
            None => "Pitch and overstand are those by the readings".to_owned(),
        };
        chain.says += ", with workings of their own; crest and bridge follow.";
        return Some(chain);
    }
    let layout = study.layout()?;
    let mut bench = Bench::new(&study.design, layout);
    let then = made.as_ref().and_then(|made| Then::of(fit, made));
    match of {
        OfOutcome::Crest => {
            if let Some(then) = &then {
                then.cut(&mut bench);
            }
            bench.crest_height(None)?;
        }
        OfOutcome::CrestError => {
            if outcome.crest_error == 0.0 {
                return None;
            }
            let (by, _) = fit.crest_slopes(then.as_ref().and_then(Then::single))?;
            crest_error(&mut bench, fit, by, outcome.crest_error)?;
        }
        OfOutcome::Pitch | OfOutcome::Overstand => {
            let is_pitch = of == OfOutcome::Pitch;
            let Some(then) = then else {
                let of = if is_pitch { OfFit::Pitch } else { OfFit::Overstand };
                return of.of_told(fit);
            };
            then.lies(&mut bench, if is_pitch { "θ" } else { "o" })?;
        }
        OfOutcome::Shoulder => {
            let then = then?;
            let pitch = then.tilt(&mut bench)?;
            then.made.shoulder(&mut bench, pitch);
        }
        OfOutcome::Moved => {
            then?.moved(&mut bench)?;
        }
        OfOutcome::Spare => match then {
            Some(then) => then.spare(&mut bench, outcome.spare)?,
            None => spare_now(&mut bench, fit, outcome.spare),
        },
        OfOutcome::BridgeLine => {
            let joint = bench.joint();
            let pitch = angle("θ", "pitch", layout.pitch);
            let terms = vec![bench.scale(), joint, pitch, bench.board()];
            let (name, formula) = ("bridge line from the joint", "(L - u_J) cos θ - t sin θ");
            bench.step("", name, formula, terms, outcome.bridge_line, In::Mm, PLANE);
        }
        _ => return None,
    }
    Some(bench.chain())
}

/// Spare length of the plan less what earlier rounds have used.
fn spare_now(bench: &mut Bench<'_>, fit: &DryFit, value: f64) {
    let plan = &fit.plan.design;
    let planned = length("F", "spare length of the plan", plan.joint.spare_length.to_mm());
    let used = plan.fitting.iter().filter_map(|round| round.done.as_ref());
    let used = used.map(|done| done.moved.to_mm()).filter(|moved| *moved != 0.0);
    let name = "used in an earlier round";
    let used = (1..).zip(used).map(|(place, moved)| length(letter("a", place), name, moved));
    let terms: Vec<Term> = std::iter::once(planned).chain(used).collect();
    let formula: Vec<&str> = terms.iter().map(|term| term.symbol).collect();
    let name = "spare length left";
    bench.step("", name, formula.join(" - "), terms, value, In::Mm, PLANE);
}

/// A correction of the seat or the shoulder, after which the joint lies otherwise.
struct Then<'a> {
    made: Made<'a>,
    /// How much of it, where it is a single cut.
    amount: Option<f64>,
}

impl<'a> Then<'a> {
    /// None of one that leaves the joint as it lies.
    fn of(fit: &'a DryFit, one: &'a Correction) -> Option<Self> {
        if matches!(one.kind, Kind::Nothing | Kind::Saddle | Kind::Bridge) {
            return None;
        }
        Some(Self { made: Made::of(fit, one)?, amount: one.amount.map(|amount| amount.value) })
    }

    fn single(&self) -> Option<(Kind, f64)> {
        Some((self.made.one.kind, self.amount?))
    }

    /// The joint then, up to what the crest hangs on.
    fn cut(&self, bench: &mut Bench<'_>) {
        match self.made.one.kind {
            Kind::BothEnds => {}
            _ => self.made.single(bench, self.amount.unwrap_or(0.0)),
        }
    }

    /// The same up to a step, which is the last then.
    fn lies(&self, bench: &mut Bench<'_>, symbol: &str) -> Option<()> {
        match (self.made.one.kind, symbol) {
            (Kind::BothEnds, "θ") => {
                let pitch = self.made.planned_pitch();
                let (value, name) = (pitch.value.to_radians(), "pitch then, which is the planned");
                bench.step("", name, "θ", vec![pitch], value, In::Degrees, PLANE);
            }
            (Kind::BothEnds, _) => {
                let over = self.made.planned_overstand();
                let (value, name) = (over.value, "overstand then, which is the planned");
                bench.step("", name, "o", vec![over], value, In::Mm, PLANE);
            }
            // a board is glued on: the joint lies as it is
            (Kind::Board, "θ") => {
                let pitch = self.made.pitch();
                let value = pitch.value.to_radians();
                bench.step("", "the pitch stays", "θ_0", vec![pitch], value, In::Degrees, PLANE);
            }
            (Kind::Board, _) => {
                let over = length("o_0", "overstand by the readings", self.made.before.overstand);
                bench.step("", "the overstand stays", "o_0", vec![over], over.value, In::Mm, PLANE);
            }
            _ => {
                self.cut(bench);
                up_to(bench, symbol)?;
            }
        }
        Some(())
    }

    /// The pitch then, as a step or put in.
    fn tilt(&self, bench: &mut Bench<'_>) -> Option<Term> {
        if self.made.one.kind == Kind::BothEnds {
            return Some(self.made.planned_pitch());
        }
        self.lies(bench, "θ")?;
        Some(angle("θ", "pitch then", bench.design.joint.pitch.radians()))
    }

    /// How far the neck moves along its seat as the shoulder is set back; none if it is not.
    fn moved(&self, bench: &mut Bench<'_>) -> Option<Term> {
        match self.made.one.kind {
            Kind::BothEnds => self.made.both_ends(bench),
            _ => self.cut(bench),
        }
        up_to(bench, "G")?;
        let gap = bench.steps.last()?;
        let gap = length("G", "what goes off the shoulder", gap.working.result);
        let floor = match bench.steps.iter().find(|step| step.symbol == "φ") {
            Some(step) => angle("φ", "slope of the seat then", step.working.result.to_radians()),
            None => self.made.floor(),
        };
        let formula = format!("G/(cos ρ - tan {} sin ρ)", floor.symbol);
        let terms = vec![gap, self.made.rake(), floor];
        let (name, value) = ("joint moved toward the bridge", self.made.one.spare_used());
        Some(bench.step("v", name, formula, terms, value, In::Mm, PLANE))
    }

    fn spare(&self, bench: &mut Bench<'_>, value: f64) -> Option<()> {
        let now = length("F_0", "spare length now", self.made.before.spare);
        let (formula, terms) = match self.moved(bench) {
            Some(moved) => ("F_0 - v", vec![now, moved]),
            None => {
                bench.steps.clear();
                ("F_0", vec![now])
            }
        };
        bench.step("", "spare length left then", formula, terms, value, In::Mm, PLANE);
        Some(())
    }
}

/// Takes away the steps after one; none if there is no such step.
fn up_to(bench: &mut Bench<'_>, symbol: &str) -> Option<()> {
    let last = bench.steps.iter().position(|step| step.symbol == symbol)?;
    bench.steps.truncate(last + 1);
    Some(())
}
