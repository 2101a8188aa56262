//! Small forms in front of everything: a path, a name, a starter, what is not saved.

use std::path::{Path, PathBuf};

use egui::{Frame, Id, Key as Press, Label, Modal, RichText, TextEdit, Ui};
use overstand_files::starters;

use super::{key_list, search};
use crate::command::Command;
use crate::document::Document;
use crate::marks;
use crate::theme::{self, space};
use crate::view::{Form, View};

/// Shows the form that is open, if one is.
pub(crate) fn show(ui: &Ui, document: &Document, view: &mut View, commands: &mut Vec<Command>) {
    let Some(mut form) = view.form.take() else {
        return;
    };
    if let Form::Search { .. } = form {
        view.form = search::show(ui, document, form, commands);
        return;
    }
    if let Form::Keys { .. } = form {
        view.form = key_list::show(ui, form);
        return;
    }
    // each its own, or one opens at the size of another
    let kind = std::mem::discriminant(&form);
    let modal = Modal::new(Id::unique(("form", kind))).frame(Frame::window(ui.style())).show(
        ui.ctx(),
        |ui| {
            ui.set_width(space::FORM);
            match &mut form {
                Form::Open { path } => {
                    heading(ui, "Open a design");
                    typed(ui, "Path of the file", path, "Open", &|path| {
                        Command::OpenFile(PathBuf::from(path))
                    })
                }
                Form::Beside { path } => {
                    heading(ui, "Compare with another file");
                    let text = "A copy of its design becomes a variant of this file, as B, and \
                                can be changed here. The other file stays as it is.";
                    theme::remark(ui, text);
                    ui.add_space(space::S);
                    typed(ui, "Path of the file", path, "Compare", &|path| {
                        Command::BesideFile(PathBuf::from(path))
                    })
                }
                Form::SaveAs { path } => {
                    heading(ui, "Save under a path");
                    typed(ui, "Path of the file", path, "Save", &|path| Command::SaveFile {
                        path: with_ending(path),
                        replace: false,
                    })
                }
                Form::Rename { name } => {
                    heading(ui, "Rename the design");
                    typed(ui, "Name", name, "Rename", &|name| Command::Call(name.to_owned()))
                }
                Form::Replace { path, says } => {
                    heading(ui, "There is another file");
                    ui.add(Label::new(says.as_str()).wrap());
                    let replace = Command::SaveFile { path: path.clone(), replace: true };
                    buttons(ui, &[("Replace it", replace), ("Save as…", Command::SaveAs)])
                }
                Form::New => {
                    heading(ui, "Begin with a starter");
                    new(ui)
                }
                Form::Unsaved => {
                    heading(ui, "There are changes that are not saved");
                    let name = &document.design().name;
                    ui.add(
                        Label::new(format!("{name} was changed since it was last saved.")).wrap(),
                    );
                    buttons(
                        ui,
                        &[("Save first", Command::Save), ("Go on without saving", Command::GoOn)],
                    )
                }
                Form::Recovered { name, path } => {
                    heading(ui, "Unsaved work was found");
                    let from = path.as_ref().map_or_else(String::new, |path| {
                        format!(", changed since {}", path.display())
                    });
                    let text = format!("{name}{from}: the program ended before it was saved.");
                    ui.add(Label::new(text).wrap());
                    let offers = [Command::Recover, Command::Discard];
                    buttons(ui, &offers.map(|command| (command.text(), command)))
                }
                Form::Search { .. } | Form::Keys { .. } => None,
            }
        },
    );
    match modal.inner {
        Some(Answer::Do(command)) => commands.push(command),
        Some(Answer::Leave) => commands.push(Command::Stay),
        None if modal.should_close() => commands.push(Command::Stay),
        None => view.form = Some(form),
    }
}

enum Answer {
    Do(Command),
    Leave,
}

fn heading(ui: &mut Ui, text: &str) {
    ui.add(Label::new(RichText::new(text).font(theme::title())).selectable(false));
    ui.add_space(space::M);
}

/// A line to type in, done by Enter or the button.
fn typed(
    ui: &mut Ui,
    name: &str,
    text: &mut String,
    action: &str,
    done: &dyn Fn(&str) -> Command,
) -> Option<Answer> {
    let id = Id::unique("form line");
    let edit = TextEdit::singleline(text).id(id).desired_width(f32::INFINITY).char_limit(4096);
    let response = ui.add(edit).accessible_name(name);
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Press::Enter));
    if !entered && ui.memory(|memory| memory.focused().is_none()) {
        response.request_focus();
    }
    ui.add_space(space::L);
    let can = !text.trim().is_empty();
    let mut answer = None;
    ui.horizontal(|ui| {
        let clicked = ui.add_enabled_ui(can, |ui| marks::main_button(ui, action).clicked()).inner;
        if can && (clicked || entered) {
            answer = Some(Answer::Do(done(text.trim())));
        }
        if ui.button("Cancel").clicked() {
            answer = Some(Answer::Leave);
        }
    });
    answer
}

/// Buttons for some commands, and one to leave.
fn buttons(ui: &mut Ui, offers: &[(&str, Command)]) -> Option<Answer> {
    let mut answer = None;
    ui.add_space(space::L);
    ui.horizontal(|ui| {
        for (index, (text, command)) in offers.iter().enumerate() {
            let response = if index == 0 { marks::main_button(ui, text) } else { ui.button(*text) };
            if index == 0 && ui.memory(|memory| memory.focused().is_none()) {
                response.request_focus();
            }
            if response.clicked() {
                answer = Some(Answer::Do(command.clone()));
            }
        }
        if ui.button("Cancel").clicked() {
            answer = Some(Answer::Leave);
        }
    });
    answer
}

fn new(ui: &mut Ui) -> Option<Answer> {
    let mut answer = None;
    egui::ScrollArea::vertical().max_height(space::FORM).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        for (index, starter) in starters().iter().enumerate() {
            let response = marks::link(ui, starter.title);
            if index == 0 && ui.memory(|memory| memory.focused().is_none()) {
                response.request_focus();
            }
            if response.clicked() {
                answer = Some(Answer::Do(Command::Begin(starter)));
            }
            theme::remark(ui, starter.line);
            ui.add_space(space::M);
        }
    });
    ui.add_space(space::S);
    if ui.button("Cancel").clicked() {
        answer = Some(Answer::Leave);
    }
    answer
}

/// A path to save under, with the ending of design files if it has none.
fn with_ending(path: &str) -> PathBuf {
    let path = Path::new(path);
    if path.extension().is_some() { path.to_owned() } else { path.with_extension("ron") }
}
