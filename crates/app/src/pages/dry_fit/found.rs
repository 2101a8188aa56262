//! What the readings say: pitch, overstand and crest with their errors, and the joint as it is
//! over its plan.

use egui::{Align2, Id, Pos2, Rect, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::working::{Figure, OfFit};

use super::Desk;
use crate::canvas::{self, Sheet};
use crate::command::Command;
use crate::panels::working::opener;
use crate::theme::{self, space};
use crate::values;
use crate::view::{CanvasId, View};

/// A figure with its error, and what was planned.
struct Found {
    of: [OfFit; 2],
    /// The dimension that was planned.
    plan: Dim,
    name: &'static str,
    unit: Unit,
    value: f64,
    error: f64,
    planned: f64,
}

/// Shows both in a rectangle.
pub(super) fn show(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    style: LengthStyle,
    desk: &Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let mut drawing = rect;
    if let Some(fit) = desk.worked.fit() {
        let layout = fit.plan.layout();
        let all = [
            Found {
                of: [OfFit::Pitch, OfFit::PitchError],
                plan: Dim::Pitch,
                name: "Pitch",
                unit: Unit::Angle,
                value: fit.told.pitch.to_degrees(),
                error: fit.told.pitch_error().to_degrees(),
                planned: layout.map_or(0.0, |layout| layout.pitch.to_degrees()),
            },
            Found {
                of: [OfFit::Overstand, OfFit::OverstandError],
                plan: Dim::Overstand,
                name: "Overstand",
                unit: Unit::Length,
                value: fit.told.overstand,
                error: fit.told.overstand_error(),
                planned: fit.plan.design.joint.overstand.to_mm(),
            },
            Found {
                of: [OfFit::Crest, OfFit::CrestError],
                plan: Dim::CrestHeight,
                name: "Crest height needed",
                unit: Unit::Length,
                value: fit.real.crest,
                error: fit.real.crest_error,
                planned: fit.planned_crest,
            },
        ];
        let (strip, rest) = rect.split_top_bottom_at_y(rect.top() + space::FIGURE);
        drawing = rest;
        let inner = strip.shrink2(vec2(space::XL, 0.0));
        let wide = inner.width() / all.len() as f32;
        for (index, figure) in all.iter().enumerate() {
            let left = inner.left() + wide * index as f32;
            let place = Rect::from_min_size(pos2(left, strip.top()), vec2(wide, strip.height()));
            one(ui, place, study, figure, style, view);
        }
    }
    let (heading, shown) = match desk.worked.fit() {
        Some(fit) => ("As it really is, the plan dotted over it", &fit.real.study),
        None => ("As planned", study),
    };
    let sheet = Sheet {
        id: CanvasId::Fit,
        heading,
        place: "dry fit",
        study: shown,
        whose: None,
        scene: &desk.worked.scene,
        handles: &[],
        labelled: &[],
        bounds: desk.worked.bounds,
        style,
        empty: "There is nothing to draw.",
    };
    canvas::show(ui, drawing, &sheet, view, commands);
}

/// A figure: its name, its value with the error, and what was planned.
fn one(ui: &mut Ui, rect: Rect, study: &Study, found: &Found, style: LengthStyle, view: &mut View) {
    let palette = theme::palette(ui);
    let show = |value: f64| values::show(value, found.unit, 2, style);
    let (value, error) = (show(found.value), format!("± {}", show(found.error)));
    let planned = format!("planned {}", show(found.planned));
    let told = format!("{} {value} {error}, {planned}", found.name);
    let response = ui.interact(rect, Id::unique(("found", found.name)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &told));
    response.on_hover_text("± one standard deviation, as the reading errors leave it");
    let painter = ui.painter().with_clip_rect(rect);
    let put =
        |at: Pos2, text: &str, font, colour| painter.text(at, Align2::LEFT_TOP, text, font, colour);
    let at = pos2(rect.left(), rect.top() + space::M);
    let below = put(at, found.name, theme::label(), palette.dim).bottom() + 2.0;
    let at = pos2(rect.left(), below);
    let value_place = put(at, &value, theme::title(), palette.ink);
    let at = pos2(value_place.right() + space::M, below);
    let error_place = put(at, &error, theme::title(), palette.ink);
    let at = pos2(rect.left(), value_place.bottom() + 2.0);
    let planned_place = put(at, &planned, theme::label(), palette.dim);
    let [name, error_name] =
        [found.name.to_lowercase(), format!("the error of the {}", found.name.to_lowercase())];
    for (of, place, name, text) in
        [(found.of[0], value_place, name, value), (found.of[1], error_place, error_name, error)]
    {
        opener(ui, place, "fit", Figure::Fit(of), &format!("{name} as read, {text}"), view);
    }
    // one that is held was typed
    if found.plan.key().is_found(&study.design) {
        let spoken = format!("{}, {planned}", found.name.to_lowercase());
        opener(ui, planned_place, "planned", Figure::Dim(found.plan.key()), &spoken, view);
    }
}
