//! The clearance over the frets: how high a string passes over each crown, laid out on one
//! level so that the heights can be stretched.
//!
//! X is where the crown stands, Y the clearance over it in mm. All crowns stand at Y = 0.

use kurbo::{BezPath, Point};
use overstand_core::layout::Layout;
use overstand_core::study::Study;
use overstand_core::verdict::wanted_band;

use crate::elevation::layout_of;
use crate::outline::polyline;
use crate::scene::{Anchor, Item, Line, PartName, Scene};

/// The clearance over the frets, ready to be stretched and drawn.
#[derive(Clone, Debug, Default)]
pub struct Strip {
    /// The frets from 1 on; on a fretless board its semitones.
    pub frets: Vec<StripFret>,
    /// X of the nut.
    pub nut: f64,
    /// Where the open strings are wanted; over all strings when all are shown.
    pub band: Vec<BandPoint>,
    /// The open strings shown, treble first.
    pub open: Vec<StripLine>,
    /// The same strings stopped at the chosen fret; empty when none is chosen.
    pub stopped: Vec<StripLine>,
    /// Clearances worth writing beside the line, the most telling first.
    pub values: Vec<StripValue>,
    /// Lowest and highest Y of all lines and the band; the lowest is at most 0.
    pub heights: (f64, f64),
}

/// One fret of the strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripFret {
    /// Its number, from 1.
    pub number: usize,
    /// Where it stands.
    pub x: f64,
    /// How much its number is missed when there is no room for it: 0 most.
    pub rank: u8,
}

/// The wanted range over one fret.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandPoint {
    /// Where the fret stands.
    pub x: f64,
    /// Least wanted clearance.
    pub low: f64,
    /// Most wanted clearance.
    pub high: f64,
}

/// One string over the frets.
#[derive(Clone, Debug, PartialEq)]
pub struct StripLine {
    /// Which string, from 0 (treble).
    pub string: usize,
    /// The fret it is stopped at; 0 for the open string.
    pub stop: usize,
    /// Its clearances, by fret. Of a stopped string the first point is the stop itself, at 0.
    pub points: Vec<StripPoint>,
}

/// The clearance over one fret.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripPoint {
    /// The fret, from 1.
    pub fret: usize,
    /// Where: X of the fret, Y the clearance in mm.
    pub at: Point,
    /// Whether the string lies on that crown or would have to pass below it.
    pub touches: bool,
}

/// A clearance worth writing beside the line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripValue {
    /// Which string, from 0.
    pub string: usize,
    /// The fret, from 1.
    pub fret: usize,
    /// The point of the line: X of the fret, Y the clearance in mm.
    pub at: Point,
}

/// Frets that usually carry a mark on the board (common practice, no source).
const MARKED: [usize; 10] = [3, 5, 7, 9, 15, 17, 19, 21, 24, 27];

/// The clearance over the frets of one string, or of all. `stopped` is a fret to stop it at.
/// `fill` lays the frets out along the board, else each stands at its X in the body frame.
/// Empty when no layout can be had.
pub fn strip(study: &Study, string: Option<usize>, stopped: Option<usize>, fill: bool) -> Strip {
    let Some(layout) = layout_of(study) else {
        return Strip::default();
    };
    let design = &study.design;
    let x = |n: usize| {
        let along = || layout.positions.get(n - 1).copied();
        let across = || layout.crown_point(n).map(|crown| crown.x);
        if fill { along() } else { across() }.unwrap_or_default()
    };
    let count = layout.positions.len();
    let action = usize::from(design.wanted.action_fret);
    let frets: Vec<StripFret> = (1..=count)
        .map(|number| {
            let rank = match number {
                _ if number == 1 || number == count || number == action => 0,
                _ if number % 12 == 0 => 0,
                _ if MARKED.contains(&number) => 1,
                _ => 2,
            };
            StripFret { number, x: x(number), rank }
        })
        .collect();
    let all = 0..layout.strings.len();
    let shown: Vec<usize> = match string {
        Some(one) if all.contains(&one) => vec![one],
        _ => all.collect(),
    };

    let open: Vec<StripLine> =
        shown.iter().map(|&string| open_line(&layout, &frets, string)).collect();
    let stop = stopped.filter(|n| (1..count).contains(n));
    let stopped: Vec<StripLine> = stop
        .into_iter()
        .flat_map(|n| shown.iter().map(move |&string| (string, n)))
        .map(|(string, n)| stopped_line(&layout, &frets, string, n))
        .collect();
    let mut band: Vec<BandPoint> = Vec::new();
    for &string in &shown {
        let wanted = wanted_band(design, &layout, string);
        for (i, (fret, (low, high))) in frets.iter().zip(wanted).enumerate() {
            match band.get_mut(i) {
                Some(at) => (at.low, at.high) = (at.low.min(low), at.high.max(high)),
                None => band.push(BandPoint { x: fret.x, low, high }),
            }
        }
    }
    let values = values(&open, [action, 1, count]);
    let nut = if fill { 0.0 } else { layout.strung(0.0, layout.lift(0.0)).x };
    let lines = open.iter().chain(&stopped).flat_map(|line| &line.points).map(|point| point.at.y);
    let heights = lines
        .chain(band.iter().flat_map(|at| [at.low, at.high]))
        .fold((0.0_f64, 0.0_f64), |(low, high), y| (low.min(y), high.max(y)));
    Strip { frets, nut, band, open, stopped, values, heights }
}

