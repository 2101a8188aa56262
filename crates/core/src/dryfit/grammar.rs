//! Readings as they are typed, and as a design file keeps them.
//!
//! ```text
//! crowns@X=250:19.01±0.1                    straightedge on the crowns, 250 mm from the joint
//! board@u=628/near=20:18.2                  on the board, near side, 628 mm from the nut
//! neck@crest/edge=30:43.1                   over the upper edge of a straightedge 30 mm deep
//! gauge@X=120:board=2.63/body=0.05±0.05     angle gauge; gauge:2.6 when zeroed on the body
//! shoulder@foot:0.3±0.05                    feeler
//! aim@crest:+1.5±0.3                        centre line, positive toward the treble
//! roll:0.2±0.1 on 2026-03-31                lean across, and the day
//! ```

use std::fmt;
use std::str::FromStr;

use super::reading::{Face, Place, Reading, ShoulderEnd, Side, What};
use crate::design::Date;
use crate::sentence::{Sentence, Span, degrees, mm, sentence};
use crate::units::{Angle, Length, LengthStyle, parse_angle, parse_length};

/// A text that is no reading, and what was expected.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{text}`: {says}")]
pub struct NotAReading {
    /// What was written.
    pub text: String,
    /// What is wrong with it.
    pub says: String,
}

/// Least and most of what can be read: height over the top, place along the body or board,
/// distance across, depth of a straightedge, gap, all mm; angle, degrees.
const HEIGHT: (f64, f64) = (-50.0, 300.0);
const ALONG: (f64, f64) = (-1200.0, 2000.0);
const ACROSS: (f64, f64) = (0.0, 120.0);
const EDGE: (f64, f64) = (0.0, 200.0);
const GAP: (f64, f64) = (0.0, 20.0);
const AIM: (f64, f64) = (-100.0, 100.0);
const ANGLE: (f64, f64) = (-45.0, 45.0);
/// Least and most that an error can be: mm or degrees.
const ERROR: (f64, f64) = (0.001, 10.0);

const KINDS: &str = "neck, board, crowns, gauge, shoulder, aim or roll";

impl Reading {
    /// A reading with the error of someone who takes care.
    pub fn of(what: What) -> Self {
        Self { error: what.usual_error(), what, on: None }
    }

    /// What is wrong with it as data, if anything.
    pub fn fault(&self) -> Option<Fault> {
        let length = |of: Piece, name: &'static str, value: Length, range: (f64, f64)| {
            let says = |value: f64| mm(value, 1);
            within(of, name, value.to_mm(), range, says)
        };
        let angle = |of: Piece, value: Angle| {
            within(of, "an angle", value.to_degrees(), ANGLE, |value| degrees(value, 1))
        };
        let place = |place: &Place| match place {
            Place::Crest | Place::BridgeLine => Ok(()),
            Place::Top(at) | Place::Board(at) => length(Piece::Place, "a place", *at, ALONG),
        };
        let error = || {
            let is_angle = self.what.is_angle();
            let says = |value: f64| if is_angle { degrees(value, 3) } else { mm(value, 3) };
            within(Piece::Error, "a reading error", self.error, ERROR, says)
        };
        let sound = match &self.what {
            What::Height { place: at, side, edge, height, .. } => place(at)
                .and_then(|()| {
                    let off = Length::mm(side.across().abs());
                    length(Piece::Across, "a distance across", off, ACROSS)
                })
                .and_then(|()| length(Piece::Edge, "a straightedge's depth", *edge, EDGE))
                .and_then(|()| length(Piece::Value, "a height", *height, HEIGHT)),
            What::Gauge { place: at, board, body } => at
                .as_ref()
                .map_or(Ok(()), place)
                .and_then(|()| angle(Piece::Value, *board))
                .and_then(|()| angle(Piece::Body, *body)),
            What::Gap { gap, .. } => length(Piece::Value, "a gap", *gap, GAP),
            What::Aim { place: at, off } => {
                place(at).and_then(|()| length(Piece::Value, "an offset", *off, AIM))
            }
            What::Roll { lean } => angle(Piece::Value, *lean),
        };
        sound.and_then(|()| error()).err()
    }
}

