//! The map of string × fret: how far or how hard each note can be plucked before it touches.

use egui::style::ScrollStyle;
use egui::{
    Align, Align2, Key as Press, Label, Layout, Rect, RichText, Role, ScrollArea, Sense, Stroke,
    Ui, WidgetInfo, pos2, vec2,
};
use overstand_core::layout::Layout as Laid;
use overstand_core::strings::{Drawn, Most, Played};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, MM_PER_INCH, Unit, show_number};
use overstand_core::verdict::State;
use overstand_core::working::Figure;

use super::{tips, working};
use crate::marks;
use crate::theme::{self, Palette, space, stroke};
use crate::values;
use crate::view::{StringsView, View};

/// Decimals of a travel and of a force that mean something.
const TRAVEL_DIGITS: usize = 2;
const FORCE_DIGITS: usize = 1;
/// Most that the names take, and least of a cell.
const NAME: f32 = 46.0;
const CELL: f32 = 34.0;
/// What stands over the words at the end.
const TOUCHES: &str = "first touches";
/// Width of the mark in a cell, and room before it and behind the number: the mark stands
/// nearer to its own number than to the one before.
const MARK: f32 = 5.0;
const INSET: f32 = 2.5;
/// Height of a row: the first where there are many strings.
const ROWS: [f32; 2] = [18.0, 20.0];
const MANY: usize = 9;

/// What the maker counts along the board.
pub(crate) fn fret_word(layout: &Laid) -> &'static str {
    if layout.is_fretted() { "fret" } else { "semitone" }
}

/// Where a string is stopped: `open`, `stopped at fret 3`.
pub(crate) fn note_words(stop: usize, layout: &Laid) -> String {
    match stop {
        0 => "open".to_owned(),
        stop => format!("stopped at {} {stop}", fret_word(layout)),
    }
}

/// Where it touches first: `fret 14`.
pub(crate) fn touch_words(most: Most, layout: &Laid) -> String {
    format!("{} {}", fret_word(layout), most.fret)
}

/// How much a note takes, in the unit that is shown, with the unit.
fn amount(one: &Played, newtons: bool, style: LengthStyle) -> String {
    match (newtons, one.force) {
        (true, Some(force)) => format!("{} N", show_number(force, FORCE_DIGITS)),
        (true, None) => "–".to_owned(),
        (false, _) => values::show(one.most.most, Unit::Length, TRAVEL_DIGITS, style),
    }
}

/// The same as it stands in a cell.
fn cell_text(one: &Played, newtons: bool, style: LengthStyle) -> String {
    match (newtons, one.force) {
        (true, Some(force)) => show_number(force, FORCE_DIGITS),
        (true, None) => "–".to_owned(),
        // in thousandths, or a long board would not go into the window
        (false, _) if style.is_inch() => show_number(1000.0 * one.most.most / MM_PER_INCH, 0),
        (false, _) => values::parts(one.most.most, Unit::Length, TRAVEL_DIGITS, style).0,
    }
}

/// The unit of what stands in the cells.
fn cell_unit(newtons: bool, style: LengthStyle) -> &'static str {
    match (newtons, style.is_inch()) {
        (true, _) => "N",
        (false, true) => "0.001 in",
        (false, false) => values::unit_sign(Unit::Length, style),
    }
}

/// Where a row touches first, and stopped where.
fn touch_text(most: Most) -> String {
    match most.stop {
        0 => format!("{} open", most.fret),
        stop => format!("{} from {stop}", most.fret),
    }
}

/// How wide a label is.
fn wide(ui: &Ui, text: String) -> f32 {
    ui.painter().layout_no_wrap(text, theme::label(), theme::palette(ui).ink).size().x
}

/// How wide the numbers of the cells are.
fn widest(ui: &Ui, played: &[Vec<Option<Played>>], newtons: bool, style: LengthStyle) -> f32 {
    let texts = played.iter().flatten().flatten().map(|one| cell_text(one, newtons, style));
    // digits are all as wide as each other
    wide(ui, texts.max_by_key(|text| text.chars().count()).unwrap_or_default())
}

/// How wide the words at the end are.
fn words(ui: &Ui, played: &[Vec<Option<Played>>], newtons: bool) -> f32 {
    let rows = played.iter().filter_map(|row| hardest(row, newtons));
    let texts = rows.map(|one| touch_text(one.most)).chain([TOUCHES.to_owned()]);
    texts.map(|text| wide(ui, text)).fold(0.0, f32::max)
}

