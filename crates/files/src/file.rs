use std::collections::BTreeSet;
use std::sync::LazyLock;

use overstand_core::design::{Design, Fault};
use serde::{Deserialize, Serialize};

/// The version of the file format that is written.
pub const FORMAT: u64 = 1;

/// Most variants a file may hold.
pub const MOST_VARIANTS: usize = 1000;

/// A design with its variants, as it stands in one file.
#[derive(Clone, Debug, PartialEq)]
pub struct DesignFile {
    /// The variants, each with a name of its own.
    pub variants: Vec<Design>,
    /// The name of the one that is worked on.
    pub active: String,
}

/// The same as it stands in the file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "DesignFile")]
pub(crate) struct OnDisk<T> {
    pub(crate) format: u64,
    pub(crate) active: String,
    pub(crate) variants: T,
}

impl DesignFile {
    /// A file with a single design.
    pub fn of(design: Design) -> Self {
        Self { active: design.name.clone(), variants: vec![design] }
    }

    /// The variant of that name.
    pub fn variant(&self, name: &str) -> Option<&Design> {
        self.variants.iter().find(|design| design.name == name)
    }

    /// The variant that is worked on: the active one, or the first if none has that
    /// name. Of a file without variants, which can neither be read nor saved, an
    /// example.
    pub fn active_design(&self) -> &Design {
        static EXAMPLE: LazyLock<Design> = LazyLock::new(overstand_core::testing::worked_example);
        self.variant(&self.active).or(self.variants.first()).unwrap_or(&EXAMPLE)
    }

    /// All that makes the file nonsense as data, with the index of the variant that it
    /// is about; empty for a sound one.
    pub fn faults(&self) -> Vec<(Option<usize>, Fault)> {
        let fault = |place: &str, says: String| Fault { place: place.to_owned(), says };
        let mut faults = Vec::new();
        let count = self.variants.len();
        if !(1..=MOST_VARIANTS).contains(&count) {
            let says = format!("found {count}, expected 1 to {MOST_VARIANTS} variants");
            faults.push((None, fault("variants", says)));
        }
        let mut names = BTreeSet::new();
        for (index, design) in self.variants.iter().enumerate() {
            if !names.insert(&design.name) {
                let says = format!("another variant is called `{}` as well", design.name);
                faults.push((Some(index), fault("name", says)));
            }
            faults.extend(design.faults().into_iter().map(|fault| (Some(index), fault)));
        }
        if count > 0 && self.variant(&self.active).is_none() {
            let active: String = self.active.chars().take(120).collect();
            let says = format!(
                "there is no variant `{active}`, expected the name of one, as `{}`",
                self.variants[0].name
            );
            faults.push((None, fault("active", says)));
        }
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use overstand_core::testing::worked_example;

    #[test]
    fn the_active_one_is_found_by_name() {
        let mut file = DesignFile::of(worked_example());
        let other = Design { name: "Other".to_owned(), ..worked_example() };
        file.variants.push(other);
        file.active = "Other".to_owned();
        assert_eq!(file.active_design().name, "Other");
        assert_eq!(file.faults(), []);
        file.active = "gone".to_owned();
        assert_eq!(file.active_design().name, "Worked example");
        assert_eq!(file.faults()[0].1.place, "active");
    }

    #[test]
    fn names_are_unique_and_there_is_one_at_least() {
        let mut file = DesignFile::of(worked_example());
        file.variants.push(worked_example());
        assert_eq!((file.faults()[0].0, file.faults()[0].1.place.as_str()), (Some(1), "name"));
        file.variants.clear();
        assert_eq!(file.faults()[0].1.place, "variants");
        assert!(!file.active_design().strings.is_empty());
    }
}
