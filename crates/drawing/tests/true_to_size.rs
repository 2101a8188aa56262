//! Every part of a long instrument, read back from PDF, SVG and DXF over more than a metre by
//! readers that are not our writers: lopdf, usvg, dxf.

#![allow(
    clippy::unwrap_used,
    dead_code,
    reason = "a test that cannot go on shall stop, and shares a reader with another"
)]

mod reading;

use std::collections::BTreeMap;
use std::io::Cursor;

use kurbo::{Affine, BezPath, Line, ParamCurve as _, PathEl, PathSeg, Point, Rect, Shape as _};
use overstand_core::design::{Date, Design};
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_drawing::correction::Correction;
use overstand_drawing::dxf::{Release, dxf};
use overstand_drawing::paper::{Choices, Page, Ply, lay, single};
use overstand_drawing::part::PartKind;
use overstand_drawing::pdf::pdf;
use overstand_drawing::scene::Item;
use overstand_drawing::sheet::Sheet;
use overstand_drawing::svg;

/// What is asked for: 0.05 mm over a metre, on any part.
const TRUE: f64 = 0.05;
/// What it is: a PDF holds single precision (7 digits of at most 2 m), an SVG thousandths of
/// a millimetre and its reader single precision of pixels.
const EXACT: f64 = 0.002;
/// How far straight pieces in a DXF may leave a curve, mm.
const FLAT: f64 = 0.01;
/// Looked at on every segment.
const SAMPLES: usize = 4;

fn date() -> Date {
    Date::new(2026, 3, 31).unwrap()
}

/// Instruments of more than a metre: a long bass, whose strip of frets is longer than that too,
/// and one with an arched top.
fn long() -> [Design; 2] {
    let [mut bass, arched] = ["slipway-bass", "harbour-arch"]
        .map(|id| overstand_files::starter(id).unwrap().file().unwrap().active_design().clone());
    Dim::ScaleLength.key().set(&mut bass, 1150.0);
    // all frets stay on the board
    Dim::BoardEnd.key().set(&mut bass, 860.0);
    [bass, arched]
}

/// Parts on one piece of paper.
fn choices(part: PartKind) -> Choices {
    Choices { parts: vec![part], sheet: Sheet::Roll { width: 1118.0 }, ..Choices::usual(date()) }
}

/// What is drawn of the parts on a page, mm of its paper.
fn drawn(page: &Page) -> Vec<BezPath> {
    let layers =
        page.layers.iter().filter(|layer| matches!(layer.ply, Ply::Drawing | Ply::Cut | Ply::Bars));
    layers
        .flat_map(|layer| {
            let place = page.to_paper * layer.at;
            layer.scene.shapes.iter().filter_map(move |shape| match &shape.item {
                Item::Area { path, .. } | Item::Stroke { path, .. } => Some(place * path),
                _ => None,
            })
        })
        .collect()
}

/// Lines that were read back, so that the nearest is found fast.
#[derive(Default)]
struct Found {
    cells: BTreeMap<(i32, i32), Vec<Line>>,
}

impl Found {
    const CELL: f64 = 4.0;

    fn of(paths: impl IntoIterator<Item = BezPath>) -> Self {
        let mut found = Self::default();
        for path in paths {
            let mut last = Point::ZERO;
            let mut start = Point::ZERO;
            // far below what is looked for
            kurbo::flatten(&path, 1e-4, |element| match element {
                PathEl::MoveTo(at) => (last, start) = (at, at),
                PathEl::LineTo(at) => {
                    found.add(Line::new(last, at));
                    last = at;
                }
                _ => {
                    found.add(Line::new(last, start));
                    last = start;
                }
            });
        }
        found
    }

    fn cell(at: Point) -> (i32, i32) {
        ((at.x / Self::CELL).floor() as i32, (at.y / Self::CELL).floor() as i32)
    }

