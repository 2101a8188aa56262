//! What is printed at full size: the drawing itself, and the templates and gauges that are
//! cut out and used at the bench.
//!
//! Every length comes from the layout or is a measure of the design; how wide a gauge is, or
//! how far a template reaches, is chosen so that it can be held and read.

mod elevation;
mod frets;
mod gauges;
mod head;
mod heights;
mod neck;
mod pocket;
mod wedge;

use kurbo::{BezPath, Point};
use overstand_core::design::Design;
use overstand_core::layout::Layout;
use overstand_core::study::Study;
use overstand_core::units::Unit;

use crate::elevation::layout_of;
use crate::look::Look;
use crate::outline::polyline;
use crate::scene::{Anchor, Item, Line, Scene};

/// Which part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartKind {
    /// The whole side elevation with its dimensions.
    Elevation,
    /// The neck from the side.
    Neck,
    /// A wedge of the pitch.
    PitchWedge,
    /// A stick for the depth of the pocket.
    PocketStick,
    /// What the straightedge must read, as steps.
    StraightedgeGauge,
    /// Where the frets stand.
    FretStrip,
    /// The angle or step of the headstock.
    HeadTemplate,
    /// How high the strings pass over the board at the nut.
    NutGauge,
    /// How high the strings pass over the top at the bridge.
    BridgeGauge,
}

/// One kind of part: what it is called and how it is made.
struct Entry {
    kind: PartKind,
    id: &'static str,
    name: &'static str,
    purpose: &'static str,
    build: fn(&Study, &Layout, &mut Part),
}

/// Every part, in the order in which they are printed.
const ENTRIES: [Entry; 9] = [
    Entry {
        kind: PartKind::Elevation,
        id: "elevation",
        name: "Side elevation",
        purpose: "The whole instrument strung, to lay under a straightedge and to measure from.",
        build: elevation::build,
    },
    Entry {
        kind: PartKind::Neck,
        id: "neck",
        name: "Neck side template",
        purpose: "Glue to thin stock, cut along the line and mark the neck blank from it; the reference edge is the glue face.",
        build: neck::build,
    },
    Entry {
        kind: PartKind::PitchWedge,
        id: "wedge",
        name: "Pitch wedge",
        purpose: "Lay on the top datum with the thick end where it says: its upper edge has the pitch of the board.",
        build: wedge::build,
    },
    Entry {
        kind: PartKind::PocketStick,
        id: "pocket",
        name: "Pocket depth stick",
        purpose: "Rest the arms on the top datum: each end touches the floor of the pocket at the place it names.",
        build: pocket::build,
    },
    Entry {
        kind: PartKind::StraightedgeGauge,
        id: "straightedge",
        name: "Straightedge gauge",
        purpose: "Stand it on the top at the distance it names: a straightedge on the neck must touch its step.",
        build: gauges::build,
    },
    Entry {
        kind: PartKind::FretStrip,
        id: "frets",
        name: "Fret-position strip",
        purpose: "Reference edge at the nut face: compare the frets and the bridge line. Mark frets from a roll or by the figures, never from joined tiles.",
        build: frets::build,
    },
    Entry {
        kind: PartKind::HeadTemplate,
        id: "head",
        name: "Headstock template",
        purpose: "Lay the reference edge on the neck's glue face: the other edge lies on the headstock's face.",
        build: head::build,
    },
    Entry {
        kind: PartKind::NutGauge,
        id: "nut",
        name: "Nut height gauge",
        purpose: "Hold it behind the nut, its lower edge on the board: the bottoms of the slots, looking toward the bridge.",
        build: heights::nut,
    },
    Entry {
        kind: PartKind::BridgeGauge,
        id: "bridge",
        name: "Bridge height gauge",
        purpose: "Stand it on the top behind the bridge: the undersides of the strings at their crests, looking toward the nut.",
        build: heights::bridge,
    },
];

impl PartKind {
    /// All of them, in the order in which they are printed.
    pub fn all() -> impl Iterator<Item = Self> {
        ENTRIES.iter().map(|entry| entry.kind)
    }

