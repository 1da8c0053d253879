//! Whether a procedure makes sense: everything a file's form cannot say.

mod names;
mod precedence;
mod references;
mod values;

use std::fmt;

use super::Procedure;
use crate::flaw::Flaw;

/// Every flaw in the sense of a procedure, not yet located in a text: names given twice or not at all,
/// references to what is not there, an order that cannot be kept, and values that contradict each other
/// or leave nothing to observe.
pub fn check(procedure: &Procedure) -> Vec<Flaw> {
    let mut flaws = Flaws(Vec::new());
    values::check(procedure, &mut flaws);
    names::check(procedure, &mut flaws);
    references::check(procedure, &mut flaws);
    precedence::check(procedure, &mut flaws);
    flaws.0
}

/// Only what no draft may have: references that lead nowhere and an order that cannot be kept.
pub(super) fn unkeepable(procedure: &Procedure) -> Vec<Flaw> {
    let mut flaws = Flaws(Vec::new());
    references::check(procedure, &mut flaws);
    precedence::check(procedure, &mut flaws);
    flaws.0
}

/// The flaws found so far.
struct Flaws(Vec<Flaw>);

impl Flaws {
    fn add(&mut self, pointer: impl fmt::Display, text: impl Into<String>) {
        self.0.push(Flaw::new(pointer.to_string(), text));
    }
}

fn is_blank(text: &str) -> bool {
    text.trim().is_empty()
}

fn lacks_reason(why: Option<&str>) -> bool {
    why.is_none_or(is_blank)
}
