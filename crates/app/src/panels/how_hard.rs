//! Sliders of what weighs on the headroom: how hard it is played, relief, action, fall-away,
//! crest. All of it follows while they move.

use egui::{Align2, Rect, Sense, Slider, Ui, UiBuilder, Vec2, vec2};
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key};
use overstand_core::strings::{Pull, relief_search};
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use super::tips;
use crate::canvas;
use crate::command::Command;
use crate::theme::{self, space};
use crate::values;
use crate::view::{CanvasId, Drag, View};

/// What a rail goes over, mm: where makers move. A value beyond it widens it.
const PLUCK: (f64, f64) = (0.05, 2.0);
const ACTION: (f64, f64) = (0.6, 4.0);
const FALL: (f64, f64) = (0.0, 1.0);

/// Those there are for a design, with the ends of their rails.
fn rails(design: &Design) -> Vec<(Dim, (f64, f64))> {
    let (low, high) = design.bridge.kind.crest_range();
    let mut rails = vec![
        (Dim::PluckTravel, PLUCK),
        (Dim::Relief, relief_search::RANGE),
        (Dim::ActionTreble, ACTION),
        (Dim::ActionBass, ACTION),
        (Dim::CrestHeight, (low.to_mm(), high.to_mm())),
    ];
    if design.board.fall_from > 0 {
        rails.insert(4, (Dim::Fall, FALL));
    }
    rails
}

/// Shows them beside each other; that of how hard it is played has twice the width.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    pull: Option<&Pull>,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let rails = rails(&study.design);
    let size = vec2(ui.available_width(), 2.0 * space::HIT - space::S);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let part = (size.x + space::XL) / (rails.len() as f32 + 1.0);
    let mut left = rect.left();
    for (dim, ends) in rails {
        let width = if dim == Dim::PluckTravel { 2.0 * part } else { part };
        let place =
            Rect::from_min_size(egui::pos2(left, rect.top()), vec2(width - space::XL, size.y));
        left += width;
        let pull = pull.filter(|_| dim == Dim::PluckTravel);
        one(ui, place, study, dim.key(), ends, pull, style, view, commands);
    }
}

#[expect(clippy::too_many_arguments, reason = "a slider is where all of it meets")]
fn one(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    key: Key,
    (low, high): (f64, f64),
    pull: Option<&Pull>,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let (palette, info) = (theme::palette(ui), key.dim.info());
    let Some(value) = values::value(study, key) else {
        return;
    };
    let in_newtons = pull.filter(|_| view.strings.newtons);
    let travel = values::show_dim(info, value, style);
    let shown = match in_newtons {
        Some(pull) => format!("{:.1} N, open", pull.force(value)),
        None => match pull {
            Some(pull) => format!("{travel} · {:.1} N, open", pull.force(value)),
            None => travel,
        },
    };
    let is_found =
        key.is_found(&study.design) && super::dimensions::is_found(&study.design, key.dim);
    let (font, colour) =
        if is_found { (theme::strong(), palette.accent) } else { (theme::text(), palette.ink) };
    let line = Rect::from_min_size(rect.min, vec2(rect.width(), space::HIT - space::S));
    let painter = ui.painter();
    let shown = painter.text(line.right_center(), Align2::RIGHT_CENTER, shown, font, colour);
    let mut name =
        egui::text::LayoutJob::simple_singleline(info.name.into(), theme::text(), palette.dim);
    name.wrap = egui::text::TextWrapping::truncate_at_width(shown.left() - line.left() - space::S);
    let name = painter.layout_job(name);
    painter.galley(line.left_center() - vec2(0.0, name.size().y / 2.0), name, palette.dim);
    let named = ui.interact(line, egui::Id::unique(("slider name", info.key)), Sense::hover());
    tips::on_hover(named, info.name);

    let per = in_newtons.map_or(1.0, |pull| pull.force(1.0));
    let mut at = value * per;
    let ends = low.min(value) * per..=high.max(value) * per;
    // a hundredth is what a pixel moves, or what the bench can read
    let step = if info.digits >= 2 { 0.01 } else { 0.1 };
    let rail = Rect::from_min_max(line.left_bottom(), rect.max);
    let builder = UiBuilder::new().id_salt(("slider", info.key)).max_rect(rail);
    let ui = &mut ui.new_child(builder);
    ui.spacing_mut().slider_width = rail.width();
    let widgets = &mut ui.visuals_mut().widgets;
    for look in [&mut widgets.inactive, &mut widgets.hovered, &mut widgets.active] {
        look.bg_fill = palette.rail_wanted;
    }
    let slider = Slider::new(&mut at, ends)
        .show_value(false)
        .step_by(step * per)
        // to look at it changes nothing
        .clamping(egui::SliderClamping::Edits);
    let unit = if in_newtons.is_some() { "N" } else { "mm" };
    let response = ui.add(slider).accessible_name(format!("{}, slider, {unit}", info.name));
    if response.has_focus() || response.hovered() {
        view.handle = Some(key.dim);
    }
    let to = ((at / per) / step).round() * step;
    // no dust of the last binary place
    let to = (to * 1e6).round() / 1e6;
    if response.changed() && to != value {
        if response.dragged() || response.is_pointer_button_down_on() {
            let drag = view.drag.get_or_insert(Drag {
                dim: key.dim,
                canvas: CanvasId::Swing,
                raw: to,
                last: to,
                from: response.interact_pointer_pos().unwrap_or_default(),
                travelled: Vec2::ZERO,
            });
            (drag.raw, drag.last) = (to, to);
            commands.push(Command::DragTo { key, value: to });
        } else {
            commands.push(Command::Nudge { key, value: to });
        }
    }
    let is_ours = view
        .drag
        .as_ref()
        .is_some_and(|drag| (drag.dim, drag.canvas) == (key.dim, CanvasId::Swing));
    if !is_ours {
        return;
    }
    canvas::let_go(ui, &response, view, commands);
    let text = format!("{} {}", info.name, values::show_dim(info, value, style));
    response.on_hover_text(text);
}
