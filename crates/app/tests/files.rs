//! Files as they come to the window: from two windows, dropped, chosen in the system's dialog.
#![allow(clippy::unwrap_used, clippy::panic, reason = "what fails here is to fail the test")]

mod common;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use overstand_app::Options;
use overstand_core::dimension::Dim;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;

/// The crest height in a file.
fn crest_in(path: &Path) -> f64 {
    let file = overstand_files::read(path).unwrap();
    Dim::CrestHeight.key().get(file.active_design()).unwrap()
}

fn window_on(path: &Path) -> Window {
    Window::open(Options { path: Some(path.to_owned()), dialogs: false, ..Options::default() })
}

/// Another design in a file of its own.
fn another(folder: &Path) -> PathBuf {
    let mut design = worked_example();
    design.name = "Another".to_owned();
    design.scale.length = Length::mm(650.0);
    let path = folder.join("another.ron");
    overstand_files::save(&path, &overstand_files::DesignFile::of(design)).unwrap();
    path
}

/// A file that the window system says was dropped.
#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

fn drop_on(window: &mut Window, path: &Path) {
    window.harness.input_mut().dropped_files.push(Arc::new(Dropped(path.to_owned())));
    window.harness.run();
}

#[test]
fn two_windows_on_one_file_do_not_overwrite_each_other() {
    let (mut first, folder) = Window::worked();
    let path = folder.path().join("design.ron");
    let mut second = window_on(&path);
    first.type_in("Crest height", "24", Key::Enter);
    first.press(Modifiers::COMMAND, Key::S);
    assert_eq!(crest_in(&path), 24.0);

    second.type_in("Crest height", "25", Key::Enter);
    second.press(Modifiers::COMMAND, Key::S);
    assert_eq!(crest_in(&path), 24.0, "the other window's work is gone");
    assert!(second.says("was changed from elsewhere"));
    second.click(Role::Button, "Cancel");
    assert_eq!(crest_in(&path), 24.0);
    assert!(second.app().title().starts_with('•'), "it takes itself for saved");

    second.press(Modifiers::COMMAND, Key::S);
    second.click(Role::Button, "Replace it");
    assert_eq!(crest_in(&path), 25.0);
    // and now the first one is the one that is behind
    first.type_in("Crest height", "26", Key::Enter);
    first.press(Modifiers::COMMAND, Key::S);
    assert_eq!(crest_in(&path), 25.0);
    assert!(first.says("was changed from elsewhere"));
}

#[test]
fn a_dropped_file_is_opened_but_not_over_unsaved_work() {
    let (mut window, folder) = Window::worked();
    let other = another(folder.path());
    window.type_in("Crest height", "24", Key::Enter);
    drop_on(&mut window, &other);
    assert!(window.says("There are changes that are not saved"));
    assert_eq!(window.get(Dim::CrestHeight), 24.0, "the work was left behind");
    window.click(Role::Button, "Cancel");
    assert_eq!(window.get(Dim::CrestHeight), 24.0);

    drop_on(&mut window, &other);
    window.click(Role::Button, "Save first");
    assert_eq!(crest_in(&folder.path().join("design.ron")), 24.0);
    assert_eq!(window.design().name, "Another");

    let broken = folder.path().join("broken.ron");
    std::fs::write(&broken, "(variants: [").unwrap();
    drop_on(&mut window, &broken);
    assert!(window.says("Not opened: "));
    assert_eq!(window.design().name, "Another");
}

/// The system's dialog, as far as it can be had without one: rfd asks the desktop's portal,
/// and without one the program `zenity`, in whose place a script stands here. It runs in a
/// process of its own, because a search path belongs to the whole process.
#[cfg(target_os = "linux")]
mod dialog {
    use std::os::unix::fs::PermissionsExt as _;
    use std::process::Command;
    use std::time::{Duration, Instant};

    use super::*;

    const INSIDE: &str = "dialog::inside_a_process_with_a_dialog";

    fn run(script: &str, expects: &str) {
        let folder = tempfile::tempdir().unwrap();
        let other = another(folder.path());
        let program = folder.path().join("zenity");
        std::fs::write(&program, script.replace("OTHER", other.to_str().unwrap())).unwrap();
        std::fs::set_permissions(&program, std::fs::Permissions::from_mode(0o755)).unwrap();
        let path = std::env::join_paths(
            std::iter::once(folder.path().to_owned())
                .chain(std::env::split_paths(&std::env::var_os("PATH").unwrap_or_default())),
        );
        let output = Command::new(std::env::current_exe().unwrap())
            .args(["--ignored", "--exact", INSIDE])
            .env("PATH", path.unwrap())
            .env("DBUS_SESSION_BUS_ADDRESS", "unix:path=/nonexistent")
            .env("EXPECTED_NAME", expects)
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(output.status.success() && said.contains("1 passed"), "{said}");
    }

    #[test]
    fn a_file_is_chosen_in_the_dialog_of_the_system() {
        run("#!/bin/sh\necho OTHER\n", "Another");
    }

    #[test]
    fn a_dialog_that_is_cancelled_changes_nothing() {
        let name = worked_example().name;
        run("#!/bin/sh\nsleep 0.4\nexit 1\n", &name);
    }

    #[test]
    #[ignore = "run by the tests above, in a process that has the dialog"]
    fn inside_a_process_with_a_dialog() {
        let expected = std::env::var("EXPECTED_NAME").unwrap();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("design.ron");
        let file = overstand_files::DesignFile::of(worked_example());
        overstand_files::save(&path, &file).unwrap();
        let mut window = Window::open(Options { path: Some(path), ..Options::default() });
        window.press(Modifiers::COMMAND, Key::O);
        let asked = Instant::now();
        while asked.elapsed() < Duration::from_secs(1)
            || (window.design().name != expected && asked.elapsed() < Duration::from_secs(20))
        {
            std::thread::sleep(Duration::from_millis(20));
            window.harness.step();
        }
        assert_eq!(window.design().name, expected);
        assert!(!window.says("Path of the file"), "the dialog was taken for none");
    }
}
