use crate::design::{Design, JointKind};

/// Tenon and pocket seen from above: X along the datum, the other way across.
///
/// All corners are given as if they were sharp; the inner ones are rounded by the cutter's
/// radius on both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointPlan {
    /// The tenon: treble side at the mouth and at the inner end, bass side at the inner end
    /// and at the mouth (X, across).
    pub tenon: [(f64, f64); 4],
    /// The pocket in the same order.
    pub pocket: [(f64, f64); 4],
    /// Radius of the inner corners.
    pub radius: f64,
    /// Angle of each cheek against the centre line, radians; 0 unless it is a dovetail.
    pub flank: f64,
}

impl JointPlan {
    /// The plan of a design's joint. The glue room lies square to the cheeks.
    pub fn of(design: &Design) -> Self {
        let joint = &design.joint;
        let flank = match joint.kind {
            JointKind::Dovetail { flank } => flank.radians(),
            JointKind::Tenon | JointKind::Screwed | JointKind::Through => 0.0,
        };
        let half = joint.tenon_width.to_mm() / 2.0;
        let room = joint.glue_room.to_mm() / flank.cos();
        let outline = |half: f64, length: f64| {
            let inner = half + length * flank.tan();
            [(0.0, half), (length, inner), (length, -inner), (0.0, -half)]
        };
        let length = joint.tenon_length.to_mm();
        Self {
            tenon: outline(half, length),
            pocket: outline(half + room, length + joint.spare_length.to_mm()),
            radius: joint.corner_radius().to_mm().min(half),
            flank,
        }
    }

    /// Width of the tenon at its inner end.
    pub fn inner_width(&self) -> f64 {
        self.tenon[1].1 - self.tenon[2].1
    }

    /// Width of the pocket at its mouth.
    pub fn mouth_width(&self) -> f64 {
        self.pocket[0].1 - self.pocket[3].1
    }
}
