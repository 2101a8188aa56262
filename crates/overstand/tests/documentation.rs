//! The examples in `docs` do what they show.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
#![cfg(unix)]

use std::path::Path;
use std::process::Command;

/// Runs a line in a folder; what it says on either stream.
fn run(line: &str, folder: &Path) -> String {
    let program = Path::new(env!("CARGO_BIN_EXE_overstand")).parent().unwrap();
    let path = std::env::join_paths(
        std::iter::once(program.to_owned())
            .chain(std::env::split_paths(&std::env::var_os("PATH").unwrap())),
    )
    .unwrap();
    let output = Command::new("sh")
        .args(["-c", line])
        .current_dir(folder)
        .env("PATH", path)
        .output()
        .unwrap();
    String::from_utf8([output.stdout, output.stderr].concat()).unwrap()
}

/// Whether lines are as shown, where `…` stands for any number of them.
fn matches(shown: &[&str], lines: &[&str]) -> bool {
    match shown.split_first() {
        None => lines.is_empty(),
        Some((&"…", rest)) => (0..=lines.len()).any(|skip| matches(rest, &lines[skip..])),
        Some((first, rest)) => {
            lines.split_first().is_some_and(|(line, after)| line == first && matches(rest, after))
        }
    }
}

/// Runs the examples of a page in a folder; says how many there are.
fn try_out(page: &str, folder: &Path) -> usize {
    let docs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs");
    let page = std::fs::read_to_string(docs.join(page)).unwrap();
    let mut tried = 0;
    for block in page.split("```console\n").skip(1) {
        let (block, _) = block.split_once("```").unwrap();
        for example in block.strip_prefix("$ ").unwrap().split("\n$ ") {
            let (line, shown) = example.split_once('\n').unwrap_or((example, ""));
            let said = run(line, folder);
            let (shown, lines): (Vec<&str>, Vec<&str>) =
                (shown.lines().collect(), said.lines().collect());
            assert!(matches(&shown, &lines), "$ {line}\n{said}");
            tried += 1;
        }
    }
    tried
}

#[test]
fn every_example_says_what_is_shown() {
    let folder = tempfile::tempdir().unwrap();
    let tried = try_out("command-line.md", folder.path());
    assert!(tried >= 12, "only {tried} examples were found");
}

/// With the design that the guide ends with, as it stands beside it.
#[test]
fn the_guide_holds_on_the_command_line_too() {
    let folder = tempfile::tempdir().unwrap();
    let design = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/guide/eel-house.ron");
    std::fs::copy(design, folder.path().join("eel-house.ron")).unwrap();
    let tried = try_out("guide.md", folder.path());
    assert!(tried >= 7, "only {tried} examples were found");
}

#[test]
fn lines_that_are_left_out_may_be_any_but_the_others_may_not() {
    assert!(matches(&["a", "…", "d"], &["a", "b", "c", "d"]));
    assert!(matches(&["…"], &[]));
    assert!(!matches(&["a", "…", "d"], &["a", "b", "c"]));
    assert!(!matches(&["a"], &["a", "b"]));
}
