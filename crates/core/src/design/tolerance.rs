use serde::{Deserialize, Serialize};

/// How a dimension is made, which says how true it usually comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Making {
    /// By hand: saw, plane, chisel and file.
    Hand,
    /// By a machine with a jig or template.
    Jig,
    /// Bought ready made.
    Bought,
}

impl Making {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Hand, Self::Jig, Self::Bought];

    /// ± as a part of that by hand (common practice, no source).
    pub(crate) fn trueness(self) -> f64 {
        match self {
            Self::Hand => 1.0,
            Self::Jig => 0.4,
            Self::Bought => 0.5,
        }
    }

    /// How the error usually lies within its ±. By hand one works toward a line, so that
    /// misses near the limit are rarer (JCGM 100:2008, 4.3.9); a jig is off by what it is
    /// off, and of a bought part the limits alone are known (4.3.7).
    pub fn spread(self) -> Spread {
        match self {
            Self::Hand => Spread::Triangular,
            Self::Jig | Self::Bought => Spread::Rectangular,
        }
    }

    /// Its word in files of settings and on the command line.
    pub fn text(self) -> &'static str {
        match self {
            Self::Hand => "hand",
            Self::Jig => "jig",
            Self::Bought => "bought",
        }
    }

    /// Its name on screen, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Hand => "Hand saw and chisel",
            Self::Jig => "Router with jig",
            Self::Bought => "Bought part",
        }
    }
}

/// How an error lies within its ±.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Spread {
    /// Anywhere within, with equal chance.
    Rectangular,
    /// Most often in the middle, never beyond.
    Triangular,
    /// Normal: ± is two standard deviations, and one in 22 lies beyond.
    Normal,
}

impl Spread {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Rectangular, Self::Triangular, Self::Normal];

    /// Standard uncertainty of an error with this ±.
    ///
    /// # Source
    /// JCGM 100:2008, 4.3.7 (a/√3), 4.3.9 (a/√6), and 4.3.4 for a normal one, whose ± is
    /// taken as an expanded uncertainty with k = 2.
    pub fn standard(self, plus_minus: f64) -> f64 {
        match self {
            Self::Rectangular => plus_minus / 3.0_f64.sqrt(),
            Self::Triangular => plus_minus / 6.0_f64.sqrt(),
            Self::Normal => plus_minus / 2.0,
        }
    }

    /// Its word on the command line and in the JSON.
    pub fn text(self) -> &'static str {
        match self {
            Self::Rectangular => "rectangular",
            Self::Triangular => "triangular",
            Self::Normal => "normal",
        }
    }
}

/// What a design says about how true one dimension is made. What is left out is usual.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tolerance {
    /// How it is made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub making: Option<Making>,
    /// ± in mm (degrees for an angle).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plus_minus: Option<f64>,
    /// How the error lies within.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<Spread>,
}

/// Largest believable ±, mm or degrees.
pub(super) const LARGEST_TOLERANCE: f64 = 20.0;
