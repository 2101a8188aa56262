//! Search over commands and dimensions.

use egui::{Frame, Id, Key as Press, Modal, ScrollArea, TextEdit, Ui};
use overstand_core::dimension::Key;

use crate::command::Command;
use crate::document::Document;
use crate::theme::{self, space};
use crate::view::Form;

/// Most lines that are listed.
const MOST: usize = 12;

/// Shows the search; what is returned stays open.
pub(crate) fn show(
    ui: &Ui,
    document: &Document,
    form: Form,
    commands: &mut Vec<Command>,
) -> Option<Form> {
    let Form::Search { mut text, mut row } = form else {
        return None;
    };
    let found = matches(document, &text);
    row = row.min(found.len().saturating_sub(1));
    let mut chosen = None;
    let modal =
        Modal::new(Id::unique("search")).frame(Frame::window(ui.style())).show(ui.ctx(), |ui| {
            ui.set_width(space::FORM);
            let (up, down, enter) = ui.input_mut(|input| {
                (
                    input.consume_key(egui::Modifiers::NONE, Press::ArrowUp),
                    input.consume_key(egui::Modifiers::NONE, Press::ArrowDown),
                    input.key_pressed(Press::Enter),
                )
            });
            row = row.saturating_sub(usize::from(up)) + usize::from(down);
            row = row.min(found.len().saturating_sub(1));
            let edit = TextEdit::singleline(&mut text)
                .id(Id::unique("search line"))
                .hint_text("A command or a dimension")
                .desired_width(f32::INFINITY)
                .char_limit(80);
            let response = ui.add(edit).accessible_name("Search");
            if !response.has_focus() && !response.lost_focus() {
                response.request_focus();
            }
            if response.changed() {
                row = 0;
            }
            if enter {
                chosen = found.get(row).map(|(_, _, command)| command.clone());
            }
            ui.add_space(space::S);
            ScrollArea::vertical().max_height(space::FORM).show(ui, |ui| {
                theme::beside_scroll_bar(ui);
                for (index, (name, aside, command)) in found.iter().enumerate() {
                    let dim = theme::palette(ui).dim;
                    let aside = egui::RichText::new(aside).font(theme::label()).color(dim);
                    let button = egui::Button::selectable(index == row, name.as_str())
                        .right_text(aside)
                        .min_size(egui::vec2(ui.available_width(), space::HIT));
                    if ui.add(button).clicked() {
                        chosen = Some(command.clone());
                    }
                }
                if found.is_empty() {
                    ui.label("Nothing of that name.");
                }
            });
        });
    if let Some(command) = chosen {
        commands.push(command);
        return None;
    }
    (!modal.should_close()).then_some(Form::Search { text, row })
}

/// Commands and dimensions whose name holds every word that was typed: name, what
/// stands beside it, what it does. Those that begin with what was typed come first.
fn matches(document: &Document, text: &str) -> Vec<(String, String, Command)> {
    let wanted = text.trim().to_lowercase();
    let words: Vec<&str> = wanted.split_whitespace().collect();
    let design = document.design();
    let commands = Command::listed()
        .into_iter()
        .map(|command| (command.text().to_owned(), String::new(), command));
    let dimensions = Key::all_of(design)
        .into_iter()
        .map(|key| (key.name(design), key.dim.info().part().name().to_owned(), Command::Find(key)));
    let mut found: Vec<_> = commands
        .chain(dimensions)
        .filter(|(name, aside, _)| {
            let all = format!("{name} {aside}").to_lowercase();
            words.iter().all(|word| all.contains(word))
        })
        .collect();
    found.sort_by_key(|(name, ..)| !name.to_lowercase().starts_with(&wanted));
    found.truncate(MOST);
    found
}

#[cfg(test)]
mod tests {
    use overstand_core::testing::worked_example;
    use overstand_files::DesignFile;

    use super::*;

    #[test]
    fn words_in_any_order_find_it() {
        let document = Document::new(DesignFile::of(worked_example()));
        let first = |text: &str| matches(&document, text).first().map(|(name, ..)| name.clone());
        assert_eq!(first("pitch").as_deref(), Some("Pitch"));
        assert_eq!(first("bass action").as_deref(), Some("Action, bass"));
        assert_eq!(first("undo").as_deref(), Some("Undo"));
        assert_eq!(first("velvet"), None);
        assert_eq!(matches(&document, "").len(), MOST);
    }
}
