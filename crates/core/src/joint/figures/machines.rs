//! Settings of the machines, rough sizes and the blank.

use super::{Bench, Group, List};
use crate::design::{HeadFrom, JointKind};
use crate::dimension::Dim;
use crate::joint::{stack_under_bar, wedge_rise};
use crate::working::{angle, length};

impl Bench<'_> {
    pub(super) fn machines(&self, list: &mut List) {
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
                "Wedge for the tenon bottom, on glue face",
                wedge_rise(base, pitch - floor),
                "W tan(θ - φ)",
                vec![self.base(), self.pitch(), self.floor()],
            );
        }
        let rake = self.design.joint.wall_rake.radians();
        list.turn(
            "mitre",
            Machines,
            "Saw: mitre fence off square, shoulder",
            pitch + rake,
            "θ + ρ",
            vec![self.pitch(), self.rake()],
        );
        // against a square wall it is the pitch's own
        if rake != 0.0 {
            let terms = vec![self.base(), self.pitch(), self.rake()];
            let name = "Wedge for the shoulder, over the base";
            let rise = wedge_rise(base, pitch + rake);
            list.mm("shoulder_wedge", Machines, name, rise, "W tan(θ + ρ)", terms.clone());
            let name = "Stack for the shoulder, under the bar";
            let stack = stack_under_bar(base, pitch + rake);
            list.mm("shoulder_stack", Machines, name, stack, "W sin(θ + ρ)", terms);
        }
        let joint = self.layout.joint_from_nut;
        let top = self.section.tenon[0].x / pitch.cos();
        list.mm(
            "fence_shoulder",
            Machines,
            "Stop: nut to shoulder, along glue face",
            joint + top,
            "u_J + X_s/cos θ",
            vec![
                length("u_J", "joint from the nut", joint),
                length("X_s", "shoulder's top from the joint", self.section.tenon[0].x),
                self.pitch(),
            ],
        );
        if !through {
            list.mm(
                "fence_butt",
                Machines,
                "Stop: nut to butt, along glue face",
                joint + self.design.joint.tenon_length.to_mm() / pitch.cos(),
                "u_J + ℓ/cos θ",
                vec![length("u_J", "joint from the nut", joint), self.tenon_length(), self.pitch()],
            );
            let heel = self.design.neck.width_heel.to_mm();
            let rough = self.rough_width();
            // a heel as wide as the neck has no shoulders beside it
            if heel > rough {
                list.mm(
                    "blade_height",
                    Machines,
                    "Saw: blade height, rough shoulder",
                    (heel - rough) / 2.0,
                    "(b - w_r)/2",
                    vec![
                        length("b", "neck width at the joint", heel),
                        length("w_r", "tenon width, roughed", rough),
                    ],
                );
            }
        }
    }

    /// Width of the rough tenon: a dovetail must keep its wide end.
    fn rough_width(&self) -> f64 {
        self.plan.inner_width() + self.design.joint.rough_cheeks.to_mm()
    }

    pub(super) fn blank(&self, list: &mut List) {
        use Group::Blank;
        let design = self.design;
        if design.joint.kind != JointKind::Through {
            let rough = length("r", "left on both cheeks", design.joint.rough_cheeks.to_mm());
            list.mm(
                "rough_width",
                Blank,
                "Tenon width, roughed",
                self.rough_width(),
                "w + 2 ℓ tan β + r",
                vec![
                    self.width(),
                    self.tenon_length(),
                    angle("β", "dovetail flank", self.plan.flank),
                    rough,
                ],
            );
        }
        let head = &design.head;
        let tilt = head.shape.angle().radians();
        let scarf = design.neck.head_from == HeadFrom::Scarf;
        let thickness = length("h", "headstock thickness", head.thickness.to_mm());
        let tilted = [
            length("L_h", "headstock length", head.length.to_mm()),
            thickness,
            angle("δ", "headstock angle", tilt),
        ];
        let stands = [
            length("g", "headstock drop", head.drop.to_mm()),
            length("t", "board thickness", design.board.thickness.to_mm()),
        ];
        for (id, dim, name, formula, terms) in [
            (
                "blank_for_heel",
                Dim::BlankForHeel,
                "Thickness for the heel, block included",
                "max(S cos(θ + ρ), max((o + X_m tan θ + d_m) cos θ, (o + d_0 + ℓ (tan θ - tan φ)) cos θ))",
                vec![
                    self.shoulder(),
                    self.pitch(),
                    self.rake(),
                    self.overstand(),
                    self.mouth(),
                    length("d_m", "floor below the datum there", -self.layout.seat().mouth().1),
                    self.depth(),
                    self.tenon_length(),
                    self.floor(),
                ],
            ),
            (
                "blank_for_head",
                Dim::BlankForHead,
                "Thickness for the headstock",
                if scarf { "h" } else { "max(t - g, 0) + max(g + L_h sin δ + h cos δ - t, 0)" },
                if scarf { vec![thickness] } else { [&tilted[..], &stands[..]].concat() },
            ),
            (
                "blank_length",
                Dim::BlankLengthNeeded,
                "Length, headstock tip to tenon end",
                "u_J + max(ℓ/cos θ, ℓ cos θ + (ℓ tan φ - d_0 - o) sin θ) + a + L_h cos δ + max(h sin δ, 0)",
                [
                    &[
                        length("u_J", "joint from the nut", self.layout.joint_from_nut),
                        self.tenon_length(),
                        self.pitch(),
                        self.floor(),
                        self.depth(),
                        self.overstand(),
                        length("a", "headstock start", head.start.to_mm()),
                    ],
                    &tilted[..],
                ]
                .concat(),
            ),
        ] {
            if let Some(value) = self.layout.outcome(dim) {
                list.mm(id, Blank, name, value, formula, terms);
            }
        }
        if scarf && tilt > 0.0 {
            list.mm(
                "scarf_length",
                Blank,
                "Length of the scarf's face",
                head.thickness.to_mm() / tilt.sin(),
                "h/sin δ",
                vec![thickness, angle("δ", "headstock angle", tilt)],
            );
        }
    }
}
