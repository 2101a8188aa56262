//! `overstand strings`: what the strings pull, how hard they can be played, whether they
//! note true; and the short table of it under `check`.

use overstand_core::design::Design;
use overstand_core::layout::Layout;
use overstand_core::strings::relief_search::{self, AtRelief};
use overstand_core::strings::{Most, Strings, TRAVEL_TO_SPARE, compensation_with_nut};
use overstand_core::study::Study;
use overstand_core::units::{LengthStyle, Unit, show_number};

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

    fn table(&self) -> String {
        let newtons = |value: Option<f64>, digits: usize| {
            value.map_or_else(|| "–".to_owned(), |value| format!("{value:.digits$} N"))
        };
        let mut text = self.heading("Strings");
        let row = |cells: [String; 7]| {
            let [name, pull, down, travel, at, force, compensation] = cells;
            format!(
                "  {name:<9}{pull:>8}{down:>10}{travel:>12}{force:>9}  {at:<16}{compensation:>12}\n"
            )
        };
        let heads = ["", "pull", "on saddle", "plucked by", "stopped", "with", "true at"];
        text += &row(heads.map(str::to_owned));
        for (i, string) in self.strings.each.iter().enumerate() {
            let pull = string.pull.as_ref();
            text += &row([
                self.name(i),
                newtons(pull.map(|pull| pull.tension), 0),
                newtons(pull.and_then(|pull| Some(pull.saddle?.down)), 0),
                self.maybe_mm(string.headroom.map(|most| most.most), 2),
                string.headroom.map_or_else(|| "–".to_owned(), place),
                newtons(string.headroom_force.map(|most| most.most), 2),
                self.maybe_mm(string.intonation.as_ref().map(|one| one.compensation), 1),
            ]);
        }
        text
    }

    /// What they do together, and where the bridge should stand.
    fn together(&self) -> String {
        let all = &self.strings;
        let mut text = String::new();
        if let Some(pull) = all.pull {
            text += &format!("\n  Together they pull {pull:.0} N");
            if let Some(nut) = all.nut_force {
                text += &format!(", press {nut:.0} N on the nut");
            }
            match (all.saddle_down, all.saddle_forward) {
                (Some(down), Some(forward)) => {
                    let side = if forward < 0.0 { "nut" } else { "tail" };
                    let push = forward.abs();
                    text += &format!(
                        " and {down:.0} N on the bridge,\n  and push it {push:.0} N toward the {side}.\n"
                    );
                }
                _ => text += ".\n",
            }
        }
        if let Some(place) = all.bridge_place(self.design, self.layout) {
            let words = format!(
                "True octaves need a compensation of {} to {}. A bridge at {} from the joint, compensated by {}, stands in the middle of that; its saddles then need {} of travel, with {} to spare both ways.",
                self.mm(place.least, 1),
                self.mm(place.most, 1),
                self.mm(place.station, 1),
                self.mm(place.compensation, 1),
                self.mm(place.travel, 1),
                self.mm(TRAVEL_TO_SPARE, 0)
            );
            text += &wrap(&words, 2);
        }
        text
    }

    /// A table of string × fret, some frets to a line.
    fn grid(&self, first: usize, count: usize, cell: impl Fn(usize, usize) -> String) -> String {
        let mut text = String::new();
        let mut from = first;
        while from < count {
            let to = count.min(from + FRETS_IN_LINE);
            text += &format!("  {:<9}", "");
            for stop in from..to {
                let head = if stop == 0 { "open".to_owned() } else { stop.to_string() };
                text += &format!("{head:>CELL$}");
            }
            text.push('\n');
            for string in 0..self.strings.each.len() {
                text += &format!("  {:<9}", self.name(string));
                for stop in from..to {
                    text += &format!("{:>CELL$}", cell(string, stop));
                }
                text.push('\n');
            }
            from = to;
        }
        text
    }

    fn map(&self) -> String {
        let at = self.mm(self.design.wanted.pluck_place.to_mm(), 0);
        let (unit, scale, digits) = if self.style.is_inch() {
            ("in", 1.0 / overstand_core::units::MM_PER_INCH, 3)
        } else {
            ("mm", 1.0, 2)
        };
        let words =
            format!("Travel in {unit}, {at} from the saddle, before it touches, stopped at fret");
        self.heading(&words)
            + &self.grid(0, self.layout.positions.len(), |string, stop| {
                let most = self.strings.each[string].map.get(stop).copied().flatten();
                most.map_or_else(
                    || "–".to_owned(),
                    |most| format!("{:.digits$}", most.most * scale),
                )
            })
    }

    fn relief(&self) -> String {
        let relief = self.design.wanted.relief.to_mm();
        let (Some(best), Some(now)) =
            (relief_search::best(self.design), relief_search::at_relief(self.design, relief))
        else {
            return String::new();
        };
        let says = |at: AtRelief| {
            let travel = self.mm(at.headroom.max(0.0), 2);
            format!(
                "a relief of {} lets string {} move by {travel}",
                self.mm(at.relief, 2),
                self.name(at.string)
            )
        };
        let words = if (best.relief - now.relief).abs() < 0.005 {
            format!(
                "With the action kept, {} before it touches: no other lets it move more.",
                says(now)
            )
        } else {
            format!(
                "With the action kept, {} before it touches; best of all {}.",
                says(now),
                says(best)
            )
        };
        self.heading("Relief") + &wrap(&words, 2)
    }

    fn cents(&self) -> String {
        if self.strings.each.iter().all(|string| string.intonation.is_none()) {
            return String::new();
        }
        self.heading("Cents by which each stopped note is sharp with the crests where they are")
            + &self.grid(1, self.layout.positions.len() + 1, |string, stop| {
                let one = self.strings.each[string].intonation.as_ref();
                one.and_then(|one| one.cents.get(stop - 1))
                    .map_or_else(|| "–".to_owned(), |cents| show_number(*cents, 1))
            })
    }

    /// What moving the nut would bring, for those who do.
    fn nut(&self) -> String {
        let each: Vec<String> = (0..self.strings.each.len())
            .filter_map(|string| {
                let (nut, saddle) = compensation_with_nut(self.design, self.layout, string)?;
                let name = self.name(string);
                Some(format!("{name} {} and {}", self.mm(nut, 2), self.mm(saddle, 1)))
            })
            .collect();
        if each.is_empty() {
            return String::new();
        }
        let words = format!(
            "All frets together would be truest with the nut moved toward the bridge by the first and the crest set back by the second: {}. The layout leaves the nut where it is.",
            each.join("; ")
        );
        self.heading("With a nut filed for each string") + &wrap(&words, 2)
    }
}

/// Where a string touches first.
fn place(most: Most) -> String {
    let Most { stop, fret, .. } = most;
    if stop == 0 { format!("open touches {fret}") } else { format!("at {stop} touches {fret}") }
}
