//! What readings tell, what they do not, and how well.

use super::*;

fn untold(design: &Design, readings: &[Reading]) -> String {
    match DryFit::of(&Study::of(design), readings) {
        Ok(fit) => panic!("told: {:?}", fit.told),
        Err(untold) => untold.says.show(Default::default()),
    }
}

#[test]
fn what_tells_too_little_is_refused_in_words() {
    let design = plan(|_| {});
    let line = (3f64.to_radians(), 0.5);
    let at = |x: f64| height(&design, line, Face::Board, top(x), Side::Middle, 0.0);
    assert!(untold(&design, &[]).contains("No height"));
    assert!(untold(&design, &[at(250.0)]).contains("one place"));
    assert!(untold(&design, &[at(250.0), at(250.0)]).contains("one place"));
    // ± 0.1 mm over 10 mm is ± 0.8°
    let close = untold(&design, &[at(250.0), at(240.0)]);
    assert!(close.contains("too close together") && close.contains("± 0.8°"), "{close}");
    // √2 · 0.1 mm / tan 0.15° = 54.0 mm
    assert!(close.contains("60 mm"), "{close}");
    let gauge =
        reading(What::Gauge { place: None, board: Angle::degrees(3.0), body: Angle::ZERO }, 0.05);
    assert!(untold(&design, std::slice::from_ref(&gauge)).contains("No height"));
    // one height and a gauge are enough
    assert!(DryFit::of(&Study::of(&design), &[at(250.0), gauge.clone()]).is_ok());
    // on one side a lean is taken for height
    let near = Side::Near(Length::mm(20.0));
    let beside = |x: f64| height(&design, line, Face::Board, top(x), near, 0.0);
    assert!(untold(&design, &[beside(250.0), beside(110.0)]).contains("one side"));
    let arched = plan(|design| {
        design.body.top = Top::Dome { radius: Length::mm(3000.0), apex: Length::mm(150.0) };
    });
    assert!(untold(&arched, &[beside(250.0), at(110.0)]).contains("centre line alone"));
    assert!(untold(&arched, &[at(250.0), gauge]).contains("not flat"));
    let mut open = design.clone();
    open.joint.pitch = Angle::degrees(3.0);
    open.bridge.crest_height = Length::mm(60.0);
    open.found = Default::default();
    let says = untold(&open, &[at(250.0), at(110.0)]);
    assert!(says.starts_with("The plan does not close: these are held"), "{says}");
}

#[test]
fn contradictory_readings_are_told_and_named() {
    let design = plan(|_| {});
    let line = (2.8f64.to_radians(), 0.4);
    let mut readings: Vec<Reading> = [60.0, 120.0, 180.0, 250.0]
        .map(|x| height(&design, line, Face::Crowns, top(x), Side::Middle, 0.0))
        .to_vec();
    assert!(fit(&design, &readings).told.contradiction.is_none());
    // eight of its errors off
    if let What::Height { height, .. } = &mut readings[2].what {
        *height = *height + Length::mm(0.8);
    }
    let told = fit(&design, &readings);
    let contradiction = told.told.contradiction.as_ref().unwrap();
    assert!(contradiction.pair.0 == 2 || contradiction.pair.1 == 2, "{:?}", contradiction.pair);
    let says = contradiction.says.show(Default::default());
    assert!(
        says.contains("cannot all be true") && says.contains("180.0 mm from the joint"),
        "{says}"
    );
    // then no cut is made without reading again
    assert!(told.corrections.iter().filter(|one| !one.wood.is_empty()).all(|one| one.doubtful));
    // half an error is no contradiction
    if let What::Height { height, .. } = &mut readings[2].what {
        *height = *height - Length::mm(0.75);
    }
    assert!(fit(&design, &readings).told.contradiction.is_none());
}

#[test]
fn a_miss_within_the_reading_error_is_to_be_measured_again() {
    let design = plan(|_| {});
    let near = fit(&design, &two_heights(&design, (2.99f64.to_radians(), 0.47)));
    let far = fit(&design, &two_heights(&design, (2.6f64.to_radians(), 0.45)));
    for kind in [Kind::MouthOff, Kind::WedgeInner] {
        let doubt = near.correction(kind).unwrap();
        assert!(
            doubt.doubtful && doubt.doubt().unwrap().starts_with("Measure again before cutting")
        );
        assert!(!far.correction(kind).unwrap().doubtful);
    }
    assert!(!near.correction(Kind::Saddle).unwrap().doubtful);
}

