//! Compare: two variants of the file above each other or side by side, and what differs
//! between them.

use egui::{CentralPanel, ComboBox, Label, Layout, Panel, Rect, RichText, Stroke, Ui, vec2};
use kurbo::Vec2;
use overstand_core::compare::{Comparison, Order, Side, Taken, take_all};
use overstand_core::design::Design;
use overstand_core::dimension::Dim;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_drawing::elevation;
use overstand_drawing::ghost::ghost;
use overstand_drawing::handles::{Handle, handles};
use overstand_drawing::scene::Scene;

use crate::canvas::{self, Sheet};
use crate::command::Command;
use crate::document::Document;
use crate::pages::{below, on_paper};
use crate::panels::working::Whose;
use crate::panels::{differences, standings};
use crate::theme::{self, space, stroke};
use crate::view::{Arrangement, Camera, CanvasId, View};

/// Logical pixels to a millimetre from which on all handles stand apart.
const CLOSE: f64 = 1.6;
/// Handles that stand apart on the whole elevation.
const FROM_AFAR: [Dim; 3] = [Dim::CrestHeight, Dim::Pitch, Dim::HeadAngle];

/// Between the two drawings, in logical pixels.
const BETWEEN: f32 = 2.0;

const CANVASES: [CanvasId; 2] = [CanvasId::CompareA, CanvasId::CompareB];
const PLACES: [&str; 2] = ["A", "B"];

/// What is worked out and drawn, kept until it changes.
#[derive(Debug, Default)]
pub(crate) struct Drawn {
    one: [Option<One>; 2],
    both: Option<Both>,
    standings: standings::Standings,
}

#[derive(Debug)]
struct One {
    /// The design as it stood.
    of: Design,
    study: Study,
    scene: Scene,
    handles: Vec<Handle>,
}

impl One {
    fn of(design: &Design) -> Self {
        let study = Study::of(design);
        let (scene, handles) = (elevation::elevation(&study), handles(&study));
        Self { of: design.clone(), study, scene, handles }
    }
}

/// What is worked out of the two together.
#[derive(Debug)]
struct Both {
    align: overstand_core::compare::Align,
    comparison: Comparison,
    /// How far B is moved to stand above A.
    offset: f64,
    /// The box around both, as A stands.
    bounds: Option<kurbo::Rect>,
    /// Each with the other as a ghost.
    overlaid: [Scene; 2],
}

impl Drawn {
    /// Only what is shown is worked out, however many variants the file has.
    fn update(&mut self, designs: [&Design; 2], view: &View) {
        for (one, design) in self.one.iter_mut().zip(designs) {
            if one.as_ref().is_none_or(|one| one.of != *design) {
                *one = Some(One::of(design));
                self.both = None;
            }
        }
        let align = view.compare.align;
        if self.both.as_ref().is_some_and(|both| both.align == align) {
            return;
        }
        let [Some(a), Some(b)] = &self.one else {
            return;
        };
        let offset = elevation::shift(align, &a.study, &b.study);
        let (way, back) = (Vec2::new(offset, 0.0), Vec2::new(-offset, 0.0));
        let bounds = [a.scene.bounds(), b.scene.bounds().map(|bounds| bounds + way)];
        let over = |scene: &Scene, other: &Scene, by: Vec2| {
            let mut scene = scene.clone();
            scene.shapes.extend(ghost(other, by));
            scene
        };
        self.both = Some(Both {
            align,
            comparison: Comparison::of(&a.study, &b.study),
            offset,
            bounds: bounds.into_iter().flatten().reduce(|one, two| one.union(two)),
            overlaid: [over(&a.scene, &b.scene, way), over(&b.scene, &a.scene, back)],
        });
    }
}

/// The variants that stand as A and B: those that were chosen as far as they are still there.
/// None where the file has but one.
fn pair(document: &Document, view: &View) -> Option<[String; 2]> {
    let file = document.file();
    let there = |name: &Option<String>| name.clone().filter(|name| file.variant(name).is_some());
    let active = &document.design().name;
    let besides = |not: &str| {
        let others = || file.variants.iter().map(|design| &design.name).filter(|name| *name != not);
        others().find(|name| *name == active).or_else(|| others().next()).cloned()
    };
    let [a, b] = view.compare.pair.each_ref().map(there);
    match (a, b) {
        (Some(a), Some(b)) if a != b => Some([a, b]),
        (None, Some(b)) => besides(&b).map(|a| [a, b]),
        (Some(a), _) => besides(&a).map(|b| [a, b]),
        (None, None) => {
            let others = file.variants.iter().map(|design| &design.name);
            let b = others.clone().find(|name| *name != active)?;
            Some([active.clone(), b.clone()])
        }
    }
}

