//! How the map is painted: hatch, dots and plain ground, lines, names, ellipse and cloud.

use egui::{
    Align2, Label, Mesh, Painter, Pos2, Rect, RichText, Sense, Shape, Stroke, Ui, pos2, vec2,
};
use egui_plot::{PlotPoint, PlotTransform};
use overstand_core::risk::{Around, Map};
use overstand_core::verdict::State;

use super::regions::Regions;
use crate::marks;
use crate::theme::{self, Palette, space, stroke};

/// Points of the ellipse.
const ELLIPSE: usize = 72;
/// How much of its colour a region has.
const TINT: f32 = 0.16;
/// Distance of the hatch, and of the dots of a thin region, in logical pixels.
const HATCH: f32 = 9.0;
const DOTS: f32 = 11.0;

/// Hatch where it fails, dots where it is thin, plain where it is good.
pub(super) fn regions(
    painter: &Painter,
    palette: &Palette,
    regions: &Regions,
    transform: &PlotTransform,
) {
    let frame = *transform.frame();
    let tint = |state| palette.paper.lerp_to_gamma(palette.state(state), TINT);
    painter.rect_filled(frame, 0.0, tint(State::Fails));
    hatch(painter, frame, palette);
    let to_screen = |(x, y): (f64, f64)| transform.position_from_point(&PlotPoint::new(x, y));
    let mut mesh = Mesh::default();
    let mut fill = |pieces: &[Vec<(f64, f64)>], colour| {
        for piece in pieces {
            let first = mesh.vertices.len() as u32;
            for &corner in piece {
                mesh.colored_vertex(to_screen(corner), colour);
            }
            for corner in 2..piece.len() as u32 {
                mesh.add_triangle(first, first + corner - 1, first + corner);
            }
        }
    };
    fill(regions.plays.pieces(), tint(State::Thin));
    fill(regions.good.pieces(), tint(State::Good));
    painter.add(Shape::mesh(mesh));
    let dot = palette.state(State::Thin).gamma_multiply(0.7);
    let (columns, rows) = ((frame.width() / DOTS) as u16, (frame.height() / DOTS) as u16);
    for row in 0..=rows {
        // one row between the dots of the next
        let shift = if row % 2 == 0 { 0.0 } else { DOTS / 2.0 };
        for column in 0..=columns {
            let way = vec2(f32::from(column) * DOTS + shift, f32::from(row) * DOTS);
            let at = frame.left_top() + way;
            let place = transform.value_from_position(at);
            if regions.state_at((place.x, place.y)) == Some(State::Thin) {
                painter.circle_filled(at, 1.0, dot);
            }
        }
    }
}

/// Lines up to the right.
fn hatch(painter: &Painter, rect: Rect, palette: &Palette) {
    let pen = Stroke::new(stroke::THIN, palette.state(State::Fails).gamma_multiply(0.55));
    let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    let count = ((rect.width() + rect.height()) / HATCH) as u16;
    for line in 0..=count {
        let x = rect.left() + f32::from(line) * HATCH;
        painter.line_segment([pos2(x, rect.top()), pos2(x - rect.height(), rect.bottom())], pen);
    }
}

/// Where it just plays, strong; where it begins to be good, thin.
pub(super) fn lines(
    painter: &Painter,
    palette: &Palette,
    map: &Map,
    to_screen: &impl Fn((f64, f64)) -> Pos2,
) {
    for (lines, width, colour) in
        [(&map.good, stroke::THIN, palette.dim), (&map.plays, stroke::STRONG, palette.ink)]
    {
        let pen = Stroke::new(width, colour);
        for ends in lines {
            painter.line_segment(ends.map(to_screen), pen);
        }
    }
}

/// The name of each region, where it has room and the point does not stand.
pub(super) fn words(
    painter: &Painter,
    palette: &Palette,
    regions: &Regions,
    point: Option<Pos2>,
    to_screen: &impl Fn((f64, f64)) -> Pos2,
) {
    for &(state, at) in &regions.words {
        let text = marks::state_word(state).to_owned();
        let colour = palette.state(state);
        let galley = painter.layout_no_wrap(text, theme::heading(), colour);
        let place = Align2::CENTER_CENTER.anchor_size(to_screen(at), galley.size());
        if point.is_some_and(|point| place.expand(space::XL).contains(point)) {
            continue;
        }
        painter.rect_filled(place.expand(space::S), theme::CORNER, palette.paper);
        painter.galley(place.min, galley, colour);
    }
}

