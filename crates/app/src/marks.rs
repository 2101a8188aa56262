//! Marks that are drawn, not written: their meaning does not hang on a colour.

use egui::{
    Color32, Painter, Pos2, Rect, Response, Role, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo,
};
use egui::{pos2, vec2};
use overstand_core::design::{Provenance, Spread};
use overstand_core::units::LengthStyle;
use overstand_core::verdict::State;

use crate::panels::tips;
use crate::theme::{self, space, stroke};
use crate::values;

/// Tick for good, triangle for thin, cross for failing.
pub(crate) fn state(painter: &Painter, at: Pos2, state: State, colour: Color32) {
    sized_state(painter, at, state, 1.0, Stroke::new(stroke::STRONG, colour));
}

/// The same smaller, where many stand together.
pub(crate) fn small_state(painter: &Painter, at: Pos2, state: State, colour: Color32) {
    sized_state(painter, at, state, 0.55, Stroke::new(stroke::STRING, colour));
}

fn sized_state(painter: &Painter, at: Pos2, state: State, size: f32, pen: Stroke) {
    let point = |x: f32, y: f32| at + size * vec2(x, y);
    match state {
        State::Good => {
            painter.line(vec![point(-4.5, 0.0), point(-1.5, 3.5), point(4.5, -4.0)], pen);
        }
        State::Thin => {
            let corners = vec![point(0.0, -5.0), point(5.5, 4.5), point(-5.5, 4.5)];
            painter.add(Shape::closed_line(corners, pen));
        }
        State::Fails => {
            painter.line_segment([point(-4.0, -4.0), point(4.0, 4.0)], pen);
            painter.line_segment([point(-4.0, 4.0), point(4.0, -4.0)], pen);
        }
    }
}

/// What a state is called beside its mark, for those who do not see it.
pub(crate) fn state_word(state: State) -> &'static str {
    match state {
        State::Good => "good",
        State::Thin => "thin",
        State::Fails => "fails",
    }
}

/// A filled dot for held, a ring for found, and for a result nothing, unless it is
/// pointed at.
pub(crate) fn pin(painter: &Painter, at: Pos2, palette: &theme::Palette, pinned: Pinned) {
    let radius = space::S;
    match pinned {
        Pinned::Held => painter.circle_filled(at, radius, palette.ink),
        Pinned::Found => {
            painter.circle_stroke(at, radius, Stroke::new(stroke::STRONG, palette.accent))
        }
        Pinned::Result => painter.circle_stroke(at, radius, Stroke::new(stroke::THIN, palette.dim)),
    };
}

/// What a pin shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pinned {
    Held,
    Found,
    Result,
}

/// How far a dimension has come: nothing while planned, an outlined square when made, a
/// filled one when measured.
pub(crate) fn provenance(painter: &Painter, at: Pos2, mark: &Provenance, colour: Color32) {
    let square = Rect::from_center_size(at, Vec2::splat(space::M));
    let pen = Stroke::new(stroke::VISIBLE, colour);
    match mark {
        Provenance::Planned => {
            let dots = [-3.0, 0.0, 3.0].map(|x| at + vec2(x, 0.0));
            for dot in dots {
                painter.circle_filled(dot, 1.0, colour);
            }
        }
        Provenance::Made => {
            painter.rect_stroke(square, 1.0, pen, egui::StrokeKind::Inside);
        }
        Provenance::Measured { .. } => {
            painter.rect_filled(square, 1.0, colour);
        }
    }
}

/// How far a dimension has come, in words.
pub(crate) fn provenance_words(
    mark: &Provenance,
    unit: overstand_core::units::Unit,
    style: LengthStyle,
) -> String {
    match mark {
        Provenance::Planned => "planned".to_owned(),
        Provenance::Made => "made".to_owned(),
        Provenance::Measured { on, error } => {
            format!("measured {on}, ± {}", values::show(*error, unit, 2, style))
        }
    }
}

