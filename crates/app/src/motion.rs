//! Whether things may move: what the maker chose, else what the system says.
//!
//! There is no one place where a system says so. On a desktop of the GNOME kind it is the
//! switch for animations, asked of `gsettings`; on KDE Plasma it is their speed, read from
//! `kdeglobals`. Elsewhere, Windows and macOS among it, nothing is known here and only the
//! maker's own choice counts.

use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

use serde::{Deserialize, Serialize};

/// Whether what a change moved glows for a moment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Motion {
    /// As the system says, where it says anything.
    #[default]
    System,
    /// It glows.
    Full,
    /// Nothing moves.
    Reduced,
}

/// What the system says: asked once, on a thread of its own.
#[derive(Debug, Default)]
pub(crate) struct SystemMotion {
    asked: Option<Receiver<bool>>,
    is_reduced: bool,
}

/// When the system is asked: once the window is there, and before anything in it moves.
const AFTER: Duration = Duration::from_millis(500);

impl SystemMotion {
    /// Asks; the answer is there a moment later.
    pub(crate) fn ask() -> Self {
        let (send, asked) = channel();
        std::thread::spawn(move || {
            // to ask is to start a program, which would take time from the first frame
            std::thread::sleep(AFTER);
            let is_reduced = gnome() == Some(true) || plasma() == Some(true);
            // the window may be gone by now
            let _is_gone = send.send(is_reduced).is_err();
        });
        Self { asked: Some(asked), is_reduced: false }
    }

    /// Whether the system wants little motion, as far as it is known by now.
    pub(crate) fn is_reduced(&mut self) -> bool {
        match self.asked.as_ref().map(Receiver::try_recv) {
            None | Some(Err(TryRecvError::Empty)) => {}
            Some(answer) => {
                self.is_reduced = answer.unwrap_or(false);
                self.asked = None;
            }
        }
        self.is_reduced
    }
}

/// Whether motion is reduced there; none where nothing is said.
fn gnome() -> Option<bool> {
    if !cfg!(target_os = "linux") {
        return None;
    }
    let answer = Command::new("gsettings")
        .args(["get", "org.gnome.desktop.interface", "enable-animations"])
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .output()
        .ok()?;
    let is_on = answer.status.success().then(|| of_gnome(&answer.stdout))??;
    Some(!is_on)
}

/// Whether animations are on, of what `gsettings` prints.
fn of_gnome(printed: &[u8]) -> Option<bool> {
    str::from_utf8(printed).ok()?.trim().parse().ok()
}

/// Whether motion is reduced there; none where nothing is said.
fn plasma() -> Option<bool> {
    if !cfg!(target_os = "linux") {
        return None;
    }
    let of = |name: &str| std::env::var_os(name).filter(|path| !path.is_empty()).map(PathBuf::from);
    let folder = of("XDG_CONFIG_HOME").or_else(|| Some(of("HOME")?.join(".config")))?;
    Some(of_plasma(&std::fs::read_to_string(folder.join("kdeglobals")).ok()?)? == 0.0)
}

/// How long animations take there, as a multiple of the usual; 0 is none.
fn of_plasma(kdeglobals: &str) -> Option<f64> {
    let section = kdeglobals
        .split("\n[")
        .find_map(|section| section.trim_start_matches('[').strip_prefix("KDE]"))?;
    let factor = |line: &str| line.trim().strip_prefix("AnimationDurationFactor=")?.parse().ok();
    section.lines().find_map(factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_desktops_say_is_understood() {
        assert_eq!(of_gnome(b"false\n"), Some(false));
        assert_eq!(of_gnome(b"true\n"), Some(true));
        assert_eq!(of_gnome(b"No such key\n"), None);
        let globals = "[General]\nAnimationDurationFactor=3\n\n[KDE]\nLookAndFeel=x\n\
                       AnimationDurationFactor=0\n[Icons]\nTheme=y\n";
        assert_eq!(of_plasma(globals), Some(0.0));
        assert_eq!(of_plasma("[KDE]\nAnimationDurationFactor=0.5"), Some(0.5));
        assert_eq!(of_plasma("[General]\nAnimationDurationFactor=0"), None);
    }

    #[test]
    fn an_answer_is_waited_for_by_nobody() {
        let (send, asked) = channel();
        let mut motion = SystemMotion { asked: Some(asked), is_reduced: false };
        assert!(!motion.is_reduced());
        send.send(true).unwrap();
        drop(send);
        assert!(motion.is_reduced() && motion.is_reduced());
    }
}
