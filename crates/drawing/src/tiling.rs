//! A drawing cut into tiles that overlap, and the marks by which they are joined.

use kurbo::{Point, Rect};

/// Less than this, mm, is no reason for another tile.
const SLIVER: f64 = 1e-6;
/// From the end of a common edge to a mark, mm.
pub(crate) const FROM_END: f64 = 4.8;

/// One tile: a window of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tile {
    /// From 0 at the top.
    pub row: usize,
    /// From 0 at the left.
    pub column: usize,
    /// What it shows, in the drawing's own mm.
    pub window: Rect,
}

impl Tile {
    /// Its name: the row's letter and the column's number.
    pub fn name(&self) -> String {
        name(self.row, self.column)
    }
}

pub(crate) fn name(row: usize, column: usize) -> String {
    let letter = |index: usize| char::from(b'A' + (index % 26) as u8);
    let row = match row / 26 {
        0 => letter(row).to_string(),
        more => format!("{}{}", letter(more - 1), letter(row)),
    };
    format!("{row}{}", column + 1)
}

/// A mark in the overlap of two tiles, shown on both.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Where, in the drawing's own mm.
    pub at: Point,
    /// The two tiles, by index into the tiling's tiles.
    pub tiles: [usize; 2],
}

/// A drawing cut into tiles.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tiling {
    /// How many rows, empty ones as well.
    pub rows: usize,
    /// How many columns.
    pub columns: usize,
    /// The tiles that show something, row by row from the top left.
    pub tiles: Vec<Tile>,
    /// The marks.
    pub marks: Vec<Mark>,
}

/// How many tiles of a size cover a length when each overlaps the next by at least so much,
/// and where each starts; what is left over widens the overlaps.
fn starts(length: f64, tile: f64, overlap: f64) -> Vec<f64> {
    if length <= tile + SLIVER {
        // in the middle
        return vec![0.5 * (length - tile)];
    }
    let step = tile - overlap;
    let count = 1 + ((length - tile - SLIVER) / step).ceil() as usize;
    (0..count).map(|i| (length - tile) * i as f64 / (count - 1) as f64).collect()
}

impl Tiling {
    /// Cuts what lies within `bounds` into tiles of a size (width, height) that overlap by
    /// at least so much. `shows` says whether there is anything in a window; tiles where
    /// there is nothing are left out. The overlap must be smaller than the tile.
    pub fn new(bounds: Rect, size: (f64, f64), overlap: f64, shows: impl Fn(Rect) -> bool) -> Self {
        let across = starts(bounds.width(), size.0, overlap);
        let down = starts(bounds.height(), size.1, overlap);
        let mut tiles = Vec::new();
        for (row, below) in down.iter().enumerate() {
            for (column, start) in across.iter().enumerate() {
                let (left, top) = (bounds.x0 + start, bounds.y1 - below);
                let window = Rect::new(left, top - size.1, left + size.0, top);
                if shows(window) {
                    tiles.push(Tile { row, column, window });
                }
            }
        }
        let marks = marks(&tiles);
        Self { rows: down.len(), columns: across.len(), tiles, marks }
    }

    /// The tile in a row and column, if it is there.
    pub fn at(&self, row: usize, column: usize) -> Option<&Tile> {
        self.tiles.iter().find(|tile| (tile.row, tile.column) == (row, column))
    }
}

/// Two marks in the overlap of each pair of neighbours, in the middle of it and near both ends
/// of their common edge: the farther apart, the truer the joint.
fn marks(tiles: &[Tile]) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (i, one) in tiles.iter().enumerate() {
        for (j, other) in tiles.iter().enumerate() {
            let beside = one.row == other.row && one.column + 1 == other.column;
            let below = one.column == other.column && one.row + 1 == other.row;
            if !(beside || below) {
                continue;
            }
            let common = one.window.intersect(other.window);
            let middle = common.center();
            let ends = if beside {
                [common.y0 + FROM_END, common.y1 - FROM_END].map(|y| Point::new(middle.x, y))
            } else {
                // not in the corner, where four tiles meet
                let inner = FROM_END + 0.1 * common.width();
                [common.x0 + inner, common.x1 - inner].map(|x| Point::new(x, middle.y))
            };
            marks.extend(ends.map(|at| Mark { at, tiles: [i, j] }));
        }
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: fn(Rect) -> bool = |_| true;

    #[test]
    fn tiles_cover_the_drawing_and_overlap_enough() {
        for length in [10.0, 190.0, 190.1, 370.0, 370.1, 999.9] {
            let bounds = Rect::new(-50.0, 7.0, length - 50.0, 107.0);
            let tiling = Tiling::new(bounds, (190.0, 260.0), 10.0, ALL);
            let tiles = &tiling.tiles;
            let (first, last) = (tiles[0].window, tiles[tiles.len() - 1].window);
            assert!(first.x0 <= bounds.x0 + 1e-9 && last.x1 >= bounds.x1 - 1e-9);
            for pair in tiles.windows(2) {
                let overlap = pair[0].window.x1 - pair[1].window.x0;
                assert!(overlap >= 10.0 - 1e-9, "{length}: {overlap}");
            }
        }
    }

    #[test]
    fn no_tile_is_spent_on_a_sliver() {
        let count = |length: f64| {
            Tiling::new(Rect::new(0.0, 0.0, length, 10.0), (190.0, 260.0), 10.0, ALL).tiles.len()
        };
        assert_eq!([count(190.0), count(190.0 + 1e-9), count(190.1)], [1, 1, 2]);
        assert_eq!([count(370.0), count(370.0 + 1e-9), count(370.1)], [2, 2, 3]);
    }

    #[test]
    fn slack_is_spread_over_the_overlaps() {
        let tiling = Tiling::new(Rect::new(0.0, 0.0, 500.0, 10.0), (190.0, 260.0), 10.0, ALL);
        let overlaps: Vec<f64> =
            tiling.tiles.windows(2).map(|pair| pair[0].window.x1 - pair[1].window.x0).collect();
        // three tiles of 190 over 500: 70 to share among two overlaps
        assert!(overlaps.iter().all(|overlap| (overlap - 35.0).abs() < 1e-9), "{overlaps:?}");
    }

    #[test]
    fn marks_lie_within_both_of_their_tiles_and_empty_tiles_have_none() {
        let bounds = Rect::new(0.0, 0.0, 500.0, 500.0);
        let tiling = Tiling::new(bounds, (190.0, 260.0), 10.0, |window| {
            !(window.x0 < 1.0 && window.y0 < 1.0)
        });
        assert_eq!((tiling.rows, tiling.columns, tiling.tiles.len()), (2, 3, 5));
        assert_eq!(tiling.tiles[0].name(), "A1");
        assert_eq!(tiling.tiles[3].name(), "B2");
        assert!(tiling.at(1, 0).is_none());
        // 2 + 1 neighbours side by side, 2 one over the other, two marks each
        assert_eq!(tiling.marks.len(), 10);
        for mark in &tiling.marks {
            for tile in mark.tiles {
                let inner = tiling.tiles[tile].window.inflate(-4.0, -4.0);
                assert!(inner.contains(mark.at), "{mark:?}");
            }
        }
    }

    #[test]
    fn rows_beyond_z_have_two_letters() {
        assert_eq!(
            [name(0, 0), name(25, 9), name(26, 0), name(53, 1)],
            ["A1", "Z10", "AA1", "BB2"]
        );
    }
}
