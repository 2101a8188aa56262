//! How colours are seen by eyes that lack one kind of cone.

#![allow(dead_code, unreachable_pub, reason = "shared by tests that each use their own part of it")]

use egui::Color32;

/// Eyes: with all three kinds of cone, or without one of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Eyes {
    All,
    NoRed,
    NoGreen,
    NoBlue,
}

impl Eyes {
    pub const ALL: [Self; 4] = [Self::All, Self::NoRed, Self::NoGreen, Self::NoBlue];

    /// Their name in medicine.
    pub fn name(self) -> &'static str {
        match self {
            Self::All => "all cones",
            Self::NoRed => "protanopia",
            Self::NoGreen => "deuteranopia",
            Self::NoBlue => "tritanopia",
        }
    }

    /// From linear RGB to the linear RGB that is seen: G. M. Machado, M. M. Oliveira,
    /// L. A. F. Fernandes, "A physiologically-based model for simulation of color vision
    /// deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), at
    /// full severity; the figures from memory. Each row adds up to 1: grey stays grey.
    fn matrix(self) -> [[f64; 3]; 3] {
        match self {
            Self::All => [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            Self::NoRed => [
                [0.152_286, 1.052_583, -0.204_868],
                [0.114_503, 0.786_281, 0.099_216],
                [-0.003_882, -0.048_116, 1.051_998],
            ],
            Self::NoGreen => [
                [0.367_322, 0.860_646, -0.227_968],
                [0.280_085, 0.672_501, 0.047_413],
                [-0.011_820, 0.042_940, 0.968_881],
            ],
            Self::NoBlue => [
                [1.255_528, -0.076_749, -0.178_779],
                [-0.078_411, 0.930_809, 0.147_602],
                [0.004_733, 0.691_367, 0.303_900],
            ],
        }
    }

    /// A colour as these eyes see it.
    pub fn see(self, colour: Color32) -> Color32 {
        let from = [colour.r(), colour.g(), colour.b()].map(light);
        let seen = self.matrix().map(|row| {
            let light: f64 = row.iter().zip(from).map(|(part, light)| part * light).sum();
            channel(light)
        });
        Color32::from_rgb(seen[0], seen[1], seen[2])
    }
}

/// Light of a channel of sRGB (IEC 61966-2-1), with the threshold of WCAG 2.2.
pub fn light(value: u8) -> f64 {
    let c = f64::from(value) / 255.0;
    if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
}

/// The channel that gives a light; the nearest there is where none does.
fn channel(light: f64) -> u8 {
    let c =
        if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
    (c.clamp(0.0, 1.0) * 255.0).round() as u8
}
