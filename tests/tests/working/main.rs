//! Every figure can be followed by hand: its steps are reckoned out from the numbers as they
//! are written, and come to what the program shows.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

mod compare;
mod dry_fit;

use std::collections::BTreeMap;

use overstand_core::design::{ArchPoint, BoardShape, BridgeKind, Design, Nut, Tail, Top};
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::joint::JointFigures;
use overstand_core::layout::Bend;
use overstand_core::risk::{COVERAGE_95, OfError, OfSpread, OfTrials, Plan, Risk, Source, Watch};
use overstand_core::strings::gauges::SETS;
use overstand_core::strings::{Drawn, Strings, compensation_with_nut, relief_search, swing};
use overstand_core::study::{Open, Study};
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length, Unit};
use overstand_core::working::{
    Chain, Figure, OfString, Step, Together, WorkedSheet, Working, reckon,
};
use overstand_files::starters;

/// Every variant of every starter, and designs with what these lack; each with a usual set
/// where it has no strings.
fn designs() -> Vec<(String, Design)> {
    let mut designs: Vec<(String, Design)> = starters()
        .iter()
        .flat_map(|starter| {
            let variants = starter.file().unwrap().variants;
            variants.into_iter().map(|design| (format!("{}, {}", starter.id, design.name), design))
        })
        .collect();
    let mm = Length::mm;
    let mut add = |name: &str, change: &dyn Fn(&mut Design)| {
        let mut design = worked_example();
        change(&mut design);
        designs.push((name.to_owned(), design));
    };
    add("worked example", &|_| {});
    add("an inner string on a shared crest, a compound radius", &|design| {
        design.board.shape = BoardShape::Compound { radius_nut: mm(250.0), radius_end: mm(400.0) };
        design.bridge.kind = BridgeKind::Posts {
            crest_low: mm(19.0),
            crest_high: mm(27.0),
            crest_radius: mm(305.0),
            post_spread: mm(74.0),
        };
        design.wanted.action_bass = mm(2.1);
        design.wanted.first_fret_bass = mm(0.5);
    });
    add("a zero fret, fall-away, and what the strings move", &|design| {
        design.nut = Nut::ZeroFret { height: mm(1.4) };
        design.board.shape = BoardShape::Fixed { radius: mm(300.0) };
        design.board.fall_from = 12;
        design.board.fall = mm(0.3);
        design.body.pitch_lost = Angle::degrees(0.1);
        design.body.top_rise = mm(0.4);
        design.tail = Tail::AtBridge { behind: mm(9.0), height: mm(3.0) };
        design.joint.offset = mm(-1.5);
        design.strings[1].crest_offset = mm(0.7);
    });
    add("an arch, and relief read beyond the joint", &|design| {
        let point = |x: f64, z: f64| ArchPoint { x: mm(x), z: mm(z) };
        let points = vec![
            point(0.0, 0.0),
            point(80.0, 6.0),
            point(160.0, 10.5),
            point(250.0, 12.0),
            point(340.0, 8.0),
        ];
        design.body.top = Top::Arch { points };
        design.wanted.relief_to = 20;
        design.wanted.action_bass = mm(2.2);
    });
    add("a ramp", &|design| {
        design.body.top = Top::Ramp { angle: Angle::degrees(1.5), length: mm(120.0) };
        design.body.taper = Angle::degrees(1.0);
        design.joint.wall_rake = Angle::degrees(2.0);
    });
    add("no frets", &|design| {
        design.scale.frets = 0;
        design.board.crown = mm(0.0);
    });
    for (_, design) in &mut designs {
        let lacks = |design: &Design| design.strings.iter().any(|string| string.note.is_none());
        if lacks(design)
            && let Some(set) = SETS.iter().find(|set| set.fits(design))
        {
            set.put_on(design);
        }
    }
    designs
}

