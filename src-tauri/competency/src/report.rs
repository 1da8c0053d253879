//! What scoring says.

use serde::{Deserialize, Serialize};

use crate::procedure::StepId;

/// The result of scoring one log against one procedure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Report {
    /// Required steps left unmatched plus observations left unmatched that are neither free nor answers.
    pub alignment_cost: u32,
    /// Credit over twice the number of counted steps, floored, 0 to 1000; 0 when nothing counted.
    pub score_permille: u32,
    /// Counted steps with full credit: the headline's numerator.
    pub steps_well: u32,
    /// Required steps of the wearer that applied and were seen: the headline's denominator.
    pub steps_counted: u32,
    /// The outcome by the facility's pass rule.
    pub outcome: Outcome,
    /// One per step of the procedure, in file order.
    pub steps: Vec<StepResult>,
    /// In the order they are told: critical first, then as they happened.
    pub findings: Vec<Finding>,
}

/// Whether the person is competent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// Competent.
    Competent,
    /// Not yet competent.
    NotYetCompetent,
    /// Not assessed: it changes no validity.
    NotAssessed,
}

/// What became of one step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StepResult {
    /// The step.
    pub id: StepId,
    /// 2 done well; 1 prompted, too short or with a fault that does not contaminate; 0 otherwise.
    pub credit: u8,
    /// Index in the log of the observation that counts as it.
    pub observation: Option<usize>,
    /// How it stands.
    pub state: StepState,
}

/// How a step stands in the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepState {
    /// Done as it should be.
    Well,
    /// Done, but prompted, too short or with a technique fault.
    Partly,
    /// Done, but not in its order.
    OutOfOrder,
    /// Not done.
    Missed,
    /// The demonstration ended before it.
    NotReached,
    /// The observer could not see it.
    NotSeen,
    /// Optional and left out.
    LeftOut,
    /// Its condition did not hold.
    NotApplicable,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finding {
    /// Its kind.
    pub kind: FindingKind,
    /// The step it is about.
    pub step: Option<StepId>,
    /// Index in the log of the observation it is about.
    pub observation: Option<usize>,
    /// Its severity.
    pub severity: Severity,
    /// The declared precedences that were reversed in fact: what should have come first, then what came too early.
    pub because: Vec<(StepId, StepId)>,
    /// One plain sentence that an observer could say to the person.
    pub text: String,
}

/// The kinds of finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FindingKind {
    /// A step came before another that should have come first.
    OutOfOrder,
    /// A required step was not done.
    Missed,
    /// An act that no step calls for.
    Extra,
    /// An act that must not happen.
    Forbidden,
    /// Something came between two steps that belong together.
    NotImmediate,
    /// Shorter than the least duration.
    TooShort,
    /// A technique fault.
    Technique,
    /// The person had to be prompted, in assessed mode.
    Prompted,
    /// In guided mode, the person acted before the call, or followed a wrong one.
    Call,
    /// A contamination event.
    Contamination,
    /// A required response was not given.
    ResponseMissed,
    /// A required response came after something else.
    ResponseLate,
    /// Something that the observer or the assistant did wrong themselves.
    TeamError,
}

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// One is enough for not yet competent.
    Critical,
    /// Counted against the pass rule.
    Other,
    /// The assistant's or the observer's: it never counts against the wearer.
    Team,
}
