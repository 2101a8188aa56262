//! How the figures of a budget and of trials come about.

use super::check_working::{margin, of_tallied};
use super::source::{Source, Tolerated};
use super::suffices::{HALVINGS, LOOK, MOST};
use super::trials::Tallied;
use super::{COVERAGE_95, Risk, Row};
use crate::design::{Limit, Spread};
use crate::dimension::Dim;
use crate::units::Unit;
use crate::verdict::CheckId;
use crate::working::{Bench, In, PLANE, Term, angle, length, letter, plain, quantity, ratio};

/// By how much one unit of an error moves something.
const EXACT: &str = "exact derivative of the closing relations (docs/relations.md), by dual \
                     numbers";
/// How errors come together.
pub(super) const GUM: &str = "JCGM 100:2008, 4.3 and 5.1.2";
/// What the half width of an interval of 95 % is called.
pub(super) const COVERAGE_NAME: &str = "half the width that holds 95 % of a normal error";
/// How trials are counted.
const TRIALS: &str = "JCGM 101:2008, 5.9 and 7: trials counted";

/// What is said of one error.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfError {
    /// What one unit of it does to the crest that is needed.
    Crest,
    /// The same to the action, the saddle left.
    Action,
    /// The same to the lesser reserve.
    Reserve,
    /// What its whole ± does to the crest.
    AtPlusMinus,
    /// Its part of the whole.
    Share,
}

impl OfError {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::Crest, Self::Action, Self::Reserve, Self::AtPlusMinus, Self::Share];

    /// What it is, to stand behind the error's name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Crest => "crest for each",
            Self::Action => "action for each",
            Self::Reserve => "reserve for each",
            Self::AtPlusMinus => "crest at its ±",
            Self::Share => "share",
        }
    }
}

/// How all errors come together at the crest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfSpread {
    /// Each at its worst.
    Worst,
    /// Root of the sum of squares.
    Root,
    /// The same of what cannot be set right later.
    Stays,
}

impl OfSpread {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Worst, Self::Root, Self::Stays];

    /// What it is, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Worst => "± of the crest at the worst",
            Self::Root => "± of the crest, root of the sum of squares",
            Self::Stays => "± of the crest of what stays",
        }
    }
}

/// What was counted in trials, or sought by them. It holds what came out: the trials
/// themselves are no part of a study.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OfTrials {
    /// The share of the trials of which something holds.
    Share {
        /// What holds, in sentence case.
        what: &'static str,
        /// Trials of which it holds.
        of: u64,
        /// All trials.
        all: u64,
    },
    /// How well such a share is known.
    Within {
        /// Trials of which it holds.
        of: u64,
        /// All trials.
        all: u64,
    },
    /// Half of the middle 95 % of the crest's heights.
    Middle {
        /// Where it begins, mm.
        low: f64,
        /// Where it ends, mm.
        high: f64,
        /// All trials.
        all: u64,
    },
    /// Mean of what a check read.
    Mean {
        /// Which.
        id: CheckId,
        /// The sums.
        of: Tallied,
        /// From which seed the trials came.
        seed: u64,
    },
    /// Two standard deviations of that.
    Deviation {
        /// Of which check.
        id: CheckId,
        /// The sums.
        of: Tallied,
        /// From which seed the trials came.
        seed: u64,
    },
    /// The worst margin over all that may miss.
    Worst {
        /// Of which check.
        id: CheckId,
        /// What it then reads, in its unit.
        value: f64,
        /// The range that it is held against.
        limit: Limit,
    },
    /// The ± of something that suffices.
    Suffices {
        /// Of what.
        held: Source,
        /// Which part of the present ± it is.
        part: f64,
        /// The chance with it, 0 to 1.
        chance: f64,
    },
}

impl OfTrials {
    /// What it is, in sentence case.
    pub(crate) fn name(self, design: &crate::design::Design) -> String {
        match self {
            Self::Share { what, .. } => what.to_owned(),
            Self::Within { .. } => "How well the chance is known".to_owned(),
            Self::Middle { .. } => "Middle 95 % of the trials".to_owned(),
            Self::Mean { id, .. } => format!("{}: mean of the trials", id.name()),
            Self::Deviation { id, .. } => {
                format!("{}: two standard deviations of the trials", id.name())
            }
            Self::Worst { id, .. } => {
                format!("Worst margin over all errors: {}", id.name().to_lowercase())
            }
            Self::Suffices { held, .. } => format!("{}: ± that suffices", held.name(design)),
        }
    }

