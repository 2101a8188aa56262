//! Each string: what it is tuned to, how it is made, what it pulls and presses. What is
//! given is edited in place; a usual set can be put on as a whole.

use egui::{
    Align, Align2, ComboBox, Label, Layout, Rect, RichText, ScrollArea, Sense, TextEdit, Ui,
    UiBuilder, vec2,
};
use overstand_core::design::{CoreSection, Design, InstrumentString, Material, Note, StringMake};
use overstand_core::dimension::{Dim, Key};
use overstand_core::layout::{Bend, Layout as Laid, StringLine};
use overstand_core::strings::gauges::{SETS, Set, wound};
use overstand_core::strings::{Pull, Strings};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, show_number, show_signed};
use overstand_core::working::{Figure, OfString, Together};

use super::{field, tips, working};
use crate::command::Command;
use crate::theme::{self, space};
use crate::view::{Draft, Extra, Field, View};
use crate::{drive, marks, values};

/// The columns: heading and width.
const COLUMNS: [(&str, f32); 14] = [
    ("String", 40.0),
    ("Tuned to", 64.0),
    ("Sounds", 64.0),
    ("Gauge", 92.0),
    ("Make", 98.0),
    ("Material", 110.0),
    ("Core", 92.0),
    ("Pull", 48.0),
    ("Of strength", 62.0),
    ("Stretch", 52.0),
    ("Bend at nut", 50.0),
    ("Bend at saddle", 54.0),
    ("On nut", 46.0),
    ("On saddle", 52.0),
];
/// Width of the whole table.
pub(crate) const WIDTH: f32 = 924.0;
/// Decimals of a bend in degrees.
const BEND_DIGITS: usize = 1;

/// Where the cells of one row stand.
struct Row {
    rect: Rect,
    left: f32,
    column: usize,
}

impl Row {
    fn new(ui: &mut Ui, height: f32) -> Self {
        let (rect, _) = ui.allocate_exact_size(vec2(WIDTH, height), Sense::hover());
        Self { rect, left: rect.left(), column: 0 }
    }

    /// The next cell.
    fn next(&mut self) -> Rect {
        let width = COLUMNS.get(self.column).map_or(0.0, |(_, width)| *width);
        let cell = Rect::from_min_size(
            egui::pos2(self.left, self.rect.top()),
            vec2(width - space::S, self.rect.height()),
        );
        self.left += width;
        self.column += 1;
        cell
    }

    /// A cell of plain text, to the right as numbers are.
    fn text(&mut self, ui: &mut Ui, text: &str, name: &str) -> Rect {
        let cell = self.next();
        let colour = theme::palette(ui).ink;
        let builder = UiBuilder::new().max_rect(cell).layout(Layout::right_to_left(Align::Center));
        let label = Label::new(RichText::new(text).color(colour)).selectable(false).truncate();
        ui.new_child(builder).add(label).accessible_name(format!("{name}: {text}"));
        cell
    }
}

/// Shows the table in the room that is left.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    layout: &Laid,
    strings: &Strings,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let lacks = study.design.strings.iter().any(|one| one.note.is_none() || one.gauge.is_none());
    sets(ui, &study.design, lacks, commands);
    ScrollArea::both().id_salt("strings").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        head(ui);
        for (index, one) in study.design.strings.iter().enumerate() {
            let report = strings.each.get(index).and_then(|report| report.pull.as_ref());
            let Some(line) = layout.strings.get(index) else { continue };
            row(ui, study, index, one, line, report, style, view, commands);
        }
        ui.add_space(space::S);
        together(ui, strings, view);
    });
}

/// Said where a string has no note or no gauge.
const LACKS: &str = "Pull and pitch are not known of a string without note and gauge: type them \
                     below";

