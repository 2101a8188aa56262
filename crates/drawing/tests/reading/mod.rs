//! Reads a PDF with a library that knows nothing of our writer, and follows its paths to
//! millimetres on the paper.

use std::collections::BTreeMap;

use kurbo::{Affine, BezPath, Point, Rect};
use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object};

/// Millimetres in a point.
const MM: f64 = 25.4 / 72.0;

/// What was read of a file.
pub(crate) struct Read {
    pub(crate) pages: Vec<ReadPage>,
    pub(crate) print_scaling: String,
    pub(crate) title: String,
    pub(crate) created: String,
    pub(crate) layers: Vec<String>,
    pub(crate) ordered_layers: usize,
    pub(crate) labels: usize,
    pub(crate) font_programs: Vec<String>,
}

/// A page, in mm from its lower left corner.
pub(crate) struct ReadPage {
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) unit: f64,
    pub(crate) words: Vec<String>,
    paths: Vec<(String, Vec<Point>)>,
    /// The same with what lies between the points.
    pub(crate) curves: Vec<BezPath>,
}

fn text(object: &Object) -> String {
    lopdf::decode_text_string(object).unwrap_or_default()
}

fn name(object: &Object) -> String {
    String::from_utf8_lossy(object.as_name().unwrap()).into_owned()
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().unwrap())
}

fn dict<'a>(document: &'a Document, from: &'a Dictionary, key: &[u8]) -> &'a Dictionary {
    document.dereference(from.get(key).unwrap()).unwrap().1.as_dict().unwrap()
}

fn array<'a>(document: &'a Document, from: &'a Dictionary, key: &[u8]) -> &'a Vec<Object> {
    document.dereference(from.get(key).unwrap()).unwrap().1.as_array().unwrap()
}

pub(crate) fn read(bytes: &[u8]) -> Read {
    let document = Document::load_mem(bytes).unwrap();
    let catalog = document.catalog().unwrap();
    let layers = dict(&document, catalog, b"OCProperties");
    let usual = dict(&document, layers, b"D");
    let info = dict(&document, &document.trailer, b"Info");
    let font_programs = document
        .objects
        .values()
        .filter_map(|object| object.as_stream().ok()?.dict.get(b"Subtype").ok())
        .map(name)
        .collect();
    Read {
        print_scaling: name(
            dict(&document, catalog, b"ViewerPreferences").get(b"PrintScaling").unwrap(),
        ),
        title: text(info.get(b"Title").unwrap()),
        created: text(info.get(b"CreationDate").unwrap()),
        layers: array(&document, layers, b"OCGs")
            .iter()
            .map(|id| document.dereference(id).unwrap().1.as_dict().unwrap())
            .map(|layer| text(layer.get(b"Name").unwrap()))
            .collect(),
        ordered_layers: array(&document, usual, b"Order").len(),
        labels: array(&document, dict(&document, catalog, b"PageLabels"), b"Nums").len() / 2,
        font_programs,
        pages: document.get_pages().into_values().map(|id| page(&document, id)).collect(),
    }
}

/// What each letter's code stands for, of a font.
fn letters(document: &Document, font: &Dictionary) -> BTreeMap<u16, char> {
    let stream = document.dereference(font.get(b"ToUnicode").unwrap()).unwrap().1;
    let map = stream.as_stream().unwrap().decompressed_content().unwrap();
    let map = String::from_utf8(map).unwrap();
    let code = |token: &str| u16::from_str_radix(token.trim_matches(['<', '>']), 16).ok();
    map.lines()
        .filter_map(|line| {
            let (from, to) = line.split_once(' ')?;
            Some((code(from)?, char::from_u32(code(to)?.into())?))
        })
        .collect()
}

