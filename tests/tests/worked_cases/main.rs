//! Worked cases, computed apart from this project (`data/cases.json`): every expected
//! number of each case that the layout covers.
//!
//! The reference values carry twelve significant digits, so that those below 1000 mm are
//! good to 5e-10; 1e-6 mm is what the project promises, and 1e-9 is what it is held to.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

mod joint;
mod strings;

use overstand_core::design::{
    ArchPoint, BoardShape, BridgeKind, Design, Head, HeadShape, InstrumentString, Nut, StringMake,
    Tail, Top,
};
use overstand_core::dimension::Dim;
use overstand_core::layout::solve;
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};
use overstand_tests::laid;
use serde_json::Value;

const TOLERANCE: f64 = 1e-9;

fn case(id: &str) -> (Value, Value) {
    let all: Value = serde_json::from_str(include_str!("../../data/cases.json")).unwrap();
    let case = all["cases"].as_array().unwrap().iter().find(|case| case["id"] == id).unwrap();
    (case["inputs"].clone(), case["expected"].clone())
}

#[track_caller]
fn close(actual: f64, expected: &Value, what: &str) {
    let expected = expected.as_f64().unwrap_or_else(|| panic!("{what} has no expected value"));
    let allowed = TOLERANCE * expected.abs().max(1.0);
    assert!((actual - expected).abs() <= allowed, "{what}: {actual} instead of {expected}");
}

fn number(inputs: &Value, key: &str) -> f64 {
    inputs[key].as_f64().unwrap_or_else(|| panic!("no input {key}"))
}

fn list(values: &Value) -> Vec<f64> {
    values.as_array().unwrap().iter().map(|value| value.as_f64().unwrap()).collect()
}

/// The example with the inputs of a case that every case has in common. The crest
/// height is found; pitch and the rest are held.
fn design(inputs: &Value) -> Design {
    let mut design = worked_example();
    let mm = |key: &str| Length::mm(number(inputs, key));
    design.scale.length = mm("L");
    if let Some(fret) = inputs["joint_fret"].as_u64().or(inputs["joint_position"].as_u64()) {
        design.joint.fret = u8::try_from(fret).unwrap();
    }
    design.board.thickness = mm("t");
    design.board.crown = mm("h");
    design.joint.pitch = Angle::degrees(number(inputs, "pitch_deg"));
    design.joint.overstand = mm("o");
    design.wanted.relief = mm("relief");
    design.bridge.compensation = Length::mm(inputs["compensation"].as_f64().unwrap_or_default());
    if let Some(c1) = inputs["c1"].as_f64() {
        (design.wanted.first_fret_bass, design.wanted.first_fret_treble) =
            (Length::mm(c1), Length::mm(c1));
    }
    if let Some(action) = inputs["action12"].as_f64() {
        (design.wanted.action_bass, design.wanted.action_treble) =
            (Length::mm(action), Length::mm(action));
    }
    if let Some(end) = inputs["board_end_u"].as_f64() {
        design.board.end = Length::mm(end);
    }
    design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    design
}

/// Source: the worked example of the project's domain notes, printed to the digits shown.
#[test]
fn worked_example_of_the_notes() {
    let mut design = worked_example();
    let (_, layout) = laid(&design);
    let printed = |actual: f64, expected: f64, half_digit: f64| {
        assert!((actual - expected).abs() <= half_digit, "{actual} instead of {expected}");
    };
    printed(layout.joint_from_nut, 378.778_035, 5e-7);
    printed(layout.bend, 1.355_776e-5, 5e-12);
    printed(layout.middle.nut_v, 2.220_536, 5e-7);
    printed(layout.middle.crest_v, 3.640_864, 5e-7);
    printed(layout.middle.crest.x, 250.373_110, 5e-7);
    printed(layout.middle.crest_height, 22.775_593, 5e-7);
    printed(layout.straightedge.crowns, 20.231, 5e-4);
    printed(layout.straightedge.board, 19.130, 5e-4);
    printed(layout.straightedge.neck_face, 13.121, 5e-4 + 1e-6);
    printed(layout.strings[0].slot_over_board, 1.248, 5e-4);
    printed(layout.clearances.open(0, 22), 2.139_054, 5e-7);
    printed(layout.clearances.stopped(0, 12, 13).unwrap(), 0.153_491, 5e-7);
    printed(layout.clearances.stopped(0, 20, 21).unwrap(), 0.141_180, 5e-7);
    let least = layout.strings[0].least_stopped.unwrap();
    let (n, m) = layout.least_stopped_at(0).unwrap();
    printed(least, 0.141_096, 5e-7);
    assert_eq!((n, m), (21, 22));
    for (pitch, expected) in [(2.5, 20.589_84), (3.5, 24.959_62)] {
        design.joint.pitch = Angle::degrees(pitch);
        printed(laid(&design).1.middle.crest_height, expected, 5e-6);
    }
}

