//! Everything that is worked out for the joint, as one list.

mod machines;
mod shape;
mod wood;

use super::{JointPlan, JointSection};
use crate::design::{Design, JointKind};
use crate::layout::Layout;
use crate::units::Unit;
use crate::working::{Term, Working, angle, length};

/// What a figure is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Angles of the faces.
    Angles,
    /// The tenon and the shoulder.
    Tenon,
    /// The pocket.
    Pocket,
    /// Wedges, stacks, fences.
    Machines,
    /// Rough sizes and the blank.
    Blank,
    /// What wood is left.
    Wood,
    /// What the straightedge must read.
    Straightedge,
}

impl Group {
    /// All of them, in the order they are shown.
    pub const ALL: [Self; 7] = [
        Self::Angles,
        Self::Tenon,
        Self::Pocket,
        Self::Machines,
        Self::Blank,
        Self::Wood,
        Self::Straightedge,
    ];

    /// Its heading, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Angles => "Angles",
            Self::Tenon => "Tenon and shoulder",
            Self::Pocket => "Pocket",
            Self::Machines => "Settings of the machines",
            Self::Blank => "Rough sizes and blank",
            Self::Wood => "Wood left",
            Self::Straightedge => "Straightedge over the top, at the crest",
        }
    }
}

/// One number that is worked out for the joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Its name in the JSON, and the one steps of the cut sheet call it by.
    pub id: &'static str,
    /// What it is about.
    pub group: Group,
    /// Its name on screen, in sentence case.
    pub name: &'static str,
    /// Its value, in its unit (mm, degrees); of wedge and stack signed, see [`Self::raises`].
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Decimals that mean something at the bench.
    pub digits: usize,
    /// How it came about.
    pub working: Working,
}

/// Everything that is worked out for the joint: screen, paper and JSON show this list.
#[derive(Clone, Debug, PartialEq)]
pub struct JointFigures {
    /// The figures, by group.
    pub list: Vec<Figure>,
}

/// Where formulas of the joint come from.
const SOURCE: &str = "plane geometry (docs/relations.md)";
const BENCH: &str = "plane geometry; allowance: common practice, no source";
const SINE_BAR: &str = "the sine bar of the machinist's handbooks";

struct List(Vec<Figure>);

impl List {
    #[expect(clippy::too_many_arguments, reason = "a row of a table")]
    fn put(
        &mut self,
        id: &'static str,
        group: Group,
        name: &'static str,
        value: f64,
        unit: Unit,
        digits: usize,
        formula: &'static str,
        terms: Vec<Term>,
    ) {
        let source = match id {
            "pitch_stack" | "floor_stack" => SINE_BAR,
            "rough_width" | "blade_height" => BENCH,
            _ => SOURCE,
        };
        let working = Working { formula: formula.into(), terms, result: value, source };
        self.0.push(Figure { id, group, name, value, unit, digits, working });
    }

    fn mm(
        &mut self,
        id: &'static str,
        group: Group,
        name: &'static str,
        value: f64,
        formula: &'static str,
        terms: Vec<Term>,
    ) {
        // a wedge's hundredths count; a stop is set to tenths, a fitted width finer
        let fine =
            matches!(group, Group::Machines) && (id.ends_with("wedge") || id.ends_with("stack"));
        let digits = if fine || id.starts_with("tenon_width") { 2 } else { 1 };
        self.put(id, group, name, value, Unit::Length, digits, formula, terms);
    }

    /// An angle; radians in.
    fn turn(
        &mut self,
        id: &'static str,
        group: Group,
        name: &'static str,
        radians: f64,
        formula: &'static str,
        terms: Vec<Term>,
    ) {
        self.put(id, group, name, radians.to_degrees(), Unit::Angle, 2, formula, terms);
    }
}

/// What all figures are worked out from.
struct Bench<'a> {
    design: &'a Design,
    layout: &'a Layout,
    section: JointSection,
    plan: JointPlan,
}

impl JointFigures {
    /// The figures of a closed design.
    pub fn of(design: &Design, layout: &Layout) -> Self {
        let bench = Bench {
            design,
            layout,
            section: JointSection::of(design, layout),
            plan: JointPlan::of(design),
        };
        let mut list = List(Vec::with_capacity(48));
        bench.angles(&mut list);
        bench.tenon(&mut list);
        if design.joint.kind != JointKind::Through {
            bench.pocket(&mut list);
        }
        bench.machines(&mut list);
        bench.blank(&mut list);
        bench.wood(&mut list);
        bench.straightedge(&mut list);
        Self { list: list.0 }
    }

    /// The figure of that name, if this kind of joint has it.
    pub fn get(&self, id: &str) -> Option<&Figure> {
        self.list.iter().find(|figure| figure.id == id)
    }

    /// The figures of a group.
    pub fn of_group(&self, group: Group) -> impl Iterator<Item = &Figure> {
        self.list.iter().filter(move |figure| figure.group == group)
    }
}

impl Bench<'_> {
    fn pitch(&self) -> Term {
        angle("θ", "pitch", self.layout.pitch)
    }
    fn floor(&self) -> Term {
        angle("φ", "pocket floor", self.layout.floor())
    }
    fn rake(&self) -> Term {
        angle("ρ", "end wall rake", self.design.joint.wall_rake.radians())
    }
    fn overstand(&self) -> Term {
        length("o", "overstand", self.design.joint.overstand.to_mm())
    }
    fn depth(&self) -> Term {
        length("d_0", "pocket depth at the mouth", self.design.joint.pocket_depth.to_mm())
    }
    fn tenon_length(&self) -> Term {
        length("ℓ", "tenon length along the datum", self.design.joint.tenon_length.to_mm())
    }
    fn shoulder(&self) -> Term {
        length("S", "shoulder", self.design.joint.shoulder.to_mm())
    }
    fn base(&self) -> Term {
        length("W", "jig base", self.design.joint.jig_base.to_mm())
    }
    fn spare(&self) -> Term {
        length("e", "spare length", self.design.joint.spare_length.to_mm())
    }
    fn width(&self) -> Term {
        length("w", "tenon width", self.design.joint.tenon_width.to_mm())
    }
    fn mouth(&self) -> Term {
        length("X_m", "where the end wall meets the floor", self.layout.seat().mouth().0)
    }
    fn taper(&self) -> Term {
        angle("ψ", "body taper", self.design.body.taper.radians())
    }
}
