//! The joint and its dry fit.

use overstand_core::dimension::Dim;
use overstand_core::dryfit::{Correction, DryFit, Kind};
use overstand_core::joint::{JointSection, stack_under_bar, wedge_rise};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};
use overstand_tests::laid;
use serde_json::Value;

use super::{case, close, design, number};

#[test]
fn tenon_for_three_floors() {
    let (inputs, expected) = case("joint_polygons");
    let mut design = worked_example();
    let mm = |key: &str| Length::mm(number(&inputs, key));
    design.joint.pitch = Angle::degrees(number(&inputs, "pitch_deg"));
    design.joint.overstand = mm("o");
    design.joint.pocket_depth = mm("d0");
    design.joint.tenon_length = mm("tenon_length_along_datum");
    design.joint.shoulder = mm("shoulder_length_S");
    design.board.thickness = mm("t");
    // the case rounds u_J to three decimals
    let exact = 628.0 * overstand_core::layout::fret_ratio(16);
    design.joint.offset = Length::mm(number(&inputs, "u_joint") - exact);
    for expected in expected["floors"].as_array().unwrap() {
        design.joint.floor = Angle::degrees(number(expected, "floor_deg"));
        let (design, layout) = laid(&design);
        let joint = JointSection::of(&design, &layout);
        for (i, point) in joint.tenon.iter().enumerate() {
            close(point.x, &expected["tenon_body_XY"][i][0], "tenon X");
            close(point.y, &expected["tenon_body_XY"][i][1], "tenon Y");
            let (u, v) = layout.neck_from_body(*point);
            close(u, &expected["tenon_neck_uv"][i][0], "tenon u");
            close(v, &expected["tenon_neck_uv"][i][1], "tenon v");
        }
        let (u, v) = layout.neck_from_body(joint.shoulder_foot);
        close(u, &expected["shoulder_foot_neck_uv"][0], "shoulder foot u");
        close(v, &expected["shoulder_foot_neck_uv"][1], "shoulder foot v");
        let back = layout.joint_from_nut - u;
        close(back, &expected["shoulder_foot_offset_along_board"], "shoulder foot");
        let (front, inner) = joint.depth_square_to_datum;
        close(front, &expected["tau_0"], "tau at the mouth");
        close(inner, &expected["tau_l"], "tau at the inner end");
        close(inner, &expected["butt_length"], "butt");
        let (front, inner) = joint.depth_square_to_board;
        close(front, &expected["depth_square_to_board_at_top_of_shoulder"], "k at the shoulder");
        close(inner, &expected["depth_square_to_board_at_top_of_butt"], "k at the butt");
        close(joint.along_underside, &expected["tenon_length_along_underside"], "along underside");
        close(joint.along_bottom, &expected["tenon_bottom_length"], "along bottom");
        let degrees = joint.bottom_to_underside.to_degrees();
        close(degrees, &expected["tenon_bottom_vs_underside_deg"], "bottom to underside");
        close(
            joint.face_to_underside.to_degrees(),
            &expected["face_vs_underside_deg"],
            "face to underside",
        );
        close(wedge_rise(100.0, layout.pitch), &expected["wedge_rise_W100"], "wedge");
        close(stack_under_bar(100.0, layout.pitch), &expected["stack_W100"], "stack");
    }
}

