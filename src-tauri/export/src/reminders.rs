use chrono::NaiveDate;
use competency::validity::State;

use crate::{ExportError, roster::day, table::csv};

/// What falls due, is overdue, or is not held yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reminders {
    /// Name of the facility.
    pub facility: String,
    /// What names the facility for good; calendar entries are recognised by it after it is renamed.
    pub facility_id: String,
    /// As of this date.
    pub as_of: NaiveDate,
    /// One per person and procedure, in the order they are to be told.
    pub due: Vec<Reminder>,
}

/// One validation that falls due, is overdue, or is not held yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reminder {
    /// The person's id.
    pub person: String,
    /// The person's name.
    pub name: String,
    /// Their number in the personnel system.
    pub number: String,
    /// Their role; may be empty.
    pub role: String,
    /// Name of their unit.
    pub unit: String,
    /// The procedure's id.
    pub procedure: String,
    /// The procedure's title.
    pub title: String,
    /// Valid through this date; `None` where nothing holds: not yet competent, or never validated.
    pub valid_until: Option<NaiveDate>,
    /// How the person stands on `as_of`.
    pub state: State,
    /// Why they stand so, in one sentence.
    pub because: String,
    /// How many days before the last valid day to remind, each once.
    pub lead_days: Vec<u32>,
    /// The SEQUENCE of its calendar entry: [`evidence::Facts::reminder_revision`].
    pub revision: u32,
}

const COLUMNS: [&str; 15] = [
    "row",
    "of rows",
    "name",
    "number",
    "role",
    "unit",
    "procedure",
    "state",
    "valid until",
    "days left",
    "because",
    "as of",
    "facility",
    "person id",
    "procedure id",
];

/// What falls due as CSV, in the form of [`crate::roster_csv`]. `days left` counts from `as of` to the last
/// valid day: 0 on that day. After it the cell is empty and the state says so; where nothing was ever valid,
/// `valid until` is empty too.
pub fn reminders_csv(reminders: &Reminders) -> Result<Vec<u8>, ExportError> {
    let of = reminders.due.len().to_string();
    csv(
        &COLUMNS,
        reminders.due.iter().enumerate().map(|(index, due)| {
            let left = due.valid_until.map(|until| until.signed_duration_since(reminders.as_of).num_days());
            vec![
                (index + 1).to_string(),
                of.clone(),
                due.name.clone(),
                due.number.clone(),
                due.role.clone(),
                due.unit.clone(),
                due.title.clone(),
                due.state.words().to_owned(),
                day(due.valid_until),
                left.filter(|left| *left >= 0).map(|left| left.to_string()).unwrap_or_default(),
                due.because.clone(),
                reminders.as_of.to_string(),
                reminders.facility.clone(),
                due.person.clone(),
                due.procedure.clone(),
            ]
        }),
    )
}
