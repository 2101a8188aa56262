//! One glossary: what each word of the trade means here, for tips, docs and the command
//! line.
//!
//! What the table of dimensions, the choices and the checks say of themselves is not said
//! again: they are indexed here beside the words that name none of them.
//!
//! ```
//! use overstand_core::glossary;
//!
//! let pitch = glossary::find("pitch").map(|entry| entry.meaning).unwrap_or_default();
//! assert!(pitch.starts_with("Angle between the unstrung, straight board"));
//! assert_eq!(glossary::find("neck angle").map(|entry| entry.name), Some("Pitch"));
//! assert!(glossary::find("velvet").is_none());
//! assert_eq!(glossary::near("overstnad"), ["Overstand"]);
//! ```

mod words;

use std::sync::LazyLock;

use crate::choice::Choice;
use crate::dimension::{Dim, nearest};
use crate::verdict::CheckId;

use words::{ALSO, WORDS};

/// What a word belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// Neck and board.
    Neck,
    /// Body and its frame.
    Body,
    /// The joint at the bench.
    Joinery,
    /// Strings, nut and bridge.
    Strings,
    /// What is held, found and known.
    Closing,
    /// The verdict.
    Verdict,
    /// How true the cuts are.
    Trueness,
    /// The dry fit.
    DryFit,
    /// Paper and templates.
    Paper,
}

impl Topic {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Neck,
        Self::Body,
        Self::Joinery,
        Self::Strings,
        Self::Closing,
        Self::Verdict,
        Self::Trueness,
        Self::DryFit,
        Self::Paper,
    ];

    /// As a heading.
    pub fn name(self) -> &'static str {
        match self {
            Self::Neck => "Neck and board",
            Self::Body => "Body and where things are measured from",
            Self::Joinery => "The joint",
            Self::Strings => "Strings, nut and bridge",
            Self::Closing => "What is held, found and known",
            Self::Verdict => "The verdict",
            Self::Trueness => "How true the cuts are",
            Self::DryFit => "The dry fit",
            Self::Paper => "Paper",
        }
    }
}

/// What an entry is about.
#[derive(Clone, Copy, Debug)]
pub enum Subject {
    /// A word of the trade.
    Word(Topic),
    /// A dimension of a design.
    Dimension(Dim),
    /// A choice between kinds of a part.
    Choice(&'static Choice),
    /// A check of the verdict.
    Check(CheckId),
}

/// One entry of the glossary.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The word, in sentence case.
    pub name: &'static str,
    /// Other names for the same.
    pub also: Vec<&'static str>,
    /// What it means, in a plain sentence or two; of a check, what it asks.
    pub meaning: &'static str,
    /// What it is about.
    pub subject: Subject,
}

impl Entry {
    /// How it is written in files and on the command line, if it is.
    pub fn key(&self) -> Option<&'static str> {
        match self.subject {
            Subject::Word(_) => None,
            Subject::Dimension(dim) => Some(dim.info().key),
            Subject::Choice(choice) => Some(choice.key),
            Subject::Check(id) => Some(id.text()),
        }
    }

    fn names(&self) -> impl Iterator<Item = &'static str> + '_ {
        std::iter::once(self.name).chain(self.also.iter().copied()).chain(self.key())
    }
}

static ENTRIES: LazyLock<Vec<Entry>> = LazyLock::new(|| {
    let words = WORDS.iter().map(|word| Entry {
        name: word.name,
        also: word.also.to_vec(),
        meaning: word.meaning,
        subject: Subject::Word(word.topic),
    });
    let dimensions = Dim::ALL.iter().map(|&dim| {
        let info = dim.info();
        let also = ALSO.iter().filter(|(_, key)| *key == info.key).map(|(name, _)| *name);
        Entry {
            name: info.name,
            also: also.collect(),
            meaning: info.meaning,
            subject: Subject::Dimension(dim),
        }
    });
    let choices = Choice::all().iter().map(|choice| Entry {
        name: choice.name,
        also: Vec::new(),
        meaning: choice.meaning,
        subject: Subject::Choice(choice),
    });
    let checks = CheckId::ALL.iter().map(|&id| Entry {
        name: id.name(),
        also: Vec::new(),
        meaning: id.question(),
        subject: Subject::Check(id),
    });
    let mut entries: Vec<Entry> = words.chain(dimensions).chain(choices).chain(checks).collect();
    // stable: where a check shares its name, what it looks at stands first
    entries.sort_by_key(|entry| entry.name.to_lowercase());
    entries
});

/// Every entry, by name.
pub fn all() -> &'static [Entry] {
    &ENTRIES
}

/// The entry of that name or key. Capitals, hyphens and a plural do not matter.
pub fn find(text: &str) -> Option<&'static Entry> {
    find_all(text).into_iter().next()
}

