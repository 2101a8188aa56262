//! The clearance over the frets: heights stretched, open and stopped strings over the
//! crowns, and the range in which they are wanted.

use egui::epaint::{Mesh, PathShape, PathStroke};
use egui::{
    Align, Align2, ComboBox, Key as Press, Layout, Painter, Pos2, Rect, Sense, Stroke, Ui,
    WidgetInfo, pos2, vec2,
};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::State;
use overstand_drawing::strip::{Strip, StripLine};

use super::{Transform, table};
use crate::marks;
use crate::theme::{self, Palette, space, stroke};
use crate::values;
use crate::view::{CanvasId, View};

/// Width and height of a fret's mark, in logical pixels.
const FRET: [f32; 2] = [3.0, 8.0];
/// Least distance between the numbers of frets, in logical pixels.
const APART: f64 = 26.0;
/// Decimals of a clearance that mean something.
pub(super) const DIGITS: usize = 2;

/// Shows the strip in a rectangle of the screen.
pub(crate) fn show(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    strip: &Strip,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    ui.painter().rect_filled(rect, 0.0, palette.paper);
    let mut ui = ui.new_child(egui::UiBuilder::new().id_salt("strip").max_rect(rect));
    ui.set_clip_rect(ui.clip_rect().intersect(rect));
    let ui = &mut ui;
    controls(ui, rect, study, style, view);
    if view.is_table {
        super::heading(ui, rect, "Clearance over the frets");
        if let Some(layout) = study.layout() {
            table::show(ui, rect, study, layout, view.table_stop, style);
        }
        return;
    }
    let Some(chart) = Chart::of(rect, strip, view) else {
        super::heading(ui, rect, "Clearance over the frets");
        return;
    };
    super::heading(
        ui,
        rect,
        &format!("Clearance over the frets · heights × {:.0}", chart.stretch()),
    );
    let response = ui.interact(chart.area, egui::Id::unique("strip chart"), Sense::click());
    let stop = view.stop.unwrap_or(0);
    response.widget_info(|| {
        WidgetInfo::slider(true, stop as f64, "Fret at which the strip shows a stopped string")
    });
    choose_stop(ui, &response, strip, &chart, view);
    let painter = ui.painter().with_clip_rect(rect);
    chart.paint(&painter, palette, study, strip, style, view);
    if let Some(at) = response.hover_pos()
        && let Some(fret) = chart.nearest(strip, at.x)
    {
        let x = chart.at(fret.x, 0.0).x;
        painter.vline(x, chart.area.y_range(), Stroke::new(stroke::THIN, palette.hairline));
        response.on_hover_ui_at_pointer(|ui| tip(ui, study, strip, fret.number, style));
    }
}