#[test]
fn compound_radius_and_fan() {
    let (inputs, expected) = case("compound_fan");
    let mut design = design(&inputs);
    design.board.end = Length::mm(number(&inputs, "u_R_end"));
    design.board.shape = BoardShape::Compound {
        radius_nut: Length::mm(number(&inputs, "R_nut")),
        radius_end: Length::mm(number(&inputs, "R_end")),
    };
    let (c1, action) = (list(&inputs["c1"]), list(&inputs["action12"]));
    let compensation = list(&inputs["compensation"]);
    let mean = compensation.iter().sum::<f64>() / 6.0;
    design.bridge.compensation = Length::mm(mean);
    design.wanted.first_fret_bass = Length::mm(c1[0]);
    design.wanted.first_fret_treble = Length::mm(c1[5]);
    design.wanted.action_bass = Length::mm(action[0]);
    design.wanted.action_treble = Length::mm(action[5]);
    let (nut, bridge) = (number(&inputs, "spread_nut"), number(&inputs, "spread_bridge"));
    for (i, string) in design.strings.iter_mut().enumerate() {
        // treble first here, bass first there
        let place = 0.5 - i as f64 / 5.0;
        string.nut_place = Length::mm(nut * place);
        string.crest_place = Length::mm(bridge * place);
        string.crest_offset = Length::mm(compensation[5 - i] - mean);
    }
    let (_, layout) = laid(&design);
    close(layout.bend, &expected["kappa"], "kappa");
    for (i, line) in layout.strings.iter().enumerate() {
        let expected = &expected["strings"][5 - i];
        close(line.nut_v, &expected["nut_v"], "nut_v");
        close(line.slot_over_board, &expected["nut_slot_above_local_board"], "slot");
        close(line.crest_v, &expected["crest_v"], "crest_v");
        close(line.crest.x, &expected["crest_X"], "crest_X");
        close(line.crest_height, &expected["crest_B"], "crest_B");
        close(layout.clearances.open(i, 22), &expected["open_over_22"], "open over 22");
        let least = line.least_stopped.unwrap();
        let (n, m) = layout.least_stopped_at(i).unwrap();
        close(least, &expected["least_stopped_clearance"], "least stopped");
        assert_eq!(expected["least_at"], serde_json::json!([n, m]));
        // sagittas, through the crowns: crown = h + lift - sagitta
        for (fret, key) in [(1, "sagitta_1"), (12, "sagitta_12")] {
            let u = layout.positions[fret - 1];
            let flat = number(&inputs, "h") + layout.lift(u);
            close(flat - layout.clearances.crown(i, fret), &expected[key], key);
        }
    }
}

#[test]
fn arched_top_and_floating_bridge() {
    let (inputs, expected) = case("arched_floating");
    let mut design = design(&inputs);
    let points = list(&inputs["arch_X"]).into_iter().zip(list(&inputs["arch_z"]));
    design.body.top = Top::Arch {
        points: points.map(|(x, z)| ArchPoint { x: Length::mm(x), z: Length::mm(z) }).collect(),
    };
    let mm = Length::mm;
    design.bridge.kind = BridgeKind::Floating {
        crest_low: mm(10.0),
        crest_high: mm(20.0),
        crest_radius: mm(300.0),
        post_spread: mm(74.0),
    };
    design.bridge.base = mm(60.0);
    let (_, layout) = laid(&design);
    close(layout.bend, &expected["kappa"], "kappa");
    close(layout.middle.nut_v, &expected["nut_v"], "nut_v");
    close(layout.middle.crest_v, &expected["crest_v"], "crest_v");
    close(layout.middle.crest.x, &expected["crest_X"], "crest_X");
    close(layout.middle.crest.y, &expected["crest_Y"], "crest_Y");
    close(layout.top(layout.middle.crest.x), &expected["z_natural_cubic"], "z");
    close(layout.middle.crest_height, &expected["B_natural_cubic"], "B");
    let tangent = layout.top_tangent(layout.middle.crest.x).to_degrees();
    close(tangent, &expected["slope_at_crest_deg"], "slope");
    let foot = layout.foot.unwrap();
    close(foot.x, &expected["foot_X_on_normal"], "foot");
    close(foot.along_normal, &expected["height_along_normal"], "along normal");
    close(foot.over_base, &expected["B_over_chord_of_feet_60_apart"], "over the feet");
    close(layout.board_end_gap, &expected["board_end_gap_natural_cubic"], "board end");
    let end = layout.unstrung(number(&inputs, "board_end_u"), -number(&inputs, "t"));
    close(end.x, &expected["board_end_X"], "board end X");
    let by_pitch =
        overstand_core::layout::derivative(&design, Dim::CrestHeight, Dim::Pitch).unwrap();
    close(by_pitch.to_radians(), &expected["dB_dpitch_mm_per_deg"], "dB/dpitch");
}

