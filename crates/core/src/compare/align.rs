use crate::layout::Layout;

/// What stands at the same place when two elevations are laid out on one datum.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    /// The shoulder's top edge.
    #[default]
    Joint,
    /// The nut face.
    Nut,
    /// The middle crest.
    Bridge,
}

impl Align {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Joint, Self::Nut, Self::Bridge];

    /// Its name, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Joint => "Joint",
            Self::Nut => "Nut",
            Self::Bridge => "Bridge line",
        }
    }

    /// How far B has to be moved along the datum (positive toward the tail), mm. Both keep
    /// the same top datum, so that heights compare as well.
    pub fn offset(self, a: &Layout, b: &Layout) -> f64 {
        self.place(a) - self.place(b)
    }

    /// Where it stands (body X), mm.
    pub fn place(self, layout: &Layout) -> f64 {
        match self {
            Self::Joint => 0.0,
            Self::Nut => layout.strung(0.0, layout.lift(0.0)).x,
            Self::Bridge => layout.middle.crest.x,
        }
    }
}
