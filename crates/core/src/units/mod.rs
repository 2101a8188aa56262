//! Lengths and angles at the seams of the core, and how they are printed and
//! read.
//!
//! Inside, a length is a bare `f64` in millimetres and an angle a bare `f64` in
//! radians, because the geometry is generic over the number it calculates with.
//! [`Length`] and [`Angle`] stand where a number enters or leaves: in the
//! design, in files, in fields. An [`Angle`] keeps the degrees it was given, so
//! that a file, a field and the paper show exactly what was typed.
//!
//! [`show_length`] and [`show_angle`] print, [`parse_length`] and
//! [`parse_angle`] read; what is printed is read back as the same value within
//! the printed digits.

mod grammar;
mod parse;
#[cfg(test)]
mod properties;
mod show;
mod token;

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::ser::{self, Serialize, Serializer};
use thiserror::Error;

pub use parse::{ParseError, parse_angle, parse_count, parse_length, parse_number};
pub use show::{
    AngleStyle, LengthStyle, show_angle, show_angle_parts, show_length, show_length_parts,
    show_number, show_plain, show_signed, unbroken,
};

/// Millimetres in one inch; exact.
///
/// # Source
///
/// International yard and pound agreement, 1959: 1 yard = 0.9144 m.
pub const MM_PER_INCH: f64 = 25.4;

/// The longest length that is read from a file or a field, either sign, in mm.
pub const MAX_LENGTH_MM: f64 = 100_000.0;

/// The largest angle that is read from a file or a field, either sign, in
/// degrees.
pub const MAX_ANGLE_DEG: f64 = 360.0;

/// A length in millimetres.
///
/// A file holds it as a plain number of millimetres. Reading refuses what is
/// not finite or beyond [`MAX_LENGTH_MM`], and writing refuses what could not
/// be read back.
///
/// `Length * Length` and `Length + f64` are left out on purpose: the first is
/// not a length, the second hides a unit.
///
/// ```
/// use overstand_core::units::Length;
///
/// let scale = Length::mm(628.0);
/// assert_eq!((scale / 2.0).to_mm(), 314.0);
/// assert_eq!(scale / Length::mm(314.0), 2.0);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0.0);

    /// A length of so many millimetres, taken as it is.
    ///
    /// For numbers that are known or calculated; one from outside is read from
    /// a file or by [`parse_length`], which refuse what is beyond
    /// [`MAX_LENGTH_MM`].
    pub const fn mm(mm: f64) -> Self {
        Self(mm)
    }

    /// A length of so many inches.
    pub const fn inches(inches: f64) -> Self {
        Self(inches * MM_PER_INCH)
    }

    /// In millimetres.
    pub const fn to_mm(self) -> f64 {
        self.0
    }

    /// In inches.
    pub const fn to_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }
}

/// An angle, kept in the degrees it was given.
///
/// A file holds it as a plain number of degrees. Reading refuses what is not
/// finite or beyond [`MAX_ANGLE_DEG`], and writing refuses what could not be
/// read back. Which sense of turning is positive is said where the angle is
/// named.
///
/// ```
/// use overstand_core::units::Angle;
///
/// let pitch = Angle::degrees(3.0);
/// assert_eq!(pitch.to_degrees(), 3.0);
/// assert!((pitch.radians().tan() - 0.0524078).abs() < 1e-7);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No angle.
    pub const ZERO: Self = Self(0.0);

    /// An angle of so many degrees, taken as it is.
    ///
    /// For numbers that are known or calculated; one from outside is read from
    /// a file or by [`parse_angle`], which refuse what is beyond
    /// [`MAX_ANGLE_DEG`].
    pub const fn degrees(degrees: f64) -> Self {
        Self(degrees)
    }

    /// An angle of so many radians, as geometry gives it.
    ///
    /// The degrees are rounded in the last place of an `f64`.
    pub const fn from_radians(radians: f64) -> Self {
        Self(radians.to_degrees())
    }

    /// In degrees, exactly as given.
    pub const fn to_degrees(self) -> f64 {
        self.0
    }

    /// In radians, for geometry.
    pub const fn radians(self) -> f64 {
        self.0.to_radians()
    }
}

