//! Every dimension of the design, by part: held or found, typed, marked.

use egui::{
    Align, ComboBox, Label, Rect, RichText, Role, ScrollArea, Sense, TextEdit, Ui, WidgetInfo, vec2,
};
use overstand_core::choice::Choice;
use overstand_core::design::Design;
use overstand_core::dimension::{self, Dim, Key, Part};
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::working::Figure;

use super::{extras, field, provenance, tips, working};
use crate::command::Command;
use crate::lists::List;
use crate::marks::{self, Pinned};
use crate::theme::{self, space};
use crate::tour::{self, Spot};
use crate::values;
use crate::view::{Field, Page, View};

/// Shows the panel, for the parts of the page.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    ui.take_available_width();
    tour::mark(ui, Spot::Dimensions, ui.max_rect());
    ui.spacing_mut().item_spacing.y = 0.0;
    let mut keys = Key::all_of(&study.design);
    keys.retain(|key| view.page.lists(key.dim));
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        ui.add_space(space::S);
        for &part in view.page.parts() {
            let of_part: Vec<Key> =
                keys.iter().copied().filter(|key| key.dim.info().part() == part).collect();
            let list = List::of(part);
            if of_part.is_empty() && list.is_none() {
                continue;
            }
            let has_found = of_part.iter().any(|key| {
                key.dim.info().role == dimension::Role::Closing && key.is_found(&study.design)
            });
            heading(ui, part, has_found, view);
            if !view.open.contains(&part) {
                continue;
            }
            let choices = Choice::all().iter().filter(|choice| {
                part_of(choice) == Some(part)
                    && (choice.key != "joint.floor_kind" || view.page == Page::Joint)
            });
            for choice in choices {
                choose(ui, &study.design, choice, commands);
            }
            match list {
                Some(list) => listed(ui, study, list, &of_part, style, view, commands),
                None => {
                    for key in of_part {
                        row(ui, study, key, style, view, commands);
                    }
                }
            }
            if part == Part::Body {
                extras::arch(ui, study, style, view, commands);
            }
            ui.add_space(space::M);
        }
        extras::notes(ui, study, view, commands);
        ui.add_space(space::XL);
    });
}

/// The part that a choice belongs to.
fn part_of(choice: &Choice) -> Option<Part> {
    Some(match choice.key.split('.').next()? {
        "joint" => Part::Joint,
        "nut" => Part::Nut,
        "board" => Part::Board,
        "bridge" => Part::Bridge,
        "tail" => Part::Tail,
        "head" => Part::Head,
        "body" => Part::Body,
        "neck" => Part::Neck,
        _ => return None,
    })
}

/// The heading of a part, which folds it.
fn heading(ui: &mut Ui, part: Part, has_found: bool, view: &mut View) {
    let palette = theme::palette(ui);
    let is_open = view.open.contains(&part);
    let size = vec2(ui.available_width(), space::HIT);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response
        .widget_info(|| WidgetInfo::selected(Role::DisclosureTriangle, true, is_open, part.name()));
    let colour = if response.hovered() { palette.ink } else { palette.dim };
    let middle = rect.left_center();
    marks::fold(ui.painter(), middle + vec2(space::L, 0.0), is_open, colour);
    let at = middle + vec2(space::HIT + space::S, 0.0);
    ui.painter().text(at, egui::Align2::LEFT_CENTER, part.name(), theme::heading(), colour);
    if has_found && !is_open {
        let at = rect.right_center() - vec2(space::UNIT + space::L, 0.0);
        marks::pin(ui.painter(), at, palette, Pinned::Found);
    }
    marks::focus_ring(ui, &response);
    if response.clicked() && !view.open.remove(&part) {
        view.open.insert(part);
    }
    tips::on_hover(response, part.name());
}

