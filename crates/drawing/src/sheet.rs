//! The paper: its sizes, its margins, and what of it can be printed on.

use overstand_core::units::{LengthStyle, parse_length};

/// A size that has a name: width and height in mm, upright.
///
/// # Source
/// A and B: ISO 216. Letter, Legal, Tabloid and the ARCH sizes: ANSI/ASME Y14.1 and common
/// practice, in whole fractions of an inch.
pub const NAMED: [(&str, f64, f64); 15] = [
    ("A4", 210.0, 297.0),
    ("A3", 297.0, 420.0),
    ("A2", 420.0, 594.0),
    ("A1", 594.0, 841.0),
    ("A0", 841.0, 1189.0),
    ("B2", 500.0, 707.0),
    ("B1", 707.0, 1000.0),
    ("Letter", 215.9, 279.4),
    ("Legal", 215.9, 355.6),
    ("Tabloid", 279.4, 431.8),
    ("ARCH-A", 228.6, 304.8),
    ("ARCH-B", 304.8, 457.2),
    ("ARCH-C", 457.2, 609.6),
    ("ARCH-D", 609.6, 914.4),
    ("ARCH-E", 914.4, 1219.2),
];

/// Smallest and largest side of a sheet, and the longest piece of a roll, mm.
const SIDES: (f64, f64) = (120.0, 2000.0);
const LONGEST: f64 = 20_000.0;

/// What is printed on.
#[derive(Clone, Debug, PartialEq)]
pub enum Sheet {
    /// Single sheets, upright: width and height in mm.
    Cut {
        /// What it is called.
        name: String,
        /// The shorter way for a sheet that has a name.
        width: f64,
        /// The longer way for a sheet that has a name.
        height: f64,
    },
    /// A roll of this width, mm, cut off where the drawing ends.
    Roll {
        /// Across the paper.
        width: f64,
    },
}

impl Default for Sheet {
    fn default() -> Self {
        Self::Cut { name: "A4".to_owned(), width: 210.0, height: 297.0 }
    }
}

/// Which way a sheet lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Orientation {
    /// Whichever takes fewer sheets.
    #[default]
    Fewest,
    /// As its size is given.
    Portrait,
    /// Turned by a quarter.
    Landscape,
}

/// What stays blank at the four edges, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// At the left.
    pub left: f64,
    /// At the top.
    pub top: f64,
    /// At the right.
    pub right: f64,
    /// At the bottom.
    pub bottom: f64,
}

impl Margins {
    /// The same at all edges.
    pub fn all(width: f64) -> Self {
        Self { left: width, top: width, right: width, bottom: width }
    }
}

/// What cannot be printed on.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SheetError {
    /// A name that is none, or a size that cannot be read.
    #[error("there is no paper `{0}`, expected one of {names}, WIDTHxHEIGHT as 300x420mm, or roll610", names = names())]
    Unknown(String),
    /// Too small or too large to be paper.
    #[error("paper of {found} mm, expected {low} to {high} mm", low = SIDES.0, high = SIDES.1)]
    Size {
        /// The side.
        found: f64,
    },
}

fn names() -> String {
    NAMED.map(|(name, ..)| name).join(", ")
}

impl Sheet {
    /// Reads `A4`, `arch-d`, `300x420`, `12"x18"`, `roll610` or `roll36in`.
    ///
    /// # Errors
    /// [`SheetError`].
    pub fn parse(text: &str) -> Result<Self, SheetError> {
        let unknown = || SheetError::Unknown(text.chars().take(60).collect());
        let plain: String = text.to_lowercase().split_whitespace().collect();
        let named = NAMED
            .iter()
            .find(|(name, ..)| name.to_lowercase().replace('-', "") == plain.replace('-', ""));
        if let Some(&(name, width, height)) = named {
            return Ok(Self::Cut { name: name.to_owned(), width, height });
        }
        let side = |text: &str| {
            let found = parse_length(text, LengthStyle::Millimetres).ok().ok_or_else(unknown)?;
            if (SIDES.0..=SIDES.1).contains(&found) {
                Ok(found)
            } else {
                Err(SheetError::Size { found })
            }
        };
        if let Some(width) = plain.strip_prefix("roll") {
            return Ok(Self::Roll { width: side(width)? });
        }
        let (width, height) = plain.split_once(['x', '×']).ok_or_else(unknown)?;
        // a unit at the end counts for both sides
        let unit: String = height
            .chars()
            .skip_while(|sign| !(sign.is_alphabetic() || "\"″".contains(*sign)))
            .collect();
        let bare = |text: &str| text.ends_with(|sign: char| sign.is_ascii_digit());
        let width = if bare(width) { format!("{width}{unit}") } else { width.to_owned() };
        let (width, height) = (side(&width)?, side(height)?);
        Ok(Self::Cut { name: format!("{width} × {height} mm"), width, height })
    }

    /// What it is called.
    pub fn name(&self) -> String {
        match self {
            Self::Cut { name, .. } => name.clone(),
            Self::Roll { width } => format!("roll of {width} mm"),
        }
    }

    /// Margins that most printers can do: 10 mm, and 12.7 mm (half an inch) on paper in
    /// inches (common practice, no source).
    pub fn usual_margins(&self) -> Margins {
        let inches = match self {
            Self::Cut { name, .. } => {
                ["Letter", "Legal", "Tabloid"].contains(&name.as_str()) || name.starts_with("ARCH")
            }
            Self::Roll { .. } => false,
        };
        Margins::all(if inches { 12.7 } else { 10.0 })
    }

    /// Width and height as it lies, mm; a roll lies with its length to the right and is as
    /// long as it may become.
    pub fn size(&self, landscape: bool) -> (f64, f64) {
        match self {
            Self::Cut { width, height, .. } if landscape => (*height, *width),
            Self::Cut { width, height, .. } => (*width, *height),
            Self::Roll { width } => (LONGEST, *width),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn papers_are_read_by_name_size_and_roll() {
        assert_eq!(Sheet::parse("a4").unwrap().size(false), (210.0, 297.0));
        assert_eq!(Sheet::parse("a4").unwrap().size(true), (297.0, 210.0));
        assert_eq!(Sheet::parse("arch d").unwrap().name(), "ARCH-D");
        assert_eq!(Sheet::parse("300x420mm").unwrap().size(false), (300.0, 420.0));
        assert_eq!(Sheet::parse("12x18in").unwrap().size(false), (12.0 * 25.4, 18.0 * 25.4));
        assert_eq!(Sheet::parse("roll610").unwrap(), Sheet::Roll { width: 610.0 });
        assert_eq!(Sheet::parse("roll 36in").unwrap(), Sheet::Roll { width: 914.4 });
    }

    #[test]
    fn what_is_no_paper_is_refused_by_name() {
        for text in ["", "A9", "x", "300x", "axb", "roll", "rollx"] {
            assert!(matches!(Sheet::parse(text), Err(SheetError::Unknown(_))), "{text}");
        }
        for text in ["10x400", "300x2001", "roll5", "300x-420"] {
            assert!(matches!(Sheet::parse(text), Err(SheetError::Size { .. })), "{text}");
        }
    }

    /// ISO 216: each size of a row is the one before halved across, rounded down to a whole
    /// millimetre.
    #[test]
    fn each_a_size_is_the_larger_one_halved() {
        let row: Vec<_> =
            NAMED.iter().filter(|one| one.0.starts_with('A') && one.0.len() == 2).collect();
        for pair in row.windows(2) {
            let (small, large) = (pair[0], pair[1]);
            assert_eq!((small.2, small.1), (large.1, (large.2 / 2.0).floor()));
        }
    }
}