#[test]
fn board_flush_on_a_ramp_with_a_glued_bridge() {
    let (inputs, expected) = case("flush_ramp");
    let mut design = design(&inputs);
    design.scale.frets = 20;
    design.body.top = Top::Ramp {
        angle: Angle::degrees(number(&inputs, "ramp_angle_deg")),
        length: Length::mm(list(&inputs["ramp_X"])[1]),
    };
    let saddle = list(&inputs["saddle_projection_range"]);
    design.bridge.kind = BridgeKind::Glued {
        thickness: Length::mm(number(&inputs, "bridge_thickness")),
        saddle_low: Length::mm(saddle[0]),
        saddle_high: Length::mm(saddle[1]),
    };
    let (_, layout) = laid(&design);
    let crest = layout.middle.crest_height;
    close(layout.bend, &expected["kappa"], "kappa");
    close(layout.middle.nut_v, &expected["nut_v"], "nut_v");
    close(layout.middle.crest_v, &expected["crest_v"], "crest_v");
    close(layout.middle.crest.x, &expected["crest_X"], "crest_X");
    close(layout.middle.crest.y, &expected["crest_Y"], "crest_Y");
    close(layout.top(layout.middle.crest.x), &expected["z_at_crest"], "z");
    close(crest, &expected["B"], "B");
    let (low, high) = design.bridge.kind.crest_range();
    close(crest - low.to_mm(), &expected["reserve_below"], "reserve below");
    close(high.to_mm() - crest, &expected["reserve_above"], "reserve above");
    // rounding of a difference of two heights of some 1.3 mm
    assert!(layout.board_end_gap.abs() < 1e-12);
    design.found = ["joint.pitch", "bridge.station"].map(str::to_owned).into();
    design.bridge.crest_height = Length::mm(number(&inputs, "B_wanted"));
    let solved = solve(&design).unwrap().design;
    close(
        solved.joint.pitch.to_degrees(),
        &expected["pitch_deg_for_B_wanted_same_ramp"],
        "pitch for the wanted crest",
    );
}

#[test]
fn shared_crest_on_two_posts() {
    let (inputs, expected) = case("shared_crest");
    let mut inputs_with_action = inputs.clone();
    inputs_with_action["action12"] = serde_json::json!(1.7);
    let mut design = design(&inputs_with_action);
    design.board.shape = BoardShape::Fixed { radius: Length::mm(number(&inputs, "board_R")) };
    let post = list(&inputs["post_w"])[1];
    design.bridge.kind = BridgeKind::Posts {
        crest_low: Length::mm(15.0),
        crest_high: Length::mm(30.0),
        crest_radius: Length::mm(number(&inputs, "crest_R")),
        post_spread: Length::mm(2.0 * post),
    };
    let action = list(&inputs["action12_outer"]);
    design.wanted.action_bass = Length::mm(action[0]);
    design.wanted.action_treble = Length::mm(action[1]);
    let (nut, bridge) = (number(&inputs, "spread_nut"), number(&inputs, "spread_bridge"));
    for (i, string) in design.strings.iter_mut().enumerate() {
        let place = 0.5 - i as f64 / 5.0;
        string.nut_place = Length::mm(nut * place);
        string.crest_place = Length::mm(bridge * place);
    }
    let (_, layout) = laid(&design);
    for (i, line) in layout.strings.iter().enumerate() {
        close(line.crest_v, &expected["crest_v"][5 - i], "crest_v");
        close(line.nut_v, &expected["nut_v"][5 - i], "nut_v");
        close(line.action, &expected["action12"][5 - i], "action");
        close(line.crest_height, &expected["crest_B"][5 - i], "crest_B");
    }
    let [treble, bass] = layout.posts.unwrap();
    close(bass.crest_height, &expected["post_B_of_crest_chord"][0], "bass post");
    close(treble.crest_height, &expected["post_B_of_crest_chord"][1], "treble post");
}

#[test]
fn fretless_board() {
    let (inputs, expected) = case("fretless");
    let mut design = design(&inputs);
    design.scale.frets = 0;
    let (_, layout) = laid(&design);
    assert!(!layout.is_fretted());
    let line = &layout.strings[0];
    close(layout.bend, &expected["kappa"], "kappa");
    close(line.nut_v, &expected["nut_v"], "nut_v");
    close(line.slot_over_board, &expected["nut_slot_above_local_board"], "slot");
    close(line.crest_v, &expected["crest_v"], "crest_v");
    close(line.crest.x, &expected["crest_X"], "crest_X");
    close(line.crest_height, &expected["B"], "B");
    // the board ends at semitone 24 of this scale
    assert_eq!(layout.positions.len(), 24);
    close(layout.clearances.open(0, 24), &expected["open_over_board_end"], "over the end");
    for expected in expected["stops"].as_array().unwrap() {
        let n = expected["stop"].as_f64().unwrap() as usize;
        let stop = line.stops[n - 1];
        close(stop.clearance_60_on.unwrap(), &expected["clearance_60_mm_on"], "60 mm on");
        close(
            stop.angle.to_degrees(),
            &expected["string_to_board_angle_at_stop_deg"],
            "angle at the stop",
        );
        close(
            stop.least_from_30_on.unwrap(),
            &expected["min_clearance_from_30_mm_on"],
            "least from 30 mm on",
        );
    }
}

