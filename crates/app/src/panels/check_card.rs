//! The card of a check: what it says, what would mend it, how it was worked out.

use egui::{Grid, Label, RichText, Ui};
use overstand_core::sentence::lower;
use overstand_core::study::{Closed, Study};
use overstand_core::units::{LengthStyle, Unit, unbroken};
use overstand_core::verdict::{Check, CheckId, State, remedies};
use overstand_core::working::{Figure, Working};

use super::extras;
use super::verdict::{Hand, card};
use super::working::{Of, Whose};
use crate::command::Command;
use crate::theme::{self, space};
use crate::view::{Card, Remedies, View};
use crate::{marks, values};

/// Most remedies that are offered.
const MOST: usize = 3;

/// The check whose card is open: the one chosen, or until one is, the one worst off.
pub(crate) fn opened(closed: &Closed, view: &View) -> Option<CheckId> {
    match view.card {
        Card::Worst => {
            closed.checks.first().filter(|check| check.state != State::Good).map(|check| check.id)
        }
        Card::Of(id) => Some(id),
        Card::None => None,
    }
}

/// Opens the card of a check, or closes it.
pub(crate) fn toggle(id: CheckId, is_open: bool, view: &mut View) {
    view.card = if is_open { Card::None } else { Card::Of(id) };
    view.working = false;
    view.ranging = false;
}

/// Shows the card.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    check: &Check,
    style: LengthStyle,
    view: &mut View,
    mut hand: Hand<'_>,
    whose: Option<Whose<'_>>,
) {
    card(ui, |ui| {
        ui.spacing_mut().item_spacing.y = space::S;
        ui.add(
            Label::new(RichText::new(unbroken(&check.says.show(style))).font(theme::strong()))
                .wrap(),
        );
        theme::remark(ui, range(check, style));
        if check.state != State::Good
            && let Some((revision, commands)) = &mut hand
        {
            let revision = *revision;
            // a search of some milliseconds: not while a handle moves
            if view.drag.is_none()
                && view.remedies.as_ref().is_none_or(|known| known.of != (check.id, revision))
            {
                let list = remedies(study, check.id);
                view.remedies = Some(Remedies { of: (check.id, revision), list });
            }
            offer(ui, check.id, style, view, commands);
        }
        ui.add_space(space::S);
        let text = if view.working { "Hide the working" } else { "Show the working" };
        if marks::link(ui, text).clicked() {
            view.working = !view.working;
        }
        if view.working {
            working(ui, &check.working, check.id.unit(), style);
            every_step(ui, Of::new(Figure::Check(check.id), whose), view);
        }
        let Some((_, commands)) = hand else { return };
        let text = if view.ranging { "Hide the range" } else { "Change the range" };
        if marks::link(ui, text).clicked() {
            view.ranging = !view.ranging;
        }
        if view.ranging {
            extras::range(ui, study, check, style, view, commands);
        }
    });
    ui.add_space(space::S);
}

/// The range that the value is held against, in words.
pub(super) fn range(check: &Check, style: LengthStyle) -> String {
    let limit = check.reading.limit;
    let show = |value| values::show(value, check.id.unit(), check.digits(), style);
    match (limit.thin_below, limit.thin_above) {
        (Some(low), Some(high)) => format!("Wanted: {} to {}.", show(low), show(high)),
        (Some(low), None) => format!("Wanted: {} or more.", show(low)),
        (None, Some(high)) => format!("Wanted: {} or less.", show(high)),
        (None, None) => "It has no limits.".to_owned(),
    }
}

fn offer(
    ui: &mut Ui,
    id: CheckId,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let Some(known) = view.remedies.take_if(|known| known.of.0 == id) else {
        return;
    };
    if known.list.is_empty() && view.drag.is_none() {
        let text = "No change of a single dimension mends it without harm elsewhere.";
        ui.label(RichText::new(text).color(theme::palette(ui).dim));
    }
    for remedy in known.list.iter().take(MOST) {
        ui.add_space(space::S);
        ui.add(Label::new(unbroken(&remedy.says.show(style))).wrap());
        let names: Vec<String> =
            remedy.changes.iter().map(|change| change.key.name(&remedy.design)).collect();
        let within: Vec<String> = names.iter().map(|name| lower(name)).collect();
        let names = names.join(", ");
        ui.horizontal(|ui| {
            let apply = marks::main_button(ui, "Apply");
            if apply.accessible_name(format!("Apply: {names}")).clicked() {
                commands.push(Command::Mend(Box::new(remedy.clone())));
            }
            // the change is sought: the steps show what the check then comes to
            let name = format!("with another {}", within.join(", "));
            let whose = Some(Whose { name: &name, design: &remedy.design });
            let link = marks::link(ui, "Show the working then");
            if link.accessible_name(format!("Working {name}")).clicked() {
                Of::new(Figure::Check(id), whose).toggle(view);
            }
        });
    }
    view.remedies = Some(known);
}

/// What opens every step that leads to a figure.
pub(super) fn every_step<'a>(ui: &mut Ui, figure: impl Into<Of<'a>>, view: &mut View) {
    if marks::link(ui, "Show every step").clicked() {
        figure.into().toggle(view);
    }
}

/// Formula, the numbers put in, what comes of it, and where it is from.
pub(super) fn working(ui: &mut Ui, working: &Working, unit: Unit, style: LengthStyle) {
    let palette = theme::palette(ui);
    let dim = |text: &str| RichText::new(text).font(theme::label()).color(palette.dim);
    ui.add_space(space::S);
    ui.add(Label::new(RichText::new(working.formula.as_ref()).font(theme::text())).wrap());
    ui.add_space(space::S);
    Grid::new("working").num_columns(2).spacing([space::M, space::S]).show(ui, |ui| {
        for term in &working.terms {
            ui.label(term.symbol);
            // formulas may hold bends per mm and the like: their numbers are metric
            ui.horizontal_wrapped(|ui| {
                ui.label(term.text());
                ui.label(dim(term.name));
            });
            ui.end_row();
        }
    });
    let font = theme::text();
    ui.add(Label::new(RichText::new(format!("= {}", working.put_in())).font(font)).wrap());
    let digits = if unit == Unit::Count { 0 } else { 3 };
    let mut result = values::show(working.result, unit, digits, LengthStyle::Millimetres);
    if unit == Unit::Length && style.is_inch() {
        result += &format!(" ({})", values::show(working.result, unit, digits, style));
    }
    ui.add(Label::new(RichText::new(format!("= {result}")).font(theme::strong())).wrap());
    ui.add(Label::new(dim(working.source)).wrap());
}
