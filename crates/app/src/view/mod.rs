//! What the window shows of a design: never saved with it.

mod chosen;
mod page;

use std::collections::{BTreeMap, BTreeSet};

use overstand_core::dimension::{Dim, Key, Part};
use overstand_core::risk::Source;
use overstand_core::verdict::{CheckId, Remedy};

use crate::canvas::Transform;
use crate::lists::List;
use crate::panels::welcome::Welcome;
use crate::panels::working::Asked;
use crate::tour::Tour;

pub use chosen::Arrangement;
pub(crate) use chosen::{Compare, HowTrueView, StringSheet, StringsView, TrueSheet};
pub(crate) use page::Page;

/// One of the canvases.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum CanvasId {
    /// The whole side elevation.
    Whole,
    /// Clearance over the frets.
    Strip,
    /// Joint to tail.
    CloseUp,
    /// The joint in section, on its own page.
    Joint,
    /// A note of one string over the frets, on the page of the strings.
    Swing,
    /// The joint as it really is over its plan.
    Fit,
    /// Where wood comes off or goes on.
    Wood,
    /// A sheet of paper.
    Sheet,
    /// The tiles of a part over its drawing.
    Assembly,
    /// The map of two dimensions, on the page of how true the cuts must be.
    Map,
    /// The elevation beside it.
    BesideMap,
    /// The two that are compared, on their own page.
    CompareA,
    /// The second of them.
    CompareB,
}

impl CanvasId {
    /// Those of the layout, from the top down.
    pub(crate) const ALL: [Self; 3] = [Self::Whole, Self::Strip, Self::CloseUp];
}

/// How a canvas shows its drawing.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Camera {
    /// Where the drawing stands; none until it is fitted.
    pub(crate) transform: Option<Transform>,
    /// What it was fitted to.
    pub(crate) fitted: Option<(kurbo::Rect, egui::Vec2)>,
    /// Heights are drawn so many times larger; 0 stands for 1.
    pub(crate) stretch: u8,
    /// Zoomed or panned by hand: it stays as it is until it is fitted again.
    pub(crate) by_hand: bool,
}

/// A handle that is being dragged.
#[derive(Clone, Debug)]
pub(crate) struct Drag {
    /// What it sets.
    pub(crate) dim: Dim,
    /// In which canvas.
    pub(crate) canvas: CanvasId,
    /// Where the pointer has brought the value, before it is rounded.
    pub(crate) raw: f64,
    /// The value that was last asked for.
    pub(crate) last: f64,
    /// Where the pointer took hold of it.
    pub(crate) from: egui::Pos2,
    /// How far the pointer has come on the screen.
    pub(crate) travelled: egui::Vec2,
}

/// A value that is being typed, with what was said against it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Draft {
    /// What stood there at first.
    pub(crate) was: String,
    /// What has been typed.
    pub(crate) text: String,
    /// Why it was refused.
    pub(crate) refused: Option<String>,
}

/// A field that can be typed into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Field {
    /// A row of the panel of dimensions.
    Row(Key),
    /// In the table of the strings.
    InTable(Key),
    /// Beside a handle.
    AtHandle(CanvasId, Dim),
    /// The name of one of a list, from 0.
    Name(List, usize),
    /// What is no dimension.
    Extra(Extra),
}

/// What a design holds besides dimensions and names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Extra {
    /// A point of the arch, from 0; its height rather than its place.
    Arch(usize, bool),
    /// What holds a string down, from 0; its height rather than its place.
    Retainer(usize, bool),
    /// An edge of a check's range, from below.
    Limit(CheckId, usize),
    /// What a string is tuned to, from 0.
    Tuning(usize),
    /// The ± of what may miss.
    Tolerance(Source),
    /// The notes.
    Notes,
}

/// A reading that is being typed, with what was said against day and error.
#[derive(Clone, Debug)]
pub(crate) struct Reading {
    /// Of this dimension.
    pub(crate) key: Key,
    /// The day.
    pub(crate) on: String,
    /// The reading error.
    pub(crate) error: String,
    /// Why each was refused.
    pub(crate) refused: [Option<String>; 2],
}

/// A small form in front of everything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    /// A path to open.
    Open { path: String },
    /// A path of a design to compare with.
    Beside { path: String },
    /// A path to save under.
    SaveAs { path: String },
    /// A file stands there that is not ours.
    Replace { path: std::path::PathBuf, says: String },
    /// A name for the design.
    Rename { name: String },
    /// Starters to begin with.
    New,
    /// What is not saved would be lost.
    Unsaved,
    /// Work that a crash left behind.
    Recovered { name: String, path: Option<std::path::PathBuf> },
    /// Search over commands, dimensions, checks and words.
    Search { text: String, row: usize },
    /// The list of keys, those that have some words in them.
    Keys { text: String },
}

/// What the status bar says.
#[derive(Clone, Debug, Default)]
pub(crate) struct Note {
    /// The words.
    pub(crate) text: String,
    /// Something did not work.
    pub(crate) is_trouble: bool,
}

/// Which check has its card open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Card {
    /// That of the one worst off, if it is not good.
    #[default]
    Worst,
    /// A certain one.
    Of(CheckId),
    /// None.
    None,
}

