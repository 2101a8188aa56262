//! The cut sheet: the steps of the work in a safe order, each with its numbers, what to
//! leave on, how to check it and what to do if it does not read so.

mod ends;
mod pocket;
mod steps;

use super::{Figure, JointFigures, is_short};
use crate::design::{Design, JointKind};
use crate::dimension::Dim;
use crate::layout::Layout;
use crate::risk::{Source, Tolerated};
use crate::sentence::{Sentence, mm, sentence};
use crate::units::{LengthStyle, Unit};

/// The steps of the work on one joint, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct CutSheet {
    /// The kind of joint, in sentence case.
    pub joint: &'static str,
    /// The steps.
    pub steps: Vec<Step>,
    /// What holds for every step.
    pub cautions: &'static [&'static str],
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its name, by which it is ticked.
    pub id: &'static str,
    /// What it is, in a few words.
    pub title: &'static str,
    /// What to do.
    pub work: Vec<Sentence>,
    /// The numbers it needs.
    pub numbers: Vec<Number>,
    /// What to leave on for fitting.
    pub leave_on: Option<Sentence>,
    /// How to see that it is right.
    pub check: Option<BenchCheck>,
    /// What the straightedge must read afterwards, where the step changes that.
    pub readings: Vec<Reading>,
    /// Usual care that this step needs.
    pub cautions: Vec<&'static str>,
    /// Whether it is ticked in the design.
    pub done: bool,
}

/// A number of a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// The figure it is, see [`JointFigures`].
    pub figure: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Its value, in its unit; of wedge and stack signed, see [`Self::raises`].
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Decimals that mean something.
    pub digits: usize,
    /// ± by which it may miss, in its unit; none where it only guides the eye.
    pub tolerance: Option<f64>,
}

/// A check at the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchCheck {
    /// What to measure.
    pub measure: &'static str,
    /// With what.
    pub with: &'static str,
    /// What it should read.
    pub reads: Sentence,
    /// What to do if it does not.
    pub otherwise: Sentence,
}

/// What a straightedge on the unstrung, straight neck must read over the top at the crest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What it lies on.
    pub on: &'static str,
    /// Where it is read, from the joint, mm.
    pub at: f64,
    /// What it must read, mm.
    pub value: f64,
    /// ± that follows from the usual tolerances of pitch and overstand, mm: the root of the
    /// sum of their squares.
    pub tolerance: f64,
}

/// Every step there is on some sheet, in the order of the work.
const STEPS: &[&str] = &[
    "blank",
    "mark_out",
    "rod_channel",
    "core",
    "shoulders",
    "rough_cheeks",
    "pocket_sides",
    "socket",
    "cheeks",
    "flanks",
    "floor",
    "tenon_bottom",
    "pocket_length",
    "butt",
    "trial_fit",
    "aim",
    "trim_shoulder",
    "board_end",
    "screw_holes",
    "wings",
    "glue",
    "board_on",
];

/// Whether a step of some sheet has that name.
pub(crate) fn is_step(text: &str) -> bool {
    STEPS.contains(&text)
}

/// Usual care (common practice) that holds for all of the work.
const CAUTIONS: &[&str] = &[
    "Protect eyes, ears and lungs.",
    "The machine's manual, local rules and a trained person's word stand over this sheet.",
];

/// Care that single steps need.
mod care {
    pub(super) const JIG: &str = "Hold small parts in a jig, never by hand near a blade or cutter.";
    pub(super) const ROTATION: &str = "Cut against the cutter's rotation.";
    pub(super) const UNPLUG: &str = "Unplug before changing a cutter or blade.";
    pub(super) const STRUNG: &str =
        "A strung instrument holds several hundred newtons: slacken the strings first.";
}

impl BenchCheck {
    /// What to measure, with what, and what it should read, in one sentence.
    pub fn show(&self, style: LengthStyle) -> String {
        let reads = self.reads.show(style);
        format!("{}, with {}: {}.", self.measure, self.with, reads.trim_end_matches('.'))
    }
}

