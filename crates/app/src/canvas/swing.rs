//! One note over the frets: where the string lies at rest, and how low it swings when it is
//! played as hard as wanted.

use egui::epaint::{Mesh, PathShape, PathStroke};
use egui::{
    Align, Align2, ComboBox, Key as Press, Layout, Pos2, Rect, Role, Sense, Shape, Stroke, Ui,
    WidgetInfo, vec2,
};
use overstand_core::layout::Layout as Laid;
use overstand_core::strings::{Drawn, Plucking, Swing, swing};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::State;
use overstand_drawing::strip::{Strip, strip};

use super::strip::{Chart, DIGITS, string_name};
use crate::marks;
use crate::panels::headroom_map::{note_words, touch_words};
use crate::theme::{self, space, stroke};
use crate::values;
use crate::view::{StringsView, View};

/// Room below the crowns, as a part of what is above them: a string that touches swings
/// through there.
const BELOW: f64 = 0.22;

/// What is drawn of one note, kept until it changes.
#[derive(Debug, Default)]
pub(crate) struct SwingChart {
    /// The revision, the string, its stop, and to which side it is drawn.
    of: Option<(u64, usize, usize, Option<Drawn>)>,
    strip: Strip,
    swings: Vec<Swing>,
}

impl SwingChart {
    /// Works it out anew where the design or what is shown has changed.
    pub(crate) fn update(&mut self, study: &Study, revision: u64, shown: StringsView) {
        let of = Some((revision, shown.string, shown.stop, shown.drawn));
        if self.of == of {
            return;
        }
        self.of = of;
        let stop = (shown.stop > 0).then_some(shown.stop);
        self.strip = strip(study, Some(shown.string), stop, true);
        // the note itself has the whole height: no range is drawn around it
        let lines = if stop.is_some() { &self.strip.stopped } else { &self.strip.open };
        let heights = lines.iter().flat_map(|line| &line.points).map(|point| point.at.y);
        let (low, high) =
            heights.fold((0.0_f64, 0.0_f64), |(low, high), y| (low.min(y), high.max(y)));
        self.strip.heights = (low.min(-BELOW * high), high);
        self.swings = study.layout().map_or_else(Vec::new, |layout| {
            swing(&study.design, layout, shown.string, shown.stop, shown.drawn)
        });
    }

    /// The state of the whole note.
    fn state(&self) -> State {
        self.swings.iter().map(|one| one.state).min().unwrap_or(State::Good)
    }
}

/// Shows it in a rectangle of the screen.
pub(crate) fn show(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    drawn: &SwingChart,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    let mut ui = ui.new_child(egui::UiBuilder::new().id_salt("swing").max_rect(rect));
    ui.set_clip_rect(ui.clip_rect().intersect(rect));
    let ui = &mut ui;
    let Some(layout) = study.layout() else { return };
    controls(ui, rect, study, layout, view);
    let shown = view.strings;
    let says = words(study, layout, shown, style);
    let line = Rect::from_min_size(
        rect.min + vec2(space::XL, space::S),
        vec2(rect.width() / 2.0, space::HIT),
    );
    let colour = palette.state(drawn.state());
    marks::state(ui.painter(), line.left_center() + vec2(space::S, 0.0), drawn.state(), colour);
    let room = Rect::from_min_max(line.min + vec2(space::XL, 0.0), line.max);
    let label = egui::Label::new(egui::RichText::new(&says).font(theme::strong()));
    let mut words = ui.new_child(
        egui::UiBuilder::new().max_rect(room).layout(Layout::left_to_right(Align::Center)),
    );
    words.add(label.truncate().selectable(false)).on_hover_text(&says);

    let Some(chart) = Chart::of(rect, &drawn.strip, None) else { return };
    let response = ui.interact(chart.area, egui::Id::unique("swing chart"), Sense::click());
    response.widget_info(|| {
        WidgetInfo::slider(true, shown.stop as f64, "Fret at which the string is stopped")
    });
    choose_stop(ui, &response, &drawn.strip, &chart, view);
    paint(ui, &chart, drawn);
    let at = rect.left_bottom() + vec2(space::XL, -space::S);
    let text = format!("clearance over the frets · heights × {:.0}", chart.stretch());
    ui.painter().text(at, Align2::LEFT_BOTTOM, text, theme::label(), palette.dim);
    if let Some(at) = response.hover_pos()
        && let Some(fret) = chart.nearest(&drawn.strip, at.x)
    {
        let x = chart.at(fret.x, 0.0).x;
        let pen = Stroke::new(stroke::THIN, palette.hairline);
        ui.painter().vline(x, chart.area.y_range(), pen);
        let one = drawn.swings.iter().find(|one| one.fret == fret.number).copied();
        response.on_hover_ui_at_pointer(|ui| tip(ui, fret.number, one, style));
    }
}

/// What a note comes to, in a sentence.
fn words(study: &Study, layout: &Laid, shown: StringsView, style: LengthStyle) -> String {
    let design = &study.design;
    let plucking = Plucking::new(layout, design.wanted.pluck_place.to_mm());
    let most = match shown.drawn {
        None => plucking.most(shown.string, shown.stop),
        Some(drawn) => plucking.most_drawn(shown.string, shown.stop, drawn),
    };
    let name = string_name(study, shown.string);
    let note = format!("{name}, {}", note_words(shown.stop, layout));
    let mm = |value| values::show(value, Unit::Length, DIGITS, style);
    match most {
        Some(most) if most.most <= 0.0 => {
            format!("{note}: at rest it touches {}", touch_words(most, layout))
        }
        Some(most) => format!(
            "{note}: first touches at {}, plucked by {}",
            touch_words(most, layout),
            mm(most.most)
        ),
        None => format!("{note}: it cannot be plucked there"),
    }
}

