//! The chart of the strip.

use egui::{Align2, Painter, Pos2, Rect, Shape, Stroke, Ui, Vec2, pos2, vec2};
use egui_plot::{FilledArea, Line, PlotPoint, PlotPoints, PlotTransform};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::State;
use overstand_drawing::strip::{Strip, StripFret, StripLine};

use super::{DIGITS, is_fretted, string_name};
use crate::chart::{Axis, Chart};
use crate::marks;
use crate::theme::{self, Palette, space, stroke};
use crate::values;
use crate::view::{CanvasId, View};

/// Width and height of a fret's mark, in logical pixels.
const FRET: [f32; 2] = [3.0, 8.0];
/// Least distance between the numbers of frets, in logical pixels.
const APART: f64 = 26.0;
/// Fewest millimetres in sight when it is zoomed.
const LEAST: f64 = 10.0;

/// The strip as it stands on the screen.
pub(super) struct Shown {
    /// What the pointer and the keys do to it.
    pub(super) response: egui::Response,
    transform: PlotTransform,
}

/// Shows the strip as a chart; none where it has no room or nothing to show.
pub(super) fn show(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    strip: &Strip,
    style: LengthStyle,
    view: &mut View,
) -> Option<Shown> {
    let last = strip.frets.last()?;
    let area = Rect::from_min_max(
        rect.min + vec2(space::M, space::CANVAS_HEAD + space::S),
        rect.max - vec2(0.0, space::S),
    );
    let up = Axis::length("Clearance", style);
    let inside = Rect::from_min_max(
        area.min + vec2(up.thickness(egui_plot::Axis::Y), 0.0),
        area.max - vec2(0.0, Axis::named("Fret", Vec::new()).thickness(egui_plot::Axis::X)),
    );
    if inside.height() < space::HIT || inside.width() < space::CANVAS {
        return None;
    }
    let across = across(inside, strip, last.x, view);
    let zoom = f64::from(inside.width()) / (across[1] - across[0]);
    let numbers = strip
        .numbers(APART / zoom)
        .into_iter()
        .map(|fret| (fret.x, fret.number.to_string()))
        .collect();
    let along = if is_fretted(study) { "Fret" } else { "Semitone" };
    let axes = [Axis::named(along, numbers), up];
    let palette = theme::palette(ui);
    let ui = &mut ui.new_child(egui::UiBuilder::new().max_rect(area));
    let is_free = !view.is_aligned;
    let chart = Chart::new(ui, "clearance", "", axes)
        .with(|plot| {
            plot.show_grid([false, true])
                .show_x(false)
                .show_y(false)
                .allow_zoom([is_free, false])
                .allow_drag([is_free, false])
        })
        .without_keys();
    // frets lie under the lines, but are known to stand only when the chart does
    let under = ui.painter().add(Shape::Noop);
    let shown = chart.show(ui, move |plot| {
        plot.set_plot_bounds_x(across[0]..=across[1]);
        plot.set_plot_bounds_y(heights(plot.response().rect.height(), strip));
        let scroll = plot.ctx().input(|input| input.smooth_scroll_delta().y);
        if is_free && plot.response().contains_pointer() && scroll != 0.0 {
            // a notch of a wheel is about 50 points, as in the drawings
            plot.zoom_bounds_around_hovered(vec2((scroll / 200.0).exp(), 1.0));
        }
        let xs: Vec<f64> = strip.band.iter().map(|at| at.x).collect();
        let lows: Vec<f64> = strip.band.iter().map(|at| at.low).collect();
        let highs: Vec<f64> = strip.band.iter().map(|at| at.high).collect();
        plot.add(FilledArea::new("wanted", &xs, &lows, &highs).fill_color(palette.wanted));
        let outer = outer(strip);
        for line in strip.stopped.iter().chain(&strip.open) {
            let is_outer = outer.contains(&Some(line.string));
            let (width, colour) = match line.stop {
                0 if is_outer => (stroke::STRONG, palette.ink),
                0 => (stroke::THIN, palette.ink),
                _ => (stroke::VISIBLE, palette.dim),
            };
            let points: PlotPoints<'_> =
                line.points.iter().map(|point| [point.at.x, point.at.y]).collect();
            plot.line(Line::new("", points).stroke(Stroke::new(width, colour)));
        }
    });
    let painted = Shown { response: shown.response, transform: shown.transform };
    painted.remember(across, strip, last.x, view);
    let frame = *painted.transform.frame();
    let painter = ui.painter().with_clip_rect(rect);
    painter.with_clip_rect(frame).set(under, painted.frets(palette, strip, APART / zoom));
    if let Some(fret) = painted.response.hover_pos().and_then(|at| painted.nearest(strip, at.x)) {
        let x = painted.at(fret.x, 0.0).x;
        painter.vline(x, frame.y_range(), Stroke::new(stroke::THIN, palette.hairline));
    }
    let inside = painter.with_clip_rect(frame);
    for line in strip.open.iter().chain(&strip.stopped) {
        painted.contacts(&inside, palette, line);
    }
    painted.figures(&inside, palette, study, strip, style, view);
    Some(painted)
}

