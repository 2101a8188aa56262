//! The clearances over the frets as a table, to read and to copy.

use egui::{Align2, Grid, Rect, Role, ScrollArea, Ui, WidgetInfo, vec2};
use overstand_core::layout::Layout as Laid;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};

use super::strip::{DIGITS, string_name};
use crate::theme::{self, space};
use crate::values;

/// All frets and strings: open clearances, and the least of the notes fretted there.
pub(super) fn show(ui: &mut Ui, rect: Rect, study: &Study, layout: &Laid, style: LengthStyle) {
    let area = Rect::from_min_max(
        rect.min + vec2(space::XL, space::CANVAS_HEAD),
        rect.max - vec2(space::XL, space::S),
    );
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(area));
    let palette = theme::palette(&ui);
    ScrollArea::both().auto_shrink(false).show(&mut ui, |ui| {
        Grid::new("clearances").num_columns(1 + layout.strings.len()).striped(true).show(
            ui,
            |ui| {
                ui.label(egui::RichText::new("Fret").color(palette.dim));
                for index in 0..layout.strings.len() {
                    let name = format!("{} · {}", index + 1, string_name(study, index));
                    ui.label(egui::RichText::new(name).font(theme::strong()));
                }
                ui.end_row();
                for fret in 1..=layout.clearances.frets() {
                    ui.label(egui::RichText::new(fret.to_string()).color(palette.dim));
                    for index in 0..layout.strings.len() {
                        let open = layout.clearances.open(index, fret);
                        ui.label(values::parts(open, Unit::Length, DIGITS, style).0);
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
        format!("open strings, {unit}"),
        theme::label(),
        palette.dim,
    );
    ui.response()
        .widget_info(|| WidgetInfo::labeled(Role::Table, true, "Clearance over the frets"));
}

/// The table as text with tabs.
pub(super) fn as_text(study: &Study, layout: &Laid, style: LengthStyle) -> String {
    let mut text = format!("Fret ({})", values::unit_sign(Unit::Length, style));
    for index in 0..layout.strings.len() {
        text.push('\t');
        text.push_str(&string_name(study, index));
    }
    for fret in 1..=layout.clearances.frets() {
        text.push('\n');
        text.push_str(&fret.to_string());
        for index in 0..layout.strings.len() {
            let open = layout.clearances.open(index, fret);
            text.push('\t');
            text.push_str(&values::parts(open, Unit::Length, DIGITS, style).0);
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
        let text = as_text(&study, study.layout().unwrap(), LengthStyle::Millimetres);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 1 + 22);
        assert_eq!(lines[0], "Fret (mm)\te\tb\tg\td\ta\tE");
        // the worked example: 0.40 over fret 1, 1.80 over fret 12
        assert_eq!(lines[1].split('\t').nth(3), Some("0.40"));
        assert_eq!(lines[12].split('\t').nth(3), Some("1.80"));
    }
}
