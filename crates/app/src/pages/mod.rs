//! The pages, one file or folder each, and what they are laid out with.

use egui::{CentralPanel, Frame, Margin, Panel, Rect, Ui, UiBuilder};
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use crate::command::Command;
use crate::panels::verdict;
use crate::theme::{self, space};
use crate::view::View;

pub(crate) mod compare;
pub(crate) mod dry_fit;
mod fields;
pub(crate) mod how_true;
pub(crate) mod joint;
pub(crate) mod lay_out;
pub(crate) mod paper;
pub(crate) mod strings;

/// A panel of a page: its width or height as it comes, least and most.
pub(crate) fn sized(panel: Panel, frame: Frame, [usual, least, most]: [f32; 3]) -> Panel {
    panel.frame(frame).resizable(true).default_size(usual.min(most)).size_range(least..=most)
}

/// The same at the bottom of a page, with so much height left free above it.
fn below(ui: &Ui, salt: &'static str, [high, least, most]: [f32; 3], above: f32) -> Panel {
    let most = most.min(ui.available_height() - above).max(least);
    sized(Panel::bottom(salt), on_paper(ui), [high, least, most])
}

/// The frame of what stands on paper beside a drawing.
fn on_paper(ui: &Ui) -> Frame {
    let margin = Margin::symmetric(space::XL as i8, space::S as i8);
    Frame::new().fill(theme::palette(ui).paper).inner_margin(margin)
}

/// A piece of a page in a rectangle of its own.
fn child(ui: &mut Ui, salt: &str, rect: Rect) -> Ui {
    let mut child = ui.new_child(UiBuilder::new().id_salt(salt).max_rect(rect));
    child.set_clip_rect(child.clip_rect().intersect(rect.expand(space::S)));
    child
}

/// A page of a design that does not close: why it is empty, and beside it what is wrong.
fn unclosed(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    side: Frame,
    why: &str,
    view: &mut View,
) -> Vec<Command> {
    let mut commands = Vec::new();
    sized(Panel::right("verdict"), side, space::VERDICT)
        .show(ui, |ui| verdict::show(ui, study, revision, style, view, &mut commands));
    CentralPanel::no_frame().show(ui, |ui| {
        ui.painter().rect_filled(ui.max_rect(), 0.0, theme::palette(ui).paper);
        Frame::new().inner_margin(Margin::same(space::XL as i8)).show(ui, |ui| {
            theme::remark(ui, why);
        });
    });
    commands
}
