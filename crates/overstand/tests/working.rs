//! The worked sheet, by running the program: as text and on paper.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use common::program;
use overstand_core::testing::worked_example;
use overstand_core::working::reckon;
use overstand_files::DesignFile;

fn bench() -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("worked.ron");
    overstand_files::save(&path, &DesignFile::of(worked_example())).unwrap();
    let path = path.to_str().unwrap().to_owned();
    (folder, path)
}

/// Half of the last decimal of a number as it is written; nothing of a whole one.
fn half(number: &str) -> f64 {
    number.split_once('.').map_or(0.0, |(_, digits)| 0.5 * 10.0_f64.powi(-(digits.len() as i32)))
}

/// Every line that is typed comes to what stands at its end. Angles are written to 0.00001°
/// and lengths to 0.0001 mm; a step of the worked example has at most seven lengths, none
/// weighs more than twice, and the rise per mm is within 1e-8 of some 650 mm: so that all
/// together it stays within 0.001, and within 1 % of the smallest figure, which is 0.14 mm.
#[test]
fn every_line_of_the_text_can_be_typed() {
    let (_folder, path) = bench();
    let output = program().args(["check", &path, "--working"]).output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    let text = String::from_utf8(output.stdout).unwrap();
    let mut count = 0;
    for line in text.lines() {
        let Some(sum) = line.trim_start().strip_prefix("= ") else { continue };
        let Some((sum, _source)) = sum.rsplit_once("  [") else { continue };
        let (typed, result) = sum.rsplit_once(" = ").unwrap();
        let number = result.split([' ', '°']).next().unwrap();
        let value = reckon(typed).unwrap_or_else(|| panic!("{line}"));
        let off = (value - number.parse::<f64>().unwrap()).abs();
        assert!(off <= 0.001 + half(number), "{line}: {value}");
        count += 1;
    }
    assert!(count > 100, "{count}");
    assert!(text.contains("Sources\n"));
}

#[test]
fn the_worked_sheet_is_printed_by_itself() {
    let (folder, path) = bench();
    let out = folder.path().join("worked.pdf");
    let out = out.to_str().unwrap();
    let run = |more: &[&str]| {
        let args = ["paper", &path, "--out", out, "--date", "2026-03-31", "--parts"];
        let output = program().args(args).args(more).output().unwrap();
        let error = String::from_utf8(output.stderr).unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap(), error)
    };
    let (status, says, _) = run(&["worked-sheet"]);
    assert_eq!(status, Some(0));
    assert!(says.ends_with("pages of A4.\n"), "{says}");
    assert!(std::fs::read(out).unwrap().starts_with(b"%PDF"));
    let (status, _, error) = run(&["worked-sheet,neck", "--force"]);
    assert_eq!(status, Some(2));
    assert!(error.contains("by itself"), "{error}");
    let (status, _, error) = run(&["worked-sheet", "--force", "--inches"]);
    assert_eq!(status, Some(2));
    assert!(error.contains("in millimetres"), "{error}");
}

#[test]
fn the_sheet_and_the_answer_in_json_exclude_each_other() {
    let (_folder, path) = bench();
    let output = program().args(["check", &path, "--working", "--json"]).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
}
