//! Prints lengths, angles and numbers for screens, paper and the command line.

use serde::{Deserialize, Serialize};

use super::MM_PER_INCH;

/// The minus of all that is shown: as wide and as high as the plus. A hyphen is read too
/// where a number is typed.
const MINUS: &str = "\u{2212}";

/// Stands in place of a number that does not exist.
const NO_NUMBER: &str = "–";

/// More decimals than this are never printed; an `f64` has no more to say.
const MAX_DIGITS: usize = 12;

/// The finest fraction of an inch on a bench rule.
const FRACTIONS_PER_INCH: u64 = 64;

/// The longest length printed as a fraction, in mm; any longer is no dimension
/// of an instrument.
const MAX_FRACTION_MM: f64 = 1e9;

/// From so many decimals of a millimetre on, lengths are not written in fractions: the
/// nearest 64th is too coarse for most of them, and those that one fits would stand among
/// the decimals of the others.
const FINE_DIGITS: usize = 2;

/// How lengths are written, and the unit a bare number typed in a field has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum LengthStyle {
    /// `22.8 mm`.
    #[default]
    Millimetres,
    /// `0.898 in`: one decimal more than in millimetres, so that hundredths of
    /// a millimetre become thousandths of an inch.
    InchDecimal,
    /// `24 3/4 in`: the nearest 64th of an inch, reduced.
    ///
    /// A fraction that is not the length, within half the last decimal asked
    /// for in millimetres, has the mark ≈ before it: `≈24 23/32 in`. Where
    /// hundredths of a millimetre count (two decimals or more) the length is
    /// written as [`Self::InchDecimal`] does, be it a 64th or not: what stands
    /// in one table is written in one way.
    InchFraction,
}

impl LengthStyle {
    /// Whether a bare number is in inches.
    pub const fn is_inch(self) -> bool {
        match self {
            Self::Millimetres => false,
            Self::InchDecimal | Self::InchFraction => true,
        }
    }
}

/// How angles are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum AngleStyle {
    /// `3.00°`.
    #[default]
    DecimalDegrees,
    /// `2°45′`: whole minutes up to two decimals of a degree, then one decimal
    /// of a minute for each further one.
    DegreesMinutes,
    /// `1:19.1`: a rise of 1 over a run of 19.1, or `1.732:1` where it is steeper
    /// than 45°, with as many decimals as the angle carries.
    ///
    /// Level is `0:1`. A slope cannot name a right angle or more; those are
    /// written in decimal degrees.
    Rise,
}

/// A text whose numbers keep their unit when its lines are broken: a no-break space (U+00A0)
/// stands between them. Only for what is laid out in lines; what is searched, copied or piped
/// has plain spaces.
///
/// ```
/// use overstand_core::units::unbroken;
///
/// assert_eq!(unbroken("22.8 mm or 24 3/4 in high"), "22.8\u{a0}mm or 24\u{a0}3/4\u{a0}in high");
/// assert_eq!(unbroken("take 2 in all, or 5 instead"), "take 2\u{a0}in all, or 5 instead");
/// ```
pub fn unbroken(text: &str) -> String {
    let is_number = |word: &str| word.ends_with(|last: char| last.is_ascii_digit());
    let ends = |c: char| !c.is_alphanumeric() && !matches!(c, '%' | '/' | '²');
    let is_unit = |word: &str| {
        matches!(word.trim_end_matches(ends), "mm" | "in" | "N" | "Hz" | "%" | "N/mm²" | "cents")
    };
    let is_fraction = |word: &str| {
        let parts = word.trim_end_matches(ends).split_once('/');
        parts.is_some_and(|(over, under)| {
            [over, under]
                .iter()
                .all(|part| !part.is_empty() && part.bytes().all(|c| c.is_ascii_digit()))
        })
    };
    let mut kept = String::with_capacity(text.len() + 8);
    let mut before = "";
    for (index, word) in text.split(' ').enumerate() {
        if index > 0 {
            let holds = is_number(before) && (is_unit(word) || is_fraction(word));
            kept.push(if holds { '\u{a0}' } else { ' ' });
        }
        kept.push_str(word);
        before = word;
    }
    kept
}

