//! How things look: colours by meaning, spacing, sizes of type, strokes, fonts.
//! No other file names a colour or a size of its own.

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::epaint::Shadow;
use egui::style::{Selection, WidgetVisuals};
use egui::{
    Color32, Context, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Label, Margin,
    Response, RichText, Stroke, Style, TextStyle, Theme, Ui, Vec2, Visuals,
};
use overstand_core::units::unbroken;
use overstand_core::verdict::State;
use overstand_drawing::scene::Material;

/// Colours by meaning.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Palette {
    /// What the drawing is on.
    pub(crate) paper: Color32,
    /// What the panels are made of.
    pub(crate) panel: Color32,
    /// A field to write in, and a card.
    pub(crate) field: Color32,
    /// The edge of a field.
    pub(crate) field_border: Color32,
    /// Decoration only.
    pub(crate) hairline: Color32,
    /// Text and lines.
    pub(crate) ink: Color32,
    /// Text of less weight; never on wood.
    pub(crate) dim: Color32,
    /// What is found, and nothing else.
    pub(crate) accent: Color32,
    /// A control under the pointer.
    pub(crate) hover: Color32,
    /// The space within which a line is wanted.
    pub(crate) wanted: Color32,
    /// The rail of a check's bar, outside and inside the wanted range.
    pub(crate) rail: Color32,
    pub(crate) rail_wanted: Color32,
    good: Color32,
    thin: Color32,
    fails: Color32,
    body: Color32,
    neck: Color32,
    board: Color32,
    metal: Color32,
    bone: Color32,
    shade: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    let [_, r, g, b] = hex.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

static LIGHT: Palette = Palette {
    paper: rgb(0xFBF8F1),
    panel: rgb(0xF3EEE3),
    field: rgb(0xFFFFFF),
    field_border: rgb(0x8F8570),
    hairline: rgb(0xD9D1C0),
    ink: rgb(0x23211D),
    dim: rgb(0x5F5848),
    accent: rgb(0x0B5C7A),
    hover: rgb(0xE8E0CF),
    wanted: rgb(0xDDE9E4),
    rail: rgb(0xD9D1C0),
    rail_wanted: rgb(0xA39A85),
    good: rgb(0x2F6B3C),
    thin: rgb(0x875200),
    fails: rgb(0xA82C19),
    body: rgb(0xE9D7B8),
    neck: rgb(0xD9BE93),
    board: rgb(0x6B4A36),
    metal: rgb(0x8C8F94),
    bone: rgb(0xF4EEDD),
    shade: Color32::from_black_alpha(28),
};

static DARK: Palette = Palette {
    paper: rgb(0x1E2124),
    panel: rgb(0x17191C),
    field: rgb(0x24282C),
    field_border: rgb(0x737880),
    hairline: rgb(0x34383D),
    ink: rgb(0xECE7DB),
    dim: rgb(0xADA695),
    accent: rgb(0x6FC3E0),
    hover: rgb(0x2C3136),
    wanted: rgb(0x23352F),
    rail: rgb(0x34383D),
    rail_wanted: rgb(0x6E6A60),
    good: rgb(0x83C58F),
    thin: rgb(0xE5AE4B),
    fails: rgb(0xF0836F),
    body: rgb(0x4A4033),
    neck: rgb(0x5C4C38),
    board: rgb(0x2B211B),
    metal: rgb(0xA9ADB3),
    bone: rgb(0xCFC8B6),
    shade: Color32::from_black_alpha(110),
};

impl Palette {
    /// The colour of a check's state.
    pub(crate) fn state(&self, state: State) -> Color32 {
        match state {
            State::Good => self.good,
            State::Thin => self.thin,
            State::Fails => self.fails,
        }
    }

    /// The colour of a material.
    pub(crate) fn material(&self, material: Material) -> Color32 {
        match material {
            Material::Body => self.body,
            Material::Neck => self.neck,
            Material::Board => self.board,
            Material::Metal => self.metal,
            Material::Bone => self.bone,
        }
    }
}

/// Blank paper of a printer, in either theme, and what is printed on it.
pub(crate) const SHEET: Color32 = Color32::WHITE;
pub(crate) const SHEET_INK: Color32 = Color32::BLACK;

