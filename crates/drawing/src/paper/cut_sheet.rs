//! The cut sheet on paper: the steps of the work to tick off at the bench, on as few pages
//! as it takes and with letters as large as these allow.

use std::ops::Range;

use kurbo::Point;
use overstand_core::joint::{CutSheet, Number, Reading, Step, rise_over_run};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::Word;

use super::words::{Ink, LARGE, LEADING, SMALL, fit, look, width, wrap};
use super::{Choices, Page, Paper, PaperError, Ply, Wanted};
use crate::font::Fonts;
use crate::look::Look;
use crate::scene::{Anchor, Line};
use crate::sheet::Sheet;

/// Heights of capitals that are tried, mm; the last is the smallest of ISO 3098.
const SIZES: [f64; 5] = [2.5, 2.3, 2.1, 1.95, SMALL];
/// Narrowest column, and most of them.
const COLUMN: f64 = 44.0;
const COLUMNS: usize = 4;
/// Between columns, mm.
const GUTTER: f64 = 7.0;
/// Least height for steps on a page, mm.
const LEAST: f64 = 40.0;

// All below in heights of capitals.
/// A step's title.
const HEADING: f64 = 1.2;
/// The tick box, where the step's number begins, and what belongs to the step.
const BOX: f64 = 1.5;
const NUMBER: f64 = 2.1;
const UNDER: f64 = 4.6;
/// From a label to its words.
const LABEL: f64 = 6.9;
/// Between the columns of a number.
const GAP: f64 = 1.0;
/// By how much a name's second line is set in.
const HUNG: f64 = 1.2;
/// Blank paper above and below what belongs together.
const APART: f64 = 0.45;
/// Room for what hangs below a line's letters.
const HANG: f64 = 0.6;

const REMINDER: &str =
    "No side view shows roll and side aim: check both before the joint is closed.";

/// The cut sheet of a study on paper.
///
/// # Errors
/// [`PaperError::Nothing`] if the design does not close, [`PaperError::NoSheet`] if the
/// paper is a roll or holds too little.
pub fn cut_sheet(study: &Study, wanted: &Wanted) -> Result<Paper, PaperError> {
    let Some(layout) = study.layout() else {
        return Err(PaperError::Nothing(study.reason().show(wanted.lengths)));
    };
    let refused = || PaperError::NoSheet { what: "cut sheet", sheet: wanted.sheet.name() };
    if matches!(wanted.sheet, Sheet::Roll { .. }) {
        return Err(refused());
    }
    let sheet = CutSheet::of(&study.design, layout);
    let mut best: Option<Vec<Page>> = None;
    for capitals in SIZES {
        let tried = Setter::new(study, &sheet, wanted, capitals).pages();
        let fewer = |best: &Vec<Page>| tried.as_ref().is_some_and(|one| one.len() < best.len());
        if best.as_ref().is_none_or(fewer) {
            best = tried.or(best);
        }
    }
    let pages = best.ok_or_else(refused)?;
    let name = study.design.name.trim();
    Ok(Paper { title: format!("{name}, cut sheet"), date: wanted.date, pages, tiled: Vec::new() })
}

/// A piece of a row, from its upper left corner.
enum Piece {
    Words {
        x: f64,
        capitals: f64,
        anchor: Anchor,
        text: String,
    },
    /// A line across the column.
    Rule,
    /// A box to be ticked.
    Tick {
        done: bool,
    },
}

/// What is never torn apart.
struct Row {
    height: f64,
    pieces: Vec<Piece>,
}

/// On which page a row stands, and its upper left corner.
type Place<'a> = (usize, Point, &'a Row);

/// Sets the sheet in one size of letters.
struct Setter<'a> {
    study: &'a Study,
    sheet: &'a CutSheet,
    wanted: &'a Wanted,
    choices: Choices,
    look: Look,
    fonts: Fonts,
    capitals: f64,
    /// Between the margins.
    room: (f64, f64),
    columns: usize,
    column: f64,
    /// Widths of value, tolerance and rise.
    widths: [f64; 3],
}

