use super::*;
use crate::design::{BoardShape, Date, Making, Pickup, Provenance, Tolerance};
use crate::dimension::Dim;
use crate::dryfit::Round;
use crate::testing::worked_example;
use crate::units::Length;

fn study(change: impl FnOnce(&mut crate::design::Design)) -> Study {
    let mut design = worked_example();
    change(&mut design);
    Study::of(&design)
}

fn with(dim: Dim, value: f64) -> Study {
    study(|design| dim.key().set(design, value))
}

fn get(study: &crate::design::Design, dim: Dim) -> f64 {
    dim.key().get(study).unwrap()
}

fn find<'a>(comparison: &'a Comparison, subject: &Subject) -> Option<&'a Row> {
    comparison.rows.iter().find(|row| row.subject == *subject)
}

#[test]
fn a_design_does_not_differ_from_itself() {
    let same = Comparison::of(&study(|_| {}), &study(|_| {}));
    assert_eq!(same.rows, []);
    assert_eq!(same.says.show(LengthStyle::Millimetres), "Nothing differs.");
}

#[test]
fn only_what_differs_is_listed_with_its_difference() {
    let (a, b) = (study(|_| {}), with(Dim::CrestHeight, 25.0));
    let both = Comparison::of(&a, &b);
    let row = find(&both, &Subject::Key(Dim::CrestHeight.key())).unwrap();
    assert_eq!(row.group, Group::Inputs(Part::Bridge));
    // 25 - 22.775593 = 2.224407; typed values are told apart at the bench's decimals
    assert!((row.difference.unwrap().value - 2.224407).abs() < 1e-9);
    assert_eq!(row.show_difference(LengthStyle::Millimetres), "+2.2 mm");
    // the pitch is found on both sides: it is a result
    let pitch = find(&both, &Subject::Key(Dim::Pitch.key())).unwrap();
    assert_eq!(pitch.group, Group::Layout);
    assert!(pitch.difference.unwrap().value > 0.3);
    assert!(find(&both, &Subject::Key(Dim::Overstand.key())).is_none());
    assert!(find(&both, &Subject::Key(Dim::ScaleLength.key())).is_none());
    // what is cut follows, and each thing stands once: as a result, and where it is judged
    assert!(find(&both, &Subject::Figure("pitch_wedge")).is_some());
    let mut names: Vec<(bool, &str)> =
        both.rows.iter().map(|row| (row.group == Group::Checks, row.name.as_str())).collect();
    names.sort_unstable();
    let twice: Vec<_> = names.windows(2).filter(|pair| pair[0] == pair[1]).collect();
    assert!(twice.is_empty(), "{twice:?}");
}

/// Strings are spaced by quarters of a millimetre, and a difference does not contradict the two
/// values beside it.
#[test]
fn the_difference_of_two_places_agrees_with_what_stands_beside_it() {
    for dim in [Dim::NutPlace, Dim::CrestPlace] {
        let (a, b) = (with(dim, 15.0), with(dim, 17.75));
        let both = Comparison::of(&a, &b);
        let row = find(&both, &Subject::Key(dim.key())).unwrap();
        let shown = row.cells.each_ref().map(|cell| cell.show(LengthStyle::Millimetres));
        assert_eq!(shown, ["15.00 mm", "17.75 mm"]);
        assert_eq!(row.show_difference(LengthStyle::Millimetres), "+2.75 mm");
    }
}

#[test]
fn every_input_that_differs_has_a_row_and_can_be_taken() {
    // one dimension of the table after the other
    let a = study(|_| {});
    for key in Key::all_of(&a.design) {
        let info = key.dim.info();
        if info.role == crate::dimension::Role::Outcome || key.is_found(&a.design) {
            continue;
        }
        let Some(value) = key.get(&a.design) else { continue };
        let step = if value + info.step <= info.high { info.step } else { -info.step };
        let b = study(|design| key.set(design, value + step));
        if !b.design.faults().is_empty() {
            continue;
        }
        let both = Comparison::of(&a, &b);
        let subject = Subject::Key(key);
        let row = find(&both, &subject).unwrap_or_else(|| panic!("{key} has no row"));
        assert!(row.can_be_taken(), "{key}");
        let taken = take(&a, &b, &subject).unwrap_or_else(|error| panic!("{key}: {error}"));
        let left = Comparison::of(&a, &Study::of(&taken.design));
        assert_eq!(left.rows, [], "{key}");
    }
}

#[test]
fn every_kind_that_differs_has_a_row_and_can_be_taken() {
    let a = study(|_| {});
    for choice in Choice::all() {
        for (option, _) in choice.options {
            let b = study(|design| choice.set(design, option).unwrap());
            if choice.get(&b.design) == choice.get(&a.design) {
                continue;
            }
            let both = Comparison::of(&a, &b);
            let subject = Subject::Choice(choice.key);
            assert!(find(&both, &subject).is_some(), "{} {option}", choice.key);
            for (from, into) in [(&a, &b), (&b, &a)] {
                let taken = take(from, into, &subject).unwrap();
                assert_eq!(choice.get(&taken.design), choice.get(&from.design));
                let part = take_part(from, into, choice.part()).unwrap();
                assert_eq!(choice.get(&part.design), choice.get(&from.design));
            }
        }
    }
}

