//! A design as it comes out of the workshop: everything made misses by its error, the nut's
//! slots are filed, the wanted action is set, and the crest follows.

use super::source::{OF_SEAT, Source, Tolerated};
use crate::design::{Design, FloorKind, Limit};
use crate::dimension::{Dim, Dimension, Key, Values};
use crate::joint::FloorShape;
use crate::layout::{Layout, LayoutError, Real, Shape};
use crate::units::{Angle, Length};
use crate::verdict::{CheckId, Reading, State, number};

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
            .map(|&id| (id, id.limit(&design)))
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
    let was = floor.tan();
    let slope = was + (inner - mouth) / length;
    let turned = slope.atan();
    values[Dim::Pitch] = values[Dim::Pitch] + turned - floor;
    // 1/cos φ = √(1 + tan² φ)
    let longer = ((slope * slope + 1.0) / (was * was + 1.0)).sqrt();
    values[Dim::Overstand] = y_mouth + (values[Dim::Overstand] + depth) * longer;
    values[Dim::PocketDepth] = -y_mouth;
    values[Dim::Floor] = turned;
}

/// Something that may miss, with what its dimension is when it does not and all that is looked
/// up for it: it is made a million times.
#[derive(Debug)]
enum Part {
    SeatMouth,
    SeatInner,
    /// A dimension that the design has once.
    Single {
        info: &'static Dimension,
        nominal: f64,
    },
    /// That of one string, pickup or cavity.
    Listed {
        info: &'static Dimension,
        index: usize,
        nominal: f64,
    },
}

impl Part {
    fn of(source: Source, nominal: &Nominal) -> Self {
        let key = match source {
            Source::SeatMouth => return Self::SeatMouth,
            Source::SeatInner => return Self::SeatInner,
            Source::Dim(key) => key,
        };
        let (info, nominal) = (key.dim.info(), key.get(&nominal.design).unwrap_or_default());
        if info.is_listed() {
            Self::Listed { info, index: key.index, nominal }
        } else {
            Self::Single { info, nominal }
        }
    }
}

/// One piece that is made again and again.
#[derive(Debug)]
pub(crate) struct Workpiece<'a> {
    nominal: &'a Nominal,
    sources: Vec<Part>,
    design: Design,
    values: Values<f64>,
    layout: Option<Layout>,
}

impl<'a> Workpiece<'a> {
    pub(crate) fn new(nominal: &'a Nominal, tolerated: &[Tolerated]) -> Self {
        Self {
            nominal,
            sources: tolerated.iter().map(|one| Part::of(one.source, nominal)).collect(),
            design: nominal.design.clone(),
            values: nominal.values,
            layout: None,
        }
    }

