//! What `check` says to someone who reads it.

use overstand_core::design::Design;
use overstand_core::dimension::{Dim, Key, Role};
use overstand_core::layout::{Conflict, Layout};
use overstand_core::study::{Closed, Open, Study};
use overstand_core::units::{LengthStyle, Unit};
use overstand_core::verdict::{Check, Remedy, State, Word, remedies};

use crate::played;
use crate::text::{Paint, Tone, marked, wrap};
use crate::units;

/// Dimensions that are always shown; others when they are found or held as a target.
const MAIN: [Dim; 16] = [
    Dim::ScaleLength,
    Dim::Pitch,
    Dim::Overstand,
    Dim::JointOffset,
    Dim::BoardThickness,
    Dim::Crown,
    Dim::Relief,
    Dim::FirstFretTreble,
    Dim::FirstFretBass,
    Dim::ActionTreble,
    Dim::ActionBass,
    Dim::CrestHeight,
    Dim::Station,
    Dim::Compensation,
    Dim::TailHeight,
    Dim::HeadDrop,
];

/// Indent of what belongs to a check.
const UNDER: usize = 9;

/// The whole answer as text, for one of the variants of a file.
pub(crate) fn report(
    study: &Study,
    variants: &[Design],
    style: LengthStyle,
    paint: Paint,
) -> String {
    let page = Page { study, style, paint };
    let mut text = page.head(variants);
    if let Err(Open::Conflict(conflict)) = &study.outcome {
        text += &page.conflict(conflict);
    }
    text += &page.dimensions();
    if let Some(closed) = study.closed() {
        text += &page.straightedge(&closed.layout);
        if study.design.strings.iter().any(|string| string.note.is_some()) {
            text += &played::table(study, &closed.layout, style, paint);
        }
        text += &page.checks(closed);
    }
    text
}

struct Page<'a> {
    study: &'a Study,
    style: LengthStyle,
    paint: Paint,
}