#[test]
fn what_is_found_on_both_sides_is_taken_by_letting_another_give() {
    let (a, b) = (study(|_| {}), with(Dim::CrestHeight, 25.0));
    let taken = take(&a, &b, &Subject::Key(Dim::Pitch.key())).unwrap();
    assert_eq!(taken.step, "Take pitch");
    // the crest that differed gives, and what was found stays found
    assert!((get(&taken.design, Dim::Pitch) - get(&a.design, Dim::Pitch)).abs() < 1e-9);
    assert!((get(&taken.design, Dim::CrestHeight) - 22.775593).abs() < 1e-6);
    assert_eq!(taken.design.found, b.design.found);
    // a whole part likewise
    let part = take_part(&a, &b, Part::Joint).unwrap();
    assert!((get(&part.design, Dim::Pitch) - get(&a.design, Dim::Pitch)).abs() < 1e-9);
    assert_eq!(part.step, "Take part: joint");
}

#[test]
fn which_are_held_can_be_taken_too() {
    let a = study(|_| {});
    let b = study(|design| {
        design.joint.pitch = a.design.joint.pitch;
        design.found = ["bridge.crest_height", "bridge.station"].map(str::to_owned).into();
    });
    let both = Comparison::of(&a, &b);
    let row = find(&both, &Subject::Key(Dim::Pitch.key())).unwrap();
    assert!(matches!(row.cells, [Cell::Value(_, true), Cell::Value(_, false)]), "{row:?}");
    let taken = take(&a, &b, &Subject::Key(Dim::Pitch.key())).unwrap();
    assert_eq!(taken.design.found, a.design.found);
    assert!(Study::of(&taken.design).closed().is_some());
    let back = take(&b, &a, &Subject::Key(Dim::Pitch.key())).unwrap();
    assert!(!back.design.found.contains("joint.pitch"));
    assert!(Study::of(&back.design).closed().is_some());
}

#[test]
fn everything_is_taken_but_the_name() {
    let a = study(|design| design.name = "One".to_owned());
    let b = study(|design| {
        design.name = "Two".to_owned();
        design.board.shape = BoardShape::Fixed { radius: Length::mm(300.0) };
        design.strings.pop();
    });
    let taken = take_all(&a, &b);
    assert_eq!(taken.design.name, "Two");
    assert_eq!(taken.step, "Take everything of One");
    assert_eq!(Comparison::of(&a, &Study::of(&taken.design)).rows, []);
}

#[test]
fn what_is_no_dimension_is_compared_and_taken() {
    let a = study(|_| {});
    let b = study(|design| {
        design.notes = "Spruce".to_owned();
        design.strings[0].note = "E4".parse().ok();
        design.strings[1].name = "h".to_owned();
        design.pickups.push(Pickup {
            name: "Neck".to_owned(),
            station: Length::mm(80.0),
            height: Length::mm(10.0),
        });
        let on = Date::new(2026, 3, 31).unwrap();
        let measured = Provenance::Measured { on, error: 0.1 };
        design.marks.insert("body.thickness".to_owned(), measured);
        design.ticks.insert("mark_out".to_owned());
        let mut limit = CheckId::Relief.usual_limit();
        limit.thin_below = limit.fails_below.map(|edge| edge + 0.01);
        design.limits.insert("relief".to_owned(), limit);
        let jig = Tolerance { making: Some(Making::Jig), ..Tolerance::default() };
        design.tolerances.insert("joint.seat_mouth".to_owned(), jig);
        let readings = vec!["crowns@X=250:19.0±0.1".parse().unwrap()];
        let round = Round { on, glued: false, note: String::new(), readings, done: None };
        design.fitting = vec![round];
    });
    let both = Comparison::of(&a, &b);
    let details: Vec<&Row> =
        both.rows.iter().filter(|row| matches!(row.subject, Subject::Detail(_))).collect();
    assert_eq!(details.len(), 9, "{details:#?}");
    let said = |name: &str| {
        let row = both.rows.iter().find(|row| row.name == name).unwrap();
        row.cells.each_ref().map(|cell| cell.show(LengthStyle::Millimetres))
    };
    assert_eq!(said("Fitting rounds"), ["none", "1 round with 1 reading, on 2026-03-31"]);
    assert_eq!(
        said("Seat at mouth: how true"),
        ["± 0.15 mm, hand saw and chisel", "± 0.06 mm, router with jig"]
    );
    let mut parts = b.clone();
    for part in Part::ALL {
        parts = Study::of(&take_part(&a, &parts, part).unwrap().design);
    }
    let left = Comparison::of(&a, &parts).rows;
    assert!(left.iter().all(|row| row.group == Group::Notes), "{left:#?}");
    let mut into = b.clone();
    for row in details {
        let taken = take(&a, &into, &row.subject).unwrap();
        into = Study::of(&taken.design);
    }
    assert_eq!(Comparison::of(&a, &into).rows, []);
}

