//! A new reading: what was measured with, where, and what it read.

use egui::{ComboBox, Id, Key as Press, RichText, TextEdit, Ui};
use overstand_core::dryfit::{Face, Piece, Place, Reading, ShoulderEnd, Side, What};
use overstand_core::study::Study;
use overstand_core::units::{Angle, Length, LengthStyle, Unit, parse_angle, parse_length};
use overstand_core::verdict::State;

use super::how;
use super::worked::Worked;
use crate::pages::fields::{dim, labelled, state_line};
use crate::theme::{self, space};
use crate::{marks, values};

/// What is measured with, and of what.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Sort {
    #[default]
    Crowns,
    Board,
    Neck,
    Gauge,
    Top,
    Foot,
    Aim,
    Roll,
}

impl Sort {
    const ALL: [Self; 8] = [
        Self::Crowns,
        Self::Board,
        Self::Neck,
        Self::Gauge,
        Self::Top,
        Self::Foot,
        Self::Aim,
        Self::Roll,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Crowns => "Straightedge on the crowns",
            Self::Board => "Straightedge on the board",
            Self::Neck => "Straightedge on the bare neck face",
            Self::Gauge => "Angle gauge on board and body",
            Self::Top => "Feeler at the shoulder's top",
            Self::Foot => "Feeler at the shoulder's foot",
            Self::Aim => "Sideways: offset of the centre line",
            Self::Roll => "Lean of the board across",
        }
    }

    /// What a straightedge lies on.
    fn face(self) -> Option<Face> {
        match self {
            Self::Crowns => Some(Face::Crowns),
            Self::Board => Some(Face::Board),
            Self::Neck => Some(Face::Neck),
            _ => None,
        }
    }

    fn is_angle(self) -> bool {
        matches!(self, Self::Gauge | Self::Roll)
    }

    /// What the field of the value is called.
    fn asks(self) -> &'static str {
        match self {
            Self::Crowns | Self::Board | Self::Neck => "Height over the top",
            Self::Gauge => "On the board",
            Self::Top | Self::Foot => "Thickest that goes in",
            Self::Aim => "Offset, + to the treble",
            Self::Roll => "Lean, + treble higher",
        }
    }
}

/// Where it is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Spot {
    #[default]
    Bridge,
    Crest,
    Joint,
    Nut,
}

impl Spot {
    const ALL: [Self; 4] = [Self::Bridge, Self::Crest, Self::Joint, Self::Nut];

    fn name(self) -> &'static str {
        match self {
            Self::Bridge => "At the bridge line",
            Self::Crest => "At the planned crest",
            Self::Joint => "So far from the joint",
            Self::Nut => "So far from the nut",
        }
    }

    fn is_typed(self) -> bool {
        matches!(self, Self::Joint | Self::Nut)
    }
}

/// On which side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Across {
    #[default]
    Middle,
    Near,
    Far,
}

impl Across {
    const ALL: [Self; 3] = [Self::Middle, Self::Near, Self::Far];

    fn name(self) -> &'static str {
        match self {
            Self::Middle => "On the centre line",
            Self::Near => "Near side, the bass",
            Self::Far => "Far side, the treble",
        }
    }
}

/// What is being put down; every field as it was typed.
#[derive(Debug, Default)]
pub(super) struct Form {
    sort: Sort,
    spot: Spot,
    spot_text: String,
    across: Across,
    across_text: String,
    edge: String,
    value: String,
    body: String,
    error: String,
    /// The piece that is refused, and why.
    refused: Option<(Piece, String)>,
    /// The field of the value takes the focus next.
    asks_value: bool,
    /// It has been shown, and stands as it was left.
    begun: bool,
}

type Refused = (Piece, String);

impl Form {
    /// A reading of another kind is asked for.
    pub(super) fn ask(&mut self, sort: Sort) {
        *self = Self { sort, asks_value: true, begun: true, ..Self::default() };
    }

    /// After the first height, at the bridge line, a second place is to be read.
    pub(super) fn go_on(&mut self, first: &Reading, study: &Study, style: LengthStyle) {
        if matches!(first.what, What::Height { place: Place::BridgeLine, .. }) {
            self.spot = Spot::Joint;
            self.spot_text = second_place(study, style);
        }
    }

    fn has_place(&self, study: &Study) -> bool {
        match self.sort {
            Sort::Top | Sort::Foot | Sort::Roll => false,
            // where the top is flat the gauge reads the same everywhere
            Sort::Gauge => study.design.body.top != overstand_core::design::Top::Flat,
            _ => true,
        }
    }