/// What a dimension of the design is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// A length in millimetres.
    Length,
    /// An angle in degrees.
    Angle,
    /// A whole number, such as the number of frets.
    Count,
    /// A ratio or another number without a unit.
    Number,
}

impl Unit {
    /// The sign written after a value in a file or a table: `mm`, `°` or
    /// nothing.
    ///
    /// A screen or paper in inches takes its sign from [`show_length_parts`].
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Angle => "°",
            Self::Count | Self::Number => "",
        }
    }
}

/// A number that cannot be a length or an angle of an instrument.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("expected {expected}, found {}", Plain(*.found))]
struct OutOfRange {
    expected: Expected,
    /// It may be NaN or infinite.
    found: f64,
}

/// What a number from outside must be: of a kind, and no larger than a limit.
///
/// Printed as `a length in mm between -100000 and 100000`.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Expected {
    /// The kind of number, with its unit.
    what: &'static str,
    /// The largest size, either sign, in that unit.
    limit: f64,
}

impl Expected {
    const LENGTH: Self = Self { what: "a length in mm", limit: MAX_LENGTH_MM };
    const ANGLE: Self = Self { what: "an angle in degrees", limit: MAX_ANGLE_DEG };

    /// Lets a number through if it is finite and within the limit.
    ///
    /// A negative zero comes out as zero, so that no file or field shows `-0`.
    fn check(self, found: f64) -> Result<f64, OutOfRange> {
        if found.is_finite() && found.abs() <= self.limit {
            Ok(found + 0.0)
        } else {
            Err(OutOfRange { expected: self, found })
        }
    }
}

impl fmt::Display for Expected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { what, limit } = self;
        write!(f, "{what} between -{limit} and {limit}")
    }
}

/// Prints a number in full, or with an exponent where that would be unreadable.
struct Plain(f64);

impl fmt::Display for Plain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_finite() && self.0.abs() >= 1e15 {
            write!(f, "{:e}", self.0)
        } else {
            write!(f, "{}", self.0)
        }
    }
}

/// Reads a number of one kind, whole or not.
impl Visitor<'_> for Expected {
    type Value = f64;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }

    fn visit_f64<E: de::Error>(self, found: f64) -> Result<f64, E> {
        self.check(found).map_err(E::custom)
    }

    fn visit_i64<E: de::Error>(self, found: i64) -> Result<f64, E> {
        self.visit_f64(found as f64)
    }

    fn visit_u64<E: de::Error>(self, found: u64) -> Result<f64, E> {
        self.visit_f64(found as f64)
    }
}

/// What [`Length`] and [`Angle`] have in common: a sum, a difference, a
/// multiple, a ratio, and a plain number in a file.
macro_rules! quantity {
    ($name:ident, $expected:expr) => {
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, times: f64) -> Self {
                Self(self.0 * times)
            }
        }

        impl Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, quantity: $name) -> $name {
                quantity * self
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let number = $expected.check(self.0).map_err(ser::Error::custom)?;
                serializer.serialize_f64(number)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                deserializer.deserialize_f64($expected).map(Self)
            }
        }
    };
}

quantity!(Length, Expected::LENGTH);
quantity!(Angle, Expected::ANGLE);

#[cfg(test)]
mod tests {
    use super::*;
    use serde::de::IntoDeserializer as _;
    use serde::de::value::Error as ValueError;

    fn read<T: for<'de> Deserialize<'de>>(number: f64) -> Result<T, String> {
        T::deserialize(number.into_deserializer()).map_err(|error: ValueError| error.to_string())
    }

    /// Source: international yard and pound agreement, 1959: 1 yard = 0.9144 m,
    /// so that 36 inches are 914.4 mm.
    #[test]
    fn inch_is_a_36th_of_the_yard_of_1959() {
        assert_eq!(Length::inches(36.0), Length::mm(914.4));
        assert_eq!(Length::mm(914.4).to_inches(), 36.0);
    }