#[test]
fn results_cannot_be_taken() {
    let (a, b) = (study(|_| {}), with(Dim::CrestHeight, 25.0));
    let both = Comparison::of(&a, &b);
    for row in &both.rows {
        let taken = take(&a, &b, &row.subject);
        assert_eq!(row.can_be_taken(), taken.is_ok(), "{}: {taken:?}", row.name);
    }
    assert_eq!(take(&a, &b, &Subject::Figure("pitch_wedge")), Err(NotTaken::Follows));
}

#[test]
fn the_sentence_says_what_is_won_and_what_it_costs() {
    let shown = |a: &Study, b: &Study| Comparison::of(a, b).says.show(LengthStyle::Millimetres);
    let a = study(|_| {});
    // lower strings cost clearance, and win nothing that a check asks for
    let low = study(|design| {
        Dim::ActionBass.key().set(design, 1.0);
        Dim::ActionTreble.key().set(design, 1.0);
    });
    let says = shown(&a, &low);
    assert!(says.starts_with("B ") && says.contains("costs ") && says.ends_with('.'), "{says}");
    let back = shown(&low, &a);
    assert!(back.contains("wins "), "{back}");
    let open = with(Dim::CrestHeight, 140.0);
    assert!(shown(&a, &open).starts_with("B does not close, and A plays"), "{}", shown(&a, &open));
    assert_eq!(
        shown(&open, &with(Dim::CrestHeight, 141.0)),
        "Neither closes: nothing can be said about how they play."
    );
}

#[test]
fn elevations_are_aligned_on_one_datum() {
    let (a, b) = (study(|_| {}), with(Dim::ScaleLength, 640.0));
    let (one, two) = (a.layout().unwrap(), b.layout().unwrap());
    assert_eq!(Align::Joint.offset(one, two), 0.0);
    for align in Align::ALL {
        assert!((align.place(two) + align.offset(one, two) - align.place(one)).abs() < 1e-9);
    }
    // the longer scale puts its nut farther from the joint, toward the head
    assert!(Align::Nut.offset(one, two) > 5.0);
    assert!(Align::Bridge.offset(one, two) < -3.0);
}

#[test]
fn variants_are_sorted_by_their_least_margin() {
    let named = |name: &str, crest: f64| {
        let mut design = worked_example();
        design.name = name.to_owned();
        Dim::CrestHeight.key().set(&mut design, crest);
        design
    };
    let designs = [named("open", 140.0), named("b", 22.8), named("a", 25.9), named("c", 22.8)];
    let mut list: Vec<Standing> =
        designs.iter().enumerate().map(|(index, one)| Standing::of(index, one)).collect();
    sort(&mut list, Order::Margin);
    let margins: Vec<f64> =
        list.iter().filter_map(|one| one.least.map(|(_, margin)| margin)).collect();
    assert_eq!(margins.len(), 3);
    assert!(margins.is_sorted_by(|a, b| a >= b), "{margins:?}");
    assert_eq!(list[3].name, "open");
    sort(&mut list, Order::Name);
    let names: Vec<&str> = list.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names, ["a", "b", "c", "open"]);
    sort(&mut list, Order::File);
    assert_eq!(list[0].name, "open");
}

/// A wedge has no sign: its thick end stands in its name, and the difference is one of how thick.
#[test]
fn a_wedge_is_compared_by_its_thick_end() {
    let with_pitch = |degrees: f64| {
        let mut design = worked_example();
        design.joint.floor_kind = crate::design::FloorKind::Free;
        design.found.remove(Dim::Pitch.info().key);
        design.found.insert(Dim::CrestHeight.info().key.to_owned());
        design.bridge.kind = crate::design::BridgeKind::Plate {
            crest_low: Length::mm(1.0),
            crest_high: Length::mm(60.0),
        };
        design.joint.pitch = crate::units::Angle::degrees(degrees);
        Study::of(&design)
    };
    let wedge = |a: f64, b: f64| {
        let rows = Comparison::of(&with_pitch(a), &with_pitch(b)).rows;
        let row = rows.into_iter().find(|row| row.subject == Subject::Figure("pitch_wedge"));
        row.expect("the wedges differ")
    };
    let style = LengthStyle::Millimetres;
    let row = wedge(-0.5, -1.0);
    assert_eq!(row.name, "Wedge for the pitch, thick toward the nut");
    assert!(row.cells.iter().all(|cell| !cell.show(style).starts_with('−')), "{row:?}");
    assert!(row.show_difference(style).starts_with('+'), "{row:?}");
    assert!(row.difference.is_some_and(|difference| difference.value < 0.0), "{row:?}");
    let row = wedge(1.0, -1.0);
    let name = "Wedge for the pitch: A thick toward the bridge, B thick toward the nut";
    assert_eq!((row.name.as_str(), row.show_difference(style).as_str()), (name, ""));
    assert_eq!(row.less(), None);
}
