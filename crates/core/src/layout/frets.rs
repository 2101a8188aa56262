use std::sync::LazyLock;

/// Positions for which the ratio is kept ready.
const KEPT: usize = 49;

static RATIOS: LazyLock<[f64; KEPT]> =
    LazyLock::new(|| std::array::from_fn(|n| 1.0 - f64::exp2(n as f64 / -12.0)));

/// Distance of fret n from the nut, as a part of the scale length:
/// 1 - 2^(-n/12). Fret 0 is the nut.
///
/// # Source
/// Twelve-tone equal temperament (ISO 16 for the pitch it starts from).
pub fn fret_ratio(n: u8) -> f64 {
    match RATIOS.get(usize::from(n)) {
        Some(ratio) => *ratio,
        None => 1.0 - f64::exp2(f64::from(n) / -12.0),
    }
}

/// The same of frets 1 to `last`.
pub(super) fn fret_ratios(last: u8) -> impl Iterator<Item = f64> {
    let kept = &*RATIOS;
    (1..=last).map(|n| kept.get(usize::from(n)).copied().unwrap_or_else(|| fret_ratio(n)))
}

/// 1/(r_m - r_n) of the ratios of frets n < m, row n, each with m = 0…; 0 for other m.
static BETWEEN: LazyLock<Vec<[f64; KEPT]>> = LazyLock::new(|| {
    let row = |n: usize| {
        let inverse = |m: usize| if m > n { 1.0 / (RATIOS[m] - RATIOS[n]) } else { 0.0 };
        std::array::from_fn(inverse)
    };
    (0..KEPT).map(row).collect()
});

/// Inverse distances from fret n to the frets n+1…, as a part of the scale length; empty
/// where there are none.
pub(crate) fn inverse_distances(n: usize) -> &'static [f64] {
    BETWEEN.get(n).map_or(&[], |row| &row[(n + 1).min(KEPT)..])
}

/// 1/(r_n+1 - r_n) of the ratios of each place and the next, from the nut on.
static ADJACENT: LazyLock<[f64; KEPT - 1]> =
    LazyLock::new(|| std::array::from_fn(|n| 1.0 / (RATIOS[n + 1] - RATIOS[n])));

/// Inverse distances from each fret to the next, from the nut on, as a part of the scale
/// length.
pub(crate) fn inverse_adjacent() -> &'static [f64] {
    &*ADJACENT
}

/// The last place on a fretless board at which a semitone can be stopped:
/// the largest n with L (1 - 2^(-n/12)) ≤ end. Lengths in mm.
pub(crate) fn last_stop(scale_length: f64, board_end: f64) -> u8 {
    (0..KEPT as u8).take_while(|&n| scale_length * fret_ratio(n) <= board_end).last().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: d_n = L (1 - 2^(-n/12)), computed with mpmath apart from this project.
    #[test]
    fn positions_of_a_650_mm_scale() {
        for (n, expected) in [
            (1, 36.4816967569),
            (5, 163.050200015),
            (7, 216.177047395),
            (12, 325.0),
            (19, 433.088523697),
            (24, 487.5),
        ] {
            // the reference is printed to 12 significant digits
            assert!((650.0 * fret_ratio(n) - expected).abs() < 1e-9, "fret {n}");
        }
    }

    #[test]
    fn the_last_stop_is_on_the_board() {
        assert_eq!(last_stop(864.0, 648.0), 24);
        assert_eq!(last_stop(864.0, 647.9), 23);
        assert_eq!(last_stop(864.0, 10.0), 0);
    }
}
