//! The sheets: all of them in a row, one of them large, and the tiles of a part over its
//! drawing.

use std::sync::Arc;

use egui::{
    Align2, Key as Press, Label, Rect, RichText, ScrollArea, Sense, Shape, Stroke, StrokeKind, Ui,
    Vec2, WidgetInfo, pos2, vec2,
};
use kurbo::{Affine, Point};
use overstand_core::units::LengthStyle;
use overstand_drawing::paper::{Page, Paper, Placed, Tiled};

use super::Desk;
use crate::canvas::print::Print;
use crate::canvas::{self, Pan, Transform};
use crate::marks;
use crate::theme::{self, space, stroke};
use crate::values;
use crate::view::{CanvasId, View};

/// What is shown large.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shown {
    /// A sheet, from 0.
    Sheet(usize),
    /// The tiles of a part, by its place among those that are tiled.
    Assembly(usize),
}

impl Default for Shown {
    fn default() -> Self {
        Self::Sheet(0)
    }
}

/// Sheets that are ready to be put on the screen, as long as nothing changes.
#[derive(Debug, Default)]
pub(super) struct Prints {
    /// Of what was laid out by this count.
    serial: u64,
    /// Pixels to a point of the screen, and the width, for which the small ones were made.
    small_for: (f32, f32),
    small: Vec<Option<Print>>,
    large: Option<(Shown, Rect, Transform, f32, Print)>,
}

/// All there is to show, in the order of the row.
fn all(paper: &Paper) -> Vec<Shown> {
    let assemblies = (0..paper.tiled.len()).map(Shown::Assembly);
    assemblies.chain((0..paper.pages.len()).map(Shown::Sheet)).collect()
}

/// A drawing with its bounds, mm, Y up.
fn bounds(paper: &Paper, shown: Shown) -> Option<kurbo::Rect> {
    match shown {
        Shown::Sheet(index) => {
            let page = paper.pages.get(index)?;
            Some(kurbo::Rect::new(0.0, 0.0, page.width, page.height))
        }
        Shown::Assembly(index) => {
            let tiled = paper.tiled.get(index)?;
            let tiles = tiled.tiling.tiles.iter().map(|tile| tile.window);
            Some(tiles.fold(tiled.bounds, |all, one| all.union(one)))
        }
    }
}

fn print(ui: &Ui, paper: &Paper, shown: Shown, transform: Transform, sight: Rect) -> Print {
    let painter = ui.painter();
    match shown {
        Shown::Sheet(index) => paper.pages.get(index).map_or_else(Print::default, |page| {
            Print::of(painter, &page.layers, page.to_paper, transform, sight)
        }),
        Shown::Assembly(index) => paper.tiled.get(index).map_or_else(Print::default, |tiled| {
            Print::of(painter, &tiled.layers, Affine::IDENTITY, transform, sight)
        }),
    }
}

/// A rectangle of the drawing on the screen.
fn on_screen(transform: Transform, rect: kurbo::Rect) -> Rect {
    let corners = [rect.origin(), Point::new(rect.x1, rect.y1)];
    let [low, high] = corners.map(|corner| transform.to_screen(corner));
    Rect::from_two_pos(low, high)
}

/// What something is called.
fn name(paper: &Paper, shown: Shown) -> String {
    match shown {
        Shown::Sheet(index) => {
            let mut lies = paper.pages.get(index).map(lies).unwrap_or_default();
            // the first one says of all parts where they lie
            let is_overview = index == 0 && paper.pages.iter().any(|page| !page.placed.is_empty());
            if is_overview {
                lies.insert_str(0, if lies.is_empty() { "Overview" } else { "Overview, " });
            }
            let number = format!("Sheet {}", index + 1);
            if lies.is_empty() { number } else { format!("{number}: {lies}") }
        }
        Shown::Assembly(index) => {
            let part = paper.tiled.get(index).map_or("", |tiled| tiled.kind.name());
            format!("Tiles of the {}", part.to_lowercase())
        }
    }
}

/// What it is called under its small picture: a sheet of many parts by their number.
fn caption(paper: &Paper, shown: Shown) -> String {
    match shown {
        Shown::Sheet(index) => match paper.pages.get(index).map(|page| page.placed.len()) {
            Some(parts) if parts > 1 => format!("Sheet {}: {parts} parts", index + 1),
            _ => name(paper, shown),
        },
        Shown::Assembly(_) => name(paper, shown),
    }
}

