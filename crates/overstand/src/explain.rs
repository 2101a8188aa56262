//! What a word means.

use overstand_core::design::Limit;
use overstand_core::dimension::{Dim, Role};
use overstand_core::glossary::{self, Entry, Subject, Topic};
use overstand_core::units::Unit;
use overstand_core::verdict::CheckId;
use serde::Serialize;

use crate::failure::Failure;
use crate::text::{Paint, Tone, wrap};
use crate::units;

/// An entry as JSON.
#[derive(Debug, Serialize)]
pub(crate) struct EntryJson {
    term: &'static str,
    also: Vec<&'static str>,
    is: &'static str,
    topic: Option<&'static str>,
    key: Option<&'static str>,
    meaning: &'static str,
}

impl EntryJson {
    fn of(entry: &Entry) -> Self {
        let (is, topic) = match entry.subject {
            Subject::Word(topic) => ("word", Some(topic.name())),
            Subject::Dimension(_) => ("dimension", None),
            Subject::Choice(_) => ("choice", None),
            Subject::Check(_) => ("check", None),
        };
        Self {
            term: entry.name,
            also: entry.also.clone(),
            is,
            topic,
            key: entry.key(),
            meaning: entry.meaning,
        }
    }
}

/// What a term means, or everything, for programs.
pub(crate) fn json(term: &str) -> Result<Vec<EntryJson>, Failure> {
    if term.is_empty() {
        return Ok(glossary::all().iter().map(EntryJson::of).collect());
    }
    Ok(found(term)?.into_iter().map(EntryJson::of).collect())
}

/// What a term means, or every word, for reading.
pub(crate) fn text(term: &str, paint: Paint) -> Result<String, Failure> {
    if term.is_empty() {
        return Ok(list(paint));
    }
    let mut text = String::new();
    for entry in found(term)? {
        text += &paint.tint(Tone::Heading, entry.name);
        text.push('\n');
        text += &wrap(entry.meaning, 2);
        text += &wrap(&facts(entry), 2);
        text += &also(&entry.also);
    }
    let related: Vec<&str> = glossary::related(term).iter().map(|entry| entry.name).collect();
    if !related.is_empty() {
        text += &wrap(&format!("See also: {}.", related.join("; ")), 2);
    }
    Ok(text.lines().filter(|line| !line.is_empty()).map(|line| format!("{line}\n")).collect())
}

fn found(term: &str) -> Result<Vec<&'static Entry>, Failure> {
    let found = glossary::find_all(term);
    if !found.is_empty() {
        return Ok(found);
    }
    let near: Vec<String> =
        glossary::near(term).iter().map(|name| format!("`{}`", name.to_lowercase())).collect();
    let hint = match near.as_slice() {
        [] => String::new(),
        names => format!("; did you mean {}?", names.join(" or ")),
    };
    Err(Failure::UnknownTerm { term: term.chars().take(60).collect(), hint })
}

fn also(names: &[&str]) -> String {
    if names.is_empty() {
        return String::new();
    }
    wrap(&format!("Also called: {}.", names.join(", ")), 2)
}

/// What the tables say beside the meaning.
fn facts(entry: &Entry) -> String {
    match entry.subject {
        Subject::Word(_) => String::new(),
        Subject::Dimension(dim) => of_dimension(dim),
        Subject::Choice(choice) => {
            let options: Vec<&str> = choice.options.iter().map(|(option, _)| *option).collect();
            format!("Choice {}: one of {}.", choice.key, options.join(", "))
        }
        Subject::Check(id) => of_check(id),
    }
}

fn of_dimension(dim: Dim) -> String {
    let info = dim.info();
    let role = match info.role {
        Role::Closing => "held or found",
        Role::Given => "always held",
        Role::Outcome => "follows from the others, or is held at a wanted value",
    };
    let (low, high) = (units::plain(info.low, info), units::plain(info.high, info));
    let mut facts = format!("Dimension {}, {low} to {high}; {role}.", info.key);
    if !info.usual.is_empty() {
        facts += &format!(" Usual: {}.", info.usual);
    }
    facts
}

fn of_check(id: CheckId) -> String {
    let Limit { fails_below, thin_below, thin_above, fails_above } = id.usual_limit();
    let unit = match id.unit() {
        Unit::Length => " mm",
        unit => unit.symbol(),
    };
    let edges = [
        ("fails below", fails_below),
        ("thin below", thin_below),
        ("thin above", thin_above),
        ("fails above", fails_above),
    ];
    let edges: Vec<String> = edges
        .into_iter()
        .filter_map(|(name, edge)| Some(format!("{name} {}{unit}", edge?)))
        .collect();
    format!("Check {}: {}, unless the design says otherwise.", id.text(), edges.join(", "))
}

fn list(paint: Paint) -> String {
    let mut text = String::from(
        "Dimensions, choices and checks are explained as well: `overstand explain pitch`,\n\
         `overstand explain saddle travel`. `overstand keys` lists the dimensions.\n",
    );
    for topic in Topic::ALL {
        text += &format!("\n{}\n", paint.tint(Tone::Heading, topic.name()));
        for entry in glossary::all() {
            if matches!(entry.subject, Subject::Word(of) if of == topic) {
                text += &format!("  {}\n", paint.tint(Tone::Found, entry.name));
                text += &wrap(entry.meaning, 6);
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::WIDTH;

    #[test]
    fn whatever_there_is_can_be_explained_within_the_page() {
        let mut pages = vec![list(Paint::OFF)];
        pages.extend(glossary::all().iter().map(|entry| text(entry.name, Paint::OFF).unwrap()));
        for line in pages.iter().flat_map(|page| page.lines()) {
            assert!(line.chars().count() <= WIDTH, "{line}");
        }
    }

    #[test]
    fn a_slip_is_answered_with_what_was_meant() {
        let says = text("reliev", Paint::OFF).unwrap_err().to_string();
        assert!(says.contains("did you mean `relief`"), "{says}");
        assert!(json("xyzzy").is_err());
        assert_eq!(json("").unwrap().len(), glossary::all().len());
    }
}
