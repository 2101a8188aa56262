//! The least travel of all strings over all notes at once: what [`super::Plucking`] says
//! note by note, found without looking at every note by itself.

use crate::design::MOST_STRINGS;
use crate::layout::{Layout, inverse_distances};

/// Most stops, the open string included.
const STOPS: usize = crate::design::MOST_FRETS as usize + 1;

/// The largest travel at the pluck that keeps each string off every fret, over all its
/// notes; below 0 where it touches at rest, infinite where it cannot be plucked at all.
/// A board with frets only. Distances in mm; `place` is the pluck's from the saddle.
///
/// # Method
/// Stopped at n the string rises to the crest by s_n per mm. Over fret m, x beyond the stop
/// and D before the crest, its clearance c is x (s_n - w) with w the slope of the chord from
/// crown n to crown m, and D (s_m - s_n) as well. With l = x + D, a the lesser and b the
/// greater of p and l - p, c over the [reach](super::reach) comes to
///
/// ```text
/// x ≤ a    a (s_n - w)        l/2 < x ≤ b    b (s_n - w)
/// a < x ≤ l/2    b (s_m - s_n)        b < x    a (s_m - s_n)
/// ```
///
/// so that in each part the steepest chord or the least s_m decides. Where the strings'
/// crests lie at different places, the frets about the ends of the parts are taken by the
/// formula that holds in all.
pub(crate) fn least_travels(layout: &Layout, place: f64) -> [f64; MOST_STRINGS] {
    let mut travels = [f64::INFINITY; MOST_STRINGS];
    // side by side, as many as fit well
    match layout.strings.len() {
        0 => {}
        1..=4 | 7..=8 => in_lanes::<4>(layout, place, &mut travels),
        _ => in_lanes::<6>(layout, place, &mut travels),
    }
    travels
}

fn in_lanes<const LANES: usize>(layout: &Layout, place: f64, travels: &mut [f64; MOST_STRINGS]) {
    let count = layout.strings.len();
    for first in (0..count).step_by(LANES) {
        // a chunk that is not full takes its last string several times
        let strings: [usize; LANES] = std::array::from_fn(|lane| (first + lane).min(count - 1));
        let least = SideBySide::new(layout, strings, place).least();
        for (lane, &string) in strings.iter().enumerate() {
            travels[string] = least[lane];
        }
    }
}

fn lesser(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// Some strings, place by place; place 0 is the nut.
struct SideBySide<'a, const LANES: usize> {
    positions: &'a [f64],
    inverse_scale: f64,
    place: f64,
    crest: [f64; LANES],
    /// Where the stopped string starts.
    height: [[f64; LANES]; STOPS],
    /// Rise per mm from there to the crest.
    rise: [[f64; LANES]; STOPS],
}

impl<'a, const LANES: usize> SideBySide<'a, LANES> {
    fn new(layout: &'a Layout, strings: [usize; LANES], place: f64) -> Self {
        let line = |lane: usize| &layout.strings[strings[lane]];
        let mut side_by_side = Self {
            positions: &layout.positions,
            inverse_scale: 1.0 / layout.scale(),
            place,
            crest: std::array::from_fn(|lane| line(lane).crest_u),
            height: [[0.0; LANES]; STOPS],
            rise: [[0.0; LANES]; STOPS],
        };
        side_by_side.height[0] = std::array::from_fn(|lane| line(lane).nut_v);
        side_by_side.rise[0] = std::array::from_fn(|lane| line(lane).slope);
        for (lane, &string) in strings.iter().enumerate() {
            let crowns = layout.clearances.crown_row(string).iter();
            let rises = layout.clearances.to_crest_row(string).iter();
            for (at, (crown, rise)) in crowns.zip(rises).enumerate().take(STOPS - 1) {
                side_by_side.height[at + 1][lane] = *crown;
                side_by_side.rise[at + 1][lane] = *rise;
            }
        }
        side_by_side
    }

    fn at(&self, stop: usize) -> f64 {
        if stop == 0 { 0.0 } else { self.positions[stop - 1] }
    }

    fn least(&self) -> [f64; LANES] {
        let stops = self.positions.len().min(STOPS - 1);
        let mut least = [f64::INFINITY; LANES];
        for stop in 0..stops {
            let travel = self.of_stop(stop, stops);
            for lane in 0..LANES {
                least[lane] = lesser(least[lane], travel[lane]);
            }
        }
        least
    }

