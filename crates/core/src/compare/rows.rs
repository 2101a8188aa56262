//! The table of what differs.

use super::details::Detail;
use super::quantity::{Measure, Quantity};
use super::{Cell, Group, Row, Side, Subject};
use crate::choice::Choice;
use crate::design::Design;
use crate::dimension::{Dim, Key, Part, Role};
use crate::joint::{CutSheet, Figure as JointFigure, JointFigures};
use crate::layout::{Bend, StringLine};
use crate::sentence::lower;
use crate::strings::{StringReport, Strings};
use crate::study::Study;
use crate::units::Unit;
use crate::verdict::{Check, CheckId, State};
use crate::working::{Figure as Working, OfString};

/// Half of the last decimal that a double of some thousand millimetres keeps with ease: a
/// value that was typed differs by more, or not at all.
const ROUNDING: f64 = 1e-9;

/// One of the two, with what more is worked out for it.
struct One<'a> {
    study: &'a Study,
    worked: Option<(JointFigures, CutSheet, Strings)>,
}

impl<'a> One<'a> {
    fn of(study: &'a Study) -> Self {
        let worked = study.layout().map(|layout| {
            let design = &study.design;
            (
                JointFigures::of(design, layout),
                CutSheet::of(design, layout),
                Strings::of(design, layout),
            )
        });
        Self { study, worked }
    }

    fn design(&self) -> &Design {
        &self.study.design
    }

    fn has_figure(&self, id: &str) -> bool {
        self.worked.as_ref().is_some_and(|(figures, ..)| figures.get(id).is_some())
    }

    /// A dimension's value and whether it is worked out.
    fn dimension(&self, key: Key) -> Option<(f64, bool)> {
        let design = self.design();
        let found = key.is_found(design);
        let value = match key.dim.info().role {
            Role::Outcome => {
                let target = key.get(design);
                target.or_else(|| self.study.layout()?.outcome(key.dim))
            }
            Role::Closing | Role::Given => key.get(design),
        };
        value.map(|value| (value, found))
    }
}

pub(super) fn rows(a: &Study, b: &Study) -> Vec<Row> {
    let pair = [One::of(a), One::of(b)];
    let mut rows = Vec::new();
    checks(&pair, &mut rows);
    inputs(&pair, &mut rows);
    strings(&pair, &mut rows);
    cut_sheet(&pair, &mut rows);
    rows.sort_by_key(|row| order(row.group));
    rows
}

/// Groups in the order of the table: parts in the order of the work.
fn order(group: Group) -> usize {
    match group {
        Group::Checks => 0,
        Group::Inputs(part) => {
            1 + Part::ALL.iter().position(|&other| other == part).unwrap_or_default()
        }
        Group::Layout => 50,
        Group::Strings => 51,
        Group::CutSheet => 52,
        Group::Notes => 53,
    }
}

fn difference(cells: &[Cell; 2]) -> Option<Quantity> {
    let (a, b) = (cells[0].quantity()?, cells[1].quantity()?);
    let difference = Quantity { value: b.value - a.value, ..b };
    (a.measure == b.measure && difference.value != 0.0).then_some(difference)
}

fn row(group: Group, subject: Subject, name: String, cells: [Cell; 2]) -> Row {
    let figures = [None; 2];
    Row { group, subject, name, difference: difference(&cells), cells, better: None, figures }
}

