//! `docs/design-file.md` says what the program does.

use overstand_core::design::{
    BoardShape, BridgeKind, FloorKind, HeadFrom, HeadShape, JointKind, Limit, Nut, Provenance,
    StringMake, Tail, Tolerance, Top,
};
use overstand_core::dimension::{Dim, Role};
use overstand_core::study::Study;
use overstand_core::units::Unit;
use overstand_core::verdict::{CheckId, Word};
use overstand_files::parse;
use ron::Options;
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

const REFERENCE: &str = include_str!("../../../docs/design-file.md");

/// The blocks of code that are marked so.
fn blocks(mark: &str) -> Vec<&'static str> {
    REFERENCE
        .split("\n```")
        .skip(1)
        .step_by(2)
        .filter_map(|block| block.split_once('\n'))
        .filter(|(found, _)| *found == mark)
        .map(|(_, text)| text)
        .collect()
}

#[test]
fn the_whole_file_reads_and_plays() {
    let whole = blocks("ron");
    assert_eq!(whole.len(), 1);
    let file = parse(whole[0]).unwrap_or_else(|error| panic!("{error}"));
    let study = Study::of(file.active_design());
    assert_eq!(study.word(), Word::Plays, "{:?}", study.reason());
    assert_eq!(study.closed().map(|closed| closed.degrees_of_freedom), Some(0));
}

#[test]
fn every_kind_that_is_shown_reads() {
    fn reads<T: DeserializeOwned>(text: &str) -> bool {
        Options::default()
            .with_default_extension(Extensions::IMPLICIT_SOME)
            .from_str::<T>(text)
            .is_ok()
    }
    let mut lines = 0;
    for line in blocks("ron kinds").iter().flat_map(|block| block.lines()) {
        let (key, value) = line.split_once(": ").unwrap_or_default();
        let good = match key {
            "nut" => reads::<Nut>(value),
            "shape" => reads::<BoardShape>(value) || reads::<HeadShape>(value),
            "kind" => reads::<JointKind>(value) || reads::<BridgeKind>(value),
            "floor_kind" => reads::<FloorKind>(value),
            "head_from" => reads::<HeadFrom>(value),
            "top" => reads::<Top>(value),
            "tail" => reads::<Tail>(value),
            "mark" => reads::<Provenance>(value),
            "limit" => reads::<Limit>(value),
            "tolerance" => reads::<Tolerance>(value),
            "make" => reads::<StringMake>(value),
            _ => false,
        };
        assert!(good, "{line} does not read");
        lines += 1;
    }
    assert_eq!(lines, 2 + 3 + 2 + 2 + 4 + 3 + 4 + 5 + 5 + 3 + 3 + 3 + 2);
}

#[test]
fn the_fitting_log_that_is_shown_is_read_and_written_back() {
    let block = blocks("ron fitting");
    assert_eq!(block.len(), 1);
    let whole = blocks("ron")[0];
    let (before, after) = whole.split_once("            wanted: (").unwrap_or_default();
    let text =
        format!("{before}            fitting: {},\n            wanted: ({after}", block[0].trim());
    let file = parse(&text).unwrap_or_else(|error| panic!("{error}\n{text}"));
    let fitting = &file.active_design().fitting;
    assert_eq!(fitting.len(), 2);
    assert_eq!(fitting[0].readings.len(), 3);
    assert!(fitting[1].glued && fitting[1].done.is_none());
    let again = parse(&overstand_files::write(&file)).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(again, file);
    let bad = text.replace("crowns@X=250:19.01", "crown@X=250:19.01");
    let error = parse(&bad).map(|_| ()).unwrap_err().to_string();
    assert!(error.contains("there is no reading `crown`"), "{error}");
}

/// A row of the table of dimensions.
fn row(dim: Dim) -> String {
    let info = dim.info();
    let unit = match info.unit {
        Unit::Length => " mm",
        Unit::Angle => "°",
        Unit::Count | Unit::Number => "",
    };
    let role = match info.role {
        Role::Closing => "closing",
        Role::Given => "given",
        Role::Outcome => "outcome",
    };
    let usual =
        if info.usual.is_empty() { String::new() } else { format!(" Usual: {}.", info.usual) };
    format!(
        "| `{}` | {} to {}{unit} | {role} | {}{usual} |",
        info.key, info.low, info.high, info.meaning
    )
}

/// A row of the table of checks.
fn check_row(id: CheckId) -> String {
    let unit = id.unit().symbol();
    let edge = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |value| value.to_string());
    let limit = id.usual_limit();
    format!(
        "| `{}` | {} | {unit} | {} | {} | {} | {} |",
        id.text(),
        id.name(),
        edge(limit.fails_below),
        edge(limit.thin_below),
        edge(limit.thin_above),
        edge(limit.fails_above)
    )
}

#[test]
fn every_dimension_and_check_has_its_row() {
    let rows = Dim::ALL.iter().map(|&dim| row(dim));
    let missing: Vec<String> = rows
        .chain(CheckId::ALL.iter().map(|&id| check_row(id)))
        .filter(|row| !REFERENCE.contains(row.as_str()))
        .collect();
    assert!(missing.is_empty(), "docs/design-file.md lacks these rows:\n{}", missing.join("\n"));
    let rows = REFERENCE.lines().filter(|line| line.starts_with("| `")).count();
    assert_eq!(rows, Dim::ALL.len() + CheckId::ALL.len(), "a row is left over");
}