/// What was not read beside the side view is asked for before any shoulder is trimmed.
#[test]
fn roll_and_aim_are_asked_for_before_the_shoulder_is_trimmed() {
    let design = plan(|_| {});
    let mut readings = two_heights(&design, (2.6f64.to_radians(), 0.45));
    let asked = fit(&design, &readings);
    assert_eq!(asked.asks.len(), 2);
    for one in &asked.corrections {
        assert_eq!(one.asks.len(), if one.trims_shoulder() { 2 } else { 0 }, "{:?}", one.kind);
    }
    readings.push(reading(What::Roll { lean: Angle::degrees(0.4) }, 0.1));
    readings.push(reading(What::Aim { place: Place::Crest, off: Length::mm(3.0) }, 0.3));
    let told = fit(&design, &readings);
    assert!(told.asks.is_empty());
    let says: Vec<String> = told.says.iter().map(|one| one.show(Default::default())).collect();
    // 45 mm · tan 0.4° = 0.314; the width at the heel · 3/250
    assert!(
        says[0].contains(
            "higher on the treble side by 0.40°: over the tenon's width the seat is 0.31 mm"
        ),
        "{says:?}"
    );
    assert!(says[1].contains("passes on the treble side"), "{says:?}");
}

/// Independent of the program: heights drawn at random with their errors, pitch and overstand
/// from them by the closed formulas of two readings, crest by a first derivative.
#[test]
fn uncertainty_against_trials() {
    let design = plan(|_| {});
    let line = (2.7f64.to_radians(), 0.4);
    let fit = fit(&design, &two_heights(&design, line));
    let (mut state, count) = (0x2545_f491_4f6c_dd1du64, 40_000);
    let mut uniform = || {
        // xorshift64* of Marsaglia and Vigna (from memory)
        state ^= state >> 12;
        state ^= state << 25;
        state ^= state >> 27;
        (state.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 11) as f64 / (1u64 << 53) as f64
    };
    // twelve uniforms less six: variance one exactly, and near enough to a bell
    let mut bell = || (0..12).map(|_| uniform()).sum::<f64>() - 6.0;
    let at = [240.0, 110.0];
    let read: Vec<f64> = fit.readings.iter().map(|one| one.what.value()).collect();
    let study = Study::of(&design);
    let layout = study.layout().unwrap();
    let up = 7.1;
    let (crest_u, crest_v) = (layout.middle.crest_u, layout.middle.crest_v);
    let mut sums = [0.0; 6];
    for _ in 0..count {
        let r = [read[0] + 0.1 * bell(), read[1] + 0.1 * bell()];
        let pitch = ((r[0] - r[1]) / (at[0] - at[1])).atan();
        let over = r[0] - at[0] * pitch.tan() - up / pitch.cos();
        let crest =
            over + (crest_u - layout.joint_from_nut) * pitch.sin() + (crest_v + 6.0) * pitch.cos();
        let d = [pitch - line.0, over - line.1, crest - fit.real.crest];
        for (sum, value) in
            sums.iter_mut().zip([d[0] * d[0], d[0] * d[1], d[1] * d[1], d[2] * d[2], d[0], d[1]])
        {
            *sum += value / f64::from(count);
        }
    }
    // the standard deviation of a variance from n draws is √(2/n) of it, 0.7 % for 40 000; four
    // of these, and as much of a standard deviation's half
    let told = &fit.told;
    let near = |a: f64, b: f64| (a / b - 1.0).abs() < 0.015;
    assert!(near(sums[0].sqrt(), told.pitch_error()));
    assert!(near(sums[2].sqrt(), told.overstand_error()));
    assert!(
        near(sums[3].sqrt(), fit.real.crest_error),
        "{} {}",
        sums[3].sqrt(),
        fit.real.crest_error
    );
    // of a correlation r it is (1 - r²)/√n: below 0.001
    let correlation = sums[1] / (sums[0] * sums[2]).sqrt();
    assert!((correlation - told.correlation()).abs() < 0.004);
    assert!(told.correlation() < -0.9);
    // without the covariance it would come out three times as large and more
    let slope = fit.real.crest_at;
    let apart = (slope * told.pitch_error()).hypot(told.overstand_error());
    assert!(apart > 3.0 * fit.real.crest_error, "{apart} {}", fit.real.crest_error);
    // an amount errs by the crest's error over what the crest gains by it, X_s/ℓ - 1
    let mouth = fit.correction(Kind::MouthOff).unwrap().amount.unwrap();
    let gain = slope / design.joint.tenon_length.to_mm() - 1.0;
    // the derivative is that of small angles, good to a hundredth
    assert!((mouth.error * gain / fit.real.crest_error - 1.0).abs() < 0.02);
}
