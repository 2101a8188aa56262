//! The handles of a drawing: taken hold of, dragged, nudged, typed.

use egui::{Align2, Key as Press, Ui, Vec2, WidgetInfo, accesskit, vec2};
use egui::{
    Area, Color32, CursorIcon, EventFilter, Id, Order, Pos2, Rect, Response, Sense, Stroke,
};
use overstand_core::dimension::{Dim, Key};
use overstand_core::working::Figure;
use overstand_drawing::handles::Handle;

use super::gear::{Gear, landed, step};
use super::{Sheet, Transform};
use crate::command::Command;
use crate::panels::field;
use crate::panels::status_bar::next_follower;
use crate::panels::working::{self, Of};
use crate::theme::{self, Palette, space, stroke};
use crate::tour::{self, Spot};
use crate::view::{CanvasId, Draft, Drag, Field, View};
use crate::{drive, values};

/// Shows the handles over a drawing and turns what is done to them into commands.
pub(crate) fn show(
    ui: &Ui,
    rect: Rect,
    sheet: &Sheet<'_>,
    transform: Transform,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let sight = rect.shrink(space::S);
    let mut flags = Vec::new();
    let focused = ui.memory(|memory| memory.focused());
    let chosen = sheet.handles.iter().find(|handle| Some(id(sheet, handle.dim)) == focused);
    for handle in sheet.handles {
        let at = transform.to_screen(handle.at);
        let dragged = view
            .drag
            .as_ref()
            .is_some_and(|drag| drag.dim == handle.dim && drag.canvas == sheet.id);
        if sight.contains(at) || dragged {
            // of those that lie over each other the pointer has the one that was chosen by Tab
            let gives_way = chosen.is_some_and(|chosen| {
                let away = transform.to_screen(chosen.at) - at;
                chosen.dim != handle.dim && away.abs().max_elem() < 2.0 * space::S
            });
            let reach = reach(at, sheet, handle, transform);
            let sense = if gives_way { Sense::FOCUSABLE } else { Sense::click_and_drag() };
            flags.extend(one(ui, at, (reach, sense), sheet, handle, transform, view, commands));
        }
    }
    // over all rings, as is the ring of what is pointed at or chosen
    for (at, text, is_found) in flags {
        ring(ui, at, theme::palette(ui), is_found, true, false);
        flag(ui, at, &text, is_found);
    }
}

/// How far from its middle a handle is taken hold of: half way to the next one, where that
/// stands near.
fn reach(at: Pos2, sheet: &Sheet<'_>, handle: &Handle, transform: Transform) -> f32 {
    let others = sheet.handles.iter().filter(|other| other.dim != handle.dim);
    others
        .map(|other| (transform.to_screen(other.at) - at).abs().max_elem() / 2.0)
        .fold(space::HIT / 2.0, f32::min)
        .max(space::S)
}

/// One handle. Returns the flag it flies: where, its words, and whether it is found.
#[expect(clippy::too_many_arguments, reason = "a handle is where all of it meets")]
fn one(
    ui: &Ui,
    at: Pos2,
    (reach, sense): (f32, Sense),
    sheet: &Sheet<'_>,
    handle: &Handle,
    transform: Transform,
    view: &mut View,
    commands: &mut Vec<Command>,
) -> Option<(Pos2, String, bool)> {
    let (dim, info) = (handle.dim, handle.dim.info());
    let value = values::value(sheet.study, dim.key())?;
    let id = id(sheet, dim);
    let area = Rect::from_center_size(at, Vec2::splat(2.0 * reach));
    if (sheet.id, dim) == (CanvasId::Whole, Dim::CrestHeight) {
        tour::mark(ui, Spot::Crest, Rect::from_center_size(at, Vec2::splat(2.0 * space::HANDLE)));
    }
    let response = ui.interact(area, id, sense);
    let name = format!("{}, {}", info.name, sheet.place);
    response.widget_info(|| WidgetInfo::slider(true, value, &name));
    describe(ui, id, dim, value);
    let response =
        response.on_hover_and_drag_cursor(if handle.direction.y.abs() > handle.direction.x.abs() {
            CursorIcon::ResizeVertical
        } else {
            CursorIcon::ResizeHorizontal
        });

    let fine = ui.input(|input| input.modifiers.shift);
    drag(ui, &response, sheet, handle, value, transform, fine, view, commands);
    keys(ui, &response, dim, value, fine, view, commands);
    if response.has_focus() && ui.input(|input| input.key_pressed(Press::Space)) {
        commands.extend(next_follower(&sheet.study.design, dim, view));
    }
    if working::is_asked(ui, &response) {
        Of::new(Figure::Dim(dim.key()), sheet.whose).toggle(view);
    }
    let typed = Field::AtHandle(sheet.id, dim);
    let wants_typing = response.double_clicked()
        || (response.has_focus() && ui.input(|input| input.key_pressed(Press::Enter)));
    if wants_typing && view.drag.is_none() {
        view.drafts.insert(typed, Draft::of(info, value, sheet.style));
        view.focus = Some(typed);
    }
    if response.clicked() || response.drag_started() {
        response.request_focus();
    }

    let is_dragged = view.drag.as_ref().is_some_and(|drag| drag.dim == dim);
    let is_live = response.hovered() || response.has_focus() || is_dragged;
    if response.hovered() || response.has_focus() {
        view.handle = Some(dim);
    }
    let is_found = dim.key().is_found(&sheet.study.design);
    let glows = view.glow.0.contains(&dim.key());
    ring(ui, at, theme::palette(ui), is_found, is_live, glows);
    if is_dragged && response.dragged() {
        leader(ui, at, &response);
    }
    if view.drafts.contains_key(&typed) {
        type_in(ui, at, sheet, typed, dim, view, commands);
    } else if is_live && view.drag.as_ref().is_none_or(|drag| drag.canvas == sheet.id) {
        let text = format!("{} {}", info.name, values::show_dim(info, value, sheet.style));
        return Some((at, text, is_found));
    } else if sheet.labelled.contains(&dim) {
        let text =
            format!("{} {}", info.name.to_lowercase(), values::show_dim(info, value, sheet.style));
        label(ui, at, &text, is_found);
    }
    None
}

