//! The letters on paper: which face has a sign, how wide words are, and their outlines.

use kurbo::{Affine, BezPath, Point};
use ttf_parser::{Face, GlyphId, OutlineBuilder};

use crate::scene::Anchor;

/// The faces in the order in which a sign is looked for.
pub(crate) const FACES: [&[u8]; 2] = [
    include_bytes!("../../../assets/fonts/B612-Regular.otf"),
    include_bytes!("../../../assets/fonts/DejaVuSansCondensed.ttf"),
];

/// Height of a capital of the first face, of the size of the lettering.
pub(crate) const CAPITAL: f64 = 0.76;

/// The faces, ready to be asked.
#[derive(Clone)]
pub(crate) struct Fonts {
    pub(crate) faces: Vec<Face<'static>>,
}

impl std::fmt::Debug for Fonts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Fonts").field("faces", &self.faces.len()).finish()
    }
}

/// One letter set in a line of words.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Glyph {
    /// Which face.
    pub(crate) face: usize,
    /// Which glyph of the face.
    pub(crate) id: GlyphId,
    /// The character it stands for.
    pub(crate) letter: char,
    /// How far it moves on, of the size of the lettering.
    pub(crate) advance: f64,
}

impl Fonts {
    /// The bundled faces. A test reads both, so that none is ever missing.
    pub(crate) fn bundled() -> Self {
        Self { faces: FACES.iter().filter_map(|bytes| Face::parse(bytes, 0).ok()).collect() }
    }

    /// The letters of some words. A control character is a space; a sign that no face has is
    /// shown as a question mark.
    pub(crate) fn set(&self, text: &str) -> Vec<Glyph> {
        text.chars()
            .map(|letter| if letter.is_control() { ' ' } else { letter })
            .filter_map(|letter| self.find(letter).or_else(|| self.find('?')))
            .collect()
    }

    fn find(&self, letter: char) -> Option<Glyph> {
        self.faces.iter().enumerate().find_map(|(index, face)| {
            let id = face.glyph_index(letter)?;
            let advance = f64::from(face.glyph_hor_advance(id).unwrap_or(0));
            let advance = advance / f64::from(face.units_per_em());
            Some(Glyph { face: index, id, letter, advance })
        })
    }

    /// How wide words are, in mm, at a size of the lettering in mm.
    pub(crate) fn width(&self, text: &str, size: f64) -> f64 {
        self.set(text).iter().map(|glyph| glyph.advance).sum::<f64>() * size
    }

    /// The outlines of words whose base line starts at 0, at a size in mm; Y up.
    pub(crate) fn outlines(&self, text: &str, size: f64) -> BezPath {
        let mut all = BezPath::new();
        let mut x = 0.0;
        for glyph in self.set(text) {
            if let Some(face) = self.faces.get(glyph.face) {
                let mut pen = Pen::default();
                // a space has no outline
                if face.outline_glyph(glyph.id, &mut pen).is_some() {
                    let scale = size / f64::from(face.units_per_em());
                    all.extend(Affine::translate((x, 0.0)) * Affine::scale(scale) * pen.path);
                }
            }
            x += glyph.advance * size;
        }
        all
    }
}

/// From the anchor of words to the start of their base line, by their width and the size
/// of the lettering; before any turn, Y up.
pub(crate) fn base_line(anchor: Anchor, width: f64, size: f64) -> Point {
    let high = CAPITAL * size;
    match anchor {
        Anchor::Below => Point::new(-0.5 * width, 0.0),
        Anchor::Above => Point::new(-0.5 * width, -high),
        Anchor::Left => Point::new(0.0, -0.5 * high),
        Anchor::Right => Point::new(-width, -0.5 * high),
        Anchor::Middle => Point::new(-0.5 * width, -0.5 * high),
    }
}

#[derive(Default)]
struct Pen {
    path: BezPath,
}

fn at(x: f32, y: f32) -> Point {
    Point::new(f64::from(x), f64::from(y))
}

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(at(x, y));
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(at(x, y));
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.path.quad_to(at(x1, y1), at(x, y));
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.path.curve_to(at(x1, y1), at(x2, y2), at(x, y));
    }
    fn close(&mut self) {
        self.path.close_path();
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Shape as _;

    use super::*;

    #[test]
    fn every_sign_that_is_printed_is_found_in_a_face() {
        let fonts = Fonts::bundled();
        assert_eq!(fonts.faces.len(), FACES.len());
        for sign in "aZ09 ×°′″±½≈–⁄⌀→♯♭θ".chars() {
            assert_eq!(fonts.set(&sign.to_string())[0].letter, sign);
        }
        assert_eq!(fonts.set("\u{10ffff}")[0].letter, '?');
    }

    #[test]
    fn capitals_are_as_high_as_said_and_figures_equally_wide() {
        let fonts = Fonts::bundled();
        let height = fonts.outlines("H", 1.0).bounding_box().height();
        // the face's own unit is a thousandth
        assert!((height - CAPITAL).abs() < 1e-3, "{height}");
        let one = fonts.width("1", 1.0);
        assert!("0234567890".chars().all(|digit| fonts.width(&digit.to_string(), 1.0) == one));
    }
}
