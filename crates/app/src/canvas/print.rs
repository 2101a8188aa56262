//! Sheets of paper on the screen: the very layers that a printer gets, with the looks that
//! they have there.

use std::sync::Arc;

use egui::emath::TSTransform;
use egui::epaint::{PathShape, PathStroke, TextShape};
use egui::{Color32, FontFamily, FontId, Painter, Pos2, Rect, Shape, Stroke, vec2};
use kurbo::{Affine, Point};
use overstand_drawing::ink::{self, Ink, Words};
use overstand_drawing::look;
use overstand_drawing::paper::Layer;

use super::paint::{dashes, filled, lines};
use super::transform::Transform;
use crate::theme::{self, size, space, stroke};

/// Shapes that are seen through a window of the screen.
type Seen = (Rect, Vec<Shape>);

/// A drawing that is ready to be put on the screen, again and again while nothing changes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Print {
    seen: Vec<Seen>,
}

impl Print {
    /// The layers of a page, of which `to_page` says where its true millimetres lie. Only
    /// what is in sight is made.
    pub(crate) fn of<'a>(
        painter: &Painter,
        layers: impl IntoIterator<Item = &'a Layer>,
        to_page: Affine,
        transform: Transform,
        sight: Rect,
    ) -> Self {
        let mut seen = Vec::new();
        for layer in layers {
            let window = layer.window.map_or(sight, |window| {
                let window = to_page.transform_rect_bbox(window);
                let corners = [window.origin(), Point::new(window.x1, window.y1)];
                let [low, high] = corners.map(|corner| transform.to_screen(corner));
                Rect::from_two_pos(low, high).intersect(sight)
            });
            if !window.is_positive() {
                continue;
            }
            let mut hand = Hand { painter, to_page, transform, sight: window, shapes: Vec::new() };
            ink::each(layer, |ink| hand.ink(ink));
            seen.push((window, hand.shapes));
        }
        Self { seen }
    }

    /// Puts it on the screen, moved by so much.
    pub(crate) fn show(&self, painter: &Painter, by: egui::Vec2) {
        for (window, shapes) in &self.seen {
            let painter =
                painter.with_clip_rect(window.translate(by).intersect(painter.clip_rect()));
            painter.extend(shapes.iter().map(|shape| {
                let mut shape = shape.clone();
                if by != egui::Vec2::ZERO {
                    shape.translate(by);
                }
                shape
            }));
        }
    }
}

struct Hand<'a> {
    painter: &'a Painter,
    to_page: Affine,
    transform: Transform,
    sight: Rect,
    shapes: Vec<Shape>,
}

impl Hand<'_> {
    fn ink(&mut self, ink: Ink) {
        match ink {
            Ink::Path { path, fill, pen } => {
                let closed = matches!(path.elements().last(), Some(kurbo::PathEl::ClosePath));
                for points in lines(&(self.to_page * path), self.transform) {
                    let around = Rect::from_points(&points).expand(space::S);
                    if !around.intersects(self.sight) {
                        continue;
                    }
                    if let Some(fill) = fill {
                        self.shapes.push(filled(&points, colour(fill)).into());
                    }
                    if let Some(pen) = &pen {
                        self.line(points, pen, closed);
                    }
                }
            }
            Ink::Words(words) => self.words(&words),
        }
    }

    fn line(&mut self, mut points: Vec<Pos2>, pen: &look::Pen, closed: bool) {
        if closed && let Some(&first) = points.first() {
            points.push(first);
        }
        let zoom = self.transform.zoom as f32;
        let width = (pen.width as f32 * zoom).max(stroke::FINEST);
        let line = Stroke::new(width, colour(pen.colour));
        let pattern: Vec<f32> = pen.dashes.iter().map(|&part| part as f32 * zoom).collect();
        // from afar a dash is smaller than what the screen can show
        let shortest = pattern.first().copied().unwrap_or_default();
        if shortest < stroke::HIDDEN[1] {
            let faint = if pattern.is_empty() { 1.0 } else { 0.6 };
            let stroke = PathStroke::new(width, line.color.gamma_multiply(faint));
            self.shapes.push(PathShape::line(points, stroke).into());
        } else {
            let sight = self.sight.expand(space::HIT);
            let shapes = &mut self.shapes;
            dashes(&points, line, &pattern, sight, &mut |made| shapes.extend(made));
        }
    }

    /// Words at their true size; a bar in their place where they are too small to be read.
    fn words(&mut self, words: &Words) {
        let place = self.to_page * words.place;
        let corners = [Point::ZERO, Point::new(words.width, 0.0)];
        let [start, end] = corners.map(|corner| self.transform.to_screen(place * corner));
        let high = (words.size * self.transform.zoom) as f32;
        let around = Rect::from_two_pos(start, end).expand(high);
        if words.text.trim().is_empty() || !around.intersects(self.sight) {
            return;
        }
        let ink = colour(words.colour);
        let along = end - start;
        if high * self.painter.pixels_per_point() < size::LEAST {
            let up = vec2(along.y, -along.x).normalized() * (0.35 * high);
            let bar = Stroke::new(0.4 * high, ink.gamma_multiply(0.45));
            self.shapes.push(Shape::line_segment([start + up, end + up], bar));
            return;
        }
        // set in one of a few sizes and brought to the true one, so that zooming does not
        // call for letters in ever new sizes
        let step = (high.ln() / STEP.ln()).ceil();
        let font = FontId::new(STEP.powf(step).min(size::LARGEST), FontFamily::Proportional);
        let galley = self.painter.layout_no_wrap(words.text.clone(), font, ink);
        let Some(row) = galley.rows.first() else { return };
        let base = row.pos.y + row.row.glyphs.first().map_or(0.0, |glyph| glyph.pos.y);
        let scale = along.length() / galley.size().x.max(1.0);
        let mut text = TextShape::new(Pos2::ZERO, Arc::clone(&galley), ink);
        text.transform(TSTransform::from_scaling(scale));
        let turn = along.angle();
        text.pos = start - egui::emath::Rot2::from_angle(turn) * vec2(0.0, base * scale);
        self.shapes.push(text.with_angle(turn).into());
    }
}

/// From one size of letters to the next.
const STEP: f32 = 1.25;

/// A colour written `#rrggbb`.
fn colour(written: &str) -> Color32 {
    Color32::from_hex(written).unwrap_or(theme::SHEET_INK)
}
