//! Steps on the neck, up to the rough tenon.

use super::{Bench, BenchCheck, Step, care, step};
use crate::design::{HeadFrom, JointKind};
use crate::sentence::{degrees, mm, sentence};

/// What is left on a sawn shoulder for trimming, mm (common practice, no source).
const SHOULDER_PROUD: f64 = 1.0;

/// A slip that turns a mitre fence by a little, mm.
const SHIM: f64 = 0.1;

impl Bench<'_> {
    pub(super) fn blank(&self) -> Step {
        let neck = &self.design.neck;
        let (thick, long) = (neck.blank_thickness.to_mm(), neck.blank_length.to_mm());
        let mut work = vec![sentence![
            "Plane one face of the blank straight and flat: it is the glue face, and everything is measured from it."
        ]];
        if neck.head_from == HeadFrom::Scarf {
            work.push(sentence![
                "Saw and plane the scarf at the headstock's angle; glue it before the neck is cut to width."
            ]);
        }
        let heel = self.value("blank_for_heel");
        let head = self.value("blank_for_head");
        if thick > 0.0 {
            let missing = heel - thick;
            work.push(if head > thick + 0.05 {
                sentence![
                    "The blank at hand is ",
                    mm(thick, 1),
                    " thick: too thin for the headstock by ",
                    mm(head - thick, 1),
                    ". Use a scarf joint, or tilt the headstock less."
                ]
            } else if missing > 0.05 {
                sentence![
                    "The blank at hand is ",
                    mm(thick, 1),
                    " thick: glue on a heel block of ",
                    mm(missing, 1),
                    " or more."
                ]
            } else {
                sentence!["The blank at hand, ", mm(thick, 1), " thick, is enough."]
            });
        }
        let needed = self.value("blank_length");
        if long > 0.0 && long < needed {
            work.push(sentence![
                "The blank at hand is ",
                mm(needed - long, 0),
                " too short for one piece."
            ]);
        }
        Step {
            numbers: self.numbers(&[
                "blank_for_heel",
                "blank_for_head",
                "blank_length",
                "scarf_length",
            ]),
            check: Some(BenchCheck {
                measure: "The glue face",
                with: "a straightedge and winding sticks",
                reads: sentence!["no light under the straightedge, no wind"],
                otherwise: sentence!["Plane it again: every angle is set from this face."],
            }),
            ..step("blank", "Prepare the blank", work)
        }
    }

    pub(super) fn mark_out(&self) -> Step {
        Step {
            numbers: self.numbers(&["fence_shoulder", "fence_butt"]),
            check: Some(BenchCheck {
                measure: "Nut line to shoulder line, along the glue face",
                with: "a steel rule, from one end without moving it",
                reads: sentence![mm(self.value("fence_shoulder"), 1)],
                otherwise: sentence![
                    "Mark again: frets and bridge are set out from these two lines."
                ],
            }),
            ..step(
                "mark_out",
                "Mark out the joint",
                vec![sentence![
                    "Mark the nut's face and, square across the glue face, the top of the shoulder. Knife the line."
                ]],
            )
        }
    }

    pub(super) fn rod_channel(&self) -> Step {
        let neck = &self.design.neck;
        let start = neck.rod_start.to_mm();
        Step {
            numbers: self.numbers(&["wood_under_rod", "wood_beside_rod"]),
            check: Some(BenchCheck {
                measure: "The channel's depth, at both ends and in the middle",
                with: "a depth gauge from the glue face",
                reads: sentence![mm(neck.rod_depth.to_mm(), 1)],
                otherwise: sentence![
                    "Shallow: another pass. Deep: glue in a strip of the same wood before anything else."
                ],
            }),
            cautions: vec![care::UNPLUG, care::ROTATION],
            ..step(
                "rod_channel",
                "Cut the rod's channel",
                vec![sentence![
                    "Cut the channel ",
                    mm(neck.rod_width.to_mm(), 1),
                    " wide and ",
                    mm(neck.rod_depth.to_mm(), 1),
                    " deep into the glue face, from ",
                    mm(start.abs(), 1),
                    if start < 0.0 { " before the nut's face to " } else { " to " },
                    mm(neck.rod_end.to_mm(), 1),
                    if start < 0.0 { " beyond it" } else { " from the nut's face" },
                    ", while the blank is square."
                ]],
            )
        }
    }

    pub(super) fn core(&self) -> Step {
        let overstand = self.design.joint.overstand.to_mm();
        Step {
            numbers: self.numbers(&["pitch", "pitch_wedge", "pitch_stack", "depth_mouth"]),
            check: Some(BenchCheck {
                measure: "The angle between the neck's face and the core's top",
                with: "a bevel set to the pitch, or the wedge under a straightedge",
                reads: sentence![degrees(self.value("pitch"), 2)],
                otherwise: sentence![
                    "Plane the core's top, not the neck's face: the face is the datum of the board."
                ],
            }),
            cautions: vec![care::JIG],
            ..step(
                "core",
                "Plane the core's top to the pitch",
                vec![sentence![
                    "From the shoulder on, plane the core's top to the pitch, ",
                    mm(overstand.abs(), 1),
                    if overstand < 0.0 { " above" } else { " below" },
                    " the neck's face at the shoulder. Under the board the neck's face stays."
                ]],
            )
        }
    }

    pub(super) fn shoulders(&self) -> Step {
        let foot = self.value("foot_from_square");
        let way = if foot >= 0.0 { "nearer the nut" } else { "nearer the bridge" };
        let through = self.design.joint.kind == JointKind::Through;
        let base = self.design.joint.jig_base.to_mm();
        let raked = self.design.joint.wall_rake.to_degrees() != 0.0;
        let mut work = vec![sentence![
            "Saw the shoulder on both sides at ",
            degrees(self.value("shoulder_angle"), 2),
            " to the glue face: its foot lies ",
            mm(foot.abs(), 1),
            " ",
            way,
            " than a line square to the face."
        ]];
        if !through {
            work.push(sentence![
                "Set the mitre fence with the wedge or the stack; the blade stays below the cheek's line."
            ]);
        }
        work.push(self.over_base());
        Step {
            numbers: self.numbers(&[
                "shoulder_angle",
                "mitre",
                if raked { "shoulder_wedge" } else { "pitch_wedge" },
                if raked { "shoulder_stack" } else { "pitch_stack" },
                "blade_height",
                "foot_along_board",
                "foot_from_square",
            ]),
            // nothing is trimmed where the wings are glued against it
            leave_on: (!through).then(|| {
                sentence![
                    mm(SHOULDER_PROUD, 1),
                    " on the shoulder, toward the tenon's end: it is trimmed last."
                ]
            }),
            check: Some(BenchCheck {
                measure: "Shoulder against glue face, on both sides",
                with: "a bevel set on the jig's wedge",
                reads: sentence![degrees(self.value("shoulder_angle"), 2)],
                otherwise: sentence![
                    "Shim the mitre fence: ",
                    mm(SHIM, 1),
                    " over ",
                    mm(base, 0),
                    " turns it by ",
                    degrees((SHIM / base).atan().to_degrees(), 2),
                    ". Both sides must meet in one plane."
                ],
            }),
            cautions: vec![care::JIG, care::UNPLUG],
            ..step(
                "shoulders",
                if through { "Saw the shoulders" } else { "Saw the shoulders, proud" },
                work,
            )
        }
    }

    pub(super) fn rough_cheeks(&self) -> Step {
        let rough = self.design.joint.rough_cheeks.to_mm();
        Step {
            numbers: self.numbers(&["rough_width", "shoulder_width", "cheek_angle"]),
            leave_on: Some(sentence![
                mm(rough, 1),
                " on both cheeks together, ",
                mm(rough / 2.0, 1),
                " each."
            ]),
            check: Some(BenchCheck {
                measure: "Both cheeks from the neck's centre line",
                with: "a marking gauge or calliper",
                reads: sentence![mm(self.value("rough_width") / 2.0, 1), " on either side"],
                otherwise: sentence![
                    "Take the difference off the fuller side while there is wood to spare."
                ],
            }),
            cautions: vec![care::JIG],
            ..step(
                "rough_cheeks",
                "Rough the cheeks, proud",
                vec![sentence![
                    "Saw away both sides down to the rough tenon, ",
                    mm(self.value("rough_width"), 1),
                    " wide and centred on the neck's centre line."
                ]],
            )
        }
    }
}
