//! Charts: a plot with axes in our type and colours, the same hand for all of them.
//!
//! Turning the wheel with Ctrl, or pinching, zooms at the pointer; the middle button pans; a
//! double click fits. With the focus on the chart the arrows pan, + and − zoom, Home fits.

use egui::{
    EventFilter, Key as Press, PointerButton, RichText, Role, Ui, Vec2, WidgetInfo, WidgetText,
    vec2,
};
use egui_plot::{
    AxisHints, GridInput, GridMark, HoverPosition, Plot, PlotPoint, PlotResponse, PlotUi,
};
use overstand_core::units::{LengthStyle, MM_PER_INCH, show_number};

use crate::marks;
use crate::panels::working;
use crate::theme::{self, Palette, space};

/// Least distance between the marks of an axis, in logical pixels: across, up.
const APART: [f32; 2] = [64.0, 26.0];
/// The distance of grid lines that the plot asks for; the marks' own comes from it.
const GRID: f32 = 8.0;
/// Kept for an axis: marks alone, marks and name; across below, up at the left.
const THICK: [[f32; 2]; 2] = [[16.0, 34.0], [40.0, 56.0]];

/// What an axis is of, and where it has its marks.
#[derive(Clone, Debug)]
pub(crate) struct Axis {
    /// Its name with the unit; empty for none.
    says: String,
    marks: Marks,
}

/// The marks of an axis.
#[derive(Clone, Debug)]
enum Marks {
    /// Round numbers; a unit shown is so many of the plot's own.
    Round(f64),
    /// These places, with these words.
    Named(Vec<(f64, String)>),
}

impl Axis {
    /// A quantity in the unit that the plot's numbers have; the unit may be empty.
    pub(crate) fn of(name: &str, unit: &str) -> Self {
        let says = if unit.is_empty() { name.to_owned() } else { format!("{name}, {unit}") };
        Self { says, marks: Marks::Round(1.0) }
    }

    /// A length: the plot's numbers are mm, its marks round in the unit shown.
    pub(crate) fn length(name: &str, style: LengthStyle) -> Self {
        if style.is_inch() {
            Self { says: format!("{name}, in"), marks: Marks::Round(MM_PER_INCH) }
        } else {
            Self::of(name, "mm")
        }
    }

    /// Places of their own, each with its words: frets, dimensions.
    pub(crate) fn named(name: &str, marks: Vec<(f64, String)>) -> Self {
        Self { says: name.to_owned(), marks: Marks::Named(marks) }
    }

    /// How much room it is given across its direction.
    pub(crate) fn thickness(&self, axis: egui_plot::Axis) -> f32 {
        THICK[usize::from(axis)][usize::from(!self.says.is_empty())]
    }

    fn hints<'a>(&self, axis: egui_plot::Axis, palette: &Palette) -> AxisHints<'a> {
        let name: WidgetText =
            RichText::new(&self.says).font(theme::label()).color(palette.dim).into();
        let hints = AxisHints::new(axis)
            .label(name)
            .min_thickness(self.thickness(axis))
            // marks stand far enough from each other as they are: none fades
            .label_spacing(1.0..=2.0)
            .tick_label_color(palette.dim)
            .tick_label_font(theme::label());
        let marks = self.marks.clone();
        hints.formatter(move |mark, _| match &marks {
            Marks::Round(unit) => number(mark.value / unit, mark.step_size / unit),
            Marks::Named(named) => named
                .iter()
                .find(|(at, _)| *at == mark.value)
                .map_or_else(String::new, |(_, words)| words.clone()),
        })
    }

    fn spaced(&self, input: &GridInput, apart: f32) -> Vec<GridMark> {
        let (low, high) = input.bounds;
        match &self.marks {
            Marks::Named(named) => named
                .iter()
                .filter(|(at, _)| (low..=high).contains(at))
                // whoever names the places sees to their distance
                .map(|(value, _)| GridMark { value: *value, step_size: (high - low).abs() })
                .collect(),
            Marks::Round(unit) => {
                let least = input.base_step_size * f64::from(apart / GRID);
                let step = unit * round_step(least / unit);
                if !(step.is_finite() && step > 0.0) {
                    return Vec::new();
                }
                let first = (low / step).ceil();
                // as many as have room, which is a few dozen on the widest screen
                (0..200)
                    .map(|index| (first + f64::from(index)) * step)
                    .take_while(|value| *value <= high)
                    .map(|value| GridMark { value, step_size: step })
                    .collect()
            }
        }
    }
}

