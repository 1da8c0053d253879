//! Contamination, and the responses that were owed.

use super::super::Case;
use super::{Placed, about, by_whom, critical_if};
use crate::log::{HowEnded, What};
use crate::report::FindingKind;
use crate::responses::{Cause, Owed};
use crate::sentence;

/// Whether every contamination response that one observation opened was given at once. Where the
/// procedure asks for none there is nothing that shows it was dealt with.
pub(super) fn followed(case: &Case<'_>, observation: usize) -> bool {
    let mut of = owed_to_contamination(case, observation).peekable();
    of.peek().is_some() && of.all(Owed::is_followed)
}

fn owed_to_contamination<'a>(case: &'a Case<'_>, observation: usize) -> impl Iterator<Item = &'a Owed> {
    case.watched.owed.iter().filter(move |owed| {
        owed.since == observation && matches!(owed.cause, Cause::Contamination | Cause::Fault)
    })
}

/// One finding for each contamination event: critical unless it was recognised and dealt with.
pub(super) fn events(case: &Case<'_>, placed: &mut Vec<Placed>) {
    for (index, seen) in case.log.observations.iter().enumerate() {
        let What::Contamination(event) = &seen.what else { continue };
        let asked = owed_to_contamination(case, index).next().is_some();
        let dealt_with = !asked || followed(case, index);
        let critical = critical_if(event.recognised_by.is_none() || !dealt_with);
        let text = sentence::contamination(&case.told(), event, seen, asked.then_some(dealt_with));
        let severity = by_whom(critical, Some(seen.by), None);
        placed.push(about(FindingKind::Contamination, None, index, severity, text));
    }
}

/// One finding for each response that was not given, or not at once. A late one weighs as much as one
/// that never came: it was asked for so that nothing is touched meanwhile. Where the demonstration was
/// ended early, before anything else was done, there was no time for it.
pub(super) fn responses(case: &Case<'_>, placed: &mut Vec<Placed>) {
    for owed in &case.watched.owed {
        let Some(seen) = case.log.observations.get(owed.since) else { continue };
        let no_time = case.log.ended.how != HowEnded::Completed && owed.interrupted_by.is_none();
        if owed.is_followed() || (!owed.is_answered() && no_time) {
            continue;
        }
        let procedure = case.model.procedure();
        let (groups, critical, why) = match owed.cause {
            Cause::Condition(number) => match procedure.responses.get(number) {
                Some(response) => (&response.acts, response.critical, response.why.as_deref()),
                None => continue,
            },
            Cause::Contamination | Cause::Fault => (&procedure.contamination_response, true, None),
        };
        let severity = by_whom(critical_if(critical), Some(seen.by), None);
        let cause = case.told().cause(seen);
        let between = owed.interrupted_by.and_then(|index| {
            let seen = case.log.observations.get(index)?;
            Some(case.told().act_at(super::act_id(seen), seen))
        });
        if owed.is_answered() {
            // The first answer that something came before: the earlier ones were in time.
            let in_time = |index: &usize| owed.interrupted_by.is_some_and(|between| *index < between);
            let answer = owed.answered_by.iter().find(|index| !in_time(index)).and_then(|&index| {
                let seen = case.log.observations.get(index)?;
                Some(case.told().act_at(super::act_id(seen), seen))
            });
            let text = sentence::response_late(
                &cause,
                &answer.unwrap_or_default(),
                &between.unwrap_or_default(),
                why,
            );
            placed.push(about(FindingKind::ResponseLate, None, owed.since, severity, text));
        } else {
            // What was owed when something else came: answers that came later do not make it another one.
            let in_time =
                owed.answered_by.iter().filter(|&&index| owed.interrupted_by.is_none_or(|at| index < at));
            let missing = groups.iter().skip(in_time.count());
            let missing: Vec<String> = missing.map(|group| sentence::any_of(case.model, group)).collect();
            let text = sentence::response_missed(&cause, &missing.join(", then "), between.as_deref(), why);
            placed.push(about(FindingKind::ResponseMissed, None, owed.since, severity, text));
        }
    }
}
