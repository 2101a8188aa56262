//! What the RON reader found, in the words of the bench.

use overstand_core::dimension::nearest;
use ron::error::{Error, SpannedError};

use crate::outline::{Position, path_before};

/// Where reading stopped, and why.
pub(crate) fn explain(text: &str, error: &SpannedError) -> (Position, String) {
    let span = &error.span.start;
    let at = Position { line: span.line.max(1), column: span.col.max(1) }.byte(text);
    // the reader may have stopped before the space in front of what is wrong
    let rest = text.get(at..).unwrap_or_default();
    let position = match rest.trim_start() {
        "" => Position::of(text, at),
        wrong => Position::of(text, text.len() - wrong.len()),
    };
    let says = says(text, position, &error.code);
    (position, says)
}

fn says(text: &str, position: Position, error: &Error) -> String {
    match error {
        Error::NoSuchStructField { expected, found, .. } => unknown("field", found, expected),
        Error::NoSuchEnumVariant { expected, found, .. } => unknown("kind", found, expected),
        Error::MissingStructField { field, .. } => {
            format!("`{field}` is missing here, after `{}`", path_before(text, position.byte(text)))
        }
        Error::DuplicateStructField { field, .. } => format!("`{field}` is given twice"),
        Error::ExceededRecursionLimit => "brackets are nested too deep".to_owned(),
        Error::Eof => {
            "the file ends too early; a bracket or a quotation mark is not closed".to_owned()
        }
        Error::TrailingCharacters => "expected nothing more after the last bracket".to_owned(),
        Error::ExpectedComma => "expected a comma or a closing bracket".to_owned(),
        Error::ExpectedFloat => "expected a number".to_owned(),
        Error::ExpectedInteger | Error::IntegerOutOfBounds => {
            "expected a whole number from 0 to 255".to_owned()
        }
        Error::ExpectedString => "expected words in quotation marks".to_owned(),
        Error::ExpectedNamedStructLike(_) | Error::ExpectedStructLike => "expected `(`".to_owned(),
        Error::ExpectedArray => "expected `[`".to_owned(),
        Error::ExpectedMap => "expected `{`".to_owned(),
        Error::SuggestRawIdentifier(found) | Error::InvalidIdentifier(found)
            if found.starts_with(|letter: char| letter.is_ascii_digit()) =>
        {
            "expected the name of a field; decimals stand after a point, not a comma".to_owned()
        }
        Error::SuggestRawIdentifier(_)
        | Error::InvalidIdentifier(_)
        | Error::ExpectedIdentifier => "expected the name of a field".to_owned(),
        Error::Message(message) => message.clone(),
        other => {
            let message = other.to_string();
            let mut letters = message.chars();
            letters
                .next()
                .map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
        }
    }
}

fn unknown(what: &str, found: &str, expected: &[&str]) -> String {
    let short: String = found.chars().take(60).collect();
    match nearest(&short, expected.iter().copied()) {
        Some(meant) => format!("there is no {what} `{short}` here; did you mean `{meant}`?"),
        None => {
            format!("there is no {what} `{short}` here, expected one of {}", expected.join(", "))
        }
    }
}
