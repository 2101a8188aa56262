//! One note over the frets: where the string lies at rest, and how low it swings when it is
//! played as hard as wanted.

use egui::{
    Align, ComboBox, Key as Press, Layout, Painter, Pos2, Rect, Role, Stroke, Ui, WidgetInfo, pos2,
    vec2,
};
use egui_plot::{Line, LineStyle, PlotPoint, PlotPoints, PlotTransform, Polygon};
use overstand_core::layout::Layout as Laid;
use overstand_core::strings::{Drawn, Plucking, Swing, swing};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::State;
use overstand_core::working::Figure;

use super::strip::{DIGITS, string_name};
use crate::chart::{Axis, Chart};
use crate::marks;
use crate::panels::headroom_map::{fret_word, note_words, touch_words};
use crate::panels::tips;
use crate::panels::working::{self, Of};
use crate::theme::{self, space, stroke};
use crate::values;
use crate::view::{StringsView, View};

/// Room below the crowns, as a part of what is above them: a string that touches swings
/// through there.
const BELOW: f64 = 0.25;
/// Width and height of a fret's mark, and least distance of their numbers, in logical pixels.
const FRET: [f32; 2] = [3.0, 8.0];
const APART: f64 = 24.0;

/// What is drawn of one note, kept until it changes.
#[derive(Debug, Default)]
pub(crate) struct SwingChart {
    /// The revision, the string, its stop, and to which side it is drawn.
    of: Option<(u64, usize, usize, Option<Drawn>)>,
    /// The stop, 0 for the nut, and from the nut its place.
    stop: (usize, f64),
    /// The frets, from the nut.
    frets: Vec<f64>,
    swings: Vec<Swing>,
}

impl SwingChart {
    /// Works it out anew where the design or what is shown has changed.
    pub(crate) fn update(&mut self, study: &Study, revision: u64, shown: StringsView) {
        let of = Some((revision, shown.string, shown.stop, shown.drawn));
        if self.of == of {
            return;
        }
        self.of = of;
        let Some(layout) = study.layout() else { return };
        self.frets.clone_from(&layout.positions);
        self.stop = (shown.stop, self.place(shown.stop));
        self.swings = swing(&study.design, layout, shown.string, shown.stop, shown.drawn);
    }

    /// Where a fret stands from the nut; 0 for the nut.
    fn place(&self, fret: usize) -> f64 {
        fret.checked_sub(1).and_then(|index| self.frets.get(index)).copied().unwrap_or(0.0)
    }

    /// The state of the whole note.
    fn state(&self) -> State {
        self.swings.iter().map(|one| one.state).min().unwrap_or(State::Good)
    }

    /// The string at rest, and where it swings lowest, from the stop on.
    fn lines(&self) -> [Vec<[f64; 2]>; 2] {
        let rest = self.swings.iter().map(|one| [self.place(one.fret), one.rest]);
        let lowest = self.swings.iter().map(|one| [self.place(one.fret), one.lowest]);
        // an open string comes from a nut that stands a little over the crowns
        let stop = (self.stop.0 > 0).then_some([self.stop.1, 0.0]);
        [stop.into_iter().chain(rest).collect(), stop.into_iter().chain(lowest).collect()]
    }

    /// The frets whose numbers have room, so many mm apart.
    fn numbers(&self, apart: f64) -> Vec<(f64, String)> {
        let mut kept: Vec<(f64, String)> = Vec::new();
        for (&at, number) in self.frets.iter().zip(1..) {
            if kept.last().is_none_or(|(last, _)| at - last >= apart) {
                kept.push((at, number.to_string()));
            }
        }
        kept
    }

    /// The fret nearest to a place along the board.
    fn nearest(&self, at: f64) -> Option<usize> {
        let away = |fret: &usize| (self.place(*fret) - at).abs();
        (1..=self.frets.len()).min_by(|a, b| away(a).total_cmp(&away(b)))
    }
}

