//! From millimetres to the screen and back.

use egui::{Pos2, Rect, Vec2, pos2};
use kurbo::Point;

/// Fewest and most logical pixels to a millimetre.
const ZOOM: std::ops::RangeInclusive<f64> = 0.05..=80.0;

/// Where the drawing stands in a canvas: Y of the drawing runs up, of the screen down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Transform {
    /// Point of the drawing that stands at `middle`.
    pub(crate) centre: Point,
    /// Middle of the canvas on the screen.
    pub(crate) middle: Pos2,
    /// Logical pixels to a millimetre along X.
    pub(crate) zoom: f64,
    /// How many times more along Y.
    pub(crate) stretch: f64,
}

impl Transform {
    /// All of `bounds` within `screen`, in true proportions times `stretch`.
    pub(crate) fn fit(bounds: kurbo::Rect, screen: Rect, stretch: f64) -> Self {
        let across = f64::from(screen.width().max(1.0)) / bounds.width().max(1.0);
        let up = f64::from(screen.height().max(1.0)) / (bounds.height().max(1.0) * stretch);
        Self {
            centre: bounds.center(),
            middle: screen.center(),
            zoom: across.min(up).clamp(*ZOOM.start(), *ZOOM.end()),
            stretch,
        }
    }

    /// A point of the drawing on the screen.
    pub(crate) fn to_screen(self, at: Point) -> Pos2 {
        let away = at - self.centre;
        // as f32 only at the end: a pixel more or less is all that is lost
        pos2(
            (f64::from(self.middle.x) + away.x * self.zoom) as f32,
            (f64::from(self.middle.y) - away.y * self.zoom * self.stretch) as f32,
        )
    }

    /// A point of the screen on the drawing.
    pub(crate) fn to_mm(self, at: Pos2) -> Point {
        let away = at - self.middle;
        self.centre
            + kurbo::Vec2::new(
                f64::from(away.x) / self.zoom,
                -f64::from(away.y) / (self.zoom * self.stretch),
            )
    }

    /// Zooms by a factor; what lies under `at` stays there.
    pub(crate) fn zoomed(self, at: Pos2, factor: f64) -> Self {
        let kept = self.to_mm(at);
        let zoom = (self.zoom * factor).clamp(*ZOOM.start(), *ZOOM.end());
        let zoomed = Self { zoom, ..self };
        Self { centre: zoomed.centre + (kept - zoomed.to_mm(at)), ..zoomed }
    }

    /// The same, with the middle of the canvas no further away than the drawing reaches.
    pub(crate) fn kept_near(self, bounds: kurbo::Rect) -> Self {
        let centre = Point::new(
            self.centre.x.clamp(bounds.x0, bounds.x1),
            self.centre.y.clamp(bounds.y0, bounds.y1),
        );
        Self { centre, ..self }
    }

    /// Moves the drawing by so many logical pixels.
    pub(crate) fn panned(self, by: Vec2) -> Self {
        let moved = self.to_mm(self.middle - by);
        Self { centre: moved, ..self }
    }
}

/// A length that is good to read, about `pixels` long on the screen: 1, 2 or 5
/// times a power of ten, in mm.
pub(crate) fn scale_bar(zoom: f64, pixels: f64) -> f64 {
    let wanted = pixels / zoom;
    let power = 10_f64.powf(wanted.log10().floor());
    let times = [1.0, 2.0, 5.0].into_iter().rfind(|times| times * power <= wanted);
    times.unwrap_or(1.0) * power
}

#[cfg(test)]
mod tests {
    use egui::vec2;

    use super::*;

    fn some() -> Transform {
        Transform {
            centre: Point::new(120.0, -8.0),
            middle: pos2(400.0, 300.0),
            zoom: 2.5,
            stretch: 4.0,
        }
    }

    #[test]
    fn there_and_back() {
        for at in [Point::new(0.0, 0.0), Point::new(250.4, 22.8), Point::new(-600.0, -44.0)] {
            let back = some().to_mm(some().to_screen(at));
            // f32 keeps about 1e-4 of a pixel here, 2.5 px to a mm
            assert!((back - at).hypot() < 1e-3, "{at:?} came back as {back:?}");
        }
        assert!(some().to_screen(Point::new(0.0, 1.0)).y < some().to_screen(Point::ZERO).y);
    }

    #[test]
    fn what_lies_under_the_pointer_stays_there() {
        let pointer = pos2(130.0, 480.0);
        let before = some().to_mm(pointer);
        for factor in [0.01, 0.5, 1.3, 1000.0] {
            let after = some().zoomed(pointer, factor);
            assert!((after.to_mm(pointer) - before).hypot() < 1e-9);
            assert!(ZOOM.contains(&after.zoom));
        }
    }

    #[test]
    fn panning_carries_the_drawing_along() {
        let at = Point::new(250.0, 20.0);
        let (before, by) = (some().to_screen(at), vec2(-31.0, 12.0));
        assert!((some().panned(by).to_screen(at) - before - by).length() < 1e-3);
        let bounds = kurbo::Rect::new(-100.0, -50.0, 300.0, 30.0);
        let lost = some().panned(vec2(9000.0, -9000.0)).kept_near(bounds);
        assert_eq!(lost.centre, Point::new(-100.0, -50.0), "the drawing can be lost");
    }

    #[test]
    fn all_of_it_fits() {
        let bounds = kurbo::Rect::new(-560.0, -80.0, 350.0, 30.0);
        let screen = Rect::from_min_size(pos2(300.0, 60.0), vec2(640.0, 200.0));
        for stretch in [1.0, 10.0] {
            let fitted = Transform::fit(bounds, screen, stretch);
            for corner in [bounds.origin(), Point::new(bounds.x1, bounds.y1)] {
                assert!(screen.expand(0.01).contains(fitted.to_screen(corner)));
            }
        }
        // nothing to fit is no trouble
        let empty = Transform::fit(kurbo::Rect::ZERO, Rect::ZERO, 1.0);
        assert!(empty.to_screen(Point::ZERO).x.is_finite());
    }

    #[test]
    fn a_scale_bar_is_a_round_length() {
        for (zoom, length) in [(0.7, 100.0), (2.3, 20.0), (9.0, 10.0), (40.0, 2.0), (80.0, 1.0)] {
            assert_eq!(scale_bar(zoom, 96.0), length, "at {zoom} px to a mm");
        }
    }
}
