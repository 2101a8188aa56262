//! The cells of the table in which something is given: a field or a list.

use egui::{Align, Align2, ComboBox, Layout, Rect, TextEdit, Ui, UiBuilder, vec2};
use overstand_core::design::{CoreSection, InstrumentString, Material, Note, StringMake};
use overstand_core::dimension::Key;
use overstand_core::strings::gauges::wound;
use overstand_core::study::Study;
use overstand_core::units::{Length, LengthStyle};

use crate::command::Command;
use crate::panels::field;
use crate::theme::space;
use crate::view::{Draft, Field, View};
use crate::{drive, values};

/// A field for a gauge or a core.
pub(super) fn number(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    key: Key,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let name = format!("{}, in the table", key.name(&study.design));
    let typed = field::place(ui, rect, study, key, Field::InTable(key), &name, style, view);
    if let Some(value) = typed {
        commands.push(Command::Set { key, value });
    }
}

/// A field for what a string is tuned to: a note, with cents, or hertz; empty for not known.
#[expect(clippy::too_many_arguments, reason = "a field is where all of it meets")]
pub(super) fn note(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    index: usize,
    one: &InstrumentString,
    field: Field,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let shown = one.note.map_or_else(String::new, Note::show);
    let mut text =
        view.drafts.get(&field).map_or_else(|| shown.clone(), |draft| draft.text.clone());
    let edit_note = TextEdit::singleline(&mut text)
        .id(field::id(field))
        .margin(egui::Margin::symmetric(space::S as i8, 0))
        .min_size(vec2(rect.width(), rect.height() - 2.0))
        .desired_width(rect.width() - 2.0 * space::S)
        .align(Align2::LEFT_CENTER)
        .hint_text("note")
        .char_limit(24);
    let name = format!("Tuning of string {} ({})", index + 1, one.name);
    let response = ui.place(rect.shrink2(vec2(0.0, 1.0)), edit_note).accessible_name(&name);
    if response.gained_focus() {
        let draft = Draft { was: shown.clone(), text: shown, refused: None };
        let draft = view.drafts.entry(field).or_insert(draft);
        field::select_all(ui, field, draft);
    }
    if response.changed() {
        let draft = view.drafts.entry(field).or_default();
        draft.text = text;
        draft.refused = None;
    }
    if !response.lost_focus() {
        return;
    }
    let escaped = ui.input(|input| input.key_pressed(egui::Key::Escape));
    let Some(draft) = view.drafts.get_mut(&field) else { return };
    if escaped || draft.text == draft.was {
        view.drafts.remove(&field);
        return;
    }
    let typed = draft.text.trim();
    let note = if typed.is_empty() { Ok(None) } else { typed.parse::<Note>().map(Some) };
    let mut design = study.design.clone();
    match (note, design.strings.get_mut(index)) {
        (Ok(note), Some(string)) => {
            string.note = note;
            match design.faults().first() {
                Some(fault) => draft.refused = Some(drive::fault_words(fault)),
                None => {
                    view.drafts.remove(&field);
                    commands.push(Command::edit(format!("Tune string {}", index + 1), design));
                }
            }
        }
        (Err(why), _) => draft.refused = Some(values::capital(&why.to_string())),
        (Ok(_), None) => {}
    }
}

