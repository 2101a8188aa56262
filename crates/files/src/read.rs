use std::fs::File;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

use overstand_core::design::Design;
use ron::Options;
use ron::extensions::Extensions;

use crate::explain::explain;
use crate::file::{DesignFile, FORMAT, OnDisk};
use crate::outline::{Position, find, format_number, given_twice, paths_of};

/// Largest file that is read, in bytes: 16 MiB, some hundred times what a design takes.
pub const LARGEST_FILE: u64 = 16 * 1024 * 1024;

/// Why a text is not a design file. Lines and columns count from 1.
#[derive(Debug, thiserror::Error)]
pub enum ReadError {
    /// It cannot be read at all.
    #[error("cannot read {}: {source}", path.display())]
    Io {
        /// What the system says.
        source: io::Error,
        /// The file.
        path: PathBuf,
    },
    /// It is far larger than any design.
    #[error("larger than {} MiB, expected a design file", LARGEST_FILE / (1024 * 1024))]
    TooLarge,
    /// It is no text.
    #[error("line {line}, column {column}: not text in UTF-8, expected a design file")]
    NotUtf8 {
        /// The line.
        line: usize,
        /// The column.
        column: usize,
    },
    /// It is not written as a design file is.
    #[error("line {line}, column {column}: {says}")]
    Syntax {
        /// The line.
        line: usize,
        /// The column.
        column: usize,
        /// What was found and what was expected.
        says: String,
    },
    /// It is written well, but makes no sense as a design.
    #[error("line {line}, column {column}: {place}: {says}{}", and_more(*more))]
    Nonsense {
        /// The line.
        line: usize,
        /// The column.
        column: usize,
        /// The key, or the name of a list; with the variant where there are several.
        place: String,
        /// What was found and what was expected.
        says: String,
        /// How many more faults there are.
        more: usize,
    },
    /// It was written by a later version of the program.
    #[error(
        "written by a later version: format {found}, this one knows up to {known}; it is left as it is"
    )]
    LaterVersion {
        /// Its format.
        found: u64,
        /// The latest that is known here.
        known: u64,
    },
}

fn and_more(more: usize) -> String {
    if more == 0 { String::new() } else { format!(" (and {more} more)") }
}

impl ReadError {
    /// Line and column, where there is one.
    pub fn position(&self) -> Option<(usize, usize)> {
        match self {
            Self::NotUtf8 { line, column }
            | Self::Syntax { line, column, .. }
            | Self::Nonsense { line, column, .. } => Some((*line, *column)),
            Self::Io { .. } | Self::TooLarge | Self::LaterVersion { .. } => None,
        }
    }
}

/// How a design file is read and written: what may be left out is given plainly.
pub(crate) fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME).with_recursion_limit(64)
}

/// Reads a design file.
///
/// # Errors
/// [`ReadError`], with line and column where there is a place to name.
pub fn read(path: &Path) -> Result<DesignFile, ReadError> {
    parse_bytes(&read_bytes(path)?)
}

/// What stands in a file, if it is not too large.
pub(crate) fn read_bytes(path: &Path) -> Result<Vec<u8>, ReadError> {
    let io = |source| ReadError::Io { source, path: path.to_owned() };
    let file = File::open(path).map_err(io)?;
    if file.metadata().map_err(io)?.len() > LARGEST_FILE {
        return Err(ReadError::TooLarge);
    }
    let mut bytes = Vec::new();
    // the length is not known of a pipe, and may grow
    file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(io)?;
    if bytes.len() as u64 > LARGEST_FILE { Err(ReadError::TooLarge) } else { Ok(bytes) }
}

fn parse_bytes(bytes: &[u8]) -> Result<DesignFile, ReadError> {
    match std::str::from_utf8(bytes) {
        Ok(text) => parse(text),
        Err(error) => {
            let sound = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
            let Position { line, column } = Position::of(&sound, sound.len());
            Err(ReadError::NotUtf8 { line, column })
        }
    }
}

/// Reads a design file from its text.
///
/// # Errors
/// [`ReadError`], with line and column where there is a place to name.
pub fn parse(text: &str) -> Result<DesignFile, ReadError> {
    if text.len() as u64 > LARGEST_FILE {
        return Err(ReadError::TooLarge);
    }
    // some editors put a byte order mark in front
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let syntax = |Position { line, column }, says| ReadError::Syntax { line, column, says };
    if text.trim().is_empty() {
        return Err(syntax(
            Position { line: 1, column: 1 },
            "the file is empty, expected a design".to_owned(),
        ));
    }
    check_format(text)?;
    let OnDisk { active, variants, .. } =
        options().from_str::<OnDisk<Vec<Design>>>(text).map_err(|error| {
            let (position, says) = explain(text, &error);
            syntax(position, says)
        })?;
    if let Some((table, at)) = given_twice(text) {
        return Err(syntax(Position::of(text, at), format!("{table}: this key is given twice")));
    }
    let file = DesignFile { variants, active };
    check_sense(text, &file)?;
    Ok(file)
}

/// Whether the file is of a format that is known. Asked first, of the bare text: a
/// later format may hold anything.
fn check_format(text: &str) -> Result<(), ReadError> {
    if let Some(found) = later_format(text) {
        return Err(ReadError::LaterVersion { found, known: FORMAT });
    }
    let (position, says) = match format_number(text) {
        Some((number, _)) if number.parse() == Ok(FORMAT) => return Ok(()),
        Some((number, at)) => {
            let short: String = number.chars().take(20).collect();
            (Position::of(text, at), format!("found format {short}, expected {FORMAT}"))
        }
        None => (
            Position { line: 1, column: 1 },
            format!("not a design file, expected it to begin with `(format: {FORMAT},`"),
        ),
    };
    let Position { line, column } = position;
    Err(ReadError::Syntax { line, column, says })
}

/// The format of a text that a later version wrote; none of any other text.
pub(crate) fn later_format(text: &str) -> Option<u64> {
    let (number, _) = format_number(text)?;
    let digits = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
    // a number that is too large for us is late enough
    let found = digits.then(|| number.parse().unwrap_or(u64::MAX))?;
    (found > FORMAT).then_some(found)
}

fn check_sense(text: &str, file: &DesignFile) -> Result<(), ReadError> {
    let faults = file.faults();
    let Some((variant, fault)) = faults.first() else {
        return Ok(());
    };
    let at = find(text, &paths_of(*variant, &fault.place, &fault.says)).unwrap_or(0);
    let Position { line, column } = Position::of(text, at);
    let place = match variant.and_then(|index| file.variants.get(index)) {
        Some(design) if file.variants.len() > 1 => {
            let name: String = design.name.chars().take(40).collect();
            format!("variant `{name}`, {}", fault.place)
        }
        _ => fault.place.clone(),
    };
    Err(ReadError::Nonsense {
        line,
        column,
        place,
        says: fault.says.clone(),
        more: faults.len() - 1,
    })
}
