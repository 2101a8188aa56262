//! A few pictures of the window, compared with references in `tests/images`.
//!
//! They show what no tree of names says: that lines, fills, halos and colours are where they
//! belong, in both themes and at scale 2. `OVERSTAND_TAKE_IMAGES=1 cargo test -p
//! overstand-app --test images` takes them anew; look at them before they are committed.
#![allow(clippy::unwrap_used, clippy::panic, reason = "what fails here is to fail the test")]

mod common;

use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::{Path, PathBuf};

use common::Window;
use common::raster::rasterise;
use egui::accesskit::Role;
use egui::{ColorImage, Rect, Vec2, vec2};
use egui_kittest::kittest::Queryable as _;
use overstand_app::{Options, Preferences, ThemeChoice};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::testing::worked_example;
use overstand_core::units::Length;

/// A channel of a pixel may differ by so much. A line of full contrast that moves by 0.1 px
/// changes the pixels at its edge by 25; rounding of sines and roots, which is not the same
/// on every machine, moves it by less than 0.001 px.
const LEVELS: u8 = 8;
/// So many pixels may differ by more: those whose centre lies on an edge to within that
/// rounding may fall to either side. A moved letter changes about 30.
const STRAYS: usize = 12;
/// Takes the references anew.
const TAKE: &str = "OVERSTAND_TAKE_IMAGES";

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

/// The window as it is shown now, as far as it lies in a rectangle of logical pixels.
fn picture(window: &Window, part: Rect) -> ColorImage {
    let (ctx, output) = (&window.harness.ctx, window.harness.output());
    let scale = output.pixels_per_point;
    let primitives = ctx.tessellate(output.shapes.clone(), scale);
    let atlas = ctx.fonts(|fonts| fonts.image());
    let size = ctx.content_rect().size() * scale;
    // as the window clears it
    let ground = ctx.global_style().visuals.panel_fill;
    let whole =
        rasterise(&primitives, &atlas, [size.x as usize, size.y as usize], scale, part, ground);
    whole.region(&part, Some(scale))
}

/// Where a drawing stands.
fn canvas(window: &Window, name: &str) -> Rect {
    window.harness.get_by_role_and_label(Role::Canvas, name).rect()
}

fn references() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/images")
}

fn write(path: &Path, image: &ColorImage) {
    let file = BufWriter::new(File::create(path).unwrap());
    let mut encoder = png::Encoder::new(file, image.width() as u32, image.height() as u32);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_compression(png::Compression::High);
    let bytes: Vec<u8> = image.pixels.iter().flat_map(|p| [p.r(), p.g(), p.b()]).collect();
    encoder.write_header().unwrap().write_image_data(&bytes).unwrap();
}

fn read(path: &Path) -> ColorImage {
    let file = File::open(path)
        .unwrap_or_else(|_| panic!("there is no {}: {TAKE}=1 takes it", path.display()));
    let mut reader = png::Decoder::new(BufReader::new(file)).read_info().unwrap();
    let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut bytes).unwrap();
    ColorImage::from_rgb([info.width as usize, info.height as usize], &bytes)
}

/// Compares with the reference; what differs is written aside, in red over the rest.
fn compare(name: &str, actual: &ColorImage) {
    let path = references().join(format!("{name}.png"));
    if std::env::var_os(TAKE).is_some() {
        std::fs::create_dir_all(references()).unwrap();
        write(&path, actual);
        return;
    }
    let expected = read(&path);
    let aside = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let (shown, diff) = (aside.join(format!("{name}.png")), aside.join(format!("{name}.diff.png")));
    let same_size = expected.size == actual.size;
    let mut marked = actual.clone();
    let mut strays = 0;
    if same_size {
        for (pixel, (a, b)) in
            marked.pixels.iter_mut().zip(actual.pixels.iter().zip(&expected.pixels))
        {
            let away = a.to_array().into_iter().zip(b.to_array()).map(|(a, b)| a.abs_diff(b));
            if away.max() > Some(LEVELS) {
                strays += 1;
                *pixel = egui::Color32::RED;
            }
        }
    }
    if !same_size || strays > STRAYS {
        write(&shown, actual);
        write(&diff, &marked);
        panic!(
            "{name}: {strays} pixels of {:?} are not as in {:?}; see {} and {}",
            actual.size,
            expected.size,
            shown.display(),
            diff.display()
        );
    }
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
