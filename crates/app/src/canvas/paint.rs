//! Draws a scene, and nothing else, with the colours of the theme.

use std::cell::RefCell;

use egui::epaint::{Mesh, PathShape, PathStroke, Vertex, WHITE_UV};
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Vec2, pos2, vec2};
use kurbo::{BezPath, PathEl, Point};
use overstand_core::dimension::Dim;
use overstand_core::units::{LengthStyle, Unit};
use overstand_drawing::scene::{Anchor, Item, Line, PartName, Scene, measure_digits};

use super::fill::triangles;
use super::transform::Transform;
use crate::theme::{self, Palette, space, stroke};
use crate::values;

/// How far a drawn curve may be from the true one, in logical pixels.
const FLATNESS: f64 = 0.15;
/// Length of an arrowhead, in logical pixels.
const ARROW: f32 = 7.0;
/// The pieces an arc is drawn of.
const STEPS: usize = 16;

/// What the drawing is done with.
pub(crate) struct Pen<'a> {
    pub(crate) painter: &'a Painter,
    pub(crate) palette: &'a Palette,
    pub(crate) transform: Transform,
    pub(crate) style: LengthStyle,
    /// The part under the pointer.
    pub(crate) part: Option<PartName>,
    /// Whether a dimension is found.
    pub(crate) is_found: &'a dyn Fn(Dim) -> bool,
    /// Where the figures of dimension lines were written, and what each is.
    pub(crate) figures: RefCell<Vec<(Rect, &'static str)>>,
}