/// A length with its unit: `22.8 mm`, `0.898 in`, `24 3/4 in`.
///
/// `mm` is in millimetres and `digits` the number of decimals that mean
/// something in millimetres. A length that is not finite is `–`.
///
/// ```
/// use overstand_core::units::{LengthStyle, show_length};
///
/// assert_eq!(show_length(22.775593, 1, LengthStyle::Millimetres), "22.8 mm");
/// assert_eq!(show_length(22.8, 2, LengthStyle::InchDecimal), "0.898 in");
/// assert_eq!(show_length(628.65, 1, LengthStyle::InchFraction), "24 3/4 in");
/// assert_eq!(show_length(f64::NAN, 1, LengthStyle::Millimetres), "–");
/// ```
pub fn show_length(mm: f64, digits: usize, style: LengthStyle) -> String {
    match show_length_parts(mm, digits, style) {
        (number, "") => number,
        (number, unit) => format!("{number} {unit}"),
    }
}

/// What [`show_length`] prints, with number and unit apart; the unit of a
/// length that is not finite is empty.
pub fn show_length_parts(mm: f64, digits: usize, style: LengthStyle) -> (String, &'static str) {
    if !mm.is_finite() {
        return (NO_NUMBER.to_owned(), "");
    }
    let number = match style {
        LengthStyle::Millimetres => return (show_number(mm, digits), "mm"),
        LengthStyle::InchDecimal => None,
        LengthStyle::InchFraction => inch_fraction(mm, digits),
    };
    let number = number.unwrap_or_else(|| show_number(mm / MM_PER_INCH, inch_digits(digits)));
    (number, "in")
}

/// Decimals of an inch that carry about what so many decimals of a millimetre do: one
/// decimal of a millimetre needs three of an inch, two fare with three as well, as
/// gauges at the bench read in thousandths.
fn inch_digits(mm_digits: usize) -> usize {
    mm_digits.saturating_add(if mm_digits < 2 { 2 } else { 1 })
}

/// An angle with its unit: `3.00°`, `2°45′`, `1:19.1`.
///
/// `degrees` is in degrees and `digits` the number of decimals that mean
/// something in degrees. An angle that is not finite is `–`.
///
/// ```
/// use overstand_core::units::{AngleStyle, show_angle};
///
/// assert_eq!(show_angle(3.0, 2, AngleStyle::DecimalDegrees), "3.00°");
/// assert_eq!(show_angle(2.75, 2, AngleStyle::DegreesMinutes), "2°45′");
/// assert_eq!(show_angle(3.0, 2, AngleStyle::Rise), "1:19.1");
/// ```
pub fn show_angle(degrees: f64, digits: usize, style: AngleStyle) -> String {
    let (number, unit) = show_angle_parts(degrees, digits, style);
    number + unit
}

/// What [`show_angle`] prints, with number and unit apart; the unit is empty
/// where the number holds its own signs.
pub fn show_angle_parts(degrees: f64, digits: usize, style: AngleStyle) -> (String, &'static str) {
    if !degrees.is_finite() {
        return (NO_NUMBER.to_owned(), "");
    }
    let digits = digits.min(MAX_DIGITS);
    let number = match style {
        AngleStyle::DecimalDegrees => None,
        AngleStyle::DegreesMinutes => Some(degrees_minutes(degrees, digits)),
        AngleStyle::Rise => rise(degrees, digits),
    };
    match number {
        Some(number) => (number, ""),
        None => (show_number(degrees, digits), "°"),
    }
}