/// Of a row the note that takes the least.
fn hardest(row: &[Option<Played>], newtons: bool) -> Option<&Played> {
    let of = |one: &Played| if newtons { one.force } else { Some(one.most.most) };
    row.iter()
        .flatten()
        .filter(|one| of(one).is_some())
        .min_by(|a, b| of(a).unwrap_or(f64::NAN).total_cmp(&of(b).unwrap_or(f64::NAN)))
}

/// Shows the map with its switches; at most `high`, then it scrolls.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    layout: &Laid,
    played: &[Vec<Option<Played>>],
    high: f32,
    style: LengthStyle,
    view: &mut View,
) {
    let shown = &view.strings;
    let one = played.get(shown.string).and_then(|row| row.get(shown.stop)).and_then(Option::as_ref);
    over(ui, study, layout, one, style, view);
    let shown = &mut view.strings;
    let stops = played.iter().map(Vec::len).max().unwrap_or(0);
    if stops == 0 {
        let text = "There is one fret or none, so that nothing follows that a string could touch.";
        theme::remark(ui, text);
        return;
    }
    let names = study.design.strings.iter().map(|one| wide(ui, one.name.clone()));
    // those that are chosen are bold
    let name = (1.2 * names.fold(0.0, f32::max) + space::M).min(NAME);
    let words = words(ui, played, shown.newtons);
    let room = (ui.available_width() - name - words - space::M) / stops as f32;
    let widest = widest(ui, played, shown.newtons, style) + MARK + 2.0 * INSET;
    let row = if played.len() >= MANY { ROWS[0] } else { ROWS[1] };
    let grid = Grid { cell: room.max(CELL).max(widest), row, stops, name, words };
    // what does not fit is seen to go on
    if grid.width() > ui.available_width() {
        let solid = ScrollStyle::solid();
        ui.spacing_mut().scroll = ScrollStyle { foreground_color: true, ..solid };
    }
    ScrollArea::both().id_salt("map").max_height(high).auto_shrink([false, true]).show(ui, |ui| {
        let size = vec2(grid.width(), row * (played.len() + 1) as f32);
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        let told = format!("Headroom by string and {}", fret_word(layout));
        response.widget_info(|| WidgetInfo::labeled(Role::Table, true, &told));
        let before = (shown.string, shown.stop);
        choose(ui, &response, rect, grid, played.len(), shown);
        if before != (shown.string, shown.stop) {
            ui.scroll_to_rect(grid.place(rect, shown.string, shown.stop), None);
        }
        head(ui, rect, grid, shown.stop);
        for (index, row) in played.iter().enumerate() {
            grid.row(ui, rect, study, layout, index, row, style, *shown);
        }
        let at = response.hover_pos().and_then(|at| grid.cell_at(rect, at, played.len()));
        if let Some((string, stop)) = at
            && let Some(Some(one)) = played.get(string).and_then(|row| row.get(stop))
        {
            response.on_hover_ui_at_pointer(|ui| tip(ui, study, layout, (string, one), style));
        }
    });
}

/// What a cell means.
fn tip(
    ui: &mut Ui,
    study: &Study,
    layout: &Laid,
    (string, one): (usize, &Played),
    style: LengthStyle,
) {
    let name = study.design.strings.get(string).map_or("", |string| string.name.as_str());
    let note = note_words(one.most.stop, layout);
    ui.label(RichText::new(format!("{name}, {note}")).font(theme::strong()));
    let mm = |value| values::show(value, Unit::Length, TRAVEL_DIGITS, style);
    let force = one
        .force
        .map_or_else(String::new, |force| format!(" ({} N)", show_number(force, FORCE_DIGITS)));
    let side = match one.most.drawn {
        Drawn::Away => "drawn away from the board",
        Drawn::Toward => "pressed toward the board",
    };
    ui.label(format!(
        "Takes {}{force} before it touches {}, {side}.",
        mm(one.most.most),
        touch_words(one.most, layout)
    ));
    let wanted = mm(study.design.wanted.pluck_travel.to_mm());
    ui.label(if one.left > 0.0 {
        format!("Played by {wanted} it has {} left.", mm(one.left))
    } else {
        format!("Played by {wanted} it touches: {} too much.", mm(-one.left))
    });
}

