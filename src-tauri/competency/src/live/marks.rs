//! What the live form shows beside each step and each act.

use super::{How, Live, Taken};
use crate::bits::Bits;
use crate::model::Model;

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
    /// It would come too early, or expose the person since something was skipped.
    NotYet,
    /// Nothing more is asked of it.
    Done,
    /// It costs nothing, and would count as no step now.
    Free,
    /// It must not happen.
    Forbidden,
    /// It must not have happened before, and may now.
    Allowed,
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
            None if self.blockers(model, step).is_empty() && self.skipped_danger(model, step).is_empty() => {
                StepState::MayCome
            }
            None => StepState::NotYet,
        };
        StepMark { state, observation: came.map(|came| came.observation) }
    }

    /// The mark of an act, combined acts included: what a tap on it would count as now.
    pub fn act_mark(&self, model: &Model, act: &str) -> ActMark {
        let number = model.act_number(act);
        let last = number.and_then(|act| self.last.get(act)).copied().flatten();
        let parts = number.map_or(&[][..], |act| model.parts_of(act));
        ActMark {
            state: self.act_state(model, parts, last.is_some()),
            due: parts.iter().any(|&part| self.responses.would_answer(model, part)),
            last: last.map(|(observation, _)| observation),
            times: last.map_or(0, |(_, times)| times),
        }
    }

    fn act_state(&self, model: &Model, parts: &[usize], was_seen: bool) -> ActState {
        // Of the parts of a combined act the one that matters most to the observer.
        let matters = |state: &ActState| {
            [ActState::Forbidden, ActState::NotYet, ActState::Skipped, ActState::MayCome, ActState::Free]
                .iter()
                .position(|known| known == state)
                .unwrap_or(usize::MAX)
        };
        let foretold = match parts {
            [] => None,
            &[part] => {
                Some(state_of(self.foretell(model, part, None, self.responses.would_answer(model, part))))
            }
            parts => {
                let states: Vec<ActState> =
                    self.foretell_all(model, parts).into_iter().map(state_of).collect();
                let best = states.iter().copied().min_by_key(matters);
                // What is done already in one of its parts cannot come in one any more.
                let halved = states.contains(&ActState::NotCalledFor)
                    && matches!(best, Some(ActState::MayCome | ActState::Skipped));
                if halved {
                    return if was_seen { ActState::Done } else { ActState::NotCalledFor };
                }
                best
            }
        };
        match foretold.unwrap_or(ActState::NotCalledFor) {
            state @ (ActState::Forbidden | ActState::NotYet | ActState::Skipped | ActState::MayCome) => state,
            // It is never too early, so nobody is to hesitate, though its step still waits.
            ActState::Free => ActState::Free,
            ActState::Done | ActState::Allowed | ActState::NotCalledFor if self.waits(model, parts) => {
                ActState::NotYet
            }
            ActState::Done | ActState::Allowed | ActState::NotCalledFor if was_seen => ActState::Done,
            ActState::Allowed => ActState::Allowed,
            ActState::Done | ActState::NotCalledFor => ActState::NotCalledFor,
        }
    }

    /// What each part of a combined act would count as, the earlier ones done: tried on a copy, so that the
    /// mark and the verdict never differ.
    fn foretell_all(&self, model: &Model, parts: &[usize]) -> Vec<Taken> {
        let mut trial = self.clone();
        let foretold = parts.iter().map(|&part| {
            let answers = trial.responses.act(model, Some(part), trial.seen);
            trial.count(model, part, (trial.seen, None), answers)
        });
        foretold.collect()
    }

    /// Whether a step of this act is still to come.
    fn waits(&self, model: &Model, parts: &[usize]) -> bool {
        let steps = parts.iter().filter_map(|&part| model.act(part)).map(|part| part.steps);
        let steps = steps.fold(Bits::EMPTY, Bits::or);
        !steps.and(self.applies).without(self.done).without(self.not_seen).is_empty()
    }
}

/// The mark of an act that would count as this.
fn state_of(taken: Taken) -> ActState {
    match taken {
        Taken::Forbidden => ActState::Forbidden,
        Taken::TooEarly { .. } => ActState::NotYet,
        Taken::InOrder { danger, .. } if !danger.is_empty() => ActState::NotYet,
        Taken::Late(_) => ActState::Skipped,
        Taken::InOrder { .. } => ActState::MayCome,
        Taken::Free { .. } | Taken::Answer => ActState::Free,
        Taken::NoLongerForbidden => ActState::Allowed,
        Taken::Extra => ActState::NotCalledFor,
    }
}
