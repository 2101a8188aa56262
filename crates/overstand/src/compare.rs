//! `compare`: what differs between two designs, and how all variants of a file stand.

use std::path::Path;

use overstand_core::compare::{Cell, Comparison, Group, Order, Row, Side, Standing, sort};
use overstand_core::design::Design;
use overstand_core::study::{Open, Study};
use overstand_core::units::{LengthStyle, show_number};
use overstand_core::verdict::{State, Word};
use overstand_files::DesignFile;

use crate::cli;
use crate::failure::Failure;
use crate::text::{Paint, Tone, wrap};

/// What is compared.
pub(crate) enum Asked {
    /// Two designs.
    Two(Box<[Study; 2]>),
    /// All these variants.
    All(Vec<Standing>, Order),
}

/// What was asked for, of the files that were read.
pub(crate) fn asked(
    asked: &cli::Compare,
    one: &DesignFile,
    other: Option<&DesignFile>,
) -> Result<Asked, Failure> {
    let order = match asked.sort.as_deref() {
        None => Order::default(),
        Some(text) => Order::ALL
            .into_iter()
            .find(|order| order.text() == text)
            .ok_or_else(|| option("sort", text, "expected margin, name or file"))?,
    };
    let wanted = asked.variants.as_deref().map(str::trim);
    let chosen: Vec<&Design> = match (other, wanted) {
        (Some(other), None) => vec![one.active_design(), other.active_design()],
        (Some(other), Some(names)) => {
            let (first, second) = names
                .match_indices(',')
                .map(|(at, _)| (names[..at].trim(), names[at + 1..].trim()))
                .find(|(first, second)| {
                    one.variant(first).is_some() && other.variant(second).is_some()
                })
                .ok_or_else(|| {
                    let says = "expected one of the first file and one of the second, with a \
                                comma between them";
                    option("variants", names, says)
                })?;
            [one.variant(first), other.variant(second)].into_iter().flatten().collect()
        }
        (None, Some("all")) => one.variants.iter().collect(),
        (None, Some(names)) => named(one, names)?,
        (None, None) if one.variants.len() == 2 => one.variants.iter().collect(),
        (None, None) => {
            return Err(Failure::Usage(match one.variants.len() {
                1 => "there is one variant in the file: expected a second file, or a file with \
                      two variants"
                    .to_owned(),
                count => format!(
                    "there are {count} variants in the file: expected two of them as in \
                     --variants 'one,other', or --variants all"
                ),
            }));
        }
    };
    match chosen.as_slice() {
        [a, b] if asked.variants.as_deref() != Some("all") && asked.sort.is_none() => {
            let studies = [Study::of(a), Study::of(b)];
            for study in &studies {
                if let Err(Open::Faults(faults)) = &study.outcome {
                    return Err(Failure::Faults(faults.clone()));
                }
            }
            Ok(Asked::Two(Box::new(studies)))
        }
        many => {
            if let Some(out) = &asked.paper {
                let says = "the sheet holds two designs: expected two variants";
                return Err(option("paper", &out.display().to_string(), says));
            }
            let mut standings: Vec<Standing> =
                many.iter().enumerate().map(|(index, one)| Standing::of(index, one)).collect();
            sort(&mut standings, order);
            Ok(Asked::All(standings, order))
        }
    }
}

fn option(option: &'static str, text: &str, says: &str) -> Failure {
    let text = text.chars().take(120).collect();
    Failure::Option { option, text, says: says.to_owned() }
}