/// Sets that fit, and what is lacking.
fn sets(ui: &mut Ui, design: &Design, lacks: bool, commands: &mut Vec<Command>) {
    let palette = theme::palette(ui);
    let fitting: Vec<&Set> = SETS.iter().filter(|set| set.fits(design)).collect();
    ui.horizontal_wrapped(|ui| {
        let count = design.strings.len();
        let text = match (lacks, fitting.is_empty()) {
            (false, false) => "Usual sets, notes and all:".to_owned(),
            (false, true) => format!("There is no usual set of {count} strings."),
            (true, false) => format!("{LACKS}, or begin with a usual set."),
            (true, true) => format!("{LACKS}. There is no usual set of {count} strings."),
        };
        let colour = if lacks { palette.ink } else { palette.dim };
        ui.add(Label::new(RichText::new(text).color(colour)).selectable(false));
        if fitting.is_empty() {
            return;
        }
        ui.menu_button("Put on a set", |ui| {
            for set in fitting {
                if ui.button(set.name).clicked() {
                    let mut strung = design.clone();
                    set.put_on(&mut strung);
                    commands.push(Command::edit(format!("Put on: {}", set.name), strung));
                    ui.close();
                }
            }
        });
    });
}

fn head(ui: &mut Ui) {
    let mut row = Row::new(ui, space::HIT);
    let palette = theme::palette(ui);
    for (index, (name, _)) in COLUMNS.iter().enumerate() {
        let cell = row.next();
        let unit = match index {
            2 => "Hz",
            7 | 12 | 13 => "N",
            8 | 9 => "%",
            10 | 11 => "°",
            _ => "",
        };
        let text = if unit.is_empty() { (*name).to_owned() } else { format!("{name} {unit}") };
        let wraps = ui.painter().layout(text, theme::label(), palette.dim, cell.width());
        let is_number = !matches!(index, 0 | 1 | 4 | 5);
        let x = if is_number { cell.right() - wraps.size().x } else { cell.left() };
        ui.painter().galley(egui::pos2(x, cell.bottom() - wraps.size().y), wraps, palette.dim);
        let response = ui.interact(cell, ui.scope_id().with(("heading", index)), Sense::hover());
        tips::on_hover(response, name);
    }
}

/// What stands over the columns.
#[cfg(test)]
pub(super) fn headings() -> impl Iterator<Item = &'static str> {
    COLUMNS.iter().map(|(name, _)| *name)
}

