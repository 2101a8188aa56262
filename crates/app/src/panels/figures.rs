//! Everything that is worked out for the joint, each with its working.

use egui::{Align2, Label, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2};
use overstand_core::joint::{Figure, Group, JointFigures, rise_over_run};
use overstand_core::units::LengthStyle;
use overstand_core::working::Figure as Asked;

use super::{check_card, tips, verdict};
use crate::theme::{self, space};
use crate::view::View;
use crate::{marks, values};

/// All groups, in the order they are shown.
const GROUPS: &[Group] = &Group::ALL;

/// Shows the list; none of a design that does not close.
pub(crate) fn show(
    ui: &mut Ui,
    figures: Option<&JointFigures>,
    style: LengthStyle,
    view: &mut View,
) {
    ui.take_available_width();
    ui.add_space(space::S);
    let heading = RichText::new("Worked out").font(theme::strong());
    ui.add(Label::new(heading).selectable(false));
    let Some(figures) = figures else {
        let text = "Nothing can be worked out as long as the design does not close. \
                    The panel on the right says what is wrong.";
        theme::remark(ui, text);
        ui.take_available_height();
        return;
    };
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        ui.spacing_mut().item_spacing.y = 0.0;
        if ui.available_width() < space::TWO_COLUMNS {
            column(ui, GROUPS, figures, style, view);
            return;
        }
        let (left, right) = halves(figures);
        ui.spacing_mut().item_spacing.x = space::XL;
        ui.columns(2, |columns| {
            column(&mut columns[0], left, figures, style, view);
            column(&mut columns[1], right, figures, style, view);
        });
    });
}

/// The groups in two columns of about the same height.
fn halves(figures: &JointFigures) -> (&'static [Group], &'static [Group]) {
    // a heading is about a row and a half
    let rows = |groups: &[Group]| -> usize {
        groups.iter().map(|group| 2 + figures.of_group(*group).count()).sum()
    };
    let higher = |at: &usize| {
        let (left, right) = GROUPS.split_at(*at);
        rows(left).max(rows(right))
    };
    let at = (0..=GROUPS.len()).min_by_key(higher).unwrap_or_default();
    GROUPS.split_at(at)
}

fn column(
    ui: &mut Ui,
    groups: &[Group],
    figures: &JointFigures,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    for &group in groups {
        let mut list = figures.of_group(group).peekable();
        if list.peek().is_none() {
            continue;
        }
        ui.add_space(space::S);
        let name = RichText::new(group.name()).font(theme::heading()).color(palette.dim);
        ui.add(Label::new(name).selectable(false));
        for figure in list {
            row(ui, figure, style, view);
        }
        ui.add_space(space::S);
    }
}

/// A figure: name, of an angle its rise over run, value. A click opens its working.
fn row(ui: &mut Ui, figure: &Figure, style: LengthStyle, view: &mut View) {
    let palette = theme::palette(ui);
    let is_open = view.figure == Some(figure.id);
    let just_opened = is_open && std::mem::take(&mut view.figure_opened);
    let value = values::show(figure.at_bench(), figure.unit, figure.digits, style);
    let called = match figure.raises() {
        Some(raises) => format!("{}, {raises}", figure.name),
        None => figure.name.to_owned(),
    };
    let rise = rise_over_run(figure.value, figure.unit, figure.digits);
    let spoken = match &rise {
        Some(rise) => format!("{called}, {value}, {rise}"),
        None => format!("{called}, {value}"),
    };
    let single = |text: String, colour| ui.painter().layout_no_wrap(text, theme::text(), colour);
    let value = single(value, palette.ink);
    let rise = rise.map(|rise| single(rise, palette.dim));
    // values stand under one another, and so do rises
    let value_width = value.size().x.max(space::FIELD - space::M);
    let beside = rise.as_ref().map_or(0.0, |rise| rise.size().x + space::M);
    let before = space::XL + space::S;
    let width = ui.available_width();
    let room = width - before - space::M - beside - value_width - space::S;
    let name = ui.painter().layout(called, theme::text(), palette.ink, room);
    let size = vec2(width, space::HIT.max(name.size().y + 2.0 * space::S));
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::DisclosureTriangle, true, is_open, &spoken));
    if response.hovered() || is_open {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    let painter = ui.painter();
    marks::fold(painter, rect.left_center() + vec2(space::M, 0.0), is_open, palette.dim);
    let right = rect.right_center() - vec2(space::S, 0.0);
    let put = |galley: std::sync::Arc<egui::Galley>, at, align: Align2, colour| {
        let place = align.anchor_size(at, galley.size());
        painter.galley(place.min, galley, colour);
    };
    put(value, right, Align2::RIGHT_CENTER, palette.ink);
    if let Some(rise) = rise {
        let at = right - vec2(value_width + space::M, 0.0);
        put(rise, at, Align2::RIGHT_CENTER, palette.dim);
    }
    put(name, rect.left_center() + vec2(before, 0.0), Align2::LEFT_CENTER, palette.ink);
    marks::focus_ring(ui, &response);
    if response.clicked() {
        view.figure = if is_open { None } else { Some(figure.id) };
        view.figure_opened = !is_open;
    }
    tips::on_figure(response, figure);
    if is_open {
        let card = ui.scope(|ui| {
            verdict::card(ui, |ui| {
                check_card::working(ui, &figure.working, figure.unit, style);
                if figure.group == Group::Straightedge {
                    check_card::every_step(ui, Asked::Joint(figure.id), view);
                }
            });
        });
        if just_opened {
            // the row as well, if there is room for both
            card.response.scroll_to_me(None);
            ui.scroll_to_rect(rect, None);
        }
        ui.add_space(space::S);
    }
}
