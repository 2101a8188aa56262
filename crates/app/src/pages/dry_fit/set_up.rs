//! After the glue: what is set, in the order in which it is done.

use egui::{Grid, Label, Response, RichText, ScrollArea, Ui};
use overstand_core::dryfit::{SetUp, When};
use overstand_core::units::{LengthStyle, Unit, unbroken};
use overstand_core::working::{Figure, OfFit};

use super::Desk;
use crate::panels::{tips, working};
use crate::theme::{self, space};
use crate::values;
use crate::view::View;

/// Shows the steps.
pub(super) fn show(ui: &mut Ui, style: LengthStyle, desk: &Desk, view: &mut View) {
    let Some(set_up) = &desk.worked.set_up else {
        let text = "The set-up comes after the glue. Tick “Neck and body are glued” on the left, \
                    read the straightedge once more, and it stands here in the order in which it \
                    is done: relief, nut slots, saddle heights, and the relief again.";
        theme::remark(ui, text);
        return;
    };
    ScrollArea::vertical().id_salt("set-up").auto_shrink(false).show(ui, |ui| {
        theme::beside_scroll_bar(ui);
        for (index, step) in set_up.steps.iter().enumerate() {
            ui.add_space(space::S);
            let title = format!("{}  {}", index + 1, step.title);
            ui.add(Label::new(RichText::new(title).font(theme::strong())).wrap());
            for work in &step.work {
                ui.add(Label::new(unbroken(&work.show(style))).wrap());
            }
            if step.columns.is_empty() {
                continue;
            }
            Grid::new(step.id).min_row_height(space::ROW).spacing([space::XL, 0.0]).show(
                ui,
                |ui| {
                    for column in ["String"].iter().chain(&step.columns) {
                        tips::on_hover(head(ui, column), column);
                    }
                    ui.end_row();
                    for row in &step.rows {
                        ui.add(Label::new(&row.name).truncate());
                        let numbers = row.values.iter().zip(&row.of).zip(&step.columns);
                        for ((value, of), column) in numbers {
                            let text = values::show(*value, Unit::Length, 2, style);
                            let figure = Figure::Fit(OfFit::Comes(When::AsItIs, *of));
                            let spoken = format!("{}: {}, {column}, {text}", step.title, row.name);
                            let pen = (theme::strong(), theme::palette(ui).ink);
                            let of = figure.into();
                            working::figure_at(ui, &text, pen, step.id, of, &spoken, view);
                        }
                        ui.end_row();
                    }
                },
            );
        }
        ui.add_space(space::M);
        theme::remark(ui, SetUp::CAUTION);
        ui.add_space(space::M);
    });
}

fn head(ui: &mut Ui, text: &str) -> Response {
    let colour = theme::palette(ui).dim;
    ui.add(Label::new(RichText::new(text).font(theme::label()).color(colour)))
}
