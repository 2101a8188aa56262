use kurbo::{Rect, Vec2};
use overstand_core::choice::Choice;
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::testing::worked_example;

use super::*;
use crate::font::base_line;
use crate::scene::Item;

fn designs() -> Vec<(String, Design)> {
    let mut designs = Vec::new();
    for starter in overstand_files::starters() {
        for variant in starter.file().unwrap().variants {
            designs.push((starter.id.to_owned(), variant));
        }
    }
    for kind in ["tenon", "dovetail", "screwed", "through"] {
        let mut design = worked_example();
        Choice::parse("joint.kind").unwrap().set(&mut design, kind).unwrap();
        designs.push((kind.to_owned(), design));
    }
    designs
}

/// The words of a page with the boxes they take up, what hangs below the line included.
fn words(page: &Page) -> Vec<(Rect, f64, String)> {
    let fonts = Fonts::bundled();
    let mut words = Vec::new();
    for layer in &page.layers {
        let size = layer.look.lettering;
        for shape in &layer.scene.shapes {
            if let Item::Text { at, anchor, text } = &shape.item {
                let wide = fonts.width(text, size);
                let start = *at + base_line(*anchor, wide, size).to_vec2();
                let capitals = size * crate::font::CAPITAL;
                let low = start - Vec2::new(0.0, 0.3 * capitals);
                let high = start + Vec2::new(wide, capitals);
                words.push((Rect::from_points(low, high), size, text.clone()));
            }
        }
    }
    words
}

/// All words of the pages, those of each size in the order in which they are read.
fn running(paper: &Paper) -> String {
    let mut all: Vec<_> = paper.pages.iter().flat_map(words).collect();
    all.sort_by(|one, two| one.1.total_cmp(&two.1));
    all.into_iter().map(|word| word.2).collect::<Vec<_>>().join(" ")
}

#[test]
fn everything_stands_on_the_pages_and_nothing_runs_off_or_into_another() {
    use LengthStyle::{InchDecimal, InchFraction, Millimetres};
    let papers = [
        ("A4", Millimetres, 2),
        ("Letter", InchDecimal, 2),
        ("A3", InchFraction, 1),
        ("120x120", Millimetres, 40),
    ];
    for (name, design) in designs() {
        let study = Study::of(&design);
        for (sheet, lengths, most) in papers {
            let paper = cut_sheet(&study, &Wanted::of_test(sheet, lengths)).unwrap();
            assert!(paper.pages.len() <= most, "{name} {sheet}: {} pages", paper.pages.len());
            for page in &paper.pages {
                let room = Rect::new(0.0, 0.0, page.room.0, page.room.1).inflate(1e-6, 1e-6);
                let words = words(page);
                for (i, (at, _, text)) in words.iter().enumerate() {
                    assert_eq!(at.intersect(room), *at, "{name} {sheet}: {text}");
                    assert!(!text.contains('…'), "{name} {sheet}: {text}");
                    for (other, _, near) in &words[i + 1..] {
                        assert!(!at.overlaps(*other), "{name} {sheet}: {text} / {near}");
                    }
                }
            }
            holds_everything(&study, &paper, lengths);
        }
    }
}