impl CutSheet {
    /// The sheet of a closed design.
    pub fn of(design: &Design, layout: &Layout) -> Self {
        let figures = JointFigures::of(design, layout);
        let bench = Bench { design, layout, figures: &figures };
        let short = is_short(design, layout);
        let mut steps = vec![bench.blank(), bench.mark_out()];
        if design.neck.rod_depth.to_mm() > 0.0 {
            steps.push(bench.rod_channel());
        }
        let joint = match design.joint.kind {
            JointKind::Tenon => {
                steps.extend([
                    bench.shoulders(),
                    bench.rough_cheeks(),
                    bench.pocket_sides(),
                    bench.cheeks(),
                    bench.floor(),
                    bench.tenon_bottom(),
                    bench.pocket_length(),
                    bench.butt(),
                ]);
                if short { "Glued tenon, short" } else { "Glued tenon" }
            }
            JointKind::Dovetail { .. } => {
                steps.extend([
                    bench.shoulders(),
                    bench.rough_cheeks(),
                    bench.socket(),
                    bench.floor(),
                    bench.tenon_bottom(),
                    bench.butt(),
                    bench.flanks(),
                ]);
                "Dovetail"
            }
            JointKind::Screwed => {
                steps.extend([
                    bench.pocket_sides(),
                    bench.floor(),
                    bench.pocket_length(),
                    bench.tenon_bottom(),
                    bench.cheeks(),
                    bench.butt(),
                ]);
                "Screwed neck"
            }
            JointKind::Through => {
                steps.extend([bench.core(), bench.shoulders()]);
                "Neck through the body"
            }
        };
        let through = design.joint.kind == JointKind::Through;
        steps.extend([bench.trial_fit(), bench.aim()]);
        if !through {
            steps.push(bench.trim_shoulder());
        }
        if short || design.joint.wedge_length.to_mm() > 0.0 {
            steps.push(bench.board_end());
        }
        steps.push(match design.joint.kind {
            JointKind::Screwed => bench.screw_holes(),
            JointKind::Through => bench.wings(),
            JointKind::Tenon | JointKind::Dovetail { .. } => bench.glue(),
        });
        steps.push(bench.board_on());
        for step in &mut steps {
            step.done = design.ticks.contains(step.id);
        }
        Self { joint, steps, cautions: CAUTIONS }
    }
}

/// What the steps are written from.
struct Bench<'a> {
    design: &'a Design,
    layout: &'a Layout,
    figures: &'a JointFigures,
}

/// A step with nothing but its work; the rest is added to it.
fn step(id: &'static str, title: &'static str, work: Vec<Sentence>) -> Step {
    Step {
        id,
        title,
        work,
        numbers: Vec::new(),
        leave_on: None,
        check: None,
        readings: Vec::new(),
        cautions: Vec::new(),
        done: false,
    }
}

