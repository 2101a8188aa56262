//! The map of two dimensions: where the set plays, where it stands, and how it spreads there.
//! The point is dragged, and the crest follows.

use std::sync::Arc;

use egui::{
    ComboBox, CursorIcon, EventFilter, Key as Press, Label, Pos2, Rect, RichText, Sense, Stroke,
    Ui, Vec2, WidgetInfo, pos2, vec2,
};
use egui_plot::{PlotBounds, PlotPoint, PlotTransform};
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key};
use overstand_core::risk::{Around, Map, MapAsk, Risk, aimed, map_keys};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::State;

use super::picture;
use super::regions::Regions;
use super::work::{Task, stale};
use crate::canvas::{landed, step};
use crate::chart::{Axis, Chart};
use crate::command::Command;
use crate::theme::{self, space, stroke};
use crate::view::{CanvasId, Drag, HowTrueView, View};
use crate::{marks, values};

/// How far the map reaches to either side, in steps of its dimensions.
const REACHES: [f64; 6] = [1.0, 2.0, 4.0, 8.0, 16.0, 32.0];
/// Cells along either side.
const CELLS: usize = 44;
/// Pieces of the cloud.
const CLOUD: usize = 240;
/// The part of the map, from its edge, in which the point may stand and the map stays.
const EDGE: f64 = 0.06;

/// Which part of the plane is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Sight {
    keys: [Key; 2],
    reach: usize,
    ranges: [(f64, f64); 2],
}

impl Sight {
    /// About where a design stands.
    fn of(design: &Design, shown: &HowTrueView) -> Option<Self> {
        let range = |key: Key| {
            let (info, at) = (key.dim.info(), key.get(design)?);
            let reach = REACHES[shown.reach.min(REACHES.len() - 1)] * info.step;
            Some(((at - reach).max(info.low), (at + reach).min(info.high)))
        };
        let [across, up] = shown.map;
        Some(Self { keys: shown.map, reach: shown.reach, ranges: [range(across)?, range(up)?] })
    }

    /// Whether it can stay: it is of the same dimensions, and the point is well in sight.
    fn suits(&self, design: &Design, shown: &HowTrueView) -> bool {
        let in_sight = |key: Key, (low, high): (f64, f64)| {
            let room = EDGE * (high - low);
            let info = key.dim.info();
            key.get(design).is_some_and(|at| {
                // at the end of what a dimension can be there is no more to see
                (at >= low + room || low <= info.low) && (at <= high - room || high >= info.high)
            })
        };
        self.keys == shown.map
            && self.reach == shown.reach
            && (0..2).all(|index| in_sight(self.keys[index], self.ranges[index]))
    }
}

/// What the regions hang on: all of a design but where it stands on the map, and how true it
/// is made.
#[derive(Clone, Debug, PartialEq)]
struct Ask {
    sight: Sight,
    design: Box<Design>,
}

impl Ask {
    fn of(design: &Design, sight: Sight) -> Self {
        let mut design = design.clone();
        // these two are put at every place of the map, and the crest follows with the bridge
        for dim in sight.keys.into_iter().chain([Dim::CrestHeight.key(), Dim::Station.key()]) {
            let info = dim.dim.info();
            dim.set(&mut design, 0.5 * (info.low + info.high));
        }
        design.tolerances.clear();
        design.marks.clear();
        design.ticks.clear();
        design.notes.clear();
        Self { sight, design: Box::new(design) }
    }
}

/// The map as it is known.
#[derive(Debug, Default)]
pub(super) struct MapChart {
    sight: Option<Sight>,
    ask: Option<Ask>,
    task: Task<Ask, Map>,
    regions: Regions,
    around: Option<Around>,
    /// Where the point is dragged from: the pointer, and the two values.
    grabbed: Option<(Pos2, [f64; 2])>,
}

impl MapChart {
    /// Gives up what goes on while nobody looks.
    pub(super) fn rest(&mut self) {
        self.task.give_up();
    }

