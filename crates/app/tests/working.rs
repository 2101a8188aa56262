//! Every figure opens into its working: in the same way wherever it stands.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use overstand_core::strings::gauges::SETS;
use overstand_core::testing::worked_example;

/// The names of all places that open a working.
fn openers(window: &Window) -> Vec<String> {
    window
        .harness
        .query_all_by_role(Role::Button)
        .filter_map(|node| node.accesskit_node().label())
        .filter(|label| label.starts_with("Working of "))
        .collect()
}

fn strung() -> (Window, tempfile::TempDir) {
    let mut design = worked_example();
    SETS.iter().find(|set| set.fits(&design)).unwrap().put_on(&mut design);
    Window::with(design)
}

#[test]
fn what_is_found_and_what_the_straightedge_reads_open() {
    let (mut window, _folder) = strung();
    let names = openers(&window);
    for part in ["Pitch", "Bridge station", "straightedge on the crowns"] {
        assert!(names.iter().any(|name| name.contains(part)), "{part} is not in {names:?}");
    }
    window.click(Role::Button, "Working of Pitch");
    assert!(window.says("Pitch is found: with"));
    assert!(window.says("B = Y_s - z"));
    assert!(window.says("= 22.7756 mm"));
    window.press(Modifiers::NONE, Key::Escape);
    assert!(!window.says("B = Y_s - z"));
}

#[test]
fn each_cell_of_the_table_opens_by_the_keyboard_as_well() {
    let (mut window, _folder) = strung();
    window.click(Role::Button, "Table");
    let cells = openers(&window);
    let cell = cells.iter().find(|name| name.contains("E, fret 22, ")).unwrap().clone();
    window.press_named(Role::Button, &cell);
    assert!(window.says("p + q u_m - k_m"));
    // followed by hand in the worked example: 2.139054
    assert!(window.says("= 2.1391 mm"));
}

#[test]
fn the_page_of_the_strings_opens_its_figures() {
    let (mut window, _folder) = strung();
    window.press(Modifiers::COMMAND, Key::Num3);
    let names = openers(&window);
    for part in ["pulls, N", "bears, %", "presses the saddle, N", "Together they pull"] {
        assert!(names.iter().any(|name| name.contains(part)), "{part} is not in {names:?}");
    }
    let pull = names.iter().find(|name| name.contains("pulls, N")).unwrap().clone();
    window.press_named(Role::Button, &pull);
    assert!(window.says("μ (2 L ν/1000)²") && window.says("Mersenne"));
}

#[test]
fn a_check_opens_every_step() {
    let (mut window, _folder) = strung();
    let names = |window: &Window| -> Vec<String> {
        let all = window.harness.query_all_by_role(Role::DisclosureTriangle);
        all.filter_map(|node| node.accesskit_node().label()).collect()
    };
    let name = names(&window).into_iter().find(|name| name.starts_with("Saddle travel, ")).unwrap();
    window.click(Role::DisclosureTriangle, &name);
    window.click(Role::Button, "Show the working");
    window.click(Role::Button, "Show every step");
    assert!(window.says("u_J = L (1 - 2^(-n/12))") && window.says("Y_s - z"));
}