impl Page<'_> {
    fn show(&self, value: f64, unit: Unit, digits: usize) -> String {
        units::show(value, unit, digits, self.style)
    }

    fn of_dim(&self, dim: Dim, value: f64) -> String {
        self.show(value, dim.info().unit, dim.info().digits)
    }

    /// A value with enough digits to be told from the one that stands, which may differ
    /// by less than matters at the bench.
    fn told_apart(&self, dim: Dim, value: f64, stands: f64) -> String {
        let info = dim.info();
        let shown = |value, digits| self.show(value, info.unit, digits);
        (info.digits..=info.digits + 8)
            .find(|&digits| shown(value, digits) != shown(stands, digits))
            .map_or_else(|| self.of_dim(dim, value), |digits| shown(value, digits))
    }

    fn heading(&self, words: &str) -> String {
        format!("\n{}\n", self.paint.tint(Tone::Heading, words))
    }

    /// Name of the design, the word, and why.
    fn head(&self, variants: &[Design]) -> String {
        let word = self.study.word();
        let tone = match word {
            Word::Plays => Tone::Good,
            Word::PlaysThin => Tone::Thin,
            Word::Fails | Word::DoesNotClose => Tone::Fails,
        };
        let name = self.paint.tint(Tone::Heading, self.study.design.name.trim());
        let others: Vec<String> = variants
            .iter()
            .filter(|other| other.name != self.study.design.name)
            .map(|other| format!("`{}`", other.name))
            .collect();
        let mut text = format!("{name}\n");
        if !others.is_empty() {
            text += &wrap(&format!("(other variants: {})", others.join(", ")), 0);
        }
        text += &format!("\n  {}\n", self.paint.tint(tone, word.show()));
        text += &wrap(&self.study.reason().show(self.style), 2);
        if let Some(closed) = self.study.closed() {
            text += &self.freedom(closed);
        }
        text
    }

    /// What is left open by what is found.
    fn freedom(&self, closed: &Closed) -> String {
        let mut text = String::new();
        if closed.degrees_of_freedom > 0 {
            let more = match closed.degrees_of_freedom {
                1 => "One dimension more is".to_owned(),
                n => format!("{n} dimensions more are"),
            };
            let words =
                format!("{more} found than the relations determine: the smallest change was made.");
            text += &wrap(&words, 2);
        }
        for dim in &closed.at_bound {
            let words = format!("{} stands at the end of its range.", dim.info().name);
            text += &wrap(&words, 2);
        }
        text
    }

    /// What each member would take if it alone were released.
    fn conflict(&self, conflict: &Conflict) -> String {
        let mut text = String::new();
        for member in &conflict.members {
            let info = member.dim.info();
            let Some(value) = member.would_be else { continue };
            if text.is_empty() {
                text = self.heading("What each of these would be if it alone were released");
            }
            let stands = member.dim.key().get(&self.study.design).unwrap_or(value);
            let value = self.told_apart(member.dim, value, stands);
            text += &format!("  {:<28}{value:>12}   --find {}\n", info.name, info.key);
        }
        if let Some(says) = conflict.no_help() {
            text += &format!("\n{}", wrap(&says, 2));
        }
        text
    }

    /// The dimensions that close the design, held and found.
    fn dimensions(&self) -> String {
        let design = &self.study.design;
        let mut text = self.heading("Dimensions");
        for key in Key::all_of(design) {
            let (found, outcome) = (key.is_found(design), key.dim.info().role == Role::Outcome);
            let Some(value) = key.get(design) else { continue };
            if !(MAIN.contains(&key.dim) || outcome || found) {
                continue;
            }
            let value = self.of_dim(key.dim, value);
            // what is found of a design that does not close is only where it stood
            let state = match (found, self.study.closed().is_some()) {
                (true, true) => self.paint.tint(Tone::Found, "found"),
                (true, false) => self.paint.tint(Tone::Found, "to be found"),
                (false, _) => "held".to_owned(),
            };
            text += &format!("  {:<28}{value:>12}   {state}\n", key.dim.info().name);
        }
        text
    }

    /// What is watched while the joint is cut.
    fn straightedge(&self, layout: &Layout) -> String {
        let at = self.of_dim(Dim::Station, layout.straightedge.x);
        let mut text = self
            .heading(&format!("What the straightedge must read over the top, {at} from the joint"));
        for (name, dim, value) in [
            ("on the bare neck face", Dim::ReadNeck, layout.straightedge.neck_face),
            ("on the board", Dim::ReadBoard, layout.straightedge.board),
            ("on the crowns", Dim::ReadCrowns, layout.straightedge.crowns),
        ] {
            if dim == Dim::ReadCrowns && !layout.is_fretted() {
                continue;
            }
            text += &format!("  {name:<28}{:>12}\n", self.of_dim(dim, value));
        }
        text
    }

    fn checks(&self, closed: &Closed) -> String {
        let mut text = self.heading("Checks");
        for check in &closed.checks {
            text += &self.check(check);
            if check.state != State::Good {
                let remedies = remedies(self.study, check.id);
                if remedies.is_empty() {
                    text += &wrap("No change of one dimension mends this.", UNDER + 2);
                }
                for remedy in &remedies {
                    text += &self.remedy(remedy);
                }
            }
        }
        text
    }

    fn check(&self, check: &Check) -> String {
        let value = self.show(check.reading.value, check.id.unit(), check.digits());
        format!(
            "{} {:<29}{value:>12}   {}\n{}",
            self.paint.tint(check.state.into(), marked(check.state)),
            format!(" {}", check.id.name()),
            self.range(check),
            wrap(&check.says.show(self.style), UNDER)
        )
    }

    /// The range beyond which a check fails.
    fn range(&self, check: &Check) -> String {
        let show = |value| self.show(value, check.id.unit(), check.digits());
        let limit = &check.reading.limit;
        match (limit.fails_below, limit.fails_above) {
            (Some(low), Some(high)) => format!("{} to {}", show(low), show(high)),
            (Some(low), None) => format!("over {}", show(low)),
            (None, Some(high)) => format!("under {}", show(high)),
            (None, None) => "no limit".to_owned(),
        }
    }

    fn remedy(&self, remedy: &Remedy) -> String {
        let mut apply: Vec<String> = remedy
            .changes
            .iter()
            .map(|change| {
                let value = units::typed(change.to, change.key.dim.info().unit);
                format!("--set {}={value}", change.key)
            })
            .collect();
        apply.extend(remedy.gives.map(|dim| format!("--find {}", dim.info().key)));
        wrap(&remedy.says.show(self.style), UNDER + 2) + &wrap(&apply.join(" "), UNDER + 4)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::WIDTH;
    use overstand_core::testing::worked_example;

    fn page(change: impl FnOnce(&mut Design)) -> String {
        let mut design = worked_example();
        change(&mut design);
        report(&Study::of(&design), &[worked_example()], LengthStyle::Millimetres, Paint::OFF)
    }

    #[test]
    fn every_line_fits_the_page() {
        let pages = [
            page(|_| {}),
            page(|design| Dim::CrestHeight.key().set(design, 30.0)),
            page(|design| design.found.clear()),
            page(|design| {
                Dim::CrestHeight.key().set(design, 140.0);
            }),
        ];
        for page in pages {
            for line in page.lines() {
                assert!(line.chars().count() <= WIDTH, "{line}");
            }
        }
    }

    #[test]
    fn a_found_crest_in_place_of_a_found_pitch_is_named_with_the_remedy() {
        let page = page(|design| Dim::CrestHeight.key().set(design, 28.0));
        assert!(page.contains("--find bridge.crest_height"), "{page}");
    }
}
