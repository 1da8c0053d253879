//! Conditions: in which demonstrations a step is required, and what the condition says that it hangs on.

use super::{Procedure, Step};

/// In which demonstrations a step is required.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Applies<'a> {
    /// In each.
    Always,
    /// Where this condition holds.
    Where(&'a str),
    /// Where it does not hold.
    NotWhere(&'a str),
}

impl Applies<'_> {
    /// Whether it is, with what holds.
    pub fn with(self, holds: impl Fn(&str) -> bool) -> bool {
        match self {
            Applies::Always => true,
            Applies::Where(condition) => holds(condition),
            Applies::NotWhere(condition) => !holds(condition),
        }
    }

    /// The condition that it hangs on.
    pub fn condition(&self) -> Option<&str> {
        match self {
            Applies::Always => None,
            Applies::Where(condition) | Applies::NotWhere(condition) => Some(condition),
        }
    }
}

impl Step {
    /// In which demonstrations it is required.
    pub fn applies(&self) -> Applies<'_> {
        match (&self.when, &self.unless) {
            (None, None) => Applies::Always,
            // Checking refuses a step with both.
            (Some(condition), _) => Applies::Where(condition),
            (None, Some(condition)) => Applies::NotWhere(condition),
        }
    }
}

impl Procedure {
    /// What a condition says that may hold; its id where the procedure has none of that name.
    pub fn condition_text<'a>(&'a self, id: &'a str) -> &'a str {
        self.conditions.iter().find(|condition| condition.id == id).map_or(id, |condition| &condition.text)
    }
}
