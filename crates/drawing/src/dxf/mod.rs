//! A page as DXF, in millimetres: layers by meaning, standard line types, true arcs and
//! curves where the release knows them. Words are written with the characters that every
//! reader knows, dimensions as the lines, arrows and words that they consist of.

mod curve;
mod tables;

use std::fmt::Write as _;

use kurbo::{Affine, BezPath, PathEl, Point};

use crate::annotation::annotation;
use crate::font::CAPITAL;
use crate::paper::{Layer, Page, Ply};
use crate::scene::{Anchor, Item, Line};

use curve::{Corner, Knows, Piece, pieces};

/// Which release of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Release {
    /// AC1015: declares its units, knows curves.
    R2000,
    /// AC1009, for old machines: no curves, and no place to say that it is in millimetres.
    R12,
}

/// A layer of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Level {
    name: &'static str,
    line_type: &'static str,
    /// Index of the colour.
    colour: u8,
    /// Hundredths of a millimetre.
    weight: u16,
}

/// The layers, by meaning.
const LEVELS: [Level; 13] = [
    level("CUT", "CONTINUOUS", 1, 35),
    level("REFERENCE", "CONTINUOUS", 5, 35),
    level("VISIBLE", "CONTINUOUS", 7, 35),
    level("HIDDEN", "HIDDEN", 8, 18),
    level("CENTRE", "CENTER", 4, 18),
    level("THIN", "CONTINUOUS", 8, 18),
    level("STRINGS", "CONTINUOUS", 3, 18),
    level("RANGE", "CONTINUOUS", 6, 18),
    level("GHOST", "PHANTOM", 9, 18),
    level("DIMENSIONS", "CONTINUOUS", 2, 18),
    level("WORDS", "CONTINUOUS", 7, 18),
    level("BARS", "CONTINUOUS", 7, 35),
    level("MARKS", "CONTINUOUS", 8, 18),
];

const fn level(name: &'static str, line_type: &'static str, colour: u8, weight: u16) -> Level {
    Level { name, line_type, colour, weight }
}

/// The layer of a line in a ply.
fn level_of(ply: Ply, line: Line) -> &'static str {
    match (ply, line) {
        (Ply::Cut, _) => "CUT",
        (Ply::Reference, _) => "REFERENCE",
        (Ply::Dimensions, _) => "DIMENSIONS",
        (Ply::Words, _) => "WORDS",
        (Ply::Bars, _) => "BARS",
        (Ply::Marks, _) => "MARKS",
        (Ply::Drawing, Line::Visible) => "VISIBLE",
        (Ply::Drawing, Line::Hidden) => "HIDDEN",
        (Ply::Drawing, Line::Centre) => "CENTRE",
        (Ply::Drawing, Line::Thin) => "THIN",
        (Ply::Drawing, Line::String) => "STRINGS",
        (Ply::Drawing, Line::Range) => "RANGE",
        (Ply::Drawing, Line::Ghost) => "GHOST",
    }
}

/// A page as a DXF file. With `polylines` there is nothing but straight pieces.
pub fn dxf(page: &Page, release: Release, polylines: bool) -> String {
    let mut file = File { text: String::new(), release, polylines, handle: 0x100 };
    file.head(page);
    file.pair(0, "SECTION");
    file.pair(2, "ENTITIES");
    for layer in &page.layers {
        for shape in &layer.scene.shapes {
            file.item(layer, page.to_paper * layer.at, &shape.item);
        }
    }
    file.pair(0, "ENDSEC");
    file.foot();
    file.text
}

struct File {
    text: String,
    release: Release,
    polylines: bool,
    /// The last handle that was given out.
    handle: u32,
}

impl File {
    fn pair(&mut self, code: u16, value: impl std::fmt::Display) {
        // writing into a string cannot fail
        write!(self.text, "{code:3}\n{value}\n").unwrap_or_default();
    }

    fn number(&mut self, code: u16, value: f64) {
        // a tenth of a nanometre; never -0
        self.pair(code, format_args!("{:.7}", value + 0.0));
    }

    fn point(&mut self, code: u16, at: Point) {
        self.number(code, at.x);
        self.number(code + 10, at.y);
    }

    fn solid_point(&mut self, code: u16, at: Point) {
        self.point(code, at);
        self.number(code + 20, 0.0);
    }

    fn next_handle(&mut self) -> String {
        self.handle += 1;
        format!("{:X}", self.handle)
    }

    /// The beginning of an entity on a layer.
    fn entity(&mut self, kind: &str, level: &str, class: &str) {
        self.pair(0, kind);
        if self.release == Release::R2000 {
            let handle = self.next_handle();
            self.pair(5, handle);
            self.pair(330, tables::MODEL_SPACE);
            self.pair(100, "AcDbEntity");
            self.pair(8, level);
            self.pair(100, class);
        } else {
            self.pair(8, level);
        }
    }