/// What is wrong with a reading as data.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// The piece of it that is out of range.
    pub of: Piece,
    /// That in words.
    pub says: Sentence,
}

/// A piece of a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Piece {
    /// Where it was read.
    Place,
    /// How far from the centre line.
    Across,
    /// The straightedge's depth.
    Edge,
    /// What it read; of an angle gauge on the board.
    Value,
    /// What an angle gauge read on the body.
    Body,
    /// The reading error.
    Error,
}

fn within(
    of: Piece,
    name: &'static str,
    value: f64,
    (low, high): (f64, f64),
    says: impl Fn(f64) -> Span,
) -> Result<(), Fault> {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    let [value, low, high] = [value, low, high].map(says);
    let says = sentence![name, " of ", value, " is out of range, expected ", low, " to ", high];
    Err(Fault { of, says })
}

fn length(what: &str, text: &str) -> Result<Length, String> {
    parse_length(text.trim(), LengthStyle::Millimetres)
        .map(Length::mm)
        .map_err(|error| format!("{what} `{}`: {error}", text.trim()))
}

fn angle(what: &str, text: &str) -> Result<Angle, String> {
    parse_angle(text.trim())
        .map(Angle::degrees)
        .map_err(|error| format!("{what} `{}`: {error}", text.trim()))
}

/// Where the options of a place begin, and each of them.
fn options(text: &str) -> (&str, Vec<&str>) {
    let mut cuts: Vec<usize> = ["/near=", "/far=", "/edge="]
        .iter()
        .flat_map(|word| text.match_indices(word).map(|(at, _)| at))
        .collect();
    cuts.sort_unstable();
    let first = cuts.first().copied().unwrap_or(text.len());
    cuts.push(text.len());
    let parts = cuts.windows(2).map(|pair| &text[pair[0] + 1..pair[1]]).collect();
    (&text[..first], parts)
}

fn place(text: &str) -> Result<Place, String> {
    let text = text.trim();
    match text.split_once('=') {
        None if text == "crest" => Ok(Place::Crest),
        None if text == "bridge" => Ok(Place::BridgeLine),
        Some(("X" | "x", at)) => length("the place X", at).map(Place::Top),
        Some(("u" | "U", at)) => length("the place u", at).map(Place::Board),
        _ => Err(format!(
            "there is no place `{text}`, expected crest, bridge, X=250 (from the joint) or u=628 (from the nut)"
        )),
    }
}

fn no_options(options: &[&str], kind: &str) -> Result<(), String> {
    match options.first() {
        None => Ok(()),
        Some(option) => Err(format!("`/{option}` is for a straightedge, not for {kind}")),
    }
}

fn height(face: Face, at: &str, value: &str) -> Result<What, String> {
    let (at, options) = options(at);
    let (mut side, mut edge) = (None, None);
    for option in options {
        let twice = || Err(format!("`/{option}`: expected one of near and far, and one edge"));
        match option.split_once('=') {
            Some(("near", off)) if side.is_none() => {
                side = Some(Side::Near(length("near", off)?));
            }
            Some(("far", off)) if side.is_none() => side = Some(Side::Far(length("far", off)?)),
            Some(("edge", deep)) if edge.is_none() => edge = Some(length("edge", deep)?),
            _ => return twice(),
        }
    }
    Ok(What::Height {
        face,
        place: place(at)?,
        side: side.unwrap_or(Side::Middle),
        edge: edge.unwrap_or(Length::ZERO),
        height: length("the height", value)?,
    })
}

fn gauge(at: Option<&str>, value: &str) -> Result<What, String> {
    let place = at.map(place).transpose()?;
    let Some(rest) = value.trim().strip_prefix("board=") else {
        let board = angle("the angle", value)?;
        return Ok(What::Gauge { place, board, body: Angle::ZERO });
    };
    let (board, body) = rest
        .split_once("/body=")
        .ok_or_else(|| format!("`{}`: expected board=2.6/body=0.1", value.trim()))?;
    Ok(What::Gauge { place, board: angle("board", board)?, body: angle("body", body)? })
}

