//! `check`, by running the program.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key};
use overstand_core::testing::worked_example;
use overstand_files::DesignFile;
use serde_json::Value;

use common::{Bench, assert_close, stdout};

/// As words and as data.
#[track_caller]
fn assert_refuses(bench: &Bench, options: &[&str], words: &[&str]) {
    bench.refuses("check mine.ron", options, words);
    bench.refuses("check mine.ron --json", options, words);
}

/// Source: the worked example of the project's own notes, derived twice apart from
/// this code; printed to 5 decimals, so half the last one is allowed.
#[test]
fn the_pitch_of_the_worked_example_gives_its_crest() {
    let bench = Bench::new();
    for (pitch, crest) in [("2.5deg", 20.58984), ("3.5°", 24.95962), ("3", 22.77559)] {
        let set = format!("joint.pitch={pitch}");
        let report =
            bench.json("check mine.ron", &["--set", &set, "--find", "bridge.crest_height"]);
        assert_close(&report["layout"]["crest_height_mm"], crest, 5e-6);
        assert_eq!(report["inputs"]["bridge.crest_height"], report["layout"]["crest_height_mm"]);
    }
    let report = bench
        .json("check mine.ron", &["--set", "joint.pitch=3deg", "--find", "bridge.crest_height"]);
    // printed to 3, 6 and 12 decimals: half the last one of each is allowed
    let reads = &report["layout"]["straightedge_mm"];
    assert_close(&reads["crowns"], 20.231, 5e-4);
    assert_close(&reads["board"], 19.130, 5e-4);
    assert_close(&reads["neck_face"], 13.121, 5e-4);
    assert_close(&report["layout"]["joint_from_nut_mm"], 378.778_035, 5e-7);
    assert_close(&report["layout"]["bend_per_mm"], 1.355_776e-5, 5e-12);
    let string = &report["strings"][0];
    assert_close(&string["open_clearance_mm"][21], 2.139_054, 5e-7);
    assert_close(&string["stopped_clearance_mm"][11][0], 0.153_491, 5e-7);
    assert_close(&string["stopped_clearance_mm"][19][0], 0.141_180, 5e-7);
    assert_close(&string["stopped_min_mm"], 0.141_096, 5e-7);
    assert_eq!(string["stopped_min_at"], serde_json::json!({ "n": 21, "m": 22 }));
}

#[test]
fn the_exit_status_says_whether_it_plays() {
    let bench = Bench::new();
    assert_eq!(bench.run("check mine.ron", &[]).status.code(), Some(0));
    let thin = ["--set", "bridge.crest_height=22.8mm", "--set", "bridge.crest_high=23.5mm"];
    assert_eq!(bench.json("check mine.ron", &thin)["verdict"], "plays_thin");
    assert_eq!(bench.run("check mine.ron", &thin).status.code(), Some(0));
    let fails = ["--set", "bridge.crest_height=30mm"];
    assert_eq!(bench.json("check mine.ron", &fails)["verdict"], "fails");
    assert_eq!(bench.run("check mine.ron", &fails).status.code(), Some(1));
    let open = ["--set", "joint.pitch=2.5deg"];
    assert_eq!(bench.json("check mine.ron", &open)["verdict"], "does_not_close");
    assert_eq!(bench.run("check mine.ron", &open).status.code(), Some(1));
}

