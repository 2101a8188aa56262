//! A short tour of the window: each stop rings the real thing, says what it is for, and lets
//! the maker try it meanwhile.

use std::collections::BTreeMap;

use egui::{
    Align, Area, Context, CornerRadius, Frame, Id, Label, LayerId, Layout, Margin, Order, Pos2,
    Rect, RichText, Stroke, StrokeKind, Ui, Vec2, pos2, vec2,
};
use overstand_core::dimension::Part;

use crate::command::Command;
use crate::marks;
use crate::theme::{self, space, stroke};
use crate::view::{Page, View};

/// Width of the card.
const WIDTH: f32 = 300.0;

/// What can be pointed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Spot {
    /// The whole elevation.
    Whole,
    /// The handle of the crest in it.
    Crest,
    /// The clearance over the frets.
    Strip,
    /// The panel of dimensions.
    Dimensions,
    /// The pin of the pitch.
    Pin,
    /// The panel of the verdict.
    Verdict,
    /// The cut sheet.
    CutSheet,
    /// The row of sheets.
    Sheets,
    /// The search.
    Search,
    /// The menu of help.
    Help,
}

/// One stop.
struct Stop {
    page: Page,
    /// What is ringed; the card stands beside the first.
    spots: &'static [Spot],
    title: &'static str,
    says: &'static str,
}

const STOPS: [Stop; 7] = [
    Stop {
        page: Page::LayOut,
        spots: &[Spot::Whole, Spot::Crest],
        title: "The drawing answers back",
        says: "This is your instrument from its side, in true proportions. Rings in it are \
               handles: drag the crest, and what gives for it follows. Scroll zooms; the \
               close-up below has all handles. Try it: nothing is lost, undo takes it back.",
    },
    Stop {
        page: Page::LayOut,
        spots: &[Spot::Strip],
        title: "Clear of every fret?",
        says: "The strings over the crowns, heights stretched. The tinted band is where the \
               open strings are wanted. Click a fret, and the string is shown stopped there; \
               where it touches, a mark says so.",
    },
    Stop {
        page: Page::LayOut,
        spots: &[Spot::Dimensions, Spot::Pin],
        title: "What stays, and what gives",
        says: "Type what you have or want: 628, 24 3/4 in, 2°45'. A dot before a dimension \
               holds it; a ring means that it is found from the rest. Click the pin to turn \
               one into the other.",
    },
    Stop {
        page: Page::LayOut,
        spots: &[Spot::Verdict],
        title: "Will it play?",
        says: "One word, the reason, and every check with its place in its range. Open a check \
               for its working, and for a remedy where it is thin or fails. Below stands what \
               the straightedge must read while you cut.",
    },
    Stop {
        page: Page::Joint,
        spots: &[Spot::CutSheet],
        title: "From paper to wood",
        says: "The joint in section, every angle and depth for it, and the cut sheet: the steps \
               in a safe order, and a tick when it is done. How true says beforehand what each \
               miss costs; Dry fit, once it is together, what the readings mean and what to do.",
    },
    Stop {
        page: Page::Paper,
        spots: &[Spot::Sheets],
        title: "On paper, at full size",
        says: "Drawing, templates and gauges on the paper you have, with bars of 100 mm to \
               measure before anything is cut to it. On the left choose parts and paper, and \
               write the file.",
    },
    Stop {
        page: Page::LayOut,
        spots: &[Spot::Search, Spot::Help],
        title: "Where to ask",
        says: "Search finds every command, dimension, check and word: ask it what relief is. \
               Point at a name or a part for a tip. Help has the list of keys, and this tour.",
    },
];

/// Where one is on the tour.
#[derive(Clone, Debug)]
pub(crate) struct Tour {
    stop: usize,
    /// The stop was come to just now: its button takes the focus.
    is_new: bool,
    /// The keys belonged to something else when it was shown last: a field, a drag, a menu.
    pub(crate) was_busy: bool,
}

/// Begins at the first stop.
pub(crate) fn begin(view: &mut View) {
    view.form = None;
    go(view, 0);
}

/// To the next stop or the one before; from the last one the tour ends.
pub(crate) fn turn(view: &mut View, is_on: bool) {
    let Some(stop) = view.tour.as_ref().map(|tour| tour.stop) else {
        return;
    };
    match is_on {
        true if stop + 1 >= STOPS.len() => end(view),
        true => go(view, stop + 1),
        false => go(view, stop.saturating_sub(1)),
    }
}

