//! From choices to sheets: what lies on every page, in mm.
//!
//! A page holds layers, each a [`Scene`] with its look, a place on the page and perhaps a
//! window it is seen through. The preview on the screen and every writer show these same
//! layers.
//!
//! A page is laid out in true millimetres from the lower left corner of what can be printed
//! on. Only [`Page::to_paper`] knows the margins and the printer's error.

mod block;
mod compare_sheet;
mod cut_sheet;
mod error;
mod fitting_log;
mod furniture;
mod overview;
mod pack;
mod wanted;
mod words;
mod worked_sheet;

use std::sync::Arc;

use kurbo::{Affine, Point, Rect};
use overstand_core::design::Date;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use crate::correction::Correction;
use crate::look::Look;
use crate::part::{Part, PartKind, parts};
use crate::scene::Scene;
use crate::sheet::{Margins, Orientation, Sheet};
use crate::tiling::Tiling;

use block::Block;
pub use compare_sheet::compare_sheet;
pub use cut_sheet::cut_sheet;
pub use error::PaperError;
pub use fitting_log::fitting_log;
use furniture::Frame;
pub use wanted::Wanted;
pub use worked_sheet::worked_sheet;

/// What is to be printed, and on what.
#[derive(Clone, Debug, PartialEq)]
pub struct Choices {
    /// The parts.
    pub parts: Vec<PartKind>,
    /// The paper.
    pub sheet: Sheet,
    /// Which way it lies.
    pub orientation: Orientation,
    /// What stays blank.
    pub margins: Margins,
    /// By how much tiles overlap at least, mm.
    pub overlap: f64,
    /// How lengths are written.
    pub lengths: LengthStyle,
    /// Whether wood is tinted.
    pub tinted: bool,
    /// What the printer's check bars measured, if it is corrected.
    pub correction: Option<Correction>,
    /// The day that is printed.
    pub date: Date,
}

impl Choices {
    /// Every part on sheets of A4.
    pub fn usual(date: Date) -> Self {
        let sheet = Sheet::default();
        Self {
            parts: PartKind::all().collect(),
            margins: sheet.usual_margins(),
            sheet,
            orientation: Orientation::Fewest,
            overlap: USUAL_OVERLAP,
            lengths: LengthStyle::Millimetres,
            tinted: false,
            correction: None,
            date,
        }
    }
}

/// By how much tiles overlap at least where nothing else is asked for, mm.
pub const USUAL_OVERLAP: f64 = 12.0;
/// Narrowest and widest overlap, mm: the marks must lie in it, and what is not overlap must
/// be worth a tile.
const OVERLAPS: (f64, f64) = (10.0, 60.0);
/// Least printable width and height, mm: for the check bars and words.
const LEAST: (f64, f64) = (125.0, 165.0);

/// What a layer is for; on paper and in files each can be switched off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ply {
    /// The drawing itself.
    Drawing,
    /// Dimension lines, and words in the drawing.
    Dimensions,
    /// Where it is cut out.
    Cut,
    /// The edge from which it is measured.
    Reference,
    /// Names, uses, key dimensions.
    Words,
    /// Check bars.
    Bars,
    /// Marks and edges of tiles.
    Marks,
}

impl Ply {
    /// All of them, from the back to the front.
    pub const ALL: [Self; 7] = [
        Self::Drawing,
        Self::Dimensions,
        Self::Cut,
        Self::Reference,
        Self::Words,
        Self::Bars,
        Self::Marks,
    ];

    /// Its name, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Drawing => "Drawing",
            Self::Dimensions => "Dimensions",
            Self::Cut => "Cut line",
            Self::Reference => "Reference edge",
            Self::Words => "Words",
            Self::Bars => "Check bars",
            Self::Marks => "Tile marks",
        }
    }
}

/// A scene in its place on a page.
#[derive(Clone, Debug)]
pub struct Layer {
    /// What it is for.
    pub ply: Ply,
    /// What is drawn.
    pub scene: Arc<Scene>,
    /// How it looks.
    pub look: Arc<Look>,
    /// From the scene to the page.
    pub at: Affine,
    /// The window through which it is seen, on the page.
    pub window: Option<Rect>,
}

/// What lies where on a page.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// The part.
    pub kind: PartKind,
    /// The tile's name, if it is one.
    pub tile: Option<String>,
    /// Where on the page.
    pub at: Rect,
}

/// One sheet.
#[derive(Clone, Debug)]
pub struct Page {
    /// Its label: a number, or the tile that fills it.
    pub label: String,
    /// Paper, mm.
    pub width: f64,
    /// Paper, mm.
    pub height: f64,
    /// From true millimetres to the paper's, Y up: margins, and the printer's correction.
    pub to_paper: Affine,
    /// What can be printed on, in true mm: width and height.
    pub room: (f64, f64),
    /// What is drawn, from the back to the front.
    pub layers: Vec<Layer>,
    /// What lies where.
    pub placed: Vec<Placed>,
}

/// A part that did not fit on a sheet, cut into tiles.
#[derive(Clone, Debug)]
pub struct Tiled {
    /// The part.
    pub kind: PartKind,
    /// What of it is shown, in its own mm.
    pub bounds: Rect,
    /// The whole of it, in its own mm: what the tiles are windows on.
    pub layers: Vec<Layer>,
    /// The tiles.
    pub tiling: Tiling,
}

/// All sheets.
#[derive(Clone, Debug)]
pub struct Paper {
    /// What the file is called inside.
    pub title: String,
    /// The day that is printed.
    pub date: Date,
    /// The sheets.
    pub pages: Vec<Page>,
    /// The parts that are tiled.
    pub tiled: Vec<Tiled>,
}

