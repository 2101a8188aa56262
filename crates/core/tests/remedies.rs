//! For every check: a design in which it is thin or fails, and a way out that works.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use overstand_core::choice::Choice;
use overstand_core::design::{Cavity, Design, Limit, Pickup, Tail};
use overstand_core::dimension::Key;
use overstand_core::strings::gauges::SETS;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;
use overstand_core::verdict::{CheckId, State, remedies};

fn with(changes: &[(&str, f64)]) -> Design {
    let mut design = worked_example();
    put(&mut design, changes);
    design
}

fn put(design: &mut Design, changes: &[(&str, f64)]) {
    for &(key, value) in changes {
        Key::parse(key).unwrap().set(design, value);
    }
}

fn choose(design: &mut Design, key: &str, option: &str) {
    Choice::parse(key).unwrap().set(design, option).unwrap();
}

fn state(study: &Study, id: CheckId) -> State {
    let closed = study.closed().unwrap_or_else(|| panic!("{:?}", study.outcome));
    closed.checks.iter().find(|check| check.id == id).unwrap().state
}

/// The design is in the given state, and the first remedy makes it better; applied and
/// worked out anew, the check reads what was promised and what was held is still held.
#[track_caller]
fn mended(id: CheckId, design: &Design, expected: State) {
    let study = Study::of(design);
    assert_eq!(state(&study, id), expected, "{}", id.text());
    let remedies = remedies(&study, id);
    assert!(!remedies.is_empty(), "no remedy for {}", id.text());
    for remedy in &remedies {
        let by = remedy.changes[0].key;
        let after = Study::of(&remedy.design);
        let closed = after.closed().unwrap();
        let check = closed.checks.iter().find(|check| check.id == id).unwrap();
        assert!(check.state > expected, "{} by {}", id.text(), by);
        assert_eq!(check.state, remedy.state);
        // solved twice, by a different unknown: within what the solver leaves over
        assert!((check.reading.value - remedy.then).abs() < 1e-7, "{} by {}", id.text(), by);
        assert_eq!(remedy.design.found, design.found);
        for change in &remedy.changes {
            assert_ne!(change.from, change.to);
        }
    }
    for (i, remedy) in remedies.iter().enumerate() {
        let twice = remedies[..i].iter().any(|other| other.changes == remedy.changes);
        assert!(!twice, "{} offers {:?} twice", id.text(), remedy.changes);
    }
    // the first is the best there is
    assert_eq!(remedies[0].state, State::Good, "{}", id.text());
}

#[test]
fn saddle_travel() {
    mended(CheckId::SaddleTravel, &with(&[("bridge.crest_low", 22.3)]), State::Thin);
    mended(CheckId::SaddleTravel, &with(&[("bridge.crest_height", 28.0)]), State::Fails);
}

#[test]
fn open_strings() {
    let low = [("wanted.first_fret_bass", 0.1), ("wanted.first_fret_treble", 0.14)];
    mended(CheckId::OpenStrings, &with(&low[1..]), State::Thin);
    mended(CheckId::OpenStrings, &with(&low), State::Thin);
}

#[test]
fn fretted_notes() {
    mended(
        CheckId::FrettedNotes,
        &with(&[("wanted.relief", -0.3), ("wanted.action_treble", 1.0)]),
        State::Thin,
    );
    mended(
        CheckId::FrettedNotes,
        &with(&[("wanted.relief", -0.4), ("wanted.action_treble", 1.0)]),
        State::Fails,
    );
}

#[test]
fn first_fret() {
    mended(CheckId::FirstFret, &with(&[("wanted.first_fret_treble", 0.9)]), State::Thin);
    mended(CheckId::FirstFret, &with(&[("wanted.first_fret_bass", 1.3)]), State::Fails);
}

#[test]
fn nut_slot() {
    mended(CheckId::NutSlot, &with(&[("wanted.first_fret_treble", 0.28)]), State::Thin);
    mended(CheckId::NutSlot, &with(&[("wanted.first_fret_bass", 0.25)]), State::Fails);
}

#[test]
fn action_and_last_fret() {
    mended(CheckId::ActionTreble, &with(&[("wanted.action_treble", 0.8)]), State::Thin);
    mended(CheckId::ActionBass, &with(&[("wanted.action_bass", 5.6)]), State::Fails);
    mended(CheckId::LastFret, &with(&[("wanted.action_bass", 5.4)]), State::Thin);
}

#[test]
fn inner_strings() {
    let mut design = worked_example();
    choose(&mut design, "bridge.kind", "posts");
    put(&mut design, &[("bridge.crest_radius", 300.0)]);
    mended(CheckId::InnerStrings, &design, State::Thin);
}

#[test]
fn relief() {
    mended(CheckId::Relief, &with(&[("wanted.relief", 0.6)]), State::Thin);
    mended(CheckId::Relief, &with(&[("wanted.relief", -0.2)]), State::Fails);
}

