//! Search over commands, pages, dimensions, checks and words; what a word means is said here.

use std::collections::BTreeMap;

use egui::{Button, Frame, Id, Key as Press, Modal, RichText, ScrollArea, TextEdit, Ui};
use overstand_core::dimension::{Dim, Key};
use overstand_core::glossary::{self, Subject};
use overstand_core::verdict::CheckId;

use super::tips;
use crate::command::Command;
use crate::document::Document;
use crate::marks;
use crate::theme::{self, space};
use crate::view::{Form, Page};

/// Most lines that are listed.
const MOST: usize = 12;
/// Room kept for the words about the chosen line.
const WORDS: f32 = 68.0;

/// Something that was found.
struct Found {
    name: String,
    /// What stands beside it.
    aside: String,
    /// Other names for it.
    also: Vec<&'static str>,
    /// What it is.
    says: &'static str,
    /// What choosing it does; a word has been said by then.
    does: Option<Command>,
}

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
                .hint_text("A command, a dimension, a check, or what a word means")
                .desired_width(f32::INFINITY)
                .char_limit(80);
            let response = ui.add(edit).accessible_name("Search");
            if !response.has_focus() && !response.lost_focus() {
                response.request_focus();
            }
            if response.lost_focus() {
                // after Enter on a word, which leads nowhere, one types on
                ui.ctx().request_repaint();
            }
            if response.changed() {
                row = 0;
            }
            if enter {
                chosen = found.get(row).and_then(|found| found.does.clone());
            }
            ui.add_space(space::S);
            ScrollArea::vertical().max_height(space::FORM).show(ui, |ui| {
                theme::beside_scroll_bar(ui);
                for (index, one) in found.iter().enumerate() {
                    let dim = theme::palette(ui).dim;
                    let aside = RichText::new(&one.aside).font(theme::label()).color(dim);
                    let button = Button::selectable(index == row, one.name.as_str())
                        .right_text(aside)
                        .min_size(egui::vec2(ui.available_width(), space::HIT));
                    if ui.add(button).clicked() {
                        row = index;
                        chosen = one.does.clone();
                    }
                }
            });
            if let Some(near) = nothing(ui, &text, found.is_empty()) {
                near.clone_into(&mut text);
            }
            words(ui, found.get(row));
        });
    if let Some(command) = chosen {
        commands.push(command);
        return None;
    }
    (!modal.should_close()).then_some(Form::Search { text, row })
}

/// Said where nothing was found, with words that are near. Returns the one that was chosen.
fn nothing(ui: &mut Ui, text: &str, is_empty: bool) -> Option<&'static str> {
    if !is_empty {
        return None;
    }
    let near = glossary::near(glossary::asked(text));
    let lead =
        if near.is_empty() { "Nothing of that name." } else { "Nothing of that name. Near:" };
    theme::remark(ui, lead);
    near.into_iter().find(|name| marks::link(ui, name).clicked())
}

/// What the chosen line is.
fn words(ui: &mut Ui, found: Option<&Found>) {
    let Some(found) = found.filter(|found| !found.says.is_empty()) else {
        return;
    };
    ui.separator();
    ui.vertical(|ui| {
        ui.set_min_height(WORDS);
        ui.label(RichText::new(&found.name).font(theme::strong()));
        ui.label(found.says);
        if !found.also.is_empty() {
            tips::small(ui, &format!("Also called: {}", found.also.join(", ")));
        }
    });
}

