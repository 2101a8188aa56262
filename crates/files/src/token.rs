//! The smallest reader of RON that can still tell keys from text and comments: it finds
//! places in a file, and never fails.

/// A piece of a text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Token<'a> {
    /// Byte at which it starts.
    pub(crate) at: usize,
    pub(crate) kind: Kind<'a>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Kind<'a> {
    /// `(`, `[` or `{`.
    Open(u8),
    /// `)`, `]` or `}`.
    Close,
    Colon,
    Comma,
    /// A name or a number.
    Word(&'a str),
    /// What stands between quotation marks, escapes and all.
    Text(&'a str),
    /// Anything else.
    Other,
}

/// The pieces of a text, without space and comments.
pub(crate) struct Tokens<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Tokens<'a> {
    pub(crate) fn of(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

    fn byte(&self, ahead: usize) -> Option<u8> {
        self.text.as_bytes().get(self.at + ahead).copied()
    }

    /// Goes on to the first byte that `stops`.
    fn skip_until(&mut self, stops: impl Fn(u8) -> bool) {
        while self.byte(0).is_some_and(|byte| !stops(byte)) {
            self.at += 1;
        }
    }

    /// What lies between two bytes; nothing if they do not bound characters.
    fn between(&self, from: usize, to: usize) -> &'a str {
        self.text.get(from..to).unwrap_or_default()
    }

    fn block_comment(&mut self) {
        let mut depth = 0_usize;
        while self.byte(0).is_some() {
            match (self.byte(0), self.byte(1)) {
                (Some(b'/'), Some(b'*')) => {
                    depth += 1;
                    self.at += 2;
                }
                (Some(b'*'), Some(b'/')) => {
                    depth -= 1;
                    self.at += 2;
                    if depth == 0 {
                        return;
                    }
                }
                _ => self.at += 1,
            }
        }
    }

    /// From an opening quotation mark to behind its end.
    fn quoted(&mut self) -> Kind<'a> {
        self.at += 1;
        let from = self.at;
        loop {
            self.skip_until(|byte| matches!(byte, b'"' | b'\\'));
            match self.byte(0) {
                Some(b'\\') => self.at += 2,
                _ => break,
            }
        }
        let to = self.at.min(self.text.len());
        self.at = to + 1;
        Kind::Text(self.between(from, to))
    }

    /// From the `#` or `"` after an `r`, if a raw text starts there.
    fn raw(&mut self) -> Option<Kind<'a>> {
        let hashes = (0..).take_while(|&ahead| self.byte(ahead) == Some(b'#')).count();
        if self.byte(hashes) != Some(b'"') {
            return None;
        }
        self.at += hashes + 1;
        let from = self.at;
        loop {
            self.skip_until(|byte| byte == b'"');
            let to = self.at;
            self.at += 1;
            let closed = (0..hashes).all(|ahead| self.byte(ahead) == Some(b'#'));
            if to >= self.text.len() || closed {
                self.at += hashes;
                return Some(Kind::Text(self.between(from, to)));
            }
        }
    }
}

fn in_word(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'.' | b'+' | b'-') || !byte.is_ascii()
}

impl<'a> Iterator for Tokens<'a> {
    type Item = Token<'a>;

    fn next(&mut self) -> Option<Token<'a>> {
        loop {
            let at = self.at;
            let kind = match self.byte(0)? {
                byte if byte.is_ascii_whitespace() => {
                    self.at += 1;
                    continue;
                }
                b'/' if self.byte(1) == Some(b'/') => {
                    self.skip_until(|byte| byte == b'\n');
                    continue;
                }
                b'/' if self.byte(1) == Some(b'*') => {
                    self.block_comment();
                    continue;
                }
                b'"' => self.quoted(),
                byte if in_word(byte) => {
                    self.skip_until(|byte| !in_word(byte));
                    match self.between(at, self.at) {
                        word @ ("r" | "br") => match self.raw() {
                            Some(raw) => raw,
                            // r#name is a name
                            None if self.byte(0) == Some(b'#') => {
                                self.at += 1;
                                continue;
                            }
                            None => Kind::Word(word),
                        },
                        word => Kind::Word(word),
                    }
                }
                byte => {
                    self.at += 1;
                    match byte {
                        b'(' | b'[' | b'{' => Kind::Open(byte),
                        b')' | b']' | b'}' => Kind::Close,
                        b':' => Kind::Colon,
                        b',' => Kind::Comma,
                        // a character, which might be a quotation mark
                        b'\'' if self.byte(0) == Some(b'"') && self.byte(1) == Some(b'\'') => {
                            self.at += 2;
                            Kind::Other
                        }
                        _ => Kind::Other,
                    }
                }
            };
            return Some(Token { at, kind });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<Kind<'_>> {
        Tokens::of(text).map(|token| token.kind).collect()
    }

    #[test]
    fn text_and_comments_are_told_from_keys() {
        use Kind::{Close, Colon, Comma, Open, Text, Word};
        assert_eq!(
            kinds("(/* a: /* b */ c */ name: \"q\\\"x\", // d: 1\r\n é: -1.5e3, r#\"a\"b\"# )"),
            [
                Open(b'('),
                Word("name"),
                Colon,
                Text("q\\\"x"),
                Comma,
                Word("é"),
                Colon,
                Word("-1.5e3"),
                Comma,
                Text("a\"b"),
                Close
            ]
        );
    }

    #[test]
    fn broken_text_comes_to_an_end() {
        for text in ["\"", "\"\\", "\"é\\", "r\"", "r#\"a\"", "r#", "/*", "/", "'\"'", "r#a:", "\0"]
        {
            assert!(kinds(text).len() <= 2, "{text}");
        }
    }
}