    fn add(&mut self, line: Line) {
        // every cell that the line may pass through
        let pieces = (line.length() / Self::CELL).ceil().max(1.0) as usize;
        for piece in 0..pieces {
            let at = |i: usize| line.eval(i as f64 / pieces as f64);
            let (a, b) = (Self::cell(at(piece)), Self::cell(at(piece + 1)));
            for x in a.0.min(b.0)..=a.0.max(b.0) {
                for y in a.1.min(b.1)..=a.1.max(b.1) {
                    self.cells.entry((x, y)).or_default().push(line);
                }
            }
        }
    }

    fn distance(&self, at: Point) -> f64 {
        use kurbo::ParamCurveNearest as _;
        let (x, y) = Self::cell(at);
        let around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
        around
            .filter_map(|cell| self.cells.get(&cell))
            .flatten()
            .map(|line| line.nearest(at, 1e-9).distance_sq.sqrt())
            .fold(f64::INFINITY, f64::min)
    }
}

/// By how much the drawn lines miss what was read back at most, and over which length.
fn worst(drawn: &[BezPath], found: &Found) -> f64 {
    let segments = drawn.iter().flat_map(|path| path.segments());
    let at = |segment: PathSeg| (0..=SAMPLES).map(move |i| segment.eval(i as f64 / SAMPLES as f64));
    segments.flat_map(at).map(|at| found.distance(at)).fold(0.0, f64::max)
}

fn reach(drawn: &[BezPath]) -> f64 {
    let boxes = drawn.iter().map(|path| path.bounding_box());
    boxes.reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO).width()
}

/// Looks at every part of every instrument; `read` gives what a reader found in a file made
/// of it.
fn each_part(
    most: f64,
    page: impl Fn(&Study, &Choices) -> Option<Page>,
    read: impl Fn(&Page) -> Found,
) {
    for design in long() {
        let (mut longest, mut parts) = (0.0_f64, 0);
        let study = Study::of(&design);
        for part in PartKind::all() {
            let Some(page) = page(&study, &choices(part)) else { continue };
            let drawn = drawn(&page);
            let off = worst(&drawn, &read(&page));
            assert!(off < most, "{part:?} of {} is off by {off} mm", design.name);
            longest = longest.max(reach(&drawn));
            parts += 1;
        }
        assert!(longest > 1000.0, "{}: nothing was longer than {longest} mm", design.name);
        assert_eq!(parts, PartKind::all().count(), "{}", design.name);
    }
    assert!(most < TRUE);
}

fn first_of_roll(study: &Study, choices: &Choices) -> Option<Page> {
    let mut paper = lay(study, choices).ok()?;
    assert_eq!(paper.pages.len(), 1);
    paper.pages.pop()
}

fn read_pdf(page: &Page) -> Found {
    let paper = overstand_drawing::paper::Paper {
        title: "Long".to_owned(),
        date: date(),
        pages: vec![page.clone()],
        tiled: Vec::new(),
    };
    let read = reading::read(&pdf(&paper).unwrap());
    Found::of(read.pages.into_iter().flat_map(|page| page.curves))
}

#[test]
fn pdf_is_true_over_more_than_a_metre_on_every_part() {
    each_part(EXACT, first_of_roll, read_pdf);
}

#[test]
fn a_corrected_pdf_is_stretched_over_more_than_a_metre() {
    let page = |study: &Study, choices: &Choices| {
        let correction = Correction::parse("99.4x100.2", date()).ok();
        first_of_roll(study, &Choices { correction, ..choices.clone() })
    };
    each_part(EXACT, page, read_pdf);
}

fn svg_paths(group: &usvg::Group, found: &mut Vec<BezPath>) {
    use usvg::tiny_skia_path::PathSegment;
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => svg_paths(group, found),
            usvg::Node::Path(path) => {
                let at = |at: usvg::tiny_skia_path::Point| Point::new(at.x.into(), at.y.into());
                let mut read = BezPath::new();
                for segment in path.data().segments() {
                    match segment {
                        PathSegment::MoveTo(a) => read.move_to(at(a)),
                        PathSegment::LineTo(a) => read.line_to(at(a)),
                        PathSegment::QuadTo(a, b) => read.quad_to(at(a), at(b)),
                        PathSegment::CubicTo(a, b, c) => read.curve_to(at(a), at(b), at(c)),
                        PathSegment::Close => read.close_path(),
                    }
                }
                let place = path.abs_transform();
                let numbers = [place.sx, place.ky, place.kx, place.sy, place.tx, place.ty];
                found.push(Affine::new(numbers.map(f64::from)) * read);
            }
            _ => {}
        }
    }
}

