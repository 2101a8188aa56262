//! Two designs on paper: both elevations to one scale, one above the other, and the table of
//! what differs.

mod table;

use std::sync::Arc;

use kurbo::{Affine, Point, Rect};
use overstand_core::compare::{Align, Comparison, Side};
use overstand_core::study::Study;
use overstand_core::units::show_number;

use super::words::{Ink, LARGE, LEADING, PLAIN, SMALL, fit, width, wrap};
use super::{Choices, Layer, Page, Paper, PaperError, Ply, Wanted};
use crate::elevation;
use crate::font::Fonts;
use crate::look::Look;
use crate::scene::{Anchor, Item, Line, Scene};
use table::MOST_MARGIN;

/// Scales that are tried, largest first (ISO 5455, and steps between for small paper).
const SCALES: [f64; 9] = [1.0, 2.0, 2.5, 4.0, 5.0, 8.0, 10.0, 15.0, 20.0];
/// Least width and height between the margins, mm.
const LEAST: (f64, f64) = (100.0, 140.0);
/// Most of a page's height that the two elevations take.
const DRAWN: f64 = 0.42;
/// Blank paper between blocks, mm.
const APART: f64 = 4.0;
/// Blank paper between words beside each other, mm.
const GAP: f64 = 2.0;

/// The compare sheet of two designs, which are called by these titles. Of `wanted`, the
/// name of the design is passed over.
///
/// # Errors
/// [`PaperError::Nothing`] if neither can be drawn, [`PaperError::NoSheet`] if the paper is
/// a roll or holds too little.
pub fn compare_sheet(
    studies: [&Study; 2],
    titles: &[String; 2],
    wanted: &Wanted,
) -> Result<Paper, PaperError> {
    let scenes = studies.map(elevation::elevation);
    if scenes.iter().all(|scene| scene.shapes.is_empty()) {
        return Err(PaperError::Nothing(studies[0].reason().show(wanted.lengths)));
    }
    if !wanted.holds(LEAST) {
        return Err(PaperError::NoSheet { what: "compare sheet", sheet: wanted.sheet.name() });
    }
    let choices = wanted.choices();
    let both = Comparison::of(studies[0], studies[1]);
    let mut setter = Setter {
        wanted,
        both: &both,
        titles,
        choices: &choices,
        fonts: Fonts::bundled(),
        room: wanted.room(),
        pages: Vec::new(),
        y: 0.0,
    };
    setter.first(studies, &scenes);
    setter.table();
    let pages = setter.finish();
    let title = format!("{} and {}, compared", titles[0], titles[1]);
    Ok(Paper { title, date: wanted.date, pages, tiled: Vec::new() })
}

struct Setter<'a> {
    wanted: &'a Wanted,
    both: &'a Comparison,
    titles: &'a [String; 2],
    choices: &'a Choices,
    fonts: Fonts,
    room: (f64, f64),
    pages: Vec<(Ink<'a>, Vec<Layer>)>,
    /// Where the next thing stands on the last page.
    y: f64,
}

