//! The least travel of all strings over all notes at once: what [`super::Plucking`] says
//! note by note, found without looking at every note by itself.

use std::array;

use crate::design::{MOST_FRETS, MOST_STRINGS};
use crate::layout::{ABREAST, Lanes, Layout, greater, inverse_adjacent, inverse_distances, lesser};

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
    for (piece, travels) in travels.chunks_mut(ABREAST).enumerate() {
        let first = piece * ABREAST;
        let Some(last) = layout.strings.len().checked_sub(1).filter(|last| first <= *last) else {
            break;
        };
        let crest = array::from_fn(|lane| layout.strings[(first + lane).min(last)].crest_u);
        let least = SideBySide::new(layout, piece, crest, place).least();
        // what fills up stands for no string
        for (travel, least) in travels.iter_mut().zip(least).take(last + 1 - first) {
            *travel = least;
        }
    }
    travels
}

/// Whether it is true of every lane; all are looked at, side by side.
fn all(holds: impl Fn(usize) -> bool) -> bool {
    (0..ABREAST).fold(true, |all, lane| all & holds(lane))
}

/// Some strings, place by place; place 0 is the nut, place n fret n.
struct SideBySide<'a> {
    positions: &'a [f64],
    inverse_scale: f64,
    pluck: f64,
    crest: Lanes,
    /// Where the stopped string starts.
    height: &'a [Lanes],
    /// Rise per mm from there to the crest.
    rise: &'a [Lanes],
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
    /// Steepest slope, to a scale length, from one place to the next beyond `hollow_to`.
    steepest_beyond: Lanes,
}

impl<'a> SideBySide<'a> {
    fn new(layout: &'a Layout, piece: usize, crest: Lanes, pluck: f64) -> Self {
        let positions = &layout.positions[..layout.positions.len().min(MOST_FRETS.into())];
        let (height, rise) = layout.clearances.abreast(piece);
        Self {
            positions,
            inverse_scale: 1.0 / layout.scale(),
            pluck,
            crest,
            height,
            rise,
            runs: Runs::of(height, rise, positions.len()),
        }
    }

    /// The largest travel of each string over all stops.
    fn least(&self) -> Lanes {
        let (last, pluck) = (self.positions.len(), self.pluck);
        let shortest = self.crest.into_iter().fold(f64::INFINITY, lesser);
        let longest = self.crest.into_iter().fold(0.0, greater);
        // frets that lie before the pluck on every string, and on some
        let before = |crest: f64| self.positions.partition_point(|&at| at <= crest - pluck);
        let (on_all, on_some) = (before(shortest), before(longest));
        let mut least = [f64::INFINITY; ABREAST];
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
            let mut travel = least;
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
            least = if shortest - from > pluck {
                travel
            } else {
                // stopped beyond the pluck a string cannot be plucked there
                array::from_fn(|lane| if other[lane] > 0.0 { travel[lane] } else { least[lane] })
            };
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

    /// What the chords from a stop to frets `first` to `last` leave, as often as `apex` says,
    /// where that is less than `travel`.
    #[inline(always)]
    fn chords(
        &self,
        chords: &Chords,
        (first, last): (usize, usize),
        apex: &Lanes,
        travel: &mut Lanes,
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
        let (from, rise) = (&self.height[chords.from], &self.rise[chords.from]);
        let slope = |m: usize| -> Lanes {
            let (here, inverse) = (&self.height[m], chords.inverse(m));
            array::from_fn(|lane| (here[lane] - from[lane]) * inverse)
        };
        let left = |steepest: Lanes| -> Lanes {
            array::from_fn(|lane| apex[lane] * (rise[lane] - steepest[lane] * self.inverse_scale))
        };
        let mut steepest = slope(first);
        if first < last {
            // no later chord is steeper than the first of them and any step from place to place
            let bound = left(array::from_fn(|lane| {
                greater(steepest[lane], self.runs.steepest_beyond[lane])
            }));
            if all(|lane| bound[lane] >= greater(travel[lane], 0.0)) {
                return;
            }
            for m in first + 1..=last {
                let slope = slope(m);
                for lane in 0..ABREAST {
                    steepest[lane] = greater(steepest[lane], slope[lane]);
                }
            }
        }
        let left = left(steepest);
        for lane in 0..ABREAST {
            travel[lane] = lesser(travel[lane], left[lane]);
        }
    }

    /// What the rises to the crest from frets `first` to `last` leave of the rise from a stop,
    /// as often as `apex` says.
    #[inline(always)]
    fn rises(&self, stop: usize, (first, last): (usize, usize), apex: &Lanes, travel: &mut Lanes) {
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
        for lane in 0..ABREAST {
            travel[lane] = lesser(travel[lane], apex[lane] * (lowest[lane] - rise[lane]));
        }
    }

    /// The formula that holds at every fret; `other` is l - p.
    #[inline]
    fn any(&self, chords: &Chords, m: usize, other: &Lanes, travel: &mut Lanes) {
        let inverse = chords.inverse(m) * self.inverse_scale;
        for lane in 0..ABREAST {
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
    fn of(height: &[Lanes], rise: &[Lanes], last: usize) -> Self {
        let inverses = inverse_adjacent();
        // from a place to the next, to a scale length
        let slope = |place: usize| -> Lanes {
            let (here, next, inverse) = (&height[place], &height[place + 1], inverses[place]);
            array::from_fn(|lane| (next[lane] - here[lane]) * inverse)
        };
        let mut before = slope(0);
        let not_hollow = (1..last).find(|&place| {
            let after = slope(place);
            let hollow = all(|lane| before[lane] <= after[lane] + ROUNDING);
            before = after;
            !hollow
        });
        let hollow_to = not_hollow.unwrap_or(last);
        let mut steepest_beyond = [f64::NEG_INFINITY; ABREAST];
        let mut after = slope(last - 1);
        // no need to look farther: up to there the curve is hollow
        let mut bulging_from = hollow_to - 1;
        let mut bulges = true;
        for place in (hollow_to..last).rev() {
            let before = slope(place - 1);
            steepest_beyond = array::from_fn(|lane| greater(steepest_beyond[lane], after[lane]));
            if bulges && !all(|lane| before[lane] >= after[lane] - ROUNDING) {
                (bulges, bulging_from) = (false, place);
            }
            after = before;
        }
        let grows = |place: usize| all(|lane| rise[place][lane] <= rise[place + 1][lane]);
        let growing_to = (1..last).find(|&place| !grows(place)).unwrap_or(last);
        Self { hollow_to, bulging_from, growing_to, steepest_beyond }
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

    /// All at once comes to what note by note does, on boards of every kind, for one string and
    /// for more than stand abreast, and with frets that they touch at rest.
    #[test]
    fn all_at_once_and_note_by_note() {
        for (strings, frets) in [(1, 5), (4, 12), (6, 22), (12, 24), (7, 36)] {
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
                    let one = design.strings.remove(0);
                    let placed = |i: u32| {
                        let mut string = one.clone();
                        let part = 1.0 - 2.0 * f64::from(i) / f64::from(strings);
                        string.nut_place = Length::mm(17.5 * part);
                        string.crest_place = Length::mm(26.0 * part);
                        string.crest_offset = Length::mm(f64::from(i) * 0.7 - 1.0);
                        string
                    };
                    design.strings = (0..strings).map(placed).collect();
                    let solved = solve(&design).map(|solved| solved.design).unwrap_or(design);
                    let layout = Layout::of(&solved).unwrap();
                    let travels = least_travels(&layout, place);
                    let plucking = Plucking::new(&layout, place);
                    for (string, quick) in travels.into_iter().enumerate() {
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
