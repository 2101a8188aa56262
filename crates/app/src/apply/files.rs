//! Commands that open and save files: nothing unsaved is lost, nothing written over unasked.

use std::path::{Path, PathBuf};

use egui::{Context, ViewportCommand};
use overstand_files::SaveError;

use crate::app::App;
use crate::command::Command;
use crate::dialogs::{Dialog, Purpose, file_name};
use crate::document::Document;
use crate::values::capital;
use crate::view::Form;

impl App {
    /// Does what leaves the design behind, unless something is not saved.
    pub(super) fn leave(&mut self, ctx: &Context, command: Command) {
        let only_asks = matches!(command, Command::New | Command::Open | Command::OpenTyped);
        if self.document.is_dirty() && !only_asks {
            self.held_back = Some(command);
            self.view.form = Some(Form::Unsaved);
            return;
        }
        match command {
            Command::New => self.view.form = Some(Form::New),
            Command::Open => self.ask(ctx, Purpose::Open),
            Command::OpenTyped => self.view.form = Some(Form::Open { path: String::new() }),
            Command::Begin(starter) => match Document::from_starter(starter) {
                Ok(document) => {
                    self.show(document);
                    self.view.say(starter.line);
                }
                Err(error) => self.view.complain(capital(&error.to_string())),
            },
            Command::OpenFile(path) => match Document::open(&path) {
                Ok(document) => {
                    self.preferences.remember(&path);
                    self.show(document);
                    self.view.say(format!("Opened {}", path.display()));
                }
                Err(error) => {
                    self.view.complain(format!("Not opened: {error} ({})", path.display()));
                }
            },
            Command::Close => {
                self.may_close = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            _ => {}
        }
    }

    /// Takes over what a crash left behind.
    pub(super) fn recover(&mut self) {
        if let Some(found) = self.found.pop() {
            let document = Document::recovered(found.file.clone(), found.path.clone());
            self.show(document);
            if let Some(recovery) = self.recovery.as_mut() {
                // kept aside as ours before it goes from there
                recovery.note(&self.document);
                recovery.finish();
            }
            found.discard();
            self.view.say("Restored. It is not saved yet.");
        }
    }

    fn show(&mut self, document: Document) {
        // counted on, so that nothing cached of the last one is taken for this one's
        let revision = self.document.revision() + 1;
        self.document = document.counted_from(revision);
        self.forget_design();
    }

    /// What was held back is done after all: saved by now, or never to be.
    pub(super) fn go_on(&mut self, ctx: &Context) {
        if let Some(command) = self.held_back.take() {
            self.document.forget_changes();
            self.apply(ctx, command);
        }
    }

    pub(super) fn ask(&mut self, ctx: &Context, purpose: Purpose) {
        if self.asks_dialogs {
            let near: Option<PathBuf> = self
                .document
                .path()
                .map(Path::to_owned)
                .or_else(|| self.preferences.recent.first().cloned());
            let name = &self.document.design().name;
            self.dialog = Some(Dialog::open(ctx, purpose, near.as_deref(), name));
        } else {
            self.view.form = Some(match purpose {
                Purpose::Open => Form::Open { path: String::new() },
                Purpose::Beside => Form::Beside { path: String::new() },
                Purpose::Save => self.save_form(),
                Purpose::Export(_) => return self.paper.ask_path(),
            });
        }
    }

    pub(crate) fn save_form(&self) -> Form {
        let path = match self.document.path() {
            Some(path) => path.display().to_string(),
            None => file_name(&self.document.design().name, "ron"),
        };
        Form::SaveAs { path }
    }

    pub(super) fn save(&mut self, ctx: &Context, path: &Path, replace: bool) {
        match self.document.save(path, replace) {
            Ok(()) => {
                self.preferences.remember(path);
                self.view.say(format!("Saved {}", path.display()));
                if let Some(command) = self.held_back.take() {
                    self.apply(ctx, command);
                }
            }
            Err(SaveError::ChangedOnDisk) => {
                let is_ours = self.document.path() == Some(path);
                let says = if is_ours {
                    format!(
                        "{} was changed from elsewhere since it was last read here.",
                        path.display()
                    )
                } else {
                    format!("{} exists already.", path.display())
                };
                self.view.form = Some(Form::Replace { path: path.to_owned(), says });
            }
            Err(error) => self.view.complain(capital(&error.to_string())),
        }
    }
}
