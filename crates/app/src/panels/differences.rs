//! The table of what differs between two designs.

use std::sync::Arc;

use egui::{
    Align2, Button, Color32, FontId, Galley, Label, Rect, RichText, Role, ScrollArea, Stroke, Ui,
    WidgetInfo, pos2, vec2,
};
use overstand_core::compare::{Cell, Comparison, Group, Row, Side, Subject, take, take_part};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, show_number};
use overstand_core::working::Figure;

use crate::command::Command;
use crate::marks;
use crate::pages::compare::{put, row as row_rect};
use crate::panels::tips;
use crate::panels::working::{Of, Whose, opener};
use crate::theme::{self, space, stroke};
use crate::view::View;

/// Where columns begin, as parts of the width: name, A, into B, B, into A, difference,
/// better, margins.
const COLUMNS: [f32; 8] = [0.0, 0.33, 0.47, 0.51, 0.65, 0.70, 0.82, 0.87];
/// Those that hold numbers.
const NUMBERS: [usize; 3] = [1, 3, 5];
/// What stands over the columns, each with the term that explains it.
pub(crate) const HEADS: [(&str, &str); 6] = [
    ("What differs", "Difference"),
    ("A", "A and B"),
    ("B", "A and B"),
    ("B less A", "Difference"),
    ("Better", "Better"),
    ("Margins, A over B", "Margin"),
];
/// Margins are drawn up to so many thin bands.
const MOST_MARGIN: f64 = 3.0;

/// Shows the table.
pub(crate) fn show(
    ui: &mut Ui,
    both: &Comparison,
    studies: [&Study; 2],
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    ui.take_available_width();
    if both.rows.is_empty() {
        let text = "Nothing differs: change one of the two, and what differs is listed here.";
        let words = RichText::new(text).color(theme::palette(ui).dim);
        ui.add(Label::new(words).wrap().selectable(false));
        ui.take_available_height();
        return;
    }
    let names = Side::BOTH
        .map(|side| format!("{}: {}", side.name(), studies[side as usize].design.name.trim()));
    let whose = Side::BOTH.map(|side| {
        let index = side as usize;
        Whose { name: &names[index], design: &studies[index].design }
    });
    let (head_rect, _) = row_rect(ui);
    let rows = ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        let wide = ui.available_width();
        ui.spacing_mut().item_spacing.y = 0.0;
        for group in both.groups() {
            heading(ui, group, studies, view, commands);
            for row in both.of_group(group) {
                line(ui, row, studies, whose, style, view, commands);
            }
        }
        wide
    });
    head(ui, Rect::from_min_size(head_rect.min, vec2(rows.inner, head_rect.height())));
}

fn column(rect: Rect, index: usize) -> Rect {
    let at = |part: f32| rect.left() + part * rect.width();
    // numbers end where words begin
    let gap = if NUMBERS.contains(&index) { space::L } else { space::S };
    let end = COLUMNS.get(index + 1).map_or(rect.right(), |next| at(*next) - gap);
    Rect::from_min_max(pos2(at(COLUMNS[index]), rect.top()), pos2(end, rect.bottom()))
}

/// What the columns hold, over them.
fn head(ui: &Ui, rect: Rect) {
    let palette = theme::palette(ui);
    for ((name, term), index) in HEADS.into_iter().zip([0, 1, 3, 5, 6, 7]) {
        let place = column(rect, index);
        if NUMBERS.contains(&index) {
            put_number(ui, place, name, theme::heading(), palette.dim);
        } else {
            put_words(ui, place, name, theme::heading(), palette.dim);
        }
        tips::on_heading(ui, place, (name, term));
    }
}

/// Words that end where their column does.
pub(crate) fn put_words(ui: &Ui, place: Rect, text: &str, font: FontId, colour: Color32) {
    let galley = cut(ui, text, font, colour, place.width());
    let at = Align2::LEFT_CENTER.anchor_size(place.left_center(), galley.size());
    ui.painter().galley(at.min, galley, colour);
}

