//! Setting one dimension of a design while the rest obeys held and found.

use overstand_core::design::{Design, Fault};
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::layout::solve;
use overstand_core::study::{Open, Study};
use overstand_core::units::LengthStyle;

use crate::values::{capital, show_dim};

/// Sets a dimension, keeping which are held and which are found.
///
/// A held one takes the value, and what is found follows. One that is found is
/// driven: for the moment it is held and its follower gives.
///
/// # Errors
/// Why it cannot stand there, in words.
pub(crate) fn drive(
    design: &Design,
    key: Key,
    value: f64,
    follower: Option<Dim>,
    style: LengthStyle,
) -> Result<Study, String> {
    if let Some(why) = beyond(design, key, value, style) {
        return Err(why);
    }
    let study = Study::of(&driven(design, key, value, follower));
    if let Err(open) = study.outcome {
        return Err(why_open(&open, style));
    }
    if study.design.found == design.found {
        return Ok(study);
    }
    // it holds as it stands, so what is held and what is found can be as before
    Ok(Study::of(&Design { found: design.found.clone(), ..study.design }))
}

/// Why a value lies beyond the range of its dimension, if it does.
pub(crate) fn beyond(design: &Design, key: Key, value: f64, style: LengthStyle) -> Option<String> {
    let info = key.dim.info();
    let limit = value.clamp(info.low, info.high);
    (limit != value).then(|| {
        format!("{} stops at its limit of {}.", key.name(design), show_dim(info, limit, style))
    })
}

/// The design with a value put in; one that was found is held and its follower found.
fn driven(design: &Design, key: Key, value: f64, follower: Option<Dim>) -> Design {
    let mut driven = design.clone();
    key.set(&mut driven, value);
    if is_found(design, key)
        && let Some(follower) = follower.or_else(|| followers(design, key.dim).first().copied())
    {
        driven.found.remove(key.dim.info().key);
        driven.found.insert(follower.info().key.to_owned());
    }
    driven
}

/// The design that comes of typing a value: as [`drive`], but held values that cannot
/// all be true are taken, since the maker may want to release another one.
///
/// # Errors
/// Why the value cannot be taken, in words.
pub(crate) fn settle(
    design: &Design,
    key: Key,
    value: f64,
    follower: Option<Dim>,
    style: LengthStyle,
) -> Result<Design, String> {
    if is_found(design, key) {
        let driven = drive(design, key, value, follower, style);
        let conflicts = || matches!(Study::of(design).outcome, Err(Open::Conflict(_)));
        match driven {
            Ok(study) => return Ok(study.design),
            // nothing is found yet that could be driven: the value is a start
            Err(_) if conflicts() => {}
            Err(why) => return Err(why),
        }
    }
    let mut changed = design.clone();
    key.set(&mut changed, value);
    match changed.faults().first() {
        None => Ok(changed),
        Some(fault) => Err(fault_words(fault)),
    }
}

fn is_found(design: &Design, key: Key) -> bool {
    key.dim.info().role == Role::Closing && key.is_found(design)
}

/// Why a design does not close, in words.
pub(crate) fn why_open(open: &Open, style: LengthStyle) -> String {
    match open {
        Open::Faults(faults) => faults.first().map_or_else(String::new, fault_words),
        Open::Conflict(conflict) => conflict.says().show(style),
        Open::Layout(error) => capital(&error.to_string()),
    }
}

/// A fault in words, the dimension called by its name.
pub(crate) fn fault_words(fault: &Fault) -> String {
    match Key::parse(&fault.place) {
        Ok(key) if !key.dim.info().is_listed() => {
            capital(&format!("{}: {}", key.dim.info().name, fault.says))
        }
        _ => capital(&fault.to_string()),
    }
}

