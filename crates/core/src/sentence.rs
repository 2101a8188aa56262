//! A sentence with quantities in it, which screen and paper show in the units
//! that the maker works in.

use crate::units::{AngleStyle, LengthStyle, show_angle, show_length};

/// A piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Span {
    /// Fixed words.
    Fixed(&'static str),
    /// Words made for this design, as a string's name.
    Text(String),
    /// A length, mm, with the decimals of a millimetre that mean something.
    Length(f64, usize),
    /// An angle, degrees, with its decimals.
    Angle(f64, usize),
    /// A count.
    Count(usize),
}

/// A length within a sentence, mm.
pub fn mm(value: f64, digits: usize) -> Span {
    Span::Length(value, digits)
}

/// An angle within a sentence, degrees.
pub fn degrees(value: f64, digits: usize) -> Span {
    Span::Angle(value, digits)
}

impl From<&'static str> for Span {
    fn from(words: &'static str) -> Self {
        Self::Fixed(words)
    }
}

impl From<String> for Span {
    fn from(words: String) -> Self {
        Self::Text(words)
    }
}

impl From<usize> for Span {
    fn from(count: usize) -> Self {
        Self::Count(count)
    }
}

/// Words as they stand within a sentence: the first letter small, and every other as it is, for
/// the name of a string keeps its capital.
pub fn lower(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// A sentence.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sentence(pub Vec<Span>);

/// Builds a [`Sentence`] from words and quantities.
macro_rules! sentence {
    ($($span:expr),* $(,)?) => {
        $crate::sentence::Sentence(vec![$($crate::sentence::Span::from($span)),*])
    };
}
pub(crate) use sentence;

impl Sentence {
    /// As it goes on after a colon: its first letter small. A string's name that it begins with
    /// is a single letter, and stays.
    pub fn within(mut self) -> Self {
        if let Some(first) = self.0.first_mut() {
            match first {
                Span::Fixed(words) => *first = lower(words).into(),
                Span::Text(words) if words.chars().nth(1).is_some_and(char::is_alphabetic) => {
                    *words = lower(words);
                }
                _ => {}
            }
        }
        self
    }

    /// In the units the maker works in.
    pub fn show(&self, style: LengthStyle) -> String {
        let mut text = String::new();
        for span in &self.0 {
            match span {
                Span::Fixed(words) => text.push_str(words),
                Span::Text(words) => text.push_str(words),
                Span::Length(value, digits) => text.push_str(&show_length(*value, *digits, style)),
                Span::Angle(value, digits) => {
                    text.push_str(&show_angle(*value, *digits, AngleStyle::DecimalDegrees));
                }
                Span::Count(count) => text.push_str(&count.to_string()),
            }
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn within_a_sentence_the_first_letter_is_small_and_no_other() {
        assert_eq!(
            sentence!["It would ", mm(1.0, 1)].within().show(LengthStyle::Millimetres),
            "it would 1.0 mm"
        );
        assert_eq!(
            sentence!["E string".to_owned()].within().show(LengthStyle::Millimetres),
            "E string"
        );
        for (words, within) in
            [("Gauge, string 6 (E)", "gauge, string 6 (E)"), ("Ångström", "ångström"), ("", "")]
        {
            assert_eq!(lower(words), within);
        }
    }
}