/// Remedies of a check, worked out when its card is opened.
#[derive(Debug)]
pub(crate) struct Remedies {
    /// For this check at this revision.
    pub(crate) of: (CheckId, u64),
    /// They are.
    pub(crate) list: Vec<Remedy>,
}

/// What the window shows.
#[derive(Debug)]
pub(crate) struct View {
    pub(crate) page: Page,
    pub(crate) compare: Compare,
    pub(crate) cameras: BTreeMap<CanvasId, Camera>,
    pub(crate) drag: Option<Drag>,
    /// The handle that the pointer is on or that has the focus.
    pub(crate) handle: Option<Dim>,
    /// The found dimension whose follower is being chosen.
    pub(crate) choosing: Option<Dim>,
    /// The follower that the maker chose for a found dimension.
    pub(crate) followers: BTreeMap<Dim, Dim>,
    pub(crate) card: Card,
    pub(crate) working: bool,
    /// The figure whose steps are shown in front of the page.
    pub(crate) asked: Option<Asked>,
    /// The card shows the edges of the check's range.
    pub(crate) ranging: bool,
    pub(crate) remedies: Option<Remedies>,
    /// The string that the strip shows, from 0; none for all.
    pub(crate) string: Option<usize>,
    /// The strip's frets stand under those of the elevation, rather than filling the width.
    pub(crate) is_aligned: bool,
    /// What the strip was zoomed to, in X; none for all frets.
    pub(crate) strip_range: Option<[f64; 2]>,
    /// The clearances are shown as a table.
    pub(crate) is_table: bool,
    /// The fret at which the table shows the strings stopped; 0 for open.
    pub(crate) table_stop: usize,
    /// The fret at which the strip shows a stopped string; none for open only.
    pub(crate) stop: Option<usize>,
    pub(crate) open: BTreeSet<Part>,
    /// Of strings, pickups and cavities the one whose dimensions are listed, from 0.
    pub(crate) listed: BTreeMap<Part, usize>,
    /// The figure of the joint whose working is open.
    pub(crate) figure: Option<&'static str>,
    /// It was opened just now and is to be brought into sight.
    pub(crate) figure_opened: bool,
    /// Steps of the cut sheet that were opened or folded by hand; the others are open
    /// until they are ticked.
    pub(crate) steps: BTreeMap<&'static str, bool>,
    pub(crate) strings: StringsView,
    pub(crate) how_true: HowTrueView,
    pub(crate) drafts: BTreeMap<Field, Draft>,
    /// The reading that the menu of a mark is typed into.
    pub(crate) reading: Option<Reading>,
    /// The field that takes the focus next.
    pub(crate) focus: Option<Field>,
    pub(crate) form: Option<Form>,
    pub(crate) note: Note,
    /// What to do first is said.
    pub(crate) welcome: Option<Welcome>,
    /// One is shown round.
    pub(crate) tour: Option<Tour>,
    /// The check that was searched for and is to be brought into sight.
    pub(crate) sought: Option<CheckId>,
    /// A canvas that fills the middle.
    pub(crate) filling: Option<CanvasId>,
    /// What moved with the last change and glows until then (seconds of the context).
    pub(crate) glow: (BTreeSet<Key>, f64),
}

impl Default for View {
    fn default() -> Self {
        Self {
            page: Page::default(),
            compare: Compare::default(),
            cameras: BTreeMap::new(),
            drag: None,
            handle: None,
            choosing: None,
            followers: BTreeMap::new(),
            card: Card::default(),
            working: false,
            asked: None,
            ranging: false,
            remedies: None,
            string: None,
            is_aligned: false,
            strip_range: None,
            is_table: false,
            table_stop: 0,
            stop: Some(5),
            open: [Part::Joint, Part::Wanted, Part::Scale, Part::Bridge].into(),
            listed: BTreeMap::new(),
            figure: None,
            figure_opened: false,
            steps: BTreeMap::new(),
            strings: StringsView::default(),
            how_true: HowTrueView::default(),
            drafts: BTreeMap::new(),
            reading: None,
            focus: None,
            form: None,
            note: Note::default(),
            welcome: None,
            tour: None,
            sought: None,
            filling: None,
            glow: (BTreeSet::new(), 0.0),
        }
    }
}

impl View {
    /// Says something in the status bar.
    pub(crate) fn say(&mut self, text: impl Into<String>) {
        self.note = Note { text: text.into(), is_trouble: false };
    }

    /// Says in the status bar that something did not work.
    pub(crate) fn complain(&mut self, text: impl Into<String>) {
        self.note = Note { text: text.into(), is_trouble: true };
    }

    /// Another design is open: nothing of the last one stays.
    pub(crate) fn forget_design(&mut self) {
        self.cameras.clear();
        self.drag = None;
        self.choosing = None;
        self.followers.clear();
        self.drafts.clear();
        self.reading = None;
        self.card = Card::default();
        self.asked = None;
        self.remedies = None;
        self.steps.clear();
        self.string = None;
        self.strip_range = None;
        (self.strings.string, self.strings.stop) = (0, 0);
        self.how_true = HowTrueView { sheet: self.how_true.sheet, ..HowTrueView::default() };
        self.glow.0.clear();
    }
}
