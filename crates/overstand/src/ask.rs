//! From what was typed to an answer and an exit status.

use std::io::{self, Read, Write};
use std::path::Path;
use std::process::ExitCode;

use clap::{CommandFactory, Parser};
use overstand_core::compare::Comparison;
use overstand_core::design::Design;
use overstand_core::dimension::nearest;
use overstand_core::study::{Open, Study};
use overstand_core::verdict::Word;
use overstand_files::{DesignFile, LARGEST_FILE, ReadError};
use serde::Serialize;

use crate::cli::{self, Cli, Command};
use crate::edit::Edits;
use crate::failure::Failure;
use crate::text::Paint;
use crate::{
    check, compare, cuts, dryfit, explain, json, keys, man, paper, played, risk, starters, window,
    worked,
};

/// It plays.
const PLAYS: u8 = 0;
/// It does not play, or does not close.
const DOES_NOT: u8 = 1;
/// Something is wrong with what was asked.
const BAD: u8 = 2;

/// Answers the command line of this process.
pub(crate) fn run() -> ExitCode {
    let answer = match Cli::try_parse() {
        Ok(cli) => answer(cli),
        // help and version are no errors
        Err(error) if !error.use_stderr() => write(&error.render().to_string()).map(|()| PLAYS),
        Err(error) => Err(Failure::Usage(usage(&error))),
    };
    ExitCode::from(answer.unwrap_or_else(|failure| {
        report(&failure);
        BAD
    }))
}

fn answer(cli: Cli) -> Result<u8, Failure> {
    let Some(command) = cli.command else {
        return window(cli.file.as_deref()).map(|()| PLAYS);
    };
    match command {
        Command::Check(asked) => {
            let answer = if asked.working { Answer::Worked } else { Answer::Whole };
            return check(&asked.check, answer);
        }
        Command::Cuts(asked) => return cuts(&asked),
        Command::Compare(asked) => return compare(&asked),
        Command::Risk(asked) => return risk(&asked),
        Command::Dryfit(asked) => return dry_fit(&asked),
        Command::Strings(asked) => return check(&asked, Answer::Strings),
        Command::Paper(asked) => {
            let file = read(&asked.file)?;
            let design = choose(&file, asked.variant.as_deref())?;
            let says = match paper::asks_worked_sheet(&asked)? {
                true => paper::write_worked(&Study::of(design), &asked)?,
                false => paper::write(design, &asked)?,
            };
            write(&says)?;
        }
        Command::New { starter, out, force } => {
            quiet(starters::new(&starter, &out, force, &mut io::stdout().lock()))?;
        }
        Command::Starters { json: true } => write_json(&starters::json())?,
        Command::Starters { json: false } => write(&starters::text(Paint::for_stdout()))?,
        Command::Keys { json: true } => write_json(&keys::json())?,
        Command::Keys { json: false } => write(&keys::text(Paint::for_stdout()))?,
        Command::Explain { term, json: true } => write_json(&explain::json(&term.join(" "))?)?,
        Command::Explain { term, json: false } => {
            write(&explain::text(&term.join(" "), Paint::for_stdout())?)?;
        }
        Command::Man { out: Some(folder), .. } => man::write(&folder)?,
        Command::Man { command, out: None } => write(&man::page(command.as_deref())?)?,
        Command::Completions { shell } => {
            // into memory: the generator panics when a pipe is closed
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Cli::command(), "overstand", &mut script);
            write(&String::from_utf8_lossy(&script))?;
        }
    }
    Ok(PLAYS)
}

/// How much of a study is told.
#[derive(Clone, Copy)]
enum Answer {
    Whole,
    /// The worked sheet besides.
    Worked,
    Strings,
}

