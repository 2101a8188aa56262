//! Each string over each fret.

use super::BodyPoint;
use super::bend::Bend;
use super::clearances::{ABREAST, Clearances, Detail, Lanes, LinesAbreast};
use super::closing::{
    BentBoard, HeadFrame, Middle, NutEnd, Shape, bend_over_nut, bend_over_saddle, string_line,
    tail_point,
};
use crate::design::{BoardShape, Design, InstrumentString};
use crate::dimension::{Dim, Values};
use crate::layout::fret_ratio;
use crate::strings::{Wire, taut};

/// One string of a layout; mm, radians. Heights are of its underside.
#[derive(Clone, Debug, PartialEq)]
pub struct StringLine {
    /// Height at the nut face over the straight, unstrung surface.
    pub nut_v: f64,
    /// Rise per mm along the board.
    pub slope: f64,
    /// Height of the slot over the board beneath it: what the maker files.
    pub slot_over_board: f64,
    /// Clearance over fret 1.
    pub first_fret: f64,
    /// What was wanted there; with a zero fret it counts for nothing.
    pub wanted_first: f64,
    /// Clearance over the action fret.
    pub action: f64,
    /// What was wanted there; it differs only on a shared crest.
    pub wanted_action: f64,
    /// Crest in the neck frame.
    pub crest_u: f64,
    /// Crest in the neck frame.
    pub crest_v: f64,
    /// Crest in the body frame.
    pub crest: BodyPoint,
    /// Height of the crest over the top's profile on the centre line.
    pub crest_height: f64,
    /// How it bends over the saddle; none when wrapped over.
    pub saddle_break: Option<Bend>,
    /// How it bends over the nut.
    pub nut_break: Bend,
    /// Least clearance of a note fretted at n over a later fret m. None without frets, or with
    /// only one. [`Layout::least_stopped_at`](super::Layout::least_stopped_at) says where.
    pub least_stopped: Option<f64>,
    /// On a fretless board: how the string leaves the surface at each stop.
    pub stops: Vec<FretlessStop>,
    /// What it is made of and its tension, N; none if its note or gauge is not given.
    pub(crate) taut: Option<(Wire, f64)>,
}

/// A string stopped on the surface of a fretless board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FretlessStop {
    /// Angle of the string to the board's surface at the stop, radians.
    pub angle: f64,
    /// Clearance 60 mm on; none beyond the board's end.
    pub clearance_60_on: Option<f64>,
    /// Least clearance from 30 mm on to the board's end; none beyond it.
    pub least_from_30_on: Option<f64>,
    /// Where along the board that is, from the nut.
    pub least_at: Option<f64>,
}

/// How much the surface of a board of radius R lies lower at w from the centre
/// line: R - √(R² - w²), in a form that keeps its digits when w is small. All mm;
/// not a number for |w| > R.
pub(crate) fn sagitta(radius: f64, w: f64) -> f64 {
    w * w / (radius + (radius * radius - w * w).sqrt())
}

/// The surface under all strings.
pub(super) struct Board<'a> {
    /// Crowns on the centre line.
    centre: &'a [f64],
    bent: &'a BentBoard<f64>,
    /// Radius at the nut and its growth per mm; none for a flat board.
    radius: Option<(f64, f64)>,
    scale: f64,
    end: f64,
}

impl<'a> Board<'a> {
    pub(super) fn new(
        design: &'a Design,
        values: &Values<f64>,
        bent: &'a BentBoard<f64>,
        centre: &'a [f64],
    ) -> Self {
        Self {
            centre,
            bent,
            radius: match design.board.shape {
                BoardShape::Flat => None,
                BoardShape::Fixed { radius } => Some((radius.to_mm(), 0.0)),
                BoardShape::Compound { radius_nut, radius_end } => {
                    let (nut, end) = (radius_nut.to_mm(), radius_end.to_mm());
                    Some((nut, (end - nut) / values[Dim::BoardEnd]))
                }
            },
            scale: values[Dim::ScaleLength],
            end: values[Dim::BoardEnd],
        }
    }

    /// Distance w from the centre line at u of a string whose places at nut and bridge
    /// line are given.
    fn place(&self, u: f64, (nut_place, crest_place): (f64, f64)) -> f64 {
        nut_place + (crest_place - nut_place) * (u / self.scale)
    }

    /// Sagitta at u under a string whose places at nut and bridge line are given.
    fn sagitta(&self, u: f64, places: (f64, f64)) -> f64 {
        let w = self.place(u, places);
        self.radius.map_or(0.0, |(nut, growth)| sagitta(nut + growth * u, w))
    }

