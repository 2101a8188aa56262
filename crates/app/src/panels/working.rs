//! How a figure came about: one way to open it wherever it stands, and the card that shows
//! its steps from what the design holds.

use std::sync::Arc;

use egui::{
    Align2, Color32, FontId, Id, Key as Press, Label, Rect, Response, RichText, Role, ScrollArea,
    Sense, Stroke, Ui, WidgetInfo, Window, vec2,
};
use overstand_core::design::Design;
use overstand_core::dimension;
use overstand_core::study::Study;
use overstand_core::working::{Chain, Figure, OfTrials, Step};

use crate::theme::{self, space, stroke};
use crate::view::View;
use crate::{marks, values};

/// Width and height of the card at first.
const CARD: [f32; 2] = [440.0, 460.0];

/// The key that opens the working of a number that a click does something else with.
const KEY: Press = Press::W;
/// That, at the end of a tip.
pub(crate) const KEY_SAYS: &str = "W shows the working.";

/// A figure that is open.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Asked {
    pub(crate) figure: Figure,
    /// Of which design; none of the one in hand.
    of: Option<(String, Arc<Design>)>,
}

impl From<Figure> for Asked {
    fn from(figure: Figure) -> Self {
        Self { figure, of: None }
    }
}

/// A figure with the design that it is of.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Of<'a> {
    figure: Figure,
    whose: Option<Whose<'a>>,
}

/// A design beside the one in hand: another variant, or what would come of a change.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Whose<'a> {
    /// What it is, to stand behind the name of a figure.
    pub(crate) name: &'a str,
    pub(crate) design: &'a Design,
}

impl From<Figure> for Of<'_> {
    fn from(figure: Figure) -> Self {
        Self { figure, whose: None }
    }
}

impl<'a> Of<'a> {
    /// A figure of a design beside the one in hand, or of that.
    pub(crate) fn new(figure: Figure, whose: Option<Whose<'a>>) -> Self {
        Self { figure, whose }
    }

    fn asked(self) -> Asked {
        let of = self.whose.map(|it| (it.name.to_owned(), Arc::new(it.design.clone())));
        Asked { figure: self.figure, of }
    }

    /// Whether it is what is open. One that is open follows its design as that changes.
    fn is_open(self, view: &mut View) -> bool {
        let Some(asked) = view.asked.as_mut().filter(|asked| asked.figure == self.figure) else {
            return false;
        };
        match (&mut asked.of, self.whose) {
            (None, None) => true,
            (Some((name, design)), Some(whose)) if name == whose.name => {
                if **design != *whose.design {
                    *design = Arc::new(whose.design.clone());
                }
                true
            }
            _ => false,
        }
    }

    /// Opens its working, or closes it.
    pub(crate) fn toggle(self, view: &mut View) {
        view.asked = if self.is_open(view) { None } else { Some(self.asked()) };
    }
}

/// The steps of the figure that is open, worked out once.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    of: Option<(Asked, u64)>,
    title: String,
    chain: Option<Chain>,
    /// Why there are no steps.
    lacks: &'static str,
}

/// Said of what was typed.
const HELD: &str = "It is held: it is put in, and nothing is worked out.";
/// Said of what this design has not.
const LACKS: &str =
    "This design has no such figure: there is nothing to work out, or it does not close.";

impl Worked {
    fn update(&mut self, study: &Study, revision: u64, asked: &Asked) {
        if self.of.as_ref().is_some_and(|(of, at)| of == asked && *at == revision) {
            return;
        }
        let figure = asked.figure;
        let of = Some((asked.clone(), revision));
        *self = match &asked.of {
            None => Self { of, ..Self::told(study, figure) },
            Some((name, design)) => {
                let told = Self::told(&Study::of(design), figure);
                Self { of, title: format!("{} · {name}", told.title), ..told }
            }
        };
    }

    fn told(study: &Study, figure: Figure) -> Self {
        let is_held = match figure {
            Figure::Dim(key) => {
                key.dim.info().role == dimension::Role::Given || !key.is_found(&study.design)
            }
            _ => false,
        };
        let lacks = if is_held { HELD } else { LACKS };
        Self { of: None, title: figure.name(study), chain: figure.chain(study), lacks }
    }
}