/// Held dimensions that can give while a found one is driven, the most usual first.
pub(crate) fn followers(design: &Design, driven: Dim) -> Vec<Dim> {
    // what can be moved after the glue is dry comes first
    let usual: &[Dim] = match driven {
        Dim::Station | Dim::Compensation | Dim::JointOffset | Dim::ScaleLength => {
            &[Dim::Compensation, Dim::Station, Dim::JointOffset]
        }
        _ => &[Dim::CrestHeight, Dim::Pitch, Dim::Overstand, Dim::BoardThickness],
    };
    let info = driven.info();
    let Some(from) = driven.key().get(design).filter(|_| design.found.contains(info.key)) else {
        return Vec::new();
    };
    // a change that is small, yet large against rounding
    let change = info.step / 10.0;
    let to = if from + change <= info.high { from + change } else { from - change };
    usual
        .iter()
        .copied()
        .filter(|follower| *follower != driven && !design.found.contains(follower.info().key))
        .filter(|&follower| {
            let Some(before) = follower.key().get(design) else {
                return false;
            };
            solve(&self::driven(design, driven.key(), to, Some(follower))).is_ok_and(|solved| {
                follower.key().get(&solved.design).is_some_and(|after| after != before)
            })
        })
        .collect()
}

/// How a design looks with a dimension released, held or found the other way round.
pub(crate) fn toggled(study: &Study, key: Key) -> Design {
    let mut design = study.design.clone();
    let text = key.dim.info().key;
    match key.dim.info().role {
        Role::Closing => {
            if !design.found.remove(text) {
                design.found.insert(text.to_owned());
            }
        }
        Role::Outcome => {
            if design.targets.remove(text).is_none()
                && let Some(value) = crate::values::value(study, key)
            {
                design.targets.insert(text.to_owned(), value);
            }
        }
        Role::Given => {}
    }
    design
}

#[cfg(test)]
mod tests {
    use overstand_core::testing::worked_example;

    use super::*;

    const MM: LengthStyle = LengthStyle::Millimetres;

    fn get(study: &Study, dim: Dim) -> f64 {
        dim.key().get(&study.design).unwrap()
    }

    #[test]
    fn a_found_dimension_is_driven_and_stays_found() {
        let design = worked_example();
        let study = drive(&design, Dim::Pitch.key(), 3.25, None, MM).unwrap();
        // solved once more with what was found before: rounding moves it a little
        assert!((get(&study, Dim::Pitch) - 3.25).abs() < 1e-12);
        assert!(get(&study, Dim::CrestHeight) > 23.5, "the crest did not follow");
        assert_eq!(study.design.found, design.found);
        // the other way: the crest at that height needs this pitch
        let back = drive(&design, Dim::CrestHeight.key(), get(&study, Dim::CrestHeight), None, MM);
        assert!((get(&back.unwrap(), Dim::Pitch) - 3.25).abs() < 1e-9);
    }

    #[test]
    fn the_follower_can_be_chosen() {
        let design = worked_example();
        let choice = followers(&design, Dim::Pitch);
        assert_eq!(choice.first(), Some(&Dim::CrestHeight));
        assert!(choice.contains(&Dim::Overstand), "{choice:?}");
        let study = drive(&design, Dim::Pitch.key(), 3.25, Some(Dim::Overstand), MM).unwrap();
        assert_eq!(get(&study, Dim::CrestHeight), 22.775_593);
        assert!(get(&study, Dim::Overstand) < -0.5);
        assert_eq!(followers(&design, Dim::CrestHeight), vec![], "it is held");
        assert_eq!(followers(&design, Dim::Station).first(), Some(&Dim::Compensation));
    }

    #[test]
    fn a_bound_is_named() {
        let design = worked_example();
        let says = drive(&design, Dim::Pitch.key(), 13.0, None, MM).unwrap_err();
        assert_eq!(says, "Pitch stops at its limit of 12.00°.");
        // a crest of 100 mm would need more pitch than there is
        let says = drive(&design, Dim::CrestHeight.key(), 100.0, None, MM).unwrap_err();
        assert!(says.starts_with("Pitch would have to be "), "{says}");
        let says = drive(&design, Dim::CrestLow.key(), 30.0, None, MM).unwrap_err();
        assert!(says.starts_with("Saddle highest: 27 mm, expected"), "{says}");
    }

    #[test]
    fn a_pin_turns_both_ways() {
        let study = Study::of(&worked_example());
        for dim in [Dim::Pitch, Dim::Overstand, Dim::SaddleBreak] {
            let once = toggled(&study, dim.key());
            assert_ne!(dim.key().is_found(&once), dim.key().is_found(&study.design));
            let again = toggled(&Study { design: once, ..study.clone() }, dim.key());
            assert_eq!(again, study.design);
        }
    }
}
