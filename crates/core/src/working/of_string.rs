//! What is worked out for one string, and for all of them together.

use super::chain::Bench;

/// What is worked out for one string.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfString {
    /// Height of its slot over the board.
    Slot,
    /// Height of its crest over the top.
    CrestHeight,
    /// How much it bends over the saddle.
    SaddleBreak,
    /// How much it bends over the nut.
    NutBreak,
    /// Its frequency, open.
    Hertz,
    /// What it pulls.
    Pull,
    /// Its stress as a part of the strength.
    Load,
    /// What the pull stretches it by.
    Strain,
    /// How far 1 N moves it at the pluck.
    Give,
    /// What it presses on the nut.
    OnNut,
    /// What it presses on the saddle.
    OnSaddle,
    /// The compensation that it needs.
    Compensation,
    /// What is left of the saddle's travel for it.
    TravelLeft,
    /// How much nearer to the bridge a nut filed for it stands.
    NutMoved,
    /// The compensation that goes with that nut.
    CompensationWithNut,
}

impl OfString {
    /// All of them.
    pub const ALL: [Self; 15] = [
        Self::Slot,
        Self::CrestHeight,
        Self::SaddleBreak,
        Self::NutBreak,
        Self::Hertz,
        Self::Pull,
        Self::Load,
        Self::Strain,
        Self::Give,
        Self::OnNut,
        Self::OnSaddle,
        Self::Compensation,
        Self::TravelLeft,
        Self::NutMoved,
        Self::CompensationWithNut,
    ];
}

/// What strings do together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Together {
    /// They pull.
    Pull,
    /// They press on the nut.
    OnNut,
    /// They press on the bridge.
    OnSaddle,
    /// They push the bridge toward the tail.
    Forward,
}

impl Together {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Pull, Self::OnNut, Self::OnSaddle, Self::Forward];

    /// What it is, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Pull => "Pull of all strings",
            Self::OnNut => "Force of all strings on the nut",
            Self::OnSaddle => "Force of all strings on the bridge",
            Self::Forward => "Push of all strings toward the tail",
        }
    }
}

impl OfString {
    /// What it is, to stand before the name of a string.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Slot => "Slot of",
            Self::CrestHeight => "Crest height of",
            Self::SaddleBreak => "Bend over the saddle of",
            Self::NutBreak => "Bend over the nut of",
            Self::Hertz => "Frequency of",
            Self::Pull => "Pull of",
            Self::Load => "Part of its strength:",
            Self::Strain => "Stretch of",
            Self::Give => "Travel for 1 N of",
            Self::OnNut => "Force on the nut of",
            Self::OnSaddle => "Force on the saddle of",
            Self::Compensation => "Compensation of",
            Self::TravelLeft => "Travel of the saddle left for",
            Self::NutMoved => "Nut filed for",
            Self::CompensationWithNut => "Compensation with a nut filed for",
        }
    }

    pub(super) fn put(self, bench: &mut Bench<'_>, string: usize) -> Option<()> {
        match self {
            Self::Slot => bench.slot(string).map(drop),
            Self::CrestHeight => bench.crest_height(Some(string)).map(drop),
            Self::SaddleBreak => bench.saddle_break(Some(string)).map(drop),
            Self::NutBreak => bench.nut_break(Some(string)).map(drop),
            Self::Hertz => {
                bench.hertz(string)?;
                // one that is given in hertz has no working
                (!bench.steps.is_empty()).then_some(())
            }
            Self::Pull => bench.tension(string).map(drop),
            Self::Load => bench.load(string).map(drop),
            Self::Strain => bench.strain(string).map(drop),
            Self::Give => bench.give(string).map(drop),
            Self::OnNut => bench.on_nut(string).map(drop),
            Self::OnSaddle => bench.on_saddle(string, true).map(drop),
            Self::TravelLeft => bench.travel_left(string),
            Self::NutMoved => bench.moved_nut(string, true),
            Self::CompensationWithNut => bench.moved_nut(string, false),
            Self::Compensation => bench.needed(string).map(drop),
        }
    }
}
