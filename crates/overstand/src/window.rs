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
    use std::panic::{self, AssertUnwindSafe};
    use std::path::Path;
    use std::sync::{Arc, Mutex};

    use eframe::egui::{Context, IconData, Ui, ViewportBuilder, Visuals};
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
                // none of its own, or the toolkit puts its own there: the desktop finds the
                // icon by the name above
                .with_icon(IconData::default())
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
                dialogs: true,
                asks_motion: true,
                day: None,
            };
            let window: Box<dyn eframe::App> = Box::new(Window(App::new(&cc.egui_ctx, options)));
            Ok(window)
        };
        let run = move || eframe::run_native(APP_ID, options, Box::new(create));
        match guarded(run) {
            Ok(ran) => ran.map_err(|error| {
                Failure::NoWindow(format!("the window cannot be opened: {}", why(&error)))
            }),
            Err(says) => Err(Failure::WindowLost(says)),
        }
    }

    /// Runs the window. Where it is destroyed from outside, winit 0.30 does not say so but
    /// panics over the next answer of the X server: that ends here, with what it says. Any
    /// other panic goes on as it is.
    fn guarded<T>(run: impl FnOnce() -> T) -> Result<T, String> {
        let lost: Arc<Mutex<Option<String>>> = Arc::default();
        let (noted, usual) = (Arc::clone(&lost), Arc::new(panic::take_hook()));
        let restored = Arc::clone(&usual);
        panic::set_hook(Box::new(move |info| {
            let is_of_winit = info.location().is_some_and(|at| at.file().contains("winit-"));
            match info.payload_as_str().filter(|says| is_of_winit && says.contains("X11Error")) {
                Some(says) => {
                    if let Ok(mut lost) = noted.lock() {
                        *lost = Some(of_server(says));
                    }
                }
                None => usual(info),
            }
        }));
        // nothing of the window is used after it
        let ran = panic::catch_unwind(AssertUnwindSafe(run));
        panic::set_hook(Box::new(move |info| restored(info)));
        ran.map_err(|panic| match lost.lock().ok().and_then(|mut lost| lost.take()) {
            Some(says) => says,
            None => panic::resume_unwind(panic),
        })
    }

    /// What the X server said, of all that winit writes about it.
    fn of_server(says: &str) -> String {
        let kind = says.split_once("error_kind: ").and_then(|(_, rest)| rest.split_once(','));
        kind.map_or_else(
            || "the X server knows it no more".to_owned(),
            |(kind, _)| format!("the X server knows it no more (it answers Bad{kind})"),
        )
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

        fn clear_color(&self, visuals: &Visuals) -> [f32; 4] {
            // what the panels stand on: nothing is filled twice
            visuals.panel_fill.to_normalized_gamma_f32()
        }

        fn save(&mut self, storage: &mut dyn Storage) {
            eframe::set_value(storage, PREFERENCES, self.0.preferences());
        }
    }

    #[cfg(test)]
    mod tests {
        use super::*;

        #[test]
        fn what_the_server_says_is_kept_of_all_the_words() {
            let says = "called `Result::unwrap()` on an `Err` value: X11(X11Error { error_kind: \
                        Window, error_code: 3, sequence: 531 })";
            assert!(of_server(says).ends_with("(it answers BadWindow)"));
            assert_eq!(of_server("X11Error"), "the X server knows it no more");
        }

        #[test]
        fn a_panic_of_our_own_goes_on() {
            assert_eq!(guarded(|| 3), Ok(3));
            let own = panic::catch_unwind(|| guarded(|| panic!("of our own")));
            assert!(own.is_err());
        }
    }
}
