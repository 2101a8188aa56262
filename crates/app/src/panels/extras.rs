//! What a design holds besides its dimensions: points of an arch, what holds a string down,
//! the range of a check, notes.

use egui::{Align, Align2, Label, Layout, RichText, TextEdit, Ui, vec2};
use overstand_core::design::{ArchPoint, Design, Limit, Retainer, Top};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::{Length, LengthStyle, Unit, parse_angle, parse_length, parse_number};
use overstand_core::verdict::{Check, CheckId};

use super::field;
use crate::command::Command;
use crate::theme::{self, space};
use crate::view::{Draft, Extra, Field, View};
use crate::{drive, marks, values};

/// Fewest points of an arch.
const FEWEST_POINTS: usize = 3;
/// Longest note, in characters.
const LONGEST_NOTES: usize = 20_000;

/// A number of a design that is no dimension.
pub(crate) struct Slot<'a> {
    pub(crate) extra: Extra,
    /// What it is called by those who do not see where it stands.
    pub(crate) name: String,
    pub(crate) value: f64,
    pub(crate) unit: Unit,
    pub(crate) digits: usize,
    /// Puts another value in.
    pub(crate) put: &'a dyn Fn(&mut Design, f64),
}

impl Slot<'_> {
    fn read(&self, study: &Study, text: &str, style: LengthStyle) -> Result<Design, String> {
        let value = match self.unit {
            Unit::Length => parse_length(text, style),
            Unit::Angle => parse_angle(text),
            Unit::Count | Unit::Number => parse_number(text),
        }
        .map_err(|error| values::capital(&error.to_string()))?;
        let mut design = study.design.clone();
        (self.put)(&mut design, value);
        match design.faults().first() {
            Some(fault) => Err(drive::fault_words(fault)),
            None => Ok(design),
        }
    }

    /// The field alone. What is refused keeps its words; [`field::refusal`] says why.
    pub(crate) fn show(
        &self,
        ui: &mut Ui,
        study: &Study,
        style: LengthStyle,
        view: &mut View,
        commands: &mut Vec<Command>,
    ) {
        let field = Field::Extra(self.extra);
        let shown = values::parts(self.value, self.unit, self.digits, style).0;
        let mut text =
            view.drafts.get(&field).map_or_else(|| shown.clone(), |draft| draft.text.clone());
        let edit = TextEdit::singleline(&mut text)
            .id(field::id(field))
            .desired_width(field::width(style) - space::UNIT - 2.0 * space::M)
            .margin(egui::Margin::symmetric(space::M as i8, space::S as i8))
            .align(Align2::RIGHT_CENTER)
            .char_limit(80);
        let response = ui.add(edit).accessible_name(&self.name);
        if view.focus == Some(field) {
            view.focus = None;
            response.request_focus();
        }
        if response.gained_focus() || response.changed() {
            let start = || Draft { was: shown.clone(), text: shown.clone(), refused: None };
            let draft = view.drafts.entry(field).or_insert_with(start);
            if response.gained_focus() {
                // typed over, and in sight when it is reached by Tab
                field::select_all(ui, field, draft);
                response.scroll_to_me(None);
            }
            if response.changed() {
                draft.text = text;
                draft.refused = None;
            }
        }
        if !response.lost_focus() {
            return;
        }
        let escaped = ui.input(|input| input.key_pressed(egui::Key::Escape));
        let Some(draft) = view.drafts.get_mut(&field) else {
            return;
        };
        if escaped || draft.text == draft.was {
            view.drafts.remove(&field);
            return;
        }
        match self.read(study, &draft.text, style) {
            Ok(design) => {
                view.drafts.remove(&field);
                let name = format!("Set {}", lower(&self.name));
                commands.push(Command::edit(name, design));
            }
            Err(why) => draft.refused = Some(why),
        }
    }

    /// The field in a row of its own, named at the left.
    #[expect(clippy::too_many_arguments, reason = "a field is where all of it meets")]
    fn row(
        &self,
        ui: &mut Ui,
        indent: f32,
        label: &str,
        study: &Study,
        style: LengthStyle,
        view: &mut View,
        commands: &mut Vec<Command>,
    ) {
        ui.horizontal(|ui| {
            ui.add_space(indent);
            ui.add(Label::new(label).selectable(false));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                unit(ui, self.unit, style);
                self.show(ui, study, style, view, commands);
            });
        });
        field::refusal(ui, Field::Extra(self.extra), view);
    }
}