/// What a working comes to from the numbers as they are written, and by how much their
/// rounding can move it: each put in half of its last digit larger.
fn reckoned(working: &Working) -> (f64, f64) {
    let typed = working.put_in();
    let value = reckon(&typed).unwrap_or_else(|| panic!("{}: {typed}", working.formula));
    let mut within = 0.0;
    for index in 0..working.terms.len() {
        let mut off = working.clone();
        let term = &mut off.terms[index];
        let half = 0.5 * 10.0_f64.powi(-(term.digits as i32));
        // an exact number has no zeros at its end
        let written: f64 = term.text().split([' ', '°']).next().unwrap().parse().unwrap();
        if (written - term.value).abs() < 1e-12 {
            continue;
        }
        (term.value, term.digits) = (written + half, term.digits + 1);
        within += (reckon(&off.put_in()).unwrap() - value).abs();
    }
    (value, within)
}

/// Each step by itself: from its numbers as they are written it comes to its result, within
/// what the rounding of these numbers allows and half of the result's own last digit.
fn each_step_comes_out(name: &str, steps: &[Step]) {
    for step in steps {
        let (value, within) = reckoned(&step.working);
        let written: f64 = step.result().split([' ', '°']).next().unwrap().parse().unwrap();
        let last = 0.5 * 10.0_f64.powi(-(step.digits as i32));
        // half a digit may weigh a little more on one side than on the other
        let within = 1.01 * within + last + 1e-9;
        let off = (value - written).abs();
        assert!(off <= within, "{name}: {} is {value}: off {off}, may be {within}", step.line());
    }
}

/// A fifth of the last digit that the window shows of such a figure: what is followed by hand
/// from beginning to end may miss that much.
fn fifth(step: &Step) -> f64 {
    match (step.unit, step.sign) {
        // hundredths of a millimetre or of a degree
        (Unit::Length | Unit::Angle, _) => 0.002,
        (_, "N" | "Hz" | "cents") => 0.02,
        (_, "%") => 0.002,
        _ => 1e-4,
    }
}

/// Letters that each wrap of a string, and each piece of an arch, has for itself.
const OF_EACH: [&str; 7] = ["ρ", "x_a", "z_a", "M_a", "x_b", "z_b", "M_b"];

/// The whole chain from what is put in, each result written down with as many digits as the
/// sheet has and used from there: the end is what the program shows.
fn follows_by_hand(name: &str, chain: &Chain) {
    let mut known: BTreeMap<&str, f64> = BTreeMap::new();
    let mut end = f64::NAN;
    let mut letters: BTreeMap<&str, f64> = BTreeMap::new();
    for step in &chain.steps {
        // a letter means one thing: only the number of a fret is each step's own
        let result = (step.symbol, step.working.result);
        let terms = step.working.terms.iter().filter(|term| term.unit != Unit::Count);
        for (symbol, value) in terms.map(|term| (term.symbol, term.value)).chain([result]) {
            let means = *letters.entry(symbol).or_insert(value);
            let same = (means - value).abs() < 1e-6 || symbol.is_empty();
            assert!(same || OF_EACH.contains(&symbol), "{name}: {symbol} is {means} and {value}");
        }
        let mut mine = step.working.clone();
        for term in &mut mine.terms {
            if let Some(value) = known.get(term.symbol) {
                term.value = *value;
            }
        }
        let value = reckon(&mine.put_in()).unwrap();
        let scale = 10.0_f64.powi(step.digits as i32);
        end = (value * scale).round() / scale;
        if !step.symbol.is_empty() {
            known.insert(step.symbol, end);
        }
    }
    let last = chain.last().unwrap();
    let off = (end - last.working.result).abs();
    assert!(off <= fifth(last), "{name}: {} by hand, {} off", last.line(), off);
}