impl Bench<'_> {
    /// The numbers of those figures that this joint has.
    fn numbers(&self, ids: &[&str]) -> Vec<Number> {
        ids.iter()
            .filter_map(|id| self.figures.get(id))
            .filter(|figure| self.tells(figure))
            .map(|figure| Number {
                figure: figure.id,
                name: figure.name,
                value: figure.value,
                unit: figure.unit,
                digits: figure.digits,
                tolerance: self.tolerance(figure),
            })
            .collect()
    }

    /// Whether a figure tells something at the bench: no wedge for an angle of nothing, and
    /// nothing said of the back where it is parallel to the datum.
    fn tells(&self, figure: &Figure) -> bool {
        match figure.id {
            "floor_to_back" => self.design.body.taper.to_degrees() != 0.0,
            id if id.ends_with("_wedge") || id.ends_with("_stack") => figure.value.abs() >= 0.005,
            _ => true,
        }
    }

    /// Over which length wedge and stack are given.
    fn over_base(&self) -> Sentence {
        sentence![
            "Wedge and stack are for a base of ",
            mm(self.design.joint.jig_base.to_mm(), 0),
            "."
        ]
    }

    /// The value of a figure; 0 of one that this joint lacks.
    fn value(&self, id: &str) -> f64 {
        self.figures.get(id).map_or(0.0, |figure| figure.value)
    }

    /// ± of a figure, from the tolerance of the dimension it answers to most.
    fn tolerance(&self, figure: &Figure) -> Option<f64> {
        let of = |dim: Dim| self.plus_minus(dim);
        let base = self.design.joint.jig_base.to_mm();
        // what an angle's tolerance is worth over the jig's base
        let over_base = |dim: Dim| base * of(dim).to_radians();
        Some(match figure.id {
            "pitch" | "shoulder_angle" | "butt_angle" | "mitre" => of(Dim::Pitch),
            "floor" | "floor_to_back" | "bottom_angle" => of(Dim::Floor),
            "cheek_angle" => of(Dim::Flank),
            "pitch_wedge" | "pitch_stack" | "shoulder_wedge" | "shoulder_stack" => {
                over_base(Dim::Pitch)
            }
            "floor_wedge" | "floor_stack" | "back_wedge" | "bottom_wedge" => over_base(Dim::Floor),
            "depth_mouth" | "heel_thickness" | "depth_inner" | "tenon_inner" | "pocket_depth"
            | "pocket_depth_tenon" | "pocket_depth_end" => of(Dim::PocketDepth),
            "tenon_width" | "tenon_width_inner" | "pocket_width" => of(Dim::GlueRoom),
            "rough_width" | "blade_height" => of(Dim::RoughCheeks),
            "pocket_length_spare" => of(Dim::SpareLength),
            "fence_shoulder" => of(Dim::JointOffset),
            "fence_butt" | "along_underside" | "along_bottom" | "pocket_length" => {
                of(Dim::TenonLength)
            }
            "foot_along_board" | "foot_from_square" => of(Dim::Shoulder),
            _ => return None,
        })
    }

    /// ± of a dimension of this design, in its unit.
    fn plus_minus(&self, dim: Dim) -> f64 {
        Tolerated::of(self.design, Source::Dim(dim.key())).map_or(0.0, |one| one.plus_minus)
    }

    fn reading(&self, on: &'static str, figure: &str) -> Option<Reading> {
        let value = self.figures.get(figure)?.value;
        let at = self.layout.straightedge.x;
        let by_pitch = at * self.plus_minus(Dim::Pitch).to_radians();
        let tolerance = by_pitch.hypot(self.plus_minus(Dim::Overstand));
        Some(Reading { on, at, value, tolerance })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;
    use crate::testing::worked_example;
    use crate::units::{Angle, Length, LengthStyle};

    fn sheet(change: impl FnOnce(&mut Design)) -> CutSheet {
        let mut design = worked_example();
        change(&mut design);
        let study = Study::of(&design);
        CutSheet::of(&study.design, study.layout().unwrap())
    }

    fn ids(sheet: &CutSheet) -> Vec<&str> {
        sheet.steps.iter().map(|step| step.id).collect()
    }

    #[test]
    fn a_fretless_board_is_levelled_without_crowns() {
        let last = |sheet: &CutSheet| sheet.steps.last().map(|step| step.title).unwrap();
        assert_eq!(last(&sheet(|_| {})), "Level board and crowns");
        let fretless = sheet(|design| {
            design.scale.frets = 0;
            design.board.crown = Length::mm(0.0);
        });
        assert_eq!(last(&fretless), "Level the board");
    }

    /// 0.1 mm over 50 mm: atan 0.002.
    #[test]
    fn a_slip_turns_the_fence_over_the_base_of_the_jig() {
        let sheet = sheet(|design| design.joint.jig_base = Length::mm(50.0));
        let step = sheet.steps.iter().find(|step| step.id == "shoulders").unwrap();
        let says = step.check.as_ref().unwrap().otherwise.show(LengthStyle::Millimetres);
        assert!(says.contains("0.1 mm over 50 mm turns it by 0.11°"), "{says}");
    }

    #[test]
    fn every_kind_has_its_steps_in_the_order_of_the_work() {
        let kinds = [
            JointKind::Tenon,
            JointKind::Dovetail { flank: Angle::degrees(8.0) },
            JointKind::Screwed,
            JointKind::Through,
        ];
        let mut seen = std::collections::BTreeSet::new();
        for kind in kinds {
            for length in [30.0, 90.0] {
                let sheet = sheet(|design| {
                    design.joint.kind = kind;
                    design.joint.tenon_length = Length::mm(length);
                });
                let steps = ids(&sheet);
                for id in &steps {
                    assert!(is_step(id), "{id}");
                    seen.insert((*id).to_owned());
                }
                let place = |id| steps.iter().position(|step| *step == id);
                assert!(place("trial_fit") < place("aim"), "{kind:?}");
                if let Some(trim) = place("trim_shoulder") {
                    // roll and side aim come before the shoulder is trimmed
                    assert!(place("aim") < Some(trim), "{kind:?}");
                }
                for step in &sheet.steps {
                    assert!(!step.work.is_empty() && !step.done, "{}", step.id);
                }
            }
        }
        assert_eq!(seen.len(), STEPS.len(), "a step that no sheet has: {seen:?}");
    }

    #[test]
    fn a_short_tenon_beds_the_end_of_the_board_and_a_long_one_does_not() {
        let short = sheet(|design| design.joint.tenon_length = Length::mm(40.0));
        assert!(ids(&short).contains(&"board_end"));
        assert_eq!(short.joint, "Glued tenon, short");
        let long = sheet(|design| design.joint.tenon_length = Length::mm(95.0));
        assert!(!ids(&long).contains(&"board_end"));
        assert_eq!(long.joint, "Glued tenon");
    }

    fn work(sheet: &CutSheet, id: &str) -> String {
        let step = sheet.steps.iter().find(|step| step.id == id).unwrap();
        step.work.iter().map(|says| says.show(LengthStyle::Millimetres) + "\n").collect()
    }

    #[test]
    fn a_raked_wall_has_its_own_setting_for_the_butt() {
        assert!(work(&sheet(|_| {}), "butt").contains("at the shoulder's setting"));
        let raked = sheet(|design| design.joint.wall_rake = Angle::degrees(4.0));
        // 90° - 3° whatever the wall's rake
        assert!(work(&raked, "butt").starts_with("Set the saw anew"));
        assert!(work(&raked, "butt").contains("87.00°"));
    }

    /// The fence is set by what turns it as far as the shoulder lies off square: 3° of pitch
    /// and 4° of rake.
    #[test]
    fn a_raked_wall_has_its_own_wedge_for_the_shoulder() {
        let wedge = |sheet: &CutSheet, id: &str| {
            let step = sheet.steps.iter().find(|step| step.id == "shoulders").unwrap();
            step.numbers.iter().find(|number| number.figure == id).map(|number| number.value)
        };
        let square = sheet(|_| {});
        assert!(wedge(&square, "pitch_wedge").is_some());
        assert!(wedge(&square, "shoulder_wedge").is_none());
        let raked = sheet(|design| {
            design.joint.jig_base = Length::mm(100.0);
            design.joint.wall_rake = Angle::degrees(4.0);
        });
        assert!(wedge(&raked, "pitch_wedge").is_none());
        // the pitch is found again to 1e-12 rad
        let rise = wedge(&raked, "shoulder_wedge").unwrap();
        assert!((rise - 100.0 * 7_f64.to_radians().tan()).abs() < 1e-6, "{rise}");
        let stack = wedge(&raked, "shoulder_stack").unwrap();
        assert!((stack - 100.0 * 7_f64.to_radians().sin()).abs() < 1e-6, "{stack}");
    }

    #[test]
    fn no_hole_is_drilled_through_the_heel() {
        let screwed = |length: f64| {
            sheet(|design| {
                design.joint.kind = JointKind::Screwed;
                design.joint.floor = Angle::degrees(0.0);
                design.joint.screw_length = Length::mm(length);
            })
        };
        let depth = |sheet: &CutSheet| {
            let step = sheet.steps.iter().find(|step| step.id == "screw_holes").unwrap();
            step.check.as_ref().unwrap().reads.show(LengthStyle::Millimetres)
        };
        // 24 mm of body, and at the screws 20 + 38 tan 3° = 22.0 mm of heel
        let good = screwed(38.0);
        assert_eq!(depth(&good), "15.0 mm at most");
        let long = screwed(45.0);
        assert_eq!(depth(&long), "20.0 mm at most");
        assert!(work(&long, "screw_holes").contains("within 1.0 mm of the board"));
        let through = screwed(50.0);
        assert_eq!(depth(&through), "20.0 mm at most");
        assert!(work(&through, "screw_holes").contains("come through the heel"));
        assert!(work(&screwed(20.0), "screw_holes").contains("do not reach the heel"));
    }

    #[test]
    fn nothing_is_promised_of_a_spare_length_that_there_is_not() {
        let none = sheet(|design| design.joint.spare_length = Length::mm(0.0));
        assert!(work(&none, "pocket_length").contains("No spare length is left"));
        assert!(work(&sheet(|_| {}), "pocket_length").contains("10.0 mm beyond"));
    }

    #[test]
    fn ticks_of_the_design_show_on_its_sheet() {
        let sheet = sheet(|design| {
            design.ticks.insert("floor".to_owned());
        });
        for step in &sheet.steps {
            assert_eq!(step.done, step.id == "floor", "{}", step.id);
        }
        let mut design = worked_example();
        design.ticks.insert("polish".to_owned());
        assert_eq!(design.faults().len(), 1);
    }

    #[test]
    fn the_straightedge_is_read_where_the_seat_is_fitted_and_after_the_board_is_on() {
        let sheet = sheet(|_| {});
        let of = |id: &str| &sheet.steps.iter().find(|step| step.id == id).unwrap().readings;
        assert_eq!(of("trial_fit").len(), 2);
        assert_eq!(of("board_on").len(), 2);
        let neck = of("trial_fit")[0];
        // the worked example of the notes: 13.121 on the neck face, printed to 0.001
        assert!((neck.value - 13.121).abs() < 6e-4);
        // 250.37 mm · 0.15° = 0.6555 mm, with 0.2 mm of overstand 0.6853 mm
        assert!((neck.tolerance - 0.6853).abs() < 1e-3, "{}", neck.tolerance);
    }
}
