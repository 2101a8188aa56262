//! How the figures of a dry fit come about.

use super::correction::{Correction, Kind};
use super::fit::DryFit;
use super::outcome_working::{OfOutcome, When};
use super::pose::{Bench as Cutting, Pose};
use super::{log, outcome_working, reading_working};
use crate::dimension::Dim;
use crate::study::Study;
use crate::working::{
    Bench, Chain, FRETS, Figure, In, PLANE, Term, angle, count, length, letter, plain, quantity,
};

/// How readings are weighed.
const LEAST_SQUARES: &str = "weighted least squares, each reading counted by 1/error²: JCGM \
                             102:2011; its slopes are exact derivatives of what the straightedge \
                             reads (docs/relations.md)";
/// How errors go on.
const COVARIANCE: &str = "JCGM 102:2011, 6.2: errors go on by exact derivatives, the covariance \
                          carried";

/// What the dry fit shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OfFit {
    /// Pitch by the readings.
    Pitch,
    /// Its error.
    PitchError,
    /// Overstand by the readings.
    Overstand,
    /// Its error.
    OverstandError,
    /// The crest that is needed on the joint as it is.
    Crest,
    /// Its error.
    CrestError,
    /// By how much that crest misses the plan.
    Miss,
    /// How much wood a correction takes.
    Amount(Kind),
    /// Its error.
    AmountError(Kind),
    /// Half of it.
    Half(Kind),
    /// The least of it that brings every check to good.
    Least(Kind),
    /// What a reading should be by the plan, counted from 0.
    AsPlanned(usize),
    /// What the joint that was found would read there.
    AsFound(usize),
    /// What comes of the joint.
    Comes(When, OfOutcome),
}

impl OfFit {
    /// What it is, in sentence case.
    pub(crate) fn name(self) -> String {
        match self {
            Self::Pitch => "Pitch by the readings".to_owned(),
            Self::PitchError => "Error of the pitch".to_owned(),
            Self::Overstand => "Overstand by the readings".to_owned(),
            Self::OverstandError => "Error of the overstand".to_owned(),
            Self::Crest => "Crest height needed".to_owned(),
            Self::CrestError => "Error of the crest needed".to_owned(),
            Self::Miss => "Crest needed, off the plan".to_owned(),
            Self::Amount(kind) => kind.name().to_owned(),
            Self::AmountError(kind) => format!("Error of it: {}", kind.name().to_lowercase()),
            Self::Half(kind) => format!("Half of it: {}", kind.name().to_lowercase()),
            Self::Least(kind) => format!("The least of it: {}", kind.name().to_lowercase()),
            Self::AsPlanned(which) => format!("Reading {} as planned", which + 1),
            Self::AsFound(which) => format!("Reading {} on the joint as found", which + 1),
            Self::Comes(when, of) => of.of(when),
        }
    }

    /// The steps that lead to it, of a round of the log, from 0. None without readings that
    /// tell.
    pub(crate) fn chain(self, study: &Study, round: usize) -> Option<Chain> {
        if let Self::AsPlanned(which) = self {
            let reading = study.design.fitting.get(round)?.readings.get(which)?;
            return reading_working::as_planned(&log::before(study, round), reading);
        }
        self.of_told(&DryFit::of_round(study, round)?.ok()?)
    }