/// A row with pin, name, mark, field and unit; below it why something was refused.
fn row(
    ui: &mut Ui,
    study: &Study,
    key: Key,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let info = key.dim.info();
    let palette = theme::palette(ui);
    let has_mark = info.role != dimension::Role::Outcome;
    let (wide, field_width) = (ui.available_width(), field::width(style));
    let (pin_width, mark_width) = (space::HIT + space::S, space::XL + space::S);
    // what comes of the rest has no mark, and more room for its name
    let behind = field_width + if has_mark { mark_width } else { 0.0 };
    let room = wide - pin_width - behind;
    let called = ui.painter().layout(info.name.to_owned(), theme::text(), palette.ink, room);
    let size = vec2(wide, space::HIT.max(called.size().y + space::S));
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let is_pointed_at = ui.rect_contains_pointer(rect) || view.handle == Some(key.dim);
    if is_pointed_at && !info.is_listed() {
        ui.painter().rect_filled(rect.expand2(vec2(0.0, 1.0)), theme::CORNER, palette.hover);
    }

    // beside a name of two lines all else stands in the middle
    let line = Rect::from_center_size(rect.center(), vec2(wide, space::HIT));
    let field_rect = line.with_min_x(line.right() - field_width);
    let mark_rect = Rect::from_min_max(
        field_rect.left_top() - vec2(mark_width, 0.0),
        field_rect.left_bottom() - vec2(space::S, 0.0),
    );
    let pin_rect = Rect::from_min_size(line.min, egui::Vec2::splat(space::HIT));
    let name_rect =
        Rect::from_min_size(rect.min + vec2(pin_width, 0.0), vec2(room.max(0.0), rect.height()));

    pin(ui, pin_rect, study, key, is_pointed_at, commands);
    let name = key.name(&study.design);
    let mut beside = ui.new_child(
        egui::UiBuilder::new()
            .max_rect(name_rect)
            .layout(egui::Layout::left_to_right(Align::Center)),
    );
    let called = beside
        .add(Label::new(RichText::new(info.name).color(palette.ink)).selectable(false).wrap())
        .on_hover_ui(|ui| tip(ui, key, &name, style));
    let follows = info.role != dimension::Role::Given && key.is_found(&study.design);
    if follows && study.closed().is_some() {
        let place = Rect::from_min_max(called.rect.min, called.rect.max + vec2(0.0, 1.0));
        working::opener(ui, place, "row", Figure::Dim(key), &name, view);
    }
    if has_mark {
        let design = &study.design;
        provenance::show(ui, mark_rect, design, key, is_pointed_at, style, view, commands);
    }
    let typed = field::place(ui, field_rect, study, key, Field::Row(key), &name, style, view);
    if let Some(value) = typed {
        commands.push(Command::Set { key, value });
    }
    field::refusal(ui, Field::Row(key), view);
}

/// What a dimension means.
fn tip(ui: &mut Ui, key: Key, name: &str, style: LengthStyle) {
    let info = key.dim.info();
    if name != info.name {
        ui.label(RichText::new(name).font(theme::strong()));
    }
    tips::words(ui, info.name);
    let [low, high] = [info.low, info.high].map(|end| values::show_dim(info, end, style));
    tips::small(ui, &format!("From {low} to {high} · {key}"));
}

/// The pin that says held or found, and turns it.
fn pin(
    ui: &Ui,
    rect: Rect,
    study: &Study,
    key: Key,
    is_pointed_at: bool,
    commands: &mut Vec<Command>,
) {
    let (info, palette) = (key.dim.info(), theme::palette(ui));
    let is_found = key.is_found(&study.design);
    if info.role == dimension::Role::Given {
        return;
    }
    let id = egui::Id::unique(("pin", key.dim as usize, key.index));
    let response = ui.interact(rect, id, Sense::click());
    if key.dim == Dim::Pitch && ui.is_rect_visible(rect) {
        tour::mark(ui, Spot::Pin, rect.shrink(space::S));
    }
    let name = format!("Hold {}", info.name.to_lowercase());
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, !is_found, &name));
    let pinned = match (info.role, is_found) {
        (_, false) => Pinned::Held,
        (dimension::Role::Closing, true) => Pinned::Found,
        (_, true) => Pinned::Result,
    };
    if pinned != Pinned::Result || is_pointed_at || response.has_focus() {
        marks::pin(ui.painter(), rect.center(), palette, pinned);
    }
    marks::focus_ring(ui, &response);
    let says = match pinned {
        Pinned::Held => "Held: it stays. Click to have it found.",
        Pinned::Found => "Found: it follows from what is held. Click to hold it.",
        Pinned::Result => {
            "A result. Click to hold it at this value; something else must then be found."
        }
    };
    if response.on_hover_text(says).clicked() {
        commands.push(Command::Pin(key));
    }
}

/// A choice between kinds of a part.
fn choose(ui: &mut Ui, design: &Design, choice: &'static Choice, commands: &mut Vec<Command>) {
    let palette = theme::palette(ui);
    let chosen = choice.get(design);
    let shown = choice
        .options
        .iter()
        .find(|(option, _)| *option == chosen)
        .map_or(chosen, |(_, shown)| shown);
    let name = |text: &str| RichText::new(text).color(palette.ink);
    labelled(ui, name(choice.name), choice.meaning, |ui, width| {
        let response = ComboBox::from_id_salt(choice.key)
            .width(width)
            .selected_text(shown)
            .truncate()
            .show_ui(ui, |ui| {
                for (option, shown) in choice.options {
                    if ui.selectable_label(*option == chosen, *shown).clicked() {
                        // by a key it would stay open
                        ui.close();
                        if *option != chosen {
                            commands.push(Command::Choose(choice, option));
                        }
                    }
                }
            })
            .response;
        response.accessible_name(choice.name);
    });
}

