//! The design that is worked on: its file, what was done to it, and where it is kept.

use std::path::{Path, PathBuf};

use overstand_core::design::Design;
use overstand_core::study::Study;
use overstand_files::{DesignFile, ReadError, SaveError, Stamp, Starter};

use crate::history::History;

/// Of a name and of the file it comes from so many letters are kept.
const LONGEST_PIECE: usize = 48;

/// A design file that is open, with all that was done to it.
#[derive(Debug)]
pub(crate) struct Document {
    file: DesignFile,
    study: Study,
    /// Counts the changes; what is cached belongs to one of them.
    revision: u64,
    history: History<Before>,
    /// A change in the making, as a drag: what stood before it.
    open_step: Option<DesignFile>,
    /// What is on disk, as far as it is known.
    saved: Option<DesignFile>,
    is_dirty: bool,
    path: Option<PathBuf>,
    /// What was on disk when it was last read or saved here.
    stamp: Option<Stamp>,
}

/// What a step left, as far as it differed: of a thousand variants one is kept, not all.
#[derive(Debug)]
struct Before {
    active: String,
    variants: Variants,
}

#[derive(Debug)]
enum Variants {
    /// All were the same.
    Same,
    /// One of them was another.
    One(usize, Box<Design>),
    /// There were others.
    All(Vec<Design>),
}

impl Before {
    /// What of `before` is not as it is now.
    fn of(before: DesignFile, now: &DesignFile) -> Self {
        let DesignFile { active, variants } = before;
        if variants.len() != now.variants.len() {
            return Self { active, variants: Variants::All(variants) };
        }
        let mut differing =
            (0..variants.len()).filter(|&index| variants[index] != now.variants[index]);
        let variants = match (differing.next(), differing.next()) {
            (None, _) => Variants::Same,
            (Some(index), None) => Variants::One(index, Box::new(variants[index].clone())),
            _ => Variants::All(variants),
        };
        Self { active, variants }
    }

    /// Exchanges it for what stands.
    fn swap(&mut self, file: &mut DesignFile) {
        std::mem::swap(&mut self.active, &mut file.active);
        match &mut self.variants {
            Variants::Same => {}
            Variants::One(index, design) => {
                if let Some(variant) = file.variants.get_mut(*index) {
                    std::mem::swap(variant, design);
                }
            }
            Variants::All(variants) => std::mem::swap(variants, &mut file.variants),
        }
    }
}

impl Document {
    /// A document that is not on disk yet.
    pub(crate) fn new(file: DesignFile) -> Self {
        Self {
            study: Study::of(file.active_design()),
            saved: Some(file.clone()),
            file,
            revision: 0,
            history: History::default(),
            open_step: None,
            is_dirty: false,
            path: None,
            stamp: None,
        }
    }

    /// One made from a starter.
    ///
    /// # Errors
    /// None in a tested build.
    pub(crate) fn from_starter(starter: &Starter) -> Result<Self, ReadError> {
        starter.file().map(Self::new)
    }

    /// Opens a file.
    ///
    /// # Errors
    /// Why it cannot be read, with line and column.
    pub(crate) fn open(path: &Path) -> Result<Self, ReadError> {
        // the stamp first: a change between the two is then noticed at the next save
        let stamp = overstand_files::stamp(path)?;
        let mut document = Self::new(overstand_files::read(path)?);
        document.path = Some(path.to_owned());
        document.stamp = Some(stamp);
        Ok(document)
    }

    /// What a crash left behind, and where it had been saved. It is not saved now, and
    /// what is on disk is not taken for what it was made of.
    pub(crate) fn recovered(file: DesignFile, path: Option<PathBuf>) -> Self {
        Self { is_dirty: true, saved: None, path, ..Self::new(file) }
    }

