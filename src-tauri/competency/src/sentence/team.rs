//! What the team did wrong themselves.

use super::{ended, terms};
use crate::procedure::By;

/// The observer's or the assistant's own error, with its time: `The observer’s own error at 4:10: read the
/// wrong step.`
pub(crate) fn team_error(by: By, when: &str, what: &str) -> String {
    ended(&format!("The {}’s own error{when}: {}", terms::by(by), what.trim()))
}