/// What the map shows, the note that is looked at, and the switches.
fn over(
    ui: &mut Ui,
    study: &Study,
    layout: &Laid,
    one: Option<&Played>,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = space::S;
        let at = values::show_dim(
            overstand_core::dimension::Dim::PluckPlace.info(),
            study.design.wanted.pluck_place.to_mm(),
            style,
        );
        let StringsView { string, stop, drawn, newtons, .. } = view.strings;
        let unit = cell_unit(newtons, style);
        let text = format!("Takes before it touches, {unit}, plucked {at} from the saddle");
        let heading = RichText::new(text).font(theme::heading()).color(palette.dim);
        tips::on_hover(ui.add(Label::new(heading).selectable(false)), "Headroom");
        if let Some(one) = one.filter(|one| !newtons || one.force.is_some()) {
            let name = study.design.strings.get(string).map_or("", |string| string.name.as_str());
            let (note, text) = (note_words(stop, layout), amount(one, newtons, style));
            ui.add_space(space::L);
            let words = RichText::new(format!("{name}, {note}:")).color(palette.dim);
            ui.add(Label::new(words).selectable(false));
            ui.add_space(space::S);
            let figure = Figure::Plucked { string, stop, drawn, as_force: newtons };
            let spoken = format!("{name}, {note}: {text}");
            working::figure(ui, &text, theme::strong(), palette.ink, figure, &spoken, view);
        }
        let shown = &mut view.strings;
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let sides = [
                (Some(Drawn::Toward), "Pressed"),
                (Some(Drawn::Away), "Drawn away"),
                (None, "Either"),
            ];
            let tips = [
                "Pressed toward the board and let go",
                "Drawn away from the board and let go",
                "Whichever takes less",
            ];
            for ((side, text), tip) in sides.into_iter().zip(tips) {
                if ui.selectable_label(shown.drawn == side, text).on_hover_text(tip).clicked() {
                    shown.drawn = side;
                }
            }
            ui.add_space(space::L);
            for (newtons, text, tip) in [
                (true, "Newtons", "The force of the pluck. It needs note and gauge of a string."),
                (false, "Travel", "How far the string is moved where it is plucked"),
            ] {
                if ui.selectable_label(shown.newtons == newtons, text).on_hover_text(tip).clicked()
                {
                    shown.newtons = newtons;
                }
            }
        });
    });
}

/// The note that is looked at: clicked, or chosen by the arrow keys.
fn choose(
    ui: &Ui,
    response: &egui::Response,
    rect: Rect,
    grid: Grid,
    strings: usize,
    shown: &mut StringsView,
) {
    if response.clicked()
        && let Some(at) = response.interact_pointer_pos()
        && let Some((string, stop)) = grid.cell_at(rect, at, strings)
    {
        (shown.string, shown.stop) = (string, stop);
    }
    if response.has_focus() {
        let filter = egui::EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..Default::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let step = |less, more, now: usize, count: usize| {
            let (less, more) = ui.input(|input| (input.key_pressed(less), input.key_pressed(more)));
            (now + usize::from(more)).saturating_sub(usize::from(less)).min(count.max(1) - 1)
        };
        shown.stop = step(Press::ArrowLeft, Press::ArrowRight, shown.stop, grid.stops);
        shown.string = step(Press::ArrowUp, Press::ArrowDown, shown.string, strings);
    }
    marks::focus_ring(ui, response);
}

fn head(ui: &Ui, rect: Rect, grid: Grid, chosen: usize) {
    let palette = theme::palette(ui);
    let y = rect.top() + grid.row / 2.0;
    for stop in 0..grid.stops {
        let text = if stop == 0 { "open".to_owned() } else { stop.to_string() };
        let right = grid.left(rect, stop) + grid.cell - INSET;
        let (font, colour) = if stop == chosen {
            (theme::heading(), palette.ink)
        } else {
            (theme::label(), palette.dim)
        };
        ui.painter().text(pos2(right, y), Align2::RIGHT_CENTER, text, font, colour);
    }
    let at = pos2(grid.left(rect, grid.stops) + space::M, y);
    ui.painter().text(at, Align2::LEFT_CENTER, TOUCHES, theme::label(), palette.dim);
}

/// Where the cells stand.
#[derive(Clone, Copy, Debug)]
struct Grid {
    cell: f32,
    row: f32,
    stops: usize,
    /// Width of the names.
    name: f32,
    /// Width of the words at the end.
    words: f32,
}

impl Grid {
    fn width(self) -> f32 {
        self.name + self.cell * self.stops as f32 + space::M + self.words
    }

    fn left(self, rect: Rect, stop: usize) -> f32 {
        rect.left() + self.name + self.cell * stop as f32
    }

