//! `paper`: the drawing and its parts at full size, as PDF, SVG or DXF; and the cut sheet of
//! `cuts` on paper.

use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use overstand_core::design::{Date, Design};
use overstand_core::study::{Open, Study};
use overstand_core::units::{LengthStyle, parse_length};
use overstand_drawing::correction::Correction;
use overstand_drawing::dxf::Release;
use overstand_drawing::output::{Format, make};
use overstand_drawing::paper::{
    Choices, Paper, Wanted, compare_sheet, cut_sheet, fitting_log, worked_sheet,
};
use overstand_drawing::part::PartKind;
use overstand_drawing::pdf;
use overstand_drawing::sheet::{Margins, Orientation, Sheet};
use overstand_files::SaveError;

use crate::cli;
use crate::failure::Failure;

/// Writes what was asked for; returns what to say.
pub(crate) fn write(design: &Design, asked: &cli::Paper) -> Result<String, Failure> {
    let format = format(asked)?;
    refuse_what_is_not_for(format, asked)?;
    let choices = choices(asked)?;
    let study = Study::of(design);
    if let Err(Open::Faults(faults)) = study.outcome {
        return Err(Failure::Faults(faults));
    }
    // never told to stop, it always comes to its end
    let made = make(&study, &choices, format, &mut |_| true)?.unwrap_or_default();
    let out = asked.out.display();
    let says = match (format, made.sheets) {
        (Format::Pdf, sheets) => {
            let many = if sheets == 1 { "sheet" } else { "sheets" };
            let paper = choices.sheet.name();
            format!(
                "{out}: {sheets} {many} of {paper}. Print at 100 %, no fit to page, and measure the check bars.\n"
            )
        }
        _ => format!("{out}: in millimetres.\n"),
    };
    save(&asked.out, &made.bytes, asked.force)?;
    let open = study.closed().is_none();
    let warning =
        "The design does not close: drawn as its other dimensions say, not to be built from.\n";
    Ok(if open { says + warning } else { says })
}

/// What the worked sheet is asked for with, among the parts.
const WORKED_SHEET: &str = "worked-sheet";

/// Whether the worked sheet is asked for.
///
/// # Errors
/// If something else is asked for with it: it is a sheet of words, and no part of a drawing.
pub(crate) fn asks_worked_sheet(asked: &cli::Paper) -> Result<bool, Failure> {
    let is_it = |part: &String| part.trim() == WORKED_SHEET;
    match (asked.parts.iter().any(is_it), asked.parts.len()) {
        (true, 2..) => {
            Err(bad("parts", WORKED_SHEET, "expected it by itself, without other parts"))
        }
        (asks, _) => Ok(asks),
    }
}

/// Writes the worked sheet of a design that closes; returns what to say.
pub(crate) fn write_worked(study: &Study, asked: &cli::Paper) -> Result<String, Failure> {
    expect_pdf("out", &asked.out)?;
    let of_drawing = [
        ("landscape", asked.landscape),
        ("portrait", asked.portrait),
        ("margins", asked.margins.is_some()),
        ("overlap", asked.overlap.is_some()),
        ("measured", asked.measured.is_some()),
        ("tinted", asked.tinted),
        ("inches", asked.inches),
        ("outline-text", asked.outline_text),
        ("polylines", asked.polylines),
        ("r12", asked.r12),
    ];
    if let Some((option, _)) = of_drawing.into_iter().find(|(_, given)| *given) {
        return Err(bad(
            option,
            WORKED_SHEET,
            "expected none of it: it is words on upright sheets, in millimetres",
        ));
    }
    if let Err(Open::Faults(faults)) = &study.outcome {
        return Err(Failure::Faults(faults.clone()));
    }
    let wanted = Wanted {
        design: called(&asked.file),
        sheet: sheet(asked.sheet.as_deref())?,
        lengths: LengthStyle::Millimetres,
        date: date(asked.date.as_deref())?,
    };
    let paper = worked_sheet(study, &wanted)?;
    save(&asked.out, &pdf::pdf(&paper)?, asked.force)?;
    Ok(pages(&asked.out, &paper, &wanted.sheet))
}

