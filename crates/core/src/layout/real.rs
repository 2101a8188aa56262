use num_dual::DualNum;

/// What the geometry computes with: `f64`, or a dual number that carries an
/// exact derivative along.
pub trait Real: DualNum<Primitive = f64> + Copy {}

impl<D: DualNum<Primitive = f64> + Copy> Real for D {}
