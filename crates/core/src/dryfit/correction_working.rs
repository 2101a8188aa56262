//! How much wood a correction takes, and how the joint lies once it is cut.

use super::correction::{Correction, Kind};
use super::fit::DryFit;
use super::outcome_working::{self, OfOutcome, When};
use super::pose::{Bench as Cutting, Pose};
use crate::dimension::Dim;
use crate::working::{Bench, Chain, FRETS, In, PLANE, Term, angle, count, length, quantity};

/// The correction of a kind that is not made from a standard thickness.
pub(super) fn exact(fit: &DryFit, kind: Kind) -> Option<&Correction> {
    fit.corrections.iter().find(|one| one.kind == kind && one.stock.is_none())
}

/// The least of a correction that is enough: with it put in, the crest that is then needed.
pub(super) fn least(fit: &DryFit, kind: Kind) -> Option<Chain> {
    let whole = exact(fit, kind)?;
    let amount = whole.least.as_ref().map(|least| least.amount).filter(|least| *least != 0.0)?;
    let mut chain = outcome_working::chain(fit, When::After(kind, Some(amount)), OfOutcome::Crest)?;
    let wood = quantity(amount, 4, "mm");
    chain.says = format!(
        "The amount x_w is found by halving, to a hundredth of a millimetre: {wood} is the least \
         with which every check is good, or as good as in the plan. What each check then comes to \
         stands in the verdict under Then, with workings of their own."
    );
    Some(chain)
}

/// How much wood a correction takes: with it put in, the steps come out at the plan.
pub(super) fn amount(fit: &DryFit, kind: Kind) -> Option<Chain> {
    let one = exact(fit, kind)?;
    let study = &one.outcome.study;
    let mut bench = Bench::new(&study.design, study.layout()?);
    let made = Made::of(fit, one)?;
    match kind {
        Kind::BothEnds => {
            made.both_ends(&mut bench);
            let mut chain = bench.chain();
            chain.says = "On that seat the neck lies at the planned pitch and overstand, once its \
                          shoulder is closed."
                .to_owned();
            return Some(chain);
        }
        Kind::Shoulder => {
            made.shoulder(&mut bench, made.pitch());
            return Some(bench.chain());
        }
        _ => {}
    }
    let amount = one.amount?;
    made.single(&mut bench, amount.value);
    bench.crest_height(None)?;
    let mut chain = bench.chain();
    let (wood, plan) = (quantity(amount.value, 4, "mm"), quantity(fit.planned_crest, 4, "mm"));
    chain.says = format!(
        "The amount x_w is found by Newton's method on exact derivatives: with {wood} put in, the \
         steps come out at the planned crest, {plan}."
    );
    Some(chain)
}

/// A correction in the making, on the joint as it was found.
pub(super) struct Made<'a> {
    fit: &'a DryFit,
    cutting: Cutting,
    pub(super) before: Pose<f64>,
    pub(super) one: &'a Correction,
}

impl<'a> Made<'a> {
    pub(super) fn of(fit: &'a DryFit, one: &'a Correction) -> Option<Self> {
        let cutting = fit.bench()?;
        Some(Self { fit, before: fit.pose(&cutting), cutting, one })
    }

    pub(super) fn planned_pitch(&self) -> Term {
        angle("θ", "planned pitch", self.cutting.planned.0)
    }

    pub(super) fn planned_overstand(&self) -> Term {
        length("o", "planned overstand", self.cutting.planned.1)
    }

    pub(super) fn rake(&self) -> Term {
        angle("ρ", "rake of the end wall", self.cutting.values[Dim::WallRake])
    }

    fn turn(&self) -> Term {
        let turn = self.fit.plan.layout().map_or(0.0, |layout| layout.pitch - layout.floor());
        angle("τ", "tenon's bottom to the neck's underside", turn)
    }

    fn shut(&self) -> Term {
        angle("θ_c", "pitch at which the shoulder closes", self.before.closes_at)
    }

    fn shoulder_length(&self) -> Term {
        length("S", "length of the shoulder", self.cutting.shoulder())
    }

    fn tenon(&self) -> Term {
        length("ℓ", "tenon length", self.cutting.tenon_length())
    }

    pub(super) fn floor(&self) -> Term {
        angle("φ_0", "slope of the seat now", self.before.floor)
    }

    fn depth(&self) -> Term {
        length("d_0", "depth of the seat at the mouth now", self.before.depth)
    }

    pub(super) fn pitch(&self) -> Term {
        angle("θ_0", "pitch now", self.before.pitch)
    }

