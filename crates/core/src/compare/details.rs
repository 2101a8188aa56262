//! What a design holds besides dimensions and kinds of parts, in words.

use super::Group;
use crate::design::{
    CoreSection, Design, InstrumentString, Limit, Material, Note, Provenance, StringMake, Top,
};
use crate::dimension::{Key, Part};
use crate::risk::Source;
use crate::sentence::lower;
use crate::units::{LengthStyle, Unit, show_length, show_number};
use crate::verdict::CheckId;

/// Something that a design holds besides dimensions and kinds of parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Detail {
    /// How many strings, pickups or cavities there are, and what they are called.
    List(Part),
    /// What a string is tuned to, from 0.
    Note(usize),
    /// How a string is made, from 0.
    Make(usize),
    /// What holds a string down behind the nut, from 0.
    Retainer(usize),
    /// The points of an arched top.
    Arch,
    /// The notes.
    Notes,
    /// The range of a check.
    Limit(CheckId),
    /// How far a dimension has come from paper to wood, by its key.
    Mark(String),
    /// How true something is made, by its key.
    Tolerance(String),
    /// A step of the cut sheet that is ticked.
    Tick(String),
    /// The fitting log.
    Fitting,
}

impl Detail {
    /// Its name in the JSON.
    pub(super) fn text(&self) -> String {
        match self {
            Self::List(Part::String) => "strings".to_owned(),
            Self::List(Part::Pickup) => "pickups".to_owned(),
            Self::List(_) => "cavities".to_owned(),
            Self::Note(index) => format!("strings[{}].note", index + 1),
            Self::Make(index) => format!("strings[{}].make", index + 1),
            Self::Retainer(index) => format!("strings[{}].retainer", index + 1),
            Self::Arch => "body.top.points".to_owned(),
            Self::Notes => "notes".to_owned(),
            Self::Limit(id) => format!("limits.{}", id.text()),
            Self::Mark(key) => format!("marks.{key}"),
            Self::Tolerance(key) => format!("tolerances.{key}"),
            Self::Tick(step) => format!("ticks.{step}"),
            Self::Fitting => "fitting".to_owned(),
        }
    }

    /// Where it is listed.
    pub(super) fn group(&self) -> Group {
        Group::Inputs(match self {
            Self::Notes => return Group::Notes,
            Self::List(part) => *part,
            Self::Note(_) | Self::Make(_) | Self::Retainer(_) => Part::String,
            Self::Arch => Part::Body,
            Self::Limit(_) => Part::Wanted,
            Self::Mark(key) => Key::parse(key).map_or(Part::Joint, |key| key.dim.info().part()),
            Self::Tolerance(text) => part_of_source(text),
            Self::Tick(_) | Self::Fitting => Part::Joint,
        })
    }

    /// Its name, in sentence case.
    pub(super) fn name(&self, design: &Design) -> String {
        let string = |what: &str, index: usize| match design.strings.get(index) {
            Some(string) => format!("{what}, string {} ({})", index + 1, string.name),
            None => format!("{what}, string {}", index + 1),
        };
        match self {
            Self::List(part) => part.name().to_owned(),
            Self::Note(index) => string("Note", *index),
            Self::Make(index) => string("Make", *index),
            Self::Retainer(index) => string("Held down behind the nut", *index),
            Self::Arch => "Points of the arch".to_owned(),
            Self::Notes => "Notes".to_owned(),
            Self::Limit(id) => format!("Range of the check: {}", lower(id.name())),
            Self::Mark(text) => match Key::parse(text) {
                Ok(key) => format!("{}: how far it has come", key.name(design)),
                Err(_) => format!("{text}: how far it has come"),
            },
            Self::Tolerance(text) => match Source::parse(text) {
                Ok(source) => format!("{}: how true", source.name(design)),
                Err(_) => format!("{text}: how true"),
            },
            Self::Tick(step) => format!("Step ticked: {}", step.replace('_', " ")),
            Self::Fitting => "Fitting rounds".to_owned(),
        }
    }

