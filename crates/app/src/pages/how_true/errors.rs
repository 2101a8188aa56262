//! What each error costs, the dearest first: what one unit of it does, and its share.

use egui::{
    Align2, EventFilter, Id, Key as Press, Label, Rect, Response, RichText, Role, ScrollArea,
    Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};
use overstand_core::design::Design;
use overstand_core::risk::{Risk, Row, Source};
use overstand_core::sentence::lower;
use overstand_core::units::{LengthStyle, MM_PER_INCH, Unit, show_number};
use overstand_core::working::{Figure, OfError};

use super::tolerances::show_plus_minus;
use crate::panels::differences::put_words;
use crate::panels::tips;
use crate::panels::working::{Asked, in_table};
use crate::theme::{self, space, stroke};
use crate::view::{Extra, Field, View};
use crate::{marks, values};

/// Where columns begin, as parts of the width: name, ±, for each, crest, action, reserve, crest
/// at its ±, share, later.
const COLUMNS: [f32; 9] = [0.0, 0.235, 0.325, 0.395, 0.485, 0.575, 0.665, 0.755, 0.88];
/// Those that hold numbers.
const NUMBERS: std::ops::RangeInclusive<usize> = 1..=6;
/// What stands over them, each with the term that explains it.
pub(super) const HEADS: [(&str, &str); 9] = [
    ("Error", "Error"),
    ("±", "Tolerance"),
    ("For each", "Sensitivity"),
    ("Crest by", "Sensitivity"),
    ("Action by", "Sensitivity"),
    ("Reserve by", "Reserve"),
    ("Crest at ±", "Tolerance"),
    ("Share", "Share"),
    ("Later", "Set right later"),
];
/// Height of a row.
const ROW: f32 = 22.0;

fn column(rect: Rect, index: usize) -> Rect {
    let at = |part: f32| rect.left() + part * rect.width();
    let end = COLUMNS.get(index + 1).map_or(rect.right(), |next| at(*next) - space::S);
    Rect::from_min_max(pos2(at(COLUMNS[index]), rect.top()), pos2(end, rect.bottom()))
}

/// Shows the table in the room that is left.
pub(super) fn show(ui: &mut Ui, design: &Design, risk: &Risk, style: LengthStyle, view: &mut View) {
    if risk.budget.rows.is_empty() {
        theme::remark(ui, super::NOTHING_MISSES);
        return;
    }
    head(ui);
    let rows = &risk.budget.rows;
    ui.spacing_mut().item_spacing.y = 0.0;
    let area = ui.available_rect_before_wrap();
    let id = Id::unique("table of errors");
    let table = ui.interact(area, id, Sense::focusable_noninteractive());
    let told = "What each error costs. Arrow keys open the working of its figures, Enter goes to \
                its tolerance";
    table.widget_info(|| WidgetInfo::labeled(Role::Table, true, told));
    let moved = go_over(ui, &table, rows, view);
    ScrollArea::vertical().id_salt("errors").auto_shrink(false).show_rows(
        ui,
        ROW,
        rows.len(),
        |ui, seen| {
            theme::beside_scroll_bar(ui);
            if let Some(row) = moved {
                // it may not be among those that are seen
                let top = ui.max_rect().top() + ROW * (row as f32 - seen.start as f32);
                let place = Rect::from_min_size(pos2(area.left(), top), vec2(0.0, ROW));
                ui.scroll_to_rect(place, None);
            }
            for row in rows.get(seen).unwrap_or_default() {
                line(ui, design, row, style, view);
            }
        },
    );
    marks::focus_ring(ui, &table);
}

