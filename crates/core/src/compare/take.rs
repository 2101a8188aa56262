//! One design takes something over from the other.

use super::Subject;
use super::details::{Detail, part_of_source};
use crate::choice::{Choice, drop_what_is_gone};
use crate::design::{Design, Fault, Top};
use crate::dimension::{Dim, Key, Part, Role};
use crate::sentence::lower;
use crate::study::Study;

/// A design that has taken something over.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// The design as it is now.
    pub design: Design,
    /// What was done, as the name of a step of undo.
    pub step: String,
}

/// Why nothing was taken.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NotTaken {
    /// It only follows from what is given.
    #[error("it follows from the other dimensions: take one of those")]
    Follows,
    /// The other design has no such thing.
    #[error("the other design has none")]
    Missing,
    /// Here is no such thing: another kind of part must be taken first.
    #[error("this design has none: take the kind of the part first")]
    NoPlace,
    /// Alone it would make the design nonsense.
    #[error("alone it would make no sense here: {0}")]
    Fault(Fault),
}

/// Takes one thing over. What is held and what is found stays so, unless that alone is
/// what differs.
///
/// # Errors
/// [`NotTaken`].
pub fn take(from: &Study, into: &Study, subject: &Subject) -> Result<Taken, NotTaken> {
    let mut design = into.design.clone();
    let what = match subject {
        Subject::Check(_) | Subject::String(..) | Subject::Figure(_) | Subject::Step(_) => {
            return Err(NotTaken::Follows);
        }
        Subject::Choice(_) => {
            let choice = subject.choice().ok_or(NotTaken::Missing)?;
            take_choice(&from.design, &mut design, choice)?;
            choice.name.to_owned()
        }
        Subject::Key(key) => {
            design = take_key(from, into, *key)?;
            key.name(&into.design)
        }
        Subject::Detail(Detail::List(part)) => return take_part(from, into, *part),
        Subject::Detail(detail) => {
            take_detail(&from.design, &mut design, detail)?;
            detail.name(&into.design)
        }
    };
    sound(design, format!("Take {}", lower(&what)))
}

/// Takes everything of one part over: its kind, its dimensions, which of them are held, and
/// whatever else is listed under the part.
///
/// # Errors
/// [`NotTaken::Fault`].
pub fn take_part(from: &Study, into: &Study, part: Part) -> Result<Taken, NotTaken> {
    let mut design = into.design.clone();
    let other = &from.design;
    match part {
        Part::Scale => design.scale = other.scale.clone(),
        Part::Joint => design.joint = other.joint.clone(),
        Part::Wanted => design.wanted = other.wanted.clone(),
        Part::Nut => design.nut = other.nut.clone(),
        Part::Board => design.board = other.board.clone(),
        Part::Bridge => design.bridge = other.bridge.clone(),
        Part::Tail => design.tail = other.tail.clone(),
        Part::Body => design.body = other.body.clone(),
        Part::Neck => design.neck = other.neck.clone(),
        Part::Head => design.head = other.head.clone(),
        Part::String => design.strings = other.strings.clone(),
        Part::Pickup => design.pickups = other.pickups.clone(),
        Part::Cavity => design.cavities = other.cavities.clone(),
        Part::Straightedge => {}
    }
    let of_part = |text: &str| Key::parse(text).is_ok_and(|key| key.dim.info().part() == part);
    design.marks.retain(|text, _| !of_part(text));
    let marks = other.marks.iter().filter(|(text, _)| of_part(text));
    design.marks.extend(marks.map(|(text, mark)| (text.clone(), mark.clone())));
    design.targets.retain(|text, _| !of_part(text));
    let targets = other.targets.iter().filter(|(text, _)| of_part(text));
    design.targets.extend(targets.map(|(text, value)| (text.clone(), *value)));
    design.tolerances.retain(|text, _| part_of_source(text) != part);
    let tolerances = other.tolerances.iter().filter(|(text, _)| part_of_source(text) == part);
    design.tolerances.extend(tolerances.map(|(text, one)| (text.clone(), *one)));
    match part {
        // how far its making has come goes with it
        Part::Joint => {
            design.ticks.clone_from(&other.ticks);
            design.fitting.clone_from(&other.fitting);
        }
        Part::Wanted => design.limits.clone_from(&other.limits),
        _ => {}
    }
    drop_what_is_gone(&mut design);
    let taken: Vec<Dim> = Dim::ALL
        .iter()
        .copied()
        .filter(|dim| dim.info().part() == part && dim.info().role == Role::Closing)
        .collect();
    let design = let_give(from, into, design, &taken);
    sound(design, format!("Take part: {}", lower(part.name())))
}