    /// Saves it under a path. What stands there and was not put there by this document
    /// is only replaced if `replace` says so.
    ///
    /// # Errors
    /// Why it was not saved; what is on disk is then as before.
    pub(crate) fn save(&mut self, path: &Path, replace: bool) -> Result<(), SaveError> {
        let known = self.stamp.as_ref().filter(|_| self.path.as_deref() == Some(path));
        let known = if replace { overstand_files::stamp(path).ok() } else { known.copied() };
        self.stamp = Some(overstand_files::save_if_unchanged(path, &self.file, known.as_ref())?);
        self.path = Some(path.to_owned());
        self.saved = Some(self.file.clone());
        self.is_dirty = false;
        Ok(())
    }

    /// Everything worked out for the design as it stands.
    pub(crate) fn study(&self) -> &Study {
        &self.study
    }

    /// The design as it stands, with what was found put in where it closes.
    pub(crate) fn design(&self) -> &Design {
        self.file.active_design()
    }

    /// The file as it would be saved.
    pub(crate) fn file(&self) -> &DesignFile {
        &self.file
    }

    /// Counts the changes.
    pub(crate) fn revision(&self) -> u64 {
        self.revision
    }

    /// Whether something is not saved.
    pub(crate) fn is_dirty(&self) -> bool {
        self.is_dirty
    }

    /// Where it is kept.
    pub(crate) fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// The name of the step that undo would take back.
    pub(crate) fn next_undo(&self) -> Option<&str> {
        self.history.next_undo()
    }

    /// The name of the step that redo would do again.
    pub(crate) fn next_redo(&self) -> Option<&str> {
        self.history.next_redo()
    }

    /// Puts a changed design in place of the active one, as a step with a name.
    /// Steps in a row that join under the same word are undone as one.
    pub(crate) fn change(&mut self, name: String, design: Design, joins: Option<String>) {
        self.drop_step();
        let before = self.file.clone();
        self.put(design);
        if self.file != before {
            // steps on another variant are others
            let joins = joins.map(|joins| format!("{} {joins}", self.file.active));
            self.history.record(name, Before::of(before, &self.file), joins);
        }
    }

    /// Works on another variant of the file, as a step with a name.
    pub(crate) fn activate(&mut self, variant: &str) {
        self.drop_step();
        if self.file.active != variant && self.file.variant(variant).is_some() {
            let before = self.file.clone();
            self.file.active = variant.to_owned();
            self.settle();
            let name = format!("Work on {variant}");
            self.history.record(name, Before::of(before, &self.file), None);
        }
    }

    /// Turns to another variant of the file without a step: what is done next is done to it.
    pub(crate) fn turn_to(&mut self, variant: &str) {
        if self.file.active != variant && self.file.variant(variant).is_some() {
            self.drop_step();
            self.file.active = variant.to_owned();
            self.settle();
        }
    }

    /// Puts a variant behind the active one, as a step with a name.
    pub(crate) fn insert(&mut self, name: String, design: Design) {
        self.drop_step();
        let before = self.file.clone();
        let active = &self.file.active;
        let place = self.file.variants.iter().position(|variant| variant.name == *active);
        self.file.variants.insert(place.map_or(0, |place| place + 1), design);
        self.settle();
        self.history.record(name, Before::of(before, &self.file), None);
    }

    /// A name that no variant has yet.
    pub(crate) fn free_name(&self, wanted: &str) -> String {
        let is_free = |name: &String| self.file.variant(name).is_none();
        let stem = wanted.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
        let stem: String = if stem.is_empty() { wanted } else { stem }.chars().take(100).collect();
        (2..)
            .map(|number| format!("{stem} {number}"))
            .find(is_free)
            .unwrap_or_else(|| wanted.to_owned())
    }

    /// A name for what comes from another file, which says so; no variant has it yet.
    pub(crate) fn name_of_origin(&self, name: &str, path: &Path) -> String {
        let cut = |text: &str| text.trim().chars().take(LONGEST_PIECE).collect::<String>();
        let stem = path.file_stem().unwrap_or_default().to_string_lossy();
        // a file may be called what no name may hold
        let stem: String = stem.chars().filter(|letter| !letter.is_control()).collect();
        let wanted = format!("{} ({})", cut(name), cut(&stem));
        match self.file.variant(&wanted) {
            Some(_) => self.free_name(&wanted),
            None => wanted,
        }
    }

