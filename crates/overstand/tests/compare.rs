//! The command that compares, by running the program.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::collections::BTreeSet;
use std::process::Output;

use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::testing::worked_example;
use overstand_files::DesignFile;
use serde_json::Value;

use common::{add_fields, assert_described, program};

struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    /// A file of three variants, one of which does not close, and another file.
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let variant = |name: &str, crest: f64| {
            let mut design = Design { name: name.to_owned(), ..worked_example() };
            Dim::CrestHeight.key().set(&mut design, crest);
            design
        };
        let mut file = DesignFile::of(variant("As drawn", 22.8));
        file.variants.extend([variant("Lower, for slide", 21.0), variant("Open", 140.0)]);
        overstand_files::save(&folder.path().join("mine.ron"), &file).unwrap();
        let other = DesignFile::of(variant("Another", 24.0));
        overstand_files::save(&folder.path().join("other.ron"), &other).unwrap();
        Self { folder }
    }

    fn compare(&self, args: &[&str]) -> Output {
        program().arg("compare").args(args).current_dir(self.folder.path()).output().unwrap()
    }

    fn json(&self, args: &[&str]) -> Value {
        let mut all = args.to_vec();
        all.push("--json");
        serde_json::from_slice(&self.compare(&all).stdout).unwrap()
    }

    #[track_caller]
    fn refuses(&self, args: &[&str], words: &str) {
        let output = self.compare(args);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
        assert!(output.stdout.is_empty());
        assert!(said.starts_with("overstand: ") && said.contains(words), "{args:?}: {said}");
    }
}

#[test]
fn variants_of_one_file_and_two_files_are_compared() {
    let bench = Bench::new();
    let both = bench.json(&["mine.ron", "--variants", "As drawn,Lower, for slide"]);
    assert_eq!(both["a"]["title"], "As drawn");
    assert_eq!(both["b"]["variant"], "Lower, for slide");
    let rows = both["rows"].as_array().unwrap();
    let crest = rows.iter().find(|row| row["subject"] == "bridge.crest_height").unwrap();
    // 21.0 - 22.8, each a double
    assert!((crest["difference"].as_f64().unwrap() + 1.8).abs() < 1e-12);
    assert_eq!((&crest["unit"], &crest["can_be_taken"]), (&"mm".into(), &true.into()));
    let files = bench.json(&["mine.ron", "other.ron"]);
    assert_eq!(files["a"]["title"], "mine.ron · As drawn");
    assert_eq!(files["b"]["title"], "other.ron · Another");
    let chosen = bench.json(&["mine.ron", "other.ron", "--variants", "Lower, for slide,Another"]);
    assert_eq!(chosen["a"]["variant"], "Lower, for slide");
    let same = bench.json(&["mine.ron", "mine.ron"]);
    assert_eq!((&same["says"], &same["rows"]), (&"Nothing differs.".into(), &Value::Array(vec![])));
}

#[test]
fn all_variants_are_listed_in_an_order() {
    let bench = Bench::new();
    let names = |sort: &str| {
        let listed = bench.json(&["mine.ron", "--variants", "all", "--sort", sort]);
        let one = |variant: &Value| variant["variant"].as_str().unwrap().to_owned();
        listed["variants"].as_array().unwrap().iter().map(one).collect::<Vec<_>>()
    };
    assert_eq!(names("file"), ["As drawn", "Lower, for slide", "Open"]);
    assert_eq!(names("margin").last().unwrap(), "Open");
    assert_eq!(names("name")[2], "Open");
}

#[test]
fn the_exit_status_says_whether_all_play() {
    let bench = Bench::new();
    let status = |args: &[&str]| bench.compare(args).status.code().unwrap();
    let two = status(&["mine.ron", "--variants", "As drawn,Open"]);
    let all = status(&["mine.ron", "--variants", "all"]);
    assert_eq!((two, all), (1, 1), "one of them does not close");
    let words =
        String::from_utf8(bench.compare(&["mine.ron", "--variants", "As drawn,Open"]).stdout);
    assert!(words.unwrap().contains("B does not close, and A plays"));
}

#[test]
fn what_cannot_be_compared_is_refused_in_words() {
    let bench = Bench::new();
    bench.refuses(&["mine.ron"], "3 variants");
    bench.refuses(&["other.ron"], "a second file");
    bench.refuses(&["mine.ron", "--variants", "As drawn,Deep"], "there is no variant `Deep`");
    bench.refuses(&["mine.ron", "--variants", "As drawn"], "expected two");
    bench.refuses(&["mine.ron", "--variants", "all", "--sort", "weight"], "expected margin");
    bench.refuses(&["mine.ron", "none.ron"], "none.ron");
    bench.refuses(&["mine.ron", "--variants", "all", "--paper", "a.pdf"], "two designs");
    let named = ["mine.ron", "other.ron", "--paper"];
    bench.refuses(&[&named[..], &["a.svg"]].concat(), ".pdf");
    bench.refuses(&[&named[..], &["a.pdf", "--sheet", "roll610"]].concat(), "compare sheet");
}

#[test]
fn the_sheet_is_written_once() {
    let bench = Bench::new();
    let args = ["mine.ron", "other.ron", "--paper", "a.pdf", "--date", "2026-03-31"];
    let output = bench.compare(&args);
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.starts_with("a.pdf: ") && said.ends_with(" of A4.\n"), "{said}");
    let written = std::fs::read(bench.folder.path().join("a.pdf")).unwrap();
    assert!(written.starts_with(b"%PDF-"));
    bench.refuses(&args, "--force");
    assert!(bench.compare(&[&args[..], &["--force"]].concat()).status.code() < Some(2));
    assert_eq!(std::fs::read(bench.folder.path().join("a.pdf")).unwrap(), written);
}

#[test]
fn every_field_is_described() {
    let bench = Bench::new();
    let mut found = BTreeSet::new();
    add_fields(&bench.json(&["mine.ron", "other.ron"]), &mut found);
    add_fields(&bench.json(&["mine.ron", "--variants", "all"]), &mut found);
    assert!(found.contains("least_check") && found.contains("better"));
    assert_described(&found);
}