fn open_line(layout: &Layout, frets: &[StripFret], string: usize) -> StripLine {
    let points = frets
        .iter()
        .zip(layout.clearances.open_row(string))
        .map(|(fret, &clearance)| StripPoint {
            fret: fret.number,
            at: Point::new(fret.x, clearance),
            touches: clearance <= 0.0,
        })
        .collect();
    StripLine { string, stop: 0, points }
}

fn stopped_line(layout: &Layout, frets: &[StripFret], string: usize, stop: usize) -> StripLine {
    let points = frets
        .iter()
        .filter_map(|fret| {
            let clearance = if fret.number == stop {
                0.0
            } else {
                layout.stopped_over(string, stop, fret.number)?
            };
            Some(StripPoint {
                fret: fret.number,
                at: Point::new(fret.x, clearance),
                touches: fret.number != stop && clearance <= 0.0,
            })
        })
        .collect();
    StripLine { string, stop, points }
}

/// The clearances at some frets, of the outermost lines.
fn values(open: &[StripLine], frets: [usize; 3]) -> Vec<StripValue> {
    let mut lines: Vec<&StripLine> = open.last().into_iter().chain(open.first()).collect();
    lines.dedup_by_key(|line| line.string);
    let mut values: Vec<StripValue> = Vec::new();
    for fret in frets {
        for line in &lines {
            let point = fret.checked_sub(1).and_then(|i| line.points.get(i));
            let again = values.iter().any(|one| one.fret == fret && one.string == line.string);
            if let Some(point) = point.filter(|_| !again) {
                values.push(StripValue { string: line.string, fret, at: point.at });
            }
        }
    }
    values
}

impl Strip {
    /// The frets whose numbers have room when they must stand at least `apart` from each
    /// other, in X.
    pub fn numbers(&self, apart: f64) -> Vec<StripFret> {
        let mut kept: Vec<StripFret> = Vec::new();
        for rank in 0..=2 {
            for fret in self.frets.iter().filter(|fret| fret.rank == rank) {
                if kept.iter().all(|other| (other.x - fret.x).abs() >= apart) {
                    kept.push(*fret);
                }
            }
        }
        kept.sort_by_key(|fret| fret.number);
        kept
    }

    /// The strip as a scene, heights times `stretch`: for paper, and wherever no more is
    /// asked of it than to be looked at. Numbers stand at least `apart` from each other.
    pub fn scene(&self, stretch: f64, apart: f64) -> Scene {
        let mut scene = Scene::default();
        let Some(last) = self.frets.last() else {
            return scene;
        };
        let up = |at: Point| Point::new(at.x, at.y * stretch);
        let mut stroke = |part, path: BezPath, line| {
            scene.add(Some(part), Item::Stroke { path, line });
        };
        let edge = |side: fn(&BandPoint) -> f64| {
            polyline(self.band.iter().map(|at| up(Point::new(at.x, side(at)))))
        };
        stroke(PartName::Strings, edge(|at| at.low), Line::Range);
        stroke(PartName::Strings, edge(|at| at.high), Line::Range);
        let level = [self.nut, last.x].map(|x| Point::new(x, 0.0));
        stroke(PartName::Frets, polyline(level), Line::Thin);
        for fret in &self.frets {
            let tick = [Point::new(fret.x, 0.0), Point::new(fret.x, -0.4 * apart)];
            stroke(PartName::Frets, polyline(tick), Line::Visible);
        }
        for line in self.open.iter().chain(&self.stopped) {
            let look = if line.stop == 0 { Line::String } else { Line::Thin };
            let points = line.points.iter().map(|point| up(point.at));
            stroke(PartName::Strings, polyline(points), look);
            for point in line.points.iter().filter(|point| point.touches) {
                let (at, arm) = (up(point.at), 0.25 * apart);
                for side in [arm, -arm] {
                    let cross = polyline([at + (-arm, -side), at + (arm, side)]);
                    stroke(PartName::Strings, cross, Line::Visible);
                }
            }
        }
        for fret in self.numbers(apart) {
            let at = Point::new(fret.x, -0.6 * apart);
            let text = fret.number.to_string();
            scene.add(Some(PartName::Frets), Item::Text { at, anchor: Anchor::Above, text });
        }
        scene
    }
}

