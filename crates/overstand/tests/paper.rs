//! The command that writes drawings, by running the program.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::path::{Path, PathBuf};
use std::process::Output;

use common::program;

struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = overstand_files::starter("quay-house-3").unwrap().file().unwrap();
        overstand_files::save(&folder.path().join("mine.ron"), &file).unwrap();
        Self { folder }
    }

    fn at(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn paper(&self, out: &str, options: &[&str]) -> Output {
        program()
            .args(["paper", "mine.ron", "--out", out, "--date", "2026-03-31"])
            .args(options)
            .current_dir(self.folder.path())
            .output()
            .unwrap()
    }

    fn cuts(&self, options: &[&str]) -> Output {
        program()
            .args(["cuts", "mine.ron"])
            .args(options)
            .current_dir(self.folder.path())
            .output()
            .unwrap()
    }

    /// That it is refused with these words, and leaves nothing.
    fn refuses(&self, out: &str, options: &[&str], words: &str) {
        let output = self.paper(out, options);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{options:?}: {said}");
        assert!(said.starts_with("overstand: ") && said.contains(words), "{options:?}: {said}");
        assert_eq!(self.files(), ["mine.ron"], "{options:?} left something");
    }

    fn files(&self) -> Vec<String> {
        let mut files: Vec<String> = std::fs::read_dir(self.folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        files.sort();
        files
    }
}

fn starts_with(path: &Path, bytes: &[u8]) -> bool {
    std::fs::read(path).unwrap().starts_with(bytes)
}

#[test]
fn the_ending_says_which_kind_of_file_is_written() {
    let bench = Bench::new();
    for (out, head) in
        [("a.pdf", &b"%PDF-1.7"[..]), ("a.svg", b"<svg "), ("a.DXF", b"  0\nSECTION")]
    {
        let output = bench.paper(out, &[]);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        assert!(starts_with(&bench.at(out), head), "{out}");
    }
    let said = String::from_utf8(bench.paper("b.pdf", &["--sheet", "roll610"]).stdout).unwrap();
    assert!(said.starts_with("b.pdf: 1 sheet of roll of 610 mm."), "{said}");
}

#[test]
fn the_same_day_gives_the_same_file() {
    let bench = Bench::new();
    bench.paper("a.pdf", &[]);
    bench.paper("b.pdf", &[]);
    assert_eq!(
        std::fs::read(bench.at("a.pdf")).unwrap(),
        std::fs::read(bench.at("b.pdf")).unwrap()
    );
}

#[test]
fn what_is_there_stays_unless_it_is_forced() {
    let bench = Bench::new();
    std::fs::write(bench.at("a.pdf"), "mine").unwrap();
    let output = bench.paper("a.pdf", &[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("is there already; --force"));
    assert_eq!(std::fs::read(bench.at("a.pdf")).unwrap(), b"mine");
    assert_eq!(bench.paper("a.pdf", &["--force"]).status.code(), Some(0));
    assert!(starts_with(&bench.at("a.pdf"), b"%PDF"));
}

#[test]
fn what_cannot_be_is_refused_and_leaves_nothing_half_written() {
    let bench = Bench::new();
    bench.refuses("a.png", &[], "expected a name that ends in .pdf, .svg or .dxf");
    bench.refuses("nowhere/a.pdf", &[], "not saved, cannot write there");
    bench.refuses(".", &[], "ends in .pdf");
    bench.refuses("a.pdf", &["--sheet", "A9"], "there is no paper `A9`, expected one of A4,");
    bench.refuses("a.pdf", &["--margins", "95"], "between the margins");
    bench.refuses("a.pdf", &["--margins", "1,2"], "left,top,right,bottom");
    bench.refuses("a.pdf", &["--overlap", "1"], "overlap of 1 mm, expected 10 to 60 mm");
    bench.refuses("a.pdf", &["--parts", "neck,nose"], "there is no such part, expected some of");
    bench.refuses("a.pdf", &["--measured", "94x94"], "fit to page");
    bench.refuses("a.pdf", &["--measured", "much"], "expected what the two bars measure");
    bench.refuses("a.pdf", &["--sheet", "roll150"], "`Side elevation` is");
    bench.refuses("a.pdf", &["--variant", "none"], "there is no variant `none`");
    bench.refuses("a.svg", &["--sheet", "A4"], "--sheet is for a PDF, and --out is `a.svg`");
    bench.refuses("a.pdf", &["--polylines"], "--polylines is for a DXF");
}

#[test]
fn the_cut_sheet_is_written_once_and_the_same_on_the_same_day() {
    let bench = Bench::new();
    let asked = ["--out", "a.pdf", "--date", "2026-03-31", "--sheet", "Letter", "--inches"];
    let output = bench.cuts(&asked);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert_eq!(String::from_utf8(output.stdout).unwrap(), "a.pdf: 2 pages of Letter.\n");
    let first = std::fs::read(bench.at("a.pdf")).unwrap();
    assert!(first.starts_with(b"%PDF"));
    let again = bench.cuts(&asked);
    assert_eq!(again.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&again.stderr).contains("is there already; --force"));
    assert_eq!(bench.cuts(&[&asked[..], &["--force"]].concat()).status.code(), Some(0));
    assert_eq!(std::fs::read(bench.at("a.pdf")).unwrap(), first);
}

#[test]
fn a_cut_sheet_that_cannot_be_is_refused_and_leaves_nothing() {
    let bench = Bench::new();
    for (options, words) in [
        (&["--out", "a.svg"][..], "expected a name that ends in .pdf"),
        (&["--out", "nowhere/a.pdf"], "not saved, cannot write there"),
        (&["--out", "a.pdf", "--sheet", "A9"], "there is no paper `A9`"),
        (&["--out", "a.pdf", "--sheet", "roll610"], "no cut sheet fits on roll of 610 mm"),
        (&["--out", "a.pdf", "--date", "soon"], "--date soon: "),
        (&["--out", "a.pdf", "--json"], "cannot be used with"),
        (&["--sheet", "A4"], "--out"),
    ] {
        let output = bench.cuts(options);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{options:?}: {said}");
        assert!(said.starts_with("overstand: ") && said.contains(words), "{options:?}: {said}");
        assert_eq!(bench.files(), ["mine.ron"], "{options:?} left something");
    }
}

#[cfg(unix)]
#[test]
fn a_device_is_no_file_to_write_over() {
    let bench = Bench::new();
    std::os::unix::fs::symlink("/dev/full", bench.at("a.pdf")).unwrap();
    let output = bench.paper("a.pdf", &["--force"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("expected a file or nothing there"));
}
