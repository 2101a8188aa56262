//! The whole side elevation.

use kurbo::Point;
use overstand_core::dimension::Dim;
use overstand_core::layout::Layout;
use overstand_core::study::Study;

use super::Part;
use crate::elevation::{Show, elevation_with};

pub(super) fn build(study: &Study, layout: &Layout, part: &mut Part) {
    let show = Show { straightedge: true, dimensions: true };
    part.scene = elevation_with(study, show);
    part.references = vec![[Point::ZERO, Point::new(study.design.body.length.to_mm(), 0.0)]];
    part.angle("Pitch", layout.pitch);
    part.length("Overstand", study.design.joint.overstand.to_mm(), 1);
    part.length("Crest height", layout.middle.crest_height, 1);
    part.length("Station", layout.middle.crest.x, 1);
    let digits = Dim::ReadBoard.info().digits;
    part.length("Straightedge reads on neck face", layout.straightedge.neck_face, digits);
    part.length("on board", layout.straightedge.board, digits);
    if layout.is_fretted() {
        part.length("on crowns", layout.straightedge.crowns, digits);
    }
    part.notes.push(
        "Reference: the top datum. Strung; the straightedge is that of the unstrung neck."
            .to_owned(),
    );
}
