//! Values of dimensions as they are read, shown and typed.

use overstand_core::dimension::{Dimension, Key, Role};
use overstand_core::study::Study;
use overstand_core::units::{
    AngleStyle, LengthStyle, Unit, parse_angle, parse_count, parse_length, show_angle_parts,
    show_length_parts, show_number,
};

/// What a dimension is, in its unit: what the design holds, or for an outcome what
/// the layout comes to. None where this design has no such thing.
pub(crate) fn value(study: &Study, key: Key) -> Option<f64> {
    match key.dim.info().role {
        Role::Closing | Role::Given => key.get(&study.design),
        Role::Outcome => study.layout()?.outcome(key.dim),
    }
}

/// A quantity as number and unit apart.
pub(crate) fn parts(
    value: f64,
    unit: Unit,
    digits: usize,
    style: LengthStyle,
) -> (String, &'static str) {
    match unit {
        Unit::Length => show_length_parts(value, digits, style),
        Unit::Angle => show_angle_parts(value, digits, AngleStyle::DecimalDegrees),
        Unit::Count | Unit::Number => (show_number(value, digits), ""),
    }
}

/// A quantity in one piece: `22.8 mm`, `3.00°`, `22`.
pub(crate) fn show(value: f64, unit: Unit, digits: usize, style: LengthStyle) -> String {
    match parts(value, unit, digits, style) {
        (number, unit @ ("" | "°")) => number + unit,
        (number, unit) => format!("{number} {unit}"),
    }
}

/// A dimension's value in one piece.
pub(crate) fn show_dim(info: &Dimension, value: f64, style: LengthStyle) -> String {
    show(value, info.unit, info.digits, style)
}

/// The unit that a number typed into a field has.
pub(crate) fn unit_sign(unit: Unit, style: LengthStyle) -> &'static str {
    match unit {
        Unit::Length if style.is_inch() => "in",
        _ => unit.symbol(),
    }
}

/// Reads what was typed for a dimension.
///
/// # Errors
/// Why not, in words.
pub(crate) fn read(info: &Dimension, text: &str, style: LengthStyle) -> Result<f64, String> {
    let value = match info.unit {
        Unit::Length => parse_length(text, style),
        Unit::Angle => parse_angle(text),
        Unit::Count => parse_count(text).map(f64::from),
        Unit::Number => overstand_core::units::parse_number(text),
    }
    .map_err(|error| capital(&error.to_string()))?;
    if value < info.low || value > info.high {
        return Err(format!(
            "{} goes from {} to {}.",
            info.name,
            show_dim(info, info.low, style),
            show_dim(info, info.high, style)
        ));
    }
    Ok(value)
}

/// A message as a sentence: capital at the start, full stop at the end.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let mut sentence: String = letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect());
    if !sentence.is_empty() && !sentence.ends_with(['.', '!', '?']) {
        sentence.push('.');
    }
    sentence
}

#[cfg(test)]
mod tests {
    use overstand_core::dimension::Dim;
    use overstand_core::testing::worked_example;

    use super::*;

    #[test]
    fn every_dimension_of_a_closed_design_has_a_value() {
        let study = Study::of(&worked_example());
        for key in Key::all_of(&study.design) {
            assert!(value(&study, key).is_some_and(f64::is_finite), "{key}");
        }
    }

    #[test]
    fn what_is_typed_is_read_in_the_units_shown() {
        let info = Dim::ScaleLength.info();
        assert_eq!(read(info, "628", LengthStyle::Millimetres), Ok(628.0));
        assert_eq!(read(info, "24 3/4", LengthStyle::InchFraction), Ok(628.65));
        assert_eq!(
            read(info, "3000", LengthStyle::Millimetres).unwrap_err(),
            "Scale length goes from 200.0 mm to 1200.0 mm."
        );
        assert!(read(info, "wide", LengthStyle::Millimetres).unwrap_err().starts_with("At char"));
    }
}
