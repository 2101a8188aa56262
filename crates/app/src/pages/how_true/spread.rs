//! How far the needed crest height spreads, in three ways, and how often each check holds.

use egui::{
    Align2, Label, Rect, RichText, Role, ScrollArea, Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};
use overstand_core::risk::{COVERAGE_95, CheckSpread, Odds, Risk, Trials, show_chance};
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::working::{Figure, OfSpread, OfTrials};

use crate::panels::differences::put_words;
use crate::panels::tips;
use crate::panels::working::{counted, opener};
use crate::theme::{self, Palette, space, stroke};
use crate::view::View;
use crate::{marks, values};

/// Decimals of a spread, mm.
const DIGITS: usize = 2;
/// Height of a way of reckoning, and of the bars of the trials.
const ROW: f32 = 24.0;
const BARS: f32 = 40.0;
/// Bars of the trials.
const BINS: usize = 48;
/// How much is seen of what is of before the last change.
const OF_BEFORE: f32 = 0.5;
/// Part of the width that the crest takes.
const CREST: f32 = 0.4;
/// Width of the names and of the numbers beside the bars.
const NAMES: f32 = 128.0;
const NUMBERS: f32 = 76.0;
/// Where the columns of the checks begin: mark and name, holds, worst case, squares, mean.
const COLUMNS: [f32; 5] = [0.0, 0.33, 0.46, 0.59, 0.76];
/// Those that hold numbers.
const NUMBERED: [usize; 3] = [1, 3, 4];
/// What stands over them, each with the term that explains it.
pub(super) const HEADS: [(&str, &str); 5] = [
    ("Check", "Check"),
    ("Holds in", "Chance"),
    ("At worst", "Worst case"),
    ("± by squares", "Root sum of squares"),
    ("Mean ± 2 s", "Standard deviation"),
];

/// Shows both.
pub(super) fn show(
    ui: &mut Ui,
    risk: &Risk,
    spreads: &[CheckSpread],
    trials: Option<(&Trials, bool)>,
    style: LengthStyle,
    view: &mut View,
) {
    let all = ui.available_rect_before_wrap();
    let (left, right) = all.split_left_right_at_fraction(CREST);
    let child = |salt, rect| egui::UiBuilder::new().id_salt(salt).max_rect(rect);
    crest(&mut ui.new_child(child("crest", left)), risk, trials, style, view);
    let right = right.with_min_x(right.left() + space::XL);
    let mut ui = ui.new_child(child("checks", right));
    if trials.is_some_and(|(_, is_now)| !is_now) {
        ui.multiply_opacity(OF_BEFORE);
    }
    checks(&mut ui, spreads, trials.map(|(trials, _)| trials), style, view);
}

/// One way to reckon the spread.
struct Way {
    name: &'static str,
    tip: &'static str,
    ends: (f64, f64),
    figure: Figure,
}

