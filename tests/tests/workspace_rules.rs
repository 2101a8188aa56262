//! What the shape of the code promises, held by test: who may know whom, what the core
//! keeps out, and that every crate takes the workspace's lints.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

fn metadata() -> Value {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--offline", "--format-version", "1"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn arrows_point_one_way() {
    let allowed: BTreeMap<&str, &[&str]> = BTreeMap::from([
        ("overstand-core", &[][..]),
        ("overstand-files", &["overstand-core"][..]),
        ("overstand-drawing", &["overstand-core"][..]),
        ("overstand-app", &["overstand-core", "overstand-files", "overstand-drawing"][..]),
        (
            "overstand",
            &["overstand-core", "overstand-files", "overstand-drawing", "overstand-app"][..],
        ),
        (
            "overstand-tests",
            &["overstand-core", "overstand-files", "overstand-drawing", "overstand-app"][..],
        ),
    ]);
    let mut seen = 0;
    for package in metadata()["packages"].as_array().unwrap() {
        let name = package["name"].as_str().unwrap();
        let may = allowed.get(name).unwrap_or_else(|| panic!("{name} has no place in the plan"));
        seen += 1;
        for dependency in package["dependencies"].as_array().unwrap() {
            let other = dependency["name"].as_str().unwrap();
            // a crate may test itself with what it may not be built from
            if other.starts_with("overstand") && dependency["kind"] != "dev" {
                assert!(may.contains(&other), "{name} may not know {other}");
            }
        }
    }
    assert_eq!(seen, allowed.len(), "a crate is missing");
}

#[test]
fn the_core_and_the_drawing_know_no_screen() {
    for package in metadata()["packages"].as_array().unwrap() {
        let name = package["name"].as_str().unwrap();
        if !["overstand-core", "overstand-files", "overstand-drawing"].contains(&name) {
            continue;
        }
        for dependency in package["dependencies"].as_array().unwrap() {
            let other = dependency["name"].as_str().unwrap();
            let screen =
                ["egui", "eframe", "winit", "rfd"].iter().any(|gui| other.starts_with(gui));
            assert!(!screen, "{name} may not know {other}");
        }
    }
}

fn rust_files(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
}

#[test]
fn the_core_has_no_file_clock_or_thread() {
    let mut files = Vec::new();
    rust_files(&root().join("crates/core/src"), &mut files);
    assert!(files.len() > 30);
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        for word in ["std::fs", "std::time", "std::thread", "std::env", "std::process", "std::net"]
        {
            assert!(!text.contains(word), "{} uses {word}", file.display());
        }
    }
}

#[test]
fn every_crate_takes_the_lints() {
    for package in metadata()["packages"].as_array().unwrap() {
        let manifest = package["manifest_path"].as_str().unwrap();
        let text = std::fs::read_to_string(manifest).unwrap();
        assert!(text.contains("[lints]\nworkspace = true"), "{manifest}");
    }
}

/// A library that no line of a crate names is built for nothing.
#[test]
fn every_dependency_is_used() {
    // taken in only to switch on what it leaves out by itself
    const FOR_ITS_FEATURES: [&str; 1] = ["winit"];
    let mut seen = 0;
    for package in metadata()["packages"].as_array().unwrap() {
        let name = package["name"].as_str().unwrap();
        let folder = Path::new(package["manifest_path"].as_str().unwrap()).parent().unwrap();
        let text_of = |folders: &[&str]| -> String {
            let mut files = Vec::new();
            for folder in folders.iter().map(|name| folder.join(name)).filter(|it| it.exists()) {
                rust_files(&folder, &mut files);
            }
            files.iter().map(|file| std::fs::read_to_string(file).unwrap()).collect()
        };
        let built = text_of(&["src"]);
        let tested = text_of(&["src", "tests", "benches", "examples"]);
        for dependency in package["dependencies"].as_array().unwrap() {
            let other = dependency["name"].as_str().unwrap();
            let word = other.replace('-', "_");
            // a crate that holds nothing but tests has no source to use it in
            let only_tests = dependency["kind"] == "dev" || name == "overstand-tests";
            let text = if only_tests { &tested } else { &built };
            let used = text
                .match_indices(&word)
                .any(|(at, _)| text[at + word.len()..].starts_with([':', ';', ',', ' ', '}']));
            assert!(
                used || FOR_ITS_FEATURES.contains(&other),
                "{name} takes in {other} and does not use it"
            );
            seen += 1;
        }
    }
    assert!(seen > 30, "only {seen} dependencies were seen");
}

/// A file that one reads in one sitting.
#[test]
fn no_file_is_too_long_to_read() {
    const MOST_LINES: usize = 600;
    let mut files = Vec::new();
    for folder in ["crates", "tests"] {
        rust_files(&root().join(folder), &mut files);
    }
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        let lines = text.lines().count();
        assert!(lines <= MOST_LINES, "{} has {lines} lines", file.display());
    }
}
