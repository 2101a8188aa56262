//! What can be typed.

mod examples;

use std::path::PathBuf;

use clap::{Parser, Subcommand};
use clap_complete::Shell;
use overstand_core::units::LengthStyle;

/// Will this neck and this body play? The side elevation of a fretted instrument,
/// worked out before any wood is cut.
#[derive(Debug, Parser)]
#[command(name = "overstand", version, after_help = examples::ALL, max_term_width = 80)]
#[command(args_conflicts_with_subcommands = true, disable_help_subcommand = true)]
pub(crate) struct Cli {
    /// Design to open in the window
    #[arg(value_name = "FILE")]
    pub(crate) file: Option<PathBuf>,

    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Say whether a design will play, and what the straightedge must read
    #[command(after_help = examples::CHECK)]
    Check(Whole),

    /// Say what the strings pull, how hard they can be played, whether they note true
    #[command(after_help = examples::STRINGS)]
    Strings(Check),

    /// Say how true the cuts must be, how likely it plays, and where to aim
    #[command(after_help = examples::RISK)]
    Risk(Risk),

    /// Say what to cut for the joint, step by step, and what must be read
    #[command(after_help = examples::CUTS)]
    Cuts(Cuts),

    /// Say what differs between two designs, what is better, how variants stand
    #[command(after_help = examples::COMPARE)]
    Compare(Compare),

    /// Say what the readings of a dry fit mean, and what to do about them
    #[command(after_help = examples::DRYFIT)]
    Dryfit(Dryfit),

    /// Write a new design file from a starter
    #[command(after_help = examples::NEW)]
    New {
        /// Which starter; see `overstand starters`
        #[arg(value_name = "STARTER")]
        starter: String,
        /// File to write; `-` for standard output
        #[arg(long, value_name = "FILE")]
        out: PathBuf,
        /// Write over a file that is there already
        #[arg(long)]
        force: bool,
    },

    /// List the designs to start from
    Starters {
        /// As JSON
        #[arg(long)]
        json: bool,
    },

    /// List every key with its unit, limits, usual value and meaning
    Keys {
        /// As JSON
        #[arg(long)]
        json: bool,
    },

    /// Say what a word means: a term of the trade, a dimension, a check
    #[command(after_help = examples::EXPLAIN)]
    Explain {
        /// The term; all of them when it is left out
        #[arg(value_name = "TERM")]
        term: Vec<String>,
        /// As JSON
        #[arg(long)]
        json: bool,
    },

    /// Write the drawing, templates and gauges at full size: PDF, SVG or DXF
    #[command(after_help = examples::PAPER)]
    Paper(Paper),

    /// Print completions for a shell
    #[command(after_help = examples::COMPLETIONS)]
    Completions {
        /// The shell they are for
        shell: Shell,
    },

    /// Print the manual page of the program or a command, or write all of them
    #[command(after_help = examples::MAN)]
    Man {
        /// The command; the program itself when it is left out
        #[arg(value_name = "COMMAND")]
        command: Option<String>,
        /// Folder to write all pages to
        #[arg(long, value_name = "FOLDER", conflicts_with = "command")]
        out: Option<PathBuf>,
    },
}

// How an answer is shown. As documentation this would stand in the help of the commands.
#[derive(Debug, clap::Args)]
pub(crate) struct Show {
    /// As JSON, in millimetres and degrees with every digit
    #[arg(long)]
    pub(crate) json: bool,
    /// Show lengths in inches
    #[arg(long, conflicts_with = "json")]
    pub(crate) inches: bool,
}

impl Show {
    /// How lengths are written for people.
    pub(crate) fn lengths(&self) -> LengthStyle {
        if self.inches { LengthStyle::InchDecimal } else { LengthStyle::Millimetres }
    }
}

