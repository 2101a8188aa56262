//! What a reading would be on a joint that lies so: the model that readings are held against.

use num_dual::Dual64;

use super::pose::Bench;
use super::reading::{Face, Place, Reading, ShoulderEnd, Side, What};
use super::told::{Told, Untold};
use crate::design::{BoardShape, Top};
use crate::dimension::{Dim, Values};
use crate::layout::{Real, sagitta, straightedge};
use crate::sentence::{Sentence, mm, sentence};

/// Unknowns: pitch, overstand, and tan of the lean across where something tells it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unknown<D> {
    pub(super) pitch: D,
    pub(super) overstand: D,
    pub(super) lean: D,
}

/// A reading that counts, at the joint found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Counted {
    /// What was read less what the joint found would read.
    pub(super) left: f64,
    /// What it would read more for each radian of pitch, mm of overstand, and unit of the tan
    /// of the lean.
    pub(super) slopes: [f64; 3],
    /// Its error.
    pub(super) error: f64,
}

/// A height read on the centre line, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Height {
    /// Where, from the joint.
    pub(super) x: f64,
    /// Height of the top there.
    pub(super) top: f64,
    /// What lies between the neck face and where it was read.
    pub(super) over: f64,
    /// What it read.
    pub(super) read: f64,
}

impl Bench {
    /// X of a place under the straightedge at a height over the glue face.
    pub(super) fn station<D: Real>(&self, place: Place, over: f64, pitch: D) -> D {
        let joint = self.shape.joint_from_nut(&self.values);
        let along = |u: f64| pitch.cos() * (u - joint) - pitch.sin() * over;
        match place {
            Place::Crest => D::from(self.crest.0),
            Place::BridgeLine => along(self.values[Dim::ScaleLength]),
            Place::Top(x) => D::from(x.to_mm()),
            Place::Board(u) => along(u.to_mm()),
        }
    }

    /// What lies between the neck's glue face and a straightedge, mm.
    pub(super) fn under(&self, face: Face, side: Side) -> f64 {
        let surface = face.over(&self.cut);
        let rounded = match self.cut.board.shape {
            BoardShape::Fixed { radius } if surface > 0.0 => sagitta(radius.to_mm(), side.across()),
            _ => 0.0,
        };
        surface - rounded
    }

    /// What a reading would be; none for one that says nothing of pitch and overstand.
    pub(super) fn predicted<D: Real>(&self, reading: &Reading, at: &Unknown<D>) -> Option<D> {
        match &reading.what {
            // where it closes within its error a feeler tells only a side
            What::Gap { gap, .. } if gap.to_mm() <= reading.error => None,
            what => self.reads(what, at),
        }
    }

    /// What would be read; none where it hangs on neither pitch nor overstand.
    fn reads<D: Real>(&self, what: &What, at: &Unknown<D>) -> Option<D> {
        match what {
            What::Height { face, place, side, edge, .. } => {
                let mut values: Values<D> = self.values.map(D::from);
                values[Dim::Pitch] = at.pitch;
                values[Dim::Overstand] = at.overstand;
                let across = side.across();
                let over = self.under(*face, *side);
                let x = self.station(*place, over, at.pitch);
                let reads = straightedge(&values, &self.shape, values[Dim::Pitch].sin_cos(), x)(
                    D::from(over + edge.to_mm()),
                );
                Some(reads + at.lean * across)
            }
            What::Gauge { place, .. } => {
                let slope = place.map_or(0.0, |place| {
                    self.shape.top.slope(self.station(place, 0.0, self.planned.0), &self.values)
                });
                Some((at.pitch - slope.atan()) * 1f64.to_degrees())
            }
            What::Gap { end, .. } => {
                let open = (at.pitch - self.shoulder_pitch).sin() * self.shoulder();
                Some(if *end == ShoulderEnd::Top { open } else { -open })
            }
            What::Roll { .. } => Some(at.lean.atan() * 1f64.to_degrees()),
            What::Aim { .. } => None,
        }
    }

    /// Error of a reading with all that is uncertain beside it: a gauge is set twice, and a
    /// feeler is as good as the shoulder is cut.
    pub(super) fn error(&self, reading: &Reading) -> f64 {
        match reading.what {
            What::Gauge { .. } => reading.error * std::f64::consts::SQRT_2,
            What::Gap { .. } => {
                let cut = pitch_cut().to_radians().sin() * self.shoulder();
                reading.error.hypot(cut)
            }
            _ => reading.error,
        }
    }

    /// What a reading would be with pitch and overstand as planned, mm or degrees; a shoulder
    /// that stands open at its other end reads 0.
    ///
    /// # Errors
    /// [`Untold`] where such a reading cannot be understood here.
    pub(super) fn as_planned(&self, reading: &Reading) -> Result<f64, Untold> {
        if let Some(untold) = self.refused(std::slice::from_ref(reading)) {
            return Err(untold);
        }
        let at = Unknown { pitch: self.planned.0, overstand: self.planned.1, lean: 0.0 };
        let reads = self.reads(&reading.what, &at).unwrap_or(0.0);
        Ok(if matches!(reading.what, What::Gap { .. }) { reads.max(0.0) } else { reads })
    }

