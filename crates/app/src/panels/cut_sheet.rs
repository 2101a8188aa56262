//! The cut sheet: the steps of the work in a safe order, with ticks.

use egui::{
    Align, Checkbox, Label, Layout, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2,
};
use overstand_core::joint::{BenchCheck, CutSheet, Number, Reading, Step, rise_over_run};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, unbroken};
use overstand_core::verdict::{State, Word};

use super::tips;
use crate::command::Command;
use crate::theme::{self, space};
use crate::view::{Page, View};
use crate::{marks, values};

/// Decimals of what a straightedge reads.
const READING: usize = 1;

/// Shows the sheet of a design that closes.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    sheet: &CutSheet,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    ui.take_available_width();
    ui.add_space(space::S);
    let done = sheet.steps.iter().filter(|step| step.done).count();
    ui.horizontal(|ui| {
        ui.add(Label::new(RichText::new("Cut sheet").font(theme::title())).selectable(false));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            theme::remark(ui, format!("{done} of {} done", sheet.steps.len()));
        });
    });
    theme::remark(ui, sheet.joint);
    warn(ui, study, style, commands);
    ui.add_space(space::S);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        ui.spacing_mut().item_spacing.y = space::S;
        for caution in sheet.cautions {
            theme::remark(ui, *caution);
        }
        for (index, step) in sheet.steps.iter().enumerate() {
            one(ui, index + 1, step, style, view, commands);
        }
        ui.add_space(space::XL);
    });
}

/// What stands against cutting yet.
fn warn(ui: &mut Ui, study: &Study, style: LengthStyle, commands: &mut Vec<Command>) {
    let (state, advice) = match study.word() {
        Word::Plays => return,
        Word::PlaysThin => (State::Thin, ""),
        Word::Fails | Word::DoesNotClose => (State::Fails, " Do not cut yet."),
    };
    let colour = theme::palette(ui).state(state);
    let reason = values::capital(&study.reason().show(style));
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = space::S;
        let (rect, _) = ui.allocate_exact_size(vec2(space::XL, space::XL), Sense::hover());
        marks::state(ui.painter(), rect.center(), state, colour);
        let text = format!("{}. {reason}{advice}", study.word().show());
        ui.add(Label::new(RichText::new(unbroken(&text)).color(colour)).wrap());
    });
    if marks::link(ui, "What would mend it").clicked() {
        commands.push(Command::Show(Page::LayOut));
    }
}

/// A step: its tick, and unless it is folded what to do.
fn one(
    ui: &mut Ui,
    place: usize,
    step: &Step,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    ui.separator();
    let is_open = view.steps.get(step.id).copied().unwrap_or(!step.done);
    ui.horizontal(|ui| {
        let mut done = step.done;
        let colour = if done { palette.dim } else { palette.ink };
        let title = format!("{place}  {}", step.title);
        let words = RichText::new(title).font(theme::strong()).color(colour);
        if ui.add(Checkbox::new(&mut done, words)).changed() {
            commands.push(Command::Tick { id: step.id, title: step.title, done });
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let (rect, response) =
                ui.allocate_exact_size(egui::Vec2::splat(space::HIT), Sense::click());
            let name = format!("How to: {}", step.title.to_lowercase());
            response.widget_info(|| {
                WidgetInfo::selected(Role::DisclosureTriangle, true, is_open, &name)
            });
            let colour = if response.hovered() { palette.ink } else { palette.dim };
            marks::fold(ui.painter(), rect.center(), is_open, colour);
            marks::focus_ring(ui, &response);
            if response.clicked() {
                view.steps.insert(step.id, !is_open);
            }
        });
    });
    if is_open {
        ui.horizontal_top(|ui| {
            ui.add_space(space::HIT);
            ui.vertical(|ui| details(ui, step, style));
        });
    }
}

/// What to do, with which numbers, and how to see that it is right.
fn details(ui: &mut Ui, step: &Step, style: LengthStyle) {
    for sentence in &step.work {
        ui.add(Label::new(unbroken(&sentence.show(style))).wrap());
    }
    for number in &step.numbers {
        numbered(ui, number, style);
    }
    if let Some(leave_on) = &step.leave_on {
        labelled(ui, "Leave on", &leave_on.show(style));
    }
    if let Some(check) = &step.check {
        bench_check(ui, check, style);
    }
    if let Some(first) = step.readings.first() {
        let at = values::show(first.at, Unit::Length, READING, style);
        theme::remark(ui, format!("Straightedge over the top, {at} from the joint, reads"));
        for reading in &step.readings {
            read(ui, reading, style);
        }
    }
    if !step.cautions.is_empty() {
        labelled(ui, "Care", &step.cautions.join(" "));
    }
    ui.add_space(space::S);
}

fn numbered(ui: &mut Ui, number: &Number, style: LengthStyle) {
    let show = |value| values::show(value, number.unit, number.digits, style);
    // no finer than the value beside it
    let within = number.tolerance.map(|tolerance| format!("± {}", show(tolerance)));
    let rise = rise_over_run(number.value, number.unit, number.digits);
    row(ui, number.name, &show(number.at_bench()), within, rise);
    if let Some(raises) = number.raises() {
        theme::remark(ui, values::capital(raises));
    }
}

fn read(ui: &mut Ui, reading: &Reading, style: LengthStyle) {
    let show = |value| values::show(value, Unit::Length, READING, style);
    let within = format!("± {}", show(reading.tolerance));
    row(ui, &format!("on {}", reading.on), &show(reading.value), Some(within), None);
}

/// A name and its value, by how much it may miss, and the rise over run below.
fn row(ui: &mut Ui, name: &str, value: &str, within: Option<String>, rise: Option<String>) {
    ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
        ui.spacing_mut().item_spacing.x = space::S;
        if let Some(within) = within {
            dim_single(ui, &within);
        }
        ui.add(Label::new(RichText::new(value).font(theme::strong())));
        if let Some(rise) = rise {
            ui.add_space(space::M);
            dim_single(ui, &rise);
        }
        ui.with_layout(Layout::left_to_right(Align::Min), |ui| {
            ui.set_max_width(ui.available_width() - space::M);
            tips::on_hover(ui.add(Label::new(name).wrap()), name);
        });
    });
}

fn bench_check(ui: &mut Ui, check: &BenchCheck, style: LengthStyle) {
    let reads = check.reads.show(style);
    let reads = reads.trim_end_matches('.');
    labelled(ui, "Check", &format!("{}, with {}: {reads}.", check.measure, check.with));
    labelled(ui, "If not", &check.otherwise.show(style));
}

/// A label, and words that go on after it.
fn labelled(ui: &mut Ui, label: &str, words: &str) {
    let palette = theme::palette(ui);
    let format = |font, color| egui::TextFormat { font_id: font, color, ..Default::default() };
    let mut job = egui::text::LayoutJob::default();
    job.append(label, 0.0, format(theme::strong(), palette.dim));
    job.append(&unbroken(words), space::M, format(theme::text(), palette.ink));
    ui.add(Label::new(job).wrap());
}

fn dim_single(ui: &mut Ui, text: &str) {
    let colour = theme::palette(ui).dim;
    ui.add(Label::new(RichText::new(text).color(colour)).extend());
}
