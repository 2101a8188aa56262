//! Sheets as PDF: true to scale, with layers, page labels, embedded fonts, and the wish not to
//! be scaled when printed.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Affine, BezPath, PathEl, Point, Shape as _};
use pdf_writer::types::{
    CidFontType, FontFlags, LineCapStyle, LineJoinStyle, NumberingStyle, SystemInfo, UnicodeCmap,
};
use pdf_writer::{Content, Filter, Finish as _, Name, Pdf, Rect as PdfRect, Ref, Str, TextStr};
use subsetter::GlyphRemapper;
use ttf_parser::{RawFace, Tag};

use crate::font::{FACES, Fonts, Glyph};
use crate::ink::{self, Ink, Words};
use crate::look::Pen;
use crate::paper::{Page, Paper, Ply};

/// Points in a millimetre.
const POINT: f64 = 72.0 / 25.4;
/// The longest side of a page in units, by the format; beyond it the unit becomes larger.
const LONGEST: f64 = 14_400.0;
/// How hard streams are packed: beyond it takes long and saves little.
const PACKING: u8 = 1;
/// Names of the fonts in the pages.
const FONTS: [Name<'static>; 2] = [Name(b"F0"), Name(b"F1")];

/// Why there is no PDF.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the letters of the bundled font `{0}` cannot be put into the file")]
pub struct PdfError(String);

/// The sheets as a PDF file.
///
/// # Errors
/// [`PdfError`] if a bundled font is damaged.
pub fn pdf(paper: &Paper) -> Result<Vec<u8>, PdfError> {
    // never told to stop, it always comes to its end
    pdf_while(paper, &mut |_| true).map(Option::unwrap_or_default)
}

/// The sheets as a PDF file, as long as `goes_on`, which hears how many pages are done,
/// says so; none when it does not.
///
/// # Errors
/// [`PdfError`] if a bundled font is damaged.
pub(crate) fn pdf_while(
    paper: &Paper,
    goes_on: &mut dyn FnMut(usize) -> bool,
) -> Result<Option<Vec<u8>>, PdfError> {
    let mut writer = Writer::new();
    let (catalog, tree, info) = (writer.id(), writer.id(), writer.id());
    let layers: BTreeMap<Ply, Ref> = Ply::ALL.map(|ply| (ply, writer.id())).into();
    let fonts = FONTS.map(|_| writer.id());
    let pages: Vec<(Ref, Ref)> = paper.pages.iter().map(|_| (writer.id(), writer.id())).collect();

    // the letters of all pages first: then it is known which fonts there are
    for (done, (page, &(_, content))) in paper.pages.iter().zip(&pages).enumerate() {
        if !goes_on(done) {
            return Ok(None);
        }
        writer.stream(page, content);
    }
    for (page, &(id, content)) in paper.pages.iter().zip(&pages) {
        writer.page(page, id, content, tree, &layers, fonts);
    }
    writer.fonts(fonts)?;
    writer.pdf.pages(tree).count(count(pages.len())).kids(pages.iter().map(|page| page.0));
    writer.outline(paper, catalog, tree, &layers);
    let mut document = writer.pdf.document_info(info);
    document.title(TextStr(&paper.title)).creator(TextStr("Overstand"));
    document.producer(TextStr("Overstand"));
    let (year, month, day) = paper.date.parts();
    let date = pdf_writer::Date::new(year).month(month).day(day);
    document.creation_date(date).modified_date(date);
    document.finish();
    Ok(Some(writer.pdf.finish()))
}

fn count(number: usize) -> i32 {
    i32::try_from(number).unwrap_or(i32::MAX)
}

/// How many points a unit of a page has.
fn unit(page: &Page) -> f64 {
    (page.width.max(page.height) * POINT / LONGEST).ceil().max(1.0)
}

fn name(ply: Ply) -> &'static [u8] {
    match ply {
        Ply::Drawing => b"Drawing",
        Ply::Dimensions => b"Dimensions",
        Ply::Cut => b"Cut",
        Ply::Reference => b"Reference",
        Ply::Words => b"Words",
        Ply::Bars => b"Bars",
        Ply::Marks => b"Marks",
    }
}

struct Writer {
    pdf: Pdf,
    next: i32,
    letters: Fonts,
    /// Of each face, which glyphs are used, and what they stand for.
    glyphs: [GlyphRemapper; 2],
    stand_for: [BTreeMap<u16, char>; 2],
    advances: [BTreeMap<u16, f64>; 2],
}

