//! Work that is asked for again and again, of which the last answer is kept.

use egui::{Align, Context, Label, Layout, Rect, RichText, Role, Sense, Ui, WidgetInfo, vec2};
use overstand_core::risk::Watch;

use crate::background::{Heard, Job};
use crate::theme::{self, space};

/// Some work, and what came of it last. `A` tells what was asked.
#[derive(Debug)]
pub(super) struct Task<A, T> {
    job: Option<(A, Job<Option<T>>)>,
    last: Option<(A, T)>,
    /// What was stopped, or could not be answered.
    quit: Option<A>,
}

impl<A, T> Default for Task<A, T> {
    fn default() -> Self {
        Self { job: None, last: None, quit: None }
    }
}

impl<A: PartialEq, T: Send + 'static> Task<A, T> {
    /// Hears what has come of it; whether there is something new.
    pub(super) fn hear(&mut self) -> bool {
        let Some((_, job)) = &self.job else { return false };
        let answer = match job.hear() {
            Heard::Working => return false,
            Heard::Done(answer) => answer,
            Heard::Lost => None,
        };
        let Some((asked, _)) = self.job.take() else { return false };
        match answer {
            Some(answer) => self.last = Some((asked, answer)),
            None => self.quit = Some(asked),
        }
        true
    }

    /// Begins it; what went on before is given up.
    pub(super) fn start(
        &mut self,
        ctx: &Context,
        ask: A,
        work: impl FnOnce(&Watch<'_>) -> Option<T> + Send + 'static,
    ) {
        self.quit = None;
        self.job = Some((ask, Job::watched(ctx, work)));
    }

    /// Whether it is to be begun: it is not known, not at work, and was not stopped.
    pub(super) fn wants(&self, ask: &A) -> bool {
        let knows = self.last.as_ref().is_some_and(|(asked, _)| asked == ask);
        !knows && self.job.is_none() && self.quit.as_ref() != Some(ask)
    }

    /// Gives up what was asked before.
    pub(super) fn give_up_others(&mut self, ask: &A) {
        if self.job.as_ref().is_some_and(|(asked, _)| asked != ask) {
            self.job = None;
        }
    }

    /// Gives up what goes on, to be begun again when it is wanted.
    pub(super) fn give_up(&mut self) {
        self.job = None;
    }

    /// Stops what goes on; it is not begun again by itself.
    pub(super) fn stop(&mut self) {
        if let Some((asked, _)) = self.job.take() {
            self.quit = Some(asked);
        }
    }

    /// Whether it is at work.
    pub(super) fn is_working(&self) -> bool {
        self.job.is_some()
    }

    /// Whether this was stopped.
    pub(super) fn was_stopped(&self, ask: &A) -> bool {
        self.quit.as_ref() == Some(ask)
    }

    /// The last answer, and whether it is to what is asked now.
    pub(super) fn answer(&self, ask: &A) -> Option<(&T, bool)> {
        self.last.as_ref().map(|(asked, answer)| (answer, asked == ask))
    }

    /// The last answer with what was asked for it.
    pub(super) fn last(&self) -> Option<&(A, T)> {
        self.last.as_ref()
    }

    /// Part of it that is done, 0 to 1.
    fn part(&self) -> f32 {
        let progress = self.job.as_ref().map(|(_, job)| job.progress());
        progress.map_or(0.0, |progress| {
            (progress.done as f32 / progress.all.max(1) as f32).clamp(0.0, 1.0)
        })
    }

    /// The button that asks for it, or how far it is; says whether it is to be begun. `doing`
    /// is what goes on.
    pub(super) fn asks(
        &mut self,
        ui: &mut Ui,
        ask: &A,
        button: &str,
        tip: &str,
        doing: &str,
    ) -> bool {
        if self.is_working() {
            self.progress(ui, doing);
            return false;
        }
        let is_now = self.answer(ask).map(|(_, is_now)| is_now);
        let response = ui.add_enabled(is_now != Some(true), egui::Button::new(button));
        if is_now == Some(false) {
            stale(ui);
        } else if self.was_stopped(ask) {
            let words = RichText::new("Stopped.").color(theme::palette(ui).dim);
            ui.add(Label::new(words).selectable(false));
        }
        response.on_hover_text(tip).clicked()
    }

    /// How far it is, and a button that stops it; from the right. `what` is what goes on.
    pub(super) fn progress(&mut self, ui: &mut Ui, what: &str) {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.button("Stop").on_hover_text(format!("Stop: {what}")).clicked() {
                self.stop();
            }
            bar(ui, self.part(), what);
        });
    }
}

/// A bar that fills.
fn bar(ui: &mut Ui, part: f32, what: &str) {
    let palette = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(space::SCALE_BAR, space::M), Sense::hover());
    let says = format!("{what}: {:.0} %", 100.0 * part);
    response.widget_info(|| WidgetInfo::labeled(Role::ProgressIndicator, true, &says));
    ui.painter().rect_filled(rect, theme::CORNER, palette.rail);
    let done = Rect::from_min_size(rect.min, vec2(part * rect.width(), rect.height()));
    ui.painter().rect_filled(done, theme::CORNER, palette.rail_wanted);
    response.on_hover_text(says);
}

/// Said of what was worked out before the last change.
pub(super) fn stale(ui: &mut Ui) {
    let words = RichText::new("(before the last change)").color(theme::palette(ui).dim);
    ui.add(Label::new(words).selectable(false));
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    fn heard<A: PartialEq, T: Send + 'static>(task: &mut Task<A, T>) {
        while !task.hear() {
            std::thread::sleep(Duration::from_millis(1));
        }
    }

    #[test]
    fn an_answer_is_kept_with_what_was_asked() {
        let mut task = Task::default();
        assert!(task.wants(&1) && task.answer(&1).is_none());
        task.start(&Context::default(), 1, |_| Some("one"));
        assert!(!task.wants(&2), "one thing at a time");
        heard(&mut task);
        assert_eq!(task.answer(&1), Some((&"one", true)));
        assert_eq!(task.answer(&2), Some((&"one", false)), "it is of before");
        assert!(task.wants(&2) && !task.wants(&1));
    }

    #[test]
    fn what_was_stopped_is_not_begun_by_itself() {
        let mut task = Task::<u8, ()>::default();
        let until_stopped = |watch: &Watch<'_>| {
            while !watch.stopped() {
                std::thread::sleep(Duration::from_millis(1));
            }
            None
        };
        task.start(&Context::default(), 1, until_stopped);
        assert!(task.is_working());
        task.stop();
        assert!(!task.is_working() && task.was_stopped(&1) && !task.wants(&1));
        assert!(task.wants(&2), "what is asked next is another thing");
        task.start(&Context::default(), 2, until_stopped);
        task.give_up_others(&2);
        assert!(task.is_working());
        task.give_up_others(&3);
        assert!(!task.is_working() && task.wants(&2));
    }
}