    #[test]
    fn lengths_and_angles_calculate() {
        let length = Length::mm(6.0);
        assert_eq!(length + length - Length::mm(2.0), Length::mm(10.0));
        assert_eq!(2.0 * -length / 4.0, Length::mm(-3.0));
        assert_eq!(length / Length::mm(4.0), 1.5);
        assert!(Length::ZERO < length, "lengths compare");
        assert_eq!(Length::default(), Length::ZERO);

        assert_eq!(Angle::degrees(90.0).radians(), std::f64::consts::FRAC_PI_2, "a quarter turn");
        assert_eq!(Angle::from_radians(std::f64::consts::PI), Angle::degrees(180.0));
        assert_eq!(-Angle::degrees(3.0) * 2.0, Angle::degrees(-6.0));
    }

    #[test]
    fn an_angle_keeps_the_degrees_it_was_given() {
        for typed in [2.85, 0.1, 3.3, -1.7] {
            assert_eq!(Angle::degrees(typed).to_degrees(), typed);
            assert_eq!(serde_json::to_string(&Angle::degrees(typed)).unwrap(), typed.to_string());
        }
    }

    #[test]
    fn files_hold_plain_numbers() {
        assert_eq!(serde_json::to_string(&Length::mm(628.5)).unwrap(), "628.5");
        assert_eq!(serde_json::from_str::<Length>("628").unwrap(), Length::mm(628.0));
        assert_eq!(serde_json::from_str::<Length>("-2").unwrap(), Length::mm(-2.0));
        assert_eq!(serde_json::from_str::<Angle>("3.25").unwrap(), Angle::degrees(3.25));
        assert_eq!(serde_json::to_string(&Length::mm(-0.0)).unwrap(), "0.0");
        let read_back = serde_json::from_str::<Length>("-0.0").unwrap();
        assert!(read_back.to_mm().is_sign_positive(), "{read_back:?}");
    }

    #[test]
    fn reading_refuses_what_no_instrument_has() {
        assert_eq!(
            read::<Length>(f64::NAN).unwrap_err(),
            "expected a length in mm between -100000 and 100000, found NaN"
        );
        assert_eq!(
            read::<Length>(f64::NEG_INFINITY).unwrap_err(),
            "expected a length in mm between -100000 and 100000, found -inf"
        );
        assert_eq!(
            read::<Length>(100_000.5).unwrap_err(),
            "expected a length in mm between -100000 and 100000, found 100000.5"
        );
        assert_eq!(
            read::<Angle>(-361.0).unwrap_err(),
            "expected an angle in degrees between -360 and 360, found -361"
        );
        assert_eq!(
            read::<Angle>(1e300).unwrap_err(),
            "expected an angle in degrees between -360 and 360, found 1e300"
        );
        assert_eq!(read::<Length>(-100_000.0), Ok(Length::mm(-100_000.0)));
        assert_eq!(read::<Angle>(360.0), Ok(Angle::degrees(360.0)));

        let error = serde_json::from_str::<Length>("\"628\"").unwrap_err();
        assert!(
            error.to_string().contains("expected a length in mm between -100000 and 100000"),
            "{error}"
        );
        assert!(
            serde_json::from_str::<Length>("18446744073709551615").is_err(),
            "a whole number is held to the same range"
        );
    }

    #[test]
    fn writing_refuses_what_could_not_be_read_back() {
        for length in [f64::NAN, f64::INFINITY, 1e6] {
            let error = serde_json::to_string(&Length::mm(length)).unwrap_err();
            assert!(error.to_string().starts_with("expected a length in mm"), "{error}");
        }
    }

    #[test]
    fn units_have_their_signs() {
        let signs = [Unit::Length, Unit::Angle, Unit::Count, Unit::Number].map(Unit::symbol);
        assert_eq!(signs, ["mm", "°", "", ""]);
    }
}
