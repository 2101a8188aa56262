//! What to do: the corrections, the best first, and what does not serve.

use egui::{
    Align2, Label, Rect, RichText, Role, ScrollArea, Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};
use overstand_core::dryfit::{Correction, DryFit};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, unbroken};
use overstand_core::verdict::State;

use super::worked::{Chosen, Take};
use super::{Desk, child, detail, round};
use crate::command::Command;
use crate::panels::verdict::state_of;
use crate::theme::{self, space};
use crate::view::View;
use crate::{marks, values};

/// Shows them.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    desk: &mut Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let chosen = desk.chosen;
    desk.worked.try_out(chosen, desk.take);
    let Some(fit) = desk.worked.fit() else {
        return nothing(ui, study, style, desk);
    };
    let shown = desk.worked.base(desk.chosen).map(Chosen::of);
    let all = ui.available_rect_before_wrap();
    let wide = space::CORRECTIONS.min(all.width() / 2.0);
    let (left, right) = all.split_left_right_at_x(all.left() + wide);
    let column = &mut child(ui, "corrections", left);
    let mut clicked = None;
    ScrollArea::vertical().id_salt("corrections").auto_shrink(false).show(column, |ui| {
        theme::beside_scroll_bar(ui);
        ui.spacing_mut().item_spacing.y = 0.0;
        for (index, one) in fit.corrections.iter().enumerate() {
            let is_shown = shown == Some(Chosen::of(one));
            if row(ui, index + 1, one, is_shown, style) {
                clicked = Some(Chosen::of(one));
            }
        }
        unreachable(ui, fit, style);
    });
    let line = Stroke::new(1.0, theme::palette(ui).hairline);
    ui.painter().vline(left.right() + space::S, left.y_range(), line);
    let right = right.with_min_x(right.left() + space::L);
    let column = &mut child(ui, "detail", right);
    detail::show(column, study, style, desk, view, commands);
    if let Some(clicked) = clicked {
        desk.chosen = Some(clicked);
        desk.take = Take::Whole;
        desk.drafts.remove(&super::Entry::Taken);
        ui.ctx().request_repaint();
    }
}

/// What to do first.
fn nothing(ui: &mut Ui, study: &Study, style: LengthStyle, desk: &Desk) {
    ScrollArea::vertical().id_salt("first").auto_shrink(false).show(ui, |ui| {
        ui.add_space(space::S);
        let title = |ui: &mut Ui, text: &str| {
            ui.add(Label::new(RichText::new(text).font(theme::title())).wrap());
            ui.add_space(space::S);
        };
        if let Some(untold) = desk.worked.untold() {
            title(ui, "The readings do not tell enough yet");
            theme::remark(ui, untold.says.show(style));
            return;
        }
        if let Some(done) = study.design.fitting.last().and_then(|round| round.done.as_ref()) {
            title(ui, &format!("Round {} is kept", study.design.fitting.len()));
            let says = done.says().within().show(style);
            theme::remark(ui, format!("Do it: {says} Then fit the joint again and read."));
            let next = round::number(&study.design);
            theme::remark(ui, format!("The next reading begins round {next}."));
            return;
        }
        title(ui, "Nothing is read yet");
        for line in [
            "1  Set the rod so that the board is straight, and push the joint together without \
             glue, the shoulder held shut.",
            "2  Lay a straightedge on the crowns, the board or the bare neck face and out over the \
             body. Read its height over the top at the bridge line, and put it down on the left.",
            "3  Read a second place well away from it, or set an angle gauge on board and body: \
             one reading alone does not tell pitch from overstand.",
        ] {
            ui.add(Label::new(line).wrap());
            ui.add_space(space::S);
        }
        theme::remark(
            ui,
            "Then the real pitch and overstand stand above, with what can be done about them here.",
        );
    });
}

/// One correction of the list; says whether it was clicked.
fn row(ui: &mut Ui, place: usize, one: &Correction, is_shown: bool, style: LengthStyle) -> bool {
    let palette = theme::palette(ui);
    let mm = |value: f64, digits| values::show(value, Unit::Length, digits, style);
    let name = one.kind.name().to_owned();
    let amount = one.amount.map(|amount| match (one.stock, amount.error) {
        (Some(stock), _) => format!("from {} veneer", mm(stock, 1)),
        (None, 0.0) => mm(amount.value.abs(), 2),
        (None, error) => format!("{} ± {}", mm(amount.value.abs(), 2), mm(error, 2)),
    });
    let amount = amount.map_or_else(String::new, |amount| format!("{amount} · "));
    let about = format!("{amount}{}", one.risk().name());
    let state = state(one);
    let doubt = if one.doubtful { ", measure again before cutting" } else { "" };
    let told = format!("{place}  {name}, {about}, then {}{doubt}", marks::state_word(state));
    let high = 2.0 * space::HIT - space::M + if one.doubtful { space::XL } else { 0.0 };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), high), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::ListBoxOption, true, is_shown, &told));
    if is_shown || response.hovered() {
        let fill = if is_shown { palette.hover } else { palette.panel };
        ui.painter().rect_filled(rect, theme::CORNER, fill);
    }
    let left = rect.left() + space::HIT + space::S;
    let top = rect.top() + space::M + space::S;
    let colour = palette.state(state);
    marks::state(ui.painter(), pos2(rect.left() + space::L, top), state, colour);
    let room = Rect::from_min_max(pos2(left, rect.top()), rect.max - vec2(space::S, 0.0));
    let painter = ui.painter().with_clip_rect(room.intersect(ui.clip_rect()));
    let font = if is_shown { theme::strong() } else { theme::text() };
    let mut job = egui::text::LayoutJob::simple_singleline(name, font, palette.ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(room.width());
    let galley = painter.layout_job(job);
    painter.galley(pos2(left, top - galley.size().y / 2.0), galley, palette.ink);
    let line = top + space::XL;
    painter.text(pos2(left, line), Align2::LEFT_CENTER, &about, theme::label(), palette.dim);
    if one.doubtful {
        let at = pos2(left, line + space::XL);
        let colour = palette.state(State::Thin);
        let text = "Measure again before cutting";
        painter.text(at, Align2::LEFT_CENTER, text, theme::heading(), colour);
    }
    marks::focus_ring(ui, &response);
    response.on_hover_text(told).clicked()
}

/// How the joint stands once it is done: good only if it is as good as planned.
fn state(one: &Correction) -> State {
    if one.outcome.as_planned {
        State::Good
    } else {
        state_of(one.outcome.study.word()).min(State::Thin)
    }
}

/// What does not serve, and why.
fn unreachable(ui: &mut Ui, fit: &DryFit, style: LengthStyle) {
    if fit.unreachable.is_empty() {
        return;
    }
    let palette = theme::palette(ui);
    ui.add_space(space::L);
    let title = RichText::new("What does not serve").font(theme::heading());
    ui.add(Label::new(title).selectable(false));
    for (kind, why) in &fit.unreachable {
        ui.add_space(space::S);
        let text = format!("{}: {}", kind.name(), why.clone().within().show(style));
        ui.add(
            Label::new(RichText::new(unbroken(&text)).font(theme::label()).color(palette.dim))
                .wrap(),
        );
    }
    ui.add_space(space::M);
}
