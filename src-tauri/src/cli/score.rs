//! `doorside score`.

use std::path::Path;

use competency::{
    flaw::Flaw,
    log::{self, Log},
    model::Model,
    procedure,
    report::{Finding, Report, StepState},
    score, sentence,
};

use serde::Serialize;

use super::{Complaint, Ending, input, print};

/// Scores a log file against a procedure file and prints the report, as text or as one JSON object.
pub(super) fn score(procedure_file: &Path, log_file: &Path, json: bool) -> Result<Ending, Complaint> {
    let procedure = procedure::read(&input::text(procedure_file, "procedure")?)
        .map_err(|flaws| flawed(procedure_file, &flaws))?;
    let model = Model::new(procedure);
    let log =
        log::read_for(&input::text(log_file, "log")?, &model).map_err(|flaws| flawed(log_file, &flaws))?;
    let report = score::score(&model, &log);
    if json {
        let scored =
            Scored { report: &report, outcome_reason: sentence::outcome_reason(&model, &log, &report) };
        let object = serde_json::to_string(&scored)
            .map_err(|error| Complaint::new(format!("The report could not be written as JSON: {error}.")))?;
        print(&object);
    } else {
        print(&as_text(&model, &log, &report));
    }
    Ok(Ending::Done)
}

/// The first flaw with its place, and how many more there are.
fn flawed(file: &Path, flaws: &[Flaw]) -> Complaint {
    let first = flaws.first().map(|flaw| placed(file, flaw)).unwrap_or_default();
    Complaint::new(match flaws.len().saturating_sub(1) {
        0 => first,
        1 => format!("{first} There is one more flaw after it."),
        more => format!("{first} There are {more} more flaws after it."),
    })
}

/// A flaw with the file it is in.
pub(super) fn placed(file: &Path, flaw: &Flaw) -> String {
    format!("{}:{}:{}: {}", file.display(), flaw.line, flaw.column, flaw.text)
}

/// The report, and the sentence that says why the outcome is what it is.
#[derive(Serialize)]
struct Scored<'a> {
    #[serde(flatten)]
    report: &'a Report,
    outcome_reason: String,
}

fn as_text(model: &Model, log: &Log, report: &Report) -> String {
    let procedure = model.procedure();
    let mut lines = vec![
        format!("{} ({} {})", procedure.title, procedure.id, procedure.version),
        String::new(),
        format!("Outcome: {}", sentence::outcome(report.outcome)),
        sentence::outcome_reason(model, log, report),
        format!(
            "Score: {} ({} of 1000; alignment cost {})",
            sentence::headline(report),
            report.score_permille,
            report.alignment_cost
        ),
        String::new(),
    ];
    if report.findings.is_empty() {
        lines.push("Findings: none.".to_owned());
    } else {
        lines.push("Findings:".to_owned());
        for finding in &report.findings {
            lines.push(format!("  {}: {}", sentence::severity(finding.severity), finding.text));
            lines.push(format!("    {}", particulars(finding)));
        }
    }
    lines.push(String::new());
    lines.push("Steps:".to_owned());
    let width = report.steps.iter().map(|step| step.id.chars().count()).max().unwrap_or(0);
    for step in &report.steps {
        let place = step.observation.map_or(String::new(), |at| format!("  observation {at}"));
        let credit = match step.state {
            StepState::NotApplicable | StepState::LeftOut | StepState::NotSeen | StepState::NotReached => {
                "-".to_owned()
            }
            StepState::Well | StepState::Partly | StepState::OutOfOrder | StepState::Missed => {
                step.credit.to_string()
            }
        };
        lines.push(format!("  {:width$}  {credit}  {}{place}", step.id, sentence::step_state(step.state)));
    }
    lines.join("\n")
}

/// What the object says of a finding besides its sentence.
fn particulars(finding: &Finding) -> String {
    let mut parts = vec![sentence::finding_kind(finding.kind).to_owned()];
    parts.extend(finding.step.as_ref().map(|step| format!("step {step}")));
    parts.extend(finding.observation.map(|at| format!("observation {at}")));
    parts.extend(finding.because.iter().map(|(before, after)| format!("{before} belongs before {after}")));
    parts.join("; ")
}
