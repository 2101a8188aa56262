//! A layer as the paths and words that it consists of, in their places on the page: the same
//! for a printer and for the preview on a screen.

use kurbo::{Affine, BezPath, Rect, Shape as _};

use crate::annotation::{annotation, words_box};
use crate::font::{CAPITAL, Fonts, base_line};
use crate::look::{Look, Pen};
use crate::paper::{Layer, Ply};
use crate::scene::{Anchor, Item, Line};

/// What words in a drawing stand on.
const BLANK: &str = "#ffffff";

/// A path or some words, in true mm of the page, Y up.
#[derive(Clone, Debug)]
pub enum Ink {
    /// A path to fill, to draw, or both.
    Path {
        /// The path.
        path: BezPath,
        /// With what it is filled, `#rrggbb`.
        fill: Option<&'static str>,
        /// With what it is drawn.
        pen: Option<Pen>,
    },
    /// A line of words.
    Words(Words),
}

/// A line of words in its place.
#[derive(Clone, Debug)]
pub struct Words {
    /// The words.
    pub text: String,
    /// Size of the lettering, mm.
    pub size: f64,
    /// Width of the words, mm.
    pub width: f64,
    /// From words whose base line starts at 0 and runs to the right, to the page.
    pub place: Affine,
    /// Their colour, `#rrggbb`.
    pub colour: &'static str,
}

/// Hands over everything of a layer that its window shows, from the back to the front. What
/// reaches over the window's edge is handed over whole.
pub fn each(layer: &Layer, mut put: impl FnMut(Ink)) {
    let fonts = Fonts::bundled();
    each_in(layer, &fonts, &mut put);
}

/// The same, with the letters at hand.
pub(crate) fn each_in(layer: &Layer, fonts: &Fonts, put: &mut dyn FnMut(Ink)) {
    let look = &*layer.look;
    // what lies outside the window need not be drawn
    let seen =
        layer.window.map(|window| layer.at.inverse().transform_rect_bbox(window).inflate(1.0, 1.0));
    for shape in &layer.scene.shapes {
        if seen.is_some_and(|seen| !ink_box(&shape.item, look).overlaps(seen)) {
            continue;
        }
        let mut path = |path: &BezPath, fill, pen| {
            put(Ink::Path { path: layer.at * path, fill, pen });
        };
        match &shape.item {
            Item::Area { path: outline, material, edge } => {
                let fill = look.fills.map(|fills| fills.of(*material));
                path(outline, fill, Some(look.pen(*edge)));
            }
            Item::Stroke { path: line, line: meaning } => {
                path(line, None, Some(look.pen(*meaning)))
            }
            Item::Text { at, anchor, text } => {
                words(layer, fonts, Affine::translate(at.to_vec2()), *anchor, text, put);
            }
            item => {
                let Some(note) = annotation(item, look) else { continue };
                for line in &note.lines {
                    path(line, None, Some(look.pen(Line::Thin)));
                }
                for arrow in &note.arrows {
                    path(arrow, Some(look.ink), None);
                }
                let place = Affine::translate(note.at.to_vec2()) * Affine::rotate(note.turn);
                words(layer, fonts, place, note.anchor, &note.text, put);
            }
        }
    }
}

/// Words at a place. In the drawing they stand on a blank field, so that lines do not cross
/// them.
fn words(
    layer: &Layer,
    fonts: &Fonts,
    place: Affine,
    anchor: Anchor,
    text: &str,
    put: &mut dyn FnMut(Ink),
) {
    let size = layer.look.lettering;
    let width = fonts.width(text, size);
    let place = layer.at * place * Affine::translate(base_line(anchor, width, size).to_vec2());
    if layer.ply == Ply::Dimensions {
        let edge = 0.12 * size;
        let room = Rect::new(0.0, 0.0, width, CAPITAL * size).inflate(edge, edge);
        put(Ink::Path { path: place * room.to_path(1.0), fill: Some(BLANK), pen: None });
    }
    let colour = layer.look.ink;
    put(Ink::Words(Words { text: text.to_owned(), size, width, place, colour }));
}

/// The box around the ink of an item.
pub(crate) fn ink_box(item: &Item, look: &Look) -> Rect {
    match item {
        Item::Area { path, .. } | Item::Stroke { path, .. } => path.bounding_box(),
        Item::Text { at, anchor, text } => words_box(*at, *anchor, 0.0, text, look),
        _ => annotation(item, look).map_or(Rect::ZERO, |ink| ink.extent(look)),
    }
}