#[test]
fn fall_away() {
    let (inputs, expected) = case("fall_away");
    let mut design = design(&inputs);
    design.board.fall_from = 15;
    design.board.fall = Length::mm(number(&inputs, "drop_at_fret_22"));
    let (_, layout) = laid(&design);
    close(layout.bend, &expected["kappa"], "kappa");
    for (fret, key) in [(16, "crown_16"), (18, "crown_18"), (22, "crown_22")] {
        close(layout.clearances.crown(0, fret), &expected[key], key);
    }
    close(layout.middle.crest_v, &expected["crest_v"], "crest_v");
    close(layout.middle.crest_height, &expected["B"], "B");
    close(layout.clearances.open(0, 22), &expected["open_over_22"], "open over 22");
    for (n, key) in [
        (12, "stopped_12_over_13"),
        (14, "stopped_14_over_15"),
        (15, "stopped_15_over_16"),
        (21, "stopped_21_over_22"),
    ] {
        close(layout.clearances.stopped(0, n, n + 1).unwrap(), &expected[key], key);
    }
    let least = layout.strings[0].least_stopped.unwrap();
    let (n, m) = layout.least_stopped_at(0).unwrap();
    close(least, &expected["least"], "least");
    assert_eq!(expected["least_at"], serde_json::json!([n, m]));
}

#[test]
fn zero_fret_and_break_angles() {
    let (inputs, expected) = case("zero_fret_breaks");
    let mut design = design(&inputs);
    let mm = Length::mm;
    design.nut = Nut::ZeroFret { height: mm(number(&inputs, "zero_fret_h")) };
    let tail = list(&inputs["tail_XY"]);
    design.tail = Tail::Hung { station: mm(tail[0]), height: mm(tail[1]) };
    let head = &inputs["head"];
    let start = list(&head["face_start_uv"]);
    design.head = Head {
        shape: HeadShape::Tilted { angle: Angle::degrees(number(head, "angle_deg")) },
        start: mm(-start[0]),
        drop: mm(-start[1]),
        length: mm(number(head, "tip_along")),
        thickness: mm(number(head, "head_thickness")),
    };
    design.strings = vec![InstrumentString {
        name: "middle".to_owned(),
        nut_place: mm(0.0),
        crest_place: mm(0.0),
        crest_offset: mm(0.0),
        post: mm(number(head, "post_along")),
        post_height: mm(number(head, "string_above_face_at_post")),
        retainer: None,
        note: None,
        gauge: None,
        make: StringMake::default(),
    }];
    design.body.thickness = mm(number(&inputs, "body_thickness_at_joint"));
    design.body.taper = Angle::degrees(number(&inputs, "back_taper_deg"));
    let (_, layout) = laid(&design);
    let line = &layout.strings[0];
    close(layout.bend, &expected["kappa"], "kappa");
    close(line.nut_v, &expected["nut_v"], "nut_v");
    close(line.first_fret, &expected["c1_resulting"], "c1");
    close(line.crest_v, &expected["crest_v"], "crest_v");
    close(line.crest.x, &expected["crest_X"], "crest_X");
    close(line.crest_height, &expected["B"], "B");
    close(line.saddle_break.unwrap().to_degrees(), &expected["saddle_break_deg"], "saddle break");
    close(line.nut_break.to_degrees(), &expected["nut_break_deg"], "nut break");
    let string_slope = layout.pitch + line.slope.atan();
    close(string_slope.to_degrees(), &expected["string_slope_in_body_deg"], "slope in body");
    let along = number(head, "post_along");
    let over = number(head, "string_above_face_at_post");
    let (u, v) = layout.strung_head(along, over);
    close(u, &expected["post_uv_strung"][0], "post u");
    close(v, &expected["post_uv_strung"][1], "post v");
    let (u, v) = layout.head(number(head, "tip_along"), -number(head, "head_thickness"));
    let tip = layout.unstrung(u, v);
    close(tip.x, &expected["head_tip_back_XY"][0], "tip X");
    close(tip.y, &expected["head_tip_back_XY"][1], "tip Y");
    close(layout.bench_gap, &expected["head_tip_above_back_plane"], "tip over the back plane");
}
