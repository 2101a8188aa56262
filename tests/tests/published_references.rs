//! Published and independently computed values. Each check names its source and whether
//! the value was read there, computed apart from this project, or recalled.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

use overstand_core::design::{BoardShape, Material, Note};
use overstand_core::joint::{stack_under_bar, wedge_rise};
use overstand_core::layout::fret_ratio;
use overstand_core::strings::material::{music_wire, power_law, young};
use overstand_core::strings::{Plucking, inharmonicity, plain_mass, tension, wrap_mass};
use overstand_core::testing::worked_example;
use overstand_core::units::{Angle, Length};
use overstand_tests::laid;
use serde_json::Value;

/// Source: d_n = L (1 - 2^(-n/12)), twelve-tone equal temperament; computed with mpmath
/// apart from this project, printed to twelve digits.
#[test]
fn fret_table_of_equal_temperament() {
    let table: Value =
        serde_json::from_str(include_str!("../data/equal_temperament.json")).unwrap();
    let rows = table["frets"].as_array().unwrap();
    assert!(rows.len() >= 24);
    for row in rows {
        let n = u8::try_from(row["n"].as_u64().unwrap()).unwrap();
        for (scale, key) in [(1.0, "unit_scale"), (650.0, "L650_mm"), (863.6, "L863_6_mm")] {
            let expected = row[key].as_f64().unwrap();
            // half a unit in the twelfth digit of a value below 1000 mm
            assert!((scale * fret_ratio(n) - expected).abs() < 1e-9, "fret {n} of {scale}");
        }
    }
}

/// Source: f = 440 Hz · 2^((m - 69)/12) with A4 = 440 Hz (ISO 16); the note table agrees
/// with B. H. Suits, Michigan Technological University, Physics of Music Notes (computed).
///
/// A string of an open note, stopped at fret n, sounds on what is left of the scale: its
/// pitch must be that of the note n semitones higher.
#[test]
fn frets_sound_the_notes_of_iso_16() {
    let notes = [
        ("E2", 82.406_889_228_22, 0),
        ("A2", 110.0, 5),
        ("D3", 146.832_383_958_7, 10),
        ("G3", 195.997_717_990_9, 15),
        ("B3", 246.941_650_628_1, 19),
        ("E4", 329.627_556_912_9, 24),
    ];
    for (name, frequency, fret) in notes {
        let sounding = notes[0].1 / (1.0 - fret_ratio(fret));
        // twelve printed digits of some 300 Hz
        assert!((sounding - frequency).abs() < 2e-9, "{name} at fret {fret}");
    }
}

/// Source: s = R - √(R² - w²/4), computed with mpmath apart from this project; read off a
/// layout as what the outer string's crown lies lower on a board of that radius.
#[test]
fn sagittas_of_boards() {
    for (radius, width, expected) in [
        (184.15, 42.0, 1.201311839),
        (241.3, 43.0, 0.9597412001),
        (254.0, 43.0, 0.9115767168),
        (304.8, 43.0, 0.7592297076),
        (406.4, 57.0, 1.000555008),
        (508.0, 57.0, 0.8000887224),
    ] {
        let mut design = worked_example();
        for (i, string) in design.strings.iter_mut().enumerate() {
            // parallel strings, so that the width is the same at every fret
            let place = Length::mm(width * (0.5 - i as f64 / 5.0));
            (string.nut_place, string.crest_place) = (place, place);
        }
        let flat = laid(&design).1.clearances.crown(0, 7);
        design.board.shape = BoardShape::Fixed { radius: Length::mm(radius) };
        let round = laid(&design).1.clearances.crown(0, 7);
        // ten printed digits
        assert!((flat - round - expected).abs() < 1e-8, "R {radius}, width {width}");
    }
}

/// Source: similar sections of a cone, R_1/R_0 = w_1/w_0 (computed): from 254 mm under 35 mm
/// at the nut, 377.3714286 mm under 52 mm at the bridge. Only then does a fanned string lie
/// straight over the board: its sagitta grows in proportion.
#[test]
fn strings_are_straight_lines_on_a_true_cone() {
    let mut design = worked_example();
    design.wanted.relief = Length::mm(0.0);
    design.scale.length = Length::mm(628.0);
    let (nut, bridge) = (35.0, 52.0);
    for (i, string) in design.strings.iter_mut().enumerate() {
        let place = 0.5 - i as f64 / 5.0;
        string.nut_place = Length::mm(nut * place);
        string.crest_place = Length::mm(bridge * place);
    }
    // the radius given for the board's end is that of the cone there
    let end = design.board.end.to_mm();
    let at_bridge = 377.371_428_6;
    let radius_end = 254.0 + (at_bridge - 254.0) * end / 628.0;
    design.board.shape =
        BoardShape::Compound { radius_nut: Length::mm(254.0), radius_end: Length::mm(radius_end) };
    let (_, layout) = laid(&design);
    let (u, crowns) = (&layout.positions, layout.clearances.crown_row(0));
    let slope = |a: usize, b: usize| (crowns[b] - crowns[a]) / (u[b] - u[a]);
    for fret in 1..20 {
        // the radius is printed to 1e-7 mm; over some 20 mm between frets that is 1e-10
        assert!((slope(fret - 1, fret) - slope(0, 21)).abs() < 1e-9, "fret {fret}");
    }
}

