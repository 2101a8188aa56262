//! The physics of a string.

use overstand_core::design::{Material, Note, StringMake};
use overstand_core::strings::{Drawn, Plucking, Strings, give, plain_mass, pull, wrap_mass};
use overstand_core::units::Length;
use overstand_tests::laid;

use super::{case, close, design, number};

/// The pluck of a wound low string: mass, tension, what a newton moves it by, and the
/// largest force with no contact drawn either way.
#[test]
fn pluck_headroom() {
    let (inputs, expected) = case("pluck");
    let mut inputs = inputs;
    // not part of the case: the pluck is a matter of the neck alone
    for (key, value) in [("t", 6.0), ("o", 0.0), ("pitch_deg", 3.0)] {
        inputs[key] = value.into();
    }
    let mut design = design(&inputs);
    design.wanted.pluck_place = Length::mm(number(&inputs, "pluck_from_saddle"));
    let outer = number(&inputs, "core") + 2.0 * number(&inputs, "wrap");
    close(outer, &expected["outer"], "outer diameter");
    // The case leaves out that the wrap climbs by its own thickness with each turn, which adds
    // 1 % of it. Its mass is that of the rings alone; its tension comes of a note that is lower
    // by as much as the mass is larger.
    let (core, wire) = (number(&inputs, "core"), number(&inputs, "wrap"));
    let core_mass = plain_mass(core, number(&inputs, "rho_core"));
    let density = number(&inputs, "rho_wrap");
    let rings = plain_mass(wire, density) * std::f64::consts::PI * (core + wire) / wire;
    close(core_mass + rings, &expected["mu_kg_per_m"], "mass");
    let mass = core_mass + wrap_mass(core, wire, density);
    let hertz = number(&inputs, "f") * ((core_mass + rings) / mass).sqrt();
    let string = &mut design.strings[5];
    string.note = Some(Note::Hertz(hertz));
    string.gauge = Some(Length::mm(outer));
    string.make = StringMake::Wound {
        core: Length::mm(number(&inputs, "core")),
        section: Default::default(),
        core_material: Material::Steel,
        wrap: Material::Bronze,
        inner: Vec::new(),
    };
    let (design, layout) = laid(&design);
    let pull = pull(&design, &layout, 5).unwrap();
    assert!((pull.wire.mass / mass - 1.0).abs() < 1e-12);
    close(pull.tension, &expected["tension_N"], "tension");
    close(pull.give, &expected["d_per_N_open"], "travel for a newton");

    let place = number(&inputs, "pluck_from_saddle");
    let plucking = Plucking::new(&layout, place);
    let per_newton = |stop| give(plucking.sounding(5, stop).unwrap(), place, pull.tension);
    for (key, drawn) in [("away", &[Drawn::Away][..]), ("toward", &[Drawn::Toward])] {
        let (force, at) = (0..22)
            .flat_map(|stop| drawn.iter().map(move |&drawn| (stop, drawn)))
            .filter_map(|(stop, drawn)| plucking.most_drawn(5, stop, drawn))
            .map(|most| (most.most / per_newton(most.stop), [most.stop, most.fret]))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .unwrap();
        close(force, &expected["largest_F"][key]["F"], key);
        assert_eq!(expected["largest_F"][key]["at"], serde_json::json!(at));
    }
    let report = &Strings::of(&design, &layout).each[5];
    let most = report.headroom_force.unwrap();
    close(most.most, &expected["largest_F"]["either"]["F"], "either");
    assert_eq!(expected["largest_F"]["either"]["at"], serde_json::json!([most.stop, most.fret]));

    for (key, stop, fret) in [
        ("open_over_12_at_1N", 0, 12),
        ("stopped_5_over_6_at_1N", 5, 6),
        ("stopped_5_over_12_at_1N", 5, 12),
    ] {
        let left = plucking.left(5, stop, fret, per_newton(stop), None).unwrap();
        close(left, &expected[key]["either"], key);
    }
}