#[expect(clippy::too_many_arguments, reason = "a row is where all of it meets")]
fn row(
    ui: &mut Ui,
    study: &Study,
    index: usize,
    one: &InstrumentString,
    line: &StringLine,
    pull: Option<&Pull>,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let mut row = Row::new(ui, space::HIT);
    let name = &one.name;
    let cell = row.next();
    let mut own =
        egui::text::LayoutJob::simple_singleline(name.clone(), theme::strong(), palette.ink);
    own.wrap = egui::text::TextWrapping::truncate_at_width(cell.width());
    let own = ui.painter().layout_job(own);
    ui.painter().galley(cell.left_center() - vec2(0.0, own.size().y / 2.0), own, palette.ink);

    let tuning = Field::Extra(Extra::Tuning(index));
    note(ui, row.next(), study, index, one, tuning, view, commands);
    let sounds = one.note.map_or_else(dash, |note| show_number(note.hertz(), 2));
    let place = row.text(ui, &sounds, &format!("{name} sounds at, Hz"));
    if let Some(Note::Hertz(_)) = one.note {
        let nearest = one.note.map(Note::nearest);
        ui.interact(place, egui::Id::unique(("sounds", index)), Sense::hover())
            .on_hover_text(nearest.map_or_else(String::new, cents_words));
    } else if one.note.is_some() {
        let place = place.shrink2(vec2(0.0, space::S));
        let figure = Figure::String(index, OfString::Hertz);
        let spoken = format!("{name} sounds at, Hz: {sounds}");
        working::opener(ui, place, "strings", figure, &spoken, view);
    }

    let gauge = Key { dim: Dim::Gauge, index };
    let core = Key { dim: Dim::Core, index };
    number(ui, row.next(), study, gauge, style, view, commands);
    made(ui, row.next(), study, index, one, commands);
    material(ui, row.next(), study, index, one, commands);
    if matches!(one.make, StringMake::Wound { .. }) {
        number(ui, row.next(), study, core, style, view, commands);
    } else {
        row.text(ui, "–", &format!("{name}, core"));
    }

    let mut opens = |ui: &Ui, cell: Rect, of: OfString, text: &str, what: &str| {
        (text != dash()).then(|| {
            let place = cell.shrink2(vec2(0.0, space::S));
            let spoken = format!("{name} {what}: {text}");
            working::opener(ui, place, "strings", Figure::String(index, of), &spoken, view)
        })
    };
    let newtons = |value: Option<f64>| value.map_or_else(dash, |value| show_number(value, 1));
    let bend = |bend: Option<Bend>| {
        bend.map_or_else(dash, |bend| show_number(bend.to_degrees(), BEND_DIGITS))
    };
    let per_cent = |part: Option<f64>, digits| {
        part.map_or_else(dash, |part| show_number(100.0 * part, digits))
    };
    let saddle = pull.and_then(|pull| pull.saddle);
    let cells = [
        (OfString::Pull, newtons(pull.map(|pull| pull.tension)), "pulls, N"),
        (OfString::Load, per_cent(pull.map(|pull| pull.load), 0), "bears, % of its strength"),
        (OfString::Strain, per_cent(pull.map(|pull| pull.strain), 2), "is stretched by, %"),
        (OfString::NutBreak, bend(Some(line.nut_break)), "bends over the nut, degrees"),
        (OfString::SaddleBreak, bend(line.saddle_break), "bends over the saddle, degrees"),
        (OfString::OnNut, newtons(pull.map(|pull| pull.nut_force)), "presses the nut, N"),
        (OfString::OnSaddle, newtons(saddle.map(|forces| forces.down)), "presses the saddle, N"),
    ];
    for (of, text, what) in cells {
        let place = row.text(ui, &text, &format!("{name} {what}"));
        let response = opens(ui, place, of, &text, what);
        if let (OfString::Load, Some(pull), Some(response)) = (of, pull, response) {
            let state = pull.state(&study.design);
            let at = place.left_center() + vec2(space::M, 0.0);
            marks::state(ui.painter(), at, state, palette.state(state));
            let id = egui::Id::unique(("load", index));
            let told = format!("{name} bears its pull and is tight: {}", marks::state_word(state));
            let mark = Rect::from_center_size(at, egui::Vec2::splat(space::L));
            ui.interact(mark, id, Sense::hover())
                .widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &told));
            response.on_hover_ui(|ui| load_tip(ui, pull, style));
        }
    }
    for refused in [tuning, Field::InTable(gauge), Field::InTable(core)] {
        field::refusal(ui, refused, view);
    }
}

fn dash() -> String {
    "–".to_owned()
}

/// Stress, strength, and how tight it is, in numbers.
fn load_tip(ui: &mut Ui, pull: &Pull, style: LengthStyle) {
    ui.label(format!(
        "{:.0} N/mm² of the {:.0} N/mm² at which it breaks.",
        pull.stress, pull.wire.strength
    ));
    let give = values::show(pull.give, Unit::Length, 1, style);
    ui.label(format!("A pluck of 1 N moves it by {give}: the more, the slacker."));
}

/// A note by name with its cents.
fn cents_words(note: Note) -> String {
    match note {
        Note::Named { letter, sign, octave, cents } if cents != 0.0 => {
            let bare = Note::Named { letter, sign, octave, cents: 0.0 };
            format!("{} {} cents", bare.show(), show_signed(cents, 1))
        }
        _ => note.show(),
    }
}

/// A field for a gauge or a core.
fn number(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    key: Key,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let name = format!("{}, in the table", key.name(&study.design));
    let typed = field::place(ui, rect, study, key, Field::InTable(key), &name, style, view);
    if let Some(value) = typed {
        commands.push(Command::Set { key, value });
    }
}