impl Pen<'_> {
    /// What the figure at a place is, where there is one.
    pub(crate) fn figure_at(&self, at: Pos2) -> Option<&'static str> {
        let figures = self.figures.borrow();
        figures.iter().rev().find(|(place, _)| place.contains(at)).map(|(_, name)| *name)
    }

    pub(crate) fn scene(&self, scene: &Scene) {
        for shape in &scene.shapes {
            let lit = shape.part.is_some() && shape.part == self.part;
            match &shape.item {
                Item::Area { path, material, edge } => {
                    for outline in lines(path, self.transform) {
                        self.painter.add(filled(&outline, self.palette.material(*material)));
                        self.line(&outline, *edge, true, lit);
                    }
                }
                Item::Stroke { path, line } => {
                    let closed = matches!(path.elements().last(), Some(PathEl::ClosePath));
                    for points in lines(path, self.transform) {
                        self.line(&points, *line, closed, lit);
                    }
                }
                _ => {}
            }
        }
        // no line of the drawing crosses out a figure, nor do the long legs of an angle
        let (angles, others): (Vec<_>, Vec<_>) =
            scene.shapes.iter().partition(|shape| matches!(shape.item, Item::Angle { .. }));
        for shape in &angles {
            self.legs(&shape.item);
        }
        for shape in others.into_iter().chain(angles) {
            self.said(&shape.item);
        }
    }

    /// What is written on the drawing.
    fn said(&self, item: &Item) {
        match item {
            Item::Area { .. } | Item::Stroke { .. } => {}
            Item::Text { at, anchor, text } => self.words(*at, *anchor, text),
            Item::Dimension { from, to, offset, value, dim } => {
                let text = values::show_dim(dim.info(), *value, self.style);
                let chip = self.dimension([*from, *to], *offset, &text, (self.is_found)(*dim));
                self.name(chip, dim.info().name);
            }
            Item::Measure { from, to, offset, value, name } => {
                let digits = measure_digits(*value);
                let text = values::show(*value, Unit::Length, digits, self.style);
                let chip = self.dimension([*from, *to], *offset, &text, false);
                self.name(chip, name);
            }
            Item::Angle { vertex, from, to, value, dim } => {
                let name = dim.info().name.to_lowercase();
                let text = format!("{name} {}", values::show_dim(dim.info(), *value, self.style));
                let words = self.angle([*vertex, *from, *to], &text, (self.is_found)(*dim));
                self.name(Some(words), dim.info().name);
            }
        }
    }

    fn name(&self, figure: Option<Rect>, name: &'static str) {
        self.figures.borrow_mut().extend(figure.map(|figure| (figure, name)));
    }

    fn line(&self, points: &[Pos2], line: Line, closed: bool, lit: bool) {
        let palette = self.palette;
        let (mut width, colour) = match line {
            Line::Visible => (stroke::VISIBLE, palette.ink),
            Line::Hidden | Line::Range => (stroke::THIN, palette.ink),
            Line::Centre | Line::Thin | Line::Ghost => (stroke::THIN, palette.dim),
            Line::String => (stroke::STRING, palette.ink),
        };
        if lit {
            width = stroke::STRONG;
        }
        let pen = Stroke::new(width, colour);
        let mut points = points.to_vec();
        if closed && let Some(&first) = points.first() {
            points.push(first);
        }
        match line {
            Line::Visible | Line::Thin => self.whole(points, pen),
            Line::String => {
                // no wider than a little of the board, or it would hide it from afar
                let halo = stroke::HALO.min(width + self.transform.zoom as f32);
                self.whole(points.clone(), Stroke::new(halo, palette.paper));
                self.whole(points, pen);
            }
            Line::Hidden => self.dashed(&points, pen, &stroke::HIDDEN),
            Line::Centre => self.dashed(&points, pen, &stroke::CENTRE),
            Line::Range | Line::Ghost => self.dashed(&points, pen, &stroke::RANGE),
        }
    }

    fn whole(&self, points: Vec<Pos2>, pen: Stroke) {
        self.painter.add(PathShape::line(points, PathStroke::new(pen.width, pen.color)));
    }

    fn dashed(&self, points: &[Pos2], pen: Stroke, pattern: &[f32]) {
        let sight = self.painter.clip_rect().expand(space::HIT);
        dashes(points, pen, pattern, sight, &mut |shapes| self.painter.extend(shapes));
    }

    fn words(&self, at: Point, anchor: Anchor, text: &str) {
        let (align, away) = match anchor {
            Anchor::Below => (Align2::CENTER_BOTTOM, vec2(0.0, -space::S)),
            Anchor::Above => (Align2::CENTER_TOP, vec2(0.0, space::S)),
            Anchor::Left => (Align2::LEFT_CENTER, vec2(space::S, 0.0)),
            Anchor::Right => (Align2::RIGHT_CENTER, vec2(-space::S, 0.0)),
            Anchor::Middle => (Align2::CENTER_CENTER, Vec2::ZERO),
        };
        let at = self.transform.to_screen(at) + away;
        self.painter.text(at, align, text, theme::label(), self.palette.ink);
    }

    fn figure(&self, is_found: bool) -> (FontId, Color32) {
        if is_found {
            (theme::heading(), self.palette.accent)
        } else {
            (theme::label(), self.palette.ink)
        }
    }

    /// A dimension line, set off to the left of the way from one end to the other. Returns
    /// where its figure stands.
    fn dimension(&self, ends: [Point; 2], offset: f64, text: &str, is_found: bool) -> Option<Rect> {
        let way = ends[1] - ends[0];
        let length = way.hypot();
        if length == 0.0 {
            return None;
        }
        let aside = kurbo::Vec2::new(-way.y, way.x) * (offset / length);
        let [from, to] = ends.map(|end| self.transform.to_screen(end));
        let [start, end] = ends.map(|end| self.transform.to_screen(end + aside));
        // one that is half out of sight says nothing
        let sight = self.painter.clip_rect();
        if ![start, end].iter().all(|at| sight.contains(*at)) {
            return None;
        }
        let (font, colour) = self.figure(is_found);
        let pen = Stroke::new(stroke::THIN, if is_found { colour } else { self.palette.dim });
        for (at, line) in [(from, start), (to, end)] {
            let away = (line - at).normalized();
            self.painter.line_segment([at + away * 2.0, line + away * space::S], pen);
        }
        let along = (end - start).normalized();
        let room = (end - start).length();
        let inside = room > 3.0 * ARROW;
        let (a, b) = if inside {
            (start, end)
        } else {
            (start - along * 2.0 * ARROW, end + along * 2.0 * ARROW)
        };
        self.painter.line_segment([a, b], pen);
        let inward = if inside { 1.0 } else { -1.0 };
        self.arrow(start, along * inward, pen.color);
        self.arrow(end, -along * inward, pen.color);
        // over a line that runs across, beside one that stands
        let galley = self.painter.layout_no_wrap(text.to_owned(), font, colour);
        let size = galley.size();
        let middle = start + (end - start) * 0.5;
        let at = if along.x.abs() > along.y.abs() {
            pos2(middle.x - size.x / 2.0, middle.y - size.y - 1.0)
        } else {
            // away from what is measured
            let away = if start.x < from.x { -space::S - size.x } else { space::S };
            pos2(middle.x + away, middle.y - size.y / 2.0)
        };
        // words stay in sight
        let over = (at.x + size.x - sight.right() + space::S).max(0.0);
        let under = (sight.left() + space::S - at.x).max(0.0);
        let at = at + vec2(under - over, 0.0);
        let chip = Rect::from_min_size(at, size).expand2(vec2(space::S / 2.0, 0.0));
        self.painter.rect_filled(chip, theme::CORNER, self.palette.paper);
        self.painter.galley(at, galley, colour);
        Some(chip)
    }

    fn arrow(&self, tip: Pos2, back: Vec2, colour: Color32) {
        let side = back.rot90() * (ARROW / 5.0);
        let end = tip + back * ARROW;
        let points = vec![tip, end + side, end - side];
        self.painter.add(Shape::convex_polygon(points, colour, Stroke::NONE));
    }

    /// The legs and the arc of an angle.
    fn legs(&self, item: &Item) {
        let Item::Angle { vertex, from, to, dim, .. } = item else { return };
        let (_, colour) = self.figure((self.is_found)(*dim));
        let colour = if (self.is_found)(*dim) { colour } else { self.palette.dim };
        let pen = Stroke::new(stroke::THIN, colour);
        let leg = [*vertex, beyond(*vertex, *from)].map(|at| self.transform.to_screen(at));
        self.dashed(&leg, pen, &stroke::CENTRE);
        let arc = arc([*vertex, *from, *to]).map(|at| self.transform.to_screen(at));
        self.painter.add(PathShape::line(arc.to_vec(), PathStroke::new(pen.width, pen.color)));
    }

    /// The words of an angle. Returns where they stand.
    fn angle(&self, [vertex, from, to]: [Point; 3], text: &str, is_found: bool) -> Rect {
        let (font, colour) = self.figure(is_found);
        let [start, end] =
            [from, arc([vertex, from, to])[STEPS]].map(|at| self.transform.to_screen(at));
        let up = start.y < end.y;
        let galley = self.painter.layout_no_wrap(text.to_owned(), font, colour);
        let size = galley.size();
        let leg = [vertex, beyond(vertex, from)].map(|at| self.transform.to_screen(at));
        let way = leg[1].x - leg[0].x;
        // along the leg where they have room, clear of what runs past its end; else past the
        // handles at both of its ends
        let (left, clear) = match way {
            _ if way.abs() < size.x => (start.x - size.x / 2.0, space::HANDLE + space::S),
            0.0.. => (start.x - size.x, space::S),
            _ => (start.x, space::S),
        };
        let top = if up { start.y - clear - size.y } else { start.y + clear };
        let chip = Rect::from_min_size(pos2(left, top), size);
        self.painter.rect_filled(
            chip.expand2(vec2(space::S / 2.0, 0.0)),
            theme::CORNER,
            self.palette.paper,
        );
        self.painter.galley(chip.min, galley, colour);
        chip
    }

    /// The scale bar in the upper right corner, and where it stands.
    pub(crate) fn scale_bar(&self, right_top: Pos2) -> Rect {
        let inch = self.style.is_inch();
        let unit = if inch { overstand_core::units::MM_PER_INCH } else { 1.0 };
        let zoom = self.transform.zoom;
        let length = super::transform::scale_bar(zoom * unit, f64::from(space::SCALE_BAR));
        let pixels = (length * unit * zoom) as f32;
        let (right, left) = (right_top, right_top - vec2(pixels, 0.0));
        let text = format!("{length} {}", if inch { "in" } else { "mm" });
        let galley = self.painter.layout_no_wrap(text, theme::label(), self.palette.dim);
        let size = galley.size();
        let words = Align2::RIGHT_CENTER.anchor_size(left - vec2(space::M, 0.0), size);
        // zoomed in, wood and metal lie beneath
        let chip = words.with_max_x(right.x).expand2(vec2(space::S, 0.0));
        self.painter.rect_filled(chip, theme::CORNER, self.palette.paper);
        let pen = Stroke::new(stroke::VISIBLE, self.palette.dim);
        self.painter.line_segment([left, right], pen);
        for end in [left, right] {
            self.painter.line_segment([end - vec2(0.0, space::S), end + vec2(0.0, space::S)], pen);
        }
        self.painter.galley(words.min, galley, self.palette.dim);
        chip
    }
}

