//! What is put on pages as one: a part with its caption, or a tile of it.

use std::sync::Arc;

use kurbo::{Affine, BezPath, Circle, Point, Rect, Shape as _, Vec2};
use overstand_core::study::Study;

use super::words::{Ink, LARGE, LEADING, PLAIN, SMALL, fit, look, wrap};
use super::{Choices, Layer, Page, Placed, Ply, Tiled};
use crate::font::Fonts;
use crate::ink::ink_box;
use crate::part::{Part, PartKind};
use crate::scene::{Anchor, Item, Line, Scene};
use crate::tiling::{FROM_END, Tile, Tiling};

/// Narrowest a caption is set, mm.
const CAPTION: f64 = 82.0;
/// Blank paper around what is drawn of a part, mm.
const AROUND: f64 = 3.0;
/// The same of a part in tiles: the marks lie in it.
const AROUND_TILES: f64 = FROM_END + ARM + 0.8;
/// Between a part and its caption, mm.
const BELOW: f64 = 3.0;
/// Room for a tile's name over its window, mm.
const TAB: f64 = 5.5;
/// Arms and ring of a register mark, mm.
const ARM: f64 = 4.0;
const RING: f64 = 2.0;

/// Something that is put on a page as one; its lower left corner is 0.
pub(super) struct Block {
    pub(super) width: f64,
    pub(super) height: f64,
    layers: Vec<Layer>,
    /// The part, and the tile if it is one.
    pub(super) holds: Option<(PartKind, Option<String>)>,
    /// The first of several that keep their order.
    pub(super) starts: bool,
    /// One that comes after another.
    pub(super) follows: bool,
}

impl Block {
    pub(super) fn of(width: f64, height: f64, layers: Vec<Layer>) -> Self {
        Self { width, height, layers, holds: None, starts: false, follows: false }
    }

    #[cfg(test)]
    pub(super) fn blank(width: f64, height: f64) -> Self {
        Self::of(width, height, Vec::new())
    }

    /// Puts it on a page, its lower left corner at a place.
    pub(super) fn put(self, at: Point, page: &mut Page) {
        let way = at.to_vec2();
        for mut layer in self.layers {
            layer.at = Affine::translate(way) * layer.at;
            layer.window = layer.window.map(|window| window + way);
            page.layers.push(layer);
        }
        if let Some((kind, tile)) = self.holds {
            let at = Rect::from_origin_size(at, (self.width, self.height));
            page.placed.push(Placed { kind, tile, at });
        }
    }
}

/// Height of capitals in the drawing of a part.
fn lettering(kind: PartKind) -> f64 {
    match kind {
        PartKind::Elevation => LARGE,
        PartKind::FretStrip => SMALL,
        _ => PLAIN,
    }
}

/// The layers of a part in its own mm, without any caption.
fn layers(part: &Part, choices: &Choices) -> Vec<Layer> {
    let look = Arc::new(look(choices, lettering(part.kind)));
    let layer = |ply, scene| Layer {
        ply,
        scene: Arc::new(scene),
        look: Arc::clone(&look),
        at: Affine::IDENTITY,
        window: None,
    };
    let stroke = |path: BezPath, line| {
        let mut scene = Scene::default();
        scene.add(None, Item::Stroke { path, line });
        scene
    };
    let mut layers = Vec::new();
    if !part.cut.is_empty() {
        layers.push(layer(Ply::Cut, stroke(part.cut.clone(), Line::Visible)));
    }
    // lines of the drawing first, what is written over them last
    let (mut drawn, mut written) = (Scene::default(), Scene::default());
    for shape in &part.scene.shapes {
        let scene = match shape.item {
            Item::Area { .. } | Item::Stroke { .. } => &mut drawn,
            _ => &mut written,
        };
        scene.shapes.push(shape.clone());
    }
    layers.push(layer(Ply::Drawing, drawn));
    for &[from, to] in &part.references {
        layers.push(layer(Ply::Reference, reference(from, to)));
    }
    layers.push(layer(Ply::Dimensions, written));
    layers
}