fn unit(ui: &mut Ui, unit: Unit, style: LengthStyle) {
    let sign = RichText::new(values::unit_sign(unit, style)).color(theme::palette(ui).dim);
    ui.spacing_mut().item_spacing.x = 0.0;
    ui.add_sized(vec2(space::UNIT, space::HIT), Label::new(sign).selectable(false));
}

/// The points of an arched top.
pub(crate) fn arch(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let Top::Arch { points } = &study.design.body.top else {
        return;
    };
    for (index, point) in points.iter().enumerate() {
        let slot = |is_height: bool, value: Length, put| Slot {
            extra: Extra::Arch(index, is_height),
            name: format!(
                "Arch point {}, {}",
                index + 1,
                if is_height { "height" } else { "from the joint" }
            ),
            value: value.to_mm(),
            unit: Unit::Length,
            digits: 1,
            put,
        };
        let put_x =
            |design: &mut Design, value| set_point(design, index, |at| at.x = Length::mm(value));
        let put_z =
            |design: &mut Design, value| set_point(design, index, |at| at.z = Length::mm(value));
        ui.horizontal(|ui| {
            ui.add_space(space::HIT + space::S);
            ui.add(Label::new(format!("Point {}", index + 1)).selectable(false))
                .on_hover_text("Distance from the joint along the datum, and height over it.");
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                unit(ui, Unit::Length, style);
                slot(true, point.z, &put_z).show(ui, study, style, view, commands);
                ui.add_space(space::S);
                slot(false, point.x, &put_x).show(ui, study, style, view, commands);
                if index > 0 && points.len() > FEWEST_POINTS {
                    ui.add_space(space::S);
                    let out = ui.small_button("–").on_hover_text("Take this point out");
                    if out.accessible_name(format!("Take point {} out", index + 1)).clicked() {
                        let without = edited(study, |points| {
                            points.remove(index);
                        });
                        view.drafts
                            .retain(|field, _| !matches!(field, Field::Extra(Extra::Arch(..))));
                        commands.push(Command::edit("Take a point of the arch out", without));
                    }
                }
            });
        });
        for is_height in [false, true] {
            field::refusal(ui, Field::Extra(Extra::Arch(index, is_height)), view);
        }
    }
    ui.horizontal(|ui| {
        ui.add_space(space::HIT + space::S);
        if marks::link(ui, "Add a point").clicked()
            && let Some((place, point)) = between(study, points)
        {
            commands.push(Command::edit(
                "Add a point to the arch",
                edited(study, |points| points.insert(place, point)),
            ));
        }
    });
}

fn edited(study: &Study, change: impl FnOnce(&mut Vec<ArchPoint>)) -> Design {
    let mut design = study.design.clone();
    if let Top::Arch { points } = &mut design.body.top {
        change(points);
    }
    design
}

fn set_point(design: &mut Design, index: usize, change: impl FnOnce(&mut ArchPoint)) {
    if let Top::Arch { points } = &mut design.body.top
        && let Some(point) = points.get_mut(index)
    {
        change(point);
    }
}

/// A point on the top as it is, in the middle of the widest gap, and its place in the list.
fn between(study: &Study, points: &[ArchPoint]) -> Option<(usize, ArchPoint)> {
    let layout = study.layout()?;
    let (place, pair) =
        points.windows(2).enumerate().max_by(|(_, a), (_, b)| gap(a).total_cmp(&gap(b)))?;
    let x = pair.first()?.x.to_mm() + gap(pair) / 2.0;
    // a tenth is what is measured
    let z = (layout.top(x) * 10.0).round() / 10.0;
    Some((place + 1, ArchPoint { x: Length::mm(x), z: Length::mm(z) }))
}

fn gap(pair: &[ArchPoint]) -> f64 {
    match pair {
        [a, b] => b.x.to_mm() - a.x.to_mm(),
        _ => 0.0,
    }
}

