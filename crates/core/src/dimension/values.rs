use std::ops::{Index, IndexMut};

use super::Dim;
use super::table::TABLE;
use crate::design::Design;

/// A number for every dimension that a design has once, in the unit of the
/// geometry (mm, radians). What this kind of design lacks is 0.
#[derive(Clone, Copy, Debug)]
pub struct Values<D>([D; TABLE.len()]);

impl Values<f64> {
    /// The numbers of a design.
    pub fn of(design: &Design) -> Self {
        let mut values = [0.0; TABLE.len()];
        for (value, info) in values.iter_mut().zip(&TABLE) {
            if !info.is_listed() {
                *value = info.inward((info.get)(design, 0).unwrap_or_default());
            }
        }
        Self(values)
    }
}

impl<D: Copy> Values<D> {
    /// The same numbers as another kind of number.
    pub(crate) fn map<E>(&self, into: impl FnMut(D) -> E) -> Values<E> {
        Values(self.0.map(into))
    }
}

impl<D> Index<Dim> for Values<D> {
    type Output = D;
    fn index(&self, dim: Dim) -> &D {
        &self.0[dim as usize]
    }
}

impl<D> IndexMut<Dim> for Values<D> {
    fn index_mut(&mut self, dim: Dim) -> &mut D {
        &mut self.0[dim as usize]
    }
}
