use chrono::TimeDelta;
use competency::{
    log::{Observation, What},
    procedure::Step,
    report::{Finding, FindingKind, Severity, StepResult, StepState},
};
use evidence::Record;
use picture::{Mark, Point, Shape};

use crate::words;

/// A record with what several of its sections ask of it.
pub(super) struct Seen<'a> {
    pub(super) record: &'a Record,
}

impl<'a> Seen<'a> {
    pub(super) fn of(record: &'a Record) -> Self {
        Seen { record }
    }

    /// Each step of the procedure with its result, in printed order.
    pub(super) fn steps(&self) -> impl Iterator<Item = (&'a Step, &'a StepResult)> {
        let results = &self.record.report.steps;
        self.record
            .procedure
            .steps
            .iter()
            .filter_map(|step| Some((step, results.iter().find(|result| result.id == step.id)?)))
    }

    pub(super) fn step(&self, id: &str) -> Option<&'a Step> {
        self.record.procedure.steps.iter().find(|step| step.id == id)
    }

    pub(super) fn observation(&self, index: usize) -> Option<&'a Observation> {
        self.record.log.observations.get(index)
    }

    /// The observation that a step is told with: the one that counts as it, or the one of its act that
    /// came out of order.
    pub(super) fn told_with(&self, result: &StepResult) -> Option<usize> {
        result.observation.or_else(|| {
            self.record
                .report
                .findings
                .iter()
                .find(|finding| {
                    finding.kind == FindingKind::OutOfOrder && finding.step.as_ref() == Some(&result.id)
                })
                .and_then(|finding| finding.observation)
        })
    }

    /// The findings of a step, or of the observation that it is told with.
    pub(super) fn findings_of(&self, result: &StepResult) -> Vec<&'a Finding> {
        let told = self.told_with(result);
        let findings = &self.record.report.findings;
        findings
            .iter()
            .filter(|finding| {
                finding.step.as_ref() == Some(&result.id)
                    || (finding.step.is_none()
                        && finding.observation.is_some()
                        && finding.observation == told)
            })
            .collect()
    }

    /// Wall clock of an observation, `10:02:03`; says so where it was entered afterwards.
    pub(super) fn time(&self, observation: &Observation) -> String {
        match observation.at_ms.and_then(TimeDelta::try_milliseconds) {
            Some(after) if !observation.late => {
                self.record.begun.checked_add_signed(after).map(|at| at.format("%H:%M:%S").to_string())
            }
            Some(_) | None if self.record.log.transcribed => Some("on paper".to_owned()),
            Some(_) | None => None,
        }
        .unwrap_or_else(|| "late entry".to_owned())
    }

    /// The label of an act, which may stand for several.
    fn act<'b>(&'b self, act: &'b String) -> &'b str {
        let procedure = &self.record.procedure;
        let combined = procedure.combined_acts.get(act).map(|combined| &combined.label);
        procedure.acts.get(act).or(combined).unwrap_or(act)
    }

    /// The acts that satisfy a step.
    pub(super) fn alternatives(&self, step: &Step) -> String {
        step.acts.iter().map(|act| self.act(act)).collect::<Vec<_>>().join(" or ")
    }

    /// What an observation is of, as the observer saw it.
    pub(super) fn label(&self, observation: &Observation) -> String {
        let procedure = &self.record.procedure;
        match &observation.what {
            What::Act(act) => self.act(act).to_owned(),
            What::Contamination(event) => format!("Contamination: {} from {}", event.site, event.from),
            What::Condition(id) => {
                let condition = procedure.conditions.iter().find(|condition| condition.id == *id);
                condition.map_or(id, |condition| &condition.text).clone()
            }
            What::NotSeen(step) => {
                let step = self.step(step).map_or(step, |step| &step.text);
                format!("Not seen: {step}")
            }
            What::TeamError(what) => format!("The {}’s own error: {what}", words::by(observation.by)),
        }
    }
}

/// The mark of how a step stands, given its findings.
pub(super) fn mark(state: StepState, findings: &[&Finding]) -> Mark {
    let critical = findings.iter().any(|finding| finding.severity == Severity::Critical);
    match state {
        StepState::Well => Mark::Well,
        StepState::Partly | StepState::OutOfOrder | StepState::Missed if critical => Mark::Danger,
        StepState::Partly | StepState::OutOfOrder | StepState::Missed => Mark::Warning,
        StepState::NotReached | StepState::NotSeen | StepState::LeftOut | StepState::NotApplicable => {
            Mark::Open
        }
    }
}

pub(super) fn severity_mark(severity: Severity) -> Mark {
    match severity {
        Severity::Critical => Mark::Danger,
        Severity::Other | Severity::Team => Mark::Warning,
    }
}

/// The shapes of a mark around the origin, as wide as a line of body text is high.
pub(super) fn drawn(mark: Mark) -> Vec<Shape> {
    mark.shapes(Point { x: 0.0, y: 0.0 }, 8.5)
}
