//! The dry fit: what readings say, each correction and what comes of it, the rounds of the log.

use std::collections::BTreeMap;

use overstand_core::design::Design;
use overstand_core::dryfit::{
    Correction, DryFit, Kind, OfFit, OfOutcome, Outcome, Reading, Round, SetUp, When, convergence,
};
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;
use overstand_core::verdict::CheckId;
use overstand_core::working::Figure;

use super::{designs, followed};

/// A design with an open round of readings, each so much beside what the plan says.
fn read(design: &Design, readings: &[(&str, f64)]) -> Study {
    let mut design = design.clone();
    design.fitting.clear();
    let plan = Study::of(&design);
    let readings = readings
        .iter()
        .map(|(head, off)| {
            let one: Reading = format!("{head}:0").parse().unwrap();
            let value = DryFit::as_planned(&plan, &one).unwrap() + off;
            format!("{head}:{value:.3}").parse().unwrap()
        })
        .collect();
    let on = "2026-03-01".parse().unwrap();
    design.fitting.push(Round { on, glued: false, note: String::new(), readings, done: None });
    Study::of(&design)
}

#[test]
fn every_figure_of_a_dry_fit_can_be_followed() {
    let sets: [&[(&str, f64)]; 6] = [
        &[("crowns@X=110", 0.3), ("crowns@bridge", -0.9)],
        &[("board@crest", 1.1), ("neck@X=90", 0.1), ("gauge", 0.2)],
        &[("board@X=80", -0.2), ("crowns@X=300", 1.0), ("board@X=200", 0.4)],
        &[("crowns@X=110/near=20", 0.3), ("crowns@bridge/far=20", 0.8), ("roll", 0.2)],
        &[("crowns@X=110", 0.2), ("crowns@bridge", 1.4), ("shoulder@top", 0.3)],
        &[("crowns@X=110", 0.02), ("crowns@bridge", -0.1)],
    ];
    let mut kinds: BTreeMap<Kind, usize> = BTreeMap::new();
    let mut looked: BTreeMap<Kind, usize> = BTreeMap::new();
    let mut seen = 0;
    for (name, mut design) in designs() {
        for (index, set) in sets.iter().enumerate() {
            design.joint.spare_length = Length::mm(8.0);
            let plan = Study::of(&Design { fitting: Vec::new(), ..design.clone() });
            let is_known = set.iter().all(|(head, _)| {
                let one: Reading = format!("{head}:0").parse().unwrap();
                DryFit::as_planned(&plan, &one).is_ok()
            });
            if plan.closed().is_none() || !is_known {
                continue;
            }
            let study = read(&design, set);
            let Some(Ok(fit)) = DryFit::of_open(&study) else { continue };
            seen += 1;
            let name = format!("{name}, readings {index}");
            let told = &fit.told;
            for (of, shown) in [
                (OfFit::Pitch, told.pitch.to_degrees()),
                (OfFit::PitchError, told.pitch_error().to_degrees()),
                (OfFit::Overstand, told.overstand),
                (OfFit::OverstandError, told.overstand_error()),
                (OfFit::Crest, fit.real.crest),
                (OfFit::CrestError, fit.real.crest_error),
            ] {
                followed(&name, &study, Figure::Fit(of), shown);
            }
            for one in fit.corrections.iter().filter(|one| one.stock.is_none()) {
                let end = match (one.kind, one.amount) {
                    (Kind::BothEnds, _) => one.cut.inner,
                    (Kind::Shoulder, _) => one.closing.top_off + one.closing.foot_off,
                    (kind, Some(amount)) => {
                        let figure = Figure::Fit(OfFit::AmountError(kind));
                        followed(&name, &study, figure, amount.error);
                        one.outcome.crest
                    }
                    (kind, None) => {
                        assert_eq!(Figure::Fit(OfFit::Amount(kind)).chain(&study), None);
                        continue;
                    }
                };
                let chain = followed(&name, &study, Figure::Fit(OfFit::Amount(one.kind)), end);
                if let Some(amount) = one.amount {
                    // what is put in comes out at the plan
                    assert!((end - fit.planned_crest).abs() < 1e-6, "{name}: {:?}", one.kind);
                    let put = chain.given().into_iter().find(|term| term.symbol == "x_w");
                    assert_eq!(put.map(|term| term.value), Some(amount.value), "{name}");
                }
                *kinds.entry(one.kind).or_default() += 1;
            }
            // each kind a few times: every figure takes a fit of its own
            let is_seldom = |kind: &Kind| looked.get(kind).is_none_or(|count| *count < 3);
            let seldom: Vec<&Correction> =
                fit.corrections.iter().filter(|one| is_seldom(&one.kind)).collect();
            if !seldom.is_empty() {
                outcome_followed(&name, &study, When::AsItIs, &fit.real);
            }
            for one in seldom {
                what_comes_can_be_followed(&name, &study, &fit, one);
                *looked.entry(one.kind).or_default() += 1;
            }
            let open = study.design.fitting.len() - 1;
            let same = Figure::Round(open, OfFit::Miss);
            let chain = followed(&name, &study, same, fit.miss());
            assert!(chain.says.contains("round 1 on 2026-03-01"), "{}", chain.says);
            followed(&name, &study, Figure::Fit(OfFit::Miss), fit.miss());
            for (which, miss) in told.misses.iter().enumerate() {
                let plan = Study::of(&Design { fitting: Vec::new(), ..design.clone() });
                let shown = DryFit::as_planned(&plan, &fit.readings[which]).unwrap();
                followed(&name, &study, Figure::Fit(OfFit::AsPlanned(which)), shown);
                let figure = Figure::Fit(OfFit::AsFound(which));
                match miss.fitted {
                    Some(shown) => drop(followed(&name, &study, figure, shown)),
                    None => assert_eq!(figure.chain(&study), None, "{name}"),
                }
            }
        }
    }
    assert!(seen > 30, "{seen}");
    for kind in Kind::ALL {
        let bare = matches!(kind, Kind::Nothing | Kind::Saddle | Kind::Bridge);
        assert!(bare || kinds.contains_key(&kind), "{kind:?} did not come up: {kinds:?}");
        assert!(looked.contains_key(&kind), "{kind:?} was not looked at: {looked:?}");
    }
}