/// What lies on a sheet.
fn lies(page: &Page) -> String {
    let names: Vec<String> = page.placed.iter().map(called).collect();
    names.join(", ")
}

fn called(placed: &Placed) -> String {
    match &placed.tile {
        Some(tile) => format!("{} {tile}", placed.kind.name()),
        None => placed.kind.name().to_owned(),
    }
}

/// How many sheets there are, of what, and how many tiles are left out.
fn summary(paper: &Paper, sheet: &str) -> [String; 2] {
    let count = match paper.pages.len() {
        1 => "1 sheet".to_owned(),
        many => format!("{many} sheets"),
    };
    let left_out: usize = paper
        .tiled
        .iter()
        .map(|tiled| tiled.tiling.rows * tiled.tiling.columns - tiled.tiling.tiles.len())
        .sum();
    let page = paper.pages.first();
    let lies = match page {
        Some(page) if page.width > page.height => "landscape",
        _ => "portrait",
    };
    let mut second = match sheet.strip_prefix("roll") {
        Some(_) => {
            let long = page.map_or(0.0, |page| page.width);
            format!("of {sheet}, {long:.0} mm long")
        }
        None => format!("of {sheet}, {lies}"),
    };
    if left_out > 0 {
        let tiles = if left_out == 1 { "tile" } else { "tiles" };
        second += &format!("; {left_out} empty {tiles} left out");
    }
    [count, second]
}

/// The sheets in a row, to choose the one that is shown large.
pub(super) fn row(ui: &mut Ui, desk: &mut Desk) {
    ui.take_available_width();
    ui.add_space(space::S);
    let palette = theme::palette(ui);
    let Some(paper) = desk.paper().map(Arc::clone) else {
        ui.add(Label::new(RichText::new("Sheets").font(theme::title())).selectable(false));
        return;
    };
    let sheet = desk.laid.as_ref().map_or_else(String::new, |laid| laid.order.choices.sheet.name());
    let [count, of] = summary(&paper, &sheet);
    ui.add(Label::new(RichText::new(count).font(theme::title())));
    ui.add(Label::new(RichText::new(of).font(theme::label()).color(palette.dim)).wrap());
    ui.add_space(space::S);
    let serial = desk.laid.as_ref().map_or(0, |laid| laid.serial);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        ui.spacing_mut().item_spacing.y = space::M;
        let width = ui.available_width();
        let scale = ui.pixels_per_point();
        let order = all(&paper);
        let small_for = (scale, width);
        if desk.prints.serial != serial || desk.prints.small_for != small_for {
            desk.prints = Prints { serial, small_for, small: vec![None; order.len()], large: None };
        }
        for (index, &shown) in order.iter().enumerate() {
            let Some(bounds) = bounds(&paper, shown) else { continue };
            let high = (width as f64 * bounds.height() / bounds.width()) as f32;
            // a tall sheet or a long roll stays in the row
            let high = high.clamp(space::HIT, width * 1.6);
            let text = name(&paper, shown);
            let is_shown = desk.shown == shown;
            let colour = if is_shown { palette.ink } else { palette.dim };
            let font = if is_shown { theme::heading() } else { theme::label() };
            let galley = ui.painter().layout(caption(&paper, shown), font, colour, width);
            let below = galley.size().y + space::S;
            let (whole, response) =
                ui.allocate_exact_size(vec2(width, high + below), Sense::click());
            response.widget_info(|| {
                WidgetInfo::selected(egui::Role::ListBoxOption, true, is_shown, &text)
            });
            if response.clicked() {
                desk.shown = shown;
            }
            if is_shown && std::mem::take(&mut desk.turned) {
                response.scroll_to_me(None);
            }
            if !ui.is_rect_visible(whole) {
                continue;
            }
            let frame = Rect::from_min_size(whole.min, vec2(width, high));
            // made once at the corner of the screen, then only moved
            let home = Rect::from_min_size(pos2(0.0, 0.0), frame.size());
            let transform = Transform::fit(bounds, home.shrink(stroke::STRONG), 1.0);
            let sheet = on_screen(transform, bounds);
            let made = desk.prints.small.get_mut(index);
            let Some(made) = made else { continue };
            let made = made.get_or_insert_with(|| print(ui, &paper, shown, transform, sheet));
            let by = frame.min.to_vec2();
            let sheet = sheet.translate(by);
            ui.painter().rect_filled(sheet, 0.0, theme::SHEET);
            made.show(&ui.painter().with_clip_rect(ui.clip_rect().intersect(sheet)), by);
            if let Shown::Assembly(index) = shown {
                tiles(ui, &paper, index, moved(transform, by), false);
            }
            let edge = match (is_shown, response.hovered()) {
                (true, _) => Stroke::new(stroke::STRONG, palette.ink),
                (_, true) => Stroke::new(stroke::STRONG, palette.field_border),
                _ => Stroke::new(1.0, palette.hairline),
            };
            ui.painter().rect_stroke(sheet, 0.0, edge, StrokeKind::Outside);
            marks::focus_ring(ui, &response);
            ui.painter().galley(frame.left_bottom() + vec2(0.0, 2.0), galley, colour);
            response.on_hover_text(text);
        }
    });
}

