//! The worked sheet, by running the program: as text and on paper.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use overstand_core::working::reckon;

use common::{Bench, is_pdf, stdout};

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
    let output = Bench::new().run("check mine.ron --working", &[]);
    assert_eq!(output.status.code(), Some(0));
    let text = stdout(&output);
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
    let bench = Bench::new();
    let paper = "paper mine.ron --out worked.pdf --date 2026-03-31 --parts";
    let output = bench.run(paper, &["worked-sheet"]);
    assert_eq!(output.status.code(), Some(0));
    assert!(stdout(&output).ends_with("pages of A4.\n"), "{}", stdout(&output));
    assert!(is_pdf(&bench.at("worked.pdf")));
    bench.refuses(paper, &["worked-sheet,neck", "--force"], &["by itself"]);
    bench.refuses(paper, &["worked-sheet", "--force", "--inches"], &["in millimetres"]);
}

#[test]
fn the_sheet_and_the_answer_in_json_exclude_each_other() {
    Bench::new().refuses("check mine.ron --working --json", &[], &["cannot be used with"]);
}
