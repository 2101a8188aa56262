//! The main dimensions of the side elevation.

use kurbo::Point;
use overstand_core::design::{Design, HeadShape};
use overstand_core::dimension::Dim;

use super::Bench;
use super::strings::PICKUP_LENGTH;
use crate::outline::point;
use crate::scene::Item;

/// How far off the board's end its thickness stands, and about what its number takes, mm.
const OFF: f64 = 12.0;
const NUMBER: f64 = 30.0;

/// How far behind the crest its height stands: clear of the tail, behind the body.
pub(super) fn behind(design: &Design, crest: f64) -> f64 {
    (design.body.length.to_mm() - crest).max(0.0) + 12.0
}

impl Bench<'_> {
    fn dimension(&mut self, dim: Dim, from: Point, to: Point, offset: f64, value: f64) {
        // where held values conflict, the drawing shows what the others give: its number
        // would contradict what is held
        let held = dim.key().get(self.design).unwrap_or(value);
        if (held - value).abs() > dim.info().step / 2.0 {
            return;
        }
        self.scene.add(None, Item::Dimension { from, to, offset, value, dim });
    }

    /// Off the board's end its thickness stands toward the tail, or toward the nut where a pickup
    /// lies under the number.
    fn beside_board(&self, end: f64) -> f64 {
        let reach = OFF + NUMBER + 0.5 * PICKUP_LENGTH;
        let is_under = |x: f64| (end - 0.5 * PICKUP_LENGTH..end + reach).contains(&x);
        let pickups = &self.design.pickups;
        if pickups.iter().any(|pickup| is_under(pickup.station.to_mm())) { OFF } else { -OFF }
    }

    pub(super) fn dimensions(&mut self) {
        self.datum();
        let (design, layout) = (self.design, self.layout);
        let crest = point(layout.middle.crest);
        let ground = point(layout.crest_ground());
        let behind = behind(design, crest.x);
        self.dimension(Dim::CrestHeight, ground, crest, -behind, layout.middle.crest_height);

        let thickness = design.board.thickness.to_mm();
        let end = design.board.end.to_mm();
        let (under, surface) = (self.neck(end, -thickness), self.neck(end, 0.0));
        let off = self.beside_board(surface.x);
        self.dimension(Dim::BoardThickness, under, surface, off, thickness);

        let overstand = design.joint.overstand.to_mm();
        let joint = Point::new(0.0, overstand);
        if overstand.abs() >= 0.05 {
            self.dimension(Dim::Overstand, Point::ZERO, joint, 30.0, overstand);
        }
        let back = Point::new(0.0, layout.back(0.0));
        let inside = design.joint.tenon_length.to_mm() + 25.0;
        self.dimension(
            Dim::BodyThickness,
            back,
            Point::ZERO,
            -inside,
            design.body.thickness.to_mm(),
        );

        // below everything, the shorter nearer to the body
        let length = design.body.length.to_mm();
        let below = layout.back(0.0).min(layout.back(length)) - 12.0;
        self.dimension(Dim::Station, Point::ZERO, Point::new(crest.x, 0.0), below, crest.x);
        self.dimension(Dim::BodyLength, Point::ZERO, Point::new(length, 0.0), below - 12.0, length);

        let scale = design.scale.length.to_mm();
        let along = |u: f64| point(layout.strung(u, 0.0));
        self.dimension(Dim::ScaleLength, along(0.0), along(scale), 46.0, scale);
        self.scene.add(
            None,
            Item::Measure {
                from: along(0.0),
                to: along(layout.joint_from_nut),
                offset: 34.0,
                value: layout.joint_from_nut,
                name: "Nut to joint",
            },
        );

        let reach = 0.4 * layout.joint_from_nut;
        self.scene.add(
            None,
            Item::Angle {
                vertex: joint,
                from: joint - (reach, 0.0),
                to: point(layout.unstrung(layout.joint_from_nut - reach, -thickness)),
                value: design.joint.pitch.to_degrees(),
                dim: Dim::Pitch,
            },
        );
        if let HeadShape::Tilted { angle } = design.head.shape {
            let reach = 0.6 * design.head.length.to_mm();
            let (u, v) = layout.strung_head(0.0, 0.0);
            let (start, turned) = (self.head(0.0, 0.0), self.head(reach, 0.0));
            self.scene.add(
                None,
                Item::Angle {
                    vertex: start,
                    from: point(layout.strung(u - reach, v)),
                    to: turned,
                    value: angle.to_degrees(),
                    dim: Dim::HeadAngle,
                },
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use overstand_core::design::Pickup;
    use overstand_core::study::Study;
    use overstand_core::testing::worked_example;
    use overstand_core::units::Length;

    use super::*;
    use crate::elevation::{Show, elevation_with};

    fn has(design: &Design, wanted: Dim) -> bool {
        let show = Show { dimensions: true, straightedge: false };
        let scene = elevation_with(&Study::of(design), show);
        scene
            .shapes
            .iter()
            .any(|shape| matches!(shape.item, Item::Dimension { dim, .. } if dim == wanted))
    }

    #[test]
    fn the_thickness_of_the_board_keeps_clear_of_a_pickup() {
        let off = |stations: &[f64]| {
            let mut design = worked_example();
            design.pickups = stations
                .iter()
                .map(|station| Pickup {
                    name: "Neck".to_owned(),
                    station: Length::mm(*station),
                    height: Length::mm(2.0),
                })
                .collect();
            let study = Study::of(&design);
            let layout = study.layout().unwrap();
            let end = layout.unstrung(design.board.end.to_mm(), 0.0).x;
            let show = Show { dimensions: true, straightedge: false };
            let scene = elevation_with(&study, show);
            let offset = scene.shapes.iter().find_map(|shape| match shape.item {
                Item::Dimension { dim: Dim::BoardThickness, offset, .. } => Some(offset),
                _ => None,
            });
            (end, offset.unwrap())
        };
        let (end, bare) = off(&[]);
        // toward the tail unless the number would lie on a pickup
        assert!(bare < 0.0);
        assert_eq!(off(&[end + 25.0]).1, -bare);
        assert_eq!(off(&[end + 25.0 + 200.0]).1, bare);
    }

    #[test]
    fn a_conflict_has_no_number_that_contradicts_what_is_held() {
        let mut design = worked_example();
        assert!(has(&design, Dim::CrestHeight));
        design.found.clear();
        Dim::CrestHeight.key().set(&mut design, 25.0);
        assert!(Study::of(&design).closed().is_none());
        assert!(!has(&design, Dim::CrestHeight) && has(&design, Dim::BodyThickness));
    }
}
