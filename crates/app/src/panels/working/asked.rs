//! Which figure is open, and of which design: the one in hand, another one, or what two designs
//! differ by.

use std::sync::Arc;

use overstand_core::compare::Row;
use overstand_core::design::Design;
use overstand_core::working::Figure;

use crate::view::View;

/// A design with what it is called.
pub(super) type Named = (String, Arc<Design>);

/// A figure that is open.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Asked {
    /// A figure; of which design, none of the one in hand.
    Figure(Figure, Option<Named>),
    /// B less A of a row of the comparison.
    Less(Box<Row>, [Named; 2]),
}

impl From<Figure> for Asked {
    fn from(figure: Figure) -> Self {
        Self::Figure(figure, None)
    }
}

impl Asked {
    /// The figure, where it is one.
    pub(crate) fn figure(&self) -> Option<Figure> {
        match self {
            Self::Figure(figure, _) => Some(*figure),
            Self::Less(..) => None,
        }
    }

    /// The same, to be changed.
    pub(super) fn figure_mut(&mut self) -> Option<&mut Figure> {
        match self {
            Self::Figure(figure, _) => Some(figure),
            Self::Less(..) => None,
        }
    }
}

/// What a place on screen opens.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Of<'a> {
    /// A figure with the design that it is of.
    Figure(Figure, Option<Whose<'a>>),
    /// B less A of a row of the comparison, and the two.
    Less(&'a Row, [Whose<'a>; 2]),
}

/// A design beside the one in hand: another variant, or what would come of a change.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Whose<'a> {
    /// What it is, to stand behind the name of a figure.
    pub(crate) name: &'a str,
    pub(crate) design: &'a Design,
}

impl Whose<'_> {
    fn named(self) -> Named {
        (self.name.to_owned(), Arc::new(self.design.clone()))
    }

    /// Whether it is that one. What is open follows its design as that changes.
    fn is(self, (name, design): &mut Named) -> bool {
        if name != self.name {
            return false;
        }
        if **design != *self.design {
            *design = Arc::new(self.design.clone());
        }
        true
    }
}

impl From<Figure> for Of<'_> {
    fn from(figure: Figure) -> Self {
        Self::Figure(figure, None)
    }
}

impl<'a> Of<'a> {
    /// A figure of a design beside the one in hand, or of that.
    pub(crate) fn new(figure: Figure, whose: Option<Whose<'a>>) -> Self {
        Self::Figure(figure, whose)
    }

    fn asked(self) -> Asked {
        match self {
            Self::Figure(figure, whose) => Asked::Figure(figure, whose.map(Whose::named)),
            Self::Less(row, both) => Asked::Less(Box::new(row.clone()), both.map(Whose::named)),
        }
    }

    /// What tells it from every other one on screen.
    pub(super) fn known_by(self) -> (String, Option<&'a str>) {
        match self {
            Self::Figure(figure, whose) => (format!("{figure:?}"), whose.map(|whose| whose.name)),
            Self::Less(row, _) => (row.subject.text(), None),
        }
    }

    /// Whether it is what is open.
    pub(super) fn is_open(self, view: &mut View) -> bool {
        match (self, &mut view.asked) {
            (Self::Figure(figure, whose), Some(Asked::Figure(open, of))) if figure == *open => {
                match (whose, of) {
                    (None, None) => true,
                    (Some(whose), Some(of)) => whose.is(of),
                    _ => false,
                }
            }
            (Self::Less(row, [a, b]), Some(Asked::Less(open, [of_a, of_b])))
                if row.subject == open.subject =>
            {
                let is_it = a.is(of_a) && b.is(of_b);
                if is_it && **open != *row {
                    **open = row.clone();
                }
                is_it
            }
            _ => false,
        }
    }

    /// Opens its working, or closes it.
    pub(crate) fn toggle(self, view: &mut View) {
        view.asked = if self.is_open(view) { None } else { Some(self.asked()) };
    }
}
