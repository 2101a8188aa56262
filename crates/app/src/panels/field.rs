//! A field for the value of a dimension: typed, checked, refused in place.

use egui::text::CCursorRange;
use egui::text_edit::TextEditState;
use egui::{
    Align, Align2, Frame, Id, Key as Press, Label, Margin, Rect, RichText, Stroke, TextEdit, Ui,
    vec2,
};
use overstand_core::dimension::{Dimension, Key, Role};
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::verdict::State;

use crate::theme::{self, space, stroke};
use crate::view::{Draft, Field, View};
use crate::{drive, marks, values};

impl Draft {
    /// A draft that begins with a value as it is shown.
    pub(crate) fn of(info: &Dimension, value: f64, style: LengthStyle) -> Self {
        let (text, _) = values::parts(value, info.unit, info.digits, style);
        Self { was: text.clone(), text, refused: None }
    }
}

/// The identity of a field's widget.
pub(crate) fn id(field: Field) -> Id {
    match field {
        Field::Row(key) => Id::unique(("field", key.dim as usize, key.index)),
        Field::InTable(key) => Id::unique(("field in table", key.dim as usize, key.index)),
        Field::AtHandle(canvas, dim) => Id::unique(("field at", canvas as u8, dim as usize)),
        Field::Name(list, index) => Id::unique(("name", list as u8, index)),
        Field::Extra(extra) => Id::unique(("extra", format!("{extra:?}"))),
    }
}

/// Width of a field with its unit.
pub(crate) fn width(style: LengthStyle) -> f32 {
    space::UNIT
        + match style {
            LengthStyle::InchFraction => space::FRACTION_FIELD,
            LengthStyle::Millimetres | LengthStyle::InchDecimal => space::FIELD,
        }
}

/// Shows a field with its unit, and below it why what was typed is refused. Returns
/// the value when one was typed that can be taken.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    key: Key,
    field: Field,
    name: &str,
    style: LengthStyle,
    view: &mut View,
) -> Option<f64> {
    let size = vec2(width(style), space::HIT);
    let (rect, _) = ui.allocate_exact_size(size, egui::Sense::hover());
    let typed = place(ui, rect, study, key, field, name, style, view);
    refusal(ui, field, view);
    typed
}