/// A field for what a string is tuned to: a note, with cents, or hertz; empty for not known.
#[expect(clippy::too_many_arguments, reason = "a field is where all of it meets")]
fn note(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    index: usize,
    one: &InstrumentString,
    field: Field,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let shown = one.note.map_or_else(String::new, Note::show);
    let mut text =
        view.drafts.get(&field).map_or_else(|| shown.clone(), |draft| draft.text.clone());
    let edit_note = TextEdit::singleline(&mut text)
        .id(field::id(field))
        .margin(egui::Margin::symmetric(space::S as i8, 0))
        .min_size(vec2(rect.width(), rect.height() - 2.0))
        .desired_width(rect.width() - 2.0 * space::S)
        .align(Align2::LEFT_CENTER)
        .hint_text("note")
        .char_limit(24);
    let name = format!("Tuning of string {} ({})", index + 1, one.name);
    let response = ui.place(rect.shrink2(vec2(0.0, 1.0)), edit_note).accessible_name(&name);
    if response.gained_focus() {
        let draft = Draft { was: shown.clone(), text: shown, refused: None };
        let draft = view.drafts.entry(field).or_insert(draft);
        field::select_all(ui, field, draft);
    }
    if response.changed() {
        let draft = view.drafts.entry(field).or_default();
        draft.text = text;
        draft.refused = None;
    }
    if !response.lost_focus() {
        return;
    }
    let escaped = ui.input(|input| input.key_pressed(egui::Key::Escape));
    let Some(draft) = view.drafts.get_mut(&field) else { return };
    if escaped || draft.text == draft.was {
        view.drafts.remove(&field);
        return;
    }
    let typed = draft.text.trim();
    let note = if typed.is_empty() { Ok(None) } else { typed.parse::<Note>().map(Some) };
    let mut design = study.design.clone();
    match (note, design.strings.get_mut(index)) {
        (Ok(note), Some(string)) => {
            string.note = note;
            match design.faults().first() {
                Some(fault) => draft.refused = Some(drive::fault_words(fault)),
                None => {
                    view.drafts.remove(&field);
                    commands.push(Command::edit(format!("Tune string {}", index + 1), design));
                }
            }
        }
        (Err(why), _) => draft.refused = Some(values::capital(&why.to_string())),
        (Ok(_), None) => {}
    }
}

/// Plain or wound, and on what core.
fn made(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    index: usize,
    one: &InstrumentString,
    commands: &mut Vec<Command>,
) {
    let (shown, section, core) = match &one.make {
        StringMake::Plain { .. } => ("Plain".to_owned(), None, None),
        StringMake::Wound { section, core_material, inner, .. } => {
            let layers = match inner.len() {
                0 => String::new(),
                more => format!(" × {}", more + 1),
            };
            let core = match section {
                CoreSection::Round => "round",
                CoreSection::Hexagonal => "hex",
            };
            (format!("Wound{layers}, {core}"), Some(*section), Some(*core_material))
        }
    };
    let put = |make: StringMake| {
        let mut design = study.design.clone();
        if let Some(string) = design.strings.get_mut(index) {
            string.make = make;
        }
        Command::edit(format!("Set how string {} is made", index + 1), design)
    };
    let name = format!("How string {} ({}) is made", index + 1, one.name);
    let tip = match &one.make {
        StringMake::Plain { .. } => "One wire or filament".to_owned(),
        StringMake::Wound { section, core_material, .. } => {
            let of = core_material.name().to_lowercase();
            format!("Wound on a {} core of {of}", section.name())
        }
    };
    combo(ui, rect, ("made", index), &shown, &name, &tip, |ui| {
        if ui.selectable_label(section.is_none(), "Plain").clicked() && section.is_some() {
            let material = core.unwrap_or_default();
            commands.push(put(StringMake::Plain { material }));
        }
        for other in CoreSection::ALL {
            let text = format!("Wound on a {} core", other.name());
            if !ui.selectable_label(section == Some(other), text).clicked()
                || section == Some(other)
            {
                continue;
            }
            let mut make = match &one.make {
                StringMake::Plain { material } => {
                    let gauge = one.gauge.unwrap_or(USUAL_GAUGE);
                    wound(gauge, *material)
                }
                made => made.clone(),
            };
            if let StringMake::Wound { section, .. } = &mut make {
                *section = other;
            }
            commands.push(put(make));
        }
        if let StringMake::Wound { core_material, .. } = one.make {
            ui.separator();
            for other in [Material::Steel, Material::Stainless, Material::Nylon, Material::Gut] {
                let text = format!("Core of {}", other.name().to_lowercase());
                let is_chosen = core_material == other;
                if ui.selectable_label(is_chosen, text).clicked() && !is_chosen {
                    let mut make = one.make.clone();
                    if let StringMake::Wound { core_material, .. } = &mut make {
                        *core_material = other;
                    }
                    commands.push(put(make));
                }
            }
        }
    });
}