    /// What a design holds there, in words; none if nothing.
    pub(super) fn words(&self, design: &Design) -> Option<String> {
        let string = |index: &usize| design.strings.get(*index);
        match self {
            Self::List(part) => Some(list(design, *part)),
            Self::Note(index) => string(index)?.note.map(Note::show),
            Self::Make(index) => string(index).map(make),
            Self::Retainer(index) => string(index)?.retainer.as_ref().map(|held| {
                format!("{} along, {} high", mm(held.along.to_mm()), mm(held.height.to_mm()))
            }),
            Self::Arch => match &design.body.top {
                Top::Arch { points } => {
                    let point = |point: &crate::design::ArchPoint| {
                        let number = |mm| show_number(mm, 1);
                        format!("{}/{}", number(point.x.to_mm()), number(point.z.to_mm()))
                    };
                    Some(format!("{} mm", points.iter().map(point).collect::<Vec<_>>().join(", ")))
                }
                _ => None,
            },
            Self::Notes => Some(design.notes.trim().to_owned()).filter(|notes| !notes.is_empty()),
            Self::Limit(id) => {
                let own = design.limits.get(id.text()).copied();
                Some(range(own.unwrap_or_else(|| id.usual_limit()), id.unit()))
            }
            Self::Mark(key) => Some(match design.marks.get(key) {
                None | Some(Provenance::Planned) => "planned".to_owned(),
                Some(Provenance::Made) => "made".to_owned(),
                Some(Provenance::Measured { on, .. }) => format!("measured on {on}"),
            }),
            Self::Tolerance(key) => tolerance(design, key),
            Self::Tick(step) => {
                Some(if design.ticks.contains(step) { "done" } else { "open" }.to_owned())
            }
            Self::Fitting => Some(rounds(design)),
        }
    }

    /// Whether two designs hold the same there.
    pub(super) fn same(&self, a: &Design, b: &Design) -> bool {
        let both = |get: &dyn Fn(&Design) -> Option<&InstrumentString>| (get(a), get(b));
        match self {
            Self::List(Part::String) => {
                let names = |design: &Design| {
                    design.strings.iter().map(|string| string.name.clone()).collect::<Vec<_>>()
                };
                names(a) == names(b)
            }
            Self::List(part) => list(a, *part) == list(b, *part),
            Self::Note(index) => {
                let (a, b) = both(&|design| design.strings.get(*index));
                a.map(|string| string.note) == b.map(|string| string.note)
            }
            Self::Make(index) => {
                // the core is a dimension of its own
                let bare = |string: &InstrumentString| match string.make.clone() {
                    StringMake::Wound { section, core_material, wrap, inner, .. } => {
                        StringMake::Wound {
                            core: crate::units::Length::mm(0.0),
                            section,
                            core_material,
                            wrap,
                            inner,
                        }
                    }
                    plain @ StringMake::Plain { .. } => plain,
                };
                let (a, b) = both(&|design| design.strings.get(*index));
                a.map(bare) == b.map(bare)
            }
            Self::Retainer(index) => {
                let (a, b) = both(&|design| design.strings.get(*index));
                a.map(|string| &string.retainer) == b.map(|string| &string.retainer)
            }
            Self::Arch => match (&a.body.top, &b.body.top) {
                (Top::Arch { points: one }, Top::Arch { points: two }) => one == two,
                // the kind differs, and that has a row of its own
                _ => true,
            },
            Self::Notes => a.notes.trim() == b.notes.trim(),
            Self::Limit(id) => {
                let own = |design: &Design| {
                    design.limits.get(id.text()).copied().unwrap_or_else(|| id.usual_limit())
                };
                own(a) == own(b)
            }
            Self::Mark(key) => {
                let mark = |design: &Design| design.marks.get(key).cloned().unwrap_or_default();
                mark(a) == mark(b)
            }
            Self::Tolerance(key) => a.tolerances.get(key) == b.tolerances.get(key),
            Self::Tick(step) => a.ticks.contains(step) == b.ticks.contains(step),
            Self::Fitting => a.fitting == b.fitting,
        }
    }

    /// All there are in two designs.
    pub(super) fn all_of(a: &Design, b: &Design) -> Vec<Self> {
        let mut all = vec![
            Self::Notes,
            Self::Arch,
            Self::List(Part::String),
            Self::List(Part::Pickup),
            Self::List(Part::Cavity),
        ];
        for index in 0..a.strings.len().min(b.strings.len()) {
            all.extend([Self::Note(index), Self::Make(index), Self::Retainer(index)]);
        }
        all.extend(CheckId::ALL.iter().map(|&id| Self::Limit(id)));
        let union = |one: Vec<&String>, two: Vec<&String>| {
            let mut all: Vec<String> = one.into_iter().chain(two).cloned().collect();
            all.sort();
            all.dedup();
            all
        };
        let marks = union(a.marks.keys().collect(), b.marks.keys().collect());
        all.extend(marks.into_iter().map(Self::Mark));
        let tolerances = union(a.tolerances.keys().collect(), b.tolerances.keys().collect());
        all.extend(tolerances.into_iter().map(Self::Tolerance));
        let ticks = union(a.ticks.iter().collect(), b.ticks.iter().collect());
        all.extend(ticks.into_iter().map(Self::Tick));
        all.push(Self::Fitting);
        all
    }
}

