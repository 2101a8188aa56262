//! How the figures of one check come about: its ± by squares, its mean and standard deviation
//! over the trials, and its margin.

use super::trials::Tallied;
use super::working::{COVERAGE_NAME, GUM, divisor, of_unit, plus_minus};
use super::worst::{Alone, alone};
use super::{COVERAGE_95, Risk};
use crate::design::Limit;
use crate::sentence::lower;
use crate::units::Unit;
use crate::verdict::CheckId;
use crate::working::{Bench, In, Term, letter, plain};

/// How mean and standard deviation of trials come about.
const MEAN: &str = "JCGM 101:2008, 7.6: mean and standard deviation of the trials";
/// What a margin is.
const MARGIN: &str = "definition of this program (docs/maths.md): 0 at the end of the range where \
                      the check fails, 1 where it begins to be good; range: common practice, no \
                      source, unless it was changed";

/// Errors that are worked out one by one; all others are put in together.
const LEADING: usize = 6;
/// Decimals of what goes on into the next step.
const DIGITS: usize = 8;

/// How it is written where it goes on.
fn fine(id: CheckId) -> In {
    In::Other(DIGITS, id.unit().symbol())
}

/// A number of a check that is put in.
fn number(symbol: &'static str, name: &'static str, value: f64, id: CheckId) -> Term {
    plain(symbol, name, value, DIGITS, id.unit().symbol())
}

/// What a check reads more for each unit of an error.
fn each(id: CheckId, of: Unit) -> In {
    let sign = match (id.unit().symbol(), of.symbol()) {
        ("mm", "mm") => "mm/mm",
        ("mm", "°") => "mm/°",
        ("°", "mm") => "°/mm",
        ("°", "°") => "°/°",
        ("", "mm") => "1/mm",
        ("", "°") => "1/°",
        (sign, _) => sign,
    };
    In::Other(DIGITS, sign)
}

/// The steps that lead to the ± of a check by the root of the sum of squares: the errors that
/// bring most one by one, the rest together. None where that says nothing.
pub(crate) fn of_check(bench: &mut Bench<'_>, id: CheckId) -> Option<String> {
    let design = bench.design;
    let risk = Risk::of_solved(design).ok()?;
    let mut errors = alone(&risk.nominal, &risk.tolerated, id)?;
    // in the order in which they are summed elsewhere, to the last digit
    let squares = |errors: &[Alone]| errors.iter().map(|one| one.standard().powi(2)).sum::<f64>();
    let standard = squares(&errors).sqrt();
    if !standard.is_finite() {
        return None;
    }
    errors.retain(|one| one.standard() != 0.0);
    errors.sort_by(|a, b| b.standard().abs().total_cmp(&a.standard().abs()));
    let (leading, rest) = errors.split_at(errors.len().min(LEADING));
    let mut terms = Vec::new();
    for (place, one) in (1..).zip(leading) {
        terms.push(brings(bench, id, place, one));
    }
    if !rest.is_empty() {
        let name = "all other errors together, the root of the sum of their squares";
        terms.push(number("r", name, squares(rest).sqrt(), id));
    }
    let sum: Vec<String> = terms.iter().map(|term| format!("{}²", term.symbol)).collect();
    let formula = match terms.is_empty() {
        true => "0".to_owned(),
        false => format!("√({})", sum.join(" + ")),
    };
    let name = "standard uncertainty of what the check reads";
    let s = bench.step("s", name, formula, terms, standard, fine(id), GUM);
    let z = plain("z", COVERAGE_NAME, COVERAGE_95, 9, "");
    let name = "± within which it reads with 95 %, were its error normal";
    bench.step("", name, "z s", vec![z, s], COVERAGE_95 * standard, of_unit(id.unit()), GUM);
    let mut says = "Each slope is what the check reads with that error alone at both ends of its \
                    ±, all else as it is planned."
        .to_owned();
    if let (Some(last), false) = (leading.last(), rest.is_empty()) {
        let most = super::says::show_part(last.standard().powi(2) / standard.powi(2));
        let last = lower(&last.error.source.name(design));
        says += &format!(
            " Each of the other {} errors brings less than {last}, which is {most} of the whole; \
             they are put in together.",
            rest.len()
        );
    }
    Some(says)
}