/// What comes of a correction, of half of it, of the least and of an amount of one's own.
fn what_comes_can_be_followed(name: &str, study: &Study, fit: &DryFit, one: &Correction) {
    let kind = one.kind;
    let name = format!("{name}, {}", kind.name());
    if one.stock.is_none() {
        outcome_followed(&name, study, When::After(kind, None), &one.outcome);
        closing_followed(&name, study, When::After(kind, None), one);
    }
    let Some(whole) = one.amount else { return };
    if one.stock.is_none() {
        followed(&name, study, Figure::Fit(OfFit::Half(kind)), 0.5 * whole.value);
        match one.least.as_ref().map(|least| least.amount).filter(|least| *least != 0.0) {
            Some(least) => {
                let crest = fit.with(kind, least).unwrap().outcome.crest;
                let chain = followed(&name, study, Figure::Fit(OfFit::Least(kind)), crest);
                let put = chain.given().into_iter().find(|term| term.symbol == "x_w");
                assert_eq!(put.map(|term| term.value), Some(least), "{name}");
            }
            None => assert_eq!(Figure::Fit(OfFit::Least(kind)).chain(study), None, "{name}"),
        }
    }
    let own = 0.7 * whole.value;
    let made = fit.with(kind, own).unwrap();
    outcome_followed(&name, study, When::After(kind, Some(own)), &made.outcome);
    closing_followed(&name, study, When::After(kind, Some(own)), &made);
}