fn holds_everything(study: &Study, paper: &Paper, lengths: LengthStyle) {
    let sheet = CutSheet::of(&study.design, study.layout().unwrap());
    let said = running(paper);
    let look = Look { lengths, ..Look::paper() };
    // a step that goes on in the next column or page is read through its head and foot
    let whole = paper.pages.len() <= 2;
    let mut needed: Vec<String> = Vec::new();
    for step in &sheet.steps {
        needed.push(step.title.to_owned());
        for number in &step.numbers {
            let value = |value| look.value(value, number.unit, number.digits);
            // a wedge by its thick end, without a sign
            let raises = number.raises().map(|raises| format!(", {raises}")).unwrap_or_default();
            let mut row = format!("{}{raises} {}", number.name, value(number.at_bench()));
            if let Some(within) = number.tolerance {
                row += &format!(" ± {}", value(within));
            }
            needed.extend(whole.then_some(row));
            needed.push(value(number.at_bench()));
        }
        for reading in &step.readings {
            let value = |value| look.value(value, Unit::Length, 1);
            let (reads, within) = (value(reading.value), value(reading.tolerance));
            needed.push(format!("on {} {reads} ± {within}", reading.on));
        }
        if whole {
            needed.extend(step.work.iter().map(|work| work.show(lengths)));
            needed.extend(step.leave_on.iter().map(|on| format!("Leave on {}", on.show(lengths))));
            needed.extend(step.check.iter().flat_map(|check| {
                let otherwise = check.otherwise.show(lengths);
                [format!("Check {}", check.show(lengths)), format!("If not {otherwise}")]
            }));
            needed.extend(step.cautions.iter().map(|care| (*care).to_owned()));
        }
    }
    if whole {
        needed.extend(sheet.cautions.iter().map(|care| (*care).to_owned()));
        needed.push(REMINDER.to_owned());
        needed.push(format!("page 1 of {}", paper.pages.len()));
        needed.push(format!("Variant: {}", study.design.name.trim()));
    }
    for words in needed {
        assert!(said.contains(&words), "{}: `{words}` is missing in\n{said}", study.design.name);
    }
}

/// Lines that are no rule across a column: boxes, and ticks in them.
fn strokes(paper: &Paper) -> usize {
    let shapes = paper.pages.iter().flat_map(|page| &page.layers).flat_map(|one| &one.scene.shapes);
    shapes.filter(|one| matches!(one.item, Item::Stroke { line: Line::Visible, .. })).count()
}

#[test]
fn every_step_has_a_box_and_a_done_one_a_tick() {
    let mut design = worked_example();
    let asked = Wanted::of_test("A4", LengthStyle::Millimetres);
    let study = Study::of(&design);
    let steps = CutSheet::of(&study.design, study.layout().unwrap()).steps.len();
    assert_eq!(strokes(&cut_sheet(&study, &asked).unwrap()), steps);
    design.ticks.extend(["mark_out".to_owned(), "glue".to_owned()]);
    assert_eq!(strokes(&cut_sheet(&Study::of(&design), &asked).unwrap()), steps + 2);
}

#[test]
fn long_names_are_broken_and_cut_off_at_the_edge() {
    let mut design = worked_example();
    design.name = "Wide".repeat(30);
    let paper =
        cut_sheet(&Study::of(&design), &Wanted::of_test("A4", LengthStyle::Millimetres)).unwrap();
    for page in &paper.pages {
        assert!(words(page).iter().all(|one| one.0.x1 <= page.room.0 + 1e-6));
    }
}

#[test]
fn what_should_not_be_cut_says_so() {
    let mut design = worked_example();
    Dim::CrestHeight.key().set(&mut design, 140.0);
    let asked = Wanted::of_test("A4", LengthStyle::Millimetres);
    assert!(matches!(cut_sheet(&Study::of(&design), &asked), Err(PaperError::Nothing(_))));

    let file = overstand_files::starter("quay-house-3").unwrap().file().unwrap();
    let mut design = file.active_design().clone();
    // beyond the saddle's travel
    Dim::CrestHeight.key().set(&mut design, 18.0);
    let study = Study::of(&design);
    assert_eq!(study.word(), Word::Fails);
    let said = running(&cut_sheet(&study, &asked).unwrap());
    assert!(said.contains("Will not play. Do not cut yet."), "{said}");
}

#[test]
fn a_roll_is_refused() {
    let refused = cut_sheet(
        &Study::of(&worked_example()),
        &Wanted::of_test("roll610", LengthStyle::Millimetres),
    );
    assert_eq!(
        refused.unwrap_err().to_string(),
        "no cut sheet fits on roll of 610 mm, expected single sheets such as A4 or Letter"
    );
}
