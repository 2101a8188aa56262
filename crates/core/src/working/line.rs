//! The neck, its bend, and the line of a string over it.

use super::chain::{Bench, In};
use super::{BEND, FRETS, PLANE, Term, angle, count, length};
use crate::design::{BoardShape, InstrumentString, Nut};
use crate::layout::{Post, StringLine, fret_ratio, sagitta};

/// Decimals of a bend per mm: the lift at the nut is then right to 0.0001 mm.
const BEND_DIGITS: usize = 12;

/// The letters of a fret: its place, the crown over it, and across the board there the
/// string's place, the radius and the sagitta.
pub(super) struct Letters {
    u: &'static str,
    k: &'static str,
    w: &'static str,
    r: &'static str,
    s: &'static str,
    /// What is said of it.
    place: &'static str,
    crown: &'static str,
}

macro_rules! letters {
    ($($name:ident $mark:literal $fret:literal)*) => {$(
        pub(super) const $name: Letters = Letters {
            u: concat!("u_", $mark),
            k: concat!("k_", $mark),
            w: concat!("w_", $mark),
            r: concat!("R_", $mark),
            s: concat!("s_", $mark),
            place: concat!($fret, " from the nut"),
            crown: concat!("crown of ", $fret, ", over the straight board"),
        };
    )*};
}

letters! {
    FIRST "1" "fret 1"
    ACTION "a" "the action fret"
    STOP "n" "the stop"
    OVER "m" "the fret to clear"
}

