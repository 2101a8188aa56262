//! What is refused, and in what words.

use overstand_core::dimension::{Key, Role};
use overstand_core::testing::worked_example;
use overstand_files::{DesignFile, LARGEST_FILE, ReadError, parse, read, starters, write};

fn text() -> String {
    write(&DesignFile::of(worked_example()))
}

/// The error of the worked example with one piece replaced, and what stands at its place.
#[track_caller]
fn error_with(from: &str, to: &str) -> (String, String) {
    let text = text();
    assert!(text.contains(from), "{from} is not in the text");
    error_of(&text.replacen(from, to, 1))
}

#[track_caller]
fn error_of(text: &str) -> (String, String) {
    let error = parse(text).expect_err("this was taken for a design");
    let at = error.position().map_or_else(String::new, |(line, column)| {
        let line = text.lines().nth(line - 1).unwrap_or_default();
        line.chars().skip(column - 1).collect()
    });
    (error.to_string(), at)
}

#[test]
fn a_slip_of_the_pen_is_answered_with_what_was_meant() {
    let (says, at) = error_with("crest_height:", "crest_hight:");
    assert!(
        says.ends_with("there is no field `crest_hight` here; did you mean `crest_height`?"),
        "{says}"
    );
    assert!(at.starts_with("crest_hight"), "{at}");

    let (says, at) = error_with("kind: Plate", "kind: Plates");
    assert!(says.ends_with("there is no kind `Plates` here; did you mean `Plate`?"), "{says}");
    assert!(at.starts_with("Plates"), "{at}");

    let (says, _) = error_with("nut: Filed", "nut: Bone");
    assert!(
        says.ends_with("there is no kind `Bone` here, expected one of Filed, ZeroFret"),
        "{says}"
    );

    let (says, _) = error_with("pitch: 3.0,", "");
    assert!(says.contains("`pitch` is missing") && says.contains("joint"), "{says}");

    let (says, at) = error_with("pitch: 3.0,", "pitch: 3.0, pitch: 2.0,");
    assert!(says.ends_with("`pitch` is given twice"), "{says}");
    assert!(at.starts_with("pitch"), "{at}");

    let (says, at) = error_with(
        "found: [",
        "targets: {\"tail.break_angle\": 12, \"tail.break_angle\": 9}, found: [",
    );
    assert!(says.ends_with("targets: this key is given twice"), "{says}");
    assert!(at.starts_with("\"tail.break_angle\": 9"), "{at}");
}

#[test]
fn what_is_written_wrongly_is_said_in_words_of_the_bench() {
    for (from, to, expected, place) in [
        ("pitch: 3.0", "pitch: 3,0", "decimals stand after a point, not a comma", ""),
        ("frets: 22", "frets: 22.0", "expected a comma or a closing bracket", ".0"),
        ("frets: 22", "frets: -1", "expected a whole number from 0 to 255", ""),
        ("frets: 22", "frets: 300", "expected a whole number from 0 to 255", ""),
        ("length: 628.0", "length: \"628\"", "expected a number", "\"628\""),
        ("length: 628.0", "length: 628 mm", "expected a comma or a closing bracket", "mm"),
        ("name: \"e\"", "name: e", "expected words in quotation marks", "e, "),
        ("strings: [", "strings: (", "expected `[`", "("),
    ] {
        let (says, at) = error_with(from, to);
        assert!(says.ends_with(expected), "{to}: {says}");
        assert!(at.starts_with(place), "{to}: {at}");
    }
}

