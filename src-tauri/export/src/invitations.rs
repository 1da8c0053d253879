use chrono::{DateTime, Days, NaiveDate, Utc};
use icalendar::{Component, Event, EventLike, EventStatus};

use crate::{
    ExportError,
    calendar::{begun, plain, uid},
    folding::conformed,
    table::csv,
};

/// Who is asked to which session.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invitations {
    /// Name of the facility.
    pub facility: String,
    /// What names the facility for good.
    pub facility_id: String,
    /// One per person and procedure, in the order they are to be told.
    pub invited: Vec<Invitation>,
}

/// One person, asked to one session.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invitation {
    /// The person's id.
    pub person: String,
    /// The person's name.
    pub name: String,
    /// Their staff number, which tells namesakes apart.
    pub number: String,
    /// Name of their unit.
    pub unit: String,
    /// The procedure's id.
    pub procedure: String,
    /// The procedure's title.
    pub title: String,
    /// The day of the session.
    pub on: NaiveDate,
    /// When it begins and ends; the whole day where it is `None`.
    pub at: Option<(DateTime<Utc>, DateTime<Utc>)>,
    /// Where.
    pub place: String,
    /// Name of the observer.
    pub observer: String,
    /// Why this session, as the plan says it.
    pub because: String,
    /// The SEQUENCE, by which a calendar takes the later one: [`evidence::Facts::invitation_revision`].
    pub revision: u32,
    /// It is taken back, since the validation was renewed before or the session falls out.
    pub cancelled: bool,
}

/// Invitations as an iCalendar file (RFC 5545). A person keeps one entry for a procedure, by its UID, however
/// often it is moved. It is published rather than requested: a request needs addresses, and none are kept.
///
/// # Errors
/// A session on the last day of the calendar (in the year 262142).
pub fn invitations_ics(invitations: &Invitations, made: DateTime<Utc>) -> Result<Vec<u8>, ExportError> {
    let mut file = begun(&format!("Sessions, {}", invitations.facility));
    for one in &invitations.invited {
        let after = one.on.checked_add_days(Days::new(1)).ok_or(ExportError::DateTooLate(one.on))?;
        let mut event = Event::new();
        event
            .uid(&uid(&[&invitations.facility_id, &one.person, &one.procedure, "session"]))
            .timestamp(made)
            .add_property("SEQUENCE", one.revision.to_string())
            .summary(&plain(&format!("Demonstration: {}, {}", one.name, one.title)))
            .description(&plain(&format!("Observer: {}. {}", one.observer, one.because)))
            .location(&plain(&one.place))
            .add_property("CLASS", "PRIVATE")
            .status(if one.cancelled { EventStatus::Cancelled } else { EventStatus::Confirmed });
        match one.at {
            Some((begins, ends)) => event.starts(begins).ends(ends),
            None => event.starts(one.on).ends(after),
        };
        file.push(event.done());
    }
    Ok(conformed(&file.to_string()).into_bytes())
}

/// The same as a list to print or to merge, as CSV in the form of [`crate::roster_csv`]; what is taken back is
/// left out. Times are in UTC.
pub fn invitations_csv(invitations: &Invitations) -> Result<Vec<u8>, ExportError> {
    let names = [
        "date",
        "begins",
        "ends",
        "place",
        "observer",
        "name",
        "number",
        "unit",
        "procedure",
        "why",
        "person id",
    ];
    let time = |at: Option<DateTime<Utc>>| at.map(|at| at.format("%H:%MZ").to_string()).unwrap_or_default();
    let rows = invitations.invited.iter().filter(|one| !one.cancelled).map(|one| {
        vec![
            one.on.to_string(),
            time(one.at.map(|at| at.0)),
            time(one.at.map(|at| at.1)),
            one.place.clone(),
            one.observer.clone(),
            one.name.clone(),
            one.number.clone(),
            one.unit.clone(),
            one.title.clone(),
            one.because.clone(),
            one.person.clone(),
        ]
    });
    csv(&names, rows)
}