/// Writes the cut sheet of a design that closes; returns what to say.
pub(crate) fn write_cuts(
    study: &Study,
    asked: &cli::Cuts,
    out: &Path,
    style: LengthStyle,
) -> Result<String, Failure> {
    expect_pdf("out", out)?;
    let date = date(asked.date.as_deref())?;
    let sheet = sheet(asked.sheet.as_deref())?;
    let design = called(&asked.file);
    if let Err(Open::Faults(faults)) = &study.outcome {
        return Err(Failure::Faults(faults.clone()));
    }
    let wanted = Wanted { design, sheet, lengths: style, date };
    let paper = cut_sheet(study, &wanted)?;
    save(out, &pdf::pdf(&paper)?, asked.force)?;
    Ok(pages(out, &paper, &wanted.sheet))
}

/// What a design is called by its file.
fn called(file: &Path) -> Option<String> {
    (file != Path::new("-"))
        .then(|| file.file_stem().map(|name| name.to_string_lossy().into_owned()))
        .flatten()
}

/// Writes the fitting log of a design; returns what to say.
pub(crate) fn write_log(
    study: &Study,
    asked: &cli::Dryfit,
    out: &Path,
    style: LengthStyle,
    date: Date,
) -> Result<String, Failure> {
    expect_pdf("log", out)?;
    let sheet = sheet(asked.sheet.as_deref())?;
    let wanted = Wanted { design: called(&asked.file), sheet, lengths: style, date };
    let paper = fitting_log(study, &wanted)?;
    save(out, &pdf::pdf(&paper)?, asked.force)?;
    Ok(pages(out, &paper, &wanted.sheet))
}

/// Writes the compare sheet of two designs; returns what to say.
pub(crate) fn write_compared(
    studies: &[Study; 2],
    titles: &[String; 2],
    asked: &cli::Compare,
    out: &Path,
    style: LengthStyle,
) -> Result<String, Failure> {
    expect_pdf("paper", out)?;
    let date = date(asked.date.as_deref())?;
    let wanted =
        Wanted { design: None, sheet: sheet(asked.sheet.as_deref())?, lengths: style, date };
    let paper = compare_sheet([&studies[0], &studies[1]], titles, &wanted)?;
    save(out, &pdf::pdf(&paper)?, asked.force)?;
    Ok(pages(out, &paper, &wanted.sheet))
}

fn expect_pdf(option: &'static str, out: &Path) -> Result<(), Failure> {
    if Format::Pdf.is_of(out) {
        return Ok(());
    }
    Err(bad(option, &out.display().to_string(), "expected a name that ends in .pdf"))
}

fn sheet(asked: Option<&str>) -> Result<Sheet, Failure> {
    let sheet = asked.unwrap_or("A4");
    Sheet::parse(sheet).map_err(|error| bad("sheet", sheet, error))
}

fn pages(out: &Path, paper: &Paper, sheet: &Sheet) -> String {
    let pages = match paper.pages.len() {
        1 => "1 page".to_owned(),
        many => format!("{many} pages"),
    };
    format!("{}: {pages} of {}.\n", out.display(), sheet.name())
}

/// Writes a file as a whole or not at all.
fn save(out: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    overstand_files::write_out(out, bytes, force).map_err(|error| match error {
        SaveError::ChangedOnDisk => Failure::Exists(out.to_owned()),
        error => Failure::Save { path: out.to_owned(), error },
    })
}

/// The day that was asked for, or today.
pub(crate) fn date(asked: Option<&str>) -> Result<Date, Failure> {
    match asked {
        Some(text) => text.parse().map_err(|error| bad("date", text, error)),
        None => today().ok_or_else(|| {
            bad("date", "", "the clock of this computer gives none, expected one as 2026-03-31")
        }),
    }
}