#[derive(Debug, clap::Args)]
pub(crate) struct Check {
    /// Design file; `-` for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Give a dimension a value and hold it there, or choose a kind of part
    #[arg(long = "set", value_name = "KEY=VALUE")]
    pub(crate) sets: Vec<String>,
    /// Hold a dimension at its value in the file; a result at what it is now
    #[arg(long = "hold", value_name = "KEY")]
    pub(crate) holds: Vec<String>,
    /// Have a dimension worked out; a result that was held is let go
    #[arg(long = "find", value_name = "KEY")]
    pub(crate) finds: Vec<String>,
    /// Variant of the file to look at, instead of the active one
    #[arg(long, value_name = "NAME")]
    pub(crate) variant: Option<String>,
    #[command(flatten)]
    pub(crate) show: Show,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Whole {
    #[command(flatten)]
    pub(crate) check: Check,
    /// Show every step from what is held to the verdict, to be followed by hand
    #[arg(long, conflicts_with = "json")]
    pub(crate) working: bool,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Risk {
    /// Design file; `-` for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Trials; by default as many as the answer takes to be stable
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..=100_000_000))]
    pub(crate) trials: Option<u64>,
    /// Where the random numbers start
    #[arg(long, value_name = "S", default_value_t = overstand_core::risk::Plan::USUAL_SEED)]
    pub(crate) seed: u64,
    /// Give a dimension a value and hold it there, or a tolerance: tolerance.KEY=VALUE
    #[arg(long = "set", value_name = "KEY=VALUE")]
    pub(crate) sets: Vec<String>,
    /// Seek how true this must be held to be sure
    #[arg(long, value_name = "KEY")]
    pub(crate) tolerance_of: Vec<String>,
    /// How sure, in per cent
    #[arg(long, value_name = "PERCENT", default_value_t = 95.0, value_parser = percent)]
    pub(crate) sure: f64,
    /// Seek the safest value of this
    #[arg(long, value_name = "KEY")]
    pub(crate) aim: Vec<String>,
    /// Where two dimensions may lie for it to play
    #[arg(long, value_name = "KEY,KEY", value_delimiter = ',', requires = "json")]
    pub(crate) map: Vec<String>,
    /// Variant of the file to look at, instead of the active one
    #[arg(long, value_name = "NAME")]
    pub(crate) variant: Option<String>,
    #[command(flatten)]
    pub(crate) show: Show,
}

/// A part of a hundred that is neither nothing nor beyond all.
fn percent(text: &str) -> Result<f64, String> {
    let value = text.trim().trim_end_matches('%').trim_end().parse::<f64>();
    value
        .ok()
        .filter(|value| *value > 0.0 && *value <= 100.0)
        .ok_or_else(|| "expected more than 0 and at most 100".to_owned())
}

#[derive(Debug, clap::Args)]
pub(crate) struct Cuts {
    /// Design file; `-` for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Variant of the file to look at, instead of the active one
    #[arg(long, value_name = "NAME")]
    pub(crate) variant: Option<String>,
    #[command(flatten)]
    pub(crate) show: Show,

