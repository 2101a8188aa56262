//! Where in a file a value stands.

use std::ops::ControlFlow;

use crate::token::{Kind, Tokens};

/// A place in a text as an editor counts it, both from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Position {
    pub(crate) line: usize,
    pub(crate) column: usize,
}

impl Position {
    /// Of a byte of the text.
    pub(crate) fn of(text: &str, at: usize) -> Self {
        let before = &text.as_bytes()[..at.min(text.len())];
        let line_start = before.iter().rposition(|&byte| byte == b'\n').map_or(0, |at| at + 1);
        Self {
            line: before.iter().filter(|&&byte| byte == b'\n').count() + 1,
            // each character has one byte that does not continue another
            column: before[line_start..].iter().filter(|&&byte| byte & 0xC0 != 0x80).count() + 1,
        }
    }

    /// The byte of the text that stands there.
    pub(crate) fn byte(self, text: &str) -> usize {
        let line_start: usize = text.split_inclusive('\n').take(self.line - 1).map(str::len).sum();
        let line = text.get(line_start..).unwrap_or_default();
        line_start + line.char_indices().nth(self.column - 1).map_or(line.len(), |(at, _)| at)
    }
}

/// Deepest nesting that is followed; a design file has less than ten levels.
const DEEPEST: usize = 100;

/// Walks through a text and names each value to `visit`: a path as
/// `/variants[1]/bridge/kind/crest_low`, and the byte where its key (or in a list, the
/// value itself) starts. A text in a list is named a second time by its content, as
/// `/found/joint.pitch`. What a kind of a part carries counts as within that part.
fn walk(text: &str, mut visit: impl FnMut(&str, usize) -> ControlFlow<()>) {
    struct Frame {
        bracket: u8,
        /// Length of the path to this level.
        path: usize,
        /// Elements of a list so far.
        elements: usize,
        /// Whether the element has begun that the next comma ends.
        begun: bool,
    }
    let mut path = String::new();
    let mut levels: Vec<Frame> = Vec::new();
    let mut tokens = Tokens::of(text).peekable();
    while let Some(token) = tokens.next() {
        if let Kind::Open(_) | Kind::Word(_) | Kind::Text(_) = token.kind
            && let Some(level) = levels.last_mut().filter(|level| level.bracket == b'[')
            && !level.begun
        {
            level.begun = true;
            level.elements += 1;
            path.truncate(level.path);
            if let Kind::Text(content) = token.kind {
                path.push('/');
                path.push_str(content);
                if visit(&path, token.at).is_break() {
                    return;
                }
                path.truncate(level.path);
            }
            path.push_str(&format!("[{}]", level.elements));
            if visit(&path, token.at).is_break() {
                return;
            }
        }
        match token.kind {
            Kind::Open(bracket) => {
                if levels.len() >= DEEPEST {
                    return;
                }
                levels.push(Frame { bracket, path: path.len(), elements: 0, begun: false });
            }
            Kind::Close => {
                if let Some(level) = levels.pop() {
                    path.truncate(level.path);
                }
            }
            Kind::Comma => {
                if let Some(level) = levels.last_mut() {
                    path.truncate(level.path);
                    level.begun = false;
                }
            }
            Kind::Word(key) | Kind::Text(key)
                if tokens.peek().is_some_and(|next| next.kind == Kind::Colon) =>
            {
                if let Some(level) = levels.last() {
                    path.truncate(level.path);
                }
                path.push('/');
                path.push_str(key);
                if visit(&path, token.at).is_break() {
                    return;
                }
            }
            Kind::Word(_) | Kind::Text(_) | Kind::Colon | Kind::Other => {}
        }
    }
}

/// Where the first of these paths that exists stands, most wanted first.
pub(crate) fn find(text: &str, wanted: &[String]) -> Option<usize> {
    let mut found = vec![None; wanted.len()];
    walk(text, |path, at| {
        if let Some(index) = wanted.iter().position(|wanted| wanted == path) {
            found[index].get_or_insert(at);
        }
        match found.first() {
            Some(None) => ControlFlow::Continue(()),
            _ => ControlFlow::Break(()),
        }
    });
    found.into_iter().flatten().next()
}

/// The last path that begins before a byte, without variant and slashes: `joint.pitch`.
pub(crate) fn path_before(text: &str, end: usize) -> String {
    let mut last = String::new();
    walk(text, |path, at| {
        if at >= end {
            return ControlFlow::Break(());
        }
        last.clear();
        last.push_str(path);
        ControlFlow::Continue(())
    });
    let parts = last.split('/').filter(|part| !part.is_empty() && !part.starts_with("variants["));
    parts.collect::<Vec<_>>().join(".")
}

