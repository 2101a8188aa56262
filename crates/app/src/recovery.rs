//! What is not saved yet is kept aside, so that a crash loses nothing.
//!
//! Each window keeps one file in a folder of the user's, and holds a lock beside it as long
//! as it lives. A lock that nobody holds was left behind by a crash.

use std::fs::{self, File, TryLockError};
use std::io::{Seek as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Sender, channel};
use std::time::{SystemTime, UNIX_EPOCH};

use overstand_files::DesignFile;

use crate::document::Document;

/// Keeps unsaved work of one window aside.
#[derive(Debug)]
pub(crate) struct Recovery {
    kept: PathBuf,
    lock: File,
    lock_path: PathBuf,
    /// Revision and state that were last handed on.
    noted: Option<(u64, bool)>,
    work: Sender<Work>,
}

/// What the thread that writes is asked to do.
enum Work {
    Keep(Box<DesignFile>),
    Drop,
    /// Everything before is done: say so.
    Finish(Sender<()>),
}

/// Unsaved work that a crash left behind.
#[derive(Debug)]
pub(crate) struct Found {
    /// The design as it was.
    pub(crate) file: DesignFile,
    /// Where it had been saved, if it had.
    pub(crate) path: Option<PathBuf>,
    kept: PathBuf,
    lock: File,
    lock_path: PathBuf,
}

/// Where the user's unsaved work is kept: by the XDG base directories, else in the
/// home folder.
pub fn folder() -> Option<PathBuf> {
    let of = |name: &str| std::env::var_os(name).filter(|path| !path.is_empty()).map(PathBuf::from);
    let state = of("XDG_STATE_HOME")
        .filter(|path| path.is_absolute())
        .or_else(|| Some(of("HOME")?.join(".local").join("state")));
    state.or_else(|| of("LOCALAPPDATA")).map(|path| path.join("overstand").join("unsaved"))
}

impl Recovery {
    /// Begins to keep work aside in a folder; none if it cannot be written to.
    pub(crate) fn begin(folder: &Path) -> Option<Self> {
        fs::create_dir_all(folder).ok()?;
        let now =
            SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |passed| passed.as_nanos());
        let stem = format!("{}-{now}", std::process::id());
        let (kept, lock_path) =
            (folder.join(format!("{stem}.ron")), folder.join(format!("{stem}.lock")));
        let lock = File::create_new(&lock_path).ok()?;
        lock.try_lock().ok()?;
        let (work, asked) = channel();
        let place = kept.clone();
        std::thread::spawn(move || {
            while let Ok(first) = asked.recv() {
                // only the last of what has gathered counts
                let (mut last, mut done) = (None, Vec::new());
                for work in std::iter::once(first).chain(asked.try_iter()) {
                    match work {
                        Work::Finish(say) => done.push(say),
                        other => last = Some(other),
                    }
                }
                // what cannot be kept aside is not lost by it: it is still in the window
                let _failed = match last {
                    Some(Work::Keep(file)) => overstand_files::save(&place, &file).is_err(),
                    Some(_) => fs::remove_file(&place).is_err(),
                    None => false,
                };
                for say in done {
                    if say.send(()).is_err() {
                        break;
                    }
                }
            }
        });
        Some(Self { kept, lock, lock_path, noted: None, work })
    }

    /// Takes note of a document as it stands.
    pub(crate) fn note(&mut self, document: &Document) {
        let state = (document.revision(), document.is_dirty());
        if self.noted == Some(state) {
            return;
        }
        let was_kept = self.noted.is_some_and(|(_, dirty)| dirty);
        self.noted = Some(state);
        let work = if document.is_dirty() {
            self.write_path(document.path());
            Work::Keep(Box::new(document.file().clone()))
        } else if was_kept {
            Work::Drop
        } else {
            return;
        };
        if self.work.send(work).is_err() {
            self.noted = None;
        }
    }

    /// The lock says where the design had been saved.
    fn write_path(&mut self, path: Option<&Path>) {
        let text = path.map(|path| path.display().to_string()).unwrap_or_default();
        let written = self
            .lock
            .set_len(0)
            .and_then(|()| self.lock.rewind())
            .and_then(|()| self.lock.write_all(text.as_bytes()));
        // without it the work is offered as never saved, which is safe
        drop(written);
    }

    /// Waits until all that was noted is on disk.
    pub(crate) fn finish(&self) {
        let (say, done) = channel();
        if self.work.send(Work::Finish(say)).is_ok() {
            // an error means that the thread is gone, and nothing is left to wait for
            let _is_gone = done.recv().is_err();
        }
    }

    /// The window is closed as the maker wants it: nothing is kept.
    pub(crate) fn end(&self) {
        self.finish();
        for path in [&self.kept, &self.lock_path] {
            // what is not there need not be removed
            drop(fs::remove_file(path));
        }
    }
}