/// The ellipse that holds 95 % of what is made, and pieces as they may come out.
pub(super) fn spread(
    painter: &Painter,
    palette: &Palette,
    around: &Around,
    to_screen: &impl Fn((f64, f64)) -> Pos2,
) {
    for one in &around.cloud {
        let at = to_screen((one.across, one.up));
        piece(painter, at, one.state, palette);
    }
    let ellipse: Vec<Pos2> = around.ellipse(ELLIPSE).into_iter().map(to_screen).collect();
    painter.add(Shape::line(ellipse.clone(), Stroke::new(stroke::HALO, palette.paper)));
    painter.add(Shape::line(ellipse, Stroke::new(stroke::STRING, palette.ink)));
}

/// One piece of the cloud: a dot where it plays well, a triangle where thin, a cross where it
/// fails.
fn piece(painter: &Painter, at: Pos2, state: State, palette: &Palette) {
    let colour = palette.state(state);
    match state {
        State::Good => {
            painter.circle_filled(at, 1.6, colour);
        }
        State::Thin => {
            let corners = [(0.0, -2.4), (2.4, 1.8), (-2.4, 1.8)].map(|(x, y)| at + vec2(x, y));
            painter.add(Shape::convex_polygon(corners.to_vec(), colour, Stroke::NONE));
        }
        State::Fails => {
            let pen = Stroke::new(stroke::VISIBLE, colour);
            for y in [-2.0, 2.0] {
                painter.line_segment([at + vec2(-2.0, -y), at + vec2(2.0, y)], pen);
            }
        }
    }
}

/// What the map's patterns mean.
pub(super) fn legend(ui: &mut Ui) {
    let palette = theme::palette(ui);
    let tint = |state| palette.paper.lerp_to_gamma(palette.state(state), TINT);
    let entry = |ui: &mut Ui, text: &str, paint: &dyn Fn(&Painter, Rect)| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = space::M;
            let (rect, _) = ui.allocate_exact_size(vec2(space::FIT, space::XL), Sense::hover());
            paint(&ui.painter().with_clip_rect(rect), rect);
            ui.add(Label::new(RichText::new(text).font(theme::label())).wrap().selectable(false));
        });
    };
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.spacing_mut().interact_size.y = space::XL;
        entry(ui, "good: every check", &|painter, rect| {
            painter.rect_filled(rect, 0.0, tint(State::Good));
        });
        entry(ui, "thin: it plays, with little to spare", &|painter, rect| {
            painter.rect_filled(rect, 0.0, tint(State::Thin));
            for (x, y) in [(0.2, 0.3), (0.5, 0.3), (0.8, 0.3), (0.35, 0.7), (0.65, 0.7)] {
                let at = rect.min + rect.size() * vec2(x, y);
                painter.circle_filled(at, 1.0, palette.state(State::Thin));
            }
        });
        entry(ui, "fails, or does not close", &|painter, rect| {
            painter.rect_filled(rect, 0.0, tint(State::Fails));
            hatch(painter, rect, palette);
        });
        entry(
            ui,
            "thick line: it just plays; thin line: it begins to be good",
            &|painter, rect| {
                let at = |part: f32| rect.top() + part * rect.height();
                let pen = Stroke::new(stroke::STRONG, palette.ink);
                painter.hline(rect.x_range(), at(0.3), pen);
                painter.hline(rect.x_range(), at(0.75), Stroke::new(stroke::THIN, palette.dim));
            },
        );
        entry(ui, "95 % of what is made lies within", &|painter, rect| {
            let middle = rect.center();
            let ring = egui::epaint::EllipseShape::stroke(
                middle,
                vec2(rect.width() * 0.45, rect.height() * 0.35),
                Stroke::new(stroke::STRING, palette.ink),
            );
            painter.add(ring);
        });
        entry(ui, "pieces as they may come out: good, thin, failing", &|painter, rect| {
            for (part, state) in [(0.2, State::Good), (0.5, State::Thin), (0.8, State::Fails)] {
                let at = pos2(rect.left() + part * rect.width(), rect.center().y);
                piece(painter, at, state, palette);
            }
        });
    });
}
