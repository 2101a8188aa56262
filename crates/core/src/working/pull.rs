//! What a string pulls and presses, and how hard it can be plucked.

use super::chain::{Bench, In};
use super::{MATERIAL, PLANE, PLUCK, STRING, Term, count, length, plain};
use crate::design::{CoreSection, Material, Note, StringMake};
use crate::strings::{Drawn, Most, Plucking, Pull, material, pull, wound_on};

/// Letters of the wraps, the innermost first: their wire, what they are wound on, their mass.
/// A sound design has four inner wraps at most.
const WRAPS: [[&str; 3]; 5] = [
    ["d_1", "D_1", "μ_1"],
    ["d_2", "D_2", "μ_2"],
    ["d_3", "D_3", "μ_3"],
    ["d_4", "D_4", "μ_4"],
    ["d_5", "D_5", "μ_5"],
];

/// How masses, forces and stresses are written.
const MASS: In = In::Other(9, "kg/m");
pub(super) const NEWTON: In = In::Other(4, "N");
const STRESS: In = In::Other(3, "N/mm²");
/// Wires are thin: a tenth of a micron is some ten-thousandth of their mass.
const FINE: In = In::Other(8, "mm");
const PER_CENT: In = In::Other(4, "%");

/// A thickness of wire.
pub(super) fn fine(symbol: &'static str, name: &'static str, value: f64) -> Term {
    Term { digits: 6, ..length(symbol, name, value) }
}

