//! A disk that fills up while a design is saved: it is said, and the old file stays.

#![cfg(unix)]

use std::path::Path;
use std::process::Command;

use overstand_core::testing::worked_example;
use overstand_files::{DesignFile, read, save};

/// Under this name the process with little room is told where to save.
const PLACE: &str = "OVERSTAND_SAVES_TO";

fn file(notes: &str) -> DesignFile {
    let mut design = worked_example();
    design.notes = notes.to_owned();
    DesignFile::of(design)
}

/// Not a test of its own: the process that has no room.
#[test]
#[ignore = "the process that has no room"]
fn saves_without_room() {
    let Some(place) = std::env::var_os(PLACE) else { return };
    let error = save(Path::new(&place), &file("new")).unwrap_err().to_string();
    assert!(error.starts_with("not saved, cannot write: "), "{error}");
    println!("\nsaid: {error}");
}

/// The system lets the process write a few hundred bytes to any file, as a disk does that
/// has no more: the save begins and cannot end.
#[test]
fn a_disk_that_fills_up_leaves_the_old_file_and_nothing_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.ron");
    for there in [Some(file("old")), None] {
        match &there {
            Some(old) => save(&path, old).unwrap(),
            None => std::fs::remove_file(&path).unwrap(),
        }
        let program = std::env::current_exe().unwrap();
        let output = Command::new("sh")
            // a blocked signal, so that the write fails instead of ending the process
            .args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$0\" \"$@\""])
            .arg(program)
            .args(["--exact", "saves_without_room", "--ignored", "--nocapture"])
            .env(PLACE, &path)
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(output.status.success() && said.contains("said: not saved"), "{said}");
        assert_eq!(read(&path).ok(), there);
        let files = std::fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(files, usize::from(there.is_some()), "something is left behind");
    }
}