/// The colours of the present theme.
pub(crate) fn palette(ui: &Ui) -> &'static Palette {
    if ui.visuals().dark_mode { &DARK } else { &LIGHT }
}

/// Leaves room for a scroll bar at the right.
pub(crate) fn beside_scroll_bar(ui: &mut Ui) {
    ui.set_max_width(ui.available_width() - space::M);
}

/// Buttons without a frame until they are pointed at.
pub(crate) fn quiet(ui: &mut Ui) {
    let inactive = &mut ui.visuals_mut().widgets.inactive;
    inactive.weak_bg_fill = Color32::TRANSPARENT;
    inactive.bg_stroke = Stroke::NONE;
}

/// Words said aside: of what is meant, missing or left to do.
pub(crate) fn remark(ui: &mut Ui, words: impl Into<String>) -> Response {
    ui.add(Label::new(RichText::new(unbroken(&words.into())).color(palette(ui).dim)).wrap())
}

/// Spacing in steps of 4.
pub(crate) mod space {
    /// Between things that belong together.
    pub(crate) const S: f32 = 4.0;
    /// Between things.
    pub(crate) const M: f32 = 8.0;
    /// Within the edge of a card.
    pub(crate) const L: f32 = 12.0;
    /// Within the edge of a panel.
    pub(crate) const XL: f32 = 16.0;
    /// Height and least width of what can be clicked.
    pub(crate) const HIT: f32 = 24.0;
    /// Height of the bar at the top.
    pub(crate) const TOP_BAR: f32 = 44.0;
    /// Height of the bar at the bottom.
    pub(crate) const STATUS_BAR: f32 = 32.0;
    /// Width of the panel of dimensions: as it comes, least and most.
    pub(crate) const DIMENSIONS: [f32; 3] = [308.0, 264.0, 420.0];
    /// Width of the panel of the verdict: as it comes, least and most.
    pub(crate) const VERDICT: [f32; 3] = [276.0, 256.0, 440.0];
    /// Width of the list of tolerances: as it comes, least and most.
    pub(crate) const TOLERANCES: [f32; 3] = [416.0, 384.0, 560.0];
    /// Height of what stands below the map of two dimensions: as it comes, least and most.
    pub(crate) const BELOW_MAP: [f32; 3] = [280.0, 120.0, 900.0];
    /// Width of the cut sheet: as it comes, least and most.
    pub(crate) const CUT_SHEET: [f32; 3] = [360.0, 300.0, 560.0];
    /// Height of the list of figures: as it comes, least and most.
    pub(crate) const FIGURES: [f32; 3] = [280.0, 96.0, 900.0];
    /// The table of what differs: usual height, least, most.
    pub(crate) const DIFFERENCES: [f32; 3] = [300.0, 96.0, 900.0];
    /// Room for the names of the two that are compared: least and most.
    pub(crate) const NAMES: [f32; 2] = [88.0, 200.0];
    /// Width from which on figures stand in two columns.
    pub(crate) const TWO_COLUMNS: f32 = 560.0;
    /// A note over the frets: its part of the page's height, least and most.
    pub(crate) const SWING: [f32; 3] = [0.26, 132.0, 320.0];
    /// Part of the height below it that the map may take.
    pub(crate) const MAP: f32 = 0.5;
    /// Width from which on the sheets of the strings stand beside each other.
    pub(crate) const THREE_SHEETS: f32 = 1520.0;
    /// Width from which on words stand beside a chart rather than below it.
    pub(crate) const BESIDE_CHART: f32 = 640.0;
    /// Width of a field for a number.
    pub(crate) const FIELD: f32 = 68.0;
    /// The same where numbers have fractions.
    pub(crate) const FRACTION_FIELD: f32 = 92.0;
    /// Width kept for a unit beside a field.
    pub(crate) const UNIT: f32 = 24.0;
    /// Width of a menu or a small form.
    pub(crate) const FORM: f32 = 420.0;
    /// Radius of a handle.
    pub(crate) const HANDLE: f32 = 7.0;
    /// From here on a pointer that runs ahead of its handle shows a leader.
    pub(crate) const LEADER: f32 = 14.0;
    /// Least height of a canvas.
    pub(crate) const CANVAS: f32 = 96.0;
    /// Kept free around what is fitted into a canvas.
    pub(crate) const FIT: f32 = 32.0;
    /// Kept free at the top of a canvas for its heading.
    pub(crate) const CANVAS_HEAD: f32 = 36.0;
    /// Width of the choices of paper: as it comes, least and most.
    pub(crate) const PRINT: [f32; 3] = [316.0, 288.0, 440.0];
    /// Width of the row of sheets: as it comes, least and most.
    pub(crate) const SHEETS: [f32; 3] = [168.0, 132.0, 280.0];
    /// The drawing of a dry fit with its figures: its part of the page's height, least and most.
    pub(crate) const FIT_DRAWING: [f32; 3] = [0.29, 180.0, 420.0];
    /// Height of a figure over a drawing: name, value, what was planned.
    pub(crate) const FIGURE: f32 = 60.0;
    /// Width of the list of corrections.
    pub(crate) const CORRECTIONS: f32 = 280.0;
    /// Part of the height beside it that the drawing of the wood takes.
    pub(crate) const WOOD: f32 = 0.38;
    /// Height of a row of a small table.
    pub(crate) const ROW: f32 = 20.0;
    /// Height of a small picture.
    pub(crate) const PICTURE: f32 = 88.0;
    /// About how long a scale bar should be.
    pub(crate) const SCALE_BAR: f32 = 96.0;
}

