//! A scene as SVG, true to scale: one unit of the view box is one millimetre.

use std::fmt::Write as _;

use kurbo::{Affine, BezPath, PathEl, Point, Rect};

use crate::annotation::{Annotation, annotation, words_box};
use crate::font::{Fonts, base_line};
use crate::look::{Look, Pen};
use crate::paper::Page;
use crate::scene::{Anchor, Item, Scene};

/// Blank paper left around the drawing, mm.
const MARGIN: f64 = 10.0;

/// A scene as an SVG document, as large as what is drawn and a margin around it.
pub fn svg(scene: &Scene, look: &Look) -> String {
    let bounds = extent(scene, look).inflate(MARGIN, MARGIN);
    // the page's Y runs down
    let to_page = Affine::new([1.0, 0.0, 0.0, -1.0, -bounds.x0, bounds.y1]);
    let mut page = Writer { text: String::new(), look, to_page, letters: None };
    let (width, height) = (number(bounds.width()), number(bounds.height()));
    page.push(format_args!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" font-family=\"B612, DejaVu Sans, sans-serif\" \
         font-size=\"{}\" stroke-linejoin=\"round\" stroke-linecap=\"round\">\n",
        number(look.lettering)
    ));
    if let Some(paper) = look.paper {
        page.push(format_args!("<rect width=\"{width}\" height=\"{height}\" fill=\"{paper}\"/>\n"));
    }
    for shape in &scene.shapes {
        page.item(&shape.item);
    }
    page.push(format_args!("</svg>\n"));
    page.text
}

/// A page as an SVG document: one unit of the view box is one millimetre of paper. Words are
/// outlines where `outlined` is set, for cutters that have no fonts.
pub fn page(page: &Page, outlined: bool) -> String {
    // the page's Y runs down
    let flip = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, page.height]) * page.to_paper;
    let (width, height) = (number(page.width), number(page.height));
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" font-family=\"B612, DejaVu Sans, sans-serif\" \
         stroke-linejoin=\"round\" stroke-linecap=\"round\">\n"
    );
    let letters = outlined.then(Fonts::bundled);
    for (index, layer) in page.layers.iter().enumerate() {
        let mut clip = String::new();
        if let Some(window) = layer.window {
            let seen = flip.transform_rect_bbox(window);
            text += &format!(
                "<clipPath id=\"window{index}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>\n",
                number(seen.x0),
                number(seen.y0),
                number(seen.width()),
                number(seen.height())
            );
            clip = format!(" clip-path=\"url(#window{index})\"");
        }
        text += &format!(
            "<g class=\"{}\" font-size=\"{}\"{clip}>\n",
            layer.ply.name().to_lowercase().replace(' ', "-"),
            number(layer.look.lettering)
        );
        let mut writer =
            Writer { text, look: &layer.look, to_page: flip * layer.at, letters: letters.as_ref() };
        for shape in &layer.scene.shapes {
            writer.item(&shape.item);
        }
        text = writer.text + "</g>\n";
    }
    text + "</svg>\n"
}

/// The box around all ink, words and dimension lines too.
fn extent(scene: &Scene, look: &Look) -> Rect {
    let beside = scene.shapes.iter().filter_map(|shape| match &shape.item {
        Item::Text { at, anchor, text } => Some(words_box(*at, *anchor, 0.0, text, look)),
        item => Some(annotation(item, look)?.extent(look)),
    });
    beside.chain(scene.bounds()).reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO)
}

/// A number with as many decimals as ink can show: a thousandth of a millimetre.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Words as they may stand in XML; characters that XML cannot hold are left out.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\t' | '\n' | '\r' => safe.push(' '),
            letter if letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}') => {}
            letter => safe.push(letter),
        }
    }
    safe
}

struct Writer<'a> {
    text: String,
    look: &'a Look,
    to_page: Affine,
    /// Set where words become outlines.
    letters: Option<&'a Fonts>,
}