#[test]
fn board_over_body() {
    mended(CheckId::BoardOverBody, &with(&[("joint.overstand", -0.1)]), State::Thin);
    mended(CheckId::BoardOverBody, &with(&[("joint.overstand", -1.0)]), State::Fails);
}

#[test]
fn break_angles() {
    mended(CheckId::SaddleBreak, &with(&[("tail.height", 21.0)]), State::Thin);
    mended(CheckId::SaddleBreak, &with(&[("tail.height", 24.0)]), State::Fails);
    mended(CheckId::NutBreak, &with(&[("head.angle", 10.0)]), State::Thin);
    mended(CheckId::NutBreak, &with(&[("head.angle", 3.0)]), State::Fails);
}

#[test]
fn bridge_and_tail() {
    mended(CheckId::BridgeEdge, &with(&[("bridge.edge_height", 21.5)]), State::Thin);
    // holes through the body, farther back than the bridge reaches: 8 mm before them the
    // string stands at half the crest's height
    let mut through = with(&[("bridge.edge_height", 11.5)]);
    through.tail = Tail::Through { behind: Length::mm(16.0) };
    through.limits.insert("saddle_break".to_owned(), Limit::default());
    mended(CheckId::BridgeEdge, &through, State::Fails);
    mended(CheckId::TailRange, &with(&[("tail.height", 13.0)]), State::Fails);
    mended(CheckId::ForeAft, &with(&[("strings[1].crest_offset", 4.8)]), State::Thin);
}

/// The bridge's rear edge lies 250.4 + 16/2 = 258.4 mm from the joint.
#[test]
fn tail_in_the_place_of_the_bridge() {
    mended(CheckId::TailBehind, &with(&[("tail.station", 261.0)]), State::Thin);
    mended(CheckId::TailBehind, &with(&[("tail.station", 257.0)]), State::Fails);
}

#[test]
fn headstock_and_pickup() {
    let mut design = worked_example();
    let off = Limit { fails_below: Some(-34.0), thin_below: Some(-30.0), ..Limit::default() };
    design.limits.insert("head_bench".to_owned(), off);
    mended(CheckId::HeadBench, &design, State::Thin);
    let mut design = worked_example();
    design.pickups.push(Pickup {
        name: "bridge".to_owned(),
        station: Length::mm(225.0),
        height: Length::mm(16.0),
    });
    mended(CheckId::PickupRoom, &design, State::Thin);
    // a second one with room: both together come to the same as the first alone
    let other = Pickup { height: Length::mm(14.0), ..design.pickups[0].clone() };
    let mut two = design.clone();
    two.pickups.push(Pickup { name: "middle".to_owned(), station: Length::mm(150.0), ..other });
    mended(CheckId::PickupRoom, &two, State::Thin);
    // two that are out on opposite sides
    let neck =
        Pickup { name: "neck".to_owned(), station: Length::mm(130.0), height: Length::mm(15.0) };
    design.pickups.push(neck);
    mended(CheckId::PickupRoom, &design, State::Fails);
}

#[test]
fn wood_under_the_pocket() {
    mended(CheckId::WoodUnder, &with(&[("joint.pocket_depth", 38.0)]), State::Thin);
    mended(CheckId::WoodUnder, &with(&[("joint.pocket_depth", 43.0)]), State::Fails);
    // a floor that falls toward its end takes the wood there
    mended(
        CheckId::WoodUnder,
        &with(&[("joint.floor", -8.0), ("joint.pocket_depth", 28.0)]),
        State::Thin,
    );
}

#[test]
fn tenon_and_rod() {
    mended(CheckId::TenonLength, &with(&[("joint.tenon_length", 30.0)]), State::Thin);
    mended(CheckId::TenonLength, &with(&[("joint.tenon_length", 22.0)]), State::Fails);
    mended(CheckId::RodChannel, &with(&[("neck.rod_depth", 11.0)]), State::Thin);
    mended(CheckId::RodChannel, &with(&[("neck.rod_depth", 14.5)]), State::Fails);
    // in the tenon rather than in the neck
    let shallow = [("joint.pocket_depth", 12.0), ("neck.rod_end", 420.0)];
    mended(CheckId::RodChannel, &with(&shallow), State::Thin);
}

#[test]
fn tenon_and_shoulder_that_cannot_be_cut() {
    // as wide as the neck is no fault; each cheek 1.5 and 3 mm proud is
    let wide = |width| with(&[("joint.tenon_width", width)]);
    assert_eq!(state(&Study::of(&wide(56.0)), CheckId::TenonWithin), State::Good);
    mended(CheckId::TenonWithin, &wide(59.0), State::Thin);
    mended(CheckId::TenonWithin, &wide(62.0), State::Fails);
    let high = |overstand| with(&[("joint.overstand", overstand), ("joint.shoulder", 6.0)]);
    mended(CheckId::ShoulderBearing, &high(1.0), State::Thin);
    mended(CheckId::ShoulderBearing, &high(6.5), State::Fails);
}