/// A little further along a leg of an angle than its arc.
fn beyond(vertex: Point, from: Point) -> Point {
    vertex + (from - vertex) * 1.05
}

/// The arc of an angle at a vertex, from the first leg's end to the second leg.
fn arc([vertex, from, to]: [Point; 3]) -> [Point; STEPS + 1] {
    let [first, second] = [from - vertex, to - vertex].map(kurbo::Vec2::atan2);
    let mut sweep = second - first;
    if sweep.abs() > std::f64::consts::PI {
        sweep -= sweep.signum() * std::f64::consts::TAU;
    }
    let reach = (from - vertex).hypot();
    std::array::from_fn(|step| {
        let turned = first + sweep * step as f64 / STEPS as f64;
        vertex + kurbo::Vec2::from_angle(turned) * reach
    })
}

/// The points of a path on the screen, one list for each piece of it.
pub(super) fn lines(path: &BezPath, transform: Transform) -> Vec<Vec<Pos2>> {
    let on_screen = |at: Point| {
        let at = transform.to_screen(at);
        Point::new(at.x.into(), at.y.into())
    };
    let elements = path.elements().iter().map(|element| match *element {
        PathEl::MoveTo(a) => PathEl::MoveTo(on_screen(a)),
        PathEl::LineTo(a) => PathEl::LineTo(on_screen(a)),
        PathEl::QuadTo(a, b) => PathEl::QuadTo(on_screen(a), on_screen(b)),
        PathEl::CurveTo(a, b, c) => PathEl::CurveTo(on_screen(a), on_screen(b), on_screen(c)),
        PathEl::ClosePath => PathEl::ClosePath,
    });
    let mut lines: Vec<Vec<Pos2>> = Vec::new();
    kurbo::flatten(elements, FLATNESS, |element| match element {
        PathEl::MoveTo(at) => lines.push(vec![pos2(at.x as f32, at.y as f32)]),
        PathEl::LineTo(at) => {
            if let Some(line) = lines.last_mut() {
                line.push(pos2(at.x as f32, at.y as f32));
            }
        }
        PathEl::ClosePath | PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    lines
}

/// An outline filled with a colour.
pub(super) fn filled(outline: &[Pos2], colour: Color32) -> Mesh {
    let mut mesh = Mesh::default();
    mesh.vertices.extend(outline.iter().map(|&pos| Vertex { pos, uv: WHITE_UV, color: colour }));
    // an outline has nowhere near 2^32 points
    mesh.indices.extend(triangles(outline).into_iter().flatten().map(|index| index as u32));
    mesh
}

/// A dashed line, of which only what is in sight is made.
pub(super) fn dashes(
    points: &[Pos2],
    pen: Stroke,
    pattern: &[f32],
    sight: Rect,
    put: &mut dyn FnMut(Vec<Shape>),
) {
    let (dashes, gaps): (Vec<f32>, Vec<f32>) =
        pattern.chunks(2).filter_map(|pair| Some((*pair.first()?, *pair.get(1)?))).unzip();
    let mut run: Vec<Pos2> = Vec::new();
    let mut flush = |run: &mut Vec<Pos2>| {
        if run.len() > 1 {
            put(Shape::dashed_line_with_offset(run, pen, &dashes, &gaps, 0.0));
        }
        run.clear();
    };
    for pair in points.windows(2) {
        let &[a, b] = pair else { continue };
        match clipped(a, b, sight) {
            Some((a, b)) => {
                if run.last() != Some(&a) {
                    flush(&mut run);
                    run.push(a);
                }
                run.push(b);
            }
            None => flush(&mut run),
        }
    }
    flush(&mut run);
}

/// The part of a segment inside a rectangle (Liang and Barsky, 1984).
fn clipped(a: Pos2, b: Pos2, sight: Rect) -> Option<(Pos2, Pos2)> {
    let way = b - a;
    let (mut enter, mut leave) = (0.0_f32, 1.0_f32);
    for (speed, room) in [
        (-way.x, a.x - sight.left()),
        (way.x, sight.right() - a.x),
        (-way.y, a.y - sight.top()),
        (way.y, sight.bottom() - a.y),
    ] {
        if speed == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if speed < 0.0 {
            enter = enter.max(room / speed);
        } else {
            leave = leave.min(room / speed);
        }
    }
    // an end that is inside stays exactly where it is
    let at = |part: f32| {
        if part == 0.0 {
            a
        } else if part == 1.0 {
            b
        } else {
            a + way * part
        }
    };
    (enter <= leave).then(|| (at(enter), at(leave)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_in_sight_is_kept() {
        let sight = Rect::from_min_max(pos2(0.0, 0.0), pos2(100.0, 50.0));
        let at = |x, y| pos2(x, y);
        assert_eq!(
            clipped(at(10.0, 10.0), at(90.0, 40.0), sight),
            Some((at(10.0, 10.0), at(90.0, 40.0)))
        );
        assert_eq!(
            clipped(at(-1000.0, 20.0), at(1100.0, 20.0), sight),
            Some((at(0.0, 20.0), at(100.0, 20.0)))
        );
        assert_eq!(clipped(at(-10.0, 20.0), at(-10.0, 30.0), sight), None);
        assert_eq!(clipped(at(-60.0, 10.0), at(10.0, -60.0), sight), None);
    }
}
