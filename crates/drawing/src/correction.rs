//! The printer's own error, taken out by what its check bars really measure.

use overstand_core::design::Date;
use overstand_core::units::{LengthStyle, parse_length, show_number};

/// How well a bar is read against a steel rule, ± mm (common practice, no source).
pub const READING: f64 = 0.1;
/// The bar that is meant where no other is named, mm.
const USUAL_BAR: f64 = 100.0;
/// Most that a printer is off by itself; beyond it the page was fitted to the paper.
const MOST: f64 = 0.05;

/// A check bar, and what it measures on the print.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// What it measures, mm.
    pub measured: f64,
    /// What it should, mm.
    pub nominal: f64,
}

impl Bar {
    /// By how much a drawing must be stretched for this printer.
    pub fn factor(&self) -> f64 {
        self.nominal / self.measured
    }

    /// What remains uncertain over a length: the reading error grows with it. ± mm.
    pub fn remains(&self, length: f64) -> f64 {
        READING * length / self.nominal
    }
}

/// The correction of a printer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// Along the lower edge of the sheet as it is read.
    pub across: Bar,
    /// Along its left edge.
    pub up: Bar,
    /// The day on which the bars were measured: a printer changes with its paper and with
    /// time.
    pub on: Date,
}

/// Why bars give no correction.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CorrectionError {
    /// It cannot be read.
    #[error(
        "expected what the two bars measure, as 99.4x100.2, or with the bars' own lengths, as 188.9/190x240.6/240; found `{0}`"
    )]
    Unread(String),
    /// It is no printer's error.
    #[error(
        "a bar of {nominal} mm that measures {measured} mm is off by more than 5 %: print at 100 %, without fit to page, and measure again"
    )]
    TooFar {
        /// What it measures.
        measured: f64,
        /// What it should.
        nominal: f64,
    },
}

impl Correction {
    /// Reads `99.4x100.2` (bars of 100 mm) or `188.9/190x240.6/240`, as measured on a day.
    ///
    /// # Errors
    /// [`CorrectionError`].
    pub fn parse(text: &str, on: Date) -> Result<Self, CorrectionError> {
        let unread = || CorrectionError::Unread(text.chars().take(60).collect());
        let length = |text: &str| {
            parse_length(text, LengthStyle::Millimetres)
                .ok()
                .filter(|&length| length > 0.0)
                .ok_or_else(unread)
        };
        let bar = |text: &str| {
            let (measured, nominal) = match text.split_once('/') {
                Some((measured, nominal)) => (length(measured)?, length(nominal)?),
                None => (length(text)?, USUAL_BAR),
            };
            if (measured / nominal - 1.0).abs() > MOST {
                return Err(CorrectionError::TooFar { measured, nominal });
            }
            Ok(Bar { measured, nominal })
        };
        let (across, up) = text.split_once(['x', '×']).ok_or_else(unread)?;
        Ok(Self { across: bar(across)?, up: bar(up)?, on })
    }

    /// What remains uncertain over a length in the worse direction, ± mm.
    pub fn remains(&self, length: f64) -> f64 {
        self.across.remains(length).max(self.up.remains(length))
    }

    /// What stands on every page, for the longest length on it.
    pub fn says(&self, longest: f64) -> String {
        let bar = |bar: &Bar| {
            let measured = show_number(bar.measured, 1);
            if bar.nominal == USUAL_BAR {
                measured
            } else {
                format!("{measured} of {}", show_number(bar.nominal, 0))
            }
        };
        format!(
            "Corrected for bars that measured {} × {} mm on {}; ±{} mm remain over {} mm.",
            bar(&self.across),
            bar(&self.up),
            self.on,
            show_number(self.remains(longest), 2),
            show_number(longest, 0)
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parse(text: &str) -> Result<Correction, CorrectionError> {
        Correction::parse(text, Date::new(2026, 3, 31).unwrap())
    }

    #[test]
    fn bars_are_read_and_turned_into_factors() {
        let read = parse("99.4x100.2").unwrap();
        assert_eq!(read.across.factor(), 100.0 / 99.4);
        assert_eq!(read.up.factor(), 100.0 / 100.2);
        let long = parse("188.9/190 × 240.6/240").unwrap();
        assert_eq!((long.across.measured, long.across.nominal), (188.9, 190.0));
        // 0.1 mm read over 190 mm, carried on to 950 mm
        assert!((long.across.remains(950.0) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn nonsense_and_a_fitted_page_are_told_apart() {
        for text in
            ["", "99", "x", "99.4x", "ax100", "0x100", "-99x100", "99.4x100.2x100", "99/0x99"]
        {
            assert!(matches!(parse(text), Err(CorrectionError::Unread(_))), "{text}");
        }
        let fitted = parse("94.1x94.1").unwrap_err();
        assert!(fitted.to_string().contains("fit to page"), "{fitted}");
    }

    #[test]
    fn every_page_says_what_was_corrected_and_what_remains() {
        let says = parse("99.4x100.2").unwrap().says(174.0);
        assert_eq!(
            says,
            "Corrected for bars that measured 99.4 × 100.2 mm on 2026-03-31; ±0.17 mm remain over 174 mm."
        );
    }
}
