//! Designs with something of every kind.
#![allow(dead_code, reason = "each test uses its part of this")]

use overstand_core::choice::Choice;
use overstand_core::design::Design;
use overstand_core::testing::worked_example;

/// Every variant of every starter.
pub(crate) fn of_starters() -> Vec<(String, Design)> {
    let mut designs = Vec::new();
    for starter in overstand_files::starters() {
        for variant in starter.file().unwrap().variants {
            designs.push((starter.id.to_owned(), variant));
        }
    }
    designs
}

/// These, and the worked example with every kind of every part.
pub(crate) fn designs() -> Vec<(String, Design)> {
    let mut designs = of_starters();
    for choice in Choice::all() {
        for (option, _) in choice.options {
            let mut design = worked_example();
            choice.set(&mut design, option).unwrap();
            designs.push((format!("{} {option}", choice.key), design));
        }
    }
    designs
}