/// With the focus on the table the arrow keys go from figure to figure, and each opens its
/// working. Gives back the row that was gone to.
fn go_over(ui: &Ui, table: &Response, rows: &[Row], view: &mut View) -> Option<usize> {
    if !table.has_focus() {
        return None;
    }
    let filter =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(table.id, filter));
    let at = match view.asked.as_ref().and_then(Asked::figure) {
        Some(Figure::Error(source, of)) => rows
            .iter()
            .position(|row| row.tolerated.source == source)
            .zip(OfError::ALL.iter().position(|other| *other == of)),
        _ => None,
    };
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    if let (Some((row, _)), true) = (at, pressed(Press::Enter)) {
        go_to_tolerance(ui, rows[row].tolerated.source, view);
        return None;
    }
    let by = |less, more| isize::from(pressed(more)) - isize::from(pressed(less));
    let across = by(Press::ArrowLeft, Press::ArrowRight);
    let down = by(Press::ArrowUp, Press::ArrowDown);
    if (across, down) == (0, 0) {
        return None;
    }
    let (row, of) = at.map_or((0, 0), |(row, of)| {
        let moved = |from: usize, by, count: usize| from.saturating_add_signed(by).min(count - 1);
        (moved(row, down, rows.len()), moved(of, across, OfError::ALL.len()))
    });
    view.asked = Some(Figure::Error(rows[row].tolerated.source, OfError::ALL[of]).into());
    Some(row)
}

fn go_to_tolerance(ui: &Ui, source: Source, view: &mut View) {
    view.focus = Some(Field::Extra(Extra::Tolerance(source)));
    ui.ctx().request_repaint();
}

fn head(ui: &mut Ui) {
    let palette = theme::palette(ui);
    let note = "What one unit too much does to the crest that is needed, to the action if the \
                saddle stays, and to the lesser reserve of the saddle";
    let words = RichText::new(note).font(theme::label()).color(palette.dim);
    ui.add(Label::new(words).truncate().selectable(false));
    let width = ui.available_width() - space::M;
    let (rect, _) = ui.allocate_exact_size(vec2(width, space::XL), Sense::hover());
    for (index, (name, term)) in HEADS.into_iter().enumerate() {
        let place = column(rect, index);
        if NUMBERS.contains(&index) {
            let at = place.right_center();
            ui.painter().text(at, Align2::RIGHT_CENTER, name, theme::heading(), palette.dim);
        } else {
            put_words(ui, name_place(place, index), name, theme::heading(), palette.dim);
        }
        tips::on_heading(ui, place, (name, term));
    }
}

/// What stands at the left keeps clear of numbers before it.
fn name_place(place: Rect, index: usize) -> Rect {
    if index == 0 { place } else { place.with_min_x(place.left() + space::M) }
}

/// A slope in mm for each unit, as it is shown; in inches for each inch where lengths are.
fn show_slope(slope: f64, source: Source, style: LengthStyle) -> String {
    let (value, unit, digits) = match source.unit() {
        Unit::Length => (slope, values::unit_sign(Unit::Length, style), 2),
        _ if style.is_inch() => (slope / MM_PER_INCH, "in", 3),
        _ => (slope, "mm", 2),
    };
    let shown = show_number(value.abs(), digits);
    if shown.chars().all(|c| matches!(c, '0' | '.')) {
        return "–".to_owned();
    }
    let sign = if value < 0.0 { "−" } else { "+" };
    format!("{sign}{shown} {unit}")
}

/// What a slope is for: one of the unit that its source is in.
fn show_each(source: Source, style: LengthStyle) -> String {
    match values::unit_sign(source.unit(), style) {
        "°" => "1°".to_owned(),
        "" => "1".to_owned(),
        unit => format!("1 {unit}"),
    }
}