/// The second of two equal keys in a table of keys, with the table's name.
pub(crate) fn given_twice(text: &str) -> Option<(String, usize)> {
    let mut seen = std::collections::BTreeSet::new();
    let mut twice = None;
    walk(text, |path, at| {
        let mut parts = path.split('/').skip(2);
        let (table, key, deeper) = (parts.next(), parts.next(), parts.next());
        if matches!(table, Some("targets" | "marks" | "limits"))
            && key.is_some()
            && deeper.is_none()
            && !seen.insert(path.to_owned())
        {
            twice = Some((table.unwrap_or_default().to_owned(), at));
            return ControlFlow::Break(());
        }
        ControlFlow::Continue(())
    });
    twice
}

/// The number that stands as `format` at the outermost level, with its byte.
pub(crate) fn format_number(text: &str) -> Option<(&str, usize)> {
    let mut levels = Vec::new();
    let mut last = [None, None];
    for token in Tokens::of(text) {
        match token.kind {
            Kind::Open(bracket) if levels.len() < DEEPEST => levels.push(bracket),
            Kind::Open(_) => return None,
            Kind::Close => {
                levels.pop();
            }
            Kind::Word(number)
                if levels == [b'('] && last == [Some(Kind::Word("format")), Some(Kind::Colon)] =>
            {
                return Some((number, token.at));
            }
            _ => {}
        }
        last = [last[1], Some(token.kind)];
    }
    None
}

/// Paths at which a fault of a design may be found in its file, most wanted first.
/// `says` is asked for a key in backticks, where the place is only a list.
pub(crate) fn paths_of(variant: Option<usize>, place: &str, says: &str) -> Vec<String> {
    let Some(variant) = variant else {
        return vec![format!("/{place}")];
    };
    let root = format!("/variants[{}]", variant + 1);
    let named = says.split('`').nth(1).unwrap_or_default();
    let mut paths: Vec<String> = match place {
        "found" | "targets" | "marks" | "limits" => {
            vec![format!("{root}/{place}/{named}"), format!("{root}/{place}")]
        }
        _ => match place.split_once(": ") {
            Some((table, key)) => vec![format!("{root}/{table}/{key}"), format!("{root}/{table}")],
            None => vec![format!("{root}/{}", within(place).replace('.', "/"))],
        },
    };
    if let Some((part, field)) = place.split_once('.') {
        // what a kind of a part carries stands one level deeper
        paths.push(format!("{root}/{part}/kind/{field}"));
        paths.push(format!("{root}/{part}/shape/{field}"));
        paths.push(format!("{root}/{part}/make/{field}"));
        paths.push(format!("{root}/targets/{place}"));
        paths.push(format!("{root}/{part}"));
    }
    paths.push(root);
    paths
}

/// The path within a design of a dimension that is called otherwise in its part.
fn within(place: &str) -> &str {
    match place {
        "board.radius_nut" => "board.shape.radius",
        "nut.zero_fret" => "nut.height",
        "body.ramp_angle" => "body.top.angle",
        "body.ramp_length" => "body.top.length",
        "body.dome_radius" => "body.top.radius",
        "body.dome_apex" => "body.top.apex",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "#![enable(implicit_some)]\n(format: 1, variants: [\n (a: Plate(low: 1), found: [\"x.y\", \"z\"]),\n (name: \"é\", b: Some((c: 2)), strings: [(p: 1), (p: 2)], marks: {\"j\": Made, \"j\": Made})])";

    #[test]
    fn values_are_found_by_their_path() {
        for (path, expected) in [
            ("/variants[1]", "(a:"),
            ("/variants[1]/a/low", "low: 1"),
            ("/variants[1]/found/z", "\"z\""),
            ("/variants[1]/found[2]", "\"z\""),
            ("/variants[2]/b/c", "c: 2"),
            ("/variants[2]/strings[2]/p", "p: 2"),
            ("/variants[2]/marks/j", "\"j\": Made, "),
        ] {
            let at = find(TEXT, &["/nowhere".to_owned(), path.to_owned()]).unwrap();
            assert!(TEXT[at..].starts_with(expected), "{path} at {}", &TEXT[at..]);
        }
        assert_eq!(find(TEXT, &["/a".to_owned()]), None);
        assert_eq!(format_number(TEXT), Some(("1", TEXT.find("1,").unwrap())));
        assert_eq!(given_twice(TEXT), Some(("marks".to_owned(), TEXT.rfind("\"j\"").unwrap())));
    }

    #[test]
    fn places_are_counted_as_an_editor_does() {
        let text = "é\r\näb\n";
        let at = text.find('b').unwrap();
        assert_eq!(Position::of(text, at), Position { line: 2, column: 2 });
        assert_eq!(Position { line: 2, column: 2 }.byte(text), at);
        assert_eq!(Position { line: 9, column: 9 }.byte(text), text.len());
        assert_eq!(Position::of(text, 99), Position { line: 3, column: 1 });
    }

    #[test]
    fn only_the_outermost_format_counts() {
        assert_eq!(format_number("(a: (format: 2), format : 3)").unwrap().0, "3");
        assert_eq!(format_number("(a: \"format: 2\" /* format: 4 */)"), None);
        assert_eq!(format_number(&"(".repeat(100_000)), None);
    }
}
