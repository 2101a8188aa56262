//! How true one dimension must be held to be sure enough.

use std::sync::Arc;

use egui::{ComboBox, Label, RichText, ScrollArea, Ui};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::risk::{Plan, Risk, Source, Suffices, from_seat};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, unbroken};
use overstand_core::working::OfTrials;

use super::tolerances::{held_to, show_plus_minus};
use super::work::Task;
use crate::command::Command;
use crate::panels::working;
use crate::theme::{self, space};
use crate::values;
use crate::view::View;

/// What was asked: at which revision, of what, and how sure.
pub(super) type Ask = (u64, Source, u8);

/// How sure one may want to be, per cent.
const SURE: [u8; 6] = [75, 80, 90, 95, 98, 99];

/// What can be asked about: what misses, and pitch and overstand where a seat stands for them.
fn sources(design: &Design, risk: &Risk) -> Vec<Source> {
    let seat = [Dim::Pitch, Dim::Overstand].map(|dim| Source::Dim(dim.key()));
    let of_seat = seat.into_iter().filter(|_| from_seat(design));
    of_seat.chain(risk.budget.rows.iter().map(|row| row.tolerated.source)).collect()
}

/// Shows the question and its answer.
#[expect(clippy::too_many_arguments, reason = "the sheet is where all of it meets")]
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    risk: &Arc<Risk>,
    revision: u64,
    task: &mut Task<Ask, Suffices>,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let design = &study.design;
    let sources = sources(design, risk);
    if !sources.contains(&view.how_true.held)
        && let Some(first) = sources.first()
    {
        view.how_true.held = *first;
    }
    let shown = &mut view.how_true;
    ui.horizontal_wrapped(|ui| {
        let says = |ui: &mut Ui, text: &str| {
            let words = RichText::new(text).color(theme::palette(ui).dim);
            ui.add(Label::new(words).selectable(false));
        };
        says(ui, "To be");
        let sure = ComboBox::from_id_salt("sure")
            .selected_text(format!("{} %", shown.sure))
            .width(0.0)
            .show_ui(ui, |ui| {
                for sure in SURE {
                    ui.selectable_value(&mut shown.sure, sure, format!("{sure} %"));
                }
            });
        sure.response.accessible_name(format!("How sure: {} %", shown.sure));
        says(ui, "sure that it plays with adjustment left, how true must this be held?");
        let name = shown.held.name(design);
        let held = ComboBox::from_id_salt("held")
            .selected_text(&name)
            .truncate()
            .width(space::FORM / 3.0)
            .height(space::FORM)
            .show_ui(ui, |ui| {
                for source in sources {
                    ui.selectable_value(&mut shown.held, source, source.name(design));
                }
            });
        held.response.accessible_name(format!("What is held: {name}"));
    });
    let ask = (revision, shown.held, shown.sure);
    ui.horizontal(|ui| {
        let tip = "Makes the set many times over with other tolerances; it takes some seconds";
        if task.asks(ui, &ask, "Work it out", tip, "seeking what suffices") {
            let (risk, (_, held, sure)) = (Arc::clone(risk), ask);
            task.start(ui.ctx(), ask, move |watch| {
                risk.suffices(held, f64::from(sure) / 100.0, Plan::USUAL_SEED, watch)
            });
        }
    });
    ui.add_space(space::S);
    let Some(((_, held, sure), found)) = task.last() else { return };
    let is_now = task.answer(&ask).is_some_and(|(_, is_now)| is_now);
    ScrollArea::vertical().id_salt("suffices").auto_shrink(false).show(ui, |ui| {
        ui.add_enabled_ui(is_now, |ui| {
            answer(ui, risk, design, *held, *sure, found, style, view, commands);
        });
    });
}

/// The answer in words, and a button that writes it into the list.
#[expect(clippy::too_many_arguments, reason = "all of the answer meets there")]
fn answer(
    ui: &mut Ui,
    risk: &Risk,
    design: &Design,
    held: Source,
    sure: u8,
    found: &Suffices,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let (name, says) = (held.name(design), found.says(design).show(style));
    let text = match &found.hold {
        Some(_) if !found.any => format!("To be {sure} % sure, {says}"),
        _ => format!("{name}: {says}"),
    };
    ui.add(Label::new(RichText::new(unbroken(&text)).font(theme::title())).wrap());
    let Some(hold) = found.hold.as_ref().filter(|_| !found.any) else { return };
    let chance = overstand_core::risk::show_chance(found.chance);
    theme::remark(ui, format!("It then plays in {chance}, all else as it is."));
    let now = risk.tolerated.iter().find(|one| hold.first().is_some_and(|it| it.0 == one.source));
    if let (Some(now), Some(&(source, enough))) = (now, hold.first()) {
        let shown = match found.pitch {
            Some(pitch) => format!("±{}", values::show(pitch, Unit::Angle, 2, style)),
            None => show_plus_minus(source, enough, style),
        };
        let part = enough / now.plus_minus;
        let figure =
            working::counted(OfTrials::Suffices { held, part, chance: found.chance }, view);
        ui.horizontal(|ui| {
            ui.add(Label::new("How that was found:").selectable(false));
            let ink = theme::palette(ui).ink;
            let spoken = format!("what suffices, {shown}");
            working::figure(ui, &shown, theme::strong(), ink, figure, &spoken, view);
        });
    }
    ui.add_space(space::S);
    let button = ui.button("Take it over as tolerance");
    if button.on_hover_text("Writes it into the list at the left, rounded down").clicked() {
        let mut changed = design.clone();
        for &(source, plus_minus) in hold {
            // down, so that it still suffices
            let rounded = (1000.0 * plus_minus).floor() / 1000.0;
            changed = held_to(&changed, source, rounded);
        }
        let step = values::capital(&format!("hold {} to what suffices", lower(&name)));
        let step = step.trim_end_matches('.').to_owned();
        commands.push(Command::edit(step, changed));
    }
}
