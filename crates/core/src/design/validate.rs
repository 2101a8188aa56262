use std::fmt::{self, Display};

use super::provenance::LARGEST_READING_ERROR;
use super::tolerance::LARGEST_TOLERANCE;
use super::{
    BoardShape, Design, MOST_CAVITIES, MOST_FRETS, MOST_PICKUPS, MOST_STRINGS, Note, Provenance,
    StringMake, Tail, Top,
};
use crate::dimension::{Dim, Key, Role};
use crate::risk::Source;
use crate::strings::wound_on;
use crate::units::{Length, Unit, show_plain};
use crate::verdict::CheckId;

/// Longest text kept as a name.
const LONGEST_NAME: usize = 120;
/// Longest note.
const LONGEST_NOTES: usize = 20_000;
/// Most wraps beneath the outermost.
const MOST_WRAPS: usize = 4;
/// Thinnest wire that is wound, mm.
const THINNEST_WRAP: f64 = 0.03;
/// Most points of an arch.
const MOST_POINTS: usize = 200;

/// Something that makes a design nonsense as data.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{place}: {says}")]
pub struct Fault {
    /// Where: a key or the name of a list.
    pub place: String,
    /// What was found and what was expected.
    pub says: String,
}

/// A field of one of several, written out only where it is at fault: list, number, field.
#[derive(Clone, Copy)]
struct Place(&'static str, usize, &'static str);

impl Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}[{}]{}", self.0, self.1, self.2)
    }
}

struct Faults(Vec<Fault>);

impl Faults {
    fn add(&mut self, place: impl Into<String>, says: impl Into<String>) {
        self.0.push(Fault { place: place.into(), says: says.into() });
    }
    fn unless(&mut self, holds: bool, place: impl Display, says: impl FnOnce() -> String) {
        if !holds {
            self.add(place.to_string(), says());
        }
    }
}

pub(super) fn faults(design: &Design) -> Vec<Fault> {
    let mut faults = Faults(Vec::new());
    lists(design, &mut faults);
    for key in Key::all_of(design) {
        if let Some(value) = key.get(design) {
            range(key, value, &mut faults);
        }
    }
    if faults.0.is_empty() {
        // what follows compares values that are now known to be sane
        frets(design, &mut faults);
        places(design, &mut faults);
        ranges_of_parts(design, &mut faults);
        makes(design, &mut faults);
    }
    keyed(design, &mut faults);
    faults.0
}

/// The first contradiction between values that each are in range, if there is one: such as
/// solving may bring about.
pub(super) fn contradiction(design: &Design) -> Option<Fault> {
    let mut faults = Faults(Vec::new());
    frets(design, &mut faults);
    ranges_of_parts(design, &mut faults);
    faults.0.into_iter().next()
}

/// A length as it was typed; one that was worked out without the digits that mean nothing.
fn plain(mm: f64) -> f64 {
    (mm * 1e3).round() / 1e3
}

/// A value with its unit, as it stands in a message.
fn with_unit(value: f64, unit: Unit) -> String {
    let number = show_plain(value);
    match unit.symbol() {
        "" => number,
        "°" => number + "°",
        symbol => format!("{number} {symbol}"),
    }
}

fn range(key: Key, value: f64, faults: &mut Faults) {
    let info = key.dim.info();
    let inside = (info.low..=info.high).contains(&value);
    faults.unless(inside, key, || {
        format!(
            "{} is out of range, expected {} to {}",
            with_unit(value, info.unit),
            with_unit(info.low, info.unit),
            with_unit(info.high, info.unit)
        )
    });
}

