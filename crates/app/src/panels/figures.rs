//! Everything that is worked out for the joint, each with its working.

use egui::{Align2, Label, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2};
use overstand_core::joint::{Figure, Group, JointFigures, rise_over_run};
use overstand_core::units::LengthStyle;

use super::{check_card, verdict};
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
    let palette = theme::palette(ui);
    ui.add_space(space::S);
    let heading = RichText::new("Worked out").font(theme::strong());
    ui.add(Label::new(heading).selectable(false));
    let Some(figures) = figures else {
        let text = "Nothing can be worked out as long as the design does not close. \
                    The panel on the right says what is wrong.";
        ui.add(Label::new(RichText::new(text).color(palette.dim)).wrap());
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
    let size = vec2(ui.available_width(), space::HIT);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let value = values::show(figure.value, figure.unit, figure.digits, style);
    let rise = rise_over_run(figure.value, figure.unit, figure.digits);
    let spoken = match &rise {
        Some(rise) => format!("{}, {value}, {rise}", figure.name),
        None => format!("{}, {value}", figure.name),
    };
    response.widget_info(|| WidgetInfo::selected(Role::DisclosureTriangle, true, is_open, &spoken));
    if response.hovered() || is_open {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    let middle = rect.left_center();
    marks::fold(ui.painter(), middle + vec2(space::M, 0.0), is_open, palette.dim);
    let painter = ui.painter();
    let right = rect.right_center() - vec2(space::S, 0.0);
    let shown = painter.text(right, Align2::RIGHT_CENTER, value, theme::text(), palette.ink);
    let mut end = shown.left();
    if let Some(rise) = rise {
        // under one another, and clear of the value
        let at = egui::pos2(end.min(right.x - space::FIELD + space::M) - space::M, right.y);
        end = painter.text(at, Align2::RIGHT_CENTER, rise, theme::text(), palette.dim).left();
    }
    let left = middle.x + space::XL + space::S;
    let mut name = egui::text::LayoutJob::simple_singleline(
        figure.name.to_owned(),
        theme::text(),
        palette.ink,
    );
    name.wrap = egui::text::TextWrapping::truncate_at_width((end - left - space::M).max(0.0));
    let name = painter.layout_job(name);
    let is_cut = name.elided;
    painter.galley(egui::pos2(left, middle.y - name.size().y / 2.0), name, palette.ink);
    marks::focus_ring(ui, &response);
    if response.clicked() {
        view.figure = if is_open { None } else { Some(figure.id) };
    }
    if is_cut {
        response.on_hover_text(figure.name);
    }
    if is_open {
        verdict::card(ui, |ui| {
            check_card::working(ui, &figure.working, figure.unit, style);
        });
        ui.add_space(space::S);
    }
}