fn followed(name: &str, study: &Study, figure: Figure, shown: f64) -> Chain {
    let chain = figure.chain(study).unwrap_or_else(|| panic!("{name}: {figure:?} has no steps"));
    let name = format!("{name}: {}", figure.name(study));
    assert!(!figure.name(study).is_empty());
    each_step_comes_out(&name, &chain.steps);
    follows_by_hand(&name, &chain);
    let end = chain.last().unwrap().working.result;
    // the same number by the same code
    assert!((end - shown).abs() <= 1e-9 * shown.abs().max(1.0), "{name}: {end}, shown {shown}");
    assert!(!chain.sources().iter().any(|source| source.is_empty()), "{name}");
    chain
}

/// The designs that close.
fn studies() -> Vec<(String, Study)> {
    let studies: Vec<(String, Study)> =
        designs().into_iter().map(|(name, design)| (name, Study::of(&design))).collect();
    for (name, study) in &studies {
        assert!(study.closed().is_some(), "{name}: {:?}", study.outcome.as_ref().err());
    }
    studies
}

#[test]
fn every_clearance_can_be_followed() {
    for (name, study) in studies() {
        let layout = study.layout().unwrap();
        let frets = layout.clearances.frets();
        for string in 0..layout.strings.len() {
            for fret in 1..=frets {
                let figure = Figure::Clearance { string, stop: 0, fret };
                followed(&name, &study, figure, layout.clearances.open(string, fret));
                // of the stops one in three, with the next fret and the last
                for stop in
                    (1..fret).filter(|stop| stop % 3 == 0 && (fret == stop + 1 || fret == frets))
                {
                    let shown = layout.stopped_over(string, stop, fret).unwrap();
                    followed(&name, &study, Figure::Clearance { string, stop, fret }, shown);
                }
            }
        }
    }
}

#[test]
fn every_figure_of_a_string_can_be_followed() {
    for (name, study) in studies() {
        let layout = study.layout().unwrap();
        let report = Strings::of(&study.design, layout);
        let with_nut = |string| compensation_with_nut(&study.design, layout, string);
        for (string, one) in report.each.iter().enumerate() {
            let line = &layout.strings[string];
            let pull = one.pull.as_ref();
            let saddle = pull.and_then(|pull| pull.saddle);
            for of in OfString::ALL {
                let shown = match of {
                    OfString::Slot => Some(line.slot_over_board),
                    OfString::CrestHeight => Some(line.crest_height),
                    OfString::SaddleBreak => line.saddle_break.map(Bend::to_degrees),
                    OfString::NutBreak => Some(line.nut_break.to_degrees()),
                    OfString::Hertz => pull.map(|pull| pull.hertz),
                    OfString::Pull => pull.map(|pull| pull.tension),
                    OfString::Load => pull.map(|pull| 100.0 * pull.load),
                    OfString::Strain => pull.map(|pull| 100.0 * pull.strain),
                    OfString::Give => pull.map(|pull| pull.give),
                    OfString::OnNut => pull.map(|pull| pull.nut_force),
                    OfString::OnSaddle => saddle.map(|forces| forces.down),
                    OfString::Compensation => one.intonation.as_ref().map(|one| one.compensation),
                    OfString::TravelLeft => {
                        one.intonation.as_ref().and_then(|one| Some(one.reach(&study.design)?.left))
                    }
                    OfString::NutMoved => with_nut(string).map(|(nut, _)| nut),
                    OfString::CompensationWithNut => with_nut(string).map(|(_, saddle)| saddle),
                };
                let figure = Figure::String(string, of);
                match shown {
                    Some(shown) => drop(followed(&name, &study, figure, shown)),
                    None => assert_eq!(figure.chain(&study), None, "{name}: {figure:?}"),
                }
            }
            for (stop, most) in one.map.iter().enumerate().step_by(4) {
                for drawn in [None, Some(Drawn::Away), Some(Drawn::Toward)] {
                    let swings = swing(&study.design, layout, string, stop, drawn);
                    for one in swings.into_iter().step_by(6) {
                        let figure = Figure::Swings { string, stop, fret: one.fret, drawn };
                        followed(&name, &study, figure, one.lowest);
                    }
                    let figure = Figure::Plucked { string, stop, drawn, as_force: false };
                    let Some(most) = most else {
                        assert_eq!(figure.chain(&study), None);
                        continue;
                    };
                    if drawn.is_none() {
                        followed(&name, &study, figure, most.most);
                        if pull.is_some() {
                            let figure = Figure::Plucked { string, stop, drawn, as_force: true };
                            let chain = figure.chain(&study).unwrap();
                            let force = chain.last().unwrap().working.result;
                            followed(&name, &study, figure, force);
                        }
                    } else {
                        let chain = figure.chain(&study).unwrap();
                        let travel = chain.last().unwrap().working.result;
                        followed(&name, &study, figure, travel);
                    }
                }
            }
            let Some(notes) = &one.intonation else { continue };
            for (compensated, list) in [(false, &notes.cents), (true, &notes.cents_compensated)] {
                for (fret, cents) in (1..).zip(list).step_by(5) {
                    followed(&name, &study, Figure::Cents { string, fret, compensated }, *cents);
                }
            }
        }
        let sums = [report.pull, report.nut_force, report.saddle_down, report.saddle_forward];
        for (what, sum) in Together::ALL.into_iter().zip(sums) {
            if let Some(sum) = sum {
                followed(&name, &study, Figure::Together(what), sum);
            }
        }
        if let Some(place) = report.bridge_place(&study.design, layout) {
            followed(&name, &study, Figure::BridgePlace, place.station);
        }
    }
}

