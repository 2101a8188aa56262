//! The band in which an open string is wanted.

use super::CheckId;
use crate::design::{Design, Limit, Nut};
use crate::layout::{Layout, fret_ratio, part_toward_bass, string_line};

/// For every fret the least and the most clearance of one open string that its checks call
/// good: over the two lines that have the clearance at fret 1 and the action at either end
/// of their wanted ranges. On a zero fret both lines start from its crown. Along v; empty
/// for a string that there is not.
///
/// A side that a check leaves open is closed by where the string stands.
pub fn wanted_band(design: &Design, layout: &Layout, string: usize) -> Vec<(f64, f64)> {
    let Some(line) = layout.strings.get(string) else {
        return Vec::new();
    };
    let limit_of =
        |id: CheckId| design.limits.get(id.text()).copied().unwrap_or_else(|| id.usual_limit());
    let range =
        |limit: Limit, now: f64| (limit.thin_below.unwrap_or(now), limit.thin_above.unwrap_or(now));
    let first = range(limit_of(CheckId::FirstFret), line.first_fret);
    // inner strings go by their place between treble and bass, as their wanted action does
    let treble = range(limit_of(CheckId::ActionTreble), line.action);
    let bass = range(limit_of(CheckId::ActionBass), line.action);
    let part = part_toward_bass(design, string, |one| one.crest_place.to_mm());
    let mix = |treble: f64, bass: f64| treble + (bass - treble) * part;
    let action = (mix(treble.0, bass.0), mix(treble.1, bass.1));

    let scale = design.scale.length.to_mm();
    let at = |fret: u8| scale * fret_ratio(fret);
    let crown = |u: f64, clearance: f64| line.nut_v + line.slope * u - clearance;
    let (u_first, u_action) = (at(1), at(design.wanted.action_fret));
    let (crown_first, crown_action) =
        (crown(u_first, line.first_fret), crown(u_action, line.action));
    let wanted = |first: f64, action: f64| match design.nut {
        Nut::Filed => {
            string_line((u_first, u_action), (crown_first + first, crown_action + action))
        }
        Nut::ZeroFret { .. } => string_line((0.0, u_action), (line.nut_v, crown_action + action)),
    };
    let (low, high) = (wanted(first.0, action.0), wanted(first.1, action.1));
    layout
        .positions
        .iter()
        .zip(1..)
        .map(|(u, fret)| {
            let crown = layout.clearances.crown(string, fret);
            let over = |(nut_v, slope): (f64, f64)| nut_v + slope * u - crown;
            let (a, b) = (over(low), over(high));
            // where the lines cross, beyond fret 1 or the action fret, they change places
            (a.min(b), a.max(b))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dimension::Dim;
    use crate::study::Study;
    use crate::testing::worked_example;
    use crate::units::Length;

    /// A string that is set to the very ends of the wanted ranges runs along the band's edge.
    #[test]
    fn the_edges_are_strings_set_to_the_ends_of_the_ranges() {
        let mut design = worked_example();
        for zero_fret in [false, true] {
            if zero_fret {
                design.nut = Nut::ZeroFret { height: Length::mm(1.2) };
            }
            let study = Study::of(&design);
            let layout = study.layout().unwrap();
            let treble = CheckId::ActionTreble.usual_limit();
            let first = CheckId::FirstFret.usual_limit();
            let edges: [fn(&Limit) -> Option<f64>; 2] =
                [|limit| limit.thin_below, |limit| limit.thin_above];
            for (side, edge) in edges.into_iter().enumerate() {
                let mut at_edge = study.design.clone();
                Dim::ActionTreble.key().set(&mut at_edge, edge(&treble).unwrap());
                Dim::FirstFretTreble.key().set(&mut at_edge, edge(&first).unwrap());
                let there = Layout::of(&at_edge).unwrap();
                let band = wanted_band(&study.design, layout, 0);
                assert_eq!(band.len(), 22);
                for (fret, pair) in band.iter().enumerate() {
                    let expected = there.clearances.open(0, fret + 1);
                    let edge = if side == 0 { pair.0 } else { pair.1 };
                    // heights of some 5 mm through a few products: rounding below 1e-13
                    assert!((edge - expected).abs() < 1e-12, "fret {}", fret + 1);
                }
            }
        }
        assert!(wanted_band(&design, &Layout::of(&design).unwrap(), 6).is_empty());
    }
}
