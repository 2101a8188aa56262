//! The map of two dimensions: where the set plays, where it stands, and how it spreads there.
//! The point is dragged, and the crest follows.

use std::sync::Arc;

use egui::{ComboBox, Label, Pos2, RichText, Role, Stroke, Ui, Vec2, WidgetInfo};
use egui_plot::{PlotBounds, PlotPoint};
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key};
use overstand_core::risk::{Around, Map, MapAsk, Risk, map_keys};
use overstand_core::sentence::lower;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};

use super::point::{place_words, standing};
use super::regions::Regions;
use super::work::{Task, stale};
use super::{picture, point};
use crate::chart::{Axis, Chart};
use crate::command::Command;
use crate::theme::{self, space, stroke};
use crate::view::{HowTrueView, View};

/// How far the map reaches to either side, in steps of its dimensions.
pub(super) const REACHES: [f64; 6] = [1.0, 2.0, 4.0, 8.0, 16.0, 32.0];
/// Cells along either side.
const CELLS: usize = 44;
/// Pieces of the cloud.
const CLOUD: usize = 240;
/// The part of the map, from its edge, in which the point may stand and the map stays.
const EDGE: f64 = 0.06;

/// Which part of the plane is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sight {
    pub(super) keys: [Key; 2],
    reach: usize,
    pub(super) ranges: [(f64, f64); 2],
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
    pub(super) grabbed: Option<(Pos2, [f64; 2])>,
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
    let shown = Chart::new(ui, "map of two dimensions", name.as_str(), axes)
        .with(|plot| {
            plot.sense(egui::Sense::hover())
                .allow_zoom(false)
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
    let map = chart
        .ask
        .as_ref()
        .and_then(|ask| chart.task.answer(ask))
        .filter(|(map, _)| (map.across.0, map.up.0) == (sight.keys[0], sight.keys[1]));
    let told = if map.is_some() { name } else { format!("{name}, not worked out yet") };
    shown.response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &told));
    let frame = *shown.transform.frame();
    let painter = ui.painter().with_clip_rect(frame.intersect(ui.clip_rect()));
    let to_screen = |(x, y): (f64, f64)| shown.transform.position_from_point(&PlotPoint::new(x, y));
    let palette = theme::palette(ui);
    if let Some((map, is_now)) = map {
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
    point::tip(ui, study, sight, &shown.transform, style, view);
    point::show(ui, study, chart, sight, &shown.transform, style, view, commands);
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

/// What the map comes to, for those who do not see it.
fn told(study: &Study, sight: Sight, style: LengthStyle) -> String {
    let at = standing(&study.design, sight.keys);
    let place = at.map_or_else(String::new, |at| place_words(&study.design, sight.keys, at, style));
    let [across, up] = sight.keys.map(|key| lower(&key.name(&study.design)));
    format!("Map of {across} and {up}. The design stands at {place}.")
}
