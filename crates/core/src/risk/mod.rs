//! How true must the cuts be, and where to aim so that a miss still plays.
//!
//! In every trial and every slope the made dimensions miss, the wanted action stays, the
//! filed slots stay, and the crest height is what follows, whatever the design holds. Pitch
//! and overstand that come from one seat miss through the seat's heights at mouth and inner
//! end. The bridge is placed after the neck is fitted, by scale length and compensation.
//!
//! [`Risk::of`] is quick and belongs on any page; what runs trials takes a [`Plan`] and a
//! [`Watch`], works on all processors, and gives the same for the same seed on any number of
//! them.

mod budget;
mod engine;
mod propagate;
mod source;
mod trials;
mod workpiece;

pub use budget::{Budget, COVERAGE_95, Row};
pub use engine::{BLOCK, Count, Plan, Watch};
pub use propagate::{Distribution, FirstOrder, Quantity, monte_carlo};
pub use source::{Basis, Later, Source, Tolerated, from_seat, sources};
pub use trials::{Odds, Trials};

use crate::design::Design;
use crate::layout::LayoutError;
use crate::study::Study;
use workpiece::Nominal;

/// How true a design must be made.
#[derive(Clone, Debug)]
pub struct Risk {
    /// Everything that may miss, with its ±.
    pub tolerated: Vec<Tolerated>,
    /// What each costs.
    pub budget: Budget,
    nominal: Nominal,
}

impl Risk {
    /// Of a study; none of a design that does not close.
    pub fn of(study: &Study) -> Option<Self> {
        study.closed()?;
        Self::of_solved(&study.design).ok()
    }

    /// Of a design that is solved already.
    pub(crate) fn of_solved(design: &Design) -> Result<Self, LayoutError> {
        let nominal = Nominal::of(design)?;
        let tolerated = sources(design);
        Ok(Self { budget: Budget::of(&nominal, &tolerated), tolerated, nominal })
    }

    /// The set made many times over. None if it was stopped.
    pub fn trials(&self, plan: &Plan, watch: &Watch<'_>) -> Option<Trials> {
        trials::trials(&self.nominal, &self.tolerated, plan, watch)
    }
}