#[cfg(test)]
mod tests {
    use overstand_core::dimension::Dim;
    use overstand_core::testing::worked_example;
    use overstand_core::units::Length;

    use super::*;

    fn worked() -> Study {
        Study::of(&worked_example())
    }

    /// Figures of the worked example: 0.40 at fret 1, 1.80 at 12, 2.139054 at 22; stopped at
    /// 12 over 13, 0.153491.
    #[test]
    fn the_worked_example() {
        let strip = strip(&worked(), Some(2), Some(12), true);
        assert_eq!((strip.open.len(), strip.stopped.len(), strip.frets.len()), (1, 1, 22));
        let at = |fret: usize| strip.open[0].points[fret - 1].at;
        assert!((at(1).y - 0.4).abs() < 1e-9 && (at(12).y - 1.8).abs() < 1e-9);
        // printed to 6 decimals
        assert!((at(22).y - 2.139054).abs() < 5e-7);
        assert!((at(12).x - 314.0).abs() < 1e-9);
        let over_13 = strip.stopped[0].points[1];
        assert_eq!((over_13.fret, over_13.touches), (13, false));
        assert!((over_13.at.y - 0.153491).abs() < 5e-7);
        assert_eq!(strip.stopped[0].points[0].at, Point::new(at(12).x, 0.0));
        let marked: Vec<usize> = strip.values.iter().map(|value| value.fret).collect();
        assert_eq!(marked, [12, 1, 22]);
    }

    #[test]
    fn aligned_frets_stand_under_the_crowns_of_the_elevation() {
        let study = worked();
        let strip = strip(&study, None, None, false);
        let crown = study.layout().unwrap().crown_point(16).unwrap();
        assert_eq!(strip.frets[15].x, crown.x);
        assert!(strip.frets.windows(2).all(|pair| pair[0].x < pair[1].x));
        assert!(strip.nut < strip.frets[0].x);
    }

    #[test]
    fn an_open_string_that_is_good_lies_in_the_band_and_one_on_the_frets_is_marked() {
        let strip_of = |study: &Study| strip(study, Some(0), Some(3), true);
        let good = strip_of(&worked());
        for (band, point) in good.band.iter().zip(&good.open[0].points) {
            assert!(band.low < point.at.y && point.at.y < band.high, "fret {}", point.fret);
        }
        let mut design = worked_example();
        // a back bow of half a millimetre lifts the middle of the board into the string
        design.wanted.relief = Length::mm(-0.5);
        design.wanted.action_treble = Length::mm(0.6);
        design.wanted.action_bass = Length::mm(0.6);
        design.found.insert(Dim::CrestHeight.info().key.to_owned());
        let bad = strip_of(&Study::of(&design));
        assert!(bad.heights.0 < 0.0);
        let touching: Vec<usize> = bad.stopped[0]
            .points
            .iter()
            .filter(|point| point.touches)
            .map(|point| point.fret)
            .collect();
        assert!(touching.contains(&4) && !touching.contains(&3), "{touching:?}");
    }

    #[test]
    fn numbers_give_way_in_order_of_rank() {
        let strip = strip(&worked(), Some(0), None, true);
        assert_eq!(strip.numbers(0.0).len(), 22);
        // from the nut: 1 at 35.2, 3 at 99.9, 5 at 157.5, 7 at 208.8, 9 at 254.6 (too near to
        // 7), 12 at 314.0, 15 at 363.96 (just too near to 12), 17 at 392.8, 22 at 451.8
        let few: Vec<usize> = strip.numbers(50.0).iter().map(|fret| fret.number).collect();
        assert_eq!(few, [1, 3, 5, 7, 12, 17, 22]);
        for pair in strip.numbers(25.0).windows(2) {
            assert!(pair[1].x - pair[0].x >= 25.0);
        }
    }

    #[test]
    fn a_fretless_board_has_semitones() {
        let mut design = worked_example();
        design.scale.frets = 0;
        design.board.crown = Length::mm(0.0);
        let study = Study::of(&design);
        let strip = strip(&study, Some(0), Some(5), true);
        assert_eq!(strip.frets.len(), study.layout().unwrap().positions.len());
        let line = &strip.stopped[0].points;
        assert_eq!(line.len(), strip.frets.len() - 4);
        assert!(line[1..].iter().all(|point| point.at.y > 0.0 && !point.touches));
    }

    #[test]
    fn nothing_to_show_is_empty() {
        let mut design = worked_example();
        design.strings.clear();
        let strip = strip(&Study::of(&design), Some(0), Some(5), true);
        assert!(strip.frets.is_empty() && strip.scene(20.0, 8.0).shapes.is_empty());
    }
}
