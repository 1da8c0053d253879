//! Drawings of `picture` from what the contract brings.

use chrono::NaiveDate;
use competency::{
    log::{Log, Observation, What},
    model::Model,
    procedure::{Applies, Procedure, Step},
    report::{Finding, FindingKind, Report, Severity, StepState},
    validity::State,
};
use contract::MonthLoad;
use picture::{
    Drawing, DueLoad, DueWeeks, Expected, GraphStep, Lettering, Mark, Observed, OrderPicture, Precedence,
    StepGraph, TimeLine, TimedEvent, Week,
};

use crate::wording;

/// The step graph of a procedure as SVG.
pub(crate) fn step_graph(procedure: &Procedure, model: &Model, widest: f64) -> String {
    picture::svg(&drawn_graph(procedure, model, widest), "step-graph")
}

/// Numbered as in the list of the steps and on the paper form, since several steps may ask for the same act.
fn drawn_graph(procedure: &Procedure, model: &Model, widest: f64) -> Drawing {
    let steps = procedure
        .steps
        .iter()
        .zip(1..)
        .map(|(step, number)| GraphStep {
            id: step.id.clone(),
            label: format!("{number}. {}", step_label(model, step)),
            section: step.section.clone(),
            critical: step.critical,
            optional: step.optional,
            conditional: step.applies() != Applies::Always,
            right_after: model.right_after(step).map(|number| number.to_string()),
        })
        .collect();
    let declared = procedure.steps.iter().flat_map(|step| {
        let after = step.after.iter().map(|before| (before.step().to_owned(), before.danger()));
        let at_once = step.immediately_after.iter().map(|before| (before.clone(), false));
        after.chain(at_once).map(|(from, danger)| Precedence { from, to: step.id.clone(), danger })
    });
    let graph = StepGraph {
        title: wording::facility::procedures::ORDER.to_owned(),
        steps,
        precedences: declared.collect(),
        widest,
    };
    picture::step_graph(&graph, Lettering::PLAIN)
}

/// A short name of a step: the labels of its acts.
pub(crate) fn step_label(model: &Model, step: &Step) -> String {
    let acts: Vec<String> = step.acts.iter().map(|act| model.act_label(act).to_owned()).collect();
    wording::listed(&acts, wording::door::OR)
}

/// Expected against observed order as SVG.
pub(crate) fn order_picture(model: &Model, log: &Log, report: &Report, width: f64) -> String {
    let shown: Vec<_> = report.steps.iter().filter(|step| step.state != StepState::NotApplicable).collect();
    let expected = shown
        .iter()
        .filter_map(|result| {
            let step = model.step(model.step_number(&result.id)?)?;
            let findings = report.findings.iter().filter(|finding| finding.step.as_ref() == Some(&result.id));
            let note = match result.state {
                StepState::Well | StepState::Partly | StepState::OutOfOrder => String::new(),
                StepState::Missed
                | StepState::NotReached
                | StepState::NotSeen
                | StepState::LeftOut
                | StepState::NotApplicable => wording::step_state(result.state),
            };
            let open = matches!(
                result.state,
                StepState::NotSeen | StepState::NotReached | StepState::LeftOut | StepState::NotApplicable
            );
            let calm = if open { Mark::Open } else { Mark::Well };
            Some(Expected { label: step_label(model, step), mark: worst(findings, calm), note })
        })
        .collect();
    let observed = log
        .observations
        .iter()
        .enumerate()
        .filter_map(|(index, observation)| {
            let label = match &observation.what {
                What::Act(act) => model.act_label(act).to_owned(),
                What::Contamination(event) => wording::door::contamination_line(&event.site, &event.from),
                What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => return None,
            };
            let about = |finding: &&Finding| finding.observation == Some(index);
            let displaced = report
                .findings
                .iter()
                .filter(about)
                .find(|finding| finding.kind == FindingKind::OutOfOrder)
                .and_then(|finding| finding.step.as_ref());
            let counted = || report.steps.iter().find(|s| s.observation == Some(index)).map(|s| &s.id);
            let counts_as =
                displaced.or_else(counted).and_then(|id| shown.iter().position(|result| result.id == *id));
            let calm = if counts_as.is_some() { Mark::Well } else { Mark::Open };
            Some(Observed {
                time: observation.at_ms.map(|_| wording::when(log, observation)).unwrap_or_default(),
                label,
                counts_as,
                displaced: displaced.is_some(),
                mark: worst(report.findings.iter().filter(about), calm),
                note: if observation.late && !log.transcribed {
                    wording::outcome::ENTERED_LATE.to_owned()
                } else {
                    String::new()
                },
            })
        })
        .collect();
    let drawing = OrderPicture { title: wording::outcome::ORDER.to_owned(), expected, observed, width };
    picture::svg(&picture::order_picture(&drawing, Lettering::PLAIN), "order-picture")
}

