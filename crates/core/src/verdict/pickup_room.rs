//! Is there room between each pickup and the strings held down at the last fret?

use super::{CheckKind, Reading};
use crate::design::Design;
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, length};

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
        let string = reading.string.unwrap_or(0);
        let last = layout.clearances.frets();
        let (u, v) = match last {
            0 => (0.0, layout.strings[string].nut_v),
            last => (layout.positions[last - 1], layout.clearances.crown(string, last)),
        };
        let (from, to) = (layout.strung(u, v), layout.strings[string].crest);
        Working {
            formula: "Y_n + (Y_s - Y_n) (X - X_n)/(X_s - X_n) - (z + height)".into(),
            terms: vec![
                length("X_n", "last crown from the joint", from.x),
                length("Y_n", "last crown over the datum", from.y),
                length("X_s", "crest from the joint", to.x),
                length("Y_s", "crest over the datum", to.y),
                length("X", "pickup from the joint", station),
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
