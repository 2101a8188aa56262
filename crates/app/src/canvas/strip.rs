//! The clearance over the frets: heights stretched, open and stopped strings over the
//! crowns, and the range in which they are wanted; as a chart or as a table.

mod chart;

use egui::{ComboBox, Key as Press, Rect, Ui, WidgetInfo};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::working::Figure;
use overstand_drawing::strip::{Strip, StripFret, StripLine};

use super::table;
use crate::panels::tips;
use crate::panels::working::{self, Of};
use crate::theme;
use crate::values;
use crate::view::View;

/// Decimals of a clearance that mean something.
pub(super) const DIGITS: usize = 2;

/// Shows the strip in a rectangle of the screen.
pub(crate) fn show(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    strip: &Strip,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    ui.painter().rect_filled(rect, 0.0, palette.paper);
    let mut ui = ui.new_child(egui::UiBuilder::new().id_salt("strip").max_rect(rect));
    ui.set_clip_rect(ui.clip_rect().intersect(rect));
    let ui = &mut ui;
    let head = rect.with_max_x(controls(ui, rect, study, style, view));
    let over = match is_fretted(study) {
        true => "Clearance over the frets",
        false => "Clearance over the board, at its semitones",
    };
    if view.is_table {
        super::heading(ui, head, "Clearance over the frets");
        match study.layout() {
            Some(layout) => table::show(ui, rect, study, layout, view, style),
            None => {
                let says = "There are no clearances as long as the design does not close. \
                            The panel on the right says what is wrong.";
                super::says(ui, rect, says);
            }
        }
        return;
    }
    let Some(shown) = chart::show(ui, rect, study, strip, style, view) else {
        super::heading(ui, head, over);
        let says = match strip.frets.is_empty() {
            true => "There is nothing to pass over: no fret, or a design that makes no sense.",
            false => "Too little room for the chart: drag its border, or let it fill the middle.",
        };
        super::says(ui, rect, says);
        return;
    };
    let stretch = shown.stretch();
    super::heading(ui, head, &format!("{over} · heights × {stretch:.0}"));
    let stop = view.stop.unwrap_or(0);
    shown.response.widget_info(|| {
        WidgetInfo::slider(true, stop as f64, "Fret at which the strip shows a stopped string")
    });
    let pointed = shown.response.hover_pos().and_then(|at| shown.nearest(strip, at.x));
    choose_stop(ui, &shown.response, strip, pointed, view);
    if let Some(fret) = pointed {
        if working::is_asked(ui, &shown.response) {
            of_fret(strip, fret.number, view);
        }
        shown.response.on_hover_ui_at_pointer(|ui| tip(ui, study, strip, fret.number, style));
    }
}

/// Whether what is counted along the board are frets.
pub(super) fn is_fretted(study: &Study) -> bool {
    study.design.scale.frets > 0
}

