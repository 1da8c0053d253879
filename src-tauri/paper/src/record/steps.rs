use competency::{
    procedure::{By, Step},
    report::{FindingKind, Severity, StepResult},
};

use super::seen::{Seen, drawn, mark};
use crate::{
    sheet::{Sheet, Style},
    table::{Cell, Column, Row, table},
    words,
};

/// Every step with its time, how it stands and its credit.
pub(super) fn draw(sheet: &mut Sheet, seen: &Seen<'_>) {
    sheet.heading("Step by step", 80.0);
    let width = sheet.format.text_width();
    let columns = [
        Column { heading: "Step".to_owned(), width: width - 54.0 - 142.0 - 42.0 },
        Column { heading: "Time".to_owned(), width: 54.0 },
        Column { heading: "How it stands".to_owned(), width: 142.0 },
        Column { heading: "Credit".to_owned(), width: 42.0 },
    ];
    let mut rows = Vec::new();
    let mut section = None;
    for (step, result) in seen.steps() {
        if section != Some(&step.section) {
            section = Some(&step.section);
            rows.push(Row::Group(step.section.clone()));
        }
        rows.push(Row::Cells(cells(seen, step, result)));
    }
    table(sheet, &columns, &rows);
}

fn cells(seen: &Seen<'_>, step: &Step, result: &StepResult) -> Vec<Cell> {
    let findings = seen.findings_of(result);
    let mark = mark(result.state, &findings);
    let time = seen.told_with(result).and_then(|index| seen.observation(index));
    let time = time.map_or_else(|| "–".to_owned(), |observation| seen.time(observation));
    let mut kinds: Vec<&str> = Vec::new();
    for finding in &findings {
        let word = kind(finding.kind);
        if !word.is_empty() && !kinds.contains(&word) {
            kinds.push(word);
        }
    }
    let notes = notes(step);
    let mut text = Cell::text(step.text.clone(), Style::BODY);
    if !notes.is_empty() {
        text = text.and(notes, Style::SMALL);
    }
    let critical = findings.iter().any(|finding| finding.severity == Severity::Critical);
    let style = if critical { Style::STRONG } else { Style::BODY };
    let mut stands = Cell::text(words::state(result.state), style).marked(drawn(mark));
    if !kinds.is_empty() {
        stands = stands.and(kinds.join(", "), Style::SMALL);
    }
    let credit = if step.by.is_wearer() { words::credit(result.state, result.credit) } else { "–" };
    vec![text, Cell::text(time, Style::BODY), stands, Cell::text(credit, Style::BODY)]
}

/// What sets the step apart.
fn notes(step: &Step) -> String {
    let mut notes = Vec::new();
    if step.critical {
        notes.push("critical".to_owned());
    }
    match step.by {
        By::Wearer => {}
        By::Assistant | By::Observer => notes.push(format!("by the {}", words::by(step.by))),
    }
    notes.join(" · ")
}

/// A finding's kind, where the state of the step does not say it already.
fn kind(kind: FindingKind) -> &'static str {
    match kind {
        FindingKind::NotImmediate => "not at once",
        FindingKind::TooShort => "too short",
        FindingKind::Technique => "technique",
        FindingKind::Prompted => "prompted",
        FindingKind::Call => "against the call",
        FindingKind::Contamination => "contamination",
        FindingKind::ResponseMissed => "response missed",
        FindingKind::ResponseLate => "response late",
        FindingKind::Forbidden => "forbidden act",
        FindingKind::TeamError => "the team’s own error",
        FindingKind::OutOfOrder | FindingKind::Missed | FindingKind::Extra => "",
    }
}
