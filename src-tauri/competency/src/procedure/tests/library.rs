//! The library: no flaw, nothing odd, and every file of the folder in it.

use std::collections::BTreeSet;
use std::path::Path;

use crate::flaw::locate;
use crate::procedure::{library, odd, read};

#[test]
fn every_procedure_reads_without_a_flaw_and_nothing_is_odd() {
    let mut told = Vec::new();
    for (name, text) in library() {
        let flaws = match read(text) {
            Ok(procedure) => {
                assert_eq!(format!("{}.json", procedure.id), *name, "the file is named as its procedure");
                let mut warnings = odd(&procedure);
                locate(text, &mut warnings);
                warnings
            }
            Err(flaws) => flaws,
        };
        told.extend(flaws.iter().map(|flaw| format!("{name}, {flaw}")));
    }
    assert!(told.is_empty(), "{told:#?}");
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

/// What a file may leave out, the library may not: an observer needs to know what to look for and what is
/// done badly, and an educator what it rests on.
#[test]
fn every_step_says_what_to_look_for_what_goes_wrong_and_why_and_cites_its_source() {
    for (name, text) in library() {
        let procedure = read(text).expect("it reads");
        for step in &procedure.steps {
            assert!(step.source.is_some(), "{name}: {} cites nothing", step.id);
            assert!(step.why.is_some(), "{name}: {} does not say why", step.id);
            assert!(!step.look_for.is_empty(), "{name}: {} says nothing to look for", step.id);
            assert!(!step.technique_faults.is_empty(), "{name}: {} names no fault", step.id);
        }
    }
}
