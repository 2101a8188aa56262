//! Drawings on the screen: where they stand, how they are drawn, how they are handled.

mod fill;
mod gear;
mod handles;
mod paint;
pub(crate) mod print;
pub(crate) mod strip;
pub(crate) mod swing;
mod table;
mod transform;

use std::cell::RefCell;

use egui::text::{LayoutJob, TextWrapping};
use egui::{
    Align, Align2, EventFilter, Key as Press, Layout, PointerButton, Rect, Role, Sense, Ui,
    WidgetInfo, vec2,
};
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_drawing::handles::Handle;
use overstand_drawing::scene::Scene;

pub(crate) use gear::{landed, step};
pub(crate) use handles::let_go;
pub(crate) use paint::Pen;
pub(crate) use transform::Transform;

use crate::command::Command;
use crate::panels::tips;
use crate::panels::working::Whose;
use crate::theme::{self, space};
use crate::view::{Camera, CanvasId, View};

/// How far from a line the pointer still points at it, in logical pixels.
const REACH: f64 = 4.0;
/// Change of the bounds, as a part of their size, that calls for fitting anew.
const OUTGROWN: f64 = 0.04;

/// A drawing to show, with what can be taken hold of.
pub(crate) struct Sheet<'a> {
    pub(crate) id: CanvasId,
    /// Its name, as a heading.
    pub(crate) heading: &'a str,
    /// Where its handles are, for those who hear and do not see.
    pub(crate) place: &'a str,
    pub(crate) study: &'a Study,
    /// Of a design beside the one in hand, what its figures are told apart by.
    pub(crate) whose: Option<Whose<'a>>,
    pub(crate) scene: &'a Scene,
    pub(crate) handles: &'a [Handle],
    /// Those that always show their value.
    pub(crate) labelled: &'a [Dim],
    /// What is fitted into the canvas, mm.
    pub(crate) bounds: Option<kurbo::Rect>,
    pub(crate) style: LengthStyle,
    /// Said where there is nothing to draw.
    pub(crate) empty: &'a str,
}

/// Shows a drawing in a rectangle of the screen.
pub(crate) fn show(
    ui: &mut Ui,
    rect: Rect,
    sheet: &Sheet<'_>,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    ui.painter().rect_filled(rect, 0.0, palette.paper);
    let mut ui = ui.new_child(egui::UiBuilder::new().id_salt(sheet.id as u8).max_rect(rect));
    ui.set_clip_rect(ui.clip_rect().intersect(rect));
    let ui = &mut ui;
    let Some(bounds) = sheet.bounds else {
        heading(ui, rect, sheet.heading);
        says(ui, rect, sheet.empty);
        return;
    };
    let is_dragging = view.drag.is_some();
    let (transform, response) = hold(ui, rect, sheet.heading, bounds, Pan::Middle, view, sheet.id);

    let part = response
        .hover_pos()
        .filter(|_| !is_dragging)
        .and_then(|at| sheet.scene.part_at(transform.to_mm(at), REACH / transform.zoom));
    let is_found = |dim: Dim| {
        dim.key().is_found(&sheet.study.design)
            && dim.info().role == overstand_core::dimension::Role::Closing
    };
    let pen = Pen {
        painter: &ui.painter().with_clip_rect(rect),
        palette,
        transform,
        style: sheet.style,
        part,
        is_found: &is_found,
        figures: RefCell::default(),
    };
    pen.scene(sheet.scene);
    let bar = pen.scale_bar(rect.right_top() + vec2(-space::XL, space::XL + 2.0));
    heading(ui, rect.with_max_x(bar.left()), &headed(sheet.heading, transform));
    let figure = response.hover_pos().filter(|_| !is_dragging).and_then(|at| pen.figure_at(at));
    if let Some(name) = figure.or(part.map(|part| part.name())) {
        response.on_hover_ui_at_pointer(|ui| tips::named(ui, name));
    }
    handles::show(ui, rect, sheet, transform, view, commands);
}

/// With which button a drawing is panned: the first belongs to the handles where there are
/// some.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pan {
    /// The middle one.
    Middle,
    /// The first or the middle one.
    Any,
}

