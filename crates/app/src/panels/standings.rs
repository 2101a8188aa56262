//! The sheet of all variants, worked out on a thread of its own.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, channel};

use egui::{Align2, Label, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2};
use overstand_core::compare::{Order, Standing, sort};
use overstand_core::design::Design;
use overstand_core::units::show_number;
use overstand_core::verdict::{State, Word};
use overstand_core::working::Figure;

use crate::command::Command;
use crate::document::Document;
use crate::marks;
use crate::panels::tips;
use crate::panels::working::{Of, Whose, opener};
use crate::theme::{self, space};
use crate::view::View;

/// What stands over the columns, each with the term that explains it.
pub(crate) const HEADS: [(&str, &str); 6] = [
    ("Variant", "Variant"),
    ("Will it play", "Plays"),
    ("Good", "Good"),
    ("Thin", "Thin"),
    ("Fails", "Fails"),
    ("Least margin", "Margin"),
];
/// Where they begin, as parts of the width; where those end that hold numbers.
const NAME: f32 = 0.04;
const WORD: f32 = 0.37;
const COUNTS: [f32; 3] = [0.58, 0.64, 0.70];
const MARGIN: f32 = 0.80;
/// So many variants are handed over at once.
const AT_ONCE: usize = 25;

/// How the variants stand, as far as it is worked out.
#[derive(Debug, Default)]
pub(crate) struct Standings {
    /// The revision at which it was last seen to.
    of: Option<u64>,
    /// Of these.
    variants: Arc<Vec<Design>>,
    list: Vec<Standing>,
    order: Order,
    work: Option<Work>,
}

/// Work that goes on; dropped, it ends.
#[derive(Debug)]
struct Work {
    standings: Receiver<Vec<Standing>>,
    unwanted: Arc<AtomicBool>,
}

impl Drop for Work {
    fn drop(&mut self) {
        self.unwanted.store(true, Ordering::Relaxed);
    }
}

impl Work {
    fn begin(ctx: &egui::Context, variants: Arc<Vec<Design>>) -> Self {
        let (send, standings) = channel();
        let unwanted = Arc::new(AtomicBool::new(false));
        let (ctx, stop) = (ctx.clone(), Arc::clone(&unwanted));
        std::thread::spawn(move || {
            for (chunk, some) in variants.chunks(AT_ONCE).enumerate() {
                let first = chunk * AT_ONCE;
                let worked = (first..).zip(some).map(|(index, design)| Standing::of(index, design));
                let done = send.send(worked.collect());
                if done.is_err() || stop.load(Ordering::Relaxed) {
                    return;
                }
                ctx.request_repaint();
            }
        });
        Self { standings, unwanted }
    }
}

impl Standings {
    fn update(
        &mut self,
        ctx: &egui::Context,
        document: &Document,
        order: Order,
        is_dragging: bool,
    ) {
        let variants = &document.file().variants;
        // while something is dragged the sheet stays as it was
        if self.of != Some(document.revision()) && !is_dragging {
            let is_first = self.of.replace(document.revision()).is_none();
            // to turn to another variant changes none
            if is_first || *self.variants != *variants {
                let variants = Arc::new(variants.clone());
                *self = Self {
                    of: self.of,
                    work: Some(Work::begin(ctx, Arc::clone(&variants))),
                    variants,
                    order,
                    ..Self::default()
                };
            }
        }
        let mut is_new = std::mem::replace(&mut self.order, order) != order;
        if let Some(work) = &self.work {
            let before = self.list.len();
            self.list.extend(work.standings.try_iter().flatten());
            is_new |= self.list.len() > before;
        }
        if self.list.len() >= variants.len() {
            self.work = None;
        }
        if is_new {
            sort(&mut self.list, order);
        }
    }

    /// Shows the sheet.
    pub(crate) fn show(
        &mut self,
        ui: &mut Ui,
        document: &Document,
        order: Order,
        names: &[String; 2],
        view: &mut View,
        commands: &mut Vec<Command>,
    ) {
        self.update(ui.ctx(), document, order, view.drag.is_some());
        let palette = theme::palette(ui);
        ui.take_available_width();
        ui.horizontal(|ui| {
            for other in Order::ALL {
                if ui.selectable_label(other == order, other.name()).clicked() {
                    view.compare.all = Some(other);
                }
            }
            if self.work.is_some() {
                let count = document.file().variants.len();
                let text = format!("{} of {count} worked out", self.list.len());
                ui.add(Label::new(RichText::new(text).color(palette.dim)).selectable(false));
            }
        });
        head(ui);
        let high = space::HIT + ui.spacing().item_spacing.y;
        let rows = self.list.len();
        ScrollArea::vertical().auto_shrink(false).show_rows(ui, high, rows, |ui, seen| {
            theme::beside_scroll_bar(ui);
            for standing in self.list.get(seen).unwrap_or_default() {
                line(ui, standing, &self.variants, names, view, commands);
            }
        });
    }
}