    /// Makes it with these errors, one for each source and in its unit. False where it has no
    /// layout at all.
    pub(crate) fn make(&mut self, errors: &[f64]) -> bool {
        // all else is set by its source each time
        for dim in OF_SEAT {
            self.values[dim] = self.nominal.values[dim];
        }
        let (mut mouth, mut inner) = (0.0, 0.0);
        for (part, &error) in self.sources.iter().zip(errors) {
            match part {
                Part::SeatMouth => mouth = error,
                Part::SeatInner => inner = error,
                Part::Single { info, nominal } => {
                    let value = nominal + error;
                    info.put(&mut self.design, 0, value);
                    self.values[info.dim] = info.inward(value);
                }
                Part::Listed { info, index, nominal } => {
                    info.put(&mut self.design, *index, nominal + error);
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
            None => Layout::of_shape(&self.design, &self.values, self.nominal.shape.clone()),
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
        (0..self.nominal.checks.len()).map(|check| self.reading(check))
    }

    /// What one of them reads.
    pub(crate) fn reading(&self, check: usize) -> Option<Reading> {
        let (id, limit) = self.nominal.checks.get(check)?;
        number(&self.design, self.layout.as_ref()?, *id, limit)
    }

    /// The state of its worst check; it fails where it has no layout.
    pub(crate) fn worst_state(&self) -> State {
        self.readings()
            .map(|reading| reading.map_or(State::Fails, |reading| reading.state()))
            .min()
            .unwrap_or(State::Good)
    }

    /// One of its dimensions as it came out, in its unit.
    pub(crate) fn value(&self, key: Key) -> Option<f64> {
        key.get(&self.design)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choice::Choice;
    use crate::design::Spread;
    use crate::risk::engine::Stream;
    use crate::risk::source::IDLE;
    use crate::risk::sources;
    use crate::strings::gauges::SETS;
    use crate::study::Study;
    use crate::testing::worked_example;
    use crate::units::Unit;
    use crate::verdict::readings;

    /// A design of random kinds and dimensions; many do not play, some do not close.
    fn random(stream: &mut Stream) -> Design {
        let mut design = worked_example();
        let mut unit = || stream.error(0.5, Spread::Rectangular) + 0.5;
        for choice in Choice::all() {
            if unit() < 0.5 {
                let at = (unit() * choice.options.len() as f64) as usize;
                let option = choice.options[at.min(choice.options.len() - 1)].0;
                choice.set(&mut design, option).unwrap();
            }
        }
        if unit() < 0.5 {
            SETS[1].put_on(&mut design);
        }
        if unit() < 0.1 {
            design.scale.frets = 0;
            design.board.crown = Length::mm(0.0);
        }
        for key in Key::all_of(&design) {
            let info = key.dim.info();
            if let Some(value) = key.get(&design)
                && info.unit != Unit::Count
                && info.role != crate::dimension::Role::Outcome
                && !(key.dim == Dim::Crown && design.scale.frets == 0)
            {
                let moved = value + (2.0 * unit() - 1.0) * 0.6 * info.step;
                key.set(&mut design, moved.clamp(info.low, info.high));
            }
        }
        design
    }

    /// The checks of a layout in the memory of another kind of the same design, bit by bit
    /// those of the study: number and state.
    #[test]
    fn numbers_alone_are_those_of_the_study() {
        let mut stream = Stream::new(3, 0);
        let (mut sound, mut read) = (0, 0);
        for _ in 0..6000 {
            let study = Study::of(&random(&mut stream));
            let Some(closed) = study.closed() else { continue };
            sound += 1;
            let design = &study.design;
            let values = Values::of(design);
            let other = Layout::of_shape(design, &values, Shape::of(design)).unwrap();
            // the memory holds something else first
            let mut moved = values;
            moved[Dim::Pitch] += 0.01;
            let other = other.again(design, &moved).unwrap();
            let layout = other.again(design, &values).unwrap();
            for check in &closed.checks {
                let limit = check.id.limit(design);
                let reading = number(design, &layout, check.id, &limit).unwrap();
                assert_eq!(reading.value.to_bits(), check.reading.value.to_bits());
                assert_eq!(reading.state(), check.state);
                assert_eq!(reading.limit, check.reading.limit);
                read += 1;
            }
            let count = CheckId::ALL
                .iter()
                .filter(|&&id| number(design, &layout, id, &id.limit(design)).is_some())
                .count();
            assert_eq!(count, closed.checks.len());
        }
        assert!(sound > 2000 && read > 40_000, "{sound} {read}");
    }

    /// A piece with errors is what the study makes of the design as it came out, with the
    /// clearance over fret 1 that the filed slots then leave.
    #[test]
    fn a_piece_is_what_the_study_makes_of_it() {
        let mut base = worked_example();
        SETS[1].put_on(&mut base);
        let base = Study::of(&base).design;
        let nominal = Nominal::of(&base).unwrap();
        let tolerated = sources(&base);
        let mut piece = Workpiece::new(&nominal, &tolerated);
        let mut stream = Stream::new(5, 1);
        for _ in 0..2000 {
            let errors: Vec<f64> = tolerated
                .iter()
                .map(|one| {
                    // strings move alike at nut and crest, so that those between keep their
                    // share of bass and treble at both
                    let lateral = matches!(one.source, Source::Dim(key)
                        if matches!(key.dim, Dim::NutPlace | Dim::CrestPlace));
                    let error = stream.error(one.plus_minus, one.spread);
                    // nor does the study take what lies out of range, as a fall-away below 0
                    let beyond = matches!(one.source, Source::Dim(key)
                    if key.get(&base).is_none_or(|value| {
                        !(key.dim.info().low..=key.dim.info().high).contains(&(value + error))
                    }));
                    if lateral || beyond { 0.0 } else { error }
                })
                .collect();
            assert!(piece.make(&errors));
            let layout = piece.layout().unwrap();
            let mut design = piece.design.clone();
            let ends = [layout.strings.first(), layout.strings.last()].map(Option::unwrap);
            design.wanted.first_fret_treble = Length::mm(ends[0].first_fret);
            design.wanted.first_fret_bass = Length::mm(ends[1].first_fret);
            design.found =
                [Dim::CrestHeight, Dim::Station].map(|dim| dim.info().key.to_owned()).into();
            let study = Study::of(&design);
            let closed = study.closed().unwrap();
            let crest = layout.middle.crest_height - closed.layout.middle.crest_height;
            // through another sum: a hundred roundings of coordinates of 1000 mm
            assert!(crest.abs() < 1e-10, "{crest}");
            for ((id, _), reading) in nominal.checks.iter().zip(piece.readings()) {
                let check = closed.checks.iter().find(|check| check.id == *id).unwrap();
                let reading = reading.unwrap();
                let off = reading.value - check.reading.value;
                // true octaves are found to some 1e-7 mm
                let within = if *id == CheckId::Intonation { 1e-6 } else { 1e-9 };
                assert!(off.abs() < within, "{id:?} {off}");
                let margin = reading.margin();
                let at_an_edge = margin.abs() < 1e-5 || (margin - 1.0).abs() < 1e-5;
                assert!(at_an_edge || reading.state() == check.state, "{id:?}");
            }
        }
    }

    /// The seat's exact motion against the remedies of a dry fit: the mouth lowered by e turns
    /// the neck by atan(e/ℓ) on a floor parallel to the top, and lowers it by e but for the
    /// turn.
    #[test]
    fn a_lowered_mouth_raises_the_pitch() {
        let mut design = worked_example();
        design.joint.floor = Angle::degrees(0.0);
        let mut values = Values::of(&design);
        let (pitch, depth) = (values[Dim::Pitch], values[Dim::PocketDepth]);
        seat_moved(&mut values, -0.5, 0.0);
        let turned = (0.5_f64 / 70.0).atan();
        assert!((values[Dim::Pitch] - pitch - turned).abs() < 1e-15);
        let over = depth / turned.cos() - depth - 0.5;
        assert!((values[Dim::Overstand] - over).abs() < 1e-12);
        assert!((values[Dim::PocketDepth] - depth - 0.5).abs() < 1e-15);
    }

    /// What is taken for idle moves no reading, whatever the kinds.
    #[test]
    fn the_idle_ones_are_idle() {
        let mut stream = Stream::new(11, 0);
        for _ in 0..200 {
            let study = Study::of(&random(&mut stream));
            let Some(closed) = study.closed() else { continue };
            for dim in IDLE {
                let mut design = study.design.clone();
                let key = dim.key();
                let Some(value) = key.get(&design) else { continue };
                // from one side of the design's own value: some stand at the end of a range
                key.set(&mut design, value + 0.01 * dim.info().step);
                // whether there is a wedge is a choice
                if dim == Dim::WedgeLength && value == 0.0 {
                    continue;
                }
                let layout = Layout::of(&design).unwrap();
                for (id, reading) in readings(&design, &layout) {
                    let check = closed.checks.iter().find(|check| check.id == id).unwrap();
                    assert_eq!(
                        reading.value.to_bits(),
                        check.reading.value.to_bits(),
                        "{dim:?} {id:?}"
                    );
                }
            }
        }
    }
}
