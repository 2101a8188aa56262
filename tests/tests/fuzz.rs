//! The readers against millions of texts that no one would write: an answer each time, no
//! panic, and what is wrong is always named at a place that the text has.
//!
//! In the suite a short run; the long one is
//! `cargo test --release -p overstand-tests --test fuzz -- --ignored --nocapture`.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]
#![allow(clippy::print_stdout, reason = "the figures of a long run")]

#[path = "../../crates/files/tests/pieces/mod.rs"]
mod pieces;

use std::panic::catch_unwind;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use overstand_core::units::{
    AngleStyle, LengthStyle, ParseError, parse_angle, parse_count, parse_length, parse_number,
    show_angle, show_length,
};
use overstand_files::{parse, starters, write};

use pieces::{OF_A_FILE, boundary};

/// Numbers that look random: Vigna's splitmix64, started anew for every text so that each
/// can be made again from its number.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    fn pick<'a, T: ?Sized>(&mut self, from: &[&'a T]) -> &'a T {
        from[self.below(from.len())]
    }
}

/// Pieces that mean something to the reader of a value.
const OF_A_VALUE: &[&str] = &[
    "0", "1", "7", "24", "628", "3/4", "1/0", ".", ",", "5.", ".5", "1e9", "1e999", "1e-999", " ",
    "  ", "\t", "mm", "cm", "m", "in", "ft", "\"", "'", "′", "″", "°", "deg", "min", "sec", "rad",
    ":", "+", "-", "−", "*", "/", "×", "÷", "(", ")", "((", "½", "¼", "⅛", "⁄", "≈", "~", "%", "x",
    "é", "\0", "\u{feff}", "\u{a0}", "NaN", "inf", "٣", "𝄞", "1:20", "2°30′", "24 3/4\"",
];

/// A starter with a few wounds, a part of one, or a run of pieces.
fn file_text(random: &mut Random, starters: &[&str]) -> String {
    let mut text = match random.below(16) {
        0 => String::new(),
        1 => String::from("(format: 1, active: \"a\", variants: ["),
        _ => random.pick(starters).to_owned(),
    };
    if text.len() < 100 {
        for _ in 0..random.below(40) {
            text.push_str(random.pick(OF_A_FILE));
        }
        return text;
    }
    for _ in 0..=random.below(3) {
        let from = boundary(&text, random.below(text.len() + 1));
        let length = random.below(24);
        let to = boundary(&text, from + length).max(from);
        match random.below(6) {
            0 => text.replace_range(from..to, ""),
            1 => text.truncate(from),
            2 => {
                let piece = text[from..to].to_owned();
                text.insert_str(from, &piece);
            }
            3 => {
                let letter = char::from(random.below(128) as u8);
                text.insert(from, letter);
            }
            _ => text.replace_range(from..to, random.pick(OF_A_FILE)),
        }
    }
    text
}

fn read_file(text: &str) {
    match parse(text) {
        Ok(file) => {
            let again = parse(&write(&file)).unwrap_or_else(|error| panic!("not again: {error}"));
            assert_eq!(again, file, "it came back as another");
        }
        Err(error) => {
            assert!(!error.to_string().is_empty());
            let Some((line, column)) = error.position() else { return };
            let there = text.split('\n').nth(line - 1);
            let letters = there.unwrap_or_else(|| panic!("no such line: {error}")).chars().count();
            // behind the last character at the most
            assert!((1..=letters + 1).contains(&column), "no such column: {error}");
        }
    }
}

fn value_text(random: &mut Random) -> String {
    let mut text = String::new();
    for _ in 0..=random.below(7) {
        match random.below(10) {
            0 => text.push(char::from_u32(random.below(0x11_0000) as u32).unwrap_or('\u{fffd}')),
            1 => text.push(char::from(random.below(128) as u8)),
            _ => text.push_str(random.pick(OF_A_VALUE)),
        }
    }
    if random.below(2000) == 0 {
        text = text.repeat(500);
    }
    text
}

fn read_value(text: &str) {
    let letters = text.chars().count();
    let answer = |answer: Result<f64, ParseError>| match answer {
        Ok(value) => {
            assert!(value.is_finite(), "came to {value}");
            Some(value)
        }
        Err(error) => {
            assert!(error.at <= letters, "points at {} of {letters}: {error}", error.at);
            assert!(!error.found.is_empty() && !error.expected.is_empty(), "{error}");
            None
        }
    };
    for style in [LengthStyle::Millimetres, LengthStyle::InchFraction] {
        if let Some(mm) = answer(parse_length(text, style)) {
            let shown = show_length(mm, 3, LengthStyle::Millimetres);
            let again = parse_length(&shown, LengthStyle::Millimetres).unwrap();
            // half of the last printed digit, and the rounding of the sum
            assert!((again - mm).abs() <= 0.5e-3 + 1e-9, "{mm} was shown as {shown}");
        }
    }
    if let Some(degrees) = answer(parse_angle(text)) {
        let shown = show_angle(degrees, 3, AngleStyle::DecimalDegrees);
        let again = parse_angle(&shown).unwrap();
        assert!((again - degrees).abs() <= 0.5e-3 + 1e-9, "{degrees} was shown as {shown}");
    }
    answer(parse_count(text).map(f64::from));
    answer(parse_number(text));
}

/// Reads so many texts on all cores; one that panics is shown.
fn run(
    what: &str,
    count: u64,
    text: impl Fn(&mut Random) -> String + Sync,
    read: impl Fn(&str) + Sync + std::panic::RefUnwindSafe,
) {
    const BATCH: u64 = 1000;
    let begun = Instant::now();
    let (next, letters) = (AtomicU64::new(0), AtomicU64::new(0));
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        let work = || {
            loop {
                let first = next.fetch_add(BATCH, Ordering::Relaxed);
                if first >= count {
                    return;
                }
                if first > 0 && first % 1_000_000 == 0 {
                    println!("{first} {what} so far, {:.0?}", begun.elapsed());
                }
                for number in first..(first + BATCH).min(count) {
                    // far apart, so that neighbours have nothing in common
                    let text = text(&mut Random(number.wrapping_mul(0xD134_2543_DE82_EF95)));
                    letters.fetch_add(text.len() as u64, Ordering::Relaxed);
                    if catch_unwind(|| read(&text)).is_err() {
                        panic!("{what} number {number} ends in a panic:\n{text:?}");
                    }
                }
            }
        };
        let workers: Vec<_> = (0..cores).map(|_| scope.spawn(work)).collect();
        for worker in workers {
            assert!(worker.join().is_ok(), "see above");
        }
    });
    println!(
        "{count} {what}, {} MB, clean after {:.0?} on {cores} cores",
        letters.load(Ordering::Relaxed) / 1_000_000,
        begun.elapsed()
    );
}

fn files(count: u64) {
    let texts: Vec<&str> = starters().iter().map(|starter| starter.text).collect();
    run("design files", count, |random| file_text(random, &texts), read_file);
}

fn values(count: u64) {
    run("values", count, value_text, read_value);
}

#[test]
fn a_short_run_is_clean() {
    files(4_000);
    values(60_000);
}

#[test]
#[ignore = "takes many minutes; its figures stand in docs/hard-knocks.md"]
fn ten_million_of_each_are_clean() {
    values(10_000_000);
    files(10_000_000);
}
