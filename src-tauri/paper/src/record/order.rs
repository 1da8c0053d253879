use competency::{
    log::What,
    report::{FindingKind, StepState},
};
use picture::{Expected, Lettering, Mark, Observed, OrderPicture, Shape, TimeLine, TimedEvent, time_line};

use super::{
    rest::paragraph,
    seen::{Seen, mark, severity_mark},
};
use crate::{
    sheet::{Sheet, Style},
    words,
};

/// Wider than the text, so that its letters come out a little smaller than on a screen.
const WIDTH: f64 = 640.0;
/// The time line is then a fifth of a page at most.
const MOST_LANES: usize = 5;
/// Title of the time line.
const TIMES: &str = "When it happened";

/// What was expected and what was observed, as a picture takes it.
pub(super) fn picture(seen: &Seen<'_>) -> OrderPicture {
    let mut expected = Vec::new();
    let mut ids = Vec::new();
    for (step, result) in seen.steps() {
        if matches!(result.state, StepState::NotApplicable | StepState::LeftOut) {
            continue;
        }
        let findings = seen.findings_of(result);
        let note = match result.state {
            // As the notes of the other side are written.
            StepState::Missed | StepState::NotReached | StepState::NotSeen => {
                words::state(result.state).to_lowercase()
            }
            StepState::Well
            | StepState::Partly
            | StepState::OutOfOrder
            | StepState::LeftOut
            | StepState::NotApplicable => String::new(),
        };
        // Of several acts that satisfy a step, the one that was seen; all of them where none was.
        let label = match seen.told_with(result).and_then(|index| seen.observation(index)) {
            Some(observation) => seen.label(observation),
            None => seen.alternatives(step),
        };
        expected.push(Expected { label, mark: mark(result.state, &findings), note });
        ids.push((result, result.id.as_str()));
    }
    let findings = &seen.record.report.findings;
    let mut observed = Vec::new();
    for (index, observation) in seen.record.log.observations.iter().enumerate() {
        if !matches!(observation.what, What::Act(_)) {
            continue;
        }
        let of_it: Vec<_> = findings.iter().filter(|finding| finding.observation == Some(index)).collect();
        let displaced = of_it.iter().find(|finding| finding.kind == FindingKind::OutOfOrder);
        let counts = ids.iter().position(|(result, _)| result.observation == Some(index));
        let moved =
            displaced.and_then(|finding| ids.iter().position(|(_, id)| Some(*id) == finding.step.as_deref()));
        let counts_as = counts.or(moved);
        let worst = of_it.iter().map(|finding| finding.severity).min();
        observed.push(Observed {
            time: seen.time(observation),
            label: seen.label(observation),
            counts_as,
            displaced: displaced.is_some(),
            mark: match (worst, counts_as) {
                (Some(severity), _) => severity_mark(severity),
                (None, Some(_)) => Mark::Well,
                (None, None) => Mark::Open,
            },
            note: note(&of_it.iter().map(|finding| finding.kind).collect::<Vec<_>>()).to_owned(),
        });
    }
    OrderPicture { title: "Order expected and order observed".to_owned(), expected, observed, width: WIDTH }
}

/// The acts over time, as a picture takes it; `None` where no time is known, as with a paper form.
fn times(seen: &Seen<'_>) -> Option<TimeLine> {
    let log = &seen.record.log;
    let findings = &seen.record.report.findings;
    let timed = log.observations.iter().enumerate().filter_map(|(index, observation)| {
        let What::Act(_) = observation.what else { return None };
        let worst =
            findings.iter().filter(|one| one.observation == Some(index)).map(|one| one.severity).min();
        Some(TimedEvent {
            at_ms: observation.at_ms?,
            until_ms: observation.until_ms,
            label: seen.label(observation),
            mark: worst.map_or(Mark::Well, severity_mark),
        })
    });
    let events: Vec<TimedEvent> = timed.collect();
    if events.is_empty() || log.transcribed {
        return None;
    }
    let ended_ms = log.ended.at_ms.unwrap_or(0);
    Some(TimeLine { title: TIMES.to_owned(), events, ended_ms, width: WIDTH, most_lanes: MOST_LANES })
}

/// When each act happened, where that is known.
pub(super) fn over_time(sheet: &mut Sheet, seen: &Seen<'_>, lettering: Lettering<'_>) {
    let Some(line) = times(seen) else { return };
    let drawing = time_line(&line, lettering);
    let named = |label: &str| {
        drawing.shapes.iter().any(|shape| matches!(shape, Shape::Text { text, .. } if text == label))
    };
    let all_named = line.events.iter().all(|event| named(&event.label));
    sheet.titled_figure(&drawing);
    if !all_named {
        let said =
            "What has no name here, for want of room, is named with its time in the picture of the order.";
        paragraph(sheet, said, Style::SMALL);
    }
}

/// The kind that says most about an act.
fn note(kinds: &[FindingKind]) -> &'static str {
    let has = |kind| kinds.contains(&kind);
    if has(FindingKind::Forbidden) {
        "must not happen"
    } else if has(FindingKind::OutOfOrder) {
        "out of order"
    } else if has(FindingKind::Extra) {
        "no step calls for it"
    } else if has(FindingKind::Technique) {
        "technique"
    } else if has(FindingKind::TooShort) {
        "too short"
    } else if has(FindingKind::Prompted) {
        "prompted"
    } else {
        ""
    }
}
