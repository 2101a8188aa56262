//! `overstand risk`: how true the cuts must be, how likely the set plays, and where to aim.

use overstand_core::dimension::{Key, UnknownKey};
use overstand_core::risk::{
    Count, Map, MapAsk, Plan, Risk, Row, Safest, Source, Suffices, Trials, Watch, map_keys,
    show_chance,
};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};

use crate::cli;
use crate::failure::Failure;
use crate::text::{Paint, Tone, marked, wrap};
use crate::units;

/// Lines of the budget that are shown; the rest is summed up.
const LINES: usize = 12;
/// Columns before words that stand under a state.
const UNDER: usize = 10;

/// Everything that was asked, worked out.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) risk: Risk,
    pub(crate) trials: Trials,
    pub(crate) sure: f64,
    pub(crate) suffices: Vec<(Source, Suffices)>,
    pub(crate) safest: Option<Safest>,
    pub(crate) map: Option<Map>,
}

/// Works out what was asked of a study; none if the design does not close.
pub(crate) fn work(study: &Study, asked: &cli::Risk) -> Result<Option<Answer>, Failure> {
    let Some(risk) = Risk::of(study) else { return Ok(None) };
    let refuse =
        |option, text: &str, says: String| Failure::Option { option, text: text.to_owned(), says };
    let unknown =
        |option, text: &str, unknown: UnknownKey| refuse(option, text, unknown.to_string());
    let seed = asked.seed;
    let plan = match asked.trials {
        Some(trials) => Plan { trials: Count::Exactly(trials), seed },
        None => Plan { seed, ..Plan::usual() },
    };
    let watch = Watch::nobody();
    let sure = asked.sure / 100.0;
    let mut suffices = Vec::new();
    for text in &asked.tolerance_of {
        let source = Source::parse(text).map_err(|error| unknown("tolerance-of", text, error))?;
        let found = risk.suffices(source, sure, seed, &watch).ok_or_else(|| {
            refuse("tolerance-of", text, "it does not miss in this design".to_owned())
        })?;
        suffices.push((source, found));
    }
    let allowed = map_keys(&study.design);
    let key = |option, text: &str| -> Result<Key, Failure> {
        let key = Key::parse(text).map_err(|error| unknown(option, text, error))?;
        if allowed.contains(&key) {
            return Ok(key);
        }
        Err(refuse(option, text, "it cannot be chosen freely in this design".to_owned()))
    };
    let aims: Vec<Key> = asked.aim.iter().map(|text| key("aim", text)).collect::<Result<_, _>>()?;
    let map = match asked.map.as_slice() {
        [across, up] => {
            let (across, up) = (key("map", across)?, key("map", up)?);
            if across == up {
                return Err(refuse(
                    "map",
                    &asked.map.join(","),
                    "expected two dimensions".to_owned(),
                ));
            }
            risk.map(&MapAsk { seed, ..MapAsk::of(across, up) }, &watch)
        }
        [] => None,
        other => {
            let says = "expected two keys with a comma between them".to_owned();
            return Err(refuse("map", &other.join(","), says));
        }
    };
    let safest = if aims.is_empty() { None } else { risk.safest(&aims, &plan, &watch) };
    // without anybody to stop them trials come to an end
    let Some(trials) = risk.trials(&plan, &watch) else { return Ok(None) };
    Ok(Some(Answer { risk, trials, sure, suffices, safest, map }))
}

/// The answer as text.
pub(crate) fn report(study: &Study, answer: &Answer, style: LengthStyle, paint: Paint) -> String {
    let page = Page { study, answer, style, paint };
    let name = paint.tint(Tone::Heading, study.design.name.trim());
    format!(
        "{name}\n{}{}{}{}{}",
        page.spread(),
        page.budget(),
        page.checks(),
        page.suffices(),
        page.safest()
    )
}

struct Page<'a> {
    study: &'a Study,
    answer: &'a Answer,
    style: LengthStyle,
    paint: Paint,
}

