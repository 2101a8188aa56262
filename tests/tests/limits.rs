//! Designs at the documented limits: each dimension at its least and its most, alone and
//! together with others, in every kind of instrument. There is always an answer: a design
//! that closes with numbers that are numbers, or words that say why not.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]
#![allow(clippy::print_stdout, reason = "the figures of a long run")]

use std::collections::BTreeMap;

use overstand_core::choice::Choice;
use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::joint::{CutSheet, JointFigures};
use overstand_core::study::{Open, Study};
use overstand_core::units::LengthStyle;
use overstand_drawing::elevation::elevation;
use overstand_drawing::joint::joint;
use overstand_files::starters;

/// How the designs came out.
#[derive(Debug, Default)]
struct Tally {
    closed: usize,
    open: usize,
    refused: usize,
}

/// Works everything out that a design shows, and holds it to be words and numbers.
fn answers(design: &Design, tally: &mut Tally) {
    let study = Study::of(design);
    assert!(!study.reason().show(LengthStyle::Millimetres).is_empty());
    match &study.outcome {
        Ok(closed) => {
            tally.closed += 1;
            assert!(!CutSheet::of(&study.design, &closed.layout).steps.is_empty());
            drop(JointFigures::of(&study.design, &closed.layout));
            for check in &closed.checks {
                assert!(!check.reading.value.is_nan(), "{} reads no number", check.id.text());
                let says = check.says.show(LengthStyle::InchFraction);
                assert!(!says.contains("NaN") && !says.contains("inf"), "{says}");
            }
        }
        Err(Open::Faults(faults)) => {
            tally.refused += 1;
            assert!(faults.iter().all(|fault| !fault.says.is_empty()));
        }
        Err(Open::Conflict(_) | Open::Layout(_)) => tally.open += 1,
    }
    for scene in [elevation(&study), joint(&study)] {
        if let Some(bounds) = scene.bounds() {
            assert!(bounds.is_finite(), "a drawing without end");
        }
    }
}

/// Puts a dimension at an end of its range; what is found is held there for once.
fn put(design: &mut Design, key: Key, end: usize) {
    let info = key.dim.info();
    if info.role == Role::Closing {
        design.found.remove(info.key);
    }
    key.set(design, [info.low, info.high][end]);
}

fn designs() -> impl Iterator<Item = Design> {
    starters().iter().map(|starter| starter.file().unwrap().active_design().clone())
}

/// Each dimension at both ends, in so many of the starters that have it.
fn single_limits(starters_each: usize) {
    let mut tally = Tally::default();
    let mut seen: BTreeMap<Dim, usize> = BTreeMap::new();
    for design in designs() {
        for key in Key::all_of(&design).into_iter().filter(|key| key.index < 2) {
            let times = seen.entry(key.dim).or_default();
            *times += 1;
            if *times > starters_each {
                continue;
            }
            let other = if key.dim == Dim::Pitch { Dim::CrestHeight } else { Dim::Pitch };
            for end in [0, 1] {
                // as it stands: something else may follow it or contradict it
                let mut moved = design.clone();
                put(&mut moved, key, end);
                answers(&moved, &mut tally);
                // and with a dimension found for it
                moved.found.insert(other.info().key.to_owned());
                answers(&moved, &mut tally);
            }
        }
    }
    println!("single limits: {tally:?}");
    assert_eq!(seen.len(), Dim::ALL.len(), "no starter has all that is left");
    assert!(tally.closed > 100 && tally.open > 20 && tally.refused > 20, "{tally:?}");
}

#[test]
fn every_dimension_at_its_least_and_its_most() {
    single_limits(2);
}

#[test]
#[ignore = "takes a minute; its figures stand in docs/hard-knocks.md"]
fn every_dimension_at_its_limits_in_every_starter() {
    single_limits(usize::MAX);
}

/// One to five dimensions at their ends at once, in so many designs of every kind.
fn several_limits(count: usize) {
    let mut tally = Tally::default();
    let designs: Vec<Design> = designs().collect();
    // Marsaglia's xorshift
    let mut state = 0x2545_F491_4F6C_DD1D_u64;
    let mut below = |end: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state % end as u64) as usize
    };
    for _ in 0..count {
        let mut design = designs[below(designs.len())].clone();
        let choice = &Choice::all()[below(Choice::all().len())];
        choice.set(&mut design, choice.options[below(choice.options.len())].0).unwrap();
        let keys = Key::all_of(&design);
        for _ in 0..=below(4) {
            put(&mut design, keys[below(keys.len())], below(2));
        }
        answers(&design, &mut tally);
    }
    println!("several limits: {tally:?}");
    assert!(tally.closed > 20 && tally.open > 20 && tally.refused > 20, "{tally:?}");
}

#[test]
fn several_at_their_limits_in_every_kind_of_instrument() {
    several_limits(400);
}

#[test]
#[ignore = "takes a minute; its figures stand in docs/hard-knocks.md"]
fn several_at_their_limits_in_many_more() {
    several_limits(1500);
}
