//! What the window remembers from one day to the next. Never part of a design.

use std::path::{Path, PathBuf};

use crate::motion::Motion;
use overstand_core::units::LengthStyle;
use serde::{Deserialize, Serialize};

use crate::printing::PaperChoices;
use crate::view::Arrangement;

/// Most files kept as recent ones.
const MOST_RECENT: usize = 8;

/// Light, dark, or as the system is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThemeChoice {
    /// As the system is.
    #[default]
    System,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

/// What the window remembers: kept by the program that opens it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Preferences {
    /// Light or dark.
    pub theme: ThemeChoice,
    /// How lengths are written.
    pub units: LengthStyle,
    /// Whether what a change moved glows for a moment.
    pub motion: Motion,
    /// The page that was shown, by its name; an unknown one is the first.
    pub page: String,
    /// Shares of the height that the three canvases take.
    pub shares: [f32; 3],
    /// How the drawings of two designs stand to each other.
    pub arrangement: Arrangement,
    /// Files that were open, the latest first.
    pub recent: Vec<PathBuf>,
    /// What was chosen for paper.
    pub paper: PaperChoices,
    /// What to do first was read, so that it need not be said again. Whoever has preferences
    /// from before it was said has no need of it.
    #[serde(default = "known")]
    pub welcomed: bool,
}

fn known() -> bool {
    true
}

impl Default for Preferences {
    fn default() -> Self {
        Self {
            theme: ThemeChoice::System,
            units: LengthStyle::Millimetres,
            motion: Motion::System,
            page: String::new(),
            shares: [0.28, 0.31, 0.41],
            arrangement: Arrangement::default(),
            recent: Vec::new(),
            paper: PaperChoices::default(),
            welcomed: false,
        }
    }
}

impl Preferences {
    /// Puts a file at the head of the recent ones.
    pub(crate) fn remember(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|other| *other != path);
        self.recent.insert(0, path);
        self.recent.truncate(MOST_RECENT);
    }

    /// What was read back may have been written by hand or by another version.
    pub(crate) fn sound(mut self) -> Self {
        let usable =
            self.shares.iter().all(|share| share.is_finite() && (0.05..1.0).contains(share));
        let sum: f32 = self.shares.iter().sum();
        if usable {
            self.shares = self.shares.map(|share| share / sum);
        } else {
            self.shares = Self::default().shares;
        }
        self.recent.truncate(MOST_RECENT);
        self.paper = self.paper.sound();
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_latest_file_stands_first_and_once() {
        let mut preferences = Preferences::default();
        for file in ["/a", "/b", "/a"] {
            preferences.remember(Path::new(file));
        }
        assert_eq!(preferences.recent, [Path::new("/a"), Path::new("/b")]);
        for number in 0..20 {
            preferences.remember(Path::new(&format!("/{number}")));
        }
        assert_eq!(preferences.recent.len(), MOST_RECENT);
    }

    #[test]
    fn nonsense_is_not_believed() {
        let odd = Preferences { shares: [f32::NAN, 2.0, -1.0], ..Preferences::default() };
        assert_eq!(odd.sound(), Preferences::default());
        let scaled = Preferences { shares: [0.2, 0.2, 0.2], ..Preferences::default() }.sound();
        assert!((scaled.shares.iter().sum::<f32>() - 1.0).abs() < 1e-6);
    }
}
