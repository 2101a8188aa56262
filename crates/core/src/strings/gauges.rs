//! Common sets of strings (common practice, no source). Gauges are traditionally named in
//! inches; cores are what such strings usually have.

use crate::design::{CoreSection, Design, Material, StringMake, Wrap};
use crate::units::Length;

/// A set of strings.
#[derive(Clone, Copy, Debug)]
pub struct Set {
    /// What it is called: the instrument and its outer gauges.
    pub name: &'static str,
    /// Its strings, treble first.
    pub strings: &'static [Preset],
}

/// One string of a set.
#[derive(Clone, Copy, Debug)]
pub struct Preset {
    /// The note it is usually tuned to.
    pub note: &'static str,
    /// Its gauge in inches.
    pub inches: f64,
    /// How it is made.
    pub make: PresetMake,
}

/// How a string of a set is made.
#[derive(Clone, Copy, Debug)]
pub enum PresetMake {
    /// Plain.
    Plain(Material),
    /// Wound once on a hexagonal steel core of so many inches.
    Hexagonal(f64, Material),
    /// The same over an inner steel wrap of so many inches.
    Double(f64, f64, Material),
    /// Wound on a bundle of nylon filaments that fills so many mm.
    NylonCore(f64),
}

use PresetMake::{Double, Hexagonal, NylonCore, Plain};

const STEEL: PresetMake = Plain(Material::Steel);
const NYLON: PresetMake = Plain(Material::Nylon);

const fn preset(note: &'static str, inches: f64, make: PresetMake) -> Preset {
    Preset { note, inches, make }
}

/// Wound with nickel-plated steel.
const fn nickel(note: &'static str, inches: f64, core: f64) -> Preset {
    preset(note, inches, Hexagonal(core, Material::NickelPlated))
}

/// Wound with bronze.
const fn bronze(note: &'static str, inches: f64, core: f64) -> Preset {
    preset(note, inches, Hexagonal(core, Material::Bronze))
}

