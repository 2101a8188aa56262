//! Whether the stopped notes are true: cents by fret, what each saddle needs of its travel,
//! and where the bridge must stand.

use egui::{Align2, Id, Label, Rect, RichText, Role, Sense, Shape, Stroke, Ui, WidgetInfo};
use egui::{pos2, vec2};
use egui_plot::{HLine, Line, PlotPoint, PlotPoints, Text};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::layout::Layout as Laid;
use overstand_core::strings::{
    BridgePlace, Intonation, Strings, TRAVEL_TO_SPARE, TRUE_AT, compensation_with_nut,
};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, show_number};
use overstand_core::verdict::Proposal;
use overstand_core::working::{Figure, OfString};

use super::best_relief::{beside, offer};
use super::working::Of;
use super::{tips, working};
use crate::chart::{Axis, Chart, asked_at, place};
use crate::command::Command;
use crate::theme::{self, space, stroke};
use crate::view::View;
use crate::{drive, marks, values};

/// Decimals of cents and of a compensation that mean something.
const CENTS_DIGITS: usize = 1;
const DIGITS: usize = 1;
/// Height of the rail of a saddle's travel, and of the pointer on it.
const RAIL: f32 = 3.0;
const POINTER: f32 = 7.0;

/// What was found for one study.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    /// The revision, and the units of the reason.
    of: Option<(u64, LengthStyle)>,
    place: Option<BridgePlace>,
    /// What the bridge's recommended place would bring.
    proposal: Option<Result<Proposal, String>>,
    /// String by string: how far a nut would be moved, and the compensation with it.
    nut: Vec<Option<(f64, f64)>>,
}

impl Worked {
    /// Works it out anew where the design has changed.
    pub(crate) fn update(
        &mut self,
        study: &Study,
        layout: &Laid,
        strings: &Strings,
        revision: u64,
        style: LengthStyle,
    ) {
        if self.of == Some((revision, style)) {
            return;
        }
        let place = strings.bridge_place(&study.design, layout);
        let proposal = place.map(|place| {
            Proposal::of(study, &place.sets(&study.design))
                .map_err(|open| drive::why_open(&open, style))
        });
        let nut = (0..strings.each.len())
            .map(|string| compensation_with_nut(&study.design, layout, string))
            .collect();
        *self = Self { of: Some((revision, style)), place, proposal, nut };
    }
}

/// Shows chart and words.
#[expect(clippy::too_many_arguments, reason = "what is said hangs on all of it")]
pub(crate) fn show(
    ui: &mut Ui,
    study: &Study,
    layout: &Laid,
    strings: &Strings,
    worked: &Worked,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    if strings.each.iter().all(|string| string.intonation.is_none()) {
        let text = "Whether notes are true hangs on pull and stiffness: give each string a note \
                    and a gauge, or put on a usual set, under Each string.";
        theme::remark(ui, text);
        return;
    }
    if layout.positions.is_empty() {
        let text = "Without frets there is no note to be true or false.";
        theme::remark(ui, text);
        return;
    }
    beside(
        ui,
        view,
        |ui, view| chart(ui, &study.design, layout, strings, view),
        |ui, view| words(ui, study, layout, strings, worked, style, view, commands),
    );
}

fn cents(one: &Intonation, compensated: bool) -> &[f64] {
    if compensated { &one.cents_compensated } else { &one.cents }
}

