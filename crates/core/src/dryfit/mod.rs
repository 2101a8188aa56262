//! The dry fit: the joint is together without glue, and the straightedge says something else
//! than the plan. What is it really, and what can be done?
//!
//! ```text
//! Reading ──▶ Told ──▶ DryFit   what the joint is, and corrections, the best first
//!                        │
//!                      Round    kept in the design, see convergence()
//!                        │
//!                      SetUp    after the glue
//! ```
//!
//! Errors are one standard deviation. Pitch and overstand found from the same readings are
//! strongly correlated; their covariance is carried into all that follows from them.

mod correction;
mod correction_working;
mod fit;
mod grammar;
mod log;
mod outcome_working;
mod pose;
mod predict;
mod reading;
mod reading_working;
mod says;
mod setup;
mod told;
mod wood;
mod words;
mod work;
mod working;

pub use correction::{Amount, Ask, Correction, Kind, Least, Outcome, Risk, Wood};
pub use fit::DryFit;
pub use grammar::{Fault, NotAReading, Piece};
pub(crate) use log::faults;
pub use log::{Done, MOST_READINGS, MOST_ROUNDS, Round, Step, convergence, open_round};
pub use outcome_working::{OfOutcome, When};
pub use pose::{Closing, Cut};
pub use reading::{Face, Place, Reading, ShoulderEnd, Side, What};
pub use says::{CAUTIONS, how_to_read};
pub use setup::{SetUp, SetUpRow, SetUpStep};
pub use told::{Contradiction, Miss, Told, Untold};
pub use working::OfFit;
