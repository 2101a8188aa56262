//! What the tests that run the program share.
#![allow(dead_code, reason = "each test uses its part of this")]

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// The program, where there is no display.
pub(crate) fn program() -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_overstand"));
    for display in ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"] {
        program.env_remove(display);
    }
    program
}

/// Adds the name of every field anywhere in a JSON value.
pub(crate) fn add_fields(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (name, inner) in fields {
                // the names in there are keys of dimensions
                if name != "inputs" {
                    add_fields(inner, found);
                }
                found.insert(name.clone());
            }
        }
        Value::Array(values) => values.iter().for_each(|inner| add_fields(inner, found)),
        _ => {}
    }
}

/// That the documentation names every one of the fields.
pub(crate) fn assert_described(fields: &BTreeSet<String>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/json.md");
    let described = std::fs::read_to_string(path).unwrap();
    assert!(!fields.is_empty());
    for name in fields {
        assert!(described.contains(&format!("`{name}`")), "docs/json.md lacks `{name}`");
    }
}
