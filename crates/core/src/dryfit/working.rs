//! How the figures of a dry fit come about.

use super::correction::Kind;
use super::correction_working::{amount, exact, least, wood};
use super::fit::DryFit;
use super::outcome_working::{OfOutcome, When};
use super::{log, outcome_working, reading_working};
use crate::dimension::Dim;
use crate::study::Study;
use crate::working::{Bench, Chain, Figure, In, PLANE, Term, length, letter, plain};

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
