//! Formulas as they are written: taken apart, with numbers put in, and reckoned out as a
//! pocket calculator set to degrees does.
//!
//! What stands before `=` names the result, and what follows a comma outside brackets is a
//! remark: neither is part of the sum.

use super::Term;

/// The names that are functions, the longer before what they begin with.
const FUNCTIONS: [&str; 9] = ["atan2", "atan", "tan", "sin", "cos", "log", "min", "max", "√"];

/// A piece of a formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Token<'a> {
    /// The term of that place in the list.
    Symbol(usize),
    /// Digits.
    Number(&'a str),
    /// A function's name.
    Function(&'a str),
    /// The ratio of a circle to its diameter.
    Pi,
    /// One of `+ - * / ^ ( ) ,` and `|`.
    Sign(char),
    /// A power or the sign of degrees behind a value.
    Behind(char),
}

impl Token<'_> {
    /// Whether a value can begin with it.
    fn begins(self) -> bool {
        matches!(
            self,
            Self::Symbol(_) | Self::Number(_) | Self::Function(_) | Self::Pi | Self::Sign('(')
        )
    }

    /// Whether a value can end with it.
    fn ends(self) -> bool {
        matches!(
            self,
            Self::Symbol(_) | Self::Number(_) | Self::Pi | Self::Behind(_) | Self::Sign(')')
        )
    }
}

fn is_of_name(letter: char) -> bool {
    // a power is a number to Unicode, yet no part of a name
    letter.is_alphabetic() || letter.is_ascii_digit() || letter == '_'
}

/// The sum of a formula, without the name before it and the remark behind it.
fn sum(formula: &str) -> &str {
    let mut depth = 0;
    let mut end = formula.len();
    let mut start = 0;
    for (at, letter) in formula.char_indices() {
        match letter {
            '(' => depth += 1,
            ')' => depth -= 1,
            ',' if depth == 0 => {
                end = at;
                break;
            }
            '=' if depth == 0 => start = at + 1,
            _ => {}
        }
    }
    formula[start..end].trim()
}

/// Takes a formula apart; none where something in it is not understood.
pub(crate) fn tokens<'a>(formula: &'a str, terms: &[Term]) -> Option<Vec<Token<'a>>> {
    let mut rest = sum(formula);
    let mut found = Vec::new();
    while let Some(letter) = rest.chars().next() {
        if letter.is_whitespace() {
            rest = &rest[letter.len_utf8()..];
            continue;
        }
        let (token, length) = symbol(rest, terms).or_else(|| plain(rest, letter))?;
        found.push(token);
        rest = &rest[length..];
    }
    Some(found)
}

/// The longest symbol that the text begins with.
fn symbol<'a>(text: &str, terms: &[Term]) -> Option<(Token<'a>, usize)> {
    terms
        .iter()
        .enumerate()
        .filter(|(_, term)| {
            let symbol = term.symbol;
            let goes_on = |rest: &str| rest.starts_with(is_of_name) && symbol.ends_with(is_of_name);
            !symbol.is_empty() && text.strip_prefix(symbol).is_some_and(|rest| !goes_on(rest))
        })
        .max_by_key(|(_, term)| term.symbol.len())
        .map(|(place, term)| (Token::Symbol(place), term.symbol.len()))
}

/// What is no symbol.
fn plain(text: &str, letter: char) -> Option<(Token<'_>, usize)> {
    let of_number = |letter: char| letter.is_ascii_digit() || letter == '.';
    if letter.is_ascii_digit() {
        let end = text.find(|letter| !of_number(letter)).unwrap_or(text.len());
        return Some((Token::Number(&text[..end]), end));
    }
    if let Some(name) = FUNCTIONS.iter().find(|name| text.starts_with(**name)) {
        return Some((Token::Function(&text[..name.len()]), name.len()));
    }
    let token = match letter {
        'π' => Token::Pi,
        '·' | '×' | '*' => Token::Sign('*'),
        '+' | '-' | '/' | '^' | '(' | ')' | ',' | '|' => Token::Sign(letter),
        '²' | '³' | '⁴' | '°' => Token::Behind(letter),
        _ => return None,
    };
    Some((token, letter.len_utf8()))
}

