use competency::{
    log::What,
    report::{FindingKind, StepState},
};
use picture::{Expected, Mark, Observed, OrderPicture};

use super::seen::{Seen, mark, severity_mark};
use crate::words;

/// Wider than the text, so that its letters come out a little smaller than on a screen.
const WIDTH: f64 = 640.0;

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
            StepState::Missed | StepState::NotReached | StepState::NotSeen => words::state(result.state),
            StepState::Well
            | StepState::Partly
            | StepState::OutOfOrder
            | StepState::LeftOut
            | StepState::NotApplicable => "",
        };
        // Of several acts that satisfy a step, the one that was seen; all of them where none was.
        let label = match seen.told_with(result).and_then(|index| seen.observation(index)) {
            Some(observation) => seen.label(observation),
            None => seen.alternatives(step),
        };
        expected.push(Expected { label, mark: mark(result.state, &findings), note: note.to_owned() });
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
