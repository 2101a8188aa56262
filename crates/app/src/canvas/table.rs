//! The clearances over the frets as a table, to read and to copy.

use egui::{Align2, Grid, Key as Press, Rect, Role, ScrollArea, Ui, WidgetInfo, vec2};
use overstand_core::layout::Layout as Laid;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::working::Figure;

use super::strip::{DIGITS, string_name};
use crate::marks;
use crate::panels::working::{self, Asked};
use crate::theme::{self, space};
use crate::values;
use crate::view::View;

/// All frets and strings: clearances of the open strings, or of the strings stopped at a
/// fret.
pub(super) fn show(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    layout: &Laid,
    view: &mut View,
    style: LengthStyle,
) {
    let stop = view.table_stop;
    let area = Rect::from_min_max(
        rect.min + vec2(space::XL, space::CANVAS_HEAD),
        rect.max - vec2(space::XL, space::S),
    );
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(area));
    let id = egui::Id::unique("table of clearances");
    let all = ui.interact(area, id, egui::Sense::focusable_noninteractive());
    all.widget_info(|| WidgetInfo::labeled(Role::Table, true, "Clearance over the frets"));
    go_over(&ui, &all, layout, view);
    let palette = theme::palette(&ui);
    ScrollArea::both().auto_shrink(false).show(&mut ui, |ui| {
        Grid::new("clearances").num_columns(1 + layout.strings.len()).striped(true).show(
            ui,
            |ui| {
                let along = if layout.is_fretted() { "Fret" } else { "Semitone" };
                ui.label(egui::RichText::new(along).color(palette.dim));
                for index in 0..layout.strings.len() {
                    let name = format!("{} · {}", index + 1, string_name(study, index));
                    ui.label(egui::RichText::new(name).font(theme::strong()));
                }
                ui.end_row();
                for fret in stop + 1..=layout.positions.len() {
                    ui.label(egui::RichText::new(fret.to_string()).color(palette.dim));
                    for index in 0..layout.strings.len() {
                        let text = cell(layout, index, stop, fret, style);
                        let figure = Figure::Clearance { string: index, stop, fret };
                        let name = string_name(study, index);
                        let spoken = format!("{name}, fret {fret}, {text}");
                        working::cell(ui, &text, figure, &spoken, view);
                    }
                    ui.end_row();
                }
            },
        );
    });
    // said once for the whole table
    let unit = values::unit_sign(Unit::Length, style);
    let at = rect.left_top() + vec2(space::XL + 160.0, space::L);
    ui.painter().text(
        at,
        Align2::LEFT_TOP,
        format!("{}, {unit}", heading(stop).to_lowercase()),
        theme::label(),
        palette.dim,
    );
    marks::focus_ring(&ui, &all);
}

/// With the focus on the table the arrow keys go from cell to cell, and each opens its working.
fn go_over(ui: &Ui, table: &egui::Response, layout: &Laid, view: &mut View) {
    if !table.has_focus() {
        return;
    }
    let filter =
        egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(table.id, filter));
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    let by = |less, more| i32::from(pressed(more)) - i32::from(pressed(less));
    let across = by(Press::ArrowLeft, Press::ArrowRight);
    let down = by(Press::ArrowUp, Press::ArrowDown);
    if (across, down) == (0, 0) || layout.strings.is_empty() {
        return;
    }
    let stop = view.table_stop;
    let (first, last) = (stop + 1, layout.positions.len());
    if first > last {
        return;
    }
    let (string, fret) = match view.asked.as_ref().and_then(Asked::figure) {
        Some(Figure::Clearance { string, stop: of, fret }) if of == stop => (
            string.saturating_add_signed(across as isize).min(layout.strings.len() - 1),
            fret.saturating_add_signed(down as isize).clamp(first, last),
        ),
        _ => (0, first),
    };
    view.asked = Some(Figure::Clearance { string, stop, fret }.into());
}

/// What the table is about.
pub(super) fn heading(stop: usize) -> String {
    match stop {
        0 => "Open strings".to_owned(),
        stop => format!("Stopped at {stop}"),
    }
}

fn cell(layout: &Laid, string: usize, stop: usize, fret: usize, style: LengthStyle) -> String {
    let clearance = match stop {
        0 => Some(layout.clearances.open(string, fret)),
        stop => layout.stopped_over(string, stop, fret),
    };
    clearance.map_or_else(
        || "–".to_owned(),
        |clearance| values::parts(clearance, Unit::Length, DIGITS, style).0,
    )
}

/// The table as text with tabs.
pub(super) fn as_text(study: &Study, layout: &Laid, stop: usize, style: LengthStyle) -> String {
    let unit = values::unit_sign(Unit::Length, style);
    let mut text = match stop {
        0 => format!("Fret ({unit})"),
        stop => format!("Stopped at {stop}, fret ({unit})"),
    };
    for index in 0..layout.strings.len() {
        text.push('\t');
        text.push_str(&string_name(study, index));
    }
    for fret in stop + 1..=layout.positions.len() {
        text.push('\n');
        text.push_str(&fret.to_string());
        for index in 0..layout.strings.len() {
            text.push('\t');
            text.push_str(&cell(layout, index, stop, fret, style));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use overstand_core::testing::worked_example;

    use super::*;

    #[test]
    fn the_table_has_every_fret_and_string() {
        let study = Study::of(&worked_example());
        let text = as_text(&study, study.layout().unwrap(), 0, LengthStyle::Millimetres);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 1 + 22);
        assert_eq!(lines[0], "Fret (mm)\te\tb\tg\td\ta\tE");
        // the worked example: 0.40 over fret 1, 1.80 over fret 12
        assert_eq!(lines[1].split('\t').nth(3), Some("0.40"));
        assert_eq!(lines[12].split('\t').nth(3), Some("1.80"));
    }

    #[test]
    fn a_stopped_table_begins_behind_the_stop() {
        let study = Study::of(&worked_example());
        let text = as_text(&study, study.layout().unwrap(), 12, LengthStyle::Millimetres);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 1 + 10);
        // the worked example: stopped at 12, 0.153 over fret 13
        assert!(lines[1].starts_with("13\t"));
        assert_eq!(lines[1].split('\t').nth(3), Some("0.15"));
    }
}
