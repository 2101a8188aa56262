//! Strings and pickups added to a design, taken off and named.

use overstand_core::design::{Design, InstrumentString, MOST_PICKUPS, MOST_STRINGS, Pickup};
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

/// The design without one of a list, and without what was said about it.
pub(crate) fn without(mut design: Design, list: &str, index: usize) -> Design {
    match list {
        "strings" => drop(design.strings.remove(index)),
        _ => drop(design.pickups.remove(index)),
    }
    let gone = format!("{list}[{}].", index + 1);
    design.marks.retain(|key, _| !key.starts_with(&gone));
    design
}
