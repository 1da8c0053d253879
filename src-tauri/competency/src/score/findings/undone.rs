//! What was not done.

use std::collections::BTreeSet;

use super::super::Case;
use super::{Placed, by_whom, critical_if};
use crate::report::{Finding, FindingKind};
use crate::sentence::{self, Missed};

/// One finding for each required step without an act that was it. A missed free act names the one that
/// came too late, if any: each late one stands for one missed step.
pub(super) fn missed(case: &Case<'_>, placed: &mut Vec<Placed>) {
    let mut named = BTreeSet::new();
    for number in case.watched.required.iter() {
        let Some(step) = case.model.step(number) else { continue };
        if case.seen_at(number).is_some() || case.not_reached(number) {
            continue;
        }
        let exposed = exposed_by(case, number);
        let follower = exposed.or_else(|| {
            case.model.after(number).iter().filter_map(|later| Some((case.seen_at(later)?, later))).min()
        });
        let late = follower.and_then(|(after, _)| late_free_act(case, number, after, &named));
        named.extend(late);
        let because = match (follower, late) {
            (Some((_, later)), _) if exposed.is_some() => vec![(number, later)],
            (Some((_, later)), Some(_)) => case.model.path(number, later),
            (_, _) => Vec::new(),
        };
        let own = step.why.as_deref().filter(|_| step.critical);
        let danger = exposed.and_then(|(_, later)| case.model.why(number, later));
        let why = because.iter().find_map(|&(before, after)| case.model.why(before, after));
        let follower_act = follower.map(|(event, _)| case.act_at(event));
        let late_act = late.map(|event| case.act_at(event));
        let text = sentence::missed(
            case.model,
            step,
            Missed {
                before: follower_act.as_deref(),
                late: late_act.as_deref(),
                why: own.or(danger).or(step.why.as_deref()).or(why),
            },
        );
        let id = |step: usize| case.model.step(step).map(|step| step.id.clone()).unwrap_or_default();
        let finding = Finding {
            kind: FindingKind::Missed,
            step: Some(step.id.clone()),
            observation: None,
            severity: by_whom(critical_if(step.critical || exposed.is_some()), None, Some(step)),
            because: because.into_iter().map(|(before, after)| (id(before), id(after))).collect(),
            text,
        };
        placed.push(Placed { at: follower.map_or(usize::MAX, |(event, _)| case.place(event)), finding });
    }
}

/// The first step that was done though it is a danger to do it before this one: left out weighs no less than
/// done too late.
fn exposed_by(case: &Case<'_>, step: usize) -> Option<(usize, usize)> {
    let dangers = case.model.precedences().filter(|&(before, _, danger)| danger && before == step);
    dangers.filter_map(|(_, later, _)| Some((case.seen_at(later)?, later))).min()
}

/// A free act of a missed step that counts as no step and came only after what should have followed.
fn late_free_act(case: &Case<'_>, step: usize, after: usize, named: &BTreeSet<usize>) -> Option<usize> {
    (after + 1..case.watched.events.len()).find(|&event| {
        let fits = case.event(event).is_some_and(|(event, _)| event.free && event.steps.has(step));
        fits && case.is_step(event).is_none() && !named.contains(&event)
    })
}
