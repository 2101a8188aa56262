//! The worked sheet on paper: every step from the held dimensions to the verdict, to be
//! followed by hand with a calculator.

use kurbo::Point;
use overstand_core::study::Study;
use overstand_core::working::{Section, Step, Term, WorkedSheet};

use super::words::{Ink, LARGE, LEADING, PLAIN, SMALL, fit, wrap};
use super::{Choices, Page, Paper, PaperError, Ply, Wanted};
use crate::font::Fonts;
use crate::scene::{Anchor, Line};

/// Least height and width between the margins, mm.
const LEAST: (f64, f64) = (120.0, 120.0);
/// Narrowest column, and between columns, mm.
const COLUMN: f64 = 84.0;
const GUTTER: f64 = 6.0;
/// By how much what belongs to a step is set in, and its second lines, mm.
const UNDER: f64 = 7.0;
const HUNG: f64 = 9.5;
/// Blank paper above a step and above a heading, mm.
const APART: f64 = 1.0;
const ABOVE: f64 = 3.0;

/// The worked sheet of a design on paper. Lengths stand in millimetres whatever the choice.
///
/// # Errors
/// [`PaperError::Nothing`] if the design does not close, [`PaperError::NoSheet`] if the paper
/// is a roll or holds too little.
pub fn worked_sheet(study: &Study, wanted: &Wanted) -> Result<Paper, PaperError> {
    let Some(sheet) = WorkedSheet::of(study) else {
        return Err(PaperError::Nothing(study.reason().show(wanted.lengths)));
    };
    if !wanted.holds(LEAST) {
        return Err(PaperError::NoSheet { what: "worked sheet", sheet: wanted.sheet.name() });
    }
    let choices = wanted.choices();
    let room = wanted.room();
    let columns = (((room.0 + GUTTER) / (COLUMN + GUTTER)) as usize).max(1);
    let mut setter = Setter {
        study,
        wanted,
        sheet: &sheet,
        choices: &choices,
        fonts: Fonts::bundled(),
        room,
        columns,
        wide: (room.0 - GUTTER * (columns - 1) as f64) / columns as f64,
        column: 0,
        y: 0.0,
        top: 0.0,
        inks: Vec::new(),
    };
    setter.first();
    let mut number = 0;
    for section in &sheet.sections {
        number = setter.section(section, number);
    }
    setter.sources();
    let title = format!("{}, worked sheet", study.design.name.trim());
    Ok(Paper { title, date: wanted.date, pages: setter.finish(), tiled: Vec::new() })
}

/// One line of words, from the left of its column.
struct Words {
    x: f64,
    capitals: f64,
    text: String,
    /// What stands at the very left of it: the number of a step.
    mark: String,
}

struct Setter<'a> {
    study: &'a Study,
    wanted: &'a Wanted,
    sheet: &'a WorkedSheet,
    choices: &'a Choices,
    fonts: Fonts,
    room: (f64, f64),
    columns: usize,
    wide: f64,
    /// Where the next line stands: column, height, and the top of the columns of this page.
    column: usize,
    y: f64,
    top: f64,
    inks: Vec<Ink<'a>>,
}

