//! The log of one demonstration: what the observer saw, in the order it happened.

use serde::{Deserialize, Serialize};

mod names;
mod read;

pub use read::{read, read_for};

use crate::procedure::{ActId, By, ConditionId, Mode, StepId};

/// What scoring reads besides the procedure. Times are milliseconds since the demonstration began; where it
/// is transcribed, since midnight of the paper form's date.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Log {
    /// Guided or assessed.
    pub mode: Mode,
    /// The conditions that held at the start.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub conditions: Vec<ConditionId>,
    /// How it ended.
    #[serde(default)]
    pub ended: Ended,
    /// It was observed with a paper form and entered from it.
    #[serde(default, skip_serializing_if = "is_false")]
    pub transcribed: bool,
    /// The spans during which it was held; they count into no duration. In order, not overlapping.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub held: Vec<Held>,
    /// What was seen, in the order it happened; equal times keep their order.
    pub observations: Vec<Observation>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it with a reference")]
fn is_false(value: &bool) -> bool {
    !*value
}

impl Log {
    /// Whether acts are in it and every one was entered afterwards: then nothing was logged while it was
    /// observed, and memory is no observation. What was written on a paper form while observing is not meant.
    pub fn only_entered_late(&self) -> bool {
        let mut acts = self.observations.iter().filter(|seen| matches!(seen.what, What::Act(_))).peekable();
        !self.transcribed && acts.peek().is_some() && acts.all(|act| act.late)
    }

    /// How many ms of a span it was held.
    pub(crate) fn held_between(&self, from: i64, until: i64) -> i64 {
        let within = |span: &Held| span.until_ms.min(until).saturating_sub(span.from_ms.max(from)).max(0);
        self.held.iter().map(within).sum()
    }
}

/// How and when a demonstration ended.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ended {
    /// How.
    #[serde(default)]
    pub how: HowEnded,
    /// When, in ms since the beginning; the end of the last observation where it is not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_ms: Option<i64>,
}

/// A span during which the demonstration was held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Held {
    /// From, in ms since the beginning.
    pub from_ms: i64,
    /// Until, in ms since the beginning.
    pub until_ms: i64,
}

/// The four ways to end.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HowEnded {
    /// Carried through.
    #[default]
    Completed,
    /// Stopped because of a suspected exposure.
    StoppedExposure,
    /// Stopped for safety for another reason, such as feeling faint.
    StoppedSafety,
    /// Broken off.
    Abandoned,
}

/// One observation.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "wire::Observation", into = "wire::Observation")]
pub struct Observation {
    /// When it was seen; `None` only where it was entered late or is a step not seen.
    pub at_ms: Option<i64>,
    /// When a timed act ended.
    pub until_ms: Option<i64>,
    /// How long a timed act lasted, in ms, where a paper form says so; it may say so without a time.
    pub lasted_ms: Option<i64>,
    /// What was seen.
    pub what: What,
    /// The observer told or reminded the person.
    pub prompted: bool,
    /// Codes of the technique faults seen.
    pub faults: Vec<String>,
    /// Who did it.
    pub by: By,
    /// Entered afterwards, in its place.
    pub late: bool,
    /// How the act stood to the call, in guided mode.
    pub call: Option<Call>,
}

/// In guided mode, how an act stood to the observer's call, where it was not as it should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Call {
    /// The person acted before the call.
    Before,
    /// The observer called the wrong step and the person followed.
    Wrong,
}

/// What an observation is of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// An act.
    Act(ActId),
    /// A contamination event.
    Contamination(Contamination),
    /// A condition that was observed.
    Condition(ConditionId),
    /// A step that the observer could not see.
    NotSeen(StepId),
    /// Something that the observer or the assistant did wrong themselves, in words.
    TeamError(String),
}

/// A contamination event.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Contamination {
    /// Where on the body.
    pub site: String,
    /// From what.
    pub from: String,
    /// Who noticed it; `None` when nobody did at the time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recognised_by: Option<By>,
}

mod wire {
    //! The flat shape of an observation in a log file.

    use serde::{Deserialize, Serialize};

    use super::{Call, Contamination, What};
    use crate::procedure::By;

    #[derive(Serialize, Deserialize)]
    #[serde(deny_unknown_fields)]
    pub(super) struct Observation {
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at_ms: Option<i64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        until_ms: Option<i64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lasted_ms: Option<i64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        act: Option<String>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        contamination: Option<Contamination>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        condition: Option<String>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        not_seen: Option<String>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        team_error: Option<String>,
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        prompted: bool,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        faults: Vec<String>,
        #[serde(default, skip_serializing_if = "By::is_wearer")]
        by: By,
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        late: bool,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        call: Option<Call>,
    }

    impl TryFrom<Observation> for super::Observation {
        type Error = String;

        fn try_from(wire: Observation) -> Result<Self, String> {
            let what = match (wire.act, wire.contamination, wire.condition, wire.not_seen, wire.team_error) {
                (Some(act), None, None, None, None) => What::Act(act),
                (None, Some(event), None, None, None) => What::Contamination(event),
                (None, None, Some(condition), None, None) => What::Condition(condition),
                (None, None, None, Some(step), None) => What::NotSeen(step),
                // What the wearer does wrong is a fault of an act, or an act that must not happen.
                (None, None, None, None, Some(_)) if wire.by.is_wearer() => {
                    return Err("a team_error is the observer's or the assistant's; say by whom with \"by\""
                        .to_owned());
                }
                (None, None, None, None, Some(what)) => What::TeamError(what),
                (_, _, _, _, _) => {
                    return Err(
                        "an observation needs exactly one of act, contamination, condition, not_seen, team_error"
                            .to_owned(),
                    );
                }
            };
            Ok(super::Observation {
                at_ms: wire.at_ms,
                until_ms: wire.until_ms,
                lasted_ms: wire.lasted_ms,
                what,
                prompted: wire.prompted,
                faults: wire.faults,
                by: wire.by,
                late: wire.late,
                call: wire.call,
            })
        }
    }

    impl From<super::Observation> for Observation {
        fn from(observation: super::Observation) -> Self {
            let (mut act, mut contamination, mut condition) = (None, None, None);
            let (mut not_seen, mut team_error) = (None, None);
            match observation.what {
                What::Act(id) => act = Some(id),
                What::Contamination(event) => contamination = Some(event),
                What::Condition(id) => condition = Some(id),
                What::NotSeen(step) => not_seen = Some(step),
                What::TeamError(what) => team_error = Some(what),
            }
            Observation {
                at_ms: observation.at_ms,
                until_ms: observation.until_ms,
                lasted_ms: observation.lasted_ms,
                act,
                contamination,
                condition,
                not_seen,
                team_error,
                prompted: observation.prompted,
                faults: observation.faults,
                by: observation.by,
                late: observation.late,
                call: observation.call,
            }
        }
    }
}
