//! What the layout stands on, and where it ends.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use overstand_core::design::{ArchPoint, Design, Tail, Top};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::{Length, LengthStyle};
use overstand_core::verdict::CheckId;

/// The worked example with crest height and station found from the rest.
fn crest_found() -> Design {
    let mut design = worked_example();
    design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    design
}

/// A tail in the bridge stands on the risen top with it, one in a block of its own does not;
/// neither does what the strings pass over.
#[test]
fn a_bridge_rises_with_its_top() {
    let angle = |tail: Tail, rise: f64| {
        let mut design = crest_found();
        design.tail = tail;
        design.body.top_rise = Length::mm(rise);
        let study = Study::of(&design);
        let layout = study.layout().unwrap();
        let edge =
            study.closed().unwrap().checks.iter().find(|check| check.id == CheckId::BridgeEdge);
        (layout.clone(), edge.map(|check| check.reading.value))
    };
    let at_bridge = Tail::AtBridge { behind: Length::mm(20.0), height: Length::mm(9.0) };
    let (layout, _) = angle(at_bridge, 1.5);
    let middle = layout.middle;
    let expected =
        layout.strung_pitch + middle.slope.atan() + (middle.crest_height - 9.0).atan2(20.0);
    assert!((middle.saddle_break.unwrap().angle() - expected).abs() < 1e-12);

    let stop = worked_example().tail;
    let (flat, before) = angle(stop.clone(), 0.0);
    let (risen, after) = angle(stop, 1.5);
    // the crest stays where the strings want it, so that the angle does, and the edge rises
    assert_eq!(flat.middle.saddle_break, risen.middle.saddle_break);
    assert!((before.unwrap() - after.unwrap() - 1.5).abs() < 1e-12);
}

/// Nothing is guessed beyond the last point of an arch, for the crest of any string.
#[test]
fn every_crest_lies_where_the_top_is_known() {
    let mut design = crest_found();
    let point = |x: f64, z: f64| ArchPoint { x: Length::mm(x), z: Length::mm(z) };
    design.body.top =
        Top::Arch { points: vec![point(0.0, 0.0), point(150.0, 1.0), point(252.0, 1.5)] };
    design.tail = Tail::Wrapped;
    assert!(Study::of(&design).layout().is_some());
    design.strings[5].crest_offset = Length::mm(3.0);
    let study = Study::of(&design);
    assert!(study.reason().show(LengthStyle::Millimetres).contains("crest of a string"));
}
