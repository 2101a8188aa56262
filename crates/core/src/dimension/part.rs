/// The part of the instrument a dimension belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Scale length and frets.
    Scale,
    /// The joint: where and at what angle neck and body meet.
    Joint,
    /// How it shall play.
    Wanted,
    /// Nut or zero fret.
    Nut,
    /// Fingerboard and frets.
    Board,
    /// Bridge and saddles.
    Bridge,
    /// Where the strings end.
    Tail,
    /// Body and top.
    Body,
    /// Neck behind the board.
    Neck,
    /// Headstock.
    Head,
    /// One string.
    String,
    /// One pickup.
    Pickup,
    /// One cavity of the body.
    Cavity,
    /// The straightedge on the unstrung neck.
    Straightedge,
}

impl Part {
    /// All parts in the order of the work.
    pub const ALL: [Self; 14] = [
        Self::Joint,
        Self::Wanted,
        Self::Scale,
        Self::Board,
        Self::Nut,
        Self::Bridge,
        Self::Tail,
        Self::Body,
        Self::Neck,
        Self::Head,
        Self::String,
        Self::Pickup,
        Self::Cavity,
        Self::Straightedge,
    ];

    /// The part that a key belongs to, by its first word.
    pub(super) const fn of_key(key: &str) -> Self {
        const WORDS: [(&str, Part); 14] = [
            ("scale.", Part::Scale),
            ("joint.", Part::Joint),
            ("wanted.", Part::Wanted),
            ("nut.", Part::Nut),
            ("board.", Part::Board),
            ("bridge.", Part::Bridge),
            ("tail.", Part::Tail),
            ("body.", Part::Body),
            ("neck.", Part::Neck),
            ("head.", Part::Head),
            ("strings[]", Part::String),
            ("pickups[]", Part::Pickup),
            ("cavities[]", Part::Cavity),
            ("straightedge.", Part::Straightedge),
        ];
        let mut word = 0;
        while word < WORDS.len() {
            let (start, key) = (WORDS[word].0.as_bytes(), key.as_bytes());
            let mut letter = 0;
            while letter < start.len() && letter < key.len() && start[letter] == key[letter] {
                letter += 1;
            }
            if letter == start.len() {
                return WORDS[word].1;
            }
            word += 1;
        }
        // reached only while the table is built, by a key that belongs nowhere
        panic!("the key belongs to no part");
    }

    /// Its name as a heading, in sentence case.
    pub fn name(self) -> &'static str {
        match self {
            Self::Scale => "Scale",
            Self::Joint => "Joint",
            Self::Wanted => "String height",
            Self::Nut => "Nut",
            Self::Board => "Board",
            Self::Bridge => "Bridge",
            Self::Tail => "Tail",
            Self::Body => "Body",
            Self::Neck => "Neck",
            Self::Head => "Headstock",
            Self::String => "Strings",
            Self::Pickup => "Pickups",
            Self::Cavity => "Cavities",
            Self::Straightedge => "Straightedge",
        }
    }
}

/// What a dimension does in the layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// A variable of the constraint system: it is held or found.
    Closing,
    /// Given data; nothing can be found for it.
    Given,
    /// It only follows from the others, but can be held at a wanted value.
    Outcome,
}
