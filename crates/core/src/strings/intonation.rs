//! Whether the stopped notes are true, and how far back each crest must lie.
//!
//! Two things make a stopped note sharp: pressing the string down stretches it, and a stiff
//! string clamped at the fret sounds shorter than it is. Both grow with the thickness of
//! what carries the pull. The reference is equal temperament over the open string as it
//! sounds.
//!
//! # Source
//! Stretch: two straight segments from nut over fret to saddle, ΔT = E A (L_1 + L_2 - L_0)/L_0,
//! after G. U. Varieschi and C. M. Gower, Am. J. Phys. 78, 47 (2010) (model from memory).
//! Stiffness: H. Fletcher, J. Acoust. Soc. Am. 36, 203 (1964); a string clamped at one end and
//! pinned at the other sounds at 1 + e + (1 + π²/2) e² of the ideal frequency,
//! e = √(E I/T)/L, checked against the exact roots.

use std::f64::consts::{LN_2, PI};

use crate::layout::{Layout, fret_ratio};

use super::wire::Wire;

/// The fret whose note is made true by the compensation.
pub const TRUE_AT: usize = 12;

/// By what part a stiff string sounds higher than an ideal one on its fundamental, pinned at
/// the saddle and clamped at nut or fret; e = √(E I/T)/L.
pub(crate) fn stiff_clamped_pinned(e: f64) -> f64 {
    1.0 + e + (1.0 + PI * PI / 2.0) * e * e
}

/// B of f_n = n f_0 √(1 + B n²), a stiff string pinned at both ends: π² E I/(T L²). E I in
/// N mm², T in N, L in mm.
///
/// # Source
/// H. Fletcher, J. Acoust. Soc. Am. 36, 203 (1964): π³ E d⁴/(64 T L²) for a round wire.
pub fn inharmonicity(bending: f64, tension: f64, length: f64) -> f64 {
    PI * PI * bending / (tension * length * length)
}

fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (du, dv) = (b.0 - a.0, b.1 - a.1);
    (du * du + dv * dv).sqrt()
}

/// A string pressed down on a fret: the three lengths, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stopped {
    /// Nut to crest, open.
    pub open: f64,
    /// Nut to fret, pressed.
    pub behind: f64,
    /// Fret to crest, pressed: what sounds.
    pub sounding: f64,
}

impl Stopped {
    /// Between three points (u, v): nut, crown, crest.
    pub fn between(nut: (f64, f64), crown: (f64, f64), crest: (f64, f64)) -> Self {
        Self {
            open: distance(nut, crest),
            behind: distance(nut, crown),
            sounding: distance(crown, crest),
        }
    }

    /// How much tension the pressing adds, N. E A in N.
    pub(crate) fn added_tension(&self, stretch: f64) -> f64 {
        stretch * (self.behind + self.sounding - self.open) / self.open
    }

    /// Its frequency over that of the open string. `slack` is stretch over tension of the open
    /// string, E A/T, `stiffness` √(E I/T) in mm.
    #[inline]
    fn over_open(&self, slack: f64, stiffness: f64) -> f64 {
        // one division for two: they take longest of all
        let over_both = 1.0 / (self.open * self.sounding);
        let (over_open, over_sounding) = (self.sounding * over_both, self.open * over_both);
        // see `added_tension`
        let excess = self.behind + self.sounding - self.open;
        let tighter = (1.0 + slack * excess * over_open).sqrt();
        let pressed = stiff_clamped_pinned(stiffness * over_sounding / tighter);
        self.open * over_sounding * tighter * pressed / stiff_clamped_pinned(stiffness * over_open)
    }

    /// Cents by which it sounds over the open string. Stretch E A in N, bending E I in
    /// N mm², tension of the open string in N.
    fn cents_over_open(&self, stretch: f64, bending: f64, tension: f64) -> f64 {
        1200.0 * self.over_open(stretch / tension, (bending / tension).sqrt()).log2()
    }
}

