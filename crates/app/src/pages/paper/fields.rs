//! Fields and labels of the choices.

use std::any::TypeId;
use std::collections::BTreeMap;
use std::fmt::Debug;
use std::hash::Hash;

use egui::{Align, Id, Key as Press, Label, Layout, Response, RichText, TextEdit, Ui};
use overstand_core::units::{LengthStyle, Unit, parse_length};
use overstand_core::verdict::State;

use super::write::line_of;
use crate::panels::tips;
use crate::theme::{self, space};
use crate::values;
use crate::view::Draft;

/// A field that is typed into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Entry {
    /// Width and height of paper without a name.
    Size,
    /// Width of a roll.
    Roll,
    /// A margin: left, top, right, bottom.
    Margin(usize),
    /// The least overlap of tiles.
    Overlap,
    /// What the check bars measure.
    Measured,
    /// When they were measured.
    MeasuredOn,
    /// Where to write.
    Path,
}

/// Width of a field for two lengths.
pub(in crate::pages) const WIDE: f32 = 2.0 * space::FIELD;

pub(in crate::pages) fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(space::M);
    ui.add(Label::new(RichText::new(text).font(theme::heading())).selectable(false));
}

pub(in crate::pages) fn dim(ui: &mut Ui, text: &str) {
    let colour = theme::palette(ui).dim;
    ui.add(Label::new(RichText::new(text).font(theme::label()).color(colour)).wrap());
}

/// A label at the left, what belongs to it at the right.
pub(in crate::pages) fn labelled(ui: &mut Ui, label: &str, show: impl FnOnce(&mut Ui)) {
    explained(ui, label, "", show);
}

/// The same, with the words of the glossary for a term over the label.
pub(in crate::pages) fn explained(
    ui: &mut Ui,
    label: &str,
    term: &str,
    show: impl FnOnce(&mut Ui),
) {
    ui.horizontal(|ui| {
        tips::on_hover(ui.add(Label::new(label).selectable(false)), term);
        ui.with_layout(Layout::right_to_left(Align::Center), show);
    });
}

/// A line to type in, as wide as there is room.
pub(super) fn line(
    ui: &mut Ui,
    name: &str,
    entry: Entry,
    text: &mut String,
    focus: bool,
) -> Response {
    let id = Id::unique(("paper", entry));
    let edit = TextEdit::singleline(text).id(id).char_limit(4096);
    let response = ui.add(edit.desired_width(f32::INFINITY)).accessible_name(name);
    if focus {
        response.request_focus();
    }
    response
}

/// A field that takes what was typed when it is left; what is refused stays, with the reason
/// below it.
pub(in crate::pages) fn field<E: Copy + Debug + Ord + Hash + 'static>(
    ui: &mut Ui,
    name: &str,
    entry: E,
    shown: &str,
    width: f32,
    drafts: &mut BTreeMap<E, Draft>,
    take: impl FnOnce(&str) -> Result<(), String>,
) {
    let mut text = drafts.get(&entry).map_or_else(|| shown.to_owned(), |draft| draft.text.clone());
    let id = Id::unique((TypeId::of::<E>(), entry));
    let edit = TextEdit::singleline(&mut text).id(id).char_limit(80).desired_width(width);
    let response = ui.add(edit).accessible_name(name);
    if response.changed() {
        drafts.insert(entry, Draft { was: shown.to_owned(), text, refused: None });
    }
    if !response.lost_focus() {
        return;
    }
    if ui.input(|input| input.key_pressed(Press::Escape)) {
        drafts.remove(&entry);
        return;
    }
    let Some(draft) = drafts.get_mut(&entry) else { return };
    match take(draft.text.trim()) {
        Ok(()) => {
            drafts.remove(&entry);
        }
        Err(why) => draft.refused = Some(values::capital(&why)),
    }
}

pub(in crate::pages) fn refusal<E: Ord>(ui: &mut Ui, entry: E, drafts: &BTreeMap<E, Draft>) {
    if let Some(why) = drafts.get(&entry).and_then(|draft| draft.refused.as_ref()) {
        line_of(ui, State::Fails, why);
    }
}

/// A length in the maker's units; the field shows its unit.
pub(super) fn length(
    ui: &mut Ui,
    name: &str,
    entry: Entry,
    value: &mut f64,
    style: LengthStyle,
    drafts: &mut BTreeMap<Entry, Draft>,
) {
    let shown = values::show(*value, Unit::Length, 1, style);
    field(ui, name, entry, &shown, space::FRACTION_FIELD, drafts, |text| {
        *value = parse_length(text, style).map_err(|error| error.to_string())?;
        Ok(())
    });
}
