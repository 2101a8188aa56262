//! How far a dimension has come from paper to wood: planned, made, measured.

use std::time::{SystemTime, UNIX_EPOCH};

use egui::{
    Align2, Id, Key as Press, Label, Popup, PopupCloseBehavior, Rect, RichText, Role, Sense,
    TextEdit, Ui, WidgetInfo, vec2,
};
use overstand_core::design::{Date, Design, Provenance};
use overstand_core::dimension::Key;
use overstand_core::units::{LengthStyle, Unit, parse_angle, parse_length};
use overstand_core::verdict::State;

use crate::command::Command;
use crate::theme::{self, space};
use crate::view::{Reading, View};
use crate::{marks, values};

/// Decimals of a reading error.
const DIGITS: usize = 2;

/// Shows the mark of a dimension, with a menu to change it.
#[expect(clippy::too_many_arguments, reason = "a mark is where all of it meets")]
pub(crate) fn show(
    ui: &Ui,
    rect: Rect,
    design: &Design,
    key: Key,
    is_pointed_at: bool,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let mark = design.marks.get(&key.to_string()).cloned().unwrap_or_default();
    let unit = key.dim.info().unit;
    let id = Id::unique(("mark", key.dim as usize, key.index));
    let response = ui.interact(rect, id, Sense::click());
    let words = marks::provenance_words(&mark, unit, style);
    let name = format!("{}: {words}", key.name(design));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    let is_open = Popup::is_id_open(ui.ctx(), Popup::default_response_id(&response));
    if mark != Provenance::Planned || is_pointed_at || response.has_focus() || is_open {
        marks::provenance(ui.painter(), rect.center(), &mark, palette.dim);
    }
    marks::focus_ring(ui, &response);
    if !is_open && view.reading.as_ref().is_some_and(|reading| reading.key == key) {
        view.reading = None;
    }
    let menu = Popup::menu(&response).close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    menu.show(|ui| {
        let mut option = |ui: &mut Ui, mark: Provenance, text: &str| {
            if ui.button(text).clicked() {
                commands.push(Command::Mark(key, mark));
                ui.close();
            }
        };
        option(ui, Provenance::Planned, "Planned: it may still change");
        option(ui, Provenance::Made, "Made: bought or cut");
        if !usual(unit).is_empty() {
            ui.separator();
            let reading = view.reading.take().filter(|reading| reading.key == key);
            let mut reading = reading.unwrap_or_else(|| Reading::of(key, &mark, style));
            if let Some(mark) = form(ui, design, &mut reading, style) {
                commands.push(Command::Mark(key, mark));
                ui.close();
            } else {
                view.reading = Some(reading);
            }
        }
    });
    response.on_hover_text(values::capital(&words));
}

impl Reading {
    /// What the form begins with: the reading that stands, else one of today.
    fn of(key: Key, mark: &Provenance, style: LengthStyle) -> Self {
        let unit = key.dim.info().unit;
        let (on, error) = match mark {
            Provenance::Measured { on, error } => (Some(*on), *error),
            _ => (today(), usual(unit).first().copied().unwrap_or_default()),
        };
        let on = on.map_or_else(String::new, |on| on.to_string());
        let error = values::parts(error, unit, DIGITS, style).0;
        Self { key, on, error, refused: [None, None] }
    }

    /// What was typed, or why not; the reasons stay in their place.
    fn read(&mut self, design: &Design, style: LengthStyle) -> Option<Provenance> {
        let on =
            self.on.trim().parse::<Date>().map_err(|error| values::capital(&error.to_string()));
        let error = match self.key.dim.info().unit {
            Unit::Angle => parse_angle(&self.error),
            _ => parse_length(&self.error, style),
        };
        let error = error.map_err(|error| values::capital(&error.to_string()));
        let mark = on.clone().ok().zip(error.clone().ok());
        self.refused = [on.err(), error.err()];
        let (on, error) = mark?;
        let mark = Provenance::Measured { on, error };
        // the design knows what a reading error can be
        let mut marked = design.clone();
        marked.marks.insert(self.key.to_string(), mark.clone());
        let fault = marked.faults().into_iter().find(|fault| fault.place.starts_with("marks"));
        self.refused[1] = fault.map(|fault| values::capital(&fault.says));
        self.refused[1].is_none().then_some(mark)
    }
}

