//! What was read in this round, beside what the plan says it should be, and the next reading.

use egui::{Align, Checkbox, Id, Key as Press, Label, Layout, RichText, ScrollArea, TextEdit, Ui};
use overstand_core::design::{Date, Design};
use overstand_core::dryfit::{Reading, What, how_to_read};
use overstand_core::study::Study;
use overstand_core::units::{Angle, Length, LengthStyle, Unit, parse_angle, parse_length};
use overstand_core::verdict::State;
use overstand_core::working::{Figure, OfFit};

use super::{Desk, Entry, entry, round};
use crate::command::Command;
use crate::pages::fields::{WIDE, dim, field, heading, labelled, refusal, state_line};
use crate::panels::working;
use crate::theme::{self, space};
use crate::values;
use crate::view::{Draft, View};

/// Most letters of a note.
const NOTE: usize = 2000;
/// Decimals of a reading.
const DIGITS: usize = 2;

/// Shows them.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    desk: &mut Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let design = &study.design;
    let readings = round::readings(design);
    ui.add_space(space::S);
    ui.horizontal(|ui| {
        let title = format!("Round {}", round::number(design));
        ui.add(Label::new(RichText::new(title).font(theme::title())).selectable(false));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let count = match readings.len() {
                0 => "nothing read yet".to_owned(),
                1 => "1 reading".to_owned(),
                many => format!("{many} readings"),
            };
            let count = RichText::new(count).color(theme::palette(ui).dim);
            ui.add(Label::new(count).selectable(false));
        });
    });
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        said(ui, style, desk);
        for (index, reading) in readings.iter().enumerate() {
            one(ui, study, index, reading, style, desk, view, commands);
        }
        new_reading(ui, study, style, desk, commands);
        about(ui, study, desk, commands);
        ui.add_space(space::XL);
    });
}

/// What the readings say besides pitch and overstand, or why they say nothing.
fn said(ui: &mut Ui, style: LengthStyle, desk: &Desk) {
    if let Some(untold) = desk.worked.untold() {
        state_line(ui, State::Thin, &untold.says.show(style));
    }
    let Some(fit) = desk.worked.fit() else { return };
    for (index, says) in fit.says.iter().enumerate() {
        let is_contradiction = index == 0 && fit.told.contradiction.is_some();
        let says = says.show(style);
        if is_contradiction {
            state_line(ui, State::Fails, &says);
        } else {
            dim(ui, &says);
        }
    }
}