    /// The design has changed, or what is shown of it.
    pub(super) fn note(&mut self, study: &Study, risk: &Risk, view: &mut View) {
        let (design, shown) = (&study.design, &mut view.how_true);
        sound(design, shown);
        let stays = self.sight.is_some_and(|sight| sight.suits(design, shown));
        if !stays && (self.grabbed.is_none() || self.sight.is_none()) {
            self.sight = Sight::of(design, shown);
        }
        let [across, up] = shown.map;
        self.around = risk.around(&MapAsk { cloud: CLOUD, ..MapAsk::of(across, up) });
        self.ask = self.sight.map(|sight| Ask::of(design, sight));
    }

    /// Hears what was worked out, and begins what is not known yet. What goes on comes to its
    /// end, so that something is seen while much changes.
    pub(super) fn update(&mut self, ui: &Ui, risk: &Arc<Risk>) {
        let Some(ask) = &self.ask else { return };
        if self.task.hear()
            && let Some((map, _)) = self.task.answer(ask)
        {
            self.regions = Regions::of(map);
        }
        if self.task.wants(ask) {
            let [across, up] = ask.sight.keys;
            let [across_range, up_range] = ask.sight.ranges.map(Some);
            let what =
                MapAsk { across_range, up_range, cells: CELLS, cloud: 0, ..MapAsk::of(across, up) };
            let risk = Arc::clone(risk);
            self.task.start(ui.ctx(), ask.clone(), move |watch| risk.map(&what, watch));
        }
    }
}

/// Only what this design has is shown.
fn sound(design: &Design, shown: &mut HowTrueView) {
    let keys = map_keys(design);
    let usual = HowTrueView::default();
    let is_there = |key: &Key| keys.contains(key);
    if !shown.map.iter().all(is_there) || shown.map[0] == shown.map[1] {
        shown.map = usual.map;
    }
    shown.moved = shown.moved.map(|key| key.filter(is_there));
    if shown.moved == [None, None] {
        shown.moved = usual.moved;
    }
}

/// A box in which one of the dimensions of a map is chosen; `none` stands for no dimension
/// where that may be. Returns what was chosen.
pub(super) fn choose(
    ui: &mut Ui,
    id: &str,
    name: &str,
    design: &Design,
    chosen: Option<Key>,
    (not, none): (Option<Key>, Option<&str>),
) -> Option<Option<Key>> {
    let text = chosen.map_or_else(|| none.unwrap_or_default().to_owned(), |key| key.name(design));
    let mut asked = None;
    let response = ComboBox::from_id_salt(id)
        .selected_text(&text)
        .truncate()
        .width(space::FORM / 3.0)
        .height(space::FORM)
        .show_ui(ui, |ui| {
            if let Some(none) = none
                && ui.selectable_label(chosen.is_none(), none).clicked()
            {
                asked = Some(None);
            }
            for key in map_keys(design).into_iter().filter(|key| Some(*key) != not) {
                if ui.selectable_label(chosen == Some(key), key.name(design)).clicked() {
                    asked = Some(Some(key));
                }
            }
        })
        .response;
    response.accessible_name(format!("{name}: {text}")).on_hover_text(text);
    asked
}

