//! Work on a thread of its own, so that the window never stands still.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use egui::Context;
use overstand_core::risk::Watch;
use overstand_drawing::output::Progress;

/// Work that goes on. When it is dropped, it is told to stop and nobody waits for it.
#[derive(Debug)]
pub(crate) struct Job<T> {
    answer: Receiver<T>,
    told: Arc<Told>,
}

#[derive(Debug, Default)]
struct Told {
    stop: AtomicBool,
    done: AtomicUsize,
    all: AtomicUsize,
}

impl Told {
    /// Notes how far it is; false if it is to stop.
    fn note(&self, progress: Progress, ctx: &Context) -> bool {
        self.done.store(progress.done, Ordering::Relaxed);
        self.all.store(progress.all, Ordering::Relaxed);
        let goes_on = !self.stop.load(Ordering::Relaxed);
        if goes_on {
            ctx.request_repaint();
        }
        goes_on
    }
}

/// What came of some work.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Heard<T> {
    /// It goes on.
    Working,
    /// It is done.
    Done(T),
    /// It ended without an answer.
    Lost,
}

impl<T: Send + 'static> Job<T> {
    /// Starts some work. It tells how far it is, and hears whether to go on.
    pub(crate) fn start(
        ctx: &Context,
        work: impl FnOnce(&mut dyn FnMut(Progress) -> bool) -> T + Send + 'static,
    ) -> Self {
        Self::begin(ctx, move |ctx, told| work(&mut |progress| told.note(progress, ctx)))
    }

    /// The same for work of the core that is watched rather than asked.
    pub(crate) fn watched(
        ctx: &Context,
        work: impl FnOnce(&Watch<'_>) -> T + Send + 'static,
    ) -> Self {
        Self::begin(ctx, move |ctx, told| {
            let count = |number: u64| usize::try_from(number).unwrap_or(usize::MAX);
            work(&Watch::new(&told.stop, &|done, all| {
                told.note(Progress { done: count(done), all: count(all) }, ctx);
            }))
        })
    }

    fn begin(ctx: &Context, work: impl FnOnce(&Context, &Told) -> T + Send + 'static) -> Self {
        let (send, answer) = channel();
        let told = Arc::new(Told::default());
        let (ctx, heard) = (ctx.clone(), Arc::clone(&told));
        std::thread::spawn(move || {
            let result = work(&ctx, &heard);
            // the one who asked may be gone by now
            if send.send(result).is_ok() {
                ctx.request_repaint();
            }
        });
        Self { answer, told }
    }
}

impl<T> Job<T> {
    /// How far it is.
    pub(crate) fn progress(&self) -> Progress {
        let read = |number: &AtomicUsize| number.load(Ordering::Relaxed);
        Progress { done: read(&self.told.done), all: read(&self.told.all) }
    }

    /// Tells it to stop at its next step.
    pub(crate) fn stop(&self) {
        self.told.stop.store(true, Ordering::Relaxed);
    }

    /// What came of it.
    pub(crate) fn hear(&self) -> Heard<T> {
        match self.answer.try_recv() {
            Ok(result) => Heard::Done(result),
            Err(TryRecvError::Empty) => Heard::Working,
            Err(TryRecvError::Disconnected) => Heard::Lost,
        }
    }
}

impl<T> Drop for Job<T> {
    fn drop(&mut self) {
        self.stop();
    }
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc::channel;

    use super::*;

    fn wait<T>(job: &Job<T>) -> Heard<T> {
        loop {
            match job.hear() {
                Heard::Working => std::thread::yield_now(),
                heard => return heard,
            }
        }
    }

    #[test]
    fn it_tells_how_far_it_is_and_stops_when_it_is_told_to() {
        let (go, waits) = channel::<()>();
        let job = Job::start(&Context::default(), move |goes_on| {
            assert!(goes_on(Progress { done: 1, all: 3 }));
            waits.recv().unwrap();
            goes_on(Progress { done: 2, all: 3 })
        });
        while job.progress().done < 1 {
            std::thread::yield_now();
        }
        assert_eq!(job.hear(), Heard::Working);
        job.stop();
        go.send(()).unwrap();
        assert_eq!(wait(&job), Heard::Done(false));
    }

    #[test]
    fn work_that_breaks_off_is_lost_and_not_waited_for() {
        let job = Job::<()>::start(&Context::default(), |_| {
            std::panic::resume_unwind(Box::new("broken off"));
        });
        assert_eq!(wait(&job), Heard::Lost);
    }
}