impl<'a> Setter<'a> {
    fn new(study: &'a Study, sheet: &'a CutSheet, wanted: &'a Wanted, capitals: f64) -> Self {
        let room = wanted.room();
        let fitting = (room.0 + GUTTER) / (COLUMN * capitals + GUTTER);
        let columns = (1..=COLUMNS).rev().find(|&n| n as f64 <= fitting).unwrap_or(1);
        let column = (room.0 - GUTTER * (columns - 1) as f64) / columns as f64;
        let choices = wanted.choices();
        let look = look(&choices, capitals);
        let fonts = Fonts::bundled();
        let mut setter = Self {
            study,
            sheet,
            wanted,
            choices,
            look,
            fonts,
            capitals,
            room,
            columns,
            column,
            widths: [0.0; 3],
        };
        for step in &sheet.steps {
            let numbers = step.numbers.iter().map(|number| setter.number(number));
            let readings = step.readings.iter().map(|reading| setter.reading(reading));
            let rows: Vec<_> = numbers.chain(readings).collect();
            for (_, values) in rows {
                for (widest, text) in setter.widths.iter_mut().zip(&values) {
                    *widest = widest.max(width(&setter.fonts, text, capitals));
                }
            }
        }
        setter
    }

    /// The pages; none if there is too little room.
    fn pages(self) -> Option<Vec<Page>> {
        let (head, other) = (self.head(), self.other_head());
        let high = |rows: &[Row]| rows.iter().map(|row| row.height).sum::<f64>();
        // how many pages there are does not change how wide their number is by much
        let foot = self.foot(1, 99);
        let bottom = high(&foot) + self.capitals;
        let top = |page: usize| self.room.1 - high(if page == 0 { &head } else { &other });
        if top(0).min(top(1)) - bottom < LEAST {
            return None;
        }
        let steps: Vec<Vec<Row>> =
            self.sheet.steps.iter().enumerate().map(|(i, step)| self.step(i + 1, step)).collect();
        let mut places: Vec<Place<'_>> = Vec::new();
        let (mut page, mut column, mut y) = (0, 0, top(0));
        let mut next = |page: &mut usize, y: &mut f64| {
            column += 1;
            if column == self.columns {
                column = 0;
                *page += 1;
            }
            *y = top(*page);
            column as f64 * (self.column + GUTTER)
        };
        let mut x = 0.0;
        for rows in &steps {
            // a step stays in one column, unless it is longer than one
            if y < top(page) && y - high(rows) < bottom {
                x = next(&mut page, &mut y);
            }
            for row in rows {
                if y < top(page) && y - row.height < bottom {
                    x = next(&mut page, &mut y);
                }
                places.push((page, Point::new(x, y), row));
                y -= row.height;
            }
        }
        let count = page + 1;
        Some((0..count).map(|page| self.page(page, count, &places)).collect())
    }

