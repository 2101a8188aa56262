//! One correction: where wood comes off, what to do, what comes of it, and that it is done.

use egui::{
    Align2, CentralPanel, Frame, Label, Panel, Rect, RichText, Role, ScrollArea, Sense, Ui,
    WidgetInfo, pos2, vec2,
};
use overstand_core::dryfit::{Ask, CAUTIONS, Correction, DryFit, Kind, OfOutcome, Outcome, When};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, parse_length, unbroken};
use overstand_core::verdict::{CheckId, State};
use overstand_core::working::{Figure, OfFit};

use super::entry::Sort;
use super::worked::{Made, Take};
use super::{Desk, Entry, Leaf, round};
use crate::canvas::{self, Sheet};
use crate::command::Command;
use crate::pages::fields::{dim, field, refusal, state_line};
use crate::panels::verdict::state_of;
use crate::panels::{tips, working};
use crate::theme::{self, space};
use crate::view::{CanvasId, View};
use crate::{marks, values};

/// Shows the chosen correction.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    desk: &mut Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let Some(base) = desk.worked.base(desk.chosen).cloned() else { return };
    let made = desk.worked.tried.take();
    match made.as_ref().map(|tried| &tried.made) {
        Some(Ok(made)) => {
            Panel::bottom("keep").frame(Frame::NONE).resizable(false).show(ui, |ui| {
                keep(ui, study, &made.correction, desk, commands);
            });
            if !made.correction.wood.is_empty() {
                drawing(ui, made, style, desk, view, commands);
            }
            CentralPanel::no_frame().show(ui, |ui| {
                ScrollArea::vertical().id_salt("correction").auto_shrink(false).show(ui, |ui| {
                    theme::beside_scroll_bar(ui);
                    words(ui, &base, &made.correction, style, desk, view);
                });
            });
        }
        // an amount of one's own that cannot be
        Some(Err(why)) => {
            title(ui, &base, style);
            amounts(ui, &base, 0.0, style, desk);
            state_line(ui, State::Fails, &why.show(style));
        }
        None => {}
    }
    desk.worked.tried = made;
}

fn title(ui: &mut Ui, one: &Correction, style: LengthStyle) {
    let stock = one
        .stock
        .map(|stock| format!(", from {} veneer", values::show(stock, Unit::Length, 1, style)));
    let text = format!("{}{}", one.kind.name(), stock.unwrap_or_default());
    ui.add(Label::new(RichText::new(text).font(theme::title())).wrap());
}

/// The joint around its seat and shoulder, and the wood in its true thickness.
fn drawing(
    ui: &mut Ui,
    made: &Made,
    style: LengthStyle,
    desk: &Desk,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let Some(fit) = desk.worked.fit() else { return };
    let high = (ui.available_height() * space::WOOD).max(space::CANVAS);
    let is_off = made.correction.wood.iter().any(|wood| !wood.on);
    let is_on = made.correction.wood.iter().any(|wood| wood.on);
    let heading = match (is_off, is_on) {
        (true, false) => "Wood off",
        (false, _) => "Wood put on",
        (true, true) => "Wood off and put on",
    };
    Panel::top("wood").frame(Frame::NONE).exact_size(high).resizable(false).show(ui, |ui| {
        let sheet = Sheet {
            id: CanvasId::Wood,
            heading,
            place: "the wood",
            study: &fit.real.study,
            whose: None,
            scene: &made.scene,
            handles: &[],
            labelled: &[],
            bounds: made.bounds,
            style,
            empty: "There is nothing to draw.",
        };
        canvas::show(ui, ui.available_rect_before_wrap(), &sheet, view, commands);
    });
}