#[test]
fn held_values_that_cannot_all_be_true_are_named() {
    let bench = Bench::new();
    let args = ["--hold", "bridge.crest_height", "--set", "joint.pitch=2.5deg"];
    let report = bench.json("check mine.ron", &args);
    assert_eq!(report["layout"], Value::Null);
    for list in ["frets", "strings", "checks"] {
        assert_eq!(report[list], serde_json::json!([]));
    }
    assert!(report["reason"].as_str().unwrap().contains("pitch"));
    let member = |key: &str| {
        let conflict = report["conflict"].as_array().unwrap();
        conflict.iter().find(|member| member["key"] == key).unwrap().clone()
    };
    // released alone, each comes to what makes the worked example
    assert_close(&member("bridge.crest_height")["would_be"], 20.58984, 5e-6);
    // the crest of the file is rounded to 1e-6 mm; a degree moves it by 4.37 mm
    assert_close(&member("joint.pitch")["would_be"], 3.0, 1e-6);
    assert_eq!(member("joint.pitch")["unit"], "deg");

    let output = bench.run("check mine.ron", &args);
    let text = stdout(&output);
    assert!(text.contains("Does not close"), "{text}");
    assert!(text.contains("--find joint.pitch"), "{text}");
    assert!(text.contains("20.6 mm   --find bridge.crest_height"), "{text}");

    let report = bench.json("check mine.ron", &["--set", "bridge.crest_height=140mm"]);
    assert_eq!(report["beyond"][0]["key"], "joint.pitch");
    // the end of its range in the table
    assert_eq!(report["beyond"][0]["limit"], 12.0);
    let output = bench.run("check mine.ron", &["--set", "bridge.crest_height=140mm"]);
    assert!(stdout(&output).contains("Released alone these do not help: "));
}

#[test]
fn the_order_of_what_is_asked_does_not_matter() {
    let bench = Bench::new();
    let pairs = [
        ["--find", "bridge.crest_height"],
        ["--set", "joint.pitch=2.2deg"],
        ["--set", "bridge.post_spread=80mm"],
        ["--set", "bridge.kind=posts"],
        ["--set", "tail.kind=at_bridge"],
        ["--set", "scale.frets=20"],
        ["--hold", "wanted.relief"],
    ];
    let forward: Vec<&str> = pairs.iter().flatten().copied().collect();
    let backward: Vec<&str> = pairs.iter().rev().flatten().copied().collect();
    let report = bench.json("check mine.ron", &forward);
    assert_eq!(report, bench.json("check mine.ron", &backward));
    assert_eq!(report["inputs"]["bridge.kind"], "posts");
    assert_eq!(report["inputs"]["bridge.post_spread"], 80.0);
    assert_eq!(report["inputs"]["scale.frets"], 20);
    assert_eq!(report["frets"].as_array().unwrap().len(), 20);
}

#[test]
fn a_result_is_held_at_a_value_or_as_it_is() {
    let bench = Bench::new();
    let report =
        bench.json("check mine.ron", &["--set", "tail.break_angle=14deg", "--find", "tail.height"]);
    assert_close(&report["layout"]["saddle_break_deg"], 14.0, 1e-9);
    assert!(report["held"].as_array().unwrap().contains(&"tail.break_angle".into()));
    assert!(report["found"].as_array().unwrap().contains(&"tail.height".into()));

    let now = bench.json("check mine.ron", &[])["layout"]["saddle_break_deg"].clone();
    let lifted = ["--set", "bridge.crest_height=24mm", "--find", "tail.height"];
    let mut held = lifted.to_vec();
    held.extend(["--hold", "tail.break_angle"]);
    let report = bench.json("check mine.ron", &held);
    assert_close(&report["layout"]["saddle_break_deg"], now.as_f64().unwrap(), 1e-9);

    let bench = Bench::with(|design| {
        design.targets.insert("tail.break_angle".to_owned(), 14.0);
        design.found.insert("tail.height".to_owned());
    });
    let report =
        bench.json("check mine.ron", &["--find", "tail.break_angle", "--hold", "tail.height"]);
    assert!(!report["held"].as_array().unwrap().contains(&"tail.break_angle".into()));
    // one that was found is held at what was found for the file as it stands
    let found = bench.json("check mine.ron", &[])["inputs"]["tail.height"].as_f64().unwrap();
    assert!((found - 16.0).abs() > 1.0);
    assert_close(&report["inputs"]["tail.height"], found, 0.0);
}

