use chrono::{DateTime, Days, NaiveDate, Utc};
use icalendar::{Alarm, Component, Event, EventLike, EventStatus, Property};

use crate::{ExportError, Reminder, Reminders, folding::conformed};

/// An entry of an earlier file that no longer holds: the validation was renewed and is not due yet, is not held any
/// more, or nobody asks for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenBack {
    /// The person's id.
    pub person: String,
    /// The person's name.
    pub name: String,
    /// The procedure's id.
    pub procedure: String,
    /// The procedure's title.
    pub title: String,
    /// The last valid day that was told.
    pub valid_until: NaiveDate,
    /// The SEQUENCE: [`evidence::Facts::reminder_revision`].
    pub revision: u32,
}

/// Local hour at which an alarm goes off: within a day shift rather than at midnight.
const HOUR: u32 = 8;

/// What falls due as an iCalendar file (RFC 5545): one all-day entry on the last valid day of each. What has no such
/// day has no entry.
///
/// An entry keeps its UID, made from the facility, person and procedure, so that a file read later moves
/// the entry rather than doubling it; its SEQUENCE is given with it. DTEND is the day after, since it
/// is exclusive. An alarm goes off at each lead time at eight in the morning there. Lines end in CRLF and have at
/// most 75 octets. Every entry carries `made`.
///
/// # Errors
///
/// A due date on the last day of the calendar (in the year 262142).
pub fn reminders_ics(
    reminders: &Reminders,
    taken_back: &[TakenBack],
    made: DateTime<Utc>,
) -> Result<Vec<u8>, ExportError> {
    let mut file = begun(&format!("Re-validation, {}", reminders.facility));
    for due in &reminders.due {
        if let Some(day) = due.valid_until {
            file.push(event(due, day, &reminders.facility_id, made)?);
        }
    }
    for gone in taken_back {
        file.push(cancelled(gone, &reminders.facility_id, made)?);
    }
    Ok(conformed(&file.to_string()).into_bytes())
}

/// A calendar of this name without entries.
pub(crate) fn begun(name: &str) -> icalendar::Calendar {
    let mut file = icalendar::Calendar::empty();
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", "-//Doorside//Re-validation//EN"),
        ("CALSCALE", "GREGORIAN"),
        ("METHOD", "PUBLISH"),
    ] {
        file.append_property(Property::new(key, value));
    }
    file.append_property(Property::new("X-WR-CALNAME", plain(name)).add_parameter("VALUE", "TEXT").done());
    file
}

fn event(due: &Reminder, day: NaiveDate, facility: &str, made: DateTime<Utc>) -> Result<Event, ExportError> {
    let after = day.checked_add_days(Days::new(1)).ok_or(ExportError::DateTooLate(day))?;
    let uid = uid(&[facility, &due.person, &due.procedure]);
    let summary = summary(&due.name, &due.title);
    let description = plain(&format!(
        "{} ({}): the validation in \"{}\" holds through {day}. State when this file was made: {}.",
        due.name,
        due.unit,
        due.title,
        due.state.words()
    ));
    let mut event = Event::new();
    event
        .uid(&uid)
        .timestamp(made)
        .add_property("SEQUENCE", due.revision.to_string())
        .starts(day)
        .ends(after)
        .summary(&summary)
        .description(&description)
        .location(&plain(&due.unit))
        .add_property("CLASS", "PRIVATE")
        .add_property("TRANSP", "TRANSPARENT");
    for lead in &due.lead_days {
        let mut alarm = Alarm::display(&summary, trigger(*lead));
        alarm.add_property("UID", format!("{lead}-{uid}")).timestamp(made);
        event.alarm(alarm);
    }
    Ok(event.done())
}

fn cancelled(gone: &TakenBack, facility: &str, made: DateTime<Utc>) -> Result<Event, ExportError> {
    let day = gone.valid_until;
    let after = day.checked_add_days(Days::new(1)).ok_or(ExportError::DateTooLate(day))?;
    let mut event = Event::new();
    event
        .uid(&uid(&[facility, &gone.person, &gone.procedure]))
        .timestamp(made)
        .add_property("SEQUENCE", gone.revision.to_string())
        .starts(day)
        .ends(after)
        .summary(&summary(&gone.name, &gone.title))
        .description("No longer due: it was renewed, or is not held or not asked for any more.")
        .add_property("CLASS", "PRIVATE")
        .status(EventStatus::Cancelled);
    Ok(event.done())
}

/// The title, which an entry keeps when it is taken back, so that whoever reads the list knows which one that is.
fn summary(name: &str, title: &str) -> String {
    plain(&format!("Re-validation due: {name}, {title}"))
}

/// The alarm's time from midnight at the beginning of the last valid day.
fn trigger(lead_days: u32) -> chrono::Duration {
    chrono::Duration::hours(i64::from(HOUR) - 24 * i64::from(lead_days))
}

/// The same for the same parts, on every device; it tells none of them.
pub(crate) fn uid(parts: &[&str]) -> String {
    let text: Vec<String> = parts.iter().map(|part| format!("{}:{part}", part.len())).collect();
    format!("{}@doorside", evidence::digest(text.concat().as_bytes()))
}

/// Text without control characters, which would end the line it stands in; a line break stays one.
pub(crate) fn plain(text: &str) -> String {
    text.replace("\r\n", "\n").chars().map(|c| if c.is_control() && c != '\n' { ' ' } else { c }).collect()
}
