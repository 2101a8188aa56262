//! The strings: one note over the frets, how hard it all can be played, and below that what
//! each string pulls, the best relief, whether the notes are true.

use egui::{Frame, Rect, Stroke, Ui, vec2};
use overstand_core::strings::{Drawn, Played, Strings};
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use crate::canvas::swing::{self, SwingChart};
use crate::command::Command;
use crate::marks;
use crate::pages::{child, unclosed};
use crate::panels::{best_relief, headroom_map, how_hard, string_table, true_notes};
use crate::theme::{self, space};
use crate::view::{StringSheet, View};

/// What is worked out of one study, kept until it changes.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    of: Option<u64>,
    /// None of a design that does not close.
    strings: Option<Strings>,
    /// Note by note, drawn to a side or to either.
    played: (Option<Option<Drawn>>, Vec<Vec<Option<Played>>>),
    swing: SwingChart,
    relief: best_relief::Worked,
    notes: true_notes::Worked,
}

impl Worked {
    fn update(&mut self, study: &Study, revision: u64, view: &mut View) {
        if self.of != Some(revision) {
            self.of = Some(revision);
            self.strings = study.layout().map(|layout| Strings::of(&study.design, layout));
            self.played.0 = None;
        }
        let (Some(strings), Some(layout)) = (&self.strings, study.layout()) else {
            return;
        };
        // another design may have fewer of both
        let shown = &mut view.strings;
        shown.string = shown.string.min(strings.each.len().saturating_sub(1));
        shown.stop = shown.stop.min(layout.positions.len().saturating_sub(1));
        if self.played.0 != Some(shown.drawn) {
            let played = strings.played(&study.design, layout, shown.drawn);
            self.played = (Some(shown.drawn), played);
        }
        self.swing.update(study, revision, *shown);
    }
}

/// Shows the page; `side` is the frame of what stands beside it.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    side: Frame,
    worked: &mut Worked,
    view: &mut View,
) -> Vec<Command> {
    worked.update(study, revision, view);
    let (Some(strings), Some(layout)) = (&worked.strings, study.layout()) else {
        let why = "Nothing can be said about the strings as long as the design does not close. \
                   The panel on the right says what is wrong.";
        return unclosed(ui, study, revision, style, side, why, view);
    };
    let mut commands = Vec::new();
    let palette = theme::palette(ui);
    let all = ui.available_rect_before_wrap();
    ui.painter().rect_filled(all, 0.0, palette.paper);
    let [part, least, most] = space::SWING;
    let high = (all.height() * part).clamp(least, most);
    let (swing_rect, rest) = all.split_top_bottom_at_y(all.top() + high);
    swing::show(ui, swing_rect, study, &worked.swing, style, view);
    ui.painter().hline(all.x_range(), rest.top(), Stroke::new(1.0, palette.hairline));

    let inner = rest.shrink2(vec2(space::XL, space::S));
    let mut below = ui.new_child(egui::UiBuilder::new().id_salt("below").max_rect(inner));
    let ui = &mut below;
    let pull = strings.each.get(view.strings.string).and_then(|string| string.pull.as_ref());
    how_hard::show(ui, study, pull, style, view, &mut commands);
    let high = (ui.available_height() * space::MAP).max(space::CANVAS);
    let (_, played) = &worked.played;
    headroom_map::show(ui, study, layout, played, high, style, view);
    ui.add_space(space::S);
    let mut sheet = |ui: &mut Ui, which: StringSheet, view: &mut View| match which {
        StringSheet::Pull => {
            string_table::show(ui, study, layout, strings, style, view, &mut commands);
        }
        StringSheet::Relief => {
            worked.relief.update(study, revision, style, view.drag.is_some());
            best_relief::show(ui, study, &worked.relief, style, view, &mut commands);
        }
        StringSheet::Notes => {
            worked.notes.update(study, layout, strings, revision, style);
            true_notes::show(ui, study, layout, strings, &worked.notes, style, view, &mut commands);
        }
    };
    if ui.available_width() >= space::THREE_SHEETS {
        side_by_side(ui, view, &mut sheet);
    } else {
        let shown = view.strings.sheet;
        if let Some(chosen) = marks::tabs(ui, &StringSheet::ALL, StringSheet::name, shown) {
            view.strings.sheet = chosen;
        }
        sheet(ui, view.strings.sheet, view);
    }
    commands
}

/// All sheets beside each other, the table as wide as it is.
fn side_by_side(
    ui: &mut Ui,
    view: &mut View,
    sheet: &mut impl FnMut(&mut Ui, StringSheet, &mut View),
) {
    let all = ui.available_rect_before_wrap();
    let narrow = (all.width() - string_table::WIDTH - 2.0 * space::XL) / 2.0;
    let mut left = all.left();
    for which in StringSheet::ALL {
        let width = if which == StringSheet::Pull { string_table::WIDTH } else { narrow };
        let rect = Rect::from_min_size(egui::pos2(left, all.top()), vec2(width, all.height()));
        let mut column = child(ui, which.name(), rect);
        let name = egui::RichText::new(which.name()).font(theme::strong());
        column.add(egui::Label::new(name).selectable(false));
        sheet(&mut column, which, view);
        left += width + space::XL;
    }
}
