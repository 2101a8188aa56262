//! Everything that can be done, with its name, key and tip.

use std::path::PathBuf;

use egui::{Key as Press, KeyboardShortcut, Modifiers};
use overstand_core::choice::Choice;
use overstand_core::compare::Taken;
use overstand_core::design::{Design, Provenance};
use overstand_core::dimension::{Dim, Key, Part};
use overstand_core::units::LengthStyle;
use overstand_core::verdict::{CheckId, Remedy};
use overstand_files::Starter;

use crate::lists::List;
use crate::motion::Motion;
use crate::preferences::ThemeChoice;
use crate::view::Page;

/// Something to do. Pages and panels return these; one place does them.
#[derive(Clone, Debug)]
pub(crate) enum Command {
    /// Choose a starter.
    New,
    /// Begin with a starter.
    Begin(&'static Starter),
    /// Choose a file to open.
    Open,
    /// Type the path of a file to open.
    OpenTyped,
    /// Open a file.
    OpenFile(PathBuf),
    /// Save where it is kept.
    Save,
    /// Choose where to save.
    SaveAs,
    /// Type the path to save under.
    SaveTyped,
    /// Save under a path; replace what stands there only if told to.
    SaveFile { path: PathBuf, replace: bool },
    /// Close the window.
    Close,
    /// Go on with what was held back for what is not saved.
    GoOn,
    /// Take over what a crash left behind.
    Recover,
    /// Throw away what a crash left behind.
    Discard,
    /// Leave a form, and give up what was held back for it.
    Stay,
    /// Take the last step back.
    Undo,
    /// Do it again.
    Redo,
    /// Give a name to the design: ask for it.
    Rename,
    /// Give it this name.
    Call(String),
    /// Work on another variant of the file.
    Activate(String),
    /// Put a copy of the design beside it, as another variant, and compare the two.
    KeepVariant,
    /// Choose a file; a copy of its design is put beside this one.
    Beside,
    /// Type the path of such a file.
    BesideTyped,
    /// Put a copy of a file's design beside this one, as another variant.
    BesideFile(PathBuf),
    /// Turn to a variant, so that what is done next is done to it.
    TurnTo(String),
    /// Put a design that has taken something over in place of the variant of its name.
    TakeOver(Box<Taken>),
    /// Name one of a list, from 0.
    NameIn(List, usize, String),
    /// Set a dimension.
    Set { key: Key, value: f64 },
    /// Move a dimension by a step, from the keys.
    Nudge { key: Key, value: f64 },
    /// Hold what is found, or release what is held.
    Pin(Key),
    /// Release a dimension of a conflict.
    Release(Dim),
    /// Choose the kind of a part.
    Choose(&'static Choice, &'static str),
    /// Say how far a dimension has come from paper to wood.
    Mark(Key, Provenance),
    /// Do what was proposed for a check.
    Mend(Box<Remedy>),
    /// Put an edited design in place, as a step of this name.
    Edit { name: String, design: Box<Design> },
    /// Add one to a list: a string on the bass side.
    AddTo(List),
    /// Take one out of a list: the string on the bass side, the last pickup, the listed cavity.
    TakeFrom(List),
    /// Tick a step of the cut sheet, or take the tick away.
    Tick { id: &'static str, title: &'static str, done: bool },
    /// A handle is at a value.
    DragTo { key: Key, value: f64 },
    /// The handle is let go.
    DragEnd,
    /// The drag is given up and all is as before.
    DragCancel,
    /// Aim at a place on the map, the crest following; while it is dragged it is no step yet.
    Aim { at: [(Key, f64); 2], drags: bool },
    /// The point on the map is let go.
    AimEnd([Key; 2]),
    /// Let another dimension follow when this one is dragged.
    Follow { driven: Dim, follower: Dim },
    /// Turn to a page.
    Show(Page),
    /// Choose where to write what is on paper.
    ExportAs,
    /// Write what is on paper under a path; replace what stands there only if told to.
    Export { path: PathBuf, replace: bool },
    /// Lay the fitting log out on paper and choose where to write it.
    PrintLog,
    /// Show all of the drawings.
    Fit,
    /// Write lengths like this.
    Units(LengthStyle),
    /// Light or dark.
    Theme(ThemeChoice),
    /// Let what moved glow for a moment, or not.
    Motion(Motion),
    /// Search over commands, dimensions, checks and words.
    Search,
    /// Bring a dimension into sight and its field into focus.
    Find(Key),
    /// Bring the group of a part into sight.
    Unfold(Page, Part),
    /// Open the card of a check.
    Judge(CheckId),
    /// List the keys.
    Keys,
    /// Say what to do first.
    Welcome,
    /// That was read: say it no more.
    Welcomed,
    /// Be shown round, from the first stop.
    Tour,
    /// To the next stop; from the last one on one's own.
    TourNext,
    /// To the stop before.
    TourBack,
    /// Enough of being shown round.
    TourEnd,
}

/// What commands are about, as the list of keys groups them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Group {
    /// The file.
    File,
    /// What changes the design.
    Change,
    /// Pages.
    Pages,
    /// Variants and what they are compared with.
    Variants,
    /// How it is shown.
    Look,
    /// Where help is.
    Help,
    /// While one is shown round.
    Tour,
}