/// The dry fit: what the straightedge should have read, what it read, and what is done.
#[test]
fn dry_fit_round_trip() {
    let (inputs, expected) = case("dry_fit");
    let mut design = design(&inputs["plan"]);
    design.joint.floor = Angle::degrees(number(&inputs["plan"], "floor_deg"));
    let (_, layout) = laid(&design);
    for (i, key) in ["planned_reading_at_X1", "planned_reading_at_X2"].into_iter().enumerate() {
        let reading = layout.straightedge_at(number(&inputs["readings"][i], "X"));
        close(reading.crowns, &expected[key], key);
    }
    close(layout.middle.crest_height, &expected["planned_B"], "planned B");
    // the straightedge at the crest is the same wherever it is asked for
    assert_eq!(layout.straightedge, layout.straightedge_at(layout.middle.crest.x));

    let plan = &inputs["plan"];
    for (dim, key) in [
        (Dim::PocketDepth, "d0"),
        (Dim::TenonLength, "tenon_length"),
        (Dim::Shoulder, "shoulder_S"),
    ] {
        dim.key().set(&mut design, number(plan, key));
    }
    let readings: Vec<_> = inputs["readings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            let (x, height) = (number(one, "X"), number(one, "height"));
            let text = format!("crowns@X={x}:{height}±{}", number(&inputs, "sigma_reading"));
            text.parse().unwrap()
        })
        .collect();
    let fit = DryFit::of(&Study::of(&design), &readings).unwrap();
    let told = &fit.told;
    close(told.pitch.to_degrees(), &expected["found_pitch_deg"], "pitch");
    close(told.overstand, &expected["found_overstand"], "overstand");
    close(fit.real.crest, &expected["found_B"], "B");
    close(told.pitch_error().to_degrees(), &expected["sigma_pitch_deg"], "error of the pitch");
    close(told.overstand_error(), &expected["sigma_overstand"], "error of the overstand");
    close(fit.real.crest_error, &expected["sigma_B"], "error of B");
    close(told.correlation(), &expected["correlation_pitch_overstand"], "correlation");

    let of = |one: &Correction, expected: &Value, amount: &str| {
        close(one.amount.unwrap().value, &expected[amount], amount);
        close(one.outcome.pitch.to_degrees(), &expected["pitch_deg"], "pitch after");
        close(one.outcome.overstand, &expected["overstand"], "overstand after");
        let floor = one.outcome.study.design.joint.floor.to_degrees();
        close(floor, &expected["floor_deg"], "floor after");
        close(one.outcome.crest_at, &expected["crest_X"], "crest X after");
        close(one.outcome.crest, &expected["B"], "B after");
        close(one.closing.foot_off, &expected["shoulder_top_opens"], "the top opens by");
        close(one.closing.foot_off, &expected["wood_off_at_foot"], "off the foot");
        close(one.closing.top_off, &expected["wood_off_at_top"], "off the top");
        close(one.spare_used(), &expected["joint_moves"], "the joint moves");
    };
    of(fit.correction(Kind::MouthOff).unwrap(), &expected["remedy_lower_mouth"], "off_at_mouth");
    let inner = fit.correction(Kind::WedgeInner).unwrap();
    of(inner, &expected["remedy_raise_inner"], "up_at_inner_end");

    // A shoulder recut parallel, of the plan as it is. The case holds the crest in the neck; with
    // relief the neck's free part is then shorter and bends more for the same relief, so that
    // without any it is compared.
    let parallel = &expected["parallel_recut"];
    close(fit.plan.layout().unwrap().middle.crest.x + 1.0, &parallel["crest_X_after"], "crest X");
    design.wanted.relief = Length::ZERO;
    let (design, layout) = laid(&design);
    let as_planned: Vec<_> = inputs["readings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            let x = number(one, "X");
            format!("crowns@X={x}:{}", layout.straightedge_at(x).crowns).parse().unwrap()
        })
        .collect();
    let planned = DryFit::of(&Study::of(&design), &as_planned).unwrap();
    let by = number(&inputs, "parallel_recut_along_datum");
    let moved = planned.with(Kind::MoveJoint, by).unwrap().outcome;
    let after = moved.study.layout().unwrap();
    close(after.joint_from_nut, &parallel["u_joint_after"], "u_J");
    close(moved.overstand, &parallel["overstand_after"], "overstand");
    close(moved.crest_at - layout.middle.crest.x, &parallel["crest_X_shift"], "crest X shift");
    close(moved.crest - layout.middle.crest_height, &parallel["B_shift"], "B shift");
    let used = design.joint.spare_length.to_mm() - moved.spare;
    close(used, &parallel["spare_length_used"], "spare length used");
}
