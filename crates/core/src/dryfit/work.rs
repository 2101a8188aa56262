//! One round in the making: what each kind of correction comes to, and why another does not
//! serve.

use num_dual::Dual64;

use super::correction::{
    Amount, Ask, Correction, Kind, Least, Outcome, crests, most, reaches, standard,
};
use super::fit::{DryFit, by_joint, crest_with_error};
use super::pose::{Bench, Cut, Pose};
use super::reading::{Face, Reading, What};
use super::told::{Told, Untold};
use super::{says, wood};
use crate::design::{BridgeKind, Design};
use crate::dimension::Dim;
use crate::layout::{Layout, Real, solve};
use crate::sentence::{Sentence, mm, sentence};
use crate::study::Study;
use crate::units::Length;
use crate::verdict::{CheckId, State, readings};

/// A cut that is less than so many of its errors is doubtful.
const DOUBT: f64 = 2.0;
/// A crest that misses the plan by less needs no correction, mm.
const NO_MISS: f64 = 0.005;

/// One round in the making.
pub(super) struct Work<'a> {
    plan: &'a Study,
    layout: &'a Layout,
    bench: &'a Bench,
    pub(super) told: Told,
    pub(super) pose: Pose<f64>,
    open: f64,
    /// What every check shall be at least.
    goal: Vec<(CheckId, State)>,
    pub(super) crest_error: f64,
    /// Whether the board is on: then it can only be thinned.
    pub(super) board_on: bool,
}

/// Whether the board is on: something was read on it, now or in an earlier round.
fn is_board_on(plan: &Design, taken: &[Reading]) -> bool {
    let earlier = plan.fitting.iter().flat_map(|round| &round.readings);
    earlier
        .chain(taken)
        .any(|one| matches!(one.what, What::Height { face: Face::Board | Face::Crowns, .. }))
}

impl<'a> Work<'a> {
    pub(super) fn new(
        plan: &'a Study,
        bench: &'a Bench,
        taken: &[Reading],
    ) -> Result<Self, Untold> {
        let layout =
            plan.layout().ok_or_else(|| Untold::of(sentence!["The plan does not close."]))?;
        let told = bench.told(taken)?;
        let open = told.open.unwrap_or(0.0);
        let (_, crest_error) = crest_with_error(bench, &told);
        Ok(Self {
            pose: bench.found(told.pitch, told.overstand, open),
            goal: readings(&plan.design, layout).map(|(id, one)| (id, one.state())).collect(),
            board_on: is_board_on(&plan.design, taken),
            plan,
            layout,
            bench,
            told,
            open,
            crest_error,
        })
    }

    pub(super) fn fit(self, taken: &[Reading]) -> Result<DryFit, Untold> {
        let real = self.outcome(&self.bench.design(&self.pose), self.crest_error);
        let real = real.map_err(Untold::of)?;
        let mut corrections = Vec::new();
        let mut unreachable = Vec::new();
        let kinds = Kind::ALL.into_iter().filter(|kind| kind.fits(&self.plan.design.joint.kind));
        for kind in kinds {
            match self.corrections(kind, &real) {
                Ok(found) => corrections.extend(found),
                Err(why) => unreachable.push((kind, why)),
            }
        }
        let missing = self.missing();
        for one in &mut corrections {
            if one.trims_shoulder() {
                one.asks.clone_from(&missing);
            }
        }
        corrections.sort_by(|a, b| {
            let key = |one: &Correction| (!one.outcome.as_planned, one.risk());
            let amount = |one: &Correction| one.amount.map_or(0.0, |amount| amount.value.abs());
            key(a)
                .cmp(&key(b))
                .then(a.spare_used().total_cmp(&b.spare_used()))
                .then(amount(a).total_cmp(&amount(b)))
        });
        Ok(DryFit {
            readings: taken.to_vec(),
            asks: if corrections.iter().any(Correction::trims_shoulder) {
                missing
            } else {
                Vec::new()
            },
            says: says::of_told(&self.plan.design, &self.told),
            told: self.told,
            plan: self.plan.clone(),
            real,
            planned_crest: self.bench.crest.1,
            corrections,
            unreachable,
        })
    }

    /// What was not read and must be before a shoulder is trimmed.
    pub(super) fn missing(&self) -> Vec<Ask> {
        let roll = self.told.roll.is_none().then_some(Ask::Roll);
        let aim = self.told.aim.is_none().then_some(Ask::Aim);
        roll.into_iter().chain(aim).collect()
    }