/// Where a drawing stands in a rectangle of the screen: fitted, or as it was zoomed and panned
/// there.
pub(crate) fn hold(
    ui: &Ui,
    rect: Rect,
    name: &str,
    bounds: kurbo::Rect,
    pan: Pan,
    view: &mut View,
    id: CanvasId,
) -> (Transform, egui::Response) {
    let is_dragging = view.drag.is_some();
    let camera = view.cameras.entry(id).or_default();
    let mut transform = stand(camera, rect, bounds, is_dragging);
    let response = ui.interact(rect, ui.scope_id().with("canvas"), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, name));
    if let Some(moved) = moved(ui, &response, transform, pan) {
        let moved = moved.kept_near(bounds);
        transform = moved;
        camera.transform = Some(moved);
        camera.by_hand = true;
    }
    if response.double_clicked() {
        camera.by_hand = false;
        camera.fitted = None;
    }
    (transform, response)
}

/// The heading, and how heights and lengths compare.
fn headed(heading: &str, transform: Transform) -> String {
    if transform.stretch == 1.0 {
        format!("{heading} · true proportions")
    } else {
        format!("{heading} · heights × {:.0}, not true", transform.stretch)
    }
}

/// Heights are drawn larger than lengths, by a choice of factors.
pub(crate) fn stretch_menu(ui: &mut Ui, at: egui::Pos2, sheet: &Sheet<'_>, view: &mut View) {
    let camera = view.cameras.entry(sheet.id).or_default();
    let size = vec2(2.0 * space::FIT, space::HIT);
    let builder = egui::UiBuilder::new()
        .id_salt(("stretch", sheet.id as u8))
        .max_rect(Rect::from_min_size(at - vec2(size.x, size.y / 2.0), size))
        .layout(Layout::right_to_left(Align::Center));
    let mut ui = ui.new_child(builder);
    theme::quiet(&mut ui);
    let chip = theme::palette(&ui).paper.gamma_multiply(0.7);
    ui.visuals_mut().widgets.inactive.weak_bg_fill = chip;
    let shown = format!("× {}", camera.stretch.max(1));
    let words = egui::RichText::new(&shown).font(theme::label()).color(theme::palette(&ui).dim);
    let menu = ui.menu_button(words, |ui| {
        for factor in [1, 2, 5, 10] {
            let text = match factor {
                1 => "True proportions".to_owned(),
                _ => format!("Heights × {factor}"),
            };
            if ui.selectable_label(camera.stretch.max(1) == factor, text).clicked() {
                *camera = Camera { stretch: factor, ..Camera::default() };
                ui.close();
            }
        }
    });
    let name = format!("Heights {shown}: {}", sheet.place);
    menu.response.accessible_name(name).on_hover_text("Draw heights larger than lengths");
}

/// The line at the head of a canvas, for its controls; from the right.
fn head(ui: &mut Ui, rect: Rect) -> Ui {
    let line = Rect::from_min_size(
        rect.min + vec2(0.0, space::S),
        vec2(rect.width() - space::L, space::HIT),
    );
    let builder =
        egui::UiBuilder::new().max_rect(line).layout(Layout::right_to_left(Align::Center));
    let mut ui = ui.new_child(builder);
    theme::quiet(&mut ui);
    ui
}