/// Shows the page.
pub(crate) fn show(
    ui: &mut Ui,
    document: &Document,
    style: LengthStyle,
    arrangement: &mut Arrangement,
    drawn: &mut Drawn,
    view: &mut View,
) -> Vec<Command> {
    let mut commands = Vec::new();
    let frame = on_paper(ui);
    let Some(names) = pair(document, view) else {
        CentralPanel::no_frame().frame(frame).show(ui, |ui| empty(ui, &mut commands));
        return commands;
    };
    let found = names.each_ref().map(|name| document.file().variant(name));
    let [Some(a), Some(b)] = found else {
        return commands;
    };
    let mut names = names;
    // the panel on the left is about one of the two
    if !names.contains(&document.design().name) {
        commands.push(Command::TurnTo(names[0].clone()));
    }
    drawn.update([a, b], view);
    let Drawn { one: [Some(one), Some(two)], both: Some(both), standings } = drawn else {
        return commands;
    };
    Panel::top("compared").frame(frame).show(ui, |ui| {
        let says = both.comparison.says.show(style);
        ui.add(Label::new(RichText::new(says).font(theme::title())).wrap().selectable(false));
        ui.add_space(space::S);
        let studies = [&one.study, &two.study];
        head(ui, document, studies, arrangement, &mut names, view, &mut commands);
    });
    view.compare.pair = names.clone().map(Some);
    below(ui, "differences", space::DIFFERENCES, space::CANVAS).show(ui, |ui| {
        match view.compare.all {
            Some(order) => {
                standings.show(ui, document, order, &names, view, &mut commands);
            }
            None => {
                let studies = [&one.study, &two.study];
                differences::show(ui, &both.comparison, studies, style, view, &mut commands);
            }
        }
    });
    CentralPanel::no_frame().show(ui, |ui| {
        let all = ui.available_rect_before_wrap();
        let active = usize::from(document.design().name == two.of.name);
        let shown = Shown { ones: [one, two], both, active, arrangement: *arrangement, style };
        shown.draw(ui, all, view, &mut commands);
    });
    commands
}

/// What there is to say while there is nothing to compare with.
fn empty(ui: &mut Ui, commands: &mut Vec<Command>) {
    let palette = theme::palette(ui);
    ui.add_space(space::FIT);
    let title = RichText::new("Nothing to compare yet").font(theme::title());
    ui.add(Label::new(title).selectable(false));
    ui.add_space(space::S);
    let text = "This file has one design. Keep it as a variant, change one of the two, and both \
                stand here with what differs. Or take in a copy of a design of another file; that \
                file stays as it is.";
    ui.add(Label::new(RichText::new(text).color(palette.dim)).wrap().selectable(false));
    ui.add_space(space::L);
    ui.horizontal(|ui| {
        for command in [Command::KeepVariant, Command::Beside] {
            if ui.button(command.text()).clicked() {
                commands.push(command);
            }
        }
    });
}

