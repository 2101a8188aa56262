//! The system's file dialogs, asked on a thread of their own so that the window never
//! stands still.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use egui::Context;

/// A dialog that is gone sooner than this was never seen: the system has none.
const UNSEEN: Duration = Duration::from_millis(250);

/// What a dialog was opened for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    Open,
    /// A design to compare with.
    Beside,
    Save,
    /// To write what is on paper, as a file with an ending.
    Export(&'static str),
}

/// What came of a dialog.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Answer {
    /// A file was chosen.
    Chosen(PathBuf),
    /// It was cancelled.
    Cancelled,
    /// There is no such dialog here.
    NoDialog,
}

/// A dialog that is open.
#[derive(Debug)]
pub(crate) struct Dialog {
    pub(crate) purpose: Purpose,
    opened: Instant,
    answer: Receiver<Option<PathBuf>>,
}

impl Dialog {
    /// Opens one. `near` is a file beside which it starts.
    pub(crate) fn open(ctx: &Context, purpose: Purpose, near: Option<&Path>, name: &str) -> Self {
        let (send, answer) = channel();
        let (filter, endings): (_, &[&str]) = match purpose {
            Purpose::Open | Purpose::Beside | Purpose::Save => {
                ("Overstand designs", &["ron", "overstand"])
            }
            Purpose::Export(ending) => ("Sheets and drawings", &[ending]),
        };
        let mut dialog =
            rfd::FileDialog::new().add_filter(filter, endings).set_title(match purpose {
                Purpose::Open => "Open a design",
                Purpose::Beside => "Compare with a copy of another file's design",
                Purpose::Save => "Save the design",
                Purpose::Export(_) => "Write what is on paper",
            });
        if let Some(folder) = near.and_then(Path::parent) {
            dialog = dialog.set_directory(folder);
        }
        match purpose {
            Purpose::Open | Purpose::Beside => {}
            Purpose::Save => dialog = dialog.set_file_name(file_name(name, "ron")),
            Purpose::Export(ending) => dialog = dialog.set_file_name(file_name(name, ending)),
        }
        let ctx = ctx.clone();
        std::thread::spawn(move || {
            let chosen = match purpose {
                Purpose::Save | Purpose::Export(_) => dialog.save_file(),
                Purpose::Open | Purpose::Beside => dialog.pick_file(),
            };
            // the window may be gone by now, and with it the one who asked
            if send.send(chosen).is_ok() {
                ctx.request_repaint();
            }
        });
        Self { purpose, opened: Instant::now(), answer }
    }

    /// What came of it, once something did.
    pub(crate) fn answer(&self) -> Option<Answer> {
        match self.answer.try_recv() {
            Ok(Some(path)) => Some(Answer::Chosen(path)),
            Ok(None) if self.opened.elapsed() < UNSEEN => Some(Answer::NoDialog),
            Ok(None) => Some(Answer::Cancelled),
            Err(TryRecvError::Disconnected) => Some(Answer::NoDialog),
            Err(TryRecvError::Empty) => None,
        }
    }
}

/// A file name for a design: its own, without what a file system may not like.
pub(crate) fn file_name(design: &str, ending: &str) -> String {
    let kept: String = design
        .chars()
        .map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_') { c } else { ' ' })
        .collect();
    let words: Vec<&str> = kept.split_whitespace().collect();
    let stem = if words.is_empty() { "design".to_owned() } else { words.join("-").to_lowercase() };
    format!("{stem}.{ending}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_becomes_a_file_name() {
        assert_eq!(file_name("Quay House no. 3", "ron"), "quay-house-no-3.ron");
        assert_eq!(file_name("a/../b\\c:\0", "pdf"), "a-b-c.pdf");
        assert_eq!(file_name("  ", "ron"), "design.ron");
    }
}