/// A reading: its name, its value and error to be typed over, what the plan says and what
/// the joint that was found would read.
#[expect(clippy::too_many_arguments, reason = "all of a reading meets there")]
fn one(
    ui: &mut Ui,
    study: &Study,
    index: usize,
    reading: &Reading,
    style: LengthStyle,
    desk: &mut Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let unit = unit(&reading.what);
    let show = |value: f64| values::show(value, unit, DIGITS, style);
    let name = values::capital(&long_name(&reading.what, style));
    let name = name.trim_end_matches('.').to_owned();
    ui.separator();
    let is_doubted = desk
        .worked
        .fit()
        .and_then(|fit| fit.told.contradiction.as_ref())
        .is_some_and(|it| it.pair.0 == index || it.pair.1 == index);
    let blamed = desk.worked.untold().is_some_and(|untold| untold.reading == Some(index));
    ui.horizontal_top(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
            let remove = ui.button("Remove");
            if remove.accessible_name(format!("Remove reading {}", index + 1)).clicked() {
                let step = format!("Remove reading {}", index + 1);
                commands.extend(round::change(&study.design, step, |round| {
                    if index < round.readings.len() {
                        round.readings.remove(index);
                    }
                }));
            }
            ui.with_layout(Layout::left_to_right(Align::Min), |ui| {
                let colour =
                    if is_doubted || blamed { palette.state(State::Fails) } else { palette.ink };
                let number = format!("{}  {name}", index + 1);
                ui.add(Label::new(RichText::new(number).color(colour)).wrap());
            });
        });
    });
    let drafts = &mut desk.drafts;
    let mut changed: Option<Reading> = None;
    ui.horizontal(|ui| {
        let mut value = |ui: &mut Ui, entry: Entry, name: String, shown: String| {
            field(ui, &name, entry, &shown, space::FRACTION_FIELD, drafts, |text| {
                changed = Some(typed(reading, entry, text, style)?);
                Ok(())
            });
        };
        match &reading.what {
            What::Gauge { board, body, .. } => {
                let at = format!("Reading {} on the board", index + 1);
                value(ui, Entry::Value(index), at, show(board.to_degrees()));
                let at = format!("Reading {} on the body", index + 1);
                value(ui, Entry::Body(index), at, show(body.to_degrees()));
            }
            what => {
                let at = format!("Reading {}", index + 1);
                value(ui, Entry::Value(index), at, show(what.value()));
            }
        }
        ui.add(Label::new("±").selectable(false));
        let at = format!("Error of reading {}", index + 1);
        let shown = values::show(reading.error, unit, DIGITS, style);
        value(ui, Entry::Error(index), at, shown);
    });
    for entry in [Entry::Value(index), Entry::Body(index), Entry::Error(index)] {
        refusal(ui, entry, drafts);
    }
    if let Some(reading) = changed {
        let step = format!("Change reading {}", index + 1);
        commands.extend(round::change(&study.design, step, |round| {
            if let Some(one) = round.readings.get_mut(index) {
                *one = reading;
            }
        }));
    }
    let Some(Ok(planned)) = desk.worked.planned.get(index) else {
        dim(ui, "nothing to hold it against");
        return;
    };
    let miss = desk.worked.fit().and_then(|fit| fit.told.misses.get(index));
    // a thread that runs along the centre line passes it nowhere
    let has_plan = !matches!(reading.what, What::Aim { .. });
    let mut said = vec![("plan", show(*planned), has_plan.then_some(OfFit::AsPlanned(index)))];
    if let Some(fitted) = miss.and_then(|miss| miss.fitted) {
        said.push(("· joint as found", show(fitted), Some(OfFit::AsFound(index))));
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = space::S;
        for (words, text, of) in said {
            dim(ui, words);
            let Some(of) = of else {
                dim(ui, &text);
                continue;
            };
            let words = words.trim_start_matches("· ");
            let spoken = format!("reading {}, {words} {text}", index + 1);
            let (font, colour) = (theme::label(), palette.dim);
            working::figure(ui, &text, font, colour, Figure::Fit(of), &spoken, view);
        }
    });
}

/// What was measured, in a few words, with how far across and the straightedge's edge.
fn long_name(what: &What, style: LengthStyle) -> String {
    use overstand_core::dryfit::Side;
    let mut name = what.name().show(style);
    let length = |value: Length| values::show(value.to_mm(), Unit::Length, 1, style);
    if let What::Height { side, edge, .. } = what {
        if let Side::Near(off) | Side::Far(off) = side {
            name += &format!(" {} from the centre line", length(*off));
        }
        if *edge != Length::ZERO {
            name += &format!(", over an edge {} deep", length(*edge));
        }
    }
    if let What::Gauge { place: Some(place), .. } = what {
        name += &format!(", {}", place.name().show(style));
    }
    name
}

fn unit(what: &What) -> Unit {
    if what.is_angle() { Unit::Angle } else { Unit::Length }
}

/// A reading with what was typed over one of its numbers.
fn typed(
    reading: &Reading,
    entry: Entry,
    text: &str,
    style: LengthStyle,
) -> Result<Reading, String> {
    let text = text.trim_start_matches('+');
    let length = || parse_length(text, style).map_err(|error| error.to_string());
    let angle = || parse_angle(text).map_err(|error| error.to_string());
    let mut reading = reading.clone();
    match (entry, &mut reading.what) {
        (Entry::Error(_), what) => {
            reading.error = if what.is_angle() { angle()? } else { length()? };
        }
        (Entry::Body(_), What::Gauge { body, .. }) => *body = Angle::degrees(angle()?),
        (_, What::Gauge { board, .. }) => *board = Angle::degrees(angle()?),
        (_, What::Height { height, .. }) => *height = Length::mm(length()?),
        (_, What::Gap { gap, .. }) => *gap = Length::mm(length()?),
        (_, What::Aim { off, .. }) => *off = Length::mm(length()?),
        (_, What::Roll { lean }) => *lean = Angle::degrees(angle()?),
    }
    match reading.fault() {
        Some(fault) => Err(fault.says.show(style)),
        None => Ok(reading),
    }
}