    /// Slope of the surface under a string at u, toward the bridge.
    fn slope(&self, u: f64, places: (f64, f64)) -> f64 {
        let w = self.place(u, places);
        let lean = (places.1 - places.0) / self.scale;
        // of R - √(R² - w²), both R and w changing along the board
        let sagitta = self.radius.map_or(0.0, |(nut, growth)| {
            let radius = nut + growth * u;
            let root = (radius * radius - w * w).sqrt();
            growth - (radius * growth - w * lean) / root
        });
        self.bent.slope(u) - sagitta
    }

    /// Heights under some strings of the crown that is `centre` high on the centre line at u;
    /// given are their places at the nut and how much further out they lie per mm.
    #[inline]
    fn crowns(&self, (nut_place, lean): (&Lanes, &Lanes), centre: f64, u: f64) -> Lanes {
        let Some((nut, growth)) = self.radius else {
            return [centre; ABREAST];
        };
        let radius = nut + growth * u;
        std::array::from_fn(|lane| centre - sagitta(radius, nut_place[lane] + lean[lane] * u))
    }

    /// Height of the crown (or bare surface, without frets) under a string at u.
    fn under(&self, u: f64, places: (f64, f64)) -> f64 {
        self.bent.crown(u) - self.sagitta(u, places)
    }
}

/// What the strings of a layout are worked out in; kept from one layout to the next, so
/// that a search need not ask for memory each time.
#[derive(Clone, Debug, Default)]
pub(super) struct Room {
    /// Frets from the nut.
    pub(super) positions: Vec<f64>,
    /// Crowns on the centre line.
    pub(super) centre: Vec<f64>,
    slots: Vec<Slot>,
    pub(super) lines: Vec<StringLine>,
    pub(super) clearances: Clearances,
}

/// Lays all strings. The result is a shared crest's height at its middle and its tilt
/// (v = centre + tilt · w), where there is one.
pub(super) fn lay(
    design: &Design,
    values: &Values<f64>,
    shape: &Shape,
    (middle, head): (&Middle<f64>, &HeadFrame<f64>),
    room: &mut Room,
    detail: Detail,
) -> Option<(f64, f64)> {
    let Room { positions, centre, slots, lines, clearances } = room;
    centre.clear();
    centre.extend(positions.iter().map(|&u| middle.board.crown(u)));
    let board = &Board::new(design, values, &middle.board, centre);
    slots.clear();
    slots.extend(
        (0..design.strings.len()).map(|index| Slot::new(design, values, shape, board, index)),
    );
    let shared = design.bridge.kind.shared_crest().map(|(radius, _)| radius.to_mm());
    let crest_line = shared.and_then(|radius| shared_crest(radius, slots));

    for slot in slots.iter_mut() {
        (slot.nut_v, slot.slope) = match (crest_line, shared) {
            (Some((centre, tilt)), Some(radius)) => {
                let crest_v = centre + tilt * slot.crest_w - sagitta(radius, slot.crest_w);
                string_line((slot.fixed.0, slot.crest_u), (slot.fixed.1, crest_v))
            }
            _ => slot.line(slot.wanted_action),
        };
    }

    let fretted = design.is_fretted();
    clearances.make_room(slots.len(), positions.len(), detail);
    let rise = values[Dim::TopRise];
    let u_first = board.scale * fret_ratio(1);
    let u_action = board.scale * fret_ratio(shape.action_fret);
    lines.clear();
    for (piece, slots) in slots.chunks(ABREAST).enumerate() {
        let of_each = |number: fn(&Slot) -> f64| -> Lanes {
            std::array::from_fn(|lane| number(&slots[lane.min(slots.len() - 1)]))
        };
        let abreast = LinesAbreast {
            nut_v: of_each(|slot| slot.nut_v),
            slope: of_each(|slot| slot.slope),
            crest_u: of_each(|slot| slot.crest_u),
            crest_v: of_each(|slot| slot.nut_v + slot.slope * slot.crest_u),
        };
        let nut_place = of_each(|slot| slot.places.0);
        let lean = of_each(|slot| slot.places.1 - slot.places.0).map(|out| out / board.scale);
        clearances.lay(piece, &abreast, positions, |n, u| {
            board.crowns((&nut_place, &lean), board.centre[n], u)
        });
        let least_stopped = clearances.least_stopped(piece, &abreast, positions);

        for (lane, slot) in slots.iter().enumerate() {
            let index = lines.len();
            let (nut_v, slope, crest_v) = (slot.nut_v, slot.slope, abreast.crest_v[lane]);
            if detail == Detail::Table {
                clearances.tabulate(index, positions, fretted);
            }
            let stops = if fretted {
                Vec::new()
            } else {
                let stop = |(n, &u): (usize, &f64)| {
                    let from = (u, clearances.crown(index, n));
                    fretless_stop(board, slot.places, from, (slot.crest_u, crest_v))
                };
                (1..).zip(positions.iter()).map(stop).collect()
            };

            let (x, y) = middle.strung.at(slot.crest_u, crest_v);
            let string = &design.strings[index];
            let (along, over) = match &string.retainer {
                Some(retainer) => (retainer.along, retainer.height),
                None => (string.post, string.post_height),
            };
            let post = head.strung(along.to_mm(), over.to_mm());
            lines.push(StringLine {
                nut_v,
                slope,
                slot_over_board: nut_v - board.bent.lift(0.0) + slot.nut_sagitta,
                first_fret: nut_v + slope * u_first - slot.crown_first,
                wanted_first: slot.wanted_first,
                action: nut_v + slope * u_action - slot.action_at.1,
                wanted_action: slot.wanted_action,
                crest_u: slot.crest_u,
                crest_v,
                crest: BodyPoint { x, y },
                crest_height: y - shape.top.height(x, values) - rise,
                saddle_break: tail_point(values, shape, x)
                    .map(|tail| bend_over_saddle(&middle.strung, slope, (x, y), tail)),
                nut_break: bend_over_nut(nut_v, slope, post),
                least_stopped: Some(least_stopped[lane])
                    .filter(|least| fretted && least.is_finite()),
                stops,
                taut: taut(string, shape.tuning.get(index).copied().flatten(), board.scale),
            });
        }
    }
    crest_line
}

