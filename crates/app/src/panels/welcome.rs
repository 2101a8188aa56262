//! What to do first: a line over the drawings on the first start, until it was read.

use egui::{Align, Label, Layout, RichText, Ui};
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::verdict::Word;

use super::status_bar::{follow, would_follow};
use crate::command::Command;
use crate::marks;
use crate::theme::{self, space};

/// Shows the line.
pub(crate) fn show(ui: &mut Ui, study: &Study, style: LengthStyle, commands: &mut Vec<Command>) {
    ui.add_space(space::M);
    ui.with_layout(Layout::right_to_left(Align::TOP), |ui| {
        for (index, command) in [Command::Welcomed, Command::New, Command::Tour].iter().enumerate()
        {
            let is_main = index == 2;
            let text = command.text();
            let response = if is_main { marks::main_button(ui, text) } else { ui.button(text) };
            if response.clicked() {
                commands.push(command.clone());
            }
        }
        ui.add_space(space::L);
        ui.with_layout(Layout::top_down(Align::Min), |ui| {
            let heading = RichText::new(heading(study)).font(theme::strong());
            ui.add(Label::new(heading).wrap().selectable(false));
            theme::remark(ui, first(study, style));
        });
    });
    ui.add_space(space::M);
}

/// What is open.
fn heading(study: &Study) -> &'static str {
    match study.word() {
        Word::Plays | Word::PlaysThin => "This design plays. Begin with it.",
        Word::Fails => "This design will not play yet. The panel on the right says why.",
        Word::DoesNotClose => "This design does not close yet. The panel on the right says why.",
    }
}

/// What to do first.
fn first(study: &Study, style: LengthStyle) -> String {
    let drag = match would_follow(&study.design, Dim::CrestHeight, style).as_slice() {
        [] => "Drag a ring in the drawing: the verdict follows.".to_owned(),
        names => format!("Drag the crest: {}, and the verdict with it.", follow(names)),
    };
    format!("{drag} Then type on the left what you have: a dot holds a dimension, a ring gives.")
}
