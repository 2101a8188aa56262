//! The file: its kind, where it is written, what came of it.

use std::path::{Path, PathBuf};

use egui::{Align, Checkbox, Layout, ProgressBar, Ui};
use overstand_core::verdict::State;
use overstand_drawing::output::{Format, Made, OutputError};
use overstand_files::{SaveError, write_out};

use super::fields::{self, Entry};
use super::{Desk, Order, with_ending};
use crate::background::Heard;
use crate::command::Command;
use crate::dialogs::file_name;
use crate::document::Document;
use crate::marks;
use crate::pages::fields::{dim, state_line};
use crate::printing::{FileKind, PaperChoices, Subject};
use crate::theme::space;
use crate::values::capital;
use crate::view::View;

/// What came of writing a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Written {
    /// It is there.
    Done(String),
    /// Something stands there already.
    Exists(PathBuf),
    /// Why not.
    Failed(String),
    /// It was stopped.
    Stopped,
}

/// What is said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// It went well.
    Done(String),
    /// Something stands there already, and may be replaced.
    Exists(PathBuf),
    /// Why nothing was written.
    Failed(String),
}

/// Puts what was made in its place: wholly or not at all.
pub(super) fn write(
    made: Result<Option<Made>, OutputError>,
    path: PathBuf,
    replace: bool,
    order: &Order,
    format: Format,
) -> Written {
    let made = match made {
        Ok(Some(made)) => made,
        Ok(None) => return Written::Stopped,
        Err(error) => return Written::Failed(capital(&error.says(order.choices.lengths))),
    };
    match write_out(&path, &made.bytes, replace) {
        Ok(()) => Written::Done(done(&path, &made, order, format)),
        Err(SaveError::ChangedOnDisk) => Written::Exists(path),
        Err(error) => Written::Failed(capital(&error.to_string())),
    }
}

fn done(path: &Path, made: &Made, order: &Order, format: Format) -> String {
    let path = path.display();
    if format != Format::Pdf {
        return format!("Written: {path}, in millimetres.");
    }
    let sheets = if made.sheets == 1 { "sheet" } else { "sheets" };
    let says =
        format!("Written: {path}, {} {sheets} of {}.", made.sheets, order.choices.sheet.name());
    if order.subject == Subject::FittingLog {
        return says;
    }
    format!("{says} Print at 100 %, no fit to page, and measure the check bars.")
}

impl Desk {
    /// Hears what has come of writing, on whichever page that is.
    pub(crate) fn hear_writing(&mut self, view: &mut View) {
        let Some(job) = &self.writing else { return };
        let written = match job.hear() {
            Heard::Working => return,
            Heard::Done(written) => written,
            Heard::Lost => Written::Failed("Writing broke off, nothing was written.".to_owned()),
        };
        self.writing = None;
        self.said = Some(match written {
            Written::Done(says) => {
                view.say(says.clone());
                Said::Done(says)
            }
            Written::Exists(path) => Said::Exists(path),
            Written::Failed(says) => Said::Failed(says),
            Written::Stopped => Said::Failed("Stopped, nothing was written.".to_owned()),
        });
    }
}

/// Shows it.
pub(super) fn show(
    ui: &mut Ui,
    document: &Document,
    chosen: &mut PaperChoices,
    desk: &mut Desk,
    commands: &mut Vec<Command>,
) {
    kinds(ui, chosen);
    let ending = chosen.format().ending();
    let usual = || usual_path(document, chosen);
    let mut path = desk.path.clone().unwrap_or_else(usual);
    let asks = std::mem::take(&mut desk.asks_path);
    ui.add_space(space::S);
    let line = fields::line(ui, "Write to", Entry::Path, &mut path, asks);
    if line.changed() {
        desk.path = Some(path.clone());
        desk.said = None;
    }
    let entered = line.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    ui.add_space(space::S);
    if let Some(job) = &desk.writing {
        ui.horizontal(|ui| {
            let progress = job.progress();
            let part = progress.done as f32 / progress.all.max(1) as f32;
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if ui.button("Stop").clicked() {
                    job.stop();
                }
                ui.add(ProgressBar::new(part).desired_height(space::M));
            });
        });
    } else {
        ui.horizontal(|ui| {
            // margins and tiles are of sheets alone
            let is_laid = desk.paper().is_some() || chosen.kind != FileKind::Pdf;
            let can = !path.trim().is_empty() && is_laid;
            let clicked =
                ui.add_enabled_ui(can, |ui| marks::main_button(ui, "Write").clicked()).inner;
            if can && (clicked || entered) {
                let path = with_ending(Path::new(path.trim()), ending);
                commands.push(Command::Export { path, replace: false });
            }
            if ui.button("Choose where…").clicked() {
                commands.push(Command::ExportAs);
            }
        });
    }
    match desk.said.clone() {
        Some(Said::Done(says)) => state_line(ui, State::Good, &says),
        Some(Said::Failed(says)) => state_line(ui, State::Fails, &says),
        Some(Said::Exists(path)) => {
            let says = format!("{} is there already.", path.display());
            state_line(ui, State::Thin, &says);
            if ui.button("Replace it").clicked() {
                commands.push(Command::Export { path, replace: true });
            }
        }
        None => {}
    }
    ui.add_space(space::M);
}

/// Which kind of file, and how.
fn kinds(ui: &mut Ui, chosen: &mut PaperChoices) {
    ui.add_space(space::S);
    let sheet = match chosen.subject {
        Subject::Drawing => None,
        Subject::CutSheet => Some("A cut sheet is written as PDF."),
        Subject::FittingLog => Some("A fitting log is written as PDF."),
        Subject::WorkedSheet => Some("A worked sheet is written as PDF, in millimetres."),
    };
    if let Some(says) = sheet {
        dim(ui, says);
        return;
    }
    ui.horizontal(|ui| {
        for (kind, name, tip) in [
            (FileKind::Pdf, "PDF", "Sheets for a printer"),
            (FileKind::Svg, "SVG", "All parts in one drawing, in millimetres"),
            (FileKind::Dxf, "DXF", "All parts in one drawing, in millimetres"),
        ] {
            if ui.selectable_label(chosen.kind == kind, name).on_hover_text(tip).clicked() {
                chosen.kind = kind;
            }
        }
    });
    match chosen.kind {
        FileKind::Pdf => {}
        FileKind::Svg => {
            ui.add(Checkbox::new(&mut chosen.outlined, "Words as outlines"))
                .on_hover_text("For cutters that have no fonts");
        }
        FileKind::Dxf => {
            ui.horizontal_wrapped(|ui| {
                ui.add(Checkbox::new(&mut chosen.polylines, "Polylines only"))
                    .on_hover_text("Curves as straight pieces within 0.01 mm");
                ui.add(Checkbox::new(&mut chosen.r12, "Release 12")).on_hover_text(
                    "For old machines: no curves, and no place to say that it is in millimetres",
                );
            });
        }
    }
    if chosen.kind != FileKind::Pdf {
        dim(ui, "The chosen parts in one drawing, without sheets, bars and correction.");
    }
}

/// Beside the design, or by its name.
fn usual_path(document: &Document, chosen: &PaperChoices) -> String {
    let ending = chosen.format().ending();
    let path = match document.path() {
        Some(path) => path.with_extension(ending),
        None => PathBuf::from(file_name(&document.design().name, ending)),
    };
    let what = match chosen.subject {
        Subject::Drawing => return path.display().to_string(),
        Subject::CutSheet => "cuts",
        Subject::FittingLog => "log",
        Subject::WorkedSheet => "worked",
    };
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!("{stem}-{what}.{ending}")).display().to_string()
}
