//! How true: what each error costs, how likely the set plays, and where to aim so that a miss
//! still does.

mod aim;
mod errors;
mod hold;
mod map;
mod picture;
mod point;
mod regions;
mod spread;
mod tolerances;
mod work;

use std::sync::Arc;

use egui::{CentralPanel, Frame, Label, Panel, RichText, Sense, Ui, Vec2, vec2};
use overstand_core::dimension::Dim;
use overstand_core::risk::{
    CheckSpread, Plan, Risk, Safest, Suffices, Tolerated, Trials, show_chance, toleranced,
};
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::working::OfTrials;
use overstand_drawing::elevation;
use overstand_drawing::handles::{Handle, handles};
use overstand_drawing::scene::Scene;

use crate::canvas::{self, Sheet};
use crate::command::Command;
use crate::marks;
use crate::pages::{below, on_paper, sized, unclosed};
use crate::panels::working::{self, counted};
use crate::theme::{self, space};
use crate::view::{CanvasId, HowTrueView, TrueSheet, View};

use map::MapChart;
use work::{Task, stale};

/// Rest after the last change before trials begin, in seconds.
const REST: f64 = 0.4;
/// Part of the width beside the map.
const BESIDE: f32 = 0.42;
/// Height of what the map's patterns mean.
const LEGEND: f32 = 132.0;
/// Said where every dimension is exact.
const NOTHING_MISSES: &str = "Nothing misses: every dimension is taken as exact. Give one a ± in \
                              the list at the left.";

/// What is worked out of one study, kept until it changes.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    of: Option<(u64, HowSeen)>,
    /// None of a design that does not close.
    risk: Option<Arc<Risk>>,
    /// The list of tolerances.
    listed: Vec<Tolerated>,
    /// How each check spreads, with what it is of; not worked out while something is dragged.
    spreads: Option<(u64, Vec<CheckSpread>)>,
    /// When the design changed last.
    changed: f64,
    map: MapChart,
    trials: Task<u64, Trials>,
    safest: Task<aim::Ask, Safest>,
    suffices: Task<hold::Ask, Suffices>,
    scene: Scene,
    handles: Vec<Handle>,
    bounds: Option<kurbo::Rect>,
}

/// What of the view the map hangs on.
type HowSeen = ([overstand_core::dimension::Key; 2], usize, bool);

fn seen(shown: &HowTrueView, is_dragging: bool) -> HowSeen {
    (shown.map, shown.reach, is_dragging)
}

impl Worked {
    /// Another design is open: nothing is said of the last one.
    pub(crate) fn forget_design(&mut self) {
        *self = Self::default();
    }

    /// Nobody looks: what began by itself is given up, and begins again when the page is shown.
    pub(crate) fn rest(&mut self) {
        self.trials.give_up();
        self.map.rest();
    }

    fn update(&mut self, ui: &Ui, study: &Study, revision: u64, view: &mut View) {
        let is_dragging = view.drag.is_some();
        let now = ui.input(|input| input.time);
        let of = (revision, seen(&view.how_true, is_dragging));
        if self.of != Some(of) {
            if self.of.is_none_or(|(known, _)| known != revision) {
                self.changed = now;
                self.risk = Risk::of(study).map(Arc::new);
                self.listed = toleranced(&study.design);
                self.scene = elevation::elevation(study);
                let from_afar = [Dim::CrestHeight, Dim::Pitch];
                self.handles = handles(study);
                self.handles.retain(|handle| from_afar.contains(&handle.dim));
                self.bounds = elevation::joint_to_tail(study);
            }
            if let Some(risk) = &self.risk {
                self.map.note(study, risk, view);
            }
            // which dimensions are shown may have been put right
            self.of = Some((revision, seen(&view.how_true, is_dragging)));
        }
        self.safest.hear();
        self.suffices.hear();
        self.trials.hear();
        self.trials.give_up_others(&revision);
        let Some(risk) = &self.risk else { return };
        self.map.update(ui, risk);
        if is_dragging || risk.tolerated.is_empty() || !self.trials.wants(&revision) {
            return;
        }
        let left = self.changed + REST - now;
        if left > 0.0 {
            ui.ctx().request_repaint_after_secs(left as f32);
        } else {
            run_trials(&mut self.trials, ui, risk, revision);
        }
    }
}

