//! The outcome and the headline in words.

use chrono::NaiveDate;

use crate::log::{HowEnded, Log};
use crate::model::Model;
use crate::procedure::Mode;
use crate::report::{FindingKind, Outcome, Report, Severity, StepState};
use crate::validity::{Purpose, long_date};

/// A time as minutes and seconds into the demonstration: `2:03`.
pub fn minutes(at_ms: i64) -> String {
    let seconds = at_ms.max(0) / 1000;
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// A time of the day as it is written by hand, of ms since midnight: `10:02`, `10:02:30` where there are
/// seconds. A time of the next day reads as on its own day.
pub fn time_of_day(ms: i64) -> String {
    let seconds = ms.max(0) / 1000;
    let (hour, minute, second) = (seconds / 3600 % 24, seconds / 60 % 60, seconds % 60);
    if second == 0 { format!("{hour:02}:{minute:02}") } else { format!("{hour:02}:{minute:02}:{second:02}") }
}

/// The headline: `20 of 22 steps as they should be`.
pub fn headline(report: &Report) -> String {
    let steps = if report.steps_counted == 1 { "step" } else { "steps" };
    format!("{} of {} {steps} as they should be", report.steps_well, report.steps_counted)
}

/// What a demonstration is for, in words.
pub fn purpose(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Practice => "practice",
        Purpose::Validation => "validation",
        Purpose::LiveCare => "live care",
    }
}

/// The way of observing, in words.
pub fn mode(mode: Mode) -> &'static str {
    match mode {
        Mode::Guided => "guided",
        Mode::Assessed => "assessed",
    }
}

/// The outcome in words.
pub fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Competent => "competent",
        Outcome::NotYetCompetent => "not yet competent",
        Outcome::NotAssessed => "not assessed",
    }
}

/// Why the outcome is what it is, in one sentence.
pub fn outcome_reason(model: &Model, log: &Log, report: &Report) -> String {
    let count =
        |severity: Severity| report.findings.iter().filter(|finding| finding.severity == severity).count();
    let (critical, other) = (count(Severity::Critical), count(Severity::Other));
    let pass = model.procedure().pass;
    match report.outcome {
        Outcome::Competent if report.findings.is_empty() => "Competent: nothing was found.".to_owned(),
        Outcome::Competent if other == 0 => {
            let team = count(Severity::Team);
            let whose = if team == 1 { "is" } else { "are" };
            format!(
                "Competent: nothing was found against the person; {} {whose} the team's.",
                many(team, "finding")
            )
        }
        Outcome::Competent => format!(
            "Competent: no critical finding, and {} of at most {}.",
            many(other, "other finding"),
            pass.max_other_findings
        ),
        Outcome::NotYetCompetent => {
            let mut reasons = Vec::new();
            if log.ended.how == HowEnded::StoppedExposure {
                reasons.push("it was stopped because of a suspected exposure".to_owned());
            }
            if critical > 0 {
                reasons.push(many(critical, "critical finding"));
            }
            if u32::try_from(other).unwrap_or(u32::MAX) > pass.max_other_findings {
                reasons.push(format!(
                    "{}, at most {} allowed",
                    many(other, "other finding"),
                    pass.max_other_findings
                ));
            }
            // Where nothing else speaks against it, the share does.
            if let Some(least) = pass.min_percent
                && (reasons.is_empty() || report.score_permille < 10 * least)
            {
                reasons.push(format!("a score below {least} percent"));
            }
            format!("Not yet competent: {}.", reasons.join("; "))
        }
        Outcome::NotAssessed => {
            let state = |state: StepState| report.steps.iter().any(|step| step.state == state);
            let reason = match log.ended.how {
                HowEnded::StoppedSafety => "it was stopped for safety before it was complete",
                HowEnded::Abandoned => "it was broken off before it was complete",
                HowEnded::Completed | HowEnded::StoppedExposure if state(StepState::NotSeen) => {
                    "a step that decides was out of the observer's sight"
                }
                HowEnded::Completed | HowEnded::StoppedExposure if log.only_entered_late() => {
                    "every act was entered afterwards, and none was logged while it was observed"
                }
                HowEnded::Completed | HowEnded::StoppedExposure => "there was nothing to count",
            };
            format!("Not assessed: {reason}.")
        }
    }
}

fn many(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// The severity in words.
pub fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Critical => "critical",
        Severity::Other => "other",
        Severity::Team => "team",
    }
}

/// How a step stands in the end, in words.
pub fn step_state(state: StepState) -> &'static str {
    match state {
        StepState::Well => "done well",
        StepState::Partly => "done, not well",
        StepState::OutOfOrder => "out of order",
        StepState::Missed => "not done",
        StepState::NotReached => "not reached",
        StepState::NotSeen => "not seen",
        StepState::LeftOut => "left out, optional",
        StepState::NotApplicable => "does not apply",
    }
}

/// The kind of a finding in words.
pub fn finding_kind(kind: FindingKind) -> &'static str {
    match kind {
        FindingKind::OutOfOrder => "out of order",
        FindingKind::Missed => "not done",
        FindingKind::Extra => "not called for",
        FindingKind::Forbidden => "must not happen",
        FindingKind::NotImmediate => "not at once",
        FindingKind::TooShort => "too short",
        FindingKind::Technique => "technique",
        FindingKind::Prompted => "prompted",
        FindingKind::Call => "not as called",
        FindingKind::Contamination => "contamination",
        FindingKind::ResponseMissed => "response missing",
        FindingKind::ResponseLate => "response too late",
        FindingKind::TeamError => "the team’s own error",
    }
}

/// What the person observed said about a record, and when.
pub fn second_signature(declined: bool, on: NaiveDate) -> String {
    format!("{}, {}", if declined { "declined" } else { "seen and discussed" }, long_date(on))
}

/// What a history says of records that are dated after the day that it is as of.
pub fn ahead(count: u32, latest: NaiveDate) -> String {
    let (records, count_for) = match count {
        1 => ("1 record is".to_owned(), "counts"),
        more => (format!("{more} records are"), "count"),
    };
    format!(
        "{records} dated after this day, up to {}, and {count_for} for nothing yet. If the clock was wrong when it was \
         signed, put the date right in the history as of that day.",
        long_date(latest)
    )
}