impl Group {
    /// All of them.
    pub(crate) const ALL: [Self; 7] =
        [Self::File, Self::Change, Self::Pages, Self::Variants, Self::Look, Self::Help, Self::Tour];

    /// As a heading.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::File => "The file",
            Self::Change => "Changes",
            Self::Pages => "Pages",
            Self::Variants => "Variants",
            Self::Look => "How it is shown",
            Self::Help => "Help",
            Self::Tour => "While you are shown round",
        }
    }
}

const CTRL_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

impl Command {
    /// Puts an edited design in place, as a step of this name.
    pub(crate) fn edit(name: impl Into<String>, design: Design) -> Self {
        Self::Edit { name: name.into(), design: Box::new(design) }
    }

    /// The commands without a choice of their own: those with a key, and those that
    /// the search lists.
    pub(crate) fn listed() -> Vec<Self> {
        vec![
            Self::New,
            Self::Open,
            Self::OpenTyped,
            Self::Save,
            Self::SaveAs,
            Self::SaveTyped,
            Self::Rename,
            Self::Undo,
            Self::Redo,
            Self::Fit,
            Self::Units(LengthStyle::Millimetres),
            Self::Units(LengthStyle::InchDecimal),
            Self::Units(LengthStyle::InchFraction),
            Self::Theme(ThemeChoice::System),
            Self::Theme(ThemeChoice::Light),
            Self::Theme(ThemeChoice::Dark),
            Self::Motion(Motion::System),
            Self::Motion(Motion::Full),
            Self::Motion(Motion::Reduced),
            Self::AddTo(List::Strings),
            Self::TakeFrom(List::Strings),
            Self::AddTo(List::Pickups),
            Self::TakeFrom(List::Pickups),
            Self::AddTo(List::Cavities),
            Self::TakeFrom(List::Cavities),
            Self::Show(Page::LayOut),
            Self::Show(Page::Joint),
            Self::Show(Page::Strings),
            Self::Show(Page::HowTrue),
            Self::Show(Page::DryFit),
            Self::PrintLog,
            Self::Show(Page::Compare),
            Self::Show(Page::Paper),
            Self::ExportAs,
            Self::KeepVariant,
            Self::Beside,
            Self::BesideTyped,
            Self::Search,
            Self::Keys,
            Self::Tour,
            Self::Welcome,
            Self::Close,
        ]
    }

    /// Those that there are only while one is shown round.
    pub(crate) fn of_tour() -> [Self; 3] {
        [Self::TourNext, Self::TourBack, Self::TourEnd]
    }

    /// What it is about.
    pub(crate) fn group(&self) -> Group {
        match self {
            Self::New
            | Self::Open
            | Self::OpenTyped
            | Self::Save
            | Self::SaveAs
            | Self::SaveTyped
            | Self::Rename
            | Self::ExportAs
            | Self::PrintLog
            | Self::Close => Group::File,
            Self::Show(_) => Group::Pages,
            Self::KeepVariant | Self::Beside | Self::BesideTyped => Group::Variants,
            Self::Fit | Self::Units(_) | Self::Theme(_) | Self::Motion(_) => Group::Look,
            Self::Search | Self::Keys | Self::Tour | Self::Welcome => Group::Help,
            Self::TourNext | Self::TourBack | Self::TourEnd => Group::Tour,
            _ => Group::Change,
        }
    }

