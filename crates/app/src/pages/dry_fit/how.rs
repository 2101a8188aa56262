//! How it is measured: a plain picture, and words.

use egui::{Color32, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2, pos2, vec2};
use overstand_drawing::scene::Material;

use super::entry::{Across, Sort};
use crate::pages::fields::dim;
use crate::theme::{self, Palette, space, stroke};

/// Shows both.
pub(super) fn show(ui: &mut Ui, sort: Sort, across: Across) {
    let size = vec2(ui.available_width(), space::PICTURE);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let words = words(sort, across);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, words));
    let palette = theme::palette(ui);
    let painter = ui.painter().with_clip_rect(rect);
    painter.rect_filled(rect, theme::CORNER, palette.paper);
    let pen = Pen { painter: &painter, palette, rect };
    match sort {
        Sort::Crowns | Sort::Board | Sort::Neck => pen.straightedge(sort),
        Sort::Gauge => pen.gauge(),
        Sort::Top => pen.feeler(true),
        Sort::Foot => pen.feeler(false),
        Sort::Aim => pen.aim(),
        Sort::Roll => pen.roll(),
    }
    dim(ui, words);
}

fn words(sort: Sort, across: Across) -> &'static str {
    match (sort, across) {
        (Sort::Crowns | Sort::Board | Sort::Neck, Across::Middle) => {
            "Lay the straightedge along the centre line and out over the body, clear of the board's \
             end. Read the height of its lower edge over the top, square to the top: once at the \
             bridge line, once at a second place well away from it."
        }
        (Sort::Crowns | Sort::Board | Sort::Neck, _) => {
            "Lay the straightedge beside the centre line, along it, and read the height over the \
             top below it. Read the other side as well: the two together tell how the board leans."
        }
        (Sort::Gauge, _) => {
            "Set the gauge on the board and read it, then on the body. If it was zeroed on the \
             body, leave the second empty. Both are positive when they rise toward the tail."
        }
        (Sort::Top, _) => {
            "Hold the neck home and slide the thickest feeler that goes between shoulder and end \
             wall, at the board. 0 where none goes in."
        }
        (Sort::Foot, _) => {
            "Hold the neck home and slide the thickest feeler that goes between shoulder and end \
             wall, at the foot, far from the board. 0 where none goes in."
        }
        (Sort::Aim, _) => {
            "Stretch a thread along the neck's centre line out over the body, and read how far it \
             passes beside the body's: + toward the treble, − toward the bass."
        }
        (Sort::Roll, _) => {
            "Set the gauge across the board and across the body: the lean between them is + where \
             the treble side stands higher."
        }
    }
}

/// Draws in parts of the picture's width and height.
struct Pen<'a> {
    painter: &'a Painter,
    palette: &'a Palette,
    rect: Rect,
}

