//! What is on the screen as pixels, without a GPU: egui's own triangles, filled one by one.
//!
//! A pixel takes the colour of the triangle that covers its centre, textured and blended as
//! egui's painters do it: colours premultiplied, in gamma space, textures read linearly.

use egui::epaint::{ClippedPrimitive, Mesh, Primitive, Vertex, WHITE_UV};
use egui::{Color32, ColorImage, Rect};

/// Lays the primitives of a frame over each other, as far as they lie in a part of it in
/// logical pixels, on a ground of one colour. `atlas` is the texture of all fonts, the
/// only one that there is.
pub fn rasterise(
    primitives: &[ClippedPrimitive],
    atlas: &ColorImage,
    size: [usize; 2],
    pixels_per_point: f32,
    part: Rect,
    ground: Color32,
) -> ColorImage {
    let mut image = ColorImage::filled(size, ground);
    for ClippedPrimitive { clip_rect, primitive } in primitives {
        let Primitive::Mesh(mesh) = primitive else {
            continue;
        };
        let clip = clip_rect.intersect(part) * pixels_per_point;
        for corners in mesh.indices.as_chunks::<3>().0 {
            triangle(&mut image, atlas, clip, corner(mesh, corners, pixels_per_point));
        }
    }
    image
}

fn corner(mesh: &Mesh, indices: &[u32; 3], pixels_per_point: f32) -> [Vertex; 3] {
    indices.map(|index| {
        let vertex = mesh.vertices[index as usize];
        Vertex { pos: (vertex.pos.to_vec2() * pixels_per_point).to_pos2(), ..vertex }
    })
}

fn triangle(image: &mut ColorImage, atlas: &ColorImage, clip: Rect, mut corners: [Vertex; 3]) {
    let cross = |a: Vertex, b: Vertex, x: f32, y: f32| {
        (b.pos.x - a.pos.x) * (y - a.pos.y) - (b.pos.y - a.pos.y) * (x - a.pos.x)
    };
    let mut area = cross(corners[0], corners[1], corners[2].pos.x, corners[2].pos.y);
    if area < 0.0 {
        corners.swap(1, 2);
        area = -area;
    }
    if area == 0.0 {
        return;
    }
    let bounds = Rect::from_points(&corners.map(|corner| corner.pos)).intersect(clip);
    let columns = pixels(bounds.x_range(), image.width());
    // of two triangles with an edge in common only one has the pixels on it
    let owns = |a: Vertex, b: Vertex| {
        let (x, y) = (b.pos.x - a.pos.x, b.pos.y - a.pos.y);
        y < 0.0 || (y == 0.0 && x > 0.0)
    };
    let sides = [(1, 2), (2, 0), (0, 1)].map(|(a, b)| (corners[a], corners[b]));
    let owned = sides.map(|(a, b)| owns(a, b));
    // most triangles are of one colour and have no texture
    let [first, second, third] = corners;
    let is_plain = first.color == second.color
        && first.color == third.color
        && corners.iter().all(|corner| corner.uv == WHITE_UV);
    let plain = is_plain.then(|| colour(atlas, &corners, [1.0, 0.0, 0.0]));
    for row in pixels(bounds.y_range(), image.height()) {
        for column in columns.clone() {
            let (x, y) = (column as f32 + 0.5, row as f32 + 0.5);
            let mut parts = [0.0; 3];
            let mut is_inside = true;
            for side in 0..3 {
                let part = cross(sides[side].0, sides[side].1, x, y);
                parts[side] = part / area;
                if part < 0.0 || (part == 0.0 && !owned[side]) {
                    is_inside = false;
                    break;
                }
            }
            if is_inside {
                let over = plain.unwrap_or_else(|| colour(atlas, &corners, parts));
                let place = row * image.width() + column;
                image.pixels[place] = if over[3] >= 255.0 {
                    let [r, g, b, _] = over.map(|channel| channel.round() as u8);
                    Color32::from_rgb(r, g, b)
                } else {
                    blend(over, image.pixels[place])
                };
            }
        }
    }
}

/// The pixels whose centres lie in a range.
fn pixels(range: egui::Rangef, most: usize) -> std::ops::Range<usize> {
    let bound = |at: f32| (at - 0.5).ceil().clamp(0.0, most as f32) as usize;
    bound(range.min)..bound(range.max).max(bound(range.min))
}

/// The colour at a point of a triangle, each channel from 0 to 255.
fn colour(atlas: &ColorImage, corners: &[Vertex; 3], parts: [f32; 3]) -> [f32; 4] {
    let mixed = |of: &dyn Fn(&Vertex) -> f32| -> f32 {
        corners.iter().zip(parts).map(|(corner, part)| of(corner) * part).sum()
    };
    let texel = sample(atlas, mixed(&|corner| corner.uv.x), mixed(&|corner| corner.uv.y));
    std::array::from_fn(|channel| {
        mixed(&|corner| corner.color.to_array()[channel].into()) * texel[channel] / 255.0
    })
}

fn sample(atlas: &ColorImage, u: f32, v: f32) -> [f32; 4] {
    let [width, height] = atlas.size;
    let (x, y) = (u * width as f32 - 0.5, v * height as f32 - 0.5);
    let texel = |x: f32, y: f32| {
        let at = |value: f32, most: usize| value.clamp(0.0, most as f32 - 1.0) as usize;
        atlas.pixels[at(y, height) * width + at(x, width)].to_array()
    };
    let (left, top) = (x.floor(), y.floor());
    let (right_part, low_part) = (x - left, y - top);
    let mut sum = [0.0; 4];
    for (dx, across) in [(0.0, 1.0 - right_part), (1.0, right_part)] {
        for (dy, down) in [(0.0, 1.0 - low_part), (1.0, low_part)] {
            let weight = across * down;
            if weight > 0.0 {
                for (all, one) in sum.iter_mut().zip(texel(left + dx, top + dy)) {
                    *all += weight * f32::from(one);
                }
            }
        }
    }
    sum
}

fn blend(over: [f32; 4], under: Color32) -> Color32 {
    let through = 1.0 - over[3] / 255.0;
    let under = under.to_array();
    let [r, g, b, a] = std::array::from_fn(|channel| {
        (over[channel] + f32::from(under[channel]) * through).round().clamp(0.0, 255.0) as u8
    });
    Color32::from_rgba_premultiplied(r, g, b, a)
}
