//! What the pages say of the terms of `competency`, one place for each, exhaustive.

use chrono::NaiveDate;
use competency::{
    log::HowEnded,
    procedure::Mode,
    report::{Outcome, Severity, StepState},
    validity::{Purpose, State},
};
pub(crate) use competency::{
    sentence::{by, footing, precaution},
    validity::long_date as date,
};

pub(crate) fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Competent => "Competent",
        Outcome::NotYetCompetent => "Not yet competent",
        Outcome::NotAssessed => "Not assessed",
    }
}

pub(crate) fn purpose(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Practice => "Practice",
        Purpose::Validation => "Validation",
        Purpose::LiveCare => "Observed in live care",
    }
}

pub(crate) fn mode(mode: Mode) -> &'static str {
    match mode {
        Mode::Guided => "Guided: the observer read every step aloud and confirmed it; a prompt is the method",
        Mode::Assessed => "Assessed: the person worked unaided; a prompt is counted",
    }
}

/// What the outcome means for the person's validity, in one sentence without a full stop.
pub(crate) fn validity(purpose: Purpose, outcome: Outcome, until: Option<NaiveDate>) -> String {
    match (until, purpose, outcome) {
        (Some(until), _, _) => format!("Valid through {}", date(until)),
        (None, Purpose::Practice, _) => "Practice grants no validity and ends none".to_owned(),
        (None, Purpose::LiveCare, _) => "Live care grants no validity and ends none".to_owned(),
        (None, Purpose::Validation, Outcome::NotYetCompetent) => {
            "Not valid; an earlier validation of this procedure ends with it".to_owned()
        }
        (None, Purpose::Validation, Outcome::NotAssessed) => {
            "It changes no validity: the demonstration is to be repeated".to_owned()
        }
        (None, Purpose::Validation, Outcome::Competent) => {
            "It grants no validity: the procedure does not accept this mode".to_owned()
        }
    }
}

pub(crate) fn ended(how: HowEnded) -> &'static str {
    match how {
        HowEnded::Completed => "Carried through",
        HowEnded::StoppedExposure => "Stopped because of a suspected exposure",
        HowEnded::StoppedSafety => "Stopped for safety",
        HowEnded::Abandoned => "Broken off",
    }
}

pub(crate) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Critical => "Critical",
        Severity::Other => "Other",
        Severity::Team => "Team",
    }
}

pub(crate) fn state(state: StepState) -> &'static str {
    match state {
        StepState::Well => "As it should be",
        StepState::Partly => "Done, with a finding",
        StepState::OutOfOrder => "Out of order",
        StepState::Missed => "Missed",
        StepState::NotReached => "Not reached",
        StepState::NotSeen => "Not seen",
        StepState::LeftOut => "Left out, optional",
        StepState::NotApplicable => "Does not apply",
    }
}

/// Credit in words; only steps that count have any.
pub(crate) fn credit(state: StepState, credit: u8) -> &'static str {
    match state {
        StepState::NotSeen | StepState::LeftOut | StepState::NotApplicable => "–",
        StepState::Well
        | StepState::Partly
        | StepState::OutOfOrder
        | StepState::Missed
        | StepState::NotReached => match credit {
            0 => "none",
            1 => "half",
            2.. => "full",
        },
    }
}

/// A state as it begins a cell.
pub(crate) fn standing(state: State) -> String {
    let mut letters = state.words().chars();
    letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect()
}

/// `25 Nov 2027`, where room is short.
pub(crate) fn short_date(date: NaiveDate) -> String {
    date.format("%-d %b %Y").to_string()
}

pub(crate) fn count(count: usize, one: &str, more: &str) -> String {
    match count {
        0 => format!("no {more}"),
        1 => format!("1 {one}"),
        _ => format!("{count} {more}"),
    }
}
