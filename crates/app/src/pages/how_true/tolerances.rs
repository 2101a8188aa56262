//! The list of everything that is cut or bought, with its ± and how the error lies within.

use egui::{
    Align, Align2, ComboBox, Label, Layout, Rect, RichText, Role, ScrollArea, Sense, Ui, UiBuilder,
    WidgetInfo, vec2,
};
use overstand_core::design::{Design, JointKind, Making, Provenance, Spread, Tolerance};
use overstand_core::dimension::Dim;
use overstand_core::risk::{Basis, Source, Tolerated, from_seat};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use crate::command::Command;
use crate::panels::extras::Slot;
use crate::panels::{field, provenance};
use crate::theme::{self, space};
use crate::view::{Extra, Field, View};
use crate::{marks, values};

/// Widths at the right of a name: how it is made, the shape, back to usual.
const MADE: f32 = 84.0;
const SHAPE: f32 = 36.0;
const BACK: f32 = 20.0;

/// A ± is too fine for fractions of an inch, and its field as narrow as that of decimals.
fn narrow(style: LengthStyle) -> LengthStyle {
    if style.is_inch() { LengthStyle::InchDecimal } else { style }
}

/// Width of a ± with its unit; the edges of the field are within.
fn valued(style: LengthStyle) -> f32 {
    field::width(narrow(style)) - 2.0 * space::M
}

/// Decimals of a ±: as many as it takes, up to thousandths.
pub(super) fn digits(plus_minus: f64) -> usize {
    let hundredths = 100.0 * plus_minus;
    if (hundredths - hundredths.round()).abs() < 1e-9 { 2 } else { 3 }
}

/// A ± in one piece: `±0.15 mm`.
pub(super) fn show_plus_minus(source: Source, plus_minus: f64, style: LengthStyle) -> String {
    let shown = values::show(plus_minus, source.unit(), digits(plus_minus), style);
    format!("±{shown}")
}

/// The name of a shape.
fn shape_name(spread: Spread) -> &'static str {
    match spread {
        Spread::Rectangular => "Rectangular",
        Spread::Triangular => "Triangular",
        Spread::Normal => "Normal",
    }
}

/// What a shape means.
fn shape_words(spread: Spread) -> &'static str {
    match spread {
        Spread::Rectangular => "Rectangular: anywhere within, with equal chance",
        Spread::Triangular => "Triangular: most often in the middle, never beyond",
        Spread::Normal => "Normal: ± is two standard deviations, one in 22 lies beyond",
    }
}

/// Shows the list.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    listed: &[Tolerated],
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    ui.take_available_width();
    ui.add_space(space::S);
    let heading = RichText::new("How true each is made").font(theme::strong());
    ui.add(Label::new(heading).selectable(false));
    theme::remark(
        ui,
        "Everything that is cut or bought misses by its ±. The wanted action and the filed slots \
         stay; the crest height is what follows.",
    );
    ui.add_space(space::S);
    seat(ui, &study.design, commands);
    ScrollArea::vertical().id_salt("tolerances").auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        ui.spacing_mut().item_spacing.y = 0.0;
        for (heading, is_later) in
            [("Cannot be set right later", false), ("Can be set right later", true)]
        {
            let group: Vec<&Tolerated> =
                listed.iter().filter(|one| one.later.is_some() == is_later).collect();
            if group.is_empty() {
                continue;
            }
            ui.add_space(space::S);
            let words = RichText::new(heading).font(theme::heading()).color(theme::palette(ui).dim);
            ui.add(Label::new(words).selectable(false));
            for one in group {
                row(ui, study, one, style, view, commands);
            }
        }
        ui.add_space(space::M);
    });
}

/// Whether pitch and overstand come from one seat, or are made each by itself.
fn seat(ui: &mut Ui, design: &Design, commands: &mut Vec<Command>) {
    if design.joint.kind == JointKind::Through {
        return;
    }
    let keys = [Dim::Pitch, Dim::Overstand].map(|dim| dim.info().key);
    let is_measured =
        keys.iter().any(|key| matches!(design.marks.get(*key), Some(Provenance::Measured { .. })));
    let mut is_one = from_seat(design);
    let text = "Pitch and overstand come from one seat";
    let response =
        ui.add_enabled(!is_measured, egui::Checkbox::new(&mut is_one, text)).on_hover_text(
            "They then miss together, by the seat's heights at mouth and inner end; else each by \
             a ± of its own.",
        );
    let response = response
        .on_disabled_hover_text("One of them is measured, and counts by itself with what is left.");
    if response.changed() {
        let mut changed = design.clone();
        for key in keys {
            if is_one {
                changed.tolerances.remove(key);
            } else {
                changed.tolerances.insert(key.to_owned(), Tolerance::default());
            }
        }
        let name = if is_one {
            "Pitch and overstand from one seat"
        } else {
            "Pitch and overstand each by itself"
        };
        commands.push(Command::edit(name, changed));
    }
}

