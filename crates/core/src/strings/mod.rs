//! The strings: what they pull, how hard they can be played, whether they note true.
//!
//! [`Strings::of`] works everything out for one layout. It is not part of a [`Study`]: a
//! search over layouts seldom needs it, and what does asks for it.
//!
//! mm, N, N/mm², kg/m, Hz; cents for errors of pitch. A string whose note or gauge is not
//! given has no pull and no error of pitch; how far it can be plucked is geometry alone.
//!
//! [`Study`]: crate::study::Study

mod forces;
pub mod gauges;
mod headroom;
mod intonation;
pub mod material;
mod pluck;
pub mod relief_search;
mod travel;
mod wire;

pub use forces::SaddleForces;
pub use headroom::{Played, Swing, swing};
pub(crate) use intonation::{NutAndCrest, stiff_clamped_pinned};
pub use intonation::{Stopped, TRUE_AT, inharmonicity};
pub use pluck::{Drawn, Most, Plucking, give, reach};
pub(crate) use travel::least_travels;
pub(crate) use wire::wound_on;
pub use wire::{Wire, plain_mass, tension, wrap_mass};

use crate::design::{Design, InstrumentString};
use crate::dimension::{Dim, Key};
use crate::layout::Layout;
use crate::verdict::{CheckId, State};
use intonation::{Line, true_crests};

/// Everything about the strings of a layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Strings {
    /// String by string, treble first.
    pub each: Vec<StringReport>,
    /// What they pull together, N; none unless the pull of each is known.
    pub pull: Option<f64>,
    /// What they press on the nut together, square to the board, N.
    pub nut_force: Option<f64>,
    /// What they press on the bridge together, square to the datum, N; none as well where
    /// they are wrapped over it.
    pub saddle_down: Option<f64>,
    /// What they push the bridge toward the tail together, N.
    pub saddle_forward: Option<f64>,
}

/// One string.
#[derive(Clone, Debug, PartialEq)]
pub struct StringReport {
    /// What it pulls and presses; none if its note or gauge is not given.
    pub pull: Option<Pull>,
    /// The largest travel at the pluck without contact, over every stop.
    pub headroom: Option<Most>,
    /// The largest force without contact, N: at a note that gives more it may be another
    /// one than for the travel.
    pub headroom_force: Option<Most>,
    /// The largest travel for each stop, 0 for open; none where it is not plucked there or
    /// no fret follows.
    pub map: Vec<Option<Most>>,
    /// Whether it notes true; none if its note or gauge is not given.
    pub intonation: Option<Intonation>,
}

/// What one string pulls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Its mass, stiffness and strength.
    pub wire: Wire,
    /// The frequency of the open string, Hz.
    pub hertz: f64,
    /// Tension over the scale length, N.
    pub tension: f64,
    /// Stress in what carries the pull, N/mm².
    pub stress: f64,
    /// Stress as a part of the tensile strength: at 1 it breaks.
    pub load: f64,
    /// What the pull has stretched it by, as a part of its length.
    pub strain: f64,
    /// Travel at the pluck for 1 N on the open string, mm.
    pub give: f64,
    /// Inharmonicity B of f_n = n f_0 √(1 + B n²).
    pub inharmonicity: f64,
    /// Force on the nut, N.
    pub nut_force: f64,
    /// Forces on the saddle; none where it is wrapped over the bridge.
    pub saddle: Option<SaddleForces>,
}

/// Whether a string notes true.
#[derive(Clone, Debug, PartialEq)]
pub struct Intonation {
    /// How far beyond the scale length the crest must lie for a true octave.
    pub compensation: f64,
    /// The same as an offset from the bridge's middle crest.
    pub offset: f64,
    /// Cents that each stopped note is sharp with the crest where the design has it.
    pub cents: Vec<f64>,
    /// The same with the compensation above.
    pub cents_compensated: Vec<f64>,
}

/// Where the bridge must stand so that each crest reaches its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BridgePlace {
    /// Least compensation that a string needs, mm.
    pub least: f64,
    /// Most compensation that a string needs, mm.
    pub most: f64,
    /// Compensation of the middle crest that leaves as much travel both ways.
    pub compensation: f64,
    /// Station of the bridge with that compensation (body X).
    pub station: f64,
    /// Fore-and-aft travel that the saddles then need, with [`TRAVEL_TO_SPARE`] both ways.
    pub travel: f64,
}

