use competency::{
    log::Observation,
    procedure::Step,
    report::{Finding, FindingKind, Severity, StepResult, StepState},
};
use evidence::Record;
use picture::{Mark, Point, Shape};

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
        self.record.time_of(observation)
    }

    /// The acts that satisfy a step.
    pub(super) fn alternatives(&self, step: &Step) -> String {
        step.acts.iter().map(|act| self.record.act(act)).collect::<Vec<_>>().join(" or ")
    }

    /// What an observation is of, as the observer saw it.
    pub(super) fn label(&self, observation: &Observation) -> String {
        self.record.label_of(observation)
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