/// The outermost strings that are shown.
fn outer(strip: &Strip) -> [Option<usize>; 2] {
    [strip.open.first(), strip.open.last()].map(|line| line.map(|line| line.string))
}

/// What is in sight across: under the elevation, or zoomed by hand, or all frets.
fn across(inside: Rect, strip: &Strip, last: f64, view: &View) -> [f64; 2] {
    let whole = view.cameras.get(&CanvasId::Whole).and_then(|camera| camera.transform);
    if let Some(whole) = whole.filter(|_| view.is_aligned) {
        return [inside.left(), inside.right()].map(|x| whole.to_mm(pos2(x, inside.top())).x);
    }
    let length = (last - strip.nut).max(1.0);
    // room for the names of the strings behind the last fret
    let [before, behind] = [space::M, space::FIT + space::XL].map(|side| {
        let free = (inside.width() - space::M - space::FIT - space::XL).max(1.0);
        length * f64::from(side / free)
    });
    view.strip_range.unwrap_or([strip.nut - before, last + behind])
}

/// What is in sight upward, when the chart is so high on the screen.
fn heights(room: f32, strip: &Strip) -> std::ops::RangeInclusive<f64> {
    let (low, high) = (strip.heights.0, round_up(strip.heights.1 * 1.08));
    let below = FRET[1] + 2.0;
    let part = f64::from(below / (room - below).max(1.0));
    low - (high - low) * part..=high
}

impl Shown {
    /// How many times larger heights are than lengths.
    pub(super) fn stretch(&self) -> f64 {
        let [across, up] = self.transform.dpos_dvalue();
        (up / across).abs()
    }

    fn at(&self, x: f64, y: f64) -> Pos2 {
        self.transform.position_from_point(&PlotPoint::new(x, y))
    }

    /// The fret nearest to a place on the screen.
    pub(super) fn nearest(&self, strip: &Strip, x: f32) -> Option<StripFret> {
        let away = |x_mm| (self.at(x_mm, 0.0).x - x).abs();
        strip.frets.iter().min_by(|a, b| away(a.x).total_cmp(&away(b.x))).copied()
    }

    /// Keeps what the pointer made of the range across; a double click gives all frets back.
    fn remember(&self, was: [f64; 2], strip: &Strip, last: f64, view: &mut View) {
        if view.is_aligned {
            return;
        }
        let range = self.transform.bounds().range_x();
        let (low, high) = (*range.start(), *range.end());
        let moved = (low - was[0]).abs() + (high - was[1]).abs() > 1e-6 * (was[1] - was[0]);
        if self.response.double_clicked() || high - low > 1.5 * (last - strip.nut) {
            view.strip_range = None;
        } else if moved && high - low > LEAST && low < last && high > strip.nut {
            view.strip_range = Some([low, high]);
        }
    }

    /// The frets, and the level of their crowns; those with a number reach up through the
    /// chart.
    fn frets(&self, palette: &Palette, strip: &Strip, apart: f64) -> Shape {
        let crowns = self.at(strip.nut, 0.0).y;
        let floor = crowns + FRET[1];
        let frame = self.transform.frame();
        let pen = Stroke::new(1.0, palette.field_border);
        let mut shapes = vec![Shape::hline(frame.x_range(), floor, pen)];
        let faint = Stroke::new(1.0, palette.hairline);
        shapes.extend(
            strip
                .numbers(apart)
                .iter()
                .map(|fret| Shape::vline(self.at(fret.x, 0.0).x, frame.top()..=crowns, faint)),
        );
        shapes.extend(strip.frets.iter().map(|fret| {
            let x = self.at(fret.x, 0.0).x;
            let half = Vec2::new(FRET[0] / 2.0, 0.0);
            let mark = Rect::from_min_max(pos2(x, crowns) - half, pos2(x, floor) + half);
            Shape::rect_filled(mark, 1.0, palette.dim)
        }));
        Shape::Vec(shapes)
    }

