//! The strings in section across the instrument, at the nut and at the bridge.

use kurbo::{Arc, BezPath, Point, Shape as _};
use overstand_core::design::{BoardShape, Design, Nut};
use overstand_core::layout::Layout;
use overstand_core::study::Study;

use super::Part;
use crate::font::{CAPITAL, Fonts};
use crate::outline::polyline;
use crate::scene::{Anchor, Line};

/// How far a gauge reaches beyond the outer strings, and over the highest, mm.
const BEYOND: f64 = 10.0;
const OVER: f64 = 16.0;
/// Half the width of a notch, and what it takes at most of the way to the next.
const NOTCH: f64 = 1.2;
const OF_WAY: f64 = 0.4;
/// Size of the letters, blank paper on either side of a label, and from one level of labels
/// to the next, mm.
const LETTERS: f64 = 2.5 / CAPITAL;
const ASIDE: f64 = 0.4;
const LEVEL: f64 = 3.3;

/// What stands at the strings.
struct Labels {
    /// From left to right.
    texts: Vec<String>,
    /// On which level each stands: two that are near to each other stand on two.
    levels: Vec<usize>,
    /// There is no room for the names: they are numbers.
    numbered: bool,
}

impl Labels {
    /// Labels at places from left to right, of strings by their numbers from 0.
    fn of(design: &Design, places: &[(usize, f64)]) -> Self {
        let fonts = Fonts::bundled();
        let name = |index: usize| design.strings.get(index).map_or("", |one| one.name.as_str());
        let names: Vec<String> = places.iter().map(|place| name(place.0).to_owned()).collect();
        let levels = levels(&fonts, &names, places);
        if levels.iter().all(|&level| level == 0) {
            return Self { texts: names, levels, numbered: false };
        }
        let numbers: Vec<String> = places.iter().map(|place| (place.0 + 1).to_string()).collect();
        let levels = self::levels(&fonts, &numbers, places);
        Self { texts: numbers, levels, numbered: true }
    }

    /// What a string is called among the key dimensions.
    fn called(&self, index: usize, name: &str) -> String {
        if self.numbered { format!("{} ({name})", index + 1) } else { name.to_owned() }
    }

    fn note(&self, part: &mut Part) {
        if self.numbered {
            part.notes.push("Strings are numbered from treble to bass.".to_owned());
        }
    }
}

/// The lowest level for each label on which nothing is in its way: no label, and no leader of
/// one on a level beyond.
fn levels(fonts: &Fonts, texts: &[String], places: &[(usize, f64)]) -> Vec<usize> {
    let mut ends: Vec<f64> = Vec::new();
    let place = |(text, &(_, x)): (&String, &(usize, f64))| {
        let half = 0.5 * fonts.width(text, LETTERS) + ASIDE;
        let level = ends.iter().position(|&end| end <= x - half).unwrap_or(ends.len());
        if level == ends.len() {
            ends.push(f64::NEG_INFINITY);
        }
        for end in &mut ends[..level] {
            *end = end.max(x + ASIDE);
        }
        ends[level] = x + half;
        level
    };
    texts.iter().zip(places).map(place).collect()
}

/// The surface of a board of a radius across it, from left to right: a true arc, its top at
/// 0. Straight without a radius.
fn surface(radius: Option<f64>, left: f64, right: f64) -> BezPath {
    match radius {
        Some(radius) if radius > left.abs().max(right.abs()) => {
            let angle = |x: f64| (x / radius).acos();
            let (start, end) = (angle(left), angle(right));
            Arc::new((0.0, -radius), (radius, radius), start, end - start, 0.0).to_path(1e-6)
        }
        _ => polyline([Point::new(left, 0.0), Point::new(right, 0.0)]),
    }
}