/// Everything that there is to find, commands first.
fn all(document: &Document) -> Vec<Found> {
    let design = document.design();
    let plain = |name: &str, aside: &str, says, does| Found {
        name: name.to_owned(),
        aside: aside.to_owned(),
        also: Vec::new(),
        says,
        does,
    };
    let is_page = |command: &Command| matches!(command, Command::Show(_));
    let mut all: Vec<Found> = Command::listed()
        .into_iter()
        .filter(|command| !is_page(command))
        .map(|command| plain(command.text(), "", "", Some(command)))
        .collect();
    let pages = Page::ALL.into_iter();
    all.extend(
        pages.map(|page| plain(page.name(), "page", page.about(), Some(Command::Show(page)))),
    );
    let also: BTreeMap<Dim, &Vec<&'static str>> = glossary::all()
        .iter()
        .filter_map(|entry| match entry.subject {
            Subject::Dimension(dim) => Some((dim, &entry.also)),
            _ => None,
        })
        .collect();
    all.extend(Key::all_of(design).into_iter().map(|key| Found {
        name: key.name(design),
        aside: key.dim.info().part().name().to_owned(),
        also: also.get(&key.dim).map(|also| also.to_vec()).unwrap_or_default(),
        says: key.dim.info().meaning,
        does: Some(Command::Find(key)),
    }));
    let judged = |id: CheckId| {
        document.study().closed().is_some_and(|closed| closed.checks.iter().any(|it| it.id == id))
    };
    all.extend(CheckId::ALL.iter().map(|&id| {
        let is_judged = judged(id);
        let aside = if is_judged { "check" } else { "check, not asked here" };
        plain(id.name(), aside, id.question(), is_judged.then_some(Command::Judge(id)))
    }));
    all.extend(glossary::all().iter().filter_map(|entry| {
        let (aside, does) = match entry.subject {
            Subject::Word(_) => ("word", None),
            Subject::Choice(choice) => {
                let part = choice.part();
                let page =
                    if Page::LayOut.parts().contains(&part) { Page::LayOut } else { Page::Joint };
                ("choice", Some(Command::Unfold(page, part)))
            }
            Subject::Dimension(_) | Subject::Check(_) => return None,
        };
        let found = plain(entry.name, aside, entry.meaning, does);
        Some(Found { also: entry.also.clone(), ..found })
    }));
    all
}

/// What has every word that was typed in its names. What is called exactly that comes first,
/// then what begins with it; a question is answered by what has words, not by commands.
fn matches(document: &Document, text: &str) -> Vec<Found> {
    let asked = glossary::asked(text);
    let is_question = asked != text.trim();
    let wanted = asked.to_lowercase();
    let words: Vec<&str> = wanted.split_whitespace().collect();
    let mut found: Vec<Found> = all(document)
        .into_iter()
        .filter(|one| !(is_question && one.says.is_empty()))
        .filter(|one| {
            let all = format!("{} {} {}", one.name, one.aside, one.also.join(" ")).to_lowercase();
            words.iter().all(|word| all.contains(word))
        })
        .collect();
    // `cheek` is asked for as `cheeks` as well
    let exactly = glossary::find_all(asked);
    found.sort_by_key(|one| {
        let name = one.name.to_lowercase();
        let is_meant = name == wanted
            || one.also.iter().any(|also| also.to_lowercase() == wanted)
            || exactly.iter().any(|entry| entry.meaning == one.says);
        match () {
            () if is_meant => 0,
            () if name.starts_with(&wanted) => 1,
            () => 2,
        }
    });
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
        let first = |text: &str| matches(&document, text).first().map(|found| found.name.clone());
        for (text, name) in [
            ("pitch", "Pitch"),
            ("bass action", "Action, bass"),
            ("undo", "Undo"),
            ("neck angle", "Pitch"),
            ("what is relief?", "Relief"),
            ("What does shy mean?", "Shy"),
            ("cheek", "Cheeks"),
            ("paper", "Paper"),
            ("open strings", "Open strings clear"),
            ("list of keys", "List of keys"),
        ] {
            assert_eq!(first(text).as_deref(), Some(name), "{text}");
        }
        assert_eq!(first("velvet"), None);
        assert_eq!(matches(&document, "").len(), MOST);
    }

    #[test]
    fn everything_but_a_command_says_what_it_is() {
        let document = Document::new(DesignFile::of(worked_example()));
        for found in all(&document) {
            let is_command = found.aside.is_empty();
            assert_eq!(found.says.is_empty(), is_command, "{}", found.name);
            assert!(found.does.is_some() || found.says.len() > 15, "{}", found.name);
        }
    }
}
