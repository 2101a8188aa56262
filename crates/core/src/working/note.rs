//! Whether a stopped note is true, and where the bridge must stand.

use std::f64::consts::LN_2;

use super::chain::{Bench, In};
use super::line::STOP;
use super::pull::fine;
use super::{NOTES, PLANE, Term, count, length, letter, plain};
use crate::design::CoreSection;
use crate::strings::{
    BridgePlace, Stopped, Strings, TRAVEL_TO_SPARE, pull, stiff_clamped_pinned, true_at, with_nut,
};

/// How nut and crest are found together.
const LEAST: &str = "least squares of all notes, to first order; worked out for this program";
/// A stretch of hundredths of a millimetre decides: it is carried finer than other lengths.
const FINE: In = In::Other(9, "mm");
/// A factor; 1e-9 is some millionth of a cent.
const FACTOR: In = In::Other(10, "");

impl Bench<'_> {
    /// How sharp the note at a fret is with the crest at u; `moved` where that is not its
    /// place in the design.
    pub(super) fn cents(
        &mut self,
        string: usize,
        fret: usize,
        crest_u: f64,
        moved: bool,
        cents: f64,
    ) -> Option<Term> {
        let pull = pull(self.design, self.layout, string)?;
        let line = self.of_string(string)?;
        let (nut_v, slope) = (line.nut_v, line.slope);
        let crown_v = self.layout.clearances.crown(string, fret);
        let at = self.layout.positions.get(fret.checked_sub(1)?).copied()?;
        let (p, q) = self.line(Some(string))?;
        let crest_v = nut_v + slope * crest_u;
        let (along, crest) = if moved {
            let along = length("u_c", "crest where this note is true, from the nut", crest_u);
            let name = "that crest over the straight board";
            let terms = vec![p, q, along];
            (along, self.step("v_c", name, "p + q u_c", terms, crest_v, In::Mm, PLANE))
        } else {
            let along = self.crest_from_nut(Some(string), crest_u);
            (along, self.crest(Some(string))?.1)
        };
        let crown = self.crown(Some(string), &STOP, fret);
        let stop = self.fret("u_n", "the stop from the nut", fret);
        let stopped = Stopped::between((0.0, nut_v), (at, crown_v), (crest_u, crest_v));
        let (u, v) = (along.symbol, crest.symbol);

        let open = format!("√({u}² + ({v} - p)²)");
        let sounds = format!("√(({u} - u_n)² + ({v} - k_n)²)");
        let whole = vec![along, crest, p];
        let part = vec![along, stop, crest, crown];
        let all = vec![along, stop, crest, crown, p];
        let name = "open string, nut to crest";
        let open_term = self.step("L_0", name, open.clone(), whole, stopped.open, FINE, PLANE);
        let name = "length that sounds, fret to crest";
        let sounding = self.step("L_2", name, sounds.clone(), part, stopped.sounding, FINE, PLANE);
        let stretch = stopped.behind + stopped.sounding - stopped.open;
        let name = "longer by the pressing";
        let formula = format!("√(u_n² + (k_n - p)²) + {sounds} - {open}");
        let stretch = self.step("y", name, formula, all, stretch, FINE, NOTES);

        let tension = self.tension(string)?;
        let (young, area, across, section) = self.young(string)?;
        let diameter = fine("d", "what carries the pull, across", across);
        let formula = match section {
            CoreSection::Round => "π d⁴/64",
            CoreSection::Hexagonal => "5 √(3)/144 d⁴",
        };
        let moment = pull.wire.bending / young.value;
        let written = In::Other(9, "mm⁴");
        let moment =
            self.step("I", "its second moment", formula, vec![diameter], moment, written, PLANE);
        let name = "length by which stiffness counts";
        let stiff = (pull.wire.bending / pull.tension).sqrt();
        let terms = vec![young, moment, tension];
        let stiff = self.step("y_e", name, "√(E_m I/T)", terms, stiff, FINE, NOTES);
        let name = "higher by the tension that is added";
        let tighter = (1.0 + stopped.added_tension(pull.wire.stretch) / pull.tension).sqrt();
        let terms = vec![young, area, stretch, open_term, tension];
        let formula = "√(1 + E_m A y/(L_0 T))";
        let tighter = self.step("G_t", name, formula, terms, tighter, FACTOR, NOTES);
        let name = "higher by stiffness, stopped";
        let formula = "1 + y_e/(G_t L_2) + (1 + π²/2) (y_e/(G_t L_2))²";
        let value = stiff_clamped_pinned(stiff.value / tighter.value / stopped.sounding);
        let terms = vec![stiff, tighter, sounding];
        let stopped_stiff = self.step("G_2", name, formula, terms, value, FACTOR, NOTES);
        let name = "higher by stiffness, open";
        let formula = "1 + y_e/L_0 + (1 + π²/2) (y_e/L_0)²";
        let value = stiff_clamped_pinned(stiff.value / stopped.open);
        let open_stiff =
            self.step("G_0", name, formula, vec![stiff, open_term], value, FACTOR, NOTES);
        let name = "frequency over that of the open string";
        let ratio = stopped.open / stopped.sounding * tighter.value * stopped_stiff.value
            / open_stiff.value;
        let terms = vec![open_term, sounding, tighter, stopped_stiff, open_stiff];
        let ratio = self.step("G", name, "L_0/L_2 G_t G_2/G_0", terms, ratio, FACTOR, NOTES);
        let terms = vec![ratio, self.number(fret)];
        let formula = "1200 log(G)/log(2) - 100 n";
        let name = "sharp by";
        Some(self.step("", name, formula, terms, cents, In::Other(4, "cents"), NOTES))
    }

    /// The compensation that a string needs.
    pub(super) fn needed(&mut self, string: usize) -> Option<Term> {
        let report = Strings::of(self.design, self.layout);
        let one = report.each.get(string)?.intonation.as_ref()?;
        let fret = true_at(self.layout);
        let cents = *one.cents_compensated.get(fret.checked_sub(1)?)?;
        let scale = self.scale();
        let crest = scale.value + one.compensation;
        self.cents(string, fret, crest, true, cents)?;
        let along = length("u_c", "crest where this note is true, from the nut", crest);
        let (name, terms) = ("compensation", vec![along, scale]);
        Some(self.step("needed", name, "u_c - L", terms, one.compensation, In::Mm, NOTES))
    }

    /// Where a saddle must stand, from the middle of its travel.
    pub(super) fn saddle_stands(&mut self, formula: &'static str, terms: Vec<Term>, at: f64) {
        let name = "where the saddle stands, from the middle of its travel";
        self.step("x", name, formula, terms, at, In::Mm, PLANE);
    }

    /// What is left of the saddle's travel for a string; none of a saddle that is fixed.
    pub(super) fn travel_left(&mut self, string: usize) -> Option<()> {
        let report = Strings::of(self.design, self.layout);
        let one = report.each.get(string)?.intonation.as_ref()?;
        let reach = one.reach(self.design)?;
        let bridge = &self.design.bridge;
        let terms = vec![
            length("J_s", "travel of the saddle", bridge.travel.to_mm()),
            length("C_s", "compensation that the string needs", one.compensation),
            length("C", "compensation of the middle crest", bridge.compensation.to_mm()),
        ];
        let (name, formula) = ("travel left", "J_s/2 - |C_s - C|");
        self.step("", name, formula, terms, reach.left, In::Mm, PLANE);
        Some(())
    }

    /// How far a nut is moved for one string, or the compensation that goes with it.
    pub(super) fn moved_nut(&mut self, string: usize, wants_nut: bool) -> Option<()> {
        let found = with_nut(self.design, self.layout, string)?;
        let crest = self.crest_from_nut(Some(string), found.start);
        let ln = plain("l", "natural logarithm of 2", LN_2, 12, "");
        let per_mm = In::Other(8, "cents/mm");
        let mut frets = Vec::new();
        for (n, (fall, error)) in (1..).zip(&found.frets) {
            let name = "the note falls for each mm that the crest goes back";
            let terms = vec![ln, crest, self.scale(), self.number(n)];
            let formula = "1200/l (1/(u_s - L (1 - 2^(-n/12))) - 1/u_s)";
            let fall = self.step(letter("a", n), name, formula, terms, *fall, per_mm, NOTES);
            self.name_last(format!("note {n} falls for each mm that the crest goes back"));
            let error = plain(letter("b", n), "the note is sharp by", *error, 8, "cents");
            frets.push((fall, error));
        }
        let name = "all notes fall for each mm that the nut comes nearer";
        let terms = vec![ln, crest];
        let g = self.step("g", name, "1200/(l u_s)", terms, found.nut, per_mm, NOTES);
        let sums = found.sums();
        let falls: Vec<Term> = frets.iter().map(|(fall, _)| *fall).collect();
        let errors: Vec<Term> = frets.iter().map(|(_, error)| *error).collect();
        let symbols = |terms: &[Term], square: &str| {
            let each: Vec<String> =
                terms.iter().map(|term| format!("{}{square}", term.symbol)).collect();
            each.join(" + ")
        };
        let products: Vec<String> =
            frets.iter().map(|(fall, error)| format!("{} {}", fall.symbol, error.symbol)).collect();
        let both = [falls.as_slice(), errors.as_slice()].concat();
        let with_g = |terms: &[Term]| [std::slice::from_ref(&g), terms].concat();
        let count = count("N", "notes", found.frets.len());
        let mut sum = |symbol, formula: String, terms: Vec<Term>, value| {
            let name = "sum over the notes";
            self.step(symbol, name, formula, terms, value, In::Other(8, ""), LEAST)
        };
        let aa = sum("S_aa", symbols(&falls, "²"), falls.clone(), sums.aa);
        let ab = sum("S_ab", format!("g ({})", symbols(&falls, "")), with_g(&falls), sums.ab);
        let bb = sum("S_bb", "N g²".to_owned(), vec![count, g], sums.bb);
        let ae = sum("S_ae", products.join(" + "), both, sums.ae);
        let be = sum("S_be", format!("g ({})", symbols(&errors, "")), with_g(&errors), sums.be);
        let (nut, at) = found.found();
        let terms = vec![aa, bb, ab, ae, be];
        if wants_nut {
            let name = "nut nearer to the bridge";
            let formula = "(S_aa S_be - S_ab S_ae)/(S_aa S_bb - S_ab²)";
            self.step("", name, formula, terms, nut, In::Mm, LEAST);
        } else {
            let name = "crest farther back by";
            let formula = "(S_bb S_ae - S_ab S_be)/(S_aa S_bb - S_ab²)";
            let back = self.step("y_c", name, formula, terms, at - found.start, In::Mm, LEAST);
            let scale = self.scale();
            let needs = at - scale.value;
            let name = "compensation with the nut moved";
            self.step("", name, "u_s + y_c - L", vec![crest, back, scale], needs, In::Mm, LEAST);
        }
        Some(())
    }

    /// Where the bridge must stand: compensation, travel and station, in this order.
    pub(super) fn place(&mut self, place: &BridgePlace) {
        let least = length("C_1", "least that a string needs", place.least);
        let most = length("C_2", "most that a string needs", place.most);
        let name = "compensation of the middle crest";
        let terms = vec![least, most];
        let middle =
            self.step("C_m", name, "(C_1 + C_2)/2", terms, place.compensation, In::Mm, NOTES);
        let spare = length("j", "kept both ways", TRAVEL_TO_SPARE);
        let name = "travel that the saddles need";
        let terms = vec![most, least, spare];
        self.step("J", name, "C_2 - C_1 + 2 j", terms, place.travel, In::Mm, NOTES);
        let Some((p, q)) = self.line(None) else { return };
        let scale = self.scale();
        let u = scale.value + place.compensation;
        let name = "that crest from the nut";
        let along = self.step("u_s", name, "L + C_m", vec![scale, middle], u, In::Mm, PLANE);
        let v = self.layout.middle.nut_v + self.layout.middle.slope * u;
        let name = "that crest over the straight board";
        let crest = self.step("v_s", name, "p + q u_s", vec![p, q, along], v, In::Mm, PLANE);
        let (joint, pitch, board) = (self.joint(), self.strung_pitch(), self.board());
        let t = pitch.symbol;
        let formula = format!("(u_s - u_J) cos {t} - (v_s + t) sin {t}");
        let terms = vec![along, joint, pitch, crest, board];
        let name = "station of the bridge";
        self.step("X_s", name, formula, terms, place.station, In::Mm, PLANE);
    }
}