/// Source: sine-bar worked examples of machinists' handbooks, 5 in bar (read; the second in
/// the Handbook of Machining and Metalworking Calculations, ch. 4, author R. A. Walsh from
/// memory). Printed to 0.001 in.
#[test]
fn sine_bar() {
    for (angle, expected) in [(27.0, 2.270), (34.0 + 25.0 / 60.0, 2.826)] {
        let stack = stack_under_bar(5.0, Angle::degrees(angle).radians());
        assert!((stack - expected).abs() <= 0.000_5, "{angle}°: {stack}");
    }
}

/// Source: rise = run · tan θ (computed): a wedge over a 76 mm pocket for 0.5° and 1°, and
/// what it lifts 250 mm away.
#[test]
fn wedges() {
    for (degrees, over_76, over_250) in
        [(0.5, 0.663_241_952, 2.181_716_95), (1.0, 1.326_584_93, 4.363_766_23)]
    {
        let angle = Angle::degrees(degrees).radians();
        // nine printed digits
        assert!((wedge_rise(76.0, angle) - over_76).abs() < 1e-8);
        assert!((wedge_rise(250.0, angle) - over_250).abs() < 1e-8);
    }
}

/// Source: museum measurement of a guitar of 1680 (?1688), MINIM-UK 31678 (computed from
/// it): 99.5 mm deep at the neck, 109.5 mm at the tail, 471 mm long, so 1.21628817°, and
/// 104.5 mm deep halfway.
#[test]
fn taper_of_a_measured_body() {
    let mut design = worked_example();
    design.body.length = Length::mm(471.0);
    design.body.thickness = Length::mm(99.5);
    design.body.taper = Angle::degrees(1.216_288_17);
    let (_, layout) = laid(&design);
    // the angle is printed to 1e-8°, which is 1e-7 mm over 471 mm
    assert!((layout.back(471.0) + 109.5).abs() < 1e-6);
    assert!((layout.back(235.5) + 104.5).abs() < 1e-6);
}

fn strings() -> Value {
    serde_json::from_str(include_str!("../data/strings.json")).unwrap()
}

/// Source: ASTM A228, least tensile strength of music wire by diameter (read); MPa rounded.
#[test]
fn tensile_strength_of_music_wire() {
    for row in strings()["A228_tensile"].as_array().unwrap() {
        let diameter = 25.4 * row["d_in"].as_f64().unwrap();
        let expected = row["min_MPa"].as_f64().unwrap();
        // printed to 1 MPa
        assert!((music_wire(diameter) - expected).abs() <= 0.5, "{diameter} mm");
        // the fit that carries it on beyond the table: 2211 d^-0.145, printed to 1 MPa
        let fit = row["fit_2211_0145_MPa"].as_f64().unwrap();
        assert!((power_law(2211.0, 0.145, diameter) - fit).abs() <= 1.0, "{diameter} mm");
    }
}

/// Source: Young's modulus of music wire by diameter, as spring makers' handbooks give it
/// (read); GPa rounded to 0.1.
#[test]
fn young_of_music_wire() {
    for (row, diameter) in
        strings()["E_A228_by_diameter"].as_array().unwrap().iter().zip([0.4, 1.2, 2.4, 4.0])
    {
        let expected = row["E_GPa"].as_f64().unwrap();
        assert!((young(Material::Steel, diameter) / 1e3 - expected).abs() <= 0.05, "{row}");
    }
}

