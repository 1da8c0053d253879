//! What leaves the program as a file: rosters and reminders, for the window and the command line alike.

use std::collections::BTreeMap;

use contract::{Fault, Next, OpenedProcedure, Roster};
use export::{ExportError, Invitations, Reminder, Reminders, TakenBack};
use ledger::Moment;
use paper::{FormOrigin, Notice, NoticeItem, SessionSheet};

use crate::{
    desk::{DueWithin, PROGRAM, Required, sort_key},
    fault::paper_fault,
};

/// A roster as CSV.
pub(crate) fn roster_csv(roster: &Roster) -> Result<Vec<u8>, Fault> {
    export::roster_csv(roster).map_err(unwritable)
}

/// A roster as a spreadsheet.
pub(crate) fn roster_xlsx(roster: &Roster, now: &Moment) -> Result<Vec<u8>, Fault> {
    export::roster_xlsx(roster, now.wall.to_utc()).map_err(unwritable)
}

/// A roster as pages to print.
pub(crate) fn roster_pdf(roster: &Roster, now: &Moment) -> Result<Vec<u8>, Fault> {
    paper::roster(roster, now.wall, PROGRAM).map_err(paper_fault)
}

/// A roster as JSON.
pub(crate) fn roster_json(roster: &Roster) -> Result<Vec<u8>, Fault> {
    export::roster_json(roster).map_err(unwritable)
}

/// What falls due as a calendar; `taken_back` are entries of earlier ones that no longer hold.
pub(crate) fn reminders_ics(
    due: &DueWithin,
    taken_back: &[TakenBack],
    now: &Moment,
) -> Result<Vec<u8>, Fault> {
    export::reminders_ics(&reminders(due), taken_back, now.wall.to_utc()).map_err(unwritable)
}

/// What falls due as CSV.
pub(crate) fn reminders_csv(due: &DueWithin) -> Result<Vec<u8>, Fault> {
    export::reminders_csv(&reminders(due)).map_err(unwritable)
}

/// What falls due as a notice for each person.
pub(crate) fn notices_pdf(due: &DueWithin, now: &Moment) -> Result<Vec<u8>, Fault> {
    let mut notices: BTreeMap<&str, Notice> = BTreeMap::new();
    for required in &due.due {
        let item = NoticeItem {
            procedure: required.procedure.title.clone(),
            state: required.standing.state,
            valid_until: required.runs_out(),
            because: required.standing.because.clone(),
        };
        let notice = notices.entry(&required.person.id).or_insert_with(|| Notice {
            name: required.person.name.clone(),
            number: required.person.number.clone(),
            unit: required.person.unit_name.clone(),
            items: Vec::new(),
        });
        notice.items.push(item);
    }
    let mut notices: Vec<Notice> = notices.into_values().collect();
    notices.sort_by_cached_key(|one| (sort_key(&one.unit), sort_key(&one.name), one.number.clone()));
    paper::notices(&notices, &due.facility, due.as_of, now.wall, PROGRAM).map_err(paper_fault)
}

/// Who is asked to which session, as a calendar.
pub(crate) fn invitations_ics(invitations: &Invitations, now: &Moment) -> Result<Vec<u8>, Fault> {
    export::invitations_ics(invitations, now.wall.to_utc()).map_err(unwritable)
}

/// The same as a table.
pub(crate) fn invitations_csv(invitations: &Invitations) -> Result<Vec<u8>, Fault> {
    export::invitations_csv(invitations).map_err(unwritable)
}

/// The same as a list to print.
pub(crate) fn sessions_pdf(
    sessions: &[SessionSheet],
    facility: &str,
    now: &Moment,
) -> Result<Vec<u8>, Fault> {
    paper::sessions(sessions, facility, now.wall, PROGRAM).map_err(paper_fault)
}

/// A procedure as a form to observe with on paper.
pub(crate) fn form_pdf(opened: &OpenedProcedure, facility: &str, now: &Moment) -> Result<Vec<u8>, Fault> {
    let origin = FormOrigin { facility, hash: &opened.hash, drawn: now.wall, program: PROGRAM };
    paper::form(&opened.procedure, &origin).map_err(paper_fault)
}

fn reminders(due: &DueWithin) -> Reminders {
    Reminders {
        facility: due.facility.clone(),
        facility_id: due.facility_id.clone(),
        as_of: due.as_of,
        due: due.due.iter().map(reminder).collect(),
    }
}

fn reminder(required: &Required) -> Reminder {
    Reminder {
        person: required.person.id.clone(),
        name: required.person.name.clone(),
        number: required.person.number.clone(),
        role: required.person.role.clone(),
        unit: required.person.unit_name.clone(),
        procedure: required.procedure.id.clone(),
        title: required.procedure.title.clone(),
        valid_until: required.runs_out(),
        state: required.standing.state,
        because: required.standing.because.clone(),
        lead_days: required.lead_days.clone(),
        revision: required.revision,
    }
}

fn unwritable(error: ExportError) -> Fault {
    Fault::new(Next::AskForHelp, format!("The file could not be made: {error}; nothing was saved."))
}

/// A history as CSV.
pub(crate) fn history_csv(history: &contract::History) -> Result<Vec<u8>, Fault> {
    export::history_csv(history).map_err(unwritable)
}
