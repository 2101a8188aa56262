//! Random clicks, drags, keys and words: no panic, and undo returns to the start.

mod common;

use common::{SIZE, Window};
use egui::{Event, Key, Modifiers, PointerButton, pos2, vec2};
use overstand_core::dimension::Key as DimKey;

/// Small numbers in an order that does not repeat soon (G. Marsaglia, *Xorshift RNGs*,
/// 2003), the same on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % sides
    }

    fn place(&mut self) -> egui::Pos2 {
        pos2(self.roll(SIZE.x as u64) as f32, self.roll(SIZE.y as u64) as f32)
    }
}

const KEYS: [Key; 14] = [
    Key::Tab,
    Key::Enter,
    Key::Escape,
    Key::Space,
    Key::ArrowUp,
    Key::ArrowDown,
    Key::ArrowLeft,
    Key::ArrowRight,
    Key::PageUp,
    Key::PageDown,
    Key::Backspace,
    Key::F,
    Key::Plus,
    Key::Minus,
];
const WORDS: [&str; 8] = ["3", "24 3/4 in", "-1e9", "1:20", "°", "(((", "0.01", "wide"];

/// Beginnings of the dice, and actions made with each.
const SEEDS: [u64; 4] =
    [0x9E37_79B9_7F4A_7C15, 0xD1B5_4A32_D192_ED03, 0x94D0_49BB_1331_11EB, 0xBF58_476D_1CE4_E5B9];
const ACTIONS: usize = 1000;

/// Types a number into a field and leaves it by a key.
fn type_somewhere(window: &mut Window, dice: &mut Dice) {
    use egui_kittest::kittest::Queryable as _;
    let fields: Vec<egui::Rect> = window
        .harness
        .query_all_by_role(egui::accesskit::Role::TextInput)
        .map(|node| node.rect())
        .collect();
    if fields.is_empty() {
        return;
    }
    let at = fields[dice.roll(fields.len() as u64) as usize].center();
    window.harness.hover_at(at);
    window.press_button(at, PointerButton::Primary, true);
    window.press_button(at, PointerButton::Primary, false);
    window.harness.step();
    let text = match dice.roll(4) {
        0 => WORDS[dice.roll(8) as usize].to_owned(),
        _ => format!("{}.{}", dice.roll(40), dice.roll(10)),
    };
    window.harness.event(Event::Text(text));
    window.harness.step();
    window.harness.key_press(if dice.roll(2) == 0 { Key::Enter } else { Key::Tab });
}

fn some_input(window: &mut Window, dice: &mut Dice) {
    let at = dice.place();
    match dice.roll(10) {
        0..=2 => {
            window.harness.hover_at(at);
            window.press_button(at, PointerButton::Primary, true);
            window.press_button(at, PointerButton::Primary, false);
        }
        3..=5 => {
            window.harness.hover_at(at);
            window.harness.step();
            window.press_button(at, PointerButton::Primary, true);
            window.harness.step();
            let by = vec2(dice.roll(200) as f32 - 100.0, dice.roll(200) as f32 - 100.0);
            for step in 1..=4_u8 {
                window.harness.hover_at(at + by * f32::from(step) / 4.0);
                window.harness.step();
            }
            window.press_button(at + by, PointerButton::Primary, false);
        }
        6 | 7 => {
            let shift = if dice.roll(4) == 0 { Modifiers::SHIFT } else { Modifiers::NONE };
            window.harness.key_press_modifiers(shift, KEYS[dice.roll(14) as usize]);
        }
        8 if dice.roll(2) == 0 => type_somewhere(window, dice),
        8 => window.harness.event(Event::Text(WORDS[dice.roll(8) as usize].to_owned())),
        _ => {
            window.harness.hover_at(at);
            window.scroll(at, dice.roll(400) as f32 - 200.0);
        }
    }
    window.harness.step();
}

#[test]
fn random_input_neither_panics_nor_loses_the_way_back() {
    for (index, seed) in SEEDS.into_iter().enumerate() {
        let (mut window, _folder) = Window::worked();
        // one page after the other
        let page = [Key::Num1, Key::Num2, Key::Num3, Key::Num4][index % 4];
        window.press(Modifiers::COMMAND, page);
        let start = window.design().clone();
        let mut dice = Dice(seed);
        for _ in 0..ACTIONS {
            some_input(&mut window, &mut dice);
            for key in DimKey::all_of(window.design()) {
                assert!(key.get(window.design()).is_none_or(f64::is_finite), "{key}");
            }
        }
        // whatever is open is left, and the focus given up
        for _ in 0..6 {
            window.harness.key_press(Key::Escape);
            window.harness.step();
        }
        if window.design().name != start.name {
            // it was left for another design, which has a history of its own
            continue;
        }
        // no action makes more than one step
        for _ in 0..ACTIONS {
            if window.design() == &start {
                break;
            }
            window.harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
            window.harness.step();
        }
        assert_eq!(window.design(), &start, "seed {seed:x}");
    }
}
