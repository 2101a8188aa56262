//! Headroom over relief: the curve, where it stands now, and the best there is, to apply.

use egui::{Align2, Label, RichText, ScrollArea, Stroke, Ui, vec2};
use egui_plot::{HLine, Line, LineStyle, MarkerShape, PlotPoints, Points, Text, VLine};
use overstand_core::dimension::Dim;
use overstand_core::sentence::lower;
use overstand_core::strings::relief_search::{self, AtRelief};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, unbroken};
use overstand_core::verdict::{Change, CheckId, Proposal};
use overstand_core::working::Figure;

use super::working::{self, KEY_SAYS, Of, Whose};
use crate::chart::{Axis, Chart, asked_at, place};
use crate::command::Command;
use crate::theme::{self, space, stroke};
use crate::view::View;
use crate::{drive, marks, values};

/// Points of the curve.
const POINTS: u32 = 61;
/// Decimals of a relief or a travel that mean something.
const DIGITS: usize = 2;

/// What was found for one study. All of it together takes some 2 ms, of which most goes
/// into the action; `cargo bench --bench strings` of the core measures it.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    /// The revision, the units of what is said, and whether the action was looked for as well.
    of: Option<(u64, LengthStyle, bool)>,
    curve: Vec<AtRelief>,
    now: Option<AtRelief>,
    best: Option<AtRelief>,
    /// What the best relief would bring.
    relief: Option<Result<Proposal, String>>,
    /// The same with the action that the wanted hardness needs.
    action: Option<(f64, Result<Proposal, String>)>,
    /// Where there is no such action: what limits it, and what the clearance over fret 1
    /// would bring besides.
    highest: Option<AtRelief>,
    set_up: Option<Result<Proposal, String>>,
}

impl Worked {
    /// Works it out anew where the design has changed; while something is dragged without
    /// the action.
    pub(crate) fn update(
        &mut self,
        study: &Study,
        revision: u64,
        style: LengthStyle,
        is_dragging: bool,
    ) {
        let is_known = self.of.is_some_and(|(of, units, full)| {
            (of, units) == (revision, style) && (full || is_dragging)
        });
        if is_known {
            return;
        }
        let design = &study.design;
        let propose =
            |sets: &[_]| Proposal::of(study, sets).map_err(|open| drive::why_open(&open, style));
        let best = relief_search::best_at_bench(design);
        *self = Self {
            of: Some((revision, style, !is_dragging)),
            curve: relief_search::curve(design, POINTS),
            now: relief_search::at_relief(design, design.wanted.relief.to_mm()),
            best,
            relief: best.map(|best| propose(&[(Dim::Relief.key(), best.relief)])),
            action: None,
            highest: None,
            set_up: None,
        };
        if is_dragging {
            return;
        }
        let (wanted, reserve) = relief_search::asked(design);
        let sets = relief_search::action_at_bench(design, wanted + reserve);
        self.action = sets.map(|(shift, sets)| (shift, propose(&sets)));
        if self.action.is_none() {
            self.highest = relief_search::at_highest_action(design);
            let sets = relief_search::set_up_for(design, wanted + reserve);
            self.set_up = sets.map(|sets| propose(&sets));
        }
    }
}

/// Shows chart and words, beside each other where there is room.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    worked: &Worked,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let (Some(now), Some(best)) = (worked.now, worked.best) else {
        let text = "There is no note that could be plucked where the design says.";
        theme::remark(ui, text);
        return;
    };
    beside(
        ui,
        view,
        |ui, view| chart(ui, study, worked, (now, best), style, view),
        |ui, view| words(ui, study, worked, (now, best), style, view, commands),
    );
}

/// A chart with its words: at its right where there is room, else below.
pub(crate) fn beside(
    ui: &mut Ui,
    view: &mut View,
    chart: impl FnOnce(&mut Ui, &mut View),
    words: impl FnOnce(&mut Ui, &mut View),
) {
    let all = ui.available_rect_before_wrap();
    let is_wide = all.width() >= space::BESIDE_CHART;
    let (chart_rect, words_rect) = if is_wide {
        let (left, right) = all.split_left_right_at_fraction(0.6);
        (left, right.with_min_x(right.left() + space::XL))
    } else {
        all.split_top_bottom_at_fraction(0.5)
    };
    let child = |salt, rect| egui::UiBuilder::new().id_salt(salt).max_rect(rect);
    chart(&mut ui.new_child(child("chart", chart_rect)), view);
    let ui = &mut ui.new_child(child("words", words_rect));
    ScrollArea::vertical().id_salt("words").auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        words(ui, view);
    });
}

