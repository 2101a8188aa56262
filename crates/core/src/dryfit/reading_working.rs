//! How what a straightedge, a gauge or a feeler reads comes about, on a joint of so much pitch
//! and overstand.

use super::fit::DryFit;
use super::pose::Bench as Cutting;
use super::reading::{Place, Reading, ShoulderEnd, What};
use crate::dimension::Dim;
use crate::study::Study;
use crate::working::{Bench, Chain, In, PLANE, Term, angle, length, ratio};

/// A joint that is read.
#[derive(Clone, Copy)]
struct Read<'a> {
    cutting: &'a Cutting,
    /// Its pitch, radians, and its overstand, mm.
    pitch: f64,
    overstand: f64,
    /// How the board leans across, radians.
    lean: f64,
    /// Of a joint that is only planned no feeler reads less than nothing.
    is_plan: bool,
}

/// What a reading should be by the plan.
pub(super) fn as_planned(plan: &Study, reading: &Reading) -> Option<Chain> {
    let reads = DryFit::as_planned(plan, reading).ok()?;
    let cutting = DryFit::bench_of(plan)?;
    let (pitch, overstand) = cutting.planned;
    let read = Read { cutting: &cutting, pitch, overstand, lean: 0.0, is_plan: true };
    chain(plan, read, reading, reads)
}

/// What the joint that was found would read; none of a reading that says nothing of it.
pub(super) fn as_found(fit: &DryFit, which: usize) -> Option<Chain> {
    let reads = fit.told.misses.get(which)?.fitted?;
    let cutting = fit.bench()?;
    let (pitch, overstand) = (fit.told.pitch, fit.told.overstand);
    let lean = fit.told.roll.map_or(0.0, |(lean, _)| lean);
    let read = Read { cutting: &cutting, pitch, overstand, lean, is_plan: false };
    let mut chain = chain(&fit.plan, read, fit.readings.get(which)?, reads)?;
    chain.says = "Pitch and overstand are those by the readings, with workings of their own; so \
                  is the lean, if any."
        .to_owned();
    Some(chain)
}

fn chain(plan: &Study, read: Read<'_>, reading: &Reading, reads: f64) -> Option<Chain> {
    let mut bench = Bench::new(&plan.design, plan.layout()?);
    read.put(&mut bench, &reading.what, reads)?;
    Some(bench.chain())
}

impl Read<'_> {
    fn tilt(&self) -> Term {
        angle("θ", if self.is_plan { "planned pitch" } else { "pitch as found" }, self.pitch)
    }

    fn over(&self) -> Term {
        let name = if self.is_plan { "planned overstand" } else { "overstand as found" };
        length("o", name, self.overstand)
    }

    /// The steps that lead to a reading; none of one that hangs on neither.
    fn put(&self, bench: &mut Bench<'_>, what: &What, reads: f64) -> Option<()> {
        let tilt = self.tilt();
        match what {
            What::Height { face, place, side, edge, .. } => {
                let over = self.cutting.under(*face, *side);
                let x = self.place(bench, *place, over);
                let top = self.cutting.shape.top.height(x.value, &self.cutting.values);
                let name = "from the neck face to where it is read";
                let mut terms = vec![
                    self.over(),
                    length("n", name, over + edge.to_mm()),
                    tilt,
                    x,
                    length("z", "top there, over the datum", top),
                ];
                let mut formula = "o + n/cos θ + X tan θ - z";
                if side.across() != 0.0 && self.lean != 0.0 {
                    formula = "o + n/cos θ + X tan θ - z + y tan λ";
                    let y = length("y", "beside the centre line, toward the treble", side.across());
                    terms.extend([y, self.across()]);
                }
                let name = "height of the straightedge over the top";
                bench.step("", name, formula, terms, reads, In::Mm, PLANE);
            }
            What::Gauge { place, .. } => {
                let slope = place.map_or(0.0, |place| {
                    let x = self.cutting.station(place, 0.0, self.cutting.planned.0);
                    self.cutting.shape.top.slope(x, &self.cutting.values)
                });
                let slope = ratio("j", "slope of the top there, as rise over run", slope);
                let name = "board against the top";
                let terms = vec![tilt, slope];
                let reads = reads.to_radians();
                bench.step("", name, "θ - atan j", terms, reads, In::Degrees, PLANE);
            }
            What::Gap { end, .. } => {
                let shut = self.cutting.shoulder_pitch;
                let shut = angle("θ_c", "pitch at which the shoulder closes", shut);
                let long = length("S", "length of the shoulder", self.cutting.shoulder());
                let open = match end {
                    ShoulderEnd::Top => "S sin(θ - θ_c)",
                    ShoulderEnd::Foot => "S sin(θ_c - θ)",
                };
                let formula = match self.is_plan {
                    true => format!("max(0, {open})"),
                    false => open.to_owned(),
                };
                let name = "gap of the shoulder";
                bench.step("", name, formula, vec![long, tilt, shut], reads, In::Mm, PLANE);
            }
            What::Roll { .. } => {
                let reads = reads.to_radians();
                bench.step("", "lean across", "λ", vec![self.across()], reads, In::Degrees, PLANE);
            }
            What::Aim { .. } => return None,
        }
        Some(())
    }

    fn across(&self) -> Term {
        angle("λ", "lean of the board across", self.lean)
    }

    /// Where it is read, from the joint.
    fn place(&self, bench: &mut Bench<'_>, place: Place, over: f64) -> Term {
        let x = self.cutting.station(place, over, self.pitch);
        let along = match place {
            Place::Crest => return length("X", "where the crest is planned, from the joint", x),
            Place::Top(_) => return length("X", "where it is read, from the joint", x),
            Place::BridgeLine => self.cutting.values[Dim::ScaleLength],
            Place::Board(along) => along.to_mm(),
        };
        let joint = self.cutting.shape.joint_from_nut(&self.cutting.values);
        let terms = vec![
            length("u", "where it is read, from the nut", along),
            length("u_J", "joint from the nut", joint),
            self.tilt(),
            length("n_s", "from the neck face to what is under the straightedge", over),
        ];
        let (formula, name) = ("(u - u_J) cos θ - n_s sin θ", "that place from the joint");
        bench.step("X", name, formula, terms, x, In::Mm, PLANE)
    }
}