impl Found {
    /// Work that crashes left behind in a folder.
    pub(crate) fn all(folder: &Path) -> Vec<Self> {
        let Ok(entries) = fs::read_dir(folder) else {
            return Vec::new();
        };
        let mut locks: Vec<PathBuf> = entries
            .filter_map(|entry| Some(entry.ok()?.path()))
            .filter(|path| path.extension().is_some_and(|ending| ending == "lock"))
            .collect();
        locks.sort();
        locks.into_iter().filter_map(Self::at).collect()
    }

    fn at(lock_path: PathBuf) -> Option<Self> {
        let lock = File::options().read(true).write(true).open(&lock_path).ok()?;
        match lock.try_lock() {
            Ok(()) => {}
            // its window is alive
            Err(TryLockError::WouldBlock | TryLockError::Error(_)) => return None,
        }
        let kept = lock_path.with_extension("ron");
        let path = fs::read_to_string(&lock_path).ok().filter(|text| !text.is_empty());
        match overstand_files::read(&kept) {
            Ok(file) => Some(Self { file, path: path.map(PathBuf::from), kept, lock, lock_path }),
            Err(_) => {
                // a crash with nothing unsaved
                drop(fs::remove_file(&lock_path));
                None
            }
        }
    }

    /// It was taken over or is not wanted.
    pub(crate) fn discard(self) {
        drop(fs::remove_file(&self.kept));
        drop(self.lock);
        drop(fs::remove_file(&self.lock_path));
    }
}

#[cfg(test)]
mod tests {
    use overstand_core::design::Design;
    use overstand_core::dimension::Dim;
    use overstand_core::testing::worked_example;

    use super::*;

    fn changed() -> Document {
        let mut document = Document::new(DesignFile::of(worked_example()));
        let mut design: Design = document.design().clone();
        Dim::CrestHeight.key().set(&mut design, 24.0);
        document.change("Set".to_owned(), design, None);
        document
    }

    #[test]
    fn what_a_crash_leaves_is_found_once_and_only_by_one() {
        let folder = tempfile::tempdir().unwrap();
        let mut alive = Recovery::begin(folder.path()).unwrap();
        let document = changed();
        alive.note(&document);
        alive.finish();
        assert!(Found::all(folder.path()).is_empty(), "its window is alive");

        drop(alive);
        let found = Found::all(folder.path());
        assert_eq!(found.len(), 1);
        assert_eq!((&found[0].file, &found[0].path), (document.file(), &None));
        assert!(Found::all(folder.path()).is_empty(), "another window found it as well");
        found.into_iter().for_each(Found::discard);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn what_is_saved_or_closed_is_not_kept() {
        let folder = tempfile::tempdir().unwrap();
        let elsewhere = tempfile::tempdir().unwrap();
        let mut recovery = Recovery::begin(folder.path()).unwrap();
        let mut document = changed();
        recovery.note(&document);
        document.save(&elsewhere.path().join("one.ron"), false).unwrap();
        recovery.note(&document);
        recovery.finish();
        drop(recovery);
        assert!(Found::all(folder.path()).is_empty());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);

        let mut closed = Recovery::begin(folder.path()).unwrap();
        closed.note(&changed());
        closed.end();
        drop(closed);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }
}
