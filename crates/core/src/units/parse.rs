//! Reads lengths, angles and numbers as a maker types them.

use thiserror::Error;

use super::grammar::evaluate;
use super::show::LengthStyle;
use super::token::Wanted;
use super::{Expected, OutOfRange};

/// A text that is not a length, an angle or a number, and why.
///
/// Printed as ``at character 4: found `x`, expected a unit or an operator``,
/// where the first character is character 1.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("at character {}: found {found}, expected {expected}", .at + 1)]
pub struct ParseError {
    /// Where in the text, in characters from 0; a fault of the whole is at 0.
    pub at: usize,
    /// What stands there, or what the text comes to.
    pub found: String,
    /// What could stand there.
    pub expected: String,
}

impl ParseError {
    pub(super) fn new(at: usize, found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self { at, found: found.into(), expected: expected.into() }
    }
}

/// Reads a length, in millimetres.
///
/// The style gives the unit of a bare number: millimetres or inches. Units are
/// `mm`, `cm`, `m`, `in`, `"` and `ft`, in small or capital letters. Lengths are
/// added and subtracted, and multiplied and divided by numbers. A mark ≈ or ~
/// before the whole is passed over.
///
/// `24 3/4"` is twenty-four and three quarters. `24 - 3/4"` is a difference;
/// `24-3/4"` is refused, because it is written for the one and for the other.
///
/// # Errors
///
/// [`ParseError`] if the text is not a length, or one beyond
/// [`MAX_LENGTH_MM`](super::MAX_LENGTH_MM).
///
/// ```
/// use overstand_core::units::{LengthStyle, parse_length};
///
/// let mm = |text| parse_length(text, LengthStyle::Millimetres);
/// assert_eq!(mm("628,5"), Ok(628.5));
/// assert_eq!(mm("24 3/4 in"), Ok(628.65));
/// assert_eq!(mm("25 in + 3"), Ok(638.0));
/// assert_eq!(
///     mm("628x").unwrap_err().to_string(),
///     "at character 4: found `x`, expected a unit (mm, cm, m, in, ft) or an operator"
/// );
/// ```
pub fn parse_length(text: &str, style: LengthStyle) -> Result<f64, ParseError> {
    let inch = style.is_inch();
    let mm = evaluate(text, Wanted::Length { inch })?;
    Expected::LENGTH.check(mm).map_err(too_large)
}

/// Reads an angle, in degrees.
///
/// A bare number is in degrees. Units are `°` or `deg`, `′` or `min`, `″` or
/// `sec`, and `rad`; straight strokes do for ′ and ″. Minutes and seconds follow
/// whole degrees without a plus. `1:20` is a rise of 1 over a run of 20; both
/// may be lengths.
///
/// # Errors
///
/// [`ParseError`] if the text is not an angle, or one beyond
/// [`MAX_ANGLE_DEG`](super::MAX_ANGLE_DEG).
///
/// ```
/// use overstand_core::units::parse_angle;
///
/// assert_eq!(parse_angle("2°45'"), Ok(2.75));
/// assert_eq!(parse_angle("3° - 15'"), Ok(2.75));
/// assert!((parse_angle("1:20")? - 2.862405).abs() < 1e-6);
/// # Ok::<(), overstand_core::units::ParseError>(())
/// ```
pub fn parse_angle(text: &str) -> Result<f64, ParseError> {
    let degrees = evaluate(text, Wanted::Angle)?;
    Expected::ANGLE.check(degrees).map_err(too_large)
}

/// Reads a whole number, such as a number of frets; it may be calculated.
///
/// # Errors
///
/// [`ParseError`] if the text is not a whole number from 0 on.
///
/// ```
/// use overstand_core::units::parse_count;
///
/// assert_eq!(parse_count("22"), Ok(22));
/// assert!(parse_count("22.5").is_err());
/// ```
pub fn parse_count(text: &str) -> Result<u32, ParseError> {
    let number = evaluate(text, Wanted::Number)?;
    let whole = number.round();
    // Wide enough for 22/7*7, narrow enough for no typed decimal.
    if (number - whole).abs() < 1e-9 && (0.0..=f64::from(u32::MAX)).contains(&whole) {
        Ok(whole as u32)
    } else {
        let expected = "a whole number, 0 or more";
        Err(ParseError::new(0, super::Plain(number).to_string(), expected))
    }
}