fn new_reading(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    desk: &mut Desk,
    commands: &mut Vec<Command>,
) {
    if !round::readings(&study.design).is_empty() {
        ui.separator();
    }
    heading(ui, "A new reading");
    if let Some(why) = round::full(&study.design) {
        dim(ui, &why);
        return;
    }
    if let Some(reading) = entry::show(ui, study, style, &desk.worked, &mut desk.form) {
        let step = format!("Put down: {}", reading.what.name().show(style));
        if !has_height(round::readings(&study.design)) {
            desk.form.go_on(&reading, study, style);
        }
        commands.extend(round::change(&study.design, step, |round| round.readings.push(reading)));
    }
    ui.add_space(space::S);
    dim(ui, &how_to_read().show(style));
}

fn has_height(readings: &[Reading]) -> bool {
    readings.iter().any(|one| matches!(one.what, What::Height { .. }))
}

/// The round itself: whether it is of the glued joint, its day and its notes.
fn about(ui: &mut Ui, study: &Study, desk: &mut Desk, commands: &mut Vec<Command>) {
    let design = &study.design;
    let Some(open) = round::open(design).and_then(|index| design.fitting.get(index)) else {
        return;
    };
    ui.separator();
    heading(ui, "This round");
    let mut glued = open.glued;
    let tip = "These readings are final: the page then gives the set-up";
    let ticked = ui.add(Checkbox::new(&mut glued, "Neck and body are glued"));
    if ticked.on_hover_text(tip).changed() {
        let step = if glued { "Glued" } else { "Not glued yet" };
        commands.extend(round::change(design, step, |round| round.glued = glued));
        desk.leaf = None;
    }
    let mut day = None;
    labelled(ui, "Day", |ui| {
        let shown = open.on.to_string();
        field(ui, "Day of the round", Entry::Day, &shown, WIDE, &mut desk.drafts, |text| {
            day = Some(text.parse::<Date>().map_err(|error| error.to_string())?);
            Ok(())
        });
    });
    refusal(ui, Entry::Day, &desk.drafts);
    if let Some(day) = day.filter(|day| *day != open.on) {
        commands.extend(round::change(design, "Day of the round", |round| round.on = day));
    }
    note(ui, study, &open.note, desk, commands);
    ui.add_space(space::S);
    if !open.readings.is_empty() {
        let tip = "This one stays in the log with nothing done";
        if ui.button("Begin a new round").on_hover_text(tip).clicked() {
            commands.extend(round::begin(design));
        }
    }
}

fn note(ui: &mut Ui, study: &Study, kept: &str, desk: &mut Desk, commands: &mut Vec<Command>) {
    let draft = desk.drafts.get(&Entry::Note);
    let mut text = draft.map_or_else(|| kept.to_owned(), |draft| draft.text.clone());
    let edit = TextEdit::multiline(&mut text)
        .id(Id::unique("note of the round"))
        .hint_text(RichText::new("Notes").color(theme::palette(ui).dim))
        .char_limit(NOTE)
        .desired_rows(2)
        .desired_width(f32::INFINITY);
    let response = ui.add(edit).accessible_name("Notes of the round");
    if response.changed() {
        let draft = Draft { was: kept.to_owned(), text, refused: None };
        desk.drafts.insert(Entry::Note, draft);
    }
    if response.lost_focus()
        && let Some(draft) = desk.drafts.remove(&Entry::Note)
        && !ui.input(|input| input.key_pressed(Press::Escape))
    {
        commands.extend(noted(&study.design, draft.text));
    }
}

/// The design with notes in its open round; none where nothing changes.
pub(super) fn noted(design: &Design, note: String) -> Option<Command> {
    let kept = round::open(design).and_then(|index| design.fitting.get(index));
    if note == kept.map_or("", |round| round.note.as_str()) {
        return None;
    }
    round::change(design, "Notes of the round", |round| round.note = note)
}
