use std::{collections::BTreeSet, path::Path};

use suite::place::{files, text};

/// What may stand at the top besides dotted files.
const TOP: &[&str] = &[
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "icons",
    "procedures",
    "src-tauri",
    "tests",
    "ui",
    "xtask",
];

/// Longer files have more than one reason to change.
const MOST_LINES: usize = 450;

fn is_code(path: &Path) -> bool {
    path.extension().is_some_and(|extension| ["rs", "css", "js", "sql", "py"].iter().any(|e| extension == *e))
}

#[test]
fn the_top_of_the_checkout_holds_only_what_belongs_there() {
    let top: BTreeSet<String> = files()
        .iter()
        .filter_map(|path| path.components().next())
        .map(|first| first.as_os_str().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.'))
        .collect();
    for name in &top {
        assert!(TOP.contains(&name.as_str()), "{name} does not belong at the top");
    }
}

#[test]
fn no_file_has_grown_too_long() {
    let long: Vec<String> = files()
        .into_iter()
        .filter(|path| is_code(path))
        .map(|path| (text(&path).lines().count(), path))
        .filter(|(lines, _)| *lines > MOST_LINES)
        .map(|(lines, path)| format!("{}: {lines}", path.display()))
        .collect();
    assert_eq!(long, Vec::<String>::new(), "longer than {MOST_LINES} lines");
}

#[test]
fn nothing_is_left_undone_or_switched_off() {
    // Put together here, so that this file does not find itself.
    let marks =
        [["TO", "DO"], ["FIX", "ME"], ["#[ig", "nore"], ["thread::sl", "eep("]].map(|mark| mark.concat());
    for path in files().into_iter().filter(|path| is_code(path)) {
        let text = text(&path);
        for mark in &marks {
            assert!(!text.contains(mark), "{} holds {mark}", path.display());
        }
    }
}