/// The letters of a height that is wanted at treble and bass, and lies between them for the
/// strings between.
struct Between {
    symbol: &'static str,
    name: &'static str,
    ends: [&'static str; 2],
    ends_are: [&'static str; 2],
    places: [&'static str; 3],
}

const WANTED_ACTION: Between = Between {
    symbol: "a",
    name: "action wanted",
    ends: ["a_T", "a_B"],
    ends_are: ["action wanted at the treble", "action wanted at the bass"],
    places: ["y_T", "y_i", "y_B"],
};
const WANTED_FIRST: Between = Between {
    symbol: "c_1",
    name: "clearance wanted over fret 1",
    ends: ["c_T", "c_B"],
    ends_are: ["clearance wanted over fret 1, treble", "clearance wanted over fret 1, bass"],
    places: ["j_T", "j_i", "j_B"],
};

/// Where a string lies across the board, at its nut or its crest.
type PlaceOf = fn(&InstrumentString) -> f64;

/// How a shared crest tilts: its tilt, place and crest of the treble string, and its radius.
struct Tilt {
    tilt: Term,
    treble: [Term; 2],
    radius: Term,
}

impl Bench<'_> {
    pub(crate) fn scale(&self) -> Term {
        length("L", "scale length", self.design.scale.length.to_mm())
    }

    /// What a string comes to; the middle one has no number.
    pub(super) fn of_string(&self, string: usize) -> Option<&StringLine> {
        self.layout.strings.get(string)
    }

    /// A fret from the nut.
    pub(super) fn fret(&mut self, symbol: &'static str, name: &'static str, fret: usize) -> Term {
        let at = self.design.scale.length.to_mm() * fret_ratio(fret as u8);
        let terms = vec![self.scale(), count("n", "number of the fret", fret)];
        self.step(symbol, name, "L (1 - 2^(-n/12))", terms, at, In::Mm, FRETS)
    }

    /// The joint from the nut, u_J.
    pub(crate) fn joint(&mut self) -> Term {
        let joint = &self.design.joint;
        let fret = count("n", "number of the joint fret", usize::from(joint.fret));
        let mut terms = vec![self.scale(), fret];
        let offset = joint.offset.to_mm();
        let mut formula = "L (1 - 2^(-n/12))";
        if offset != 0.0 {
            formula = "L (1 - 2^(-n/12)) + f";
            terms.push(length("f", "joint offset", offset));
        }
        let at = self.layout.joint_from_nut;
        self.step("u_J", "joint from the nut", formula, terms, at, In::Mm, FRETS)
    }

    /// How much the strung neck bends, κ.
    pub(super) fn bend(&mut self) -> Term {
        let wanted = &self.design.wanted;
        let joint = self.joint();
        let to = if wanted.relief_to == 0 { self.design.joint.fret } else { wanted.relief_to };
        let from = self.fret("u_A", "relief is read from", usize::from(wanted.relief_from));
        let to = self.fret("u_B", "relief is read to", usize::from(to));
        let relief = length("r", "relief", wanted.relief.to_mm());
        let (formula, terms) = if to.value <= joint.value {
            ("8 r/(u_B - u_A)²", vec![relief, from, to])
        } else {
            (
                "r/((u_J - u_A)²/(2 (u_B - u_A)) (u_B - u_J + (u_J - u_A)²/(4 (u_B - u_A))))",
                vec![relief, from, to, joint],
            )
        };
        let written = In::Other(BEND_DIGITS, "/mm");
        self.step("κ", "bend of the strung neck", formula, terms, self.layout.bend, written, BEND)
    }

    /// Place of a string across the board at `along` from the nut.
    fn across(
        &mut self,
        [symbol, at_nut, at_bridge]: [&'static str; 3],
        string: &InstrumentString,
        along: Term,
    ) -> Term {
        let places = (string.nut_place.to_mm(), string.crest_place.to_mm());
        let w = places.0 + (places.1 - places.0) * (along.value / self.design.scale.length.to_mm());
        let terms = vec![
            length(at_nut, "string from the centre line, at the nut", places.0),
            length(at_bridge, "the same at the bridge line", places.1),
            along,
            self.scale(),
        ];
        let formula = format!("{at_nut} + ({at_bridge} - {at_nut}) {}/L", along.symbol);
        let name = "string from the centre line there";
        self.step(symbol, name, formula, terms, w, In::Mm, PLANE)
    }

    /// How much lower the board lies under a string than at its middle; none of a flat board,
    /// and none on the centre line.
    fn sagitta(&mut self, string: Option<usize>, letters: &Letters, along: Term) -> Option<Term> {
        let radius = match self.design.board.shape {
            BoardShape::Flat => return None,
            BoardShape::Fixed { radius } => length("R", "radius of the board", radius.to_mm()),
            BoardShape::Compound { radius_nut, radius_end } => {
                let (nut, end) = (radius_nut.to_mm(), radius_end.to_mm());
                let long = self.design.board.end.to_mm();
                let terms = vec![
                    length("R_N", "radius at the nut", nut),
                    length("R_E", "radius at the board's end", end),
                    along,
                    length("E", "end of the board from the nut", long),
                ];
                let formula = format!("R_N + (R_E - R_N) {}/E", along.symbol);
                string?;
                let radius = nut + (end - nut) / long * along.value;
                let name = "radius of the board there";
                self.step(letters.r, name, formula, terms, radius, In::Mm, PLANE)
            }
        };
        let string = self.design.strings.get(string?)?.clone();
        let w = self.across([letters.w, "w_N", "w_B"], &string, along);
        let formula = format!("{r} - √({r}² - {w}²)", r = radius.symbol, w = w.symbol);
        let lower = sagitta(radius.value, w.value);
        let name = "board lower there than at its middle";
        Some(self.step(letters.s, name, formula, vec![radius, w], lower, In::Mm, PLANE))
    }

    /// The crown of a fret under a string, or on the centre line.
    pub(super) fn crown(&mut self, string: Option<usize>, letters: &Letters, fret: usize) -> Term {
        let along = self.fret(letters.u, letters.place, fret);
        let mut terms = vec![length("h", "crown height", self.design.board.crown.to_mm())];
        let mut formula = "h".to_owned();
        let joint = self.joint();
        if along.value < joint.value {
            formula += &format!(" + κ (u_J - {})²/2", along.symbol);
            terms.extend([self.bend(), joint, along]);
        }
        let board = &self.design.board;
        if board.fall_from > 0 && self.layout.fall(along.value) != 0.0 {
            let (from, drop) = (usize::from(board.fall_from), board.fall.to_mm());
            let start = self.fret("u_f", "fall-away starts", from);
            let last = match usize::from(self.design.scale.frets) {
                0 => length("E", "end of the board from the nut", self.design.board.end.to_mm()),
                last => self.fret("u_l", "last fret from the nut", last),
            };
            formula += &format!(" - D ({} - u_f)/({} - u_f)", along.symbol, last.symbol);
            let drop = length("D", "fall-away at the last fret", drop);
            terms.retain(|term| term.symbol != along.symbol);
            terms.extend([drop, along, start, last]);
        }
        if let Some(lower) = self.sagitta(string, letters, along) {
            formula += &format!(" - {}", lower.symbol);
            terms.push(lower);
        }
        let crown = match string {
            // a sound design has a fret wherever something is read or wanted
            Some(string) => self.layout.clearances.crown(string, fret),
            None => self.layout.centre_crown(along.value),
        };
        self.step(letters.k, letters.crown, formula, terms, crown, In::Mm, PLANE)
    }

    /// Between what is wanted at treble and at bass, by a string's place; the mean for the
    /// middle one.
    fn between(
        &mut self,
        letters: &Between,
        (treble, bass): (f64, f64),
        string: Option<(usize, PlaceOf)>,
        value: f64,
    ) -> Term {
        let Between { symbol, name, .. } = *letters;
        if treble == bass {
            return length(symbol, name, value);
        }
        let ends = [
            length(letters.ends[0], letters.ends_are[0], treble),
            length(letters.ends[1], letters.ends_are[1], bass),
        ];
        let [t, b] = letters.ends;
        let mean = format!("({t} + {b})/2");
        let strings = &self.design.strings;
        let Some((string, place)) = string.filter(|_| strings.len() > 1) else {
            return self.step(symbol, name, mean, ends.to_vec(), value, In::Mm, PLANE);
        };
        match string {
            0 => return length(symbol, name, treble),
            one if one + 1 == strings.len() => return length(symbol, name, bass),
            _ => {}
        }
        let at = |one: Option<&InstrumentString>| one.map_or(0.0, place);
        let places = [
            length(letters.places[0], "treble string from the centre line", at(strings.first())),
            length(letters.places[1], "this string from the centre line", at(strings.get(string))),
            length(letters.places[2], "bass string from the centre line", at(strings.last())),
        ];
        if places[0].value <= places[2].value {
            return self.step(symbol, name, mean, ends.to_vec(), value, In::Mm, PLANE);
        }
        let terms = [ends.as_slice(), &places].concat();
        let [y_t, y, y_b] = letters.places;
        let formula = format!("{t} + ({b} - {t}) ({y_t} - {y})/({y_t} - {y_b})");
        self.step(symbol, name, formula, terms, value, In::Mm, PLANE)
    }

    /// A string's height at the nut and its rise per mm, p and q.
    pub(super) fn line(&mut self, string: Option<usize>) -> Option<(Term, Term)> {
        let wanted = &self.design.wanted;
        let actions = (wanted.action_treble.to_mm(), wanted.action_bass.to_mm());
        let firsts = (wanted.first_fret_treble.to_mm(), wanted.first_fret_bass.to_mm());
        let action_fret = usize::from(wanted.action_fret);
        let (nut_v, slope, action, first) = match string {
            Some(string) => {
                let line = self.of_string(string)?;
                (line.nut_v, line.slope, line.wanted_action, line.wanted_first)
            }
            None => {
                let middle = &self.layout.middle;
                let first = 0.5 * (firsts.0 + firsts.1);
                (middle.nut_v, middle.slope, middle.action, first)
            }
        };
        let over_crest: PlaceOf = |string| string.crest_place.to_mm();
        let over_nut: PlaceOf = |string| string.nut_place.to_mm();
        let last = self.design.strings.len().saturating_sub(1);
        let is_inner = string.is_some_and(|string| string > 0 && string < last);
        let shared = self.design.bridge.kind.shared_crest().filter(|_| is_inner);
        // where the line is held at its far end: over the action fret, or at a shared crest
        let far = match (shared, string) {
            (Some((radius, _)), Some(string)) => self.shared_crest(string, radius.to_mm())?,
            _ => {
                let at = string.map(|string| (string, over_crest));
                let action = self.between(&WANTED_ACTION, actions, at, action);
                let crown = self.crown(string, &ACTION, action_fret);
                let along = self.fret(ACTION.u, ACTION.place, action_fret);
                (along, format!("{} + a", crown.symbol), vec![crown, action])
            }
        };
        let (along, height, height_terms) = far;
        if let Nut::ZeroFret { height: zero } = self.design.nut {
            let mut terms = vec![length("h_0", "height of the zero fret", zero.to_mm())];
            let mut formula = "h_0 + κ u_J²/2".to_owned();
            terms.extend([self.bend(), self.joint()]);
            if let Some(lower) = self.sagitta_at_nut(string) {
                formula += " - s_0";
                terms.push(lower);
            }
            let name = "string at the nut face, over the straight board";
            let p = self.step("p", name, formula, terms, nut_v, In::Mm, PLANE);
            let formula = format!("({height} - p)/{}", along.symbol);
            let terms = [height_terms, vec![p, along]].concat();
            let name = "rise of the string per mm";
            let q = self.step("q", name, formula, terms, slope, In::Ratio, PLANE);
            return Some((p, q));
        }
        let at = string.map(|string| (string, over_nut));
        let first = self.between(&WANTED_FIRST, firsts, at, first);
        let crown = self.crown(string, &FIRST, 1);
        let from = self.fret(FIRST.u, FIRST.place, 1);
        let formula = format!("({height} - k_1 - c_1)/({} - u_1)", along.symbol);
        let terms = [height_terms, vec![crown, first, along, from]].concat();
        let name = "rise of the string per mm";
        let q = self.step("q", name, formula, terms, slope, In::Ratio, PLANE);
        let name = "string at the nut face, over the straight board";
        let terms = vec![crown, first, q, from];
        let p = self.step("p", name, "k_1 + c_1 - q u_1", terms, nut_v, In::Mm, PLANE);
        Some((p, q))
    }

    /// How much lower the board lies under a string at the nut than at its middle.
    fn sagitta_at_nut(&mut self, string: Option<usize>) -> Option<Term> {
        let (symbol, radius) = match self.design.board.shape {
            BoardShape::Flat => return None,
            BoardShape::Fixed { radius } => ("R", radius.to_mm()),
            BoardShape::Compound { radius_nut, .. } => ("R_N", radius_nut.to_mm()),
        };
        let w = self.design.strings.get(string?)?.nut_place.to_mm();
        let terms = vec![
            length(symbol, "radius of the board at the nut", radius),
            length("w_N", "string from the centre line, at the nut", w),
        ];
        let formula = format!("{symbol} - √({symbol}² - w_N²)");
        let name = "board lower at the nut than at its middle";
        Some(self.step("s_0", name, formula, terms, sagitta(radius, w), In::Mm, PLANE))
    }

    /// What holds an inner string's line on a shared crest: the crest from the nut, and its
    /// height between those of the outer strings.
    fn shared_crest(&mut self, string: usize, radius: f64) -> Option<(Term, String, Vec<Term>)> {
        let this = self.design.strings.get(string)?.clone();
        let line = self.of_string(string)?;
        let (along, crest_v) = (line.crest_u, line.crest_v);
        let along = self.crest_from_nut(Some(string), along);
        let Tilt { tilt, treble: [w_t, v_t], radius } = self.tilt(radius)?;
        let w = self.across(["w_s", "w_N", "w_B"], &this, along);
        let formula = "v_T + τ (w_s - w_T) + √(R_c² - w_s²) - √(R_c² - w_T²)";
        let terms = vec![v_t, tilt, w, w_t, radius];
        let name = "crest over the straight board";
        let crest = self.step("v_s", name, formula, terms, crest_v, In::Mm, PLANE);
        Some((along, "v_s".to_owned(), vec![crest]))
    }

    /// How a shared crest tilts, from the crests of the outer strings.
    fn tilt(&mut self, radius: f64) -> Option<Tilt> {
        let strings = &self.design.strings;
        let outer = [strings.first()?.clone(), strings.last()?.clone()];
        let lines = [self.layout.strings.first()?, self.layout.strings.last()?];
        let crests = lines.map(|line| (line.crest_u, line.crest_v));
        let over = "the same over the straight board, from the working of that string";
        let radius = length("R_c", "radius of the crest", radius);
        let at = |bench: &mut Self, end: usize, (u, v, w, name)| {
            let (crest_u, crest_v) = crests[end];
            [bench.across(w, &outer[end], length(u, name, crest_u)), length(v, over, crest_v)]
        };
        let treble =
            ("u_T", "v_T", ["w_T", "w_NT", "w_BT"], "crest of the treble string from the nut");
        let treble = at(self, 0, treble);
        let bass = ("u_S", "v_S", ["w_S", "w_NS", "w_BS"], "crest of the bass string from the nut");
        let bass = at(self, 1, bass);
        let level = |[w, v]: [Term; 2]| v.value + sagitta(radius.value, w.value);
        let tilt = (level(treble) - level(bass)) / (treble[0].value - bass[0].value);
        let formula = "(v_T - v_S + √(R_c² - w_S²) - √(R_c² - w_T²))/(w_T - w_S)";
        let terms = vec![treble[1], bass[1], radius, bass[0], treble[0]];
        let name = "tilt of the crest";
        let tilt = self.step("τ", name, formula, terms, tilt, In::Ratio, PLANE);
        Some(Tilt { tilt, treble, radius })
    }

    /// The height that one of the posts of a shared crest needs, as the last step. None where
    /// a floating bridge carries it, which counts from its base.
    pub(crate) fn post(&mut self, posts: &[Post; 2], needs: f64) -> Option<()> {
        let post = posts.iter().find(|post| post.crest_height == needs)?;
        if self.layout.foot.is_some() {
            return None;
        }
        let (radius, _) = self.design.bridge.kind.shared_crest()?;
        let Tilt { tilt, treble: [w_t, v_t], radius } = self.tilt(radius.to_mm())?;
        let place = length("w_P", "post from the centre line", post.place);
        let level =
            v_t.value + sagitta(radius.value, w_t.value) + tilt.value * (post.place - w_t.value);
        let formula = "v_T + R_c - √(R_c² - w_T²) + τ (w_P - w_T)";
        let name = "level of the crest over the post, over the straight board";
        let terms = vec![v_t, radius, w_t, tilt, place];
        let level = self.step("v_P", name, formula, terms, level, In::Mm, PLANE);
        let crest_u = self.layout.middle.crest_u;
        let at = self.layout.strung(crest_u, level.value);
        let along = self.crest_from_nut(None, crest_u);
        let names = ["that place from the joint", "that place over the datum"];
        let (x, y) = self.in_body(["X_P", "Y_P"], names, along, level, at);
        let top = self.top("z_P", x);
        let rise = length("e", "top rises under the strings", self.design.body.top_rise.to_mm());
        let name = "crest height that the post needs";
        let terms = vec![y, top, rise];
        self.step("B", name, "Y_P - z_P - e", terms, needs, In::Mm, PLANE);
        Some(())
    }

    /// The crest from the nut, u_s.
    pub(super) fn crest_from_nut(&mut self, string: Option<usize>, at: f64) -> Term {
        let compensation = self.design.bridge.compensation.to_mm();
        let mut terms =
            vec![self.scale(), length("C", "compensation of the middle crest", compensation)];
        let mut formula = "L + C";
        let offset = string
            .and_then(|string| self.design.strings.get(string))
            .map_or(0.0, |string| string.crest_offset.to_mm());
        if offset != 0.0 {
            formula = "L + C + x";
            terms.push(length("x", "this crest beyond the middle one", offset));
        }
        self.step("u_s", "crest from the nut", formula, terms, at, In::Mm, PLANE)
    }

    /// Clearance of the open string over a fret, as the last step.
    pub(super) fn open(&mut self, string: usize, fret: usize) -> Option<Term> {
        let frets = self.layout.clearances.frets();
        if string >= self.layout.strings.len() || !(1..=frets).contains(&fret) {
            return None;
        }
        let (p, q) = self.line(Some(string))?;
        let crown = self.crown(Some(string), &OVER, fret);
        let along = self.fret(OVER.u, OVER.place, fret);
        let clears = self.layout.clearances.open(string, fret);
        let name = "clearance of the open string";
        let terms = vec![p, q, along, crown];
        Some(self.step("c", name, "p + q u_m - k_m", terms, clears, In::Mm, PLANE))
    }

    /// Clearance of the string stopped at a fret over a later one, as the last step.
    pub(super) fn stopped(&mut self, string: usize, stop: usize, fret: usize) -> Option<Term> {
        let clears = self.layout.stopped_over(string, stop, fret)?;
        let (_, crest) = self.crest(Some(string))?;
        let at = self.of_string(string)?.crest_u;
        let along = self.crest_from_nut(Some(string), at);
        let from = self.crown(Some(string), &STOP, stop);
        let over = self.crown(Some(string), &OVER, fret);
        let (u_n, u_m) = (self.fret(STOP.u, STOP.place, stop), self.fret(OVER.u, OVER.place, fret));
        let formula = "k_n + (v_s - k_n) (u_m - u_n)/(u_s - u_n) - k_m";
        let terms = vec![from, crest, u_m, u_n, along, over];
        let name = "clearance of the stopped string";
        Some(self.step("c", name, formula, terms, clears, In::Mm, PLANE))
    }

    /// Height of the slot over the board, as the last step.
    pub(super) fn slot(&mut self, string: usize) -> Option<Term> {
        let slot = self.of_string(string)?.slot_over_board;
        let (p, _) = self.line(Some(string))?;
        let (bend, joint) = (self.bend(), self.joint());
        let mut terms = vec![p, bend, joint];
        let mut formula = "p - κ u_J²/2";
        if let Some(lower) = self.sagitta_at_nut(Some(string)) {
            formula = "p - κ u_J²/2 + s_0";
            terms.push(lower);
        }
        Some(self.step("f_s", "slot over the board", formula, terms, slot, In::Mm, PLANE))
    }

    /// The pitch of the strung neck.
    pub(super) fn strung_pitch(&mut self) -> Term {
        let pitch = angle("θ", "pitch", self.layout.pitch);
        let lost = self.design.body.pitch_lost;
        if lost.radians() == 0.0 {
            return pitch;
        }
        let lost = angle("θ_l", "pitch lost under the strings", lost.radians());
        let strung = self.layout.strung_pitch;
        let name = "pitch under the strings";
        self.step("θ_s", name, "θ - θ_l", vec![pitch, lost], strung, In::Degrees, PLANE)
    }
}
