//! The worked example that tests, benchmarks and documentation share.

use std::collections::{BTreeMap, BTreeSet};

use crate::design::{
    Board, BoardShape, Body, Bridge, BridgeKind, Design, FloorKind, Head, HeadFrom, HeadShape,
    InstrumentString, Joint, JointKind, Neck, Nut, Scale, Tail, Top, Wanted,
};
use crate::units::{Angle, Length};

/// A six-string of 628 mm on a flat body: joint at fret 16, board 6.0, crowns 1.1,
/// pitch 3.0°, relief 0.20, flat board. Pitch and bridge station are found from a crest
/// height of 22.775593 mm.
pub fn worked_example() -> Design {
    let mm = Length::mm;
    let string = |name: &str, place: f64, post: f64| InstrumentString {
        name: name.to_owned(),
        nut_place: mm(17.5 * place),
        crest_place: mm(26.0 * place),
        crest_offset: mm(0.0),
        post: mm(post),
        post_height: mm(9.0),
        retainer: None,
    };
    Design {
        name: "Worked example".to_owned(),
        notes: String::new(),
        scale: Scale { length: mm(628.0), frets: 22 },
        nut: Nut::Filed,
        strings: vec![
            string("e", 1.0, 60.0),
            string("b", 0.6, 90.0),
            string("g", 0.2, 120.0),
            string("d", -0.2, 120.0),
            string("a", -0.6, 90.0),
            string("E", -1.0, 60.0),
        ],
        board: Board {
            thickness: mm(6.0),
            crown: mm(1.1),
            shape: BoardShape::Flat,
            fall_from: 0,
            fall: mm(0.0),
            end: mm(470.0),
        },
        neck: Neck {
            depth_first: mm(20.0),
            depth_heel: mm(22.0),
            heel_length: mm(40.0),
            width_nut: Neck::usual_width_nut(),
            width_heel: Neck::usual_width_heel(),
            blank_thickness: mm(0.0),
            blank_length: mm(0.0),
            head_from: HeadFrom::OnePiece,
            rod_depth: mm(9.0),
            rod_width: Neck::usual_rod_width(),
            rod_start: mm(0.0),
            rod_end: mm(400.0),
        },
        head: Head {
            shape: HeadShape::Tilted { angle: Angle::degrees(13.0) },
            start: mm(5.0),
            drop: mm(1.5),
            length: mm(170.0),
            thickness: mm(14.0),
        },
        joint: Joint {
            kind: JointKind::Tenon,
            fret: 16,
            offset: mm(0.0),
            overstand: mm(0.0),
            pitch: Angle::degrees(3.0),
            tenon_length: mm(70.0),
            pocket_depth: mm(20.0),
            floor_kind: FloorKind::Free,
            floor: Angle::degrees(3.0),
            shoulder: mm(40.0),
            wall_rake: Angle::degrees(0.0),
            tenon_width: Joint::usual_width(),
            glue_room: Joint::usual_glue_room(),
            rough_cheeks: Joint::usual_rough(),
            spare_length: Joint::usual_spare(),
            wedge_length: mm(0.0),
            wedge_height: mm(0.0),
            cutter_diameter: Joint::usual_cutter(),
            cutter_reach: Joint::usual_reach(),
            jig_base: Joint::usual_base(),
            screw_count: Joint::usual_screw_count(),
            screw_station: Joint::usual_screw_station(),
            screw_diameter: Joint::usual_screw_diameter(),
            screw_length: Joint::usual_screw_length(),
        },
        body: Body {
            length: mm(340.0),
            thickness: mm(44.0),
            taper: Angle::degrees(0.0),
            top: Top::Flat,
            pitch_lost: Angle::degrees(0.0),
            top_rise: mm(0.0),
        },
        bridge: Bridge {
            kind: BridgeKind::Plate { crest_low: mm(19.0), crest_high: mm(27.0) },
            crest_height: mm(22.775_593),
            station: mm(250.373_110),
            compensation: mm(2.0),
            travel: mm(10.0),
            base: mm(16.0),
            edge_height: mm(8.0),
        },
        tail: Tail::Stop { station: mm(300.0), height: mm(16.0), low: mm(14.0), high: mm(24.0) },
        pickups: Vec::new(),
        cavities: Vec::new(),
        wanted: Wanted {
            action_bass: mm(1.8),
            action_treble: mm(1.8),
            action_fret: 12,
            first_fret_bass: mm(0.4),
            first_fret_treble: mm(0.4),
            relief: mm(0.2),
            relief_from: 1,
            relief_to: 0,
        },
        found: BTreeSet::from(["bridge.station".to_owned(), "joint.pitch".to_owned()]),
        targets: BTreeMap::new(),
        marks: BTreeMap::new(),
        limits: BTreeMap::new(),
        ticks: BTreeSet::new(),
    }
}