fn mm(value: f64) -> String {
    show_length(value, 1, LengthStyle::Millimetres)
}

fn list(design: &Design, part: Part) -> String {
    let names: Vec<&str> = match part {
        Part::String => design.strings.iter().map(|one| one.name.as_str()).collect(),
        Part::Pickup => design.pickups.iter().map(|one| one.name.as_str()).collect(),
        _ => design.cavities.iter().map(|one| one.name.as_str()).collect(),
    };
    match names.len() {
        0 => "none".to_owned(),
        count => format!("{count}: {}", names.join(", ")),
    }
}

fn range(limit: Limit, unit: Unit) -> String {
    let shown = |value: f64| match unit {
        Unit::Length => show_length(value, 2, LengthStyle::Millimetres),
        Unit::Angle => format!("{}°", show_number(value, 1)),
        _ => show_number(value, 2),
    };
    let edges = [
        (limit.fails_below, "fails to"),
        (limit.thin_below, "good from"),
        (limit.thin_above, "good to"),
        (limit.fails_above, "fails from"),
    ];
    let said: Vec<String> = edges
        .into_iter()
        .filter_map(|(edge, words)| Some(format!("{words} {}", shown(edge?))))
        .collect();
    if said.is_empty() { "no limit".to_owned() } else { said.join(", ") }
}

/// The part that something belongs to which may miss: a seat to the joint.
pub(super) fn part_of_source(text: &str) -> Part {
    match Source::parse(text) {
        Ok(Source::Dim(key)) => key.dim.info().part(),
        Ok(Source::SeatMouth | Source::SeatInner) | Err(_) => Part::Joint,
    }
}

/// How true a design says that something is made, else how true it usually is.
fn tolerance(design: &Design, text: &str) -> Option<String> {
    let source = Source::parse(text).ok()?;
    let usual = source.usual()?;
    let said = design.tolerances.get(text).copied().unwrap_or_default();
    let making = said.making.unwrap_or(usual.making);
    let plus_minus = said.plus_minus.unwrap_or(usual.made(making));
    let mut words = match source.unit() {
        Unit::Angle => format!("± {}°", show_number(plus_minus, 2)),
        _ => format!("± {}", show_length(plus_minus, 2, LengthStyle::Millimetres)),
    };
    if said.plus_minus.is_none() {
        words += &format!(", {}", lower(making.name()));
    }
    if let Some(spread) = said.spread {
        words += &format!(", {}", spread.text());
    }
    Some(words)
}

/// How far the fitting has come.
fn rounds(design: &Design) -> String {
    let Some(last) = design.fitting.last() else { return "none".to_owned() };
    let readings: usize = design.fitting.iter().map(|round| round.readings.len()).sum();
    let counted = |count: usize, one: &str| match count {
        1 => format!("1 {one}"),
        many => format!("{many} {one}s"),
    };
    let when = if design.fitting.len() == 1 { "on" } else { "the last on" };
    let glued = if last.glued { ", glued" } else { "" };
    format!(
        "{} with {}, {when} {}{glued}",
        counted(design.fitting.len(), "round"),
        counted(readings, "reading"),
        last.on
    )
}

fn make(string: &InstrumentString) -> String {
    match &string.make {
        StringMake::Plain { material } => format!("plain {}", material_name(*material)),
        StringMake::Wound { section, core_material, wrap, inner, .. } => {
            let section = match section {
                CoreSection::Round => "round",
                CoreSection::Hexagonal => "hexagonal",
            };
            let beneath = match inner.len() {
                0 => String::new(),
                1 => ", one wrap beneath".to_owned(),
                count => format!(", {count} wraps beneath"),
            };
            let (wrap, core) = (material_name(*wrap), material_name(*core_material));
            format!("{wrap} wound on {section} {core}{beneath}")
        }
    }
}

fn material_name(material: Material) -> &'static str {
    match material {
        Material::Steel => "steel",
        Material::Stainless => "stainless steel",
        Material::NickelPlated => "nickel-plated steel",
        Material::Nickel => "nickel",
        Material::Bronze => "bronze",
        Material::Brass => "brass",
        Material::SilverPlatedCopper => "silver-plated copper",
        Material::Nylon => "nylon",
        Material::Fluorocarbon => "fluorocarbon",
        Material::Gut => "gut",
    }
}
