//! The score and the outcome by the facility's pass rule.

use std::cmp::Reverse;

use super::Case;
use super::findings::called_too_soon;
use crate::log::{Call, HowEnded};
use crate::procedure::Mode;
use crate::report::{Finding, Outcome, Report, Severity, StepResult, StepState};

pub(super) struct Tally {
    pub(super) well: u32,
    pub(super) counted: u32,
    pub(super) outcome: Outcome,
    credit: u32,
}

impl Tally {
    pub(super) fn permille(&self) -> u32 {
        (1000 * self.credit).checked_div(2 * self.counted).unwrap_or(0)
    }
}

/// Counts the wearer's required steps that applied, were in sight and were reached. A step that came
/// out of its order because the person followed a wrong call, or one that came too soon, does not count: that is the
/// observer's.
pub(super) fn tally(case: &Case<'_>, steps: &[StepResult], findings: &[Finding]) -> Tally {
    let by_wearer = |step: usize| case.model.step(step).is_some_and(|step| step.by.is_wearer());
    let counts = |step: usize, state: StepState| {
        case.counts(step)
            && by_wearer(step)
            && state != StepState::NotReached
            && !(state == StepState::OutOfOrder
                && (followed_a_wrong_call(case, step) || called_too_soon(case, step)))
    };
    let mut tally = Tally { well: 0, counted: 0, outcome: Outcome::Competent, credit: 0 };
    for (_, step) in steps.iter().enumerate().filter(|(number, step)| counts(*number, step.state)) {
        tally.counted += 1;
        tally.credit += u32::from(step.credit);
        tally.well += u32::from(step.credit == 2);
    }
    let critical_open = steps.iter().enumerate().any(|(number, step)| {
        let critical = case.model.step(number).is_some_and(|step| step.critical && step.by.is_wearer());
        critical && matches!(step.state, StepState::NotSeen | StepState::NotReached)
    });
    tally.outcome = outcome(case, &tally, findings, critical_open);
    tally
}

/// In guided mode, whether the act that was this step out of its order followed a wrong call.
pub(super) fn followed_a_wrong_call(case: &Case<'_>, step: usize) -> bool {
    let event = case.paired.event_of(step).and_then(|event| case.watched.events.get(event));
    let seen = event.and_then(|event| case.log.observations.get(event.observation));
    case.log.mode == Mode::Guided && seen.is_some_and(|seen| seen.call == Some(Call::Wrong))
}

fn outcome(case: &Case<'_>, tally: &Tally, findings: &[Finding], critical_open: bool) -> Outcome {
    let pass = case.model.procedure().pass;
    let of = |severity: Severity| findings.iter().filter(|finding| finding.severity == severity).count();
    let too_many = u32::try_from(of(Severity::Other)).unwrap_or(u32::MAX) > pass.max_other_findings;
    // Both sides times twice the counted steps, so that nothing is rounded.
    let too_little = pass
        .min_percent
        .is_some_and(|least| 100 * u64::from(tally.credit) < 2 * u64::from(least) * u64::from(tally.counted));
    let exposed = case.log.ended.how == HowEnded::StoppedExposure;
    if of(Severity::Critical) > 0 || too_many || too_little || exposed {
        Outcome::NotYetCompetent
    } else if case.log.ended.how != HowEnded::Completed
        || critical_open
        || tally.counted == 0
        || case.log.only_entered_late()
    {
        Outcome::NotAssessed
    } else {
        Outcome::Competent
    }
}

/// The smaller the better, among procedures accepted for the same thing.
pub(super) fn rank(report: &Report) -> (u8, usize, u32, usize, Reverse<u32>) {
    let outcome = match report.outcome {
        Outcome::Competent => 0,
        Outcome::NotAssessed => 1,
        Outcome::NotYetCompetent => 2,
    };
    let of = |severity: Severity| report.findings.iter().filter(|f| f.severity == severity).count();
    (
        outcome,
        of(Severity::Critical),
        report.alignment_cost,
        of(Severity::Other),
        Reverse(report.score_permille),
    )
}
