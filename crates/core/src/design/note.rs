use std::fmt;
use std::str::FromStr;

/// Lowest and highest frequency that a string is tuned to, Hz.
const RANGE: std::ops::RangeInclusive<f64> = 15.0..=2500.0;
/// Most cents that a note may be off its name.
const MOST_CENTS: f64 = 100.0;

/// What an open string is tuned to, by name, by name with cents, or in hertz.
///
/// Written `E4`, `Eb2`, `F#3`, `E2 -10 c`, `82.4 Hz`. The octave number counts from C, and
/// A4 is 440 Hz (ISO 16).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Note {
    /// A note of equal temperament.
    Named {
        /// `A` to `G`.
        letter: char,
        /// Semitones that the sign before the octave adds: -1 flat, 0, 1 sharp.
        sign: i8,
        /// The octave, counted from C.
        octave: i8,
        /// How far it is tuned off that, positive for higher.
        cents: f64,
    },
    /// A frequency.
    Hertz(f64),
}

impl Note {
    /// Its frequency in hertz: 440 · 2^((m - 69)/12), m the key number of the note.
    ///
    /// # Source
    /// Twelve-tone equal temperament with A4 = 440 Hz (ISO 16).
    pub fn hertz(self) -> f64 {
        match self {
            Self::Hertz(hertz) => hertz,
            Self::Named { letter, sign, octave, cents } => {
                let key = 12.0 * (f64::from(octave) + 1.0)
                    + semitones_over_c(letter).unwrap_or(0.0)
                    + f64::from(sign);
                440.0 * f64::exp2((key - 69.0) / 12.0 + cents / 1200.0)
            }
        }
    }
}

impl Note {
    /// The nearest note of equal temperament, with the cents that are left, positive where
    /// it sounds higher than that note; a named one as it is called.
    pub fn nearest(self) -> Self {
        let Self::Hertz(hertz) = self else {
            return self;
        };
        const NAMES: [(char, i8); 12] = [
            ('C', 0),
            ('C', 1),
            ('D', 0),
            ('E', -1),
            ('E', 0),
            ('F', 0),
            ('F', 1),
            ('G', 0),
            ('A', -1),
            ('A', 0),
            ('B', -1),
            ('B', 0),
        ];
        let key = 69.0 + 12.0 * (hertz / 440.0).log2();
        if !key.is_finite() {
            return self;
        }
        let whole = key.round();
        let (letter, sign) = NAMES[whole.rem_euclid(12.0) as usize % 12];
        let octave = (whole / 12.0).floor() - 1.0;
        Self::Named { letter, sign, octave: octave as i8, cents: 100.0 * (key - whole) }
    }
}

fn semitones_over_c(letter: char) -> Option<f64> {
    Some(match letter {
        'C' => 0.0,
        'D' => 2.0,
        'E' => 4.0,
        'F' => 5.0,
        'G' => 7.0,
        'A' => 9.0,
        'B' => 11.0,
        _ => return None,
    })
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Hertz(hertz) => write!(f, "{hertz} Hz"),
            Self::Named { letter, sign, octave, cents } => {
                let sign = match sign {
                    -1 => "b",
                    1 => "#",
                    _ => "",
                };
                write!(f, "{letter}{sign}{octave}")?;
                if *cents == 0.0 { Ok(()) } else { write!(f, " {cents:+} c") }
            }
        }
    }
}

impl Note {
    /// As it is shown, with a minus sign; files keep what [`fmt::Display`] writes.
    pub fn show(self) -> String {
        self.to_string().replace('-', "\u{2212}")
    }
}

/// A text that is no note.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("expected a note as E4, Eb2, F#3, E2 -10 c or 82.4 Hz, found `{0}`")]
pub struct NotANote(String);

impl FromStr for Note {
    type Err = NotANote;

    fn from_str(text: &str) -> Result<Self, NotANote> {
        read(text)
            .filter(|note| RANGE.contains(&note.hertz()))
            .ok_or_else(|| NotANote(text.chars().take(40).collect()))
    }
}

