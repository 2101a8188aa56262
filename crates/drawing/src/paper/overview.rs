//! The block at the top of the first page: title block, list of parts with their sheets, and
//! how the tiles are joined.

use kurbo::Point;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use super::block::Block;
use super::words::{Ink, PLAIN, SMALL, TITLE, fit};
use super::{Choices, Ply, Tiled};
use crate::font::Fonts;
use crate::part::{Part, PartKind};
use crate::scene::{Anchor, Line};
use crate::sheet::Sheet;
use crate::tiling::name;

/// Height of the title block's upper field and of its row of fields, mm.
const NAME: f64 = 11.0;
const FIELDS: f64 = 9.0;
/// Height of a line of the list, and of a row of a map, mm.
const ENTRY: f64 = 5.6;
const CELL: f64 = 5.0;
/// Room for the name of a part in the list, and the width of a cell of a map, mm.
const LISTED: f64 = 50.0;
const CELL_WIDTH: f64 = 15.0;
/// Widest the block becomes, on a roll.
const WIDEST: f64 = 262.0;

/// One line of the list.
pub(super) struct Listed {
    kind: PartKind,
    name: &'static str,
    /// Rows and columns, where it is tiled.
    grid: Option<(usize, usize)>,
}

impl Listed {
    fn height(&self) -> f64 {
        self.grid.map_or(ENTRY, |(rows, _)| CELL * rows as f64 + 1.6)
    }
}

pub(super) fn list(parts: &[Part], tiled: &[Tiled]) -> Vec<Listed> {
    parts
        .iter()
        .map(|part| {
            let tiling = tiled.iter().find(|one| one.kind == part.kind).map(|one| &one.tiling);
            let grid = tiling.map(|tiling| (tiling.rows, tiling.columns));
            Listed { kind: part.kind, name: part.name, grid }
        })
        .collect()
}

fn has_map(list: &[Listed]) -> bool {
    list.iter().any(|listed| listed.grid.is_some())
}

/// Width and height of the block in a room of a width.
pub(super) fn size(list: &[Listed], room: f64) -> (f64, f64) {
    let entries: f64 = list.iter().map(Listed::height).sum();
    let legend = if has_map(list) { ENTRY } else { 0.0 };
    (room.min(WIDEST), NAME + FIELDS + 3.0 + entries + legend + 3.0)
}

/// The block; `seen` says on which page each part or tile lies.
pub(super) fn block(
    study: &Study,
    choices: &Choices,
    list: &[Listed],
    seen: &[(PartKind, Option<String>, usize)],
    ((width, height), count, landscape): ((f64, f64), usize, bool),
) -> Block {
    let mut ink = Ink::new(choices);
    let fonts = Fonts::bundled();
    let low = height - NAME - FIELDS;
    ink.rect(Ply::Words, Line::Visible, Point::new(0.0, low), Point::new(width, height));
    let level = height - NAME;
    ink.line(Ply::Words, Line::Thin, [Point::new(0.0, level), Point::new(width, level)]);
    let title = fit(&fonts, study.design.name.trim(), TITLE, width - 58.0);
    ink.words(Ply::Words, TITLE, Point::new(3.0, level + 0.5 * NAME), Anchor::Left, title);
    let what = Point::new(width - 3.0, level + 0.5 * NAME);
    ink.words(Ply::Words, PLAIN, what, Anchor::Right, "Side elevation and parts");

    let units = match choices.lengths {
        LengthStyle::Millimetres => "mm",
        _ => "in",
    };
    let lies = match (&choices.sheet, landscape) {
        (Sheet::Roll { .. }, _) => "",
        (_, true) => ", landscape",
        (_, false) => ", portrait",
    };
    let fields = [
        ("Date", choices.date.to_string(), 0.17),
        ("Scale", "1:1".to_owned(), 0.10),
        ("Units", units.to_owned(), 0.10),
        ("Paper", format!("{}{lies}", choices.sheet.name()), 0.30),
        ("Sheets", format!("1 of {count}"), 0.15),
        ("Made with", "Overstand".to_owned(), 0.18),
    ];
    let mut x = 0.0;
    for (name, value, part) in fields {
        if x > 0.0 {
            ink.line(Ply::Words, Line::Thin, [Point::new(x, low), Point::new(x, level)]);
        }
        let room = part * width;
        ink.words(Ply::Words, SMALL, Point::new(x + 1.5, level - 2.0), Anchor::Left, name);
        let value = fit(&fonts, &value, PLAIN, room - 3.0);
        ink.words(Ply::Words, PLAIN, Point::new(x + 1.5, low + 2.9), Anchor::Left, value);
        x += room;
    }

    let mut top = low - 3.0;
    for listed in list {
        let middle = top - 0.5 * ENTRY;
        ink.words(Ply::Words, PLAIN, Point::new(0.0, middle), Anchor::Left, listed.name);
        match listed.grid {
            None => {
                let page = seen.iter().find(|(kind, ..)| *kind == listed.kind);
                if let Some((.., page)) = page {
                    let at = Point::new(LISTED, middle);
                    ink.words(Ply::Words, PLAIN, at, Anchor::Left, format!("sheet {}", page + 1));
                }
            }
            Some(grid) => map(&mut ink, listed.kind, grid, seen, (width, top - 0.5)),
        }
        top -= listed.height();
    }
    if has_map(list) {
        let at = Point::new(LISTED, top - 0.5 * ENTRY);
        let legend = "Maps of the tiles as they lie joined: tile · its sheet.";
        ink.words(Ply::Words, SMALL, at, Anchor::Left, legend);
    }
    Block::of(width, height, ink.layers())
}

/// The map of a part's tiles: each with its name and its sheet.
fn map(
    ink: &mut Ink<'_>,
    kind: PartKind,
    (rows, columns): (usize, usize),
    seen: &[(PartKind, Option<String>, usize)],
    (width, top): (f64, f64),
) {
    let cell = CELL_WIDTH.min((width - LISTED) / columns as f64);
    for row in 0..rows {
        for column in 0..columns {
            let name = name(row, column);
            let found = seen
                .iter()
                .find(|(other, tile, _)| *other == kind && tile.as_deref() == Some(name.as_str()));
            let Some((.., page)) = found else { continue };
            let low = Point::new(LISTED + cell * column as f64, top - CELL * (row + 1) as f64);
            let high = low + (cell, CELL);
            ink.rect(Ply::Words, Line::Thin, low, high);
            let text = if cell >= 13.0 { format!("{name} · {}", page + 1) } else { name };
            ink.words(Ply::Words, SMALL, low.midpoint(high), Anchor::Middle, text);
        }
    }
}