/// A number, which ends where its column does: digits then stand below each other. Gives back
/// what it leaves of the column.
fn put_number(ui: &Ui, place: Rect, text: &str, font: FontId, colour: Color32) -> Rect {
    let galley = cut(ui, text, font, colour, place.width());
    let at = Align2::RIGHT_CENTER.anchor_size(place.right_center(), galley.size());
    ui.painter().galley(at.min, galley, colour);
    place.with_max_x((at.left() - space::S).max(place.left()))
}

/// Where a number stands that leaves so much of its column.
fn number(place: Rect, left: Rect) -> Rect {
    place.with_min_x(left.right() + space::S).shrink2(vec2(0.0, space::S))
}

fn cut(ui: &Ui, text: &str, font: FontId, colour: Color32, room: f32) -> Arc<Galley> {
    let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, colour);
    job.wrap = egui::text::TextWrapping::truncate_at_width(room.max(1.0));
    ui.painter().layout_job(job)
}

/// A heading; a part can be taken as a whole.
fn heading(
    ui: &mut Ui,
    group: Group,
    studies: [&Study; 2],
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    ui.add_space(space::S);
    let palette = theme::palette(ui);
    let (rect, _) = row_rect(ui);
    let name = group.name();
    let place = column(rect, 0);
    put_words(ui, place, name, theme::strong(), palette.ink);
    let id = ui.scope_id().with(("heading", name));
    ui.interact(place, id, egui::Sense::hover())
        .widget_info(|| WidgetInfo::labeled(Role::Label, true, name));
    if let Group::Inputs(part) = group {
        for (into, index) in [(Side::B, 2), (Side::A, 4)] {
            let from = into.other();
            let says =
                format!("Take all of {}'s {} into {}", from.name(), lower(name), into.name());
            if arrow(ui, column(rect, index), into, &says) {
                let taken = take_part(studies[from as usize], studies[into as usize], part);
                put(taken, view, commands);
            }
        }
    }
}

/// A button that takes something over into one of the two.
fn arrow(ui: &mut Ui, place: Rect, into: Side, says: &str) -> bool {
    let text = match into {
        Side::A => "← A",
        Side::B => "B →",
    };
    let words = RichText::new(text).font(theme::label());
    let area =
        Rect::from_min_size(place.min, vec2(space::FIT, place.height())).shrink2(vec2(0.0, 2.0));
    // beside what is laid out: the rows stay where they are
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(area).id_salt(says));
    theme::quiet(&mut ui);
    ui.spacing_mut().button_padding = vec2(space::S / 2.0, 0.0);
    let response = ui.add_sized(area.size(), Button::new(words));
    response.accessible_name(says).on_hover_text(says).clicked()
}