/// What the columns hold, over them.
fn head(ui: &mut Ui) {
    let colour = theme::palette(ui).dim;
    // as wide as the rows, which keep clear of the scroll bar
    let size = vec2(ui.available_width() - space::M, space::XL);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let begins = [NAME, WORD].map(|part| (part, Align2::LEFT_CENTER));
    let ends = [COUNTS[0], COUNTS[1], COUNTS[2], MARGIN].map(|part| (part, Align2::RIGHT_CENTER));
    for ((part, align), (name, term)) in begins.into_iter().chain(ends).zip(HEADS) {
        let at = rect.left_center() + vec2(part * rect.width(), 0.0);
        let place = ui.painter().text(at, align, name, theme::heading(), colour);
        tips::on_heading(ui, place, (name, term));
    }
}

/// A variant: name, word, counts of checks, least margin. A click makes it B.
fn line(
    ui: &mut Ui,
    one: &Standing,
    variants: &[Design],
    names: &[String; 2],
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let side = names.iter().position(|name| name.trim() == one.name).map(|index| ["A", "B"][index]);
    let [good, thin, fails] = one.counts;
    let least = one.least.map_or_else(String::new, |(id, margin)| {
        format!("least margin {}, {}", show_number(margin, 2), id.name().to_lowercase())
    });
    let counts = format!("{good} good, {thin} thin, {fails} failing");
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), space::HIT), Sense::click());
    let word = one.word.show();
    let spoken = format!("{}: {}, {counts}, {least}", one.name, word.to_lowercase());
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, side.is_some(), &spoken));
    if response.hovered() || side.is_some() {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    let state = match one.word {
        Word::Plays => State::Good,
        Word::PlaysThin => State::Thin,
        Word::Fails | Word::DoesNotClose => State::Fails,
    };
    let at = |part: f32| rect.left_center() + vec2(part * rect.width(), 0.0);
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let words = |part: f32, text: &str, font, colour| {
        painter.text(at(part), Align2::LEFT_CENTER, text, font, colour);
    };
    let number = |part: f32, text: &str, colour| {
        painter.text(at(part), Align2::RIGHT_CENTER, text, theme::text(), colour)
    };
    words(0.01, side.unwrap_or_default(), theme::strong(), palette.ink);
    words(NAME, &one.name, theme::text(), palette.ink);
    // what would run into the next column is covered
    let from = at(WORD).x - space::M;
    let fill = if response.hovered() || side.is_some() { palette.hover } else { palette.paper };
    painter.rect_filled(rect.with_min_x(from - space::M), theme::CORNER, fill);
    marks::state(&painter, at(WORD) + vec2(space::M, 0.0), state, palette.state(state));
    words(WORD + 0.02, word, theme::text(), palette.ink);
    for (part, count) in COUNTS.into_iter().zip(one.counts) {
        number(part, &count.to_string(), palette.ink);
    }
    let mut opens = None;
    if let Some((id, margin)) = one.least {
        let text = show_number(margin, 2);
        opens = Some((number(MARGIN, &text, palette.ink), id, text));
        words(MARGIN + 0.01, id.name(), theme::label(), palette.dim);
    }
    marks::focus_ring(ui, &response);
    if response.on_hover_text("Compare with it, as B").clicked() && side.is_none() {
        view.compare.pair[1] = Some(one.name.clone());
        if names[0].trim() != one.name {
            commands.push(Command::TurnTo(one.name.clone()));
        }
    }
    if let Some((place, id, text)) = opens
        && let Some(design) = variants.get(one.index)
    {
        let of = Of::new(Figure::Margin(id), Some(Whose { name: &one.name, design }));
        let spoken = format!("least margin of {}, {text}", one.name);
        opener(ui, place.expand2(vec2(space::S, 1.0)), "standing", of, &spoken, view);
    }
}
