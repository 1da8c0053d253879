//! Scoring: what one log is worth against one procedure.

use std::convert::Infallible;

use crate::align::{Worth, align};
use crate::bits::Bits;
use crate::log::{HowEnded, Log};
use crate::model::{MAX_SHARED_ORDERS, Model};
use crate::report::Report;
use crate::sentence;

mod findings;
mod outcome;
mod pairing;
mod steps;
#[cfg(test)]
mod tests;
mod watched;

use findings::findings;
use pairing::Paired;
use watched::{AtTheTime, Watched};

/// Scores a log against a procedure, times told as minutes and seconds into the demonstration. Never
/// fails. Usual logs take well under a millisecond. The worst found, 128 steps that share four acts
/// with 2,000 observations of all four done in one, took 0.7 seconds and 300 MB on one core of a small server, and
/// 35 seconds where 64 orders of other shared acts had to be tried: call it off the thread that draws, and use
/// [`score_unless`] where it may have to be stopped; it then stopped within a second.
pub fn score(model: &Model, log: &Log) -> Report {
    score_as_told(model, log, &sentence::minutes)
}

/// The same, with the times of the sentences in the caller's own form: `clock` is given ms since the
/// demonstration began.
pub fn score_as_told(model: &Model, log: &Log, clock: &dyn Fn(i64) -> String) -> Report {
    let Ok(report) = report(model, log, clock, &|| Ok::<(), Infallible>(()));
    report
}

/// The same, unless `stop`, which is asked now and then, says yes: then `None`.
pub fn score_unless(
    model: &Model,
    log: &Log,
    clock: &dyn Fn(i64) -> String,
    stop: &dyn Fn() -> bool,
) -> Option<Report> {
    report(model, log, clock, &|| if stop() { Err(()) } else { Ok(()) }).ok()
}

/// The alignment cost alone, as programs for conformance checking give it.
pub fn alignment_cost(model: &Model, log: &Log) -> u32 {
    let Ok(case) = Case::new(model, log, &sentence::minutes, &|| Ok::<(), Infallible>(()));
    case.cost()
}

fn report<S>(
    model: &Model,
    log: &Log,
    clock: &dyn Fn(i64) -> String,
    stop: &dyn Fn() -> Result<(), S>,
) -> Result<Report, S> {
    let case = Case::new(model, log, clock, stop)?;
    let steps = steps::results(&case);
    let findings = findings(&case);
    let tally = outcome::tally(&case, &steps, &findings);
    Ok(Report {
        alignment_cost: case.cost(),
        score_permille: tally.permille(),
        steps_well: tally.well,
        steps_counted: tally.counted,
        outcome: tally.outcome,
        steps,
        findings,
    })
}

/// Scores a log against each of the procedures that are accepted for the same thing and keeps the best:
/// by outcome, then the fewest critical findings, the least alignment cost, the fewest other findings,
/// the highest score, and the first in the list. Gives its place in the list; `None` for an empty list.
pub fn score_family(models: &[Model], log: &Log) -> Option<(usize, Report)> {
    score_family_unless(models, log, &|| false)
}

/// The same, unless `stop`, which is asked now and then, says yes: then `None`.
pub fn score_family_unless(models: &[Model], log: &Log, stop: &dyn Fn() -> bool) -> Option<(usize, Report)> {
    let reports = models.iter().map(|model| score_unless(model, log, &sentence::minutes, stop));
    let reports = reports.collect::<Option<Vec<Report>>>()?;
    reports.into_iter().enumerate().min_by_key(|(index, report)| (outcome::rank(report), *index))
}

/// One log against one procedure, aligned.
struct Case<'a> {
    model: &'a Model,
    log: &'a Log,
    clock: &'a dyn Fn(i64) -> String,
    watched: Watched,
    /// For each step the event that counts as it.
    event_of: Vec<Option<usize>>,
    /// For each event the step it counts as.
    step_of: Vec<Option<usize>>,
    /// Unmatched steps with the unmatched events that were them, out of their order.
    paired: Paired,
}

