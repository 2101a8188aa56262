//! How far and how hard a string can be plucked before it touches a fret.
//!
//! An ideal string plucked at a distance p from the saddle stays within a parallelogram:
//! on the side to which it is drawn the apex lies where it is plucked, on the other side
//! p from the *stop*. The string is drawn either away from the board or toward it.
//!
//! # Source
//! N. H. Fletcher and T. D. Rossing, The Physics of Musical Instruments, ch. 2.

use crate::layout::Layout;

/// To which side a string is drawn before it is let go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drawn {
    /// Away from the board: it swings back to the board p from the stop.
    Away,
    /// Toward the board.
    Toward,
}

impl Drawn {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Away => "away",
            Self::Toward => "toward",
        }
    }
}

/// How far below its rest a plucked string of length l swings at x from the stop, as a
/// part of its travel at the place of the pluck, p from the saddle.
pub fn reach(drawn: Drawn, x: f64, length: f64, place: f64) -> f64 {
    let apex = match drawn {
        Drawn::Away => place,
        Drawn::Toward => length - place,
    };
    (x / apex).min((length - x) / (length - apex))
}

/// Travel at the pluck for a force of 1 N, mm: p (l - p)/(T l). Lengths in mm, T in N.
pub fn give(length: f64, place: f64, tension: f64) -> f64 {
    place * (length - place) / (tension * length)
}

/// The most that a string takes without contact, and where it touches first beyond that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Most {
    /// Travel at the pluck, mm (or force, N).
    pub most: f64,
    /// The stop, 0 for the open string.
    pub stop: usize,
    /// The fret that it touches first.
    pub fret: usize,
    /// To which side it was drawn.
    pub drawn: Drawn,
}

impl Most {
    fn least(a: Option<Self>, b: Self) -> Option<Self> {
        Some(a.filter(|a| a.most <= b.most).unwrap_or(b))
    }

    fn not_negative(self) -> Self {
        Self { most: self.most.max(0.0), ..self }
    }
}

/// On a fretless board the string rises from where it is stopped at a small angle, so that
/// it always lies near the board there and "contact" has no sharp meaning (it is part of
/// the sound): only from this far beyond the stop is it counted, mm, as for the clearance
/// of stopped notes. Between semitones the clearance is all but a straight line, so that
/// they and nothing between them are looked at.
const FRETLESS_FROM: f64 = 30.0;

/// What the notes of one layout share: distances between the frets, taken once.
#[derive(Clone, Debug)]
pub struct Plucking<'a> {
    layout: &'a Layout,
    place: f64,
    /// 1/(u_m - u_n), the rows n = 0…N-1 each with m = n+1…N.
    inverse: Vec<f64>,
    /// 1/(u_s - u_m), string by string.
    far: Vec<f64>,
}

impl<'a> Plucking<'a> {
    /// Plucked at `place` mm from the saddle.
    pub fn new(layout: &'a Layout, place: f64) -> Self {
        let u = &layout.positions;
        let mut inverse = Vec::with_capacity(u.len() * (u.len() + 1) / 2);
        for n in 0..u.len() {
            let from = if n == 0 { 0.0 } else { u[n - 1] };
            inverse.extend(u[n..].iter().map(|at| 1.0 / (at - from)));
        }
        let far = layout
            .strings
            .iter()
            .flat_map(|line| u.iter().map(|at| 1.0 / (line.crest_u - at)))
            .collect();
        Self { layout, place, inverse, far }
    }

    /// Where the strings are plucked, from the saddle.
    pub fn place(&self) -> f64 {
        self.place
    }

    /// Where fret `stop` stands from the nut; 0 for the nut itself.
    pub(crate) fn stop_at(&self, stop: usize) -> f64 {
        if stop == 0 { 0.0 } else { self.layout.positions[stop - 1] }
    }

    /// Length that sounds, along the board; none where the string is stopped beyond the
    /// place of the pluck.
    pub fn sounding(&self, string: usize, stop: usize) -> Option<f64> {
        let length = self.layout.strings.get(string)?.crest_u - self.stop_at(stop);
        (length > self.place).then_some(length)
    }

    fn inverses(&self, stop: usize) -> &[f64] {
        let frets = self.layout.positions.len();
        let start = stop * (2 * frets - stop + 1) / 2;
        &self.inverse[start..start + frets - stop]
    }

    /// The largest travel at the pluck that keeps a string, stopped at fret `stop` (0 for
    /// open), off every later fret; 0 if it touches at rest. None where it cannot be plucked
    /// at that place or there is no later fret.
    pub fn most(&self, string: usize, stop: usize) -> Option<Most> {
        self.signed(string, stop).map(Most::not_negative)
    }

