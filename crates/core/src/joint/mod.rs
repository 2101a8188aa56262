//! The joint: its true section, everything that is worked out for it, and the cut sheet.
//!
//! Millimetres and radians; body frame. The floor is positive when it rises toward the
//! inner end, as the pitch is when the board rises toward the bridge.

mod figures;
mod plan;
mod seat;
mod section;
mod sheet;
mod thick;

pub use figures::{Figure, Group, JointFigures};
pub use plan::JointPlan;
pub(crate) use seat::{FloorShape, Seat, outcome};
pub use section::{JointSection, Screws, screws};
pub(crate) use section::{
    beside_tenon, is_short, usual_length, wood_to_cavity, wood_under_cavity, wood_under_rod,
};
pub(crate) use sheet::is_step;
pub use sheet::{BenchCheck, CutSheet, Number, Reading, Step};

use crate::units::{AngleStyle, Unit, show_angle, show_number};

/// An angle as rise over run, for the bench: a steep face is set out from a line square to
/// the other, so beyond 45° it is what lacks to 90° that is shown. What does not rise at all
/// is `level`, and beyond 45° `square`. None for what is no angle.
pub fn rise_over_run(value: f64, unit: Unit, digits: usize) -> Option<String> {
    if unit != Unit::Angle {
        return None;
    }
    let is_steep = value.abs() > 45.0;
    let lean = if is_steep { 90.0 - value } else { value };
    // as near to it as the digits tell
    let rises = show_number(lean, digits).contains(|sign: char| matches!(sign, '1'..='9'));
    Some(match (rises, is_steep) {
        (true, _) => show_angle(lean, digits, AngleStyle::Rise),
        (false, true) => "square".to_owned(),
        (false, false) => "level".to_owned(),
    })
}

/// Rise of a wedge over its base: base · tan angle.
pub fn wedge_rise(base: f64, angle: f64) -> f64 {
    base * angle.tan()
}

/// Height of the stack under one end of a bar of this length that sets it to the angle:
/// length · sin angle.
///
/// # Source
/// The sine bar of the machinist's handbooks.
pub fn stack_under_bar(length: f64, angle: f64) -> f64 {
    length * angle.sin()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_steep_face_is_set_out_from_square() {
        // 1/tan 3° is 19.08
        let shown = Some("1:19.1".to_owned());
        assert_eq!(rise_over_run(3.0, Unit::Angle, 2), shown);
        assert_eq!(rise_over_run(87.0, Unit::Angle, 2), shown);
        assert_eq!(rise_over_run(93.0, Unit::Angle, 2), Some("−1:19.1".to_owned()));
        assert_eq!(rise_over_run(3.0, Unit::Length, 2), None);
    }

    #[test]
    fn what_does_not_rise_is_level_or_square() {
        let said = |value| rise_over_run(value, Unit::Angle, 2);
        // 0.004° is 0.00° in two digits
        for (value, word) in [(0.0, "level"), (-0.004, "level"), (90.0, "square")] {
            assert_eq!(said(value).as_deref(), Some(word), "{value}");
        }
        assert_eq!(said(0.01).as_deref(), Some("1:5730"));
    }
}
