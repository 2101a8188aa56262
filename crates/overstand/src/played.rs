//! `overstand strings`: what the strings pull, how hard they can be played, whether they
//! note true; and the short table of it under `check`.

use overstand_core::design::Design;
use overstand_core::layout::Layout;
use overstand_core::strings::relief_search::{self, AtRelief};
use overstand_core::strings::{Most, Strings, compensation_with_nut};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit};

use crate::text::{Paint, Tone, wrap};
use crate::units;

/// Columns of a cell of the map.
const CELL: usize = 6;
/// Frets that a line of the map shows.
const FRETS_IN_LINE: usize = 10;

struct Page<'a> {
    design: &'a Design,
    layout: &'a Layout,
    strings: Strings,
    style: LengthStyle,
    paint: Paint,
}

/// The short table.
pub(crate) fn table(study: &Study, layout: &Layout, style: LengthStyle, paint: Paint) -> String {
    Page::new(study, layout, style, paint).table()
}

/// The whole answer.
pub(crate) fn report(study: &Study, layout: &Layout, style: LengthStyle, paint: Paint) -> String {
    let page = Page::new(study, layout, style, paint);
    let name = paint.tint(Tone::Heading, study.design.name.trim());
    format!(
        "{name}\n{}{}{}{}{}{}",
        page.table(),
        page.together(),
        page.map(),
        page.relief(),
        page.cents(),
        page.nut()
    )
}

impl<'a> Page<'a> {
    fn new(study: &'a Study, layout: &'a Layout, style: LengthStyle, paint: Paint) -> Self {
        let strings = Strings::of(&study.design, layout);
        Self { design: &study.design, layout, strings, style, paint }
    }

    fn mm(&self, value: f64, digits: usize) -> String {
        units::show(value, Unit::Length, digits, self.style)
    }

    fn maybe_mm(&self, value: Option<f64>, digits: usize) -> String {
        value.map_or_else(|| "–".to_owned(), |value| self.mm(value, digits))
    }

    fn heading(&self, words: &str) -> String {
        format!("\n{}\n", self.paint.tint(Tone::Heading, words))
    }

    fn name(&self, string: usize) -> String {
        let name = self.design.strings.get(string).map_or("", |string| string.name.trim());
        let short: String = name.chars().take(8).collect();
        if short.is_empty() { (string + 1).to_string() } else { short }
    }

    /// Where a string touches first: the stop and the fret.
    fn place(&self, most: Most) -> String {
        let Most { stop, fret, .. } = most;
        if stop == 0 { format!("open, {fret}") } else { format!("{stop}, {fret}") }
    }

    fn table(&self) -> String {
        let mut text = self.heading("Strings");
        text += &format!(
            "  {:<9}{:>9}{:>10}{:>9}{:>10}{:>12}{:>9}{:>11}\n",
            "", "tension", "on saddle", "moves", "stop, on", "", "force", "true at"
        )
        .replace("            ", " ");
        for (i, string) in self.strings.each.iter().enumerate() {
            let newtons = |value: Option<f64>, digits: usize| {
                value.map_or_else(|| "–".to_owned(), |value| format!("{value:.digits$} N"))
            };
            let pull = string.pull.as_ref();
            text += &format!(
                "  {:<9}{:>9}{:>10}{:>11}{:>10}{:>9}{:>11}\n",
                self.name(i),
                newtons(pull.map(|pull| pull.tension), 0),
                newtons(pull.and_then(|pull| Some(pull.saddle?.down)), 0),
                self.maybe_mm(string.headroom.map(|most| most.most), 2),
                string.headroom.map_or_else(|| "–".to_owned(), |most| self.place(most)),
                newtons(string.headroom_force.map(|most| most.most), 2),
                self.maybe_mm(string.intonation.as_ref().map(|one| one.compensation), 1),
            );
        }
        text
    }
}