/// A number with so many decimals, at most 12, and a minus sign (U+2212) before one below
/// zero; never `−0.0`, and `–` if it is not finite.
///
/// ```
/// use overstand_core::units::show_number;
///
/// assert_eq!(show_number(2.5, 2), "2.50");
/// assert_eq!(show_number(-2.5, 1), "−2.5");
/// assert_eq!(show_number(-0.04, 1), "0.0");
/// ```
pub fn show_number(number: f64, digits: usize) -> String {
    if !number.is_finite() {
        return NO_NUMBER.to_owned();
    }
    let digits = digits.min(MAX_DIGITS);
    let text = format!("{number:.digits$}");
    match text.strip_prefix('-') {
        Some(size) if !size.contains(|c: char| matches!(c, '1'..='9')) => size.to_owned(),
        Some(size) => format!("{MINUS}{size}"),
        None => text,
    }
}

/// The sign before a size.
const fn sign(is_below_zero: bool) -> &'static str {
    if is_below_zero { MINUS } else { "" }
}

/// The same with a plus before a number above zero: a difference, or a change.
///
/// ```
/// use overstand_core::units::show_signed;
///
/// assert_eq!(show_signed(2.5, 1), "+2.5");
/// assert_eq!(show_signed(-2.5, 1), "−2.5");
/// assert_eq!(show_signed(0.04, 1), "0.0");
/// ```
pub fn show_signed(number: f64, digits: usize) -> String {
    let text = show_number(number, digits);
    let counts = text.contains(|c: char| matches!(c, '1'..='9'));
    if number > 0.0 && number.is_finite() && counts { format!("+{text}") } else { text }
}

/// A number with all the digits it has, as it was typed, for a message that says what is
/// wrong with it: one that is not finite is named.
///
/// ```
/// use overstand_core::units::show_plain;
///
/// assert_eq!(show_plain(-8.0), "−8");
/// assert_eq!(show_plain(0.125), "0.125");
/// ```
pub fn show_plain(number: f64) -> String {
    format!("{}{}", sign(number < 0.0), number.abs())
}

/// A length as the nearest 64th of an inch, or nothing where it is written in decimals.
fn inch_fraction(mm: f64, digits: usize) -> Option<String> {
    if digits >= FINE_DIGITS || mm.abs() > MAX_FRACTION_MM {
        return None;
    }
    let steps_per_mm = FRACTIONS_PER_INCH as f64 / MM_PER_INCH;
    let steps = (mm.abs() * steps_per_mm).round();
    let off_mm = (mm.abs() - steps / steps_per_mm).abs();
    // The width of a rounding error keeps a length typed as a fraction exact.
    let exact = off_mm <= half_last_digit(digits) + 1e-9;

    let mark = if exact { "" } else { "≈" };
    let steps = steps as u64;
    let sign = sign(mm < 0.0 && steps > 0);
    let inches = steps / FRACTIONS_PER_INCH;
    let rest = steps % FRACTIONS_PER_INCH;
    if rest == 0 {
        return Some(format!("{mark}{sign}{inches}"));
    }
    // A denominator of 64 has no factor but two.
    let halvings = rest.trailing_zeros();
    let (over, under) = (rest >> halvings, FRACTIONS_PER_INCH >> halvings);
    Some(if inches == 0 {
        format!("{mark}{sign}{over}/{under}")
    } else {
        format!("{mark}{sign}{inches} {over}/{under}")
    })
}

/// Degrees and minutes, the minutes rounded first so that none ever reach 60.
fn degrees_minutes(degrees: f64, digits: usize) -> String {
    let minute_digits = digits.saturating_sub(2);
    let per_minute = 10_f64.powi(minute_digits as i32);
    let steps = (degrees.abs() * 60.0 * per_minute).round();
    let sign = sign(degrees < 0.0 && steps > 0.0);
    let whole = (steps / (60.0 * per_minute)).floor();
    let minutes = (steps - whole * 60.0 * per_minute) / per_minute;
    let width = if minute_digits == 0 { 2 } else { minute_digits + 3 };
    format!("{sign}{whole:.0}°{minutes:0width$.minute_digits$}′")
}

