//! A program that is killed while it saves: what stands on disk is the old file or the new
//! one, whole, and nothing that was reported as saved is lost.

#![cfg(unix)]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]
#![allow(clippy::print_stdout, reason = "what was saved, and the figures of a long run")]

use std::io::{BufRead as _, BufReader, Read as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use overstand_core::testing::worked_example;
use overstand_files::{DesignFile, read, save};

/// Under this name the saving process is told where to save.
const PLACE: &str = "OVERSTAND_SAVES_TO";

/// The design as it is saved for the n-th time: larger, then smaller again.
fn nth(n: u32) -> DesignFile {
    let mut design = worked_example();
    design.notes = format!("{n}{}", " and more of it".repeat(n as usize % 40));
    DesignFile::of(design)
}

fn number_of(file: &DesignFile) -> u32 {
    let notes = &file.active_design().notes;
    notes.split(' ').next().unwrap_or_default().parse().unwrap()
}

/// Not a test of its own: the process that is killed. It saves again and again, and says
/// after each time that it has.
#[test]
#[ignore = "the process that the others kill"]
fn saves_for_ever() {
    let Some(place) = std::env::var_os(PLACE) else { return };
    let first = read(Path::new(&place)).map_or(0, |file| number_of(&file));
    for n in first + 1.. {
        save(Path::new(&place), &nth(n)).unwrap();
        println!("\nsaved {n}");
    }
}

/// Numbers that look random; Marsaglia's xorshift.
fn next(state: &mut u64) -> u64 {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    *state
}

/// Kills a saving process so many times, each at a random moment of its saves.
fn kill(times: u32) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.ron");
    save(&path, &nth(0)).unwrap();
    let mut random = 0x9E37_79B9_7F4A_7C15;
    let (mut saves, mut ahead) = (0, 0);
    for _ in 0..times {
        let mut process = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "saves_for_ever", "--ignored", "--nocapture"])
            .env(PLACE, &path)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut said = BufReader::new(process.stdout.take().unwrap());
        // from its first save on, so that none is killed before it begins
        let mut line = String::new();
        while !line.starts_with("saved ") {
            line.clear();
            assert!(said.read_line(&mut line).unwrap() > 0, "the process saved nothing");
        }
        std::thread::sleep(Duration::from_micros(next(&mut random) % 20_000));
        process.kill().unwrap();
        process.wait().unwrap();
        let mut rest = line.clone();
        said.read_to_string(&mut rest).unwrap();
        // the last line may be cut off in the middle of its number: only whole ones count
        let whole = &rest[..rest.rfind('\n').unwrap_or(0)];
        let reported = whole.lines().rev().find_map(|line| line.strip_prefix("saved "));
        let reported: u32 = reported.unwrap().parse().unwrap();

        let there = read(&path).unwrap_or_else(|error| panic!("after {reported} saves: {error}"));
        let number = number_of(&there);
        assert_eq!(there, nth(number), "save {number} is not whole");
        // the one after the last that was reported may have been done as well
        assert!((reported..=reported + 1).contains(&number), "{reported} reported, {number} there");
        saves = number;
        ahead += u32::from(number > reported);
    }
    let left = std::fs::read_dir(folder.path()).unwrap().count() - 1;
    println!(
        "killed {times} times in {saves} saves: nothing lost; {ahead} kills fell between a save \
         and its report, {left} unfinished files left beside it"
    );
}

#[test]
fn nothing_is_lost_by_a_kill() {
    kill(25);
}

#[test]
#[ignore = "two thousand kills take minutes; the figure stands in docs/hard-knocks.md"]
fn nothing_is_lost_by_two_thousand_kills() {
    kill(2_000);
}
