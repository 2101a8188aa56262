//! Chances, aims and tolerances in words, the same wherever they are said.

use super::nominal::{Better, Standing};
use super::source::Source;
use super::suffices::Suffices;
use crate::design::Design;
use crate::sentence::{Sentence, Span, degrees, lower, mm};
use crate::units::{Unit, show_number};
use crate::verdict::State;

/// Decimals of a ± that mean something: mm, degrees.
const DIGITS: [usize; 2] = [3, 2];

/// Decimals of an aim, which need not be one that is set at the bench: mm, degrees.
const AIM_DIGITS: usize = 2;

/// A chance as a percentage: never a certainty that was not proved.
pub fn show_chance(part: f64) -> String {
    let shown = if part < 1.0 { (100.0 * part).min(99.9) } else { 100.0 };
    let digits = usize::from(part > 0.98 && part < 1.0);
    format!("{shown:.digits$} %")
}

/// A part of a whole as a percentage.
pub(super) fn show_part(part: f64) -> String {
    format!("{} %", show_number(100.0 * part, 1))
}

/// Chances from which on one is good, and thin. Common practice, no source: a maker will risk
/// one set in twenty, and thinks twice about one in five.
const GOOD_CHANCE: f64 = 0.95;
const THIN_CHANCE: f64 = 0.8;

impl State {
    /// What a chance (0 to 1) that something holds amounts to: good from 95 %, thin from 80 %,
    /// failing below and where it is not known.
    pub fn of_chance(part: f64) -> Self {
        if part >= GOOD_CHANCE {
            Self::Good
        } else if part >= THIN_CHANCE {
            Self::Thin
        } else {
            Self::Fails
        }
    }
}

/// A ± of something, in its unit.
fn plus_minus(source: Source, value: f64) -> Span {
    match source.unit() {
        Unit::Length => mm(value, DIGITS[0]),
        Unit::Angle => degrees(value, DIGITS[1]),
        Unit::Count | Unit::Number => show_number(value, DIGITS[0]).into(),
    }
}

impl Standing {
    /// To stand after "as it stands" or "then".
    pub fn says(&self) -> String {
        let check = self.check.map_or_else(String::new, |id| {
            format!(
                ", the worst margin over all errors is {} of its thin band ({})",
                show_number(self.margin, 2),
                id.name().to_lowercase()
            )
        });
        format!("it plays in {}{check}", show_chance(self.chance))
    }
}

impl Better {
    /// What changes, to stand after a colon.
    pub fn says(&self, design: &Design) -> Sentence {
        if self.changes.is_empty() {
            return Sentence(vec!["where it stands".into()]);
        }
        let mut spans: Vec<Span> = Vec::new();
        for change in &self.changes {
            let info = change.key.dim.info();
            let value = |value: f64| {
                let digits = info.digits.max(AIM_DIGITS);
                match info.unit {
                    Unit::Length => mm(value, digits),
                    Unit::Angle => degrees(value, digits),
                    Unit::Count | Unit::Number => show_number(value, info.digits).into(),
                }
            };
            if !spans.is_empty() {
                spans.push("; ".into());
            }
            spans.push(format!("{} ", lower(&change.key.name(design))).into());
            spans.extend([value(change.to), " instead of ".into(), value(change.from)]);
        }
        Sentence(spans)
    }
}

impl Suffices {
    /// To stand after what was asked for and a colon.
    pub fn says(&self, design: &Design) -> Sentence {
        let chance = show_chance(self.chance);
        let Some(held) = &self.hold else {
            return Sentence(vec![
                "even without any error there it plays in ".into(),
                chance.into(),
                " only; hold something else truer, or aim elsewhere.".into(),
            ]);
        };
        if self.any {
            return Sentence(vec![
                "ten times its ± would still do, in ".into(),
                chance.into(),
                ".".into(),
            ]);
        }
        let mut spans: Vec<Span> = vec!["hold ".into()];
        for (index, &(source, value)) in held.iter().enumerate() {
            if index > 0 {
                spans.push(" and ".into());
            }
            spans.push(format!("{} to ±", lower(&source.name(design))).into());
            spans.push(plus_minus(source, value));
        }
        if let Some(pitch) = self.pitch {
            spans.extend([", which is the pitch to ±".into(), degrees(pitch, DIGITS[1])]);
        }
        spans.push(".".into());
        Sentence(spans)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dimension::{Dim, Key};
    use crate::testing::worked_example;
    use crate::units::LengthStyle;

    #[test]
    fn a_chance_is_no_certainty() {
        for (part, text) in
            [(0.0, "0 %"), (0.934, "93 %"), (0.985, "98.5 %"), (0.999_99, "99.9 %"), (1.0, "100 %")]
        {
            assert_eq!(show_chance(part), text);
        }
    }

    #[test]
    fn a_chance_is_good_thin_or_fails() {
        for (part, state) in [
            (1.0, State::Good),
            (0.95, State::Good),
            (0.949_999, State::Thin),
            (0.8, State::Thin),
            (0.799_999, State::Fails),
            (0.0, State::Fails),
            (f64::NAN, State::Fails),
        ] {
            assert_eq!(State::of_chance(part), state, "{part}");
        }
    }

    #[test]
    fn what_suffices_is_said_in_the_units_of_the_bench() {
        let (design, style) = (worked_example(), LengthStyle::Millimetres);
        let depth = Source::Dim(Dim::PocketDepth.key());
        let mut found =
            Suffices { hold: Some(vec![(depth, 0.123)]), pitch: None, chance: 0.95, any: false };
        assert_eq!(found.says(&design).show(style), "hold pocket depth to ±0.123 mm.");
        assert_eq!(
            found.says(&design).show(LengthStyle::InchDecimal),
            "hold pocket depth to ±0.0048 in."
        );
        found.hold = Some(vec![(Source::SeatMouth, 0.1), (Source::SeatInner, 0.1)]);
        found.pitch = Some(0.12);
        assert_eq!(
            found.says(&design).show(style),
            "hold seat at mouth to ±0.100 mm and seat at inner end to ±0.100 mm, which is the \
             pitch to ±0.12°."
        );
        let crown = Source::Dim(Key { dim: Dim::Gauge, index: 5 });
        found = Suffices { hold: Some(vec![(crown, 0.01)]), ..found };
        found.pitch = None;
        assert_eq!(
            found.says(&design).show(style),
            "hold gauge, string 6 (E) to ±0.010 mm.",
            "a string's name keeps its capital"
        );
        found.any = true;
        assert_eq!(found.says(&design).show(style), "ten times its ± would still do, in 95 %.");
        found.hold = None;
        assert!(found.says(&design).show(style).starts_with("even without any error there"));
    }
}
