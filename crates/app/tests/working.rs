//! Every figure opens into its working: in the same way wherever it stands.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use overstand_core::dryfit::Round;
use overstand_core::strings::gauges::SETS;
use overstand_core::testing::worked_example;

/// The names of all places that open a working.
fn openers(window: &Window) -> Vec<String> {
    window.texts(|role, text| role == Role::Button && text.starts_with("Working of "))
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
    // all is good, so that no card is open beside the reason
    open_both_ways(&mut window, "what decides: saddle travel", "min(B - lowest, highest - B)");
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
    window.turn_to(Key::Num3);
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
    let names = |window: &Window| window.texts(|role, _| role == Role::DisclosureTriangle);
    let name = names(&window).into_iter().find(|name| name.starts_with("Saddle travel, ")).unwrap();
    window.click(Role::DisclosureTriangle, &name);
    window.click(Role::Button, "Show the working");
    window.click(Role::Button, "Show every step");
    assert!(window.says("u_J = L (1 - 2^(-n/12))") && window.says("Y_s - z"));
}

/// Presses the first place that opens a working whose name has this in it.
fn open(window: &mut Window, part: &str) {
    let names = openers(window);
    let name = names.iter().find(|name| name.contains(part));
    let name = name.unwrap_or_else(|| panic!("{part} is not in {names:?}")).clone();
    window.press_named(Role::Button, &name);
}

#[test]
fn how_true_opens_its_figures() {
    let (mut window, _folder) = strung();
    window.turn_to(Key::Num4);
    open(&mut window, "seat at mouth: crest for each");
    assert!(window.says("c = 1 - c_θ 180/π (cos φ)²/ℓ - (o + d_0) sin φ cos φ/ℓ"));
    open(&mut window, "seat at mouth: share");
    assert!(window.says("100 (k/s_B)²") && window.says("JCGM 100"));
    // the trials run on a thread of their own
    window.wait("the trials", |window| {
        openers(window).iter().any(|name| name.contains("the chance that it plays"))
    });
    open(&mut window, "the chance that it plays");
    assert!(window.says("Counted, not worked out") && window.says("JCGM 101"));
    window.press(Modifiers::NONE, Key::Escape);
    window.click(Role::Tab, "Spread");
    open(&mut window, "Root of squares");
    assert!(window.says("z s_B"));
    open_both_ways(&mut window, "± by squares: saddle travel", "(a_1 - b_1)/(2 w_1)");
    assert!(window.says("Each of the other") && window.says("JCGM 100"));
    open_both_ways(&mut window, "mean: saddle travel", "v + S_1/N");
    assert!(window.says("from the same seed, 1,") && window.says("JCGM 101"));
    let deviation = "two standard deviations: saddle travel";
    open_both_ways(&mut window, deviation, "√((S_2 - S_1²/N)/(N - 1))");
}

/// The first place that opens a working whose name has this in it: where it is in sight it is
/// clicked; then it is closed, and opened with the key.
fn open_both_ways(window: &mut Window, part: &str, says: &str) {
    // a card that is open may lie over it
    window.press(Modifiers::NONE, Key::Escape);
    let names = openers(window);
    let name = names.iter().find(|name| name.contains(part));
    let name = name.unwrap_or_else(|| panic!("{part} is not in {names:?}")).clone();
    window.harness.get_by_role_and_label(Role::Button, &name).scroll_to_me();
    window.harness.run();
    window.click(Role::Button, &name);
    assert!(window.says(says), "a click on {name} opens nothing");
    window.press(Modifiers::NONE, Key::Escape);
    assert!(!window.says(says), "{name} stays open");
    window.harness.get_by_role_and_label(Role::Button, &name).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::Enter);
    assert!(window.says(says), "Enter on {name} opens nothing");
}

#[test]
fn a_nut_filed_for_a_string_opens_its_figures() {
    let (mut window, _folder) = strung();
    window.turn_to(Key::Num3);
    if window.harness.query_by_role_and_label(Role::Tab, "True notes").is_some() {
        window.click(Role::Tab, "True notes");
    }
    open_both_ways(&mut window, "nut nearer to the bridge", "S_aa S_be - S_ab S_ae");
    open_both_ways(&mut window, "crest back with that nut", "u_s + y_c - L");
    open_both_ways(&mut window, "travel left for E", "J_s/2 - |C_s - C|");
    open_in_chart(&mut window, "Cents by fret: ", "Error of pitch of string");
    // where it first touches, over the chart
    open_both_ways(&mut window, "first touches at", "max(c/min(");
    let chart = "Fret at which the string is stopped";
    let at = window.harness.get_by_role_and_label(Role::Slider, chart).rect().center();
    window.harness.hover_at(at);
    window.harness.run();
    window.press(Modifiers::NONE, Key::W);
    assert!(window.says("Clearance where it swings lowest"));
}

