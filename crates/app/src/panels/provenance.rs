//! How far a dimension has come from paper to wood: planned, made, measured.

use std::time::{SystemTime, UNIX_EPOCH};

use egui::{Popup, Rect, Role, Sense, Ui, WidgetInfo};
use overstand_core::design::{Date, Design, Provenance};
use overstand_core::dimension::Key;
use overstand_core::units::{LengthStyle, Unit};

use crate::command::Command;
use crate::{marks, theme, values};

/// Shows the mark of a dimension, with a menu to change it.
pub(crate) fn show(
    ui: &Ui,
    rect: Rect,
    design: &Design,
    key: Key,
    is_pointed_at: bool,
    style: LengthStyle,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let mark = design.marks.get(&key.to_string()).cloned().unwrap_or_default();
    let unit = key.dim.info().unit;
    let id = egui::Id::unique(("mark", key.dim as usize, key.index));
    let response = ui.interact(rect, id, Sense::click());
    let words = marks::provenance_words(&mark, unit, style);
    let name = format!("{}: {words}", key.name(design));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    let is_open = Popup::is_id_open(ui.ctx(), Popup::default_response_id(&response));
    if mark != Provenance::Planned || is_pointed_at || response.has_focus() || is_open {
        marks::provenance(ui.painter(), rect.center(), &mark, palette.dim);
    }
    marks::focus_ring(ui, &response);
    Popup::menu(&response).show(|ui| {
        let mut option = |ui: &mut Ui, mark: Provenance, text: String| {
            if ui.button(text).clicked() {
                commands.push(Command::Mark(key, mark));
            }
        };
        option(ui, Provenance::Planned, "Planned: it may still change".to_owned());
        option(ui, Provenance::Made, "Made: bought or cut".to_owned());
        let measured = today().map(|on| errors(unit).into_iter().map(move |error| (on, error)));
        for (on, error) in measured.into_iter().flatten() {
            let text = format!("Measured today, ± {}", values::show(error, unit, 2, style));
            option(ui, Provenance::Measured { on, error }, text);
        }
    });
    response.on_hover_text(values::capital(&words));
}

/// Reading errors of rule, calliper and depth gauge (common practice, no source).
fn errors(unit: Unit) -> Vec<f64> {
    match unit {
        Unit::Length => vec![0.05, 0.1, 0.5],
        Unit::Angle => vec![0.05, 0.1, 0.2],
        Unit::Count | Unit::Number => Vec::new(),
    }
}

/// The day it is, by the clock of the system in universal time.
pub(crate) fn today() -> Option<Date> {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |passed| passed.as_secs());
    Date::of_day(seconds / 86_400)
}