/// All sets.
pub const SETS: &[Set] = &[
    Set {
        name: "Electric six, 0.009–0.042",
        strings: &[
            preset("E4", 0.009, STEEL),
            preset("B3", 0.011, STEEL),
            preset("G3", 0.016, STEEL),
            nickel("D3", 0.024, 0.0130),
            nickel("A2", 0.032, 0.0145),
            nickel("E2", 0.042, 0.0160),
        ],
    },
    Set {
        name: "Electric six, 0.010–0.046",
        strings: &[
            preset("E4", 0.010, STEEL),
            preset("B3", 0.013, STEEL),
            preset("G3", 0.017, STEEL),
            nickel("D3", 0.026, 0.0140),
            nickel("A2", 0.036, 0.0155),
            nickel("E2", 0.046, 0.0165),
        ],
    },
    Set {
        name: "Electric six, 0.011–0.049",
        strings: &[
            preset("E4", 0.011, STEEL),
            preset("B3", 0.014, STEEL),
            preset("G3", 0.018, STEEL),
            nickel("D3", 0.028, 0.0145),
            nickel("A2", 0.038, 0.0160),
            nickel("E2", 0.049, 0.0175),
        ],
    },
    Set {
        name: "Electric seven, 0.010–0.059",
        strings: &[
            preset("E4", 0.010, STEEL),
            preset("B3", 0.013, STEEL),
            preset("G3", 0.017, STEEL),
            nickel("D3", 0.026, 0.0140),
            nickel("A2", 0.036, 0.0155),
            nickel("E2", 0.046, 0.0165),
            nickel("B1", 0.059, 0.0185),
        ],
    },
    Set {
        name: "Arched six, 0.012–0.052",
        strings: &[
            preset("E4", 0.012, STEEL),
            preset("B3", 0.016, STEEL),
            nickel("G3", 0.024, 0.0130),
            nickel("D3", 0.032, 0.0150),
            nickel("A2", 0.042, 0.0165),
            nickel("E2", 0.052, 0.0180),
        ],
    },
    Set {
        name: "Flat-top six, 0.012–0.053",
        strings: &[
            preset("E4", 0.012, STEEL),
            preset("B3", 0.016, STEEL),
            bronze("G3", 0.024, 0.0125),
            bronze("D3", 0.032, 0.0140),
            bronze("A2", 0.042, 0.0155),
            bronze("E2", 0.053, 0.0175),
        ],
    },
    Set {
        name: "Flat-top twelve, 0.010–0.047",
        strings: &[
            preset("E4", 0.010, STEEL),
            preset("E4", 0.010, STEEL),
            preset("B3", 0.014, STEEL),
            preset("B3", 0.014, STEEL),
            preset("G4", 0.008, STEEL),
            bronze("G3", 0.023, 0.0120),
            preset("D4", 0.012, STEEL),
            bronze("D3", 0.030, 0.0135),
            preset("A3", 0.018, STEEL),
            bronze("A2", 0.039, 0.0150),
            bronze("E3", 0.027, 0.0130),
            bronze("E2", 0.047, 0.0165),
        ],
    },
    Set {
        name: "Nylon six, 0.028–0.044",
        strings: &[
            preset("E4", 0.028, NYLON),
            preset("B3", 0.032, NYLON),
            preset("G3", 0.040, NYLON),
            preset("D3", 0.029, NylonCore(0.50)),
            preset("A2", 0.035, NylonCore(0.52)),
            preset("E2", 0.044, NylonCore(0.58)),
        ],
    },
    Set {
        name: "Bass four, 0.045–0.105",
        strings: &[
            preset("G2", 0.045, Hexagonal(0.0165, Material::NickelPlated)),
            preset("D2", 0.065, Hexagonal(0.0190, Material::NickelPlated)),
            preset("A1", 0.085, Double(0.0210, 0.010, Material::NickelPlated)),
            preset("E1", 0.105, Double(0.0240, 0.013, Material::NickelPlated)),
        ],
    },
    Set {
        name: "Bass five, 0.045–0.130",
        strings: &[
            preset("G2", 0.045, Hexagonal(0.0165, Material::NickelPlated)),
            preset("D2", 0.065, Hexagonal(0.0190, Material::NickelPlated)),
            preset("A1", 0.085, Double(0.0210, 0.010, Material::NickelPlated)),
            preset("E1", 0.105, Double(0.0240, 0.013, Material::NickelPlated)),
            preset("B0", 0.130, Double(0.0250, 0.018, Material::NickelPlated)),
        ],
    },
    Set {
        name: "Short four in fifths, 0.011–0.040",
        strings: &[
            preset("A4", 0.011, STEEL),
            preset("D4", 0.016, STEEL),
            bronze("G3", 0.026, 0.0125),
            bronze("C3", 0.040, 0.0150),
        ],
    },
];

impl Preset {
    /// The make as a design holds it.
    fn string_make(&self) -> StringMake {
        let wound = |core, section, core_material, wrap, inner| StringMake::Wound {
            core,
            section,
            core_material,
            wrap,
            inner,
        };
        match self.make {
            Plain(material) => StringMake::Plain { material },
            Hexagonal(core, wrap) => {
                let hexagonal = CoreSection::Hexagonal;
                wound(inches(core), hexagonal, Material::Steel, wrap, Vec::new())
            }
            Double(core, inner, wrap) => {
                let inner = Wrap { wire: inches(inner), material: Material::Steel };
                wound(inches(core), CoreSection::Hexagonal, Material::Steel, wrap, vec![inner])
            }
            NylonCore(core) => {
                let silvered = Material::SilverPlatedCopper;
                let core = Length::mm(core);
                wound(core, CoreSection::Round, Material::Nylon, silvered, Vec::new())
            }
        }
    }
}

