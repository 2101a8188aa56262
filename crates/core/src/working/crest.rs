//! The crest in the body's frame: its height over the top, how the strings bend over saddle
//! and nut, what a straightedge reads there.

use super::chain::{Bench, In};
use super::{PLANE, Term, angle, length, plain};
use crate::design::{Tail, Top};
use crate::layout::{BodyPoint, StringLine};
use crate::verdict::crests_needed;

/// What a straightedge is laid on.
#[derive(Clone, Copy, Debug)]
pub(super) enum Laid {
    Neck,
    Board,
    Crowns,
}

/// Where an arch between its points comes from.
const SPLINE: &str =
    "natural cubic spline: C. de Boor, A Practical Guide to Splines (1978), ch. IV";
/// Decimals of a second derivative, per mm.
const BEND_DIGITS: usize = 10;

impl Bench<'_> {
    /// Height of a string's crest over the straight board, with its rise: (q, v_s).
    pub(super) fn crest(&mut self, string: Option<usize>) -> Option<(Term, Term)> {
        let (crest_u, crest_v) = match string {
            Some(string) => {
                let line = self.of_string(string)?;
                (line.crest_u, line.crest_v)
            }
            None => (self.layout.middle.crest_u, self.layout.middle.crest_v),
        };
        let (p, q) = self.line(string)?;
        let along = self.crest_from_nut(string, crest_u);
        let name = "crest over the straight board";
        let crest = self.step("v_s", name, "p + q u_s", vec![p, q, along], crest_v, In::Mm, PLANE);
        Some((q, crest))
    }

    pub(crate) fn overstand(&self) -> Term {
        length("o", "overstand", self.design.joint.overstand.to_mm())
    }

    pub(crate) fn board(&self) -> Term {
        length("t", "board thickness", self.design.board.thickness.to_mm())
    }

    /// The crest in the body's frame, X_s and Y_s.
    pub(crate) fn crest_in_body(&mut self, string: Option<usize>) -> Option<(Term, Term)> {
        let (point, crest_u) = match string {
            Some(string) => {
                let line = self.of_string(string)?;
                (line.crest, line.crest_u)
            }
            None => (self.layout.middle.crest, self.layout.middle.crest_u),
        };
        let (_, crest) = self.crest(string)?;
        let along = self.crest_from_nut(string, crest_u);
        let names = ["crest from the joint, along the datum", "crest over the datum"];
        Some(self.in_body(["X_s", "Y_s"], names, along, crest, point))
    }

    /// A place over the straight board, u_s along it and so high over it, in the body's frame:
    /// its letters, what they are, and their values.
    pub(super) fn in_body(
        &mut self,
        letters: [&'static str; 2],
        names: [&'static str; 2],
        along: Term,
        height: Term,
        at: BodyPoint,
    ) -> (Term, Term) {
        let (joint, pitch) = (self.joint(), self.strung_pitch());
        let (over, board) = (self.overstand(), self.board());
        let (t, v) = (pitch.symbol, height.symbol);
        let formula = format!("(u_s - u_J) cos {t} - ({v} + t) sin {t}");
        let terms = vec![along, joint, pitch, height, board];
        let x = self.step(letters[0], names[0], formula, terms, at.x, In::Mm, PLANE);
        let formula = format!("o + (u_s - u_J) sin {t} + ({v} + t) cos {t}");
        let terms = vec![over, along, joint, pitch, height, board];
        let y = self.step(letters[1], names[1], formula, terms, at.y, In::Mm, PLANE);
        (x, y)
    }

    /// Height of the top at a place.
    pub(crate) fn top(&mut self, symbol: &'static str, at: Term) -> Term {
        let (x, name) = (at.symbol, "top there, over the datum");
        let height = self.layout.top(at.value);
        match &self.design.body.top {
            Top::Flat => length(symbol, "top there, which is the datum", 0.0),
            Top::Ramp { angle: slope, length: long } => {
                let terms = vec![
                    at,
                    length("L_r", "length of the ramp", long.to_mm()),
                    angle("α", "slope of the ramp", slope.radians()),
                ];
                let formula = format!("min({x}, L_r) tan α");
                self.step(symbol, name, formula, terms, height, In::Mm, PLANE)
            }
            Top::Dome { radius, apex } => {
                let terms = vec![
                    length("R_d", "radius of the dome", radius.to_mm()),
                    at,
                    length("X_d", "its highest point from the joint", apex.to_mm()),
                ];
                let formula = format!("√(R_d² - ({x} - X_d)²) - √(R_d² - X_d²)");
                self.step(symbol, name, formula, terms, height, In::Mm, PLANE)
            }
            Top::Arch { .. } => {
                let Some(piece) = self.layout.arch_piece(at.value) else {
                    return length(symbol, name, height);
                };
                let bend = |symbol, name, value| plain(symbol, name, value, BEND_DIGITS, "/mm");
                let terms = vec![
                    length("x_a", "point of the arch before it", piece.from.0),
                    length("z_a", "its height", piece.from.1),
                    bend("M_a", "second derivative of the spline there", piece.from.2),
                    length("x_b", "point of the arch behind it", piece.to.0),
                    length("z_b", "its height", piece.to.1),
                    bend("M_b", "second derivative of the spline there", piece.to.2),
                    at,
                ];
                // in parts of the piece from either end
                let (left, right) =
                    (format!("((x_b - {x})/(x_b - x_a))"), format!("(({x} - x_a)/(x_b - x_a))"));
                let formula = format!(
                    "{left} z_a + {right} z_b + ((x_b - x_a)²/6) (({left}³ - {left}) M_a + \
                     ({right}³ - {right}) M_b)"
                );
                self.step(symbol, name, formula, terms, height, In::Mm, SPLINE)
            }
        }
    }

    /// Height of a crest over the top, as the last step.
    pub(crate) fn crest_height(&mut self, string: Option<usize>) -> Option<Term> {
        let height = match string {
            Some(string) => self.of_string(string)?.crest_height,
            None => self.layout.middle.crest_height,
        };
        let (x, y) = self.crest_in_body(string)?;
        let top = self.top("z", x);
        let rise = self.design.body.top_rise.to_mm();
        let mut terms = vec![y, top];
        let mut formula = "Y_s - z";
        if rise != 0.0 {
            formula = "Y_s - z - e";
            terms.push(length("e", "top rises under the strings", rise));
        }
        let name = "crest height over the top";
        Some(self.step("B", name, formula, terms, height, In::Mm, PLANE))
    }

    /// What is left at the saddle of the string, or post, that has the least, as the last step.
    pub(super) fn saddle_left(&mut self, down: bool) -> Option<()> {
        let layout = self.layout;
        let (least, most) = crests_needed(layout);
        let needs = if down { least } else { most };
        let is_it = |line: &StringLine| line.crest_height == needs;
        match (layout.posts, layout.strings.iter().position(is_it)) {
            (Some(posts), _) => drop(self.post(&posts, needs)),
            (None, Some(string)) => drop(self.crest_height(Some(string))?),
            (None, None) => return None,
        }
        let (low, high) = self.design.bridge.kind.crest_range();
        let (low, high) = (low.to_mm(), high.to_mm());
        let term = length("B", "crest height that is needed", needs);
        if down {
            let low_term = length("B_1", "lowest that the bridge gives", low);
            let terms = vec![term, low_term];
            self.step("", "left down", "B - B_1", terms, needs - low, In::Mm, PLANE);
        } else {
            let high_term = length("B_2", "highest that the bridge gives", high);
            let terms = vec![high_term, term];
            self.step("", "left up", "B_2 - B", terms, high - needs, In::Mm, PLANE);
        }
        Some(())
    }

    /// Angles of a string to the datum before and behind the saddle.
    pub(super) fn saddle_angles(&mut self, string: Option<usize>) -> Option<(Term, Term)> {
        let (slope, bend) = match string {
            Some(string) => {
                let line = self.of_string(string)?;
                (line.slope, line.saddle_break?.angle())
            }
            None => (self.layout.middle.slope, self.layout.middle.saddle_break?.angle()),
        };
        let (x, y) = self.crest_in_body(string)?;
        let (_, q) = self.line(string)?;
        let rise = self.design.body.top_rise.to_mm();
        let (behind, height) = match self.design.tail {
            Tail::AtBridge { behind, height } => (Some(behind.to_mm()), height.to_mm()),
            Tail::Through { behind } => (Some(behind.to_mm()), 0.0),
            Tail::Stop { height, .. } | Tail::Hung { height, .. } => (None, height.to_mm()),
            Tail::Wrapped => return None,
        };
        let tail = match (behind, &self.design.tail) {
            (Some(behind), _) => {
                let terms = vec![x, length("b", "tail behind the crest", behind)];
                let name = "tail from the joint";
                self.step("X_t", name, "X_s + b", terms, x.value + behind, In::Mm, PLANE)
            }
            (None, Tail::Stop { station, .. } | Tail::Hung { station, .. }) => {
                length("X_t", "tail from the joint", station.to_mm())
            }
            _ => return None,
        };
        let top = self.top("z_t", tail);
        let mut terms = vec![top, length("H_t", "tail over the top", height)];
        let mut formula = "z_t + H_t";
        let mut over = top.value + height;
        if behind.is_some() && rise != 0.0 {
            formula = "z_t + H_t + e";
            over += rise;
            terms.push(length("e", "top rises under the strings", rise));
        }
        let tail_y = self.step("Y_t", "tail over the datum", formula, terms, over, In::Mm, PLANE);
        let pitch = self.strung_pitch();
        let before = self.layout.strung_pitch + slope.atan();
        let formula = format!("{} + atan q", pitch.symbol);
        let name = "string before the saddle, to the datum";
        let before = self.step("γ_1", name, formula, vec![pitch, q], before, In::Degrees, PLANE);
        let formula = if tail.value > x.value {
            "atan((Y_s - Y_t)/(X_t - X_s))"
        } else {
            "atan2(Y_s - Y_t, X_t - X_s)"
        };
        let behind = bend - before.value.to_radians();
        let name = "string behind the saddle, to the datum";
        let terms = vec![y, tail_y, tail, x];
        let behind = self.step("γ_2", name, formula, terms, behind, In::Degrees, PLANE);
        Some((before, behind))
    }

    /// How much a string bends over the saddle, as the last step.
    pub(super) fn saddle_break(&mut self, string: Option<usize>) -> Option<Term> {
        let bend = match string {
            Some(string) => self.of_string(string)?.saddle_break?.angle(),
            None => self.layout.middle.saddle_break?.angle(),
        };
        let (before, behind) = self.saddle_angles(string)?;
        let name = "bend over the saddle";
        let terms = vec![before, behind];
        Some(self.step("γ", name, "γ_1 + γ_2", terms, bend, In::Degrees, PLANE))
    }

    /// How much a string bends over the nut, as the last step; with the angle to the post.
    pub(super) fn nut_break(&mut self, string: Option<usize>) -> Option<(Term, Term)> {
        let (nut_v, bend, post) = match string {
            Some(index) => {
                let line = self.of_string(index)?;
                let one = self.design.strings.get(index)?;
                let post = match &one.retainer {
                    Some(held) => (held.along.to_mm(), held.height.to_mm()),
                    None => (one.post.to_mm(), one.post_height.to_mm()),
                };
                (line.nut_v, line.nut_break.angle(), post)
            }
            None => {
                let middle = &self.layout.middle;
                (middle.nut_v, middle.nut_break.angle(), self.layout.mean_post())
            }
        };
        let (p, q) = self.line(string)?;
        let head = &self.design.head;
        let straight = self.layout.head(post.0, post.1);
        let bent = self.layout.strung_head(post.0, post.1);
        let name = if string.is_some() {
            "post along the headstock"
        } else {
            "mean post along the headstock"
        };
        let start = length("a_h", "headstock start", head.start.to_mm());
        let drop = length("g", "headstock drop", head.drop.to_mm());
        let tilt = angle("δ_h", "headstock angle", self.layout.head_angle());
        let along = length("P", name, post.0);
        let over = length("H_p", "string there over the headstock's face", post.1);
        let terms = vec![start, along, tilt, over];
        let formula = "-a_h - P cos δ_h - H_p sin δ_h";
        let name = "post from the nut, along the straight board";
        let u = self.step("u_h", name, formula, terms, straight.0, In::Mm, PLANE);
        let terms = vec![drop, along, tilt, over];
        let formula = "-g - P sin δ_h + H_p cos δ_h";
        let name = "post over the straight board";
        let v = self.step("v_h", name, formula, terms, straight.1, In::Mm, PLANE);
        let (bend_of, joint) = (self.bend(), self.joint());
        let turn = (-bend_of.value * joint.value).atan();
        let name = "turn of the nut by the bend";
        let terms = vec![bend_of, joint];
        let turn = self.step("ω", name, "-atan(κ u_J)", terms, turn, In::Degrees, PLANE);
        let name = "post from the nut, on the strung neck";
        let formula = "u_h cos ω - v_h sin ω";
        let x = self.step("u_p", name, formula, vec![u, turn, v], bent.0, In::Mm, PLANE);
        let formula = "u_h sin ω + v_h cos ω + κ u_J²/2";
        let terms = vec![u, turn, v, bend_of, joint];
        let name = "post over the straight board, on the strung neck";
        let y = self.step("v_p", name, formula, terms, bent.1, In::Mm, PLANE);
        let down = (nut_v - bent.1).atan2(-bent.0);
        let formula = if bent.0 < 0.0 { "-atan((p - v_p)/u_p)" } else { "atan2(p - v_p, -u_p)" };
        let name = "string to its post, below the board's line";
        let down = self.step("δ", name, formula, vec![p, y, x], down, In::Degrees, PLANE);
        let name = "bend over the nut";
        let bend = self.step("δ_n", name, "δ - atan q", vec![down, q], bend, In::Degrees, PLANE);
        Some((down, bend))
    }

    /// What a straightedge on the unstrung neck reads at the crest, as the last step: laid on
    /// its bare face, on the board or on the crowns.
    pub(super) fn reads(&mut self, laid: Laid) -> Option<Term> {
        let (x, _) = self.crest_in_body(None)?;
        let top = self.top("z", x);
        let pitch = angle("θ", "pitch", self.layout.pitch);
        let crown = length("h", "crown height", self.design.board.crown.to_mm());
        let (over, board) = (self.overstand(), self.board());
        let reads = self.layout.straightedge;
        let (name, formula, terms, reads) = match laid {
            Laid::Neck => (
                "straightedge on the bare neck face, over the top at the crest",
                "o + X_s tan θ - z",
                vec![over, x, pitch, top],
                reads.neck_face,
            ),
            Laid::Board => (
                "straightedge on the board, over the top at the crest",
                "o + t/cos θ + X_s tan θ - z",
                vec![over, board, pitch, x, top],
                reads.board,
            ),
            Laid::Crowns => (
                "straightedge on the crowns, over the top at the crest",
                "o + (t + h)/cos θ + X_s tan θ - z",
                vec![over, board, crown, pitch, x, top],
                reads.crowns,
            ),
        };
        Some(self.step("", name, formula, terms, reads, In::Mm, PLANE))
    }

    /// A point of the unstrung neck in the body's frame, over the top: the board's end.
    pub(super) fn board_end(&mut self) -> Option<Term> {
        let joint = self.joint();
        let pitch = angle("θ", "pitch", self.layout.pitch);
        let end = length("E", "end of the board from the nut", self.design.board.end.to_mm());
        let at = self.layout.unstrung(end.value, -self.design.board.thickness.to_mm());
        let name = "board's end from the joint";
        let terms = vec![end, joint, pitch];
        let x = self.step("X_e", name, "(E - u_J) cos θ", terms, at.x, In::Mm, PLANE);
        let top = self.top("z_e", x);
        let terms = vec![self.overstand(), end, joint, pitch, top];
        let name = "gap under the board's end";
        let formula = "o + (E - u_J) sin θ - z_e";
        Some(self.step("G", name, formula, terms, self.layout.board_end_gap, In::Mm, PLANE))
    }

    /// The headstock over the bench, as the last step.
    pub(super) fn bench_gap(&mut self) -> Option<Term> {
        let head = &self.design.head;
        let (long, thick) = (head.length.to_mm(), head.thickness.to_mm());
        let (u, v) = self.layout.head(long, -thick);
        let tip = self.layout.unstrung(u, v);
        let start = length("a_h", "headstock start", head.start.to_mm());
        let drop = length("g", "headstock drop", head.drop.to_mm());
        let tilt = angle("δ_h", "headstock angle", self.layout.head_angle());
        let along = length("L_h", "headstock length", long);
        let back = length("h_h", "headstock thickness", thick);
        let name = "back of the tip from the nut, along the board";
        let formula = "-a_h - L_h cos δ_h + h_h sin δ_h";
        let u = self.step("u_b", name, formula, vec![start, along, tilt, back], u, In::Mm, PLANE);
        let formula = "-g - L_h sin δ_h - h_h cos δ_h";
        let name = "back of the tip over the straight board";
        let v = self.step("v_b", name, formula, vec![drop, along, tilt, back], v, In::Mm, PLANE);
        let (joint, pitch) = (self.joint(), angle("θ", "pitch", self.layout.pitch));
        let (over, board) = (self.overstand(), self.board());
        let formula = "(u_b - u_J) cos θ - (v_b + t) sin θ";
        let terms = vec![u, joint, pitch, v, board];
        let name = "back of the tip from the joint";
        let x = self.step("X_b", name, formula, terms, tip.x, In::Mm, PLANE);
        let formula = "o + (u_b - u_J) sin θ + (v_b + t) cos θ";
        let terms = vec![over, u, joint, pitch, v, board];
        let name = "back of the tip over the datum";
        let y = self.step("Y_b", name, formula, terms, tip.y, In::Mm, PLANE);
        let body = length("H_0", "body thickness", self.design.body.thickness.to_mm());
        let taper = angle("ψ", "body taper", self.design.body.taper.radians());
        let formula = "(Y_b + H_0 + X_b tan ψ) cos ψ";
        let terms = vec![y, body, x, taper];
        let name = "headstock over the bench";
        let gap = self.layout.bench_gap;
        Some(self.step("", name, formula, terms, gap, In::Mm, PLANE))
    }
}