    fn page(&self, index: usize, count: usize, places: &[Place<'_>]) -> Page {
        let mut ink = Ink::new(&self.choices);
        let head = if index == 0 { self.head() } else { self.other_head() };
        self.put(&mut ink, Point::new(0.0, self.room.1), &head, self.room.0);
        for &(_, at, row) in places.iter().filter(|place| place.0 == index) {
            self.put(&mut ink, at, std::slice::from_ref(row), self.column);
        }
        let foot = self.foot(index + 1, count);
        let high: f64 = foot.iter().map(|row| row.height).sum();
        self.put(&mut ink, Point::new(0.0, high), &foot, self.room.0);
        self.wanted.page(index + 1, ink.layers())
    }

    fn put(&self, ink: &mut Ink<'_>, corner: Point, rows: &[Row], wide: f64) {
        let mut y = corner.y;
        for row in rows {
            for piece in &row.pieces {
                match piece {
                    Piece::Words { x, capitals, anchor, text } => {
                        let at = Point::new(corner.x + x, y - row.height + self.mid(*capitals));
                        ink.words(Ply::Words, *capitals, at, *anchor, text.as_str());
                    }
                    Piece::Rule => {
                        let ends = [corner.x, corner.x + wide].map(|x| Point::new(x, y));
                        ink.line(Ply::Drawing, Line::Thin, ends);
                    }
                    Piece::Tick { done } => {
                        let side = BOX * self.capitals;
                        let low = Point::new(
                            corner.x + 0.2,
                            y - row.height + self.mid(HEADING * self.capitals) - 0.5 * side,
                        );
                        let at = |x: f64, y: f64| low + kurbo::Vec2::new(x, y) * side;
                        ink.rect(Ply::Drawing, Line::Visible, low, at(1.0, 1.0));
                        if *done {
                            let tick = [at(0.18, 0.5), at(0.42, 0.2), at(0.84, 0.84)];
                            ink.line(Ply::Drawing, Line::Visible, tick);
                        }
                    }
                }
            }
            y -= row.height;
        }
    }

    /// From the lower edge of a row to the middle of its capitals.
    fn mid(&self, capitals: f64) -> f64 {
        HANG * self.capitals + 0.5 * capitals
    }

    /// Lines of words, no wider than `columns`, without any that could run off.
    fn broken(&self, text: &str, capitals: f64, columns: &Range<f64>) -> Vec<String> {
        let room = columns.end - columns.start;
        wrap(&self.fonts, text, capitals, room)
            .iter()
            .map(|line| fit(&self.fonts, line, capitals, room))
            .collect()
    }

    fn rows(&self, text: &str, capitals: f64, columns: Range<f64>) -> Vec<Row> {
        self.broken(text, capitals, &columns)
            .into_iter()
            .map(|text| Row {
                height: (LEADING - 1.0) * self.capitals + capitals,
                pieces: vec![Piece::Words {
                    x: columns.start,
                    capitals,
                    anchor: Anchor::Left,
                    text,
                }],
            })
            .collect()
    }

    fn rule(&self) -> Row {
        Row { height: 0.4 * self.capitals, pieces: vec![Piece::Rule] }
    }

    fn apart(&self) -> Row {
        Row { height: APART * self.capitals, pieces: Vec::new() }
    }

    /// The title block.
    fn head(&self) -> Vec<Row> {
        let (c, all) = (self.capitals, 0.0..self.room.0);
        let date = self.wanted.date.to_string();
        let left = 0.0..self.room.0 - width(&self.fonts, &date, LARGE) - 3.0;
        let joint = self.sheet.joint;
        let mut rows = self.rows(&format!("Cut sheet: {}", lower(joint)), LARGE, left);
        if let Some(first) = rows.first_mut() {
            first.pieces.push(Piece::Words {
                x: self.room.0,
                capitals: LARGE,
                anchor: Anchor::Right,
                text: date,
            });
        }
        let variant = format!("Variant: {}", self.study.design.name.trim());
        let name = match &self.wanted.design {
            Some(design) => format!("Design: {} · {variant}", design.trim()),
            None => variant,
        };
        rows.extend(self.rows(&name, HEADING * c, all.clone()));
        let word = self.study.word();
        if word != Word::Plays {
            let stop = match word {
                Word::Fails | Word::DoesNotClose => " Do not cut yet.",
                Word::Plays | Word::PlaysThin => "",
            };
            let reason = self.study.reason().show(self.wanted.lengths);
            let warning = format!("{}.{stop} {reason}", word.show());
            rows.extend(self.rows(&warning, HEADING * c, all.clone()));
        }
        let unit = match self.wanted.lengths {
            LengthStyle::Millimetres => "millimetres",
            LengthStyle::InchDecimal => "inches",
            _ => "inches and fractions",
        };
        let units = format!(
            "Lengths in {unit}, angles in degrees and as rise over run. ± is by how much a number may miss."
        );
        rows.extend(self.rows(&units, c, all.clone()));
        rows.extend(self.rows(&self.sheet.cautions.join(" "), c, all));
        rows.push(self.apart());
        rows
    }

    /// What stands at the top of the other pages.
    fn other_head(&self) -> Vec<Row> {
        let c = self.capitals;
        let design = self.wanted.design.as_ref().map(|name| format!("{} · ", name.trim()));
        let text = format!(
            "Cut sheet · {}{} · {}",
            design.unwrap_or_default(),
            self.study.design.name.trim(),
            self.wanted.date
        );
        let mut rows = self.rows(&text, HEADING * c, 0.0..self.room.0);
        rows.push(self.apart());
        rows
    }

    fn foot(&self, number: usize, count: usize) -> Vec<Row> {
        let c = self.capitals;
        let page = format!("page {number} of {count}");
        let left = 0.0..self.room.0 - width(&self.fonts, "page 99 of 99", c) - 3.0;
        let mut rows = vec![self.rule()];
        rows.extend(self.rows(REMINDER, c, left));
        if let Some(last) = rows.last_mut() {
            let (x, anchor) = (self.room.0, Anchor::Right);
            last.pieces.push(Piece::Words { x, capitals: c, anchor, text: page });
        }
        rows
    }

    fn step(&self, place: usize, step: &Step) -> Vec<Row> {
        let (c, lengths) = (self.capitals, self.wanted.lengths);
        let under = UNDER * c..self.column;
        let mut rows = vec![self.rule()];
        let mut title = self.rows(step.title, HEADING * c, under.clone());
        if let Some(first) = title.first_mut() {
            first.pieces.insert(0, Piece::Tick { done: step.done });
            let number = Piece::Words {
                x: NUMBER * c,
                capitals: HEADING * c,
                anchor: Anchor::Left,
                text: place.to_string(),
            };
            first.pieces.insert(1, number);
        }
        rows.extend(title);
        for sentence in &step.work {
            rows.extend(self.rows(&sentence.show(lengths), c, under.clone()));
        }
        if !step.numbers.is_empty() {
            rows.push(self.apart());
            rows.extend(step.numbers.iter().flat_map(|one| self.value_row(self.number(one))));
            rows.push(self.apart());
        }
        if let Some(leave_on) = &step.leave_on {
            rows.extend(self.labelled("Leave on", &leave_on.show(lengths)));
        }
        if let Some(check) = &step.check {
            rows.extend(self.labelled("Check", &check.show(lengths)));
            rows.extend(self.labelled("If not", &check.otherwise.show(lengths)));
        }
        if let Some(first) = step.readings.first() {
            let at = self.look.value(first.at, Unit::Length, 1);
            let says = format!("Straightedge over the top, {at} from the joint:");
            rows.push(self.apart());
            rows.extend(self.rows(&says, c, under));
            rows.extend(step.readings.iter().flat_map(|one| self.value_row(self.reading(one))));
        }
        if !step.cautions.is_empty() {
            rows.extend(self.labelled("Care", &step.cautions.join(" ")));
        }
        rows.push(self.apart());
        rows
    }

    fn number(&self, number: &Number) -> (String, [String; 3]) {
        let value = |value| self.look.value(value, number.unit, number.digits);
        let within = number.tolerance.map(|within| format!("± {}", value(within)));
        let rise = rise_over_run(number.value, number.unit, number.digits);
        let values =
            [value(number.at_bench()), within.unwrap_or_default(), rise.unwrap_or_default()];
        let name = match number.raises() {
            Some(raises) => format!("{}, {raises}", number.name),
            None => number.name.to_owned(),
        };
        (name, values)
    }

    fn reading(&self, reading: &Reading) -> (String, [String; 3]) {
        let value = |value| self.look.value(value, Unit::Length, 1);
        let within = format!("± {}", value(reading.tolerance));
        (format!("on {}", reading.on), [value(reading.value), within, String::new()])
    }

    /// A name and what belongs to it, in columns that are the same on the whole sheet.
    fn value_row(&self, (name, values): (String, [String; 3])) -> Vec<Row> {
        let c = self.capitals;
        let [value, within, rise] = self.widths;
        let gap = GAP * c;
        let starts = self.column - rise - gap - within - gap;
        // broken as narrow as the lines that are set in
        let set_in = (UNDER + HUNG) * c;
        let end = starts - value - gap;
        let whole = width(&self.fonts, &name, c) <= end - UNDER * c;
        let mut rows = self.rows(&name, c, if whole { UNDER * c } else { set_in }..end);
        if let Some(Piece::Words { x, .. }) =
            rows.first_mut().and_then(|row| row.pieces.first_mut())
        {
            *x = UNDER * c;
        }
        let [value, within, rise] = values;
        let words = [
            (starts, Anchor::Right, value),
            (starts + gap, Anchor::Left, within),
            (self.column, Anchor::Right, rise),
        ];
        if let Some(last) = rows.last_mut() {
            for (x, anchor, text) in words {
                if !text.is_empty() {
                    last.pieces.push(Piece::Words { x, capitals: c, anchor, text });
                }
            }
        }
        rows
    }

    /// A label, and words that hang beside it.
    fn labelled(&self, label: &str, words: &str) -> Vec<Row> {
        let c = self.capitals;
        let mut rows = self.rows(words, c, (UNDER + LABEL) * c..self.column);
        if let Some(first) = rows.first_mut() {
            let text = label.to_owned();
            let piece = Piece::Words { x: UNDER * c, capitals: c, anchor: Anchor::Left, text };
            first.pieces.insert(0, piece);
        }
        rows
    }
}

#[cfg(test)]
mod tests;