/// What can be done with both, and how they are shown: on one line where it fits.
fn head(
    ui: &mut Ui,
    document: &Document,
    studies: [&Study; 2],
    arrangement: &mut Arrangement,
    names: &mut [String; 2],
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    const SWAP: &str = "Swap";
    const EVERYTHING: &str = "Take all";
    const OTHER: &str = "From a file…";
    let align = &mut view.compare.align;
    let at = format!("At {}", align.name().to_lowercase());
    let all_text = format!("All {} variants", document.file().variants.len());
    // the names have what the others leave
    let buttons = [SWAP, Command::KeepVariant.text(), EVERYTHING, OTHER, &all_text];
    let lists = [at.as_str(), arrangement.short()];
    let spacing = ui.spacing();
    let (gap, pad, icon) = (
        spacing.item_spacing.x,
        2.0 * spacing.button_padding.x,
        spacing.icon_width + spacing.icon_spacing,
    );
    let taken: f32 = buttons.iter().map(|text| words_width(ui, text) + pad + gap).sum::<f32>()
        + lists.iter().map(|text| words_width(ui, text) + pad + icon + gap).sum::<f32>();
    let [least, most] = space::NAMES;
    let room = ((ui.available_width() - taken) / 2.0 - gap).floor().clamp(least, most);
    ui.horizontal_wrapped(|ui| {
        for side in Side::BOTH {
            choose(ui, document, side, room, names, commands);
            if side == Side::A && ui.button(SWAP).on_hover_text("A becomes B").clicked() {
                names.swap(0, 1);
            }
        }
        let keep = ui.button(Command::KeepVariant.text());
        if keep.on_hover_text("A copy of the design in hand becomes B").clicked() {
            commands.push(Command::KeepVariant);
        }
        let menu = ui.menu_button(EVERYTHING, |ui| {
            for into in Side::BOTH {
                let from = into.other();
                let text = format!("Of {} into {}", from.name(), into.name());
                if ui.button(text).clicked() {
                    let taken = take_all(studies[from as usize], studies[into as usize]);
                    commands.push(Command::TakeOver(Box::new(taken)));
                    ui.close();
                }
            }
        });
        menu.response.on_hover_text("All of one design but its name, as one step");
        let other = ui.button(OTHER);
        let tip = "Take in a copy of a design of another file as a variant of this one, as B. The \
                   other file stays as it is.";
        if other.on_hover_text(tip).clicked() {
            commands.push(Command::Beside);
        }
        let align = &mut view.compare.align;
        let response = ComboBox::from_id_salt("align")
            .selected_text(&at)
            .width(0.0)
            .show_ui(ui, |ui| {
                for other in overstand_core::compare::Align::ALL {
                    ui.selectable_value(align, other, other.name());
                }
            })
            .response;
        response
            .accessible_name(format!("Aligned at: {}", align.name()))
            .on_hover_text("What of the two stands at the same place");
        let response = ComboBox::from_id_salt("arrangement")
            .selected_text(arrangement.short())
            .width(0.0)
            .show_ui(ui, |ui| {
                for other in Arrangement::ALL {
                    ui.selectable_value(arrangement, other, other.name());
                }
            })
            .response;
        response
            .accessible_name(format!("Arrangement: {}", arrangement.name()))
            .on_hover_text("How the two drawings stand to each other");
        let all = ui.selectable_label(view.compare.all.is_some(), all_text);
        if all.on_hover_text("How all variants of the file stand").clicked() {
            view.compare.all = match view.compare.all {
                Some(_) => None,
                None => Some(Order::default()),
            };
        }
    });
}

/// How wide words come out on a button.
fn words_width(ui: &Ui, text: &str) -> f32 {
    let font = egui::TextStyle::Button.resolve(ui.style());
    ui.painter().layout_no_wrap(text.to_owned(), font, egui::Color32::PLACEHOLDER).size().x
}

/// Chooses the variant that stands as A or B.
fn choose(
    ui: &mut Ui,
    document: &Document,
    side: Side,
    room: f32,
    names: &mut [String; 2],
    commands: &mut Vec<Command>,
) {
    let index = side as usize;
    let was = names[index].clone();
    let shown = format!("{}: {was}", side.name());
    let list = ComboBox::from_id_salt(("side", side.name())).selected_text(&shown).truncate();
    let show = |ui: &mut Ui| {
        ui.set_max_width(room);
        list.width(room).show_ui(ui, |ui| {
            for variant in &document.file().variants {
                if variant.name != was && ui.selectable_label(false, &variant.name).clicked() {
                    if names[1 - index] == variant.name {
                        names.swap(0, 1);
                    } else {
                        names[index].clone_from(&variant.name);
                    }
                }
            }
        })
    };
    // a list of its own is as wide as its words
    let line = Layout::left_to_right(egui::Align::Center);
    let response = ui.allocate_ui_with_layout(vec2(room, space::HIT), line, show).inner.response;
    response.accessible_name(shown).on_hover_text(&was);
    if names[index] != was && document.design().name == was && !names.contains(&was) {
        commands.push(Command::TurnTo(names[index].clone()));
    }
}

/// The two, as they are drawn.
struct Shown<'a> {
    ones: [&'a One; 2],
    both: &'a Both,
    /// Which of them is in hand.
    active: usize,
    arrangement: Arrangement,
    style: LengthStyle,
}