/// Lays the chosen parts of a study out on sheets.
///
/// # Errors
/// [`PaperError`].
pub fn lay(study: &Study, choices: &Choices) -> Result<Paper, PaperError> {
    let parts = chosen(study, choices)?;
    let lying = match (&choices.sheet, choices.orientation) {
        (Sheet::Roll { .. }, _) | (_, Orientation::Portrait) => vec![false],
        (_, Orientation::Landscape) => vec![true],
        (_, Orientation::Fewest) => vec![false, true],
    };
    let tries = lying.into_iter().map(|landscape| lay_so(study, choices, &parts, landscape));
    // the first of the shortest; an error only when no way works
    tries
        .reduce(|best, other| match (&best, &other) {
            (Ok(one), Ok(two)) if two.pages.len() < one.pages.len() => other,
            (Err(_), Ok(_)) => other,
            _ => best,
        })
        .unwrap_or_else(|| Err(PaperError::Nothing("no way to lay the paper".to_owned())))
}

/// The chosen parts below each other on one page without margins, bars or tiles: for a file
/// that is not printed sheet by sheet.
///
/// # Errors
/// [`PaperError::Nothing`].
pub fn single(study: &Study, choices: &Choices) -> Result<Page, PaperError> {
    const EDGE: f64 = 5.0;
    const GAP: f64 = 12.0;
    let parts = chosen(study, choices)?;
    let blocks: Vec<Block> =
        parts.iter().map(|part| block::whole(part, study, choices, f64::INFINITY)).collect();
    let width = blocks.iter().map(|block| block.width).fold(0.0, f64::max) + 2.0 * EDGE;
    let gaps = GAP * blocks.len().saturating_sub(1) as f64;
    let height = blocks.iter().map(|block| block.height).sum::<f64>() + gaps + 2.0 * EDGE;
    let mut page = Page {
        label: "1".to_owned(),
        width,
        height,
        to_paper: Affine::IDENTITY,
        room: (width, height),
        layers: Vec::new(),
        placed: Vec::new(),
    };
    let mut top = height - EDGE;
    for block in blocks {
        top -= block.height;
        block.put(Point::new(EDGE, top), &mut page);
        top -= GAP;
    }
    Ok(page)
}

fn chosen(study: &Study, choices: &Choices) -> Result<Vec<Part>, PaperError> {
    let made = parts(study, &choices.parts);
    if !made.is_empty() {
        return Ok(made);
    }
    let why = if crate::elevation::layout_of(study).is_none() {
        study.reason().show(choices.lengths)
    } else {
        "none of the chosen parts is of use for this design".to_owned()
    };
    Err(PaperError::Nothing(why))
}

fn lay_so(
    study: &Study,
    choices: &Choices,
    parts: &[Part],
    landscape: bool,
) -> Result<Paper, PaperError> {
    let frame = Frame::new(study, choices, landscape)?;
    if !(OVERLAPS.0..=OVERLAPS.1).contains(&choices.overlap) {
        return Err(PaperError::Overlap(choices.overlap));
    }
    let area = frame.area();
    let roll = matches!(choices.sheet, Sheet::Roll { .. });
    let mut blocks = Vec::new();
    let mut tiled = Vec::new();
    for part in parts {
        let whole = block::whole(part, study, choices, area.width());
        if whole.width <= area.width() + 1e-9 && whole.height <= area.height() + 1e-9 {
            blocks.push(whole);
            continue;
        }
        if roll {
            return Err(PaperError::Roll {
                part: part.name,
                found: whole.height,
                room: area.height(),
                sheet: choices.sheet.name(),
            });
        }
        let (tiles, tiling) = block::tiles(part, study, choices, (area.width(), area.height()));
        blocks.extend(tiles);
        tiled.push(tiling);
    }
    let list = overview::list(parts, &tiled);
    let first = overview::size(&list, area.width());
    if first.1 > area.height() {
        return Err(frame.no_room());
    }
    let room = if roll {
        // as short a piece of the roll as holds everything
        pack::shortest(first, &blocks, (area.width(), area.height()))
    } else {
        (area.width(), area.height())
    };
    let places = pack::pack(first, &blocks, room);
    let count = places.iter().map(|place| place.page + 1).max().unwrap_or(1);
    let length = roll.then(|| {
        let ends = blocks.iter().zip(&places).map(|(block, place)| place.at.x + block.width);
        ends.fold(first.0, f64::max) + area.x0
    });
    let frame = frame.cut_to(length);
    let mut pages: Vec<Page> = (0..count).map(|_| frame.page()).collect();
    let mut seen: Vec<(PartKind, Option<String>, usize)> = Vec::new();
    for (block, place) in blocks.into_iter().zip(&places) {
        let at = Point::new(area.x0, area.y0) + place.at.to_vec2();
        if let Some((kind, tile)) = &block.holds {
            seen.push((*kind, tile.clone(), place.page));
        }
        block.put(at, &mut pages[place.page]);
    }
    let overview = overview::block(study, choices, &list, &seen, (first, count, landscape));
    overview.put(Point::new(area.x0, area.y1 - first.1), &mut pages[0]);
    for (number, page) in pages.iter_mut().enumerate() {
        page.label = match page.placed.as_slice() {
            [Placed { kind, tile: Some(tile), .. }] if number > 0 => {
                format!("{} {tile}", kind.name())
            }
            _ => (number + 1).to_string(),
        };
        frame.furnish(page, number + 1, count);
    }
    Ok(Paper {
        title: format!("{}, full size", study.design.name.trim()),
        date: choices.date,
        pages,
        tiled,
    })
}