/// The fret at which a stopped string is shown: clicked, or chosen by the arrow keys.
fn choose_stop(ui: &Ui, response: &egui::Response, strip: &Strip, chart: &Chart, view: &mut View) {
    let last = strip.frets.len().saturating_sub(1);
    view.stop = view.stop.map(|stop| stop.min(last)).filter(|stop| *stop > 0);
    if response.clicked()
        && let Some(at) = response.interact_pointer_pos()
    {
        let clicked = chart.nearest(strip, at.x).map(|fret| fret.number).filter(|n| *n <= last);
        view.stop = if view.stop == clicked { None } else { clicked };
    }
    if response.has_focus() {
        let filter = egui::EventFilter { horizontal_arrows: true, ..Default::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let (less, more) = ui.input(|input| {
            (input.key_pressed(Press::ArrowLeft), input.key_pressed(Press::ArrowRight))
        });
        let stop = view.stop.unwrap_or(0);
        let next = (stop + usize::from(more)).saturating_sub(usize::from(less)).min(last);
        view.stop = (next > 0).then_some(next);
    }
    marks::focus_ring(ui, response);
}

/// Clearances over one fret.
fn tip(ui: &mut Ui, study: &Study, strip: &Strip, fret: usize, style: LengthStyle) {
    ui.label(egui::RichText::new(format!("Over fret {fret}")).font(theme::strong()));
    // of many strings the outer ones say what the others do
    let ends = |lines: &[StripLine]| {
        let last = lines.len().saturating_sub(1);
        let outer = |(index, line): (usize, &StripLine)| {
            (index == 0 || index == last).then(|| line.clone())
        };
        lines.iter().enumerate().filter_map(outer).collect::<Vec<_>>()
    };
    for line in ends(&strip.open).iter().chain(&ends(&strip.stopped)) {
        let Some(point) = line.points.iter().find(|point| point.fret == fret) else {
            continue;
        };
        let value = values::show(point.at.y, Unit::Length, DIGITS, style);
        let name = string_name(study, line.string);
        let text = match line.stop {
            0 => format!("{name} open: {value}"),
            stop if stop == fret => continue,
            stop => format!("{name} stopped at {stop}: {value}"),
        };
        ui.label(text);
    }
}

pub(super) fn string_name(study: &Study, index: usize) -> String {
    study.design.strings.get(index).map_or_else(String::new, |string| string.name.clone())
}

/// Where the strip stands on the screen.
struct Chart {
    /// From the lowest to the highest clearance, across the canvas.
    area: Rect,
    transform: Transform,
}

impl Chart {
    fn of(rect: Rect, strip: &Strip, view: &View) -> Option<Self> {
        let last = strip.frets.last()?;
        let area = Rect::from_min_max(
            rect.min + vec2(0.0, space::CANVAS_HEAD + space::S),
            rect.max - vec2(0.0, space::FIT + space::S),
        );
        if area.height() < space::HIT || area.width() < space::CANVAS {
            return None;
        }
        let (low, high) = (strip.heights.0, round_up(strip.heights.1 * 1.08));
        let above = f64::from(area.height()) / (high - low).max(1e-3);
        let whole = view.cameras.get(&CanvasId::Whole).and_then(|camera| camera.transform);
        let (zoom, left) = match whole.filter(|_| view.is_aligned) {
            Some(whole) => (whole.zoom, whole.to_screen(kurbo::Point::new(strip.nut, 0.0)).x),
            None => {
                let side = space::FIT + space::XL;
                let width = f64::from(area.width() - 2.0 * side);
                (width / (last.x - strip.nut).max(1.0), area.left() + side)
            }
        };
        // the nut at the left, the crowns at their level
        let crowns = area.bottom() - ((0.0 - low) * above) as f32;
        let transform = Transform {
            centre: kurbo::Point::new(strip.nut, 0.0),
            middle: pos2(left, crowns),
            zoom,
            stretch: above / zoom,
        };
        Some(Self { area, transform })
    }

    fn stretch(&self) -> f64 {
        self.transform.stretch
    }

    fn at(&self, x: f64, y: f64) -> Pos2 {
        self.transform.to_screen(kurbo::Point::new(x, y))
    }

    fn nearest(&self, strip: &Strip, x: f32) -> Option<overstand_drawing::strip::StripFret> {
        strip
            .frets
            .iter()
            .min_by(|a, b| {
                let away = |x_mm| (self.at(x_mm, 0.0).x - x).abs();
                away(a.x).total_cmp(&away(b.x))
            })
            .copied()
    }

    fn paint(
        &self,
        painter: &Painter,
        palette: &Palette,
        study: &Study,
        strip: &Strip,
        style: LengthStyle,
        view: &View,
    ) {
        self.band(painter, palette, strip);
        self.frets(painter, palette, strip);
        let mut taken: Vec<Rect> = Vec::new();
        let outer =
            [strip.open.first(), strip.open.last()].map(|line| line.map(|line| line.string));
        for line in &strip.stopped {
            self.line(painter, line, Stroke::new(stroke::VISIBLE, palette.dim), palette);
        }
        for line in &strip.open {
            let is_outer = outer.contains(&Some(line.string));
            let width = if is_outer { stroke::STRONG } else { stroke::THIN };
            self.line(painter, line, Stroke::new(width, palette.ink), palette);
        }
        for value in &strip.values {
            let number = values::parts(value.at.y, Unit::Length, DIGITS, style).0;
            let text = format!("{number} at {}", value.fret);
            // the lower of two lines has its words below
            let is_lower = strip
                .values
                .iter()
                .any(|other| other.fret == value.fret && other.at.y > value.at.y);
            let at = self.at(value.at.x, value.at.y);
            let (at, align) = if is_lower {
                (at + vec2(0.0, space::S), Align2::CENTER_TOP)
            } else {
                (at - vec2(0.0, space::S), Align2::CENTER_BOTTOM)
            };
            self.words(painter, palette, at, align, &text, &mut taken);
        }
        if let Some(line) = strip.stopped.first()
            && let Some(stop) = line.points.first()
        {
            let at = self.at(stop.at.x, stop.at.y);
            painter.circle_filled(at, space::S, palette.ink);
            let text = format!("stopped at {}", line.stop);
            let over = at - vec2(0.0, space::M);
            self.words(painter, palette, over, Align2::CENTER_BOTTOM, &text, &mut taken);
        }
        if view.string.is_none() && strip.open.len() > 1 {
            for line in [strip.open.first(), strip.open.last()].into_iter().flatten() {
                if let Some(end) = line.points.last() {
                    let at = self.at(end.at.x, end.at.y) + vec2(space::M, 0.0);
                    let name = string_name(study, line.string);
                    painter.text(at, Align2::LEFT_CENTER, name, theme::heading(), palette.dim);
                }
            }
        }
    }

    /// Words that find room, or none.
    fn words(
        &self,
        painter: &Painter,
        palette: &Palette,
        at: Pos2,
        align: Align2,
        text: &str,
        taken: &mut Vec<Rect>,
    ) {
        let galley = painter.layout_no_wrap(text.to_owned(), theme::heading(), palette.ink);
        let mut place = align.anchor_size(at, galley.size());
        let over = (place.right() - painter.clip_rect().right() + space::M).max(0.0);
        place = place.translate(vec2(-over, 0.0));
        if taken.iter().any(|other| other.expand(space::S).intersects(place)) {
            return;
        }
        // lines that pass below do not cross out the figure
        let chip = palette.paper.gamma_multiply(0.7);
        painter.rect_filled(place.expand2(vec2(2.0, 0.0)), theme::CORNER, chip);
        painter.galley(place.min, galley, palette.ink);
        taken.push(place);
    }

    /// The range in which the open strings are wanted.
    fn band(&self, painter: &Painter, palette: &Palette, strip: &Strip) {
        let mut mesh = Mesh::default();
        for (index, point) in strip.band.iter().enumerate() {
            mesh.colored_vertex(self.at(point.x, point.high), palette.wanted);
            mesh.colored_vertex(self.at(point.x, point.low), palette.wanted);
            if index > 0 {
                // two for each fret, of which there are at most a few dozen
                let base = 2 * (index as u32 - 1);
                mesh.add_triangle(base, base + 1, base + 2);
                mesh.add_triangle(base + 1, base + 2, base + 3);
            }
        }
        painter.add(mesh);
    }

    fn frets(&self, painter: &Painter, palette: &Palette, strip: &Strip) {
        let crowns = self.at(strip.nut, 0.0).y;
        let floor = crowns + FRET[1];
        painter.hline(
            self.area.x_range().shrink(space::XL),
            floor,
            Stroke::new(1.0, palette.hairline),
        );
        for fret in &strip.frets {
            let x = self.at(fret.x, 0.0).x;
            let mark =
                Rect::from_min_max(pos2(x - FRET[0] / 2.0, crowns), pos2(x + FRET[0] / 2.0, floor));
            painter.rect_filled(mark, 1.0, palette.dim);
        }
        for fret in strip.numbers(APART / self.transform.zoom) {
            let at = pos2(self.at(fret.x, 0.0).x, floor + space::S);
            let number = fret.number.to_string();
            painter.text(at, Align2::CENTER_TOP, number, theme::label(), palette.dim);
        }
    }

    /// A line over the crowns; where it lies on one it is crossed out.
    fn line(&self, painter: &Painter, line: &StripLine, pen: Stroke, palette: &Palette) {
        let points: Vec<Pos2> =
            line.points.iter().map(|point| self.at(point.at.x, point.at.y)).collect();
        painter.add(PathShape::line(points, PathStroke::new(pen.width, pen.color)));
        let colour = palette.state(State::Fails);
        for point in line.points.iter().filter(|point| point.touches) {
            let at = self.at(point.at.x, point.at.y.max(0.0));
            painter.circle_filled(at, space::M, palette.paper);
            marks::state(painter, at, State::Fails, colour);
        }
    }
}

/// The next round number above, so that the scale stands still while heights change a
/// little.
fn round_up(height: f64) -> f64 {
    let power = 10_f64.powf(height.max(1e-3).log10().floor());
    let steps = [1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0];
    steps
        .into_iter()
        .map(|step| step * power)
        .find(|round| *round >= height)
        .unwrap_or(10.0 * power)
}

/// Which string, aligned or filled, chart or table.
fn controls(ui: &mut Ui, rect: Rect, study: &Study, style: LengthStyle, view: &mut View) {
    let line = Rect::from_min_size(
        rect.min + vec2(0.0, space::S),
        vec2(rect.width() - space::L, space::HIT),
    );
    let builder =
        egui::UiBuilder::new().max_rect(line).layout(Layout::right_to_left(Align::Center));
    let ui = &mut ui.new_child(builder);
    theme::quiet(ui);
    let strings = study.design.strings.len();
    view.string = view.string.filter(|string| *string < strings);
    let name = |index: usize| format!("{} · {}", index + 1, string_name(study, index));
    let other = if view.is_table { "Chart" } else { "Table" };
    if ui.button(other).on_hover_text("The clearances as a chart or as a table").clicked() {
        view.is_table = !view.is_table;
    }
    if view.is_table {
        let copy = ui.button("Copy").on_hover_text("The whole table, for a spreadsheet");
        if copy.clicked()
            && let Some(layout) = study.layout()
        {
            ui.ctx().copy_text(table::as_text(study, layout, view.table_stop, style));
        }
        // the last fret has none behind it
        let stops = study.layout().map_or(0, |layout| layout.positions.len().saturating_sub(1));
        view.table_stop = view.table_stop.min(stops);
        let response = ComboBox::from_id_salt("stop of the table")
            .selected_text(table::heading(view.table_stop))
            .show_ui(ui, |ui| {
                for stop in 0..=stops {
                    ui.selectable_value(&mut view.table_stop, stop, table::heading(stop));
                }
            })
            .response;
        response.accessible_name("Strings of the table: open, or stopped at a fret");
        return;
    }
    let (text, tip) = if view.is_aligned {
        ("Aligned", "Each fret stands under that of the elevation. Click to fill the width.")
    } else {
        ("Filled", "The frets fill the width. Click to align them with the elevation.")
    };
    if ui.button(text).on_hover_text(tip).clicked() {
        view.is_aligned = !view.is_aligned;
    }
    let shown = view.string.map_or_else(|| "All strings".to_owned(), name);
    let response = ComboBox::from_id_salt("string of the strip")
        .selected_text(shown)
        .show_ui(ui, |ui| {
            ui.selectable_value(&mut view.string, None, "All strings");
            for index in 0..strings {
                ui.selectable_value(&mut view.string, Some(index), name(index));
            }
        })
        .response;
    response.accessible_name("Strings shown over the frets");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_scale_is_round_and_has_room() {
        for height in [0.0, 0.4, 1.01, 2.2, 7.0, 9.5, 120.0] {
            let round = round_up(height);
            assert!(round >= height && round <= 1.6 * height.max(1e-3), "{height} in {round}");
        }
    }
}
