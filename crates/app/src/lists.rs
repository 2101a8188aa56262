//! Strings, pickups and cavities added to a design, taken off and named.

use overstand_core::design::{
    Cavity, Design, InstrumentString, MOST_CAVITIES, MOST_PICKUPS, MOST_STRINGS, Pickup,
};
use overstand_core::dimension::{Key, Part};
use overstand_core::units::Length;

/// What there may be several of in a design.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum List {
    /// The strings, treble first.
    Strings,
    /// The pickups.
    Pickups,
    /// The cavities.
    Cavities,
}

impl List {
    /// That of a part; none of one that there is once.
    pub(crate) fn of(part: Part) -> Option<Self> {
        match part {
            Part::String => Some(Self::Strings),
            Part::Pickup => Some(Self::Pickups),
            Part::Cavity => Some(Self::Cavities),
            _ => None,
        }
    }

    /// Its part.
    pub(crate) fn part(self) -> Part {
        match self {
            Self::Strings => Part::String,
            Self::Pickups => Part::Pickup,
            Self::Cavities => Part::Cavity,
        }
    }

    /// One of it, in sentence case.
    pub(crate) fn one(self) -> &'static str {
        match self {
            Self::Strings => "String",
            Self::Pickups => "Pickup",
            Self::Cavities => "Cavity",
        }
    }

    /// How its keys begin.
    fn key(self) -> &'static str {
        match self {
            Self::Strings => "strings[",
            Self::Pickups => "pickups[",
            Self::Cavities => "cavities[",
        }
    }

    /// What they are called.
    pub(crate) fn names(self, design: &Design) -> Vec<&str> {
        match self {
            Self::Strings => design.strings.iter().map(|one| one.name.as_str()).collect(),
            Self::Pickups => design.pickups.iter().map(|one| one.name.as_str()).collect(),
            Self::Cavities => design.cavities.iter().map(|one| one.name.as_str()).collect(),
        }
    }

    /// What one of them is called, from 0.
    pub(crate) fn name_mut(self, design: &mut Design, index: usize) -> Option<&mut String> {
        match self {
            Self::Strings => design.strings.get_mut(index).map(|one| &mut one.name),
            Self::Pickups => design.pickups.get_mut(index).map(|one| &mut one.name),
            Self::Cavities => design.cavities.get_mut(index).map(|one| &mut one.name),
        }
    }

    /// The design with one more, if it may have it.
    pub(crate) fn with_one_more(self, design: Design) -> Design {
        match self {
            Self::Strings => with_string(design),
            Self::Pickups => with_pickup(design),
            Self::Cavities => with_cavity(design),
        }
    }

    /// The one that goes when one is taken out while this one is listed: a cavity is chosen,
    /// of the others the last goes. None where there must be as many as there are.
    pub(crate) fn goes(self, design: &Design, listed: usize) -> Option<usize> {
        let last = self.names(design).len().checked_sub(1)?;
        match self {
            Self::Strings => (last > 0).then_some(last),
            Self::Pickups => Some(last),
            Self::Cavities => Some(listed.min(last)),
        }
    }

    /// The design without one of them, and without what was said about it.
    pub(crate) fn without(self, mut design: Design, index: usize) -> Design {
        match self {
            Self::Strings => drop(design.strings.remove(index)),
            Self::Pickups => drop(design.pickups.remove(index)),
            Self::Cavities => drop(design.cavities.remove(index)),
        }
        let marks = std::mem::take(&mut design.marks);
        // what stood behind it has moved up
        design.marks = marks
            .into_iter()
            .filter_map(|(text, mark)| match Key::parse(&text) {
                Ok(key) if text.starts_with(self.key()) && key.index == index => None,
                Ok(key) if text.starts_with(self.key()) && key.index > index => {
                    Some((Key { index: key.index - 1, ..key }.to_string(), mark))
                }
                _ => Some((text, mark)),
            })
            .collect();
        design
    }
}

/// The design with one string more on the bass side, as far from the last as that is
/// from the one before.
fn with_string(mut design: Design) -> Design {
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
fn with_pickup(mut design: Design) -> Design {
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
fn with_cavity(mut design: Design) -> Design {
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
        let design = List::Cavities.without(design, 1);
        assert_eq!(design.cavities[1], last);
        let marked: Vec<&str> = design.marks.keys().map(String::as_str).collect();
        assert_eq!(marked, ["cavities[2].from", "joint.pitch"]);
    }
}