/// Words on one line that is no wider than there is room.
fn shortened(
    ui: &Ui,
    text: String,
    font: egui::FontId,
    colour: egui::Color32,
    room: f32,
) -> Arc<egui::Galley> {
    let mut job = egui::text::LayoutJob::simple_singleline(text, font, colour);
    job.wrap = egui::text::TextWrapping::truncate_at_width(room);
    ui.painter().layout_job(job)
}

fn moved(transform: Transform, by: Vec2) -> Transform {
    Transform { middle: transform.middle + by, ..transform }
}

/// One sheet, or the tiles of a part, large.
pub(super) fn large(ui: &mut Ui, style: LengthStyle, desk: &mut Desk, view: &mut View) {
    let palette = theme::palette(ui);
    let rect = ui.available_rect_before_wrap();
    ui.painter().rect_filled(rect, 0.0, palette.paper);
    let Some(paper) = desk.paper().map(Arc::clone) else {
        let says = match desk.problem() {
            Some(error) => values::capital(&error.says(style)),
            None => "Laying out…".to_owned(),
        };
        canvas::says(ui, rect, &says);
        return;
    };
    let order = all(&paper);
    turn(ui, desk, &order);
    if bounds(&paper, desk.shown).is_none() {
        desk.shown = Shown::default();
    }
    let shown = desk.shown;
    let Some(bounds) = bounds(&paper, shown) else { return };
    let id = match shown {
        Shown::Sheet(_) => CanvasId::Sheet,
        Shown::Assembly(_) => CanvasId::Assembly,
    };
    let mut ui = ui.new_child(egui::UiBuilder::new().id_salt("sheet").max_rect(rect));
    ui.set_clip_rect(ui.clip_rect().intersect(rect));
    let ui = &mut ui;
    let text = name(&paper, shown);
    let (transform, response) = canvas::hold(ui, rect, &text, bounds, Pan::Any, view, id);
    let sheet = on_screen(transform, bounds);
    let serial = desk.laid.as_ref().map_or(0, |laid| laid.serial);
    let scale = ui.pixels_per_point();
    let is_made = desk.prints.serial == serial
        && desk.prints.large.as_ref().is_some_and(|(of, at, with, pixels, _)| {
            (*of, *at, *with, *pixels) == (shown, rect, transform, scale)
        });
    if !is_made {
        let made = print(ui, &paper, shown, transform, rect.intersect(sheet));
        desk.prints.large = Some((shown, rect, transform, scale, made));
    }
    ui.painter().rect_filled(sheet, 0.0, theme::SHEET);
    if let Some((.., made)) = &desk.prints.large {
        made.show(&ui.painter().with_clip_rect(rect.intersect(sheet)), Vec2::ZERO);
    }
    ui.painter().rect_stroke(
        sheet,
        0.0,
        Stroke::new(1.0, palette.field_border),
        StrokeKind::Outside,
    );
    let at = rect.left_top() + vec2(space::XL, space::L);
    let galley = shortened(ui, text, theme::label(), palette.dim, rect.width() - 2.0 * space::XL);
    // on paper of its own: a sheet may lie below it
    let chip = Rect::from_min_size(at, galley.size()).expand2(vec2(space::M, space::S));
    ui.painter().rect_filled(chip, theme::CORNER, palette.paper);
    ui.painter().galley(at, galley, palette.dim);
    let at = response.hover_pos().map(|at| transform.to_mm(at));
    match shown {
        Shown::Sheet(index) => {
            let found = at.and_then(|at| placed_at(paper.pages.get(index)?, at));
            if let Some(placed) = found {
                response.on_hover_text_at_pointer(called(placed));
            }
        }
        Shown::Assembly(index) => {
            tiles(ui, &paper, index, transform, true);
            let found = at.and_then(|at| tile_at(&paper, paper.tiled.get(index)?, at));
            if let Some((tile, page)) = found {
                if response.clicked() {
                    desk.shown = Shown::Sheet(page);
                }
                response.on_hover_text_at_pointer(format!("{tile}: sheet {}", page + 1));
            }
        }
    }
}

