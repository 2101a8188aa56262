//! Filling an outline that need not be convex: it is cut into triangles.

use egui::{Pos2, Vec2};

/// Cuts a simple outline into triangles by clipping ears; triples of its points.
///
/// An outline that crosses itself is filled as far as it goes.
pub(crate) fn triangles(outline: &[Pos2]) -> Vec<[usize; 3]> {
    let mut left: Vec<usize> = (0..outline.len()).collect();
    left.dedup_by(|a, b| outline[*a] == outline[*b]);
    if left.len() > 1 && outline[left[0]] == outline[left[left.len() - 1]] {
        left.pop();
    }
    if area(outline, &left) < 0.0 {
        left.reverse();
    }
    let mut found = Vec::with_capacity(left.len().saturating_sub(2));
    let (mut at, mut misses) = (0, 0);
    while left.len() >= 3 {
        let count = left.len();
        let corner = [left[(at + count - 1) % count], left[at % count], left[(at + 1) % count]];
        if misses < count && !is_ear(outline, &left, corner) {
            (at, misses) = ((at + 1) % count, misses + 1);
            continue;
        }
        // a corner that turns nowhere is dropped without a triangle
        if misses < count && cross(outline, corner) > 0.0 {
            found.push(corner);
        }
        left.remove(at % count);
        (at, misses) = (if at % count == 0 { 0 } else { at % count - 1 }, 0);
    }
    found
}

fn area(outline: &[Pos2], order: &[usize]) -> f32 {
    let next = order.iter().cycle().skip(1);
    order
        .iter()
        .zip(next)
        .map(|(&a, &b)| outline[a].x * outline[b].y - outline[b].x * outline[a].y)
        .sum()
}

fn turn(a: Vec2, b: Vec2) -> f32 {
    a.x * b.y - a.y * b.x
}

fn cross(outline: &[Pos2], [a, b, c]: [usize; 3]) -> f32 {
    turn(outline[b] - outline[a], outline[c] - outline[b])
}

/// Whether a corner can be cut off: it does not turn inward, and no other point
/// lies within it.
fn is_ear(outline: &[Pos2], left: &[usize], corner: [usize; 3]) -> bool {
    let turning = cross(outline, corner);
    if turning <= 0.0 {
        return turning == 0.0;
    }
    let [a, b, c] = corner.map(|index| outline[index]);
    !left.iter().any(|index| {
        let at = outline[*index];
        !corner.contains(index)
            && at != a
            && at != b
            && at != c
            && turn(b - a, at - a) >= 0.0
            && turn(c - b, at - b) >= 0.0
            && turn(a - c, at - c) >= 0.0
    })
}

#[cfg(test)]
mod tests {
    use egui::pos2;

    use super::*;

    fn filled(outline: &[Pos2]) -> f32 {
        triangles(outline).iter().map(|&corner| cross(outline, corner) / 2.0).sum()
    }

    #[test]
    fn an_outline_is_filled_once_and_wholly() {
        let comb = [
            (0.0, 0.0),
            (9.0, 0.0),
            (9.0, 6.0),
            (7.0, 6.0),
            (7.0, 2.0),
            (5.0, 2.0),
            (5.0, 6.0),
            (3.0, 6.0),
            (3.0, 2.0),
            (2.0, 2.0),
            (2.0, 6.0),
            (0.0, 6.0),
        ]
        .map(|(x, y)| pos2(x, y));
        let whole = 9.0 * 6.0 - 2.0 * 4.0 - 1.0 * 4.0;
        assert!((filled(&comb) - whole).abs() < 1e-4);
        let mut backward = comb;
        backward.reverse();
        assert!((filled(&backward) - whole).abs() < 1e-4);
        let mut closed = comb.to_vec();
        closed.push(comb[0]);
        closed.insert(3, comb[2]);
        assert!((filled(&closed) - whole).abs() < 1e-4, "points given twice do no harm");
    }

    #[test]
    fn no_outline_at_all_is_no_trouble() {
        assert!(triangles(&[]).is_empty());
        assert!(triangles(&[pos2(1.0, 1.0); 5]).is_empty());
        assert!(triangles(&[pos2(0.0, 0.0), pos2(1.0, 0.0), pos2(2.0, 0.0)]).is_empty());
        // a figure of eight ends as well
        let eight = [(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)].map(|(x, y)| pos2(x, y));
        assert!(triangles(&eight).len() <= 2);
    }
}
