//! What the maker chose for paper, as it is remembered from one day to the next. Never part of
//! a design.

use std::collections::BTreeSet;

use overstand_core::design::Date;
use overstand_core::units::LengthStyle;
use overstand_drawing::correction::Correction;
use overstand_drawing::dxf::Release;
use overstand_drawing::output::Format;
use overstand_drawing::paper::{Choices, USUAL_OVERLAP};
use overstand_drawing::part::PartKind;
use overstand_drawing::sheet::{Margins, Orientation, Sheet};
use serde::{Deserialize, Serialize};

/// What is put on paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Subject {
    /// The drawing and its parts at full size.
    #[default]
    Drawing,
    /// The steps of the work, to tick off at the bench.
    CutSheet,
    /// The rounds of the dry fit.
    FittingLog,
    /// Every step of the reckoning, to be followed by hand.
    WorkedSheet,
}

/// Which way sheets lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Lies {
    /// Whichever takes fewer sheets.
    #[default]
    Fewest,
    /// As the size is given.
    Portrait,
    /// Turned by a quarter.
    Landscape,
}

/// Which kind of file is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum FileKind {
    /// Sheets for a printer.
    #[default]
    Pdf,
    /// One drawing for a cutter or for editing.
    Svg,
    /// One drawing for a cutter or for construction programs.
    Dxf,
}

/// The choices of paper, as they are remembered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct PaperChoices {
    /// What is put on paper.
    pub subject: Subject,
    /// Parts that are left out, by what they are asked for with.
    pub without: BTreeSet<String>,
    /// The paper, as the command line takes it.
    pub sheet: String,
    /// Which way it lies.
    pub lies: Lies,
    /// Left, top, right and bottom, mm; none for what is usual for the paper.
    pub margins: Option<[f64; 4]>,
    /// By how much tiles overlap at least, mm.
    pub overlap: f64,
    /// How lengths are written; none for as in the window.
    pub units: Option<LengthStyle>,
    /// Whether wood is tinted.
    pub tinted: bool,
    /// What the printer's check bars measured, as the command line takes it; empty without
    /// correction.
    pub measured: String,
    /// The day on which they were measured.
    pub measured_on: String,
    /// Which kind of file is written.
    pub kind: FileKind,
    /// In SVG: words become outlines.
    pub outlined: bool,
    /// In DXF: the old release.
    pub r12: bool,
    /// In DXF: nothing but straight pieces.
    pub polylines: bool,
}

impl Default for PaperChoices {
    fn default() -> Self {
        Self {
            subject: Subject::Drawing,
            without: BTreeSet::new(),
            sheet: "A4".to_owned(),
            lies: Lies::Fewest,
            margins: None,
            overlap: USUAL_OVERLAP,
            units: None,
            tinted: false,
            measured: String::new(),
            measured_on: String::new(),
            kind: FileKind::Pdf,
            outlined: false,
            r12: false,
            polylines: false,
        }
    }
}

impl PaperChoices {
    /// The paper.
    pub(crate) fn paper(&self) -> Sheet {
        Sheet::parse(&self.sheet).unwrap_or_default()
    }

    /// Its margins: left, top, right and bottom, mm.
    pub(crate) fn margins(&self) -> [f64; 4] {
        let usual = self.paper().usual_margins();
        self.margins.unwrap_or([usual.left, usual.top, usual.right, usual.bottom])
    }

    /// The correction of the printer, if there is one.
    pub(crate) fn correction(&self) -> Option<Correction> {
        Correction::parse(&self.measured, self.measured_on.parse().ok()?).ok()
    }

    /// How lengths are written, in a window that writes them in a style.
    pub(crate) fn lengths(&self, window: LengthStyle) -> LengthStyle {
        self.units.unwrap_or(window)
    }

    /// What is to be laid out on a day, from a window that writes lengths in a style.
    pub(crate) fn choices(&self, window: LengthStyle, date: Date) -> Choices {
        let [left, top, right, bottom] = self.margins();
        Choices {
            parts: PartKind::all().filter(|part| !self.without.contains(part.id())).collect(),
            sheet: self.paper(),
            orientation: match self.lies {
                Lies::Fewest => Orientation::Fewest,
                Lies::Portrait => Orientation::Portrait,
                Lies::Landscape => Orientation::Landscape,
            },
            margins: Margins { left, top, right, bottom },
            overlap: self.overlap,
            lengths: self.lengths(window),
            tinted: self.tinted,
            correction: self.correction(),
            date,
        }
    }

    /// The kind of file with what was chosen for it. Sheets of words are for a printer alone.
    pub(crate) fn format(&self) -> Format {
        match (self.subject, self.kind) {
            (Subject::CutSheet | Subject::FittingLog | Subject::WorkedSheet, _)
            | (_, FileKind::Pdf) => Format::Pdf,
            (_, FileKind::Svg) => Format::Svg { outlined: self.outlined },
            (_, FileKind::Dxf) => Format::Dxf {
                release: if self.r12 { Release::R12 } else { Release::R2000 },
                polylines: self.polylines,
            },
        }
    }

    /// What was read back may have been written by hand or by another version.
    pub(crate) fn sound(mut self) -> Self {
        let usual = Self::default();
        if Sheet::parse(&self.sheet).is_err() {
            self.sheet = usual.sheet;
        }
        let all = self.margins.iter().flatten().chain([&self.overlap]);
        if !all.into_iter().all(|length| (0.0..1000.0).contains(length)) {
            (self.margins, self.overlap) = (None, usual.overlap);
        }
        if self.correction().is_none() {
            self.measured.clear();
            self.measured_on.clear();
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nonsense_is_not_believed() {
        let odd = PaperChoices {
            sheet: "A9".to_owned(),
            margins: Some([f64::NAN; 4]),
            overlap: -3.0,
            measured: "94x94".to_owned(),
            measured_on: "soon".to_owned(),
            ..PaperChoices::default()
        };
        assert_eq!(odd.sound(), PaperChoices::default());
    }

    #[test]
    fn what_was_chosen_is_what_is_laid_out() {
        let chosen = PaperChoices {
            without: ["neck".to_owned()].into(),
            sheet: "Letter".to_owned(),
            measured: "99.4x100.2".to_owned(),
            measured_on: "2026-03-31".to_owned(),
            ..PaperChoices::default()
        };
        let choices = chosen.choices(LengthStyle::InchDecimal, Date::new(2026, 4, 1).unwrap());
        assert!(!choices.parts.contains(&PartKind::Neck) && choices.parts.len() > 5);
        assert_eq!(choices.margins, Margins::all(12.7));
        assert_eq!(choices.lengths, LengthStyle::InchDecimal);
        assert_eq!(choices.correction.unwrap().on.to_string(), "2026-03-31");
        assert_eq!(chosen.clone().sound(), chosen);
    }
}
