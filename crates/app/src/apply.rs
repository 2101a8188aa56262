//! The one place where commands are done.

use std::path::{Path, PathBuf};

use egui::{Context, ViewportCommand};
use overstand_core::design::{Design, Provenance};
use overstand_core::dimension::{Key, Part};
use overstand_core::risk::aimed;
use overstand_core::units::LengthStyle;
use overstand_files::{MOST_VARIANTS, SaveError};

use crate::app::App;
use crate::command::Command;
use crate::dialogs::{Dialog, Purpose, file_name};
use crate::document::Document;
use crate::drive;
use crate::lists::{naming, with_cavity, with_pickup, with_string, without};
use crate::panels::dimensions::bring_into_sight;
use crate::panels::status_bar::chosen_follower;
use crate::panels::welcome::Welcome;
use crate::printing::Subject;
use crate::tour;
use crate::values::{capital, show_dim, value};
use crate::view::{Card, Form, Page};

/// How long what moved glows, in seconds.
const GLOW: f64 = 0.6;

/// The name of a step on the map: `Aim: pitch 3.05°, overstand 1.2 mm`.
fn aim_words(design: &Design, keys: [Key; 2], style: LengthStyle) -> String {
    let each = keys.map(|key| {
        let value = key.get(design).map(|value| show_dim(key.dim.info(), value, style));
        format!("{} {}", key.name(design).to_lowercase(), value.unwrap_or_default())
    });
    format!("Aim: {}", each.join(", "))
}

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
                self.view.forget_design();
                self.paper.forget_design();
                self.how_true.forget_design();
                self.dry_fit.forget_design();
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
                self.dry_fit.forget_drafts();
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

    /// Commands that change the design.
    fn change(&mut self, ctx: &Context, command: Command) {
        let style = self.preferences.units;
        let design = self.document.design().clone();
        match command {
            Command::Set { key, value } => {
                let follower = chosen_follower(&design, key.dim, &self.view);
                let name = self.step_name(key, value);
                match drive::settle(&design, key, value, follower, style) {
                    Ok(changed) => self.put(ctx, name, changed, None),
                    Err(why) => self.view.complain(why),
                }
            }
            Command::Nudge { key, value } => {
                let follower = chosen_follower(&design, key.dim, &self.view);
                match drive::drive(&design, key, value, follower, style) {
                    Ok(study) => {
                        let name = format!("Nudge {}", key.name(&design).to_lowercase());
                        self.put(ctx, name, study.design, Some(key.to_string()));
                    }
                    Err(why) => self.view.complain(why),
                }
            }
            Command::DragTo { key, value } => {
                let before = self.document.before_step().clone();
                let follower = chosen_follower(&before, key.dim, &self.view);
                match drive::drive(&before, key, value, follower, style) {
                    Ok(study) => {
                        self.view.note = crate::view::Note::default();
                        self.document.preview(study.design);
                    }
                    Err(why) => self.view.complain(why),
                }
            }
            Command::DragEnd => {
                let (before, after) = (self.document.before_step(), self.document.design());
                let moved = Key::all_of(after)
                    .into_iter()
                    .find(|key| !key.is_found(after) && key.get(before) != key.get(after));
                let name = moved.or_else(|| {
                    Key::all_of(after).into_iter().find(|key| key.get(before) != key.get(after))
                });
                let name = name.map_or_else(String::new, |key| {
                    format!("Drag {}", key.name(after).to_lowercase())
                });
                self.document.end_step(name);
            }
            Command::Aim { at, drags } => {
                let before = if drags { self.document.before_step() } else { &design };
                match aimed(before, &at) {
                    Some(aimed) if drags => {
                        self.view.note = crate::view::Note::default();
                        self.document.preview(aimed);
                    }
                    Some(aimed) => {
                        let keys = at.map(|(key, _)| key);
                        let name = aim_words(&aimed, keys, style);
                        self.put(ctx, name, aimed, Some(format!("aim {} {}", keys[0], keys[1])));
                    }
                    None => self.view.complain("It does not close there: the point stays."),
                }
            }
            Command::AimEnd(keys) => {
                let name = aim_words(self.document.design(), keys, style);
                self.document.end_step(name);
            }
            Command::DragCancel => {
                self.document.drop_step();
                self.view.say("Put back as it was.");
            }
            Command::Pin(key) => {
                let changed = drive::toggled(self.document.study(), key);
                let verb = if key.is_found(&changed) { "Release" } else { "Hold" };
                let name = format!("{verb} {}", key.name(&design).to_lowercase());
                self.put(ctx, name, changed, None);
            }
            Command::Release(dim) => {
                let key = dim.key();
                if !key.is_found(&design) {
                    let changed = drive::toggled(self.document.study(), key);
                    let name = format!("Release {}", key.name(&design).to_lowercase());
                    self.put(ctx, name, changed, None);
                }
            }
            Command::Choose(choice, option) => {
                let mut changed = design;
                match choice.set(&mut changed, option) {
                    Ok(()) => self.put(ctx, choice.name.to_owned(), changed, None),
                    Err(error) => self.view.complain(capital(&error.to_string())),
                }
            }
            Command::Mark(key, mark) => {
                let mut changed = design;
                if mark == Provenance::Planned {
                    changed.marks.remove(&key.to_string());
                } else {
                    changed.marks.insert(key.to_string(), mark);
                }
                let name = format!("Mark {}", key.name(&changed).to_lowercase());
                self.put(ctx, name, changed, None);
            }
            Command::Mend(remedy) => {
                let says = remedy.says.show(style);
                self.put(ctx, format!("Apply: {says}"), remedy.design, None);
            }
            Command::NameString(index, name) => {
                let mut changed = design;
                if let Some(string) = changed.strings.get_mut(index) {
                    string.name = name;
                    self.put_named(ctx, naming("string", index), changed);
                }
            }
            Command::NamePickup(index, name) => {
                let mut changed = design;
                if let Some(pickup) = changed.pickups.get_mut(index) {
                    pickup.name = name;
                    self.put_named(ctx, naming("pickup", index), changed);
                }
            }
            Command::Edit { name, design } => self.put_named(ctx, name, *design),
            Command::NameCavity(index, name) => {
                let mut changed = design;
                if let Some(cavity) = changed.cavities.get_mut(index) {
                    cavity.name = name;
                    self.put_named(ctx, naming("cavity", index), changed);
                }
            }
            Command::AddCavity => {
                let text = command.text().to_owned();
                self.put_named(ctx, text, with_cavity(design));
                let last = self.document.design().cavities.len().saturating_sub(1);
                self.view.listed.insert(Part::Cavity, last);
            }
            Command::RemoveCavity if !design.cavities.is_empty() => {
                let listed = self.view.listed.get(&Part::Cavity).copied().unwrap_or_default();
                let listed = listed.min(design.cavities.len() - 1);
                let text = command.text().to_owned();
                self.put(ctx, text, without(design, "cavities", listed), None);
            }
            Command::Tick { id, title, done } => {
                let mut changed = design;
                if done {
                    changed.ticks.insert(id.to_owned());
                } else {
                    changed.ticks.remove(id);
                }
                self.view.steps.remove(id);
                let name = format!("{}: {}", command.text(), title.to_lowercase());
                self.put(ctx, name, changed, None);
            }
            Command::AddString => {
                self.put(ctx, command.text().to_owned(), with_string(design), None)
            }
            Command::AddPickup => {
                self.put(ctx, command.text().to_owned(), with_pickup(design), None)
            }
            Command::RemoveString if design.strings.len() > 1 => {
                let last = design.strings.len() - 1;
                self.put(ctx, command.text().to_owned(), without(design, "strings", last), None);
            }
            Command::RemovePickup if !design.pickups.is_empty() => {
                let last = design.pickups.len() - 1;
                self.put(ctx, command.text().to_owned(), without(design, "pickups", last), None);
            }
            _ => {}
        }
    }

    /// What to do first was read.
    fn read_welcome(&mut self) {
        self.view.welcome = None;
        self.preferences.welcomed = true;
    }

    /// As [`Self::put`], unless the design makes no sense with it.
    fn put_named(&mut self, ctx: &Context, name: String, design: Design) {
        match design.faults().first() {
            Some(fault) => self.view.complain(drive::fault_words(fault)),
            None => self.put(ctx, name, design, None),
        }
    }

    fn step_name(&self, key: Key, to: f64) -> String {
        let name = key.name(self.document.design()).to_lowercase();
        format!("Set {name} to {}", show_dim(key.dim.info(), to, self.preferences.units))
    }

    /// Puts a changed design in place; what moved glows for a moment.
    fn put(&mut self, ctx: &Context, name: String, design: Design, joins: Option<String>) {
        let before = self.document.study().clone();
        self.document.change(name, design, joins);
        if self.is_motion_reduced() {
            return;
        }
        let after = self.document.study();
        let moved = Key::all_of(&after.design)
            .into_iter()
            .filter(|key| {
                let (was, is) = (value(&before, *key), value(after, *key));
                let seen = 0.05 * key.dim.info().step;
                was.zip(is).is_some_and(|(was, is)| (was - is).abs() > seen)
            })
            .collect();
        self.view.glow = (moved, ctx.time() + GLOW);
        ctx.request_repaint_after_secs(GLOW as f32);
    }

    /// Does what leaves the design behind, unless something is not saved.
    fn leave(&mut self, ctx: &Context, command: Command) {
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
    fn recover(&mut self) {
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
        self.view.forget_design();
        self.paper.forget_design();
        self.how_true.forget_design();
        self.dry_fit.forget_design();
    }

    /// A copy of the design as B, the design itself as A.
    fn keep_variant(&mut self) {
        let design = self.document.design();
        let copy = Design { name: self.document.free_name(&design.name), ..design.clone() };
        let says = format!("{} is now a variant of this file, as B.", copy.name);
        self.put_variant("Keep a variant".to_owned(), copy, says);
    }

    /// A copy of another file's design as B: a variant of this file that says where it came
    /// from. The other file stays as it is.
    fn put_beside(&mut self, path: &Path) {
        match overstand_files::read(path) {
            Ok(file) => {
                let design = file.active_design().clone();
                let name = self.document.name_of_origin(&design.name, path);
                let other = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
                let step = format!("Take in {} of {other}", design.name.trim());
                let says = format!(
                    "A copy of {} is now a variant of this file, as B: {name}. {other} stays as \
                     it is.",
                    design.name.trim()
                );
                self.put_variant(step, Design { name, ..design }, says);
            }
            Err(error) => {
                self.view.complain(format!("Not opened: {error} ({})", path.display()));
            }
        }
    }

    fn put_variant(&mut self, step: String, design: Design, says: String) {
        if self.document.file().variants.len() >= MOST_VARIANTS {
            self.view.complain(format!("A file holds {MOST_VARIANTS} variants at most."));
            return;
        }
        let active = self.document.design().name.clone();
        self.view.say(says);
        self.view.compare.pair = [Some(active), Some(design.name.clone())];
        self.view.compare.all = None;
        self.view.page = Page::Compare;
        self.document.insert(step, design);
    }

    /// What was held back is done after all: saved by now, or never to be.
    fn go_on(&mut self, ctx: &Context) {
        if let Some(command) = self.held_back.take() {
            self.document.forget_changes();
            self.apply(ctx, command);
        }
    }

    fn ask(&mut self, ctx: &Context, purpose: Purpose) {
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

    fn save(&mut self, ctx: &Context, path: &Path, replace: bool) {
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

    fn call(&mut self, name: &str) {
        let taken = self.document.file().variants.iter().any(|variant| variant.name == name);
        let changed = Design { name: name.to_owned(), ..self.document.design().clone() };
        match changed.faults().first() {
            _ if changed.name == self.document.design().name => {}
            _ if taken => self.view.complain(format!("Another variant is called {name} already.")),
            Some(fault) => self.view.complain(drive::fault_words(fault)),
            None => {
                for one in self.view.compare.pair.iter_mut().flatten() {
                    if *one == self.document.design().name {
                        name.clone_into(one);
                    }
                }
                self.document.change("Rename".to_owned(), changed, None);
            }
        }
    }
}
