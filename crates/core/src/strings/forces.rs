//! What the strings press on nut and saddle.

use crate::layout::Layout;

/// Forces of one string on the saddle, in the body frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SaddleForces {
    /// How much the string bends over it, radians.
    pub break_angle: f64,
    /// Square to the top datum, N, positive into the body: T (sin γ_1 + sin γ_2).
    pub down: f64,
    /// Along the datum, N, positive toward the tail: T (cos γ_2 - cos γ_1).
    pub forward: f64,
    /// Both together, N: 2 T sin(break/2).
    pub resultant: f64,
}

impl SaddleForces {
    /// From the tension and the angles of the string to the datum before and behind the
    /// saddle, positive where it falls away from the crest.
    pub fn of(tension: f64, before: f64, behind: f64) -> Self {
        Self {
            break_angle: before + behind,
            down: tension * (before.sin() + behind.sin()),
            forward: tension * (behind.cos() - before.cos()),
            resultant: 2.0 * tension * ((before + behind) / 2.0).sin(),
        }
    }
}

/// Forces of a string on the saddle; none when it is wrapped over the bridge.
pub(super) fn on_saddle(layout: &Layout, string: usize, tension: f64) -> Option<SaddleForces> {
    let line = layout.strings.get(string)?;
    let before = layout.strung_pitch + line.slope.atan();
    Some(SaddleForces::of(tension, before, line.saddle_break?.angle() - before))
}

/// Force of a string on the nut, square to the board, N, positive into the neck:
/// T (sin δ - sin(atan q)). The playing side rises away from the nut and so counts negative.
pub(super) fn on_nut(layout: &Layout, string: usize, tension: f64) -> Option<f64> {
    let line = layout.strings.get(string)?;
    let rise = line.slope.atan();
    Some(tension * ((line.nut_break.angle() + rise).sin() - rise.sin()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: parallelogram of forces, F/T = 2 cos(angle/2) for the included angle of the
    /// string: G. Hart, The Violin: Its Famous Makers and Their Imitators (Project Gutenberg
    /// 9153, read), 8 lb down for 18 lb of pull, hence 154.3208232°; and 0.3987358688 and
    /// 0.3816179908 at 157° and 158° (computed; the first angle from a viola table, read).
    #[test]
    fn down_force_of_a_bridge() {
        for (angle, ratio) in
            [(154.3208232_f64, 8.0 / 18.0), (157.0, 0.3987358688), (158.0, 0.3816179908)]
        {
            let bend = (180.0 - angle).to_radians();
            let forces = SaddleForces::of(1.0, bend / 2.0, bend / 2.0);
            // ten printed digits
            assert!((forces.resultant - ratio).abs() < 1e-8, "{angle}°");
            // bent evenly, all of it is square to the datum
            assert!((forces.down - ratio).abs() < 1e-8 && forces.forward.abs() < 1e-12);
        }
    }

    #[test]
    fn the_resultant_is_made_of_both() {
        let forces = SaddleForces::of(80.0, 0.06, 0.2);
        let both = forces.down.hypot(forces.forward);
        // double rounding of numbers below 100
        assert!((both - forces.resultant).abs() < 1e-12);
        // steeper behind: it pulls the saddle toward the nut
        assert!(forces.forward < 0.0);
    }
}