impl Writer {
    fn new() -> Self {
        Self {
            pdf: Pdf::new(),
            next: 1,
            letters: Fonts::bundled(),
            glyphs: [GlyphRemapper::new(), GlyphRemapper::new()],
            stand_for: Default::default(),
            advances: Default::default(),
        }
    }

    fn id(&mut self) -> Ref {
        let id = Ref::new(self.next);
        self.next += 1;
        id
    }

    /// What is drawn on a page.
    fn stream(&mut self, page: &Page, id: Ref) {
        let to_points = Affine::scale(POINT / unit(page)) * page.to_paper;
        let stream = self.content(page, to_points);
        let packed = miniz_oxide::deflate::compress_to_vec_zlib(&stream, PACKING);
        self.pdf.stream(id, &packed).filter(Filter::FlateDecode);
    }

    /// Whether a letter of a face is used.
    fn is_used(&self, face: usize) -> bool {
        !self.stand_for[face].is_empty()
    }

    /// Catalog: layers, labels, and how it wants to be printed.
    fn outline(&mut self, paper: &Paper, id: Ref, tree: Ref, layers: &BTreeMap<Ply, Ref>) {
        let mut catalog = self.pdf.catalog(id);
        catalog.pages(tree);
        catalog.lang(TextStr("en-GB"));
        {
            let mut wishes = catalog.viewer_preferences();
            wishes.display_doc_title(true);
            wishes.pair(Name(b"PrintScaling"), Name(b"None"));
        }
        {
            let mut labels = catalog.insert(Name(b"PageLabels")).dict();
            let mut numbers = labels.insert(Name(b"Nums")).array();
            for (index, page) in paper.pages.iter().enumerate() {
                numbers.item(count(index));
                let mut label = numbers.push().start::<pdf_writer::writers::PageLabel<'_>>();
                if page.label.parse::<usize>().is_ok() {
                    label.style(NumberingStyle::Arabic);
                    label.offset(count(index + 1));
                } else {
                    label.prefix(TextStr(&page.label));
                }
            }
        }
        let used: BTreeSet<Ply> =
            paper.pages.iter().flat_map(|page| page.layers.iter().map(|layer| layer.ply)).collect();
        let refs: Vec<Ref> = used.iter().filter_map(|ply| layers.get(ply).copied()).collect();
        {
            let mut content = catalog.insert(Name(b"OCProperties")).dict();
            content.insert(Name(b"OCGs")).array().items(refs.iter().copied());
            let mut usual = content.insert(Name(b"D")).dict();
            usual.pair(Name(b"Name"), TextStr("Layers"));
            usual.pair(Name(b"BaseState"), Name(b"ON"));
            // without an order some panels stay empty
            usual.insert(Name(b"Order")).array().items(refs.iter().copied());
        }
        catalog.finish();
        for (ply, &id) in layers {
            let mut layer = self.pdf.indirect(id).dict();
            layer.pair(Name(b"Type"), Name(b"OCG"));
            layer.pair(Name(b"Name"), TextStr(ply.name()));
        }
    }

    fn page(
        &mut self,
        page: &Page,
        id: Ref,
        content: Ref,
        tree: Ref,
        layers: &BTreeMap<Ply, Ref>,
        fonts: [Ref; 2],
    ) {
        let (width, height, unit) = (page.width * POINT, page.height * POINT, unit(page));
        let used = [0, 1].map(|face| self.is_used(face));
        let mut written = self.pdf.page(id);
        written.parent(tree).contents(content);
        let corner = ((width / unit) as f32, (height / unit) as f32);
        written.media_box(PdfRect::new(0.0, 0.0, corner.0, corner.1));
        if unit > 1.0 {
            written.user_unit(unit as f32);
        }
        let mut resources = written.resources();
        {
            let mut named = resources.fonts();
            for ((name, id), used) in FONTS.into_iter().zip(fonts).zip(used) {
                if used {
                    named.pair(name, id);
                }
            }
        }
        let mut properties = resources.insert(Name(b"Properties")).dict();
        for (&ply, &id) in layers {
            properties.pair(Name(name(ply)), id);
        }
    }

