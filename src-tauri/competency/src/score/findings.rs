//! What is told of a demonstration.

use super::Case;
use super::watched::{Event, act_id};
use crate::log::Observation;
use crate::procedure::{By, Step};
use crate::report::{Finding, FindingKind, Severity};
use crate::sentence::Told;

mod contamination;
mod observed;
mod order;
mod team;
mod undone;

pub(super) use order::called_too_soon;

/// A finding with its place: the observation it is told at.
struct Placed {
    at: usize,
    finding: Finding,
}

/// Every finding: critical ones first, then as they happened.
pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    let mut placed = Vec::new();
    // Asked for once: with thousands of acts too many it is asked of every one of them.
    let exposed = order::exposed_early(case);
    order::out_of_order(case, &exposed, &mut placed);
    order::not_immediate(case, &mut placed);
    undone::missed(case, &mut placed);
    observed::of_acts(case, &exposed, &mut placed);
    contamination::events(case, &mut placed);
    contamination::responses(case, &mut placed);
    team::errors(case, &mut placed);
    placed.sort_by_key(|Placed { at, finding }| {
        let step = finding.step.as_deref().and_then(|id| case.model.step_number(id));
        (finding.severity != Severity::Critical, *at, finding.kind, step)
    });
    placed.into_iter().map(|placed| placed.finding).collect()
}

impl<'a> Case<'a> {
    fn told(&self) -> Told<'a> {
        Told { model: self.model, clock: self.clock, transcribed: self.log.transcribed }
    }

    fn event(&self, event: usize) -> Option<(Event, &'a Observation)> {
        let event = *self.watched.events.get(event)?;
        Some((event, self.log.observations.get(event.observation)?))
    }

    /// An act as it is told, with its time: the part of a combined act by its own label.
    fn act_at(&self, event: usize) -> String {
        let Some((event, seen)) = self.event(event) else { return String::new() };
        let act = event.act.and_then(|act| self.model.act(act)).map_or(act_id(seen), |act| act.id.as_str());
        self.told().act_at(act, seen)
    }

    /// Where an event stands in the log.
    fn place(&self, event: usize) -> usize {
        self.watched.events.get(event).map_or(usize::MAX, |event| event.observation)
    }
}

/// What weighs on the wearer keeps its severity; what somebody else did, or had to do, is the team's.
fn by_whom(severity: Severity, seen: Option<By>, step: Option<&Step>) -> Severity {
    let wearer = seen.is_none_or(|by| by.is_wearer()) && step.is_none_or(|step| step.by.is_wearer());
    if wearer { severity } else { Severity::Team }
}

fn critical_if(critical: bool) -> Severity {
    if critical { Severity::Critical } else { Severity::Other }
}

/// A finding without witnesses about one observation.
fn about(
    kind: FindingKind,
    step: Option<&Step>,
    observation: usize,
    severity: Severity,
    text: String,
) -> Placed {
    let step = step.map(|step| step.id.clone());
    let finding = Finding { kind, step, observation: Some(observation), severity, because: Vec::new(), text };
    Placed { at: observation, finding }
}