/// Strokes; their colour comes from the palette.
pub(crate) mod stroke {
    /// A visible edge.
    pub(crate) const VISIBLE: f32 = 1.1;
    /// Hidden edges, centre and dimension lines.
    pub(crate) const THIN: f32 = 0.8;
    /// A line of a sheet seen from afar.
    pub(crate) const FINEST: f32 = 0.6;
    /// A string.
    pub(crate) const STRING: f32 = 1.3;
    /// What must be seen.
    pub(crate) const STRONG: f32 = 2.0;
    /// The light around a line that crosses the board.
    pub(crate) const HALO: f32 = 4.0;
    /// Dashes of a hidden edge: line, gap.
    pub(crate) const HIDDEN: [f32; 2] = [6.0, 4.0];
    /// Chain of a centre line: line, gap, dot, gap.
    pub(crate) const CENTRE: [f32; 4] = [16.0, 3.0, 2.0, 3.0];
    /// Dashes of a range.
    pub(crate) const RANGE: [f32; 2] = [2.0, 3.0];
}

/// Corners of fields and buttons.
pub(crate) const CORNER: CornerRadius = CornerRadius::same(4);
/// Corners of cards.
pub(crate) const CARD_CORNER: CornerRadius = CornerRadius::same(8);

/// Sizes of type.
pub(crate) mod size {
    pub(crate) const LABEL: f32 = 11.0;
    pub(crate) const TEXT: f32 = 12.5;
    pub(crate) const TITLE: f32 = 15.0;
    pub(crate) const WORD: f32 = 30.0;
    /// Letters of a sheet with fewer pixels are not written on the screen.
    pub(crate) const LEAST: f32 = 4.5;
    /// Larger letters of a sheet are magnified.
    pub(crate) const LARGEST: f32 = 72.0;
}

fn bold() -> FontFamily {
    FontFamily::Name(Arc::from("bold"))
}

/// Plain text.
pub(crate) fn text() -> FontId {
    FontId::new(size::TEXT, FontFamily::Proportional)
}

/// Text that stands out.
pub(crate) fn strong() -> FontId {
    FontId::new(size::TEXT, bold())
}

/// Labels on a drawing and small headings.
pub(crate) fn label() -> FontId {
    FontId::new(size::LABEL, FontFamily::Proportional)
}

/// A heading of a group.
pub(crate) fn heading() -> FontId {
    FontId::new(size::LABEL, bold())
}

/// The name of the design.
pub(crate) fn title() -> FontId {
    FontId::new(size::TITLE, bold())
}

/// The verdict's word.
pub(crate) fn word() -> FontId {
    FontId::new(size::WORD, bold())
}

/// Sets fonts and both themes once, when the program starts.
pub(crate) fn install(ctx: &Context) {
    ctx.set_fonts(fonts());
    // where the system does not say
    ctx.options_mut(|options| options.fallback_theme = Theme::Light);
    ctx.set_style_of(Theme::Light, style(&LIGHT, Visuals::light()));
    ctx.set_style_of(Theme::Dark, style(&DARK, Visuals::dark()));
}