/// The next of 1, 2, 5 times a power of ten that is not below `least`.
fn round_step(least: f64) -> f64 {
    let power = 10_f64.powf(least.log10().floor());
    let times = [1.0, 2.0, 5.0].into_iter().find(|times| times * power >= least);
    times.unwrap_or(10.0) * power
}

/// A number with the decimals that its step asks for.
fn number(value: f64, step: f64) -> String {
    // a mark more or less beside zero is zero
    let value = if value.abs() < step / 1e3 { 0.0 } else { value };
    // at most 9: a step is never below what a plot can show
    let digits = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
    show_number(value, digits)
}

/// A chart in the colours of the theme.
pub(crate) struct Chart<'a> {
    plot: Plot<'a>,
    name: String,
    has_keys: bool,
}

impl<'a> Chart<'a> {
    /// A chart; `id` tells it from others of the same place, `name` is for those who hear
    /// and do not see, and best says what the chart comes to.
    pub(crate) fn new(ui: &Ui, id: &'static str, name: impl Into<String>, axes: [Axis; 2]) -> Self {
        let palette = theme::palette(ui);
        let hints = [
            axes[0].hints(egui_plot::Axis::X, palette),
            axes[1].hints(egui_plot::Axis::Y, palette),
        ];
        let [x_hints, y_hints] = hints;
        let [x, y] = axes;
        let plot = Plot::new(id)
            .show_background(false)
            .show_crosshair(false)
            .show_grid(true)
            .grid_color(palette.hairline)
            .grid_fade(0.0)
            .grid_spacing(GRID..=2.0 * GRID)
            .custom_x_axes(vec![x_hints])
            .custom_y_axes(vec![y_hints])
            .x_grid_spacer(move |input| x.spaced(&input, APART[0]))
            .y_grid_spacer(move |input| y.spaced(&input, APART[1]))
            .min_size(Vec2::splat(space::HIT))
            .allow_boxed_zoom(false)
            .allow_axis_zoom_drag(false)
            .allow_scroll(false)
            .pan_pointer_button(PointerButton::Middle);
        Self { plot, name: name.into(), has_keys: true }
    }

    /// Says something beside the pointer: of the point it is near, or of where it is.
    pub(crate) fn tip(self, words: impl Fn(&HoverPosition<'_>) -> Option<String> + 'a) -> Self {
        self.with(|plot| plot.label_formatter(words))
    }

    /// What else the plot offers: what it includes, its size, its links.
    pub(crate) fn with(mut self, change: impl FnOnce(Plot<'a>) -> Plot<'a>) -> Self {
        self.plot = change(self.plot);
        self
    }

    /// Leaves the keys to the caller, and what the chart is for those who do not see.
    pub(crate) fn without_keys(mut self) -> Self {
        self.has_keys = false;
        self
    }

    /// Shows it in the room that is left.
    pub(crate) fn show<R>(
        self,
        ui: &mut Ui,
        add: impl FnOnce(&mut PlotUi<'a>) -> R + 'a,
    ) -> PlotResponse<R> {
        let Self { plot, name, has_keys } = self;
        let shown = plot.show(ui, move |plot| {
            if has_keys && plot.response().has_focus() {
                keys(plot);
            }
            add(plot)
        });
        if has_keys {
            shown.response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &name));
        }
        marks::focus_ring(ui, &shown.response);
        shown
    }
}

/// Where the pointer is in a chart, or the point that it is near.
pub(crate) fn place(at: &HoverPosition<'_>) -> PlotPoint {
    match at {
        HoverPosition::NearDataPoint { position, .. } | HoverPosition::Elsewhere { position } => {
            *position
        }
    }
}

/// The point of a chart whose number was asked for, by a click or by the key: where the pointer
/// is, else `otherwise`, which is what the chart's name tells.
pub(crate) fn asked_at<R>(
    ui: &Ui,
    shown: &PlotResponse<R>,
    otherwise: PlotPoint,
) -> Option<PlotPoint> {
    let response = &shown.response;
    if !response.clicked() && !working::is_asked(ui, response) {
        return None;
    }
    let pointed = response.hover_pos().map(|at| shown.transform.value_from_position(at));
    Some(pointed.unwrap_or(otherwise))
}

/// The chart moved by keys.
fn keys(plot: &mut PlotUi<'_>) {
    let filter =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    let id = plot.response().id;
    plot.ctx().memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let (zoom, pan, fit) = plot.ctx().input(|input| {
        let pressed = |press| f32::from(u8::from(input.key_pressed(press)));
        let zoom = pressed(Press::Plus) + pressed(Press::Equals) - pressed(Press::Minus);
        let across = pressed(Press::ArrowRight) - pressed(Press::ArrowLeft);
        let up = pressed(Press::ArrowUp) - pressed(Press::ArrowDown);
        (zoom, vec2(across, up), input.key_pressed(Press::Home))
    });
    let bounds = plot.plot_bounds();
    if zoom != 0.0 {
        plot.zoom_bounds(Vec2::splat((zoom * 0.25).exp()), bounds.center());
    }
    if pan != Vec2::ZERO {
        // a tenth of what is in sight; as f32, as the plot takes it
        let by = vec2(bounds.width() as f32, bounds.height() as f32) * pan / 10.0;
        plot.translate_bounds(by);
    }
    if fit {
        plot.set_auto_bounds(true);
    }
}

#[cfg(test)]
mod tests {
    use egui_kittest::Harness;
    use egui_kittest::kittest::{NodeT as _, Queryable as _};
    use egui_plot::{Line, PlotBounds, PlotPoints};