/// The needed crest height: worst case, root of the sum of squares, trials.
fn crest(
    ui: &mut Ui,
    risk: &Risk,
    trials: Option<(&Trials, bool)>,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    let budget = &risk.budget;
    let mm = |value: f64| values::show(value, Unit::Length, DIGITS, style);
    let about = |half: f64| (budget.crest_height - half, budget.crest_height + half);
    let mut ways = vec![
        Way {
            name: "Worst case",
            tip: "Every error at its worst at once",
            ends: about(budget.worst_case),
            figure: Figure::Spread(OfSpread::Worst),
        },
        Way {
            name: "Root of squares",
            tip: "Root of the sum of squares: 95 % were the whole normal",
            ends: about(budget.within_95()),
            figure: Figure::Spread(OfSpread::Root),
        },
        Way {
            name: "Of what stays",
            tip: "The same of what cannot be set right later",
            ends: about(COVERAGE_95 * budget.standard_fixed),
            figure: Figure::Spread(OfSpread::Stays),
        },
    ];
    if let Some((trials, is_now)) = trials {
        let (low, high) = trials.crest.interval(0.95);
        ways.push(Way {
            figure: counted(OfTrials::Middle { low, high, all: trials.count }, view),
            name: "Trials, 95 %",
            tip: if is_now { "The middle 95 % of all trials" } else { "Of before the last change" },
            ends: (low, high),
        });
    }
    let text = format!("Crest needed: {} when nothing misses", mm(budget.crest_height));
    let words = RichText::new(&text).font(theme::heading()).color(palette.dim);
    let said = ui.add(Label::new(words).truncate().selectable(false));
    opener(ui, said.rect, "crest", Figure::Crest, &text, view);
    // how far the crest may go until the first saddle, or post, is at an end of its range
    let (below, above) = budget.reserve;
    let (low, high) = (budget.crest_height - below, budget.crest_height + above);
    let ends = ways.iter().map(|way| way.ends);
    let least = ends.clone().map(|ends| ends.0).fold(low, f64::min);
    let most = ends.map(|ends| ends.1).fold(high, f64::max);
    let room = 0.04 * (most - least).max(0.1);
    let scale = Scale { least: least - room, most: most + room };
    let height = BARS + ROW * (ways.len() as f32 + 1.0);
    let (all, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let plot = Rect::from_min_max(
        pos2(all.left() + NAMES, all.top()),
        pos2((all.right() - NUMBERS).max(all.left() + NAMES + space::FIT), all.bottom() - ROW),
    );
    reach(ui, plot, scale, (low, high), [mm(below), mm(above)], view);
    if let Some((trials, is_now)) = trials {
        let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(plot));
        if !is_now {
            ui.multiply_opacity(OF_BEFORE);
        }
        histogram(&ui, plot.with_max_y(plot.top() + BARS), scale, &trials.crest.sorted);
    }
    for (index, way) in ways.iter().enumerate() {
        let top = plot.top() + BARS + index as f32 * ROW;
        let row = Rect::from_min_max(pos2(all.left(), top), pos2(all.right(), top + ROW));
        let (from, to) = (mm(way.ends.0), mm(way.ends.1));
        let half = format!("±{}", mm(0.5 * (way.ends.1 - way.ends.0)));
        let spoken = format!("{}: {half}, from {from} to {to}", way.name);
        let id = ui.scope_id().with(way.name);
        let response = ui.interact(row, id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
        response.on_hover_text(format!("{}. {spoken}", way.tip));
        put_words(ui, row.with_max_x(plot.left() - space::S), way.name, theme::text(), palette.ink);
        let number = row.right_center();
        let ink = palette.ink;
        let place = ui.painter().text(number, Align2::RIGHT_CENTER, &half, theme::text(), ink);
        let spoken = format!("{}, {half}", way.name);
        opener(ui, place.expand2(vec2(space::S, 1.0)), "way", way.figure, &spoken, view);
        interval(ui, plot.x_range(), row.center().y, scale, way.ends, budget.crest_height, palette);
    }
}

/// From where to where the bars go.
#[derive(Clone, Copy)]
struct Scale {
    least: f64,
    most: f64,
}

impl Scale {
    fn at(self, across: egui::Rangef, value: f64) -> f32 {
        let part = (value - self.least) / (self.most - self.least);
        across.min + across.span() * part.clamp(0.0, 1.0) as f32
    }
}

/// As far as the saddle can follow, with what is left either way.
fn reach(ui: &Ui, plot: Rect, scale: Scale, ends: (f64, f64), left: [String; 2], view: &mut View) {
    let palette = theme::palette(ui);
    let [low, high] = [ends.0, ends.1].map(|end| scale.at(plot.x_range(), end));
    if low < high {
        let band = Rect::from_min_max(pos2(low, plot.top()), pos2(high, plot.bottom()));
        ui.painter().rect_filled(band, 0.0, palette.wanted);
    }
    let y = plot.bottom() + ROW / 2.0;
    let [down, up] = left;
    for (x, is_down, text) in
        [(low, true, format!("{down} left down")), (high, false, format!("{up} left up"))]
    {
        ui.painter().vline(x, plot.y_range(), Stroke::new(stroke::VISIBLE, palette.ink));
        // the names beside the bars leave room for it
        let (at, align) = (pos2(x, y), Align2::RIGHT_CENTER);
        let place = ui.painter().text(at, align, &text, theme::label(), palette.dim);
        opener(ui, place, "left", Figure::SaddleLeft { down: is_down }, &text, view);
    }
}

/// How often each height came out.
fn histogram(ui: &Ui, plot: Rect, scale: Scale, sorted: &[f64]) {
    let palette = theme::palette(ui);
    let step = (scale.most - scale.least) / BINS as f64;
    let below = |bin: usize| {
        let edge = scale.least + bin as f64 * step;
        sorted.partition_point(|value| *value < edge)
    };
    let counts: Vec<usize> = (0..BINS).map(|bin| below(bin + 1) - below(bin)).collect();
    let most = counts.iter().copied().max().unwrap_or(0).max(1) as f32;
    let width = plot.width() / BINS as f32;
    for (bin, count) in counts.into_iter().enumerate().filter(|(_, count)| *count > 0) {
        let left = plot.left() + bin as f32 * width;
        let high = (plot.height() - space::S) * count as f32 / most;
        let bar = Rect::from_min_max(
            pos2(left, plot.bottom() - high.max(1.0)),
            pos2(left + width - 1.0, plot.bottom()),
        );
        ui.painter().rect_filled(bar, 0.0, palette.rail_wanted);
    }
}

/// A line from end to end, with a mark where it stands when nothing misses.
fn interval(
    ui: &Ui,
    across: egui::Rangef,
    y: f32,
    scale: Scale,
    ends: (f64, f64),
    middle: f64,
    palette: &Palette,
) {
    let [left, right, at] = [ends.0, ends.1, middle].map(|value| scale.at(across, value));
    let pen = Stroke::new(stroke::STRONG, palette.ink);
    ui.painter().hline(left..=right, y, pen);
    for x in [left, right] {
        ui.painter().vline(x, y - space::S..=y + space::S, pen);
    }
    ui.painter().circle_filled(pos2(at, y), 3.0, palette.ink);
}

/// Every check: how often it holds, how it stands at the worst, what it comes to.
fn checks(
    ui: &mut Ui,
    spreads: &[CheckSpread],
    trials: Option<&Trials>,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    let Some(trials) = trials else {
        theme::remark(ui, "How often each check holds is known when the trials are run.");
        return;
    };
    ui.spacing_mut().item_spacing.y = 0.0;
    let (rect, _) =
        ui.allocate_exact_size(vec2(ui.available_width() - space::M, space::XL), Sense::hover());
    for (index, (name, term)) in HEADS.into_iter().enumerate() {
        let place = column(rect, index);
        if NUMBERED.contains(&index) {
            let at = place.right_center();
            ui.painter().text(at, Align2::RIGHT_CENTER, name, theme::heading(), palette.dim);
        } else {
            put_words(ui, place, name, theme::heading(), palette.dim);
        }
        tips::on_heading(ui, place, (name, term));
    }
    let mut odds: Vec<&Odds> = trials.checks.iter().collect();
    odds.sort_by(|a, b| a.chance().total_cmp(&b.chance()).then(a.good.cmp(&b.good)));
    ScrollArea::vertical().id_salt("odds").auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        for one in odds {
            let spread = spreads.iter().find(|spread| spread.id == one.id);
            line(ui, one, spread, trials.seed, style, view);
        }
    });
}