/// Ends it.
pub(crate) fn end(view: &mut View) {
    if view.tour.take().is_some() {
        view.say("Help has the tour, the list of keys and what to do first.");
    }
}

fn go(view: &mut View, stop: usize) {
    if let Some(at) = STOPS.get(stop) {
        visit(view, at);
    }
    view.tour = Some(Tour { stop, is_new: true, was_busy: false });
}

/// Brings what a stop points at into sight.
fn visit(view: &mut View, stop: &Stop) {
    view.page = stop.page;
    view.filling = None;
    view.drafts.clear();
    if stop.spots.contains(&Spot::Pin) {
        view.open.insert(Part::Joint);
    }
}

/// Where the things are that can be pointed at, with the pass in which each was shown.
type Places = BTreeMap<Spot, (u64, Rect)>;

/// Says where something is, each time that it is shown.
pub(crate) fn mark(ui: &Ui, spot: Spot, rect: Rect) {
    let pass = ui.ctx().cumulative_pass_nr();
    ui.data_mut(|data| {
        data.get_temp_mut_or_default::<Places>(Id::NULL).insert(spot, (pass, rect));
    });
}

/// Where something is, if it is shown.
fn place(ctx: &Context, spot: Spot) -> Option<Rect> {
    let pass = ctx.cumulative_pass_nr();
    ctx.data_mut(|data| data.get_temp::<Places>(Id::NULL))
        .and_then(|places| places.get(&spot).copied())
        .filter(|(shown, _)| *shown == pass)
        .map(|(_, rect)| rect)
}

/// Shows the stop, if one is shown round; a form in front of everything has its place.
pub(crate) fn show(ui: &Ui, view: &mut View, commands: &mut Vec<Command>) {
    let ctx = ui.ctx();
    let is_busy = ctx.text_edit_focused()
        || view.drag.is_some()
        || view.form.is_some()
        || egui::Popup::is_any_open(ctx);
    let Some(tour) = view.tour.as_mut() else {
        return;
    };
    tour.was_busy = is_busy;
    let Some(stop) = STOPS.get(tour.stop).filter(|_| view.form.is_none()) else {
        return;
    };
    let is_new = std::mem::take(&mut tour.is_new);
    let number = tour.stop;
    let screen = ctx.content_rect().shrink(space::S);
    let found: Vec<Rect> = stop.spots.iter().filter_map(|spot| place(ctx, *spot)).collect();
    for rect in &found {
        ring(ui, rect.expand(space::S).intersect(screen.expand(2.0)));
    }
    let id = Id::unique("tour");
    let size = ctx
        .memory(|memory| memory.area_rect(id))
        .map_or(vec2(WIDTH, WIDTH / 2.0), |rect| rect.size());
    let at = match found.first() {
        Some(rect) => beside(*rect, size, screen),
        // the maker went elsewhere meanwhile
        None => pos2(screen.center().x - size.x / 2.0, screen.bottom() - size.y - space::FIT),
    };
    let card = Area::new(id)
        .order(Order::Foreground)
        .fixed_pos(at)
        .constrain(true)
        .fade_in(false)
        .accessible_name(format!("Tour, {} of {}: {}", number + 1, STOPS.len(), stop.title))
        .show(ctx, |ui| {
            Frame::window(ui.style()).inner_margin(Margin::same(space::L as i8)).show(ui, |ui| {
                ui.set_width(WIDTH - 2.0 * space::L);
                contents(ui, stop, number, is_new, !found.is_empty(), commands);
            });
        });
    if card.response.rect.size() != size {
        // it stands beside its place only when its size is known
        ctx.request_repaint();
    }
}

