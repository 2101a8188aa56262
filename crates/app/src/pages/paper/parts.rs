//! Every part with its use, to be ticked, and where it lies.

use egui::{Align, Checkbox, Label, Layout, RichText, Ui};
use overstand_drawing::paper::Paper;
use overstand_drawing::part::PartKind;

use crate::pages::fields::dim;
use crate::printing::PaperChoices;
use crate::theme::{self, space};

/// Every part with its use, and where it lies.
pub(super) fn parts(ui: &mut Ui, chosen: &mut PaperChoices, paper: Option<&Paper>) {
    for part in PartKind::all() {
        let mut ticked = !chosen.without.contains(part.id());
        let found = paper.map(|paper| sheets_of(paper, part));
        labelled_part(ui, part, &mut ticked, found.as_deref());
        if ticked {
            chosen.without.remove(part.id());
        } else {
            chosen.without.insert(part.id().to_owned());
        }
    }
}

fn labelled_part(ui: &mut Ui, part: PartKind, ticked: &mut bool, found: Option<&[usize]>) {
    let was = *ticked;
    ui.horizontal(|ui| {
        ui.add(Checkbox::new(ticked, part.name()));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if let Some(found) = found.filter(|found| was && !found.is_empty()) {
                let colour = theme::palette(ui).dim;
                let text = RichText::new(listed(found)).font(theme::label()).color(colour);
                ui.add(Label::new(text).selectable(false));
            }
        });
    });
    ui.horizontal_top(|ui| {
        ui.add_space(space::HIT);
        let unused = was && found.is_some_and(<[usize]>::is_empty);
        dim(ui, if unused { "This design has no use for it." } else { part.purpose() });
    });
}

/// The sheets on which a part lies, from 1.
fn sheets_of(paper: &Paper, part: PartKind) -> Vec<usize> {
    let lies = paper.pages.iter().enumerate();
    lies.filter(|(_, page)| page.placed.iter().any(|placed| placed.kind == part))
        .map(|(index, _)| index + 1)
        .collect()
}

/// `sheet 3`, or `sheets 2–7, 9`.
fn listed(sheets: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for &sheet in sheets {
        match runs.last_mut() {
            Some(run) if run.1 + 1 == sheet => run.1 = sheet,
            _ => runs.push((sheet, sheet)),
        }
    }
    let runs: Vec<String> = runs
        .into_iter()
        .map(|(from, to)| if from == to { from.to_string() } else { format!("{from}–{to}") })
        .collect();
    let word = if sheets.len() == 1 { "sheet" } else { "sheets" };
    format!("{word} {}", runs.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_are_listed_in_runs() {
        assert_eq!(listed(&[3]), "sheet 3");
        assert_eq!(listed(&[1, 2, 3, 5, 8, 9]), "sheets 1–3, 5, 8–9");
    }
}
