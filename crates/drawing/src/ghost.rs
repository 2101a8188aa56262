//! Another state of the same thing, as a ghost over a drawing.

use kurbo::{Affine, Vec2};

use crate::scene::{Item, Line, Scene, Shape};

/// The edges of a scene as ghost lines, moved by so many mm; words and dimensions left out.
/// They belong to no part: what is pointed at is the drawing beneath.
pub fn ghost(scene: &Scene, by: Vec2) -> Vec<Shape> {
    let moved = Affine::translate(by);
    scene
        .shapes
        .iter()
        .filter_map(|shape| match &shape.item {
            Item::Area { path, .. } | Item::Stroke { path, line: Line::Visible | Line::String } => {
                Some(path)
            }
            _ => None,
        })
        .map(|path| Shape {
            part: None,
            item: Item::Stroke { path: moved * path.clone(), line: Line::Ghost },
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use overstand_core::study::Study;
    use overstand_core::testing::worked_example;

    use super::*;
    use crate::elevation::elevation;

    #[test]
    fn a_ghost_is_the_outline_in_another_place() {
        let scene = elevation(&Study::of(&worked_example()));
        let mut over = Scene { shapes: ghost(&scene, Vec2::new(5.0, 0.0)), regions: Vec::new() };
        assert!(over.shapes.iter().all(|shape| shape.part.is_none()));
        let (own, ghosts) = (scene.bounds().unwrap(), over.bounds().unwrap());
        // the saddle's range, which is left out, is no wider than the instrument
        assert!((ghosts.x0 - own.x0 - 5.0).abs() < 1e-9 && (ghosts.x1 - own.x1 - 5.0).abs() < 1e-9);
        over.shapes.retain(|shape| !matches!(shape.item, Item::Stroke { line: Line::Ghost, .. }));
        assert!(over.shapes.is_empty());
    }
}