/// How far a string lies on the way from the treble string (0) to the bass (1), by its
/// place at nut or crest; a single string in the middle.
pub(crate) fn part_toward_bass(
    design: &Design,
    index: usize,
    place: fn(&InstrumentString) -> f64,
) -> f64 {
    let at = |one: Option<&InstrumentString>| one.map_or(0.0, place);
    let (treble, bass) = (at(design.strings.first()), at(design.strings.last()));
    let here = at(design.strings.get(index));
    if treble > bass { (treble - here) / (treble - bass) } else { 0.5 }
}

/// Where one string starts and what is wanted of it.
#[derive(Clone, Copy, Debug)]
struct Slot {
    /// Its places at nut and bridge line.
    places: (f64, f64),
    /// How much lower than the centre line the surface lies under it at the nut.
    nut_sagitta: f64,
    crest_u: f64,
    /// Its distance from the centre line at its crest, a little beyond the bridge line.
    crest_w: f64,
    /// The point at the head end through which it must pass: over fret 1, in the slot, or on
    /// the zero fret (u, v).
    fixed: (f64, f64),
    /// Crown 1.
    crown_first: f64,
    wanted_first: f64,
    /// Where action is read, and the crown there.
    action_at: (f64, f64),
    wanted_action: f64,
    /// Height of the string at the nut and its rise per mm, once its line is known.
    nut_v: f64,
    slope: f64,
}

impl Slot {
    fn new(
        design: &Design,
        values: &Values<f64>,
        shape: &Shape,
        board: &Board<'_>,
        index: usize,
    ) -> Self {
        let string = &design.strings[index];
        let places = (string.nut_place.to_mm(), string.crest_place.to_mm());
        // bass and treble values belong to the outer strings, those between to
        // their place between them; a single string takes the mean
        let between = |place: fn(&InstrumentString) -> f64, treble: Dim, bass: Dim| {
            let part = part_toward_bass(design, index, place);
            values[treble] + (values[bass] - values[treble]) * part
        };
        let u_first = board.scale * fret_ratio(1);
        let u_action = board.scale * fret_ratio(shape.action_fret);
        let wanted_first =
            between(|string| string.nut_place.to_mm(), Dim::FirstFretTreble, Dim::FirstFretBass);
        let crown_first = board.under(u_first, places);
        let nut_sagitta = board.sagitta(0.0, places);
        let over_nut = |height: f64| (0.0, height + board.bent.lift(0.0) - nut_sagitta);
        let fixed = match &shape.nut {
            NutEnd::Wanted => (u_first, crown_first + wanted_first),
            NutEnd::ZeroFret => over_nut(values[Dim::ZeroFretHeight]),
            NutEnd::Filed { each, .. } => {
                over_nut(wanted_first + each.get(index).copied().unwrap_or_default())
            }
        };
        let crest_u = board.scale + values[Dim::Compensation] + string.crest_offset.to_mm();
        Self {
            places,
            nut_sagitta,
            crest_u,
            crest_w: board.place(crest_u, places),
            fixed,
            crown_first,
            wanted_first,
            action_at: (u_action, board.under(u_action, places)),
            wanted_action: between(
                |string| string.crest_place.to_mm(),
                Dim::ActionTreble,
                Dim::ActionBass,
            ),
            nut_v: f64::NAN,
            slope: f64::NAN,
        }
    }

    /// Height at the nut and slope of the string at a given action.
    fn line(&self, action: f64) -> (f64, f64) {
        string_line((self.fixed.0, self.action_at.0), (self.fixed.1, self.action_at.1 + action))
    }

