//! Which end of a wedge is the thick one, and over which end of a bar its stack lies.

use super::{Figure, Number};

/// Least rise, mm, of which an end is said: less is shown as none.
const LEAST: f64 = 0.005;

/// Where a wedge or stack of that name is high, when its rise is positive and when it is
/// negative. A wedge lies on the face it is set from, and its other face is the one that is
/// cut: on the top for pitch and floor, on the bench for a floor set out from the back, on the
/// glue face for the tenon's bottom. That of the shoulder lies between the saw's fence and the
/// glue face, and so the other way round.
fn ends(figure: &str) -> Option<[&'static str; 2]> {
    Some(match figure {
        "pitch_wedge" => ["thick toward the bridge", "thick toward the nut"],
        "pitch_stack" => ["under the end toward the bridge", "under the end toward the nut"],
        "floor_wedge" | "back_wedge" | "bottom_wedge" => {
            ["thick toward the inner end", "thick toward the mouth"]
        }
        "floor_stack" => ["under the end toward the inner end", "under the end toward the mouth"],
        "shoulder_wedge" => [
            "between fence and glue face, thick toward the nut",
            "between fence and glue face, thick toward the bridge",
        ],
        "shoulder_stack" => ["under the end toward the nut", "under the end toward the bridge"],
        _ => return None,
    })
}

/// Of a wedge or stack which end it raises; none of other figures, nor where it raises none.
fn raises(figure: &str, value: f64) -> Option<&'static str> {
    let [positive, negative] = ends(figure)?;
    (value.abs() >= LEAST).then_some(if value > 0.0 { positive } else { negative })
}

/// What is read at the bench: how thick a wedge is, and any other figure with its sign.
fn at_bench(figure: &str, value: f64) -> f64 {
    if ends(figure).is_some() { value.abs() } else { value }
}

impl Figure {
    /// Whether it is a wedge or stack, which has a thick end instead of a sign.
    pub(crate) fn has_thick_end(&self) -> bool {
        ends(self.id).is_some()
    }

    /// Of a wedge or stack which end it raises, in words.
    pub fn raises(&self) -> Option<&'static str> {
        raises(self.id, self.value)
    }

    /// Its value as it is read at the bench: of wedge and stack without the sign, which
    /// [`Self::raises`] says in words.
    pub fn at_bench(&self) -> f64 {
        at_bench(self.id, self.value)
    }
}

impl Number {
    /// As [`Figure::raises`].
    pub fn raises(&self) -> Option<&'static str> {
        raises(self.figure, self.value)
    }

    /// As [`Figure::at_bench`].
    pub fn at_bench(&self) -> f64 {
        at_bench(self.figure, self.value)
    }
}

#[cfg(test)]
mod tests {
    use crate::dimension::Dim;
    use crate::joint::JointFigures;
    use crate::study::Study;
    use crate::testing::worked_example;
    use crate::units::Angle;

    fn said(
        change: impl Fn(&mut crate::design::Design),
        id: &str,
    ) -> (f64, f64, Option<&'static str>) {
        let mut design = worked_example();
        // the crest follows, so that any pitch closes
        design.found.remove(Dim::Pitch.info().key);
        design.found.insert(Dim::CrestHeight.info().key.to_owned());
        design.bridge.kind = crate::design::BridgeKind::Plate {
            crest_low: crate::units::Length::mm(1.0),
            crest_high: crate::units::Length::mm(60.0),
        };
        design.joint.floor_kind = crate::design::FloorKind::Free;
        change(&mut design);
        let study = Study::of(&design);
        let figures = JointFigures::of(&study.design, study.layout().expect("it closes"));
        let figure = figures.get(id).expect("it has one");
        (figure.value, figure.at_bench(), figure.raises())
    }

    /// The end that is called thick is the one where the face that is cut is farther from the
    /// face that the wedge lies on.
    #[test]
    fn the_thick_end_is_where_the_faces_part() {
        for degrees in [3.0, -1.0] {
            let (value, shown, raises) =
                said(|design| design.joint.pitch = Angle::degrees(degrees), "pitch_wedge");
            // the board rises toward the bridge when the pitch is positive
            let end =
                if degrees > 0.0 { "thick toward the bridge" } else { "thick toward the nut" };
            assert_eq!((value.signum(), raises), (degrees.signum(), Some(end)));
            assert_eq!(shown, value.abs());
            // the floor rises toward the inner end, so the pocket is shallower there
            let (value, shown, raises) =
                said(|design| design.joint.floor = Angle::degrees(degrees), "floor_wedge");
            let end =
                if degrees > 0.0 { "thick toward the inner end" } else { "thick toward the mouth" };
            assert_eq!((value.signum(), shown, raises), (degrees.signum(), value.abs(), Some(end)));
            // the tenon is thicker at its inner end where the board rises more than the floor
            let pose = |design: &mut crate::design::Design| {
                design.joint.pitch = Angle::degrees(1.0);
                design.joint.floor = Angle::degrees(1.0 - degrees);
            };
            let (_, _, raises) = said(pose, "bottom_wedge");
            let (heel, ..) = said(pose, "heel_thickness");
            let (inner, ..) = said(pose, "tenon_inner");
            let end =
                if inner > heel { "thick toward the inner end" } else { "thick toward the mouth" };
            assert_eq!(raises, Some(end));
            // a fence square to the cut leaves the glue face toward where the cut's foot lies
            let turned = |design: &mut crate::design::Design| {
                design.joint.pitch = Angle::degrees(degrees);
                design.joint.wall_rake = Angle::degrees(0.4);
            };
            let (foot, ..) = said(turned, "foot_along_board");
            let (_, shown, raises) = said(turned, "shoulder_wedge");
            let end = if foot > 0.0 { "thick toward the nut" } else { "thick toward the bridge" };
            assert_eq!(raises, Some(&*format!("between fence and glue face, {end}")));
            let (base, shoulder) = (100.0, 40.0);
            let sine = foot / shoulder;
            assert!((shown - base * sine.abs() / (1.0 - sine * sine).sqrt()).abs() < 1e-9);
        }
        let level = |design: &mut crate::design::Design| design.joint.floor = Angle::ZERO;
        assert_eq!(said(level, "floor_wedge").2, None);
        // a depth is no wedge
        assert_eq!(said(level, "pocket_depth").2, None);
    }
}
