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
/// the least s_m decide. As long as the crowns from n on lie on a hollow curve the steepest
/// chord is the one to the last of them, and as long as s_m rises the least is the first:
/// only frets beyond such a run are looked at one by one.
pub(crate) fn least_travels(layout: &Layout, place: f64) -> [f64; MOST_STRINGS] {
    let mut travels = [f64::INFINITY; MOST_STRINGS];
    let frets = Frets::new(layout, place);
    for (string, travel) in travels.iter_mut().enumerate().take(layout.strings.len()) {
        *travel = Strung::new(&frets, layout, string).least();
    }
    travels
}

fn lesser(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// What all strings share. Places are counted from the nut, which is place 0.
struct Frets<'a> {
    positions: &'a [f64],
    inverse_scale: f64,
    pluck: f64,
    /// Last fret within the pluck's distance from each place.
    within: [u8; STOPS],
}

impl<'a> Frets<'a> {
    fn new(layout: &'a Layout, pluck: f64) -> Self {
        let positions = &layout.positions[..layout.positions.len().min(STOPS - 1)];
        let mut within = [0; STOPS];
        let (mut last, mut from) = (0, 0.0);
        for (within, &next) in within.iter_mut().zip(positions) {
            while positions.get(last).is_some_and(|&at| at - from <= pluck) {
                last += 1;
            }
            (*within, from) = (last as u8, next);
        }
        Self { positions, inverse_scale: 1.0 / layout.scale(), pluck, within }
    }
}

/// One string over the frets.
struct Strung<'a> {
    frets: &'a Frets<'a>,
    crest: f64,
    nut: f64,
    /// Rise per mm of the open string.
    open: f64,
    crowns: &'a [f64],
    /// Rise per mm from each crown to the crest.
    rises: &'a [f64],
    /// The last crown of the hollow curve that starts at each place.
    hollow: [u8; STOPS],
    /// The last crown up to which the rises grow, from each place.
    growing: [u8; STOPS],
}

impl<'a> Strung<'a> {
    fn new(frets: &'a Frets<'a>, layout: &'a Layout, string: usize) -> Self {
        let line = &layout.strings[string];
        let crowns = layout.clearances.crown_row(string);
        let rises = layout.clearances.to_crest_row(string);
        let last = frets.positions.len();
        let mut slopes = [0.0; STOPS];
        let mut before = line.nut_v;
        for ((slope, &crown), inverse) in slopes.iter_mut().zip(crowns).zip(inverse_adjacent()) {
            (*slope, before) = ((crown - before) * inverse, crown);
        }
        let slopes = &slopes[..last];
        Self {
            frets,
            crest: line.crest_u,
            nut: line.nut_v,
            open: line.slope,
            crowns,
            rises,
            hollow: runs(last.saturating_sub(1), |k| slopes[k] <= slopes[k + 1] + ROUNDING),
            // crown k + 1 follows on crown k, which stands at k - 1 in the row; the nut has none
            growing: runs(last, |k| k == 0 || rises[k - 1] <= rises[k]),
        }
    }

    fn least(&self) -> f64 {
        let Frets { positions, pluck, within, .. } = *self.frets;
        let last = positions.len();
        let before_pluck = positions.iter().take_while(|&&at| at <= self.crest - pluck).count();
        let (mut least, mut from) = (f64::INFINITY, 0.0);
        for (stop, &next) in positions.iter().enumerate() {
            let long = self.crest - from;
            // this one and all beyond it are stopped behind the pluck
            if long <= pluck {
                break;
            }
            let other = long - pluck;
            let (a, b) = (lesser(pluck, other), greater(pluck, other));
            let rise = if stop == 0 { self.open } else { self.rises[stop - 1] };
            let near = usize::from(within[stop]).min(before_pluck);
            let middle = usize::from(within[stop]).max(before_pluck);
            if near > stop {
                least = lesser(least, a * (rise - self.steepest(stop, stop + 1, near)));
            }
            let first = near.max(stop) + 1;
            if middle >= first {
                least = lesser(least, b * (rise - self.steepest(stop, first, middle)));
                least = lesser(least, b * (self.least_rise(first, middle) - rise));
            }
            let first = middle.max(stop) + 1;
            if last >= first {
                least = lesser(least, a * (self.least_rise(first, last) - rise));
            }
            from = next;
        }
        least
    }

    /// The steepest chord from a stop to one of the crowns `first` to `last`.
    fn steepest(&self, stop: usize, first: usize, last: usize) -> f64 {
        let inverses = inverse_distances(stop);
        let height = if stop == 0 { self.nut } else { self.crowns[stop - 1] };
        let hollow = usize::from(self.hollow[stop]) + 1;
        let steepest = (first.max(hollow.min(last))..=last)
            .map(|m| (self.crowns[m - 1] - height) * inverses[m - stop - 1])
            .fold(f64::NEG_INFINITY, greater);
        steepest * self.frets.inverse_scale
    }

    /// The least rise from one of the crowns `first` to `last` to the crest.
    fn least_rise(&self, first: usize, last: usize) -> f64 {
        let beyond = usize::from(self.growing[first]).min(last);
        self.rises[beyond..last].iter().fold(self.rises[first - 1], |a, &b| lesser(a, b))
    }
}

/// For each place from 0 to `last` the end of the run in which it lies, by whether it goes on
/// from a place to the next.
fn runs(last: usize, goes_on: impl Fn(usize) -> bool) -> [u8; STOPS] {
    let mut ends = [last as u8; STOPS];
    if !(0..last).all(&goes_on) {
        for place in (0..last).rev() {
            ends[place] = if goes_on(place) { ends[place + 1] } else { place as u8 };
        }
    }
    ends
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
