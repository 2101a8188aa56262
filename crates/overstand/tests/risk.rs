//! `risk`, by running the program.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::collections::BTreeSet;

use overstand_core::verdict::CheckId;
use serde_json::Value;

use common::{Bench, assert_close, stdout};

const RISK: &str = "risk mine.ron --trials 10000";

#[test]
fn a_seed_gives_the_same_risk_and_a_tolerance_another() {
    let bench = Bench::new();
    let usual = bench.json(RISK, &[]);
    assert_eq!(usual, bench.json(RISK, &["--seed", "1"]));
    assert_ne!(usual["crest"], bench.json(RISK, &["--seed", "2"])["crest"]);
    let of = |risk: &Value, key: &str| {
        let errors = risk["errors"].as_array().unwrap();
        errors.iter().find(|error| error["key"] == key).unwrap().clone()
    };
    assert_eq!(of(&usual, "joint.seat_mouth")["basis"], "hand");
    let jig = bench.json(RISK, &["--set", "tolerance.joint.seat_mouth=jig"]);
    let seat = of(&jig, "joint.seat_mouth");
    assert_eq!((&seat["basis"], &seat["spread"]), (&"jig".into(), &"rectangular".into()));
    assert_close(&seat["plus_minus"], 0.06, 1e-12);
    let given = bench.json(RISK, &["--set", "tolerance.board.thickness=±0.05mm normal"]);
    let board = of(&given, "board.thickness");
    assert_eq!((&board["basis"], &board["spread"]), (&"given".into(), &"normal".into()));
    assert_close(&board["plus_minus"], 0.05, 1e-12);
}

#[test]
fn a_chance_is_called_the_same_in_text_and_json() {
    let bench = Bench::new();
    let mut called = BTreeSet::new();
    for plus_minus in ["0.01mm", "0.3mm", "1mm"] {
        let set = format!("tolerance.joint.seat_mouth={plus_minus}");
        let risk = bench.json(RISK, &["--set", &set]);
        let state = risk["plays_state"].as_str().unwrap();
        let output = bench.run(RISK, &["--set", &set]);
        let text = stdout(&output);
        let headline = text.lines().find(|line| line.contains("It plays with")).unwrap();
        assert!(headline.contains(state), "{state} in {headline}");
        called.insert(state.to_owned());
        for one in risk["odds"].as_array().unwrap() {
            let name = CheckId::from_text(one["id"].as_str().unwrap()).unwrap().name();
            let line = text.lines().find(|line| line.contains(name) && line.ends_with("hold"));
            let state = one["state"].as_str().unwrap();
            assert_eq!(line.is_some(), one["fails"] != 0, "{one}");
            assert!(line.is_none_or(|line| line.contains(state)), "{state} in {line:?}");
        }
    }
    assert!(called.len() > 1, "all of them are {called:?}");
}

#[test]
fn what_is_wrong_with_a_risk_is_said() {
    let bench = Bench::new();
    for (args, words) in [
        (&["--set", "tolerance.joint.pich=1"][..], "did you mean `tolerance.joint.pitch`"),
        (&["--set", "tolerance.velvet=1"], "there is no tolerance `tolerance.velvet`\nexpected"),
        (&["--set", "tolerance.velvet=1"], "`tolerance.joint.seat_mouth`"),
        (&["--set", "tolerance.board.thickness=velvet"], "a way of making"),
        (&["--set", "tolerance.bridge.crest_height=0.1"], "is not made"),
        (
            &["--set", "tolerance.board.thickness=0.1", "--set", "tolerance.board.thickness=0.2"],
            "twice",
        ),
        (&["--tolerance-of", "joint.pitch", "--sure", "0"], "more than 0"),
        (&["--tolerance-of", "scale.frets"], "it does not miss"),
        (&["--aim", "bridge.crest_height"], "cannot be chosen freely"),
        (&["--map", "joint.pitch", "--json"], "two keys"),
        (&["--map", "joint.pitch,joint.pitch", "--json"], "two dimensions"),
        (&["--trials", "0"], "trials"),
    ] {
        bench.refuses("risk mine.ron", args, &[words]);
    }
}