#[test]
fn numbers_that_are_none_are_refused_everywhere() {
    for number in ["NaN", "inf", "-inf", "1e400", "1e9", "99999999999999999999999999"] {
        let (says, _) = error_with("pitch: 3.0", &format!("pitch: {number}"));
        assert!(says.contains("expected an angle in degrees between -360 and 360"), "{says}");
        let (says, _) = error_with("length: 628.0", &format!("length: {number}"));
        assert!(says.contains("expected a length in mm between"), "{says}");
        for extra in [
            format!("targets: {{\"tail.break_angle\": {number}}}"),
            format!("marks: {{\"joint.pitch\": Measured(on: \"2026-03-05\", error: {number})}}"),
        ] {
            let (says, at) = error_with("found: [", &format!("{extra}, found: ["));
            assert!(says.contains("is out of range, expected"), "{says}");
            assert!(
                at.starts_with("\"tail.break_angle\"") || at.starts_with("\"joint.pitch\""),
                "{at}"
            );
        }
    }
    for number in ["NaN", "inf"] {
        let extra = format!("limits: {{\"relief\": (thin_above: {number}, fails_above: 1)}}");
        let (says, at) = error_with("found: [", &format!("{extra}, found: ["));
        assert!(says.contains("limits: relief: expected fails_below <"), "{says}");
        assert!(at.starts_with("\"relief\""), "{at}");
    }
}

#[test]
fn words_of_tables_are_known_ones() {
    for (extra, expected, place) in [
        ("targets: {\"tail.brake_angle\": 12}", "did you mean `tail.break_angle`?", "\"tail.brake"),
        ("targets: {\"joint.pitch\": 3}", "is not an outcome", "\"joint.pitch\""),
        ("marks: {\"joint.pich\": Made}", "did you mean `joint.pitch`?", "\"joint.pich\""),
        (
            "limits: {\"releif\": (fails_below: 1, thin_below: 2)}",
            "did you mean `relief`?",
            "\"releif\"",
        ),
        (
            "limits: {\"relief\": (fails_below: 2, thin_below: 1)}",
            "expected fails_below <",
            "\"relief\"",
        ),
        (
            "marks: {\"joint.pitch\": Measured(on: \"2026-02-30\", error: 0.1)}",
            "expected a date as 2026-03-31",
            "",
        ),
    ] {
        let (says, at) = error_with("found: [", &format!("{extra}, found: ["));
        assert!(says.contains(expected), "{says}");
        assert!(at.starts_with(place), "{extra}: {at}");
    }
    let (says, at) = error_with("\"joint.pitch\"", "\"joint.picth\"");
    assert!(says.contains("did you mean `joint.pitch`?"), "{says}");
    assert!(at.starts_with("\"joint.picth\""), "{at}");
}

#[test]
fn variants_have_names_of_their_own_and_one_is_active() {
    let (says, at) = error_with("active: \"Worked example\"", "active: \"Worked examples\"");
    assert!(says.contains("active: there is no variant `Worked examples`"), "{says}");
    assert!(at.starts_with("active"), "{at}");

    let mut file = DesignFile::of(worked_example());
    file.variants.push(worked_example());
    let text = write(&file);
    let (says, at) = error_of(&text);
    assert!(says.contains("another variant is called `Worked example` as well"), "{says}");
    assert!(at.starts_with("name:"), "{at}");
    let line = parse(&text).unwrap_err().position().unwrap().0;
    assert!(line > 80, "the second one is meant, found line {line}");

    let (says, _) = error_of("(format: 1, active: \"a\", variants: [])");
    assert!(says.contains("variants: found 0, expected 1 to 1000 variants"), "{says}");
    let (says, _) = error_of("(format: 1, variants: [])");
    assert!(says.contains("`active` is missing"), "{says}");
}

#[test]
fn a_fault_in_one_of_several_names_the_variant() {
    let mut file = starters()[0].file().unwrap();
    file.variants[1].joint.overstand = overstand_core::units::Length::mm(99.0);
    let (says, at) = error_of(&write(&file));
    assert!(
        says.contains("variant `Two posts, stop tail`, joint.overstand: 99 mm is out of range"),
        "{says}"
    );
    assert!(at.starts_with("overstand: 99.0"), "{at}");
}