fn check(asked: &cli::Check, answer: Answer) -> Result<u8, Failure> {
    let edits = Edits::read(&asked.sets, &asked.holds, &asked.finds)?;
    let file = read(&asked.file)?;
    let design = edits.apply(choose(&file, asked.variant.as_deref())?)?;
    let study = Study::of(&design);
    if let Err(Open::Faults(faults)) = study.outcome {
        return Err(Failure::Faults(faults));
    }
    if asked.show.json {
        write_json(&json::Report::of(&study, &file.variants))?;
    } else {
        let style = asked.show.lengths();
        let paint = Paint::for_stdout();
        let text = match (answer, study.layout()) {
            (Answer::Strings, Some(layout)) => played::report(&study, layout, style, paint),
            // without a layout there is nothing to say but why
            (answer, _) => {
                let text = check::report(&study, &file.variants, style, paint);
                match answer {
                    Answer::Worked => text + &worked::sheet(&study, paint),
                    Answer::Whole | Answer::Strings => text,
                }
            }
        };
        write(&text)?;
    }
    Ok(status(&study))
}

fn risk(asked: &cli::Risk) -> Result<u8, Failure> {
    let edits = Edits::read(&asked.sets, &[], &[])?;
    let file = read(&asked.file)?;
    let study = Study::of(&edits.apply(choose(&file, asked.variant.as_deref())?)?);
    if let Err(Open::Faults(faults)) = study.outcome {
        return Err(Failure::Faults(faults));
    }
    let style = asked.show.lengths();
    match risk::work(&study, asked)? {
        Some(answer) if asked.show.json => write_json(&json::RiskJson::of(&study, &answer))?,
        Some(answer) => write(&risk::report(&study, &answer, style, Paint::for_stdout()))?,
        // nothing can be said of a design that does not close but why
        None if asked.show.json => write_json(&json::Report::of(&study, &file.variants))?,
        None => write(&check::report(&study, &file.variants, style, Paint::for_stdout()))?,
    }
    Ok(status(&study))
}

fn status(study: &Study) -> u8 {
    match study.word() {
        Word::Plays | Word::PlaysThin => PLAYS,
        Word::Fails | Word::DoesNotClose => DOES_NOT,
    }
}

fn cuts(asked: &cli::Cuts) -> Result<u8, Failure> {
    let file = read(&asked.file)?;
    let study = Study::of(choose(&file, asked.variant.as_deref())?);
    if asked.show.json {
        write_json(&json::Cuts::of(&study, &file.variants))?;
        return Ok(status(&study));
    }
    let style = asked.show.lengths();
    match &asked.out {
        Some(out) => write(&paper::write_cuts(&study, asked, out, style)?)?,
        None => write(&cuts::sheet(&study, style, Paint::for_stdout()))?,
    }
    Ok(status(&study))
}

fn compare(asked: &cli::Compare) -> Result<u8, Failure> {
    let one = read(&asked.file)?;
    let other = asked.other.as_deref().map(read).transpose()?;
    let style = asked.show.lengths();
    match compare::asked(asked, &one, other.as_ref())? {
        compare::Asked::Two(studies) => {
            // of one file the variants' names say enough
            let files = match &asked.other {
                Some(other) => [Some(asked.file.as_path()), Some(other.as_path())],
                None => [None, None],
            };
            let titles = compare::titles(&studies, files);
            let both = Comparison::of(&studies[0], &studies[1]);
            if asked.show.json {
                write_json(&json::Compared::of(&both, &titles))?;
            } else if let Some(out) = &asked.paper {
                write(&paper::write_compared(&studies, &titles, asked, out, style)?)?;
            } else {
                write(&compare::text(&both, &titles, style, Paint::for_stdout()))?;
            }
            Ok(studies.iter().map(status).max().unwrap_or(PLAYS))
        }
        compare::Asked::All(standings, order) => {
            if asked.show.json {
                write_json(&json::Standings::of(&standings, order))?;
            } else {
                write(&compare::sheet(&standings, order, Paint::for_stdout()))?;
            }
            let plays = |word| matches!(word, Word::Plays | Word::PlaysThin);
            Ok(if standings.iter().all(|one| plays(one.word)) { PLAYS } else { DOES_NOT })
        }
    }
}