fn what(kind: &str, at: Option<&str>, value: &str) -> Result<What, String> {
    let face = match kind {
        "neck" => Some(Face::Neck),
        "board" => Some(Face::Board),
        "crowns" => Some(Face::Crowns),
        _ => None,
    };
    let somewhere = |expected: &str| {
        at.map(str::trim).ok_or_else(|| format!("it does not say where, expected {expected}"))
    };
    if let Some(face) = face {
        return height(face, somewhere("a place as in crowns@X=250:19.0")?, value);
    }
    if let Some(at) = at {
        no_options(&options(at).1, kind)?;
    }
    match kind {
        "gauge" => gauge(at, value),
        "shoulder" => {
            let end = match somewhere("shoulder@top or shoulder@foot")? {
                "top" => ShoulderEnd::Top,
                "foot" => ShoulderEnd::Foot,
                other => {
                    return Err(format!("a shoulder has no `{other}`, expected top or foot"));
                }
            };
            Ok(What::Gap { end, gap: length("the gap", value)? })
        }
        "aim" => {
            let place = place(somewhere("a place as in aim@crest:1.5")?)?;
            Ok(What::Aim { place, off: length("the offset", value)? })
        }
        "roll" if at.is_none() => Ok(What::Roll { lean: angle("the lean", value)? }),
        "roll" => Err("a roll has no place, expected roll:0.2".to_owned()),
        other => Err(format!("there is no reading `{other}`, expected {KINDS}")),
    }
}

fn read(text: &str) -> Result<Reading, String> {
    // a true minus sign is as good as the hyphen
    let text = text.trim().replace('\u{2212}', "-");
    let (text, on) = match text.rsplit_once(" on ") {
        Some((text, day)) => (text, Some(day.trim().parse::<Date>().map_err(|e| e.to_string())?)),
        None => (text.as_str(), None),
    };
    let (head, value) = text.split_once(':').ok_or_else(|| {
        format!("expected WHAT@PLACE:VALUE±ERROR, as crowns@X=250:19.0±0.1; WHAT is {KINDS}")
    })?;
    let (kind, at) = match head.split_once('@') {
        Some((kind, at)) => (kind.trim(), Some(at)),
        None => (head.trim(), None),
    };
    let parts = ["±", "+/-", "+-"].iter().find_map(|sign| value.split_once(sign));
    let (value, error) = parts.map_or((value, None), |(value, error)| (value, Some(error)));
    // a plus that only says "toward the treble"
    let value = value.trim();
    let what = what(kind, at, value.strip_prefix('+').unwrap_or(value))?;
    let error = match error {
        None => what.usual_error(),
        Some(error) if what.is_angle() => angle("the error", error)?.to_degrees(),
        Some(error) => length("the error", error)?.to_mm(),
    };
    let reading = Reading { what, error, on };
    match reading.fault() {
        Some(fault) => Err(fault.says.show(LengthStyle::Millimetres)),
        None => Ok(reading),
    }
}

impl FromStr for Reading {
    type Err = NotAReading;

    fn from_str(text: &str) -> Result<Self, NotAReading> {
        read(text)
            .map_err(|says| NotAReading { text: text.trim().chars().take(80).collect(), says })
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Crest => f.write_str("crest"),
            Self::BridgeLine => f.write_str("bridge"),
            Self::Top(x) => write!(f, "X={}", x.to_mm()),
            Self::Board(u) => write!(f, "u={}", u.to_mm()),
        }
    }
}