/// A wound string of unknown gauge is taken for one in the middle of the usual ones, mm.
const USUAL_GAUGE: overstand_core::units::Length = overstand_core::units::Length::mm(0.9);

/// What a plain string, or the outermost wrap of a wound one, is made of.
fn material(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    index: usize,
    one: &InstrumentString,
    commands: &mut Vec<Command>,
) {
    let (StringMake::Plain { material: chosen } | StringMake::Wound { wrap: chosen, .. }) =
        one.make;
    let name = format!("Material of string {} ({})", index + 1, one.name);
    combo(ui, rect, ("material", index), chosen.name(), &name, chosen.name(), |ui| {
        for other in Material::ALL {
            if ui.selectable_label(other == chosen, other.name()).clicked() && other != chosen {
                let mut design = study.design.clone();
                if let Some(string) = design.strings.get_mut(index) {
                    let (StringMake::Plain { material } | StringMake::Wound { wrap: material, .. }) =
                        &mut string.make;
                    *material = other;
                }
                commands.push(Command::edit(
                    format!("Set the material of string {}", index + 1),
                    design,
                ));
            }
        }
    });
}

fn combo(
    ui: &mut Ui,
    rect: Rect,
    id: (&str, usize),
    shown: &str,
    name: &str,
    tip: &str,
    list: impl FnOnce(&mut Ui),
) {
    let builder = UiBuilder::new()
        .max_rect(rect.shrink2(vec2(0.0, 1.0)))
        .layout(Layout::left_to_right(Align::Center));
    let mut cell = ui.new_child(builder);
    cell.spacing_mut().button_padding = vec2(space::S, 0.0);
    cell.spacing_mut().interact_size.y = rect.height() - 2.0;
    let response = ComboBox::from_id_salt(id)
        .width(rect.width())
        .selected_text(shown)
        .truncate()
        .show_ui(&mut cell, list)
        .response;
    response.accessible_name(name).on_hover_text(tip);
}

/// What they do together, each figure with its working.
fn together(ui: &mut Ui, strings: &Strings, view: &mut View) {
    let palette = theme::palette(ui);
    let forward = strings.saddle_forward;
    let push = if forward.is_some_and(|forward| forward < 0.0) {
        "push toward the nut"
    } else {
        "push toward the tail"
    };
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = space::M;
        for (together, words, force) in [
            (Together::Pull, "Together they pull", strings.pull),
            (Together::OnNut, "on the nut", strings.nut_force),
            (Together::OnSaddle, "on the bridge", strings.saddle_down),
            (Together::Forward, push, forward.map(f64::abs)),
        ] {
            let Some(force) = force else { continue };
            ui.add(Label::new(RichText::new(words).color(palette.dim)).selectable(false));
            let (text, figure) = (format!("{force:.0} N"), Figure::Together(together));
            let spoken = format!("{words} {text}");
            working::figure(ui, &text, theme::strong(), palette.ink, figure, &spoken, view);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_columns_fill_the_width() {
        let sum: f32 = COLUMNS.iter().map(|(_, width)| width).sum();
        assert!((WIDTH - 20.0..=WIDTH).contains(&sum), "{sum}");
    }

    #[test]
    fn a_frequency_is_told_as_a_note() {
        assert_eq!(cents_words(Note::Hertz(82.4).nearest()), "E2 −0.1 cents");
        assert_eq!(cents_words("E2".parse().unwrap()), "E2");
    }
}