/// Shows it in a rectangle of the screen.
pub(crate) fn show(
    ui: &mut Ui,
    rect: Rect,
    study: &Study,
    drawn: &SwingChart,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    let mut ui = ui.new_child(egui::UiBuilder::new().id_salt("swing").max_rect(rect));
    ui.set_clip_rect(ui.clip_rect().intersect(rect));
    let ui = &mut ui;
    let Some(layout) = study.layout() else { return };
    controls(ui, rect, study, layout, view);
    let shown = view.strings;
    let says = words(study, layout, shown, style);
    let line = Rect::from_min_size(
        rect.min + vec2(space::XL, space::S),
        vec2(rect.width() / 2.0, space::HIT),
    );
    let colour = palette.state(drawn.state());
    marks::state(ui.painter(), line.left_center() + vec2(space::S, 0.0), drawn.state(), colour);
    let room = Rect::from_min_max(line.min + vec2(space::XL, 0.0), line.max);
    let label = egui::Label::new(egui::RichText::new(&says).font(theme::strong()));
    let mut words = ui.new_child(
        egui::UiBuilder::new().max_rect(room).layout(Layout::left_to_right(Align::Center)),
    );
    let said = words.add(label.truncate().selectable(false)).on_hover_text(&says);
    let StringsView { string, stop, drawn: to, .. } = shown;
    let figure = Figure::Plucked { string, stop, drawn: to, as_force: false };
    if !drawn.swings.is_empty() {
        working::opener(ui, said.rect, "swing", figure, &says, view);
    }

    let (Some(&first), Some(&last)) = (drawn.frets.first(), drawn.frets.last()) else { return };
    let area = Rect::from_min_max(
        rect.min + vec2(space::M, space::CANVAS_HEAD),
        rect.max - vec2(space::M, space::S),
    );
    let [rest, lowest] = drawn.lines();
    let highest = rest.iter().map(|point| point[1]).fold(0.1, f64::max);
    let deepest = rest.iter().map(|point| point[1]).fold(-BELOW * highest, f64::min);
    let before = if drawn.frets.len() > 1 { first } else { 0.0 };
    let length = last - before;
    let zoom = f64::from((area.width() - 2.0 * space::FIT).max(1.0)) / length.max(1.0);
    let axes = [Axis::named("", drawn.numbers(APART / zoom)), Axis::length("Clearance", style)];
    let mut plot_ui = ui.new_child(egui::UiBuilder::new().id_salt("plot").max_rect(area));
    let ink = palette.ink;
    let shade = colour.gamma_multiply(0.12);
    let chart = Chart::new(&plot_ui, "swing", "", axes)
        .tip(|_| None)
        .with(|plot| {
            plot.show_x(false)
                .show_y(false)
                .include_y(1.08 * highest)
                .include_y(1.05 * deepest)
                .include_x(before - 0.02 * length)
                .include_x(last + 0.02 * length)
                .set_margin_fraction(egui::Vec2::ZERO)
                .show_grid([false, true])
        })
        .without_keys();
    let dim = palette.dim;
    let shown_chart = chart.show(&mut plot_ui, move |plot| {
        for (above, below) in rest.windows(2).zip(lowest.windows(2)) {
            if let ([a, b], [c, d]) = (above, below) {
                let corners = PlotPoints::from(vec![*a, *b, *d, *c]);
                let area = Polygon::new("swing", corners).fill_color(shade);
                plot.polygon(area.stroke(Stroke::NONE).allow_hover(false));
            }
        }
        let pen = Stroke::new(stroke::STRONG, ink);
        plot.line(Line::new("rest", PlotPoints::from(rest)).stroke(pen).allow_hover(false));
        let pen = Stroke::new(stroke::STRING, dim);
        let line = Line::new("lowest", PlotPoints::from(lowest)).stroke(pen).allow_hover(false);
        plot.line(line.style(LineStyle::dashed_dense()));
    });
    let response = shown_chart.response;
    response.widget_info(|| {
        WidgetInfo::slider(true, shown.stop as f64, "Fret at which the string is stopped")
    });
    let transform = shown_chart.transform;
    let painter = ui.painter().with_clip_rect(response.rect);
    over(&painter, &transform, drawn, palette);
    let pointed =
        response.hover_pos().and_then(|at| drawn.nearest(transform.value_from_position(at).x));
    choose_stop(ui, &response, pointed, drawn.frets.len(), view);
    if let Some(fret) = pointed.filter(|_| working::is_asked(ui, &response)) {
        Of::from(Figure::Swings { string, stop, fret, drawn: to }).toggle(view);
    }
    if let Some(fret) = pointed {
        let x = transform.position_from_point(&PlotPoint::new(drawn.place(fret), 0.0)).x;
        let pen = Stroke::new(stroke::THIN, palette.hairline);
        painter.vline(x, response.rect.y_range(), pen);
        let one = drawn.swings.iter().find(|one| one.fret == fret).copied();
        response.on_hover_ui_at_pointer(|ui| tip(ui, (fret_word(layout), fret), one, style));
    }
}