/// A formula with the numbers of its terms in the place of their letters, as it is typed into
/// a calculator; none where something in it is not understood.
pub(crate) fn put_in(formula: &str, terms: &[Term]) -> Option<String> {
    let mut text = String::new();
    let mut last: Option<Token<'_>> = None;
    let mut in_bars = false;
    for token in tokens(formula, terms)? {
        let opens_bar = token == Token::Sign('|') && !in_bars;
        let ended = last.is_some_and(|last| last.ends() || (last == Token::Sign('|') && !in_bars));
        if ended && (token.begins() || opens_bar) {
            text += " × ";
        } else if last.is_some_and(|last| matches!(last, Token::Function(name) if name != "√"))
            && token.begins()
            && token != Token::Sign('(')
        {
            text.push(' ');
        }
        match token {
            Token::Symbol(place) => text += &terms.get(place)?.put_in(),
            Token::Number(digits) => text += digits,
            Token::Function(name) => text += name,
            Token::Pi => text.push('π'),
            Token::Sign('*') => text += " × ",
            Token::Sign(',') => text += ", ",
            // a sign before a value stands close to it
            Token::Sign(sign @ ('+' | '-')) if ended => text += &format!(" {sign} "),
            Token::Sign(sign) | Token::Behind(sign) => text.push(sign),
        }
        if token == Token::Sign('|') {
            in_bars = !in_bars;
        }
        last = Some(token);
    }
    Some(text)
}

/// Reckons out a text without letters, as [`put_in`] makes it: angles in degrees. None where
/// it is no sum.
pub(crate) fn reckon(text: &str) -> Option<f64> {
    let tokens = tokens(text, &[])?;
    let mut calculator = Calculator { tokens: &tokens, at: 0, in_bars: false };
    let value = calculator.sum()?;
    (calculator.at == tokens.len()).then_some(value)
}

struct Calculator<'a> {
    tokens: &'a [Token<'a>],
    at: usize,
    in_bars: bool,
}

impl<'a> Calculator<'a> {
    fn peek(&self) -> Option<Token<'a>> {
        self.tokens.get(self.at).copied()
    }

    fn takes(&mut self, sign: char) -> bool {
        let is_next = self.peek() == Some(Token::Sign(sign));
        self.at += usize::from(is_next);
        is_next
    }

    fn sum(&mut self) -> Option<f64> {
        let mut value = self.product()?;
        loop {
            if self.takes('+') {
                value += self.product()?;
            } else if self.takes('-') {
                value -= self.product()?;
            } else {
                return Some(value);
            }
        }
    }

    fn product(&mut self) -> Option<f64> {
        let mut value = self.factor()?;
        loop {
            let opens_bar = self.peek() == Some(Token::Sign('|')) && !self.in_bars;
            if self.takes('*') {
                value *= self.factor()?;
            } else if self.takes('/') {
                value /= self.factor()?;
            } else if opens_bar || self.peek().is_some_and(Token::begins) {
                value *= self.factor()?;
            } else {
                return Some(value);
            }
        }
    }

    fn factor(&mut self) -> Option<f64> {
        if self.takes('-') {
            return Some(-self.factor()?);
        }
        let mut value = self.value()?;
        while let Some(Token::Behind(sign)) = self.peek() {
            self.at += 1;
            value = match sign {
                '²' => value.powi(2),
                '³' => value.powi(3),
                '⁴' => value.powi(4),
                _ => value,
            };
        }
        if self.takes('^') {
            value = value.powf(self.factor()?);
        }
        Some(value)
    }

    fn value(&mut self) -> Option<f64> {
        let token = self.peek()?;
        self.at += 1;
        match token {
            Token::Number(digits) => digits.parse().ok(),
            Token::Pi => Some(std::f64::consts::PI),
            Token::Sign('(') => {
                let outside = std::mem::replace(&mut self.in_bars, false);
                let value = self.sum()?;
                self.in_bars = outside;
                self.takes(')').then_some(value)
            }
            Token::Sign('|') => {
                self.in_bars = true;
                let value = self.sum()?;
                self.in_bars = false;
                self.takes('|').then_some(value.abs())
            }
            Token::Function(name @ ("min" | "max" | "atan2")) => {
                let (one, two) = self.pair()?;
                Some(match name {
                    "min" => one.min(two),
                    "max" => one.max(two),
                    _ => one.atan2(two).to_degrees(),
                })
            }
            Token::Function(name) => {
                let of = self.factor()?;
                Some(match name {
                    "tan" => of.to_radians().tan(),
                    "sin" => of.to_radians().sin(),
                    "cos" => of.to_radians().cos(),
                    "atan" => of.atan().to_degrees(),
                    "log" => of.log10(),
                    _ => of.sqrt(),
                })
            }
            Token::Symbol(_) | Token::Sign(_) | Token::Behind(_) => None,
        }
    }

    fn pair(&mut self) -> Option<(f64, f64)> {
        if !self.takes('(') {
            return None;
        }
        let one = self.sum()?;
        if !self.takes(',') {
            return None;
        }
        let two = self.sum()?;
        self.takes(')').then_some((one, two))
    }
}