    fn content(&mut self, page: &Page, to_points: Affine) -> Vec<u8> {
        let mut ink = Content::new();
        ink.set_line_cap(LineCapStyle::RoundCap).set_line_join(LineJoinStyle::RoundJoin);
        ink.transform(to_points.as_coeffs().map(|value| value as f32));
        let letters = self.letters.clone();
        for layer in &page.layers {
            ink.begin_marked_content_with_properties(Name(b"OC"))
                .properties_named(Name(name(layer.ply)));
            ink.save_state();
            if let Some(window) = layer.window {
                let (x, y) = (window.x0 as f32, window.y0 as f32);
                ink.rect(x, y, window.width() as f32, window.height() as f32);
                ink.clip_nonzero().end_path();
            }
            let mut hand = Hand { ink: &mut ink, pen: None, colour: None };
            ink::each_in(layer, &letters, &mut |piece| match piece {
                Ink::Path { path, fill, pen } => hand.draw(&path, fill, pen.as_ref()),
                Ink::Words(words) => self.words(&mut hand, &words),
            });
            ink.restore_state();
            ink.end_marked_content();
        }
        ink.finish().into_vec()
    }

    fn words(&mut self, hand: &mut Hand<'_>, words: &Words) {
        hand.fill(words.colour);
        let ink = &mut *hand.ink;
        ink.begin_text();
        ink.set_text_matrix(words.place.as_coeffs().map(|value| value as f32));
        let letters = self.letters.set(&words.text);
        for run in letters.chunk_by(|one, next| one.face == next.face) {
            let Some(&Glyph { face, .. }) = run.first() else { continue };
            let mut codes = Vec::with_capacity(2 * run.len());
            for glyph in run {
                let code = self.glyphs[face].remap(glyph.id.0);
                self.stand_for[face].entry(code).or_insert(glyph.letter);
                self.advances[face].insert(code, glyph.advance);
                codes.extend(code.to_be_bytes());
            }
            ink.set_font(FONTS[face], words.size as f32);
            ink.show(Str(&codes));
        }
        ink.end_text();
    }

    /// Writes the fonts with the letters that were used.
    fn fonts(&mut self, ids: [Ref; 2]) -> Result<(), PdfError> {
        for (face, id) in ids.into_iter().enumerate() {
            if self.is_used(face) {
                self.font(face, id)?;
            }
        }
        Ok(())
    }

    fn font(&mut self, index: usize, id: Ref) -> Result<(), PdfError> {
        let (cid, descriptor, map, data) = (self.id(), self.id(), self.id(), self.id());
        let plain = ["B612-Regular", "DejaVuSansCondensed"][index];
        let damaged = || PdfError(plain.to_owned());
        let face = self.letters.faces.get(index).ok_or_else(damaged)?;
        let subset =
            subsetter::subset(FACES[index], 0, &self.glyphs[index]).ok().ok_or_else(damaged)?;
        let raw = RawFace::parse(&subset, 0).ok().ok_or_else(damaged)?;
        let cff = raw.table(Tag::from_bytes(b"CFF "));
        let program = miniz_oxide::deflate::compress_to_vec_zlib(cff.unwrap_or(&subset), PACKING);
        let subset_name = format!("{}+{plain}", tag(&self.stand_for[index]));
        // a CFF font that is named with its encoding, as the format asks
        let full_name =
            if cff.is_some() { format!("{subset_name}-Identity-H") } else { subset_name.clone() };
        self.pdf
            .type0_font(id)
            .base_font(Name(full_name.as_bytes()))
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(map);
        let system =
            SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };
        {
            let mut font = self.pdf.cid_font(cid);
            font.subtype(if cff.is_some() { CidFontType::Type0 } else { CidFontType::Type2 });
            font.base_font(Name(subset_name.as_bytes())).system_info(system);
            font.font_descriptor(descriptor).default_width(0.0);
            if cff.is_none() {
                font.cid_to_gid_map_predefined(Name(b"Identity"));
            }
            let mut widths = font.widths();
            for (&code, &advance) in &self.advances[index] {
                widths.consecutive(code, [(1000.0 * advance) as f32]);
            }
        }
        {
            let per_em = 1000.0 / f32::from(face.units_per_em());
            let unit = |value: i16| f32::from(value) * per_em;
            let bounds = face.global_bounding_box();
            let mut about = self.pdf.font_descriptor(descriptor);
            about.name(Name(subset_name.as_bytes())).flags(FontFlags::SYMBOLIC);
            about.bbox(PdfRect::new(
                unit(bounds.x_min),
                unit(bounds.y_min),
                unit(bounds.x_max),
                unit(bounds.y_max),
            ));
            about.italic_angle(0.0).ascent(unit(face.ascender())).descent(unit(face.descender()));
            about.cap_height(face.capital_height().map_or(730.0, unit)).stem_v(90.0);
            if cff.is_some() {
                about.font_file3(data);
            } else {
                about.font_file2(data);
            }
        }
        {
            let mut stream = self.pdf.stream(data, &program);
            stream.filter(Filter::FlateDecode);
            if cff.is_some() {
                stream.pair(Name(b"Subtype"), Name(b"CIDFontType0C"));
            } else {
                stream.pair(Name(b"Length1"), count(subset.len()));
            }
        }
        let mut letters = UnicodeCmap::new(Name(b"Letters"), system);
        for (&code, &letter) in &self.stand_for[index] {
            letters.pair(code, letter);
        }
        let letters = letters.finish();
        let packed = miniz_oxide::deflate::compress_to_vec_zlib(letters.as_ref(), PACKING);
        self.pdf.cmap(map, &packed).filter(Filter::FlateDecode);
        Ok(())
    }
}

