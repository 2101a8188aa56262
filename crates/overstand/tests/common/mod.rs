//! What the tests that run the program share.
#![allow(dead_code, reason = "each test uses its part of this")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use overstand_core::design::Design;
use overstand_core::testing::worked_example;
use overstand_files::DesignFile;
use serde_json::Value;

/// The program, where there is no display.
pub(crate) fn program() -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_overstand"));
    for display in ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"] {
        program.env_remove(display);
    }
    program
}

pub(crate) fn overstand(args: &[&str]) -> Output {
    program().args(args).output().unwrap()
}

pub(crate) fn stdout(output: &Output) -> &str {
    std::str::from_utf8(&output.stdout).unwrap()
}

pub(crate) fn stderr(output: &Output) -> &str {
    std::str::from_utf8(&output.stderr).unwrap()
}

/// A folder with design files, one of them `mine.ron`, and the program run in it.
///
/// What is asked comes as a command of plain words, and options of which each is one word
/// to the program.
pub(crate) struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    /// With the worked example.
    pub(crate) fn new() -> Self {
        Self::of(&DesignFile::of(worked_example()))
    }

    /// With the worked example, changed.
    pub(crate) fn with(change: impl FnOnce(&mut Design)) -> Self {
        let mut design = worked_example();
        change(&mut design);
        Self::of(&DesignFile::of(design))
    }

    pub(crate) fn of(file: &DesignFile) -> Self {
        let bench = Self { folder: tempfile::tempdir().unwrap() };
        bench.put("mine.ron", file);
        bench
    }

    pub(crate) fn put(&self, name: &str, file: &DesignFile) {
        overstand_files::save(&self.at(name), file).unwrap();
    }

    pub(crate) fn at(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The names of all files, in order.
    pub(crate) fn files(&self) -> Vec<String> {
        let entries = std::fs::read_dir(self.folder.path()).unwrap();
        let mut files: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        files.sort();
        files
    }

    pub(crate) fn ask(&self, command: &str, options: &[&str]) -> Command {
        let mut program = program();
        program.args(command.split(' ')).args(options).current_dir(self.folder.path());
        program
    }

    pub(crate) fn run(&self, command: &str, options: &[&str]) -> Output {
        self.ask(command, options).output().unwrap()
    }

    /// The answer as data; nothing is said beside it.
    #[track_caller]
    pub(crate) fn json(&self, command: &str, options: &[&str]) -> Value {
        let output = self.run(command, &[options, &["--json"]].concat());
        assert_eq!(stderr(&output), "");
        serde_json::from_slice(&output.stdout).unwrap()
    }

    /// That it is refused with these words, and leaves nothing.
    #[track_caller]
    pub(crate) fn refuses(&self, command: &str, options: &[&str], words: &[&str]) {
        let before = self.files();
        assert_refused(&self.run(command, options), words);
        assert_eq!(self.files(), before, "{options:?} left something");
    }
}

/// Exit status 2, nothing on standard output, and these words in the one form.
#[track_caller]
pub(crate) fn assert_refused(output: &Output, words: &[&str]) {
    let said = stderr(output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert_eq!(stdout(output), "");
    assert!(said.starts_with("overstand: "), "{said}");
    for word in words {
        assert!(said.contains(word), "no `{word}` in: {said}");
    }
}

#[track_caller]
pub(crate) fn assert_close(actual: &Value, expected: f64, tolerance: f64) {
    let actual = actual.as_f64().unwrap();
    assert!((actual - expected).abs() <= tolerance, "{actual} is not {expected}");
}

pub(crate) fn is_pdf(path: &Path) -> bool {
    std::fs::read(path).unwrap().starts_with(b"%PDF")
}

/// Adds the name of every field anywhere in a JSON value.
pub(crate) fn add_fields(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (name, inner) in fields {
                // the names in there are keys of dimensions
                if name != "inputs" {
                    add_fields(inner, found);
                }
                found.insert(name.clone());
            }
        }
        Value::Array(values) => values.iter().for_each(|inner| add_fields(inner, found)),
        _ => {}
    }
}

/// That the documentation names every one of the fields.
pub(crate) fn assert_described(fields: &BTreeSet<String>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/json.md");
    let described = std::fs::read_to_string(path).unwrap();
    assert!(!fields.is_empty());
    for name in fields {
        assert!(described.contains(&format!("`{name}`")), "docs/json.md lacks `{name}`");
    }
}