    fn place(self, rect: Rect, string: usize, stop: usize) -> Rect {
        let top = rect.top() + self.row * (string + 1) as f32;
        Rect::from_min_size(pos2(self.left(rect, stop), top), vec2(self.cell, self.row))
    }

    fn cell_at(self, rect: Rect, at: egui::Pos2, strings: usize) -> Option<(usize, usize)> {
        let (across, down) = (at.x - self.left(rect, 0), at.y - rect.top() - self.row);
        if across < 0.0 || down < 0.0 {
            return None;
        }
        let (stop, string) = ((across / self.cell) as usize, (down / self.row) as usize);
        (stop < self.stops && string < strings).then_some((string, stop))
    }

    #[expect(clippy::too_many_arguments, reason = "a row is where all of it meets")]
    fn row(
        self,
        ui: &Ui,
        rect: Rect,
        study: &Study,
        layout: &Laid,
        index: usize,
        row: &[Option<Played>],
        style: LengthStyle,
        shown: StringsView,
    ) {
        let palette = theme::palette(ui);
        let name = study.design.strings.get(index).map_or("", |string| string.name.as_str());
        let middle = rect.top() + self.row * (index as f32 + 1.5);
        let font = if index == shown.string { theme::strong() } else { theme::text() };
        let mut called = egui::text::LayoutJob::simple_singleline(name.into(), font, palette.ink);
        called.wrap = egui::text::TextWrapping::truncate_at_width(self.name - space::S);
        let called = ui.painter().layout_job(called);
        let at = pos2(rect.left(), middle - called.size().y / 2.0);
        ui.painter().galley(at, called, palette.ink);
        for (stop, one) in row.iter().enumerate() {
            let place = self.place(rect, index, stop);
            if !ui.is_rect_visible(place) {
                continue;
            }
            let id = egui::Id::unique(("cell of the map", index, stop));
            let response = ui.interact(place, id, Sense::hover());
            response.widget_info(|| {
                let says = match one {
                    Some(one) => format!(
                        "{}, {}, touches {}",
                        amount(one, shown.newtons, style),
                        marks::state_word(one.state),
                        touch_words(one.most, layout)
                    ),
                    None => "cannot be plucked there".to_owned(),
                };
                let note = note_words(stop, layout);
                WidgetInfo::labeled(Role::Label, true, format!("{name}, {note}: {says}"))
            });
            cell(ui, palette, place, one.as_ref(), style, shown.newtons);
            if (index, stop) == (shown.string, shown.stop) {
                let pen = Stroke::new(stroke::STRONG, palette.ink);
                let inside = egui::StrokeKind::Inside;
                ui.painter().rect_stroke(place, theme::CORNER, pen, inside);
            }
        }
        if let Some(hardest) = hardest(row, shown.newtons) {
            let most = hardest.most;
            let at = pos2(self.left(rect, self.stops) + space::M, middle);
            let text = touch_text(most);
            let from = match most.stop {
                0 => "open".to_owned(),
                stop => format!("from note {stop}"),
            };
            let says = format!("{name} first touches at {} {from}", touch_words(most, layout));
            let shown =
                ui.painter().text(at, Align2::LEFT_CENTER, text, theme::label(), palette.ink);
            let id = egui::Id::unique(("first touch", index));
            let response = ui.interact(shown, id, Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &says));
            response.on_hover_text(&says);
        }
    }
}

/// One note: its ground by state, a mark, and what it takes.
fn cell(
    ui: &Ui,
    palette: &Palette,
    place: Rect,
    one: Option<&Played>,
    style: LengthStyle,
    newtons: bool,
) {
    let painter = ui.painter();
    // a force is not known without note and gauge
    let Some(one) = one.filter(|one| !newtons || one.force.is_some()) else {
        painter.text(place.center(), Align2::CENTER_CENTER, "–", theme::label(), palette.dim);
        return;
    };
    let colour = palette.state(one.state);
    let strength = if one.state == State::Good { 0.10 } else { 0.28 };
    painter.rect_filled(place.shrink(0.5), 2.0, colour.gamma_multiply(strength));
    let mark = place.left_center() + vec2(INSET + MARK / 2.0, 0.0);
    marks::small_state(painter, mark, one.state, colour);
    let right = place.right_center() - vec2(INSET, 0.0);
    let text = cell_text(one, newtons, style);
    painter.text(right, Align2::RIGHT_CENTER, text, theme::label(), palette.ink);
}