fn words(
    ui: &mut Ui,
    base: &Correction,
    one: &Correction,
    style: LengthStyle,
    desk: &mut Desk,
    view: &mut View,
) {
    ui.add_space(space::S);
    title(ui, base, style);
    for says in &one.says {
        ui.add(Label::new(unbroken(&says.show(style))).wrap());
    }
    let taken = match desk.take {
        Take::Whole if one.stock.is_none() => When::After(one.kind, None),
        _ => When::After(one.kind, one.amount.map(|amount| amount.value)),
    };
    worked_out(ui, one, (desk.take, taken), style, view);
    let amount = one.amount.map_or(0.0, |amount| amount.value.abs());
    amounts(ui, base, amount, style, desk);
    if let Some(doubt) = base.doubt().or(one.doubt()) {
        state_line(ui, State::Thin, doubt);
    }
    ui.add_space(space::M);
    if let Some(fit) = desk.worked.fit() {
        outcome(ui, fit, &one.outcome, taken, style, view);
    }
    if one.spare_used() > 0.0 || !one.wood.is_empty() {
        ui.add_space(space::M);
        for caution in CAUTIONS {
            dim(ui, caution);
        }
    }
    ui.add_space(space::M);
}

/// How much wood is taken, and what then goes off the shoulder: each opens into its working.
fn worked_out(
    ui: &mut Ui,
    one: &Correction,
    (take, taken): (Take, When),
    style: LengthStyle,
    view: &mut View,
) {
    let mm = |value: f64| values::show(value, Unit::Length, 2, style);
    let kind = one.kind;
    let amount = one.amount.map(|amount| mm(amount.value.abs()));
    let mut said: Vec<(&str, String, OfFit, &str)> = Vec::new();
    match (take, kind) {
        // a standard thickness, or one that was typed, is put in
        (Take::Own(_), _) => {}
        (Take::Whole, _) if one.stock.is_some() => {}
        (Take::Half, _) => {
            said.extend(amount.map(|text| ("Wood:", text, OfFit::Half(kind), "half of the wood")));
        }
        (Take::Least, _) => {
            let what = "the least of the wood";
            said.extend(amount.map(|text| ("Wood:", text, OfFit::Least(kind), what)));
        }
        (Take::Whole, Kind::BothEnds) => {
            let (mouth, inner) = (mm(one.cut.mouth), mm(one.cut.inner));
            let text = format!("{mouth} at the mouth, {inner} at the inner end");
            said.push(("Wood:", text, OfFit::Amount(kind), "how much wood"));
        }
        (Take::Whole, _) => {
            said.extend(amount.map(|text| ("Wood:", text, OfFit::Amount(kind), "how much wood")));
            let error = one.amount.map(|amount| format!("± {}", mm(amount.error)));
            said.extend(error.map(|text| ("", text, OfFit::AmountError(kind), "the error of it")));
        }
    }
    let off = one.closing.top_off + one.closing.foot_off;
    if off > SHOWN {
        let of = OfFit::Comes(taken, OfOutcome::Shoulder);
        said.push(("off the shoulder:", mm(off), of, "off the shoulder"));
    }
    if one.spare_used() > SHOWN {
        let of = OfFit::Comes(taken, OfOutcome::Moved);
        said.push(("joint moved:", mm(one.spare_used()), of, "the joint moved"));
    }
    ui.horizontal_wrapped(|ui| {
        let ink = theme::palette(ui).ink;
        for (words, text, of, spoken) in said {
            if !words.is_empty() {
                ui.add(Label::new(words).selectable(false));
            }
            let spoken = format!("{spoken}, {text}");
            working::figure(ui, &text, theme::strong(), ink, Figure::Fit(of), &spoken, view);
        }
    });
}

/// What is less shows as nothing, mm.
const SHOWN: f64 = 0.005;