/// Each value of each starter, put out of its range, is found where it stands.
#[test]
fn every_value_is_found_at_its_line() {
    let mut places = 0;
    for starter in starters() {
        let file = starter.file().unwrap();
        for key in Key::all_of(&file.variants[0]) {
            let info = key.dim.info();
            let too_large = info.high + 1.0;
            if info.role == Role::Outcome {
                continue;
            }
            let mut wrong = DesignFile {
                variants: vec![file.variants[0].clone()],
                active: file.variants[0].name.clone(),
            };
            key.set(&mut wrong.variants[0], too_large);
            let text = write(&wrong);
            match parse(&text) {
                Err(ReadError::Nonsense { line, column, place, says, .. }) => {
                    assert_eq!(place, key.to_string(), "{}: {says}", starter.id);
                    let line = text.lines().nth(line - 1).unwrap();
                    let rest: String = line.chars().skip(column - 1).collect();
                    let value = rest.split_once(": ").map_or("", |(_, rest)| rest);
                    let shown = format!("{too_large}");
                    assert!(value.starts_with(&shown), "{place} points to {rest}");
                    places += 1;
                }
                other => panic!("{}: {key} at {too_large} gives {other:?}", starter.id),
            }
        }
    }
    assert!(places > starters().len() * 80, "only {places} values were tried");
}

#[test]
fn another_version_is_told_from_a_broken_file() {
    let later =
        "// from tomorrow\n(format: 2, active: \"a\", wonders: [Odd(1, 'x')], variants: {})";
    match parse(later) {
        Err(ReadError::LaterVersion { found: 2, known: 1 }) => {}
        other => panic!("{other:?}"),
    }
    assert!(matches!(
        parse("(format: 99999999999999999999999)"),
        Err(ReadError::LaterVersion { .. })
    ));
    assert!(matches!(parse("(format: 3, broken ["), Err(ReadError::LaterVersion { found: 3, .. })));
    let (says, at) = error_with("format: 1", "format: 0");
    assert_eq!(
        (says.as_str(), at.as_str()),
        ("line 3, column 13: found format 0, expected 1", "0,")
    );
    for number in ["-1", "1.5", "one", "\"1\""] {
        assert!(matches!(
            parse(&text().replace("format: 1", &format!("format: {number}"))),
            Err(ReadError::Syntax { .. })
        ));
    }
    let (says, _) = error_of("(active: \"a\", variants: [])");
    assert!(says.contains("not a design file, expected it to begin with `(format: 1,`"), "{says}");
}

#[test]
fn text_from_any_editor_is_read() {
    let plain = parse(&text()).unwrap();
    assert_eq!(parse(&format!("\u{feff}{}", text())).unwrap(), plain);
    assert_eq!(parse(&text().replace('\n', "\r\n")).unwrap(), plain);
    assert_eq!(parse(&text().replace("\n", " // remark\n")).unwrap(), plain);
    assert_eq!(parse(&text().replace("628.0", "628")).unwrap(), plain);
    assert_eq!(parse(&text().replace("628.0", "+6.28e2")).unwrap(), plain);
}

#[test]
fn what_is_no_text_at_all_is_refused_clearly() {
    assert_eq!(error_of("").0, "line 1, column 1: the file is empty, expected a design");
    assert_eq!(error_of(" \n\r\n").0, "line 1, column 1: the file is empty, expected a design");
    let (says, _) = error_of(&text()[..text().len() / 2]);
    assert!(says.contains("line"), "{says}");
    // a million brackets inside each other: no overflow of the stack
    for bracket in ["(", "[", "{", "Some("] {
        let deep = text().replace("628.0", &bracket.repeat(1_000_000));
        assert!(matches!(parse(&deep), Err(ReadError::Syntax { .. })), "{bracket}");
        assert!(parse(&bracket.repeat(1_000_000)).is_err());
    }

    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.ron");
    std::fs::write(&path, b"(format: 1,\n \xff\xfe\x00").unwrap();
    assert_eq!(
        read(&path).unwrap_err().to_string(),
        "line 2, column 2: not text in UTF-8, expected a design file"
    );
    std::fs::File::create(&path).unwrap().set_len(LARGEST_FILE + 1).unwrap();
    assert!(matches!(read(&path), Err(ReadError::TooLarge)));
    let missing = folder.path().join("missing.ron");
    let says = read(&missing).unwrap_err().to_string();
    assert!(says.starts_with("cannot read ") && says.contains("missing.ron: "), "{says}");
    assert!(matches!(read(folder.path()), Err(ReadError::Io { .. })));
}
