//! Paper: what is printed at full size, on which sheets, and the file that is written.

mod choices;
pub(super) mod fields;
mod parts;
mod sheets;
pub(super) mod write;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::{CentralPanel, Context, Frame, Panel, Ui};
use overstand_core::design::Date;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_drawing::output;
use overstand_drawing::paper::{
    Choices, Paper, PaperError, Wanted, cut_sheet, fitting_log, lay, worked_sheet,
};

use crate::background::{Heard, Job};
use crate::command::Command;
use crate::document::Document;
use crate::pages::sized;
use crate::panels::provenance::today;
use crate::printing::{PaperChoices, Subject};
use crate::theme::space;
use crate::tour::{self, Spot};
use crate::view::{Draft, View};

use write::{Said, Written};

/// What lies on the desk: the sheets as they are laid out, and what goes on with them.
#[derive(Debug, Default)]
pub(crate) struct Desk {
    /// The day that the sheets carry, if it is not that of the clock.
    day: Option<Date>,
    laid: Option<Laid>,
    laying: Option<(Order, Job<Result<Paper, PaperError>>)>,
    /// How often something was laid out.
    serial: u64,
    shown: sheets::Shown,
    /// It was turned to by a key and is to be brought into sight in the row.
    turned: bool,
    prints: sheets::Prints,
    drafts: BTreeMap<fields::Entry, Draft>,
    /// Where to write, if that was typed.
    path: Option<String>,
    /// The field of the path takes the focus next.
    asks_path: bool,
    writing: Option<Job<Written>>,
    /// What came of writing.
    said: Option<Said>,
}

/// What is to be laid out.
#[derive(Clone, Debug, PartialEq)]
struct Order {
    revision: u64,
    subject: Subject,
    choices: Choices,
    /// What the file is called.
    design: Option<String>,
}

/// What was laid out.
#[derive(Debug)]
struct Laid {
    order: Order,
    serial: u64,
    paper: Result<Arc<Paper>, PaperError>,
}

impl Order {
    fn of(document: &Document, chosen: &PaperChoices, style: LengthStyle, date: Date) -> Self {
        let design = document.path().and_then(Path::file_stem);
        Self {
            revision: document.revision(),
            subject: chosen.subject,
            choices: chosen.choices(style, date),
            design: design.map(|name| name.to_string_lossy().into_owned()),
        }
    }

    fn lay(&self, study: &Study) -> Result<Paper, PaperError> {
        match self.subject {
            Subject::Drawing => lay(study, &self.choices),
            Subject::CutSheet => cut_sheet(study, &self.wanted()),
            Subject::FittingLog => fitting_log(study, &self.wanted()),
            Subject::WorkedSheet => worked_sheet(study, &self.wanted()),
        }
    }

    /// The same for sheets of words.
    fn wanted(&self) -> Wanted {
        Wanted {
            design: self.design.clone(),
            sheet: self.choices.sheet.clone(),
            lengths: self.choices.lengths,
            date: self.choices.date,
        }
    }
}

impl Desk {
    /// An empty one; its sheets carry this day, or that of the clock.
    pub(crate) fn dated(day: Option<Date>) -> Self {
        Self { day, ..Self::default() }
    }

    /// The sheets as they were laid out last.
    fn paper(&self) -> Option<&Arc<Paper>> {
        self.laid.as_ref()?.paper.as_ref().ok()
    }

    /// Why there are none.
    fn problem(&self) -> Option<&PaperError> {
        self.laid.as_ref()?.paper.as_ref().err()
    }