fn checks(pair: &[One<'_>; 2], rows: &mut Vec<Row>) {
    let start = rows.len();
    for &id in CheckId::ALL {
        let found = pair.each_ref().map(|one| {
            let closed = one.study.closed()?;
            closed.checks.iter().find(|check| check.id == id)
        });
        let cells = found.map(|check| check.map_or(Cell::Missing, check_cell));
        let same = match found {
            [None, None] => true,
            [Some(a), Some(b)] => {
                let shown = [a, b].map(quantity);
                a.state == b.state
                    && shown[0].looks_like(shown[1])
                    && a.reading.limit == b.reading.limit
            }
            _ => false,
        };
        if !same {
            let mut row = row(Group::Checks, Subject::Check(id), id.name().to_owned(), cells);
            row.better = better_check(found);
            row.figures = found.map(|check| check.map(|_| Working::Check(id)));
            rows.push(row);
        }
    }
    // those that decide first
    rows[start..].sort_by_key(|row| row.cells.iter().filter_map(Cell::state).min());
}

fn quantity(check: &Check) -> Quantity {
    Quantity::new(check.reading.value, check.id.unit(), check.digits())
}

fn check_cell(check: &Check) -> Cell {
    let margin = Some(check.reading.margin()).filter(|margin| margin.is_finite());
    Cell::Check(quantity(check), check.state, margin)
}

/// The better state; where both are thin or both fail, the larger margin. Of two good ones
/// none is better: both are well inside.
fn better_check([a, b]: [Option<&Check>; 2]) -> Option<Side> {
    let (a, b) = (a?, b?);
    let rank = |check: &Check| (check.state, check.reading.margin());
    if (a.state, b.state) == (State::Good, State::Good) {
        return None;
    }
    match rank(a).partial_cmp(&rank(b))? {
        std::cmp::Ordering::Less => Some(Side::B),
        std::cmp::Ordering::Greater => Some(Side::A),
        std::cmp::Ordering::Equal => None,
    }
}

fn inputs(pair: &[One<'_>; 2], rows: &mut Vec<Row>) {
    let [a, b] = pair.each_ref().map(One::design);
    for choice in Choice::all() {
        let chosen = [a, b].map(|design| choice.get(design));
        if chosen[0] == chosen[1] {
            continue;
        }
        let shown = chosen.map(|text| {
            let option = choice.options.iter().find(|(option, _)| *option == text);
            Cell::Words(option.map_or(text, |(_, shown)| shown).to_owned())
        });
        let subject = Subject::Choice(choice.key);
        rows.push(row(Group::Inputs(choice.part()), subject, choice.name.to_owned(), shown));
    }
    for &dim in Dim::ALL {
        let count = match dim.info().part() {
            Part::String => a.strings.len().min(b.strings.len()),
            Part::Pickup => a.pickups.len().min(b.pickups.len()),
            Part::Cavity => a.cavities.len().min(b.cavities.len()),
            _ => 1,
        };
        rows.extend((0..count).filter_map(|index| dimension(pair, Key { dim, index })));
    }
    for detail in Detail::all_of(a, b) {
        if detail.same(a, b) {
            continue;
        }
        let cells = [a, b].map(|design| detail.words(design).map_or(Cell::Missing, Cell::Words));
        let (group, name) = (detail.group(), detail.name(a));
        rows.push(row(group, Subject::Detail(detail), name, cells));
    }
}

fn dimension(pair: &[One<'_>; 2], key: Key) -> Option<Row> {
    let info = key.dim.info();
    let values = pair.each_ref().map(|one| one.dimension(key));
    if values == [None, None] {
        return None;
    }
    // worked out on both sides, or on the one that has it
    let follows = values.iter().flatten().all(|(_, found)| *found);
    let outcome = info.role == Role::Outcome;
    let tail = info.key.rsplit('.').next().unwrap_or_default();
    if outcome && follows && pair.iter().any(|one| one.has_figure(tail)) {
        // it stands among the figures of the joint
        return None;
    }
    let mut cells = values.map(|value| {
        value.map_or(Cell::Missing, |(value, found)| {
            Cell::Value(Quantity::new(value, info.unit, info.digits), found)
        })
    });
    if let ([Some((a, _)), Some((b, _))], [Cell::Value(one, of_a), Cell::Value(two, of_b)]) =
        (values, &mut cells)
    {
        let same = if follows { one.looks_like(*two) } else { (a - b).abs() < ROUNDING };
        // an outcome that is held on one side may well come to the same on the other
        if same && (of_a == of_b) {
            return None;
        }
        if same {
            two.value = one.value;
        } else {
            (*one, *two) = one.told_apart(*two);
        }
    }
    let group = if follows { Group::Layout } else { Group::Inputs(info.part()) };
    let name = key.name(pair[0].design());
    let figures = values.map(|value| {
        let worked_out = value.is_some_and(|(_, found)| found) && info.role != Role::Given;
        worked_out.then_some(Working::Dim(key))
    });
    Some(Row { figures, ..row(group, Subject::Key(key), name, cells) })
}

/// A figure of a string: its name in the JSON and on screen, what it counts, decimals, which
/// way is better, and where it stands.
struct Figure {
    id: &'static str,
    name: &'static str,
    measure: Measure,
    digits: usize,
    more_is_better: Option<bool>,
    get: fn(&StringLine, &StringReport) -> Option<f64>,
    working: fn(&One<'_>, usize) -> Option<Working>,
}

/// Something of a string itself.
macro_rules! of_string {
    ($of:ident) => {
        |_, string| Some(Working::String(string, OfString::$of))
    };
}

/// How far, or how hard, the note goes that touches first.
fn plucked(string: usize, stop: usize, as_force: bool) -> Working {
    Working::Plucked { string, stop, drawn: None, as_force }
}

/// An open string over a fret.
fn over(string: usize, fret: usize) -> Working {
    Working::Clearance { string, stop: 0, fret }
}

impl One<'_> {
    fn report(&self, string: usize) -> Option<&StringReport> {
        let (.., strings) = self.worked.as_ref()?;
        strings.each.get(string)
    }
}

const MM: Measure = Measure::Of(Unit::Length);

static FIGURES: [Figure; 12] = [
    Figure {
        id: "headroom_mm",
        name: "Headroom at the pluck",
        measure: MM,
        digits: 2,
        more_is_better: Some(true),
        get: |_, report| report.headroom.map(|most| most.most),
        working: |one, string| Some(plucked(string, one.report(string)?.headroom?.stop, false)),
    },
    Figure {
        id: "headroom_n",
        name: "Headroom, force",
        measure: Measure::Newton,
        digits: 2,
        more_is_better: Some(true),
        get: |_, report| report.headroom_force.map(|most| most.most),
        working: |one, string| {
            Some(plucked(string, one.report(string)?.headroom_force?.stop, true))
        },
    },
    Figure {
        id: "tension_n",
        name: "Pull",
        measure: Measure::Newton,
        digits: 1,
        more_is_better: None,
        get: |_, report| report.pull.map(|pull| pull.tension),
        working: of_string!(Pull),
    },
    Figure {
        id: "load",
        name: "Load, of what breaks it",
        measure: Measure::Share,
        digits: 0,
        more_is_better: Some(false),
        get: |_, report| report.pull.map(|pull| pull.load),
        working: of_string!(Load),
    },
    Figure {
        id: "largest_cents",
        name: "Largest error of pitch",
        measure: Measure::Cents,
        digits: 1,
        more_is_better: Some(false),
        get: |_, report| {
            let cents = &report.intonation.as_ref()?.cents;
            cents.iter().map(|cents| cents.abs()).max_by(f64::total_cmp)
        },
        working: |one, string| {
            let cents = &one.report(string)?.intonation.as_ref()?.cents;
            let most = (1..).zip(cents).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
            most.map(|(fret, _)| Working::Cents { string, fret, compensated: false })
        },
    },
    Figure {
        id: "compensation_mm",
        name: "Compensation for a true octave",
        measure: MM,
        digits: 1,
        more_is_better: None,
        get: |_, report| report.intonation.as_ref().map(|one| one.compensation),
        working: of_string!(Compensation),
    },
    Figure {
        id: "action_mm",
        name: "Action",
        measure: MM,
        digits: 2,
        more_is_better: None,
        get: |line, _| Some(line.action),
        working: |one, string| Some(over(string, usize::from(one.design().wanted.action_fret))),
    },
    Figure {
        id: "first_fret_mm",
        name: "Over fret 1",
        measure: MM,
        digits: 2,
        more_is_better: None,
        get: |line, _| Some(line.first_fret),
        working: |_, string| Some(over(string, 1)),
    },
    Figure {
        id: "least_stopped_mm",
        name: "Least clearance of a stopped note",
        measure: MM,
        digits: 3,
        more_is_better: Some(true),
        get: |line, _| line.least_stopped,
        working: |one, string| {
            let (stop, fret) = one.study.layout()?.least_stopped_at(string)?;
            Some(Working::Clearance { string, stop, fret })
        },
    },
    Figure {
        id: "slot_over_board_mm",
        name: "Nut slot over the board",
        measure: MM,
        digits: 2,
        more_is_better: None,
        get: |line, _| Some(line.slot_over_board),
        working: of_string!(Slot),
    },
    Figure {
        id: "crest_height_mm",
        name: "Crest height",
        measure: MM,
        digits: 1,
        more_is_better: None,
        get: |line, _| Some(line.crest_height),
        working: of_string!(CrestHeight),
    },
    Figure {
        id: "saddle_break_deg",
        name: "Break over the saddle",
        measure: Measure::Of(Unit::Angle),
        digits: 1,
        more_is_better: None,
        get: |line, _| line.saddle_break.map(Bend::to_degrees),
        working: of_string!(SaddleBreak),
    },
];

fn strings(pair: &[One<'_>; 2], rows: &mut Vec<Row>) {
    let [Some(a), Some(b)] = pair.each_ref().map(|one| one.study.layout().zip(one.worked.as_ref()))
    else {
        return;
    };
    let count = a.0.strings.len().min(b.0.strings.len());
    for figure in &FIGURES {
        for index in 0..count {
            let get = |(layout, (.., strings)): (
                &crate::layout::Layout,
                &(JointFigures, CutSheet, Strings),
            )| {
                (figure.get)(layout.strings.get(index)?, strings.each.get(index)?)
            };
            let cells = [get(a), get(b)].map(|value| {
                value.map_or(Cell::Missing, |value| {
                    let Figure { measure, digits, .. } = *figure;
                    Cell::Value(Quantity { value, measure, digits }, true)
                })
            });
            if same(&cells) {
                continue;
            }
            let string = &pair[0].design().strings[index].name;
            let name = format!("{}, string {} ({string})", figure.name, index + 1);
            let mut row = row(Group::Strings, Subject::String(index, figure.id), name, cells);
            row.figures = pair.each_ref().map(|one| (figure.working)(one, index));
            row.better = figure.more_is_better.zip(row.difference).map(|(more, difference)| {
                if (difference.value > 0.0) == more { Side::B } else { Side::A }
            });
            rows.push(row);
        }
    }
}

fn same(cells: &[Cell; 2]) -> bool {
    match cells {
        [Cell::Missing, Cell::Missing] => true,
        [a, b] => match (a.quantity(), b.quantity()) {
            (Some(a), Some(b)) => a.looks_like(b),
            _ => false,
        },
    }
}

fn cut_sheet(pair: &[One<'_>; 2], rows: &mut Vec<Row>) {
    // of a design that does not close there is no sheet to compare with
    let [Some((figures, sheet, _)), Some((others, other_sheet, _))] =
        pair.each_ref().map(|one| one.worked.as_ref())
    else {
        return;
    };
    let more = others.list.iter().filter(|figure| figures.get(figure.id).is_none());
    for figure in figures.list.iter().chain(more) {
        // the joint's own dimensions stand among what is given
        let given = Key::parse(&format!("joint.{}", figure.id))
            .is_ok_and(|key| key.dim.info().role != Role::Outcome || is_target(pair, key));
        if given {
            continue;
        }
        let cells = [figures, others].map(|figures| {
            figures.get(figure.id).map_or(Cell::Missing, |figure| {
                let quantity = Quantity::new(figure.value, figure.unit, figure.digits);
                if figure.has_thick_end() {
                    Cell::Thick(quantity)
                } else {
                    Cell::Value(quantity, true)
                }
            })
        });
        if !same(&cells) {
            let both = [figures, others].map(|figures| figures.get(figure.id));
            let name = figure_name(figure, both.map(|figure| figure?.raises()));
            let worked = both.map(|figure| figure.map(|figure| Working::Joint(figure.id)));
            let row = row(Group::CutSheet, Subject::Figure(figure.id), name, cells);
            rows.push(Row { figures: worked, ..row });
        }
    }
    let has = |sheet: &CutSheet, id: &str| sheet.steps.iter().any(|step| step.id == id);
    for step in sheet.steps.iter().chain(&other_sheet.steps) {
        let there = [sheet, other_sheet].map(|sheet| has(sheet, step.id));
        if there[0] == there[1] {
            continue;
        }
        let cells = there
            .map(|there| if there { Cell::Words("is done".to_owned()) } else { Cell::Missing });
        let name = format!("Step: {}", lower(step.title));
        rows.push(row(Group::CutSheet, Subject::Step(step.id), name, cells));
    }
}

/// A figure of the joint with its group; a wedge or stack with the end it raises instead, for
/// which there is no room beside the numbers, and without what it lies on.
fn figure_name(figure: &JointFigure, raises: [Option<&'static str>; 2]) -> String {
    let bare = figure.name.split(", ").next().unwrap_or_default();
    match raises {
        [Some(a), Some(b)] if a != b => format!("{bare}: A {a}, B {b}"),
        [Some(raises), _] | [None, Some(raises)] => format!("{bare}, {raises}"),
        [None, None] => format!("{}: {}", figure.group.name(), lower(figure.name)),
    }
}

fn is_target(pair: &[One<'_>; 2], key: Key) -> bool {
    pair.iter().any(|one| !key.is_found(one.design()))
}