impl fmt::Display for Reading {
    /// As it is typed, with every digit.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.what {
            What::Height { face, place, side, edge, height } => {
                write!(f, "{}@{place}", face.text())?;
                match side {
                    Side::Middle => Ok(()),
                    Side::Near(off) => write!(f, "/near={}", off.to_mm()),
                    Side::Far(off) => write!(f, "/far={}", off.to_mm()),
                }?;
                if *edge != Length::ZERO {
                    write!(f, "/edge={}", edge.to_mm())?;
                }
                write!(f, ":{}", height.to_mm())
            }
            What::Gauge { place, board, body } => {
                f.write_str("gauge")?;
                if let Some(place) = place {
                    write!(f, "@{place}")?;
                }
                write!(f, ":board={}/body={}", board.to_degrees(), body.to_degrees())
            }
            What::Gap { end, gap } => write!(f, "shoulder@{}:{}", end.text(), gap.to_mm()),
            What::Aim { place, off } => write!(f, "aim@{place}:{}", off.to_mm()),
            What::Roll { lean } => write!(f, "roll:{}", lean.to_degrees()),
        }?;
        write!(f, "±{}", self.error)?;
        match self.on {
            Some(day) => write!(f, " on {day}"),
            None => Ok(()),
        }
    }
}

crate::design::kept_as_text!(Reading);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_back() {
        for text in [
            "crowns@X=250:19.01±0.1",
            "board@u=628/near=20:18.2±0.15",
            "neck@crest/far=18.5/edge=30:43.1±0.1",
            "board@bridge:18±0.1 on 2026-03-31",
            "gauge@X=120:board=2.63/body=0.05±0.05",
            "gauge:board=-0.4/body=0±0.02",
            "shoulder@foot:0.3±0.05",
            "shoulder@top:0±0.05",
            "aim@crest:-1.5±0.3",
            "roll:0.2±0.1",
        ] {
            let reading: Reading = text.parse().unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(reading.to_string(), text);
        }
    }

    #[test]
    fn other_ways_to_write_a_reading() {
        let read = |text: &str| text.parse::<Reading>().unwrap();
        assert_eq!(read("crowns@X=250:19.01+-0.1"), read("crowns@X=250:19.01±0.1"));
        assert_eq!(read(" crowns @ x=250 : 19,01 +/- 0.1mm "), read("crowns@X=250:19.01"));
        assert_eq!(read("gauge:2°30′"), read("gauge:board=2.5/body=0"));
        assert_eq!(read("aim@crest:+1.5"), read("aim@crest:1.5±0.3"));
        assert_eq!(read("aim@crest:−1.5"), read("aim@crest:-1.5"));
        // a fraction's stroke is none that begins an option
        assert_eq!(read("crowns@X=9 1/2\"/near=3/4\":19"), read("crowns@X=9.5\"/near=0.75\":19"));
    }

    #[test]
    fn an_error_names_the_reading_and_what_was_expected() {
        for (bad, expected) in [
            ("", "expected WHAT@PLACE:VALUE"),
            ("crowns", "expected WHAT@PLACE:VALUE"),
            ("crown@X=250:19", "there is no reading `crown`"),
            ("crowns:19", "does not say where"),
            ("crowns@250:19", "there is no place `250`"),
            ("crowns@X=250:nineteen", "the height `nineteen`"),
            ("crowns@X=250:19±0", "a reading error of 0.000 mm"),
            ("crowns@X=250:1900", "a height of 1900.0 mm"),
            ("crowns@X=250/near=20/far=20:19", "one of near and far"),
            ("gauge@X=1/edge=2:3", "is for a straightedge"),
            ("gauge:board=2", "expected board=2.6/body=0.1"),
            ("shoulder:0.1", "shoulder@top or shoulder@foot"),
            ("shoulder@side:0.1", "expected top or foot"),
            ("shoulder@top:-0.1", "a gap of −0.1 mm"),
            ("roll@X=1:0.1", "a roll has no place"),
            ("crowns@X=250:19 on 2026-02-30", "expected a date"),
            ("crowns@X=NaN:19", "the place X"),
        ] {
            let error = bad.parse::<Reading>().unwrap_err().to_string();
            assert!(error.contains(expected), "{bad}: {error}");
            assert!(error.starts_with(&format!("`{bad}`")), "{error}");
        }
    }
}