/// Fore-and-aft travel that is kept both ways, mm (common practice, no source): another set
/// of strings wants another compensation.
pub const TRAVEL_TO_SPARE: f64 = 1.0;

impl Pull {
    /// The force that moves the open string by so many mm where it is plucked, N.
    pub fn force(&self, travel: f64) -> f64 {
        travel / self.give
    }

    /// How far a force in N moves the open string where it is plucked, mm.
    pub fn travel(&self, force: f64) -> f64 {
        force * self.give
    }

    /// Whether the string bears its pull and is tight enough, whichever is worse; against
    /// the ranges of [`CheckId::StringStrength`] and [`CheckId::StringSlack`].
    pub fn state(&self, design: &Design) -> State {
        let bears = CheckId::StringStrength.limit(design).state(self.load);
        bears.min(CheckId::StringSlack.limit(design).state(self.give))
    }
}

/// A crest's place for a true octave within the travel of its saddle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Offset from the bridge's middle crest, positive toward the tail.
    pub offset: f64,
    /// Half of the travel.
    pub half: f64,
    /// What is left of the travel; negative where it lacks so much.
    pub left: f64,
    /// How that stands against the range of [`CheckId::Intonation`].
    pub state: State,
}

impl Intonation {
    /// The crest's place within the saddle's travel; none of a fixed saddle, which is filed
    /// to its places.
    pub fn reach(&self, design: &Design) -> Option<Reach> {
        let half = design.bridge.travel.to_mm() / 2.0;
        if half == 0.0 {
            return None;
        }
        let range = CheckId::Intonation.limit(design).as_reserve(-half, half)?;
        let offset = self.offset;
        let (left, state) = (half - offset.abs(), range.state(offset));
        Some(Reach { offset, half, left, state })
    }
}

impl BridgePlace {
    /// Where the design would have its bridge, as it is set at the bench: compensation and
    /// station to a tenth. Of the two, one that is found follows by itself.
    pub fn sets(&self, design: &Design) -> Vec<(Key, f64)> {
        let tenths = |value: f64| (value * 10.0).round() / 10.0;
        [(Dim::Compensation, self.compensation), (Dim::Station, self.station)]
            .into_iter()
            .map(|(dim, value)| (dim.key(), tenths(value)))
            .filter(|(key, _)| !key.is_found(design))
            .collect()
    }
}

impl Strings {
    /// Works out the strings of a layout.
    pub fn of(design: &Design, layout: &Layout) -> Self {
        let plucking = Plucking::new(layout, design.wanted.pluck_place.to_mm());
        let each: Vec<StringReport> = (0..layout.strings.len())
            .map(|string| {
                let pull = pull(design, layout, string);
                let map: Vec<Option<Most>> =
                    (0..layout.positions.len()).map(|stop| plucking.most(string, stop)).collect();
                let least = |a: &Most, b: &Most| a.most.total_cmp(&b.most);
                let headroom = map.iter().flatten().copied().min_by(least);
                let headroom_force = pull.and_then(|pull| {
                    map.iter()
                        .flatten()
                        .filter_map(|most| {
                            let length = plucking.sounding(string, most.stop)?;
                            let give = give(length, plucking.place(), pull.tension);
                            Some(Most { most: most.most / give, ..*most })
                        })
                        .min_by(least)
                });
                let intonation = pull.map(|pull| intonation(design, layout, string, &pull));
                StringReport { pull, headroom, headroom_force, map, intonation }
            })
            .collect();
        let sum = |part: &dyn Fn(&Pull) -> Option<f64>| {
            each.iter().map(|string| part(string.pull.as_ref()?)).sum::<Option<f64>>()
        };
        Self {
            pull: sum(&|pull| Some(pull.tension)),
            nut_force: sum(&|pull| Some(pull.nut_force)),
            saddle_down: sum(&|pull| Some(pull.saddle?.down)),
            saddle_forward: sum(&|pull| Some(pull.saddle?.forward)),
            each,
        }
    }

    /// Where the bridge must stand so that every string falls within the saddles' travel;
    /// none without notes and gauges.
    pub fn bridge_place(&self, design: &Design, layout: &Layout) -> Option<BridgePlace> {
        let needed =
            || self.each.iter().filter_map(|string| Some(string.intonation.as_ref()?.compensation));
        let (least, most) = (needed().min_by(f64::total_cmp)?, needed().max_by(f64::total_cmp)?);
        let compensation = 0.5 * (least + most);
        let u = design.scale.length.to_mm() + compensation;
        let middle = &layout.middle;
        Some(BridgePlace {
            least,
            most,
            compensation,
            station: layout.strung(u, middle.nut_v + middle.slope * u).x,
            travel: most - least + 2.0 * TRAVEL_TO_SPARE,
        })
    }
}

