use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::units::Length;

/// How far a dimension has come from paper to wood.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Provenance {
    /// Only on paper: it may still change.
    #[default]
    Planned,
    /// Bought or cut, not measured since.
    Made,
    /// Measured.
    Measured {
        /// The day.
        on: Date,
        /// Reading error, ± in mm (degrees for an angle).
        error: f64,
    },
}

/// A day of the calendar, written year-month-day (ISO 8601).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// A day of the Gregorian calendar, or none if there is no such day.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let leap =
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => return None,
        };
        let known = (1583..=9999).contains(&year) && (1..=days).contains(&day);
        known.then_some(Self { year, month, day })
    }

    /// The day so many days after 1 January 1970, as far as the calendar of a design
    /// reaches.
    ///
    /// # Source
    /// H. Hinnant, *chrono-Compatible Low-Level Date Algorithms* (from memory).
    pub fn of_day(days: u64) -> Option<Self> {
        let shifted = days.checked_add(719_468)?;
        let (era, of_era) = (shifted / 146_097, shifted % 146_097);
        let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
        let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * of_year + 2) / 153;
        let day = of_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        let year = u16::try_from(year_of_era + era * 400 + u64::from(month <= 2)).ok()?;
        Self::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?)
    }

    /// Year, month and day.
    pub fn parts(self) -> (u16, u8, u8) {
        (self.year, self.month, self.day)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// A text that is not a day of the calendar.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("expected a date as 2026-03-31, found `{0}`")]
pub struct NotADate(String);

impl FromStr for Date {
    type Err = NotADate;

    fn from_str(text: &str) -> Result<Self, NotADate> {
        let refuse = || NotADate(text.chars().take(40).collect());
        let shape = text.len() == 10
            && text.bytes().enumerate().all(|(i, byte)| {
                if i == 4 || i == 7 { byte == b'-' } else { byte.is_ascii_digit() }
            });
        if !shape {
            return Err(refuse());
        }
        let number = |range: std::ops::Range<usize>| text[range].parse::<u16>().ok();
        let (year, month, day) = (number(0..4), number(5..7), number(8..10));
        year.zip(month)
            .zip(day)
            .and_then(|((y, m), d)| Self::new(y, u8::try_from(m).ok()?, u8::try_from(d).ok()?))
            .ok_or_else(refuse)
    }
}

crate::design::kept_as_text!(Date);

/// Largest believable reading error of a length, mm.
pub(super) const LARGEST_READING_ERROR: Length = Length::mm(10.0);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_those_of_the_calendar() {
        for (days, date) in [
            (0, "1970-01-01"),
            (59, "1970-03-01"),
            (11_016, "2000-02-29"),
            (19_782, "2024-02-29"),
            (20_543, "2026-03-31"),
        ] {
            assert_eq!(Date::of_day(days).unwrap().to_string(), date);
        }
        assert_eq!(Date::of_day(u64::MAX / 86_400), None);
        assert_eq!(Date::of_day(u64::MAX), None);
    }

    #[test]
    fn only_days_of_the_calendar() {
        for good in ["2026-03-31", "2024-02-29", "2000-02-29"] {
            assert_eq!(good.parse::<Date>().unwrap().to_string(), good);
        }
        for bad in
            ["", "2026-3-31", "2026-02-30", "1900-02-29", "2026-13-01", "2026-00-10", "20é6-01-1"]
        {
            assert!(bad.parse::<Date>().is_err(), "{bad} was taken for a date");
        }
    }
}
