//! People from a personnel system's CSV export: read, compared with who is known, and told before anything
//! is changed. Nothing here changes anything: whoever calls writes the entries of what was confirmed.

mod compare;
mod guess;
mod read;

use chrono::NaiveDate;

pub use compare::dry_run;
pub use guess::{Guess, guess};
pub use read::{Encoding, read_people};

/// A file as it was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PeopleFile {
    /// In which encoding, told or found.
    pub encoding: Encoding,
    /// What separates its cells, found.
    pub separator: char,
    /// Its first row.
    pub header: Vec<String>,
    /// The rows after it; empty ones are passed over.
    pub rows: Vec<Row>,
}

/// One row of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The line of the file that it begins on, from 1 on.
    pub line: u64,
    /// Its cells, without the space around them.
    pub cells: Vec<String>,
}

/// Which columns are meant, by their place from 0 on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Columns {
    /// The personnel number, by which people are recognised.
    pub number: usize,
    /// The name: one column, or several that are joined by a space in this order.
    pub name: Vec<usize>,
    /// The unit's name.
    pub unit: usize,
    /// The role.
    pub role: usize,
    /// Since when they are in this unit and role, where the file says so.
    pub since: Option<usize>,
    /// Their last day, where the file says so.
    pub last_day: Option<usize>,
    /// Whether the day comes first in dates such as 3/5/2026; where it is `None`, the column has to tell.
    pub day_first: Option<bool>,
}

/// Someone who is known, as of the day of the dry run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// Their id.
    pub person: String,
    /// Their personnel number.
    pub number: String,
    /// Their name.
    pub name: String,
    /// Name of their unit; `None` when they have left.
    pub unit: Option<String>,
    /// Their role.
    pub role: String,
    /// Since when they are in this unit and role, or gone.
    pub since: NaiveDate,
}

/// What an import would change. Every list is in the order of the file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct DryRun {
    /// Who would join.
    pub added: Vec<Change>,
    /// Who would change unit or role, those who return included.
    pub moved: Vec<Change>,
    /// Whose name would change.
    pub renamed: Vec<Renamed>,
    /// Who would leave, those who are missing from a file of everybody included.
    pub leaving: Vec<Leaving>,
    /// Whom the file tells of, whose last day has passed before they were ever entered: they are not taken.
    pub left_before: Vec<LeftBefore>,
    /// Units that do not exist yet, in the order in which they first appear.
    pub new_units: Vec<String>,
    /// How many people stay as they are.
    pub unchanged: usize,
    /// Rows that cannot be taken. The others may still be, once that is confirmed.
    pub bad: Vec<BadRow>,
}

/// Someone's unit and role from a day on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// The line of the file.
    pub line: u64,
    /// Their id, where they are known.
    pub person: Option<String>,
    /// Their personnel number.
    pub number: String,
    /// Their name.
    pub name: String,
    /// The unit and role they have now; a `None` unit where they had left, and nothing where they are new.
    pub before: Option<(Option<String>, String)>,
    /// The unit.
    pub unit: String,
    /// The role.
    pub role: String,
    /// From this day on.
    pub from: NaiveDate,
    /// The first day on which somebody who is new here is gone again, where the file says so.
    pub gone_from: Option<NaiveDate>,
}

/// Someone who left before they were entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftBefore {
    /// The line of the file.
    pub line: u64,
    /// Their name.
    pub name: String,
    /// Their last day.
    pub last_day: NaiveDate,
}

/// Someone's name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Renamed {
    /// The line of the file.
    pub line: u64,
    /// Their id.
    pub person: String,
    /// Their name so far.
    pub before: String,
    /// Their name in the file.
    pub name: String,
}

/// Someone who leaves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leaving {
    /// The line of the file; `None` where they are missing from it.
    pub line: Option<u64>,
    /// Their id.
    pub person: String,
    /// Their name.
    pub name: String,
    /// The first day on which they are gone.
    pub from: NaiveDate,
}

/// A row that cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadRow {
    /// The line of the file.
    pub line: u64,
    /// Why, in one sentence.
    pub why: String,
}
