//! The bar at the top: which design, undo and redo, units, light or dark.

use egui::{Align, Align2, Button, Color32, ComboBox, Label, Layout, RichText, Stroke, Ui, vec2};
use overstand_core::units::LengthStyle;

use crate::command::Command;
use crate::document::Document;
use crate::marks;
use crate::preferences::{Preferences, ThemeChoice};
use crate::theme::{self, space, stroke};
use crate::tour::{self, Spot};
use crate::view::Page;

/// Width that the name of the design may not fall below before commands go into a menu, and
/// that it keeps even then.
const NAME: [f32; 2] = [120.0, 40.0];

/// Shows the bar. Where it is too narrow for all, what is needed least goes into the menu at its
/// end: first the theme, then the units, then the search.
pub(crate) fn show(
    ui: &mut Ui,
    document: &Document,
    preferences: &Preferences,
    page: Page,
    commands: &mut Vec<Command>,
) {
    theme::quiet(ui);
    let (search, help) = (Command::Search.text(), "Help");
    let steps = [Command::Undo.text(), Command::Redo.text()];
    let seldom = [search, units_text(preferences.units), theme_text(preferences.theme)];
    let tabs: f32 = Page::ALL.iter().map(|page| tab_width(ui, *page) + gap(ui)).sum();
    let ends = buttons(ui, &["File", help]) + buttons(ui, &steps) + 3.0 * space::XL + space::S;
    let room = ui.available_width() - tabs - ends - 2.0 * gap(ui);
    let left = |count: usize| room - buttons(ui, &seldom[..count]);
    let count = (1..=seldom.len()).rev().find(|&count| left(count) >= NAME[0]).unwrap_or(0);
    let name_room = left(count);
    ui.horizontal_centered(|ui| {
        design(ui, document, preferences, name_room.max(NAME[1]), commands);
        ui.add_space(space::XL);
        for other in Page::ALL {
            tab(ui, other, other == page, commands);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            help_menu(ui, help, preferences, count, commands);
            step(ui, &Command::Redo, document.next_redo(), commands);
            step(ui, &Command::Undo, document.next_undo(), commands);
            if count > 2 {
                theme_menu(ui, preferences, commands);
            }
            if count > 1 {
                units_menu(ui, preferences, commands);
            }
            if count == 0 {
                return;
            }
            let tip = "Search over commands, dimensions, checks and words";
            let search = quiet(ui, search, tip);
            tour::mark(ui, Spot::Search, search.rect);
            if search.clicked() {
                commands.push(Command::Search);
            }
        });
    });
}

fn gap(ui: &Ui) -> f32 {
    ui.spacing().item_spacing.x
}

/// What buttons with such words take beside each other.
fn buttons(ui: &Ui, words: &[&str]) -> f32 {
    let font = egui::TextStyle::Button.resolve(ui.style());
    let wide = |text: &&str| {
        let words = ui.painter().layout_no_wrap((*text).to_owned(), font.clone(), Color32::WHITE);
        words.size().x + 2.0 * ui.spacing().button_padding.x + gap(ui)
    };
    words.iter().map(wide).sum()
}

/// As wide as in bold, so that nothing moves when it is chosen.
fn tab_width(ui: &Ui, page: Page) -> f32 {
    let name = page.name().to_owned();
    let words = ui.painter().layout_no_wrap(name, theme::strong(), Color32::WHITE);
    words.size().x + 2.0 * space::M
}

/// The tab of a page: underlined when it is the one that is shown.
fn tab(ui: &mut Ui, page: Page, is_shown: bool, commands: &mut Vec<Command>) {
    let palette = theme::palette(ui);
    let font = if is_shown { theme::strong() } else { theme::text() };
    let size = vec2(tab_width(ui, page), ui.available_height());
    let (rect, response) = ui.allocate_exact_size(size, egui::Sense::click());
    response
        .widget_info(|| egui::WidgetInfo::selected(egui::Role::Tab, true, is_shown, page.name()));
    let colour = if is_shown || response.hovered() { palette.ink } else { palette.dim };
    ui.painter().text(rect.center(), Align2::CENTER_CENTER, page.name(), font, colour);
    if is_shown {
        let pen = Stroke::new(stroke::STRONG, palette.ink);
        let line = rect.x_range().shrink(space::M);
        ui.painter().hline(line, rect.bottom() - stroke::STRONG / 2.0, pen);
    }
    marks::focus_ring(ui, &response);
    let command = Command::Show(page);
    let keys =
        command.shortcut().map_or_else(String::new, |shortcut| ui.ctx().format_shortcut(&shortcut));
    if response.on_hover_text(format!("{} ({keys})\n{}", page.name(), page.about())).clicked() {
        commands.push(command);
    }
}

/// A button without a frame until it is pointed at.
fn quiet(ui: &mut Ui, text: &str, tip: &str) -> egui::Response {
    ui.add(Button::new(text)).on_hover_text(tip)
}