    /// The reading with what was typed for its value, or as it will be with any.
    fn read(
        &self,
        study: &Study,
        style: LengthStyle,
        with_value: bool,
    ) -> Result<Reading, Refused> {
        let length = |piece: Piece, text: &str| {
            parse_length(text.trim(), style)
                .map(Length::mm)
                .map_err(|error| (piece, values::capital(&error.to_string())))
        };
        let angle = |piece: Piece, text: &str| {
            parse_angle(text.trim().trim_start_matches('+'))
                .map(Angle::degrees)
                .map_err(|error| (piece, values::capital(&error.to_string())))
        };
        let value = |piece: Piece, text: &str| {
            let text = text.trim().trim_start_matches('+');
            if with_value { length(piece, text) } else { Ok(Length::ZERO) }
        };
        let turned = |piece: Piece, text: &str| {
            if with_value { angle(piece, text) } else { Ok(Angle::ZERO) }
        };
        let place = || {
            Ok(match self.spot {
                Spot::Bridge => Place::BridgeLine,
                Spot::Crest => Place::Crest,
                Spot::Joint => Place::Top(length(Piece::Place, &self.spot_text)?),
                Spot::Nut => Place::Board(length(Piece::Place, &self.spot_text)?),
            })
        };
        let what = match self.sort {
            Sort::Gauge => What::Gauge {
                place: if self.has_place(study) { Some(place()?) } else { None },
                board: turned(Piece::Value, &self.value)?,
                body: match self.body.trim() {
                    "" => Angle::ZERO,
                    text => turned(Piece::Body, text)?,
                },
            },
            Sort::Roll => What::Roll { lean: turned(Piece::Value, &self.value)? },
            Sort::Aim => What::Aim { place: place()?, off: value(Piece::Value, &self.value)? },
            Sort::Top => {
                What::Gap { end: ShoulderEnd::Top, gap: value(Piece::Value, &self.value)? }
            }
            Sort::Foot => {
                What::Gap { end: ShoulderEnd::Foot, gap: value(Piece::Value, &self.value)? }
            }
            Sort::Crowns | Sort::Board | Sort::Neck => What::Height {
                face: self.sort.face().unwrap_or(Face::Crowns),
                place: place()?,
                side: match self.across {
                    Across::Middle => Side::Middle,
                    Across::Near => Side::Near(length(Piece::Across, &self.across_text)?),
                    Across::Far => Side::Far(length(Piece::Across, &self.across_text)?),
                },
                edge: match self.edge.trim() {
                    "" => Length::ZERO,
                    text => length(Piece::Edge, text)?,
                },
                height: value(Piece::Value, &self.value)?,
            },
        };
        let mut reading = Reading::of(what);
        let error = self.error.trim().trim_start_matches('±');
        match error.trim() {
            "" => {}
            text if what.is_angle() => reading.error = angle(Piece::Error, text)?.to_degrees(),
            text => reading.error = length(Piece::Error, text)?.to_mm(),
        }
        match reading.fault() {
            Some(fault) => Err((fault.of, values::capital(&fault.says.show(style)))),
            None => Ok(reading),
        }
    }
}

