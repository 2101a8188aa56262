//! How long the elevation on A4 tiles takes to write as PDF, against general libraries that
//! draw the same paths and words in the same run: reportlab and pycairo, where Python has
//! them. `PYTHON` names the interpreter.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]
#![allow(clippy::unwrap_used, reason = "a benchmark that cannot go on shall stop")]

use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

use kurbo::{BezPath, PathEl, Point, Rect};
use overstand_core::design::Date;
use overstand_core::study::Study;
use overstand_drawing::annotation::annotation;
use overstand_drawing::paper::{Choices, Paper, lay};
use overstand_drawing::part::PartKind;
use overstand_drawing::pdf::pdf;
use overstand_drawing::scene::Item;
use serde_json::{Value, json};

const ROUNDS: usize = 60;

fn main() {
    let starter = overstand_files::starter("quay-house-3").unwrap().file().unwrap();
    let study = Study::of(starter.active_design());
    let date = Date::new(2026, 3, 31).unwrap();
    let choices = Choices { parts: vec![PartKind::Elevation], ..Choices::usual(date) };
    let paper = lay(&study, &choices).unwrap();
    let median = |work: &mut dyn FnMut()| {
        let mut times: Vec<f64> = (0..ROUNDS)
            .map(|_| {
                let start = Instant::now();
                work();
                start.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        times.sort_by(f64::total_cmp);
        times[ROUNDS / 2]
    };
    let write = median(&mut || drop(black_box(pdf(&paper).unwrap())));
    let all = median(&mut || {
        let paper = lay(black_box(&study), &choices).unwrap();
        drop(black_box(pdf(&paper).unwrap()));
    });
    println!("elevation on {} A4 sheets, written as PDF   {write:>8.2} ms", paper.pages.len());
    println!("the same, laid out as well                {all:>8.2} ms");

    let folder = tempfile::tempdir().unwrap();
    let drawing = folder.path().join("drawing.json");
    std::fs::write(&drawing, drawn(&paper).to_string()).unwrap();
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/reference.py");
    let said = Command::new(&python).arg(script).arg(&drawing).output();
    let Ok(said) = said.map(|said| String::from_utf8_lossy(&said.stdout).into_owned()) else {
        println!("not compared: {python} cannot be run");
        return;
    };
    let mut compared = false;
    for line in said.lines() {
        match line.rsplit_once(' ').and_then(|(name, ms)| Some((name, ms.parse::<f64>().ok()?))) {
            Some((name, ms)) => {
                compared = true;
                let ratio = ms / write;
                println!("{name:<42}{ms:>8.2} ms   {ratio:>6.1} times as long");
            }
            None => println!("{line}"),
        }
    }
    if !compared {
        println!("not compared: {python} has neither reportlab nor pycairo");
    }
}

/// Every path and word of the sheets in points, for another program to draw. What lies
/// outside a window is left out, as our writer does.
fn drawn(paper: &Paper) -> Value {
    const POINT: f64 = 72.0 / 25.4;
    let path = |path: &BezPath| -> Vec<Value> {
        let at = |at: Point| [at.x * POINT, at.y * POINT];
        let mut last = Point::ZERO;
        path.elements()
            .iter()
            .map(|element| match *element {
                PathEl::MoveTo(a) => {
                    last = a;
                    json!(["m", at(a)])
                }
                PathEl::LineTo(a) => {
                    last = a;
                    json!(["l", at(a)])
                }
                PathEl::QuadTo(a, b) => {
                    let (one, two) = (last.lerp(a, 2.0 / 3.0), b.lerp(a, 2.0 / 3.0));
                    last = b;
                    json!(["c", at(one), at(two), at(b)])
                }
                PathEl::CurveTo(a, b, c) => {
                    last = c;
                    json!(["c", at(a), at(b), at(c)])
                }
                PathEl::ClosePath => json!(["z"]),
            })
            .collect()
    };
    let sheets = paper.pages.iter().map(|page| {
        let mut items: Vec<Value> = Vec::new();
        for layer in &page.layers {
            let place = page.to_paper * layer.at;
            let window = layer.window.map(|window| page.to_paper.transform_rect_bbox(window));
            let meets = |bounds: Rect| window.is_none_or(|window| bounds.overlaps(window));
            let mut line = |one: &BezPath, fill: bool| {
                use kurbo::Shape as _;
                let one = place * one;
                if meets(one.bounding_box().inflate(1.0, 1.0)) {
                    items.push(json!({ "path": path(&one), "fill": fill }));
                }
            };
            let mut words = Vec::new();
            for shape in &layer.scene.shapes {
                match &shape.item {
                    Item::Area { path, .. } => line(path, true),
                    Item::Stroke { path, .. } => line(path, false),
                    Item::Text { at, text, .. } => words.push((*at, text.clone())),
                    item => {
                        let ink = annotation(item, &layer.look).unwrap();
                        ink.lines.iter().for_each(|one| line(one, false));
                        ink.arrows.iter().for_each(|one| line(one, true));
                        words.push((ink.at, ink.text));
                    }
                }
            }
            for (at, text) in words {
                let at = place * at;
                if meets(Rect::from_center_size(at, (40.0, 10.0))) {
                    let size = layer.look.lettering * POINT;
                    items.push(json!({
                        "words": text, "at": [at.x * POINT, at.y * POINT], "size": size
                    }));
                }
            }
        }
        json!({ "size": [page.width * POINT, page.height * POINT], "items": items })
    });
    sheets.collect()
}