impl Shown<'_> {
    /// Both halves are alike in size, so that both show the same piece of the bench.
    fn places(&self, all: Rect) -> Vec<(usize, Rect)> {
        let half = |size: f32| ((size - BETWEEN) / 2.0).floor();
        let (first, second) = match self.arrangement {
            Arrangement::Overlaid => return vec![(self.active, all)],
            Arrangement::Stacked => {
                let size = vec2(all.width(), half(all.height()));
                (Rect::from_min_size(all.min, size), vec2(0.0, size.y + BETWEEN))
            }
            Arrangement::Beside => {
                let size = vec2(half(all.width()), all.height());
                (Rect::from_min_size(all.min, size), vec2(size.x + BETWEEN, 0.0))
            }
        };
        vec![(0, first), (1, first.translate(second))]
    }

    fn draw(&self, ui: &mut Ui, all: Rect, view: &mut View, commands: &mut Vec<Command>) {
        let palette = theme::palette(ui);
        ui.painter().rect_filled(all, 0.0, palette.paper);
        let places = self.places(all);
        for &(index, rect) in &places {
            self.draw_one(ui, index, rect, view, commands);
        }
        if let [(_, first), (_, second)] = places.as_slice() {
            let pen = Stroke::new(1.0, palette.hairline);
            match self.arrangement {
                Arrangement::Beside => {
                    let x = (first.right() + second.left()) / 2.0;
                    ui.painter().vline(x, all.y_range(), pen);
                }
                _ => {
                    let y = (first.bottom() + second.top()) / 2.0;
                    ui.painter().hline(all.x_range(), y, pen);
                }
            }
        }
    }

    fn draw_one(
        &self,
        ui: &mut Ui,
        index: usize,
        rect: Rect,
        view: &mut View,
        commands: &mut Vec<Command>,
    ) {
        let (one, id) = (self.ones[index], CANVASES[index]);
        let by = if index == 1 { self.both.offset } else { 0.0 };
        // each shows the same piece of the bench as the one shown before
        let shared = view.cameras.get(&CanvasId::CompareA).copied();
        if index == 1 {
            let camera = moved_camera(shared.unwrap_or_default(), -by);
            view.cameras.insert(id, camera);
        }
        let zoom = shared.and_then(|camera| camera.transform).map_or(0.0, |at| at.zoom);
        let own: Vec<Handle> = one
            .handles
            .iter()
            .copied()
            .filter(|handle| zoom >= CLOSE || FROM_AFAR.contains(&handle.dim))
            .collect();
        let word = one.study.word().show().to_lowercase();
        let name = format!("{}: {}", PLACES[index], one.of.name.trim());
        let heading = format!("{name} · {word}");
        let pressed = ui.input(|input| input.pointer.primary_pressed())
            && ui.rect_contains_pointer(rect)
            && view.form.is_none();
        let mut asked = Vec::new();
        let is_overlaid = self.arrangement == Arrangement::Overlaid;
        let sheet = Sheet {
            id,
            heading: &heading,
            place: PLACES[index],
            study: &one.study,
            whose: Some(Whose { name: &name, design: &one.study.design }),
            scene: if is_overlaid { &self.both.overlaid[index] } else { &one.scene },
            handles: &own,
            labelled: &[Dim::CrestHeight, Dim::Pitch],
            bounds: self.both.bounds.map(|bounds| bounds - Vec2::new(by, 0.0)),
            style: self.style,
            empty: "There is nothing to draw as long as the design makes no sense.",
        };
        canvas::show(ui, rect, &sheet, view, &mut asked);
        if index == 1
            && let Some(camera) = view.cameras.get(&id)
        {
            // what was done to B is done to A as well, which was drawn before
            let camera = moved_camera(*camera, by);
            if !stand_alike(shared.unwrap_or_default(), camera) {
                ui.ctx().request_repaint();
            }
            view.cameras.insert(CanvasId::CompareA, camera);
        }
        if index != self.active && (pressed || !asked.is_empty()) {
            commands.push(Command::TurnTo(one.of.name.clone()));
        }
        commands.extend(asked);
        if index == self.active {
            let pen = Stroke::new(stroke::STRONG, theme::palette(ui).accent);
            ui.painter().vline(rect.left() + stroke::STRONG / 2.0, rect.y_range(), pen);
        }
    }
}

/// Whether two cameras show the same piece of the bench, but for rounding.
fn stand_alike(one: Camera, other: Camera) -> bool {
    match (one.transform, other.transform) {
        (Some(one), Some(other)) => {
            let off = (one.centre - other.centre).hypot() * one.zoom;
            off < 1e-3 && (one.zoom / other.zoom - 1.0).abs() < 1e-6
        }
        (one, other) => one.is_none() && other.is_none(),
    }
}

/// The same camera for a drawing that stands so many mm farther on.
fn moved_camera(camera: Camera, by: f64) -> Camera {
    let way = Vec2::new(by, 0.0);
    Camera {
        transform: camera.transform.map(|at| canvas::Transform { centre: at.centre + way, ..at }),
        fitted: camera.fitted.map(|(bounds, size)| (bounds + way, size)),
        ..camera
    }
}

/// Puts what was taken in place, or says why it cannot be.
pub(crate) fn put(
    taken: Result<Taken, overstand_core::compare::NotTaken>,
    view: &mut View,
    commands: &mut Vec<Command>,
) {
    match taken {
        Ok(taken) => commands.push(Command::TakeOver(Box::new(taken))),
        Err(error) => {
            view.complain(crate::values::capital(&format!("{error}.")));
        }
    }
}

/// Room that a row of a table takes.
pub(crate) fn row(ui: &mut Ui) -> (Rect, egui::Response) {
    let size = vec2(ui.available_width(), space::HIT);
    ui.allocate_exact_size(size, egui::Sense::hover())
}
