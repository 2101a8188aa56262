//! Manual pages, made from the definitions of the command line.

use std::io;
use std::path::Path;

use clap::CommandFactory;
use clap_mangen::Man;

use crate::cli::Cli;
use crate::failure::Failure;

/// Every page: of the program, then of each command.
fn pages() -> Vec<Man> {
    let mut program = Cli::command();
    // names the commands' pages after the program
    program.build();
    let commands: Vec<clap::Command> = program.get_subcommands().cloned().collect();
    let source = format!("overstand {}", env!("CARGO_PKG_VERSION"));
    std::iter::once(program)
        .chain(commands)
        .map(|command| Man::new(command).source(&source).manual("Overstand"))
        .collect()
}

fn render(page: &Man) -> Result<String, Failure> {
    let mut text = Vec::new();
    page.render(&mut text).map_err(Failure::Write)?;
    String::from_utf8(text).map_err(|error| Failure::Write(io::Error::other(error)))
}

/// The page of a command, or of the program.
pub(crate) fn page(command: Option<&str>) -> Result<String, Failure> {
    let name = command.map_or_else(|| "overstand.1".to_owned(), |of| format!("overstand-{of}.1"));
    match pages().iter().find(|page| page.get_filename() == name) {
        Some(page) => render(page),
        None => {
            let command = command.unwrap_or_default().chars().take(60).collect();
            Err(Failure::UnknownCommand(command))
        }
    }
}

/// Writes all pages to a folder.
pub(crate) fn write(folder: &Path) -> Result<(), Failure> {
    for page in pages() {
        let path = folder.join(page.get_filename());
        let text = render(&page)?;
        overstand_files::write_out(&path, text.as_bytes(), true)
            .map_err(|error| Failure::Save { path: path.clone(), error })?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_has_a_page_that_names_its_options() {
        let commands = Cli::command();
        let mut seen = 0;
        for command in commands.get_subcommands() {
            let text = page(Some(command.get_name())).unwrap();
            for option in command.get_arguments().filter_map(clap::Arg::get_long) {
                let shown = option.replace('-', "\\-");
                assert!(text.contains(&shown), "{} lacks {option}", command.get_name());
            }
            seen += 1;
        }
        assert!(seen >= 10, "only {seen} commands");
        assert!(page(None).unwrap().contains("overstand\\-check(1)"));
        assert!(page(Some("velvet")).is_err());
    }
}