#[test]
fn screws_hold_and_end_before_the_board() {
    let mut design = worked_example();
    choose(&mut design, "joint.kind", "screwed");
    // 24 mm of body under a pocket 20 mm deep, and 20 mm of heel over a level floor
    put(&mut design, &[("joint.floor", 0.0), ("joint.screw_length", 33.0)]);
    mended(CheckId::ScrewBite, &design, State::Thin);
    put(&mut design, &[("joint.screw_length", 20.0)]);
    mended(CheckId::ScrewBite, &design, State::Fails);
    // 38 mm from the joint the board stands 38 tan 3° = 2.0 mm higher
    put(&mut design, &[("joint.screw_length", 44.5)]);
    mended(CheckId::ScrewCover, &design, State::Thin);
    put(&mut design, &[("joint.screw_length", 48.0)]);
    mended(CheckId::ScrewCover, &design, State::Fails);
}

#[test]
fn cavity_and_wedge() {
    let mut design = worked_example();
    design.cavities.push(Cavity {
        name: "neck pickup".to_owned(),
        from: Length::mm(82.0),
        to: Length::mm(122.0),
        depth: Length::mm(20.0),
    });
    mended(CheckId::PocketCavity, &design, State::Thin);
    design.cavities[0].from = Length::mm(74.0);
    mended(CheckId::PocketCavity, &design, State::Fails);
    let mut design = worked_example();
    // 91.2 mm along the board, 3°: the end stands 4.8 mm over the top
    put(&mut design, &[("joint.wedge_length", 40.0), ("joint.wedge_height", 4.5)]);
    mended(CheckId::WedgeGap, &design, State::Thin);
    put(&mut design, &[("joint.wedge_height", 6.0)]);
    mended(CheckId::WedgeGap, &design, State::Fails);
}

#[test]
fn headroom_as_played() {
    mended(CheckId::Headroom, &with(&[("wanted.pluck_travel", 0.75)]), State::Thin);
    mended(CheckId::Headroom, &with(&[("wanted.pluck_travel", 1.2)]), State::Fails);
    mended(
        CheckId::Headroom,
        &with(&[("wanted.relief", 0.6), ("wanted.pluck_travel", 0.7)]),
        State::Fails,
    );
}

/// Too little over fret 1 for the open string, and too much relief for the notes above: no
/// single move mends both.
#[test]
fn headroom_that_no_single_move_mends() {
    let changes = [
        ("scale.length", 610.0),
        ("joint.overstand", 0.85),
        ("bridge.crest_height", 20.15),
        ("wanted.relief", 0.34),
        ("wanted.action_treble", 0.86),
        ("wanted.first_fret_treble", 0.23),
        ("wanted.pluck_place", 78.0),
        ("wanted.pluck_travel", 0.7),
    ];
    let design = with(&changes);
    mended(CheckId::Headroom, &design, State::Fails);
    let remedies = remedies(&Study::of(&design), CheckId::Headroom);
    let keys: Vec<String> =
        remedies[0].changes.iter().map(|change| change.key.to_string()).collect();
    for key in ["wanted.relief", "wanted.action_treble", "wanted.first_fret_treble"] {
        assert!(keys.iter().any(|changed| changed == key), "{key} is not in {keys:?}");
    }
}

/// The worked example with a common set of strings.
fn strung(changes: &[(&str, f64)]) -> Design {
    let mut design = worked_example();
    SETS[1].put_on(&mut design);
    put(&mut design, changes);
    design
}

#[test]
fn saddles_reach_true_notes() {
    assert_eq!(state(&Study::of(&strung(&[])), CheckId::Intonation), State::Good);
    mended(CheckId::Intonation, &strung(&[("bridge.compensation", 0.0)]), State::Thin);
    mended(CheckId::Intonation, &strung(&[("bridge.compensation", 7.0)]), State::Fails);
    mended(CheckId::Intonation, &strung(&[("bridge.travel", 4.0)]), State::Fails);
    // a fixed saddle is filed to its places
    let fixed = Study::of(&strung(&[("bridge.travel", 0.0)]));
    let checks = &fixed.closed().unwrap().checks;
    assert!(checks.iter().all(|check| check.id != CheckId::Intonation));
}

