//! The regions of a map: what of each of its cells plays, and what of it is good.

use overstand_core::risk::Map;
use overstand_core::verdict::State;

/// A place on a map, in the units of its dimensions.
type Place = (f64, f64);

/// What of a cell lies within a region.
#[derive(Clone, Debug, PartialEq)]
enum Part {
    /// Nothing.
    None,
    /// All of it.
    All,
    /// This convex piece; its corners in order.
    Piece(Vec<Place>),
}

/// A region cell by cell.
#[derive(Clone, Debug, Default)]
pub(super) struct Region {
    parts: Vec<Part>,
    /// Whole cells side by side in one, and the pieces: what is to be painted.
    pieces: Vec<Vec<Place>>,
}

/// The regions of a map.
#[derive(Clone, Debug, Default)]
pub(super) struct Regions {
    across: Vec<f64>,
    up: Vec<f64>,
    /// Where it plays, thin or good.
    pub(super) plays: Region,
    /// Where it is good.
    pub(super) good: Region,
    /// Where the name of each region has the most room around it.
    pub(super) words: Vec<(State, Place)>,
}

impl Regions {
    /// Of a map.
    pub(super) fn of(map: &Map) -> Self {
        let (across, up) = (map.across.1.clone(), map.up.1.clone());
        let states: Vec<State> = map.margins.iter().map(|margin| state(*margin)).collect();
        Self {
            plays: Region::of(&across, &up, &states, State::Thin, &map.plays),
            good: Region::of(&across, &up, &states, State::Good, &map.good),
            words: words(&across, &up, &states),
            across,
            up,
        }
    }

    /// What is shown at a place; none beside the map.
    pub(super) fn state_at(&self, at: Place) -> Option<State> {
        let cell = |nodes: &[f64], value: f64| {
            let (first, last) = (*nodes.first()?, *nodes.last()?);
            ((first..=last).contains(&value) && nodes.len() > 1)
                .then(|| nodes.partition_point(|node| *node <= value).clamp(1, nodes.len() - 1) - 1)
        };
        let (i, j) = (cell(&self.across, at.0)?, cell(&self.up, at.1)?);
        let index = j * (self.across.len() - 1) + i;
        Some(match (self.good.holds(index, at), self.plays.holds(index, at)) {
            (true, _) => State::Good,
            (false, true) => State::Thin,
            (false, false) => State::Fails,
        })
    }
}

impl Region {
    /// Whether a place of a cell lies within.
    fn holds(&self, cell: usize, at: Place) -> bool {
        match self.parts.get(cell) {
            Some(Part::All) => true,
            Some(Part::Piece(corners)) => is_inside(corners, at),
            Some(Part::None) | None => false,
        }
    }

    /// What is to be painted: convex pieces.
    pub(super) fn pieces(&self) -> &[Vec<Place>] {
        &self.pieces
    }

    fn of(across: &[f64], up: &[f64], states: &[State], least: State, line: &[[Place; 2]]) -> Self {
        let side = across.len();
        let columns = side.saturating_sub(1);
        let is_in = |i: usize, j: usize| states.get(j * side + i).is_some_and(|at| *at >= least);
        // the pieces of the line by the cell that they lie in
        let mut crossings: Vec<Vec<Place>> = vec![Vec::new(); columns * up.len().max(1)];
        for [a, b] in line {
            let middle = (0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1));
            let i = across.partition_point(|node| *node <= middle.0).max(1) - 1;
            let j = up.partition_point(|node| *node <= middle.1).max(1) - 1;
            if let Some(cell) = crossings.get_mut(j * columns + i.min(columns.max(1) - 1)) {
                cell.extend([*a, *b]);
            }
        }
        let mut region = Self::default();
        for j in 0..up.len().saturating_sub(1) {
            let mut run: Option<usize> = None;
            for i in 0..columns {
                let corners = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)];
                let inside = corners.map(|(i, j)| is_in(i, j));
                let part = match inside {
                    [true, true, true, true] => Part::All,
                    [false, false, false, false] => Part::None,
                    _ => Part::Piece(piece(
                        corners.map(|(i, j)| (across[i], up[j])),
                        inside,
                        &crossings[j * columns + i],
                    )),
                };
                if part != Part::All
                    && let Some(from) = run.take()
                {
                    region.pieces.push(rectangle(across, up, from, i, j));
                }
                match &part {
                    Part::All => run = run.or(Some(i)),
                    Part::Piece(corners) => region.pieces.push(corners.clone()),
                    Part::None => {}
                }
                region.parts.push(part);
            }
            if let Some(from) = run {
                region.pieces.push(rectangle(across, up, from, columns, j));
            }
        }
        region
    }
}

/// The state of a margin, in units of the thin band; what does not close fails.
fn state(margin: Option<f64>) -> State {
    match margin {
        Some(margin) if margin >= 1.0 - 1e-9 => State::Good,
        Some(margin) if margin > 1e-9 => State::Thin,
        _ => State::Fails,
    }
}

fn rectangle(across: &[f64], up: &[f64], from: usize, to: usize, row: usize) -> Vec<Place> {
    let (left, right, low, high) = (across[from], across[to], up[row], up[row + 1]);
    vec![(left, low), (right, low), (right, high), (left, high)]
}

/// The corners of a cell that are within, and where the line crosses its edges between them;
/// half way where no crossing is known.
fn piece(corners: [Place; 4], inside: [bool; 4], crossings: &[Place]) -> Vec<Place> {
    let mut piece = Vec::with_capacity(6);
    for edge in 0..4 {
        let next = (edge + 1) % 4;
        let (a, b) = (corners[edge], corners[next]);
        if inside[edge] {
            piece.push(a);
        }
        if inside[edge] != inside[next] {
            // an edge runs along one of the two dimensions
            let along_up = a.0 == b.0;
            let on_edge = |at: &&Place| if along_up { at.0 == a.0 } else { at.1 == a.1 };
            let half_way = (0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1));
            piece.push(crossings.iter().find(on_edge).copied().unwrap_or(half_way));
        }
    }
    piece
}