    /// Hears what the work on threads of its own has come to, and has laid out what is not
    /// yet; one at a time, so that the last choice is never long in coming.
    fn update(
        &mut self,
        ctx: &Context,
        document: &Document,
        chosen: &PaperChoices,
        style: LengthStyle,
    ) {
        if let Some((order, job)) = &self.laying {
            let paper = match job.hear() {
                Heard::Working => return,
                Heard::Done(paper) => paper.map(Arc::new),
                Heard::Lost => Err(PaperError::Nothing("laying out broke off".to_owned())),
            };
            self.serial += 1;
            self.laid = Some(Laid { order: order.clone(), serial: self.serial, paper });
            self.laying = None;
        }
        // a clock before 1970 gives no day, and then nothing is laid out
        let Some(date) = self.day.or_else(today) else { return };
        let order = Order::of(document, chosen, style, date);
        if self.laid.as_ref().is_some_and(|laid| laid.order == order) {
            return;
        }
        // what was said was of other choices
        self.said = None;
        let (study, work) = (document.study().clone(), order.clone());
        self.laying = Some((order, Job::start(ctx, move |_| work.lay(&study))));
    }

    /// Writes what is on paper to a file.
    pub(crate) fn export(
        &mut self,
        ctx: &Context,
        document: &Document,
        chosen: &PaperChoices,
        style: LengthStyle,
        path: PathBuf,
        replace: bool,
    ) {
        let Some(date) = self.day.or_else(today).filter(|_| self.writing.is_none()) else { return };
        let format = chosen.format();
        if !format.is_of(&path) {
            let says = format!("Expected a name that ends in .{}.", format.ending());
            self.said = Some(Said::Failed(says));
            return;
        }
        self.said = None;
        let order = Order::of(document, chosen, style, date);
        let study = document.study().clone();
        self.writing = Some(Job::start(ctx, move |goes_on| {
            let made = match (order.subject, format) {
                (Subject::Drawing, output::Format::Svg { .. } | output::Format::Dxf { .. }) => {
                    output::make(&study, &order.choices, format, goes_on)
                }
                _ => order
                    .lay(&study)
                    .map_err(Into::into)
                    .and_then(|paper| output::sheets(&paper, goes_on)),
            };
            write::write(made, path, replace, &order, format)
        }));
    }

    /// Another design is open: nothing is said of the last one any more, and nothing is
    /// written to where it lies.
    pub(crate) fn forget_design(&mut self) {
        (self.path, self.said) = (None, None);
        self.shown = sheets::Shown::default();
        self.drafts.clear();
    }

    /// The path is to be typed.
    pub(crate) fn ask_path(&mut self) {
        self.asks_path = true;
    }
}

/// A path with an ending, if it has none.
pub(crate) fn with_ending(path: &Path, ending: &str) -> PathBuf {
    if path.extension().is_some() { path.to_owned() } else { path.with_extension(ending) }
}

/// Shows the page; `side` is the frame of what stands beside the sheets.
pub(crate) fn show(
    ui: &mut Ui,
    document: &Document,
    style: LengthStyle,
    side: Frame,
    chosen: &mut PaperChoices,
    desk: &mut Desk,
    view: &mut View,
) -> Vec<Command> {
    let mut commands = Vec::new();
    let before = chosen.clone();
    desk.update(ui.ctx(), document, chosen, style);
    sized(Panel::left("paper choices"), side, space::PRINT).show(ui, |ui| {
        ui.take_available_width();
        Panel::bottom("write").frame(Frame::NONE).resizable(false).show(ui, |ui| {
            write::show(ui, document, chosen, desk, &mut commands);
        });
        CentralPanel::no_frame().show(ui, |ui| {
            choices::show(ui, document.study(), style, chosen, desk, &mut commands);
        });
    });
    sized(Panel::right("sheets"), side, space::SHEETS).show(ui, |ui| {
        tour::mark(ui, Spot::Sheets, ui.max_rect());
        sheets::row(ui, desk);
    });
    CentralPanel::no_frame().show(ui, |ui| sheets::large(ui, style, desk, view));
    if *chosen != before {
        // what was chosen is laid out at once, not when the pointer moves next
        ui.ctx().request_repaint();
    }
    commands
}
