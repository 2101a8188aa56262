use super::{
    JointPlan, JointSection, stack_under_bar, wedge_rise, wood_to_cavity, wood_under_cavity,
    wood_under_rod,
};
use crate::design::{Design, HeadFrom, JointKind};
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::units::Unit;
use crate::verdict::{Term, Working, angle, length};

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
    /// Its value, in its unit (mm, degrees).
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
        let working = Working { formula, terms, result: value, source };
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
        let digits = if group == Group::Machines { 2 } else { 1 };
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
    fn taper(&self) -> Term {
        angle("ψ", "body taper", self.design.body.taper.radians())
    }

    fn angles(&self, list: &mut List) {
        use Group::Angles;
        let (pitch, floor) = (self.layout.pitch, self.layout.floor());
        list.turn("pitch", Angles, "Pitch", pitch, "θ", vec![self.pitch()]);
        let tangent = self.layout.top_tangent(0.0);
        if tangent != 0.0 {
            let terms = vec![self.pitch(), angle("α", "the top's tangent at the joint", tangent)];
            let name = "Pitch against the top at the joint";
            list.turn("pitch_at_top", Angles, name, pitch - tangent, "θ - α", terms);
        }
        list.turn(
            "shoulder_angle",
            Angles,
            "Shoulder to underside, in the wood",
            self.section.shoulder_to_underside,
            "90° - θ - ρ",
            vec![self.pitch(), self.rake()],
        );
        if self.design.joint.kind == JointKind::Through {
            return;
        }
        list.turn(
            "butt_angle",
            Angles,
            "Butt to underside, in the wood",
            self.section.face_to_underside,
            "90° - θ",
            vec![self.pitch()],
        );
        list.turn("floor", Angles, "Pocket floor to datum", floor, "φ", vec![self.floor()]);
        list.turn(
            "bottom_angle",
            Angles,
            "Tenon bottom to underside",
            self.section.bottom_to_underside,
            "θ - φ",
            vec![self.pitch(), self.floor()],
        );
        list.turn(
            "floor_to_back",
            Angles,
            "Floor, body lying on its back",
            floor + self.design.body.taper.radians(),
            "φ + ψ",
            vec![self.floor(), self.taper()],
        );
        list.turn(
            "cheek_angle",
            Angles,
            "Cheeks to centre line",
            self.plan.flank,
            "β",
            vec![angle("β", "dovetail flank", self.plan.flank)],
        );
    }

    fn tenon(&self, list: &mut List) {
        use Group::Tenon;
        let (mouth, inner) = self.section.depth_square_to_datum;
        let (heel, heel_inner) = self.section.depth_square_to_board;
        let seat = || vec![self.overstand(), self.depth()];
        let sloped = || {
            vec![self.overstand(), self.depth(), self.tenon_length(), self.pitch(), self.floor()]
        };
        list.mm("depth_mouth", Tenon, "Depth at mouth, square to top", mouth, "o + d_0", seat());
        list.mm(
            "heel_thickness",
            Tenon,
            "Depth at mouth, square to board",
            heel,
            "(o + d_0) cos φ/cos(θ - φ)",
            [seat(), vec![self.pitch(), self.floor()]].concat(),
        );
        let shoulder = self.design.joint.shoulder.to_mm();
        let (pitch, rake) = (self.layout.pitch, self.design.joint.wall_rake.radians());
        let face = || vec![self.shoulder(), self.pitch(), self.rake()];
        if self.design.joint.kind != JointKind::Through {
            list.mm(
                "depth_inner",
                Tenon,
                "Depth at inner end, square to top",
                inner,
                "o + d_0 + ℓ (tan θ - tan φ)",
                sloped(),
            );
            list.mm(
                "tenon_inner",
                Tenon,
                "Depth at inner end, square to board",
                heel_inner,
                "(o + d_0) cos φ/cos(θ - φ) + (ℓ/cos θ) tan(θ - φ)",
                sloped(),
            );
            list.mm(
                "along_underside",
                Tenon,
                "Length along top edge",
                self.section.along_underside,
                "ℓ/cos θ",
                vec![self.tenon_length(), self.pitch()],
            );
            list.mm(
                "along_bottom",
                Tenon,
                "Length along bottom edge",
                self.section.along_bottom,
                "ℓ/cos φ, on a raked wall less what it cuts off",
                vec![self.tenon_length(), self.floor(), self.rake()],
            );
            let width = self.design.joint.tenon_width.to_mm();
            list.mm("tenon_width", Tenon, "Width at mouth", width, "w", vec![self.width()]);
            if self.plan.flank != 0.0 {
                list.mm(
                    "tenon_width_inner",
                    Tenon,
                    "Width at inner end",
                    self.plan.inner_width(),
                    "w + 2 ℓ tan β",
                    vec![
                        self.width(),
                        self.tenon_length(),
                        angle("β", "dovetail flank", self.plan.flank),
                    ],
                );
            }
            list.mm(
                "corner_radius",
                Tenon,
                "Radius of inner corners, from above",
                self.plan.radius,
                "half the cutter, at most half the tenon",
                vec![length("D", "cutter", self.design.joint.cutter_diameter.to_mm())],
            );
            list.mm(
                "shoulder_width",
                Tenon,
                "Shoulder beside the tenon, each side",
                (self.design.neck.width_heel.to_mm() - width) / 2.0,
                "(b - w)/2",
                vec![
                    length("b", "neck width at the joint", self.design.neck.width_heel.to_mm()),
                    self.width(),
                ],
            );
        }
        list.mm(
            "foot_along_board",
            Tenon,
            "Shoulder's foot nearer the nut, along board",
            shoulder * (pitch + rake).sin(),
            "S sin(θ + ρ)",
            face(),
        );
        list.mm(
            "foot_from_square",
            Tenon,
            "Shoulder's foot from a line square to board",
            shoulder * (rake.cos() * pitch.tan() + rake.sin()),
            "S (cos ρ tan θ + sin ρ), along the datum",
            face(),
        );
        list.mm(
            "shoulder_bears",
            Tenon,
            "Shoulder that bears on the body",
            shoulder - self.design.joint.overstand.to_mm(),
            "S - o",
            vec![self.shoulder(), self.overstand()],
        );
    }

    fn pocket(&self, list: &mut List) {
        use Group::Pocket;
        let joint = &self.design.joint;
        let (depth, tan) = (joint.pocket_depth.to_mm(), self.layout.floor().tan());
        let (tenon, spare) = (joint.tenon_length.to_mm(), joint.spare_length.to_mm());
        list.mm("pocket_depth", Pocket, "Depth at mouth", depth, "d_0", vec![self.depth()]);
        list.mm(
            "pocket_depth_tenon",
            Pocket,
            "Depth at the tenon's end",
            depth - tenon * tan,
            "d_0 - ℓ tan φ",
            vec![self.depth(), self.tenon_length(), self.floor()],
        );
        list.mm(
            "pocket_depth_end",
            Pocket,
            "Depth at its end",
            depth - (tenon + spare) * tan,
            "d_0 - (ℓ + e) tan φ",
            vec![self.depth(), self.tenon_length(), self.spare(), self.floor()],
        );
        list.mm(
            "pocket_length",
            Pocket,
            "Length of the tenon",
            tenon,
            "ℓ",
            vec![self.tenon_length()],
        );
        list.mm(
            "pocket_length_spare",
            Pocket,
            "Length with spare",
            tenon + spare,
            "ℓ + e",
            vec![self.tenon_length(), self.spare()],
        );
        list.put(
            "pocket_width",
            Pocket,
            "Width at mouth, with glue room",
            self.plan.mouth_width(),
            Unit::Length,
            2,
            "w + 2 g/cos β",
            vec![
                self.width(),
                length("g", "glue room at each cheek", joint.glue_room.to_mm()),
                angle("β", "dovetail flank", self.plan.flank),
            ],
        );
        let deepest = self.layout.outcome(Dim::DeepestCut).unwrap_or(depth);
        list.mm(
            "deepest_cut",
            Pocket,
            "Deepest cut below the top datum",
            deepest,
            "the larger of the depths at mouth and end",
            vec![length("r", "cutter reaches", joint.cutter_reach.to_mm())],
        );
    }

    fn machines(&self, list: &mut List) {
        use Group::Machines;
        let base = self.design.joint.jig_base.to_mm();
        let (pitch, floor) = (self.layout.pitch, self.layout.floor());
        let taper = self.design.body.taper.radians();
        let through = self.design.joint.kind == JointKind::Through;
        let name = "Wedge for the pitch, over the base";
        let terms = vec![self.base(), self.pitch()];
        list.mm("pitch_wedge", Machines, name, wedge_rise(base, pitch), "W tan θ", terms.clone());
        let name = "Stack for the pitch, under the bar";
        list.mm("pitch_stack", Machines, name, stack_under_bar(base, pitch), "W sin θ", terms);
        if !through {
            let name = "Wedge for the floor, over the base";
            let terms = vec![self.base(), self.floor()];
            let rise = wedge_rise(base, floor);
            list.mm("floor_wedge", Machines, name, rise, "W tan φ", terms.clone());
            let name = "Stack for the floor, under the bar";
            let stack = stack_under_bar(base, floor);
            list.mm("floor_stack", Machines, name, stack, "W sin φ", terms);
            if taper != 0.0 {
                list.mm(
                    "back_wedge",
                    Machines,
                    "Wedge for the floor, body on its back",
                    wedge_rise(base, floor + taper),
                    "W tan(φ + ψ)",
                    vec![self.base(), self.floor(), self.taper()],
                );
            }
            list.mm(
                "bottom_wedge",
                Machines,
                "Wedge for the tenon bottom, neck on its face",
                wedge_rise(base, pitch - floor),
                "W tan(θ - φ)",
                vec![self.base(), self.pitch(), self.floor()],
            );
        }
        let rake = self.design.joint.wall_rake.radians();
        list.turn(
            "mitre",
            Machines,
            "Saw: mitre fence off square, for the shoulder",
            pitch + rake,
            "θ + ρ",
            vec![self.pitch(), self.rake()],
        );
        let joint = self.layout.joint_from_nut;
        let top = self.section.tenon[0].x / pitch.cos();
        list.mm(
            "fence_shoulder",
            Machines,
            "Stop: nut face to shoulder, along glue face",
            joint + top,
            "u_J, on a raked wall with what the overstand moves it",
            vec![length("u_J", "joint from the nut", joint)],
        );
        if !through {
            list.mm(
                "fence_butt",
                Machines,
                "Stop: nut face to butt, along glue face",
                joint + self.section.along_underside,
                "u_J + ℓ/cos θ",
                vec![length("u_J", "joint from the nut", joint), self.tenon_length(), self.pitch()],
            );
            let (heel, width) =
                (self.design.neck.width_heel.to_mm(), self.design.joint.tenon_width.to_mm());
            let rough = self.design.joint.rough_cheeks.to_mm();
            list.mm(
                "blade_height",
                Machines,
                "Saw: blade height for the rough shoulder",
                (heel - width - rough) / 2.0,
                "(b - w - r)/2",
                vec![
                    length("b", "neck width at the joint", heel),
                    self.width(),
                    length("r", "left on both cheeks", rough),
                ],
            );
        }
    }

    fn blank(&self, list: &mut List) {
        use Group::Blank;
        let design = self.design;
        if design.joint.kind != JointKind::Through {
            let rough = design.joint.rough_cheeks.to_mm();
            list.mm(
                "rough_width",
                Blank,
                "Tenon width, roughed",
                design.joint.tenon_width.to_mm() + rough,
                "w + r",
                vec![self.width(), length("r", "left on both cheeks", rough)],
            );
        }
        let head = &design.head;
        let tilt = head.shape.angle().radians();
        let head_terms = || {
            vec![
                length("g", "headstock drop", head.drop.to_mm()),
                length("L_h", "headstock length", head.length.to_mm()),
                length("h", "headstock thickness", head.thickness.to_mm()),
                angle("δ", "headstock angle", tilt),
            ]
        };
        for (id, dim, name, formula, terms) in [
            (
                "blank_for_heel",
                Dim::BlankForHeel,
                "Thickness for the heel, block included",
                "the deepest of shoulder's foot and tenon bottom below the underside",
                vec![self.shoulder(), self.overstand(), self.depth(), self.pitch()],
            ),
            (
                "blank_for_head",
                Dim::BlankForHead,
                "Thickness for the headstock",
                match design.neck.head_from {
                    HeadFrom::OnePiece => {
                        "what rises over the glue face, and g + L_h sin δ + h cos δ - t below it"
                    }
                    HeadFrom::Scarf => "h",
                },
                [
                    head_terms(),
                    vec![length("t", "board thickness", design.board.thickness.to_mm())],
                ]
                .concat(),
            ),
            (
                "blank_length",
                Dim::BlankLengthNeeded,
                "Length, headstock tip to tenon end",
                "u_J + ℓ/cos θ + headstock start + L_h cos δ + h sin δ",
                [
                    vec![
                        length("u_J", "joint from the nut", self.layout.joint_from_nut),
                        self.tenon_length(),
                        self.pitch(),
                        length("a", "headstock start", head.start.to_mm()),
                    ],
                    head_terms(),
                ]
                .concat(),
            ),
        ] {
            if let Some(value) = self.layout.outcome(dim) {
                list.mm(id, Blank, name, value, formula, terms);
            }
        }
        if design.neck.head_from == HeadFrom::Scarf && tilt > 0.0 {
            list.mm(
                "scarf_length",
                Blank,
                "Length of the scarf's face",
                head.thickness.to_mm() / tilt.sin(),
                "h/sin δ",
                head_terms(),
            );
        }
    }

    fn wood(&self, list: &mut List) {
        use Group::Wood;
        let (design, layout) = (self.design, self.layout);
        let joint = &design.joint;
        let body = || length("H_0", "body thickness at the joint", design.body.thickness.to_mm());
        if joint.kind != JointKind::Through
            && let Some(under) = layout.outcome(Dim::WoodUnder)
        {
            list.mm(
                "wood_under",
                Wood,
                "Under the pocket, to the back",
                under,
                "H_0 + X tan ψ - (d_0 - X tan φ), least from mouth to end",
                vec![
                    body(),
                    self.depth(),
                    self.tenon_length(),
                    self.spare(),
                    self.floor(),
                    self.taper(),
                ],
            );
        }
        if let Some((wood, index)) = wood_to_cavity(design, layout) {
            let from = design.cavities.get(index).map_or(0.0, |cavity| cavity.from.to_mm());
            list.mm(
                "wood_to_cavity",
                Wood,
                "Pocket's end to the nearest cavity",
                wood,
                "X_c - (ℓ + e)",
                vec![
                    length("X_c", "the cavity starts at", from),
                    self.tenon_length(),
                    self.spare(),
                ],
            );
        }
        if let Some((wood, index)) = wood_under_cavity(design, layout) {
            let deep = design.cavities.get(index).map_or(0.0, |cavity| cavity.depth.to_mm());
            list.mm(
                "wood_under_cavity",
                Wood,
                "Under the cavities, to the back",
                wood,
                "H_0 + X tan ψ - c",
                vec![body(), self.taper(), length("c", "the cavity's depth", deep)],
            );
        }
        if let Some((wood, u)) = wood_under_rod(design, layout) {
            list.mm(
                "wood_under_rod",
                Wood,
                "Under the rod's channel",
                wood,
                "neck or tenon under the glue face, less c, square to the board",
                vec![
                    length("c", "the channel's depth", design.neck.rod_depth.to_mm()),
                    length("u", "where it is least, from the nut", u),
                ],
            );
            if joint.kind != JointKind::Through
                && design.neck.rod_end.to_mm() > layout.joint_from_nut
            {
                list.mm(
                    "wood_beside_rod",
                    Wood,
                    "Tenon beside the channel, each side",
                    (joint.tenon_width.to_mm() - design.neck.rod_width.to_mm()) / 2.0,
                    "(w - c)/2",
                    vec![
                        self.width(),
                        length("c", "the channel's width", design.neck.rod_width.to_mm()),
                    ],
                );
            }
        }
        if joint.kind == JointKind::Screwed {
            let x = joint.screw_station.to_mm();
            let (seat, screw) = (layout.seat(), joint.screw_length.to_mm());
            let bite = screw - (seat.bottom(x) - layout.back(x));
            let terms = || {
                vec![
                    length("s", "screw length", screw),
                    length("X", "screws from the joint", x),
                    length("m", "wood under the pocket there", seat.bottom(x) - layout.back(x)),
                ]
            };
            list.mm("screw_bite", Wood, "Screws reach into the heel", bite, "s - m", terms());
            list.mm(
                "screw_cover",
                Wood,
                "Screw tips to the board",
                seat.below(x) - bite,
                "heel there - (s - m), square to the datum",
                [terms(), vec![length("τ", "heel there", seat.below(x))]].concat(),
            );
        }
    }

    fn straightedge(&self, list: &mut List) {
        use Group::Straightedge;
        let reads = self.layout.straightedge;
        let terms = |over: &'static str, thick: f64| {
            vec![
                self.overstand(),
                length("k", over, thick),
                length("X", "the crest from the joint", reads.x),
                self.pitch(),
                length("z", "the top there", self.layout.top(reads.x)),
            ]
        };
        let formula = "o + k/cos θ + X tan θ - z";
        let (board, crown) = (self.design.board.thickness.to_mm(), self.design.board.crown.to_mm());
        let bare = terms("over the neck's face", 0.0);
        list.mm(
            "reads_neck",
            Straightedge,
            "On the bare neck face",
            reads.neck_face,
            formula,
            bare,
        );
        let on_board = terms("board", board);
        list.mm("reads_board", Straightedge, "On the board", reads.board, formula, on_board);
        if self.layout.is_fretted() {
            let on_crowns = terms("board and crown", board + crown);
            list.mm(
                "reads_crowns",
                Straightedge,
                "On the crowns",
                reads.crowns,
                formula,
                on_crowns,
            );
        }
    }
}