/// Frets, the stop, and how near the swing comes to each fret.
fn over(
    painter: &Painter,
    transform: &PlotTransform,
    drawn: &SwingChart,
    palette: &theme::Palette,
) {
    let at = |x: f64, y: f64| -> Pos2 { transform.position_from_point(&PlotPoint::new(x, y)) };
    for &fret in &drawn.frets {
        let crown = at(fret, 0.0);
        let mark = Rect::from_min_max(
            pos2(crown.x - FRET[0] / 2.0, crown.y),
            pos2(crown.x + FRET[0] / 2.0, crown.y + FRET[1]),
        );
        painter.rect_filled(mark, 1.0, palette.dim);
    }
    if drawn.stop.0 > 0 {
        painter.circle_filled(at(drawn.stop.1, 0.0), space::S, palette.ink);
    }
    let bottom = painter.clip_rect().bottom() - space::M;
    for one in &drawn.swings {
        let at = at(drawn.place(one.fret), one.lowest);
        let at = pos2(at.x, at.y.min(bottom));
        painter.circle_filled(at, space::S + 1.0, palette.paper);
        let colour = palette.state(one.state);
        if one.state == State::Good {
            marks::small_state(painter, at, one.state, colour);
        } else {
            marks::state(painter, at, one.state, colour);
        }
    }
}

/// What a note comes to, in a sentence.
fn words(study: &Study, layout: &Laid, shown: StringsView, style: LengthStyle) -> String {
    let design = &study.design;
    let plucking = Plucking::new(layout, design.wanted.pluck_place.to_mm());
    let most = match shown.drawn {
        None => plucking.most(shown.string, shown.stop),
        Some(drawn) => plucking.most_drawn(shown.string, shown.stop, drawn),
    };
    let name = string_name(study, shown.string);
    let note = format!("{name}, {}", note_words(shown.stop, layout));
    let mm = |value| values::show(value, Unit::Length, DIGITS, style);
    match most {
        Some(most) if most.most <= 0.0 => {
            format!("{note}: at rest it touches {}", touch_words(most, layout))
        }
        Some(most) => format!(
            "{note}: first touches at {}, plucked by {}",
            touch_words(most, layout),
            mm(most.most)
        ),
        None => format!("{note}: it cannot be plucked there"),
    }
}

/// The swing over one fret.
fn tip(ui: &mut Ui, (word, fret): (&str, usize), one: Option<Swing>, style: LengthStyle) {
    ui.label(egui::RichText::new(format!("Over {word} {fret}")).font(theme::strong()));
    let Some(one) = one else {
        ui.label("The string is stopped here or beyond.");
        return;
    };
    let mm = |value| values::show(value, Unit::Length, DIGITS, style);
    ui.label(format!("At rest {}", mm(one.rest)));
    if one.lowest > 0.0 {
        ui.label(format!("Swings down to {}", mm(one.lowest)));
    } else {
        ui.label(format!("Would swing {} too low", mm(-one.lowest)));
    }
    tips::small(ui, working::KEY_SAYS);
}

/// The fret at which the string is stopped: clicked, or chosen by the arrow keys.
fn choose_stop(
    ui: &Ui,
    response: &egui::Response,
    pointed: Option<usize>,
    frets: usize,
    view: &mut View,
) {
    let last = frets.saturating_sub(1);
    let stop = &mut view.strings.stop;
    if response.clicked()
        && let Some(fret) = pointed
    {
        // the second click of two, which fit the frets, takes nothing away
        let again = *stop == fret && !response.double_clicked();
        *stop = if again { 0 } else { fret.min(last) };
    }
    if response.has_focus() {
        let filter = egui::EventFilter { horizontal_arrows: true, ..Default::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let (less, more) = ui.input(|input| {
            (input.key_pressed(Press::ArrowLeft), input.key_pressed(Press::ArrowRight))
        });
        *stop = (*stop + usize::from(more)).saturating_sub(usize::from(less)).min(last);
    }
}

/// Which string, and where it is stopped.
fn controls(ui: &mut Ui, rect: Rect, study: &Study, layout: &Laid, view: &mut View) {
    let ui = &mut super::head(ui, rect);
    let shown = &mut view.strings;
    let stops = layout.positions.len();
    let response = ComboBox::from_id_salt("stop of the swing")
        .selected_text(note_words(shown.stop, layout))
        .show_ui(ui, |ui| {
            for stop in 0..stops {
                ui.selectable_value(&mut shown.stop, stop, note_words(stop, layout));
            }
        })
        .response;
    response.accessible_name("Where the string is stopped");
    let name = |index: usize| format!("{} · {}", index + 1, string_name(study, index));
    let response = ComboBox::from_id_salt("string of the swing")
        .selected_text(name(shown.string))
        .show_ui(ui, |ui| {
            for index in 0..study.design.strings.len() {
                ui.selectable_value(&mut shown.string, index, name(index));
            }
        })
        .response;
    response.accessible_name("String shown over the frets");
    let heading = egui::RichText::new("Shown").color(theme::palette(ui).dim);
    let response = ui.add(egui::Label::new(heading).selectable(false));
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, "Shown"));
}
