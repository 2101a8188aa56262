//! Saving: wholly or not at all, and never over what someone else wrote.

use std::fs;
use std::path::Path;

use overstand_core::testing::worked_example;
use overstand_core::units::Length;
use overstand_files::{DesignFile, SaveError, read, save, save_if_unchanged, stamp, write};

fn file() -> DesignFile {
    DesignFile::of(worked_example())
}

fn other() -> DesignFile {
    let mut design = worked_example();
    design.notes = "other".to_owned();
    DesignFile::of(design)
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> =
        entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn what_is_saved_is_read_and_nothing_else_is_left() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("neck and body é.ron");
    save(&path, &file()).unwrap();
    save(&path, &other()).unwrap();
    assert_eq!(read(&path).unwrap(), other());
    assert_eq!(names(folder.path()), ["neck and body é.ron"]);
}

#[test]
fn nonsense_is_not_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.ron");
    save(&path, &file()).unwrap();
    for mm in [f64::NAN, f64::INFINITY, 1e9, 5000.0] {
        let mut wrong = file();
        wrong.variants[0].scale.length = Length::mm(mm);
        let error = save(&path, &wrong).unwrap_err();
        assert!(error.to_string().starts_with("not saved, scale.length: "), "{error}");
    }
    let mut wrong = file();
    wrong.variants.clear();
    assert!(matches!(save(&path, &wrong), Err(SaveError::Nonsense { .. })));
    assert_eq!(read(&path).unwrap(), file());
    // even the text of such a file is none that could be taken for a design
    let mut wrong = file();
    wrong.variants[0].scale.length = Length::mm(f64::NAN);
    assert!(overstand_files::parse(&write(&wrong)).is_err());
}

#[test]
fn a_later_version_is_left_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.ron");
    let later = "(format: 2, wonders: [1, 2])";
    fs::write(&path, later).unwrap();
    for result in [
        save(&path, &file()),
        save_if_unchanged(&path, &file(), Some(&stamp(&path).unwrap())).map(|_| ()),
    ] {
        assert!(
            matches!(result, Err(SaveError::LaterVersion { found: 2, known: 1 })),
            "{result:?}"
        );
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), later);
}

#[test]
fn a_change_from_elsewhere_is_noticed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.ron");
    let first = save_if_unchanged(&path, &file(), None).unwrap();
    assert_eq!(stamp(&path).unwrap(), first);
    // there is one now
    assert!(matches!(save_if_unchanged(&path, &file(), None), Err(SaveError::ChangedOnDisk)));

    // touched, but the same
    fs::write(&path, write(&file())).unwrap();
    let second = save_if_unchanged(&path, &other(), Some(&first)).unwrap();
    assert_ne!(first, second);

    // of the same length, but not the same
    let changed = write(&other()).replace("other", "mine!");
    fs::write(&path, &changed).unwrap();
    let refused = save_if_unchanged(&path, &file(), Some(&second));
    assert!(matches!(refused, Err(SaveError::ChangedOnDisk)));
    assert_eq!(fs::read_to_string(&path).unwrap(), changed);

    // gone: nothing to lose
    fs::remove_file(&path).unwrap();
    save_if_unchanged(&path, &file(), Some(&second)).unwrap();
    assert_eq!(read(&path).unwrap(), file());
}

#[test]
fn a_place_that_cannot_be_written_is_named_last() {
    let folder = tempfile::tempdir().unwrap();
    let gone = folder.path().join("gone").join("a.ron");
    let error = save(&gone, &file()).unwrap_err().to_string();
    assert!(error.starts_with("not saved, cannot ") && error.ends_with("a.ron"), "{error}");

    let error = save(folder.path(), &file()).unwrap_err();
    assert!(matches!(error, SaveError::NotAFile { .. }), "{error}");
    assert!(names(folder.path()).is_empty(), "something was left behind");

    let under_a_file = folder.path().join("a.ron");
    save(&under_a_file, &file()).unwrap();
    let error = save(&under_a_file.join("b.ron"), &file()).unwrap_err().to_string();
    assert!(error.starts_with("not saved, cannot ") && error.ends_with("b.ron"), "{error}");
    assert_eq!(read(&under_a_file).unwrap(), file());
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said() {
    // every write to this device fails as on a full disk, but it is no regular file
    let error = save(Path::new("/dev/full"), &file()).unwrap_err();
    assert!(matches!(error, SaveError::NotAFile { .. }), "{error}");
}

#[cfg(unix)]
#[test]
fn a_link_stays_and_what_it_leads_to_is_written() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().unwrap();
    let there = folder.path().join("there");
    fs::create_dir(&there).unwrap();
    let (real, link) = (there.join("real.ron"), folder.path().join("link.ron"));
    symlink("there/real.ron", &link).unwrap();
    // leads to nothing yet
    save(&link, &file()).unwrap();
    save(&link, &other()).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(read(&real).unwrap(), other());
    assert_eq!(names(&there), ["real.ron"]);

    let circle = folder.path().join("circle.ron");
    symlink("circle.ron", &circle).unwrap();
    let error = save(&circle, &file()).unwrap_err().to_string();
    assert!(error.contains("in a circle") && error.ends_with("circle.ron"), "{error}");
}

#[cfg(unix)]
#[test]
fn permissions_are_kept_and_a_closed_folder_is_refused() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.ron");
    save(&path, &file()).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    save(&path, &other()).unwrap();
    assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);

    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).unwrap();
    let result = save(&path, &file());
    let barred = fs::write(folder.path().join("probe"), "").is_err();
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
    // an administrator may write anywhere
    if barred {
        let error = result.unwrap_err().to_string();
        assert!(
            error.starts_with("not saved, cannot write there") && error.ends_with("a.ron"),
            "{error}"
        );
        assert_eq!(read(&path).unwrap(), other());
    }
}
