//! Will it play: the word, the reason, the checks, and what the straightedge must read.

use egui::{Align2, Frame, Label, Margin, Panel, RichText, Role, ScrollArea, Sense, Stroke, Ui};
use egui::{Rect, Shape, WidgetInfo, pos2, vec2};
use overstand_core::design::Limit;
use overstand_core::dimension::Dim;
use overstand_core::layout::Conflict;
use overstand_core::sentence::lower;
use overstand_core::study::{Closed, Open, Study};
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::{Check, State, Word};
use overstand_core::working::Figure;

use super::working::{Of, Whose};
use super::{check_card, tips, working};
use crate::command::Command;
use crate::theme::{self, space, stroke};
use crate::tour::{self, Spot};
use crate::view::View;
use crate::{drive, marks, values};

/// Height of the bar of a check, and of the pointer on it.
const RAIL: f32 = 3.0;
const POINTER: f32 = 7.0;
/// Decimals of what a straightedge reads at the bench.
const READING_DIGITS: usize = 1;
/// Names that a sentence can hold.
const FEW: usize = 4;
/// Where the wanted range begins on a bar, as a part of its length; it ends as far
/// from the other end.
const WANTED_FROM: f32 = 0.18;

/// What a study can be changed with: its revision, and where what is asked for goes. None of
/// one that is only looked at.
pub(crate) type Hand<'a> = Option<(u64, &'a mut Vec<Command>)>;

/// Shows the panel.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    panel(ui, study, style, view, Some((revision, commands)), None);
}

/// Shows the verdict of a study that is no design to work on: nothing of it can be applied.
/// `name` is what it is.
pub(crate) fn look(ui: &mut Ui, study: &Study, name: &str, style: LengthStyle, view: &mut View) {
    panel(ui, study, style, view, None, Some(Whose { name, design: &study.design }));
}

/// The state whose mark and colour a word has.
pub(crate) fn state_of(word: Word) -> State {
    match word {
        Word::Plays => State::Good,
        Word::PlaysThin => State::Thin,
        Word::Fails | Word::DoesNotClose => State::Fails,
    }
}

/// The figure that the line under the word tells.
fn reason_opens(study: &Study, view: &View) -> Option<(Figure, String)> {
    match &study.outcome {
        Ok(closed) => {
            let id = closed.checks.first()?.id;
            // its card has the working, as long as it is open
            let is_open = check_card::opened(closed, view) == Some(id);
            let spoken = format!("what decides: {}", lower(id.name()));
            (!is_open).then_some((Figure::Check(id), spoken))
        }
        Err(Open::Conflict(conflict)) if conflict.members.len() <= FEW => {
            let dim = conflict.beyond.first()?.dim;
            Some((Figure::Dim(dim.key()), format!("{} beyond its limit", lower(dim.info().name))))
        }
        Err(_) => None,
    }
}

fn panel(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    view: &mut View,
    mut hand: Hand<'_>,
    whose: Option<Whose<'_>>,
) {
    ui.take_available_width();
    tour::mark(ui, Spot::Verdict, ui.max_rect());
    Panel::bottom("straightedge").frame(Frame::NONE).show_separator_line(false).show(ui, |ui| {
        straightedge(ui, study.closed(), whose, style, view);
        ui.add_space(space::L);
    });
    let palette = theme::palette(ui);
    let word = study.word();
    ui.add_space(space::S);
    let said = RichText::new(word.show()).font(theme::word()).color(palette.state(state_of(word)));
    tips::on_hover(ui.add(Label::new(said).selectable(false)), word.show());
    let reason = match &study.outcome {
        // the card below names them all
        Err(Open::Conflict(conflict)) if conflict.members.len() > FEW => {
            "Held values cannot all be true.".to_owned()
        }
        _ => values::capital(&study.reason().show(style)),
    };
    let said = theme::remark(ui, reason);
    if let Some((figure, spoken)) = reason_opens(study, view) {
        working::sentence(ui, &said, "reason", Of::new(figure, whose), &spoken, view);
    }
    ui.add_space(space::M);
    match &study.outcome {
        Ok(closed) => {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                ui.spacing_mut().item_spacing.y = 0.0;
                theme::beside_scroll_bar(ui);
                let opened = check_card::opened(closed, view);
                for check in &closed.checks {
                    let is_open = opened == Some(check.id);
                    row(ui, check, is_open, style, view);
                    if is_open {
                        let hand =
                            hand.as_mut().map(|(revision, commands)| (*revision, &mut **commands));
                        check_card::show(ui, study, check, style, view, hand, whose);
                    }
                }
                ui.add_space(space::M);
            });
        }
        Err(open) => match (open, hand) {
            (Open::Conflict(conflict), Some((_, commands))) => {
                conflict_card(ui, study, conflict, style, view, commands);
            }
            (_, hand) => card(ui, |ui| {
                ui.label(drive::why_open(open, style));
                if let Some((_, commands)) = hand {
                    ui.add_space(space::S);
                    undo_link(ui, commands);
                }
            }),
        },
    }
}