/// Takes everything over but the name.
pub fn take_all(from: &Study, into: &Study) -> Taken {
    let design = Design { name: into.design.name.clone(), ..from.design.clone() };
    Taken { design, step: format!("Take everything of {}", from.design.name.trim()) }
}

fn sound(design: Design, step: String) -> Result<Taken, NotTaken> {
    match design.faults().into_iter().next() {
        Some(fault) => Err(NotTaken::Fault(fault)),
        None => Ok(Taken { design, step }),
    }
}

/// The kind of a part, and what only that kind has.
fn take_choice(from: &Design, into: &mut Design, choice: &Choice) -> Result<(), NotTaken> {
    let had = Key::all_of(into);
    choice.set(into, choice.get(from)).map_err(|_unknown| NotTaken::Missing)?;
    let new = Key::all_of(into)
        .into_iter()
        .filter(|key| key.dim.info().part() == choice.part() && !had.contains(key));
    for key in new {
        if let Some(value) = key.get(from) {
            key.set(into, value);
        }
    }
    if let (Top::Arch { points }, Top::Arch { points: theirs }) =
        (&mut into.body.top, &from.body.top)
        && choice.key == "body.top"
    {
        points.clone_from(theirs);
    }
    Ok(())
}

fn take_key(from: &Study, into: &Study, key: Key) -> Result<Design, NotTaken> {
    let info = key.dim.info();
    let mut design = into.design.clone();
    if info.role == Role::Outcome {
        match from.design.targets.get(info.key) {
            Some(value) => {
                design.targets.insert(info.key.to_owned(), *value);
            }
            // held here and left free there: it is left free here as well
            None if design.targets.remove(info.key).is_some() => {}
            None => return Err(NotTaken::Follows),
        }
        return Ok(let_give(from, into, design, &[]));
    }
    let value = key.get(&from.design).ok_or(NotTaken::Missing)?;
    let here = key.get(&design).ok_or(NotTaken::NoPlace)?;
    if here == value {
        let text = info.key.to_owned();
        if key.is_found(&from.design) {
            design.found.insert(text);
            hold_one(&from.design, &mut design, key.dim);
        } else {
            design.found.remove(&text);
        }
        return Ok(let_give(from, into, design, &[]));
    }
    key.set(&mut design, value);
    let taken: &[Dim] = if info.role == Role::Closing { &[key.dim] } else { &[] };
    Ok(let_give(from, into, design, taken))
}

/// Holds one that is found here and held there, besides `dim`: as much is found as before.
fn hold_one(from: &Design, design: &mut Design, dim: Dim) {
    let own = dim.info().key;
    let other = design.found.iter().find(|text| *text != own && !from.found.contains(*text));
    if let Some(text) = other.cloned() {
        design.found.remove(&text);
    }
}