/// A design that says something else of one tolerance. An entry that says nothing is taken out,
/// but for pitch and overstand, of which it says that they do not come from the seat.
fn said(design: &Design, source: Source, change: impl FnOnce(&mut Tolerance)) -> Design {
    let mut changed = design.clone();
    let text = source.to_string();
    let entry = changed.tolerances.entry(text.clone()).or_default();
    change(entry);
    let says_nothing = *entry == Tolerance::default();
    let is_by_itself = matches!(source, Source::Dim(key)
        if matches!(key.dim, Dim::Pitch | Dim::Overstand));
    if says_nothing && !is_by_itself {
        changed.tolerances.remove(&text);
    }
    changed
}

/// The design with another ± of something.
pub(super) fn held_to(design: &Design, source: Source, plus_minus: f64) -> Design {
    let usual = source.usual().zip(Tolerated::making(design, source));
    said(design, source, |said| {
        let is_usual = usual.is_some_and(|(usual, making)| usual.made(making) == plus_minus);
        said.plus_minus = (!is_usual).then_some(plus_minus);
    })
}

/// One of them: mark, name, ±, how it is made, its shape, back to usual.
fn row(
    ui: &mut Ui,
    study: &Study,
    one: &Tolerated,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let (palette, design) = (theme::palette(ui), &study.design);
    let name = one.source.name(design);
    let field = Field::Extra(Extra::Tolerance(one.source));
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), space::HIT), Sense::hover());
    let is_pointed_at = ui.rect_contains_pointer(rect);
    if is_pointed_at {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    let (mark, rest) = rect.split_left_right_at_x(rect.left() + space::XL);
    if let Source::Dim(key) = one.source {
        provenance::show(ui, mark, design, key, is_pointed_at, style, view, commands);
    }
    let right = valued(style) + MADE + SHAPE + BACK + 3.0 * space::S;
    let (name_rect, cells) = rest.split_left_right_at_x(rest.right() - right);
    let mut words =
        egui::text::LayoutJob::simple_singleline(name.clone(), theme::text(), palette.ink);
    words.wrap = egui::text::TextWrapping::truncate_at_width(name_rect.width() - space::S);
    let words = ui.painter().layout_job(words);
    let at = name_rect.left_center() + vec2(space::S, -words.size().y / 2.0);
    ui.painter().galley(at, words, palette.ink);
    let spoken = format!("{name}: {}", told(one, style));
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
    ui.interact(name_rect, ui.scope_id().with(("name of", one.source.to_string())), Sense::hover())
        .on_hover_text(&spoken);
    let builder = UiBuilder::new()
        .id_salt(one.source.to_string())
        .max_rect(cells)
        .layout(Layout::left_to_right(Align::Center));
    let mut cells = ui.new_child(builder);
    let ui_row = &mut cells;
    ui_row.spacing_mut().item_spacing.x = space::S;
    if one.basis == Basis::Measured {
        measured(ui_row, one, style);
    } else {
        plus_minus(ui_row, study, one, &name, style, view, commands);
        made(ui_row, design, one, &name, style, commands);
    }
    shape(ui_row, design, one, &name, commands);
    let entry = design.tolerances.get(&one.source.to_string());
    if entry.is_some_and(|entry| *entry != Tolerance::default()) {
        let back = ui_row.add_sized(vec2(BACK, BACK), egui::Button::new("×").frame(false));
        let says = format!("Back to usual: {}", lower(&name));
        if back.accessible_name(&says).on_hover_text(&says).clicked() {
            view.drafts.remove(&field);
            let usual = said(design, one.source, |said| *said = Tolerance::default());
            commands.push(Command::edit(format!("Usual tolerance of {}", lower(&name)), usual));
        }
    }
    field::refusal(ui, field, view);
}