fn lists(design: &Design, faults: &mut Faults) {
    let name = design.name.trim();
    faults.unless(
        !name.is_empty()
            && name.chars().count() <= LONGEST_NAME
            && !name.contains(char::is_control),
        "name",
        || format!("expected a name of 1 to {LONGEST_NAME} characters on one line"),
    );
    faults.unless(design.notes.chars().count() <= LONGEST_NOTES, "notes", || {
        format!("expected at most {LONGEST_NOTES} characters")
    });
    let count = design.strings.len();
    faults.unless((1..=MOST_STRINGS).contains(&count), "strings", || {
        format!("found {count}, expected 1 to {MOST_STRINGS} strings")
    });
    let count = design.pickups.len();
    faults.unless(count <= MOST_PICKUPS, "pickups", || {
        format!("found {count}, expected at most {MOST_PICKUPS} pickups")
    });
    let count = design.cavities.len();
    faults.unless(count <= MOST_CAVITIES, "cavities", || {
        format!("found {count}, expected at most {MOST_CAVITIES} cavities")
    });
    let names = design
        .strings
        .iter()
        .enumerate()
        .map(|(i, string)| (Place("strings", i + 1, ".name"), &string.name))
        .chain(
            design
                .pickups
                .iter()
                .enumerate()
                .map(|(i, pickup)| (Place("pickups", i + 1, ".name"), &pickup.name)),
        )
        .chain(
            design
                .cavities
                .iter()
                .enumerate()
                .map(|(i, cavity)| (Place("cavities", i + 1, ".name"), &cavity.name)),
        );
    for (place, name) in names {
        faults.unless(
            name.chars().count() <= LONGEST_NAME && !name.contains(char::is_control),
            place,
            || format!("expected at most {LONGEST_NAME} characters on one line"),
        );
    }
    for (i, string) in design.strings.iter().enumerate() {
        if let Some(retainer) = &string.retainer {
            let (along, height) = (retainer.along.to_mm(), retainer.height.to_mm());
            faults.unless(
                (0.0..=440.0).contains(&along) && (-20.0..=40.0).contains(&height),
                Place("strings", i + 1, ".retainer"),
                || {
                    "expected a place 0 to 440 mm along the face and -20 to 40 mm over it"
                        .to_owned()
                },
            );
        }
    }
    if let Top::Arch { points } = &design.body.top {
        let count = points.len();
        faults.unless((3..=MOST_POINTS).contains(&count), "body.top", || {
            format!("found {count} points, expected 3 to {MOST_POINTS}")
        });
        faults.unless(
            points.first().is_none_or(|point| point.x.to_mm() == 0.0 && point.z.to_mm() == 0.0),
            "body.top",
            || "expected the first point at the joint, x 0 and z 0".to_owned(),
        );
        faults.unless(
            points.windows(2).all(|pair| pair[1].x.to_mm() - pair[0].x.to_mm() >= 0.1),
            "body.top",
            || "expected points with x rising by at least 0.1 mm".to_owned(),
        );
        faults.unless(
            points.iter().all(|point| {
                (0.0..=1500.0).contains(&point.x.to_mm()) && point.z.to_mm().abs() <= 150.0
            }),
            "body.top",
            || "expected points within x 0 to 1500 mm and z -150 to 150 mm".to_owned(),
        );
    }
}

/// How the strings are made: what is wound must leave room for its outermost wrap.
fn makes(design: &Design, faults: &mut Faults) {
    for (i, string) in design.strings.iter().enumerate() {
        let place = Place("strings", i + 1, ".make");
        if let Some(Note::Hertz(hertz)) = string.note {
            faults.unless(
                (15.0..=2500.0).contains(&hertz),
                Place("strings", i + 1, ".note"),
                || format!("{hertz} Hz is out of range, expected 15 to 2500 Hz"),
            );
        }
        let StringMake::Wound { core, section, inner, .. } = &string.make else { continue };
        faults.unless(inner.len() <= MOST_WRAPS, place, || {
            format!("found {} inner wraps, expected at most {MOST_WRAPS}", inner.len())
        });
        let fine = inner.iter().all(|wrap| (0.03..=2.0).contains(&wrap.wire.to_mm()));
        faults.unless(fine, place, || "expected wires of 0.03 to 2 mm".to_owned());
        let within = wound_on(core.to_mm(), *section)
            + inner.iter().map(|wrap| 2.0 * wrap.wire.to_mm()).sum::<f64>();
        if let Some(gauge) = string.gauge.map(Length::to_mm) {
            faults.unless(gauge >= within + 2.0 * THINNEST_WRAP, place, || {
                format!(
                    "a gauge of {gauge} mm leaves no room for a wrap of {THINNEST_WRAP} mm or more on {within:.3} mm of core and inner wraps"
                )
            });
        }
    }
}

