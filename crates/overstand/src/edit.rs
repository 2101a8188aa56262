//! `--set`, `--hold` and `--find`: what is asked of a design for one look at it.

use overstand_core::choice::Choice;
use overstand_core::design::{Design, Making, Spread, Tail, Tolerance};
use overstand_core::dimension::{Dim, Key, Part, Role, nearest};
use overstand_core::risk::Source;
use overstand_core::study::Study;
use overstand_core::units::Unit;

use crate::failure::EditError;
use crate::units;

/// Everything that was asked, read but not yet applied.
#[derive(Debug)]
pub(crate) struct Edits {
    choices: Vec<(&'static Choice, String)>,
    sets: Vec<(Key, f64)>,
    tolerances: Vec<(Source, Tolerance)>,
    holds: Vec<Key>,
    finds: Vec<Key>,
}

/// What a key names.
enum Named {
    Dimension(Key),
    Choice(&'static Choice),
}

impl Edits {
    /// Reads the three lists. Whether a design has these keys is seen when they are
    /// applied.
    pub(crate) fn read(
        sets: &[String],
        holds: &[String],
        finds: &[String],
    ) -> Result<Self, EditError> {
        let mut edits = Self {
            choices: Vec::new(),
            sets: Vec::new(),
            tolerances: Vec::new(),
            holds: Vec::new(),
            finds: Vec::new(),
        };
        for text in sets {
            let (key, value) = text
                .split_once('=')
                .filter(|(key, _)| !key.trim().is_empty())
                .ok_or_else(|| EditError::NoValue { option: "--set", text: text.clone() })?;
            if let Some(of) = key.trim().strip_prefix(TOLERANCE) {
                let source = Source::parse(of).map_err(|unknown| EditError::UnknownTolerance {
                    text: key.trim().chars().take(80).collect(),
                    hint: unknown
                        .hint
                        .map(|near| format!(": did you mean `{TOLERANCE}{near}`?"))
                        .unwrap_or_default(),
                })?;
                if edits.tolerances.iter().any(|(other, _)| *other == source) {
                    return Err(EditError::SetTwice(key.trim().to_owned()));
                }
                edits.tolerances.push((source, tolerance(source, text, value)?));
                continue;
            }
            match named("--set", key)? {
                Named::Choice(choice) => {
                    if edits.choices.iter().any(|(other, _)| other.key == choice.key) {
                        return Err(EditError::SetTwice(choice.key.to_owned()));
                    }
                    edits.choices.push((choice, value.trim().to_owned()));
                }
                Named::Dimension(key) => {
                    if edits.sets.iter().any(|(other, _)| *other == key) {
                        return Err(EditError::SetTwice(key.to_string()));
                    }
                    edits.sets.push((key, value_of(key, value)?));
                }
            }
        }
        for text in holds {
            // a kind of part is never found, so it is held already
            if let Named::Dimension(key) = named("--hold", text)? {
                edits.holds.push(key);
            }
        }
        for text in finds {
            match named("--find", text)? {
                Named::Dimension(key) => edits.finds.push(key),
                Named::Choice(choice) => {
                    let options: Vec<&str> =
                        choice.options.iter().map(|(option, _)| *option).collect();
                    return Err(EditError::FindChoice {
                        key: choice.key,
                        options: options.join("|"),
                    });
                }
            }
        }
        for &key in &edits.finds {
            let twice = |one| EditError::Twice { key: key.to_string(), one, other: "find" };
            if edits.sets.iter().any(|(other, _)| *other == key) {
                return Err(twice("set"));
            }
            if edits.holds.contains(&key) {
                return Err(twice("hold"));
            }
            if key.dim.info().role == Role::Given {
                return Err(EditError::NotFindable { key: key.to_string() });
            }
        }
        // Kinds decide which dimensions there are, and one kind takes usual values from
        // another: in the table's order the outcome does not hang on the order typed.
        edits.choices.sort_by_key(|(choice, _)| {
            Choice::all().iter().position(|other| other.key == choice.key)
        });
        edits.sets.sort_by_key(|(key, _)| (key.dim.info().unit != Unit::Count, *key));
        Ok(edits)
    }

