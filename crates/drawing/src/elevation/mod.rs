//! The side elevation to scale, in the body frame: strung, as it stands when it is played.
//!
//! Every place comes from the layout or is a measure of the design. What neither says (how
//! the heel sweeps, how a saddle is shaped) is drawn plainly, and nothing is worked out
//! from it.

mod body;
mod bridge;
mod dimensions;
mod neck;
mod strings;
mod views;

use std::borrow::Cow;

use kurbo::{BezPath, Point};
use overstand_core::design::Design;
use overstand_core::joint::JointSection;
use overstand_core::layout::Layout;
use overstand_core::study::{Open, Study};

use crate::outline::point;
use crate::scene::{Item, Line, Material, PartName, Scene};

pub use views::{joint_to_tail, shift, whole};

/// What is drawn besides the instrument.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Show {
    /// The straightedge on the crowns of the unstrung neck, and what it reads.
    pub straightedge: bool,
    /// The main dimensions and the top datum.
    pub dimensions: bool,
}

/// The side elevation of a study. Empty only when no layout can be had.
///
/// A design that does not close is drawn as its other dimensions say; the held place of
/// its crest is shown as a ghost.
pub fn elevation(study: &Study) -> Scene {
    elevation_with(study, Show::default())
}

/// The side elevation with more or less on it.
pub fn elevation_with(study: &Study, show: Show) -> Scene {
    let Some(layout) = layout_of(study) else {
        return Scene::default();
    };
    let design = &study.design;
    let joint = JointSection::of(design, &layout);
    let mut bench = Bench { design, layout: &layout, joint, strung: true, scene: Scene::default() };
    bench.neck_before_body();
    bench.body();
    bench.inside_body();
    bench.cut_into_body();
    bench.body_edges();
    bench.pickups();
    bench.board();
    bench.tail();
    bench.bridge();
    bench.posts();
    bench.string();
    bench.nut();
    bench.saddle_range();
    if study.closed().is_none() {
        bench.held_crest();
    }
    if show.straightedge {
        bench.straightedge();
    }
    if show.dimensions {
        bench.dimensions();
    }
    bench.scene
}

/// The outline of the neck with headstock and tenon as it lies on the bench: unstrung and
/// straight, in the body frame.
pub(crate) fn neck_on_the_bench(design: &Design, layout: &Layout) -> BezPath {
    let joint = JointSection::of(design, layout);
    Bench { design, layout, joint, strung: false, scene: Scene::default() }.neck_outline()
}

/// The layout of a study; of a design whose held values conflict, the layout that its
/// other dimensions give.
pub(crate) fn layout_of(study: &Study) -> Option<Cow<'_, Layout>> {
    match &study.outcome {
        Ok(closed) => Some(Cow::Borrowed(&closed.layout)),
        Err(Open::Conflict(_)) => Layout::of(&study.design).ok().map(Cow::Owned),
        Err(Open::Faults(_) | Open::Layout(_)) => None,
    }
}

/// The drawing in the making.
struct Bench<'a> {
    design: &'a Design,
    layout: &'a Layout,
    joint: JointSection,
    /// Under the strings' pull, or straight as it lies on the bench.
    strung: bool,
    scene: Scene,
}

impl Bench<'_> {
    /// A point of the neck: `over` the board's surface as it is before any fall-away.
    fn neck(&self, u: f64, over: f64) -> Point {
        if self.strung {
            point(self.layout.strung(u, over + self.layout.lift(u)))
        } else {
            point(self.layout.unstrung(u, over))
        }
    }

    /// A point of the board's surface, fall-away taken off.
    fn surface(&self, u: f64) -> Point {
        self.neck(u, -self.layout.fall(u))
    }

    /// A point of the headstock, along its face and over it.
    fn head(&self, along: f64, over: f64) -> Point {
        if self.strung {
            let (u, v) = self.layout.strung_head(along, over);
            point(self.layout.strung(u, v))
        } else {
            let (u, v) = self.layout.head(along, over);
            point(self.layout.unstrung(u, v))
        }
    }

    /// A point on the body's top, or so much over it.
    fn top(&self, x: f64, over: f64) -> Point {
        Point::new(x, self.layout.top(x) + over)
    }

    fn area(&mut self, part: PartName, path: BezPath, material: Material) {
        self.scene.add(Some(part), Item::Area { path, material, edge: Line::Visible });
    }

    fn stroke(&mut self, part: PartName, path: BezPath, line: Line) {
        self.scene.add(Some(part), Item::Stroke { path, line });
    }
}
