//! Why there are no sheets.

use std::fmt;

use overstand_core::sentence::lower;
use overstand_core::units::{LengthStyle, show_length, show_length_parts};

use super::{LEAST, OVERLAPS};

/// Why there are no sheets. Written out it speaks in millimetres; [`PaperError::says`] takes
/// other units.
#[derive(Clone, Debug, PartialEq)]
pub enum PaperError {
    /// Nothing can be drawn, or none of the chosen parts fits this design.
    Nothing(String),
    /// A margin that is none.
    Margin(f64),
    /// Too little is left between the margins.
    NoRoom {
        /// The paper.
        sheet: String,
        /// What is left of it.
        width: f64,
        /// What is left of it.
        height: f64,
    },
    /// An overlap that is none.
    Overlap(f64),
    /// A roll, or paper that is too small for sheets of words.
    NoSheet {
        /// What was to be laid out: `cut sheet`, `compare sheet`, `fitting log`.
        what: &'static str,
        /// The paper.
        sheet: String,
    },
    /// A roll is not tiled.
    Roll {
        /// The part.
        part: &'static str,
        /// Its height.
        found: f64,
        /// What there is.
        room: f64,
        /// The roll.
        sheet: String,
    },
}

impl PaperError {
    /// What it says, with lengths in the style that is asked for.
    pub fn says(&self, lengths: LengthStyle) -> String {
        // whole millimetres as they are typed, without decimals
        let digits = |mm: f64| usize::from(mm.fract() != 0.0);
        let one = |mm: f64| match mm.is_finite() {
            true => show_length(mm, digits(mm), lengths),
            false => format!("{mm} mm"),
        };
        // two lengths with the unit said once
        let two = |first: f64, between: &str, second: f64, digits: usize| {
            let (number, _) = show_length_parts(first, digits, lengths);
            format!("{number} {between} {}", show_length(second, digits, lengths))
        };
        match self {
            Self::Nothing(why) => format!("there is nothing to print: {}", lower(why)),
            Self::Margin(margin) => {
                format!("margin of {}, expected {}", one(*margin), two(0.0, "to", 100.0, 0))
            }
            Self::NoRoom { sheet, width, height } => format!(
                "between the margins {} are left of {sheet}, expected at least {} for the check bars",
                two(*width, "×", *height, 1),
                two(LEAST.0, "×", LEAST.1, 0)
            ),
            Self::Overlap(overlap) => {
                let expected = two(OVERLAPS.0, "to", OVERLAPS.1, 0);
                format!("overlap of {}, expected {expected}", one(*overlap))
            }
            Self::NoSheet { what, sheet } => {
                format!("no {what} fits on {sheet}, expected single sheets such as A4 or Letter")
            }
            Self::Roll { part, found, room, sheet } => format!(
                "`{part}` is {} high, more than the {} that can be printed across the {sheet}: expected a wider roll, or sheets",
                show_length(*found, 0, lengths),
                show_length(*room, 0, lengths)
            ),
        }
    }
}

impl fmt::Display for PaperError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.says(LengthStyle::Millimetres))
    }
}

impl std::error::Error for PaperError {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_said_as_they_are_typed() {
        let inches = LengthStyle::InchDecimal;
        assert_eq!(PaperError::Margin(120.0).to_string(), "margin of 120 mm, expected 0 to 100 mm");
        assert!(
            PaperError::Margin(127.0)
                .says(inches)
                .starts_with("margin of 5.00 in, expected 0.00 to ")
        );
        let (sheet, part) = ("Roll 610 mm".to_owned(), "Neck");
        let errors = [
            PaperError::NoRoom { sheet: sheet.clone(), width: 10.0, height: 20.0 },
            PaperError::Overlap(300.0),
            PaperError::Roll { part, found: 700.0, room: 600.0, sheet: "roll".to_owned() },
        ];
        for error in errors {
            let says = error.says(inches).replace(&sheet, "");
            assert!(says.contains(" in") && !says.contains(" mm"), "{says}");
        }
    }
}
