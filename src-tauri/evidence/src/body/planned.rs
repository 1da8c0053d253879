//! Sessions, places in them, and reminders.

use chrono::{DateTime, FixedOffset, NaiveDate};
use serde::{Deserialize, Serialize};

use crate::{PersonId, ProcedureId, SessionId};

/// An observer's session, whole, so that a later one of the same id replaces it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SessionSet {
    /// The session.
    pub session: SessionId,
    /// On this civil date.
    pub on: NaiveDate,
    /// When it begins and ends; the whole day where it is `None`.
    pub at: Option<(DateTime<FixedOffset>, DateTime<FixedOffset>)>,
    /// Where.
    pub place: String,
    /// Who observes.
    pub observer: PersonId,
    /// How many demonstrations there is time for.
    pub places: u32,
    /// For these procedures; for every one that the observer may observe where it is `None`.
    pub procedures: Option<Vec<ProcedureId>>,
    /// `false` takes it back: it does not take place.
    pub held: bool,
}

/// A person's place in a session for one procedure; a later one for the same person and procedure replaces it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlaceGiven {
    /// The person.
    pub person: PersonId,
    /// The procedure that they are to demonstrate.
    pub procedure: ProcedureId,
    /// In this session; `None` takes the place back.
    pub session: Option<SessionId>,
    /// Whether somebody chose it by hand, rather than the plan.
    pub by_hand: bool,
    /// Why, as the plan said it.
    pub because: String,
}

/// A person was reminded that a validation runs out, that it has, or that there is none yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReminderSent {
    /// The person.
    pub person: PersonId,
    /// The procedure.
    pub procedure: ProcedureId,
    /// Valid through this date, as it was told; `None` where nothing holds: not yet competent, or never validated.
    pub valid_until: Option<NaiveDate>,
    /// In which form.
    pub form: ReminderForm,
    /// On this civil date.
    pub on: NaiveDate,
    /// It takes an earlier reminder back, since the validation was renewed or is no longer asked for.
    pub cancels: bool,
    /// The SEQUENCE that a calendar was told; `None` in any other form.
    pub sequence: Option<u32>,
}

/// In which form a reminder leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReminderForm {
    /// As an entry of a calendar file.
    Calendar,
    /// As a row of a table for letters and messages.
    Table,
    /// As a printed notice.
    Notice,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Body, Entry, PersonRenamed, digest, entry::tests::entry};

    #[test]
    fn every_kind_is_read_back_from_its_bytes() {
        let text = str::to_owned;
        let on: NaiveDate = "2026-11-25".parse().unwrap();
        let at = |wall: &str| wall.parse().unwrap();
        let session = SessionSet {
            session: text("s"),
            on,
            at: Some((at("2026-11-25T10:00:00+01:00"), at("2026-11-25T12:00:00+01:00"))),
            place: text("Anteroom 2"),
            observer: text("o"),
            places: 6,
            procedures: Some(vec![text("doffing")]),
            held: true,
        };
        let given = PlaceGiven {
            person: text("p"),
            procedure: text("doffing"),
            session: None,
            by_hand: true,
            because: text("why"),
        };
        let sent = ReminderSent {
            person: text("p"),
            procedure: text("doffing"),
            valid_until: Some(on),
            form: ReminderForm::Notice,
            on,
            cancels: false,
            sequence: None,
        };
        let renamed = PersonRenamed { person: text("p"), name_digest: digest(b"name") };
        for body in [Body::from(session), given.into(), sent.into(), renamed.into()] {
            let written: Entry = entry(body);
            assert_eq!(Entry::read(&written.to_bytes().unwrap()).unwrap(), written);
            assert!(!matches!(written.body, Body::Unknown { .. }));
        }
    }
}
