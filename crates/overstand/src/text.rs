//! Plain text within 80 columns, with colour only where someone looks at it.

use std::io::IsTerminal;

use overstand_core::units::unbroken;
use overstand_core::verdict::State;

/// Columns of a line.
pub(crate) const WIDTH: usize = 80;

/// Breaks words into lines that start with `indent` spaces and end before
/// [`WIDTH`]. A word that is longer than a line stands alone; a number keeps its unit
/// beside it.
pub(crate) fn wrap(words: &str, indent: usize) -> String {
    let mut text = String::new();
    let mut column = 0;
    for word in unbroken(words).split([' ', '\n']).filter(|word| !word.is_empty()) {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > WIDTH {
            text.push('\n');
            column = 0;
        }
        if column == 0 {
            text.push_str(&" ".repeat(indent));
            column = indent;
        } else {
            text.push(' ');
            column += 1;
        }
        text.push_str(&word.replace('\u{a0}', " "));
        column += length;
    }
    text.push('\n');
    text
}

/// What a colour says.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Tone {
    Good,
    Thin,
    Fails,
    Heading,
    Found,
}

impl From<State> for Tone {
    fn from(state: State) -> Self {
        match state {
            State::Good => Self::Good,
            State::Thin => Self::Thin,
            State::Fails => Self::Fails,
        }
    }
}

/// A state as mark and word, all equally wide.
pub(crate) fn marked(state: State) -> &'static str {
    match state {
        State::Good => "✓ good ",
        State::Thin => "! thin ",
        State::Fails => "✗ fails",
    }
}

/// Whether to colour.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Paint {
    on: bool,
}

impl Paint {
    /// No colour.
    #[cfg(test)]
    pub(crate) const OFF: Self = Self { on: false };

    /// Colour on a terminal, unless the environment asks for none
    /// (<https://no-color.org>).
    pub(crate) fn for_stdout() -> Self {
        let unwanted = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        let dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
        Self { on: std::io::stdout().is_terminal() && !unwanted && !dumb }
    }

    /// The text in a tone. Colour is never the only sign: the words say the same.
    pub(crate) fn tint(self, tone: Tone, text: &str) -> String {
        let code = match tone {
            Tone::Good => "32",
            Tone::Thin => "33",
            Tone::Fails => "1;31",
            Tone::Heading => "1",
            Tone::Found => "36",
        };
        if self.on { format!("\x1b[{code}m{text}\x1b[0m") } else { text.to_owned() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_before_the_last_column() {
        let words = "a maker of fretted instruments ".repeat(12);
        let text = wrap(&words, 7);
        assert!(text.lines().count() > 3);
        for line in text.lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
            assert!(line.starts_with("       ") && !line.starts_with("        "), "{line}");
        }
        assert_eq!(
            text.split_whitespace().collect::<Vec<_>>(),
            words.split_whitespace().collect::<Vec<_>>()
        );
        // the number would fit in the line, its unit would not
        let text = wrap(&format!("{} 0.12 mm.", "x".repeat(72)), 0);
        assert_eq!(text.lines().last(), Some("0.12 mm."));
        let long = "x".repeat(100);
        assert_eq!(wrap(&long, 2), format!("  {long}\n"));
    }
}
