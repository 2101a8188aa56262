//! What to do first: a line over the drawings on the first start, until it was read.

use egui::{Align, Label, Layout, RichText, Ui};
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::verdict::Word;

use super::status_bar::{follow, would_follow};
use crate::command::Command;
use crate::document::Document;
use crate::marks;
use crate::theme::{self, space};
use crate::view::View;

/// The line, as long as it was not read.
#[derive(Debug, Default)]
pub(crate) struct Welcome {
    /// What to do first, of this revision: what would follow is tried out for it.
    first: Option<(u64, String)>,
}

impl Welcome {
    fn first(
        &mut self,
        study: &Study,
        revision: u64,
        style: LengthStyle,
        is_dragging: bool,
    ) -> &str {
        let is_known = |of: u64| of == revision || is_dragging;
        if self.first.as_ref().is_none_or(|(of, _)| !is_known(*of)) {
            self.first = Some((revision, first(study, style)));
        }
        self.first.as_ref().map_or("", |(_, says)| says)
    }
}

/// Shows the line.
pub(crate) fn show(
    ui: &mut Ui,
    document: &Document,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let is_dragging = view.drag.is_some();
    let Some(welcome) = view.welcome.as_mut() else {
        return;
    };
    let study = document.study();
    let says = welcome.first(study, document.revision(), style, is_dragging).to_owned();
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
            theme::remark(ui, says);
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