fn frets(design: &Design, faults: &mut Faults) {
    let scale = design.scale.length.to_mm();
    let end = design.board.end.to_mm();
    let frets = design.scale.frets;
    let stops =
        if frets > 0 { frets } else { crate::layout::last_stop(scale, end).min(MOST_FRETS) };
    let named = if frets > 0 { "frets" } else { "semitones on the board" };
    let on_board = |fret: u8, key: Dim, faults: &mut Faults| {
        faults.unless(fret <= stops, key.info().key, || {
            format!("found fret {fret}, but there are {stops} {named}")
        });
    };
    if frets > 0 {
        faults.unless((5..=MOST_FRETS).contains(&frets), "scale.frets", || {
            format!("found {frets}, expected 0 for a fretless board or 5 to {MOST_FRETS}")
        });
        let last = scale * crate::layout::fret_ratio(frets);
        faults.unless(end >= last, "board.end", || {
            format!(
                "{} mm lies before the last fret, which stands {last:.1} mm from the nut",
                plain(end)
            )
        });
        faults.unless(design.board.crown.to_mm() > 0.0, "board.crown", || {
            "0 mm, expected crowns on a board with frets (scale.frets 0 makes it fretless)"
                .to_owned()
        });
    } else {
        faults.unless(design.board.crown.to_mm() == 0.0, "board.crown", || {
            format!("{} mm, expected 0 on a fretless board", plain(design.board.crown.to_mm()))
        });
    }
    // the last of 36 frets stands at 0.875 of the scale
    faults.unless(end < scale * 0.95, "board.end", || {
        format!(
            "{} mm reaches to the bridge, expected less than {:.1} mm",
            plain(end),
            scale * 0.95
        )
    });
    on_board(design.wanted.action_fret, Dim::ActionFret, faults);
    on_board(design.wanted.relief_to, Dim::ReliefTo, faults);
    let to = if design.wanted.relief_to == 0 { design.joint.fret } else { design.wanted.relief_to };
    faults.unless(
        design.wanted.relief_from < to.min(design.joint.fret),
        "wanted.relief_from",
        || {
            format!(
                "found fret {}, expected one before fret {} and before the joint",
                design.wanted.relief_from, to
            )
        },
    );
    if design.board.fall_from > 0 {
        faults.unless(design.board.fall_from < stops, "board.fall_from", || {
            format!(
                "found fret {}, expected one before the last of {stops}",
                design.board.fall_from
            )
        });
    }
    let joint = scale * crate::layout::fret_ratio(design.joint.fret) + design.joint.offset.to_mm();
    let read_from = scale * crate::layout::fret_ratio(design.wanted.relief_from);
    faults.unless(joint > read_from + 1.0, "joint.offset", || {
        format!(
            "the joint at {joint:.1} mm from the nut does not lie beyond fret {}",
            design.wanted.relief_from
        )
    });
    faults
        .unless(joint < scale, "joint.fret", || "the joint lies beyond the bridge line".to_owned());
}

fn places(design: &Design, faults: &mut Faults) {
    for (i, pair) in design.strings.windows(2).enumerate() {
        let (here, next) = (&pair[0], &pair[1]);
        faults.unless(
            here.nut_place > next.nut_place && here.crest_place > next.crest_place,
            Place("strings", i + 2, ""),
            || {
                format!(
                    "expected it on the bass side of string {} at nut and crest (treble is positive and comes first)",
                    i + 1
                )
            },
        );
    }
    let widest = |places: &dyn Fn(&super::InstrumentString) -> f64| {
        design.strings.iter().map(places).fold(0.0, |most: f64, place| most.max(place.abs()))
    };
    let at_nut = widest(&|string| string.nut_place.to_mm());
    let at_crest = widest(&|string| string.crest_place.to_mm());
    let half_width = at_nut.max(at_crest);
    let roomy = |radius: f64, key: Dim, faults: &mut Faults| {
        faults.unless(radius > half_width * 1.05, key.info().key, || {
            format!("{radius} mm is too small: the outer string lies {half_width} mm from the centre line")
        });
    };
    match design.board.shape {
        BoardShape::Flat => {}
        BoardShape::Fixed { radius } => roomy(radius.to_mm(), Dim::RadiusNut, faults),
        BoardShape::Compound { radius_nut, radius_end } => {
            roomy(radius_nut.to_mm(), Dim::RadiusNut, faults);
            roomy(radius_end.to_mm(), Dim::RadiusEnd, faults);
        }
    }
    if let Some((radius, _)) = design.bridge.kind.shared_crest() {
        roomy(radius.to_mm(), Dim::CrestRadius, faults);
    }
}

fn ranges_of_parts(design: &Design, faults: &mut Faults) {
    let (low, high) = design.bridge.kind.crest_range();
    faults.unless(low < high, Dim::CrestHigh.info().key, || {
        format!("{} mm, expected more than the lowest, {} mm", high.to_mm(), low.to_mm())
    });
    if let Tail::Stop { low, high, .. } = &design.tail {
        faults.unless(low < high, Dim::TailHigh.info().key, || {
            format!("{} mm, expected more than the lowest, {} mm", high.to_mm(), low.to_mm())
        });
    }
    for (i, cavity) in design.cavities.iter().enumerate() {
        faults.unless(cavity.from < cavity.to, Place("cavities", i + 1, ".to"), || {
            format!("{} mm, expected more than from, {} mm", cavity.to.to_mm(), cavity.from.to_mm())
        });
    }
    let (start, end) = (design.neck.rod_start.to_mm(), design.neck.rod_end.to_mm());
    faults.unless(start < end, Dim::RodEnd.info().key, || {
        format!("{end} mm, expected more than the start of the channel, {start} mm")
    });
    if let Top::Dome { radius, apex } = &design.body.top {
        let reach = design.body.length.to_mm().max(design.bridge.station.to_mm()) + 60.0;
        let farthest = (reach - apex.to_mm()).abs().max(apex.to_mm().abs());
        faults.unless(radius.to_mm() > farthest * 1.2, Dim::DomeRadius.info().key, || {
            format!("{} mm is too small for a body of this length", plain(radius.to_mm()))
        });
    }
}