/// Makes a place where a figure stands open its working: a thin line under it, a click, or
/// the keyboard. `salt` tells places apart where the same figure stands twice.
pub(crate) fn opener<'a>(
    ui: &Ui,
    rect: Rect,
    salt: &'static str,
    figure: impl Into<Of<'a>>,
    spoken: &str,
    view: &mut View,
) -> Response {
    sensed(ui, rect, salt, figure.into(), spoken, Sense::click(), view)
}

/// The key for a number that stands where a click does something else, as at a handle or in a
/// tip: with the pointer there, or the focus. Whether it was pressed.
pub(crate) fn is_asked(ui: &Ui, response: &Response) -> bool {
    (response.has_focus() || response.hovered())
        && !ui.ctx().text_edit_focused()
        && ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, KEY))
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
    if Of::from(figure).is_open(view) {
        let place = rect.expand2(vec2(space::S, 0.0));
        let pen = Stroke::new(stroke::STRONG, theme::palette(ui).ink);
        ui.painter().rect_stroke(place, theme::CORNER, pen, egui::StrokeKind::Outside);
    }
    sensed(ui, rect, salt, figure.into(), spoken, Sense::CLICK, view);
}

fn sensed(
    ui: &Ui,
    rect: Rect,
    salt: &'static str,
    figure: Of<'_>,
    spoken: &str,
    sense: Sense,
    view: &mut View,
) -> Response {
    let whose = figure.whose.map(|whose| whose.name);
    let id = Id::unique(("working", salt, format!("{:?}", figure.figure), whose));
    let response = ui.interact(rect, id, sense);
    let is_open = figure.is_open(view);
    let told = format!("Working of {spoken}");
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_open, &told));
    let palette = theme::palette(ui);
    let is_near = response.hovered() || response.has_focus() || is_open;
    let (width, colour) =
        if is_near { (stroke::STRONG, palette.ink) } else { (stroke::THIN, palette.field_border) };
    ui.painter().hline(rect.x_range(), rect.bottom(), Stroke::new(width, colour));
    marks::focus_ring(ui, &response);
    if response.clicked() {
        figure.toggle(view);
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text("Show the working")
}

/// A count of trials as a figure. One that is open follows the trials as they are run again.
pub(crate) fn counted(of: OfTrials, view: &mut View) -> Figure {
    let figure = Figure::Trials(of);
    if let Some(asked) = &mut view.asked
        && matches!(asked.figure, Figure::Trials(was) if was.is_of(of))
    {
        asked.figure = figure;
    }
    figure
}

/// A figure as words that open its working.
pub(crate) fn figure<'a>(
    ui: &mut Ui,
    text: &str,
    font: FontId,
    colour: Color32,
    figure: impl Into<Of<'a>>,
    spoken: &str,
    view: &mut View,
) {
    figure_at(ui, text, (font, colour), "words", figure.into(), spoken, view);
}

/// The same where it may stand twice on a page: `salt` tells the places apart.
pub(crate) fn figure_at(
    ui: &mut Ui,
    text: &str,
    (font, colour): (FontId, Color32),
    salt: &'static str,
    figure: Of<'_>,
    spoken: &str,
    view: &mut View,
) {
    let galley = ui.painter().layout_no_wrap(text.to_owned(), font, colour);
    let (rect, _) = ui.allocate_exact_size(galley.size(), Sense::hover());
    ui.painter().galley(rect.min, galley, colour);
    opener(ui, rect.expand2(vec2(space::S, 1.0)), salt, figure, spoken, view);
}

/// Shows the card of the figure that is open, in front of the page.
pub(crate) fn card(ui: &Ui, study: &Study, revision: u64, worked: &mut Worked, view: &mut View) {
    let Some(asked) = &view.asked else { return };
    // while a handle moves it is not worked out anew at each step
    if view.drag.is_none() || worked.of.as_ref().is_none_or(|(of, _)| of != asked) {
        worked.update(study, revision, asked);
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
                theme::remark(ui, worked.lacks);
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
