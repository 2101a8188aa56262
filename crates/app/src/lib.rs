//! The window: document, pages, panels, canvases. It stands on egui alone; whoever opens
//! the window hands it a [`Context`](egui::Context) and a [`Ui`](egui::Ui).
//!
//! *Document* is the design with its history and file, *View* is what is shown of it and
//! never saved, *Study* is what the core works out, once for each change. Pages and panels
//! return commands; `apply` is the one place that does them.
//!
//! # Example
//!
//! Whatever shows the window calls these two once a frame:
//!
//! ```no_run
//! use overstand_app::{App, Options};
//!
//! let ctx = egui::Context::default();
//! let mut app = App::new(&ctx, Options::default());
//! let input = egui::RawInput::default();
//! let output = ctx.run_ui(input, |ui| {
//!     app.logic(ui.ctx()); // commands, undo, a new study
//!     app.ui(ui); // what is shown of it
//! });
//! # drop(output);
//! ```

mod app;
mod apply;
mod background;
mod canvas;
mod chart;
mod command;
mod dialogs;
mod document;
mod drive;
mod history;
mod keys;
mod lists;
mod marks;
mod motion;
mod pages;
mod panels;
mod preferences;
mod printing;
mod recovery;
mod theme;
mod tour;
mod values;
mod view;

pub use app::{App, Options};
pub use motion::Motion;
pub use preferences::{Preferences, ThemeChoice};
pub use printing::{FileKind, Lies, PaperChoices, Subject};
pub use recovery::folder as recovery_folder;
pub use view::Arrangement;
