//! The grammar of a typed length, angle or number, and its value.
//!
//! ```text
//! sum      = product { ("+" | "-") product }
//! product  = slope { ("*" | "/") slope }
//! slope    = signed [ ":" signed ]                     angles only
//! signed   = { "+" | "-" } quantity
//! quantity = ( "(" sum ")" | literal ) [ unit { literal smaller-unit } ]
//! literal  = number | whole fraction | fraction
//! ```
//!
//! A fraction is one character, as in `24¾`, or two whole numbers: `24 3/4`.
//! A bare number added to a length or an angle, or standing alone, is in the
//! usual unit. A decimal comma is a decimal mark and never parts thousands.

use super::parse::ParseError;
use super::token::{Measure, Symbol, Token, Wanted, is_mark, tokens};

/// The longest text that is read, in characters.
const MAX_CHARS: usize = 200;

/// The deepest parentheses that are read.
const MAX_DEPTH: usize = 32;

/// The most characters of a text that an error repeats.
const MAX_FOUND_CHARS: usize = 24;

/// The whole text as a finite number in millimetres, degrees or none.
pub(super) fn evaluate(text: &str, wanted: Wanted) -> Result<f64, ParseError> {
    let chars: Vec<char> = text.chars().take(MAX_CHARS + 1).collect();
    if chars.len() > MAX_CHARS {
        return Err(ParseError::new(
            MAX_CHARS,
            "more text",
            format!("at most {MAX_CHARS} characters"),
        ));
    }
    let tokens = tokens(&chars, wanted);
    let mut parser = Parser { chars: &chars, tokens: &tokens, wanted, next: 0, depth: 0 };
    parser.whole()
}

/// What a number measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Number,
    Length,
    Angle,
}

impl Kind {
    const fn name(self) -> &'static str {
        match self {
            Self::Number => "a number",
            Self::Length => "a length",
            Self::Angle => "an angle",
        }
    }
}

/// A number, or a length in millimetres, or an angle in degrees.
#[derive(Clone, Copy, Debug)]
struct Value {
    amount: f64,
    kind: Kind,
}

impl Value {
    const fn number(amount: f64) -> Self {
        Self { amount, kind: Kind::Number }
    }

    const fn measured(amount: f64, measure: Measure) -> Self {
        Self {
            amount: measure.in_mm_or_degrees(amount),
            kind: if measure.is_length() { Kind::Length } else { Kind::Angle },
        }
    }
}

struct Parser<'a> {
    chars: &'a [char],
    tokens: &'a [Token],
    wanted: Wanted,
    next: usize,
    depth: usize,
}

