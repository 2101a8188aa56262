//! Sheets of words and tables: upright, with usual margins.

use kurbo::Affine;
use overstand_core::design::Date;
use overstand_core::units::LengthStyle;

use super::{Choices, Layer, Page};
use crate::sheet::Sheet;

/// What is to be printed, and on what.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// What the design is called; its variant's name stands beside it.
    pub design: Option<String>,
    /// The paper, upright, with its usual margins.
    pub sheet: Sheet,
    /// How lengths are written.
    pub lengths: LengthStyle,
    /// The day that is printed.
    pub date: Date,
}

impl Wanted {
    /// The same as choices of paper.
    pub(super) fn choices(&self) -> Choices {
        Choices {
            sheet: self.sheet.clone(),
            margins: self.sheet.usual_margins(),
            lengths: self.lengths,
            ..Choices::usual(self.date)
        }
    }

    /// Width and height between the margins, mm.
    pub(super) fn room(&self) -> (f64, f64) {
        let margins = self.sheet.usual_margins();
        let (across, up) = self.sheet.size(false);
        (across - margins.left - margins.right, up - margins.top - margins.bottom)
    }

    /// Whether it is a sheet with so much room.
    pub(super) fn holds(&self, least: (f64, f64)) -> bool {
        let room = self.room();
        !matches!(self.sheet, Sheet::Roll { .. }) && room.0 >= least.0 && room.1 >= least.1
    }

    /// A page with what stands on it.
    pub(super) fn page(&self, number: usize, layers: Vec<Layer>) -> Page {
        let margins = self.sheet.usual_margins();
        let (width, height) = self.sheet.size(false);
        Page {
            label: number.to_string(),
            width,
            height,
            to_paper: Affine::translate((margins.left, margins.bottom)),
            room: self.room(),
            layers,
            placed: Vec::new(),
        }
    }

    /// What tests ask for.
    #[cfg(test)]
    pub(super) fn of_test(sheet: &str, lengths: LengthStyle) -> Self {
        Self {
            design: Some("mine".to_owned()),
            sheet: Sheet::parse(sheet).unwrap(),
            lengths,
            date: Date::new(2026, 3, 31).unwrap(),
        }
    }
}