    /// A reading that cannot be understood here, and why.
    pub(super) fn refused(&self, readings: &[Reading]) -> Option<Untold> {
        readings.iter().enumerate().find_map(|(index, reading)| {
            let says = match &reading.what {
                What::Height { side, .. } if *side != Side::Middle => {
                    match (&self.cut.board.shape, &self.cut.body.top) {
                        (BoardShape::Compound { .. }, _) => sentence![
                            "On a board of compound radius a straightedge beside the centre line rocks: read on the centre line."
                        ],
                        (_, Top::Arch { .. } | Top::Dome { .. }) => sentence![
                            "The top is known along the centre line alone: on an arched or domed one read there."
                        ],
                        _ => self.beyond_top(reading)?,
                    }
                }
                What::Gauge { place: None, .. } if self.cut.body.top != Top::Flat => sentence![
                    "This top is not flat: say where on it the gauge stood, as gauge@X=100."
                ],
                _ => self.beyond_top(reading)?,
            };
            Some(Untold { reading: Some(index), says })
        })
    }

    fn beyond_top(&self, reading: &Reading) -> Option<Sentence> {
        let (place, over) = match reading.what {
            What::Height { place, face, .. } => (place, face.over(&self.cut)),
            What::Gauge { place, .. } => (place?, 0.0),
            _ => return None,
        };
        let x = self.station(place, over, self.planned.0);
        let end = self.shape.top.known_to().filter(|_| !self.shape.top.covers(x))?;
        Some(sentence![
            "It was read ",
            mm(x, 1),
            " from the joint, beyond the last measured point of the arch at ",
            mm(end, 1),
            ": measure the top there."
        ])
    }

    /// The readings that count, each with what it says at the joint found.
    pub(super) fn counted(&self, readings: &[Reading], told: &Told) -> Vec<Counted> {
        let lean = told.roll.map_or(0.0, |(lean, _)| lean.tan());
        let at = [told.pitch, told.overstand, lean];
        let one = |reading: &Reading| {
            let by = |which: usize| {
                let mut one = at.map(Dual64::from_re);
                one[which] = one[which].derivative();
                let [pitch, overstand, lean] = one;
                self.predicted(reading, &Unknown { pitch, overstand, lean })
            };
            let [pitch, overstand, lean] = [by(0)?, by(1)?, by(2)?];
            Some(Counted {
                left: reading.what.value() - pitch.re,
                slopes: [pitch.eps, overstand.eps, lean.eps],
                error: self.error(reading),
            })
        };
        readings.iter().filter_map(one).collect()
    }

    /// X, the top there and what lies under the straightedge, of two readings that alone give
    /// pitch and overstand: heights on the centre line over the same face. None of others.
    pub(super) fn two_heights(&self, readings: &[Reading], told: &Told) -> Option<[Height; 2]> {
        let counts = |one: &&Reading| {
            !matches!(one.what, What::Aim { .. })
                && !matches!(one.what, What::Gap { gap, .. } if gap.to_mm() <= one.error)
        };
        let counted: Vec<&Reading> = readings.iter().filter(counts).collect();
        let [one, two] = counted.as_slice() else { return None };
        let of = |reading: &Reading| match reading.what {
            What::Height { face, place, side: Side::Middle, edge, height } => {
                let over = face.over(&self.cut);
                let x = self.station(place, over, told.pitch);
                let top = self.shape.top.height(x, &self.values);
                Some(Height { x, top, over: over + edge.to_mm(), read: height.to_mm() })
            }
            _ => None,
        };
        let both = [of(one)?, of(two)?];
        (both[0].over == both[1].over && told.roll.is_none()).then_some(both)
    }
}

/// ± to which a pitch is usually cut, degrees: small, and never none in the table.
pub(super) fn pitch_cut() -> f64 {
    Dim::Pitch.info().tolerance.map_or(0.0, |usual| usual.plus_minus)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What the plan says of a reading is what the straightedge of its layout reads, and such
    /// readings find the plan again.
    #[test]
    fn what_is_read_as_planned_finds_the_plan() {
        use crate::dryfit::DryFit;
        let plan = crate::study::Study::of(&crate::testing::worked_example());
        let says = |text: &str| {
            let reading: Reading = text.parse().unwrap();
            DryFit::as_planned(&plan, &reading).unwrap()
        };
        let layout = plan.layout().unwrap();
        let straightedge = layout.straightedge;
        for (text, expected) in [
            ("crowns@crest:0", straightedge.crowns),
            ("board@crest:0", straightedge.board),
            ("neck@crest:0", straightedge.neck_face),
            ("gauge:0", layout.pitch.to_degrees()),
            ("shoulder@top:0", 0.0),
            ("shoulder@foot:1", 0.0),
            ("aim@crest:2", 0.0),
            ("roll:1", 0.0),
        ] {
            // the same line by two ways, both in double precision
            assert!((says(text) - expected).abs() < 1e-9, "{text}: {} {expected}", says(text));
        }
        let texts = ["crowns@X=110", "board@bridge/near=20"].map(|head| {
            let value = says(&format!("{head}:0"));
            format!("{head}:{value}").parse::<Reading>().unwrap()
        });
        let roll: Reading = "roll:0".parse().unwrap();
        let fit = DryFit::of(&plan, &[texts.to_vec(), vec![roll]].concat()).unwrap();
        assert!((fit.told.pitch - layout.pitch).abs() < 1e-9);
        assert!(fit.miss().abs() < 1e-6);
    }
}