/// The curve over relief, below zero as well, where a string touches at rest.
#[test]
fn headroom_at_any_relief_can_be_followed() {
    let mut below = 0;
    for (name, study) in studies() {
        for at in relief_search::curve(&study.design, 7) {
            followed(&name, &study, Figure::AtRelief(at.relief), at.headroom);
            below += usize::from(at.headroom < 0.0);
        }
    }
    assert!(below > 0);
}

/// What a release of a conflict is said to come to is what its working is of.
#[test]
fn what_a_release_would_bring_can_be_followed() {
    let mut design = worked_example();
    design.found.remove(Dim::Pitch.info().key);
    Dim::CrestHeight.key().set(&mut design, 24.0);
    let conflict = match Study::of(&design).outcome {
        Err(Open::Conflict(conflict)) => conflict,
        other => panic!("{other:?}"),
    };
    let mut seen = 0;
    for member in conflict.members {
        let Some(would_be) = member.would_be else { continue };
        let mut released = design.clone();
        released.targets.remove(member.dim.info().key);
        if member.dim.info().role == Role::Closing {
            released.found.insert(member.dim.info().key.to_owned());
        }
        let study = Study::of(&released);
        let (key, name) = (member.dim.key(), member.dim.info().name);
        assert!(study.closed().is_some(), "{name}: {:?}", study.outcome);
        // inward and outward again, an angle or a length is off by a rounding
        let value = key.get(&study.design).unwrap();
        assert!(
            (value - would_be).abs() < 1e-9 * would_be.abs().max(1.0),
            "{name}: {value}, {would_be}"
        );
        let chain = Figure::Dim(key).chain(&study).unwrap_or_else(|| panic!("{name}"));
        let end = chain.last().unwrap().working.result;
        assert!(chain.says.contains("is found: with") || (end - would_be).abs() < 1e-9, "{name}");
        each_step_comes_out(name, &chain.steps);
        seen += 1;
    }
    assert!(seen > 3, "{seen}");
}