#[test]
fn svg_is_true_over_more_than_a_metre_on_every_part() {
    for outlined in [false, true] {
        each_part(
            EXACT,
            |study, choices| single(study, choices).ok(),
            |page| {
                let text = svg::page(page, outlined);
                let tree = usvg::Tree::from_str(&text, &usvg::Options::default()).unwrap();
                let mut paths = Vec::new();
                svg_paths(tree.root(), &mut paths);
                // 96 px are 25.4 mm, and Y runs down from the upper edge
                let to_mm = Affine::FLIP_Y.then_translate((0.0, page.height).into())
                    * Affine::scale(25.4 / 96.0);
                Found::of(paths.into_iter().map(|path| to_mm * path))
            },
        );
    }
}

/// The arc from a corner to the next, by the tangent of a quarter of its angle.
fn bulged(path: &mut BezPath, from: Point, bulge: f64, to: Point) {
    if bulge == 0.0 {
        return path.line_to(to);
    }
    let way = to - from;
    // counter-clockwise for a positive bulge
    let centre = from.midpoint(to)
        + kurbo::Vec2::new(-way.y, way.x) * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let radius = (from - centre).hypot();
    let arc =
        kurbo::Arc::new(centre, (radius, radius), (from - centre).atan2(), 4.0 * bulge.atan(), 0.0);
    path.extend(arc.append_iter(1e-5));
}

fn polyline(corners: &[(Point, f64)], closed: bool) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(corners[0].0);
    for pair in corners.windows(2) {
        bulged(&mut path, pair[0].0, pair[0].1, pair[1].0);
    }
    if closed {
        let (last, bulge) = corners[corners.len() - 1];
        bulged(&mut path, last, bulge, corners[0].0);
    }
    path
}

fn read_dxf(text: &str) -> Vec<BezPath> {
    use ::dxf::entities::EntityType;
    let at = |at: &::dxf::Point| Point::new(at.x, at.y);
    let drawing = ::dxf::Drawing::load(&mut Cursor::new(text.as_bytes())).unwrap();
    drawing
        .entities()
        .filter_map(|entity| match &entity.specific {
            EntityType::Line(line) => {
                Some(polyline(&[(at(&line.p1), 0.0), (at(&line.p2), 0.0)], false))
            }
            EntityType::LwPolyline(line) => {
                let corners: Vec<(Point, f64)> =
                    line.vertices.iter().map(|at| (Point::new(at.x, at.y), at.bulge)).collect();
                Some(polyline(&corners, line.is_closed()))
            }
            EntityType::Polyline(line) => {
                let corners: Vec<(Point, f64)> =
                    line.vertices().map(|one| (at(&one.location), one.bulge)).collect();
                Some(polyline(&corners, line.is_closed()))
            }
            EntityType::Spline(spline) => {
                let points: Vec<Point> = spline.control_points.iter().map(at).collect();
                let mut path = BezPath::new();
                path.move_to(points[0]);
                match points[1..] {
                    [a, b] => path.quad_to(a, b),
                    [a, b, c] => path.curve_to(a, b, c),
                    _ => panic!("a curve with {} points", points.len()),
                }
                Some(path)
            }
            _ => None,
        })
        .collect()
}

#[test]
fn dxf_is_true_over_more_than_a_metre_on_every_part() {
    for (release, polylines) in [
        (Release::R2000, false),
        (Release::R2000, true),
        (Release::R12, false),
        (Release::R12, true),
    ] {
        each_part(
            FLAT + EXACT,
            |study, choices| single(study, choices).ok(),
            |page| Found::of(read_dxf(&dxf(page, release, polylines))),
        );
    }
}