/// Rise over run with the smaller of the two as 1, or nothing from a right
/// angle on.
fn rise(degrees: f64, digits: usize) -> Option<String> {
    let size = degrees.abs();
    let smallest = half_last_digit(digits);
    if size < smallest {
        return Some("0:1".to_owned());
    }
    if size > 90.0 - smallest {
        return None;
    }
    let tangent = size.to_radians().tan();
    let ratio = tangent.max(1.0 / tangent);
    // One last decimal of the angle, in the ratio: d(1/tan θ) = -dθ / sin² θ,
    // and 1 / sin² θ = 1 + ratio².
    let step = 2.0 * smallest.to_radians() * (1.0 + ratio * ratio);
    let decimals = (-step.log10()).round().clamp(0.0, MAX_DIGITS as f64) as usize;
    let sign = sign(degrees < 0.0);
    let ratio_text = show_number(ratio, decimals);
    Some(if tangent > 1.0 {
        format!("{sign}{ratio_text}:1")
    } else {
        format!("{sign}1:{ratio_text}")
    })
}

/// Half a step of the last decimal, in the unit the decimals are of.
fn half_last_digit(digits: usize) -> f64 {
    0.5 * 10_f64.powi(-(digits.min(MAX_DIGITS) as i32))
}

#[cfg(test)]
mod tests {
    use super::*;
    use AngleStyle::{DecimalDegrees, DegreesMinutes, Rise};
    use LengthStyle::{InchDecimal, InchFraction, Millimetres};

    #[track_caller]
    fn length(mm: f64, digits: usize, style: LengthStyle, expected: &str) {
        assert_eq!(show_length(mm, digits, style), expected);
    }

    #[track_caller]
    fn angle(degrees: f64, digits: usize, style: AngleStyle, expected: &str) {
        assert_eq!(show_angle(degrees, digits, style), expected);
    }

    #[test]
    fn millimetres() {
        length(22.775593, 1, Millimetres, "22.8 mm");
        length(22.775593, 3, Millimetres, "22.776 mm");
        length(628.0, 0, Millimetres, "628 mm");
        length(-1.25, 2, Millimetres, "−1.25 mm");
    }

    #[test]
    fn inches_with_decimals() {
        length(22.8, 2, InchDecimal, "0.898 in");
        length(25.4, 1, InchDecimal, "1.000 in");
        length(-25.4, 0, InchDecimal, "−1.00 in");
    }

    #[test]
    fn inches_with_fractions() {
        length(628.65, 1, InchFraction, "24 3/4 in");
        length(628.0, 1, InchFraction, "≈24 23/32 in");
        length(19.05, 1, InchFraction, "3/4 in");
        length(25.4 / 64.0, 1, InchFraction, "1/64 in");
        length(63.0 / 64.0 * 25.4, 1, InchFraction, "63/64 in");
        length(-19.05, 1, InchFraction, "−3/4 in");
        length(-628.65, 1, InchFraction, "−24 3/4 in");
        length(647.7, 1, InchFraction, "25 1/2 in");
        length(0.0, 1, InchFraction, "0 in");
        length(-0.15, 1, InchFraction, "≈0 in");
        // 24 in and 127.9/128
        length(634.99, 0, InchFraction, "25 in");
    }

    #[test]
    fn fine_lengths_are_written_in_decimals() {
        length(0.14, 2, InchFraction, "0.006 in");
        length(1.8, 2, InchFraction, "0.071 in");
        // 64ths too
        length(628.65, 2, InchFraction, "24.750 in");
        length(25.4 / 64.0, 3, InchFraction, "0.0156 in");
        length(1e30, 0, InchFraction, &show_length(1e30, 0, InchDecimal));
    }

    #[test]
    fn degrees() {
        angle(3.0, 2, DecimalDegrees, "3.00°");
        angle(-2.5, 1, DecimalDegrees, "−2.5°");
    }