/// Lets others give so that dimensions that were taken over, and would be worked out here,
/// keep their values. Where no way is found the design is left as it is: what is found
/// follows, or the conflict shows.
///
/// What may give are held dimensions that differ from the other design's, those first that
/// are found there. As soon as it closes with the values taken, what was found before can be
/// found again.
fn let_give(from: &Study, into: &Study, design: Design, taken: &[Dim]) -> Design {
    let driven: Vec<&str> = taken
        .iter()
        .map(|dim| dim.info().key)
        .filter(|text| design.found.contains(*text))
        .collect();
    let before_count = into.design.found.len() as isize - into.design.targets.len() as isize;
    let count = |design: &Design| design.found.len() as isize - design.targets.len() as isize;
    let mut held = design.clone();
    for text in &driven {
        held.found.remove(*text);
    }
    if driven.is_empty() && count(&held) >= before_count {
        return design;
    }
    let restored = |closed: Design| {
        if driven.is_empty() {
            return closed;
        }
        Design { found: design.found.clone(), ..closed }
    };
    let mut giving = giving(&from.design, &held, taken);
    giving.sort_by_key(|text| !from.design.found.contains(*text));
    let tries = std::iter::once(Vec::new())
        .chain(giving.iter().map(|text| vec![*text]))
        .chain(std::iter::once(giving.clone()));
    for released in tries {
        let mut trial = held.clone();
        trial.found.extend(released.iter().map(|text| (*text).to_owned()));
        let study = Study::of(&trial);
        if study.closed().is_some() {
            return restored(study.design);
        }
    }
    design
}

/// Held closing dimensions that differ from the other design's, or are found there.
fn giving(from: &Design, held: &Design, taken: &[Dim]) -> Vec<&'static str> {
    Dim::ALL
        .iter()
        .copied()
        .filter(|dim| dim.info().role == Role::Closing && !taken.contains(dim))
        .filter(|dim| {
            let key = dim.key();
            let differs = key.get(from) != key.get(held);
            key.get(held).is_some()
                && !key.is_found(held)
                && (differs || from.found.contains(dim.info().key))
        })
        .map(|dim| dim.info().key)
        .collect()
}

fn take_detail(from: &Design, into: &mut Design, detail: &Detail) -> Result<(), NotTaken> {
    let strings = |from: &Design, into: &mut Design, index: usize| {
        let theirs = from.strings.get(index).cloned().ok_or(NotTaken::Missing)?;
        let ours = into.strings.get_mut(index).ok_or(NotTaken::NoPlace)?;
        match detail {
            Detail::Note(_) => ours.note = theirs.note,
            Detail::Make(_) => ours.make = theirs.make,
            _ => ours.retainer = theirs.retainer,
        }
        Ok(())
    };
    match detail {
        Detail::List(_) => {}
        Detail::Note(index) | Detail::Make(index) | Detail::Retainer(index) => {
            return strings(from, into, *index);
        }
        Detail::Arch => match (&mut into.body.top, &from.body.top) {
            (Top::Arch { points }, Top::Arch { points: theirs }) => points.clone_from(theirs),
            (_, Top::Arch { .. }) => return Err(NotTaken::NoPlace),
            _ => return Err(NotTaken::Missing),
        },
        Detail::Notes => into.notes.clone_from(&from.notes),
        Detail::Limit(id) => {
            match from.limits.get(id.text()) {
                Some(limit) => into.limits.insert(id.text().to_owned(), *limit),
                None => into.limits.remove(id.text()),
            };
        }
        Detail::Mark(key) => {
            match from.marks.get(key) {
                Some(mark) => into.marks.insert(key.clone(), mark.clone()),
                None => into.marks.remove(key),
            };
        }
        Detail::Tolerance(key) => {
            match from.tolerances.get(key) {
                Some(tolerance) => into.tolerances.insert(key.clone(), *tolerance),
                None => into.tolerances.remove(key),
            };
        }
        Detail::Fitting => into.fitting.clone_from(&from.fitting),
        Detail::Tick(step) => {
            if from.ticks.contains(step) {
                into.ticks.insert(step.clone());
            } else {
                into.ticks.remove(step);
            }
        }
    }
    Ok(())
}
