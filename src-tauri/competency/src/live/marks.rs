//! What the live form shows beside each step and each act.

use super::{How, Live, Taken};
use crate::bits::Bits;
use crate::log::{Observation, What};
use crate::model::Model;
use crate::procedure::By;

/// The mark of one step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StepMark {
    /// How it stands.
    pub state: StepState,
    /// Index of the observation that counts as it.
    pub observation: Option<usize>,
}

/// How a step stands while the demonstration runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepState {
    /// It may come now.
    MayCome,
    /// Something must come first.
    NotYet,
    /// It was done in its order.
    Done,
    /// It was done before something that must come first.
    DoneTooEarly,
    /// It was skipped and done afterwards.
    DoneLate,
    /// It was skipped, and is still on offer.
    Skipped,
    /// The observer could not see it.
    NotSeen,
    /// Its condition does not hold.
    NotApplicable,
}

/// The mark of one act.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ActMark {
    /// How it stands.
    pub state: ActState,
    /// It answers a response that is due now.
    pub due: bool,
    /// Index of the observation that showed it last.
    pub last: Option<usize>,
    /// How often it was seen.
    pub times: usize,
}

/// How an act stands: the best of the steps it serves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ActState {
    /// It would count as a step that may come now.
    MayCome,
    /// It would count as a step that was skipped.
    Skipped,
    /// It would come too early.
    NotYet,
    /// Nothing more is asked of it.
    Done,
    /// It costs nothing, and would count as no step now.
    Free,
    /// It must not happen.
    Forbidden,
    /// The procedure does not call for it here.
    NotCalledFor,
}

impl Live {
    /// The mark of a step, by its number.
    pub fn step_mark(&self, model: &Model, step: usize) -> StepMark {
        let came = self.counted.get(step).copied().flatten();
        let state = match came.map(|came| came.how) {
            Some(How::InOrder) => StepState::Done,
            Some(How::Late) => StepState::DoneLate,
            Some(How::TooEarly) => StepState::DoneTooEarly,
            None if self.not_seen.has(step) => StepState::NotSeen,
            None if !self.applies.has(step) => StepState::NotApplicable,
            None if self.skipped.has(step) => StepState::Skipped,
            None if self.blockers(model, step).is_empty() => StepState::MayCome,
            None => StepState::NotYet,
        };
        StepMark { state, observation: came.map(|came| came.observation) }
    }

    /// The mark of an act, combined acts included: what a tap on it would count as now.
    pub fn act_mark(&self, model: &Model, act: &str) -> ActMark {
        let number = model.act_number(act);
        let last = number.and_then(|act| self.last.get(act)).copied().flatten();
        let parts = model.parts(act);
        let due = self.responses.due(model).any(|(_, group)| group.iter().any(|act| parts.contains(act)));
        ActMark {
            state: self.act_state(model, act, last.is_some()),
            due,
            last: last.map(|(observation, _)| observation),
            times: last.map_or(0, |(_, times)| times),
        }
    }

    fn act_state(&self, model: &Model, act: &str, was_seen: bool) -> ActState {
        // Trying the tap on a copy keeps the mark and the verdict from ever differing.
        let mut trial = self.clone();
        let mut outcomes = Vec::new();
        let tap = Observation {
            at_ms: None,
            until_ms: None,
            what: What::Act(act.to_owned()),
            prompted: false,
            faults: Vec::new(),
            by: By::Wearer,
            late: false,
            call: None,
        };
        trial.take(model, &tap, |_, taken, _| outcomes.push(taken));
        let any = |wanted: fn(&Taken) -> bool| outcomes.iter().any(wanted);
        if any(|taken| matches!(taken, Taken::Forbidden)) {
            ActState::Forbidden
        } else if any(|taken| matches!(taken, Taken::TooEarly { .. })) {
            ActState::NotYet
        } else if any(|taken| matches!(taken, Taken::Late(_))) {
            ActState::Skipped
        } else if any(|taken| matches!(taken, Taken::InOrder(_))) {
            ActState::MayCome
        } else if self.waits(model, act) {
            ActState::NotYet
        } else if any(|taken| matches!(taken, Taken::Free { .. } | Taken::Answer)) {
            ActState::Free
        } else if was_seen {
            ActState::Done
        } else {
            ActState::NotCalledFor
        }
    }

    /// Whether a step of this act is still to come: a free act is never too early, yet its step waits.
    fn waits(&self, model: &Model, act: &str) -> bool {
        let steps = model.parts(act).iter().filter_map(|&part| model.act(part)).map(|part| part.steps);
        let steps = steps.fold(Bits::EMPTY, Bits::or);
        !steps.and(self.applies).without(self.done).without(self.not_seen).is_empty()
    }
}
