//! The fitting log: how the fit comes nearer to the plan, and every round of it.

use egui::{Grid, Label, RichText, ScrollArea, Stroke, Ui, UiBuilder};
use egui_plot::{HLine, Line, MarkerShape, PlotPoint, PlotPoints, Points};
use overstand_core::dryfit::{Amount, Round, Step};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::working::{Figure, OfFit};

use super::{Desk, round};
use crate::chart::{Axis, Chart, asked_at, place};
use crate::command::Command;
use crate::pages::fields::dim;
use crate::panels::working::{KEY_SAYS, Of};
use crate::panels::{tips, working};
use crate::theme::{self, space, stroke};
use crate::values;
use crate::view::View;

/// Shows it.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    desk: &Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let rounds = &study.design.fitting;
    if rounds.is_empty() {
        let text = "Every round of reading and correction is kept here with the design, so that \
                    the fit can be seen coming nearer. The first reading begins the first round.";
        theme::remark(ui, text);
        return;
    }
    ui.horizontal(|ui| {
        let tip = "Lays the log out on paper and asks where to write it";
        if ui.button(Command::PrintLog.text()).on_hover_text(tip).clicked() {
            commands.push(Command::PrintLog);
        }
        let text = format!("Take round {} out", rounds.len());
        if ui.button(text).on_hover_text("It can be taken back").clicked() {
            commands.push(round::without_last(&study.design));
        }
    });
    ui.add_space(space::S);
    let told: Vec<(usize, Amount)> = desk
        .worked
        .steps
        .iter()
        .filter_map(|step| step.miss.map(|miss| (step.round + 1, miss)))
        .collect();
    if !told.is_empty() {
        let high = (ui.available_height() * space::MAP).max(space::CANVAS);
        let (above, _) =
            ui.available_rect_before_wrap().split_top_bottom_at_y(ui.cursor().top() + high);
        let mut chart_ui = ui.new_child(UiBuilder::new().id_salt("chart").max_rect(above));
        chart(&mut chart_ui, &told, rounds.len(), style, view);
        ui.advance_cursor_after_rect(above);
        ui.add_space(space::S);
    }
    ScrollArea::both().id_salt("log").auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        table(ui, &desk.worked.steps, rounds, style, view);
        for (index, (step, round)) in desk.worked.steps.iter().zip(rounds).enumerate() {
            one(ui, index, step, round, style);
        }
        ui.add_space(space::M);
    });
}

/// By how much the crest misses the plan, round by round, with two errors either way.
fn chart(ui: &mut Ui, told: &[(usize, Amount)], count: usize, style: LengthStyle, view: &mut View) {
    let palette = theme::palette(ui);
    let mm = move |value: f64| values::show(value, Unit::Length, 2, style);
    let each: Vec<String> =
        told.iter().map(|(round, miss)| format!("round {round} {}", mm(miss.value))).collect();
    let name = format!("Crest needed, off the plan, over the rounds: {}", each.join(", "));
    // a few dozen at most stand beside each other
    let apart = count.div_ceil(20).max(1);
    let marks = (1..=count).step_by(apart).map(|round| (round as f64, round.to_string())).collect();
    let axes = [Axis::named("Round", marks), Axis::length("Crest off the plan", style)];
    let (tips, rounds) = (told.to_vec(), told);
    let told = told.to_vec();
    let shown = Chart::new(ui, "convergence", name, axes)
        .tip(move |at| {
            let (round, miss) = nearest(&tips, place(at).x)?;
            let [off, error] = [miss.value, miss.error].map(mm);
            Some(format!("round {round}\n{off} ± {error}\n{KEY_SAYS}"))
        })
        .with(|plot| {
            plot.include_x(0.5).include_x(count as f64 + 0.5).include_y(0.2).include_y(-0.2)
        })
        .show(ui, move |plot| {
            let zero = Stroke::new(stroke::VISIBLE, palette.ink);
            plot.hline(HLine::new("the plan", 0.0).stroke(zero).allow_hover(false));
            let thin = Stroke::new(stroke::VISIBLE, palette.dim);
            let points: Vec<[f64; 2]> =
                told.iter().map(|(round, miss)| [*round as f64, miss.value]).collect();
            for (round, miss) in &told {
                let x = *round as f64;
                let bar = [-2.0, 2.0].map(|times| [x, miss.value + times * miss.error]);
                let bar = PlotPoints::from(bar.to_vec());
                plot.line(
                    Line::new("error", bar).stroke(thin).id(("error", *round)).allow_hover(false),
                );
            }
            let path = PlotPoints::from(points.clone());
            plot.line(Line::new("way", path).stroke(thin).allow_hover(false));
            plot.points(
                Points::new("crest", points)
                    .shape(MarkerShape::Circle)
                    .radius(space::S)
                    .filled(true)
                    .color(palette.ink),
            );
        });
    let last = PlotPoint::new(count as f64, 0.0);
    if let Some(at) = asked_at(ui, &shown, last)
        && let Some((round, _)) = nearest(rounds, at.x)
    {
        Of::from(Figure::Round(round - 1, OfFit::Miss)).toggle(view);
    }
}

