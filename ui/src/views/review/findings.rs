//! Findings, each with what shows it.

use competency::{
    log::{HowEnded, Log, What},
    model::Model,
    report::{Finding, Report, Severity, StepResult, StepState},
};
use leptos::prelude::*;

use crate::{
    pictures,
    wording::{self, outcome::review as words},
};

/// Findings in the order the report tells them.
pub(super) fn findings(model: &Model, log: &Log, report: &Report) -> impl IntoView + use<> {
    if report.findings.is_empty() {
        let (class, told) = none(log, report);
        return view! { <p class=class id="findings">{told}</p> }.into_any();
    }
    let each = report.findings.iter().map(|finding| one(finding, model, log, report));
    view! { <ol class="stack" id="findings">{each.collect_view()}</ol> }.into_any()
}

/// What it means that nothing was found: no more than what was seen.
fn none(log: &Log, report: &Report) -> (&'static str, &'static str) {
    let unseen = |step: &StepResult| step.state == StepState::NotSeen;
    match log.ended.how {
        HowEnded::Completed if report.steps.iter().any(unseen) => ("note", words::NO_FINDINGS_SEEN),
        HowEnded::Completed => ("note good", words::NO_FINDINGS),
        HowEnded::StoppedExposure | HowEnded::StoppedSafety | HowEnded::Abandoned => {
            ("note", words::NO_FINDINGS_SO_FAR)
        }
    }
}

fn one(finding: &Finding, model: &Model, log: &Log, report: &Report) -> impl IntoView + use<> {
    let class = match finding.severity {
        Severity::Critical => "note danger finding",
        Severity::Other => "note warning finding",
        Severity::Team => "note finding",
    };
    let name = |id: &str| {
        let step = model.step_number(id).and_then(|number| model.step(number));
        step.map_or_else(|| id.to_owned(), |step| pictures::step_label(model, step))
    };
    let when = |id: &str| {
        // The observation a finding is about may be the late or early one of its step.
        let own = (finding.step.as_deref() == Some(id)).then_some(finding.observation).flatten();
        let counted = || report.steps.iter().find(|step| step.id == *id).and_then(|step| step.observation);
        let seen = log.observations.get(own.or_else(counted)?)?;
        Some(wording::when(log, seen))
    };
    let witness = |id: &str, label: &'static str| {
        view! {
            <div>
                <dt>{label}</dt>
                <dd><strong>{name(id)}</strong>{when(id).map(|when| format!(", {when}"))}</dd>
            </div>
        }
    };
    let pairs = finding.because.iter().map(|(before, after)| {
        let why = model.step_number(after).and_then(|number| model.step(number)).and_then(|step| {
            step.after.iter().find(|earlier| earlier.step() == before).and_then(|earlier| earlier.why())
        });
        let why = why.map(str::to_owned);
        view! {
            <dl class="witness">
                {witness(before, words::SHOULD_FIRST)}
                {witness(after, words::CAME)}
                {why.map(|why| view! { <div><dt>{words::WHY}</dt><dd>{why}</dd></div> })}
            </dl>
        }
    });
    let at = finding.observation.and_then(|index| log.observations.get(index)).and_then(|seen| {
        let clock = seen.at_ms.map(|_| wording::when(log, seen))?;
        matches!(seen.what, What::Act(_) | What::Contamination(_)).then_some(clock)
    });
    view! {
        <li class=class>
            <p class="row">
                <span class="tag">{wording::severity(finding.severity)}</span>
                {at.map(|at| view! { <span class="small">{at}</span> })}
            </p>
            <p class="finding-text">{finding.text.clone()}</p>
            {pairs.collect_view()}
        </li>
    }
}
