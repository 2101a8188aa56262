//! Choices between kinds of a part: the counterpart of the table of dimensions for
//! what is not a number.

use crate::design::{
    ArchPoint, BoardShape, BridgeKind, Design, FloorKind, HeadFrom, HeadShape, JointKind, Nut,
    Tail, Top,
};
use crate::dimension::Part;
use crate::units::{Angle, Length};

/// A part that comes in several kinds.
pub struct Choice {
    /// Its key, as in `--set bridge.kind=posts`.
    pub key: &'static str,
    /// Its name on screen.
    pub name: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// What can be chosen: (as written, as shown).
    pub options: &'static [(&'static str, &'static str)],
    get: fn(&Design) -> &'static str,
    set: fn(&mut Design, &str),
}

impl std::fmt::Debug for Choice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Choice").field("key", &self.key).finish_non_exhaustive()
    }
}

/// An option that there is not.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{key}: there is no `{text}`, expected one of {expected}")]
pub struct UnknownOption {
    /// The choice.
    pub key: &'static str,
    /// What was written.
    pub text: String,
    /// What there is.
    pub expected: String,
}

impl Choice {
    /// All choices.
    pub fn all() -> &'static [Self] {
        &ALL
    }

    /// The choice of that key.
    pub fn parse(key: &str) -> Option<&'static Self> {
        ALL.iter().find(|choice| choice.key == key)
    }

    /// The part it is a kind of.
    pub fn part(&self) -> Part {
        match self.key.split_once('.') {
            Some(("joint", _)) => Part::Joint,
            Some(("neck", _)) => Part::Neck,
            Some(("nut", _)) => Part::Nut,
            Some(("board", _)) => Part::Board,
            Some(("bridge", _)) => Part::Bridge,
            Some(("tail", _)) => Part::Tail,
            Some(("head", _)) => Part::Head,
            _ => Part::Body,
        }
    }

    /// What a design has chosen, as written.
    pub fn get(&self, design: &Design) -> &'static str {
        (self.get)(design)
    }

    /// Chooses. What the old and the new kind have in common is kept; the rest takes
    /// usual values from the parts around it. Choosing what stands changes nothing.
    ///
    /// # Errors
    /// [`UnknownOption`] if there is no such option.
    pub fn set(&self, design: &mut Design, text: &str) -> Result<(), UnknownOption> {
        if !self.options.iter().any(|(option, _)| *option == text) {
            let options: Vec<&str> = self.options.iter().map(|(option, _)| *option).collect();
            return Err(UnknownOption {
                key: self.key,
                text: text.chars().take(60).collect(),
                expected: options.join(", "),
            });
        }
        if self.get(design) != text {
            (self.set)(design, text);
            drop_what_is_gone(design);
        }
        Ok(())
    }
}

/// Forgets found keys, targets and marks of dimensions that the design no longer has.
pub(crate) fn drop_what_is_gone(design: &mut Design) {
    let has = |design: &Design, text: &str| {
        crate::dimension::Key::parse(text).is_ok_and(|key| key.get(design).is_some())
    };
    let gone: Vec<String> = design
        .found
        .iter()
        .chain(design.marks.keys())
        .filter(|text| !has(design, text))
        .cloned()
        .collect();
    for text in gone {
        design.found.remove(&text);
        design.marks.remove(&text);
    }
    if matches!(design.tail, Tail::Wrapped) {
        design.targets.remove("tail.break_angle");
    }
}