fn id(sheet: &Sheet<'_>, dim: Dim) -> Id {
    Id::unique(("handle", sheet.id as u8, dim as usize))
}

/// What a slider tells besides its value.
fn describe(ui: &Ui, id: Id, dim: Dim, value: f64) {
    let info = dim.info();
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_numeric_value(value);
        node.set_min_numeric_value(info.low);
        node.set_max_numeric_value(info.high);
        node.set_numeric_value_step(step(dim, false));
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
        node.add_action(accesskit::Action::SetValue);
        node.set_description(info.meaning);
    });
}

#[expect(clippy::too_many_arguments, reason = "all of it belongs to the one drag")]
fn drag(
    ui: &Ui,
    response: &Response,
    sheet: &Sheet<'_>,
    handle: &Handle,
    value: f64,
    transform: Transform,
    fine: bool,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let dim = handle.dim;
    if response.drag_started_by(egui::PointerButton::Primary) {
        view.drafts.remove(&Field::AtHandle(sheet.id, dim));
        let from = ui.input(|input| input.pointer.press_origin());
        let from = from.or(response.interact_pointer_pos()).unwrap_or_default();
        let (canvas, travelled) = (sheet.id, Vec2::ZERO);
        view.drag = Some(Drag { dim, canvas, raw: value, last: value, from, travelled });
    }
    let Some(drag) = view.drag.as_mut() else {
        return;
    };
    if (drag.dim, drag.canvas) != (dim, sheet.id) {
        return;
    }
    // with the way of the last moment, in which it is let go
    if (response.dragged() || response.drag_stopped())
        && let Some(pointer) = response.interact_pointer_pos()
    {
        let travelled = pointer - drag.from;
        let way = travelled - drag.travelled;
        drag.travelled = travelled;
        drag.raw += Gear::of(handle, transform, fine).change(way);
        let to = landed(dim, drag.raw, fine);
        // a click that trembles is no drag: nothing is rounded before it moves a step
        if way != Vec2::ZERO && to != drag.last && (drag.raw - value).abs() > step(dim, fine) / 2.0
        {
            drag.last = to;
            commands.push(Command::DragTo { key: dim.key(), value: to });
        }
    }
    let raw = drag.raw;
    if response.dragged()
        && let Some(why) = drive::beyond(&sheet.study.design, dim.key(), raw, sheet.style)
    {
        if view.note.text != why {
            // the status bar is painted before
            ui.ctx().request_repaint();
        }
        view.complain(why);
    }
    let_go(ui, response, view, commands);
}

/// Ends the drag that is under way, if it is given up or let go.
pub(crate) fn let_go(ui: &Ui, response: &Response, view: &mut View, commands: &mut Vec<Command>) {
    if ui.input(|input| input.key_pressed(Press::Escape)) {
        view.drag = None;
        ui.ctx().stop_dragging();
        commands.push(Command::DragCancel);
    } else if response.drag_stopped() || !ui.input(|input| input.pointer.primary_down()) {
        view.drag = None;
        commands.push(Command::DragEnd);
    }
}

