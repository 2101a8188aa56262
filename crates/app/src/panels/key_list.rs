//! The list of keys: of every command that has one, and what keys and pointer do at their
//! places.

use egui::{
    Align2, Context, Frame, Id, Label, Modal, RichText, Role, ScrollArea, Sense, TextEdit, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::command::{Command, Group};
use crate::keys::HABITS;
use crate::theme::{self, space};
use crate::view::Form;

/// Part of the width that the keys take.
const KEYS: f32 = 0.42;

/// One line.
struct Row {
    place: &'static str,
    keys: String,
    does: &'static str,
}

impl Row {
    /// Whether it has every word in it.
    fn has(&self, words: &str) -> bool {
        let all = format!("{} {} {}", self.place, self.keys, self.does).to_lowercase();
        words.to_lowercase().split_whitespace().all(|word| all.contains(word))
    }
}

/// All lines, place by place: made from the commands, so that none is missing.
fn rows(ctx: &Context) -> Vec<Row> {
    let mut commands = Command::listed();
    commands.extend(Command::of_tour());
    let mut rows = Vec::new();
    for group in Group::ALL {
        rows.extend(commands.iter().filter(|command| command.group() == group).filter_map(
            |command| {
                let keys = ctx.format_shortcut(&command.shortcut()?);
                Some(Row { place: group.name(), keys, does: command.text() })
            },
        ));
    }
    rows.extend(HABITS.iter().map(|habit| Row {
        place: habit.place,
        keys: habit.keys.to_owned(),
        does: habit.does,
    }));
    rows
}

/// Shows the list; what is returned stays open.
pub(crate) fn show(ui: &Ui, form: Form) -> Option<Form> {
    let Form::Keys { mut text } = form else {
        return None;
    };
    let mut is_done = false;
    let modal =
        Modal::new(Id::unique("keys")).frame(Frame::window(ui.style())).show(ui.ctx(), |ui| {
            ui.set_width(space::FORM);
            let title = RichText::new(Command::Keys.text()).font(theme::title());
            ui.add(Label::new(title).selectable(false));
            ui.add_space(space::S);
            let edit = TextEdit::singleline(&mut text)
                .id(Id::unique("keys line"))
                .hint_text("A key or what it does")
                .desired_width(f32::INFINITY)
                .char_limit(80);
            let response = ui.add(edit).accessible_name("Search the keys");
            if ui.memory(|memory| memory.focused().is_none()) {
                response.request_focus();
            }
            ui.add_space(space::S);
            let rows: Vec<Row> = rows(ui.ctx()).into_iter().filter(|row| row.has(&text)).collect();
            ScrollArea::vertical().max_height(space::FORM).auto_shrink([false, true]).show(
                ui,
                |ui| {
                    theme::beside_scroll_bar(ui);
                    ui.spacing_mut().item_spacing.y = 0.0;
                    list(ui, &rows);
                },
            );
            ui.add_space(space::S);
            theme::remark(ui, "Commands without a key are found by the search.");
            ui.add_space(space::S);
            is_done = ui.button("Close the list").clicked();
        });
    (!is_done && !modal.should_close()).then_some(Form::Keys { text })
}

fn list(ui: &mut Ui, rows: &[Row]) {
    if rows.is_empty() {
        theme::remark(ui, "No key of that name, and none that does it.");
    }
    let palette = theme::palette(ui);
    let mut place = "";
    for row in rows {
        if row.place != place {
            place = row.place;
            ui.add_space(space::M);
            let heading = RichText::new(place).font(theme::heading()).color(palette.dim);
            ui.add(Label::new(heading).selectable(false));
        }
        let width = ui.available_width();
        let room = width * (1.0 - KEYS);
        let does = ui.painter().layout(row.does.to_owned(), theme::text(), palette.ink, room);
        let size = vec2(width, (does.size().y + space::S).max(space::HIT - space::S));
        let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
        let told = format!("{}: {}: {}", row.place, row.keys, row.does);
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &told));
        let keys = &row.keys;
        let painter = ui.painter();
        painter.text(rect.left_center(), Align2::LEFT_CENTER, keys, theme::strong(), palette.ink);
        let at = pos2(rect.right() - room, rect.center().y - does.size().y / 2.0);
        painter.galley(at, does, palette.ink);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_with_a_key_stands_in_the_list_once() {
        let rows = rows(&Context::default());
        for command in Command::listed().into_iter().chain(Command::of_tour()) {
            let count = rows.iter().filter(|row| row.does == command.text()).count();
            assert_eq!(count, usize::from(command.shortcut().is_some()), "{}", command.text());
        }
    }

    #[test]
    fn no_key_stands_twice_at_one_place() {
        let rows = rows(&Context::default());
        for (index, row) in rows.iter().enumerate() {
            let same = |other: &&Row| (other.place, &other.keys) == (row.place, &row.keys);
            assert!(rows[..index].iter().find(same).is_none(), "{}: {}", row.place, row.keys);
        }
    }
}
