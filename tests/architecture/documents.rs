use std::{
    collections::BTreeSet,
    path::{Path, PathBuf},
};

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

/// The pictures that a document shows, by their paths from the top.
fn shown_in(document: &str) -> Vec<PathBuf> {
    let folder = Path::new(document).parent().unwrap_or(Path::new(""));
    let text = text(document);
    let links = text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    links
        .filter(|link| !link.contains("://") && !link.starts_with('#'))
        .map(|link| folder.join(link))
        .collect()
}

#[test]
fn every_picture_of_the_documents_is_there_and_small() {
    for (name, most) in
        [("README.md", 200_000), ("DEVELOPERS.md", 200_000), ("ui/pictures/README.md", 40_000)]
    {
        for picture in shown_in(name) {
            let path = suite::place::root().join(&picture);
            let size = path
                .metadata()
                .unwrap_or_else(|error| panic!("{name} shows {}: {error}", picture.display()))
                .len();
            assert!(size < most, "{} has {size} bytes", picture.display());
        }
    }
}

#[test]
fn every_state_of_the_live_form_is_shown_in_the_documents() {
    let shown = shown_in("ui/pictures/README.md");
    let kept: Vec<PathBuf> =
        files().into_iter().filter(|path| path.starts_with("ui/pictures/door")).collect();
    assert!(kept.len() > 30, "there is a picture of each: {}", kept.len());
    for picture in kept {
        assert!(shown.contains(&picture), "ui/pictures/README.md shows {}", picture.display());
    }
}
