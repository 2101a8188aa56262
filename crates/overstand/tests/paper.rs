//! The command that writes drawings, by running the program.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::path::Path;
use std::process::Output;

use common::{Bench, is_pdf, stderr, stdout};

fn bench() -> Bench {
    Bench::of(&overstand_files::starter("quay-house-3").unwrap().file().unwrap())
}

const PAPER: &str = "paper mine.ron --date 2026-03-31 --out";

fn paper(bench: &Bench, out: &str, options: &[&str]) -> Output {
    bench.run(&format!("{PAPER} {out}"), options)
}

fn starts_with(path: &Path, bytes: &[u8]) -> bool {
    std::fs::read(path).unwrap().starts_with(bytes)
}

#[test]
fn the_ending_says_which_kind_of_file_is_written() {
    let bench = bench();
    for (out, head) in
        [("a.pdf", &b"%PDF-1.7"[..]), ("a.svg", b"<svg "), ("a.DXF", b"  0\nSECTION")]
    {
        let output = paper(&bench, out, &[]);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        assert!(starts_with(&bench.at(out), head), "{out}");
    }
    let output = paper(&bench, "b.pdf", &["--sheet", "roll610"]);
    let said = stdout(&output);
    assert!(said.starts_with("b.pdf: 1 sheet of roll of 610 mm."), "{said}");
}

#[test]
fn the_same_day_gives_the_same_file() {
    let bench = bench();
    paper(&bench, "a.pdf", &[]);
    paper(&bench, "b.pdf", &[]);
    assert_eq!(
        std::fs::read(bench.at("a.pdf")).unwrap(),
        std::fs::read(bench.at("b.pdf")).unwrap()
    );
}

#[test]
fn what_is_there_stays_unless_it_is_forced() {
    let bench = bench();
    std::fs::write(bench.at("a.pdf"), "mine").unwrap();
    let output = paper(&bench, "a.pdf", &[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("is there already; --force"));
    assert_eq!(std::fs::read(bench.at("a.pdf")).unwrap(), b"mine");
    assert_eq!(paper(&bench, "a.pdf", &["--force"]).status.code(), Some(0));
    assert!(is_pdf(&bench.at("a.pdf")));
}

#[test]
fn what_cannot_be_is_refused_and_leaves_nothing_half_written() {
    let bench = bench();
    let refuses = |out: &str, options: &[&str], words: &str| {
        bench.refuses(&format!("{PAPER} {out}"), options, &[words]);
    };
    refuses("a.png", &[], "expected a name that ends in .pdf, .svg or .dxf");
    refuses("nowhere/a.pdf", &[], "not saved, cannot write there");
    refuses(".", &[], "ends in .pdf");
    refuses("a.pdf", &["--sheet", "A9"], "there is no paper `A9`, expected one of A4,");
    refuses("a.pdf", &["--margins", "95"], "between the margins");
    refuses("a.pdf", &["--margins", "1,2"], "left,top,right,bottom");
    refuses("a.pdf", &["--overlap", "1"], "overlap of 1 mm, expected 10 to 60 mm");
    refuses("a.pdf", &["--parts", "neck,nose"], "there is no such part, expected some of");
    refuses("a.pdf", &["--measured", "94x94"], "fit to page");
    refuses("a.pdf", &["--measured", "much"], "expected what the two bars measure");
    refuses("a.pdf", &["--sheet", "roll150"], "`Side elevation` is");
    refuses("a.pdf", &["--variant", "none"], "there is no variant `none`");
    refuses("a.svg", &["--sheet", "A4"], "--sheet is for a PDF, and --out is `a.svg`");
    refuses("a.pdf", &["--polylines"], "--polylines is for a DXF");
}

#[cfg(unix)]
#[test]
fn a_device_is_no_file_to_write_over() {
    let bench = bench();
    std::os::unix::fs::symlink("/dev/full", bench.at("a.pdf")).unwrap();
    let output = paper(&bench, "a.pdf", &["--force"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("expected a file or nothing there"));
}
