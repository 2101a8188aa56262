//! What stands on every page: check bars in both directions, words of caution, the page's
//! number, the printer's correction.

use kurbo::{Affine, Point, Rect, Vec2};
use overstand_core::study::Study;
use overstand_core::units::show_number;
use overstand_core::verdict::Word;

use super::words::{Ink, LEADING, PLAIN, SMALL, fit, wrap};
use super::{Choices, LEAST, Page, PaperError, Ply};
use crate::font::Fonts;
use crate::scene::{Anchor, Line};

/// Room at the left for the bars that stand, mm.
const LEFT: f64 = 17.0;
/// Room at the top for the page's line, mm.
const HEAD: f64 = 9.5;
/// Room at the bottom for the bars that lie, mm.
const BARS: f64 = 17.0;
/// Where words may begin beside the lying bars, and how much room they need there, mm.
const BESIDE: (f64, f64) = (136.0, 45.0);
/// Bars that every page has: length in mm, and what stands at it.
const SHORT: [(f64, &str); 2] = [(100.0, "100 mm"), (101.6, "4 in")];
/// Widest margin, mm.
const WIDEST: f64 = 100.0;

const CAUTION: [&str; 4] = [
    "Measure the bars before cutting.",
    "Print at 100 %, no fit to page.",
    "Never mark frets from joined tiles.",
    "Wet glue swells paper.",
];

/// A page without anything on it yet.
pub(super) struct Frame<'a> {
    choices: &'a Choices,
    design: String,
    /// That nothing is to be cut by it, and why.
    warning: Option<String>,
    fonts: Fonts,
    paper: (f64, f64),
    /// Between the margins, in true mm.
    room: (f64, f64),
    to_paper: Affine,
    caution: Vec<String>,
}

impl<'a> Frame<'a> {
    pub(super) fn new(
        study: &Study,
        choices: &'a Choices,
        landscape: bool,
    ) -> Result<Self, PaperError> {
        let paper = choices.sheet.size(landscape);
        let margins = choices.margins;
        for margin in [margins.left, margins.top, margins.right, margins.bottom] {
            if !(0.0..=WIDEST).contains(&margin) {
                return Err(PaperError::Margin(margin));
            }
        }
        let (across, up) = choices
            .correction
            .map_or((1.0, 1.0), |correction| (correction.across.factor(), correction.up.factor()));
        let room = (
            (paper.0 - margins.left - margins.right) / across,
            (paper.1 - margins.top - margins.bottom) / up,
        );
        let to_paper = Affine::translate((margins.left, margins.bottom))
            * Affine::scale_non_uniform(across, up);
        let fonts = Fonts::bundled();
        let mut frame = Self {
            choices,
            design: study.design.name.trim().to_owned(),
            warning: match study.word() {
                word @ (Word::Fails | Word::DoesNotClose) => {
                    Some(format!("{}: do not cut yet · ", word.show()))
                }
                Word::Plays | Word::PlaysThin => None,
            },
            fonts,
            paper,
            room,
            to_paper,
            caution: Vec::new(),
        };
        // either way round will do
        let (short, long) = (room.0.min(room.1), room.0.max(room.1));
        if short < LEAST.0 || long < LEAST.1 {
            return Err(frame.no_room());
        }
        frame.caution = frame.caution_lines();
        Ok(frame)
    }

    /// That there is too little room between the margins.
    pub(super) fn no_room(&self) -> PaperError {
        let (width, height) = self.room;
        PaperError::NoRoom { sheet: self.choices.sheet.name(), width, height }
    }

    fn beside(&self) -> bool {
        self.room.0 >= BESIDE.0 + BESIDE.1
    }

    fn caution_lines(&self) -> Vec<String> {
        if self.beside() {
            let room = (self.room.0 - BESIDE.0).min(120.0);
            CAUTION.iter().flat_map(|words| wrap(&self.fonts, words, SMALL, room)).collect()
        } else {
            wrap(&self.fonts, &CAUTION.join(" "), SMALL, self.room.0 - LEFT)
        }
    }

    /// Room at the bottom for bars and words.
    fn foot(&self) -> f64 {
        let words = LEADING * SMALL * self.caution.len() as f64;
        if self.beside() { BARS.max(words + 4.0) } else { BARS + words }
    }

    /// Where the drawing goes.
    pub(super) fn area(&self) -> Rect {
        Rect::new(LEFT, self.foot(), self.room.0, self.room.1 - HEAD)
    }