fn contents(
    ui: &mut Ui,
    stop: &Stop,
    number: usize,
    is_new: bool,
    is_found: bool,
    commands: &mut Vec<Command>,
) {
    let dim = theme::palette(ui).dim;
    ui.horizontal(|ui| {
        ui.add(Label::new(RichText::new(stop.title).font(theme::title())).selectable(false));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let count = format!("{} of {}", number + 1, STOPS.len());
            let words = RichText::new(count).font(theme::label()).color(dim);
            ui.add(Label::new(words).selectable(false));
        });
    });
    ui.add(Label::new(stop.says).wrap().selectable(false));
    if !is_found {
        let text = format!("Turn back to {}", stop.page.name());
        if marks::link(ui, &text).clicked() {
            commands.push(Command::Show(stop.page));
        }
    }
    ui.add_space(space::M);
    let is_last = number + 1 == STOPS.len();
    ui.horizontal(|ui| {
        let next = marks::main_button(ui, if is_last { "Done" } else { Command::TourNext.text() });
        if is_new {
            next.request_focus();
        }
        if next.on_hover_text(keys(ui, &Command::TourNext)).clicked() {
            commands.push(Command::TourNext);
        }
        let back = ui.add_enabled(number > 0, egui::Button::new(Command::TourBack.text()));
        if back.on_hover_text(keys(ui, &Command::TourBack)).clicked() {
            commands.push(Command::TourBack);
        }
        if is_last {
            return;
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            theme::quiet(ui);
            let skip = ui.button(Command::TourEnd.text());
            if skip.on_hover_text(keys(ui, &Command::TourEnd)).clicked() {
                commands.push(Command::TourEnd);
            }
        });
    });
}

fn keys(ui: &Ui, command: &Command) -> String {
    command.shortcut().map_or_else(String::new, |shortcut| ui.ctx().format_shortcut(&shortcut))
}

/// A ring around something, over it and below the card; nothing is dimmed or in the way.
fn ring(ui: &Ui, rect: Rect) {
    let palette = theme::palette(ui);
    let painter = ui.ctx().layer_painter(LayerId::new(Order::Middle, Id::unique("tour rings")));
    // round about a handle or a pin
    let is_small = rect.size().max_elem() < 2.0 * space::HIT;
    let corner = if is_small { CornerRadius::same(u8::MAX) } else { theme::CARD_CORNER };
    for (width, colour) in [(stroke::HALO, palette.field), (stroke::STRONG, palette.ink)] {
        painter.rect_stroke(rect, corner, Stroke::new(width, colour), StrokeKind::Middle);
    }
}

/// Where a card of a size stands beside something: where the whole of it has room, below or
/// above what is wide, right or left of what is high; else in its lower corner.
fn beside(target: Rect, size: Vec2, screen: Rect) -> Pos2 {
    let gap = space::L;
    let middle = target.center() - size / 2.0;
    let sides = [
        pos2(middle.x, target.bottom() + gap),
        pos2(middle.x, target.top() - gap - size.y),
        pos2(target.right() + gap, middle.y),
        pos2(target.left() - gap - size.x, middle.y),
    ];
    let order = if target.width() >= target.height() { [0, 1, 2, 3] } else { [2, 3, 0, 1] };
    let kept = |at: Pos2| {
        let most = (screen.max - size).max(screen.min);
        at.clamp(screen.min, most)
    };
    order
        .into_iter()
        .map(|side| kept(sides[side]))
        .find(|at| !Rect::from_min_size(*at, size).intersects(target))
        .unwrap_or_else(|| kept(target.max - size - Vec2::splat(space::FIT)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_card_stands_beside_what_it_is_about() {
        let screen = Rect::from_min_size(Pos2::ZERO, vec2(1280.0, 800.0)).shrink(4.0);
        let size = vec2(300.0, 180.0);
        let wide = Rect::from_min_max(pos2(310.0, 46.0), pos2(1000.0, 240.0));
        let left = Rect::from_min_max(pos2(0.0, 46.0), pos2(308.0, 768.0));
        let right = Rect::from_min_max(pos2(1004.0, 46.0), pos2(1280.0, 768.0));
        let button = Rect::from_min_max(pos2(1220.0, 8.0), pos2(1264.0, 36.0));
        for target in [wide, left, right, button] {
            let card = Rect::from_min_size(beside(target, size, screen), size);
            assert!(screen.contains_rect(card), "{target:?}: {card:?}");
            assert!(!card.intersects(target), "{target:?}: {card:?}");
        }
        // where nothing is left beside it, it stands within
        let card = Rect::from_min_size(beside(screen, size, screen), size);
        assert!(screen.contains_rect(card));
        let tiny = Rect::from_min_size(Pos2::ZERO, vec2(100.0, 60.0));
        assert!(beside(tiny, size, tiny).is_finite());
    }

    #[test]
    fn the_stops_are_few_and_short() {
        assert!((5..=7).contains(&STOPS.len()));
        for stop in &STOPS {
            assert!(stop.says.len() < 280, "{} is long: {}", stop.title, stop.says.len());
            assert!(!stop.spots.is_empty());
        }
    }
}