/// Continues a path to `end` by an arc of a radius that bulges up; straight where the radius
/// is too small for it.
fn over(path: &mut BezPath, end: Point, radius: f64) {
    let start = path.current_position().unwrap_or(end);
    let (half, middle) = (0.5 * (end - start), start.midpoint(end));
    let length = half.hypot();
    if length <= 0.0 || radius <= length {
        path.line_to(end);
        return;
    }
    let down = kurbo::Vec2::new(half.y, -half.x) / length;
    let centre = middle + down * (radius * radius - length * length).sqrt();
    let (from, to) = ((start - centre).atan2(), (end - centre).atan2());
    let arc = Arc::new(centre, (radius, radius), from, to - from, 0.0);
    path.extend(arc.append_iter(1e-6));
}

pub(super) fn nut(study: &Study, layout: &Layout, part: &mut Part) {
    let design = &study.design;
    // the treble lies at the left when one looks toward the bridge
    let places: Vec<f64> = design.strings.iter().map(|one| -one.nut_place.to_mm()).collect();
    let (Some(&left), Some(&right)) = (places.first(), places.last()) else {
        return;
    };
    let radius = match design.board.shape {
        BoardShape::Flat => None,
        BoardShape::Fixed { radius } => Some(radius.to_mm()),
        BoardShape::Compound { radius_nut, .. } => Some(radius_nut.to_mm()),
    };
    let lift = layout.lift(0.0);
    let slots: Vec<Point> = places
        .iter()
        .zip(&layout.strings)
        .map(|(&x, string)| Point::new(x, string.nut_v - lift))
        .collect();
    let at: Vec<(usize, f64)> = places.iter().copied().enumerate().collect();
    let labels = Labels::of(design, &at);
    let levels = labels.levels.iter().copied().max().unwrap_or(0);
    let top = slots.iter().map(|slot| slot.y).fold(0.0, f64::max) + OVER + LEVEL * levels as f64;
    let (left, right) = (left.min(right) - BEYOND, right.max(left) + BEYOND);
    let mut cut = surface(radius, left, right);
    cut.line_to((right, top));
    cut.line_to((left, top));
    cut.close_path();
    part.cut = cut;
    let ends = [Point::new(left, 0.0), Point::new(right, 0.0)];
    part.references.extend(radius.is_none().then_some(ends));
    let ways = slots.windows(2).map(|pair| (pair[1].x - pair[0].x).abs());
    let notch = ways.fold(NOTCH, |notch, way| notch.min(OF_WAY * way));
    let named = labels.texts.iter().zip(&labels.levels);
    for (slot, (text, &level)) in slots.iter().zip(named) {
        part.line(
            [
                *slot + (-notch, 6.0),
                *slot + (-notch, 0.0),
                *slot + (notch, 0.0),
                *slot + (notch, 6.0),
            ],
            Line::Visible,
        );
        let foot = 7.0 + LEVEL * level as f64;
        if level > 0 {
            part.line([*slot + (0.0, 5.0), *slot + (0.0, foot - ASIDE)], Line::Thin);
        }
        part.words(*slot + (0.0, foot), Anchor::Below, text.clone());
    }
    for (index, (string, line)) in design.strings.iter().zip(&layout.strings).enumerate() {
        let name = labels.called(index, &string.name);
        part.length(format!("Slot {name} over the board"), line.slot_over_board, 2);
    }
    labels.note(part);
    if let Nut::ZeroFret { height } = design.nut {
        part.length("Zero fret over the board", height.to_mm(), 2);
        part.notes
            .push("The strings rest on the zero fret; the nut only keeps them apart.".to_owned());
    }
    part.notes.push("Lower edge: the board's surface at the nut face.".to_owned());
}