    /// The same with the roll cut off where the drawing ends.
    pub(super) fn cut_to(mut self, length: Option<f64>) -> Self {
        if let Some(length) = length {
            let [across, ..] = self.to_paper.as_coeffs();
            let margins = self.choices.margins;
            // long enough for bars and words
            self.room.0 = length.max(BESIDE.0 + 130.0).min(self.room.0);
            // a whole millimetre of paper
            self.paper.0 = (self.room.0 * across + margins.left + margins.right).ceil();
        }
        self
    }

    pub(super) fn page(&self) -> Page {
        Page {
            label: String::new(),
            width: self.paper.0,
            height: self.paper.1,
            to_paper: self.to_paper,
            room: self.room,
            layers: Vec::new(),
            placed: Vec::new(),
        }
    }

    /// Adds bars and words to a page.
    pub(super) fn furnish(&self, page: &mut Page, number: usize, count: usize) {
        let mut ink = Ink::new(self.choices);
        self.bars(&mut ink);
        self.words(&mut ink, number, count);
        page.layers.extend(ink.layers());
    }

    fn bars(&self, ink: &mut Ink<'_>) {
        let (x, y) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
        let corner = Point::new(1.2, 1.2);
        for (along, side, room) in [(x, y, self.room.0), (y, x, self.room.1)] {
            let longest = 10.0 * ((room - 2.4) / 10.0).floor();
            self.bar(ink, corner, along, side, longest);
            // a tick every 10 mm, longer every 50
            for ten in 1..(longest / 10.0) as usize {
                let at = corner + along * (10.0 * ten as f64);
                let tick = if ten % 5 == 0 { 1.2 } else { 0.7 };
                ink.line(Ply::Bars, Line::Thin, [at, at + side * tick]);
            }
            let label = format!("{} mm", show_number(longest, 0));
            let lies = along.x > 0.0;
            let near_end = corner + along * (longest - 1.5) + side * 2.0;
            let (at, anchor) = if lies {
                (near_end + y * 0.6, Anchor::Right)
            } else {
                (near_end - y * 0.6, Anchor::Left)
            };
            ink.words(Ply::Bars, SMALL, at, anchor, label);
            for (index, (length, label)) in SHORT.into_iter().enumerate() {
                let off = 6.6 + 6.0 * index as f64;
                let start = corner + along * 17.0 + side * off;
                self.bar(ink, start, along, side, length);
                let (at, anchor) = if lies {
                    (start + along * (length + 1.8), Anchor::Left)
                } else {
                    // the two stand too close for one level
                    // and the outer one would come near to the drawing
                    let up = along * (length + 2.4 + 3.0 * index as f64);
                    (start + up - side * index as f64, Anchor::Below)
                };
                ink.words(Ply::Bars, SMALL, at, anchor, label);
            }
        }
    }

    /// A line with a tick square to it at each end.
    fn bar(&self, ink: &mut Ink<'_>, start: Point, along: Vec2, side: Vec2, length: f64) {
        let end = start + along * length;
        ink.line(Ply::Bars, Line::Visible, [start, end]);
        for at in [start, end] {
            ink.line(Ply::Bars, Line::Thin, [at - side * 1.2, at + side * 1.8]);
        }
    }

    fn words(&self, ink: &mut Ink<'_>, number: usize, count: usize) {
        let foot = self.foot();
        let top = if self.beside() {
            Point::new(BESIDE.0, foot - 2.0)
        } else {
            Point::new(LEFT, foot - 1.0)
        };
        ink.lines(SMALL, top, self.caution.iter().cloned());

        let level = self.room.1 - 0.5 * PLAIN - 0.5;
        let page = format!("sheet {number} of {count}");
        let (left, right) = (Point::new(LEFT, level), Point::new(self.room.0, level));
        ink.words(Ply::Words, PLAIN, right, Anchor::Right, page);
        // it comes first: a long name is cut off
        let warning = self.warning.as_deref().unwrap_or_default();
        let name = format!("{warning}{} · {} · 1:1", self.design, self.choices.date);
        let name = fit(&self.fonts, &name, PLAIN, self.room.0 - LEFT - 38.0);
        ink.words(Ply::Words, PLAIN, left, Anchor::Left, name);
        let below = Point::new(LEFT, level - LEADING * PLAIN + 0.3);
        let longest = self.room.0.max(self.room.1);
        let says = self.choices.correction.map_or_else(
            || "Printer not corrected: if a bar is off, type what the bars measure.".to_owned(),
            |correction| correction.says(longest),
        );
        let says = fit(&self.fonts, &says, SMALL, self.room.0 - LEFT);
        ink.words(Ply::Words, SMALL, below, Anchor::Left, says);
    }
}
