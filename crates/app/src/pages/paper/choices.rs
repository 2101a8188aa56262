//! What is chosen: parts, paper, margins, units, the correction of the printer.

use std::collections::BTreeMap;

use egui::{Align, Checkbox, ComboBox, Label, Layout, RichText, ScrollArea, Ui};
use overstand_core::design::Date;
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, show_signed};
use overstand_core::verdict::State;
use overstand_drawing::correction::Correction;
use overstand_drawing::paper::{Paper, PaperError};
use overstand_drawing::part::PartKind;
use overstand_drawing::sheet::{NAMED, Sheet};

use super::Desk;
use super::fields::{Entry, length};
use super::parts::parts;
use crate::command::Command;
use crate::marks;
use crate::pages::fields::{WIDE, dim, explained, field, heading, labelled, refusal, state_line};
use crate::panels::provenance::today;
use crate::printing::{Lies, PaperChoices, Subject};
use crate::theme::{self, space};
use crate::values;
use crate::view::{Draft, Page};

/// Where on the panel an error belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Place {
    Parts,
    Paper,
    Margins,
    Overlap,
}

fn place_of(error: &PaperError) -> Place {
    match error {
        PaperError::Nothing(_) => Place::Parts,
        PaperError::Margin(_) | PaperError::NoRoom { .. } => Place::Margins,
        PaperError::Overlap(_) => Place::Overlap,
        PaperError::NoSheet { .. } | PaperError::Roll { .. } => Place::Paper,
    }
}

/// Shows the choices.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    chosen: &mut PaperChoices,
    desk: &mut Desk,
    commands: &mut Vec<Command>,
) {
    let paper = desk.paper().cloned();
    let problem =
        desk.problem().map(|error| (place_of(error), values::capital(&error.says(style))));
    let problem_at = |ui: &mut Ui, place: Place| {
        if let Some((_, says)) = problem.as_ref().filter(|problem| problem.0 == place) {
            state_line(ui, State::Fails, says);
        }
    };
    let drafts = &mut desk.drafts;
    ui.add_space(space::S);
    ui.horizontal_wrapped(|ui| {
        for (subject, name) in [
            (Subject::Drawing, "Drawing and parts"),
            (Subject::CutSheet, "Cut sheet"),
            (Subject::FittingLog, "Fitting log"),
            (Subject::WorkedSheet, "Worked sheet"),
        ] {
            if ui.selectable_label(chosen.subject == subject, name).clicked() {
                chosen.subject = subject;
            }
        }
    });
    if study.closed().is_none() {
        state_line(
            ui,
            State::Thin,
            "The design does not close: drawn as its other dimensions say, not to be built from.",
        );
        if marks::link(ui, "What would mend it").clicked() {
            commands.push(Command::Show(Page::LayOut));
        }
    }
    ui.add_space(space::S);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        let is_drawing = chosen.subject == Subject::Drawing;
        heading(ui, "Paper");
        sheet(ui, chosen, drafts);
        problem_at(ui, Place::Paper);
        if is_drawing {
            let is_roll = matches!(chosen.paper(), Sheet::Roll { .. });
            if !is_roll {
                ways(ui, chosen);
            }
            let lengths = chosen.lengths(style);
            margins(ui, lengths, chosen, drafts);
            problem_at(ui, Place::Margins);
            if !is_roll {
                overlap(ui, lengths, chosen, drafts);
            }
            problem_at(ui, Place::Overlap);
        }
        // a worked sheet is in millimetres
        if chosen.subject != Subject::WorkedSheet {
            units(ui, chosen);
        }
        if is_drawing {
            ui.add(Checkbox::new(&mut chosen.tinted, "Tint the wood"));
            heading(ui, "Printer");
            correction(ui, chosen.lengths(style), chosen, drafts, paper.as_deref());
            ui.add_space(space::M);
            ui.horizontal(|ui| {
                let words = RichText::new("Parts").font(theme::heading());
                ui.add(Label::new(words).selectable(false));
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    if ui.small_button("None").clicked() {
                        chosen.without = PartKind::all().map(|part| part.id().to_owned()).collect();
                    }
                    if ui.small_button("All").clicked() {
                        chosen.without.clear();
                    }
                });
            });
            problem_at(ui, Place::Parts);
            parts(ui, chosen, paper.as_deref());
        } else {
            problem_at(ui, Place::Parts);
        }
        ui.add_space(space::XL);
    });
}