/// How much of it is done.
fn amounts(ui: &mut Ui, base: &Correction, now: f64, style: LengthStyle, desk: &mut Desk) {
    let Some(whole) = base.amount.filter(|_| base.stock.is_none()) else { return };
    let mm = |value: f64| values::show(value.abs(), Unit::Length, 2, style);
    ui.horizontal(|ui| {
        let mut option = |ui: &mut Ui, take: Take, name: &str, amount: f64, tip: &str| {
            let amount = mm(amount);
            let label = ui.selectable_label(desk.take == take, name);
            let label = label.accessible_name(format!("{name} {amount}"));
            if label.on_hover_text(format!("{amount}. {tip}")).clicked() {
                desk.take = take;
                desk.drafts.remove(&Entry::Taken);
            }
        };
        let tip = "It brings the crest back to the plan.";
        option(ui, Take::Whole, "Whole", whole.value, tip);
        option(ui, Take::Half, "Half", 0.5 * whole.value, "Then fit and read again.");
        if let Some(least) = base.least.as_ref().filter(|least| least.amount.abs() > 0.0) {
            let tip = "The least that brings every check to good.";
            option(ui, Take::Least, "Least", least.amount, tip);
        }
        ui.add(Label::new("or").selectable(false));
        let mut own = None;
        let (shown, drafts) = (mm(now), &mut desk.drafts);
        field(ui, "Taken", Entry::Taken, &shown, space::FRACTION_FIELD, drafts, |text| {
            let value = parse_length(text, style).map_err(|error| error.to_string())?;
            if value <= 0.0 {
                return Err("expected an amount over 0".to_owned());
            }
            own = Some(value);
            Ok(())
        });
        if let Some(own) = own {
            desk.take = Take::Own(own);
        }
    });
    refusal(ui, Entry::Taken, &desk.drafts);
    let says = base.least.as_ref().map_or_else(
        || "No amount of it brings every check to good.".to_owned(),
        |least| least.says().show(style),
    );
    dim(ui, &says);
}

/// What comes of it, beside how it is now.
fn outcome(
    ui: &mut Ui,
    fit: &DryFit,
    then: &Outcome,
    taken: When,
    style: LengthStyle,
    view: &mut View,
) {
    let design = &fit.real.study.design;
    let fret = usize::from(design.wanted.action_fret);
    let bass = design.strings.len().saturating_sub(1);
    let mm = move |value: f64, digits| values::show(value, Unit::Length, digits, style);
    let rows = |outcome: &Outcome| {
        // of a crest that is set the readings leave nothing uncertain
        let error = match outcome.crest_error {
            0.0 => "–".to_owned(),
            error => mm(error, 2),
        };
        let headroom = outcome.headroom.map_or_else(|| "–".to_owned(), |value| mm(value, 2));
        [
            ("Crest", OfOutcome::Crest, mm(outcome.crest, 2)),
            ("Crest, ± as read", OfOutcome::CrestError, error),
            ("Action, bass", OfOutcome::Clearance(bass, fret), mm(outcome.action.1, 2)),
            ("Action, treble", OfOutcome::Clearance(0, fret), mm(outcome.action.0, 2)),
            ("Saddle left up", OfOutcome::LeftUp, mm(outcome.reserve.1, 1)),
            ("Saddle left down", OfOutcome::LeftDown, mm(outcome.reserve.0, 1)),
            ("Headroom to spare", OfOutcome::Check(CheckId::Headroom), headroom),
            ("Board over body", OfOutcome::Check(CheckId::BoardOverBody), mm(outcome.gap.0, 2)),
            (
                "Pitch",
                OfOutcome::Pitch,
                values::show(outcome.pitch.to_degrees(), Unit::Angle, 2, style),
            ),
            ("Overstand", OfOutcome::Overstand, mm(outcome.overstand, 2)),
            ("Spare length left", OfOutcome::Spare, mm(outcome.spare, 1)),
            ("Bridge line from joint", OfOutcome::BridgeLine, mm(outcome.bridge_line, 1)),
        ]
    };
    ui.spacing_mut().item_spacing.y = 0.0;
    let words = [&fit.real, then].map(|outcome| outcome.study.word());
    let [now, after] = words.map(|word| word.show().to_owned());
    row(ui, "", HEADS.map(|(name, _)| name.to_owned()), None);
    row(ui, "Will it play", [now, after], Some(words.map(state_of)));
    for ((name, of, now), (.., then)) in rows(&fit.real).into_iter().zip(rows(then)) {
        let texts = [now, then];
        let places = row(ui, name, texts.clone(), None);
        let whens = [(When::AsItIs, "as it is"), (taken, "then")];
        for ((text, place), (when, word)) in texts.iter().zip(places).zip(whens) {
            if text != "–" {
                let figure = Figure::Fit(OfFit::Comes(when, of));
                let spoken = format!("{} {word}, {text}", name.to_lowercase());
                // as it is and then are one figure where nothing is done
                working::opener(ui, place, word, figure, &spoken, view);
            }
        }
    }
}

