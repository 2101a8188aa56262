//! After the glue: what is set, in the order in which it is done.

use super::outcome_working::OfOutcome;
use crate::design::{BridgeKind, Design, Nut};
use crate::layout::{Layout, StringLine};
use crate::sentence::{Sentence, mm, sentence};
use crate::working::OfString;

/// The set-up of the glued instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    /// The steps, in order (common practice, no source).
    pub steps: Vec<SetUpStep>,
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUpStep {
    /// Its name in the JSON.
    pub id: &'static str,
    /// What it is, in a few words.
    pub title: &'static str,
    /// What to do.
    pub work: Vec<Sentence>,
    /// What the numbers of a string are.
    pub columns: Vec<&'static str>,
    /// The numbers of each string, or of each post, mm.
    pub rows: Vec<SetUpRow>,
}

/// The numbers of one string.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUpRow {
    /// The string's name.
    pub name: String,
    /// The numbers, mm, one for each column.
    pub values: Vec<f64>,
    /// What they are, so that each opens into its working.
    pub of: Vec<OfOutcome>,
}

/// A number of a string with what it is.
type Number = (f64, OfOutcome);

fn action(design: &Design, string: usize, line: &StringLine) -> Number {
    (line.action, OfOutcome::Clearance(string, usize::from(design.wanted.action_fret)))
}

fn first_fret(string: usize, line: &StringLine) -> Number {
    (line.first_fret, OfOutcome::Clearance(string, 1))
}

/// A step with nothing but its work.
fn step(id: &'static str, title: &'static str, work: Vec<Sentence>) -> SetUpStep {
    SetUpStep { id, title, work, columns: Vec::new(), rows: Vec::new() }
}

impl SetUp {
    /// Said wherever the steps stand.
    pub const CAUTION: &str = "A strung instrument holds several hundred newtons: slacken the \
                               strings before you file or cut.";

    /// The set-up of a joint as it really is: relief, nut slots, saddle, and what moves when
    /// they do.
    pub fn of(design: &Design, layout: &Layout) -> Self {
        let mut steps = vec![relief(design, "relief", "Set the relief with the rod")];
        steps.push(nut(design, layout));
        steps.push(saddle(design, layout));
        let mut again = relief(design, "again", "Read the relief and the action again");
        again.work.push(sentence![
            "Saddle and slots load the neck anew: if the relief has moved, set it and read the action once more. Then set each saddle fore and aft."
        ]);
        again.columns = vec!["action", clear_of_first(design)];
        again.rows = rows(design, layout, |string, line| {
            vec![action(design, string, line), first_fret(string, line)]
        });
        steps.push(again);
        Self { steps }
    }
}

fn clear_of_first(design: &Design) -> &'static str {
    if design.is_fretted() { "clear of fret 1" } else { "clear of semitone 1" }
}

fn rows(
    design: &Design,
    layout: &Layout,
    numbers: impl Fn(usize, &StringLine) -> Vec<Number>,
) -> Vec<SetUpRow> {
    let named = design.strings.iter().zip(&layout.strings).enumerate();
    named
        .map(|(index, (string, line))| {
            let (values, of) = numbers(index, line).into_iter().unzip();
            SetUpRow { name: string.name.clone(), values, of }
        })
        .collect()
}

fn relief(design: &Design, id: &'static str, title: &'static str) -> SetUpStep {
    let wanted = &design.wanted;
    let to = if wanted.relief_to == 0 { design.joint.fret } else { wanted.relief_to };
    let (count, over) = if design.is_fretted() {
        ("the crowns of frets ", "and ")
    } else {
        ("the board at semitones ", "and ")
    };
    let work = sentence![
        "Strings at pitch. Straightedge on ",
        count,
        usize::from(wanted.relief_from),
        " ",
        over,
        usize::from(to),
        ": the deepest gap reads ",
        mm(wanted.relief.to_mm(), 2),
        "."
    ];
    step(id, title, vec![work])
}

fn nut(design: &Design, layout: &Layout) -> SetUpStep {
    if let Nut::ZeroFret { height } = design.nut {
        let work = sentence![
            "The zero fret, ",
            mm(height.to_mm(), 2),
            " over the board, carries the strings: file the slots until each lies on it and no lower."
        ];
        let mut all = step("nut_slots", "See that the strings lie on the zero fret", vec![work]);
        all.columns = vec![clear_of_first(design)];
        all.rows = rows(design, layout, |string, line| vec![first_fret(string, line)]);
        return all;
    }
    let crown = design.board.crown.to_mm();
    let mut work = vec![sentence![
        "File each slot until its bottom stands so high over the board; stop short and come nearer in turns."
    ]];
    if design.is_fretted() {
        work.push(sentence![
            "Never below ",
            mm(crown, 2),
            ", the height of the crowns: the open string would lie on fret 1."
        ]);
    }
    let mut all = step("nut_slots", "File the nut slots", work);
    all.columns = vec!["slot over the board", clear_of_first(design)];
    all.rows = rows(design, layout, |string, line| {
        let slot = OfOutcome::String(string, OfString::Slot);
        vec![(line.slot_over_board, slot), first_fret(string, line)]
    });
    all
}

fn saddle(design: &Design, layout: &Layout) -> SetUpStep {
    let (low, high) = design.bridge.kind.crest_range();
    let what = match design.bridge.kind {
        BridgeKind::Glued { .. } => "File the saddle until each crest stands so high over the top.",
        _ => "Set each crest so high over the top.",
    };
    let fret = usize::from(design.wanted.action_fret);
    let counted = if design.is_fretted() { "fret " } else { "semitone " };
    let mut work = vec![
        sentence![
            what,
            " The bridge goes from ",
            mm(low.to_mm(), 1),
            " to ",
            mm(high.to_mm(), 1),
            "."
        ],
        sentence!["Then read the action at ", counted, fret, ", relief as above."],
    ];
    for post in layout.posts.iter().flatten() {
        let side = if post.place > 0.0 { "treble" } else { "bass" };
        work.push(sentence![
            "The ",
            side,
            " post carries the crest ",
            mm(post.crest_height, 2),
            " over the top."
        ]);
    }
    let mut all = step("saddle", "Set the saddle heights", work);
    all.columns = vec!["crest over the top", "action"];
    all.rows = rows(design, layout, |string, line| {
        let crest = OfOutcome::String(string, OfString::CrestHeight);
        vec![(line.crest_height, crest), action(design, string, line)]
    });
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::Study;
    use crate::testing::worked_example;
    use crate::units::{Length, LengthStyle};

    #[test]
    fn a_fretless_board_is_set_up_in_semitones() {
        let mut design = worked_example();
        design.scale.frets = 0;
        design.board.crown = Length::mm(0.0);
        let study = Study::of(&design);
        let set_up = SetUp::of(&study.design, study.layout().unwrap());
        let mut words = String::new();
        for step in &set_up.steps {
            words += &step.columns.join("\n");
            for says in &step.work {
                words += &says.show(LengthStyle::Millimetres);
            }
        }
        assert!(words.contains("semitone 12") && words.contains("clear of semitone 1"), "{words}");
        assert!(!words.contains("fret"), "{words}");
    }
}