fn paint(ui: &Ui, chart: &Chart, drawn: &SwingChart) {
    let palette = theme::palette(ui);
    let painter = ui.painter().with_clip_rect(ui.clip_rect());
    let x = |fret: usize| drawn.strip.frets.get(fret - 1).map_or(0.0, |fret| fret.x);
    let lowest = |one: &Swing| chart.at(x(one.fret), one.lowest);
    // between rest and lowest
    let mut mesh = Mesh::default();
    let shade = palette.state(drawn.state()).gamma_multiply(0.12);
    for (index, one) in drawn.swings.iter().enumerate() {
        mesh.colored_vertex(chart.at(x(one.fret), one.rest), shade);
        mesh.colored_vertex(lowest(one), shade);
        if index > 0 {
            // two for each fret, of which there are at most a few dozen
            let base = 2 * (index as u32 - 1);
            mesh.add_triangle(base, base + 1, base + 2);
            mesh.add_triangle(base + 1, base + 2, base + 3);
        }
    }
    painter.add(mesh);
    chart.frets(&painter, palette, &drawn.strip);
    let line = drawn.strip.stopped.first().or(drawn.strip.open.first());
    if let Some(line) = line {
        let points: Vec<Pos2> =
            line.points.iter().map(|point| chart.at(point.at.x, point.at.y)).collect();
        if let Some(stop) = points.first().filter(|_| line.stop > 0) {
            painter.circle_filled(*stop, space::S, palette.ink);
        }
        let pen = PathStroke::new(stroke::STRONG, palette.ink);
        painter.add(PathShape::line(points, pen));
    }
    let points: Vec<Pos2> = drawn.swings.iter().map(lowest).collect();
    let pen = Stroke::new(stroke::STRING, palette.dim);
    let [dash, gap] = stroke::HIDDEN;
    painter.extend(Shape::dashed_line(&points, pen, dash, gap));
    for one in &drawn.swings {
        let at = lowest(one);
        let at = Pos2::new(at.x, at.y.min(chart.area.bottom() - space::S));
        painter.circle_filled(at, space::S + 1.0, palette.paper);
        let colour = palette.state(one.state);
        if one.state == State::Good {
            marks::small_state(&painter, at, one.state, colour);
        } else {
            marks::state(&painter, at, one.state, colour);
        }
    }
}

/// The swing over one fret.
fn tip(ui: &mut Ui, fret: usize, one: Option<Swing>, style: LengthStyle) {
    ui.label(egui::RichText::new(format!("Over fret {fret}")).font(theme::strong()));
    let Some(one) = one else {
        ui.label("The string is stopped here or beyond.");
        return;
    };
    let mm = |value| values::show(value, Unit::Length, DIGITS, style);
    ui.label(format!("At rest {}", mm(one.rest)));
    if one.lowest > 0.0 {
        ui.label(format!("Swings down to {}", mm(one.lowest)));
    } else {
        ui.label(format!("Would swing {} too low", mm(-one.lowest)));
    }
}

/// The fret at which the string is stopped: clicked, or chosen by the arrow keys.
fn choose_stop(ui: &Ui, response: &egui::Response, strip: &Strip, chart: &Chart, view: &mut View) {
    let last = strip.frets.len().saturating_sub(1);
    let stop = &mut view.strings.stop;
    if response.clicked()
        && let Some(at) = response.interact_pointer_pos()
        && let Some(fret) = chart.nearest(strip, at.x).map(|fret| fret.number)
    {
        *stop = if *stop == fret { 0 } else { fret.min(last) };
    }
    if response.has_focus() {
        let filter = egui::EventFilter { horizontal_arrows: true, ..Default::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let (less, more) = ui.input(|input| {
            (input.key_pressed(Press::ArrowLeft), input.key_pressed(Press::ArrowRight))
        });
        *stop = (*stop + usize::from(more)).saturating_sub(usize::from(less)).min(last);
    }
    marks::focus_ring(ui, response);
}

/// Which string, and where it is stopped.
fn controls(ui: &mut Ui, rect: Rect, study: &Study, layout: &Laid, view: &mut View) {
    let line = Rect::from_min_size(
        rect.min + vec2(0.0, space::S),
        vec2(rect.width() - space::L, space::HIT),
    );
    let builder =
        egui::UiBuilder::new().max_rect(line).layout(Layout::right_to_left(Align::Center));
    let ui = &mut ui.new_child(builder);
    theme::quiet(ui);
    let shown = &mut view.strings;
    let stops = layout.positions.len();
    let response = ComboBox::from_id_salt("stop of the swing")
        .selected_text(note_words(shown.stop, layout))
        .show_ui(ui, |ui| {
            for stop in 0..stops {
                ui.selectable_value(&mut shown.stop, stop, note_words(stop, layout));
            }
        })
        .response;
    response.accessible_name("Where the string is stopped");
    let name = |index: usize| format!("{} · {}", index + 1, string_name(study, index));
    let response = ComboBox::from_id_salt("string of the swing")
        .selected_text(name(shown.string))
        .show_ui(ui, |ui| {
            for index in 0..study.design.strings.len() {
                ui.selectable_value(&mut shown.string, index, name(index));
            }
        })
        .response;
    response.accessible_name("String shown over the frets");
    let heading = egui::RichText::new("Shown").color(theme::palette(ui).dim);
    let response = ui.add(egui::Label::new(heading).selectable(false));
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, "Shown"));
}
