//! What is drawn, in millimetres and by meaning: no colour, no pixel, no page.
//!
//! Coordinates are those of the body frame (X toward the tail, Y up) unless a builder
//! says otherwise. The window, PDF, SVG and DXF all show the same scene; each decides
//! only how a meaning looks.

use kurbo::{BezPath, Point, Rect, Shape as _};
use overstand_core::dimension::Dim;

/// What a piece of the drawing is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Material {
    /// Body wood.
    Body,
    /// Neck and headstock wood.
    Neck,
    /// The board.
    Board,
    /// Frets, bridge, tail, pickups.
    Metal,
    /// Nut and saddle.
    Bone,
}

/// What a line means; its look follows ISO 128.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Line {
    /// A visible edge.
    Visible,
    /// An edge behind wood.
    Hidden,
    /// A datum or centre line.
    Centre,
    /// Dimension and extension lines, hatching, leaders.
    Thin,
    /// A string.
    String,
    /// The range within which something can be set.
    Range,
    /// Another state of the same thing: a ghost.
    Ghost,
}

/// A part of the instrument that a maker can point at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartName {
    /// The body.
    Body,
    /// The body's top curve.
    Top,
    /// The neck with its heel.
    Neck,
    /// The tenon in its pocket.
    Tenon,
    /// The fingerboard.
    Board,
    /// One or all frets.
    Frets,
    /// The nut or zero fret.
    Nut,
    /// The headstock.
    Head,
    /// The bridge with its saddle.
    Bridge,
    /// The range of the saddle.
    SaddleRange,
    /// The tail.
    Tail,
    /// A pickup, by its number from 0.
    Pickup(usize),
    /// A cavity of the body, by its number from 0.
    Cavity(usize),
    /// The rod in its channel.
    Rod,
    /// The screws of a screwed neck.
    Screws,
    /// The wedge under the board's end.
    Wedge,
    /// The string line.
    Strings,
    /// The straightedge on the unstrung neck.
    Straightedge,
}

impl PartName {
    /// One of each; of those there are several of, the first.
    pub const ALL: [Self; 18] = [
        Self::Body,
        Self::Top,
        Self::Neck,
        Self::Tenon,
        Self::Board,
        Self::Frets,
        Self::Nut,
        Self::Head,
        Self::Bridge,
        Self::SaddleRange,
        Self::Tail,
        Self::Pickup(0),
        Self::Cavity(0),
        Self::Rod,
        Self::Screws,
        Self::Wedge,
        Self::Strings,
        Self::Straightedge,
    ];

    /// Its name in a tip, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Body => "Body",
            Self::Top => "Body top",
            Self::Neck => "Neck",
            Self::Tenon => "Tenon in its pocket",
            Self::Board => "Board",
            Self::Frets => "Fret",
            Self::Nut => "Nut",
            Self::Head => "Headstock",
            Self::Bridge => "Bridge",
            Self::SaddleRange => "Saddle travel",
            Self::Tail => "Tail",
            Self::Pickup(_) => "Pickup",
            Self::Cavity(_) => "Cavity",
            Self::Rod => "Rod in its channel",
            Self::Screws => "Screws of the neck",
            Self::Wedge => "Wedge under the board",
            Self::Strings => "Middle string",
            Self::Straightedge => "Straightedge",
        }
    }
}