fn sheet(ui: &mut Ui, chosen: &mut PaperChoices, drafts: &mut BTreeMap<Entry, Draft>) {
    let paper = chosen.paper();
    let named = NAMED.iter().any(|one| matches!(&paper, Sheet::Cut { name, .. } if name == one.0));
    let shown = match &paper {
        Sheet::Cut { name, .. } if named => name.clone(),
        Sheet::Cut { .. } => "Custom size".to_owned(),
        Sheet::Roll { .. } => "Roll".to_owned(),
    };
    labelled(ui, "Size", |ui| {
        let mut choose = |ui: &mut Ui, name: &str, text: String| {
            if ui.selectable_label(shown == name, name).clicked() && shown != name {
                chosen.sheet = text;
                drafts.remove(&Entry::Size);
                drafts.remove(&Entry::Roll);
            }
        };
        let menu = ComboBox::from_id_salt("paper size").selected_text(&shown).height(space::FORM);
        let response = menu.show_ui(ui, |ui| {
            let (width, height) = match &paper {
                Sheet::Cut { width, height, .. } => (*width, *height),
                Sheet::Roll { .. } => Sheet::default().size(false),
            };
            choose(ui, "Custom size", format!("{}x{}mm", width + 0.0, height + 1.0));
            choose(ui, "Roll", "roll610mm".to_owned());
            ui.separator();
            for (name, width, height) in NAMED {
                let tip = format!("{width} × {height} mm");
                ui.scope(|ui| choose(ui, name, name.to_owned())).response.on_hover_text(tip);
            }
        });
        response.response.accessible_name(format!("Paper: {shown}"));
    });
    match &paper {
        Sheet::Cut { width, height, .. } if !named => {
            let shown = format!("{width} × {height} mm");
            labelled(ui, "Width × height", |ui| {
                field(ui, "Width and height", Entry::Size, &shown, WIDE, drafts, |text| {
                    match Sheet::parse(text).map_err(|error| error.to_string())? {
                        Sheet::Cut { width, height, name } => {
                            let is_named = NAMED.iter().any(|one| one.0 == name);
                            chosen.sheet =
                                if is_named { name } else { format!("{width}x{height}mm") };
                            Ok(())
                        }
                        Sheet::Roll { .. } => Err("expected a width and a height".to_owned()),
                    }
                });
            });
            refusal(ui, Entry::Size, drafts);
        }
        Sheet::Roll { width } => {
            let shown = format!("{width} mm");
            labelled(ui, "Width of the roll", |ui| {
                field(ui, "Width of the roll", Entry::Roll, &shown, WIDE, drafts, |text| {
                    match Sheet::parse(&format!("roll{text}")) {
                        Ok(Sheet::Roll { width }) => {
                            chosen.sheet = format!("roll{width}mm");
                            Ok(())
                        }
                        Err(error @ overstand_drawing::sheet::SheetError::Size { .. }) => {
                            Err(error.to_string())
                        }
                        _ => Err("expected a width, as 610 mm or 24 in".to_owned()),
                    }
                });
            });
            refusal(ui, Entry::Roll, drafts);
        }
        Sheet::Cut { .. } => {}
    }
}

fn ways(ui: &mut Ui, chosen: &mut PaperChoices) {
    ui.horizontal(|ui| {
        for (lies, name, tip) in [
            (Lies::Fewest, "Fewest sheets", "Whichever way takes fewer sheets"),
            (Lies::Portrait, "Portrait", "As its size is given"),
            (Lies::Landscape, "Landscape", "Turned by a quarter"),
        ] {
            if ui.selectable_label(chosen.lies == lies, name).on_hover_text(tip).clicked() {
                chosen.lies = lies;
            }
        }
    });
}

fn margins(
    ui: &mut Ui,
    style: LengthStyle,
    chosen: &mut PaperChoices,
    drafts: &mut BTreeMap<Entry, Draft>,
) {
    let before = chosen.margins();
    let mut margins = before;
    labelled(ui, "Margins", |ui| {
        if chosen.margins.is_some() && ui.small_button("Usual").clicked() {
            chosen.margins = None;
            drafts.retain(|entry, _| !matches!(entry, Entry::Margin(_)));
            margins = chosen.margins();
        }
    });
    let shown = margins;
    // kept in the order left, top, right, bottom
    for pair in [[(0, "left"), (2, "right")], [(1, "top"), (3, "bottom")]] {
        ui.columns(pair.len(), |columns| {
            for (ui, (side, name)) in columns.iter_mut().zip(pair) {
                labelled(ui, name, |ui| {
                    let full = format!("Margin {name}");
                    length(ui, &full, Entry::Margin(side), &mut margins[side], style, drafts);
                });
            }
        });
    }
    for side in 0..margins.len() {
        refusal(ui, Entry::Margin(side), drafts);
    }
    if margins != shown {
        chosen.margins = Some(margins);
    }
}

