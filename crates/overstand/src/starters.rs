//! The designs to start from: listing them, and writing a file from one.

use std::io::Write;
use std::path::Path;

use overstand_core::dimension::nearest;
use overstand_files::{SaveError, Starter};
use serde::Serialize;

use crate::failure::Failure;
use crate::text::{Paint, Tone, wrap};

/// A starter as JSON.
#[derive(Debug, Serialize)]
pub(crate) struct StarterJson {
    id: &'static str,
    title: &'static str,
    line: &'static str,
}

/// All starters, for programs.
pub(crate) fn json() -> Vec<StarterJson> {
    overstand_files::starters()
        .iter()
        .map(|starter| StarterJson { id: starter.id, title: starter.title, line: starter.line })
        .collect()
}

/// All starters, for reading.
pub(crate) fn text(paint: Paint) -> String {
    let all = overstand_files::starters();
    let widest = all.iter().map(|starter| starter.id.len()).max().unwrap_or_default();
    let mut text = String::new();
    for starter in all {
        let id = paint.tint(Tone::Found, &format!("{:<widest$}", starter.id));
        text += &format!("{id}  {}\n", starter.title);
        text += &wrap(starter.line, widest + 2);
    }
    text
}

/// Writes a design file from a starter; `-` is standard output.
pub(crate) fn new(
    id: &str,
    path: &Path,
    force: bool,
    stdout: &mut impl Write,
) -> Result<(), Failure> {
    let starter = overstand_files::starter(id).ok_or_else(|| unknown(id))?;
    let file = starter
        .file()
        .map_err(|error| Failure::NoDesign { place: format!("starter {id}"), error })?;
    if path == Path::new("-") {
        let text = overstand_files::write(&file);
        return stdout.write_all(text.as_bytes()).map_err(Failure::Write);
    }
    let saved = if force {
        overstand_files::save(path, &file)
    } else {
        overstand_files::save_if_unchanged(path, &file, None).map(|_| ())
    };
    saved.map_err(|error| match error {
        SaveError::ChangedOnDisk => Failure::Exists(path.to_owned()),
        error => Failure::Save { path: path.to_owned(), error },
    })
}

fn unknown(id: &str) -> Failure {
    let id: String = id.chars().take(60).collect();
    let all = || overstand_files::starters().iter().map(|starter: &Starter| starter.id);
    let hint = nearest(&id, all())
        // half a name is a good guess as well
        .or_else(|| all().find(|other| id.len() > 2 && other.contains(&id)).map(str::to_owned))
        .map(|near| format!("; did you mean `{near}`?"))
        .unwrap_or_default();
    Failure::UnknownStarter { id, hint }
}
