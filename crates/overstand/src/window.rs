//! The seam between the command line and the window.

#[cfg(feature = "window")]
pub(crate) use native::open;

/// Says that there is none to open.
#[cfg(not(feature = "window"))]
pub(crate) fn open(_: Option<&std::path::Path>) -> Result<(), crate::failure::Failure> {
    Err(crate::failure::Failure::NoWindow("this build has no window".to_owned()))
}

#[cfg(feature = "window")]
mod native {
    use std::path::Path;

    use eframe::egui::{Context, Ui, ViewportBuilder};
    use eframe::{CreationContext, Frame, NativeOptions, Storage};
    use overstand_app::{App, Options, Preferences};

    use crate::failure::Failure;

    /// Under this name the system keeps what is remembered.
    const APP_ID: &str = "overstand";
    const PREFERENCES: &str = "preferences";

    /// Opens the window and returns when it is closed.
    pub(crate) fn open(path: Option<&Path>) -> Result<(), Failure> {
        if !has_display() {
            return Err(Failure::NoWindow(
                "there is no display to open a window on (neither WAYLAND_DISPLAY nor DISPLAY \
                 is set)"
                    .to_owned(),
            ));
        }
        let options = NativeOptions {
            viewport: ViewportBuilder::default()
                .with_title("Overstand")
                .with_app_id(APP_ID)
                .with_inner_size([1280.0, 800.0])
                .with_min_inner_size([800.0, 500.0]),
            ..NativeOptions::default()
        };
        let path = path.map(Path::to_owned);
        let create = move |cc: &CreationContext<'_>| {
            let preferences: Option<Preferences> =
                cc.storage.and_then(|storage| eframe::get_value(storage, PREFERENCES));
            let options = Options {
                path,
                preferences: preferences.unwrap_or_default(),
                recovery: overstand_app::recovery_folder(),
                ..Options::default()
            };
            let window: Box<dyn eframe::App> = Box::new(Window(App::new(&cc.egui_ctx, options)));
            Ok(window)
        };
        eframe::run_native(APP_ID, options, Box::new(create)).map_err(|error| {
            Failure::NoWindow(format!("the window cannot be opened: {}", why(&error)))
        })
    }

    /// What the window system says, without the place in the source that says it.
    fn why(error: &eframe::Error) -> String {
        let text = error.to_string();
        match text.rsplit_once(".rs:").and_then(|(_, rest)| rest.split_once(": ")) {
            Some((_, words)) => words.to_owned(),
            None => text,
        }
    }

    /// Whether a window could be shown; where it is not the environment that says so, one
    /// is expected.
    fn has_display() -> bool {
        let set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
        cfg!(not(all(unix, not(target_os = "macos"))))
            || set("DISPLAY")
            || set("WAYLAND_DISPLAY")
            || set("WAYLAND_SOCKET")
    }

    /// The program as the window system calls it.
    struct Window(App);

    impl eframe::App for Window {
        fn logic(&mut self, ctx: &Context, _: &mut Frame) {
            self.0.logic(ctx);
        }

        fn ui(&mut self, ui: &mut Ui, _: &mut Frame) {
            self.0.ui(ui);
        }

        fn save(&mut self, storage: &mut dyn Storage) {
            eframe::set_value(storage, PREFERENCES, self.0.preferences());
        }
    }
}