    fn item(&mut self, layer: &Layer, to_page: Affine, item: &Item) {
        let ply = layer.ply;
        match item {
            Item::Area { path, edge, .. } => self.path(&(to_page * path), level_of(ply, *edge)),
            Item::Stroke { path, line } => self.path(&(to_page * path), level_of(ply, *line)),
            Item::Text { at, anchor, text } => {
                // words of the drawing stand with its dimensions
                let level = level_of(ply, Line::Thin);
                self.words(to_page * *at, 0.0, *anchor, text, layer.look.lettering, level);
            }
            Item::Dimension { .. } | Item::Angle { .. } | Item::Measure { .. } => {
                let Some(note) = annotation(item, &layer.look) else { return };
                let level = level_of(Ply::Dimensions, Line::Thin);
                for line in &note.lines {
                    self.path(&(to_page * line), level);
                }
                for arrow in &note.arrows {
                    self.arrow(&(to_page * arrow), level);
                }
                let lettering = layer.look.lettering;
                self.words(to_page * note.at, note.turn, note.anchor, &note.text, lettering, level);
            }
        }
    }

    fn path(&mut self, path: &BezPath, level: &str) {
        let knows = Knows {
            arcs: !self.polylines,
            curves: !self.polylines && self.release == Release::R2000,
        };
        for piece in pieces(path, knows) {
            match piece {
                Piece::Polyline { corners, closed } => self.polyline(&corners, closed, level),
                Piece::Curve(points) => self.spline(&points, level),
            }
        }
    }

    fn polyline(&mut self, corners: &[Corner], closed: bool, level: &str) {
        let flag = u8::from(closed);
        match (corners, self.release) {
            (&[one, two], Release::R2000) if !closed && one.bulge == 0.0 => {
                self.entity("LINE", level, "AcDbLine");
                self.solid_point(10, one.at);
                self.solid_point(11, two.at);
            }
            (_, Release::R2000) => {
                self.entity("LWPOLYLINE", level, "AcDbPolyline");
                self.pair(90, corners.len());
                self.pair(70, flag);
                for corner in corners {
                    self.point(10, corner.at);
                    if corner.bulge != 0.0 {
                        self.number(42, corner.bulge);
                    }
                }
            }
            (_, Release::R12) => {
                self.entity("POLYLINE", level, "");
                self.pair(66, 1);
                self.solid_point(10, Point::ZERO);
                self.pair(70, flag);
                for corner in corners {
                    self.entity("VERTEX", level, "");
                    self.solid_point(10, corner.at);
                    if corner.bulge != 0.0 {
                        self.number(42, corner.bulge);
                    }
                }
                self.entity("SEQEND", level, "");
            }
        }
    }

    /// A Bézier curve as the spline that is the same curve: its knots at both ends alone.
    fn spline(&mut self, points: &[Point], level: &str) {
        let degree = points.len() - 1;
        self.entity("SPLINE", level, "AcDbSpline");
        for axis in [(210, 0.0), (220, 0.0), (230, 1.0)] {
            self.number(axis.0, axis.1);
        }
        self.pair(70, 8);
        self.pair(71, degree);
        self.pair(72, 2 * (degree + 1));
        self.pair(73, points.len());
        self.pair(74, 0);
        for knot in [0.0, 1.0] {
            for _ in 0..=degree {
                self.number(40, knot);
            }
        }
        for &at in points {
            self.solid_point(10, at);
        }
    }

    /// A filled triangle.
    fn arrow(&mut self, path: &BezPath, level: &str) {
        let corners: Vec<Point> = path
            .elements()
            .iter()
            .filter_map(|element| match *element {
                PathEl::MoveTo(at) | PathEl::LineTo(at) => Some(at),
                _ => None,
            })
            .collect();
        let &[a, b, c] = corners.as_slice() else { return };
        self.entity("SOLID", level, "AcDbTrace");
        // the fourth corner is the third again
        for (code, at) in [(10, a), (11, b), (12, c), (13, c)] {
            self.solid_point(code, at);
        }
    }

    fn words(
        &mut self,
        at: Point,
        turn: f64,
        anchor: Anchor,
        text: &str,
        lettering: f64,
        level: &str,
    ) {
        let text = plain(text);
        if text.is_empty() {
            return;
        }
        let (across, up) = match anchor {
            Anchor::Below => (1, 0),
            Anchor::Above => (1, 3),
            Anchor::Left => (0, 2),
            Anchor::Right => (2, 2),
            Anchor::Middle => (1, 2),
        };
        self.entity("TEXT", level, "AcDbText");
        self.solid_point(10, at);
        self.number(40, CAPITAL * lettering);
        self.pair(1, text);
        if turn != 0.0 {
            self.number(50, turn.to_degrees());
        }
        self.pair(72, across);
        self.solid_point(11, at);
        if self.release == Release::R2000 {
            self.pair(100, "AcDbText");
        }
        self.pair(73, up);
    }
}

/// Words in the characters that every reader knows.
fn plain(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '°' => safe.push_str("%%d"),
            '±' => safe.push_str("%%p"),
            '⌀' => safe.push_str("%%c"),
            // a sign of its own in these files
            '%' => safe.push_str("%%%"),
            '^' => safe.push_str("^ "),
            letter if letter.is_control() => safe.push(' '),
            letter if letter.is_ascii() => safe.push(letter),
            letter => {
                // above the first plane there is no such way to write it
                let code = u32::from(letter);
                if code <= 0xffff {
                    write!(safe, "\\U+{code:04X}").unwrap_or_default();
                } else {
                    safe.push('?');
                }
            }
        }
    }
    // a value must not begin or end in blanks
    safe.trim().chars().take(240).collect()
}
