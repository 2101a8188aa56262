use crate::design::{Design, JointKind};
use crate::dimension::Dim;
use crate::layout::{BodyPoint, Layout};

/// Tenon, pocket and shoulder in true section along the centre line; tenon butt and pocket
/// end stand square to the datum, the shoulder lies in the end wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointSection {
    /// The tenon: shoulder's top, lower front corner, lower inner corner, top of the butt.
    pub tenon: [BodyPoint; 4],
    /// The pocket: its mouth at the top, at the floor, its end at the floor, at the top. It
    /// is longer than the tenon by the spare length.
    pub pocket: [BodyPoint; 4],
    /// X from which the cutter's radius rounds the tenon's inner corners, seen from above.
    pub rounded_from: f64,
    /// Foot of the shoulder on the end wall.
    pub shoulder_foot: BodyPoint,
    /// Depth of the tenon below the board's underside at the mouth and at the inner end,
    /// square to the datum.
    pub depth_square_to_datum: (f64, f64),
    /// The same square to the board, from the top of the shoulder and of the butt.
    pub depth_square_to_board: (f64, f64),
    /// Length of the tenon along the board's underside, from the shoulder's top to the butt.
    pub along_underside: f64,
    /// Length of the tenon along its bottom.
    pub along_bottom: f64,
    /// Tenon bottom against the board's underside, θ - φ.
    pub bottom_to_underside: f64,
    /// Shoulder against the board's underside, in the wood, 90° - θ - ρ.
    pub shoulder_to_underside: f64,
    /// Butt against the board's underside, in the wood, 90° - θ.
    pub face_to_underside: f64,
    /// The rod's channel, if there is one and it is not all in the headstock: the four
    /// corners from the nut end at the glue face round to the other end.
    pub rod: Option<[BodyPoint; 4]>,
}

impl JointSection {
    /// The joint of a design as it lies unstrung.
    ///
    /// With pocket depth d_0 at the mouth and floor φ, the tenon is
    /// τ(X) = o + d_0 + X (tan θ - tan φ) deep square to the datum, and
    /// k(s) = (o + d_0) cos φ/cos(θ - φ) + s tan(θ - φ) square to the board, s along the
    /// underside. An end wall raked by ρ lies at X = Y tan ρ.
    pub fn of(design: &Design, layout: &Layout) -> Self {
        let seat = layout.seat();
        let (length, shoulder) = (design.joint.tenon_length.to_mm(), design.joint.shoulder.to_mm());
        let (pitch, floor) = (layout.pitch, seat.floor);
        let rake = design.joint.wall_rake.radians();
        let underside = |x: f64| BodyPoint { x, y: seat.underside(x) };
        let bottom = |x: f64| BodyPoint { x, y: seat.bottom(x) };
        let at = |(x, y): (f64, f64)| BodyPoint { x, y };
        let top = seat.shoulder_top();
        let foot_y = top.1 - shoulder * rake.cos();
        let end = seat.pocket;
        let glue_face = -design.board.thickness.to_mm();
        let neck = &design.neck;
        let rod = (neck.rod_depth.to_mm() > 0.0).then(|| {
            let (from, to) = (neck.rod_start.to_mm(), neck.rod_end.to_mm());
            let deep = glue_face - neck.rod_depth.to_mm();
            [(from, glue_face), (from, deep), (to, deep), (to, glue_face)]
                .map(|(u, v)| layout.unstrung(u, v))
        });
        Self {
            tenon: [at(top), at(seat.mouth()), bottom(length), underside(length)],
            pocket: [
                BodyPoint { x: 0.0, y: 0.0 },
                at(seat.mouth()),
                bottom(end),
                BodyPoint { x: end, y: layout.top(end) },
            ],
            rounded_from: length
                - design.joint.corner_radius().to_mm().min(design.joint.tenon_width.to_mm() / 2.0),
            shoulder_foot: BodyPoint { x: seat.wall(foot_y), y: foot_y },
            depth_square_to_datum: (seat.below(0.0), seat.below(length)),
            depth_square_to_board: (seat.square(0.0), seat.square(seat.along_underside())),
            along_underside: (length - top.0) / pitch.cos(),
            along_bottom: (length - seat.mouth().0) / floor.cos(),
            bottom_to_underside: pitch - floor,
            shoulder_to_underside: std::f64::consts::FRAC_PI_2 - pitch - rake,
            face_to_underside: std::f64::consts::FRAC_PI_2 - pitch,
            rod,
        }
    }
}