fn overlap(
    ui: &mut Ui,
    style: LengthStyle,
    chosen: &mut PaperChoices,
    drafts: &mut BTreeMap<Entry, Draft>,
) {
    explained(ui, "Tiles overlap at least", "Overlap", |ui| {
        length(ui, "Least overlap of tiles", Entry::Overlap, &mut chosen.overlap, style, drafts);
    });
    refusal(ui, Entry::Overlap, drafts);
}

fn units(ui: &mut Ui, chosen: &mut PaperChoices) {
    const UNITS: [(Option<LengthStyle>, &str); 4] = [
        (None, "As in the window"),
        (Some(LengthStyle::Millimetres), "Millimetres"),
        (Some(LengthStyle::InchDecimal), "Inches, decimal"),
        (Some(LengthStyle::InchFraction), "Inches, fractions"),
    ];
    labelled(ui, "Units", |ui| {
        let shown = UNITS.iter().find(|one| one.0 == chosen.units).map_or("", |one| one.1);
        let response =
            ComboBox::from_id_salt("paper units").selected_text(shown).show_ui(ui, |ui| {
                for (units, name) in UNITS {
                    if ui.selectable_label(chosen.units == units, name).clicked() {
                        chosen.units = units;
                    }
                }
            });
        response.response.accessible_name(format!("Units on paper: {shown}"));
    });
}

/// What the check bars measure, and what remains uncertain.
fn correction(
    ui: &mut Ui,
    style: LengthStyle,
    chosen: &mut PaperChoices,
    drafts: &mut BTreeMap<Entry, Draft>,
    paper: Option<&Paper>,
) {
    let (shown, on) = (chosen.measured.clone(), chosen.measured_on.clone());
    explained(ui, "The bars measure", "Check bar", |ui| {
        field(ui, "What the bars measure", Entry::Measured, &shown, WIDE, drafts, |text| {
            if text.is_empty() {
                chosen.measured.clear();
                chosen.measured_on.clear();
                return Ok(());
            }
            let on = today().ok_or("the clock of this computer gives no day")?;
            Correction::parse(text, on).map_err(|error| error.to_string())?;
            chosen.measured = text.to_owned();
            chosen.measured_on = on.to_string();
            Ok(())
        });
    });
    refusal(ui, Entry::Measured, drafts);
    let Some(correction) = chosen.correction() else {
        dim(
            ui,
            "Print a sheet, measure its bars of 100 mm and type the one that lies × the one that \
             stands, as 99.4 × 100.2. Longer bars tell more: 188.9/190 × 240.6/240.",
        );
        return;
    };
    labelled(ui, "measured on", |ui| {
        field(ui, "Measured on", Entry::MeasuredOn, &on, WIDE, drafts, |text| {
            chosen.measured_on =
                text.parse::<Date>().map_err(|error| error.to_string())?.to_string();
            Ok(())
        });
    });
    refusal(ui, Entry::MeasuredOn, drafts);
    let rooms = paper.iter().flat_map(|paper| &paper.pages);
    let longest = rooms.map(|page| page.room.0.max(page.room.1)).fold(0.0, f64::max);
    let percent = |factor: f64| format!("{} %", show_signed(100.0 * (factor - 1.0), 2));
    let mut says = format!(
        "Drawn {} across and {} up.",
        percent(correction.across.factor()),
        percent(correction.up.factor())
    );
    if longest > 0.0 {
        let show = |value, digits| values::show(value, Unit::Length, digits, style);
        says += &format!(
            " ±{} remain over {}, the longest on a sheet.",
            show(correction.remains(longest), 2),
            show(longest, 0)
        );
    }
    dim(ui, &says);
    if ui.small_button("Without correction").clicked() {
        chosen.measured.clear();
        chosen.measured_on.clear();
        drafts.remove(&Entry::Measured);
    }
}
