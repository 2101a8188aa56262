use crate::units::{AngleStyle, LengthStyle, Unit, show_angle, show_length, show_number};

/// What a number counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A unit of the table of dimensions.
    Of(Unit),
    /// A force, N.
    Newton,
    /// An error of pitch, hundredths of an equal-tempered semitone.
    Cents,
    /// A part of a whole, shown in hundredths.
    Share,
}

impl Measure {
    /// As it stands in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Of(Unit::Length) => "mm",
            Self::Of(Unit::Angle) => "deg",
            Self::Of(Unit::Count) => "count",
            Self::Of(Unit::Number) => "number",
            Self::Newton => "N",
            Self::Cents => "cents",
            Self::Share => "share",
        }
    }
}

/// A number with what it counts, and the decimals that mean something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The number.
    pub value: f64,
    /// What it counts.
    pub measure: Measure,
    /// Decimals.
    pub digits: usize,
}

impl Quantity {
    /// A number in a unit.
    pub fn new(value: f64, unit: Unit, digits: usize) -> Self {
        Self { value, measure: Measure::Of(unit), digits }
    }

    /// Without its sign.
    pub(super) fn size(self) -> Self {
        Self { value: self.value.abs(), ..self }
    }

    /// As it is shown, with its unit.
    pub fn show(self, style: LengthStyle) -> String {
        let Self { value, measure, digits } = self;
        match measure {
            Measure::Of(Unit::Length) => show_length(value, digits, style),
            Measure::Of(Unit::Angle) => show_angle(value, digits, AngleStyle::DecimalDegrees),
            Measure::Of(Unit::Count) => show_number(value, 0),
            Measure::Of(Unit::Number) => show_number(value, digits),
            Measure::Newton => format!("{} N", show_number(value, digits)),
            Measure::Cents => format!("{} cents", show_number(value, digits)),
            Measure::Share => format!("{} %", show_number(100.0 * value, digits)),
        }
    }

    /// The same with a plus where it is more than nothing.
    pub fn show_signed(self, style: LengthStyle) -> String {
        // `≈` of a fraction stands before the sign
        let style =
            if style == LengthStyle::InchFraction { LengthStyle::InchDecimal } else { style };
        let text = self.show(style);
        if self.value > 0.0 { format!("+{text}") } else { text }
    }

    /// Whether the two cannot be told apart at the bench: they differ by less than half a
    /// last decimal.
    pub(super) fn looks_like(self, other: Self) -> bool {
        let scale = if self.measure == Measure::Share { 100.0 } else { 1.0 };
        let last = 10_f64.powi(-(self.digits.min(12) as i32));
        scale * (self.value - other.value).abs() < 0.5 * last
    }

    /// The two with as many decimals as tell them apart.
    pub(super) fn told_apart(self, other: Self) -> (Self, Self) {
        let most = self.digits + 6;
        let digits = (self.digits..most)
            .find(|&digits| !Self { digits, ..self }.looks_like(Self { digits, ..other }))
            .unwrap_or(most);
        (Self { digits, ..self }, Self { digits, ..other })
    }
}
