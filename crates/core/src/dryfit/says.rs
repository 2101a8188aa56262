//! Corrections in words.

use super::correction::{Correction, Kind, Least, Outcome, TRIM, crests};
use super::told::Told;
use crate::design::Design;
use crate::layout::Layout;
use crate::sentence::{Sentence, degrees, mm, sentence};

/// A miss beside the side view that is worth a correction: degrees (common practice, no
/// source).
const ASIDE: f64 = 0.1;

/// What readings say besides pitch and overstand.
pub(super) fn of_told(design: &Design, told: &Told) -> Vec<Sentence> {
    let mut all: Vec<Sentence> = told.contradiction.iter().map(|one| one.says.clone()).collect();
    if let Some((lean, error)) = told.roll {
        let side = if lean > 0.0 { "treble" } else { "bass" };
        all.push(if lean.abs().to_degrees() < ASIDE.max(2.0 * error.to_degrees()) {
            sentence!["The board does not lean across by more than its reading error."]
        } else {
            sentence![
                "The board stands higher on the ",
                side,
                " side by ",
                degrees(lean.abs().to_degrees(), 2),
                ": over the tenon's width the seat is ",
                mm((design.joint.tenon_width.to_mm() * lean.tan()).abs(), 2),
                " too high there. Put that right first."
            ]
        });
    }
    if let Some((aim, error)) = told.aim {
        let side = if aim > 0.0 { "treble" } else { "bass" };
        all.push(if aim.abs().to_degrees() < ASIDE.max(2.0 * error.to_degrees()) {
            sentence!["The neck points along the centre line within its reading error."]
        } else {
            sentence![
                "The centre line passes on the ",
                side,
                " side by ",
                degrees(aim.abs().to_degrees(), 2),
                ": ",
                mm((design.neck.width_heel.to_mm() * aim.tan()).abs(), 2),
                " off the shoulder at its ",
                side,
                " edge, tapering to nothing at the other, would turn it back."
            ]
        });
    }
    all
}

/// What a correction that cuts nothing comes to.
pub(super) fn bare(kind: Kind, outcome: &Outcome, plan: &Layout, cut: &Design) -> Vec<Sentence> {
    let (planned, now) = (plan.middle.crest_height, outcome.crest);
    let (treble, bass) = outcome.action;
    match kind {
        Kind::Nothing => vec![sentence![
            "With the saddle where it was planned, ",
            mm(now, 1),
            " high, the action is ",
            mm(treble, 2),
            " at the treble and ",
            mm(bass, 2),
            " at the bass."
        ]],
        Kind::Saddle => {
            let way = if now > planned { " higher" } else { " lower" };
            vec![sentence![
                "Set the saddle ",
                mm((now - planned).abs(), 2),
                way,
                " than planned: crest ",
                mm(now, 1),
                ", with ",
                mm(outcome.reserve.1, 1),
                " left up and ",
                mm(outcome.reserve.0, 1),
                " down."
            ]]
        }
        _ => {
            let needed = outcome.study.layout().map(crests).unwrap_or((now, now));
            let reserve = crate::verdict::CheckId::SaddleTravel.usual_limit().thin_below;
            let room = cut
                .limits
                .get(crate::verdict::CheckId::SaddleTravel.text())
                .and_then(|limit| limit.thin_below)
                .or(reserve)
                .unwrap_or(0.0);
            vec![sentence![
                "A bridge whose crest can be set from ",
                mm(needed.0 - room, 1),
                " to ",
                mm(needed.1 + room, 1),
                " at least; the middle string needs ",
                mm(now, 1),
                "."
            ]]
        }
    }
}

/// That a correction would be too large.
pub(super) fn too_much(kind: Kind, amount: f64, most: f64) -> Sentence {
    match kind {
        Kind::MoveJoint => sentence![
            "It would take ",
            mm(amount, 0),
            " of spare length, and ",
            mm(most, 1),
            " is left."
        ],
        Kind::Board => sentence![
            "The board would have to lose ",
            mm(amount, 1),
            ", and ",
            mm(most, 1),
            " can be had of it."
        ],
        _ => sentence![
            "It would take ",
            mm(amount, 1),
            ", more than the ",
            mm(most, 1),
            " that a seat bears: make the joint anew."
        ],
    }
}

/// Why a board is not made thicker.
pub(super) fn board_is_on() -> Sentence {
    sentence!["The board is on the neck: it can be planed thinner, not made thicker."]
}

/// What to do.
pub(super) fn of(
    one: &Correction,
    design: &Design,
    bridge_fixed: bool,
    board_on: bool,
) -> Vec<Sentence> {
    let mut all = wood(one, design, board_on);
    closing(one, &mut all);
    if one.spare_used() > TRIM {
        all.push(sentence![
            "That uses ",
            mm(one.spare_used(), 2),
            " of spare length and leaves ",
            mm(one.outcome.spare, 1),
            "."
        ]);
        all.push(if bridge_fixed {
            sentence![
                "The bridge stays: its compensation becomes ",
                mm(one.outcome.study.design.bridge.compensation.to_mm(), 2),
                "."
            ]
        } else {
            sentence![
                "The bridge line then lies ",
                mm(one.outcome.bridge_line, 1),
                " from the joint, the crest ",
                mm(one.outcome.crest_at, 1),
                "."
            ]
        });
    }
    all
}