    /// Shows a design while a step is in the making: it is not undone by itself.
    pub(crate) fn preview(&mut self, design: Design) {
        if self.open_step.is_none() {
            self.open_step = Some(self.file.clone());
        }
        self.put(design);
    }

    /// The design that stood before the step in the making, else the one that stands.
    pub(crate) fn before_step(&self) -> &Design {
        self.open_step.as_ref().unwrap_or(&self.file).active_design()
    }

    /// Ends the step in the making and keeps what came of it, under a name.
    pub(crate) fn end_step(&mut self, name: String) {
        if let Some(before) = self.open_step.take()
            && before != self.file
        {
            self.history.record(name, Before::of(before, &self.file), None);
        }
    }

    /// Ends the step in the making and puts everything back.
    pub(crate) fn drop_step(&mut self) {
        if let Some(before) = self.open_step.take() {
            self.file = before;
            self.settle();
        }
    }

    /// Takes the last step back; false if there is none.
    pub(crate) fn undo(&mut self) -> bool {
        self.drop_step();
        let done = self.history.undo(|step| step.swap(&mut self.file));
        self.settle();
        done
    }

    /// Does the step again that was last taken back; false if there is none.
    pub(crate) fn redo(&mut self) -> bool {
        self.drop_step();
        let done = self.history.redo(|step| step.swap(&mut self.file));
        self.settle();
        done
    }

    /// The same with its changes counted from a number on.
    pub(crate) fn counted_from(self, revision: u64) -> Self {
        Self { revision, ..self }
    }

    /// What is not saved may be lost.
    pub(crate) fn forget_changes(&mut self) {
        self.is_dirty = false;
    }

    fn put(&mut self, design: Design) {
        let study = Study::of(&design);
        let active = std::mem::replace(&mut self.file.active, study.design.name.clone());
        let place = self.file.variants.iter().position(|variant| variant.name == active);
        match self.file.variants.get_mut(place.unwrap_or(0)) {
            Some(variant) => *variant = study.design.clone(),
            None => self.file.variants.push(study.design.clone()),
        }
        self.study = study;
        self.revision += 1;
        self.is_dirty = self.differs_from_saved();
    }

    fn settle(&mut self) {
        self.study = Study::of(self.file.active_design());
        self.revision += 1;
        self.is_dirty = self.differs_from_saved();
    }

    /// Which variant is looked at is no work that could be lost: it goes along with the next
    /// save, and asks for none.
    fn differs_from_saved(&self) -> bool {
        self.saved.as_ref().is_none_or(|saved| saved.variants != self.file.variants)
    }
}

#[cfg(test)]
mod tests {
    use overstand_core::dimension::Dim;
    use overstand_core::testing::worked_example;

    use super::*;

    fn document() -> Document {
        Document::new(DesignFile::of(worked_example()))
    }

    fn with_crest(document: &Document, crest: f64) -> Design {
        let mut design = document.design().clone();
        Dim::CrestHeight.key().set(&mut design, crest);
        design
    }

    fn get(document: &Document, dim: Dim) -> f64 {
        dim.key().get(document.design()).unwrap()
    }

    #[test]
    fn a_change_is_solved_named_and_undone() {
        let mut document = document();
        let before = document.file().clone();
        document.change("Crest height".to_owned(), with_crest(&document, 25.0), None);
        assert!(document.is_dirty());
        assert!(get(&document, Dim::Pitch) > 3.3, "the pitch was not put in");
        assert_eq!(document.next_undo(), Some("Crest height"));
        assert!(document.undo());
        assert_eq!((document.file(), document.is_dirty()), (&before, false));
        assert!(document.redo());
        assert_eq!(get(&document, Dim::CrestHeight), 25.0);
    }

