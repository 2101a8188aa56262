//! Sheets of every starter and kind, read back from PDF, SVG and DXF by readers that are not
//! our writers.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

mod designs;
mod reading;

use kurbo::{Point, Rect, Shape as _, Vec2};
use overstand_core::design::Date;
use overstand_core::dimension::Dim;
use overstand_core::joint::JointFigures;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::LengthStyle;
use overstand_drawing::correction::Correction;
use overstand_drawing::dxf::{Release, dxf};
use overstand_drawing::paper::{Choices, Paper, PaperError, Ply, Wanted, cut_sheet, lay, single};
use overstand_drawing::part::{PartKind, parts};
use overstand_drawing::pdf::pdf;
use overstand_drawing::scene::Item;
use overstand_drawing::sheet::{Margins, Orientation, Sheet};
use overstand_drawing::svg;

use designs::designs;
use reading::{Read, read};

/// What is true to scale is so to this, mm: numbers in the file have at least 3 decimals of
/// a millimetre, and single precision has 7 digits for a metre.
const TRUE: f64 = 0.002;

fn date() -> Date {
    Date::new(2026, 3, 31).unwrap()
}

fn usual() -> Choices {
    Choices::usual(date())
}

fn on(sheet: &str) -> Choices {
    let sheet = Sheet::parse(sheet).unwrap();
    Choices { margins: sheet.usual_margins(), sheet, ..usual() }
}

fn starter(id: &str) -> Study {
    Study::of(overstand_files::starter(id).unwrap().file().unwrap().active_design())
}

fn read_pdf(paper: &Paper) -> Read {
    read(&pdf(paper).unwrap())
}