/// The round, counted from 1, that is nearest to a place.
fn nearest(told: &[(usize, Amount)], x: f64) -> Option<&(usize, Amount)> {
    let off = |round: usize| (round as f64 - x).abs();
    told.iter().min_by(|a, b| off(a.0).total_cmp(&off(b.0)))
}

/// What stands over the columns, each with the term that explains it.
pub(super) const HEADS: [(&str, &str); 6] = [
    ("Round", "Round"),
    ("Day", "Fitting log"),
    ("Pitch", "Pitch"),
    ("Overstand", "Overstand"),
    ("Crest needed", "Crest height"),
    ("Off the plan", "Off the plan"),
];

fn table(ui: &mut Ui, steps: &[Step], rounds: &[Round], style: LengthStyle, view: &mut View) {
    let palette = theme::palette(ui);
    let mm = |value: f64| values::show(value, Unit::Length, 2, style);
    let angle = |value: f64| values::show(value.to_degrees(), Unit::Angle, 2, style);
    Grid::new("rounds").min_row_height(space::ROW).spacing([space::L, 0.0]).show(ui, |ui| {
        for (head, term) in HEADS {
            let words = RichText::new(head).font(theme::label()).color(palette.dim);
            tips::on_hover(ui.label(words), term);
        }
        ui.end_row();
        for (index, (step, round)) in steps.iter().zip(rounds).enumerate() {
            let glued = if round.glued { ", glued" } else { "" };
            ui.label(format!("{}{glued}", index + 1));
            ui.label(round.on.to_string());
            match (&step.told, step.miss) {
                (Ok((told, crest)), Some(miss)) => {
                    let (pitch, over) = (angle(told.pitch), mm(told.overstand));
                    let errors = [angle(told.pitch_error()), mm(told.overstand_error())];
                    let [pitch_error, over_error] = errors.map(|error| format!("± {error}"));
                    let miss_error = format!("± {}", mm(miss.error));
                    let cells: [&[(String, OfFit, &str)]; 4] = [
                        &[
                            (pitch, OfFit::Pitch, "pitch"),
                            (pitch_error, OfFit::PitchError, "error of the pitch"),
                        ],
                        &[
                            (over, OfFit::Overstand, "overstand"),
                            (over_error, OfFit::OverstandError, "error of the overstand"),
                        ],
                        &[(mm(crest.value), OfFit::Crest, "crest needed")],
                        &[
                            (mm(miss.value), OfFit::Miss, "off the plan"),
                            (miss_error, OfFit::CrestError, "error of the crest needed"),
                        ],
                    ];
                    for (column, cell) in cells.into_iter().enumerate() {
                        let font = if column == 3 { theme::strong() } else { theme::text() };
                        ui.horizontal(|ui| {
                            ui.spacing_mut().item_spacing.x = space::M;
                            for (text, of, name) in cell {
                                let figure = Figure::Round(index, *of);
                                let spoken = format!("{name}, round {}: {text}", index + 1);
                                let (font, ink) = (font.clone(), palette.ink);
                                working::figure(ui, text, font, ink, figure, &spoken, view);
                            }
                        });
                    }
                }
                _ if round.readings.is_empty() => {
                    ui.label(RichText::new("nothing read").color(palette.dim));
                }
                _ => {
                    ui.label(RichText::new("tells too little").color(palette.dim));
                }
            }
            ui.end_row();
        }
    });
}

/// A round: what was read, what was done, the notes.
fn one(ui: &mut Ui, index: usize, step: &Step, round: &Round, style: LengthStyle) {
    ui.add_space(space::M);
    let title = format!("Round {} · {}", index + 1, round.on);
    ui.add(Label::new(RichText::new(title).font(theme::strong())));
    for reading in &round.readings {
        let unit = if reading.what.is_angle() { Unit::Angle } else { Unit::Length };
        let show = |value: f64| values::show(value, unit, 2, style);
        let on = reading.on.map(|day| format!(", {day}")).unwrap_or_default();
        let name = values::capital(&reading.what.name().show(style));
        let name = name.trim_end_matches('.');
        dim(ui, &format!("{name}: {} ± {}{on}", show(reading.what.value()), show(reading.error)));
    }
    if let Ok((told, _)) = &step.told
        && let Some(contradiction) = &told.contradiction
    {
        dim(ui, &contradiction.says.show(style));
    }
    match &round.done {
        Some(done) => {
            ui.add(Label::new(format!("Done: {}", done.says().within().show(style))).wrap())
        }
        None => ui.add(Label::new("Done: nothing yet.").wrap()),
    };
    for line in round.note.lines().filter(|line| !line.trim().is_empty()) {
        ui.add(Label::new(line).wrap());
    }
}