/// Shows the form; returns a reading once one is put down.
pub(super) fn show(
    ui: &mut Ui,
    study: &Study,
    style: LengthStyle,
    worked: &Worked,
    form: &mut Form,
) -> Option<Reading> {
    if !std::mem::replace(&mut form.begun, true) && !study.design.is_fretted() {
        form.sort = Sort::Board;
    }
    let before = (form.sort, form.spot, form.across);
    choose(ui, "Measured with", form.sort.name(), Sort::ALL.map(Sort::name), |index| {
        form.sort = Sort::ALL[index];
    });
    if form.sort != before.0 {
        // what was typed was of something else
        let (sort, spot, spot_text) = (form.sort, form.spot, std::mem::take(&mut form.spot_text));
        *form = Form { sort, spot, spot_text, begun: true, ..Form::default() };
    }
    how::show(ui, form.sort, form.across);
    let mut entered = false;
    if form.has_place(study) {
        choose(ui, "Where", form.spot.name(), Spot::ALL.map(Spot::name), |index| {
            form.spot = Spot::ALL[index];
        });
        if form.spot != before.1 && form.spot.is_typed() && form.spot_text.is_empty() {
            form.spot_text = second_place(study, style);
        }
        if form.spot.is_typed() {
            let hint = "";
            entered |= row(ui, "Distance", Piece::Place, hint, Unit::Length, style, form);
        }
    }
    if form.sort.face().is_some() {
        choose(ui, "Side", form.across.name(), Across::ALL.map(Across::name), |index| {
            form.across = Across::ALL[index];
        });
        if form.across != Across::Middle {
            let name = "From the centre line";
            entered |= row(ui, name, Piece::Across, "", Unit::Length, style, form);
        }
    }
    let unit = if form.sort.is_angle() { Unit::Angle } else { Unit::Length };
    entered |= row(ui, form.sort.asks(), Piece::Value, "", unit, style, form);
    if form.sort == Sort::Gauge {
        entered |= row(ui, "On the body", Piece::Body, "0", unit, style, form);
    }
    let planned = form.read(study, style, false).ok();
    let usual = planned.as_ref().map_or(0.1, |reading| reading.what.usual_error());
    let (hint, _) = values::parts(usual, unit, 2, style);
    entered |= row(ui, "Reading error ±", Piece::Error, &hint, unit, style, form);
    if form.sort.face().is_some() {
        let name = "If its upper edge is read: depth";
        entered |= row(ui, name, Piece::Edge, "0", Unit::Length, style, form);
    }
    if let Some(value) = planned.as_ref().and_then(|reading| worked.as_planned(reading)) {
        let digits = 2;
        dim(ui, &format!("The plan says {}.", values::show(value, unit, digits, style)));
    }
    let clicked = marks::main_button(ui, "Put it down").clicked();
    if entered && !clicked && form.value.trim().is_empty() {
        // on to what is still to be typed
        form.asks_value = true;
        ui.ctx().request_repaint();
        return None;
    }
    if !clicked && !entered {
        return None;
    }
    match form.read(study, style, true) {
        Ok(reading) => {
            form.value.clear();
            form.body.clear();
            form.refused = None;
            form.asks_value = true;
            Some(reading)
        }
        Err(refused) => {
            form.refused = Some(refused);
            None
        }
    }
}

/// A place well away from the bridge line and clear of the board's end, to begin with.
fn second_place(study: &Study, style: LengthStyle) -> String {
    let Some(layout) = study.layout() else { return String::new() };
    let end = layout.unstrung(study.design.board.end.to_mm(), 0.0).x;
    let place = (end + 0.25 * (layout.middle.crest.x - end)).round();
    values::parts(place, Unit::Length, 1, style).0
}

/// A menu with its label.
fn choose<const N: usize>(
    ui: &mut Ui,
    label: &str,
    shown: &str,
    names: [&'static str; N],
    mut set: impl FnMut(usize),
) {
    let width = ui.available_width();
    let response = ComboBox::from_id_salt(label)
        .selected_text(shown)
        .truncate()
        .width(width)
        .height(space::FORM)
        .show_ui(ui, |ui| {
            for (index, name) in names.into_iter().enumerate() {
                if ui.selectable_label(shown == name, name).clicked() {
                    set(index);
                }
            }
        })
        .response;
    response.accessible_name(format!("{label}: {shown}"));
}

/// A field with its label and unit, and below it why it is refused. Says whether it was left
/// by Enter.
fn row(
    ui: &mut Ui,
    name: &str,
    piece: Piece,
    hint: &str,
    unit: Unit,
    style: LengthStyle,
    form: &mut Form,
) -> bool {
    let asks = piece == Piece::Value && std::mem::take(&mut form.asks_value);
    let text = match piece {
        Piece::Place => &mut form.spot_text,
        Piece::Across => &mut form.across_text,
        Piece::Edge => &mut form.edge,
        Piece::Value => &mut form.value,
        Piece::Body => &mut form.body,
        Piece::Error => &mut form.error,
    };
    let mut entered = false;
    let mut changed = false;
    labelled(ui, name, |ui| {
        let sign = values::unit_sign(unit, style);
        let (rect, _) =
            ui.allocate_exact_size(egui::vec2(space::UNIT, space::HIT), egui::Sense::hover());
        let palette = theme::palette(ui);
        let at = rect.left_center();
        ui.painter().text(at, egui::Align2::LEFT_CENTER, sign, theme::text(), palette.dim);
        let edit = TextEdit::singleline(text)
            .id(Id::unique(("new reading", piece)))
            .hint_text(RichText::new(hint).color(palette.dim))
            .char_limit(80)
            .desired_width(space::FIELD);
        let response = ui.add(edit).accessible_name(name);
        if asks {
            response.request_focus();
            response.scroll_to_me(None);
        }
        changed = response.changed();
        entered = response.lost_focus() && ui.input(|input| input.key_pressed(Press::Enter));
    });
    if form.refused.as_ref().is_some_and(|(of, _)| *of == piece) {
        if changed {
            form.refused = None;
        } else if let Some((_, why)) = &form.refused {
            state_line(ui, State::Fails, why);
        }
    }
    entered
}
