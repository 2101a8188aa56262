//! A few pictures of the window, compared with references in `tests/images`.
//!
//! They show what no tree of names says: that lines, fills, halos and colours are where they
//! belong, in both themes and at scale 2. `OVERSTAND_TAKE_IMAGES=1 cargo test -p
//! overstand-app --test images` takes them anew; look at them before they are committed.
#![allow(clippy::unwrap_used, reason = "what fails here is to fail the test")]

mod common;

use common::Window;
use common::pictures::{self, picture};
use common::raster::rasterise;
use egui::accesskit::Role;
use egui::{ColorImage, Rect, Vec2, vec2};
use egui_kittest::kittest::Queryable as _;
use overstand_app::{Options, Preferences, ThemeChoice};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;

fn window(
    design: Design,
    theme: ThemeChoice,
    size: Vec2,
    scale: f32,
) -> (Window, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("design.ron");
    overstand_files::save(&path, &overstand_files::DesignFile::of(design)).unwrap();
    let preferences = Preferences { theme, ..Preferences::default() };
    let options = Options { path: Some(path), preferences, dialogs: false, ..Options::default() };
    (Window::sized(options, size, scale), folder)
}

/// Where a drawing stands.
fn canvas(window: &Window, name: &str) -> Rect {
    window.harness.get_by_role_and_label(Role::Canvas, name).rect()
}

fn compare(name: &str, actual: &ColorImage) {
    pictures::compare("tests/images", name, actual);
}

const SMALL: Vec2 = vec2(1180.0, 640.0);

fn all_drawings(theme: ThemeChoice) -> ColorImage {
    let (window, _folder) = window(worked_example(), theme, SMALL, 1.0);
    let (top, bottom) =
        (canvas(&window, "Side elevation"), canvas(&window, "Close-up: joint to tail"));
    picture(&window, top.union(bottom))
}

#[test]
fn the_drawings_in_light() {
    compare("drawings-light", &all_drawings(ThemeChoice::Light));
}

#[test]
fn the_drawings_in_dark() {
    compare("drawings-dark", &all_drawings(ThemeChoice::Dark));
}

#[test]
fn the_close_up_at_scale_2() {
    let (window, _folder) = window(worked_example(), ThemeChoice::Light, SMALL, 2.0);
    let whole = canvas(&window, "Close-up: joint to tail");
    // the bridge and the tail
    let part = Rect::from_min_max(whole.center_top(), whole.max);
    compare("close-up-scale-2", &picture(&window, part));
}

/// A string that lies on the crowns is crossed out there.
#[test]
fn contact_on_the_strip() {
    let mut design = worked_example();
    // a back bow of half a millimetre lifts the middle of the board into the string
    design.wanted.relief = Length::mm(-0.5);
    design.wanted.action_treble = Length::mm(0.2);
    design.wanted.action_bass = Length::mm(0.2);
    design.found.insert(Dim::CrestHeight.info().key.to_owned());
    let (window, _folder) = window(design, ThemeChoice::Light, SMALL, 1.0);
    let chart = "Fret at which the strip shows a stopped string";
    let part = window.harness.get_by_role_and_label(Role::Slider, chart).rect();
    compare("contact-light", &picture(&window, part));
}

/// The rasteriser itself: a square of half a pixel's cover, and no pixel twice.
#[test]
fn a_square_is_filled_once() {
    use egui::epaint::{ClippedPrimitive, Mesh, Primitive};
    let half = egui::Color32::from_rgba_premultiplied(100, 0, 0, 128);
    let mut mesh = Mesh::default();
    mesh.add_colored_rect(Rect::from_min_size(egui::pos2(1.0, 1.0), vec2(2.0, 2.0)), half);
    let frame =
        [ClippedPrimitive { clip_rect: Rect::EVERYTHING, primitive: Primitive::Mesh(mesh) }];
    let atlas = ColorImage::filled([4, 4], egui::Color32::WHITE);
    let image = rasterise(&frame, &atlas, [4, 4], 1.0, Rect::EVERYTHING, egui::Color32::BLACK);
    for (place, pixel) in image.pixels.iter().enumerate() {
        let is_inside = (1..3).contains(&(place % 4)) && (1..3).contains(&(place / 4));
        assert_eq!(pixel.r(), if is_inside { 100 } else { 0 }, "pixel {place}");
    }
}

/// A design in trouble, as it is seen by eyes with all kinds of cone and by those without one.
#[test]
fn trouble_is_seen_by_all_eyes() {
    use common::eyes::Eyes;
    let mut design = worked_example();
    design.bridge.crest_height = Length::mm(27.5);
    design.wanted.action_treble = Length::mm(0.9);
    let themes = [ThemeChoice::Light, ThemeChoice::Dark].map(|theme| {
        let (window, _folder) = window(design.clone(), theme, SMALL, 1.0);
        // the verdict, and what of the drawings lies beside it
        let top = window.harness.ctx.content_rect().right_top() + vec2(-8.0, 52.0);
        picture(&window, Rect::from_min_max(top - vec2(700.0, 0.0), top + vec2(0.0, 430.0)))
    });
    for eyes in Eyes::ALL {
        let [light, dark] = &themes;
        assert_eq!(light.size, dark.size);
        let pixels = [light, dark].into_iter().flat_map(|image| &image.pixels);
        let size = [light.size[0], 2 * light.size[1]];
        let seen = ColorImage::new(size, pixels.map(|pixel| eyes.see(*pixel)).collect());
        pictures::compare("../../docs/look", &eyes.name().replace(' ', "-"), &seen);
    }
}
