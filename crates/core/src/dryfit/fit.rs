//! From readings to everything the maker wants to know.

use num_dual::Dual64;

use super::correction::{Amount, Ask, Correction, Kind, Outcome, most};
use super::pose::{Bench, Pose};
use super::reading::Reading;
use super::told::{Told, Untold};
use super::work::Work;
use super::{log, says};
use crate::sentence::{Sentence, sentence};
use crate::study::Study;

/// The dry fit: what the joint is, and what can be done.
#[derive(Clone, Debug)]
pub struct DryFit {
    /// What was read.
    pub readings: Vec<Reading>,
    /// What that says.
    pub told: Told,
    /// The plan.
    pub plan: Study,
    /// The joint as it really is, the saddle set to what it needs.
    pub real: Outcome,
    /// Crest height of the plan, mm.
    pub planned_crest: f64,
    /// What must be read before any shoulder is trimmed, and was not.
    pub asks: Vec<Ask>,
    /// What the readings say beyond pitch and overstand: contradiction, lean, aim.
    pub says: Vec<Sentence>,
    /// What can be done, the best first.
    pub corrections: Vec<Correction>,
    /// What cannot, and why.
    pub unreachable: Vec<(Kind, Sentence)>,
}

impl DryFit {
    /// What readings say of a plan's joint. Wood that earlier rounds of its fitting log took
    /// off is taken off.
    ///
    /// # Errors
    /// [`Untold`] where the plan does not close or the readings do not tell enough.
    pub fn of(plan: &Study, readings: &[Reading]) -> Result<Self, Untold> {
        let bench = bench_of(plan, &plan.design.fitting)?;
        Work::new(plan, &bench, readings)?.fit(readings)
    }

    /// By how much the crest misses the plan, mm: positive where it stands too high.
    pub fn miss(&self) -> f64 {
        self.real.crest - self.planned_crest
    }

    /// A correction of a kind with an amount of one's own, mm; of a kind without amount as it
    /// is.
    ///
    /// # Errors
    /// Why it cannot be done.
    pub fn with(&self, kind: Kind, amount: f64) -> Result<Correction, Sentence> {
        let (Some(way), true) = (kind.way(), kind.fits(&self.plan.design.joint.kind)) else {
            return self
                .correction(kind)
                .cloned()
                .ok_or_else(|| sentence!["There is no such correction of this joint."]);
        };
        let bench = bench_of(&self.plan, &self.plan.design.fitting).map_err(|one| one.says)?;
        let work = Work::new(&self.plan, &bench, &self.readings).map_err(|one| one.says)?;
        let most = most(kind, &bench.cut, work.pose.spare);
        if !(-most..=most).contains(&amount) {
            return Err(says::too_much(kind, amount.abs(), most));
        }
        if kind == Kind::Board && work.board_on && amount < 0.0 {
            return Err(says::board_is_on());
        }
        let mut one = work.cut(kind, &way, amount, false, None)?;
        if one.trims_shoulder() {
            one.asks = work.missing();
        }
        Ok(one)
    }

    /// What a reading should be if the joint were as planned, mm or degrees, with the wood of
    /// the earlier rounds taken off; of an angle gauge the board less the body.
    ///
    /// # Errors
    /// [`Untold`] where the plan does not close or such a reading cannot be understood there.
    pub fn as_planned(plan: &Study, reading: &Reading) -> Result<f64, Untold> {
        bench_of(plan, &plan.design.fitting)?.as_planned(reading)
    }

    /// What the readings of the round that is open say; none where none is, or none is read.
    pub fn of_open(study: &Study) -> Option<Result<Self, Untold>> {
        Self::of_round(study, log::open_round(&study.design)?)
    }

    /// What the readings of a round of the log say, from 0, on the joint as it was then; none
    /// where there is no such round, or nothing was read in it.
    pub fn of_round(study: &Study, index: usize) -> Option<Result<Self, Untold>> {
        let readings = &study.design.fitting.get(index)?.readings;
        (!readings.is_empty()).then(|| Self::of(&log::before(study, index), readings))
    }

    /// The plan and what of it is cut already.
    pub(super) fn bench(&self) -> Option<Bench> {
        Self::bench_of(&self.plan)
    }

    /// The same of a plan that closes.
    pub(super) fn bench_of(plan: &Study) -> Option<Bench> {
        bench_of(plan, &plan.design.fitting).ok()
    }

    /// What the crest rises by, for each radian of pitch and mm of overstand: as the joint
    /// lies; or after so much of a kind, then with what it rises by for each mm of that.
    pub(super) fn crest_slopes(&self, after: Option<(Kind, f64)>) -> Option<([f64; 2], f64)> {
        let bench = self.bench()?;
        let work = Work::new(&self.plan, &bench, &self.readings).ok()?;
        let Some((kind, amount)) = after else {
            let crest = |at: [Dual64; 2]| bench.needed_crest(&work.found(at[0], at[1]));
            return Some((by_joint(&work.told, crest).1, 0.0));
        };
        Some(work.slopes(&kind.way()?, amount, kind.closes()))
    }

    /// The joint as it was found.
    pub(super) fn pose(&self, bench: &Bench) -> Pose<f64> {
        let Told { pitch, overstand, open, .. } = self.told;
        bench.found(pitch, overstand, open.unwrap_or(0.0))
    }

    /// The first correction of a kind.
    pub fn correction(&self, kind: Kind) -> Option<&Correction> {
        self.corrections.iter().find(|one| one.kind == kind)
    }
}

/// What readings alone say, without corrections: the quick half, for a log.
pub(super) fn told_of(
    plan: &Study,
    before: &[log::Round],
    readings: &[Reading],
) -> Result<(Told, Amount), Untold> {
    let bench = bench_of(plan, before)?;
    let told = bench.told(readings)?;
    let (value, error) = crest_with_error(&bench, &told);
    Ok((told, Amount { value, error }))
}

fn bench_of(plan: &Study, before: &[log::Round]) -> Result<Bench, Untold> {
    let Some(layout) = plan.layout() else {
        let mut says = sentence!["The plan does not close: "];
        says.0.extend(plan.reason().within().0);
        return Err(Untold::of(says));
    };
    let (cut, shoulder) = log::as_cut(&plan.design, before);
    Ok(Bench::new(&plan.design, layout, cut, shoulder))
}

/// Crest height with the error that pitch and overstand leave of it, their covariance carried.
pub(super) fn crest_with_error(bench: &Bench, told: &Told) -> (f64, f64) {
    let crest =
        |at: [Dual64; 2]| bench.needed_crest(&bench.found(at[0], at[1], told.open.unwrap_or(0.0)));
    let (value, by) = by_joint(told, crest);
    (value, told.error_of(by))
}

/// Something that follows from pitch and overstand, with its derivatives by them.
pub(super) fn by_joint(told: &Told, of: impl Fn([Dual64; 2]) -> Dual64) -> (f64, [f64; 2]) {
    let slope = |which: usize| {
        let mut at = [told.pitch, told.overstand].map(Dual64::from_re);
        at[which] = at[which].derivative();
        of(at)
    };
    let (pitch, overstand) = (slope(0), slope(1));
    (pitch.re, [pitch.eps, overstand.eps])
}
