//! The bar at the bottom: what can be done, what happens, what the design is.

use egui::{Align, ComboBox, Label, Layout, RichText, Ui, vec2};
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::State;

use crate::command::Command;
use crate::document::Document;
use crate::theme::{self, space};
use crate::view::{CanvasId, Page, View};
use crate::{drive, marks, values};

/// Shows the bar.
pub(crate) fn show(
    ui: &mut Ui,
    document: &Document,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    ui.horizontal_centered(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let text = summary(document.design(), style);
            ui.add(Label::new(RichText::new(text).color(palette.dim)).selectable(false));
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                left(ui, document, style, view, commands);
            });
        });
    });
}

fn left(
    ui: &mut Ui,
    document: &Document,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    // the handle is left on the way to the choice of what follows it
    view.handle = view.handle.or(view.choosing);
    let palette = theme::palette(ui);
    if view.note.is_trouble {
        let (rect, _) = ui.allocate_exact_size(vec2(space::XL, space::XL), egui::Sense::hover());
        let colour = palette.state(State::Fails);
        marks::state(ui.painter(), rect.center(), State::Fails, colour);
    }
    let is_at_handle = view.drag.is_some() || view.handle.is_some();
    let shows_hint = view.note.text.is_empty() || (is_at_handle && !view.note.is_trouble);
    let (text, colour) = if shows_hint {
        (hint(document, style, view), palette.dim)
    } else {
        (view.note.text.clone(), palette.ink)
    };
    ui.add(Label::new(RichText::new(text).color(colour)).truncate().selectable(false));
    let driven = view.handle.filter(|_| view.drag.is_none());
    let chooses = |driven: &Dim| follower(ui, document.study(), *driven, view, commands);
    view.choosing = driven.filter(chooses);
}

/// Which dimension gives while a found one is dragged, to be chosen. Returns whether it is
/// being chosen.
fn follower(
    ui: &mut Ui,
    study: &Study,
    driven: Dim,
    view: &View,
    commands: &mut Vec<Command>,
) -> bool {
    let choice = drive::followers(&study.design, driven);
    if choice.len() < 2 {
        return false;
    }
    let chosen = chosen_follower(&study.design, driven, view);
    let shown = ComboBox::from_id_salt("follower")
        .selected_text(chosen.map_or("", |dim| dim.info().name))
        .show_ui(ui, |ui| {
            for &dim in &choice {
                if ui.selectable_label(chosen == Some(dim), dim.info().name).clicked() {
                    commands.push(Command::Follow { driven, follower: dim });
                    ui.close();
                }
            }
        });
    let response = shown
        .response
        .accessible_name(format!("What follows {}", driven.info().name.to_lowercase()));
    shown.inner.is_some()
        || response.has_focus()
        || response.hovered()
        || response.is_pointer_button_down_on()
}

/// The follower of a found dimension: the one the maker chose, if it still can.
pub(crate) fn chosen_follower(design: &Design, driven: Dim, view: &View) -> Option<Dim> {
    let choice = drive::followers(design, driven);
    let chosen = view.followers.get(&driven).filter(|dim| choice.contains(dim));
    chosen.or(choice.first()).copied()
}

/// Lets the next one that can give follow a found dimension, if there is another.
pub(crate) fn next_follower(design: &Design, driven: Dim, view: &View) -> Option<Command> {
    let choice = drive::followers(design, driven);
    let chosen = chosen_follower(design, driven, view)?;
    let place = choice.iter().position(|dim| *dim == chosen)?;
    let follower = *choice.get((place + 1) % choice.len())?;
    (follower != chosen).then_some(Command::Follow { driven, follower })
}

