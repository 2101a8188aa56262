use std::f64::consts::PI;

use super::material;
use crate::design::{CoreSection, InstrumentString, Material, StringMake};

/// What of a string counts for its pull: mass, stiffness and strength.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wire {
    /// Mass per length, kg/m.
    pub mass: f64,
    /// Section that carries the pull, mm²: that of the core.
    pub section: f64,
    /// Stiffness against stretch E A, N.
    pub stretch: f64,
    /// Stiffness against bending E I, N mm².
    pub bending: f64,
    /// Tensile strength of what carries the pull, N/mm².
    pub strength: f64,
}

/// Diameter on which the first wrap is wound, mm: across the corners of a hexagonal core,
/// where the wrap rests (the little that it sinks between them is neglected).
pub(crate) fn wound_on(core: f64, section: CoreSection) -> f64 {
    match section {
        CoreSection::Round => core,
        CoreSection::Hexagonal => core * 2.0 / 3.0_f64.sqrt(),
    }
}

/// Mass per length of a plain wire, kg/m: ρ π d²/4. Diameter in mm, density in kg/m³.
pub fn plain_mass(diameter: f64, density: f64) -> f64 {
    density * PI * diameter * diameter / 4.0 * 1e-6
}

/// Mass per length that a close wrap of round wire adds, kg/m:
/// ρ_w (π d_w²/4) √((π (d + d_w)/d_w)² + 1), on a core of diameter d. Diameters in mm.
pub fn wrap_mass(on: f64, wire: f64, density: f64) -> f64 {
    let turns = PI * (on + wire) / wire;
    plain_mass(wire, density) * (turns * turns + 1.0).sqrt()
}

impl Wire {
    /// A string as it is made; none if its gauge is not given.
    ///
    /// The core alone carries the pull and the stretch, and bends: a round wrap opens as
    /// the string is pulled.
    pub fn of(string: &InstrumentString) -> Option<Self> {
        let gauge = string.gauge?.to_mm();
        Some(match &string.make {
            StringMake::Plain { material } => Self::plain(gauge, *material),
            StringMake::Wound { core, section, core_material, wrap, inner } => {
                let core = core.to_mm();
                let mut wire = Self::core(core, *section, *core_material);
                let mut on = wound_on(core, *section);
                for layer in inner {
                    let thick = layer.wire.to_mm();
                    wire.mass += wrap_mass(on, thick, material::density(layer.material));
                    on += 2.0 * thick;
                }
                // a sound design leaves room for it
                let outer = ((gauge - on) / 2.0).max(1e-3);
                wire.mass += wrap_mass(on, outer, material::density(*wrap));
                wire
            }
        })
    }

    fn plain(diameter: f64, of: Material) -> Self {
        Self::core(diameter, CoreSection::Round, of)
    }

    fn core(across: f64, shape: CoreSection, of: Material) -> Self {
        let square = across * across;
        // of a hexagon a across its flats: A = √3/2 a², I = 5 √3/144 a⁴
        let (section, second_moment) = match shape {
            CoreSection::Round => (PI / 4.0 * square, PI / 64.0 * square * square),
            CoreSection::Hexagonal => {
                let root = 3.0_f64.sqrt();
                (root / 2.0 * square, 5.0 * root / 144.0 * square * square)
            }
        };
        let young = material::young(of, across);
        Self {
            mass: material::density(of) * section * 1e-6,
            section,
            stretch: young * section,
            bending: young * second_moment,
            strength: material::strength(of, across),
        }
    }

    /// Tension at which it sounds `hertz` on a length in mm, N: T = μ (2 L f)².
    ///
    /// # Source
    /// Ideal string, Mersenne's law.
    pub fn tension(&self, length: f64, hertz: f64) -> f64 {
        tension(self.mass, length, hertz)
    }
}

/// T = μ (2 L f)²; μ in kg/m, L in mm, f in Hz, T in N.
pub fn tension(mass: f64, length: f64, hertz: f64) -> f64 {
    let speed = 2.0 * length * 1e-3 * hertz;
    mass * speed * speed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    /// The moments of the hexagon against a sum over thin strips of it.
    #[test]
    fn a_hexagon_strip_by_strip() {
        let across = 0.4;
        let side = across / 3.0_f64.sqrt();
        const STRIPS: u32 = 20_000;
        let (mut area, mut moment) = (0.0, 0.0);
        for i in 0..STRIPS {
            // flats lie above and below
            let y = across * ((f64::from(i) + 0.5) / f64::from(STRIPS) - 0.5);
            let width = 2.0 * (side - y.abs() / 3.0_f64.sqrt());
            area += width * across / f64::from(STRIPS);
            moment += width * y * y * across / f64::from(STRIPS);
        }
        let wire = Wire::core(across, CoreSection::Hexagonal, Material::Steel);
        // the midpoint rule errs by some (1/strips)²
        assert!((wire.section / area - 1.0).abs() < 1e-7);
        assert!((wire.bending / wire.stretch / (moment / area) - 1.0).abs() < 1e-7);
    }

    /// Two wraps are each at their own mean diameter.
    #[test]
    fn wraps_add_up() {
        let mut string = crate::testing::worked_example().strings.remove(0);
        string.gauge = Some(Length::mm(2.0));
        let wound = |inner| StringMake::Wound {
            core: Length::mm(0.6),
            section: CoreSection::Round,
            core_material: Material::Steel,
            wrap: Material::NickelPlated,
            inner,
        };
        let inner = crate::design::Wrap { wire: Length::mm(0.3), material: Material::Steel };
        string.make = wound(vec![inner]);
        let twice = Wire::of(&string).unwrap().mass;
        let expected =
            plain_mass(0.6, 7850.0) + wrap_mass(0.6, 0.3, 7850.0) + wrap_mass(1.2, 0.4, 7950.0);
        assert!((twice / expected - 1.0).abs() < 1e-12);
        string.make = wound(vec![]);
        assert!(Wire::of(&string).unwrap().mass > 0.0);
    }
}