fn line(
    ui: &mut Ui,
    row: &Row,
    studies: [&Study; 2],
    whose: [Whose<'_>; 2],
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let (rect, response) = row_rect(ui);
    let shown = row.cells.each_ref().map(|cell| said(cell, row.group, style));
    let difference = row.show_difference(style);
    let mut spoken = format!("{}: A {}, B {}", row.name, shown[0], shown[1]);
    if !difference.is_empty() {
        spoken += &format!(", B less A {difference}");
    }
    let margins = row.cells.each_ref().map(Cell::margin);
    if let [Some(a), Some(b)] = margins {
        spoken += &format!(", margins {a:.1} and {b:.1}");
    }
    if let Some(better) = row.better {
        spoken += &format!(", better {}", better.name());
    }
    if response.hovered() {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
    put_words(ui, column(rect, 0), &row.name, theme::text(), palette.ink);
    for (side, index) in [(Side::A, 1), (Side::B, 3)] {
        let mut place = column(rect, index);
        if let Some(state) = row.cell(side).state() {
            let at = place.left_center() + vec2(space::S, 0.0);
            marks::state(ui.painter(), at, state, palette.state(state));
            place.min.x += space::XL;
        }
        let font = if row.better == Some(side) { theme::strong() } else { theme::text() };
        let found = matches!(row.cell(side), Cell::Value(_, true) | Cell::Thick(_));
        let colour = if found { palette.accent } else { palette.ink };
        let cell = row.cell(side);
        if cell.quantity().is_none() {
            put_words(ui, place, &shown[side as usize], font, colour);
            continue;
        }
        // what is said of a number stands at the other side of the column
        let left = put_number(ui, place, &cell.show(style), font, colour);
        if let Some(aside) = aside(cell, row.group) {
            put_words(ui, left, aside, theme::label(), palette.dim);
        }
        if let Some(figure) = row.figures[side as usize] {
            let of = whose[side as usize];
            let spoken = format!("{} of {}, {}", lower(&row.name), of.name, cell.show(style));
            opener(ui, number(place, left), "cell", Of::new(figure, Some(of)), &spoken, view);
        }
    }
    if !difference.is_empty() {
        let place = column(rect, 5);
        let left = put_number(ui, place, &difference, theme::text(), palette.ink);
        let spoken = format!("B less A of {}, {difference}", lower(&row.name));
        opener(ui, number(place, left), "less", Of::Less(row, whose), &spoken, view);
    }
    if let Some(better) = row.better {
        put_words(ui, column(rect, 6), better.name(), theme::strong(), palette.ink);
    }
    bars(ui, column(rect, 7), row, whose, view);
    let long = shown.iter().any(|text| text.chars().count() > 18) || row.name.len() > 40;
    if long {
        response.on_hover_text(&spoken);
    }
    if !row.can_be_taken() {
        return;
    }
    for (into, index) in [(Side::B, 2), (Side::A, 4)] {
        let from = into.other();
        if *row.cell(from) == Cell::Missing {
            continue;
        }
        let says = format!("Take {}'s {} into {}", from.name(), lower(&row.name), into.name());
        if arrow(ui, column(rect, index), into, &says) {
            let taken = take(studies[from as usize], studies[into as usize], &row.subject);
            put(taken, view, commands);
        }
    }
}

fn said(cell: &Cell, group: Group, style: LengthStyle) -> String {
    let shown = cell.show(style);
    aside(cell, group).map_or_else(|| shown.clone(), |aside| format!("{shown}, {aside}"))
}

/// What is said of a number: the state of a check, that it was found.
fn aside(cell: &Cell, group: Group) -> Option<&'static str> {
    match cell {
        Cell::Check(_, state, _) => Some(marks::state_word(*state)),
        Cell::Value(_, true) if matches!(group, Group::Inputs(_)) => Some("found"),
        _ => None,
    }
}

/// The margins of a check, A above B, with a line where good begins; each opens.
fn bars(ui: &Ui, place: Rect, row: &Row, whose: [Whose<'_>; 2], view: &mut View) {
    let margins = row.cells.each_ref().map(Cell::margin);
    if margins == [None, None] {
        return;
    }
    let palette = theme::palette(ui);
    let at = |margin: f64| {
        place.left() + place.width() * (margin.clamp(0.0, MOST_MARGIN) / MOST_MARGIN) as f32
    };
    let high = space::S + 1.0;
    for (index, (cell, margin)) in row.cells.iter().zip(margins).enumerate() {
        let (Some(state), Some(margin)) = (cell.state(), margin) else { continue };
        let top = place.center().y - high - 1.0 + index as f32 * (high + 2.0);
        // something is to be seen of a margin that is used up
        let right = at(margin).max(place.left() + stroke::STRONG);
        let bar = Rect::from_min_max(pos2(place.left(), top), pos2(right, top + high));
        ui.painter().rect_filled(bar, 1.0, palette.state(state));
        if let Subject::Check(id) = row.subject {
            let of = whose[index];
            let name = lower(&row.name);
            let spoken = format!("margin of {name} of {}, {}", of.name, show_number(margin, 1));
            // a bar may be too short to be hit
            let track = bar.with_max_x(place.right()).expand2(vec2(0.0, 1.0));
            opener(ui, track, "bar", Of::new(Figure::Margin(id), Some(of)), &spoken, view);
        }
    }
    let pen = Stroke::new(stroke::THIN, palette.ink);
    ui.painter().vline(at(1.0), place.y_range().shrink(space::S), pen);
}
