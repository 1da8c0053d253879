//! The live journal of one demonstration: what was tapped, line by line, undo and corrections
//! included, and the fold that makes of it the log that is scored.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

mod afterwards;
mod fold;
pub mod written;

pub use afterwards::{Change, Coaching, HandOver, decided};
pub use fold::{Folded, Note, fold};

#[cfg(test)]
mod tests;

use written::TimeOfDay;

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
    /// The act of that line was another one, by somebody else perhaps; when it was seen stays.
    Corrected {
        of: TapId,
        act: ActId,
        #[serde(default)]
        by: By,
    },
    /// What the paper form says of that line: when it was, and how many seconds an act lasted. What it said
    /// before of that line no longer counts.
    Written {
        of: TapId,
        at: Option<TimeOfDay>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lasted_s: Option<u32>,
    },
    /// When the paper form says that it began and ended.
    WrittenSpan { begun: Option<TimeOfDay>, ended: Option<TimeOfDay> },
    /// The observer or the assistant did something wrong themselves, now.
    TeamError { by: By, what: String },
    /// Another observer takes over, named by their id.
    HandedOver { to: String },
    /// Every step without a tap has its answer; what changes the log after this is told on the record.
    Settled,
    /// Why that line was made after everything had its answer.
    Because { of: TapId, why: String },
    /// The observer's own decision, stricter than the rule: not yet competent.
    StricterDecision { why: String },
    /// What will be coached, and by when it is watched again.
    Coaching { what: String, again_by: Option<NaiveDate> },
}

impl Event {
    /// Whether a line changes what is scored; notes, reasons, decisions and plans do not.
    ///
    /// This is the one list that names every event, so that a new one is sorted here before anything else reads it.
    pub fn changes_the_log(&self) -> bool {
        match self {
            Event::Act { .. }
            | Event::ActEnded { .. }
            | Event::LateAct { .. }
            | Event::Condition { .. }
            | Event::Contamination { .. }
            | Event::NotSeen { .. }
            | Event::NotDone { .. }
            | Event::Prompted { .. }
            | Event::Fault { .. }
            | Event::Called { .. }
            | Event::Corrected { .. }
            | Event::Written { .. }
            | Event::WrittenSpan { .. }
            | Event::TeamError { .. }
            | Event::Hold
            | Event::Resume
            | Event::End { .. } => true,
            Event::Note { .. }
            | Event::Undo { .. }
            | Event::HandedOver { .. }
            | Event::Settled
            | Event::Because { .. }
            | Event::StricterDecision { .. }
            | Event::Coaching { .. } => false,
        }
    }

    /// The line of which this one says more: how the act there was done, or that it was another one.
    pub fn about(&self) -> Option<&TapId> {
        if let Event::ActEnded { of }
        | Event::Prompted { of }
        | Event::Fault { of, .. }
        | Event::Called { of, .. }
        | Event::Corrected { of, .. } = self
        {
            Some(of)
        } else {
            None
        }
    }
}
