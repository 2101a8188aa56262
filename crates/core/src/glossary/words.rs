//! The words that name no single dimension, choice or check.

use super::Topic;

/// One word.
pub(super) struct Word {
    pub(super) topic: Topic,
    pub(super) name: &'static str,
    /// Other names for the same.
    pub(super) also: &'static [&'static str],
    pub(super) meaning: &'static str,
}

macro_rules! words {
    ($($topic:ident { $($name:literal $([$($also:literal),+])? $meaning:literal)* })*) => {
        /// All of them, by topic.
        pub(super) static WORDS: &[Word] = &[$($(Word {
            topic: Topic::$topic,
            name: $name,
            also: &[$($($also),+)?],
            meaning: $meaning,
        }),*),*];
    };
}

/// Other names that are used for a dimension (its key), at the bench.
pub(super) static ALSO: &[(&str, &str)] = &[
    ("neck angle", "joint.pitch"),
    ("angle of the neck", "joint.pitch"),
    ("bridge height", "bridge.crest_height"),
    ("fingerboard thickness", "board.thickness"),
    ("fret height", "board.crown"),
    ("spare", "joint.spare_length"),
    ("headstock drop back", "head.angle"),
];

words! {
    Neck {
        "Neck"
            "What carries the board, from the nut to the joint. Its depth is measured square to the board, without the board, in mm."
        "Board" ["fingerboard", "fretboard"]
            "The fingerboard, whose surface carries the frets. Its thickness is measured in mm on the centre line, before frets."
        "Surface" ["string side"]
            "The board's side under the strings, before frets. On the centre line it is straight while the neck is unstrung."
        "Underside"
            "The board's glue face, which lies on the neck."
        "Neck face" ["glue face", "bare neck face"]
            "The face of the neck that the board is glued to. A straightedge on it reads the pitch before there is a board."
        "Fret"
            "A wire across the board against which a string is stopped. Frets are counted from the nut and stand square to the centre line."
        "Scale"
            "What the places of frets and bridge follow from: the length from nut to bridge line, and how many frets there are."
        "Crowns"
            "The tops of all frets, on which a straightedge lies."
        "Sagitta"
            "By how much a radiused board or crest lies lower under a string than on the centre line, in mm. It grows with the square of the string's distance from the centre line."
        "Scarf joint"
            "A headstock turned back from a straight blank by a long glued cut, so that the blank need not be as thick as the headstock drops."
        "Rod" ["truss rod", "neck rod", "rod in its channel"]
            "A rod in a channel under the board, which bends the neck against the strings. With it relief is set."
        "Neck frame" ["u and v", "u", "v"]
            "Where a point lies along the neck: u in mm along the board from the nut face toward the bridge, v in mm from the straight, unstrung surface toward the strings."
    }
    Body {
        "Body"
            "What carries joint and bridge. Stations on it are measured from the joint, heights from the top datum."
        "Top datum" ["datum"]
            "The plane through the joint, square to the body's end wall; heights are measured from it in mm. On a flat body it is the top; on an arched one it passes through the plate's outer edge."
        "Joint" ["neck joint"]
            "The line where the end wall meets the top datum. Stations are measured from it."
        "Joint fret"
            "The fret above the joint, counted from the nut."
        "End wall"
            "The wall of the body that the neck is set against."
        "Station" ["X"]
            "A place along the body's centre line, in mm from the joint, along the datum, positive toward the tail."
        "Centre line"
            "The line from the middle of the nut to the middle of the bridge, seen from above. The side elevation is drawn along it."
        "Body frame" ["X and Y", "Y"]
            "Where a point lies in the side elevation: X in mm along the datum from the joint toward the tail, Y in mm square to the datum, positive away from the back."
        "Side elevation"
            "The instrument seen from its side, true to scale: the view that heights and angles show in."
        "Arch" ["carved top", "arched top"]
            "A top carved to a curve, given here by measured points along the centre line. Nothing is guessed beyond the last point."
        "Dome"
            "A top bent to a part of a ball, given by its radius in mm and the station of its highest point, the apex."
        "Ramp"
            "A flat slope cut into the top under the board, rising from the joint."
        "Pickup" ["pickups"]
            "What senses the strings, set into the top under them. It must stay clear of the strings held down at the last fret."
        "Cavity" ["cavities"]
            "A hollow in the body, as for a pickup or for controls. The pocket's floor must leave wood over it."
        "Back"
            "The body's other face. It may fall away from the datum by the body's taper."
    }
    Joinery {
        "Tenon" ["tenon in its pocket"]
            "The tongue of the neck that goes into the body. Its length is measured along the datum, its depth below the board's underside, in mm."
        "Pocket" ["mortise"]
            "The recess in the body that takes the tenon. Its depth is measured at the mouth, below the top datum, in mm."
        "Mouth"
            "The open end of the pocket, at the end wall."
        "Floor"
            "The pocket's bottom. Its slope is an angle against the top datum, positive when it rises toward the inner end."
        "Seat"
            "Floor and tenon bottom where they meet. Its two heights, at mouth and inner end, set pitch and overstand together."
        "Cheeks" ["cheek"]
            "The tenon's two side faces. They are roughed a little proud and taken down to a friction fit that leaves room for glue."
        "Butt" ["inner end"]
            "The inner end of the tenon, cut square to the datum."
        "Heel"
            "The thick end of the neck at the body, from the shoulder toward the nut. Its thickness is measured square to the board, in mm."
        "Screw" ["screws of the neck"]
            "What holds a screwed neck: it passes through the body into the heel. It must reach far enough to hold, and end before the board."
        "Friction fit"
            "A fit that holds by itself and still comes apart by hand, with room for a film of glue."
        "Proud"
            "More than nominal: left on, to be taken off in fitting."
        "Shy"
            "Less than nominal: too much was taken off."
        "Wedge" ["wedge under the board"]
            "A piece that rises by so much over its length. Under a jig it sets an angle; under the board's end it fills the gap over the top."
        "Stack"
            "Shims under one end of a bar, which set an angle: its height is the bar's length times the sine of the angle, in mm."
        "Jig"
            "What holds the work or guides the cutter at an angle. Its base is the length over which a wedge rises."
        "Rise over run"
            "An angle as a slope: so many mm up over so many mm along. It can be set out with a square and a rule."
        "Blank"
            "The piece of wood that a part is cut from, with what is left on for planing and fitting."
        "Nominal"
            "The size that the design says, before anything is added for fitting or missed in cutting."
    }
    Strings {
        "String height"
            "How high over the frets the strings are wanted, and how hard they are played. The verdict asks whether the design gives that."
        "String"
            "What is tuned and sounds. Strings are counted from the treble: string 1 is the highest."
        "Middle string"
            "The line that the side elevation shows for all strings, from nut over crest to tail."
        "Bridge"
            "What carries the crest over the body and what the saddles stand in. It is given by its kind, its station and how far it can be set."
        "Crest"
            "The point of the saddle on which a string rests. Its height in mm is measured square to the datum from the body's top right under it."
        "Saddle"
            "The part of the bridge that a string rests on. It has a range it can be set to, up and down and fore and aft."
        "Bridge line"
            "The line square to the centre line at the scale length from the nut face, before compensation."
        "Action"
            "Clear height from a fret's crown to the underside of the open string, in mm square to the board, at fret 12 unless another is named. Measured with a rule or feeler on the strung, tuned instrument."
        "Clearance" ["clear height"]
            "The free height between a string's underside and a crown, in mm square to the board."
        "Straightedge"
            "A true bar laid along the unstrung, straight neck over the body. What it reads over the top at the bridge, in mm square to the datum, tells whether the neck is set right before any string is on."
        "Break angle" ["bend at nut", "bend at saddle"]
            "How much a string bends over nut or saddle, in degrees. Too little and it buzzes or slips, too much and it binds or breaks."
        "Nut slot"
            "The filed groove in which a string rests at the nut. The height of its floor over the board is measured in mm; it may not lie below the crowns."
        "Fore and aft"
            "Along the string. A saddle's travel fore and aft sets where the string notes true."
        "Intonation" ["true notes"]
            "Whether a stopped string sounds the note it should. The crest is moved beyond the scale length to make up for the string's stiffness and stretch."
        "Cent"
            "A hundredth of an equal-tempered semitone: how far a note is off."
        "Headroom"
            "How far, or how hard, a string can be plucked at a given place before it touches a fret: in mm of travel, or newtons of force."
        "Tension" ["pull"]
            "The force with which a string pulls, in newtons: from its weight for each length, its sounding length and its pitch."
        "Force on nut and saddle" ["on nut", "on saddle"]
            "How hard a string presses there, in newtons. It follows from its pull and from how much it bends."
        "Tuning" ["tuned to"]
            "The note that a string sounds when it is open, as A2, or a frequency in Hz."
        "Frequency" ["sounds", "hertz", "Hz"]
            "How often a string swings to and fro in a second, in hertz (Hz). The note A4 is taken for 440 Hz."
        "Make"
            "How a string is built: of one wire or filament, or wound on a round or a hexagonal core."
        "Material"
            "What a plain string, or the outermost wrap of a wound one, is made of: weight, stiffness and strength come from it."
        "Load" ["of strength"]
            "What a string bears at pitch, in per cent of what breaks it."
        "Stretch"
            "By how much a string at pitch is longer than it was slack, in per cent."
        "First touch" ["first touches"]
            "The fret that a string touches first when it is plucked ever harder, and the note on which it does."
        "Newton" ["N"]
            "The unit of force: what about 102 g weigh."
        "Equal temperament"
            "The tuning in which an octave is twelve equal steps, each of 100 cents. Whether a note is true is counted from it."
        "Shared crest"
            "A crest that all strings share, with a radius across them, set by its two ends. The outer strings get the wanted action; the inner ones follow."
        "Plate bridge"
            "A bridge on the top with a saddle for each string, each set on its own."
        "Bridge on posts"
            "A bridge on two posts: one crest for all strings, raised and lowered at both ends."
        "Floating bridge"
            "A bridge that stands on the top and is held by the strings' pressure alone."
        "Glued bridge"
            "A bridge glued to the top, with the saddle standing in a slot. Its crest is the bridge's thickness and what shows of the saddle."
        "Stop tail"
            "A bar on two studs behind the bridge in which the strings end; it can be raised and lowered."
        "Retainer" ["string tree"]
            "Something on the headstock that holds a string down between nut and post."
        "Treble string" ["string 1", "treble"]
            "The highest string. Strings are counted from it: string 1 is the treble."
        "Plain string"
            "A string of a single wire or thread."
        "Wound string"
            "A string of a core with one or more wraps around it: heavier without being stiffer. A hexagonal core is measured across its flats."
    }
    Closing {
        "Held"
            "A dimension that keeps the value it was given. Whatever follows, it is not bent."
        "Found"
            "A dimension that is worked out from the held ones, so that the strings' line meets the crest."
        "Closing a design" ["to close", "closes"]
            "Finding values with which the strings' line, from nut to crest, comes out where bridge and body put it, in height and along the body."
        "Pin"
            "The mark before a dimension: a dot while it is held, a ring while it is found. A click turns the one into the other."
        "Handle"
            "A ring in a drawing that sets a dimension: with a dot in it while it is held, empty while it is found. It is dragged, moved by the arrow keys, or typed into."
        "Follower"
            "The dimension that gives way while a found one is set by hand."
        "Outcome"
            "What follows from the design, as a break angle or what the straightedge reads. It can be held at a wanted value; then something else must be found for it."
        "Target"
            "The value at which an outcome is held."
        "Conflict"
            "Held values that cannot all be true. They are named, with the value that each would take if it alone were released."
        "Planned"
            "Still on paper: it can be changed at no cost."
        "Made"
            "Already cut, or bought. A remedy leaves it alone where another will do."
        "Measured"
            "Made and measured on a certain day, with a reading error, ± in mm or degrees."
        "Reading error"
            "By how much a reading may be off, ±, in the unit of what is read."
        "Variant"
            "One of several designs in a file, each whole in itself, to be looked at side by side."
        "A and B" ["A", "B"]
            "The two designs that are compared. A difference is B less A; either can take over what the other has."
        "Difference" ["B less A", "what differs"]
            "B's value less A's, in its unit. What cannot be told apart at the bench is not listed."
        "Better"
            "Which of two compared designs has more left before a check fails. Where more or less has no such meaning, neither is called better."
        "Starter"
            "A design that plays, to begin with and to change into one's own."
    }
    Verdict {
        "Check"
            "One thing measured on the design and compared with a range. It is good, thin or failing."
        "Good"
            "A check's value lies well inside its range."
        "Thin"
            "A check's value lies inside its range, but nearer to its end than one likes."
        "Fails" ["failing"]
            "A check's value lies outside its range."
        "Plays"
            "Every check is good."
        "Plays, but thin"
            "No check fails, and one or more are thin."
        "Will not play"
            "One or more checks fail. Each names what could be changed to mend it."
        "Does not close"
            "Held values contradict each other, or a part of the layout cannot be worked out: there is nothing yet to judge."
        "Limit" ["range of a check"]
            "Where a check turns thin, and where it fails, in the check's unit. A design may set its own."
        "Margin"
            "How far a check's value is from failing, counted in widths of the thin band: 0 where it fails, 1 where it is good."
        "Reserve"
            "What is left of a saddle's, tail's or bridge's travel, up and down or fore and aft, in mm. A design that plays only at the stop of its screws is not a good one."
        "Remedy"
            "The least change of one dimension that mends a check, and what it costs elsewhere."
        "Working" ["show the working"]
            "How a figure came about: the formula, the numbers put in, their units and the source."
    }
    Trueness {
        "Tolerance"
            "By how much, ±, a dimension usually misses when it is made with care, in mm or degrees. Common practice, no source; every one can be changed."
        "Spread"
            "How far a result scatters when every dimension misses by its own tolerance, as ± in mm."
        "Sensitivity"
            "By how much a result moves when one dimension misses by 1 mm or 1°, all others being true."
        "Share"
            "The part of a result's spread that one dimension brings about, in per cent."
        "Worst case"
            "What results if every dimension misses by its whole tolerance and all misses add up."
        "Root sum of squares"
            "The spread of independent misses taken together: the root of the sum of their squares. Independent misses seldom all add up."
        "Trial"
            "One set of cuts, each missing by chance as far as the tolerances allow. Of many trials, the share that still play is the chance that yours will."
        "Error" ["miss"]
            "By how much something comes out beside what it should be, in mm or degrees: of a cut, a bought part, or a reading."
        "Standard deviation" ["standard uncertainty"]
            "The usual measure of scatter, in the unit of what scatters. Of a normal error about two in three lie within one of it, and 19 in 20 within two."
        "Chance" ["holds in"]
            "The part of many trials in which something holds, in per cent. It is counted, and known the better the more trials there are. One from 95 % on counts as good, one from 80 % as thin."
        "Set right later" ["later"]
            "What can still be mended when the glue is dry: by rod, saddle, slot, tail or pickup screws, or by other strings. What cannot must be cut true."
        "Safest nominal"
            "The value that leaves most room for misses on either side, not the one that is right only if every cut is."
    }
    DryFit {
        "Dry fit" ["trial fit"]
            "Neck and body put together without glue, to read the straightedge while it can still be mended."
        "Reading"
            "What the straightedge reads over the top at a place, in mm square to the datum."
        "As it is"
            "The joint as the readings tell it, with the saddle set to what it needs: before anything is done about it."
        "Then"
            "What the joint comes to once a correction is done, worked out before any wood is cut."
        "Off the plan"
            "By how much the crest that a joint needs stands above the planned one, in mm; below it where it has a minus."
        "Round" ["round of fitting"]
            "One turn of a fitting: the joint is put together dry, read, and something is done about it. Then comes the next."
        "Fitting log"
            "Every round of a fitting with its day, readings and what was done, kept with the design."
        "Forward bow"
            "A neck that is not quite straight while it is read. A little of it reads low at the bridge: set the rod first."
        "Shoulder's foot" ["foot of the shoulder"]
            "The lower end of the shoulder. When the pitch is raised it touches first, and the top opens."
        "Roll"
            "A neck turned about its own length. It does not show in a side elevation: check it before trimming the shoulder."
        "Side-aim" ["side aim"]
            "Where the neck points, seen from above. It does not show in a side elevation: check that the centre line meets the bridge before trimming the shoulder."
    }
    Paper {
        "Full size"
            "Printed at 100 %, with no fit to page: 1 mm of wood is 1 mm of paper."
        "Check bar"
            "A printed bar of 100 mm, across and up. Measure both before anything is cut to the paper."
        "Printer correction"
            "What the check bars measured, put in so that the printer's error is taken out of the sheets."
        "Template"
            "A part at full size with its cut line, to be glued on a board."
        "Reference edge"
            "The edge from which a template or gauge is laid on and measured."
        "Tile"
            "One sheet of a part that is larger than the paper."
        "Overlap"
            "The strip that two tiles share, with marks in it to join them by, in mm."
        "Cut sheet"
            "The steps of the joint in the order of the work, each with its numbers, what to leave on for fitting, and how to check it."
        "Worked sheet"
            "Every step from the held dimensions to the verdict and the cuts, each with its formula, the numbers put in and its source, to be followed by hand with a calculator."
        "Tick"
            "The mark that a step of the cut sheet is done."
    }
}
