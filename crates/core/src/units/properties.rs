//! What holds for any text and any printed number.

use proptest::prelude::*;

use super::{
    AngleStyle, LengthStyle, MAX_ANGLE_DEG, MAX_LENGTH_MM, MM_PER_INCH, parse_angle, parse_count,
    parse_length, parse_number, show_angle, show_length,
};
use LengthStyle::{InchDecimal, InchFraction, Millimetres};

fn typed() -> impl Strategy<Value = String> {
    let pieces = prop::sample::select(vec![
        "1", "24", "3/4", "0", "9999", ".5", "2,75", "¾", "½", " ", " ", "+", "-", "−", "*", "/",
        ":", "(", ")", "mm", "cm", "in", "ft", "\"", "'", "°", "′", "deg", "rad", "≈", "x", "º",
        "é", ",", ".",
    ]);
    prop::collection::vec(pieces, 0..24).prop_map(|pieces| pieces.concat())
}

fn stays_in_range(text: &str) -> Result<(), TestCaseError> {
    let characters = text.chars().count();
    for style in [Millimetres, InchDecimal, InchFraction] {
        match parse_length(text, style) {
            Ok(mm) => prop_assert!(mm.abs() <= MAX_LENGTH_MM),
            Err(error) => prop_assert!(error.at <= characters, "{error}"),
        }
    }
    match parse_angle(text) {
        Ok(degrees) => prop_assert!(degrees.abs() <= MAX_ANGLE_DEG),
        Err(error) => prop_assert!(error.at <= characters, "{error}"),
    }
    match parse_number(text) {
        Ok(number) => prop_assert!(number.is_finite()),
        Err(error) => prop_assert!(error.at <= characters, "{error}"),
    }
    if let Err(error) = parse_count(text) {
        prop_assert!(error.at <= characters, "{error}");
    }
    Ok(())
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in any::<String>()) {
        stays_in_range(&text)?;
    }

    #[test]
    fn any_text_of_the_right_pieces_is_read_or_refused(text in typed()) {
        stays_in_range(&text)?;
    }

    #[test]
    fn printed_lengths_are_read_back(mm in -9_990.0..9_990.0_f64, digits in 0..7_usize) {
        for style in [Millimetres, InchDecimal, InchFraction] {
            let text = show_length(mm, digits, style);
            let step = match style {
                _ if text.contains('≈') => MM_PER_INCH / 64.0,
                Millimetres => 10_f64.powi(-(digits as i32)),
                InchDecimal | InchFraction if text.contains('.') => {
                    MM_PER_INCH * 10_f64.powi(-(digits as i32) - 1)
                }
                InchDecimal | InchFraction => 10_f64.powi(-(digits as i32)),
            };
            // The unit is printed, so that the style does not matter.
            for reader in [Millimetres, InchDecimal] {
                let back = parse_length(&text, reader).unwrap();
                prop_assert!((back - mm).abs() <= step / 2.0 + 1e-8, "{text}: {back}");
                if style != InchFraction {
                    prop_assert_eq!(&show_length(back, digits, style), &text);
                }
            }
        }
    }

    #[test]
    fn fractions_are_read_back_exactly(steps in -25_000..25_000_i32) {
        let mm = f64::from(steps) / 64.0 * MM_PER_INCH;
        let text = show_length(mm, 1, InchFraction);
        let back = parse_length(&text, Millimetres).unwrap();
        prop_assert!((back - mm).abs() < 1e-9, "{text}: {back}");
        prop_assert!(!text.contains(['≈', '.']), "{text}");
    }

    #[test]
    fn printed_angles_are_read_back(degrees in -359.0..359.0_f64, digits in 0..7_usize) {
        for style in [AngleStyle::DecimalDegrees, AngleStyle::DegreesMinutes] {
            let text = show_angle(degrees, digits, style);
            let step = match style {
                AngleStyle::DegreesMinutes => 10_f64.powi(2_i32.min(digits as i32) - digits as i32) / 60.0,
                _ => 10_f64.powi(-(digits as i32)),
            };
            let back = parse_angle(&text).unwrap();
            prop_assert!((back - degrees).abs() <= step / 2.0 + 1e-9, "{text}: {back}");
            prop_assert_eq!(&show_angle(back, digits, style), &text);
        }
    }

    #[test]
    fn printed_slopes_are_read_back(degrees in -100.0..100.0_f64, digits in 1..6_usize) {
        let text = show_angle(degrees, digits, AngleStyle::Rise);
        let back = parse_angle(&text).unwrap();
        let step = 10_f64.powi(-(digits as i32));
        prop_assert!((back - degrees).abs() <= 1.7 * step, "{text}: {back}");
    }

    #[test]
    fn small_slopes_are_read_back(degrees in -3.0..3.0_f64, digits in 1..6_usize) {
        let text = show_angle(degrees, digits, AngleStyle::Rise);
        let back = parse_angle(&text).unwrap();
        let step = 10_f64.powi(-(digits as i32));
        prop_assert!((back - degrees).abs() <= 1.7 * step, "{text}: {back}");
    }
}