/// The reference edge: the line again, and small open triangles that stand on it, on its
/// left as one goes from `from` to `to`.
fn reference(from: Point, to: Point) -> Scene {
    let mut scene = Scene::default();
    let way = to - from;
    if way.hypot() <= 0.0 {
        return scene;
    }
    let along = way / way.hypot();
    let side = Vec2::new(-along.y, along.x);
    let mut stroke = |path, line| scene.add(None, Item::Stroke { path, line });
    stroke(crate::outline::polyline([from, to]), Line::Visible);
    for part in [0.25, 0.75] {
        let foot = from.lerp(to, part);
        let tip = foot + side * 2.4;
        let half = along * 1.4;
        stroke(crate::outline::polygon([foot, tip + half, tip - half]), Line::Thin);
    }
    scene
}

/// The box around the ink of layers.
fn extent(layers: &[Layer]) -> Rect {
    let boxes = layers
        .iter()
        .flat_map(|layer| layer.scene.shapes.iter().map(|shape| ink_box(&shape.item, &layer.look)));
    boxes.reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO)
}

/// The caption of a part: name, use, design and day, key dimensions, notes.
fn caption(part: &Part, study: &Study, choices: &Choices, room: f64) -> Block {
    let fonts = Fonts::bundled();
    let written = look(choices, PLAIN);
    let keys: Vec<String> = part.keys.iter().map(|key| key.show(&written)).collect();
    let design = study.design.name.trim();
    let mut lines = wrap(&fonts, part.purpose, PLAIN, room);
    let has_edge = !part.references.is_empty() && part.kind != PartKind::Elevation;
    let note = has_edge.then_some("▽ reference edge.");
    for note in part.notes.iter().map(String::as_str).chain(note) {
        lines.extend(wrap(&fonts, note, PLAIN, room));
    }
    lines.extend(wrap(&fonts, &format!("{}.", keys.join(", ")), PLAIN, room));
    let foot = format!("{design} · {} · scale\u{a0}1:1", choices.date);
    lines.extend(wrap(&fonts, &foot, PLAIN, room));
    let height = LEADING * LARGE + LEADING * PLAIN * lines.len() as f64;
    let mut ink = Ink::new(choices);
    let next = ink.lines(LARGE, Point::new(0.0, height), [part.name.to_owned()]);
    ink.lines(PLAIN, Point::new(0.0, next), lines);
    Block::of(room, height, ink.layers())
}

/// A part in one piece with its caption below it, no wider than `widest` if it can be.
pub(super) fn whole(part: &Part, study: &Study, choices: &Choices, widest: f64) -> Block {
    let mut layers = layers(part, choices);
    let bounds = extent(&layers).inflate(AROUND, AROUND);
    let room = bounds.width().max(CAPTION).min(widest.max(bounds.width())).min(240.0);
    let caption = caption(part, study, choices, room);
    let width = bounds.width().max(room);
    let height = bounds.height() + BELOW + caption.height;
    let lift = Vec2::new(-bounds.x0, height - bounds.y1);
    for layer in &mut layers {
        layer.at = Affine::translate(lift);
    }
    layers.extend(caption.layers);
    let mut block = Block::of(width, height, layers);
    block.holds = Some((part.kind, None));
    block
}

/// A part cut into tiles for a room of a size: its caption, then each tile with its name over
/// its window.
pub(super) fn tiles(
    part: &Part,
    study: &Study,
    choices: &Choices,
    room: (f64, f64),
) -> (Vec<Block>, Tiled) {
    let layers = layers(part, choices);
    let bounds = extent(&layers).inflate(AROUND, AROUND_TILES);
    let window = (room.0, bounds.height().min(room.1 - TAB));
    let tiling = Tiling::new(bounds, window, choices.overlap, |window| shows(&layers, window));
    let mut caption = caption(part, study, choices, room.0.min(240.0));
    caption.starts = true;
    let mut blocks = vec![caption];
    let tiled = Tiled { kind: part.kind, bounds, layers, tiling };
    for index in 0..tiled.tiling.tiles.len() {
        blocks.push(tile(part, &tiled, index, choices));
    }
    (blocks, tiled)
}

