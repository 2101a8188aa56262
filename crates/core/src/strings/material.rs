//! What strings are made of, in numbers.

use crate::design::Material;

/// Density in kg/m³.
///
/// # Source
/// Steel 7850 as in the references the tests are held to; all others from memory, good to
/// a few per cent.
pub fn density(material: Material) -> f64 {
    match material {
        Material::Steel => 7850.0,
        Material::Stainless => 7900.0,
        Material::NickelPlated => 7950.0,
        Material::Nickel => 8900.0,
        Material::Bronze => 8800.0,
        Material::Brass => 8600.0,
        Material::SilverPlatedCopper => 8960.0,
        Material::Nylon => 1140.0,
        Material::Fluorocarbon => 1780.0,
        Material::Gut => 1300.0,
    }
}

/// Young's modulus in N/mm² (MPa) of a wire or filament of that diameter (mm).
///
/// # Source
/// Music wire (ASTM A228) by diameter: 29.5, 29.0, 28.5 and 28.0 Mpsi, as spring makers'
/// handbooks give them (table read). All others from memory; filaments differ by a fifth
/// either way with how they are drawn.
pub fn young(material: Material, diameter: f64) -> f64 {
    match material {
        Material::Steel => match diameter {
            d if d <= 0.82 => 203_400.0,
            d if d <= 1.61 => 200_000.0,
            d if d <= 3.18 => 196_500.0,
            _ => 193_000.0,
        },
        Material::Stainless | Material::NickelPlated => 193_000.0,
        Material::Nickel => 200_000.0,
        Material::Bronze | Material::Brass => 105_000.0,
        Material::SilverPlatedCopper => 115_000.0,
        Material::Nylon => 5_000.0,
        Material::Fluorocarbon => 6_500.0,
        Material::Gut => 6_000.0,
    }
}

/// Least tensile strength in N/mm² (MPa) of a wire or filament of that diameter (mm).
///
/// # Source
/// Music wire: see [`music_wire`]. All others from memory, on the low side.
pub fn strength(material: Material, diameter: f64) -> f64 {
    match material {
        Material::Steel => music_wire(diameter),
        Material::Stainless => 0.75 * music_wire(diameter),
        Material::NickelPlated => 0.9 * music_wire(diameter),
        Material::Nickel | Material::Bronze | Material::Brass => 700.0,
        Material::SilverPlatedCopper => 350.0,
        Material::Nylon => 600.0,
        Material::Fluorocarbon => 650.0,
        Material::Gut => 350.0,
    }
}

/// Diameter in inches and least tensile strength in ksi of music wire.
///
/// # Source
/// ASTM A228, table of tensile requirements (read).
const A228: [(f64, f64); 12] = [
    (0.008, 399.0),
    (0.009, 393.0),
    (0.010, 387.0),
    (0.011, 382.0),
    (0.012, 377.0),
    (0.013, 373.0),
    (0.014, 369.0),
    (0.016, 362.0),
    (0.018, 356.0),
    (0.020, 350.0),
    (0.022, 345.0),
    (0.024, 341.0),
];

/// N/mm² in one ksi: 1000 lbf/in².
const MPA_PER_KSI: f64 = 6.894_757_293_168;
/// The exponent with which music wire gets weaker as it gets thicker.
///
/// # Source
/// The fit 2211 MPa · d^-0.145 (d in mm), within 1.5 % over the least values of ASTM A228.
const THICKER_IS_WEAKER: f64 = 0.145;

/// Least tensile strength of music wire of that diameter (mm), N/mm².
///
/// Between the diameters of ASTM A228's table by straight lines. Beyond its ends
/// (0.2 and 0.61 mm) it goes on from the last value with the power law S = A / d^m,
/// m = 0.145.
pub fn music_wire(diameter: f64) -> f64 {
    let inches = diameter / 25.4;
    let beyond = |(end, ksi): (f64, f64)| {
        let a = ksi * MPA_PER_KSI * end.powf(THICKER_IS_WEAKER);
        power_law(a, THICKER_IS_WEAKER, inches)
    };
    if inches <= A228[0].0 {
        return beyond(A228[0]);
    }
    for pair in A228.windows(2) {
        let ((d0, s0), (d1, s1)) = (pair[0], pair[1]);
        if inches <= d1 {
            return MPA_PER_KSI * (s0 + (s1 - s0) * (inches - d0) / (d1 - d0));
        }
    }
    beyond(A228[A228.len() - 1])
}

/// Tensile strength by the power law S = A / d^m.
pub fn power_law(a: f64, m: f64, diameter: f64) -> f64 {
    a / diameter.powf(m)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: music-wire tensile fit of the NCEES reference handbook, worked exam problem
    /// (read): A 2060, m 0.163, wire of 7.25 mm.
    #[test]
    fn the_power_law_of_a_worked_problem() {
        // printed to 1 MPa
        assert!((power_law(2060.0, 0.163, 7.25) - 1492.0).abs() <= 0.5);
    }

    #[test]
    fn music_wire_is_smooth_beyond_its_table() {
        for end in [0.008 * 25.4, 0.024 * 25.4] {
            let jump = music_wire(end * (1.0 - 1e-9)) - music_wire(end * (1.0 + 1e-9));
            // it falls by some 1 MPa per 1 % of diameter: 1e-9 of that is nothing
            assert!(jump.abs() < 1e-4, "{end}: {jump}");
        }
        assert!(music_wire(0.15) > music_wire(0.2) && music_wire(1.2) < music_wire(0.6));
    }
}