/// The keys of a handle that has the focus, and what a screen reader asks of it.
fn keys(
    ui: &Ui,
    response: &Response,
    dim: Dim,
    value: f64,
    fine: bool,
    view: &View,
    commands: &mut Vec<Command>,
) {
    let mut steps = 0.0;
    if response.has_focus() && view.drag.is_none() {
        let filter = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        ui.input(|input| {
            for (press, way) in [
                (Press::ArrowUp, 1.0),
                (Press::ArrowRight, 1.0),
                (Press::ArrowDown, -1.0),
                (Press::ArrowLeft, -1.0),
                (Press::PageUp, 10.0),
                (Press::PageDown, -10.0),
            ] {
                // as long as it is held it goes on
                let count = input.events.iter().filter(|event| {
                    matches!(event, egui::Event::Key { key, pressed: true, .. } if *key == press)
                });
                steps += way * count.count() as f64;
            }
        });
    }
    ui.input(|input| {
        use accesskit::Action;
        steps += input.num_accesskit_action_requests(response.id, Action::Increment) as f64;
        steps -= input.num_accesskit_action_requests(response.id, Action::Decrement) as f64;
        for request in input.accesskit_action_requests(response.id, Action::SetValue) {
            if let Some(accesskit::ActionData::NumericValue(value)) = request.data {
                commands.push(Command::Set { key: dim.key(), value });
            }
        }
    });
    if steps != 0.0 {
        let to = landed(dim, value + steps * step(dim, fine), fine);
        commands.push(Command::Nudge { key: dim.key(), value: to });
    }
}

/// A ring: filled centre for held, empty for found.
fn ring(ui: &Ui, at: Pos2, palette: &Palette, is_found: bool, is_live: bool, glows: bool) {
    let painter = ui.painter();
    let colour = if is_found { palette.accent } else { palette.ink };
    let radius = space::HANDLE + if is_live { 1.5 } else { 0.0 };
    let halo = if glows { palette.accent.gamma_multiply(0.35) } else { palette.paper };
    painter.circle_filled(at, radius + if glows { space::S } else { 2.0 }, halo);
    painter.circle(at, radius, palette.paper, Stroke::new(stroke::STRONG, colour));
    if !is_found {
        painter.circle_filled(at, radius - space::S, colour);
    }
}

/// A thin line to a pointer that has run ahead.
fn leader(ui: &Ui, at: Pos2, response: &Response) {
    if let Some(pointer) = response.interact_pointer_pos()
        && pointer.distance(at) > space::LEADER
    {
        let pen = Stroke::new(stroke::THIN, theme::palette(ui).dim);
        let from = at + (pointer - at).normalized() * space::HANDLE;
        ui.painter().line_segment([from, pointer], pen);
    }
}

/// Name and value over a handle that is left alone.
fn label(ui: &Ui, at: Pos2, text: &str, is_found: bool) {
    let palette = theme::palette(ui);
    let colour = if is_found { palette.accent } else { palette.ink };
    let at = at - vec2(0.0, space::HANDLE + space::S);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), theme::heading(), colour);
    let place = Align2::CENTER_BOTTOM.anchor_size(at, galley.size());
    let over = (place.right() - ui.clip_rect().right() + space::M).max(0.0);
    ui.painter().galley(place.min - vec2(over, 0.0), galley, colour);
}

/// Name and value beside a handle that is taken hold of.
fn flag(ui: &Ui, at: Pos2, text: &str, is_found: bool) {
    let palette = theme::palette(ui);
    let colour = if is_found { palette.accent } else { palette.ink };
    let galley = ui.painter().layout_no_wrap(text.to_owned(), theme::strong(), colour);
    let offset = vec2(0.0, -space::HIT);
    let mut card =
        Align2::CENTER_BOTTOM.anchor_size(at + offset + vec2(0.0, space::M), galley.size());
    card = card.expand2(vec2(space::M, space::S));
    // it stays within the canvas
    let sight = ui.clip_rect();
    let right = (sight.right() - card.right() - space::S).min(0.0);
    let left = (sight.left() - card.left() + space::S).max(0.0);
    card = card.translate(vec2(right + left, 0.0));
    if card.top() < sight.top() {
        card = card.translate(vec2(0.0, 2.0 * space::HIT + card.height() / 2.0));
    }
    let fill: Color32 = palette.field;
    let painter = ui.painter();
    painter.rect(
        card,
        theme::CORNER,
        fill,
        Stroke::new(stroke::THIN, palette.field_border),
        egui::StrokeKind::Inside,
    );
    painter.galley(card.min + vec2(space::M, space::S), galley, colour);
}

/// A field beside the handle, to type its value.
fn type_in(
    ui: &Ui,
    at: Pos2,
    sheet: &Sheet<'_>,
    typed: Field,
    dim: Dim,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let key: Key = dim.key();
    Area::new(id(sheet, dim).with("field"))
        .order(Order::Foreground)
        .fixed_pos(at + vec2(space::L, -space::XL - space::HIT))
        .constrain(true)
        .show(ui.ctx(), |ui| {
            egui::Frame::popup(ui.style()).show(ui, |ui| {
                ui.set_width(field::width(sheet.style) + space::XL);
                ui.label(dim.info().name);
                let name = format!("{}, typed", dim.info().name);
                let was_open = view.drafts.contains_key(&typed);
                let done = field::show(ui, sheet.study, key, typed, &name, sheet.style, view);
                if let Some(value) = done {
                    commands.push(Command::Set { key, value });
                }
                let still_open = view.drafts.contains_key(&typed);
                if was_open && !still_open {
                    ui.memory_mut(|memory| memory.request_focus(id(sheet, dim)));
                }
            });
        });
}