/// Day and reading error, to be typed.
fn form(
    ui: &mut Ui,
    design: &Design,
    reading: &mut Reading,
    style: LengthStyle,
) -> Option<Provenance> {
    let palette = theme::palette(ui);
    let unit = reading.key.dim.info().unit;
    let before = (reading.on.clone(), reading.error.clone());
    let mut entered = false;
    // fields and buttons look here as they do in a form, not as in a menu
    ui.reset_style();
    ui.set_max_width(space::DIMENSIONS[1]);
    ui.label(RichText::new("Measured").font(theme::heading()));
    let mut line = |ui: &mut Ui, says: &str, name: &str, unit: &str, text: &mut String| {
        ui.horizontal(|ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(space::FIELD, space::HIT), Sense::hover());
            ui.painter().text(
                rect.left_center(),
                Align2::LEFT_CENTER,
                says,
                theme::text(),
                palette.ink,
            );
            let edit = TextEdit::singleline(text)
                .id(Id::unique(("reading", name.to_owned())))
                .char_limit(40)
                .align(Align2::LEFT_CENTER)
                .min_size(vec2(0.0, space::HIT))
                .desired_width(space::FRACTION_FIELD);
            let response = ui.add(edit).accessible_name(name);
            entered |= response.lost_focus() && ui.input(|input| input.key_pressed(Press::Enter));
            ui.label(RichText::new(unit).color(palette.dim));
        });
    };
    line(ui, "on", "Day of the reading", "", &mut reading.on);
    refusal(ui, reading.refused[0].as_ref());
    let sign = values::unit_sign(unit, style);
    line(ui, "give or take", "Reading error", sign, &mut reading.error);
    refusal(ui, reading.refused[1].as_ref());
    ui.horizontal(|ui| {
        theme::quiet(ui);
        for error in usual(unit) {
            let text = values::parts(error, unit, DIGITS, style).0;
            if ui.button(format!("± {text}")).on_hover_text(of_tool(unit, error)).clicked() {
                reading.error = text;
            }
        }
    });
    if before != (reading.on.clone(), reading.error.clone()) {
        reading.refused = [None, None];
    }
    let done = ui.horizontal(|ui| marks::main_button(ui, "Mark as measured").clicked());
    let clicked = done.inner;
    if clicked || entered { reading.read(design, style) } else { None }
}

fn refusal(ui: &mut Ui, why: Option<&String>) {
    if let Some(why) = why {
        let colour = theme::palette(ui).state(State::Fails);
        let words = RichText::new(why).font(theme::label()).color(colour);
        // a menu would spread the words over its width
        ui.vertical(|ui| ui.add(Label::new(words).wrap()));
    }
}

/// Usual reading errors, the most usual first (common practice, no source).
fn usual(unit: Unit) -> Vec<f64> {
    match unit {
        Unit::Length => vec![0.1, 0.05, 0.5],
        Unit::Angle => vec![0.1, 0.05, 0.2],
        Unit::Count | Unit::Number => Vec::new(),
    }
}

/// What reads as well as that (common practice, no source).
fn of_tool(unit: Unit, error: f64) -> &'static str {
    match unit {
        Unit::Length if error < 0.1 => "A calliper on a firm edge",
        Unit::Length if error < 0.5 => "A calliper or a depth gauge",
        Unit::Length => "A steel rule",
        _ if error < 0.1 => "A digital gauge, set to zero on the same face",
        _ if error < 0.2 => "A digital gauge",
        _ => "A protractor",
    }
}

/// The day it is, by the clock of the system in universal time.
pub(crate) fn today() -> Option<Date> {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |passed| passed.as_secs());
    Date::of_day(seconds / 86_400)
}