#[test]
fn every_design_can_be_put_on_sheets_and_on_a_roll() {
    for (name, design) in designs() {
        let study = Study::of(&design);
        for sheet in ["A4", "Letter", "A0", "roll610"] {
            let paper = lay(&study, &on(sheet));
            if study.layout().is_none() && matches!(paper, Err(PaperError::Nothing(_))) {
                continue;
            }
            let paper = paper.unwrap_or_else(|error| panic!("{name} on {sheet}: {error}"));
            let read = read_pdf(&paper);
            assert_eq!(read.pages.len(), paper.pages.len(), "{name} on {sheet}");
            // what lies on a page lies in its room, and nothing lies on anything else
            for page in &paper.pages {
                for (i, placed) in page.placed.iter().enumerate() {
                    let room = Rect::new(0.0, 0.0, page.room.0, page.room.1).inflate(1e-6, 1e-6);
                    assert!(room.union(placed.at) == room, "{name} on {sheet}: {placed:?}");
                    for other in &page.placed[..i] {
                        let common = placed.at.intersect(other.at);
                        assert!(common.area() < 1e-6, "{name} on {sheet}: {placed:?} {other:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn pages_have_their_size_labels_layers_and_fonts() {
    let study = starter("quay-house-3");
    for (sheet, landscape, (width, height)) in [
        ("A4", false, (210.0, 297.0)),
        ("A4", true, (297.0, 210.0)),
        ("Letter", false, (215.9, 279.4)),
        ("ARCH-D", true, (914.4, 609.6)),
        ("300x400", false, (300.0, 400.0)),
    ] {
        let orientation = if landscape { Orientation::Landscape } else { Orientation::Portrait };
        let paper = lay(&study, &Choices { orientation, ..on(sheet) }).unwrap();
        let read = read_pdf(&paper);
        assert_eq!(read.print_scaling, "None");
        assert_eq!(read.title, "Plate bridge, full size");
        assert!(read.created.starts_with("D:20260331"), "{}", read.created);
        assert!(read.layers.iter().any(|layer| layer == "Check bars"), "{:?}", read.layers);
        assert_eq!(read.ordered_layers, read.layers.len());
        assert_eq!(read.labels, paper.pages.len());
        assert!(read.font_programs.contains(&"CIDFontType0C".to_owned()));
        for page in &read.pages {
            // single precision of points
            assert!((page.width - width).abs() < 1e-4 && (page.height - height).abs() < 1e-4);
        }
    }
}

#[test]
fn a_piece_of_roll_longer_than_a_page_may_be_has_a_larger_unit() {
    let mut design = worked_example();
    design.name = "Long".to_owned();
    let study = Study::of(&design);
    let mut paper = lay(&study, &on("roll610")).unwrap();
    paper.pages[0].width = 9000.0;
    let read = read_pdf(&paper);
    assert_eq!(read.pages[0].unit, 2.0);
    assert!((read.pages[0].width - 9000.0).abs() < 1e-2);
}

/// The bars that stand or lie on a page, by their lengths.
fn bars(page: &reading::ReadPage) -> Vec<(bool, f64)> {
    let lines = page.lines("Check bars");
    let long = |line: &(Point, Point)| (line.1 - line.0).hypot() > 50.0;
    lines
        .iter()
        .filter(|line| long(line))
        .map(|(from, to)| ((to.x - from.x).abs() > 1.0, (*to - *from).hypot()))
        .collect()
}

#[test]
fn check_bars_measure_what_they_say_in_both_directions_on_every_page() {
    for sheet in ["A4", "Letter", "A3", "roll610", "160x240"] {
        let paper = lay(&starter("quay-house-3"), &on(sheet)).unwrap();
        let read = read_pdf(&paper);
        for (laid, page) in paper.pages.iter().zip(&read.pages) {
            let bars = bars(page);
            for (lies, room) in [(true, laid.room.0), (false, laid.room.1)] {
                let lengths: Vec<f64> =
                    bars.iter().filter(|bar| bar.0 == lies).map(|bar| bar.1).collect();
                let longest = 10.0 * ((room - 2.4) / 10.0).floor();
                for wanted in [100.0, 101.6, longest] {
                    assert!(
                        lengths.iter().any(|length| (length - wanted).abs() < TRUE),
                        "{sheet}: {wanted} is missing among {lengths:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn a_correction_stretches_the_page_and_says_so_on_each() {
    let correction = Correction::parse("99.4x100.2", date()).unwrap();
    let orientation = Orientation::Portrait;
    let choices = Choices { correction: Some(correction), orientation, ..usual() };
    let paper = lay(&starter("quay-house-3"), &choices).unwrap();
    let read = read_pdf(&paper);
    for page in &read.pages {
        let bars = bars(page);
        let has = |lies, wanted: f64| {
            bars.iter().any(|bar| bar.0 == lies && (bar.1 - wanted).abs() < TRUE)
        };
        // printed smaller by 0.994 and larger by 1.002 they are 100 mm again
        assert!(has(true, 100.0 / 0.994) && has(false, 100.0 / 1.002), "{bars:?}");
        let says = page.words.iter().any(|words| {
            words.starts_with("Corrected for bars that measured 99.4 × 100.2 mm on 2026-03-31; ±0.")
        });
        assert!(says, "{:?}", page.words);
        // the margins stay: nothing but the sheet itself reaches beyond them
        let bounds = page.bounds();
        assert!(bounds.x0 >= 9.9 && bounds.x1 <= 200.1, "{bounds:?}");
        assert!(bounds.y0 >= 9.9 && bounds.y1 <= 287.1, "{bounds:?}");
    }
}

#[test]
fn every_page_says_what_to_beware_of() {
    let paper = lay(&starter("slipway-six"), &usual()).unwrap();
    for page in &read_pdf(&paper).pages {
        for words in [
            "Measure the bars before cutting.",
            "Print at 100 %, no fit to page.",
            "Never mark frets from joined tiles.",
            "Wet glue swells paper.",
        ] {
            assert!(page.words.iter().any(|line| line == words), "{words}: {:?}", page.words);
        }
    }
}

/// The tiles of the elevation are joined by nothing but the rings printed on them, and the
/// joined drawing is compared with the part.
/// A sheet that leaves the bench where it was printed still says that it is not to be cut by.
#[test]
fn every_page_of_a_design_that_is_not_to_be_cut_says_so() {
    let mut fails = worked_example();
    Dim::CrestHeight.key().set(&mut fails, 40.0);
    let mut open = fails.clone();
    open.found.remove("joint.pitch");
    for (design, says) in [
        (worked_example(), None),
        (fails, Some("Will not play: do not cut yet")),
        (open, Some("Does not close: do not cut yet")),
    ] {
        let read = read_pdf(&lay(&Study::of(&design), &usual()).unwrap());
        for page in &read.pages {
            let said = page.words.iter().any(|line| line.contains("do not cut yet"));
            assert_eq!(said, says.is_some());
            if let Some(says) = says {
                assert!(page.words.iter().any(|line| line.starts_with(says)), "{says}");
            }
        }
    }
}

#[test]
fn tiles_joined_by_their_marks_are_the_elevation() {
    let study = starter("quay-house-3");
    for orientation in [Orientation::Portrait, Orientation::Landscape] {
        let choices = Choices { parts: vec![PartKind::Elevation], orientation, ..usual() };
        let paper = lay(&study, &choices).unwrap();
        let read = read_pdf(&paper);
        let tiled = &paper.tiled[0].tiling;
        // the page of each tile
        let page_of = |name: &str| {
            paper.pages.iter().position(|page| {
                page.placed.iter().any(|placed| placed.tile.as_deref() == Some(name))
            })
        };
        let mut joined: Vec<Point> = Vec::new();
        let mut shift = Vec2::ZERO;
        let mut before: Option<Vec<Point>> = None;
        for tile in &tiled.tiles {
            let page = &read.pages[page_of(&tile.name()).unwrap()];
            // rings from left to right, two to an edge
            let mut rings = page.rings("Tile marks");
            rings.sort_by(|a, b| a.x.total_cmp(&b.x));
            if let Some(last) = &before {
                let (here, there) = (mean(&rings[..2]), mean(&last[last.len() - 2..]));
                shift += there - here;
            }
            joined.extend(page.points("Drawing").into_iter().map(|at| at + shift));
            before = Some(rings);
        }
        let part = &parts(&study, &[PartKind::Elevation])[0];
        let wanted: Vec<Point> = part
            .scene
            .shapes
            .iter()
            .filter_map(|shape| match &shape.item {
                Item::Area { path, .. } | Item::Stroke { path, .. } => Some(path),
                _ => None,
            })
            .flat_map(|path| path.segments().map(|segment| segment.as_path_el_end()))
            .collect();
        // the whole as it lies: the leftmost points are the same
        let left = |points: &[Point]| *points.iter().min_by(|a, b| a.x.total_cmp(&b.x)).unwrap();
        let place = left(&joined) - left(&wanted);
        let mut reach: f64 = 0.0;
        for at in &wanted {
            let off = joined.iter().map(|one| (*one - place - *at).hypot());
            let nearest = off.fold(f64::INFINITY, f64::min);
            assert!(nearest < 0.05, "{at:?} is missed by {nearest}");
            reach = reach.max((*at - wanted[0]).hypot());
        }
        assert!(reach > 500.0 && wanted.len() > 100, "{reach}");
    }
}

fn mean(points: &[Point]) -> Vec2 {
    points.iter().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2()) / points.len() as f64
}

trait EndPoint {
    fn as_path_el_end(&self) -> Point;
}

impl EndPoint for kurbo::PathSeg {
    fn as_path_el_end(&self) -> Point {
        kurbo::ParamCurve::end(self)
    }
}

#[test]
fn svg_is_as_large_as_it_says_to_a_foreign_reader() {
    let study = starter("quay-house-3");
    let choices = Choices { parts: vec![PartKind::Neck], ..usual() };
    let page = single(&study, &choices).unwrap();
    let wanted = parts(&study, &choices.parts)[0].cut.bounding_box();
    for outlined in [false, true] {
        let text = svg::page(&page, outlined);
        assert_eq!(text.contains("<text"), !outlined);
        let tree = usvg::Tree::from_str(&text, &usvg::Options::default()).unwrap();
        // 96 px are 25.4 mm; the reader keeps single precision
        let mm = |px: f32| f64::from(px) * 25.4 / 96.0;
        assert!((mm(tree.size().width()) - page.width).abs() < 1e-3);
        let widest = widest(tree.root());
        assert!((mm(widest) - wanted.width()).abs() < TRUE, "{} {}", mm(widest), wanted.width());
    }
}

fn widest(group: &usvg::Group) -> f32 {
    group
        .children()
        .iter()
        .map(|node| match node {
            usvg::Node::Group(group) => widest(group),
            usvg::Node::Path(path) => path.abs_bounding_box().width(),
            _ => 0.0,
        })
        .fold(0.0, f32::max)
}

#[test]
fn dxf_is_true_to_a_foreign_reader() {
    let study = starter("quay-house-3");
    let choices = Choices { parts: vec![PartKind::FretStrip], ..usual() };
    let page = single(&study, &choices).unwrap();
    let wanted = parts(&study, &choices.parts)[0].cut.bounding_box();
    for (release, polylines) in
        [(Release::R2000, false), (Release::R2000, true), (Release::R12, false)]
    {
        let text = dxf(&page, release, polylines);
        assert!(text.is_ascii());
        let drawing = ::dxf::Drawing::load(&mut std::io::Cursor::new(text.as_bytes())).unwrap();
        if release == Release::R2000 {
            assert_eq!(drawing.header.default_drawing_units, ::dxf::enums::Units::Millimeters);
        }
        let cut: Vec<Point> = drawing
            .entities()
            .filter(|entity| entity.common.layer == "CUT")
            .flat_map(|entity| match &entity.specific {
                ::dxf::entities::EntityType::LwPolyline(line) => {
                    line.vertices.iter().map(|at| Point::new(at.x, at.y)).collect::<Vec<_>>()
                }
                ::dxf::entities::EntityType::Polyline(line) => {
                    line.vertices().map(|at| Point::new(at.location.x, at.location.y)).collect()
                }
                _ => Vec::new(),
            })
            .collect();
        assert_eq!(cut.len(), 4);
        let bounds =
            cut.iter().skip(1).fold(Rect::from_points(cut[0], cut[0]), |all, &at| all.union_pt(at));
        assert!((bounds.width() - wanted.width()).abs() < 1e-6);
    }
}

#[test]
fn a_gauge_has_true_arcs_and_only_where_they_are_wanted() {
    let page =
        single(&starter("quay-house-3"), &Choices { parts: vec![PartKind::NutGauge], ..usual() });
    let page = page.unwrap();
    let bulges = |text: &str| text.lines().filter(|line| *line == " 42").count();
    // the text style has one of its own under that code
    assert!(bulges(&dxf(&page, Release::R2000, false)) > 1);
    assert!(bulges(&dxf(&page, Release::R12, false)) > 1);
    assert_eq!(bulges(&dxf(&page, Release::R2000, true)), 1);
}

/// The template and the cut sheet put the shoulder at one place, on a raked wall too.
#[test]
fn the_neck_template_has_the_shoulder_of_the_cut_sheet() {
    for rake in [0.0, 3.0, -3.0] {
        let mut design = worked_example();
        for (dim, value) in [(Dim::WallRake, rake), (Dim::Overstand, 4.0)] {
            dim.key().set(&mut design, value);
        }
        let study = Study::of(&design);
        let figures = JointFigures::of(&study.design, study.layout().unwrap());
        let says = figures.get("fence_shoulder").unwrap().value;
        let [neck] = &parts(&study, &[PartKind::Neck])[..] else { panic!("one part") };
        let written = neck.keys.iter().find(|key| key.name == "Nut to shoulder").unwrap().value;
        // two ways through sums of some 400 mm
        assert!((written - says).abs() < 1e-9, "{rake}: {written} {says}");
        let drawn = neck.scene.shapes.iter().find_map(|shape| match shape.item {
            Item::Measure { value, name: "Nut to shoulder", .. } => Some(value),
            _ => None,
        });
        assert!((drawn.unwrap() - says).abs() < 1e-9, "{rake}: {drawn:?} {says}");
    }
}

#[test]
fn a_straightedge_gauge_has_a_step_for_each_face_there_is() {
    for (id, steps) in [("quay-house-3", "Three steps"), ("slipway-fretless", "Two steps")] {
        let study = starter(id);
        let [gauge] = &parts(&study, &[PartKind::StraightedgeGauge])[..] else { panic!("{id}") };
        assert!(gauge.notes[0].starts_with(steps), "{id}: {:?}", gauge.notes);
        let crowns = gauge.keys.iter().filter(|key| key.name == "crowns").count();
        assert_eq!(crowns, if study.design.is_fretted() { 2 } else { 0 }, "{id}");
    }
}

/// The pitch is read against the datum: on a top that slopes the wedge needs a bar under it.
#[test]
fn the_pitch_wedge_lies_on_the_datum() {
    for (id, bar) in [("quay-house-3", false), ("harbour-arch", true)] {
        let [wedge] = &parts(&starter(id), &[PartKind::PitchWedge])[..] else { panic!("{id}") };
        assert_eq!(wedge.notes.iter().any(|note| note.contains("straight bar")), bar, "{id}");
    }
}

#[test]
fn every_part_of_a_starter_has_what_it_needs() {
    let study = starter("quay-house-3");
    let made = parts(&study, &PartKind::all().collect::<Vec<_>>());
    assert_eq!(made.len(), PartKind::all().count());
    for part in &made {
        assert!(!part.keys.is_empty(), "{}", part.name);
        assert!(part.keys.iter().all(|key| key.value.is_finite()), "{:?}", part.keys);
        let own = [PartKind::Elevation].contains(&part.kind);
        assert_eq!(part.cut.is_empty(), own, "{}", part.name);
    }
    let layout = study.layout().unwrap();
    let wedge = made.iter().find(|part| part.kind == PartKind::PitchWedge).unwrap();
    // the rise of the upper edge over the base
    let bounds = wedge.cut.bounding_box();
    let rise = bounds.width() * layout.pitch.tan();
    assert!((bounds.height() - 14.0 - rise).abs() < 1e-9);
    let neck = made.iter().find(|part| part.kind == PartKind::Neck).unwrap();
    let [from, to] = neck.references[0];
    assert!(((to - from).hypot() - layout.joint_from_nut).abs() < 1e-9 && from.y == to.y);
}

#[test]
fn what_does_not_fit_is_refused_with_its_measures() {
    let study = starter("quay-house-3");
    let with = |change: fn(&mut Choices)| {
        let mut choices = usual();
        change(&mut choices);
        lay(&study, &choices).unwrap_err().to_string()
    };
    assert_eq!(
        with(|choices| choices.margins = Margins::all(95.0)),
        "between the margins 20.0 × 107.0 mm are left of A4, expected at least 125 × 165 mm for the check bars"
    );
    assert_eq!(
        with(|choices| choices.margins.left = -1.0),
        "margin of −1 mm, expected 0 to 100 mm"
    );
    assert_eq!(
        with(|choices| choices.margins.left = f64::NAN),
        "margin of NaN mm, expected 0 to 100 mm"
    );
    assert_eq!(with(|choices| choices.overlap = 2.0), "overlap of 2 mm, expected 10 to 60 mm");
    assert!(with(|choices| choices.parts.clear()).starts_with("there is nothing to print"));
    let roll = with(|choices| choices.sheet = Sheet::Roll { width: 180.0 });
    assert!(roll.contains("`Side elevation` is") && roll.contains("wider roll"), "{roll}");
}

#[test]
fn a_design_without_a_layout_says_why() {
    let mut design = worked_example();
    design.strings.clear();
    let error = lay(&Study::of(&design), &usual()).unwrap_err();
    assert!(error.to_string().starts_with("there is nothing to print: "), "{error}");
}

#[test]
fn inches_are_written_where_they_are_asked_for() {
    let choices = Choices { lengths: LengthStyle::InchDecimal, ..usual() };
    let page = single(&starter("quay-house-3"), &choices).unwrap();
    let text = svg::page(&page, false);
    assert!(text.contains("Scale length 24.724 in"), "no inches");
    let plies: Vec<Ply> = page.layers.iter().map(|layer| layer.ply).collect();
    assert!(plies.contains(&Ply::Cut) && !plies.contains(&Ply::Bars));
}

#[test]
fn the_cut_sheet_is_read_back_from_its_file() {
    for (name, design) in designs() {
        let study = Study::of(&design);
        let Some(layout) = study.layout() else { continue };
        let wanted = Wanted {
            design: None,
            sheet: Sheet::parse("A4").unwrap(),
            lengths: LengthStyle::Millimetres,
            date: date(),
        };
        let read = read_pdf(&cut_sheet(&study, &wanted).unwrap());
        assert!(read.pages.len() <= 2, "{name}: {} pages", read.pages.len());
        assert!(read.title.ends_with(", cut sheet"), "{}", read.title);
        let words: Vec<&String> = read.pages.iter().flat_map(|page| &page.words).collect();
        for step in overstand_core::joint::CutSheet::of(&study.design, layout).steps {
            assert!(words.iter().any(|said| *said == step.title), "{name}: {}", step.title);
        }
    }
}
