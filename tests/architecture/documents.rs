use std::collections::BTreeSet;

use suite::place::{files, text};

/// Names of all functions in the project's Rust files, tests among them.
fn functions() -> BTreeSet<String> {
    files()
        .iter()
        .filter(|path| path.extension().is_some_and(|extension| extension == "rs"))
        .flat_map(|path| {
            let text = text(path);
            text.split("fn ")
                .skip(1)
                .filter_map(|rest| rest.split(|c: char| !c.is_alphanumeric() && c != '_').next())
                .map(str::to_owned)
                .collect::<Vec<_>>()
        })
        .collect()
}

/// The items of the list under a heading, each with its continuation lines.
fn items(document: &str, heading: &str) -> Vec<String> {
    let section = document.split("\n## ").find(|section| section.starts_with(heading)).unwrap_or_default();
    section.split("\n- ").skip(1).map(|item| item.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

#[test]
fn every_invariant_names_a_test_that_exists() {
    let functions = functions();
    let invariants = items(&text("DEVELOPERS.md"), "Invariants");
    assert!(invariants.len() > 10, "the list of invariants is found");
    for invariant in invariants {
        let (_, tests) = invariant
            .rsplit_once("Held by ")
            .unwrap_or_else(|| panic!("no test holds this invariant: {invariant}"));
        let named: Vec<&str> = tests.split('`').skip(1).step_by(2).collect();
        assert!(!named.is_empty(), "no test is named: {invariant}");
        for name in named {
            assert!(functions.contains(name), "no such test: {name}, of: {invariant}");
        }
    }
}

#[test]
fn the_readme_says_what_it_is_for_and_shows_the_two_commands() {
    let readme = text("README.md");
    let first = readme.split("\n\n").nth(1).unwrap_or_default();
    for word in ["observer", "protective equipment", "record"] {
        assert!(first.contains(word), "the first paragraph says the job: {word}");
    }
    for command in ["cargo xtask run", "cargo xtask test"] {
        assert!(readme.lines().any(|line| line.trim() == command), "README.md shows {command}");
    }
}

#[test]
fn every_picture_of_the_documents_is_there_and_small() {
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = text(name);
        for picture in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            if !picture.contains("://") && !picture.starts_with('#') {
                let path = suite::place::root().join(picture);
                let size =
                    path.metadata().unwrap_or_else(|error| panic!("{name} shows {picture}: {error}")).len();
                assert!(size < 200_000, "{picture} has {size} bytes");
            }
        }
    }
}