impl<'a> Case<'a> {
    fn new<S>(
        model: &'a Model,
        log: &'a Log,
        clock: &'a dyn Fn(i64) -> String,
        stop: &dyn Fn() -> Result<(), S>,
    ) -> Result<Case<'a>, S> {
        let watched = Watched::new(model, log);
        let steps_of: Vec<Bits> = watched.events.iter().map(|event| event.steps).collect();
        let mut occurs = vec![false; model.act_count()];
        for act in watched.events.iter().filter_map(|event| event.act) {
            if let Some(occurs) = occurs.get_mut(act) {
                *occurs = true;
            }
        }
        let occurs = |act: usize| occurs.get(act).copied().unwrap_or_default();
        let orders = model.orders(watched.applies, occurs, MAX_SHARED_ORDERS);
        let worth = |step: usize, event: usize| watched.worth(model, log, step, event);
        let alignment = align(&orders, &steps_of, worth, stop)?;
        let mut event_of = vec![None; model.len()];
        let mut step_of = vec![None; watched.events.len()];
        for &(step, event) in &alignment.pairs {
            if let (Some(step_slot), Some(event_slot)) = (event_of.get_mut(step), step_of.get_mut(event)) {
                (*step_slot, *event_slot) = (Some(event), Some(step));
            }
        }
        let paired = Paired::new(model, &watched, &event_of, &step_of);
        Ok(Case { model, log, clock, watched, event_of, step_of, paired })
    }

    fn event_of(&self, step: usize) -> Option<usize> {
        self.event_of.get(step).copied().flatten()
    }

    fn step_of(&self, event: usize) -> Option<usize> {
        self.step_of.get(event).copied().flatten()
    }

    /// Where a step was in fact seen, in its order or not.
    fn seen_at(&self, step: usize) -> Option<usize> {
        self.event_of(step).or_else(|| self.paired.event_of(step))
    }

    /// The step that an event is, in its order or not.
    fn is_step(&self, event: usize) -> Option<usize> {
        self.step_of(event).or_else(|| self.paired.step_of(event))
    }

    /// Whether the demonstration ended before a step: neither it nor anything that comes after it was seen. A
    /// free act that the live rule counted as no step does not show that the person had got so far, and nor
    /// does an answer to a response, which has to come whenever it is owed.
    fn not_reached(&self, step: usize) -> bool {
        let shows = |event: usize| {
            self.watched.events.get(event).is_some_and(|event| match event.live {
                AtTheTime::Counted(_) | AtTheTime::Warned(_) => true,
                AtTheTime::Waited(_) => false,
                AtTheTime::Nothing => event.costs,
            })
        };
        let mut own_and_later = std::iter::once(step).chain(self.model.after(step).iter());
        self.log.ended.how != HowEnded::Completed
            && !own_and_later.any(|step| self.seen_at(step).is_some_and(shows))
    }

    /// Whether a step counts towards the score: it applies, may not be skipped freely, and was in sight, as a
    /// step is whose act was logged, whatever else the log says of it.
    fn counts(&self, step: usize) -> bool {
        let asked = self.watched.applies.without(self.model.optional()).has(step);
        asked && (!self.watched.not_seen.has(step) || self.seen_at(step).is_some())
    }

    fn cost(&self) -> u32 {
        let steps = self.watched.required.iter().filter(|&step| self.event_of(step).is_none()).count();
        let events = self.watched.events.iter().zip(&self.step_of);
        let events = events.filter(|(event, step)| event.costs && step.is_none()).count();
        u32::try_from(steps + events).unwrap_or(u32::MAX)
    }
}

impl Watched {
    fn worth(&self, model: &Model, log: &Log, step: usize, event: usize) -> Worth {
        let Some(seen) = self.events.get(event) else {
            return Worth { saves: 0, warned: false, credit: 0, as_live: false };
        };
        Worth {
            saves: u8::from(self.required.has(step)) + u8::from(seen.costs),
            warned: matches!(seen.live, AtTheTime::Warned(_)),
            credit: steps::credit(model, log, self, step, event),
            as_live: seen.live.step() == Some(step),
        }
    }
}