    /// What a design comes to; why it comes to nothing.
    fn outcome(&self, design: &Design, crest_error: f64) -> Result<Outcome, Sentence> {
        let study = Study::of(design);
        let reason = study.reason();
        Outcome::of(study, crest_error, &self.goal).ok_or(reason)
    }

    /// Corrections of a kind, or why there is none.
    fn corrections(&self, kind: Kind, real: &Outcome) -> Result<Vec<Correction>, Sentence> {
        match kind {
            Kind::Nothing => self.nothing().map(|one| vec![one]),
            Kind::Saddle => Ok(vec![self.bare(kind, real.clone())]),
            Kind::Bridge => self.bridge(real).map(|one| vec![one]),
            Kind::BothEnds => self.both_ends(),
            Kind::Shoulder => self.shoulder(),
            _ => self.single(kind, real),
        }
    }

    /// A correction that touches no wood.
    fn bare(&self, kind: Kind, outcome: Outcome) -> Correction {
        let says = says::bare(kind, &outcome, self.layout, &self.bench.cut);
        Correction {
            kind,
            amount: None,
            stock: None,
            cut: Cut::default(),
            closing: Default::default(),
            outcome,
            least: None,
            doubtful: false,
            asks: Vec::new(),
            says,
            wood: Vec::new(),
        }
    }

    /// The saddle stays at its planned height: the action is what follows.
    fn nothing(&self) -> Result<Correction, Sentence> {
        let mut design = self.bench.design(&self.pose);
        design.bridge.crest_height = Length::mm(self.bench.crest.1);
        design.found.remove(Dim::CrestHeight.info().key);
        for action in [Dim::ActionBass, Dim::ActionTreble] {
            design.found.insert(action.info().key.to_owned());
        }
        let outcome = self.outcome(&design, 0.0).or(Err(
            sentence![
                "With the saddle where it was planned the strings would lie on the frets, or far above them."
            ]
        ))?;
        Ok(self.bare(Kind::Nothing, outcome))
    }

    /// A bridge of the same travel whose middle is what the joint needs.
    fn bridge(&self, real: &Outcome) -> Result<Correction, Sentence> {
        let layout = real.study.layout().ok_or_else(Sentence::default)?;
        let (least, most) = crests(layout);
        let mut design = self.bench.design(&self.pose);
        let (low, high) = design.bridge.kind.crest_range();
        let by = 0.5 * (least + most) - 0.5 * (low.to_mm() + high.to_mm());
        match &mut design.bridge.kind {
            BridgeKind::Plate { crest_low, crest_high }
            | BridgeKind::Posts { crest_low, crest_high, .. }
            | BridgeKind::Wrapped { crest_low, crest_high, .. }
            | BridgeKind::Floating { crest_low, crest_high, .. } => {
                *crest_low = *crest_low + Length::mm(by);
                *crest_high = *crest_high + Length::mm(by);
            }
            BridgeKind::Glued { thickness, .. } => *thickness = *thickness + Length::mm(by),
        }
        let outcome = self.outcome(&design, self.crest_error)?;
        let mut correction = self.bare(Kind::Bridge, outcome);
        correction.doubtful = by.abs() < DOUBT * self.crest_error;
        Ok(correction)
    }

    pub(super) fn found<D: Real>(&self, pitch: D, overstand: D) -> Pose<D> {
        self.bench.found(pitch, overstand, self.open)
    }

    /// Crest after an amount of a way, less the planned one.
    fn crest_off<D: Real>(&self, pose: Pose<D>, cut: &Cut<D>, close: bool) -> D {
        let (pose, _) = pose.after(self.bench, cut, close);
        self.bench.needed_crest(&pose) - self.bench.crest.1
    }

    /// The amount of a way that brings the crest back to the plan: Newton's method on exact
    /// derivatives.
    fn amount(&self, way: &Cut, close: bool) -> Option<f64> {
        let pose =
            self.found(Dual64::from_re(self.told.pitch), Dual64::from_re(self.told.overstand));
        let mut amount = 0.0;
        for _ in 0..60 {
            let cut = Cut::times(way, Dual64::from_re(amount).derivative());
            let off = self.crest_off(pose, &cut, close);
            let step = off.re / off.eps;
            if !step.is_finite() {
                return None;
            }
            amount -= step;
            if step.abs() < 1e-13 {
                return Some(amount);
            }
        }
        None
    }

