//! What is said beside the acts: who took over, what was changed once everything had its answer, what the
//! observer decided and planned.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::{Event, Line, TapId};
use crate::report::Outcome;

/// Another observer took over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HandOver {
    /// Since when, in ms since the beginning.
    pub at_ms: i64,
    /// The id of who observes from then on.
    pub to: String,
}

/// A line that changed the log after every step had its answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// The line.
    pub line: TapId,
    /// Why; empty where nobody has said so yet.
    pub why: String,
}

/// What follows from the review.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coaching {
    /// What will be coached.
    pub what: String,
    /// By when it is watched again.
    pub again_by: Option<NaiveDate>,
}

/// What the lines say beside the acts.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Afterwards {
    pub(super) hand_overs: Vec<HandOver>,
    pub(super) settled: bool,
    pub(super) changes: Vec<Change>,
    pub(super) stricter: Option<String>,
    pub(super) coaching: Option<Coaching>,
}

/// Reads it from the lines; `taken_back` are the indices of those that are taken back now.
///
/// A line that was taken back after everything had its answer is a change by its undo, so that nothing
/// disappears without a reason; one that was both made and taken back afterwards changed nothing.
pub(super) fn afterwards(lines: &[Line], taken_back: &BTreeSet<usize>) -> Afterwards {
    let mut said = Afterwards::default();
    let settled = lines.iter().position(|line| matches!(line.event, Event::Settled));
    said.settled = settled.is_some();
    let mut reasons: BTreeMap<&str, &str> = BTreeMap::new();
    for (index, line) in lines.iter().enumerate() {
        if taken_back.contains(&index) {
            continue;
        }
        let late = settled.is_some_and(|settled| index > settled);
        if late && changes(lines, settled.unwrap_or(0), &line.event) {
            said.changes.push(Change { line: line.id.clone(), why: String::new() });
        }
        if let Event::HandedOver { to } = &line.event {
            said.hand_overs.push(HandOver { at_ms: line.at_ms, to: to.clone() });
        } else if let Event::Because { of, why } = &line.event {
            reasons.insert(of, why);
        } else if let Event::StricterDecision { why } = &line.event {
            said.stricter = Some(why.clone());
        } else if let Event::Coaching { what, again_by } = &line.event {
            said.coaching = Some(Coaching { what: what.clone(), again_by: *again_by });
        }
    }
    for change in &mut said.changes {
        if let Some(why) = reasons.get(change.line.as_str()) {
            change.why = why.trim().to_owned();
        }
    }
    said
}

/// Whether an event changes what had its answer: it speaks of an act itself, or takes back, or brings
/// back, a line from before.
fn changes(lines: &[Line], settled: usize, event: &Event) -> bool {
    let Event::Undo { of } = event else { return event.changes_the_log() };
    let Some((index, taken)) = lines.iter().enumerate().find(|(_, line)| line.id == *of) else {
        return false;
    };
    index < settled && (taken.event.changes_the_log() || matches!(taken.event, Event::Undo { .. }))
}

/// The outcome with the observer's decision: it may be stricter than the rule, never milder.
pub fn decided(by_the_rule: Outcome, stricter: bool) -> Outcome {
    if stricter { Outcome::NotYetCompetent } else { by_the_rule }
}
