//! The lines of the log as they are read.

use competency::journal::{Event, Line, TapId};

use super::form::Form;
use crate::wording::{self, door};

/// One line to show.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct Shown {
    /// The tap.
    pub(crate) id: TapId,
    /// When.
    pub(crate) at_ms: i64,
    /// What.
    pub(crate) text: String,
    /// It came too early.
    pub(crate) too_early: bool,
    /// It is taken back; its undo, to bring it back.
    pub(crate) taken_back: Option<TapId>,
}

/// The lines that stand for themselves, latest first. What amends another line is told there.
pub(crate) fn all(form: &Form) -> Vec<Shown> {
    form.opened().lines.iter().rev().filter_map(|line| shown(form, line)).collect()
}

/// One line by its tap.
pub(crate) fn line(form: &Form, id: &str) -> Option<Shown> {
    form.opened().lines.iter().find(|line| line.id == id).and_then(|line| shown(form, line))
}

/// The latest line that still stands.
pub(crate) fn latest(form: &Form) -> Option<Shown> {
    all(form).into_iter().find(|line| line.taken_back.is_none())
}

/// The tap that undo takes back: the latest one that waits, else the latest line that still stands.
pub(crate) fn undo_target(form: &Form) -> Option<TapId> {
    let waits = form.waiting().rev().find(|tap| !matches!(tap.event, Event::Undo { .. }));
    waits.map(|tap| tap.id.clone()).or_else(|| latest(form).map(|line| line.id))
}

fn shown(form: &Form, line: &Line) -> Option<Shown> {
    let model = form.model();
    let observation = form.folded().observation_of(&line.id);
    let act = |act: &str, late: bool| {
        let seen = observation.and_then(|index| form.folded().log.observations.get(index));
        let (prompted, faults) = seen.map_or((false, 0), |seen| (seen.prompted, seen.faults.len()));
        door::act_line(model.act_label(act), prompted, faults, late)
    };
    let step = |id: &str| {
        let step = model.step_number(id).and_then(|number| model.step(number));
        step.map_or_else(|| id.to_owned(), |step| crate::pictures::step_label(model, step))
    };
    let text = match &line.event {
        Event::Act { act: id, .. } => act(id, false),
        Event::LateAct { act: id, .. } => act(id, true),
        Event::Condition { condition } => {
            let known = model.procedure().conditions.iter().find(|known| known.id == *condition);
            known.map_or_else(|| condition.clone(), |known| known.text.clone())
        }
        Event::Contamination { event, .. } => door::contamination_line(&event.site, &event.from),
        Event::NotSeen { step: id } => format!("{}: {}", door::live::NOT_SEEN, step(id)),
        Event::NotDone { step: id } => format!("{}: {}", door::settle::NOT_DONE, step(id)),
        Event::Note { text, .. } => text.clone(),
        Event::Hold => door::live::ON_HOLD.to_owned(),
        Event::Resume => door::live::RESUME.to_owned(),
        Event::End { how } => wording::how_ended(*how).to_owned(),
        Event::ActEnded { .. }
        | Event::Prompted { .. }
        | Event::Fault { .. }
        | Event::Called { .. }
        | Event::Undo { .. } => return None,
    };
    Some(Shown {
        id: line.id.clone(),
        at_ms: line.at_ms,
        text,
        too_early: observation.is_some_and(|index| form.was_too_early(index)),
        taken_back: undo_of(form, &line.id),
    })
}

/// The undo that took a line back and stands itself.
fn undo_of(form: &Form, id: &str) -> Option<TapId> {
    let taken_back = &form.folded().taken_back;
    taken_back.iter().any(|tap| tap == id).then(|| {
        let undo = form.opened().lines.iter().rev().find(|line| {
            matches!(&line.event, Event::Undo { of } if of == id) && !taken_back.contains(&line.id)
        });
        undo.map(|line| line.id.clone()).unwrap_or_default()
    })
}
