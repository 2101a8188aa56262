//! Whatever stands in a file: an answer, and no panic.

mod pieces;

use overstand_files::{DesignFile, parse, starters, write};
use proptest::prelude::*;

use pieces::{OF_A_FILE, boundary};

/// Reads it and, if it is a design, writes it: what was written reads as the same.
fn survives(text: &str) -> Result<(), TestCaseError> {
    match parse(text) {
        Ok(file) => {
            let again = parse(&write(&file));
            prop_assert_eq!(again.map_err(|error| error.to_string()), Ok(file));
        }
        Err(error) => {
            prop_assert!(!error.to_string().is_empty());
            if let Some((line, column)) = error.position() {
                // behind the last character at the most
                let lines = text.split('\n').count();
                prop_assert!((1..=lines).contains(&line) && column >= 1, "{}", error);
            }
        }
    }
    Ok(())
}

fn starter_text() -> impl Strategy<Value = String> {
    (0..starters().len()).prop_map(|index| starters()[index].text.to_owned())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        survives(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn any_run_of_pieces(pieces in proptest::collection::vec(proptest::sample::select(OF_A_FILE), 0..60)) {
        survives(&pieces.concat())?;
        survives(&format!("(format: 1, active: \"a\", variants: [{}", pieces.concat()))?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_design_file_with_wounds(
        text in starter_text(),
        wounds in proptest::collection::vec((any::<prop::sample::Index>(), 0_usize..30, proptest::sample::select(OF_A_FILE)), 1..4),
    ) {
        let mut text = text;
        for (at, length, piece) in wounds {
            let from = boundary(&text, at.index(text.len() + 1));
            let to = boundary(&text, from + length).max(from);
            text.replace_range(from..to, piece);
        }
        survives(&text)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_number_put_in_the_place_of_another(text in starter_text(), at in any::<prop::sample::Index>(), number in prop_oneof![any::<f64>(), -500.0..500.0, -5.0..5.0]) {
        let numbers: Vec<(usize, usize)> = text
            .match_indices(": ")
            .filter_map(|(at, _)| {
                let rest = &text[at + 2..];
                let length = rest.find([',', ')', '\n'])?;
                rest[..length].parse::<f64>().ok().map(|_| (at + 2, at + 2 + length))
            })
            .collect();
        let (from, to) = numbers[at.index(numbers.len())];
        survives(&format!("{}{number}{}", &text[..from], &text[to..]))?;
    }

    #[test]
    fn any_words_come_back(name in ".{1,40}", notes in any::<String>(), bracketed in "[\"\\\\#r()/* \r\n]{0,40}") {
        let mut design = overstand_core::testing::worked_example();
        design.name = name;
        design.notes = format!("{notes}{bracketed}");
        let file = DesignFile::of(design);
        if file.faults().is_empty() {
            prop_assert_eq!(parse(&write(&file)).map_err(|error| error.to_string()), Ok(file));
        }
    }
}