fn wood(one: &Correction, design: &Design, board_on: bool) -> Vec<Sentence> {
    let amount = one.amount.map_or(0.0, |amount| amount.value);
    let length = design.joint.tenon_length.to_mm();
    let wedge = |thick: &'static str, thin: &'static str| {
        let from = match one.stock {
            Some(_) => {
                sentence!["Glue in a wedge planed from a veneer of ", mm(amount, 1), ": full"]
            }
            None => sentence!["Glue in a wedge ", mm(amount, 2), " thick"],
        };
        let mut all = from;
        all.0.extend(
            sentence![
                " at the ",
                thick,
                ", tapering to nothing at the ",
                thin,
                ", ",
                mm(length, 1),
                " away."
            ]
            .0,
        );
        vec![all]
    };
    let off = |thick: &'static str, thin: &'static str| {
        vec![sentence![
            "Take ",
            mm(amount, 2),
            " off the floor (or the tenon's bottom) at the ",
            thick,
            ", tapering to nothing at the ",
            thin,
            ", ",
            mm(length, 1),
            " away."
        ]]
    };
    match one.kind {
        Kind::WedgeInner => wedge("inner end", "mouth"),
        Kind::WedgeMouth => wedge("mouth", "inner end"),
        Kind::Veneer => {
            let digits = if one.stock.is_some() { 1 } else { 2 };
            vec![sentence!["Glue a veneer ", mm(amount, digits), " thick all over the seat."]]
        }
        Kind::MouthOff => off("mouth", "inner end"),
        Kind::InnerOff => off("inner end", "mouth"),
        Kind::EvenOff => vec![sentence![
            "Take ",
            mm(amount, 2),
            " off the floor (or the tenon's bottom) all over."
        ]],
        Kind::BothEnds => {
            let end = |by: f64| if by < 0.0 { " off" } else { " put on" };
            vec![sentence![
                "Seat brought to the plan: ",
                mm(one.cut.mouth.abs(), 2),
                end(one.cut.mouth),
                " at the mouth, ",
                mm(one.cut.inner.abs(), 2),
                end(one.cut.inner),
                " at the inner end, straight between."
            ]]
        }
        Kind::Board => {
            let thickness = one.outcome.study.design.board.thickness.to_mm();
            if board_on {
                return vec![sentence![
                    "Plane ",
                    mm(amount, 2),
                    " off the board as it is on the neck, to ",
                    mm(thickness, 2),
                    "; where it is fretted, pull the frets first."
                ]];
            }
            let way = if amount > 0.0 { " less: " } else { " more: " };
            vec![sentence!["A board of ", mm(amount.abs(), 2), way, mm(thickness, 2), " thick."]]
        }
        Kind::MoveJoint => vec![sentence![
            "Set the whole shoulder back by ",
            mm(amount, 2),
            " and move the neck toward the bridge. The frets keep their spacing."
        ]],
        Kind::Nothing | Kind::Saddle | Kind::Bridge | Kind::Shoulder => Vec::new(),
    }
}

/// How the shoulder closes again.
fn closing(one: &Correction, all: &mut Vec<Sentence>) {
    let (top, foot) = (one.closing.top_off, one.closing.foot_off);
    let seat = one.cut.mouth != 0.0 || one.cut.inner != 0.0;
    let opens = |end: &'static str| {
        if seat {
            sentence!["The shoulder then stands open at its ", end, ": take "]
        } else {
            sentence!["The shoulder stands open at its ", end, ": take "]
        }
    };
    if foot > TRIM {
        let mut says = opens("top");
        says.0.extend(sentence![mm(foot, 2), " off its foot, tapering to nothing at its top."].0);
        all.push(says);
    } else if top > TRIM {
        let mut says = opens("foot");
        says.0.extend(sentence![mm(top, 2), " off its top, tapering to nothing at its foot."].0);
        all.push(says);
    } else if seat {
        all.push(sentence!["The shoulder stays closed."]);
    }
}

/// Usual care where someone is told to cut.
pub const CAUTIONS: [&str; 5] = [
    "Protect eyes, ears and lungs. Hold small parts in a jig, never by hand near a blade or cutter.",
    "Cut against the cutter's rotation. Unplug before changing a cutter or blade.",
    "A strung instrument holds several hundred newtons: slacken the strings first.",
    "Take half, fit, and read again before the other half.",
    "The machine's manual, local rules and a trained person's word stand over this.",
];

impl Least {
    /// How much it is.
    pub fn says(&self) -> Sentence {
        if self.amount == 0.0 {
            return sentence!["Every check is good without it."];
        }
        sentence!["The least that brings every check to good: ", mm(self.amount.abs(), 2), "."]
    }
}

/// How it is read.
pub fn how_to_read() -> Sentence {
    sentence![
        "Straighten the board first: a bow of ",
        mm(0.05, 2),
        " reads some ",
        mm(0.09, 2),
        " low at the bridge. Hold the shoulder shut, and read square to the top; by hand a pitch is cut true to ± ",
        degrees(super::predict::pitch_cut(), 2),
        "."
    ]
}
