//! Where to aim so that a miss still plays: the widest margin and the highest chance.

use std::sync::Arc;

use egui::{Label, RichText, ScrollArea, Ui};
use overstand_core::dimension::{Dim, Key};
use overstand_core::risk::{Better, Plan, Risk, Safest, Standing, show_chance};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, show_number, unbroken};
use overstand_core::working::{Figure, OfTrials};

use super::map::choose;
use super::work::Task;
use crate::command::Command;
use crate::panels::verdict::card;
use crate::panels::working::{self, Of, Whose};
use crate::theme::{self, space};
use crate::view::View;
use crate::{marks, values};

/// What was asked: at which revision, and what may move.
pub(super) type Ask = (u64, [Option<Key>; 2]);

/// Shows what may be moved, and what is better.
#[expect(clippy::too_many_arguments, reason = "the sheet is where all of it meets")]
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    risk: &Arc<Risk>,
    revision: u64,
    task: &mut Task<Ask, Safest>,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let ask = (revision, view.how_true.moved);
    ui.horizontal(|ui| {
        let says = |ui: &mut Ui, text: &str| {
            let words = RichText::new(text).color(theme::palette(ui).dim);
            ui.add(Label::new(words).selectable(false));
        };
        let [first, second] = view.how_true.moved;
        says(ui, "May move:");
        let design = &study.design;
        if let Some(key) = choose(ui, "first", "May move", design, first, (second, None)) {
            view.how_true.moved[0] = key;
        }
        says(ui, "and");
        let none = Some("nothing else");
        if let Some(key) = choose(ui, "second", "May move as well", design, second, (first, none)) {
            view.how_true.moved[1] = key;
        }
        let tip = "Tries other values and makes each many times over; it takes some seconds";
        if task.asks(ui, &ask, "Seek the safest aim", tip, "seeking the safest aim") {
            let keys: Vec<Key> = view.how_true.moved.into_iter().flatten().collect();
            let risk = Arc::clone(risk);
            task.start(ui.ctx(), ask, move |watch| risk.safest(&keys, &Plan::usual(), watch));
        }
    });
    ui.add_space(space::S);
    let Some((safest, is_now)) = task.answer(&ask) else {
        theme::remark(
            ui,
            "The safest aim is the one whose worst neighbour still plays: what may move is put \
             where the worst margin over all that may miss is widest, and where the chance is \
             highest. The crest height follows.",
        );
        return;
    };
    ScrollArea::vertical().id_salt("aims").auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        ui.add_enabled_ui(is_now, |ui| {
            let all = ui.available_rect_before_wrap();
            let width = (all.width() - 2.0 * space::M) / 3.0;
            let aims = [
                ("As it stands", &safest.now, None),
                ("Widest margin", &safest.widest.standing, Some(&safest.widest)),
                ("Highest chance", &safest.likeliest.standing, Some(&safest.likeliest)),
            ];
            let mut bottom = all.top();
            for (index, (name, standing, better)) in aims.into_iter().enumerate() {
                let left = all.left() + index as f32 * (width + space::M);
                let place = all.with_min_x(left).with_max_x(left + width);
                let builder = egui::UiBuilder::new().id_salt(name).max_rect(place);
                let mut column = ui.new_child(builder);
                aim(&mut column, study, name, standing, better, style, view, commands);
                bottom = bottom.max(column.min_rect().bottom());
            }
            ui.advance_cursor_after_rect(all.with_max_y(bottom));
        });
    });
}

/// One aim: how safe it is, what it changes, and the button that makes it.
#[expect(clippy::too_many_arguments, reason = "the card is where all of it meets")]
fn aim(
    ui: &mut Ui,
    study: &Study,
    name: &'static str,
    standing: &Standing,
    better: Option<&Better>,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    card(ui, |ui| {
        ui.spacing_mut().item_spacing.y = space::S;
        ui.add(Label::new(RichText::new(name).font(theme::heading())).selectable(false));
        let says = values::capital(&standing.says());
        ui.add(Label::new(RichText::new(unbroken(&says)).font(theme::strong())).wrap());
        found(ui, name, standing, better, style, view);
        let Some(better) = better else { return };
        if better.changes.is_empty() {
            theme::remark(ui, "It is where it stands already.");
            return;
        }
        let changes = better.says(&study.design).show(style);
        theme::remark(ui, values::capital(&changes));
        let button = marks::main_button(ui, "Apply");
        let step = format!("Aim for the {}", name.to_lowercase());
        if button.accessible_name(format!("Apply: {}", name.to_lowercase())).clicked() {
            commands.push(Command::edit(step, better.design.clone()));
        }
    });
}

/// How chance and margin of an aim were found, and what crest it takes.
fn found(
    ui: &mut Ui,
    name: &'static str,
    standing: &Standing,
    better: Option<&Better>,
    style: LengthStyle,
    view: &mut View,
) {
    let ink = theme::palette(ui).ink;
    let mut put = |ui: &mut Ui, text: &str, figure: Of<'_>, what: &str| {
        let spoken = format!("{what}, {}: {text}", name.to_lowercase());
        working::figure_at(ui, text, (theme::text(), ink), "aim", figure, &spoken, view);
    };
    let aim = name.to_lowercase();
    let whose = better.map(|better| Whose { name: &aim, design: &better.design });
    ui.horizontal_wrapped(|ui| {
        ui.add(Label::new("How that was found:").selectable(false));
        let (of, all) = standing.played;
        let share = OfTrials::Share { what: "It plays with adjustment left", of, all };
        let chance = show_chance(standing.chance);
        put(ui, &chance, Of::new(Figure::Trials(share), whose), "the chance");
        if let (Some(id), Some(worst)) = (standing.check, standing.worst) {
            let of = OfTrials::Worst { id, value: worst.value, limit: worst.limit };
            let margin = show_number(standing.margin, 2);
            put(ui, &margin, Of::new(Figure::Trials(of), whose), "the worst margin");
        }
        let Some(better) = better else { return };
        for change in &better.changes {
            let info = change.key.dim.info();
            let figure = match change.key.dim {
                // it follows, whatever else is held
                Dim::CrestHeight => Figure::Crest,
                _ if change.key.is_found(&better.design) => Figure::Dim(change.key),
                _ => continue,
            };
            let text = values::show_dim(info, change.to, style);
            let figure = Of::new(figure, whose);
            put(ui, &text, figure, &info.name.to_lowercase());
        }
    });
}
