//! The joint: its section with handles, what is worked out for it, and the cut sheet.

use egui::{CentralPanel, Frame, Panel, Ui};
use overstand_core::joint::{CutSheet, JointFigures};
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_drawing::handles::{Handle, joint_handles};
use overstand_drawing::joint;
use overstand_drawing::scene::Scene;

use crate::canvas::{self, Sheet};
use crate::command::Command;
use crate::pages::{below, sized};
use crate::panels::{cut_sheet, figures, verdict};
use crate::theme::space;
use crate::tour::{self, Spot};
use crate::view::{CanvasId, View};

/// What is worked out and drawn of one study, kept until it changes.
#[derive(Debug, Default)]
pub(crate) struct Drawn {
    of: Option<u64>,
    scene: Scene,
    handles: Vec<Handle>,
    /// None of a design that does not close.
    worked: Option<(JointFigures, CutSheet)>,
}

impl Drawn {
    fn update(&mut self, study: &Study, revision: u64) {
        if self.of == Some(revision) {
            return;
        }
        let worked = study.layout().map(|layout| {
            (JointFigures::of(&study.design, layout), CutSheet::of(&study.design, layout))
        });
        *self = Self {
            of: Some(revision),
            scene: joint::joint(study),
            handles: joint_handles(study),
            worked,
        };
    }
}

/// Shows the page; `side` is the frame of what stands beside the drawing.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    side: Frame,
    drawn: &mut Drawn,
    view: &mut View,
) -> Vec<Command> {
    drawn.update(study, revision);
    let mut commands = Vec::new();
    sized(Panel::right("cut sheet"), side, space::CUT_SHEET).show(ui, |ui| {
        tour::mark(ui, Spot::CutSheet, ui.max_rect());
        match &drawn.worked {
            Some((_, sheet)) => cut_sheet::show(ui, study, sheet, style, view, &mut commands),
            // what is wrong, and what would mend it
            None => verdict::show(ui, study, revision, style, view, &mut commands),
        }
    });
    CentralPanel::no_frame().show(ui, |ui| {
        below(ui, "figures", space::FIGURES, space::CANVAS).show(ui, |ui| {
            let figures = drawn.worked.as_ref().map(|(figures, _)| figures);
            figures::show(ui, figures, style, view);
        });
        let sheet = Sheet {
            id: CanvasId::Joint,
            heading: "Joint in section, from above below it",
            place: "joint in section",
            study,
            whose: None,
            scene: &drawn.scene,
            handles: &drawn.handles,
            labelled: &[],
            bounds: drawn.scene.bounds(),
            style,
            empty: "There is nothing to draw as long as the design makes no sense. \
                    The panel on the right says what is wrong.",
        };
        canvas::show(ui, ui.available_rect_before_wrap(), &sheet, view, &mut commands);
    });
    commands
}