/// A name on the left and a control on the right.
fn labelled(ui: &mut Ui, name: RichText, meaning: &str, control: impl FnOnce(&mut Ui, f32)) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), space::HIT), Sense::hover());
    let width = (rect.width() * 0.56).max(space::FIELD + space::UNIT);
    let name_rect = Rect::from_min_max(
        rect.min + vec2(space::HIT + space::S, 0.0),
        rect.right_bottom() - vec2(width, 0.0),
    );
    let child = |rect| {
        egui::UiBuilder::new().max_rect(rect).layout(egui::Layout::left_to_right(Align::Center))
    };
    ui.new_child(child(name_rect))
        .add(Label::new(name).selectable(false).truncate())
        .on_hover_text(meaning);
    let control_rect = Rect::from_min_max(rect.right_top() - vec2(width, 0.0), rect.max);
    let mut beside = ui.new_child(child(control_rect.shrink2(vec2(0.0, 1.0))));
    // as high as a field
    beside.spacing_mut().button_padding.y = 0.0;
    beside.spacing_mut().interact_size.y = control_rect.height() - 2.0;
    control(&mut beside, width);
}

/// Which one of a list to look at, its name and its rows; more and fewer of them.
fn listed(
    ui: &mut Ui,
    study: &Study,
    list: List,
    keys: &[Key],
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let names = list.names(&study.design);
    let last = names.len().saturating_sub(1);
    let mut picked = view.listed.get(&list.part()).map_or(0, |&picked| picked.min(last));
    if let Some(name) = names.get(picked) {
        let numbered = names.iter().enumerate();
        let numbered: Vec<String> =
            numbered.map(|(index, name)| format!("{} · {name}", index + 1)).collect();
        let before = picked;
        pick(ui, list.one(), &numbered, &mut picked);
        let label = format!("Name of the {}", list.one().to_lowercase());
        if let Some(entered) = named(ui, &label, Field::Name(list, before), name, view) {
            picked = before;
            commands.push(Command::NameIn(list, picked, entered));
        }
    }
    view.listed.insert(list.part(), picked);
    for &key in keys.iter().filter(|key| key.index == picked) {
        row(ui, study, key, style, view, commands);
    }
    if list == List::Strings {
        extras::retainer(ui, study, picked, style, view, commands);
    }
    ui.horizontal(|ui| {
        ui.add_space(space::HIT + space::S);
        let mut offered = vec![Command::AddTo(list)];
        if list != List::Cavities || !names.is_empty() {
            offered.push(Command::TakeFrom(list));
        }
        for command in offered {
            if marks::link(ui, command.text()).clicked() {
                commands.push(command);
            }
        }
    });
}

/// A field for a name. Returns what was entered.
fn named(ui: &mut Ui, label: &str, field: Field, name: &str, view: &mut View) -> Option<String> {
    let palette = theme::palette(ui);
    let mut text =
        view.drafts.get(&field).map_or_else(|| name.to_owned(), |draft| draft.text.clone());
    let mut entered = None;
    labelled(ui, RichText::new("Name").color(palette.ink), label, |ui, width| {
        let edit = TextEdit::singleline(&mut text)
            .id(field::id(field))
            .desired_width(width - 2.0 * space::M)
            .margin(egui::Margin::symmetric(space::M as i8, 0))
            .min_size(vec2(width, space::HIT - 2.0))
            .align(egui::Align2::LEFT_CENTER)
            .char_limit(60);
        let response = ui.add(edit).accessible_name(label);
        if response.changed() {
            let draft = view.drafts.entry(field).or_default();
            draft.text = text;
        }
        if response.lost_focus() {
            let escaped = ui.input(|input| input.key_pressed(egui::Key::Escape));
            entered = view
                .drafts
                .remove(&field)
                .map(|draft| draft.text.trim().to_owned())
                .filter(|text| !escaped && text != name);
        }
    });
    entered
}

fn pick(ui: &mut Ui, name: &'static str, names: &[String], picked: &mut usize) {
    let palette = theme::palette(ui);
    let shown = names.get(*picked).cloned().unwrap_or_default();
    labelled(ui, RichText::new(name).color(palette.ink), "Which one to look at.", |ui, width| {
        let response = ComboBox::from_id_salt(name)
            .width(width)
            .selected_text(shown)
            .truncate()
            .show_ui(ui, |ui| {
                for (index, name) in names.iter().enumerate() {
                    if ui.selectable_label(*picked == index, name).clicked() {
                        *picked = index;
                        ui.close();
                    }
                }
            })
            .response;
        response.accessible_name(name);
    });
}

/// The group in which a dimension stands, opened, with the list at its string or pickup.
pub(crate) fn bring_into_sight(key: Key, view: &mut View) {
    let part = key.dim.info().part();
    // a page with something of its own at the left may list it, but does not show it
    if !view.page.lists(key.dim) || view.page == Page::HowTrue {
        view.page = if Page::LayOut.lists(key.dim) { Page::LayOut } else { Page::Joint };
    }
    view.open.insert(part);
    view.listed.insert(part, key.index);
    view.focus = Some(Field::Row(key));
}

/// Whether a dimension is one that closes the design and is found.
pub(crate) fn is_found(design: &Design, dim: Dim) -> bool {
    dim.info().role == dimension::Role::Closing && dim.key().is_found(design)
}
