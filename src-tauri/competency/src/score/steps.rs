//! What became of each step.

use super::Case;
use super::watched::{Watched, act_id};
use crate::log::Log;
use crate::model::Model;
use crate::procedure::Mode;
use crate::report::{StepResult, StepState};

/// The credit of an event counted as a step: 2 done well; 1 prompted (in assessed mode), too short or
/// with a fault that does not contaminate; 0 with one that does.
pub(super) fn credit(model: &Model, log: &Log, watched: &Watched, step: usize, event: usize) -> u8 {
    let Some((event, seen)) =
        watched.events.get(event).and_then(|event| Some((event, log.observations.get(event.observation)?)))
    else {
        return 0;
    };
    let act = act_id(seen);
    if seen.faults.iter().any(|code| model.fault_contaminates(act, code)) {
        return 0;
    }
    let prompted = seen.prompted && log.mode == Mode::Assessed;
    let short =
        event.act.is_some_and(|act| too_short(model, watched, event.observation, act, step).is_some());
    if prompted || short || !seen.faults.is_empty() { 1 } else { 2 }
}

/// The most that an observation can have lasted and the least it should have, in ms, where it was too
/// short for a step.
pub(super) fn too_short(
    model: &Model,
    watched: &Watched,
    observation: usize,
    act: usize,
    step: usize,
) -> Option<(i64, i64)> {
    let most = watched.most_ms(observation)?;
    let least = model.procedure().least_seconds(model.step(step)?, &model.act(act)?.id)?;
    let least = 1000 * i64::from(least);
    (most < least).then_some((most, least))
}

/// One result for each step in file order.
pub(super) fn results(case: &Case<'_>) -> Vec<StepResult> {
    case.model
        .procedure()
        .steps
        .iter()
        .enumerate()
        .map(|(number, step)| {
            let event = case.event_of(number).filter(|_| !case.not_reached(number));
            let credit = event.map_or(0, |event| credit(case.model, case.log, &case.watched, number, event));
            StepResult {
                id: step.id.clone(),
                credit,
                observation: event
                    .and_then(|event| case.watched.events.get(event))
                    .map(|event| event.observation),
                state: state(case, number, event.is_some().then_some(credit)),
            }
        })
        .collect()
}

/// With the credit of a step that was seen in its order.
fn state(case: &Case<'_>, step: usize, credit: Option<u8>) -> StepState {
    if let Some(credit) = credit {
        if credit == 2 { StepState::Well } else { StepState::Partly }
    } else if case.paired.event_of(step).is_some() {
        StepState::OutOfOrder
    } else if !case.watched.applies.has(step) {
        StepState::NotApplicable
    } else if case.watched.not_seen.has(step) {
        StepState::NotSeen
    } else if !case.watched.required.has(step) {
        StepState::LeftOut
    } else if case.not_reached(step) {
        StepState::NotReached
    } else {
        StepState::Missed
    }
}