fn chart(ui: &mut Ui, design: &Design, layout: &Laid, strings: &Strings, view: &mut View) {
    let shown = view.strings;
    let (string, compensated) = (shown.string, shown.compensated);
    let palette = theme::palette(ui);
    let count = layout.positions.len();
    let worst = strings
        .each
        .iter()
        .enumerate()
        .filter_map(|(index, one)| Some((index, cents(one.intonation.as_ref()?, compensated))))
        .flat_map(|(index, cents)| {
            cents.iter().enumerate().map(move |(fret, cents)| (index, fret + 1, *cents))
        })
        .max_by(|a, b| a.2.abs().total_cmp(&b.2.abs()));
    let word = if layout.is_fretted() { "fret" } else { "semitone" };
    let of = |index: usize| design.strings.get(index).map_or("", |string| string.name.as_str());
    let name = worst.map_or_else(String::new, |(index, fret, cents)| {
        let cents = show_number(cents, CENTS_DIGITS);
        format!("Cents by {word}: {} at {word} {fret} is the most, {cents} cents", of(index))
    });
    // as many numbers as have room
    let step = count.div_ceil(13);
    let marks = (1..=count).filter(|n| n % step == 0).map(|n| (n as f64, n.to_string())).collect();
    let heading = if layout.is_fretted() { "Fret" } else { "Semitone" };
    let axes = [Axis::named(heading, marks), Axis::of("Sharp of equal temperament", "cents")];
    let lines: Vec<OfOne> = strings
        .each
        .iter()
        .enumerate()
        .filter_map(|(index, one)| {
            let cents = cents(one.intonation.as_ref()?, compensated);
            let points = cents.iter().zip(1..).map(|(cents, n)| [f64::from(n), *cents]).collect();
            Some((index, of(index).to_owned(), points))
        })
        .collect();
    let (tips, all) = (lines.clone(), lines.clone());
    let chart = Chart::new(ui, "cents", name, axes)
        .tip(move |at| {
            let near = nearest(&tips, place(at)).map_or("", |(_, name)| name);
            let fret = place(at).x.round();
            let each = tips.iter().filter_map(|(_, name, points)| {
                let point = points.iter().find(|point| point[0] == fret)?;
                Some(format!("{name} {}", show_number(point[1], CENTS_DIGITS)))
            });
            let each: Vec<String> = each.collect();
            (!each.is_empty()).then(|| {
                format!("{word} {fret}, cents\n{}\nW shows the working of {near}.", each.join("\n"))
            })
        })
        .with(|plot| plot.include_y(1.0).include_y(-1.0).include_x(count as f64 + 1.5))
        .show(ui, move |plot| {
            let zero = Stroke::new(stroke::VISIBLE, palette.ink);
            plot.hline(HLine::new("equal temperament", 0.0).stroke(zero).allow_hover(false));
            for (index, name, points) in lines {
                let is_chosen = index == string;
                let pen = if is_chosen {
                    Stroke::new(stroke::STRONG, palette.ink)
                } else {
                    Stroke::new(stroke::THIN, palette.dim)
                };
                if let Some(end) = points.last().copied() {
                    let font = if is_chosen { theme::heading() } else { theme::label() };
                    let text = RichText::new(format!(" {name}")).font(font);
                    plot.text(
                        Text::new(format!("end of {name}"), end.into(), text)
                            .color(pen.color)
                            .anchor(Align2::LEFT_CENTER),
                    );
                }
                let line = Line::new(name, PlotPoints::from(points)).stroke(pen);
                plot.line(line.id(("cents", index)));
            }
        });
    let Some((index, fret, most)) = worst else { return };
    let otherwise = PlotPoint::new(fret as f64, most);
    if let Some(at) = asked_at(ui, &chart, otherwise) {
        let string = nearest(&all, at).map_or(index, |(string, _)| string);
        // no note lies before the first or behind the last
        let fret = at.x.round().clamp(1.0, count as f64) as usize;
        Of::from(Figure::Cents { string, fret, compensated }).toggle(view);
    }
}

/// A string with its name, and its cents fret by fret.
type OfOne = (usize, String, Vec<[f64; 2]>);

/// The string whose cents lie nearest at the fret of a place, with its name.
fn nearest(lines: &[OfOne], at: PlotPoint) -> Option<(usize, &str)> {
    let off = |points: &[[f64; 2]]| {
        let point = points.iter().find(|point| point[0] == at.x.round());
        point.map_or(f64::INFINITY, |point| (point[1] - at.y).abs())
    };
    let near = lines.iter().min_by(|one, other| off(&one.2).total_cmp(&off(&other.2)))?;
    Some((near.0, &near.1))
}

