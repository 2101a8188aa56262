//! Fields, labels and lines that pages share.

use std::any::TypeId;
use std::collections::BTreeMap;
use std::fmt::Debug;
use std::hash::Hash;

use egui::{Align, Id, Key as Press, Label, Layout, RichText, Sense, TextEdit, Ui, vec2};
use overstand_core::verdict::State;

use crate::panels::tips;
use crate::theme::{self, space};
use crate::view::Draft;
use crate::{marks, values};

/// Width of a field for two lengths.
pub(super) const WIDE: f32 = 2.0 * space::FIELD;

/// Over a group.
pub(super) fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(space::M);
    ui.add(Label::new(RichText::new(text).font(theme::heading())).selectable(false));
}

/// Small and grey.
pub(super) fn dim(ui: &mut Ui, text: &str) {
    let colour = theme::palette(ui).dim;
    ui.add(Label::new(RichText::new(text).font(theme::label()).color(colour)).wrap());
}

/// A label at the left, what belongs to it at the right.
pub(super) fn labelled(ui: &mut Ui, label: &str, show: impl FnOnce(&mut Ui)) {
    explained(ui, label, "", show);
}

/// The same, with the words of the glossary for a term over the label.
pub(super) fn explained(ui: &mut Ui, label: &str, term: &str, show: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        tips::on_hover(ui.add(Label::new(label).selectable(false)), term);
        ui.with_layout(Layout::right_to_left(Align::Center), show);
    });
}

/// A field that takes what was typed when it is left; what is refused stays, with the reason
/// below it.
pub(super) fn field<E: Copy + Debug + Ord + Hash + 'static>(
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
    let Some(draft) = drafts.get_mut(&entry) else { return };
    // what is shown is rounded: read back, it would be another value
    if draft.text == draft.was || ui.input(|input| input.key_pressed(Press::Escape)) {
        drafts.remove(&entry);
        return;
    }
    match take(draft.text.trim()) {
        Ok(()) => {
            drafts.remove(&entry);
        }
        Err(why) => draft.refused = Some(values::capital(&why)),
    }
}

/// Why what was typed is refused, if it is.
pub(super) fn refusal<E: Ord>(ui: &mut Ui, entry: E, drafts: &BTreeMap<E, Draft>) {
    if let Some(why) = drafts.get(&entry).and_then(|draft| draft.refused.as_ref()) {
        state_line(ui, State::Fails, why);
    }
}

/// Words with the mark of a state.
pub(super) fn state_line(ui: &mut Ui, state: State, says: &str) {
    let colour = theme::palette(ui).state(state);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = space::S;
        let (rect, _) = ui.allocate_exact_size(vec2(space::XL, space::XL), Sense::hover());
        marks::state(ui.painter(), rect.center(), state, colour);
        ui.add(Label::new(RichText::new(says).font(theme::label()).color(colour)).wrap());
    });
}
