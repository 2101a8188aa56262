//! The words of the glossary, as they stand in tips.

use egui::{Label, Rect, Response, RichText, Sense, Ui};
use overstand_core::glossary::{self, Entry, Subject};
use overstand_core::joint::Figure;

use crate::theme;

/// Most words that one tip explains.
const MOST: usize = 3;

/// What a term means: what it is rather than how it is checked. Of a heading or of the name of
/// a figure, the terms that stand in it.
fn entries(term: &str) -> Vec<&'static Entry> {
    let found = glossary::find_all(term);
    match found.first() {
        Some(first) => vec![first],
        None => glossary::within(term),
    }
}

/// The words of the glossary for a term, in a tip.
pub(crate) fn words(ui: &mut Ui, term: &str) {
    for entry in entries(term).into_iter().take(MOST) {
        self::entry(ui, entry);
    }
}

/// The same under a name that is no term itself, as that of a figure.
pub(crate) fn named(ui: &mut Ui, name: &str) {
    if glossary::find(name).is_none() {
        ui.add(Label::new(RichText::new(name).font(theme::strong())).wrap());
    }
    words(ui, name);
}

/// One entry: its name and its meaning.
pub(crate) fn entry(ui: &mut Ui, entry: &Entry) {
    ui.add(Label::new(RichText::new(entry.name).font(theme::strong())).wrap());
    ui.add(Label::new(entry.meaning).wrap());
    let aside = match entry.subject {
        Subject::Dimension(dim) if !dim.info().usual.is_empty() => {
            format!("Usual: {}", dim.info().usual)
        }
        _ if !entry.also.is_empty() => format!("Also called: {}", entry.also.join(", ")),
        _ => return,
    };
    small(ui, &aside);
}

/// What explains a figure of the joint: its name, or else what its group is about.
fn figure_terms(figure: &Figure) -> &'static str {
    [figure.name, figure.group.name()]
        .into_iter()
        .find(|name| !entries(name).is_empty())
        .unwrap_or_default()
}

/// The row of a figure, with the words of the glossary for it.
pub(crate) fn on_figure(response: Response, figure: &Figure) {
    if response.hovered() {
        on_hover(response, figure_terms(figure));
    }
}

/// A line of less weight.
pub(crate) fn small(ui: &mut Ui, text: &str) {
    let colour = theme::palette(ui).dim;
    ui.add(Label::new(RichText::new(text).font(theme::label()).color(colour)).wrap());
}

/// What can be pointed at, with the words of the glossary for a term; with no tip where there
/// are none.
pub(crate) fn on_hover(response: Response, term: &str) -> Response {
    // not looked up before it is pointed at
    if !response.hovered() || entries(term).is_empty() {
        return response;
    }
    response.on_hover_ui(|ui| words(ui, term))
}

/// The same of a heading that is painted in a place: its name, and the term that explains it.
pub(crate) fn on_heading(ui: &Ui, place: Rect, (name, term): (&str, &str)) {
    let id = ui.scope_id().with(("heading", name));
    on_hover(ui.interact(place, id, Sense::hover()), term);
}

#[cfg(test)]
mod tests {
    use overstand_core::dimension::{Dim, Part};
    use overstand_core::dryfit::SetUp;
    use overstand_core::joint::JointFigures;
    use overstand_core::study::Study;
    use overstand_core::testing::worked_example;
    use overstand_core::verdict::{CheckId, Word};
    use overstand_drawing::scene::PartName;

    use super::*;
    use crate::pages::{dry_fit, how_true};
    use crate::panels::{differences, standings, string_table};
    use crate::view::StringSheet;

    #[test]
    fn the_glossary_explains_every_dimension_check_part_and_heading() {
        let dims = Dim::ALL.iter().map(|dim| dim.info().name);
        let checks = CheckId::ALL.iter().map(|id| id.name());
        let parts = PartName::ALL.iter().map(|part| part.name());
        let groups = Part::ALL.iter().map(|part| part.name());
        let columns = string_table::headings();
        for name in dims.chain(checks).chain(parts).chain(groups).chain(columns) {
            assert!(glossary::find(name).is_some(), "{name} is not in the glossary");
        }
    }

    #[test]
    fn the_glossary_explains_what_stands_over_every_column() {
        let all = differences::HEADS.iter().chain(&standings::HEADS);
        let pages = how_true::headings().chain(dry_fit::headings());
        for (heading, term) in all.copied().chain(pages) {
            assert!(glossary::find(term).is_some(), "{heading}: {term} is not in the glossary");
        }
        // columns whose name is no term of their own are explained by what stands in it
        let study = Study::of(&worked_example());
        let set_up = SetUp::of(&study.design, study.layout().unwrap());
        for column in set_up.steps.iter().flat_map(|step| &step.columns) {
            assert!(!entries(column).is_empty(), "nothing explains {column}");
        }
    }

    #[test]
    fn the_tip_of_a_name_says_what_it_is_before_how_it_is_checked() {
        for dim in Dim::ALL {
            let info = dim.info();
            let says = entries(info.name).iter().any(|entry| entry.meaning == info.meaning);
            assert!(says, "{}", info.name);
        }
    }

    #[test]
    fn every_figure_of_the_joint_and_every_sheet_has_words() {
        let study = Study::of(&worked_example());
        let layout = study.layout().unwrap();
        let figures = JointFigures::of(&study.design, layout);
        for figure in &figures.list {
            assert!(!figure_terms(figure).is_empty(), "nothing explains {}", figure.name);
        }
        let sheets = StringSheet::ALL.iter().map(|sheet| sheet.name());
        let words = [Word::Plays, Word::PlaysThin, Word::Fails, Word::DoesNotClose];
        for name in sheets.chain(words.map(Word::show)) {
            assert!(!entries(name).is_empty(), "nothing explains {name}");
        }
    }
}
