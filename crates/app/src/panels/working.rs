//! How a figure came about: one way to open it wherever it stands, and the card that shows
//! its steps from what the design holds.

use egui::{
    Align2, Color32, FontId, Id, Key as Press, Label, Rect, Response, RichText, Role, ScrollArea,
    Sense, Stroke, Ui, WidgetInfo, Window, vec2,
};
use overstand_core::study::Study;
use overstand_core::working::{Chain, Figure, OfTrials, Step};

use crate::theme::{self, space, stroke};
use crate::view::View;
use crate::{marks, values};

/// Width and height of the card at first.
const CARD: [f32; 2] = [440.0, 460.0];

/// The steps of the figure that is open, worked out once.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    of: Option<(Figure, u64)>,
    title: String,
    chain: Option<Chain>,
}

impl Worked {
    fn update(&mut self, study: &Study, revision: u64, figure: Figure) {
        if self.of != Some((figure, revision)) {
            let (title, chain) = (figure.name(study), figure.chain(study));
            *self = Self { of: Some((figure, revision)), title, chain };
        }
    }
}

/// Makes a place where a figure stands open its working: a thin line under it, a click, or
/// the keyboard. `salt` tells places apart where the same figure stands twice.
pub(crate) fn opener(
    ui: &Ui,
    rect: Rect,
    salt: &'static str,
    figure: Figure,
    spoken: &str,
    view: &mut View,
) -> Response {
    sensed(ui, rect, salt, figure, spoken, Sense::click(), view)
}

/// A figure in a table, whose cells the keyboard goes over with the arrow keys.
pub(crate) fn cell(ui: &mut Ui, text: &str, figure: Figure, spoken: &str, view: &mut View) {
    let colour = theme::palette(ui).ink;
    let galley = ui.painter().layout_no_wrap(text.to_owned(), theme::text(), colour);
    let (rect, _) = ui.allocate_exact_size(galley.size(), Sense::hover());
    ui.painter().galley(rect.min, galley, colour);
    in_table(ui, rect, "cell", figure, spoken, view);
}

/// The same of a figure that is painted already. The one whose working is open has a frame: that
/// is where the keyboard is.
pub(crate) fn in_table(
    ui: &Ui,
    rect: Rect,
    salt: &'static str,
    figure: Figure,
    spoken: &str,
    view: &mut View,
) {
    if view.asked == Some(figure) {
        let place = rect.expand2(vec2(space::S, 0.0));
        let pen = Stroke::new(stroke::STRONG, theme::palette(ui).ink);
        ui.painter().rect_stroke(place, theme::CORNER, pen, egui::StrokeKind::Outside);
    }
    sensed(ui, rect, salt, figure, spoken, Sense::CLICK, view);
}

fn sensed(
    ui: &Ui,
    rect: Rect,
    salt: &'static str,
    figure: Figure,
    spoken: &str,
    sense: Sense,
    view: &mut View,
) -> Response {
    let id = Id::unique(("working", salt, format!("{figure:?}")));
    let response = ui.interact(rect, id, sense);
    let is_open = view.asked == Some(figure);
    let told = format!("Working of {spoken}");
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_open, &told));
    let palette = theme::palette(ui);
    let is_near = response.hovered() || response.has_focus() || is_open;
    let (width, colour) =
        if is_near { (stroke::STRONG, palette.ink) } else { (stroke::THIN, palette.field_border) };
    ui.painter().hline(rect.x_range(), rect.bottom(), Stroke::new(width, colour));
    marks::focus_ring(ui, &response);
    if response.clicked() {
        toggle(figure, view);
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text("Show the working")
}

/// A count of trials as a figure. One that is open follows the trials as they are run again.
pub(crate) fn counted(of: OfTrials, view: &mut View) -> Figure {
    let figure = Figure::Trials(of);
    if matches!(view.asked, Some(Figure::Trials(was)) if was.is_of(of)) {
        view.asked = Some(figure);
    }
    figure
}

/// Opens the working of a figure, or closes it.
pub(crate) fn toggle(figure: Figure, view: &mut View) {
    view.asked = if view.asked == Some(figure) { None } else { Some(figure) };
}

