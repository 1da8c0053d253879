//! What came out of its order, and what did not follow at once.

use super::super::Case;
use super::super::outcome::followed_a_wrong_call;
use super::{Placed, by_whom, critical_if};
use crate::log::Call;
use crate::procedure::Mode;
use crate::report::{Finding, FindingKind, Severity};
use crate::sentence::{self, Reversal};

/// How many dangers are told of one act: more is not heard.
const MOST_REASONS: usize = 2;

/// One precedence that was reversed in fact.
struct Reversed {
    before: usize,
    after: usize,
    /// The declared precedences that lead from one to the other: itself, or the shortest path.
    path: Vec<(usize, usize)>,
}

/// One finding for each step that was done, but not in its order; and for each that was done again in its
/// order after it had exposed the person before its turn, since doing it again undoes no exposure.
pub(super) fn out_of_order(case: &Case<'_>, exposed: &[Option<usize>], placed: &mut Vec<Placed>) {
    let exposed = exposed.iter().enumerate().filter_map(|(step, event)| Some((step, (*event)?)));
    for (number, event) in case.paired.iter().chain(exposed) {
        let (Some(step), Some((seen_event, seen))) = (case.model.step(number), case.event(event)) else {
            continue;
        };
        let reversed = reversed(case, number, event);
        let because: Vec<(usize, usize)> = reversed.iter().flat_map(|r| r.path.iter().copied()).collect();
        let danger = because.iter().any(|&(before, after)| case.model.danger(before, after));
        let severity = if followed_a_wrong_call(case, number) || called_too_soon(case, number) {
            Severity::Team
        } else {
            by_whom(critical_if(danger), Some(seen.by), Some(step))
        };
        let dangerous = because.iter().filter(|&&(before, after)| case.model.danger(before, after));
        let mut reasons: Vec<&str> =
            dangerous.filter_map(|&(before, after)| case.model.why(before, after)).collect();
        reasons.dedup();
        reasons.truncate(MOST_REASONS);
        if reasons.is_empty() {
            let other = because.iter().find_map(|&(before, after)| case.model.why(before, after));
            reasons.extend(other);
        }
        let reasons: Vec<String> = reasons.into_iter().map(sentence::reason).collect();
        let why = reasons.join(" and because ");
        let why = Some(why.as_str()).filter(|why| !why.is_empty());
        let others: Vec<Reversal> = reversed
            .iter()
            .filter_map(|r| {
                let other = if r.after == number { r.before } else { r.after };
                let act = case.act_at(case.seen_at(other)?);
                Some(Reversal { act, should_come_first: r.after == number })
            })
            .collect();
        let text = sentence::out_of_order(&case.act_at(event), &others, why);
        let id = |step: usize| case.model.step(step).map(|step| step.id.clone()).unwrap_or_default();
        let finding = Finding {
            kind: FindingKind::OutOfOrder,
            step: Some(step.id.clone()),
            observation: Some(seen_event.observation),
            severity,
            because: because.into_iter().map(|(before, after)| (id(before), id(after))).collect(),
            text,
        };
        placed.push(Placed { at: seen_event.observation, finding });
    }
}

/// In guided mode, whether a step came before its turn only because the assistant or the observer had not done
/// theirs: whoever calls the steps called this one too soon. What exposed the person, or was done before it was
/// called, stays the wearer's.
pub(in super::super) fn called_too_soon(case: &Case<'_>, step: usize) -> bool {
    let Some(event) = case.paired.event_of(step) else { return false };
    let unasked = case.event(event).is_none_or(|(_, seen)| seen.call == Some(Call::Before));
    if case.log.mode != Mode::Guided || unasked {
        return false;
    }
    let reversed = reversed(case, step, event);
    let the_teams = |other: usize| case.model.step(other).is_some_and(|step| !step.by.is_wearer());
    let danger = |one: &Reversed| one.path.iter().any(|&(before, after)| case.model.danger(before, after));
    !reversed.is_empty()
        && reversed.iter().all(|one| one.after == step && the_teams(one.before) && !danger(one))
}

/// For each step the first act of it that exposed the person, where there is one; see
/// [`Case::exposed_early`].
pub(super) fn exposed_early(case: &Case<'_>) -> Vec<Option<usize>> {
    let dangers = case.model.precedences().any(|(_, _, danger)| danger);
    (0..case.model.len()).map(|step| if dangers { case.exposed_early(step) } else { None }).collect()
}

impl Case<'_> {
    /// The first act of a step that was done again later and counts there, where it came before a step that
    /// it is a danger to come before.
    fn exposed_early(&self, step: usize) -> Option<usize> {
        let counted = self.event_of(step)?;
        // Only what came before some step that comes first can have come too early.
        let last = self.model.before(step).iter().filter_map(|before| self.seen_at(before)).max()?;
        (0..counted.min(last)).find(|&event| {
            let early = self.watched.events.get(event).is_some_and(|seen| seen.costs && seen.steps.has(step));
            early && self.is_step(event).is_none() && self.was_a_danger(step, event)
        })
    }

    fn was_a_danger(&self, step: usize, event: usize) -> bool {
        let reversed = reversed(self, step, event);
        let early = reversed.iter().filter(|reversed| reversed.after == step);
        early.flat_map(|reversed| &reversed.path).any(|&(before, after)| self.model.danger(before, after))
    }
}

/// The declared precedences of this step that were reversed in fact; where there is none, the implied
/// one with the shortest path.
fn reversed(case: &Case<'_>, step: usize, event: usize) -> Vec<Reversed> {
    let model = case.model;
    let seen = |other: usize| case.seen_at(other);
    let early = model.before(step).iter().filter(|&other| seen(other).is_some_and(|at| at > event));
    let late = model.after(step).iter().filter(|&other| seen(other).is_some_and(|at| at < event));
    let all = early.map(|other| (other, step)).chain(late.map(|other| (step, other)));
    let mut found: Vec<Reversed> =
        all.map(|(before, after)| Reversed { before, after, path: model.path(before, after) }).collect();
    let shortest = found.iter().map(|reversed| reversed.path.len()).min().unwrap_or_default();
    if shortest == 1 {
        found.retain(|reversed| reversed.path.len() == 1);
    } else {
        let danger = |r: &Reversed| r.path.iter().any(|&(before, after)| model.danger(before, after));
        found.sort_by_key(|reversed| (reversed.path.len(), !danger(reversed)));
        found.truncate(1);
    }
    found
}

/// Steps that did not follow at once where they had to. Free acts and answers may come between.
pub(super) fn not_immediate(case: &Case<'_>, placed: &mut Vec<Placed>) {
    for (number, step) in case.model.procedure().steps.iter().enumerate() {
        let first = case.model.immediately_after(number).and_then(|first| case.event_of(first));
        let (Some(first), Some(event)) = (first, case.event_of(number)) else { continue };
        let between = (first + 1..event).find(|&between| case.event(between).is_some_and(|(e, _)| e.costs));
        let (Some(between), Some((seen_event, seen))) = (between, case.event(event)) else { continue };
        let text = sentence::not_immediate(
            &case.act_at(event),
            &case.act_at(first),
            &case.act_at(between),
            step.why.as_deref(),
        );
        placed.push(super::about(
            FindingKind::NotImmediate,
            Some(step),
            seen_event.observation,
            by_whom(Severity::Other, Some(seen.by), Some(step)),
            text,
        ));
    }
}