static ALL: [Choice; 9] = [
    Choice {
        key: "joint.kind",
        name: "Joint kind",
        meaning: "How neck and body are joined.",
        options: &[
            ("tenon", "Glued tenon"),
            ("dovetail", "Dovetail"),
            ("screwed", "Screwed pocket"),
            ("through", "Through neck"),
        ],
        get: |design| match design.joint.kind {
            JointKind::Tenon => "tenon",
            JointKind::Dovetail { .. } => "dovetail",
            JointKind::Screwed => "screwed",
            JointKind::Through => "through",
        },
        set: |design, text| {
            design.joint.kind = match text {
                "dovetail" => JointKind::Dovetail { flank: Angle::degrees(8.0) },
                "screwed" => JointKind::Screwed,
                "through" => JointKind::Through,
                _ => JointKind::Tenon,
            };
        },
    },
    Choice {
        key: "joint.floor_kind",
        name: "Floor lies",
        meaning: "Whether the pocket's floor has an angle of its own or takes one.",
        options: &[
            ("free", "At its own angle"),
            ("top", "Parallel to the top datum"),
            ("board", "Parallel to the board"),
        ],
        get: |design| match design.joint.floor_kind {
            FloorKind::Free => "free",
            FloorKind::ParallelToTop => "top",
            FloorKind::ParallelToBoard => "board",
        },
        set: |design, text| {
            (design.joint.floor_kind, design.joint.floor) = match text {
                "top" => (FloorKind::ParallelToTop, Angle::degrees(0.0)),
                "board" => (FloorKind::ParallelToBoard, design.joint.pitch),
                _ => (FloorKind::Free, design.joint.floor),
            };
        },
    },
    Choice {
        key: "neck.head_from",
        name: "Headstock from",
        meaning: "How the headstock comes out of the blank.",
        options: &[("one_piece", "One piece with the neck"), ("scarf", "Scarf joint")],
        get: |design| match design.neck.head_from {
            HeadFrom::OnePiece => "one_piece",
            HeadFrom::Scarf => "scarf",
        },
        set: |design, text| {
            design.neck.head_from =
                if text == "scarf" { HeadFrom::Scarf } else { HeadFrom::OnePiece };
        },
    },
    Choice {
        key: "nut.kind",
        name: "Nut",
        meaning: "What the open strings rest on at the head end.",
        options: &[("filed", "Filed nut"), ("zero_fret", "Zero fret")],
        get: |design| match design.nut {
            Nut::Filed => "filed",
            Nut::ZeroFret { .. } => "zero_fret",
        },
        set: |design, text| {
            design.nut = match text {
                "zero_fret" => Nut::ZeroFret {
                    // on a board without frets it still stands over the board
                    height: Length::mm((design.board.crown.to_mm() + 0.1).max(0.3)),
                },
                _ => Nut::Filed,
            };
        },
    },
    Choice {
        key: "board.shape",
        name: "Board surface",
        meaning: "The board's surface across the strings.",
        options: &[("flat", "Flat"), ("fixed", "One radius"), ("compound", "Compound radius")],
        get: |design| match design.board.shape {
            BoardShape::Flat => "flat",
            BoardShape::Fixed { .. } => "fixed",
            BoardShape::Compound { .. } => "compound",
        },
        set: |design, text| {
            let (nut, end) = match design.board.shape {
                BoardShape::Flat => (Length::mm(300.0), Length::mm(300.0)),
                BoardShape::Fixed { radius } => (radius, radius),
                BoardShape::Compound { radius_nut, radius_end } => (radius_nut, radius_end),
            };
            design.board.shape = match text {
                "fixed" => BoardShape::Fixed { radius: nut },
                "compound" => BoardShape::Compound { radius_nut: nut, radius_end: end },
                _ => BoardShape::Flat,
            };
        },
    },
    Choice {
        key: "bridge.kind",
        name: "Bridge kind",
        meaning: "How the bridge carries the strings.",
        options: &[
            ("plate", "Plate, a saddle each"),
            ("posts", "Two posts, one crest"),
            ("wrapped", "Strings wrapped over"),
            ("floating", "Floating on the top"),
            ("glued", "Glued, saddle in a slot"),
        ],
        get: |design| match design.bridge.kind {
            BridgeKind::Plate { .. } => "plate",
            BridgeKind::Posts { .. } => "posts",
            BridgeKind::Wrapped { .. } => "wrapped",
            BridgeKind::Floating { .. } => "floating",
            BridgeKind::Glued { .. } => "glued",
        },
        set: set_bridge,
    },
    Choice {
        key: "tail.kind",
        name: "Tail",
        meaning: "Where the strings end behind the bridge.",
        options: &[
            ("at_bridge", "In the bridge"),
            ("stop", "Stop tail"),
            ("through", "Through the body"),
            ("hung", "Hung from the end"),
            ("wrapped", "Wrapped over the bridge"),
        ],
        get: |design| match design.tail {
            Tail::AtBridge { .. } => "at_bridge",
            Tail::Stop { .. } => "stop",
            Tail::Through { .. } => "through",
            Tail::Hung { .. } => "hung",
            Tail::Wrapped => "wrapped",
        },
        set: set_tail,
    },
    Choice {
        key: "head.shape",
        name: "Headstock",
        meaning: "How the headstock's face lies to the board.",
        options: &[("tilted", "Tilted"), ("stepped", "Stepped")],
        get: |design| match design.head.shape {
            HeadShape::Tilted { .. } => "tilted",
            HeadShape::Stepped => "stepped",
        },
        set: |design, text| {
            design.head.shape = match text {
                "tilted" => HeadShape::Tilted { angle: Angle::degrees(12.0) },
                _ => HeadShape::Stepped,
            };
        },
    },
    Choice {
        key: "body.top",
        name: "Body top",
        meaning: "The body's top along the centre line.",
        options: &[
            ("flat", "Flat"),
            ("ramp", "Ramp under the board"),
            ("arch", "Arch by points"),
            ("dome", "Dome"),
        ],
        get: |design| match design.body.top {
            Top::Flat => "flat",
            Top::Ramp { .. } => "ramp",
            Top::Arch { .. } => "arch",
            Top::Dome { .. } => "dome",
        },
        set: set_top,
    },
];

