//! Keys and what the pointer does, beside the keys of commands: where they hold, and what
//! they do there.

/// Something that a key or the pointer does at a certain place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Habit {
    /// Where, as a heading.
    pub(crate) place: &'static str,
    /// The keys.
    pub(crate) keys: &'static str,
    /// What they do.
    pub(crate) does: &'static str,
}

macro_rules! habits {
    ($($place:literal { $($keys:literal $does:literal)* })*) => {
        /// All of them, by place. A test of the window does each.
        pub(crate) const HABITS: &[Habit] =
            &[$($(Habit { place: $place, keys: $keys, does: $does }),*),*];
    };
}

habits! {
    "Everywhere" {
        "Tab" "to the next control; with Shift to the one before"
        "Enter" "do what has the focus"
    }
    "At a handle" {
        "Arrow keys" "move it by a step"
        "Page up, Page down" "move it by ten steps"
        "Shift" "a tenth of that, also for a drag"
        "Enter, double-click" "type its value"
        "Space" "let another dimension follow it"
        "W" "show the working of its value"
        "Escape" "put back what is being dragged"
    }
    "Over a drawing" {
        "Scroll" "zoom at the pointer"
        "Middle button, Space and pointer" "move the drawing"
        "+, −" "zoom, where it has the focus"
        "Arrow keys" "move the drawing, where it has the focus"
        "Double-click" "fit the drawing"
    }
    "Over the frets" {
        "← →" "choose the fret where the strings are stopped"
        "W" "show the working over the fret under the pointer"
    }
    "On the map" {
        "W" "show the working of the verdict under the pointer"
    }
    "In a field" {
        "Enter, Tab" "take what was typed"
        "Escape" "give up what was typed"
    }
    "On paper" {
        "Page up, Page down" "turn the sheets"
    }
}
