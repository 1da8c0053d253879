//! From the text of a procedure file to a procedure.

use super::{Procedure, check};
use crate::flaw::{Flaw, MOST_FLAWS, Reading, locate, read_leniently};

/// Reads a procedure file, or tells all its flaws in the order of their places: those of its form (not
/// JSON, unknown or missing fields, wrong types) and those of its sense (see [`check`]).
///
/// Where the form of something that others refer to is broken (an id, the list of steps), the sense is
/// not checked: it would only repeat the same flaw at every reference.
pub fn read(text: &str) -> Result<Procedure, Vec<Flaw>> {
    let Reading { value, mut flaws } = read_leniently::<Procedure>(text);
    let Some(procedure) = value else { return Err(flaws) };
    if flaws.len() <= MOST_FLAWS && !flaws.iter().any(|flaw| defines(&flaw.pointer)) {
        let mut senseless = check(&procedure);
        // An empty value stands where the form is broken; what is said of it is no news.
        senseless.retain(|flaw| !flaws.iter().any(|broken| is_within(&flaw.pointer, &broken.pointer)));
        senseless.truncate(MOST_FLAWS);
        locate(text, &mut senseless);
        flaws.append(&mut senseless);
        flaws.sort_by_key(|flaw| (flaw.line, flaw.column));
    }
    if flaws.is_empty() { Ok(procedure) } else { Err(flaws) }
}

/// Whether other parts of the file refer to the value with this pointer.
fn defines(pointer: &str) -> bool {
    let mut tokens = pointer.split('/').skip(1);
    match (tokens.next(), tokens.next(), tokens.next()) {
        (None, _, _) | (Some("acts" | "combined_acts"), None, _) => true,
        (Some("steps" | "conditions" | "sources"), inner, field) => {
            inner.is_none() || matches!(field, None | Some("id"))
        }
        (Some(_), _, _) => false,
    }
}

fn is_within(pointer: &str, outer: &str) -> bool {
    pointer.strip_prefix(outer).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}