pub(super) fn bridge(study: &Study, layout: &Layout, part: &mut Part) {
    let design = &study.design;
    // the treble lies at the right when one looks toward the nut; from left to right
    let crests: Vec<Point> = design
        .strings
        .iter()
        .zip(&layout.strings)
        .map(|(one, line)| Point::new(one.crest_place.to_mm(), line.crest_height))
        .rev()
        .collect();
    let (Some(&first), Some(&last)) = (crests.first(), crests.last()) else {
        return;
    };
    let low = crests.iter().map(|at| at.y).fold(f64::INFINITY, f64::min);
    if low < 1.0 {
        part.notes.push("A string passes below the top at the bridge.".to_owned());
    }
    let (left, right) = (first.x.min(last.x) - BEYOND, first.x.max(last.x) + BEYOND);
    let base = low.min(0.0);
    // the upper edge steps from string to string, or follows the crest they share
    let mut cut = polyline([Point::new(left, base), Point::new(left, first.y)]);
    match design.bridge.kind.shared_crest() {
        Some((radius, _)) => {
            cut.line_to(first);
            over(&mut cut, last, radius.to_mm());
        }
        None => {
            for pair in crests.windows(2) {
                let middle = 0.5 * (pair[0].x + pair[1].x);
                cut.line_to((middle, pair[0].y));
                cut.line_to((middle, pair[1].y));
            }
        }
    }
    cut.line_to((right, last.y));
    cut.line_to((right, base));
    cut.close_path();
    part.cut = cut;
    part.references = vec![[Point::new(left, base), Point::new(right, base)]];
    let numbers = (0..design.strings.len()).rev();
    let at: Vec<(usize, f64)> = numbers.zip(crests.iter().map(|crest| crest.x)).collect();
    let labels = Labels::of(design, &at);
    // on two levels they reach further down, so they begin higher
    let mark = if labels.numbered { 2.0 } else { 4.0 };
    let named = labels.texts.iter().zip(&labels.levels);
    for ((at, &(index, _)), (text, &level)) in crests.iter().zip(&at).zip(named) {
        let end = mark + LEVEL * level as f64;
        part.line([*at, *at - (0.0, end)], Line::Thin);
        part.words(*at - (0.0, end + 1.0 - ASIDE), Anchor::Above, text.clone());
        let name = design.strings.get(index).map_or("", |one| one.name.as_str());
        part.length(format!("Crest {}", labels.called(index, name)), at.y, 2);
    }
    labels.note(part);
    part.length("middle", layout.middle.crest_height, 2);
    part.notes.push(
        "Heights over the top's profile on the centre line; a top that is arched across is lower at the sides."
            .to_owned(),
    );
}

#[cfg(test)]
mod tests {
    use overstand_core::testing::worked_example;

    use super::*;

    fn labels(apart: f64) -> Labels {
        let design = worked_example();
        let places: Vec<(usize, f64)> =
            (0..design.strings.len()).map(|index| (index, apart * index as f64)).collect();
        Labels::of(&design, &places)
    }

    #[test]
    fn names_give_way_to_numbers_on_levels_where_there_is_no_room() {
        let wide = labels(7.0);
        assert!(!wide.numbered && wide.levels.iter().all(|&level| level == 0));
        assert_eq!(wide.texts[0], worked_example().strings[0].name);
        let narrow = labels(1.8);
        assert!(narrow.numbered && narrow.levels.contains(&1), "{:?}", narrow.levels);
        assert_eq!(narrow.texts[0], "1");
    }

    #[test]
    fn no_label_lies_on_another_or_on_its_leader() {
        let fonts = Fonts::bundled();
        let texts: Vec<String> =
            ["e", "e (2)", "b high", "b", "g", "a long name", "d"].map(str::to_owned).into();
        let places: Vec<(usize, f64)> =
            [0.0, 2.4, 7.0, 9.4, 14.0, 15.0, 22.0].into_iter().enumerate().collect();
        let levels = levels(&fonts, &texts, &places);
        let reach = |index: usize| {
            let half = 0.5 * fonts.width(&texts[index], LETTERS);
            (places[index].1 - half, places[index].1 + half)
        };
        for one in 0..texts.len() {
            for other in 0..texts.len() {
                let ((from, to), (start, end)) = (reach(one), reach(other));
                if one != other && levels[one] == levels[other] {
                    assert!(to <= start || end <= from, "{one} and {other}");
                }
                // the leader of the other passes by
                if levels[one] < levels[other] {
                    let x = places[other].1;
                    assert!(x <= from || to <= x, "{one} lies on the leader of {other}");
                }
            }
        }
    }
}
