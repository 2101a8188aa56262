//! The program `overstand`: its command line, and the window it opens.
//!
//! `cli` defines what can be asked (manual pages and completions are made from it), `ask` has it
//! answered by a file for each command, and `json` holds the same answers as data. Geometry and
//! judgement are the core's.
//!
//! # Example
//!
//! The crest that goes with a pitch; the status is 0 if the set then plays, 1 if it does not, 2
//! for what cannot be asked:
//!
//! ```console
//! $ overstand check mine.ron --set joint.pitch=0.5deg --find bridge.crest_height
//! ```

mod ask;
mod check;
mod cli;
mod compare;
mod cuts;
mod dryfit;
mod edit;
mod explain;
mod failure;
mod json;
mod keys;
mod man;
mod paper;
mod played;
mod risk;
mod starters;
mod text;
mod units;
mod window;
mod worked;

use std::process::ExitCode;

fn main() -> ExitCode {
    ask::run()
}
