use chrono::NaiveDate;
use competency::validity::{Origin, Standing};
use contract::{Person, Roster, RosterColumn};

use crate::{ExportError, table::csv};

/// One standing of a roster with everything that it takes to read it alone.
pub(crate) struct Line<'r> {
    pub(crate) person: &'r Person,
    pub(crate) procedure: &'r RosterColumn,
    pub(crate) standing: &'r Standing,
}

/// The standings of a roster, person by person.
pub(crate) fn lines(roster: &Roster) -> Vec<Line<'_>> {
    roster
        .rows
        .iter()
        .flat_map(|row| {
            let standings = roster.procedures.iter().zip(&row.standings);
            standings.map(|(procedure, standing)| Line { person: &row.person, procedure, standing })
        })
        .collect()
}

/// The columns of the roster as a table.
const COLUMNS: [&str; 19] = [
    "row",
    "of rows",
    "name",
    "number",
    "role",
    "unit",
    "procedure",
    "state",
    "valid until",
    "decided on",
    "evidence",
    "because",
    "procedure id",
    "facility",
    "as of",
    "known by",
    "rules version",
    "entries not understood",
    "rests on",
];

/// A roster as CSV, one line per person and procedure.
///
/// Every line says by itself as of when it holds, what was known, by which version of the rules, and which
/// of how many it is, so that a part of the file cannot be taken for the whole. Dates are `2026-11-25`;
/// `known by` is empty where everything known now counts. The form is that of [`crate::reminders_csv`] too:
/// RFC 4180 with CRLF, UTF-8 with a byte order mark, and no cell that begins as a formula.
pub fn roster_csv(roster: &Roster) -> Result<Vec<u8>, ExportError> {
    let lines = lines(roster);
    let of = lines.len().to_string();
    csv(
        &COLUMNS,
        lines.iter().enumerate().map(|(index, line)| {
            vec![
                (index + 1).to_string(),
                of.clone(),
                line.person.name.clone(),
                line.person.number.clone(),
                line.person.role.clone(),
                line.person.unit_name.clone(),
                line.procedure.title.clone(),
                line.standing.state.words().to_owned(),
                day(line.standing.valid_until),
                day(line.standing.decided_on),
                evidence(line.standing).to_owned(),
                line.standing.because.clone(),
                line.procedure.id.clone(),
                roster.facility.clone(),
                roster.as_of.to_string(),
                day(roster.known_at),
                roster.rules.to_string(),
                roster.unknown_entries.to_string(),
                roster.covers.clone(),
            ]
        }),
    )
}

/// Where what decides was seen; nothing where nothing was shown.
pub(crate) fn evidence(standing: &Standing) -> &'static str {
    standing.evidence.map(Origin::words).unwrap_or_default()
}

/// A date as it is written in a table; nothing where there is none.
pub(crate) fn day(date: Option<NaiveDate>) -> String {
    date.map(|date| date.to_string()).unwrap_or_default()
}

/// A roster as JSON, as it crosses to the window: [`contract::Roster`], indented, with a line break at the end.
pub fn roster_json(roster: &Roster) -> Result<Vec<u8>, ExportError> {
    let mut bytes = serde_json::to_vec_pretty(roster).map_err(ExportError::Json)?;
    bytes.push(b'\n');
    Ok(bytes)
}