fn set_bridge(design: &mut Design, text: &str) {
    let (crest_low, crest_high) = design.bridge.kind.crest_range();
    let outer = design.strings.first().zip(design.strings.last());
    let spread = outer.map_or(Length::mm(50.0), |(a, b)| a.crest_place - b.crest_place);
    let (crest_radius, post_spread) = design.bridge.kind.shared_crest().unwrap_or_else(|| {
        let radius = match design.board.shape {
            BoardShape::Flat => Length::mm(5000.0),
            BoardShape::Fixed { radius } => radius,
            BoardShape::Compound { radius_end, .. } => radius_end,
        };
        (radius, spread + Length::mm(22.0))
    });
    design.bridge.kind = match text {
        "posts" => BridgeKind::Posts { crest_low, crest_high, crest_radius, post_spread },
        "wrapped" => BridgeKind::Wrapped { crest_low, crest_high, crest_radius, post_spread },
        "floating" => BridgeKind::Floating { crest_low, crest_high, crest_radius, post_spread },
        "glued" => {
            let saddle_low = Length::mm(1.5);
            let thickness = Length::mm((crest_low - saddle_low).to_mm().clamp(2.0, 40.0));
            let saddle_high = Length::mm((crest_high - thickness).to_mm().clamp(2.0, 25.0));
            BridgeKind::Glued { thickness, saddle_low, saddle_high }
        }
        _ => BridgeKind::Plate { crest_low, crest_high },
    };
}

fn set_tail(design: &mut Design, text: &str) {
    let crest = design.bridge.station;
    let half = design.bridge.crest_height / 2.0;
    let (station, height) = match design.tail {
        Tail::Stop { station, height, .. } | Tail::Hung { station, height } => (station, height),
        Tail::AtBridge { behind, height } => (crest + behind, height),
        Tail::Through { behind } => (crest + behind, half),
        Tail::Wrapped => (crest + Length::mm(50.0), half),
    };
    let behind = Length::mm((station - crest).to_mm().clamp(5.0, 400.0));
    design.tail = match text {
        "at_bridge" => Tail::AtBridge { behind, height },
        "stop" => Tail::Stop {
            station,
            height,
            low: height - Length::mm(4.0),
            high: height + Length::mm(8.0),
        },
        "through" => Tail::Through { behind },
        "hung" => Tail::Hung { station, height },
        _ => Tail::Wrapped,
    };
}

fn set_top(design: &mut Design, text: &str) {
    let length = design.body.length;
    design.body.top = match text {
        "ramp" => Top::Ramp { angle: design.joint.pitch, length: Length::mm(100.0) },
        "arch" => Top::Arch {
            points: [(0.0, 0.0), (0.25, 8.0), (0.5, 12.0), (0.75, 9.0), (1.0, 0.0)]
                .map(|(part, z)| ArchPoint { x: length * part, z: Length::mm(z) })
                .to_vec(),
        },
        "dome" => Top::Dome { radius: Length::mm(7600.0), apex: length / 2.0 },
        _ => Top::Flat,
    };
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::worked_example;

    #[test]
    fn every_option_of_every_choice_makes_a_sound_design() {
        let mut fretless = worked_example();
        fretless.scale.frets = 0;
        fretless.board.crown = Length::mm(0.0);
        for (choice, from) in Choice::all()
            .iter()
            .flat_map(|choice| [worked_example(), fretless.clone()].map(|from| (choice, from)))
        {
            for (option, _) in choice.options {
                for (next, _) in choice.options {
                    let mut design = from.clone();
                    choice.set(&mut design, option).unwrap();
                    choice.set(&mut design, next).unwrap();
                    assert_eq!(choice.get(&design), *next);
                    assert_eq!(design.faults(), vec![], "{} {option} then {next}", choice.key);
                }
            }
            assert!(choice.set(&mut worked_example(), "velvet").is_err());
        }
    }
}