    #[test]
    fn a_drag_is_one_step_or_none() {
        let mut document = document();
        let before = document.file().clone();
        for crest in [23.0, 23.5, 24.0] {
            document.preview(with_crest(&document, crest));
        }
        document.drop_step();
        assert_eq!((document.file(), document.next_undo()), (&before, None));
        for crest in [23.0, 23.5, 24.0] {
            document.preview(with_crest(&document, crest));
        }
        document.end_step("Drag crest height".to_owned());
        assert_eq!(get(&document, Dim::CrestHeight), 24.0);
        assert!(document.undo());
        assert_eq!(document.file(), &before);
        assert!(!document.undo());
    }

    #[test]
    fn steps_on_several_variants_go_back_in_order() {
        let mut document = document();
        let first = document.file().clone();
        let other = Design { name: document.free_name("Worked example"), ..worked_example() };
        assert_eq!(other.name, "Worked example 2");
        document.insert("Keep a variant".to_owned(), other);
        let kept = document.file().clone();
        document.turn_to("Worked example 2");
        document.change("Crest".to_owned(), with_crest(&document, 25.0), Some("n".to_owned()));
        document.turn_to("Worked example");
        document.change("Crest".to_owned(), with_crest(&document, 24.0), Some("n".to_owned()));
        assert!(document.undo());
        assert_eq!(document.file().variants[0], kept.variants[0]);
        assert!(document.undo());
        assert_eq!(document.file().variants, kept.variants);
        assert!(document.undo() && !document.undo());
        assert_eq!(document.file(), &first);
        assert!(document.redo() && document.redo() && document.redo());
        let crest = |name| Dim::CrestHeight.key().get(document.file().variant(name).unwrap());
        assert_eq!((crest("Worked example"), crest("Worked example 2")), (Some(24.0), Some(25.0)));
    }

    #[test]
    fn to_look_at_another_variant_is_no_change_of_the_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("two.ron");
        let mut document = document();
        let other = Design { name: "Other".to_owned(), ..worked_example() };
        document.insert("Keep a variant".to_owned(), other);
        document.save(&path, false).unwrap();
        for name in ["Worked example", "Other"] {
            document.turn_to(name);
            assert!(!document.is_dirty(), "looking at {name} asks for a save");
        }
        document.activate("Worked example");
        assert!(!document.is_dirty());
        document.activate("Other");

        // work is work, and goes back to nothing
        document.change("Crest".to_owned(), with_crest(&document, 25.0), None);
        document.turn_to("Worked example");
        assert!(document.is_dirty(), "a look elsewhere hides what is not saved");
        assert!(document.undo() && !document.is_dirty());

        // what is looked at is kept with the next save, asked for or not
        document.turn_to("Worked example");
        document.save(&path, false).unwrap();
        assert_eq!(Document::open(&path).unwrap().design().name, "Worked example");

        // what a crash left behind stays unsaved wherever one looks
        let mut found = Document::recovered(document.file().clone(), Some(path));
        found.turn_to("Other");
        assert!(found.is_dirty());
    }

    #[test]
    fn saving_never_replaces_what_came_from_elsewhere() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("one.ron");
        let mut ours = document();
        ours.save(&path, false).unwrap();
        let mut theirs = Document::open(&path).unwrap();
        theirs.change("Crest".to_owned(), with_crest(&theirs, 24.0), None);
        theirs.save(&path, false).unwrap();
        assert!(!theirs.is_dirty());

        ours.change("Crest".to_owned(), with_crest(&ours, 25.0), None);
        assert!(matches!(ours.save(&path, false), Err(SaveError::ChangedOnDisk)));
        assert!(ours.is_dirty());
        ours.save(&path, true).unwrap();
        assert_eq!(get(&Document::open(&path).unwrap(), Dim::CrestHeight), 25.0);

        let mut other = document();
        assert!(matches!(other.save(&path, false), Err(SaveError::ChangedOnDisk)));
    }
}
