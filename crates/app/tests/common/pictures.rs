//! Pictures of the window, drawn without a screen, and compared with references.

use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::Path;

use egui::{ColorImage, Rect};

use super::Window;
use super::raster::rasterise;

/// A channel of a pixel may differ by so much. A line of full contrast that moves by 0.1 px
/// changes the pixels at its edge by 25; rounding of sines and roots, which is not the same
/// on every machine, moves it by less than 0.001 px.
const LEVELS: u8 = 8;
/// So many pixels may differ by more: those whose centre lies on an edge to within that
/// rounding may fall to either side. A moved letter changes about 30.
const STRAYS: usize = 12;
/// Takes the references anew.
const TAKE: &str = "OVERSTAND_TAKE_IMAGES";

/// The window as it is shown now, as far as it lies in a rectangle of logical pixels.
pub fn picture(window: &Window, part: Rect) -> ColorImage {
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

/// Whether the references are taken anew.
pub fn are_taken() -> bool {
    std::env::var_os(TAKE).is_some()
}

/// Compares with the reference in a folder of this crate; what differs is written aside, in
/// red over the rest.
pub fn compare(folder: &str, name: &str, actual: &ColorImage) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let path = folder.join(format!("{name}.png"));
    if are_taken() {
        std::fs::create_dir_all(folder).unwrap();
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