/// Plain or wound, and on what core.
pub(super) fn made(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    index: usize,
    one: &InstrumentString,
    commands: &mut Vec<Command>,
) {
    let (shown, section, core) = match &one.make {
        StringMake::Plain { .. } => ("Plain".to_owned(), None, None),
        StringMake::Wound { section, core_material, inner, .. } => {
            let layers = match inner.len() {
                0 => String::new(),
                more => format!(" × {}", more + 1),
            };
            let core = match section {
                CoreSection::Round => "round",
                CoreSection::Hexagonal => "hex",
            };
            (format!("Wound{layers}, {core}"), Some(*section), Some(*core_material))
        }
    };
    let put = |make: StringMake| {
        let mut design = study.design.clone();
        if let Some(string) = design.strings.get_mut(index) {
            string.make = make;
        }
        Command::edit(format!("Set how string {} is made", index + 1), design)
    };
    let name = format!("How string {} ({}) is made", index + 1, one.name);
    let tip = match &one.make {
        StringMake::Plain { .. } => "One wire or filament".to_owned(),
        StringMake::Wound { section, core_material, .. } => {
            let of = core_material.name().to_lowercase();
            format!("Wound on a {} core of {of}", section.name())
        }
    };
    combo(ui, rect, ("made", index), &shown, &name, &tip, |ui| {
        if ui.selectable_label(section.is_none(), "Plain").clicked() && section.is_some() {
            let material = core.unwrap_or_default();
            commands.push(put(StringMake::Plain { material }));
        }
        for other in CoreSection::ALL {
            let text = format!("Wound on a {} core", other.name());
            if !ui.selectable_label(section == Some(other), text).clicked()
                || section == Some(other)
            {
                continue;
            }
            let mut make = match &one.make {
                StringMake::Plain { material } => {
                    let gauge = one.gauge.unwrap_or(USUAL_GAUGE);
                    wound(gauge, *material)
                }
                made => made.clone(),
            };
            if let StringMake::Wound { section, .. } = &mut make {
                *section = other;
            }
            commands.push(put(make));
        }
        if let StringMake::Wound { core_material, .. } = one.make {
            ui.separator();
            for other in [Material::Steel, Material::Stainless, Material::Nylon, Material::Gut] {
                let text = format!("Core of {}", other.name().to_lowercase());
                let is_chosen = core_material == other;
                if ui.selectable_label(is_chosen, text).clicked() && !is_chosen {
                    let mut make = one.make.clone();
                    if let StringMake::Wound { core_material, .. } = &mut make {
                        *core_material = other;
                    }
                    commands.push(put(make));
                }
            }
        }
    });
}

/// A wound string of unknown gauge is taken for one in the middle of the usual ones, mm.
const USUAL_GAUGE: Length = Length::mm(0.9);

/// What a plain string, or the outermost wrap of a wound one, is made of.
pub(super) fn material(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    index: usize,
    one: &InstrumentString,
    commands: &mut Vec<Command>,
) {
    let (StringMake::Plain { material: chosen } | StringMake::Wound { wrap: chosen, .. }) =
        one.make;
    let name = format!("Material of string {} ({})", index + 1, one.name);
    combo(ui, rect, ("material", index), chosen.name(), &name, chosen.name(), |ui| {
        for other in Material::ALL {
            if ui.selectable_label(other == chosen, other.name()).clicked() && other != chosen {
                let mut design = study.design.clone();
                if let Some(string) = design.strings.get_mut(index) {
                    let (StringMake::Plain { material } | StringMake::Wound { wrap: material, .. }) =
                        &mut string.make;
                    *material = other;
                }
                commands.push(Command::edit(
                    format!("Set the material of string {}", index + 1),
                    design,
                ));
            }
        }
    });
}

fn combo(
    ui: &mut Ui,
    rect: Rect,
    id: (&str, usize),
    shown: &str,
    name: &str,
    tip: &str,
    list: impl FnOnce(&mut Ui),
) {
    let builder = UiBuilder::new()
        .max_rect(rect.shrink2(vec2(0.0, 1.0)))
        .layout(Layout::left_to_right(Align::Center));
    let mut cell = ui.new_child(builder);
    cell.spacing_mut().button_padding = vec2(space::S, 0.0);
    cell.spacing_mut().interact_size.y = rect.height() - 2.0;
    let response = ComboBox::from_id_salt(id)
        .width(rect.width())
        .selected_text(shown)
        .truncate()
        .show_ui(&mut cell, list)
        .response;
    response.accessible_name(name).on_hover_text(tip);
}