#[test]
fn every_dimension_that_follows_can_be_followed() {
    for (name, study) in studies() {
        let layout = study.layout().unwrap();
        for key in Key::all_of(&study.design) {
            let info = key.dim.info();
            let found = key.is_found(&study.design);
            let shown = match info.role {
                Role::Outcome => layout.outcome(key.dim),
                Role::Closing if found && key.dim == Dim::CrestHeight => key.get(&study.design),
                Role::Closing if found && key.dim == Dim::Station => key.get(&study.design),
                Role::Closing if found => {
                    let chain = Figure::Dim(key).chain(&study).unwrap();
                    assert!(chain.says.contains("is found"), "{name}: {}", info.key);
                    each_step_comes_out(&name, &chain.steps);
                    continue;
                }
                _ => {
                    assert_eq!(Figure::Dim(key).chain(&study), None, "{name}: {}", info.key);
                    continue;
                }
            };
            if let Some(shown) = shown
                && let Some(chain) = Figure::Dim(key).chain(&study)
            {
                let end = chain.last().unwrap().working.result;
                assert!((end - shown).abs() < 1e-6, "{name}: {} {end} {shown}", info.key);
                followed(&name, &study, Figure::Dim(key), end);
            }
        }
    }
}

#[test]
fn every_check_and_every_figure_of_the_joint_can_be_followed() {
    for (name, study) in studies() {
        let closed = study.closed().unwrap();
        let (below, above) = Risk::of(&study).unwrap().budget.reserve;
        followed(&name, &study, Figure::SaddleLeft { down: true }, below);
        followed(&name, &study, Figure::SaddleLeft { down: false }, above);
        followed(&name, &study, Figure::Crest, closed.layout.middle.crest_height);
        for check in &closed.checks {
            followed(&name, &study, Figure::Check(check.id), check.working.result);
            let margin = check.reading.margin();
            if margin.is_finite() {
                followed(&name, &study, Figure::Margin(check.id), margin);
            } else {
                assert_eq!(Figure::Margin(check.id).chain(&study), None, "{name}");
            }
        }
        for figure in JointFigures::of(&study.design, &closed.layout).list {
            followed(&name, &study, Figure::Joint(figure.id), figure.value);
        }
    }
}

#[test]
fn the_worked_sheet_comes_out_step_by_step() {
    for (name, study) in studies() {
        let sheet = WorkedSheet::of(&study).unwrap();
        for section in &sheet.sections {
            let name = format!("{name}: {}", section.title);
            each_step_comes_out(&name, &section.steps);
            for step in &section.steps {
                assert!(sheet.source(step) > 0, "{name}: {}", step.name);
            }
            // each letter is told in the section or above it, or beside the step
            if section.own_letters {
                continue;
            }
            for (index, step) in section.steps.iter().enumerate() {
                for term in &step.working.terms {
                    let told = section.given.iter().any(|given| given.symbol == term.symbol)
                        || section.steps[..index].iter().any(|one| one.symbol == term.symbol)
                        || sheet.sections.iter().any(|other| {
                            let above = other.steps.iter().any(|one| one.symbol == term.symbol);
                            let given = other.given.iter().any(|one| one.symbol == term.symbol);
                            above || given
                        });
                    assert!(told || term.unit == Unit::Count, "{name}: {}", term.symbol);
                }
            }
        }
    }
}

#[test]
fn what_an_error_does_can_be_followed() {
    for (name, study) in studies() {
        let budget = Risk::of(&study).unwrap().budget;
        for row in &budget.rows {
            let source = row.tolerated.source;
            for of in OfError::ALL {
                let shown = match of {
                    OfError::Crest => row.crest,
                    OfError::Action => row.action,
                    OfError::Reserve => row.reserve,
                    OfError::AtPlusMinus => row.worst,
                    OfError::Share => 100.0 * row.share,
                };
                followed(&name, &study, Figure::Error(source, of), shown);
            }
        }
        for of in OfSpread::ALL {
            let shown = match of {
                OfSpread::Worst => budget.worst_case,
                OfSpread::Root => budget.within_95(),
                OfSpread::Stays => COVERAGE_95 * budget.standard_fixed,
            };
            followed(&name, &study, Figure::Spread(of), shown);
        }
        // what has no ± has no working
        let idle = Source::Dim(Dim::BodyLength.key());
        assert_eq!(Figure::Error(idle, OfError::Crest).chain(&study), None);
    }
}