impl Writer<'_> {
    fn push(&mut self, what: std::fmt::Arguments<'_>) {
        // writing into a string cannot fail
        self.text.write_fmt(what).unwrap_or_default();
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Area { path, material, edge } => {
                let fill = self.look.fills.map_or("none", |fills| fills.of(*material));
                self.path(path, fill, Some(&self.look.pen(*edge)));
            }
            Item::Stroke { path, line } => {
                self.path(path, "none", Some(&self.look.pen(*line)));
            }
            Item::Text { at, anchor, text } => self.words(*at, 0.0, *anchor, text),
            Item::Dimension { .. } | Item::Angle { .. } | Item::Measure { .. } => {
                if let Some(ink) = annotation(item, self.look) {
                    self.annotation(&ink);
                }
            }
        }
    }

    fn annotation(&mut self, ink: &Annotation) {
        let pen = self.look.pen(crate::scene::Line::Thin);
        for line in &ink.lines {
            self.path(line, "none", Some(&pen));
        }
        for arrow in &ink.arrows {
            self.path(arrow, self.look.ink, None);
        }
        self.words(ink.at, ink.turn, ink.anchor, &ink.text);
    }

    fn path(&mut self, path: &BezPath, fill: &str, pen: Option<&Pen>) {
        let mut data = String::new();
        let to_page = self.to_page;
        let place = |at: Point| {
            let at = to_page * at;
            format!("{} {}", number(at.x), number(at.y))
        };
        for element in path.elements() {
            let step = match *element {
                PathEl::MoveTo(a) => format!("M{}", place(a)),
                PathEl::LineTo(a) => format!("L{}", place(a)),
                PathEl::QuadTo(a, b) => format!("Q{} {}", place(a), place(b)),
                PathEl::CurveTo(a, b, c) => format!("C{} {} {}", place(a), place(b), place(c)),
                PathEl::ClosePath => "Z".to_owned(),
            };
            data.push_str(&step);
        }
        self.push(format_args!("<path d=\"{data}\" fill=\"{fill}\""));
        if let Some(pen) = pen {
            self.push(format_args!(
                " stroke=\"{}\" stroke-width=\"{}\"",
                pen.colour,
                number(pen.width)
            ));
            if !pen.dashes.is_empty() {
                let dashes: Vec<String> = pen.dashes.iter().map(|&dash| number(dash)).collect();
                self.push(format_args!(" stroke-dasharray=\"{}\"", dashes.join(" ")));
            }
        }
        self.push(format_args!("/>\n"));
    }

    /// Words at a place, turned counter-clockwise by so many radians.
    fn words(&mut self, at: Point, turn: f64, anchor: Anchor, text: &str) {
        let lettering = self.look.lettering;
        if let Some(letters) = self.letters {
            let start = base_line(anchor, letters.width(text, lettering), lettering);
            let place = Affine::translate(at.to_vec2())
                * Affine::rotate(turn)
                * Affine::translate(start.to_vec2());
            self.path(&(place * letters.outlines(text, lettering)), self.look.ink, None);
            return;
        }
        let at = self.to_page * at;
        // capitals are about 0.7 of the lettering's size high
        let (side, drop) = match anchor {
            Anchor::Below => ("middle", 0.0),
            Anchor::Above => ("middle", 0.75 * lettering),
            Anchor::Left => ("start", 0.35 * lettering),
            Anchor::Right => ("end", 0.35 * lettering),
            Anchor::Middle => ("middle", 0.35 * lettering),
        };
        self.push(format_args!(
            "<text transform=\"translate({} {}) rotate({})\" y=\"{}\" text-anchor=\"{side}\" fill=\"{}\" \
             stroke=\"{}\" stroke-width=\"{}\" paint-order=\"stroke\">{}</text>\n",
            number(at.x),
            number(at.y),
            number(-turn.to_degrees()),
            number(drop),
            self.look.ink,
            // a halo keeps them readable over wood and lines
            self.look.paper.unwrap_or("#ffffff"),
            number(0.25 * lettering),
            escaped(text)
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::polyline;
    use crate::scene::Line;

    fn line_of(length: f64) -> Scene {
        let mut scene = Scene::default();
        let path = polyline([Point::new(-40.0, 7.0), Point::new(length - 40.0, 27.0)]);
        scene.add(None, Item::Stroke { path, line: Line::Hidden });
        scene
    }

    #[test]
    fn a_hundred_millimetres_are_a_hundred_millimetres() {
        let text = svg(&line_of(100.0), &Look::paper());
        assert!(text.contains("width=\"120mm\" height=\"40mm\" viewBox=\"0 0 120 40\""), "{text}");
        // from the lower left to the upper right, Y running down
        assert!(text.contains("d=\"M10 30L110 10\""), "{text}");
        assert!(text.contains("stroke-width=\"0.25\" stroke-dasharray=\"3 0.75\""), "{text}");
    }

    #[test]
    fn words_cannot_break_out() {
        let mut scene = line_of(100.0);
        let words = "<b>\"Tom & Jill\"</b>\u{1}\n".to_owned();
        let at = Point::new(0.0, 0.0);
        scene.add(None, Item::Text { at, anchor: Anchor::Left, text: words });
        let text = svg(&scene, &Look::paper());
        assert!(text.contains(">&lt;b&gt;&quot;Tom &amp; Jill&quot;&lt;/b&gt; </text>"), "{text}");
    }

    #[test]
    fn an_empty_scene_is_a_blank_sheet() {
        let text = svg(&Scene::default(), &Look::lines());
        assert!(text.contains("width=\"20mm\" height=\"20mm\""), "{text}");
    }
}
