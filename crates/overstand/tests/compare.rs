//! The command that compares, by running the program.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::collections::BTreeSet;

use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::testing::worked_example;
use overstand_files::DesignFile;
use serde_json::Value;

use common::{Bench, add_fields, assert_described, is_pdf, stdout};

/// A file of three variants, one of which does not close, and another file.
fn bench() -> Bench {
    let variant = |name: &str, crest: f64| {
        let mut design = Design { name: name.to_owned(), ..worked_example() };
        Dim::CrestHeight.key().set(&mut design, crest);
        design
    };
    let mut file = DesignFile::of(variant("As drawn", 22.8));
    file.variants.extend([variant("Lower, for slide", 21.0), variant("Open", 140.0)]);
    let bench = Bench::of(&file);
    bench.put("other.ron", &DesignFile::of(variant("Another", 24.0)));
    bench
}

#[test]
fn variants_of_one_file_and_two_files_are_compared() {
    let bench = bench();
    let both = bench.json("compare", &["mine.ron", "--variants", "As drawn,Lower, for slide"]);
    assert_eq!(both["a"]["title"], "As drawn");
    assert_eq!(both["b"]["variant"], "Lower, for slide");
    let rows = both["rows"].as_array().unwrap();
    let crest = rows.iter().find(|row| row["subject"] == "bridge.crest_height").unwrap();
    // 21.0 - 22.8, each a double
    assert!((crest["difference"].as_f64().unwrap() + 1.8).abs() < 1e-12);
    assert_eq!((&crest["unit"], &crest["can_be_taken"]), (&"mm".into(), &true.into()));
    let files = bench.json("compare", &["mine.ron", "other.ron"]);
    assert_eq!(files["a"]["title"], "mine.ron · As drawn");
    assert_eq!(files["b"]["title"], "other.ron · Another");
    let chosen =
        bench.json("compare", &["mine.ron", "other.ron", "--variants", "Lower, for slide,Another"]);
    assert_eq!(chosen["a"]["variant"], "Lower, for slide");
    let same = bench.json("compare", &["mine.ron", "mine.ron"]);
    assert_eq!((&same["says"], &same["rows"]), (&"Nothing differs.".into(), &Value::Array(vec![])));
}

#[test]
fn all_variants_are_listed_in_an_order() {
    let bench = bench();
    let names = |sort: &str| {
        let listed = bench.json("compare", &["mine.ron", "--variants", "all", "--sort", sort]);
        let one = |variant: &Value| variant["variant"].as_str().unwrap().to_owned();
        listed["variants"].as_array().unwrap().iter().map(one).collect::<Vec<_>>()
    };
    assert_eq!(names("file"), ["As drawn", "Lower, for slide", "Open"]);
    assert_eq!(names("margin").last().unwrap(), "Open");
    assert_eq!(names("name")[2], "Open");
}

#[test]
fn the_exit_status_says_whether_all_play() {
    let bench = bench();
    let status = |args: &[&str]| bench.run("compare", args).status.code().unwrap();
    let two = status(&["mine.ron", "--variants", "As drawn,Open"]);
    let all = status(&["mine.ron", "--variants", "all"]);
    assert_eq!((two, all), (1, 1), "one of them does not close");
    let words = bench.run("compare", &["mine.ron", "--variants", "As drawn,Open"]);
    assert!(stdout(&words).contains("B does not close, and A plays"));
}

#[test]
fn what_cannot_be_compared_is_refused_in_words() {
    let bench = bench();
    let refuses = |options: &[&str], words: &str| bench.refuses("compare", options, &[words]);
    refuses(&["mine.ron"], "3 variants");
    refuses(&["other.ron"], "a second file");
    refuses(&["mine.ron", "--variants", "As drawn,Deep"], "there is no variant `Deep`");
    refuses(&["mine.ron", "--variants", "As drawn"], "expected two");
    refuses(&["mine.ron", "--variants", "all", "--sort", "weight"], "expected margin");
    refuses(&["mine.ron", "none.ron"], "none.ron");
    refuses(&["mine.ron", "--variants", "all", "--paper", "a.pdf"], "two designs");
    let named = ["mine.ron", "other.ron", "--paper"];
    refuses(&[&named[..], &["a.svg"]].concat(), ".pdf");
    refuses(&[&named[..], &["a.pdf", "--sheet", "roll610"]].concat(), "compare sheet");
}

#[test]
fn the_sheet_is_written_once() {
    let bench = bench();
    let asked = "compare mine.ron other.ron --paper a.pdf --date 2026-03-31";
    let output = bench.run(asked, &[]);
    let said = stdout(&output);
    assert!(said.starts_with("a.pdf: ") && said.ends_with(" of A4.\n"), "{said}");
    assert!(is_pdf(&bench.at("a.pdf")));
    let written = std::fs::read(bench.at("a.pdf")).unwrap();
    bench.refuses(asked, &[], &["--force"]);
    assert!(bench.run(asked, &["--force"]).status.code() < Some(2));
    assert_eq!(std::fs::read(bench.at("a.pdf")).unwrap(), written);
}

#[test]
fn every_field_is_described() {
    let bench = bench();
    let mut found = BTreeSet::new();
    add_fields(&bench.json("compare", &["mine.ron", "other.ron"]), &mut found);
    add_fields(&bench.json("compare", &["mine.ron", "--variants", "all"]), &mut found);
    assert!(found.contains("least_check") && found.contains("better"));
    assert_described(&found);
}