    use super::*;

    /// A chart of a straight line from (0, 0) to (10, 2), and the bounds it was shown with.
    fn harness() -> Harness<'static, Option<PlotBounds>> {
        let mut ready = false;
        let mut harness = Harness::builder().with_size(vec2(400.0, 300.0)).build_ui_state(
            move |ui, bounds: &mut Option<PlotBounds>| {
                if !ready {
                    // fonts are there from the next frame on
                    theme::install(ui.ctx());
                    ready = true;
                    ui.ctx().request_repaint();
                    return;
                }
                let axes =
                    [Axis::length("Relief", LengthStyle::InchDecimal), Axis::of("Force", "N")];
                let shown = Chart::new(ui, "test", "Force over relief: 2 N at most", axes)
                    .tip(|_| Some("here".to_owned()))
                    .show(ui, |plot| {
                        plot.line(Line::new(
                            "force",
                            PlotPoints::from(vec![[0.0, 0.0], [10.0, 2.0]]),
                        ));
                    });
                *bounds = Some(*shown.transform.bounds());
            },
            None,
        );
        harness.run();
        harness
    }

    #[test]
    fn a_chart_has_a_name_and_is_moved_by_keys() {
        let mut harness = harness();
        let bounds = |harness: &Harness<'_, Option<PlotBounds>>| harness.state().unwrap();
        let fitted = bounds(&harness);
        assert!(fitted.min()[0] <= 0.0 && fitted.max()[0] >= 10.0);
        let chart = || "Force over relief: 2 N at most";
        harness.get_by_role_and_label(Role::Canvas, chart()).focus();
        harness.run();
        harness.key_press(Press::Plus);
        harness.run();
        assert!(bounds(&harness).width() < 0.9 * fitted.width());
        let before = bounds(&harness);
        harness.key_press(Press::ArrowRight);
        harness.run();
        assert!(bounds(&harness).min()[0] > before.min()[0]);
        assert_eq!(bounds(&harness).min()[1], before.min()[1]);
        let still = harness.get_by_role_and_label(Role::Canvas, chart());
        assert!(still.accesskit_node().is_focused(), "the arrows took the focus away");
        harness.key_press(Press::Home);
        harness.run();
        assert_eq!(bounds(&harness), fitted);
    }

    #[test]
    fn a_chart_at_rest_asks_for_no_repaint() {
        let mut harness = harness();
        // run() itself fails when a repaint is asked for again and again
        assert!(harness.run() <= 2);
    }

    #[test]
    fn marks_are_round_in_the_unit_shown() {
        for (least, step) in [(0.9, 1.0), (1.0, 1.0), (1.1, 2.0), (3.0, 5.0), (0.06, 0.1)] {
            assert!((round_step(least) - step).abs() < 1e-12, "{least}");
        }
        let axis = Axis::length("Relief", LengthStyle::InchDecimal);
        let input = GridInput { bounds: (-1.0, 26.0), base_step_size: 1.0 };
        // 64 px are 8 mm, 0.315 in: half an inch is the next that is round
        let marks: Vec<f64> =
            axis.spaced(&input, APART[0]).iter().map(|mark| mark.value / 25.4).collect();
        assert_eq!(marks, [0.0, 0.5, 1.0]);
        assert_eq!(number(0.5, 0.5), "0.5");
        assert_eq!(number(-20.0, 10.0), "−20");
        assert_eq!(number(-1e-17, 0.25), "0.0");
    }

    #[test]
    fn nonsense_has_no_marks() {
        let axis = Axis::of("Force", "N");
        for (bounds, base_step_size) in
            [((0.0, 0.0), 0.0), ((f64::NAN, 1.0), f64::NAN), ((0.0, f64::INFINITY), 1e-9)]
        {
            assert!(axis.spaced(&GridInput { bounds, base_step_size }, 64.0).len() <= 200);
        }
    }
}