    /// The design with all that applied.
    pub(crate) fn apply(&self, design: &Design) -> Result<Design, EditError> {
        let mut edited = design.clone();
        for (choice, option) in &self.choices {
            choice.set(&mut edited, option)?;
        }
        for &(key, value) in &self.sets {
            expect_in(&edited, key)?;
            hold(&mut edited, key, value);
        }
        for &(source, tolerance) in &self.tolerances {
            edited.tolerances.insert(source.to_string(), tolerance);
        }
        let mut before = None;
        for &key in &self.holds {
            // a value that was set is the one held
            if self.sets.iter().any(|(other, _)| *other == key) {
                continue;
            }
            expect_in(&edited, key)?;
            // one that is found is held at what is found, not at the rounded number that
            // stands in the file
            let value = match key.get(&edited).filter(|_| !key.is_found(design)) {
                Some(value) => value,
                None => value_now(before.get_or_insert_with(|| Study::of(design)), key)?,
            };
            hold(&mut edited, key, value);
        }
        for &key in &self.finds {
            expect_in(&edited, key)?;
            let text = key.dim.info().key;
            if key.dim.info().role == Role::Outcome {
                edited.targets.remove(text);
            } else {
                edited.found.insert(text.to_owned());
            }
        }
        Ok(edited)
    }
}

/// What the key of a tolerance begins with.
const TOLERANCE: &str = "tolerance.";

/// Reads `0.1mm`, `jig`, `normal`, or some of these together.
fn tolerance(source: Source, set: &str, text: &str) -> Result<Tolerance, EditError> {
    let refuse = |hint: String| EditError::BadTolerance {
        text: set.trim().chars().take(80).collect(),
        hint,
    };
    let mut tolerance = Tolerance::default();
    let mut size: Vec<&str> = Vec::new();
    for word in text.split_whitespace() {
        let making = Making::ALL.into_iter().find(|making| making.text() == word);
        let spread = Spread::ALL.into_iter().find(|spread| spread.text() == word);
        match (making, spread) {
            (Some(making), _) => tolerance.making = Some(making),
            (_, Some(spread)) => tolerance.spread = Some(spread),
            _ => size.push(word),
        }
    }
    if !size.is_empty() {
        let value = size.join(" ");
        let value = units::parse(value.trim_start_matches('±'), source.unit())
            .map_err(|error| refuse(format!("; {error}")))?;
        tolerance.plus_minus = Some(value);
    }
    if tolerance == Tolerance::default() {
        return Err(refuse(String::new()));
    }
    Ok(tolerance)
}

fn hold(design: &mut Design, key: Key, value: f64) {
    key.set(design, value);
    design.found.remove(key.dim.info().key);
}

fn named(option: &'static str, text: &str) -> Result<Named, EditError> {
    let text = text.trim();
    if let Some(choice) = Choice::parse(text) {
        return Ok(Named::Choice(choice));
    }
    Key::parse(text).map(Named::Dimension).map_err(|unknown| {
        let hint = unknown
            .hint
            .or_else(|| nearest(&unknown.text, Choice::all().iter().map(|choice| choice.key)))
            // one of several is named by its number
            .map(|near| format!("; did you mean `{}`?", near.replace("[]", "[1]")));
        EditError::UnknownKey { option, text: unknown.text, hint: hint.unwrap_or_default() }
    })
}

/// Reads a value and sees that it lies within the limits of its dimension.
fn value_of(key: Key, text: &str) -> Result<f64, EditError> {
    let info = key.dim.info();
    let short = || text.trim().chars().take(60).collect::<String>();
    let value = units::parse(text, info.unit).map_err(|error| EditError::BadValue {
        key: key.to_string(),
        value: short(),
        error,
    })?;
    if !(info.low..=info.high).contains(&value) {
        return Err(EditError::OutOfRange {
            key: key.to_string(),
            value: short(),
            found: units::plain(value, info),
            low: units::plain(info.low, info),
            high: units::plain(info.high, info),
        });
    }
    Ok(value)
}

/// What an outcome comes to in the design as it stands in the file.
fn value_now(study: &Study, key: Key) -> Result<f64, EditError> {
    let info = key.dim.info();
    let value = match info.role {
        Role::Outcome => study.layout().and_then(|layout| layout.outcome(key.dim)),
        Role::Closing | Role::Given => key.get(&study.design),
    };
    let value = value.ok_or_else(|| EditError::NothingToHold { key: key.to_string() })?;
    if !(info.low..=info.high).contains(&value) {
        return Err(EditError::HoldOutOfRange {
            key: key.to_string(),
            found: units::plain(value, info),
            low: units::plain(info.low, info),
            high: units::plain(info.high, info),
        });
    }
    Ok(value)
}

/// Refuses a key that this kind of design does not have, and says why it has none.
fn expect_in(design: &Design, key: Key) -> Result<(), EditError> {
    let info = key.dim.info();
    let has = match info.role {
        Role::Outcome => key.dim != Dim::SaddleBreak || !matches!(design.tail, Tail::Wrapped),
        Role::Closing | Role::Given => key.get(design).is_some(),
    };
    if has {
        return Ok(());
    }
    let because = match info.part() {
        Part::String => format!(": it has {} strings", design.strings.len()),
        Part::Pickup => format!(": it has {} pickups", design.pickups.len()),
        Part::Cavity => format!(": it has {} cavities", design.cavities.len()),
        _ => {
            let part = info.key.split('.').next().unwrap_or_default();
            Choice::all()
                .iter()
                .find(|choice| choice.key.split('.').next() == Some(part))
                .map(|choice| format!(": its {} is {}", choice.key, choice.get(design)))
                .unwrap_or_default()
        }
    };
    Err(EditError::Lacking { key: key.to_string(), because })
}
