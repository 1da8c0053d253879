//! The live journal of one demonstration: what was tapped, line by line, undo and corrections
//! included, and the fold that makes of it the log that is scored.

use serde::{Deserialize, Serialize};

mod fold;

pub use fold::{Folded, Note, fold};

#[cfg(test)]
mod tests;

use crate::log::{Call, Contamination, HowEnded};
use crate::procedure::{ActId, By, ConditionId, StepId};

/// Names one tap; made by the window, so that a repeated request is the same tap.
pub type TapId = String;

/// One acknowledged line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// The tap.
    pub id: TapId,
    /// Milliseconds since the demonstration began, by a clock that nobody can set back.
    pub at_ms: i64,
    /// What was tapped.
    pub event: Event,
}

/// What may be tapped.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "is", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Event {
    /// An act was seen, now.
    Act {
        act: ActId,
        #[serde(default)]
        by: By,
    },
    /// A timed act ended, now.
    ActEnded { of: TapId },
    /// An act that was not tapped when it happened is put in its place: before the named line, or last.
    LateAct {
        act: ActId,
        #[serde(default)]
        by: By,
        before: Option<TapId>,
    },
    /// A condition was observed, now.
    Condition { condition: ConditionId },
    /// A contamination event. It happened when the observer began to enter it: so many ms before this line.
    Contamination {
        event: Contamination,
        #[serde(default)]
        ago_ms: u32,
    },
    /// The observer could not see this step.
    NotSeen { step: StepId },
    /// The observer answered that this step was not done.
    NotDone { step: StepId },
    /// The act of that line was prompted.
    Prompted { of: TapId },
    /// A technique fault of the act of that line.
    Fault { of: TapId, code: String },
    /// How the act of that line stood to the call.
    Called { of: TapId, call: Call },
    /// A note on that line, or on the demonstration.
    Note { of: Option<TapId>, text: String },
    /// That line is taken back; it stays in the trace.
    Undo { of: TapId },
    /// The demonstration is held.
    Hold,
    /// It goes on.
    Resume,
    /// It ended.
    End { how: HowEnded },
}
