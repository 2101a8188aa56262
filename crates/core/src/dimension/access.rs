//! How the table's entries reach into a design.

use crate::design::{Design, StringMake};
use crate::units::{Angle, Length};

/// A number as the file holds it.
pub(super) trait Plain {
    fn plain(&self) -> f64;
    fn from_plain(value: f64) -> Self;
}

impl Plain for Length {
    fn plain(&self) -> f64 {
        self.to_mm()
    }
    fn from_plain(value: f64) -> Self {
        Self::mm(value)
    }
}

impl Plain for Angle {
    fn plain(&self) -> f64 {
        self.to_degrees()
    }
    fn from_plain(value: f64) -> Self {
        Self::degrees(value)
    }
}

impl Plain for u8 {
    fn plain(&self) -> f64 {
        f64::from(*self)
    }
    fn from_plain(value: f64) -> Self {
        value.round().clamp(0.0, 255.0) as Self
    }
}

/// Getter and setter of a field that every design has.
macro_rules! field {
    ($($path:ident).+) => {
        (
            |design, _| Some(design.$($path).+.plain()),
            |design, _, value| design.$($path).+ = Plain::from_plain(value),
        )
    };
}

/// Getter and setter of a field that only some kinds of a part have.
macro_rules! kind {
    ($x:ident in $($path:ident).+ : $pattern:pat) => {
        (
            |design, _| match &design.$($path).+ {
                $pattern => Some($x.plain()),
                _ => None,
            },
            |design, _, value| {
                if let $pattern = &mut design.$($path).+ {
                    *$x = Plain::from_plain(value);
                }
            },
        )
    };
}

/// Getter and setter of a field that counts only in some designs.
macro_rules! field_if {
    ($pattern:pat = $($choice:ident).+ ; $($path:ident).+) => {
        (
            |design, _| {
                matches!(design.$($choice).+, $pattern).then(|| design.$($path).+.plain())
            },
            |design, _, value| {
                if matches!(design.$($choice).+, $pattern) {
                    design.$($path).+ = Plain::from_plain(value);
                }
            },
        )
    };
}

/// Getter and setter of a field of one string, pickup or cavity.
macro_rules! listed {
    ($list:ident.$field:ident) => {
        (
            |design, index| design.$list.get(index).map(|one| one.$field.plain()),
            |design, index, value| {
                if let Some(one) = design.$list.get_mut(index) {
                    one.$field = Plain::from_plain(value);
                }
            },
        )
    };
}

/// Getter and setter of a field of one string that may not be given.
macro_rules! maybe_listed {
    ($list:ident.$field:ident) => {
        (
            |design, index| design.$list.get(index)?.$field.map(|field| field.plain()),
            |design, index, value| {
                if let Some(one) = design.$list.get_mut(index) {
                    one.$field = Some(Plain::from_plain(value));
                }
            },
        )
    };
}

/// Getter and setter of the core of one string, if it is wound.
pub(super) const fn core_of_string() -> Access {
    (
        |design, index| match &design.strings.get(index)?.make {
            StringMake::Wound { core, .. } => Some(core.plain()),
            StringMake::Plain { .. } => None,
        },
        |design, index, value| {
            if let Some(StringMake::Wound { core, .. }) =
                design.strings.get_mut(index).map(|string| &mut string.make)
            {
                *core = Plain::from_plain(value);
            }
        },
    )
}

/// An outcome has no place in the design of its own, only a target.
macro_rules! target {
    ($key:literal) => {
        (
            |design, _| design.targets.get($key).copied(),
            |design, _, value| {
                design.targets.insert($key.to_owned(), value);
            },
        )
    };
}

pub(super) type Access = (fn(&Design, usize) -> Option<f64>, fn(&mut Design, usize, f64));

pub(super) use {field, field_if, kind, listed, maybe_listed, target};