    /// The same, negative where the string touches at rest: so that a search can tell how
    /// far it is from playing at all.
    fn signed(&self, string: usize, stop: usize) -> Option<Most> {
        if !self.layout.is_fretted() {
            return [Drawn::Away, Drawn::Toward]
                .into_iter()
                .filter_map(|drawn| self.signed_drawn(string, stop, drawn))
                .fold(None, Most::least);
        }
        let row = self.row(string, stop)?;
        let most = row.least();
        (0..row.clearances.len()).find_map(|i| {
            let (away, toward) = row.most_at(i);
            let drawn = match (away == most, toward == most) {
                (true, _) => Drawn::Away,
                (_, true) => Drawn::Toward,
                _ => return None,
            };
            Some(Most { most, stop, fret: stop + i + 1, drawn })
        })
    }

    /// The notes of one stop of a board with frets.
    fn row(&self, string: usize, stop: usize) -> Option<Row<'_>> {
        let length = self.sounding(string, stop)?;
        let clearances = match stop {
            0 => self.layout.clearances.open_row(string),
            _ => self.layout.clearances.stopped_row(string, stop),
        };
        let count = clearances.len();
        let far = &self.far[string * self.layout.positions.len() + stop..][..count];
        let near = &self.inverses(stop)[..count];
        Some(Row { clearances, near, far, p: self.place, q: length - self.place })
    }

    /// The same drawn to one side only.
    pub fn most_drawn(&self, string: usize, stop: usize, drawn: Drawn) -> Option<Most> {
        self.signed_drawn(string, stop, drawn).map(Most::not_negative)
    }

    fn signed_drawn(&self, string: usize, stop: usize, drawn: Drawn) -> Option<Most> {
        let length = self.sounding(string, stop)?;
        (stop + 1..=self.layout.positions.len())
            .filter(|&m| self.counts(stop, m))
            .filter_map(|m| {
                let clearance = self.at_rest(string, stop, m)?;
                let x = self.layout.positions[m - 1] - self.stop_at(stop);
                let most = clearance / reach(drawn, x, length, self.place);
                Some(Most { most, stop, fret: m, drawn })
            })
            .fold(None, Most::least)
    }

    /// Whether a contact with fret m counts; see `FRETLESS_FROM`.
    pub fn counts(&self, stop: usize, m: usize) -> bool {
        self.layout.is_fretted()
            || stop == 0
            || self.layout.positions[m - 1] - self.stop_at(stop) >= FRETLESS_FROM
    }

    /// Clearance over fret m at rest of a string stopped at `stop`, 0 for open.
    pub(crate) fn at_rest(&self, string: usize, stop: usize, m: usize) -> Option<f64> {
        match stop {
            0 => {
                let clearances = &self.layout.clearances;
                (1..=clearances.frets()).contains(&m).then(|| clearances.open(string, m))
            }
            _ => self.layout.stopped_over(string, stop, m),
        }
    }

    /// The largest travel of a string over every stop, open string included.
    pub(crate) fn most_of_string(&self, string: usize) -> Option<Most> {
        self.signed_of_string(string).map(Most::not_negative)
    }

    /// The same, negative where the string touches at rest.
    pub(super) fn signed_of_string(&self, string: usize) -> Option<Most> {
        let stops = 0..self.layout.positions.len();
        if !self.layout.is_fretted() {
            return stops.filter_map(|stop| self.signed(string, stop)).fold(None, Most::least);
        }
        // where a string touches is asked of the worst stop only
        let (stop, _) = stops
            .filter_map(|stop| Some((stop, self.row(string, stop)?.least())))
            .min_by(|a, b| a.1.total_cmp(&b.1))?;
        self.signed(string, stop)
    }

    /// What is left over fret m of a string stopped at `stop` and plucked with this travel;
    /// negative where it touches. Drawn to the side that is given, or to either.
    pub fn left(
        &self,
        string: usize,
        stop: usize,
        m: usize,
        travel: f64,
        drawn: Option<Drawn>,
    ) -> Option<f64> {
        let length = self.sounding(string, stop)?;
        let x = self.layout.positions.get(m.checked_sub(1)?)? - self.stop_at(stop);
        let reach = |drawn| reach(drawn, x, length, self.place);
        let most = match drawn {
            Some(drawn) => reach(drawn),
            None => reach(Drawn::Away).max(reach(Drawn::Toward)),
        };
        Some(self.at_rest(string, stop, m)? - travel * most)
    }
}

/// Clearances of one stopped note with what their reach is made of.
struct Row<'a> {
    clearances: &'a [f64],
    near: &'a [f64],
    far: &'a [f64],
    /// The pluck from the saddle.
    p: f64,
    /// The pluck from the stop.
    q: f64,
}