    /// The same of what the readings say.
    pub(super) fn of_told(self, fit: &DryFit) -> Option<Chain> {
        let real = &fit.real.study;
        match self {
            Self::Crest => return Figure::Dim(Dim::CrestHeight.key()).chain(real),
            Self::Amount(kind) => return amount(fit, kind),
            Self::Least(kind) => return least(fit, kind),
            Self::AsFound(which) => return reading_working::as_found(fit, which),
            Self::Comes(when, of) => return outcome_working::chain(fit, when, of),
            _ => {}
        }
        let mut bench = Bench::new(&real.design, real.layout()?);
        let mut says = String::new();
        match self {
            Self::Pitch | Self::Overstand => {
                says = found(&mut bench, fit, self == Self::Overstand)?;
            }
            Self::PitchError | Self::OverstandError => {
                let sums = Sums::of(&mut bench, fit)?;
                sums.error(&mut bench, fit, self == Self::OverstandError);
                says = SLOPES.to_owned();
            }
            Self::CrestError => {
                let (by, _) = fit.crest_slopes(None)?;
                crest_error(&mut bench, fit, by, fit.real.crest_error)?;
            }
            Self::Miss => {
                let needed = bench.crest_height(None)?;
                let plan = length("B_p", "crest height of the plan", fit.planned_crest);
                let (name, terms) = ("off the plan, too high where over 0", vec![needed, plan]);
                bench.step("", name, "B - B_p", terms, fit.miss(), In::Mm, PLANE);
                says = "Pitch and overstand are those by the readings of this round, with \
                        workings of their own."
                    .to_owned();
            }
            Self::Half(kind) => {
                let whole = exact(fit, kind)?.amount?.value;
                let terms = vec![wood(whole)];
                let name = "half of what brings the crest back to the plan";
                bench.step("", name, "x_w/2", terms, 0.5 * whole, In::Mm, PLANE);
                says = "The whole of it has a working of its own.".to_owned();
            }
            Self::AmountError(kind) => {
                let amount = exact(fit, kind)?.amount?;
                let (by, slope) = fit.crest_slopes(Some((kind, amount.value)))?;
                let crest_error_then = fit.told.error_of(by);
                let s = crest_error(&mut bench, fit, by, crest_error_then)?;
                let name = "crest for each millimetre of wood";
                let g = plain("c_w", name, slope, 8, "mm/mm");
                let name = "error of the amount";
                bench.step("", name, "s_B/|c_w|", vec![s, g], amount.error, In::Mm, COVARIANCE);
            }
            _ => return None,
        }
        let mut chain = bench.chain();
        chain.says = says;
        Some(chain)
    }
}

/// Said where readings are weighed.
const SLOPES: &str = "Each reading has three numbers: a, by how much it would read more for a \
                      degree more of pitch; b, the same for a millimetre of overstand; s, its \
                      error. They are counted in the order in which they were put down.";

/// Pitch, or overstand, from the readings: of two heights in closed form.
fn found(bench: &mut Bench<'_>, fit: &DryFit, wants_overstand: bool) -> Option<String> {
    let cutting = fit.bench()?;
    let told = &fit.told;
    let Some([one, two]) = cutting.two_heights(&fit.readings, told) else {
        let sums = Sums::of(bench, fit)?;
        sums.found(bench, fit, wants_overstand);
        let w = "w is the reading less what does not go with pitch and overstand in proportion.";
        return Some(format!("{SLOPES} {w}"));
    };
    let terms = vec![
        length("r_1", "first reading", one.read),
        length("z_1", "top there, over the datum", one.top),
        length("r_2", "second reading", two.read),
        length("z_2", "top there, over the datum", two.top),
        length("X_1", "place of the first from the joint", one.x),
        length("X_2", "place of the second from the joint", two.x),
    ];
    let formula = "atan(((r_1 + z_1) - (r_2 + z_2))/(X_1 - X_2))";
    let name = "pitch";
    let pitch = bench.step("θ", name, formula, terms.clone(), told.pitch, In::Degrees, PLANE);
    if wants_overstand {
        let over = length("n", "from the neck face to where it was read", one.over);
        let terms = vec![terms[0], terms[1], terms[4], pitch, over];
        let formula = "r_1 + z_1 - X_1 tan θ - n/cos θ";
        bench.step("o", "overstand", formula, terms, told.overstand, In::Mm, PLANE);
    }
    Some(
        "Two heights on the centre line: the straightedge is a straight line through both. A place \
         that was told along the board turns with the pitch, and is put in as it came out."
            .to_owned(),
    )
}

/// The sums of weighted least squares for pitch (degrees) and overstand (mm).
struct Sums {
    aa: Term,
    ab: Term,
    bb: Term,
    /// What the readings weigh with a and with b.
    aw: Term,
    bw: Term,
    /// The determinant.
    det: Term,
}