/// What can be done here, or what a drag does.
fn hint(document: &Document, style: LengthStyle, view: &View) -> String {
    let study = document.study();
    if let Some(drag) = &view.drag {
        let driven = match drag.canvas {
            CanvasId::Map => view.how_true.map.map(|key| key.dim).to_vec(),
            _ => vec![drag.dim],
        };
        let moved = followed(document.before_step(), study, &driven, style);
        let names: Vec<String> = driven.iter().map(|dim| dim.info().name.to_lowercase()).collect();
        let name = values::capital(&names.join(" and "));
        let name = name.trim_end_matches('.');
        return match moved.is_empty() {
            true => format!("{name}: nothing else moves. Escape puts it back."),
            false => format!("{name}: {}. Escape puts it back.", follow(&moved)),
        };
    }
    if let Some(dim) = view.handle {
        let name = dim.info().name;
        if dim.key().is_found(&study.design) {
            return match chosen_follower(&study.design, dim, view) {
                Some(follower) => {
                    let others = drive::followers(&study.design, dim).len() > 1;
                    format!(
                        "{name} is found. Drag it: {} follows.{}",
                        follower.info().name.to_lowercase(),
                        if others { " Space: another." } else { "" }
                    )
                }
                None => format!(
                    "{name} is found, and nothing can give for it: release something first."
                ),
            };
        }
        return match would_follow(&study.design, dim, style).as_slice() {
            [] => format!("Drag the {}: nothing else moves.", name.to_lowercase()),
            names => format!("Drag the {}: {}.", name.to_lowercase(), follow(names)),
        };
    }
    if view.page == Page::DryFit {
        return "Scroll over a drawing zooms, the middle button moves it, F fits it. What is read is kept with the design."
            .to_owned();
    }
    if view.page == Page::Paper {
        return "Scroll zooms, drag moves the sheet, F fits it; Page up and Page down turn the sheets."
            .to_owned();
    }
    if view.page == Page::HowTrue {
        return "Drag the point on the map, or move it by the arrow keys: the crest follows."
            .to_owned();
    }
    "Drag a handle, or type a value. Filled dots stay, open rings are what gives.".to_owned()
}

/// Some names and that they follow: `pitch follows`, `pitch and bridge station follow`.
pub(crate) fn follow(names: &[String]) -> String {
    match names {
        [one] => format!("{one} follows"),
        [rest @ .., last] => format!("{} and {last} follow", rest.join(", ")),
        [] => "nothing follows".to_owned(),
    }
}

/// Found dimensions that moved between two states, with their new values.
fn followed(before: &Design, study: &Study, driven: &[Dim], style: LengthStyle) -> Vec<String> {
    Key::all_of(&study.design)
        .into_iter()
        .filter(|key| !driven.contains(&key.dim) && key.dim.info().role == Role::Closing)
        .filter_map(|key| {
            let (was, is) = (key.get(before)?, key.get(&study.design)?);
            // less than the eye sees is no move
            let seen = 0.5 * 0.1_f64.powi(i32::try_from(key.dim.info().digits).ok()?);
            ((was - is).abs() > seen).then(|| {
                let name = key.dim.info().name.to_lowercase();
                format!("{name} {}", values::show_dim(key.dim.info(), is, style))
            })
        })
        .collect()
}

/// Names of the found dimensions that would move with a held one.
pub(crate) fn would_follow(design: &Design, dim: Dim, style: LengthStyle) -> Vec<String> {
    let Some(value) = dim.key().get(design) else {
        return Vec::new();
    };
    let Ok(study) = drive::drive(design, dim.key(), value + dim.info().step, None, style) else {
        return Vec::new();
    };
    Key::all_of(design)
        .into_iter()
        .filter(|key| key.dim != dim && crate::panels::dimensions::is_found(design, key.dim))
        .filter(|key| {
            let (was, is) = (key.get(design), key.get(&study.design));
            let seen = key.dim.info().step / 20.0;
            was.zip(is).is_some_and(|(was, is)| (was - is).abs() > seen)
        })
        .map(|key| key.dim.info().name.to_lowercase())
        .collect()
}

/// Scale, frets and strings in a line.
fn summary(design: &Design, style: LengthStyle) -> String {
    let scale = values::show(design.scale.length.to_mm(), Unit::Length, 1, style);
    let frets = match design.scale.frets {
        0 => "fretless".to_owned(),
        1 => "1 fret".to_owned(),
        frets => format!("{frets} frets"),
    };
    let strings = match design.strings.len() {
        1 => "1 string".to_owned(),
        strings => format!("{strings} strings"),
    };
    format!("{scale} scale · {frets} · {strings}")
}