/// What a string is made of, and its tension over the scale length when it is tuned to
/// `hertz`, N; none if its note or gauge is not given.
pub(crate) fn taut(
    string: &InstrumentString,
    hertz: Option<f64>,
    scale_length: f64,
) -> Option<(Wire, f64)> {
    let (hertz, wire) = (hertz?, Wire::of(string)?);
    Some((wire, wire.tension(scale_length, hertz)))
}

/// Travel at the pluck for 1 N on the open string, mm.
pub(crate) fn open_give(design: &Design, layout: &Layout, string: usize, tension: f64) -> f64 {
    let place = design.wanted.pluck_place.to_mm().min(0.5 * design.scale.length.to_mm());
    give(layout.strings[string].crest_u, place, tension)
}

/// What one string pulls and presses; none if its note or gauge is not given.
pub fn pull(design: &Design, layout: &Layout, string: usize) -> Option<Pull> {
    let made = design.strings.get(string)?;
    let (wire, tension) = layout.strings.get(string)?.taut?;
    let scale = design.scale.length.to_mm();
    let stress = tension / wire.section;
    Some(Pull {
        wire,
        hertz: made.note?.hertz(),
        tension,
        stress,
        load: stress / wire.strength,
        strain: tension / wire.stretch,
        give: open_give(design, layout, string, tension),
        inharmonicity: inharmonicity(wire.bending, tension, scale),
        nut_force: forces::on_nut(layout, string, tension)?,
        saddle: forces::on_saddle(layout, string, tension),
    })
}

/// The compensation that one string needs for a true octave (on a board of fewer frets, for
/// a true note at the last); none if its note or gauge is not given.
pub fn compensation(design: &Design, layout: &Layout, string: usize) -> Option<f64> {
    layout.strings.get(string)?;
    let [crest] = true_crests(layout, [string], true_at(layout));
    (!crest.is_nan()).then(|| crest - design.scale.length.to_mm())
}

/// The same of every string, one after another.
pub(crate) fn compensations(design: &Design, layout: &Layout) -> impl Iterator<Item = Option<f64>> {
    /// So many are worked out side by side.
    const LANES: usize = 6;
    let (count, scale) = (layout.strings.len(), design.scale.length.to_mm());
    (0..count).step_by(LANES).flat_map(move |first| {
        // a chunk that is not full takes its last string several times
        let strings: [usize; LANES] = std::array::from_fn(|lane| (first + lane).min(count - 1));
        let crests = true_crests(layout, strings, true_at(layout));
        let of = |crest: f64| (!crest.is_nan()).then_some(crest - scale);
        crests.map(of).into_iter().take(count - first)
    })
}

/// How far a nut would have to be moved toward the bridge for one string, and the
/// compensation at the saddle that goes with it, so that the errors of all frets are least
/// (in the sum of squares); none if its note or gauge is not given. The layout itself
/// knows no moved nut: the figures are for a shelf or slot filed at the bench.
pub fn compensation_with_nut(
    design: &Design,
    layout: &Layout,
    string: usize,
) -> Option<(f64, f64)> {
    let (nut, crest) = with_nut(design, layout, string)?.found();
    Some((nut, crest - design.scale.length.to_mm()))
}

/// What that is found from.
pub(crate) fn with_nut(design: &Design, layout: &Layout, string: usize) -> Option<NutAndCrest> {
    let pull = pull(design, layout, string)?;
    Some(Line { layout, string, wire: pull.wire, tension: pull.tension }.with_nut())
}

pub(crate) fn true_at(layout: &Layout) -> usize {
    TRUE_AT.min(layout.positions.len())
}

fn intonation(design: &Design, layout: &Layout, string: usize, pull: &Pull) -> Intonation {
    let line = Line { layout, string, wire: pull.wire, tension: pull.tension };
    let [crest] = true_crests(layout, [string], true_at(layout));
    let cents =
        |crest| (1..=layout.positions.len()).map(|n| line.cents(n, crest)).collect::<Vec<f64>>();
    let compensation = crest - design.scale.length.to_mm();
    Intonation {
        compensation,
        offset: compensation - design.bridge.compensation.to_mm(),
        cents: cents(layout.strings[string].crest_u),
        cents_compensated: cents(crest),
    }
}