/// One error. A click goes to its ±. The keyboard comes here through the table.
fn line(ui: &mut Ui, design: &Design, row: &Row, style: LengthStyle, view: &mut View) {
    let palette = theme::palette(ui);
    let one = &row.tolerated;
    let name = one.source.name(design);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::CLICK);
    if response.hovered() {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    let plus_minus = show_plus_minus(one.source, one.plus_minus, style);
    let slopes =
        [row.crest, row.action, row.reserve].map(|slope| show_slope(slope, one.source, style));
    let worst = values::show(row.worst, Unit::Length, 2, style);
    let share = format!("{:.1} %", 100.0 * row.share);
    let later = one.later.map_or("cannot", |later| later.show());
    put_words(ui, column(rect, 0), &name, theme::text(), palette.ink);
    let each = show_each(one.source, style);
    let at_worst = format!("±{worst}");
    let numbers = [&plus_minus, &each, &slopes[0], &slopes[1], &slopes[2], &at_worst];
    let mut places = Vec::new();
    for (index, text) in numbers.into_iter().enumerate() {
        let at = column(rect, index + 1).right_center();
        let ink = palette.ink;
        places.push(ui.painter().text(at, Align2::RIGHT_CENTER, text, theme::text(), ink));
    }
    places.push(bar(ui, name_place(column(rect, 7), 7), row.share, &share));
    let colour = if one.later.is_some() { palette.ink } else { palette.dim };
    put_words(ui, name_place(column(rect, 8), 8), later, theme::text(), colour);
    let spoken = format!(
        "{name} {plus_minus}: for each {each} crest by {}, action by {}, reserve by {}; crest \
         {at_worst}, share {share}, set right later: {later}",
        slopes[0], slopes[1], slopes[2]
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &spoken));
    if response.on_hover_text("Go to its ±").clicked() {
        go_to_tolerance(ui, one.source, view);
    }
    let said = [&slopes[0], &slopes[1], &slopes[2], &at_worst, &share];
    // the first two columns are what is put in
    for ((of, text), place) in OfError::ALL.into_iter().zip(said).zip(places.into_iter().skip(2)) {
        let figure = Figure::Error(one.source, of);
        let spoken = format!("{}: {}, {text}", lower(&name), of.name());
        in_table(ui, place.expand2(vec2(space::S, 1.0)), "error", figure, &spoken, view);
    }
}

/// Its part of the whole, as a bar with its number; gives back where that stands.
fn bar(ui: &Ui, place: Rect, share: f64, text: &str) -> Rect {
    let palette = theme::palette(ui);
    let number = ui.painter().layout_no_wrap(text.to_owned(), theme::label(), palette.ink);
    // as much as the widest number takes
    let room = 40.0;
    let rail = place.with_max_x(place.right() - room).shrink2(vec2(0.0, ROW / 3.5));
    let right = rail.left() + rail.width() * share.clamp(0.0, 1.0) as f32;
    ui.painter().rect_filled(rail, 1.0, palette.rail);
    ui.painter().rect_filled(rail.with_max_x(right), 1.0, palette.ink);
    ui.painter().vline(rail.left(), rail.y_range(), Stroke::new(stroke::VISIBLE, palette.ink));
    let at = Align2::RIGHT_CENTER.anchor_size(place.right_center(), number.size());
    ui.painter().galley(at.min, number, palette.ink);
    at
}

#[cfg(test)]
mod tests {
    use overstand_core::dimension::Dim;

    use super::*;

    #[test]
    fn a_slope_is_shown_with_both_units() {
        let (mm, inch) = (LengthStyle::Millimetres, LengthStyle::InchDecimal);
        let pitch = Source::Dim(Dim::Pitch.key());
        assert_eq!(show_slope(-1.126, Source::SeatMouth, mm), "−1.13 mm");
        assert_eq!(show_slope(-1.126, Source::SeatMouth, inch), "−1.13 in");
        assert_eq!(show_each(Source::SeatMouth, inch), "1 in");
        assert_eq!(show_slope(9.04, pitch, mm), "+9.04 mm");
        assert_eq!(show_slope(9.04, pitch, inch), "+0.356 in");
        assert_eq!(show_each(pitch, mm), "1°");
        assert_eq!(show_slope(1e-5, pitch, mm), "–");
    }
}