/// B612, and DejaVu Sans Condensed for the signs it lacks.
fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    let files: [(&str, &'static [u8]); 3] = [
        ("regular", include_bytes!("../../../assets/fonts/B612-Regular.otf")),
        ("bold", include_bytes!("../../../assets/fonts/B612-Bold.otf")),
        ("signs", include_bytes!("../../../assets/fonts/DejaVuSansCondensed.ttf")),
    ];
    for (name, bytes) in files {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    for (family, first) in [
        (FontFamily::Proportional, "regular"),
        (FontFamily::Monospace, "regular"),
        (bold(), "bold"),
    ] {
        fonts.families.insert(family, vec![first.to_owned(), "signs".to_owned()]);
    }
    fonts
}

fn style(palette: &Palette, visuals: Visuals) -> Style {
    let mut style = Style {
        text_styles: BTreeMap::from([
            (TextStyle::Small, label()),
            (TextStyle::Body, text()),
            (TextStyle::Button, text()),
            (TextStyle::Monospace, text()),
            (TextStyle::Heading, title()),
        ]),
        // nothing moves but what explains
        animation_time: 0.0,
        ..Style::default()
    };
    let spacing = &mut style.spacing;
    spacing.item_spacing = Vec2::new(space::M, space::S);
    spacing.button_padding = Vec2::new(space::M, space::S);
    spacing.interact_size = Vec2::splat(space::HIT);
    spacing.window_margin = Margin::same(space::XL as i8);
    spacing.menu_margin = Margin::same(space::M as i8);
    spacing.tooltip_width = space::DIMENSIONS[0];
    style.visuals = visuals;
    paint(&mut style.visuals, palette);
    style
}

fn paint(visuals: &mut Visuals, palette: &Palette) {
    let hairline = Stroke::new(1.0, palette.hairline);
    let border = Stroke::new(1.0, palette.field_border);
    let plain = WidgetVisuals {
        bg_fill: palette.field,
        weak_bg_fill: palette.field,
        bg_stroke: border,
        corner_radius: CORNER,
        fg_stroke: Stroke::new(1.0, palette.ink),
        expansion: 0.0,
    };
    visuals.widgets.noninteractive = WidgetVisuals { bg_stroke: hairline, ..plain };
    visuals.widgets.inactive = plain;
    visuals.widgets.hovered = WidgetVisuals {
        weak_bg_fill: palette.hover,
        bg_stroke: Stroke::new(1.0, palette.ink),
        ..plain
    };
    visuals.widgets.active = WidgetVisuals {
        weak_bg_fill: palette.hover,
        bg_stroke: Stroke::new(stroke::STRONG, palette.ink),
        ..plain
    };
    visuals.widgets.open = visuals.widgets.hovered;
    visuals.selection =
        Selection { bg_fill: palette.rail, stroke: Stroke::new(stroke::STRONG, palette.ink) };
    visuals.override_text_color = None;
    visuals.weak_text_color = Some(palette.dim);
    visuals.hyperlink_color = palette.ink;
    visuals.faint_bg_color = palette.panel;
    visuals.extreme_bg_color = palette.field;
    visuals.code_bg_color = palette.panel;
    visuals.warn_fg_color = palette.thin;
    visuals.error_fg_color = palette.fails;
    visuals.window_fill = palette.paper;
    visuals.window_stroke = hairline;
    visuals.window_corner_radius = CARD_CORNER;
    visuals.menu_corner_radius = CARD_CORNER;
    visuals.panel_fill = palette.panel;
    let shadow = Shadow { offset: [0, 2], blur: space::M as u8, spread: 0, color: palette.shade };
    visuals.window_shadow = shadow;
    visuals.popup_shadow = shadow;
}

#[cfg(test)]
mod seen;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_in_use_has_a_glyph() {
        let ctx = Context::default();
        install(&ctx);
        let mut output = ctx.run_ui(egui::RawInput::default(), |ui| {
            for font in [text(), strong()] {
                for sign in "♯♭°′″×±½¼¾→←↑↓–…·−θγκ•≤≥".chars()
                {
                    assert!(ui.fonts_mut(|fonts| fonts.has_glyph(&font, sign)), "{sign}");
                }
            }
        });
        output.textures_delta.clear();
    }
}