/// A row of tabs, the one that is shown underlined. Returns the one that was chosen.
pub(crate) fn tabs<T: Copy + PartialEq>(
    ui: &mut Ui,
    all: &[T],
    name: impl Fn(T) -> &'static str,
    shown: T,
) -> Option<T> {
    let palette = theme::palette(ui);
    let mut chosen = None;
    ui.horizontal(|ui| {
        for &one in all {
            let (name, is_shown) = (name(one), one == shown);
            let font = if is_shown { theme::strong() } else { theme::text() };
            // as wide as in bold, so that nothing moves when it is chosen
            let wide = ui.painter().layout_no_wrap(name.to_owned(), theme::strong(), palette.ink);
            let size = vec2(wide.size().x + space::M, space::HIT);
            let (rect, response) = ui.allocate_exact_size(size, Sense::click());
            response.widget_info(|| WidgetInfo::selected(Role::Tab, true, is_shown, name));
            let colour = if is_shown || response.hovered() { palette.ink } else { palette.dim };
            let middle = rect.left_center();
            ui.painter().text(middle, egui::Align2::LEFT_CENTER, name, font, colour);
            if is_shown {
                let line = egui::Rangef::new(rect.left(), rect.left() + wide.size().x);
                ui.painter().hline(line, rect.bottom(), Stroke::new(stroke::STRONG, palette.ink));
            }
            focus_ring(ui, &response);
            if response.clicked() {
                chosen = Some(one);
            }
            tips::on_hover(response, name);
        }
    });
    chosen
}

/// How an error lies within its ±: level, a roof, a bell.
pub(crate) fn spread(painter: &Painter, at: Pos2, spread: Spread, colour: Color32) {
    let pen = Stroke::new(stroke::STRING, colour);
    let point = |x: f32, y: f32| at + vec2(x, y);
    let line = match spread {
        Spread::Rectangular => {
            vec![point(-7.0, 4.0), point(-7.0, -4.0), point(7.0, -4.0), point(7.0, 4.0)]
        }
        Spread::Triangular => vec![point(-7.0, 4.0), point(0.0, -5.0), point(7.0, 4.0)],
        Spread::Normal => (-8..=8_i8)
            .map(|step| {
                let x = f32::from(step);
                point(x, 4.0 - 9.0 * (-x * x / 14.0).exp())
            })
            .collect(),
    };
    painter.line(line, pen);
}

/// A small triangle that points down when open, right when folded.
pub(crate) fn fold(painter: &Painter, at: Pos2, is_open: bool, colour: Color32) {
    let points = if is_open {
        vec![at + vec2(-4.0, -2.0), at + vec2(4.0, -2.0), at + vec2(0.0, 3.0)]
    } else {
        vec![at + vec2(-2.0, -4.0), at + vec2(3.0, 0.0), at + vec2(-2.0, 4.0)]
    };
    painter.add(Shape::convex_polygon(points, colour, Stroke::NONE));
}

/// A button that looks like a link: underlined words.
pub(crate) fn link(ui: &mut Ui, text: &str) -> Response {
    let palette = theme::palette(ui);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), theme::text(), palette.ink);
    let size = vec2(galley.size().x, galley.size().y.max(space::HIT));
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, text));
    let at = pos2(rect.left(), rect.center().y - galley.size().y / 2.0);
    let line = at.y + galley.size().y + 1.0;
    let width =
        if response.hovered() || response.has_focus() { stroke::STRONG } else { stroke::THIN };
    ui.painter().galley(at, galley, palette.ink);
    ui.painter().hline(rect.x_range(), line, Stroke::new(width, palette.ink));
    response
}

/// A button that stands out: ink with paper-coloured words.
pub(crate) fn main_button(ui: &mut Ui, text: &str) -> Response {
    let palette = theme::palette(ui);
    let words = egui::RichText::new(text).font(theme::strong()).color(palette.field);
    ui.add(egui::Button::new(words).fill(palette.ink).min_size(vec2(0.0, space::HIT)))
}

/// Shows where the focus is around something that paints itself.
pub(crate) fn focus_ring(ui: &Ui, response: &Response) {
    if response.has_focus() {
        let pen = Stroke::new(stroke::STRONG, theme::palette(ui).ink);
        ui.painter().rect_stroke(response.rect, theme::CORNER, pen, egui::StrokeKind::Inside);
    }
}

/// Four corners: outward to fill, inward to give back.
pub(crate) fn corners(painter: &Painter, at: Pos2, inward: bool, pen: Stroke) {
    let (tip, arm) = if inward { (2.0, 4.0) } else { (6.0, -4.0) };
    for (x, y) in [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)] {
        let corner = at + vec2(x, y) * tip;
        painter.line(vec![corner + vec2(x * arm, 0.0), corner, corner + vec2(0.0, y * arm)], pen);
    }
}