/// Whether any ink lies in a window.
fn shows(layers: &[Layer], window: Rect) -> bool {
    let meets = |path: &BezPath| {
        path.segments().any(|segment| {
            let bounds = segment.bounding_box().inflate(0.05, 0.05);
            bounds.overlaps(window) && near(segment, window)
        })
    };
    layers.iter().any(|layer| {
        layer.scene.shapes.iter().any(|shape| match &shape.item {
            Item::Area { path, .. } | Item::Stroke { path, .. } => meets(path),
            item => ink_box(item, &layer.look).overlaps(window),
        })
    })
}

/// Whether a segment passes through a window; looked at in pieces.
fn near(segment: kurbo::PathSeg, window: Rect) -> bool {
    use kurbo::ParamCurve as _;
    const PIECES: usize = 16;
    (0..PIECES).any(|i| {
        let at = |i: usize| segment.eval(i as f64 / PIECES as f64);
        Rect::from_points(at(i), at(i + 1)).inflate(0.05, 0.05).overlaps(window)
    })
}

fn tile(part: &Part, tiled: &Tiled, index: usize, choices: &Choices) -> Block {
    let Tile { row, column, window } = tiled.tiling.tiles[index];
    let (width, height) = (window.width(), window.height());
    let to_block = Vec2::new(-window.x0, -window.y0);
    let seen = Rect::new(0.0, 0.0, width, height);
    let mut layers: Vec<Layer> = tiled
        .layers
        .iter()
        .map(|layer| Layer {
            at: Affine::translate(to_block) * layer.at,
            window: Some(seen),
            ..layer.clone()
        })
        .collect();
    let fonts = Fonts::bundled();
    let mut ink = Ink::new(choices);
    let corner = |x: f64, y: f64| Point::new(x, y);
    ink.rect(Ply::Marks, Line::Thin, Point::ZERO, corner(width, height));
    let name = tiled.tiling.tiles[index].name();
    ink.words(Ply::Words, LARGE, corner(0.0, height + 3.0), Anchor::Left, name.clone());
    let before = |row: Option<usize>, column: Option<usize>| {
        row.zip(column).and_then(|(row, column)| tiled.tiling.at(row, column)).map(Tile::name)
    };
    let under: Vec<String> =
        [before(Some(row), column.checked_sub(1)), before(row.checked_sub(1), Some(column))]
            .into_iter()
            .flatten()
            .collect();
    let mut says = part.name.to_owned();
    if under.is_empty() {
        says += ": the first tile, leave its edges uncut";
    } else {
        // the left and the upper edge are cut, and lie on the tiles before
        let edges = match (before(Some(row), column.checked_sub(1)).is_some(), under.len()) {
            (_, 2) => "left and upper edge",
            (true, _) => "left edge",
            (false, _) => "upper edge",
        };
        says += &format!(": cut the {edges}, lay on {}, rings on rings", under.join(" and "));
    }
    let says = fit(&fonts, &says, PLAIN, width - 16.0);
    ink.words(Ply::Words, PLAIN, corner(15.0, height + 3.0), Anchor::Left, says);
    for mark in tiled.tiling.marks.iter().filter(|mark| mark.tiles.contains(&index)) {
        let at = mark.at + to_block;
        ink.line(Ply::Marks, Line::Thin, [at - (ARM, 0.0), at + (ARM, 0.0)]);
        ink.line(Ply::Marks, Line::Thin, [at - (0.0, ARM), at + (0.0, ARM)]);
        ink.path(Ply::Marks, Line::Thin, Circle::new(at, RING).to_path(1e-3));
        // a name on either side of the upright arm
        let beside = [(-1.0, Anchor::Right), (1.0, Anchor::Left)];
        for (tile, (side, anchor)) in mark.tiles.into_iter().zip(beside) {
            let name = tiled.tiling.tiles[tile].name();
            ink.words(Ply::Marks, SMALL, at + (side, RING + 1.2), anchor, name);
        }
    }
    layers.extend(ink.layers());
    let mut block = Block::of(width, height + TAB, layers);
    block.holds = Some((part.kind, Some(name)));
    block.follows = true;
    block
}
