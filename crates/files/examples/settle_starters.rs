//! Rewrites the starters with what is found worked out and rounded to four decimals,
//! and says how each plays. Run it after editing one:
//! `cargo run -p overstand-files --example settle_starters`.

use std::error::Error;
use std::io::Write as _;
use std::path::Path;

use overstand_core::dimension::Key;
use overstand_core::study::Study;
use overstand_core::units::LengthStyle;
use overstand_core::verdict::State;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/starters");
    let mut out = std::io::stdout();
    let mut paths = std::fs::read_dir(folder)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<Vec<_>, _>>()?;
    paths.sort();
    for path in paths {
        let mut file =
            overstand_files::read(&path).map_err(|error| format!("{}: {error}", path.display()))?;
        for design in &mut file.variants {
            let study = Study::of(design);
            writeln!(out, "{}: {}", design.name, study.word().show())?;
            for key in design.found.clone() {
                let key = Key::parse(&key)?;
                if let Some(value) = key.get(&study.design) {
                    let value = (value * 1e4).round() / 1e4;
                    key.set(design, value);
                    writeln!(out, "    {key} {value}")?;
                }
            }
            let Some(closed) = study.closed() else {
                writeln!(out, "    {}", study.reason().show(LengthStyle::Millimetres))?;
                continue;
            };
            for check in closed.checks.iter().filter(|check| check.state < State::Good) {
                let says = check.says.show(LengthStyle::Millimetres);
                writeln!(out, "    {}: {says}", check.state.text())?;
            }
        }
        overstand_files::save(&path, &file)?;
    }
    Ok(())
}