/// Opens a point of a chart with the pointer, with the key under it, and with the focus alone.
fn open_in_chart(window: &mut Window, chart: &str, says: &str) {
    window.press(Modifiers::NONE, Key::Escape);
    let name = window.text(chart);
    let chart =
        |window: &Window| window.harness.get_by_role_and_label(Role::Canvas, &name).rect().center();
    window.harness.hover_at(chart(window));
    window.harness.run();
    window.press(Modifiers::NONE, Key::W);
    assert!(window.says(says), "W over {name} opens nothing");
    window.press(Modifiers::NONE, Key::Escape);
    assert!(!window.says(says));
    window.click(Role::Canvas, &name);
    assert!(window.says(says), "a click on {name} opens nothing");
    window.press(Modifiers::NONE, Key::Escape);
    window.harness.remove_cursor();
    window.harness.get_by_role_and_label(Role::Canvas, &name).focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::W);
    assert!(window.says(says), "W on {name} opens nothing");
    window.press(Modifiers::NONE, Key::Escape);
}

#[test]
fn headroom_at_any_relief_opens() {
    let (mut window, _folder) = strung();
    window.turn_to(Key::Num3);
    window.click(Role::Tab, "Best relief");
    open_in_chart(&mut window, "Headroom over relief: ", "Headroom with a relief of ");
    open_both_ways(&mut window, "headroom with the relief as it is", "takes least of all strings");
    // what would follow from the best one
    open_both_ways(&mut window, "pitch with the best relief", "Pitch is found: with");
    assert!(window.says(" · with the best relief"));
    open_both_ways(&mut window, "pitch with action and relief", "Pitch is found: with");
}

#[test]
fn what_a_release_would_bring_opens() {
    let (mut window, _folder) = Window::worked();
    window.click(Role::CheckBox, "Hold pitch");
    window.type_in("Crest height", "24", Key::Enter);
    open_both_ways(&mut window, "pitch released, ", "Pitch is found: with");
    assert!(window.says(" · with pitch released"));
    open_both_ways(&mut window, "overstand released, ", "Overstand is found: with");
    open_both_ways(&mut window, "crest height released, ", "B = Y_s - z");
    // with the scale that follows the board would end before its frets
    assert!(!window.has_button("Release scale length"));
}

/// What is sought and not found has no steps: it is said how it was sought.
#[test]
fn what_lies_beyond_its_limit_opens() {
    let mut design = worked_example();
    design.targets.insert("joint.pocket_width".to_owned(), 100.0);
    design.found.insert("joint.glue_room".to_owned());
    let (mut window, _folder) = Window::with(design);
    assert!(window.says("Glue room would have to be"));
    open_both_ways(&mut window, "glue room beyond its limit", "It is sought: the value nearest");
}

#[test]
fn what_two_variants_come_to_opens_for_each() {
    let (mut window, _folder) = strung();
    window.turn_to(Key::Num6);
    window.click(Role::Button, "Keep a variant");
    window.drag("Pitch, B", egui::vec2(0.0, -30.0));
    let found = |window: &Window, start: &str| {
        let names = openers(window);
        let name = names.iter().find(|name| name.starts_with(start));
        name.unwrap_or_else(|| panic!("{start} is not in {names:?}")).clone()
    };
    let names = ["Working of saddle travel of A: ", "Working of saddle travel of B: "];
    let [a, b] = names.map(|start| found(&window, start));
    assert_ne!(a.split(", ").last(), b.split(", ").last(), "the saddle's travel does not differ");
    for (name, whose) in [(a, " · A: Worked example"), (b, " · B: Worked example 2")] {
        open_both_ways(&mut window, name.trim_start_matches("Working of "), "B = Y_s - z");
        assert!(window.says(whose), "{name}");
    }
    open_both_ways(&mut window, "margin of saddle travel of B: Worked example 2", "V - V_1");
    // what they differ by, and from there what each comes to
    open_both_ways(&mut window, "B less A of saddle travel, ", "B - A");
    assert!(window.says("what is worked out for A"));
    window.click(Role::Button, "Show the working of B: Worked example 2");
    assert!(window.says(" · B: Worked example 2") && window.says("B = Y_s - z"));
    // over the drawing of A, which is not the one in hand
    window.press(Modifiers::NONE, Key::Escape);
    window.harness.get_by_role_and_label(Role::Slider, "Crest height, A").focus();
    window.harness.run();
    window.press(Modifiers::NONE, Key::W);
    assert!(window.says(" · A: Worked example") && window.says("It is held: it is put in"));
    window.press(Modifiers::NONE, Key::W);
    assert!(!window.says("It is held: it is put in"), "the key does not close it again");
    window.press(Modifiers::NONE, Key::W);
    assert!(window.says(" · A: Worked example"));
    window.press(Modifiers::NONE, Key::Escape);
    let all = window.text("All ");
    window.click(Role::Button, &all);
    window.wait("all variants", |window| {
        openers(window).iter().any(|name| name.contains("least margin of Worked example 2"))
    });
    open_both_ways(&mut window, "least margin of Worked example 2", "V - V_1");
}