impl Pen<'_> {
    fn at(&self, x: f32, y: f32) -> Pos2 {
        self.rect.min + vec2(x, y) * self.rect.size()
    }

    fn area(&self, points: &[(f32, f32)], colour: Color32) {
        let points = points.iter().map(|&(x, y)| self.at(x, y)).collect();
        let edge = Stroke::new(stroke::VISIBLE, self.palette.ink);
        self.painter.add(Shape::convex_polygon(points, colour, edge));
    }

    fn line(&self, from: (f32, f32), to: (f32, f32)) {
        let pen = Stroke::new(stroke::VISIBLE, self.palette.ink);
        self.painter.line_segment([self.at(from.0, from.1), self.at(to.0, to.1)], pen);
    }

    fn chain(&self, from: (f32, f32), to: (f32, f32)) {
        let pen = Stroke::new(stroke::THIN, self.palette.dim);
        let ends = [self.at(from.0, from.1), self.at(to.0, to.1)];
        let [dash, gap, dot, other] = stroke::CENTRE;
        let (dashes, gaps) = ([dash, dot], [gap, other]);
        self.painter.extend(Shape::dashed_line_with_offset(&ends, pen, &dashes, &gaps, 0.0));
    }

    /// What is read, between two points: an arrow at each end.
    fn measure(&self, from: (f32, f32), to: (f32, f32)) {
        let pen = Stroke::new(stroke::STRONG, self.palette.ink);
        let ends = [self.at(from.0, from.1), self.at(to.0, to.1)];
        let way = (ends[1] - ends[0]).normalized();
        self.painter.line_segment(ends, pen);
        for (tip, back) in [(ends[0], way), (ends[1], -way)] {
            let side = back.rot90() * 2.5;
            let end = tip + back * 5.0;
            let points = vec![tip, end + side, end - side];
            self.painter.add(Shape::convex_polygon(points, pen.color, Stroke::NONE));
        }
    }

    fn wood(&self, material: Material) -> Color32 {
        self.palette.material(material)
    }

    /// Height of the board's surface in the side view.
    fn surface(x: f32) -> f32 {
        0.62 - 0.3 * x
    }

    /// Neck and body from the side; the board where there is one.
    fn side(&self, board: bool) {
        let y = Self::surface;
        self.area(
            &[(0.34, 0.72), (1.02, 0.72), (1.02, 1.1), (0.34, 1.1)],
            self.wood(Material::Body),
        );
        let low = 0.1;
        self.area(
            &[(-0.02, y(-0.02) + low), (0.34, y(0.34) + low), (0.34, 0.95), (-0.02, 0.86)],
            self.wood(Material::Neck),
        );
        if board {
            self.area(
                &[
                    (-0.02, y(-0.02)),
                    (0.46, y(0.46)),
                    (0.46, y(0.46) + low),
                    (-0.02, y(-0.02) + low),
                ],
                self.wood(Material::Board),
            );
        }
    }

    fn straightedge(&self, sort: Sort) {
        self.side(sort != Sort::Neck);
        let y = |x: f32| {
            Self::surface(x)
                + match sort {
                    Sort::Neck => 0.1,
                    Sort::Board => 0.0,
                    _ => -0.04,
                }
        };
        if sort == Sort::Crowns {
            for fret in [0.04, 0.14, 0.24, 0.33, 0.41] {
                let at = self.at(fret, Self::surface(fret) - 0.015);
                self.painter.circle_filled(at, 2.0, self.wood(Material::Metal));
            }
        }
        let thick = 0.1;
        self.area(
            &[(0.06, y(0.06)), (0.96, y(0.96)), (0.96, y(0.96) - thick), (0.06, y(0.06) - thick)],
            self.wood(Material::Metal),
        );
        for x in [0.6, 0.88] {
            self.measure((x, 0.72), (x, y(x)));
        }
    }

    fn gauge(&self) {
        self.side(true);
        for (x, y, turn) in [(0.2, Self::surface(0.2), -0.4), (0.72, 0.72, 0.0)] {
            let radius = 0.2 * self.rect.height();
            let foot = self.at(x, y);
            let middle = foot - vec2(0.0, radius);
            let pen = Stroke::new(stroke::VISIBLE, self.palette.ink);
            self.painter.circle(middle, radius, self.palette.field, pen);
            let way = Vec2::angled(turn - std::f32::consts::FRAC_PI_2) * (0.75 * radius);
            let needle = Stroke::new(stroke::STRONG, self.palette.ink);
            self.painter.line_segment([middle, middle + way], needle);
        }
    }

    /// The shoulder close up: it stands open at its top or its foot.
    fn feeler(&self, top: bool) {
        let (high, low) = (0.14, 0.9);
        self.area(
            &[(0.55, 0.36), (1.02, 0.36), (1.02, 1.1), (0.55, 1.1)],
            self.wood(Material::Body),
        );
        let open = 0.05;
        let at = |y: f32| {
            let part = (y - 0.36) / (low - 0.36);
            0.55 - open * if top { 1.0 - part } else { part }
        };
        self.area(
            &[
                (-0.02, high + 0.12),
                (at(0.36), high + 0.12),
                (at(0.36), 0.36),
                (at(low), low),
                (-0.02, low),
            ],
            self.wood(Material::Neck),
        );
        self.area(
            &[(-0.02, high), (0.8, high), (0.8, high + 0.12), (-0.02, high + 0.12)],
            self.wood(Material::Board),
        );
        let y = if top { 0.42 } else { low - 0.05 };
        let (from, to) =
            if top { ((0.53, y - 0.02), (0.53, 1.0)) } else { ((0.53, y), (0.53, 1.06)) };
        let pen = Stroke::new(stroke::STRONG + 1.0, self.wood(Material::Metal));
        self.painter.line_segment([self.at(from.0, from.1), self.at(to.0, to.1)], pen);
        let mark = self.at(0.53, y);
        self.painter.circle_stroke(mark, 7.0, Stroke::new(stroke::STRONG, self.palette.ink));
    }

    /// From above: the thread passes beside the centre line.
    fn aim(&self) {
        self.area(&[(0.4, 0.12), (1.02, 0.12), (1.02, 0.9), (0.4, 0.9)], self.wood(Material::Body));
        let y = |x: f32| 0.5 - 0.16 * (x - 0.4);
        let half = 0.12;
        self.area(
            &[
                (-0.02, y(-0.02) - half),
                (0.46, y(0.46) - half),
                (0.46, y(0.46) + half),
                (-0.02, y(-0.02) + half),
            ],
            self.wood(Material::Board),
        );
        self.chain((0.4, 0.51), (1.0, 0.51));
        self.line((0.0, y(0.0)), (0.94, y(0.94)));
        self.measure((0.86, 0.51), (0.86, y(0.86) - 0.02));
    }

    /// From the tail: the board leans against the body.
    fn roll(&self) {
        self.area(
            &[(0.12, 0.66), (0.88, 0.66), (0.88, 1.1), (0.12, 1.1)],
            self.wood(Material::Body),
        );
        let y = |x: f32| 0.42 - 0.22 * (x - 0.5);
        self.area(
            &[(0.34, y(0.34)), (0.66, y(0.66)), (0.66, y(0.66) + 0.14), (0.34, y(0.34) + 0.14)],
            self.wood(Material::Board),
        );
        self.line((0.2, y(0.2)), (0.8, y(0.8)));
        self.chain((0.2, 0.42), (0.8, 0.42));
        self.measure((0.76, 0.42), (0.76, y(0.76) - 0.01));
        let words = |x: f32, text: &str| {
            let at = pos2(self.at(x, 0.0).x, self.at(0.0, 0.2).y);
            let (font, ink) = (theme::label(), self.palette.dim);
            self.painter.text(at, egui::Align2::CENTER_CENTER, text, font, ink);
        };
        words(0.14, "bass");
        words(0.88, "treble");
    }
}
