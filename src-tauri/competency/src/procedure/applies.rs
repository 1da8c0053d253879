//! In which demonstrations a step is required, by the condition that it hangs on.

use super::Step;

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
