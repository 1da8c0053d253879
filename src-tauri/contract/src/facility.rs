use chrono::NaiveDate;
use competency::validity::State;
use serde::{Deserialize, Serialize};

/// Opens home.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenHome {}

/// What home shows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Home {
    /// `None` on a first start: create the facility first.
    pub facility: Option<Facility>,
    /// The facility's civil date today.
    pub today: NaiveDate,
    /// Files that no entry names and that were put aside, as long as they ask for something.
    pub set_aside: Vec<SetAside>,
    /// Demonstrations begun and not sealed, latest first.
    pub unfinished: Vec<Unfinished>,
    /// Who is to be watched again after coaching, earliest first, those without a date last.
    pub watch_again: Vec<WatchAgain>,
    /// What is overdue or falls due within the lead time, earliest first.
    pub due: Vec<Due>,
    /// How many required standings are in each state, over the whole facility.
    pub counts: Vec<(State, u32)>,
    /// How many validations run out in each of the next twelve calendar months, this month first.
    pub due_load: Vec<MonthLoad>,
    /// How many people, observers and requirements there are, to say what to do first.
    pub people: u32,
    /// People with a signing certificate.
    pub observers: u32,
    /// Requirements set.
    pub requirements: u32,
}

/// A file that no entry names: it counts for nothing, and lies beside the records.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetAside {
    /// Where it lies.
    pub path: String,
    /// What it is.
    pub what: WhatWasSetAside,
}

/// What was put aside, which says what to do next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum WhatWasSetAside {
    /// The record of a demonstration that waits to be signed again.
    Record {
        /// The demonstration.
        demonstration: String,
        /// The person observed.
        name: String,
        /// The procedure's title.
        procedure: String,
    },
    /// A second signature, which is to be asked for again.
    SecondSignature {
        /// The person observed: their history asks for it.
        person: String,
        /// Their name.
        name: String,
        /// The procedure's title.
        procedure: String,
    },
    /// A whole record whose demonstration nothing here knows: the ledger may have lost its last entries.
    NotInLedger,
    /// No whole record.
    NoRecord,
}

/// Somebody who was coached, and whose next demonstration of it has not begun.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WatchAgain {
    /// Their id.
    pub person: String,
    /// Their name.
    pub name: String,
    /// Title of the procedure.
    pub procedure: String,
    /// What was to be coached.
    pub coached: String,
    /// By when, where a date was set.
    pub by: Option<NaiveDate>,
}

/// The facility.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Facility {
    /// Its name.
    pub name: String,
    /// IANA name of its time zone.
    pub zone: String,
    /// Its units.
    pub units: Vec<Unit>,
}

/// A unit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unit {
    /// Names it in requests.
    pub id: String,
    /// What people call it.
    pub name: String,
}

/// A demonstration begun and not sealed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unfinished {
    /// The demonstration.
    pub demonstration: String,
    /// The person observed.
    pub person: String,
    /// The procedure's title.
    pub procedure: String,
    /// When it began, as the facility's wall clock read, `2026-11-25 10:02`.
    pub begun: String,
    /// Lines acknowledged so far.
    pub lines: u32,
    /// Whether it has ended and only waits to be sealed.
    pub ended: bool,
    /// Whether every step has its answer, and the review is next.
    pub settled: bool,
}

/// One validation that is overdue or falls due.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Due {
    /// The person's id.
    pub person: String,
    /// The person's name.
    pub name: String,
    /// Their unit.
    pub unit: String,
    /// The procedure's title.
    pub procedure: String,
    /// Its state.
    pub state: State,
    /// Valid through this date.
    pub valid_until: NaiveDate,
    /// The day on which they were last reminded of it, where they were.
    pub reminded: Option<NaiveDate>,
}

/// How many validations run out in a month.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MonthLoad {
    /// First day of the month.
    pub month: NaiveDate,
    /// How many.
    pub due: u32,
}

/// Creates the facility, its authority, its first unit and its first observer.
#[derive(Clone, Serialize, Deserialize)]
pub struct CreateFacility {
    /// Its name.
    pub name: String,
    /// Name of its first unit.
    pub unit: String,
    /// IANA time zone; the device's own where none is given.
    pub zone: Option<String>,
    /// The first observer's name.
    pub observer_name: String,
    /// Their staff number.
    pub observer_number: String,
    /// Their role, such as `Infection prevention nurse`.
    pub observer_role: String,
    /// The outside evidence on which the first observer is appointed.
    pub evidence: String,
    /// The passphrase that seals the authority's key.
    pub passphrase: String,
    /// The PIN that opens the observer's key: six digits or more.
    pub pin: String,
}

impl std::fmt::Debug for CreateFacility {
    /// Never shows the secrets or the name.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("CreateFacility").field("zone", &self.zone).finish_non_exhaustive()
    }
}