    /// Whether both say the same of another run of the trials.
    pub fn is_of(self, other: Self) -> bool {
        match (self, other) {
            (Self::Share { what, .. }, Self::Share { what: other, .. }) => what == other,
            (Self::Suffices { held, .. }, Self::Suffices { held: other, .. }) => held == other,
            (Self::Mean { id, .. }, Self::Mean { id: other, .. })
            | (Self::Deviation { id, .. }, Self::Deviation { id: other, .. }) => id == other,
            (one, other) => std::mem::discriminant(&one) == std::mem::discriminant(&other),
        }
    }

    /// The step that leads to it, and how it was counted.
    pub(crate) fn put(self, bench: &mut Bench<'_>) -> Option<String> {
        let counts = |of, all| {
            vec![
                plain("k", "trials of which it holds", of as f64, 0, ""),
                plain("N", "trials", all as f64, 0, ""),
            ]
        };
        let per_cent = In::Other(4, "%");
        Some(match self {
            Self::Share { what, of, all } => {
                let share = 100.0 * of as f64 / all.max(1) as f64;
                bench.step("", what, "100 k/N", counts(of, all), share, per_cent, TRIALS);
                "Counted, not worked out: in each trial every error is drawn at random within its \
                 ±, the set is made with them, and every check is read. The same draws come each \
                 time."
                    .to_owned()
            }
            Self::Within { of, all } => {
                let share = of as f64 / all.max(1) as f64;
                let name = "share of the trials";
                let p = bench.step("p", name, "k/N", counts(of, all), share, In::Ratio, TRIALS);
                let terms = vec![p, plain("N", "trials", all as f64, 0, "")];
                let within = 200.0 * (share * (1.0 - share) / all.max(1) as f64).sqrt();
                let name = "how well it is known, two standard deviations";
                let source = "binomial distribution";
                bench.step("", name, "200 √(p (1 - p)/N)", terms, within, per_cent, source);
                String::new()
            }
            Self::Middle { low, high, all } => {
                let terms = vec![
                    length("B_1", "where the middle 95 % begin", low),
                    length("B_2", "where they end", high),
                ];
                let name = "half of the middle 95 %";
                let half = 0.5 * (high - low);
                bench.step("", name, "(B_2 - B_1)/2", terms, half, In::Mm, TRIALS);
                format!(
                    "Counted, not worked out: the crest's heights of {all} trials are sorted, and \
                     as many left off below as above, 5 % in all."
                )
            }
            Self::Mean { id, of, seed } => return of_tallied(bench, id, of, seed, true),
            Self::Deviation { id, of, seed } => return of_tallied(bench, id, of, seed, false),
            Self::Worst { id, value, limit } => {
                margin(bench, id, value, limit)?;
                "What the check then reads was sought among the corners, where every error lies \
                 at one end of its ±: no single error put to its other end leaves less."
                    .to_owned()
            }
            Self::Suffices { held, part, chance } => return suffices(bench, held, part, chance),
        })
    }
}

/// What suffices: both ends of a seat go together.
fn suffices(bench: &mut Bench<'_>, held: Source, part: f64, chance: f64) -> Option<String> {
    let design = bench.design;
    let risk = Risk::of_solved(design).ok()?;
    let of = |source: Source| risk.tolerated.iter().find(|one| one.source == source).copied();
    let part = plain("g", "part of the present ± that suffices", part, 8, "");
    if let Some(one) = of(held) {
        let now = plus_minus("T", "its present ±", &one);
        let name = "± that suffices";
        let value = part.value * one.plus_minus;
        bench.step("", name, "g T", vec![part, now], value, of_unit(held.unit()), TRIALS);
    } else {
        let (mouth, inner) = (of(Source::SeatMouth)?, of(Source::SeatInner)?);
        let mut held = |symbol, name, now: Term, one: &Tolerated| {
            let root = divisor(one.spread);
            let value = part.value * one.standard();
            let formula = format!("g {}/{root}", now.symbol);
            bench.step(symbol, name, formula, vec![part, now], value, In::Mm, GUM)
        };
        let now = plus_minus("T_m", "present ± of the seat's mouth", &mouth);
        let low = held("s_m", "standard uncertainty of the mouth", now, &mouth);
        let now = plus_minus("T_i", "present ± of the seat's inner end", &inner);
        let high = held("s_i", "standard uncertainty of the inner end", now, &inner);
        let (floor, long) =
            (risk.nominal.values[Dim::Floor], risk.nominal.values[Dim::TenonLength]);
        let both = low.value.hypot(high.value);
        let turn = 2.0 * both * floor.cos().powi(2) / long;
        let terms = vec![
            low,
            high,
            angle("φ", "slope of the floor", floor),
            length("ℓ", "tenon length", long),
        ];
        let name = "that as ± of the pitch, two standard uncertainties";
        let formula = "360/π √(s_m² + s_i²) (cos φ)²/ℓ";
        bench.step("", name, formula, terms, turn, In::Degrees, GUM);
    }
    let chance = quantity(100.0 * chance, 2, "%");
    Some(format!(
        "The part g is found by halving from 0 to {MOST} ({HALVINGS} times), each time by the same \
         {LOOK} trials: with it {chance} of them play with adjustment left."
    ))
}

