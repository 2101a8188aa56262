use crate::design::Design;
use crate::study::Study;
use crate::verdict::{CheckId, State, Word};

/// How a variant stands: a line of the sheet of all variants.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Which of the variants, from 0.
    pub index: usize,
    /// Its name.
    pub name: String,
    /// The overall word.
    pub word: Word,
    /// How many checks are good, thin and failing.
    pub counts: [usize; 3],
    /// The check with the least margin, and the margin in thin bands; none of a variant
    /// that does not close.
    pub least: Option<(CheckId, f64)>,
}

impl Standing {
    /// The standing of a variant.
    pub fn of(index: usize, design: &Design) -> Self {
        let study = Study::of(design);
        let checks = study.closed().map(|closed| closed.checks.as_slice()).unwrap_or_default();
        let count = |state| checks.iter().filter(|check| check.state == state).count();
        let least = checks
            .iter()
            .map(|check| (check.id, check.reading.margin()))
            .filter(|(_, margin)| margin.is_finite())
            .min_by(|a, b| a.1.total_cmp(&b.1));
        Self {
            index,
            name: study.design.name.trim().to_owned(),
            word: study.word(),
            counts: [count(State::Good), count(State::Thin), count(State::Fails)],
            least,
        }
    }
}

/// In which order variants are listed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    /// The largest least margin first; last what does not close.
    #[default]
    Margin,
    /// By name.
    Name,
    /// As they stand in the file.
    File,
}

impl Order {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Margin, Self::Name, Self::File];

    /// As it is typed.
    pub fn text(self) -> &'static str {
        match self {
            Self::Margin => "margin",
            Self::Name => "name",
            Self::File => "file",
        }
    }

    /// Its name, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Margin => "By margin",
            Self::Name => "By name",
            Self::File => "As in the file",
        }
    }
}

/// Brings standings into an order; equal ones stay as in the file.
pub fn sort(standings: &mut [Standing], order: Order) {
    let margin = |one: &Standing| one.least.map_or(f64::NEG_INFINITY, |(_, margin)| margin);
    standings.sort_by(|a, b| {
        let by = match order {
            Order::Margin => margin(b).total_cmp(&margin(a)),
            Order::Name => a.name.to_lowercase().cmp(&b.name.to_lowercase()),
            Order::File => std::cmp::Ordering::Equal,
        };
        by.then(a.index.cmp(&b.index))
    });
}
