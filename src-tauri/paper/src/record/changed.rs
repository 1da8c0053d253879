//! What was said beside the acts: who took over, what was changed after the answers, what the observer
//! decided and planned.

use competency::{
    journal::{Event, Folded, Line},
    procedure::StepId,
};
use evidence::Record;

use super::seen::Seen;
use crate::words;

/// Rows for the first page, each only where there is something to say.
pub(super) fn rows(record: &Record) -> Vec<(&'static str, String)> {
    let folded = record.folded();
    let mut rows = Vec::new();
    if let Some(handed) = handed_over(record, &folded) {
        rows.push(("Handed over", handed));
    }
    if let Some(why) = &folded.stricter {
        rows.push((
            "Decision",
            format!(
                "By the rule: {}. The observer decided stricter, because: {why}",
                words::outcome(record.report.outcome).to_lowercase()
            ),
        ));
    }
    if let Some(coaching) = &folded.coaching {
        let again = coaching
            .again_by
            .map_or_else(String::new, |date| format!("\nTo be watched again by {}", words::date(date)));
        rows.push(("To be coached", format!("{}{again}", coaching.what)));
    }
    let changes: Vec<String> = folded
        .changes
        .iter()
        .filter_map(|change| {
            let line = record.trace.iter().find(|line| line.id == change.line)?;
            Some(format!("{}, because: {}", said(record, line), change.why))
        })
        .collect();
    if !changes.is_empty() {
        rows.push(("Changed after the answers", changes.join("\n")));
    }
    rows
}

/// Who observed until when; times are since the beginning.
fn handed_over(record: &Record, folded: &Folded) -> Option<String> {
    let until = folded.hand_overs.iter().zip(&record.observers_before);
    let parts: Vec<String> = until
        .map(|(over, before)| {
            format!("{} observed until {}", before.name, competency::sentence::minutes(over.at_ms))
        })
        .collect();
    (!parts.is_empty()).then(|| format!("{}; {} from then on", parts.join("; "), record.observer.name))
}

/// The notes, each with its time and what it is on.
pub(super) fn notes(record: &Record) -> Vec<String> {
    let seen = Seen::of(record);
    let folded = record.folded();
    let about = |of: &str| {
        let observation = folded.observation_of(of).and_then(|index| seen.observation(index))?;
        Some(seen.label(observation))
    };
    let note = |note: &competency::journal::Note| {
        // While a form is entered nobody is watched, and the moment of the entry says nothing.
        let time = if record.log.transcribed {
            String::new()
        } else {
            format!("{}  ", competency::sentence::minutes(note.at_ms))
        };
        match note.of.as_deref().and_then(about) {
            Some(about) => format!("{time}{about}: {}", note.text),
            None => format!("{time}{}", note.text),
        }
    };
    folded.notes.iter().map(note).collect()
}

/// What a line changed.
fn said(record: &Record, line: &Line) -> String {
    let procedure = &record.procedure;
    let act = |id: &String| {
        let combined = procedure.combined_acts.get(id).map(|combined| combined.label.clone());
        procedure.acts.get(id).cloned().or(combined).unwrap_or_else(|| id.clone())
    };
    let step = |id: &StepId| {
        let known = procedure.steps.iter().find(|step| step.id == *id);
        known.map_or_else(|| id.clone(), |step| step.text.clone())
    };
    let before = |of: &String| {
        let line = record.trace.iter().find(|line| line.id == *of);
        line.map_or_else(|| "a line".to_owned(), |line| said(record, line))
    };
    match &line.event {
        Event::Act { act: id, .. } => act(id),
        Event::LateAct { act: id, .. } => format!("entered late: {}", act(id)),
        Event::NotSeen { step: id } => format!("not seen: {}", step(id)),
        Event::NotDone { step: id } => format!("not done: {}", step(id)),
        Event::Undo { of } => format!("taken back: {}", before(of)),
        Event::Corrected { of, act: id, .. } => format!("{} corrected to {}", before(of), act(id)),
        Event::Condition { condition } => procedure.condition_text(condition).to_owned(),
        Event::Contamination { event, .. } => format!("contamination: {} from {}", event.site, event.from),
        Event::Prompted { of } => format!("prompted: {}", before(of)),
        Event::Fault { of, .. } => format!("technique fault: {}", before(of)),
        Event::Called { of, .. } => format!("not as called: {}", before(of)),
        Event::ActEnded { of } => format!("ended: {}", before(of)),
        Event::TeamError { by, what } => format!("the {}’s own error: {what}", words::by(*by)),
        Event::Written { of, .. } => format!("time on the form: {}", before(of)),
        Event::WrittenSpan { .. } => "beginning and end on the form".to_owned(),
        Event::End { how } => words::ended(*how).to_lowercase(),
        Event::Note { text, .. } => text.clone(),
        Event::Hold => "held".to_owned(),
        Event::Resume => "gone on with".to_owned(),
        Event::HandedOver { .. }
        | Event::Settled
        | Event::Because { .. }
        | Event::StricterDecision { .. }
        | Event::Coaching { .. } => String::new(),
    }
}