    /// Write the cut sheet as a PDF, to print and tick off at the bench
    #[arg(long, value_name = "FILE", conflicts_with = "json", help_heading = "On paper")]
    pub(crate) out: Option<PathBuf>,
    /// The paper; A4 by default
    #[arg(long, value_name = "PAPER", requires = "out", help_heading = "On paper")]
    pub(crate) sheet: Option<String>,
    /// Write over a file that is there already
    #[arg(long, requires = "out", help_heading = "On paper")]
    pub(crate) force: bool,
    /// The day to print, as 2026-03-31; today by default
    #[arg(long, value_name = "DATE", requires = "out", help_heading = "On paper")]
    pub(crate) date: Option<String>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Compare {
    /// Design file; `-` for standard input
    #[arg(value_name = "A")]
    pub(crate) file: PathBuf,
    /// A second design file
    #[arg(value_name = "B")]
    pub(crate) other: Option<PathBuf>,
    /// Variants to compare, with commas between them, or `all`
    #[arg(long, value_name = "NAMES")]
    pub(crate) variants: Option<String>,
    /// List how the variants stand: by margin, name, or as in the file
    #[arg(long, value_name = "ORDER", conflicts_with = "other")]
    pub(crate) sort: Option<String>,
    #[command(flatten)]
    pub(crate) show: Show,

    /// Write both elevations and the table as a PDF
    #[arg(long, value_name = "FILE", conflicts_with = "json", help_heading = "On paper")]
    pub(crate) paper: Option<PathBuf>,
    /// The paper; A4 by default
    #[arg(long, value_name = "PAPER", requires = "paper", help_heading = "On paper")]
    pub(crate) sheet: Option<String>,
    /// Write over a file that is there already
    #[arg(long, requires = "paper", help_heading = "On paper")]
    pub(crate) force: bool,
    /// The day to print, as 2026-03-31; today by default
    #[arg(long, value_name = "DATE", requires = "paper", help_heading = "On paper")]
    pub(crate) date: Option<String>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Dryfit {
    /// Design file; `-` for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// What was measured, as crowns@X=250:19.01±0.1; as often as there are readings
    #[arg(long = "reading", value_name = "READING")]
    pub(crate) readings: Vec<String>,
    /// Variant of the file to look at, instead of the active one
    #[arg(long, value_name = "NAME")]
    pub(crate) variant: Option<String>,
    #[command(flatten)]
    pub(crate) show: Show,
    /// Neck and body are glued: give the set-up
    #[arg(long)]
    pub(crate) glued: bool,

    /// Keep this round in the file's fitting log
    #[arg(long, help_heading = "Fitting log")]
    pub(crate) keep: bool,
    /// What was done about it: a correction, as mouth_off, mouth_off=0.4 or mouth_off=least
    #[arg(long, value_name = "KIND[=AMOUNT]", help_heading = "Fitting log")]
    pub(crate) done: Option<String>,
    /// Anything worth remembering
    #[arg(long, value_name = "TEXT", requires = "keep", help_heading = "Fitting log")]
    pub(crate) note: Option<String>,
    /// The day of the round, as 2026-03-31; today by default
    #[arg(long, value_name = "DATE", help_heading = "Fitting log")]
    pub(crate) date: Option<String>,
    /// Write the fitting log as a PDF
    #[arg(long, value_name = "FILE", conflicts_with = "json", help_heading = "Fitting log")]
    pub(crate) log: Option<PathBuf>,
    /// The paper; A4 by default
    #[arg(long, value_name = "PAPER", requires = "log", help_heading = "Fitting log")]
    pub(crate) sheet: Option<String>,
    /// Write over a log that is there already
    #[arg(long, requires = "log", help_heading = "Fitting log")]
    pub(crate) force: bool,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Paper {
    /// Design file; `-` for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// File to write; its ending says which kind: .pdf, .svg or .dxf
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// Write over a file that is there already
    #[arg(long)]
    pub(crate) force: bool,
    /// Which parts, with commas between them; all by default
    #[arg(long, value_name = "PARTS", value_delimiter = ',')]
    pub(crate) parts: Vec<String>,
    /// Variant of the file to draw, instead of the active one
    #[arg(long, value_name = "NAME")]
    pub(crate) variant: Option<String>,
    /// Write lengths in inches
    #[arg(long)]
    pub(crate) inches: bool,
    /// Tint wood, board and metal
    #[arg(long)]
    pub(crate) tinted: bool,
    /// The day to print, as 2026-03-31; today by default
    #[arg(long, value_name = "DATE")]
    pub(crate) date: Option<String>,

    /// PDF: the paper; A4 by default
    #[arg(long, value_name = "PAPER", help_heading = "Sheets of a PDF")]
    pub(crate) sheet: Option<String>,
    /// PDF: lay sheets on their longer side; by default whichever takes fewer
    #[arg(long, conflicts_with = "portrait", help_heading = "Sheets of a PDF")]
    pub(crate) landscape: bool,
    /// PDF: stand sheets on their shorter side
    #[arg(long, help_heading = "Sheets of a PDF")]
    pub(crate) portrait: bool,
    /// PDF: blank edges, all alike or left,top,right,bottom
    #[arg(long, value_name = "MARGINS", help_heading = "Sheets of a PDF")]
    pub(crate) margins: Option<String>,
    /// PDF: by how much tiles overlap at least; 12 mm by default
    #[arg(long, value_name = "LENGTH", help_heading = "Sheets of a PDF")]
    pub(crate) overlap: Option<String>,
    /// PDF: correct the printer, whose 100 mm bars measured this, across and up
    #[arg(long, value_name = "ACROSSxUP", help_heading = "Sheets of a PDF")]
    pub(crate) measured: Option<String>,

    /// SVG: words as outlines, for cutters without fonts
    #[arg(long, help_heading = "Other files")]
    pub(crate) outline_text: bool,
    /// DXF: straight pieces alone, no arcs and curves
    #[arg(long, help_heading = "Other files")]
    pub(crate) polylines: bool,
    /// DXF: of release 12, for old machines
    #[arg(long, help_heading = "Other files")]
    pub(crate) r12: bool,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_sound() {
        Cli::command().debug_assert();
    }
}