/// All that is said of one of them.
fn told(one: &Tolerated, style: LengthStyle) -> String {
    let plus_minus = show_plus_minus(one.source, one.plus_minus, style);
    let basis = match one.basis {
        Basis::Usual(making) => format!("usual for {}", making.name().to_lowercase()),
        Basis::Given => "as typed".to_owned(),
        Basis::Measured => "the error of its reading".to_owned(),
    };
    let later = one.later.map_or("cannot be set right later".to_owned(), |later| {
        format!("can be set right later {}", later.show())
    });
    format!("{plus_minus}, {}, {basis}; {later}", shape_name(one.spread).to_lowercase())
}

/// Of what is measured the error of its reading is left.
fn measured(ui: &mut Ui, one: &Tolerated, style: LengthStyle) {
    let palette = theme::palette(ui);
    let width = valued(style) + MADE + space::S;
    let text = format!("{} measured", show_plus_minus(one.source, one.plus_minus, style));
    let words = Label::new(RichText::new(text).color(palette.ink)).selectable(false);
    ui.add_sized(vec2(width, space::HIT), words).on_hover_text(
        "The error of the reading is what is left. The mark at the left changes it.",
    );
}

/// The field of a ±, with its unit.
fn plus_minus(
    ui: &mut Ui,
    study: &Study,
    one: &Tolerated,
    name: &str,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let source = one.source;
    let put = |design: &mut Design, value: f64| *design = held_to(design, source, value);
    let slot = Slot {
        extra: Extra::Tolerance(source),
        name: format!("Tolerance of {}", lower(name)),
        value: one.plus_minus,
        unit: source.unit(),
        digits: digits(one.plus_minus),
        put: &put,
    };
    let style = narrow(style);
    slot.show(ui, study, style, view, commands);
    let sign = values::unit_sign(source.unit(), style);
    let size = vec2(space::UNIT - space::S, space::HIT);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let (font, colour) = (theme::text(), theme::palette(ui).dim);
    ui.painter().text(rect.left_center(), Align2::LEFT_CENTER, sign, font, colour);
}

/// How it is made: another way has another usual ± and shape.
fn made(
    ui: &mut Ui,
    design: &Design,
    one: &Tolerated,
    name: &str,
    style: LengthStyle,
    commands: &mut Vec<Command>,
) {
    let (Some(usual), Some(making)) = (one.source.usual(), Tolerated::making(design, one.source))
    else {
        return;
    };
    let word = |making: Making| match making {
        Making::Hand => "By hand",
        Making::Jig => "Jig",
        Making::Bought => "Bought",
    };
    let response = ComboBox::from_id_salt("made")
        .selected_text(word(making))
        .width(MADE)
        .show_ui(ui, |ui| {
            for other in Making::ALL {
                let plus_minus = show_plus_minus(one.source, usual.made(other), style);
                let text = format!("{}: {plus_minus}", other.name());
                let tip = shape_words(other.spread());
                if ui.selectable_label(other == making, text).on_hover_text(tip).clicked() {
                    let making = (other != usual.making).then_some(other);
                    let changed = said(design, one.source, |said| {
                        *said = Tolerance { making, ..Tolerance::default() };
                    });
                    let step = format!("{}: {}", name, other.name().to_lowercase());
                    commands.push(Command::edit(step, changed));
                }
            }
        })
        .response;
    response
        .accessible_name(format!("How made, {}: {}", lower(name), making.name()))
        .on_hover_text(making.name());
}

/// How the error lies within its ±.
fn shape(ui: &mut Ui, design: &Design, one: &Tolerated, name: &str, commands: &mut Vec<Command>) {
    let palette = theme::palette(ui);
    let blank = egui::Button::new("").min_size(vec2(SHAPE, BACK));
    let (response, _) = egui::containers::menu::MenuButton::from_button(blank).ui(ui, |ui| {
        for other in Spread::ALL {
            let chosen = ui.selectable_label(other == one.spread, shape_words(other));
            if chosen.clicked() {
                let changed = said(design, one.source, |said| said.spread = Some(other));
                let shape = shape_name(other).to_lowercase();
                commands.push(Command::edit(format!("Error of {}: {shape}", lower(name)), changed));
                ui.close();
            }
        }
    });
    let place: Rect = response.rect;
    marks::spread(ui.painter(), place.center(), one.spread, palette.ink);
    let shape = shape_name(one.spread).to_lowercase();
    response
        .accessible_name(format!("Shape of the error, {}: {shape}", lower(name)))
        .on_hover_text(shape_words(one.spread));
}