fn read(text: &str) -> Option<Note> {
    // a true minus sign is as good as the hyphen
    let text = text.trim().replace('\u{2212}', "-");
    let lower = text.to_ascii_lowercase();
    if let Some(number) = lower.strip_suffix("hz") {
        return number.trim().parse().ok().map(Note::Hertz);
    }
    let mut letters = text.chars();
    let letter = letters.next()?.to_ascii_uppercase();
    semitones_over_c(letter)?;
    let rest = letters.as_str();
    let flat = rest.strip_prefix(['b', '♭']).map(|rest| (-1, rest));
    let sharp = rest.strip_prefix(['#', '♯']).map(|rest| (1, rest));
    let (sign, rest) = flat.or(sharp).unwrap_or((0, rest));
    let (octave, rest) = match rest.split_once(char::is_whitespace) {
        Some((octave, rest)) => (octave, rest.trim()),
        None => (rest, ""),
    };
    let octave: i8 = octave.parse().ok().filter(|octave| (-1..=9).contains(octave))?;
    let cents = match rest {
        "" => 0.0,
        rest => {
            let number =
                ["cents", "cent", "ct", "c"].iter().find_map(|unit| rest.strip_suffix(unit))?;
            // `E2 - 10 c` is how some people space it
            let number: String = number.split_whitespace().collect();
            number.parse().ok().filter(|cents: &f64| cents.abs() <= MOST_CENTS)?
        }
    };
    Some(Note::Named { letter, sign, octave, cents })
}

crate::design::kept_as_text!(Note);

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: f = 440 · 2^((m - 69)/12), computed with mpmath apart from this project; the
    /// two-decimal table of B. H. Suits (Michigan Technological University, Physics of Music
    /// Notes) agrees.
    #[test]
    fn open_notes() {
        for (text, expected) in [
            ("E1", 41.20344461411),
            ("A1", 55.0),
            ("D2", 73.41619197935),
            ("G2", 97.99885899544),
            ("E2", 82.40688922822),
            ("A2", 110.0),
            ("D3", 146.8323839587),
            ("G3", 195.9977179909),
            ("B3", 246.9416506281),
            ("E4", 329.6275569129),
        ] {
            // thirteen digits are printed; the last is rounded
            let found = text.parse::<Note>().unwrap().hertz();
            assert!((found - expected).abs() < 1e-9, "{text}: {found}");
        }
    }

    #[test]
    fn other_ways_to_write_a_note() {
        let hertz = |text: &str| text.parse::<Note>().unwrap().hertz();
        assert_eq!(hertz("Eb2"), hertz("D#2"));
        assert_eq!(hertz("e♭2"), hertz("Eb2"));
        assert_eq!(hertz("F♯3"), hertz("Gb3"));
        assert_eq!(hertz("82.4 Hz"), 82.4);
        assert_eq!(hertz("82.4hz"), 82.4);
        // a cent is the 1200th part of an octave
        assert!((1200.0 * (hertz("E2 -10 c") / hertz("E2")).log2() + 10.0).abs() < 1e-9);
        assert_eq!(hertz("E2 − 10 cents"), hertz("E2 -10c"));
    }

    /// Source: equal temperament with A4 = 440 Hz (ISO 16): 1200 log2(82.4/82.40688922822) =
    /// -0.1447 cents (computed).
    #[test]
    fn the_nearest_note_of_a_frequency() {
        let near = |hertz: f64| match Note::Hertz(hertz).nearest() {
            Note::Named { letter, sign, octave, cents } => (letter, sign, octave, cents),
            Note::Hertz(_) => panic!("{hertz} has no name"),
        };
        let (letter, sign, octave, cents) = near(82.4);
        assert_eq!((letter, sign, octave), ('E', 0, 2));
        // four digits are printed
        assert!((cents + 0.1447).abs() < 5e-5, "{cents}");
        for hertz in [15.0, 27.5, 61.0, 100.0, 261.0, 466.0, 2500.0] {
            let note = Note::Hertz(hertz).nearest();
            let (.., cents) = near(hertz);
            assert!(cents.abs() <= 50.0);
            // a rounding error of numbers below 10 000
            assert!((note.hertz() / hertz - 1.0).abs() < 1e-12, "{hertz}: {note}");
        }
        let named: Note = "Eb2 +4 c".parse().unwrap();
        assert_eq!(named.nearest(), named);
        assert!(matches!(Note::Hertz(f64::NAN).nearest(), Note::Hertz(_)));
    }

    #[test]
    fn what_is_written_is_read_back() {
        for text in ["E4", "Eb2", "F#3", "E2 -10 c", "B3 +2.5 c", "82.4 Hz"] {
            let note: Note = text.parse().unwrap();
            assert_eq!(note.to_string(), text);
        }
    }

    #[test]
    fn what_is_no_note_is_refused() {
        for bad in [
            "", "H2", "E", "E22", "Ex2", "E2 10", "E2 500 c", "Hz", "NaN Hz", "inf Hz", "1 Hz",
            "éb2", "E-1",
        ] {
            assert!(bad.parse::<Note>().is_err(), "{bad} was taken for a note");
        }
    }
}
