//! The program in its window: what is shown each frame, and what is asked of it.

use std::path::PathBuf;

use egui::{CentralPanel, Context, Frame, Margin, Panel, ThemePreference, Ui, ViewportCommand};
use overstand_core::design::{Date, Design};
use overstand_core::study::Study;
use overstand_files::{DesignFile, starters};

use crate::command::Command;
use crate::dialogs::{Answer, Dialog, Purpose};
use crate::document::Document;
use crate::motion::{Motion, SystemMotion};
use crate::pages::{compare, dry_fit, how_true, joint, lay_out, paper, sized, strings};
use crate::panels::welcome::Welcome;
use crate::panels::{dimensions, forms, status_bar, top_bar, verdict, welcome, working};
use crate::preferences::{Preferences, ThemeChoice};
use crate::recovery::{Found, Recovery};
use crate::theme::{self, space};
use crate::tour;
use crate::view::{Form, Page, View};

/// How the window is opened.
#[derive(Clone, Debug)]
pub struct Options {
    /// A design file to open; a starter without one.
    pub path: Option<PathBuf>,
    /// What was remembered.
    pub preferences: Preferences,
    /// Where unsaved work is kept aside for the case of a crash; nowhere without one.
    /// See [`crate::recovery_folder`].
    pub recovery: Option<PathBuf>,
    /// Whether the system's file dialogs are asked; a path can be typed in any case.
    pub dialogs: bool,
    /// Whether the system is asked how much may move.
    pub asks_motion: bool,
    /// The day that sheets of paper carry; that of the clock without one.
    pub day: Option<Date>,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            path: None,
            preferences: Preferences::default(),
            recovery: None,
            dialogs: true,
            asks_motion: false,
            day: None,
        }
    }
}

/// The program in its window.
#[derive(Debug)]
pub struct App {
    pub(crate) document: Document,
    pub(crate) view: View,
    pub(crate) preferences: Preferences,
    pub(crate) dialog: Option<Dialog>,
    pub(crate) asks_dialogs: bool,
    /// What waits for the answer about what is not saved.
    pub(crate) held_back: Option<Command>,
    pub(crate) may_close: bool,
    pub(crate) recovery: Option<Recovery>,
    /// What crashes left behind, to be offered one by one.
    pub(crate) found: Vec<Found>,
    pub(crate) system_motion: SystemMotion,
    drawn: lay_out::Drawn,
    drawn_joint: joint::Drawn,
    worked_strings: strings::Worked,
    pub(crate) how_true: how_true::Worked,
    pub(crate) dry_fit: dry_fit::Desk,
    pub(crate) paper: paper::Desk,
    drawn_compare: compare::Drawn,
    worked: working::Worked,
    title: String,
}

impl App {
    /// Opens a file, or a starter to begin with. A file that cannot be opened is said in
    /// the status bar.
    pub fn new(ctx: &Context, options: Options) -> Self {
        theme::install(ctx);
        let preferences = options.preferences.sound();
        let mut app = Self {
            document: Document::new(start()),
            view: View {
                page: Page::named(&preferences.page),
                // whoever brings a file has something to do
                welcome: (!preferences.welcomed && options.path.is_none()).then(Welcome::default),
                ..View::default()
            },
            preferences,
            dialog: None,
            asks_dialogs: options.dialogs,
            held_back: None,
            may_close: false,
            recovery: options.recovery.as_deref().and_then(Recovery::begin),
            found: options.recovery.as_deref().map(Found::all).unwrap_or_default(),
            system_motion: match options.asks_motion {
                true => SystemMotion::ask(),
                false => SystemMotion::default(),
            },
            drawn: lay_out::Drawn::default(),
            drawn_joint: joint::Drawn::default(),
            worked_strings: strings::Worked::default(),
            how_true: how_true::Worked::default(),
            dry_fit: dry_fit::Desk::default(),
            paper: paper::Desk::dated(options.day),
            drawn_compare: compare::Drawn::default(),
            worked: working::Worked::default(),
            title: String::new(),
        };
        app.follow_theme(ctx);
        if let Some(path) = options.path {
            app.apply(ctx, Command::OpenFile(path));
        }
        app.offer_found();
        app
    }

    /// The title of the window.
    pub fn title(&self) -> String {
        let mark = if self.document.is_dirty() { "• " } else { "" };
        format!("{mark}{} – Overstand", self.document.design().name)
    }

    /// What is to be remembered.
    pub fn preferences(&self) -> &Preferences {
        &self.preferences
    }

