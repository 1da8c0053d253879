//! What leaves the program as a file: rosters and reminders, for the window and the command line alike.

use chrono::NaiveDate;
use contract::{Fault, Next, OpenedProcedure, Roster};
use export::{Calendar, ExportError, Reminder, Reminders};
use ledger::Moment;

use paper::FormOrigin;

use crate::{
    desk::{DueWithin, PROGRAM, Required},
    fault::paper_fault,
};

/// How many days before a validation runs out the calendar reminds; common practice, no source.
const LEAD_DAYS: [u32; 4] = [90, 60, 30, 7];

/// A roster as CSV.
pub(crate) fn roster_csv(roster: &Roster) -> Result<Vec<u8>, Fault> {
    export::roster_csv(roster).map_err(unwritable)
}

/// A roster as a spreadsheet.
pub(crate) fn roster_xlsx(roster: &Roster, now: &Moment) -> Result<Vec<u8>, Fault> {
    export::roster_xlsx(roster, now.wall.to_utc()).map_err(unwritable)
}

/// A roster as JSON.
pub(crate) fn roster_json(roster: &Roster) -> Result<Vec<u8>, Fault> {
    export::roster_json(roster).map_err(unwritable)
}

/// What falls due as a calendar.
pub(crate) fn reminders_ics(due: &DueWithin, now: &Moment) -> Result<Vec<u8>, Fault> {
    let calendar = Calendar { made: now.wall.to_utc(), lead_days: LEAD_DAYS.to_vec() };
    export::reminders_ics(&reminders(due), &calendar).map_err(unwritable)
}

/// What falls due as CSV.
pub(crate) fn reminders_csv(due: &DueWithin) -> Result<Vec<u8>, Fault> {
    export::reminders_csv(&reminders(due)).map_err(unwritable)
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
        due: due
            .due
            .iter()
            .filter_map(|required| required.standing.valid_until.map(|until| reminder(required, until)))
            .collect(),
    }
}

fn reminder(required: &Required, valid_until: NaiveDate) -> Reminder {
    Reminder {
        person: required.person.id.clone(),
        name: required.person.name.clone(),
        unit: required.person.unit_name.clone(),
        procedure: required.procedure.id.clone(),
        title: required.procedure.title.clone(),
        valid_until,
        state: required.standing.state,
    }
}

fn unwritable(error: ExportError) -> Fault {
    Fault::new(Next::AskForHelp, format!("The file could not be made: {error}; nothing was saved."))
}

/// A history as CSV.
pub(crate) fn history_csv(history: &contract::History) -> Result<Vec<u8>, Fault> {
    export::history_csv(history).map_err(unwritable)
}
