//! The lines of the log as they are read.

use competency::{
    journal::{Event, Line, TapId},
    log::What,
    sentence,
};

use super::form::Form;
use crate::wording::{self, beside, door, paper};

/// One line to show.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct Shown {
    /// The tap.
    pub(crate) id: TapId,
    /// When, as it is read.
    pub(crate) when: String,
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

fn shown(form: &Form, line: &Line) -> Option<Shown> {
    let model = form.model();
    let observation = form.folded().observation_of(&line.id);
    let act = |first: &str, late: bool| {
        let seen = observation.and_then(|index| form.folded().log.observations.get(index));
        // It may have been corrected since.
        let act = match seen.map(|seen| &seen.what) {
            Some(What::Act(act)) => act.as_str(),
            Some(What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_))
            | None => first,
        };
        let (prompted, faults) = seen.map_or((false, 0), |seen| (seen.prompted, seen.faults.len()));
        let notes = form.folded().notes.iter().filter(|note| note.of.as_ref() == Some(&line.id)).count();
        // On a form everything was written as it happened.
        let late = late && form.paper().is_none();
        let label = model.act_label(act).to_owned();
        let label =
            seen.and_then(|seen| seen.lasted_ms).map_or(label.clone(), |ms| paper::lasted(&label, ms));
        let said = door::act_line(&label, prompted, faults, late);
        beside::amended(said, seen.and_then(|seen| seen.call), act != first, notes)
    };
    let step = |id: &str| {
        let step = model.step_number(id).and_then(|number| model.step(number));
        step.map_or_else(|| id.to_owned(), |step| crate::pictures::step_label(model, step))
    };
    let text = match &line.event {
        Event::Act { act: id, .. } => act(id, false),
        Event::LateAct { act: id, .. } => act(id, true),
        Event::Condition { condition } => model.procedure().condition_text(condition).to_owned(),
        Event::Contamination { event, .. } => door::contamination_line(&event.site, &event.from),
        Event::NotSeen { step: id } => format!("{}: {}", door::live::NOT_SEEN, step(id)),
        Event::NotDone { step: id } => format!("{}: {}", door::settle::NOT_DONE, step(id)),
        // A note on a line that is shown is told there.
        Event::Note { of: Some(of), .. } if line_of(form, of).is_some() => return None,
        Event::Note { text, .. } => text.clone(),
        Event::TeamError { by, what } => beside::team_error_line(*by, what),
        Event::HandedOver { to } => {
            let name = form.opened().took_over.get(to).unwrap_or(to);
            beside::hand_over::line(name)
        }
        Event::Hold => door::live::ON_HOLD.to_owned(),
        Event::Resume => door::live::RESUME.to_owned(),
        Event::End { how } => wording::how_ended(*how).to_owned(),
        Event::ActEnded { .. }
        | Event::Prompted { .. }
        | Event::Fault { .. }
        | Event::Called { .. }
        | Event::Undo { .. }
        | Event::Corrected { .. }
        | Event::Written { .. }
        | Event::WrittenSpan { .. }
        | Event::Settled
        | Event::Because { .. }
        | Event::StricterDecision { .. }
        | Event::Coaching { .. } => return None,
    };
    Some(Shown {
        id: line.id.clone(),
        when: when(form, line, observation),
        text,
        too_early: observation.is_some_and(|index| form.was_too_early(index)),
        taken_back: undo_of(form, &line.id),
    })
}

/// While a form is entered, the moment of the entry says nothing; contamination happened when its figure was opened,
/// not when it was told where.
fn when(form: &Form, line: &Line, observation: Option<usize>) -> String {
    let seen = observation.and_then(|index| form.folded().log.observations.get(index));
    let happened = seen.and_then(|seen| seen.at_ms);
    if form.paper().is_none() {
        let told_later = matches!(line.event, Event::Contamination { .. });
        return wording::clock(happened.filter(|_| told_later).unwrap_or(line.at_ms));
    }
    happened.map_or_else(|| paper::NO_TIME.to_owned(), sentence::time_of_day)
}

fn line_of<'a>(form: &'a Form, id: &str) -> Option<&'a Line> {
    form.opened().lines.iter().find(|line| line.id == id)
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