fn outcome_followed(name: &str, study: &Study, when: When, outcome: &Outcome) {
    let design = &outcome.study.design;
    let layout = outcome.study.layout().unwrap();
    let fret = usize::from(design.wanted.action_fret);
    let last = layout.strings.len() - 1;
    let mut shown = vec![
        (OfOutcome::Crest, outcome.crest),
        (OfOutcome::Clearance(last, fret), outcome.action.1),
        (OfOutcome::Clearance(0, fret), outcome.action.0),
        (OfOutcome::LeftUp, outcome.reserve.1),
        (OfOutcome::LeftDown, outcome.reserve.0),
        (OfOutcome::Check(CheckId::BoardOverBody), outcome.gap.0),
        (OfOutcome::Pitch, outcome.pitch.to_degrees()),
        (OfOutcome::Overstand, outcome.overstand),
        (OfOutcome::Spare, outcome.spare),
        (OfOutcome::BridgeLine, outcome.bridge_line),
    ];
    if outcome.crest_error != 0.0 {
        shown.push((OfOutcome::CrestError, outcome.crest_error));
    }
    shown.extend(outcome.headroom.map(|left| (OfOutcome::Check(CheckId::Headroom), left)));
    for (of, value) in shown {
        followed(name, study, Figure::Fit(OfFit::Comes(when, of)), value);
    }
    for step in SetUp::of(design, layout).steps {
        for row in step.rows {
            assert_eq!(row.values.len(), row.of.len(), "{name}");
            for (value, of) in row.values.into_iter().zip(row.of) {
                followed(name, study, Figure::Fit(OfFit::Comes(when, of)), value);
            }
        }
    }
}

fn closing_followed(name: &str, study: &Study, when: When, made: &Correction) {
    let off = made.closing.top_off + made.closing.foot_off;
    let figure = |of| Figure::Fit(OfFit::Comes(when, of));
    // angles that are the same but for rounding take nothing off
    const NOTHING: f64 = 1e-9;
    if off > NOTHING {
        followed(name, study, figure(OfOutcome::Shoulder), off);
    }
    if made.spare_used() > NOTHING {
        followed(name, study, figure(OfOutcome::Moved), made.spare_used());
    }
}

/// A round is told as it was put down, whatever the rounds after it say.
#[test]
fn a_round_of_the_log_can_be_followed() {
    let mut design = worked_example();
    design.joint.spare_length = Length::mm(8.0);
    let mut study = read(&design, &[("crowns@X=110", 0.3), ("crowns@bridge", -0.9)]);
    let fit = DryFit::of_open(&study).unwrap().unwrap();
    let wedge = fit.correction(Kind::WedgeInner).unwrap().done(false);
    let mut design = study.design.clone();
    design.fitting[0].done = Some(wedge);
    let again = ["crowns@X=110:13.9", "board@X=330:22.5"].map(|text| text.parse().unwrap());
    let on = "2026-03-04".parse().unwrap();
    let readings = again.to_vec();
    design.fitting.push(Round { on, glued: false, note: String::new(), readings, done: None });
    study = Study::of(&design);
    for (round, step) in convergence(&study).iter().enumerate() {
        let (told, crest) = step.told.as_ref().unwrap();
        let miss = step.miss.unwrap();
        for (of, shown) in [
            (OfFit::Pitch, told.pitch.to_degrees()),
            (OfFit::PitchError, told.pitch_error().to_degrees()),
            (OfFit::Overstand, told.overstand),
            (OfFit::OverstandError, told.overstand_error()),
            (OfFit::Crest, crest.value),
            (OfFit::CrestError, crest.error),
            (OfFit::Miss, miss.value),
        ] {
            let name = format!("round {}", round + 1);
            let chain = followed(&name, &study, Figure::Round(round, of), shown);
            let day = ["2026-03-01", "2026-03-04"][round];
            assert!(chain.says.contains(day), "{}", chain.says);
        }
    }
    assert_eq!(Figure::Round(2, OfFit::Pitch).chain(&study), None);
}

#[test]
fn two_heights_have_a_closed_form() {
    let study = read(&worked_example(), &[("crowns@X=110", 0.3), ("crowns@X=330", -0.9)]);
    let chain = Figure::Fit(OfFit::Overstand).chain(&study).unwrap();
    let formulas: Vec<&str> =
        chain.steps.iter().map(|step| step.working.formula.as_ref()).collect();
    let pitch = "atan(((r_1 + z_1) - (r_2 + z_2))/(X_1 - X_2))";
    assert_eq!(formulas, [pitch, "r_1 + z_1 - X_1 tan θ - n/cos θ"]);
    // nothing read, nothing said
    let none = Study::of(&worked_example());
    assert_eq!(Figure::Fit(OfFit::Pitch).chain(&none), None);
}