    fn entry(self) -> &'static Entry {
        // the table has one entry a kind, in the order of the kinds
        &ENTRIES[self as usize]
    }

    /// How it is asked for.
    pub fn id(self) -> &'static str {
        self.entry().id
    }

    /// Its name, in sentence case.
    pub fn name(self) -> &'static str {
        self.entry().name
    }

    /// What it is used for, in one line.
    pub fn purpose(self) -> &'static str {
        self.entry().purpose
    }

    /// The kind that is asked for so.
    pub fn of_id(id: &str) -> Option<Self> {
        ENTRIES.iter().find(|entry| entry.id == id).map(|entry| entry.kind)
    }
}

/// A value that is worth printing beside a part.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyValue {
    /// What it is.
    pub name: String,
    /// How much, in its unit.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Decimals that mean something.
    pub digits: usize,
}

impl KeyValue {
    /// As it is written on the part; number and unit stay on one line.
    pub fn show(&self, look: &Look) -> String {
        let value = look.value(self.value, self.unit, self.digits);
        format!("{} {}", self.name, value.replace(' ', "\u{a0}"))
    }
}

/// A part at full size, mm; Y up.
#[derive(Clone, Debug)]
pub struct Part {
    /// Which one.
    pub kind: PartKind,
    /// Its name, in sentence case.
    pub name: &'static str,
    /// What it is used for, in one line.
    pub purpose: &'static str,
    /// What is drawn on it, dimensions too.
    pub scene: Scene,
    /// Along which it is cut out; empty for a part that stays on its sheet.
    pub cut: BezPath,
    /// The edges or lines from which it is measured.
    pub references: Vec<[Point; 2]>,
    /// Its key dimensions.
    pub keys: Vec<KeyValue>,
    /// What else must be known to use it.
    pub notes: Vec<String>,
}

/// The chosen parts of a study, in the order in which they are printed. A part that this
/// design has no use for (a pocket stick for a neck that runs through) is left out; all are
/// when nothing can be drawn.
pub fn parts(study: &Study, chosen: &[PartKind]) -> Vec<Part> {
    let Some(layout) = layout_of(study) else {
        return Vec::new();
    };
    ENTRIES
        .iter()
        .filter(|entry| chosen.contains(&entry.kind))
        .filter_map(|entry| {
            let mut part = Part {
                kind: entry.kind,
                name: entry.name,
                purpose: entry.purpose,
                scene: Scene::default(),
                cut: BezPath::new(),
                references: Vec::new(),
                keys: Vec::new(),
                notes: Vec::new(),
            };
            (entry.build)(study, &layout, &mut part);
            let empty = part.scene.shapes.is_empty() && part.cut.is_empty();
            (!empty).then_some(part)
        })
        .collect()
}

impl Part {
    fn line(&mut self, points: impl IntoIterator<Item = Point>, line: Line) {
        self.stroke(polyline(points), line);
    }

    fn stroke(&mut self, path: BezPath, line: Line) {
        self.scene.add(None, Item::Stroke { path, line });
    }

    fn words(&mut self, at: Point, anchor: Anchor, text: impl Into<String>) {
        self.scene.add(None, Item::Text { at, anchor, text: text.into() });
    }

    /// A dimension line with the length between its ends as they are drawn.
    fn measure(&mut self, from: Point, to: Point, offset: f64, name: &'static str) {
        let value = (to - from).hypot();
        self.scene.add(None, Item::Measure { from, to, offset, value, name });
    }

    fn length(&mut self, name: impl Into<String>, value: f64, digits: usize) {
        self.keys.push(KeyValue { name: name.into(), value, unit: Unit::Length, digits });
    }

    fn angle(&mut self, name: impl Into<String>, radians: f64) {
        let value = radians.to_degrees();
        self.keys.push(KeyValue { name: name.into(), value, unit: Unit::Angle, digits: 2 });
    }
}

/// A place of the neck frame on the part: along the board to the right, over it up.
fn in_neck((u, v): (f64, f64)) -> Point {
    Point::new(u, v)
}

/// The underside of the board in the neck frame.
fn glue_face(design: &Design) -> f64 {
    -design.board.thickness.to_mm()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_the_order_of_the_kinds() {
        for (index, entry) in ENTRIES.iter().enumerate() {
            assert_eq!(entry.kind as usize, index);
            assert_eq!(PartKind::of_id(entry.id), Some(entry.kind));
            assert!(entry.purpose.ends_with('.'));
        }
    }
}
