//! `cuts`, by running the program: what is told, and the sheet.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use overstand_core::dimension::Dim;
use serde_json::Value;

use common::{Bench, is_pdf, stdout};

#[test]
fn the_cut_sheet_and_its_figures_say_the_same() {
    let bench = Bench::with(|design| {
        design.ticks.insert("floor".to_owned());
    });
    let sheet = bench.json("cuts mine.ron", &[]);
    assert_eq!(sheet["version"], 1);
    assert_eq!(sheet["joint"], "Glued tenon, short");
    let figures = sheet["figures"].as_array().unwrap();
    let mut numbers = 0;
    for step in sheet["steps"].as_array().unwrap() {
        assert_eq!(step["done"], step["id"] == "floor", "{}", step["id"]);
        for number in step["numbers"].as_array().unwrap() {
            let figure = figures.iter().find(|figure| figure["id"] == number["figure"]).unwrap();
            assert_eq!(figure["value"], number["value"], "{}", number["figure"]);
            assert_eq!(figure["working"]["result"], number["value"], "{}", number["figure"]);
            numbers += 1;
        }
    }
    assert!(numbers > 30, "only {numbers}");
    // the layout of `check` says the same of the straightedge
    let layout = &bench.json("check mine.ron", &[])["layout"];
    let reads = figures.iter().find(|figure| figure["id"] == "reads_neck").unwrap();
    assert_eq!(reads["value"], layout["straightedge_mm"]["neck_face"]);
}

#[test]
fn a_cut_sheet_is_refused_or_held_back_as_a_check_is() {
    let bench = Bench::new();
    assert_eq!(bench.run("cuts mine.ron", &[]).status.code(), Some(0));
    let text = bench.run("cuts mine.ron --inches", &[]);
    assert!(stdout(&text).contains(" in"), "{}", stdout(&text));
    bench.refuses("cuts mine.ron --variant Nothing", &[], &["Nothing", "variant"]);
    bench.refuses("cuts nowhere.ron", &[], &["nowhere.ron"]);
    let open = Bench::with(|design| {
        Dim::CrestHeight.key().set(design, 140.0);
    });
    let sheet = open.json("cuts mine.ron", &[]);
    assert_eq!(sheet["verdict"], "does_not_close");
    assert_eq!(sheet["joint"], Value::Null);
    assert_eq!(sheet["steps"], serde_json::json!([]));
    assert_eq!(open.run("cuts mine.ron", &[]).status.code(), Some(1));
}

#[test]
fn the_cut_sheet_is_written_once_and_the_same_on_the_same_day() {
    let bench = Bench::new();
    let asked = "cuts mine.ron --out a.pdf --date 2026-03-31 --sheet Letter --inches";
    let output = bench.run(asked, &[]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert_eq!(stdout(&output), "a.pdf: 2 pages of Letter.\n");
    assert!(is_pdf(&bench.at("a.pdf")));
    let first = std::fs::read(bench.at("a.pdf")).unwrap();
    bench.refuses(asked, &[], &["is there already; --force"]);
    assert_eq!(bench.run(asked, &["--force"]).status.code(), Some(0));
    assert_eq!(std::fs::read(bench.at("a.pdf")).unwrap(), first);
}

#[test]
fn a_cut_sheet_that_cannot_be_is_refused_and_leaves_nothing() {
    let bench = Bench::new();
    for (options, words) in [
        ("--out a.svg", "expected a name that ends in .pdf"),
        ("--out nowhere/a.pdf", "not saved, cannot write there"),
        ("--out a.pdf --sheet A9", "there is no paper `A9`"),
        ("--out a.pdf --sheet roll610", "no cut sheet fits on roll of 610 mm"),
        ("--out a.pdf --date soon", "--date soon: "),
        ("--out a.pdf --json", "cannot be used with"),
        ("--sheet A4", "--out"),
    ] {
        bench.refuses(&format!("cuts mine.ron {options}"), &[], &[words]);
    }
}