/// Shows the map with its choices in the room that is left.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    chart: &mut MapChart,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    choices(ui, &study.design, chart, view);
    ui.add_space(space::S);
    let Some(sight) = chart.sight else { return };
    let [(left, right), (low, high)] = sight.ranges;
    let axes = sight.keys.map(|key| axis(key, &study.design, style));
    let name = told(study, sight, style);
    let shown = Chart::new(ui, "map of two dimensions", name, axes)
        .with(|plot| {
            plot.allow_zoom(false)
                .allow_drag(false)
                .allow_double_click_reset(false)
                .show_x(false)
                .show_y(false)
                .set_margin_fraction(Vec2::ZERO)
        })
        .without_keys()
        .show(ui, move |plot| {
            plot.set_plot_bounds(PlotBounds::from_min_max([left, low], [right, high]));
        });
    let frame = *shown.transform.frame();
    let painter = ui.painter().with_clip_rect(frame.intersect(ui.clip_rect()));
    let to_screen = |(x, y): (f64, f64)| shown.transform.position_from_point(&PlotPoint::new(x, y));
    let palette = theme::palette(ui);
    if let Some((map, is_now)) = chart.ask.as_ref().and_then(|ask| chart.task.answer(ask))
        && (map.across.0, map.up.0) == (sight.keys[0], sight.keys[1])
    {
        picture::regions(&painter, palette, &chart.regions, &shown.transform);
        picture::lines(&painter, palette, map, &to_screen);
        let at = standing(&study.design, sight.keys).map(|[x, y]| to_screen((x, y)));
        picture::words(&painter, palette, &chart.regions, at, &to_screen);
        if !is_now {
            // what is of before is seen through paper
            painter.rect_filled(frame, 0.0, palette.paper.gamma_multiply(0.5));
        }
    }
    if let Some(around) = &chart.around {
        picture::spread(&painter, palette, around, &to_screen);
    }
    let pen = Stroke::new(stroke::THIN, palette.field_border);
    ui.painter().rect_stroke(frame, 0.0, pen, egui::StrokeKind::Outside);
    tip(ui, study, sight, &shown.transform, style, view);
    point(ui, study, chart, sight, &shown.transform, style, view, commands);
}

/// The two dimensions, and how far the map reaches.
fn choices(ui: &mut Ui, design: &Design, chart: &MapChart, view: &mut View) {
    let palette = theme::palette(ui);
    let says = |ui: &mut Ui, text: &str| {
        ui.add(Label::new(RichText::new(text).color(palette.dim)).selectable(false));
    };
    ui.horizontal(|ui| {
        let [across, up] = view.how_true.map;
        if let Some(Some(key)) =
            choose(ui, "across", "Across the map", design, Some(across), (Some(up), None))
        {
            view.how_true.map[0] = key;
        }
        says(ui, "across,");
        if let Some(Some(key)) =
            choose(ui, "up", "Up the map", design, Some(up), (Some(across), None))
        {
            view.how_true.map[1] = key;
        }
        says(ui, "up");
        let reach = &mut view.how_true.reach;
        for (text, name, to) in [
            ("−", "Show more of the map", (*reach + 1).min(REACHES.len() - 1)),
            ("+", "Show less of the map, larger", reach.saturating_sub(1)),
        ] {
            let button = egui::Button::new(text).min_size(Vec2::splat(space::HIT));
            let response = ui.add_enabled(to != *reach, button);
            if response.accessible_name(name).on_hover_text(name).clicked() {
                *reach = to;
            }
        }
        let is_now = chart.ask.as_ref().and_then(|ask| chart.task.answer(ask)).map(|(_, now)| now);
        if is_now == Some(false) {
            stale(ui);
        }
    });
}

fn axis(key: Key, design: &Design, style: LengthStyle) -> Axis {
    let (name, info) = (key.name(design), key.dim.info());
    match info.unit {
        Unit::Length => Axis::length(&name, style),
        unit => Axis::of(&name, unit.symbol()),
    }
}

/// A value of one of the two, with the digits of the bench.
fn show_value(key: Key, value: f64, style: LengthStyle) -> String {
    let info = key.dim.info();
    values::show(value, info.unit, info.digits, style)
}

/// Two values in words: `pitch 3.00°, overstand 1.0 mm`.
fn place_words(design: &Design, keys: [Key; 2], at: [f64; 2], style: LengthStyle) -> String {
    let each = [0, 1].map(|index| {
        let value = show_value(keys[index], at[index], style);
        format!("{} {value}", keys[index].name(design).to_lowercase())
    });
    each.join(", ")
}

fn standing(design: &Design, keys: [Key; 2]) -> Option<[f64; 2]> {
    Some([keys[0].get(design)?, keys[1].get(design)?])
}

/// What the map comes to, for those who do not see it.
fn told(study: &Study, sight: Sight, style: LengthStyle) -> String {
    let at = standing(&study.design, sight.keys);
    let place = at.map_or_else(String::new, |at| place_words(&study.design, sight.keys, at, style));
    let [across, up] = sight.keys.map(|key| key.name(&study.design).to_lowercase());
    format!("Map of {across} and {up}. The design stands at {place}.")
}

