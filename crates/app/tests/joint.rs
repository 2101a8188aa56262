//! The page of the joint: section, figures and cut sheet.

mod common;

use common::Window;
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use overstand_core::choice::Choice;
use overstand_core::design::BridgeKind;
use overstand_core::dimension::Dim;
use overstand_core::joint::JointFigures;
use overstand_core::testing::worked_example;
use overstand_core::verdict::Word;

const PAGE: Key = Key::Num2;
const TENON: &str = "Tenon length, joint in section";
const MOUTH: &str = "Pocket depth, joint in section";

/// What the list says of a figure: its value and what stands beside it.
fn figure(window: &Window, name: &str) -> String {
    let start = format!("{name}, ");
    let is_listed = |role, text: &str| role == Role::DisclosureTriangle && text.starts_with(&start);
    let listed = window.texts(is_listed).into_iter().next().expect("the figure is listed");
    listed[start.len()..].to_owned()
}

fn worked_out(window: &Window, id: &str) -> (&'static str, f64) {
    let study = window.app().study();
    let figures = JointFigures::of(&study.design, study.layout().expect("it closes"));
    let figure = figures.get(id).expect("this joint has it");
    (figure.name, figure.value)
}

#[test]
fn pages_are_turned_by_key_tab_and_search() {
    let (mut window, _folder) = Window::worked();
    let has_joint =
        |window: &Window| window.harness.query_by_role_and_label(Role::Slider, TENON).is_some();
    assert!(!has_joint(&window));
    window.turn_to(Key::Num2);
    assert!(has_joint(&window));
    window.turn_to(Key::Num1);
    assert!(!has_joint(&window));
    window.click(Role::Tab, "Joint");
    assert!(has_joint(&window));
    // a dimension that is not listed here is found on the page where it is
    window.search("crest height");
    assert!(!has_joint(&window));
    assert_eq!(window.focused().as_deref(), Some("Crest height"));
    window.search("joint");
    assert!(has_joint(&window));
}

#[test]
fn the_tenon_is_dragged_and_the_figures_follow() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let before = window.design().clone();
    let length = window.get(Dim::TenonLength);
    let (name, was) = worked_out(&window, "along_bottom");
    let shown = figure(&window, name);
    window.drag(TENON, vec2(-24.0, 0.0));
    let dragged = window.get(Dim::TenonLength);
    assert!(dragged < length - 1.0, "{dragged} mm");
    assert_eq!(dragged, (dragged * 10.0).round() / 10.0, "it did not land on a tenth");
    let (_, is) = worked_out(&window, "along_bottom");
    // the edge leans by a few degrees at most: its length changes about as the tenon's does
    assert!(((is - was) - (dragged - length)).abs() < 0.05 * (length - dragged), "{was} to {is}");
    assert_ne!(figure(&window, name), shown);
    assert_eq!(figure(&window, name), format!("{is:.1} mm"));
    assert_eq!(window.design().found, before.found);
    window.undo();
    assert_eq!(window.design(), &before, "the drag was more than one step");

    let deep = window.get(Dim::PocketDepth);
    window.drag(MOUTH, vec2(0.0, 20.0));
    assert!(window.get(Dim::PocketDepth) > deep);
}

#[test]
fn a_step_is_ticked_and_the_tick_undone() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let before = window.design().clone();
    assert!(window.says("0 of "));
    window.click(Role::CheckBox, "2  Mark out the joint");
    assert!(window.design().ticks.contains("mark_out"));
    assert!(window.says("1 of "));
    window.undo();
    assert_eq!(window.design(), &before);
    assert!(window.says("Undone: Tick: mark out the joint"));
    window.press(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert!(window.design().ticks.contains("mark_out"));
    window.click(Role::CheckBox, "2  Mark out the joint");
    assert!(window.design().ticks.is_empty());
}

#[test]
fn a_figure_opens_its_working_and_follows_the_units() {
    let (mut window, _folder) = Window::showing(PAGE, worked_example());
    let (name, value) = worked_out(&window, "pitch_wedge");
    let said = format!("thick toward the bridge, {value:.2} mm");
    assert_eq!(figure(&window, name), said);
    let label = format!("{name}, {said}");
    // it may stand below what is in sight: what opens is scrolled to
    window.harness.get_by_role_and_label(Role::DisclosureTriangle, &label).click_accesskit();
    window.harness.run();
    assert!(window.says("W tan θ") && window.says("jig base"));
    window.search("inches, decimal");
    assert!(figure(&window, name).ends_with(" in"), "{}", figure(&window, name));
    // an angle also as rise over run
    let (name, _) = worked_out(&window, "pitch");
    assert!(figure(&window, name).contains("°, 1:"), "{}", figure(&window, name));
}

