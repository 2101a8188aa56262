//! The point on the map, where the design stands: dragged, or moved by keys; and what would be
//! said of the design elsewhere.

use egui::{
    CursorIcon, EventFilter, Key as Press, Pos2, Rect, RichText, Sense, Stroke, Ui, Vec2,
    WidgetInfo, pos2, vec2,
};
use egui_plot::{PlotPoint, PlotTransform};
use overstand_core::design::Design;
use overstand_core::dimension::Key;
use overstand_core::risk::aimed;
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::verdict::State;
use overstand_core::working::Figure;

use super::map::{MapChart, REACHES, Sight};
use crate::canvas::{landed, step};
use crate::command::Command;
use crate::panels::tips;
use crate::panels::working::{self, Of, Whose};
use crate::theme::{self, space, stroke};
use crate::view::{CanvasId, Drag, View};
use crate::{marks, values};

/// A value of one of the two, with the digits of the bench.
fn show_value(key: Key, value: f64, style: LengthStyle) -> String {
    let info = key.dim.info();
    values::show(value, info.unit, info.digits, style)
}

/// Two values in words: `pitch 3.00°, overstand 1.0 mm`.
pub(super) fn place_words(
    design: &Design,
    keys: [Key; 2],
    at: [f64; 2],
    style: LengthStyle,
) -> String {
    let each = [0, 1].map(|index| {
        let value = show_value(keys[index], at[index], style);
        format!("{} {value}", lower(&keys[index].name(design)))
    });
    each.join(", ")
}

/// Where a design stands on the map.
pub(super) fn standing(design: &Design, keys: [Key; 2]) -> Option<[f64; 2]> {
    Some([keys[0].get(design)?, keys[1].get(design)?])
}

/// What the verdict would be where the pointer is.
pub(super) fn tip(
    ui: &Ui,
    study: &Study,
    sight: Sight,
    transform: &PlotTransform,
    style: LengthStyle,
    view: &mut View,
) {
    let id = ui.scope_id().with("ground of the map");
    let response = ui.interact(*transform.frame(), id, Sense::hover());
    let Some(at) = response.hover_pos().filter(|_| view.drag.is_none()) else { return };
    let place = transform.value_from_position(at);
    let values = [place.x, place.y];
    if working::is_asked(ui, &response) {
        of_verdict_there(&study.design, sight.keys, values, style, view);
    }
    response.on_hover_ui_at_pointer(|ui| {
        let words = place_words(&study.design, sight.keys, values, style);
        ui.label(RichText::new(values::capital(&words)).font(theme::strong()));
        ui.label(verdict_there(&study.design, sight.keys, values, style));
        tips::small(ui, working::KEY_SAYS);
    });
}

/// Opens the working of what decides with the two dimensions elsewhere.
fn of_verdict_there(
    design: &Design,
    keys: [Key; 2],
    at: [f64; 2],
    style: LengthStyle,
    view: &mut View,
) {
    let there = aimed(design, &[(keys[0], at[0]), (keys[1], at[1])]);
    let Some(study) = there.as_ref().map(Study::of) else { return };
    let worst =
        study.closed().and_then(|closed| closed.checks.iter().min_by_key(|check| check.state));
    let Some(worst) = worst else { return };
    let name = place_words(design, keys, at, style);
    let whose = Whose { name: &name, design: &study.design };
    Of::new(Figure::Check(worst.id), Some(whose)).toggle(view);
}

/// What the verdict would be with the two dimensions elsewhere.
fn verdict_there(design: &Design, keys: [Key; 2], at: [f64; 2], style: LengthStyle) -> String {
    let there = aimed(design, &[(keys[0], at[0]), (keys[1], at[1])]);
    let study = there.as_ref().map(Study::of);
    let Some(closed) = study.as_ref().and_then(Study::closed) else {
        return "It does not close there.".to_owned();
    };
    let worst = closed.checks.iter().min_by_key(|check| check.state);
    match worst {
        Some(worst) if worst.state != State::Good => {
            let state = marks::state_word(worst.state);
            format!("{}: {}", values::capital(state).trim_end_matches('.'), worst.says.show(style))
        }
        _ => "Good: every check.".to_owned(),
    }
}

/// The point: dragged, or moved by the arrow keys.
#[expect(clippy::too_many_arguments, reason = "the point is where all of it meets")]
pub(super) fn show(
    ui: &Ui,
    study: &Study,
    chart: &mut MapChart,
    sight: Sight,
    transform: &PlotTransform,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let Some(values) = standing(&study.design, sight.keys) else { return };
    let palette = theme::palette(ui);
    let at = transform.position_from_point(&PlotPoint::new(values[0], values[1]));
    let frame = *transform.frame();
    let at = at.clamp(frame.min, frame.max);
    let area = Rect::from_center_size(at, Vec2::splat(space::HIT));
    let id = egui::Id::unique("point on the map");
    let response = ui.interact(area, id, Sense::click_and_drag());
    let words = place_words(&study.design, sight.keys, values, style);
    response.widget_info(|| WidgetInfo::slider(true, values[0], "Point on the map"));
    ui.ctx().accesskit_node_builder(id, |node| node.set_description(words.as_str()));
    let response = response.on_hover_and_drag_cursor(CursorIcon::Move);
    if response.clicked() || response.drag_started() {
        response.request_focus();
    }
    drag(ui, &response, chart, sight, transform, values, view, commands);
    if response.has_focus() && view.drag.is_none() {
        keys(ui, &response, sight, values, view, commands);
    }
    let is_live = response.hovered() || response.has_focus() || chart.grabbed.is_some();
    let painter = ui.painter();
    painter.circle_filled(at, space::HANDLE + 2.0, palette.paper);
    painter.circle_stroke(at, space::HANDLE, Stroke::new(stroke::STRONG, palette.ink));
    painter.circle_filled(at, if is_live { 4.0 } else { 2.5 }, palette.ink);
    if response.has_focus() {
        let pen = Stroke::new(stroke::VISIBLE, palette.ink);
        painter.circle_stroke(at, space::HANDLE + space::S, pen);
    }
    if is_live {
        flag(ui, frame, at, values::capital(&words).trim_end_matches('.'));
    }
}

