//! What belongs to an observed act, whether it counts as a step or not.

use super::super::Case;
use super::super::steps::too_short;
use super::super::watched::{Event, act_id};
use super::{Placed, about, by_whom, critical_if};
use crate::log::{Call, Observation};
use crate::model::ActRow;
use crate::procedure::{Mode, Step, TechniqueFault};
use crate::report::{FindingKind, Severity};
use crate::sentence;

pub(super) fn of_acts(case: &Case<'_>, exposed: &[Option<usize>], placed: &mut Vec<Placed>) {
    let mut told_of = None;
    for (number, &event) in case.watched.events.iter().enumerate() {
        let Some(seen) = case.log.observations.get(event.observation) else { continue };
        let step = case.is_step(number).and_then(|step| case.model.step(step));
        // What is told as a step that exposed the person before its turn is not told as one too many.
        if !event.steps.iter().any(|step| exposed.get(step) == Some(&Some(number))) {
            out_of_place(case, number, event, seen, placed);
        }
        short(case, number, event, seen, placed);
        // A combined act is prompted, called and done badly as a whole: told once, at its first part.
        if told_of != Some(event.observation) {
            told_of = Some(event.observation);
            let step = step.or_else(|| whole_step(case, event.observation));
            prompted_or_called(case, event, seen, step, placed);
            faults(case, event, seen, step, placed);
        }
    }
}

/// The first step that any part of an observation is.
fn whole_step<'a>(case: &Case<'a>, observation: usize) -> Option<&'a Step> {
    let parts = case.watched.events.iter().enumerate().filter(|(_, event)| event.observation == observation);
    parts.filter_map(|(number, _)| case.is_step(number)).find_map(|step| case.model.step(step))
}

/// An act that must not happen, or that no step calls for.
fn out_of_place(case: &Case<'_>, number: usize, event: Event, seen: &Observation, placed: &mut Vec<Placed>) {
    let row = event.act.and_then(|act| case.model.act(act));
    let forbidden = row.and_then(|row| row.forbidden);
    if let Some((index, until)) = forbidden {
        let over = until.is_some_and(|step| {
            let out_of_sight = case.watched.not_seen.has(step) && case.seen_at(step).is_none();
            out_of_sight || case.seen_at(step).is_some_and(|done| done < number)
        });
        if !over {
            let until = until.and_then(|step| case.model.step(step));
            let why = case.model.procedure().forbidden_acts.get(index).and_then(|f| f.why.as_deref());
            let text = sentence::forbidden(&case.act_at(number), until, why);
            let severity = by_whom(Severity::Critical, Some(seen.by), None);
            placed.push(about(FindingKind::Forbidden, None, event.observation, severity, text));
        }
    } else if event.costs && case.is_step(number).is_none() {
        let text = sentence::extra(&case.act_at(number), counted_elsewhere(case, row));
        let severity = by_whom(Severity::Other, Some(seen.by), None);
        placed.push(about(FindingKind::Extra, None, event.observation, severity, text));
    }
}

/// Whether the same act counts as a step at another time.
fn counted_elsewhere(case: &Case<'_>, row: Option<&ActRow>) -> bool {
    row.is_some_and(|row| row.steps.iter().any(|step| case.seen_at(step).is_some()))
}

/// Too short for the step it is. One that counts as no step is measured by the least that any step
/// asks of it, and by none where it costs nothing and answers nothing.
fn short(case: &Case<'_>, number: usize, event: Event, seen: &Observation, placed: &mut Vec<Placed>) {
    let Some(act) = event.act else { return };
    let counted = case.is_step(number);
    let measured_by = |step| too_short(case.model, &case.watched, event.observation, act, step);
    let short = match counted {
        Some(step) => measured_by(step),
        None if event.costs || answers(case, event.observation) => {
            let by_all: Option<Vec<(i64, i64)>> = event.steps.iter().map(measured_by).collect();
            by_all.and_then(|all| all.into_iter().min_by_key(|&(_, least)| least))
        }
        None => None,
    };
    let Some((most, least)) = short else { return };
    let step = counted.and_then(|step| case.model.step(step));
    let timed = seen.until_ms.or(seen.lasted_ms).is_some();
    let text = sentence::too_short(&case.act_at(number), timed, most, least);
    let severity = by_whom(Severity::Other, Some(seen.by), step);
    placed.push(about(FindingKind::TooShort, step, event.observation, severity, text));
}

/// Whether the observation answers a response that was owed.
fn answers(case: &Case<'_>, observation: usize) -> bool {
    case.watched.owed.iter().any(|owed| owed.answered_by.contains(&observation))
}

fn prompted_or_called(
    case: &Case<'_>,
    event: Event,
    seen: &Observation,
    step: Option<&Step>,
    placed: &mut Vec<Placed>,
) {
    let act = || case.told().act_at(act_id(seen), seen);
    let mut tell = |kind, severity, text| {
        placed.push(about(kind, step, event.observation, severity, text));
    };
    match (case.log.mode, seen.call) {
        (Mode::Assessed, _) => {
            if seen.prompted {
                let critical = critical_if(step.is_some_and(|step| step.critical));
                let severity = by_whom(critical, Some(seen.by), step);
                tell(FindingKind::Prompted, severity, sentence::prompted(&act(), step));
            }
        }
        (Mode::Guided, Some(Call::Before)) => {
            let severity = by_whom(Severity::Other, Some(seen.by), step);
            tell(FindingKind::Call, severity, sentence::before_the_call(&act()));
        }
        (Mode::Guided, Some(Call::Wrong)) => {
            tell(FindingKind::Call, Severity::Team, sentence::wrong_call(&act()));
        }
        (Mode::Guided, None) => {}
    }
}

/// The faults of an act. One that carries contamination is critical unless its response followed.
fn faults(case: &Case<'_>, event: Event, seen: &Observation, step: Option<&Step>, placed: &mut Vec<Placed>) {
    let act = act_id(seen);
    for (number, code) in seen.faults.iter().enumerate() {
        if seen.faults.iter().take(number).any(|told| told == code) {
            continue;
        }
        let fault = declared(case, act, step, code);
        let contaminates = case.model.fault_contaminates(act, code);
        let dealt_with = super::contamination::followed(case, event.observation);
        let text = sentence::technique(
            &case.told().act_at(act, seen),
            fault.map_or(code, |fault| &fault.text),
            contaminates.then_some(dealt_with),
        );
        let severity = by_whom(critical_if(contaminates && !dealt_with), Some(seen.by), step);
        placed.push(about(FindingKind::Technique, step, event.observation, severity, text));
    }
}

/// The fault as the step it was counted as declares it, else as the first step with that act does.
fn declared<'a>(
    case: &Case<'a>,
    act: &str,
    step: Option<&'a Step>,
    code: &str,
) -> Option<&'a TechniqueFault> {
    let parts = case.model.parts(act).iter().filter_map(|&part| case.model.act(part));
    let others = parts.flat_map(|part| part.steps.iter()).filter_map(|step| case.model.step(step));
    step.into_iter().chain(others).flat_map(|step| &step.technique_faults).find(|fault| fault.code == code)
}