fn dry_fit(asked: &cli::Dryfit) -> Result<u8, Failure> {
    let today = paper::date(asked.date.as_deref())?;
    if asked.keep && asked.file == Path::new("-") {
        return Err(Failure::KeepNowhere);
    }
    // seen before it is read: what changes in between is noticed when it is kept
    let seen = asked.keep.then(|| overstand_files::stamp(&asked.file)).transpose();
    let seen = seen.map_err(Failure::CannotRead)?;
    let mut file = read(&asked.file)?;
    let answer = dryfit::answer(&mut file, asked, today)?;
    let style = asked.show.lengths();
    // the log first: if it cannot be written nothing is kept twice
    let log = match &asked.log {
        Some(out) => Some(paper::write_log(&answer.plan, asked, out, style, today)?),
        None => None,
    };
    if let Some(seen) = seen {
        dryfit::save(&asked.file, &file, seen)?;
    }
    match log {
        Some(says) => write(&says)?,
        None if asked.show.json => write_json(&json::Dryfit::of(&answer, &file.variants))?,
        None => write(&dryfit::report(&answer, style, Paint::for_stdout()))?,
    }
    Ok(status(&answer.fit.real.study))
}

pub(crate) fn choose<'a>(
    file: &'a DesignFile,
    variant: Option<&str>,
) -> Result<&'a Design, Failure> {
    let Some(name) = variant else {
        return Ok(file.active_design());
    };
    file.variant(name).ok_or_else(|| Failure::UnknownVariant {
        name: name.chars().take(120).collect(),
        there: file.variants.iter().map(|design| format!("`{}`", design.name)).collect(),
    })
}

fn read_file(path: &Path) -> Result<DesignFile, Failure> {
    overstand_files::read(path).map_err(|error| match error {
        ReadError::Io { .. } => Failure::CannotRead(error),
        _ => Failure::NoDesign { place: path.display().to_string(), error },
    })
}

/// Reads a design file, `-` for standard input.
fn read(path: &Path) -> Result<DesignFile, Failure> {
    if path != Path::new("-") {
        return read_file(path);
    }
    let mut bytes = Vec::new();
    io::stdin().lock().take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(Failure::Stdin)?;
    let refused = |error| Failure::NoDesign { place: "standard input".to_owned(), error };
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(refused(ReadError::TooLarge));
    }
    let text = String::from_utf8(bytes)
        .map_err(|error| Failure::Stdin(io::Error::other(error.utf8_error())))?;
    overstand_files::parse(&text).map_err(refused)
}

/// Opens the window, on a file if there is one.
fn window(path: Option<&Path>) -> Result<(), Failure> {
    let Some(path) = path else {
        return window::open(None);
    };
    if !path.exists()
        && let Some(typed) = path.to_str()
        && let commands = Cli::command()
        && let Some(command) =
            nearest(typed, commands.get_subcommands().map(clap::Command::get_name))
    {
        return Err(Failure::NoSuchCommand { path: typed.to_owned(), command });
    }
    // what cannot be opened is said here, before a window covers the words
    read_file(path)?;
    window::open(Some(path))
}

/// Writes to standard output. A reader that has seen enough and closed the pipe is no
/// failure.
fn write(text: &str) -> Result<(), Failure> {
    let mut stdout = io::stdout().lock();
    let written = stdout.write_all(text.as_bytes()).and_then(|()| stdout.flush());
    quiet(written.map_err(Failure::Write))
}

fn write_json(value: &impl Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value)
        .map_err(|error| Failure::Write(io::Error::other(error)))?;
    write(&(text + "\n"))
}

/// Passes over a closed pipe.
fn quiet(written: Result<(), Failure>) -> Result<(), Failure> {
    match written {
        Err(Failure::Write(error)) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => other,
    }
}

/// A usage error in the one form all errors have.
fn usage(error: &clap::Error) -> String {
    let text = error.render().to_string();
    text.strip_prefix("error: ").unwrap_or(&text).trim_end().to_owned()
}

fn report(failure: &Failure) {
    // when there is no standard error either, the exit status must do
    drop(writeln!(io::stderr().lock(), "overstand: {failure}"));
}
