//! What wood is left, and what the straightedge must read.

use super::{Bench, Group, List};
use crate::design::JointKind;
use crate::dimension::Dim;
use crate::joint::{Screws, screws, wood_to_cavity, wood_under_cavity, wood_under_rod};
use crate::working::length;

impl Bench<'_> {
    pub(super) fn wood(&self, list: &mut List) {
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
                "min(H_0 + X_m tan ψ - (d_0 - X_m tan φ), H_0 + (ℓ + e) tan ψ - (d_0 - (ℓ + e) tan φ))",
                vec![
                    body(),
                    self.mouth(),
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
            let Some(cavity) = design.cavities.get(index) else { return };
            list.mm(
                "wood_under_cavity",
                Wood,
                "Under the cavities, to the back",
                wood,
                "min(H_0 + X_c tan ψ, H_0 + X_e tan ψ) - c",
                vec![
                    body(),
                    self.taper(),
                    length("X_c", "the cavity starts at", cavity.from.to_mm()),
                    length("X_e", "the cavity ends at", cavity.to.to_mm()),
                    length("c", "the cavity's depth", cavity.depth.to_mm()),
                ],
            );
        }
        if let Some((wood, u)) = wood_under_rod(design, layout) {
            let deep = design.neck.rod_depth.to_mm();
            list.mm(
                "wood_under_rod",
                Wood,
                "Under the rod's channel",
                wood,
                "k - c, at u, square to the board",
                vec![
                    length("k", "wood below the glue face there", wood + deep),
                    length("u", "where it is least, from the nut", u),
                    length("c", "the channel's depth", deep),
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
            let Screws { under, heel, bite, cover } = screws(design, layout);
            let terms = || {
                vec![
                    length("s", "screw length", joint.screw_length.to_mm()),
                    length("X", "screws from the joint", joint.screw_station.to_mm()),
                    length("m", "wood under the pocket there", under),
                ]
            };
            list.mm(
                "screw_bite",
                Wood,
                "Screws reach into the heel",
                bite,
                "s - m, m the wood at X",
                terms(),
            );
            list.mm(
                "screw_cover",
                Wood,
                "Screw tips to the board",
                cover,
                "τ - (s - m), at X, square to the datum",
                [terms(), vec![length("τ", "heel there", heel)]].concat(),
            );
        }
    }

    pub(super) fn straightedge(&self, list: &mut List) {
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