/// A card on the panel.
pub(crate) fn card(ui: &mut Ui, contents: impl FnOnce(&mut Ui)) {
    let palette = theme::palette(ui);
    Frame::new()
        .fill(palette.field)
        .stroke(Stroke::new(1.0, palette.hairline))
        .corner_radius(theme::CARD_CORNER)
        .inner_margin(Margin::same(space::L as i8))
        .show(ui, |ui| {
            ui.take_available_width();
            contents(ui);
        });
}

/// One check: mark, name, value, and a bar that shows where in its range it lies.
fn row(ui: &mut Ui, check: &Check, is_open: bool, style: LengthStyle, view: &mut View) {
    let palette = theme::palette(ui);
    let height = space::HIT + space::M;
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::click());
    let unit = check.id.unit();
    let value = values::show(check.reading.value, unit, check.digits(), style);
    let spoken = format!("{}, {}, {value}", check.id.name(), marks::state_word(check.state));
    response.widget_info(|| WidgetInfo::selected(Role::DisclosureTriangle, true, is_open, &spoken));
    if response.hovered() {
        ui.painter().rect_filled(rect, theme::CORNER, palette.hover);
    }
    let colour = palette.state(check.state);
    let is_good = check.state == State::Good;
    let line = rect.top() + space::L;
    let painter = ui.painter();
    marks::state(painter, pos2(rect.left() + space::M, line), check.state, colour);
    let left = rect.left() + space::HIT;
    let right = rect.right() - space::S;
    let font = if is_good { theme::text() } else { theme::strong() };
    let value_colour = if is_good { palette.ink } else { colour };
    let shown = painter.text(pos2(right, line), Align2::RIGHT_CENTER, value, font, value_colour);
    let name = painter.layout_job({
        let mut job = egui::text::LayoutJob::simple_singleline(
            check.id.name().to_owned(),
            theme::text(),
            palette.ink,
        );
        job.wrap = egui::text::TextWrapping::truncate_at_width(shown.left() - left - space::M);
        job
    });
    painter.galley(pos2(left, line - name.size().y / 2.0), name, palette.ink);

    let rail = Rect::from_min_max(pos2(left, line + space::L), pos2(right, line + space::L + RAIL));
    let ends = [WANTED_FROM, 1.0 - WANTED_FROM].map(|part| rail.left() + rail.width() * part);
    let wanted = match (check.reading.limit.thin_below, check.reading.limit.thin_above) {
        (Some(_), None) => [ends[0], rail.right()],
        (None, Some(_)) => [rail.left(), ends[1]],
        _ => ends,
    };
    painter.rect_filled(rail, RAIL / 2.0, palette.rail);
    painter.rect_filled(
        Rect::from_min_max(pos2(wanted[0], rail.top()), pos2(wanted[1], rail.bottom())),
        RAIL / 2.0,
        palette.rail_wanted,
    );
    let x = rail.left() + rail.width() * place(&check.reading.limit, check.reading.value);
    let tip = pos2(x, rail.bottom() + 1.0);
    let pointer =
        vec![tip, tip + vec2(-POINTER / 1.6, -POINTER), tip + vec2(POINTER / 1.6, -POINTER)];
    painter.add(Shape::convex_polygon(pointer, colour, Stroke::new(stroke::THIN, palette.panel)));
    marks::focus_ring(ui, &response);
    if response.clicked() {
        check_card::toggle(check.id, is_open, view);
    }
    if view.sought == Some(check.id) {
        view.sought = None;
        response.request_focus();
        response.scroll_to_me(Some(egui::Align::Min));
    }
    response.on_hover_ui(|ui| {
        ui.label(RichText::new(check.id.name()).font(theme::strong()));
        ui.label(check.id.question());
        tips::small(ui, &check_card::range(check, style));
    });
}

/// Where a value lies on the bar of its range, 0 to 1: the wanted range is the middle
/// part, a value at the edge of failing stands at the end.
fn place(limit: &Limit, value: f64) -> f32 {
    let from = f64::from(WANTED_FROM);
    let below = limit.fails_below.zip(limit.thin_below);
    let above = limit.thin_above.zip(limit.fails_above);
    // how deep inside one limit, counted in its thin bands, drawn together beyond 1
    let inside = |bands: f64| {
        if bands < 1.0 {
            from * bands
        } else {
            from + (1.0 - 2.0 * from) * (1.0 - (-(bands - 1.0) / 6.0).exp())
        }
    };
    let part = match (below, above) {
        (Some((fails, thin)), Some((high, far))) => {
            if value < thin {
                from * (value - fails) / (thin - fails)
            } else if value <= high {
                from + (1.0 - 2.0 * from) * (value - thin) / (high - thin)
            } else {
                1.0 - from * (far - value) / (far - high)
            }
        }
        (Some((fails, thin)), None) => inside((value - fails) / (thin - fails)),
        (None, Some((high, far))) => 1.0 - inside((far - value) / (far - high)),
        (None, None) => 0.5,
    };
    if part.is_finite() { part.clamp(0.0, 1.0) as f32 } else { 0.0 }
}

