use chrono::NaiveDate;
use competency::{
    procedure::Mode,
    report::{Outcome, Severity},
    share::Share,
    validity::{Purpose, Standing, State},
};
pub use evidence::{PutRight, ReminderForm};
use serde::{Deserialize, Serialize};

use crate::Person;

/// Opens a part of a roster: whoever is looked for, in the order asked for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenRosterPage {
    /// The roster.
    pub roster: OpenRoster,
    /// Only people whose name or number contains this text; everyone where it is empty.
    pub search: String,
    /// Only people who are in this state with some procedure.
    pub state: Option<State>,
    /// In which order.
    pub sort: RosterSort,
    /// How many people to pass over.
    pub first: u32,
    /// At most this many people.
    pub most: u32,
}

/// In which order people stand on a roster.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RosterSort {
    /// By name.
    #[default]
    Name,
    /// By unit, and then by name.
    Unit,
    /// By role, and then by name.
    Role,
    /// Whose validation runs out first; those without one come before.
    RunsOut,
}

/// A part of a roster, with what holds of the whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RosterPage {
    /// The roster, with the rows of this part.
    pub roster: Roster,
    /// How many people were found in all.
    pub found: u32,
    /// Of each procedure, over everyone found.
    pub totals: Vec<ColumnTotal>,
    /// The units or roles by which everyone found is grouped, where the order is by them.
    pub groups: Vec<RosterGroup>,
}

/// People of one unit or role, who stand together on a roster.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RosterGroup {
    /// Its name; empty for people without one.
    pub name: String,
    /// How many people stand before its first.
    pub first: u32,
    /// How many people are in it.
    pub people: u32,
}

/// How the people found stand with one procedure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ColumnTotal {
    /// How many are in each state that somebody is in.
    pub counts: Vec<(State, u32)>,
    /// How many of those it is required of hold it, with the interval of that share; `None` where it is required of
    /// nobody.
    pub hold: Option<Share>,
}

/// A roster: of a unit, or of the whole facility.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
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
    /// By which version of the rules.
    pub rules: u32,
    /// How many standings it has: people times procedures.
    pub standings: u32,
    /// What it rests on, in one sentence.
    pub covers: String,
}

/// One procedure of a roster.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RosterColumn {
    /// The procedure's id.
    pub id: String,
    /// Its title.
    pub title: String,
}

/// Asks which findings a unit has most.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenUnitFindings {
    /// Id of the unit; the whole facility where it is `None`.
    pub unit: Option<String>,
    /// As of this date; today where it is `None`.
    pub as_of: Option<NaiveDate>,
}

/// Which findings a unit has most; of people and not by name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct UnitFindings {
    /// How many people were observed in the last twelve months.
    pub people: u32,
    /// How many it takes before anything is shown, so that nobody is told by their findings.
    pub least: u32,
    /// How many procedures are left out, since too few people were observed in them: in the unit, or outside of it,
    /// whose findings would else be what the facility's are more than the unit's.
    pub left_out: u32,
    /// The most frequent first; empty where there are too few people.
    pub lines: Vec<UnitFinding>,
}

/// One step that people of a unit have findings at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct UnitFinding {
    /// Title of the procedure.
    pub procedure: String,
    /// The step in words.
    pub step: String,
    /// How many of the people who were observed in that procedure had a finding there, with its interval.
    pub share: Share,
}

/// One person of a roster.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RosterRow {
    /// The person.
    pub person: Person,
    /// How they stand, one per column.
    pub standings: Vec<Standing>,
    /// What was put right of the records behind each, where something was.
    pub put_right: Vec<Option<PutRight>>,
}

/// Opens one person's history.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenHistory {
    /// The person's id.
    pub person: String,
    /// As of this date; today where it is `None`.
    pub as_of: Option<NaiveDate>,
    /// Only what was known by the end of this date; everything known today where it is `None`.
    pub known_at: Option<NaiveDate>,
}

/// A person's history.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct History {
    /// The person.
    pub person: Person,
    /// As of this date.
    pub as_of: NaiveDate,
    /// By what was known by the end of this date.
    pub known_at: NaiveDate,
    /// The facility's name.
    pub facility: String,
    /// How they stand with each procedure required of them or demonstrated by them.
    pub standings: Vec<(RosterColumn, Standing)>,
    /// Every sealed demonstration, latest first.
    pub demonstrations: Vec<HistoryLine>,
    /// Of sealed demonstrations that are dated after `as_of`: how many, and the latest date.
    pub ahead: Option<(u32, NaiveDate)>,
}