#[test]
fn a_dry_fit_opens_its_figures() {
    let mut design = worked_example();
    let readings = ["crowns@X=110:14.2", "crowns@X=330:25.1"];
    let readings = readings.map(|text| text.parse().unwrap()).to_vec();
    let on = "2026-03-01".parse().unwrap();
    design.fitting.push(Round { on, glued: false, note: String::new(), readings, done: None });
    let (mut window, _folder) = Window::with(design);
    window.turn_to(Key::Num5);
    open(&mut window, "Working of pitch as read");
    assert!(window.says("θ = atan(((r_1 + z_1) - (r_2 + z_2))/(X_1 - X_2))"));
    open(&mut window, "the error of the crest height needed");
    assert!(window.says("covariance"));
    // the first that takes so much wood
    let takes = window.texts(|role, name| role == Role::ListBoxOption && name.contains(" ± "));
    let takes = takes.into_iter().next().unwrap();
    window.press_named(Role::ListBoxOption, &takes);
    open(&mut window, "how much wood");
    assert!(window.says("found by Newton's method"));
    window.press(Modifiers::NONE, Key::Escape);
    open_both_ways(&mut window, "reading 1, plan", "o + n/cos θ + X tan θ - z");
    open_both_ways(&mut window, "reading 2, joint as found", "o + n/cos θ + X tan θ - z");
    open_both_ways(&mut window, "saddle left up then", "B_2 - B");
    open_both_ways(&mut window, "bridge line from joint as it is", "(L - u_J) cos θ - t sin θ");
    let half = window.text("Half ");
    window.press_named(Role::Button, &half);
    open_both_ways(&mut window, "half of the wood", "x_w/2");
    open_both_ways(&mut window, "overstand then", "Overstand then");
    // the verdict beside it is of that joint, not of the design in hand
    let check = window.texts(|role, _| role == Role::DisclosureTriangle);
    let check = check.into_iter().find(|name| name.starts_with("Saddle travel, ")).unwrap();
    window.press_named(Role::DisclosureTriangle, &check);
    if !window.has_button("Show every step") {
        window.press_named(Role::Button, "Show the working");
    }
    window.press_named(Role::Button, "Show every step");
    assert!(window.says(" · as it is"));
    window.press(Modifiers::NONE, Key::Escape);
    window.click(Role::Tab, "Fitting log");
    open_in_chart(&mut window, "Crest needed, off the plan", "Round 1: ");
    open_both_ways(&mut window, "off the plan, round 1", "B - B_p");
    assert!(window.says("Of the readings put down in round 1 on 2026-03-01"));
    open_both_ways(&mut window, "error of the pitch, round 1", "s_θ = ");
}

#[test]
fn the_set_up_opens_its_figures() {
    let (mut design, readings) = (worked_example(), ["crowns@X=110:14.2", "crowns@X=330:25.1"]);
    let readings = readings.map(|text| text.parse().unwrap()).to_vec();
    let on = "2026-03-01".parse().unwrap();
    design.fitting.push(Round { on, glued: true, note: String::new(), readings, done: None });
    let (mut window, _folder) = Window::with(design);
    window.turn_to(Key::Num5);
    open_both_ways(&mut window, "File the nut slots: e, slot over the board", "κ");
    open_both_ways(&mut window, "Set the saddle heights: E, crest over the top", "Y_s - z");
}