    /// The largest travel of the strings stopped at `stop`.
    fn of_stop(&self, stop: usize, last: usize) -> [f64; LANES] {
        let from = self.at(stop);
        let long: [f64; LANES] = self.crest.map(|crest| crest - from);
        let (short, longest) =
            (long.into_iter().fold(f64::INFINITY, lesser), long.into_iter().fold(0.0, greater));
        let p = self.place;
        if longest <= p {
            return [f64::INFINITY; LANES];
        }
        let mut least = [f64::INFINITY; LANES];
        let x = |m: usize| self.at(m) - from;
        let inverses = inverse_distances(stop);
        let mut m = stop + 1;
        if 2.0 * p <= short {
            let q: [f64; LANES] = long.map(|long| long - p);
            m = self.chords(stop, m, last, &[p; LANES], |m| x(m) <= p, &mut least);
            let (from, mut lowest) = (m, [f64::INFINITY; LANES]);
            while m <= last && 2.0 * x(m) <= short {
                for (lowest, rise) in lowest.iter_mut().zip(&self.rise[m]) {
                    *lowest = lesser(*lowest, *rise);
                }
                m += 1;
            }
            if m > from {
                for lane in 0..LANES {
                    let travel = q[lane] * (lowest[lane] - self.rise[stop][lane]);
                    least[lane] = lesser(least[lane], travel);
                }
            }
            while m <= last && 2.0 * x(m) <= longest {
                self.any(stop, m, inverses, &long, &mut least);
                m += 1;
            }
            m = self.chords(stop, m, last, &q, |m| x(m) <= short - p, &mut least);
        }
        while m <= last {
            self.any(stop, m, inverses, &long, &mut least);
            m += 1;
        }
        for lane in 0..LANES {
            // stopped beyond the pluck
            if long[lane] <= p {
                least[lane] = f64::INFINITY;
            }
        }
        least
    }

    /// The frets from m on where the chords decide, as long as they are `within`. Returns the
    /// first fret beyond them.
    fn chords(
        &self,
        stop: usize,
        start: usize,
        last: usize,
        apex: &[f64; LANES],
        within: impl Fn(usize) -> bool,
        least: &mut [f64; LANES],
    ) -> usize {
        let inverses = inverse_distances(stop);
        let mut steepest = [f64::NEG_INFINITY; LANES];
        let mut m = start;
        while m <= last && within(m) {
            let inverse = inverses[m - stop - 1] * self.inverse_scale;
            let heights = self.height[m].iter().zip(&self.height[stop]);
            for (steepest, (here, from)) in steepest.iter_mut().zip(heights) {
                *steepest = greater(*steepest, (here - from) * inverse);
            }
            m += 1;
        }
        if m > start {
            for lane in 0..LANES {
                let travel = apex[lane] * (self.rise[stop][lane] - steepest[lane]);
                least[lane] = lesser(least[lane], travel);
            }
        }
        m
    }

    /// One fret by the formula that holds everywhere: clearance times the lesser of the
    /// greatest inverse reaches, drawn away and toward.
    #[inline]
    fn any(
        &self,
        stop: usize,
        m: usize,
        inverses: &[f64],
        long: &[f64; LANES],
        least: &mut [f64; LANES],
    ) {
        let inverse = inverses[m - stop - 1] * self.inverse_scale;
        for lane in 0..LANES {
            let behind = self.crest[lane] - self.at(m);
            let (p, q) = (self.place, long[lane] - self.place);
            let near = behind * inverse;
            let away = greater(p * near, q);
            let toward = greater(q * near, p);
            let clearance = self.rise[m][lane] - self.rise[stop][lane];
            least[lane] = lesser(least[lane], clearance * lesser(away, toward));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::BoardShape;
    use crate::layout::solve;
    use crate::strings::Plucking;
    use crate::testing::worked_example;
    use crate::units::Length;

    /// All at once comes to what note by note does, on boards of every kind and with frets
    /// that the strings touch at rest.
    #[test]
    fn all_at_once_and_note_by_note() {
        for frets in [5, 12, 22, 24, 36] {
            for relief in [-0.3, 0.0, 0.2, 1.0] {
                for place in [20.0, 110.0, 250.0, 400.0] {
                    let mut design = worked_example();
                    design.scale.frets = frets;
                    design.board.end = Length::mm(560.0);
                    design.wanted.relief = Length::mm(relief);
                    design.wanted.action_fret = 5;
                    design.joint.fret = frets.min(16) - 1;
                    design.board.shape = BoardShape::Compound {
                        radius_nut: Length::mm(254.0),
                        radius_end: Length::mm(406.4),
                    };
                    for (i, string) in design.strings.iter_mut().enumerate() {
                        string.crest_offset = Length::mm(i as f64 * 0.7 - 1.0);
                    }
                    let solved = solve(&design).map(|solved| solved.design).unwrap_or(design);
                    let layout = Layout::of(&solved).unwrap();
                    let travels = least_travels(&layout, place);
                    let plucking = Plucking::new(&layout, place);
                    for (string, quick) in travels.into_iter().enumerate().take(6) {
                        let slow = plucking.most_of_string(string).map(|most| most.most);
                        let (quick, slow) = (quick.max(0.0), slow.unwrap_or(f64::INFINITY));
                        // the same sum in another order: some ten roundings of slopes below
                        // 0.1, times some 1000 mm
                        let near = quick == slow || (quick - slow).abs() < 1e-11;
                        assert!(near, "{frets} {relief} {place} {string}: {quick} {slow}");
                    }
                }
            }
        }
    }
}