fn keyed(design: &Design, faults: &mut Faults) {
    let known = |place: &str, text: &str, faults: &mut Faults| match Key::parse(text) {
        Ok(key) => Some(key.dim.info()),
        Err(unknown) => {
            faults.add(place, unknown.to_string());
            None
        }
    };
    for text in &design.found {
        if let Some(info) = known("found", text, faults) {
            faults.unless(info.role == Role::Closing, "found", || match info.role {
                Role::Outcome => format!("`{text}` always follows from the others; leave it out"),
                _ => format!("`{text}` cannot be found: it takes no part in closing the layout"),
            });
            let has = Key::parse(text).is_ok_and(|key| key.get(design).is_some());
            faults.unless(has || info.role != Role::Closing, "found", || {
                format!("this kind of design has no `{text}`")
            });
        }
    }
    for (text, value) in &design.targets {
        if let Some(info) = known("targets", text, faults) {
            faults.unless(info.role == Role::Outcome, "targets", || {
                format!("`{text}` is not an outcome: put its value into the design itself")
            });
            faults.unless((info.low..=info.high).contains(value), text.clone(), || {
                format!(
                    "{} is out of range, expected {} to {}",
                    with_unit(*value, info.unit),
                    with_unit(info.low, info.unit),
                    with_unit(info.high, info.unit)
                )
            });
            let lacking = info.dim == Dim::SaddleBreak && matches!(design.tail, Tail::Wrapped);
            faults.unless(!lacking, "targets", || {
                format!("`{text}`: strings wrapped over the bridge have no break angle")
            });
        }
    }
    for (text, mark) in &design.marks {
        known("marks", text, faults);
        if let Provenance::Measured { error, .. } = mark {
            let sane = (0.0..=LARGEST_READING_ERROR.to_mm()).contains(error);
            faults.unless(sane, format_args!("marks: {text}"), || {
                format!(
                    "a reading error of {error} is out of range, expected 0 to {} \
                     (mm, of an angle degrees)",
                    LARGEST_READING_ERROR.to_mm()
                )
            });
        }
    }
    for (text, tolerance) in &design.tolerances {
        match Source::parse(text) {
            Ok(source) => {
                let unit = source.unit();
                let most = with_unit(LARGEST_TOLERANCE, unit);
                faults.unless(source.usual().is_some(), "tolerances", || {
                    format!("`{text}` is not made, so that it cannot miss")
                });
                faults.unless(
                    tolerance
                        .plus_minus
                        .is_none_or(|value| (0.0..=LARGEST_TOLERANCE).contains(&value)),
                    format_args!("tolerances: {text}"),
                    || format!("plus_minus is out of range, expected 0 to {most}"),
                );
            }
            Err(unknown) => faults.add("tolerances", unknown.to_string()),
        }
    }
    for (place, says) in crate::dryfit::faults(&design.fitting, LONGEST_NOTES) {
        faults.add(place, says);
    }
    for text in &design.ticks {
        faults.unless(crate::joint::is_step(text), "ticks", || {
            format!("there is no step `{text}` on a cut sheet")
        });
    }
    for (text, limit) in &design.limits {
        faults.unless(CheckId::from_text(text).is_some(), "limits", || {
            let all: Vec<&str> = CheckId::ALL.iter().map(|id| id.text()).collect();
            match crate::dimension::nearest(text, all.iter().copied()) {
                Some(hint) => format!("there is no check `{text}`; did you mean `{hint}`?"),
                None => format!("there is no check `{text}`, expected one of {}", all.join(", ")),
            }
        });
        let edges = [limit.fails_below, limit.thin_below, limit.thin_above, limit.fails_above];
        let given: Vec<f64> = edges.into_iter().flatten().collect();
        let whole = limit.fails_below.is_some() == limit.thin_below.is_some()
            && limit.fails_above.is_some() == limit.thin_above.is_some();
        faults.unless(
            whole && given.iter().all(|edge| edge.is_finite()) && given.windows(2).all(|pair| pair[0] < pair[1]),
            format_args!("limits: {text}"),
            || {
                "expected fails_below < thin_below < thin_above < fails_above; a side is given with both of its values or not at all"
                    .to_owned()
            },
        );
    }
}