fn bad(option: &'static str, text: &str, says: impl ToString) -> Failure {
    let text = text.chars().take(120).collect();
    Failure::Option { option, text, says: says.to_string() }
}

fn format(asked: &cli::Paper) -> Result<Format, Failure> {
    let release = if asked.r12 { Release::R12 } else { Release::R2000 };
    [
        Format::Pdf,
        Format::Svg { outlined: asked.outline_text },
        Format::Dxf { release, polylines: asked.polylines },
    ]
    .into_iter()
    .find(|format| format.is_of(&asked.out))
    .ok_or_else(|| {
        bad(
            "out",
            &asked.out.display().to_string(),
            "expected a name that ends in .pdf, .svg or .dxf",
        )
    })
}

/// An option that would do nothing is a misunderstanding.
fn refuse_what_is_not_for(format: Format, asked: &cli::Paper) -> Result<(), Failure> {
    let given = [
        ("sheet", asked.sheet.is_some(), "PDF"),
        ("landscape", asked.landscape, "PDF"),
        ("portrait", asked.portrait, "PDF"),
        ("margins", asked.margins.is_some(), "PDF"),
        ("overlap", asked.overlap.is_some(), "PDF"),
        ("measured", asked.measured.is_some(), "PDF"),
        ("outline-text", asked.outline_text, "SVG"),
        ("polylines", asked.polylines, "DXF"),
        ("r12", asked.r12, "DXF"),
    ];
    match given
        .into_iter()
        .find(|&(_, given, meant)| given && !meant.eq_ignore_ascii_case(format.ending()))
    {
        Some((option, _, for_what)) => {
            Err(Failure::NotForThis { option, for_what, path: asked.out.clone() })
        }
        None => Ok(()),
    }
}

fn choices(asked: &cli::Paper) -> Result<Choices, Failure> {
    let date = date(asked.date.as_deref())?;
    let mut choices = Choices::usual(date);
    if let Some(text) = &asked.sheet {
        choices.sheet = Sheet::parse(text).map_err(|error| bad("sheet", text, error))?;
        choices.margins = choices.sheet.usual_margins();
    }
    if asked.landscape {
        choices.orientation = Orientation::Landscape;
    }
    if asked.portrait {
        choices.orientation = Orientation::Portrait;
    }
    if let Some(text) = &asked.margins {
        choices.margins = margins(text)?;
    }
    if let Some(text) = &asked.overlap {
        choices.overlap = length("overlap", text)?;
    }
    if let Some(text) = &asked.measured {
        let read = Correction::parse(text, date).map_err(|error| bad("measured", text, error))?;
        choices.correction = Some(read);
    }
    if !asked.parts.is_empty() {
        choices.parts = asked.parts.iter().map(|id| part(id)).collect::<Result<_, _>>()?;
    }
    if asked.inches {
        choices.lengths = LengthStyle::InchDecimal;
    }
    choices.tinted = asked.tinted;
    Ok(choices)
}

fn length(option: &'static str, text: &str) -> Result<f64, Failure> {
    parse_length(text, LengthStyle::Millimetres).map_err(|error| bad(option, text, error))
}

fn margins(text: &str) -> Result<Margins, Failure> {
    let widths: Vec<f64> =
        text.split(',').map(|one| length("margins", one)).collect::<Result<_, _>>()?;
    match widths[..] {
        [all] => Ok(Margins::all(all)),
        [left, top, right, bottom] => Ok(Margins { left, top, right, bottom }),
        _ => Err(bad("margins", text, "expected one length, or left,top,right,bottom")),
    }
}

fn part(id: &str) -> Result<PartKind, Failure> {
    PartKind::of_id(id.trim()).ok_or_else(|| {
        let all: Vec<&str> = PartKind::all().map(PartKind::id).collect();
        bad("parts", id, format!("there is no such part, expected some of {}", all.join(", ")))
    })
}

/// The day by the computer's clock, in universal time.
fn today() -> Option<Date> {
    let passed = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
    Date::of_day(passed.as_secs() / 86_400)
}
