//! From choices to a file: the same for the command line and the window.

use std::path::Path;

use overstand_core::study::Study;
use overstand_core::units::LengthStyle;

use crate::dxf::{self, Release};
use crate::paper::{Choices, Paper, PaperError, lay, single};
use crate::pdf::{self, PdfError};
use crate::svg;

/// A kind of file, and how it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Sheets for a printer.
    Pdf,
    /// All parts in one drawing.
    Svg {
        /// Words become outlines, for cutters that have no fonts.
        outlined: bool,
    },
    /// All parts in one drawing.
    Dxf {
        /// Which release of the format.
        release: Release,
        /// Nothing but straight pieces.
        polylines: bool,
    },
}

impl Format {
    /// The ending of its files' names.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg { .. } => "svg",
            Self::Dxf { .. } => "dxf",
        }
    }

    /// Whether a path has the ending of its files, in any letters.
    pub fn is_of(self, path: &Path) -> bool {
        path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(self.ending()))
    }
}

/// How far the work is: so many steps of so many are done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Done.
    pub done: usize,
    /// All of them.
    pub all: usize,
}

/// Why there is no file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum OutputError {
    /// It cannot be laid out.
    #[error(transparent)]
    Paper(#[from] PaperError),
    /// It cannot be written as PDF.
    #[error(transparent)]
    Pdf(#[from] PdfError),
}

impl OutputError {
    /// What it says, with lengths in the style that is asked for.
    pub fn says(&self, lengths: LengthStyle) -> String {
        match self {
            Self::Paper(error) => error.says(lengths),
            Self::Pdf(error) => error.to_string(),
        }
    }
}

/// What was made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Made {
    /// The file.
    pub bytes: Vec<u8>,
    /// How many sheets it has.
    pub sheets: usize,
}

/// The chosen parts of a study as a file of a kind.
///
/// `goes_on` hears how far it is and says whether to go on; none is made when it says no.
///
/// # Errors
/// [`OutputError`].
pub fn make(
    study: &Study,
    choices: &Choices,
    format: Format,
    goes_on: &mut dyn FnMut(Progress) -> bool,
) -> Result<Option<Made>, OutputError> {
    // first all is laid out
    if !goes_on(Progress { done: 0, all: 2 }) {
        return Ok(None);
    }
    if format == Format::Pdf {
        return sheets(&lay(study, choices)?, goes_on);
    }
    let page = single(study, choices)?;
    if !goes_on(Progress { done: 1, all: 2 }) {
        return Ok(None);
    }
    let text = match format {
        Format::Svg { outlined } => svg::page(&page, outlined),
        Format::Dxf { release, polylines } => dxf::dxf(&page, release, polylines),
        // sheets are made above
        Format::Pdf => String::new(),
    };
    Ok(Some(Made { bytes: text.into_bytes(), sheets: 1 }))
}

/// Sheets that are laid out as a PDF. See [`make`].
///
/// # Errors
/// [`OutputError`].
pub fn sheets(
    paper: &Paper,
    goes_on: &mut dyn FnMut(Progress) -> bool,
) -> Result<Option<Made>, OutputError> {
    let all = paper.pages.len() + 1;
    let bytes = pdf::pdf_while(paper, &mut |pages| goes_on(Progress { done: 1 + pages, all }))?;
    Ok(bytes.map(|bytes| Made { bytes, sheets: paper.pages.len() }))
}

#[cfg(test)]
mod tests {
    use overstand_core::design::Date;
    use overstand_core::testing::worked_example;

    use super::*;

    const ALL: [Format; 3] = [
        Format::Pdf,
        Format::Svg { outlined: false },
        Format::Dxf { release: Release::R12, polylines: false },
    ];

    fn choices() -> Choices {
        Choices::usual(Date::new(2026, 3, 31).unwrap())
    }

    #[test]
    fn each_kind_is_made_and_told_of() {
        let study = Study::of(&worked_example());
        for format in ALL {
            let mut heard = Vec::new();
            let made = make(&study, &choices(), format, &mut |progress| {
                heard.push(progress);
                true
            });
            assert!(!made.unwrap().unwrap().bytes.is_empty());
            assert!(heard.len() >= 2 && heard.iter().all(|progress| progress.done < progress.all));
            assert!(heard.windows(2).all(|pair| pair[0].done < pair[1].done), "{heard:?}");
        }
    }

    #[test]
    fn it_stops_at_every_step_where_it_is_told_to() {
        let study = Study::of(&worked_example());
        for format in ALL {
            let steps = |after: usize| {
                let mut heard = 0;
                let made = make(&study, &choices(), format, &mut |_| {
                    heard += 1;
                    heard <= after
                });
                (made.unwrap().is_some(), heard)
            };
            let (made, all) = steps(usize::MAX);
            assert!(made);
            for after in 0..all {
                assert_eq!(steps(after), (false, after + 1), "{format:?}");
            }
        }
    }

    #[test]
    fn an_ending_may_have_any_letters() {
        assert!(Format::Pdf.is_of(Path::new("a/b.PDF")));
        assert!(!Format::Pdf.is_of(Path::new("a.pdf/b")));
    }
}