    /// What goes off the shoulder's top or foot so that it closes at a pitch.
    pub(super) fn shoulder(&self, bench: &mut Bench<'_>, pitch: Term) {
        let closing = self.one.closing;
        let (formula, value, name) = if closing.foot_off > 0.0 {
            (format!("S sin({} - θ_c)", pitch.symbol), closing.foot_off, "off the shoulder's foot")
        } else {
            (format!("S sin(θ_c - {})", pitch.symbol), closing.top_off, "off the shoulder's top")
        };
        let terms = vec![self.shoulder_length(), pitch, self.shut()];
        bench.step("", name, formula, terms, value, In::Mm, PLANE);
    }

    /// The neck set back as its shoulder is trimmed and recut at a pitch and a seat: the
    /// shoulder's top on the underside from the nut, and the tenon's depth there.
    fn set_back(
        &self,
        bench: &mut Bench<'_>,
        pitch: Term,
        floor: Term,
        recut: f64,
    ) -> (Term, Term) {
        let before = &self.before;
        let name = "the shoulder's top from the nut, along the underside";
        let top = length("u_T0", name, before.top);
        let deep = length("k_0", "depth of the tenon there, square to the board", before.deep);
        let (rake, turn) = (self.rake(), self.turn());
        let turned = pitch.value.to_radians() - before.closes_at;
        let (mut parts, mut terms, mut gap) = (Vec::new(), Vec::new(), 0.0);
        if turned < 0.0 {
            parts.push(format!("S sin(θ_c - {})", pitch.symbol));
            terms.extend([self.shoulder_length(), self.shut(), pitch]);
            gap += -turned.sin() * self.cutting.shoulder();
        }
        if recut != 0.0 {
            parts.push(format!("x_w (cos ρ - tan {} sin ρ)", floor.symbol));
            terms.extend([wood(recut), rake, floor]);
            let (sin, cos) = self.cutting.values[Dim::WallRake].sin_cos();
            gap += recut * (cos - floor.value.to_radians().tan() * sin);
        }
        if parts.is_empty() {
            return (top, deep);
        }
        let name = "what goes off the shoulder, square to the end wall";
        let gap = bench.step("G", name, parts.join(" + "), terms, gap, In::Mm, PLANE);
        let along = gap.value / (pitch.value + rake.value).to_radians().cos();
        let formula = format!("u_T0 - G/cos({} + ρ)", pitch.symbol);
        let (name, value) = ("the shoulder's top then", before.top - along);
        let top =
            bench.step("u_T", name, formula, vec![top, gap, pitch, rake], value, In::Mm, PLANE);
        let formula = format!("k_0 - G tan τ/cos({} + ρ)", pitch.symbol);
        let value = before.deep - along * turn.value.to_radians().tan();
        let terms = vec![deep, gap, turn, pitch, rake];
        let name = "depth of the tenon there then";
        let deep = bench.step("k_T", name, formula, terms, value, In::Mm, PLANE);
        (top, deep)
    }

    /// How far along the underside the shoulder's top lies from X = 0 for each mm of overstand;
    /// none of a square wall.
    fn along(&self, bench: &mut Bench<'_>, pitch: Term) -> Option<Term> {
        let rake = self.rake();
        if rake.value == 0.0 {
            return None;
        }
        let (r, t) = (rake.value.to_radians().tan(), pitch.value.to_radians());
        let formula = format!("tan ρ/((1 - tan {p} tan ρ) cos {p})", p = pitch.symbol);
        let value = r / ((1.0 - t.tan() * r) * t.cos());
        let name = "shoulder's top along the underside, for each mm of overstand";
        Some(bench.step("w", name, formula, vec![rake, pitch], value, In::Ratio, PLANE))
    }

    /// Seat heights that bring pitch and overstand to the plan.
    pub(super) fn both_ends(&self, bench: &mut Bench<'_>) {
        let planned = self.cutting.planned.0;
        let (pitch, over) = (self.planned_pitch(), self.planned_overstand());
        let value = planned - self.before.pitch + self.before.floor;
        let terms = vec![self.floor(), pitch, self.pitch()];
        let name = "slope of the seat then";
        let floor = bench.step("φ", name, "φ_0 + θ - θ_0", terms, value, In::Degrees, PLANE);
        let (_, deep) = self.set_back(bench, pitch, floor, 0.0);
        let turn = self.turn();
        let (mouth, inner) = (self.one.cut.mouth, self.one.cut.inner);
        let depth = self.depth();
        let name = "onto the seat at the mouth, off where below 0";
        let k = deep.symbol;
        let mouth = match self.along(bench, pitch) {
            None => {
                let formula = format!("d_0 + o - {k} cos τ/cos φ");
                let terms = vec![depth, over, deep, turn, floor];
                bench.step("x_m", name, formula, terms, mouth, In::Mm, PLANE)
            }
            Some(w) => {
                let formula = format!("d_0 + o - ({k} - o w tan τ) cos τ/cos φ");
                let terms = vec![depth, over, deep, w, turn, floor];
                bench.step("x_m", name, formula, terms, mouth, In::Mm, PLANE)
            }
        };
        let terms = vec![mouth, self.tenon(), floor, self.floor()];
        let name = "onto the seat at the inner end, off where below 0";
        let formula = "x_m + ℓ (tan φ - tan φ_0)";
        bench.step("x_i", name, formula, terms, inner, In::Mm, PLANE);
    }

