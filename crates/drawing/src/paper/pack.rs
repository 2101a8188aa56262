//! Puts blocks on pages, shelf by shelf from the top left.

use kurbo::Point;

use super::block::Block;

/// Blank paper between two blocks, mm.
const GAP: f64 = 5.0;

/// Where a block lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub(super) page: usize,
    /// Its lower left corner, from the lower left of the room.
    pub(super) at: Point,
}

struct Shelf {
    page: usize,
    top: f64,
    height: f64,
    /// Where the next block goes.
    x: f64,
}

/// Places for blocks in a room of a size, in their order, below a first block of a size at
/// the top left of the first page. Each block must fit into the room.
///
/// A block may go back to an earlier shelf that has room for it, so that small ones fill
/// the gaps; the tiles of one part keep their order.
pub(super) fn pack(first: (f64, f64), blocks: &[Block], room: (f64, f64)) -> Vec<Place> {
    let mut shelves = vec![Shelf { page: 0, top: room.1, height: first.1, x: first.0 + GAP }];
    let mut places: Vec<Place> = Vec::with_capacity(blocks.len());
    // the shelf before which the current block must not go
    let mut from = 0;
    for block in blocks {
        if !block.follows {
            from = 0;
        }
        let fits = |shelf: &Shelf| {
            shelf.x + block.width <= room.0 + 1e-9 && block.height <= shelf.height + 1e-9
        };
        let found = shelves.iter().enumerate().skip(from).find(|(_, shelf)| fits(shelf));
        let index = match found {
            Some((index, _)) => index,
            None => {
                // a new shelf below the lowest of a page, or on a new page
                let pages = shelves.iter().map(|shelf| shelf.page).max().unwrap_or(0);
                let earliest = shelves.get(from).map_or(0, |shelf| shelf.page);
                let lowest = |page: usize| {
                    let ends = shelves.iter().filter(|shelf| shelf.page == page);
                    ends.map(|shelf| shelf.top - shelf.height - GAP).fold(room.1, f64::min)
                };
                let page = (earliest..=pages)
                    .find(|&page| block.height <= lowest(page) + 1e-9)
                    .unwrap_or(pages + 1);
                let top = if page > pages { room.1 } else { lowest(page) };
                shelves.push(Shelf { page, top, height: block.height, x: 0.0 });
                shelves.len() - 1
            }
        };
        let shelf = &mut shelves[index];
        places.push(Place { page: shelf.page, at: Point::new(shelf.x, shelf.top - block.height) });
        shelf.x += block.width + GAP;
        if block.starts {
            from = index;
        }
        if block.follows {
            from = from.max(index);
        }
    }
    places
}

/// The least width, to a few mm, in which everything fits on one page of a height; the room
/// as it is when nothing less does.
pub(super) fn shortest(first: (f64, f64), blocks: &[Block], room: (f64, f64)) -> (f64, f64) {
    const STEP: f64 = 10.0;
    let fits = |width: f64| pack(first, blocks, (width, room.1)).iter().all(|at| at.page == 0);
    let least = blocks.iter().map(|block| block.width).fold(first.0, f64::max);
    let mut width = least;
    while width < room.0 && !fits(width) {
        width += STEP;
    }
    (width.min(room.0), room.1)
}

#[cfg(test)]
mod tests {
    use kurbo::Rect;

    use super::*;

    fn blocks(sizes: &[(f64, f64)]) -> Vec<Block> {
        sizes.iter().map(|&(width, height)| Block::blank(width, height)).collect()
    }

    #[test]
    fn blocks_do_not_meet_and_stay_in_the_room() {
        let sizes: Vec<(f64, f64)> = (1..40)
            .map(|i| (20.0 + f64::from(i * 37 % 90), 10.0 + f64::from(i * 53 % 120)))
            .collect();
        let room = (170.0, 240.0);
        let blocks = blocks(&sizes);
        let places = pack((170.0, 60.0), &blocks, room);
        let rects: Vec<(usize, Rect)> = places
            .iter()
            .zip(&sizes)
            .map(|(place, &size)| (place.page, Rect::from_origin_size(place.at, size)))
            .collect();
        for (i, (page, rect)) in rects.iter().enumerate() {
            assert!(rect.x0 >= 0.0 && rect.y0 >= -1e-9, "{rect:?}");
            assert!(rect.x1 <= room.0 + 1e-9 && rect.y1 <= room.1 + 1e-9, "{rect:?}");
            if *page == 0 {
                assert!(rect.y1 <= room.1 - 60.0 + 1e-9, "{rect:?} lies on the first block");
            }
            for (other_page, other) in &rects[..i] {
                assert!(page != other_page || rect.intersect(*other).area() < 1e-9);
            }
        }
    }

    #[test]
    fn a_roll_is_cut_as_short_as_can_be() {
        let blocks = blocks(&[(300.0, 200.0), (300.0, 200.0), (300.0, 200.0)]);
        // below the first block there is room for one, and beside it for a column of two
        let (width, _) = shortest((200.0, 50.0), &blocks, (9000.0, 460.0));
        assert!((605.0..=615.0).contains(&width), "{width}");
    }

    #[test]
    fn a_small_block_fills_a_gap() {
        let places = pack((170.0, 60.0), &blocks(&[(170.0, 200.0), (50.0, 20.0)]), (170.0, 240.0));
        assert_eq!([places[0].page, places[1].page], [1, 0]);
    }
}
