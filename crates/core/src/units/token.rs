//! Cuts a typed length, angle or number into numbers, units and operators.

/// What a typed text must come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    /// A length; a bare number is in inches or in millimetres.
    Length {
        /// Whether a bare number is in inches.
        inch: bool,
    },
    /// An angle; a bare number is in degrees.
    Angle,
    /// A number without a unit.
    Number,
}

impl Wanted {
    /// What is written, with its article.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Length { .. } => "a length",
            Self::Angle => "an angle",
            Self::Number => "a number",
        }
    }

    /// What may follow a number.
    pub(super) const fn after_number(self) -> &'static str {
        match self {
            Self::Length { .. } => "a unit (mm, cm, m, in, ft) or an operator",
            Self::Angle => "a unit (°, ′, ″, deg, min, sec, rad) or an operator",
            Self::Number => "an operator, and no unit",
        }
    }

    /// The unit of a bare number.
    pub(super) const fn usual_measure(self) -> Option<Measure> {
        match self {
            Self::Length { inch: false } => Some(Measure::Millimetre),
            Self::Length { inch: true } => Some(Measure::Inch),
            Self::Angle => Some(Measure::Degree),
            Self::Number => None,
        }
    }
}

/// A unit that can be typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Measure {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
    Degree,
    Minute,
    Second,
    Radian,
}

impl Measure {
    pub(super) const fn is_length(self) -> bool {
        match self {
            Self::Millimetre | Self::Centimetre | Self::Metre | Self::Inch | Self::Foot => true,
            Self::Degree | Self::Minute | Self::Second | Self::Radian => false,
        }
    }

    /// So many of this unit in millimetres or degrees.
    ///
    /// Millimetres and degrees come out exactly as they were typed.
    pub(super) const fn in_mm_or_degrees(self, amount: f64) -> f64 {
        match self {
            Self::Millimetre | Self::Degree => amount,
            Self::Centimetre => amount * 10.0,
            Self::Metre => amount * 1000.0,
            Self::Inch => amount * super::MM_PER_INCH,
            Self::Foot => amount * (12.0 * super::MM_PER_INCH),
            Self::Minute => amount / 60.0,
            Self::Second => amount / 3600.0,
            Self::Radian => amount.to_degrees(),
        }
    }

    /// Whether this unit may follow the other within one angle, as minutes
    /// follow degrees.
    pub(super) const fn divides(self, larger: Self) -> bool {
        matches!(
            (larger, self),
            (Self::Degree, Self::Minute | Self::Second) | (Self::Minute, Self::Second)
        )
    }

    /// The unit of this word, in lower case.
    fn from_word(word: &str, wanted: Wanted) -> Option<Self> {
        let measure = match word {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "cm" => Self::Centimetre,
            "m" => Self::Metre,
            "in" | "inch" | "inches" => Self::Inch,
            "ft" | "foot" | "feet" => Self::Foot,
            "deg" | "degree" | "degrees" => Self::Degree,
            "min" | "minute" | "minutes" => Self::Minute,
            "sec" | "second" | "seconds" => Self::Second,
            "rad" | "radian" | "radians" => Self::Radian,
            _ => return None,
        };
        match wanted {
            // A rise and its run may both be lengths.
            Wanted::Angle => Some(measure),
            Wanted::Length { .. } => measure.is_length().then_some(measure),
            Wanted::Number => None,
        }
    }

    /// The unit of the degree sign or of one or two strokes.
    fn from_sign(sign: Sign, wanted: Wanted) -> Option<Self> {
        match (wanted, sign) {
            (Wanted::Length { .. }, Sign::TwoStrokes) => Some(Self::Inch),
            (Wanted::Angle, Sign::Degree) => Some(Self::Degree),
            (Wanted::Angle, Sign::OneStroke) => Some(Self::Minute),
            (Wanted::Angle, Sign::TwoStrokes) => Some(Self::Second),
            _ => None,
        }
    }
}

/// A unit that is written as a sign.
#[derive(Clone, Copy, Debug)]
enum Sign {
    Degree,
    OneStroke,
    TwoStrokes,
}

/// One piece of the text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Symbol {
    /// A number in digits; whole if it has no decimal mark.
    Number {
        value: f64,
        whole: bool,
    },
    /// A fraction in one character, such as ¾.
    Fraction(f64),
    Unit(Measure),
    Plus,
    Minus,
    Times,
    Over,
    Colon,
    Open,
    Close,
    /// The mark before a value that is only near: ≈ or ~.
    About,
    Unknown,
    End,
}