impl Row<'_> {
    /// The travel that touches the i-th fret, drawn away and toward.
    fn most_at(&self, i: usize) -> (f64, f64) {
        self.over_reach(self.clearances[i], self.near[i], self.far[i])
    }

    /// Clearance over reach, drawn away and toward. The reach is the lesser of two lines, so
    /// that its inverse is the greater of two.
    #[inline(always)]
    fn over_reach(&self, clearance: f64, near: f64, far: f64) -> (f64, f64) {
        let greater = |a: f64, b: f64| if b > a { b } else { a };
        (
            clearance * greater(self.p * near, self.q * far),
            clearance * greater(self.q * near, self.p * far),
        )
    }

    /// The least of all, in lanes so that the processor can take them side by side.
    fn least(&self) -> f64 {
        const LANES: usize = 4;
        let lesser = |a: f64, b: f64| if b < a { b } else { a };
        let mut least = [f64::INFINITY; LANES];
        let (clearances, near, far) = (
            self.clearances.as_chunks::<LANES>(),
            self.near.as_chunks::<LANES>(),
            self.far.as_chunks::<LANES>(),
        );
        for ((clearance, near), far) in clearances.0.iter().zip(near.0).zip(far.0) {
            for lane in 0..LANES {
                let (away, toward) = self.over_reach(clearance[lane], near[lane], far[lane]);
                least[lane] = lesser(least[lane], lesser(away, toward));
            }
        }
        let rest = clearances.1.iter().zip(near.1).zip(far.1).map(|((&c, &near), &far)| {
            let (away, toward) = self.over_reach(c, near, far);
            lesser(away, toward)
        });
        rest.chain(least).fold(f64::INFINITY, lesser)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Layout, solve};
    use crate::testing::worked_example;

    /// Source: the parallelogram of the plucked ideal string (Fletcher and Rossing, ch. 2;
    /// computed, and checked by Fourier synthesis): plucked 0.15 of the length from the
    /// bridge, 2 mm. x is from the bridge; first value on the side drawn to, second on
    /// the other.
    #[test]
    fn envelope_of_a_plucked_string() {
        for (x, near, other) in [
            (0.05, 0.666666667, -0.117647059),
            (0.15, 2.0, -0.352941176),
            (0.3, 1.64705882, -0.705882353),
            (0.5, 1.17647059, -1.17647059),
            (0.85, 0.352941176, -2.0),
            (0.95, 0.117647059, -0.666666667),
        ] {
            // nine printed digits
            let at = 1.0 - x;
            assert!((2.0 * reach(Drawn::Toward, at, 1.0, 0.15) - near).abs() < 1e-8, "{x}");
            assert!((-2.0 * reach(Drawn::Away, at, 1.0, 0.15) - other).abs() < 1e-8, "{x}");
        }
    }

    /// Source: F = T h (1/x + 1/(L - x)), computed: 80 N, 640 mm, plucked at 80 mm by 2 mm.
    #[test]
    fn force_of_a_pluck() {
        // ten printed digits
        assert!((2.0 / give(640.0, 80.0, 80.0) - 2.285714286).abs() < 1e-8);
        assert!((1e3 / give(640.0, 80.0, 80.0) - 1142.857143).abs() < 1e-5);
    }

    fn laid(frets: u8) -> Layout {
        let mut design = worked_example();
        design.scale.frets = frets;
        if frets == 0 {
            design.board.crown = crate::units::Length::mm(0.0);
            design.wanted.first_fret_bass = crate::units::Length::mm(0.3);
        }
        Layout::of(&solve(&design).unwrap().design).unwrap()
    }

    /// The quick way agrees with the formula, note by note.
    #[test]
    fn the_least_of_all_is_the_least_of_each() {
        for frets in [22, 0] {
            let layout = laid(frets);
            for place in [60.0, 110.0, 200.0] {
                let plucking = Plucking::new(&layout, place);
                for stop in 0..layout.positions.len() {
                    let quick = plucking.most(0, stop);
                    let slow = [Drawn::Away, Drawn::Toward]
                        .into_iter()
                        .filter_map(|drawn| plucking.most_drawn(0, stop, drawn))
                        .min_by(|a, b| a.most.total_cmp(&b.most));
                    assert_eq!(quick.is_some(), slow.is_some());
                    if let (Some(quick), Some(slow)) = (quick, slow) {
                        // the same sum in another order
                        assert!((quick.most - slow.most).abs() < 1e-12 * slow.most.max(1.0));
                        assert_eq!((quick.fret, quick.drawn), (slow.fret, slow.drawn));
                        // and there the string just touches
                        let left = plucking.left(0, stop, quick.fret, quick.most, None).unwrap();
                        assert!(left.abs() < 1e-12, "{left}");
                    }
                }
            }
        }
    }

    #[test]
    fn beyond_the_pluck_nothing_is_said() {
        let layout = laid(22);
        let plucking = Plucking::new(&layout, 300.0);
        assert!(plucking.sounding(0, 20).is_none() && plucking.most(0, 20).is_none());
        assert!(plucking.most_of_string(0).is_some());
        assert!(Plucking::new(&layout, 110.0).most(0, 22).is_none());
    }
}
