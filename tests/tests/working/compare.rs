//! What two designs come to side by side.

use overstand_core::compare::{Comparison, Group, Measure};
use overstand_core::dimension::Dim;
use overstand_core::strings::gauges::SETS;
use overstand_core::study::Study;
use overstand_core::testing::worked_example;
use overstand_core::verdict::CheckId;
use overstand_core::working::Figure;

use super::{each_step_comes_out, followed};

/// Every number that is worked out opens, for either of the two, at the number that is shown.
#[test]
fn what_is_compared_can_be_followed_for_either() {
    let mut one = worked_example();
    SETS.iter().find(|set| set.fits(&one)).unwrap().put_on(&mut one);
    let mut two = one.clone();
    for (dim, value) in
        [(Dim::CrestHeight, 24.5), (Dim::ActionBass, 2.1), (Dim::Relief, 0.3), (Dim::Gauge, 0.3)]
    {
        dim.key().set(&mut two, value);
    }
    let studies = [one, two].map(|design| Study::of(&design));
    let [a, b] = &studies;
    let (mut seen, mut differ) = (0, 0);
    for row in Comparison::of(a, b).rows {
        if let Some(difference) = row.shown_difference() {
            let chain = row.less().unwrap();
            each_step_comes_out(&row.name, &chain.steps);
            let by = if difference.measure == Measure::Share { 100.0 } else { 1.0 };
            let end = chain.last().unwrap().working.result;
            assert!((end - by * difference.value).abs() < 1e-9, "{}: {end}", row.name);
            differ += 1;
        }
        let worked_out =
            matches!(row.group, Group::Checks | Group::Layout | Group::Strings | Group::CutSheet);
        for ((cell, figure), study) in row.cells.iter().zip(row.figures).zip(&studies) {
            let Some(quantity) = cell.quantity() else { continue };
            assert!(!worked_out || figure.is_some(), "{} does not open", row.name);
            let Some(figure) = figure else { continue };
            // an outcome that is shown elsewhere as well has its steps there
            let Some(chain) = figure.chain(study) else {
                assert!(matches!(figure, Figure::Dim(_)), "{} has no steps", row.name);
                continue;
            };
            seen += 1;
            let end = chain.last().unwrap().working.result;
            let shown = match quantity.measure {
                Measure::Share => 100.0 * quantity.value,
                _ => quantity.value,
            };
            // of a pitch that is found the steps end at what is held; a check may show where it
            // stands, and then end at what is left there
            use CheckId::{ForeAft, Intonation, SaddleTravel};
            let is_sought = chain.says.contains("is found: with");
            let shows_where = matches!(figure, Figure::Check(SaddleTravel | ForeAft | Intonation));
            let comes_to = |value: f64| (value.abs() - shown.abs()).abs() < 1e-6;
            let is_there = match shows_where {
                true => chain.steps.iter().any(|step| comes_to(step.working.result)),
                false => comes_to(end),
            };
            assert!(is_there || is_sought, "{}: {end}, shown {shown}", row.name);
            followed(&row.name, study, figure, end);
        }
    }
    assert!(seen > 60 && differ > 30, "{seen}, {differ}");
}
