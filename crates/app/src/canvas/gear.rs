//! How far a value moves when the pointer does.

use egui::Vec2;
use overstand_core::dimension::Dim;
use overstand_core::units::Unit;
use overstand_drawing::handles::{Handle, HandleKind};

use super::transform::Transform;

/// Most that one logical pixel moves a height (mm), a place along the body (mm), the
/// pitch and another angle (degrees).
const HEIGHT: f64 = 0.05;
const PLACE: f64 = 0.25;
const PITCH: f64 = 0.02;
const ANGLE: f64 = 0.05;
/// How much finer it goes with the fine modifier.
const FINE: f64 = 10.0;

/// What a way on the screen comes to: units to a logical pixel along a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Gear {
    /// The way on the screen in which the value grows; a unit vector.
    direction: Vec2,
    /// Units to a logical pixel.
    per_pixel: f64,
}

impl Gear {
    pub(crate) fn of(handle: &Handle, transform: Transform, fine: bool) -> Self {
        // how far the handle itself moves on the screen for one unit more
        let arm = match handle.kind {
            HandleKind::Linear => 1.0,
            HandleKind::Turn { centre } => (handle.at - centre).hypot().to_radians(),
        };
        let moved = Vec2::new(
            (handle.direction.x * arm * transform.zoom) as f32,
            (-handle.direction.y * arm * transform.zoom * transform.stretch) as f32,
        );
        let most = match (handle.dim, handle.dim.info().unit) {
            (Dim::Pitch, _) => PITCH,
            (_, Unit::Angle) => ANGLE,
            _ if handle.direction.y.abs() > handle.direction.x.abs() => HEIGHT,
            _ => PLACE,
        };
        let length = moved.length();
        let natural = if length > 0.0 { 1.0 / f64::from(length) } else { most };
        let per_pixel = natural.min(most) / if fine { FINE } else { 1.0 };
        Self { direction: moved.normalized(), per_pixel }
    }

    /// The change that a way of the pointer comes to.
    pub(crate) fn change(self, way: Vec2) -> f64 {
        f64::from(way.dot(self.direction)) * self.per_pixel
    }
}

/// The step on which values land, in the unit of the dimension.
pub(crate) fn step(dim: Dim, fine: bool) -> f64 {
    let coarse = match dim.info().unit {
        Unit::Angle => 0.05,
        Unit::Length | Unit::Number => 0.1,
        Unit::Count => return 1.0,
    };
    if fine { coarse / FINE } else { coarse }
}

/// The nearest value that lies on a step, within the range of the dimension.
pub(crate) fn landed(dim: Dim, raw: f64, fine: bool) -> f64 {
    let (step, info) = (step(dim, fine), dim.info());
    // a whole number of parts, so that 22.8 is 22.8 and not 22.800000000000004
    let parts = (1.0 / step).round();
    ((raw * parts).round() / parts).clamp(info.low, info.high)
}

#[cfg(test)]
mod tests {
    use egui::{Pos2, vec2};
    use kurbo::{Point, Vec2 as Way};

    use super::*;

    fn at_zoom(zoom: f64) -> Transform {
        Transform { centre: Point::ZERO, middle: Pos2::ZERO, zoom, stretch: 1.0 }
    }

    fn crest() -> Handle {
        Handle {
            dim: Dim::CrestHeight,
            at: Point::new(250.0, 23.0),
            direction: Way::new(0.0, 1.0),
            kind: HandleKind::Linear,
        }
    }

    #[test]
    fn a_pixel_is_never_more_than_a_bench_step() {
        let pitch = Handle {
            dim: Dim::Pitch,
            at: Point::new(-380.0, -20.0),
            direction: Way::new(0.0, -1.0),
            kind: HandleKind::Turn { centre: Point::ZERO },
        };
        for zoom in [0.05, 0.7, 3.0, 20.0, 80.0] {
            let up = Gear::of(&crest(), at_zoom(zoom), false).change(vec2(0.0, -1.0));
            assert!(up > 0.0 && up <= 0.05 + 1e-9, "{up} mm at {zoom}");
            let fine = Gear::of(&crest(), at_zoom(zoom), true).change(vec2(0.0, -1.0));
            assert!((fine - up / 10.0).abs() < 1e-12);
            let down = Gear::of(&pitch, at_zoom(zoom), false).change(vec2(0.0, 1.0));
            assert!(down > 0.0 && down <= 0.02 + 1e-9, "{down}° at {zoom}");
        }
        // close up the handle stays under the pointer
        let close = Gear::of(&crest(), at_zoom(40.0), false).change(vec2(0.0, -40.0));
        assert!((close - 1.0).abs() < 1e-6);
        assert_eq!(Gear::of(&crest(), at_zoom(1.0), false).change(vec2(9.0, 0.0)), 0.0);
    }

    #[test]
    fn values_land_on_round_steps() {
        assert_eq!(landed(Dim::CrestHeight, 25.775_593, false), 25.8);
        assert_eq!(landed(Dim::CrestHeight, 25.775_593, true), 25.78);
        assert_eq!(landed(Dim::Pitch, 3.012, false), 3.0);
        assert_eq!(landed(Dim::Pitch, 3.012, true), 3.01);
        assert_eq!(landed(Dim::Pitch, 99.0, false), 12.0);
    }
}
