//! `docs/glossary.md` is made from the glossary: this test holds it fresh.
//!
//! `WRITE_DOCS=1 cargo test -p overstand-tests --test glossary` writes it anew.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use std::fmt::Write as _;
use std::path::Path;

use overstand_core::glossary::{Entry, Subject, Topic, all};

const HEAD: &str = "\
# Glossary

What each word means here, with its unit and how it is measured.
`overstand explain TERM` says the same on the command line.
This page is made from the program's own glossary, and a test holds it to that.
";

const TABLES: &str = "
## Dimensions, choices and checks

These explain themselves in the tables they come from: `overstand explain` takes the name or the key.
[The design file](design-file.md#every-dimension) has every dimension with its range and meaning, and [every check with its limits](design-file.md#limits).

| name | what it is | key | also called |
|---|---|---|---|
";

fn page() -> String {
    let mut page = String::from(HEAD);
    for topic in Topic::ALL {
        write!(page, "\n## {}\n", topic.name()).unwrap();
        for entry in all().iter().filter(|entry| is_word_of(entry, topic)) {
            write!(page, "\n**{}**", entry.name).unwrap();
            if !entry.also.is_empty() {
                write!(page, " ({})", entry.also.join(", ")).unwrap();
            }
            writeln!(page, ": {}", entry.meaning).unwrap();
        }
    }
    page += TABLES;
    for entry in all() {
        let is = match entry.subject {
            Subject::Word(_) => continue,
            Subject::Dimension(_) => "dimension",
            Subject::Choice(_) => "choice",
            Subject::Check(_) => "check",
        };
        let (key, also) = (entry.key().unwrap(), entry.also.join(", "));
        writeln!(page, "| {} | {is} | `{key}` | {also} |", entry.name).unwrap();
    }
    page
}

fn is_word_of(entry: &Entry, topic: Topic) -> bool {
    matches!(entry.subject, Subject::Word(of) if of == topic)
}

#[test]
fn the_page_is_fresh() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/glossary.md");
    if std::env::var_os("WRITE_DOCS").is_some() {
        std::fs::write(&path, page()).unwrap();
    }
    let there = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        there == page(),
        "docs/glossary.md is stale: WRITE_DOCS=1 cargo test -p overstand-tests --test glossary"
    );
}