#[test]
fn what_is_wrong_with_the_question_is_said() {
    let bench = Bench::new();
    assert_refuses(
        &bench,
        &["--set", "joint.pich=3"],
        &["`joint.pich`", "did you mean `joint.pitch`"],
    );
    assert_refuses(&bench, &["--find", "tail.kinds"], &["did you mean `tail.kind`"]);
    assert_refuses(
        &bench,
        &["--set", "strings[0].nut_place=1"],
        &["did you mean `strings[1].nut_place`"],
    );
    assert_refuses(&bench, &["--set", "joint.pitch"], &["expected KEY=VALUE"]);
    assert_refuses(&bench, &["--set", "=2"], &["expected KEY=VALUE"]);
    assert_refuses(&bench, &["--set", "joint.pitch=3 mm"], &["--set joint.pitch=3 mm", "expected"]);
    assert_refuses(&bench, &["--set", "scale.length=628x"], &["at character 4", "found `x`"]);
    assert_refuses(&bench, &["--set", "joint.pitch=45"], &["45° is out of range", "−8° to 12°"]);
    assert_refuses(&bench, &["--set", "bridge.kind=velvet"], &["no `velvet`", "plate, posts"]);
    let twice = "stands in --set and in --find";
    assert_refuses(
        &bench,
        &["--find", "joint.pitch", "--set", "joint.pitch=2"],
        &["joint.pitch", twice],
    );
    assert_refuses(
        &bench,
        &["--hold", "joint.pitch", "--find", "joint.pitch"],
        &["stands in --hold and in --find"],
    );
    assert_refuses(
        &bench,
        &["--set", "joint.pitch=2", "--set", "joint.pitch=2"],
        &["`joint.pitch` is set twice"],
    );
    assert_refuses(&bench, &["--find", "scale.frets"], &["--find scale.frets", "cannot be found"]);
    assert_refuses(
        &bench,
        &["--find", "tail.kind"],
        &["choose with --set tail.kind=at_bridge|stop"],
    );
    assert_refuses(
        &bench,
        &["--set", "board.radius_end=300mm"],
        &["no `board.radius_end`", "is flat"],
    );
    assert_refuses(&bench, &["--set", "strings[7].nut_place=1mm"], &["strings[7]", "6 strings"]);
    assert_refuses(
        &bench,
        &["--set", "tail.kind=wrapped", "--set", "tail.break_angle=12deg"],
        &["no `tail.break_angle`", "tail.kind is wrapped"],
    );
    // each value is in range, together they are nonsense
    assert_refuses(&bench, &["--set", "scale.frets=0"], &["not a sound design", "board.crown"]);
    assert_refuses(&bench, &["--sett", "joint.pitch=2"], &["--sett", "Usage"]);
    bench.refuses("check mine.ron --json --inches", &[], &["--inches", "cannot be used with"]);
}

#[test]
fn a_variant_is_chosen_by_name() {
    let mut file = DesignFile::of(worked_example());
    let mut low = Design { name: "Lower bridge".to_owned(), ..worked_example() };
    Dim::CrestHeight.key().set(&mut low, 21.0);
    file.variants.push(low);
    let bench = Bench::of(&file);
    let report = bench.json("check mine.ron", &["--variant", "Lower bridge"]);
    assert_eq!(report["variant"], "Lower bridge");
    assert_eq!(report["variants"], serde_json::json!(["Worked example", "Lower bridge"]));
    assert_close(&report["layout"]["crest_height_mm"], 21.0, 1e-9);
    assert_eq!(bench.json("check mine.ron", &[])["variant"], "Worked example");
    let output = bench.run("check mine.ron", &[]);
    assert!(stdout(&output).contains("(other variants: `Lower bridge`)"));
    assert_refuses(
        &bench,
        &["--variant", "Higher bridge"],
        &["no variant `Higher bridge`", "`Worked example`, `Lower bridge`"],
    );
}

