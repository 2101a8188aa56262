//! Lying on its back, does the instrument stand on its body or on its headstock?

use super::{CheckKind, Reading, State};
use crate::dimension::Dim;
use crate::sentence::{mm, sentence};
use crate::units::Unit;
use crate::working::{GEOMETRY, Working, angle, length};

/// The height of the headstock's lowest point over the bench, as [`Dim::BenchGap`] has it:
/// negative where it hangs below.
///
/// A tilted headstock on a pitched neck usually hangs below the back, and the body is
/// laid on a support. So the usual range reaches below the bench, and a support as high
/// as that is what it asks for; whoever wants none sets the limit to 0 (common
/// practice, no source).
pub(super) static CHECK: CheckKind = CheckKind {
    name: "Headstock over bench",
    question: "Lying on its back, does the instrument stand on its body or on its headstock?",
    unit: Unit::Length,
    digits: 1,
    limit: super::at_least(-80.0, -70.0),
    measure: |_, layout, limit| Some(Reading::new(layout.bench_gap, *limit)),
    place: None,
    says: |_, _, reading| {
        let by = mm(reading.value.abs(), 1);
        if reading.value >= 0.0 {
            return sentence!["On its back, the headstock stays ", by, " over the bench."];
        }
        let needs = match reading.state() {
            State::Good | State::Thin => ": the body needs a support.",
            State::Fails => ", further than it may.",
        };
        sentence!["On its back, the headstock hangs ", by, " below the bench", needs]
    },
    working: |design, layout, reading| {
        let (u, v) = layout.head(design.head.length.to_mm(), -design.head.thickness.to_mm());
        let tip = layout.unstrung(u, v);
        Working {
            formula: "(Y_tip + H_0 + X_tip tan ψ) cos ψ".into(),
            terms: vec![
                length("X_tip", "back of the tip along the datum", tip.x),
                length("Y_tip", "back of the tip over the datum", tip.y),
                length("H_0", "body thickness", design.body.thickness.to_mm()),
                angle("ψ", "body taper", design.body.taper.radians()),
            ],
            result: reading.value,
            source: GEOMETRY,
        }
    },
    mends: &[&[Dim::HeadAngle], &[Dim::BodyThickness], &[Dim::HeadDrop]],
};

#[cfg(test)]
mod tests {
    use super::{CHECK, Dim};
    use crate::design::{Design, Limit};
    use crate::study::Study;
    use crate::testing::worked_example;
    use crate::units::LengthStyle;
    use crate::verdict::{CheckId, State};

    fn said(design: &Design) -> (f64, State, String) {
        let study = Study::of(design);
        let check =
            study.closed().unwrap().checks.iter().find(|check| check.id == CheckId::HeadBench);
        let check = check.unwrap();
        (check.reading.value, check.state, check.says.show(LengthStyle::Millimetres))
    }

    #[test]
    fn number_range_and_words_tell_one_side_of_the_bench() {
        let mut design = worked_example();
        let (height, state, says) = said(&design);
        let text = |by: f64| format!("{by:.1} mm");
        assert!(height < 0.0 && state == State::Good && CHECK.limit.thin_below.unwrap() < height);
        assert!(says.contains(&format!("hangs {} below the bench", text(-height))), "{says}");
        assert!(says.ends_with("the body needs a support."), "{says}");
        // whoever wants no support says so
        let none = Limit {
            fails_below: Some(0.0),
            thin_below: Some(1.0),
            thin_above: None,
            fails_above: None,
        };
        design.limits.insert(CheckId::HeadBench.text().to_owned(), none);
        let (_, state, says) = said(&design);
        assert!(state == State::Fails && says.ends_with("further than it may."), "{says}");
        // straight on from the neck, over a deep body
        Dim::HeadAngle.key().set(&mut design, 0.0);
        Dim::BodyThickness.key().set(&mut design, 60.0);
        let (height, state, says) = said(&design);
        assert!(height > 1.0 && state == State::Good);
        assert!(says.contains(&format!("stays {} over the bench", text(height))), "{says}");
    }
}