    fn crest_v(&self, action: f64) -> f64 {
        let (nut_v, slope) = self.line(action);
        nut_v + slope * self.crest_u
    }
}

/// Height at its middle and tilt of a crest of radius R_c carried at two ends, from
/// the outer strings' wanted action: v_i = v_c + τ w_i - (R_c - √(R_c² - w_i²)).
fn shared_crest(radius: f64, slots: &[Slot]) -> Option<(f64, f64)> {
    let (treble, bass) = (slots.first()?, slots.last()?);
    let level = |slot: &Slot| slot.crest_v(slot.wanted_action) + sagitta(radius, slot.crest_w);
    let spread = treble.crest_w - bass.crest_w;
    let tilt = if spread > 0.0 { (level(treble) - level(bass)) / spread } else { 0.0 };
    Some((level(treble) - tilt * treble.crest_w, tilt))
}

/// How a string stopped on the surface at `from` leaves it on its way to the crest.
fn fretless_stop(
    board: &Board<'_>,
    places: (f64, f64),
    from: (f64, f64),
    crest: (f64, f64),
) -> FretlessStop {
    let slope = (crest.1 - from.1) / (crest.0 - from.0);
    let clearance = |u: f64| from.1 + slope * (u - from.0) - board.under(u, places);
    let start = from.0 + 30.0;
    let least = (start <= board.end).then(|| {
        // between these places the surface is smooth and the clearance all but concave
        // for a neck with relief; the grid catches the dip of a back-bowed one. The ends and
        // the corners are taken as they are: a place of the grid may miss them by rounding
        const GRID: u32 = 64;
        (1..GRID)
            .map(|i| start + (board.end - start) * f64::from(i) / f64::from(GRID))
            .chain(board.bent.corners())
            .filter(|u| (start..=board.end).contains(u))
            .chain([start, board.end])
            .map(|u| (clearance(u), u))
            .fold((f64::INFINITY, start), |least, here| if here.0 < least.0 { here } else { least })
    });
    FretlessStop {
        angle: slope.atan() - board.slope(from.0, places).atan(),
        clearance_60_on: (from.0 + 60.0 <= board.end).then(|| clearance(from.0 + 60.0)),
        least_from_30_on: least.map(|(clearance, _)| clearance),
        least_at: least.map(|(_, u)| u),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    /// Source: s = R - √(R² - w²/4), computed with mpmath apart from this project; the
    /// widths there are whole widths.
    #[test]
    fn sagittas_of_usual_boards() {
        for (radius, width, expected) in [
            (184.15, 42.0, 1.201311839),
            (184.15, 56.0, 2.141147193),
            (241.3, 43.0, 0.9597412001),
            (254.0, 43.0, 0.9115767168),
            (304.8, 57.0, 1.33535626),
            (508.0, 57.0, 0.8000887224),
        ] {
            // the reference is printed to ten significant digits
            assert!((sagitta(radius, width / 2.0) - expected).abs() < 1e-8, "R {radius}");
        }
    }

    /// A board that rises toward its end is nearest to the string there: the very end counts,
    /// for every length that the board may have. The slope is that of the surface.
    #[test]
    fn a_fretless_board_counts_to_its_end() {
        let mut design = crate::testing::worked_example();
        design.scale.frets = 0;
        design.board.crown = Length::mm(0.0);
        design.board.shape =
            BoardShape::Compound { radius_nut: Length::mm(180.0), radius_end: Length::mm(900.0) };
        design.wanted.relief = Length::mm(-0.1);
        for step in 0..200 {
            design.board.end = Length::mm(455.0 + 0.37 * f64::from(step));
            let (values, shape) = (Values::of(&design), Shape::of(&design));
            let middle = Middle::new(&values, &shape);
            let board = Board::new(&design, &values, &middle.board, &[]);
            let (places, from) = ((17.5, 26.0), 100.0);
            let stop = (from, board.under(from, places));
            // low enough that the end of the board is what it comes nearest to
            let crest = (630.0, stop.1 + 0.5);
            let found = fretless_stop(&board, places, stop, crest);
            let at_end = stop.1 + (crest.1 - stop.1) * (board.end - from) / (630.0 - from)
                - board.under(board.end, places);
            let least = found.least_from_30_on.unwrap();
            assert!(least <= at_end + 1e-12, "end {}: {least} over {at_end}", board.end);
            // a central difference over 2 mm of a curve whose third derivative stays below
            // 1e-6 /mm² is within 1e-6 of the slope
            let by_difference =
                0.5 * (board.under(from + 1.0, places) - board.under(from - 1.0, places));
            assert!((board.slope(from, places) - by_difference).abs() < 1e-6);
        }
    }
}
