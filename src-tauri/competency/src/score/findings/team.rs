//! What the observer or the assistant did wrong themselves: told, and never held against the wearer.

use super::super::Case;
use super::{Placed, about};
use crate::log::What;
use crate::report::{FindingKind, Severity};
use crate::sentence;

/// One finding for each such error.
pub(super) fn errors(case: &Case<'_>, placed: &mut Vec<Placed>) {
    for (index, seen) in case.log.observations.iter().enumerate() {
        let What::TeamError(what) = &seen.what else { continue };
        let text = sentence::team_error(seen.by, &case.told().when(seen), what);
        placed.push(about(FindingKind::TeamError, None, index, Severity::Team, text));
    }
}
