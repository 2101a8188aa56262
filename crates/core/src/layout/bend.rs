//! By how much a string bends.

/// An angle by which a string bends, kept as the direction to which it turns. It is added to
/// and compared without being worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Along the string as it would go on straight.
    on: f64,
    /// Away from that.
    off: f64,
}

impl Bend {
    /// Toward a point (along, over), either of any length.
    pub(super) fn of((on, off): (f64, f64)) -> Self {
        Self { on, off }
    }

    /// Turned on by the angle of (along, over).
    pub(super) fn and(self, (on, off): (f64, f64)) -> Self {
        Self { on: self.on * on - self.off * off, off: self.off * on + self.on * off }
    }

    /// The angle, radians, from -π to π.
    pub fn angle(self) -> f64 {
        self.off.atan2(self.on)
    }

    /// The angle in degrees.
    pub fn to_degrees(self) -> f64 {
        self.angle().to_degrees()
    }

    /// A number that grows with the angle, from -2 to 2. Not a number if the angle is none.
    pub(crate) fn order(self) -> f64 {
        let part = self.off / (self.on.abs() + self.off.abs());
        if self.on >= 0.0 || part.is_nan() { part } else { 2.0_f64.copysign(self.off) - part }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_grows_with_the_angle() {
        let mut last = f64::NEG_INFINITY;
        for step in -179..=180 {
            let angle = f64::from(step).to_radians();
            let bend = Bend::of((angle.cos() * 3.0, angle.sin() * 3.0));
            // one rounding of sine, cosine and arc each
            assert!((bend.angle() - angle).abs() < 1e-15, "{step}");
            assert!(bend.order() > last && bend.order().abs() <= 2.0, "{step}");
            last = bend.order();
        }
        assert!(Bend::of((f64::NAN, 1.0)).order().is_nan());
    }

    #[test]
    fn angles_add_up() {
        let bend = Bend::of((2.0, 0.4)).and((10.0, -0.3)).and((0.9, 1.4));
        let sum = 0.2_f64.atan() - 0.03_f64.atan() + 1.4_f64.atan2(0.9);
        assert!((bend.angle() - sum).abs() < 1e-15);
        assert_eq!(bend.to_degrees(), bend.angle().to_degrees());
    }
}