    /// What the crest rises by after an amount of a way: for each radian of pitch and mm of
    /// overstand as found, and for each mm more of the way.
    pub(super) fn slopes(&self, way: &Cut, amount: f64, close: bool) -> ([f64; 2], f64) {
        let off = |at: [Dual64; 2], amount: Dual64| {
            self.crest_off(self.found(at[0], at[1]), &Cut::times(way, amount), close)
        };
        let (_, by) = by_joint(&self.told, |at| off(at, Dual64::from_re(amount)));
        let at = [self.told.pitch, self.told.overstand].map(Dual64::from_re);
        (by, off(at, Dual64::from_re(amount).derivative()).eps)
    }

    /// Error of that amount: by the implicit function theorem the crest's error over its
    /// derivative by the amount.
    fn amount_error(&self, way: &Cut, amount: f64, close: bool) -> (f64, f64) {
        let (by, slope) = self.slopes(way, amount, close);
        let crest_error = self.told.error_of(by);
        (crest_error / slope.abs(), crest_error)
    }

    fn single(&self, kind: Kind, real: &Outcome) -> Result<Vec<Correction>, Sentence> {
        let Some(way) = kind.way() else { return Ok(Vec::new()) };
        let miss = real.crest - self.bench.crest.1;
        if miss.abs() < NO_MISS {
            return Err(sentence!["The crest is where it was planned: there is nothing to cut."]);
        }
        let most = most(kind, &self.bench.cut, self.pose.spare);
        let wrong_way =
            if miss < 0.0 { "It would lower the crest." } else { "It would raise the crest." };
        let Some(amount) = self.amount(&way, kind.closes()) else {
            return Err(sentence!["No such cut brings the crest back to the plan."]);
        };
        if kind == Kind::MoveJoint && !(0.0..=most).contains(&amount) {
            return Err(self.moving(&way));
        }
        // a board that is not glued on yet may be thicker as well
        let thicker = kind == Kind::Board && !self.board_on;
        if amount < 0.0 && !thicker {
            let mut says = sentence![wrong_way];
            if kind == Kind::Board {
                says.0.extend(sentence![" "].0);
                says.0.extend(says::board_is_on().0);
            }
            return Err(says);
        }
        if amount > most {
            return Err(says::too_much(kind, amount, most));
        }
        let exact = self.cut(kind, &way, amount, true, None)?;
        let mut all = vec![exact];
        if kind.is_veneer()
            && let Some(stock) = standard(amount)
            && (stock - amount).abs() > 0.01
            && let Ok(one) = self.cut(kind, &way, stock, false, Some(stock))
        {
            all.push(one);
        }
        Ok(all)
    }

    /// Why moving the joint does not bring the crest back, and what a millimetre of it does.
    fn moving(&self, way: &Cut) -> Sentence {
        let pose =
            self.found(Dual64::from_re(self.told.pitch), Dual64::from_re(self.told.overstand));
        let by = Cut::times(way, Dual64::from_re(0.0).derivative());
        let slope = self.crest_off(pose, &by, true).eps;
        let bridge = if self.bench.bridge_fixed {
            "comes out of the compensation"
        } else {
            "moves the bridge line as far toward the tail"
        };
        sentence![
            "Each ",
            mm(1.0, 1),
            " changes the crest by ",
            mm(slope, 2),
            " and ",
            bridge,
            "; ",
            mm(self.pose.spare, 1),
            " of spare length is left, which does not reach."
        ]
    }

    pub(super) fn cut(
        &self,
        kind: Kind,
        way: &Cut,
        amount: f64,
        is_exact: bool,
        stock: Option<f64>,
    ) -> Result<Correction, Sentence> {
        let (error, crest_error) = self.amount_error(way, amount, kind.closes());
        let error = is_exact.then_some(error);
        let mut correction = self.made(kind, Cut::times(way, amount), crest_error)?;
        correction.amount = Some(Amount { value: amount, error: error.unwrap_or(0.0) });
        correction.stock = stock;
        correction.doubtful |= error.is_some_and(|error| amount.abs() < DOUBT * error);
        if stock.is_none() {
            correction.least = self.least(kind, way, amount);
        }
        correction.says = self.says(&correction);
        Ok(correction)
    }

    /// What to do, in words.
    fn says(&self, one: &Correction) -> Vec<Sentence> {
        says::of(one, &self.bench.cut, self.bench.bridge_fixed, self.board_on)
    }