/// What stands over the two values, each with the term that explains it.
pub(super) const HEADS: [(&str, &str); 2] = [("as it is", "As it is"), ("then", "Then")];

/// A name, and two values at the right; gives back where these stand.
fn row(ui: &mut Ui, name: &str, values: [String; 2], states: Option<[State; 2]>) -> [Rect; 2] {
    let palette = theme::palette(ui);
    let size = vec2(ui.available_width().min(space::FORM), space::ROW);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    if !name.is_empty() {
        let told = format!("{name}: {} as it is, {} then", values[0], values[1]);
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &told));
    }
    let painter = ui.painter();
    let middle = rect.center().y;
    let ink = palette.ink;
    painter.text(pos2(rect.left(), middle), Align2::LEFT_CENTER, name, theme::text(), ink);
    let wide = 0.32 * rect.width();
    let is_same = values[0] == values[1];
    let mut places = [rect; 2];
    for (index, text) in values.into_iter().enumerate() {
        let right = if index == 0 { rect.right() - wide } else { rect.right() };
        let font = if name.is_empty() { theme::label() } else { theme::text() };
        let colour = match states {
            Some(states) => palette.state(states[index]),
            None if index == 0 || is_same || name.is_empty() => palette.dim,
            None => palette.ink,
        };
        let at = pos2(right, middle);
        let shown = painter.text(at, Align2::RIGHT_CENTER, text, font, colour);
        places[index] = shown;
        if name.is_empty() {
            tips::on_heading(ui, shown, HEADS[index]);
        }
        if let Some(states) = states {
            let at = pos2(shown.left() - space::L, middle);
            marks::small_state(painter, at, states[index], colour);
        }
    }
    places
}

/// Keeps the round with what is done about it.
fn keep(
    ui: &mut Ui,
    study: &Study,
    one: &Correction,
    desk: &mut Desk,
    commands: &mut Vec<Command>,
) {
    ui.add_space(space::S);
    if !one.asks.is_empty() {
        let says = "No side view shows how the board leans and where the neck points: read that \
                    before the shoulder is trimmed.";
        state_line(ui, State::Thin, says);
    }
    ui.horizontal(|ui| {
        let name = format!("Keep this round: {}", one.kind.name());
        let button = marks::main_button(ui, "Keep this round").accessible_name(&name);
        let tip = "Its readings, this correction, day and notes go into the fitting log; the next \
                   reading begins another round on the joint with this wood off";
        if button.on_hover_text(tip).clicked() {
            let done = one.done(false);
            // a note that is still being typed goes with it
            let note = desk.drafts.remove(&Entry::Note).map(|draft| draft.text);
            let step = format!("Keep round {}", round::number(&study.design));
            commands.extend(round::change(&study.design, step, |round| {
                round.done = Some(done);
                if let Some(note) = note {
                    round.note = note;
                }
            }));
            desk.leaf = Some(Leaf::Log);
            (desk.chosen, desk.take, desk.after) = (None, Take::Whole, false);
        }
        if one.asks.is_empty() {
            let words = RichText::new("once it is done").color(theme::palette(ui).dim);
            ui.add(Label::new(words).selectable(false));
        }
        for ask in &one.asks {
            let (text, sort) = match ask {
                Ask::Roll => ("Read the lean", Sort::Roll),
                Ask::Aim => ("Read the aim", Sort::Aim),
            };
            if ui.button(text).on_hover_text(ask.says()).clicked() {
                desk.form.ask(sort);
            }
        }
    });
}
