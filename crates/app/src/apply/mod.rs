//! The one place where commands are done.

mod change;
mod files;

use std::path::Path;

use egui::Context;

use crate::app::App;
use crate::command::Command;
use crate::dialogs::Purpose;
use crate::panels::dimensions::bring_into_sight;
use crate::panels::welcome::Welcome;
use crate::printing::Subject;
use crate::tour;
use crate::view::{Card, Form, Page};

impl App {
    /// Does a command.
    pub(crate) fn apply(&mut self, ctx: &Context, command: Command) {
        let is_of_drag =
            matches!(command, Command::DragTo { .. } | Command::DragEnd | Command::DragCancel)
                || matches!(command, Command::Aim { drags: true, .. } | Command::AimEnd(_));
        // a press in the other drawing turns to its design before anything is dragged there
        let is_of_drag = is_of_drag || matches!(command, Command::TurnTo(_));
        if !is_of_drag {
            self.view.note = crate::view::Note::default();
            if self.view.drag.take().is_some() {
                self.document.drop_step();
            }
        }
        match command {
            Command::New
            | Command::Begin(_)
            | Command::OpenFile(_)
            | Command::Open
            | Command::OpenTyped
            | Command::Close => self.leave(ctx, command),
            Command::GoOn => self.go_on(ctx),
            Command::Stay => self.held_back = None,
            Command::Recover => self.recover(),
            Command::Discard => {
                if let Some(found) = self.found.pop() {
                    found.discard();
                }
                self.offer_found();
            }
            Command::Save => match self.document.path().map(Path::to_owned) {
                Some(path) => self.save(ctx, &path, false),
                None => self.ask(ctx, Purpose::Save),
            },
            Command::SaveAs => self.ask(ctx, Purpose::Save),
            Command::SaveTyped => self.view.form = Some(self.save_form()),
            Command::SaveFile { path, replace } => self.save(ctx, &path, replace),
            Command::Undo => {
                let name = self.document.next_undo().map(str::to_owned);
                if self.document.undo() {
                    self.view.say(format!("Undone: {}", name.unwrap_or_default()));
                } else {
                    self.view.say("There is no step to take back.");
                }
            }
            Command::Redo => {
                let name = self.document.next_redo().map(str::to_owned);
                if self.document.redo() {
                    self.view.say(format!("Done again: {}", name.unwrap_or_default()));
                } else {
                    self.view.say("There is no step to do again.");
                }
            }
            Command::Rename => {
                let name = self.document.design().name.clone();
                self.view.form = Some(Form::Rename { name });
            }
            Command::Call(name) => self.call(&name),
            Command::Activate(variant) => {
                self.document.activate(&variant);
                self.forget_design();
            }
            Command::TurnTo(variant) => {
                self.document.turn_to(&variant);
                self.view.followers.clear();
            }
            Command::KeepVariant => self.keep_variant(),
            Command::Beside => self.ask(ctx, Purpose::Beside),
            Command::BesideTyped => self.view.form = Some(Form::Beside { path: String::new() }),
            Command::BesideFile(path) => self.put_beside(&path),
            Command::TakeOver(taken) => {
                self.document.turn_to(&taken.design.name);
                self.put_named(ctx, taken.step, taken.design);
            }
            Command::Show(page) => {
                self.view.page = page;
                self.preferences.page = page.name().to_owned();
                self.view.filling = None;
                // their fields may not be there
                self.view.drafts.clear();
                if let Some(noted) = self.dry_fit.leave(self.document.design()) {
                    self.apply(ctx, noted);
                }
            }
            Command::PrintLog => {
                self.preferences.paper.subject = Subject::FittingLog;
                self.apply(ctx, Command::ExportAs);
            }
            Command::ExportAs => {
                let format = self.preferences.paper.format();
                self.view.page = Page::Paper;
                self.ask(ctx, Purpose::Export(format.ending()));
            }
            Command::Export { path, replace } => {
                let (chosen, units) = (&self.preferences.paper, self.preferences.units);
                self.paper.export(ctx, &self.document, chosen, units, path, replace);
            }
            Command::Fit => {
                for camera in self.view.cameras.values_mut() {
                    camera.by_hand = false;
                    camera.fitted = None;
                }
                self.view.strip_range = None;
            }
            Command::Units(units) => self.preferences.units = units,
            Command::Theme(theme) => {
                self.preferences.theme = theme;
                self.follow_theme(ctx);
            }
            Command::Motion(motion) => {
                self.preferences.motion = motion;
                self.view.glow.0.clear();
                let is_reduced = self.is_motion_reduced();
                self.view.say(if is_reduced {
                    "Reduced motion: what moved does not glow."
                } else {
                    "What moved with a change glows for a moment."
                });
            }
            Command::Search => {
                self.view.form = Some(Form::Search { text: String::new(), row: 0 });
            }
            Command::Find(key) => bring_into_sight(key, &mut self.view),
            Command::Unfold(page, part) => {
                self.view.page = page;
                self.view.open.insert(part);
            }
            Command::Judge(id) => {
                self.view.page = Page::LayOut;
                self.view.card = Card::Of(id);
                self.view.sought = Some(id);
            }
            Command::Keys => self.view.form = Some(Form::Keys { text: String::new() }),
            Command::Welcome => {
                self.view.page = Page::LayOut;
                self.view.welcome = Some(Welcome::default());
            }
            Command::Welcomed => self.read_welcome(),
            Command::Tour => {
                self.read_welcome();
                tour::begin(&mut self.view);
            }
            Command::TourNext => tour::turn(&mut self.view, true),
            Command::TourBack => tour::turn(&mut self.view, false),
            Command::TourEnd => tour::end(&mut self.view),
            Command::Follow { driven, follower } => {
                self.view.followers.insert(driven, follower);
            }
            other => self.change(ctx, other),
        }
    }

    /// Another design is worked on: nothing of the last one stays.
    fn forget_design(&mut self) {
        self.view.forget_design();
        self.paper.forget_design();
        self.how_true.forget_design();
        self.dry_fit.forget_design();
    }

    /// What to do first was read.
    fn read_welcome(&mut self) {
        self.view.welcome = None;
        self.preferences.welcomed = true;
    }
}
