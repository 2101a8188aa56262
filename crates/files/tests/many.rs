//! The most variants that a file may hold.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]
#![allow(clippy::print_stdout, reason = "the figures")]

use std::time::Instant;

use overstand_core::study::Study;
use overstand_core::units::Length;
use overstand_core::verdict::Word;
use overstand_files::{DesignFile, MOST_VARIANTS, read, save, starters};

/// Every starter in turn, each time with another board.
fn crowded() -> DesignFile {
    let designs: Vec<_> =
        starters().iter().map(|one| one.file().unwrap().active_design().clone()).collect();
    let variants: Vec<_> = (0..MOST_VARIANTS)
        .map(|number| {
            let mut design = designs[number % designs.len()].clone();
            design.name = format!("{} {number}", design.name);
            let more = Length::mm(0.001 * (number / designs.len()) as f64);
            design.board.thickness = design.board.thickness + more;
            design
        })
        .collect();
    DesignFile { active: variants[MOST_VARIANTS - 1].name.clone(), variants }
}

#[test]
fn a_thousand_variants_are_saved_read_and_worked_out() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("crowded.ron");
    let file = crowded();
    let begun = Instant::now();
    save(&path, &file).unwrap();
    let saved = begun.elapsed();
    let again = read(&path).unwrap();
    let opened = begun.elapsed() - saved;
    assert_eq!(again, file);
    let checked = Instant::now();
    let closed = again.variants.iter().filter(|one| Study::of(one).word() != Word::DoesNotClose);
    assert_eq!(closed.count(), MOST_VARIANTS);
    println!(
        "{MOST_VARIANTS} variants, {} KiB: saved in {saved:.0?}, read in {opened:.0?}, worked out \
         in {:.0?}",
        std::fs::metadata(&path).unwrap().len() / 1024,
        checked.elapsed()
    );

    let mut one_more = file;
    one_more.variants.push(starters()[0].file().unwrap().active_design().clone());
    let error = save(&path, &one_more).unwrap_err().to_string();
    assert!(error.contains("expected 1 to 1000 variants"), "{error}");
}
