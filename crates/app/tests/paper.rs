//! The page of paper: what is chosen is laid out, shown and written.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use std::path::Path;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use overstand_app::{Options, PaperChoices, Preferences};
use overstand_core::design::Date;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::LengthStyle;
use overstand_drawing::paper::{Choices, Paper, lay};
use overstand_drawing::sheet::Sheet;

fn paper_page() -> (Window, tempfile::TempDir) {
    let (mut window, folder) = Window::worked();
    window.turn_to(Key::Num7);
    window.wait_for("of A4");
    (window, folder)
}

/// What is laid out without a window.
fn laid(sheet: &str) -> Paper {
    let sheet = Sheet::parse(sheet).unwrap();
    let choices = Choices::usual(Date::new(2026, 3, 31).unwrap());
    let choices = Choices { margins: sheet.usual_margins(), sheet, ..choices };
    lay(&Study::of(&worked_example()), &choices).unwrap()
}

fn count(sheets: usize) -> String {
    if sheets == 1 { "1 sheet".to_owned() } else { format!("{sheets} sheets") }
}

#[test]
fn larger_paper_takes_fewer_sheets() {
    let (mut window, _folder) = paper_page();
    let (small, large) = (laid("A4").pages.len(), laid("A3").pages.len());
    assert!(large < small, "{large} sheets of A3, {small} of A4");
    window.wait_for(&count(small));
    window.choose("Paper: A4", "A3");
    window.wait_for(&count(large));
    assert!(window.says("of A3"));
    window.choose("Paper: A3", "Roll");
    window.wait_for("1 sheet");
    assert!(window.says("of roll of 610 mm"));
    window.type_over("Width of the roll", "36in", Key::Enter);
    window.wait_for("of roll of 914.4 mm");
    // what was chosen is remembered, and the design is not changed by it
    assert_eq!(window.app().preferences().paper.sheet, "roll914.4mm");
    assert!(!window.app().title().starts_with('•'));
}

#[test]
fn parts_are_ticked_and_found_on_their_sheets() {
    let (mut window, _folder) = paper_page();
    let tiles = "Tiles of the side elevation";
    let has = |window: &Window, name: &str| {
        window.harness.query_by_role_and_label(Role::ListBoxOption, name).is_some()
    };
    assert!(has(&window, tiles));
    window.press_named(Role::Button, "None");
    window.wait_for("There is nothing to print");
    window.press_named(Role::CheckBox, "Pitch wedge");
    window.wait_for("1 sheet");
    assert!(has(&window, "Sheet 1: Overview, Pitch wedge") && !has(&window, tiles));
    // its use stands beside it
    assert!(window.says("its upper edge has the pitch of the board"));
}

#[test]
fn every_sheet_and_the_tiles_can_be_turned_to() {
    let (mut window, _folder) = paper_page();
    let paper = laid("A4");
    let canvas = |window: &Window, name: &str| {
        window.harness.query_by_role_and_label(Role::Canvas, name).is_some()
    };
    assert!(canvas(&window, "Sheet 1: Pitch wedge") || window.says("Sheet 1"));
    for _ in 0..paper.tiled.len() {
        window.press(Modifiers::NONE, Key::PageUp);
    }
    assert!(canvas(&window, "Tiles of the side elevation"));
    // the first tile of the elevation leads to its sheet
    let tile = paper.tiled[0].tiling.tiles[0].name();
    let page = paper.pages.iter().position(|page| {
        page.placed
            .iter()
            .any(|one| one.tile.as_deref() == Some(&tile) && one.kind == paper.tiled[0].kind)
    });
    let rect =
        window.harness.get_by_role_and_label(Role::Canvas, "Tiles of the side elevation").rect();
    let at = rect.left_center() + vec2(60.0, 0.0);
    window.harness.hover_at(at);
    window.harness.run();
    window.harness.drag_at(at);
    window.harness.run();
    window.drop_at(at);
    let start = format!("Sheet {}: ", page.unwrap() + 1);
    assert!(window.says(&start), "{start}");
    // zoomed and panned, and fitted again
    window.scroll(rect.center(), 200.0);
    window.take(rect.center(), vec2(80.0, 30.0));
    window.drop_at(rect.center() + vec2(80.0, 30.0));
    window.press(Modifiers::NONE, Key::F);
}

#[test]
fn a_typed_correction_says_what_remains_and_is_printed() {
    let (mut window, folder) = paper_page();
    window.type_over("What the bars measure", "much", Key::Enter);
    assert!(window.says("Expected what the two bars measure"));
    assert_eq!(window.field("What the bars measure"), "much");
    window.type_over("What the bars measure", "99.4 × 100.2", Key::Enter);
    window.wait_for("Drawn +0.60 % across and −0.20 % up.");
    assert!(window.says("remain over"));
    window.type_over("Measured on", "soon", Key::Enter);
    assert_eq!(window.field("Measured on"), "soon");
    window.type_over("Measured on", "2026-03-31", Key::Enter);
    assert_eq!(window.app().preferences().paper.measured_on, "2026-03-31");
    let out = folder.path().join("a.pdf");
    window.type_over("Write to", &out.display().to_string(), Key::Enter);
    window.wait_for("Written: ");
    assert!(std::fs::read(out).unwrap().starts_with(b"%PDF"));
    window.press_named(Role::Button, "Without correction");
    assert_eq!(window.app().preferences().paper, PaperChoices::default());
}