fn chart(
    ui: &mut Ui,
    study: &Study,
    worked: &Worked,
    (now, best): (AtRelief, AtRelief),
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    let mm = move |value: f64| values::show(value, Unit::Length, DIGITS, style);
    let name = format!(
        "Headroom over relief: {} at {} now, {} at {} at best",
        mm(now.headroom),
        mm(now.relief),
        mm(best.headroom),
        mm(best.relief)
    );
    let axes = [Axis::length("Relief", style), Axis::length("Takes before it touches", style)];
    let curve: Vec<[f64; 2]> = worked.curve.iter().map(|at| [at.relief, at.headroom]).collect();
    let wanted = study.design.wanted.pluck_travel.to_mm();
    let tips = worked.curve.clone();
    let design = study.design.clone();
    let word = if design.is_fretted() { "fret" } else { "semitone" };
    let shown = Chart::new(ui, "headroom over relief", name, axes)
        .tip(move |at| {
            let near = nearest(&tips, place(at).x)?;
            let string = design.strings.get(near.string).map_or("", |string| &string.name);
            Some(format!(
                "relief {}\ntakes {}\n{string} touches first, at {word} {}\n{KEY_SAYS}",
                mm(near.relief),
                mm(near.headroom),
                near.at.fret
            ))
        })
        .with(|plot| plot.include_y(0.0))
        .show(ui, move |plot| {
            let thin = Stroke::new(stroke::VISIBLE, palette.dim);
            plot.hline(
                HLine::new("wanted", wanted)
                    .stroke(thin)
                    .style(LineStyle::dashed_dense())
                    .allow_hover(false),
            );
            plot.vline(
                VLine::new("now", now.relief)
                    .stroke(thin)
                    .style(LineStyle::dotted_dense())
                    .allow_hover(false),
            );
            let pen = Stroke::new(stroke::STRONG, palette.ink);
            plot.line(Line::new("headroom", PlotPoints::from(curve)).stroke(pen));
            for (says, at, filled) in [("now", now, true), ("best", best, false)] {
                plot.points(
                    Points::new(says, vec![[at.relief, at.headroom]])
                        .shape(MarkerShape::Circle)
                        .radius(space::S + 1.0)
                        .filled(filled)
                        .color(palette.ink)
                        .allow_hover(false),
                );
            }
            let label = |text: &str| RichText::new(text).font(theme::heading());
            // under the curve's top, each on its own side
            let sides = match best.relief >= now.relief {
                true => [Align2::RIGHT_TOP, Align2::LEFT_TOP],
                false => [Align2::LEFT_TOP, Align2::RIGHT_TOP],
            };
            for (says, x, y, anchor) in [
                ("now", now.relief, now.headroom, sides[0]),
                ("best", best.relief, best.headroom, sides[1]),
                ("wanted", relief_search::RANGE.1, wanted, Align2::RIGHT_BOTTOM),
            ] {
                let text = format!(" {says} ");
                plot.text(
                    Text::new(says, [x, y].into(), label(&text)).color(palette.ink).anchor(anchor),
                );
            }
        });
    if let Some(at) = asked_at(ui, &shown, [now.relief, now.headroom].into()) {
        let relief = nearest(&worked.curve, at.x).map_or(now.relief, |near| near.relief);
        Of::from(Figure::AtRelief(relief)).toggle(view);
    }
}

/// The point of the curve that is nearest to a relief.
fn nearest(curve: &[AtRelief], relief: f64) -> Option<&AtRelief> {
    let off = |at: &AtRelief| (at.relief - relief).abs();
    curve.iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}

