//! How a figure came about: one way to open it wherever it stands, and the card that shows
//! its steps from what the design holds.

mod asked;

use egui::{
    Align2, Color32, FontId, Id, Key as Press, Label, Rect, Response, RichText, Role as Spoken,
    ScrollArea, Sense, Stroke, Ui, WidgetInfo, Window, vec2,
};
use overstand_core::compare::Row;
use overstand_core::dimension::{Key, Role};
use overstand_core::study::Study;
use overstand_core::working::{Chain, Figure, OfTrials, Step};

use crate::theme::{self, space, stroke};
use crate::view::View;
use crate::{marks, values};
use asked::Named;
pub(crate) use asked::{Asked, Of, Whose};

/// Width and height of the card at first.
const CARD: [f32; 2] = [440.0, 460.0];

/// The key that opens the working of a number that a click does something else with.
const KEY: Press = Press::W;
/// That, at the end of a tip.
pub(crate) const KEY_SAYS: &str = "W shows the working.";

/// The steps of the figure that is open, worked out once.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    of: Option<(Asked, u64)>,
    title: String,
    chain: Option<Chain>,
    /// What it is made of, each with a working of its own.
    parts: Vec<Asked>,
    /// Why there are no steps.
    lacks: &'static str,
}

/// Said of what was typed.
const HELD: &str = "It is held: it is put in, and nothing is worked out.";
/// Said of what this design has not.
const LACKS: &str =
    "This design has no such figure: there is nothing to work out, or it does not close.";
/// Said of what is found, of a design that does not close.
const SOUGHT: &str = "It is sought: the value nearest to where it stands with which all that is \
                      held comes true. Here something still does not, so that there are no steps.";

impl Worked {
    fn update(&mut self, study: &Study, revision: u64, asked: &Asked) {
        if self.of.as_ref().is_some_and(|(of, at)| of == asked && *at == revision) {
            return;
        }
        let told = match asked {
            Asked::Figure(figure, None) => Self::told(study, *figure),
            Asked::Figure(figure, Some((name, design))) => {
                let told = Self::told(&Study::of(design), *figure);
                Self { title: format!("{} · {name}", told.title), ..told }
            }
            Asked::Less(row, both) => Self::less(row, both),
        };
        *self = Self { of: Some((asked.clone(), revision)), ..told };
    }

    /// What two designs differ by; each number has a working of its own.
    fn less(row: &Row, both: &[Named; 2]) -> Self {
        let sides = row.figures.into_iter().zip(both);
        let sides = sides.filter_map(|(figure, of)| Some(Asked::Figure(figure?, Some(of.clone()))));
        Self {
            title: format!("{} · B less A", row.name),
            chain: row.less(),
            parts: sides.collect(),
            ..Self::default()
        }
    }

    fn told(study: &Study, figure: Figure) -> Self {
        let lacks = match figure {
            Figure::Dim(key) if is_held(study, key) => HELD,
            Figure::Dim(key) if is_sought(key) && study.closed().is_none() => SOUGHT,
            _ => LACKS,
        };
        let (title, chain) = (figure.name(study), figure.chain(study));
        Self { title, chain, lacks, ..Self::default() }
    }
}

fn is_held(study: &Study, key: Key) -> bool {
    key.dim.info().role == Role::Given || !key.is_found(&study.design)
}

fn is_sought(key: Key) -> bool {
    key.dim.info().role == Role::Closing
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

/// The same of a sentence that stands there already.
pub(crate) fn sentence<'a>(
    ui: &Ui,
    said: &Response,
    salt: &'static str,
    figure: impl Into<Of<'a>>,
    spoken: &str,
    view: &mut View,
) {
    opener(ui, said.rect.expand2(vec2(0.0, 1.0)), salt, figure, spoken, view);
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
    let id = Id::unique(("working", salt, figure.known_by()));
    let response = ui.interact(rect, id, sense);
    let is_open = figure.is_open(view);
    let told = format!("Working of {spoken}");
    response.widget_info(|| WidgetInfo::selected(Spoken::Button, true, is_open, &told));
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
    if let Some(open) = view.asked.as_mut().and_then(Asked::figure_mut)
        && matches!(open, Figure::Trials(was) if was.is_of(of))
    {
        *open = figure;
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
            Some(chain) => {
                for part in &worked.parts {
                    own(ui, part, view);
                }
                steps(ui, chain);
            }
            None => {
                theme::remark(ui, worked.lacks);
            }
        });
    if !is_open {
        view.asked = None;
    }
}

/// A part of a difference, which opens in its place.
fn own(ui: &mut Ui, part: &Asked, view: &mut View) {
    let Asked::Figure(_, Some((name, _))) = part else { return };
    if marks::link(ui, &format!("Show the working of {name}")).clicked() {
        view.asked = Some(part.clone());
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