/// Whether the tenon ends before the board does: then the board's end bears on the body by
/// itself.
pub(crate) fn is_short(design: &Design, layout: &Layout) -> bool {
    let glue_face = -design.board.thickness.to_mm();
    let board_end = layout.unstrung(design.board.end.to_mm(), glue_face).x;
    design.joint.kind != JointKind::Through && design.joint.tenon_length.to_mm() < board_end
}

/// Least wood under the rod's channel in the neck and in the tenon, with its place u from
/// the nut; none without a channel. Depths lie square to the board.
pub(crate) fn wood_under_rod(design: &Design, layout: &Layout) -> Option<(f64, f64)> {
    let neck = &design.neck;
    let deep = neck.rod_depth.to_mm();
    if deep <= 0.0 {
        return None;
    }
    let joint = layout.joint_from_nut;
    let heel = joint - neck.heel_length.to_mm();
    let first = layout.positions.first().copied().unwrap_or(0.0);
    let (shallow, thick) = (neck.depth_first.to_mm(), neck.depth_heel.to_mm());
    let back = |u: f64| {
        let part = if heel > first { (u - first) / (heel - first) } else { 0.0 };
        shallow + (thick - shallow) * part - design.board.thickness.to_mm()
    };
    let seat = layout.seat();
    let (from, to) = (neck.rod_start.to_mm().max(0.0), neck.rod_end.to_mm());
    let tenon_end = joint + seat.along_underside();
    // all is linear between these: the least stands at one of them
    let in_neck = [from, to.min(heel)]
        .into_iter()
        .filter(|u| *u <= heel && *u <= to)
        .map(|u| (back(u) - deep, u));
    let in_tenon = [joint.max(from), to.min(tenon_end)]
        .into_iter()
        .filter(|u| (joint..=tenon_end).contains(u) && (from..=to).contains(u))
        .map(|u| (seat.square(u - joint) - deep, u));
    in_neck.chain(in_tenon).min_by(|a, b| a.0.total_cmp(&b.0))
}

/// Least wood along the centre line between the pocket's end and a cavity, with the
/// cavity's number from 0; negative where they meet. Cavities wholly before the pocket's
/// mouth do not count. None without a pocket or cavity.
pub(crate) fn wood_to_cavity(design: &Design, layout: &Layout) -> Option<(f64, usize)> {
    if design.joint.kind == JointKind::Through {
        return None;
    }
    let end = layout.seat().pocket;
    design
        .cavities
        .iter()
        .enumerate()
        .filter(|(_, cavity)| cavity.to.to_mm() > 0.0)
        .map(|(i, cavity)| (cavity.from.to_mm() - end, i))
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

/// Least wood under a cavity to the back, with its number from 0; none without cavities.
pub(crate) fn wood_under_cavity(design: &Design, layout: &Layout) -> Option<(f64, usize)> {
    design
        .cavities
        .iter()
        .enumerate()
        .map(|(i, cavity)| {
            let under = |x: f64| -layout.back(x) - cavity.depth.to_mm();
            (under(cavity.from.to_mm()).min(under(cavity.to.to_mm())), i)
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

/// How the screws of a screwed neck lie in body and heel, mm square to the datum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screws {
    /// Wood under the pocket where they stand, from the back to the floor.
    pub under: f64,
    /// The heel there, from the floor to the board.
    pub heel: f64,
    /// How far they reach into the heel; negative where they do not.
    pub bite: f64,
    /// From their tips to the board; negative where they come through.
    pub cover: f64,
}

/// The screws as they would lie in a screwed neck; their heads bear on the back.
pub fn screws(design: &Design, layout: &Layout) -> Screws {
    let x = design.joint.screw_station.to_mm();
    let seat = layout.seat();
    let (under, heel) = (seat.bottom(x) - layout.back(x), seat.below(x));
    let bite = design.joint.screw_length.to_mm() - under;
    Screws { under, heel, bite, cover: heel - bite }
}

/// What the neck is wider than the tenon at the joint, on each side.
pub(crate) fn beside_tenon(design: &Design) -> f64 {
    (design.neck.width_heel.to_mm() - design.joint.tenon_width.to_mm()) / 2.0
}

/// Usual length of a tenon as deep as this one: the smaller its cheeks are in depth, the
/// longer it must be for the same glued cheek (common practice, no source).
pub(crate) fn usual_length(layout: &Layout) -> f64 {
    /// Glued face of one cheek, mm².
    const CHEEK: f64 = 700.0;
    CHEEK / layout.outcome(Dim::DepthMouth).unwrap_or(1.0).max(1.0)
}