/// Words in the middle of a canvas that has nothing to show.
pub(crate) fn says(ui: &mut Ui, rect: Rect, words: &str) {
    let palette = theme::palette(ui);
    let room = rect.width() - 2.0 * space::XL;
    let galley = ui.painter().layout(words.to_owned(), theme::text(), palette.dim, room);
    let at = Align2::CENTER_CENTER.anchor_size(rect.center(), galley.size());
    ui.painter().galley(at.min, galley, palette.dim);
    let response = ui.interact(at, ui.scope_id().with("says"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
}

/// What stands at the head of a canvas; in a narrow one it gives way to what `rect` leaves out
/// on its right.
pub(crate) fn heading(ui: &Ui, rect: Rect, text: &str) {
    let at = rect.left_top() + vec2(space::XL, space::L);
    let room = rect.right() - space::L - at.x;
    if room < 2.0 * space::XL {
        return;
    }
    let palette = theme::palette(ui);
    let mut words = LayoutJob::simple_singleline(text.to_owned(), theme::label(), palette.dim);
    words.wrap = TextWrapping::truncate_at_width(room);
    let galley = ui.painter().layout_job(words);
    // zoomed in, wood and metal lie beneath
    let chip = Rect::from_min_size(at, galley.size()).expand2(vec2(space::S, 0.0));
    ui.painter().rect_filled(chip, theme::CORNER, palette.paper);
    ui.painter().galley(at, galley, palette.dim);
}

/// Where the drawing stands: fitted, unless it was moved by hand. During a drag it
/// stays, and while the design changes but little.
fn stand(camera: &mut Camera, rect: Rect, bounds: kurbo::Rect, is_dragging: bool) -> Transform {
    if let Some(transform) = camera.transform.as_mut()
        && let Some((fitted, size)) = camera.fitted
    {
        let room = OUTGROWN * fitted.width().max(fitted.height());
        let same = (fitted.x0 - bounds.x0).abs() < room
            && (fitted.x1 - bounds.x1).abs() < room
            && (fitted.y0 - bounds.y0).abs() < room
            && (fitted.y1 - bounds.y1).abs() < room;
        let stays = camera.by_hand || is_dragging || (same && size == rect.size());
        if stays {
            transform.middle = rect.center();
            return *transform;
        }
    }
    // the lowest line of a canvas belongs to its buttons
    // above, the words over the highest handle stay clear of the line at the head
    let free = Rect::from_min_max(
        rect.min + vec2(space::FIT, space::CANVAS_HEAD + space::XL + space::S),
        rect.max - vec2(space::XL, space::FIT + space::M),
    );
    let fitted = Transform::fit(bounds, free, f64::from(camera.stretch.max(1)));
    // the middle of the canvas is what stays when its size changes
    let transform =
        Transform { centre: fitted.to_mm(rect.center()), middle: rect.center(), ..fitted };
    camera.transform = Some(transform);
    camera.fitted = Some((bounds, rect.size()));
    camera.by_hand = false;
    transform
}

/// The drawing zoomed at the pointer or panned, if it was.
fn moved(ui: &Ui, response: &egui::Response, transform: Transform, pan: Pan) -> Option<Transform> {
    let mut next = transform;
    // also over a handle
    let pointer = ui.input(|input| input.pointer.hover_pos());
    if let Some(pointer) = pointer.filter(|_| ui.rect_contains_pointer(response.rect)) {
        let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
        // a notch of a wheel is about 50 points
        let factor = f64::from(scroll / 200.0).exp() * f64::from(pinch);
        if factor != 1.0 {
            next = next.zoomed(pointer, factor);
        }
        let with_space = ui.memory(|memory| memory.focused().is_none())
            && ui.input(|input| input.key_down(Press::Space));
        if with_space {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
            next = next.panned(ui.input(|input| input.pointer.delta()));
        }
    }
    let by_first = pan == Pan::Any && response.dragged_by(PointerButton::Primary);
    if by_first || response.dragged_by(PointerButton::Middle) {
        ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
        next = next.panned(response.drag_delta());
    }
    if response.has_focus() {
        let filter = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let (zoom, pan) = ui.input(|input| {
            let pressed = |press| f32::from(u8::from(input.key_pressed(press)));
            let zoom = pressed(Press::Plus) + pressed(Press::Equals) - pressed(Press::Minus);
            let across = pressed(Press::ArrowLeft) - pressed(Press::ArrowRight);
            (zoom, vec2(across, pressed(Press::ArrowUp) - pressed(Press::ArrowDown)))
        });
        if zoom != 0.0 {
            next = next.zoomed(response.rect.center(), f64::from(zoom * 0.25).exp());
        }
        next = next.panned(pan * space::FIT);
    }
    (next != transform).then_some(next)
}
