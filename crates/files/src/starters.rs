use crate::{DesignFile, ReadError, parse};

/// A design to start from.
#[derive(Clone, Copy, Debug)]
pub struct Starter {
    /// Its short name, as on the command line.
    pub id: &'static str,
    /// Its name on screen.
    pub title: &'static str,
    /// What it is, in a sentence.
    pub line: &'static str,
    /// The text of its design file.
    pub text: &'static str,
}

impl Starter {
    /// Its design file.
    ///
    /// # Errors
    /// None in a tested build: every starter is read by the tests.
    pub fn file(&self) -> Result<DesignFile, ReadError> {
        parse(self.text)
    }
}

macro_rules! starters {
    ($($id:literal $title:literal $line:literal)*) => {
        static ALL: &[Starter] = &[$(Starter {
            id: $id,
            title: $title,
            line: $line,
            text: include_str!(concat!("../../../assets/starters/", $id, ".ron")),
        }),*];
    };
}

starters! {
    "quay-house-3" "Quay House no. 3" "A flat solid body with a glued tenon, and two bridges to choose between."
    "quay-house-8" "Quay House no. 8" "A solid body with a carved top, a bridge on two posts and a stop tail."
    "ferry-steps" "Ferry Steps" "A one-piece slab with a zero fret and the strings wrapped over the bridge."
    "slipway-six" "Slipway six" "A screwed neck with a stepped headstock, the strings through the body."
    "night-ferry" "Night Ferry seven" "Seven strings on a long scale, the neck running through the body."
    "slipway-bass" "Slipway bass" "Four strings of 864 mm on a screwed neck."
    "slipway-fretless" "Slipway fretless" "A fretless bass on a glued tenon."
    "lock-cottage" "Lock Cottage" "A steel-strung flat-top with a domed top and a glued bridge."
    "lock-cottage-twelve" "Lock Cottage, twelve strings" "Six pairs of strings on a flat-top with a ramp under the board."
    "lock-keeper" "Lock Keeper" "Nylon strings on a flat board, twelve frets clear of the body."
    "harbour-arch" "Harbour arch" "An arched acoustic with a floating bridge and a hung tail."
    "skiff" "Skiff" "A small four-string of 430 mm with a glued bridge."
}

/// All starters.
pub fn starters() -> &'static [Starter] {
    ALL
}

/// The starter of that id.
pub fn starter(id: &str) -> Option<&'static Starter> {
    ALL.iter().find(|starter| starter.id == id)
}