    /// Where a line lies on a crown it is crossed out.
    fn contacts(&self, painter: &Painter, palette: &Palette, line: &StripLine) {
        for point in line.points.iter().filter(|point| point.touches) {
            let at = self.at(point.at.x, point.at.y.max(0.0));
            painter.circle_filled(at, space::M, palette.paper);
            marks::state(painter, at, State::Fails, palette.state(State::Fails));
        }
    }

    /// The telling clearances, the stop, and the names of the outer strings.
    fn figures(
        &self,
        painter: &Painter,
        palette: &Palette,
        study: &Study,
        strip: &Strip,
        style: LengthStyle,
        view: &View,
    ) {
        let mut taken: Vec<Rect> = Vec::new();
        let is_in_sight = |at: Pos2| self.transform.frame().x_range().contains(at.x);
        for value in &strip.values {
            let number = values::parts(value.at.y, Unit::Length, DIGITS, style).0;
            let text = format!("{number} at {}", value.fret);
            // the lower of two lines has its words below
            let is_lower = strip
                .values
                .iter()
                .any(|other| other.fret == value.fret && other.at.y > value.at.y);
            let at = self.at(value.at.x, value.at.y);
            if !is_in_sight(at) {
                continue;
            }
            let (at, align) = if is_lower {
                (at + vec2(0.0, space::S), Align2::CENTER_TOP)
            } else {
                (at - vec2(0.0, space::S), Align2::CENTER_BOTTOM)
            };
            words(painter, palette, at, align, &text, &mut taken);
        }
        if let Some(line) = strip.stopped.first()
            && let Some(stop) = line.points.first()
        {
            let at = self.at(stop.at.x, stop.at.y);
            painter.circle_filled(at, space::S, palette.ink);
            let text = format!("stopped at {}", line.stop);
            let over = at - vec2(0.0, space::M);
            if is_in_sight(at) {
                words(painter, palette, over, Align2::CENTER_BOTTOM, &text, &mut taken);
            }
        }
        if view.string.is_none() && strip.open.len() > 1 {
            let mut ends: Vec<(Pos2, String)> = Vec::new();
            for line in [strip.open.first(), strip.open.last()].into_iter().flatten() {
                let Some(end) = line.points.last() else {
                    continue;
                };
                let at = self.at(end.at.x, end.at.y) + vec2(space::M, 0.0);
                let name = string_name(study, line.string);
                match ends.last_mut() {
                    // two that end at one place are named together
                    Some((other, names)) if (other.y - at.y).abs() < theme::size::LABEL => {
                        *names = format!("{names}, {name}");
                    }
                    _ => ends.push((at, name)),
                }
            }
            for (at, names) in ends {
                painter.text(at, Align2::LEFT_CENTER, names, theme::heading(), palette.dim);
            }
        }
    }
}

/// Words that find room, or none.
fn words(
    painter: &Painter,
    palette: &Palette,
    at: Pos2,
    align: Align2,
    text: &str,
    taken: &mut Vec<Rect>,
) {
    let galley = painter.layout_no_wrap(text.to_owned(), theme::heading(), palette.ink);
    let mut place = align.anchor_size(at, galley.size());
    let sight = painter.clip_rect();
    let over = (place.right() - sight.right() + space::M).max(0.0);
    let under = (sight.left() + space::S - place.left()).max(0.0);
    place = place.translate(vec2(under - over, 0.0));
    if taken.iter().any(|other| other.expand(space::S).intersects(place)) {
        return;
    }
    // lines that pass below do not cross out the figure
    let chip = palette.paper.gamma_multiply(0.7);
    painter.rect_filled(place.expand2(vec2(2.0, 0.0)), theme::CORNER, chip);
    painter.galley(place.min, galley, palette.ink);
    taken.push(place);
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
