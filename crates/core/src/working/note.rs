//! Whether a stopped note is true, and where the bridge must stand.

use super::chain::{Bench, In};
use super::line::STOP;
use super::pull::fine;
use super::{NOTES, PLANE, Term, length};
use crate::design::CoreSection;
use crate::strings::{BridgePlace, Stopped, TRAVEL_TO_SPARE, pull, stiff_clamped_pinned};

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
