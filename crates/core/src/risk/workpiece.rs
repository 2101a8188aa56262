//! A design as it comes out of the workshop: everything made misses by its error, the nut's
//! slots are filed, the wanted action is set, and the crest follows.

use super::source::{Source, Tolerated};
use crate::design::{Design, FloorKind};
use crate::dimension::{Dim, Values};
use crate::joint::FloorShape;
use crate::layout::{Layout, LayoutError, Real, Shape};
use crate::units::{Angle, Length};
use crate::verdict::{CheckId, Reading, limit_of, number};
use crate::design::Limit;

/// The nominal design that errors are laid on, with what does not change in a trial.
#[derive(Clone, Debug)]
pub(crate) struct Nominal {
    pub(crate) design: Design,
    pub(crate) values: Values<f64>,
    /// With the slots filed.
    pub(crate) shape: Shape,
    pub(crate) layout: Layout,
    /// The checks that this kind of design has, with their ranges.
    pub(crate) checks: Vec<(CheckId, Limit)>,
}

impl Nominal {
    /// Of a solved design.
    pub(crate) fn of(design: &Design) -> Result<Self, LayoutError> {
        let (mut values, mut shape) = (Values::of(design), Shape::of(design));
        let wanted = Layout::of_shape(design, &values, shape.clone())?;
        // a floor that follows is from now on cut where it is
        values[Dim::Floor] = wanted.floor();
        shape.floor = FloorShape::Free;
        let mut design = design.clone();
        design.joint.floor_kind = FloorKind::Free;
        let shape = shape.with_slots_filed(&values, &wanted);
        let layout = Layout::of_shape(&design, &values, shape.clone())?;
        let checks = CheckId::ALL
            .iter()
            .map(|&id| (id, limit_of(&design, id)))
            .filter(|(id, limit)| number(&design, &layout, *id, limit).is_some())
            .collect();
        Ok(Self { design, values, shape, layout, checks })
    }

    /// What each check reads when nothing misses.
    pub(crate) fn readings(&self) -> impl Iterator<Item = (CheckId, Option<Reading>)> {
        self.checks.iter().map(|(id, limit)| (*id, number(&self.design, &self.layout, *id, limit)))
    }
}

/// Where pitch and overstand go when the seat lies higher by `mouth` at the pocket's mouth
/// and by `inner` at the tenon's inner end, the tenon's own angle kept; mm, up positive.
/// Pocket depth and floor go along.
///
/// tan φ' = (y_inner - y_mouth)/ℓ, θ' = θ + φ' - φ, o' = y_mouth + (o + d_0) cos φ/cos φ',
/// with y_mouth = -d_0 where nothing misses. Exact.
pub(crate) fn seat_moved<D: Real>(values: &mut Values<D>, mouth: D, inner: D) {
    let (depth, length, floor) =
        (values[Dim::PocketDepth], values[Dim::TenonLength], values[Dim::Floor]);
    let y_mouth = mouth - depth;
    let slope = floor.tan() + (inner - mouth) / length;
    let turned = slope.atan();
    let over = (values[Dim::Overstand] + depth) * floor.cos();
    values[Dim::Pitch] = values[Dim::Pitch] + turned - floor;
    // 1/cos φ' = √(1 + tan² φ')
    values[Dim::Overstand] = y_mouth + over * (slope * slope + 1.0).sqrt();
    values[Dim::PocketDepth] = -y_mouth;
    values[Dim::Floor] = turned;
}

/// One piece that is made again and again.
#[derive(Debug)]
pub(crate) struct Workpiece<'a> {
    nominal: &'a Nominal,
    sources: Vec<(Source, f64)>,
    design: Design,
    values: Values<f64>,
    layout: Option<Layout>,
}

impl<'a> Workpiece<'a> {
    pub(crate) fn new(nominal: &'a Nominal, tolerated: &[Tolerated]) -> Self {
        let value = |source: Source| match source {
            Source::Dim(key) => key.get(&nominal.design).unwrap_or_default(),
            Source::SeatMouth | Source::SeatInner => 0.0,
        };
        Self {
            nominal,
            sources: tolerated.iter().map(|one| (one.source, value(one.source))).collect(),
            design: nominal.design.clone(),
            values: nominal.values,
            layout: None,
        }
    }

    /// Makes it with these errors, one for each source and in its unit. False where it has no
    /// layout at all.
    pub(crate) fn make(&mut self, errors: &[f64]) -> bool {
        self.values = self.nominal.values;
        let (mut mouth, mut inner) = (0.0, 0.0);
        for (&(source, nominal), &error) in self.sources.iter().zip(errors) {
            match source {
                Source::SeatMouth => mouth = error,
                Source::SeatInner => inner = error,
                Source::Dim(key) => {
                    let (info, value) = (key.dim.info(), nominal + error);
                    key.set(&mut self.design, value);
                    if !info.is_listed() {
                        self.values[key.dim] = info.inward(value);
                    }
                }
            }
        }
        if mouth != 0.0 || inner != 0.0 {
            seat_moved(&mut self.values, mouth, inner);
        }
        let joint = &mut self.design.joint;
        joint.pitch = Angle::from_radians(self.values[Dim::Pitch]);
        joint.overstand = Length::mm(self.values[Dim::Overstand]);
        joint.pocket_depth = Length::mm(self.values[Dim::PocketDepth]);
        joint.floor = Angle::from_radians(self.values[Dim::Floor]);
        let made = match self.layout.take() {
            Some(layout) => layout.again(&self.design, &self.values),
            None => {
                Layout::of_shape(&self.design, &self.values, self.nominal.shape.clone())
            }
        };
        self.layout = made.ok();
        self.layout.is_some()
    }

    /// As it came out.
    pub(crate) fn layout(&self) -> Option<&Layout> {
        self.layout.as_ref()
    }

    /// What each check of the nominal reads on it; none where one cannot be read any more.
    pub(crate) fn readings(&self) -> impl Iterator<Item = Option<Reading>> {
        self.nominal.checks.iter().map(|(id, limit)| {
            number(&self.design, self.layout.as_ref()?, *id, limit)
        })
    }

    /// Two of its dimensions, in their units, as they came out.
    pub(crate) fn value(&self, key: crate::dimension::Key) -> Option<f64> {
        key.get(&self.design)
    }
}
