//! The program `overstand`: its command line, and the window it opens.

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
