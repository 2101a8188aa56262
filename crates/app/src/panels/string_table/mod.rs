//! Each string: what it is tuned to, how it is made, what it pulls and presses. What is
//! given is edited in place; a usual set can be put on as a whole.

mod cells;

use egui::{Align, Label, Layout, Rect, RichText, ScrollArea, Sense, Ui, UiBuilder, vec2};
use overstand_core::design::{Design, InstrumentString, Note, StringMake};
use overstand_core::dimension::{Dim, Key};
use overstand_core::layout::{Bend, Layout as Laid, StringLine};
use overstand_core::strings::gauges::{SETS, Set};
use overstand_core::strings::{Pull, Strings};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, show_number, show_signed};
use overstand_core::working::{Figure, OfString, Together};

use super::{field, tips, working};
use crate::command::Command;
use crate::theme::{self, space};
use crate::view::{Extra, Field, View};
use crate::{marks, values};
use cells::{made, material, note, number};

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