impl Setter<'_> {
    fn turn_page(&mut self) {
        self.pages.push((Ink::new(self.choices), Vec::new()));
        self.y = self.room.1;
    }

    /// A page after the first, which says at its head what it belongs to.
    fn next_page(&mut self) {
        self.turn_page();
        let date = self.wanted.date.to_string();
        let y = self.y - 0.5 * SMALL;
        let room = self.room.0 - width(&self.fonts, &date, SMALL) - GAP;
        let [a, b] = self.titles;
        let titles = fit(&self.fonts, &format!("A: {a} · B: {b}"), SMALL, room);
        self.words(SMALL, Point::new(0.0, y), Anchor::Left, titles);
        self.words(SMALL, Point::new(self.room.0, y), Anchor::Right, date);
        self.y -= LEADING * SMALL;
        self.head();
    }

    /// Ink of the last page; there is one from the first call of `turn_page` on.
    fn words(&mut self, capitals: f64, at: Point, anchor: Anchor, text: String) {
        if let Some((ink, _)) = self.pages.last_mut() {
            ink.words(Ply::Words, capitals, at, anchor, text);
        }
    }

    fn rule(&mut self, line: Line) {
        let (y, wide) = (self.y, self.room.0);
        if let Some((ink, _)) = self.pages.last_mut() {
            ink.line(Ply::Drawing, line, [Point::new(0.0, y), Point::new(wide, y)]);
        }
    }

    fn paragraph(&mut self, text: &str, capitals: f64) {
        for line in wrap(&self.fonts, text, capitals, self.room.0) {
            let at = Point::new(0.0, self.y - 0.5 * capitals);
            self.words(capitals, at, Anchor::Left, line);
            self.y -= LEADING * capitals;
        }
    }

    /// Head, sentence and elevations.
    fn first(&mut self, studies: [&Study; 2], scenes: &[Scene; 2]) {
        self.turn_page();
        let date = self.wanted.date.to_string();
        let at = Point::new(self.room.0, self.y - 0.5 * LARGE);
        self.words(PLAIN, at, Anchor::Right, date);
        self.paragraph("Two designs compared", LARGE);
        for side in Side::BOTH {
            let title = &self.titles[side as usize];
            let word = self.both.words[side as usize].show();
            let text = format!("{}: {title} · {}", side.name(), word.to_lowercase());
            self.paragraph(&text, PLAIN);
        }
        self.y -= 1.0;
        let says = self.both.says.show(self.wanted.lengths);
        self.paragraph(&says, PLAIN);
        self.y -= 1.5;
        self.elevations(studies, scenes);
    }

    fn elevations(&mut self, studies: [&Study; 2], scenes: &[Scene; 2]) {
        let shift = elevation::shift(Align::Joint, studies[0], studies[1]);
        let bounds = [0, 1].map(|index| {
            let by = if index == 1 { shift } else { 0.0 };
            scenes[index].bounds().map(|bounds| bounds + kurbo::Vec2::new(by, 0.0))
        });
        let Some(all) = bounds.iter().flatten().copied().reduce(|one, two| one.union(two)) else {
            return;
        };
        let high: f64 = bounds.iter().flatten().map(Rect::height).sum();
        let drawn = bounds.iter().flatten().count() as f64;
        let free = DRAWN * self.room.1 - drawn * (LEADING * PLAIN + APART);
        let fits = |scale: &&f64| all.width() / **scale <= self.room.0 && high / **scale <= free;
        let scale = SCALES
            .iter()
            .find(fits)
            .copied()
            .unwrap_or_else(|| (all.width() / self.room.0).max(high / free).ceil());
        for side in Side::BOTH {
            let index = side as usize;
            let label = format!("{}: {}", side.name(), self.titles[index]);
            let label = fit(&self.fonts, &label, PLAIN, self.room.0);
            let at = Point::new(0.0, self.y - 0.5 * PLAIN);
            self.words(PLAIN, at, Anchor::Left, label);
            self.y -= LEADING * PLAIN;
            let Some(bounds) = bounds[index] else {
                let reason = studies[index].reason().show(self.wanted.lengths);
                self.paragraph(&reason, PLAIN);
                continue;
            };
            let by = if index == 1 { shift } else { 0.0 };
            // centred on the paper, both by the same way
            let left = 0.5 * (self.room.0 - all.width() / scale);
            let to_paper = Affine::translate((left, self.y))
                * Affine::scale(1.0 / scale)
                * Affine::translate((by - all.x0, -bounds.y1));
            self.draw(&scenes[index], to_paper);
            self.y -= bounds.height() / scale + APART;
        }
        let text = format!("Scale 1:{scale}, aligned at the joint. Not for cutting.");
        self.bar(scale, text);
    }

    /// A bar of 100 mm of the instrument, and what the scale is.
    fn bar(&mut self, scale: f64, text: String) {
        let (y, long) = (self.y - 0.5 * SMALL, 100.0 / scale);
        if let Some((ink, _)) = self.pages.last_mut() {
            ink.line(Ply::Bars, Line::Visible, [Point::new(0.0, y), Point::new(long, y)]);
            for x in [0.0, long] {
                let ends = [Point::new(x, y - 1.0), Point::new(x, y + 1.0)];
                ink.line(Ply::Bars, Line::Thin, ends);
            }
        }
        let at = Point::new(long + GAP, y);
        self.words(SMALL, at, Anchor::Left, format!("100 mm of the instrument. {text}"));
        self.y -= LEADING * SMALL + APART;
    }

    /// A scene that is put on the paper as it is to look there: lines keep their widths.
    fn draw(&mut self, scene: &Scene, to_paper: Affine) {
        let mut drawn = Scene::default();
        for shape in &scene.shapes {
            let item = match &shape.item {
                Item::Area { path, material, edge } => {
                    Item::Area { path: to_paper * path.clone(), material: *material, edge: *edge }
                }
                Item::Stroke { path, line } => {
                    Item::Stroke { path: to_paper * path.clone(), line: *line }
                }
                _ => continue,
            };
            drawn.add(shape.part, item);
        }
        // 0.18 mm is the narrowest pair's wide line of ISO 128
        let look = Look { visible: 0.18, lengths: self.wanted.lengths, ..Look::paper() };
        if let Some((_, layers)) = self.pages.last_mut() {
            layers.push(Layer {
                ply: Ply::Drawing,
                scene: Arc::new(drawn),
                look: Arc::new(look),
                at: Affine::IDENTITY,
                window: None,
            });
        }
    }

    fn finish(mut self) -> Vec<Page> {
        let count = self.pages.len();
        let fonts = std::mem::replace(&mut self.fonts, Fonts::bundled());
        let most = show_number(MOST_MARGIN, 0);
        let bands =
            format!("Margins in thin bands, A above B, up to {most}: good from the mark on");
        let feet = [
            format!("{bands}, failing at nothing. Better where that has a meaning."),
            format!("{bands}."),
            "Margins, A above B: good from the mark on.".to_owned(),
        ];
        let free = self.room.0 - 24.0;
        let fits = |foot: &&String| width(&fonts, foot, SMALL) <= free;
        let foot = feet.iter().find(fits).unwrap_or(&feet[2]);
        let pages = std::mem::take(&mut self.pages);
        pages
            .into_iter()
            .enumerate()
            .map(|(index, (mut ink, mut layers))| {
                let y = 0.5 * SMALL;
                let page = format!("page {} of {count}", index + 1);
                let says = fit(&fonts, foot, SMALL, free);
                ink.words(Ply::Words, SMALL, Point::new(0.0, y), Anchor::Left, says);
                let at = Point::new(self.room.0, y);
                ink.words(Ply::Words, SMALL, at, Anchor::Right, page);
                layers.extend(ink.layers());
                self.wanted.page(index + 1, layers)
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use overstand_core::compare::Group;
    use overstand_core::design::Design;
    use overstand_core::dimension::Dim;
    use overstand_core::testing::worked_example;
    use overstand_core::units::LengthStyle;

    use super::table::COLUMNS;
    use super::*;
    use crate::ink::ink_box;

    fn pair() -> [Study; 2] {
        let a = worked_example();
        let mut b = Design { name: "Higher crest".to_owned(), ..worked_example() };
        Dim::CrestHeight.key().set(&mut b, 25.0);
        b.notes = "A note that is rather long. ".repeat(12);
        [Study::of(&a), Study::of(&b)]
    }

    fn titles() -> [String; 2] {
        ["As drawn".to_owned(), "Higher crest".to_owned()]
    }

    #[test]
    fn both_elevations_and_every_row_stand_within_the_pages() {
        let [a, b] = pair();
        let both = Comparison::of(&a, &b);
        for sheet in ["A4", "A3", "Letter", "140x200"] {
            let paper = compare_sheet(
                [&a, &b],
                &titles(),
                &Wanted::of_test(sheet, LengthStyle::Millimetres),
            )
            .unwrap();
            let mut words = String::new();
            let mut areas = 0;
            for page in &paper.pages {
                let room = Rect::new(0.0, 0.0, page.room.0, page.room.1).inflate(0.3, 0.3);
                for layer in &page.layers {
                    for shape in &layer.scene.shapes {
                        match &shape.item {
                            Item::Text { text, at, .. } => {
                                assert!(room.contains(*at), "{sheet}: {text}");
                                words += text;
                                words.push(' ');
                            }
                            item => {
                                let ink = ink_box(item, &layer.look);
                                assert_eq!(ink.intersect(room), ink, "{sheet}");
                                areas += usize::from(shape.part.is_some());
                            }
                        }
                    }
                }
            }
            assert!(areas > 20, "{sheet}: no elevation");
            for row in &both.rows {
                let first = row.name.split(' ').next().unwrap();
                assert!(words.contains(first), "{sheet}: {} is missing", row.name);
            }
            assert!(words.contains("Scale 1:"), "{sheet}");
        }
    }

    #[test]
    fn every_page_says_what_it_is_of_and_no_heading_stands_alone() {
        let [a, b] = pair();
        let mut continued = 0;
        for sheet in ["A4", "148x210", "Letter", "140x200", "150x180"] {
            let wanted = Wanted::of_test(sheet, LengthStyle::Millimetres);
            let paper = compare_sheet([&a, &b], &titles(), &wanted).unwrap();
            let both = Comparison::of(&a, &b);
            let groups: Vec<&str> = both.groups().into_iter().map(Group::name).collect();
            for page in &paper.pages[1..] {
                let mut words: Vec<(f64, &str)> = Vec::new();
                for shape in page.layers.iter().flat_map(|layer| &layer.scene.shapes) {
                    if let Item::Text { text, at, .. } = &shape.item
                        && at.x < 1.0
                    {
                        words.push((at.y, text));
                    }
                }
                words.sort_by(|one, other| other.0.total_cmp(&one.0));
                let lines: Vec<&str> = words.iter().map(|(_, text)| *text).collect();
                assert!(lines[0].starts_with("A: As drawn · B: Higher crest"), "{lines:?}");
                assert_eq!(lines[1], "What differs");
                let heads = |line: &str| groups.contains(&line.trim_end_matches(" (continued)"));
                // what a row is of stands on its page, and below a heading a row
                assert!(heads(lines[2]), "{sheet}: {lines:?}");
                continued += usize::from(lines[2].ends_with("(continued)"));
                // the row of the notes is called as its heading
                let last = lines[lines.len() - 2];
                assert!(!heads(last) || last == "Notes", "{sheet}: {lines:?}");
            }
        }
        assert!(continued > 0, "no group went on over the page");
    }

    #[test]
    fn numbers_end_where_their_columns_do() {
        let [a, b] = pair();
        let style = LengthStyle::Millimetres;
        let wanted = Wanted::of_test("A4", style);
        let paper = compare_sheet([&a, &b], &titles(), &wanted).unwrap();
        let wide = paper.pages[0].room.0;
        let ends = [2, 3, 4].map(|next| COLUMNS[next] * wide - GAP);
        let mut seen = 0;
        let both = Comparison::of(&a, &b);
        let numbers: Vec<String> = both
            .rows
            .iter()
            .flat_map(|row| row.cells.iter().filter(|cell| cell.quantity().is_some()))
            .map(|cell| cell.show(style))
            .collect();
        let shapes = paper.pages.iter().flat_map(|page| &page.layers);
        for shape in shapes.flat_map(|layer| &layer.scene.shapes) {
            if let Item::Text { text, at, anchor, .. } = &shape.item
                && numbers.contains(text)
            {
                assert!(matches!(anchor, Anchor::Right), "{text}");
                assert!(ends.iter().any(|end| (end - at.x).abs() < 1e-9), "{text} at {}", at.x);
                seen += 1;
            }
        }
        assert!(seen > 10, "{seen}");
    }

    #[test]
    fn the_two_are_drawn_to_one_scale_with_their_joints_above_each_other() {
        let [a, b] = pair();
        let paper =
            compare_sheet([&a, &b], &titles(), &Wanted::of_test("A4", LengthStyle::Millimetres))
                .unwrap();
        let drawn: Vec<Rect> = paper.pages[0]
            .layers
            .iter()
            .filter(|layer| layer.scene.shapes.iter().any(|shape| shape.part.is_some()))
            .map(|layer| layer.scene.bounds().unwrap())
            .collect();
        let own = [&a, &b].map(|study| elevation::elevation(study).bounds().unwrap());
        let scale = own[0].width() / drawn[0].width();
        assert!((own[1].width() / drawn[1].width() - scale).abs() < 1e-9);
        let joint = |index: usize| drawn[index].x0 - own[index].x0 / scale;
        assert!((joint(0) - joint(1)).abs() < 1e-9);
        assert!(drawn[0].y0 > drawn[1].y1, "they overlap");
    }

    #[test]
    fn what_holds_no_sheet_is_refused() {
        let [a, b] = pair();
        for sheet in ["roll610", "120x120"] {
            let refused = compare_sheet(
                [&a, &b],
                &titles(),
                &Wanted::of_test(sheet, LengthStyle::Millimetres),
            );
            assert!(
                matches!(refused, Err(PaperError::NoSheet { what: "compare sheet", .. })),
                "{sheet}"
            );
        }
        // a design that does not close is drawn as far as it goes
        let mut open = worked_example();
        Dim::CrestHeight.key().set(&mut open, 140.0);
        assert!(
            compare_sheet(
                [&a, &Study::of(&open)],
                &titles(),
                &Wanted::of_test("A4", LengthStyle::Millimetres)
            )
            .is_ok()
        );
    }
}