/// Shows a field with its unit in a rectangle. Returns the value when one was typed
/// that can be taken.
#[expect(clippy::too_many_arguments, reason = "a field is where all of it meets")]
pub(crate) fn place(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    key: Key,
    field: Field,
    name: &str,
    style: LengthStyle,
    view: &mut View,
) -> Option<f64> {
    let (palette, info) = (theme::palette(ui), key.dim.info());
    let value = values::value(study, key);
    let shown = value.map_or_else(
        || "–".to_owned(),
        |value| values::parts(value, info.unit, info.digits, style).0,
    );
    let mut text =
        view.drafts.get(&field).map_or_else(|| shown.clone(), |draft| draft.text.clone());
    let is_refused = view.drafts.get(&field).is_some_and(|draft| draft.refused.is_some());

    let id = id(field);
    let is_found = info.role == Role::Closing && key.is_found(&study.design);
    let is_result = info.role == Role::Outcome && key.is_found(&study.design);
    let has_focus = ui.memory(|memory| memory.has_focus(id));
    let is_stale = (is_found || is_result) && study.closed().is_none();
    let (font, colour) = match (is_found, is_stale) {
        (_, true) => (theme::text(), palette.dim),
        (true, false) => (theme::strong(), palette.accent),
        (false, false) => (theme::text(), palette.ink),
    };
    let glows = view.glow.0.contains(&key);
    let edge = match () {
        () if is_refused => Stroke::new(stroke::STRONG, palette.state(State::Fails)),
        () if has_focus => Stroke::new(stroke::STRONG, palette.ink),
        () if glows => Stroke::new(stroke::STRONG, palette.accent),
        () if is_found || is_result => Stroke::NONE,
        () => Stroke::new(1.0, palette.field_border),
    };
    let fill = if (is_found || is_result) && !has_focus && !is_refused {
        egui::Color32::TRANSPARENT
    } else {
        palette.field
    };
    let box_rect = Rect::from_min_size(rect.min, vec2(rect.width() - space::UNIT, rect.height()))
        .shrink2(vec2(0.0, 1.0));
    ui.painter().rect(box_rect, theme::CORNER, fill, edge, egui::StrokeKind::Inside);
    let edit = TextEdit::singleline(&mut text)
        .id(id)
        .frame(Frame::NONE)
        .margin(Margin::ZERO)
        .font(font)
        .text_color(colour)
        .align(Align2::RIGHT_CENTER)
        .char_limit(80)
        .desired_width(box_rect.width() - 2.0 * space::M);
    let response = ui.place(box_rect.shrink2(vec2(space::M, 0.0)), edit).accessible_name(name);
    let unit = RichText::new(values::unit_sign(info.unit, style)).color(palette.dim);
    let unit_rect =
        Rect::from_min_max(box_rect.right_top() + vec2(space::S, 0.0), rect.right_bottom());
    let mut beside = ui.new_child(
        egui::UiBuilder::new()
            .max_rect(unit_rect)
            .layout(egui::Layout::left_to_right(Align::Center)),
    );
    beside.add(Label::new(unit).selectable(false));

    if view.focus == Some(field) {
        view.focus = None;
        response.request_focus();
        response.scroll_to_me(Some(Align::Center));
    }
    if response.gained_focus() {
        let start = || Draft { was: shown.clone(), text: shown.clone(), refused: None };
        let draft = view.drafts.entry(field).or_insert_with(start);
        select_all(ui, field, draft);
        // reached by Tab it may be out of sight
        response.scroll_to_me(None);
    }
    if response.changed() {
        let draft = view.drafts.entry(field).or_default();
        draft.text = text;
        draft.refused = None;
    }
    if response.lost_focus() { finish(ui, study, key, field, style, view) } else { None }
}

/// Marks all that stands in a field, so that it is typed over.
pub(crate) fn select_all(ui: &Ui, field: Field, draft: &Draft) {
    let mut state = TextEditState::load(ui.ctx(), id(field)).unwrap_or_default();
    state.cursor.set_char_range(Some(CCursorRange::select_all_str(&draft.text)));
    state.store(ui.ctx(), id(field));
}

/// The field is left: what was typed is taken, refused or given up.
fn finish(
    ui: &Ui,
    study: &Study,
    key: Key,
    field: Field,
    style: LengthStyle,
    view: &mut View,
) -> Option<f64> {
    let escaped = ui.input(|input| input.key_pressed(Press::Escape));
    let draft = view.drafts.get_mut(&field)?;
    if escaped || draft.text == draft.was {
        view.drafts.remove(&field);
        return None;
    }
    let follower = view.followers.get(&key.dim).copied();
    let taken = values::read(key.dim.info(), &draft.text, style)
        .and_then(|value| drive::settle(&study.design, key, value, follower, style).map(|_| value));
    match taken {
        Ok(value) => {
            view.drafts.remove(&field);
            Some(value)
        }
        Err(why) => {
            draft.refused = Some(why);
            let entered = ui.input(|input| input.key_pressed(Press::Enter));
            if entered {
                view.focus = Some(field);
            } else if matches!(field, Field::AtHandle(..)) {
                view.drafts.remove(&field);
            }
            None
        }
    }
}

/// Why what was typed is refused, if it is.
pub(crate) fn refusal(ui: &mut Ui, field: Field, view: &View) {
    let Some(why) = view.drafts.get(&field).and_then(|draft| draft.refused.as_ref()) else {
        return;
    };
    let colour = theme::palette(ui).state(State::Fails);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = space::S;
        let (rect, _) = ui.allocate_exact_size(vec2(space::HIT, space::XL), egui::Sense::hover());
        marks::state(ui.painter(), rect.center(), State::Fails, colour);
        ui.add(Label::new(RichText::new(why).font(theme::label()).color(colour)).wrap());
    });
}