/// What holds a string down between nut and post.
pub(crate) fn retainer(
    ui: &mut Ui,
    study: &Study,
    string: usize,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let Some(one) = study.design.strings.get(string) else {
        return;
    };
    let indent = space::HIT + space::S;
    let with = |retainer: Option<Retainer>| {
        let mut design = study.design.clone();
        if let Some(string) = design.strings.get_mut(string) {
            string.retainer = retainer;
        }
        design
    };
    if let Some(held) = &one.retainer {
        let slot = |is_height: bool, value: Length, name: &str, put| Slot {
            extra: Extra::Retainer(string, is_height),
            name: name.to_owned(),
            value: value.to_mm(),
            unit: Unit::Length,
            digits: 1,
            put,
        };
        let set = |design: &mut Design, change: &dyn Fn(&mut Retainer)| {
            if let Some(held) = design.strings.get_mut(string).and_then(|one| one.retainer.as_mut())
            {
                change(held);
            }
        };
        let along = |design: &mut Design, value| {
            set(design, &|held| held.along = Length::mm(value));
        };
        let height = |design: &mut Design, value| {
            set(design, &|held| held.height = Length::mm(value));
        };
        slot(false, held.along, "Retainer from the nut", &along).row(
            ui,
            indent,
            "Retainer along",
            study,
            style,
            view,
            commands,
        );
        slot(true, held.height, "String over the face at the retainer", &height).row(
            ui,
            indent,
            "Held down to",
            study,
            style,
            view,
            commands,
        );
    }
    ui.horizontal(|ui| {
        ui.add_space(indent);
        if one.retainer.is_some() {
            if marks::link(ui, "Take the retainer off").clicked() {
                commands.push(Command::edit("Take the retainer off", with(None)));
            }
        } else if marks::link(ui, "Hold it down by a retainer").clicked() {
            // half way to the post, where it does not press yet
            let retainer = Retainer { along: one.post / 2.0, height: one.post_height };
            commands.push(Command::edit("Add a retainer", with(Some(retainer))));
        }
    });
}

/// The edges of a check's range.
pub(crate) fn range(
    ui: &mut Ui,
    study: &Study,
    check: &Check,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let id = check.id;
    let limit = check.reading.limit;
    let edges = [
        ("Fails at or below", limit.fails_below),
        ("Thin below", limit.thin_below),
        ("Thin above", limit.thin_above),
        ("Fails at or above", limit.fails_above),
    ];
    for (index, (label, value)) in edges.into_iter().enumerate() {
        let Some(value) = value else { continue };
        let put = |design: &mut Design, value| {
            let limit =
                design.limits.entry(id.text().to_owned()).or_insert_with(|| id.usual_limit());
            *edge(limit, index) = Some(value);
        };
        let slot = Slot {
            extra: Extra::Limit(id, index),
            name: format!("{}: {}", id.name(), label.to_lowercase()),
            value,
            unit: id.unit(),
            digits: 2,
            put: &put,
        };
        slot.row(ui, 0.0, label, study, style, view, commands);
    }
    if study.design.limits.contains_key(id.text())
        && marks::link(ui, "Back to the usual range").clicked()
    {
        view.drafts.retain(|field, _| !is_of(*field, id));
        let mut design = study.design.clone();
        design.limits.remove(id.text());
        commands.push(Command::edit("Back to the usual range", design));
    }
}

fn is_of(field: Field, id: CheckId) -> bool {
    matches!(field, Field::Extra(Extra::Limit(of, _)) if of == id)
}

fn edge(limit: &mut Limit, index: usize) -> &mut Option<f64> {
    match index {
        0 => &mut limit.fails_below,
        1 => &mut limit.thin_below,
        2 => &mut limit.thin_above,
        _ => &mut limit.fails_above,
    }
}

/// Anything worth remembering.
pub(crate) fn notes(ui: &mut Ui, study: &Study, view: &mut View, commands: &mut Vec<Command>) {
    let field = Field::Extra(Extra::Notes);
    let notes = &study.design.notes;
    let mut text =
        view.drafts.get(&field).map_or_else(|| notes.clone(), |draft| draft.text.clone());
    let edit_notes = TextEdit::multiline(&mut text)
        .id(field::id(field))
        .hint_text("Notes: anything worth remembering")
        .desired_width(f32::INFINITY)
        .desired_rows(3)
        .char_limit(LONGEST_NOTES);
    let response = ui.add(edit_notes).accessible_name("Notes");
    if response.changed() {
        view.drafts.entry(field).or_default().text = text;
    }
    if response.lost_focus()
        && let Some(draft) = view.drafts.remove(&field)
        && draft.text != *notes
        && !ui.input(|input| input.key_pressed(egui::Key::Escape))
    {
        let design = Design { notes: draft.text, ..study.design.clone() };
        commands.push(Command::edit("Write notes", design));
    }
}