/// The fret at which a stopped string is shown: clicked, or chosen by the arrow keys.
fn choose_stop(
    ui: &Ui,
    response: &egui::Response,
    strip: &Strip,
    pointed: Option<StripFret>,
    view: &mut View,
) {
    let last = strip.frets.len().saturating_sub(1);
    view.stop = view.stop.map(|stop| stop.min(last)).filter(|stop| *stop > 0);
    if response.clicked() {
        let clicked = pointed.map(|fret| fret.number).filter(|number| *number <= last);
        // the second click of two, which fit the frets, takes nothing away
        let again = view.stop == clicked && !response.double_clicked();
        view.stop = if again { None } else { clicked };
    }
    if response.has_focus() {
        let filter = egui::EventFilter { horizontal_arrows: true, ..Default::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let (less, more) = ui.input(|input| {
            (input.key_pressed(Press::ArrowLeft), input.key_pressed(Press::ArrowRight))
        });
        let stop = view.stop.unwrap_or(0);
        let next = (stop + usize::from(more)).saturating_sub(usize::from(less)).min(last);
        view.stop = (next > 0).then_some(next);
    }
}

/// Opens the working of the least clearance that is shown over a fret.
fn of_fret(strip: &Strip, fret: usize, view: &mut View) {
    let lines = strip.open.iter().chain(&strip.stopped);
    let over = lines.filter_map(|line| {
        let point = line.points.iter().find(|point| point.fret == fret)?;
        (line.stop != fret).then_some((line, point.at.y))
    });
    if let Some((line, _)) = over.min_by(|a, b| a.1.total_cmp(&b.1)) {
        let (string, stop) = (line.string, line.stop);
        Of::from(Figure::Clearance { string, stop, fret }).toggle(view);
    }
}

/// Clearances over one fret, and where they are wanted.
fn tip(ui: &mut Ui, study: &Study, strip: &Strip, fret: usize, style: LengthStyle) {
    let over = if is_fretted(study) { "Over fret" } else { "Over semitone" };
    ui.label(egui::RichText::new(format!("{over} {fret}")).font(theme::strong()));
    // of many strings the outer ones say what the others do
    let ends = |lines: &[StripLine]| {
        let last = lines.len().saturating_sub(1);
        let outer = |(index, line): (usize, &StripLine)| {
            (index == 0 || index == last).then(|| line.clone())
        };
        lines.iter().enumerate().filter_map(outer).collect::<Vec<_>>()
    };
    let length = |value: f64| values::show(value, Unit::Length, DIGITS, style);
    for line in ends(&strip.open).iter().chain(&ends(&strip.stopped)) {
        let Some(point) = line.points.iter().find(|point| point.fret == fret) else {
            continue;
        };
        let value = length(point.at.y);
        let name = string_name(study, line.string);
        let text = match line.stop {
            0 => format!("{name} open: {value}"),
            stop if stop == fret => continue,
            stop => format!("{name} stopped at {stop}: {value}"),
        };
        ui.label(text);
    }
    if let Some(band) = fret.checked_sub(1).and_then(|index| strip.band.get(index)) {
        let words = format!("open wanted: {} to {}", length(band.low), length(band.high));
        ui.label(egui::RichText::new(words).color(theme::palette(ui).dim));
    }
    tips::small(ui, working::KEY_SAYS);
}

pub(super) fn string_name(study: &Study, index: usize) -> String {
    study.design.strings.get(index).map_or_else(String::new, |string| string.name.clone())
}

/// Which string, aligned or filled, chart or table. Says how far to the left they reach.
fn controls(ui: &mut Ui, rect: Rect, study: &Study, style: LengthStyle, view: &mut View) -> f32 {
    let ui = &mut super::head(ui, rect);
    let strings = study.design.strings.len();
    view.string = view.string.filter(|string| *string < strings);
    let name = |index: usize| format!("{} · {}", index + 1, string_name(study, index));
    let other = if view.is_table { "Chart" } else { "Table" };
    if ui.button(other).on_hover_text("The clearances as a chart or as a table").clicked() {
        view.is_table = !view.is_table;
    }
    if view.is_table {
        let copy = ui.add_enabled(study.layout().is_some(), egui::Button::new("Copy"));
        if copy.on_hover_text("The whole table, for a spreadsheet").clicked()
            && let Some(layout) = study.layout()
        {
            ui.ctx().copy_text(table::as_text(study, layout, view.table_stop, style));
        }
        // the last fret has none behind it
        let stops = study.layout().map_or(0, |layout| layout.positions.len().saturating_sub(1));
        view.table_stop = view.table_stop.min(stops);
        let response = ComboBox::from_id_salt("stop of the table")
            .selected_text(table::heading(view.table_stop))
            .show_ui(ui, |ui| {
                for stop in 0..=stops {
                    let heading = table::heading(stop);
                    if ui.selectable_value(&mut view.table_stop, stop, heading).clicked() {
                        ui.close();
                    }
                }
            })
            .response;
        response.accessible_name("Strings of the table: open, or stopped at a fret");
        return ui.min_rect().left();
    }
    let (text, tip) = if view.is_aligned {
        ("Aligned", "Each fret stands under that of the elevation. Click to fill the width.")
    } else {
        ("Filled", "The frets fill the width. Click to align them with the elevation.")
    };
    if ui.button(text).on_hover_text(tip).clicked() {
        view.is_aligned = !view.is_aligned;
        view.strip_range = None;
    }
    let each = (0..strings).map(|index| (Some(index), name(index)));
    let shown = view.string.map_or_else(|| "All strings".to_owned(), name);
    let response = ComboBox::from_id_salt("string of the strip")
        .selected_text(shown)
        .show_ui(ui, |ui| {
            let all = (None, "All strings".to_owned());
            for (string, name) in std::iter::once(all).chain(each) {
                if ui.selectable_value(&mut view.string, string, name).clicked() {
                    ui.close();
                }
            }
        })
        .response;
    response.accessible_name("Strings shown over the frets");
    ui.min_rect().left()
}