/// What one error brings: its slope, and that times its ± as a standard uncertainty.
fn brings(bench: &mut Bench<'_>, id: CheckId, place: usize, one: &Alone) -> Term {
    let source = one.error.source;
    let name = lower(&source.name(bench.design));
    let [a, b, c, k, t] = ["a", "b", "g", "k", "w"].map(|stem| letter(stem, place));
    let high = number(a, "the check reads with the error at the upper end of its ±", one.high, id);
    let low = number(b, "the same at the lower end", one.low, id);
    let width = plus_minus(t, "its ±", &one.error);
    let formula = format!("({a} - {b})/(2 {t})");
    let (terms, written) = (vec![high, low, width], each(id, source.unit()));
    let what = "the check reads more for each unit of the error";
    let slope = bench.step(c, what, formula, terms, one.slope(), written, GUM);
    bench.name_last(format!("{name}: what the check reads more for each unit of it"));
    let formula = format!("{c} {t}/{}", divisor(one.error.spread));
    let (terms, what) = (vec![slope, width], "standard uncertainty that the error brings");
    let term = bench.step(k, what, formula, terms, one.standard(), fine(id), GUM);
    bench.name_last(format!("{name}: standard uncertainty that it brings"));
    term
}

/// The step that leads to the mean of what a check read in the trials, or to two standard
/// deviations of it.
pub(super) fn of_tallied(
    bench: &mut Bench<'_>,
    id: CheckId,
    of: Tallied,
    seed: u64,
    wants_mean: bool,
) -> Option<String> {
    if of.count < 2 {
        return None;
    }
    let sum = number("S_1", "sum of what the trials read more than that", of.sum, id);
    let count = plain("N", "trials that could be read", of.count as f64, 0, "");
    if wants_mean {
        let nominal = number("v", "the check reads when nothing misses", of.nominal, id);
        let sum = Term { name: "sum of what the trials read more than v", ..sum };
        let terms = vec![nominal, sum, count];
        let name = "mean of what the trials read";
        bench.step("m", name, "v + S_1/N", terms, of.mean(), of_unit(id.unit()), MEAN);
    } else {
        let sum = Term { name: "sum of what the trials read more than when nothing misses", ..sum };
        let name = "sum of the squares of the same";
        let squares = plain("S_2", name, of.squares, DIGITS, "");
        let standard = of.standard();
        // all trials may read the same
        let (formula, terms) = match standard {
            0.0 => ("0", Vec::new()),
            _ => ("√((S_2 - S_1²/N)/(N - 1))", vec![squares, sum, count]),
        };
        let name = "standard deviation of what the trials read";
        let s = bench.step("s", name, formula, terms, standard, fine(id), MEAN);
        let name = "two standard deviations";
        bench.step("", name, "2 s", vec![s], 2.0 * standard, of_unit(id.unit()), MEAN);
    }
    Some(format!(
        "The trials themselves are not followed by hand: in each every error is drawn at random \
         within its ±, the set is made with them, and the check is read. The same number of trials \
         from the same seed, {seed}, comes to the same sums again."
    ))
}

/// The step that leads to the margin of a check that reads so much. None without limits.
pub(crate) fn margin(bench: &mut Bench<'_>, id: CheckId, value: f64, limit: Limit) -> Option<()> {
    let reads = number("V", "what the check reads", value, id);
    let put = |symbol, name, value: Option<f64>| Some(number(symbol, name, value?, id));
    let below = put("V_1", "it fails at and below", limit.fails_below).zip(put(
        "V_2",
        "it is good from",
        limit.thin_below,
    ));
    let above = put("V_4", "it fails at and above", limit.fails_above).zip(put(
        "V_3",
        "it is good up to",
        limit.thin_above,
    ));
    let (low, high) = ("(V - V_1)/(V_2 - V_1)", "(V_4 - V)/(V_4 - V_3)");
    let formula = match (&below, &above) {
        (Some(_), Some(_)) => format!("min({low}, {high})"),
        (Some(_), None) => low.to_owned(),
        (None, Some(_)) => high.to_owned(),
        (None, None) => return None,
    };
    let ends = below.into_iter().chain(above).flat_map(|(fails, good)| [fails, good]);
    let terms = std::iter::once(reads).chain(ends).collect();
    let name = "margin, in widths of the thin band";
    bench.step("", name, formula, terms, limit.margin(value), In::Other(4, ""), MARGIN);
    Some(())
}