/// One piece of the text and where it stands, in characters from 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Token {
    pub(super) symbol: Symbol,
    pub(super) at: usize,
    /// The first character behind it.
    pub(super) end: usize,
}

/// Cuts a text into tokens; the last is always [`Symbol::End`].
///
/// What means nothing becomes [`Symbol::Unknown`], so that the first fault of
/// the text, and not the first strange character, is reported.
pub(super) fn tokens(chars: &[char], wanted: Wanted) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut at = 0;
    while let Some(&first) = chars.get(at) {
        if first.is_whitespace() {
            at += 1;
            continue;
        }
        let (symbol, length) = symbol(first, chars.get(at..).unwrap_or_default(), wanted);
        tokens.push(Token { symbol, at, end: at + length });
        at += length;
    }
    tokens.push(Token { symbol: Symbol::End, at, end: at });
    tokens
}

/// The piece at the start of `chars`, which is `first`, and its length of at
/// least one character.
fn symbol(first: char, chars: &[char], wanted: Wanted) -> (Symbol, usize) {
    let second = chars.get(1).copied();
    let starts_number = first.is_ascii_digit()
        || is_mark(first) && second.is_some_and(|second| second.is_ascii_digit());
    if starts_number {
        return number(chars);
    }
    let unit = |sign| Measure::from_sign(sign, wanted).map_or(Symbol::Unknown, Symbol::Unit);
    let symbol = match first {
        '½' => Symbol::Fraction(1.0 / 2.0),
        '¼' => Symbol::Fraction(1.0 / 4.0),
        '¾' => Symbol::Fraction(3.0 / 4.0),
        '⅛' => Symbol::Fraction(1.0 / 8.0),
        '⅜' => Symbol::Fraction(3.0 / 8.0),
        '⅝' => Symbol::Fraction(5.0 / 8.0),
        '⅞' => Symbol::Fraction(7.0 / 8.0),
        '+' => Symbol::Plus,
        // The hyphen, the minus of typography, and the dash often put for it.
        '-' | '−' | '–' => Symbol::Minus,
        '*' | '×' | '·' => Symbol::Times,
        '/' | '÷' | '⁄' => Symbol::Over,
        ':' => Symbol::Colon,
        '(' => Symbol::Open,
        ')' => Symbol::Close,
        '≈' | '~' => Symbol::About,
        // The second is the raised letter that some keyboards give instead.
        '°' | 'º' => unit(Sign::Degree),
        '"' | '″' | '”' => unit(Sign::TwoStrokes),
        '\'' | '′' | '’' if second == Some(first) => return (unit(Sign::TwoStrokes), 2),
        '\'' | '′' | '’' => unit(Sign::OneStroke),
        _ if first.is_alphabetic() => return word(chars, wanted),
        _ => Symbol::Unknown,
    };
    (symbol, 1)
}

/// Whether this is a decimal point or a decimal comma.
pub(super) const fn is_mark(c: char) -> bool {
    matches!(c, '.' | ',')
}

/// Digits with at most one decimal mark.
fn number(chars: &[char]) -> (Symbol, usize) {
    let mut digits = String::new();
    let mut whole = true;
    for &c in chars {
        if is_mark(c) && whole {
            whole = false;
            digits.push('.');
        } else if c.is_ascii_digit() {
            digits.push(c);
        } else {
            break;
        }
    }
    let length = digits.len();
    let symbol = digits.parse().map_or(Symbol::Unknown, |value| Symbol::Number { value, whole });
    (symbol, length)
}

/// A word of letters, which should be a unit; a full stop may end it.
fn word(chars: &[char], wanted: Wanted) -> (Symbol, usize) {
    let letters: String = chars.iter().take_while(|c| c.is_alphabetic() && **c != 'º').collect();
    let length = letters.chars().count();
    match Measure::from_word(&letters.to_lowercase(), wanted) {
        Some(measure) => {
            let stop = chars.get(length) == Some(&'.')
                && !chars.get(length + 1).is_some_and(char::is_ascii_digit);
            (Symbol::Unit(measure), length + usize::from(stop))
        }
        None => (Symbol::Unknown, length),
    }
}
