//! What is typed into among the choices.

use std::collections::BTreeMap;

use egui::{Id, Response, TextEdit, Ui};
use overstand_core::units::{LengthStyle, Unit, parse_length};

use crate::pages::fields::field;
use crate::theme::space;
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
