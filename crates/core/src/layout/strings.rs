//! Each string over each fret.

use super::BodyPoint;
use super::closing::{
    BentBoard, HeadFrame, Middle, Shape, nut_break, saddle_angles, string_line, tail_point,
};
use crate::design::{BoardShape, Design, InstrumentString};
use crate::dimension::{Dim, Values};
use crate::layout::fret_ratio;

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
    /// Bend over the saddle; none when wrapped over.
    pub saddle_break: Option<f64>,
    /// Bend over the nut.
    pub nut_break: f64,
    /// Least clearance of a note fretted at n over a later fret m, with (n, m).
    /// None without frets, or with only one.
    pub least_stopped: Option<(f64, usize, usize)>,
    /// On a fretless board: how the string leaves the surface at each stop.
    pub stops: Vec<FretlessStop>,
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
}

/// Heights and clearances of every string over every fret, in one piece.
/// Strings count from 0, frets from 1.
#[derive(Clone, Debug, Default)]
pub struct Clearances {
    frets: usize,
    crowns: Vec<f64>,
    open: Vec<f64>,
    /// For each string the rows n = 1…N-1, each with m = n+1…N.
    stopped: Vec<f64>,
}

impl Clearances {
    /// Frets, or stops of a fretless board.
    pub fn frets(&self) -> usize {
        self.frets
    }

    fn per_string(&self) -> usize {
        self.frets * self.frets.saturating_sub(1) / 2
    }

    /// Height of crown n under a string, over the straight, unstrung surface; the
    /// surface itself on a fretless board.
    pub fn crown(&self, string: usize, n: usize) -> f64 {
        self.crowns[string * self.frets + n - 1]
    }

    /// Clearance of the open string over crown m, along v.
    pub fn open(&self, string: usize, m: usize) -> f64 {
        self.open[string * self.frets + m - 1]
    }

    /// Clearance over crown m of the string stopped at fret n < m, along v. None
    /// on a fretless board, or for other n and m.
    pub fn stopped(&self, string: usize, n: usize, m: usize) -> Option<f64> {
        if n < 1 || m <= n || m > self.frets {
            return None;
        }
        let before = (n - 1) * (2 * self.frets - n) / 2;
        self.stopped.get(string * self.per_string() + before + m - n - 1).copied()
    }

    /// The open clearances of one string, m = 1…N.
    pub fn open_row(&self, string: usize) -> &[f64] {
        &self.open[string * self.frets..(string + 1) * self.frets]
    }

    /// The crowns under one string, n = 1…N.
    pub fn crown_row(&self, string: usize) -> &[f64] {
        &self.crowns[string * self.frets..(string + 1) * self.frets]
    }

    /// The clearances of one string stopped at n over m = n+1…N; empty on a
    /// fretless board.
    pub fn stopped_row(&self, string: usize, n: usize) -> &[f64] {
        if self.stopped.is_empty() || n < 1 || n >= self.frets {
            return &[];
        }
        let start = string * self.per_string() + (n - 1) * (2 * self.frets - n) / 2;
        &self.stopped[start..start + self.frets - n]
    }
}

/// How much the surface of a board of radius R lies lower at w from the centre
/// line: R - √(R² - w²), in a form that keeps its digits when w is small. All mm;
/// not a number for |w| > R.
pub(crate) fn sagitta(radius: f64, w: f64) -> f64 {
    w * w / (radius + (radius * radius - w * w).sqrt())
}

