use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// Reads a personnel system's export; nothing is changed.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ReadPeopleFile {
    /// The bytes of the file.
    pub bytes: Vec<u8>,
    /// In which encoding, by a name of the Encoding Standard; found where it is `None`.
    pub encoding: Option<String>,
}

/// A file of people as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PeopleTable {
    /// Its encoding.
    pub encoding: String,
    /// What separates its cells.
    pub separator: String,
    /// Its first row.
    pub header: Vec<String>,
    /// The first few rows after it.
    pub first_rows: Vec<Vec<String>>,
    /// How many rows there are.
    pub rows: u32,
    /// What its columns seem to be, by their names.
    pub guess: PeopleColumns,
}

/// Which columns are meant, by their place from 0 on.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PeopleColumns {
    /// The staff number.
    pub number: Option<usize>,
    /// The name; several are joined in this order.
    pub name: Vec<usize>,
    /// The unit's name.
    pub unit: Option<usize>,
    /// The role.
    pub role: Option<usize>,
    /// Since when they are in this unit and role.
    pub since: Option<usize>,
    /// Their last day.
    pub last_day: Option<usize>,
    /// Whether the day comes first in dates such as 3/5/2026; the file has to tell where it is `None`.
    pub day_first: Option<bool>,
}

/// Tries an import: says what it would change, and changes nothing.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct TryImport {
    /// The file.
    pub file: ReadPeopleFile,
    /// Which columns are meant.
    pub columns: PeopleColumns,
    /// The file is of everybody: whoever is missing from it leaves.
    pub everybody: bool,
}

/// What an import would change, or has changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ImportTold {
    /// Names what is told here, to confirm exactly that.
    pub told: String,
    /// Every change, with its day.
    pub changes: Vec<ImportChange>,
    /// Units that do not exist yet.
    pub new_units: Vec<String>,
    /// How many people stay as they are.
    pub unchanged: u32,
    /// Who left before they were entered here and is not taken: the line, the name and the last day.
    pub left_before: Vec<(u64, String, NaiveDate)>,
    /// Rows that cannot be taken, each with its line and the reason.
    pub bad: Vec<(u64, String)>,
    /// Whether it was done.
    pub done: bool,
}

/// One change of an import.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ImportChange {
    /// What kind of change.
    pub kind: ImportKind,
    /// The line of the file; `None` for somebody who is missing from it.
    pub line: Option<u64>,
    /// The person's name.
    pub name: String,
    /// What was so far; empty where there was nothing.
    pub before: String,
    /// What will be.
    pub after: String,
    /// From this day on.
    pub from: Option<NaiveDate>,
}

/// What kind of change an import makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ImportKind {
    /// Somebody joins.
    Joins,
    /// Somebody changes unit or role, or returns.
    Moves,
    /// Somebody's name changes.
    Renamed,
    /// Somebody leaves.
    Leaves,
}

/// Does an import, exactly as it was told.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ConfirmImport {
    /// What was tried.
    pub import: TryImport,
    /// [`ImportTold::told`] of what was shown.
    pub told: String,
    /// The good rows are taken although there are bad ones.
    pub despite_bad: bool,
}
