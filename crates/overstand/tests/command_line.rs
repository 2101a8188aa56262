//! The command line as a whole, by running the program: what goes in and comes out, and what
//! is refused.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::collections::BTreeSet;
use std::process::Stdio;

use serde_json::Value;

use common::{
    Bench, add_fields, assert_described, assert_refused, overstand, program, stderr, stdout,
};

#[test]
fn every_starter_plays_as_it_stands() {
    let bench = Bench::new();
    let listed = bench.json("starters", &[]);
    let starters = listed.as_array().unwrap();
    assert!(starters.len() >= 8, "only {} starters", starters.len());
    for starter in starters {
        let id = starter["id"].as_str().unwrap();
        let made = bench.run(&format!("new {id} --out {id}.ron"), &[]);
        assert_eq!(made.status.code(), Some(0), "{}", stderr(&made));
        let output = bench.run(&format!("check {id}.ron --json"), &[]);
        let report: Value = serde_json::from_slice(&output.stdout).unwrap();
        assert_eq!(report["verdict"], "plays", "{id}: {}", report["reason"]);
        assert_eq!(output.status.code(), Some(0));
        assert_eq!(report["layout"]["pitch_deg"], report["inputs"]["joint.pitch"]);
    }
}

#[test]
fn a_file_that_is_no_design_is_refused_and_left_alone() {
    let bench = Bench::new();
    bench.refuses("check missing.ron", &[], &["missing.ron"]);

    let text = std::fs::read_to_string(bench.at("mine.ron")).unwrap();
    let later = text.replacen("format: 1", "format: 99", 1);
    assert_ne!(text, later);
    std::fs::write(bench.at("later.ron"), &later).unwrap();
    let words = ["later.ron", "later version", "99"];
    bench.refuses("check later.ron", &[], &words);
    bench.refuses("new quay-house-3 --out later.ron --force", &[], &words);
    assert_eq!(std::fs::read_to_string(bench.at("later.ron")).unwrap(), later);

    let broken = text.replacen("thickness: 6.0", "thickness: 6.0.1", 1);
    std::fs::write(bench.at("broken.ron"), broken).unwrap();
    bench.refuses("check broken.ron --json", &[], &["broken.ron: line "]);
    bench.refuses("check .", &[], &[]);
}

#[test]
fn a_design_comes_in_through_a_pipe() {
    let bench = Bench::new();
    let piped =
        |input: Stdio| program().args(["check", "-", "--json"]).stdin(input).output().unwrap();
    let output = piped(std::fs::File::open(bench.at("mine.ron")).unwrap().into());
    assert_eq!(output.stdout, bench.run("check mine.ron", &["--json"]).stdout);
    assert_refused(&piped(Stdio::null()), &["standard input"]);
    let made = overstand(&["new", "quay-house-3", "--out", "-"]);
    assert!(overstand_files::parse(stdout(&made)).is_ok());
}

#[test]
fn a_closed_pipe_is_no_failure() {
    let bench = Bench::new();
    for command in ["keys", "check mine.ron --json", "completions zsh"] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = bench.ask(command, &[]).stdout(writer).output().unwrap();
        assert_eq!(stderr(&output), "");
        assert_eq!(output.status.code(), Some(0));
    }
}

#[test]
fn a_file_is_not_written_over_unless_asked() {
    let bench = Bench::new();
    let before = std::fs::read(bench.at("mine.ron")).unwrap();
    let new = "new quay-house-3 --out mine.ron";
    bench.refuses(new, &[], &["mine.ron", "is there already", "--force"]);
    assert_eq!(std::fs::read(bench.at("mine.ron")).unwrap(), before);
    let output = bench.run(new, &["--force"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert_ne!(std::fs::read(bench.at("mine.ron")).unwrap(), before);
    let words = ["no starter `quay-hose-3`", "did you mean `quay-house-3`"];
    bench.refuses("new quay-hose-3 --out mine.ron", &[], &words);
}

#[test]
fn without_a_display_the_commands_that_need_none_are_named() {
    let bench = Bench::new();
    let commands = ["check, strings, risk, cuts, compare, dryfit, new,"];
    assert_refused(&overstand(&[]), &commands);
    bench.refuses("mine.ron", &[], &commands);
    assert_refused(&overstand(&["none.ron"]), &["cannot read", "none.ron"]);
    assert_refused(&overstand(&["chek"]), &["did you mean the command `overstand check`"]);
}

#[test]
fn lengths_are_shown_in_inches_when_asked() {
    let bench = Bench::new();
    let output = bench.run("check mine.ron", &["--inches"]);
    // 628 mm / 25.4
    assert!(stdout(&output).contains("24.724 in"), "{}", stdout(&output));
    // nor does any other answer mix the two
    for starter in overstand_files::starters() {
        let file = starter.file().unwrap();
        let bench = Bench::of(&file);
        let on = if file.variants[0].is_fretted() { "crowns" } else { "board" };
        let near = format!("{on}@X=130:7");
        let far = format!("{on}@crest:9");
        for (command, options) in [
            ("check", &[][..]),
            ("strings", &[]),
            ("cuts", &[]),
            ("dryfit", &["--reading", &near, "--reading", &far]),
        ] {
            let output = bench.run(&format!("{command} mine.ron --inches"), options);
            let text = stdout(&output);
            let metric = text.lines().find(|line| line.contains(" mm"));
            let id = starter.id;
            assert!(text.contains(" in") && metric.is_none(), "{command} {id}: {metric:?}");
        }
    }
}

#[test]
fn a_pipe_gets_no_colour() {
    let bench = Bench::new();
    for command in ["check mine.ron", "keys", "starters", "--help"] {
        assert!(!stdout(&bench.run(command, &[])).contains('\x1b'));
    }
}

/// Only a build with a window gets so far as to look for the display.
#[cfg(all(unix, not(target_os = "macos"), feature = "window"))]
#[test]
fn a_display_that_does_not_answer_is_an_error() {
    let output = program().env("DISPLAY", ":65000").output().unwrap();
    assert_refused(&output, &["window cannot be opened", "cuts, compare, dryfit, new"]);
    assert!(!stderr(&output).contains(".rs"), "{}", stderr(&output));
}

#[test]
fn every_field_is_described() {
    let bench = Bench::new();
    let mut found = BTreeSet::new();
    let crest = ["--set", "bridge.crest_height=28mm"];
    let open = ["--set", "joint.pitch=2.5deg"];
    let beyond = ["--set", "bridge.crest_height=140mm"];
    let floating = ["--set", "bridge.kind=floating"];
    let fretless = ["--set", "scale.frets=0", "--set", "board.crown=0"];
    for args in [&crest[..], &open, &beyond, &floating, &fretless] {
        add_fields(&bench.json("check mine.ron", args), &mut found);
    }
    add_fields(&bench.json("cuts mine.ron", &[]), &mut found);
    let aim = ["--tolerance-of", "joint.pitch", "--sure", "50", "--aim", "joint.pitch"];
    let map = ["--map", "joint.pitch,joint.overstand"];
    add_fields(&bench.json("risk mine.ron --trials 10000", &[&aim[..], &map].concat()), &mut found);
    for command in ["keys", "starters", "explain"] {
        add_fields(&bench.json(command, &[]), &mut found);
    }
    for expected in
        ["beyond", "conflict", "foot", "limit", "posts", "remedies", "stops", "would_be"]
    {
        assert!(found.contains(expected), "{expected} is never written");
    }
    assert_described(&found);
}
