//! Every starter plays as it stands.

use std::collections::BTreeSet;

use overstand_core::design::{BridgeKind, JointKind, Tail, Top};
use overstand_core::dimension::Key;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::verdict::{State, Word};
use overstand_files::{DesignFile, parse, starter, starters, write};

fn each(mut check: impl FnMut(&str, &DesignFile)) {
    assert!(starters().len() >= 10);
    for starter in starters() {
        let file = starter.file().unwrap_or_else(|error| panic!("{}: {error}", starter.id));
        check(starter.id, &file);
    }
}

#[test]
fn each_plays_with_nothing_thin_and_nothing_open() {
    each(|id, file| {
        for design in &file.variants {
            let study = Study::of(design);
            let closed = study.closed().unwrap_or_else(|| panic!("{id} does not close"));
            for check in &closed.checks {
                let says = check.says.show(LengthStyle::Millimetres);
                assert_eq!(check.state, State::Good, "{id}, {}: {says}", design.name);
            }
            assert_eq!(study.word(), Word::Plays, "{id}");
            assert_eq!(closed.degrees_of_freedom, 0, "{id}");
            assert!(closed.at_bound.is_empty(), "{id}");
        }
    });
}

/// The files hold what is found rounded to four decimals, so that half of the last one
/// is what solving may move it.
#[test]
fn each_holds_what_is_found_in_it() {
    each(|id, file| {
        for design in &file.variants {
            let solved = Study::of(design).design;
            assert!(!design.found.is_empty(), "{id} finds nothing");
            for key in &design.found {
                let key = Key::parse(key).unwrap();
                let moved = key.get(&solved).unwrap() - key.get(design).unwrap();
                assert!(moved.abs() <= 0.5e-4 + 1e-9, "{id}: {key} moves by {moved}");
            }
        }
    });
}

/// What shows in hand is not at the end of its range: 1.5 mm of saddle both ways, and
/// 8 mm of wood under the pocket (common practice, no source).
#[test]
fn each_leaves_room() {
    each(|id, file| {
        for design in &file.variants {
            let study = Study::of(design);
            let layout = study.layout().unwrap();
            let (low, high) = design.bridge.kind.crest_range();
            for string in &layout.strings {
                let room =
                    (string.crest_height - low.to_mm()).min(high.to_mm() - string.crest_height);
                assert!(room >= 1.5, "{id}: {room:.2} mm of saddle left");
            }
            let end = design.joint.tenon_length.to_mm();
            let deep = design.joint.pocket_depth.to_mm();
            let rise = design.joint.floor.radians().tan();
            let wood = [0.0, end]
                .map(|x| -layout.back(x) - (deep - x * rise))
                .into_iter()
                .fold(f64::INFINITY, f64::min);
            assert!(wood >= 8.0, "{id}: {wood:.1} mm of wood under the pocket");
            if let Some(last) = layout.positions.last().filter(|_| design.is_fretted()) {
                assert!(
                    design.board.end.to_mm() - last >= 3.0,
                    "{id}: no board past the last fret"
                );
            }
            for pickup in &design.pickups {
                let station = pickup.station.to_mm();
                let board_end = layout.unstrung(design.board.end.to_mm(), 0.0).x;
                assert!(board_end + 8.0 < station && station + 8.0 < layout.middle.crest.x, "{id}");
            }
        }
    });
}

#[test]
fn each_comes_back_as_it_was_written() {
    each(|id, file| {
        assert_eq!(&parse(&write(file)).unwrap(), file, "{id}");
        // what is shipped is what the program itself writes
        assert_eq!(write(file), starter(id).unwrap().text, "{id}");
    });
}

#[test]
fn together_they_show_every_kind() {
    let mut seen = BTreeSet::new();
    each(|_, file| {
        for design in &file.variants {
            seen.insert(match design.bridge.kind {
                BridgeKind::Plate { .. } => "plate",
                BridgeKind::Posts { .. } => "posts",
                BridgeKind::Wrapped { .. } => "wrapped bridge",
                BridgeKind::Floating { .. } => "floating",
                BridgeKind::Glued { .. } => "glued",
            });
            seen.insert(match design.tail {
                Tail::AtBridge { .. } => "at bridge",
                Tail::Stop { .. } => "stop",
                Tail::Through { .. } => "through body",
                Tail::Hung { .. } => "hung",
                Tail::Wrapped => "wrapped",
            });
            seen.insert(match design.joint.kind {
                JointKind::Tenon => "tenon",
                JointKind::Dovetail { .. } => "dovetail",
                JointKind::Screwed => "screwed",
                JointKind::Through => "through",
            });
            seen.insert(match design.body.top {
                Top::Flat => "flat",
                Top::Ramp { .. } => "ramp",
                Top::Arch { .. } => "arch",
                Top::Dome { .. } => "dome",
            });
            seen.insert(if design.is_fretted() { "frets" } else { "no frets" });
        }
        if file.variants.len() > 1 {
            seen.insert("variants");
        }
    });
    assert_eq!(seen.len(), 5 + 5 + 4 + 4 + 2 + 1, "{seen:?}");
}

#[test]
fn ids_titles_and_lines_are_fit_to_show() {
    let ids: BTreeSet<&str> = starters().iter().map(|starter| starter.id).collect();
    assert_eq!(ids.len(), starters().len());
    for one in starters() {
        assert!(one.id.bytes().all(|byte| matches!(byte, b'a'..=b'z' | b'0'..=b'9' | b'-')));
        assert!(!one.title.is_empty() && one.line.ends_with('.'), "{}", one.id);
        assert!(one.line.matches('.').count() == 1 || one.line.contains("no."), "{}", one.id);
    }
    assert!(starter("nothing").is_none());
}
