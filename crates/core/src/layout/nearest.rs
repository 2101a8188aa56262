//! The least step onto linearised relations within bounds.

use nalgebra::{DMatrix, DVector};

/// The point y nearest to the origin with A y = b and low ≤ y ≤ high, if any.
///
/// # Method
/// y = clamp(Aᵀλ): the optimality conditions leave only the m multipliers λ
/// unknown. They are found by Newton's method on A clamp(Aᵀλ) = b, which is
/// piecewise linear, with the step halved until the dual rises (a semismooth
/// Newton method on a concave dual; Nocedal & Wright ch. 12 and 16, from memory).
pub(super) fn nearest_on_plane(
    a: &DMatrix<f64>,
    b: &DVector<f64>,
    low: &DVector<f64>,
    high: &DVector<f64>,
) -> Option<DVector<f64>> {
    let point = |multipliers: &DVector<f64>| {
        let mut y = a.tr_mul(multipliers);
        for i in 0..y.len() {
            y[i] = y[i].clamp(low[i].min(high[i]), high[i]);
        }
        y
    };
    // the dual function: b·λ + min over y of ½|y|² - λ·A y
    let dual = |multipliers: &DVector<f64>| {
        let y = point(multipliers);
        b.dot(multipliers) + 0.5 * y.norm_squared() - multipliers.dot(&(a * &y))
    };
    let allowed = 1e-13 * b.amax().max(1.0);
    let mut multipliers = DVector::zeros(a.nrows());
    for _ in 0..80 {
        let y = point(&multipliers);
        let missing = b - a * &y;
        if missing.amax() <= allowed {
            return Some(y);
        }
        let mut free = a.clone();
        for i in 0..y.len() {
            if y[i] <= low[i] || y[i] >= high[i] {
                free.column_mut(i).fill(0.0);
            }
        }
        let newton = |matrix: &DMatrix<f64>| {
            let normal = matrix * matrix.transpose();
            let scale = normal.amax();
            // absurd slopes overflow when squared
            if !normal.iter().all(|entry| entry.is_finite()) {
                return None;
            }
            normal.svd(true, true).solve(&missing, 1e-14 * scale.max(f64::MIN_POSITIVE)).ok()
        };
        // with every direction blocked, climb along all of them
        let ascent = match newton(&free) {
            Some(direction) if direction.amax() > 0.0 => direction,
            _ => newton(a)?,
        };
        let now = dual(&multipliers);
        let mut part = 1.0;
        loop {
            let next = &multipliers + &ascent * part;
            let rise = missing.dot(&ascent) * part;
            if dual(&next) >= now + 1e-4 * rise - 1e-15 * now.abs() {
                multipliers = next;
                break;
            }
            part *= 0.5;
            if part < 1e-12 {
                return None;
            }
        }
        if !multipliers.iter().all(|x| x.is_finite()) {
            return None;
        }
    }
    // it cannot be met exactly: nearly is enough only if rounding is to blame
    let y = point(&multipliers);
    ((b - a * &y).amax() <= 1e-10 * b.amax().max(1.0)).then_some(y)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearest_point_on_a_line_in_a_box() {
        // y1 + y2 = 4 with y1 ≤ 1: nearest to the origin is (1, 3)
        let a = DMatrix::from_row_slice(1, 2, &[1.0, 1.0]);
        let b = DVector::from_element(1, 4.0);
        let low = DVector::from_element(2, -10.0);
        let high = DVector::from_row_slice(&[1.0, 10.0]);
        let y = nearest_on_plane(&a, &b, &low, &high).unwrap();
        assert!((y[0] - 1.0).abs() < 1e-12 && (y[1] - 3.0).abs() < 1e-12);
        // and with y2 ≤ 2 as well there is none
        let high = DVector::from_row_slice(&[1.0, 2.0]);
        assert!(nearest_on_plane(&a, &b, &low, &high).is_none());
    }
}
