//! What is worked out of the readings, kept until the design or a choice changes. All of it
//! together takes a few milliseconds.

use overstand_core::dryfit::{Correction, DryFit, Kind, Reading, SetUp, Step, Untold, convergence};
use overstand_core::sentence::Sentence;
use overstand_core::study::Study;
use overstand_drawing::dryfit::{over_plan, wood};
use overstand_drawing::elevation;
use overstand_drawing::scene::Scene;

use super::round;

/// A correction by its kind, and whether it is made from a standard veneer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Chosen {
    kind: Kind,
    stock: bool,
}

impl Chosen {
    pub(super) fn of(correction: &Correction) -> Self {
        Self { kind: correction.kind, stock: correction.stock.is_some() }
    }
}

/// How much of a correction is done.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Take {
    /// What brings the crest back to the plan.
    #[default]
    Whole,
    /// Half of it, to fit and read again.
    Half,
    /// The least that brings every check to good.
    Least,
    /// An amount of one's own, mm.
    Own(f64),
}

/// What is worked out of one design.
#[derive(Debug, Default)]
pub(super) struct Worked {
    of: Option<u64>,
    /// What the readings say; none without readings.
    told: Option<Result<DryFit, Untold>>,
    /// The plan with the rounds before the one that is read; none of one that does not close.
    plan: Option<Study>,
    /// What each reading of the round should be by the plan.
    pub(super) planned: Vec<Result<f64, Untold>>,
    /// The joint as it is over the plan, or the plan alone.
    pub(super) scene: Scene,
    pub(super) bounds: Option<kurbo::Rect>,
    /// The rounds of the log.
    pub(super) steps: Vec<Step>,
    /// After the glue.
    pub(super) set_up: Option<SetUp>,
    pub(super) tried: Option<Tried>,
}

/// The chosen amount of the chosen correction.
#[derive(Debug)]
pub(super) struct Tried {
    of: (Chosen, Take),
    pub(super) made: Result<Made, Sentence>,
}

/// A correction and its drawing.
#[derive(Debug)]
pub(super) struct Made {
    pub(super) correction: Correction,
    pub(super) scene: Scene,
    pub(super) bounds: Option<kurbo::Rect>,
}

impl Worked {
    /// Works it out anew where the design has changed; says whether it has.
    pub(super) fn update(&mut self, study: &Study, revision: u64) -> bool {
        if self.of == Some(revision) {
            return false;
        }
        *self = Self { of: Some(revision), ..Self::default() };
        let Some(_) = study.layout() else { return true };
        let mut plan = study.clone();
        if let Some(index) = round::open(&study.design) {
            plan.design.fitting.truncate(index);
        }
        let readings = round::readings(&study.design);
        self.planned = readings.iter().map(|one| DryFit::as_planned(&plan, one)).collect();
        self.told = (!readings.is_empty()).then(|| DryFit::of(&plan, readings));
        self.steps = convergence(study);
        self.plan = Some(plan);
        self.scene = match self.fit() {
            Some(fit) => over_plan(fit),
            None => elevation::elevation(study),
        };
        self.bounds = self.scene.bounds();
        let is_glued = study.design.fitting.last().is_some_and(|round| round.glued);
        self.set_up = self.fit().filter(|_| is_glued).and_then(|fit| {
            let real = &fit.real.study;
            real.layout().map(|layout| SetUp::of(&real.design, layout))
        });
        true
    }

    /// What the readings say, if they say something.
    pub(super) fn fit(&self) -> Option<&DryFit> {
        self.told.as_ref()?.as_ref().ok()
    }

    /// Why they say nothing.
    pub(super) fn untold(&self) -> Option<&Untold> {
        self.told.as_ref()?.as_ref().err()
    }

    /// What a reading that is being put down should be by the plan.
    pub(super) fn as_planned(&self, reading: &Reading) -> Option<f64> {
        DryFit::as_planned(self.plan.as_ref()?, reading).ok()
    }

    /// The correction that is chosen, else the best.
    pub(super) fn base(&self, chosen: Option<Chosen>) -> Option<&Correction> {
        let all = &self.fit()?.corrections;
        chosen.and_then(|it| all.iter().find(|one| Chosen::of(one) == it)).or(all.first())
    }

    /// Works out so much of the chosen correction.
    pub(super) fn try_out(&mut self, chosen: Option<Chosen>, take: Take) {
        let Some(base) = self.base(chosen) else {
            self.tried = None;
            return;
        };
        let of = (Chosen::of(base), take);
        if self.tried.as_ref().is_some_and(|tried| tried.of == of) {
            return;
        }
        let Some(fit) = self.fit() else { return };
        let amount = base.amount.filter(|_| base.stock.is_none()).and_then(|whole| match take {
            Take::Whole => None,
            Take::Half => Some(0.5 * whole.value),
            Take::Least => base.least.as_ref().map(|least| least.amount),
            // a thicker board is so much less than none
            Take::Own(own) => Some(own.copysign(whole.value)),
        });
        let made = match amount {
            None => Ok(base.clone()),
            Some(amount) => fit.with(base.kind, amount),
        };
        let made = made.map(|correction| {
            let scene = wood(fit, &correction);
            Made { bounds: scene.bounds(), scene, correction }
        });
        self.tried = Some(Tried { of, made });
    }
}
