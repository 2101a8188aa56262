//! The fitting log on paper: how the fit comes nearer to the plan, and every round of it.

use kurbo::Point;
use overstand_core::dryfit::{CAUTIONS, Round, Step, convergence};
use overstand_core::study::Study;
use overstand_core::units::Unit;

use super::words::{Ink, LARGE, LEADING, PLAIN, SMALL, fit, look, wrap};
use super::{Choices, Page, Paper, PaperError, Ply, Wanted};
use crate::font::Fonts;
use crate::look::Look;
use crate::scene::{Anchor, Line};

/// Height of the chart, mm.
const CHART: f64 = 42.0;
/// Room beside the chart for its scale, and at the right of it.
const SCALE: f64 = 22.0;
/// Columns of the table of rounds, as parts of the width: round, day, pitch, overstand,
/// crest, off the plan.
const COLUMNS: [f64; 6] = [0.0, 0.06, 0.2, 0.38, 0.61, 0.76];
/// Least height and width between the margins, mm.
const LEAST: (f64, f64) = (120.0, 120.0);

/// The fitting log of a design on paper.
///
/// # Errors
/// [`PaperError::Nothing`] if the design does not close or has no log,
/// [`PaperError::NoSheet`] if the paper is a roll or holds too little.
pub fn fitting_log(study: &Study, wanted: &Wanted) -> Result<Paper, PaperError> {
    if study.layout().is_none() {
        return Err(PaperError::Nothing(study.reason().show(wanted.lengths)));
    }
    if study.design.fitting.is_empty() {
        return Err(PaperError::Nothing("the fitting log has no round".to_owned()));
    }
    if !wanted.holds(LEAST) {
        return Err(PaperError::NoSheet { what: "fitting log", sheet: wanted.sheet.name() });
    }
    let choices = wanted.choices();
    let setter = Setter {
        study,
        wanted,
        look: look(&choices, PLAIN),
        steps: convergence(study),
        choices: &choices,
        fonts: Fonts::bundled(),
        room: wanted.room(),
    };
    let name = study.design.name.trim();
    let title = format!("{name}, fitting log");
    Ok(Paper { title, date: wanted.date, pages: setter.pages(), tiled: Vec::new() })
}

struct Setter<'a> {
    study: &'a Study,
    wanted: &'a Wanted,
    choices: &'a Choices,
    look: Look,
    steps: Vec<Step>,
    fonts: Fonts,
    room: (f64, f64),
}