    /// Its name, in sentence case.
    pub(crate) fn text(&self) -> &'static str {
        match self {
            Self::New => "New from a starter…",
            Self::Begin(starter) => starter.title,
            Self::Open => "Open…",
            Self::OpenTyped => "Open by path…",
            Self::OpenFile(_) => "Open",
            Self::Save | Self::SaveFile { .. } => "Save",
            Self::SaveAs => "Save as…",
            Self::SaveTyped => "Save by path…",
            Self::Close => "Close",
            Self::GoOn => "Go on",
            Self::Stay => "Cancel",
            Self::Recover => "Restore it",
            Self::Discard => "Throw it away",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::Rename | Self::Call(_) => "Rename…",
            Self::Activate(_) => "Work on a variant",
            Self::KeepVariant => "Keep a variant",
            Self::Beside | Self::BesideFile(_) => "Compare with another file…",
            Self::BesideTyped => "Compare with a file by path…",
            Self::TurnTo(_) => "Turn to a variant",
            Self::TakeOver(_) => "Take over",
            Self::NameIn(..) => "Name",
            Self::Set { .. } | Self::Nudge { .. } | Self::DragTo { .. } => "Set",
            Self::Pin(_) => "Hold or release",
            Self::Release(_) => "Release",
            Self::Choose(choice, _) => choice.name,
            Self::Mark(..) => "Mark",
            Self::Mend(_) => "Apply",
            Self::Edit { .. } => "Edit",
            Self::AddTo(List::Strings) => "Add a string",
            Self::TakeFrom(List::Strings) => "Take a string off",
            Self::AddTo(List::Pickups) => "Add a pickup",
            Self::TakeFrom(List::Pickups) => "Take a pickup out",
            Self::AddTo(List::Cavities) => "Add a cavity",
            Self::TakeFrom(List::Cavities) => "Take this cavity out",
            Self::Tick { done: true, .. } => "Tick",
            Self::Tick { done: false, .. } => "Take the tick away",
            Self::DragEnd => "Let go",
            Self::DragCancel => "Put back",
            Self::Aim { .. } | Self::AimEnd(_) => "Aim",
            Self::Follow { .. } => "Let follow",
            Self::Show(page) => page.name(),
            Self::ExportAs => "Write what is on paper…",
            Self::Export { .. } => "Write it",
            Self::PrintLog => "Print the fitting log…",
            Self::Fit => "Fit the drawings",
            Self::Units(LengthStyle::Millimetres) => "Millimetres",
            Self::Units(LengthStyle::InchDecimal) => "Inches, decimal",
            Self::Units(LengthStyle::InchFraction) => "Inches, fractions",
            Self::Theme(ThemeChoice::System) => "Light or dark as the system",
            Self::Theme(ThemeChoice::Light) => "Light",
            Self::Theme(ThemeChoice::Dark) => "Dark",
            Self::Motion(Motion::System) => "Motion as the system",
            Self::Motion(Motion::Full) => "All motion",
            Self::Motion(Motion::Reduced) => "Reduced motion",
            Self::Search => "Search…",
            Self::Find(_) | Self::Unfold(..) | Self::Judge(_) => "Go to",
            Self::Keys => "List of keys",
            Self::Welcome => "What to do first",
            Self::Welcomed => "Hide this",
            Self::Tour => "Show me round",
            Self::TourNext => "Next",
            Self::TourBack => "Back",
            Self::TourEnd => "Skip",
        }
    }

    /// Its key, if it has one.
    pub(crate) fn shortcut(&self) -> Option<KeyboardShortcut> {
        let (modifiers, press) = match self {
            Self::New => (Modifiers::COMMAND, Press::N),
            Self::Open => (Modifiers::COMMAND, Press::O),
            Self::Save => (Modifiers::COMMAND, Press::S),
            Self::SaveAs => (CTRL_SHIFT, Press::S),
            Self::Close => (Modifiers::COMMAND, Press::Q),
            Self::Undo => (Modifiers::COMMAND, Press::Z),
            Self::Redo => (CTRL_SHIFT, Press::Z),
            Self::Search => (Modifiers::COMMAND, Press::K),
            Self::Show(Page::LayOut) => (Modifiers::COMMAND, Press::Num1),
            Self::Show(Page::Joint) => (Modifiers::COMMAND, Press::Num2),
            Self::Show(Page::Strings) => (Modifiers::COMMAND, Press::Num3),
            Self::Show(Page::HowTrue) => (Modifiers::COMMAND, Press::Num4),
            Self::Show(Page::DryFit) => (Modifiers::COMMAND, Press::Num5),
            Self::Show(Page::Paper) => (Modifiers::COMMAND, Press::Num7),
            Self::ExportAs => (Modifiers::COMMAND, Press::P),
            Self::Show(Page::Compare) => (Modifiers::COMMAND, Press::Num6),
            Self::Fit => (Modifiers::NONE, Press::F),
            Self::Keys => (Modifiers::NONE, Press::F1),
            Self::Tour => (Modifiers::SHIFT, Press::F1),
            Self::TourNext => (Modifiers::ALT, Press::ArrowRight),
            Self::TourBack => (Modifiers::ALT, Press::ArrowLeft),
            Self::TourEnd => (Modifiers::NONE, Press::Escape),
            _ => return None,
        };
        Some(KeyboardShortcut::new(modifiers, press))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_a_key_or_a_name() {
        let mut listed = Command::listed();
        listed.extend(Command::of_tour());
        for (index, command) in listed.iter().enumerate() {
            for other in &listed[..index] {
                assert_ne!(command.text(), other.text());
                if let Some(shortcut) = command.shortcut() {
                    assert_ne!(Some(shortcut), other.shortcut(), "{}", command.text());
                }
            }
        }
    }
}
