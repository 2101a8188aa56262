//! What the window shows of a design: never saved with it.

use std::collections::{BTreeMap, BTreeSet};

use overstand_core::compare::{Align, Order};
use overstand_core::dimension::{Dim, Key, Part};
use overstand_core::risk::Source;
use overstand_core::strings::Drawn;
use overstand_core::verdict::{CheckId, Remedy};
use overstand_core::working::Figure;
use serde::{Deserialize, Serialize};

use crate::canvas::Transform;
use crate::panels::welcome::Welcome;
use crate::tour::Tour;

/// A page of the window, in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Page {
    /// The whole layout: what it must be so that it plays.
    #[default]
    LayOut,
    /// The joint and its cut sheet.
    Joint,
    /// What the strings pull, how hard they can be played, whether they note true.
    Strings,
    /// How true the cuts must be, and where to aim.
    HowTrue,
    /// The joint together without glue: what it really is, and what to do.
    DryFit,
    /// The drawing and its parts at full size.
    Paper,
    /// Two designs beside each other.
    Compare,
}

impl Page {
    /// In the order of the work.
    pub(crate) const ALL: [Self; 7] = [
        Self::LayOut,
        Self::Joint,
        Self::Strings,
        Self::HowTrue,
        Self::DryFit,
        Self::Compare,
        Self::Paper,
    ];

    /// The page of a name; the first one if there is none.
    pub(crate) fn named(name: &str) -> Self {
        Self::ALL.into_iter().find(|page| page.name() == name).unwrap_or_default()
    }

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::LayOut => "Lay out",
            Self::Joint => "Joint",
            Self::Strings => "Strings",
            Self::HowTrue => "How true",
            Self::DryFit => "Dry fit",
            Self::Paper => "Paper",
            Self::Compare => "Compare",
        }
    }

    /// What it is for.
    pub(crate) fn about(self) -> &'static str {
        match self {
            Self::LayOut => {
                "What the whole must be so that it plays: drawing, dimensions, verdict."
            }
            Self::Joint => "The joint in section, what is worked out for it, and the cut sheet.",
            Self::Strings => {
                "What the strings pull, how hard they can be played, and whether they note true."
            }
            Self::HowTrue => {
                "How true the cuts must be so that it plays, what each error costs, where to aim."
            }
            Self::DryFit => {
                "Neck and body together without glue: what is read, what it means, what to do."
            }
            Self::Paper => "Drawing, templates and cut sheet at full size, to print or to write.",
            Self::Compare => "Two variants above each other, and what differs between them.",
        }
    }

    /// Whether it lists a dimension: what only the cutting of the joint asks for stands on
    /// the page of the joint alone.
    pub(crate) fn lists(self, dim: Dim) -> bool {
        let part = dim.info().part();
        if self == Self::Strings {
            return self.parts().contains(&part) && of_strings(dim);
        }
        let of_layout = match part {
            Part::Joint => matches!(
                dim,
                Dim::JointFret
                    | Dim::JointOffset
                    | Dim::Overstand
                    | Dim::Pitch
                    | Dim::Shoulder
                    | Dim::BoardEndGap
            ),
            Part::Neck => {
                matches!(dim, Dim::NeckDepthFirst | Dim::NeckDepthHeel | Dim::HeelLength)
            }
            _ => true,
        };
        let is_of_layout = matches!(self, Self::LayOut | Self::HowTrue);
        self.parts().contains(&part) && (!is_of_layout || of_layout)
    }

    /// The parts whose dimensions it lists.
    pub(crate) fn parts(self) -> &'static [Part] {
        match self {
            Self::LayOut | Self::HowTrue | Self::Compare => &[
                Part::Joint,
                Part::Wanted,
                Part::Scale,
                Part::Board,
                Part::Nut,
                Part::Bridge,
                Part::Tail,
                Part::Body,
                Part::Neck,
                Part::Head,
                Part::String,
                Part::Pickup,
                Part::Straightedge,
            ],
            Self::Joint => &[Part::Joint, Part::Neck, Part::Head, Part::Body, Part::Cavity],
            Self::Strings => &[
                Part::Wanted,
                Part::Bridge,
                Part::Scale,
                Part::Board,
                Part::Tail,
                Part::Head,
                Part::String,
            ],
            // both have something else of their own there
            Self::DryFit | Self::Paper => &[],
        }
    }
}