impl Setter<'_> {
    /// Lowest place of a line: the foot stands below.
    fn floor(&self) -> f64 {
        LEADING * SMALL + 2.5
    }

    fn name(&self) -> String {
        let variant = self.study.design.name.trim();
        match &self.wanted.design {
            Some(design) => format!("Design: {} · Variant: {variant}", design.trim()),
            None => format!("Variant: {variant}"),
        }
    }

    fn turn_page(&mut self) {
        let mut ink = Ink::new(self.choices);
        if !self.inks.is_empty() {
            let text = format!("Worked sheet · {} · {}", self.name(), self.wanted.date);
            let text = fit(&self.fonts, &text, PLAIN, self.room.0);
            self.top = ink.lines(PLAIN, Point::new(0.0, self.room.1), [text]) - 1.0;
        }
        self.inks.push(ink);
        (self.column, self.y) = (0, self.top);
    }

    /// The title block.
    fn first(&mut self) {
        self.turn_page();
        let mut lines = wrap(&self.fonts, &self.name(), PLAIN, self.room.0);
        lines.truncate(2);
        let word = self.study.word().show();
        let reason = self.study.reason().show(overstand_core::units::LengthStyle::Millimetres);
        let verdict = format!("{word}. {reason}");
        let says: Vec<String> = std::iter::once(&verdict)
            .chain(&self.sheet.says)
            .flat_map(|says| wrap(&self.fonts, says, SMALL, self.room.0))
            .collect();
        let (wide, date) = (self.room.0, self.wanted.date.to_string());
        let top = self.room.1;
        let Some(ink) = self.inks.last_mut() else { return };
        let at = Point::new(wide, top - 0.5 * LARGE);
        ink.words(Ply::Words, LARGE, at, Anchor::Right, date);
        let mut y = ink.lines(LARGE, Point::new(0.0, top), ["Worked sheet".to_owned()]);
        y = ink.lines(PLAIN, Point::new(0.0, y), lines);
        y = ink.lines(SMALL, Point::new(0.0, y - 0.5), says);
        ink.line(Ply::Drawing, Line::Thin, [Point::new(0.0, y), Point::new(wide, y)]);
        self.top = y - 1.5;
        self.y = self.top;
    }

    /// Puts lines that are not torn apart.
    fn put(&mut self, above: f64, lines: Vec<Words>) {
        let high: f64 = lines.iter().map(|line| LEADING * line.capitals).sum();
        let is_top = self.y >= self.top;
        if !is_top && self.y - above - high < self.floor() {
            if self.column + 1 < self.columns {
                self.column += 1;
                self.y = self.top;
            } else {
                self.turn_page();
            }
        } else if !is_top {
            self.y -= above;
        }
        let left = self.column as f64 * (self.wide + GUTTER);
        for line in lines {
            // what is longer than a column goes on in the next
            if self.y - LEADING * line.capitals < 0.0 {
                self.turn_page();
            }
            let at = Point::new(left + line.x, self.y - 0.5 * line.capitals);
            self.y -= LEADING * line.capitals;
            let Some(ink) = self.inks.last_mut() else { return };
            if !line.mark.is_empty() {
                let at = Point::new(left, at.y);
                ink.words(Ply::Words, line.capitals, at, Anchor::Left, line.mark);
            }
            ink.words(Ply::Words, line.capitals, at, Anchor::Left, line.text);
        }
    }

    /// Lines of some words between two places of the column; the second ones hang.
    fn broken(&self, text: &str, from: f64, hung: f64, capitals: f64) -> Vec<Words> {
        wrap(&self.fonts, text, capitals, self.wide - hung)
            .iter()
            .enumerate()
            .map(|(index, line)| Words {
                x: if index == 0 { from } else { hung },
                capitals,
                text: fit(&self.fonts, line, capitals, self.wide - hung),
                mark: String::new(),
            })
            .collect()
    }

    /// A section; its steps count on from a number.
    fn section(&mut self, section: &Section, mut number: usize) -> usize {
        let mut head = self.broken(&section.title, 0.0, 0.0, PLAIN);
        if !section.says.is_empty() {
            head.extend(self.broken(&section.says, 0.0, 0.0, SMALL));
        }
        let mut above = ABOVE;
        for term in &section.given {
            head.extend(self.given(term));
            // the first step stays with the heading, unless the list between is long
            if head.len() > 16 {
                self.put(above, std::mem::take(&mut head));
                above = 0.0;
            }
        }
        for step in &section.steps {
            number += 1;
            let apart = if head.is_empty() { APART } else { above };
            let mut lines = std::mem::take(&mut head);
            lines.extend(self.step(number, step, section.own_letters));
            self.put(apart, lines);
            above = APART;
        }
        number
    }

    fn given(&self, term: &Term) -> Vec<Words> {
        let text = format!("{} = {}  {}", term.symbol, term.text(), term.name);
        self.broken(&text, UNDER, HUNG, SMALL)
    }

    fn step(&self, number: usize, step: &Step, own_letters: bool) -> Vec<Words> {
        let mut lines = self.broken(&capital(&step.name), UNDER, UNDER, SMALL);
        if let Some(first) = lines.first_mut() {
            first.mark = number.to_string();
        }
        let mut formula = step.formula();
        if own_letters {
            let letters = step.working.terms.iter();
            let told: Vec<String> =
                letters.map(|term| format!("{} {}", term.symbol, term.name)).collect();
            if !told.is_empty() {
                formula += &format!("  ({})", told.join(", "));
            }
        }
        lines.extend(self.broken(&formula, UNDER, HUNG, SMALL));
        let source = self.sheet.source(step);
        // the source stays with the result
        let result = step.result().replace(' ', "\u{a0}");
        let sum = format!("= {} =\u{a0}{result}\u{a0}[{source}]", step.working.put_in());
        lines.extend(self.broken(&sum, UNDER, HUNG, SMALL));
        lines
    }

    fn sources(&mut self) {
        let mut lines = self.broken("Sources", 0.0, 0.0, PLAIN);
        for (index, source) in self.sheet.sources.iter().enumerate() {
            let text = format!("[{}] {}", index + 1, capital(source));
            lines.extend(self.broken(&text, 0.0, UNDER, SMALL));
        }
        self.put(ABOVE, lines);
    }

    fn finish(self) -> Vec<Page> {
        let count = self.inks.len();
        let note = "Plan and reminder, no drawing to cut by: what is cut stands on the cut sheet.";
        let mut pages = Vec::with_capacity(count);
        for (index, mut ink) in self.inks.into_iter().enumerate() {
            let high = LEADING * SMALL;
            let ends = [0.0, self.room.0].map(|x| Point::new(x, high + 1.0));
            ink.line(Ply::Drawing, Line::Thin, ends);
            let y = high - 0.5 * SMALL;
            let text = fit(&self.fonts, note, SMALL, self.room.0 - 28.0);
            ink.words(Ply::Words, SMALL, Point::new(0.0, y), Anchor::Left, text);
            let page = format!("page {} of {count}", index + 1);
            ink.words(Ply::Words, SMALL, Point::new(self.room.0, y), Anchor::Right, page);
            pages.push(self.wanted.page(index + 1, ink.layers()));
        }
        pages
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use overstand_core::testing::worked_example;
    use overstand_core::units::LengthStyle;
    use overstand_core::working::reckon;

    use super::*;
    use crate::scene::Item;

    fn sheet(paper: &str) -> Result<Paper, PaperError> {
        let wanted = Wanted::of_test(paper, LengthStyle::InchDecimal);
        worked_sheet(&Study::of(&worked_example()), &wanted)
    }

    /// What is printed, line by line in the order it is read.
    fn lines(paper: &Paper) -> Vec<String> {
        let layers = paper.pages.iter().flat_map(|page| &page.layers);
        layers
            .flat_map(|layer| &layer.scene.shapes)
            .filter_map(|shape| match &shape.item {
                Item::Text { text, .. } => Some(text.clone()),
                _ => None,
            })
            .collect()
    }

    /// The third line of every step: what is typed, and what it must come to.
    fn sums(paper: &Paper) -> Vec<(String, String)> {
        let mut sums = Vec::new();
        let mut open: Option<String> = None;
        for line in lines(paper) {
            match &mut open {
                None if line.starts_with("= ") => open = Some(line),
                None => continue,
                Some(text) => *text += &format!(" {line}"),
            }
            let whole = open.take_if(|text| text.ends_with(']'));
            if let Some((sum, _)) = whole.as_ref().and_then(|text| text.rsplit_once(" [")) {
                let (typed, result) = sum.rsplit_once(" = ").unwrap();
                sums.push((typed.trim_start_matches("= ").to_owned(), result.to_owned()));
            }
        }
        sums
    }

    /// Numbers of a text: where they stand, and half of their last digit.
    fn numbers(text: &str) -> Vec<(std::ops::Range<usize>, f64)> {
        let is_of_number = |letter: char| letter.is_ascii_digit() || letter == '.';
        let mut found = Vec::new();
        let mut rest = 0;
        while let Some(start) = text[rest..].find(|letter: char| letter.is_ascii_digit()) {
            let start = rest + start;
            let end = text[start..].find(|letter| !is_of_number(letter));
            let end = end.map_or(text.len(), |end| start + end);
            let decimals = text[start..end].split_once('.').map(|(_, decimals)| decimals.len());
            // a number without decimals is exact: a rounded one keeps the zeros at its end
            let half = decimals.map_or(0.0, |count| 0.5 * 10.0_f64.powi(-(count as i32)));
            found.push((start..end, half));
            rest = end;
        }
        found
    }

    /// The sheet is followed by hand: each third line is reckoned out as it stands and comes
    /// to what is printed, within half of the last digit of each number that is put in and of
    /// the result. How much a number weighs is found by putting it in half a digit larger.
    #[test]
    fn it_can_be_followed_by_hand() {
        let paper = sheet("A4").unwrap();
        let sums = sums(&paper);
        // every string has a dozen steps of its own at least
        assert!(sums.len() > 6 * 12, "{}", sums.len());
        for (typed, result) in sums {
            let value = reckon(&typed).unwrap_or_else(|| panic!("{typed}"));
            let number = result.split([' ', '°']).next().unwrap();
            let (printed, last) = (number.parse::<f64>().unwrap(), numbers(number));
            let mut within = last.first().map_or(0.0, |(_, half)| *half);
            for (place, half) in numbers(&typed) {
                let put: f64 = typed[place.clone()].parse().unwrap();
                let more =
                    format!("{}{:.13}{}", &typed[..place.start], put + half, &typed[place.end..]);
                within += (reckon(&more).unwrap() - value).abs();
            }
            // what half a digit weighs may bend a little over that half
            within = 1.01 * within + 1e-9;
            assert!((value - printed).abs() <= within, "{typed} = {value}, printed {result}");
        }
    }

    #[test]
    fn its_last_steps_are_what_the_window_shows() {
        let study = Study::of(&worked_example());
        let paper = sheet("A4").unwrap();
        let sums = sums(&paper);
        let height = study.layout().unwrap().middle.crest_height;
        let (_, result) = sums.iter().find(|(_, result)| result.starts_with("22.77")).unwrap();
        let printed: f64 = result.split(' ').next().unwrap().parse().unwrap();
        // half of the last of four printed digits
        assert!((printed - height).abs() <= 0.5e-4, "{result}");
    }

    #[test]
    fn nothing_runs_off_the_paper() {
        for name in ["A4", "Letter", "148x210mm", "A3"] {
            let paper = sheet(name).unwrap();
            let fonts = Fonts::bundled();
            for page in &paper.pages {
                for layer in &page.layers {
                    for shape in &layer.scene.shapes {
                        let Item::Text { at, anchor: Anchor::Left, text } = &shape.item else {
                            continue;
                        };
                        let wide = fonts.width(text, layer.look.lettering);
                        assert!(at.x + wide <= page.room.0 + 0.01, "{name}: {text}");
                        assert!(at.y >= 0.0 && at.y <= page.room.1, "{name}: {text}");
                    }
                }
            }
        }
    }

    #[test]
    fn none_of_a_design_that_does_not_close_and_none_on_a_roll() {
        assert!(matches!(sheet("roll610"), Err(PaperError::NoSheet { .. })));
        let mut design = worked_example();
        design.found.clear();
        design.bridge.crest_height = overstand_core::units::Length::mm(40.0);
        let wanted = Wanted::of_test("A4", LengthStyle::Millimetres);
        let none = worked_sheet(&Study::of(&design), &wanted);
        assert!(matches!(none, Err(PaperError::Nothing(_))));
    }
}
