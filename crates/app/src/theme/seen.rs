//! How the colours are seen: contrast as measured, also by eyes that lack a kind of cone.
//!
//! `WRITE_DOCS=1 cargo test -p overstand-app --lib seen` writes the table of `docs/look.md`
//! anew.
#![allow(clippy::unwrap_used, reason = "what fails here is to fail the test")]

use std::fmt::Write as _;

use egui::Color32;

use super::{DARK, LIGHT, Palette};

#[path = "../../tests/common/eyes.rs"]
mod eyes;

use eyes::{Eyes, light};

/// Relative luminance and contrast as WCAG 2.2 defines them.
fn contrast(a: Color32, b: Color32) -> f64 {
    let luminance =
        |c: Color32| 0.2126 * light(c.r()) + 0.7152 * light(c.g()) + 0.0722 * light(c.b());
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The least contrast with any ground that text and fields stand on.
fn least(palette: &Palette, colour: Color32, eyes: Eyes) -> f64 {
    [palette.paper, palette.panel, palette.field]
        .map(|ground| contrast(eyes.see(colour), eyes.see(ground)))
        .into_iter()
        .fold(f64::INFINITY, f64::min)
}

fn texts(palette: &Palette) -> [(&'static str, Color32); 6] {
    [
        ("ink", palette.ink),
        ("dim ink", palette.dim),
        ("found", palette.accent),
        ("good", palette.good),
        ("thin", palette.thin),
        ("fails", palette.fails),
    ]
}

#[test]
fn all_text_can_be_read_by_all_eyes() {
    for palette in [&LIGHT, &DARK] {
        for eyes in Eyes::ALL {
            for (name, colour) in texts(palette) {
                let least = least(palette, colour, eyes);
                // WCAG 2.2, level AA, asks for 4.5
                assert!(least >= 4.5, "{name}, {}: {least:.2}", eyes.name());
            }
            // and for 3 of the edge of a control
            let border = least(palette, palette.field_border, eyes);
            assert!(border >= 3.0, "border, {}: {border:.2}", eyes.name());
        }
    }
}

/// Black on white is 21, and a colour on itself 1, by the definition.
#[test]
fn contrast_is_that_of_the_standard() {
    assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-12);
    assert!((contrast(Color32::GRAY, Color32::GRAY) - 1.0).abs() < 1e-12);
}

/// Grey has the same light in all cones, so that every eye sees it as it is.
#[test]
fn grey_stays_grey() {
    for value in [0, 1, 64, 128, 200, 255] {
        let grey = Color32::from_gray(value);
        for eyes in Eyes::ALL {
            let seen = eyes.see(grey);
            for channel in [seen.r(), seen.g(), seen.b()] {
                // rows of the matrices are rounded to 1e-6: far less than one level
                assert!(channel.abs_diff(value) <= 1, "{value}: {seen:?}");
            }
        }
    }
}

fn table() -> String {
    let mut table = String::from("| | all cones | protanopia | deuteranopia | tritanopia |\n");
    table += "|---|---|---|---|---|\n";
    for (theme, palette) in [("light", &LIGHT), ("dark", &DARK)] {
        let border = ("edge of a field", palette.field_border);
        for (name, colour) in texts(palette).into_iter().chain([border]) {
            write!(table, "| {theme}: {name} |").unwrap();
            for eyes in Eyes::ALL {
                write!(table, " {:.1} |", least(palette, colour, eyes)).unwrap();
            }
            table.push('\n');
        }
    }
    table
}

#[test]
fn the_table_is_fresh() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/look.md");
    let page = std::fs::read_to_string(path).unwrap();
    let begin = page.find("| | all cones").unwrap();
    let end = begin + page[begin..].find("\n\n").unwrap() + 1;
    if std::env::var_os("WRITE_DOCS").is_some() {
        std::fs::write(path, [&page[..begin], &table(), &page[end..]].concat()).unwrap();
    } else {
        assert_eq!(page[begin..end], table(), "WRITE_DOCS=1 writes it anew");
    }
}