#[test]
fn each_kind_of_file_is_written_and_never_over_another_unasked() {
    let (mut window, folder) = paper_page();
    let at = |name: &str| folder.path().join(name);
    // beside the design, by its name
    assert_eq!(window.field("Write to"), at("design.pdf").display().to_string());
    for (kind, ending, head) in
        [("PDF", "pdf", "%PDF"), ("SVG", "svg", "<svg "), ("DXF", "dxf", "  0\nSECTION")]
    {
        window.press_named(Role::Button, kind);
        window.click(Role::Button, "Write");
        let path = at("design").with_extension(ending);
        window.wait(kind, |_| path.exists());
        window.wait_for("Written: ");
        assert!(
            std::fs::read_to_string(&path).unwrap_or_default().starts_with(head) || head == "%PDF"
        );
    }
    std::fs::write(at("design.dxf"), "mine").unwrap();
    window.click(Role::Button, "Write");
    window.wait_for("is there already");
    assert_eq!(std::fs::read(at("design.dxf")).unwrap(), b"mine");
    window.click(Role::Button, "Replace it");
    window.wait_for("Written: ");
    assert!(std::fs::read(at("design.dxf")).unwrap().starts_with(b"  0\nSECTION"));
}

#[test]
fn what_cannot_be_is_said_in_its_place_and_what_was_typed_stays() {
    let (mut window, folder) = paper_page();
    window.type_over("Margin left", "95", Key::Enter);
    window.type_over("Margin right", "95", Key::Enter);
    window.wait_for("Between the margins");
    assert!(window.harness.query_all_by_label_contains("Between the margins").count() >= 1);
    assert_eq!(window.field("Margin left"), "95.0 mm");
    window.press_named(Role::Button, "Usual");
    window.wait_for("of A4");
    window.type_over("Margin top", "wide", Key::Enter);
    assert_eq!(window.field("Margin top"), "wide");
    window.type_over("Margin top", "12", Key::Enter);
    window.choose("Paper: A4", "Roll");
    window.type_over("Width of the roll", "190", Key::Enter);
    window.wait_for("`Side elevation` is");
    assert_eq!(window.field("Width of the roll"), "190 mm");
    window.type_over("Width of the roll", "610", Key::Enter);
    window.wait_for("of roll of 610 mm");
    let nowhere = folder.path().join("nowhere/a.pdf").display().to_string();
    window.type_over("Write to", &nowhere, Key::Enter);
    window.wait_for("Not saved, cannot write there");
    assert_eq!(window.field("Write to"), nowhere);
    window.type_over("Write to", &folder.path().join("a.png").display().to_string(), Key::Enter);
    window.wait_for("Expected a name that ends in .pdf");
    let left = std::fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(left, 1, "something else than the design was left");
}

#[test]
fn the_cut_sheet_is_put_on_paper_too() {
    let (mut window, folder) = paper_page();
    window.press_named(Role::Button, "Cut sheet");
    window.wait_for("of A4");
    window.wait("two pages at most", |window| window.says("1 sheet") || window.says("2 sheets"));
    assert!(!window.says("Printer"));
    window.click(Role::Button, "Write");
    window.wait_for("Written: ");
    assert!(Path::new(&folder.path().join("design-cuts.pdf")).exists());
}

#[test]
fn units_follow_the_window_unless_paper_has_its_own() {
    let (mut window, _folder) = paper_page();
    assert_eq!(window.field("Margin left"), "10.0 mm");
    window.search("inches, decimal");
    window.wait_for("of A4");
    assert!(window.field("Margin left").ends_with(" in"), "{}", window.field("Margin left"));
    window.choose("Units on paper: As in the window", "Millimetres");
    window.wait_for("of A4");
    assert_eq!(window.field("Margin left"), "10.0 mm");
    assert_eq!(window.app().preferences().paper.units, Some(LengthStyle::Millimetres));
}

#[test]
fn nothing_is_laid_out_or_painted_anew_at_rest() {
    let (mut window, _folder) = paper_page();
    window.harness.run();
    // a window at rest asks for no frame
    assert!(window.harness.try_run().is_ok_and(|frames| frames <= 1));
}

#[test]
fn remembered_choices_are_laid_out_at_once() {
    let paper = PaperChoices { sheet: "A2".to_owned(), ..PaperChoices::default() };
    let preferences = Preferences { paper, ..Preferences::default() };
    let mut window = Window::open(Options { preferences, dialogs: false, ..Options::default() });
    window.turn_to(Key::Num7);
    window.wait_for("of A2");
}

#[test]
fn another_design_is_not_written_over_the_last_one() {
    let (mut window, folder) = paper_page();
    let out = folder.path().join("a.pdf").display().to_string();
    window.type_over("Write to", &out, Key::Enter);
    window.wait_for("Written: ");
    window.search("open by path");
    let other = folder.path().join("other.ron");
    let file = overstand_files::starter("slipway-bass").unwrap().file().unwrap();
    overstand_files::save(&other, &file).unwrap();
    window.type_over("Path of the file", &other.display().to_string(), Key::Enter);
    window.turn_to(Key::Num7);
    let usual = folder.path().join("other.pdf").display().to_string();
    assert_eq!(window.field("Write to"), usual);
    assert!(!window.says("Written: "));
}
