//! The list of keys.

use overstand_core::choice::Choice;
use overstand_core::dimension::{Dim, Dimension, Part, Role};
use serde::Serialize;

use crate::text::{Paint, Tone, wrap};
use crate::units;

/// A key as JSON.
#[derive(Debug, Serialize)]
pub(crate) struct KeyJson {
    key: &'static str,
    name: &'static str,
    part: &'static str,
    role: &'static str,
    unit: Option<&'static str>,
    low: Option<f64>,
    high: Option<f64>,
    digits: Option<usize>,
    step: Option<f64>,
    tolerance: Option<f64>,
    making: Option<&'static str>,
    usual: &'static str,
    meaning: &'static str,
    options: Vec<OptionJson>,
}

#[derive(Debug, Serialize)]
struct OptionJson {
    value: &'static str,
    name: &'static str,
}

fn role(role: Role) -> &'static str {
    match role {
        Role::Closing => "closing",
        Role::Given => "given",
        Role::Outcome => "outcome",
    }
}

/// The part a choice belongs to: that of the dimensions whose keys begin alike.
fn part_of(choice: &Choice) -> Option<Part> {
    let group = |key: &'static str| key.split('.').next();
    Dim::ALL
        .iter()
        .map(|dim| dim.info())
        .find(|info| group(info.key) == group(choice.key))
        .map(Dimension::part)
}

fn of_part(part: Part) -> (Vec<&'static Choice>, Vec<&'static Dimension>) {
    let choices = Choice::all().iter().filter(|choice| part_of(choice) == Some(part)).collect();
    let dimensions =
        Dim::ALL.iter().map(|dim| dim.info()).filter(|info| info.part() == part).collect();
    (choices, dimensions)
}

/// All keys, for programs.
pub(crate) fn json() -> Vec<KeyJson> {
    let mut keys = Vec::new();
    for part in Part::ALL {
        let (choices, dimensions) = of_part(part);
        keys.extend(choices.into_iter().map(|choice| KeyJson {
            key: choice.key,
            name: choice.name,
            part: part.name(),
            role: "choice",
            unit: None,
            low: None,
            high: None,
            digits: None,
            step: None,
            tolerance: None,
            making: None,
            usual: "",
            meaning: choice.meaning,
            options:
                choice.options.iter().map(|&(value, name)| OptionJson { value, name }).collect(),
        }));
        keys.extend(dimensions.into_iter().map(|info| KeyJson {
            key: info.key,
            name: info.name,
            part: part.name(),
            role: role(info.role),
            unit: Some(units::name(info.unit)),
            low: Some(info.low),
            high: Some(info.high),
            digits: Some(info.digits),
            step: Some(info.step),
            tolerance: info.tolerance.map(|usual| usual.plus_minus),
            making: info.tolerance.map(|usual| usual.making.text()),
            usual: info.usual,
            meaning: info.meaning,
            options: Vec::new(),
        }));
    }
    keys
}

/// All keys, for reading.
pub(crate) fn text(paint: Paint) -> String {
    let mut text = String::from(
        "A closing key is held or found (--hold, --find), a given one always held. An\n\
         outcome follows from the others, or is held at a wanted value. A choice is\n\
         between kinds of a part. strings[1] is the treble.\n",
    );
    for part in Part::ALL {
        let (choices, dimensions) = of_part(part);
        text += &format!("\n{}\n", paint.tint(Tone::Heading, part.name()));
        for choice in choices {
            let options: Vec<&str> = choice.options.iter().map(|(option, _)| *option).collect();
            text += &entry(choice.key, "choice", choice.name, choice.meaning, paint);
            text += &wrap(&format!("One of: {}.", options.join(", ")), 6);
        }
        for info in dimensions {
            let (low, high) = (units::plain(info.low, info), units::plain(info.high, info));
            text += &entry(info.key, role(info.role), info.name, info.meaning, paint);
            let mut facts = format!("{low} to {high}.");
            if !info.usual.is_empty() {
                facts += &format!(" Usual: {}.", info.usual);
            }
            text += &wrap(&facts, 6);
        }
    }
    text
}

fn entry(key: &str, role: &str, name: &str, meaning: &str, paint: Paint) -> String {
    let padded = format!("{key:<26}");
    let head = format!("  {}{role:<10}{name}\n", paint.tint(Tone::Found, &padded));
    head + &wrap(meaning, 6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::WIDTH;

    #[test]
    fn every_key_stands_in_the_list_once() {
        let mut listed: Vec<&str> = json().iter().map(|key| key.key).collect();
        let mut all: Vec<&str> = Dim::ALL.iter().map(|dim| dim.info().key).collect();
        all.extend(Choice::all().iter().map(|choice| choice.key));
        listed.sort_unstable();
        all.sort_unstable();
        assert_eq!(listed, all);
    }

    #[test]
    fn the_list_fits_the_page_and_names_every_key() {
        let text = text(Paint::OFF);
        for line in text.lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
        }
        for dim in Dim::ALL {
            let (info, line) = (dim.info(), format!("  {} ", dim.info().key));
            assert!(text.contains(&line), "{} is not listed", info.key);
        }
    }
}
