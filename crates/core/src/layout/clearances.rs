//! Clearances of the strings over the frets, open and stopped.

use std::array;

/// So many strings are worked out side by side, so that the processor can take them at once:
/// as many as most instruments have. Where strings are left over, the last one fills up.
pub(crate) const ABREAST: usize = 6;

/// One number of each of some strings that are worked out side by side.
pub(crate) type Lanes = [f64; ABREAST];

/// The lesser of two; the first where one is not a number.
pub(crate) fn lesser(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

/// The greater of two; the first where one is not a number.
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// Heights and clearances of every string over every fret, in one piece.
/// Strings count from 0, frets from 1.
#[derive(Clone, Debug, Default)]
pub struct Clearances {
    frets: usize,
    /// Of each six strings one piece for every place from which they sound: the nut, then
    /// each fret. Height of the string there; on a fret the crown.
    heights: Vec<Lanes>,
    /// In the same order, rise per mm of the line from there to the crest.
    rises: Vec<Lanes>,
    /// Of each six strings one piece for every fret.
    open: Vec<Lanes>,
    /// What is read row by row; see [`Detail`].
    table: Table,
}

/// The same numbers string by string, and those of stopped strings.
#[derive(Clone, Debug, Default)]
struct Table {
    crowns: Vec<f64>,
    open: Vec<f64>,
    /// For each string the rows n = 1…N-1, each with m = n+1…N.
    stopped: Vec<f64>,
}

/// How much of the clearances is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Detail {
    /// Every stop over every later fret, and all in rows.
    Table,
    /// Without rows: what the checks measure does not need them.
    Numbers,
}

/// Some strings side by side, laid from nut to crest.
pub(super) struct LinesAbreast {
    pub(super) nut_v: Lanes,
    pub(super) slope: Lanes,
    pub(super) crest_u: Lanes,
    pub(super) crest_v: Lanes,
}

impl Clearances {
    /// Makes room for so many strings, with nothing in it yet.
    pub(super) fn make_room(&mut self, strings: usize, frets: usize, detail: Detail) {
        self.frets = frets;
        let pieces = strings.div_ceil(ABREAST);
        self.heights.resize(pieces * (frets + 1), [0.0; ABREAST]);
        self.rises.resize(pieces * (frets + 1), [0.0; ABREAST]);
        self.open.resize(pieces * frets, [0.0; ABREAST]);
        let stopped = self.per_string();
        let Table { crowns, open, stopped: table } = &mut self.table;
        for (list, of_string) in [(crowns, frets), (open, frets), (table, stopped)] {
            list.clear();
            if detail == Detail::Table {
                list.reserve(strings * of_string);
            }
        }
    }

    /// Lays the `piece`-th six strings over the frets at `positions`: `crown` is the height of
    /// a crown under each, given its number from 0 and its place.
    pub(super) fn lay(
        &mut self,
        piece: usize,
        lines: &LinesAbreast,
        positions: &[f64],
        crown: impl Fn(usize, f64) -> Lanes,
    ) {
        let LinesAbreast { nut_v, slope, crest_u, crest_v } = lines;
        let (places, frets) = (self.places(piece), piece * self.frets..(piece + 1) * self.frets);
        let (heights, rises) = (&mut self.heights[places.clone()], &mut self.rises[places]);
        (heights[0], rises[0]) = (*nut_v, *slope);
        let open = self.open[frets].iter_mut();
        let on_frets = heights[1..].iter_mut().zip(&mut rises[1..]).zip(open);
        for (n, (((height, rise), open), &u)) in on_frets.zip(positions).enumerate() {
            let crowns = crown(n, u);
            *height = crowns;
            // one after the other: mixed, they are not worked out side by side
            *rise = array::from_fn(|lane| (crest_v[lane] - crowns[lane]) / (crest_u[lane] - u));
            *open = array::from_fn(|lane| nut_v[lane] + slope[lane] * u - crowns[lane]);
        }
    }

    /// The least clearance of each of six strings stopped at n over m > n; infinite with fewer
    /// than two frets.
    ///
    /// Stopped at n, the string runs straight from crown n to the crest. Seen from the crest
    /// the clearance over m is (u_s - u_m)(s_m - s_n), s the rise per mm from a crown to the
    /// crest: so that over each m the stop before it with the steepest line leaves least.
    pub(super) fn least_stopped(
        &self,
        piece: usize,
        lines: &LinesAbreast,
        positions: &[f64],
    ) -> Lanes {
        let mut least = [f64::INFINITY; ABREAST];
        let rises = &self.rises[self.places(piece)][1..];
        let Some(&(mut steepest)) = rises.first() else { return least };
        for (rise, &u) in rises.iter().zip(positions).skip(1) {
            let clearance: Lanes =
                array::from_fn(|lane| (lines.crest_u[lane] - u) * (rise[lane] - steepest[lane]));
            least = array::from_fn(|lane| lesser(least[lane], clearance[lane]));
            steepest = array::from_fn(|lane| greater(steepest[lane], rise[lane]));
        }
        least
    }

