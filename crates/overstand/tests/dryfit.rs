//! `dryfit`, by running the program.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::collections::BTreeSet;

use serde_json::Value;

use common::{Bench, add_fields, assert_described, is_pdf, stdout};

const DRYFIT: &str = "dryfit mine.ron";

const LOW: [&str; 4] = ["--reading", "crowns@X=250:19.0±0.1", "--reading", "crowns@X=110:12.2±0.1"];

#[test]
fn readings_are_told_and_nothing_is_written() {
    let bench = Bench::new();
    let before = std::fs::read(bench.at("mine.ron")).unwrap();
    let told = bench.json(DRYFIT, &LOW);
    // tan θ = (19.0 - 12.2)/140, o = 19.0 - 250 tan θ - 7.1/cos θ
    let slope: f64 = 6.8 / 140.0;
    let overstand = 19.0 - 250.0 * slope - 7.1 * slope.hypot(1.0);
    assert!((told["pitch_deg"].as_f64().unwrap() - slope.atan().to_degrees()).abs() < 1e-9);
    assert!((told["overstand_mm"].as_f64().unwrap() - overstand).abs() < 1e-9);
    assert_eq!(told["kept"], false);
    let corrections = told["corrections"].as_array().unwrap();
    let kinds: Vec<&str> = corrections.iter().map(|one| one["kind"].as_str().unwrap()).collect();
    for kind in ["nothing", "saddle", "bridge", "wedge_inner", "mouth_off", "both_ends"] {
        assert!(kinds.contains(&kind), "{kinds:?}");
    }
    for one in corrections {
        let asks = one["asks"].as_array().unwrap().len();
        let trims = one["shoulder_foot_off_mm"].as_f64().unwrap()
            + one["shoulder_top_off_mm"].as_f64().unwrap();
        assert_eq!(asks, if trims > 0.02 { 2 } else { 0 }, "{one}");
    }
    let text = bench.run(DRYFIT, &LOW);
    let text = stdout(&text);
    assert!(text.contains("What to do, the best first"), "{text}");
    assert_eq!(std::fs::read(bench.at("mine.ron")).unwrap(), before);
}

#[test]
fn every_field_is_described() {
    let bench = Bench::new();
    let mut found = BTreeSet::new();
    let more = ["--glued", "--keep", "--done", "mouth_off", "--date", "2026-03-31"];
    add_fields(&bench.json(DRYFIT, &[&LOW[..], &more].concat()), &mut found);
    assert_described(&found);
}

#[test]
fn rounds_are_kept_and_printed() {
    let bench = Bench::new();
    let keep = ["--keep", "--date", "2026-03-31", "--note", "floor damp"];
    let first = bench.json(DRYFIT, &[&LOW[..], &keep, &["--done", "mouth_off"]].concat());
    assert_eq!(first["kept"], true);
    let miss = |told: &Value| told["miss_mm"].as_f64().unwrap();
    let file = overstand_files::read(&bench.at("mine.ron")).unwrap();
    let round = &file.variants[0].fitting[0];
    assert_eq!((round.note.as_str(), round.readings.len()), ("floor damp", 2));
    assert_eq!(round.done.as_ref().unwrap().kind.text(), "mouth_off");
    // a second round, nearer
    let near = ["--reading", "crowns@X=250:20.1", "--reading", "crowns@X=110:12.5"];
    let later = ["--keep", "--date", "2026-04-02", "--glued"];
    let second = bench.json(DRYFIT, &[&near[..], &later].concat());
    assert!(miss(&second).abs() < miss(&first).abs());
    let log = second["log"].as_array().unwrap();
    assert_eq!(log.len(), 2);
    // rounding: the log needs no whole layout
    assert!((miss(&log[0]) - miss(&first)).abs() < 1e-9);
    // the last round again, with its set-up
    let again = bench.json(DRYFIT, &[]);
    assert_eq!(again["miss_mm"], second["miss_mm"]);
    let steps: Vec<&Value> =
        again["setup"].as_array().unwrap().iter().map(|step| &step["id"]).collect();
    assert_eq!(steps, ["relief", "nut_slots", "saddle", "again"]);
    let written = bench.run(DRYFIT, &["--log", "log.pdf", "--date", "2026-04-02"]);
    assert!(stdout(&written).contains("log.pdf: 1 page of A4."));
    assert!(is_pdf(&bench.at("log.pdf")));
    bench.refuses(DRYFIT, &["--log", "log.pdf"], &["is there already"]);
}

#[test]
fn what_is_wrong_is_named() {
    let bench = Bench::new();
    for (args, says) in [
        (&["--reading", "crown@X=250:19"][..], "--reading `crown@X=250:19`: there is no reading"),
        (&["--reading", "crowns@X=250:x"], "the height `x`"),
        (&["--reading", "crowns@X=250:19"], "All heights were read at one place"),
        (&[], "expected --reading"),
        (&[&LOW[..], &["--done", "glue"]].concat(), "--done glue: there is no such correction"),
        (&[&LOW[..], &["--done", "inner_off"]].concat(), "It would lower the crest"),
        (&[&LOW[..], &["--done", "mouth_off=x"]].concat(), "--done mouth_off=x: at character"),
        (&[&LOW[..], &["--log", "log.txt"]].concat(), "--log log.txt: expected a name"),
        (&[&LOW[..], &["--date", "31.3."]].concat(), "--date 31.3.: expected a date"),
        (&[&LOW[..], &["--variant", "no"]].concat(), "there is no variant `no`"),
    ] {
        bench.refuses(DRYFIT, args, &[says]);
    }
}
