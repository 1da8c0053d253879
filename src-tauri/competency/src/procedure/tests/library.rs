//! The library: no flaw, nothing odd, and every file of the folder in it.

use std::collections::BTreeSet;
use std::path::Path;

use crate::flaw::locate;
use crate::procedure::{Footing, library, odd, read};

#[test]
fn every_procedure_reads_without_a_flaw_and_nothing_is_odd() {
    for (name, text) in library() {
        let procedure = read(text).unwrap_or_else(|flaws| panic!("{name}: {flaws:#?}"));
        assert_eq!(format!("{}.json", procedure.id), *name, "the file is named as its procedure");
        let mut warnings = odd(&procedure);
        locate(text, &mut warnings);
        assert!(warnings.is_empty(), "{name}: {warnings:#?}");
    }
}

#[test]
fn the_library_holds_every_file_of_the_folder() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
    let found: BTreeSet<String> = folder
        .read_dir()
        .expect("the folder is there")
        .map(|entry| entry.expect("it can be listed").file_name().to_string_lossy().into_owned())
        .filter(|name| name != "procedure.schema.json")
        .collect();
    let held: BTreeSet<String> = library().iter().map(|(name, _)| (*name).to_owned()).collect();
    assert_eq!(held, found);
    let sorted: Vec<&str> = held.iter().map(|name| &**name).collect();
    let given: Vec<&str> = library().iter().map(|(name, _)| *name).collect();
    assert_eq!(given, sorted);
}

/// An educator must be able to see what rests on memory; see the project's notes on footing.
#[test]
fn every_critical_step_and_every_danger_says_why_and_every_step_cites_a_source() {
    for (name, text) in library() {
        let procedure = read(text).expect("it reads");
        for step in &procedure.steps {
            assert!(step.source.is_some(), "{name}: {} cites nothing", step.id);
            assert!(!step.look_for.is_empty() || step.acts.len() == 1, "{name}: {}", step.id);
        }
        let weakest = procedure.sources.iter().map(|source| source.footing).max();
        assert!(weakest.is_some_and(|footing| footing >= Footing::Read), "{name}");
    }
}