    #[test]
    fn degrees_and_minutes() {
        angle(2.75, 2, DegreesMinutes, "2°45′");
        angle(3.0, 2, DegreesMinutes, "3°00′");
        angle(2.9999, 2, DegreesMinutes, "3°00′");
        angle(-0.08, 2, DegreesMinutes, "−0°05′");
        angle(-0.001, 2, DegreesMinutes, "0°00′");
        angle(2.755, 3, DegreesMinutes, "2°45.3′");
        angle(2.1, 4, DegreesMinutes, "2°06.00′");
    }

    #[test]
    fn rise_over_run() {
        angle(3.0, 2, Rise, "1:19.1");
        angle(-3.0, 2, Rise, "−1:19.1");
        angle(0.5, 2, Rise, "1:115");
        angle(60.0, 2, Rise, "1.732:1");
        angle(0.0, 2, Rise, "0:1");
        angle(-0.001, 2, Rise, "0:1");
        angle(90.0, 2, Rise, "90.00°");
        angle(-120.0, 1, Rise, "−120.0°");
    }

    #[test]
    fn what_is_shown_can_be_typed_again() {
        use crate::units::{parse_angle, parse_length};
        for mm in [-1.7, -0.25 * 25.4, -33.3375, 12.0] {
            for style in [Millimetres, InchDecimal, InchFraction] {
                let text = show_length(mm, 1, style);
                let read = parse_length(&text, style).unwrap();
                // a 64th of an inch, or the last decimal
                assert!((read - mm).abs() < 0.5 * 25.4 / 64.0 + 1e-9, "{text} read as {read}");
                assert!(!text.contains('-') && text.contains(MINUS) == (mm < 0.0), "{text}");
            }
        }
        for degrees in [-0.5, -12.25, 3.0] {
            for style in [DecimalDegrees, DegreesMinutes, Rise] {
                let text = show_angle(degrees, 2, style);
                let read = parse_angle(&text).unwrap();
                // a ratio has its decimals by the nearest power of ten: up to √10 / 2 of 0.01°
                assert!((read - degrees).abs() < 0.016, "{text} read as {read}");
            }
        }
    }

    #[test]
    fn no_negative_zero() {
        for style in [Millimetres, InchDecimal, InchFraction] {
            for mm in [-0.0, -1e-9, -0.004] {
                let text = show_length(mm, 1, style);
                assert!(!text.contains(MINUS), "{text}");
            }
        }
        for style in [DecimalDegrees, DegreesMinutes, Rise] {
            let text = show_angle(-0.0, 2, style);
            assert!(!text.contains(MINUS), "{text}");
        }
    }

    #[test]
    fn what_is_not_finite_is_a_dash() {
        for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            for style in [Millimetres, InchDecimal, InchFraction] {
                length(number, 1, style, "–");
                assert_eq!(show_length_parts(number, 1, style), (NO_NUMBER.to_owned(), ""));
            }
            for style in [DecimalDegrees, DegreesMinutes, Rise] {
                angle(number, 2, style, "–");
            }
            assert_eq!(show_number(number, 2), "–");
        }
    }

    #[test]
    fn number_and_unit_apart() {
        let apart = |number: &str, unit| (number.to_owned(), unit);
        assert_eq!(show_length_parts(22.8, 1, Millimetres), apart("22.8", "mm"));
        assert_eq!(show_length_parts(628.65, 1, InchFraction), apart("24 3/4", "in"));
        assert_eq!(show_angle_parts(3.0, 2, DecimalDegrees), apart("3.00", "°"));
        assert_eq!(show_angle_parts(2.75, 2, DegreesMinutes), apart("2°45′", ""));
    }

    #[test]
    fn any_number_of_decimals_is_safe() {
        for digits in [0, 12, 400, usize::MAX] {
            for number in [f64::MAX, f64::MIN_POSITIVE, -1.0, 359.999_999] {
                for style in [Millimetres, InchDecimal, InchFraction] {
                    assert!(!show_length(number, digits, style).is_empty());
                }
                for style in [DecimalDegrees, DegreesMinutes, Rise] {
                    assert!(!show_angle(number, digits, style).is_empty());
                }
            }
        }
    }
}
