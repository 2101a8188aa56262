//! How meanings look on paper: colours, ISO 128 line widths and dashes, lettering.

use overstand_core::units::{AngleStyle, LengthStyle, Unit, show_angle, show_length, show_number};

use crate::scene::{Line, Material};

/// How a scene is turned into ink. Sizes are mm on the paper, colours `#rrggbb`.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// What it is drawn on; none leaves it blank.
    pub paper: Option<&'static str>,
    /// Lines and words.
    pub ink: &'static str,
    /// The range of the saddle, and ghosts.
    pub aside: &'static str,
    /// Fill of body wood; none leaves every material blank.
    pub fills: Option<Fills>,
    /// Width of a visible edge; all other lines are half as wide.
    pub visible: f64,
    /// Height of the lettering.
    pub lettering: f64,
    /// How lengths are written.
    pub lengths: LengthStyle,
    /// How angles are written.
    pub angles: AngleStyle,
}

/// The colour of each material.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fills {
    /// Body wood.
    pub body: &'static str,
    /// Neck wood.
    pub neck: &'static str,
    /// The board.
    pub board: &'static str,
    /// Metal.
    pub metal: &'static str,
    /// Nut and saddle.
    pub bone: &'static str,
}

impl Fills {
    /// The colour of a material.
    pub fn of(&self, material: Material) -> &'static str {
        match material {
            Material::Body => self.body,
            Material::Neck => self.neck,
            Material::Board => self.board,
            Material::Metal => self.metal,
            Material::Bone => self.bone,
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Pen {
    /// Its colour.
    pub colour: &'static str,
    /// Its width, mm.
    pub width: f64,
    /// Dash and gap by turns, mm; empty for a full line.
    pub dashes: Vec<f64>,
}

impl Look {
    /// Ink and quiet wood on white: for a printed elevation.
    pub fn paper() -> Self {
        Self {
            paper: None,
            ink: "#23211d",
            aside: "#5f5848",
            fills: Some(Fills {
                body: "#e9d7b8",
                neck: "#d9be93",
                board: "#6b4a36",
                metal: "#8c8f94",
                bone: "#fffdf5",
            }),
            visible: 0.5,
            lettering: 3.5,
            lengths: LengthStyle::Millimetres,
            angles: AngleStyle::DecimalDegrees,
        }
    }

    /// Blank wood that hides what lies behind it, and thin lines: for full size, where a line's
    /// own width counts and ink is saved. Capitals are so many mm high (ISO 3098: 1.8, 2.5,
    /// 3.5, 5 or 7).
    pub(crate) fn full_size(capitals: f64) -> Self {
        let blank = "#ffffff";
        Self {
            fills: Some(Fills {
                body: blank,
                neck: blank,
                board: blank,
                metal: blank,
                bone: blank,
            }),
            // the pair 0.35 and 0.18 of ISO 128
            visible: 0.35,
            lettering: capitals / crate::font::CAPITAL,
            ..Self::paper()
        }
    }

    /// Lines alone: for a template that is glued on and cut along.
    pub fn lines() -> Self {
        Self { fills: None, ..Self::paper() }
    }

    /// How a line is drawn.
    ///
    /// # Source
    /// ISO 128-2: narrow lines are half as wide as wide ones; dashes of 12 line widths with
    /// gaps of 3; chain lines of 24, 3, 0.5 and 3 line widths (from memory of the standard).
    pub fn pen(&self, line: Line) -> Pen {
        let narrow = self.visible / 2.0;
        let (colour, width, pattern): (_, _, &[f64]) = match line {
            Line::Visible => (self.ink, self.visible, &[]),
            Line::Hidden => (self.ink, narrow, &[12.0, 3.0]),
            Line::Centre => (self.ink, narrow, &[24.0, 3.0, 0.5, 3.0]),
            Line::Thin | Line::String => (self.ink, narrow, &[]),
            Line::Range => (self.aside, narrow, &[]),
            Line::Ghost => (self.aside, narrow, &[24.0, 3.0, 0.5, 3.0, 0.5, 3.0]),
        };
        Pen { colour, width, dashes: pattern.iter().map(|part| part * width).collect() }
    }

    /// A value with its unit and so many decimals.
    pub fn value(&self, value: f64, unit: Unit, digits: usize) -> String {
        match unit {
            Unit::Length => show_length(value, digits, self.lengths),
            Unit::Angle => show_angle(value, digits, self.angles),
            _ => show_number(value, digits),
        }
    }
}