/// Words beside the point, within the map.
fn flag(ui: &Ui, frame: Rect, at: Pos2, text: &str) {
    let palette = theme::palette(ui);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), theme::strong(), palette.ink);
    let size = galley.size() + vec2(2.0 * space::M, space::S);
    let above = at.y - size.y - space::XL > frame.top();
    let y = if above { at.y - size.y - space::XL } else { at.y + space::XL };
    let x = (at.x - size.x / 2.0).clamp(frame.left(), (frame.right() - size.x).max(frame.left()));
    let place = Rect::from_min_size(pos2(x, y), size);
    let pen = Stroke::new(1.0, palette.field_border);
    ui.painter().rect(place, theme::CORNER, palette.field, pen, egui::StrokeKind::Inside);
    ui.painter().galley(place.min + vec2(space::M, space::S / 2.0), galley, palette.ink);
}

#[expect(clippy::too_many_arguments, reason = "all of it belongs to the one drag")]
fn drag(
    ui: &Ui,
    response: &egui::Response,
    chart: &mut MapChart,
    sight: Sight,
    transform: &PlotTransform,
    values: [f64; 2],
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let fine = ui.input(|input| input.modifiers.shift);
    if response.drag_started_by(egui::PointerButton::Primary) {
        let from = ui.input(|input| input.pointer.press_origin());
        let from = from.or(response.interact_pointer_pos()).unwrap_or_default();
        chart.grabbed = Some((from, values));
        view.drag = Some(Drag {
            dim: sight.keys[0].dim,
            canvas: CanvasId::Map,
            raw: values[0],
            last: values[0],
            from,
            travelled: Vec2::ZERO,
        });
    }
    let is_ours = view.drag.as_ref().is_some_and(|drag| drag.canvas == CanvasId::Map);
    let Some((from, start)) = chart.grabbed.filter(|_| is_ours) else {
        chart.grabbed = None;
        return;
    };
    if (response.dragged() || response.drag_stopped())
        && let Some(pointer) = response.interact_pointer_pos()
    {
        let [was, is] = [from, pointer].map(|at| transform.value_from_position(at));
        let raw = [start[0] + is.x - was.x, start[1] + is.y - was.y];
        let to = [0, 1].map(|index| {
            let (low, high) = sight.ranges[index];
            let moved = (raw[index] - start[index]).abs();
            let dim = sight.keys[index].dim;
            // nothing is rounded before it moves a step
            if moved < step(dim, fine) / 2.0 {
                start[index]
            } else {
                landed(dim, raw[index], fine).clamp(low, high)
            }
        });
        if to != values && pointer != from {
            let at = [(sight.keys[0], to[0]), (sight.keys[1], to[1])];
            commands.push(Command::Aim { at, drags: true });
        }
    }
    if ui.input(|input| input.key_pressed(Press::Escape)) {
        ui.ctx().stop_dragging();
        commands.push(Command::DragCancel);
    } else if response.drag_stopped() || !ui.input(|input| input.pointer.primary_down()) {
        commands.push(Command::AimEnd(sight.keys));
    } else {
        return;
    }
    view.drag = None;
    chart.grabbed = None;
}

/// The arrows move the point, + and − show less or more.
fn keys(
    ui: &Ui,
    response: &egui::Response,
    sight: Sight,
    values: [f64; 2],
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let filter =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let (ways, fine, zoom) = ui.input(|input| {
        let count = |press| input.num_presses(press) as f64;
        let ways = [
            count(Press::ArrowRight) - count(Press::ArrowLeft),
            count(Press::ArrowUp) - count(Press::ArrowDown),
        ];
        let zoom = count(Press::Plus) + count(Press::Equals) - count(Press::Minus);
        (ways, input.modifiers.shift, zoom)
    });
    if zoom > 0.0 {
        view.how_true.reach = view.how_true.reach.saturating_sub(1);
    } else if zoom < 0.0 {
        view.how_true.reach = (view.how_true.reach + 1).min(REACHES.len() - 1);
    }
    if ways == [0.0, 0.0] {
        return;
    }
    let at = [0, 1].map(|index| {
        let (key, way) = (sight.keys[index], ways[index]);
        let to = if way == 0.0 {
            values[index]
        } else {
            landed(key.dim, values[index] + way * step(key.dim, fine), fine)
        };
        (key, to)
    });
    commands.push(Command::Aim { at, drags: false });
}
