//! Angles, tenon and pocket.

use super::{Bench, Group, List};
use crate::design::JointKind;
use crate::dimension::Dim;
use crate::joint::section::beside_tenon;
use crate::units::Unit;
use crate::working::{angle, length};

impl Bench<'_> {
    pub(super) fn angles(&self, list: &mut List) {
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
        if self.plan.flank != 0.0 {
            list.turn(
                "cheek_angle",
                Angles,
                "Cheeks to centre line",
                self.plan.flank,
                "β",
                vec![angle("β", "dovetail flank", self.plan.flank)],
            );
        }
    }

    pub(super) fn tenon(&self, list: &mut List) {
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
                "(ℓ - X_s)/cos θ",
                vec![
                    self.tenon_length(),
                    length("X_s", "shoulder's top from the joint", self.section.tenon[0].x),
                    self.pitch(),
                ],
            );
            list.mm(
                "along_bottom",
                Tenon,
                "Length along bottom edge",
                self.section.along_bottom,
                "(ℓ - X_m)/cos φ",
                vec![
                    self.tenon_length(),
                    length("X_m", "where the end wall meets the floor", self.section.tenon[1].x),
                    self.floor(),
                ],
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
                "min(D/2, w/2)",
                vec![
                    length("D", "cutter", self.design.joint.cutter_diameter.to_mm()),
                    self.width(),
                ],
            );
            list.mm(
                "shoulder_width",
                Tenon,
                "Shoulder beside the tenon, each side",
                beside_tenon(self.design),
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
            "Shoulder's foot toward nut, along board",
            shoulder * (pitch + rake).sin(),
            "S sin(θ + ρ)",
            face(),
        );
        list.mm(
            "foot_from_square",
            Tenon,
            "Shoulder's foot from a square line",
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

    pub(super) fn pocket(&self, list: &mut List) {
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
            "Length without spare",
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
            "max(d_0 - X_m tan φ, d_0 - (ℓ + e) tan φ)",
            vec![self.depth(), self.mouth(), self.tenon_length(), self.spare(), self.floor()],
        );
    }
}
