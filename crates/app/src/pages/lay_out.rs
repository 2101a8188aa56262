//! Lay out: the whole elevation, the clearance over the frets, and joint to tail.

use egui::{CursorIcon, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_drawing::elevation::{self, Show};
use overstand_drawing::handles::{Handle, handles};
use overstand_drawing::scene::Scene;
use overstand_drawing::strip::{Strip, strip};

use crate::canvas::{self, Sheet};
use crate::command::Command;
use crate::marks;
use crate::theme::{self, space, stroke};
use crate::tour::{self, Spot};
use crate::view::{CanvasId, View};

/// What is drawn of one study, kept until it changes.
#[derive(Debug, Default)]
pub(crate) struct Drawn {
    of: Option<u64>,
    whole: Scene,
    close_up: Scene,
    handles: Vec<Handle>,
    close_up_bounds: Option<kurbo::Rect>,
    strip: Strip,
    /// What the strip shows: string, stop, aligned.
    strip_of: (Option<usize>, Option<usize>, bool),
}

impl Drawn {
    fn update(&mut self, study: &Study, revision: u64, view: &View) {
        let strip_of = (view.string, view.stop, view.is_aligned);
        if self.of != Some(revision) || self.strip_of != strip_of {
            self.strip = strip(study, view.string, view.stop, !view.is_aligned);
            self.strip_of = strip_of;
        }
        if self.of == Some(revision) {
            return;
        }
        *self = Self {
            of: Some(revision),
            strip: std::mem::take(&mut self.strip),
            strip_of,
            whole: elevation::elevation(study),
            close_up: elevation::elevation_with(
                study,
                Show { dimensions: true, straightedge: false },
            ),
            handles: handles(study),
            close_up_bounds: elevation::joint_to_tail(study),
        };
    }
}

/// Handles that stand apart enough to be worked from the whole elevation.
const FROM_AFAR: [Dim; 3] = [Dim::CrestHeight, Dim::Pitch, Dim::HeadAngle];

/// Shows the page's canvases.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    shares: &mut [f32; 3],
    drawn: &mut Drawn,
    view: &mut View,
) -> Vec<Command> {
    drawn.update(study, revision, view);
    let mut commands = Vec::new();
    let all = ui.available_rect_before_wrap();
    let (far, near): (Vec<Handle>, Vec<Handle>) = (
        drawn.handles.iter().copied().filter(|handle| FROM_AFAR.contains(&handle.dim)).collect(),
        drawn.handles.iter().copied().filter(|handle| handle.dim != Dim::HeadAngle).collect(),
    );
    let empty = "There is nothing to draw as long as the design makes no sense. \
                 The panel on the right says what is wrong.";
    for (id, rect) in places(ui, all, shares, view) {
        match id {
            CanvasId::Whole => tour::mark(ui, Spot::Whole, rect),
            CanvasId::Strip => tour::mark(ui, Spot::Strip, rect),
            _ => {}
        }
        let sheet = match id {
            CanvasId::Whole => Sheet {
                id,
                heading: "Side elevation",
                place: "whole elevation",
                study,
                whose: None,
                scene: &drawn.whole,
                handles: &far,
                labelled: &[Dim::CrestHeight, Dim::Pitch],
                bounds: drawn.whole.bounds(),
                style,
                empty,
            },
            CanvasId::CloseUp => Sheet {
                id,
                heading: "Close-up: joint to tail",
                place: "close-up",
                study,
                whose: None,
                scene: &drawn.close_up,
                handles: &near,
                labelled: &[],
                bounds: drawn.close_up_bounds,
                style,
                empty,
            },
            CanvasId::Joint
            | CanvasId::Swing
            | CanvasId::Fit
            | CanvasId::Wood
            | CanvasId::Sheet
            | CanvasId::Assembly
            | CanvasId::Map
            | CanvasId::BesideMap
            | CanvasId::CompareA
            | CanvasId::CompareB => continue,
            CanvasId::Strip => {
                canvas::strip::show(ui, rect, study, &drawn.strip, style, view);
                fill_button(ui, rect, id, "clearance over the frets", view);
                continue;
            }
        };
        canvas::show(ui, rect, &sheet, view, &mut commands);
        let beside = rect.right_bottom() - vec2(space::FIT, space::XL);
        canvas::stretch_menu(ui, beside, &sheet, view);
        fill_button(ui, rect, id, sheet.place, view);
    }
    if view.filling.is_none() {
        let pen = Stroke::new(1.0, theme::palette(ui).hairline);
        for share in [shares[0], shares[0] + shares[1]] {
            ui.painter().hline(all.x_range(), all.top() + all.height() * share, pen);
        }
    }
    commands
}

/// Where each canvas stands; the borders between them can be dragged.
fn places(ui: &Ui, all: Rect, shares: &mut [f32; 3], view: &View) -> Vec<(CanvasId, Rect)> {
    if let Some(id) = view.filling {
        return vec![(id, all)];
    }
    let mut tops = [all.top(); 4];
    for index in 0..3 {
        tops[index + 1] = tops[index] + all.height() * shares[index];
    }
    tops[3] = all.bottom();
    for border in 0..2 {
        let y = tops[border + 1];
        let line =
            Rect::from_min_max(pos2(all.left(), y - space::S), pos2(all.right(), y + space::S));
        let id = egui::Id::unique(("border", border));
        let response =
            ui.interact(line, id, Sense::drag()).on_hover_and_drag_cursor(CursorIcon::ResizeRow);
        response
            .widget_info(|| WidgetInfo::labeled(Role::Splitter, true, "Border between drawings"));
        if response.dragged() && all.height() > 0.0 {
            let least = (space::CANVAS / all.height()).min(0.3);
            let by = (response.drag_delta().y / all.height())
                .clamp(least - shares[border], shares[border + 1] - least);
            shares[border] += by;
            shares[border + 1] -= by;
        }
    }
    CanvasId::ALL
        .into_iter()
        .enumerate()
        .map(|(index, id)| {
            let rect = Rect::from_min_max(
                pos2(all.left(), tops[index]),
                pos2(all.right(), tops[index + 1]),
            );
            (id, rect)
        })
        .collect()
}

/// Lets a canvas fill the middle, or gives the others their place back.
fn fill_button(ui: &Ui, rect: Rect, id: CanvasId, place: &str, view: &mut View) {
    let is_filling = view.filling == Some(id);
    let at = rect.right_bottom() - vec2(space::XL, space::XL);
    let area = Rect::from_center_size(at, egui::Vec2::splat(space::HIT));
    let response = ui.interact(area, egui::Id::unique(("fill", id as u8)), Sense::click());
    let text = if is_filling { "Show all drawings" } else { "Fill the middle with this drawing" };
    let name = format!("{text}: {place}");
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_filling, &name));
    let palette = theme::palette(ui);
    let colour = if response.hovered() { palette.ink } else { palette.dim };
    ui.painter().rect_filled(area, theme::CORNER, palette.paper.gamma_multiply(0.7));
    marks::corners(ui.painter(), at, is_filling, Stroke::new(stroke::VISIBLE, colour));
    marks::focus_ring(ui, &response);
    if response.on_hover_text(text).clicked() {
        view.filling = if is_filling { None } else { Some(id) };
    }
}
