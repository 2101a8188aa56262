//! Strings, pickups and cavities added to a design, taken off and named.

use overstand_core::design::{
    Cavity, Design, InstrumentString, MOST_CAVITIES, MOST_PICKUPS, MOST_STRINGS, Pickup,
};
use overstand_core::dimension::Key;
use overstand_core::units::Length;

/// The name of the step that names one of a list.
pub(crate) fn naming(what: &str, index: usize) -> String {
    format!("Name {what} {}", index + 1)
}

/// The design with one string more on the bass side, as far from the last as that is
/// from the one before.
pub(crate) fn with_string(mut design: Design) -> Design {
    let count = design.strings.len();
    if count >= MOST_STRINGS {
        return design;
    }
    let Some(last) = design.strings.last().cloned() else {
        return design;
    };
    let before = count.checked_sub(2).and_then(|index| design.strings.get(index));
    let next = |last: Length, before: Option<Length>| match before {
        Some(before) => last + (last - before),
        None => last - Length::mm(10.0),
    };
    let string = InstrumentString {
        name: format!("{}", count + 1),
        nut_place: next(last.nut_place, before.map(|string| string.nut_place)),
        crest_place: next(last.crest_place, before.map(|string| string.crest_place)),
        ..last
    };
    design.strings.push(string);
    design
}

/// The design with one pickup more, between the last and the bridge.
pub(crate) fn with_pickup(mut design: Design) -> Design {
    if design.pickups.len() >= MOST_PICKUPS {
        return design;
    }
    let (station, height) = match design.pickups.last() {
        Some(last) => ((last.station + design.bridge.station) / 2.0, last.height),
        None => (design.bridge.station * 0.75, design.bridge.crest_height / 2.0),
    };
    let name = format!("Pickup {}", design.pickups.len() + 1);
    design.pickups.push(Pickup { name, station, height });
    design
}

/// Length and depth of a first cavity, and the wood between two (common practice, no
/// source).
const CAVITY: [f64; 3] = [40.0, 20.0, 10.0];

/// The design with one cavity more: behind the last, or the first between joint and bridge.
pub(crate) fn with_cavity(mut design: Design) -> Design {
    if design.cavities.len() >= MOST_CAVITIES {
        return design;
    }
    let [length, deep, wood] = CAVITY.map(Length::mm);
    let (from, length, depth) = match design.cavities.last() {
        Some(last) => (last.to + wood, last.to - last.from, last.depth),
        None => (design.bridge.station * 0.75 - length / 2.0, length, deep),
    };
    let name = format!("Cavity {}", design.cavities.len() + 1);
    design.cavities.push(Cavity { name, from, to: from + length, depth });
    design
}

/// The design without one of a list, and without what was said about it.
pub(crate) fn without(mut design: Design, list: &str, index: usize) -> Design {
    match list {
        "strings" => drop(design.strings.remove(index)),
        "pickups" => drop(design.pickups.remove(index)),
        _ => drop(design.cavities.remove(index)),
    }
    let start = format!("{list}[");
    let marks = std::mem::take(&mut design.marks);
    // what stood behind it has moved up
    design.marks = marks
        .into_iter()
        .filter_map(|(text, mark)| match Key::parse(&text) {
            Ok(key) if text.starts_with(&start) && key.index == index => None,
            Ok(key) if text.starts_with(&start) && key.index > index => {
                Some((Key { index: key.index - 1, ..key }.to_string(), mark))
            }
            _ => Some((text, mark)),
        })
        .collect();
    design
}

#[cfg(test)]
mod tests {
    use overstand_core::design::Provenance;
    use overstand_core::testing::worked_example;

    use super::*;

    #[test]
    fn marks_go_and_move_up_with_their_cavity() {
        let mut design = worked_example();
        design.cavities.clear();
        let mut design = with_cavity(with_cavity(with_cavity(design)));
        assert!(design.faults().is_empty(), "{:?}", design.faults());
        for key in ["cavities[2].depth", "cavities[3].from", "joint.pitch"] {
            design.marks.insert(key.to_owned(), Provenance::Made);
        }
        let last = design.cavities[2].clone();
        let design = without(design, "cavities", 1);
        assert_eq!(design.cavities[1], last);
        let marked: Vec<&str> = design.marks.keys().map(String::as_str).collect();
        assert_eq!(marked, ["cavities[2].from", "joint.pitch"]);
    }
}
