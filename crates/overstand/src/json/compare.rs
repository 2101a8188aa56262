//! What differs between two designs, and how all variants of a file stand.

use overstand_core::compare::{Cell, Comparison, Group, Order, Row, Side, Standing};
use overstand_core::units::LengthStyle;
use serde::Serialize;

use super::VERSION;

#[derive(Debug, Serialize)]
pub(crate) struct Compared {
    version: u32,
    a: OneJson,
    b: OneJson,
    says: String,
    rows: Vec<RowJson>,
}

#[derive(Debug, Serialize)]
struct OneJson {
    title: String,
    variant: String,
    verdict: &'static str,
}

#[derive(Debug, Serialize)]
struct RowJson {
    group: &'static str,
    part: Option<&'static str>,
    subject: String,
    name: String,
    unit: Option<&'static str>,
    a: CellJson,
    b: CellJson,
    difference: Option<f64>,
    better: Option<&'static str>,
    can_be_taken: bool,
}

#[derive(Debug, Serialize)]
struct CellJson {
    value: Option<f64>,
    words: Option<String>,
    found: Option<bool>,
    state: Option<&'static str>,
    margin: Option<f64>,
}

#[derive(Debug, Serialize)]
pub(crate) struct Standings {
    version: u32,
    order: &'static str,
    variants: Vec<StandingJson>,
}

#[derive(Debug, Serialize)]
struct StandingJson {
    variant: String,
    verdict: &'static str,
    good: usize,
    thin: usize,
    fails: usize,
    least_margin: Option<f64>,
    least_check: Option<&'static str>,
}

impl Compared {
    pub(crate) fn of(both: &Comparison, titles: &[String; 2]) -> Self {
        let one = |side: Side| OneJson {
            title: titles[side as usize].clone(),
            variant: both.names[side as usize].clone(),
            verdict: both.words[side as usize].text(),
        };
        Self {
            version: VERSION,
            a: one(Side::A),
            b: one(Side::B),
            says: both.says.show(LengthStyle::Millimetres),
            rows: both.rows.iter().map(row).collect(),
        }
    }
}

fn row(row: &Row) -> RowJson {
    let quantity = row.cells.iter().find_map(Cell::quantity);
    RowJson {
        group: row.group.text(),
        part: match row.group {
            Group::Inputs(part) => Some(part.name()),
            _ => None,
        },
        subject: row.subject.text(),
        name: row.name.clone(),
        unit: quantity.map(|quantity| quantity.measure.text()),
        a: cell(row.cell(Side::A)),
        b: cell(row.cell(Side::B)),
        difference: row.difference.map(|quantity| quantity.value),
        better: row.better.map(Side::name),
        can_be_taken: row.can_be_taken(),
    }
}

fn cell(cell: &Cell) -> CellJson {
    CellJson {
        value: cell.quantity().map(|quantity| quantity.value),
        words: match cell {
            Cell::Words(words) => Some(words.clone()),
            _ => None,
        },
        found: match cell {
            Cell::Value(_, found) => Some(*found),
            Cell::Thick(_) => Some(true),
            _ => None,
        },
        state: cell.state().map(overstand_core::verdict::State::text),
        margin: cell.margin(),
    }
}

impl Standings {
    pub(crate) fn of(standings: &[Standing], order: Order) -> Self {
        let variants = standings
            .iter()
            .map(|one| StandingJson {
                variant: one.name.clone(),
                verdict: one.word.text(),
                good: one.counts[0],
                thin: one.counts[1],
                fails: one.counts[2],
                least_margin: one.least.map(|(_, margin)| margin),
                least_check: one.least.map(|(id, _)| id.text()),
            })
            .collect();
        Self { version: VERSION, order: order.text(), variants }
    }
}