/// What the verdict would be where the pointer is.
fn tip(
    ui: &Ui,
    study: &Study,
    sight: Sight,
    transform: &PlotTransform,
    style: LengthStyle,
    view: &View,
) {
    let id = ui.scope_id().with("ground of the map");
    let response = ui.interact(*transform.frame(), id, Sense::hover());
    let Some(at) = response.hover_pos().filter(|_| view.drag.is_none()) else { return };
    let place = transform.value_from_position(at);
    let values = [place.x, place.y];
    response.on_hover_ui_at_pointer(|ui| {
        let words = place_words(&study.design, sight.keys, values, style);
        ui.label(RichText::new(values::capital(&words)).font(theme::strong()));
        ui.label(verdict_there(&study.design, sight.keys, values, style));
    });
}

/// What the verdict would be with the two dimensions elsewhere.
fn verdict_there(design: &Design, keys: [Key; 2], at: [f64; 2], style: LengthStyle) -> String {
    let there = aimed(design, &[(keys[0], at[0]), (keys[1], at[1])]);
    let study = there.as_ref().map(Study::of);
    let Some(closed) = study.as_ref().and_then(Study::closed) else {
        return "It does not close there.".to_owned();
    };
    let worst = closed.checks.iter().min_by_key(|check| check.state);
    match worst {
        Some(worst) if worst.state != State::Good => {
            let state = marks::state_word(worst.state);
            format!("{}: {}", values::capital(state).trim_end_matches('.'), worst.says.show(style))
        }
        _ => "Good: every check.".to_owned(),
    }
}

/// The point: dragged, or moved by the arrow keys.
#[expect(clippy::too_many_arguments, reason = "the point is where all of it meets")]
fn point(
    ui: &Ui,
    study: &Study,
    chart: &mut MapChart,
    sight: Sight,
    transform: &PlotTransform,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let Some(values) = standing(&study.design, sight.keys) else { return };
    let palette = theme::palette(ui);
    let at = transform.position_from_point(&PlotPoint::new(values[0], values[1]));
    let frame = *transform.frame();
    let at = at.clamp(frame.min, frame.max);
    let area = Rect::from_center_size(at, Vec2::splat(space::HIT));
    let id = egui::Id::unique("point on the map");
    let response = ui.interact(area, id, Sense::click_and_drag());
    let words = place_words(&study.design, sight.keys, values, style);
    response.widget_info(|| WidgetInfo::slider(true, values[0], "Point on the map"));
    ui.ctx().accesskit_node_builder(id, |node| node.set_description(words.as_str()));
    let response = response.on_hover_and_drag_cursor(CursorIcon::Move);
    if response.clicked() || response.drag_started() {
        response.request_focus();
    }
    drag(ui, &response, chart, sight, transform, values, view, commands);
    if response.has_focus() && view.drag.is_none() {
        keys(ui, &response, sight, values, view, commands);
    }
    let is_live = response.hovered() || response.has_focus() || chart.grabbed.is_some();
    let painter = ui.painter();
    painter.circle_filled(at, space::HANDLE + 2.0, palette.paper);
    painter.circle_stroke(at, space::HANDLE, Stroke::new(stroke::STRONG, palette.ink));
    painter.circle_filled(at, if is_live { 4.0 } else { 2.5 }, palette.ink);
    if response.has_focus() {
        let pen = Stroke::new(stroke::VISIBLE, palette.ink);
        painter.circle_stroke(at, space::HANDLE + space::S, pen);
    }
    if is_live {
        flag(ui, frame, at, &values::capital(&words).trim_end_matches('.').to_owned());
    }
}