/// Source: μ = ρ π d²/4, T = μ (2 L f)², B = π³ E d⁴/(64 T L²) of plain steel strings of 648
/// mm, ρ 7850 kg/m³, E 207 GPa; computed apart from this project, nine digits printed (stress eight, B
/// seven).
#[test]
fn plain_strings() {
    for row in strings()["plain_strings_648mm"].as_array().unwrap() {
        let value = |key: &str| row[key].as_f64().unwrap();
        let near = |found: f64, key: &str, part: f64| {
            assert!((found / value(key) - 1.0).abs() < part, "{key}: {found}, {row}");
        };
        let diameter = value("d_mm");
        let hertz = row["note"].as_str().unwrap().parse::<Note>().unwrap().hertz();
        let mass = plain_mass(diameter, 7850.0);
        near(mass, "mu_kg_m", 1e-8);
        let pull = tension(mass, 648.0, hertz);
        near(pull, "T_N", 1e-8);
        let square = diameter * diameter;
        near(pull / (std::f64::consts::PI / 4.0 * square), "stress_MPa", 1e-7);
        let bending = 207_000.0 * std::f64::consts::PI / 64.0 * square * square;
        near(inharmonicity(bending, pull, 648.0), "B_pinned", 1e-6);
    }
}

/// Source: a round-wound string, computed apart from this project: steel core 0.36 mm, close
/// wrap of 0.35 mm steel, E2 at 648 mm; and the fill of a close round wrap in its ring, π/4
/// when the helix is neglected.
#[test]
fn wound_string() {
    let mass = plain_mass(0.36, 7850.0) + wrap_mass(0.36, 0.35, 7850.0);
    // nine printed digits
    assert!((mass / 0.005_671_148_43 - 1.0).abs() < 1e-8);
    let hertz = "E2".parse::<Note>().unwrap().hertz();
    assert!((tension(mass, 648.0, hertz) / 64.685_666_6 - 1.0).abs() < 1e-8);
    let ring = std::f64::consts::PI / 4.0 * (1.06_f64.powi(2) - 0.36_f64.powi(2)) * 1e-6;
    let fill = wrap_mass(0.36, 0.35, 1.0) / ring;
    // the helix adds 1/2 (d_w / (π (d_c + d_w)))² = 1.2 %
    let over = fill / std::f64::consts::FRAC_PI_4 - 1.0;
    assert!((0.0..0.0125).contains(&over), "{over}");
}

/// Source: M. Gallant, The String Plucker (read): 65 cm, 1.6 g/m, 196 Hz give 104 N, 255 m/s
/// and 5.1 ms.
#[test]
fn an_ideal_string() {
    let pull = tension(0.0016, 650.0, 196.0);
    // as printed: half a unit of the last digit
    assert!((pull - 104.0).abs() <= 0.5, "{pull}");
    assert!(((pull / 0.0016_f64).sqrt() - 255.0).abs() <= 0.5);
    assert!((1e3 / 196.0 - 5.1_f64).abs() <= 0.05);
}

/// Theory: on a straight neck the crowns lie on a line and the string leaves the stop at one
/// angle to it; drawn away from the board it swings back p from the stop, so that at every
/// stop the headroom is p times that angle. Less action is less angle.
#[test]
fn lower_action_costs_headroom() {
    let headroom = |action: f64| {
        let mut design = worked_example();
        design.wanted.relief = Length::mm(0.0);
        design.wanted.action_bass = Length::mm(action);
        design.wanted.action_treble = Length::mm(action);
        let (_, layout) = laid(&design);
        let plucking = Plucking::new(&layout, 110.0);
        let most = (1..12).map(|stop| plucking.most(5, stop).unwrap()).collect::<Vec<_>>();
        (layout, most)
    };
    let (before, high) = headroom(1.8);
    let (after, low) = headroom(1.3);
    let crest_fell = before.strings[5].crest_v - after.strings[5].crest_v;
    // the angle grows toward the bridge: what is plucked touches first from the lowest stop
    for row in [&high, &low] {
        assert!(row.windows(2).all(|pair| pair[0].most < pair[1].most));
    }
    for (n, (high, low)) in high.iter().zip(&low).enumerate() {
        // what it costs is p times what the angle loses
        let costs = 110.0 * crest_fell / (before.strings[5].crest_u - before.positions[n]);
        assert!((high.most - low.most - costs).abs() < 1e-9, "fret {}", n + 1);
        for (layout, most) in [(&before, high), (&after, low)] {
            // the string leaves crown n for the crest; the crowns lie level
            let line = &layout.strings[5];
            let crown = layout.clearances.crown(5, n + 1);
            let angle = (line.crest_v - crown) / (line.crest_u - layout.positions[n]);
            // as long as some fret lies before the apex, 110 mm beyond the stop
            assert!((most.most - 110.0 * angle).abs() < 1e-9, "fret {}", n + 1);
        }
    }
}