impl Setter<'_> {
    fn length(&self, value: f64, digits: usize) -> String {
        self.look.value(value, Unit::Length, digits)
    }

    fn angle(&self, degrees: f64) -> String {
        self.look.value(degrees, Unit::Angle, 2)
    }

    fn pages(&self) -> Vec<Page> {
        let mut ink = Ink::new(self.choices);
        let mut inks = Vec::new();
        let foot = self.foot().len() as f64 * LEADING * SMALL + 3.0;
        let mut y = self.head(&mut ink);
        y = self.chart(&mut ink, y) - 4.0;
        y = self.heads(&mut ink, y);
        for index in 0..self.steps.len() {
            if y - LEADING * PLAIN < foot {
                inks.push(std::mem::replace(&mut ink, Ink::new(self.choices)));
                y = self.other_head(&mut ink);
                y = self.heads(&mut ink, y);
            }
            y = self.row(&mut ink, y, index);
        }
        for (index, round) in self.study.design.fitting.iter().enumerate() {
            let (title, lines) = self.round(index, round);
            let line = LEADING * PLAIN;
            y -= 0.8 * line;
            // a round's heading keeps two lines with it
            if y - LARGE - 3.0 * line < foot {
                inks.push(std::mem::replace(&mut ink, Ink::new(self.choices)));
                y = self.other_head(&mut ink);
            }
            y = ink.lines(LARGE, Point::new(0.0, y), [title]);
            for text in lines {
                if y - line < foot {
                    inks.push(std::mem::replace(&mut ink, Ink::new(self.choices)));
                    y = self.other_head(&mut ink);
                }
                y = ink.lines(PLAIN, Point::new(3.0, y), [text]);
            }
        }
        inks.push(ink);
        let count = inks.len();
        inks.into_iter().enumerate().map(|(index, ink)| self.page(ink, index + 1, count)).collect()
    }

    /// Usual care, at the foot of every page.
    fn foot(&self) -> Vec<String> {
        wrap(&self.fonts, &CAUTIONS.join(" "), SMALL, self.room.0 - 28.0)
    }

    fn page(&self, mut ink: Ink<'_>, number: usize, count: usize) -> Page {
        let words = self.foot();
        let high = LEADING * SMALL * words.len() as f64;
        let ends = [0.0, self.room.0].map(|x| Point::new(x, high + 1.0));
        ink.line(Ply::Drawing, Line::Thin, ends);
        ink.lines(SMALL, Point::new(0.0, high), words);
        let page = format!("page {number} of {count}");
        let at = Point::new(self.room.0, high - 0.5 * SMALL);
        ink.words(Ply::Words, SMALL, at, Anchor::Right, page);
        self.wanted.page(number, ink.layers())
    }

    fn head(&self, ink: &mut Ink<'_>) -> f64 {
        let date = Point::new(self.room.0, self.room.1 - 0.5 * LARGE);
        ink.words(Ply::Words, LARGE, date, Anchor::Right, self.wanted.date.to_string());
        let top = Point::new(0.0, self.room.1);
        let y = ink.lines(LARGE, top, ["Fitting log".to_owned()]);
        let name = fit(&self.fonts, &self.name(), PLAIN, self.room.0);
        ink.lines(PLAIN, Point::new(0.0, y), [name]) - 2.0
    }

    fn name(&self) -> String {
        let variant = self.study.design.name.trim();
        match &self.wanted.design {
            Some(design) => format!("Design: {} · Variant: {variant}", design.trim()),
            None => format!("Variant: {variant}"),
        }
    }

    fn other_head(&self, ink: &mut Ink<'_>) -> f64 {
        let text = format!("Fitting log · {} · {}", self.name(), self.wanted.date);
        let text = fit(&self.fonts, &text, PLAIN, self.room.0);
        ink.lines(PLAIN, Point::new(0.0, self.room.1), [text]) - 2.0
    }

    /// The crest's miss of the plan, round by round, with two errors either way.
    fn chart(&self, ink: &mut Ink<'_>, top: f64) -> f64 {
        let told: Vec<(usize, f64, f64)> = self
            .steps
            .iter()
            .filter_map(|step| step.miss.map(|miss| (step.round, miss.value, miss.error)))
            .collect();
        if told.is_empty() {
            return top;
        }
        let title = "Crest needed, off the plan, with two reading errors either way";
        let title = fit(&self.fonts, title, PLAIN, self.room.0);
        let top = ink.lines(PLAIN, Point::new(0.0, top), [title]);
        let reach =
            told.iter().map(|(_, miss, error)| miss.abs() + 2.0 * error).fold(0.1, f64::max);
        let middle = top - 0.5 * CHART;
        let y = |miss: f64| middle + miss / reach * 0.45 * CHART;
        let count = self.steps.len().max(2) as f64;
        let wide = self.room.0 - SCALE - 6.0;
        let x = |round: usize| SCALE + wide * (round as f64 + 0.5) / count;
        let frame = |level: f64| [SCALE, self.room.0].map(|x| Point::new(x, level));
        ink.line(Ply::Drawing, Line::Centre, frame(middle));
        for level in [-reach, 0.0, reach] {
            let text = self.length(level, 1);
            let at = Point::new(SCALE - 2.0, y(level));
            ink.words(Ply::Words, SMALL, at, Anchor::Right, text);
            if level != 0.0 {
                ink.line(Ply::Drawing, Line::Thin, frame(y(level)));
            }
        }
        let points = told.iter().map(|(round, miss, _)| Point::new(x(*round), y(*miss)));
        ink.line(Ply::Drawing, Line::Visible, points);
        for (round, miss, error) in &told {
            let at = x(*round);
            let bar = [miss - 2.0 * error, miss + 2.0 * error].map(|one| Point::new(at, y(one)));
            ink.line(Ply::Drawing, Line::Thin, bar);
            for end in bar {
                ink.line(Ply::Drawing, Line::Thin, [end - (1.2, 0.0), end + (1.2, 0.0)]);
            }
            let corner = Point::new(at, y(*miss));
            ink.rect(Ply::Drawing, Line::Visible, corner - (0.7, 0.7), corner + (0.7, 0.7));
            let under = Point::new(at, top - CHART);
            ink.words(Ply::Words, SMALL, under, Anchor::Below, (round + 1).to_string());
        }
        top - CHART - 1.0
    }

    fn cells(&self, ink: &mut Ink<'_>, y: f64, cells: [String; 6]) -> f64 {
        for (i, (start, text)) in COLUMNS.into_iter().zip(cells).enumerate() {
            let end = COLUMNS.get(i + 1).copied().unwrap_or(1.0);
            let text = fit(&self.fonts, &text, PLAIN, (end - start) * self.room.0 - 1.0);
            let at = Point::new(start * self.room.0, y - 0.5 * PLAIN);
            ink.words(Ply::Words, PLAIN, at, Anchor::Left, text);
        }
        y - LEADING * PLAIN
    }

    fn heads(&self, ink: &mut Ink<'_>, y: f64) -> f64 {
        let names = ["", "Day", "Pitch", "Overstand", "Crest", "Off the plan"];
        let y = self.cells(ink, y, names.map(str::to_owned));
        let rule = [0.0, self.room.0].map(|x| Point::new(x, y + 0.4 * PLAIN));
        ink.line(Ply::Drawing, Line::Thin, rule);
        y
    }

    fn row(&self, ink: &mut Ink<'_>, y: f64, index: usize) -> f64 {
        let (step, round) = (&self.steps[index], &self.study.design.fitting[index]);
        let number = (index + 1).to_string();
        let day = round.on.to_string();
        let cells = match (&step.told, step.miss) {
            (Ok((told, crest)), Some(miss)) => [
                number,
                day,
                format!(
                    "{} ± {}",
                    self.angle(told.pitch.to_degrees()),
                    self.angle(told.pitch_error().to_degrees())
                ),
                format!(
                    "{} ± {}",
                    self.length(told.overstand, 2),
                    self.length(told.overstand_error(), 2)
                ),
                self.length(crest.value, 2),
                format!("{} ± {}", self.length(miss.value, 2), self.length(miss.error, 2)),
            ],
            _ => [
                number,
                day,
                "the readings tell too little".to_owned(),
                String::new(),
                String::new(),
                String::new(),
            ],
        };
        self.cells(ink, y, cells)
    }

    /// Heading and lines of a round.
    fn round(&self, index: usize, round: &Round) -> (String, Vec<String>) {
        let glued = if round.glued { ", glued" } else { "" };
        let title = format!("Round {} · {}{glued}", index + 1, round.on);
        let mut lines = Vec::new();
        let room = self.room.0 - 3.0;
        let mut say = |text: &str| {
            for line in wrap(&self.fonts, text, PLAIN, room) {
                lines.push(fit(&self.fonts, &line, PLAIN, room));
            }
        };
        for reading in &round.readings {
            let show = |value: f64| {
                if reading.what.is_angle() { self.angle(value) } else { self.length(value, 2) }
            };
            let day = reading.on.map(|day| format!(" ({day})")).unwrap_or_default();
            let value = show(reading.what.value());
            let name = capital(&reading.what.name().show(self.wanted.lengths));
            say(&format!("{name}: {value} ± {}{day}", show(reading.error)));
        }
        if let Ok((told, _)) = &self.steps[index].told
            && let Some(contradiction) = &told.contradiction
        {
            say(&contradiction.says.show(self.wanted.lengths));
        }
        if let Err(untold) = &self.steps[index].told {
            say(&untold.says.show(self.wanted.lengths));
        }
        match &round.done {
            Some(done) => say(&format!("Done: {}", done.says().within().show(self.wanted.lengths))),
            None => say("Done: nothing yet."),
        }
        for line in round.note.lines().filter(|line| !line.trim().is_empty()) {
            say(line);
        }
        (title, lines)
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Item;
    use overstand_core::design::Date;
    use overstand_core::dryfit::{DryFit, Kind};
    use overstand_core::testing::worked_example;
    use overstand_core::units::LengthStyle;

    fn logged(rounds: u8) -> Study {
        let mut design = worked_example();
        for round in 0..rounds {
            let miss = 1.2 / f64::from(round + 1);
            let readings = [(250.0, 20.2 - miss), (110.0, 12.87 - 0.5 * miss)]
                .map(|(x, height)| format!("crowns@X={x}:{height:.2}").parse().unwrap())
                .to_vec();
            let fit = DryFit::of(&Study::of(&design), &readings).unwrap();
            let done = fit.correction(Kind::MouthOff).map(|one| one.done(false));
            design.fitting.push(Round {
                on: Date::new(2026, 3, 1 + round % 28).unwrap(),
                glued: false,
                note: format!("note {round}: {}", "the floor was still damp ".repeat(8)),
                readings,
                done,
            });
        }
        Study::of(&design)
    }

    #[test]
    fn nothing_runs_off_the_page_or_is_left_out() {
        for (rounds, sheet) in [(1, "A4"), (4, "Letter"), (40, "A4"), (9, "150x215mm")] {
            for lengths in [LengthStyle::Millimetres, LengthStyle::InchDecimal] {
                let paper = fitting_log(&logged(rounds), &Wanted::of_test(sheet, lengths)).unwrap();
                let fonts = Fonts::bundled();
                let mut all = String::new();
                for page in &paper.pages {
                    for layer in &page.layers {
                        let size = layer.look.lettering;
                        for shape in &layer.scene.shapes {
                            if let Item::Text { at, anchor, text } = &shape.item {
                                let wide = fonts.width(text, size);
                                let left = match anchor {
                                    Anchor::Left => at.x,
                                    Anchor::Right => at.x - wide,
                                    _ => at.x - 0.5 * wide,
                                };
                                assert!(left > -1e-6 && left + wide < page.room.0 + 1e-6, "{text}");
                                assert!(at.y > 0.0 && at.y < page.room.1, "{text}");
                                all.push_str(text);
                                all.push(' ');
                            }
                        }
                    }
                }
                for round in 1..=rounds {
                    assert!(all.contains(&format!("Round {round} ·")), "{round}");
                    assert!(all.contains(&format!("note {}:", round - 1)));
                }
                assert!(all.contains("Done: off the seat at the mouth"), "{all}");
                assert!(all.contains(&format!("page 1 of {}", paper.pages.len())));
            }
        }
    }

    #[test]
    fn without_a_round_there_is_no_log() {
        let error =
            fitting_log(&logged(0), &Wanted::of_test("A4", LengthStyle::Millimetres)).unwrap_err();
        assert!(error.to_string().contains("no round"), "{error}");
        let small = Wanted::of_test("roll610", LengthStyle::Millimetres);
        assert_eq!(
            fitting_log(&logged(1), &small).unwrap_err().to_string(),
            "no fitting log fits on roll of 610 mm, expected single sheets such as A4 or Letter"
        );
    }
}