/// The surface under all strings.
pub(super) struct Board<'a> {
    positions: &'a [f64],
    /// Crowns on the centre line.
    centre: Vec<f64>,
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
        positions: &'a [f64],
    ) -> Self {
        Self {
            positions,
            centre: positions.iter().map(|&u| bent.crown(u)).collect(),
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

    /// Heights of all crowns under a string.
    fn crowns(&self, (nut_place, crest_place): (f64, f64), crowns: &mut [f64]) {
        let Some((nut, growth)) = self.radius else {
            crowns.copy_from_slice(&self.centre);
            return;
        };
        let lean = (crest_place - nut_place) / self.scale;
        for ((crown, &u), centre) in crowns.iter_mut().zip(self.positions).zip(&self.centre) {
            *crown = centre - sagitta(nut + growth * u, nut_place + lean * u);
        }
    }

    /// Height of the crown (or bare surface, without frets) under a string at u.
    fn under(&self, u: f64, places: (f64, f64)) -> f64 {
        self.bent.crown(u) - self.sagitta(u, places)
    }
}

/// Lays all strings. The third result is a shared crest's height at its middle
/// and its tilt (v = centre + tilt · w), where there is one.
pub(super) fn lay(
    design: &Design,
    values: &Values<f64>,
    shape: &Shape,
    middle: &Middle<f64>,
    board: &Board<'_>,
) -> (Vec<StringLine>, Clearances, Option<(f64, f64)>) {
    let slots: Vec<Slot> = (0..design.strings.len())
        .map(|index| Slot::new(design, values, shape, board, index))
        .collect();
    let crest_line = design
        .bridge
        .kind
        .shared_crest()
        .and_then(|(radius, _)| shared_crest(radius.to_mm(), &slots));

    let frets = board.positions.len();
    let count = slots.len();
    let fretted = design.is_fretted();
    let mut clearances = Clearances {
        frets,
        crowns: vec![0.0; count * frets],
        open: vec![0.0; count * frets],
        stopped: Vec::new(),
    };
    if fretted {
        clearances.stopped.reserve_exact(count * clearances.per_string());
    }
    let rise = values[Dim::TopRise];
    let pitch = values[Dim::Pitch] - values[Dim::PitchLost];
    let u_first = board.scale * fret_ratio(1);
    let u_action = board.scale * fret_ratio(shape.action_fret);
    let head = HeadFrame::new(values, shape, &middle.board);
    let mut lines = Vec::with_capacity(count);
    for (index, slot) in slots.iter().enumerate() {
        let (nut_v, slope) = match (crest_line, design.bridge.kind.shared_crest()) {
            (Some((centre, tilt)), Some((radius, _))) => {
                let crest_v = centre + tilt * slot.crest_w - sagitta(radius.to_mm(), slot.crest_w);
                string_line((slot.fixed.0, slot.crest_u), (slot.fixed.1, crest_v))
            }
            _ => slot.line(slot.wanted_action),
        };
        let crest_v = nut_v + slope * slot.crest_u;

        board.crowns(slot.places, &mut clearances.crowns[index * frets..(index + 1) * frets]);
        let crowns = &clearances.crowns[index * frets..(index + 1) * frets];
        let open = &mut clearances.open[index * frets..(index + 1) * frets];
        for ((clearance, &u), crown) in open.iter_mut().zip(board.positions).zip(crowns) {
            *clearance = nut_v + slope * u - crown;
        }
        let mut least_stopped = None;
        let mut stops = Vec::new();
        if fretted {
            let crest = (slot.crest_u, crest_v);
            least_stopped =
                stopped_clearances(board.positions, crowns, crest, &mut clearances.stopped);
        } else {
            stops = (0..frets)
                .map(|n| {
                    let from = (board.positions[n], crowns[n]);
                    fretless_stop(board, slot.places, from, (slot.crest_u, crest_v))
                })
                .collect();
        }

        let (x, y) = middle.strung.at(slot.crest_u, crest_v);
        let string = &design.strings[index];
        let (along, over) = match &string.retainer {
            Some(retainer) => (retainer.along, retainer.height),
            None => (string.post, string.post_height),
        };
        lines.push(StringLine {
            nut_v,
            slope,
            slot_over_board: nut_v - board.bent.lift(0.0) + board.sagitta(0.0, slot.places),
            first_fret: nut_v + slope * u_first - board.under(u_first, slot.places),
            action: nut_v + slope * u_action - board.under(u_action, slot.places),
            wanted_action: slot.wanted_action,
            crest_u: slot.crest_u,
            crest_v,
            crest: BodyPoint { x, y },
            crest_height: y - shape.top.height(x, values) - rise,
            saddle_break: tail_point(values, shape, x).map(|tail| {
                let (before, behind) = saddle_angles(pitch, slope, (x, y), tail);
                before + behind
            }),
            nut_break: nut_break(nut_v, slope, head.strung(along.to_mm(), over.to_mm())),
            least_stopped,
            stops,
        });
    }
    (lines, clearances, crest_line)
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
struct Slot {
    /// Its places at nut and bridge line.
    places: (f64, f64),
    crest_u: f64,
    /// Its distance from the centre line at its crest, a little beyond the bridge line.
    crest_w: f64,
    /// The point at the head end through which it must pass: over fret 1, or on the
    /// zero fret (u, v).
    fixed: (f64, f64),
    /// Where action is read, and the crown there.
    action_at: (f64, f64),
    wanted_action: f64,
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
        let fixed = if shape.zero_fret {
            let height =
                values[Dim::ZeroFretHeight] + board.bent.lift(0.0) - board.sagitta(0.0, places);
            (0.0, height)
        } else {
            let wanted = between(
                |string| string.nut_place.to_mm(),
                Dim::FirstFretTreble,
                Dim::FirstFretBass,
            );
            (u_first, board.under(u_first, places) + wanted)
        };
        let crest_u = board.scale + values[Dim::Compensation] + string.crest_offset.to_mm();
        Self {
            places,
            crest_u,
            crest_w: board.place(crest_u, places),
            fixed,
            action_at: (u_action, board.under(u_action, places)),
            wanted_action: between(
                |string| string.crest_place.to_mm(),
                Dim::ActionTreble,
                Dim::ActionBass,
            ),
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

/// Clearances of one string stopped at each n over each m > n, added to `stopped` row by
/// row; returns the least with its n and m.
///
/// Stopped at n, the string runs straight from crown n to the crest.
fn stopped_clearances(
    positions: &[f64],
    crowns: &[f64],
    crest: (f64, f64),
    stopped: &mut Vec<f64>,
) -> Option<(f64, usize, usize)> {
    let start = stopped.len();
    for n in 0..positions.len().saturating_sub(1) {
        let (u, v) = (positions[n], crowns[n]);
        let slope = (crest.1 - v) / (crest.0 - u);
        let beyond = positions[n + 1..].iter().zip(&crowns[n + 1..]);
        stopped.extend(beyond.map(|(&at, &crown)| v + slope * (at - u) - crown));
    }
    // sought over all rows at once, which the processor does in one sweep
    let all = &stopped[start..];
    let least = least_of(all);
    let mut place = all.iter().position(|&clearance| clearance == least)?;
    let mut n = 1;
    while place >= positions.len() - n {
        place -= positions.len() - n;
        n += 1;
    }
    Some((least, n, n + place + 1))
}

/// The least of some numbers, in four lanes so that the processor can take them side by
/// side; infinite for none.
fn least_of(numbers: &[f64]) -> f64 {
    let smaller = |a: f64, b: f64| if b < a { b } else { a };
    let mut lanes = [f64::INFINITY; 4];
    let chunks = numbers.chunks_exact(4);
    let rest = chunks.remainder().iter().copied().fold(f64::INFINITY, smaller);
    for chunk in chunks {
        for (lane, &number) in lanes.iter_mut().zip(chunk) {
            *lane = smaller(*lane, number);
        }
    }
    lanes.into_iter().fold(rest, smaller)
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
    let least_from_30_on = (start <= board.end).then(|| {
        // between these places the surface is smooth and the clearance all but concave
        // for a neck with relief; the grid catches the dip of a back-bowed one. The ends and
        // the corners are taken as they are: a place of the grid may miss them by rounding
        const GRID: u32 = 64;
        (1..GRID)
            .map(|i| start + (board.end - start) * f64::from(i) / f64::from(GRID))
            .chain(board.bent.corners())
            .filter(|u| (start..=board.end).contains(u))
            .chain([start, board.end])
            .map(clearance)
            .fold(f64::INFINITY, f64::min)
    });
    FretlessStop {
        angle: slope.atan() - board.slope(from.0, places).atan(),
        clearance_60_on: (from.0 + 60.0 <= board.end).then(|| clearance(from.0 + 60.0)),
        least_from_30_on,
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
            let positions: Vec<f64> = (1..=shape.stops(628.0, design.board.end.to_mm()))
                .map(|n| 628.0 * fret_ratio(n))
                .collect();
            let board = Board::new(&design, &values, &middle.board, &positions);
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

    #[test]
    fn rows_of_the_triangle_are_found_again() {
        let frets = 5;
        let mut clearances = Clearances { frets, ..Clearances::default() };
        for string in 0..2 {
            for n in 1..frets {
                clearances
                    .stopped
                    .extend((n + 1..=frets).map(|m| (100 * string + 10 * n + m) as f64));
            }
        }
        for string in 0..2 {
            for n in 1..=frets {
                for m in 0..=frets + 1 {
                    let expected =
                        (m > n && m <= frets).then(|| (100 * string + 10 * n + m) as f64);
                    assert_eq!(clearances.stopped(string, n, m), expected);
                }
            }
            assert_eq!(clearances.stopped_row(string, 3).len(), 2);
        }
    }
}