#[expect(clippy::too_many_arguments, reason = "what is said hangs on all of it")]
fn words(
    ui: &mut Ui,
    study: &Study,
    layout: &Laid,
    strings: &Strings,
    worked: &Worked,
    style: LengthStyle,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    let palette = theme::palette(ui);
    let shown = &mut view.strings;
    ui.horizontal_wrapped(|ui| {
        for (compensated, text) in [(false, "Crests as they are"), (true, "Crests where true")] {
            if ui.selectable_label(shown.compensated == compensated, text).clicked() {
                shown.compensated = compensated;
            }
        }
    });
    let mm = |value| values::show(value, Unit::Length, DIGITS, style);
    if !layout.is_fretted() {
        let text = "On a fretless board the finger finds the note: this is for stops exactly on \
                    the semitones.";
        theme::remark(ui, text);
    }
    let octave = TRUE_AT.min(layout.positions.len());
    let text = if study.design.bridge.travel.to_mm() == 0.0 {
        format!("Compensation for a true note at {octave}; a fixed saddle is filed to it")
    } else {
        format!("Compensation for a true note at {octave}, and its place in the saddle's travel")
    };
    let heading = RichText::new(text).font(theme::heading()).color(palette.dim);
    tips::on_hover(ui.add(Label::new(heading).wrap()), "Compensation");
    for (index, one) in strings.each.iter().enumerate() {
        let name = study.design.strings.get(index).map_or("", |string| string.name.as_str());
        saddle(ui, &study.design, index, name, one.intonation.as_ref(), style, view);
    }
    ui.add_space(space::S);
    let Some(place) = worked.place else { return };
    working::figure(
        ui,
        "The bridge",
        theme::strong(),
        palette.ink,
        Figure::BridgePlace,
        "the place of the bridge",
        view,
    );
    // as it would be set, in tenths
    let set = worked.proposal.as_ref().and_then(|proposal| proposal.as_ref().ok());
    let would =
        |dim: Dim, exact| set.and_then(|proposal| dim.key().get(&proposal.design)).unwrap_or(exact);
    ui.add(
        Label::new(format!(
            "At {} from the joint, compensated by {}, it stands in the middle of what the strings need. Its screws then need {} of travel in all, with {} to spare both ways.",
            mm(would(Dim::Station, place.station)),
            mm(would(Dim::Compensation, place.compensation)),
            mm(place.travel),
            values::show(TRAVEL_TO_SPARE, Unit::Length, 0, style)
        ))
        .wrap(),
    );
    theme::remark(ui, screws(&study.design, place, style));
    offer(ui, "Apply the bridge's place", worked.proposal.as_ref(), style, view, commands);
    if let Some(Some((nut, saddle))) = worked.nut.get(view.strings.string) {
        let name =
            study.design.strings.get(view.strings.string).map_or("", |string| string.name.as_str());
        ui.add_space(space::S);
        let (nut, saddle) = (values::show(*nut, Unit::Length, 2, style), mm(*saddle));
        let string = view.strings.string;
        let (font, colour) = (theme::text(), palette.dim);
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = space::S;
            let says = |ui: &mut Ui, text: &str| {
                let words = RichText::new(text).font(font.clone()).color(colour);
                ui.add(Label::new(words).wrap().selectable(false));
            };
            let mut number = |ui: &mut Ui, text: &str, of: OfString, what: &str| {
                let figure = Figure::String(string, of);
                let spoken = format!("{what}, {name}: {text}");
                working::figure(ui, text, font.clone(), colour, figure, &spoken, view);
            };
            says(ui, &format!("With a nut filed for {name} all its notes together are truest"));
            says(ui, "with the nut");
            number(ui, &nut, OfString::NutMoved, "nut nearer to the bridge");
            says(ui, "nearer to the bridge and the crest");
            number(ui, &saddle, OfString::CompensationWithNut, "crest back with that nut");
            says(ui, "back. The layout leaves the nut where it is.");
        });
    }
    ui.add_space(space::S);
    notes(ui, study, layout, strings, view);
}

/// Whether the bridge has the travel that it needs.
fn screws(design: &Design, place: BridgePlace, style: LengthStyle) -> String {
    let travel = design.bridge.travel.to_mm();
    let mm = |value| values::show(value, Unit::Length, DIGITS, style);
    if travel == 0.0 {
        "This bridge's saddle is fixed: it is filed to where each string needs it.".to_owned()
    } else if travel >= place.travel {
        format!("This bridge has {}: enough.", mm(travel))
    } else {
        format!("This bridge has {}: {} too little.", mm(travel), mm(place.travel - travel))
    }
}

