//! Names: none twice, none empty, none that cannot be told apart.

use std::collections::BTreeMap;

use super::super::Procedure;
use super::Flaws;
use crate::flaw::below;

/// Longest id, in characters.
const LONGEST_ID: usize = 64;

pub(super) fn check(procedure: &Procedure, flaws: &mut Flaws) {
    stable_name("/id", "A procedure's id", &procedure.id, flaws);
    if let Some(family) = &procedure.family {
        stable_name("/family", "A family's name", family, flaws);
    } else if procedure.accepts_family {
        let text =
            "It accepts the other sequences of its family, but names no family; name one, or leave this out.";
        flaws.add("/accepts_family", text);
    }
    let steps = procedure.steps.iter().map(|step| &*step.id);
    unique("/steps", "step", "id", steps, flaws);
    let conditions = procedure.conditions.iter().map(|condition| &*condition.id);
    unique("/conditions", "condition", "id", conditions, flaws);
    let sources = procedure.sources.iter().map(|source| &*source.id);
    unique("/sources", "source", "id", sources, flaws);
    for (index, step) in procedure.steps.iter().enumerate() {
        let codes = step.technique_faults.iter().map(|fault| &*fault.code);
        unique(&format!("/steps/{index}/technique_faults"), "technique fault", "code", codes, flaws);
    }
    for act in procedure.acts.keys() {
        well_formed(&below("/acts", act), "act", act, flaws);
    }
    for act in procedure.combined_acts.keys() {
        well_formed(&below("/combined_acts", act), "combined act", act, flaws);
        if procedure.acts.contains_key(act) {
            let text = format!("\"{act}\" is the id of an act and of a combined act; rename one of them.");
            flaws.add(below("/combined_acts", act), text);
        }
    }
}

/// Names that files, hashes and the command line carry for years are kept plain.
fn stable_name(pointer: &str, what: &str, name: &str, flaws: &mut Flaws) {
    let plain = name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    if !plain || name.starts_with('-') || name.ends_with('-') || name.is_empty() || name.len() > LONGEST_ID {
        let text = format!(
            "{what} has small letters, digits and hyphens only, at most {LONGEST_ID} of them; \
             \"{name}\" is not such a name."
        );
        flaws.add(pointer, text);
    }
}

fn well_formed(pointer: &str, what: &str, id: &str, flaws: &mut Flaws) {
    if id.is_empty() || id.trim() != id || id.chars().count() > LONGEST_ID {
        let text = format!(
            "The name \"{id}\" of this {what} is empty, longer than {LONGEST_ID} characters, or has a space \
             at an end; give it another."
        );
        flaws.add(pointer, text);
    }
}

fn unique<'a>(list: &str, what: &str, field: &str, names: impl Iterator<Item = &'a str>, flaws: &mut Flaws) {
    let mut first: BTreeMap<&str, usize> = BTreeMap::new();
    for (index, name) in names.enumerate() {
        let pointer = format!("{list}/{index}/{field}");
        well_formed(&pointer, what, name, flaws);
        if let Some(earlier) = first.get(name) {
            let place = earlier + 1;
            let text = format!(
                "The {what} number {place} is called \"{name}\" already; give this one another {field}."
            );
            flaws.add(pointer, text);
        } else {
            first.insert(name, index);
        }
    }
}