/// The variants whose names stand in a list with commas between them; a name may hold commas
/// of its own.
fn named<'a>(file: &'a DesignFile, names: &str) -> Result<Vec<&'a Design>, Failure> {
    let mut found = Vec::new();
    let mut rest = names;
    while !rest.is_empty() {
        let fits = |design: &&Design| {
            rest.strip_prefix(design.name.as_str()).is_some_and(|after| {
                after.trim_start().is_empty() || after.trim_start().starts_with(',')
            })
        };
        let longest = file.variants.iter().filter(fits).max_by_key(|design| design.name.len());
        let Some(design) = longest else {
            let name = rest.split(',').next().unwrap_or(rest).trim();
            return Err(Failure::UnknownVariant {
                name: name.chars().take(120).collect(),
                there: file.variants.iter().map(|one| format!("`{}`", one.name)).collect(),
            });
        };
        found.push(design);
        rest = rest[design.name.len()..].trim_start().trim_start_matches(',').trim_start();
    }
    if found.len() < 2 {
        return Err(option("variants", names, "expected two at least, with a comma between them"));
    }
    Ok(found)
}

/// How two designs are called: variants of one file by their names, those of two files with
/// the file before it.
pub(crate) fn titles(studies: &[Study; 2], files: [Option<&Path>; 2]) -> [String; 2] {
    [0, 1].map(|index| {
        let name = studies[index].design.name.trim();
        match files[index].and_then(Path::file_name) {
            Some(file) => format!("{} · {name}", file.to_string_lossy()),
            None => name.to_owned(),
        }
    })
}

/// Columns of the table.
const NAME: usize = 30;
const CELL: usize = 15;

/// What differs between two designs, as text.
pub(crate) fn text(
    both: &Comparison,
    titles: &[String; 2],
    style: LengthStyle,
    paint: Paint,
) -> String {
    let mut text = String::new();
    for side in Side::BOTH {
        let word = both.words[side as usize];
        let title = paint.tint(Tone::Heading, &titles[side as usize]);
        text += &format!("{}  {title}: {}\n", side.name(), paint.tint(tone(word), word.show()));
    }
    text += "\n";
    text += &wrap(&both.says.show(style), 2);
    for group in both.groups() {
        let columns = match group {
            Group::Checks => "better, margins",
            Group::Strings => "B less A, better",
            _ => "B less A",
        };
        let head = format!(
            "{:<width$}{:<CELL$}{:<CELL$}{columns}",
            group.name(),
            "A",
            "B",
            width = NAME + 2
        );
        text += &format!("\n{}\n", paint.tint(Tone::Heading, head.trim_end()));
        for row in both.of_group(group) {
            text += &line(row, style, paint);
        }
    }
    text
}

fn tone(word: Word) -> Tone {
    match word {
        Word::Plays => Tone::Good,
        Word::PlaysThin => Tone::Thin,
        Word::Fails | Word::DoesNotClose => Tone::Fails,
    }
}

fn line(row: &Row, style: LengthStyle, paint: Paint) -> String {
    let cell = |cell: &Cell| {
        let shown = cell.show(style);
        match cell {
            Cell::Check(_, state, _) => format!("{} {shown}", state_sign(*state)),
            Cell::Value(_, true) if row.group != Group::Layout && follows(row) => {
                format!("{shown} found")
            }
            _ => shown,
        }
    };
    let cells = row.cells.each_ref().map(cell);
    let end = match (row.group, row.better) {
        (Group::Checks, better) => {
            let margins = row.cells.each_ref().map(|cell| {
                cell.margin().map_or_else(|| "–".to_owned(), |margin| show_number(margin, 1))
            });
            let better = better.map_or(" ", Side::name);
            format!("{better}  {} / {}", margins[0], margins[1])
        }
        (_, Some(better)) => format!("{} {}", row.show_difference(style), better.name()),
        _ => row.show_difference(style),
    };
    let fits = cells.iter().all(|text| text.chars().count() < CELL);
    if !fits {
        // long words stand below their name
        let mut text = wrap(&row.name, 2);
        for (side, shown) in Side::BOTH.into_iter().zip(&cells) {
            text += &wrap(&format!("{}: {shown}", side.name()), 6);
        }
        return text;
    }
    let tinted = |index: usize| {
        let padded = format!("{:<CELL$}", cells[index]);
        match row.cells[index].state() {
            Some(state) => paint.tint(state.into(), &padded),
            None => padded,
        }
    };
    // a name that is too long has a line of its own
    let (before, name) = if row.name.chars().count() < NAME {
        (String::new(), row.name.as_str())
    } else {
        (wrap(&row.name, 2), "")
    };
    let line = format!("  {name:<NAME$}{}{}{end}", tinted(0), tinted(1));
    format!("{before}{}\n", line.trim_end())
}

