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
mod check_working;
mod engine;
mod map;
mod nominal;
mod posed;
mod propagate;
mod says;
mod source;
mod suffices;
mod trials;
mod working;
mod workpiece;
mod worst;

pub use budget::{Budget, COVERAGE_95, Row};
pub(crate) use check_working::{margin, of_check};
pub use engine::{BLOCK, Count, Plan, Watch};
pub use map::{Around, CloudPoint, Map, MapAsk, map_keys};
pub use nominal::{Better, Safest, Standing};
pub use posed::aimed;
pub use propagate::{Distribution, FirstOrder, Quantity, monte_carlo};
pub use says::show_chance;
pub use source::{Basis, Later, Source, Tolerated, from_seat, sources, toleranced};
pub use suffices::Suffices;
pub use trials::{Odds, Tallied, Trials};
pub use working::{OfError, OfSpread, OfTrials};
pub(crate) use working::{of_error, of_spread};

use crate::design::Design;
use crate::dimension::Key;
use crate::layout::LayoutError;
use crate::study::Study;
use crate::verdict::{CheckId, Reading};
use workpiece::Nominal;

/// How true a design must be made.
#[derive(Clone, Debug)]
pub struct Risk {
    /// Everything that may miss, with its ±.
    pub tolerated: Vec<Tolerated>,
    /// What each costs.
    pub budget: Budget,
    design: Design,
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
        let budget = Budget::of(&nominal, &tolerated);
        Ok(Self { budget, tolerated, design: design.clone(), nominal })
    }

    /// The set made many times over. None if it was stopped.
    pub fn trials(&self, plan: &Plan, watch: &Watch<'_>) -> Option<Trials> {
        trials::trials(&self.nominal, &self.tolerated, plan, watch)
    }

    /// Where two dimensions may lie for the set to play. None if it was stopped, or if one of
    /// them is none of [`map_keys`].
    pub fn map(&self, ask: &MapAsk, watch: &Watch<'_>) -> Option<Map> {
        map::map(&self.nominal, &self.design, &self.tolerated, ask, watch)
    }

    /// Where the design stands on such a map, and how it spreads about there. Quick, and on
    /// this thread alone; none if a dimension is none of [`map_keys`].
    pub fn around(&self, ask: &MapAsk) -> Option<Around> {
        map::around(&self.nominal, &self.design, &self.tolerated, ask)
    }

    /// The safest values of some dimensions, usually of the pitch; the chances by the plan.
    /// None if it was stopped, or if one of them is none of [`map_keys`].
    pub fn safest(&self, keys: &[Key], plan: &Plan, watch: &Watch<'_>) -> Option<Safest> {
        nominal::safest(&self.nominal, &self.design, keys, plan, watch)
    }

    /// What ± of one dimension suffices to be so sure (0 to 1) that the set plays with
    /// adjustment left; of a pitch or overstand that comes from the seat, of both its ends.
    /// None if it was stopped or if nothing of that kind misses here.
    pub fn suffices(
        &self,
        of: Source,
        sure: f64,
        seed: u64,
        watch: &Watch<'_>,
    ) -> Option<Suffices> {
        suffices::suffices(&self.nominal, &self.tolerated, of, sure, seed, watch)
    }

    /// How each check spreads, without trials.
    pub fn checks(&self) -> Vec<CheckSpread> {
        worst::spreads(&self.nominal, &self.tolerated)
    }
}

/// How a check spreads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckSpread {
    /// Which.
    pub id: CheckId,
    /// The worst margin when every error lies anywhere within its ±, in units of the thin
    /// band: it may fail at 0 and below. It is sought among the corners, where every error is
    /// as large as it may be: no single error put to its other end leaves less.
    pub worst_margin: f64,
    /// What it then reads; none where nothing can be read any more.
    pub worst: Option<Reading>,
    /// Standard uncertainty of what it reads, in its unit: the root of the sum of squares of
    /// what each error does alone. None if one of them leaves nothing to read.
    pub standard: Option<f64>,
}

impl CheckSpread {
    /// ± within which it reads with 95 %, were its error normal, in its unit.
    pub fn within_95(&self) -> Option<f64> {
        self.standard.map(|standard| COVERAGE_95 * standard)
    }
}