/// Each error is told by itself, or among the rest: none is left out.
#[test]
fn the_spread_of_every_check_can_be_followed() {
    for (name, study) in studies() {
        let risk = Risk::of(&study).unwrap();
        for spread in risk.checks() {
            let figure = Figure::CheckSpread(spread.id);
            let Some(shown) = spread.within_95() else {
                assert_eq!(figure.chain(&study), None, "{name}: {:?}", spread.id);
                continue;
            };
            let chain = followed(&name, &study, figure, shown);
            let root = chain.steps.iter().rev().nth(1).unwrap();
            let letters: Vec<&str> = root.working.terms.iter().map(|term| term.symbol).collect();
            let brings = |symbol: &&str| symbol.starts_with("k_");
            let leading = letters.iter().filter(|letter| brings(letter)).count();
            assert!(leading <= 6 && letters.len() - leading <= 1, "{name}: {letters:?}");
            assert_eq!(chain.steps.len(), 2 * leading + 2, "{name}: {:?}", spread.id);
        }
    }
}

#[test]
fn the_slopes_of_pitch_and_seat_have_a_closed_form() {
    let mut closed = 0;
    for (name, study) in studies() {
        for row in Risk::of(&study).unwrap().budget.rows {
            let of_seat = match row.tolerated.source {
                Source::SeatMouth | Source::SeatInner => true,
                Source::Dim(key) => matches!(key.dim, Dim::Pitch | Dim::Overstand),
            };
            if of_seat {
                let figure = Figure::Error(row.tolerated.source, OfError::Crest);
                let chain = followed(&name, &study, figure, row.crest);
                assert_ne!(chain.last().unwrap().working.formula, "c", "{name}");
                closed += 1;
            }
        }
    }
    assert!(closed > 10, "{closed}");
}

#[test]
fn what_trials_count_can_be_followed_and_says_how() {
    let study = Study::of(&worked_example());
    let risk = Risk::of(&study).unwrap();
    let trials = risk.trials(&Plan::exactly(2000), &Watch::nobody()).unwrap();
    let (of, all) = (trials.plays, trials.count);
    let says =
        |of: OfTrials, shown: f64| followed("trials", &study, Figure::Trials(of), shown).says;
    let share = OfTrials::Share { what: "It plays", of, all };
    assert!(says(share, 100.0 * trials.chance()).starts_with("Counted"));
    says(OfTrials::Within { of, all }, 100.0 * trials.chance_within());
    let (low, high) = trials.crest.interval(0.95);
    let middle = says(OfTrials::Middle { low, high, all }, 0.5 * (high - low));
    assert!(middle.contains("2000 trials"), "{middle}");
    for odds in &trials.checks {
        let (id, tallied, seed) = (odds.id, odds.tallied, trials.seed);
        let mean = says(OfTrials::Mean { id, of: tallied, seed }, odds.mean());
        assert!(mean.contains("not followed by hand") && mean.contains("seed, 1"), "{mean}");
        says(OfTrials::Deviation { id, of: tallied, seed }, 2.0 * odds.standard());
        assert_eq!(tallied.count, 2000, "{id:?}");
    }
    for spread in risk.checks() {
        let worst = spread.worst.unwrap();
        let (value, limit) = (worst.value, worst.limit);
        if spread.worst_margin.is_finite() {
            let said = says(OfTrials::Worst { id: spread.id, value, limit }, spread.worst_margin);
            assert!(said.contains("corners"));
        }
    }
    for held in [Source::SeatMouth, Source::Dim(Dim::Relief.key()), Source::Dim(Dim::Pitch.key())] {
        let found = risk.suffices(held, 0.5, 1, &Watch::nobody()).unwrap();
        let hold = found.hold.clone().unwrap();
        let now = risk.tolerated.iter().find(|one| one.source == hold[0].0).unwrap();
        let part = hold[0].1 / now.plus_minus;
        let shown = found.pitch.unwrap_or(hold[0].1);
        let of = OfTrials::Suffices { held, part, chance: found.chance };
        let said = says(of, shown);
        assert!(said.contains("found by halving"), "{said}");
    }
}
