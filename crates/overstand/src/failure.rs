//! What can be wrong with what was asked: always exit status 2.

use std::io;
use std::path::{Path, PathBuf};

use overstand_core::choice::UnknownOption;
use overstand_core::design::Fault;
use overstand_core::units::ParseError;
use overstand_files::{ReadError, SaveError};

/// Why there is no answer.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    /// What clap says, without its own `error:`.
    #[error("{0}")]
    Usage(String),
    /// It names the place itself.
    #[error("{0}")]
    CannotRead(ReadError),
    #[error("{place}: {error}")]
    NoDesign { place: String, error: ReadError },
    #[error("standard input: {0}")]
    Stdin(io::Error),
    #[error("there is no file `{path}`; did you mean the command `overstand {command}`?")]
    NoSuchCommand { path: String, command: String },
    #[error("there is no variant `{name}`, expected one of: {}", .there.join(", "))]
    UnknownVariant { name: String, there: Vec<String> },
    #[error("{0}")]
    Edit(#[from] EditError),
    #[error("--reading {0}")]
    Reading(overstand_core::dryfit::NotAReading),
    #[error("{0}")]
    Untold(String),
    #[error(
        "expected --reading, as in --reading crowns@X=250:19.0±0.1: the file's fitting log has no round to look at, or one is to be kept"
    )]
    NoReading,
    #[error("--keep: a round is kept in a file, and standard input is none")]
    KeepNowhere,
    #[error("this is not a sound design:{}", list(.0))]
    Faults(Vec<Fault>),
    #[error("there is no starter `{id}`{hint} (`overstand starters` lists them)")]
    UnknownStarter { id: String, hint: String },
    #[error("there is no command `{0}` (`overstand --help` lists them)")]
    UnknownCommand(String),
    #[error("there is no word `{term}` in the glossary{hint} (`overstand explain` lists them)")]
    UnknownTerm { term: String, hint: String },
    #[error("`{}` is there already; --force writes over it", .0.display())]
    Exists(PathBuf),
    #[error("{}", not_saved(path, error))]
    Save { path: PathBuf, error: SaveError },
    #[error("--{option} {text}: {says}")]
    Option { option: &'static str, text: String, says: String },
    #[error("--{option} is for a {for_what}, and --out is `{}`", path.display())]
    NotForThis { option: &'static str, for_what: &'static str, path: PathBuf },
    #[error("{0}")]
    Paper(#[from] overstand_drawing::paper::PaperError),
    #[error("{0}")]
    Output(#[from] overstand_drawing::output::OutputError),
    #[error("{0}")]
    Pdf(#[from] overstand_drawing::pdf::PdfError),
    #[error("cannot write to standard output: {0}")]
    Write(io::Error),
    #[error(
        "{0}\nthese commands need no display: check, strings, risk, cuts, compare, dryfit, new,\nstarters, keys, explain, paper"
    )]
    NoWindow(String),
    #[cfg(feature = "window")]
    #[error(
        "the window was taken away from outside: {0}\nwhat was not saved is kept aside and is \
         offered when the program is opened again"
    )]
    WindowLost(String),
}

/// The file is named once, by the error or before it.
fn not_saved(path: &Path, error: &SaveError) -> String {
    match error.path() {
        Some(_) => error.to_string(),
        None => format!("`{}`: {error}", path.display()),
    }
}

fn list(faults: &[Fault]) -> String {
    match faults {
        [only] => format!(" {only}"),
        several => several.iter().map(|fault| format!("\n  {fault}")).collect(),
    }
}

/// What can be wrong with `--set`, `--hold` and `--find`.
#[derive(Debug, thiserror::Error)]
pub(crate) enum EditError {
    #[error("{option} {text}: expected KEY=VALUE, as in --set joint.pitch=2.5deg")]
    NoValue { option: &'static str, text: String },
    #[error("{option} {text}: there is no key `{text}`{hint} (`overstand keys` lists them)")]
    UnknownKey { option: &'static str, text: String, hint: String },
    #[error(
        "--set {text}: there is no tolerance `{text}`{hint}\nexpected `tolerance.` and the key of a \
         dimension, as `tolerance.board.thickness` (`overstand\nkeys` lists them), or \
         `tolerance.joint.seat_mouth`, `tolerance.joint.seat_inner`"
    )]
    UnknownTolerance { text: String, hint: String },
    #[error(
        "--set {text}: expected a ±, a way of making (hand, jig, bought) or a shape (rectangular, triangular, normal){hint}"
    )]
    BadTolerance { text: String, hint: String },
    #[error("--set {key}={value}: {error}")]
    BadValue { key: String, value: String, error: ParseError },
    #[error("--set {0}")]
    BadOption(#[from] UnknownOption),
    #[error("--set {key}={value}: {found} is out of range, expected {low} to {high}")]
    OutOfRange { key: String, value: String, found: String, low: String, high: String },
    #[error("`{key}` stands in --{one} and in --{other}: expected it in one of them")]
    Twice { key: String, one: &'static str, other: &'static str },
    #[error("`{0}` is set twice: expected one value")]
    SetTwice(String),
    #[error("this design has no `{key}`{because}")]
    Lacking { key: String, because: String },
    #[error("--find {key}: it cannot be found, it takes no part in closing the layout")]
    NotFindable { key: String },
    #[error("--find {key}: it is a choice between kinds; choose with --set {key}={options}")]
    FindChoice { key: &'static str, options: String },
    #[error("--hold {key}: the design in the file does not close, so it has no value to hold")]
    NothingToHold { key: String },
    #[error("--hold {key}: its value now, {found}, is out of range, expected {low} to {high}")]
    HoldOutOfRange { key: String, found: String, low: String, high: String },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_save_names_its_file_once() {
        let path = PathBuf::from("shelf/design.ron");
        let source = io::Error::from(io::ErrorKind::PermissionDenied);
        let refused = SaveError::Io { doing: "write there", source, path: path.clone() };
        for error in [refused, SaveError::NotAFile { path: path.clone() }, SaveError::ChangedOnDisk]
        {
            let says = Failure::Save { path: path.clone(), error }.to_string();
            assert_eq!(says.matches("shelf/design.ron").count(), 1, "{says}");
        }
    }
}