impl Parser<'_> {
    fn whole(&mut self) -> Result<f64, ParseError> {
        if self.peek().symbol == Symbol::About {
            self.next += 1;
        }
        let value = self.sum()?;
        if self.peek().symbol != Symbol::End {
            return Err(self.unexpected_after_value());
        }
        let value = self.in_usual_unit(value);
        let fits = match self.wanted {
            Wanted::Length { .. } => value.kind == Kind::Length,
            Wanted::Angle => value.kind == Kind::Angle,
            Wanted::Number => value.kind == Kind::Number,
        };
        if fits {
            Ok(value.amount + 0.0)
        } else {
            Err(ParseError::new(0, value.kind.name(), self.wanted.name()))
        }
    }

    fn sum(&mut self) -> Result<Value, ParseError> {
        let mut left = self.product()?;
        loop {
            let operator = self.peek();
            let sign = match operator.symbol {
                Symbol::Plus => 1.0,
                Symbol::Minus => -1.0,
                _ => return Ok(left),
            };
            self.refuse_hyphen_in_mixed_number()?;
            self.next += 1;
            let mut right = self.product()?;
            if left.kind != right.kind {
                left = self.in_usual_unit(left);
                right = self.in_usual_unit(right);
            }
            if left.kind != right.kind {
                return Err(ParseError::new(
                    operator.at,
                    format!("{} and {}", left.kind.name(), right.kind.name()),
                    "both of one kind",
                ));
            }
            left.amount = finite(left.amount + sign * right.amount, operator)?;
        }
    }

    fn product(&mut self) -> Result<Value, ParseError> {
        let mut left = self.slope()?;
        loop {
            let operator = self.peek();
            let times = match operator.symbol {
                Symbol::Times => true,
                Symbol::Over => false,
                _ => return Ok(left),
            };
            self.next += 1;
            let divisor_at = self.peek().at;
            let right = self.slope()?;
            let kind = match (left.kind, right.kind) {
                (kind, Kind::Number) => kind,
                (Kind::Number, kind) if times => kind,
                (over, under) => {
                    let by = if times { "times" } else { "divided by" };
                    return Err(ParseError::new(
                        operator.at,
                        format!("{} {by} {}", over.name(), under.name()),
                        format!("{} {by} a number", self.wanted.name()),
                    ));
                }
            };
            let amount = if times {
                left.amount * right.amount
            } else {
                divide(left.amount, right.amount, divisor_at)?
            };
            left = Value { amount: finite(amount, operator)?, kind };
        }
    }

    fn slope(&mut self) -> Result<Value, ParseError> {
        let rise = self.signed()?;
        let colon = self.peek();
        if self.wanted != Wanted::Angle || colon.symbol != Symbol::Colon {
            return Ok(rise);
        }
        self.next += 1;
        let run_at = self.peek().at;
        let run = self.signed()?;
        if rise.kind != run.kind || rise.kind == Kind::Angle {
            return Err(ParseError::new(
                colon.at,
                format!("{} over {}", rise.kind.name(), run.kind.name()),
                "rise over run as two numbers or two lengths",
            ));
        }
        let tangent = finite(divide(rise.amount, run.amount, run_at)?, colon)?;
        Ok(Value { amount: tangent.atan().to_degrees(), kind: Kind::Angle })
    }

    fn signed(&mut self) -> Result<Value, ParseError> {
        let mut sign = 1.0;
        loop {
            match self.peek().symbol {
                Symbol::Plus => {}
                Symbol::Minus => sign = -sign,
                _ => break,
            }
            self.next += 1;
        }
        let mut value = self.quantity()?;
        value.amount *= sign;
        Ok(value)
    }

    fn quantity(&mut self) -> Result<Value, ParseError> {
        let (amount, whole) = if self.peek().symbol == Symbol::Open {
            let value = self.parentheses()?;
            if value.kind != Kind::Number {
                return match self.peek().symbol {
                    Symbol::Unit(_) => Err(self.unexpected("an operator")),
                    _ => Ok(value),
                };
            }
            (value.amount, false)
        } else {
            self.literal()?
        };
        let unit = self.peek();
        let Symbol::Unit(measure) = unit.symbol else {
            return Ok(Value::number(amount));
        };
        self.next += 1;
        let mut value = Value::measured(amount, measure);
        if whole {
            value.amount += self.smaller_parts(measure)?;
        }
        value.amount = finite(value.amount, unit)?;
        Ok(value)
    }

    fn parentheses(&mut self) -> Result<Value, ParseError> {
        if self.depth >= MAX_DEPTH {
            return Err(self.unexpected(format!("at most {MAX_DEPTH} parentheses in each other")));
        }
        self.depth += 1;
        self.next += 1;
        let value = self.sum()?;
        if self.peek().symbol != Symbol::Close {
            return Err(self.unexpected_after_value());
        }
        self.depth -= 1;
        self.next += 1;
        Ok(value)
    }

    /// The minutes and seconds behind whole degrees, or the seconds behind
    /// whole minutes, in degrees.
    fn smaller_parts(&mut self, mut larger: Measure) -> Result<f64, ParseError> {
        let mut sum = 0.0;
        while let Symbol::Number { value, whole } = self.peek().symbol
            && let Symbol::Unit(measure) = self.peek_at(1).symbol
            && measure.divides(larger)
        {
            if value >= 60.0 {
                return Err(self.unexpected("less than 60"));
            }
            self.next += 2;
            sum += measure.in_mm_or_degrees(value);
            larger = measure;
            if !whole {
                break;
            }
        }
        Ok(sum)
    }

    /// A number that is typed out, and whether it is whole.
    fn literal(&mut self) -> Result<(f64, bool), ParseError> {
        let first = self.peek();
        let (value, whole) = match first.symbol {
            Symbol::Number { value, whole } => (finite(value, first)?, whole),
            Symbol::Fraction(value) => (value, false),
            Symbol::End if self.next == 0 => {
                return Err(ParseError::new(0, "nothing", self.wanted.name()));
            }
            _ => return Err(self.unexpected("a number")),
        };
        self.next += 1;
        if !whole {
            return Ok((value, false));
        }
        if let Symbol::Fraction(part) = self.peek().symbol {
            self.next += 1;
            return Ok((value + part, false));
        }
        if let Some((over, under)) = self.fraction_ahead(0) {
            if over >= under {
                let text = self.text(self.peek().at, self.peek_at(2).end);
                return Err(ParseError::new(self.peek().at, text, "a fraction smaller than 1"));
            }
            self.next += 3;
            return Ok((value + over / under, false));
        }
        // In `3/4 in` the unit belongs to the fraction, not to the 4.
        if self.peek().symbol == Symbol::Over
            && let Symbol::Number { value: under, whole: true } = self.peek_at(1).symbol
            && matches!(self.peek_at(2).symbol, Symbol::Unit(_))
        {
            let value = divide(value, under, self.peek_at(1).at)?;
            self.next += 2;
            return Ok((value, false));
        }
        Ok((value, true))
    }

    /// The two whole numbers of a fraction such as `3/4` that starts so many
    /// tokens on.
    fn fraction_ahead(&self, ahead: usize) -> Option<(f64, f64)> {
        let whole = |token: Token| match token.symbol {
            Symbol::Number { value, whole: true } => Some(value),
            _ => None,
        };
        let over = whole(self.peek_at(ahead))?;
        let under = whole(self.peek_at(ahead + 2))?;
        (self.peek_at(ahead + 1).symbol == Symbol::Over).then_some((over, under))
    }

    /// At a minus: refuses `24-3/4"`, which is written for 24¾ inches and for
    /// 23¼ inches alike.
    fn refuse_hyphen_in_mixed_number(&self) -> Result<(), ParseError> {
        let Wanted::Length { inch } = self.wanted else {
            return Ok(());
        };
        let (hyphen, after) = (self.peek(), self.peek_at(1));
        let Some(before) = self.peek_back(1) else {
            return Ok(());
        };
        let starts_here = self.peek_back(2).is_none_or(|token| {
            matches!(token.symbol, Symbol::Open | Symbol::Plus | Symbol::Minus | Symbol::About)
        });
        let stands_close = before.end == hyphen.at && hyphen.end == after.at;
        let in_inches = match self.peek_at(4).symbol {
            Symbol::Unit(measure) => measure == Measure::Inch,
            _ => inch,
        };
        if let Symbol::Number { value, whole: true } = before.symbol
            && let Some((over, under)) = self.fraction_ahead(1)
            && hyphen.symbol == Symbol::Minus
            && starts_here
            && stands_close
            && in_inches
            && over < under
        {
            let text = self.text(before.at, self.peek_at(3).end);
            return Err(ParseError::new(
                before.at,
                text,
                format!(
                    "`{value} {over}/{under}` for the sum or `{value} - {over}/{under}` for the difference"
                ),
            ));
        }
        Ok(())
    }

    /// The value with the usual unit if it has none.
    fn in_usual_unit(&self, value: Value) -> Value {
        match self.wanted.usual_measure() {
            Some(measure) if value.kind == Kind::Number => Value::measured(value.amount, measure),
            _ => value,
        }
    }

    fn peek(&self) -> Token {
        self.peek_at(0)
    }

    /// The token so many further on; behind the last the end goes on.
    fn peek_at(&self, ahead: usize) -> Token {
        let end = Token { symbol: Symbol::End, at: self.chars.len(), end: self.chars.len() };
        self.tokens.get(self.next + ahead).copied().unwrap_or(end)
    }

    fn peek_back(&self, back: usize) -> Option<Token> {
        let index = self.next.checked_sub(back)?;
        self.tokens.get(index).copied()
    }

    /// The next token is not what could stand there.
    fn unexpected(&self, expected: impl Into<String>) -> ParseError {
        let token = self.peek();
        let found = match token.symbol {
            Symbol::End => "the end".to_owned(),
            _ => self.text(token.at, token.end),
        };
        ParseError::new(token.at, found, expected)
    }

    /// The next token cannot follow a complete value.
    fn unexpected_after_value(&self) -> ParseError {
        let token = self.peek();
        let before = self.peek_back(1);
        if token.symbol == Symbol::Close {
            return self.unexpected("no more closing parentheses than opening ones");
        }
        if token.symbol == Symbol::End {
            return self.unexpected("a closing parenthesis");
        }
        let is_second_mark = self.chars.get(token.at).copied().is_some_and(is_mark)
            && before.is_some_and(|before| {
                matches!(before.symbol, Symbol::Number { .. }) && before.end == token.at
            });
        if is_second_mark {
            return self.unexpected("only one decimal mark in a number");
        }
        match before.map(|before| before.symbol) {
            Some(Symbol::Unit(_)) => self.unexpected("an operator"),
            _ => self.unexpected(self.wanted.after_number()),
        }
    }

    /// A piece of the text between back ticks; long ones are cut short, and
    /// characters that would not show are spelled.
    fn text(&self, at: usize, end: usize) -> String {
        let piece = self.chars.get(at..end).unwrap_or_default();
        let mut text = String::from("`");
        for &c in piece.iter().take(MAX_FOUND_CHARS) {
            if c.is_control() {
                text.extend(c.escape_unicode());
            } else {
                text.push(c);
            }
        }
        if piece.len() > MAX_FOUND_CHARS {
            text.push('…');
        }
        text.push('`');
        text
    }
}

fn divide(over: f64, under: f64, under_at: usize) -> Result<f64, ParseError> {
    if under == 0.0 {
        Err(ParseError::new(under_at, "0", "a divisor other than 0"))
    } else {
        Ok(over / under)
    }
}

/// Lets an amount through if it has not grown beyond what can be calculated.
///
/// The longest text is too short for that; the check does not lean on it.
fn finite(amount: f64, token: Token) -> Result<f64, ParseError> {
    if amount.is_finite() {
        Ok(amount)
    } else {
        Err(ParseError::new(token.at, "a number without end", "a smaller number"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_stay_finite() {
        let token = Token { symbol: Symbol::End, at: 3, end: 3 };
        assert_eq!(finite(1e300, token), Ok(1e300));
        for amount in [f64::INFINITY, f64::NEG_INFINITY, f64::NAN] {
            assert_eq!(finite(amount, token).unwrap_err().at, 3);
        }
        assert_eq!(divide(3.0, 2.0, 4), Ok(1.5));
        assert_eq!(divide(0.0, -0.0, 4).unwrap_err().at, 4);
    }
}