/// Whether it is worth saying that it is found: only where the other is held.
fn follows(row: &Row) -> bool {
    matches!(row.group, Group::Inputs(_))
}

fn state_sign(state: State) -> &'static str {
    match state {
        State::Good => "✓",
        State::Thin => "!",
        State::Fails => "✗",
    }
}

/// The sheet of all variants, as text.
pub(crate) fn sheet(standings: &[Standing], order: Order, paint: Paint) -> String {
    let order = order.name().to_lowercase();
    let head = format!("{:<54}✓ / ! / ✗", format!("Variants, {order}"));
    let mut text = format!("{}\n", paint.tint(Tone::Heading, &head));
    for one in standings {
        let [good, thin, fails] = one.counts;
        let least = one.least.map_or_else(
            || "–".to_owned(),
            |(id, margin)| format!("{}, {}", show_number(margin, 2), id.name().to_lowercase()),
        );
        let counts = format!("{good} / {thin} / {fails}");
        let word = paint.tint(tone(one.word), &format!("{:<18}", one.word.show()));
        let (before, name) = if one.name.chars().count() < 34 {
            (String::new(), one.name.as_str())
        } else {
            (wrap(&one.name, 2), "")
        };
        text += &format!("{before}  {name:<34}{word}{counts}\n{:6}least margin {least}\n", "");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::WIDTH;
    use overstand_core::dimension::Dim;
    use overstand_core::testing::worked_example;

    fn named_so(name: &str) -> Design {
        Design { name: name.to_owned(), ..worked_example() }
    }

    #[test]
    fn names_may_hold_commas() {
        let mut file = DesignFile::of(named_so("low"));
        file.variants.extend([named_so("low, wide"), named_so("high")]);
        let of = |names: &str| {
            let found = named(&file, names)?;
            Ok::<_, Failure>(found.iter().map(|design| design.name.clone()).collect::<Vec<_>>())
        };
        assert_eq!(of("low,high").unwrap(), ["low", "high"]);
        assert_eq!(of("low, wide , low").unwrap(), ["low, wide", "low"]);
        assert!(matches!(of("low"), Err(Failure::Option { .. })));
        let Err(Failure::UnknownVariant { name, .. }) = of("low,deep") else {
            panic!("`deep` was found");
        };
        assert_eq!(name, "deep");
    }

    #[test]
    fn every_line_fits_the_page() {
        let a = Study::of(&named_so("As drawn"));
        let mut design = named_so("A variant with quite a long name that goes on");
        for (dim, value) in [(Dim::CrestHeight, 25.0), (Dim::ActionBass, 1.2)] {
            dim.key().set(&mut design, value);
        }
        design.notes = "Words that go on and on, ".repeat(9);
        let b = Study::of(&design);
        for style in [LengthStyle::Millimetres, LengthStyle::InchDecimal] {
            let both = Comparison::of(&a, &b);
            let titles = titles(&[a.clone(), b.clone()], [None, None]);
            let text = text(&both, &titles, style, Paint::OFF);
            assert!(text.contains("Crest height") && text.contains("Cut sheet"), "{text}");
            for line in text.lines() {
                assert!(line.chars().count() <= WIDTH, "{line}");
                assert_eq!(line, line.trim_end(), "{line}");
            }
        }
        let list = vec![Standing::of(0, &a.design), Standing::of(1, &b.design)];
        for line in sheet(&list, Order::Margin, Paint::OFF).lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
        }
    }
}