/// The name of the design, with the menu of its file.
fn design(
    ui: &mut Ui,
    document: &Document,
    preferences: &Preferences,
    room: f32,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let name = &document.design().name;
    ui.menu_button("File", |ui| file_menu(ui, preferences, commands));
    ui.add_space(space::S);
    let tip = match document.path() {
        Some(path) => format!("{name}\n{}", path.display()),
        None => format!("{name}\nnot saved in a file yet"),
    };
    ui.scope(|ui| {
        ui.set_max_width(room);
        let variants = &document.file().variants;
        let words = RichText::new(name).font(theme::title());
        if variants.len() == 1 {
            ui.add(Label::new(words).truncate().selectable(false)).on_hover_text(tip);
            return;
        }
        let response = ComboBox::from_id_salt("variant")
            .selected_text(words)
            .truncate()
            .width(0.0)
            .show_ui(ui, |ui| {
                for variant in variants {
                    let is_active = variant.name == *name;
                    if ui.selectable_label(is_active, &variant.name).clicked() {
                        commands.push(Command::Activate(variant.name.clone()));
                        ui.close();
                    }
                }
            })
            .response;
        response.accessible_name(format!("Variant: {name}")).on_hover_text(tip);
    });
    if document.is_dirty() {
        let (rect, response) =
            ui.allocate_exact_size(vec2(space::XL, space::HIT), egui::Sense::hover());
        ui.painter().circle_filled(rect.center(), 3.5, palette.ink);
        response.widget_info(|| {
            egui::WidgetInfo::labeled(
                egui::Role::Label,
                true,
                "There are changes that are not saved",
            )
        });
        response.on_hover_text("There are changes that are not saved");
    } else {
        // what stands beside it does not move when there are
        ui.add_space(space::XL + ui.spacing().item_spacing.x);
    }
}

fn item(ui: &mut Ui, command: Command, commands: &mut Vec<Command>) {
    let keys = command.shortcut().map(|shortcut| ui.ctx().format_shortcut(&shortcut));
    let button = Button::new(command.text());
    let button = match keys {
        Some(keys) => button.shortcut_text(keys),
        None => button,
    };
    if ui.add(button).clicked() {
        commands.push(command);
        ui.close();
    }
}

fn file_menu(ui: &mut Ui, preferences: &Preferences, commands: &mut Vec<Command>) {
    ui.set_min_width(space::DIMENSIONS[1]);
    item(ui, Command::New, commands);
    ui.separator();
    item(ui, Command::Open, commands);
    item(ui, Command::OpenTyped, commands);
    ui.add_enabled_ui(!preferences.recent.is_empty(), |ui| {
        ui.menu_button("Open recent", |ui| {
            for path in &preferences.recent {
                let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
                if ui.button(name).on_hover_text(path.display().to_string()).clicked() {
                    commands.push(Command::OpenFile(path.clone()));
                    ui.close();
                }
            }
        });
    });
    ui.separator();
    for command in [Command::Save, Command::SaveAs, Command::SaveTyped, Command::Rename] {
        item(ui, command, commands);
    }
    ui.separator();
    item(ui, Command::Close, commands);
}

/// Undo or redo, with the name of the step in the tip.
fn step(ui: &mut Ui, command: &Command, name: Option<&str>, commands: &mut Vec<Command>) {
    let text = command.text();
    let keys =
        command.shortcut().map_or_else(String::new, |shortcut| ui.ctx().format_shortcut(&shortcut));
    let response = ui.add_enabled(name.is_some(), Button::new(text));
    let tip = match name {
        Some(name) => format!("{text}: {name} ({keys})"),
        None => format!("Nothing to {} ({keys})", text.to_lowercase()),
    };
    if response.on_hover_text(&tip).on_disabled_hover_text(&tip).clicked() {
        commands.push(command.clone());
    }
}

/// Help, and what has no room in the bar, where so many of the seldom needed stand.
fn help_menu(
    ui: &mut Ui,
    name: &str,
    preferences: &Preferences,
    count: usize,
    commands: &mut Vec<Command>,
) {
    let menu = ui.menu_button(name, |ui| {
        ui.set_min_width(space::DIMENSIONS[1]);
        for command in [Command::Welcome, Command::Tour, Command::Keys, Command::Search] {
            item(ui, command, commands);
        }
        if count < 3 {
            ui.separator();
            theme_menu(ui, preferences, commands);
        }
        if count < 2 {
            units_menu(ui, preferences, commands);
        }
    });
    tour::mark(ui, Spot::Help, menu.response.rect);
    if count == 0 {
        tour::mark(ui, Spot::Search, menu.response.rect);
    }
}

fn units_text(units: LengthStyle) -> &'static str {
    match units {
        LengthStyle::Millimetres => "mm",
        LengthStyle::InchDecimal => "in 0.000",
        LengthStyle::InchFraction => "in 1/64",
    }
}

fn theme_text(theme: ThemeChoice) -> &'static str {
    match theme {
        ThemeChoice::System => "As system",
        ThemeChoice::Light => "Light",
        ThemeChoice::Dark => "Dark",
    }
}

fn units_menu(ui: &mut Ui, preferences: &Preferences, commands: &mut Vec<Command>) {
    let shown = units_text(preferences.units);
    let menu = ui.menu_button(shown, |ui| {
        for style in [LengthStyle::Millimetres, LengthStyle::InchDecimal, LengthStyle::InchFraction]
        {
            let command = Command::Units(style);
            if ui.selectable_label(preferences.units == style, command.text()).clicked() {
                commands.push(command);
                ui.close();
            }
        }
    });
    let response = menu.response.accessible_name(format!("Units: {shown}"));
    response.on_hover_text("How lengths are written. The design stays as it is.");
}

fn theme_menu(ui: &mut Ui, preferences: &Preferences, commands: &mut Vec<Command>) {
    let shown = theme_text(preferences.theme);
    let menu = ui.menu_button(shown, |ui| {
        for theme in [ThemeChoice::System, ThemeChoice::Light, ThemeChoice::Dark] {
            let command = Command::Theme(theme);
            if ui.selectable_label(preferences.theme == theme, command.text()).clicked() {
                commands.push(command);
                ui.close();
            }
        }
    });
    menu.response.accessible_name(format!("Theme: {shown}")).on_hover_text("Light or dark");
}
