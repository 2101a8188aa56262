//! Units as they are typed and written in JSON.

use overstand_core::dimension::Dimension;
use overstand_core::units::{
    AngleStyle, LengthStyle, ParseError, Unit, parse_angle, parse_count, parse_length,
    parse_number, show_angle, show_length, show_number, show_plain,
};

/// The unit's name in JSON.
pub(crate) fn name(unit: Unit) -> &'static str {
    match unit {
        Unit::Length => "mm",
        Unit::Angle => "deg",
        Unit::Count => "count",
        Unit::Number => "number",
    }
}

/// A value as it is read, with every digit: `2.5deg`, `23mm`, `22`.
pub(crate) fn typed(value: f64, unit: Unit) -> String {
    match unit {
        Unit::Length => format!("{value}mm"),
        Unit::Angle => format!("{value}deg"),
        Unit::Count | Unit::Number => value.to_string(),
    }
}

/// A value as it is shown.
pub(crate) fn show(value: f64, unit: Unit, digits: usize, style: LengthStyle) -> String {
    match unit {
        Unit::Length => show_length(value, digits, style),
        Unit::Angle => show_angle(value, digits, AngleStyle::DecimalDegrees),
        Unit::Count => show_number(value, 0),
        Unit::Number => show_number(value, digits),
    }
}

/// A value of a dimension with the digits it has, as a limit stands in a message.
pub(crate) fn plain(value: f64, info: &Dimension) -> String {
    match info.unit {
        Unit::Angle => format!("{}°", show_plain(value)),
        Unit::Length => format!("{} mm", show_plain(value)),
        Unit::Count | Unit::Number => show_plain(value),
    }
}

/// Reads a value in a dimension's unit; a bare number is in mm or degrees.
pub(crate) fn parse(text: &str, unit: Unit) -> Result<f64, ParseError> {
    match unit {
        Unit::Length => parse_length(text, LengthStyle::Millimetres),
        Unit::Angle => parse_angle(text),
        Unit::Count => parse_count(text).map(f64::from),
        Unit::Number => parse_number(text),
    }
}
