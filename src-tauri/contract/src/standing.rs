use chrono::NaiveDate;
use competency::{
    procedure::Mode,
    report::{Outcome, Severity},
    validity::{Purpose, Standing},
};
use serde::{Deserialize, Serialize};

use crate::Person;

/// Opens the roster of a unit, or of the whole facility.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenRoster {
    /// The unit; everyone where it is `None`.
    pub unit: Option<String>,
    /// As of this date; today where it is `None`.
    pub as_of: Option<NaiveDate>,
    /// Only what was known by the end of this date; everything known now where it is `None`.
    pub known_at: Option<NaiveDate>,
}

/// A roster.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Roster {
    /// Name of the facility.
    pub facility: String,
    /// Name of the unit; `None` for the whole facility.
    pub unit: Option<String>,
    /// As of this date.
    pub as_of: NaiveDate,
    /// Known by the end of this date, where that was asked for.
    pub known_at: Option<NaiveDate>,
    /// The procedures, as columns.
    pub procedures: Vec<RosterColumn>,
    /// The people, as rows, by name.
    pub rows: Vec<RosterRow>,
    /// Entries of kinds that this program does not know: the roster may be incomplete where it is not 0.
    pub unknown_entries: u32,
}

/// One procedure of a roster.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RosterColumn {
    /// The procedure's id.
    pub id: String,
    /// Its title.
    pub title: String,
}

/// One person of a roster.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RosterRow {
    /// The person.
    pub person: Person,
    /// How they stand, one per column.
    pub standings: Vec<Standing>,
}

/// Opens one person's history.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenHistory {
    /// The person's id.
    pub person: String,
    /// As of this date; today where it is `None`.
    pub as_of: Option<NaiveDate>,
}

/// A person's history.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct History {
    /// The person.
    pub person: Person,
    /// As of this date.
    pub as_of: NaiveDate,
    /// How they stand with each procedure required of them or demonstrated by them.
    pub standings: Vec<(RosterColumn, Standing)>,
    /// Every sealed demonstration, latest first.
    pub demonstrations: Vec<HistoryLine>,
}

/// One sealed demonstration in a history.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HistoryLine {
    /// Names the record.
    pub record: String,
    /// The civil date it was carried out.
    pub on: NaiveDate,
    /// Title of the procedure.
    pub procedure: String,
    /// Its version.
    pub version: String,
    /// What it was for.
    pub purpose: Purpose,
    /// Guided or assessed.
    pub mode: Mode,
    /// Name of the observer.
    pub observer: String,
    /// The outcome.
    pub outcome: Outcome,
    /// Steps as they should be.
    pub steps_well: u32,
    /// Steps counted.
    pub steps_counted: u32,
    /// What was found, as severity and sentence.
    pub findings: Vec<(Severity, String)>,
    /// Valid through this date; `None` where it granted nothing.
    pub valid_until: Option<NaiveDate>,
    /// The day on which a later attempt ended it, where one did.
    pub ended_on: Option<NaiveDate>,
    /// SHA-256 of the signed PDF, hexadecimal.
    pub digest: String,
}

/// Shows a record's PDF in the device's own reader.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ShowRecord {
    /// The record.
    pub record: String,
}

/// Where a file is; `opened` says whether the device's own program took it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shown {
    /// Where the file is.
    pub path: String,
    /// Whether the device's own program took it.
    pub opened: bool,
}

/// Saves a roster as CSV.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveRoster {
    /// The unit; everyone where it is `None`.
    pub unit: Option<String>,
    /// As of this date; today where it is `None`.
    pub as_of: Option<NaiveDate>,
}

/// Saves what falls due as a calendar file.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveReminders {
    /// Within this many days.
    pub within_days: u32,
}