/// Page up and page down.
fn turn(ui: &Ui, desk: &mut Desk, order: &[Shown]) {
    if ui.ctx().text_edit_focused() {
        return;
    }
    let step = ui.input(|input| {
        i32::from(input.key_pressed(Press::PageDown)) - i32::from(input.key_pressed(Press::PageUp))
    });
    let at = order.iter().position(|one| *one == desk.shown).unwrap_or(0);
    let to = match step {
        1.. => at.saturating_add(1),
        0 => return,
        _ => at.saturating_sub(1),
    };
    if let Some(&shown) = order.get(to) {
        desk.shown = shown;
        desk.turned = true;
        // the row stands there already in this frame
        ui.ctx().request_repaint();
    }
}

/// What lies at a place of the paper.
fn placed_at(page: &Page, at: Point) -> Option<&Placed> {
    let at = page.to_paper.inverse() * at;
    page.placed.iter().find(|placed| placed.at.contains(at))
}

/// The tile at a place of the drawing, and its sheet.
fn tile_at(paper: &Paper, tiled: &Tiled, at: Point) -> Option<(String, usize)> {
    let tile = tiled.tiling.tiles.iter().find(|tile| tile.window.contains(at))?;
    let name = tile.name();
    page_of(paper, tiled, &name).map(|page| (name, page))
}

fn page_of(paper: &Paper, tiled: &Tiled, tile: &str) -> Option<usize> {
    paper.pages.iter().position(|page| {
        page.placed
            .iter()
            .any(|placed| placed.kind == tiled.kind && placed.tile.as_deref() == Some(tile))
    })
}

/// The tiles over the drawing: each with its name and its sheet, and what is left out.
fn tiles(ui: &Ui, paper: &Paper, index: usize, transform: Transform, named: bool) {
    let palette = theme::palette(ui);
    let Some(tiled) = paper.tiled.get(index) else { return };
    let tiling = &tiled.tiling;
    let painter = ui.painter();
    let chip = |at: Rect, text: String| {
        let galley = painter.layout_no_wrap(text, theme::strong(), theme::SHEET_INK);
        let place = Align2::CENTER_CENTER
            .anchor_size(pos2(at.center().x, at.top() + space::XL), galley.size());
        painter.rect_filled(place.expand(space::S), theme::CORNER, theme::SHEET);
        painter.galley(place.min, galley, theme::SHEET_INK);
    };
    for row in 0..tiling.rows {
        for column in 0..tiling.columns {
            if let Some(tile) = tiling.at(row, column) {
                let at = on_screen(transform, tile.window);
                let pen = Stroke::new(stroke::VISIBLE, palette.field_border);
                painter.rect_stroke(at, 0.0, pen, StrokeKind::Middle);
                if named {
                    let name = tile.name();
                    let page = page_of(paper, tiled, &name)
                        .map_or_else(String::new, |page| format!(" · sheet {}", page + 1));
                    chip(at, name + &page);
                }
                continue;
            }
            // where it would lie: in the row and the column of others
            let beside = tiling.tiles.iter().find(|tile| tile.row == row);
            let above = tiling.tiles.iter().find(|tile| tile.column == column);
            if let Some((beside, above)) = beside.zip(above).filter(|_| named) {
                let (x, y) = (above.window, beside.window);
                let at = on_screen(transform, kurbo::Rect::new(x.x0, y.y0, x.x1, y.y1));
                let corners = [
                    at.left_top(),
                    at.right_top(),
                    at.right_bottom(),
                    at.left_bottom(),
                    at.left_top(),
                ];
                let pen = Stroke::new(stroke::THIN, palette.field_border);
                painter.extend(Shape::dashed_line(&corners, pen, space::S, space::S));
                chip(at, "empty, left out".to_owned());
            }
        }
    }
}