/// Reads a number without a unit, such as a ratio.
///
/// # Errors
///
/// [`ParseError`] if the text is not a number, or has a unit.
///
/// ```
/// use overstand_core::units::parse_number;
///
/// assert_eq!(parse_number("3/4"), Ok(0.75));
/// assert!(parse_number("3 mm").is_err());
/// ```
pub fn parse_number(text: &str) -> Result<f64, ParseError> {
    evaluate(text, Wanted::Number)
}

fn too_large(error: OutOfRange) -> ParseError {
    let OutOfRange { expected, found } = error;
    ParseError::new(0, super::Plain(found).to_string(), expected.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::MM_PER_INCH;
    use LengthStyle::{InchDecimal, InchFraction, Millimetres};

    #[track_caller]
    fn close(actual: f64, expected: f64) {
        assert!(
            (actual - expected).abs() <= 1e-9 * expected.abs().max(1.0),
            "{actual} is not {expected}"
        );
    }

    /// In a field in millimetres.
    #[track_caller]
    fn mm(text: &str, expected: f64) {
        close(parse_length(text, Millimetres).unwrap(), expected);
    }

    /// In a field in inches; `expected` in inches.
    #[track_caller]
    fn inch(text: &str, expected: f64) {
        for style in [InchDecimal, InchFraction] {
            close(parse_length(text, style).unwrap() / MM_PER_INCH, expected);
        }
    }

    #[track_caller]
    fn deg(text: &str, expected: f64) {
        close(parse_angle(text).unwrap(), expected);
    }

    #[track_caller]
    fn mm_fails(text: &str, expected: &str) {
        let error = parse_length(text, Millimetres).unwrap_err();
        assert_eq!(error.to_string(), expected);
    }

    #[track_caller]
    fn deg_fails(text: &str, expected: &str) {
        assert_eq!(parse_angle(text).unwrap_err().to_string(), expected);
    }

    #[test]
    fn lengths_with_a_unit() {
        for text in ["628mm", " 628 mm ", "628 MM", "62.8 cm", "0.628 m", "628 millimetres"] {
            mm(text, 628.0);
            inch(text, 628.0 / 25.4);
        }
        for text in ["24.72\"", "24.72 in", "24.72in.", "24.72 inches", "24.72″", "24.72''"] {
            mm(text, 627.888);
            inch(text, 24.72);
        }
        mm("28 ft", 8534.4);
    }

    #[test]
    fn a_bare_number_has_the_unit_of_the_style() {
        mm("628", 628.0);
        mm("-2", -2.0);
        inch("24.75", 24.75);
        inch("24 3/4", 24.75);
    }

    #[test]
    fn decimal_marks() {
        mm("628,5", 628.5);
        mm("628.5", 628.5);
        mm(",5", 0.5);
        mm("5.", 5.0);
        mm("1,234", 1.234);
        for text in ["1,234.5", "1.234,5", "1,2,3"] {
            assert!(
                parse_length(text, Millimetres)
                    .unwrap_err()
                    .to_string()
                    .ends_with("expected only one decimal mark in a number")
            );
        }
        mm_fails(
            "1 000",
            "at character 3: found `000`, expected a unit (mm, cm, m, in, ft) or an operator",
        );
    }

    #[test]
    fn fractions() {
        for text in
            ["24 3/4 in", "24 3/4\"", "24¾\"", "24 ¾ in", "24 3⁄4 in", "(24 3/4) in", "≈24 3/4 in"]
        {
            mm(text, 628.65);
        }
        mm("3/4 in", 19.05);
        mm("¾\"", 19.05);
        mm("3/4", 0.75);
        mm("24 3/4", 24.75);
        mm("-24 3/4 in", -628.65);
        mm("2 * 24 3/4 in", 1257.3);
        mm("24 3/4 in / 2", 314.325);
        let eighths = ["⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
        for (text, number) in eighths.iter().zip(1..) {
            inch(text, f64::from(number) / 8.0);
        }
        mm_fails("24 5/4 in", "at character 4: found `5/4`, expected a fraction smaller than 1");
        mm_fails("24 3/0 in", "at character 4: found `3/0`, expected a fraction smaller than 1");
        mm_fails(
            "24.5 3/4",
            "at character 6: found `3`, expected a unit (mm, cm, m, in, ft) or an operator",
        );
        mm_fails(
            "3¾3",
            "at character 3: found `3`, expected a unit (mm, cm, m, in, ft) or an operator",
        );
    }

    #[test]
    fn a_hyphen_in_a_mixed_number_is_refused() {
        let refused = "at character 1: found `24-3/4`, expected `24 3/4` for the sum or `24 - 3/4` for the difference";
        mm_fails("24-3/4\"", refused);
        mm_fails("24-3/4 in", refused);
        assert_eq!(parse_length("24-3/4", InchFraction).unwrap_err().to_string(), refused);
        inch("24 - 3/4", 23.25);
        inch("24\" - 3/4\"", 23.25);
        inch("1/2-1/4", 0.25);
        inch("24-1", 23.0);
        mm("24-3/4", 23.25);
        mm("24-3/4 cm", 16.5);
    }

    #[test]
    fn arithmetic() {
        mm("25 in + 3 mm", 638.0);
        mm("25 in + 3", 638.0);
        inch("25 + 3 mm", 25.0 + 3.0 / 25.4);
        mm("2 * (3 + 4) - 6 / 4", 12.5);
        mm("10 - 3 - 2", 5.0);
        mm("10 mm * 3 / 4", 7.5);
        mm("3 × 4 ÷ 2 · 5", 30.0);
        mm("−3", -3.0);
        mm("3 - -2", 5.0);
        mm("+3", 3.0);
        mm("(25 + 3) in", 711.2);
        mm("-(2 + 3 mm)", -5.0);
        assert!(
            parse_length("-0", Millimetres).unwrap().is_sign_positive(),
            "no negative zero comes out"
        );
    }

    #[test]
    fn lengths_multiply_and_divide_by_numbers_only() {
        mm_fails(
            "3 mm * 4 mm",
            "at character 6: found a length times a length, expected a length times a number",
        );
        mm_fails(
            "3 mm / 4 mm",
            "at character 6: found a length divided by a length, expected a length divided by a number",
        );
        mm_fails(
            "3 / (4 mm)",
            "at character 3: found a number divided by a length, expected a length divided by a number",
        );
        mm_fails("(3 mm) in", "at character 8: found `in`, expected an operator");
    }

    #[test]
    fn angles() {
        for text in ["3", "3°", "3deg", "3 degrees", "3º", "180'", "10800\""] {
            deg(text, 3.0);
        }
        deg_fails("2°60'", "at character 3: found `60`, expected less than 60");
        for text in ["2°45'", "2°45′", "2° 45' 0\"", "2 deg 45 min", "3° - 15'", "2,75", "2.75°"]
        {
            deg(text, 2.75);
        }
        deg("2° 45' 30\"", 2.75 + 30.0 / 3600.0);
        deg("2°45′30″", 2.75 + 30.0 / 3600.0);
        deg("2°45'30''", 2.75 + 30.0 / 3600.0);
        deg("2° 30\"", 2.0 + 30.0 / 3600.0);
        deg("2° 7.5'", 2.125);
        deg("45'", 0.75);
        deg("-0°05′", -5.0 / 60.0);
        deg("0.05 rad", 0.05 / std::f64::consts::PI * 180.0);
        deg_fails("2.5° 30'", "at character 6: found `30`, expected an operator");
        assert_eq!(parse_angle("2.85"), Ok(2.85), "exactly as typed");
    }

    /// Source: the series atan t = t - t³/3 + t⁵/5 - t⁷/7 at t = 0.05 gives
    /// 0.049 958 395 7 rad.
    #[test]
    fn rise_over_run() {
        let expected = 0.049_958_395_721_942_76_f64.to_degrees();
        for text in ["1:20", "5 : 100", "3 mm : 60 mm", "1 in:20 in", "(1:20)"] {
            deg(text, expected);
        }
        deg("-1:20", -expected);
        deg("1:20 + 1°", expected + 1.0);
        deg("1:1", 45.0);
        deg("0:1", 0.0);
        deg_fails("1:0", "at character 3: found 0, expected a divisor other than 0");
        deg_fails(
            "1:2 mm",
            "at character 2: found a number over a length, expected rise over run as two numbers or two lengths",
        );
        deg_fails(
            "1°:2°",
            "at character 3: found an angle over an angle, expected rise over run as two numbers or two lengths",
        );
        mm_fails(
            "1:20",
            "at character 2: found `:`, expected a unit (mm, cm, m, in, ft) or an operator",
        );
    }

    #[test]
    fn counts_and_numbers() {
        assert_eq!(parse_count("22"), Ok(22));
        assert_eq!(parse_count(" 20 + 2 "), Ok(22));
        assert_eq!(parse_count("22/7*7"), Ok(22));
        assert_eq!(
            parse_count("22.5").unwrap_err().to_string(),
            "at character 1: found 22.5, expected a whole number, 0 or more"
        );
        assert!(parse_count("-1").is_err(), "no negative counts");
        assert!(parse_count("4294967296").is_err(), "one too many");
        assert_eq!(
            parse_count("22 frets").unwrap_err().to_string(),
            "at character 4: found `frets`, expected an operator, and no unit"
        );
        assert_eq!(parse_number("-1 1/2"), Ok(-1.5));
        assert_eq!(
            parse_number("3 mm").unwrap_err().to_string(),
            "at character 3: found `mm`, expected an operator, and no unit"
        );
    }

    #[test]
    fn faults_name_the_place_and_what_was_expected() {
        let after = "expected a unit (mm, cm, m, in, ft) or an operator";
        mm_fails("628x", &format!("at character 4: found `x`, {after}"));
        mm_fails("628 furlong", &format!("at character 5: found `furlong`, {after}"));
        mm_fails("628 # 3", &format!("at character 5: found `#`, {after}"));
        mm_fails("628\u{7}", &format!("at character 4: found `\\u{{7}}`, {after}"));
        mm_fails("3°", &format!("at character 2: found `°`, {after}"));
        mm_fails("x", "at character 1: found `x`, expected a number");
        mm_fails("", "at character 1: found nothing, expected a length");
        mm_fails("  ", "at character 1: found nothing, expected a length");
        mm_fails("–", "at character 2: found the end, expected a number");
        mm_fails("3 +", "at character 4: found the end, expected a number");
        mm_fails("(3 + 4", "at character 7: found the end, expected a closing parenthesis");
        mm_fails(
            "3)",
            "at character 2: found `)`, expected no more closing parentheses than opening ones",
        );
        mm_fails("3 mm mm", "at character 6: found `mm`, expected an operator");
        mm_fails("3 / 0", "at character 5: found 0, expected a divisor other than 0");
        mm_fails("3 / (2 - 2)", "at character 5: found 0, expected a divisor other than 0");
        mm_fails(
            "100001",
            "at character 1: found 100001, expected a length in mm between -100000 and 100000",
        );
        deg_fails(
            "361",
            "at character 1: found 361, expected an angle in degrees between -360 and 360",
        );
        deg_fails("3 mm", "at character 1: found a length, expected an angle");
        deg_fails(
            "3° + 2 mm",
            "at character 4: found an angle and a length, expected both of one kind",
        );
        deg_fails(
            "3 x",
            "at character 3: found `x`, expected a unit (°, ′, ″, deg, min, sec, rad) or an operator",
        );
        let error = parse_length("½ + ¾ + x", Millimetres).unwrap_err();
        assert_eq!(error.at, 8, "counted in characters, from 0");
    }

    #[test]
    fn long_deep_and_huge_texts_are_refused() {
        mm_fails(
            &"1".repeat(201),
            "at character 201: found more text, expected at most 200 characters",
        );
        assert!(parse_length(&"1".repeat(1_000_000), Millimetres).is_err());

        let nested = |depth: usize| format!("{}1{}", "(".repeat(depth), ")".repeat(depth));
        mm(&nested(32), 1.0);
        mm_fails(
            &nested(33),
            "at character 33: found `(`, expected at most 32 parentheses in each other",
        );
        mm(&format!("{}1", "(1)+".repeat(40)), 41.0);
        mm(&format!("{}1", "-".repeat(198)), 1.0);
        assert!(parse_number(&"9".repeat(200)).is_ok(), "large numbers are finite");
        mm_fails(
            &"9".repeat(200),
            "at character 1: found 1e200, expected a length in mm between -100000 and 100000",
        );
    }
}