#[test]
fn strings_that_break_or_flap() {
    let mut design = strung(&[]);
    // a fourth above: 1.78 times the stress
    design.strings[0].note = Some("A4".parse().unwrap());
    mended(CheckId::StringStrength, &design, State::Thin);
    design.strings[0].note = Some("C5".parse().unwrap());
    let study = Study::of(&design);
    assert_eq!(state(&study, CheckId::StringStrength), State::Fails);
    assert!(!remedies(&study, CheckId::StringStrength).is_empty());
    let mut design = strung(&[]);
    // an octave below: a quarter of the pull
    design.strings[1].note = Some("B2".parse().unwrap());
    mended(CheckId::StringSlack, &design, State::Fails);
    design.strings[1].note = Some("F#3".parse().unwrap());
    design.strings[1].gauge = Some(Length::mm(0.28));
    mended(CheckId::StringSlack, &design, State::Thin);
}

/// Without note or gauge nothing is said about the pull.
#[test]
fn a_string_that_is_not_told_is_not_judged() {
    let mut design = strung(&[]);
    for string in &mut design.strings {
        string.note = None;
    }
    let study = Study::of(&design);
    let pull = [CheckId::StringStrength, CheckId::StringSlack, CheckId::Intonation];
    assert!(study.closed().unwrap().checks.iter().all(|check| !pull.contains(&check.id)));
    assert_eq!(state(&study, CheckId::Headroom), State::Good);
}

/// Checks that there are only of a strung design, and the one that is about how it is played.
const OF_STRINGS: [CheckId; 4] =
    [CheckId::StringStrength, CheckId::StringSlack, CheckId::Intonation, CheckId::Headroom];

/// Puts on a usual set and then tunes, plucks and places the saddles somewhat off.
fn string_somehow(design: &mut Design, draw: &mut impl FnMut(f64, f64) -> f64) {
    let fitting: Vec<_> = SETS.iter().filter(|set| set.fits(design)).collect();
    fitting[draw(0.0, fitting.len() as f64) as usize].put_on(design);
    put(
        design,
        &[
            ("wanted.pluck_travel", draw(0.1, 1.2)),
            ("wanted.pluck_place", draw(60.0, 160.0)),
            ("bridge.compensation", draw(-1.0, 7.0)),
            ("bridge.travel", draw(1.0, 14.0)),
            ("scale.length", draw(600.0, 660.0)),
        ],
    );
    // by up to a fifth, one of them
    let off = &mut design.strings[draw(0.0, 6.0) as usize];
    if let Some(note) = off.note {
        let hertz = note.hertz() * f64::exp2(draw(-7.0, 7.0) / 12.0);
        off.note = Some(format!("{hertz:.2} Hz").parse().unwrap());
    }
}

/// Thousands of designs somewhat off: wherever a check is thin or fails there is a way out,
/// and it says what it costs.
#[test]
fn there_is_always_a_way_out() {
    // a small generator of our own keeps the draws the same on every run
    let mut state_of_draw = 0x2545_F491_4F6C_DD1D_u64;
    let mut draw = |low: f64, high: f64| {
        state_of_draw ^= state_of_draw << 13;
        state_of_draw ^= state_of_draw >> 7;
        state_of_draw ^= state_of_draw << 17;
        low + (high - low) * (state_of_draw >> 11) as f64 / (1_u64 << 53) as f64
    };
    let (mut troubled, mut of_strings) = (0, 0);
    for round in 0..400 {
        let mut design = with(&[
            ("bridge.crest_height", draw(18.0, 28.0)),
            ("joint.overstand", draw(-0.4, 3.0)),
            ("wanted.action_bass", draw(1.0, 2.6)),
            ("wanted.action_treble", draw(0.8, 2.2)),
            ("wanted.first_fret_bass", draw(0.2, 0.9)),
            ("wanted.first_fret_treble", draw(0.2, 0.9)),
            ("wanted.relief", draw(-0.1, 0.6)),
            ("tail.height", draw(13.5, 24.0)),
            ("head.angle", draw(4.0, 20.0)),
            ("bridge.edge_height", draw(4.0, 14.0)),
        ]);
        if round % 2 == 1 {
            string_somehow(&mut design, &mut draw);
        }
        let study = Study::of(&design);
        let Some(closed) = study.closed() else { continue };
        for check in closed.checks.iter().filter(|check| check.state != State::Good) {
            troubled += 1;
            of_strings += usize::from(OF_STRINGS.contains(&check.id));
            let remedies = remedies(&study, check.id);
            assert!(
                !remedies.is_empty(),
                "no way out for {} at {} in {:?}",
                check.id.text(),
                check.reading.value,
                design
            );
            for remedy in remedies {
                let text = remedy.says.show(overstand_core::units::LengthStyle::Millimetres);
                assert_eq!(remedy.costs.is_empty(), !text.contains("costs"), "{text}");
            }
        }
    }
    assert!(troubled > 200, "the draws hardly ever made trouble: {troubled}");
    assert!(of_strings > 100, "the strings hardly ever made trouble: {of_strings}");
}
