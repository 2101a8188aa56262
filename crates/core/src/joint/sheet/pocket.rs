//! Steps on pocket and tenon, from the pocket's sides to the butt.

use super::{Bench, BenchCheck, Step, care, step};
use crate::design::JointKind;
use crate::sentence::{Sentence, degrees, mm, sentence};

/// What is left on the floor when the sides are cut, mm (common practice, no source).
const FLOOR_PROUD: f64 = 1.0;

impl Bench<'_> {
    /// What to mind where the pocket is deeper than the cutter reaches.
    fn reach(&self) -> Option<Sentence> {
        let (deep, reach) = (self.value("deepest_cut"), self.design.joint.cutter_reach.to_mm());
        (deep > reach).then(|| {
            sentence![
                "The cutter reaches ",
                mm(reach, 1),
                ", the pocket is ",
                mm(deep, 1),
                " deep: finish the last ",
                mm(deep - reach, 1),
                " with a longer cutter or by chisel."
            ]
        })
    }

    pub(super) fn pocket_sides(&self) -> Step {
        let width = self.value("pocket_width");
        let mut work = vec![sentence![
            "Cut the pocket's sides along a template, ",
            mm(width, 2),
            " apart and centred on the body's centre line, in passes, the end short of its line."
        ]];
        work.extend(self.reach());
        Step {
            numbers: self.numbers(&["pocket_width", "corner_radius", "deepest_cut"]),
            leave_on: Some(sentence![
                mm(FLOOR_PROUD, 1),
                " on the floor, and the end short by a cutter's width."
            ]),
            check: Some(BenchCheck {
                measure: "The pocket's width at mouth and end, top and floor",
                with: "a calliper's inner jaws",
                reads: sentence![mm(width, 2), " everywhere"],
                otherwise: sentence![
                    "Narrow: shift the template. Wide: the tenon can still be left wider, it is fitted next."
                ],
            }),
            cautions: vec![care::UNPLUG, care::ROTATION],
            ..step("pocket_sides", "Cut the pocket's sides", work)
        }
    }

    pub(super) fn socket(&self) -> Step {
        let mut work = vec![sentence![
            "Cut the socket's sides along a template at ",
            degrees(self.value("cheek_angle"), 1),
            " to the centre line, ",
            mm(self.value("pocket_width"), 2),
            " apart at the mouth and wider toward the end."
        ]];
        work.extend(self.reach());
        Step {
            numbers: self.numbers(&[
                "pocket_width",
                "cheek_angle",
                "pocket_length_spare",
                "corner_radius",
                "deepest_cut",
            ]),
            leave_on: Some(sentence![mm(FLOOR_PROUD, 1), " on the floor."]),
            check: Some(BenchCheck {
                measure: "Both sides against the centre line",
                with: "a bevel, and a calliper at the mouth",
                reads: sentence![degrees(self.value("cheek_angle"), 1), " on either side"],
                otherwise: sentence![
                    "Pare the side that is off now: the tenon's flanks are fitted to this socket."
                ],
            }),
            cautions: vec![care::UNPLUG, care::ROTATION],
            ..step("socket", "Cut the socket", work)
        }
    }

    pub(super) fn cheeks(&self) -> Step {
        let (work, title) = if self.design.joint.kind == JointKind::Screwed {
            let words = sentence![
                "Bring the heel's sides down until it drops into the pocket without play; round its end to the pocket's corners."
            ];
            (words, "Fit the heel to the pocket")
        } else {
            let words = sentence![
                "Take the cheeks down evenly until the tenon goes in by hand and holds by friction, with room for a film of glue; round its end to the pocket's corners."
            ];
            (words, "Fit the cheeks")
        };
        Step {
            numbers: self.numbers(&["tenon_width", "pocket_width", "corner_radius"]),
            leave_on: None,
            check: Some(BenchCheck {
                measure: "The fit, and the tenon's width",
                with: "the hand, and a calliper",
                reads: sentence![
                    "it slides in without force and does not fall out; ",
                    mm(self.value("tenon_width"), 2),
                    " wide"
                ],
                otherwise: sentence![
                    "Tight: chalk the pocket and scrape where it marks. Loose: glue a veneer to both cheeks and fit again."
                ],
            }),
            cautions: vec![care::JIG],
            ..step("cheeks", title, vec![work])
        }
    }

    pub(super) fn flanks(&self) -> Step {
        Step {
            numbers: self.numbers(&["cheek_angle", "tenon_width", "tenon_width_inner"]),
            leave_on: Some(sentence![
                "A shaving: the dovetail is finished together with the shoulder, and tightens as it goes down."
            ]),
            check: Some(BenchCheck {
                measure: "How far it goes down",
                with: "chalk on the socket's sides",
                reads: sentence![
                    "it closes on both flanks along their whole length as it reaches the floor"
                ],
                otherwise: sentence![
                    "Pare where it marks. If it goes down loose, glue a veneer to both flanks."
                ],
            }),
            ..step(
                "flanks",
                "Fit the flanks",
                vec![sentence![
                    "Pare both flanks to the socket, a little at a time and both alike, so that the neck's aim stays."
                ]],
            )
        }
    }

    pub(super) fn floor(&self) -> Step {
        let slope = self.value("floor");
        let mouth = self.value("pocket_depth");
        let end = self.value("pocket_depth_tenon");
        let lie = if slope.abs() < 0.005 {
            sentence!["Cut the floor parallel to the top datum, ", mm(mouth, 1), " deep."]
        } else {
            sentence![
                "Cut the floor at ",
                degrees(slope, 2),
                " to the top datum: ",
                mm(mouth, 1),
                " deep at the mouth, ",
                mm(end, 1),
                " where the tenon ends."
            ]
        };
        let mut work = vec![lie];
        if self.design.body.taper.to_degrees() != 0.0 {
            work.push(sentence![
                "With the body lying on its back, set the jig to ",
                degrees(self.value("floor_to_back"), 2),
                ": the back is not parallel to the datum."
            ]);
        }
        if slope.abs() >= 0.005 {
            work.push(self.over_base());
        }
        work.extend(self.reach());
        Step {
            numbers: self.numbers(&[
                "pocket_depth",
                "pocket_depth_tenon",
                "floor",
                "floor_wedge",
                "floor_stack",
                "floor_to_back",
                "back_wedge",
                "wood_under",
            ]),
            check: Some(BenchCheck {
                measure: "Depth below the top datum at the mouth and where the tenon ends",
                with: "a depth gauge on a bar across the pocket",
                reads: sentence![mm(mouth, 1), " and ", mm(end, 1)],
                otherwise: sentence![
                    "Shallow: another pass. Deep: leave as much more on the tenon's bottom, or glue in a veneer."
                ],
            }),
            cautions: vec![care::UNPLUG, care::ROTATION],
            ..step("floor", "Cut the pocket's floor", work)
        }
    }

    pub(super) fn tenon_bottom(&self) -> Step {
        let (heel, inner) = (self.value("heel_thickness"), self.value("tenon_inner"));
        Step {
            numbers: self.numbers(&[
                "heel_thickness",
                "tenon_inner",
                "depth_mouth",
                "depth_inner",
                "bottom_angle",
                "bottom_wedge",
            ]),
            leave_on: Some(sentence![
                mm(0.3, 1),
                " for the trial fit: this face sets pitch and overstand."
            ]),
            check: Some(BenchCheck {
                measure: "Thickness from the glue face, square to it, at shoulder and butt",
                with: "a calliper",
                reads: sentence![mm(heel, 1), " and ", mm(inner, 1)],
                otherwise: sentence![
                    "Thick: plane on. Thin: glue a veneer to the whole bottom, never to a part of it."
                ],
            }),
            cautions: vec![care::JIG],
            ..step(
                "tenon_bottom",
                "Cut the tenon's bottom",
                vec![sentence![
                    "Cut the bottom at ",
                    degrees(self.value("bottom_angle"), 2),
                    " to the glue face, flat across."
                ]],
            )
        }
    }

    pub(super) fn pocket_length(&self) -> Step {
        let spare = self.design.joint.spare_length.to_mm();
        let long = self.value("pocket_length_spare");
        let work = if spare > 0.0 {
            sentence![
                "Cut the end ",
                mm(spare, 1),
                " beyond the tenon's: every recut of the shoulder uses some of it."
            ]
        } else {
            sentence![
                "Cut the end where the tenon's will be. No spare length is left: no recut of the shoulder can be taken up."
            ]
        };
        Step {
            numbers: self.numbers(&[
                "pocket_length_spare",
                "pocket_length",
                "corner_radius",
                "wood_to_cavity",
            ]),
            check: Some(BenchCheck {
                measure: "End wall to the pocket's end, on the centre line",
                with: "a rule against the end wall",
                reads: sentence![mm(long, 1)],
                otherwise: sentence![
                    "Short: cut on. Long: it does not matter, as long as wood is left behind it."
                ],
            }),
            cautions: vec![care::UNPLUG, care::ROTATION],
            ..step("pocket_length", "Cut the pocket to length", vec![work])
        }
    }

    pub(super) fn butt(&self) -> Step {
        // the shoulder lies in the raked wall, the butt does not
        let (setting, jig): (_, &[&str]) = if self.design.joint.wall_rake.to_degrees() == 0.0 {
            ("Cut the tenon's end at the shoulder's setting, ", &[])
        } else {
            (
                "Set the saw anew, not as for the shoulder. Cut the tenon's end at ",
                &["pitch_wedge", "pitch_stack"],
            )
        };
        let length = ["along_underside", "along_bottom", "fence_butt"];
        Step {
            numbers: self.numbers(&[&["butt_angle"], jig, &length].concat()),
            check: Some(BenchCheck {
                measure: "Shoulder to butt, along the glue face and along the bottom",
                with: "a rule",
                reads: sentence![
                    mm(self.value("along_underside"), 1),
                    " and ",
                    mm(self.value("along_bottom"), 1)
                ],
                otherwise: sentence![
                    "Long: cut again at the same setting. Short by less than a few millimetres: leave it, the cheeks and the seat carry the joint."
                ],
            }),
            cautions: vec![care::JIG],
            ..step(
                "butt",
                "Cut the butt",
                vec![sentence![
                    setting,
                    degrees(self.value("butt_angle"), 2),
                    " to the glue face: it stands square to the top datum."
                ]],
            )
        }
    }
}
