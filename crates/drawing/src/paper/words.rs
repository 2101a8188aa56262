//! Scenes of lines and words in several sizes, collected by ply and lettering.

use std::sync::Arc;

use kurbo::{Affine, BezPath, Point};
use overstand_core::units::unbroken;

use super::{Choices, Layer, Ply};
use crate::font::Fonts;
use crate::look::Look;
use crate::outline::{polygon, polyline};
use crate::scene::{Anchor, Item, Line, Scene};

/// Heights of capitals, mm (ISO 3098).
pub(super) const SMALL: f64 = 1.8;
pub(super) const PLAIN: f64 = 2.5;
pub(super) const LARGE: f64 = 3.5;
pub(super) const TITLE: f64 = 5.0;

/// From one line of words to the next, in heights of their capitals.
pub(super) const LEADING: f64 = 1.75;

/// How things look at full size.
pub(super) fn look(choices: &Choices, capitals: f64) -> Look {
    let mut look = Look { lengths: choices.lengths, ..Look::full_size(capitals) };
    if choices.tinted {
        look.fills = Look::paper().fills;
    }
    look
}

/// Ink in the making.
pub(super) struct Ink<'a> {
    choices: &'a Choices,
    sheets: Vec<(Ply, f64, Scene)>,
}

impl<'a> Ink<'a> {
    pub(super) fn new(choices: &'a Choices) -> Self {
        Self { choices, sheets: Vec::new() }
    }

    fn add(&mut self, ply: Ply, capitals: f64, item: Item) {
        let at = self.sheets.iter().position(|one| (one.0, one.1) == (ply, capitals));
        let at = at.unwrap_or_else(|| {
            self.sheets.push((ply, capitals, Scene::default()));
            self.sheets.len() - 1
        });
        self.sheets[at].2.add(None, item);
    }

    pub(super) fn line(&mut self, ply: Ply, line: Line, points: impl IntoIterator<Item = Point>) {
        self.path(ply, line, polyline(points));
    }

    pub(super) fn path(&mut self, ply: Ply, line: Line, path: BezPath) {
        self.add(ply, PLAIN, Item::Stroke { path, line });
    }

    pub(super) fn rect(&mut self, ply: Ply, line: Line, low: Point, high: Point) {
        let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
        self.path(ply, line, polygon(corners));
    }

    pub(super) fn words(
        &mut self,
        ply: Ply,
        capitals: f64,
        at: Point,
        anchor: Anchor,
        text: impl Into<String>,
    ) {
        self.add(ply, capitals, Item::Text { at, anchor, text: text.into() });
    }

    /// Lines of words below each other, the first line's capitals ending at `top`. Returns
    /// where the next line would begin.
    pub(super) fn lines(
        &mut self,
        capitals: f64,
        top: Point,
        lines: impl IntoIterator<Item = String>,
    ) -> f64 {
        let mut y = top.y;
        for text in lines {
            let at = Point::new(top.x, y - 0.5 * capitals);
            self.words(Ply::Words, capitals, at, Anchor::Left, text);
            y -= LEADING * capitals;
        }
        y
    }

    pub(super) fn layers(self) -> Vec<Layer> {
        let choices = self.choices;
        self.sheets
            .into_iter()
            .map(|(ply, capitals, scene)| Layer {
                ply,
                scene: Arc::new(scene),
                look: Arc::new(look(choices, capitals)),
                at: Affine::IDENTITY,
                window: None,
            })
            .collect()
    }
}

/// Width of some words whose capitals are so high.
pub(super) fn width(fonts: &Fonts, text: &str, capitals: f64) -> f64 {
    fonts.width(text, capitals / crate::font::CAPITAL)
}

/// Breaks words into lines no wider than `room`; a word that is wider stands alone. A space
/// that must not be broken at is a plain one in the lines.
pub(super) fn wrap(fonts: &Fonts, text: &str, capitals: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in unbroken(text).split(' ').filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if width(fonts, &format!("{line} {word}"), capitals) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.into_iter().map(|line| line.replace('\u{a0}', " ")).collect()
}

/// Cuts words off so that they are no wider than `room`.
pub(super) fn fit(fonts: &Fonts, text: &str, capitals: f64, room: f64) -> String {
    if width(fonts, text, capitals) <= room {
        return text.to_owned();
    }
    let mut short = text.to_owned();
    while short.pop().is_some() && width(fonts, &format!("{short}…"), capitals) > room {}
    format!("{}…", short.trim_end())
}