/// A step of a sum.
fn sum(bench: &mut Bench<'_>, symbol: &'static str, parts: &[Vec<Term>], of: [usize; 2]) -> Term {
    let mut formula = Vec::new();
    let (mut terms, mut value): (Vec<Term>, f64) = (Vec::new(), 0.0);
    for part in parts {
        let [one, two, error] = [part[of[0]], part[of[1]], part[ERROR]];
        formula.push(format!("{} {}/{}²", one.symbol, two.symbol, error.symbol));
        for term in [one, two, error] {
            if !terms.contains(&term) {
                terms.push(term);
            }
        }
        value += one.value * two.value / (error.value * error.value);
    }
    let formula = formula.join(" + ");
    let name = "sum over the readings";
    bench.step(symbol, name, formula, terms, value, In::Other(8, ""), LEAST_SQUARES)
}

/// Places of the terms of a reading: a, b, what it weighs, error, lean.
const A: usize = 0;
const B: usize = 1;
const W: usize = 2;
const ERROR: usize = 3;
const LEAN: usize = 4;

impl Sums {
    fn of(bench: &mut Bench<'_>, fit: &DryFit) -> Option<Self> {
        let (cutting, told) = (fit.bench()?, &fit.told);
        let lean = told.roll.map(|(lean, _)| lean.tan());
        let degree = 1f64.to_radians();
        let parts: Vec<Vec<Term>> = (1..)
            .zip(cutting.counted(&fit.readings, told))
            .map(|(number, one)| {
                let [pitch, overstand, across] = one.slopes;
                let goes = one.left
                    + pitch * told.pitch
                    + overstand * told.overstand
                    + across * lean.unwrap_or(0.0);
                let say = |stem, name, value| plain(letter(stem, number), name, value, 8, "");
                vec![
                    say("a", "reads more for each degree of pitch", pitch * degree),
                    say("b", "reads more for each mm of overstand", overstand),
                    say("w", "reading as it goes with pitch and overstand", goes),
                    say("s", "error of the reading", one.error),
                    say("g", "reads more for each unit of the tan of the lean", across),
                ]
            })
            .collect();
        let mut all = |symbol, of| sum(bench, symbol, &parts, of);
        let plain_sums = [
            all("S_aa", [A, A]),
            all("S_ab", [A, B]),
            all("S_bb", [B, B]),
            all("S_aw", [A, W]),
            all("S_bw", [B, W]),
        ];
        let [aa, ab, bb, aw, bw] = if lean.is_some() {
            let [ag, bg, gg, wg] = [
                all("S_ag", [A, LEAN]),
                all("S_bg", [B, LEAN]),
                all("S_gg", [LEAN, LEAN]),
                all("S_wg", [W, LEAN]),
            ];
            // the lean that fits best is taken out of each
            let mut rest = |symbol, whole: Term, one: Term, two: Term| {
                let formula = format!("{} - {} {}/S_gg", whole.symbol, one.symbol, two.symbol);
                let value = whole.value - one.value * two.value / gg.value;
                let mut terms = vec![whole, one, gg];
                if two != one {
                    terms.push(two);
                }
                let name = "the same, the lean taken out";
                bench.step(symbol, name, formula, terms, value, In::Other(8, ""), LEAST_SQUARES)
            };
            let [aa, ab, bb, aw, bw] = plain_sums;
            [
                rest("P_aa", aa, ag, ag),
                rest("P_ab", ab, ag, bg),
                rest("P_bb", bb, bg, bg),
                rest("P_aw", aw, ag, wg),
                rest("P_bw", bw, bg, wg),
            ]
        } else {
            plain_sums
        };
        let formula = format!("{} {} - {}²", aa.symbol, bb.symbol, ab.symbol);
        let value = aa.value * bb.value - ab.value * ab.value;
        let name = "how far pitch and overstand are told apart";
        let terms = vec![aa, bb, ab];
        let det = bench.step("D", name, formula, terms, value, In::Other(8, ""), LEAST_SQUARES);
        Some(Self { aa, ab, bb, aw, bw, det })
    }