fn run_trials(trials: &mut Task<u64, Trials>, ui: &Ui, risk: &Arc<Risk>, revision: u64) {
    let risk = Arc::clone(risk);
    trials.start(ui.ctx(), revision, move |watch| risk.trials(&Plan::usual(), watch));
}

/// Shows the page; `side` is the frame of what stands at its sides.
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    revision: u64,
    style: LengthStyle,
    side: Frame,
    worked: &mut Worked,
    view: &mut View,
) -> Vec<Command> {
    worked.update(ui, study, revision, view);
    let Some(risk) = worked.risk.clone() else {
        let why = "Nothing can be said about how true it must be made as long as the design does \
                   not close. The panel on the right says what is wrong.";
        return unclosed(ui, study, revision, style, side, why, view);
    };
    let mut commands = Vec::new();
    sized(Panel::left("tolerances"), side, space::TOLERANCES)
        .show(ui, |ui| tolerances::show(ui, study, &worked.listed, style, view, &mut commands));
    Panel::top("chance").frame(on_paper(ui)).resizable(false).show(ui, |ui| {
        ui.take_available_width();
        chance(ui, &risk, revision, worked, view);
    });
    below(ui, "below the map", space::BELOW_MAP, 2.0 * space::CANVAS).show(ui, |ui| {
        ui.take_available_width();
        sheets(ui, study, &risk, revision, worked, style, view, &mut commands);
        ui.take_available_height();
    });
    CentralPanel::no_frame().show(ui, |ui| {
        let all = ui.available_rect_before_wrap();
        ui.painter().rect_filled(all, 0.0, theme::palette(ui).paper);
        let (map_rect, beside) = all.split_left_right_at_fraction(1.0 - BESIDE);
        let child = |salt, rect| egui::UiBuilder::new().id_salt(salt).max_rect(rect);
        let inner = map_rect.shrink2(vec2(space::XL, space::S));
        let ui_map = &mut ui.new_child(child("map", inner));
        map::show(ui_map, study, &mut worked.map, style, view, &mut commands);
        let (drawing, legend) =
            beside.split_top_bottom_at_y((beside.bottom() - LEGEND).max(beside.top()));
        let sheet = Sheet {
            id: CanvasId::BesideMap,
            heading: "Joint to tail",
            place: "beside the map",
            study,
            whose: None,
            scene: &worked.scene,
            handles: &worked.handles,
            labelled: &[Dim::CrestHeight, Dim::Pitch],
            bounds: worked.bounds,
            style,
            empty: "There is nothing to draw as long as the design makes no sense.",
        };
        canvas::show(ui, drawing, &sheet, view, &mut commands);
        canvas::stretch_menu(ui, drawing.right_bottom() - vec2(space::L, space::XL), &sheet, view);
        let inner = legend.shrink2(vec2(space::XL, space::S));
        picture::legend(&mut ui.new_child(child("legend", inner)));
    });
    if worked.of.is_some_and(|(_, was)| was != seen(&view.how_true, view.drag.is_some())) {
        // what was chosen is shown at once, not when the pointer moves next
        ui.ctx().request_repaint();
    }
    commands
}