fn page(document: &Document, id: lopdf::ObjectId) -> ReadPage {
    let page = document.get_dictionary(id).unwrap();
    let unit = page.get(b"UserUnit").map_or(1.0, number);
    let media: Vec<f64> =
        array(document, page, b"MediaBox").iter().map(|side| number(side) * unit * MM).collect();
    let resources = dict(document, page, b"Resources");
    let names = dict(document, resources, b"Properties");
    let fonts: BTreeMap<Vec<u8>, BTreeMap<u16, char>> = dict(document, resources, b"Font")
        .iter()
        .map(|(key, font)| {
            let font = document.dereference(font).unwrap().1.as_dict().unwrap();
            (key.clone(), letters(document, font))
        })
        .collect();
    let content = Content::decode(&document.get_page_content(id).unwrap()).unwrap();

    let mut read = ReadPage {
        width: media[2],
        height: media[3],
        unit,
        words: Vec::new(),
        paths: Vec::new(),
        curves: Vec::new(),
    };
    let mut layer = String::new();
    let mut to_mm = Affine::scale(unit * MM);
    let mut kept = Vec::new();
    let mut path: Vec<Point> = Vec::new();
    let mut curve = BezPath::new();
    let mut font = Vec::new();
    for operation in content.operations {
        let of = &operation.operands;
        let at = |i: usize| Point::new(number(&of[i]), number(&of[i + 1]));
        match operation.operator.as_str() {
            "q" => kept.push(to_mm),
            "Q" => to_mm = kept.pop().unwrap(),
            "cm" => {
                let numbers: Vec<f64> = of.iter().map(number).collect();
                to_mm *= Affine::new(numbers.try_into().unwrap());
            }
            "BDC" => {
                let name = of[1].as_name().unwrap();
                layer = text(dict(document, names, name).get(b"Name").unwrap());
            }
            "EMC" => layer.clear(),
            "m" => {
                read.finish(&layer, &mut path);
                path.push(to_mm * at(0));
                curve.move_to(to_mm * at(0));
            }
            "l" => {
                path.push(to_mm * at(0));
                curve.line_to(to_mm * at(0));
            }
            "c" => {
                path.push(to_mm * at(4));
                curve.curve_to(to_mm * at(0), to_mm * at(2), to_mm * at(4));
            }
            "h" => curve.close_path(),
            "n" => {
                path.clear();
                curve = BezPath::new();
            }
            "S" | "f" | "B" => {
                read.finish(&layer, &mut path);
                read.curves.push(std::mem::take(&mut curve));
            }
            "Tf" => font = of[0].as_name().unwrap().to_vec(),
            "BT" => read.words.push(String::new()),
            "Tj" => {
                let codes = of[0].as_str().unwrap().chunks(2);
                let letters = &fonts[&font];
                let words = read.words.last_mut().unwrap();
                words.extend(codes.map(|pair| letters[&u16::from_be_bytes([pair[0], pair[1]])]));
            }
            _ => {}
        }
    }
    read
}

impl ReadPage {
    fn finish(&mut self, layer: &str, path: &mut Vec<Point>) {
        if path.len() > 1 {
            self.paths.push((layer.to_owned(), std::mem::take(path)));
        }
        path.clear();
    }

    fn of<'a>(&'a self, layer: &'a str) -> impl Iterator<Item = &'a Vec<Point>> {
        self.paths.iter().filter(move |path| path.0 == layer).map(|path| &path.1)
    }

    /// The straight lines of a layer.
    pub(crate) fn lines(&self, layer: &str) -> Vec<(Point, Point)> {
        self.of(layer).filter(|path| path.len() == 2).map(|path| (path[0], path[1])).collect()
    }

    /// Where the paths of a layer begin and end and have corners.
    pub(crate) fn points(&self, layer: &str) -> Vec<Point> {
        self.of(layer).flatten().copied().collect()
    }

    /// The middles of the rings of a layer: closed paths as high as they are wide.
    pub(crate) fn rings(&self, layer: &str) -> Vec<Point> {
        self.of(layer)
            .filter(|path| path.len() > 4)
            .map(|path| {
                path.iter()
                    .skip(1)
                    .fold(Rect::from_points(path[0], path[0]), |all, &at| all.union_pt(at))
            })
            .filter(|bounds| (bounds.width() - bounds.height()).abs() < 0.01)
            .map(|bounds| bounds.center())
            .collect()
    }

    /// The box around all check bars and words' lines; what is clipped is left out.
    pub(crate) fn bounds(&self) -> Rect {
        let points = self.points("Check bars");
        points
            .iter()
            .skip(1)
            .fold(Rect::from_points(points[0], points[0]), |all, &at| all.union_pt(at))
    }
}
