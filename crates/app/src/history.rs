//! What was done, with names, so that it can be undone and done again.

/// Most steps that are remembered.
const MOST: usize = 500;

/// Steps of undo and redo over states, or over what of a state a step left.
#[derive(Clone, Debug)]
pub(crate) struct History<T> {
    past: Vec<Step<T>>,
    future: Vec<Step<T>>,
}

/// A step that can be gone in one direction.
#[derive(Clone, Debug)]
struct Step<T> {
    name: String,
    /// The state at its far end.
    state: T,
    /// Steps of one kind that follow each other are one.
    joins: Option<String>,
}

impl<T> Default for History<T> {
    fn default() -> Self {
        Self { past: Vec::new(), future: Vec::new() }
    }
}

impl<T> History<T> {
    /// Remembers a step, with the state that it left. Steps in a row that join
    /// under the same word become one.
    pub(crate) fn record(&mut self, name: String, before: T, joins: Option<String>) {
        self.future.clear();
        if joins.is_some() && self.past.last().is_some_and(|last| last.joins == joins) {
            return;
        }
        if self.past.len() == MOST {
            self.past.remove(0);
        }
        self.past.push(Step { name, state: before, joins });
    }

    /// Goes one step back; `swap` exchanges what stands for what the step left. False if
    /// there is none.
    pub(crate) fn undo(&mut self, swap: impl FnOnce(&mut T)) -> bool {
        Self::go(&mut self.past, &mut self.future, swap)
    }

    /// Goes one step forward again in the same way; false if there is none.
    pub(crate) fn redo(&mut self, swap: impl FnOnce(&mut T)) -> bool {
        Self::go(&mut self.future, &mut self.past, swap)
    }

    fn go(from: &mut Vec<Step<T>>, to: &mut Vec<Step<T>>, swap: impl FnOnce(&mut T)) -> bool {
        let Some(mut step) = from.pop() else {
            return false;
        };
        swap(&mut step.state);
        step.joins = None;
        to.push(step);
        true
    }

    /// The name of the step that undo would take back.
    pub(crate) fn next_undo(&self) -> Option<&str> {
        self.past.last().map(|step| step.name.as_str())
    }

    /// The name of the step that redo would do again.
    pub(crate) fn next_redo(&self) -> Option<&str> {
        self.future.last().map(|step| step.name.as_str())
    }
}

#[cfg(test)]
mod tests {
    use std::mem::swap;

    use super::*;

    #[test]
    fn back_and_forth() {
        let (mut history, mut state) = (History::default(), 1);
        for (name, next) in [("two", 2), ("three", 3)] {
            history.record(name.to_owned(), state, None);
            state = next;
        }
        assert_eq!(history.next_undo(), Some("three"));
        assert!(
            history.undo(|step| swap(step, &mut state))
                && history.undo(|step| swap(step, &mut state))
        );
        assert_eq!((state, history.next_redo()), (1, Some("two")));
        assert!(!history.undo(|step| swap(step, &mut state)));
        assert!(
            history.redo(|step| swap(step, &mut state))
                && history.redo(|step| swap(step, &mut state))
        );
        assert!(!history.redo(|step| swap(step, &mut state)));
        assert_eq!(state, 3);
        assert!(history.undo(|step| swap(step, &mut state)));
        history.record("other".to_owned(), state, None);
        assert_eq!(history.next_redo(), None, "a new step forgets what was undone");
    }

    #[test]
    fn steps_in_a_row_join_until_another() {
        let nudge = || Some("nudge".to_owned());
        let mut history = History::default();
        history.record("nudge".to_owned(), 1, nudge());
        history.record("nudge".to_owned(), 2, nudge());
        history.record("other".to_owned(), 3, None);
        let mut state = 4;
        assert!(history.undo(|step| swap(step, &mut state)));
        assert_eq!(state, 3);
        assert!(history.undo(|step| swap(step, &mut state)));
        assert_eq!(state, 1);
    }

    #[test]
    fn memory_is_bounded() {
        let mut history = History::default();
        for step in 0..2 * MOST {
            history.record(String::new(), step, None);
        }
        let (mut state, mut steps) = (0, 0);
        while history.undo(|step| swap(step, &mut state)) {
            steps += 1;
        }
        assert_eq!(steps, MOST);
    }
}