/// One saddle: what the string needs, and where that lies in the travel.
fn saddle(
    ui: &mut Ui,
    design: &Design,
    index: usize,
    name: &str,
    one: Option<&Intonation>,
    style: LengthStyle,
    view: &mut View,
) {
    let palette = theme::palette(ui);
    let size = vec2(ui.available_width(), space::HIT - space::S);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let middle = rect.center().y;
    let painter = ui.painter();
    let Some(one) = one else {
        let text = format!("{name}: note or gauge is not given");
        painter.text(rect.left_center(), Align2::LEFT_CENTER, text, theme::text(), palette.dim);
        return;
    };
    let needs = values::show(one.compensation, Unit::Length, DIGITS, style);
    let reach = one.reach(design);
    let told = match reach {
        Some(reach) => format!(
            "{name} needs {needs}, {}: {} of travel left",
            marks::state_word(reach.state),
            values::show(reach.left, Unit::Length, DIGITS, style)
        ),
        None => format!("{name} needs {needs}"),
    };
    let named = painter.text(
        pos2(rect.left() + space::XL, middle),
        Align2::LEFT_CENTER,
        name,
        theme::text(),
        palette.ink,
    );
    let right = named.right().max(rect.left() + 2.0 * space::FIT) + space::FIT + space::M;
    let at = pos2(right, middle);
    let shown = painter.text(at, Align2::RIGHT_CENTER, &needs, theme::text(), palette.ink);
    let rail = Rect::from_min_max(
        pos2(right + space::L, middle - RAIL / 2.0),
        pos2(rect.right() - space::M, middle + RAIL / 2.0),
    );
    if let Some(reach) = reach {
        let colour = palette.state(reach.state);
        marks::state(painter, rect.left_center() + vec2(space::M, 0.0), reach.state, colour);
        painter.rect_filled(rail, RAIL / 2.0, palette.rail_wanted);
        painter.vline(
            rail.center().x,
            rail.y_range().expand(space::S),
            Stroke::new(stroke::THIN, palette.dim),
        );
        // what lies beyond the travel stands at its end
        let part = (reach.offset / reach.half).clamp(-1.0, 1.0);
        if part.is_finite() {
            let x = rail.center().x + rail.width() / 2.0 * part as f32;
            let tip = pos2(x, rail.bottom() + 1.0);
            let points = vec![
                tip,
                tip + vec2(-POINTER / 1.6, -POINTER),
                tip + vec2(POINTER / 1.6, -POINTER),
            ];
            let pen = Stroke::new(stroke::THIN, palette.paper);
            painter.add(Shape::convex_polygon(points, colour, pen));
        }
    }
    let response = ui.interact(rect, Id::unique(("saddle", index)), response.sense);
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &told));
    response.on_hover_text(told.clone());
    let figure = Figure::String(index, OfString::Compensation);
    let spoken = format!("{name} needs {needs}");
    working::opener(ui, shown.expand2(vec2(space::S, 1.0)), "saddle", figure, &spoken, view);
    if let Some(reach) = reach {
        let left = values::show(reach.left, Unit::Length, DIGITS, style);
        let figure = Figure::String(index, OfString::TravelLeft);
        let spoken = format!("travel left for {name}, {left}");
        let place = rail.expand2(vec2(0.0, space::S));
        working::opener(ui, place, "left", figure, &spoken, view).on_hover_text(told);
    }
}

/// The notes of the string that is looked at, each in cents with its working.
fn notes(ui: &mut Ui, study: &Study, layout: &Laid, strings: &Strings, view: &mut View) {
    let (string, compensated) = (view.strings.string, view.strings.compensated);
    let Some(one) = strings.each.get(string).and_then(|one| one.intonation.as_ref()) else {
        return;
    };
    let palette = theme::palette(ui);
    let name = study.design.strings.get(string).map_or("", |string| string.name.as_str());
    let word = if layout.is_fretted() { "fret" } else { "semitone" };
    let text = format!("Notes of {name}, cents by {word}");
    ui.add(Label::new(RichText::new(text).font(theme::heading()).color(palette.dim)).wrap());
    let list = cents(one, compensated).to_vec();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = space::M;
        for (fret, cents) in (1..).zip(list) {
            let text = show_number(cents, CENTS_DIGITS);
            let number = RichText::new(format!("{fret}:")).font(theme::label()).color(palette.dim);
            ui.add(Label::new(number).selectable(false));
            let figure = Figure::Cents { string, fret, compensated };
            let spoken = format!("{name}, {word} {fret}, {text} cents");
            working::figure(ui, &text, theme::text(), palette.ink, figure, &spoken, view);
        }
    });
}