/// All entries of that name or key: a dimension and a check may share a name.
pub fn find_all(text: &str) -> Vec<&'static Entry> {
    let wanted = plain(text);
    let named = |wanted: &str| -> Vec<&'static Entry> {
        all().iter().filter(|entry| entry.names().any(|name| plain(name) == wanted)).collect()
    };
    let exact = named(&wanted);
    if !exact.is_empty() {
        return exact;
    }
    // one that is written in the plural, as `checks`, or is one, as `cheek`
    let singular = wanted.strip_suffix('s').map(named).unwrap_or_default();
    if singular.is_empty() && !wanted.is_empty() { named(&format!("{wanted}s")) } else { singular }
}

/// Other entries that have the word in their name, each name once.
pub fn related(text: &str) -> Vec<&'static Entry> {
    let wanted = format!(" {} ", plain(text));
    let found = find_all(text);
    let mut others: Vec<&'static Entry> = all()
        .iter()
        .filter(|entry| format!(" {} ", plain(entry.name)).contains(&wanted))
        .filter(|entry| !found.iter().any(|one| std::ptr::eq(*one, *entry)))
        .collect();
    // a dimension and its check stand beside each other
    others.dedup_by_key(|entry| entry.name);
    others
}

/// The entries whose names stand in a text, as a heading or the name of a figure, in its
/// order; of names that overlap the longest. Each name is explained once, as what it is
/// before it is checked.
///
/// ```
/// let names: Vec<_> = overstand_core::glossary::within("Depth of the pocket at its mouth")
///     .iter()
///     .map(|entry| entry.name)
///     .collect();
/// assert_eq!(names, ["Pocket", "Mouth"]);
/// ```
pub fn within(text: &str) -> Vec<&'static Entry> {
    let text = spaced(text);
    let mut hits: Vec<(usize, usize, &Entry)> = Vec::new();
    for entry in all() {
        for name in entry.names().map(spaced).filter(|name| name.len() > SHORTEST) {
            let singular = format!(" {} ", name.trim().strip_suffix('s').unwrap_or_default());
            let plural = format!("{}s ", name.trim_end());
            let forms = [name.as_str(), &plural, &singular];
            for form in forms.into_iter().filter(|form| form.len() > SHORTEST) {
                hits.extend(text.match_indices(form).map(|(at, _)| (at, form.len(), entry)));
            }
        }
    }
    // the longest first; sorting is stable, so a word stays before the check of its name
    hits.sort_by_key(|(at, long, _)| (std::cmp::Reverse(*long), *at));
    let mut kept: Vec<(usize, usize, &Entry)> = Vec::new();
    for (at, long, entry) in hits {
        // neighbours share the space between them
        let is_free =
            kept.iter().all(|(from, other, _)| at + long <= from + 1 || from + other <= at + 1);
        if is_free && kept.iter().all(|(.., other)| other.name != entry.name) {
            kept.push((at, long, entry));
        }
    }
    kept.sort_by_key(|(at, ..)| *at);
    kept.into_iter().map(|(.., entry)| entry).collect()
}

/// Names of fewer letters, as `u` and `N`, are no words of a text; counted with the two
/// spaces around them.
const SHORTEST: usize = 4;

/// In plain form, between spaces, without the stops of a sentence.
fn spaced(text: &str) -> String {
    let words = text
        .replace(['.', ';', ':', '?', '(', ')', '/'], " ")
        .replace("'s", " ")
        .replace('\'', " ");
    format!(" {} ", plain(&words))
}

/// What a question asks about: the name that is asked for in `what is relief?`; any other
/// text as it is, without spaces around it.
///
/// ```
/// use overstand_core::glossary::asked;
///
/// assert_eq!(asked("What is the crest height?"), "crest height");
/// assert_eq!(asked("  crest "), "crest");
/// ```
pub fn asked(text: &str) -> &str {
    let mut rest = text.trim().trim_end_matches(['?', '.', '!']).trim_end();
    for start in ["what is", "what are", "what's", "what does", "explain", "the", "an", "a"] {
        let Some((head, tail)) = rest.get(..start.len()).zip(rest.get(start.len()..)) else {
            continue;
        };
        if head.eq_ignore_ascii_case(start) && tail.starts_with(char::is_whitespace) {
            rest = tail.trim_start();
        }
    }
    for end in [" mean", " means"] {
        rest = rest.strip_suffix(end).unwrap_or(rest).trim_end();
    }
    rest
}

/// Names near to a text that is none: at most five, the nearest first.
pub fn near(text: &str) -> Vec<&'static str> {
    const MOST: usize = 5;
    let short: String = plain(text).chars().take(60).collect();
    let candidates: Vec<(String, &Entry)> = all()
        .iter()
        .flat_map(|entry| entry.names().map(move |name| (plain(name), entry)))
        .collect();
    let slip = nearest(&short, candidates.iter().map(|(name, _)| name.as_str()));
    let mut names: Vec<&'static str> = Vec::new();
    let alike = candidates
        .iter()
        .filter(|(name, _)| Some(name) == slip.as_ref())
        .chain(candidates.iter().filter(|(name, _)| short.len() > 2 && name.contains(&short)));
    for (_, entry) in alike {
        if !names.contains(&entry.name) && names.len() < MOST {
            names.push(entry.name);
        }
    }
    names
}

