//! What a process without a window journals.

use competency::{procedure::Mode, validity::Purpose};
use evidence::digest;
use ledger::Begin;

/// A demonstration to begin, of nobody in particular.
pub fn begin(demonstration: &str) -> Begin {
    Begin {
        demonstration: demonstration.to_owned(),
        person: "wearer".to_owned(),
        observer: "observer".to_owned(),
        assistant: None,
        procedure: "doffing".to_owned(),
        version: "1.0.0".to_owned(),
        procedure_hash: digest(b"doffing"),
        purpose: Purpose::Practice,
        mode: Mode::Assessed,
        conditions: Vec::new(),
        first_attempt: None,
        paper_form: None,
        second_of: None,
    }
}