/// Whether a dimension weighs on how the strings play; gauge and core stand in the page's
/// table.
fn of_strings(dim: Dim) -> bool {
    let is_elsewhere = matches!(
        dim,
        Dim::BoardThickness
            | Dim::BoardEnd
            | Dim::BridgeBase
            | Dim::EdgeHeight
            | Dim::PostSpread
            | Dim::NutPlace
            | Dim::CrestPlace
            | Dim::Gauge
            | Dim::Core
    );
    !is_elsewhere
}

/// What the page of the strings shows.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct StringsView {
    /// The string that is looked at, from 0.
    pub(crate) string: usize,
    /// Where it is stopped; 0 for open.
    pub(crate) stop: usize,
    /// To which side it is drawn; none for either.
    pub(crate) drawn: Option<Drawn>,
    /// How hard is said as a force rather than a travel.
    pub(crate) newtons: bool,
    /// What stands below the map.
    pub(crate) sheet: StringSheet,
    /// Errors of pitch are shown with each crest where its string notes true.
    pub(crate) compensated: bool,
}

/// What stands below the map of the strings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum StringSheet {
    /// Note, gauge, make and pull of each.
    #[default]
    Pull,
    /// Headroom over relief.
    Relief,
    /// Cents by fret, and where the bridge must stand.
    Notes,
}

impl StringSheet {
    /// All of them.
    pub(crate) const ALL: [Self; 3] = [Self::Pull, Self::Relief, Self::Notes];

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Pull => "Each string",
            Self::Relief => "Best relief",
            Self::Notes => "True notes",
        }
    }
}

/// What the page of how true the cuts must be shows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HowTrueView {
    /// The two dimensions of the map: across and upward.
    pub(crate) map: [Key; 2],
    /// How far the map reaches: its place in a list of reaches.
    pub(crate) reach: usize,
    /// What stands below the map.
    pub(crate) sheet: TrueSheet,
    /// What may be moved to a safer aim; one of them at least.
    pub(crate) moved: [Option<Key>; 2],
    /// What is to be held truer.
    pub(crate) held: Source,
    /// How sure one wants to be, per cent.
    pub(crate) sure: u8,
}

impl Default for HowTrueView {
    fn default() -> Self {
        let pitch = Dim::Pitch.key();
        Self {
            map: [pitch, Dim::Overstand.key()],
            reach: 2,
            sheet: TrueSheet::default(),
            moved: [Some(pitch), None],
            held: Source::Dim(pitch),
            sure: 95,
        }
    }
}

/// What stands below the map of the page of how true the cuts must be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum TrueSheet {
    /// What each error costs, the dearest first.
    #[default]
    Errors,
    /// How far crest and checks spread.
    Spread,
    /// Where a miss plays most often.
    Aim,
    /// How true one dimension must be held.
    Hold,
}

impl TrueSheet {
    /// All of them.
    pub(crate) const ALL: [Self; 4] = [Self::Errors, Self::Spread, Self::Aim, Self::Hold];

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Errors => "Each error",
            Self::Spread => "Spread",
            Self::Aim => "Safest aim",
            Self::Hold => "What suffices",
        }
    }
}

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
    /// The name of a string, from 0.
    StringName(usize),
    /// The name of a pickup, from 0.
    PickupName(usize),
    /// The name of a cavity, from 0.
    CavityName(usize),
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

/// How the drawings of two designs stand to each other.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Arrangement {
    /// One above the other.
    #[default]
    Stacked,
    /// Side by side.
    Beside,
    /// One drawing, with the other as a ghost over it.
    Overlaid,
}

impl Arrangement {
    /// All of them.
    pub(crate) const ALL: [Self; 3] = [Self::Stacked, Self::Beside, Self::Overlaid];

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Stacked => "One above the other",
            Self::Beside => "Side by side",
            Self::Overlaid => "Overlay",
        }
    }

    /// The same where there is little room.
    pub(crate) fn short(self) -> &'static str {
        match self {
            Self::Stacked => "Stacked",
            other => other.name(),
        }
    }
}

/// How two designs are compared.
#[derive(Debug, Default)]
pub(crate) struct Compare {
    /// The variants that were chosen as A and B, by name.
    pub(crate) pair: [Option<String>; 2],
    /// What of the two stands at the same place.
    pub(crate) align: Align,
    /// All variants are listed, in this order.
    pub(crate) all: Option<Order>,
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
    pub(crate) asked: Option<Figure>,
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