/// What the straightedge on the unstrung neck must read at the crest; why that is not known of
/// a design that does not close.
fn straightedge(
    ui: &mut Ui,
    closed: Option<&Closed>,
    whose: Option<Whose<'_>>,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    card(ui, |ui| {
        let heading = "Straightedge at the crest reads";
        ui.add(Label::new(RichText::new(heading).color(palette.dim)).selectable(false))
            .on_hover_text(
                "Height over the body's top at the crest of a straightedge laid on the unstrung, \
                 straight neck. This is the figure to watch while cutting.",
            );
        let Some(closed) = closed else {
            let why = "Not known while the design does not close: crest and board do not \
                       yet agree on where they are. Do not cut by it.";
            ui.add(Label::new(why).wrap().selectable(false));
            return;
        };
        let reads = closed.layout.straightedge;
        let rows = [
            ("on the crowns", Dim::ReadCrowns, reads.crowns),
            ("on the board", Dim::ReadBoard, reads.board),
            ("on the neck face", Dim::ReadNeck, reads.neck_face),
        ];
        // a board without frets has no crowns to lay it on
        let laid =
            rows.into_iter().filter(|row| closed.layout.is_fretted() || row.1 != Dim::ReadCrowns);
        for (index, (name, dim, value)) in laid.enumerate() {
            let font = if index == 0 { theme::strong() } else { theme::text() };
            ui.horizontal(|ui| {
                ui.add(Label::new(RichText::new(name).font(font.clone())).selectable(false));
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let text = values::show(value, Unit::Length, READING_DIGITS, style);
                    let spoken = format!("straightedge {name}, {text}");
                    let figure = Of::new(Figure::Dim(dim.key()), whose);
                    working::figure(ui, &text, font, palette.ink, figure, &spoken, view);
                });
            });
        }
    });
}

/// Held values that cannot all be true: each can be released, the least change first.
fn conflict_card(
    ui: &mut Ui,
    study: &Study,
    conflict: &Conflict,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let mut releases: Vec<(Dim, f64, f64)> = conflict
        .members
        .iter()
        .filter_map(|member| {
            let held = member.dim.key().get(&study.design)?;
            Some((member.dim, held, member.would_be?))
        })
        .collect();
    releases.sort_by(|a, b| steps(a).total_cmp(&steps(b)));
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        card(ui, |ui| {
            let small = |text: String| RichText::new(text).color(palette.dim);
            if releases.is_empty() {
                let text = "No single one can give within its range: change a held value.";
                ui.label(RichText::new(text).font(theme::strong()));
            } else {
                ui.label(RichText::new("Release one, and it follows").font(theme::strong()));
            }
            for (dim, held, would_be) in releases {
                let info = dim.info();
                let name = lower(info.name);
                ui.add_space(space::S);
                if ui.button(format!("Release {name}")).clicked() {
                    commands.push(Command::Release(dim));
                }
                let [would_be, held] =
                    [would_be, held].map(|value| values::show_dim(info, value, style));
                let released = drive::toggled(study, dim.key());
                let with = format!("with {name} released");
                let whose = Some(Whose { name: &with, design: &released });
                let of = Of::new(Figure::Dim(dim.key()), whose);
                let spoken = format!("{name} released, {would_be}");
                ui.horizontal_wrapped(|ui| {
                    ui.spacing_mut().item_spacing.x = space::S;
                    working::figure(ui, &would_be, theme::text(), palette.dim, of, &spoken, view);
                    ui.label(small(format!("instead of {held}")));
                });
            }
            if let Some(says) = conflict.no_help() {
                ui.add_space(space::M);
                ui.label(small(says));
            }
            ui.add_space(space::S);
            undo_link(ui, commands);
        });
        ui.add_space(space::M);
    });
}

/// How large the change of a release is, in steps of its dimension.
fn steps(&(dim, held, would_be): &(Dim, f64, f64)) -> f64 {
    (would_be - held).abs() / dim.info().step
}

fn undo_link(ui: &mut Ui, commands: &mut Vec<Command>) {
    if marks::link(ui, "Take the last step back").clicked() {
        commands.push(Command::Undo);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pointer_is_in_the_middle_part_exactly_when_good() {
        let both = Limit {
            fails_below: Some(5.0),
            thin_below: Some(7.0),
            thin_above: Some(25.0),
            fails_above: Some(30.0),
        };
        let low = Limit { thin_above: None, fails_above: None, ..both };
        let high = Limit { thin_below: None, fails_below: None, ..both };
        for limit in [both, low, high] {
            let mut last = f32::NEG_INFINITY;
            for step in 0..800 {
                let value = f64::from(step) * 0.05;
                let at = place(&limit, value);
                assert!((0.0..=1.0).contains(&at) && at >= last, "{value} stands at {at}");
                last = at;
                let is_good = limit.state(value) == State::Good;
                let slack = 1e-6;
                let in_wanted = (limit.thin_below.is_none() || at >= WANTED_FROM - slack)
                    && (limit.thin_above.is_none() || at <= 1.0 - WANTED_FROM + slack);
                assert_eq!(in_wanted, is_good, "{value} stands at {at}");
            }
        }
        assert_eq!(place(&both, f64::NAN), 0.0);
    }
}
