//! The least travel of all strings over all notes at once: what [`super::Plucking`] says
//! note by note, found without looking at every note by itself.

use crate::design::MOST_STRINGS;
use crate::layout::{Layout, inverse_adjacent, inverse_distances};

/// Most stops, the open string included.
const STOPS: usize = crate::design::MOST_FRETS as usize + 1;

/// Slopes (mm to a scale length) that differ by less are equal but for rounding: of crowns of
/// some mm, frets 1/70 of a scale apart.
const ROUNDING: f64 = 2e-13;

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
/// x ≤ a    a (s_n - w)
/// a < x ≤ b    the lesser of b (s_n - w) and b (s_m - s_n)
/// b < x    a (s_m - s_n)
/// ```
///
/// (in the middle as long as c is not below 0), so that in each part the steepest chord and
/// the least s_m decide. On a hollow run of crowns the steepest chord is the one to the last
/// of them, on a bulging run the one to the next, and as long as s_m grows the least is the
/// first: only what lies beyond is looked at one by one. Where the strings' crests lie at
/// different places, the frets about p from them are taken by the formula that holds in all.
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

/// Some strings, place by place; place 0 is the nut, place n fret n.
struct SideBySide<'a, const LANES: usize> {
    positions: &'a [f64],
    inverse_scale: f64,
    pluck: f64,
    crest: [f64; LANES],
    /// Where the stopped string starts.
    height: [[f64; LANES]; STOPS],
    /// Rise per mm from there to the crest.
    rise: [[f64; LANES]; STOPS],
    runs: Runs,
}

/// The chords from one place to later ones.
struct Chords {
    from: usize,
    /// Inverse distances to the places after it, as a part of the scale length.
    inverses: &'static [f64],
}

impl Chords {
    fn inverse(&self, to: usize) -> f64 {
        self.inverses[to - self.from - 1]
    }
}

/// What holds of the places of all strings.
struct Runs {
    /// From the nut to here they lie on a hollow curve.
    hollow_to: usize,
    /// From here on they lie on a bulging curve.
    bulging_from: usize,
    /// From fret 1 to here the rises grow.
    growing_to: usize,
}

impl<'a, const LANES: usize> SideBySide<'a, LANES> {
    fn new(layout: &'a Layout, strings: [usize; LANES], pluck: f64) -> Self {
        let line = |lane: usize| &layout.strings[strings[lane]];
        let mut side_by_side = Self {
            positions: &layout.positions[..layout.positions.len().min(STOPS - 1)],
            inverse_scale: 1.0 / layout.scale(),
            pluck,
            crest: std::array::from_fn(|lane| line(lane).crest_u),
            height: [[0.0; LANES]; STOPS],
            rise: [[0.0; LANES]; STOPS],
            runs: Runs { hollow_to: 0, bulging_from: 0, growing_to: 0 },
        };
        let Self { height, rise, .. } = &mut side_by_side;
        height[0] = std::array::from_fn(|lane| line(lane).nut_v);
        rise[0] = std::array::from_fn(|lane| line(lane).slope);
        for (lane, &string) in strings.iter().enumerate() {
            let crowns = layout.clearances.crown_row(string).iter();
            let rises = layout.clearances.to_crest_row(string).iter();
            let places = height[1..].iter_mut().zip(&mut rise[1..]);
            for ((height, rise), (&crown, &to_crest)) in places.zip(crowns.zip(rises)) {
                (height[lane], rise[lane]) = (crown, to_crest);
            }
        }
        side_by_side.runs = Runs::of(height, rise, layout.positions.len().min(STOPS - 1));
        side_by_side
    }

    /// The largest travel of each string over all stops.
    fn least(&self) -> [f64; LANES] {
        let (last, pluck) = (self.positions.len(), self.pluck);
        let shortest = self.crest.into_iter().fold(f64::INFINITY, lesser);
        let longest = self.crest.into_iter().fold(0.0, greater);
        // frets that lie before the pluck on every string, and on some
        let before = |crest: f64| self.positions.partition_point(|&at| at <= crest - pluck);
        let (on_all, on_some) = (before(shortest), before(longest));
        let mut least = [f64::INFINITY; LANES];
        let (mut within, mut half, mut from) = (0, 0, 0.0);
        for (stop, &next) in self.positions.iter().enumerate() {
            if longest - from <= pluck {
                break;
            }
            within = self.count_on(within, |at| at - from <= pluck);
            // up to the middle the rises alone decide; of a hollow run only the end counts
            if self.runs.hollow_to < last {
                half = self.count_on(half, |at| 2.0 * at <= shortest + from);
            }
            let other = self.crest.map(|crest| crest - from - pluck);
            let (a, b) = (other.map(|q| lesser(pluck, q)), other.map(|q| greater(pluck, q)));
            let mut travel = [f64::INFINITY; LANES];
            let chords = Chords { from: stop, inverses: inverse_distances(stop) };
            self.chords(&chords, (stop + 1, within.min(on_all)), &a, &mut travel);
            let middle = if within < on_some {
                (within.max(stop) + 1, on_all)
            } else {
                (on_some.max(stop) + 1, within)
            };
            self.chords(&chords, (middle.0.max(half + 1), middle.1), &b, &mut travel);
            self.rises(stop, middle, &b, &mut travel);
            for m in on_all.max(stop) + 1..=on_some {
                self.any(&chords, m, &other, &mut travel);
            }
            self.rises(stop, (within.max(on_some).max(stop) + 1, last), &a, &mut travel);
            if shortest - from > pluck {
                for lane in 0..LANES {
                    least[lane] = lesser(least[lane], travel[lane]);
                }
            } else {
                for lane in 0..LANES {
                    // stopped beyond the pluck it cannot be plucked there
                    let counts = if other[lane] > 0.0 { travel[lane] } else { f64::INFINITY };
                    least[lane] = lesser(least[lane], counts);
                }
            }
            from = next;
        }
        least
    }