    /// Pitch, or overstand.
    fn found(&self, bench: &mut Bench<'_>, fit: &DryFit, wants_overstand: bool) {
        let Self { aa, ab, bb, aw, bw, det } = *self;
        let (own, other, mine, yours) =
            if wants_overstand { (aa, ab, bw, aw) } else { (bb, ab, aw, bw) };
        let formula =
            format!("({} {} - {} {})/D", own.symbol, mine.symbol, other.symbol, yours.symbol);
        let terms = vec![own, mine, other, yours, det];
        if wants_overstand {
            let value = fit.told.overstand;
            bench.step("o", "overstand", formula, terms, value, In::Mm, LEAST_SQUARES);
        } else {
            let value = fit.told.pitch;
            bench.step("θ", "pitch", formula, terms, value, In::Degrees, LEAST_SQUARES);
        }
    }

    /// The error of one of them.
    fn error(&self, bench: &mut Bench<'_>, fit: &DryFit, of_overstand: bool) -> Term {
        let own = if of_overstand { self.aa } else { self.bb };
        let formula = format!("√({}/D)", own.symbol);
        let terms = vec![own, self.det];
        if of_overstand {
            let (name, value) = ("error of the overstand", fit.told.overstand_error());
            bench.step("s_o", name, formula, terms, value, In::Other(8, "mm"), LEAST_SQUARES)
        } else {
            let (name, value) = ("error of the pitch", fit.told.pitch_error().to_degrees());
            bench.step("s_θ", name, formula, terms, value, In::Other(8, "°"), LEAST_SQUARES)
        }
    }
}

/// The error that readings leave of a crest that rises so much with pitch and overstand.
pub(super) fn crest_error(
    bench: &mut Bench<'_>,
    fit: &DryFit,
    by: [f64; 2],
    error: f64,
) -> Option<Term> {
    let sums = Sums::of(bench, fit)?;
    let pitch = sums.error(bench, fit, false);
    let overstand = sums.error(bench, fit, true);
    let covariance = fit.told.covariance[0][1].to_degrees();
    let formula = format!("-{}/D", sums.ab.symbol);
    let name = "covariance of pitch and overstand";
    let written = In::Other(8, "° mm");
    let both =
        bench.step("s_θo", name, formula, vec![sums.ab, sums.det], covariance, written, COVARIANCE);
    let terms = vec![
        plain("c_θ", "crest for each degree of pitch", by[0].to_radians(), 8, "mm/°"),
        pitch,
        plain("c_o", "crest for each mm of overstand", by[1], 8, "mm/mm"),
        both,
        overstand,
    ];
    let formula = "√((c_θ s_θ)² + 2 c_θ c_o s_θo + (c_o s_o)²)";
    let name = "error of the crest";
    Some(bench.step("s_B", name, formula, terms, error, In::Mm, COVARIANCE))
}

/// The correction of a kind that is not made from a standard thickness.
pub(super) fn exact(fit: &DryFit, kind: Kind) -> Option<&Correction> {
    fit.corrections.iter().find(|one| one.kind == kind && one.stock.is_none())
}

/// The least of a correction that is enough: with it put in, the crest that is then needed.
fn least(fit: &DryFit, kind: Kind) -> Option<Chain> {
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
fn amount(fit: &DryFit, kind: Kind) -> Option<Chain> {
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
            made.shoulder(&mut bench)?;
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

    pub(super) fn shut(&self) -> Term {
        angle("θ_c", "pitch at which the shoulder closes", self.before.closes_at)
    }

    pub(super) fn shoulder_length(&self) -> Term {
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

    /// What goes off the shoulder on the joint as it stands.
    fn shoulder(&self, bench: &mut Bench<'_>) -> Option<()> {
        let closing = self.one.closing;
        let (formula, value, name) = if closing.foot_off > 0.0 {
            ("S sin(θ_0 - θ_c)", closing.foot_off, "off the shoulder's foot")
        } else {
            ("S sin(θ_c - θ_0)", closing.top_off, "off the shoulder's top")
        };
        let terms = vec![self.shoulder_length(), self.pitch(), self.shut()];
        bench.step("", name, formula, terms, value, In::Mm, PLANE);
        Some(())
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
fn wood(amount: f64) -> Term {
    length("x_w", "wood that is put on or taken off", amount)
}