/// The ± of an error, as a term.
pub(super) fn plus_minus(symbol: &'static str, name: &'static str, one: &Tolerated) -> Term {
    match one.source.unit() {
        Unit::Length => length(symbol, name, one.plus_minus),
        Unit::Angle => plain(symbol, name, one.plus_minus, 5, "°"),
        Unit::Count | Unit::Number => ratio(symbol, name, one.plus_minus),
    }
}

/// How a result of that unit is written; degrees as they are.
pub(super) fn of_unit(unit: Unit) -> In {
    match unit {
        Unit::Length => In::Mm,
        Unit::Angle => In::Other(5, "°"),
        Unit::Count | Unit::Number => In::Ratio,
    }
}

/// How a slope is written.
fn slope_unit(source: Source) -> In {
    In::Other(
        8,
        match source.unit() {
            Unit::Length => "mm/mm",
            Unit::Angle => "mm/°",
            Unit::Count | Unit::Number => "mm",
        },
    )
}

/// What the ± of a spread is divided by for its standard uncertainty.
pub(super) fn divisor(spread: Spread) -> &'static str {
    match spread {
        Spread::Rectangular => "√(3)",
        Spread::Triangular => "√(6)",
        Spread::Normal => "2",
    }
}

/// Its name without the number of a string.
fn word(source: Source) -> &'static str {
    match source {
        Source::SeatMouth => "seat at the mouth",
        Source::SeatInner => "seat at the inner end",
        Source::Dim(key) => key.dim.info().name,
    }
}

/// The steps that lead to something of one error. None of what misses in no way here.
pub(crate) fn of_error(bench: &mut Bench<'_>, source: Source, of: OfError) -> Option<String> {
    let risk = Risk::of_solved(bench.design).ok()?;
    let row = risk.budget.rows.iter().find(|row| row.tolerated.source == source)?;
    let c = slope(bench, &risk, row)?;
    let unit = slope_unit(source);
    match of {
        OfError::Crest => {}
        OfError::Action => {
            let by_action = -row.crest / row.action;
            let name = "what one millimetre of action raises the crest";
            let terms = if row.action == 0.0 {
                Vec::new()
            } else {
                vec![c, plain("c_A", name, by_action, 8, "mm/mm")]
            };
            // what does not move the crest does not move the action
            let formula = if terms.is_empty() { "0" } else { "-c/c_A" };
            let name = "action for each, the saddle left";
            bench.step("", name, formula, terms, row.action, unit, EXACT);
        }
        OfError::Reserve => {
            let (below, above) = risk.budget.reserve;
            // its own sign is told from the crest's: the ends of the range move by themselves
            let (formula, terms) = match row.reserve {
                reserve if reserve == row.crest && below <= above => ("c", vec![c]),
                reserve if reserve == -row.crest && below > above => ("-c", vec![c]),
                reserve if reserve > 0.5 => ("1", Vec::new()),
                reserve if reserve < -0.5 => ("-1", Vec::new()),
                _ => ("0", Vec::new()),
            };
            let name = "lesser reserve of the saddle for each";
            bench.step("", name, formula, terms, row.reserve, unit, EXACT);
            return Some(
                if below <= above {
                    "The lesser reserve is that below: the crest that is needed less the lowest \
                     that the bridge gives."
                } else {
                    "The lesser reserve is that above: the highest that the bridge gives less the \
                     crest that is needed."
                }
                .to_owned(),
            );
        }
        OfError::AtPlusMinus => {
            let t = plus_minus("T", "its ±", &row.tolerated);
            let name = "crest at its whole ±";
            bench.step("", name, "|c| T", vec![c, t], row.worst, In::Mm, GUM);
        }
        OfError::Share => {
            let t = plus_minus("T", "its ±", &row.tolerated);
            let formula = format!("|c| T/{}", divisor(row.tolerated.spread));
            let name = "standard uncertainty that it brings to the crest";
            let k =
                bench.step("k", name, formula, vec![c, t], row.standard, In::Other(8, "mm"), GUM);
            let name = "standard uncertainty of the crest, all errors together";
            let s = plain("s_B", name, risk.budget.standard, 8, "mm");
            let share = 100.0 * row.share;
            let name = "part of the crest's variance";
            bench.step("", name, "100 (k/s_B)²", vec![k, s], share, In::Other(4, "%"), GUM);
            return Some(
                "The whole is the root of the sum of squares on the sheet of the spread."
                    .to_owned(),
            );
        }
    }
    Some(String::new())
}

