//! Commands that change the design, each with a name by which it is undone.

use std::path::Path;

use egui::Context;
use overstand_core::design::{Design, Provenance};
use overstand_core::dimension::Key;
use overstand_core::risk::aimed;
use overstand_core::sentence::lower;
use overstand_core::units::LengthStyle;
use overstand_files::MOST_VARIANTS;

use crate::app::App;
use crate::command::Command;
use crate::drive;
use crate::lists::List;
use crate::panels::status_bar::chosen_follower;
use crate::values::{capital, show_dim, value};
use crate::view::Page;

/// How long what moved glows, in seconds.
const GLOW: f64 = 0.6;

/// The name of a step on the map: `Aim: pitch 3.05°, overstand 1.2 mm`.
fn aim_words(design: &Design, keys: [Key; 2], style: LengthStyle) -> String {
    let each = keys.map(|key| {
        let value = key.get(design).map(|value| show_dim(key.dim.info(), value, style));
        format!("{} {}", lower(&key.name(design)), value.unwrap_or_default())
    });
    format!("Aim: {}", each.join(", "))
}

impl App {
    /// Commands that change the design.
    pub(super) fn change(&mut self, ctx: &Context, command: Command) {
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
                        let name = format!("Nudge {}", lower(&key.name(&design)));
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
                let name = name
                    .map_or_else(String::new, |key| format!("Drag {}", lower(&key.name(after))));
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
                let name = format!("{verb} {}", lower(&key.name(&design)));
                self.put(ctx, name, changed, None);
            }
            Command::Release(dim) => {
                let key = dim.key();
                if !key.is_found(&design) {
                    let changed = drive::toggled(self.document.study(), key);
                    let name = format!("Release {}", lower(&key.name(&design)));
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
                let name = format!("Mark {}", lower(&key.name(&changed)));
                self.put(ctx, name, changed, None);
            }
            Command::Mend(remedy) => {
                let says = remedy.says.show(style);
                self.put(ctx, format!("Apply: {says}"), remedy.design, None);
            }
            Command::NameIn(list, index, name) => {
                let mut changed = design;
                if let Some(called) = list.name_mut(&mut changed, index) {
                    *called = name;
                    let step = format!("Name {} {}", list.one().to_lowercase(), index + 1);
                    self.put_named(ctx, step, changed);
                }
            }
            Command::Edit { name, design } => self.put_named(ctx, name, *design),
            Command::AddTo(list) => {
                self.put_named(ctx, command.text().to_owned(), list.with_one_more(design));
                // what is taken out is the one that is listed: the new one first of all
                if list == List::Cavities {
                    let last = list.names(self.document.design()).len().saturating_sub(1);
                    self.view.listed.insert(list.part(), last);
                }
            }
            Command::TakeFrom(list) => {
                let listed = self.view.listed.get(&list.part()).copied().unwrap_or_default();
                if let Some(goes) = list.goes(&design, listed) {
                    let changed = list.without(design, goes);
                    self.put(ctx, command.text().to_owned(), changed, None);
                }
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
            _ => {}
        }
    }

    /// As [`Self::put`], unless the design makes no sense with it.
    pub(super) fn put_named(&mut self, ctx: &Context, name: String, design: Design) {
        match design.faults().first() {
            Some(fault) => self.view.complain(drive::fault_words(fault)),
            None => self.put(ctx, name, design, None),
        }
    }

    fn step_name(&self, key: Key, to: f64) -> String {
        let name = lower(&key.name(self.document.design()));
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

    /// A copy of the design as B, the design itself as A.
    pub(super) fn keep_variant(&mut self) {
        let design = self.document.design();
        let copy = Design { name: self.document.free_name(&design.name), ..design.clone() };
        let says = format!("{} is now a variant of this file, as B.", copy.name);
        self.put_variant("Keep a variant".to_owned(), copy, says);
    }

    /// A copy of another file's design as B: a variant of this file that says where it came
    /// from. The other file stays as it is.
    pub(super) fn put_beside(&mut self, path: &Path) {
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

    pub(super) fn call(&mut self, name: &str) {
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