impl Bench<'_> {
    fn pulled(&self, string: usize) -> Option<Pull> {
        pull(self.design, self.layout, string)
    }

    /// The frequency of the open string.
    pub(super) fn hertz(&mut self, string: usize) -> Option<Term> {
        let note = self.design.strings.get(string)?.note?;
        let hertz = note.hertz();
        let name = "frequency of the open string";
        Some(match note {
            Note::Hertz(_) => plain("ν", name, hertz, 4, "Hz"),
            Note::Named { .. } => {
                let above = 12.0 * (hertz / 440.0).log2();
                let terms = vec![plain("m", "semitones above A4, cents included", above, 4, "")];
                let formula = "440 · 2^(m/12)";
                self.step("ν", name, formula, terms, hertz, In::Other(5, "Hz"), super::FRETS)
            }
        })
    }

    /// What carries the pull: its diameter and section.
    fn core(&mut self, string: usize) -> Option<(f64, CoreSection, Material, Term)> {
        let made = self.design.strings.get(string)?;
        let gauge = made.gauge?.to_mm();
        let (across, section, of, name) = match &made.make {
            StringMake::Plain { material } => (gauge, CoreSection::Round, *material, "gauge"),
            StringMake::Wound { core, section, core_material, .. } => {
                (core.to_mm(), *section, *core_material, "core, across its flats if it has any")
            }
        };
        let terms = vec![fine("d", name, across)];
        let formula = match section {
            CoreSection::Round => "π d²/4",
            CoreSection::Hexagonal => "√(3)/2 d²",
        };
        let value = self.pulled(string)?.wire.section;
        let name = "section that carries the pull";
        let area = self.step("A", name, formula, terms, value, In::Other(6, "mm²"), PLANE);
        Some((across, section, of, area))
    }

    /// Mass of a string per length.
    fn mass(&mut self, string: usize) -> Option<Term> {
        let made = self.design.strings.get(string)?.clone();
        let (across, section, of, area) = self.core(string)?;
        let whole = self.pulled(string)?.wire.mass;
        let density = |of| plain("ρ", "density", material::density(of), 0, "kg/m³");
        let terms = vec![density(of), area];
        let StringMake::Wound { wrap, inner, .. } = &made.make else {
            return Some(self.step("μ", "mass", "ρ A/10^6", terms, whole, MASS, MATERIAL));
        };
        let core = material::density(of) * area.value * 1e-6;
        let core = self.step("μ_0", "mass of the core", "ρ A/10^6", terms, core, MASS, MATERIAL);
        let mut on = fine("D_1", "diameter it is wound on", across);
        if section == CoreSection::Hexagonal {
            let terms = vec![fine("d", "core, across its flats if it has any", across)];
            let corners = wound_on(across, section);
            let name = "core across its corners";
            on = self.step("D_1", name, "2 d/√(3)", terms, corners, FINE, PLANE);
        }
        let gauge = made.gauge?.to_mm();
        let wires = inner.iter().map(|layer| (Some(layer.wire.to_mm()), layer.material));
        let mut masses = vec![core];
        for ((wire, of), letters) in wires.chain([(None, *wrap)]).zip(WRAPS) {
            let [d, wound, mu] = letters;
            on = Term { symbol: wound, ..on };
            let thick = match wire {
                Some(wire) => fine(d, "wire of this wrap", wire),
                None => {
                    let terms = vec![fine("d_g", "gauge", gauge), on];
                    let formula = format!("(d_g - {wound})/2");
                    let thick = ((gauge - on.value) / 2.0).max(1e-3);
                    let name = "wire of the outermost wrap";
                    self.step(d, name, formula, terms, thick, FINE, PLANE)
                }
            };
            let formula = format!("ρ π {d}²/4 √((π ({wound} + {d})/{d})² + 1)/10^6");
            let mass = crate::strings::wrap_mass(on.value, thick.value, material::density(of));
            let terms = vec![density(of), thick, on];
            let name = "mass of a wrap";
            masses.push(self.step(mu, name, formula, terms, mass, MASS, MATERIAL));
            if wire.is_some() {
                let next = WRAPS.iter().position(|one| one[1] == wound).unwrap_or(0) + 1;
                let symbol = WRAPS.get(next).map_or("", |one| one[1]);
                let formula = format!("{wound} + 2 {d}");
                let over = on.value + 2.0 * thick.value;
                let name = "diameter over that wrap";
                on = self.step(symbol, name, formula, vec![on, thick], over, FINE, PLANE);
            }
        }
        let formula = masses.iter().map(|mass| mass.symbol).collect::<Vec<_>>().join(" + ");
        Some(self.step("μ", "mass of the string", formula, masses, whole, MASS, MATERIAL))
    }

    /// What a string pulls.
    pub(super) fn tension(&mut self, string: usize) -> Option<Term> {
        let tension = self.pulled(string)?.tension;
        let mass = self.mass(string)?;
        let terms = vec![mass, self.scale(), self.hertz(string)?];
        Some(self.step("T", "tension", "μ (2 L ν/1000)²", terms, tension, NEWTON, STRING))
    }

    /// The pull as a part of what the string bears.
    pub(super) fn load(&mut self, string: usize) -> Option<Term> {
        let pull = self.pulled(string)?;
        let tension = self.tension(string)?;
        let (.., area) = self.core(string)?;
        let name = "stress";
        let stress = self.step("σ", name, "T/A", vec![tension, area], pull.stress, STRESS, PLANE);
        let strength = plain("S", "tensile strength", pull.wire.strength, 2, "N/mm²");
        let terms = vec![stress, strength];
        let name = "stress as a part of the strength";
        let load = 100.0 * pull.load;
        Some(self.step("b", name, "100 σ/S", terms, load, PER_CENT, MATERIAL))
    }

    /// Young's modulus of what carries the pull.
    pub(super) fn young(&mut self, string: usize) -> Option<(Term, Term, f64, CoreSection)> {
        let (across, section, of, area) = self.core(string)?;
        let young = material::young(of, across);
        let young = plain("E_m", "Young's modulus", young, 0, "N/mm²");
        Some((young, area, across, section))
    }

    /// What the pull has stretched it by.
    pub(super) fn strain(&mut self, string: usize) -> Option<Term> {
        let strain = 100.0 * self.pulled(string)?.strain;
        let tension = self.tension(string)?;
        let (young, area, ..) = self.young(string)?;
        let terms = vec![tension, young, area];
        let name = "stretch as a part of the length";
        Some(self.step("ε", name, "100 T/(E_m A)", terms, strain, PER_CENT, MATERIAL))
    }

    /// Travel at the pluck for 1 N on the open string.
    pub(super) fn give(&mut self, string: usize) -> Option<Term> {
        let give = self.pulled(string)?.give;
        let tension = self.tension(string)?;
        let at = self.of_string(string)?.crest_u;
        let along = self.crest_from_nut(Some(string), at);
        let wanted = self.design.wanted.pluck_place.to_mm();
        let place = wanted.min(0.5 * self.design.scale.length.to_mm());
        let terms = vec![length("p_s", "pluck from the saddle", place), along, tension];
        let formula = "p_s (u_s - p_s)/(T u_s)";
        let name = "travel at the pluck for 1 N, open";
        Some(self.step("", name, formula, terms, give, In::Mm, PLUCK))
    }

    /// What a string presses on the nut.
    pub(super) fn on_nut(&mut self, string: usize) -> Option<Term> {
        let force = self.pulled(string)?.nut_force;
        let tension = self.tension(string)?;
        let (down, _) = self.nut_break(Some(string))?;
        let (_, q) = self.line(Some(string))?;
        let terms = vec![tension, down, q];
        let formula = "T (sin δ - sin(atan q))";
        let name = "force on the nut, square to the board";
        Some(self.step("N", name, formula, terms, force, NEWTON, PLANE))
    }

    /// What a string does to the saddle: square to the datum, or along it toward the tail.
    pub(super) fn on_saddle(&mut self, string: usize, down: bool) -> Option<Term> {
        let forces = self.pulled(string)?.saddle?;
        let tension = self.tension(string)?;
        let (before, behind) = self.saddle_angles(Some(string))?;
        let terms = vec![tension, before, behind];
        Some(if down {
            let name = "force on the saddle, square to the datum";
            let formula = "T (sin γ_1 + sin γ_2)";
            self.step("Q", name, formula, terms, forces.down, NEWTON, PLANE)
        } else {
            let name = "force on the saddle along the datum, toward the tail";
            let formula = "T (cos γ_2 - cos γ_1)";
            self.step("H", name, formula, terms, forces.forward, NEWTON, PLANE)
        })
    }

    /// The largest travel at the pluck of a note without contact.
    pub(super) fn most(&mut self, string: usize, most: Most) -> Option<Term> {
        let (swings, terms) = self.swings(string, (most.stop, most.fret), most.drawn)?;
        // over relief the travel is told on where a string touches at rest
        let formula = match most.most < 0.0 {
            true => format!("c/{swings}"),
            false => format!("max(c/{swings}, 0)"),
        };
        let name = "travel at the pluck before it touches";
        Some(self.step("d_p", name, formula, terms, most.most, In::Mm, PLUCK))
    }

    /// How near to a fret a note swings when it is played as hard as wanted, as the last step;
    /// drawn to the side that is given, or to the one that comes nearer.
    pub(super) fn lowest(
        &mut self,
        string: usize,
        note: (usize, usize),
        drawn: Option<Drawn>,
    ) -> Option<Term> {
        let wanted = &self.design.wanted;
        let plucking = Plucking::new(self.layout, wanted.pluck_place.to_mm());
        let travel = wanted.pluck_travel.to_mm();
        let left = |drawn| plucking.left(string, note.0, note.1, travel, Some(drawn));
        let nearer = || match left(Drawn::Away)? <= left(Drawn::Toward)? {
            true => Some(Drawn::Away),
            false => Some(Drawn::Toward),
        };
        let drawn = drawn.or_else(nearer)?;
        let lowest = left(drawn)?;
        let (swings, mut terms) = self.swings(string, note, drawn)?;
        terms.push(length("d", "wanted travel at the pluck", travel));
        let formula = format!("c - d {swings}");
        let name = "clearance where it swings lowest";
        Some(self.step("", name, formula, terms, lowest, In::Mm, PLUCK))
    }

    /// How much a note that is stopped at the first of two frets moves over the second for each
    /// millimetre at the pluck, as a formula with its terms; among them its clearance c.
    fn swings(
        &mut self,
        string: usize,
        (stop, fret): (usize, usize),
        drawn: Drawn,
    ) -> Option<(String, Vec<Term>)> {
        let place = self.design.wanted.pluck_place.to_mm();
        let plucking = Plucking::new(self.layout, place);
        let whole = plucking.sounding(string, stop)?;
        let line = self.of_string(string)?;
        let (crest_u, from) = (line.crest_u, plucking.stop_at(stop));
        let clears = match stop {
            0 => self.open(string, fret)?,
            stop => self.stopped(string, stop, fret)?,
        };
        let along = self.crest_from_nut(Some(string), crest_u);
        let over = self.fret("u_m", "the fret to clear from the nut", fret);
        let (sounds, x) = if stop == 0 {
            (Term { symbol: "u_s", ..along }, Term { symbol: "u_m", ..over })
        } else {
            let stop = self.fret("u_n", "the stop from the nut", stop);
            let name = "length that sounds";
            let terms = vec![along, stop];
            let sounds = self.step("l", name, "u_s - u_n", terms, whole, In::Mm, PLANE);
            let name = "fret to clear from the stop";
            let beyond = over.value - from;
            (sounds, self.step("x_m", name, "u_m - u_n", vec![over, stop], beyond, In::Mm, PLANE))
        };
        let pluck = length("p_s", "pluck from the saddle", place);
        let lowest = match drawn {
            Drawn::Away => Term { symbol: "p_s", ..pluck },
            Drawn::Toward => {
                let formula = format!("{} - p_s", sounds.symbol);
                let name = "lowest swing from the stop, drawn toward the board";
                let terms = vec![sounds, pluck];
                self.step("p_n", name, formula, terms, whole - place, In::Mm, PLUCK)
            }
        };
        let (x_, l, a) = (x.symbol, sounds.symbol, lowest.symbol);
        let formula = format!("min({x_}/{a}, ({l} - {x_})/({l} - {a}))");
        Some((formula, vec![clears, x, lowest, sounds]))
    }

    /// The force that goes with that travel.
    pub(super) fn force(&mut self, string: usize, most: Most, force: f64) -> Option<Term> {
        let travel = self.most(string, most)?;
        let tension = self.tension(string)?;
        let plucking = Plucking::new(self.layout, self.design.wanted.pluck_place.to_mm());
        let whole = plucking.sounding(string, most.stop)?;
        let place = length("p_s", "pluck from the saddle", plucking.place());
        let symbol = if most.stop == 0 { "u_s" } else { "l" };
        let sounds = length(symbol, "length that sounds", whole);
        let formula = format!("d_p T {symbol}/(p_s ({symbol} - p_s))");
        let terms = vec![travel, tension, sounds, place];
        let name = "force for that travel";
        Some(self.step("", name, formula, terms, force, NEWTON, PLUCK))
    }

    /// The sum of a force over all strings.
    pub(super) fn sum(&mut self, name: &'static str, forces: &[f64], sum: f64) {
        const LETTERS: [&str; 12] =
            ["F_1", "F_2", "F_3", "F_4", "F_5", "F_6", "F_7", "F_8", "F_9", "F_10", "F_11", "F_12"];
        let terms: Vec<Term> = LETTERS
            .into_iter()
            .zip(forces)
            .map(|(symbol, force)| plain(symbol, "force of that string", *force, 4, "N"))
            .collect();
        let formula = terms.iter().map(|term| term.symbol).collect::<Vec<_>>().join(" + ");
        self.step("", name, formula, terms, sum, NEWTON, PLANE);
    }

    /// The number of a fret as a term.
    pub(super) fn number(&self, fret: usize) -> Term {
        count("n", "number of the fret", fret)
    }
}