/// Plain wire made into a wound string of the same gauge and sort: steel on a hexagonal
/// core, filament on a bundle of filaments. The core is as thick as those of the sets above,
/// which follow 0.0030 in · (gauge in thousandths)^0.45 within a seventh (common practice, no
/// source).
pub fn wound(gauge: Length, of: Material) -> StringMake {
    const CORE: f64 = 0.0030;
    const GROWS: f64 = 0.45;
    let thousandths = 1000.0 * gauge.to_inches();
    let (core, section, core_material, wrap) = match of {
        Material::Nylon | Material::Fluorocarbon | Material::Gut => {
            (gauge.to_mm() / 2.0, CoreSection::Round, of, Material::SilverPlatedCopper)
        }
        _ => {
            let core = Length::inches(CORE * thousandths.powf(GROWS)).to_mm();
            // a thin string keeps room for its wrap on the corners
            let most = gauge.to_mm() / 2.0;
            (core.min(most), CoreSection::Hexagonal, Material::Steel, Material::NickelPlated)
        }
    };
    let core = Length::mm((core * 100.0).floor() / 100.0);
    StringMake::Wound { core, section, core_material, wrap, inner: Vec::new() }
}

/// A length in inches, in mm to the fourth decimal, as it stands in a file.
fn inches(inches: f64) -> Length {
    Length::mm((Length::inches(inches).to_mm() * 1e4).round() / 1e4)
}

impl Set {
    /// Whether it has as many strings as a design.
    pub fn fits(&self, design: &Design) -> bool {
        self.strings.len() == design.strings.len()
    }

    /// Strings a design with it, notes included. Nothing happens to a design of another
    /// number of strings.
    pub fn put_on(&self, design: &mut Design) {
        if !self.fits(design) {
            return;
        }
        for (string, preset) in design.strings.iter_mut().zip(self.strings) {
            string.note = preset.note.parse().ok();
            string.gauge = Some(inches(preset.inches));
            string.make = preset.string_make();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::strings::Wire;

    /// Every string of every set can be made, is in tune within its strength, and pulls what
    /// such strings pull on the scales they are made for.
    #[test]
    fn every_set_can_be_strung() {
        for set in SETS {
            let scale = match set.strings.len() {
                _ if set.name.starts_with("Bass") => 864.0,
                4 => 430.0,
                _ => 640.0,
            };
            for preset in set.strings {
                let mut design = crate::testing::worked_example();
                let string = &mut design.strings[0];
                string.note = preset.note.parse().ok();
                string.gauge = Some(inches(preset.inches));
                string.make = preset.string_make();
                let hertz = string.note.unwrap().hertz();
                let wire = Wire::of(string).unwrap();
                let pull = wire.tension(scale, hertz);
                let load = pull / wire.section / wire.strength;
                let at = format!(
                    "{}, {} {}: {pull:.1} N, {load:.2}",
                    set.name, preset.note, preset.inches
                );
                assert_eq!(design.faults(), vec![], "{at}");
                // wide enough for light electric and for bass strings
                assert!((35.0..=260.0).contains(&pull), "{at}");
                assert!((0.05..0.75).contains(&load), "{at}");
            }
        }
    }

    /// The rule for cores against the cores of the sets it was taken from.
    #[test]
    fn a_plain_string_is_made_a_wound_one() {
        for preset in SETS.iter().flat_map(|set| set.strings) {
            let gauge = inches(preset.inches);
            if let Hexagonal(core, _) | Double(core, ..) = preset.make {
                let StringMake::Wound { core: found, .. } = wound(gauge, Material::Steel) else {
                    panic!("it is not wound");
                };
                let is = found.to_inches();
                assert!((is / core - 1.0).abs() < 0.15, "{}: {is} not {core}", preset.inches);
            }
        }
        for thousandths in [8.0, 12.0, 20.0, 60.0, 130.0] {
            for material in Material::ALL {
                let mut design = crate::testing::worked_example();
                let gauge = inches(thousandths / 1000.0);
                design.strings[0].gauge = Some(gauge);
                design.strings[0].make = wound(gauge, material);
                assert_eq!(design.faults(), vec![], "{thousandths} of {material:?}");
            }
        }
    }

    #[test]
    fn a_set_of_another_number_of_strings_is_not_put_on() {
        let before = crate::testing::worked_example();
        let mut design = before.clone();
        let bass = SETS.iter().find(|set| set.name.starts_with("Bass")).unwrap();
        bass.put_on(&mut design);
        assert_eq!(design, before);
        SETS[1].put_on(&mut design);
        assert!(design.strings.iter().all(|string| string.note.is_some()));
    }
}