/// One thing to draw.
#[derive(Clone, Debug)]
pub enum Item {
    /// A closed outline, filled with its material and edged.
    Area {
        /// The outline.
        path: BezPath,
        /// What it is made of.
        material: Material,
        /// How its edge is drawn.
        edge: Line,
    },
    /// An open or closed line.
    Stroke {
        /// The line.
        path: BezPath,
        /// What it means.
        line: Line,
    },
    /// Words at a place. Their size is the output's own.
    Text {
        /// Where.
        at: Point,
        /// Which point of the words stands there.
        anchor: Anchor,
        /// The words.
        text: String,
    },
    /// A dimension line between two points, set off square to them.
    Dimension {
        /// One end of what is measured.
        from: Point,
        /// The other end.
        to: Point,
        /// Distance of the dimension line, to the left of the way from `from` to `to`; mm.
        offset: f64,
        /// The measured value in its unit, for the output to write in the maker's units.
        value: f64,
        /// Which dimension it is.
        dim: Dim,
    },
    /// An angle between two legs, with an arc from one to the other by the shorter way.
    Angle {
        /// Where the legs meet.
        vertex: Point,
        /// Where the arc starts: on the first leg.
        from: Point,
        /// On the second leg; the arc ends toward it.
        to: Point,
        /// The measured value in degrees.
        value: f64,
        /// Which dimension it is.
        dim: Dim,
    },
    /// Like a dimension, for a length that follows from others and has no entry in the
    /// table of dimensions.
    Measure {
        /// One end of what is measured.
        from: Point,
        /// The other end.
        to: Point,
        /// Distance of the dimension line, to the left of the way from `from` to `to`; mm.
        offset: f64,
        /// The length, mm.
        value: f64,
        /// What it is, in sentence case.
        name: &'static str,
    },
}

/// Decimals of a measure: what is as thin as a shaving or a veneer counts in hundredths.
pub fn measure_digits(length: f64) -> usize {
    if length.abs() < 3.0 { 2 } else { 1 }
}

/// Which point of some words stands at their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Middle of the lower edge.
    Below,
    /// Middle of the upper edge.
    Above,
    /// Middle of the left edge.
    Left,
    /// Middle of the right edge.
    Right,
    /// The middle.
    Middle,
}

/// One thing to draw, and the part it belongs to.
#[derive(Clone, Debug)]
pub struct Shape {
    /// The part, if it is one that can be pointed at.
    pub part: Option<PartName>,
    /// What is drawn.
    pub item: Item,
}

/// A drawing: later shapes lie over earlier ones.
#[derive(Clone, Debug, Default)]
pub struct Scene {
    /// What is drawn, from the back to the front.
    pub shapes: Vec<Shape>,
    /// Parts without an outline of their own, in one piece with another.
    pub regions: Vec<Region>,
}

/// A part that is in one piece with another: what hits that one within the outline is
/// this part.
#[derive(Clone, Debug)]
pub struct Region {
    /// The piece it belongs to.
    pub of: PartName,
    /// Its own name.
    pub part: PartName,
    /// Where it is.
    pub outline: BezPath,
}

impl Scene {
    /// Adds a shape in front of the others.
    pub fn add(&mut self, part: Option<PartName>, item: Item) {
        self.shapes.push(Shape { part, item });
    }

    /// The box around all geometry (words and dimension lines left out); none when empty.
    pub fn bounds(&self) -> Option<Rect> {
        self.shapes
            .iter()
            .filter_map(|shape| match &shape.item {
                Item::Area { path, .. } | Item::Stroke { path, .. } => Some(path.bounding_box()),
                Item::Text { .. }
                | Item::Dimension { .. }
                | Item::Angle { .. }
                | Item::Measure { .. } => None,
            })
            .reduce(|all, one| all.union(one))
    }

    /// The frontmost part whose area contains the point, or whose line passes within
    /// `reach` mm of it.
    pub fn part_at(&self, point: Point, reach: f64) -> Option<PartName> {
        use kurbo::ParamCurveNearest as _;
        let hit = self.shapes.iter().rev().find_map(|shape| {
            let near = |path: &BezPath| {
                path.segments()
                    .any(|segment| segment.nearest(point, 1e-3).distance_sq <= reach * reach)
            };
            let hit = match &shape.item {
                Item::Area { path, .. } => path.contains(point) || near(path),
                Item::Stroke { path, .. } => near(path),
                Item::Text { .. }
                | Item::Dimension { .. }
                | Item::Angle { .. }
                | Item::Measure { .. } => false,
            };
            shape.part.filter(|_| hit)
        })?;
        let region =
            self.regions.iter().find(|region| region.of == hit && region.outline.contains(point));
        Some(region.map_or(hit, |region| region.part))
    }
}