    /// The design as it stands.
    pub fn design(&self) -> &Design {
        self.document.design()
    }

    /// The file as it would be saved.
    pub fn file(&self) -> &DesignFile {
        self.document.file()
    }

    /// Everything worked out for the design as it stands.
    pub fn study(&self) -> &Study {
        self.document.study()
    }

    /// What happens besides what is shown: answers of dialogs, dropped files, the wish to
    /// close, the title. Called before [`Self::ui`].
    pub fn logic(&mut self, ctx: &Context) {
        self.hear_dialog(ctx);
        self.paper.hear_writing(&mut self.view);
        let dropped =
            ctx.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()));
        if let Some(path) = dropped {
            self.apply(ctx, Command::OpenFile(path));
        }
        if ctx.input(|input| input.viewport().close_requested())
            && self.document.is_dirty()
            && !self.may_close
        {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.apply(ctx, Command::Close);
        }
        let title = self.title();
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// Shows the window and does what is asked.
    pub fn ui(&mut self, ui: &mut Ui) {
        let mut commands = Vec::new();
        if ui.ctx().time() >= self.view.glow.1 {
            self.view.glow.0.clear();
        }
        self.keys(ui, &mut commands);
        let bar = |height: f32| {
            (Frame::new().inner_margin(Margin::symmetric(space::XL as i8, 0)), height)
        };
        let (frame, height) = bar(space::TOP_BAR);
        Panel::top("top bar").frame(frame).exact_size(height).show(ui, |ui| {
            let page = self.view.page;
            top_bar::show(ui, &self.document, &self.preferences, page, &mut commands);
        });
        let style = self.preferences.units;
        let (frame, height) = bar(space::STATUS_BAR);
        Panel::bottom("status bar").frame(frame).exact_size(height).show(ui, |ui| {
            status_bar::show(ui, &self.document, style, &mut self.view, &mut commands);
        });
        if self.view.welcome.is_some() && self.view.page == Page::LayOut {
            let (frame, _) = bar(0.0);
            Panel::top("welcome").frame(frame).show(ui, |ui| {
                let style = self.preferences.units;
                welcome::show(ui, &self.document, style, &mut self.view, &mut commands);
            });
        }
        let side = Frame::new().inner_margin(Margin::symmetric(space::L as i8, space::S as i8));
        let (study, revision) = (self.document.study(), self.document.revision());
        // it has a list of its own, unless there is nothing to list
        let has_own = self.view.page == Page::HowTrue && study.closed().is_some();
        if !has_own && !self.view.page.parts().is_empty() {
            sized(Panel::left("dimensions"), side, space::DIMENSIONS)
                .show(ui, |ui| dimensions::show(ui, study, style, &mut self.view, &mut commands));
        }
        self.view.handle = None;
        if self.view.page != Page::HowTrue {
            self.how_true.rest();
        }
        match self.view.page {
            Page::LayOut => {
                sized(Panel::right("verdict"), side, space::VERDICT).show(ui, |ui| {
                    verdict::show(ui, study, revision, style, &mut self.view, &mut commands);
                });
                let shares = &mut self.preferences.shares;
                CentralPanel::no_frame().show(ui, |ui| {
                    commands.extend(lay_out::show(
                        ui,
                        study,
                        revision,
                        style,
                        shares,
                        &mut self.drawn,
                        &mut self.view,
                    ));
                });
            }
            Page::Joint => commands.extend(joint::show(
                ui,
                study,
                revision,
                style,
                side,
                &mut self.drawn_joint,
                &mut self.view,
            )),
            Page::Strings => commands.extend(strings::show(
                ui,
                study,
                revision,
                style,
                side,
                &mut self.worked_strings,
                &mut self.view,
            )),
            Page::HowTrue => commands.extend(how_true::show(
                ui,
                study,
                revision,
                style,
                side,
                &mut self.how_true,
                &mut self.view,
            )),
            Page::DryFit => commands.extend(dry_fit::show(
                ui,
                study,
                revision,
                style,
                side,
                &mut self.dry_fit,
                &mut self.view,
            )),
            Page::Paper => commands.extend(paper::show(
                ui,
                &self.document,
                style,
                side,
                &mut self.preferences.paper,
                &mut self.paper,
                &mut self.view,
            )),
            Page::Compare => commands.extend(compare::show(
                ui,
                &self.document,
                style,
                &mut self.preferences.arrangement,
                &mut self.drawn_compare,
                &mut self.view,
            )),
        }
        let revision = self.document.revision();
        working::card(ui, self.document.study(), revision, &mut self.worked, &mut self.view);
        forms::show(ui, &self.document, &mut self.view, &mut commands);
        tour::show(ui, &mut self.view, &mut commands);
        if !commands.is_empty() {
            for command in commands {
                self.apply(ui.ctx(), command);
            }
            // what was shown is of before
            ui.ctx().request_repaint();
        }
        if self.view.drag.is_none()
            && let Some(recovery) = self.recovery.as_mut()
        {
            recovery.note(&self.document);
        }
    }

    /// The keys of commands.
    fn keys(&self, ui: &Ui, commands: &mut Vec<Command>) {
        if self.view.form.is_some() {
            return;
        }
        let is_typing = ui.ctx().text_edit_focused();
        let mut with_keys = Command::listed();
        if self.view.tour.as_ref().is_some_and(|tour| !tour.was_busy) {
            with_keys.extend(Command::of_tour());
        }
        for command in with_keys {
            let Some(shortcut) = command.shortcut() else {
                continue;
            };
            // a bare letter, and the undo of a text, belong to the field
            let is_of_text =
                shortcut.modifiers.is_none() || matches!(command, Command::Undo | Command::Redo);
            if is_typing && is_of_text {
                continue;
            }
            if consumed(ui, &shortcut) {
                commands.push(command);
            }
        }
    }

    pub(crate) fn follow_theme(&self, ctx: &Context) {
        ctx.set_theme(match self.preferences.theme {
            ThemeChoice::System => ThemePreference::System,
            ThemeChoice::Light => ThemePreference::Light,
            ThemeChoice::Dark => ThemePreference::Dark,
        });
    }

    /// Whether nothing is to move.
    pub(crate) fn is_motion_reduced(&mut self) -> bool {
        match self.preferences.motion {
            Motion::System => self.system_motion.is_reduced(),
            Motion::Full => false,
            Motion::Reduced => true,
        }
    }

    /// Offers what a crash left behind, if there is any.
    pub(crate) fn offer_found(&mut self) {
        if let Some(found) = self.found.last() {
            self.view.form = Some(Form::Recovered {
                name: found.file.active_design().name.clone(),
                path: found.path.clone(),
            });
        }
    }

    fn hear_dialog(&mut self, ctx: &Context) {
        let Some(dialog) = &self.dialog else {
            return;
        };
        let Some(answer) = dialog.answer() else {
            return;
        };
        let purpose = dialog.purpose;
        self.dialog = None;
        match (answer, purpose) {
            (Answer::Chosen(path), Purpose::Open) => self.apply(ctx, Command::OpenFile(path)),
            (Answer::Chosen(path), Purpose::Beside) => {
                self.apply(ctx, Command::BesideFile(path));
            }
            // the dialog has asked already whether to replace a file
            (Answer::Chosen(path), Purpose::Save) => {
                self.apply(ctx, Command::SaveFile { path, replace: true });
            }
            (Answer::Chosen(path), Purpose::Export(ending)) => {
                let whole = paper::with_ending(&path, ending);
                // the dialog has asked about the name as it was given
                let replace = whole == path;
                self.apply(ctx, Command::Export { path: whole, replace });
            }
            (Answer::Cancelled, _) => self.held_back = None,
            (Answer::NoDialog, purpose) => {
                self.view.say("The system offers no file dialog here: type the path.");
                self.view.form = Some(match purpose {
                    Purpose::Open => Form::Open { path: String::new() },
                    Purpose::Beside => Form::Beside { path: String::new() },
                    Purpose::Save => self.save_form(),
                    Purpose::Export(_) => return self.paper.ask_path(),
                });
            }
        }
    }
}

impl Drop for App {
    fn drop(&mut self) {
        let Some(recovery) = self.recovery.as_ref() else {
            return;
        };
        if std::thread::panicking() {
            // a crash leaves what it keeps aside
            recovery.finish();
        } else {
            recovery.end();
        }
    }
}

/// The keys of a command, not taken for those of one with more modifiers.
fn consumed(ui: &Ui, shortcut: &egui::KeyboardShortcut) -> bool {
    let shift = ui.input(|input| input.modifiers.shift);
    if shift != shortcut.modifiers.shift {
        return false;
    }
    ui.input_mut(|input| input.consume_shortcut(shortcut))
}

/// What a window begins with.
fn start() -> DesignFile {
    starters()
        .first()
        .and_then(|starter| starter.file().ok())
        .unwrap_or_else(|| DesignFile::of(overstand_core::testing::worked_example()))
}