/// Words beside the point, within the map.
fn flag(ui: &Ui, frame: Rect, at: Pos2, text: &str) {
    let palette = theme::palette(ui);
    let galley = ui.painter().layout_no_wrap(text.to_owned(), theme::strong(), palette.ink);
    let size = galley.size() + vec2(2.0 * space::M, space::S);
    let above = at.y - size.y - space::XL > frame.top();
    let y = if above { at.y - size.y - space::XL } else { at.y + space::XL };
    let x = (at.x - size.x / 2.0).clamp(frame.left(), (frame.right() - size.x).max(frame.left()));
    let place = Rect::from_min_size(pos2(x, y), size);
    let pen = Stroke::new(1.0, palette.field_border);
    ui.painter().rect(place, theme::CORNER, palette.field, pen, egui::StrokeKind::Inside);
    ui.painter().galley(place.min + vec2(space::M, space::S / 2.0), galley, palette.ink);
}

#[expect(clippy::too_many_arguments, reason = "all of it belongs to the one drag")]
fn drag(
    ui: &Ui,
    response: &egui::Response,
    chart: &mut MapChart,
    sight: Sight,
    transform: &PlotTransform,
    values: [f64; 2],
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let fine = ui.input(|input| input.modifiers.shift);
    if response.drag_started_by(egui::PointerButton::Primary) {
        let from = ui.input(|input| input.pointer.press_origin());
        let from = from.or(response.interact_pointer_pos()).unwrap_or_default();
        chart.grabbed = Some((from, values));
        view.drag = Some(Drag {
            dim: sight.keys[0].dim,
            canvas: CanvasId::Map,
            raw: values[0],
            last: values[0],
            from,
            travelled: Vec2::ZERO,
        });
    }
    let is_ours = view.drag.as_ref().is_some_and(|drag| drag.canvas == CanvasId::Map);
    let Some((from, start)) = chart.grabbed.filter(|_| is_ours) else {
        chart.grabbed = None;
        return;
    };
    if (response.dragged() || response.drag_stopped())
        && let Some(pointer) = response.interact_pointer_pos()
    {
        let [was, is] = [from, pointer].map(|at| transform.value_from_position(at));
        let raw = [start[0] + is.x - was.x, start[1] + is.y - was.y];
        let to = [0, 1].map(|index| {
            let (low, high) = sight.ranges[index];
            let moved = (raw[index] - start[index]).abs();
            let dim = sight.keys[index].dim;
            // nothing is rounded before it moves a step
            if moved < step(dim, fine) / 2.0 {
                start[index]
            } else {
                landed(dim, raw[index], fine).clamp(low, high)
            }
        });
        if to != values && pointer != from {
            let at = [(sight.keys[0], to[0]), (sight.keys[1], to[1])];
            commands.push(Command::Aim { at, drags: true });
        }
    }
    if ui.input(|input| input.key_pressed(Press::Escape)) {
        ui.ctx().stop_dragging();
        commands.push(Command::DragCancel);
    } else if response.drag_stopped() || !ui.input(|input| input.pointer.primary_down()) {
        commands.push(Command::AimEnd(sight.keys));
    } else {
        return;
    }
    view.drag = None;
    chart.grabbed = None;
}

/// The arrows move the point, + and − show less or more.
fn keys(
    ui: &Ui,
    response: &egui::Response,
    sight: Sight,
    values: [f64; 2],
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let filter =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let (ways, fine, zoom) = ui.input(|input| {
        let count = |press| input.num_presses(press) as f64;
        let ways = [
            count(Press::ArrowRight) - count(Press::ArrowLeft),
            count(Press::ArrowUp) - count(Press::ArrowDown),
        ];
        let zoom = count(Press::Plus) + count(Press::Equals) - count(Press::Minus);
        (ways, input.modifiers.shift, zoom)
    });
    if zoom > 0.0 {
        view.how_true.reach = view.how_true.reach.saturating_sub(1);
    } else if zoom < 0.0 {
        view.how_true.reach = (view.how_true.reach + 1).min(REACHES.len() - 1);
    }
    if ways == [0.0, 0.0] {
        return;
    }
    let at = [0, 1].map(|index| {
        let (key, way) = (sight.keys[index], ways[index]);
        let to = if way == 0.0 {
            values[index]
        } else {
            landed(key.dim, values[index] + way * step(key.dim, fine), fine)
        };
        (key, to)
    });
    commands.push(Command::Aim { at, drags: false });
}
