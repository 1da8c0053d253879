//! One table of scored logs. Its digests stand in `digests.txt`, and every platform must give the same.
//!
//! The table is made by whole numbers alone, so it is itself the same everywhere; what could differ is the
//! width of `usize` and what hangs on it.

use std::fmt::Write;

use competency::log::Log;
use competency::model::Model;
use competency::procedure::{Procedure, library, read};
use competency::score::score;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

#[expect(
    dead_code,
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "written for the outside checks, where a test may stop at what is wrong"
)]
#[path = "../../oracles/cases.rs"]
mod cases;

use cases::{Case, Chance};

/// What the table must be.
pub const DIGESTS: &str = include_str!("../digests.txt");

/// A line a case: its name, and the SHA-256 of the report as JSON.
///
/// # Errors
///
/// What could not be read or written; nothing of the kind is expected.
pub fn table() -> Result<Vec<String>, String> {
    let mut lines = Vec::new();
    for (name, text) in library() {
        let procedure = read(text).map_err(|flaws| format!("{name}: {flaws:?}"))?;
        for number in 0..8 {
            let log = demonstration(&procedure, number)?;
            lines.push(line(&format!("{name} {number}"), &Model::new(procedure.clone()), &log)?);
        }
    }
    let mut chance = Chance(32);
    for size in (4..=40).step_by(4) {
        for number in 0..10 {
            // One act in two out of place, and orders of shared acts to be tried.
            let case = Case::random(&mut chance, size, 2, false);
            lines.push(line(&format!("{size} steps {number}"), &case.model(), &case.log())?);
        }
    }
    Ok(lines)
}

fn line(name: &str, model: &Model, log: &Log) -> Result<String, String> {
    let report = serde_json::to_vec(&score(model, log)).map_err(|error| error.to_string())?;
    let mut line = format!("{name}: ");
    for byte in Sha256::digest(&report) {
        write!(line, "{byte:02x}").map_err(|error| error.to_string())?;
    }
    Ok(line)
}

/// A log of a procedure in printed order; every number after the first spoils it in another way.
fn demonstration(procedure: &Procedure, number: u64) -> Result<Log, String> {
    let mut chance = Chance(number);
    let mut seen: Vec<Value> = Vec::new();
    for step in &procedure.steps {
        let act = step.acts.get(chance.below(step.acts.len()));
        seen.push(json!({ "act": act, "by": step.by }));
        let fault = step.technique_faults.first();
        match if number == 0 { usize::MAX } else { chance.below(16) } {
            0 => drop(seen.pop()),
            1 => seen.rotate_right(1),
            2 => seen.push(json!({ "act": act })),
            3 => seen.push(json!({ "act": act, "prompted": true, "faults": fault.map(|fault| vec![&fault.code]).unwrap_or_default() })),
            4 => seen.push(json!({ "contamination": { "site": "wrist", "from": "gown" } })),
            5 => seen.extend(procedure.conditions.first().map(|condition| json!({ "condition": condition.id }))),
            6 => seen.push(json!({ "act": procedure.forbidden_acts.first().map_or("unknown", |forbidden| &forbidden.act) })),
            7 => seen.push(json!({ "not_seen": step.id })),
            _ => {}
        }
    }
    for (place, seen) in seen.iter_mut().enumerate() {
        let at_ms = i64::try_from(place).map_err(|error| error.to_string())? * 15_000;
        if let Some(fields) = seen.as_object_mut() {
            fields.insert("at_ms".to_owned(), at_ms.into());
        }
    }
    let mode = if number.is_multiple_of(2) { "assessed" } else { "guided" };
    serde_json::from_value(json!({ "mode": mode, "observations": seen })).map_err(|error| error.to_string())
}