#[cfg(test)]
mod tests {
    use super::super::{angle, length};
    use super::*;

    fn reckoned(formula: &str, terms: &[Term]) -> f64 {
        reckon(&put_in(formula, terms).unwrap()).unwrap()
    }

    #[test]
    fn numbers_take_the_place_of_letters() {
        let terms = [
            length("q", "", 2.0),
            length("u", "", -3.5),
            length("u_s", "", 10.0),
            angle("θ", "", 3.0_f64.to_radians()),
        ];
        let put = |formula| put_in(formula, &terms).unwrap();
        assert_eq!(put("v = q u + u_s², a remark"), "2 × (-3.5) + 10²");
        assert_eq!(put("q tan θ - (u_s - u)/q"), "2 × tan 3° - (10 - (-3.5))/2");
        assert_eq!(put("90° - θ"), "90° - 3°");
        assert_eq!(put("q/2 - |u - q|"), "2/2 - |(-3.5) - 2|");
        assert_eq!(put("u_s √(q)"), "10 × √(2)");
        assert_eq!(put("u_s 2^(-1/q)"), "10 × 2^(-1/2)");
        assert_eq!(put("min(q u, u_s)"), "min(2 × (-3.5), 10)");
    }

    #[test]
    fn it_is_reckoned_in_degrees_and_from_the_left() {
        let terms = [length("q", "", 2.0), angle("θ", "", 0.5)];
        let tan = 0.5_f64.tan();
        // angles are put in to five decimals of a degree
        assert!((reckoned("q tan θ", &terms) - 2.0 * tan).abs() < 2e-7);
        assert!((reckoned("(q tan θ)/q + atan2(1, 1)", &terms) - tan - 45.0).abs() < 2e-7);
        assert!((reckoned("8/q q", &terms) - 8.0).abs() < 1e-12);
        assert!((reckoned("-q² + |q - 5|", &terms) + 1.0).abs() < 1e-12);
        assert!((reckoned("2^(-12/12) + √(q²) + log(100)", &terms) - 4.5).abs() < 1e-12);
        assert!((reckoned("q max(3, 1) π", &terms) - 6.0 * std::f64::consts::PI).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_sum_is_refused() {
        for text in ["", "2 +", "(2", "2)", "tan", "min(2)", "|2", "a", "2 ? 3", ",", "atan2 2"] {
            assert_eq!(reckon(text), None, "{text}");
        }
        assert_eq!(put_in("ü + q", &[length("q", "", 2.0)]), None);
    }
}