/// The chance that it plays, and how far the trials are.
fn chance(ui: &mut Ui, risk: &Arc<Risk>, revision: u64, worked: &mut Worked, view: &mut View) {
    let palette = theme::palette(ui);
    if risk.tolerated.is_empty() {
        theme::remark(ui, NOTHING_MISSES);
        return;
    }
    ui.horizontal(|ui| {
        let words = |ui: &mut Ui, text: String, font, colour| {
            let words = RichText::new(text).font(font).color(colour);
            ui.add(Label::new(words).selectable(false));
        };
        match worked.trials.answer(&revision) {
            None => words(
                ui,
                "How likely it plays is seen when the set has been made many times over."
                    .to_owned(),
                theme::text(),
                palette.dim,
            ),
            Some((trials, is_now)) => {
                let state = trials.state();
                let colour = if is_now { palette.state(state) } else { palette.dim };
                let (mark, _) = ui.allocate_exact_size(Vec2::splat(space::XL), Sense::hover());
                marks::state(ui.painter(), mark.center(), state, colour);
                let all = trials.count;
                let share = |what, of| OfTrials::Share { what, of, all };
                let plays = counted(share("It plays with adjustment left", trials.plays), view);
                let told = show_chance(trials.chance());
                let spoken = format!("the chance that it plays, {told}, {}", state.text());
                working::figure(ui, &told, theme::word(), colour, plays, &spoken, view);
                let ink = if is_now { palette.ink } else { palette.dim };
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    ui.horizontal(|ui| {
                        ui.spacing_mut().item_spacing.x = space::S;
                        let text = format!(
                            "It plays with adjustment left in {told} of the sets made like this; \
                             with every check good in"
                        );
                        words(ui, text, theme::strong(), ink);
                        let good = show_chance(trials.chance_good());
                        let figure = counted(share("Every check is good", trials.good), view);
                        let spoken = format!("the chance that every check is good, {good}");
                        working::figure(ui, &good, theme::strong(), ink, figure, &spoken, view);
                    });
                    ui.horizontal(|ui| {
                        let count = thousands(trials.count);
                        if trials.count == trials.plays {
                            let text = format!("Of {count} trials none failed.");
                            words(ui, text, theme::text(), palette.dim);
                        } else {
                            let text = format!("{count} trials: the chance is known to");
                            words(ui, text, theme::text(), palette.dim);
                            let within = format!("± {:.1} %", 100.0 * trials.chance_within());
                            let of = OfTrials::Within { of: trials.plays, all };
                            let (font, colour) = (theme::text(), palette.dim);
                            let figure = counted(of, view);
                            let spoken = format!("how well the chance is known, {within}");
                            working::figure(ui, &within, font, colour, figure, &spoken, view);
                        }
                        if !is_now {
                            stale(ui);
                        }
                    });
                });
            }
        }
        if worked.trials.is_working() {
            worked.trials.progress(ui, "trials");
        } else if worked.trials.was_stopped(&revision) {
            let again = ui.button("Run the trials");
            if again.clicked() {
                run_trials(&mut worked.trials, ui, risk, revision);
            }
        }
    });
}

/// A count with a gap between its thousands.
fn thousands(count: u64) -> String {
    let digits = count.to_string();
    let mut text = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(' ');
        }
        text.push(digit);
    }
    text
}

/// What stands below the map.
#[expect(clippy::too_many_arguments, reason = "all of the page meets there")]
fn sheets(
    ui: &mut Ui,
    study: &Study,
    risk: &Arc<Risk>,
    revision: u64,
    worked: &mut Worked,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let shown = view.how_true.sheet;
    if let Some(chosen) = marks::tabs(ui, &TrueSheet::ALL, TrueSheet::name, shown) {
        view.how_true.sheet = chosen;
    }
    ui.add_space(space::S);
    let sheet = view.how_true.sheet;
    if risk.tolerated.is_empty() && sheet != TrueSheet::Aim {
        theme::remark(ui, NOTHING_MISSES);
        return;
    }
    match sheet {
        TrueSheet::Errors => errors::show(ui, &study.design, risk, style, view),
        TrueSheet::Spread => {
            let is_stale = worked.spreads.as_ref().is_none_or(|(of, _)| *of != revision);
            if is_stale && view.drag.is_none() {
                worked.spreads = Some((revision, risk.checks()));
            }
            let spreads = worked.spreads.as_ref().map_or(&[][..], |(_, spreads)| spreads);
            let trials = worked.trials.answer(&revision);
            spread::show(ui, risk, spreads, trials, style, view);
        }
        TrueSheet::Aim => {
            aim::show(ui, study, risk, revision, &mut worked.safest, style, view, commands);
        }
        TrueSheet::Hold => {
            hold::show(ui, study, risk, revision, &mut worked.suffices, style, view, commands);
        }
    }
}

/// What stands over the columns of the sheets, each with the term that explains it.
#[cfg(test)]
pub(crate) fn headings() -> impl Iterator<Item = (&'static str, &'static str)> {
    errors::HEADS.into_iter().chain(spread::HEADS)
}

#[cfg(test)]
mod tests {
    use super::thousands;

    #[test]
    fn a_count_is_read_by_its_thousands() {
        for (count, text) in [(0, "0"), (999, "999"), (60_000, "60 000"), (1_234_567, "1 234 567")]
        {
            assert_eq!(thousands(count), text);
        }
    }
}
