//! Steps from the trial fit on.

use super::{Bench, BenchCheck, Step, care, step};
use crate::design::JointKind;
use crate::dimension::Dim;
use crate::sentence::{Sentence, mm, sentence};

/// What is planed off at a time when the seat is corrected, mm.
const SHAVING: f64 = 0.1;
/// Least wood left between a screw's hole and the board, mm (common practice, no source).
const SCREW_COVER: f64 = 2.0;

impl Bench<'_> {
    /// What a shaving off one end of the seat is worth at the crest.
    fn seat_correction(&self) -> Sentence {
        let ratio = self.layout.straightedge.x / self.design.joint.tenon_length.to_mm();
        sentence![
            "Low: plane the tenon's bottom at its mouth end, tapering to nothing; each ",
            mm(SHAVING, 1),
            " lifts the reading by ",
            mm(SHAVING * (ratio - 1.0), 2),
            ". High: plane it at its inner end; each ",
            mm(SHAVING, 1),
            " lowers it by ",
            mm(SHAVING * ratio, 2),
            "."
        ]
    }

    pub(super) fn trial_fit(&self) -> Step {
        let through = self.design.joint.kind == JointKind::Through;
        let work = if through {
            sentence![
                "Lay a straightedge on the neck's face, or on the board if it is on, over the bridge's place. Read its height over the top, square to it."
            ]
        } else {
            sentence![
                "Press the neck onto the floor, dry and with the rod slack. Lay a straightedge on the neck's face, or on the board if it is on, over the bridge's place. Read its height over the top, square to it."
            ]
        };
        let mut works = vec![work];
        if !through {
            works.push(sentence![
                "First take off evenly what was left on the tenon's bottom: the reading falls by as much."
            ]);
        }
        let otherwise = if through {
            sentence!["Low: plane the core's top toward the tail. High: plane it toward the joint."]
        } else {
            self.seat_correction()
        };
        let reads = match self.reading("", "reads_neck") {
            Some(reading) => {
                sentence![mm(reading.value, 1), " on the neck's face, ± ", mm(reading.tolerance, 1)]
            }
            None => Sentence::default(),
        };
        let readings = [("the bare neck face", "reads_neck"), ("the board", "reads_board")];
        Step {
            numbers: self.numbers(&["pitch", "pitch_at_top"]),
            check: Some(BenchCheck {
                measure: "Straightedge over the top at the crest's place",
                with: "a straightedge and a rule or height gauge",
                reads,
                otherwise,
            }),
            readings: readings.iter().filter_map(|(on, id)| self.reading(on, id)).collect(),
            ..step("trial_fit", "Trial fit with the straightedge", works)
        }
    }

    pub(super) fn aim(&self) -> Step {
        let (work, otherwise) = if self.design.joint.kind == JointKind::Through {
            (
                "Before the wings are glued on, see that the core neither rolls to one side nor points off the centre line.",
                "Roll: plane the core's top across. Aim: plane the core's sides until they lie alike about the centre line.",
            )
        } else {
            (
                "Before the shoulder is trimmed, see that the neck neither rolls to one side nor points off the centre line.",
                "Roll: plane the seat across. Aim: shave one cheek, and close the shoulder by trimming its other side.",
            )
        };
        Step {
            check: Some(BenchCheck {
                measure: "Roll and side aim, which no side view shows",
                with: "winding sticks on board and bridge place; a straightedge along both edges of the neck",
                reads: sentence![
                    "no wind between the sticks, and both edges pass the bridge line equally far from the centre line"
                ],
                otherwise: sentence![otherwise],
            }),
            ..step("aim", "Check roll and side aim", vec![sentence![work]])
        }
    }

    pub(super) fn trim_shoulder(&self) -> Step {
        let spare = self.design.joint.spare_length.to_mm();
        let mut work = vec![sentence![
            "Trim the shoulder with shavings until it closes on the end wall all round while the seat touches."
        ]];
        if self.design.joint.overstand.to_mm() > 0.05 {
            work.push(sentence![
                "It stands ",
                mm(self.design.joint.overstand.to_mm(), 1),
                " over the top: ",
                mm(self.value("shoulder_bears"), 1),
                " of it bears on the body."
            ]);
        }
        let room = if spare > 0.0 {
            sentence![mm(spare, 1), " can come off in all."]
        } else {
            sentence!["the pocket has no spare length for it."]
        };
        let mut otherwise = sentence![
            "Open at the top: take wood off the foot, nothing at the top. Open at the foot: off the top. What comes off moves the bridge line toward the tail; "
        ];
        otherwise.0.extend(room.0);
        let readings = [("the bare neck face", "reads_neck"), ("the board", "reads_board")];
        Step {
            numbers: self.numbers(&["shoulder_angle", "shoulder_bears", "fence_shoulder"]),
            check: Some(BenchCheck {
                measure: "The gap between shoulder and end wall; nut to bridge line",
                with: "a feeler of thin paper; a long rule",
                reads: sentence![
                    "no paper goes in; the scale length is ",
                    mm(self.design.scale.length.to_mm(), 1)
                ],
                otherwise,
            }),
            readings: readings.iter().filter_map(|(on, id)| self.reading(on, id)).collect(),
            ..step("trim_shoulder", "Trim the shoulder", work)
        }
    }

    pub(super) fn board_end(&self) -> Step {
        let joint = &self.design.joint;
        let gap = self.layout.board_end_gap;
        let wedge = joint.wedge_length.to_mm();
        let work = if wedge > 0.0 {
            sentence![
                "Fit a wedge ",
                mm(wedge, 1),
                " long under the board's end, ",
                mm(joint.wedge_height.to_mm(), 1),
                " high at its end, to the gap of ",
                mm(gap, 1),
                "."
            ]
        } else if gap < 0.3 {
            sentence![
                "The tenon ends before the board: bed the board's end on the top, without bending it up or down."
            ]
        } else {
            sentence![
                "The tenon ends before the board: its end hangs ",
                mm(gap, 1),
                " over the top. Leave enough of the neck's wood under it, or fit a wedge."
            ]
        };
        Step {
            check: Some(BenchCheck {
                measure: "Gap under the board's end",
                with: "feelers or a slip of wood",
                reads: sentence![mm(self.layout.outcome(Dim::BoardEndGap).unwrap_or(gap), 1)],
                otherwise: sentence![
                    "Shave the wedge or the top until the board lies straight: a board pulled down or pushed up bends at the joint fret."
                ],
            }),
            ..step("board_end", "Bed the board's end", vec![work])
        }
    }

    pub(super) fn screw_holes(&self) -> Step {
        let joint = &self.design.joint;
        let (bite, cover) = (self.value("screw_bite"), self.value("screw_cover"));
        let mut work = vec![
            sentence![
                "Drill ",
                usize::from(joint.screw_count),
                " holes of ",
                mm(joint.screw_diameter.to_mm(), 1),
                " through the body, their middle ",
                mm(joint.screw_station.to_mm(), 1),
                " from the joint: the screws pass without thread."
            ],
            sentence![
                "Clamp the neck on its aim, mark through the holes, and drill the heel for the thread. Wax the screws."
            ],
        ];
        if bite <= 0.0 {
            work.push(sentence![
                "These screws do not reach the heel: they are ",
                mm(-bite, 1),
                " too short to touch it. Use longer ones."
            ]);
        } else if cover <= 0.0 {
            work.push(sentence![
                "These screws are too long: their tips come through the heel into the board by ",
                mm(-cover, 1),
                ". Use shorter ones."
            ]);
        } else if cover < SCREW_COVER {
            work.push(sentence![
                "The tips of these screws come within ",
                mm(cover, 1),
                " of the board. Use shorter ones."
            ]);
        }
        // a hole is a little deeper than its screw, and never nearer to the board than that
        let hole = (bite + 1.0).min(bite + cover - SCREW_COVER).max(0.0);
        Step {
            numbers: self.numbers(&["screw_bite", "screw_cover"]),
            check: Some(BenchCheck {
                measure: "Depth of the holes in the heel, from its bottom",
                with: "a drill stop, set before drilling",
                reads: sentence![mm(hole, 1), " at most"],
                otherwise: sentence!["Shorter screws, or washers under their heads."],
            }),
            readings: self.reading("the board", "reads_board").into_iter().collect(),
            cautions: vec![care::JIG],
            ..step("screw_holes", "Drill and screw", work)
        }
    }

    pub(super) fn wings(&self) -> Step {
        Step {
            check: Some(BenchCheck {
                measure: "The core's top against the wings",
                with: "a straightedge across",
                reads: sentence!["no step at either seam"],
                otherwise: sentence!["Plane the wings to the core, never the core to the wings."],
            }),
            readings: self.reading("the bare neck face", "reads_neck").into_iter().collect(),
            ..step(
                "wings",
                "Glue on the wings",
                vec![sentence![
                    "Plane the core's sides and the wings straight and square. Glue them on with the tops level."
                ]],
            )
        }
    }

    pub(super) fn glue(&self) -> Step {
        Step {
            check: Some(BenchCheck {
                measure: "Straightedge over the top, once more with the clamps on",
                with: "a straightedge and a rule or height gauge",
                reads: sentence!["the same as before gluing"],
                otherwise: sentence!["Take it apart at once and clean it: glue is final."],
            }),
            readings: [("the bare neck face", "reads_neck"), ("the board", "reads_board")]
                .iter()
                .filter_map(|(on, id)| self.reading(on, id))
                .collect(),
            ..step(
                "glue",
                "Glue the neck in",
                vec![sentence![
                    "Clamp it dry once, with cauls that press square to the floor. Then glue cheeks, seat and shoulder, and clamp the seat first."
                ]],
            )
        }
    }

    pub(super) fn board_on(&self) -> Step {
        let fretted = self.layout.is_fretted();
        let work = if fretted {
            sentence!["With the board on, level it, fret it and level the crowns."]
        } else {
            sentence!["With the board on, level it."]
        };
        Step {
            readings: [("the board", "reads_board"), ("the crowns", "reads_crowns")]
                .iter()
                .filter_map(|(on, id)| self.reading(on, id))
                .collect(),
            check: Some(BenchCheck {
                measure: "Straightedge over the top at the crest's place",
                with: "a straightedge and a rule or height gauge, neck straight and unstrung",
                reads: sentence!["as below"],
                otherwise: sentence![
                    "Enter the reading: the saddle can still take what lies within its travel."
                ],
            }),
            cautions: vec![care::STRUNG],
            ..step(
                "board_on",
                if fretted { "Level board and crowns" } else { "Level the board" },
                vec![work],
            )
        }
    }
}