/// One sealed demonstration in a history.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HistoryLine {
    /// Names the record.
    pub record: String,
    /// Id of the entry that seals it, to put it right by.
    pub entry: String,
    /// The civil date it was carried out, as it counts now.
    pub on: NaiveDate,
    /// The civil date that was sealed; another one where it was put right since.
    pub sealed_on: NaiveDate,
    /// Title of the procedure.
    pub procedure: String,
    /// Its version.
    pub version: String,
    /// What it was for.
    pub purpose: Purpose,
    /// Guided or assessed.
    pub mode: Mode,
    /// SHA-256 of the procedure's canonical JSON, hexadecimal.
    pub procedure_hash: String,
    /// Name of the observer.
    pub observer: String,
    /// Id of the observer.
    pub observer_id: String,
    /// Whether the observer was current or appointed on that day, and why, in one sentence.
    pub observer_then: (bool, String),
    /// Every observation as it was logged: the time, and what was seen.
    pub observations: Vec<(String, String)>,
    /// Whether it counts: it was not voided, and its signer's certificate was accepted.
    pub counts: bool,
    /// What was put right since, in the order it was said.
    pub amendments: Vec<Amendment>,
    /// Two corrections give different dates; the one that grants the least counts until one is voided.
    pub disputed: bool,
    /// The second signature: whether the person declined, and the day; `None` where there is none yet.
    pub second: Option<(bool, NaiveDate)>,
    /// The outcome.
    pub outcome: Outcome,
    /// Steps as they should be.
    pub steps_well: u32,
    /// Steps counted.
    pub steps_counted: u32,
    /// What was found, as severity and sentence.
    pub findings: Vec<(Severity, String)>,
    /// Valid through this date, as it counts now; `None` where it granted nothing.
    pub valid_until: Option<NaiveDate>,
    /// The day on which a later attempt ended it, where one did.
    pub ended_on: Option<NaiveDate>,
    /// SHA-256 of the signed PDF, hexadecimal.
    pub digest: String,
}

/// What was said about a record afterwards.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Amendment {
    /// Id of its entry.
    pub entry: String,
    /// The day it was said.
    pub on: NaiveDate,
    /// Who said it; empty where nobody identified themselves.
    pub by: String,
    /// What.
    pub what: Amended,
    /// Why.
    pub reason: String,
    /// Whether it counts: a correction may be voided itself.
    pub counts: bool,
}

/// What is put right.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Amended {
    /// It does not count any more.
    Voided,
    /// It was carried out on another date.
    Date {
        /// The date that was sealed.
        from: NaiveDate,
        /// The date that is said to be right.
        on: NaiveDate,
        /// Valid through this date then; `None` where it grants nothing.
        valid_until: Option<NaiveDate>,
    },
    /// Anything else, in words.
    Note(String),
    /// It was sealed after its signer's certificate was revoked, so it is not accepted.
    NotAccepted,
}

/// Saves a person's history in the folder of exports.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveHistory {
    /// The person's id.
    pub person: String,
    /// As of this date; today where it is `None`.
    pub as_of: Option<NaiveDate>,
    /// Only what was known by the end of this date; everything known today where it is `None`.
    pub known_at: Option<NaiveDate>,
    /// In which form.
    pub form: HistoryForm,
}

/// The forms of a saved history.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HistoryForm {
    /// A table, one line an observation.
    Csv,
    /// One PDF that this device seals, with the signed records attached.
    Pdf,
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

/// Saves a roster.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveRoster {
    /// The roster.
    pub roster: OpenRoster,
    /// In which format.
    pub format: RosterFormat,
}

/// In which format a roster is saved; all say the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RosterFormat {
    /// A table.
    Csv,
    /// A spreadsheet.
    Xlsx,
    /// Pages to print.
    Pdf,
    /// For programs.
    Json,
}

/// Saves reminders of what is overdue or falls due, and writes down that each was sent.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveReminders {
    /// Within this many days.
    pub within_days: u32,
    /// In which form.
    pub form: ReminderForm,
}