fn column(rect: Rect, index: usize) -> Rect {
    let at = |part: f32| rect.left() + part * rect.width();
    let end = COLUMNS.get(index + 1).map_or(rect.right(), |next| at(*next) - space::M);
    Rect::from_min_max(pos2(at(COLUMNS[index]), rect.top()), pos2(end, rect.bottom()))
}

fn line(
    ui: &mut Ui,
    one: &Odds,
    spread: Option<&CheckSpread>,
    seed: u64,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), space::HIT), Sense::hover());
    if response.hovered() {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    let state = one.state();
    let place = column(rect, 0);
    let at = place.left_center() + vec2(space::M, 0.0);
    marks::small_state(ui.painter(), at, state, palette.state(state));
    let name = place.with_min_x(place.left() + space::XL + space::S);
    put_words(ui, name, one.id.name(), theme::text(), palette.ink);
    let holds = show_chance(one.chance());
    let ink = palette.ink;
    let number = |index: usize, text: &str| {
        let at = column(rect, index).right_center();
        ui.painter().text(at, Align2::RIGHT_CENTER, text, theme::text(), ink)
    };
    let held = number(1, &holds);
    let worst = spread.map_or("–", |spread| match spread.worst_margin {
        margin if margin >= 1.0 => "good",
        margin if margin > 0.0 => "thin",
        _ => "may fail",
    });
    put_words(ui, column(rect, 2), worst, theme::text(), palette.ink);
    let unit = one.id.unit();
    // a hundredth of a millimetre is less than a thousandth of an inch
    let digits = if style.is_inch() { DIGITS + 1 } else { DIGITS };
    let squares = spread.and_then(CheckSpread::within_95);
    let has_squares = squares.is_some();
    let squares = squares
        .map_or("–".to_owned(), |half| format!("±{}", values::show(half, unit, digits, style)));
    let by_squares = number(3, &squares);
    let mean = values::show(one.mean(), unit, digits, style);
    let (half, _) = values::parts(2.0 * one.standard(), unit, digits, style);
    let half = format!("± {half}");
    let deviation = number(4, &half);
    let at = deviation.left_center() - vec2(space::M, 0.0);
    let middle = ui.painter().text(at, Align2::RIGHT_CENTER, &mean, theme::text(), ink);
    let spoken = format!(
        "{}: holds in {holds}, {}, at the worst {worst}, {squares} by root sum of squares, mean {mean} \
         {half}",
        one.id.name(),
        state.text()
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &spoken));
    response.on_hover_text(spoken);
    let (what, all) = (one.id.name(), one.fails + one.thin + one.good);
    let share = counted(OfTrials::Share { what, of: one.thin + one.good, all }, view);
    let (id, of, name) = (one.id, one.tallied, what.to_lowercase());
    let mut opens = vec![
        (held, share, format!("how often it holds: {name}, {holds}")),
        (middle, counted(OfTrials::Mean { id, of, seed }, view), format!("mean: {name}, {mean}")),
        (
            deviation,
            counted(OfTrials::Deviation { id, of, seed }, view),
            format!("two standard deviations: {name}, {half}"),
        ),
    ];
    if has_squares {
        let spoken = format!("± by squares: {name}, {squares}");
        opens.push((by_squares, Figure::CheckSpread(id), spoken));
    }
    for (place, figure, spoken) in opens {
        opener(ui, place.expand2(vec2(space::S, 1.0)), "odds", figure, &spoken, view);
    }
}
