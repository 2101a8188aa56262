//! What B wins and what it costs, in one sentence.

use super::{Cell, Group, Row, Side};
use crate::sentence::{Sentence, Span, lower, sentence};
use crate::study::Study;
use crate::units::Unit;
use crate::verdict::{State, Word};

/// Most things of a kind that are named.
const NAMED: usize = 3;
/// Difference of two good margins, in thin bands, that is worth a word.
const WORTH_A_WORD: f64 = 0.25;

pub(super) fn says(a: &Study, b: &Study, rows: &[Row]) -> Sentence {
    if rows.is_empty() {
        return sentence!["Nothing differs."];
    }
    let (one, two) = (a.word(), b.word());
    match (one, two) {
        (Word::DoesNotClose, Word::DoesNotClose) => {
            return sentence!["Neither closes: nothing can be said about how they play."];
        }
        (Word::DoesNotClose, _) => {
            return sentence!["A does not close, and B ", clause(two), "."];
        }
        (_, Word::DoesNotClose) => {
            return sentence!["B does not close, and A ", clause(one), "."];
        }
        _ => {}
    }
    let checks = || rows.iter().filter(|row| row.group == Group::Checks);
    let better = |side| checks().filter(move |row| row.better == Some(side)).collect::<Vec<_>>();
    let (wins, costs) = (better(Side::B), better(Side::A));
    let mut spans: Vec<Span> = Vec::new();
    let lead = if one == two {
        "B ".to_owned()
    } else {
        format!("B {} where A {}: it ", clause(two), clause(one))
    };
    if wins.is_empty() && costs.is_empty() {
        return reserves(rows, one == two, &lead);
    }
    spans.push(lead.into());
    if wins.is_empty() {
        spans.push("wins nothing".into());
    } else {
        spans.push("wins ".into());
        list(&wins, Side::B, &mut spans);
    }
    if costs.is_empty() {
        spans.push(" and costs nothing that a check sees.".into());
    } else {
        spans.push(
            if wins.len() > 1 || wins.is_empty() { ", and costs " } else { " and costs " }.into(),
        );
        list(&costs, Side::B, &mut spans);
        spans.push(".".into());
    }
    Sentence(spans)
}

fn clause(word: Word) -> &'static str {
    match word {
        Word::Plays => "plays",
        Word::PlaysThin => "plays, but thin,",
        Word::Fails => "will not play",
        Word::DoesNotClose => "does not close",
    }
}

/// Names checks with what they come to in B instead of A.
fn list(rows: &[&Row], of: Side, spans: &mut Vec<Span>) {
    let named = if rows.len() == NAMED + 1 { NAMED + 1 } else { rows.len().min(NAMED) };
    for (index, row) in rows[..named].iter().enumerate() {
        if index > 0 {
            let last = index + 1 == rows.len();
            spans.push(if last { " and " } else { ", " }.into());
        }
        spans.push(lower(&row.name).into());
        instead(row, of, spans);
    }
    if rows.len() > named {
        spans.push(format!(" and {} more", rows.len() - named).into());
    }
}

fn instead(row: &Row, of: Side, spans: &mut Vec<Span>) {
    let (is, was) = (row.cell(of), row.cell(of.other()));
    if is.state() != was.state() {
        let state = |cell: &Cell| cell.state().map_or("", words);
        spans.push(format!(" ({} instead of {})", state(is), state(was)).into());
        return;
    }
    if let (Some(is), Some(was)) = (is.quantity(), was.quantity()) {
        spans.push(" (".into());
        spans.push(span(is));
        spans.push(" instead of ".into());
        spans.push(span(was));
        spans.push(")".into());
    }
}

fn span(quantity: super::Quantity) -> Span {
    match quantity.measure {
        super::Measure::Of(Unit::Length) => Span::Length(quantity.value, quantity.digits),
        super::Measure::Of(Unit::Angle) => Span::Angle(quantity.value, quantity.digits),
        _ => Span::Text(quantity.show(crate::units::LengthStyle::Millimetres)),
    }
}

fn words(state: State) -> &'static str {
    match state {
        State::Fails => "failing",
        State::Thin => "thin",
        State::Good => "good",
    }
}

/// Where no check is better: where B has more to spare, and where less.
fn reserves(rows: &[Row], alike: bool, lead: &str) -> Sentence {
    let mut shifts: Vec<(&Row, f64)> = rows
        .iter()
        .filter_map(|row| Some((row, row.cells[1].margin()? - row.cells[0].margin()?)))
        .filter(|(_, shift)| shift.abs() >= WORTH_A_WORD)
        .collect();
    shifts.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let names = |more: bool| {
        let names: Vec<String> = shifts
            .iter()
            .filter(|(_, shift)| (*shift > 0.0) == more)
            .take(NAMED)
            .map(|(row, _)| lower(&row.name))
            .collect();
        match names.as_slice() {
            [] => None,
            [one] => Some(one.clone()),
            [most @ .., last] => Some(format!("{} and {last}", most.join(", "))),
        }
    };
    let lead = if alike { "No check comes out otherwise: B " } else { lead };
    let end = match (names(true), names(false)) {
        (None, None) if alike => {
            let count = rows.len();
            let rows = if count == 1 { "row" } else { "rows" };
            return sentence![format!(
                "They differ in {count} {rows}, and no check comes out otherwise."
            )];
        }
        (None, None) => "is alike in every check that both have.".to_owned(),
        (Some(more), None) => format!("has more to spare in {more}."),
        (None, Some(less)) => format!("has less to spare in {less}."),
        (Some(more), Some(less)) => {
            format!("has more to spare in {more}, and less in {less}.")
        }
    };
    sentence![format!("{lead}{end}")]
}