impl Page<'_> {
    fn mm(&self, value: f64, digits: usize) -> String {
        units::show(value, Unit::Length, digits, self.style)
    }

    fn heading(&self, words: &str) -> String {
        format!("\n{}\n", self.paint.tint(Tone::Heading, words))
    }

    fn spread(&self) -> String {
        let (trials, budget) = (&self.answer.trials, &self.answer.risk.budget);
        let (low, high) = trials.crest.interval(0.95);
        let words = format!(
            "It plays with adjustment left in {} of {} trials; with every check good in {}.",
            show_chance(trials.chance()),
            trials.count,
            show_chance(trials.chance_good())
        );
        let crest = format!(
            "The crest must stand at {}. With every error at its worst that may miss by {}, by root sum of squares (95 %) by {}; in 95 % of the trials it lies between {} and {}.",
            self.mm(budget.crest_height, 2),
            self.mm(budget.worst_case, 2),
            self.mm(budget.within_95(), 2),
            self.mm(low, 2),
            self.mm(high, 2)
        );
        let reserve = format!(
            "The saddle has {} left down and {} up when nothing misses.",
            self.mm(budget.reserve.0, 1),
            self.mm(budget.reserve.1, 1)
        );
        let state = self.paint.tint(trials.state().into(), marked(trials.state()));
        let plays = wrap(&words, UNDER);
        let rest = wrap(&crest, 2) + &wrap(&reserve, 2);
        format!("\n  {state} {}{rest}", plays.trim_start())
    }

    fn budget(&self) -> String {
        let rows = &self.answer.risk.budget.rows;
        let mut text = self.heading("Which error costs most: what it does to the crest height");
        text += &format!("  {:<30}{:>10}{:>12}{:>9}{:>8}\n", "", "±", "crest by", "share", "later");
        let shown = rows.iter().filter(|row| row.share >= 0.0005).take(LINES);
        for row in shown {
            text += &self.row(row);
        }
        let rest: f64 =
            rows.iter().filter(|row| row.share >= 0.0005).skip(LINES).map(|row| row.share).sum();
        if rest > 0.0 {
            text += &format!("  {:<30}{:>31}\n", "others together", show_chance(rest));
        }
        text
    }

    fn row(&self, row: &Row) -> String {
        let one = &row.tolerated;
        let name: String = one.source.name(&self.study.design).chars().take(29).collect();
        let digits = if one.source.unit() == Unit::Angle { 2 } else { 3 };
        let plus_minus = units::show(one.plus_minus, one.source.unit(), digits, self.style);
        format!(
            "  {name:<30}{plus_minus:>10}{:>12}{:>9}{:>8}\n",
            self.mm(row.worst, 2),
            format!("{:.1} %", 100.0 * row.share),
            one.later.map_or("", |later| later.text())
        )
    }

    fn checks(&self) -> String {
        let mut checks: Vec<_> = self.answer.trials.checks.iter().collect();
        checks.sort_by(|a, b| a.chance().total_cmp(&b.chance()));
        let less: Vec<_> = checks.iter().filter(|odds| odds.fails > 0).collect();
        if less.is_empty() {
            return self.heading("Checks") + &wrap("No check failed in any trial.", 2);
        }
        let mut text = self.heading("Checks that failed in some trials");
        for odds in less {
            let state = self.paint.tint(odds.state().into(), marked(odds.state()));
            let chance = show_chance(odds.chance());
            text += &format!("  {state} {:<30}{chance:>8} hold\n", odds.id.name());
        }
        text
    }

    fn suffices(&self) -> String {
        if self.answer.suffices.is_empty() {
            return String::new();
        }
        let sure = format!("{}", 100.0 * self.answer.sure);
        let mut text = self.heading(&format!("To be {sure} % sure"));
        for (source, found) in &self.answer.suffices {
            let name = source.name(&self.study.design);
            let says = found.says(&self.study.design).show(self.style);
            text += &wrap(&format!("{name}: {says}"), 2);
        }
        text
    }

    fn safest(&self) -> String {
        let Some(safest) = &self.answer.safest else { return String::new() };
        let mut text = self.heading("Where to aim");
        text += &wrap(&format!("As it stands {}.", safest.now.says()), 2);
        for (words, better) in
            [("Widest margin", &safest.widest), ("Highest chance", &safest.likeliest)]
        {
            let changes = better.says(&self.study.design).show(self.style);
            text += &wrap(&format!("{words}: {changes}. Then {}.", better.standing.says()), 2);
        }
        text
    }
}