/// What one unit of an error does to the crest: in closed form where it is short.
fn slope(bench: &mut Bench<'_>, risk: &Risk, row: &Row) -> Option<Term> {
    let source = row.tolerated.source;
    let (written, name) = (slope_unit(source), "crest for each");
    let turns = match source {
        Source::SeatMouth | Source::SeatInner => true,
        Source::Dim(key) => key.dim == Dim::Pitch,
    };
    if matches!(source, Source::Dim(key) if key.dim == Dim::Overstand) {
        return Some(bench.step("c", name, "1", Vec::new(), row.crest, written, PLANE));
    }
    if !turns {
        let c = plain("c", "crest for each, which has no short formula", row.crest, 8, "");
        return Some(bench.step("c", name, "c", vec![c], row.crest, written, EXACT));
    }
    let (x, y) = bench.crest_in_body(None)?;
    let o = bench.overstand();
    let tangent = bench.layout.top_tangent(x.value).tan();
    let mut terms = vec![x];
    let mut formula = "π/180 X_s";
    let mut by_pitch = x.value;
    if tangent != 0.0 {
        formula = "π/180 (X_s + j (Y_s - o))";
        by_pitch += tangent * (y.value - o.value);
        terms.extend([ratio("j", "slope of the top there, as rise over run", tangent), y, o]);
    }
    let by_pitch = by_pitch.to_radians();
    if let Source::Dim(_) = source {
        return Some(bench.step("c", name, formula, terms, row.crest, written, PLANE));
    }
    let per_degree = In::Other(8, "mm/°");
    let what = "crest for each degree of pitch";
    let by_pitch = bench.step("c_θ", what, formula, terms, by_pitch, per_degree, PLANE);
    let values = &risk.nominal.values;
    let (floor, long) = (values[Dim::Floor], values[Dim::TenonLength]);
    let terms = vec![
        by_pitch,
        angle("φ", "slope of the floor", floor),
        length("ℓ", "tenon length", long),
        o,
        length("d_0", "pocket depth at the mouth", values[Dim::PocketDepth]),
    ];
    // the neck turns by cos² φ/ℓ, and the overstand follows the seat under the joint
    let formula = if source == Source::SeatMouth {
        "1 - c_θ 180/π (cos φ)²/ℓ - (o + d_0) sin φ cos φ/ℓ"
    } else {
        "c_θ 180/π (cos φ)²/ℓ + (o + d_0) sin φ cos φ/ℓ"
    };
    Some(bench.step("c", name, formula, terms, row.crest, written, PLANE))
}

/// The step in which all errors come together, and what is put into it.
pub(crate) fn of_spread(bench: &mut Bench<'_>, of: OfSpread) -> Option<String> {
    let risk = Risk::of_solved(bench.design).ok()?;
    let budget = &risk.budget;
    let rows = budget.rows.iter().filter(|row| match of {
        OfSpread::Worst | OfSpread::Root => true,
        OfSpread::Stays => row.tolerated.later.is_none(),
    });
    let part = |row: &Row| if of == OfSpread::Worst { row.worst } else { row.standard };
    let terms: Vec<Term> = (1..)
        .zip(rows)
        .map(|(number, row)| {
            plain(letter("k", number), word(row.tolerated.source), part(row), 8, "mm")
        })
        .collect();
    let squared = if of == OfSpread::Worst { "" } else { "²" };
    let sum: Vec<String> = terms.iter().map(|term| format!("{}{squared}", term.symbol)).collect();
    let sum = if sum.is_empty() { "0".to_owned() } else { sum.join(" + ") };
    if of == OfSpread::Worst {
        let name = "± of the crest with every error at its worst";
        bench.step("", name, sum, terms, budget.worst_case, In::Mm, GUM);
        return Some("What each does at its whole ± has a working of its own.".to_owned());
    }
    let standard = if of == OfSpread::Stays { budget.standard_fixed } else { budget.standard };
    let name = "standard uncertainty of the crest";
    let formula = format!("√({sum})");
    let s = bench.step("s_B", name, formula, terms, standard, In::Other(8, "mm"), GUM);
    let z = plain("z", COVERAGE_NAME, COVERAGE_95, 9, "");
    let name = "± within which the crest lies with 95 %, were its error normal";
    let within = COVERAGE_95 * standard;
    bench.step("", name, "z s_B", vec![z, s], within, In::Mm, GUM);
    Some(
        "What each error brings has a working of its own: its slope times its standard \
         uncertainty."
            .to_owned(),
    )
}