/// Whether a place lies within a convex piece whose corners go round to the left.
fn is_inside(corners: &[Place], at: Place) -> bool {
    corners.len() > 2
        && (0..corners.len()).all(|index| {
            let (a, b) = (corners[index], corners[(index + 1) % corners.len()]);
            (b.0 - a.0) * (at.1 - a.1) - (b.1 - a.1) * (at.0 - a.0) >= 0.0
        })
}

/// Least room, in cells, that a region takes to be named.
const ROOM: usize = 3;

/// For each state the node that is farthest from any other state and from the edge.
fn words(across: &[f64], up: &[f64], states: &[State]) -> Vec<(State, Place)> {
    let (columns, rows) = (across.len(), up.len());
    if columns < 3 || rows < 3 || states.len() != columns * rows {
        return Vec::new();
    }
    // steps to the nearest node of another state, there and back over the map
    let mut room = vec![0_usize; states.len()];
    let near = |room: &[usize], i: usize, j: usize, to: [(isize, isize); 4]| {
        to.into_iter()
            .map(|(di, dj)| {
                let other = i.checked_add_signed(di).zip(j.checked_add_signed(dj));
                match other.filter(|(i, j)| *i < columns && *j < rows) {
                    Some((oi, oj)) if states[oj * columns + oi] == states[j * columns + i] => {
                        room[oj * columns + oi] + 1
                    }
                    _ => 1,
                }
            })
            .min()
            .unwrap_or(1)
    };
    for j in 0..rows {
        for i in 0..columns {
            room[j * columns + i] = near(&room, i, j, [(-1, 0), (-1, -1), (0, -1), (1, -1)]);
        }
    }
    for j in (0..rows).rev() {
        for i in (0..columns).rev() {
            let back = near(&room, i, j, [(1, 0), (1, 1), (0, 1), (-1, 1)]);
            room[j * columns + i] = room[j * columns + i].min(back);
        }
    }
    [State::Good, State::Thin, State::Fails]
        .into_iter()
        .filter_map(|state| {
            let nodes = (0..states.len()).filter(|node| states[*node] == state);
            let node = nodes.max_by_key(|node| room[*node]).filter(|node| room[*node] >= ROOM)?;
            Some((state, (across[node % columns], up[node / columns])))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use overstand_core::dimension::Dim;
    use overstand_core::risk::{MapAsk, Risk, Watch, aimed};
    use overstand_core::study::Study;
    use overstand_core::testing::worked_example;
    use overstand_core::verdict::State;

    use super::*;

    /// What is shown is what the study of a design put there says, but for a strip about the
    /// lines, which run straight through a cell.
    #[test]
    fn what_is_shown_agrees_with_the_study() {
        let study = Study::of(&worked_example());
        let risk = Risk::of(&study).unwrap();
        let map = risk.map(&MapAsk { cells: 24, ..MapAsk::usual() }, &Watch::nobody()).unwrap();
        let regions = Regions::of(&map);
        let (mut seen, mut off) = ([0_usize; 3], 0);
        let sample = |nodes: &[f64], part: usize| {
            let (first, last) = (nodes[0], nodes[nodes.len() - 1]);
            first + (last - first) * (part as f64 + 0.37) / 41.0
        };
        for up in 0..41 {
            for across in 0..41 {
                let at = (sample(&map.across.1, across), sample(&map.up.1, up));
                let puts = [(Dim::Pitch.key(), at.0), (Dim::Overstand.key(), at.1)];
                let there = aimed(&study.design, &puts).map(|design| Study::of(&design));
                let worst = there
                    .as_ref()
                    .and_then(|study| study.closed()?.checks.iter().map(|check| check.state).min());
                let truth = worst.unwrap_or(State::Fails);
                seen[truth as usize] += 1;
                off += usize::from(regions.state_at(at) != Some(truth));
            }
        }
        assert!(seen[State::Fails as usize] > 100 && seen[0] < 1681, "{seen:?}");
        // the lines bend little within a cell of a 24th of the map
        assert!(off <= 8, "{off} of 1681 differ, of {seen:?}");
        assert_eq!(regions.state_at((map.across.1[0] - 0.1, map.up.1[0])), None);
    }

    #[test]
    fn a_cell_is_cut_where_the_line_crosses_it() {
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let crossings = [(0.25, 0.0), (0.5, 1.0)];
        let cut = piece(corners, [true, false, false, true], &crossings);
        assert_eq!(cut, [(0.0, 0.0), (0.25, 0.0), (0.5, 1.0), (0.0, 1.0)]);
        assert!(is_inside(&cut, (0.3, 0.5)) && !is_inside(&cut, (0.6, 0.5)));
    }

    #[test]
    fn a_region_is_named_where_it_has_room() {
        let nodes: Vec<f64> = (0..20).map(f64::from).collect();
        // the left half plays
        let states: Vec<State> =
            (0..400).map(|node| if node % 20 < 10 { State::Good } else { State::Fails }).collect();
        let words = words(&nodes, &nodes, &states);
        let of = |state| words.iter().find(|(other, _)| *other == state).map(|(_, at)| at.0);
        let (good, fails) = (of(State::Good).unwrap(), of(State::Fails).unwrap());
        assert!((3.0..=6.0).contains(&good) && (13.0..=16.0).contains(&fails), "{words:?}");
        assert_eq!(of(State::Thin), None);
    }
}
