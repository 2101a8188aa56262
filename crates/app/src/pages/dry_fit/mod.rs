//! The dry fit: the joint is together without glue. What was read, what the joint really is,
//! what to do about it, the log of all rounds, and the set-up after the glue.

mod detail;
mod entry;
mod found;
mod how;
mod log;
mod readings;
mod round;
mod set_up;
mod to_do;
mod worked;

use std::collections::BTreeMap;

use egui::{CentralPanel, Frame, Label, Panel, RichText, Stroke, Ui, vec2};
use overstand_core::design::Design;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use crate::command::Command;
use crate::marks;
use crate::pages::{child, sized, unclosed};
use crate::panels::verdict;
use crate::theme::{self, space};
use crate::view::{Draft, View};

use worked::{Chosen, Take, Worked};

/// What lies on the bench: what is worked out of the readings, and what is chosen.
#[derive(Debug, Default)]
pub(crate) struct Desk {
    worked: Worked,
    /// What stands below the drawing; none for what comes first.
    leaf: Option<Leaf>,
    /// The correction that is looked at; none for the best.
    chosen: Option<Chosen>,
    /// How much of it.
    take: Take,
    /// The verdict is that of the joint once it is done.
    after: bool,
    /// The reading that is being put down.
    form: entry::Form,
    drafts: BTreeMap<Entry, Draft>,
}

/// A field of the page besides those of a new reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum Entry {
    /// What a reading of the round read, from 0.
    Value(usize),
    /// What an angle gauge read on the body.
    Body(usize),
    /// Its error.
    Error(usize),
    /// The day of the round.
    Day,
    /// Its notes.
    Note,
    /// How much wood is taken.
    Taken,
}

/// What stands below the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Leaf {
    ToDo,
    SetUp,
    Log,
}

impl Leaf {
    fn name(self) -> &'static str {
        match self {
            Self::ToDo => "What to do",
            Self::SetUp => "Set-up",
            Self::Log => "Fitting log",
        }
    }
}

impl Desk {
    /// Another design is open: nothing is kept of the last one.
    pub(crate) fn forget_design(&mut self) {
        *self = Self::default();
    }

    /// Another page is shown. What was typed over readings and not taken is given up: its
    /// fields are gone. Notes need no leave to be taken, and are.
    pub(crate) fn leave(&mut self, design: &Design) -> Option<Command> {
        let note = self.drafts.remove(&Entry::Note);
        self.drafts.clear();
        readings::noted(design, note?.text)
    }
}

/// What stands over the columns, each with the term that explains it.
#[cfg(test)]
pub(crate) fn headings() -> impl Iterator<Item = (&'static str, &'static str)> {
    log::HEADS.into_iter().chain(detail::HEADS)
}

/// Shows the page; `side` is the frame of what stands beside the drawing.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    side: Frame,
    desk: &mut Desk,
    view: &mut View,
) -> Vec<Command> {
    if desk.worked.update(study, revision) {
        // what was typed against the round as it was
        desk.drafts.retain(|entry, _| *entry == Entry::Note);
    }
    if study.closed().is_none() {
        let text = "Nothing can be said of a dry fit as long as the plan does not close: there is \
                    nothing to hold the readings against. The panel on the right says what is \
                    wrong.";
        return unclosed(ui, study, revision, style, side, text, view);
    }
    let mut commands = Vec::new();
    sized(Panel::left("readings"), side, space::PRINT).show(ui, |ui| {
        ui.take_available_width();
        readings::show(ui, study, style, desk, view, &mut commands);
    });
    sized(Panel::right("verdict"), side, space::VERDICT).show(ui, |ui| {
        ui.take_available_width();
        right(ui, study, revision, style, desk, view, &mut commands);
    });
    CentralPanel::no_frame().show(ui, |ui| {
        ui.painter().rect_filled(ui.max_rect(), 0.0, theme::palette(ui).paper);
        middle(ui, study, style, desk, view, &mut commands);
    });
    commands
}

/// The verdict: of the joint as it is, or once the chosen correction is done; of the plan while
/// nothing is read.
fn right(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    desk: &mut Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    ui.add_space(space::S);
    let Some(fit) = desk.worked.fit() else {
        ui.add(Label::new(RichText::new("As planned").font(theme::heading())).selectable(false));
        verdict::show(ui, study, revision, style, view, commands);
        return;
    };
    let tried = desk.worked.tried.as_ref().and_then(|tried| tried.made.as_ref().ok());
    let then = tried.map(|tried| &tried.correction.outcome.study);
    ui.horizontal(|ui| {
        let is_after = desk.after && then.is_some();
        let tip = "The saddle set to what this joint needs";
        if ui.selectable_label(!is_after, "As it is").on_hover_text(tip).clicked() {
            desk.after = false;
        }
        let tip = "Once the chosen correction is done";
        let label = egui::Button::selectable(is_after, "Then");
        if ui.add_enabled(then.is_some(), label).on_hover_text(tip).clicked() {
            desk.after = true;
        }
    });
    match then.filter(|_| desk.after) {
        Some(then) => verdict::look(ui, then, "then", style, view),
        None => verdict::look(ui, &fit.real.study, "as it is", style, view),
    }
}

/// What was found, the drawing, and below them what to do, set-up and log.
fn middle(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    desk: &mut Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let all = ui.available_rect_before_wrap();
    let [part, least, most] = space::FIT_DRAWING;
    let high = (all.height() * part).clamp(least, most);
    let (above, below) = all.split_top_bottom_at_y(all.top() + high);
    found::show(ui, above, study, style, desk, view, commands);
    let palette = theme::palette(ui);
    ui.painter().hline(all.x_range(), below.top(), Stroke::new(1.0, palette.hairline));
    let inner = below.shrink2(vec2(space::XL, space::S));
    let ui = &mut child(ui, "below", inner);
    let is_glued = desk.worked.set_up.is_some();
    let leaves: &[Leaf] =
        if is_glued { &[Leaf::SetUp, Leaf::Log] } else { &[Leaf::ToDo, Leaf::SetUp, Leaf::Log] };
    let leaf = desk.leaf.filter(|leaf| leaves.contains(leaf)).unwrap_or(leaves[0]);
    if let Some(chosen) = marks::tabs(ui, leaves, Leaf::name, leaf) {
        desk.leaf = Some(chosen);
    }
    ui.add_space(space::S);
    match leaf {
        Leaf::ToDo => to_do::show(ui, study, style, desk, view, commands),
        Leaf::SetUp => set_up::show(ui, style, desk, view),
        Leaf::Log => log::show(ui, study, style, desk, view, commands),
    }
}