#[test]
fn a_remedy_does_what_it_says() {
    let bench = Bench::new();
    let fails = ["--set", "bridge.crest_height=28mm"];
    let report = bench.json("check mine.ron", &fails);
    let check = &report["checks"][0];
    assert_eq!((&check["id"], &check["state"]), (&"saddle_travel".into(), &"fails".into()));
    let remedies = check["remedies"].as_array().unwrap();
    assert!(!remedies.is_empty());
    let text = bench.run("check mine.ron", &fails);
    for remedy in remedies {
        let mut args = Vec::new();
        for change in remedy["changes"].as_array().unwrap() {
            let (key, unit) = (change["key"].as_str().unwrap(), change["unit"].as_str().unwrap());
            args.push("--set".to_owned());
            args.push(format!("{key}={}{unit}", change["to"].as_f64().unwrap()));
        }
        if let Some(key) = remedy["find"].as_str() {
            args.extend(["--find".to_owned(), key.to_owned()]);
        }
        let words: Vec<&str> = stdout(&text).split_whitespace().collect();
        let typed: Vec<&str> = args.iter().map(String::as_str).collect();
        assert!(words.windows(typed.len()).any(|part| part == typed), "no {typed:?}");
        if !args.iter().any(|arg| arg.contains("bridge.crest_height")) {
            args.extend(fails.map(str::to_owned));
        }
        let args: Vec<&str> = args.iter().map(String::as_str).collect();
        let mended = bench.json("check mine.ron", &args);
        let checks = mended["checks"].as_array().unwrap();
        let then = checks.iter().find(|then| then["id"] == check["id"]).unwrap();
        assert_eq!(then["state"], remedy["state"], "{args:?}");
        // two ways to the same root: rounding of a solve to 1e-10 mm
        assert_close(&then["value"], remedy["then"].as_f64().unwrap(), 1e-8);
    }
}

#[test]
fn every_key_of_the_design_is_among_the_inputs() {
    let bench = Bench::new();
    let report = bench.json("check mine.ron", &[]);
    let design = worked_example();
    for key in Key::all_of(&design) {
        let input = &report["inputs"][key.to_string()];
        assert!(input.is_number(), "{key} is {input}");
        if let Some(value) = key.get(&design).filter(|_| !key.is_found(&design)) {
            assert_eq!(input.as_f64(), Some(value), "{key}");
        }
    }
    let listed = bench.json("keys", &[]);
    assert!(listed.as_array().unwrap().iter().all(|key| key["meaning"] != ""));
}

#[test]
fn clearances_form_the_rows_that_are_described() {
    let bench = Bench::new();
    let report = bench.json("check mine.ron", &[]);
    assert_eq!(report["version"], 1);
    let strings = report["strings"].as_array().unwrap();
    assert_eq!(strings.len(), 6);
    assert_eq!(strings[0]["name"], "e");
    for string in strings {
        let rows = string["stopped_clearance_mm"].as_array().unwrap();
        assert_eq!(rows.len(), 21);
        for (n, row) in (1..).zip(rows) {
            assert_eq!(row.as_array().unwrap().len(), 22 - n);
        }
        assert_eq!(string["open_clearance_mm"].as_array().unwrap().len(), 22);
        assert_eq!(string["crown_v_mm"].as_array().unwrap().len(), 22);
    }
    let fretless =
        bench.json("check mine.ron", &["--set", "scale.frets=0", "--set", "board.crown=0"]);
    let string = &fretless["strings"][0];
    assert_eq!(string["stopped_clearance_mm"], serde_json::json!([]));
    assert_eq!(string["stopped_min_mm"], Value::Null);
    let stops = string["stops"].as_array().unwrap();
    assert_eq!(stops.len(), fretless["frets"].as_array().unwrap().len());
    assert!(stops[0]["angle_deg"].as_f64().unwrap() > 0.0);
}