    /// Writes what the next string has into the rows, and if it is `stopped` what each of its
    /// stops leaves.
    pub(super) fn tabulate(&mut self, string: usize, positions: &[f64], stopped: bool) {
        let (piece, lane) = (string / ABREAST, string % ABREAST);
        let (heights, rises) =
            (&self.heights[self.places(piece)][1..], &self.rises[self.places(piece)][1..]);
        let open = &self.open[piece * self.frets..(piece + 1) * self.frets];
        let table = &mut self.table;
        let row = table.crowns.len()..;
        table.crowns.extend(heights.iter().map(|crowns| crowns[lane]));
        table.open.extend(open.iter().map(|clearances| clearances[lane]));
        let crowns = &table.crowns[row];
        let stops = if stopped { positions.len().saturating_sub(1) } else { 0 };
        for n in 0..stops {
            let (u, v, slope) = (positions[n], crowns[n], rises[n][lane]);
            let beyond = positions[n + 1..].iter().zip(&crowns[n + 1..]);
            table.stopped.extend(beyond.map(|(&at, &crown)| v + slope * (at - u) - crown));
        }
    }

    fn places(&self, piece: usize) -> std::ops::Range<usize> {
        piece * (self.frets + 1)..(piece + 1) * (self.frets + 1)
    }

    /// Stop and fret at which a string has its least clearance.
    pub(super) fn least_stopped_at(
        &self,
        string: usize,
        positions: &[f64],
        crest_u: f64,
    ) -> Option<(usize, usize)> {
        let (_, rises) = self.abreast(string / ABREAST);
        let mut rises = rises[1..].iter().map(|rises| rises[string % ABREAST]);
        let (mut least, mut at) = (f64::INFINITY, None);
        let (mut steepest, mut stop) = (rises.next()?, 0);
        for (m, (rise, &u)) in (1..).zip(rises.zip(&positions[1..])) {
            let clearance = (crest_u - u) * (rise - steepest);
            if clearance < least {
                (least, at) = (clearance, Some((stop + 1, m + 1)));
            }
            if rise > steepest {
                (steepest, stop) = (rise, m);
            }
        }
        at
    }

    /// Frets, or stops of a fretless board.
    pub fn frets(&self) -> usize {
        self.frets
    }

    /// The `piece`-th six strings side by side, place by place from the nut on: their height
    /// there, and the rise per mm of the line from there to the crest.
    pub(crate) fn abreast(&self, piece: usize) -> (&[Lanes], &[Lanes]) {
        (&self.heights[self.places(piece)], &self.rises[self.places(piece)])
    }

    /// What a choice of two leaves of `start` and the open clearances of each string; strings
    /// beyond the last may follow.
    pub(crate) fn open_chosen(
        &self,
        start: f64,
        choose: impl Fn(f64, f64) -> f64 + Copy,
    ) -> impl Iterator<Item = f64> {
        self.open.chunks(self.frets.max(1)).flat_map(move |frets| {
            let mut left = [start; ABREAST];
            for clearances in frets {
                for (left, &clearance) in left.iter_mut().zip(clearances) {
                    *left = choose(*left, clearance);
                }
            }
            left
        })
    }

    fn per_string(&self) -> usize {
        self.frets * self.frets.saturating_sub(1) / 2
    }

    /// Height of crown n under a string, over the straight, unstrung surface; the
    /// surface itself on a fretless board.
    pub fn crown(&self, string: usize, n: usize) -> f64 {
        self.heights[string / ABREAST * (self.frets + 1) + n][string % ABREAST]
    }

    /// Clearance of the open string over crown m, along v.
    pub fn open(&self, string: usize, m: usize) -> f64 {
        self.open[string / ABREAST * self.frets + m - 1][string % ABREAST]
    }

    /// Clearance over crown m of the string stopped at fret n < m, along v. None
    /// on a fretless board, or for other n and m.
    pub fn stopped(&self, string: usize, n: usize, m: usize) -> Option<f64> {
        if n < 1 || m <= n || m > self.frets {
            return None;
        }
        let before = (n - 1) * (2 * self.frets - n) / 2;
        self.table.stopped.get(string * self.per_string() + before + m - n - 1).copied()
    }

    /// The open clearances of one string, m = 1…N.
    pub fn open_row(&self, string: usize) -> &[f64] {
        &self.table.open[string * self.frets..(string + 1) * self.frets]
    }

    /// The crowns under one string, n = 1…N.
    pub fn crown_row(&self, string: usize) -> &[f64] {
        &self.table.crowns[string * self.frets..(string + 1) * self.frets]
    }

    /// The clearances of one string stopped at n over m = n+1…N; empty on a
    /// fretless board.
    pub fn stopped_row(&self, string: usize, n: usize) -> &[f64] {
        if self.table.stopped.is_empty() || n < 1 || n >= self.frets {
            return &[];
        }
        let start = string * self.per_string() + (n - 1) * (2 * self.frets - n) / 2;
        &self.table.stopped[start..start + self.frets - n]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_of_the_triangle_are_found_again() {
        let frets = 5;
        let mut clearances = Clearances { frets, ..Clearances::default() };
        let stopped = &mut clearances.table.stopped;
        for string in 0..2 {
            for n in 1..frets {
                stopped.extend((n + 1..=frets).map(|m| (100 * string + 10 * n + m) as f64));
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