fn words(
    ui: &mut Ui,
    study: &Study,
    worked: &Worked,
    (now, best): (AtRelief, AtRelief),
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let mm = |value| values::show(value, Unit::Length, DIGITS, style);
    let line = |at: AtRelief| {
        let string = study.design.strings.get(at.string).map_or("", |string| &string.name);
        if at.headroom <= 0.0 {
            return format!("With a relief of {}, {string} touches at rest.", mm(at.relief));
        }
        let from = match at.at.stop {
            0 => String::new(),
            stop => format!(" from note {stop}"),
        };
        format!(
            "With a relief of {} every string takes {} before it touches: first {string} at {}{from}.",
            mm(at.relief),
            mm(at.headroom),
            at.at.fret
        )
    };
    let said = ui.add(Label::new(unbroken(&line(now))).wrap());
    let spoken = format!("headroom with the relief as it is, {}", mm(now.headroom));
    working::sentence(ui, &said, "now", Figure::AtRelief(now.relief), &spoken, view);
    let is_best = (best.relief - now.relief).abs() < 0.005;
    let text = if is_best {
        "That is the best relief there is for this action.".to_owned()
    } else {
        line(best)
    };
    let said = ui.add(Label::new(RichText::new(unbroken(&text)).font(theme::strong())).wrap());
    let spoken = format!("best relief, {}", mm(best.relief));
    working::sentence(ui, &said, "words", Figure::BestRelief, &spoken, view);
    if !is_best {
        offer(ui, "Apply the best relief", worked.relief.as_ref(), style, view, commands);
    }
    ui.add_space(space::M);
    let (wanted, reserve) = relief_search::asked(&study.design);
    let wanted = format!("{} with {} to spare", mm(wanted), mm(reserve));
    match &worked.action {
        Some((shift, proposal)) => {
            let (may, way) = if *shift > 0.0 { ("must", "higher") } else { ("can", "lower") };
            let text = match proposal {
                Ok(proposal) if proposal.is_empty() => {
                    format!("To be played by {wanted} the action is as high as it must be.")
                }
                _ => format!(
                    "To be played by {wanted}, the action {may} stand {} {way}, at its best relief.",
                    mm(shift.abs())
                ),
            };
            let said = ui.add(Label::new(unbroken(&text)).wrap());
            // it was sought: what it comes to shows that it is enough
            if let Ok(then) = proposal
                && !then.is_empty()
            {
                let at = Figure::AtRelief(then.design.wanted.relief.to_mm());
                let whose = Whose { name: "with action and relief", design: &then.design };
                let spoken = format!("headroom with the action {} {way}", mm(shift.abs()));
                working::sentence(ui, &said, "action", Of::new(at, Some(whose)), &spoken, view);
            }
            offer(ui, "Apply action and relief", Some(proposal), style, view, commands);
        }
        None if worked.of.is_some_and(|(.., full)| full) => {
            let why = match worked.highest.map(|at| (at.at.stop, at.at.fret)) {
                Some((0, fret)) => format!(
                    ": however high it is, an open string touches at {fret}. It needs more clearance over fret 1."
                ),
                Some((stop, fret)) => {
                    format!(": at the highest, note {stop} still touches at {fret}.")
                }
                None => ".".to_owned(),
            };
            let text = format!("No action lets it be played by {wanted}{why}");
            theme::remark(ui, text);
            offer(
                ui,
                "Apply clearance, action and relief",
                worked.set_up.as_ref(),
                style,
                view,
                commands,
            );
        }
        None => {}
    }
}

/// What a change would bring, and the button that makes it.
pub(crate) fn offer(
    ui: &mut Ui,
    text: &'static str,
    proposal: Option<&Result<Proposal, String>>,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let proposal = match proposal {
        None => return,
        Some(Err(why)) => {
            let text = format!("It cannot be applied: {}", lower(why));
            theme::remark(ui, text);
            return;
        }
        Some(Ok(proposal)) if proposal.is_empty() => return,
        Some(Ok(proposal)) => proposal,
    };
    let change = |change: &Change| {
        let info = change.key.dim.info();
        let [from, to] = [change.from, change.to].map(|value| values::show_dim(info, value, style));
        (from != to).then(|| format!("{} {from} → {to}", change.key.name(&proposal.design)))
    };
    let list = |changes: &[_]| changes.iter().filter_map(change).collect::<Vec<_>>().join("; ");
    let mut says = format!("It changes: {}.", list(&proposal.changes));
    let follows = list(&proposal.follows);
    if !follows.is_empty() {
        says += &format!(" What is found follows: {follows}.");
    }
    let names = |ids: &[CheckId]| {
        ids.iter().map(|id| id.name().to_lowercase()).collect::<Vec<_>>().join(", ")
    };
    if !proposal.better.is_empty() {
        says += &format!(" Better: {}.", names(&proposal.better));
    }
    if !proposal.worse.is_empty() {
        says += &format!(" But it costs: {}.", names(&proposal.worse));
    }
    theme::remark(ui, says);
    let with = format!("with {}", text.trim_start_matches("Apply "));
    let whose = Some(Whose { name: &with, design: &proposal.design });
    // what is held then has none
    let is_found = |at: &&Change| at.key.is_found(&proposal.design) && change(at).is_some();
    for follows in proposal.follows.iter().filter(is_found) {
        let name = lower(&follows.key.name(&proposal.design));
        let link = marks::link(ui, &format!("Show the working of {name} then"));
        if link.accessible_name(format!("Working of {name} {with}")).clicked() {
            Of::new(Figure::Dim(follows.key), whose).toggle(view);
        }
    }
    ui.add_space(space::S);
    if marks::main_button(ui, text).clicked() {
        commands.push(Command::edit(text, proposal.design.clone()));
    }
    ui.add_space(vec2(0.0, space::S).y);
}