/// What was observed, in the words of the log.
pub(crate) fn observed(model: &Model, observation: &Observation) -> String {
    match &observation.what {
        What::Act(act) => model.act_label(act).to_owned(),
        What::Contamination(event) => wording::door::contamination_line(&event.site, &event.from),
        What::Condition(id) => model.procedure().condition_text(id).to_owned(),
        What::NotSeen(id) => {
            let step = model.step_number(id).and_then(|number| model.step(number));
            step.map_or_else(|| id.clone(), |step| step_label(model, step))
        }
        What::TeamError(what) => wording::beside::team_error_line(observation.by, what),
    }
}

/// The acts over time as SVG; none where no act was timed as it happened. What a paper form says of times
/// is too coarse to be drawn.
pub(crate) fn time_line(model: &Model, log: &Log, report: &Report, width: f64) -> Option<String> {
    let events: Vec<TimedEvent> = log
        .observations
        .iter()
        .enumerate()
        .filter_map(|(index, observation)| {
            if matches!(observation.what, What::Condition(_) | What::NotSeen(_)) {
                return None;
            }
            let about = report.findings.iter().filter(|finding| finding.observation == Some(index));
            Some(TimedEvent {
                at_ms: observation.at_ms?,
                until_ms: observation.until_ms,
                label: observed(model, observation),
                mark: worst(about, Mark::Well),
            })
        })
        .collect();
    if events.is_empty() || log.transcribed {
        return None;
    }
    let ended_ms = log.ended.at_ms.unwrap_or(0);
    let title = wording::outcome::TIMES.to_owned();
    let line = TimeLine { title, events, ended_ms, width, most_lanes: usize::MAX };
    Some(picture::svg(&picture::time_line(&line, Lettering::PLAIN), "time-line"))
}

fn worst<'a>(findings: impl Iterator<Item = &'a Finding>, calm: Mark) -> Mark {
    findings.fold(calm, |mark, finding| match (finding.severity, mark) {
        (Severity::Critical, _) | (_, Mark::Danger) => Mark::Danger,
        (Severity::Other | Severity::Team, Mark::Well | Mark::Open | Mark::Warning) => Mark::Warning,
    })
}

/// How many validations run out in each month, as SVG.
pub(crate) fn due_load(months: &[MonthLoad], width: f64) -> String {
    let load = DueLoad {
        title: wording::facility::home::LOAD.to_owned(),
        months: months.iter().map(|load| (wording::short_month(load.month), load.due)).collect(),
        width,
    };
    picture::svg(&picture::due_load(&load, Lettering::PLAIN), "due-load")
}

/// How many validations run out in each week, each named by its Monday, as SVG.
pub(crate) fn due_weeks(weeks: &[(NaiveDate, u32)], width: f64) -> String {
    let mut last = None;
    let named = weeks.iter().map(|(monday, due)| {
        let month = wording::short_month(*monday);
        let begins = last.replace(month.clone()) != Some(month.clone());
        Week { name: wording::short_date(*monday), month: begins.then_some(month), due: *due }
    });
    let load = DueWeeks { title: wording::manager::sessions::LOAD.to_owned(), weeks: named.collect(), width };
    picture::svg(&picture::due_weeks(&load, Lettering::PLAIN), "due-weeks")
}

/// The mark of a state as SVG, to stand beside its word.
pub(crate) fn state_mark(state: State) -> String {
    let state = match state {
        State::Current => picture::State::Current,
        State::DueSoon => picture::State::DueSoon,
        State::Overdue => picture::State::Overdue,
        State::NotYetCompetent => picture::State::NotYetCompetent,
        State::NeverValidated => picture::State::NeverValidated,
        State::Suspended => picture::State::Suspended,
        State::NotRequired => picture::State::NotRequired,
    };
    // Hidden from screen readers: it has no title, and its id is not used then.
    picture::svg(&picture::state_mark(state, 18.0), "state")
}

#[cfg(test)]
mod tests {
    use competency::procedure::{library, read};

    use super::*;

    /// A tablet held upright leaves this much of its 820 pixels. A drawing no wider scrolls only up and down; a
    /// wider one, where many steps are free side by side, is no higher than the window and scrolls only sideways.
    /// Neither is made smaller, and no letter is below 12 pixels.
    #[test]
    fn the_order_of_every_procedure_is_readable_on_a_tablet() {
        for (name, text) in library() {
            let procedure = read(text).unwrap();
            let model = Model::new(procedure.clone());
            let drawing = drawn_graph(&procedure, &model, 704.0);
            let one_way = drawing.width <= 704.0 || drawing.height <= 900.0;
            assert!(one_way, "{name}: {} wide, {} high", drawing.width, drawing.height);
            let least = drawing.shapes.iter().filter_map(|shape| {
                if let picture::Shape::Text { size, .. } = shape { Some(*size) } else { None }
            });
            assert!(least.fold(f64::MAX, f64::min) >= 12.0, "{name}");
        }
    }
}
