//! The table of what differs: as many pages as its rows take.

use std::sync::Arc;

use kurbo::{Affine, Point};
use overstand_core::compare::{Cell, Group, Row, Side};

use super::{GAP, Setter};
use crate::look::Look;
use crate::outline::polygon;
use crate::paper::words::{LEADING, SMALL, fit, width, wrap};
use crate::paper::{Layer, Ply};
use crate::scene::{Anchor, Item, Line, Material, Scene};

/// Height of capitals of the table, mm.
const LETTERS: f64 = SMALL;
/// From one line of the table to the next, mm.
const LINE: f64 = LEADING * LETTERS;
/// Above and below the words of a row, mm.
const PAD: f64 = 0.55;
/// Height of the heading of a group, mm.
const HEADING: f64 = 0.8 + LINE + 2.0 * PAD;
/// Where columns begin, as parts of the width: name, A, B, difference, margins.
pub(super) const COLUMNS: [f64; 5] = [0.0, 0.40, 0.57, 0.74, 0.87];
/// Margins are drawn up to so many thin bands.
pub(super) const MOST_MARGIN: f64 = 3.0;

impl Setter<'_> {
    fn column(&self, index: usize) -> (f64, f64) {
        let wide = self.room.0;
        let start = COLUMNS[index] * wide;
        let end = COLUMNS.get(index + 1).map_or(wide, |next| next * wide - GAP);
        (start, end - start)
    }

    /// Lowest place for a row: the foot stands below it.
    fn floor(&self) -> f64 {
        LEADING * SMALL + 2.0
    }

    pub(super) fn table(&mut self) {
        if self.both.rows.is_empty() {
            return;
        }
        self.head();
        for group in self.both.groups() {
            let rows: Vec<&Row> = self.both.of_group(group).collect();
            // no heading stands alone, nor with one row of several
            let mut heights = rows.iter().map(|row| self.height(row));
            let first = heights.next().unwrap_or_default()
                + heights.next().map_or(0.0, |next| next.min(LINE + 2.0 * PAD));
            if self.y - HEADING - first < self.floor() {
                self.next_page();
            }
            self.heading(group.name().to_owned());
            for row in rows {
                if self.y - self.height(row) < self.floor() {
                    self.next_page();
                    self.heading(format!("{} (continued)", group.name()));
                }
                self.row(row);
            }
        }
        self.rule(Line::Visible);
    }

    pub(super) fn head(&mut self) {
        self.rule(Line::Visible);
        let mut names = ["What differs", "A", "B", "B less A", "Margins, better"];
        if width(&self.fonts, names[4], LETTERS) > self.column(4).1 {
            names[4] = "Margins";
        }
        let y = self.y - PAD - 0.5 * LINE;
        for (index, name) in names.into_iter().enumerate() {
            let (x, room) = self.column(index);
            let name = fit(&self.fonts, name, LETTERS, room);
            let is_number = (1..=3).contains(&index);
            let (x, anchor) = if is_number { (x + room, Anchor::Right) } else { (x, Anchor::Left) };
            self.words(LETTERS, Point::new(x, y), anchor, name);
        }
        self.y -= LINE + 2.0 * PAD;
        self.rule(Line::Visible);
    }

    fn heading(&mut self, text: String) {
        let at = Point::new(0.0, self.y - HEADING + PAD + 0.5 * LINE);
        self.words(1.2 * LETTERS, at, Anchor::Left, text);
        self.y -= HEADING;
    }

    /// The lines of a row's cells: of each what stands at the left of its column, and what at
    /// its right, where numbers stand below each other.
    fn cells(&self, row: &Row) -> [Vec<[String; 2]>; 4] {
        let style = self.wanted.lengths;
        let words = |column: usize, text: &str| -> Vec<[String; 2]> {
            let (_, room) = self.column(column);
            let line = |line: &String| [fit(&self.fonts, line, LETTERS, room), String::new()];
            wrap(&self.fonts, text, LETTERS, room).iter().map(line).collect()
        };
        let number = |column: usize, text: String, aside: &str| -> Vec<[String; 2]> {
            let (_, room) = self.column(column);
            let wide = |text: &str| width(&self.fonts, text, LETTERS);
            let is_one = aside.is_empty() || wide(&text) + GAP + wide(aside) <= room;
            let number = fit(&self.fonts, &text, LETTERS, room);
            if is_one {
                return vec![[aside.to_owned(), number]];
            }
            let aside = fit(&self.fonts, aside, LETTERS, room);
            vec![[String::new(), number], [String::new(), aside]]
        };
        let said = |column: usize, cell: &Cell| {
            let aside = match cell {
                Cell::Check(_, state, _) => state.text(),
                Cell::Value(_, true) if matches!(row.group, Group::Inputs(_)) => "found",
                _ => "",
            };
            match cell.quantity() {
                Some(_) => number(column, cell.show(style), aside),
                None => words(column, &cell.show(style)),
            }
        };
        [
            words(0, &row.name),
            said(1, row.cell(Side::A)),
            said(2, row.cell(Side::B)),
            number(3, row.show_difference(style), ""),
        ]
    }

    fn height(&self, row: &Row) -> f64 {
        let lines = self.cells(row).iter().map(Vec::len).max().unwrap_or(1);
        // the longest notes end with the page
        let most = ((self.room.1 - self.floor()) / LINE).floor() - 8.0;
        (lines as f64).min(most) * LINE + 2.0 * PAD
    }

    fn row(&mut self, row: &Row) {
        self.rule(Line::Thin);
        let height = self.height(row);
        let most = ((height - 2.0 * PAD) / LINE).round() as usize;
        for (index, lines) in self.cells(row).into_iter().enumerate() {
            let (x, room) = self.column(index);
            for (line, [left, right]) in lines.into_iter().take(most).enumerate() {
                let y = self.y - PAD - (line as f64 + 0.5) * LINE;
                for (x, anchor, text) in [(x, Anchor::Left, left), (x + room, Anchor::Right, right)]
                {
                    if !text.is_empty() {
                        self.words(LETTERS, Point::new(x, y), anchor, text);
                    }
                }
            }
        }
        self.margins(row);
        self.y -= height;
    }

    /// Two bars of the margins, A above B, with a mark where good begins; and the better one.
    fn margins(&mut self, row: &Row) {
        let (x, room) = self.column(4);
        let middle = self.y - PAD - 0.5 * LINE;
        if let Some(better) = row.better {
            let at = Point::new(x + room, middle);
            self.words(LETTERS, at, Anchor::Right, better.name().to_owned());
        }
        let margins = row.cells.each_ref().map(Cell::margin);
        if margins == [None, None] {
            return;
        }
        let long = room - 4.0;
        let at = |margin: f64| x + long * margin.clamp(0.0, MOST_MARGIN) / MOST_MARGIN;
        let mut bars = Scene::default();
        for (margin, y) in margins.into_iter().zip([middle + 0.25, middle - 1.05]) {
            let Some(margin) = margin else { continue };
            let (low, high) = (Point::new(x, y), Point::new(at(margin).max(x + 0.25), y + 0.8));
            let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
            let material = Material::Board;
            bars.add(None, Item::Area { path: polygon(corners), material, edge: Line::Thin });
        }
        let look = Look { visible: 0.18, ..Look::paper() };
        if let Some((ink, layers)) = self.pages.last_mut() {
            let mark = at(1.0);
            let ends = [Point::new(mark, middle - 1.4), Point::new(mark, middle + 1.4)];
            ink.line(Ply::Drawing, Line::Thin, ends);
            layers.push(Layer {
                ply: Ply::Drawing,
                scene: Arc::new(bars),
                look: Arc::new(look),
                at: Affine::IDENTITY,
                window: None,
            });
        }
    }
}