/// Where the crests of some strings must lie for true notes at fret n, from the nut: where the
/// pressed string sounds at 2^(n/12) of the open one. To some 1e-7 mm; not a number for a
/// string without note or gauge.
///
/// # Method
/// A flexible string that pressing does not stretch sounds at u/(u - x) of the open one, x the
/// fret and u the crest from the nut; the pressed one at k times that, with k some thousandths
/// over 1 and all but the same wherever the crest lies. So x/(1 - k 2^(-n/12)), with k of one
/// place, is off by some hundredths of what that place was off. After it come secants of that
/// rule, each off by 1e-5/mm (octave) to 1e-4/mm (last fret) of the product of the last two
/// errors.
pub(super) fn true_crests<const LANES: usize>(
    layout: &Layout,
    strings: [usize; LANES],
    n: usize,
) -> [f64; LANES] {
    let Some(&at) = layout.positions.get(n.wrapping_sub(1)) else {
        return [f64::NAN; LANES];
    };
    let part = 1.0 - fret_ratio(n as u8);
    let lines = strings.map(|string| Pressed::on(layout, string, n));
    let steps = |crest: &[f64; LANES]| {
        let mut steps = [0.0; LANES];
        for lane in 0..LANES {
            let (line, u) = (&lines[lane], crest[lane]);
            let over = line.over_open(at, u);
            // x/(1 - k part) with k = over (u - x)/u
            steps[lane] = at * u / (u - over * part * (u - at)) - u;
        }
        steps
    };
    let mut crest = lines.each_ref().map(|line| line.start);
    let mut last = steps(&crest);
    let mut change = last;
    for lane in 0..LANES {
        crest[lane] += change[lane];
    }
    let mut found = [false; LANES];
    for _ in 0..6 {
        let here = steps(&crest);
        for lane in 0..LANES {
            let before = change[lane];
            let by = here[lane] * before / (last[lane] - here[lane]);
            // each string stops by itself, whatever stands beside it
            if found[lane] || !by.is_finite() {
                found[lane] = true;
                continue;
            }
            crest[lane] += by;
            found[lane] = (by * before).abs() < 2e-3;
            (change[lane], last[lane]) = (by, here[lane]);
        }
        if found == [true; LANES] {
            break;
        }
    }
    crest
}

/// A string pressed on one fret, its crest still to be set along its line.
#[derive(Clone, Copy)]
struct Pressed {
    nut: f64,
    slope: f64,
    crown: f64,
    behind: f64,
    /// Where its crest lies now.
    start: f64,
    slack: f64,
    stiffness: f64,
}

impl Pressed {
    fn on(layout: &Layout, string: usize, n: usize) -> Self {
        let line = &layout.strings[string];
        let crown = layout.clearances.crown(string, n);
        let (stretch, bending, tension) =
            line.taut.map_or((f64::NAN, f64::NAN, f64::NAN), |(wire, tension)| {
                (wire.stretch, wire.bending, tension)
            });
        Self {
            nut: line.nut_v,
            slope: line.slope,
            crown,
            behind: distance((0.0, line.nut_v), (layout.positions[n - 1], crown)),
            start: line.crest_u,
            slack: stretch / tension,
            stiffness: (bending / tension).sqrt(),
        }
    }

    /// Its frequency over that of the open string, pressed at `at` and with the crest at u.
    #[inline]
    fn over_open(&self, at: f64, u: f64) -> f64 {
        let crest = (u, self.nut + self.slope * u);
        Stopped {
            open: distance((0.0, self.nut), crest),
            behind: self.behind,
            sounding: distance((at, self.crown), crest),
        }
        .over_open(self.slack, self.stiffness)
    }
}

/// One string of a layout with the crest at another place along its line.
pub(super) struct Line<'a> {
    pub(super) layout: &'a Layout,
    pub(super) string: usize,
    pub(super) wire: Wire,
    pub(super) tension: f64,
}

impl Line<'_> {
    /// The string pressed on fret n, with the crest at u. Setting the saddle fore and aft the
    /// maker keeps the string's line.
    fn stopped(&self, n: usize, crest_u: f64) -> Stopped {
        let line = &self.layout.strings[self.string];
        let at = self.layout.positions[n - 1];
        Stopped::between(
            (0.0, line.nut_v),
            (at, self.layout.clearances.crown(self.string, n)),
            (crest_u, line.nut_v + line.slope * crest_u),
        )
    }

    /// Cents by which the note at fret n is sharp, with the crest at u.
    pub(super) fn cents(&self, n: usize, crest_u: f64) -> f64 {
        let stopped = self.stopped(n, crest_u);
        stopped.cents_over_open(self.wire.stretch, self.wire.bending, self.tension)
            - 100.0 * n as f64
    }

    /// How much the error at fret n falls for each mm that the crest goes back, to first
    /// order.
    fn fall(&self, n: usize, crest_u: f64) -> f64 {
        1200.0 / LN_2 * (1.0 / (crest_u - self.layout.positions[n - 1]) - 1.0 / crest_u)
    }

    /// What a nut moved for this string is found from.
    pub(super) fn with_nut(&self) -> NutAndCrest {
        let start = self.layout.strings[self.string].crest_u;
        let one = |n| (self.fall(n, start), self.cents(n, start));
        NutAndCrest {
            start,
            // a shorter open string sounds higher, so that all stopped notes fall alike
            nut: 1200.0 / (LN_2 * start),
            frets: (1..=self.layout.positions.len()).map(one).collect(),
        }
    }
}