    /// So many frets, and those after them of which it is true up to the first of which it is
    /// not.
    fn count_on(&self, mut count: usize, holds: impl Fn(f64) -> bool) -> usize {
        while self.positions.get(count).is_some_and(|&at| holds(at)) {
            count += 1;
        }
        count
    }

    /// What the chords from a stop to frets `first` to `last` leave, as often as `apex` says.
    #[inline(always)]
    fn chords(
        &self,
        chords: &Chords,
        (first, last): (usize, usize),
        apex: &[f64; LANES],
        travel: &mut [f64; LANES],
    ) {
        if first > last {
            return;
        }
        let Runs { hollow_to, bulging_from, .. } = self.runs;
        let (first, last) = match chords.from {
            stop if stop >= bulging_from => (first, first),
            stop if stop < hollow_to => (first.max(hollow_to.min(last)), last),
            _ => (first, last),
        };
        let from = &self.height[chords.from];
        let mut steepest = [f64::NEG_INFINITY; LANES];
        for m in first..=last {
            let (here, inverse) = (&self.height[m], chords.inverse(m));
            for lane in 0..LANES {
                steepest[lane] = greater(steepest[lane], (here[lane] - from[lane]) * inverse);
            }
        }
        let rise = &self.rise[chords.from];
        for lane in 0..LANES {
            let left = rise[lane] - steepest[lane] * self.inverse_scale;
            travel[lane] = lesser(travel[lane], apex[lane] * left);
        }
    }

    /// What the rises to the crest from frets `first` to `last` leave of the rise from a stop,
    /// as often as `apex` says.
    #[inline(always)]
    fn rises(
        &self,
        stop: usize,
        (first, last): (usize, usize),
        apex: &[f64; LANES],
        travel: &mut [f64; LANES],
    ) {
        if first > last {
            return;
        }
        let mut lowest = self.rise[first];
        for m in (first + 1).max(self.runs.growing_to + 1)..=last {
            for (lowest, &rise) in lowest.iter_mut().zip(&self.rise[m]) {
                *lowest = lesser(*lowest, rise);
            }
        }
        let rise = &self.rise[stop];
        for lane in 0..LANES {
            travel[lane] = lesser(travel[lane], apex[lane] * (lowest[lane] - rise[lane]));
        }
    }

    /// The formula that holds at every fret; `other` is l - p.
    #[inline]
    fn any(&self, chords: &Chords, m: usize, other: &[f64; LANES], travel: &mut [f64; LANES]) {
        let inverse = chords.inverse(m) * self.inverse_scale;
        for lane in 0..LANES {
            let (p, q) = (self.pluck, other[lane]);
            let near = (self.crest[lane] - self.positions[m - 1]) * inverse;
            let away = greater(p * near, q);
            let toward = greater(q * near, p);
            let clearance = self.rise[m][lane] - self.rise[chords.from][lane];
            travel[lane] = lesser(travel[lane], clearance * lesser(away, toward));
        }
    }
}

impl Runs {
    fn of<const LANES: usize>(
        height: &[[f64; LANES]; STOPS],
        rise: &[[f64; LANES]; STOPS],
        last: usize,
    ) -> Self {
        // how the curve turns at a place between two others, and whether the rise grows to it
        let mut runs = Self { hollow_to: last, bulging_from: 0, growing_to: last };
        let mut before = [f64::NAN; LANES];
        for (place, inverse) in inverse_adjacent().iter().enumerate().take(last) {
            let (mut hollow, mut bulging, mut growing) = (true, true, true);
            for lane in 0..LANES {
                let slope = (height[place + 1][lane] - height[place][lane]) * inverse;
                hollow &= before[lane] <= slope + ROUNDING;
                bulging &= before[lane] >= slope - ROUNDING;
                growing &= rise[place][lane] <= rise[place + 1][lane];
                before[lane] = slope;
            }
            if place > 0 {
                if !hollow {
                    runs.hollow_to = runs.hollow_to.min(place);
                }
                if !bulging {
                    runs.bulging_from = place;
                }
                if !growing {
                    runs.growing_to = runs.growing_to.min(place);
                }
            }
        }
        runs
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
            for (relief, fall) in [(-0.3, 0.0), (0.0, 0.0), (0.2, 0.0), (0.2, 0.4), (1.0, 0.2)] {
                for place in [20.0, 110.0, 250.0, 400.0] {
                    let mut design = worked_example();
                    design.board.fall = Length::mm(fall);
                    design.board.fall_from = if fall > 0.0 { 4 } else { 0 };
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
                        assert!(near, "{frets} {relief} {fall} {place} {string}: {quick} {slow}");
                    }
                }
            }
        }
    }
}