    /// A correction of given wood, without amount and words.
    fn made(&self, kind: Kind, cut: Cut, crest_error: f64) -> Result<Correction, Sentence> {
        let (pose, closing) = self.pose.after(self.bench, &cut, kind.closes());
        if pose.spare < 0.0 {
            return Err(sentence![
                "It uses ",
                mm(self.pose.spare - pose.spare, 1),
                " of spare length, and ",
                mm(self.pose.spare, 1),
                " is left."
            ]);
        }
        let outcome = self.outcome(&self.bench.design(&pose), crest_error)?;
        let wood = wood::of(self.bench, &self.pose, &cut, &closing);
        Ok(Correction {
            kind,
            amount: None,
            stock: None,
            cut,
            closing,
            outcome,
            least: None,
            doubtful: self.told.contradiction.is_some(),
            asks: Vec::new(),
            says: Vec::new(),
            wood,
        })
    }

    /// Whether an amount brings every check as far as the plan had it.
    fn enough(&self, kind: Kind, way: &Cut, amount: f64) -> bool {
        let (pose, _) = self.pose.after(self.bench, &Cut::times(way, amount), kind.closes());
        let design = self.bench.design(&pose);
        if pose.spare < 0.0 || !design.faults().is_empty() {
            return false;
        }
        let Ok(solved) = solve(&design) else { return false };
        Layout::of(&solved.design).is_ok_and(|layout| reaches(&solved.design, &layout, &self.goal))
    }

    /// The smallest amount that is enough, looked for up to a half more than the whole.
    fn least(&self, kind: Kind, way: &Cut, whole: f64) -> Option<Least> {
        const PLACES: i32 = 16;
        let place = |i: i32| 1.5 * whole * f64::from(i) / f64::from(PLACES);
        let first = (0..=PLACES).find(|&i| self.enough(kind, way, place(i)))?;
        let mut amount = place(first);
        if first > 0 {
            let mut less = place(first - 1);
            // to a hundredth of a millimetre
            while (amount - less).abs() > 0.005 {
                let middle = 0.5 * (amount + less);
                if self.enough(kind, way, middle) {
                    amount = middle;
                } else {
                    less = middle;
                }
            }
        }
        let (_, crest_error) = self.amount_error(way, amount, kind.closes());
        let made = self.made(kind, Cut::times(way, amount), crest_error).ok()?;
        Some(Least { amount, cut: made.cut, closing: made.closing, outcome: made.outcome })
    }

    /// Seat heights that bring pitch and overstand to the plan: φ' = φ + θ_p - θ, and a depth
    /// on which the neck lies at the planned overstand once its shoulder is closed.
    fn seat_for_plan<D: Real>(&self, pose: Pose<D>) -> [D; 2] {
        let (pitch, overstand) = self.bench.planned;
        let floor = -pose.pitch + pitch + pose.floor;
        // how far it slides as it closes depends on the angles alone
        let turned = Pose { pitch: D::from(pitch), floor, ..pose };
        let (closed, _) = turned.after(self.bench, &Cut::none(), true);
        let low = -self.bench.depth_for(&closed, overstand);
        let length = self.bench.tenon_length();
        let high = low + floor.tan() * length;
        [low + pose.depth, high + pose.depth - pose.floor.tan() * length]
    }

    fn both_ends(&self) -> Result<Vec<Correction>, Sentence> {
        let [mouth, inner] = self.seat_for_plan(self.pose);
        if mouth.abs().max(inner.abs()) < NO_MISS {
            return Err(sentence!["The seat is where it was planned: there is nothing to cut."]);
        }
        let most = most(Kind::BothEnds, &self.bench.cut, self.pose.spare);
        if mouth.abs().max(inner.abs()) > most {
            return Err(says::too_much(Kind::BothEnds, mouth.abs().max(inner.abs()), most));
        }
        let error_of = |which: usize| {
            let (_, by) =
                by_joint(&self.told, |at| self.seat_for_plan(self.found(at[0], at[1]))[which]);
            self.told.error_of(by)
        };
        let errors = [error_of(0), error_of(1)];
        let cut = Cut { mouth, inner, ..Cut::default() };
        let mut correction = self.made(Kind::BothEnds, cut, self.crest_error)?;
        correction.doubtful |= mouth.abs() < DOUBT * errors[0] && inner.abs() < DOUBT * errors[1];
        correction.says = self.says(&correction);
        Ok(vec![correction])
    }

    fn shoulder(&self) -> Result<Vec<Correction>, Sentence> {
        let mut correction = self.made(Kind::Shoulder, Cut::default(), self.crest_error)?;
        if !correction.trims_shoulder() {
            let why = if self.told.open.is_some() {
                "By the feeler the shoulder closes."
            } else {
                "No feeler was used: the shoulder is taken as closed."
            };
            return Err(sentence![why]);
        }
        correction.says = self.says(&correction);
        Ok(vec![correction])
    }
}