    /// The joint after so much of a single cut, up to what the crest hangs on.
    pub(super) fn single(&self, bench: &mut Bench<'_>, amount: f64) {
        // a shoulder that is only trimmed moves by that alone
        let way = self.one.kind.way().unwrap_or_default();
        let design = bench.design;
        if way.board != 0.0 {
            let now = length("t_0", "board thickness now", self.before.board);
            let value = design.board.thickness.to_mm();
            let terms = vec![now, wood(amount)];
            bench.step("t", "board thickness then", "t_0 - x_w", terms, value, In::Mm, PLANE);
            return;
        }
        let before = self.before;
        let put = |by: f64| match by {
            by if by > 0.0 => " + x_w",
            by if by < 0.0 => " - x_w",
            _ => "",
        };
        let (mut floor, mut pitch) = (self.floor(), self.pitch());
        let mut low = None;
        if way.mouth != 0.0 || way.inner != 0.0 {
            let mouth = way.mouth * amount - before.depth;
            let terms = |by: f64, mut terms: Vec<Term>| {
                terms.extend((by != 0.0).then(|| wood(amount)));
                terms
            };
            let formula = format!("-d_0{}", put(way.mouth));
            let given = terms(way.mouth, vec![self.depth()]);
            let name = "seat at the mouth then, over the datum";
            let y = bench.step("y_m", name, formula, given, mouth, In::Mm, PLANE);
            let formula = format!("ℓ tan φ_0 - d_0{}", put(way.inner));
            let given = terms(way.inner, vec![self.tenon(), floor, self.depth()]);
            let long = self.cutting.tenon_length();
            let inner = way.inner * amount - before.depth + before.floor.tan() * long;
            let name = "seat at the tenon's inner end then";
            let y_inner = bench.step("y_e", name, formula, given, inner, In::Mm, PLANE);
            let slope = ((inner - mouth) / long).atan();
            let given = vec![y_inner, y, self.tenon()];
            let name = "slope of the seat then";
            let new =
                bench.step("φ", name, "atan((y_e - y_m)/ℓ)", given, slope, In::Degrees, PLANE);
            let given = vec![pitch, new, floor];
            let value = design.joint.pitch.radians();
            pitch =
                bench.step("θ", "pitch then", "θ_0 + φ - φ_0", given, value, In::Degrees, PLANE);
            (floor, low) = (new, Some(y));
        } else {
            let value = design.joint.pitch.radians();
            let same = "the pitch stays";
            pitch = bench.step("θ", same, "θ_0", vec![pitch], value, In::Degrees, PLANE);
        }
        let recut = way.recut * amount;
        let (top, deep) = self.set_back(bench, pitch, floor, recut);
        let y = low
            .unwrap_or_else(|| length("y_m", "seat at the mouth, over the datum", -before.depth));
        let turn = self.turn();
        let (k, f) = (deep.symbol, floor.symbol);
        let value = design.joint.overstand.to_mm();
        let w = self.along(bench, pitch);
        let (formula, terms) = match w {
            None => (format!("{k} cos τ/cos {f} + y_m"), vec![deep, turn, floor, y]),
            Some(w) => (
                format!("({k} cos τ + y_m cos {f})/(cos {f} + w sin τ)"),
                vec![deep, turn, floor, y, w],
            ),
        };
        let over = bench.step("o", "overstand then", formula, terms, value, In::Mm, PLANE);
        let offset = design.joint.offset.to_mm();
        if offset == 0.0 {
            return;
        }
        let number = count("n", "number of the joint fret", usize::from(design.joint.fret));
        let scale = bench.scale();
        let mut terms = vec![top, scale, number];
        let back = w.map_or("", |w| {
            terms.extend([over, w]);
            " - o w"
        });
        let formula = format!("{}{back} - L (1 - 2^(-n/12))", top.symbol);
        bench.step("f", "joint offset then", formula, terms, offset, In::Mm, FRETS);
    }
}

/// The wood that is put in.
pub(super) fn wood(amount: f64) -> Term {
    length("x_w", "wood that is put on or taken off", amount)
}