/// A name in one form: small letters, single spaces; the number of a string left out of its
/// key.
fn plain(text: &str) -> String {
    let small: String = text
        .chars()
        .flat_map(char::to_lowercase)
        .filter(|c| *c != ',')
        .map(|c| if matches!(c, '-' | '_' | '–') { ' ' } else { c })
        .collect();
    let name = small.split_whitespace().collect::<Vec<_>>().join(" ");
    match (name.find('['), name.find(']')) {
        (Some(open), Some(close)) if open < close => {
            format!("{}{}", &name[..=open], &name[close..])
        }
        _ => name,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_entry_says_what_it_is_in_a_sentence_or_two() {
        for entry in all() {
            let sentences = entry.meaning.matches(['.', '?']).count();
            assert!(sentences >= 1 && entry.meaning.len() >= 20, "{} is not explained", entry.name);
            assert!(entry.meaning.len() <= 260, "{} is not said plainly", entry.name);
            assert!(entry.meaning.ends_with(['.', '?']), "{}", entry.name);
            let first = entry.name.chars().next().unwrap();
            assert!(first.is_uppercase(), "{} begins small", entry.name);
        }
    }

    #[test]
    fn a_name_belongs_to_one_word() {
        for word in WORDS {
            for name in std::iter::once(word.name).chain(word.also.iter().copied()) {
                let mut found = find_all(name);
                // a check may be called after what it looks at; the word stands first
                assert_eq!(found[0].key(), None, "{name} is something else first");
                found.retain(|entry| !matches!(entry.subject, Subject::Check(_)));
                assert_eq!(found.len(), 1, "{name} is explained more than once");
                assert_eq!(found[0].name, word.name);
            }
        }
        for (name, key) in ALSO {
            assert_eq!(find(name).and_then(Entry::key), Some(*key), "{name}");
        }
    }

    #[test]
    fn every_dimension_choice_and_check_is_found_by_name_and_key() {
        let mut indexed = 0;
        for entry in all() {
            let same = |found: &&Entry| std::ptr::eq(*found, entry);
            assert!(find_all(entry.name).iter().any(same), "{}", entry.name);
            if let Some(key) = entry.key() {
                indexed += 1;
                assert!(find_all(key).iter().any(same), "{key}");
            }
        }
        assert_eq!(indexed, Dim::ALL.len() + Choice::all().len() + CheckId::ALL.len());
    }

    #[test]
    fn a_word_is_found_as_it_is_typed() {
        for (typed, name) in [
            ("OVERSTAND", "Overstand"),
            ("fall away", "Fall-away"),
            ("break angles", "Break angle"),
            ("cheek", "Cheeks"),
            ("strings[2].gauge", "Gauge"),
            ("saddle_travel", "Saddle travel"),
            ("fretboard", "Board"),
        ] {
            assert_eq!(find(typed).map(|entry| entry.name), Some(name), "{typed}");
        }
        assert_eq!(find_all("relief").len(), 2);
        assert!(related("action").iter().any(|entry| entry.name == "Action, bass"));
        assert!(related("action").iter().all(|entry| entry.name != "Action"));
    }

    #[test]
    fn words_are_found_within_a_text_the_longest_first() {
        let names = |text| within(text).iter().map(|entry| entry.name).collect::<Vec<_>>();
        assert_eq!(names("Break angle over the nut"), ["Break angle", "Nut"]);
        assert_eq!(names("Clearance at fret 1"), ["Clearance", "Fret"]);
        assert_eq!(names("Two cheeks, one cheek"), ["Cheeks"]);
        assert_eq!(names("velvet u v N"), [""; 0]);
        for odd in ["", "é", "[", &"a".repeat(10_000)] {
            assert!(within(odd).is_empty(), "{odd}");
        }
    }

    #[test]
    fn a_question_is_heard_as_its_word() {
        for (text, word) in [
            ("what is relief?", "relief"),
            ("What are crowns", "crowns"),
            ("what does shy mean?", "shy"),
            ("What's a wedge?", "wedge"),
            ("the crest", "crest"),
            ("a", "a"),
            ("angle", "angle"),
            ("", ""),
            ("é?", "é"),
        ] {
            assert_eq!(asked(text), word, "{text}");
        }
    }

    #[test]
    fn what_is_no_word_is_answered_with_near_ones() {
        assert_eq!(near("stratedge"), ["Straightedge"]);
        assert!(near("datums").contains(&"Top datum"));
        assert!(near("angle").len() > 1 && near("angle").len() <= 5);
        for nothing in ["", " ", "]", "[", "][", "xyzzy", "é", &"a".repeat(10_000)] {
            assert!(find(nothing).is_none() && near(nothing).is_empty(), "{nothing}");
        }
    }
}
