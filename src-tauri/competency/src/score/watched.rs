//! The log made ready for scoring: act by act, with what the live rule said of each.

use crate::bits::Bits;
use crate::live::{Live, Taken};
use crate::log::{Log, Observation, What};
use crate::model::Model;
use crate::responses::Owed;

/// One observed act; a combined act is one event for each act it stands for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Event {
    /// Index in the log.
    pub(super) observation: usize,
    /// The act; `None` where the procedure does not know it.
    pub(super) act: Option<usize>,
    /// The steps it may count as: those that apply.
    pub(super) steps: Bits,
    /// It costs where it counts as no step: it is neither free nor an answer.
    pub(super) costs: bool,
    /// It may be repeated anywhere.
    pub(super) free: bool,
    /// What the live rule made of it.
    pub(super) live: AtTheTime,
}

/// What the live rule made of an act when it came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum AtTheTime {
    /// No step called for it.
    Nothing,
    /// A free act: it counted as no step, but this one, the first of its steps, waited for others.
    Waited(usize),
    /// It counted as this step, in its order or late.
    Counted(usize),
    /// It was warned about, as this step too early.
    Warned(usize),
}

impl AtTheTime {
    pub(super) fn step(self) -> Option<usize> {
        match self {
            AtTheTime::Nothing => None,
            AtTheTime::Waited(step) | AtTheTime::Counted(step) | AtTheTime::Warned(step) => Some(step),
        }
    }
}

/// A log, watched to its end.
pub(super) struct Watched {
    pub(super) events: Vec<Event>,
    /// The steps that apply.
    pub(super) applies: Bits,
    /// The steps that the observer could not see.
    pub(super) not_seen: Bits,
    /// The steps that must be there: they apply, are not optional and were not out of sight.
    pub(super) required: Bits,
    /// Every response that came to be owed.
    pub(super) owed: Vec<Owed>,
    /// For each observation the most it can have lasted, in ms, where that is known.
    most_ms: Vec<Option<i64>>,
}

impl Watched {
    pub(super) fn new(model: &Model, log: &Log) -> Watched {
        let mut live = Live::new(model, &log.conditions);
        let mut events = Vec::new();
        for (observation, seen) in log.observations.iter().enumerate() {
            live.take(model, seen, |act, taken, answers| {
                let row = act.and_then(|act| model.act(act));
                let free = row.is_some_and(|row| row.free);
                let live = match taken {
                    Taken::InOrder { step, .. } | Taken::Late(step) => AtTheTime::Counted(step),
                    Taken::TooEarly { step, .. } => AtTheTime::Warned(step),
                    Taken::Free { waiting } => waiting.map_or(AtTheTime::Nothing, AtTheTime::Waited),
                    Taken::Answer | Taken::Forbidden | Taken::NoLongerForbidden | Taken::Extra => {
                        AtTheTime::Nothing
                    }
                };
                events.push(Event {
                    observation,
                    act,
                    steps: row.map_or(Bits::EMPTY, |row| row.steps_by(seen.by)),
                    costs: !free && !answers,
                    free,
                    live,
                });
            });
        }
        let applies = live.applies();
        let not_seen: Bits = log.observations.iter().filter_map(|seen| not_seen(model, seen)).collect();
        for event in &mut events {
            event.steps = event.steps.and(applies);
        }
        Watched {
            events,
            applies,
            not_seen,
            required: applies.without(model.optional()).without(not_seen),
            owed: live.responses().to_vec(),
            most_ms: most_ms(log),
        }
    }

    /// The most an observation can have lasted, in ms: what a paper form says, or from when it was seen until it ended or, where
    /// that was not timed, until the same person's next act or the end. Held time is taken off. `None`
    /// where there is nothing to go by, as for what was entered late.
    pub(super) fn most_ms(&self, observation: usize) -> Option<i64> {
        self.most_ms.get(observation).copied().flatten()
    }
}

fn not_seen(model: &Model, seen: &Observation) -> Option<usize> {
    match &seen.what {
        What::NotSeen(step) => model.step_number(step),
        What::Act(_) | What::Contamination(_) | What::Condition(_) | What::TeamError(_) => None,
    }
}

fn most_ms(log: &Log) -> Vec<Option<i64>> {
    // Backwards, so that each act finds the next one by the same person.
    let mut next_at: Vec<(crate::procedure::By, i64)> = Vec::new();
    let mut most: Vec<Option<i64>> = log
        .observations
        .iter()
        .rev()
        .map(|seen| {
            if !matches!(seen.what, What::Act(_)) {
                return None;
            }
            // What a form says it lasted is all that is known of it: nobody writes to the second when
            // the next act came.
            if seen.lasted_ms.is_some() {
                return seen.lasted_ms;
            }
            let at = seen.at_ms.filter(|_| !seen.late)?;
            let next = next_at.iter().find(|(by, _)| *by == seen.by).map(|&(_, at)| at);
            next_at.retain(|(by, _)| *by != seen.by);
            next_at.push((seen.by, at));
            let until = seen.until_ms.or(next).or(log.ended.at_ms)?;
            Some(until.saturating_sub(at).saturating_sub(log.held_between(at, until)).max(0))
        })
        .collect();
    most.reverse();
    most
}

/// The observed act's own id, for labels; empty for what is not an act.
pub(super) fn act_id(seen: &Observation) -> &str {
    match &seen.what {
        What::Act(act) => act,
        What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => "",
    }
}
