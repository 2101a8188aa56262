//! The pages of the window, and which dimensions each lists.

use overstand_core::dimension::{Dim, Part};

/// A page of the window, in the order of the work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Page {
    /// The whole layout: what it must be so that it plays.
    #[default]
    LayOut,
    /// The joint and its cut sheet.
    Joint,
    /// What the strings pull, how hard they can be played, whether they note true.
    Strings,
    /// How true the cuts must be, and where to aim.
    HowTrue,
    /// The joint together without glue: what it really is, and what to do.
    DryFit,
    /// The drawing and its parts at full size.
    Paper,
    /// Two designs beside each other.
    Compare,
}

impl Page {
    /// In the order of the work.
    pub(crate) const ALL: [Self; 7] = [
        Self::LayOut,
        Self::Joint,
        Self::Strings,
        Self::HowTrue,
        Self::DryFit,
        Self::Compare,
        Self::Paper,
    ];

    /// The page of a name; the first one if there is none.
    pub(crate) fn named(name: &str) -> Self {
        Self::ALL.into_iter().find(|page| page.name() == name).unwrap_or_default()
    }

    /// Its name, in sentence case.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::LayOut => "Lay out",
            Self::Joint => "Joint",
            Self::Strings => "Strings",
            Self::HowTrue => "How true",
            Self::DryFit => "Dry fit",
            Self::Paper => "Paper",
            Self::Compare => "Compare",
        }
    }

    /// What it is for.
    pub(crate) fn about(self) -> &'static str {
        match self {
            Self::LayOut => {
                "What the whole must be so that it plays: drawing, dimensions, verdict."
            }
            Self::Joint => "The joint in section, what is worked out for it, and the cut sheet.",
            Self::Strings => {
                "What the strings pull, how hard they can be played, and whether they note true."
            }
            Self::HowTrue => {
                "How true the cuts must be so that it plays, what each error costs, where to aim."
            }
            Self::DryFit => {
                "Neck and body together without glue: what is read, what it means, what to do."
            }
            Self::Paper => "Drawing, templates and cut sheet at full size, to print or to write.",
            Self::Compare => "Two variants above each other, and what differs between them.",
        }
    }

    /// Whether it lists a dimension: what only the cutting of the joint asks for stands on
    /// the page of the joint alone.
    pub(crate) fn lists(self, dim: Dim) -> bool {
        let part = dim.info().part();
        if self == Self::Strings {
            return self.parts().contains(&part) && of_strings(dim);
        }
        let of_layout = match part {
            Part::Joint => matches!(
                dim,
                Dim::JointFret
                    | Dim::JointOffset
                    | Dim::Overstand
                    | Dim::Pitch
                    | Dim::Shoulder
                    | Dim::BoardEndGap
            ),
            Part::Neck => {
                matches!(dim, Dim::NeckDepthFirst | Dim::NeckDepthHeel | Dim::HeelLength)
            }
            _ => true,
        };
        let is_of_layout = matches!(self, Self::LayOut | Self::HowTrue);
        self.parts().contains(&part) && (!is_of_layout || of_layout)
    }

    /// The parts whose dimensions it lists.
    pub(crate) fn parts(self) -> &'static [Part] {
        match self {
            Self::LayOut | Self::HowTrue | Self::Compare => &[
                Part::Joint,
                Part::Wanted,
                Part::Scale,
                Part::Board,
                Part::Nut,
                Part::Bridge,
                Part::Tail,
                Part::Body,
                Part::Neck,
                Part::Head,
                Part::String,
                Part::Pickup,
                Part::Straightedge,
            ],
            Self::Joint => &[Part::Joint, Part::Neck, Part::Head, Part::Body, Part::Cavity],
            Self::Strings => &[
                Part::Wanted,
                Part::Bridge,
                Part::Scale,
                Part::Board,
                Part::Tail,
                Part::Head,
                Part::String,
            ],
            // both have something else of their own there
            Self::DryFit | Self::Paper => &[],
        }
    }
}

/// Whether a dimension weighs on how the strings play; gauge and core stand in the page's
/// table.
fn of_strings(dim: Dim) -> bool {
    let is_elsewhere = matches!(
        dim,
        Dim::BoardThickness
            | Dim::BoardEnd
            | Dim::BridgeBase
            | Dim::EdgeHeight
            | Dim::PostSpread
            | Dim::NutPlace
            | Dim::CrestPlace
            | Dim::Gauge
            | Dim::Core
    );
    !is_elsewhere
}