/// Six capitals that differ with the letters of a subset.
fn tag(letters: &BTreeMap<u16, char>) -> String {
    // FNV-1a
    let hash = letters.values().fold(0xcbf2_9ce4_8422_2325_u64, |hash, &letter| {
        (hash ^ u64::from(u32::from(letter))).wrapping_mul(0x0100_0000_01b3)
    });
    (0..6).map(|i| char::from(b'A' + (hash >> (9 * i)) as u8 % 26)).collect()
}

/// Draws one layer, remembering what is set.
struct Hand<'a> {
    ink: &'a mut Content,
    pen: Option<Pen>,
    colour: Option<&'static str>,
}

impl Hand<'_> {
    fn fill(&mut self, colour: &'static str) {
        if self.colour != Some(colour) {
            let [red, green, blue] = rgb(colour);
            self.ink.set_fill_rgb(red, green, blue);
            self.colour = Some(colour);
        }
    }

    fn take(&mut self, pen: &Pen) {
        if self.pen.as_ref() == Some(pen) {
            return;
        }
        let [red, green, blue] = rgb(pen.colour);
        self.ink.set_stroke_rgb(red, green, blue);
        self.ink.set_line_width(pen.width as f32);
        self.ink.set_dash_pattern(pen.dashes.iter().map(|&dash| dash as f32), 0.0);
        self.pen = Some(pen.clone());
    }

    fn draw(&mut self, path: &BezPath, fill: Option<&'static str>, pen: Option<&Pen>) {
        if path.is_empty() || path.elements().len() < 2 || !path.bounding_box().is_finite() {
            return;
        }
        if let Some(colour) = fill {
            self.fill(colour);
        }
        if let Some(pen) = pen {
            self.take(pen);
        }
        let mut last = Point::ZERO;
        for element in path.elements() {
            let f = |at: Point| (at.x as f32, at.y as f32);
            match *element {
                PathEl::MoveTo(at) => {
                    self.ink.move_to(f(at).0, f(at).1);
                    last = at;
                }
                PathEl::LineTo(at) => {
                    self.ink.line_to(f(at).0, f(at).1);
                    last = at;
                }
                PathEl::QuadTo(control, end) => {
                    // the same curve with two control points
                    let (a, b) = (last.lerp(control, 2.0 / 3.0), end.lerp(control, 2.0 / 3.0));
                    self.ink.cubic_to(f(a).0, f(a).1, f(b).0, f(b).1, f(end).0, f(end).1);
                    last = end;
                }
                PathEl::CurveTo(a, b, end) => {
                    self.ink.cubic_to(f(a).0, f(a).1, f(b).0, f(b).1, f(end).0, f(end).1);
                    last = end;
                }
                PathEl::ClosePath => {
                    self.ink.close_path();
                }
            }
        }
        match (fill, pen) {
            (Some(_), Some(_)) => self.ink.fill_nonzero_and_stroke(),
            (Some(_), None) => self.ink.fill_nonzero(),
            (None, Some(_)) => self.ink.stroke(),
            (None, None) => self.ink.end_path(),
        };
    }
}

/// A colour written `#rrggbb`; black if it is not.
fn rgb(colour: &str) -> [f32; 3] {
    let part = |at: usize| {
        let digits = colour.get(at..at + 2).unwrap_or("00");
        f32::from(u8::from_str_radix(digits, 16).unwrap_or(0)) / 255.0
    };
    [part(1), part(3), part(5)]
}