/// A wedge has no sign at the bench: its thick end is named.
#[test]
fn a_wedge_of_a_neck_that_drops_is_thick_toward_the_nut() {
    let mut design = worked_example();
    Dim::Pitch.key().set(&mut design, -1.0);
    design.found.remove(Dim::Pitch.info().key);
    design.found.insert(Dim::CrestHeight.info().key.to_owned());
    design.bridge.kind = BridgeKind::Plate {
        crest_low: overstand_core::units::Length::mm(1.0),
        crest_high: overstand_core::units::Length::mm(40.0),
    };
    let (window, _folder) = Window::showing(PAGE, design);
    let (name, value) = worked_out(&window, "pitch_wedge");
    assert!(value < 0.0);
    let said = format!("thick toward the nut, {:.2} mm", -value);
    assert_eq!(figure(&window, name), said);
}

/// The maker has a jig of a given angle: that is held, and the floor is found for it.
#[test]
fn a_typed_jig_angle_finds_the_floor() {
    let mut design = worked_example();
    Choice::parse("joint.floor_kind").unwrap().set(&mut design, "free").unwrap();
    let (mut window, _folder) = Window::showing(PAGE, design);
    window.click(Role::CheckBox, "Hold pocket floor");
    window.type_in("Tenon bottom to board", "1.25", Key::Enter);
    assert_ne!(window.app().study().word(), Word::DoesNotClose);
    let pitch = window.get(Dim::Pitch);
    // bottom to board is the pitch less the floor, solved to rounding
    assert!((pitch - window.get(Dim::Floor) - 1.25).abs() < 1e-9);
    let told = window.told("Pocket floor, joint in section");
    assert!((told - window.get(Dim::Floor)).abs() < 1e-12);
}

#[test]
fn a_cavity_is_added_edited_and_taken_out() {
    let mut design = worked_example();
    design.cavities.clear();
    let (mut window, _folder) = Window::showing(PAGE, design);
    let before = window.design().clone();
    window.search("add a cavity");
    window.search("add a cavity");
    let names: Vec<&str> = window.design().cavities.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names, ["Cavity 1", "Cavity 2"]);
    window.search("depth cavity 1");
    window.harness.event(egui::Event::Text("31".to_owned()));
    window.harness.run();
    window.press(Modifiers::NONE, Key::Enter);
    assert_eq!(window.design().cavities[0].depth.to_mm(), 31.0);
    // the one that is listed goes
    window.search("take this cavity out");
    assert_eq!(window.design().cavities.len(), 1);
    assert_eq!(window.design().cavities[0].name, "Cavity 2");
    for _ in 0..4 {
        window.undo();
    }
    assert_eq!(window.design(), &before);
}

#[test]
fn a_design_that_does_not_close_says_so_and_offers_what_helps() {
    let mut design = worked_example();
    design.found.remove("joint.pitch");
    Dim::CrestHeight.key().set(&mut design, 26.0);
    let (mut window, _folder) = Window::showing(PAGE, design);
    assert_eq!(window.app().study().word(), Word::DoesNotClose);
    assert!(window.says("Nothing can be worked out as long as the design does not close."));
    assert!(!window.says("Cut sheet"));
    window.click(Role::Button, "Release pitch");
    assert!(window.says("Cut sheet"));
    assert!(!window.says("Nothing can be worked out"));
}

#[test]
fn every_kind_of_joint_has_its_page() {
    for kind in ["tenon", "dovetail", "screwed", "through"] {
        let mut design = worked_example();
        Choice::parse("joint.kind").unwrap().set(&mut design, kind).unwrap();
        let (window, _folder) = Window::showing(PAGE, design);
        assert!(window.says("Cut sheet") && window.says("Worked out"), "{kind}");
        let handle = window.harness.query_by_role_and_label(Role::Slider, TENON);
        assert_eq!(handle.is_some(), kind != "through", "{kind}");
    }
}
