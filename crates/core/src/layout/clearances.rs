//! Clearances of the strings over the frets, open and stopped.

/// Heights and clearances of every string over every fret, in one piece.
/// Strings count from 0, frets from 1.
#[derive(Clone, Debug, Default)]
pub struct Clearances {
    frets: usize,
    crowns: Vec<f64>,
    /// Rise per mm of the line from each crown to the crest.
    to_crest: Vec<f64>,
    open: Vec<f64>,
    /// For each string the rows n = 1…N-1, each with m = n+1…N.
    stopped: Vec<f64>,
}

/// How much of the clearances is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Detail {
    /// Every stop over every later fret.
    Table,
    /// Without that table: what the checks measure does not need it.
    Numbers,
}

impl Clearances {
    /// Makes room for so many strings, with nothing in it yet.
    pub(super) fn make_room(&mut self, strings: usize, frets: usize) {
        self.frets = frets;
        for list in [&mut self.crowns, &mut self.to_crest, &mut self.open] {
            list.resize(strings * frets, 0.0);
        }
        self.stopped.clear();
    }

    /// Where the crowns of a string go.
    pub(super) fn crowns_mut(&mut self, string: usize) -> &mut [f64] {
        &mut self.crowns[string * self.frets..(string + 1) * self.frets]
    }

    /// Clearances of an open string, from its height at the nut and its rise per mm.
    pub(super) fn lay_open(&mut self, string: usize, positions: &[f64], (nut_v, rise): (f64, f64)) {
        let range = string * self.frets..(string + 1) * self.frets;
        let (crowns, open) = (&self.crowns[range.clone()], &mut self.open[range]);
        for ((clearance, &u), crown) in open.iter_mut().zip(positions).zip(crowns) {
            *clearance = nut_v + rise * u - crown;
        }
    }

    /// The least clearance of a string stopped at n over m > n.
    ///
    /// Stopped at n, the string runs straight from crown n to the crest. Seen from the crest
    /// the clearance over m is (u_s - u_m)(s_m - s_n), s the rise per mm from a crown to the
    /// crest: so that over each m the stop before it with the steepest line leaves least.
    pub(super) fn lay_stopped(
        &mut self,
        string: usize,
        positions: &[f64],
        crest: (f64, f64),
        detail: Detail,
    ) -> Option<f64> {
        let range = string * self.frets..(string + 1) * self.frets;
        let (crowns, rises) = (&self.crowns[range.clone()], &mut self.to_crest[range]);
        for ((rise, &u), crown) in rises.iter_mut().zip(positions).zip(crowns) {
            *rise = (crest.1 - crown) / (crest.0 - u);
        }
        let (mut least, mut steepest) = (f64::INFINITY, *rises.first()?);
        for (&rise, &u) in rises.iter().zip(positions).skip(1) {
            let clearance = (crest.0 - u) * (rise - steepest);
            least = if clearance < least { clearance } else { least };
            steepest = if rise > steepest { rise } else { steepest };
        }
        if detail == Detail::Table {
            for n in 0..positions.len().saturating_sub(1) {
                let (u, v, slope) = (positions[n], crowns[n], rises[n]);
                let beyond = positions[n + 1..].iter().zip(&crowns[n + 1..]);
                self.stopped.extend(beyond.map(|(&at, &crown)| v + slope * (at - u) - crown));
            }
        }
        least.is_finite().then_some(least)
    }

    /// Stop and fret at which a string has its least clearance.
    pub(super) fn least_stopped_at(
        &self,
        string: usize,
        positions: &[f64],
        crest_u: f64,
    ) -> Option<(usize, usize)> {
        let rises = self.to_crest_row(string);
        let (mut least, mut at) = (f64::INFINITY, None);
        let (mut steepest, mut stop) = (*rises.first()?, 0);
        for (m, (&rise, &u)) in rises.iter().zip(positions).enumerate().skip(1) {
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

    fn per_string(&self) -> usize {
        self.frets * self.frets.saturating_sub(1) / 2
    }

    /// Height of crown n under a string, over the straight, unstrung surface; the
    /// surface itself on a fretless board.
    pub fn crown(&self, string: usize, n: usize) -> f64 {
        self.crowns[string * self.frets + n - 1]
    }

    /// Rise per mm of the lines from the crowns under one string to its crest, n = 1…N.
    pub(crate) fn to_crest_row(&self, string: usize) -> &[f64] {
        &self.to_crest[string * self.frets..(string + 1) * self.frets]
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

#[cfg(test)]
mod tests {
    use super::*;

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