/// A figure as words that open its working.
pub(crate) fn figure(
    ui: &mut Ui,
    text: &str,
    font: FontId,
    colour: Color32,
    figure: Figure,
    spoken: &str,
    view: &mut View,
) {
    let galley = ui.painter().layout_no_wrap(text.to_owned(), font, colour);
    let (rect, _) = ui.allocate_exact_size(galley.size(), Sense::hover());
    ui.painter().galley(rect.min, galley, colour);
    opener(ui, rect.expand2(vec2(space::S, 1.0)), "words", figure, spoken, view);
}

/// Shows the card of the figure that is open, in front of the page.
pub(crate) fn card(ui: &Ui, study: &Study, revision: u64, worked: &mut Worked, view: &mut View) {
    let Some(figure) = view.asked else { return };
    // while a handle moves it is not worked out anew at each step
    if view.drag.is_none() || worked.of.is_none_or(|(of, _)| of != figure) {
        worked.update(study, revision, figure);
    }
    let escaped = !ui.ctx().text_edit_focused()
        && view.form.is_none()
        && view.drag.is_none()
        && ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, Press::Escape));
    let mut is_open = !escaped;
    Window::new(RichText::new(worked.title.as_str()).font(theme::strong()))
        .id(Id::unique("working"))
        .open(&mut is_open)
        .collapsible(false)
        .default_size(CARD)
        .pivot(Align2::RIGHT_BOTTOM)
        .default_pos(ui.ctx().content_rect().right_bottom() - vec2(space::XL, 2.0 * space::XL))
        .show(ui.ctx(), |ui| match &worked.chain {
            Some(chain) => steps(ui, chain),
            None => {
                let text = "This design has no such figure: there is nothing to work out, or it \
                            does not close.";
                theme::remark(ui, text);
            }
        });
    if !is_open {
        view.asked = None;
    }
}

/// The chain from what is put in to the figure.
fn steps(ui: &mut Ui, chain: &Chain) {
    let palette = theme::palette(ui);
    let dim = |text: String| RichText::new(text).font(theme::label()).color(palette.dim);
    ui.horizontal(|ui| {
        if ui.button("Copy").on_hover_text("Copy all steps as text").clicked() {
            ui.ctx().copy_text(chain.text());
        }
        let text = "In millimetres and degrees, as typed into a calculator";
        ui.add(Label::new(dim(text.to_owned())).truncate());
    });
    ScrollArea::vertical().auto_shrink([false, true]).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        ui.spacing_mut().item_spacing.y = space::S / 2.0;
        // lines of words need no room to be hit
        ui.spacing_mut().interact_size.y = space::L;
        let Some((last, above)) = chain.steps.split_last() else { return };
        one(ui, last, None);
        if !chain.says.is_empty() {
            theme::remark(ui, chain.says.as_str());
        }
        if !above.is_empty() {
            ui.add_space(space::M);
            let heading = RichText::new("From the beginning").font(theme::heading());
            ui.add(Label::new(heading.color(palette.dim)).selectable(false));
            for term in chain.given() {
                ui.horizontal_wrapped(|ui| {
                    ui.label(format!("{} = {}", term.symbol, term.text()));
                    ui.label(dim(term.name.to_owned()));
                });
            }
            for (index, step) in chain.steps.iter().enumerate() {
                one(ui, step, Some(index + 1));
            }
        } else {
            for term in chain.given() {
                ui.horizontal_wrapped(|ui| {
                    ui.label(term.symbol);
                    ui.label(dim(term.name.to_owned()));
                });
            }
        }
        ui.add_space(space::S);
        for source in chain.sources() {
            ui.add(Label::new(dim(format!("Source: {source}"))).wrap());
        }
    });
}

/// One step: its name, the formula, the formula with its numbers, and what it comes to; the
/// one that was asked for has no number and is strong.
fn one(ui: &mut Ui, step: &Step, number: Option<usize>) {
    let palette = theme::palette(ui);
    let font = if number.is_none() { theme::strong() } else { theme::text() };
    let name = values::capital(&step.name);
    let name = name.trim_end_matches('.');
    let name = number.map_or_else(|| name.to_owned(), |number| format!("{number}. {name}"));
    ui.add_space(space::S);
    ui.add(Label::new(RichText::new(name).font(theme::label()).color(palette.dim)).wrap());
    ui.add(Label::new(RichText::new(step.formula()).font(theme::text())).wrap());
    let sum = format!("= {}", step.working.put_in());
    ui.add(Label::new(RichText::new(sum).font(theme::text())).wrap());
    let result = format!("= {}", step.result());
    ui.add(Label::new(RichText::new(result).font(font)).wrap());
}
