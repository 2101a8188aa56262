//! Is there room between each pickup and the strings held down at the last fret?

use super::working::{GEOMETRY, Working, length};
use super::{CheckKind, Reading};
use crate::design::Design;
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;

pub(super) static CHECK: CheckKind = CheckKind {
    name: "Pickup room",
    question: "Is there room between each pickup and the strings held down at the last fret?",
    unit: Unit::Length,
    digits: 1,
    // usual 1.5–3 mm under the string held at the last fret
    limit: super::limit(0.8, 1.3, 4.5, 7.0),
    measure: |design, layout, limit| {
        Reading::worst(design.pickups.iter().enumerate().flat_map(|(pickup, one)| {
            (0..layout.strings.len()).filter_map(move |string| {
                let over = held_over(layout, string, one.station.to_mm())?;
                let room = over - face(design, layout, pickup);
                Some(Reading::new(room, *limit).on_string(string).at_pickup(pickup))
            })
        }))
    },
    place: None,
    says: |design, layout, reading| {
        let pickup = reading.pickup.unwrap_or(0);
        let name = design.pickups.get(pickup).map_or_else(String::new, |one| one.name.clone());
        let string = super::string_name(design, reading.string.unwrap_or(0));
        let held = if layout.is_fretted() {
            ", held at the last fret, is "
        } else {
            ", stopped at the board's end, is "
        };
        sentence!["Over the ", name, " pickup ", string, held, mm(reading.value, 1), " clear."]
    },
    working: |design, layout, reading| {
        let pickup = reading.pickup.unwrap_or(0);
        let station = design.pickups.get(pickup).map_or(0.0, |one| one.station.to_mm());
        let over = held_over(layout, reading.string.unwrap_or(0), station).unwrap_or(0.0);
        Working {
            formula: "room = Y(string held at the last fret) - (z + pickup height)",
            terms: vec![
                length("X", "pickup from the joint", station),
                length("Y", "string over the datum there", over),
                length("z", "top there", layout.top(station)),
                length(
                    "height",
                    "pickup height",
                    face(design, layout, pickup) - layout.top(station),
                ),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::PickupHeight]],
};

fn held_over(layout: &Layout, string: usize, station: f64) -> Option<f64> {
    layout.string_over(string, layout.clearances.frets(), station)
}

fn face(design: &Design, layout: &Layout, pickup: usize) -> f64 {
    design
        .pickups
        .get(pickup)
        .map_or(0.0, |one| layout.top(one.station.to_mm()) + one.height.to_mm())
}