/// What a nut moved for one string is found from: how much each note falls, to first order,
/// and how sharp it is.
#[derive(Clone, Debug)]
pub(crate) struct NutAndCrest {
    /// Where the crest lies, from the nut, mm.
    pub(crate) start: f64,
    /// Cents by which all notes fall for each mm that the nut is moved toward the bridge.
    pub(crate) nut: f64,
    /// Fret by fret: cents by which it falls for each mm that the crest goes back, and cents
    /// by which it is sharp.
    pub(crate) frets: Vec<(f64, f64)>,
}

/// The sums of least squares: a for the crest, b for the nut, e for the errors.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct NutSums {
    pub(crate) aa: f64,
    pub(crate) ab: f64,
    pub(crate) bb: f64,
    pub(crate) ae: f64,
    pub(crate) be: f64,
}

impl NutAndCrest {
    pub(crate) fn sums(&self) -> NutSums {
        let mut sums = NutSums::default();
        for (crest, error) in &self.frets {
            sums.aa += crest * crest;
            sums.ab += crest * self.nut;
            sums.bb += self.nut * self.nut;
            sums.ae += crest * error;
            sums.be += self.nut * error;
        }
        sums
    }

    /// How far toward the bridge the nut must be moved, and how far the crest must then lie
    /// from the nut's old face, so that the errors of all frets are least in the sum of
    /// squares.
    pub(crate) fn found(&self) -> (f64, f64) {
        let NutSums { aa, ab, bb, ae, be } = self.sums();
        let determinant = aa * bb - ab * ab;
        ((aa * be - ab * ae) / determinant, self.start + (bb * ae - ab * be) / determinant)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::strings::gauges::SETS;
    use crate::strings::wire::{plain_mass, tension};
    use crate::testing::worked_example;
    use crate::units::Length;

    /// The case of the two references: 648 mm, 2.0 mm at fret 12, nut slot at the height of
    /// the crowns, the saddle set back at its height.
    fn at_the_octave(setback: f64) -> Stopped {
        Stopped::between((0.0, 0.0), (324.0, 0.0), (648.0 + setback, 4.0))
    }

    /// Source: two straight segments nut, fret, saddle; dT = E A dL/L_0; cents = 600 log2(1 +
    /// dT/T); computed apart from this project. E 207 GPa, 7850 kg/m³.
    #[test]
    fn stretch_at_fret_12_of_two_plain_strings() {
        let stopped = at_the_octave(0.0);
        let excess = stopped.behind + stopped.sounding - stopped.open;
        // the differences are of numbers near 648, whose last bit is 1e-13
        assert!((excess - 0.0123448558).abs() < 1e-9);
        for (diameter, hertz, pull, added, from_tension, total, setback, stiff) in [
            (
                0.254,
                329.6275569129,
                72.5939697,
                0.199816066,
                2.3793516,
                2.2804108,
                0.84849154,
                0.76328597,
            ),
            (
                0.4318,
                195.9977179909,
                74.1742895,
                0.577468429,
                6.712983,
                6.6140421,
                2.4342629,
                2.1822711,
            ),
        ] {
            let square = diameter * diameter;
            let stretch = 207_000.0 * PI / 4.0 * square;
            let bending = 207_000.0 * PI / 64.0 * square * square;
            let tension_of = |length| tension(plain_mass(diameter, 7850.0), length, hertz);
            let tension = tension_of(stopped.open);
            // nine digits are printed
            let near = |found: f64, expected: f64| {
                assert!((found / expected - 1.0).abs() < 1e-7, "{found} not {expected}");
            };
            near(tension, pull);
            near(stopped.added_tension(stretch), added);
            near(600.0 * (1.0 + added / pull).log2(), from_tension);
            near(stopped.cents_over_open(stretch, 0.0, tension) - 1200.0, total);
            near((bending / tension).sqrt(), stiff);
            // set back by that much, and tuned to the same note, the octave is true
            let back = at_the_octave(setback);
            let tension = tension_of(back.open);
            let left = back.cents_over_open(stretch, 0.0, tension) - 1200.0;
            // the setback is printed to 1e-7 mm, and 2.7 cents to the mm
            assert!(left.abs() < 3e-7, "{left}");
        }
    }

    /// Source: cents = (1200/ln 2) s/L to first order (computed): 10 cents at the octave of
    /// 650 mm are 3.75454723 mm.
    #[test]
    fn setback_for_ten_cents() {
        let setback = 650.0 * LN_2 / 1200.0 * 10.0;
        assert!((setback - 3.75454723).abs() < 1e-8);
        let stopped = Stopped::between((0.0, 0.0), (325.0, 0.0), (650.0 + setback, 0.0));
        let flat = stopped.cents_over_open(0.0, 0.0, 80.0) - 1200.0;
        // to second order -1.5 s/L of the whole: 0.9 %
        assert!((flat + 10.0).abs() < 0.1, "{flat}");
    }

    /// Source: exact roots of tan(a)/a = tanh(b)/b, computed with mpmath apart from this project.
    #[test]
    fn stiff_strings_against_the_exact_roots() {
        for (e, pinned) in [(0.001, 1.001005942), (0.003, 1.003053617), (0.01, 1.010600904)] {
            // the expansion leaves out e³ and beyond, with a factor below π²; the roots are
            // printed to 1e-9
            let left_out = PI * PI * e * e * e + 1e-9;
            assert!((stiff_clamped_pinned(e) - pinned).abs() < left_out, "{e}");
        }
    }

    /// Source: R. W. Young, Inharmonicity of Plain Wire Piano Strings, J. Acoust. Soc. Am. 24
    /// no. 3 (May 1952), abstract (read; pages 267-273 from memory): cents = C n² d²/(f² l⁴) in
    /// cm with C 3.4e13 for Q/ρ = 2.55e11 cm²/s².
    #[test]
    fn young_on_piano_wire() {
        let (diameter, length, hertz) = (1.0_f64, 600.0, 261.6);
        let density = 7850.0;
        // E in N/mm² from Q/ρ in cm²/s²
        let young = 2.55e11 * 1e-4 * density * 1e-6;
        let bending = young * PI / 64.0 * diameter.powi(4);
        let b =
            inharmonicity(bending, tension(plain_mass(diameter, density), length, hertz), length);
        let c =
            600.0 / LN_2 * b * hertz * hertz * (length / 10.0).powi(4) / (diameter / 10.0).powi(2);
        // two digits are printed: half of the last is 1.5 %; it comes to 3.404
        assert!((c / 3.4e13 - 1.0).abs() < 0.006, "{c}");
    }

    /// With its crest there a note is true, wherever the crest lay before; and a string comes
    /// to the same alone as beside others.
    #[test]
    fn with_a_true_crest_the_note_is_true() {
        let mut seen = 0;
        for set in SETS {
            for off in [-6.0, 0.0, 5.0] {
                let mut design = worked_example();
                if !set.fits(&design) {
                    continue;
                }
                set.put_on(&mut design);
                for (i, string) in design.strings.iter_mut().enumerate() {
                    string.crest_offset = Length::mm(off + 0.4 * i as f64);
                }
                let layout = Layout::of(&design).unwrap();
                for n in [5, 12, 22] {
                    let strings = [0, 1, 2, 3, 4, 5];
                    let crests = true_crests(&layout, strings, n);
                    for (string, crest) in strings.into_iter().zip(crests) {
                        let (wire, tension) = layout.strings[string].taut.unwrap();
                        let line = Line { layout: &layout, string, wire, tension };
                        let cents = line.cents(n, crest);
                        // 1e-6 mm, at most 10 cents to the mm
                        assert!(cents.abs() < 1e-5, "{n} {string} {off}: {cents}");
                        assert_eq!(true_crests(&layout, [string], n), [crest]);
                        seen += 1;
                    }
                }
            }
        }
        assert!(seen >= 54);
        let bare = Layout::of(&worked_example()).unwrap();
        assert!(true_crests(&bare, [0], 12)[0].is_nan());
    }

    /// Source: plain steel strings of 648 mm, ρ 7850, E 207 GPa, computed apart from this
    /// project (`tests/data/strings.json` of the workspace has the whole table).
    #[test]
    fn inharmonicity_of_a_plain_string() {
        let bending = 207_000.0 * PI / 64.0 * 0.254_f64.powi(4);
        let b = inharmonicity(bending, 72.5912037, 648.0);
        // seven printed digits
        assert!((b / 1.369433e-05 - 1.0).abs() < 1e-6, "{b}");
    }
}
